//! Full-size templates of more than an end: a whole board, a stretch with marks on it.

use super::template::{
    BODY, SAME, Template, dimension, edges_named, falls_off, finish, named, notes,
    read_from_square, same_edge,
};
use offsquare_cuts::parts::{Cut, End, Part};
use offsquare_cuts::saw::{PartAdvice, wording};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, Style, say};

/// The part's marks, and the figures beside them.
fn marked(scene: &mut Scene, part: &Part) {
    for (a, b) in &part.marks {
        scene.line(*a, *b, Role::Mark);
    }
    for lap in &part.laps {
        let [(a, b), (c, d)] = lap.shoulders;
        scene.shape(vec![a, c, d, b], Role::Waste);
        scene.add(Item::FallsOff { at: a.middle(b).middle(c.middle(d)) });
    }
    for (at, figure) in &part.figures {
        scene.label(*at, say!(Quantity::Figure(*figure)), Role::Mark);
    }
}

/// A stretch of a stick with lines to mark on it: the shoulders of a lap, a seat.
pub(super) fn of_marks(part: &Part, style: &Style) -> Option<Template> {
    let xs = || part.marks.iter().flat_map(|(a, b)| [a.x, b.x]);
    let low = xs().fold(f64::INFINITY, f64::min);
    let high = xs().fold(f64::NEG_INFINITY, f64::max);
    if low > high {
        return None;
    }
    let (from, to) = ((low - BODY / 2.0).max(0.0), (high + BODY).min(part.length.0));
    let seen = part.seen.0;
    let mut scene = Scene::new();
    for y in [0.0, seen] {
        scene.line(Point::new(from, y), Point::new(to, y), Role::Stock);
    }
    for x in [from, to] {
        scene.line(Point::new(x, 0.0), Point::new(x, seen), Role::Hidden);
    }
    marked(&mut scene, part);
    for (a, b) in &part.marks {
        let direction = (*b - *a).direction();
        let off = Angle(offsquare_units::num::acos_deg(direction.sin().abs()));
        if off.0 > 0.05 && off.0 < 89.95 && a.y < b.y {
            scene.line(*a, Point::new(a.x, b.y), Role::Center);
            scene.add(Item::AngleMark {
                at: *a,
                from: Angle(90.0),
                to: direction,
                value: Quantity::Angle(off),
                source: Source::Computed("shoulder"),
            });
            let (square, tip) = (Point::new(a.x.min(b.x), b.y), Point::new(a.x.max(b.x), b.y));
            dimension(&mut scene, (square, tip), 1, Length(tip.x - square.x), "tape_mark");
        }
    }
    named(&mut scene, part, high, to, seen);
    edges_named(&mut scene, part, (high, to), false);
    let mut template = finish(part, scene, style);
    template.name = format!("{} · marks", part.name);
    template.notes = vec!["Lines to mark, not to cut through.".to_owned()];
    // A tape lies along an edge, and is hooked on where that edge begins.
    let nearest = |edge_b: bool| {
        let at = part.marks.iter().map(|(a, b)| if edge_b { b.x } else { a.x });
        Length(at.fold(f64::INFINITY, f64::min) - part.edge_start(edge_b))
    };
    let [lower, upper] = [nearest(false), nearest(true)];
    let start = if (lower - upper).abs().0 < SAME && part.edge_start(false).abs() < SAME {
        say!("The first mark stands {} from the part's left end.", lower)
    } else {
        say!(
            "The first mark stands {} along the lower edge from that edge's left corner, {} along \
             the upper edge from that one's.",
            lower,
            upper
        )
    };
    template.notes.push(start.render(style));
    template.notes.extend(part.laps.iter().map(|l| wording::lap_falls_out(l).render(style)));
    Some(template)
}

/// The template of a whole part: its outline, with the edges to cut on and those of the board told
/// apart, its marks, the grain and the overall sizes.
pub fn whole(part: &Part, advice: &PartAdvice, style: &Style) -> Template {
    let mut scene = Scene::new();
    let corners = &part.outline.0;
    let seen = part.seen.0;
    let turning = if part.outline.signed_area() < 0.0 { -1.0 } else { 1.0 };
    for i in 0..corners.len() {
        let (a, b) = (corners[i], corners[(i + 1) % corners.len()]);
        let cut = part.cuts.iter().find(|c| same_edge(c, a, b));
        let on_edge = |y: f64| (a.y - y).abs() < SAME && (b.y - y).abs() < SAME;
        if cut.is_none() && (on_edge(0.0) || on_edge(seen)) {
            scene.line(a, b, Role::Stock);
            continue;
        }
        scene.line(a, b, Role::Cut);
        // Inside lies to the left of a counter-clockwise outline.
        let out = (b - a).left() * -turning;
        falls_off(&mut scene, a, b, out);
        if let Some(cut) = cut {
            reading(&mut scene, cut, part);
        }
    }
    marked(&mut scene, part);
    if let Some((lo, hi)) = part.outline.bounds() {
        dimension(&mut scene, (lo, Point::new(hi.x, lo.y)), -1, Length(hi.x - lo.x), "length");
        dimension(
            &mut scene,
            (Point::new(lo.x, hi.y), lo),
            // Past the X of a left end.
            -2,
            Length(hi.y - lo.y),
            "seen",
        );
        let core = inside(corners).unwrap_or((lo.x, hi.x));
        named(&mut scene, part, core.0, core.1, seen);
        edges_named(&mut scene, part, core, false);
    }
    let mut template = finish(part, scene, style);
    template.notes = notes(part, advice, &|_| true, style);
    template
}

/// The stretch along x that the outline covers at a third and at two thirds of its height.
fn inside(corners: &[Point]) -> Option<(f64, f64)> {
    let ys = || corners.iter().map(|p| p.y);
    let (low, high) = (ys().fold(f64::INFINITY, f64::min), ys().fold(f64::NEG_INFINITY, f64::max));
    let mut span: Option<(f64, f64)> = None;
    for share in [0.32, 0.68] {
        let y = low + (high - low) * share;
        let mut xs: Vec<f64> = (0..corners.len())
            .filter_map(|i| {
                let (a, b) = (corners[i], corners[(i + 1) % corners.len()]);
                ((a.y <= y) != (b.y <= y)).then(|| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
            })
            .gather();
        offsquare_units::num::sort(&mut xs);
        let widest = xs.chunks_exact(2).max_by(|p, q| (p[1] - p[0]).total_cmp(&(q[1] - q[0])))?;
        span = Some(match span {
            None => (widest[0], widest[1]),
            Some((a, b)) => (a.max(widest[0]), b.min(widest[1])),
        });
    }
    span.filter(|(a, b)| a < b)
}

/// The angle between a slanted cut and the square line, on the inside of the outline.
fn reading(scene: &mut Scene, cut: &Cut, part: &Part) {
    let run = cut.to.x - cut.from.x;
    if run.abs() < 1e-3 || cut.miter.0 < 0.05 {
        return;
    }
    // The square line stands inside at the corner that reaches further out.
    let from_out = match cut.end {
        End::Right => cut.from.x > cut.to.x,
        _ => cut.from.x < cut.to.x,
    };
    let (foot, tip) = if from_out { (cut.to, cut.from) } else { (cut.from, cut.to) };
    let square = Point::new(foot.x, tip.y);
    if square.y < -SAME || square.y > part.seen.0 + SAME {
        return;
    }
    read_from_square(scene, cut, foot, square, tip);
}
