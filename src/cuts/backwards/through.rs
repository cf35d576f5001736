//! A piece too wide or too high for the saw by a little: the change of a size that lets it through.

use super::Solved;
use super::steps::Steps;
use crate::inputs::{Kind, Value};
use crate::layouts::{Detail, Layout, Solution, answer_words};
use crate::parts::Part;
use crate::saw::{Advice, ChangedInput, Effect, Misfit, SawProfile};
use offsquare_units::num::Gather;
use offsquare_units::{Length, MM_PER_INCH, Quantity, num};

/// Sizes are tried in steps of this share of themselves, up to so many: what needs more is another piece.
const STEP: f64 = 0.05;
const STEPS: u32 = 6;
/// Halvings of a step until the border is nearer than a mark.
const HALVINGS: u32 = 16;

/// Whether it is only its size that keeps a piece from the saw.
pub(super) fn is_too_large(advice: &Advice) -> bool {
    let size = |m: &Misfit| matches!(m, Misfit::TooWide { .. } | Misfit::TooHigh { .. });
    advice.lay().is_none() && advice.fit.misfits.iter().all(size)
}

/// For each length that can give: the nearest whole mark of the tape at which this saw makes all cuts of
/// the part, and what that does to the headline answers. The way that changes least comes first.
///
/// Example: a box 5 in high that leans 15° has boards 5.18 in wide; at a width of 5 in the saw takes a
/// box 4 13/16 in high.
pub(super) fn bring_through(
    layout: &'static dyn Layout,
    solved: &Solved,
    saw: &SawProfile,
    part: &Part,
    steps: &Steps,
) -> Vec<ChangedInput> {
    let forms = layout.forms();
    let Some(form) = forms.iter().find(|f| f.id == solved.inputs.form) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for key in form.gives {
        let Some(field) = form.fields.iter().find(|f| f.key == *key) else {
            continue;
        };
        let (Kind::Length(_), Some(was)) = (field.kind, solved.inputs.length(key)) else {
            continue;
        };
        let with = |x: f64| {
            let value = Value::Length(Length(x));
            let inputs = solved.inputs.with(field.key, value);
            let all = steps.solve(layout, &inputs, Detail::Full)?.solutions;
            all.into_iter().find(|s| s.way == solved.solution.way && goes_through(s, part, saw))
        };
        let mark = mark_of(was);
        let found = [-1.0, 1.0].into_iter().filter_map(|side| nearest(was.0, side, mark, &with));
        let Some((value, changed)) =
            found.min_by(|a, b| (a.0 - was.0).abs().total_cmp(&(b.0 - was.0).abs()))
        else {
            continue;
        };
        let Some(now) = changed.parts.iter().find(|p| p.name == part.name) else {
            continue;
        };
        let share = (value - was.0).abs() / was.0.abs().max(1e-9);
        out.push((
            share,
            ChangedInput {
                give: field.key,
                label: field.label,
                was: Quantity::Length(was),
                value: Quantity::Length(Length(value)),
                reading: now.cuts.first().map(|c| c.miter).unwrap_or_default(),
                through: Some(now.seen),
                effects: effects(&solved.solution, &changed, key),
            },
        ));
    }
    num::sort_by(&mut out, |a, b| a.0.total_cmp(&b.0));
    out.into_iter().map(|o| o.1).gather()
}

fn goes_through(solution: &Solution, part: &Part, saw: &SawProfile) -> bool {
    let mut same = solution.parts.iter().filter(|p| p.name == part.name).peekable();
    same.peek().is_some() && same.all(|p| p.cuts.iter().all(|c| c.is_rip() || saw.can_cut(p, c)))
}

/// The mark that a size is told by: 1 mm where it stands on whole millimeters and on no 1/64 in.
fn mark_of(size: Length) -> f64 {
    let whole = |n: f64| (n - num::round_half_up(n)).abs() < 1e-6;
    if whole(size.as_mm()) && !whole(size.0 * 64.0) { 1.0 / MM_PER_INCH } else { 1.0 / 16.0 }
}

/// The mark nearest to `was` on one side at which `with` gives a solution, and that.
fn nearest(
    was: f64,
    side: f64,
    mark: f64,
    with: &dyn Fn(f64) -> Option<Solution>,
) -> Option<(f64, Solution)> {
    let at = |k: u32| was * (1.0 + side * STEP * f64::from(k));
    let first = (1..=STEPS).find(|k| with(at(*k)).is_some())?;
    let (mut out, mut through) = (at(first - 1), at(first));
    for _ in 0..HALVINGS {
        let middle = out.midpoint(through);
        if with(middle).is_some() {
            through = middle;
        } else {
            out = middle;
        }
    }
    let marks = through / mark;
    let marks = if side < 0.0 { num::floor(marks) } else { num::ceil(marks) };
    let value = marks * mark;
    with(value).map(|s| (value, s))
}

/// What a change does to the headline answers beside the one at `answer`; what no tape and no scale shows
/// is no change.
pub(super) fn effects(before: &Solution, after: &Solution, answer: &str) -> Vec<Effect> {
    before
        .headline
        .iter()
        .filter_map(|path| {
            let was = before.answers.quantity(path)?;
            let is = after.answers.quantity(path)?;
            let least = match is {
                Quantity::Length(_) => 1.0 / 128.0,
                Quantity::Angle(_) => 0.05,
                _ => 1e-9,
            };
            let shows = (is.number() - was.number()).abs() >= least;
            let name = answer_words(path);
            (shows && *path != answer).then_some(Effect { path, name, was, is })
        })
        .gather()
}
