//! The board on the saw, seen from above.

use super::advice::Advice;
use super::position::Position;
use super::remedy::Remedy;
use crate::geometry::{Line, Point};
use crate::num;
use crate::parts::{Cut, End, Part};
use crate::say;
use crate::scene::{Item, Role, Scene, Source};
use crate::units::{Angle, Length, Quantity};

/// One cut seen from above: the fence at the top, the board against it as the advice lays it, the
/// blade's line right across, and the stock that falls off. Lengths are true; of a long board only
/// the end at the blade is shown.
///
/// The fence runs along y = seen, x to the right as the operator sees it.
pub fn seen_from_above(part: &Part, cut: &Cut, advice: &Advice) -> Scene {
    let place = |p: &Point| laid(part, advice.position, *p);
    let outline: Vec<Point> = part.outline.0.iter().map(place).collect();
    let (from, to) = (place(&cut.from), place(&cut.to));
    let seen = part.seen.0;
    let mut scene = Scene::new();
    let Some((lo, hi)) = part.outline.bounds() else {
        return scene;
    };
    let out = 1.2 * seen.max((cut.to.x - cut.from.x).abs());
    fence(&mut scene, lo.x - out, hi.x + out, seen);
    scene.shape(outline, Role::Stock);
    let line = Line::through(from, to);
    let across = |y: f64| {
        let level = Line::through(Point::new(0.0, y), Point::new(1.0, y));
        line.meets(&level)
    };
    if let (Some(near), Some(far)) = (across(0.0), across(seen)) {
        let falls_right = match cut.end {
            End::Left => mirrored(advice.position),
            End::Right => !mirrored(advice.position),
            End::Along => true,
        };
        if cut.end != End::Along {
            let rim = if falls_right {
                near.x.max(far.x) + out
            } else {
                near.x.min(far.x) - out
            };
            let waste = vec![near, Point::new(rim, 0.0), Point::new(rim, seen), far];
            scene.shape(waste, Role::Waste);
            scene.add(Item::Label {
                at: Point::new((near.x + far.x) / 4.0 + rim / 2.0, seen / 2.0),
                text: say!["falls off"],
                role: Role::Waste,
            });
        }
        // The blade's line reaches past both edges, as its slot in the table does.
        scene.line(near.toward(far, -0.25), near.toward(far, 1.25), Role::Cut);
        if let Some(key) = cut.miter_key {
            let up = 90.0;
            let blade = far.from(near).direction();
            scene.add(Item::AngleMark {
                at: near,
                from: blade.min(Angle(up)),
                to: blade.max(Angle(up)),
                value: Quantity::Angle(cut.miter),
                source: Source::Computed(key),
            });
        }
    }
    scene
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
    let thick = Length((to - from) * 0.02).0;
    scene.shape(
        vec![
            Point::new(from, at),
            Point::new(to, at),
            Point::new(to, at + thick),
            Point::new(from, at + thick),
        ],
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
