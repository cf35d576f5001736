//! Any convex polygon: corner by corner, each member with its own width.

use crate::inputs::{Inputs, Value};
use crate::layouts::{Answer, Answers, Caution, Detail, Outcome, Refused, Solution};
use crate::parts::{CutName, Part, Sides};
use crate::problem::Problem;
use offsquare_geometry::scene::{Role, Scene};
use offsquare_geometry::{Point, Polygon, Vector, cross, dot};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Area, Length, Quantity, num, say};

/// One member between two corners.
#[derive(Clone, Copy, Debug)]
pub struct Member {
    pub outer: f64,
    pub inner: f64,
    /// How far the cut runs back along the edge at either end (positive: the outer edge is longer).
    pub start_run: f64,
    pub end_run: f64,
    pub width: f64,
}

impl Member {
    /// Degrees off square, signed.
    pub fn start_reading(&self) -> f64 {
        num::atan2_deg(self.start_run, self.width)
    }
    pub fn end_reading(&self) -> f64 {
        num::atan2_deg(self.end_run, self.width)
    }
    fn long_point(&self) -> f64 {
        self.outer - self.start_run.min(0.0) - self.end_run.min(0.0)
    }
    fn short_point(&self) -> f64 {
        self.outer - self.start_run.max(0.0) - self.end_run.max(0.0)
    }
    fn area(&self) -> f64 {
        self.width * (self.outer + self.inner) / 2.0
    }

    pub fn answers(&self) -> Answers {
        let mut a = Answers::new();
        a.length("outer_edge_length", self.outer)
            .length("inner_edge_length", self.inner)
            .angle("start_reading_deg", self.start_reading())
            .angle("end_reading_deg", self.end_reading())
            .length("start_cut_length", num::hypot(self.width, self.start_run))
            .length("end_cut_length", num::hypot(self.width, self.end_run))
            .length("start_tape_mark", self.start_run.abs())
            .length("end_tape_mark", self.end_run.abs())
            .length("long_point_length", self.long_point())
            .length("short_point_length", self.short_point())
            .area("face_area", self.area());
        a
    }

    /// Lying on the saw with the outer edge toward you, inner edge at the fence.
    pub fn part(&self, name: String, count: u32) -> Part {
        let w = self.width;
        let name_of = |name| CutName { name, miter_key: None };
        Part {
            count,
            ..Part::stick(
                name,
                Length(w),
                None,
                &[Point::new(0.0, 0.0), Point::new(self.start_run, w)],
                &[Point::new(self.outer, 0.0), Point::new(self.outer - self.end_run, w)],
                &[name_of("Start"), name_of("End")],
            )
            .called(Sides::OUTER_BELOW.ends("start", "end"))
        }
    }
}

/// What the corners and widths make: corner angles (degrees) and members.
pub struct Frame {
    pub corners: Vec<f64>,
    pub members: Vec<Member>,
    pub inner: Polygon,
}

/// One corner, from the sides that meet in it: what is needed without losing digits where it is
/// nearly straight or nearly closed.
struct Corner {
    deg: f64,
    sin: f64,
    /// Tangent of half of what it turns by, 180° less the corner.
    half_turn: f64,
}

impl Corner {
    /// None where the sides do not turn to the left.
    fn between(before: Vector, after: Vector) -> Option<Corner> {
        let (turn, ahead) = (cross(before, after), dot(before, after));
        let scale = before.length() * after.length();
        // A turn below the last bits of the sides is no corner at all.
        if turn <= scale * 1e-12 || !scale.is_finite() {
            return None;
        }
        Some(Corner {
            deg: num::atan2_deg(turn, -ahead),
            sin: turn / scale,
            half_turn: if ahead >= 0.0 { turn / (scale + ahead) } else { (scale - ahead) / turn },
        })
    }
    /// How far the cut of a member `own` wide runs back along it, its neighbor `other` wide:
    /// (v + w cos C) / sin C, as (v - w) / sin C + w tan(turn / 2).
    fn run(&self, own: f64, other: f64) -> f64 {
        (other - own) / self.sin + own * self.half_turn
    }
}

