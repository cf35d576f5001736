//! A beam with a row of holes through it, at half its height.

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, needed, told};
use super::sticks::{Aside, block, span, square};
use offsquare_cuts::assembly::{Hole, Member};
use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::field::{choice, count, length, maybe_length, option};
use offsquare_cuts::layouts::{Declared, Detail, Form, Outcome, Refused};
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Body, Point, Point3, Vector3};
use offsquare_units::Length;

const FORM: Form = Form {
    fields: &[
        length("length", "Length", 30.0, 760.0).help("Of the whole beam.").free(),
        length("seen", "Height", 3.5, 90.0).help("The size seen from the front."),
        length("away", "Thickness", 1.5, 38.0).help("The size that is drilled through."),
        count("holes", "Holes", (1, 60), 5.0).standing(5.0).help("How many."),
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
    ..SIZES
};

/// The pattern "holed_beam".
pub static HOLED_BEAM: Pattern = Pattern {
    layout: Declared {
        id: "holed_beam",
        question: "Beam with a row of holes",
        search_words: "candle holder test tube peg rail tealight coat",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[Stick { name: "beam", seen: Some("seen"), away: Some("away") }],
    instead: &[],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let [long, seen, away] = needed(inputs, ["length", "seen", "away"])?;
    let [holes, diameter] = needed(inputs, ["holes", "diameter"])?;
    if diameter >= seen {
        let words = "A hole must leave wood above and below: less than {}.";
        return Err(Problem::at_limit("diameter", words, Length(seen)).into());
    }
    let mut ask = Ask::of("spacing", "row")
        .choice("rule", inputs.choice("rule").unwrap_or("equal_gaps"), "rule")
        .with("holes", Value::Number(holes), "holes")
        .length("diameter", diameter, "diameter")
        .length("length", long, "length");
    for key in ["margin_start", "margin_end"] {
        if let Some(margin) = inputs.inches(key) {
            ask = ask.length(key, margin, key);
        }
    }
    let (mut answer, problems) = ask.one(detail)?;
    answer.title = "The beam";
    told((answer, problems), detail, |answer| {
        let centers = answer.answers.numbers("centres");
        let (x, y, at) = (long / 2.0, away / 2.0, Point3::new);
        // From the front to the back, flush with both; a corner of its prism looks up.
        let drill = |center: &f64| {
            let at = |y| Point3::new(center - x, y, seen / 2.0);
            Body::round(at(-y), at(y), [diameter; 2], Vector3::new(0.0, 0.0, 1.0))
        };
        let beam = block([-x, x], [-y, y], [0.0, seen]);
        let beam = centers.iter().filter_map(drill).fold(beam, Body::less);
        let diameter = Length(diameter);
        let hole = |x: &f64| Hole { at: Point::new(*x, seen / 2.0), diameter, depth: None };
        let holes = centers.iter().map(hole).collect();
        let member = Member { holes, ..Member::of("beam", vec![beam]) };
        let spans = vec![
            span("length", long, at(-x, -y, 0.0), at(x, -y, 0.0), Aside::Front),
            span("seen", seen, at(-x, -y, 0.0), at(-x, -y, seen), Aside::Left),
            span("away", away, at(x, -y, 0.0), at(x, y, 0.0), Aside::Right),
        ];
        (vec![(square("Beam", long, seen, away), member)], spans)
    })
}
