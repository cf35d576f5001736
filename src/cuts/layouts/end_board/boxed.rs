//! The box between two such ends: side boards on the ends' edges, a floor between, a divider.

use super::outline::{EndBoard, Inside, interior, points};
use super::{picture, pieces};
use crate::inputs::Inputs;
use crate::layouts::{Answers, Detail, Refused, Solution};
use crate::parts::{Cut, CutName, End, Part, Side};
use crate::problem::Problem;
use offsquare_geometry::{Point, Polygon};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, num, say};

/// Adds the parts between the ends. Example: ends 3/4 thick, box 24 long: floor 22 1/2 long.
pub fn add(
    board: &EndBoard,
    level: bool,
    inputs: &Inputs,
    detail: Detail,
    solution: &mut Solution,
) -> Result<Vec<Problem>, Refused> {
    let (thick, length) =
        (Length(inputs.need("end_thickness")?), Length(inputs.need("box_length")?));
    let inside_length = length.0 - 2.0 * thick.0;
    let floor_below = inputs.inches("floor_height").unwrap_or(0.0);
    let floor_thick = inputs.length("floor_thickness").unwrap_or(thick);
    let floor_above = floor_below + floor_thick.0;
    let divider_top = inputs.inches("divider_height");
    let side_thick = inputs.length("side_thickness");
    check(board, thick, length, floor_below, floor_thick, divider_top)?;
    let s = &board.sizes;
    let divider = divider_top.map(|top| between(board, floor_above, top));
    let low = board.sides_at(floor_below);
    let high = board.sides_at(floor_above);
    let bevel = |from: f64, to: f64| num::atan2_deg((to - from).abs(), floor_thick.0);
    let (left_bevel, right_bevel) = (bevel(low.0, high.0), bevel(low.1, high.1));
    solution.way = "box";
    let a = &mut solution.answers;
    a.group("left_side", side(length.0, board.left_slope(), s.shoulder, board.left_reading()))
        .group("right_side", side(length.0, board.right_slope(), s.shoulder, board.right_reading()))
        .length("floor_length", inside_length)
        .length("floor_width_below", low.1 - low.0)
        .length("floor_width_above", high.1 - high.0)
        .angle("floor_left_bevel_deg", left_bevel)
        .angle("floor_right_bevel_deg", right_bevel);
    if let Some(outline) = &divider {
        let mut d = Answers::new();
        d.put("corners", points(outline))
            .area("face_area", Polygon(outline.clone()).area().0)
            .angles("interior_deg", interior(outline));
        a.group("divider", d);
    }
    solution.headline.extend([
        "floor_length",
        "floor_width_below",
        "floor_width_above",
        "left_side.slope_width",
    ]);
    if detail == Detail::Full {
        solution.parts.push(pieces::end(board, level, Some(thick), 2));
        side_parts(board, length, side_thick, solution);
        solution.parts.push(floor(
            inside_length,
            low,
            high,
            floor_thick,
            (left_bevel, right_bevel),
        ));
        if let Some(outline) = &divider {
            solution.parts.push(divider_part(outline, thick));
        }
        solution.derivation.extend([
            say!(
                "The sides lie on the ends' edges and run the whole length, {}; each is as wide as \
                 its edge, ripped at the slope's reading.",
                length
            ),
            say!(
                "Floor between the ends: {} less two ends of {} = {}.",
                length,
                thick,
                Length(inside_length)
            ),
            say!(
                "Floor width: the outline is {} wide at {} and {} at {} above the base.",
                Length(low.1 - low.0),
                Length(floor_below),
                Length(high.1 - high.0),
                Length(floor_above)
            ),
        ]);
        if floor_below < s.shoulder && floor_above > s.shoulder {
            solution.notes.push(say!(
                "The floor crosses the shoulder: its straight bevel leaves a small hollow there. A \
                 little lower or higher it lies tight."
            ));
        }
        let inside = Inside { floor_below, floor_above, divider };
        solution.figure = picture::of_box(board, inputs, &inside);
    }
    Ok(Vec::new())
}

fn check(
    board: &EndBoard,
    thick: Length,
    length: Length,
    floor_below: f64,
    floor_thick: Length,
    divider_top: Option<f64>,
) -> Result<(), Refused> {
    let mut problems = Vec::new();
    let height = Length(board.sizes.height);
    let ends = thick * 2.0;
    if length <= ends {
        problems.push(Problem::at_limit(
            "box_length",
            "The box must be longer than its two ends are thick, {}.",
            ends,
        ));
    }
    let most = height - floor_thick;
    if floor_below > most.0 {
        let (field, limit) =
            if most.0 >= 0.0 { ("floor_height", most) } else { ("floor_thickness", height) };
        problems.push(Problem::at_limit(
            field,
            "The floor must lie below the top of the ends: at most {}.",
            limit,
        ));
    } else if let Some(top) = divider_top {
        let floor_top = Length(floor_below) + floor_thick;
        if top <= floor_top.0 {
            problems.push(Problem::at_limit(
                "divider_height",
                "The divider must end above the floor, {} above the base.",
                floor_top,
            ));
        } else if top > height.0 {
            problems.push(Problem::at_limit(
                "divider_height",
                "The divider cannot be higher than the ends, {}.",
                height,
            ));
        }
    }
    Refused::if_any(problems)
}

