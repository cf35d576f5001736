//! Checks of Offsquare through its public face.
