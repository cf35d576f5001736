//! The cut sheet: read back, it tells the run that is walked on the screen, with nothing through its words and nothing
//! outside the safe area.

use crate::jobs::PAPERS;
use crate::reader::{Page, pages};
use offsquare_cuts::facts::SAFE_ON_BOTH;
use offsquare_paper::report::{CutSheet, Row, cut_sheet};
use offsquare_paper::square_code::{ON_PAPER, SquareCode};
use offsquare_paper::writers::pdf::write_cut_sheet;
use offsquare_planner::Request;
use offsquare_units::{Currency, Length, Money, Style, Unit, say};
use offsquare_work::cutlist::{Jobs, Planned, Summary};
use offsquare_work::patterns;
use offsquare_work::piece::{Begun, Draft, LOOSE, Shop, Work, WorkEdit};
use offsquare_work::rack::{Rack, Sold, Stock};
use offsquare_work::walk::{Walk, What};
use std::collections::BTreeMap;

fn planned(work: &Work, shop: &Shop) -> (Jobs, Summary) {
    let jobs = work.jobs(shop);
    let mut planned = Planned::new(1, &jobs);
    let mut run = Request::new(planned.request(&jobs, 0, &Jobs::default()));
    while !run.is_done() {
        run.step(20_000_000).into_iter().for_each(|m| {
            planned.hear(m);
        });
    }
    let summary = work.summary(&jobs, &planned);
    (jobs, summary)
}

fn run_of(work: &Work, shop: &Shop) -> Begun {
    let (jobs, summary) = planned(work, shop);
    assert!(!summary.shown.is_empty());
    work.to_cut(&jobs, &summary, shop)
}

/// Twelve of the gate of the examples: miters, rips, many parts alike.
fn gates(batch: &str, shop: &Shop) -> Work {
    let mut work = Work::default();
    work.apply(WorkEdit::Example(LOOSE, 0), shop);
    work.apply(WorkEdit::Piece { id: LOOSE, key: "batch", text: batch.into() }, shop);
    work
}

fn patterned(id: &str, shop: &Shop) -> Work {
    let mut work = Work::default();
    let pattern = patterns::find(id).expect("a pattern");
    let draft = Draft::fresh(&pattern.layout, &pattern.forms[0], Unit::Inch);
    work.apply(WorkEdit::AddPiece { pattern: Some(draft) }, shop);
    work.rack.stocks.clear();
    for e in &work.parts.clone() {
        let (Some(seen), Some(away)) = (e.seen, e.away) else { continue };
        let suits = work.rack.suiting(Some(seen), Some(away)).map(|s| s.id);
        let stock = suits.unwrap_or_else(|| {
            let id = work.rack.next_id();
            let sold = Sold { length: Length(200.0), price: Money(900), ..Sold::default() };
            let (width, thickness) = (seen.max(away), seen.min(away));
            let (name, sold) = (format!("stock {id}"), vec![sold]);
            work.rack.stocks.push(Stock { id, name, width, thickness, sold, ..Stock::default() });
            id
        });
        work.apply(WorkEdit::CutFrom { id: Some(e.id), stock: Some(stock) }, shop);
    }
    work
}

/// 120 slats of 16 1/2 in, four from each 6 ft board.
fn slats(shop: &Shop) -> Work {
    let sold = vec![Sold { length: Length(72.0), price: Money(438), ..Sold::default() }];
    let (thickness, width) = (Length(0.75), Length(2.5));
    let stock = Stock { id: 1, name: "pine".into(), thickness, width, sold, ..Stock::default() };
    let mut work =
        Work { rack: Rack { stocks: vec![stock], ..Rack::default() }, ..Work::default() };
    work.apply(WorkEdit::AddPart(LOOSE), shop);
    let id = work.parts.last().expect("a part").id;
    for (key, text) in [("name", "Slat"), ("length", "16 1/2"), ("count", "120")] {
        work.apply(WorkEdit::Part { id, key, text: text.to_owned() }, shop);
    }
    work.apply(WorkEdit::CutFrom { id: Some(id), stock: Some(1) }, shop);
    work
}

fn sheet(begun: &Begun) -> CutSheet {
    cut_sheet("12 \u{d7} Garden gate", begun, &Currency::default(), &Style::default())
}

fn code() -> SquareCode {
    SquareCode::of("https://makers.example/saw/#/open?c=", &"A1".repeat(60), ON_PAPER)
        .expect("a code")
}

