//! A small change of a job.

/// The most that may be changed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Change {
    /// For each part, how much may come off its length and its width; a missing entry means nothing may.
    pub gives: Vec<(f64, f64)>,
    /// How much may be added to the length and the width of every bought board.
    pub over: (f64, f64),
}
