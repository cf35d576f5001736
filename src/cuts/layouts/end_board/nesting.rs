//! Many end boards from one board: nested turned end for end, and as square blanks.
//!
//! All pieces stand in one band as high as a piece. Each height crosses a piece in one stretch, so a
//! neighbour is told by two chains: the left piece's right side and the right piece's left side.

use super::nest::{Nest, NestFigure};
use super::outline::EndBoard;
use super::{picture, pieces};
use crate::inputs::Inputs;
use crate::layouts::{Detail, Refused, Solution};
use crate::problem::Problem;
use offsquare_geometry::Point;
use offsquare_units::num::Gather;
use offsquare_units::{Length, Quantity, num, say};

/// Most pieces that are counted along one board.
const MOST: f64 = 1e6;

/// One side of a piece, from the band's bottom to its top.
type Chain = Vec<Point>;

/// Adds the counts; the problems are warnings, or stops in `Err`.
pub fn add(
    board: &EndBoard,
    level: bool,
    inputs: &Inputs,
    detail: Detail,
    solution: &mut Solution,
) -> Result<Vec<Problem>, Refused> {
    let (width, length) =
        (Length(inputs.need("board_width")?), Length(inputs.need("board_length")?));
    let kerf = inputs.inches("kerf").unwrap_or(0.125);
    let turned_first = inputs.choice("first") == Some("turned");
    let across = if level { board.sizes.height } else { board.bounding_width() };
    let mut problems = Vec::new();
    if width.0 < across * (1.0 - 1e-12) {
        let words = if level {
            "Grain level, the board must be at least as wide as the piece is high, {}."
        } else {
            "Grain upright, the board must be at least as wide as the piece, {}."
        };
        return Err(Problem::at_limit("board_width", words, Length(across)).into());
    }
    let extent = if level { board.bounding_width() } else { board.sizes.height };
    let blank_step = extent + kerf;
    let blanks = along(length.0, extent, blank_step, blank_step).ok_or_else(|| too_many(extent))?;
    let nest = if level {
        let (first, second) = steps(board, kerf, turned_first);
        along(length.0, extent, first, second).ok_or_else(|| too_many(extent))?
    } else {
        blanks
    };
    if nest.fit < 1.0 {
        problems.push(
            Problem::at_limit(
                "board_length",
                "None fits: the board must be at least {} long.",
                Length(extent),
            )
            .as_warning(),
        );
    }
    let jigsaw = level && board.sizes.shoulder > 0.0;
    solution.way = "nested";
    solution
        .answers
        .count("fit_n", nest.fit)
        .length("first_step", nest.first_step)
        .length("second_step", nest.second_step)
        .length("used_length", nest.used)
        .length(
            "left_over_length",
            if nest.fit < 1.0 { length.0 } else { (length.0 - nest.used).max(0.0) },
        )
        .count("blank_fit_n", blanks.fit)
        .length("blank_step", blank_step)
        .length("blank_used_length", blanks.used);
    // With a shoulder the miter saw crosscuts square blanks: that count leads.
    let mut counts = if jigsaw {
        vec!["blank_fit_n", "blank_step"]
    } else if level {
        vec!["fit_n", "first_step"]
    } else {
        vec!["fit_n", "blank_step"]
    };
    solution.headline.append(&mut counts);
    solution.title = match (level, jigsaw) {
        (true, true) => "Square blanks; nested by jigsaw",
        (true, false) => "Nested, every other one turned",
        (false, _) => "Grain upright, square blanks",
    };
    if detail == Detail::Full {
        tell(board, level, jigsaw, kerf, &nest, &blanks, solution);
        let shown =
            NestFigure { board_width: width.0, board_length: length.0, level, turned_first };
        solution.figure = picture::of_nest(board, &nest, &shown);
        let count = if jigsaw { blanks.fit } else { nest.fit };
        let mut part = pieces::end(board, level, inputs.length("thickness"), count as u32);
        if jigsaw {
            part.name = "End board, from a square blank".into();
        }
        solution.parts.push(part);
    }
    Ok(problems)
}

fn tell(
    board: &EndBoard,
    level: bool,
    jigsaw: bool,
    kerf: f64,
    nest: &Nest,
    blanks: &Nest,
    solution: &mut Solution,
) {
    let d = &mut solution.derivation;
    let count = |n: f64| Quantity::Count(n);
    if !level {
        d.push(say!(
            "Each blank takes the height and one kerf, {}; the last needs no kerf: {} fit.",
            Length(blanks.first_step),
            count(blanks.fit)
        ));
        return;
    }
    d.push(say!(
        "Square blanks: each takes the greatest width and one kerf, {}; {} fit.",
        Length(blanks.first_step),
        count(blanks.fit)
    ));
    d.push(say!(
        "{}the second starts {} after the first, the third {} after the second, with the kerf of \
         {} between them; {} fit in {}.",
        if jigsaw { "Nested by jigsaw: " } else { "Nested: " },
        Length(nest.first_step),
        Length(nest.second_step),
        Length(kerf),
        count(nest.fit),
        Length(nest.used)
    ));
    if jigsaw {
        solution.notes.push(say!(
            "With a shoulder no straight cut across the board parts nested pieces. The count for \
             the miter saw is square blanks, {}; nested, for a jigsaw, {}.",
            count(blanks.fit),
            count(nest.fit)
        ));
        if board.sizes.shoulder > board.sizes.height / 2.0 {
            solution.notes.push(say!(
                "The shoulder is over half the height: turning every other piece gains nothing."
            ));
        }
    }
    if (nest.first_step - nest.second_step).abs() > 1e-9 * nest.first_step.abs() {
        solution.notes.push(say!(
            "The insets differ, so the steps alternate; try the other way up first too."
        ));
    }
}

