//! Which value of one input brings one answer to what is wished.

use super::resolve::{missing_fields, resolve};
use super::steps::Steps;
use super::system::{Search, System};
use super::wish::{Wish, is_scalar, plain, typed, wish_of};
use super::wording::{self, quantity_like};
use super::{Found, Solved, form_of};
use crate::inputs::{Field, Given, Value};
use crate::layouts::{Detail, Layout, Solution};
use crate::problem::{Level, Problem};
use offsquare_units::num::Gather;
use offsquare_units::{MM_PER_INCH, Quantity, Text, say};

/// A wish: this answer, by letting this input give.
#[derive(Clone, Debug)]
pub struct Target {
    pub give: &'static Field,
    /// Dotted path of the answer.
    pub answer: String,
    /// In the request's unit, or degrees.
    pub value: f64,
    /// The target, where it is a length or area, is in millimeters.
    pub metric: bool,
    /// Only in this way; none: in every way that has the answer.
    pub way: Option<String>,
}

/// Every value of the input that gives at which the answer is as wished, each way by itself.
///
/// The input that gives may be a field, filled or empty, or an answer that was typed as a size. Each
/// solution carries the inputs that were found; put back, they hit the wish to the last bits. None,
/// several, and what can be reached instead are said. The limit of a problem is the nearest value of
/// the answer that can be had.
///
/// Example: a brace flat on the rails, 30 wide with a 2 1/2 strip, reading 45°: the height is
/// 30 − 2 1/2·√2 = 26.464….
pub fn work_back(
    layout: &'static dyn Layout,
    given: &Given,
    target: &Target,
    steps: &Steps,
) -> Found {
    let Some(form) = form_of(layout, given) else {
        return Found::default();
    };
    let give = target.give;
    let mut known = given.inputs.clone();
    let mut also: Vec<_> = given.also.iter().gather();
    let mut unknown = missing_fields(form, &known);
    if form.fields.iter().any(|f| f.key == give.key) {
        if !unknown.iter().any(|f| f.key == give.key) {
            unknown.push(give);
        }
    } else {
        also.retain(|a| a.key != give.key);
        if also.len() == given.also.len() || unknown.is_empty() {
            return stop("/work_back/give", wording::cannot_give(give));
        }
    }
    if !unknown.iter().all(|f| is_scalar(f)) || unknown.len() > also.len() + 1 {
        return Found::stopped(crate::layouts::missing(form, &known).problems);
    }
    also.truncate(unknown.len() - 1);
    // The unknown that gives is searched outermost, against the wish: what can be reached is told of it.
    let gives = |f: &Field| f.key == give.key;
    offsquare_units::num::sort_by(&mut unknown, |a, b| gives(b).cmp(&gives(a)));
    let mut wishes =
        vec![Wish { path: target.answer.clone(), value: target.value, metric: target.metric }];
    wishes.extend(also.iter().filter_map(|a| wish_of(a)));
    if wishes.len() != unknown.len() {
        return stop("/work_back/give", wording::cannot_give(give));
    }
    for f in &unknown {
        if known.get(f.key).is_none() {
            // Where nothing is known of it, its start tells the search what is usual.
            if let Some(v) = super::system::start_value(f).filter(|_| unknown.len() > 1) {
                known.set(f.key, v);
            }
        }
    }
    let search = System::new(layout, &known, unknown.clone(), wishes, steps)
        .only_way(target.way.as_deref())
        .search();
    let mut found = Found::of(layout, &search, Detail::Full, steps);
    wording::note_roots(&mut found.solved);
    found.problems.extend(match () {
        () if !search.hits.is_empty() => said_of_many(target, &found.solved),
        () if steps.ran_out() => Vec::new(),
        () => unmet(layout, given, target, &search, steps),
    });
    found.problems.extend(steps.problem(!found.solved.is_empty()));
    found
}

fn stop(path: &str, text: Text) -> Found {
    Found::stopped(vec![Problem::stop(path, text)])
}

/// The value of the input that gives in a solution.
fn given_value(target: &Target, solved: &Solved) -> Option<Quantity> {
    match solved.inputs.get(target.give.key) {
        Some(v) => v.quantity(),
        None => solved.solution.answers.quantity(target.give.key),
    }
}

