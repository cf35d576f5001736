//! Jobs and plans as plain words, for messages between page and worker. Numbers that are not whole are sent
//! as their bits, so that they arrive exactly as sent.

use super::board::{CutBoard, Piece, Placement, Saw, Then};
use super::change::Change;
use super::cutting::Cutting;
use super::guillotine::{self, CutKind, Grain};
use super::outcome::Plan;
use super::price::quotient;
use super::sticks::{self, BoardKind, Instance, PartKind};
use offsquare_units::num::Gather;
use std::fmt::Write;

/// A number that is not whole, as a word.
pub struct Bits(pub f64);

impl std::fmt::Display for Bits {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        write!(f, "x{:x}", self.0.to_bits())
    }
}

/// A whole number, or `-` for none.
pub struct Maybe<T>(pub Option<T>);

impl<T: std::fmt::Display> std::fmt::Display for Maybe<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match &self.0 {
            Some(n) => n.fmt(f),
            None => f.write_str("-"),
        }
    }
}

/// A number that can be read from a word.
pub trait Word: Sized {
    fn read(word: &str) -> Option<Self>;
}

impl Word for f64 {
    /// Also reads decimals of at most 24 places, because boards used to be stored that way.
    fn read(word: &str) -> Option<f64> {
        if let Some(bits) = word.strip_prefix('x') {
            return u64::from_str_radix(bits, 16).ok().map(f64::from_bits);
        }
        let (whole, places) = word.split_once('.').unwrap_or((word, ""));
        let digits = format!("{whole}{places}").parse().ok()?;
        (places.len() <= 24).then(|| quotient(digits, 10_u128.pow(places.len() as u32)))
    }
}

macro_rules! whole {
    ($($t:ty),*) => {
        $(impl Word for $t {
            fn read(word: &str) -> Option<$t> {
                word.parse().ok()
            }
        })*
    };
}
whole!(u8, u32, u64, i64, usize);

impl Word for bool {
    fn read(word: &str) -> Option<bool> {
        u8::read(word).map(|n| n == 1)
    }
}

/// Words of a message, read one by one.
pub struct Words<'a>(std::str::SplitAsciiWhitespace<'a>);

impl<'a> Words<'a> {
    /// The words between the blanks.
    pub fn of(text: &'a str) -> Words<'a> {
        Words(text.split_ascii_whitespace())
    }
    /// The next word; none at the end.
    pub fn word(&mut self) -> Option<&'a str> {
        self.0.next()
    }
    /// The next word as a number; none where it is no such number.
    pub fn number<T: Word>(&mut self) -> Option<T> {
        T::read(self.0.next()?)
    }
    /// A number, or `-` for none.
    pub fn maybe<T: Word>(&mut self) -> Option<Option<T>> {
        match self.0.next()? {
            "-" => Some(None),
            word => T::read(word).map(Some),
        }
    }
    /// How many of something follow; none if the count is larger than any message could hold.
    pub fn count(&mut self) -> Option<usize> {
        self.number::<usize>().filter(|n| *n <= 1_000_000)
    }
    /// So many of something, as a count before them says.
    pub fn list<T>(&mut self, one: impl Fn(&mut Words<'a>) -> Option<T>) -> Option<Vec<T>> {
        let mut out = Vec::new();
        for _ in 0..self.count()? {
            out.push(one(self)?);
        }
        Some(out)
    }
}

/// One job of a request.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked<I> {
    /// What is still to be cut, from the boards that are left.
    pub rest: I,
    /// One piece of the batch, with all boards.
    pub one: I,
    /// Changes that may make it nearly fit: smaller parts, then larger boards.
    pub changes: Vec<Vec<Change>>,
}

/// A kind of cutting that can be put in words.
pub trait Spoken: Cutting {
    fn read_job(words: &mut Words) -> Option<Asked<Self>>;
}

/// A plan. Its leftover is found again from the boards.
pub fn write_plan<L>(plan: &Plan<L>) -> String {
    let (proven, all) = (u8::from(plan.proven), u8::from(plan.proven_all));
    let mut out = format!("{} {} {proven} {all}", Bits(plan.price), Bits(plan.bound));
    let _ = write!(out, " {}", plan.boards.len());
    for board in &plan.boards {
        let _ = write!(out, " {} {}", board.board, board.parts.len());
        for p in &board.parts {
            let lies = u8::from(p.turned) + 2 * u8::from(p.flipped);
            let _ = write!(out, " {} {lies} {} {}", p.part, Bits(p.x), Bits(p.y));
        }
        write_pieces(&mut out, &board.pieces);
    }
    out
}

pub fn read_plan(words: &mut Words) -> Option<Plan<()>> {
    Some(Plan {
        price: words.number()?,
        bound: words.number()?,
        proven: words.number()?,
        proven_all: words.number()?,
        leftover: (),
        boards: words.list(|words| {
            let board = words.number()?;
            let parts = words.list(|words| {
                let (part, lies) = (words.number()?, words.number::<u8>()?);
                let (turned, flipped) = (lies & 1 != 0, lies & 2 != 0);
                Some(Placement { part, turned, flipped, x: words.number()?, y: words.number()? })
            })?;
            Some(CutBoard { board, parts, pieces: read_pieces(words)? })
        })?,
    })
}

