//! The fields and forms of legs on a post. Every way to know the lean is a form of its own, so that
//! exactly one size gives it and any other is checked against it.

use crate::inputs::{Field, Kind};
use crate::layouts::field::{angle, choice, count, length, maybe_angle, option, standing_length};

pub(super) const POST_WIDTH: Field = length("post_width", "Post width", 3.5, 90.0)
    .help("Flat to flat; a round post's diameter; a triangular post's side.");
pub(super) const FOOTPRINT: Field = length("footprint", "Footprint", 17.5, 445.0).help("Outside of one foot to outside of the opposite one; three legs: the circle through the toes.")
.free();
pub(super) const LEG_DEPTH: Field = length("leg_depth", "Leg depth", 1.5, 38.0)
    .help("The size of the leg that you see from the side.");
pub(super) const LONG_POINT: Field = length("long_point_length", "Leg length", 9.625, 245.0)
    .help("Along the outer edge, long point to long point.")
    .free();
pub(super) const SHORT_POINT: Field = length("short_point_length", "Inner edge", 7.0, 180.0)
    .help("Along the inner edge, short point to short point.")
    .free();
pub(super) const RISE_TOP: Field = length("rise_to_joint_top", "Rise", 6.5, 165.0)
    .help("From the floor to the joint's upper end.")
    .free();
pub(super) const RISE_MIDDLE: Field =
    length("rise_to_joint_middle", "Rise to the middle", 6.0, 150.0)
        .help("From the floor to the joint's middle.")
        .free();
pub(super) const RISE_BOTTOM: Field =
    length("rise_to_joint_bottom", "Rise to the lower end", 5.0, 125.0)
        .help("From the floor to the joint's lower end.")
        .free();
pub(super) const OVERALL: Field = length("overall_height", "Overall height", 34.0, 860.0)
    .help("From the floor to the post's top.")
    .free();
pub(super) const SPLAY: Field = angle("splay_deg", "Splay", (0.0, 90.0), 45.0)
    .help("How far the leg leans from upright.")
    .free();
pub(super) const FOOT: Field = choice("foot", "Foot", "floor")
    .of(&[option("floor", "Flat on the floor"), option("square", "Left square")])
    .help("Cut level, or left square so that the leg stands on its inner corner.");
pub(super) const BELOW: Field =
    standing_length("post_below_joint", "Post below the joint", 0.0, 0.0)
        .help("How far the post goes on below the joint's lower end.");
pub(super) const POST_LENGTH: Field = length("post_length", "Post length", 30.0, 760.0)
    .help("The whole post, for the overall height.");
pub(super) const LEGS: Field =
    count("legs", "Number of legs", (2, 4), 4.0).help("A pair, three, or four.").standing(4.0);
pub(super) const SHAPE: Field = Field {
    key: "post_shape",
    label: "Post shape",
    help: "Its section; three legs need a round, hexagonal or triangular one.",
    kind: Kind::Choice(&[
        option("square", "Square"),
        option("round", "Round"),
        option("hexagonal", "Six-sided"),
        option("triangular", "Three-sided"),
    ]),
    ..Field::PLAIN
};
pub(super) const CLEAT: Field = standing_length("cleat", "Cleat thickness", 0.0, 0.0)
    .help("A piece between leg and post; 0 without.");
pub(super) const BREADTH: Field = length("leg_breadth", "Leg breadth", 1.5, 38.0)
    .help("The size of the leg going away from you.");
pub(super) const BREADTH_OPEN: Field = BREADTH.open();

// Answers that may be typed as sizes.
pub(super) const SLOPE: Field =
    maybe_angle("slope_to_floor_deg", "Slope to the floor", (0.0, 90.0))
        .help("Between the leg and the floor.");
pub(super) const TOP_READING: Field =
    maybe_angle("top_reading_deg", "Reading at the joint", (0.0, 90.0))
        .help("What the saw is set to for the joint.");
pub(super) const JOINT: Field =
    length("joint_length_on_post", "Joint length", 2.0, 50.0).help("Along the post.").optional();
pub(super) const FOOT_CUT: Field =
    length("foot_cut_length", "Foot length", 2.0, 50.0).help("Along the foot's cut.").optional();
pub(super) const POST_BOTTOM: Field =
    length("post_bottom_height", "Post above the floor", 4.0, 100.0)
        .help("From the floor to the post's lower end.")
        .or_zero()
        .optional();
pub(super) const SPAN: Field = length("floor_contact_span", "Span on the floor", 17.0, 430.0)
    .help("Between the outermost points that touch the floor.")
    .optional();
pub(super) const OUTER_EDGE: Field = length("outer_edge_length", "Outer edge", 9.625, 245.0)
    .help("Along the leg's upper edge.")
    .optional();
pub(super) const INNER_EDGE: Field = length("inner_edge_length", "Inner edge", 7.0, 180.0)
    .help("Along the leg's lower edge.")
    .optional();
pub(super) const TOE_TO_TOE: Field = length("toe_to_toe", "Toe to toe", 12.0, 300.0)
    .help("From the middle of one foot's toe to that of the next.")
    .optional();
