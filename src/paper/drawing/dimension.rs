//! Dimension lines and angle marks: their lines, ends and the places their figures may take.

use super::mark::{Mark, class_of_source};
use super::pen::Pen;
use super::place::Wish;
use super::{Run, runs};
use offsquare_geometry::scene::Source;
use offsquare_geometry::{Point, Vector, dot};
use offsquare_units::{Angle, Bit, Quantity, Style, Text};

/// A dimension before its figure has found a place.
pub(super) struct Dressed {
    /// The measuring line; it is broken where the figure stands on it.
    pub line: Vec<(Point, Point)>,
    /// Extension lines and ticks.
    pub strokes: Vec<(Point, Point)>,
    /// Arrow heads and arcs.
    pub marks: Vec<Mark>,
    pub wish: Wish,
    pub class: &'static str,
}

/// A size as it stands on a drawing.
fn shown(value: Quantity, style: &Style, pen: &Pen) -> Vec<Run> {
    let text = Text(vec![Bit::Quantity(value)]).render(style);
    runs(&match value {
        Quantity::Length(_) if !pen.units => text.replacen(" in", "", 1).replacen(" mm", "", 1),
        _ => text,
    })
}

fn wish(value: Quantity, source: Source, style: &Style, pen: &Pen, own: usize) -> Wish {
    Wish {
        runs: shown(value, style, pen),
        size: pen.text,
        class: class_of_source(source),
        field: match source {
            Source::Given(field) => Some(field),
            Source::Computed(_) => None,
        },
        source: Some(source),
        places: Vec::new(),
        speaks_of: Point::ORIGIN,
        own,
    }
}

/// The least share of its own length that an extension line leads away from the stretch; below it all run
/// square to it.
const LEAST_LEAN: f64 = 0.35;

/// A dimension of the stretch `from`–`to` (in px, y down); see [`offsquare_geometry::scene::Item::Dimension`].
pub(super) fn dimension(
    (from, to): (Point, Point),
    (row, aside): (i8, Vector),
    (value, source): (Quantity, Source),
    style: &Style,
    pen: &Pen,
    own: usize,
) -> Dressed {
    let mut wish = wish(value, source, style, pen, own);
    let along = (to - from).unit().unwrap_or(Vector::new(1.0, 0.0));
    // y points down: this is the scene's left.
    let left = Vector::new(along.y, -along.x);
    let square = if row < 0 { -left } else { left };
    // Extension lines that lean keep the rows as far apart.
    let leaning = aside.unit().map(|u| (u, dot(u, square)));
    let (out, lean) = leaning.filter(|(_, lean)| *lean > LEAST_LEAN).unwrap_or((square, 1.0));
    // A figure on the line keeps off the stretch, unless that takes too much of the frame.
    let (w, h) = wish.extent(pen);
    let half = (out.x.abs() * w + out.y.abs() * h) / 2.0 + pen.gap;
    let off = match row {
        0 => 0.0,
        _ => {
            (half.clamp(pen.first_row, pen.first_row * 2.0)
                + f64::from(row.unsigned_abs() - 1) * pen.row)
                / lean
        }
    };
    let (a, b) = (from + aside + out * off, to + aside + out * off);
    let mut strokes = Vec::new();
    if row != 0 {
        for (foot, tip) in [(from, a), (to, b)] {
            strokes.push((foot + out * pen.gap, tip + out * pen.beyond));
        }
    }
    let length = b.distance(a).0;
    let mut marks = Vec::new();
    let mut line = vec![(a, b)];
    let class = wish.class;
    let mut tail = 0.0;
    match source {
        Source::Given(_) => {
            let slant = (along + left) * pen.tick;
            for end in [a, b] {
                strokes.push((end + -slant, end + slant));
            }
        }
        Source::Computed(_) if length >= 3.0 * pen.arrow => {
            marks.push(arrow_head(a, -along, pen, class));
            marks.push(arrow_head(b, along, pen, class));
        }
        Source::Computed(_) => {
            // Too short for heads inside: they point inwards from outside.
            tail = 2.0 * pen.arrow;
            marks.push(arrow_head(a, along, pen, class));
            marks.push(arrow_head(b, -along, pen, class));
            line.push((a, a + (along * -tail)));
            line.push((b, b + along * tail));
        }
    }
    wish.speaks_of = a.middle(b);
    wish.places = places_along(&wish, (a, b), out, tail, row, pen);
    Dressed { line, strokes, marks, wish, class }
}

