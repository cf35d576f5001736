//! Boards that are held as they are when something else changes.

use crate::units::Length;

/// One part on a kept board: which entry, how it lies, and the size it had.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KeptPart {
    pub entry: u32,
    pub mirrored: bool,
    pub turned: bool,
    pub flipped: bool,
    /// Its least x from the board's left end, in inches.
    pub x: f64,
    pub length: f64,
    pub left: f64,
    pub right: f64,
}

/// A board that stays as it is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kept {
    /// Id of the stock.
    pub stock: u32,
    pub owned: bool,
    pub length: Length,
    /// Where its usable stretch begins, in inches.
    pub start: f64,
    /// The seen size of its plan, in inches.
    pub width: f64,
    pub parts: Vec<KeptPart>,
}
