//! The fields and the form of tapered legs on a post.

use super::fields::{
    BELOW, BREADTH_OPEN, CLEAT, FOOT, FOOT_CUT, FOOTPRINT, INNER_EDGE, JOINT, LEGS, LONG_POINT,
    OUTER_EDGE, OVERALL, POST_BOTTOM, POST_LENGTH, POST_WIDTH, RISE_BOTTOM, RISE_MIDDLE, RISE_TOP,
    SHAPE, SPAN, TOE_TO_TOE, answer_angle,
};
use crate::inputs::{Choice, Field, Kind, Need, Range, Start};
use crate::layouts::field::length;
use crate::layouts::{Form, Off};

const BIG_END: Field = length(
    "big_end_depth",
    "Depth at the joint end",
    "Of the tapered blank, square across its axis.",
    2.0,
    50.0,
)
.meaning("leg_depth");
const SMALL_END: Field = length(
    "small_end_depth",
    "Depth at the foot end",
    "Of the tapered blank, square across its axis.",
    1.0,
    25.0,
);
const TAPER_LENGTH: Field = length(
    "taper_length",
    "Length along the axis",
    "Of the tapered blank, end to end.",
    16.0,
    400.0,
);
const FOOTPRINT_TAPERED: Field = Field { start: Start::Length(26.0, 650.0), ..FOOTPRINT };
const SECTION: Field = Field {
    key: "leg_section",
    label: "Leg section",
    help: "Round legs are cradled and clamped.",
    kind: Kind::Choice(&[
        Choice { key: "square", label: "Square" },
        Choice { key: "round", label: "Round" },
    ]),
    need: Need::Choice("square"),
    start: Start::Choice("square"),
    ..Field::PLAIN
};
const FACES: Field = Field {
    key: "tapered_faces",
    label: "Tapered on",
    help: "Two faces: it lies flat on the table. Four: its thin end is packed up.",
    kind: Kind::Choice(&[
        Choice { key: "two", label: "Two faces" },
        Choice { key: "four", label: "All four faces" },
    ]),
    need: Need::Choice("two"),
    start: Start::Choice("two"),
    ..Field::PLAIN
};
const SMALL_BREADTH: Field = length(
    "small_end_breadth",
    "Breadth at the foot end",
    "Going away from you, where all four faces taper.",
    1.0,
    25.0,
)
.optional();
const SHIM_AT: Field = length(
    "shim_at_from_big_end",
    "Shim at",
    "From the joint end, along the axis; left open: at the foot end.",
    16.0,
    400.0,
)
.optional();
const FIRST_CONTACT: Field = Field {
    key: "first_contact_from_big_end",
    label: "First contact at",
    help: "Where the leg first touches the fence, from the joint end.",
    kind: Kind::Length(Range::NotNegative),
    need: Need::Length(0.0),
    start: Start::Length(0.0, 0.0),
    ..Field::PLAIN
};

const OUTER_LEAN: Field =
    answer_angle("outer_side_lean_deg", "Lean of the outer side", "From upright.");
const AXIS_LEAN: Field = answer_angle("axis_lean_deg", "Lean of the axis", "From upright.");
const INNER_LEAN: Field =
    answer_angle("inner_side_lean_deg", "Lean of the inner side", "From upright.");

pub(super) const TAPERED: Form = Form {
    id: "tapered",
    label: "Tapered legs",
    fields: &[
        POST_WIDTH,
        FOOTPRINT_TAPERED,
        BIG_END,
        SMALL_END,
        TAPER_LENGTH,
        FOOT,
        SECTION,
        FACES,
        BELOW,
        POST_LENGTH.optional(),
        LEGS,
        SHAPE,
        CLEAT,
        BREADTH_OPEN,
        SMALL_BREADTH,
        SHIM_AT,
        FIRST_CONTACT,
    ],
    also: &[
        LONG_POINT.optional(),
        RISE_TOP.optional(),
        RISE_MIDDLE.optional(),
        RISE_BOTTOM.optional(),
        OVERALL.optional(),
        OUTER_LEAN,
        AXIS_LEAN,
        INNER_LEAN,
        JOINT,
        FOOT_CUT,
        POST_BOTTOM,
        SPAN,
        OUTER_EDGE,
        INNER_EDGE,
        TOE_TO_TOE,
    ],
    gives: &["footprint", "taper_length", "post_width"],
    off: &[Off {
        // The blank, and so the outer side's length, stays as it is.
        answer: "outer_side_on_fence.top_reading_deg",
        keep: &[],
        give: Some("footprint"),
    }],
};

/// Id of the form of tapered legs.
pub(super) const TAPERED_ID: &str = TAPERED.id;
