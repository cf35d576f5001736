//! From texts as they are typed to figures, sums in words and the batches' curve: worked by hand, and against the door.

use crate::priced;
use crate::typing::{add_line, no_boards, type_all, typed, with};
use offsquare_units::kept::Kept as _;
use offsquare_work::piece::{Cuts, LOOSE, Shop, Work, WorkEdit};
use offsquare_work::price::{
    Boards, Exact, Group, List, MOST_POINTS, Made, PriceRow, Wood, half_up, whole,
};
use offsquare_work::save::{self, Bench};
use serde_json::json;

/// The figures of the forms are those that the door gives for the same request.
#[test]
fn what_is_typed_is_what_the_door_answers() {
    let work = typed();
    let door = priced(&crate::full());
    with(&work, &no_boards(6), |f, _| {
        assert_eq!((&f.missing, &f.wrong), (&Vec::new(), &None));
        let same = |key: &str, ours: &Option<Exact>| {
            assert_eq!(
                json!(i64::try_from(half_up(ours.as_ref().unwrap())).unwrap()),
                door[key],
                "{key}"
            );
        };
        same("wood_used", &f.costs.wood_used);
        same("hardware_used", &f.costs.hardware_used);
        same("finish_used", &f.costs.finish_used);
        same("labor", &f.costs.labor);
        same("overhead", &f.costs.overhead);
        same("cost", &f.costs.cost);
        same("cost_sale", &f.costs.sale);
        same("asked", &f.sold.asked);
        same("profit", &f.sold.profit);
        same("earned_per_hour", &f.sold.earned_per_hour.clone().unwrap());
        same("break_even_sales", &f.sold.break_even_sales.clone().unwrap());
    });
}

/// 6 × 5 hooks are 30: 3 packs of 12. 25 + 6 × 6 1/2 minutes are 64. 51.36 − 8.77 is 42.59.
#[test]
fn every_figure_has_its_sum_in_words() {
    let work = typed();
    with(&work, &no_boards(6), |f, _| {
        let lines = f.lines();
        let sum = |key: &str| {
            let line = lines.iter().find(|l| l.key == key).unwrap_or_else(|| panic!("{key}"));
            (line.value.clone(), line.sum.join(" "))
        };
        assert!(lines.iter().all(|l| !l.sum.is_empty() && !l.value.is_empty()), "{lines:?}");
        let (value, words) = sum("wood");
        assert_eq!(value, "$42.59");
        assert!(words.contains("$51.36 bought") && words.contains("$8.77"), "{words}");
        let (_, words) = sum("hardware");
        assert!(
            words.contains(
                "Hooks: 6 × 5 is 30. Packs of 12 at $4.50: 3 bought for $13.50, $11.25 used."
            ),
            "{words}"
        );
        let (value, words) = sum("minutes");
        assert_eq!(value, "2 h 26 min");
        assert!(words.contains("At the saw: 25 min set-up + 6 × 6.5 min is 1 h 4 min."), "{words}");
        let (_, words) = sum("asked");
        assert!(
            words.contains("÷ (100 % − 6.5 % − 20 %)")
                && words.contains("ends at $4.95 in steps of $5.00"),
            "{words}"
        );
        assert_eq!(lines.iter().filter(|l| l.group == Group::Earn).count(), 6);
    });
}

/// 25 hooks on the shelf and 30 wanted: one pack of 12 is bought, and 7 are left. Half a can of oil is there.
#[test]
fn what_is_opened_is_used_first() {
    let mut work = typed();
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("basis", "bought")]);
    let bought = |work: &Work| {
        with(work, &no_boards(6), |f, _| {
            (
                f.costs.packs.clone().unwrap(),
                f.costs.hardware_bought.clone(),
                f.costs.hardware_used.clone(),
            )
        })
    };
    let before = bought(&work);
    add_line(&mut work, LOOSE, List::Shelf, &[("name", " hooks"), ("left", "25")]);
    let after = bought(&work);
    assert_eq!((before.0[0].clone(), after.0[0].clone()), (3.into(), 1.into()));
    assert_eq!(before.1.unwrap() - after.1.unwrap(), whole(900));
    // What goes into the pieces is worth the same.
    assert_eq!(before.2, after.2);
    // 6 × 0.64 × 2 ÷ 7.5 cans of oil are 1.024: two cans; with half a can there is enough in one.
    let cans = |work: &Work| with(work, &no_boards(6), |f, _| f.costs.cans.clone().unwrap());
    assert_eq!(cans(&work)[0], 2.into());
    add_line(&mut work, LOOSE, List::Shelf, &[("name", "Oil"), ("left", "1/2")]);
    assert_eq!(cans(&work)[0], 1.into());
    let rest = with(&work, &no_boards(6), |f, _| f.left_over());
    let of = |name: &str| rest.iter().find(|r| r.0 == name).unwrap().1.clone();
    assert_eq!((of("Hooks"), of("Oil")), (whole(7), whole(476) / whole(1000)));
    work.apply(WorkEdit::Shelve(rest), &Shop::default());
    let texts: Vec<(&str, &str)> =
        work.shelf.iter().map(|l| (l.text("name"), l.text("left"))).collect();
    assert!(texts.contains(&("Hooks", "7")) && texts.contains(&("Oil", "0.476")), "{texts:?}");
    assert_eq!(texts.iter().filter(|t| t.0.trim().eq_ignore_ascii_case("hooks")).count(), 1);
}

