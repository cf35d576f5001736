//! The frame of the verifiers: what is counted and what can be wrong, for both sticks and rectangles. Each
//! verifier adds the geometry of its boards, and shares nothing with the search but the types.

use core::fmt;

/// What is wrong with a plan. Boards, pieces, places and parts are counted from 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// A board names a kind that the job does not have.
    NoSuchBoard { board: usize },
    /// More boards of a kind are cut than there are.
    TooManyBoards { kind: usize, cut: u64, limit: u64 },
    /// A board on which nothing is cut.
    Empty { board: usize },
    /// A place names a part that the job does not have.
    NoSuchPart { board: usize, place: usize },
    /// A part with one good face lies flipped.
    Flipped { board: usize, place: usize },
    /// A part is turned against its grain.
    Grain { board: usize, place: usize },
    /// A part lies outside the usable board, by so much.
    Outside { board: usize, place: usize, by: f64 },
    /// Two parts come closer than the kerf, by so much.
    TooClose { board: usize, places: (usize, usize), by: f64 },
    /// The first piece is not the whole board.
    NotTheBoard { board: usize },
    /// A cut does not go through its piece, or what it gives is not what is left of the piece.
    BadCut { board: usize, piece: usize },
    /// A piece is not cut from any other, or from two.
    Stray { board: usize, piece: usize },
    /// A piece is listed as a part but does not have the part's size or place.
    NotThePart { board: usize, piece: usize },
    /// The cuts do not free a part, or free it twice.
    NotFreed { board: usize, place: usize },
    /// The number of parts cut differs from the number wanted.
    WrongCount { part: usize, cut: u64, wanted: u64 },
    /// The plan's price, bound or leftover is not what its boards come to.
    WrongSum,
}

/// What a sound plan comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts<L> {
    /// How many boards of each kind are cut.
    pub boards: Vec<u64>,
    /// What they cost together.
    pub price: f64,
    /// The one largest leftover.
    pub leftover: L,
}

/// Boards and parts as they are counted, and the faults found.
pub struct Count {
    used: Vec<u64>,
    cut: Vec<u64>,
    price: f64,
    pub faults: Vec<Fault>,
}

impl Count {
    pub fn new(kinds: usize, parts: usize) -> Count {
        Count { used: vec![0; kinds], cut: vec![0; parts], price: 0.0, faults: Vec::new() }
    }

    /// The kind of a board, counted, of all kinds with their prices.
    pub fn board<'k, K>(
        &mut self,
        kinds: &'k [K],
        price: fn(&K) -> f64,
        (board, kind): (usize, usize),
        empty: bool,
    ) -> Option<&'k K> {
        let Some(found) = kinds.get(kind) else {
            self.faults.push(Fault::NoSuchBoard { board });
            return None;
        };
        self.used[kind] += 1;
        self.price += price(found);
        if empty {
            self.faults.push(Fault::Empty { board });
        }
        Some(found)
    }

    /// The part at a place, counted.
    pub fn part<'p, P>(
        &mut self,
        parts: &'p [P],
        (board, place): (usize, usize),
        part: usize,
    ) -> Option<&'p P> {
        match parts.get(part) {
            Some(found) => {
                self.cut[part] += 1;
                Some(found)
            }
            None => {
                self.faults.push(Fault::NoSuchPart { board, place });
                None
            }
        }
    }

    /// Supply and demand, kind by kind; the facts if nothing is wrong.
    pub fn close<L>(
        mut self,
        limits: impl Iterator<Item = Option<u64>>,
        wanted: impl Iterator<Item = u64>,
        leftover: L,
    ) -> Result<Facts<L>, Vec<Fault>> {
        for (kind, (limit, &cut)) in limits.zip(&self.used).enumerate() {
            if let Some(limit) = limit
                && cut > limit
            {
                self.faults.push(Fault::TooManyBoards { kind, cut, limit });
            }
        }
        for (part, (wanted, &cut)) in wanted.zip(&self.cut).enumerate() {
            if cut != wanted {
                self.faults.push(Fault::WrongCount { part, cut, wanted });
            }
        }
        match self.faults.is_empty() {
            true => Ok(Facts { boards: self.used, price: self.price, leftover }),
            false => Err(self.faults),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self:?}")
    }
}
