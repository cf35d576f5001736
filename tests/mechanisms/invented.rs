//! A layout made up for the tests, with awkward answers in closed form: two solutions that meet and
//! vanish, a hump, an end to what is possible.
//!
//! *Ladder*: `run` and `rise` are required; `length` = √(run² + rise²) and `slope_deg` = atan2(rise,
//! run) may be typed as well. Way `hump`: hump = run·(10 − run), up to run 12. Way `fold`: twice, u =
//! 3 ∓ √(9 − run), up to run 9.

use offsquare_cuts::backwards::{Found, Steps, Target, resolve, work_back};
use offsquare_cuts::inputs::{Also, Field, Given, Inputs, Kind, Need, Range, Start, Value};
use offsquare_cuts::layouts::{Answers, Detail, Form, Layout, Outcome, Solution};
use offsquare_cuts::problem::{Level, Problem};
use offsquare_units::{Angle, Length, Quantity, say};

struct Ladder;

const fn size(key: &'static str, label: &'static str, start: f64) -> Field {
    Field {
        key,
        label,
        help: "",
        kind: Kind::Length(Range::Positive),
        need: Need::Required,
        start: Start::Length(start, start * 25.0),
        ..Field::PLAIN
    }
}

const RUN: Field = size("run", "Run", 3.0);
const RISE: Field = size("rise", "Rise", 4.0);
const LENGTH: Field = size("length", "Length", 5.0);
const SLOPE: Field = Field {
    key: "slope_deg",
    label: "Slope",
    help: "",
    kind: Kind::Angle(0.0, 90.0),
    need: Need::Optional,
    start: Start::Empty,
    ..Field::PLAIN
};
const FORMS: &[Form] = &[Form {
    id: "ladder",
    label: "Ladder",
    fields: &[RUN, RISE],
    also: &[LENGTH, SLOPE],
    gives: &["run", "rise"],
    off: &[],
}];

impl Layout for Ladder {
    fn id(&self) -> &'static str {
        "ladder"
    }
    fn question(&self) -> &'static str {
        "A ladder"
    }
    fn search_words(&self) -> &'static str {
        ""
    }
    fn forms(&self) -> &'static [Form] {
        FORMS
    }
    fn solve(&self, inputs: &Inputs, _detail: Detail) -> Outcome {
        let (Some(run), Some(rise)) = (inputs.length("run"), inputs.length("rise")) else {
            return offsquare_cuts::layouts::missing(&FORMS[0], inputs);
        };
        let (x, y) = (run.0, rise.0);
        let mut out = Outcome::default();
        let mut way = |way: &'static str, title: &'static str, put: &dyn Fn(&mut Answers)| {
            let mut answers = Answers::new();
            put(&mut answers);
            out.solutions.push(Solution { way, title, answers, ..Solution::default() });
        };
        way("leaning", "Leaning", &|a| {
            a.length("length", x.hypot(y)).angle("slope_deg", y.atan2(x).to_degrees());
        });
        if x <= 12.0 {
            way("hump", "Hump", &|a| {
                a.length("hump", x * (10.0 - x));
            });
        } else {
            out.problems.push(
                Problem::stop("run", say!("Run is at most {} for a hump.", Length(12.0)))
                    .with_limit(Quantity::Length(Length(12.0)))
                    .of_way("hump"),
            );
        }
        if x <= 9.0 {
            for sign in [-1.0, 1.0] {
                let mut answers = Answers::new();
                answers.length("u", 3.0 + sign * (9.0 - x).sqrt());
                out.solutions.push(Solution {
                    way: "fold",
                    title: "Fold",
                    answers,
                    ..Solution::default()
                });
            }
        }
        out
    }
}

static LADDER: Ladder = Ladder;

fn given(fields: &[(&'static str, f64)], also: &[(&'static Field, f64)]) -> Given {
    let mut given = Given { inputs: Inputs::of_form("ladder"), ..Given::default() };
    for (key, v) in fields {
        given.inputs.set(key, Value::Length(Length(*v)));
    }
    for (field, v) in also {
        let value = match field.kind {
            Kind::Angle(..) => Value::Angle(Angle(*v)),
            _ => Value::Length(Length(*v)),
        };
        given.also.push(Also::of(field, value, format!("/inputs/{}", field.key), None));
    }
    given
}

fn back(give: &'static Field, answer: &str, value: f64) -> Found {
    let target = Target { give, answer: answer.to_owned(), value, metric: false, way: None };
    work_back(&LADDER, &given(&[("run", 3.0), ("rise", 4.0)], &[]), &target, &Steps::default())
}

