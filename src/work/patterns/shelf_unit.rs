//! Shelves between two sides, with a back behind them all.

use super::pattern::{Pattern, SIZES, Stick, needed, told};
use super::sticks::{block, filled, overall, pair, square};
use offsquare_cuts::assembly::Member;
use offsquare_cuts::inputs::Inputs;
use offsquare_cuts::layouts::field::{choice, count, length, option};
use offsquare_cuts::layouts::{Answers, Declared, Detail, Form, Outcome, Refused, Solution};
use offsquare_units::{Length, Quantity, say};

/// What each clear height is of the one above it, where they grow.
const GROWTH: f64 = 1.1;

const FORM: Form = Form {
    fields: &[
        length("width", "Width", 24.0, 600.0).help("Over the sides.").free(),
        length("depth", "Depth", 9.0, 230.0).help("Back included.").free(),
        length("height", "Height", 36.0, 900.0).help("From the floor to the top.").free(),
        count("shelves", "Shelves", (0, 40), 2.0).standing(2.0).help("Between bottom and top."),
        length("thickness", "Thickness", 0.75, 19.0).help("Of every board but the back."),
        length("back_thickness", "Back", 0.25, 6.0)
            .help("Its thickness; 0 without a back.")
            .or_zero(),
        choice("spacing", "Clear heights", "even")
            .of(&[option("even", "Alike"), option("growing", "Growing downward by a tenth")]),
    ],
    also: &[length("inside_width", "Inside width", 22.5, 562.0)
        .help("Between the sides.")
        .optional()],
    gives: &["height", "width", "depth"],
    ..SIZES
};

const BOARD: Stick = Stick { name: "side", seen: None, away: Some("thickness") };

/// The pattern "shelf_unit".
pub static SHELF_UNIT: Pattern = Pattern {
    layout: Declared {
        id: "shelf_unit",
        question: "Shelves between two sides",
        search_words: "bookcase cabinet rack cubby shelving",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        BOARD,
        Stick { name: "top", ..BOARD },
        Stick { name: "bottom", ..BOARD },
        Stick { name: "shelf", ..BOARD },
        Stick { name: "back", seen: None, away: Some("back_thickness") },
    ],
    instead: &[("inside_width", "width")],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let [width, depth, height, shelves] = needed(inputs, ["width", "depth", "height", "shelves"])?;
    let [thick, back] = needed(inputs, ["thickness", "back_thickness"])?;
    let growing = inputs.choice("spacing") == Some("growing");
    // All boards that lie, one on another.
    let lying = (shelves + 2.0) * thick;
    filled(&[
        ("width", width, 2.0 * thick, "The sides fill it"),
        ("depth", depth, back, "The back fills it"),
        ("height", height, lying, "The boards fill it"),
    ])?;
    let clear = clear_heights(height - lying, shelves as u32, growing);
    let inside = width - 2.0 * thick;
    let mut answers = Answers::new();
    answers.length("inside_width", inside).lengths("clear_heights", clear.iter().copied());
    let mut solution = Solution {
        way: if growing { "growing" } else { "even" },
        title: "Shelves",
        answers,
        headline: vec!["clear_heights.0", "inside_width"],
        ..Solution::default()
    };
    if detail == Detail::Full {
        solution.derivation = vec![say!(
            "Clear heights share {} less {} boards of {}.",
            Length(height),
            Quantity::Count(shelves + 2.0),
            Length(thick)
        )];
    }
    told((solution, Vec::new()), detail, |_| {
        // The back at the greatest y, middle of the depth at y = 0.
        let (x, front, behind) = (width / 2.0, -depth / 2.0, depth / 2.0 - back);
        let deep = behind - front;
        let lying = |z: f64| block([-x + thick, x - thick], [front, behind], [z, z + thick]);
        let side = block([x - thick, x], [front, behind], [0.0, height]);
        let mut z = 0.0;
        let shelf = |height: &f64| {
            z += thick + height;
            lying(z)
        };
        let shelves = clear[..clear.len() - 1].iter().map(shelf).collect();
        let behind_all = block([-x, x], [behind, depth / 2.0], [0.0, height]);
        let behind_all = if back > 0.0 { vec![behind_all] } else { Vec::new() };
        let across = |name| square(name, inside, deep, thick);
        let parts = vec![
            (square("Side", height, deep, thick), Member::of("side", pair(side))),
            (across("Top"), Member::of("top", vec![lying(height - thick)])),
            (across("Bottom"), Member::of("bottom", vec![lying(0.0)])),
            (across("Shelf"), Member::of("shelf", shelves)),
            (square("Back", height, width, back), Member::of("back", behind_all)),
        ];
        (parts, overall(width, depth, height))
    })
}

/// Clear heights from the bottom up that share what is open.
fn clear_heights(open: f64, shelves: u32, growing: bool) -> Vec<f64> {
    let ratio: f64 = if growing { GROWTH } else { 1.0 };
    // From the top down each is the one above times the ratio.
    let mut shares = vec![1.0];
    for _ in 0..shelves {
        shares.push(shares[shares.len() - 1] * ratio);
    }
    let whole: f64 = shares.iter().sum();
    shares.iter().rev().map(|s| open * s / whole).collect()
}
