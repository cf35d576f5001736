//! Answers as rows of words and numbers: the strip, the copied text, the recent answers.

use crate::backwards::Solved;
use crate::inputs::Given;
use crate::layouts::{self, Answer};
use crate::saw::SawProfile;
use crate::say;
use crate::units::{Quantity, Style};

pub use crate::saw::wording::answer_words as label;

/// What a solution leads with, in order, with its words; what was given is left out.
pub fn headline(solved: &Solved) -> Vec<(String, Quantity)> {
    solved
        .solution
        .headline
        .iter()
        .filter(|path| solved.inputs.get(path).is_none())
        .filter_map(|path| Some((label(path), solved.solution.answers.quantity(path)?)))
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
