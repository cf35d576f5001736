//! The fields and forms of legs on a post. Every way to know the lean is a form of its own, so that
//! exactly one size gives it and any other is checked against it.

use crate::inputs::{Choice, Field, Kind, Need, Range, Start};
use crate::layouts::field::length;

pub(super) const POST_WIDTH: Field = length(
    "post_width",
    "Post width",
    "Flat to flat; a round post's diameter; a triangular post's side.",
    3.5,
    90.0,
);
pub(super) const FOOTPRINT: Field = length(
    "footprint",
    "Footprint",
    "Outside of one foot to outside of the opposite one; three legs: the circle through the toes.",
    17.5,
    445.0,
)
.free();
pub(super) const LEG_DEPTH: Field =
    length("leg_depth", "Leg depth", "The size of the leg that you see from the side.", 1.5, 38.0);
pub(super) const LONG_POINT: Field = length(
    "long_point_length",
    "Leg length",
    "Along the outer edge, long point to long point.",
    9.625,
    245.0,
)
.free();
pub(super) const SHORT_POINT: Field = length(
    "short_point_length",
    "Inner edge",
    "Along the inner edge, short point to short point.",
    7.0,
    180.0,
)
.free();
pub(super) const RISE_TOP: Field =
    length("rise_to_joint_top", "Rise", "From the floor to the joint's upper end.", 6.5, 165.0)
        .free();
pub(super) const RISE_MIDDLE: Field = length(
    "rise_to_joint_middle",
    "Rise to the middle",
    "From the floor to the joint's middle.",
    6.0,
    150.0,
)
.free();
pub(super) const RISE_BOTTOM: Field = length(
    "rise_to_joint_bottom",
    "Rise to the lower end",
    "From the floor to the joint's lower end.",
    5.0,
    125.0,
)
.free();
pub(super) const OVERALL: Field =
    length("overall_height", "Overall height", "From the floor to the post's top.", 34.0, 860.0)
        .free();
pub(super) const SPLAY: Field = Field {
    key: "splay_deg",
    label: "Splay",
    help: "How far the leg leans from upright.",
    kind: Kind::Angle(0.0, 90.0),
    need: Need::Required,
    start: Start::Number(45.0),
    free: true,
    ..Field::PLAIN
};
pub(super) const FOOT: Field = Field {
    key: "foot",
    label: "Foot",
    help: "Cut level, or left square so that the leg stands on its inner corner.",
    kind: Kind::Choice(&[
        Choice { key: "floor", label: "Flat on the floor" },
        Choice { key: "square", label: "Left square" },
    ]),
    need: Need::Choice("floor"),
    start: Start::Choice("floor"),
    ..Field::PLAIN
};
pub(super) const BELOW: Field = Field {
    key: "post_below_joint",
    label: "Post below the joint",
    help: "How far the post goes on below the joint's lower end.",
    kind: Kind::Length(Range::NotNegative),
    need: Need::Length(0.0),
    start: Start::Length(0.0, 0.0),
    ..Field::PLAIN
};
pub(super) const POST_LENGTH: Field =
    length("post_length", "Post length", "The whole post, for the overall height.", 30.0, 760.0);
pub(super) const LEGS: Field = Field {
    key: "legs",
    label: "Number of legs",
    help: "A pair, three, or four.",
    kind: Kind::Count(2, 4),
    need: Need::Number(4.0),
    start: Start::Number(4.0),
    ..Field::PLAIN
};
pub(super) const SHAPE: Field = Field {
    key: "post_shape",
    label: "Post shape",
    help: "Its section; three legs need a round, hexagonal or triangular one.",
    kind: Kind::Choice(&[
        Choice { key: "square", label: "Square" },
        Choice { key: "round", label: "Round" },
        Choice { key: "hexagonal", label: "Six-sided" },
        Choice { key: "triangular", label: "Three-sided" },
    ]),
    need: Need::Optional,
    start: Start::Empty,
    ..Field::PLAIN
};
pub(super) const CLEAT: Field = Field {
    key: "cleat",
    label: "Cleat thickness",
    help: "A piece between leg and post; 0 without.",
    kind: Kind::Length(Range::NotNegative),
    need: Need::Length(0.0),
    start: Start::Length(0.0, 0.0),
    ..Field::PLAIN
};
pub(super) const BREADTH: Field =
    length("leg_breadth", "Leg breadth", "The size of the leg going away from you.", 1.5, 38.0);
pub(super) const BREADTH_OPEN: Field = Field { need: Need::Optional, ..BREADTH };

// Answers that may be typed as sizes.
pub(super) const fn answer_angle(
    key: &'static str,
    label: &'static str,
    help: &'static str,
) -> Field {
    Field {
        key,
        label,
        help,
        kind: Kind::Angle(0.0, 90.0),
        need: Need::Optional,
        start: Start::Empty,
        ..Field::PLAIN
    }
}
pub(super) const SLOPE: Field =
    answer_angle("slope_to_floor_deg", "Slope to the floor", "Between the leg and the floor.");
pub(super) const TOP_READING: Field = answer_angle(
    "top_reading_deg",
    "Reading at the joint",
    "What the saw is set to for the joint.",
);
pub(super) const JOINT: Field =
    length("joint_length_on_post", "Joint length", "Along the post.", 2.0, 50.0).optional();
pub(super) const FOOT_CUT: Field =
    length("foot_cut_length", "Foot length", "Along the foot's cut.", 2.0, 50.0).optional();
pub(super) const POST_BOTTOM: Field = length(
    "post_bottom_height",
    "Post above the floor",
    "From the floor to the post's lower end.",
    4.0,
    100.0,
)
.ranged(Range::NotNegative)
.optional();
pub(super) const SPAN: Field = length(
    "floor_contact_span",
    "Span on the floor",
    "Between the outermost points that touch the floor.",
    17.0,
    430.0,
)
.optional();
pub(super) const OUTER_EDGE: Field =
    length("outer_edge_length", "Outer edge", "Along the leg's upper edge.", 9.625, 245.0)
        .optional();
pub(super) const INNER_EDGE: Field =
    length("inner_edge_length", "Inner edge", "Along the leg's lower edge.", 7.0, 180.0).optional();
pub(super) const TOE_TO_TOE: Field = length(
    "toe_to_toe",
    "Toe to toe",
    "From the middle of one foot's toe to that of the next.",
    12.0,
    300.0,
)
.optional();
