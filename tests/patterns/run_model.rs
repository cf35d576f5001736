//! A plain model of boards at the saw: every sentence that must hold of a run. It knows the request, the plan's
//! boards and the steps; it shares nothing with the program.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

const NEAR: f64 = 1e-6;

fn f(v: &Value) -> f64 {
    v.as_f64().unwrap_or_else(|| panic!("a number: {v}"))
}
fn s(v: &Value) -> &str {
    v.as_str().unwrap_or_else(|| panic!("a word: {v}"))
}
fn list(v: &Value) -> &Vec<Value> {
    v.as_array().unwrap_or_else(|| panic!("a list: {v}"))
}
fn deg(v: &Value, key: &str) -> f64 {
    v[key].as_f64().unwrap_or(0.0)
}
fn tan(degrees: f64) -> f64 {
    degrees.to_radians().tan()
}

type Single = (String, u64);
type BoardAt = (String, u64);

/// A line across a board: x at y = 0 and y = w on the seen face, and on the back.
#[derive(Clone, Copy, Debug)]
struct Line {
    seen: [f64; 2],
    back: [f64; 2],
}

impl Line {
    fn moved(self, by: f64) -> Line {
        Line { seen: self.seen.map(|x| x + by), back: self.back.map(|x| x + by) }
    }
    fn corners(self) -> [f64; 4] {
        [self.seen[0], self.seen[1], self.back[0], self.back[1]]
    }
    /// Nowhere left of the other.
    fn right_of(self, other: Line) -> bool {
        self.corners().iter().zip(other.corners()).all(|(a, b)| *a >= b - NEAR)
    }
}

/// What is known of a part while the steps are followed.
#[derive(Clone, Debug, Default)]
struct Known {
    board: Option<BoardAt>,
    /// Its faces on the board, left and right, each with the step that made it and its own end there.
    faces: [Option<(Line, usize, bool)>; 2],
    freed: Option<usize>,
}

struct Job<'a> {
    request: &'a Value,
    answer: &'a Value,
    hold: f64,
}

impl<'a> Job<'a> {
    fn part(&self, name: &str) -> &'a Value {
        list(&self.request["parts"]).iter().find(|p| p["name"] == name).expect("a part")
    }
    fn stock(&self, name: &str) -> &'a Value {
        &self.request["boards"][name]
    }
    fn width(&self, stock: &str) -> f64 {
        let own = list(&self.request["parts"]).iter().filter(|p| p["stock"] == stock);
        own.map(|p| f(&p["seen"])).fold(0.0, f64::max)
    }
    fn plan(&self, stock: &str) -> &'a Value {
        list(&self.answer["boards"]).iter().find(|b| b["stock"] == stock).expect("a plan")
    }
    fn board_length(&self, at: &BoardAt) -> f64 {
        let id = &list(&self.plan(&at.0)["boards"])[at.1 as usize]["board"];
        let kinds = list(&self.stock(&at.0)["boards"]);
        f(&kinds.iter().find(|k| k["id"] == *id).expect("a board")["length"])
    }
    fn steps(&self) -> &'a Vec<Value> {
        list(&self.answer["run"]["steps"])
    }
    fn set_up(&self, step: &Value) -> &'a Value {
        &self.answer["run"]["set_ups"][step["set_up"].as_u64().expect("a set-up") as usize]
    }
    fn board(&self, step: &Value) -> BoardAt {
        (s(&step["stock"]).to_owned(), step["board"].as_u64().expect("a board"))
    }
}

fn single(v: &Value) -> Single {
    (s(&v["part"]).to_owned(), v["nth"].as_u64().expect("a number"))
}

