//! End boards: trapezoids, gables and house-shaped boards, alone, nested along a board, or as the
//! ends of a box (GEOMETRY 5).
//!
//! Frame: the base lies on y = 0 from the origin; the sides stand upright to the shoulder, then slope
//! to the top.

mod boxed;
mod forms;
mod nest;
mod nesting;
mod outline;
mod picture;
mod pieces;
mod sizes;

use super::{Caution, Declared, Detail, Outcome, Refused, Solution};
use crate::inputs::Inputs;
use crate::problem::Problem;
use forms::{BOX, NESTED, SINGLE};
use offsquare_units::{Angle, Length, say};
use outline::EndBoard;

/// The layout "end_board".
pub static END_BOARD: Declared = Declared {
    id: "end_board",
    question: "End board with leaning sides",
    search_words: "trapezoid gable house shoulder trug planter birdhouse box end nest taper",
    forms: &[SINGLE, NESTED, BOX],
    words: &[("bounding_width", "greatest width")],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (all, problems) = sizes::complete(inputs).map_err(|why| undetermined(why, inputs))?;
    let mut out = Outcome { solutions: Vec::new(), problems };
    let mut refused = None;
    for sizes in all {
        match board(sizes, inputs, detail) {
            Ok((solution, more)) => {
                out.solutions.push(solution);
                out.problems.extend(more);
            }
            Err(why) => {
                refused.get_or_insert(END_BOARD.problems(why, inputs));
            }
        }
    }
    // Of several boards those that cannot be made fall away.
    if out.solutions.is_empty() {
        out.problems.extend(refused.into_iter().flatten());
    }
    Ok(out)
}

/// One board, with the warnings that stand beside it; or why it cannot be made.
fn board(
    sizes: sizes::Sizes,
    inputs: &Inputs,
    detail: Detail,
) -> Result<(Solution, Vec<Problem>), Refused> {
    let board = EndBoard::of(sizes, inputs)?;
    let level = inputs.choice("grain") != Some("upright");
    let mut solution = Solution {
        way: "board",
        title: if level { "Grain level" } else { "Grain upright" },
        answers: board.answers(),
        headline: headline(&board, level),
        ..Solution::default()
    };
    let problems = match inputs.form {
        "nested" => nesting::add(&board, level, inputs, detail, &mut solution)?,
        "box" => boxed::add(&board, level, inputs, detail, &mut solution)?,
        _ => {
            if detail == Detail::Full {
                solution.figure = picture::of_board(&board, inputs);
                solution.parts.push(pieces::end(&board, level, inputs.length("thickness"), 1));
            }
            Vec::new()
        }
    };
    if detail == Detail::Full {
        solution.derivation.splice(0..0, derivation(&board));
        solution.notes.extend(notes(&board, level));
        solution.cautions.push(Caution::EndBoard);
    }
    Ok((solution, problems))
}

/// Where no size is missing that each board needs, too few were given of the others.
fn undetermined(why: Refused, inputs: &Inputs) -> Refused {
    let problems = END_BOARD.problems(why, inputs);
    if !problems.is_empty() {
        return Refused::For(problems);
    }
    let text = say!("These sizes leave the board open: give base, top and height, or insets.");
    Problem::stop("", text).into()
}

fn headline(board: &EndBoard, level: bool) -> Vec<&'static str> {
    let s = &board.sizes;
    let mut out = match level {
        true => vec!["left_reading_deg", "left_tape_mark"],
        false => vec!["left_edge_from_upright_reading_deg", "left_edge_from_upright_tape_mark"],
    };
    if s.left.abs() != s.right.abs() {
        out.extend(match level {
            true => ["right_reading_deg", "right_tape_mark"],
            false => ["right_edge_from_upright_reading_deg", "right_edge_from_upright_tape_mark"],
        });
    }
    out.push("left_slope_length");
    out
}

fn derivation(board: &EndBoard) -> Vec<offsquare_units::Text> {
    let s = &board.sizes;
    let mut out = vec![
        say!(
            "Base {} less top {} leaves {} for the two insets: left {}, right {}.",
            Length(s.base),
            Length(s.top),
            Length(s.base - s.top),
            Length(s.left),
            Length(s.right)
        ),
        say!("The slope rises {}, from the shoulder to the top.", Length(s.rise())),
        say!(
            "Left: tan(reading) = inset \u{00f7} rise, so the reading off square is {} with the \
             grain level, and 90° less that, {}, with the grain upright.",
            Angle(board.left_reading()),
            Angle(90.0 - board.left_reading())
        ),
        say!(
            "Left slope: \u{221a}(inset\u{00b2} + rise\u{00b2}) = {}.",
            Length(board.left_slope())
        ),
    ];
    if s.left.abs() != s.right.abs() {
        out.push(say!(
            "Right, in the same way: reading {}, slope {}.",
            Angle(board.right_reading()),
            Length(board.right_slope())
        ));
    }
    out
}

fn notes(board: &EndBoard, level: bool) -> Vec<offsquare_units::Text> {
    let s = &board.sizes;
    let mut out = Vec::new();
    if level {
        out.push(say!(
            "Grain level: the board must be at least {} wide. The readings are for the board's \
             long edges along the fence.",
            Length(s.height)
        ));
    } else {
        out.push(say!(
            "Grain upright: the board must be at least {} wide. Crosscut blanks {} long, then cut \
             the slopes. Nothing nests.",
            Length(board.bounding_width()),
            Length(s.height)
        ));
    }
    if s.shoulder > 0.0 && (s.left < 0.0 || s.right < 0.0) {
        out.push(say!(
            "A side that flares out above its shoulder has an inside corner there: jigsaw, not \
             miter saw."
        ));
    }
    out
}
