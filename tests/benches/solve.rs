//! How long one solve with drawing takes, for every form of every layout at its start inputs.
//!
//! `cargo bench -p offsquare-tests --bench solve`: the median of many runs in microseconds, and the
//! same for the answers alone (what the root finder pays each time), for working one input back, for
//! all the marks near a reading, and for *if it's off* of each way.

use offsquare_cuts::backwards::{Marks, Solved, Steps, Target, if_off, marks_near, work_back};
use offsquare_cuts::inputs::{Given, Kind};
use offsquare_cuts::layouts::{self, Detail, Layout};
use offsquare_cuts::saw::SawProfile;
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Shop, WorkEdit, answer};
use offsquare_work::save::Bench;
use std::hint::black_box;
use std::time::Instant;

fn main() {
    println!(
        "{:<16} {:<18} {:>10} {:>10} {:>14} {:>14} {:>14}",
        "layout", "form", "full µs", "answers µs", "work back µs", "marks µs", "if off, ms"
    );
    let mut slowest = 0.0_f64;
    for layout in layouts::all() {
        for form in layout.forms() {
            let inputs = form.start_inputs(false);
            let full = median(301, || {
                black_box(layout.solve(black_box(&inputs), Detail::Full));
            });
            let answers = median(301, || {
                black_box(layout.solve(black_box(&inputs), Detail::Answers));
            });
            let back = target(*layout, form, &inputs).map(|(given, target)| {
                median(7, || {
                    black_box(work_back(*layout, black_box(&given), &target, &Steps::default()));
                })
            });
            let near = target(*layout, form, &inputs).and_then(|(_, target)| {
                let solution =
                    layout.solve(&inputs, Detail::Answers).solutions.into_iter().next()?;
                let solved = Solved { inputs: inputs.clone(), solution };
                let saw = SawProfile::usual();
                Some(median(7, || {
                    black_box(marks_near(
                        *layout,
                        black_box(&solved),
                        &target.answer,
                        target.give,
                        Marks::Miter(&saw),
                        &Steps::default(),
                    ));
                }))
            });
            let off: Vec<String> = layout
                .solve(&inputs, Detail::Full)
                .solutions
                .into_iter()
                .map(|solution| {
                    let solved = Solved { inputs: inputs.clone(), solution };
                    let off = median(5, || {
                        black_box(if_off(*layout, black_box(&solved), false, &Steps::default()));
                    });
                    format!("{:.1}", off / 1000.0)
                })
                .collect();
            slowest = slowest.max(full);
            let cell = |t: Option<f64>| t.map_or("-".to_owned(), |t| format!("{t:.0}"));
            println!(
                "{:<16} {:<18} {full:>10.1} {answers:>10.1} {:>14} {:>14} {:>14}",
                layout.id(),
                form.id,
                cell(back),
                cell(near),
                off.join(" / ")
            );
        }
    }
    println!("slowest full solve: {slowest:.1} µs (the limit is 1000)");
    pieces();
}

/// One size of a piece changed on its screen, in a list that has it: its parts follow, and its answer is worked out.
fn pieces() {
    println!("\n{:<18} {:>10} {:>10} {:>12}", "pattern", "full µs", "parts", "an edit µs");
    let shop = Shop::default();
    for pattern in patterns::all() {
        let form = &pattern.forms[0];
        let inputs = form.start_inputs(false);
        let full = median(51, || {
            black_box(pattern.solve(black_box(&inputs), Detail::Full));
        });
        let draft = Draft::fresh(&pattern.layout, form, shop.unit);
        let mut bench = Bench::default();
        bench.work.apply(WorkEdit::AddPiece { pattern: Some(draft.clone()) }, &shop);
        let parts = bench.work.parts.iter().map(|e| e.count).sum::<u32>();
        let edit = median(51, || {
            bench.put_followed(black_box(draft.clone()));
            black_box(answer(&draft, &shop));
        });
        println!("{:<18} {full:>10.1} {parts:>10} {edit:>12.1}", pattern.id);
    }
}

/// The first headline answer, a little off, by letting the likeliest input give.
fn target(
    layout: &'static dyn layouts::Layout,
    form: &'static layouts::Form,
    inputs: &offsquare_cuts::inputs::Inputs,
) -> Option<(Given, Target)> {
    let solution = layout.solve(inputs, Detail::Answers).solutions.into_iter().next()?;
    let path = solution.headline.first()?;
    let now = solution.answers.quantity(path)?;
    let value = match now {
        offsquare_units::Quantity::Angle(a) => a.0 + 0.25,
        offsquare_units::Quantity::Length(l) => l.0 * 1.01,
        _ => return None,
    };
    let give =
        form.gives.iter().find_map(|k| form.fields.iter().find(|f| f.key == *k)).or_else(|| {
            form.fields.iter().find(|f| matches!(f.kind, Kind::Length(_) | Kind::Angle(..)))
        })?;
    let given = Given { inputs: inputs.clone(), ..Given::default() };
    Some((given, Target { give, answer: (*path).to_owned(), value, metric: false, way: None }))
}

fn median(runs: usize, mut once: impl FnMut()) -> f64 {
    once();
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            once();
            start.elapsed().as_secs_f64() * 1e6
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}
