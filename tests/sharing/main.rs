//! A piece on its way: what goes in comes out, whatever is done to it on the way ends in a sentence.

mod bombs;
mod codes;
mod hostile;
mod kept_links;
mod round_trip;

use offsquare_tests::dice::Dice;
use offsquare_units::{Length, Money, Unit};
use offsquare_work::cutlist::Entry;
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Offer, Shop, Work, WorkEdit};
use offsquare_work::rack::{Owned, Stock};
use offsquare_work::save::share;

/// A pattern of random sizes; some of them stay as they start.
fn drawn(dice: &mut Dice, unit: Unit) -> Draft {
    let all = patterns::IDS;
    let layout = patterns::asked(all[dice.below(all.len())]).expect("a pattern");
    let form = &layout.forms()[0];
    let mut draft = Draft::fresh(layout, form, unit);
    for field in form.fields {
        let typed = draft.text(field.key).map(|t| t.text.clone());
        if let (Some(text), true) = (typed, dice.one_in(4)) {
            // Near its start, so that most answers are good; a sum now and then.
            let text = match (text.parse::<f64>(), dice.one_in(3)) {
                (Ok(n), false) => format!("{}", n + 0.25 * dice.below(4) as f64),
                (Ok(_), true) => format!("{text} + 1/8"),
                _ => text,
            };
            draft.set(field.key, &text, unit);
        }
    }
    draft
}

/// A bench with a piece of everything that a piece can hold; gives the piece's id.
fn drawn_piece(dice: &mut Dice) -> (Work, u32, Shop) {
    let shop = Shop::default();
    let unit = Unit::ALL[dice.below(3)];
    let mut work = Work::default();
    work.apply(WorkEdit::Example(0, dice.below(4)), &shop);
    work.apply(WorkEdit::AddPiece { pattern: Some(drawn(dice, unit)) }, &shop);
    let pattern = Some(drawn(dice, unit)).filter(|_| !dice.one_in(4));
    let id = work.next_piece();
    work.apply(WorkEdit::AddPiece { pattern }, &shop);
    let mut write = |key, text: String| work.apply(WorkEdit::Piece { id, key, text }, &shop);
    write(
        "name",
        ["Gate", "Gate \u{bd} \u{201c}tall\u{201d}", "<b>&amp;", "\u{6728}"][dice.below(4)].into(),
    );
    write("note", ["", "for the south wall"][dice.below(2)].into());
    write("batch", (1 + dice.below(9)).to_string());
    if dice.one_in(2) {
        let brace = offsquare_cuts::layouts::find("brace").expect("the brace");
        let mut draft = Draft::fresh(brace, &brace.forms()[0], unit);
        draft.set("opening_width", &(20 + dice.below(9)).to_string(), Unit::Inch);
        work.apply(WorkEdit::Follow(id, draft), &shop);
    }
    for _ in 0..dice.below(4) {
        work.apply(WorkEdit::AddPart(id), &shop);
    }
    // What is changed of a layout's sizes lasts until it is worked out again, but for a pattern's.
    let pattern = work.piece(id).and_then(|p| p.pattern);
    let lasts = |e: &Entry| e.from.as_ref().is_none_or(|f| Some(f.source) == pattern);
    let parts: Vec<(u32, bool)> = work.parts_of(id).map(|e| (e.id, lasts(e))).collect();
    for (part, lasts) in parts {
        let mut write = |key, text: &str| {
            work.apply(WorkEdit::Part { id: part, key, text: text.into() }, &shop);
        };
        match dice.below(9) {
            0 => write("count", "3"),
            1 if lasts => write("length", "23 5/8"),
            2 if lasts => write("right", "22.5"),
            3 => write("note", "the curved edge out"),
            4 => write("name", "Slat, second"),
            5 => write("grain", "either"),
            6 => work.apply(WorkEdit::RemovePart(part), &shop),
            7 => work.apply(WorkEdit::CutFrom { id: Some(part), stock: Some(3) }, &shop),
            _ => {}
        }
    }
    (work, id, shop)
}

/// A rack of its own: the names of the usual yard with other prices, and a board on hand.
fn other_rack(work: &mut Work) {
    for stock in &mut work.rack.stocks {
        stock.id += 40;
        stock.sold.iter_mut().for_each(|s| s.price = Money(s.price.0 + 100));
    }
    let (thickness, width) = (Length(1.0), Length(5.0));
    let owned = vec![Owned { length: Length(50.0), count: 1, ..Owned::default() }];
    work.rack.stocks.insert(
        0,
        Stock { id: 7, name: "5/4 oak".into(), thickness, width, owned, ..Stock::default() },
    );
}

fn link(work: &Work, id: u32, shop: &Shop) -> String {
    share::pack(work, id, shop).and_then(|p| p.link()).expect("a link")
}

fn code(work: &Work, id: u32, shop: &Shop) -> String {
    let (address, letters) = share::pack(work, id, shop).expect("a piece").code();
    address + &letters
}

fn file(work: &Work, id: u32, shop: &Shop) -> String {
    share::to_file(work, id, shop).expect("a piece").to_string()
}

fn read(text: &str) -> Result<Offer, String> {
    share::read(text, &Shop::default())
}
