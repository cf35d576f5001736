//! Mitered frames (GEOMETRY 7): a rectangle, a regular polygon, any convex polygon.
//!
//! Readings are signed here: positive when the outer edge reaches past the inner one at that end.

mod polygon;
mod rectangle;
mod regular;

use super::field::{choice, count, length, maybe_angle, maybe_length, option};
use super::{Declared, Detail, Form, Off, Outcome, Raw, Refused, Spelling};
use crate::inputs::{Field, Inputs, Kind, Need, Range, Start};

const RABBET: Field =
    maybe_length("rabbet_width", "Rabbet").help("How far the panel lies behind the frame.");

const ALLOWANCE: Field = maybe_length("rabbet_allowance", "Room in the rabbet")
    .help("All in all, so that the panel can move.")
    .or_zero();

const SAW_OFF: Field =
    maybe_angle("saw_off_deg", "Saw off by", (0.0, 10.0)).help("In every cut; 0.1° unless given.");

const POLYGON: Form = Form {
    id: "polygon",
    label: "Any corners",
    fields: &[
        Field {
            key: "outer_corners",
            label: "Outer corners",
            help: "One after another, counterclockwise: across, up; across, up.",
            kind: Kind::Points,
            need: Need::Required,
            start: Start::Points(
                &[(0.0, 0.0), (24.0, 0.0), (20.0, 14.0), (4.0, 14.0)],
                &[(0.0, 0.0), (600.0, 0.0), (500.0, 350.0), (100.0, 350.0)],
            ),
            ..Field::PLAIN
        },
        Field {
            key: "widths",
            label: "Stock widths",
            help: "One for each side, from the first corner to the second and on; a single one serves all.",
            kind: Kind::Lengths(Range::Positive),
            need: Need::Required,
            start: Start::Lengths(&[1.5], &[38.0]),
            meaning: "width",
            ..Field::PLAIN
        },
        SAW_OFF,
    ],
    also: &[],
    gives: &[],
    off: &[],
};

const REGULAR: Form = Form {
    id: "regular",
    label: "Equal sides",
    fields: &[
        count("sides", "Sides", (3, 360), 8.0).help("How many, all alike."),
        choice("given", "Size given as", "across_flats").of(&[
            option("across_flats", "Across the flats"),
            option("corner_radius", "Middle to corner"),
            option("inner_side", "Inside edge"),
            option("outer_side", "Outside edge"),
        ]),
        length("value", "Size", 16.0, 400.0).help("As chosen above."),
        length("width", "Stock width", 2.0, 50.0),
        RABBET,
        ALLOWANCE,
        SAW_OFF,
    ],
    also: &[],
    gives: &["value", "width"],
    off: &[Off { answer: "outer_edge_length", keep: &[], give: None }],
};

const RECTANGLE: Form = Form {
    id: "rectangle",
    label: "Rectangle",
    fields: &[
        choice("measured", "Sizes are", "sight").of(&[
            option("outside", "Outside"),
            option("sight", "Inside, what shows"),
            option("rabbet", "The panel in the rabbet"),
        ]),
        length("frame_width", "Width", 16.0, 400.0).help("As chosen above."),
        length("frame_height", "Height", 20.0, 500.0).help("As chosen above."),
        length("rail_width", "Rail stock", 2.0, 50.0)
            .help("Top and bottom, as seen.")
            .meaning("width"),
        length("stile_width", "Stile stock", 2.0, 50.0)
            .help("The uprights, as seen.")
            .meaning("width"),
        RABBET,
        ALLOWANCE,
        SAW_OFF,
    ],
    also: &[],
    gives: &["stile_width", "rail_width", "frame_width", "frame_height"],
    off: &[Off { answer: "rail.reading_deg", keep: &[], give: None }],
};

/// The layout "mitred_frame".
pub static MITRED_FRAME: Declared = Declared {
    id: "mitred_frame",
    question: "Mitered frame",
    search_words: "picture mirror polygon hexagon octagon rabbet rail stile",
    forms: &[RECTANGLE, REGULAR, POLYGON],
    spelled,
    solve,
    ..Declared::PLAIN
};

fn spelled(request: &mut Spelling) {
    // One width serves all sides, given bare as well as in a list.
    if request.get("outer_corners").is_some()
        && request.get("widths").is_some_and(|w| w.number().is_some())
        && let Some((value, path)) = request.take("widths")
    {
        request.put("widths", Raw::List(vec![value]), path);
    }
}

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    match inputs.form {
        "regular" => regular::solve(inputs, detail),
        "polygon" => polygon::solve(inputs, detail),
        _ => rectangle::solve(inputs, detail),
    }
}
