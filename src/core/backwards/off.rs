//! *If it's off*: what half a degree or a thirty-second does, solved again.

use super::steps::Steps;
use super::system::{System, Wish, is_scalar, plain};
use super::{Solved, wording};
use crate::inputs::{Field, Given};
use crate::layouts::{Detail, Form, Layout, Off};
use crate::num;
use crate::num::Gather;
use crate::parts::Part;
use crate::say;
use crate::units::{Angle, Length, Quantity, Said, Text, lower_first};

/// One row of *if it's off*.
#[derive(Clone, Debug)]
pub struct OffAnswer {
    /// The answer that comes out wrong, and by how much (the worse sign).
    pub answer: &'static str,
    pub by: Quantity,
    /// The gap that opens.
    pub gap: Option<Length>,
    /// The input that gives, its new value, and by how much that is more than before.
    pub give: &'static str,
    pub value: Option<Quantity>,
    pub change: Option<Quantity>,
    /// "Half a degree off in reading: the cut stands open by 1/32; opening height comes out at 43 5/8 instead of 44."
    pub text: Text,
}

/// A reading is tried half a degree off, a length 1/32 in (1 mm in metric).
const DEGREES: f64 = 0.5;
const INCHES: f64 = 1.0 / 32.0;
const MM: f64 = 1.0 / 25.4;

/// What each of the form's [`Off`] rows comes to.
///
/// The answer is moved to either side, what the row keeps is kept, and the layout is solved again
/// for the input that gives; where answers are kept, so many more inputs must give, the next of the
/// form's `gives`. The worse sign is told: the one that moves the input that gives further. The gap
/// is measured as if the piece went where it should: s·sin of the angle's error over the cosine of
/// what was set for a reading, the error along the piece times the cosine of the steepest reading for a length.
pub fn if_off(
    layout: &'static dyn Layout,
    solved: &Solved,
    metric: bool,
    steps: &Steps,
) -> Vec<OffAnswer> {
    let given = Given { inputs: solved.inputs.clone(), ..Given::default() };
    let Some(form) = super::form_of(layout, &given) else {
        return Vec::new();
    };
    let parts = parts_of(layout, solved);
    form.off.iter().filter_map(|off| row(layout, form, solved, &parts, off, metric, steps)).gather()
}

/// The solution's parts; solved again in full where only answers were asked for.
fn parts_of(layout: &'static dyn Layout, solved: &Solved) -> Vec<Part> {
    if !solved.solution.parts.is_empty() {
        return solved.solution.parts.clone();
    }
    layout
        .solve(&solved.inputs, Detail::Full)
        .solutions
        .into_iter()
        .find(|s| s.answers == solved.solution.answers)
        .map(|s| s.parts)
        .unwrap_or_default()
}

fn row(
    layout: &'static dyn Layout,
    form: &'static Form,
    solved: &Solved,
    parts: &[Part],
    off: &'static Off,
    metric: bool,
    steps: &Steps,
) -> Option<OffAnswer> {
    let answers = &solved.solution.answers;
    let now = answers.quantity(off.answer)?;
    let by = match now {
        Quantity::Length(_) if metric => MM,
        Quantity::Length(_) => INCHES,
        Quantity::Angle(_) => DEGREES,
        _ => return None,
    };
    let unknown = unknowns(form, solved, off)?;
    let was = solved.inputs.get(off.give).and_then(|v| v.quantity())?;
    let kept: Vec<Wish> = off
        .keep
        .iter()
        .map(|path| answers.quantity(path).map(|q| Wish::of(path, q)))
        .collect::<Option<_>>()?;
    let mut worst: Option<(f64, f64)> = None;
    for sign in [1.0, -1.0] {
        let wrong = wording::quantity_like(now, plain(now, false) + sign * by);
        let mut wishes = vec![Wish::of(off.answer, wrong)];
        wishes.extend(kept.iter().cloned());
        let system = System::new(layout, &solved.inputs, unknown.clone(), wishes, steps)
            .only_way(Some(solved.solution.way));
        let hit = system.nearest(solved);
        let value = hit.and_then(|h| h.inputs.get(off.give)?.scalar());
        if let Some(x) = value {
            let moved = |x: f64| (x - plain(was, false)).abs();
            // Rounding does not decide between two signs that are alike.
            if worst.is_none_or(|(_, w)| moved(x) > moved(w) * (1.0 + 1e-9)) {
                worst = Some((sign, x));
            }
        }
    }
    let sign = worst.map_or(1.0, |(sign, _)| sign);
    let value = worst.map(|(_, x)| wording::quantity_like(was, x));
    let change = worst.map(|(_, x)| wording::quantity_like(was, x - plain(was, false)));
    let by = wording::quantity_like(now, sign * by);
    let gap = gap(parts, off.answer, now, by);
    let give = form.fields.iter().find(|f| f.key == off.give)?;
    Some(OffAnswer {
        answer: off.answer,
        by,
        gap,
        give: off.give,
        value,
        change,
        text: sentence(off.answer, by, gap, give, was, value, steps.ran_out()),
    })
}