fn values(found: &Found, key: &str) -> Vec<f64> {
    found.solved.iter().filter_map(|s| s.inputs.length(key).map(|l| l.0)).collect()
}

fn near(found: &[f64], expected: &[f64], within: f64) -> bool {
    found.len() == expected.len()
        && found.iter().zip(expected).all(|(f, e)| (f - e).abs() <= within)
}

static RUN_FIELD: Field = RUN;
static RISE_FIELD: Field = RISE;
static LENGTH_FIELD: Field = LENGTH;
static SLOPE_FIELD: Field = SLOPE;

#[test]
fn one_missing_size_is_found_from_an_answer() {
    // 5-12-13: the length 13 with the run 5 means a rise of 12.
    let found = resolve(
        &LADDER,
        &given(&[("run", 5.0)], &[(&LENGTH_FIELD, 13.0)]),
        Detail::Answers,
        &Steps::default(),
    );
    assert_eq!(values(&found, "rise").len(), 1, "{:?}", found.problems);
    assert!((values(&found, "rise")[0] - 12.0).abs() < 1e-14 * 13.0);
    assert_eq!(found.solved[0].solution.way, "leaning");
}

#[test]
fn two_missing_sizes_are_found_from_two_answers() {
    // 3-4-5 with the slope atan(4/3).
    let slope = 4.0_f64.atan2(3.0).to_degrees();
    for also in [
        [(&LENGTH_FIELD, 5.0), (&SLOPE_FIELD, slope)],
        [(&SLOPE_FIELD, slope), (&LENGTH_FIELD, 5.0)],
    ] {
        let found = resolve(&LADDER, &given(&[], &also), Detail::Answers, &Steps::default());
        assert!(near(&values(&found, "run"), &[3.0], 1e-9), "{found:?}");
        assert!(near(&values(&found, "rise"), &[4.0], 1e-9));
    }
}

#[test]
fn sizes_that_agree_pass_and_sizes_that_do_not_are_told_by_how_much() {
    let fields = [("run", 3.0), ("rise", 4.0)];
    let agree = resolve(
        &LADDER,
        &given(&fields, &[(&LENGTH_FIELD, 5.0)]),
        Detail::Answers,
        &Steps::default(),
    );
    assert!(agree.problems.is_empty(), "{:?}", agree.problems);
    let off = resolve(
        &LADDER,
        &given(&fields, &[(&LENGTH_FIELD, 5.1)]),
        Detail::Answers,
        &Steps::default(),
    );
    let p = &off.problems[0];
    assert_eq!((p.level, p.path.as_ref()), (Level::Warn, "/inputs/length"));
    let number = |q: Quantity| match q {
        Quantity::Length(l) => l.0,
        _ => f64::NAN,
    };
    assert!(p.by.is_some_and(|q| (number(q) - 0.1).abs() < 1e-12));
    // Pythagoras: run √(5.1² − 4²), rise √(5.1² − 3²), length 5.
    let expected = [
        ("run", (5.1_f64 * 5.1 - 16.0).sqrt()),
        ("rise", (5.1_f64 * 5.1 - 9.0).sqrt()),
        ("length", 5.0),
    ];
    assert_eq!(p.mends.len(), 3);
    for (mend, (k, v)) in p.mends.iter().zip(expected) {
        assert_eq!(mend.key.as_ref(), k);
        assert!(mend.to.scalar().is_some_and(|to| (to - v).abs() < 1e-12), "{k}");
    }
    assert!(!off.solved.is_empty(), "the solutions of the basis stay");
}

#[test]
fn a_program_is_held_to_a_billionth_and_a_person_to_half_a_step() {
    let fields = [("run", 3.0), ("rise", 4.0)];
    let told = |length: f64, step: Option<f64>| {
        let mut g = given(&fields, &[(&LENGTH_FIELD, length)]);
        g.also[0].step = step.map(|s| Quantity::Length(Length(s)));
        !resolve(&LADDER, &g, Detail::Answers, &Steps::default()).problems.is_empty()
    };
    assert!(!told(5.0 + 0.9e-9, None) && told(5.0 + 1.1e-9, None));
    // Typed to a sixteenth: 1/32 off can be rounding, more cannot.
    let sixteenth = Some(1.0 / 16.0);
    assert!(!told(5.0 + 1.0 / 32.0, sixteenth) && told(5.0 + 1.0 / 31.0, sixteenth));
}

