//! The three questions that an end board is asked.

use super::fields::*;
use crate::inputs::Field;
use crate::layouts::Form;

const GIVES: &[&str] = &["top_width", "height", "base_width", "shoulder_height"];

const SINGLE_FIELDS: &[Field] = &[
    BASE,
    TOP,
    HEIGHT,
    SHOULDER,
    LEFT_INSET,
    RIGHT_INSET,
    LEFT_READING,
    RIGHT_READING,
    LEFT_SLOPE,
    RIGHT_SLOPE,
    GRAIN,
    THICKNESS,
];
const NESTED_FIELDS: &[Field] = &[
    BASE,
    TOP,
    HEIGHT,
    SHOULDER,
    LEFT_INSET,
    RIGHT_INSET,
    LEFT_READING,
    RIGHT_READING,
    LEFT_SLOPE,
    RIGHT_SLOPE,
    BOARD_WIDTH,
    BOARD_LENGTH,
    KERF,
    FIRST,
    GRAIN,
    THICKNESS,
];
const BOX_FIELDS: &[Field] = &[
    BASE,
    TOP,
    HEIGHT,
    SHOULDER,
    LEFT_INSET,
    RIGHT_INSET,
    LEFT_READING,
    RIGHT_READING,
    LEFT_SLOPE,
    RIGHT_SLOPE,
    END_THICKNESS,
    BOX_LENGTH,
    FLOOR_HEIGHT,
    FLOOR_THICKNESS,
    DIVIDER_HEIGHT,
    SIDE_THICKNESS,
    GRAIN,
];

pub const SINGLE: Form = Form {
    id: "single",
    label: "One board",
    fields: SINGLE_FIELDS,
    also: &[BOUNDING, LEFT_UPRIGHT_READING, RIGHT_UPRIGHT_READING],
    gives: GIVES,
    off: &[OFF_READING],
};
pub const NESTED: Form = Form {
    id: "nested",
    label: "Many from a board",
    fields: NESTED_FIELDS,
    also: &[BOUNDING],
    gives: GIVES,
    off: &[OFF_READING],
};
pub const BOX: Form = Form {
    id: "box",
    label: "Ends of a box",
    fields: BOX_FIELDS,
    also: &[BOUNDING],
    gives: GIVES,
    off: &[OFF_READING],
};
