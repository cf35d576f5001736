//! The seeded jobs, one by one, as the page asks for them.

use super::figures::{at, private, processor, three, worker_thread};
use super::jobs::{self, Group};
use offsquare_planner::message::{About, Ask, Asked, Message, News};
use offsquare_planner::{Instance, Planner};
use offsquare_tests::driver::Browser;
use offsquare_tests::site::{Files, Site};
use offsquare_units::kept::Kept;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::time::Instant;

const WITHIN: f64 = 300.0;

struct Seen {
    name: String,
    proven: bool,
    gap: f64,
    /// Milliseconds: the thread's processor time, in the worker, as heard on the page, and natively.
    processor: f64,
    busy: f64,
    heard: f64,
    native: f64,
    longest: f64,
    wasm: f64,
}

pub fn run(files: &Files, number: u64) {
    let browser = Browser::start();
    let site = Site::serve(files.clone(), "");
    browser.go(&site.address);
    let bench = Bed::start(&browser);
    let empty = bench.thread.as_deref().and_then(private);

    let mut groups: BTreeMap<Group, Vec<Seen>> = BTreeMap::new();
    for seed in 0..number {
        let (group, job) = jobs::shop(seed);
        groups.entry(group).or_default().push(bench.job(format!("shop {seed}"), &job));
    }
    println!(
        "proven within {WITHIN} ms by processor / in the worker / heard; then to the proof, median / 95th / most in ms"
    );
    let mut all = Vec::new();
    for (group, seen) in groups {
        report(&format!("{group:?}"), &seen);
        all.extend(seen);
    }
    report("shop, all", &all);
    /// Its name, how many, and the one of a seed.
    type Set = (&'static str, u64, fn(u64) -> Instance);
    let sets: [Set; 3] = [
        ("uniform 120", 20, |s| jobs::uniform(120, s)),
        ("triplets 60", 20, |s| jobs::triplets(60, s)),
        ("5,000 tiny", 3, |s| jobs::tiny(5000, s, s == 1)),
    ];
    for (name, few, make) in sets {
        let seen: Vec<Seen> =
            (0..few).map(|s| bench.job(format!("{name} {s}"), &make(s))).collect();
        report(name, &seen);
        all.extend(seen);
    }
    let ratio = |of: fn(&Seen) -> f64| {
        let long: Vec<f64> =
            all.iter().filter(|s| s.native > 5.0).map(|s| of(s) / s.native).collect();
        at(&long, 0.5)
    };
    println!(
        "against native in the same run, jobs above 5 ms, median: processor {:.2} times, in the worker {:.2}, heard {:.2}",
        ratio(|s| s.processor),
        ratio(|s| s.busy),
        ratio(|s| s.heard)
    );
    let most = |of: fn(&Seen) -> f64| all.iter().map(of).fold(0.0, f64::max);
    println!(
        "longest stretch without listening {:.0} ms; wasm memory of the worker {:.1} MB; process of page and worker {:.1} MB before, {:.1} MB after all of it",
        most(|s| s.longest),
        most(|s| s.wasm),
        empty.unwrap_or(f64::NAN),
        bench.thread.as_deref().and_then(private).unwrap_or(f64::NAN)
    );
    cold(&bench, &all);
    stops(&bench, &all);
}

fn report(title: &str, seen: &[Seen]) {
    let n = seen.len() as f64;
    let within = |of: fn(&Seen) -> f64| {
        100.0 * seen.iter().filter(|s| s.proven && of(s) <= WITHIN).count() as f64 / n
    };
    let list = |of: fn(&Seen) -> f64| seen.iter().map(of).collect::<Vec<f64>>();
    println!(
        "{title:<18} {:>4} jobs  proven {:>5.1} %, within {:>5.1} / {:>5.1} / {:>5.1} %  largest gap {:.2} %  processor {}, in the worker {}, heard {}",
        seen.len(),
        100.0 * seen.iter().filter(|s| s.proven).count() as f64 / n,
        within(|s| s.processor),
        within(|s| s.busy),
        within(|s| s.heard),
        100.0 * seen.iter().map(|s| s.gap).fold(0.0, f64::max),
        three(&list(|s| s.processor)),
        three(&list(|s| s.busy)),
        three(&list(|s| s.heard)),
    );
    for s in seen.iter().filter(|s| !s.proven) {
        println!("    open: {} gap {:.2} % after {:.0} ms", s.name, 100.0 * s.gap, s.busy);
    }
}

/// A page with one worker that tells its times.
struct Bed<'b> {
    browser: &'b Browser,
    thread: Option<PathBuf>,
}

