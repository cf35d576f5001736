//! Templates to wrap around round stock: the cut as a curve on the unrolled skin.

use super::template::{BODY, PAST, Template, finish, named, notes};
use offsquare_cuts::parts::{Cut, End, Part};
use offsquare_cuts::saw::PartAdvice;
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_units::num::Gather;
use offsquare_units::{Style, lower_first, num};

/// Stretches that the curve is drawn in: the chord of a 10 in curve stays within 0.02 mm of it.
const STEPS: u32 = 180;

/// Round stock about an axis along x at y = seen/2, straight or tapered.
struct Skin {
    /// Radius at x = 0, and what it gains for every inch along.
    radius: f64,
    gain: f64,
    middle: f64,
}

impl Skin {
    /// From the two long edges of the part, which lie alike to both sides of the axis.
    fn of(part: &Part) -> Option<Skin> {
        let at = |end| part.cuts.iter().find(|c| c.end == end);
        let (l, r) = (at(End::Left)?, at(End::Right)?);
        let slope = |a: Point, b: Point| (b.y - a.y) / (b.x - a.x);
        let (low, high) = (slope(l.from, r.from), slope(l.to, r.to));
        let middle = part.seen.0 / 2.0;
        let radius = l.to.y - high * l.to.x - middle;
        let alike = (low + high).abs() < 1e-9
            && (middle - (l.from.y - low * l.from.x) - radius).abs() < 1e-9 * part.seen.0;
        (alike && radius > 0.0 && high.is_finite()).then_some(Skin { radius, gain: high, middle })
    }

    /// Where the cut passes the skin at `angle` from the edge toward you: along the axis.
    fn along(&self, cut: &Cut, angle: f64) -> f64 {
        let run = (cut.to.x - cut.from.x) / (cut.to.y - cut.from.y);
        let center = cut.from.x + run * (self.middle - cut.from.y);
        // x = center + run·u with u = -cos(angle)·(radius + gain·x).
        let out = -num::cos_deg(angle) * run;
        (center + out * self.radius) / (1.0 - out * self.gain)
    }

    /// A place of the skin on the flat paper: x along, y around, the middle of the sheet opposite you.
    ///
    /// A taper unrolls to part of a ring about its apex: distance from the apex along the skin,
    /// angle around the stock times the sine of the taper.
    fn unrolled(&self, x: f64, angle: f64) -> Point {
        let around = (angle - 180.0).to_radians();
        if self.gain.abs() < 1e-9 {
            return Point::new(x, self.radius * around);
        }
        let apex = -self.radius / self.gain;
        let stretch = num::sqrt(1.0 + self.gain * self.gain);
        let reach = (x - apex) * stretch;
        let turn = around * self.gain / stretch;
        let degrees = turn.to_degrees();
        Point::new(apex * stretch + reach * num::cos_deg(degrees), reach * num::sin_deg(degrees))
    }
}

/// The wrap-around template of each slanted end of a round part; none where it is not round about an
/// axis along it, or cut otherwise than by one plain miter an end.
///
/// Example: 2 in round, 30°: over half way around, 3.14 in, the line runs 2·tan 30° = 1.15 in along.
pub fn wraps(part: &Part, advice: &PartAdvice, style: &Style) -> Vec<Template> {
    let Some(skin) = Skin::of(part) else {
        return Vec::new();
    };
    [End::Left, End::Right]
        .into_iter()
        .filter_map(|end| {
            let mut cuts = part.cuts.iter().filter(|c| c.end == end);
            let cut = cuts.next().filter(|c| c.miter.0 > 0.02 && c.bevel.0 == 0.0)?;
            cuts.next().is_none().then(|| wrap(part, &skin, (cut, advice), style))
        })
        .gather()
}

fn wrap(part: &Part, skin: &Skin, (cut, advice): (&Cut, &PartAdvice), style: &Style) -> Template {
    let inwards = if cut.end == End::Right { -1.0 } else { 1.0 };
    let xs = [skin.along(cut, 0.0), skin.along(cut, 180.0)];
    let (low, high) = (xs[0].min(xs[1]), xs[0].max(xs[1]));
    let (inner, outer) =
        if inwards > 0.0 { (high + BODY, low - PAST) } else { (low - BODY, high + PAST) };
    let degrees = |i: u32| f64::from(i) * 360.0 / f64::from(STEPS);
    let line = |at: &dyn Fn(f64) -> f64| -> Vec<Point> {
        (0..=STEPS).map(|i| skin.unrolled(at(degrees(i)), degrees(i))).gather()
    };
    let cut_line = line(&|a| skin.along(cut, a));
    let mut scene = Scene::new();
    let mut waste = cut_line.clone();
    waste.extend(line(&|_| outer).into_iter().rev());
    scene.shape(waste, Role::Waste);
    for pair in cut_line.windows(2) {
        scene.line(pair[0], pair[1], Role::Cut);
    }
    for pair in line(&|_| inner).windows(2) {
        scene.line(pair[0], pair[1], Role::Hidden);
    }
    for seam in [0.0, 360.0] {
        let (a, b) = (skin.unrolled(inner, seam), skin.unrolled(outer, seam));
        scene.line(a, b, Role::Stock);
    }
    // The line along the stock on the far side, to set it straight by.
    scene.line(skin.unrolled(inner, 180.0), skin.unrolled(outer, 180.0), Role::Center);
    for side in [90.0, 270.0] {
        let at = skin.along(cut, side) - inwards * PAST * 0.6;
        scene.add(Item::FallsOff { at: skin.unrolled(at, side) });
    }
    let from = if inwards > 0.0 { high } else { low };
    let half = skin.unrolled(inner, 360.0).y;
    named(&mut scene, part, from, inner, half);
    let mut template = finish(part, scene, style);
    template.name = match cut.name.split(" · ").next().unwrap_or_default() {
        "" => format!("{} · wrap", part.name),
        name => format!("{} · {}, to wrap around", part.name, lower_first(name)),
    };
    template.notes = notes(part, advice, &|c| c == cut, style);
    template.notes.push("Cut it out along its long edges, wrap it around the stock so that they meet on the side toward you, and draw along the line.".to_owned());
    template
}
