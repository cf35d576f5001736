//! The least number of set-ups of a small run, by trying every order of its cuts, each by the mark or against any
//! stop that a part of it could touch.

use serde_json::Value;
use std::collections::BTreeMap;

/// One cut: its board, its setting, its parts, each with whether it lies left of the kerf.
struct Cut {
    board: String,
    setting: String,
    parts: Vec<(usize, bool)>,
}

/// A setting, and at which side a stop for which length stands.
type SetUp = (String, Option<(i64, bool)>);

struct Search {
    cuts: Vec<Cut>,
    /// Of each part: its length in ten-thousandths, whether it may touch a stop, its cuts.
    lengths: Vec<i64>,
    may_stop: Vec<bool>,
    of: Vec<Vec<usize>>,
    best: usize,
}

#[derive(Clone, Default)]
struct State {
    done: Vec<bool>,
    now: Option<SetUp>,
    visits: usize,
    longest: BTreeMap<(String, SetUp), i64>,
    by_mark: BTreeMap<(String, i64), usize>,
}

/// The least number of visits that is less than `known`, or `known`.
pub fn least(request: &Value, answer: &Value, hold: f64, known: usize) -> usize {
    let run = &answer["run"];
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    let mut search = Search {
        cuts: Vec::new(),
        lengths: Vec::new(),
        may_stop: Vec::new(),
        of: Vec::new(),
        best: known,
    };
    let steps = run["steps"].as_array().unwrap().iter().filter(|s| s["kind"] != "bench");
    for (i, step) in steps.enumerate() {
        let set_up = &run["set_ups"][step["set_up"].as_u64().unwrap() as usize];
        let setting = ["mitre_deg", "swing", "bevel_deg", "lean"].map(|k| set_up[k].to_string());
        let mut parts = Vec::new();
        for (n, finish) in step["finishes"].as_array().unwrap().iter().enumerate() {
            let next = names.len();
            let part = *names.entry(format!("{}{}", finish["part"], finish["nth"])).or_insert(next);
            if part == next {
                let all = request["parts"].as_array().unwrap();
                let own = all.iter().find(|p| p["name"] == finish["part"]).unwrap();
                let length = own["length"].as_f64().unwrap();
                search.lengths.push((length * 1e4).round() as i64);
                search.may_stop.push(length >= hold);
                search.of.push(Vec::new());
            }
            search.of[part].push(i);
            parts.push((part, (step["waste_side"] == "right") == (n == 0)));
        }
        let board = format!("{}{}", step["stock"], step["board"]);
        search.cuts.push(Cut { board, setting: setting.join(" "), parts });
    }
    let done = vec![false; search.cuts.len()];
    search.from(&State { done, ..State::default() });
    search.best
}

impl Search {
    fn from(&mut self, state: &State) {
        // Settings that are still to come are visited once each at least.
        let mut ahead: Vec<&str> = (0..self.cuts.len())
            .filter(|c| !state.done[*c])
            .map(|c| self.cuts[c].setting.as_str())
            .filter(|s| state.now.as_ref().is_none_or(|n| n.0 != **s))
            .collect();
        ahead.sort_unstable();
        ahead.dedup();
        if state.visits + ahead.len() >= self.best {
            return;
        }
        if state.done.iter().all(|d| *d) {
            self.best = state.visits;
            return;
        }
        for cut in 0..self.cuts.len() {
            if state.done[cut] {
                continue;
            }
            let mut next = state.clone();
            next.done[cut] = true;
            let parts = &self.cuts[cut].parts;
            let frees: Vec<(usize, bool)> = parts
                .iter()
                .copied()
                .filter(|p| self.of[p.0].iter().all(|c| next.done[*c]))
                .collect();
            let mut stops: Vec<Option<(i64, bool)>> = vec![None];
            let stopped = frees.iter().filter(|p| self.may_stop[p.0]);
            stops.extend(stopped.map(|(part, left)| Some((self.lengths[*part], *left))));
            let frees: Vec<usize> = frees.into_iter().map(|(part, _)| part).collect();
            for stop in stops {
                let set_up = (self.cuts[cut].setting.clone(), stop);
                if let Some(next) = self.made(next.clone(), cut, &frees, set_up) {
                    self.from(&next);
                }
            }
        }
    }

    fn made(&self, mut next: State, cut: usize, frees: &[usize], set_up: SetUp) -> Option<State> {
        let board = self.cuts[cut].board.clone();
        let lengths = || frees.iter().map(|p| self.lengths[*p]);
        let longest = next.longest.entry((board, set_up.clone())).or_insert(0);
        if lengths().any(|l| l < *longest) {
            return None;
        }
        *longest = lengths().fold(*longest, i64::max);
        if set_up.1.is_none() {
            for p in frees.iter().filter(|p| self.may_stop[**p]) {
                let count = next.by_mark.entry((set_up.0.clone(), self.lengths[*p])).or_insert(0);
                *count += 1;
                if *count >= 3 {
                    return None;
                }
            }
        }
        next.visits += usize::from(next.now.as_ref() != Some(&set_up));
        next.now = Some(set_up);
        Some(next)
    }
}
