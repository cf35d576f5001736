//! So many unknown inputs, so many answers that must come out: every solution, by solving the layout
//! itself over and over inside the safeguarded root finder of [`crate::num`].

use super::grid::{Grid, grid, scale};
use crate::inputs::{Field, Inputs, Kind, Value};
use crate::layouts::{Answers, Detail, Layout, Solution};
use crate::num;
use crate::num::Gather;
use crate::problem::{Level, Problem};
use crate::units::{Length, Quantity};
use std::rc::Rc;

/// An answer that must come out.
#[derive(Clone, Debug)]
pub(super) struct Wish {
    /// Dotted path of the answer.
    pub path: String,
    /// In inches, degrees or plain numbers; in millimeters where `metric`.
    pub value: f64,
    pub metric: bool,
}

impl Wish {
    pub fn of(path: &str, q: Quantity) -> Wish {
        Wish { path: path.to_owned(), value: plain(q, false), metric: false }
    }
    /// The answer's value in the unit of the wish.
    pub fn read(&self, answers: &Answers) -> Option<f64> {
        answers.quantity(&self.path).map(|q| plain(q, self.metric))
    }
}

/// The plain number of a quantity: inches or millimeters, their squares, degrees, or as it is.
pub(super) fn plain(q: Quantity, metric: bool) -> f64 {
    let mm = if metric { 25.4 } else { 1.0 };
    match q {
        Quantity::Length(l) => l.0 * mm,
        Quantity::Area(a) => a.0 * mm * mm,
        other => other.number(),
    }
}

/// A number as a value of that field (inches, degrees, plain).
pub(super) fn typed(field: &Field, x: f64) -> Value {
    match field.kind {
        Kind::Length(_) => Value::Length(Length(x)),
        Kind::Angle(..) => Value::Angle(crate::units::Angle(x)),
        _ => Value::Number(x),
    }
}

/// Whether a field holds one number that may take any value in its range.
pub(super) fn is_scalar(field: &Field) -> bool {
    matches!(field.kind, Kind::Length(_) | Kind::Angle(..) | Kind::Number(..))
}

/// Inputs at which all wishes come out in one way.
#[derive(Clone, Debug)]
pub(super) struct Hit {
    pub inputs: Inputs,
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

#[derive(Clone, Debug, Default)]
pub(super) struct Search {
    pub hits: Vec<Hit>,
    /// One for each way in which the first wish has an answer, in the layout's order.
    pub reach: Vec<Reach>,
}

type Values = Rc<Vec<(&'static str, f64)>>;

/// Values found, by the bits of where; in order of the bits.
type Memo = Vec<(u64, Values)>;

/// Unknown inputs and as many wishes.
pub(super) struct System {
    layout: &'static dyn Layout,
    /// Values of everything that is known, and present values of the unknowns where there are any.
    pub(super) present: Inputs,
    pub(super) unknown: Vec<&'static Field>,
    pub(super) wishes: Vec<Wish>,
    pub(super) near: bool,
    /// Only this way counts.
    way: Option<String>,
    /// Largest length around: what "small" and "large" mean.
    pub(super) scale: f64,
    /// Values of the first wish that were computed already, by the first unknown.
    memo: Memo,
}

impl System {
    /// `present` holds everything known; values of the unknowns in it say where to look closest.
    pub fn new(
        layout: &'static dyn Layout,
        present: &Inputs,
        unknown: Vec<&'static Field>,
        wishes: Vec<Wish>,
    ) -> System {
        System {
            scale: scale(present, &wishes),
            layout,
            present: present.clone(),
            unknown,
            wishes,
            near: false,
            way: None,
            memo: Memo::new(),
        }
    }
    /// Looks only around the present values: for small changes.
    pub fn near(mut self) -> System {
        self.near = true;
        self
    }
    pub fn only_way(mut self, way: Option<&str>) -> System {
        self.way = way.map(str::to_owned);
        self
    }

    /// Every solution. With several unknowns the wishes are tried in each order until one works:
    /// an answer may not hang on the unknown that it is paired with.
    pub fn search(&mut self) -> Search {
        if self.unknown.len() != self.wishes.len() || self.unknown.is_empty() {
            return Search::default();
        }
        if self.unknown.len() > 2 {
            return self.by_steps();
        }
        let base = self.unknown.iter().fold(self.present.clone(), |mut i, f| {
            i.remove(f.key);
            i
        });
        let in_order = self.wishes.clone();
        let mut first = None;
        for turn in 0..in_order.len() {
            let search = if turn == 0 {
                let mut memo = std::mem::take(&mut self.memo);
                let search = self.level(&base, 0, &mut memo);
                self.memo = memo;
                search
            } else {
                self.wishes.rotate_left(1);
                self.level(&base, 0, &mut Memo::new())
            };
            let done = !search.hits.is_empty();
            if turn == 0 || done {
                first = Some(search);
            }
            if done {
                break;
            }
        }
        self.wishes = in_order;
        first.unwrap_or_default()
    }

    /// The same for another value of the first wish; what was computed already is used again.
    pub fn search_for(&mut self, value: f64, metric: bool) -> Search {
        if let Some(w) = self.wishes.first_mut() {
            if w.metric != metric {
                self.memo.clear();
            }
            (w.value, w.metric) = (value, metric);
        }
        self.search()
    }

    fn level(&self, known: &Inputs, depth: usize, memo: &mut Memo) -> Search {
        let (field, wish) = (self.unknown[depth], &self.wishes[depth]);
        let present = self.present.get(field.key).and_then(Value::scalar);
        let how = match (self.near, present) {
            (true, Some(_)) => Grid::Near,
            _ if depth > 0 || self.unknown.len() > 1 => Grid::Coarse,
            _ => Grid::Wide,
        };
        let grid = grid(field, how, present, self.scale);
        let mut values = |x: f64| -> Values {
            let place = match memo.binary_search_by_key(&x.to_bits(), |m| m.0) {
                Ok(known) => return memo[known].1.clone(),
                Err(place) => place,
            };
            let v: Values = Rc::new(
                self.leaves(known, field, x, depth)
                    .iter()
                    .filter_map(|leaf| Some((leaf.way, wish.read(&leaf.answers)?)))
                    .gather(),
            );
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
                    places.extend(found.at);
                    let (Some(least), Some(greatest)) = (found.least, found.greatest) else {
                        continue;
                    };
                    let least = (least.0, least.1 + wish.value);
                    let greatest = (greatest.0, greatest.1 + wish.value);
                    match &mut reach {
                        None => {
                            reach = Some(Reach { way, least, greatest, level: found.level });
                        }
                        Some(r) => {
                            if least.1 < r.least.1 {
                                r.least = least;
                            }
                            if greatest.1 > r.greatest.1 {
                                r.greatest = greatest;
                            }
                            r.level |= found.level;
                        }
                    }
                }
            }
            num::sort(&mut places);
            for x in places {
                for leaf in self.leaves(known, field, x, depth) {
                    let near = wish
                        .read(&leaf.answers)
                        .is_some_and(|y| (y - wish.value).abs() <= 4.0 * hit);
                    if leaf.way == way && near && !self.listed(&search.hits, &leaf, depth, 1e-13) {
                        search.hits.push(leaf);
                    }
                }
            }
            search.reach.extend(reach);
        }
        search
    }

