//! Jobs for the planner, one a stock: what is cut, from which boards, and which entry and board each is.

use super::{BlankCut, Entry};
use crate::rack::{Stock, price};
use offsquare_planner::{self as planner, BoardKind, CutBoard, Fault, guillotine};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Money, Text};

/// Where a board comes from: index into the stock's sold lengths or owned boards.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    Sold(usize),
    Owned(usize),
}

/// One board kind of a job, as it lies in the shop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Board {
    pub origin: Origin,
    /// The whole board.
    pub length: Length,
    pub width: Length,
    /// A place of the plan, counted from the board's left end, is x plus this.
    pub start: f64,
    /// None while it is not known.
    pub price: Option<Money>,
}

impl Board {
    pub fn is_owned(&self) -> bool {
        matches!(self.origin, Origin::Owned(_))
    }
}

/// How often a part's piece is made.
pub(super) type Times<'a> = &'a dyn Fn(&Entry) -> u32;

/// One part kind of a job: which entry, and what the planner is not told of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JobPart {
    pub entry: u32,
    /// The piece that it is for.
    pub piece: u32,
    pub mirrored: bool,
    /// Its grain runs across: its own length is the planner's width.
    pub across: bool,
    /// How many of it one such piece takes.
    pub each: u64,
    /// How much shorter and how much narrower it may come out.
    pub give: (f64, f64),
    /// The cuts that are made on its blank.
    pub on_blank: Vec<BlankCut>,
}

/// What the planner is asked: lengths with mitered ends, cut one after another, or rectangles that are ripped
/// from boards or cut from sheets.
#[derive(Clone, Debug, PartialEq)]
pub enum Instance {
    Sticks(planner::Instance),
    Rectangles(guillotine::Instance),
}

impl Instance {
    pub fn sticks(&self) -> Option<&planner::Instance> {
        match self {
            Instance::Sticks(job) => Some(job),
            Instance::Rectangles(_) => None,
        }
    }
    pub fn rectangles(&self) -> Option<&guillotine::Instance> {
        match self {
            Instance::Sticks(_) => None,
            Instance::Rectangles(job) => Some(job),
        }
    }
    /// What these boards come to, if they are sound.
    pub fn verify(&self, boards: &[CutBoard]) -> Result<f64, Vec<Fault>> {
        match self {
            Instance::Sticks(job) => planner::verify(job, boards).map(|facts| facts.price),
            Instance::Rectangles(job) => guillotine::verify(job, boards).map(|facts| facts.price),
        }
    }
    /// How many of each part are wanted.
    pub(super) fn wanted(&mut self) -> Vec<&mut u64> {
        match self {
            Instance::Sticks(job) => job.parts.iter_mut().map(|p| &mut p.qty).gather(),
            Instance::Rectangles(job) => job.parts.iter_mut().map(|p| &mut p.qty).gather(),
        }
    }
    /// How many boards of a kind there are.
    pub(super) fn limit(&mut self, board: usize) -> &mut Option<u64> {
        match self {
            Instance::Sticks(job) => &mut job.boards[board].limit,
            Instance::Rectangles(job) => &mut job.boards[board].limit,
        }
    }
    /// How much of a board's length can be used.
    pub(super) fn length_of(&self, board: usize) -> f64 {
        match self {
            Instance::Sticks(job) => job.boards[board].length,
            Instance::Rectangles(job) => job.boards[board].length,
        }
    }
}

/// One stock's job.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    pub stock: u32,
    pub name: String,
    /// All that is wanted, kept boards included.
    pub instance: Instance,
    /// What is left to plan beside the kept boards.
    pub rest: Instance,
    /// Lengths on sale that have no price yet. While there are any, least wood is planned for in place of
    /// money: what the planner takes for a price is then a board's length in [`WOOD`].
    pub no_price: Vec<Length>,
    /// For each board kind of the instance.
    pub boards: Vec<Board>,
    /// For each part kind of the instance.
    pub parts: Vec<JobPart>,
    /// Kept boards that still hold: index into the kept ones, and the board as the plan has it.
    pub kept: Vec<(usize, CutBoard)>,
}

