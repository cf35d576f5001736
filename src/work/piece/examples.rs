//! Examples: what a made-up stall at a spring market sells, all sizes invented; and lists of loose parts to try
//! the cutting with.

use super::draft::Draft;
use crate::cutlist::{Entry, PartEnd};
use crate::patterns;
use crate::rack::Rack;
use offsquare_units::num::Gather;
use offsquare_units::{Length, Unit};

/// A piece to look at; opened, it is a copy.
#[derive(Debug)]
pub struct Example {
    pub name: &'static str,
    /// A line on what it is.
    pub note: &'static str,
    pub pattern: &'static str,
    /// In inches, as typed; what is not here is as the pattern starts.
    sizes: &'static [(&'static str, &'static str)],
    /// How many are made.
    pub batch: u32,
}

impl Example {
    /// Its pattern with its sizes; none where that has not come yet.
    pub fn draft(&self) -> Option<Draft> {
        let pattern = patterns::asked(self.pattern)?;
        let mut draft = Draft::fresh(pattern, pattern.forms().first()?, Unit::Inch);
        for (key, text) in self.sizes {
            draft.set(key, text, Unit::Inch);
        }
        Some(draft)
    }
}

/// All of them, in the order of the bench.
pub fn examples() -> &'static [Example] {
    EXAMPLE_PIECES
}

static EXAMPLE_PIECES: &[Example] = &[
    Example {
        name: "Sundial stand",
        note: "A six-sided post on three legs; the dial lies on top.",
        pattern: "post_stand",
        sizes: &[
            ("overall_height", "40"),
            ("footprint", "24"),
            ("legs", "3"),
            ("post_shape", "hexagonal"),
            ("post_width", "3 1/2"),
            ("post_length", "34"),
            ("leg_seen", "3 1/2"),
            ("leg_away", "1 1/2"),
        ],
        batch: 2,
    },
    Example {
        name: "Garden gate",
        note: "Crossed braces, half lapped where they meet.",
        pattern: "braced_frame",
        sizes: &[
            ("outside_width", "36"),
            ("outside_height", "44 1/2"),
            ("braces", "crossed"),
            ("ends", "rails"),
        ],
        batch: 1,
    },
    Example {
        name: "Garden trug",
        note: "Sides that lean out, and a dowel to carry it by.",
        pattern: "trug",
        sizes: &[
            ("base_width", "9"),
            ("top_width", "12"),
            ("height", "8 1/2"),
            ("shoulder_height", "0"),
            ("length", "18"),
            ("end_thickness", "23/32"),
            ("side_thickness", "23/32"),
            ("floor_thickness", "23/32"),
            ("handle", "dowel"),
        ],
        batch: 6,
    },
    Example {
        name: "Herb planter",
        note: "Leans out all around; drill its floor for the water.",
        pattern: "sloped_planter",
        sizes: &[
            ("outside_bottom_width", "22"),
            ("outside_bottom_depth", "7"),
            ("height", "7 1/2"),
            ("tilt_front_deg", "12"),
            ("tilt_side_deg", "8"),
            ("thickness", "23/32"),
            ("floor_thickness", "23/32"),
            ("feet_height", "0"),
        ],
        batch: 8,
    },
    Example {
        name: "Bracket for a hanging basket",
        note: "A knee between two legs; the hook sits under the level one.",
        pattern: "shelf_bracket",
        sizes: &[
            ("leg_a", "14"),
            ("leg_b", "18"),
            ("leg_seen", "3 1/2"),
            ("leg_away", "1 1/2"),
            ("seat_a", "8"),
            ("seat_b", "11"),
            ("knee_seen", "3 1/2"),
            ("count", "1"),
        ],
        batch: 12,
    },
    Example {
        name: "Slatted trellis",
        note: "Seven slats with even gaps, on a frame.",
        pattern: "slatted_trellis",
        sizes: &[
            ("width", "32"),
            ("height", "66"),
            ("thickness", "3/4"),
            ("slats", "7"),
            ("slat_thickness", "3/4"),
        ],
        batch: 4,
    },
    Example {
        name: "Wall desk",
        note: "Its front hangs on two chains and is written on.",
        pattern: "drop_front_rack",
        sizes: &[
            ("width", "30"),
            ("height", "22"),
            ("frame_seen", "1 1/2"),
            ("frame_thickness", "3 1/2"),
            ("panels", "1"),
            ("panel_height", "17 1/2"),
            ("panel_thickness", "23/32"),
            ("back_thickness", "23/32"),
            ("hinge_x", "2 3/4"),
            ("inner_face_from_axis", "0"),
            ("lower_edge_from_axis", "-3/8"),
            ("panel_hole_up_panel", "15"),
            ("back_hole_height", "16"),
        ],
        batch: 2,
    },
    Example {
        name: "Planting board",
        note: "Marks to space seeds by; it folds in two.",
        pattern: "scale_board",
        sizes: &[("total_length", "72"), ("sections", "2"), ("spacing", "1/4")],
        batch: 10,
    },
    Example {
        name: "Step stool",
        note: "Legs splayed two ways, with stretchers all around.",
        pattern: "splayed_stool",
        sizes: &[
            ("overall_height", "16 1/2"),
            ("top_width", "16"),
            ("top_depth", "11 1/4"),
            ("top_thickness", "23/32"),
            ("footprint_width", "19"),
            ("footprint_depth", "14 1/4"),
            ("leg_inset", "1 1/4"),
            ("stretcher_height", "5"),
        ],
        batch: 3,
    },
];