/// On the line, beside it, past its ends, one row further.
fn places_along(
    wish: &Wish,
    (a, b): (Point, Point),
    out: Vector,
    tail: f64,
    row: i8,
    pen: &Pen,
) -> Vec<(Point, f64)> {
    let (w, h) = wish.extent(pen);
    let length = b.distance(a).0;
    let along = (b - a).unit().unwrap_or(Vector::new(1.0, 0.0));
    let reach = |v: Vector| (v.x.abs() * w + v.y.abs() * h) / 2.0;
    let (half_along, half_out) = (reach(along), reach(out));
    let mut places = Vec::new();
    let room = half_along + pen.arrow + pen.clear;
    for (share, cost) in [(0.5, 0.0), (0.36, 3.0), (0.64, 3.0), (0.22, 5.0), (0.78, 5.0)] {
        let at = share * length;
        if at >= room && length - at >= room {
            places.push((a.toward(b, share), cost));
        }
    }
    let beside = half_out + pen.clear;
    for (share, cost) in [(0.5, 0.0), (0.3, 2.0), (0.7, 2.0), (0.1, 4.0), (0.9, 4.0)] {
        let on = a.toward(b, share);
        places.push((on + out * beside, 6.0 + cost));
        // Between the stretch and its dimension line, where that is wide enough.
        let inward = if row == 0 || beside + half_out < pen.first_row { 8.0 } else { 16.0 };
        places.push((on + (out * -beside), inward + cost));
    }
    let past = half_along + pen.arrow + tail;
    places.push((b + along * past, 10.0));
    places.push((a + (along * -past), 11.0));
    for (share, cost) in [(0.5, 0.0), (0.2, 3.0), (0.8, 3.0)] {
        let on = a.toward(b, share);
        places.push((on + out * (beside + pen.row), 22.0 + cost));
        places.push((on + out * (-beside - pen.row), 24.0 + cost));
    }
    places
}

/// A slim head whose tip is at `tip`.
pub(super) fn arrow_head(tip: Point, toward: Vector, pen: &Pen, class: &'static str) -> Mark {
    let back = tip + (toward * -pen.arrow);
    let side = toward.left() * (pen.arrow * 0.2);
    Mark::Path { points: vec![tip, back + side, back + -side], closed: true, filled: true, class }
}

/// An angle at `at` (px) between two directions in the scene's sense; see
/// [`offsquare_geometry::scene::Item::AngleMark`].
pub(super) fn angle_mark(
    at: Point,
    (from, to): (Angle, Angle),
    (value, source): (Quantity, Source),
    style: &Style,
    pen: &Pen,
    own: usize,
) -> Dressed {
    let mut wish = wish(value, source, style, pen, own);
    let class = wish.class;
    let turn = offsquare_geometry::scene::counter_clockwise(from, to).0;
    let (start, turn) = if turn > 180.0 { (to.0, 360.0 - turn) } else { (from.0, turn) };
    let way = |degrees: f64| {
        let v = Vector::at(Angle(degrees));
        Vector::new(v.x, -v.y)
    };
    // A narrow wedge gets a longer arc, so that it can be seen.
    let radius = if turn < 30.0 { pen.angle * 1.5 } else { pen.angle };
    let on = |degrees: f64, r: f64| at + way(degrees) * r;
    let ends = (start, start + turn);
    let strokes = [ends.0, ends.1].map(|d| (on(d, pen.gap), on(d, radius + pen.beyond))).to_vec();
    let mut marks = vec![Mark::Arc {
        center: at,
        radius,
        from: on(ends.0, radius),
        to: on(ends.1, radius),
        large: false,
        clockwise: false,
        class,
    }];
    let mut strokes = strokes;
    let arc_length = radius * turn.to_radians();
    for (end, sense) in [(ends.0, -1.0), (ends.1, 1.0)] {
        let tip = on(end, radius);
        // Square to the ray, leading out of the wedge: counter-clockwise in the scene.
        let ray = way(end);
        let leading = Vector::new(ray.y, -ray.x) * sense;
        match source {
            Source::Given(_) => {
                let slant = (leading + ray) * (pen.tick * 0.8);
                strokes.push((tip + -slant, tip + slant));
            }
            Source::Computed(_) if arc_length >= 2.5 * pen.arrow => {
                marks.push(arrow_head(tip, leading, pen, class));
            }
            Source::Computed(_) => {
                marks.push(arrow_head(tip, -leading, pen, class));
                strokes.push((tip, tip + leading * (1.8 * pen.arrow)));
            }
        }
    }
    let (w, h) = wish.extent(pen);
    let middle = start + turn / 2.0;
    let reach = |v: Vector| (v.x.abs() * w + v.y.abs() * h) / 2.0 + pen.clear;
    for (degrees, r, cost) in [
        (middle, radius, 0.0),
        (start + turn * 0.25, radius, 3.0),
        (start + turn * 0.75, radius, 3.0),
        (middle, radius + pen.row * 0.6, 5.0),
        (start - 12.0, radius + pen.beyond, 8.0),
        (start + turn + 12.0, radius + pen.beyond, 8.0),
        (middle, radius + pen.row * 1.2, 10.0),
        (middle + 180.0, pen.gap, 14.0),
        (middle + 90.0, pen.gap * 2.0, 16.0),
        (middle - 90.0, pen.gap * 2.0, 16.0),
    ] {
        let v = way(degrees);
        wish.places.push((at + v * (r + reach(v)), cost));
    }
    wish.speaks_of = on(middle, radius);
    Dressed { line: Vec::new(), strokes, marks, wish, class }
}
