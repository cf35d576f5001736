//! What each form of the brace asks for.

use crate::inputs::{Choice, Field, Kind, Need};
use crate::layouts::field::{choice, length, maybe_length, option};
use crate::layouts::{Form, Off};

const WIDTH: Field =
    length("opening_width", "Opening width", 24.0, 600.0).help("Between the stiles.");
const HEIGHT: Field =
    length("opening_height", "Opening height", 36.0, 900.0).help("Between the rails.");
const STRIP: Field =
    length("strip_width", "Strip width", 2.0, 50.0).help("The size of the brace that you see.");
const THICKNESS: Field =
    maybe_length("thickness", "Strip thickness").help("The size going away from you.");

pub const LANDINGS: &[Choice] = &[
    option("corner", "Point in the corner"),
    option("rails", "Flat on the rails"),
    option("stiles", "Flat on the stiles"),
    option("edge", "Edge on the diagonal"),
];
const ENDS: Field = Field {
    key: "ends",
    label: "How it lands",
    help: "Leave open to see every way.",
    kind: Kind::Choices(LANDINGS),
    ..Field::PLAIN
};
const SIDE: Field = choice("side", "Edge on the diagonal: strip lies", "below")
    .of(&[option("below", "Below it"), option("above", "Above it")]);

/// A cut or a length that is off: the opening and the strip stand there already, so no size gives.
const fn row(answer: &'static str, keep: &'static [&'static str]) -> Off {
    Off { answer, keep, give: None }
}

/// Rows whose answers a landing does not have are left out of its table.
const OFF: &[Off] = &[
    row("reading_deg", &["edge_length"]),
    row("edge_length", &["reading_deg"]),
    row("reading_rail_cut_deg", &["point_to_point"]),
    row("point_to_point", &["reading_rail_cut_deg"]),
    row("reading_rail_cut_deg", &["long_edge_length"]),
    row("reading_stile_cut_deg", &["long_edge_length"]),
    row("long_edge_length", &["reading_rail_cut_deg"]),
];

pub const SINGLE: Form = Form {
    id: "single",
    label: "One brace",
    fields: &[WIDTH, HEIGHT, STRIP, ENDS, SIDE, THICKNESS],
    also: &[],
    gives: &["opening_height", "opening_width", "strip_width"],
    off: OFF,
};

const STRIP_1: Field = length("strip_width_1", "First strip", 2.0, 50.0)
    .help("From lower left to upper right.")
    .meaning("strip_width");
const STRIP_2: Field = length("strip_width_2", "Second strip", 2.0, 50.0)
    .help("From lower right to upper left.")
    .meaning("strip_width");
const JOINT: Field = choice("joint", "Where they cross", "half_lap")
    .of(&[option("half_lap", "Half lap"), option("second_in_halves", "Second in two halves")]);
const THICKNESS_1: Field = maybe_length("thickness_1", "First strip's thickness")
    .help("The size going away from you.")
    .meaning("thickness");
const THICKNESS_2: Field = maybe_length("thickness_2", "Second strip's thickness")
    .help("Leave open if it is the first strip's.")
    .meaning("thickness");
const OFF_CROSSED: &[Off] = &[
    row("brace_1.reading_deg", &["brace_1.edge_length"]),
    row("brace_1.edge_length", &["brace_1.reading_deg"]),
    row("brace_1.reading_rail_cut_deg", &["brace_1.point_to_point"]),
    row("brace_1.reading_rail_cut_deg", &["brace_1.long_edge_length"]),
];

pub const CROSSED: Form = Form {
    id: "crossed",
    label: "Crossed pair",
    fields: &[WIDTH, HEIGHT, STRIP_1, STRIP_2, ENDS, JOINT, SIDE, THICKNESS_1, THICKNESS_2],
    also: &[],
    gives: &["opening_height", "opening_width", "strip_width_1", "strip_width_2"],
    off: OFF_CROSSED,
};

const APEX: Field = Field {
    need: Need::Required,
    ..choice("apex", "They meet at the", "left")
        .of(&[
            option("left", "Left stile"),
            option("right", "Right stile"),
            option("top", "Top rail"),
            option("bottom", "Bottom rail"),
        ])
        .help("A stile makes a K, a rail a chevron.")
};

pub const PAIR: Form = Form {
    id: "pair",
    label: "K or chevron",
    fields: &[WIDTH, HEIGHT, STRIP, APEX, ENDS, SIDE, THICKNESS],
    also: &[],
    gives: &["opening_height", "opening_width", "strip_width"],
    off: OFF,
};

const BOTTOM: Field = length("bottom", "Bottom", 30.0, 760.0)
    .help("Along the lower rail, inside.")
    .meaning("opening_width");
const RIGHT: Field = length("right", "Right", 44.25, 1124.0)
    .help("Along the right stile, inside.")
    .meaning("opening_height");
const TOP: Field = length("top", "Top", 30.125, 763.0)
    .help("Along the upper rail, inside.")
    .meaning("opening_width");
const LEFT: Field = length("left", "Left", 44.0, 1118.0)
    .help("Along the left stile, inside.")
    .meaning("opening_height");
const UP: Field =
    length("diagonal_up", "Diagonal up", 53.5, 1359.0).help("Lower left to upper right.");
const DOWN: Field =
    length("diagonal_down", "Diagonal down", 53.25, 1353.0).help("Upper left to lower right.");

const OFF_BUILT: &[Off] = &[
    row("reading_lower_deg", &["left_edge_length"]),
    row("reading_upper_deg", &["left_edge_length"]),
    row("left_edge_length", &["reading_lower_deg"]),
    row("reading_lower_rail_cut_deg", &["point_to_point"]),
    row("reading_upper_rail_cut_deg", &["point_to_point"]),
    row("point_to_point", &["reading_lower_rail_cut_deg"]),
];

pub const AS_BUILT: Form = Form {
    id: "as_built",
    label: "As built",
    fields: &[BOTTOM, RIGHT, TOP, LEFT, UP, STRIP, ENDS, SIDE, THICKNESS],
    also: &[DOWN.optional()],
    gives: &["diagonal_up", "strip_width", "left", "right", "top", "bottom"],
    off: OFF_BUILT,
};

/// The same from the other diagonal, where that is the one that could be measured.
pub const AS_BUILT_DOWN: Form = Form {
    id: "as_built_down",
    label: "As built, other diagonal",
    fields: &[BOTTOM, RIGHT, TOP, LEFT, DOWN, STRIP, ENDS, SIDE, THICKNESS],
    also: &[UP.optional()],
    gives: &["diagonal_down", "strip_width", "left", "right", "top", "bottom"],
    off: OFF_BUILT,
};

const OUT_W: Field =
    length("outside_width", "Frame, outside width", 29.0, 740.0).help("Over both stiles.");
const OUT_H: Field =
    length("outside_height", "Frame, outside height", 41.0, 1040.0).help("Over both rails.");
const STILE: Field = length("stile_width", "Stile width", 2.5, 70.0).help("Of one upright.");
const RAIL: Field = length("rail_width", "Rail width", 2.5, 70.0).help("Of one level member.");

pub const OUTSIDE: Form = Form {
    id: "outside",
    label: "From outside",
    fields: &[OUT_W, OUT_H, STILE, RAIL, STRIP, ENDS, SIDE, THICKNESS],
    also: &[],
    gives: &["outside_height", "outside_width", "strip_width"],
    off: OFF,
};

pub const CROSSED_OUTSIDE: Form = Form {
    id: "crossed_outside",
    label: "Crossed, from outside",
    fields: &[
        OUT_W,
        OUT_H,
        STILE,
        RAIL,
        STRIP_1,
        STRIP_2,
        ENDS,
        JOINT,
        SIDE,
        THICKNESS_1,
        THICKNESS_2,
    ],
    also: &[],
    gives: &["outside_height", "outside_width", "strip_width_1", "strip_width_2"],
    off: OFF_CROSSED,
};

pub const PAIR_OUTSIDE: Form = Form {
    id: "pair_outside",
    label: "K or chevron, from outside",
    fields: &[OUT_W, OUT_H, STILE, RAIL, STRIP, APEX, ENDS, SIDE, THICKNESS],
    also: &[],
    gives: &["outside_height", "outside_width", "strip_width"],
    off: OFF,
};

pub const FORMS: &[Form] =
    &[SINGLE, CROSSED, PAIR, AS_BUILT, AS_BUILT_DOWN, OUTSIDE, CROSSED_OUTSIDE, PAIR_OUTSIDE];
