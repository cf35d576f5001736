//! Parts list, rack and boards as they are stored: read row by row, every number brought back inside
//! its range, and said where it was not.

use super::lost::too_many;
use super::pieces;
use crate::cutlist::{Entry, MOST_PARTS, PartEnd};
use crate::piece::{Begun, LOOSE, MOST_BATCH, MOST_SOURCES, MOST_TICKS, Work};
use crate::rack::{MOST_BAD, MOST_ROWS, MOST_STOCKS, Owned, Stock};
use offsquare_planner::read_pieces;
use offsquare_units::kept::Kept as _;
use offsquare_units::num::Gather;
use offsquare_units::{Length, record};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// The same file as it would be written today; none where it is one already.
///
/// Before version 3 there were no pieces: the batch is that of *Loose parts*. The first files of version 2 have cuts of
/// kept boards as texts of words.
pub(super) fn migrated(whole: &Value) -> Option<Value> {
    let work = whole.get("bench")?.get("work")?.as_object()?;
    let in_words = |kept: &Value| kept.get("cuts").is_some_and(Value::is_string);
    let kept = work.get("kept").and_then(Value::as_array);
    let words = kept.is_some_and(|all| all.iter().any(in_words));
    let batch = work.get("batch").filter(|_| !work.contains_key("pieces"));
    if !words && batch.is_none() {
        return None;
    }
    let mut whole = whole.clone();
    let work = whole["bench"]["work"].as_object_mut()?;
    if !work.contains_key("pieces")
        && let Some(batch) = work.remove("batch")
    {
        work.insert("pieces".into(), json!([{"id": LOOSE, "batch": batch}]));
    }
    for board in work.get_mut("kept").and_then(Value::as_array_mut).into_iter().flatten() {
        let cuts = match board.get("cuts").and_then(Value::as_str) {
            None => continue,
            // A board of sticks.
            Some("") => Value::Null,
            Some(words) => match read_pieces(words) {
                Some(pieces) => pieces.keep(),
                None => continue,
            },
        };
        board["cuts"] = cuts;
    }
    Some(whole)
}

pub(super) fn read(body: &Value, repaired: &mut Vec<String>) -> Work {
    let Some(stored) = body.get("work") else {
        return Work::default();
    };
    let (mut work, wrong): (Work, u32) = record::read(stored);
    if wrong > 0 {
        repaired.push(format!(
            "{wrong} entries of parts and rack could not be read and were set aside."
        ));
    }
    pieces::whole(&mut work, repaired);
    let batches = |work: &Work| work.pieces.iter().map(|p| p.batch).gather();
    let before = (batches(&work), work.rack.tax, work.rack.keep);
    for piece in &mut work.pieces {
        piece.batch = piece.batch.clamp(1, MOST_BATCH);
    }
    work.rack.tax = work.rack.tax.min(40_000);
    work.rack.keep = Length(work.rack.keep.0.clamp(0.0, 12_000.0));
    if before != (batches(&work), work.rack.tax, work.rack.keep) {
        repaired.push(
            "Batch, tax or the length worth keeping was out of range and was brought back.".into(),
        );
    }
    sound(&mut work, repaired);
    if work.begun.as_ref().is_some_and(|run| !is_sound(run)) {
        work.begun = None;
        repaired.push("The run at the saw could not be true and was set aside.".into());
    }
    work
}

/// A run holds what could be a list, a rack and boards of their own.
fn is_sound(run: &Begun) -> bool {
    let mut wrong = Vec::new();
    let of = &run.of;
    let mut work = Work {
        pieces: of.pieces.clone().into(),
        parts: of.parts.clone().into(),
        sources: of.sources.clone().into(),
        rack: of.rack.clone(),
        kept: run.boards().cloned().gather(),
        ..Work::default()
    };
    pieces::whole(&mut work, &mut wrong);
    sound(&mut work, &mut wrong);
    wrong.is_empty() && of.shop.saw.can_be() && run.done.len() <= MOST_TICKS
}

/// Cuts a list to what can be handled, and says so.
fn at_most<T>(rows: &mut Vec<T>, most: usize, what: &str, repaired: &mut Vec<String>) {
    if rows.len() > most {
        repaired.push(too_many(what, most, rows.len() - most));
        rows.truncate(most);
    }
}

/// The rack's lengths for sale and boards on hand, all stock together.
fn rows_at_most(stocks: &mut [Stock], repaired: &mut Vec<String>) {
    let (mut room, mut lost) = (MOST_ROWS, 0);
    for stock in stocks {
        let (sold, owned) = (stock.sold.len(), stock.owned.len());
        stock.sold.truncate(room);
        room -= stock.sold.len();
        stock.owned.truncate(room);
        room -= stock.owned.len();
        lost += sold + owned - stock.sold.len() - stock.owned.len();
    }
    if lost > 0 {
        repaired.push(too_many("the rack\u{2019}s lengths and boards", MOST_ROWS, lost));
    }
}

