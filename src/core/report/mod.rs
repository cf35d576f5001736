//! Answers as rows of words and numbers: the strip, the copied text, the recent answers.

use crate::backwards::Solved;
use crate::inputs::Given;
use crate::layouts::{self, Answer};
use crate::saw::SawProfile;
use crate::say;
use crate::units::{Length, Quantity, Style};

/// The words for an answer's key: `long_point_length` reads "long point", `brace_1.lap_length`
/// reads "brace 1, lap".
pub fn label(path: &str) -> String {
    let one = |key: &str| {
        let key = key
            .trim_end_matches("_deg")
            .trim_end_matches("_length")
            .trim_end_matches("_kg")
            .trim_end_matches("_N");
        key.replace('_', " ")
            .replace("mitre", "miter")
            .replace("centre", "center")
    };
    let all: Vec<String> = path.split('.').map(one).collect();
    all.join(", ")
}

/// The lengths that a solution leads with, with their words.
pub fn headline_lengths(solved: &Solved) -> Vec<(String, Length)> {
    solved
        .solution
        .headline
        .iter()
        .filter_map(|path| match solved.solution.answers.quantity(path)? {
            Quantity::Length(l) => Some((label(path), l)),
            _ => None,
        })
        .collect()
}

/// One line for the recent answers: "Flat on the rails: reading 31.6°, edge 51 5/8".
pub fn line(solved: &Solved, style: &Style) -> String {
    let parts: Vec<String> = solved
        .solution
        .headline
        .iter()
        .filter_map(|path| {
            let q = solved.solution.answers.quantity(path)?;
            Some(format!("{} {}", label(path), say![q].render(style)))
        })
        .take(3)
        .collect();
    format!("{}: {}", solved.solution.title, parts.join(", "))
}

/// The answer as plain text: inputs, settings, lengths.
pub fn plain_text(given: &Given, solved: &Solved, saw: &SawProfile, style: &Style) -> String {
    let mut out = Vec::new();
    let form = layouts::all().iter().flat_map(|l| l.forms()).find(|f| {
        f.id == given.inputs.form
            && given
                .inputs
                .iter()
                .all(|(k, _)| f.fields.iter().any(|x| x.key == k))
    });
    out.push(solved.solution.title.to_owned());
    for (key, value) in given.inputs.iter() {
        let name = form
            .and_then(|f| f.fields.iter().find(|x| x.key == key))
            .map_or(key, |f| f.label);
        if let Some(q) = value.quantity() {
            out.push(format!("{name}: {}", say![q].render(style)));
        }
    }
    for part in &solved.solution.parts {
        for cut in &part.cuts {
            let a = saw.advise(part, cut);
            out.push(format!(
                "{}, {}: set {} (exact {}), bevel {}, tape mark {}",
                part.name,
                cut.name,
                say![a.set_miter].render(style),
                say![cut.miter].render(style),
                say![cut.bevel].render(style),
                say![a.tape_mark].render(style),
            ));
        }
    }
    for (path, answer) in &solved.solution.answers.0 {
        if let Answer::Quantity(q @ Quantity::Length(_)) = answer {
            out.push(format!("{}: {}", label(path), say![*q].render(style)));
        }
    }
    out.join("\n")
}
