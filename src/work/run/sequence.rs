//! All cuts of all boards one after another.

use super::board::Board;
use super::order::{Key, Task};
use super::stages::Visit;

/// One cut of one board: which kind of board, which of its members, which of its tasks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Turn {
    pub board: usize,
    pub member: usize,
    pub task: usize,
}

/// The visits cut by cut, board by board, and the neighbors changed over that save a change of set-up.
pub(super) fn sequence(boards: &[Board], tasks: &[Vec<Task>], visits: &[Visit]) -> Vec<Turn> {
    let mut next = vec![0; boards.len()];
    let mut turns = Vec::new();
    for visit in visits {
        for (board, to) in &visit.boards {
            for member in 0..boards[*board].members.len() {
                let own = next[*board]..*to;
                turns.extend(own.map(|task| Turn { board: *board, member, task }));
            }
            next[*board] = *to;
        }
    }
    let key = |t: &Turn| tasks[t.board][t.task].key;
    while change_over(&mut turns, &key) {}
    turns
}

/// Changes over each pair of neighbors on different boards that saves a change; tells whether there was one.
fn change_over(turns: &mut [Turn], key: &dyn Fn(&Turn) -> Key) -> bool {
    let mut any = false;
    for i in 1..turns.len() {
        let (a, b) = (turns[i - 1], turns[i]);
        if (a.board, a.member) == (b.board, b.member) || key(&a) == key(&b) {
            continue;
        }
        let before = i.checked_sub(2).map(|j| key(&turns[j]));
        let after = turns.get(i + 1).map(&key);
        let changes = |first: &Turn, second: &Turn| {
            usize::from(before.is_some_and(|k| k != key(first)))
                + usize::from(after.is_some_and(|k| k != key(second)))
        };
        if changes(&b, &a) < changes(&a, &b) {
            turns.swap(i - 1, i);
            any = true;
        }
    }
    any
}
