//! So many unknown inputs, so many answers that must come out: every solution, by solving the layout
//! itself over and over, as long as the question's [`Steps`] last. One unknown is searched by the
//! safeguarded root finder of [`offsquare_units::num`], several by Newton's steps.

use super::grid::{Grid, grid, scale, step_size};
use super::steps::Steps;
use super::wish::{Wish, typed};
use super::{Found, Solved};
use crate::inputs::{Field, Inputs, Value};
use crate::layouts::{Answers, Detail, Layout, Solution};
use crate::problem::{Level, Problem};
use offsquare_units::MM_PER_INCH;
use offsquare_units::num;
use offsquare_units::num::Gather;
use std::rc::Rc;

/// Inputs at which all wishes come out in one way.
#[derive(Clone, Debug)]
pub(super) struct Hit {
    pub inputs: Rc<Inputs>,
    pub way: &'static str,
    /// Which of the way's solutions it is there (0, 1, …).
    pub nth: usize,
    pub answers: Answers,
}

/// How far an answer can be brought in one way, when it cannot be brought to the wish.
#[derive(Clone, Debug)]
pub(super) struct Reach {
    pub way: &'static str,
    /// The first unknown and the first wish's answer, where the answer is least and greatest.
    pub least: (f64, f64),
    pub greatest: (f64, f64),
    /// The wish comes out along a whole stretch: it does not hang on the unknown.
    pub level: bool,
}

impl Reach {
    /// Takes in what one more run of the root finder came to, counted from the wish.
    fn widen(reach: &mut Option<Reach>, way: &'static str, found: &num::Roots, wish: f64) {
        let (Some(least), Some(greatest)) = (found.least, found.greatest) else {
            return;
        };
        let (least, greatest) = ((least.0, least.1 + wish), (greatest.0, greatest.1 + wish));
        let r = reach.get_or_insert(Reach { way, least, greatest, level: false });
        if least.1 < r.least.1 {
            r.least = least;
        }
        if greatest.1 > r.greatest.1 {
            r.greatest = greatest;
        }
        r.level |= found.level;
    }
}

#[derive(Clone, Debug, Default)]
pub(super) struct Search {
    /// By way, in the layout's order; of one way the one nearest to the present values first.
    pub hits: Vec<Hit>,
    /// One for each way in which the wish of a single unknown has an answer, in the layout's order.
    pub reach: Vec<Reach>,
    /// The wishes leave the unknowns open, wherever they were looked at.
    pub open: bool,
}

