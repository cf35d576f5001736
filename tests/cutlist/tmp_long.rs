use offsquare_core::cutlist::*;
use offsquare_core::rack::Rack;
use offsquare_core::units::*;
#[test]
fn long() {
    for seed0 in [0u64, 5, 6] {
        let mut seed = 77 + seed0 * 1000;
        let mut next = move |n: u64| {
            seed = seed
                .wrapping_mul(6364136223846793005)
                .wrapping_add(1442695040888963407);
            (seed >> 33) % n
        };
        let mut text = String::from("Part\tQty\tLength\tStock\tLeft end\tRight end\tGood face\n");
        let kinds = 20 + seed0 as usize * 8;
        for i in 0..kinds.min(60) {
            let qty = if kinds >= 60 { 1 } else { (60 / kinds).max(1) };
            let l = 8.0 + next(60 * 16) as f64 / 16.0;
            let a = [0.0, 15.0, 22.5, 30.0, 45.0, 37.3, 41.9, 12.7][next(8) as usize];
            let b = [0.0, 15.0, 22.5, 30.0, 45.0, 33.1, 51.2, 8.4][next(8) as usize];
            let s = if next(2) == 0 { "" } else { "-" };
            text += &format!(
                "Part {}\t{qty}\t{l}\t1x4\t{a}\t{s}{b}\t{}\n",
                i + 1,
                if next(3) == 0 { "one" } else { "both" }
            );
        }
        let p = paste(&text, &Rack::default(), Unit::Inch);
        assert!(p.skipped.is_empty(), "{:?}", p.skipped);
        let mut es = p.entries;
        for (i, e) in es.iter_mut().enumerate() {
            e.id = i as u32 + 1;
        }
        let jobs = Jobs::of(&es, &Rack::default(), Length(0.125), 1, &[]);
        let mut planned = Planned::new(1, &jobs);
        let mut run = Run::new(&planned.request(&jobs, 0)).unwrap();
        let t = std::time::Instant::now();
        let mut n = 0;
        let mut worst = 0.0f64;
        let mut msgs = 0;
        let mut first = 0.0;
        let mut bestdone = 0.0;
        while !run.is_done() {
            let t1 = std::time::Instant::now();
            for m in run.step(30_000_000) {
                if msgs == 0 {
                    first = t.elapsed().as_secs_f64();
                }
                msgs += 1;
                planned.hear(&m);
            }
            n += 1;
            let d = t1.elapsed().as_secs_f64();
            if !planned.deaf {
                worst = worst.max(d);
            }
            if planned.results[0].done && bestdone == 0.0 {
                bestdone = t.elapsed().as_secs_f64();
            }
        }
        println!(
            "{seed0} kinds {kinds} steps {n} msgs {msgs} first {first:.3} best done {bestdone:.2} all {:.2}s worst {worst:.3} {:?} {:?}",
            t.elapsed().as_secs_f64(),
            planned.money(&jobs, false),
            planned.bound(&jobs)
        );
    }
}
