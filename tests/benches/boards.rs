//! The planner measured: `cargo bench -p offsquare-tests --bench boards [-- shop|packing|mip] [jobs]`;
//! `… -- sets DIR` reads published bin-packing sets (`cargo xtask bench --sets DIR`).
//!
//! Times are the thread's own processor time where the system tells it (Linux), so that a busy machine
//! does not count against the planner.
//!
//! Measured on a quiet two-core machine, processor time, seeds 0–499 of `tests/boards/jobs.rs`
//! (`cargo xtask bench`; `cargo bench -p offsquare-tests --bench boards`):
//!
//! | group | jobs | proven | within 100 ms | largest gap | to the proof, median / 95th / most, ms |
//! |---|---|---|---|---|---|
//! | square | 142 | 100 % | 100 % | 0 | 0 / 8 / 24 |
//! | square, owned boards | 41 | 100 % | 100 % | 0 | 0 / 8 / 12 |
//! | square, zero waste | 58 | 100 % | 100 % | 0 | 4 / 8 / 12 |
//! | mitered | 144 | 100 % | 97.2 % | 0 | 8 / 84 / 224 |
//! | mitered, owned boards | 56 | 100 % | 98.2 % | 0 | 4 / 84 / 112 |
//! | mitered, zero waste | 59 | 100 % | 100 % | 0 | 4 / 20 / 80 |
//! | all | 500 | 100 % | 99.0 % | 0 | 4 / 60 / 224 |
//!
//! Seeds 500–999, which nothing was tuned on: 99.4 % proven, 98.2 % within 100 ms; 674, 706 and 819 stay open (5.1 % at most).
//! Uniform 120–1,000 and triplets 60–501, twenty each: all proven (triplets 501 in at most 0.7 s, 249 in 0.4 s, the others in
//! 0.1 s). 5,000 tiny parts: 0.1 s to the proof, 0.3 s in all. Peak memory: 13 MB of the shop jobs, 65 MB of the sets. HiGHS alone
//! (patterns listed for it) takes 38 times as long as the planner in the middle case of the 44 in `tests/boards/table.json`.

#[path = "../boards/jobs.rs"]
#[allow(dead_code)]
mod jobs;

use jobs::Group;
use offsquare_door::plan::read;
use offsquare_planner::{Instance, PlanAnswer, Planner, plain, verify};
use std::collections::BTreeMap;
use std::time::Instant;

/// Milliseconds of this thread's processor time, or of the clock.
struct Watch {
    wall: Instant,
    begun: Option<f64>,
}

impl Watch {
    fn start() -> Watch {
        Watch { wall: Instant::now(), begun: Watch::processor() }
    }
    fn processor() -> Option<f64> {
        let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
        Some(text.split(' ').next()?.parse::<f64>().ok()? / 1e6)
    }
    fn ms(&self) -> f64 {
        match (self.begun, Watch::processor()) {
            (Some(begun), Some(now)) => now - begun,
            _ => self.wall.elapsed().as_secs_f64() * 1e3,
        }
    }
}

struct Run {
    name: String,
    ms: f64,
    /// When the price was proven.
    proven_ms: Option<f64>,
    gap: f64,
    price: f64,
    bound: f64,
    all: bool,
    /// When there was a plan.
    first_ms: f64,
}

fn run(name: String, instance: &Instance) -> Run {
    let start = Watch::start();
    let mut planner = Planner::new(instance.clone());
    let mut proven_ms = None;
    let mut first_ms = None;
    loop {
        let progress = planner.step(1_000_000);
        if first_ms.is_none() && progress.best.is_some() {
            first_ms = Some(start.ms());
        }
        if proven_ms.is_none() && progress.best.as_ref().is_some_and(|b| b.proven) {
            proven_ms = Some(start.ms());
        }
        if progress.done {
            break;
        }
    }
    let ms = start.ms();
    let PlanAnswer::Plan(plan) = planner.answer() else {
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
        first_ms: first_ms.unwrap_or(ms),
    }
}

