//! An exhaustive planner, written from the definition alone, against the real one.
//!
//! It knows corners, not angles' rules: each piece as it may lie has a left and a right end, each end a
//! place at edge A and edge B. All pieces are told apart; every way of sharing them among boards and every
//! sequence on every board is gone through.

use crate::jobs::Dice;
use offsquare_planner::{BoardKind, Instance, PartKind, PlanAnswer, plan, verify};

/// A piece as it lies: how far each end stands back from the extent at edge A and B, and the kerf
/// along the board at each end.
#[derive(Clone, Copy)]
struct Lie {
    left: [f64; 2],
    right: [f64; 2],
    kerf: [f64; 2],
}

struct Piece {
    length: f64,
    lies: Vec<Lie>,
}

fn pieces(job: &Instance) -> Vec<Piece> {
    let back = |angle: f64| {
        let skew = job.width * angle.to_radians().tan();
        // Positive: edge A reaches further, so edge B stands back.
        [(-skew).max(0.0), skew.max(0.0)]
    };
    let mut all = Vec::new();
    for part in &job.parts {
        let (l, r) = (part.left, part.right);
        let mut ways = vec![(l, r), (-r, -l)];
        if !part.one_good_face {
            ways.extend([(-l, -r), (r, l)]);
        }
        let lies: Vec<Lie> = ways
            .iter()
            .map(|&(l, r)| Lie {
                left: back(l),
                right: back(r),
                kerf: [l, r].map(|a| job.kerf / a.to_radians().cos()),
            })
            .collect();
        for _ in 0..part.qty {
            all.push(Piece { length: part.length, lies: lies.clone() });
        }
    }
    all
}

/// For a set of pieces: (extent, extent with the last cut) of every sequence worth keeping.
fn sequences(pieces: &[Piece], set: &[usize]) -> Vec<(f64, f64)> {
    fn on(
        pieces: &[Piece],
        left: &mut Vec<usize>,
        end: Option<(f64, Lie)>,
        out: &mut Vec<(f64, f64)>,
    ) {
        if left.is_empty() {
            if let Some((tip, last)) = end {
                let found = (tip, tip + last.kerf[1]);
                if !out.iter().any(|o| o.0 <= found.0 + 1e-12 && o.1 <= found.1 + 1e-12) {
                    out.push(found);
                }
            }
            return;
        }
        for i in 0..left.len() {
            let p = left.remove(i);
            for &lie in &pieces[p].lies {
                let start = match end {
                    None => 0.0,
                    Some((tip, last)) => {
                        let kerf = last.kerf[1].max(lie.kerf[0]);
                        // At each edge: the right end, a kerf, the left end.
                        (0..2)
                            .map(|e| tip - last.right[e] + kerf - lie.left[e])
                            .fold(f64::NEG_INFINITY, f64::max)
                    }
                };
                on(pieces, left, Some((start + pieces[p].length, lie)), out);
            }
            left.insert(i, p);
        }
    }
    let mut out = Vec::new();
    on(pieces, &mut set.to_vec(), None, &mut out);
    out
}

/// Price in cents, boards, leftover.
type Score = (i64, usize, f64);

fn better(a: &Score, b: &Score) -> bool {
    (a.0, a.1) < (b.0, b.1) || ((a.0, a.1) == (b.0, b.1) && a.2 > b.2 + 1e-9)
}

struct Naive<'a> {
    job: &'a Instance,
    ways: Vec<Vec<(f64, f64)>>,
    best: Option<Score>,
}