fn too_many(extent: f64) -> Problem {
    let limit = Length(extent * MOST);
    Problem::at_limit(
        "board_length",
        "More than a million pieces are not counted: give a board shorter than {}.",
        limit,
    )
}

/// How many pieces of one extent fit along a board when the steps alternate; none past [`MOST`].
///
/// Example: extent 12, steps 8 and 8, board 96: the first takes 12, each further one 8, so 11 fit.
pub fn along(length: f64, extent: f64, first: f64, second: f64) -> Option<Nest> {
    // An exact fit counts in spite of binary fractions.
    let room = length * (1.0 + 1e-12) - extent;
    let none = Nest { fit: 0.0, first_step: first, second_step: second, used: 0.0 };
    if room < 0.0 {
        return Some(none);
    }
    let pair = first + second;
    // Two steps carry at least the area of two pieces along, so `pair` is never 0.
    let pairs = room / pair;
    if !pairs.is_finite() || pairs > MOST / 2.0 {
        return None;
    }
    let pairs = num::floor(pairs);
    let mut fit = 1.0 + 2.0 * pairs;
    let mut used = extent + pairs * pair;
    if pairs * pair + first <= room {
        fit += 1.0;
        used += first;
    }
    Some(Nest { fit, used, ..none })
}

/// First and second step of pieces laid alternately base down and turned half round, `kerf` apart.
pub fn steps(board: &EndBoard, kerf: f64, turned_first: bool) -> (f64, f64) {
    let upright_to_turned = step(&right_chain(board), &turned_left_chain(board), kerf);
    let turned_to_upright = step(&turned_right_chain(board), &left_chain(board), kerf);
    if turned_first {
        (turned_to_upright, upright_to_turned)
    } else {
        (upright_to_turned, turned_to_upright)
    }
}

/// Right side, measured from the piece's left bound.
fn right_chain(board: &EndBoard) -> Chain {
    let (least, _) = board.extent();
    let s = &board.sizes;
    chain(s.shoulder, s.height, s.base - least, s.base - s.right - least)
}
fn left_chain(board: &EndBoard) -> Chain {
    let (least, _) = board.extent();
    let s = &board.sizes;
    chain(s.shoulder, s.height, -least, s.left - least)
}

fn chain(shoulder: f64, height: f64, low: f64, high: f64) -> Chain {
    let mut out = vec![Point::new(low, 0.0)];
    if shoulder > 0.0 {
        out.push(Point::new(low, shoulder));
    }
    out.push(Point::new(high, height));
    out
}

/// Half a turn brings the right side to the left.
fn turned(board: &EndBoard, chain: Chain) -> Chain {
    let (width, height) = (board.bounding_width(), board.sizes.height);
    chain.into_iter().rev().map(|p| Point::new(width - p.x, height - p.y)).gather()
}
fn turned_left_chain(board: &EndBoard) -> Chain {
    turned(board, right_chain(board))
}
fn turned_right_chain(board: &EndBoard) -> Chain {
    turned(board, left_chain(board))
}

/// Least shift of the right piece at which the two are `kerf` apart.
///
/// Points p of the right side and q of the left side, d = q.y - p.y with |d| <= kerf, ask for a shift
/// of at least p.x - q.x + √(kerf² - d²). This is concave along a pair of edges, and along parallel
/// ones it slides to a corner, so its greatest value stands at a corner of one piece and a corner of
/// the other, or the foot of the perpendicular on one of its edges.
///
/// Example: parallel sides leaning 45°, kerf 1/8: the shift takes 1/8 × √2 along the band.
pub fn step(right: &Chain, left: &Chain, kerf: f64) -> f64 {
    let mirrored = |c: &Chain| c.iter().map(|p| Point::new(-p.x, p.y)).collect::<Chain>();
    // The other way round is the mirror image: corners of the left side against edges of the right.
    reach(right, left, kerf).max(reach(&mirrored(left), &mirrored(right), kerf))
}

/// The same for corners of `right` against edges of `left` only.
fn reach(right: &Chain, left: &Chain, kerf: f64) -> f64 {
    let mut most = f64::NEG_INFINITY;
    for p in right {
        for edge in left.windows(2) {
            let (a, b) = (edge[0], edge[1]);
            let (low, high) = (a.y.max(p.y - kerf), b.y.min(p.y + kerf));
            if low > high {
                continue;
            }
            let along = b - a;
            let lean = along.unit().map_or(0.0, |u| u.x);
            // Where √(kerf² - (y - p.y)²) less the edge's x is greatest: kerf off at right angles.
            let y = (p.y - kerf * lean).clamp(low, high);
            let d = y - p.y;
            let share = if along.y > 0.0 { ((y - a.y) / along.y).clamp(0.0, 1.0) } else { 0.0 };
            let q = a.toward(b, share).x;
            let apart = num::sqrt(((kerf - d) * (kerf + d)).max(0.0));
            most = most.max(p.x - q + apart);
        }
    }
    most
}
