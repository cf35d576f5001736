//! The register: every layout there is.

use super::Layout;

/// In the order of the bench.
static ALL: &[&dyn Layout] = &[
    &super::brace::BRACE,
    &super::post_legs::POST_LEGS,
    &super::end_board::END_BOARD,
    &super::leg_shim::LEG_SHIM,
    &super::two_way_splay::TWO_WAY_SPLAY,
    &super::bracket::BRACKET,
    &super::mitred_frame::MITRED_FRAME,
    &super::sloped_box::SLOPED_BOX,
    &super::fold_down::FOLD_DOWN,
    &super::spacing::SPACING,
    &super::marks::MARKS,
    &super::three_measures::THREE_MEASURES,
    &super::glued_panel::GLUED_PANEL,
    &super::half_lap::HALF_LAP,
    &super::molding::MOLDING,
];

pub fn all() -> &'static [&'static dyn Layout] {
    ALL
}

/// The layout of that id.
pub fn find(id: &str) -> Option<&'static dyn Layout> {
    ALL.iter().copied().find(|l| l.id() == id)
}
