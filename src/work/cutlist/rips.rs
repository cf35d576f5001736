//! Stock from which parts are ripped: all of its parts go to the planner of strips as rectangles, mitered
//! ends square, so that boards on hand are counted once.

use super::job::{Origin, RipJob};
use super::planned::Planned;
use super::sequence::setting_on_blank;
use super::shown::{Buy, Leftover, PutAway, add_rows, bought};
use super::{BlankCut, Entry, Jobs, Step, on_blank};
use crate::rack::{Owned, Rack};
use offsquare_cuts::saw::SawProfile;
use offsquare_planner::guillotine::{self, CutBoard, Falls, Saw, leftover_of};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Money, Text, say};

/// A board, or several alike, of strips.
#[derive(Clone, Debug, PartialEq)]
pub struct Ripped {
    pub number: usize,
    pub count: usize,
    pub cut: CutBoard,
    pub origin: Origin,
    pub length: Length,
    pub width: Length,
    pub start: f64,
    /// Index of the kept board that this is.
    pub kept: Option<usize>,
    pub left: Leftover,
    pub left_width: Length,
}

/// One job in strips as it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct RipShown {
    /// Index into the jobs in strips.
    pub job: usize,
    pub boards: Vec<Ripped>,
    pub buy: Vec<Buy>,
    pub owned: usize,
    /// None while one of the boards that are bought has no price.
    pub money: Option<Money>,
    /// How often a fence or a stop is set.
    pub settings: usize,
}

pub(super) fn shown(
    jobs: &Jobs,
    index: usize,
    planned: &Planned,
    plain: bool,
    rack: &Rack,
) -> Option<RipShown> {
    let job = jobs.rips.get(index)?;
    let cuts = planned.rip_boards(jobs, index, plain)?;
    let mut out = RipShown {
        job: index,
        boards: Vec::new(),
        buy: bought(&job.boards, cuts.iter().map(|b| b.board)),
        owned: 0,
        money: None,
        settings: 0,
    };
    out.money = out.buy.iter().map(|b| b.sum).sum();
    for (b, cut) in cuts.into_iter().enumerate() {
        let kept = job.kept.get(b).map(|k| k.0);
        let board = job.boards.get(cut.board)?;
        out.owned += usize::from(matches!(board.origin, Origin::Owned(_)));
        if let Some(same) =
            out.boards.iter_mut().find(|b| (b.kept, kept) == (None, None) && b.cut == cut)
        {
            same.count += 1;
            continue;
        }
        let reach = cut.parts.iter().fold((0.0_f64, 0.0_f64), |(x, y), p| {
            let (l, w) = job.instance.parts[p.part].extent(p.turned);
            (x.max(p.x + l), y.max(p.y + w))
        });
        let left = leftover_of(&job.instance, cut.board, reach.0, reach.1);
        // A narrow strip is no board of its stock any more; a sheet's offcut is any rectangle.
        let least = match job.is_sheet() {
            true => rack.keep.0,
            false => board.width.0,
        };
        out.boards.push(Ripped {
            number: 0,
            count: 1,
            cut,
            kept,
            origin: board.origin,
            length: board.length,
            width: board.width,
            start: board.start,
            left: Leftover {
                length: Length(left.length),
                trim: Length::ZERO,
                keep: left.width >= least - 1e-9
                    && left.width > 1e-6
                    && left.length >= rack.keep.0 - 1e-9
                    && left.length > 1e-6,
            },
            left_width: Length(left.width),
        });
    }
    let cuts = out.boards.iter().flat_map(|b| guillotine::steps(&job.instance, &b.cut));
    out.settings = guillotine::settings(&cuts.gather());
    // Then the miter saw, for what remains on the blanks.
    let placed = out.boards.iter().flat_map(|b| &b.cut.parts);
    out.settings += on_blank::settings(placed.flat_map(|p| &job.on_blank[p.part]));
    let mut number = 1;
    for b in &mut out.boards {
        b.number = number;
        number += b.count;
    }
    Some(out)
}

/// Why there is no plan in strips.
pub(super) fn why_none(job: &RipJob, part: Option<usize>, entries: &[Entry]) -> Text {
    let Some((kind, part)) = part.and_then(|p| job.instance.parts.get(p).zip(job.parts.get(p)))
    else {
        return say!(format!(
            "{}: there are not enough {}s in the rack for all parts. Add lengths, or more of them.",
            job.name,
            job.board()
        ));
    };
    let called = entries
        .iter()
        .find(|e| e.id == part.entry)
        .map_or_else(|| "a part".to_owned(), Entry::called);
    say!(
        "{}{} by {}{}",
        format!("{}: {called} is ", job.name),
        Length(kind.length),
        Length(kind.width),
        format!(", and no {} in the rack gives that. Add a larger one.", job.board())
    )
}

