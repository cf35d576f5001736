//! Drawings for a screen: legible, in the frame, to scale; solids with the right edges hidden.

mod figures;
mod labels;
mod pieces;
mod random;
mod scale;
mod sizes;
mod solids;
mod struck;
mod wraps;
