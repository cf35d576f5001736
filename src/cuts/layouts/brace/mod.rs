//! Brace in an opening: a diagonal strip between two rails and two stiles (GEOMETRY 2).
//!
//! Frame: the opening's lower left corner is the origin, rails along x, stiles along y. The brace runs
//! from lower left to upper right; looking up along it, edge B is the left one, edge A the right one.

mod apex;
mod as_built;
mod built_opening;
mod crossed;
mod fields;
mod given;
mod half;
mod landing;
mod lap;
mod outside;
mod pair;
mod picture;
mod single;
mod spelling;

use super::{Answers, Detail, Form, Layout, Outcome, Spelling, missing};
use crate::inputs::Inputs;
use offsquare_units::{Quantity, num};

/// The layout "brace".
pub struct Brace;

impl Layout for Brace {
    fn id(&self) -> &'static str {
        "brace"
    }
    fn question(&self) -> &'static str {
        "Brace across a frame"
    }
    fn search_words(&self) -> &'static str {
        "diagonal gate door frame cross knee corner k chevron lap"
    }
    fn forms(&self) -> &'static [Form] {
        fields::FORMS
    }
    fn spelled(&self, request: &mut Spelling) {
        spelling::rewrite(request);
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let (form, outcome) = match inputs.form {
            "crossed" => (&fields::CROSSED, crossed::solve(inputs, detail)),
            "pair" => (&fields::PAIR, pair::solve(inputs, detail)),
            "as_built" => (&fields::AS_BUILT, as_built::solve(inputs, detail)),
            "as_built_down" => (&fields::AS_BUILT_DOWN, as_built::solve(inputs, detail)),
            "outside" => (&fields::OUTSIDE, outside::solve(inputs, detail, single::solve)),
            "crossed_outside" => {
                (&fields::CROSSED_OUTSIDE, outside::solve(inputs, detail, crossed::solve))
            }
            "pair_outside" => (&fields::PAIR_OUTSIDE, outside::solve(inputs, detail, pair::solve)),
            _ => (&fields::SINGLE, single::solve(inputs, detail)),
        };
        let mut outcome = outcome.unwrap_or_else(|| missing(form, inputs));
        for solution in &mut outcome.solutions {
            diagonals(&mut solution.answers, inputs);
        }
        outcome
    }
}

/// What a tape checks the opening by: a rectangle's two diagonals are alike. An opening as built has its own.
fn diagonals(answers: &mut Answers, inputs: &Inputs) {
    let length = |key: &str| match answers.quantity(key) {
        Some(Quantity::Length(l)) => Some(l),
        _ => inputs.length(key),
    };
    if let (Some(w), Some(h)) = (length("opening_width"), length("opening_height"))
        && answers.at("diagonal_up").is_none()
    {
        let diagonal = num::hypot(w.0, h.0);
        answers.length("diagonal_up", diagonal).length("diagonal_down", diagonal);
    }
}
