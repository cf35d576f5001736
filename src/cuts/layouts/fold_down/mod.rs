//! A panel that folds down on a cord or chain (GEOMETRY 9).
//!
//! Side view: x forward, y up, the back board's front face at x = 0. Opening 0 is shut (upright), 90
//! level, 180 hanging.

mod answers;
mod panel;
mod picture;

use super::field::{angle, count, join, length, maybe_length, standing_length};
use super::{Declared, Detail, Form, Off, Outcome, Refused};
use crate::inputs::{Field, Inputs, Kind};
use crate::problem::Problem;
use offsquare_units::{Length, say};
use panel::{BY_ANGLE, Panel};

/// What both forms ask besides.
const PANEL_FIELDS: &[Field] = &[
    length("hinge_x", "Hinge, forward", 0.75, 19.0)
        .help("Pin in front of the back board's face.")
        .either_side(),
    length("hinge_y", "Hinge, up", 6.0, 150.0).help("Height of the pin.").either_side(),
    length("inner_face_from_axis", "Inner face from the pin", 0.0, 0.0)
        .help("Forward, panel shut; negative if the pin is in front.")
        .either_side(),
    length("lower_edge_from_axis", "Lower edge from the pin", 0.0, 0.0)
        .help("Up, panel shut.")
        .either_side(),
    length("panel_height", "Panel height", 16.0, 400.0),
    length("panel_thickness", "Panel thickness", 0.75, 19.0),
    length("back_thickness", "Back thickness", 0.75, 19.0),
    length("panel_hole_up_panel", "Hole in the panel", 13.0, 330.0)
        .help("Up from the panel's lower edge.")
        .or_zero(),
    length("back_hole_height", "Hole in the back", 20.0, 500.0).help("Its height.").either_side(),
    standing_length("sideways", "Sideways", 0.0, 0.0)
        .help("How far the two holes are apart along the hinge.")
        .either_side()
        .empty(),
    maybe_length("knot_allowance", "For knots")
        .help("Of each cord, for both knots together.")
        .or_zero()
        .start(6.0, 150.0),
    maybe_length("chain_link", "Chain link")
        .help("Inside length of one link, if it hangs on a chain."),
    maybe_length("next_hinge_down", "Next panel below")
        .help("From this pin down to the next like panel's pin."),
    Field {
        key: "load_kg",
        label: "Load",
        help: "On the open panel, panel included: 10 lb or 5 kg. A bare number is pounds beside inches, kilograms beside millimeters.",
        kind: Kind::Mass(1e6),
        ..Field::PLAIN
    },
    maybe_length("load_up_panel", "Load stands")
        .help("Up the panel from its lower edge; the middle unless given.")
        .or_zero(),
    count("cords", "Cords", (1, 20), 2.0).help("That share the pull.").standing(2.0).empty(),
];

const CORD: Form = Form {
    id: "cord",
    label: "Cord for an angle",
    fields: &join::<17>(&[
        &[angle("opening_deg", "Opens by", (0.0, 180.0), 90.0)
            .help("0 is shut, 90 level, 180 hanging.")
            .free()],
        PANEL_FIELDS,
    ]),
    also: &[],
    gives: &["panel_hole_up_panel", "back_hole_height", "opening_deg"],
    off: &[Off { answer: "cord_between_faces", keep: &[], give: Some("opening_deg") }],
};

const ANGLE: Form = Form {
    id: BY_ANGLE,
    label: "Angle for a cord",
    fields: &join::<17>(&[
        &[length("cord_between_faces", "Cord", 17.0, 430.0)
            .help("Straight, from face to face.")
            .free()],
        PANEL_FIELDS,
    ]),
    also: &[],
    gives: &["cord_between_faces", "panel_hole_up_panel", "back_hole_height"],
    off: &[Off { answer: "opening_deg", keep: &[], give: Some("cord_between_faces") }],
};

/// The layout "fold_down".
pub static FOLD_DOWN: Declared = Declared {
    id: "fold_down",
    question: "Panel that folds down on a cord",
    search_words: "desk flap chain drop front shelf hinge rope stay",
    forms: &[CORD, ANGLE],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let panel = Panel::read(inputs)?;
    if panel.hole.y - panel.foot.y > panel.height {
        let words = "The hole must be in the panel, at most {} up.";
        let limit = Length(panel.height);
        return Err(Problem::at_limit("panel_hole_up_panel", words, limit).into());
    }
    let answer = |opening: f64, all: Option<&[f64]>, out: &mut Outcome| {
        let solution = answers::solution(&panel, inputs, opening, all, detail, out);
        out.solutions.push(solution);
    };
    let mut out = Outcome::default();
    if inputs.form != BY_ANGLE {
        answer(inputs.need("opening_deg")?, None, &mut out);
        return Ok(out);
    }
    let cord = inputs.need("cord_between_faces")?;
    if panel.is_fixed() {
        let text = say!(
            "A hole sits on the pin: the cord is as long at every opening, and holds nothing."
        );
        return Err(Problem::stop("panel_hole_up_panel", text).into());
    }
    let all = panel.openings(cord);
    if all.is_empty() {
        let (lo, hi) = panel.reach();
        let limit = Length(if cord > hi { hi } else { lo });
        let text = say!(
            "No opening gives this cord: between shut and hanging it is {} to {} long.",
            Length(lo),
            Length(hi)
        );
        return Err(Problem::stop("cord_between_faces", text).with_limit(limit).into());
    }
    for opening in &all {
        answer(*opening, Some(&all), &mut out);
    }
    Ok(out)
}
