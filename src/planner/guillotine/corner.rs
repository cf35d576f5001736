//! Plans by setting parts into corners of free rectangles, one after the other.
//!
//! Each part goes into the lower left corner of a free rectangle; one cut beside it or above it leaves
//! two free rectangles (the guillotine form of the bottom-left rule; which rectangle and which cut are
//! rules that are tried in turn).

use super::super::board_counts;
use super::super::budget::Budget;
use super::super::outcome::WORKING;
use super::model::{Model, Shape, Tree};

/// Which free rectangle a part goes into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choose {
    /// The one with the least area.
    Area,
    /// The one with the least room left in its tighter direction.
    Tight,
    /// The one that leaves the least room along the board.
    Length,
    /// The one that leaves the least room across the board.
    Width,
    /// The first board that has one; there, the tightest.
    First,
}

/// Which cut leaves two free rectangles.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Split {
    /// Along the shorter side of what is left over.
    Short,
    /// Along the longer side of what is left over.
    Long,
    /// Always a rip first: strips over the whole free length.
    Rip,
    /// Always a crosscut first.
    Cross,
    /// So that the larger free rectangle is as large as can be.
    Large,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    pub choose: Choose,
    pub split: Split,
}

pub const RULES: [Rule; 10] = [
    rule(Choose::Tight, Split::Short),
    rule(Choose::Tight, Split::Large),
    rule(Choose::Area, Split::Rip),
    rule(Choose::Area, Split::Large),
    rule(Choose::Width, Split::Rip),
    rule(Choose::Length, Split::Cross),
    rule(Choose::First, Split::Rip),
    rule(Choose::First, Split::Large),
    rule(Choose::First, Split::Short),
    rule(Choose::Tight, Split::Long),
];

const fn rule(choose: Choose, split: Split) -> Rule {
    Rule { choose, split }
}

/// A board being filled.
#[derive(Clone, Debug)]
pub struct Bin {
    pub stock: usize,
    pub tree: Tree,
    /// Free places: indices of nodes; a place's node holds its size.
    pub free: Vec<u32>,
    pub parts: u32,
}

impl Bin {
    pub fn new(model: &Model, stock: usize) -> Bin {
        let tree = Tree { nodes: Vec::new(), root: 0 };
        let mut bin = Bin { stock, tree, free: Vec::new(), parts: 0 };
        bin.clear(model, stock);
        bin
    }

    /// Makes it an empty board again.
    pub fn clear(&mut self, model: &Model, stock: usize) {
        let s = &model.stock[stock];
        self.stock = stock;
        self.tree.nodes.clear();
        self.tree.root = self.tree.free(s.len, s.wid);
        self.free.clear();
        self.free.push(0);
        self.parts = 0;
    }

    /// Cuts a place (not in the list of free ones) into two, the first of a given size in one direction.
    pub fn halve(&mut self, place: u32, beside: bool, size: f64) -> (u32, u32) {
        let (room, tree) = (self.tree.nodes[place as usize], &mut self.tree);
        let (a, b, shape): (u32, u32, fn(u32, u32) -> Shape) = if beside {
            let a = tree.free(size, room.wid);
            (a, tree.free((room.len - size).max(0.0), room.wid), Shape::Beside)
        } else {
            let a = tree.free(room.len, size);
            (a, tree.free(room.len, (room.wid - size).max(0.0)), Shape::Above)
        };
        tree.nodes[place as usize].shape = shape(a, b);
        (a, b)
    }