/// Values found, by the bits of where; in order of the bits.
type Memo = Vec<(u64, Rc<Vec<(&'static str, f64)>>)>;

/// Unknown inputs and as many wishes.
pub(super) struct System<'a> {
    layout: &'static dyn Layout,
    steps: &'a Steps,
    /// Values of everything that is known, and present values of the unknowns where there are any.
    pub(super) present: Inputs,
    pub(super) unknown: Vec<&'static Field>,
    pub(super) wishes: Vec<Wish>,
    pub(super) near: bool,
    /// Only this way counts.
    way: Option<String>,
    /// Largest length around: what "small" and "large" mean.
    pub(super) scale: f64,
    /// Values of a single unknown's wish that were computed already.
    memo: Memo,
}

impl<'a> System<'a> {
    /// `present` holds everything known; values of the unknowns in it say where to look closest.
    pub fn new(
        layout: &'static dyn Layout,
        present: &Inputs,
        unknown: Vec<&'static Field>,
        wishes: Vec<Wish>,
        steps: &'a Steps,
    ) -> System<'a> {
        System {
            scale: scale(present, &wishes),
            layout,
            steps,
            present: present.clone(),
            unknown,
            wishes,
            near: false,
            way: None,
            memo: Memo::new(),
        }
    }
    pub fn only_way(mut self, way: Option<&str>) -> System<'a> {
        self.way = way.map(str::to_owned);
        self
    }

    /// Every solution: of one unknown by a safeguarded search, of several by Newton's steps from many starts.
    pub fn search(&mut self) -> Search {
        match self.unknown.len() {
            n if n == 0 || n != self.wishes.len() => Search::default(),
            1 => {
                let mut memo = std::mem::take(&mut self.memo);
                let search = self.along(&mut memo);
                self.memo = memo;
                search
            }
            _ => self.by_steps(),
        }
    }

    /// The solution nearest to the present one, `solved`: a few steps from it, else around it. None that is
    /// far off is looked for.
    pub fn nearest(mut self, solved: &Solved) -> Option<Hit> {
        if let Some(hit) = self.followed(solved) {
            return Some(hit);
        }
        if self.idle(solved) {
            return None;
        }
        self.near = true;
        self.search().hits.into_iter().next()
    }

    /// The same for another value of the first wish, all the way by Newton's steps where they lead there;
    /// for many values one after another, what was computed already is used again.
    pub fn nearest_for(&mut self, value: f64) -> Option<Hit> {
        if let Some(w) = self.wishes.first_mut() {
            w.value = value;
        }
        self.near = true;
        let stepped = self.by_steps();
        let found = if stepped.hits.is_empty() { self.search() } else { stepped };
        found.hits.into_iter().next()
    }

    /// Whether the wish stays what it is, but for rounding, while a single unknown moves to either side.
    pub(super) fn idle(&self, solved: &Solved) -> bool {
        let [field] = self.unknown[..] else {
            return false;
        };
        let Some(now) = self.present.get(field.key).and_then(Value::scalar) else {
            return false;
        };
        let wish = &self.wishes[0];
        let Some(is) = wish.read(&solved.solution.answers) else {
            return false;
        };
        let nothing = 1e-11 * self.size(wish);
        let by = 0.2 * step_size(field, now, self.scale);
        let stays = |x: f64| {
            let there = self.with(&[x]);
            let same = |h: &Hit| wish.read(&h.answers).is_some_and(|y| (y - is).abs() <= nothing);
            there.is_empty() || there.iter().any(|h| h.way == solved.solution.way && same(h))
        };
        !self.ran_out() && stays(now - by) && stays(now + by)
    }

    fn along(&self, memo: &mut Memo) -> Search {
        let (field, wish) = (self.unknown[0], &self.wishes[0]);
        let present = self.present.get(field.key).and_then(Value::scalar);
        let how = if self.near && present.is_some() { Grid::Near } else { Grid::Wide };
        let grid = grid(field, how, present, self.scale);
        let mut values = |x: f64| {
            let place = match memo.binary_search_by_key(&x.to_bits(), |m| m.0) {
                Ok(known) => return memo[known].1.clone(),
                Err(place) => place,
            };
            let found = self.with(&[x]);
            let read = |h: &Hit| Some((h.way, wish.read(&h.answers)?));
            let v = Rc::new(found.iter().filter_map(read).gather());
            memo.insert(place, (x.to_bits(), v.clone()));
            v
        };
        // Which ways there are, in the order in which the layout lists them, and how many solutions
        // each has at most.
        let mut ways: Vec<(&'static str, usize)> = Vec::new();
        for &x in &grid {
            let here = values(x);
            for (way, _) in here.iter() {
                let count = here.iter().filter(|(w, _)| w == way).count();
                match ways.iter_mut().find(|(w, _)| w == way) {
                    Some(known) => known.1 = known.1.max(count),
                    None => ways.push((way, count)),
                }
            }
        }
        let hit = 2e-10 * self.size(wish);
        let mut search = Search::default();
        for (way, count) in ways {
            let mut reach: Option<Reach> = None;
            let mut places: Vec<f64> = Vec::new();
            // Two solutions that meet and vanish keep one neighbour's count from the front and the
            // other's from the back; following both counts loses neither.
            for nth in 0..count {
                for from_end in [false, true] {
                    if from_end && count == 1 {
                        continue;
                    }
                    let mut curve = |x: f64| -> Option<f64> {
                        let here = values(x);
                        let mut own = here.iter().filter(|(w, _)| *w == way).map(|(_, y)| *y);
                        let y = if from_end { own.rev().nth(nth) } else { own.nth(nth) };
                        y.map(|y| y - wish.value)
                    };
                    let found = num::roots(&mut curve, &grid, hit);
                    places.extend(&found.at);
                    Reach::widen(&mut reach, way, &found, wish.value);
                }
            }
            let first = search.hits.len();
            for x in places {
                for leaf in self.with(&[x]) {
                    let near = wish
                        .read(&leaf.answers)
                        .is_some_and(|y| (y - wish.value).abs() <= 4.0 * hit);
                    if leaf.way == way && near && !self.listed(&search.hits, &leaf, 1e-13) {
                        search.hits.push(leaf);
                    }
                }
            }
            self.in_order(&mut search.hits[first..]);
            search.reach.extend(reach);
        }
        let flat = |r: &Reach| r.level || r.least.1 == r.greatest.1;
        let told = !search.reach.is_empty() && !self.ran_out();
        search.open = search.hits.is_empty() && told && search.reach.iter().all(flat);
        search
    }

    pub(super) fn ran_out(&self) -> bool {
        self.steps.ran_out()
    }

    /// Hits of one way: the one nearest to the present values first; without those, by rising values.
    pub(super) fn in_order(&self, hits: &mut [Hit]) {
        let number = |i: &Inputs, f: &Field| i.get(f.key).and_then(Value::scalar);
        let far = |h: &Hit| -> f64 {
            let each = self.unknown.iter().map(|f| {
                let x = number(&h.inputs, f).unwrap_or(0.0);
                match number(&self.present, f) {
                    Some(now) => (x - now).abs() / step_size(f, now, self.scale),
                    None => 0.0,
                }
            });
            each.sum()
        };
        num::sort_by(hits, |a, b| {
            let rising = |f: &&'static Field| {
                let of = |h: &Hit| number(&h.inputs, f).unwrap_or(0.0);
                of(a).total_cmp(&of(b))
            };
            let by_value = self.unknown.iter().map(rising).find(|o| o.is_ne());
            far(a).total_cmp(&far(b)).then(by_value.unwrap_or(a.nth.cmp(&b.nth)))
        });
    }

    /// Whether every wish comes out.
    pub(super) fn met(&self, hit: &Hit) -> bool {
        self.wishes.iter().all(|w| {
            let far = |y: f64| (y - w.value).abs() <= 8e-10 * self.size(w);
            w.read(&hit.answers).is_some_and(far)
        })
    }

    /// The same inputs to the last bits and the same way: one hit.
    pub(super) fn listed(&self, hits: &[Hit], leaf: &Hit, same: f64) -> bool {
        hits.iter().any(|h| {
            h.way == leaf.way
                && self.unknown.iter().all(|f| {
                    let of = |i: &Inputs| i.get(f.key).and_then(Value::scalar).unwrap_or(0.0);
                    let (a, b) = (of(&h.inputs), of(&leaf.inputs));
                    (a - b).abs() <= same * a.abs().max(b.abs())
                })
                && (h.nth == leaf.nth || h.answers == leaf.answers)
        })
    }

    /// All solutions with the unknowns at `x`; none where one of them is out of its range.
    pub(super) fn with(&self, x: &[f64]) -> Vec<Hit> {
        let mut inputs = self.present.clone();
        for (&field, &x) in self.unknown.iter().zip(x) {
            let value = typed(field, x);
            if !x.is_finite() || field.check(&value).is_some() {
                return Vec::new();
            }
            inputs.set(field.key, value);
        }
        self.solved(inputs)
    }

    /// All solutions of these inputs.
    pub(super) fn solved(&self, inputs: Inputs) -> Vec<Hit> {
        let Some(outcome) = self.steps.solve(self.layout, &inputs, Detail::Answers) else {
            return Vec::new();
        };
        let mut counts: Vec<(&'static str, usize)> = Vec::new();
        let inputs = Rc::new(inputs);
        let mut out = Vec::new();
        for s in outcome.solutions {
            let nth = match counts.iter_mut().find(|(w, _)| *w == s.way) {
                Some(c) => {
                    c.1 += 1;
                    c.1
                }
                None => {
                    counts.push((s.way, 0));
                    0
                }
            };
            if self.way.as_deref().is_none_or(|w| w == s.way) {
                out.push(Hit { inputs: inputs.clone(), way: s.way, nth, answers: s.answers });
            }
        }
        out
    }

    /// What a wish is measured against: its own size, or the largest length for a small length.
    pub(super) fn size(&self, wish: &Wish) -> f64 {
        let own = wish.value.abs();
        if wish.path.ends_with("_deg") {
            own.max(1.0)
        } else {
            own.max(self.scale * if wish.metric { MM_PER_INCH } else { 1.0 })
        }
    }
}

