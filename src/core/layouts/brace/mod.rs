//! Brace in an opening: a diagonal strip between two rails and two stiles (GEOMETRY 2).
//!
//! Frame: the opening's lower left corner is the origin, rails along x, stiles along y.

mod rails;

use super::{Detail, Form, Layout, Off, Outcome};
use crate::inputs::{Choice, Field, Inputs, Kind, Need, Range, Start};
use crate::units::Length;

/// The layout "brace".
pub struct Brace;

const WIDTH: Field = Field {
    key: "opening_width",
    label: "Opening width",
    help: "Between the stiles.",
    kind: Kind::Length(Range::Positive),
    need: Need::Required,
    start: Start::Length(30.0, 760.0),
};
const HEIGHT: Field = Field {
    key: "opening_height",
    label: "Opening height",
    help: "Between the rails.",
    kind: Kind::Length(Range::Positive),
    need: Need::Required,
    start: Start::Length(44.0, 1120.0),
};
const STRIP: Field = Field {
    key: "strip_width",
    label: "Strip width",
    help: "The size of the brace that you see.",
    kind: Kind::Length(Range::Positive),
    need: Need::Required,
    start: Start::Length(2.5, 64.0),
};
const ENDS: Field = Field {
    key: "ends",
    label: "How it lands",
    help: "Leave open to see every way.",
    kind: Kind::Choice(&[Choice {
        key: "rails",
        label: "Flat on the rails",
    }]),
    need: Need::Optional,
    start: Start::Empty,
};

const SINGLE: Form = Form {
    id: "single",
    label: "One brace",
    fields: &[WIDTH, HEIGHT, STRIP, ENDS],
    also: &[],
    gives: &["opening_height", "opening_width", "strip_width"],
    off: &[Off {
        answer: "reading_deg",
        keep: &[],
        give: "opening_height",
    }],
};

/// An opening and a strip, checked.
#[derive(Clone, Copy, Debug)]
pub(super) struct Opening {
    pub width: Length,
    pub height: Length,
    pub strip: Length,
}

impl Layout for Brace {
    fn id(&self) -> &'static str {
        "brace"
    }
    fn question(&self) -> &'static str {
        "Brace across a frame"
    }
    fn search_words(&self) -> &'static str {
        "diagonal gate door frame cross knee corner"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[SINGLE];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let (Some(width), Some(height), Some(strip)) = (
            inputs.length("opening_width"),
            inputs.length("opening_height"),
            inputs.length("strip_width"),
        ) else {
            return super::missing(&SINGLE, inputs);
        };
        let opening = Opening {
            width,
            height,
            strip,
        };
        let mut out = Outcome::default();
        match rails::solve(opening, detail) {
            Ok(s) => out.solutions.push(s),
            Err(p) => out.problems.push(p),
        }
        out
    }
}
