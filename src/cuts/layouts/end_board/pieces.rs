//! The end board as a part on the saw, grain level or upright.

use super::outline::EndBoard;
use crate::parts::{Cut, CutName, End, Part, Sides, StockShape};
use offsquare_geometry::{Point, Polygon};
use offsquare_units::Length;
use offsquare_units::num::Gather;

const NAME: &str = "End board";

/// The part, `count` times. Grain level: the base lies along edge A. Grain upright: the board's length
/// runs up the piece, and a square blank is crosscut first.
pub fn end(board: &EndBoard, level: bool, away: Option<Length>, count: u32) -> Part {
    let mut part = if level { lying(board, away) } else { standing(board, away) };
    part.count = count;
    part
}

fn lying(board: &EndBoard, away: Option<Length>) -> Part {
    let s = &board.sizes;
    let mut left = vec![Point::ORIGIN];
    let mut right = vec![Point::new(s.base, 0.0)];
    let mut names = Vec::new();
    if s.shoulder > 0.0 {
        left.push(Point::new(0.0, s.shoulder));
        right.push(Point::new(s.base, s.shoulder));
        names.push(CutName::plain("Left end, up to the shoulder"));
    }
    names.push(CutName::read("Left slope", "left_reading_deg"));
    if s.shoulder > 0.0 {
        names.push(CutName::plain("Right end, up to the shoulder"));
    }
    names.push(CutName::read("Right slope", "right_reading_deg"));
    left.push(Point::new(s.left, s.height));
    right.push(Point::new(s.base - s.right, s.height));
    let mut part = Part::stick(NAME, Length(s.height), away, &left, &right, &names);
    // An apex is one corner of the outline, not two.
    part.outline.0.dedup();
    if s.shoulder > 0.0 {
        part.stock = StockShape::Board;
    }
    part.called(Sides { edge_a: "base", edge_b: "top", ..Sides::DRAWN })
}

fn standing(board: &EndBoard, away: Option<Length>) -> Part {
    let s = &board.sizes;
    let (least, greatest) = board.extent();
    let wide = greatest - least;
    // A quarter turn clockwise: the height runs along x, the left side lies at the far edge.
    let place = |p: Point| Point::new(p.y, greatest - p.x);
    let plain = |name, end, a: Point, b: Point| {
        let (a, b) = (place(a), place(b));
        let (from, to) = if a.y <= b.y { (a, b) } else { (b, a) };
        Cut::plain(name, end, from, to)
    };
    // A gable has no top of its own: this is where its blank ends.
    let top = if s.top > 0.0 { "Top" } else { "Blank's end, at the peak" };
    let level = |name, end, y| {
        plain(CutName::plain(name), end, Point::new(least, y), Point::new(greatest, y))
    };
    let mut cuts = vec![level("Base", End::Left, 0.0), level(top, End::Right, s.height)];
    let slopes = [
        (
            "Left slope",
            "left_edge_from_upright_reading_deg",
            s.left,
            Point::new(0.0, s.shoulder),
            Point::new(s.left, s.height),
        ),
        (
            "Right slope",
            "right_edge_from_upright_reading_deg",
            s.right,
            Point::new(s.base, s.shoulder),
            Point::new(s.base - s.right, s.height),
        ),
    ];
    for (name, key, inset, from, to) in slopes {
        if inset != 0.0 {
            cuts.push(plain(CutName::read(name, key), End::Along, from, to));
        }
    }
    let mut outline: Vec<Point> = board.corners.iter().map(|p| place(*p)).gather();
    // Counter-clockwise from edge A's left corner: that is the base's right corner.
    outline.rotate_left(1);
    let at_edge = |far: bool| {
        let edge = if far { least } else { greatest };
        let on: Vec<f64> = board.corners.iter().filter(|p| p.x == edge).map(|p| p.y).gather();
        let most = on.iter().fold(f64::NEG_INFINITY, |m, y| m.max(*y));
        let low = on.iter().fold(f64::INFINITY, |m, y| m.min(*y));
        Length((most - low).max(0.0))
    };
    Part {
        name: NAME.into(),
        sides: Sides {
            edge_a: "right side",
            edge_b: "left side",
            left: "base",
            right: "top",
            ..Sides::DRAWN
        },
        seen: Length(wide),
        away,
        length: Length(s.height),
        outline: Polygon(outline),
        edge_a: at_edge(false),
        edge_b: at_edge(true),
        cuts,
        stock: StockShape::Board,
        ..Part::PLAIN
    }
}
