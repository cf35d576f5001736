//! The rack as a yard sells it, what of it fits a part, end trims, and boards that are cut alike.

use crate::jobs::{KERF, worked};
use offsquare_cuts::facts::{yard_lengths, yard_sections};
use offsquare_paper::report::boards_text;
use offsquare_units::{Length, Money, Style, Unit};
use offsquare_work::cutlist::{
    Entry, Fit, Jobs, OrderLine, PartEnd, Summary, fit, order_lines, trim_sentence,
};
use offsquare_work::piece::{LOOSE, Row, Shop, Work, WorkEdit};
use offsquare_work::rack::{Owned, Rack, Sold, Stock};
use offsquare_work::save;

fn said(text: &offsquare_units::Text) -> String {
    text.render(&Style::default())
}

fn part(work: &mut Work, seen: f64, away: f64) -> u32 {
    let shop = Shop::default();
    work.apply(WorkEdit::AddPart(LOOSE), &shop);
    let id = work.parts.last().expect("a part").id;
    for (key, size) in [("seen", seen), ("away", away)] {
        work.apply(WorkEdit::Part { id, key, text: size.to_string() }, &shop);
    }
    id
}

/// PS 20: a 1×4 dresses to 3/4 by 3 1/2, a 5/4×6 to 1 by 5 1/2. Prices are the yard's to say.
#[test]
fn a_usual_section_is_a_tap() {
    let mut work = Work::default();
    let shop = Shop::default();
    for (of, name, sizes) in
        [(2, "1\u{d7}4 cedar", (0.75, 3.5)), (8, "5/4\u{d7}6 cedar", (1.0, 5.5))]
    {
        let of = Some(yard_sections(false)[of]);
        work.apply(WorkEdit::AddStock { of, wood: " cedar ".into() }, &shop);
        let stock = work.rack.stocks.last().expect("a stock");
        assert_eq!(
            (stock.name.as_str(), stock.thickness.0, stock.width.0),
            (name, sizes.0, sizes.1)
        );
        assert_eq!(stock.without_price(0), yard_lengths(false), "nothing is free");
    }
    let metric = Shop { unit: Unit::Millimeter, ..Shop::default() };
    let of = yard_sections(true).into_iter().find(|s| s.width == Length::mm(145.0));
    work.apply(WorkEdit::AddStock { of, wood: String::new() }, &metric);
    let stock = work.rack.stocks.last().expect("a stock");
    assert_eq!(stock.name, "21 \u{d7} 145");
    assert_eq!(stock.sold[0].length, Length::mm(2400.0));
    // A length more is the first that is not there.
    let id = stock.id;
    work.apply(WorkEdit::RemoveRow(Row::Sold(id, 1)), &metric);
    work.apply(WorkEdit::AddSold(id), &metric);
    assert_eq!(
        work.rack.stock(id).expect("there").sold.last().expect("one").length,
        Length::mm(3000.0)
    );
}

/// A part 2 1/2 by 3/4 is a 1×3 as it is; a 1×4 is ripped for it, a 2×4 planed; a 1×2 is too narrow.
#[test]
fn only_what_fits_is_offered_with_what_has_to_be_done() {
    let mut work = Work::default();
    let id = part(&mut work, 2.5, 0.75);
    let fitting = work.fitting(Some(id), Unit::Inch);
    let names: Vec<&str> = fitting.fits.iter().map(|f| f.1.as_str()).collect();
    let wanted = [
        "1\u{d7}3 pine",
        "1\u{d7}4 pine, ripped",
        "1\u{d7}8 pine, ripped",
        "2\u{d7}4 spruce, planed down",
        "3/4 plywood",
    ];
    assert_eq!(names, wanted);
    assert_eq!(fitting.others.len(), 1);
    assert_eq!(
        (fitting.others[0].1.as_str(), said(&fitting.others[0].2).as_str()),
        ("1\u{d7}2 pine", "too narrow: 1 1/2 in")
    );
    assert_eq!(fitting.missing, None);
    // What is offered can be planned, and nothing else.
    let entry = work.part(id).expect("there").clone();
    for stock in &work.rack.stocks {
        let entry = Entry { stock: Some(stock.id), ..entry.clone() };
        let jobs = Jobs::of(&[entry], &work.rack, KERF, 1, &[]);
        let offered = fitting.fits.iter().any(|f| f.0 == stock.id);
        assert_eq!(jobs.troubles.is_empty(), offered, "{}", stock.name);
    }
}