    /// Sets a part into a place that is not in the list of free ones (any more).
    pub fn set(&mut self, model: &Model, place: u32, kind: u32, lie: u32, split: Split) {
        let room = self.tree.nodes[place as usize];
        let size = model.kinds[kind as usize].lies[lie as usize];
        let (dx, dy) = ((room.len - size.len).max(0.0), (room.wid - size.wid).max(0.0));
        let rip_first = match split {
            _ if model.plain => true,
            Split::Short => dx <= dy,
            Split::Long => dx > dy,
            Split::Rip => true,
            Split::Cross => false,
            Split::Large => {
                // Rip first: the upper place has the full length.
                let rip = (room.len * dy).max(dx * size.wid);
                let cross = (dx * room.wid).max(dy * size.len);
                rip >= cross
            }
        };
        let [first, second] = if rip_first { [size.wid, size.len] } else { [size.len, size.wid] };
        let (inner, outer) = self.halve(place, !rip_first, first);
        let (part, other) = self.halve(inner, rip_first, second);
        self.tree.nodes[part as usize].shape = Shape::Part { kind, lie };
        // The place beside the part, then the one above it.
        for index in if rip_first { [other, outer] } else { [outer, other] } {
            let room = self.tree.nodes[index as usize];
            if room.len > WORKING && room.wid > WORKING {
                self.free.push(index);
            }
        }
        self.parts += 1;
    }

    /// What the parts on it are worth together.
    pub fn worth(&self, model: &Model, value: &[f64]) -> f64 {
        board_counts::worth(value, &self.tree.counts(model.kinds.len()))
    }

    /// The pattern without its free places, sizes summed up.
    pub fn closed(&self) -> Option<Tree> {
        closed(&self.tree)
    }
}

/// A pattern without its free places, sizes summed up anew; none if it holds no part.
pub fn closed(tree: &Tree) -> Option<Tree> {
    let mut out = Tree { nodes: Vec::new(), root: 0 };
    // Post-order with a stack: a node's value is its index in `out`.
    let mut value: Vec<Option<u32>> = vec![None; tree.nodes.len()];
    let mut open = vec![(tree.root, false)];
    while let Some((at, ready)) = open.pop() {
        let node = tree.nodes[at as usize];
        value[at as usize] = match (node.shape, ready) {
            (Shape::Free, _) => None,
            (Shape::Part { .. }, _) => {
                out.nodes.push(node);
                Some(out.nodes.len() as u32 - 1)
            }
            (Shape::Beside(a, b) | Shape::Above(a, b), false) => {
                open.extend([(at, true), (b, false), (a, false)]);
                None
            }
            (Shape::Beside(a, b) | Shape::Above(a, b), true) => {
                match (value[a as usize], value[b as usize]) {
                    (Some(p), Some(q)) => {
                        Some(out.join(matches!(node.shape, Shape::Beside(..)), p, q))
                    }
                    (one, other) => one.or(other),
                }
            }
        };
    }
    out.root = value[tree.root as usize]?;
    Some(out)
}

/// Puts one part of a kind into the best free place of the bins: which bin; none if there is none.
pub fn put(
    model: &Model,
    bins: &mut [Bin],
    kind: u32,
    rule: Rule,
    budget: &mut Budget,
) -> Option<usize> {
    let mut best: Option<(f64, usize, usize, u32)> = None;
    let lies = &model.kinds[kind as usize].lies;
    for (b, bin) in bins.iter().enumerate() {
        budget.spend(8 * bin.free.len() + 12);
        for (f, &place) in bin.free.iter().enumerate() {
            let room = &bin.tree.nodes[place as usize];
            for (lie, size) in lies.iter().enumerate() {
                let (dx, dy) = (room.len - size.len, room.wid - size.wid);
                if dx < -WORKING || dy < -WORKING || !model.may(room, dy, bin.stock) {
                    continue;
                }
                let cost = match rule.choose {
                    Choose::Area => room.len * room.wid + 1e-6 * dx.min(dy),
                    Choose::Tight | Choose::First => dx.min(dy) + 1e-6 * dx.max(dy),
                    Choose::Length => dx + 1e-6 * dy,
                    Choose::Width => dy + 1e-6 * dx,
                };
                if best.is_none_or(|c| cost < c.0) {
                    best = Some((cost, b, f, lie as u32));
                }
            }
        }
        if rule.choose == Choose::First && best.is_some() {
            break;
        }
    }
    let (_, b, f, lie) = best?;
    let place = bins[b].free.swap_remove(f);
    bins[b].set(model, place, kind, lie, rule.split);
    Some(b)
}
