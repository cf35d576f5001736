//! The board on the saw, seen from above.

use super::advice::Advice;
use super::position::Position;
use super::remedy::Remedy;
use crate::geometry::{Line, Point};
use crate::num;
use crate::parts::{Cut, End, Part};
use crate::say;
use crate::scene::{Item, Role, Scene, Source};
use crate::units::{Angle, Quantity};

/// One cut seen from above: the fence at the top, the board against it as the advice lays it, the
/// blade's line right across, what falls off hatched with an X beside the blade, and the tape mark
/// along the edge that the cut ends on. Of a long board only the end at the blade is shown; a dashed
/// line says that it goes on.
///
/// The fence runs along y = seen, x to the right as the operator sees it.
pub fn seen_from_above(part: &Part, cut: &Cut, advice: &Advice) -> Scene {
    let place = |p: &Point| laid(part, advice.position, *p);
    let (from, to) = (place(&cut.from), place(&cut.to));
    let seen = part.seen.0;
    let mut scene = Scene::new();
    let blade = Line::through(from, to);
    let across = |y: f64| blade.meets(&Line::through(Point::new(0.0, y), Point::new(1.0, y)));
    let (Some(near), Some(far)) = (across(0.0), across(seen)) else {
        // A rip: the blade runs along the board, which is shown whole.
        scene.shape(part.outline.0.iter().map(place).collect(), Role::Stock);
        scene.line(from, to, Role::Cut);
        return scene;
    };
    let falls_right = match cut.end {
        End::Left => mirrored(advice.position),
        End::Right | End::Along => !mirrored(advice.position),
    };
    let (low, high) = (near.x.min(far.x), near.x.max(far.x));
    let steep = high - low;
    // Enough of both sides to see how the board lies.
    let (keeps, drops) = (2.4 * seen + 0.5 * steep, 1.1 * seen + 0.3 * steep);
    let (rim, inner) = if falls_right {
        (high + drops, low - keeps)
    } else {
        (low - drops, high + keeps)
    };
    fence(&mut scene, rim.min(inner), rim.max(inner), seen);
    kept(&mut scene, part, &place, inner, falls_right);
    if cut.end != End::Along {
        let waste = vec![near, Point::new(rim, 0.0), Point::new(rim, seen), far];
        scene.shape(waste, Role::Waste);
        scene.add(Item::FallsOff {
            at: near.middle(far).middle(Point::new(rim, seen / 2.0)),
        });
        scene.label(
            Point::new((rim + near.x) / 2.0, -0.3 * seen),
            say!["falls off"],
            Role::Waste,
        );
    }
    // The blade's line reaches past both edges, as its slot in the table does.
    scene.line(near.toward(far, -0.3), near.toward(far, 1.3), Role::Cut);
    if steep > 1e-6 * seen {
        scene.line(near, Point::new(near.x, seen), Role::Center);
        scene.add(Item::AngleMark {
            at: near,
            from: Angle(90.0),
            to: far.from(near).direction(),
            value: Quantity::Angle(cut.miter),
            source: Source::Computed(cut.miter_key.unwrap_or("miter")),
        });
        let (left, right) = (from.x.min(to.x), from.x.max(to.x));
        let fence_edge = (from.y - seen).abs().min((to.y - seen).abs()) < 1e-9;
        let (y, row) = if fence_edge { (seen, 1) } else { (0.0, -1) };
        scene.computed(
            Point::new(left, y),
            Point::new(right, y),
            row,
            Quantity::Length(advice.tape_mark),
            "tape_mark",
        );
    }
    scene
}

