//! The order of the cuts of one board, and which of them are made against a stop.

use super::board::{Board, Place};
use super::saw::{Setting, Stop};
use offsquare_cuts::parts::Side;
use offsquare_units::num;
use std::collections::BTreeMap;

/// A length or a stop as a whole number, so that equal ones are found equal.
pub(super) fn mark(x: f64) -> i64 {
    // No tape has a mark where this steps from one to the next.
    num::floor(x * 1e6 + 0.2718) as i64
}

/// A set-up, as set-ups are put in order: the setting's rank; then by the mark before any stop, the nearest
/// stop first, each with its side (true: right).
pub(super) type Key = (usize, bool, i64, bool);

/// For each cut of a board the place whose other end touches the stop, and at which side that is.
pub(super) type Stopped = Vec<Option<(usize, Side)>>;

/// One cut of a board, in the order in which they are made.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Task {
    pub cut: usize,
    pub key: Key,
    pub stop: Option<Stop>,
    /// Places that it frees.
    pub frees: Vec<usize>,
}

/// In which order a board's cuts are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    /// Setting by setting, each from left to right.
    Settings,
    /// Setting by setting, each from right to left.
    SettingsBack,
    /// Setting by setting, in each the shortest part first.
    SettingsShortest,
    /// From left to right, whatever the settings.
    Along,
}

/// What orders are made from.
pub(super) struct Rules<'r> {
    pub settings: &'r [Setting],
    /// When each setting's turn comes.
    pub rank: &'r [usize],
    pub hold: f64,
}

impl Rules<'_> {
    /// The cut of a place that comes later, and at which side a stop for it stands. None where none is needed.
    pub fn last(&self, board: &Board, place: &Place, way: Way) -> Option<(usize, Side)> {
        let rank = |cut: usize| self.rank[board.cuts[cut].setting.of(self.settings).0];
        match (place.left, place.right) {
            (None, None) => None,
            (Some(left), None) => Some((left, Side::Right)),
            (None, Some(right)) => Some((right, Side::Left)),
            (Some(left), Some(right)) => {
                let left_last = match way {
                    Way::Along => false,
                    Way::Settings | Way::SettingsShortest => rank(left) > rank(right),
                    Way::SettingsBack => rank(left) >= rank(right),
                };
                Some(if left_last { (left, Side::Right) } else { (right, Side::Left) })
            }
        }
    }

    /// The set-up of a cut with its stop, and where that stands.
    pub fn key(
        &self,
        board: &Board,
        cut: usize,
        stop: Option<(usize, Side)>,
    ) -> (Key, Option<Stop>) {
        let (setting, rolled) = board.cuts[cut].setting.of(self.settings);
        let rank = self.rank[setting];
        let stop = stop.map(|(place, side)| board.stop(cut, place, side, rolled));
        let key = match stop {
            None => (rank, false, 0, false),
            Some(s) => (rank, true, mark(s.at), s.side == Side::Right),
        };
        (key, stop)
    }

    /// The order of a board's cuts with these stops. None where one would have nothing to touch, or a longer part
    /// would be freed before a shorter one in one set-up; from left to right there always is one.
    pub fn order(&self, board: &Board, way: Way, stopped: &Stopped) -> Option<Vec<Task>> {
        let mut stopped = stopped.clone();
        let mut tasks = self.tasks(board, way, &stopped);
        if tasks.iter().any(|t| stopped[t.cut].is_some_and(|(p, _)| !t.frees.contains(&p))) {
            return None;
        }
        // Each round gives one more cut a stop of its own.
        for _ in 0..=2 * board.cuts.len() {
            let Some((sooner, later)) = too_soon(board, &tasks) else {
                return Some(tasks);
            };
            if way != Way::Along {
                return None;
            }
            let length = |p: &usize| mark(board.places[*p].length);
            let (task, place, side) = if tasks[sooner].stop.is_none() {
                let longest = tasks[sooner].frees.iter().copied().max_by_key(length)?;
                (sooner, longest, Side::Left)
            } else {
                // Only the last cut frees two parts: the other one touches the stop.
                let shortest = tasks[later].frees.iter().copied().min_by_key(length)?;
                (later, shortest, Side::Right)
            };
            stopped[tasks[task].cut] = Some((place, side));
            tasks = self.tasks(board, way, &stopped);
        }
        Some(tasks)
    }

    fn tasks(&self, board: &Board, way: Way, stopped: &Stopped) -> Vec<Task> {
        let task = |cut: usize| {
            let (key, stop) = self.key(board, cut, stopped[cut]);
            Task { cut, key, stop, frees: Vec::new() }
        };
        let mut tasks: Vec<Task> = (0..board.cuts.len()).map(task).collect();
        match way {
            Way::Along => {}
            Way::Settings => by_key(&mut tasks, |t| (t.key, t.cut)),
            Way::SettingsShortest => tasks = shortest_first(board, tasks),
            Way::SettingsBack => by_key(&mut tasks, |t| (t.key, usize::MAX - t.cut)),
        }
        let mut done = vec![false; board.cuts.len()];
        for task in &mut tasks {
            done[task.cut] = true;
            let cut = &board.cuts[task.cut];
            task.frees = [cut.left, cut.right]
                .into_iter()
                .flatten()
                .filter(|p| {
                    let place = &board.places[*p];
                    place.cuts().all(|c| done[c])
                })
                .collect();
        }
        tasks
    }
}

