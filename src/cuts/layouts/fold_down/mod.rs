//! A panel that folds down on a cord or chain (GEOMETRY 9).
//!
//! Side view: x forward, y up, the back board's front face at x = 0. Opening 0 is shut (upright), 90
//! level, 180 hanging.

mod answers;
mod panel;
mod picture;

use super::field::{angle, count, length, maybe_length, standing_length};
use super::{Detail, Form, Layout, Off, Outcome, missing};
use crate::inputs::{Field, Inputs, Kind};
use crate::problem::Problem;
use offsquare_units::{Length, say};
use panel::{BY_ANGLE, Panel};

/// The layout "fold_down".
pub struct FoldDown;

const HINGE_X: Field = length("hinge_x", "Hinge, forward", 0.75, 19.0)
    .help("Pin in front of the back board's face.")
    .either_side();
const HINGE_Y: Field =
    length("hinge_y", "Hinge, up", 6.0, 150.0).help("Height of the pin.").either_side();
const INNER: Field = length("inner_face_from_axis", "Inner face from the pin", 0.0, 0.0)
    .help("Forward, panel shut; negative if the pin is in front.")
    .either_side();
const LOWER: Field = length("lower_edge_from_axis", "Lower edge from the pin", 0.0, 0.0)
    .help("Up, panel shut.")
    .either_side();
const PANEL_HEIGHT: Field = length("panel_height", "Panel height", 16.0, 400.0);
const PANEL: Field = length("panel_thickness", "Panel thickness", 0.75, 19.0);
const BACK: Field = length("back_thickness", "Back thickness", 0.75, 19.0);
const HOLE: Field = length("panel_hole_up_panel", "Hole in the panel", 13.0, 330.0)
    .help("Up from the panel's lower edge.")
    .or_zero();
const BACK_HOLE: Field =
    length("back_hole_height", "Hole in the back", 20.0, 500.0).help("Its height.").either_side();
const SIDEWAYS: Field = standing_length("sideways", "Sideways", 0.0, 0.0)
    .help("How far the two holes are apart along the hinge.")
    .either_side()
    .empty();
const KNOTS: Field = maybe_length("knot_allowance", "For knots")
    .help("Of each cord, for both knots together.")
    .or_zero()
    .start(6.0, 150.0);
const LOAD: Field = Field {
    key: "load_kg",
    label: "Load",
    help: "On the open panel, panel included: 10 lb or 5 kg. A bare number is pounds beside inches, kilograms beside millimeters.",
    kind: Kind::Mass(1e6),
    ..Field::PLAIN
};
const LOAD_AT: Field = maybe_length("load_up_panel", "Load stands")
    .help("Up the panel from its lower edge; the middle unless given.")
    .or_zero();
const CORDS: Field =
    count("cords", "Cords", (1, 20), 2.0).help("That share the pull.").standing(2.0).empty();
const LINK: Field = maybe_length("chain_link", "Chain link")
    .help("Inside length of one link, if it hangs on a chain.");
const NEXT: Field = maybe_length("next_hinge_down", "Next panel below")
    .help("From this pin down to the next like panel's pin.");

const CORD: Form = Form {
    id: "cord",
    label: "Cord for an angle",
    fields: &[
        angle("opening_deg", "Opens by", (0.0, 180.0), 90.0)
            .help("0 is shut, 90 level, 180 hanging.")
            .free(),
        HINGE_X,
        HINGE_Y,
        INNER,
        LOWER,
        PANEL_HEIGHT,
        PANEL,
        BACK,
        HOLE,
        BACK_HOLE,
        SIDEWAYS,
        KNOTS,
        LINK,
        NEXT,
        LOAD,
        LOAD_AT,
        CORDS,
    ],
    also: &[],
    gives: &["panel_hole_up_panel", "back_hole_height", "opening_deg"],
    off: &[Off { answer: "cord_between_faces", keep: &[], give: Some("opening_deg") }],
};

const ANGLE: Form = Form {
    id: BY_ANGLE,
    label: "Angle for a cord",
    fields: &[
        length("cord_between_faces", "Cord", 17.0, 430.0)
            .help("Straight, from face to face.")
            .free(),
        HINGE_X,
        HINGE_Y,
        INNER,
        LOWER,
        PANEL_HEIGHT,
        PANEL,
        BACK,
        HOLE,
        BACK_HOLE,
        SIDEWAYS,
        KNOTS,
        LINK,
        NEXT,
        LOAD,
        LOAD_AT,
        CORDS,
    ],
    also: &[],
    gives: &["cord_between_faces", "panel_hole_up_panel", "back_hole_height"],
    off: &[Off { answer: "opening_deg", keep: &[], give: Some("cord_between_faces") }],
};

impl Layout for FoldDown {
    fn id(&self) -> &'static str {
        "fold_down"
    }
    fn question(&self) -> &'static str {
        "Panel that folds down on a cord"
    }
    fn search_words(&self) -> &'static str {
        "desk flap chain drop front shelf hinge rope stay"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[CORD, ANGLE];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let form = if inputs.form == BY_ANGLE { &ANGLE } else { &CORD };
        let Some(panel) = Panel::read(inputs) else {
            return missing(form, inputs);
        };
        if panel.hole.y - panel.foot.y > panel.height {
            let limit = Length(panel.height);
            return Outcome::stop(Problem::at_limit(
                "panel_hole_up_panel",
                "The hole must be in the panel, at most {} up.",
                limit,
            ));
        }
        let answer = |opening: f64, all: Option<&[f64]>, out: &mut Outcome| {
            let solution = answers::solution(&panel, inputs, opening, all, detail, out);
            out.solutions.push(solution);
        };
        let mut out = Outcome::default();
        if form.id == CORD.id {
            let Some(opening) = inputs.angle("opening_deg") else {
                return missing(form, inputs);
            };
            answer(opening.0, None, &mut out);
            return out;
        }
        let Some(cord) = inputs.length("cord_between_faces") else {
            return missing(form, inputs);
        };
        if panel.is_fixed() {
            return Outcome::stop(Problem::stop(
                "panel_hole_up_panel",
                say!(
                    "A hole sits on the pin: the cord is as long at every opening, and holds \
                     nothing."
                ),
            ));
        }
        let all = panel.openings(cord.0);
        if all.is_empty() {
            let (lo, hi) = panel.reach();
            let limit = Length(if cord.0 > hi { hi } else { lo });
            return Outcome::stop(
                Problem::stop(
                    "cord_between_faces",
                    say!(
                        "No opening gives this cord: between shut and hanging it is {} to {} long.",
                        Length(lo),
                        Length(hi)
                    ),
                )
                .with_limit(limit),
            );
        }
        for opening in &all {
            answer(*opening, Some(&all), &mut out);
        }
        out
    }
}
