//! Brace in an opening: a diagonal strip between two rails and two stiles (GEOMETRY 2).
//!
//! Frame: the opening's lower left corner is the origin, rails along x, stiles along y. The brace runs
//! from lower left to upper right; looking up along it, edge B is the left one, edge A the right one.

mod as_built;
mod crossed;
mod landing;
mod picture;
mod single;

use super::field::{choice, length, maybe_length, option};
use super::{Detail, Form, Layout, Off, Outcome, Spelling, missing};
use crate::inputs::{Choice, Field, Inputs, Kind, Need, Start};
use landing::Landing;

/// The layout "brace".
pub struct Brace;

const WIDTH: Field = length(
    "opening_width",
    "Opening width",
    "Between the stiles.",
    24.0,
    600.0,
);
const HEIGHT: Field = length(
    "opening_height",
    "Opening height",
    "Between the rails.",
    36.0,
    900.0,
);
const STRIP: Field = length(
    "strip_width",
    "Strip width",
    "The size of the brace that you see.",
    2.0,
    50.0,
);
const THICKNESS: Field = maybe_length(
    "thickness",
    "Strip thickness",
    "The size going away from you.",
);

const LANDINGS: &[Choice] = &[
    option("corner", "Point in the corner"),
    option("rails", "Flat on the rails"),
    option("stiles", "Flat on the stiles"),
    option("edge", "Edge on the diagonal"),
];
const ENDS: Field = Field {
    key: "ends",
    label: "How it lands",
    help: "Leave open to see every way.",
    kind: Kind::Choice(LANDINGS),
    need: Need::Optional,
    start: Start::Empty,
};
const SIDE: Field = choice(
    "side",
    "Edge on the diagonal: strip lies",
    &[option("below", "Below it"), option("above", "Above it")],
    "below",
);

const READING: Off = Off {
    answer: "reading_deg",
    keep: &[],
    give: "opening_height",
};
const LENGTH: Off = Off {
    answer: "edge_length",
    keep: &[],
    give: "opening_height",
};

const SINGLE: Form = Form {
    id: "single",
    label: "One brace",
    fields: &[WIDTH, HEIGHT, STRIP, ENDS, SIDE, THICKNESS],
    also: &[],
    gives: &["opening_height", "opening_width", "strip_width"],
    off: &[READING, LENGTH],
};

const CROSSED: Form = Form {
    id: "crossed",
    label: "Crossed pair",
    fields: &[
        WIDTH,
        HEIGHT,
        length(
            "strip_width_1",
            "First strip",
            "From lower left to upper right.",
            2.0,
            50.0,
        ),
        length(
            "strip_width_2",
            "Second strip",
            "From lower right to upper left.",
            2.0,
            50.0,
        ),
        ENDS,
        choice(
            "joint",
            "Where they cross",
            &[
                option("half_lap", "Half lap"),
                option("second_in_halves", "Second in two halves"),
            ],
            "half_lap",
        ),
        SIDE,
        THICKNESS,
    ],
    also: &[],
    gives: &["opening_height", "opening_width"],
    off: &[],
};

const K: Form = Form {
    id: "k",
    label: "K",
    fields: &[
        WIDTH,
        HEIGHT,
        STRIP,
        Field {
            key: "apex",
            label: "They meet at the",
            help: "",
            kind: Kind::Choice(&[
                option("left", "Left stile"),
                option("right", "Right stile"),
                option("top", "Top rail"),
                option("bottom", "Bottom rail"),
            ]),
            need: Need::Required,
            start: Start::Choice("left"),
        },
        ENDS,
        SIDE,
        THICKNESS,
    ],
    also: &[],
    gives: &["opening_height", "opening_width", "strip_width"],
    off: &[READING, LENGTH],
};

const AS_BUILT: Form = Form {
    id: "as_built",
    label: "As built",
    fields: &[
        length(
            "bottom",
            "Bottom",
            "Along the lower rail, inside.",
            30.0,
            760.0,
        ),
        length(
            "right",
            "Right",
            "Along the right stile, inside.",
            44.25,
            1120.0,
        ),
        length("top", "Top", "Along the upper rail, inside.", 30.125, 763.0),
        length(
            "left",
            "Left",
            "Along the left stile, inside.",
            44.0,
            1115.0,
        ),
        length(
            "diagonal_up",
            "Diagonal, up",
            "Lower left to upper right.",
            53.5,
            1356.0,
        ),
        STRIP,
        ENDS,
        SIDE,
        THICKNESS,
    ],
    also: &[maybe_length(
        "diagonal_down",
        "Diagonal, down",
        "Upper left to lower right.",
    )],
    gives: &["diagonal_up", "strip_width"],
    off: &[],
};

const OUTSIDE: Form = Form {
    id: "outside",
    label: "From outside",
    fields: &[
        length(
            "outside_width",
            "Frame, outside width",
            "Over both stiles.",
            29.0,
            740.0,
        ),
        length(
            "outside_height",
            "Frame, outside height",
            "Over both rails.",
            41.0,
            1040.0,
        ),
        length("stile_width", "Stile width", "Of one upright.", 2.5, 70.0),
        length(
            "rail_width",
            "Rail width",
            "Of one level member.",
            2.5,
            70.0,
        ),
        STRIP,
        ENDS,
        SIDE,
        THICKNESS,
    ],
    also: &[],
    gives: &["outside_height", "outside_width", "strip_width"],
    off: &[Off {
        answer: "reading_deg",
        keep: &[],
        give: "outside_height",
    }],
};

/// Which landings are asked for: the named one, or all four in GEOMETRY's order.
fn asked(inputs: &Inputs) -> Vec<Landing> {
    let above = inputs.choice("side") == Some("above");
    let all = [
        Landing::Corner,
        Landing::Rails,
        Landing::Stiles,
        Landing::Edge { above },
    ];
    match inputs.choice("ends") {
        Some(key) => all.into_iter().filter(|l| l.key() == key).collect(),
        None => all.to_vec(),
    }
}

impl Layout for Brace {
    fn id(&self) -> &'static str {
        "brace"
    }
    fn question(&self) -> &'static str {
        "Brace across a frame"
    }
    fn search_words(&self) -> &'static str {
        "diagonal gate door frame cross knee corner k chevron lap"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[SINGLE, CROSSED, K, AS_BUILT, OUTSIDE];
        FORMS
    }
    fn spelled(&self, request: &mut Spelling) {
        // One landing may also come in a list; a list of all four is the same as none named.
        if let Some(serde_json::Value::Array(all)) = request.get("ends").cloned() {
            let names: Vec<&str> = all.iter().filter_map(serde_json::Value::as_str).collect();
            let every = LANDINGS.iter().all(|l| names.contains(&l.key));
            if let Some((_, path)) = request.take("ends")
                && !every
                && !names.is_empty()
            {
                request.put("ends", names[0].into(), path);
            }
        }
        // The arrangement may be named besides: the keys already tell it.
        if request
            .get("arrangement")
            .and_then(serde_json::Value::as_str)
            .is_some_and(|a| ["single", "crossed", "k", "chevron", "as_built"].contains(&a))
        {
            request.take("arrangement");
        }
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let (form, outcome) = match inputs.form {
            "crossed" => (&CROSSED, crossed::solve(inputs, detail)),
            "k" => (&K, single::solve_pair(inputs, detail)),
            "as_built" => (&AS_BUILT, as_built::solve(inputs, detail)),
            "outside" => (&OUTSIDE, single::solve_outside(inputs, detail)),
            _ => (&SINGLE, single::solve(inputs, detail)),
        };
        outcome.unwrap_or_else(|| missing(form, inputs))
    }
}
