//! Any size may be the one that gives, of every pattern: more sizes than needed contradict, each in turn is offered as the
//! one that gives, and what a piece leads with lands on marks.

use offsquare_cuts::backwards::{Marks, Solved, Steps, marks_near, resolve};
use offsquare_cuts::inputs::{Also, Given, Value};
use offsquare_cuts::layouts::{Detail, Layout, Solution};
use offsquare_cuts::saw::SawProfile;
use offsquare_units::{Angle, Length, Quantity};
use offsquare_work::patterns::{self, Pattern};

fn start(pattern: &Pattern) -> Solution {
    let inputs = pattern.forms[0].start_inputs(false);
    pattern.solve(&inputs, Detail::Full).solutions.remove(0)
}

fn value(q: Quantity, times: f64) -> Value {
    match q {
        Quantity::Angle(a) => Value::Angle(Angle(a.0 * times)),
        q => Value::Length(Length(q.number() * times)),
    }
}

/// Every answer that may be typed, a tenth more than it is beside all the sizes: that they contradict is said with by how
/// much, and each size that is offered instead makes them agree.
#[test]
fn sizes_that_contradict_are_told_and_each_that_could_give_is_offered() {
    for pattern in patterns::all() {
        let form = &pattern.forms[0];
        let plain = form.start_inputs(false);
        let solution = start(pattern);
        assert!(!form.also.is_empty(), "{}", pattern.id);
        for field in form.also {
            let what = format!("{}: {}", pattern.id, field.key);
            let now = solution.answers.quantity(field.key).unwrap_or_else(|| panic!("{what}"));
            let given = |times: f64| Given {
                inputs: plain.clone(),
                also: vec![Also::of(
                    field,
                    value(now, times),
                    format!("/inputs/{}", field.key),
                    None,
                )],
                ..Given::default()
            };
            let found = resolve(&pattern.layout, &given(1.0), Detail::Full, &Steps::default());
            assert!(found.problems.is_empty(), "{what}: {:?}", found.problems);
            let found = resolve(&pattern.layout, &given(1.1), Detail::Full, &Steps::default());
            assert_eq!(found.solved.len(), 1, "{what}");
            let told: Vec<_> = found.problems.iter().filter(|p| p.by.is_some()).collect();
            assert_eq!(told.len(), 1, "{what}: {:?}", found.problems);
            let by = told[0].by.expect("by how much").number().abs();
            assert!((by - 0.1 * now.number().abs()).abs() < 1e-6, "{what}: {by}");
            let offered: Vec<_> = told[0].mends.iter().filter(|m| m.key != field.key).collect();
            assert!(!offered.is_empty(), "{what}: nothing else could give");
            for mend in offered {
                let mut agreed = given(1.1);
                let key = form.fields.iter().find(|f| f.key == mend.key).expect("a size").key;
                agreed.inputs.set(key, mend.to.clone());
                let found = resolve(&pattern.layout, &agreed, Detail::Full, &Steps::default());
                let still = found.problems.iter().any(|p| p.by.is_some());
                assert!(!found.solved.is_empty() && !still, "{what}: {} {:?}", mend.key, mend.to);
            }
        }
    }
}

/// The answers that a piece leads with, on whole sixteenths or on the saw's stops, by each of the sizes that may give: of
/// every pattern some land, and what is found gives just that answer when it is solved again.
#[test]
fn what_a_piece_leads_with_lands_on_marks() {
    let saw = SawProfile::usual();
    for pattern in patterns::all() {
        let form = &pattern.forms[0];
        let solved = Solved { inputs: form.start_inputs(false), solution: start(pattern) };
        let mut landed = 0;
        for path in &solved.solution.headline {
            let Some(now) = solved.solution.answers.quantity(path) else { continue };
            let marks = match now {
                Quantity::Angle(_) if path.contains("bevel") => Marks::Bevel(&saw),
                Quantity::Angle(_) => Marks::Miter(&saw),
                Quantity::Length(_) => Marks::Step(Length(0.0625)),
                _ => continue,
            };
            for key in form.gives {
                let field = form.fields.iter().find(|f| f.key == *key).expect("a size");
                let steps = Steps::default();
                for mark in marks_near(&pattern.layout, &solved, path, field, marks, &steps) {
                    let mut inputs = solved.inputs.clone();
                    let to = mark.solved.inputs.get(key).expect("the size that gives").clone();
                    inputs.set(key, to);
                    let again = pattern.solve(&inputs, Detail::Answers).solutions;
                    let again = again[0].answers.quantity(path).expect("the answer").number();
                    let off = (again - mark.target.number()).abs();
                    assert!(
                        off < 1e-9 * again.abs().max(1.0),
                        "{} {path} {key}: {off}",
                        pattern.id
                    );
                    landed += 1;
                }
            }
        }
        assert!(landed > 0, "{} lands on no mark", pattern.id);
    }
}

/// An answer given in place of a size: that size is found, and gives the answer back.
#[test]
fn every_answer_that_may_be_typed_finds_the_size_in_whose_place_it_stands() {
    for pattern in patterns::all() {
        let form = &pattern.forms[0];
        let solution = start(pattern);
        for field in form.also {
            let own = pattern.instead.iter().find(|(answer, _)| *answer == field.key);
            let place = own.map_or(form.gives[0], |(_, place)| place);
            let now = solution.answers.quantity(field.key).expect("an answer");
            for times in [0.97, 1.03] {
                let wanted = value(now, times);
                let mut inputs = form.start_inputs(false);
                inputs.remove(place);
                let also = vec![Also::of(field, wanted.clone(), String::new(), None)];
                let given = Given { inputs, also, ..Given::default() };
                let found = resolve(&pattern.layout, &given, Detail::Full, &Steps::default());
                let what = format!("{}: {} by {place}", pattern.id, field.key);
                let solved =
                    found.solved.first().unwrap_or_else(|| panic!("{what}: {:?}", found.problems));
                let is = solved.solution.answers.quantity(field.key).expect("an answer").number();
                let wanted = wanted.quantity().expect("a number").number();
                assert!((is - wanted).abs() < 1e-9 * wanted.abs(), "{what}: {is} {wanted}");
            }
        }
    }
}
