//! Legs splayed two ways, and the stretchers between them (GEOMETRY 4).
//!
//! Frame: x to the right, y to the back, z up; the leg at the right front, floor z = 0.

mod leg;
mod picture;
mod sizes;
mod stretcher;

use super::field::{angle, choice, length, option};
use super::{Declared, Detail, Form, Off, Outcome, Refused};
use crate::inputs::{Field, Inputs};
use offsquare_units::{Angle, Length};
use sizes::{Leg, Sizes, read_sizes, read_stretcher};

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

/// The leg, and from which sizes if not from its leans.
fn read(inputs: &Inputs) -> Result<(Leg, Option<Sizes>), Refused> {
    let (section, height) = (Length(inputs.need("section")?), Length(inputs.need("height")?));
    let mut leg = Leg {
        front: Angle(0.0),
        side: Angle(0.0),
        section,
        height,
        roll: inputs.choice("roll").unwrap_or("front"),
    };
    if inputs.form != SIZES.id {
        leg.front = Angle(inputs.need("splay_front_deg")?);
        leg.side = Angle(inputs.need("splay_side_deg")?);
        return Ok((leg, None));
    }
    let sizes = read_sizes(inputs)?;
    leg.front = Sizes::lean(&sizes.wide(), height)?;
    leg.side = Sizes::lean(&sizes.deep(), height)?;
    Ok((leg, Some(sizes)))
}

/// The layout "two_way_splay".
pub static TWO_WAY_SPLAY: Declared = Declared {
    id: "two_way_splay",
    question: "Legs that splay two ways",
    search_words: "stool table bench compound rake stretcher rail",
    forms: &[LEG, SIZES, STRETCHER],
    words: &[
        ("on_face_F", "on the front face"),
        ("on_face_S", "on the side face"),
        ("toe_out_x", "toe out, seen from the front"),
        ("toe_out_y", "toe out, seen from the side"),
        ("resultant_deg", "resultant splay"),
    ],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (leg, sizes) = read(inputs)?;
    Ok(if inputs.form == STRETCHER.id {
        stretcher::solve(leg, read_stretcher(inputs)?, detail)
    } else {
        leg::solve(leg, sizes, detail)
    })
}
