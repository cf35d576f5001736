//! The planner of strips and sheets measured: `cargo bench -p offsquare-tests --bench rectangles [-- jobs]`.
//!
//! Times are the thread's own processor time where the system tells it (Linux).

#[path = "../boards/jobs.rs"]
#[allow(dead_code)]
mod jobs;

use jobs::Dice;
use offsquare_planner::guillotine::{
    BoardKind, CutKind, Instance, PartKind, PlanAnswer, Planner, verify_plan,
};

/// A shop's job: boards of one width in two to four lengths, or sheets whole and halved; by seed.
fn shop(cut: CutKind, seed: u64, parts: (u64, u64), kinds: (u64, u64)) -> Instance {
    let mut dice = Dice(seed.wrapping_mul(0x9E6C_63D0_876A_3F6B) ^ 0x5EE7);
    let mut boards = Vec::new();
    let (length, width) = match cut {
        CutKind::Strips => {
            let width = [3.5, 5.5, 7.25, 11.25][dice.between(0, 3) as usize];
            let mut lengths = [72.0, 96.0, 120.0, 144.0];
            dice.shuffle(&mut lengths);
            let foot = 0.2 * width * (0.8 + 0.4 * dice.unit());
            for length in &lengths[..dice.between(2, 4) as usize] {
                let cents = foot * length / 12.0 * (0.85 + 0.3 * dice.unit()) * 100.0;
                let id = length.to_string();
                boards.push(BoardKind::unlimited(&id, *length, width, cents.round()));
            }
            (60.0, width)
        }
        CutKind::Sheets => {
            let whole = 5000.0 + 3000.0 * dice.unit();
            boards.push(BoardKind::unlimited("whole", 96.0, 48.0, whole.round()));
            if dice.chance(0.6) {
                let price = whole * (0.53 + 0.1 * dice.unit());
                boards.push(BoardKind::unlimited("half", 48.0, 48.0, price.round()));
            }
            if dice.chance(0.3) {
                let price = whole * (0.28 + 0.06 * dice.unit());
                boards.push(BoardKind::unlimited("quarter", 48.0, 24.0, price.round()));
            }
            (44.0, 23.0)
        }
    };
    if dice.chance(0.2) {
        let (l, w) = match cut {
            CutKind::Strips => (dice.between(30, 60) as f64, width),
            CutKind::Sheets => (dice.between(20, 60) as f64, dice.between(12, 40) as f64),
        };
        boards.push(BoardKind::owned("own", l, w, dice.between(1, 3)));
    }
    let (mut left, mut kinds) = (dice.between(parts.0, parts.1), dice.between(kinds.0, kinds.1));
    let mut list = Vec::new();
    while left > 0 && kinds > 0 {
        let qty = match kinds {
            1 => left,
            k => (dice.between(1, (2 * left / k).max(1))).min(left),
        };
        (left, kinds) = (left - qty, kinds - 1);
        let size = |low: f64, high: f64, dice: &mut Dice| {
            let inches = low * (high / low).powf(dice.unit());
            (inches * 16.0).round() / 16.0
        };
        let l = size(6.0, length, &mut dice);
        let w = match cut {
            CutKind::Strips if dice.chance(0.2) => width,
            CutKind::Strips => size(1.0, width - 0.5, &mut dice),
            CutKind::Sheets => size(3.0, width, &mut dice),
        };
        let id = format!("p{}", list.len());
        list.push(if cut == CutKind::Sheets && dice.chance(0.4) {
            PartKind::free(&id, qty, l, w)
        } else {
            PartKind::along(&id, qty, l, w)
        });
    }
    Instance { cut, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0, boards, parts: list }
}

fn processor() -> f64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let first = text.split(' ').next().and_then(|n| n.parse::<f64>().ok());
    first.map_or(0.0, |n| n / 1e6)
}

fn report(title: &str, jobs: impl Iterator<Item = Instance>, verbose: bool) {
    let (mut n, mut proven, mut gaps, mut worst) = (0, 0, 0.0, 0.0f64);
    let (mut times, mut units) = (Vec::new(), Vec::new());
    for job in jobs {
        let (begun, mut longest) = (processor(), 0.0f64);
        let mut planner = Planner::new(job.clone());
        let mut proof = None;
        loop {
            let before = processor();
            let p = planner.step(1);
            longest = longest.max(processor() - before);
            if proof.is_none() && p.best.as_ref().is_some_and(|b| b.proven) {
                proof = Some(processor() - begun);
            }
            if p.done {
                break;
            }
        }
        let all = processor() - begun;
        units.push(longest);
        let PlanAnswer::Plan(plan) = planner.answer() else {
            panic!("{:?}", planner.answer());
        };
        verify_plan(&job, &plan).expect("a sound plan");
        let gap = 100.0 * (plan.price / plan.bound - 1.0);
        n += 1;
        proven += usize::from(plan.proven);
        gaps += gap;
        worst = worst.max(gap);
        times.push(proof.unwrap_or(all));
        if verbose && !plan.proven {
            let parts: u64 = job.parts.iter().map(|p| p.qty).sum();
            println!(
                "    {} parts of {} kinds: {} bound {} gap {gap:.2} % {} boards, {all:.0} ms",
                parts,
                job.parts.len(),
                plan.price,
                plan.bound,
                plan.boards.len()
            );
        }
    }
    times.sort_by(f64::total_cmp);
    units.sort_by(f64::total_cmp);
    println!(
        "{title:<22} {n:>3} jobs  proven {proven:>3}  mean gap {:.2} %  worst {worst:.2} %  to the proof {:.0} / {:.0} ms (median / 95th), longest unit {:.0} / {:.0} ms (median / most)",
        gaps / n as f64,
        times[times.len() / 2],
        times[times.len() * 95 / 100],
        units[units.len() / 2],
        units[units.len() - 1]
    );
}

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let args: Vec<&String> = args.iter().filter(|a| !a.starts_with("--")).collect();
    let number = args.first().and_then(|n| n.parse().ok()).unwrap_or(30u64);
    let verbose = args.len() > 1;
    for (title, cut) in [("strips", CutKind::Strips), ("sheets", CutKind::Sheets)] {
        let small = (0..number).map(|s| shop(cut, s, (4, 60), (2, 12)));
        report(title, small, verbose);
        let large = (0..number.div_ceil(3)).map(|s| shop(cut, 9000 + s, (200, 200), (8, 20)));
        report(&format!("{title}, 200 parts"), large, verbose);
    }
}
