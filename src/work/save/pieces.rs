//! Pieces as they are stored: *Loose parts* always there, every part in a piece that there is.

use super::lost::too_many;
use crate::cutlist::{MOST_PARTS, PartEnd};
use crate::piece::{LOOSE, MOST_PICTURES, MOST_PIECES, Override, Piece, Work};
use crate::price::{Filled, Form, MOST_LINES};
use offsquare_units::num::Gather;
use std::collections::BTreeSet;

/// The list of pieces: each id once, *Loose parts* first.
pub(super) fn whole(work: &mut Work, repaired: &mut Vec<String>) {
    let before = work.pieces.len();
    let mut ids = BTreeSet::new();
    work.pieces.retain(|p| p.id < u32::MAX / 2 && ids.insert(p.id));
    if before > work.pieces.len() {
        let lost = before - work.pieces.len();
        repaired.push(format!("Pieces that could not be told apart were set aside: {lost}."));
    }
    let loose = work.pieces.iter().position(|p| p.id == LOOSE);
    let loose = loose.map_or_else(Piece::default, |at| work.pieces.remove(at));
    work.pieces.insert(0, loose);
    if work.pieces.len() > MOST_PIECES + 1 {
        let more = work.pieces.len() - MOST_PIECES - 1;
        repaired.push(too_many("the pieces", MOST_PIECES, more));
        work.pieces.truncate(MOST_PIECES + 1);
    }
}

/// What belongs to each.
pub(super) fn apart(work: &mut Work, repaired: &mut Vec<String>) {
    let known: BTreeSet<u32> = work.pieces.iter().map(|p| p.id).collect();
    let parts = work.parts.iter_mut().map(|e| &mut e.piece);
    let mut strangers = 0;
    for piece in parts.chain(work.sources.iter_mut().map(|s| &mut s.piece)) {
        if !known.contains(piece) {
            *piece = LOOSE;
            strangers += 1;
        }
    }
    if strangers > 0 {
        repaired.push(format!(
            "Parts and layouts of pieces that are not in this file are loose parts now: {strangers}."
        ));
    }
    let sources: BTreeSet<(u32, u32)> = work.sources.iter().map(|s| (s.id, s.piece)).collect();
    let mut lost = 0;
    for piece in &mut work.pieces {
        if piece.pattern.is_some_and(|id| !sources.contains(&(id, piece.id))) {
            piece.pattern = None;
            lost += 1;
        }
        let before = piece.overrides.len();
        let mut told = BTreeSet::new();
        piece.overrides.retain(|o| can_be(o) && told.insert((o.part.clone(), o.line())));
        piece.overrides.truncate(MOST_PARTS);
        let pictures = piece.pictures.len();
        piece.pictures.retain(|id| !id.is_empty() && id.len() <= 60);
        piece.pictures.truncate(MOST_PICTURES);
        lost += pictures - piece.pictures.len();
        lost += before - piece.overrides.len();
    }
    if lost > 0 {
        repaired.push(format!(
            "Patterns that are not there, overrides that could not be true, and pictures beyond {MOST_PICTURES} of a piece, were set aside: {lost}."
        ));
    }
}

/// Texts of prices that could never have been typed, and lists without end.
pub(super) fn prices(work: &mut Work, repaired: &mut Vec<String>) {
    fn lines<F: Form>(all: &mut Vec<Filled<F>>) -> usize {
        let more = all.len().saturating_sub(MOST_LINES);
        all.truncate(MOST_LINES);
        all.iter_mut().fold(more, |sum, line| sum + line.mend())
    }
    let mut wrong = work.rates.mend() + lines(&mut work.shelf);
    for piece in &mut work.pieces {
        let p = &mut piece.priced;
        wrong += p.terms.mend() + lines(&mut p.hardware) + lines(&mut p.finish);
        wrong += lines(&mut p.steps) + lines(&mut p.seen) + lines(&mut p.tried);
    }
    if wrong > 0 {
        repaired.push(format!("Figures of prices that could not be read were set aside: {wrong}."));
    }
}

/// A part whose layout is gone stays, and follows nothing.
pub(super) fn unfollow(work: &mut Work) {
    let known: BTreeSet<u32> = work.sources.iter().map(|s| s.id).collect();
    for e in &mut work.parts {
        if e.from.as_ref().is_some_and(|f| !known.contains(&f.source)) {
            e.from = None;
        }
    }
}

/// Puts right what belongs to what is no longer there, after changes of two tabs have met.
pub fn mend(work: &mut Work) {
    let pieces: BTreeSet<u32> = work.pieces.iter().map(|p| p.id).collect();
    let sources: BTreeSet<u32> = work.sources.iter().map(|s| s.id).collect();
    let sound = work.pieces.first().is_some_and(|p| p.id == LOOSE)
        && work.pieces.iter().all(|p| p.pattern.is_none_or(|id| sources.contains(&id)))
        && work.sources.iter().all(|s| pieces.contains(&s.piece))
        && work.parts.iter().all(|e| {
            let followed = e.from.as_ref().is_none_or(|f| sources.contains(&f.source));
            pieces.contains(&e.piece) && followed
        });
    if !sound {
        let mut said = Vec::new();
        whole(work, &mut said);
        apart(work, &mut said);
        unfollow(work);
    }
}

fn can_be(o: &Override) -> bool {
    let ends: Vec<_> = [o.left, o.right].into_iter().flatten().gather();
    o.length.is_none_or(|l| l.0 > 0.0 && l.0 <= 12_000.0)
        && ends.into_iter().all(|e| PartEnd::from(e).can_be())
        && o.count.is_none_or(|n| n <= 10_000)
}
