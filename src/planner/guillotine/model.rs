//! The job as the search sees it: equal parts and boards merged, kerfs added to sizes.
//!
//! With the kerf added to every size, cutting only adds: a piece of length X splits into X1 + X2. So
//! all sizes here are **padded**: a part's length plus the crosscut's kerf, its width plus the rip's,
//! and a board's usable length and width likewise. A pattern is a tree of pairs set beside or above
//! each other; its size is the sum in one direction and the larger in the other.

use super::super::outcome::WORKING;
use super::super::price::Prices;
use super::super::stock::{self, Stock, limited};
use super::instance::{Grain, Instance};
use offsquare_units::num::{self, Gather};

/// Parts of one size.
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    pub qty: u32,
    /// The ways it may lie: padded length and width, and whether that is turned.
    pub lies: Vec<Lie>,
    /// Padded area.
    pub area: f64,
    /// Index into the job's parts, number, and whether length and width were exchanged in merging.
    pub members: Vec<(usize, u32, bool)>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lie {
    pub len: f64,
    pub wid: f64,
    pub turned: bool,
}

#[derive(Clone, Debug)]
pub struct Model {
    pub kinds: Vec<Kind>,
    pub stock: Vec<Stock>,
    /// Parts in all.
    pub total: u32,
    pub kerf: f64,
    pub rip_kerf: f64,
    pub trim: f64,
    pub edge_trim: f64,
    /// Only plain plans: strips of one width over the whole length, crosscut.
    pub plain: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// A place that nothing has been put into yet.
    Free,
    Part {
        kind: u32,
        lie: u32,
    },
    /// One after the other along the board.
    Beside(u32, u32),
    /// One over the other across the board.
    Above(u32, u32),
}

/// A node of a pattern with its padded size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Node {
    pub shape: Shape,
    pub len: f64,
    pub wid: f64,
}

/// What is cut from one board.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    pub nodes: Vec<Node>,
    pub root: u32,
}

/// Boards with what is cut from them: an index into `Model::stock` each.
pub type Chosen = super::super::cutting::Chosen<Tree>;

impl Tree {
    /// Parts of each kind in the pattern.
    pub fn counts(&self, kinds: usize) -> Vec<u32> {
        let mut counts = vec![0; kinds];
        let mut open = vec![self.root];
        while let Some(at) = open.pop() {
            match self.nodes[at as usize].shape {
                Shape::Free => {}
                Shape::Part { kind, .. } => counts[kind as usize] += 1,
                Shape::Beside(a, b) | Shape::Above(a, b) => open.extend([a, b]),
            }
        }
        counts
    }

    pub fn root(&self) -> Node {
        self.nodes[self.root as usize]
    }

    /// Adds a node over two others, with its size.
    pub fn join(&mut self, beside: bool, a: u32, b: u32) -> u32 {
        let (p, q) = (self.nodes[a as usize], self.nodes[b as usize]);
        self.nodes.push(if beside {
            Node { shape: Shape::Beside(a, b), len: p.len + q.len, wid: p.wid.max(q.wid) }
        } else {
            Node { shape: Shape::Above(a, b), len: p.len.max(q.len), wid: p.wid + q.wid }
        });
        self.nodes.len() as u32 - 1
    }

    /// Adds a place that nothing has been put into yet.
    pub fn free(&mut self, len: f64, wid: f64) -> u32 {
        self.nodes.push(Node { shape: Shape::Free, len, wid });
        self.nodes.len() as u32 - 1
    }

    pub fn part(&mut self, model: &Model, kind: u32, lie: u32) -> u32 {
        let size = model.kinds[kind as usize].lies[lie as usize];
        self.nodes.push(Node { shape: Shape::Part { kind, lie }, len: size.len, wid: size.wid });
        self.nodes.len() as u32 - 1
    }
}

