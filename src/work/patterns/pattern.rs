//! What a pattern is, and how its files read their sizes.

use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::{Layout, Outcome};
use offsquare_cuts::problem::Problem;

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

/// A layout of a whole piece.
pub trait Pattern: Layout {
    fn sticks(&self) -> &'static [Stick];
    /// Answers that may be given as sizes, each with the size in whose place it then stands. Others stand
    /// in for the first of the form's `gives` that was left out.
    fn instead(&self) -> &'static [(&'static str, &'static str)] {
        &[]
    }
}

/// No solution, for one reason.
pub fn refused(problem: Problem) -> Outcome {
    Outcome { solutions: Vec::new(), problems: vec![problem] }
}

/// A length of a pattern, inches; nothing where it was not given.
pub fn size(inputs: &Inputs, key: &str) -> f64 {
    inputs.length(key).map_or(0.0, |l| l.0)
}

/// Whether a field that says yes or no says yes.
pub fn yes(inputs: &Inputs, key: &str) -> bool {
    matches!(inputs.get(key), Some(Value::Flag(true)))
}