/// How much bought boards may measure over their nominal length, and width, to be worth telling, in inches.
pub const OVER: (f64, f64) = (0.5, 0.125);

impl Spoken for Instance {
    fn read_job(words: &mut Words) -> Option<Asked<Instance>> {
        let (width, kerf, trim) = (words.number()?, words.number()?, words.number()?);
        let (boards, parts) = (words.count()?, words.count()?);
        let mut rest = Instance { width, kerf, trim, boards: Vec::new(), parts: Vec::new() };
        let mut one = rest.clone();
        let mut gives = Vec::new();
        for n in 0..boards {
            let (id, length, price) = (n.to_string(), words.number()?, words.number()?);
            let kind = BoardKind { id, length, price, limit: words.maybe()? };
            one.boards.push(BoardKind { limit: words.maybe()?, ..kind.clone() });
            rest.boards.push(kind);
        }
        for n in 0..parts {
            let (qty, each) = (words.number()?, words.number()?);
            let kind = PartKind {
                id: n.to_string(),
                qty,
                length: words.number()?,
                left: words.number()?,
                right: words.number()?,
                one_good_face: words.number()?,
            };
            gives.push(words.number()?);
            one.parts.push(PartKind { qty: each, ..kind.clone() });
            rest.parts.push(kind);
        }
        Some(Asked { rest, one, changes: sticks::changes(&gives, OVER.0) })
    }
}

impl Spoken for guillotine::Instance {
    fn read_job(words: &mut Words) -> Option<Asked<guillotine::Instance>> {
        let cut = if words.number()? { CutKind::Sheets } else { CutKind::Strips };
        let mut rest = guillotine::Instance::bare(cut, words.number()?, words.number()?);
        let (boards, parts) = (words.count()?, words.count()?);
        let mut one = rest.clone();
        let (mut shorter, mut narrower) = (Vec::new(), Vec::new());
        for n in 0..boards {
            let (id, length, width) = (n.to_string(), words.number()?, words.number()?);
            let price = words.number()?;
            let kind = guillotine::BoardKind { id, length, width, price, limit: words.maybe()? };
            one.boards.push(guillotine::BoardKind { limit: words.maybe()?, ..kind.clone() });
            rest.boards.push(kind);
        }
        for n in 0..parts {
            let (qty, each) = (words.number()?, words.number()?);
            let (id, length, width) = (n.to_string(), words.number()?, words.number()?);
            let lies: u8 = words.number()?;
            let (short, narrow) = (words.number()?, words.number()?);
            let grain = if lies & 1 == 1 { Grain::Free } else { Grain::Along };
            let kind = guillotine::PartKind { id, qty, length, width, grain };
            let across = lies & 2 == 2;
            let way = |give, across| if across { (0.0, give) } else { (give, 0.0) };
            shorter.push(way(short, across));
            narrower.push(way(narrow, !across));
            one.parts.push(guillotine::PartKind { qty: each, ..kind.clone() });
            rest.parts.push(kind);
        }
        let changes = changes(&rest, shorter, narrower);
        Some(Asked { rest, one, changes })
    }
}

/// Lengths alone, widths alone, or both: off the parts, and onto the boards.
fn changes(
    job: &guillotine::Instance,
    shorter: Vec<(f64, f64)>,
    narrower: Vec<(f64, f64)>,
) -> Vec<Vec<Change>> {
    let both = shorter.iter().zip(&narrower).map(|(s, n)| (s.0 + n.0, s.1 + n.1)).gather();
    let gives = |gives| Change { gives, ..Change::default() };
    // A part as wide as its board grows with it.
    let widest = job.boards.iter().map(|b| b.width).fold(0.0, f64::max);
    let grows = job.parts.iter().any(|p| p.width >= widest - 1e-6);
    let (long, wide) = (OVER.0, if grows { 0.0 } else { OVER.1 });
    let over = |over| Change { over, ..Change::default() };
    vec![
        vec![gives(shorter), gives(narrower), gives(both)],
        vec![over((long, 0.0)), over((0.0, wide)), over((long, wide))],
    ]
}

/// A board's tree of cuts.
pub fn write_pieces(out: &mut String, pieces: &[Piece]) {
    let _ = write!(out, " {}", pieces.len());
    for p in pieces {
        let _ = write!(out, " {} {} {} {}", Bits(p.x), Bits(p.y), Bits(p.length), Bits(p.width));
        let _ = match p.then {
            Then::Rest => write!(out, " e"),
            Then::Part(n) => write!(out, " p {n}"),
            Then::Cut { saw, at, first, second } => {
                let word = if saw == Saw::Rip { "r" } else { "c" };
                write!(out, " {word} {} {} {}", Bits(at), Maybe(first), Maybe(second))
            }
        };
    }
}

pub fn read_pieces(words: &mut Words) -> Option<Vec<Piece>> {
    words.list(|words| {
        Some(Piece {
            x: words.number()?,
            y: words.number()?,
            length: words.number()?,
            width: words.number()?,
            then: match words.word()? {
                "e" => Then::Rest,
                "p" => Then::Part(words.number()?),
                word => Then::Cut {
                    saw: if word == "r" { Saw::Rip } else { Saw::Crosscut },
                    at: words.number()?,
                    first: words.maybe()?,
                    second: words.maybe()?,
                },
            },
        })
    })
}
