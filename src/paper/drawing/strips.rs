//! A board that is ripped, from above: its parts, its cuts, what is left over.

use super::board::{LEAST_SCALE, Sheet, TEXT};
use super::mark::CUT;
use super::{Drawing, Mark};
use offsquare_geometry::Point;
use offsquare_planner::guillotine::{CutBoard, CutKind, Instance, Saw, Then};
use offsquare_units::Style;

/// What is drawn: a board of a plan in strips. Lengths in inches.
pub struct BoardOfStrips<'a> {
    pub job: &'a Instance,
    pub cut: &'a CutBoard,
    /// The whole board.
    pub length: f64,
    /// Place 0 of the plan, from the board's left end.
    pub start: f64,
    /// Names of the job's parts.
    pub names: &'a [String],
}

/// Of the words on the parts of a sheet that is drawn small, px.
const SMALL_TEXT: f64 = 10.0;

/// The board to scale with a tape along its lower edge; lower edges of pieces are the ones nearest you.
pub fn board_of_strips(board: &BoardOfStrips, frame: f64, style: &Style) -> Drawing {
    let kind = board.job.boards.get(board.cut.board);
    let width = kind.map_or(0.0, |k| k.width);
    if !(board.length > 0.0 && width > 0.0 && frame > 0.0) {
        return Drawing::default();
    }
    // A board is drawn in rows so that it can be read; a sheet is wide enough to be seen whole.
    let (least, text) = match board.job.cut {
        CutKind::Sheets => (0.0, SMALL_TEXT),
        CutKind::Strips => (LEAST_SCALE.min(96.0 / width), TEXT),
    };
    let mut sheet = Sheet::of(board.length, width, (frame, least), style);
    let text = if sheet.scale < LEAST_SCALE { text } else { TEXT };
    sheet.ground(board.length);
    let (near, scale) = (sheet.near, sheet.scale);
    let at = |sheet: &Sheet, x: f64, y: f64| Point::new(sheet.x(x + board.start), near - y * scale);
    let quad = |sheet: &Sheet, x: f64, y: f64, l: f64, w: f64| {
        vec![at(sheet, x, y), at(sheet, x + l, y), at(sheet, x + l, y + w), at(sheet, x, y + w)]
    };
    for piece in &board.cut.pieces {
        if piece.then == Then::Rest {
            let outline = quad(&sheet, piece.x, piece.y, piece.length, piece.width);
            sheet.hatched(&outline);
        }
    }
    for p in &board.cut.parts {
        let Some(part) = board.job.parts.get(p.part) else {
            continue;
        };
        let (l, w) = part.extent(p.turned);
        let outline = quad(&sheet, p.x, p.y, l, w);
        sheet.shape(outline, "stock");
        let middle = at(&sheet, p.x + l / 2.0, p.y + w / 2.0);
        let (room, tall) = (l * scale - 6.0, w * scale);
        let name = board.names.get(p.part).map_or("", String::as_str);
        let size = format!("{} \u{d7} {}", sheet.length(part.length), sheet.length(part.width));
        let full = [name, " ", &size].concat();
        if tall >= text && !sheet.words(&full, middle, text, room, "stock") {
            // Two lines where there is room for them.
            let up = if tall >= 3.0 * text { 0.7 * text } else { 0.0 };
            sheet.words(name, Point::new(middle.x, middle.y - up), text, room, "stock");
            if up > 0.0 {
                sheet.words(&size, Point::new(middle.x, middle.y + up), text, room, "stock");
            }
        }
    }
    for piece in &board.cut.pieces {
        let Then::Cut { saw, at: place, .. } = piece.then else {
            continue;
        };
        let half = board.job.kerf_of(saw) / 2.0;
        let (from, to) = match saw {
            Saw::Crosscut => {
                let x = piece.x + place + half;
                ((x, piece.y), (x, piece.y + piece.width))
            }
            Saw::Rip => {
                let y = piece.y + place + half;
                ((piece.x, y), (piece.x + piece.length, y))
            }
        };
        let line =
            Mark::Line { from: at(&sheet, from.0, from.1), to: at(&sheet, to.0, to.1), class: CUT };
        sheet.marks.push(line);
    }
    // Along the lower edge: where the parts that lie on it end.
    let mut ends: Vec<f64> = Vec::new();
    for p in &board.cut.parts {
        if p.y <= board.job.edge_trim + 1e-6
            && let Some(part) = board.job.parts.get(p.part)
        {
            ends.push(board.start + p.x + part.extent(p.turned).0);
        }
    }
    offsquare_units::num::sort_by(&mut ends, f64::total_cmp);
    sheet.tape(board.length, &ends);
    sheet.running(board.length, &ends);
    sheet.done()
}
