//! Checks of Offsquare through its public face.

pub mod asking;