fn report(title: &str, runs: &[Run], within: f64) {
    let n = runs.len();
    if n == 0 {
        return;
    }
    let proven = runs.iter().filter(|r| r.proven_ms.is_some()).count();
    let quick = runs.iter().filter(|r| r.proven_ms.is_some_and(|t| t <= within)).count();
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
        "{:<18} first plan after {:.1} ms at most; to the proof {:.1} / {:.1} / {:.1} ms, in all {:.1} / {:.1} / {:.1} ms (median / 95th / most)",
        "",
        runs.iter().map(|r| r.first_ms).fold(0.0, f64::max),
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
    let args: Vec<String> = std::env::args().skip(1).filter(|a| !a.starts_with("--")).collect();
    let what = args.first().map_or("all", String::as_str);
    let number = args.get(1).and_then(|n| n.parse().ok()).unwrap_or(500u64);
    if what == "all" || what == "shop" {
        let mut groups: BTreeMap<Group, Vec<Run>> = BTreeMap::new();
        let mut everything = Vec::new();
        let (mut nested, mut blanks, mut dearer) = (0.0, 0.0, 0);
        for seed in 0..number {
            let (group, instance) = jobs::shop(seed);
            let result = run(format!("shop {seed}"), &instance);
            if group >= Group::Mitered
                && seed % 5 == 0
                && let PlanAnswer::Plan(square) = plain(&instance)
            {
                nested += result.price;
                blanks += square.price;
                dearer += u32::from(result.price > square.price + 1e-6);
            }
            groups.entry(group).or_default().push(result);
        }
        for (group, runs) in groups {
            report(&format!("{group:?}"), &runs, 100.0);
            everything.extend(runs);
        }
        report("shop, all", &everything, 100.0);
        println!(
            "every fifth mitered job: nested {nested:.2}, as square blanks {blanks:.2} ({:.1} % saved), dearer nested: {dearer}",
            100.0 * (1.0 - nested / f64::max(blanks, 1e-9))
        );
    }
    if what == "all" || what == "packing" {
        let few = 20;
        for n in [120, 250, 500, 1000] {
            let runs: Vec<Run> =
                (0..few).map(|s| run(format!("u{n} {s}"), &jobs::uniform(n, s))).collect();
            report(&format!("uniform {n}"), &runs, 1000.0);
        }
        for n in [60, 120, 249, 501] {
            let runs: Vec<Run> =
                (0..few).map(|s| run(format!("t{n} {s}"), &jobs::triplets(n, s))).collect();
            report(&format!("triplets {n}"), &runs, 1000.0);
        }
        for n in [60, 120, 250, 500] {
            let runs: Vec<Run> =
                (0..few).map(|s| run(format!("h{n} {s}"), &jobs::thirds(n, s))).collect();
            report(&format!("sixths to halves {n}"), &runs, 2000.0);
        }
        for times in [1, 3, 10] {
            let runs: Vec<Run> =
                (0..few).map(|s| run(format!("g{times} {s}"), &jobs::gaps(times, s))).collect();
            report(&format!("gaps {}", 11 * times), &runs, 2000.0);
        }
        let runs: Vec<Run> =
            (0..3).map(|s| run(format!("tiny {s}"), &jobs::tiny(5000, s, s == 1))).collect();
        report("5,000 tiny", &runs, 2000.0);
    }
    if what == "all" || what == "mip" {
        against_mip();
    }
    if what == "sets" {
        sets(std::path::Path::new(args.get(1).map_or(".", String::as_str)));
    }
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    if let Some(peak) = status.lines().find(|l| l.starts_with("VmHWM")) {
        println!("peak memory of this run: {}", peak[6..].trim());
    }
}

/// Every set below a folder, folder by folder.
fn sets(folder: &std::path::Path) {
    let entries = std::fs::read_dir(folder).expect("a folder of sets");
    let mut paths: Vec<_> = entries.flatten().map(|e| e.path()).collect();
    paths.sort();
    let mut runs = Vec::new();
    for path in &paths {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() {
            sets(path);
        } else if let Some(job) = std::fs::read_to_string(path).ok().and_then(|t| jobs::set(&t)) {
            runs.push(run(name, &job));
        }
    }
    report(&folder.file_name().unwrap_or_default().to_string_lossy(), &runs, 2000.0);
}

/// Ours against a general-purpose MIP solver on the same instances, both to the proven least price.
fn against_mip() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/oracles/plans");
    let Ok(python) = std::env::var("OFFSQUARE_MIP_PYTHON") else {
        println!(
            "MIP solver: OFFSQUARE_MIP_PYTHON is not set (cargo xtask bench sets it), not timed"
        );
        return;
    };
    let output =
        std::process::Command::new(python).args(["make.py", "--time"]).current_dir(folder).output();
    let Some(theirs) = output.ok().and_then(|o| {
        let text = String::from_utf8_lossy(&o.stdout).into_owned();
        serde_json::from_str::<Vec<[f64; 2]>>(text.lines().last()?).ok()
    }) else {
        println!("MIP solver: it did not run, not timed");
        return;
    };
    let table: Vec<serde_json::Value> =
        serde_json::from_str(include_str!("../boards/table.json")).expect("a table");
    let mut ratios = Vec::new();
    let (mut ours_sum, mut solver_sum, mut all_sum) = (0.0, 0.0, 0.0);
    for (case, &[solver, all]) in table.iter().zip(&theirs) {
        let instance = read(&case["instance"]).expect("an instance");
        // Repeated for as long as the watch needs to tell it.
        let watch = Watch::start();
        let mut times = 0;
        while times < 5 || watch.ms() < 40.0 {
            times += 1;
            let mut planner = Planner::new(instance.clone());
            loop {
                let progress = planner.step(200_000);
                if progress.done || progress.best.is_some_and(|b| b.proven) {
                    break;
                }
            }
        }
        let ours = watch.ms() / f64::from(times);
        ours_sum += ours;
        solver_sum += solver * 1e3;
        all_sum += all * 1e3;
        // An infeasible job can be seen without the solver.
        if solver > 0.0 {
            ratios.push(solver * 1e3 / ours.max(1e-3));
        }
    }
    ratios.sort_by(f64::total_cmp);
    println!(
        "MIP solver (HiGHS over listed patterns), {} table instances to the proven price: {solver_sum:.0} ms ({all_sum:.0} ms with the listing) against our {ours_sum:.1} ms; the solver alone takes {:.1} times as long in the middle case, from {:.1} to {:.1}",
        table.len(),
        ratios[ratios.len() / 2],
        ratios[0],
        ratios[ratios.len() - 1]
    );
}
