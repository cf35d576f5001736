//! The fields of the end board's forms.

use crate::inputs::{Choice, Field, Kind, Need, Range, Start};
use crate::layouts::Off;

const fn length(
    key: &'static str,
    label: &'static str,
    help: &'static str,
    range: Range,
    need: Need,
    start: Start,
) -> Field {
    Field { key, label, help, kind: Kind::Length(range), need, start, ..Field::PLAIN }
}

const fn reading(key: &'static str, label: &'static str, help: &'static str) -> Field {
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

pub const BASE: Field = length(
    "base_width",
    "Base width",
    "Along the bottom edge.",
    Range::Positive,
    Need::Required,
    Start::Length(12.0, 300.0),
);
pub const TOP: Field = length(
    "top_width",
    "Top width",
    "Along the top edge; 0 for a gable.",
    Range::NotNegative,
    Need::Required,
    Start::Length(5.0, 130.0),
)
.free();
pub const HEIGHT: Field = length(
    "height",
    "Height",
    "Base to top, square to the base.",
    Range::Positive,
    Need::Required,
    Start::Length(9.25, 235.0),
);
pub const SHOULDER: Field = length(
    "shoulder_height",
    "Shoulder height",
    "How far up the sides stand upright; 0 for none.",
    Range::NotNegative,
    Need::Length(0.0),
    Start::Length(3.0, 75.0),
);
pub const LEFT_INSET: Field = length(
    "left_inset",
    "Left inset",
    "How far the top starts in from the base on the left; less than 0 flares out.",
    Range::Any,
    Need::Optional,
    Start::Empty,
);
pub const RIGHT_INSET: Field = length(
    "right_inset",
    "Right inset",
    "The same on the right.",
    Range::Any,
    Need::Optional,
    Start::Empty,
);
pub const LEFT_READING: Field = reading(
    "left_reading_deg",
    "Left reading",
    "How far the left slope leans in, off vertical, if that is what you know.",
);
pub const RIGHT_READING: Field = reading(
    "right_reading_deg",
    "Right reading",
    "How far the right slope leans in, off vertical, if that is what you know.",
);
pub const LEFT_SLOPE: Field = length(
    "left_slope_length",
    "Left slope length",
    "Along the left slope, if that is what you know.",
    Range::Positive,
    Need::Optional,
    Start::Empty,
);
pub const RIGHT_SLOPE: Field = length(
    "right_slope_length",
    "Right slope length",
    "Along the right slope, if that is what you know.",
    Range::Positive,
    Need::Optional,
    Start::Empty,
);
pub const GRAIN: Field = Field {
    key: "grain",
    label: "Grain",
    help: "Which way the board's length runs.",
    kind: Kind::Choice(&[
        Choice { key: "level", label: "Level" },
        Choice { key: "upright", label: "Upright" },
    ]),
    need: Need::Choice("level"),
    start: Start::Choice("level"),
    ..Field::PLAIN
};
pub const THICKNESS: Field = length(
    "thickness",
    "Thickness",
    "The board's size going away from you.",
    Range::Positive,
    Need::Optional,
    Start::Length(0.75, 19.0),
);
pub const BOARD_WIDTH: Field = length(
    "board_width",
    "Board width",
    "Actual width of the stock.",
    Range::Positive,
    Need::Required,
    Start::Length(9.25, 235.0),
);
pub const BOARD_LENGTH: Field = length(
    "board_length",
    "Board length",
    "Actual length of the stock, ends square.",
    Range::Positive,
    Need::Required,
    Start::Length(96.0, 2400.0),
);
pub const KERF: Field = length(
    "kerf",
    "Kerf",
    "What one cut of the blade takes.",
    Range::NotNegative,
    Need::Length(0.125),
    Start::Length(0.125, 3.0),
);
pub const FIRST: Field = Field {
    key: "first",
    label: "First piece",
    help: "How the first piece on the board lies.",
    kind: Kind::Choice(&[
        Choice { key: "upright", label: "Base down" },
        Choice { key: "turned", label: "Turned half round" },
    ]),
    need: Need::Choice("upright"),
    start: Start::Choice("upright"),
    ..Field::PLAIN
};
pub const END_THICKNESS: Field = length(
    "end_thickness",
    "End thickness",
    "Thickness of each end board.",
    Range::Positive,
    Need::Required,
    Start::Length(0.75, 19.0),
)
.meaning("thickness");
pub const BOX_LENGTH: Field = length(
    "box_length",
    "Box length",
    "Outside to outside of the two ends.",
    Range::Positive,
    Need::Required,
    Start::Length(24.0, 600.0),
);
pub const FLOOR_HEIGHT: Field = length(
    "floor_height",
    "Floor height",
    "Base to the underside of the floor.",
    Range::NotNegative,
    Need::Length(0.0),
    Start::Length(0.0, 0.0),
);
pub const FLOOR_THICKNESS: Field = length(
    "floor_thickness",
    "Floor thickness",
    "As thick as the ends unless given.",
    Range::Positive,
    Need::Optional,
    Start::Empty,
);
pub const DIVIDER_HEIGHT: Field = length(
    "divider_height",
    "Divider height",
    "Base to the top of a divider, if there is one.",
    Range::Positive,
    Need::Optional,
    Start::Empty,
);
pub const SIDE_THICKNESS: Field = length(
    "side_thickness",
    "Side thickness",
    "Thickness of the side boards.",
    Range::Positive,
    Need::Optional,
    Start::Empty,
);

pub const BOUNDING: Field = Field {
    key: "bounding_width",
    label: "Greatest width",
    help: "Over all, square to the height.",
    kind: Kind::Length(Range::Positive),
    need: Need::Optional,
    start: Start::Empty,
    ..Field::PLAIN
};
pub const LEFT_UPRIGHT_READING: Field = reading(
    "left_edge_from_upright_reading_deg",
    "Left reading, grain upright",
    "The left slope off level.",
);
pub const RIGHT_UPRIGHT_READING: Field = reading(
    "right_edge_from_upright_reading_deg",
    "Right reading, grain upright",
    "The right slope off level.",
);
/// The right slope stays as it was cut.
pub const OFF_READING: Off =
    Off { answer: "left_reading_deg", keep: &["right_reading_deg"], give: Some("top_width") };