impl Bed<'_> {
    fn start(browser: &Browser) -> Bed<'_> {
        browser.wait_for(
            "window.said = []; \
             window.bench = new Worker('watched.js', {type: 'module'}); \
             await new Promise(ready => { bench.onmessage = e => { \
               if (e.data.said === 'ready') ready(); \
               e.data.got = performance.timeOrigin + performance.now(); said.push(e.data); \
               if (e.data.settled) window.settled?.(); }; });",
            &[],
        );
        Bed { browser, thread: browser.process().and_then(worker_thread) }
    }

    /// Asks for a plan and waits for the proof.
    fn job(&self, name: String, job: &Instance) -> Seen {
        let native = natively(job);
        let clock = || self.thread.as_deref().and_then(processor);
        let before = clock();
        let said = self.browser.wait_for(
            "said.length = 0; const from = performance.timeOrigin + performance.now(); \
             const end = new Promise(r => { window.settled = r; }); \
             bench.postMessage(args[0]); await end; const m = said.at(-1); \
             return {said: m.said, busy: m.busy, longest: m.longest, wasm: m.wasm, heard: m.got - from};",
            &[request(job)],
        );
        let Some(Message { about: About::Job { news: News::Plan { plan, .. }, .. }, .. }) =
            Message::restore(&said["said"])
        else {
            panic!("{name}: no plan but {said}");
        };
        let number = |key: &str| said[key].as_f64().expect("a number");
        Seen {
            name,
            proven: plan.proven,
            gap: plan.price / plan.bound.max(1e-9) - 1.0,
            processor: before.zip(clock()).map_or(f64::NAN, |(b, a)| a - b),
            busy: number("busy"),
            heard: number("heard"),
            native,
            longest: number("longest"),
            wasm: number("wasm") / 1048576.0,
        }
    }
}

/// The request that the app would send.
fn request(job: &Instance) -> Value {
    let asked = Asked {
        rest: job.clone(),
        shorter: vec![(0.0, 0.0); job.parts.len()],
        narrower: Vec::new(),
    };
    let (one_sticks, one_rectangles) = (Vec::new(), Vec::new());
    Ask { id: 1, curve: 0, sticks: vec![asked], rectangles: Vec::new(), one_sticks, one_rectangles }
        .keep()
}

/// Milliseconds to the proof (or to the end) in this program.
fn natively(job: &Instance) -> f64 {
    let thread = PathBuf::from("/proc/thread-self");
    let (before, wall) = (processor(&thread), Instant::now());
    let mut planner = Planner::new(job.clone());
    loop {
        let progress = planner.step(30_000_000);
        if progress.done || progress.best.is_some_and(|b| b.proven) {
            break;
        }
    }
    before.zip(processor(&thread)).map_or(wall.elapsed().as_secs_f64() * 1e3, |(b, a)| a - b)
}

/// A worker's first job, while the browser has not yet compiled the wasm for speed.
fn cold(bench: &Bed, all: &[Seen]) {
    let (mut ratios, mut busy) = (Vec::new(), Vec::new());
    // Jobs of middling length: every seventh of those above 30 ms.
    for seen in
        all.iter().filter(|s| s.busy > 30.0 && s.name.starts_with("shop")).step_by(7).take(10)
    {
        let seed = seen.name[5..].parse().expect("a seed");
        bench.browser.run("bench.terminate();");
        let fresh = Bed::start(bench.browser);
        let first = fresh.job(seen.name.clone(), &jobs::shop(seed).1);
        ratios.push(first.processor / seen.processor);
        busy.push(first.busy);
    }
    println!(
        "a worker's first job: {:.2} times the processor time of a later one (median of {}), {} ms in the worker",
        at(&ratios, 0.5),
        ratios.len(),
        three(&busy)
    );
}

/// From *Stop* on the page until the worker hears it, at odd moments of long jobs, and its last message.
fn stops(bench: &Bed, all: &[Seen]) {
    bench.browser.run("bench.terminate();");
    let fresh = Bed::start(bench.browser);
    fresh.browser.run("bench.postMessage({proof: false});");
    let mut long: Vec<&Seen> = all.iter().filter(|s| s.name.starts_with("shop")).collect();
    long.sort_by(|a, b| b.busy.total_cmp(&a.busy));
    let (mut heard, mut last) = (Vec::new(), Vec::new());
    for (n, seen) in long.iter().take(20).enumerate() {
        let seed = seen.name[5..].parse().expect("a seed");
        for wait in [37, 150, 420] {
            let said = fresh.browser.wait_for(
                "said.length = 0; bench.postMessage(args[0]); \
                 await new Promise(r => setTimeout(r, args[1])); \
                 const pressed = performance.timeOrigin + performance.now(); bench.postMessage(null); \
                 while (!said.some(m => m.heard === 'stop')) await new Promise(r => setTimeout(r, 5)); \
                 await new Promise(r => setTimeout(r, 30)); \
                 const plans = said.filter(m => m.said && m.got > pressed); \
                 return [said.find(m => m.heard === 'stop').at - pressed, \
                   plans.length ? plans.at(-1).got - pressed : 0];",
                &[request(&jobs::shop(seed).1), json!(wait + n)],
            );
            let number = |v: &Value| v.as_f64().expect("a time");
            heard.push(number(&said[0]));
            last.push(number(&said[1]));
        }
    }
    println!(
        "Stop in the {} longest jobs: heard after {} ms, last message after {} ms (0: none came)",
        heard.len(),
        three(&heard),
        three(&last)
    );
}
