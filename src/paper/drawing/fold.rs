//! A compound cut's template folds over the edge: its line runs on down the side.

use offsquare_cuts::parts::{Cut, End, Part};
use offsquare_cuts::saw::slopes;
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_units::{Length, Quantity, say};

/// Adds the edge above the face of a template that ends at `inner` (on the piece) and `outer` (on what
/// falls off). Does nothing for a cut with the blade upright, or where the size going away is not known.
pub fn add_edge(scene: &mut Scene, part: &Part, cut: &Cut, (inner, outer): (f64, f64)) -> bool {
    let Some(away) = part.away.filter(|_| cut.bevel.0 > 0.0) else {
        return false;
    };
    let (seen, top) = (part.seen.0, part.seen.0 + away.0);
    if cut.to.y < seen * (1.0 - 1e-9) || cut.end == End::Along {
        return false;
    }
    let (_, down) = slopes(cut.miter, cut.swing, cut.bevel, cut.lean);
    let corner = Point::new;
    let fold = corner(cut.to.x, seen);
    let end = corner(fold.x + down * away.0, top);
    let square = corner(fold.x, top);
    scene.shape(vec![fold, end, corner(outer, top), corner(outer, seen)], Role::Waste);
    scene
        .line(corner(inner, top), end, Role::Stock)
        .line(corner(inner, seen), corner(inner, top), Role::Hidden)
        .line(fold, end, Role::Cut)
        .line(fold, square, Role::Center);
    let (a, b) = if end.x < fold.x { (end, square) } else { (square, end) };
    if b.x > a.x {
        let run = Quantity::Length(Length(b.x - a.x));
        scene.computed(a, b, 1, run, "edge_tape_mark");
    }
    scene.add(Item::Label {
        at: corner((inner + fold.x) / 2.0, (seen + top) / 2.0),
        text: say!(format!("{}: fold over", part.sides.edge_b)),
        role: Role::Stock,
    });
    true
}