/// The whole solution of a hit, with the problems that speak of its way or of all ways.
pub(super) fn whole(
    layout: &'static dyn Layout,
    hit: &Hit,
    detail: Detail,
    steps: &Steps,
) -> Option<(Solution, Vec<Problem>)> {
    let outcome = layout.solve(&hit.inputs, detail);
    steps.count(&outcome, detail);
    let solution = outcome.solutions.into_iter().filter(|s| s.way == hit.way).nth(hit.nth)?;
    let problems = outcome
        .problems
        .into_iter()
        .filter(|p| p.level == Level::Warn && p.way.as_deref().is_none_or(|w| w == hit.way))
        .gather();
    Some((solution, problems))
}

/// A field's start as a value, in inches; for trying what a layout says.
pub(super) fn start_value(field: &Field) -> Option<Value> {
    match field.start {
        crate::inputs::Start::Length(inches, _) => Some(typed(field, inches)),
        crate::inputs::Start::Number(n) => Some(typed(field, n)),
        _ => None,
    }
}

impl Found {
    /// The whole solutions of a search, with what is wrong with them.
    pub(super) fn of(
        layout: &'static dyn Layout,
        search: &Search,
        detail: Detail,
        steps: &Steps,
    ) -> Found {
        let mut found = Found::default();
        for hit in &search.hits {
            let Some((solution, problems)) = whole(layout, hit, detail, steps) else {
                continue;
            };
            for p in problems {
                if !found.problems.contains(&p) {
                    found.problems.push(p);
                }
            }
            found.solved.push(Solved { inputs: (*hit.inputs).clone(), solution });
        }
        found
    }
}
