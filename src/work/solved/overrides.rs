//! What the maker changed of a pattern's parts; it holds while the pattern makes them.

use super::fit::{Misfit, Row, misfits};
use super::part::{EndCut, PiecePart};
use offsquare_cuts::parts::End;
use offsquare_units::num::Gather;
use offsquare_units::{Length, num, say};

/// Which of the parts of one name a change is about.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Which {
    #[default]
    All,
    /// One line of the list, from 0, where several have that name.
    Line(u32),
    /// A single part, from 0, counted over all of that name.
    One(u32),
}

/// One change. What is none stays as the pattern has it. `S`: how a stock is told, by its name or by its
/// place in a rack.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Override<S> {
    /// The part's name.
    pub part: String,
    pub which: Which,
    pub stock: Option<S>,
    /// Long point to long point.
    pub length: Option<Length>,
    pub left: Option<EndCut>,
    pub right: Option<EndCut>,
    /// 0: left out.
    pub count: Option<u32>,
}

/// What can be changed of a part, on a list or where it stands.
pub trait Changed {
    type Stock: Clone;
    fn set_stock(&mut self, stock: Self::Stock);
    fn set_length(&mut self, length: Length);
    fn set_end(&mut self, end: End, cut: EndCut);
    fn set_count(&mut self, count: u32);
}

impl<S: Clone> Override<S> {
    /// Changes a part.
    pub fn apply(&self, part: &mut impl Changed<Stock = S>) {
        if let Some(stock) = self.stock.clone() {
            part.set_stock(stock);
        }
        if let Some(length) = self.length {
            part.set_length(length);
        }
        for (end, cut) in [(End::Left, self.left), (End::Right, self.right)] {
            if let Some(cut) = cut {
                part.set_end(end, cut);
            }
        }
        if let Some(count) = self.count {
            part.set_count(count);
        }
    }

    /// Of what it changes in the cutting, the first: "length".
    fn recuts(&self) -> &'static str {
        match (self.length, self.left) {
            (Some(_), _) => "length",
            (None, Some(_)) => "left",
            (None, None) => "right",
        }
    }
}

impl Changed for PiecePart {
    type Stock = String;
    fn set_stock(&mut self, stock: String) {
        self.stick = stock;
    }
    fn set_length(&mut self, length: Length) {
        self.length = length;
    }
    fn set_end(&mut self, end: End, cut: EndCut) {
        *(if end == End::Left { &mut self.left } else { &mut self.right }) = cut;
    }
    fn set_count(&mut self, count: u32) {
        self.qty = count;
        self.bodies.truncate(count as usize);
    }
}

/// The parts with the changes done to them (none of one that is left out), and what of these no longer fits.
///
/// A part that is cut differently stands where it stood, its left end's long point kept, and is shorter or
/// longer at its right end. Where it then runs into another part, or no longer reaches one that it lay on,
/// that is said.
pub fn overridden(
    parts: Vec<PiecePart>,
    changes: &[Override<String>],
) -> (Vec<PiecePart>, Vec<Misfit>) {
    let mut rows: Vec<Row> = parts.into_iter().map(Row::of).gather();
    let mut told: Vec<Misfit> = Vec::new();
    for (i, change) in changes.iter().enumerate() {
        let strays = match picked(&mut rows, change) {
            Err(why) => vec![why],
            Ok(all) => all.into_iter().filter_map(|at| changed(&mut rows[at], i, change)).gather(),
        };
        let misfit = |(key, text): Stray| Misfit { change: i, key, text: say!(text) };
        told.extend(strays.into_iter().map(misfit));
    }
    told.extend(misfits(&rows));
    // Of several parts of one change the first tells.
    let known =
        |told: &[Misfit], m: &Misfit| told.iter().any(|k| (k.change, k.key) == (m.change, m.key));
    let mut once: Vec<Misfit> = Vec::new();
    for misfit in told {
        if !known(&once, &misfit) {
            once.push(misfit);
        }
    }
    num::sort_by(&mut once, |a, b| a.change.cmp(&b.change));
    (rows.into_iter().map(|r| r.part).gather(), once)
}

/// Why a change is kept and does nothing: the key that is to blame, and a sentence.
type Stray = (&'static str, String);

/// Places of the rows that a change is about; a single part is given a row of its own.
fn picked(rows: &mut Vec<Row>, change: &Override<String>) -> Result<Vec<usize>, Stray> {
    let name = PiecePart::key(&change.part);
    let named = |row: &Row| row.part.name == name;
    let all: Vec<usize> = (0..rows.len()).filter(|i| named(&rows[*i])).gather();
    let gone = || {
        let text = "No part has this name any more: the change is kept and does nothing.";
        Err(("part", text.to_owned()))
    };
    match change.which {
        _ if all.is_empty() => gone(),
        Which::All => Ok(all),
        Which::Line(n) => all.get(n as usize).map_or_else(gone, |at| Ok(vec![*at])),
        Which::One(nth) => single(rows, &all, nth).map(|at| vec![at]),
    }
}

/// The place of one of the rows' parts, from 0; it is given a row of its own.
fn single(rows: &mut Vec<Row>, all: &[usize], nth: u32) -> Result<usize, Stray> {
    let mut before = 0;
    let own = all.iter().copied().find(|at| {
        before += rows[*at].part.qty;
        nth < before
    });
    let Some(at) = own else {
        let text = format!("There are only {before} of it: the change is kept and does nothing.");
        return Err(("nth", text));
    };
    let qty = rows[at].part.qty;
    let one = rows[at].single((nth + qty - before) as usize);
    if qty == 1 {
        rows[at] = one;
        return Ok(at);
    }
    rows.insert(at + 1, one);
    Ok(at + 1)
}

/// One row changed by change number `i`; what cannot be shown of it.
fn changed(row: &mut Row, i: usize, change: &Override<String>) -> Option<Stray> {
    let before = row.part.clone();
    change.apply(&mut row.part);
    let (part, places) = (&mut row.part, before.bodies.len());
    if change.count.is_some() && part.bodies.len() < places {
        row.left_out = Some(i);
    }
    let mut told = None;
    if part.qty as usize > places && places == before.qty as usize && places > 0 {
        let text =
            format!("The piece has places for {places} of them: the others are cut as well.");
        told = Some(("qty", text));
    }
    if (before.length, before.left, before.right) == (part.length, part.left, part.right) {
        return told;
    }
    part.outline = None;
    row.recut = Some((i, change.recuts()));
    let bodies = part.bodies.iter().map(|body| before.recut(part, body));
    match bodies.collect::<Option<Vec<_>>>() {
        Some(bodies) => part.bodies = bodies,
        None => {
            part.bodies.clear();
            let text = "It is cut so, but what it then looks like in the piece cannot be shown.";
            told = Some((change.recuts(), text.to_owned()));
        }
    }
    told
}
