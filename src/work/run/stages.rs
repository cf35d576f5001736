//! From one set-up to the next over all boards: as few changes as are found.

use super::board::Board;
use super::order::{Key, Rules, Task, Way};
use super::saw::Setting;
use super::stops::stops;

/// The tasks of each board in order, and the set-ups in order, each with the boards that it serves and up to which
/// of their tasks.
#[derive(Clone, Debug)]
pub(super) struct Staged {
    pub tasks: Vec<Vec<Task>>,
    pub visits: Vec<Visit>,
}

/// One visit of a set-up.
#[derive(Clone, Debug)]
pub(super) struct Visit {
    /// Board and the task after its last one of this visit.
    pub boards: Vec<(usize, usize)>,
}

/// Orders of so many settings are all tried; of more, each setting first once.
const ALL_ORDERS: usize = 5;
/// Cuts that are put in order at most, over all that is tried (our choice).
const MOST_WORK: usize = 400_000;

/// The best of all orders of the settings that are tried.
pub(super) fn staged(boards: &[Board], settings: &[Setting], hold: f64) -> Staged {
    let cuts: usize = boards.iter().map(|b| b.cuts.len()).sum();
    let mut best: Option<Staged> = None;
    let mut work = 0;
    for rank in ranks(settings.len()) {
        let rules = Rules { settings, rank: &rank, hold };
        let tasks = ordered(boards, &rules);
        let visits = visits(&tasks);
        if best.as_ref().is_none_or(|b| visits.len() < b.visits.len()) {
            best = Some(Staged { tasks, visits });
        }
        work += cuts;
        if work > MOST_WORK {
            break;
        }
    }
    best.unwrap_or(Staged { tasks: Vec::new(), visits: Vec::new() })
}

/// Which turn each setting has.
fn ranks(n: usize) -> Vec<Vec<usize>> {
    if n > ALL_ORDERS {
        return (0..n).map(|first| (0..n).map(|i| (i + n - first) % n).collect()).collect();
    }
    let mut all = vec![Vec::new()];
    for next in 0..n {
        let longer = |order: &Vec<usize>| {
            (0..=order.len())
                .rev()
                .map(|at| {
                    let mut order = order.clone();
                    order.insert(at, next);
                    order
                })
                .collect::<Vec<_>>()
        };
        all = all.iter().flat_map(longer).collect();
    }
    let turns = |order: Vec<usize>| {
        let mut rank = vec![0; n];
        for (turn, setting) in order.into_iter().enumerate() {
            rank[setting] = turn;
        }
        rank
    };
    all.into_iter().map(turns).collect()
}

/// Every board's order; a board that has none setting by setting is cut along.
fn ordered(boards: &[Board], rules: &Rules) -> Vec<Vec<Task>> {
    let mut ways = vec![Way::Settings; boards.len()];
    loop {
        let stopped = stops(boards, &ways, rules);
        let mut changed = false;
        let mut out = Vec::new();
        for ((board, way), stopped) in boards.iter().zip(&mut ways).zip(&stopped) {
            match rules.order(board, *way, stopped) {
                Some(tasks) => out.push(tasks),
                None => {
                    changed = true;
                    *way = match way {
                        Way::Settings => Way::SettingsBack,
                        Way::SettingsBack => Way::SettingsShortest,
                        _ => Way::Along,
                    };
                }
            }
        }
        if !changed {
            return out;
        }
    }
}

/// Serves every board as far as the set-up goes; then the set-up comes that need not come again, or else the
/// one for which most cuts wait.
fn visits(tasks: &[Vec<Task>]) -> Vec<Visit> {
    let mut next = vec![0; tasks.len()];
    let mut out = Vec::new();
    let run = |board: usize, from: usize, key: Key| {
        tasks[board][from..].iter().take_while(|t| t.key == key).count()
    };
    loop {
        // For each set-up that waits: whether some of its cuts wait behind others, and how many do not.
        let mut waiting: std::collections::BTreeMap<Key, (bool, usize)> = Default::default();
        for (board, from) in next.iter().enumerate() {
            if let Some(task) = tasks[board].get(*from) {
                waiting.entry(task.key).or_default().1 += run(board, *from, task.key);
            }
        }
        for (board, from) in next.iter().enumerate() {
            let Some(head) = tasks[board].get(*from).map(|t| t.key) else { continue };
            for task in &tasks[board][*from + run(board, *from, head)..] {
                if let Some(own) = waiting.get_mut(&task.key) {
                    own.0 = true;
                }
            }
        }
        let best = waiting.iter().min_by_key(|(key, (again, count))| {
            (*again, if *again { usize::MAX - count } else { 0 }, **key)
        });
        let Some((key, _)) = best else { return out };
        let mut visit = Visit { boards: Vec::new() };
        for (board, from) in next.iter_mut().enumerate() {
            let count = run(board, *from, *key);
            if count > 0 {
                *from += count;
                visit.boards.push((board, *from));
            }
        }
        out.push(visit);
    }
}