impl Naive<'_> {
    fn share(&mut self, left: usize, used: &mut Vec<u64>, so_far: Score) {
        if left == 0 {
            if self.best.as_ref().is_none_or(|b| better(&so_far, b)) {
                self.best = Some(so_far);
            }
            return;
        }
        let first = left & left.wrapping_neg();
        let mut set = left;
        while set > 0 {
            if set & first != 0 {
                for b in 0..self.job.boards.len() {
                    let kind = &self.job.boards[b];
                    if kind.limit.is_some_and(|l| used[b] >= l) {
                        continue;
                    }
                    let room = kind.length - 2.0 * self.job.trim;
                    // What lies right of the last cut; the best of the sequences that fit.
                    let rest = self.ways[set]
                        .iter()
                        .filter(|w| w.0 <= room + 1e-9)
                        .map(|w| (kind.length - self.job.trim - w.1).max(0.0))
                        .fold(-1.0, f64::max);
                    if rest < 0.0 {
                        continue;
                    }
                    used[b] += 1;
                    let cents = (kind.price * 100.0).round() as i64;
                    let score = (so_far.0 + cents, so_far.1 + 1, so_far.2.max(rest));
                    self.share(left & !set, used, score);
                    used[b] -= 1;
                }
            }
            set = (set - 1) & left;
        }
    }
}

fn naive(job: &Instance) -> Option<Score> {
    let pieces = pieces(job);
    let n = pieces.len();
    let ways = (0..1usize << n)
        .map(|mask| {
            let set: Vec<usize> = (0..n).filter(|i| mask >> i & 1 == 1).collect();
            let total: f64 = set.iter().map(|&i| pieces[i].length).sum();
            let longest = job.boards.iter().map(|b| b.length).fold(0.0, f64::max);
            // Even nested as deep as may be, too long.
            let deepest: f64 = set
                .iter()
                .flat_map(|&i| {
                    let lie = pieces[i].lies[0];
                    [lie.left, lie.right]
                })
                .map(|e| e[0].max(e[1]))
                .sum();
            if total - deepest > longest { Vec::new() } else { sequences(&pieces, &set) }
        })
        .collect();
    let mut search = Naive { job, ways, best: None };
    let mut used = vec![0; job.boards.len()];
    search.share((1 << n) - 1, &mut used, (0, 0, 0.0));
    search.best
}

/// Compares the two; says how it went wrong.
fn compare(job: &Instance) -> Result<bool, String> {
    let wanted = naive(job);
    match (plan(job), wanted) {
        (PlanAnswer::Infeasible { .. }, None) => Ok(true),
        (PlanAnswer::Plan(p), Some((cents, boards, leftover))) => {
            let facts = verify(job, &p.boards).map_err(|f| format!("unsound: {f:?}"))?;
            let price = cents as f64 / 100.0;
            if (p.price - price).abs() > 1e-6 || !p.proven {
                return Err(format!("price {} (proven {}), should be {price}", p.price, p.proven));
            }
            let same = p.boards.len() == boards && (facts.leftover - leftover).abs() < 1e-5;
            if p.proven_all && !same {
                return Err(format!(
                    "proven: {} boards, leftover {}; should be {boards}, {leftover}",
                    p.boards.len(),
                    facts.leftover
                ));
            }
            Ok(p.proven_all)
        }
        (got, wanted) => Err(format!("{got:?}, should be {wanted:?}")),
    }
}

