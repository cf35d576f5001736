//! Brackets for a shelf: a level leg at the top, an upright leg on the wall, a knee between them.
//!
//! Several stand side by side, far enough apart not to touch.

use super::ask::Ask;
use super::pattern::{Pattern, Stick, size};
use super::sticks::{Aside, plane, span};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Field, Inputs, Kind, Need, Start};
use offsquare_cuts::layouts::field::{choice, length, option};
use offsquare_cuts::layouts::{Detail, Form, Layout, Outcome, Solution};
use offsquare_cuts::parts::Part;
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Body, Plane, Point3, Vector3};

/// The pattern "shelf_bracket".
pub struct ShelfBracket;

const FORM: Form = Form {
    id: "sizes",
    label: "By its sizes",
    fields: &[
        length("leg_a", "Level leg", 9.0, 230.0).help("Overall, out from the wall.").free(),
        length("leg_b", "Upright leg", 11.0, 280.0).help("Overall, down the wall.").free(),
        length("leg_seen", "Legs, seen", 1.5, 38.0).help("Their size seen from the side."),
        length("leg_away", "Thickness", 1.5, 38.0).help("Of legs and knee, along the wall."),
        length("seat_a", "Seat on the level leg", 6.0, 150.0)
            .help("Inside corner to the knee's outer edge.")
            .free(),
        length("seat_b", "Seat on the upright leg", 7.5, 190.0)
            .help("Inside corner to the knee's outer edge.")
            .free(),
        length("knee_seen", "Knee, seen", 1.5, 38.0).help("Its size seen from the side."),
        choice("joint", "Corner", "butted")
            .of(&[option("mitered", "Mitered"), option("butted", "Upright through")]),
        Field {
            key: "count",
            label: "How many",
            help: "Brackets for the shelf.",
            kind: Kind::Count(1, 24),
            need: Need::Number(2.0),
            start: Start::Number(2.0),
            ..Field::PLAIN
        },
    ],
    also: &[length("long_point_length", "Knee, long point", 9.6, 240.0)
        .help("Along its outer edge.")
        .optional()],
    gives: &["seat_b", "seat_a"],
    off: &[],
};

impl Pattern for ShelfBracket {
    fn sticks(&self) -> &'static [Stick] {
        const LEG: Stick = Stick { name: "leg_a", seen: Some("leg_seen"), away: Some("leg_away") };
        &[
            LEG,
            Stick { name: "leg_b", ..LEG },
            Stick { name: "knee", seen: Some("knee_seen"), ..LEG },
        ]
    }
}

impl Layout for ShelfBracket {
    fn id(&self) -> &'static str {
        "shelf_bracket"
    }
    fn question(&self) -> &'static str {
        "Shelf brackets with knees"
    }
    fn search_words(&self) -> &'static str {
        "shelf basket hook corbel knee wall"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[FORM];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let made = Bracket::read(inputs);
        match made.ask(detail) {
            Ok((answer, problems)) => {
                Outcome { solutions: vec![made.solution(answer, detail)], problems }
            }
            Err(problems) => Outcome { solutions: Vec::new(), problems },
        }
    }
}

/// A bracket; inches.
struct Bracket {
    leg_a: f64,
    leg_b: f64,
    leg_seen: f64,
    thick: f64,
    seat_a: f64,
    seat_b: f64,
    knee: f64,
    mitered: bool,
    count: u32,
}

type Answered = Result<(Solution, Vec<Problem>), Vec<Problem>>;

impl Bracket {
    fn read(inputs: &Inputs) -> Bracket {
        let get = |key| size(inputs, key);
        Bracket {
            leg_a: get("leg_a"),
            leg_b: get("leg_b"),
            leg_seen: get("leg_seen"),
            thick: get("leg_away"),
            seat_a: get("seat_a"),
            seat_b: get("seat_b"),
            knee: get("knee_seen"),
            mitered: inputs.choice("joint") == Some("mitered"),
            count: inputs.number("count").unwrap_or(1.0) as u32,
        }
    }

