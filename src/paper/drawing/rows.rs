//! A long drawing in rows, one below the other, so that nothing has to be moved sideways.

use super::{Drawing, Mark};
use offsquare_units::num::Gather;

/// Room that a word keeps from the end of a row, px.
const CLEAR: f64 = 2.0;

/// Where each row begins and how wide it is, none wider than `frame` px: as few as there can be, with no word broken
/// that is narrower than half a row.
///
/// ```
/// use offsquare_paper::drawing::{Drawing, rows};
/// let long = Drawing { width: 700.0, ..Drawing::default() };
/// assert_eq!(rows(&long, 300.0), [(0.0, 300.0), (300.0, 300.0), (600.0, 100.0)]);
/// assert_eq!(rows(&long, 800.0), [(0.0, 700.0)]);
/// ```
pub fn rows(drawing: &Drawing, frame: f64) -> Vec<(f64, f64)> {
    let word = |m: &Mark| match m {
        Mark::Text { rect, .. } => Some((rect.low.x - CLEAR, rect.high.x + CLEAR)),
        _ => None,
    };
    let words: Vec<(f64, f64)> = drawing.marks.iter().filter_map(word).gather();
    let mut out = Vec::new();
    let mut from = 0.0;
    while drawing.width - from > frame {
        let mut to = from + frame;
        while let Some(word) = words.iter().find(|w| w.0 < to && to < w.1) {
            to = word.0;
        }
        if !(to > from + frame / 2.0) {
            to = from + frame;
        }
        out.push((from, to - from));
        from = to;
    }
    out.push((from, drawing.width - from));
    out
}