/// tan m = (v + w cos C) / (w sin C) at a corner of angle C between widths w (own) and v (neighbor).
/// Example: a rectangle's corner, w 2, v 3: the own member reads atan(3/2) = 56.3°.
pub fn frame(outer: &[Point], widths: &[f64]) -> Result<Frame, Refused> {
    let n = outer.len();
    if n < 3 {
        let few = Problem::stop("outer_corners", say!("A frame has at least three corners."));
        return Err(few.with_limit(Quantity::Count(3.0)).into());
    }
    let side = |i: usize| outer[(i + 1) % n] - outer[i % n];
    let mut corners = Vec::with_capacity(n);
    for i in 0..n {
        match Corner::between(side(i + n - 1), side(i)) {
            Some(corner) => corners.push(corner),
            None => return Err(corner_problem(outer, i).into()),
        }
    }
    let around: f64 = corners.iter().map(|c| 180.0 - c.deg).sum();
    if (around - 360.0).abs() > 1e-6 {
        let text = say!("The corners run more than once around: give each once, counterclockwise.");
        return Err(Problem::stop("outer_corners", text).into());
    }
    let members: Vec<Member> = (0..n)
        .map(|i| {
            let (w, before, after) = (widths[i], widths[(i + n - 1) % n], widths[(i + 1) % n]);
            let start_run = corners[i].run(w, before);
            let end_run = corners[(i + 1) % n].run(w, after);
            let outer = side(i).length();
            Member { outer, inner: outer - start_run - end_run, start_run, end_run, width: w }
        })
        .gather();
    // Runs grow with the widths: the same share of all of them that uses up the scarcest side.
    let share = |m: &Member| m.outer / (m.start_run + m.end_run);
    let scarcest = members
        .iter()
        .enumerate()
        .filter(|(_, m)| m.inner <= 0.0)
        .min_by(|a, b| share(a.1).total_cmp(&share(b.1)));
    if let Some((i, m)) = scarcest {
        let limit = Length(m.width * share(m));
        let text = say!(
            "Side {}: the stock is too wide, no inside edge is left. All widths narrowed alike, this \
             one must be less than {}.",
            (i + 1).to_string(),
            limit
        );
        return Err(Problem::stop("widths", text).with_limit(limit).into());
    }
    let inner = Polygon(
        (0..n)
            .filter_map(|i| {
                let along = side(i).unit()?;
                let m = members[i];
                Some(outer[i] + along * m.start_run + along.left() * m.width)
            })
            .gather(),
    );
    Ok(Frame { corners: corners.iter().map(|c| c.deg).gather(), members, inner })
}

fn corner_problem(outer: &[Point], i: usize) -> Problem {
    let area = Polygon(outer.to_vec()).signed_area();
    if area < 0.0 {
        let size = Length;
        let turned = outer.iter().rev().map(|p| (size(p.x), size(p.y))).gather();
        return Problem::stop(
            "outer_corners",
            say!("The corners run clockwise: give them counterclockwise."),
        )
        .mended_by("outer_corners", [Value::Points(turned)]);
    }
    Problem::stop(
        "outer_corners",
        say!(format!(
            "Corner {} does not point outward: each corner must be less than 180°.",
            i + 1
        )),
    )
    .with_limit(Quantity::Angle(Angle(180.0)))
}

/// A frame on outer corners given in inches, counter-clockwise, with a width for each side or one for all
/// (GEOMETRY 7). Stops where a corner does not point outward or a member is too wide for its place.
///
/// Example: 12 by 9, all 2 wide: every reading 45°, the inner edges 8 and 5.
pub fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let points = inputs.points("outer_corners").ok_or(Refused::Missing)?;
    let widths = inputs.lengths("widths").ok_or(Refused::Missing)?;
    let outer: Vec<Point> = points.iter().map(|(x, y)| Point::new(x.0, y.0)).gather();
    let given = widths;
    let widths: Vec<f64> = match widths {
        [one] => vec![one.0; outer.len()],
        all => all.iter().map(|w| w.0).gather(),
    };
    if widths.len() != outer.len() {
        let n = outer.len();
        let text = say!(format!("There are {n} sides: give {n} widths, or one for all."));
        let one = given.first().map(|w| Value::Lengths(vec![*w]));
        let limit = Quantity::Count(n as f64);
        return Err(Problem::stop("widths", text)
            .with_limit(limit)
            .mended_by("widths", one)
            .into());
    }
    let frame = frame(&outer, &widths)?;
    let mut answers = Answers::new();
    answers
        .put(
            "members",
            Answer::List(frame.members.iter().map(|m| Answer::Group(m.answers())).gather()),
        )
        .angles("corner_deg", frame.corners.iter().copied())
        .area("opening_area", frame.inner.area().0);
    let mut solution = Solution {
        way: "polygon",
        title: "Mitered corners",
        answers,
        headline: vec![
            "members.0.start_reading_deg",
            "members.0.end_reading_deg",
            "members.0.outer_edge_length",
            "members.0.inner_edge_length",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        tell(&outer, &widths, &frame, &mut solution);
    }
    let longest =
        frame.members.iter().map(|m| num::hypot(m.width, m.start_run)).fold(0.0, f64::max);
    closing(&mut solution, inputs, frame.members.len(), longest);
    Ok(solution.into())
}