fn side(length: f64, slope: f64, upright: f64, rip: f64) -> Answers {
    let mut a = Answers::new();
    a.length("length", length)
        .length("slope_width", slope)
        .maybe_length("upright_width", (upright > 0.0).then_some(upright))
        .angle("rip_bevel_deg", rip);
    a
}

/// The outline between two heights, counter-clockwise from the lower left.
fn between(board: &EndBoard, low: f64, high: f64) -> Vec<Point> {
    let shoulder = board.sizes.shoulder;
    let bent = low < shoulder && shoulder < high;
    let mut heights = vec![low];
    if bent {
        heights.push(shoulder);
    }
    heights.push(high);
    let mut out: Vec<Point> = vec![Point::new(board.sides_at(low).0, low)];
    out.extend(heights.iter().map(|y| Point::new(board.sides_at(*y).1, *y)));
    out.extend(heights.iter().skip(1).rev().map(|y| Point::new(board.sides_at(*y).0, *y)));
    out.dedup();
    out
}

/// A board ripped along both long edges: square ends, `wide` before that.
fn ripped(
    name: &'static str,
    length: f64,
    wide: f64,
    away: Option<Length>,
    rips: [(&'static str, f64, Side, Option<&'static str>); 2],
) -> Part {
    let mut part = Part::square(name, length, wide, away);
    for (y, (name, bevel, lean, key)) in [0.0, wide].into_iter().zip(rips) {
        if bevel == 0.0 {
            continue;
        }
        part.cuts.push(Cut {
            name: name.into(),
            end: End::Along,
            miter: Angle(0.0),
            swing: Side::Neither,
            bevel: Angle(bevel),
            lean,
            miter_key: None,
            bevel_key: key,
            across: away.unwrap_or(Length(0.0)),
            from: Point::new(0.0, y),
            to: Point::new(length, y),
        });
    }
    part
}

fn side_parts(board: &EndBoard, length: Length, away: Option<Length>, solution: &mut Solution) {
    let s = &board.sizes;
    let sides = [
        (
            "Left side, on the slope",
            "Left side, upright",
            board.left_slope(),
            board.left_reading(),
            "left_side.rip_bevel_deg",
        ),
        (
            "Right side, on the slope",
            "Right side, upright",
            board.right_slope(),
            board.right_reading(),
            "right_side.rip_bevel_deg",
        ),
    ];
    for (slope_name, upright_name, slope, reading, key) in sides {
        // Both rips are level once the board lies on the slope, so they are parallel: the blank is wider
        // than either face.
        let wide = slope + away.map_or(0.0, |t| t.0 * num::tan_deg(reading));
        let rips = [
            ("Lower edge", reading, Side::Left, Some(key)),
            ("Upper edge", reading, Side::Left, Some(key)),
        ];
        solution.parts.push(ripped(slope_name, length.0, wide, away, rips));
        if s.shoulder > 0.0 {
            let square = [
                ("Lower edge", 0.0, Side::Neither, None),
                ("Upper edge", 0.0, Side::Neither, None),
            ];
            solution.parts.push(ripped(upright_name, length.0, s.shoulder, away, square));
        }
    }
}

fn floor(
    length: f64,
    low: (f64, f64),
    high: (f64, f64),
    thick: Length,
    bevels: (f64, f64),
) -> Part {
    // The board must be as wide as the wider of its faces reaches on either side.
    let wide = low.1.max(high.1) - low.0.min(high.0);
    let left_lean = if high.0 >= low.0 { Side::Right } else { Side::Left };
    let right_lean = if high.1 <= low.1 { Side::Left } else { Side::Right };
    ripped(
        "Floor",
        length,
        wide,
        Some(thick),
        [
            ("Right edge", bevels.1, right_lean, Some("floor_right_bevel_deg")),
            ("Left edge", bevels.0, left_lean, Some("floor_left_bevel_deg")),
        ],
    )
}

fn divider_part(outline: &[Point], away: Length) -> Part {
    let low = outline.iter().fold(f64::INFINITY, |m, p| m.min(p.y));
    let high = outline.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.y));
    let moved = |p: &Point| Point::new(p.x, p.y - low);
    let right: Vec<Point> = outline
        .iter()
        .skip(1)
        .take_while({
            let mut done = false;
            move |p| {
                let go = !done;
                done = p.y == high;
                go
            }
        })
        .map(moved)
        .gather();
    let mut left: Vec<Point> = outline.iter().skip(1 + right.len()).map(moved).gather();
    if left.last().is_none_or(|p| p.y != high - low)
        && left.first().is_none_or(|p| p.y != high - low)
    {
        // An apex ends both sides.
        left.extend(right.last().copied());
        left.rotate_right(1);
    }
    left.push(moved(&outline[0]));
    left.reverse();
    let names: Vec<CutName> = (1..left.len())
        .map(|_| "Left edge")
        .chain((1..right.len()).map(|_| "Right edge"))
        .map(CutName::plain)
        .gather();
    let mut part = Part::stick("Divider", Length(high - low), Some(away), &left, &right, &names);
    part.outline.0.dedup();
    part
}
