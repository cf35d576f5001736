//! Answers as rows of words and numbers: the strip, the copied text, the recent answers.
//!
//! Beside a cut stands the longer edge of its own part (`report::beside`), never a headline of the whole piece.

mod boards;
mod cut_sheet;
mod overall;

use offsquare_cuts::backwards::Solved;
use offsquare_cuts::inputs::Given;
use offsquare_cuts::layouts::{self, answer_words};
use offsquare_cuts::parts::{Cut, End, Part, StockShape};
use offsquare_cuts::saw::{BareReading, SawProfile, wording};
use offsquare_geometry::Point;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, Style, Text, num, say};
use offsquare_work::patterns;

pub use boards::boards_text;
pub use cut_sheet::{CutSheet, PX, Row, cut_sheet};
pub use overall::Overall;

/// What a solution leads with, in order, with its words; what was given is left out.
pub fn headline(solved: &Solved) -> Vec<(String, Quantity)> {
    solved
        .solution
        .headline
        .iter()
        .filter(|path| solved.inputs.get(path).is_none())
        .filter_map(|path| Some((answer_words(path), solved.solution.answers.quantity(path)?)))
        .gather()
}

/// A mark to set off along a part, from its left end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunningMark {
    pub at: Length,
    /// It is longer than the shortest of them.
    pub long: bool,
    /// What is written beside it.
    pub figure: Option<Length>,
}

/// What leads where nothing is cut but square ends: the marks of each part, from left to right. Empty where the saw leads.
///
/// Example: 7 holes 1 1/2 in wide in 36 in, gaps alike: 7 marks, the first at 3 15/16, which is 51/16 + 3/4.
pub fn running_marks(solved: &Solved) -> Vec<(&Part, Vec<RunningMark>)> {
    let parts = &solved.solution.parts;
    let square = |c: &Cut| c.miter.0 == 0.0 && c.bevel.0 == 0.0;
    if !parts.iter().all(|p| p.laps.is_empty() && p.cuts.iter().all(square)) {
        return Vec::new();
    }
    let of = |part: &Part| {
        let reach = |(a, b): &(Point, Point)| (*b - *a).length();
        let least = part.marks.iter().map(reach).fold(f64::INFINITY, f64::min);
        let one = |line: &(Point, Point)| {
            let at = line.0.x;
            let figure = part.figures.iter().find(|(p, _)| p.x == at).map(|(_, figure)| *figure);
            RunningMark { at: Length(at), long: reach(line) > least * (1.0 + 1e-9), figure }
        };
        let mut all = part.marks.iter().map(one).gather();
        num::sort_by(&mut all, |a, b| a.at.0.total_cmp(&b.at.0));
        all
    };
    let marked = parts.iter().filter(|p| !p.marks.is_empty());
    marked.map(|p| (p, of(p))).gather()
}

/// The reading that a solution leads with where it has no part to cut: an angle taken off what stands there, off
/// square, and what it is on this saw. With it the angle at which the cut meets the edge.
pub fn bare_reading(solved: &Solved, saw: &SawProfile) -> Option<(BareReading, Angle)> {
    let s = &solved.solution;
    let angle = |path| match s.answers.quantity(path) {
        Some(Quantity::Angle(a)) => Some(a),
        _ => None,
    };
    let leads = s.parts.is_empty() && s.headline.first() == Some(&"reading_deg");
    Some((saw.bare(angle("reading_deg").filter(|_| leads)?), angle("angle_deg")?))
}

/// "Set the miter to 31.6° (exact 31.5° off square). The cut meets the edge at 58.5°." Past the saw, what is left.
pub fn bare_in_words(reading: &BareReading, meets: Angle, saw: &SawProfile) -> Text {
    let mut all = if reading.within {
        say!("Set the miter to {} (exact {} off square).", reading.set, reading.exact)
    } else {
        say!(
            "Past this saw: {} off square, and it swings {}. Mark the line and cut it by hand or \
             on a sled.",
            reading.exact,
            saw.miter_most()
        )
    };
    all.0.extend(say!(" The cut meets the edge at {}.", meets).0);
    all
}

/// One line for the recent answers: "Flat on the rails: reading 31.6°, edge 51 5/8".
pub fn line(solved: &Solved, style: &Style) -> String {
    let parts: Vec<String> = solved
        .solution
        .headline
        .iter()
        .filter_map(|path| {
            let q = solved.solution.answers.quantity(path)?;
            Some(format!("{} {}", answer_words(path), say!(q).render(style)))
        })
        .take(3)
        .gather();
    format!("{}: {}", solved.solution.title, parts.join(", "))
}