    /// Whether every wish comes out.
    pub(super) fn met(&self, hit: &Hit) -> bool {
        self.wishes.iter().all(|w| {
            let far = |y: f64| (y - w.value).abs() <= 8e-10 * self.size(w);
            w.read(&hit.answers).is_some_and(far)
        })
    }

    /// The same inputs to the last bits and the same way: one hit.
    pub(super) fn listed(&self, hits: &[Hit], leaf: &Hit, depth: usize, same: f64) -> bool {
        hits.iter().any(|h| {
            h.way == leaf.way
                && self.unknown[depth..].iter().all(|f| {
                    let of = |i: &Inputs| i.get(f.key).and_then(Value::scalar).unwrap_or(0.0);
                    let (a, b) = (of(&h.inputs), of(&leaf.inputs));
                    (a - b).abs() <= same * a.abs().max(b.abs())
                })
                && (h.nth == leaf.nth || h.answers == leaf.answers)
        })
    }

    /// The solutions with this unknown at `x`; the unknowns further in are solved for.
    fn leaves(&self, known: &Inputs, field: &'static Field, x: f64, depth: usize) -> Vec<Hit> {
        let value = typed(field, x);
        if !x.is_finite() || field.check(&value).is_some() {
            return Vec::new();
        }
        let inputs = known.with(field.key, value);
        if depth + 1 < self.unknown.len() {
            return self.level(&inputs, depth + 1, &mut Memo::new()).hits;
        }
        self.solved(inputs)
    }

    /// All solutions of these inputs.
    pub(super) fn solved(&self, inputs: Inputs) -> Vec<Hit> {
        let outcome = self.layout.solve(&inputs, Detail::Answers);
        let mut counts: Vec<(&'static str, usize)> = Vec::new();
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
            own.max(self.scale * if wish.metric { 25.4 } else { 1.0 })
        }
    }
}

/// The whole solution of a hit, with the problems that speak of its way or of all ways.
pub(super) fn whole(
    layout: &'static dyn Layout,
    hit: &Hit,
    detail: Detail,
) -> Option<(Solution, Vec<Problem>)> {
    let outcome = layout.solve(&hit.inputs, detail);
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
