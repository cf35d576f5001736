//! Jobs and plans as plain words, for the way between page and worker. Numbers that are not whole go as
//! their bits: what arrives is what was sent, and nobody has to read decimals (whose tables are 10 KB of
//! the first load).

use super::Jobs;
use super::rips::blank;
use crate::boards::guillotine::{self, Grain, Piece, Saw, Then};
use crate::boards::{BoardKind, CutBoard, Instance, PartKind, Placement, Plan, quotient};
use std::fmt::Write;

/// A number that is not whole, as a word.
pub(super) struct Bits(pub f64);

impl std::fmt::Display for Bits {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        write!(f, "x{:x}", self.0.to_bits())
    }
}

/// A number that can be read from a word.
pub(super) trait Word: Sized {
    fn read(word: &str) -> Option<Self>;
}

impl Word for f64 {
    /// Or decimals, as boards were kept before: at most 24 places.
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

/// Words of a message, read one by one.
pub(super) struct Words<'a>(pub std::str::SplitAsciiWhitespace<'a>);

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
    /// How many of something follow; more than could be sent is no answer.
    pub fn count(&mut self) -> Option<usize> {
        self.number::<usize>().filter(|n| *n <= 1_000_000)
    }
}

/// One job as the worker takes it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Wanted {
    pub rest: Instance,
    /// For one piece of the batch, with all boards.
    pub one: Instance,
    pub gives: Vec<f64>,
}

fn limit(l: Option<u64>) -> String {
    l.map_or_else(|| "-".to_owned(), |n| n.to_string())
}

/// All jobs as a request.
pub(super) fn write_jobs(id: u32, jobs: &Jobs, curve: u32) -> String {
    let mut out = format!("plan {id} {curve} {}", jobs.jobs.len());
    for job in &jobs.jobs {
        let i = &job.rest;
        let _ = write!(
            out,
            " {} {} {} {} {}",
            Bits(i.width),
            Bits(i.kerf),
            Bits(i.trim),
            i.boards.len(),
            i.parts.len()
        );
        for (b, full) in i.boards.iter().zip(&job.instance.boards) {
            let _ = write!(
                out,
                " {} {} {} {}",
                Bits(b.length),
                Bits(b.price),
                limit(b.limit),
                limit(full.limit)
            );
        }
        for (n, p) in i.parts.iter().enumerate() {
            let _ = write!(
                out,
                " {} {} {} {} {} {} {}",
                p.qty,
                job.each[n],
                Bits(p.length),
                Bits(p.left),
                Bits(p.right),
                u8::from(p.one_good_face),
                Bits(job.gives[n].max(0.0))
            );
        }
    }
    let _ = write!(out, " {}", jobs.rips.len());
    for job in &jobs.rips {
        let i = &job.rest;
        let _ = write!(
            out,
            " {} {} {} {} {}",
            u8::from(job.is_sheet()),
            Bits(i.kerf),
            Bits(i.trim),
            i.boards.len(),
            i.parts.len()
        );
        for (b, full) in i.boards.iter().zip(&job.instance.boards) {
            let _ = write!(
                out,
                " {} {} {} {} {}",
                Bits(b.length),
                Bits(b.width),
                Bits(b.price),
                limit(b.limit),
                limit(full.limit)
            );
        }
        for (n, p) in i.parts.iter().enumerate() {
            let grain = u8::from(p.grain == Grain::Free) + 2 * u8::from(job.across[n]);
            let (each, give) = (job.each[n], job.gives[n]);
            let _ = write!(
                out,
                " {} {each} {} {} {grain} {} {}",
                p.qty,
                Bits(p.length),
                Bits(p.width),
                Bits(give.0),
                Bits(give.1)
            );
        }
    }
    out
}

/// One job in strips as the worker takes it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct WantedRip {
    pub rest: guillotine::Instance,
    /// For one piece of the batch, with all boards.
    pub one: guillotine::Instance,
    /// By part: how much shorter and how much narrower, along and across the board.
    pub shorter: Vec<(f64, f64)>,
    pub narrower: Vec<(f64, f64)>,
}

pub(super) fn read_rips(words: &mut Words) -> Option<Vec<WantedRip>> {
    let mut out = Vec::new();
    for _ in 0..words.count()? {
        let sheet = words.number::<u8>()? == 1;
        let (kerf, trim) = (words.number()?, words.number()?);
        let (boards, parts) = (words.count()?, words.count()?);
        let mut job = WantedRip {
            rest: blank(sheet, kerf, trim),
            one: blank(sheet, kerf, trim),
            shorter: Vec::new(),
            narrower: Vec::new(),
        };
        for n in 0..boards {
            let kind = guillotine::BoardKind {
                id: n.to_string(),
                length: words.number()?,
                width: words.number()?,
                price: words.number()?,
                limit: words.maybe()?,
            };
            let limit = words.maybe()?;
            let full = guillotine::BoardKind { limit, ..kind.clone() };
            job.one.boards.push(full);
            job.rest.boards.push(kind);
        }
        for n in 0..parts {
            let (qty, each) = (words.number()?, words.number()?);
            let (length, width) = (words.number()?, words.number()?);
            let lies: u8 = words.number()?;
            let (short, narrow) = (words.number()?, words.number()?);
            let kind = guillotine::PartKind {
                id: n.to_string(),
                qty,
                length,
                width,
                grain: if lies & 1 == 1 { Grain::Free } else { Grain::Along },
            };
            let across = lies & 2 == 2;
            let way = |give, across| if across { (0.0, give) } else { (give, 0.0) };
            job.shorter.push(way(short, across));
            job.narrower.push(way(narrow, !across));
            job.one.parts.push(guillotine::PartKind { qty: each, ..kind.clone() });
            job.rest.parts.push(kind);
        }
        out.push(job);
    }
    Some(out)
}

