//! What stands free in a figure, off the lines on which pages meet.

use super::mark::Rect;
use crate::geometry::{Point, Vector};
use crate::scene::{Item, Role, Scene};
use crate::units::Angle;

/// No further than this is anything moved, mm.
const FURTHEST: u32 = 80;
/// Ways in which a place is looked for.
const WAYS: u32 = 16;
const MM_PER_INCH: f64 = 25.4;

/// The scene, true in size, with every X and every arrow along the grain clear of some strips: each as near to
/// its place as that goes, on its side of all lines. What finds no such place stays.
///
/// `origin`: where the scene's origin lies in the frame, mm, y down; `half`: half width of an X.
pub(super) fn cleared(
    scene: &Scene,
    strips: &[Rect],
    frame: &Rect,
    origin: Point,
    half: f64,
) -> Scene {
    let at = |p: Point| Point::new(origin.x + p.x * MM_PER_INCH, origin.y - p.y * MM_PER_INCH);
    let mut lines: Vec<(Point, Point)> = Vec::new();
    for item in &scene.items {
        match item {
            Item::Line { from, to, role } if !matches!(role, Role::Mark | Role::Center) => {
                lines.push((at(*from), at(*to)));
            }
            Item::Shape { outline, .. } => {
                let next = outline.iter().cycle().skip(1);
                lines.extend(outline.iter().zip(next).map(|(a, b)| (at(*a), at(*b))));
            }
            _ => {}
        }
    }
    let free = |r: &Rect| !lines.iter().any(|(a, b)| r.clips(*a, *b).is_some());
    let clear = |r: &Rect| !strips.iter().any(|s| s.overlaps(r));
    let mut out = scene.clone();
    for item in &mut out.items {
        let (a, b) = match item {
            Item::FallsOff { at } => (*at, *at),
            Item::Grain { from, to } => (*from, *to),
            _ => continue,
        };
        let (p, q) = (at(a), at(b));
        let low = Point::new(p.x.min(q.x), p.y.min(q.y));
        let high = Point::new(p.x.max(q.x), p.y.max(q.y));
        let own = Rect::new(low, high).grown(half * 1.2);
        if clear(&own) {
            continue;
        }
        let by = nearest(&own, |core, moved| {
            if !free(core) {
                None
            } else {
                Some(clear(moved) && free(moved) && frame.contains(moved))
            }
        });
        let Some(by) = by else {
            continue;
        };
        let by = Vector::new(by.x / MM_PER_INCH, -by.y / MM_PER_INCH);
        match item {
            Item::FallsOff { at } => *at = at.plus(by),
            Item::Grain { from, to } => (*from, *to) = (from.plus(by), to.plus(by)),
            _ => {}
        }
    }
    out
}

/// The shortest way to a place that is good; a way ends where `seen` gives none for the box's core.
fn nearest(own: &Rect, seen: impl Fn(&Rect, &Rect) -> Option<bool>) -> Option<Vector> {
    let mut open = [true; WAYS as usize];
    for far in 1..=FURTHEST {
        for (way, open) in (0..WAYS).zip(&mut open).filter(|(_, open)| **open) {
            let toward = Angle(f64::from(way) * 360.0 / f64::from(WAYS));
            let by = Vector::at(toward).times(f64::from(far));
            let core = Rect::around(own.middle().plus(by), 1.0, 1.0);
            let moved = Rect::new(own.low.plus(by), own.high.plus(by));
            match seen(&core, &moved) {
                Some(true) => return Some(by),
                Some(false) => {}
                None => *open = false,
            }
        }
    }
    None
}