/// 2 hooks a piece in packs of 12: the pack is full at 6, 12, 18 and 24. With packs as the only cost that steps, and
/// the set-up shared, the best is the largest of these, and 18 the next.
#[test]
fn the_best_batch_is_named_with_its_reason() {
    let mut work = Work::default();
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("basis", "bought")]);
    type_all(&mut work, LOOSE, PriceRow::Rates, &[("rate", "20")]);
    let hooks = [("name", "Hooks"), ("per_piece", "2"), ("pack", "12"), ("pack_price", "30")];
    add_line(&mut work, LOOSE, List::Hardware, &hooks);
    add_line(&mut work, LOOSE, List::Steps, &[("name", "Saw"), ("set_up", "6"), ("each", "3")]);
    with(&work, &no_boards(1), |f, _| {
        let points = f.batches(&[]);
        assert_eq!(points.len() as u64, MOST_POINTS);
        // n = 6: 6 + 18 minutes at 20 are 8.00, and 30.00: 38.00 ÷ 6.
        assert_eq!(points[5].each, whole(3800) / whole(6));
        let best = f.best(&points, &[]);
        assert_eq!(best[0].1, "24 at $6.08 each: the fourth pack of hooks is full.");
        assert_eq!(best[1].1, "18 at $6.11 each: the third pack of hooks is full.");
    });
}

/// Two pieces out of a board at 4.00: the boards are full at every even size.
#[test]
fn full_boards_are_a_reason() {
    let mut work = Work::default();
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("basis", "bought")]);
    type_all(&mut work, LOOSE, PriceRow::Rates, &[("rate", "20")]);
    add_line(&mut work, LOOSE, List::Steps, &[("name", "Saw"), ("set_up", "0"), ("each", "3")]);
    let wood = |n: u64| Wood { bought: whole(n.div_ceil(2) * 400), kept: whole(n % 2 * 150) };
    let all: Vec<(u64, Wood)> = (1..=MOST_POINTS).map(|n| (n, wood(n))).collect();
    let made =
        Made { pieces: 2, boards: Boards::Known { wood: wood(2), words: Vec::new() }, area: None };
    with(&work, &made, |f, _| {
        let points = f.batches(&all);
        assert_eq!(points[1].each, whole(300));
        let best = f.best(&points, &all);
        assert_eq!(
            best[0].1,
            "2 at $3.00 each: its boards are full, and one more piece takes another."
        );
    });
    // Boards by hand are those of one batch: there are no others.
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("wood_bought", "9")]);
    with(&work, &made, |f, _| assert_eq!(f.batches(&all), []));
}

