//! The third aim: at the least price and the fewest boards, one leftover as large as can be.
//!
//! One board is shortened by the leftover wanted, and the feasibility check is run again. Each answer halves
//! the range between the leftover reached and the one ruled out.

use super::super::board_counts::{Aim, Inequality, NODES, Question};
use super::super::cutting::Search;
use super::super::outcome::{SAME, WORKING};
use super::super::verdict::Verdict;
use super::feasibility::Depth;
use super::greedy::Taken;
use super::instance::Instance;
use super::model::{Bin, Lot, rooms};
use offsquare_units::num::{self, Gather};

/// Board counts whose leftovers are looked at.
const MOST_COUNTS: usize = 24;

/// One board length among certain board counts, and the range in which its leftover may lie.
#[derive(Clone, Debug)]
struct Range {
    boards: Vec<u32>,
    stock: usize,
    /// Nothing above this is possible.
    above: f64,
    /// Nothing above this has been found possible, though it is not ruled out.
    given_up: f64,
    tries: u32,
}

/// The state of the search for a larger leftover.
#[derive(Default)]
pub struct Leftovers {
    ranges: Option<Vec<Range>>,
    all_listed: bool,
    open: bool,
}

impl Leftovers {
    /// Whether the largest leftover is proven, once done.
    pub fn proven(&self) -> bool {
        self.all_listed && !self.open
    }

    /// Runs one feasibility check; true when the search is finished.
    pub fn step(&mut self, search: &mut Search<Instance>, instance: &Instance) -> bool {
        let Some(best) = search.best.as_ref().map(|b| b.leftover.max(0.0)) else {
            return true;
        };
        let Some(ranges) = &mut self.ranges else {
            self.ranges = Some(self.list(search));
            return false;
        };
        let grid = &search.own.feasibility.pricer.table.grid;
        let grid = grid.exact.then_some(grid.cell);
        // The range with the largest possible leftover. The one reached so far may be on a board of another
        // length, so the two need not be whole cells apart.
        let Some(at) = (0..ranges.len())
            .filter(|&r| ranges[r].given_up > best + SAME)
            .max_by(|&a, &b| ranges[a].given_up.total_cmp(&ranges[b].given_up).then(b.cmp(&a)))
        else {
            self.open = ranges.iter().any(|r| r.above > best + SAME);
            return true;
        };
        let range = &mut ranges[at];
        let goal = match range.tries {
            0 => range.given_up,
            t if t > 14 || range.given_up - best < 4.0 * SAME => best + SAME,
            _ => (best + range.given_up) / 2.0,
        };
        // On a grid only whole cells matter: ask for the next one up.
        let goal = match grid {
            Some(cell) => {
                let top = range.given_up;
                let steps = num::ceil((top - goal) / cell - 1e-6);
                let snapped = top - steps * cell;
                if snapped > best + SAME { snapped } else { snapped + cell }
            }
            None => goal,
        };
        range.tries += 1;
        let (boards, stock, tries) = (range.boards.clone(), range.stock, range.tries);
        let verdict = ask(search, &boards, stock, goal);
        let range = &mut ranges[at];
        let below = grid.map_or(goal, |cell| goal - cell);
        match verdict {
            Ok(Verdict::Found(plan)) => {
                let taken = plan
                    .into_iter()
                    .map(|(b, p)| (if b == search.own.bins.len() { stock } else { b }, p))
                    .gather();
                if !search.accept(instance, taken) {
                    range.given_up = best;
                }
            }
            Err(_) | Ok(Verdict::Impossible) => {
                range.given_up = range.given_up.min(below);
                range.above = range.above.min(below);
            }
            Ok(Verdict::Unknown) => range.given_up = range.given_up.min(below),
        }
        if tries > 40 {
            range.given_up = best;
        }
        search.budget.over()
    }

    /// All board counts at this price and total, with each board length that may be left over.
    fn list(&mut self, search: &mut Search<Instance>) -> Vec<Range> {
        let Some(best) = &search.best else {
            return Vec::new();
        };
        let (price, total) = (best.price, best.cut.len() as u32);
        let mut listed: Vec<Vec<u32>> = Vec::new();
        self.all_listed = true;
        loop {
            search.budget.spend(20_000);
            let asked = Question { tried: &listed, refuted: &[], ..search.question() };
            // Smaller undecided counts do not concern the leftover.
            match asked.next(Aim::Fewest { price, from: 0, below: total + 1 }, NODES) {
                Verdict::Found(n) => listed.push(n.boards),
                Verdict::Impossible => break,
                Verdict::Unknown => {
                    self.all_listed = false;
                    break;
                }
            }
            if listed.len() >= MOST_COUNTS {
                self.all_listed = false;
                break;
            }
        }
        listed.retain(|n| n.iter().sum::<u32>() == total);
        let mut ranges = Vec::new();
        for boards in listed {
            for stock in 0..boards.len() {
                if boards[stock] > 0 {
                    let above = most(search, &boards, stock);
                    ranges.push(Range {
                        boards: boards.clone(),
                        stock,
                        above,
                        given_up: above,
                        tries: 0,
                    });
                }
            }
        }
        ranges
    }
}

/// The most that can be left over on a board of this stock, since it must take what the others cannot hold.
fn most(search: &mut Search<Instance>, boards: &[u32], stock: usize) -> f64 {
    let model = &search.model;
    let mut others = boards.to_vec();
    others[stock] -= 1;
    let length = model.stock[stock].len - model.trim;
    let tail = Bin { room: length, tail: true };
    // A board that is used holds at least one part, with its cut.
    let least_part = model.kinds.iter().map(|k| k.len).fold(f64::INFINITY, f64::min);
    let mut most = length - least_part;
    if let Some(lengths) = search.inequalities.first() {
        // The first inequality is that of lengths.
        let here = lengths.short(&others).max(0.0);
        most = most.min(model.capacity(tail) - here);
    }
    let grid = &search.own.feasibility.pricer.table.grid;
    if grid.exact {
        // Square ends on a grid: only sums of parts occur.
        let used = num::ceil((length - most) / grid.cell - 1e-6) * grid.cell;
        let offset = (length - used) - most;
        if offset.abs() > WORKING {
            most = length - used;
        }
    }
    most.max(0.0)
}

/// Whether the boards hold the parts with one board of `stock` left with `leftover` at its end.
fn ask(
    search: &mut Search<Instance>,
    boards: &[u32],
    stock: usize,
    leftover: f64,
) -> Result<Verdict<Vec<Taken>>, Inequality> {
    let model = std::rc::Rc::clone(&search.model);
    let mut bins = search.own.bins.clone();
    let room =
        (model.stock[stock].len - model.trim - leftover).min(model.stock[stock].room + model.kerf);
    bins.push(Bin { room, tail: true });
    let mut have = boards.to_vec();
    have[stock] -= 1;
    have.push(1);
    let depth = Depth { width: 2, dead_ends: 3, tail_nodes: 300, nodes: 500, seed: 0 };
    let (want, cost) = (model.demand(), rooms(&bins));
    let lot = Lot { want: &want, bins: &bins, have: &have, cost: &cost, known: &[] };
    search.own.feasibility.fit(lot, depth, &mut search.budget)
}
