//! A beam with a row of holes through it, at half its height.

use super::ask::Ask;
use super::pattern::{Pattern, Stick, refused, size};
use super::sticks::{Aside, span, square};
use offsquare_cuts::assembly::{Hole, Member, Span};
use offsquare_cuts::inputs::{Field, Inputs, Kind, Need, Start, Value};
use offsquare_cuts::layouts::field::{choice, length, maybe_length, option};
use offsquare_cuts::layouts::{Detail, Form, Layout, Outcome, Solution};
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Body, Point, Point3, Vector3};
use offsquare_units::{Length, Quantity, say};

/// The pattern "holed_beam".
pub struct HoledBeam;

const FORM: Form = Form {
    id: "sizes",
    label: "By its sizes",
    fields: &[
        length("length", "Length", 30.0, 760.0).help("Of the whole beam.").free(),
        length("seen", "Height", 3.5, 90.0).help("The size seen from the front."),
        length("away", "Thickness", 1.5, 38.0).help("The size that is drilled through."),
        Field {
            key: "holes",
            label: "Holes",
            help: "How many.",
            kind: Kind::Count(1, 60),
            need: Need::Number(5.0),
            start: Start::Number(5.0),
            ..Field::PLAIN
        },
        length("diameter", "Diameter", 1.25, 32.0).help("Of a hole."),
        choice("rule", "Rule", "equal_gaps").of(&[
            option("equal_gaps", "Equal gaps"),
            option("half_gaps", "Half gaps at the ends"),
            option("equal_centres", "Equal centers"),
        ]),
        maybe_length("margin_start", "Margin at the start")
            .help("To the first center with equal centers; otherwise a stretch kept free.")
            .or_zero(),
        maybe_length("margin_end", "Margin at the end").help("Alike unless given.").or_zero(),
    ],
    also: &[maybe_length("gap_between", "Gap between").help("From edge to edge.")],
    gives: &["length", "diameter"],
    off: &[],
};

impl Pattern for HoledBeam {
    fn sticks(&self) -> &'static [Stick] {
        &[Stick { name: "beam", seen: Some("seen"), away: Some("away") }]
    }
}

impl Layout for HoledBeam {
    fn id(&self) -> &'static str {
        "holed_beam"
    }
    fn question(&self) -> &'static str {
        "Beam with a row of holes"
    }
    fn search_words(&self) -> &'static str {
        "candle holder test tube peg rail tealight coat"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[FORM];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let (seen, diameter) = (size(inputs, "seen"), size(inputs, "diameter"));
        if diameter >= seen {
            let text = say!("A hole must leave wood above and below: less than {}.", Length(seen));
            let limit = Quantity::Length(Length(seen));
            return refused(Problem::stop("diameter", text).with_limit(limit));
        }
        let mut ask = Ask::of("spacing", "row")
            .choice("rule", inputs.choice("rule").unwrap_or("equal_gaps"), "rule")
            .with("holes", Value::Number(inputs.number("holes").unwrap_or(1.0)), "holes")
            .length("diameter", diameter, "diameter")
            .length("length", size(inputs, "length"), "length");
        for key in ["margin_start", "margin_end"] {
            if let Some(margin) = inputs.length(key) {
                ask = ask.length(key, margin.0, key);
            }
        }
        match ask.one(detail) {
            Ok((answer, problems)) => {
                Outcome { solutions: vec![beam(inputs, answer, detail)], problems }
            }
            Err(problems) => Outcome { solutions: Vec::new(), problems },
        }
    }
}

fn beam(inputs: &Inputs, answer: Solution, detail: Detail) -> Solution {
    let get = |key| size(inputs, key);
    let (long, seen, away, diameter) = (get("length"), get("seen"), get("away"), get("diameter"));
    let mut solution = Solution { title: "The beam", figure: Default::default(), ..answer };
    solution.parts.clear();
    if detail == Detail::Answers {
        return solution;
    }
    let centers = solution.answers.numbers("centres");
    let (x, y) = (long / 2.0, away / 2.0);
    let block = Body::block(Point3::new(-x, -y, 0.0), Point3::new(x, y, seen));
    // From the front to the back, flush with both; a corner of its prism looks up.
    let drill = |center: &f64| {
        let at = |y| Point3::new(center - x, y, seen / 2.0);
        Body::round(at(-y), at(y), [diameter; 2], Vector3::new(0.0, 0.0, 1.0))
    };
    let body = centers.iter().filter_map(drill).fold(block, Body::less);
    let hole = |center: &f64| Hole {
        at: Point::new(*center, seen / 2.0),
        diameter: Length(diameter),
        depth: None,
    };
    solution.parts.push(square("Beam", 1, long, seen, away));
    solution.members.push(Member {
        holes: centers.iter().map(hole).collect(),
        ..Member::of("beam", vec![body])
    });
    solution.spans = spans(long, seen, away);
    solution
}

fn spans(long: f64, seen: f64, away: f64) -> Vec<Span> {
    let (x, y) = (long / 2.0, away / 2.0);
    let at = Point3::new;
    vec![
        span("length", long, at(-x, -y, 0.0), at(x, -y, 0.0), Aside::Front),
        span("seen", seen, at(-x, -y, 0.0), at(-x, -y, seen), Aside::Left),
        span("away", away, at(x, -y, 0.0), at(x, y, 0.0), Aside::Right),
    ]
}