/// Nothing is free, or a price, before all of it is known; each thing that is missing is one line.
#[test]
fn what_is_missing_is_said_and_nothing_is_asked() {
    let mut work = Work::default();
    let missing = |work: &Work, made: &Made| {
        with(work, made, |f, _| (f.missing.clone(), f.costs.cost.is_some(), f.sold.asked.is_some()))
    };
    let open = Made { pieces: 1, boards: Boards::Open(vec!["1x4: no price".into()]), area: None };
    let (first, cost, asked) = missing(&work, &open);
    let wanted = [
        "1x4: no price",
        "Steps of the work, with their minutes",
        "What an hour of your work costs",
        "What you want of one sale",
    ];
    assert_eq!((first, cost, asked), (wanted.map(String::from).to_vec(), false, false));
    // With each of these given, the price is there.
    add_line(&mut work, LOOSE, List::Steps, &[("name", "Sanding")]);
    let none = no_boards(1);
    assert!(missing(&work, &none).0.contains(&"Sanding: its minutes".to_owned()));
    type_all(&mut work, LOOSE, PriceRow::Line(List::Steps, 0), &[("each", "30")]);
    type_all(&mut work, LOOSE, PriceRow::Rates, &[("rate", "20")]);
    assert_eq!(missing(&work, &none), (vec!["What you want of one sale".to_owned()], true, false));
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("want", "5")]);
    assert_eq!(missing(&work, &none), (Vec::new(), true, true));
    // A kind of hardware named and not filled in holds the price back, and so does a finish.
    add_line(&mut work, LOOSE, List::Hardware, &[("name", "Hinges")]);
    let (lines, cost, asked) = missing(&work, &none);
    assert_eq!((lines.len(), cost, asked), (3, false, false), "{lines:?}");
    assert!(lines.iter().all(|l| l.starts_with("Hinges: ")));
    work.apply(
        WorkEdit::RemoveLine { piece: LOOSE, list: List::Hardware, at: 0 },
        &Shop::default(),
    );
    add_line(
        &mut work,
        LOOSE,
        List::Finish,
        &[("name", "Oil"), ("coats", "2"), ("covers", "100"), ("can_price", "20")],
    );
    assert_eq!(missing(&work, &none).0, ["Oil: the area of a piece"]);
    let told = Made { area: Some(whole(1)), ..none };
    assert_eq!(missing(&work, &told).0, Vec::<String>::new());
    // 1 m² twice of 100 ft² at 20.00: 2 ÷ 9.290304 × 20.00 = 4.3056.
    let used = with(&work, &told, |f, _| f.costs.finish_used.clone().unwrap());
    assert_eq!(half_up(&used), 431.into());
    // A set of so many that nobody said how many.
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("sold_as", "set")]);
    assert_eq!(missing(&work, &told).0, ["How many pieces are in a set"]);
}

/// A margin with which fees would take all of the price is refused at the field; the fees of the piece count, not the
/// usual ones.
#[test]
fn fees_and_a_margin_leave_something_of_the_price() {
    let mut work = typed();
    let told =
        |work: &Work| with(work, &no_boards(6), |f, _| (f.wrong.clone(), f.sold.asked.is_some()));
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("want", "93.5")]);
    assert_eq!(
        told(&work),
        (Some("With these fees, a margin is less than 93.5 % of the price.".into()), false)
    );
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("want", "93.4")]);
    assert_eq!(told(&work), (None, true));
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("fee_percent", "6.6")]);
    assert!(!told(&work).1);
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("fee_percent", "0")]);
    assert!(told(&work).1);
}

#[test]
fn bad_texts_are_refused_with_what_would_be_right() {
    let work = typed();
    let (rates, terms) = (PriceRow::Rates, PriceRow::Terms);
    let (hooks, seen, day) = (
        PriceRow::Line(List::Hardware, 0),
        PriceRow::Line(List::Seen, 0),
        PriceRow::Line(List::Tried, 0),
    );
    let mut market = work.clone();
    add_line(&mut market, LOOSE, List::Seen, &[("low", "40")]);
    add_line(&mut market, LOOSE, List::Tried, &[("sold", "4")]);
    for (row, key, bad, right) in [
        (rates, "rate", "-3", "0 or more"),
        (rates, "rate", "4.285", "2 decimals"),
        (rates, "rate", "ten", "not a unit"),
        (rates, "fee_percent", "100", "less than 100"),
        (rates, "overhead", "-1", "0 or more"),
        (rates, "retail", "0", "more than 0"),
        (rates, "deposit", "101", "less than 101"),
        (rates, "sign", "dollars", "At most 4"),
        (terms, "set_of", "2.5", "whole number"),
        (terms, "set_of", "0", "from 1"),
        (terms, "sold_as", "dozen", "Pick one"),
        (hooks, "per_piece", "-1", "0 or more"),
        (hooks, "pack", "0", "more than 0"),
        (hooks, "pack_price", "1/0", "0 below the line"),
        (seen, "date", "May 9", "2026-05-09"),
        (seen, "date", "2026-02-29", "2026-05-09"),
        (seen, "low", "1e10", "more than"),
        (day, "sold", "2.5", "whole number"),
        (day, "hours", "-4", "0 or more"),
    ] {
        let said = market.try_price(LOOSE, row, key, bad).expect_err(bad);
        assert!(said.contains(right), "{key} {bad}: {said}");
        let mut after = market.clone();
        after.apply(WorkEdit::Price { piece: LOOSE, row, key, text: bad.into() }, &Shop::default());
        assert_eq!(after, market, "{key} {bad}");
    }
    assert_eq!(market.try_price(LOOSE, seen, "date", "2028-02-29"), Ok(()));
    // A sum stays a sum, and half a cent of one is rounded up: 3.35 ÷ 2 is 1.675.
    let mut sums = market;
    type_all(&mut sums, LOOSE, hooks, &[("pack_price", "3.35 / 2")]);
    assert_eq!(sums.price_text(LOOSE, hooks, "pack_price"), "3.35 / 2");
    with(&sums, &no_boards(6), |f, _| {
        assert_eq!(f.batch.hardware.as_ref().unwrap()[0].pack_price, Some(whole(168)));
    });
}

