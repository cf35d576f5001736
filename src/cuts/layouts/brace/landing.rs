//! How a strip lands in a four-sided opening: its two end lines, in its own frame.

use crate::inputs::Inputs;
use crate::parts::{CutName, Part, Sides};
use offsquare_geometry::{Line, Point, Polygon, Vector, cross, dot};
use offsquare_units::num::Gather;
use offsquare_units::{Length, num};

/// The four ways to land.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Landing {
    /// Centered on the diagonal, each end cut twice.
    Corner,
    /// Both ends flat on the rails.
    Rails,
    /// Both ends flat on the stiles.
    Stiles,
    /// One edge on the diagonal, the strip above or below it.
    Edge { above: bool },
}

impl Landing {
    /// The landing of that key.
    pub fn of(key: &str, above: bool) -> Landing {
        match key {
            "corner" => Landing::Corner,
            "rails" => Landing::Rails,
            "stiles" => Landing::Stiles,
            _ => Landing::Edge { above },
        }
    }
    /// Whether the two ends are cut differently.
    pub fn ends_differ(self) -> bool {
        matches!(self, Landing::Edge { .. })
    }
    pub fn key(self) -> &'static str {
        match self {
            Landing::Corner => "corner",
            Landing::Rails => "rails",
            Landing::Stiles => "stiles",
            Landing::Edge { .. } => "edge",
        }
    }
    pub fn title(self) -> &'static str {
        match self {
            Landing::Corner => "Point in the corner",
            Landing::Rails => "Flat on the rails",
            Landing::Stiles => "Flat on the stiles",
            Landing::Edge { .. } => "Edge on the diagonal",
        }
    }
}

/// An opening by its corners: lower left, lower right, upper right, upper left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening(pub [Point; 4]);

impl Opening {
    pub fn rectangle(width: f64, height: f64) -> Opening {
        Opening([
            Point::ORIGIN,
            Point::new(width, 0.0),
            Point::new(width, height),
            Point::new(0.0, height),
        ])
    }
    /// Bottom, right, top and left; those that lie along each other run the same way.
    fn sides(&self) -> [(Point, Point); 4] {
        let [a, b, c, d] = self.0;
        [(a, b), (b, c), (d, c), (a, d)]
    }
}

/// A strip laid in an opening. Its frame: x along it (upward), y across from edge A (right, 0) to
/// edge B (left, its width).
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    pub width: f64,
    pub along: Vector,
    /// The frame's origin in the opening.
    pub origin: Point,
    /// End lines from edge A to edge B: two corners for one cut, three for a point.
    pub lower: Vec<Point>,
    pub upper: Vec<Point>,
    /// Degrees off square of each cut, lower end first, each end from edge A to edge B.
    pub readings: Vec<f64>,
}

impl Strip {
    /// Lays a strip; none where it does not land inside the sides that it should land on.
    pub fn lay(opening: &Opening, landing: Landing, width: f64) -> Option<Strip> {
        let [c1, _, c3, _] = opening.0;
        let diagonal = c3 - c1;
        let d = diagonal.length();
        let turns = matches!(landing, Landing::Rails | Landing::Stiles);
        if width <= 0.0 || (turns && width >= d) {
            return None;
        }
        let u = diagonal.unit()?;
        // The slope turned by asin(s/D): left for the rails, right for the stiles.
        let (sin, cos) = (width / d, num::sqrt(((d - width) * (d + width)).max(0.0)) / d);
        let turned =
            |sign: f64| Vector::new(u.x * cos - sign * u.y * sin, u.y * cos + sign * u.x * sin);
        let [bottom, right, top, left] = opening.sides();
        // Direction, a point on edge A, and the sides met by (lower A, lower B, upper A, upper B).
        let (along, on_a, sides) = match landing {
            Landing::Corner => {
                let a = c1 + u.left() * (-width / 2.0);
                (u, a, [bottom, left, right, top])
            }
            Landing::Rails => (turned(1.0), c3, [bottom, bottom, top, top]),
            Landing::Stiles => (turned(-1.0), c1, [left, left, right, right]),
            Landing::Edge { above: true } => (u, c1, [left, left, top, top]),
            Landing::Edge { above: false } => {
                let a = c1 + (u.left() * -width);
                (u, a, [bottom, bottom, right, right])
            }
        };
        let across = along.left();
        let edge_a = Line { at: on_a, along };
        let edge_b = edge_a.moved_left(Length(width))?;
        let frame = |p: Point| {
            let v = p - on_a;
            Point::new(dot(v, along), dot(v, across))
        };
        // Where an edge meets a side, if within it.
        let meet = |edge: &Line, side: (Point, Point), y: f64| {
            let p = edge.meets(&Line::through(side.0, side.1))?;
            let run = side.1 - side.0;
            let share = dot(p - side.0, run) / dot(run, run);
            let slack = 1e-12;
            ((-slack..=1.0 + slack).contains(&share)).then(|| Point::new(frame(p).x, y))
        };
        let mut lower = vec![meet(&edge_a, sides[0], 0.0)?];
        let mut upper = vec![meet(&edge_a, sides[2], 0.0)?];
        if landing == Landing::Corner {
            lower.push(Point::new(frame(c1).x, width / 2.0));
            upper.push(Point::new(frame(c3).x, width / 2.0));
        }
        lower.push(meet(&edge_b, sides[1], width)?);
        upper.push(meet(&edge_b, sides[3], width)?);
        // From the sides themselves: exact however thin the strip.
        let off_square = |side: (Point, Point)| {
            let run = side.1 - side.0;
            num::atan2_deg(dot(run, along).abs(), cross(along, run).abs())
        };
        let cut_on: &[(Point, Point)] = match landing {
            Landing::Corner => &sides,
            _ => &[sides[0], sides[2]],
        };
        let strip = Strip {
            width,
            along,
            origin: on_a,
            lower,
            upper,
            readings: cut_on.iter().map(|side| off_square(*side)).gather(),
        };
        // Both edges keep some length.
        (strip.edge_a() > 0.0 && strip.edge_b() > 0.0).then_some(strip)
    }