/// Sets aside what could not be true, brings numbers back inside their ranges, and says so.
pub(super) fn sound(work: &mut Work, repaired: &mut Vec<String>) {
    at_most(&mut work.parts, MOST_PARTS, "the kinds of parts", repaired);
    at_most(&mut work.sources, MOST_SOURCES, "the layouts that parts follow", repaired);
    at_most(&mut work.kept, MOST_ROWS, "the kept boards", repaired);
    at_most(&mut work.rack.stocks, MOST_STOCKS, "the rack\u{2019}s stock", repaired);
    rows_at_most(&mut work.rack.stocks, repaired);
    let before = work.rack.stocks.len() + work.parts.len() + work.sources.len();
    let mut ids = BTreeSet::new();
    work.rack.stocks.retain(|s| size(s.thickness) && size(s.width) && ids.insert(s.id));
    let mut ids = BTreeSet::new();
    work.parts.retain(|e| {
        ids.insert(e.id) && size(e.length) && e.seen.is_none_or(size) && e.away.is_none_or(size)
    });
    // A layout that is not known here, or has not come yet, is followed where it is.
    work.sources.retain(|s| match s.draft.layout() {
        Some(_) => s.draft.form().is_some(),
        None => !s.draft.layout.is_empty(),
    });
    let lost = before - work.rack.stocks.len() - work.parts.len() - work.sources.len();
    if lost > 0 {
        repaired
            .push(format!("Rows of parts and rack that could not be true were set aside: {lost}."));
    }
    let mut clamped = work.rack.trim.as_mut().map_or(0, |trim| inside(trim, Length(12_000.0)));
    for stock in &mut work.rack.stocks {
        clamped += stock_inside(stock);
    }
    for e in &mut work.parts {
        clamped += part_inside(e);
    }
    if clamped > 0 {
        repaired.push(format!(
            "Numbers of parts and rack that were out of range were brought back: {clamped}."
        ));
    }
    pieces::apart(work, repaired);
    pieces::prices(work, repaired);
    pieces::unfollow(work);
}

fn size(l: Length) -> bool {
    l.0 > 0.0 && l.0 <= 12_000.0
}

/// Brings a length into 0 … `most`; 1 if it was not there.
fn inside(l: &mut Length, most: Length) -> u32 {
    let sound = l.0 >= 0.0 && l.0 <= most.0;
    if !sound {
        *l = if l.0 > most.0 { most } else { Length::ZERO };
    }
    u32::from(!sound)
}

fn stock_inside(stock: &mut Stock) -> u32 {
    let most = Length(12_000.0);
    let mut n = inside(&mut stock.trim_left, most)
        + inside(&mut stock.trim_right, most)
        + stock.mend_prices();
    if stock.nominal.is_some_and(|(t, w)| !(t > 0.0 && t <= 100.0 && w > 0.0 && w <= 100.0)) {
        stock.nominal = None;
        n += 1;
    }
    for s in &mut stock.sold {
        n += inside(&mut s.length, most) + inside(&mut s.over, most);
    }
    for o in &mut stock.owned {
        n += owned_inside(o);
    }
    n
}

fn owned_inside(o: &mut Owned) -> u32 {
    let most = Length(12_000.0);
    let mut n = inside(&mut o.length, most);
    if o.width.is_some_and(|w| !size(w)) {
        o.width = None;
        n += 1;
    }
    let length = o.length;
    n += inside(&mut o.trim_left, length) + inside(&mut o.trim_right, length);
    if o.count > 10_000 {
        o.count = 10_000;
        n += 1;
    }
    let before = o.bad.len();
    o.bad.truncate(MOST_BAD);
    o.bad.retain(|(from, to)| from.0 >= 0.0 && to > from && to.0 <= 12_000.0);
    n + (before - o.bad.len()) as u32
}

fn part_inside(e: &mut Entry) -> u32 {
    let mut n = 0;
    if e.count > 10_000 {
        e.count = 10_000;
        n += 1;
    }
    let length = e.length;
    n += inside(&mut e.give, length) + inside(&mut e.shortened, length * 0.99);
    n += inside(&mut e.narrowed, Length(12_000.0));
    for end in [&mut e.left, &mut e.right] {
        if !end.can_be() {
            *end = PartEnd::SQUARE;
            n += 1;
        }
    }
    let before = e.on_blank.len();
    e.on_blank.retain(crate::cutlist::BlankCut::is_sound);
    n + (before - e.on_blank.len()) as u32
}
