//! A small change of a job.

/// How much may be changed at most.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Change {
    /// By part: off its length and off its width; what is missing gives nothing.
    pub gives: Vec<(f64, f64)>,
    /// Onto the length and onto the width of every bought board.
    pub over: (f64, f64),
}