impl Job {
    /// Its parts are rectangles.
    pub fn is_ripped(&self) -> bool {
        self.instance.rectangles().is_some()
    }
    /// Some of its parts may nest.
    pub fn is_mitered(&self) -> bool {
        let mitered = |p: &planner::PartKind| p.left != 0.0 || p.right != 0.0;
        self.instance.sticks().is_some_and(|job| job.parts.iter().any(mitered))
    }
    /// Where on a board of this kind parts can lie, from its left end: inside its trims and bad stretches. At the board's own
    /// end a square part needs no cut; at any other end it does.
    pub fn usable(&self, kind: usize) -> [f64; 2] {
        let trim = self.instance.sticks().map_or(0.0, |job| job.trim);
        let start = self.boards[kind].start;
        [start + trim, start + self.instance.length_of(kind) - trim]
    }
    /// All stretches of the board in the shop that this kind is one of.
    pub fn stretches(&self, kind: usize) -> Vec<[f64; 2]> {
        let same = |k: &usize| self.boards[*k].origin == self.boards[kind].origin;
        (0..self.boards.len()).filter(same).map(|k| self.usable(k)).gather()
    }
    /// Whether a board's left and right end are good as they are.
    pub fn good_ends(&self, kind: usize) -> [bool; 2] {
        let [from, to] = self.usable(kind);
        [from, self.boards[kind].length.0 - to].map(|gap| gap.abs() < 1e-6)
    }
    pub fn is_sheet(&self) -> bool {
        self.instance.rectangles().is_some_and(|job| job.cut == guillotine::CutKind::Sheets)
    }
    pub(super) fn board(&self) -> &'static str {
        if self.is_sheet() { "sheet" } else { "board" }
    }
}

/// Something that cannot be planned as it stands, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Trouble {
    pub entry: Option<u32>,
    /// Index of a kept board that no longer holds.
    pub kept: Option<usize>,
    /// True where the part is left out of the plan.
    pub stops: bool,
    pub text: Text,
}

impl Trouble {
    /// Why a part is left out of the plan.
    pub(super) fn stops(entry: &Entry, text: Text) -> Trouble {
        Trouble { entry: Some(entry.id), kept: None, stops: true, text }
    }
}

/// All jobs of a list.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Jobs {
    /// Sticks first, as the planner counts them.
    pub jobs: Vec<Job>,
    pub troubles: Vec<Trouble>,
}

/// What stands for a price where not all prices are known: a thousandth of an inch of board.
pub(super) const WOOD: f64 = 1000.0;

/// A stock's boards, as they lie and as the planner sees them, and the trim of all.
pub(super) fn boards_of(
    stock: &Stock,
    (tax, kerf): (u32, f64),
) -> (Vec<Board>, Vec<BoardKind>, f64) {
    let own_trims = stock.owned.iter().filter(|o| o.count > 0).all(|o| {
        o.bad.is_empty() && o.trim_left == stock.trim_left && o.trim_right == stock.trim_right
    });
    // One trim at every end of every board: the planner's own.
    let uniform = stock.sheet || (own_trims && stock.trim_left == stock.trim_right);
    let trim = if uniform { stock.trim_left.0 } else { 0.0 };
    let by_wood = !stock.without_price(tax).is_empty();
    let (mut boards, mut kinds) = (Vec::new(), Vec::new());
    let mut put = |id: String, board: Board, length: f64, limit: Option<u64>| {
        let across = if stock.sheet { board.width.0 } else { f64::MAX };
        if length.min(across) > 2.0 * trim + 1e-6 {
            let price = match board.origin {
                Origin::Sold(_) if by_wood => {
                    offsquare_units::num::round_half_up(board.length.0 * WOOD)
                }
                _ => board.price.map_or(0.0, |p| p.0 as f64),
            };
            kinds.push(BoardKind { id, length, price, limit });
            boards.push(board);
        }
    };
    for (i, owned) in stock.owned.iter().enumerate().filter(|o| o.1.count > 0) {
        let board = |start: f64| Board {
            origin: Origin::Owned(i),
            length: owned.length,
            width: owned.width.filter(|_| stock.sheet).unwrap_or(stock.width),
            start,
            price: Some(Money::ZERO),
        };
        let limit = Some(u64::from(owned.count));
        if uniform {
            put(format!("o{i}"), board(0.0), owned.length.0, limit);
            continue;
        }
        for (n, (from, to)) in owned.usable(Length(kerf)).into_iter().enumerate() {
            put(format!("o{i}.{n}"), board(from.0), to.0 - from.0, limit);
        }
    }
    for (i, sold) in stock.sold.iter().enumerate() {
        let length = sold.length + sold.over;
        let board = Board {
            origin: Origin::Sold(i),
            length,
            width: stock.width,
            start: if uniform { 0.0 } else { stock.trim_left.0 },
            price: price(stock, sold, tax),
        };
        let usable =
            if uniform { length.0 } else { length.0 - stock.trim_left.0 - stock.trim_right.0 };
        put(format!("y{i}"), board, usable, sold.left.map(u64::from));
    }
    (boards, kinds, trim)
}