/// The maker's own money, and the same amounts in it.
#[test]
fn money_has_the_makers_sign_and_decimals() {
    let mut work = typed();
    let look = |work: &Work| {
        with(work, &no_boards(6), |f, _| {
            let value = |key: &str| f.lines().into_iter().find(|l| l.key == key).map(|l| l.value);
            (value("labor"), value("asked"), f.missing.len())
        })
    };
    let before = look(&work);
    assert!(before.0.as_ref().unwrap().starts_with('$'), "{before:?}");
    type_all(&mut work, LOOSE, PriceRow::Rates, &[("sign", "€"), ("place", "after")]);
    let after = look(&work);
    assert_eq!(after.0.unwrap().replace(" €", ""), before.0.unwrap().replace('$', ""));
    type_all(&mut work, LOOSE, PriceRow::Rates, &[("rate", "24 €")]);
    assert_eq!(look(&work).1.unwrap().replace(" €", ""), before.1.unwrap().replace('$', ""));
    // Without decimals, prices with decimals are missing: nothing is made up of them.
    type_all(&mut work, LOOSE, PriceRow::Rates, &[("decimals", "0")]);
    let none = look(&work);
    assert!(none.1.is_none() && none.2 > 3, "{none:?}");
    // The rack's prices stay the same amounts: 3.85 is 3,850 thousandths. Of 0.70 without decimals 1 remains.
    type_all(
        &mut work,
        LOOSE,
        PriceRow::Rates,
        &[("decimals", "3"), ("place", "before"), ("sign", "KD")],
    );
    let mut other = Work::default();
    let first = |work: &Work| {
        let sold = &work.rack.stocks[0].sold[0];
        (sold.price.0, work.currency().print(sold.price))
    };
    let (cents, shown) = first(&other);
    assert_eq!(shown, format!("${}.{:02}", cents / 100, cents % 100));
    type_all(&mut other, LOOSE, PriceRow::Rates, &[("decimals", "3"), ("sign", "KD")]);
    assert_eq!(first(&other), (cents * 10, shown.replace('$', "KD") + "0"));
    type_all(&mut other, LOOSE, PriceRow::Rates, &[("decimals", "0")]);
    assert_eq!(first(&other).0, (cents + 50) / 100);
    // A sign that is none is not taken.
    assert!(other.try_price(LOOSE, PriceRow::Rates, "sign", "1").is_err());
    let edit =
        WorkEdit::Price { piece: LOOSE, row: PriceRow::Rates, key: "sign", text: "1".into() };
    other.apply(edit, &Shop::default());
    assert_eq!(other.currency().sign, "KD");
}

#[test]
fn prices_are_kept_and_read_back() {
    let mut bench = Bench { work: typed(), ..Bench::default() };
    add_line(
        &mut bench.work,
        LOOSE,
        List::Seen,
        &[("low", "40"), ("high", "55"), ("place", "spring market"), ("date", "2026-05-09")],
    );
    add_line(
        &mut bench.work,
        LOOSE,
        List::Tried,
        &[
            ("date", "2026-05-09"),
            ("place", "spring market"),
            ("asked", "49.95"),
            ("taken", "6"),
            ("sold", "4"),
            ("hours", "7"),
        ],
    );
    add_line(&mut bench.work, LOOSE, List::Shelf, &[("name", "Hooks"), ("left", "7")]);
    let opened = save::read(&save::write(&bench));
    assert_eq!((opened.repaired, opened.bench), (Vec::<String>::new(), bench.clone()));
    // A file from before there were prices has none, and loses nothing.
    let mut old = save::to_value(&bench);
    let work = old["bench"]["work"].as_object_mut().unwrap();
    work.remove("rates");
    work.remove("shelf");
    work["pieces"][0].as_object_mut().unwrap().remove("priced");
    let opened = save::read(&old.to_string());
    assert_eq!((opened.repaired, opened.bench.work.rates), (Vec::new(), Work::default().rates));
    // Texts that no form takes are set aside, and said.
    let mut odd = save::to_value(&bench);
    odd["bench"]["work"]["pieces"][0]["priced"]["terms"]["basis"] = json!("given");
    odd["bench"]["work"]["rates"]["rate"] = json!("1".repeat(300));
    odd["bench"]["work"]["shelf"][0]["left"] = json!(7);
    let opened = save::read(&odd.to_string());
    assert!(opened.repaired.iter().any(|s| s.contains("prices")), "{:?}", opened.repaired);
    assert!(opened.bench.work.rates.is_empty("rate"));
    assert_eq!(
        opened.bench.work.piece(0).unwrap().priced.tried,
        bench.work.piece(0).unwrap().priced.tried
    );
    // A variant has its own, equal at first.
    bench.work.apply(WorkEdit::AddPiece { pattern: None }, &Shop::default());
    let id = bench.work.pieces.last().unwrap().id;
    add_line(&mut bench.work, id, List::Steps, &[("name", "Sanding"), ("each", "5")]);
    bench.work.apply(WorkEdit::CopyPiece(id), &Shop::default());
    let copy = bench.work.pieces.last().unwrap();
    assert!(copy.id != id && copy.priced == bench.work.piece(id).unwrap().priced);
    let _ = bench.shop.keep();
}

