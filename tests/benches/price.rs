//! From a typed figure to every figure of a price: 60 parts, 20 packs, 10 cans, 30 steps, and the cost of each
//! over 24 batches, with the boards' plans at hand.
//!
//! `cargo bench -p offsquare-tests --bench price`: medians in milliseconds. A frame is 16.7.

use offsquare_door::piece::piece_value;
use offsquare_work::piece::{LOOSE, Shop, Work, WorkEdit};
use offsquare_work::price::{
    Batch, Boards, Fees, Finish, Hardware, List, Made, PerPiece, PriceRow, Selling, Step, Want,
    Wood, costs, decimal, selling, whole,
};
use serde_json::{Value, json};
use std::hint::black_box;
use std::time::Instant;

fn main() {
    let some = |n: u64| Some(whole(n));
    let part = |i: u64| decimal(0.0113 + i as f64 / 997.0);
    let area = (0..60).map(part).sum::<Option<_>>();
    let batch = |typed: u64| Batch {
        pieces: 6,
        sold_as: 1,
        wood: Some(Some(Wood { bought: whole(30_816), kept: whole(877) })),
        hardware: Some(
            (0..20)
                .map(|i| Hardware {
                    per_piece: some(3 + i),
                    pack: some(7 + i),
                    pack_price: some(450 + typed),
                    opened: None,
                })
                .collect(),
        ),
        finish: Some(
            (0..10)
                .map(|i| Finish {
                    coats: some(2),
                    covers: decimal(7.5 + i as f64),
                    can_price: some(1895),
                    area: area.clone(),
                    opened: None,
                })
                .collect(),
        ),
        steps: Some((0..30).map(|i| Step { set_up: whole(i), each: whole(i + 1) }).collect()),
        rate: some(2400),
        ..Batch::default()
    };
    let how = Selling {
        fees: Some(Fees { share: whole(3) / whole(100), fixed: whole(25) }),
        want: Some(Want::Margin(whole(20) / whole(100))),
        ..Selling::default()
    };
    let mut typed_so_far = 0;
    let figures = median(101, || {
        typed_so_far += 1;
        let all = batch(typed_so_far);
        black_box(selling(&all, &costs(&all), &how));
        let per_piece = PerPiece::of(&all);
        let wood = |n: u64| Some(Wood { bought: whole(5136 * n), kept: whole(877) });
        black_box((1..=24).map(|n| per_piece.costs(n, Some(&wood(n))).each).collect::<Vec<_>>());
    });
    println!("figures alone: {figures:.3} ms");
    let mut work = typed();
    let wood: Vec<(u64, Wood)> =
        (1..=24).map(|n| (n, Wood { bought: whole(5136 * n), kept: whole(877) })).collect();
    let made = Made {
        pieces: 6,
        boards: Boards::Known { wood: wood[5].1.clone(), words: Vec::new() },
        area: area.clone(),
    };
    let screen = median(101, || {
        typed_so_far += 1;
        let text = format!("{typed_so_far} * 1.25");
        let edit = WorkEdit::Price { piece: LOOSE, row: PriceRow::Rates, key: "rate", text };
        work.apply(edit, &Shop::default());
        let piece = work.piece(LOOSE).expect("a piece");
        let figures = work.priced(piece, &made);
        let points = figures.batches(&wood);
        black_box((figures.lines(), figures.best(&points, &wood), figures.market()));
    });
    println!("from a text typed to all lines, sums in words and the curve: {screen:.3} ms");
    let mut request = request();
    let door = median(25, || {
        typed_so_far += 1;
        request["price"]["rate"] = json!(typed_so_far);
        black_box(piece_value(&request));
    });
    println!("through the door, with 60 parts told, placed and weighed again: {door:.3} ms");
}

/// 20 packs, 10 cans and 30 steps in forms.
fn typed() -> Work {
    let mut work = Work::default();
    let mut put = |list: List, at: usize, texts: &[(&'static str, String)]| {
        let shop = Shop::default();
        work.apply(
            WorkEdit::AddLine { piece: LOOSE, list, key: "name", text: "kind".into() },
            &shop,
        );
        for (key, text) in texts {
            let row = PriceRow::Line(list, at);
            work.apply(WorkEdit::Price { piece: LOOSE, row, key, text: text.clone() }, &shop);
        }
    };
    for i in 0..20 {
        let texts = [
            ("per_piece", (3 + i).to_string()),
            ("pack", (7 + i).to_string()),
            ("pack_price", "4.50".into()),
        ];
        put(List::Hardware, i, &texts);
    }
    for i in 0..10 {
        let texts = [
            ("coats", "2".into()),
            ("covers", (75 + i).to_string()),
            ("can_price", "18.95".into()),
        ];
        put(List::Finish, i, &texts);
    }
    for i in 0..30 {
        put(List::Steps, i, &[("set_up", i.to_string()), ("each", format!("{i} 1/2"))]);
    }
    let want =
        WorkEdit::Price { piece: LOOSE, row: PriceRow::Terms, key: "want", text: "12".into() };
    work.apply(want, &Shop::default());
    work
}

fn request() -> Value {
    let part = |i: u32| {
        json!({
            "name": format!("part {i}"), "qty": 2, "stock": "1x4", "seen": 3.5, "away": 0.75,
            "length": 11.5 + f64::from(i) / 16.0,
        })
    };
    let pack =
        |i: u32| json!({"name": "pack", "per_piece": 3 + i, "pack": 7 + i, "pack_price": 450});
    json!({
        "unit": "in",
        "parts": (0..60).map(part).collect::<Value>(),
        "price": {
            "batch": 6, "hardware": (0..20).map(pack).collect::<Value>(),
            "finish": [{"coats": 2, "covers_m2": 7.5, "can_price": 1895}],
            "steps": [{"set_up_min": 30, "each_min": 12}], "rate": 2400, "want": {"margin_percent": 20},
        },
    })
}

fn median(runs: usize, mut once: impl FnMut()) -> f64 {
    once();
    let time = |_| {
        let start = Instant::now();
        once();
        start.elapsed().as_secs_f64() * 1e3
    };
    let mut times: Vec<f64> = (0..runs).map(time).collect();
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}