/// Where a step's saw passes on the board: what it is set to, turned back to how the board lay at the start. The
/// second is what its kerf takes along the board.
fn passes(job: &Job, step: &Value) -> (Line, f64) {
    let set_up = job.set_up(step);
    let stock = s(&step["stock"]);
    let (w, flipped) = (job.width(stock), step["flipped"] == true);
    let away =
        f(&list(&job.request["parts"]).iter().find(|p| p["stock"] == stock).unwrap()["away"]);
    let (m, b) = (f(&set_up["mitre_deg"]), f(&set_up["bevel_deg"]));
    assert!(m >= 0.0 && b >= 0.0);
    let sign = |word: &Value| match s(word) {
        "left" => 1.0,
        "right" => -1.0,
        _ => 0.0,
    };
    assert_eq!(m == 0.0, set_up["swing"] == "none");
    assert_eq!(b == 0.0, set_up["lean"] == "none");
    let turn = if flipped { -1.0 } else { 1.0 };
    let (near, far) = (f(&step["x_near"]), f(&step["x_far"]));
    // Swung left the far end lies right of the near one.
    let run = turn * sign(&set_up["swing"]) * w * tan(m);
    assert!((far - near - run).abs() < NEAR, "{step} {set_up}");
    // Leaning left the top of the blade, on the seen face, lies left of its foot.
    let up = -turn * sign(&set_up["lean"]) * away * tan(b) / m.to_radians().cos();
    let line = Line { seen: [near, far], back: [near - up, far - up] };
    let along = f(&job.stock(stock)["kerf"]) / (m.to_radians().cos() * b.to_radians().cos());
    (line, along)
}

/// The reach of a part's end from its mitre and bevel alone: how far each of the four corners stands back from the
/// furthest (near and far on the seen face, near and far on the back).
fn stands_back(end: &Value, w: f64, away: f64) -> [f64; 4] {
    let (m, b) = (deg(end, "mitre_deg"), deg(end, "bevel_deg"));
    let up = away * tan(b) / m.to_radians().cos();
    let raw = [0.0, w * tan(m), up, w * tan(m) + up];
    let least = raw.iter().copied().fold(f64::INFINITY, f64::min);
    raw.map(|x| x - least)
}

/// The four corners at an end of a part that lies turned and flipped so.
fn lying(back: [f64; 4], turned: bool, flipped: bool) -> [f64; 4] {
    let [mut a, mut b, mut c, mut d] = back;
    if turned != flipped {
        (a, b, c, d) = (b, a, d, c);
    }
    if flipped {
        (a, b, c, d) = (c, d, a, b);
    }
    [a, b, c, d]
}

/// Checks a run over planned boards; gives the visits of set-ups and how many set-ups there are.
pub fn check(request: &Value, answer: &Value) -> (usize, usize) {
    let hold = request["saw"]["hold_length"].as_f64().unwrap_or(match s(&request["unit"]) {
        "mm" => 200.0,
        _ => 8.0,
    });
    let job = Job { request, answer, hold };
    let known = follow(&job);
    rebuilt(&job, &known);
    kerfs(&job, &known);
    freed(&job, &known);
    holds(&job);
    stops(&job, &known);
    bench(&job, &known);
    alike(&job);
    changes(&job)
}

/// Follows the steps: every end at most once.
fn follow(job: &Job) -> BTreeMap<Single, Known> {
    let mut known: BTreeMap<Single, Known> = BTreeMap::new();
    for part in list(&job.request["parts"]) {
        let batch = job.request["price"]["batch"].as_u64().unwrap_or(1);
        for nth in 0..part["qty"].as_u64().unwrap() * batch {
            known.insert((s(&part["name"]).to_owned(), nth), Known::default());
        }
    }
    for (i, step) in job.steps().iter().enumerate().filter(|(_, s)| s["kind"] != "bench") {
        let (line, along) = passes(job, step);
        let finishes = list(&step["finishes"]);
        assert!((1..=2).contains(&finishes.len()));
        for (n, finish) in finishes.iter().enumerate() {
            let waste_right = step["waste_side"] == "right";
            // The first lies on the side of the kerf away from the waste, the second beyond the kerf.
            let on_left = waste_right == (n == 0);
            let by = if waste_right { along } else { -along };
            let face = if n == 0 { line } else { line.moved(by) };
            let part = known.get_mut(&single(finish)).expect("a part that is asked for");
            let board = job.board(step);
            assert_eq!(part.board.get_or_insert(board.clone()), &board);
            let end = usize::from(on_left);
            assert!(part.faces[end].is_none(), "finished twice: {finish}");
            part.faces[end] = Some((face, i, finish["end"] == "left"));
        }
        for free in list(&step["frees"]) {
            let part = known.get_mut(&single(free)).unwrap();
            assert!(part.freed.replace(i).is_none());
        }
    }
    known
}

