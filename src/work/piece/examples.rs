//! Parts of the demo pieces: invented sizes, to try the list with.

use crate::cutlist::{Entry, PartEnd};
use crate::rack::Rack;
use offsquare_units::Length;
use offsquare_units::num::Gather;

/// What each example is called.
pub const EXAMPLES: [&str; 4] =
    ["Garden gate", "Slatted trellis", "Garden trug", "Plywood step stool"];

/// One example's parts; stock is picked by section from the rack.
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