impl Model {
    pub fn new(instance: &Instance, prices: &Prices) -> Model {
        let kinds = kinds(instance);
        let total = kinds.iter().map(|k| k.qty).sum();
        let mut model = Model {
            stock: Vec::new(),
            kinds,
            total,
            kerf: instance.kerf,
            rip_kerf: instance.rip_kerf,
            trim: instance.trim,
            edge_trim: instance.edge_trim,
            plain: false,
        };
        model.stock = stock(instance, prices, &model);
        model
    }

    pub fn demand(&self) -> Vec<u32> {
        self.kinds.iter().map(|k| k.qty).gather()
    }

    /// Padded area of all parts together.
    pub fn area(&self) -> f64 {
        self.kinds.iter().map(|k| k.area * f64::from(k.qty)).sum()
    }

    /// Area of the largest leftover of a board on which patterns take up a padded size.
    pub fn leftover(&self, stock: usize, len: f64, wid: f64) -> f64 {
        let s = &self.stock[stock];
        let (length, width) =
            (s.len - self.kerf + 2.0 * self.trim, s.wid - self.rip_kerf + 2.0 * self.edge_trim);
        // A padded size holds the cut that frees the leftover.
        let end = (length - self.trim - len).max(0.0) * width;
        let strip = (width - self.edge_trim - wid).max(0.0) * length;
        end.max(strip)
    }

    /// Whether a part may lie in a free place with so much room above it: in a plain plan it is as wide as
    /// the strip that the place is of.
    pub fn may(&self, place: &Node, above: f64, stock: usize) -> bool {
        !self.plain || above <= WORKING || place.len >= self.stock[stock].len - WORKING
    }

    /// Whether a padded size fits on a board.
    pub fn fits(&self, len: f64, wid: f64, stock: usize) -> bool {
        let s = &self.stock[stock];
        len <= s.len + WORKING && wid <= s.wid + WORKING
    }
}

fn kinds(instance: &Instance) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for (i, part) in instance.parts.iter().enumerate() {
        if part.qty == 0 {
            continue;
        }
        let free = part.grain == Grain::Free && part.length != part.width;
        let exchanged = free && part.length < part.width;
        let (l, w) = part.extent(exchanged);
        let lie = |l: f64, w: f64, turned| Lie {
            len: l + instance.kerf,
            wid: w + instance.rip_kerf,
            turned,
        };
        let mut lies = vec![lie(l, w, false)];
        if free {
            lies.push(lie(w, l, true));
        }
        kinds.push(Kind {
            qty: part.qty as u32,
            area: lies.iter().map(|s| s.len * s.wid).fold(f64::INFINITY, f64::min),
            lies,
            members: vec![(i, part.qty as u32, exchanged)],
        });
    }
    // The largest first; equal sizes beside each other.
    num::sort_by(&mut kinds, |a, b| {
        b.area
            .total_cmp(&a.area)
            .then(b.lies[0].len.total_cmp(&a.lies[0].len))
            .then(b.lies.len().cmp(&a.lies.len()))
    });
    kinds.dedup_by(|kind, last| {
        let same = kind.lies == last.lies;
        if same {
            last.qty += kind.qty;
            last.members.append(&mut kind.members);
        }
        same
    });
    kinds
}

fn stock(instance: &Instance, prices: &Prices, model: &Model) -> Vec<Stock> {
    let stock = instance.boards.iter().enumerate().map(|(i, board)| {
        let limit = limited(board.limit, model.total);
        let (l, w) = instance.usable(board);
        let (len, wid) = (l + instance.kerf, w + instance.rip_kerf);
        let members = vec![(i, limit)];
        Stock { len, wid, room: len * wid, price: prices.of[i], limit, members }
    });
    let useful = |s: &Stock| {
        let fits = |l: &Lie| l.len <= s.len + WORKING && l.wid <= s.wid + WORKING;
        s.limit > 0 && model.kinds.iter().any(|k| k.lies.iter().any(fits))
    };
    stock::merged(stock.filter(useful).gather(), model.total)
}
