//! What the boards screen shows of a job: what to buy, how each board is cut, what is left over.

use super::jobs::{Job, Jobs, Origin};
use super::planned::{Outcome, Planned};
use super::{Entry, sequence};
use crate::boards::{CutBoard, Sequence, ends};
use crate::rack::{Owned, Rack, Stock};
use crate::say;
use crate::units::{Length, Money, Text};

/// Boards of one length to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Buy {
    pub count: u32,
    pub length: Length,
    pub each: Money,
    pub sum: Money,
}

/// What is left of a board right of its last cut.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Leftover {
    pub length: Length,
    /// Of it, given up at the far end.
    pub trim: Length,
    /// Worth keeping, by the rack's measure.
    pub keep: bool,
}

/// A board, or several alike, as they lie against the fence.
#[derive(Clone, Debug, PartialEq)]
pub struct Lying {
    /// Number of the first of them, counted from 1.
    pub number: usize,
    /// Places in the plan of all boards that are cut like this one.
    pub members: Vec<usize>,
    pub cut: CutBoard,
    pub origin: Origin,
    pub length: Length,
    pub start: f64,
    /// Index of the kept board that this is.
    pub kept: Option<usize>,
    pub left: Leftover,
}

/// One job as it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    pub job: usize,
    pub boards: Vec<CutBoard>,
    pub lying: Vec<Lying>,
    pub buy: Vec<Buy>,
    /// How many boards come from the rack.
    pub owned: usize,
    pub money: Money,
    pub order: Sequence,
}

/// All jobs as they are shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Summary {
    pub shown: Vec<Shown>,
    /// Jobs without a plan, and why.
    pub without: Vec<(usize, Text)>,
    pub money: Money,
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
        for (i, job) in jobs.jobs.iter().enumerate() {
            if let Some(boards) = planned.boards(jobs, i, plain) {
                let shown = shown(job, i, boards, plain, rack);
                out.money = out.money + shown.money;
                out.shown.push(shown);
                continue;
            }
            match planned.results.get(i).map(|r| &r.best) {
                Some(Outcome::None(part)) => out.without.push((i, why_none(job, *part, entries))),
                Some(Outcome::Open) => out.without.push((
                    i,
                    say![format!(
                        "{}: no plan was found in the time given, nor a proof that there is none. Plan fewer parts at once.",
                        job.name
                    )],
                )),
                _ => {}
            }
        }
        out
    }
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
        return say![format!(
            "{}: there are no boards to cut from. Add a length in the rack.",
            job.name
        )];
    }
    let Some(kind) = part.and_then(|p| job.instance.parts.get(p).zip(job.parts.get(p))) else {
        return say![format!(
            "{}: there are not enough boards in the rack for all parts. Add lengths, or more of them.",
            job.name
        )];
    };
    let entry = entries.iter().find(|e| e.id == kind.1.entry);
    say![
        format!(
            "{}: {} is ",
            job.name,
            entry.map_or_else(|| "a part".to_owned(), Entry::called)
        ),
        Length(kind.0.length),
        " long, and the longest board gives ",
        Length(longest.max(0.0)),
        ". Add a longer board in the rack, or make it of two pieces."
    ]
}

