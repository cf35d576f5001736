//! More sizes than needed: do they agree, by how much not, and what would each have to be.
//!
//! A fraction's step is its denominator as typed (`23 1/2`: half an inch), whole numbers 1/16 in: contradictions are
//! told by the step that was typed, not by a guess at the tape's.
//!
//! Contradictions warn and keep the answer of the other sizes: the maker is told, and picks which gives.

use super::steps::Steps;
use super::system::{Hit, System};
use super::wish::wish_of;
use super::wish::{Wish, is_scalar, plain};
use super::wording::{self, quantity_like};
use super::{Found, Solved};
use crate::inputs::{Also, Field, Given, Value};
use crate::layouts::{Form, Layout};
use crate::problem::Problem;
use offsquare_units::Quantity;
use offsquare_units::num::Gather;
use std::borrow::Cow;

/// A size given by a program agrees to so many inches or degrees; of very large lengths to a thousandth of
/// this share.
const EXACT: f64 = 1e-9;

/// What was given, and how the missing sizes were found.
pub(super) struct Sizes<'a> {
    pub layout: &'static dyn Layout,
    pub form: &'static Form,
    pub given: &'a Given,
    pub missing: &'a [&'static Field],
    /// The typed answers from which the missing sizes were found.
    pub basis: &'a [&'a Also],
    pub steps: &'a Steps,
}

/// Checks each surplus answer against what comes out. Where it comes out somewhere, those solutions of
/// such a way that differ fall away, and another way says that it differs; where it does not, all stay and
/// a warning stands beside.
pub(super) fn check(sizes: &Sizes, surplus: &[&Also], found: &mut Found) {
    for also in surplus {
        let Some(was) = also.value.quantity() else {
            continue;
        };
        let is = |s: &Solved| s.solution.answers.quantity(&also.key);
        let mut ways: Vec<&'static str> = Vec::new();
        for s in found.solved.iter().filter(|s| is(s).is_some()) {
            if !ways.contains(&s.solution.way) {
                ways.push(s.solution.way);
            }
        }
        let case = |way| Case { sizes, also, was, way };
        let fits = |s: &Solved| is(s).is_some_and(|q| case(s.solution.way).close(q));
        let met: Vec<&'static str> =
            found.solved.iter().filter(|s| fits(s)).map(|s| s.solution.way).gather();
        if !met.is_empty() {
            found.solved.retain(|s| fits(s) || !met.contains(&s.solution.way));
            for s in &mut found.solved {
                if let Some(is) = is(s).filter(|_| !met.contains(&s.solution.way)) {
                    s.solution.notes.push(wording::differs(&also.label, is, was));
                }
            }
            continue;
        }
        let mut problems = Vec::new();
        for way in &ways {
            let case = case(way);
            let nearest = found
                .solved
                .iter()
                .filter(|s| s.solution.way == *way)
                .filter_map(|s| Some((s, is(s)?)))
                .min_by(|(_, a), (_, b)| case.distance(*a).total_cmp(&case.distance(*b)));
            problems.extend(nearest.map(|(s, is)| case.problem(s, is, ways.len() > 1)));
        }
        // Where they can all be true in one way, nothing is wrong.
        if problems.iter().all(Option::is_some) {
            found.problems.extend(problems.into_iter().flatten());
        }
    }
}

struct Case<'a> {
    sizes: &'a Sizes<'a>,
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
        for (_, v) in self.sizes.given.inputs.iter() {
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
        for field in self.sizes.form.fields.iter().filter(|f| is_scalar(f)) {
            let Some(now) = self.sizes.given.inputs.get(field.key) else {
                continue;
            };
            // A size that merely stands unless changed is not one that the maker typed against.
            let Some(value) = self.field_that_agrees(solved, field) else {
                continue;
            };
            if let (Some(step), Some(now)) = (self.sizes.given.step(field.key), now.scalar())
                && (plain(value, false) - now).abs() <= half(step)
            {
                return None;
            }
            agree.push((Cow::Borrowed(field.key), value));
        }
        for other in self.sizes.basis {
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
        Some(
            agree
                .into_iter()
                .fold(problem, |problem, (key, value)| problem.mended_by(key, Value::of(value))),
        )
    }

    fn wishes(&self, without: Option<&Also>) -> Vec<Wish> {
        self.sizes
            .basis
            .iter()
            .filter(|b| without.is_none_or(|w| w.key != b.key))
            .filter_map(|b| wish_of(b))
            .chain(wish_of(self.also))
            .gather()
    }

    /// The nearest place where all wishes come out.
    fn nearest(
        &self,
        solved: &Solved,
        unknown: &[&'static Field],
        without: Option<&Also>,
    ) -> Option<Hit> {
        let Sizes { layout, steps, .. } = *self.sizes;
        let wishes = self.wishes(without);
        System::new(layout, &solved.inputs, unknown.to_vec(), wishes, steps)
            .only_way(Some(self.way))
            .nearest(solved)
    }

    /// What this field would be if it were the one that gives: the nearest such value.
    fn field_that_agrees(&self, solved: &Solved, field: &'static Field) -> Option<Quantity> {
        let mut unknown = self.sizes.missing.to_vec();
        unknown.push(field);
        self.nearest(solved, &unknown, None)?.inputs.get(field.key)?.quantity()
    }

    /// What another typed answer would be if it were the one that gives.
    fn answer_that_agrees(&self, solved: &Solved, other: &Also) -> Option<Quantity> {
        self.nearest(solved, self.sizes.missing, Some(other))?.answers.quantity(&other.key)
    }
}

fn half(step: Quantity) -> f64 {
    // A hair more, so that exactly half a step agrees in spite of binary fractions.
    plain(step, false).abs() / 2.0 * (1.0 + 1e-9)
}
