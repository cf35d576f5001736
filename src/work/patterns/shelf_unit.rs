//! Shelves between two sides, with a back behind them all.

use super::pattern::{Pattern, Stick, size};
use super::sticks::{Aside, filled, span, square};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Field, Inputs, Kind, Need, Start};
use offsquare_cuts::layouts::field::{choice, length, option};
use offsquare_cuts::layouts::{Answer, Answers, Detail, Form, Layout, Outcome, Solution};
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Body, Point3};
use offsquare_units::{Length, Quantity, say};

/// The pattern "shelf_unit".
pub struct ShelfUnit;

/// What each clear height is of the one above it, where they grow.
const GROWTH: f64 = 1.1;

const FORM: Form = Form {
    id: "sizes",
    label: "By its sizes",
    fields: &[
        length("width", "Width", 24.0, 600.0).help("Over the sides.").free(),
        length("depth", "Depth", 9.0, 230.0).help("Back included.").free(),
        length("height", "Height", 36.0, 900.0).help("From the floor to the top.").free(),
        Field {
            key: "shelves",
            label: "Shelves",
            help: "Between bottom and top.",
            kind: Kind::Count(0, 40),
            need: Need::Number(2.0),
            start: Start::Number(2.0),
            ..Field::PLAIN
        },
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
    off: &[],
};

impl Pattern for ShelfUnit {
    fn sticks(&self) -> &'static [Stick] {
        const BOARD: Stick = Stick { name: "side", seen: None, away: Some("thickness") };
        &[
            BOARD,
            Stick { name: "top", ..BOARD },
            Stick { name: "bottom", ..BOARD },
            Stick { name: "shelf", ..BOARD },
            Stick { name: "back", seen: None, away: Some("back_thickness") },
        ]
    }
    fn instead(&self) -> &'static [(&'static str, &'static str)] {
        &[("inside_width", "width")]
    }
}

impl Layout for ShelfUnit {
    fn id(&self) -> &'static str {
        "shelf_unit"
    }
    fn question(&self) -> &'static str {
        "Shelves between two sides"
    }
    fn search_words(&self) -> &'static str {
        "bookcase cabinet rack cubby shelving"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[FORM];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let unit = Unit::read(inputs);
        let problems = unit.problems();
        if !problems.is_empty() {
            return Outcome { solutions: Vec::new(), problems };
        }
        Outcome { solutions: vec![unit.solution(detail)], problems }
    }
}

/// Shelves; inches.
struct Unit {
    width: f64,
    depth: f64,
    height: f64,
    shelves: u32,
    thick: f64,
    back: f64,
    growing: bool,
}

impl Unit {
    fn read(inputs: &Inputs) -> Unit {
        let get = |key| size(inputs, key);
        Unit {
            width: get("width"),
            depth: get("depth"),
            height: get("height"),
            shelves: inputs.number("shelves").unwrap_or(0.0) as u32,
            thick: get("thickness"),
            back: get("back_thickness"),
            growing: inputs.choice("spacing") == Some("growing"),
        }
    }

    /// All boards that lie, one on another.
    fn lying(&self) -> f64 {
        f64::from(self.shelves + 2) * self.thick
    }

    fn problems(&self) -> Vec<Problem> {
        filled(&[
            ("width", self.width, 2.0 * self.thick, "The sides fill it"),
            ("depth", self.depth, self.back, "The back fills it"),
            ("height", self.height, self.lying(), "The boards fill it"),
        ])
    }

    /// Clear heights from the bottom up.
    fn clear_heights(&self) -> Vec<f64> {
        let ratio: f64 = if self.growing { GROWTH } else { 1.0 };
        // From the top down each is the one above times the ratio.
        let mut shares = vec![1.0];
        for _ in 0..self.shelves {
            shares.push(shares[shares.len() - 1] * ratio);
        }
        let whole: f64 = shares.iter().sum();
        let open = self.height - self.lying();
        shares.iter().rev().map(|s| open * s / whole).collect()
    }

    fn solution(&self, detail: Detail) -> Solution {
        let clear = self.clear_heights();
        let list = |all: &[f64]| {
            Answer::List(
                all.iter().map(|h| Answer::Quantity(Quantity::Length(Length(*h)))).collect(),
            )
        };
        let mut answers = Answers::new();
        answers.length("inside_width", self.width - 2.0 * self.thick);
        answers.put("clear_heights", list(&clear));
        let mut solution = Solution {
            way: if self.growing { "growing" } else { "even" },
            title: "Shelves",
            answers,
            headline: vec!["clear_heights.0", "inside_width"],
            ..Solution::default()
        };
        if detail == Detail::Full {
            solution.derivation = vec![say!(
                "Clear heights share {} less {} boards of {}.",
                Length(self.height),
                Quantity::Count(f64::from(self.shelves + 2)),
                Length(self.thick)
            )];
            self.boards(&clear, &mut solution);
            solution.spans = self.spans();
        }
        solution
    }

    /// Parts, and where they stand: the back at the greatest y, middle of the depth at y = 0.
    fn boards(&self, clear: &[f64], solution: &mut Solution) {
        let (x, t) = (self.width / 2.0, self.thick);
        let (front, behind) = (-self.depth / 2.0, self.depth / 2.0 - self.back);
        let deep = behind - front;
        let block = |x0: f64, x1: f64, y0: f64, y1: f64, z0: f64, z1: f64| {
            Body::block(Point3::new(x0, y0, z0), Point3::new(x1, y1, z1))
        };
        let lying = |z: f64| block(-x + t, x - t, front, behind, z, z + t);
        let inside = self.width - 2.0 * t;
        let mut put = |part, member| {
            solution.parts.push(part);
            solution.members.push(member);
        };
        let side = block(x - t, x, front, behind, 0.0, self.height);
        put(
            square("Side", 2, self.height, deep, t),
            Member::of("side", vec![side.mirrored_x(), side]),
        );
        put(square("Top", 1, inside, deep, t), Member::of("top", vec![lying(self.height - t)]));
        put(square("Bottom", 1, inside, deep, t), Member::of("bottom", vec![lying(0.0)]));
        if self.shelves > 0 {
            let mut z = 0.0;
            let shelves = clear[..clear.len() - 1].iter().map(|height| {
                z += t + height;
                lying(z)
            });
            let shelves = Member::of("shelf", shelves.collect());
            put(square("Shelf", self.shelves, inside, deep, t), shelves);
        }
        if self.back > 0.0 {
            let back = block(-x, x, behind, self.depth / 2.0, 0.0, self.height);
            put(
                square("Back", 1, self.height, self.width, self.back),
                Member::of("back", vec![back]),
            );
        }
    }

    fn spans(&self) -> Vec<Span> {
        let (x, y) = (self.width / 2.0, self.depth / 2.0);
        let at = Point3::new;
        vec![
            span("width", self.width, at(-x, -y, 0.0), at(x, -y, 0.0), Aside::Front),
            span("depth", self.depth, at(x, -y, 0.0), at(x, y, 0.0), Aside::Right),
            span("height", self.height, at(-x, -y, 0.0), at(-x, -y, self.height), Aside::Left),
        ]
    }
}
