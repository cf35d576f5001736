//! The fields of the end board's forms.

use crate::inputs::Field;
use crate::layouts::Off;
use crate::layouts::field::{choice, length, maybe_angle, maybe_length, option, standing_length};

pub const BASE: Field =
    length("base_width", "Base width", 12.0, 300.0).help("Along the bottom edge.");
pub const TOP: Field = length("top_width", "Top width", 5.0, 130.0)
    .help("Along the top edge; 0 for a gable.")
    .or_zero()
    .free();
pub const HEIGHT: Field =
    length("height", "Height", 9.25, 235.0).help("Base to top, square to the base.");
pub const SHOULDER: Field = standing_length("shoulder_height", "Shoulder height", 0.0, 0.0)
    .help("How far up the sides stand upright; 0 for none.")
    .start(3.0, 75.0);
pub const LEFT_INSET: Field = maybe_length("left_inset", "Left inset")
    .help("How far the top starts in from the base on the left; less than 0 flares out.")
    .either_side();
pub const RIGHT_INSET: Field =
    maybe_length("right_inset", "Right inset").help("The same on the right.").either_side();
pub const LEFT_READING: Field = maybe_angle("left_reading_deg", "Left reading", (0.0, 90.0))
    .help("How far the left slope leans in, off vertical, if that is what you know.");
pub const RIGHT_READING: Field = maybe_angle("right_reading_deg", "Right reading", (0.0, 90.0))
    .help("How far the right slope leans in, off vertical, if that is what you know.");
pub const LEFT_SLOPE: Field = maybe_length("left_slope_length", "Left slope length")
    .help("Along the left slope, if that is what you know.");
pub const RIGHT_SLOPE: Field = maybe_length("right_slope_length", "Right slope length")
    .help("Along the right slope, if that is what you know.");
pub const GRAIN: Field = choice("grain", "Grain", "level")
    .of(&[option("level", "Level"), option("upright", "Upright")])
    .help("Which way the board's length runs.");
pub const THICKNESS: Field = maybe_length("thickness", "Thickness")
    .help("The board's size going away from you.")
    .start(0.75, 19.0);
pub const BOARD_WIDTH: Field =
    length("board_width", "Board width", 9.25, 235.0).help("Actual width of the stock.");
pub const BOARD_LENGTH: Field = length("board_length", "Board length", 96.0, 2400.0)
    .help("Actual length of the stock, ends square.");
pub const KERF: Field =
    standing_length("kerf", "Kerf", 0.125, 3.0).help("What one cut of the blade takes.");
pub const FIRST: Field = choice("first", "First piece", "upright")
    .of(&[option("upright", "Base down"), option("turned", "Turned half round")])
    .help("How the first piece on the board lies.");
pub const END_THICKNESS: Field = length("end_thickness", "End thickness", 0.75, 19.0)
    .help("Thickness of each end board.")
    .meaning("thickness");
pub const BOX_LENGTH: Field =
    length("box_length", "Box length", 24.0, 600.0).help("Outside to outside of the two ends.");
pub const FLOOR_HEIGHT: Field = standing_length("floor_height", "Floor height", 0.0, 0.0)
    .help("Base to the underside of the floor.");
pub const FLOOR_THICKNESS: Field =
    maybe_length("floor_thickness", "Floor thickness").help("As thick as the ends unless given.");
pub const DIVIDER_HEIGHT: Field = maybe_length("divider_height", "Divider height")
    .help("Base to the top of a divider, if there is one.");
pub const SIDE_THICKNESS: Field =
    maybe_length("side_thickness", "Side thickness").help("Thickness of the side boards.");

pub const BOUNDING: Field =
    maybe_length("bounding_width", "Greatest width").help("Over all, square to the height.");
pub const LEFT_UPRIGHT_READING: Field =
    maybe_angle("left_edge_from_upright_reading_deg", "Left reading, grain upright", (0.0, 90.0))
        .help("The left slope off level.");
pub const RIGHT_UPRIGHT_READING: Field =
    maybe_angle("right_edge_from_upright_reading_deg", "Right reading, grain upright", (0.0, 90.0))
        .help("The right slope off level.");
/// The right slope stays as it was cut.
pub const OFF_READING: Off =
    Off { answer: "left_reading_deg", keep: &["right_reading_deg"], give: Some("top_width") };
