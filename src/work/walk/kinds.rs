//! The kinds of parts of a run: how their ends come off the board, and what is done to them at the bench.

use crate::cutlist::{Entry, Job, JobPart, PartEnd};
use crate::piece::{Begun, Source, answer};
use crate::rack::{Lies, Stock};
use crate::solved::{EndCut, PiecePart};
use offsquare_cuts::assembly::Hole;
use offsquare_cuts::parts::{Cut, End, Part, Side};
use offsquare_units::Length;
use offsquare_units::num::{self, Gather};
use std::collections::BTreeMap;

/// What is done to a part once it is off its board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum AtBench {
    /// One of the part's own cuts.
    Cut(usize),
    /// An end that is finished on its blank, of which no more is known.
    Finish(bool),
    /// Lines on its face.
    Mark,
    /// One of its laps, housings and notches.
    Lap(usize),
    Drill,
}

/// One kind of part: one of a job's.
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    pub entry: u32,
    pub mirrored: bool,
    pub name: String,
    /// How many are made in all.
    pub count: u64,
    /// As it is drawn.
    pub part: Part,
    pub holes: Vec<Hole>,
    /// As its board is cut for it.
    pub on_board: PiecePart,
    pub bench: Vec<AtBench>,
}

/// What the layouts of the run's parts make.
pub struct Solved(BTreeMap<u32, (Vec<Part>, Vec<Vec<Hole>>)>);

impl Solved {
    pub fn of(run: &Begun) -> Solved {
        let one = |s: &Source| {
            let mut answered = answer(&s.draft, &run.of.shop);
            let n = answered.solved.len();
            let way = s.draft.way.filter(|w| *w < n).unwrap_or(0);
            let solution = (n > 0).then(|| answered.solved.swap_remove(way).solution)?;
            let holes = solution.members.into_iter().map(|m| m.holes).gather();
            Some((s.id, (solution.parts, holes)))
        };
        Solved(run.of.sources.iter().filter_map(one).collect())
    }

    /// The layout's part of an entry, where it stands on the list as the layout makes it.
    fn part(&self, entry: &Entry) -> Option<(Part, Vec<Hole>)> {
        let from = entry.from.as_ref()?;
        let (parts, holes) = self.0.get(&from.source)?;
        let mut named = parts.iter().enumerate().filter(|(_, p)| p.name == from.part);
        let (at, part) = named.nth(from.nth)?;
        let mut made = entry.clone();
        made.take(part);
        let same = (made.length, made.left, made.right, made.seen)
            == (entry.length, entry.left, entry.right, entry.seen);
        same.then(|| (part.clone(), holes.get(at).cloned().unwrap_or_default()))
    }
}

/// The kinds of a job's parts, in its order.
pub fn kinds(run: &Begun, job: &Job, solved: &Solved) -> Vec<Kind> {
    let Some(stock) = run.of.rack.stock(job.stock) else { return Vec::new() };
    job.parts.iter().filter_map(|p| kind(run, (job, stock), p, solved)).gather()
}

fn kind(run: &Begun, (job, stock): (&Job, &Stock), of: &JobPart, solved: &Solved) -> Option<Kind> {
    let entry = run.of.parts.iter().find(|e| e.id == of.entry)?;
    let times = run.of.pieces.iter().find(|p| p.id == entry.piece).map_or(1, |p| p.times());
    let typed = || (entry.as_part((stock.width, stock.thickness)), Vec::new());
    let (drawn, holes) = solved.part(entry).unwrap_or_else(typed);
    let on_board = on_board(entry, &drawn, (job, stock), of.mirrored);
    let bench = bench(entry, &drawn, !holes.is_empty(), !job.is_ripped());
    let turned = |h: &Hole| Hole {
        at: offsquare_geometry::Point::new(drawn.length.0 - h.at.x, h.at.y),
        ..*h
    };
    let (part, holes) = match of.mirrored {
        true => (drawn.mirrored(), holes.iter().map(turned).gather()),
        false => (drawn, holes),
    };
    Some(Kind {
        entry: entry.id,
        mirrored: of.mirrored,
        name: entry.called(),
        count: of.each * u64::from(times),
        part,
        holes,
        on_board,
        bench,
    })
}