/// Where one way has several values that do it.
fn said_of_many(target: &Target, solved: &[Solved]) -> Vec<Problem> {
    let mut ways: Vec<&'static str> = Vec::new();
    for s in solved {
        if !ways.contains(&s.solution.way) {
            ways.push(s.solution.way);
        }
    }
    let mut out = Vec::new();
    for way in ways {
        let values: Vec<Quantity> = solved
            .iter()
            .filter(|s| s.solution.way == way)
            .filter_map(|s| given_value(target, s))
            .gather();
        if values.len() > 1 {
            let text = wording::several(target.give, &values);
            out.push(Problem::warn("/work_back/target", text).of_way(way));
        }
    }
    out
}

/// Why nothing does it.
fn unmet(
    layout: &'static dyn Layout,
    given: &Given,
    target: &Target,
    search: &Search,
    steps: &Steps,
) -> Vec<Problem> {
    let present = resolve(layout, given, Detail::Answers, steps);
    let like = present.solved.iter().find_map(|s| s.solution.answers.quantity(&target.answer));
    if search.reach.is_empty() {
        // The answer never came: either it is none, or nothing comes out at all.
        let mut known: Vec<String> = Vec::new();
        for s in &present.solved {
            names(&s.solution, &mut known);
        }
        if like.is_none() && !known.is_empty() {
            let text = wording::no_such_answer(&target.answer, &known);
            return vec![Problem::stop("/work_back/answer", text)];
        }
        if !present.problems.is_empty() {
            return present.problems;
        }
        let text = say!("Nothing comes out with these sizes, whatever gives.");
        return vec![Problem::stop("/work_back", text)];
    }
    let single = search.reach.len() == 1;
    let inches = |x: f64, like: Quantity| match like {
        Quantity::Length(_) if target.metric => x / MM_PER_INCH,
        Quantity::Area(_) if target.metric => x / (MM_PER_INCH * MM_PER_INCH),
        _ => x,
    };
    let mut out = Vec::new();
    for reach in &search.reach {
        let way = (!single).then_some(reach.way);
        let kind = like.unwrap_or(if target.answer.ends_with("_deg") {
            Quantity::Angle(offsquare_units::Angle(0.0))
        } else {
            Quantity::Length(offsquare_units::Length(0.0))
        });
        if reach.level || reach.least.1 == reach.greatest.1 {
            let text = wording::no_bearing(target.give, &target.answer);
            out.push(wording::stopped("/work_back/give", way, text));
            continue;
        }
        let q = |x: f64| quantity_like(kind, inches(x, kind));
        let under = target.value < reach.least.1;
        let over = target.value > reach.greatest.1;
        let nearest = if under { reach.least } else { reach.greatest };
        let span = (under || over).then(|| (q(reach.least.1), q(reach.greatest.1)));
        let beyond = span.and_then(|_| beyond(layout, given, target, reach.way, nearest.0));
        let text =
            wording::out_of_reach(target.give, &target.answer, q(target.value), span, beyond);
        let mut problem = wording::stopped("/work_back/target", way, text);
        if under || over {
            problem = problem.with_limit(q(nearest.1));
        }
        out.push(problem);
    }
    out
}

/// What the layout itself says just past the last value of the input that works.
fn beyond(
    layout: &'static dyn Layout,
    given: &Given,
    target: &Target,
    way: &str,
    at: f64,
) -> Option<Text> {
    if !given.also.is_empty() {
        return None;
    }
    [at * (1.0 + 1e-9), at * (1.0 - 1e-9)].into_iter().find_map(|x| {
        let value = typed(target.give, x);
        if let Some(p) = target.give.check(&value) {
            return Some(p.text);
        }
        let outcome = layout.solve(&given.inputs.with(target.give.key, value), Detail::Answers);
        if outcome.solutions.iter().any(|s| s.way == way) {
            return None;
        }
        outcome
            .problems
            .into_iter()
            .find(|p| p.level == Level::Stop && p.way.as_deref().is_none_or(|w| w == way))
            .map(|p| p.text)
    })
}

fn names(solution: &Solution, known: &mut Vec<String>) {
    solution.answers.each_quantity(&mut |path, _| {
        if known.len() < 40 && !known.iter().any(|k| k == path) {
            known.push(path.to_owned());
        }
    });
}

/// The number of the input that gives in a solution, for the nearest of several.
pub(super) fn give_number(give: &Field, solved: &Solved) -> Option<f64> {
    match solved.inputs.get(give.key) {
        Some(v) => Value::scalar(v),
        None => solved.solution.answers.quantity(give.key).map(|q| plain(q, false)),
    }
}
