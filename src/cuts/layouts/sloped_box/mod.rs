//! Boxes whose sides slope (GEOMETRY 8): n equal sides, or a rectangle with two slopes.
//!
//! `tilt` is a side's lean from upright, positive outward. Height upright, edges level.

mod board;
mod picture;
mod regular;
mod solids;
mod two_slopes;

use super::field::{angle, choice, length, option};
use super::{Detail, Form, Layout, Off, Outcome};
use crate::inputs::{Field, Inputs, Kind, Need, Start};

/// The layout "sloped_box".
pub struct SlopedBox;

const HEIGHT: Field = length("height", "Height", "Upright, floor to rim.", 4.5, 115.0);

const FLOOR: Field = Field {
    key: "floor_height",
    label: "Floor at",
    help: "Height of the floor's underside; leave open for no floor.",
    kind: Kind::Length(crate::inputs::Range::NotNegative),
    need: Need::Optional,
    start: Start::Empty,
    ..Field::PLAIN
};

const FLOOR_THICKNESS: Field = Field {
    key: "floor_thickness",
    label: "Floor thickness",
    help: "Gives the floor's size on its upper side too.",
    kind: Kind::Length(crate::inputs::Range::Positive),
    need: Need::Optional,
    start: Start::Empty,
    ..Field::PLAIN
};

const REGULAR: Form = Form {
    id: "regular",
    label: "Equal sides",
    fields: &[
        Field {
            key: "sides",
            label: "Sides",
            help: "How many, all alike.",
            kind: Kind::Count(3, 360),
            need: Need::Required,
            start: Start::Number(6.0),
            ..Field::PLAIN
        },
        length("outer_bottom_side", "Bottom, outside", "One side at the bottom.", 5.0, 130.0),
        angle(
            "tilt_deg",
            "Lean outward",
            "From upright; negative leans inward.",
            -89.0,
            89.0,
            15.0,
        ),
        length("thickness", "Board thickness", "", 0.75, 19.0),
        HEIGHT,
        choice(
            "joint",
            "Corners",
            &[option("mitre", "Mitered"), option("butt", "Butted")],
            "mitre",
        ),
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
        length("outer_bottom_width", "Bottom, wide", "Outside, seen from the front.", 14.0, 360.0)
            .meaning("outer_bottom_side"),
        length("outer_bottom_depth", "Bottom, deep", "Outside, seen from the side.", 8.0, 200.0)
            .meaning("outer_bottom_side"),
        angle(
            "tilt_front_deg",
            "Front leans",
            "Front and back, outward from upright.",
            -89.0,
            89.0,
            15.0,
        )
        .meaning("tilt_deg"),
        angle("tilt_side_deg", "Sides lean", "Outward from upright.", -89.0, 89.0, 10.0)
            .meaning("tilt_deg"),
        length("thickness_front", "Front thickness", "Front and back boards.", 0.75, 19.0)
            .meaning("thickness"),
        length("thickness_side", "Side thickness", "", 0.75, 19.0).meaning("thickness"),
        HEIGHT,
        choice(
            "joint",
            "Corners",
            &[
                option("mitre", "Mitered"),
                option("front_between", "Front between the sides"),
                option("sides_between", "Sides between front and back"),
            ],
            "mitre",
        ),
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

impl Layout for SlopedBox {
    fn id(&self) -> &'static str {
        "sloped_box"
    }
    fn question(&self) -> &'static str {
        "Box with sloping sides"
    }
    fn search_words(&self) -> &'static str {
        "planter hopper tray compound miter polygon pyramid"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[TWO, REGULAR];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        match inputs.form {
            "regular" => regular::solve(&REGULAR, inputs, detail),
            _ => two_slopes::solve(&TWO, inputs, detail),
        }
    }
}
