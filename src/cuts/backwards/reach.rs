//! The saw's advice with the safest remedy added: the change of a size that brings a reading inside
//! the saw's limits.

use super::Solved;
use super::marks::{Marks, marks_near};
use super::steps::Steps;
use super::through::{bring_through, effects, is_too_large};
use crate::inputs::{Given, Value};
use crate::layouts::{Detail, Layout, Solution};
use crate::parts::{Cut, Part};
use crate::saw::{Advice, ChangedInput, Misfit, PartAdvice, Remedy, SawProfile};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, num};

/// The advice of a saw for all parts of a solution. Where a reading is past the limit, the changes
/// of input that bring it inside come first, one for each size that can give.
pub fn advise(
    layout: &'static dyn Layout,
    solved: &Solved,
    saw: &SawProfile,
    steps: &Steps,
) -> Vec<PartAdvice> {
    let mut known: Vec<(&'static str, Vec<ChangedInput>)> = Vec::new();
    solved
        .solution
        .parts
        .iter()
        .map(|part| {
            let mut advice = saw.advise_part(part);
            let mut through: Option<Vec<ChangedInput>> = None;
            for (cut, a) in part.cuts.iter().zip(&mut advice.cuts) {
                if is_too_large(a) {
                    let changes = through
                        .get_or_insert_with(|| bring_through(layout, solved, saw, part, steps))
                        .clone();
                    put_first(a, changes);
                    continue;
                }
                let Some((key, bevel)) = past(cut, a) else {
                    continue;
                };
                let changes = match known.iter().find(|(k, _)| *k == key) {
                    Some((_, changes)) => changes.clone(),
                    None => {
                        let changes = bring_inside(layout, solved, saw, (key, bevel), part, steps);
                        known.push((key, changes.clone()));
                        changes
                    }
                };
                put_first(a, changes);
            }
            advice
        })
        .gather()
}

fn put_first(a: &mut Advice, changes: Vec<ChangedInput>) {
    let rest = std::mem::take(&mut a.remedies);
    a.remedies = changes.into_iter().map(Remedy::ChangeInput).chain(rest).gather();
}

/// The answer that is past the limit, where that is what keeps the saw from the cut.
fn past(cut: &Cut, advice: &Advice) -> Option<(&'static str, bool)> {
    if advice.lay().is_some() {
        return None;
    }
    advice.fit.misfits.iter().find_map(|m| match m {
        Misfit::MiterPastLimit { .. } => cut.miter_key.map(|k| (k, false)),
        Misfit::BevelPastLimit { .. } => cut.bevel_key.map(|k| (k, true)),
        _ => None,
    })
}

/// For each size that can give: the smallest change that brings the reading at `answer` to a mark
/// inside the saw's limit at which the piece also goes through, and what it does to the headline
/// answers. Sizes that cannot do it are left out.
///
/// Example: a 30 × 60 in opening, 2 1/2 strip, corner: the rail cut reads 63.4°; a lower or wider
/// opening brings it to 50°.
pub fn bring_inside(
    layout: &'static dyn Layout,
    solved: &Solved,
    saw: &SawProfile,
    (answer, bevel): (&'static str, bool),
    part: &Part,
    steps: &Steps,
) -> Vec<ChangedInput> {
    let given = Given { inputs: solved.inputs.clone(), ..Given::default() };
    let Some(form) = super::form_of(layout, &given) else {
        return Vec::new();
    };
    let limit = if bevel { saw.bevel_most() } else { saw.miter_most() };
    // The last mark inside the limit at which the piece still goes through: the nearest reading of all.
    let fine = saw.finest_mark.0;
    let of_answer = |c: &&Cut| c.miter_key == Some(answer) || c.bevel_key == Some(answer);
    let out = part.cuts.iter().filter(of_answer).map(|c| saw.least_out(part, c));
    let out = out.fold(Length(0.0), Length::max);
    let goes_through = |reading: f64| bevel || out.0 <= saw.width_at(Angle(reading)).0;
    let mut marks = num::floor(limit.0 / fine + 1e-9);
    while marks > 0.0 && !goes_through(marks * fine) {
        marks -= 1.0;
    }
    let last_mark = Angle(marks * fine);
    let mut out = Vec::new();
    for key in form.gives {
        let Some(field) = form.fields.iter().find(|f| f.key == *key) else {
            continue;
        };
        let found = marks_near(layout, solved, answer, field, Marks::Just(last_mark), steps);
        let Some(mark) = found.first() else {
            continue;
        };
        let Quantity::Angle(reading) = mark.target else {
            continue;
        };
        // With the size changed the piece may be another: it must go through the saw as well.
        if !cut_there(layout, &mark.solved, answer, saw, steps) {
            continue;
        }
        out.push(ChangedInput {
            give: field.key,
            label: field.label,
            was: mark.was,
            value: mark.value,
            reading,
            through: None,
            effects: effects(&solved.solution, &mark.solved.solution, answer),
        });
    }
    out
}

/// The piece with the size changed: the solution that the change leads to.
pub fn changed(
    layout: &'static dyn Layout,
    solved: &Solved,
    change: &ChangedInput,
) -> Option<Solution> {
    let inputs = solved.inputs.with(change.give, Value::of(change.value)?);
    let there = |angle: Angle| (angle.0 - change.reading.0).abs() < 1e-6;
    layout.solve(&inputs, Detail::Full).solutions.into_iter().find(|s| {
        let mut cuts = s.parts.iter().flat_map(|p| &p.cuts);
        s.way == solved.solution.way && cuts.any(|c| there(c.miter) || there(c.bevel))
    })
}

/// Whether the saw makes every cut whose reading is that answer, in the solution with these answers.
fn cut_there(
    layout: &'static dyn Layout,
    solved: &Solved,
    answer: &str,
    saw: &SawProfile,
    steps: &Steps,
) -> bool {
    let Some(there) = steps.solve(layout, &solved.inputs, Detail::Full) else {
        return false;
    };
    there
        .solutions
        .iter()
        .filter(|s| s.way == solved.solution.way && s.answers == solved.solution.answers)
        .flat_map(|s| &s.parts)
        .flat_map(|part| part.cuts.iter().map(move |cut| (part, cut)))
        .filter(|(_, cut)| cut.miter_key == Some(answer) || cut.bevel_key == Some(answer))
        .all(|(part, cut)| saw.can_cut(part, cut))
}
