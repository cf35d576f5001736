//! What the boards screen shows of a job: what to buy, how each board is cut, what is left over.

use super::Entry;
use super::job::{Instance, Job, Jobs, Origin};
use super::planned::{PlanState, Planned};
use super::sentences::Cost;
use super::sequence::order;
use super::share::{Share, share_out};
use super::shown::{Buy, Leftover, Lying, PutAway, ShownPlan, bought, worth};
use crate::price::Exact;
use crate::rack::{Rack, Stock};
use offsquare_planner::guillotine::{Instance as Rectangles, leftover_of};
use offsquare_planner::{BoardKind, CutBoard, Instance as Sticks, alike, ends};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Money, Text, say};

/// All jobs as they are shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Summary {
    pub shown: Vec<ShownPlan>,
    /// Why a job has no plan.
    pub without: Vec<Text>,
    /// Of all boards that have a price.
    pub money: Money,
    /// Some board that is bought has none.
    pub unknown: bool,
    /// All boards that are bought, end to end.
    pub bought: Length,
    /// What each piece takes of it, in the order of their ids.
    pub shares: Vec<Share>,
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
        let open = jobs.jobs.iter().filter(|j| !j.no_price.is_empty());
        out.no_price = open.map(|j| (j.name.clone(), j.no_price.clone())).gather();
        for (i, job) in jobs.jobs.iter().enumerate() {
            if let Some(boards) = planned.boards(jobs, i, plain) {
                let shown = shown((i, job), boards, plain, rack);
                out.add(&shown.buy);
                share_out(&mut out.shares, job, Some(&shown));
                out.shown.push(shown);
                continue;
            }
            share_out(&mut out.shares, job, None);
            match planned.results.get(i).map(|r| &r.best) {
                Some(PlanState::None(part)) => out.without.push(why_none(job, *part, entries)),
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

    /// What a piece takes; none where nothing of it is planned.
    pub fn share(&self, piece: u32) -> Option<&Share> {
        self.shares.iter().find(|s| s.piece == piece)
    }

    /// What the boards cost: in money where every length has its price, otherwise in wood.
    pub fn cost(&self) -> Cost {
        match self.no_price.is_empty() {
            true => Cost::Money(self.money),
            false => Cost::Wood(self.bought),
        }
    }
}

/// `boards`: of the chosen plan, those that are kept first.
fn shown(
    (index, job): (usize, &Job),
    boards: Vec<CutBoard>,
    plain: bool,
    rack: &Rack,
) -> ShownPlan {
    let stock = rack.stock(job.stock);
    // Each kept board stands by itself; the others as many as are cut alike.
    let kept = job.kept.len().min(boards.len());
    let mut groups: Vec<Vec<usize>> = (0..kept).map(|b| vec![b]).gather();
    let rest = alike(&boards[kept..]).into_iter();
    groups.extend(rest.map(|g| g.into_iter().map(|b| b + kept).gather()));
    let order = order(job, &boards, &groups, plain);
    let mut number = 1;
    let mut lying: Vec<Lying> = Vec::new();
    for members in groups {
        let cut = &boards[members[0]];
        let count = members.len();
        lying.push(Lying {
            number,
            kept: job.kept.get(members[0]).map(|k| k.0),
            members,
            cut: cut.clone(),
            board: job.boards[cut.board],
            left: left_of(job, cut, stock, rack.keep),
        });
        number += count;
    }
    let buy = bought(&job.boards, boards.iter().map(|b| b.board));
    ShownPlan {
        job: index,
        owned: boards.iter().filter(|b| job.boards[b.board].is_owned()).count(),
        money: buy.iter().map(|b| b.sum).sum(),
        order,
        boards,
        lying,
        buy,
    }
}

/// What is left of a board once it is cut.
pub fn left_of(job: &Job, cut: &CutBoard, stock: Option<&Stock>, keep: Length) -> Leftover {
    match &job.instance {
        Instance::Sticks(of) => leftover(job, of, cut, stock, keep),
        Instance::Rectangles(of) => rest_of(job, of, cut, keep),
    }
}

/// What happens to the rack when these boards of a job are cut.
pub fn put_away(job: &Job, boards: Vec<CutBoard>, rack: &Rack) -> Option<PutAway> {
    let shown = shown((0, job), boards, false, rack);
    Some(shown.put_away(job, rack.stock(job.stock)?, rack.keep))
}

impl Jobs {
    /// What the leftovers are worth that are kept, in cents; `ends`: by job, its boards with the last of their parts.
    pub fn worth_kept(&self, ends: &[Vec<CutBoard>], rack: &Rack) -> Exact {
        let of_job = |(job, boards): (&Job, &Vec<CutBoard>)| -> Exact {
            let Some(of) = job.instance.sticks() else { return Exact::default() };
            let stock = rack.stock(job.stock);
            let sound = |cut: &&CutBoard| cut.board < job.boards.len();
            let boards = boards.iter().filter(sound);
            boards
                .map(|cut| worth(&job.boards[cut.board], &leftover(job, of, cut, stock, rack.keep)))
                .sum()
        };
        self.jobs.iter().zip(ends).map(of_job).sum()
    }
}

/// What is left of a board of sticks, up to its end or to its next bad stretch.
fn leftover(
    job: &Job,
    of: &Sticks,
    cut: &CutBoard,
    stock: Option<&Stock>,
    keep: Length,
) -> Leftover {
    let kind = &of.boards[cut.board];
    let Some(last) = cut.parts.last() else {
        return Leftover::default();
    };
    let part = &of.parts[last.part];
    let (_, right) = ends::lying(part.left, part.right, last.turned, last.flipped);
    let used = last.x + part.length + ends::kerf_along(of.kerf, right);
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
    let inside = if of.trim > 0.0 { 0.0 } else { trim };
    let length = (kind.length + inside - used).max(0.0);
    let usable = length - trim;
    Leftover {
        length: Length(length),
        width: board.width,
        trim: Length(trim.min(length)),
        keep: usable >= keep.0 - 1e-9 && usable > 1e-6,
    }
}

/// The same of a board of rectangles.
fn rest_of(job: &Job, of: &Rectangles, cut: &CutBoard, keep: Length) -> Leftover {
    let reach = cut.parts.iter().fold((0.0_f64, 0.0_f64), |(x, y), p| {
        let (l, w) = of.parts[p.part].extent(p.turned);
        (x.max(p.x + l), y.max(p.y + w))
    });
    let left = leftover_of(of, cut.board, reach.0, reach.1);
    left_piece(job, cut.board, (left.length, left.width), keep)
}

/// A piece of a ripped board or a sheet as it is left.
pub fn left_piece(job: &Job, board: usize, (length, width): (f64, f64), keep: Length) -> Leftover {
    // A narrow strip is no board of its stock any more; a sheet's offcut is any rectangle.
    let least = if job.is_sheet() { keep } else { job.boards[board].width };
    let (long, wide) = (length >= keep.0 - 1e-9, width >= least.0 - 1e-9);
    Leftover {
        length: Length(length),
        width: Length(width),
        trim: Length::ZERO,
        keep: long && wide && length.min(width) > 1e-6,
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
    let (name, board) = (&job.name, job.board());
    if job.boards.is_empty() {
        return say!(format!(
            "{name}: there are no {board}s to cut from. Add a length in the rack."
        ));
    }
    let Some((part, of)) = part.and_then(|p| Some((p, job.parts.get(p)?))) else {
        return say!(format!(
            "{name}: there are not enough {board}s in the rack for all parts. Add lengths, or more of them."
        ));
    };
    let entry = entries.iter().find(|e| e.id == of.entry);
    let is = format!("{name}: {} is ", entry.map_or_else(|| "a part".to_owned(), Entry::called));
    match &job.instance {
        Instance::Sticks(of) => {
            let room = |b: &BoardKind| b.length - 2.0 * of.trim;
            let longest = of.boards.iter().map(room).fold(0.0, f64::max);
            say!(
                "{}{} long, and the longest board gives {}. Add a longer board in the rack, or make it of \
                 two pieces.",
                is,
                Length(of.parts[part].length),
                Length(longest)
            )
        }
        Instance::Rectangles(of) => {
            let kind = &of.parts[part];
            let add = format!(", and no {board} in the rack gives that. Add a larger one.");
            say!("{}{} by {}{}", is, Length(kind.length), Length(kind.width), add)
        }
    }
}

impl Summary {
    /// What to do to the rack once everything that is shown has been cut.
    pub fn put_away(&self, jobs: &Jobs, rack: &Rack) -> Vec<PutAway> {
        let put = |s: &ShownPlan| {
            let job = jobs.jobs.get(s.job)?;
            Some(s.put_away(job, rack.stock(job.stock)?, rack.keep))
        };
        self.shown.iter().filter_map(put).gather()
    }
}
