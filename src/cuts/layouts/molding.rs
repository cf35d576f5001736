//! Wall-and-ceiling molding lying flat: the mathematics of a sloped box, for the JSON door only.

use super::field::angle;
use super::{Answers, Caution, Declared, Detail, Form, Off, Outcome, Refused, Solution};
use crate::inputs::Inputs;
use offsquare_units::{Angle, num, say};

const FORM: Form = Form {
    id: "flat",
    label: "Lying flat",
    fields: &[
        angle("spring_deg", "Spring angle", (0.0, 90.0), 38.0)
            .help("Between the molding's back and the wall."),
        angle("wall_corner_deg", "Corner of the walls", (1.0, 359.0), 90.0)
            .help("Inside angle; an outside corner is more than 180."),
    ],
    also: &[],
    gives: &["wall_corner_deg", "spring_deg"],
    off: &[
        Off { answer: "mitre_deg", keep: &[], give: None },
        Off { answer: "bevel_deg", keep: &[], give: None },
    ],
};

/// The layout "molding".
pub static MOLDING: Declared = Declared {
    id: "molding",
    question: "Molding between wall and ceiling",
    search_words: "crown cove ceiling wall",
    forms: &[FORM],
    has_screen: false,
    solve,
    ..Declared::PLAIN
};

/// tan m = sin(spring) / tan(corner/2), sin bevel = cos(spring) cos(corner/2).
/// Example: 38 at 90 gives 31.619 and 33.863 (REFERENCES: operator's manual no. LS1017, 31.6 / 33.9).
fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (spring, half) = (inputs.need("spring_deg")?, inputs.need("wall_corner_deg")? / 2.0);
    // Written with sine and cosine so that a straight wall (180) is simply square.
    let rise = (num::sin_deg(spring) * num::cos_deg(half)).abs();
    let miter = num::atan2_deg(rise, num::sin_deg(half).abs());
    let bevel = num::asin_deg((num::cos_deg(spring) * num::cos_deg(half)).abs());
    let mut answers = Answers::new();
    answers
        .angle("mitre_deg", miter)
        .angle("bevel_deg", bevel)
        .angle("dihedral_deg", 180.0 - 2.0 * bevel)
        .angle("held_at_spring_mitre_deg", (90.0 - half).abs());
    let mut solution = Solution {
        way: "flat",
        title: "Lying flat on the saw",
        answers,
        headline: vec!["mitre_deg", "bevel_deg"],
        ..Solution::default()
    };
    if detail == Detail::Full {
        solution.derivation = vec![
            say!("Half the corner: {}.", Angle(half)),
            say!("tan(miter) = sin(spring) ÷ tan(half the corner): {}.", Angle(miter)),
            say!("sin(bevel) = cos(spring) × cos(half the corner): {}.", Angle(bevel)),
        ];
        solution.cautions = vec![Caution::CompoundCut];
    }
    Ok(solution.into())
}
