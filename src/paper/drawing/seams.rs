//! What stands free in a figure, off the lines on which pages meet.

use super::mark::Rect;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_geometry::{Point, Vector};
use offsquare_units::Angle;
use offsquare_units::MM_PER_INCH;

/// No further than this is anything moved, mm.
const FURTHEST: u32 = 80;
/// Ways in which a place is looked for.
const WAYS: u32 = 16;

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
                for i in 0..outline.len() {
                    lines.push((at(outline[i]), at(outline[(i + 1) % outline.len()])));
                }
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
        let own = Rect::around(
            p.middle(q),
            (q.x - p.x).abs() + 2.4 * half,
            (q.y - p.y).abs() + 2.4 * half,
        );
        if clear(&own) {
            continue;
        }
        // In steps of 1 mm, all ways at once; a way ends where the middle would cross a line.
        let mut open = [true; WAYS as usize];
        'found: for far in 1..=FURTHEST {
            for way in 0..WAYS {
                let toward = Angle(f64::from(way) * 360.0 / f64::from(WAYS));
                let by = Vector::at(toward) * f64::from(far);
                let moved = Rect::new(own.low + by, own.high + by);
                let open = &mut open[way as usize];
                *open &= free(&Rect::around(moved.middle(), 1.0, 1.0));
                if !*open || !clear(&moved) || !frame.contains(&moved) || !free(&moved) {
                    continue;
                }
                let by = Vector::new(by.x / MM_PER_INCH, -by.y / MM_PER_INCH);
                match item {
                    Item::FallsOff { at } => *at = *at + by,
                    Item::Grain { from, to } => (*from, *to) = (*from + by, *to + by),
                    _ => {}
                }
                break 'found;
            }
        }
    }
    out
}
