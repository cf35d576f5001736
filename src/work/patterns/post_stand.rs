//! A post on legs that splay: the legs' joint ends where the post ends, their toes stand on the footprint.

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, Stood, needed, told};
use super::sticks::{Aside, block, level, plane, span, square};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::field::{angle, choice, count, length, option, standing_length};
use offsquare_cuts::layouts::{Answer, Answers, Declared, Detail, Form, Outcome, Refused};
use offsquare_cuts::parts::{Part, StockShape};
use offsquare_geometry::{Body, Plane, Point, Point3, Vector, Vector3};
use offsquare_units::{Angle, num};

const FORM: Form = Form {
    fields: &[
        length("overall_height", "Overall height", 36.0, 900.0).help("From the floor to the post's top.")
            .free(),
        length("footprint", "Footprint", 18.0, 450.0).help("Outside of one foot to outside of the opposite one; three legs: the circle through the toes.")
        .free(),
        count("legs", "Number of legs", (3, 4), 3.0).standing(3.0).help("Three or four."),
        length("post_width", "Post width", 3.5, 90.0).help("Flat to flat; a round post's diameter; a triangular post's side."),
        choice("post_shape", "Post shape", "hexagonal").of(&[
                option("square", "Square"),
                option("round", "Round"),
                option("hexagonal", "Six-sided"),
                option("triangular", "Three-sided"),
            ])
        .optional()
        .help("Six-sided under three legs, square under four, unless you say."),
        length("leg_seen", "Leg depth", 1.5, 38.0).help("The size of the leg in the plane of its splay."),
        length("leg_away", "Leg breadth", 1.5, 38.0).help("The size of the leg across its splay."),
        standing_length("cleat", "Cleat thickness", 0.0, 0.0)
            .help("A piece between leg and post; 0 without."),
        length("post_length", "Post length", 32.0, 800.0).help("The post by itself.").free(),
    ],
    also: &[
        angle("splay_deg", "Splay", (0.0, 90.0), 45.0)
            .open()
            .help("How far a leg leans from upright."),
        length("leg_length", "Leg length", 10.0, 250.0).help("Along the outer edge.").optional(),
    ],
    gives: &["footprint", "post_length", "overall_height"],
    ..SIZES
};

/// The pattern "post_stand".
pub static POST_STAND: Pattern = Pattern {
    layout: Declared {
        id: "post_stand",
        question: "Stand: a post on splayed legs",
        search_words: "pedestal sundial lamp coat plant tripod column",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        Stick { name: "post", seen: Some("post_width"), away: None },
        Stick { name: "leg", seen: Some("leg_seen"), away: Some("leg_away") },
        Stick { name: "cleat", seen: None, away: Some("cleat") },
    ],
    instead: &[],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let [overall, footprint, legs, post_width] =
        needed(inputs, ["overall_height", "footprint", "legs", "post_width"])?;
    let [leg_seen, leg_away, cleat, post_length] =
        needed(inputs, ["leg_seen", "leg_away", "cleat", "post_length"])?;
    let usual = if legs == 3.0 { "hexagonal" } else { "square" };
    let shape = inputs.choice("post_shape").unwrap_or(usual);
    let (mut answer, problems) = Ask::of("post_legs", "overall_height")
        .length("post_width", post_width, "post_width")
        .length("footprint", footprint, "footprint")
        .length("leg_depth", leg_seen, "leg_seen")
        .length("overall_height", overall, "overall_height")
        .length("post_length", post_length, "post_length")
        .length("cleat", cleat, "cleat")
        .length("leg_breadth", leg_away, "leg_away")
        .choice("post_shape", shape, "post_shape")
        .with("legs", Value::Number(legs), "legs")
        .one(detail)?;
    let found = |key| answer.answers.quantity(key).map_or(0.0, |q| q.number());
    let (bottom, joint) = (found("post_bottom_height"), found("joint_length_on_post"));
    let mut answers = Answers::new();
    answers
        .angle("splay_deg", found("splay_deg"))
        .put("post_shape", Answer::Word(shape))
        .length("leg_length", found("outer_edge_length"))
        .length("post_bottom_height", bottom)
        .length("joint_length_on_post", joint);
    let post_flat = match shape {
        "triangular" => post_width / (2.0 * SQRT_3),
        _ => post_width / 2.0,
    };
    let stand = Stand {
        legs: legs as u32,
        shape,
        post_width,
        post_flat,
        post_length,
        overall,
        footprint,
        leg_seen,
        leg_away,
        cleat,
        bottom,
        joint,
    };
    (answer.way, answer.title, answer.answers) = ("stand", "The stand", answers);
    answer.headline = vec!["splay_deg", "leg_length"];
    told((answer, problems), detail, |answer| (stand.parts(answer.parts.last()), stand.spans()))
}