/// Between its faces each part has its own length and ends; an end without a face lies on an untrimmed board's.
fn rebuilt(job: &Job, known: &BTreeMap<Single, Known>) {
    for ((name, nth), own) in known {
        let part = job.part(name);
        let (w, away, length) = (f(&part["seen"]), f(&part["away"]), f(&part["length"]));
        let Some(board) = &own.board else {
            // The whole board as it is.
            assert!(own.faces.iter().all(Option::is_none));
            continue;
        };
        let turned = match &own.faces {
            [Some((_, _, left)), _] => !left,
            [_, Some((_, _, left))] => *left,
            _ => unreachable!(),
        };
        if let [Some((_, _, a)), Some((_, _, b))] = &own.faces {
            assert_ne!(a, b, "{name} {nth}: one end twice");
        }
        let ends = if turned { ["right", "left"] } else { ["left", "right"] };
        let fits = [false, true].into_iter().any(|flipped| {
            let mut tips = [0.0; 2];
            for side in 0..2 {
                let end = &part[ends[side]];
                let back = lying(stands_back(end, w, away), turned, flipped);
                let outward = if side == 0 { -1.0 } else { 1.0 };
                let Some((face, ..)) = &own.faces[side] else {
                    let end_of = [0.0, job.board_length(board)][side];
                    let square = back.iter().all(|x| *x == 0.0);
                    let pointed = !part["pointed"][ends[side]].is_null();
                    let trim = job.stock(&board.0)["trim"].as_f64().unwrap_or(0.0);
                    assert!(square && !pointed && trim == 0.0, "{name} {nth} is not finished");
                    tips[side] = end_of;
                    continue;
                };
                let reach = face.corners().map(|x| outward * x);
                let tip = reach.into_iter().fold(f64::NEG_INFINITY, f64::max);
                if reach.iter().zip(back).any(|(x, b)| (tip - x - b).abs() > NEAR) {
                    return false;
                }
                // A point stands in the middle of the width; the second cut takes what is beyond.
                let middle = (face.seen[0] + face.seen[1]) / 2.0;
                let pointed = !part["pointed"][ends[side]].is_null();
                tips[side] = if pointed { middle } else { outward * tip };
            }
            (tips[1] - tips[0] - length).abs() < NEAR
        });
        assert!(fits, "{name} {nth}: {own:?}\n{part}");
    }
}

/// No kerf enters a part.
fn kerfs(job: &Job, known: &BTreeMap<Single, Known>) {
    for step in job.steps().iter().filter(|s| s["kind"] != "bench") {
        let (line, along) = passes(job, step);
        let other = line.moved(if step["waste_side"] == "right" { along } else { -along });
        let (left, right) =
            if step["waste_side"] == "right" { (line, other) } else { (other, line) };
        let board = job.board(step);
        for (single, own) in known.iter().filter(|(_, k)| k.board.as_ref() == Some(&board)) {
            let [start, end] = &own.faces;
            let after = start.is_some_and(|(face, ..)| face.right_of(right));
            let before = end.is_some_and(|(face, ..)| left.right_of(face));
            assert!(after || before, "a kerf enters {single:?}: {step}");
        }
    }
}