/// 400 + 100 over 100 pieces are 5.00 each, and retail twice that; 7.845 × 1.1 × 2.5 is 21.57, carried exactly.
#[test]
fn wholesale_retail_and_a_deposit() {
    let mut work = Work::default();
    work.apply(WorkEdit::Piece { id: LOOSE, key: "batch", text: "4".into() }, &Shop::default());
    type_all(&mut work, LOOSE, PriceRow::Terms, &[("wood_bought", "31.38"), ("want", "10")]);
    type_all(
        &mut work,
        LOOSE,
        PriceRow::Rates,
        &[("rate", "0"), ("overhead", "10"), ("retail", "2.5"), ("deposit", "30")],
    );
    add_line(&mut work, LOOSE, List::Steps, &[("each", "0")]);
    with(&work, &no_boards(4), |f, _| {
        assert_eq!(half_up(f.wholesale.as_ref().unwrap()), 863.into());
        assert_eq!(half_up(f.retail.as_ref().unwrap()), 2157.into());
        // Asked 8.6295 + 10 up to 18.63; 30 % of it are 5.589.
        assert_eq!(half_up(f.sold.asked.as_ref().unwrap()), 1863.into());
        assert_eq!(half_up(f.deposit.as_ref().unwrap()), 559.into());
    });
}

/// From the plan's cuts, by the maker's own minutes: 4 changes at 1.5 are 6, 30 cuts at 3/4 over 6 pieces 3.75 each. By the
/// clock, 12 1/2 minutes for all of them, 6 of which are the set-up: 1.0833 each.
#[test]
fn minutes_at_the_saw_are_proposed_and_corrected_by_the_clock() {
    let mut work = typed();
    let cuts = Cuts { pieces: 6, changes: 4, cuts: 30 };
    assert_eq!(work.told_of_cuts(cuts), None);
    type_all(&mut work, LOOSE, PriceRow::Rates, &[("saw_change", "1.5"), ("saw_cut", "3/4")]);
    let texts = work.told_of_cuts(cuts).unwrap();
    work.apply(WorkEdit::AtTheSaw { piece: LOOSE, texts }, &Shop::default());
    let step =
        |work: &Work| with(work, &no_boards(6), |f, _| f.batch.steps.clone().unwrap()[0].clone());
    assert_eq!((step(&work).set_up, step(&work).each), (whole(6), whole(15) / whole(4)));
    assert_eq!(work.piece(LOOSE).unwrap().priced.steps.len(), 2);
    let clock = |work: &mut Work, at_ms: i64, runs: bool| {
        work.apply(WorkEdit::Clock { piece: LOOSE, at_ms, runs }, &Shop::default());
    };
    clock(&mut work, 1_000_000, true);
    assert_eq!(work.piece(LOOSE).unwrap().clock, 1_000_000);
    clock(&mut work, 1_000_000 + 750_000, false);
    assert_eq!(step(&work).set_up, whole(6));
    assert_eq!(step(&work).each, whole(65) / whole(60));
    // A run shorter than the set-up that was thought of: all of it is of the pieces.
    clock(&mut work, 5_000_000, true);
    clock(&mut work, 5_000_000 + 180_000, false);
    assert_eq!((step(&work).set_up, step(&work).each), (whole(0), whole(1) / whole(2)));
    // Stopped again it changes nothing.
    let before = work.clone();
    clock(&mut work, 9_000_000, false);
    assert_eq!(work, before);
}
