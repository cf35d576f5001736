//! A trug: two ends, sides that lie on the ends' edges, a floor between the ends, a handle, a divider.
//!
//! With a shoulder each side is two boards: an upright one, square, up to the shoulder, and one on the
//! slope, which stands on the upright one and on the end's edge. The sloping board's long edges are ripped
//! level, so that the two meet on the shoulder's level and neither runs into the other; outside, the sloping
//! board stands out over the upright one by what its thickness measures more on the level.

mod bodies;
mod sizes;

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, Stood, told};
use super::sticks::{Aside, span, square};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Field, Inputs, Need};
use offsquare_cuts::layouts::field::{choice, length, option, standing_length};
use offsquare_cuts::layouts::{Declared, Detail, Form, Outcome, Refused, Solution};
use offsquare_cuts::parts::{Part, StockShape};
use offsquare_geometry::Point3;
use sizes::Made;

const FORM: Form = Form {
    fields: &[
        length("base_width", "Base width", 9.0, 230.0)
            .help("Of an end, along its bottom edge.")
            .free(),
        length("top_width", "Top width", 5.0, 130.0)
            .help("Of an end; 0 for a gable.")
            .or_zero()
            .free(),
        length("height", "Height", 10.0, 250.0).help("Of an end.").free(),
        standing_length("shoulder_height", "Shoulder height", 0.0, 0.0)
            .start(3.0, 75.0)
            .help("How far up the sides stand upright; 0 for none.")
            .free(),
        length("end_thickness", "End thickness", 0.75, 19.0).help("Of the ends, and of a divider."),
        length("length", "Length", 18.0, 460.0).help("Over the ends.").free(),
        length("side_thickness", "Side thickness", 0.5, 12.0),
        length("floor_thickness", "Floor thickness", 0.75, 19.0).help("It lies flush below."),
        choice("handle", "Handle", "dowel").of(&[
            option("none", "None"),
            option("dowel", "Dowel through the ends"),
            option("strip", "Strip between the ends"),
        ]),
        length("handle_size", "Handle size", 1.0, 25.0)
            .help("A dowel's diameter; a strip's height."),
        Field {
            need: Need::Length(0.75),
            ..length("handle_thickness", "Strip thickness", 0.75, 19.0)
                .help("Of a handle that is a strip.")
        },
        standing_length("divider_height", "Divider height", 0.0, 0.0)
            .help("From the ends' base to its top, in the middle of the length; 0 for none."),
    ],
    also: &[
        length("floor_length", "Inside length", 16.5, 422.0).help("Between the ends.").optional(),
        length("overall_width", "Overall width", 10.0, 255.0).help("Over the sides.").optional(),
    ],
    gives: &["top_width", "height", "base_width", "length", "shoulder_height"],
    ..SIZES
};

const END: Stick = Stick { name: "end", seen: None, away: Some("end_thickness") };

/// The pattern "trug".
pub static TRUG: Pattern = Pattern {
    layout: Declared {
        id: "trug",
        question: "Trug with a handle",
        search_words: "basket tote carrier tool tray harvest garden caddy",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        END,
        Stick { name: "side", seen: None, away: Some("side_thickness") },
        Stick { name: "floor", seen: None, away: Some("floor_thickness") },
        Stick { name: "handle", seen: Some("handle_size"), away: Some("handle_thickness") },
        Stick { name: "divider", ..END },
    ],
    instead: &[("floor_length", "length"), ("overall_width", "base_width")],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let made = Made::read(inputs)?;
    let ask = Ask::of("end_board", "box")
        .length("base_width", made.base, "base_width")
        .length("top_width", made.top, "top_width")
        .length("height", made.height, "height")
        .length("shoulder_height", made.shoulder, "shoulder_height")
        .length("end_thickness", made.end, "end_thickness")
        .length("box_length", made.length, "length")
        .length("side_thickness", made.side, "side_thickness")
        .length("floor_thickness", made.floor, "floor_thickness");
    let ask = match made.divider {
        0.0 => ask,
        top => ask.length("divider_height", top, "divider_height"),
    };
    let (mut answer, warned) = ask.one(detail)?;
    made.check()?;
    let (_, slope) = made.faces();
    // On the level a sloping board is thicker than an upright one.
    let overall = made.base.max(made.top) + 2.0 * made.side / slope.normal.x;
    answer.answers.length("overall_width", overall);
    answer.title = "The trug";
    told((answer, warned), detail, |answer| (made.parts(answer), made.spans()))
}

impl Made {
    /// The layout's parts where they stand, then the handle.
    fn parts(&self, answer: &Solution) -> Vec<Stood> {
        // The right side's boards are the left one's, turned.
        let mut parts = answer.parts.iter().filter(|p| !p.name.starts_with("Right")).cloned();
        let stood = |member: Member| {
            let part = match member.stick {
                "handle" => self.handle_part(),
                _ => parts.next()?,
            };
            let name = match member.stick {
                "end" => "End",
                "side" if self.shoulder == 0.0 => "Side",
                "side" if part.name.ends_with("upright") => "Lower side",
                "side" => "Upper side",
                "floor" => "Floor",
                "divider" => "Divider",
                _ => "Handle",
            };
            Some((Part { name: name.into(), ..part }, member))
        };
        self.members(&answer.answers).into_iter().filter_map(stood).collect()
    }

    fn handle_part(&self) -> Part {
        let inside = self.length - 2.0 * self.end;
        let d = self.handle_size;
        match self.handle {
            "dowel" => Part { stock: StockShape::Round, ..square("Handle", self.length, d, d) },
            _ => square("Handle", inside, d, self.strip),
        }
    }

    fn spans(&self) -> Vec<Span> {
        let (y, z) = (self.length / 2.0, self.height);
        let (x, top) = (self.base / 2.0, self.top / 2.0);
        let at = |x, z| Point3::new(x, -y, z);
        let mut spans = vec![
            span("base_width", self.base, at(-x, 0.0), at(x, 0.0), Aside::Front),
            span("height", z, at(-x, 0.0), at(-x, z), Aside::Left),
            span("length", self.length, at(x, 0.0), Point3::new(x, y, 0.0), Aside::Right),
        ];
        if self.top > 0.0 {
            spans.push(span("top_width", self.top, at(-top, z), at(top, z), Aside::Above));
        }
        if self.shoulder > 0.0 {
            let (from, to) = (at(-x, 0.0), at(-x, self.shoulder));
            spans.push(span("shoulder_height", self.shoulder, from, to, Aside::Left));
        }
        if self.divider > 0.0 {
            let on = |z| Point3::new(0.0, 0.0, z);
            spans.push(span(
                "divider_height",
                self.divider,
                on(0.0),
                on(self.divider),
                Aside::Left,
            ));
        }
        spans
    }
}