fn all_runs() -> Vec<(String, Begun)> {
    let shop = Shop::default();
    let mut out = vec![
        ("gate".to_owned(), run_of(&gates("1", &shop), &shop)),
        ("gates".to_owned(), run_of(&gates("12", &shop), &shop)),
        ("slats".to_owned(), run_of(&slats(&shop), &shop)),
    ];
    for id in ["braced_frame", "post_stand", "splayed_stool", "slatted_trellis"] {
        out.push((id.to_owned(), run_of(&patterned(id, &shop), &shop)));
    }
    out
}

/// All words of a sheet as they stand on the page, lines joined.
fn said(read: &[Page]) -> String {
    read.iter().flat_map(|p| &p.words).map(|w| &*w.text).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_cut_sheet_keeps_to_the_safe_area_and_no_line_runs_through_its_words() {
    let mut found = Vec::new();
    let (mut words, mut count) = (0, 0);
    for (name, begun) in all_runs() {
        let told = sheet(&begun);
        for paper in PAPERS {
            for code in [None, Some(code())] {
                let note = code.is_none().then_some("No code.");
                let file = write_cut_sheet(&told, paper, code.as_ref(), note);
                let read = pages(&file.bytes);
                assert_eq!(read.len(), file.pages, "{name}");
                count += read.len();
                let safe = SAFE_ON_BOTH.value;
                for page in &read {
                    let half = (safe.0.as_mm() / 2.0 + 0.01, safe.1.as_mm() / 2.0 + 0.01);
                    let inside = |(x, y): (f64, f64)| {
                        (x - page.media.0 / 2.0).abs() <= half.0
                            && (y - page.media.1 / 2.0).abs() <= half.1
                    };
                    for w in &page.words {
                        let [x0, y0, x1, y1] = w.rect();
                        assert!(inside((x0, y0)) && inside((x1, y1)), "{name}: {w:?}");
                        words += 1;
                        let through = page.strokes.iter().filter(|s| s.within(w.rect()).is_some());
                        found.extend(through.map(|s| format!("{name}: {:?} by {s:?}", w.text)));
                        // Words do not lie on words.
                    }
                    let all = page.strokes.iter().filter_map(|s| s.within([0.0, 0.0, 1e3, 1e3]));
                    for (a, b) in all {
                        assert!(inside(a) && inside(b), "{name}: {a:?} {b:?}");
                    }
                }
            }
        }
    }
    assert!(words > 1_000 && count > 20, "{words} words on {count} pages");
    assert!(
        found.is_empty(),
        "{} of {words}, such as {:#?}",
        found.len(),
        &found[..found.len().min(40)]
    );
}

#[test]
fn words_do_not_lie_on_one_another() {
    for (name, begun) in all_runs() {
        for page in pages(&write_cut_sheet(&sheet(&begun), PAPERS[1], Some(&code()), None).bytes) {
            for (i, a) in page.words.iter().enumerate() {
                for b in &page.words[i + 1..] {
                    // What a clip hides of a board that goes on in the next row is not read.
                    let seen = |w: &crate::reader::Words| {
                        let r = w.rect();
                        let c = w.clip.unwrap_or(r);
                        [r[0].max(c[0]), r[1].max(c[1]), r[2].min(c[2]), r[3].min(c[3])]
                    };
                    let (a_at, b_at) = (seen(a), seen(b));
                    let apart = a_at[0] >= b_at[2]
                        || b_at[0] >= a_at[2]
                        || a_at[1] >= b_at[3]
                        || b_at[1] >= a_at[3];
                    assert!(apart, "{name}: {a:?} on {b:?}");
                }
            }
        }
    }
}

/// The steps of the sheet are those of the run: as many for each board as are walked, in the same order of settings.
#[test]
fn the_sheet_has_every_step_of_the_run_once_and_its_settings_in_their_order() {
    for (name, begun) in all_runs() {
        let walk = Walk::of(&begun);
        let rows = sheet(&begun).rows;
        let order =
            rows.iter().position(|r| *r == Row::Section("Order of cuts".into())).expect("an order");
        // How many boards the line above a step speaks for.
        let mut boards = 1;
        let mut steps = 0;
        for row in &rows[order..] {
            match row {
                Row::Heading(_) => boards = 1,
                Row::Line(words) => {
                    let first = words.split(' ').next().unwrap_or_default();
                    boards =
                        if words.contains("alike") { first.parse().expect("a number") } else { 1 };
                }
                Row::Step { words, done } => {
                    assert!(!done);
                    let times =
                        words.split_once(" \u{d7} ").and_then(|(n, _)| n.parse::<usize>().ok());
                    steps += boards * times.unwrap_or(1);
                }
                _ => {}
            }
        }
        assert_eq!(steps, walk.stages.len(), "{name}");
        // Every setting as this saw shows it, where the saw is set anew.
        let heads: Vec<&String> = rows[order..]
            .iter()
            .filter_map(|r| if let Row::Heading(words) = r { Some(words) } else { None })
            .collect();
        let anew = walk.stages.iter().filter(|s| matches!(&s.what, What::Cut(c) if c.anew));
        let mut at = heads.iter();
        for stage in anew {
            let card = walk.card(stage, &begun.of.shop.saw, &Style::default());
            for reading in card.readings.iter().take(1) {
                let set = say!("{}", reading.set).render(&Style::default());
                let wanted = if reading.exact.0 > 0.0 { set } else { reading.words() };
                assert!(
                    at.by_ref().any(|head| head.contains(&wanted)),
                    "{name}: {wanted} in {heads:?}"
                );
            }
        }
    }
}

#[test]
fn boards_cut_alike_stand_once_with_what_they_cost_and_the_numbers_of_the_screen() {
    let shop = Shop::default();
    let begun = run_of(&slats(&shop), &shop);
    let told = sheet(&begun);
    let boards = told.rows.iter().filter(|r| matches!(r, Row::Board(_))).count();
    assert_eq!(boards, 1, "30 boards alike are one picture");
    let read = said(&pages(&write_cut_sheet(&told, PAPERS[0], None, Some("No code.")).bytes));
    // 120 of 16 1/2 from 30 boards of 72 at 4.38: 131.40.
    for words in
        ["Buy 30 \u{d7} 6 ft at $4.38: $131.40", "30 boards alike, 1 to 30, 6 ft", "No code."]
    {
        assert!(read.contains(words), "{words}: {read}");
    }
    // The marks in the order are those of the cards of one board, as often.
    let walk = Walk::of(&begun);
    let mut marks: BTreeMap<u32, Vec<String>> = BTreeMap::new();
    for stage in &walk.stages {
        let card = walk.card(stage, &shop.saw, &Style::default());
        let mark = card.rows.iter().find(|(name, _)| *name == "Mark").expect("a mark");
        marks.entry(stage.tick.board).or_default().push(mark.1.render(&Style::default()));
    }
    assert!(marks.values().all(|m| *m == marks[&0]) && marks.len() == 30);
    for mark in &marks[&0] {
        let of_sheet = told.rows.iter().filter(
            |r| matches!(r, Row::Step { words, .. } if words.contains(&format!("Mark: {mark}"))),
        );
        let on_cards = marks[&0].iter().filter(|m| *m == mark).count();
        assert_eq!(of_sheet.count(), on_cards, "{mark}");
    }
    // In another money no word of dollars is left, and a sign that this type has not is left out.
    let crowns = Currency { sign: "kr".into(), after: true, places: 2 };
    let told = cut_sheet("Slats", &begun, &crowns, &Style::default());
    let read = said(&pages(&write_cut_sheet(&told, PAPERS[0], None, None).bytes));
    assert!(read.contains("at 4.38 kr: 131.40 kr") && !read.contains('$'), "{read}");
    let rupees = Currency { sign: "\u{20b9}".into(), after: false, places: 2 };
    let told = cut_sheet("Slats", &begun, &rupees, &Style::default());
    let read = said(&pages(&write_cut_sheet(&told, PAPERS[0], None, None).bytes));
    assert!(read.contains("at 4.38: 131.40") && !read.contains('?'), "{read}");
}

#[test]
fn what_is_done_is_ticked() {
    let shop = Shop::default();
    let mut begun = run_of(&gates("1", &shop), &shop);
    let walk = Walk::of(&begun);
    let ticked = |begun: &Begun| {
        sheet(begun).rows.iter().filter(|r| matches!(r, Row::Step { done: true, .. })).count()
    };
    assert_eq!(ticked(&begun), 0);
    begun.done = walk.stages.iter().map(|s| s.tick).collect();
    let steps = sheet(&begun).rows.iter().filter(|r| matches!(r, Row::Step { .. })).count();
    assert_eq!(ticked(&begun), steps);
}
