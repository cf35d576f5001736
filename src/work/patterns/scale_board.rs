//! An upright board with measured marks, in one piece or in sections that hinge flat on each other.
//!
//! It hangs on a wall: its back at y = 0, its lower end at z = 0. The marks run on across the joints.

use super::ask::Ask;
use super::pattern::{Pattern, Stick, size};
use super::sticks::{Aside, span, square};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Field, Inputs, Kind, Need, Start, Value};
use offsquare_cuts::layouts::field::length;
use offsquare_cuts::layouts::{Detail, Form, Layout, Outcome, Solution};
use offsquare_cuts::parts::Part;
use offsquare_geometry::{Body, Point3};

/// The pattern "scale_board".
pub struct ScaleBoard;

const fn count(
    key: &'static str,
    label: &'static str,
    help: &'static str,
    most: u32,
    start: f64,
) -> Field {
    Field {
        key,
        label,
        help,
        kind: Kind::Count(1, most),
        need: Need::Number(start),
        start: Start::Number(start),
        ..Field::PLAIN
    }
}

const FORM: Form = Form {
    id: "sizes",
    label: "By its sizes",
    fields: &[
        length("total_length", "Length", 60.0, 1500.0)
            .help("Of the wood, all sections together.")
            .free(),
        length("width", "Width", 3.5, 90.0).help("The size seen."),
        length("thickness", "Thickness", 0.75, 19.0).help("The size going away from you."),
        count("sections", "Sections", "1 for one piece; 2 for hinged in two.", 12, 2.0),
        Field {
            need: Need::Length(0.0),
            ..length("offset", "First mark at", 6.125, 152.0)
                .help("From the lower end to the first mark.")
                .or_zero()
        },
        count("long_every", "Long mark every", "Counted in marks.", 1000, 4.0),
        count("figure_every", "Figure every", "Counted in long marks.", 1000, 1.0),
        length("spacing", "Mark to mark", 0.25, 5.0).help("From one mark to the next."),
    ],
    also: &[length("section_length", "Section", 30.0, 750.0).help("The length of one.").optional()],
    gives: &["total_length", "offset"],
    off: &[],
};

impl Pattern for ScaleBoard {
    fn sticks(&self) -> &'static [Stick] {
        &[Stick { name: "board", seen: Some("width"), away: Some("thickness") }]
    }
    fn instead(&self) -> &'static [(&'static str, &'static str)] {
        &[("section_length", "total_length")]
    }
}

impl Layout for ScaleBoard {
    fn id(&self) -> &'static str {
        "scale_board"
    }
    fn question(&self) -> &'static str {
        "Measured board for a wall"
    }
    fn search_words(&self) -> &'static str {
        "height chart ruler planting growth marks scale"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[FORM];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let number = |key| Value::Number(inputs.number(key).unwrap_or(1.0));
        let asked = Ask::of("marks", "scale")
            .length("board_length", size(inputs, "total_length"), "total_length")
            .length("offset", size(inputs, "offset"), "offset")
            .length("spacing", size(inputs, "spacing"), "spacing")
            .length("board_width", size(inputs, "width"), "width")
            .with("sections", number("sections"), "sections")
            .with("long_every", number("long_every"), "long_every")
            .with("figure_every", number("figure_every"), "figure_every")
            .one(detail);
        match asked {
            Ok((answer, problems)) => {
                Outcome { solutions: vec![board(inputs, answer, detail)], problems }
            }
            Err(problems) => Outcome { solutions: Vec::new(), problems },
        }
    }
}

fn board(inputs: &Inputs, answer: Solution, detail: Detail) -> Solution {
    let sections = inputs.number("sections").unwrap_or(1.0) as u32;
    let get = |key| size(inputs, key);
    let (total, width, thick) = (get("total_length"), get("width"), get("thickness"));
    let marked = answer.parts;
    let mut solution =
        Solution { title: "The board", figure: Default::default(), parts: Vec::new(), ..answer };
    if detail == Detail::Answers {
        return solution;
    }
    let long = total / f64::from(sections);
    let section = |i: u32| {
        let z = long * f64::from(i);
        Body::block(Point3::new(-width / 2.0, -thick, z), Point3::new(width / 2.0, 0.0, z + long))
    };
    // Every section has marks of its own.
    for i in 0..sections {
        let plain = square("Board", 1, long, width, thick);
        let marks = marked.get(i as usize).filter(|p| (p.length.0 - long).abs() < 1e-9 * total);
        let (marks, figures) =
            marks.map(|p| (p.marks.clone(), p.figures.clone())).unwrap_or_default();
        solution.parts.push(Part { marks, figures, ..plain });
        solution.members.push(Member::of("board", vec![section(i)]));
    }
    solution.spans = spans(total, width);
    solution
}

fn spans(total: f64, width: f64) -> Vec<Span> {
    let x = width / 2.0;
    let at = |x, z| Point3::new(x, 0.0, z);
    vec![
        span("total_length", total, at(-x, 0.0), at(-x, total), Aside::Left),
        span("width", width, at(-x, 0.0), at(x, 0.0), Aside::Below),
    ]
}
