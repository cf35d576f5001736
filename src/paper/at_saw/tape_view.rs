//! A cut marked with a tape alone: one mark on the face, one on the edge.

use offsquare_cuts::parts::{Cut, End, Part};
use offsquare_cuts::saw::slopes;
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_units::{Length, Quantity, say};

/// The drawn face with the edge beside it folded up into the same plane: the line to cut on runs
/// across both, its tape mark along the far edge of each. A square line starts where the cut does.
/// The back and the other edge repeat the same two lines.
///
/// The face lies at 0 ≤ y ≤ seen, the upper edge from there up to seen + away. Without a size going
/// away only the face is shown. None for a cut along the piece.
pub fn two_tape_marks(part: &Part, cut: &Cut) -> Option<Scene> {
    if cut.end == End::Along {
        return None;
    }
    let seen = part.seen.0;
    if (cut.to.y - cut.from.y).abs() < seen * (1.0 - 1e-9) {
        return Some(part_of_the_width(part, cut));
    }
    let (across, down) = slopes(cut.miter, cut.swing, cut.bevel, cut.lean);
    let thick = part.away.map_or(0.0, |a| a.0);
    let (start, fold) = (Point::ORIGIN, Point::new(across * seen, seen));
    let end = Point::new(fold.x + down * thick, seen + thick);
    let outward = if cut.end == End::Left { -1.0 } else { 1.0 };
    let low = start.x.min(fold.x).min(end.x);
    let high = start.x.max(fold.x).max(end.x);
    let (keeps, drops) = (1.5 * seen, 0.7 * seen);
    let (inner, rim) =
        if outward > 0.0 { (low - keeps, high + drops) } else { (high + keeps, low - drops) };
    let top = seen + thick;
    let mut scene = Scene::new();
    let corner = Point::new;
    let closed = |x: f64| {
        let mut all = vec![corner(x, 0.0), start, fold];
        if thick > 0.0 {
            all.extend([end, corner(x, top)]);
        } else {
            all.push(corner(x, seen));
        }
        all
    };
    scene.shape(closed(inner), Role::Stock);
    scene.shape(closed(rim), Role::Waste);
    scene.add(Item::FallsOff { at: corner((rim * 2.0 + fold.x) / 3.0, seen * 0.5) });
    let words = corner((inner * 2.0 + low.midpoint(high)) / 3.0, seen * 0.5);
    scene.label(words, say!(part.sides.face), Role::Stock);
    scene.line(start, fold, Role::Cut);
    let square = |scene: &mut Scene, from: Point, to: Point, row: i8, key: &'static str| {
        let run = to.x - from.x;
        if run.abs() < 1e-4 * seen {
            return;
        }
        let foot = corner(from.x, to.y);
        scene.line(from, foot, Role::Center);
        let (a, b) = if foot.x < to.x { (foot, to) } else { (to, foot) };
        scene.computed(a, b, row, Quantity::Length(Length(run.abs())), key);
    };
    // With an edge above it the face's mark stands within it.
    let row = if thick > 0.0 { -1 } else { 1 };
    square(&mut scene, start, fold, row, "tape_mark");
    if thick > 0.0 {
        scene.line(corner(inner, seen), corner(rim, seen), Role::Stock);
        scene.label(
            corner(words.x, seen + thick / 2.0),
            say!(format!("{}, folded up", part.sides.edge_b)),
            Role::Stock,
        );
        scene.line(fold, end, Role::Cut);
        square(&mut scene, fold, end, 1, "edge_tape_mark");
    }
    Some(scene)
}

/// A cut that does not run across the whole width (a slope above a shoulder): the board, its line and
/// the tape mark that belongs to it.
fn part_of_the_width(part: &Part, cut: &Cut) -> Scene {
    let mut scene = Scene::new();
    scene.shape(part.outline.0.clone(), Role::Stock);
    let (low, high) = if cut.from.y < cut.to.y { (cut.from, cut.to) } else { (cut.to, cut.from) };
    scene.line(low, high, Role::Cut);
    let foot = Point::new(low.x, high.y);
    scene.line(low, foot, Role::Center);
    let (a, b) = if foot.x < high.x { (foot, high) } else { (high, foot) };
    let run = Quantity::Length(Length(b.x - a.x));
    if b.x > a.x {
        scene.computed(a, b, 1, run, "tape_mark");
    }
    scene.computed(
        Point::new(low.x, low.y),
        foot,
        if high.x > low.x { 1 } else { -1 },
        Quantity::Length(Length(high.y - low.y)),
        "across",
    );
    scene
}