/// Parts, picture and how the readings follow from the corners.
fn tell(outer: &[Point], widths: &[f64], frame: &Frame, solution: &mut Solution) {
    solution.parts = frame
        .members
        .iter()
        .enumerate()
        .map(|(i, m)| m.part(format!("Side {}", i + 1), 1))
        .gather();
    solution.figure = picture(outer, frame);
    // The first side's stock, and its length as a way to the corners.
    let side = outer[1] - outer[0];
    if let Some(inward) = side.unit().map(|u| u.left() * widths[0]) {
        let at = outer[0].toward(outer[1], 0.35);
        solution.figure.given(at, at + inward, 0, Length(widths[0]), "widths");
    }
    for item in &mut solution.figure.items {
        if let offsquare_geometry::scene::Item::Dimension { row: -1, source, .. } = item {
            *source = offsquare_geometry::scene::Source::Given("outer_corners");
        }
    }
    solution.derivation = frame
        .corners
        .iter()
        .zip(&frame.members)
        .enumerate()
        .map(|(i, (c, m))| {
            say!(
                "{}{}; the two readings that meet there add up to 180° less it, {}{}{}.",
                format!("Corner {}: ", i + 1),
                Angle(*c),
                Angle(180.0 - c),
                format!("; side {} reads ", i + 1),
                Angle(m.start_reading())
            )
        })
        .gather();
    if frame.members.iter().any(|m| m.start_reading().max(m.end_reading()) > 50.0) {
        solution.cautions.push(Caution::SteepCut);
    }
}

/// What an error of the saw adds up to at the last corner, and how far that opens there over a cut
/// of `cut_length`: the two faces meet at one end.
/// Source: an error e in each miter adds up to 2 n e (*Wood* magazine: "multiply each adjustment 16
/// times for an octagonal project").
/// Example: 8 corners, 0.1° off: 1.6°; over a 2.16 in cut, 2·2.16·sin 0.8° = 0.06 in.
pub fn closing(solution: &mut Solution, inputs: &Inputs, n: usize, cut_length: f64) {
    let off = inputs.degrees("saw_off_deg").unwrap_or(0.1);
    let error = 2.0 * n as f64 * off;
    let gap = 2.0 * cut_length * num::sin_deg(error.min(180.0) / 2.0);
    solution.answers.angle("closing_error_deg", error).length("closing_gap", gap);
    solution.notes.push(say!(
        "If the saw is off by {} in every cut, the last joint is open by {}, {} over the cut.",
        Angle(off),
        Angle(error),
        Length(gap)
    ));
}

/// The frame from the front: members as stock, miters as cuts, the opening as what shows.
pub fn picture(outer: &[Point], frame: &Frame) -> Scene {
    let n = outer.len();
    let mut scene = Scene::new();
    for i in 0..n {
        let j = (i + 1) % n;
        if let (Some(a), Some(b)) = (frame.inner.0.get(i), frame.inner.0.get(j)) {
            scene.shape(vec![outer[i], outer[j], *b, *a], Role::Stock);
        }
    }
    for (o, i) in outer.iter().zip(&frame.inner.0) {
        scene.line(*o, *i, Role::Cut);
    }
    if let (Some(a), Some(b)) = (outer.first(), outer.get(1)) {
        scene.computed(*a, *b, -1, a.distance(*b), "members.0.outer_edge_length");
    }
    scene.add(offsquare_geometry::scene::Item::Label {
        at: center(&frame.inner.0),
        text: say!(Area(frame.inner.area().0)),
        role: Role::Frame,
    });
    scene
}

fn center(points: &[Point]) -> Point {
    let n = points.len().max(1) as f64;
    let sum = points.iter().fold(Point::ORIGIN, |s, p| Point::new(s.x + p.x, s.y + p.y));
    Point::new(sum.x / n, sum.y / n)
}
