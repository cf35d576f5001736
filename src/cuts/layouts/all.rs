//! The register: every layout there is.

use super::{
    Layout, brace, bracket, end_board, fold_down, glued_panel, half_lap, leg_shim, marks,
    mitred_frame, molding, post_legs, sloped_box, spacing, three_measures, two_way_splay,
};

/// All layouts, in the order of the bench.
// Inlined into the app, it would bring a second copy of every layout's tables there.
#[inline(never)]
pub fn all() -> &'static [&'static dyn Layout] {
    &[
        &brace::Brace,
        &post_legs::PostLegs,
        &end_board::EndBoards,
        &leg_shim::LegShim,
        &two_way_splay::TwoWaySplay,
        &bracket::Bracket,
        &mitred_frame::MitredFrame,
        &sloped_box::SlopedBox,
        &fold_down::FoldDown,
        &spacing::Spacing,
        &marks::Marks,
        &three_measures::ThreeMeasures,
        &glued_panel::GluedPanel,
        &half_lap::HalfLap,
        &molding::Molding,
    ]
}

/// The layout of that id.
pub fn find(id: &str) -> Option<&'static dyn Layout> {
    all().iter().copied().find(|l| l.id() == id)
}
