//! What the boards screen shows of a job: what to buy, how each board is cut, what is left over.

use super::job::{Job, Jobs, Origin};
use super::planned::{PlanState, Planned};
use super::rips::{self, RipShown};
use super::sentences::Cost;
use super::shown::{Buy, Leftover, Lying, PutAway, add_rows, bought};
use super::{Entry, sequence};
use crate::rack::{Owned, Rack, Stock};
use offsquare_planner::{CutBoard, Sequence, ends};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Money, Text, say};

/// One job as it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct ShownPlan {
    pub job: usize,
    pub boards: Vec<CutBoard>,
    pub lying: Vec<Lying>,
    pub buy: Vec<Buy>,
    /// How many boards come from the rack.
    pub owned: usize,
    /// None while one of the boards that are bought has no price.
    pub money: Option<Money>,
    pub order: Sequence,
}

/// All jobs as they are shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Summary {
    pub shown: Vec<ShownPlan>,
    /// Jobs in strips.
    pub ripped: Vec<RipShown>,
    /// Why a job has no plan.
    pub without: Vec<Text>,
    /// Of all boards that have a price.
    pub money: Money,
    /// Some board that is bought has none.
    pub unknown: bool,
    /// All boards that are bought, end to end.
    pub bought: Length,
    /// By stock: lengths on sale without a price. While there are any, nothing is known to be cheapest.
    pub no_price: Vec<(String, Vec<Length>)>,
}

impl Summary {
    /// The chosen plans, as far as they are known.
    pub fn of(
        jobs: &Jobs,
        planned: &Planned,
        plain: bool,
        rack: &Rack,
        entries: &[Entry],
    ) -> Summary {
        let mut out = Summary::default();
        let of_sticks = jobs.jobs.iter().map(|j| (&j.name, &j.no_price));
        let all = of_sticks.chain(jobs.rips.iter().map(|j| (&j.name, &j.no_price)));
        out.no_price = all.filter(|j| !j.1.is_empty()).map(|j| (j.0.clone(), j.1.clone())).gather();
        for (i, job) in jobs.jobs.iter().enumerate() {
            if let Some(boards) = planned.boards(jobs, i, plain) {
                let shown = shown(job, i, boards, plain, rack);
                out.add(&shown.buy);
                out.shown.push(shown);
                continue;
            }
            match planned.results.get(i).map(|r| &r.best) {
                Some(PlanState::None(part)) => out.without.push(why_none(job, *part, entries)),
                Some(PlanState::Open) => out.without.push(why_open(&job.name)),
                _ => {}
            }
        }
        for (i, job) in jobs.rips.iter().enumerate() {
            if let Some(shown) = rips::shown(jobs, i, planned, plain, rack) {
                out.add(&shown.buy);
                out.ripped.push(shown);
                continue;
            }
            match planned.rips.get(i).map(|r| &r.best) {
                Some(PlanState::None(part)) => {
                    out.without.push(rips::why_none(job, *part, entries))
                }
                Some(PlanState::Open) => out.without.push(why_open(&job.name)),
                _ => {}
            }
        }
        out
    }

    fn add(&mut self, buy: &[Buy]) {
        for b in buy {
            self.unknown |= b.sum.is_none();
            self.money = self.money + b.sum.unwrap_or_default();
            self.bought += b.length * f64::from(b.count);
        }
    }

    /// What the boards cost: in money where every length has its price, otherwise in wood.
    pub fn cost(&self) -> Cost {
        match self.no_price.is_empty() {
            true => Cost::Money(self.money),
            false => Cost::Wood(self.bought),
        }
    }
}

/// Neither a plan nor a proof that there is none.
fn why_open(name: &str) -> Text {
    say!(format!(
        "{name}: no plan was found in the time given, nor a proof that there is none. Plan fewer parts at once."
    ))
}

/// Why there is no plan: the part that fits nowhere, or the short supply.
fn why_none(job: &Job, part: Option<usize>, entries: &[Entry]) -> Text {
    let longest = job
        .instance
        .boards
        .iter()
        .map(|b| b.length - 2.0 * job.instance.trim)
        .fold(f64::NEG_INFINITY, f64::max);
    if job.instance.boards.is_empty() {
        return say!(format!(
            "{}: there are no boards to cut from. Add a length in the rack.",
            job.name
        ));
    }
    let Some(kind) = part.and_then(|p| job.instance.parts.get(p).zip(job.parts.get(p))) else {
        return say!(format!(
            "{}: there are not enough boards in the rack for all parts. Add lengths, or more of them.",
            job.name
        ));
    };
    let entry = entries.iter().find(|e| e.id == kind.1.entry);
    say!(
        "{}{} long, and the longest board gives {}. Add a longer board in the rack, or make it of \
         two pieces.",
        format!("{}: {} is ", job.name, entry.map_or_else(|| "a part".to_owned(), Entry::called)),
        Length(kind.0.length),
        Length(longest.max(0.0))
    )
}

