//! Shim for a tapered or round leg at the fence (GEOMETRY 3).
//!
//! Frame of the figure: the fence is y = 0, the leg below it with its axis along the fence; the big
//! end is x = 0 and touches the fence.

use super::field::{length, maybe_angle, maybe_length, standing_length};
use super::{Answers, Caution, Declared, Detail, Form, Outcome, Refused, Solution};
use crate::inputs::Inputs;
use crate::parts::{Part, Sides, StockShape};
use crate::problem::Problem;
use offsquare_geometry::scene::{Role, Scene};
use offsquare_geometry::{Point, Polygon, Vector};
use offsquare_units::{Angle, Length, Text, num, say};

/// A stick that tapers alike on both sides; inches.
#[derive(Clone, Copy, Debug)]
pub(super) struct Taper {
    /// Size at the big end, square across the axis.
    pub big: f64,
    /// Size at the small end; at most `big`.
    pub small: f64,
    /// Between the ends, along the axis.
    pub length: f64,
}

impl Taper {
    /// Half the taper's full angle, degrees: how far a side leans from the axis.
    /// Example: 2.5 to 1.25 over 20: atan(1.25/40) = 1.790°.
    pub fn half_angle(&self) -> f64 {
        num::atan2_deg((self.big - self.small) / 2.0, self.length)
    }
    /// Slant length of a side. Example: 2.5 to 1.25 over 20: 20.0098.
    pub fn side(&self) -> f64 {
        num::hypot(self.length, (self.big - self.small) / 2.0)
    }
    /// Gap between side and fence `at` from the big end, the axis along the fence, where the leg
    /// first touches the fence at `first_contact`. Example: 2.5 to 1.25 over 20, at 16: 0.5.
    pub fn shim(&self, at: f64, first_contact: f64) -> f64 {
        (self.big - self.small) / 2.0 * ((at - first_contact) / self.length)
    }
}

/// What is wrong with the place of a shim or of the first contact.
pub(super) fn check_place(length: f64, at: f64, first_contact: f64) -> Vec<Problem> {
    let mut found = Vec::new();
    if at > length {
        found.push(Problem::at_limit(
            "shim_at_from_big_end",
            "The shim would stand past the small end: at most {} from the big end.",
            Length(length),
        ));
    }
    if first_contact > 0.0 && at <= first_contact {
        found.push(Problem::at_limit(
            "shim_at_from_big_end",
            "The shim stands beyond the first contact: more than {} from the big end.",
            Length(first_contact),
        ));
    }
    found
}

const FORM: Form = Form {
    id: "shim",
    label: "Shim at the fence",
    fields: &[
        length("big_diameter", "Big end", 2.0, 50.0).help("Across the leg at its big end."),
        length("small_diameter", "Small end", 1.0, 25.0).help("Across the leg at its small end."),
        length("length_along_axis", "Length along the axis", 16.0, 400.0)
            .help("From end to end, not along the side."),
        length("shim_at_from_big_end", "Shim at", 12.0, 300.0).help("From the big end.").or_zero(),
        standing_length("first_contact_from_big_end", "First contact at", 0.0, 0.0)
            .help("Where the leg first touches the fence; 0 at its big end."),
    ],
    also: &[
        maybe_length("shim_thickness", "Shim thickness").help("Of a shim at hand.").or_zero(),
        maybe_angle("reading_error_without_shim_deg", "Half the taper", (0.0, 90.0))
            .help("How far a side leans from the axis."),
        maybe_length("side_length", "Side length").help("Along the tapered side."),
    ],
    gives: &["shim_at_from_big_end", "length_along_axis"],
    off: &[],
};

/// The layout "leg_shim".
pub static LEG_SHIM: Declared = Declared {
    id: "leg_shim",
    question: "Shim for a tapered leg",
    search_words: "taper tapered round leg shim wedge fence cradle spindle",
    forms: &[FORM],
    solve,
    ..Declared::PLAIN
};

/// Example: 2.5 to 1.25 over 20, shim at 16: 0.5 thick; without it 1.790° out; side 20.0098.
fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (big, small) = (inputs.need("big_diameter")?, inputs.need("small_diameter")?);
    let (length, at) = (inputs.need("length_along_axis")?, inputs.need("shim_at_from_big_end")?);
    let first = inputs.inches("first_contact_from_big_end").unwrap_or(0.0);
    let mut problems = Vec::new();
    if small > big {
        problems.push(Problem::at_limit(
            "small_diameter",
            "The small end may be at most as thick as the big end, {}.",
            Length(big),
        ));
    }
    problems.extend(check_place(length, at, first));
    Refused::if_any(problems)?;
    let taper = Taper { big, small, length };
    Ok(solution(&taper, at, first, detail).into())
}

