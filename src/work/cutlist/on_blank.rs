//! Cuts that are made on a part's blank, after it has left the stick: slopes over a shoulder, the cuts of a
//! point, a bevel.

use super::job::JobPart;
use super::{BlankCut, Entry, PartEnd, STEEPEST};
use offsquare_cuts::parts::{Cut, CutName, End, Part, Side, StockShape};
use offsquare_cuts::saw::SawProfile;
use offsquare_geometry::Point;
use offsquare_planner::{BoardCut, CutBoard, ends::reach};
use offsquare_units::{Angle, Length, Text, lower_first, say};

impl Entry {
    /// The cuts that remain on the blank. `nests`: plain miters of its ends are the stick's own cuts;
    /// otherwise every end goes in as square.
    pub(super) fn cuts_on_blank(&self, nests: bool, width: Length) -> Vec<BlankCut> {
        let wide = self.seen.unwrap_or(width).0;
        let mut out: Vec<BlankCut> = Vec::new();
        for (end, of, name) in
            [(End::Left, &self.left, "left end"), (End::Right, &self.right, "right end")]
        {
            if of.pointed || of.is_square() || (nests && of.is_plain()) {
                out.extend(self.on_blank.iter().filter(|c| c.end == end).cloned());
                continue;
            }
            let over = if of.miter.abs() < 89.0 { reach(wide, of.miter) } else { 0.0 };
            let (tip, sign) = match end {
                End::Left => (0.0, 1.0),
                _ => (self.length.0, -1.0),
            };
            out.push(BlankCut {
                name: name.to_owned(),
                end,
                miter: -sign * of.miter + 0.0,
                bevel: of.bevel,
                from: Point::new(tip + sign * (-over).max(0.0), 0.0),
                to: Point::new(tip + sign * over.max(0.0), wide),
            });
        }
        out.extend(self.on_blank.iter().filter(|c| c.end == End::Along).cloned());
        out
    }

    /// What its saw card says of the stop block for an end that is one plain cut, the other end at the stop.
    pub(super) fn stop_on_card(&self, end: End, width: Length, saw: &SawProfile) -> Option<Length> {
        if !(self.left.is_plain() && self.right.is_plain()) {
            return None;
        }
        let (wide, long) = (self.seen.unwrap_or(width), self.cut_length().0);
        let (l, r) = (reach(wide.0, self.left.miter), reach(wide.0, self.right.miter));
        let left = [Point::new((-l).max(0.0), 0.0), Point::new(l.max(0.0), wide.0)];
        let right = [Point::new(long - (-r).max(0.0), 0.0), Point::new(long - r.max(0.0), wide.0)];
        let part = Part::stick(self.called(), wide, self.away, &left, &right, &[]);
        let cut = part.cuts.iter().find(|c| c.end == end)?;
        let advice = saw.advise(&part, cut);
        advice.stop_block.filter(|_| !advice.by_mark).map(|s| s.setting)
    }

    /// The part as far as the list knows it: plain ends as they are, any other as on its blank, with the cuts that are
    /// made there. `size`: the stock's, where it has none of its own.
    pub fn as_part(&self, size: (Length, Length)) -> Part {
        let (wide, long) = (self.seen.unwrap_or(size.0), self.cut_length().0);
        let over = |e: &PartEnd| match e.pointed || e.miter.abs() > STEEPEST {
            true => 0.0,
            false => reach(wide.0, e.miter),
        };
        let (l, r) = (over(&self.left), over(&self.right));
        let left = [Point::new((-l).max(0.0), 0.0), Point::new(l.max(0.0), wide.0)];
        let right = [Point::new(long - (-r).max(0.0), 0.0), Point::new(long - r.max(0.0), wide.0)];
        let names = [CutName::plain("Left end"), CutName::plain("Right end")];
        let away = Some(self.away.unwrap_or(size.1));
        let mut part = Part::stick(self.called(), wide, away, &left, &right, &names);
        for cut in &mut part.cuts {
            let (end, side) = match cut.end {
                End::Left => (&self.left, Side::Left),
                _ => (&self.right, Side::Right),
            };
            if end.bevel > 0.0 && !end.pointed {
                (cut.bevel, cut.lean) = (Angle(end.bevel), side);
            }
        }
        let named = |c: &BlankCut| Cut { name: c.name.clone().into(), ..c.cut() };
        part.cuts.extend(self.on_blank.iter().map(named));
        if !self.on_blank.is_empty() {
            part.stock = StockShape::Board;
        }
        Part { count: self.count, ..part }
    }