#[test]
fn a_rounded_size_that_explains_it_is_no_contradiction() {
    // The run was typed to a whole 1/16: a run of 3.05 would give √(3.05² + 4²) = 5.0302, which is
    // what was measured to 1/1000. No size needs to move by more than half its step... of the run,
    // were it typed to 1/8 (1/16 ≥ 0.05), but not to 1/16 (1/32 < 0.05).
    let measured = 3.05_f64.hypot(4.0);
    let told = |run_step: f64| {
        let mut g = given(&[("run", 3.0), ("rise", 4.0)], &[(&LENGTH_FIELD, measured)]);
        g.also[0].step = Some(Quantity::Length(Length(0.001)));
        g.steps.push(("run", Quantity::Length(Length(run_step))));
        !resolve(&LADDER, &g, Detail::Answers, &Steps::default()).problems.is_empty()
    };
    assert!(!told(1.0 / 8.0));
    assert!(told(1.0 / 16.0));
}

#[test]
fn two_values_one_value_and_none_on_a_hump() {
    // run·(10 − run) = 24 at 4 and 6; 25 at its top, 5; 26 nowhere.
    let two = back(&RUN_FIELD, "hump", 24.0);
    assert!(near(&values(&two, "run"), &[4.0, 6.0], 1e-14), "{two:?}");
    let text = two.problems[0].text.render(&Default::default());
    assert!(text.starts_with("2 values of run do it"), "{text}");
    let top = back(&RUN_FIELD, "hump", 25.0);
    assert!(near(&values(&top, "run"), &[5.0], 1e-6), "{top:?}");
    let none = back(&RUN_FIELD, "hump", 26.0);
    assert!(none.solved.is_empty());
    let p = &none.problems[0];
    assert_eq!(p.level, Level::Stop);
    assert!(matches!(p.limit, Some(Quantity::Length(l)) if (l.0 - 25.0).abs() < 1e-9), "{p:?}");
    // At the other end the layout itself says why: run 12 is the last, hump −24.
    let under = back(&RUN_FIELD, "hump", -30.0);
    let p = &under.problems[0];
    assert!(matches!(p.limit, Some(Quantity::Length(l)) if (l.0 + 24.0).abs() < 1e-12), "{p:?}");
    let text = p.text.render(&Default::default());
    assert!(text.contains("Past that: Run is at most"), "{text}");
}

#[test]
fn solutions_that_meet_and_vanish_are_both_followed() {
    // u = 3 − √(9 − run) = 2 at run 8; u = 3 + √(9 − run) = 4 at run 8; u = 3 where they meet, run 9.
    for (u, run) in [(2.0, 8.0), (4.0, 8.0), (3.0, 9.0), (2.999, 9.0 - 1e-6)] {
        let found = back(&RUN_FIELD, "u", u);
        assert!(near(&values(&found, "run"), &[run], 1e-12), "{u}: {found:?}");
        let hit = found.solved[0].solution.answers.quantity("u");
        assert!(matches!(hit, Some(Quantity::Length(l)) if (l.0 - u).abs() < 1e-9));
    }
}

#[test]
fn an_answer_that_does_not_hang_on_the_size_is_told() {
    let found = back(&RISE_FIELD, "hump", 21.0);
    assert!(found.solved.is_empty());
    let text = found.problems[0].text.render(&Default::default());
    assert_eq!(text, "Hump does not change with rise: let another size give.");
}

#[test]
fn an_answer_typed_as_a_size_can_give() {
    // Run 3 and length 5 typed; the slope is wished at 45°: then the rise is 3 and the length 3√2.
    let g = given(&[("run", 3.0)], &[(&LENGTH_FIELD, 5.0)]);
    let target = Target {
        give: &LENGTH_FIELD,
        answer: "slope_deg".to_owned(),
        value: 45.0,
        metric: false,
        way: None,
    };
    let found = work_back(&LADDER, &g, &target, &Steps::default());
    assert!(near(&values(&found, "rise"), &[3.0], 1e-13), "{found:?}");
    // And with the run giving under the same length 5: run = rise = 5/√2.
    let target = Target { give: &RUN_FIELD, ..target };
    let found = work_back(&LADDER, &g, &target, &Steps::default());
    let leg = 5.0 / 2.0_f64.sqrt();
    assert!(near(&values(&found, "run"), &[leg], 1e-9), "{found:?}");
    assert!(near(&values(&found, "rise"), &[leg], 1e-9));
}