/// Freed by the later of its cuts; of one board and one set-up no longer one before a shorter one.
fn freed(job: &Job, known: &BTreeMap<Single, Known>) {
    for (single, own) in known {
        let later = own.faces.iter().flatten().map(|(_, step, _)| *step).max();
        assert_eq!(own.freed, later, "{single:?}");
    }
    let mut longest: BTreeMap<(BoardAt, u64), f64> = BTreeMap::new();
    for step in job.steps().iter().filter(|s| s["kind"] != "bench") {
        let lengths: Vec<f64> =
            list(&step["frees"]).iter().map(|p| f(&job.part(s(&p["part"]))["length"])).collect();
        let key = (job.board(step), step["set_up"].as_u64().unwrap());
        let before = longest.get(&key).copied().unwrap_or(0.0);
        assert!(lengths.iter().all(|l| *l >= before - NEAR), "{before} before {lengths:?}: {step}");
        longest.insert(key, lengths.iter().copied().fold(before, f64::max));
    }
}

/// What is held, from the cuts made before; a caution where that is too little; the stop on that side.
fn holds(job: &Job) {
    let mut made: BTreeMap<BoardAt, Vec<(f64, f64, f64, f64)>> = BTreeMap::new();
    for step in job.steps().iter().filter(|s| s["kind"] != "bench") {
        let (line, along) = passes(job, step);
        let start = if step["waste_side"] == "right" { line } else { line.moved(-along) };
        let at = usize::from(step["flipped"] == false);
        let board = job.board(step);
        let whole = job.board_length(&board);
        let (from, to) = (start.seen[at], start.seen[at] + along);
        // Cuts do not cross inside the board: those further left are so throughout.
        let mid: f64 = start.corners().into_iter().sum();
        let cuts = made.entry(board).or_default();
        let edge = |c: &(f64, f64, f64, f64)| if at == 0 { c.0 } else { c.1 };
        let left = cuts.iter().filter(|c| c.2 < mid).map(|c| edge(c) + c.3).fold(0.0, f64::max);
        let right = cuts.iter().filter(|c| c.2 > mid).map(edge).fold(whole, f64::min);
        let held = f(&step["held"]);
        let is = if step["held_side"] == "left" { from - left } else { right - to };
        assert!((is.max(0.0) - held).abs() < NEAR, "{is} {step}");
        if held < job.hold - NEAR {
            assert!(!list(&step["cautions"]).is_empty(), "{step}");
        }
        let stop = &job.set_up(step)["stop"];
        if !stop.is_null() {
            assert_eq!(stop["side"], step["held_side"]);
        }
        cuts.push((start.seen[0], start.seen[1], mid, along));
    }
}

/// Stops: where a length is cut three times; where they stand a finished end touches, and the part comes out.
fn stops(job: &Job, known: &BTreeMap<Single, Known>) {
    let mut by_mark: BTreeMap<(u64, i64), usize> = BTreeMap::new();
    for (i, step) in job.steps().iter().enumerate().filter(|(_, s)| s["kind"] != "bench") {
        let set_up = job.set_up(step);
        let (line, along) = passes(job, step);
        let flipped = step["flipped"] == true;
        if set_up["stop"].is_null() {
            for p in list(&step["frees"]) {
                let length = f(&job.part(s(&p["part"]))["length"]);
                let key = (step["set_up"].as_u64().unwrap(), (length * 1e4).round() as i64);
                *by_mark.entry(key).or_default() += usize::from(length >= job.hold);
            }
            continue;
        }
        let left = set_up["stop"]["side"] == "left";
        // On the table lies the back, or rolled over the seen face with the near edge at the fence.
        let table = if flipped { line.seen[0] } else { line.back[1] };
        let side = if (step["waste_side"] == "right") == left {
            table
        } else if left {
            table - along
        } else {
            table + along
        };
        let touches = list(&step["frees"]).iter().any(|p| {
            let own = &known[&single(p)];
            let board = own.board.clone().unwrap();
            let tip = match (&own.faces[usize::from(!left)], left) {
                (Some((face, made, _)), _) if *made < i => {
                    let corners = face.corners();
                    let most = |a: f64, b: f64| if left { a.min(b) } else { a.max(b) };
                    corners.into_iter().reduce(most).unwrap()
                }
                (None, true) => 0.0,
                (None, false) => job.board_length(&board),
                _ => return false,
            };
            ((side - tip).abs() - f(&set_up["stop"]["at"])).abs() < NEAR
        });
        assert!(touches, "{step} {set_up}");
    }
    assert!(by_mark.values().all(|n| *n < 3), "{by_mark:?} {}", job.request);
}

