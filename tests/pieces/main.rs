//! Pieces: what belongs to them, planned together, their patterns and overrides, variants, old files.

mod examples;
mod overrides;
mod stored;
mod together;
mod variants;

use offsquare_planner::Request;
use offsquare_units::{Length, Money, Unit};
use offsquare_work::cutlist::{Jobs, Planned};
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Shop, Work, WorkEdit};
use offsquare_work::rack::{Rack, Sold, Stock};

/// A pattern with some of its sizes typed, in inches.
fn pattern(id: &str, sizes: &[(&str, &str)]) -> Draft {
    let pattern = patterns::find(id).expect("a pattern");
    let mut draft = Draft::fresh(&pattern.layout, &pattern.forms[0], Unit::Inch);
    for (key, text) in sizes {
        draft.set(key, text, Unit::Inch);
    }
    draft
}

/// A trellis of one section, so that all of it is cut from one stock.
fn trellis(height: &str) -> Draft {
    let sizes = [("height", height), ("thickness", "3/4"), ("slat_thickness", "3/4")];
    pattern("slatted_trellis", &sizes)
}

/// Puts a piece in, and gives its id.
fn add(work: &mut Work, pattern: Option<Draft>) -> u32 {
    let id = work.next_piece();
    work.apply(WorkEdit::AddPiece { pattern }, &Shop::default());
    assert!(work.piece(id).is_some());
    id
}

fn write(work: &mut Work, id: u32, key: &'static str, text: &str) {
    work.apply(WorkEdit::Piece { id, key, text: text.to_owned() }, &Shop::default());
}

/// A stock of 3/4 by 1 1/2, sold in one length.
fn one_stock(length: f64, price: i64) -> Rack {
    let sold = vec![Sold { length: Length(length), price: Money(price), ..Sold::default() }];
    let (thickness, width) = (Length(0.75), Length(1.5));
    let stock = Stock { id: 1, name: "strip".into(), thickness, width, sold, ..Stock::default() };
    Rack { stocks: vec![stock], ..Rack::default() }
}

/// The planner, to its end.
fn worked(jobs: &Jobs) -> Planned {
    let mut planned = Planned::new(1, jobs);
    let mut run = Request::new(planned.request(jobs, 0));
    while !run.is_done() {
        for message in run.step(5_000_000) {
            planned.hear(message);
        }
    }
    planned
}
