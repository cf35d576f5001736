//! The end board's drawings: the board with its sizes on it, pieces along a board, the box's end.

use super::nest::{Nest, NestFigure};
use super::outline::{EndBoard, Inside};
use crate::inputs::Inputs;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Length, say};

/// Pieces drawn along a board; further ones add nothing to the picture.
const DRAWN: f64 = 40.0;

/// A size is the maker's own where it was given.
fn source(inputs: &Inputs, key: &'static str) -> Source {
    if inputs.get(key).is_some() { Source::Given(key) } else { Source::Computed(key) }
}

/// The board, every size where it is measured, and handles on a shoulder, a top corner, the top and
/// the base.
pub fn of_board(board: &EndBoard, inputs: &Inputs) -> Scene {
    let s = &board.sizes;
    let mut scene = Scene::new();
    waste(board, &mut scene);
    scene.shape(board.corners.clone(), Role::Stock);
    let top_left = Point::new(s.left, s.height);
    let top_right = Point::new(s.base - s.right, s.height);
    let left_shoulder = Point::new(0.0, s.shoulder);
    let right_shoulder = Point::new(s.base, s.shoulder);
    scene.line(left_shoulder, top_left, Role::Cut);
    scene.line(right_shoulder, top_right, Role::Cut);
    let (least, greatest) = board.extent();
    let size = |key| source(inputs, key);
    let at = Point::new;
    scene.given(Point::ORIGIN, Point::new(s.base, 0.0), -1, Length(s.base), "base_width");
    scene
        .size(top_left, top_right, 1, Length(s.top), size("top_width"))
        .size(at(greatest, 0.0), at(greatest, s.height), -2, Length(s.height), size("height"))
        .given(
            at(greatest, 0.0),
            at(greatest, s.shoulder),
            -1,
            Length(s.shoulder),
            "shoulder_height",
        );
    for (from, to, inset, key) in
        [(0.0, s.left, s.left, "left_inset"), (s.base, s.base - s.right, s.right, "right_inset")]
    {
        let (from, to) = (at(from.min(to), s.height), at(from.max(to), s.height));
        scene.size(from, to, 1, Length(inset), size(key));
    }
    let (left, right) = (board.left_reading(), board.right_reading());
    let leans = (90.0 - left * s.left.signum(), 90.0 + right * s.right.signum());
    scene.angle(left_shoulder, (leans.0, 90.0), left, size("left_reading_deg"));
    scene.angle(right_shoulder, (90.0, leans.1), right, size("right_reading_deg"));
    scene.computed(left_shoulder, top_left, 1, Length(board.left_slope()), "left_slope_length");
    scene.handle(right_shoulder, "shoulder_height", Vector::new(0.0, 1.0));
    if inputs.get("left_inset").is_some() {
        scene.handle(top_left, "left_inset", Vector::new(1.0, 0.0));
    } else if inputs.get("right_inset").is_some() {
        scene.handle(top_right, "right_inset", Vector::new(-1.0, 0.0));
    } else {
        // Symmetric: the top grows on both sides.
        scene.handle(top_left, "top_width", Vector::new(-2.0, 0.0));
    }
    scene.handle(
        Point::new((top_left.x + top_right.x) / 2.0, s.height),
        "height",
        Vector::new(0.0, 1.0),
    );
    scene.handle(Point::new(s.base, 0.0), "base_width", Vector::new(1.0, 0.0));
    debug_assert!(least <= greatest);
    scene
}

/// What falls off the square blank on either side.
fn waste(board: &EndBoard, scene: &mut Scene) {
    let s = &board.sizes;
    let (least, greatest) = board.extent();
    let sides = [(least, 0.0, s.left), (greatest, s.base, s.base - s.right)];
    for (edge, low, high) in sides {
        let mut outline = vec![
            Point::new(edge, 0.0),
            Point::new(low, 0.0),
            Point::new(low, s.shoulder),
            Point::new(high, s.height),
            Point::new(edge, s.height),
        ];
        outline.dedup();
        let wide = outline.iter().any(|p| p.x != edge);
        if wide && outline.len() > 2 {
            scene.shape(outline, Role::Waste);
        }
    }
}

/// Pieces along the board as they are cut.
pub fn of_nest(board: &EndBoard, nest: &Nest, shown: &NestFigure) -> Scene {
    let s = &board.sizes;
    let (least, greatest) = board.extent();
    let wide = greatest - least;
    let mut scene = Scene::new();
    let corner = |x, y| Point::new(x, y);
    let (long, across) = (shown.board_length, shown.board_width);
    let whole = nest.fit <= DRAWN;
    let drawn_length = if whole {
        long
    } else {
        long.min(nest.first_step * DRAWN / 2.0 + nest.second_step * DRAWN / 2.0 + wide)
    };
    scene.rectangle(Point::ORIGIN, corner(drawn_length, across), Role::Frame);
    let extent = if shown.level { wide } else { s.height };
    let mut at = 0.0;
    let mut starts = Vec::new();
    for i in 0..nest.fit.min(DRAWN) as u32 {
        let place = |p: &Point| match (shown.level, (i % 2 == 1) != shown.turned_first) {
            (true, false) => corner(at + p.x - least, p.y),
            (true, true) => corner(at + greatest - p.x, s.height - p.y),
            (false, _) => corner(at + p.y, greatest - p.x),
        };
        scene.shape(board.corners.iter().map(place).gather(), Role::Stock);
        starts.push(at);
        at += if i % 2 == 0 { nest.first_step } else { nest.second_step };
    }
    if let Some(last) = starts.last().filter(|_| whole && nest.used < long) {
        scene.add(Item::Label {
            at: corner((last + extent + long) / 2.0, across / 2.0),
            text: say!("left over {}", Length(long - nest.used)),
            role: Role::Waste,
        });
    }
    scene.given(corner(0.0, across), corner(0.0, 0.0), -1, Length(across), "board_width");
    scene.given(corner(0.0, 0.0), corner(drawn_length, 0.0), -2, Length(long), "board_length");
    for (i, key) in ["first_step", "second_step"].into_iter().enumerate() {
        if let (Some(from), Some(to)) = (starts.get(i), starts.get(i + 1)) {
            scene.computed(corner(*from, across), corner(*to, across), 1, Length(to - from), key);
        }
    }
    scene
}

/// One end of the box with its floor and divider behind it.
pub fn of_box(board: &EndBoard, inputs: &Inputs, inside: &Inside) -> Scene {
    let mut scene = of_board(board, inputs);
    let line = |y: f64| {
        let (left, right) = board.sides_at(y);
        (Point::new(left, y), Point::new(right, y))
    };
    let (low, high) = (line(inside.floor_below), line(inside.floor_above));
    scene.shape(vec![low.0, low.1, high.1, high.0], Role::Hidden);
    if let Some(divider) = &inside.divider {
        scene.shape(divider.clone(), Role::Hidden);
        let top = divider.iter().fold(0.0, |m: f64, p| m.max(p.y));
        scene.given(Point::new(0.0, 0.0), Point::new(0.0, top), 2, Length(top), "divider_height");
    }
    scene.given(
        Point::new(0.0, 0.0),
        Point::new(0.0, inside.floor_below),
        1,
        Length(inside.floor_below),
        "floor_height",
    );
    scene.computed(high.0, high.1, 0, Length(high.1.x - high.0.x), "floor_width_above");
    scene
}
