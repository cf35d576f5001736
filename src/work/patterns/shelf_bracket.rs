//! Brackets for a shelf: a level leg at the top, an upright leg on the wall, a knee between them.
//!
//! Several stand side by side, far enough apart not to touch.

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, needed, told};
use super::sticks::{Aside, block, plane, span};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::Inputs;
use offsquare_cuts::layouts::field::{choice, count, length, option};
use offsquare_cuts::layouts::{Declared, Detail, Form, Outcome, Refused};
use offsquare_cuts::parts::Part;
use offsquare_geometry::{Body, Plane, Point3, Vector3};

const FORM: Form = Form {
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
        count("count", "How many", (1, 24), 2.0).standing(2.0).help("Brackets for the shelf."),
    ],
    also: &[length("long_point_length", "Knee, long point", 9.6, 240.0)
        .help("Along its outer edge.")
        .optional()],
    gives: &["seat_b", "seat_a"],
    ..SIZES
};

const LEG: Stick = Stick { name: "leg_a", seen: Some("leg_seen"), away: Some("leg_away") };

/// The pattern "shelf_bracket".
pub static SHELF_BRACKET: Pattern = Pattern {
    layout: Declared {
        id: "shelf_bracket",
        question: "Shelf brackets with knees",
        search_words: "shelf basket hook corbel knee wall",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        LEG,
        Stick { name: "leg_b", ..LEG },
        Stick { name: "knee", seen: Some("knee_seen"), ..LEG },
    ],
    instead: &[],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let [leg_a, leg_b, leg_seen, thick] =
        needed(inputs, ["leg_a", "leg_b", "leg_seen", "leg_away"])?;
    let [seat_a, seat_b, knee, count] = needed(inputs, ["seat_a", "seat_b", "knee_seen", "count"])?;
    let mitered = inputs.choice("joint") == Some("mitered");
    let made = Bracket { leg_a, leg_b, leg_seen, thick, seat_a, seat_b, knee, mitered };
    let (mut answer, problems) = Ask::of("bracket", "knee")
        .length("leg_a", leg_a, "leg_a")
        .length("leg_b", leg_b, "leg_b")
        .length("leg_width", leg_seen, "leg_seen")
        .length("brace_width", knee, "knee_seen")
        .length("seat_a", seat_a, "seat_a")
        .length("seat_b", seat_b, "seat_b")
        .length("thickness", thick, "leg_away")
        .choice("joint", if mitered { "mitre" } else { "b_through" }, "joint")
        .one(detail)?;
    answer.title = "Brackets";
    told((answer, problems), detail, |answer| {
        let step = thick + leg_a;
        let row = |body: &Body| {
            let beside = |i: u32| {
                let x = (f64::from(i) - (count - 1.0) / 2.0) * step;
                body.moved(Vector3::new(x, 0.0, 0.0))
            };
            (0..count as u32).map(beside).collect()
        };
        let bodies = made.bodies();
        let stood = |part: &Part| {
            let (stick, body) = bodies.iter().find(|(stick, _)| *stick == stick_of(part))?;
            Some((part.clone(), Member::of(stick, row(body))))
        };
        (answer.parts.iter().filter_map(stood).collect(), made.spans((count - 1.0) / 2.0 * step))
    })
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
}

impl Bracket {
    /// One bracket: its back on the wall y = 0, its lower end on z = 0, its middle at x = 0.
    fn bodies(&self) -> [(&'static str, Body); 3] {
        let half = self.thick / 2.0;
        let (y, z) = (-self.leg_seen, self.leg_b - self.leg_seen);
        let leg = |y: [f64; 2], z: [f64; 2]| block([-half, half], y, z);
        let top = self.leg_b;
        let mut level = leg([-self.leg_a, if self.mitered { 0.0 } else { y }], [z, top]);
        let mut upright = leg([y, 0.0], [0.0, top]);
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

    /// On the last bracket, whose middle stands there.
    fn spans(&self, middle: f64) -> Vec<Span> {
        let (a, b, top) = (self.leg_a, self.leg_b, self.leg_b);
        let at = |y, z| Point3::new(self.thick / 2.0 + middle, y, z);
        let (y, z) = (-self.leg_seen, top - self.leg_seen);
        vec![
            span("leg_a", a, at(-a, top), at(0.0, top), Aside::Above),
            span("leg_b", b, at(0.0, 0.0), at(0.0, top), Aside::Right),
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
