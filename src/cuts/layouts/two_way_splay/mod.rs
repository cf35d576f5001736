//! Legs splayed two ways, and the stretchers between them (GEOMETRY 4).
//!
//! Frame: x to the right, y to the back, z up; the leg at the right front, floor z = 0.

mod leg;
mod picture;
mod sizes;
mod stretcher;

use super::field::{angle, choice, length, option};
use super::{Detail, Form, Layout, Off, Outcome, missing};
use crate::inputs::{Field, Inputs};
use offsquare_units::Angle;
use sizes::{Leg, Sizes, read_sizes, read_stretcher};

/// The layout "two_way_splay".
pub struct TwoWaySplay;

const FRONT: Field = angle("splay_front_deg", "Lean from the front", (0.0, 89.0), 10.0)
    .help("How far the leg leans from upright, seen from the front.")
    .free();
const SIDE: Field = angle("splay_side_deg", "Lean from the side", (0.0, 89.0), 6.0)
    .help("The same, seen from the side.")
    .free();
const SECTION: Field = length("section", "Leg stock", 1.5, 38.0).help("Square: one side of it.");
const HEIGHT: Field =
    length("height", "Height", 18.0, 450.0).help("Floor to the top of the leg, upright.");
const ROLL: Field = choice("roll", "How the leg is turned", "front").of(&[
    option("front", "Front face runs level"),
    option("side", "Side face runs level"),
    option("tilt", "Tipped straight over"),
    option("lean", "One pair upright along the lean"),
]);

const LEG: Form = Form {
    id: "leg",
    label: "Leg",
    fields: &[FRONT, SIDE, SECTION, HEIGHT, ROLL],
    also: &[],
    gives: &["splay_front_deg", "splay_side_deg", "height"],
    off: &[
        Off { answer: "on_face_F.mitre_deg", keep: &[], give: Some("splay_front_deg") },
        Off { answer: "on_face_F.bevel_deg", keep: &[], give: Some("splay_side_deg") },
    ],
};

const SIZES: Form = Form {
    id: "sizes",
    label: "From footprint and top",
    fields: &[
        length("footprint_width", "Footprint, wide", 18.0, 450.0)
            .help("Toe to toe on the floor, seen from the front.")
            .free(),
        length("footprint_depth", "Footprint, deep", 15.0, 380.0)
            .help("Toe to toe on the floor, seen from the side.")
            .free(),
        length("top_width", "Top, wide", 12.0, 300.0).help("The same two legs at the top."),
        length("top_depth", "Top, deep", 10.0, 250.0).help("The same two legs at the top."),
        SECTION,
        HEIGHT,
        ROLL,
    ],
    also: &[],
    gives: &["footprint_width", "footprint_depth", "top_width", "top_depth", "height"],
    off: &[
        Off { answer: "on_face_F.mitre_deg", keep: &[], give: Some("footprint_width") },
        Off { answer: "on_face_F.bevel_deg", keep: &[], give: Some("footprint_depth") },
    ],
};

const STRETCHER: Form = Form {
    id: "stretcher",
    label: "Stretcher",
    fields: &[
        FRONT,
        SIDE,
        SECTION,
        HEIGHT,
        ROLL,
        length("axis_spacing_front_at_top", "Legs apart, wide", 12.0, 300.0)
            .help("Middle to middle at the top, seen from the front."),
        length("axis_spacing_side_at_top", "Legs apart, deep", 9.0, 230.0)
            .help("Middle to middle at the top, seen from the side."),
        length("stretcher_height", "Stretcher's height", 7.0, 180.0)
            .help("Floor to the middle of the stretcher.")
            .or_zero()
            .free(),
        length("stretcher_width", "Stretcher, high", 2.0, 50.0).help("Its upright size."),
        length("stretcher_thickness", "Stretcher, thick", 0.75, 19.0).help("Its level size."),
        choice("which", "Which stretcher", "front")
            .of(&[option("front", "Front or back"), option("side", "At the sides")]),
    ],
    also: &[],
    gives: &[
        "splay_front_deg",
        "splay_side_deg",
        "stretcher_height",
        "axis_spacing_front_at_top",
        "axis_spacing_side_at_top",
    ],
    off: &[Off { answer: "shoulder_length_on_centre", keep: &[], give: Some("stretcher_height") }],
};

/// The leg, and from which sizes if not from its leans; or what is to be said instead.
fn read(form: &Form, inputs: &Inputs) -> Result<(Leg, Option<Sizes>), Outcome> {
    let (Some(section), Some(height)) = (inputs.length("section"), inputs.length("height")) else {
        return Err(missing(form, inputs));
    };
    let mut leg = Leg {
        front: Angle(0.0),
        side: Angle(0.0),
        section,
        height,
        roll: inputs.choice("roll").unwrap_or("front"),
    };
    if form.id != SIZES.id {
        let leans = (inputs.angle("splay_front_deg"), inputs.angle("splay_side_deg"));
        let (Some(front), Some(side)) = leans else {
            return Err(missing(form, inputs));
        };
        (leg.front, leg.side) = (front, side);
        return Ok((leg, None));
    }
    let Some(sizes) = read_sizes(inputs) else {
        return Err(missing(form, inputs));
    };
    leg.front = Sizes::lean(&sizes.wide(), height).map_err(Outcome::stop)?;
    leg.side = Sizes::lean(&sizes.deep(), height).map_err(Outcome::stop)?;
    Ok((leg, Some(sizes)))
}

impl Layout for TwoWaySplay {
    fn id(&self) -> &'static str {
        "two_way_splay"
    }
    fn question(&self) -> &'static str {
        "Legs that splay two ways"
    }
    fn search_words(&self) -> &'static str {
        "stool table bench compound rake stretcher rail"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[LEG, SIZES, STRETCHER];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let form = match inputs.form {
            "stretcher" => &STRETCHER,
            "sizes" => &SIZES,
            _ => &LEG,
        };
        let (leg, sizes) = match read(form, inputs) {
            Ok(read) => read,
            Err(outcome) => return outcome,
        };
        if form.id == STRETCHER.id {
            match read_stretcher(inputs) {
                Some(s) => stretcher::solve(leg, s, detail),
                None => missing(form, inputs),
            }
        } else {
            leg::solve(leg, sizes, detail)
        }
    }
}