    /// The blank as it lies on the saw for one of its cuts: a rectangle.
    pub(super) fn blank(&self, cut: &BlankCut, size: (Length, Option<Length>)) -> (Part, Cut) {
        let (wide, away) = (self.seen.unwrap_or(size.0), self.away.or(size.1));
        let at = |x: f64| [Point::new(x, 0.0), Point::new(x, wide.0)];
        let mut part = Part::stick(self.called(), wide, away, &at(0.0), &at(self.length.0), &[]);
        part.stock = StockShape::Board;
        part.cuts = vec![cut.cut()];
        (part, cut.cut())
    }
}

/// The cuts on the blanks of some boards, for the order of cuts. `parts`: of the job.
pub(super) fn on_boards(parts: &[JobPart], boards: &[CutBoard]) -> Vec<BoardCut> {
    let mut out = Vec::new();
    for (board, b) in boards.iter().enumerate() {
        for (place, p) in b.parts.iter().enumerate() {
            for (nth, c) in parts.get(p.part).into_iter().flat_map(|p| &p.on_blank).enumerate() {
                out.push(BoardCut {
                    board,
                    blank: place,
                    part: p.part,
                    mark_a: c.from.x,
                    mark_b: c.to.x,
                    kerf_right: c.end != End::Left,
                    miter: c.miter,
                    bevel: c.bevel,
                    nth: Some(nth),
                });
            }
        }
    }
    out
}

/// How many different settings of the saw some cuts ask for.
pub(super) fn settings<'a>(cuts: impl Iterator<Item = &'a BlankCut>) -> usize {
    let mut seen: Vec<(f64, f64)> = Vec::new();
    for c in cuts {
        let near = |s: &&(f64, f64)| {
            (s.0 - c.miter.abs()).abs() <= SAME_ANGLE && (s.1 - c.bevel).abs() <= SAME_ANGLE
        };
        if !seen.iter().any(|s| near(&s)) {
            seen.push((c.miter.abs(), c.bevel));
        }
    }
    seen.len()
}

/// Angles that differ by less are one setting, in degrees.
const SAME_ANGLE: f64 = 1e-9;

/// Where a cut starts and ends on its blank, as a tape tells it: along an edge from the nearer end, or up an
/// end from the lower edge.
///
/// Example: the left slope of a board 12 by 9 1/4 with a shoulder of 3 runs "from 3 in up the left end to 3 1/2 in
/// along the upper edge".
fn place(p: Point, length: Length, wide: Length) -> Text {
    let slip = 1e-6;
    let edge = |which: &str| {
        let (from, end) = match p.x > length.0 / 2.0 {
            true => (length.0 - p.x, "right"),
            false => (p.x, "left"),
        };
        if from.abs() <= slip {
            say!(format!("the {end} corner of the {which} edge"))
        } else {
            say!("{}{}", Length(from), format!(" along the {which} edge from its {end} end"))
        }
    };
    if p.y.abs() <= slip {
        edge("lower")
    } else if (p.y - wide.0).abs() <= slip {
        edge("upper")
    } else if p.x.abs() <= slip {
        say!("{} up the left end", Length(p.y))
    } else if (p.x - length.0).abs() <= slip {
        say!("{} up the right end", Length(p.y))
    } else {
        say!("{} from the left end and {} up from the lower edge", Length(p.x), Length(p.y))
    }
}

/// "End board, 8 blanks: left slope, from 3 in up the left end to 3 1/2 in along the upper edge from its left end."
pub(super) fn line(entry: &Entry, cut: &BlankCut, count: usize, width: Length) -> Text {
    let wide = entry.seen.unwrap_or(width);
    let blanks = if count == 1 { "1 blank".to_owned() } else { format!("{count} blanks") };
    let name = lower_first(&cut.name);
    let mut text = say!(format!("{}, {blanks}: {name}, from ", entry.called()));
    text.0.extend(place(cut.from, entry.length, wide).0);
    text.push(" to ");
    text.0.extend(place(cut.to, entry.length, wide).0);
    text.and(".")
}