fn shown(job: &Job, index: usize, boards: Vec<CutBoard>, plain: bool, rack: &Rack) -> Shown {
    let stock = rack.stock(job.stock);
    let mut buy: Vec<Buy> = Vec::new();
    let mut lying: Vec<Lying> = Vec::new();
    let mut owned = 0;
    for (b, cut) in boards.iter().enumerate() {
        let board = &job.boards[cut.board];
        match board.origin {
            Origin::Owned(_) => owned += 1,
            Origin::Sold(_) => {
                let row = buy
                    .iter_mut()
                    .find(|r| r.length == board.length && r.each == board.price);
                match row {
                    Some(r) => {
                        r.count += 1;
                        r.sum = r.sum + board.price;
                    }
                    None => buy.push(Buy {
                        count: 1,
                        length: board.length,
                        each: board.price,
                        sum: board.price,
                    }),
                }
            }
        }
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
    crate::num::sort_by(&mut buy, |a, b| a.length.0.total_cmp(&b.length.0));
    Shown {
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

/// What happens to the rack when a job is cut: boards that are used up, pieces that are kept.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PutAway {
    pub stock: u32,
    /// Index into the sold lengths, and how many were bought.
    pub bought: Vec<(usize, u32)>,
    /// Index into the owned boards, and how many were cut.
    pub cut: Vec<(usize, u32)>,
    pub kept: Vec<Owned>,
    /// Entries that are cut.
    pub done: Vec<u32>,
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
            .collect()
    }
}

fn put_away(job: &Job, shown: &Shown, stock: &Stock, keep: Length) -> PutAway {
    let mut out = PutAway {
        stock: job.stock,
        done: job.parts.iter().map(|p| p.entry).collect(),
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
    // Pieces of one length are one row.
    let mut rows: Vec<Owned> = Vec::new();
    for p in out.kept {
        match rows
            .iter_mut()
            .find(|r| (r.length - p.length).abs().0 < 1e-9 && r.trim_right == p.trim_right)
        {
            Some(r) => r.count += p.count,
            None => rows.push(p),
        }
    }
    out.kept = rows;
    if stock.owned.is_empty() {
        out.cut.clear();
    }
    out
}

/// Whether the money is proven least, or how far it may be from it.
///
/// ```
/// use offsquare_core::{cutlist::bound_sentence, units::Money};
/// assert_eq!(bound_sentence(Money(8320), Money(8000)), "At most $3.20 (4 %) above the cheapest possible.");
/// assert_eq!(bound_sentence(Money(8000), Money(8000)), "Proven cheapest.");
/// ```
pub fn bound_sentence(money: Money, bound: Money) -> String {
    let over = money - bound;
    if over <= Money::ZERO {
        return "Proven cheapest.".into();
    }
    if bound <= Money::ZERO {
        return format!("At most {over} above the cheapest possible.");
    }
    // Never less than it may be.
    let share = (over.0 * 100 + bound.0 - 1) / bound.0;
    format!("At most {over} ({share} %) above the cheapest possible.")
}

/// The nested plan beside the plain one, each as money, changes of the saw, flips.
///
/// ```
/// use offsquare_core::{cutlist::compare, units::Money};
/// assert_eq!(
///     compare((Money(2539), 16, 3), (Money(2649), 2, 2)),
///     "Nested saves $1.10, 14 more changes of the saw, 1 more flip."
/// );
/// ```
pub fn compare(nested: (Money, usize, usize), plain: (Money, usize, usize)) -> String {
    let saved = plain.0 - nested.0;
    let more = |a: usize, b: usize, one: &str, many: &str| {
        let n = a.abs_diff(b);
        let word = if n == 1 { one } else { many };
        let way = if a >= b { "more" } else { "fewer" };
        if n == 0 {
            format!("as many {many}")
        } else {
            format!("{n} {way} {word}")
        }
    };
    let money = if saved > Money::ZERO {
        format!("Nested saves {saved}")
    } else {
        "Both cost the same; nested needs".to_owned()
    };
    format!(
        "{money}{} {}, {}.",
        if saved > Money::ZERO { "," } else { "" },
        more(nested.1, plain.1, "change of the saw", "changes of the saw"),
        more(nested.2, plain.2, "flip", "flips")
    )
}

/// "once", "twice", "5 times".
pub fn times(n: usize) -> String {
    match n {
        0 => "never".into(),
        1 => "once".into(),
        2 => "twice".into(),
        n => format!("{n} times"),
    }
}

/// A board's length as a yard says it: whole feet where it is so, otherwise as any length.
///
/// ```
/// use offsquare_core::{cutlist::yard_length, units::{Length, Style}};
/// assert_eq!(yard_length(Length(96.0), &Style::default()), "8 ft");
/// assert_eq!(yard_length(Length(35.875), &Style::default()), "35 7/8 in");
/// ```
pub fn yard_length(length: Length, style: &crate::units::Style) -> String {
    let feet = length.0 / 12.0;
    if !style.unit.is_metric()
        && feet >= 1.0
        && (feet - crate::num::round_half_up(feet)).abs() < 1e-9
    {
        format!("{feet:.0} ft")
    } else {
        say![length].render(style)
    }
}

/// What a small change would save.
pub fn nearly_sentence(job: &Job, close: &super::planned::Close) -> Text {
    let what = match (close.money, close.boards) {
        (None, _) => "all parts fit".to_owned(),
        (Some(m), Some(b)) if m > Money::ZERO && b > 0 => {
            format!("you save {m} and {b} {}", plural(b))
        }
        (Some(m), _) if m > Money::ZERO => format!("you save {m}"),
        (_, Some(b)) => format!("you save {b} {}", plural(b)),
        _ => "you save a board".to_owned(),
    };
    if close.over {
        say![
            format!("Nearly fits: if the {} you buy measures ", job.name),
            close.by,
            format!(" over its length, {what}. Measure before you buy more.")
        ]
    } else {
        say![
            format!("Nearly fits: with {} parts up to ", job.name),
            close.by,
            format!(" shorter, {what}.")
        ]
    }
}

fn plural(n: i64) -> &'static str {
    if n == 1 { "board" } else { "boards" }
}

/// Which batch sizes waste least, from what each costs: the sizes that are cheaper a piece than both
/// neighbors, cheapest first.
///
/// ```
/// use offsquare_core::{cutlist::best_sizes, units::Money};
/// let curve = [(1, Money(400)), (2, Money(400)), (3, Money(800)), (4, Money(800)), (5, Money(1200))];
/// assert_eq!(best_sizes(&curve), "Least wood a piece: 2 at $2.00, 4 at $2.00.");
/// ```
pub fn best_sizes(curve: &[(u32, Money)]) -> String {
    // n pieces for a cost against m for another, without dividing.
    let less = |a: &(u32, Money), b: &(u32, Money)| {
        i128::from(a.1.0) * i128::from(b.0) < i128::from(b.1.0) * i128::from(a.0)
    };
    let mut best: Vec<&(u32, Money)> = curve
        .iter()
        .enumerate()
        .filter(|(i, c)| {
            let before = *i == 0 || less(c, &curve[i - 1]);
            let after = curve.get(i + 1).is_none_or(|d| !less(d, c));
            // The last size has not met its neighbor.
            before && after && *i > 0 && i + 1 < curve.len()
        })
        .map(|(_, c)| c)
        .collect();
    crate::num::sort_by(&mut best, |a, b| {
        let (x, y) = (
            i128::from(a.1.0) * i128::from(b.0),
            i128::from(b.1.0) * i128::from(a.0),
        );
        x.cmp(&y).then(a.0.cmp(&b.0))
    });
    if best.is_empty() {
        return String::new();
    }
    let all: Vec<String> = best
        .iter()
        .take(3)
        .map(|(n, cost)| {
            let each = cost.times(1.0 / f64::from(*n)).unwrap_or_default();
            format!("{n} at {each}")
        })
        .collect();
    format!("Least wood a piece: {}.", all.join(", "))
}
