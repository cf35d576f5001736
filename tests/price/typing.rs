//! Prices typed into the forms, as a screen does it; random ones against the door.

use crate::priced;
use crate::random::price;
use offsquare_tests::dice::Dice;
use offsquare_work::piece::{LOOSE, Piece, Shop, Work, WorkEdit};
use offsquare_work::price::{Boards, Exact, Figures, List, Made, PriceRow, as_number, half_up};
use serde_json::Value;

/// Puts texts in, one after another, as a screen does.
pub fn type_all(work: &mut Work, piece: u32, row: PriceRow, texts: &[(&'static str, &str)]) {
    for (key, text) in texts {
        assert_eq!(work.try_price(piece, row, key, text), Ok(()), "{row:?} {key} {text}");
        let edit = WorkEdit::Price { piece, row, key, text: (*text).to_owned() };
        work.apply(edit, &Shop::default());
        assert_eq!(work.price_text(piece, row, key), *text);
    }
}

pub fn add_line(work: &mut Work, piece: u32, list: List, texts: &[(&'static str, &str)]) {
    let at = match list {
        List::Shelf => work.shelf.len(),
        list => work.piece(piece).unwrap().priced.list(list).unwrap().count(),
    };
    let (key, text) = texts[0];
    let edit = WorkEdit::AddLine { piece, list, key, text: text.to_owned() };
    work.apply(edit, &Shop::default());
    type_all(work, piece, PriceRow::Line(list, at), texts);
}

/// The same request as `full()` of the door, typed.
pub fn typed() -> Work {
    let mut work = Work::default();
    let p = LOOSE;
    work.apply(WorkEdit::Piece { id: p, key: "batch", text: "6".into() }, &Shop::default());
    let terms = [
        ("sold_as", "pair"),
        ("want_by", "margin"),
        ("want", "20 %"),
        ("stall", "$45"),
        ("wood_bought", "51.36"),
        ("wood_kept", "8.77"),
    ];
    type_all(&mut work, p, PriceRow::Terms, &terms);
    let rates = [
        ("rate", "24"),
        ("overhead", "12.5"),
        ("fee_percent", "6.5"),
        ("fee_fixed", "0.25"),
        ("end_step", "5"),
        ("end_at", "4.95"),
    ];
    type_all(&mut work, p, PriceRow::Rates, &rates);
    let hooks = [("name", "Hooks"), ("per_piece", "5"), ("pack", "12"), ("pack_price", "4.50")];
    let chain = [("name", "Chain"), ("per_piece", "3/4"), ("pack", "10"), ("pack_price", "12.99")];
    for line in [hooks, chain] {
        add_line(&mut work, p, List::Hardware, &line);
    }
    let oil = [
        ("name", "Oil"),
        ("coats", "2"),
        ("covers", "7.5"),
        ("covers_in", "m2"),
        ("can_price", "18.95"),
        ("area", "0.64"),
    ];
    let wax = [
        ("name", "Wax"),
        ("coats", "1"),
        ("covers", "12"),
        ("covers_in", "m2"),
        ("can_price", "11.50"),
        ("area", "0.31"),
    ];
    for line in [oil, wax] {
        add_line(&mut work, p, List::Finish, &line);
    }
    let saw = [("name", "At the saw"), ("set_up", "25"), ("each", "6 1/2")];
    let glue = [("name", "Putting together"), ("set_up", "10"), ("each", "12")];
    for line in [saw, glue] {
        add_line(&mut work, p, List::Steps, &line);
    }
    work
}

/// A batch of so many, no part of which is cut from boards.
pub fn no_boards(pieces: u64) -> Made {
    Made { pieces, boards: Boards::None, area: None }
}

/// Looks at the figures of the loose parts.
pub fn with<T>(work: &Work, made: &Made, mut look: impl FnMut(&Figures, &Piece) -> T) -> T {
    let piece = work.piece(LOOSE).unwrap();
    look(&work.priced(piece, made), piece)
}

/// A random request of the door, typed into the forms.
fn typed_from(price: &Value) -> Work {
    let mut work = Work::default();
    let money =
        |v: &Value| format!("{}.{:02}", v.as_u64().unwrap() / 100, v.as_u64().unwrap() % 100);
    let plain = |v: &Value| if v.is_null() { String::new() } else { v.to_string() };
    let put = |work: &mut Work, row: PriceRow, texts: Vec<(&'static str, String)>| {
        let texts: Vec<(&'static str, &str)> = texts.iter().map(|(k, t)| (*k, &t[..])).collect();
        type_all(work, LOOSE, row, &texts);
    };
    let batch = WorkEdit::Piece { id: LOOSE, key: "batch", text: price["batch"].to_string() };
    work.apply(batch, &Shop::default());
    let sold_as = match price["sold_as"].as_u64().unwrap() {
        1 => vec![("sold_as", "each".into())],
        2 => vec![("sold_as", "pair".into())],
        n => vec![("sold_as", "set".into()), ("set_of", n.to_string())],
    };
    put(&mut work, PriceRow::Terms, sold_as);
    let wood = &price["wood"];
    let hand = vec![("wood_bought", money(&wood["bought"])), ("wood_kept", money(&wood["kept"]))];
    put(&mut work, PriceRow::Terms, hand);
    if let Some(basis) = price["basis"].as_str() {
        put(&mut work, PriceRow::Terms, vec![("basis", basis.into())]);
    }
    for h in price["hardware"].as_array().into_iter().flatten() {
        let pack_price = money(&h["pack_price"]);
        let (each, pack) = (plain(&h["per_piece"]), plain(&h["pack"]));
        let texts = [("per_piece", &each[..]), ("pack", &pack), ("pack_price", &pack_price)];
        add_line(&mut work, LOOSE, List::Hardware, &texts);
    }
    for f in price["finish"].as_array().into_iter().flatten() {
        let can_price = money(&f["can_price"]);
        let [coats, covers, area] = ["coats", "covers_m2", "area_m2"].map(|key| plain(&f[key]));
        let texts = [
            ("coats", &coats[..]),
            ("covers", &covers),
            ("covers_in", "m2"),
            ("can_price", &can_price),
            ("area", &area),
        ];
        add_line(&mut work, LOOSE, List::Finish, &texts);
    }
    for s in price["steps"].as_array().into_iter().flatten() {
        let [set_up, each] = ["set_up_min", "each_min"].map(|key| plain(&s[key]));
        add_line(&mut work, LOOSE, List::Steps, &[("set_up", &set_up), ("each", &each)]);
    }
    put(&mut work, PriceRow::Rates, vec![("rate", money(&price["rate"]))]);
    let rates = [
        ("/overhead/percent", "overhead", "share", false),
        ("/overhead/per_hour", "overhead", "hour", true),
        ("/fees/percent", "fee_percent", "", false),
        ("/fees/fixed", "fee_fixed", "", true),
        ("/stall", "stall", "", true),
        ("/end/step", "end_step", "", true),
        ("/end/at", "end_at", "", true),
    ];
    for (path, key, by, is_money) in rates {
        let Some(value) = price.pointer(path) else { continue };
        if !by.is_empty() {
            put(&mut work, PriceRow::Rates, vec![("overhead_by", by.into())]);
        }
        let text = if is_money { money(value) } else { plain(value) };
        put(&mut work, PriceRow::Rates, vec![(key, text)]);
    }
    for (key, by) in
        [("profit", "profit"), ("margin_percent", "margin"), ("markup_percent", "markup")]
    {
        let value = &price["want"][key];
        if !value.is_null() {
            let text = if by == "profit" { money(value) } else { plain(value) };
            put(&mut work, PriceRow::Terms, vec![("want_by", by.into()), ("want", text)]);
        }
    }
    work
}

/// 800 random prices, half of them with figures between two cents: typed as texts and asked of the door they are the same.
#[test]
fn random_prices_typed_are_those_of_the_door() {
    let mut dice = Dice(44);
    let mut asked = 0;
    for n in 0..800 {
        let price = price(&mut dice, n % 2 == 0);
        if price["steps"].as_array().is_none_or(Vec::is_empty) {
            continue;
        }
        let door = priced(&price);
        let work = typed_from(&price);
        with(&work, &no_boards(price["batch"].as_u64().unwrap()), |f, _| {
            let quotient = |q: &Option<Option<Exact>>| q.clone().flatten();
            let told = [
                ("minutes", f.costs.minutes.clone()),
                ("labor", f.costs.labor.clone()),
                ("cost", f.costs.cost.clone()),
                ("cost_each", f.costs.each.clone()),
                ("cost_sale", f.costs.sale.clone()),
                ("asked_exact", f.sold.asked_exact.clone()),
                ("asked", f.sold.asked.clone()),
                ("fee", f.sold.fee.clone()),
                ("profit", f.sold.profit.clone()),
                ("earned_per_hour", quotient(&f.sold.earned_per_hour)),
                ("break_even_sales", quotient(&f.sold.break_even_sales)),
            ];
            for (key, ours) in told {
                let theirs = &door[key];
                match ours {
                    Some(ours) if key != "minutes" => {
                        assert_eq!(
                            Some(i64::try_from(half_up(&ours)).unwrap()),
                            theirs.as_i64(),
                            "{key} {price}"
                        );
                    }
                    Some(ours) => assert_eq!(as_number(&ours), theirs.as_f64().unwrap()),
                    None => assert!(theirs.is_null(), "{key} {price}"),
                }
            }
            asked += u32::from(f.sold.asked.is_some());
            assert!(f.lines().iter().all(|l| !l.sum.is_empty()), "{price}");
        });
    }
    assert!(asked > 300, "{asked}");
}
