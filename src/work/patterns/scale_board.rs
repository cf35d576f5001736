//! An upright board with measured marks, in one piece or in sections that hinge flat on each other.
//!
//! It hangs on a wall: its back at y = 0, its lower end at z = 0. The marks run on across the joints.

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, needed, told};
use super::sticks::{Aside, block, span, square};
use offsquare_cuts::assembly::Member;
use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::field::{count, length, standing_length};
use offsquare_cuts::layouts::{Declared, Detail, Form, Outcome, Refused};
use offsquare_cuts::parts::Part;
use offsquare_geometry::Point3;

const FORM: Form = Form {
    fields: &[
        length("total_length", "Length", 60.0, 1500.0)
            .help("Of the wood, all sections together.")
            .free(),
        length("width", "Width", 3.5, 90.0).help("The size seen."),
        length("thickness", "Thickness", 0.75, 19.0).help("The size going away from you."),
        count("sections", "Sections", (1, 12), 2.0)
            .standing(2.0)
            .help("1 for one piece; 2 for hinged in two."),
        standing_length("offset", "First mark at", 0.0, 0.0)
            .start(6.125, 152.0)
            .help("From the lower end to the first mark."),
        count("long_every", "Long mark every", (1, 1000), 4.0)
            .standing(4.0)
            .help("Counted in marks."),
        count("figure_every", "Figure every", (1, 1000), 1.0)
            .standing(1.0)
            .help("Counted in long marks."),
        length("spacing", "Mark to mark", 0.25, 5.0).help("From one mark to the next."),
    ],
    also: &[length("section_length", "Section", 30.0, 750.0).help("The length of one.").optional()],
    gives: &["total_length", "offset"],
    ..SIZES
};

/// The pattern "scale_board".
pub static SCALE_BOARD: Pattern = Pattern {
    layout: Declared {
        id: "scale_board",
        question: "Measured board for a wall",
        search_words: "height chart ruler planting growth marks scale",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[Stick { name: "board", seen: Some("width"), away: Some("thickness") }],
    instead: &[("section_length", "total_length")],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let [total, width, thick] = needed(inputs, ["total_length", "width", "thickness"])?;
    let [offset, spacing, sections] = needed(inputs, ["offset", "spacing", "sections"])?;
    let number = |key| inputs.need(key).map(Value::Number);
    let (mut answer, problems) = Ask::of("marks", "scale")
        .length("board_length", total, "total_length")
        .length("offset", offset, "offset")
        .length("spacing", spacing, "spacing")
        .length("board_width", width, "width")
        .with("sections", Value::Number(sections), "sections")
        .with("long_every", number("long_every")?, "long_every")
        .with("figure_every", number("figure_every")?, "figure_every")
        .one(detail)?;
    answer.title = "The board";
    told((answer, problems), detail, |answer| {
        let (x, long) = (width / 2.0, total / sections);
        // Every section has marks of its own.
        let section = |i: u32| {
            let marked = answer.parts.get(i as usize);
            let marked = marked.filter(|p| (p.length.0 - long).abs() < 1e-9 * total);
            let (marks, figures) =
                marked.map(|p| (p.marks.clone(), p.figures.clone())).unwrap_or_default();
            let z = long * f64::from(i);
            let body = block([-x, x], [-thick, 0.0], [z, z + long]);
            let part = Part { marks, figures, ..square("Board", long, width, thick) };
            (part, Member::of("board", vec![body]))
        };
        let at = |x, z| Point3::new(x, 0.0, z);
        let spans = vec![
            span("total_length", total, at(-x, 0.0), at(-x, total), Aside::Left),
            span("width", width, at(-x, 0.0), at(x, 0.0), Aside::Below),
        ];
        ((0..sections as u32).map(section).collect(), spans)
    })
}