/// What each list of loose parts is called.
pub const EXAMPLES: [&str; 4] =
    ["Garden gate", "Slatted trellis", "Garden trug", "Plywood step stool"];

/// One list's parts; stock is picked by section from the rack.
pub fn example(which: usize, rack: &Rack) -> Vec<Entry> {
    // Name, count, length, width, thickness, left and right end.
    type Line = (&'static str, u32, f64, f64, f64, f64, f64);
    const PLY: f64 = 23.0 / 32.0;
    const GATE: &[Line] = &[
        ("Gate stile", 2, 44.0, 3.5, 1.5, 0.0, 0.0),
        ("Gate rail", 3, 27.0, 3.5, 1.5, 0.0, 0.0),
        ("Gate brace", 2, 34.4375, 3.5, 1.5, 54.5, -54.5),
        ("Gate slat", 6, 41.5, 2.5, 0.75, 0.0, 0.0),
        ("Cap side", 2, 31.0, 2.5, 0.75, 45.0, 45.0),
    ];
    const TRELLIS: &[Line] = &[
        ("Trellis upright", 5, 66.0, 1.5, 0.75, 0.0, 30.0),
        ("Trellis slat", 9, 38.5, 1.5, 0.75, 0.0, 0.0),
        ("Trellis brace", 2, 21.25, 1.5, 0.75, 45.0, -45.0),
    ];
    const TRUG: &[Line] = &[
        ("Trug slat", 8, 17.5, 1.5, 0.75, 0.0, 0.0),
        ("Trug foot", 2, 11.25, 1.5, 0.75, 22.5, 22.5),
        ("Trug end, blank", 2, 12.0, 7.25, 0.75, 0.0, 0.0),
    ];
    const STOOL: &[Line] = &[
        ("Stool top", 2, 16.0, 11.25, PLY, 0.0, 0.0),
        ("Stool end", 4, 10.5, 9.75, PLY, 0.0, 0.0),
        ("Stool rail", 4, 13.0, 3.0, PLY, 0.0, 0.0),
    ];
    let lines = match which {
        0 => GATE,
        1 => TRELLIS,
        2 => TRUG,
        _ => STOOL,
    };
    lines
        .iter()
        .map(|&(name, count, length, seen, away, left, right)| Entry {
            name: name.to_owned(),
            count,
            length: Length(length),
            seen: Some(Length(seen)),
            away: Some(Length(away)),
            left: PartEnd::mitered(left),
            right: PartEnd::mitered(right),
            stock: rack.suiting(Some(Length(seen)), Some(Length(away))).map(|s| s.id),
            ..Entry::default()
        })
        .gather()
}