fn by_key<K: Ord>(tasks: &mut [Task], key: impl Fn(&Task) -> K) {
    num::sort_by(tasks, |a, b| key(a).cmp(&key(b)));
}

/// The tasks set-up by set-up; in each the shortest part is freed first, by the cut that frees no longer one.
fn shortest_first(board: &Board, mut tasks: Vec<Task>) -> Vec<Task> {
    by_key(&mut tasks, |t| (t.key, t.cut));
    let mut done = vec![false; board.cuts.len()];
    let mut out: Vec<Task> = Vec::new();
    while let Some(key) = tasks.first().map(|t| t.key) {
        let mut waits: Vec<usize> = tasks.iter().filter(|t| t.key == key).map(|t| t.cut).collect();
        let mut turns = Vec::new();
        while !waits.is_empty() {
            let freed = |made: &dyn Fn(usize) -> bool| {
                let all = board
                    .places
                    .iter()
                    .filter(|p| p.cuts().any(|c| !done[c]) && p.cuts().all(|c| done[c] || made(c)));
                all.map(|p| mark(p.length)).collect::<Vec<i64>>().into_iter()
            };
            let shortest = freed(&|c| waits.contains(&c)).min();
            let serves = |cut: usize| {
                [board.cuts[cut].left, board.cuts[cut].right].into_iter().flatten().any(|p| {
                    let place = &board.places[p];
                    Some(mark(place.length)) == shortest
                        && place.cuts().all(|c| done[c] || waits.contains(&c))
                })
            };
            let next = waits.iter().copied().min_by_key(|cut| {
                (shortest.is_some() && !serves(*cut), freed(&|c| c == *cut).max(), *cut)
            });
            let Some(cut) = next else { break };
            done[cut] = true;
            turns.push(cut);
            waits.retain(|c| *c != cut);
        }
        let (mut now, later): (Vec<Task>, Vec<Task>) =
            tasks.into_iter().partition(|t| t.key == key);
        by_key(&mut now, |t| turns.iter().position(|c| *c == t.cut));
        out.extend(now);
        tasks = later;
    }
    out
}

/// The first two steps of one set-up of which the sooner frees a longer part.
fn too_soon(board: &Board, tasks: &[Task]) -> Option<(usize, usize)> {
    let mut longest: BTreeMap<Key, (i64, usize)> = BTreeMap::new();
    for (i, task) in tasks.iter().enumerate() {
        let lengths = task.frees.iter().map(|p| mark(board.places[*p].length));
        let (Some(least), Some(most)) = (lengths.clone().min(), lengths.max()) else { continue };
        let before = longest.entry(task.key).or_insert((most, i));
        if before.1 != i && before.0 > least {
            return Some((before.1, i));
        }
        if most > before.0 {
            *before = (most, i);
        }
    }
    None
}