#[test]
fn the_missing_size_is_added_and_picked_in_one_step() {
    let mut work = Work::default();
    let shop = Shop::default();
    for (sizes, name, measures) in [
        // A 2×3 is 1 1/2 by 2 1/2, on edge or flat; what no yard names is called by its sizes.
        ((1.5, 2.5), "2\u{d7}3", (1.5, 2.5, false)),
        ((2.25, 0.75), "3/4 \u{d7} 2 1/4", (0.75, 2.25, false)),
        // 20 in wide is no board.
        ((20.0, 0.5), "1/2 \u{d7} 48 sheets", (0.5, 48.0, true)),
    ] {
        let id = part(&mut work, sizes.0, sizes.1);
        let (of, stock) = work.fitting(Some(id), Unit::Inch).missing.expect("it is missing");
        assert_eq!((of, stock.name.as_str()), (id, name));
        let count = work.rack.stocks.len();
        work.apply(WorkEdit::AddStockFor(id), &shop);
        assert_eq!(work.rack.stocks.len(), count + 1);
        let picked = work.rack.stock_of(work.part(id).expect("there").stock).expect("picked");
        assert_eq!((picked.thickness.0, picked.width.0, picked.sheet), measures);
        assert_eq!(work.fitting(Some(id), Unit::Inch).missing, None);
    }
    // With a size that is the stock's own there is nothing to add.
    work.apply(WorkEdit::AddPart(LOOSE), &shop);
    let id = work.parts.last().expect("a part").id;
    assert_eq!(work.fitting(Some(id), Unit::Inch).missing, None);
}

/// Parts without stock: one tap takes those that fit along, the rest still wait.
#[test]
fn all_that_fit_are_cut_from_one_stock() {
    let mut work = Work::default();
    let shop = Shop::default();
    let (slat, leg) = (part(&mut work, 2.5, 0.75), part(&mut work, 3.5, 1.5));
    for e in &mut work.parts {
        e.stock = None;
    }
    work.apply(WorkEdit::CutFrom { id: None, stock: Some(2) }, &shop);
    assert_eq!(work.part(slat).expect("there").stock, Some(2));
    assert_eq!(work.part(leg).expect("there").stock, None);
    let leg = work.part(leg).expect("there");
    assert_eq!(fit(work.rack.stock(5).expect("2\u{d7}4"), leg), Ok(Fit::Whole));
}

/// Asked once: all boards take the answer but one with a trim of its own, and new ones, too; files keep it.
#[test]
fn end_trim_is_answered_once() {
    let mut work = Work::default();
    let shop = Shop::default();
    assert_eq!(work.rack.trim, None);
    let entry = Entry { stock: Some(3), length: Length(20.0), ..Entry::default() };
    work.parts.push(Entry { id: 1, ..entry });
    let told = |work: &Work| said(&trim_sentence(&work.jobs(&shop), &work.rack).expect("boards"));
    assert!(told(&work).contains("until you say"));
    let write = |work: &mut Work, row, key, text: &str| {
        work.apply(WorkEdit::Rack { row, key, text: text.into() }, &shop);
    };
    write(&mut work, Row::Stock(5), "trim_left", "2");
    write(&mut work, Row::Settings, "trim", "0");
    assert_eq!(work.rack.trim, Some(Length::ZERO));
    assert_eq!(told(&work), "Counted with no end trim.");
    write(&mut work, Row::Settings, "trim", "1/2");
    let trims: Vec<f64> = work.rack.stocks.iter().map(|s| s.trim_left.0).collect();
    assert_eq!(trims, [0.5, 0.5, 0.5, 0.5, 2.0, 0.0], "no sheet, and no trim of its own");
    assert_eq!(told(&work), "Counted with 1/2 in trimmed off each end of a board you buy.");
    write(&mut work, Row::Stock(3), "trim_right", "1");
    assert!(told(&work).ends_with("1\u{d7}4 pine: 1/2 in left, 1 in right."), "{}", told(&work));
    work.apply(
        WorkEdit::AddStock { of: Some(yard_sections(false)[0]), wood: String::new() },
        &shop,
    );
    assert_eq!(work.rack.stocks.last().expect("new").trim_right, Length(0.5));
    let bench = save::Bench { work, ..save::Bench::default() };
    let opened = save::read(&save::write(&bench));
    assert_eq!((opened.bench.work.rack, opened.repaired), (bench.work.rack, Vec::<String>::new()));
}

