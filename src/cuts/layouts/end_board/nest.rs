//! How pieces lie along a board.

/// How pieces lie along a board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nest {
    pub fit: f64,
    /// Shift of the left bound from piece 1 to 2, and from 2 to 3.
    pub first_step: f64,
    pub second_step: f64,
    /// Left bound of the first to right bound of the last.
    pub used: f64,
}

/// What the figure shows besides the steps.
pub struct NestFigure {
    pub board_width: f64,
    pub board_length: f64,
    pub level: bool,
    pub turned_first: bool,
}
