//! The job of a stock whose parts are rectangles: ripped from boards, or cut from sheets.

use super::job::{Instance, JobPart, Times};
use super::{Entry, Grain};
use crate::rack::Stock;
use offsquare_planner::BoardKind;
use offsquare_planner::guillotine::{self, CutKind, PartKind};
use offsquare_units::Length;
use offsquare_units::num::Gather;

/// How far a part's thickness may be from its sheet's, in inches: nominal 3/4 from measured 0.703.
const SAME_SHEET: f64 = 1.0 / 16.0 + 1e-9;

/// Across the board's width: the size of a part that is ripped; none where the part is larger than the
/// stock whichever way it lies.
pub(super) fn width(stock: &Stock, entry: &Entry) -> Option<Length> {
    let fits = |a: Length, b: Length| a.0 <= b.0 + 1.0 / 32.0;
    if stock.sheet {
        let thick =
            |l: Option<Length>| l.is_none_or(|l| (l - stock.thickness).abs().0 <= SAME_SHEET);
        return match (entry.seen, entry.away) {
            (Some(seen), away) if thick(away) => Some(seen),
            (seen @ Some(_), Some(away)) if thick(seen) => Some(away),
            _ => None,
        };
    }
    let (seen, away) = (entry.seen.unwrap_or(stock.width), entry.away.unwrap_or(stock.thickness));
    if fits(seen, stock.width) && fits(away, stock.thickness) {
        Some(seen.min(stock.width))
    } else if fits(seen, stock.thickness) && fits(away, stock.width) {
        Some(away.min(stock.width))
    } else {
        None
    }
}

/// What the planner is asked for these entries, and its parts. `boards`: each kind with its width.
pub(super) fn instance(
    stock: &Stock,
    own: &[&Entry],
    boards: impl Iterator<Item = (BoardKind, f64)>,
    (kerf, trim): (f64, f64),
    times: Times,
) -> (Instance, Vec<JobPart>) {
    let cut = if stock.sheet { CutKind::Sheets } else { CutKind::Strips };
    let mut job = guillotine::Instance::bare(cut, kerf, trim);
    let kind = |(BoardKind { id, length, price, limit }, width)| guillotine::BoardKind {
        id,
        length,
        width,
        price,
        limit,
    };
    job.boards = boards.map(kind).gather();
    let mut parts = Vec::new();
    for entry in own {
        let Some(width) = width(stock, entry) else {
            continue;
        };
        let ends = match stock.sheet {
            true => 0.0,
            false => entry.left.as_square(kerf) + entry.right.as_square(kerf),
        };
        let long = entry.cut_length().0 + ends;
        let wide = (width - entry.narrowed).0.max(width.0 * 0.1);
        let across = entry.grain == Grain::Across;
        let (length, width) = if across { (wide, long) } else { (long, wide) };
        let give = |used: Length, size: f64| (entry.give - used).0.min(0.9 * size).max(0.0);
        let each = u64::from(entry.count);
        parts.push(JobPart {
            entry: entry.id,
            piece: entry.piece,
            mirrored: false,
            across,
            each,
            give: (give(entry.shortened, long), give(entry.narrowed, wide)),
            on_blank: entry.cuts_on_blank(false, stock.width),
        });
        job.parts.push(PartKind {
            id: entry.id.to_string(),
            qty: each * u64::from(times(entry)),
            length,
            width,
            grain: match entry.grain {
                Grain::Either => guillotine::Grain::Free,
                _ => guillotine::Grain::Along,
            },
        });
    }
    (Instance::Rectangles(job), parts)
}
