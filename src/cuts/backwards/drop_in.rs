//! Whether a part that was cut wrong still drops into its opening, and how much must come off it.

use crate::parts::{Cut, End, Part};
use offsquare_geometry::{Point, Polygon, Vector, cross, dot};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, num};

/// What went wrong in the cutting.
#[derive(Clone, Copy, Debug)]
pub(super) enum Fault<'a> {
    /// Every cut of this answer is so many degrees off. The length `kept` is true: the cut turns about the end
    /// of the edge that has this length, or about its own furthest point where it is measured there.
    Reading { answer: &'a str, by: Angle, kept: Option<Length> },
    /// The part is so much too long.
    Length(Length),
}

/// The part may be turned so far, degrees, to get it in; further, and it would not lie where it belongs.
const TURNED: f64 = 1.5;
/// Places to try on either side.
const TRIES: i32 = 8;

/// The least that must come off the right end, the cut kept as it is, before the part can be laid in the
/// opening: nothing where it drops in, none where no shortening helps.
///
/// `opening` is convex, counter-clockwise, in the part's frame. Example: a strip between two rails that
/// is 1/32 in long, cut 45°, drops in when 1/32 in is taken off.
pub(super) fn to_take_off(part: &Part, opening: &Polygon, fault: Fault) -> Option<Length> {
    let walls = Walls::of(opening)?;
    let snug = 1e-9 * part.length.0;
    let fits = |off: f64| walls.room(&outline(part, fault, off)) >= -snug;
    if fits(0.0) {
        return Some(Length(0.0));
    }
    let (mut least, mut most) = (0.0, part.length.0 / 1024.0);
    while !fits(most) {
        (least, most) = (most, most * 2.0);
        if most > part.length.0 / 2.0 {
            return None;
        }
    }
    for _ in 0..30 {
        let middle = (least + most) / 2.0;
        if fits(middle) { most = middle } else { least = middle }
    }
    Some(Length(most))
}

/// The outline as it comes off the saw, `off` taken from its right end.
fn outline(part: &Part, fault: Fault, off: f64) -> Vec<Point> {
    let (long, seen) = (part.length.0, part.seen.0);
    let count = part.outline.0.len().max(1) as f64;
    let middle = part
        .outline
        .0
        .iter()
        .fold(Point::ORIGIN, |m, p| Point::new(m.x + p.x / count, m.y + p.y / count));
    let mut shape: Vec<Point> =
        [(-long, 0.0), (2.0 * long, 0.0), (2.0 * long, seen), (-long, seen)]
            .map(|(x, y)| Point::new(x, y))
            .to_vec();
    for cut in part.cuts.iter().filter(|c| c.end != End::Along) {
        let (at, along) = line(part, cut, fault);
        // The part lies on the left of its cuts.
        let along = if cross(along, middle - at) > 0.0 { along } else { -along };
        let moved = if cut.end == End::Right {
            -off + if let Fault::Length(by) = fault { by.0 } else { 0.0 }
        } else {
            0.0
        };
        shape = cut_off(&shape, Point::new(at.x + moved, at.y), along);
    }
    shape
}

/// A cut's line as it was sawn.
fn line(part: &Part, cut: &Cut, fault: Fault) -> (Point, Vector) {
    let run = cut.to - cut.from;
    let Fault::Reading { answer, by, kept } = fault else { return (cut.from, run) };
    if cut.miter_key != Some(answer) {
        return (cut.from, run);
    }
    let same = |edge: Length| kept.is_some_and(|k| (k.0 - edge.0).abs() <= 1e-9 * k.0);
    let (low, high) = if cut.from.y < cut.to.y { (cut.from, cut.to) } else { (cut.to, cut.from) };
    let further = if cut.end == End::Left { low.x < high.x } else { low.x > high.x };
    let pivot = match (same(part.edge_b), same(part.edge_a)) {
        (true, _) => high,
        (_, true) => low,
        _ if further => low,
        _ => high,
    };
    let set = cut.miter.0 + by.0;
    let lean = if high.x < low.x { -1.0 } else { 1.0 };
    (pivot, Vector::new(lean * num::sin_deg(set), num::cos_deg(set)))
}