/// Work at the bench follows the cuts of its part.
fn bench(job: &Job, known: &BTreeMap<Single, Known>) {
    let mut seconds = BTreeSet::new();
    for (i, step) in job.steps().iter().enumerate().filter(|(_, s)| s["kind"] == "bench") {
        assert!(step["set_up"].is_null());
        let own = single(step);
        assert!(known[&own].freed.is_none_or(|at| at < i));
        assert_eq!(step["what"], "second_cut");
        let pointed = ["left", "right"].map(|e| !job.part(&own.0)["pointed"][e].is_null());
        let count = pointed.into_iter().filter(|p| *p).count();
        assert_eq!(step["of"].as_u64(), Some(count as u64));
        assert!(seconds.insert(own));
    }
    for own in known.keys() {
        assert_eq!(seconds.contains(own), !job.part(&own.0)["pointed"].is_null(), "{own:?}");
    }
}

/// Boards that are said to be alike have the same steps.
fn alike(job: &Job) {
    let of = |stock: &str, board: u64| -> Vec<Value> {
        let own = job.steps().iter().filter(|s| {
            s["kind"] != "bench" && s["stock"] == stock && s["board"].as_u64() == Some(board)
        });
        own.map(|s| {
            let mut s = s.clone();
            s["board"] = 0.into();
            for key in ["finishes", "frees"] {
                s[key].as_array_mut().unwrap().iter_mut().for_each(|p| p["nth"] = 0.into());
            }
            s
        })
        .collect()
    };
    for (stock, groups) in job.answer["run"]["alike"].as_object().expect("alike") {
        for group in list(groups) {
            let all: Vec<Vec<Value>> =
                list(group).iter().map(|b| of(stock, b.as_u64().unwrap())).collect();
            assert!(all.windows(2).all(|p| p[0] == p[1]), "{stock} {group}");
        }
    }
}

/// Visits of set-ups, and how many different ones there are: no run has fewer. No two neighbors on different
/// boards, changed over, save one; each set-up is listed once and used.
fn changes(job: &Job) -> (usize, usize) {
    let set_ups = list(&job.answer["run"]["set_ups"]);
    for (i, a) in set_ups.iter().enumerate() {
        let same = |b: &Value| {
            let keys = ["mitre_deg", "swing", "bevel_deg", "lean", "stop"];
            keys.iter().all(|k| a[*k] == b[*k])
        };
        assert!(!set_ups[..i].iter().any(same), "twice: {a}");
        for key in ["mitre_deg", "bevel_deg"] {
            assert!(!a["shown"][key].is_null() || a["remedy"].is_string(), "{a}");
        }
    }
    let cuts: Vec<&Value> = job.steps().iter().filter(|s| s["kind"] != "bench").collect();
    let used: BTreeSet<u64> = cuts.iter().map(|s| s["set_up"].as_u64().unwrap()).collect();
    assert_eq!(used.len(), set_ups.len());
    let count =
        |order: &[&Value]| order.windows(2).filter(|p| p[0]["set_up"] != p[1]["set_up"]).count();
    for i in 1..cuts.len() {
        if job.board(cuts[i - 1]) != job.board(cuts[i]) {
            let (from, to) = (i.saturating_sub(2), (i + 2).min(cuts.len()));
            let mut swapped = cuts[from..to].to_vec();
            swapped.swap(i - 1 - from, i - from);
            assert!(count(&swapped) >= count(&cuts[from..to]), "{} {}", cuts[i - 1], cuts[i]);
        }
    }
    (if cuts.is_empty() { 0 } else { 1 + count(&cuts) }, set_ups.len())
}