/// A plan in strips, with its tree of cuts.
pub(super) fn write_rip(plan: &guillotine::Plan) -> String {
    let mut out = format!(
        "{} {} {} {} {}",
        Bits(plan.price),
        Bits(plan.bound),
        u8::from(plan.proven),
        u8::from(plan.proven_all),
        plan.boards.len()
    );
    for b in &plan.boards {
        let _ = write!(out, " {} {}", b.board, b.parts.len());
        for p in &b.parts {
            let _ = write!(out, " {} {} {} {}", p.part, u8::from(p.turned), Bits(p.x), Bits(p.y));
        }
        write_pieces(&mut out, &b.pieces);
    }
    out
}

/// A board's tree of cuts.
pub(super) fn write_pieces(out: &mut String, pieces: &[Piece]) {
    let maybe = |p: Option<usize>| limit(p.map(|p| p as u64));
    let _ = write!(out, " {}", pieces.len());
    for p in pieces {
        let _ = write!(out, " {} {} {} {}", Bits(p.x), Bits(p.y), Bits(p.length), Bits(p.width));
        let _ = match p.then {
            Then::Rest => write!(out, " e"),
            Then::Part(n) => write!(out, " p {n}"),
            Then::Cut { saw, at, first, second } => {
                let word = if saw == Saw::Rip { "r" } else { "c" };
                write!(out, " {word} {} {} {}", Bits(at), maybe(first), maybe(second))
            }
        };
    }
}

pub(super) fn read_pieces(words: &mut Words) -> Option<Vec<Piece>> {
    let mut pieces = Vec::new();
    for _ in 0..words.count()? {
        pieces.push(Piece {
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
        });
    }
    Some(pieces)
}

pub(super) fn read_rip(words: &mut Words) -> Option<guillotine::Plan> {
    let mut plan = guillotine::Plan {
        price: words.number()?,
        bound: words.number()?,
        proven: words.number::<u8>()? == 1,
        proven_all: words.number::<u8>()? == 1,
        leftover: None,
        boards: Vec::new(),
    };
    for _ in 0..words.count()? {
        let board = words.number()?;
        let mut cut = guillotine::CutBoard { board, parts: Vec::new(), pieces: Vec::new() };
        for _ in 0..words.count()? {
            cut.parts.push(guillotine::Placement {
                part: words.number()?,
                turned: words.number::<u8>()? == 1,
                x: words.number()?,
                y: words.number()?,
            });
        }
        cut.pieces = read_pieces(words)?;
        plan.boards.push(cut);
    }
    Some(plan)
}

/// The jobs of a request, behind its id; none where it is not one.
pub(super) fn read_jobs(words: &mut Words) -> Option<Vec<Wanted>> {
    let mut out = Vec::new();
    for _ in 0..words.count()? {
        let (width, kerf, trim) = (words.number()?, words.number()?, words.number()?);
        let (boards, parts) = (words.count()?, words.count()?);
        let mut rest = Instance { width, kerf, trim, boards: Vec::new(), parts: Vec::new() };
        let mut one = rest.clone();
        let mut gives = Vec::new();
        for n in 0..boards {
            let kind = BoardKind {
                id: n.to_string(),
                length: words.number()?,
                price: words.number()?,
                limit: words.maybe()?,
            };
            let limit = words.maybe()?;
            one.boards.push(BoardKind { limit, ..kind.clone() });
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
                one_good_face: words.number::<u8>()? == 1,
            };
            gives.push(words.number()?);
            one.parts.push(PartKind { qty: each, ..kind.clone() });
            rest.parts.push(kind);
        }
        out.push(Wanted { rest, one, gives });
    }
    Some(out)
}

/// A plan.
pub(super) fn write_plan(plan: &Plan) -> String {
    let mut out = format!(
        "{} {} {} {} {} {}",
        Bits(plan.price),
        Bits(plan.bound),
        u8::from(plan.proven),
        u8::from(plan.proven_all),
        Bits(plan.leftover),
        plan.boards.len()
    );
    for b in &plan.boards {
        let _ = write!(out, " {} {}", b.board, b.parts.len());
        for p in &b.parts {
            let lies = u8::from(p.turned) + 2 * u8::from(p.flipped);
            let _ = write!(out, " {} {lies} {}", p.part, Bits(p.x));
        }
    }
    out
}

pub(super) fn read_plan(words: &mut Words) -> Option<Plan> {
    let mut plan = Plan {
        price: words.number()?,
        bound: words.number()?,
        proven: words.number::<u8>()? == 1,
        proven_all: words.number::<u8>()? == 1,
        leftover: words.number()?,
        boards: Vec::new(),
    };
    for _ in 0..words.count()? {
        let mut cut = CutBoard { board: words.number()?, parts: Vec::new() };
        for _ in 0..words.count()? {
            let part = words.number()?;
            let lies: u8 = words.number()?;
            cut.parts.push(Placement {
                part,
                turned: lies & 1 != 0,
                flipped: lies & 2 != 0,
                x: words.number()?,
            });
        }
        plan.boards.push(cut);
    }
    Some(plan)
}