/// An end that is cut on the board, in one cut over its whole width.
fn is_on_board(end: &PartEnd) -> bool {
    let steep = offsquare_planner::STEEPEST;
    !end.pointed && end.miter.abs() <= steep && end.bevel <= steep
}

/// A part as its board is cut for it: its ends in the board's frame, where what is cut at the bench is square.
fn on_board(
    entry: &Entry,
    drawn: &Part,
    (job, stock): (&Job, &Stock),
    mirrored: bool,
) -> PiecePart {
    let width = job.instance.sticks().map_or(stock.width, |i| Length(i.width));
    let flat = (width - stock.width).abs().0 <= 1e-9;
    let away = if flat { stock.thickness } else { stock.width };
    let plane = if flat { Lies::Flat } else { Lies::OnEdge };
    let rolled = stock.lies(entry.seen, entry.away) != Some(plane);
    let end = |of: End, end: &PartEnd| {
        if !is_on_board(end) {
            return EndCut::default();
        }
        let outward = if of == End::Left { Side::Left } else { Side::Right };
        let own = drawn.cuts.iter().find(|c| c.end == of && c.bevel.0 > 0.0);
        // What a maker types leans so that the upper face is the longer one.
        let sign = if own.is_none_or(|c| c.lean == outward) { 1.0 } else { -1.0 };
        let miter = if mirrored { -end.miter } else { end.miter };
        let cut = EndCut { miter: miter + 0.0, bevel: sign * end.bevel + 0.0, second: None };
        if rolled { roll(cut) } else { cut }
    };
    PiecePart {
        name: entry.id.to_string(),
        qty: 1,
        stick: stock.name.clone(),
        seen: width,
        away,
        length: entry.cut_length(),
        left: end(End::Left, &entry.left),
        right: end(End::Right, &entry.right),
        ..PiecePart::default()
    }
}

/// An end of a stick rolled a quarter about its length, edge A up: its outward normal (cos m, sin m, -tan b) becomes
/// (cos m, -tan b, -sin m).
///
/// Example: a plain miter of 30° becomes a bevel of 30°, the upper face the longer one.
fn roll(cut: EndCut) -> EndCut {
    let (cos, sin) = (num::cos_deg(cut.miter), num::sin_deg(cut.miter));
    let miter = -num::atan2_deg(num::tan_deg(cut.bevel), cos);
    let bevel = num::atan2_deg(sin * num::cos_deg(miter), cos);
    EndCut { miter: miter + 0.0, bevel: bevel + 0.0, second: None }
}

/// What is left to do, in the order in which it is done. On ripped boards and sheets all ends are square first.
fn bench(entry: &Entry, part: &Part, holes: bool, sticks: bool) -> Vec<AtBench> {
    let mut out: Vec<AtBench> = Vec::new();
    let slip = 1e-9 * part.length.0.max(part.seen.0).max(1.0);
    let is_end = |c: &Cut, end: End| {
        c.end == end && c.is_square() && {
            let x = if end == End::Left {
                c.from.x.min(c.to.x)
            } else {
                part.length.0 - c.from.x.max(c.to.x)
            };
            x.abs() <= slip
        }
    };
    for (end, own) in [(End::Left, &entry.left), (End::Right, &entry.right)] {
        if sticks && is_on_board(own) {
            continue;
        }
        let cuts = part.cuts.iter().enumerate().filter(|(_, c)| c.end == end && !is_end(c, end));
        let before = out.len();
        out.extend(cuts.map(|(i, _)| AtBench::Cut(i)));
        if out.len() == before && !own.is_square() {
            out.push(AtBench::Finish(end == End::Right));
        }
    }
    let along = part.cuts.iter().enumerate().filter(|(_, c)| c.end == End::Along);
    out.extend(along.map(|(i, _)| AtBench::Cut(i)));
    let bare = part.marks.iter().filter(|m| part.laps.iter().all(|l| !l.shoulders.contains(m)));
    if bare.count() > 0 {
        out.push(AtBench::Mark);
    }
    out.extend((0..part.laps.len()).map(AtBench::Lap));
    if holes {
        out.push(AtBench::Drill);
    }
    out
}
