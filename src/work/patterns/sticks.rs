//! What patterns put together their parts and bodies with.

use offsquare_cuts::assembly::Span;
use offsquare_cuts::inputs::{Field, Kind, Need, Start};
use offsquare_cuts::layouts::Refused;
use offsquare_cuts::parts::{CutName, Part};
use offsquare_cuts::problem::Problem;
use offsquare_geometry::scene::Source;
use offsquare_geometry::{Body, Plane, Point, Point3, Vector3};
use offsquare_units::{Length, Quantity, Text, say};

/// A stick or board cut square at both ends; inches.
pub fn square(name: &'static str, long: f64, seen: f64, away: f64) -> Part {
    let across = |x| [Point::new(x, 0.0), Point::new(x, seen)];
    let end = CutName { name: "End", miter_key: None };
    let away = Some(Length(away));
    Part::stick(name, Length(seen), away, &across(0.0), &across(long), &[end, end])
}

/// Refuses sizes that are filled by what stands in them: key, size, what it must be more than, and what
/// fills it ("The sides fill it").
pub fn filled(sizes: &[(&'static str, f64, f64, &'static str)]) -> Result<(), Refused> {
    let filled = sizes.iter().filter(|(_, is, least, _)| is <= least);
    let problem = |(key, _, least, what): &(&'static str, f64, f64, &'static str)| {
        let least = Length(*least);
        past(key, say!("{}: it must be more than {}.", *what, least), least)
    };
    Refused::if_any(filled.map(problem).collect())
}

/// A size that cannot be, and the value of it that would just do; inches.
pub fn past(key: &'static str, text: impl Into<Text>, limit: Length) -> Problem {
    Problem::stop(key, text).with_limit(Quantity::Length(limit))
}

/// A field that says yes or no, and starts so.
pub const fn flag(
    key: &'static str,
    label: &'static str,
    help: &'static str,
    start: bool,
) -> Field {
    let start = Start::Flag(start);
    Field { key, label, help, kind: Kind::Flag, need: Need::Optional, start, ..Field::PLAIN }
}

/// The plane n · p = at, whose outside is where n points; n is one inch long.
pub fn plane(n: (f64, f64, f64), at: f64) -> Plane {
    Plane { normal: Vector3::new(n.0, n.1, n.2), at }
}

/// An upright block: from where to where in x, y and z.
pub fn block(x: [f64; 2], y: [f64; 2], z: [f64; 2]) -> Body {
    Body::block(Point3::new(x[0], y[0], z[0]), Point3::new(x[1], y[1], z[1]))
}

/// What lies between two heights.
pub fn level(low: f64, high: f64) -> [Plane; 2] {
    [plane((0.0, 0.0, -1.0), 0.0 - low), plane((0.0, 0.0, 1.0), high)]
}

/// A part on the right, and its mirror image on the left, which comes first.
pub fn pair(right: Body) -> Vec<Body> {
    vec![right.mirrored_x(), right]
}

/// To which side of the piece a size is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aside {
    Left,
    Right,
    Front,
    Above,
    Below,
}

/// A size that was given, where it stands in the piece.
pub fn span(key: &'static str, value: f64, from: Point3, to: Point3, aside: Aside) -> Span {
    let aside = match aside {
        Aside::Left => Vector3::new(-1.0, 0.0, 0.0),
        Aside::Right => Vector3::new(1.0, 0.0, 0.0),
        Aside::Front => Vector3::new(0.0, -1.0, 0.0),
        Aside::Above => Vector3::new(0.0, 0.0, 1.0),
        Aside::Below => Vector3::new(0.0, 0.0, -1.0),
    };
    let value = Quantity::Length(Length(value));
    Span { from, to, aside, value, source: Source::Given(key) }
}

/// Width, depth and height of a piece whose middle stands on the origin.
pub fn overall(width: f64, depth: f64, height: f64) -> Vec<Span> {
    let (x, y, at) = (width / 2.0, depth / 2.0, Point3::new);
    vec![
        span("width", width, at(-x, -y, 0.0), at(x, -y, 0.0), Aside::Front),
        span("depth", depth, at(x, -y, 0.0), at(x, y, 0.0), Aside::Right),
        span("height", height, at(-x, -y, 0.0), at(-x, -y, height), Aside::Left),
    ]
}