/// A stand; inches.
struct Stand {
    legs: u32,
    shape: &'static str,
    /// As measured, and the distance from the axis to a flat.
    post_width: f64,
    post_flat: f64,
    post_length: f64,
    overall: f64,
    footprint: f64,
    leg_seen: f64,
    leg_away: f64,
    cleat: f64,
    /// Where the post ends below, and how long the legs' joints on it are.
    bottom: f64,
    joint: f64,
}

impl Stand {
    fn post(&self) -> Part {
        let deep = match self.shape {
            "triangular" => self.post_width * SQRT_3 / 2.0,
            _ => self.post_width,
        };
        let stock = if self.shape == "round" { StockShape::Round } else { StockShape::Straight };
        Part { stock, ..square("Post", self.post_length, self.post_width, deep) }
    }

    /// Post, legs and cleats where they stand: the post's axis at the origin, the first leg to the right.
    fn parts(&self, leg: Option<&Part>) -> Vec<Stood> {
        let (bottom, joint) = (self.bottom, self.joint);
        let half = self.leg_away / 2.0;
        let seat = self.post_flat + self.cleat;
        // The leg to the right: its outer edge runs from the toe to the joint's upper end.
        let toe = Point3::new(self.footprint / 2.0, 0.0, 0.0);
        let top = Point3::new(seat, 0.0, bottom + joint);
        let along = top - toe;
        let outward = Vector3::new(along.z, 0.0, -along.x);
        let outer = Plane::through(toe, outward);
        let planes = outer.into_iter().flat_map(|outer| {
            [
                outer,
                outer.flipped().moved(self.leg_seen),
                plane((-1.0, 0.0, 0.0), -seat),
                plane((0.0, 0.0, -1.0), 0.0),
                plane((0.0, -1.0, 0.0), half),
                plane((0.0, 1.0, 0.0), half),
            ]
        });
        let body = Body::of(planes.collect());
        let cleat = block([self.post_flat, seat], [-half, half], [bottom, bottom + joint]);
        let around = |body: &Body| {
            let turn = |i| body.turned(360.0 * f64::from(i) / f64::from(self.legs));
            (0..self.legs).map(turn).collect()
        };
        let cleats = if self.cleat > 0.0 { around(&cleat) } else { Vec::new() };
        let post = Member::of("post", self.post_body(bottom).into_iter().collect());
        let mut all = vec![(self.post(), Member { section: self.section(), ..post })];
        all.extend(leg.map(|leg| (leg.clone(), Member::of("leg", around(&body)))));
        let cleat = square("Cleat", joint, self.leg_away, self.cleat);
        all.push((cleat, Member::of("cleat", cleats)));
        all
    }

    /// Corners of a post of three or six sides; a square and a round one need none.
    fn section(&self) -> Vec<Point> {
        let (sides, half_turn) = match self.shape {
            "hexagonal" => (6, 30.0),
            "triangular" => (3, 60.0),
            _ => return Vec::new(),
        };
        let reach = self.post_flat / num::cos_deg(half_turn);
        let corner = |i: u32| Vector::at(Angle(half_turn * f64::from(2 * i + 1))) * reach;
        (0..sides).map(|i| Point::ORIGIN + corner(i)).collect()
    }

    fn post_body(&self, bottom: f64) -> Option<Body> {
        let (low, high) = (Point3::new(0.0, 0.0, bottom), Point3::new(0.0, 0.0, self.overall));
        let right = Vector3::new(1.0, 0.0, 0.0);
        let sides: u32 = match self.shape {
            "round" => return Body::round(low, high, [self.post_width; 2], right),
            "hexagonal" => 6,
            "triangular" => 3,
            _ => 4,
        };
        let mut planes: Vec<Plane> = (0..sides)
            .map(|i| {
                let turn = 360.0 * f64::from(i) / f64::from(sides);
                plane((num::cos_deg(turn), num::sin_deg(turn), 0.0), self.post_flat)
            })
            .collect();
        planes.extend(level(bottom, self.overall));
        Some(Body::of(planes))
    }

    fn spans(&self) -> Vec<Span> {
        // Opposite the first toe there is another, or (three legs) the far side of the circle.
        let (reach, post, top) = (self.footprint / 2.0, self.post_flat, self.overall);
        let (toe, hang) = (Point3::new(reach, 0.0, 0.0), top - self.post_length);
        let at = |x, z| Point3::new(x, 0.0, z);
        vec![
            span("footprint", self.footprint, at(-reach, 0.0), toe, Aside::Front),
            span("overall_height", top, toe, at(reach, top), Aside::Right),
            span("post_length", self.post_length, at(-post, hang), at(-post, top), Aside::Left),
            span("post_width", self.post_width, at(-post, top), at(post, top), Aside::Above),
        ]
    }
}

const SQRT_3: f64 = 1.732_050_807_568_877_2;
