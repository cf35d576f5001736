//! Offsquare's screens: nothing here computes.
