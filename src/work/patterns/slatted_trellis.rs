//! A frame with upright slats on its front, evenly spaced between the stiles.
//!
//! The stiles run through; slats are as tall as the frame.

use super::ask::Ask;
use super::pattern::{Pattern, Stick, size};
use super::sticks::{Aside, filled, span, square};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Field, Inputs, Kind, Need, Start, Value};
use offsquare_cuts::layouts::field::length;
use offsquare_cuts::layouts::{Detail, Form, Layout, Outcome, Solution};
use offsquare_geometry::{Body, Point3};

/// The pattern "slatted_trellis".
pub struct SlattedTrellis;

const FORM: Form = Form {
    id: "sizes",
    label: "By its sizes",
    fields: &[
        length("width", "Width", 24.0, 600.0).help("Over the stiles.").free(),
        length("height", "Height", 60.0, 1500.0).help("Over the rails.").free(),
        length("stile_seen", "Stile width", 1.5, 38.0).help("The uprights, seen from the front."),
        length("rail_seen", "Rail width", 1.5, 38.0)
            .help("The level members, seen from the front."),
        length("thickness", "Frame thickness", 1.5, 38.0).help("The size going away from you."),
        Field {
            key: "slats",
            label: "Slats",
            help: "How many, between the stiles.",
            kind: Kind::Count(1, 200),
            need: Need::Number(5.0),
            start: Start::Number(5.0),
            ..Field::PLAIN
        },
        length("slat_seen", "Slat width", 1.5, 38.0).help("Seen from the front."),
        length("slat_thickness", "Slat thickness", 0.5, 12.0).help("The size going away from you."),
    ],
    also: &[length("gap_between", "Gap", 2.25, 55.0)
        .help("Between two slats, edge to edge.")
        .optional()],
    gives: &["width", "slat_seen"],
    off: &[],
};

impl Pattern for SlattedTrellis {
    fn sticks(&self) -> &'static [Stick] {
        &[
            Stick { name: "stile", seen: Some("stile_seen"), away: Some("thickness") },
            Stick { name: "rail", seen: Some("rail_seen"), away: Some("thickness") },
            Stick { name: "slat", seen: Some("slat_seen"), away: Some("slat_thickness") },
        ]
    }
    fn instead(&self) -> &'static [(&'static str, &'static str)] {
        &[("gap_between", "width")]
    }
}

impl Layout for SlattedTrellis {
    fn id(&self) -> &'static str {
        "slatted_trellis"
    }
    fn question(&self) -> &'static str {
        "Trellis of upright slats"
    }
    fn search_words(&self) -> &'static str {
        "fence panel screen lattice gate garden pickets"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[FORM];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let frame = Frame::read(inputs);
        let problems = filled(&[
            ("width", frame.width, 2.0 * frame.stile, "The stiles fill it"),
            ("height", frame.height, 2.0 * frame.rail, "The rails fill it"),
        ]);
        if !problems.is_empty() {
            return Outcome { solutions: Vec::new(), problems };
        }
        let asked = Ask::of("spacing", "row")
            .choice("rule", "equal_gaps", "slats")
            .with("holes", Value::Number(f64::from(frame.slats)), "slats")
            .length("diameter", frame.slat, "slat_seen")
            .length("length", frame.width - 2.0 * frame.stile, "width")
            .one(detail);
        match asked {
            Ok((answer, problems)) => {
                Outcome { solutions: vec![frame.solution(answer, detail)], problems }
            }
            Err(problems) => Outcome { solutions: Vec::new(), problems },
        }
    }
}

/// A frame and its slats; inches.
struct Frame {
    width: f64,
    height: f64,
    stile: f64,
    rail: f64,
    thick: f64,
    slats: u32,
    slat: f64,
    slat_thick: f64,
}

impl Frame {
    fn read(inputs: &Inputs) -> Frame {
        let get = |key| size(inputs, key);
        Frame {
            width: get("width"),
            height: get("height"),
            stile: get("stile_seen"),
            rail: get("rail_seen"),
            thick: get("thickness"),
            slats: inputs.number("slats").unwrap_or(1.0) as u32,
            slat: get("slat_seen"),
            slat_thick: get("slat_thickness"),
        }
    }

    fn solution(&self, answer: Solution, detail: Detail) -> Solution {
        let mut solution = Solution { title: "The trellis", figure: Default::default(), ..answer };
        solution.parts.clear();
        if detail == Detail::Answers {
            return solution;
        }
        let centers = solution.answers.numbers("centres");
        let (x, high) = (self.width / 2.0, self.height);
        let inside = x - self.stile;
        let block = |x0: f64, x1: f64, y0: f64, y1: f64, z0: f64, z1: f64| {
            Body::block(Point3::new(x0, y0, z0), Point3::new(x1, y1, z1))
        };
        let stile = block(inside, x, 0.0, self.thick, 0.0, high);
        let rail = |z| block(-inside, inside, 0.0, self.thick, z, z + self.rail);
        let slat = |center: &f64| {
            let left = center - inside - self.slat / 2.0;
            block(left, left + self.slat, -self.slat_thick, 0.0, 0.0, high)
        };
        solution.parts = vec![
            square("Stile", 2, high, self.stile, self.thick),
            square("Rail", 2, 2.0 * inside, self.rail, self.thick),
            square("Slat", self.slats, high, self.slat, self.slat_thick),
        ];
        solution.members = vec![
            Member::of("stile", vec![stile.mirrored_x(), stile]),
            Member::of("rail", vec![rail(0.0), rail(high - self.rail)]),
            Member::of("slat", centers.iter().map(slat).collect()),
        ];
        solution.spans = self.spans();
        solution
    }

    fn spans(&self) -> Vec<Span> {
        let (x, front) = (self.width / 2.0, -self.slat_thick);
        let at = |x, z| Point3::new(x, front, z);
        vec![
            span("width", self.width, at(-x, 0.0), at(x, 0.0), Aside::Below),
            span("height", self.height, at(-x, 0.0), at(-x, self.height), Aside::Left),
        ]
    }
}
