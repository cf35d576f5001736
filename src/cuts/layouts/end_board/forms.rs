//! The three questions that an end board is asked.

use crate::inputs::Field;
use crate::layouts::field::{
    choice, join, length, maybe_angle, maybe_length, option, standing_length,
};
use crate::layouts::{Form, Off};

/// The board itself.
const BOARD: &[Field] = &[
    length("base_width", "Base width", 12.0, 300.0).help("Along the bottom edge."),
    length("top_width", "Top width", 5.0, 130.0)
        .help("Along the top edge; 0 for a gable.")
        .or_zero()
        .free(),
    length("height", "Height", 9.25, 235.0).help("Base to top, square to the base."),
    standing_length("shoulder_height", "Shoulder height", 0.0, 0.0)
        .help("How far up the sides stand upright; 0 for none.")
        .start(3.0, 75.0),
    maybe_length("left_inset", "Left inset")
        .help("How far the top starts in from the base on the left; less than 0 flares out.")
        .either_side(),
    maybe_length("right_inset", "Right inset").help("The same on the right.").either_side(),
    maybe_angle("left_reading_deg", "Left reading", (0.0, 90.0))
        .help("How far the left slope leans in, off vertical, if that is what you know."),
    maybe_angle("right_reading_deg", "Right reading", (0.0, 90.0))
        .help("How far the right slope leans in, off vertical, if that is what you know."),
    maybe_length("left_slope_length", "Left slope length")
        .help("Along the left slope, if that is what you know."),
    maybe_length("right_slope_length", "Right slope length")
        .help("Along the right slope, if that is what you know."),
];
const GRAIN: Field = choice("grain", "Grain", "level")
    .of(&[option("level", "Level"), option("upright", "Upright")])
    .help("Which way the board's length runs.");
const THICKNESS: Field = maybe_length("thickness", "Thickness")
    .help("The board's size going away from you.")
    .start(0.75, 19.0);
const BOUNDING: Field =
    maybe_length("bounding_width", "Greatest width").help("Over all, square to the height.");

const GIVES: &[&str] = &["top_width", "height", "base_width", "shoulder_height"];
/// The right slope stays as it was cut.
const OFF: &[Off] =
    &[Off { answer: "left_reading_deg", keep: &["right_reading_deg"], give: Some("top_width") }];

pub const SINGLE: Form = Form {
    id: "single",
    label: "One board",
    fields: &join::<12>(&[BOARD, &[GRAIN, THICKNESS]]),
    also: &[
        BOUNDING,
        maybe_angle(
            "left_edge_from_upright_reading_deg",
            "Left reading, grain upright",
            (0.0, 90.0),
        )
        .help("The left slope off level."),
        maybe_angle(
            "right_edge_from_upright_reading_deg",
            "Right reading, grain upright",
            (0.0, 90.0),
        )
        .help("The right slope off level."),
    ],
    gives: GIVES,
    off: OFF,
};

pub const NESTED: Form = Form {
    id: "nested",
    label: "Many from a board",
    fields: &join::<16>(&[
        BOARD,
        &[
            length("board_width", "Board width", 9.25, 235.0).help("Actual width of the stock."),
            length("board_length", "Board length", 96.0, 2400.0)
                .help("Actual length of the stock, ends square."),
            standing_length("kerf", "Kerf", 0.125, 3.0).help("What one cut of the blade takes."),
            choice("first", "First piece", "upright")
                .of(&[option("upright", "Base down"), option("turned", "Turned half round")])
                .help("How the first piece on the board lies."),
            GRAIN,
            THICKNESS,
        ],
    ]),
    also: &[BOUNDING],
    gives: GIVES,
    off: OFF,
};

pub const BOX: Form = Form {
    id: "box",
    label: "Ends of a box",
    fields: &join::<17>(&[
        BOARD,
        &[
            length("end_thickness", "End thickness", 0.75, 19.0)
                .help("Thickness of each end board.")
                .meaning("thickness"),
            length("box_length", "Box length", 24.0, 600.0)
                .help("Outside to outside of the two ends."),
            standing_length("floor_height", "Floor height", 0.0, 0.0)
                .help("Base to the underside of the floor."),
            maybe_length("floor_thickness", "Floor thickness")
                .help("As thick as the ends unless given."),
            maybe_length("divider_height", "Divider height")
                .help("Base to the top of a divider, if there is one."),
            maybe_length("side_thickness", "Side thickness").help("Thickness of the side boards."),
            GRAIN,
        ],
    ]),
    also: &[BOUNDING],
    gives: GIVES,
    off: OFF,
};
