//! What was given, solved: directly, or with typed answers standing in for what is missing, and with
//! every further typed answer checked against the rest.

use super::contradiction;
use super::steps::Steps;
use super::system::{Search, System};
use super::wish::wish_of;
use super::wish::{Wish, is_scalar, plain};
use super::{Found, Solved, form_of, wording};
use crate::inputs::{Also, Field, Given, Inputs, Need};
use crate::layouts::{self, Detail, Form, Layout};
use crate::problem::{Level, Problem};
use offsquare_units::Quantity;
use offsquare_units::num::Gather;

/// Solves what was given: directly, by standing typed answers in for missing fields, or with a
/// problem for sizes that cannot all be true.
///
/// The inputs of each solution are complete: those found are among them. Problems of contradiction
/// are warnings: `by` says how much, `agree` the value of each size that would agree with the rest.
/// Sizes that are missing and that the typed answers leave open are said to be missing. Typed answers
/// are believed in the order in which they are given; past the `steps` what was found so far stands.
///
/// Example: a 30 in wide opening, a strip 2 1/2 wide on the rails and `edge_length` typed instead of
/// the height finds the height.
pub fn resolve(layout: &'static dyn Layout, given: &Given, detail: Detail, steps: &Steps) -> Found {
    let mut found = answered(layout, given, detail, steps);
    if detail == Detail::Full {
        wording::note_roots(&mut found.solved);
    }
    found.problems.extend(steps.problem(!found.solved.is_empty()));
    found
}

fn answered(layout: &'static dyn Layout, given: &Given, detail: Detail, steps: &Steps) -> Found {
    let Some(form) = form_of(layout, given).filter(|_| !given.also.is_empty()) else {
        return direct(layout, &given.inputs, detail, steps);
    };
    let missing = missing_fields(form, &given.inputs);
    if given.also.iter().any(|a| a.value.quantity().is_none()) {
        return direct(layout, &given.inputs, detail, steps);
    }
    if missing.len() > given.also.len() || !missing.iter().all(|f| is_scalar(f)) {
        return Found::stopped(layouts::missing(form, &given.inputs).problems);
    }
    let (mut found, basis) = if missing.is_empty() {
        (direct(layout, &given.inputs, detail, steps), Vec::new())
    } else {
        stand_in(layout, form, given, &missing, detail, steps)
    };
    let surplus: Vec<&Also> =
        given.also.iter().enumerate().filter(|(i, _)| !basis.contains(i)).map(|(_, a)| a).gather();
    let basis: Vec<&Also> = basis.iter().filter_map(|i| given.also.get(*i)).gather();
    contradiction::check(
        &contradiction::Sizes { layout, form, given, missing: &missing, basis: &basis, steps },
        &surplus,
        &mut found,
    );
    found
}

/// Required fields that were left empty.
pub(super) fn missing_fields(form: &'static Form, inputs: &Inputs) -> Vec<&'static Field> {
    form.fields.iter().filter(|f| f.need == Need::Required && inputs.get(f.key).is_none()).gather()
}

fn direct(layout: &'static dyn Layout, inputs: &Inputs, detail: Detail, steps: &Steps) -> Found {
    let outcome = layout.solve(inputs, detail);
    steps.count(&outcome, detail);
    let solved = |solution| Solved { inputs: inputs.clone(), solution };
    Found { solved: outcome.solutions.into_iter().map(solved).gather(), problems: outcome.problems }
}

/// Finds the missing fields from as many of the typed answers, the first that do; tells which. Where no
/// such answers fix them, they are missing.
fn stand_in(
    layout: &'static dyn Layout,
    form: &'static Form,
    given: &Given,
    missing: &[&'static Field],
    detail: Detail,
    steps: &Steps,
) -> (Found, Vec<usize>) {
    let mut first: Option<(Search, Vec<usize>)> = None;
    for pick in picks(given.also.len(), missing.len()) {
        let wishes: Vec<Wish> = pick.iter().filter_map(|i| wish_of(&given.also[*i])).gather();
        let search = System::new(layout, &given.inputs, missing.to_vec(), wishes, steps).search();
        if !search.hits.is_empty() {
            let mut found = Found::of(layout, &search, detail, steps);
            found.problems.extend(unreached(given, missing, &pick, &search));
            return (found, pick);
        }
        if !search.open && first.is_none() {
            first = Some((search, pick));
        }
    }
    let Some((search, pick)) = first else {
        return (Found::stopped(layouts::missing(form, &given.inputs).problems), Vec::new());
    };
    if steps.ran_out() {
        return (Found::default(), pick);
    }
    let mut problems = unreached(given, missing, &pick, &search);
    if problems.is_empty() {
        problems = nowhere(layout, given, missing, &pick);
    }
    (Found::stopped(problems), pick)
}

/// One problem for each way that has the answer but cannot bring it to what was typed.
fn unreached(
    given: &Given,
    missing: &[&'static Field],
    pick: &[usize],
    search: &Search,
) -> Vec<Problem> {
    let (Some(field), Some(also)) = (missing.first(), pick.first().map(|i| &given.also[*i])) else {
        return Vec::new();
    };
    let Some(wish) = also.value.quantity() else {
        return Vec::new();
    };
    let single = search.reach.len() == 1;
    let mut out = Vec::new();
    for reach in &search.reach {
        if search.hits.iter().any(|h| h.way == reach.way) {
            continue;
        }
        let way = (!single).then_some(reach.way);
        if reach.level {
            let text = wording::no_bearing(field, &also.key);
            out.push(wording::stopped(&also.path, way, text));
            continue;
        }
        let is = |x: f64| wording::quantity_like(wish, x);
        let (least, greatest) = (is(reach.least.1), is(reach.greatest.1));
        let text = wording::out_of_reach(field, &also.key, wish, Some((least, greatest)), None);
        let limit = if plain(wish, false) < reach.least.1 { least } else { greatest };
        out.push(wording::stopped(&also.path, way, text).with_limit(limit));
    }
    out
}

/// Nothing at all comes out: the layout's own words if it has any, else that nothing was found.
fn nowhere(
    layout: &'static dyn Layout,
    given: &Given,
    missing: &[&'static Field],
    pick: &[usize],
) -> Vec<Problem> {
    let mut tried = given.inputs.clone();
    for f in missing {
        if let Some(v) = super::system::start_value(f) {
            tried.set(f.key, v);
        }
    }
    let own: Vec<Problem> = layout
        .solve(&tried, Detail::Answers)
        .problems
        .into_iter()
        .filter(|p| {
            p.level == Level::Stop && p.field().is_some_and(|k| missing.iter().all(|f| f.key != k))
        })
        .gather();
    if !own.is_empty() {
        return own;
    }
    let (Some(field), Some(also)) = (missing.first(), pick.first().map(|i| &given.also[*i])) else {
        return Vec::new();
    };
    let wish = also.value.quantity().unwrap_or(Quantity::Count(0.0));
    vec![Problem::stop(&also.path, wording::out_of_reach(field, &also.key, wish, None, None))]
}

/// Every choice of `k` out of `n`, the first ones first; at most 64 of them.
fn picks(n: usize, k: usize) -> Vec<Vec<usize>> {
    let mut out = Vec::new();
    let mut pick: Vec<usize> = (0..k).gather();
    while out.len() < 64 {
        out.push(pick.clone());
        let Some(at) = (0..k).rev().find(|i| pick[*i] < n - k + *i) else {
            break;
        };
        pick[at] += 1;
        for j in at + 1..k {
            pick[j] = pick[j - 1] + 1;
        }
    }
    out
}
