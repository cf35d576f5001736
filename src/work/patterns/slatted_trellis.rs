//! A frame with upright slats on its front, evenly spaced between the stiles.
//!
//! The stiles run through; slats are as tall as the frame.

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, needed, told};
use super::sticks::{Aside, block, filled, pair, span, square};
use offsquare_cuts::assembly::Member;
use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::field::{count, length};
use offsquare_cuts::layouts::{Declared, Detail, Form, Outcome, Refused};
use offsquare_geometry::Point3;

const FORM: Form = Form {
    fields: &[
        length("width", "Width", 24.0, 600.0).help("Over the stiles.").free(),
        length("height", "Height", 60.0, 1500.0).help("Over the rails.").free(),
        length("stile_seen", "Stile width", 1.5, 38.0).help("The uprights, seen from the front."),
        length("rail_seen", "Rail width", 1.5, 38.0)
            .help("The level members, seen from the front."),
        length("thickness", "Frame thickness", 1.5, 38.0).help("The size going away from you."),
        count("slats", "Slats", (1, 200), 5.0).standing(5.0).help("How many, between the stiles."),
        length("slat_seen", "Slat width", 1.5, 38.0).help("Seen from the front."),
        length("slat_thickness", "Slat thickness", 0.5, 12.0).help("The size going away from you."),
    ],
    also: &[length("gap_between", "Gap", 2.25, 55.0)
        .help("Between two slats, edge to edge.")
        .optional()],
    gives: &["width", "slat_seen"],
    ..SIZES
};

/// The pattern "slatted_trellis".
pub static SLATTED_TRELLIS: Pattern = Pattern {
    layout: Declared {
        id: "slatted_trellis",
        question: "Trellis of upright slats",
        search_words: "fence panel screen lattice gate garden pickets",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        Stick { name: "stile", seen: Some("stile_seen"), away: Some("thickness") },
        Stick { name: "rail", seen: Some("rail_seen"), away: Some("thickness") },
        Stick { name: "slat", seen: Some("slat_seen"), away: Some("slat_thickness") },
    ],
    instead: &[("gap_between", "width")],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let [width, high, stile, rail, thick] =
        needed(inputs, ["width", "height", "stile_seen", "rail_seen", "thickness"])?;
    let [slats, slat, slat_thick] = needed(inputs, ["slats", "slat_seen", "slat_thickness"])?;
    filled(&[
        ("width", width, 2.0 * stile, "The stiles fill it"),
        ("height", high, 2.0 * rail, "The rails fill it"),
    ])?;
    let (mut answer, problems) = Ask::of("spacing", "row")
        .choice("rule", "equal_gaps", "slats")
        .with("holes", Value::Number(slats), "slats")
        .length("diameter", slat, "slat_seen")
        .length("length", width - 2.0 * stile, "width")
        .one(detail)?;
    answer.title = "The trellis";
    told((answer, problems), detail, |answer| {
        let x = width / 2.0;
        let inside = x - stile;
        let rail_at = |z| block([-inside, inside], [0.0, thick], [z, z + rail]);
        let slat_at = |center: &f64| {
            let left = center - inside - slat / 2.0;
            block([left, left + slat], [-slat_thick, 0.0], [0.0, high])
        };
        let stiles = pair(block([inside, x], [0.0, thick], [0.0, high]));
        let rails = vec![rail_at(0.0), rail_at(high - rail)];
        let slats = answer.answers.numbers("centres").iter().map(slat_at).collect();
        let at = |x, z| Point3::new(x, -slat_thick, z);
        let parts = vec![
            (square("Stile", high, stile, thick), Member::of("stile", stiles)),
            (square("Rail", 2.0 * inside, rail, thick), Member::of("rail", rails)),
            (square("Slat", high, slat, slat_thick), Member::of("slat", slats)),
        ];
        let spans = vec![
            span("width", width, at(-x, 0.0), at(x, 0.0), Aside::Below),
            span("height", high, at(-x, 0.0), at(-x, high), Aside::Left),
        ];
        (parts, spans)
    })
}
