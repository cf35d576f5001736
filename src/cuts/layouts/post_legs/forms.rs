//! The forms of legs on a post, the parallel ones first.

use super::fields::*;
use super::tapered_fields::TAPERED;
use crate::layouts::{Form, Off};

/// The answers that every form of parallel legs takes besides the seven named sizes.
macro_rules! also {
    ($($basis:ident),* $(,)?) => {
        &[
            $($basis.optional(),)*
            SLOPE, TOP_READING, JOINT, FOOT_CUT, POST_BOTTOM, SPAN, OUTER_EDGE, INNER_EDGE, TOE_TO_TOE,
        ]
    };
}

/// Half a degree more or less at the joint, the leg's length kept.
const READING_OFF: Off =
    Off { answer: "top_reading_deg", keep: &["long_point_length"], give: Some("footprint") };
/// A leg too long or too short, its reading kept.
const LENGTH_OFF: Off =
    Off { answer: "long_point_length", keep: &["top_reading_deg"], give: Some("footprint") };
/// An input keeps itself.
const fn kept_as_given(off: Off) -> Off {
    Off { keep: &[], ..off }
}
const OFF: &[Off] = &[READING_OFF, LENGTH_OFF];
const OFF_BY_LENGTH: &[Off] = &[kept_as_given(READING_OFF), LENGTH_OFF];
const OFF_BY_ANGLE: &[Off] = &[READING_OFF, kept_as_given(LENGTH_OFF)];

/// One form of parallel legs: its id, button, the size that gives the lean, what if it's off tries,
/// the post's length, and the other sizes.
macro_rules! form {
    ($id:literal, $label:literal, $basis:ident, $key:literal, $off:ident, $post_length:expr, [$($other:ident),*]) => {
        Form {
            id: $id,
            label: $label,
            fields: &[
                POST_WIDTH, FOOTPRINT, LEG_DEPTH, $basis, FOOT, BELOW, $post_length, LEGS, SHAPE, CLEAT,
                BREADTH_OPEN,
            ],
            also: also![$($other),*],
            gives: &["footprint", $key, "leg_depth", "post_width"],
            off: $off,
        }
    };
}

/// All forms; the first one is shown first. Overall height is no `also` of the others: it says
/// something only beside the post's length, which its own form asks for.
pub const FORMS: &[Form] = &[
    form!(
        "leg_length",
        "By leg length",
        LONG_POINT,
        "long_point_length",
        OFF_BY_LENGTH,
        POST_LENGTH.optional(),
        [RISE_TOP, SPLAY, SHORT_POINT, RISE_MIDDLE, RISE_BOTTOM]
    ),
    form!(
        "rise",
        "By rise",
        RISE_TOP,
        "rise_to_joint_top",
        OFF,
        POST_LENGTH.optional(),
        [LONG_POINT, SPLAY, SHORT_POINT, RISE_MIDDLE, RISE_BOTTOM]
    ),
    form!(
        "splay",
        "By angle",
        SPLAY,
        "splay_deg",
        OFF_BY_ANGLE,
        POST_LENGTH.optional(),
        [LONG_POINT, RISE_TOP, SHORT_POINT, RISE_MIDDLE, RISE_BOTTOM]
    ),
    form!(
        "overall_height",
        "By overall height",
        OVERALL,
        "overall_height",
        OFF,
        POST_LENGTH,
        [LONG_POINT, RISE_TOP, SPLAY, SHORT_POINT, RISE_MIDDLE, RISE_BOTTOM]
    ),
    form!(
        "inner_edge",
        "By inner edge",
        SHORT_POINT,
        "short_point_length",
        OFF,
        POST_LENGTH.optional(),
        [LONG_POINT, RISE_TOP, SPLAY, RISE_MIDDLE, RISE_BOTTOM]
    ),
    form!(
        "rise_middle",
        "By rise to the middle",
        RISE_MIDDLE,
        "rise_to_joint_middle",
        OFF,
        POST_LENGTH.optional(),
        [LONG_POINT, RISE_TOP, SPLAY, SHORT_POINT, RISE_BOTTOM]
    ),
    form!(
        "rise_bottom",
        "By rise to the lower end",
        RISE_BOTTOM,
        "rise_to_joint_bottom",
        OFF,
        POST_LENGTH.optional(),
        [LONG_POINT, RISE_TOP, SPLAY, SHORT_POINT, RISE_MIDDLE]
    ),
    TAPERED,
];
