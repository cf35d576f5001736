//! Cuts of boards as they were kept before there were records: words between blanks. Numbers that are not whole are
//! their bits (`x3ff8000000000000`), or, still earlier, decimals of at most 24 places.

use super::guillotine::{Piece, Saw, Then};
use super::price::quotient;
use std::str::SplitAsciiWhitespace;

/// A board's tree of cuts; none where the words are no such tree.
///
/// ```
/// // A board ripped at 1 3/4: one part, the rest is left over.
/// let words = "3 0 0 96 5.5 r x3ffc000000000000 1 2 0 0 96 1.75 p 0 0 1.875 96 3.625 e";
/// let pieces = offsquare_planner::read_pieces(words).unwrap();
/// assert_eq!((pieces.len(), pieces[2].y, pieces[2].width), (3, 1.875, 3.625));
/// ```
pub fn read_pieces(words: &str) -> Option<Vec<Piece>> {
    let mut words = words.split_ascii_whitespace();
    let mut pieces = Vec::new();
    for _ in 0..words.next()?.parse::<u32>().ok()? {
        pieces.push(piece(&mut words)?);
    }
    Some(pieces)
}

fn piece(words: &mut SplitAsciiWhitespace) -> Option<Piece> {
    Some(Piece {
        x: size(words)?,
        y: size(words)?,
        length: size(words)?,
        width: size(words)?,
        then: match words.next()? {
            "e" => Then::Rest,
            "p" => Then::Part(words.next()?.parse().ok()?),
            word => Then::Cut {
                saw: if word == "r" { Saw::Rip } else { Saw::Crosscut },
                at: size(words)?,
                first: place(words)?,
                second: place(words)?,
            },
        },
    })
}

fn size(words: &mut SplitAsciiWhitespace) -> Option<f64> {
    let word = words.next()?;
    if let Some(bits) = word.strip_prefix('x') {
        return u64::from_str_radix(bits, 16).ok().map(f64::from_bits);
    }
    let (whole, places) = word.split_once('.').unwrap_or((word, ""));
    let digits = format!("{whole}{places}").parse().ok()?;
    (places.len() <= 24).then(|| quotient(digits, 10_u128.pow(places.len() as u32)))
}

/// Another piece's place, or `-` for none.
fn place(words: &mut SplitAsciiWhitespace) -> Option<Option<usize>> {
    match words.next()? {
        "-" => Some(None),
        word => word.parse().ok().map(Some),
    }
}
