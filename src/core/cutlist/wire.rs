//! Jobs and plans as plain words, for the way between page and worker. Numbers print as Rust prints
//! them, shortest and exact, so that what arrives is what was sent, to the bit.

use super::Jobs;
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
    out
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