/// The length that belongs to a cut, along an edge as a tape takes it: the longer edge of the part
/// it is made on; for a cut along the part its width, for a slope that does not cross the whole
/// board its own line.
///
/// Example: a frame's rail, 20 in outside and 16 in inside, told at either of its ends: longer edge 20.
pub fn beside(solved: &Solved, part: &Part, cut: &Cut) -> (String, Quantity) {
    let length = Quantity::Length;
    if cut.across.0 < part.seen.0 * (1.0 - 1e-9) && part.stock == StockShape::Board {
        let (run, rise) = (cut.to.x - cut.from.x, cut.to.y - cut.from.y);
        return ("this cut".to_owned(), length(Length(num::hypot(run, rise))));
    }
    if cut.end == End::Along {
        return ("ripped to".to_owned(), length(part.seen));
    }
    let (long, short) = (part.edge_a.max(part.edge_b), part.edge_a.min(part.edge_b));
    let slack = 1e-9 * long.0.abs();
    // The layout's own word for it, where there is no other part that it could mean.
    let named = headline(solved).into_iter().find(|(_, q)| match q {
        Quantity::Length(l) => (l.0 - long.0).abs() <= slack,
        _ => false,
    });
    match named.filter(|_| solved.solution.parts.len() == 1) {
        Some(named) => named,
        None if part.ripped.is_some() => ("longer edge before ripping".to_owned(), length(long)),
        None if long.0 - short.0 <= slack => ("edge".to_owned(), length(long)),
        None => ("longer edge".to_owned(), length(long)),
    }
}

/// Every figure of the answer that a maker can use, with its words.
pub fn figures(solved: &Solved) -> Vec<(String, Quantity)> {
    let mut out = Vec::new();
    solved.solution.answers.each_quantity(&mut |path, q| {
        // Tables for every step of a tape are for scripts: the marks stand there already.
        let table = path.strip_prefix("marks.").is_some_and(|rest| {
            let name = rest.split('.').next().unwrap_or_default();
            rest.contains("mark_numerators")
                || rest.contains("error")
                || name.parse::<u32>().is_err()
        });
        if !table {
            out.push((answer_words(path), q));
        }
    });
    out
}

/// The answer as plain text: inputs, settings, lengths.
pub fn plain_text(given: &Given, solved: &Solved, saw: &SawProfile, style: &Style) -> String {
    let pieces = patterns::all().iter().flat_map(|p| p.forms);
    let form = layouts::all().iter().flat_map(|l| l.forms()).chain(pieces).find(|f| {
        f.id == given.inputs.form
            && given.inputs.iter().all(|(k, _)| f.fields.iter().chain(f.also).any(|x| x.key == k))
    });
    let mut out = vec![solved.solution.title.to_owned()];
    for (key, value) in given.inputs.iter() {
        let name = form
            .and_then(|f| f.fields.iter().chain(f.also).find(|x| x.key == key))
            .map_or(key, |f| f.label);
        if let Some(q) = value.quantity() {
            out.push(format!("{name}: {}", say!(q).render(style)));
        }
    }
    for part in &solved.solution.parts {
        for cut in &part.cuts {
            let a = saw.advise(part, cut);
            let mut said = wording::cut_in_short(&a);
            if !cut.is_rip() && (a.miter.0 > 0.0 || a.bevel.0 > 0.0) {
                said.push(wording::tape(&a));
            }
            if a.lay().is_none() {
                let mut past = say!("past this saw: {} off square", a.miter);
                if a.bevel.0 > 0.0 {
                    past.0.extend(say!(", blade tilted {}", a.bevel).0);
                }
                past.push(".");
                said.insert(0, past);
            }
            let said: Vec<String> = said.iter().map(|t| t.render(style)).gather();
            out.push(format!("{}, {}: {}", part.name, cut.name, said.join(" ")));
        }
        for lap in &part.laps {
            let said = wording::lap(&saw.advise_lap(part, lap));
            let said: Vec<String> = said.iter().map(|t| t.render(style)).gather();
            out.push(format!("{}, {}", part.name, said.join(" ")));
        }
        let edge = |l: Length| say!(l).render(style);
        out.push(format!(
            "{}: longer edge {}, shorter edge {}{}",
            part.name,
            edge(part.edge_a.max(part.edge_b)),
            edge(part.edge_a.min(part.edge_b)),
            if part.ripped.is_some() { ", before ripping" } else { "" }
        ));
        if let Some(r) = &part.ripped {
            out.push(wording::ripped(r, &part.sides).render(style));
        }
    }
    if let Some((reading, meets)) = bare_reading(solved, saw) {
        out.push(bare_in_words(&reading, meets, saw).render(style));
    }
    for (name, q) in figures(solved) {
        if matches!(q, Quantity::Length(_)) {
            out.push(format!("{name}: {}", say!(q).render(style)));
        }
    }
    out.join("\n")
}
