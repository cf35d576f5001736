//! The fields and the form of tapered legs on a post.

use super::fields::{
    BELOW, BREADTH_OPEN, CLEAT, FOOT, FOOT_CUT, FOOTPRINT, INNER_EDGE, JOINT, LEGS, LONG_POINT,
    OUTER_EDGE, OVERALL, POST_BOTTOM, POST_LENGTH, POST_WIDTH, RISE_BOTTOM, RISE_MIDDLE, RISE_TOP,
    SHAPE, SPAN, TOE_TO_TOE,
};
use crate::layouts::field::{choice, length, maybe_angle, option, standing_length};
use crate::layouts::{Form, Off};

pub(super) const TAPERED: Form = Form {
    id: "tapered",
    label: "Tapered legs",
    fields: &[
        POST_WIDTH,
        FOOTPRINT.start(26.0, 650.0),
        length("big_end_depth", "Depth at the joint end", 2.0, 50.0)
            .help("Of the tapered blank, square across its axis.")
            .meaning("leg_depth"),
        length("small_end_depth", "Depth at the foot end", 1.0, 25.0)
            .help("Of the tapered blank, square across its axis."),
        length("taper_length", "Length along the axis", 16.0, 400.0)
            .help("Of the tapered blank, end to end."),
        FOOT,
        choice("leg_section", "Leg section", "square")
            .of(&[option("square", "Square"), option("round", "Round")])
            .help("Round legs are cradled and clamped."),
        choice("tapered_faces", "Tapered on", "two")
            .of(&[option("two", "Two faces"), option("four", "All four faces")])
            .help("Two faces: it lies flat on the table. Four: its thin end is packed up."),
        BELOW,
        POST_LENGTH.optional(),
        LEGS,
        SHAPE,
        CLEAT,
        BREADTH_OPEN,
        length("small_end_breadth", "Breadth at the foot end", 1.0, 25.0)
            .help("Going away from you, where all four faces taper.")
            .optional(),
        length("shim_at_from_big_end", "Shim at", 16.0, 400.0)
            .help("From the joint end, along the axis; left open: at the foot end.")
            .optional(),
        standing_length("first_contact_from_big_end", "First contact at", 0.0, 0.0)
            .help("Where the leg first touches the fence, from the joint end."),
    ],
    also: &[
        LONG_POINT.optional(),
        RISE_TOP.optional(),
        RISE_MIDDLE.optional(),
        RISE_BOTTOM.optional(),
        OVERALL.optional(),
        maybe_angle("outer_side_lean_deg", "Lean of the outer side", (0.0, 90.0))
            .help("From upright."),
        maybe_angle("axis_lean_deg", "Lean of the axis", (0.0, 90.0)).help("From upright."),
        maybe_angle("inner_side_lean_deg", "Lean of the inner side", (0.0, 90.0))
            .help("From upright."),
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
