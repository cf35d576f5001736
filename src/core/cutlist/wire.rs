//! Jobs and plans as plain words, for the way between page and worker. Numbers print as Rust prints
//! them, shortest and exact, so that what arrives is what was sent, to the bit.

use super::Jobs;
use crate::boards::guillotine::{self, Cut, Grain, Piece, Saw, Then};
use crate::boards::{BoardKind, CutBoard, Instance, PartKind, Placement, Plan};
use std::fmt::Write;

/// Words of a message, read one by one.
pub(super) struct Words<'a>(pub std::str::SplitAsciiWhitespace<'a>);

impl<'a> Words<'a> {
    pub fn of(text: &'a str) -> Words<'a> {
        Words(text.split_ascii_whitespace())
    }
    pub fn word(&mut self) -> Option<&'a str> {
        self.0.next()
    }
    pub fn number<T: std::str::FromStr>(&mut self) -> Option<T> {
        self.0.next()?.parse().ok()
    }
    /// A number, or `-` for none.
    pub fn maybe<T: std::str::FromStr>(&mut self) -> Option<Option<T>> {
        match self.0.next()? {
            "-" => Some(None),
            word => word.parse().ok().map(Some),
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
            i.width,
            i.kerf,
            i.trim,
            i.boards.len(),
            i.parts.len()
        );
        for (b, full) in i.boards.iter().zip(&job.instance.boards) {
            let _ = write!(
                out,
                " {} {} {} {}",
                b.length,
                b.price,
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
                p.length,
                p.left,
                p.right,
                u8::from(p.one_good_face),
                job.gives[n].max(0.0)
            );
        }
    }
    let _ = write!(out, " {}", jobs.rips.len());
    for job in &jobs.rips {
        let i = &job.instance;
        let _ = write!(
            out,
            " {} {} {} {} {}",
            u8::from(job.is_sheet()),
            i.kerf,
            i.trim,
            i.boards.len(),
            i.parts.len()
        );
        for b in &i.boards {
            let _ = write!(
                out,
                " {} {} {} {}",
                b.length,
                b.width,
                b.price,
                limit(b.limit)
            );
        }
        for (p, each) in i.parts.iter().zip(&job.each) {
            let free = u8::from(p.grain == Grain::Free);
            let _ = write!(out, " {} {each} {} {} {free}", p.qty, p.length, p.width);
        }
    }
    out
}

/// One job in strips as the worker takes it, and how many of each part one piece takes.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct WantedRip {
    pub job: guillotine::Instance,
    pub each: Vec<u64>,
}

pub(super) fn read_rips(words: &mut Words) -> Option<Vec<WantedRip>> {
    let mut out = Vec::new();
    for _ in 0..words.count()? {
        let sheet = words.number::<u8>()? == 1;
        let (kerf, trim) = (words.number()?, words.number()?);
        let (boards, parts) = (words.count()?, words.count()?);
        let mut job = guillotine::Instance {
            cut: if sheet { Cut::Sheets } else { Cut::Strips },
            kerf,
            rip_kerf: kerf,
            trim,
            edge_trim: if sheet { trim } else { 0.0 },
            boards: Vec::new(),
            parts: Vec::new(),
        };
        let mut each = Vec::new();
        for n in 0..boards {
            job.boards.push(guillotine::BoardKind {
                id: n.to_string(),
                length: words.number()?,
                width: words.number()?,
                price: words.number()?,
                limit: words.maybe()?,
            });
        }
        for n in 0..parts {
            let qty = words.number()?;
            each.push(words.number()?);
            job.parts.push(guillotine::PartKind {
                id: n.to_string(),
                qty,
                length: words.number()?,
                width: words.number()?,
                grain: if words.number::<u8>()? == 1 {
                    Grain::Free
                } else {
                    Grain::Along
                },
            });
        }
        out.push(WantedRip { job, each });
    }
    Some(out)
}

/// A plan in strips, with its tree of cuts.
pub(super) fn write_rip(plan: &guillotine::Plan) -> String {
    let mut out = format!(
        "{} {} {} {} {}",
        plan.price,
        plan.bound,
        u8::from(plan.proven),
        u8::from(plan.proven_all),
        plan.boards.len()
    );
    let maybe = |p: Option<usize>| p.map_or_else(|| "-".to_owned(), |p| p.to_string());
    for b in &plan.boards {
        let _ = write!(out, " {} {} {}", b.board, b.parts.len(), b.pieces.len());
        for p in &b.parts {
            let _ = write!(out, " {} {} {} {}", p.part, u8::from(p.turned), p.x, p.y);
        }
        for p in &b.pieces {
            let _ = write!(out, " {} {} {} {}", p.x, p.y, p.length, p.width);
            let _ = match p.then {
                Then::Rest => write!(out, " e"),
                Then::Part(n) => write!(out, " p {n}"),
                Then::Cut {
                    saw,
                    at,
                    first,
                    second,
                } => {
                    let word = if saw == Saw::Rip { "r" } else { "c" };
                    write!(out, " {word} {at} {} {}", maybe(first), maybe(second))
                }
            };
        }
    }
    out
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
        let (parts, pieces) = (words.count()?, words.count()?);
        let mut cut = guillotine::CutBoard {
            board,
            parts: Vec::new(),
            pieces: Vec::new(),
        };
        for _ in 0..parts {
            cut.parts.push(guillotine::Placement {
                part: words.number()?,
                turned: words.number::<u8>()? == 1,
                x: words.number()?,
                y: words.number()?,
            });
        }
        for _ in 0..pieces {
            cut.pieces.push(Piece {
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
        let mut rest = Instance {
            width,
            kerf,
            trim,
            boards: Vec::new(),
            parts: Vec::new(),
        };
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
            one.boards.push(BoardKind {
                limit,
                ..kind.clone()
            });
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
            one.parts.push(PartKind {
                qty: each,
                ..kind.clone()
            });
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
        plan.price,
        plan.bound,
        u8::from(plan.proven),
        u8::from(plan.proven_all),
        plan.leftover,
        plan.boards.len()
    );
    for b in &plan.boards {
        let _ = write!(out, " {} {}", b.board, b.parts.len());
        for p in &b.parts {
            let lies = u8::from(p.turned) + 2 * u8::from(p.flipped);
            let _ = write!(out, " {} {lies} {}", p.part, p.x);
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
        let mut cut = CutBoard {
            board: words.number()?,
            parts: Vec::new(),
        };
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
