//! Boxes whose sides slope (GEOMETRY 8): n equal sides, or a rectangle with two slopes.
//!
//! `tilt` is a side's lean from upright, positive outward. Height upright, edges level.

mod board;
mod picture;
mod regular;
mod solids;
mod two_slopes;

use super::field::{angle, choice, count, length, maybe_length, option};
use super::{Declared, Detail, Form, Off, Outcome, Refused};
use crate::inputs::{Field, Inputs};

const HEIGHT: Field = length("height", "Height", 4.5, 115.0).help("Upright, floor to rim.");

const FLOOR: Field = maybe_length("floor_height", "Floor at")
    .help("Height of the floor's underside; leave open for no floor.")
    .or_zero();

const FLOOR_THICKNESS: Field = maybe_length("floor_thickness", "Floor thickness")
    .help("Gives the floor's size on its upper side too.");

const REGULAR: Form = Form {
    id: "regular",
    label: "Equal sides",
    fields: &[
        count("sides", "Sides", (3, 360), 6.0).help("How many, all alike."),
        length("outer_bottom_side", "Bottom, outside", 5.0, 130.0).help("One side at the bottom."),
        angle("tilt_deg", "Lean outward", (-89.0, 89.0), 15.0)
            .help("From upright; negative leans inward."),
        length("thickness", "Board thickness", 0.75, 19.0),
        HEIGHT,
        choice("joint", "Corners", "mitre")
            .of(&[option("mitre", "Mitered"), option("butt", "Butted")]),
        FLOOR,
        FLOOR_THICKNESS,
    ],
    also: &[],
    gives: &["tilt_deg", "height", "outer_bottom_side"],
    off: &[
        Off { answer: "mitre_deg", keep: &[], give: None },
        Off { answer: "bevel_deg", keep: &[], give: None },
    ],
};

const TWO: Form = Form {
    id: "two_slopes",
    label: "Rectangle",
    fields: &[
        length("outer_bottom_width", "Bottom, wide", 14.0, 360.0)
            .help("Outside, seen from the front.")
            .meaning("outer_bottom_side"),
        length("outer_bottom_depth", "Bottom, deep", 8.0, 200.0)
            .help("Outside, seen from the side.")
            .meaning("outer_bottom_side"),
        angle("tilt_front_deg", "Front leans", (-89.0, 89.0), 15.0)
            .help("Front and back, outward from upright.")
            .meaning("tilt_deg"),
        angle("tilt_side_deg", "Sides lean", (-89.0, 89.0), 10.0)
            .help("Outward from upright.")
            .meaning("tilt_deg"),
        length("thickness_front", "Front thickness", 0.75, 19.0)
            .help("Front and back boards.")
            .meaning("thickness"),
        length("thickness_side", "Side thickness", 0.75, 19.0).meaning("thickness"),
        HEIGHT,
        choice("joint", "Corners", "mitre").of(&[
            option("mitre", "Mitered"),
            option("front_between", "Front between the sides"),
            option("sides_between", "Sides between front and back"),
        ]),
        FLOOR,
        FLOOR_THICKNESS,
    ],
    also: &[],
    gives: &[
        "tilt_side_deg",
        "tilt_front_deg",
        "height",
        "outer_bottom_width",
        "outer_bottom_depth",
    ],
    off: &[
        Off { answer: "front.mitre_deg", keep: &[], give: None },
        Off { answer: "front.bevel_deg", keep: &[], give: None },
    ],
};

/// The layout "sloped_box".
pub static SLOPED_BOX: Declared = Declared {
    id: "sloped_box",
    question: "Box with sloping sides",
    search_words: "planter hopper tray compound miter polygon pyramid",
    forms: &[TWO, REGULAR],
    words: &[("dihedral_deg", "angle between the boards")],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    match inputs.form {
        "regular" => regular::solve(inputs, detail),
        _ => two_slopes::solve(inputs, detail),
    }
}