fn stops_and_cuts(stock: Stock, entries: &[Entry]) -> (Vec<String>, Summary) {
    let rack = Rack { stocks: vec![Stock { id: 1, ..stock }], ..Rack::default() };
    let jobs = Jobs::of(entries, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let summary = Summary::of(&jobs, &planned, false, &rack, entries);
    let saw = offsquare_cuts::saw::SawProfile::usual();
    let all = order_lines(&jobs.jobs[0], &summary.shown[0], entries, &saw);
    let text = |l: &OrderLine| match l {
        OrderLine::Saw(t) | OrderLine::Stop(t) | OrderLine::Cut(t) => said(t),
    };
    (all.iter().map(text).collect(), summary)
}

fn pine(owned: Vec<Owned>, trim: f64) -> Stock {
    let sold = Sold { length: Length(72.0), price: Money(438), ..Sold::default() };
    Stock {
        name: "pine".into(),
        thickness: Length(0.75),
        width: Length(3.5),
        trim_left: Length(trim),
        trim_right: Length(trim),
        sold: vec![sold],
        owned,
        ..Stock::default()
    }
}

fn slats(count: u32, length: f64) -> Entry {
    Entry {
        id: 1,
        name: "Slat".into(),
        count,
        stock: Some(1),
        length: Length(length),
        ..Entry::default()
    }
}

/// Of 6 ft, four slats of 16 1/2 and their kerfs leave 72 − 4 · 16 5/8 = 5 1/2: 120 slats are 30 boards, all cut alike,
/// and the whole order is three lines.
#[test]
fn boards_cut_alike_stand_once() {
    let (lines, summary) = stops_and_cuts(pine(Vec::new(), 0.0), &[slats(120, 16.5)]);
    let wanted = [
        "Set the saw square.",
        "Stop block at 16 1/2 in: Slat, 120 pieces.",
        "30 boards alike, 1 to 30: 4 each against the stop.",
    ];
    assert_eq!(lines, wanted);
    assert_eq!((summary.shown[0].lying.len(), summary.shown[0].cuts()), (1, 120));
    // Two more are a board of their own.
    let (lines, summary) = stops_and_cuts(pine(Vec::new(), 0.0), &[slats(122, 16.5)]);
    assert_eq!(lines.len(), 4, "{lines:#?}");
    assert!(lines.contains(&"Board 31: 2 against the stop.".to_owned()), "{lines:#?}");
    assert_eq!(summary.shown[0].cuts(), 122);
}

/// A trim is a cut of its own on every board, whether all have one trim or an offcut on hand has none: its left end is
/// good, the 1/2 in of the bought board's is not.
#[test]
fn a_trimmed_end_is_cut() {
    let (lines, _) = stops_and_cuts(pine(Vec::new(), 0.5), &[slats(8, 16.5)]);
    assert!(
        lines.contains(&"2 boards alike, 1 and 2: mark 1/2 in; blade left of the line.".to_owned()),
        "{lines:#?}"
    );
    let own = vec![Owned { length: Length(20.0), count: 1, ..Owned::default() }];
    let (lines, summary) = stops_and_cuts(pine(own, 0.5), &[slats(5, 16.5)]);
    let bought = summary.shown[0].lying.iter().find(|l| !l.board.is_owned()).expect("one");
    let trim = format!("Board {}: mark 1/2 in; blade left of the line.", bought.number);
    assert_eq!(lines.iter().filter(|l| l.contains("mark 1/2 in")).count(), 1, "{lines:#?}");
    assert!(lines.contains(&trim), "{lines:#?}");
}

/// Miters on blanks, the plain plan: each end is one line for all blanks.
#[test]
fn blanks_alike_stand_once() {
    let brace =
        Entry { left: PartEnd::mitered(45.0), right: PartEnd::mitered(-45.0), ..slats(12, 20.0) };
    let rack = Rack { stocks: vec![Stock { id: 1, ..pine(Vec::new(), 0.0) }], ..Rack::default() };
    let list = [brace];
    let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let summary = Summary::of(&jobs, &planned, true, &rack, &list);
    let saw = offsquare_cuts::saw::SawProfile::usual();
    let all = order_lines(&jobs.jobs[0], &summary.shown[0], &list, &saw);
    let blanks: Vec<String> = all
        .iter()
        .filter_map(|l| match l {
            OrderLine::Cut(t) => Some(said(t)),
            _ => None,
        })
        .filter(|t| t.contains("lank"))
        .collect();
    assert_eq!(blanks.len(), 2, "{blanks:#?}");
    assert!(blanks.iter().all(|t| t.starts_with("12 blanks of Slat: mark ")), "{blanks:#?}");
    assert_eq!(summary.shown[0].cuts(), 12 + 24);
}

/// 2 1/2 in wide with parallel ends of 30°: each edge lacks 2.5 tan 30° = 1.443 in of the length to buy. A frame side of
/// 45° ends: 20 outside is 20 − 2 · 2.5 = 15 inside.
#[test]
fn a_row_shows_the_edge_that_a_tape_takes() {
    let own = |left: f64, right: f64, length: f64| Entry {
        length: Length(length),
        seen: Some(Length(2.5)),
        left: PartEnd::mitered(left),
        right: PartEnd::mitered(right),
        ..Entry::default()
    };
    let told = |e: &Entry| said(&e.lengths_said(None));
    assert_eq!(told(&own(0.0, 0.0, 27.5)), "27 1/2 in");
    let (long, short) = own(30.0, -30.0, 53.25).edges(None).expect("edges");
    let edge = 53.25 - 2.5 * 30f64.to_radians().tan();
    assert!((long.0 - edge).abs() < 1e-9 && (short.0 - edge).abs() < 1e-9);
    assert!(
        told(&own(30.0, -30.0, 53.25)).starts_with("edge 51 13/16 in"),
        "{}",
        told(&own(30.0, -30.0, 53.25))
    );
    assert!(told(&own(30.0, -30.0, 53.25)).ends_with("to buy 53 1/4 in"));
    assert_eq!(told(&own(45.0, 45.0, 20.0)), "long edge 20 in, short edge 15 in");
    assert_eq!(told(&own(45.0, -45.0, 20.0)), "edge 17 1/2 in, to buy 20 in");
    // Wider stock than the part knows of, a bevel, ends that cross: the length alone.
    let beveled = Entry { left: PartEnd { bevel: 10.0, ..PartEnd::SQUARE }, ..own(0.0, 0.0, 20.0) };
    assert_eq!(told(&beveled), "20 in");
    assert_eq!(own(60.0, 60.0, 4.0).edges(None), None);
    assert_eq!(Entry { seen: None, ..own(45.0, -45.0, 20.0) }.edges(None), None);
}

/// What is copied is what the screen tells: prices, boards with their parts, every line of the order, boards alike once.
#[test]
fn the_copied_text_tells_what_the_screen_tells() {
    let mut work = Work::default();
    let shop = Shop::default();
    work.rack.stocks = vec![Stock { id: 1, ..pine(Vec::new(), 0.0) }];
    work.parts = vec![slats(120, 16.5)].into();
    let jobs = work.jobs(&shop);
    let planned = worked(&jobs, 0);
    let summary = work.summary(&jobs, &planned);
    let text = boards_text(&work, &shop, &jobs, &summary);
    let wanted = [
        "pine",
        "Buy 30 \u{d7} 6 ft at $4.38: $131.40",
        "30 boards alike, 1 to 30, 6 ft: 4 \u{d7} Slat 16 1/2 in",
        "Stop block at 16 1/2 in: Slat, 120 pieces.",
        "30 boards alike, 1 to 30: 4 each against the stop.",
        "All boards: $131.40",
    ];
    let all: Vec<&str> = text.lines().collect();
    for line in wanted {
        assert_eq!(all.iter().filter(|l| **l == line).count(), 1, "{line}\n{text}");
    }
    let lines = order_lines(&jobs.jobs[0], &summary.shown[0], &work.parts, &shop.saw);
    for line in &lines {
        let (OrderLine::Saw(t) | OrderLine::Stop(t) | OrderLine::Cut(t)) = line;
        assert!(all.contains(&said(t).as_str()), "{}\n{text}", said(t));
    }
}
