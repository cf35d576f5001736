//! The end board's drawings: the board with its sizes on it, pieces along a board, the box's end.

use super::nest::{Nest, NestFigure};
use super::outline::{EndBoard, Inside};
use crate::inputs::Inputs;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, say};

/// Pieces drawn along a board; further ones add nothing to the picture.
const DRAWN: f64 = 40.0;

fn length(l: f64) -> Quantity {
    Quantity::Length(Length(l))
}

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
    let dimension = |from, to, row, value, key| Item::Dimension {
        from,
        to,
        row,
        value: length(value),
        source: source(inputs, key),
    };
    scene.given(Point::ORIGIN, Point::new(s.base, 0.0), -1, Length(s.base), "base_width");
    scene.add(dimension(top_left, top_right, 1, s.top, "top_width"));
    scene.add(dimension(
        Point::new(greatest, 0.0),
        Point::new(greatest, s.height),
        -2,
        s.height,
        "height",
    ));
    scene.given(
        Point::new(greatest, 0.0),
        Point::new(greatest, s.shoulder),
        -1,
        Length(s.shoulder),
        "shoulder_height",
    );
    scene.add(dimension(
        Point::new(s.left.min(0.0), s.height),
        Point::new(s.left.max(0.0), s.height),
        1,
        s.left,
        "left_inset",
    ));
    scene.add(dimension(
        Point::new(s.base.min(s.base - s.right), s.height),
        Point::new(s.base.max(s.base - s.right), s.height),
        1,
        s.right,
        "right_inset",
    ));
    let up = Angle(90.0);
    scene.add(Item::AngleMark {
        at: left_shoulder,
        from: Angle(90.0 - board.left_reading() * s.left.signum()),
        to: up,
        value: Quantity::Angle(Angle(board.left_reading())),
        source: source(inputs, "left_reading_deg"),
    });
    scene.add(Item::AngleMark {
        at: right_shoulder,
        from: up,
        to: Angle(90.0 + board.right_reading() * s.right.signum()),
        value: Quantity::Angle(Angle(board.right_reading())),
        source: source(inputs, "right_reading_deg"),
    });
    scene.computed(left_shoulder, top_left, 1, Length(board.left_slope()), "left_slope_length");
    let handle = |at, field, x, y| Item::Handle { at, field, per_inch: Vector::new(x, y) };
    scene.add(handle(right_shoulder, "shoulder_height", 0.0, 1.0));
    if inputs.get("left_inset").is_some() {
        scene.add(handle(top_left, "left_inset", 1.0, 0.0));
    } else if inputs.get("right_inset").is_some() {
        scene.add(handle(top_right, "right_inset", -1.0, 0.0));
    } else {
        // Symmetric: the top grows on both sides.
        scene.add(handle(top_left, "top_width", -2.0, 0.0));
    }
    scene.add(handle(Point::new((top_left.x + top_right.x) / 2.0, s.height), "height", 0.0, 1.0));
    scene.add(handle(Point::new(s.base, 0.0), "base_width", 1.0, 0.0));
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
    scene.shape(
        vec![
            corner(0.0, 0.0),
            corner(drawn_length, 0.0),
            corner(drawn_length, across),
            corner(0.0, across),
        ],
        Role::Frame,
    );
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