/// The piece that is kept, up to where the picture breaks off.
fn kept(
    scene: &mut Scene,
    part: &Part,
    place: &dyn Fn(&Point) -> Point,
    inner: f64,
    falls_right: bool,
) {
    let corners: Vec<Point> = part.outline.0.iter().map(place).collect();
    let inside = |p: &Point| (p.x > inner) == falls_right || p.x == inner;
    let mut shown = Vec::new();
    let mut broken = Vec::new();
    for (i, a) in corners.iter().enumerate() {
        let b = &corners[(i + 1) % corners.len()];
        if inside(a) {
            shown.push(*a);
        }
        if inside(a) != inside(b) {
            let at = a.toward(*b, (inner - a.x) / (b.x - a.x));
            shown.push(at);
            broken.push(at);
        }
    }
    if let [a, b] = broken[..] {
        // Open where the board goes on.
        for i in 0..shown.len() {
            let (from, to) = (shown[i], shown[(i + 1) % shown.len()]);
            let cut_off = (from == a && to == b) || (from == b && to == a);
            let role = if cut_off { Role::Hidden } else { Role::Stock };
            scene.line(from, to, role);
        }
    } else {
        scene.shape(shown, Role::Stock);
    }
}

/// Turned work seen from above: the board's end against an auxiliary fence that stands square to the
/// saw's own, the board running toward the operator, the blade at the complement. None where the
/// advice does not offer it.
pub fn turned_from_above(part: &Part, cut: &Cut, advice: &Advice) -> Option<Scene> {
    let (set, needs) = advice.remedies.iter().find_map(|r| match r {
        Remedy::TurnedWork { set, needs, .. } => Some((*set, *needs)),
        _ => None,
    })?;
    let seen = part.seen.0;
    let long = part.length.0.min(3.0 * needs.0.max(seen));
    let mut scene = Scene::new();
    fence(&mut scene, -2.0 * seen, 3.0 * seen, 0.0);
    // The board hangs down from the fence, its square end at y = 0; the auxiliary fence is its left side.
    let aux = 0.2 * seen;
    let rail = |x: f64, y: f64| Point::new(x, y);
    scene.shape(
        vec![
            rail(-aux, -long),
            rail(0.0, -long),
            rail(0.0, 0.0),
            rail(-aux, 0.0),
        ],
        Role::Frame,
    );
    scene.shape(
        vec![
            rail(0.0, -long),
            rail(seen, -long),
            rail(seen, 0.0),
            rail(0.0, 0.0),
        ],
        Role::Stock,
    );
    let end = Point::new(seen, -needs.0);
    scene.shape(vec![Point::ORIGIN, end, rail(seen, 0.0)], Role::Waste);
    scene.line(
        Point::ORIGIN.toward(end, -0.15),
        Point::ORIGIN.toward(end, 1.15),
        Role::Cut,
    );
    scene.add(Item::Label {
        at: rail(-aux, -long / 2.0),
        text: say!["auxiliary fence, clamp here"],
        role: Role::Frame,
    });
    if let Some(key) = cut.miter_key {
        let run = num::atan2_deg(-needs.0, seen);
        scene.add(Item::AngleMark {
            at: Point::ORIGIN,
            from: Angle(-90.0),
            to: Angle(run),
            value: Quantity::Angle(set),
            source: Source::Computed(key),
        });
    }
    Some(scene)
}

fn fence(scene: &mut Scene, from: f64, to: f64, at: f64) {
    let thick = (to - from) * 0.03;
    scene.shape(
        vec![
            Point::new(from, at),
            Point::new(to, at),
            Point::new(to, at + thick),
            Point::new(from, at + thick),
        ],
        Role::Frame,
    );
    scene.label(
        Point::new(from.max(to) - 0.12 * (to - from), at + 2.5 * thick),
        say!["fence"],
        Role::Frame,
    );
}

/// Whether the piece's left end lies to the right in this position.
fn mirrored(p: Position) -> bool {
    matches!(p, Position::EndForEnd | Position::EndOverEnd)
}

/// Where a point of the part's frame lies on the table.
fn laid(part: &Part, position: Position, p: Point) -> Point {
    let (x, y) = (part.length.0 - p.x, part.seen.0 - p.y);
    match position {
        Position::AsDrawn => p,
        Position::EndOverEnd => Point::new(x, p.y),
        Position::EndForEnd => Point::new(x, y),
        Position::RolledOver => Point::new(p.x, y),
    }
}