/// The input that gives, and one more for each answer that is kept.
fn unknowns(form: &'static Form, solved: &Solved, off: &Off) -> Option<Vec<&'static Field>> {
    let free = |key: &str| {
        form.fields.iter().find(|f| {
            f.key == key
                && is_scalar(f)
                && solved.inputs.get(key).and_then(|v| v.scalar()).is_some()
        })
    };
    let mut out = vec![free(off.give)?];
    for key in form.gives {
        if out.len() > off.keep.len() {
            break;
        }
        if let Some(f) = free(key).filter(|f| out.iter().all(|o| o.key != f.key)) {
            out.push(f);
        }
    }
    (out.len() == off.keep.len() + 1).then_some(out)
}

/// How far the joint stands open.
fn gap(parts: &[Part], answer: &str, now: Quantity, by: Quantity) -> Option<Length> {
    let cuts = || parts.iter().flat_map(|p| p.cuts.iter().map(move |c| (p, c)));
    match (now, by) {
        (Quantity::Angle(now), Quantity::Angle(by)) => {
            let open = |across: Length| {
                let set = Angle(now.0 + by.0);
                Length((across.0 * num::sin_deg(by.0) / num::cos_deg(set.0)).abs())
            };
            let across = cuts().find_map(|(part, c)| {
                if c.miter_key == Some(answer) {
                    Some(c.across)
                } else if c.bevel_key == Some(answer) {
                    part.away
                } else {
                    None
                }
            })?;
            Some(open(across)).filter(|l| l.is_finite())
        }
        (_, Quantity::Length(by)) => {
            let steepest = cuts().map(|(_, c)| c.miter).fold(Angle(0.0), Angle::max);
            Some(Length((by.0 * num::cos_deg(steepest.0)).abs()))
        }
        _ => None,
    }
}

fn sentence(
    answer: &str,
    by: Quantity,
    gap: Option<Length>,
    give: &Field,
    was: Quantity,
    value: Option<Quantity>,
    ran_out: bool,
) -> Text {
    let (size, side) = match by {
        Quantity::Length(l) if l.0 < 0.0 => (Quantity::Length(l.abs()), " short: "),
        Quantity::Angle(a) if a.0 < 0.0 => (Quantity::Angle(a.abs()), " low: "),
        Quantity::Length(_) => (by, " long: "),
        _ => (by, " high: "),
    };
    let mut text = say![wording::spoken_first(answer), " "];
    text.0.extend(off_size(size).0);
    text.0.extend(say![side].0);
    if let Some(gap) = gap {
        text.0.extend(crate::saw::wording::gap_in_words(gap).0);
        text.0.extend(say!["; "].0);
    }
    let moved = value.map(|v| (plain(v, false) - plain(was, false)).abs());
    text.0.extend(
        match value {
            // Less than any tape or scale shows.
            Some(_) if moved.is_some_and(|m| m < 1.0 / 64.0) => {
                say![lower_first(give.label), " stays at ", was, " as near as it can be read."]
            }
            Some(value) => {
                say![lower_first(give.label), " comes out at ", Said::Instead(value, was), "."]
            }
            None if ran_out => say!["not all ways were tried."],
            None => say!["no ", lower_first(give.label), " makes up for it."],
        }
        .0,
    );
    text
}

/// A thirty-second is finer than many makers' marks, so it is said in words.
fn off_size(size: Quantity) -> Text {
    match size {
        Quantity::Length(l) if l.0 == INCHES => say!["1/32 in"],
        other => say![other],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A second opinion on the quick steps, for every row of every layout in which two inputs give: the
    /// safeguarded search for the one within the safeguarded search for the other.
    #[test]
    fn what_is_followed_is_what_a_search_finds() {
        let mut rows = 0;
        for layout in crate::layouts::all() {
            for form in layout.forms() {
                let inputs = form.start_inputs(false);
                for solution in layout.solve(&inputs, Detail::Full).solutions {
                    let solved = Solved { inputs: inputs.clone(), solution };
                    for off in form.off.iter().filter(|o| o.keep.len() == 1) {
                        rows += usize::from(is_found_twice(*layout, form, &solved, off));
                    }
                }
            }
        }
        assert!(rows > 20, "only {rows} rows");
    }

    fn is_found_twice(
        layout: &'static dyn Layout,
        form: &'static Form,
        solved: &Solved,
        off: &Off,
    ) -> bool {
        let answers = &solved.solution.answers;
        let wish = |path: &str| Some(Wish::of(path, answers.quantity(path)?));
        let (Some(unknown), Some(mut moved), Some(kept)) =
            (unknowns(form, solved, off), wish(off.answer), wish(off.keep[0]))
        else {
            return false;
        };
        moved.value += INCHES;
        let way = Some(solved.solution.way);
        let at = format!("{} {} {way:?} {}", layout.id(), form.id, off.answer);
        let steps = Steps::at_most(u32::MAX);
        let both = vec![moved.clone(), kept.clone()];
        let system = System::new(layout, &solved.inputs, unknown.clone(), both, &steps);
        let hit = system.only_way(way).followed(solved).expect(&at);
        let followed = hit.inputs.get(off.give).and_then(|v| v.scalar()).expect(&at);
        // The kept answer is held by the second input; what the moved one then misses.
        let mut missed = |x: f64| {
            let inputs = hit.inputs.with(off.give, super::super::system::typed(unknown[0], x));
            let held = vec![kept.clone()];
            let mut inner =
                System::new(layout, &inputs, vec![unknown[1]], held, &steps).only_way(way);
            inner.near = true;
            let found = inner.search().hits.into_iter().next()?;
            Some(moved.read(&found.answers)? - moved.value)
        };
        let around = 1e-4 * followed.abs().max(1.0);
        let found = num::root_between(&mut missed, followed - around, followed + around);
        let far = (found.expect(&at) - followed).abs() / followed.abs().max(1.0);
        assert!(far < 1e-9, "{at}: {far}");
        true
    }
}
