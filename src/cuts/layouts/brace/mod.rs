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

use super::{Answers, Declared, Detail, Outcome, Refused};
use crate::inputs::Inputs;
use offsquare_units::{Quantity, num};

/// The layout "brace".
pub static BRACE: Declared = Declared {
    id: "brace",
    question: "Brace across a frame",
    search_words: "diagonal gate door frame cross knee corner k chevron lap",
    forms: fields::FORMS,
    words: &[
        ("left_from_point", "left edge, from the point to shoulder"),
        ("left_from_edge_end", "left edge, from its end to shoulder"),
        ("right_from_point", "right edge, from the point to shoulder"),
        ("right_from_edge_end", "right edge, from its end to shoulder"),
        ("crossing_acute_deg", "crossing angle"),
    ],
    spelled: spelling::rewrite,
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let mut outcome = match inputs.form {
        "crossed" => crossed::solve(inputs, detail),
        "pair" => pair::solve(inputs, detail),
        "as_built" | "as_built_down" => as_built::solve(inputs, detail),
        "outside" => outside::solve(inputs, detail, single::solve),
        "crossed_outside" => outside::solve(inputs, detail, crossed::solve),
        "pair_outside" => outside::solve(inputs, detail, pair::solve),
        _ => single::solve(inputs, detail),
    }?;
    for solution in &mut outcome.solutions {
        diagonals(&mut solution.answers, inputs);
    }
    Ok(outcome)
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
