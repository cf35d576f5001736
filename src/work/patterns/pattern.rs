//! What a pattern is, and what its files read their sizes and tell their answers with.

use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Inputs, Missing, Value};
use offsquare_cuts::layouts::{Declared, Detail, Form, Outcome, Refused, Solution};
use offsquare_cuts::parts::Part;
use offsquare_cuts::problem::Problem;
use std::ops::Deref;

/// A whole piece: a layout as its file declares it, and the sticks that it is made of.
pub struct Pattern {
    pub layout: Declared,
    pub sticks: &'static [Stick],
    /// Answers that may be given as sizes, each with the size in whose place it then stands. Others stand
    /// in for the first of the form's `gives` that was left out.
    pub instead: &'static [(&'static str, &'static str)],
}

impl Deref for Pattern {
    type Target = Declared;
    fn deref(&self) -> &Declared {
        &self.layout
    }
}

/// A stick of a pattern: what one kind of its parts is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stick {
    /// As parts name it: "leg".
    pub name: &'static str,
    /// Keys of the sizes that are its width as seen and its thickness going away; none where it follows
    /// from others (a wide board's width).
    pub seen: Option<&'static str>,
    pub away: Option<&'static str>,
}

/// A pattern's form, but for its fields.
pub const SIZES: Form =
    Form { id: "sizes", label: "By its sizes", fields: &[], also: &[], gives: &[], off: &[] };

/// Sizes that a pattern needs: inches, degrees or counts, in the order of the keys.
pub fn needed<const N: usize>(inputs: &Inputs, keys: [&str; N]) -> Result<[f64; N], Missing> {
    let mut all = [0.0; N];
    for (size, key) in all.iter_mut().zip(keys) {
        *size = inputs.need(key)?;
    }
    Ok(all)
}

/// Whether a field that says yes or no says yes.
pub fn yes(inputs: &Inputs, key: &str) -> bool {
    matches!(inputs.get(key), Some(Value::Flag(true)))
}

/// A part, and where it stands as often as its member has bodies; one without any is not made.
pub type Stood = (Part, Member);

/// A pattern's answer and what it is warned of; with all detail also its parts, and its sizes where they
/// stand in the piece.
pub fn told(
    (answer, problems): (Solution, Vec<Problem>),
    detail: Detail,
    whole: impl FnOnce(&Solution) -> (Vec<Stood>, Vec<Span>),
) -> Result<Outcome, Refused> {
    let mut solution = answer;
    let made = (detail == Detail::Full).then(|| whole(&solution));
    solution.parts.clear();
    let (stood, spans) = made.unwrap_or_default();
    for (part, member) in stood.into_iter().filter(|(_, member)| !member.bodies.is_empty()) {
        let count = member.bodies.len() as u32;
        solution.parts.push(Part { count, ..part });
        solution.members.push(member);
    }
    solution.spans = spans;
    Ok(Outcome { solutions: vec![solution], problems })
}