/// What is left of a convex outline on the left of a line.
fn cut_off(shape: &[Point], at: Point, along: Vector) -> Vec<Point> {
    let side = |p: Point| cross(along, p - at);
    let mut left = Vec::new();
    for (i, &p) in shape.iter().enumerate() {
        let next = shape[(i + 1) % shape.len()];
        let (here, there) = (side(p), side(next));
        if here >= 0.0 {
            left.push(p);
        }
        if (here > 0.0 && there < 0.0) || (here < 0.0 && there > 0.0) {
            left.push(p.toward(next, here / (here - there)));
        }
    }
    left
}

/// An opening's sides, each by its outward normal and how far it stands from the origin.
struct Walls {
    sides: Vec<(Vector, f64)>,
    /// Sides between which a part can be caught: two that face each other, or three around it, with the
    /// share of each; shares of the normals add up to nothing.
    catches: Vec<Vec<(usize, f64)>>,
}

impl Walls {
    fn of(opening: &Polygon) -> Option<Walls> {
        let corners = &opening.0;
        let sides: Vec<(Vector, f64)> = (0..corners.len())
            .map(|i| {
                let run = (corners[(i + 1) % corners.len()] - corners[i]).unit()?;
                let out = -run.left();
                Some((out, dot(out, corners[i] - Point::ORIGIN)))
            })
            .collect::<Option<_>>()?;
        let mut catches = Vec::new();
        let n = |i: usize| sides[i].0;
        for i in 0..sides.len() {
            for j in i + 1..sides.len() {
                if dot(n(i), n(j)) < 0.0 && cross(n(i), n(j)).abs() < 1e-9 {
                    catches.push(vec![(i, 0.5), (j, 0.5)]);
                }
                for k in j + 1..sides.len() {
                    let shares = [cross(n(j), n(k)), cross(n(k), n(i)), cross(n(i), n(j))];
                    let sum = shares[0] + shares[1] + shares[2];
                    if shares.iter().all(|s| s / sum > 1e-9) {
                        catches.push([i, j, k].into_iter().zip(shares.map(|s| s / sum)).gather());
                    }
                }
            }
        }
        Some(Walls { sides, catches })
    }

    /// How much room is left all around the outline where it lies best, turned a little if that helps;
    /// less than 0 where it does not go in.
    fn room(&self, shape: &[Point]) -> f64 {
        let at = |degrees: f64| self.room_turned(shape, degrees);
        let step = TURNED / f64::from(TRIES);
        let places = (-TRIES..=TRIES).map(|i| f64::from(i) * step);
        let best = places.fold((f64::NEG_INFINITY, 0.0), |best, x| {
            let here = at(x);
            if here > best.0 { (here, x) } else { best }
        });
        // The golden section between its neighbors.
        let share = (num::sqrt(5.0) - 1.0) / 2.0;
        let (mut from, mut to) = (best.1 - step, best.1 + step);
        let (mut a, mut b) = (to - (to - from) * share, from + (to - from) * share);
        let (mut at_a, mut at_b) = (at(a), at(b));
        for _ in 0..40 {
            if at_a > at_b {
                (to, b, at_b) = (b, a, at_a);
                a = to - (to - from) * share;
                at_a = at(a);
            } else {
                (from, a, at_a) = (a, b, at_b);
                b = from + (to - from) * share;
                at_b = at(b);
            }
        }
        best.0.max(at_a).max(at_b)
    }

    /// The same with the outline turned so many degrees: the largest distance that it can keep from every
    /// side at once is the least over all catches of the shared distances (duality of linear programs).
    fn room_turned(&self, shape: &[Point], degrees: f64) -> f64 {
        let (cos, sin) = (num::cos_deg(degrees), num::sin_deg(degrees));
        let free: Vec<f64> = self
            .sides
            .iter()
            .map(|(out, far)| {
                // The normal turned back instead of every corner turned.
                let out = Vector::new(out.x * cos + out.y * sin, out.y * cos - out.x * sin);
                let reach = |m: f64, p: &Point| m.max(dot(out, *p - Point::ORIGIN));
                far - shape.iter().fold(f64::NEG_INFINITY, reach)
            })
            .gather();
        let of = |catch: &Vec<(usize, f64)>| catch.iter().map(|(i, s)| free[*i] * s).sum::<f64>();
        self.catches.iter().map(of).fold(f64::INFINITY, f64::min)
    }
}
