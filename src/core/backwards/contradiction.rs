//! More sizes than needed: do they agree, by how much not, and what would each have to be.

use super::resolve::wish_of;
use super::system::{Hit, System, Wish, is_scalar, plain};
use super::wording::{self, quantity_like};
use super::{Found, Solved};
use crate::inputs::{Also, Field, Given, Value};
use crate::layouts::{Form, Layout};
use crate::num::Gather;
use crate::problem::Problem;
use crate::units::Quantity;
use std::borrow::Cow;

/// A size given by a program agrees to so many inches or degrees; of very large lengths to a thousandth of
/// this share.
const EXACT: f64 = 1e-9;

/// Checks each surplus answer against what comes out. Where a way has several solutions, those that
/// agree are kept and the others fall away; where none does, all stay and a warning stands beside.
pub(super) fn check(
    layout: &'static dyn Layout,
    form: &'static Form,
    given: &Given,
    missing: &[&'static Field],
    basis: &[&Also],
    surplus: &[&Also],
    found: &mut Found,
) {
    for also in surplus {
        let Some(was) = also.value.quantity() else {
            continue;
        };
        let mut ways: Vec<&'static str> = Vec::new();
        for s in &found.solved {
            if !ways.contains(&s.solution.way) {
                ways.push(s.solution.way);
            }
        }
        let several = ways.len() > 1;
        for way in ways {
            let case = Case { layout, form, given, missing, basis, also, was, way };
            let own: Vec<usize> =
                (0..found.solved.len()).filter(|i| found.solved[*i].solution.way == way).gather();
            let has = |i: &usize| found.solved[*i].solution.answers.quantity(&also.key);
            if own.iter().all(|i| has(i).is_none()) {
                continue;
            }
            let agreeing: Vec<usize> =
                own.iter().copied().filter(|i| has(i).is_some_and(|q| case.close(q))).gather();
            if !agreeing.is_empty() {
                let mut at = 0;
                found.solved.retain(|_| {
                    let keep = !own.contains(&at) || agreeing.contains(&at);
                    at += 1;
                    keep
                });
                continue;
            }
            let nearest = own
                .iter()
                .filter_map(|i| Some((*i, has(i)?)))
                .min_by(|(_, a), (_, b)| case.distance(*a).total_cmp(&case.distance(*b)));
            let Some((i, is)) = nearest else { continue };
            if let Some(problem) = case.problem(&found.solved[i], is, several) {
                found.problems.push(problem);
            }
        }
    }
}

struct Case<'a> {
    layout: &'static dyn Layout,
    form: &'static Form,
    given: &'a Given,
    missing: &'a [&'static Field],
    basis: &'a [&'a Also],
    also: &'a Also,
    was: Quantity,
    way: &'static str,
}

impl Case<'_> {
    fn distance(&self, is: Quantity) -> f64 {
        (plain(is, false) - plain(self.was, false)).abs()
    }

    /// Within half the step to which it was typed; without a step, to the exactness of a program.
    fn close(&self, is: Quantity) -> bool {
        let allowed = match self.also.step {
            Some(step) => half(step),
            None => match is {
                Quantity::Angle(_) => EXACT,
                _ => EXACT.max(1e-3 * EXACT * self.largest()),
            },
        };
        self.distance(is) <= allowed
    }

    fn largest(&self) -> f64 {
        let mut most = plain(self.was, false).abs();
        for (_, v) in self.given.inputs.iter() {
            if let Value::Length(l) = v {
                most = most.max(l.0.abs());
            }
        }
        most
    }

    /// The warning, or none where another typed size may move within its own half step and then all
    /// agree: such sizes can all be true.
    fn problem(&self, solved: &Solved, is: Quantity, several: bool) -> Option<Problem> {
        let mut agree: Vec<(Cow<'static, str>, Quantity)> = Vec::new();
        for field in self.form.fields.iter().filter(|f| is_scalar(f)) {
            let Some(now) = self.given.inputs.get(field.key) else {
                continue;
            };
            // A size that merely stands unless changed is not one that the maker typed against.
            let Some(value) = self.field_that_agrees(solved, field) else {
                continue;
            };
            if let (Some(step), Some(now)) = (self.given.step(field.key), now.scalar())
                && (plain(value, false) - now).abs() <= half(step)
            {
                return None;
            }
            agree.push((Cow::Borrowed(field.key), value));
        }
        for other in self.basis {
            let Some(value) = self.answer_that_agrees(solved, other) else {
                continue;
            };
            if let (Some(step), Some(now)) = (other.step, other.value.scalar())
                && (plain(value, false) - now).abs() <= half(step)
            {
                return None;
            }
            agree.push((other.key.clone(), value));
        }
        agree.push((self.also.key.clone(), is));
        let by = quantity_like(is, self.distance(is));
        let text = wording::contradiction(&self.also.label, is, self.was, by);
        let mut problem = Problem::warn(&self.also.path, text);
        if several {
            problem = problem.of_way(self.way);
        }
        problem.by = Some(by);
        problem.agree = agree;
        Some(problem)
    }

    fn wishes(&self, without: Option<&Also>) -> Vec<Wish> {
        self.basis
            .iter()
            .filter(|b| without.is_none_or(|w| w.key != b.key))
            .filter_map(|b| wish_of(b))
            .chain(wish_of(self.also))
            .gather()
    }

    /// What comes out where all wishes do, by `read`: the value nearest to `now`. Around the present sizes
    /// first, for the nearest agreement is wanted; everywhere if none is there.
    fn nearest(
        &self,
        solved: &Solved,
        unknown: &[&'static Field],
        without: Option<&Also>,
        now: f64,
        read: &dyn Fn(&Hit) -> Option<Quantity>,
    ) -> Option<Quantity> {
        for near in [true, false] {
            let wishes = self.wishes(without);
            let mut system = System::new(self.layout, &solved.inputs, unknown.to_vec(), wishes)
                .only_way(Some(self.way));
            system.near = near;
            let mut best: Option<(f64, Quantity)> = None;
            let hits = system.search().hits;
            for q in hits.iter().filter_map(read) {
                let far = (plain(q, false) - now).abs();
                if best.is_none_or(|b| far < b.0) {
                    best = Some((far, q));
                }
            }
            if !hits.is_empty() {
                return best.map(|b| b.1);
            }
        }
        None
    }

    /// What this field would be if it were the one that gives: the nearest such value.
    fn field_that_agrees(&self, solved: &Solved, field: &'static Field) -> Option<Quantity> {
        let mut unknown = self.missing.to_vec();
        unknown.push(field);
        let now = solved.inputs.get(field.key)?.scalar()?;
        let read = |h: &Hit| h.inputs.get(field.key)?.quantity();
        self.nearest(solved, &unknown, None, now, &read)
    }

    /// What another typed answer would be if it were the one that gives.
    fn answer_that_agrees(&self, solved: &Solved, other: &Also) -> Option<Quantity> {
        let now = other.value.scalar()?;
        let read = |h: &Hit| h.answers.quantity(&other.key);
        self.nearest(solved, self.missing, Some(other), now, &read)
    }
}

fn half(step: Quantity) -> f64 {
    // A hair more, so that exactly half a step agrees in spite of binary fractions.
    plain(step, false).abs() / 2.0 * (1.0 + 1e-9)
}