fn solution(taper: &Taper, at: f64, first: f64, detail: Detail) -> Solution {
    let thickness = taper.shim(at, first);
    let half = taper.half_angle();
    let side = taper.side();
    let mut answers = Answers::new();
    answers
        .length("shim_thickness", thickness)
        .angle("reading_error_without_shim_deg", half)
        .angle("full_taper_deg", 2.0 * half)
        .length("side_length", side);
    let mut solution = Solution {
        way: "shim",
        title: "Axis along the fence",
        answers,
        headline: vec!["shim_thickness", "reading_error_without_shim_deg"],
        ..Solution::default()
    };
    if detail == Detail::Full {
        solution.figure = figure(taper, at, first, thickness);
        solution.parts.push(part(taper));
        solution.derivation = derivation(taper, at, first, thickness);
        solution.notes = notes(taper, at);
        solution.cautions = vec![Caution::TaperedStock, Caution::RoundStock];
    }
    solution
}

fn derivation(taper: &Taper, at: f64, first: f64, thickness: f64) -> Vec<Text> {
    let loss = Length((taper.big - taper.small) / 2.0);
    vec![
        say!(
            "Each side falls back by (big end − small end) ÷ 2 = {} over {} of length.",
            loss,
            Length(taper.length)
        ),
        say!(
            "From the first contact to the shim it is {}: shim = {} × {} ÷ {} = {}.",
            Length(at - first),
            loss,
            Length(at - first),
            Length(taper.length),
            Length(thickness)
        ),
        say!(
            "Without it the side lies on the fence and the reading is out by atan({} ÷ {}) = {}.",
            loss,
            Length(taper.length),
            Angle(taper.half_angle())
        ),
    ]
}

fn notes(taper: &Taper, at: f64) -> Vec<Text> {
    let mut notes = Vec::new();
    if taper.big == taper.small {
        notes.push(say!("No taper: no shim is needed."));
    } else if at < taper.length / 2.0 {
        notes.push(say!(
            "Put the shim nearer the small end: the farther it stands from the first contact, the \
             less its thickness matters."
        ));
    }
    notes.push(say!("Round stock: cradle it in a V-block and clamp it; never hold it by hand."));
    notes
}

/// The leg with its axis along the fence, big end at the left, its ends as they are.
fn part(taper: &Taper) -> Part {
    let inset = (taper.big - taper.small) / 2.0;
    let outline = vec![
        Point::new(0.0, 0.0),
        Point::new(taper.length, inset),
        Point::new(taper.length, taper.big - inset),
        Point::new(0.0, taper.big),
    ];
    Part {
        name: "Leg".into(),
        sides: Sides::DRAWN.ends("big end", "small end"),
        seen: Length(taper.big),
        length: Length(taper.length),
        outline: Polygon(outline),
        edge_a: Length(taper.side()),
        edge_b: Length(taper.side()),
        stock: StockShape::Round,
        ..Part::PLAIN
    }
}

fn figure(taper: &Taper, at: f64, first: f64, thickness: f64) -> Scene {
    let mut scene = Scene::new();
    // The leg's side at the first contact touches the fence (y = 0).
    let lift = taper.shim(first, 0.0);
    let inset = (taper.big - taper.small) / 2.0;
    let leg = [
        Point::new(0.0, lift - taper.big),
        Point::new(taper.length, lift - taper.big + inset),
        Point::new(taper.length, lift - inset),
        Point::new(0.0, lift),
    ];
    let margin = 0.06 * taper.length;
    scene.line(
        // Where the leg first touches further on, the fence begins there.
        Point::new(if first > 0.0 { first } else { -margin }, 0.0),
        Point::new(taper.length + margin, 0.0),
        Role::Frame,
    );
    scene.shape(leg.to_vec(), Role::Stock);
    let middle = lift - taper.big / 2.0;
    scene.line(Point::new(0.0, middle), Point::new(taper.length, middle), Role::Center);
    let half = (0.02 * taper.length).min(taper.length - at).max(0.0);
    scene.rectangle(Point::new(at - half, -thickness), Point::new(at + half, 0.0), Role::Mark);
    scene
        .given(leg[3], leg[0], -1, Length(taper.big), "big_diameter")
        .given(leg[2], leg[1], 1, Length(taper.small), "small_diameter")
        .given(
            leg[0],
            Point::new(taper.length, leg[0].y),
            -1,
            Length(taper.length),
            "length_along_axis",
        )
        .given(Point::new(0.0, 0.0), Point::new(at, 0.0), 1, Length(at), "shim_at_from_big_end")
        .computed(
            Point::new(at, -thickness),
            Point::new(at, 0.0),
            0,
            Length(thickness),
            "shim_thickness",
        );
    if first > 0.0 {
        scene.given(
            Point::new(0.0, 0.0),
            Point::new(first, 0.0),
            2,
            Length(first),
            "first_contact_from_big_end",
        );
    }
    scene.handle(Point::new(at, 0.0), "shim_at_from_big_end", Vector::new(1.0, 0.0));
    scene
}
