//! Boards that are held as they are when something else changes.

use offsquare_planner::guillotine::Piece;
use offsquare_units::Length;

/// One part on a kept board: which entry, how it lies, and the size it had.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KeptPart {
    pub entry: u32,
    pub mirrored: bool,
    pub turned: bool,
    pub flipped: bool,
    /// Its least x from the board's left end, in inches.
    pub x: f64,
    /// On a ripped board: its least y, and how wide it is.
    pub y: f64,
    pub wide: f64,
    pub length: f64,
    pub left: f64,
    pub right: f64,
}

/// A board that stays as it is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KeptBoard {
    /// Id of the stock.
    pub stock: u32,
    pub owned: bool,
    pub length: Length,
    /// Where its usable stretch begins, in inches.
    pub start: f64,
    /// The seen size of its plan, in inches; of a ripped board its width.
    pub width: f64,
    /// Of a ripped board: its tree of cuts.
    pub cuts: Vec<Piece>,
    pub parts: Vec<KeptPart>,
}