fn shown(job: &Job, index: usize, boards: Vec<CutBoard>, plain: bool, rack: &Rack) -> ShownPlan {
    let stock = rack.stock(job.stock);
    let mut lying: Vec<Lying> = Vec::new();
    let mut owned = 0;
    for (b, cut) in boards.iter().enumerate() {
        let board = &job.boards[cut.board];
        owned += usize::from(matches!(board.origin, Origin::Owned(_)));
        let kept = job.kept.get(b).map(|k| k.0);
        let alike = lying.iter_mut().find(|l| {
            l.kept.is_none() && kept.is_none() && l.cut.board == cut.board && same(&l.cut, cut)
        });
        if let Some(l) = alike {
            l.members.push(b);
            continue;
        }
        lying.push(Lying {
            number: 0,
            members: vec![b],
            cut: cut.clone(),
            origin: board.origin,
            length: board.length,
            start: board.start,
            kept,
            left: leftover(job, cut, stock, rack.keep),
        });
    }
    let mut number = 1;
    for l in &mut lying {
        l.number = number;
        number += l.members.len();
    }
    let buy = bought(&job.boards, boards.iter().map(|b| b.board));
    ShownPlan {
        job: index,
        money: buy.iter().map(|b| b.sum).sum(),
        order: sequence::order(job, &boards, plain),
        boards,
        lying,
        buy,
        owned,
    }
}

fn same(a: &CutBoard, b: &CutBoard) -> bool {
    a.parts.len() == b.parts.len()
        && a.parts.iter().zip(&b.parts).all(|(p, q)| {
            p.part == q.part
                && p.turned == q.turned
                && p.flipped == q.flipped
                && (p.x - q.x).abs() < 1e-9
        })
}

/// What is left of a board right of its last cut, up to its end or to its next bad stretch.
fn leftover(job: &Job, cut: &CutBoard, stock: Option<&Stock>, keep: Length) -> Leftover {
    let kind = &job.instance.boards[cut.board];
    let Some(last) = cut.parts.last() else {
        return Leftover::default();
    };
    let part = &job.instance.parts[last.part];
    let (_, right) = ends::lying(part.left, part.right, last.turned, last.flipped);
    let used = last.x + part.length + ends::kerf_along(job.instance.kerf, right);
    let board = &job.boards[cut.board];
    let trim = match (board.origin, stock) {
        (Origin::Sold(_), Some(s)) => s.trim_right.0,
        (Origin::Owned(i), Some(s)) => s
            .owned
            .get(i)
            .filter(|o| board.start + kind.length + o.trim_right.0 >= o.length.0 - 1e-6)
            .map_or(0.0, |o| o.trim_right.0),
        _ => 0.0,
    };
    // With one trim for all, the planner's board is the whole board.
    let inside = if job.instance.trim > 0.0 { 0.0 } else { trim };
    let length = (kind.length + inside - used).max(0.0);
    let usable = length - trim;
    Leftover {
        length: Length(length),
        trim: Length(trim.min(length)),
        keep: usable >= keep.0 - 1e-9 && usable > 1e-6,
    }
}

impl Summary {
    /// What to do to the rack once everything that is shown has been cut.
    pub fn put_away(&self, jobs: &Jobs, rack: &Rack) -> Vec<PutAway> {
        self.shown
            .iter()
            .filter_map(|s| {
                let job = jobs.jobs.get(s.job)?;
                Some(put_away(job, s, rack.stock(job.stock)?, rack.keep))
            })
            .chain(
                self.ripped.iter().filter_map(|s| Some(rips::put_away(jobs.rips.get(s.job)?, s))),
            )
            .gather()
    }
}

fn put_away(job: &Job, shown: &ShownPlan, stock: &Stock, keep: Length) -> PutAway {
    let mut out = PutAway {
        stock: job.stock,
        done: job.parts.iter().map(|p| p.entry).gather(),
        ..PutAway::default()
    };
    out.done.dedup();
    let piece = |length: f64, trim: f64, count: u32| Owned {
        length: Length(length),
        count,
        trim_right: Length(trim),
        note: "left over".into(),
        ..Owned::default()
    };
    // How often each board kind is cut.
    let mut uses = vec![0u32; job.boards.len()];
    for l in &shown.lying {
        let n = l.members.len() as u32;
        uses[l.cut.board] += n;
        if l.left.keep {
            out.kept.push(piece(l.left.length.0, l.left.trim.0, n));
        }
    }
    for (kind, board) in job.boards.iter().enumerate() {
        match board.origin {
            Origin::Sold(i) if uses[kind] > 0 => out.bought.push((i, uses[kind])),
            Origin::Sold(_) => {}
            Origin::Owned(i) => {
                // Stretches of one board count as one board; what was not cut of it is kept.
                let most = job
                    .boards
                    .iter()
                    .zip(&uses)
                    .filter(|(b, _)| b.origin == board.origin)
                    .map(|(_, n)| *n)
                    .max()
                    .unwrap_or(0);
                if most > 0 && !out.cut.iter().any(|c| c.0 == i) {
                    out.cut.push((i, most));
                }
                let rest = most - uses[kind];
                let length = job.instance.boards[kind].length;
                if rest > 0 && length >= keep.0 {
                    out.kept.push(piece(length, 0.0, rest));
                }
            }
        }
    }
    let mut rows: Vec<Owned> = Vec::new();
    for p in out.kept {
        add_rows(&mut rows, p);
    }
    out.kept = rows;
    if stock.owned.is_empty() {
        out.cut.clear();
    }
    out
}