    fn ask(&self, detail: Detail) -> Answered {
        Ask::of("bracket", "knee")
            .length("leg_a", self.leg_a, "leg_a")
            .length("leg_b", self.leg_b, "leg_b")
            .length("leg_width", self.leg_seen, "leg_seen")
            .length("brace_width", self.knee, "knee_seen")
            .length("seat_a", self.seat_a, "seat_a")
            .length("seat_b", self.seat_b, "seat_b")
            .length("thickness", self.thick, "leg_away")
            .choice("joint", if self.mitered { "mitre" } else { "b_through" }, "joint")
            .one(detail)
    }

    fn solution(&self, answer: Solution, detail: Detail) -> Solution {
        let bodies = if detail == Detail::Full { self.bodies().to_vec() } else { Vec::new() };
        let members: Vec<Member> = answer
            .parts
            .iter()
            .filter_map(|part| {
                let (stick, body) = bodies.iter().find(|(s, _)| *s == stick_of(part))?;
                let beside = |i: u32| {
                    let step = self.thick + self.leg_a;
                    let x = (f64::from(i) - f64::from(self.count - 1) / 2.0) * step;
                    body.moved(Vector3::new(x, 0.0, 0.0))
                };
                Some(Member::of(stick, (0..self.count).map(beside).collect()))
            })
            .collect();
        let parts = answer.parts.iter().map(|p| Part { count: p.count * self.count, ..p.clone() });
        Solution {
            parts: parts.collect(),
            spans: if detail == Detail::Full { self.spans() } else { Vec::new() },
            members,
            figure: Default::default(),
            title: "Brackets",
            ..answer
        }
    }

    /// One bracket: its back on the wall y = 0, its lower end on z = 0, its middle at x = 0.
    fn bodies(&self) -> [(&'static str, Body); 3] {
        let half = self.thick / 2.0;
        let (y, z) = (-self.leg_seen, self.leg_b - self.leg_seen);
        let block = |y0: f64, y1: f64, z0: f64, z1: f64| {
            Body::block(Point3::new(-half, y0, z0), Point3::new(half, y1, z1))
        };
        let top = self.leg_b;
        let mut level = block(-self.leg_a, if self.mitered { 0.0 } else { y }, z, top);
        let mut upright = block(y, 0.0, 0.0, top);
        // Through the inside corner and the outside corner.
        let miter = Plane::through(Point3::new(0.0, y, z), Vector3::new(0.0, 1.0, -1.0));
        if let (true, Some(miter)) = (self.mitered, miter) {
            level = level.cut([miter]);
            upright = upright.cut([miter.flipped()]);
        }
        let (on_a, on_b) =
            (Point3::new(0.0, y - self.seat_a, z), Point3::new(0.0, y, z - self.seat_b));
        let along = on_a - on_b;
        // Away from the corner: down and out.
        let outer = Plane::through(on_a, Vector3::new(0.0, -along.z, along.y));
        let planes = outer.into_iter().flat_map(|outer| {
            [
                outer,
                outer.flipped().moved(self.knee),
                plane((0.0, 1.0, 0.0), y),
                plane((0.0, 0.0, 1.0), z),
                plane((-1.0, 0.0, 0.0), half),
                plane((1.0, 0.0, 0.0), half),
            ]
        });
        [("leg_a", level), ("leg_b", upright), ("knee", Body::of(planes.collect()))]
    }

    fn spans(&self) -> Vec<Span> {
        let x = self.thick / 2.0 + f64::from(self.count - 1) / 2.0 * (self.thick + self.leg_a);
        let at = |y, z| Point3::new(x, y, z);
        let (y, z) = (-self.leg_seen, self.leg_b - self.leg_seen);
        vec![
            span(
                "leg_a",
                self.leg_a,
                at(-self.leg_a, self.leg_b),
                at(0.0, self.leg_b),
                Aside::Above,
            ),
            span("leg_b", self.leg_b, at(0.0, 0.0), at(0.0, self.leg_b), Aside::Right),
            span("seat_a", self.seat_a, at(y - self.seat_a, z), at(y, z), Aside::Below),
            span("seat_b", self.seat_b, at(y, z - self.seat_b), at(y, z), Aside::Front),
        ]
    }
}

fn stick_of(part: &Part) -> &'static str {
    match part.name.as_ref() {
        "Leg A" => "leg_a",
        "Leg B" => "leg_b",
        _ => "knee",
    }
}