pub(super) fn put_away(job: &RipJob, shown: &RipShown) -> PutAway {
    let mut out = PutAway {
        stock: job.stock,
        done: job.parts.iter().map(|p| p.entry).gather(),
        ..PutAway::default()
    };
    for b in &shown.boards {
        let n = b.count as u32;
        let rows = match b.origin {
            Origin::Sold(_) => &mut out.bought,
            Origin::Owned(_) => &mut out.cut,
        };
        let (Origin::Sold(i) | Origin::Owned(i)) = b.origin;
        match rows.iter_mut().find(|r| r.0 == i) {
            Some(r) => r.1 += n,
            None => rows.push((i, n)),
        }
        if b.left.keep {
            add_rows(
                &mut out.kept,
                Owned {
                    length: b.left.length,
                    width: Some(b.left_width).filter(|_| job.is_sheet()),
                    count: n,
                    note: "left over".into(),
                    ..Owned::default()
                },
            );
        }
    }
    out
}

/// The cuts that remain once all blanks of a job are ripped and crosscut, setting by setting.
pub fn blank_steps(
    job: &RipJob,
    boards: &[Ripped],
    entries: &[Entry],
    saw: &SawProfile,
) -> Vec<Step> {
    let mut counts = vec![0usize; job.parts.len()];
    for b in boards {
        for p in &b.cut.parts {
            counts[p.part] += b.count;
        }
    }
    let mut all: Vec<(&Entry, &BlankCut, usize)> = Vec::new();
    for ((part, cuts), count) in job.parts.iter().zip(&job.on_blank).zip(counts) {
        if let Some(entry) = entries.iter().find(|e| e.id == part.entry).filter(|_| count > 0) {
            all.extend(cuts.iter().map(|c| (entry, c, count)));
        }
    }
    let setting = |c: &BlankCut| (c.miter.abs(), c.bevel);
    offsquare_units::num::sort_by(&mut all, |a, b| {
        let (a, b) = (setting(a.1), setting(b.1));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    let mut out = Vec::new();
    let mut set = None;
    for (entry, cut, count) in all {
        let width = entry.seen.unwrap_or_default();
        if set != Some(setting(cut)) {
            set = Some(setting(cut));
            let (blank, on_card) = (entry.blank(cut, (width, None)), entry.from.is_some());
            out.push(Step::Saw(setting_on_blank(setting(cut), &blank, on_card, saw)));
        }
        out.push(Step::Cut(on_blank::line(entry, cut, count, width)));
    }
    out
}

/// The cuts of one board in a maker's words.
pub fn rip_steps(job: &RipJob, cut: &CutBoard, entries: &[Entry]) -> Vec<Text> {
    let called = |placement: usize| {
        let part = cut.parts.get(placement).and_then(|p| job.parts.get(p.part));
        let entry = entries.iter().find(|e| Some(e.id) == part.map(|p| p.entry));
        entry.map_or_else(|| "Part".to_owned(), Entry::called)
    };
    let falls = |f: Option<Falls>| match f {
        Some(Falls::Part { placement, .. }) => Some(called(placement)),
        Some(Falls::Piece(_)) => Some("a piece to cut again".to_owned()),
        Some(Falls::Rest(_)) => Some("the rest".to_owned()),
        None => None,
    };
    guillotine::steps(&job.instance, cut)
        .into_iter()
        .map(|s| {
            let piece = cut.pieces.get(s.piece);
            let size = piece.map_or((0.0, 0.0), |p| (p.length, p.width));
            let on = if s.piece == 0 {
                say!(format!("The whole {}: ", job.board()))
            } else {
                say!("The piece of {} by {}: ", Length(size.0), Length(size.1))
            };
            let line = match s.saw {
                Saw::Rip => on.and("rip at ").and(Length(s.measure)).and(" from its lower edge"),
                Saw::Crosscut => {
                    on.and("crosscut at ").and(Length(s.measure)).and(" from its left end")
                }
            };
            let gives: Vec<String> =
                [falls(s.first), falls(s.second)].into_iter().flatten().gather();
            line.and(format!(": {}.", gives.join(" and ")))
        })
        .gather()
}