/// All jobs of up to four pieces out of five, on three racks, with and without a trim.
#[test]
fn every_small_job_is_planned_as_well_as_can_be() {
    let catalogue = [
        PartKind::square("rail", 1, 20.0),
        PartKind::square("post", 1, 31.9375),
        PartKind::mitered("side", 1, 12.0, 45.0, 45.0),
        PartKind::mitered("brace", 1, 14.5, 45.0, -45.0).good_face(),
        PartKind::mitered("leg", 1, 17.25, 0.0, 30.0).good_face(),
    ];
    let racks = [
        vec![BoardKind::unlimited("4ft", 48.0, 2.1), BoardKind::unlimited("5ft", 60.0, 2.45)],
        vec![BoardKind::owned("own", 40.0, 1), BoardKind::unlimited("4ft", 48.0, 2.1)],
        vec![
            BoardKind::owned("a", 36.0, 2),
            BoardKind { id: "b".to_owned(), length: 44.0, price: 1.0, limit: Some(1) },
        ],
    ];
    let (mut jobs, mut all) = (0, 0);
    for code in 0..5usize.pow(5) {
        let counts: Vec<u64> = (0..5).map(|i| (code / 5usize.pow(i) % 5) as u64).collect();
        let total: u64 = counts.iter().sum();
        if total == 0 || total > 4 {
            continue;
        }
        for rack in &racks {
            for trim in [0.0, 0.5] {
                let mut parts = catalogue.to_vec();
                for (part, &n) in parts.iter_mut().zip(&counts) {
                    part.qty = n;
                }
                let job = Instance { width: 3.5, kerf: 0.125, trim, boards: rack.clone(), parts };
                jobs += 1;
                match compare(&job) {
                    Ok(proven) => all += u32::from(proven),
                    Err(e) => panic!("{e}\n{job:?}"),
                }
            }
        }
    }
    assert_eq!(jobs, 125 * 6);
    assert!(all >= 740, "all three aims proven for {all} of {jobs}");
}

/// Random jobs of up to six pieces: miters of any size, trims, owned and limited boards.
#[test]
fn random_small_jobs_are_planned_as_well_as_can_be() {
    let mut dice = Dice(0x6E41_5E01);
    let (mut jobs, mut all) = (0, 0);
    while jobs < 160 {
        let width = [1.5, 3.5, 5.5][dice.between(0, 2) as usize];
        let mut boards = vec![BoardKind::unlimited(
            "long",
            40.0 + dice.between(0, 400) as f64 / 16.0,
            2.0 + dice.between(0, 200) as f64 / 100.0,
        )];
        if dice.chance(0.5) {
            boards.push(BoardKind {
                id: "short".to_owned(),
                length: 20.0 + dice.between(0, 300) as f64 / 16.0,
                price: 1.0 + dice.between(0, 100) as f64 / 100.0,
                limit: dice.chance(0.5).then(|| dice.between(0, 2)),
            });
        }
        if dice.chance(0.4) {
            let length = 15.0 + dice.between(0, 400) as f64 / 16.0;
            boards.push(BoardKind::owned("own", length, dice.between(1, 2)));
        }
        if dice.chance(0.2) {
            boards[0].limit = Some(dice.between(1, 2));
        }
        let total = dice.between(2, 6);
        let mut left = total;
        let mut parts = Vec::new();
        while left > 0 {
            let qty = dice.between(1, left.min(3));
            left -= qty;
            let mut end = || {
                let size = [0.0, 15.0, 22.5, 30.0, 45.0, dice.between(1, 600) as f64 / 10.0]
                    [dice.between(0, 5) as usize];
                if dice.chance(0.5) { size } else { -size }
            };
            let (l, r) = (end(), end());
            let skew = |a: f64| width * a.to_radians().tan();
            let least = (skew(l).max(0.0) + skew(r).max(0.0))
                .max((-skew(l)).max(0.0) + (-skew(r)).max(0.0));
            let length = (least.max(4.0 + dice.between(0, 400) as f64 / 16.0) * 16.0).ceil() / 16.0;
            let mut part = PartKind::mitered(&format!("p{}", parts.len()), qty, length, l, r);
            part.one_good_face = dice.chance(1.0 / 3.0);
            parts.push(part);
        }
        let job = Instance {
            width,
            kerf: [0.0, 0.125, 0.25][dice.between(0, 2) as usize],
            trim: [0.0, 0.0, 0.75][dice.between(0, 2) as usize],
            boards,
            parts,
        };
        jobs += 1;
        match compare(&job) {
            Ok(proven) => all += u32::from(proven),
            Err(e) => panic!("job {jobs}: {e}\n{job:?}"),
        }
    }
    assert!(all >= 150, "all three aims proven for {all} of {jobs}");
}