    /// The mirror image about the upright line x = `about`: runs from lower right to upper left.
    pub fn mirrored(&self, about: f64) -> Strip {
        let flip = |line: &[Point]| -> Vec<Point> {
            line.iter().rev().map(|p| Point::new(p.x, self.width - p.y)).gather()
        };
        let b = self.origin + self.along.left() * self.width;
        Strip {
            width: self.width,
            along: Vector::new(-self.along.x, self.along.y),
            origin: Point::new(2.0 * about - b.x, b.y),
            lower: flip(&self.lower),
            upper: flip(&self.upper),
            readings: flip_each_end(&self.readings),
        }
    }

    pub fn edge_a(&self) -> f64 {
        ends(&self.upper).0 - ends(&self.lower).0
    }
    pub fn edge_b(&self) -> f64 {
        ends(&self.upper).1 - ends(&self.lower).1
    }
    /// Where edge A and edge B begin, along the strip.
    pub fn starts(&self) -> (f64, f64) {
        ends(&self.lower)
    }
    /// The lowest point of the lower end, along the strip.
    pub fn least(&self) -> f64 {
        self.lower.iter().fold(f64::INFINITY, |m, p| m.min(p.x))
    }
    pub fn most(&self) -> f64 {
        self.upper.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.x))
    }
    /// From the furthest point of one end to the furthest of the other.
    pub fn long_point(&self) -> f64 {
        self.most() - self.least()
    }
    /// Between the nearest points of the two ends; negative if they overlap.
    pub fn short_point(&self) -> f64 {
        let near = self.upper.iter().fold(f64::INFINITY, |m, p| m.min(p.x));
        let far = self.lower.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.x));
        near - far
    }
    /// The straight distance between the two tips.
    pub fn tip_to_tip(&self) -> f64 {
        let lowest = self.lower.iter().fold(self.lower[0], |m, p| if p.x < m.x { *p } else { m });
        let highest = self.upper.iter().fold(self.upper[0], |m, p| if p.x > m.x { *p } else { m });
        lowest.distance(highest).0
    }
    /// A point of the strip's frame in the opening.
    pub fn place(&self, p: Point) -> Point {
        self.origin + self.along * p.x + self.along.left() * p.y
    }
    /// The same the other way round.
    pub fn frame(&self, p: Point) -> Point {
        let v = p - self.origin;
        Point::new(dot(v, self.along), cross(self.along, v))
    }
    /// How the strip rises over +x; over 90 where it leans back.
    pub fn slope(&self) -> f64 {
        num::atan2_deg(self.along.y, self.along.x)
    }
    /// The strip's end cuts, lower end first, each from edge A to edge B.
    pub fn cuts(&self) -> Vec<(Point, Point)> {
        let pairs = self.lower.windows(2).chain(self.upper.windows(2));
        pairs.map(|w| (w[0], w[1])).gather()
    }
    pub fn outline(&self) -> Vec<Point> {
        let mut all = vec![self.lower[0]];
        all.extend(&self.upper);
        all.extend(self.lower[1..].iter().rev());
        all.iter().map(|p| self.place(*p)).gather()
    }
    /// The opening in the frame of [`Strip::part`].
    pub fn around(&self, opening: &Opening) -> Polygon {
        let least = self.least();
        let at = |p: &Point| {
            let p = self.frame(*p);
            Point::new(p.x - least, p.y)
        };
        Polygon(opening.0.iter().map(at).gather())
    }
    /// The strip as a part, cut by cut.
    pub fn part(&self, name: &'static str, thickness: Option<Length>, names: &[CutName]) -> Part {
        Part::stick(name, Length(self.width), thickness, &self.lower, &self.upper, names)
            .called(Sides::RISING)
    }
}

/// An end with two cuts is read the other way round in the mirror image.
fn flip_each_end(readings: &[f64]) -> Vec<f64> {
    let each = (readings.len() / 2).max(1);
    readings.chunks(each).flat_map(|end| end.iter().rev().copied()).gather()
}

/// Where a line begins on edge A and ends on edge B.
fn ends(line: &[Point]) -> (f64, f64) {
    (line.first().map_or(0.0, |p| p.x), line.last().map_or(0.0, |p| p.x))
}

/// Degrees off square of the stretch between two corners of an end line.
pub fn reading(a: Point, b: Point) -> f64 {
    num::atan2_deg((b.x - a.x).abs(), (b.y - a.y).abs())
}

/// Which landings are asked for: the named ones, or all four, in GEOMETRY's order.
pub fn asked(inputs: &Inputs) -> Vec<Landing> {
    let above = inputs.choice("side") == Some("above");
    let mut all = vec![Landing::Corner, Landing::Rails, Landing::Stiles, Landing::Edge { above }];
    let named = inputs.choices("ends");
    if !named.is_empty() {
        all.retain(|l| named.contains(&l.key()));
    }
    all
}
