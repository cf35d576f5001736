//! The planner measured: `cargo bench -p offsquare-tests --bench boards [-- shop|packing] [jobs]`.

#[path = "../boards/jobs.rs"]
#[allow(dead_code)]
mod jobs;

use jobs::Group;
use offsquare_core::boards::{Answer, Instance, Planner, verify};
use std::collections::BTreeMap;
use std::time::Instant;

struct Run {
    name: String,
    ms: f64,
    /// When the price was proven.
    proven_ms: Option<f64>,
    gap: f64,
    price: f64,
    bound: f64,
    all: bool,
}

fn run(name: String, instance: &Instance) -> Run {
    let start = Instant::now();
    let mut planner = Planner::new(instance.clone());
    let mut proven_ms = None;
    loop {
        let progress = planner.step(1_000_000);
        if proven_ms.is_none() && progress.best.as_ref().is_some_and(|b| b.proven) {
            proven_ms = Some(start.elapsed().as_secs_f64() * 1e3);
        }
        if progress.done {
            break;
        }
    }
    let ms = start.elapsed().as_secs_f64() * 1e3;
    let Answer::Plan(plan) = planner.answer() else {
        panic!("{name}: {:?}", planner.answer());
    };
    verify(instance, &plan.boards).expect("a sound plan");
    Run {
        name,
        ms,
        proven_ms,
        gap: plan.price / plan.bound.max(1e-9) - 1.0,
        price: plan.price,
        bound: plan.bound,
        all: plan.proven_all,
    }
}

fn report(title: &str, runs: &[Run], within: f64) {
    let n = runs.len();
    if n == 0 {
        return;
    }
    let proven = runs.iter().filter(|r| r.proven_ms.is_some()).count();
    let quick = runs
        .iter()
        .filter(|r| r.proven_ms.is_some_and(|t| t <= within))
        .count();
    let all = runs.iter().filter(|r| r.all).count();
    let mut times: Vec<f64> = runs.iter().map(|r| r.ms).collect();
    times.sort_by(f64::total_cmp);
    let mut early: Vec<f64> = runs.iter().map(|r| r.proven_ms.unwrap_or(r.ms)).collect();
    early.sort_by(f64::total_cmp);
    let gap = runs.iter().map(|r| r.gap).fold(0.0, f64::max);
    let at = |list: &[f64], share: f64| list[((list.len() - 1) as f64 * share) as usize];
    println!(
        "{title:<18} {n:>4} jobs  proven {proven:>4} ({:>5.1} %), within {within} ms {quick:>4} ({:>5.1} %), all three {all:>4}  largest gap {:.2} %",
        100.0 * proven as f64 / n as f64,
        100.0 * quick as f64 / n as f64,
        100.0 * gap
    );
    println!(
        "{:<18} to the proof {:.1} / {:.1} / {:.1} ms, in all {:.1} / {:.1} / {:.1} ms (median / 95th / most)",
        "",
        at(&early, 0.5),
        at(&early, 0.95),
        at(&early, 1.0),
        at(&times, 0.5),
        at(&times, 0.95),
        at(&times, 1.0)
    );
    for r in runs.iter().filter(|r| r.proven_ms.is_none()) {
        println!(
            "    open: {} price {} bound {} gap {:.2} % {:.0} ms",
            r.name,
            r.price,
            r.bound,
            100.0 * r.gap,
            r.ms
        );
    }
}

fn main() {
    let args: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| !a.starts_with("--"))
        .collect();
    let what = args.first().map_or("all", String::as_str);
    let number = args.get(1).and_then(|n| n.parse().ok()).unwrap_or(500u64);
    if what == "all" || what == "shop" {
        let mut groups: BTreeMap<Group, Vec<Run>> = BTreeMap::new();
        let mut everything = Vec::new();
        for seed in 0..number {
            let (group, instance) = jobs::shop(seed);
            let result = run(format!("shop {seed}"), &instance);
            if result.ms > 400.0 {
                println!(
                    "    slow: shop {seed} {group:?} {:.0} ms, proven after {:?}",
                    result.ms, result.proven_ms
                );
            }
            groups.entry(group).or_default().push(result);
        }
        for (group, runs) in groups {
            report(&format!("{group:?}"), &runs, 100.0);
            everything.extend(runs);
        }
        report("shop, all", &everything, 100.0);
    }
    if what == "all" || what == "packing" {
        let few = 20;
        for n in [120, 250, 500, 1000] {
            let runs: Vec<Run> = (0..few)
                .map(|s| run(format!("u{n} {s}"), &jobs::uniform(n, s)))
                .collect();
            report(&format!("uniform {n}"), &runs, 1000.0);
        }
        for n in [60, 120, 249, 501] {
            let runs: Vec<Run> = (0..few)
                .map(|s| run(format!("t{n} {s}"), &jobs::triplets(n, s)))
                .collect();
            report(&format!("triplets {n}"), &runs, 1000.0);
        }
        let runs: Vec<Run> = (0..3)
            .map(|s| run(format!("tiny {s}"), &jobs::tiny(5000, s, s == 1)))
            .collect();
        report("5,000 tiny", &runs, 2000.0);
    }
}
