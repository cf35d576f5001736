//! What patterns put together their parts and bodies with.

use offsquare_cuts::assembly::Span;
use offsquare_cuts::inputs::{Field, Kind, Need, Start};
use offsquare_cuts::parts::{CutName, Part};
use offsquare_cuts::problem::Problem;
use offsquare_geometry::scene::Source;
use offsquare_geometry::{Plane, Point, Point3, Vector3};
use offsquare_units::{Length, Quantity, Text, say};

/// A stick or board cut square at both ends; inches.
pub fn square(name: &'static str, count: u32, long: f64, seen: f64, away: f64) -> Part {
    let across = |x| [Point::new(x, 0.0), Point::new(x, seen)];
    let end = CutName { name: "End", miter_key: None };
    let away = Some(Length(away));
    let part = Part::stick(name, Length(seen), away, &across(0.0), &across(long), &[end, end]);
    Part { count, ..part }
}

/// A size that cannot be, and the value of it that would just do; inches.
pub fn past(key: &'static str, text: impl Into<Text>, limit: Length) -> Problem {
    Problem::stop(key, text).with_limit(Quantity::Length(limit))
}

/// What is wrong with sizes that are filled by what stands in them: key, size, what it must be more than,
/// and what fills it ("The sides fill it").
pub fn filled(sizes: &[(&'static str, f64, f64, &'static str)]) -> Vec<Problem> {
    let filled = sizes.iter().filter(|(_, is, least, _)| is <= least);
    filled
        .map(|(key, _, least, what)| {
            let least = Length(*least);
            past(key, say!("{}: it must be more than {}.", *what, least), least)
        })
        .collect()
}

/// A field that says yes or no, and starts so.
pub const fn flag(
    key: &'static str,
    label: &'static str,
    help: &'static str,
    start: bool,
) -> Field {
    Field {
        key,
        label,
        help,
        kind: Kind::Flag,
        need: Need::Optional,
        start: Start::Flag(start),
        ..Field::PLAIN
    }
}

/// The plane n · p = at, whose outside is where n points; n is one inch long.
pub fn plane(n: (f64, f64, f64), at: f64) -> Plane {
    Plane { normal: Vector3::new(n.0, n.1, n.2), at }
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
