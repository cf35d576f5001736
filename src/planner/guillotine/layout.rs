//! From patterns to boards: positions of parts, and the tree of cuts that frees them.

use super::instance::{CutBoard, Instance, Piece, Placement, Saw, Then, leftover_of};
use super::model::{Model, Shape, Tree};
use offsquare_units::num::{self, Gather};

/// Sizes nearer than this are one size and need no cut between them.
const SAME: f64 = 5e-8;

/// Names the boards and parts of patterns, places the parts and writes the cuts.
pub fn realised(instance: &Instance, model: &Model, chosen: &[(usize, Tree)]) -> Vec<CutBoard> {
    let mut boards_left: Vec<Vec<(usize, u32)>> =
        model.stock.iter().map(|s| s.members.clone()).gather();
    let mut parts_left: Vec<Vec<(usize, u32, bool)>> =
        model.kinds.iter().map(|k| k.members.clone()).gather();
    let mut boards = Vec::new();
    for (stock, tree) in chosen {
        let left = &mut boards_left[*stock];
        let Some(at) = left.iter().position(|m| m.1 > 0) else {
            continue;
        };
        left[at].1 -= 1;
        let mut board = Board {
            instance,
            model,
            tree,
            parts_left: &mut parts_left,
            out: CutBoard { board: left[at].0, parts: Vec::new(), pieces: Vec::new() },
        };
        board.cut();
        boards.push(board.out);
    }
    boards
}

struct Board<'a> {
    instance: &'a Instance,
    model: &'a Model,
    tree: &'a Tree,
    parts_left: &'a mut Vec<Vec<(usize, u32, bool)>>,
    out: CutBoard,
}

impl Board<'_> {
    fn cut(&mut self) {
        let kind = &self.instance.boards[self.out.board];
        let root = self.tree.root();
        let (trim, edge) = (self.instance.trim, self.instance.edge_trim);
        let (x, y) =
            (trim + root.len - self.instance.kerf, edge + root.wid - self.instance.rip_kerf);
        self.out.pieces.push(Piece {
            x: 0.0,
            y: 0.0,
            length: kind.length,
            width: kind.width,
            then: Then::Rest,
        });
        // First what is kept for another job, then the trims.
        let mut cuts = [(Saw::Crosscut, x, trim), (Saw::Rip, y, edge)];
        if leftover_of(self.instance, self.out.board, x, y).width < kind.width {
            cuts.reverse();
        }
        let mut piece = self.split(Some(0), cuts[0].0, cuts[0].1).0;
        for (saw, _, trim) in cuts {
            piece = self.trimmed(piece, saw, trim);
        }
        let mut open = Vec::new();
        if let Some(piece) = piece {
            open.push((self.tree.root, piece));
        }
        while let Some((node, piece)) = open.pop() {
            self.free(node, piece, &mut open);
        }
    }

    /// Cuts what a node needs out of a piece, and notes what is to be cut from the parts of it.
    fn free(&mut self, node: u32, piece: usize, open: &mut Vec<(u32, usize)>) {
        let it = self.tree.nodes[node as usize];
        let (length, width) = (it.len - self.instance.kerf, it.wid - self.instance.rip_kerf);
        match it.shape {
            Shape::Free => {}
            Shape::Part { kind, lie } => {
                let whole = self.out.pieces[piece];
                let end = (whole.length - length) * whole.width;
                let strip = (whole.width - width) * whole.length;
                let order = if end >= strip {
                    [(Saw::Crosscut, length), (Saw::Rip, width)]
                } else {
                    [(Saw::Rip, width), (Saw::Crosscut, length)]
                };
                let mut last = piece;
                for (saw, size) in order {
                    let offset = self.span(last, saw).0;
                    last = self.split(Some(last), saw, offset + size).0.unwrap_or(last);
                }
                let (part, turned) = self.named(kind, lie);
                let at = self.out.pieces[last];
                self.out.pieces[last].then = Then::Part(self.out.parts.len());
                self.out.parts.push(Placement {
                    part,
                    turned,
                    x: at.x,
                    y: at.y,
                    ..Placement::default()
                });
            }
            Shape::Beside(..) => {
                let edge = self.span(piece, Saw::Rip).0 + width;
                let piece = self.split(Some(piece), Saw::Rip, edge).0;
                self.row(node, piece, Saw::Crosscut, open);
            }
            Shape::Above(..) => {
                // Plainly, strips keep the board's length.
                let edge = self.span(piece, Saw::Crosscut).0 + length;
                let piece = match self.model.plain {
                    true => Some(piece),
                    false => self.split(Some(piece), Saw::Crosscut, edge).0,
                };
                self.row(node, piece, Saw::Rip, open);
            }
        }
    }

    /// Cuts the members of a row off a piece, one after the other.
    fn row(&mut self, node: u32, piece: Option<usize>, saw: Saw, open: &mut Vec<(u32, usize)>) {
        let mut members = Vec::new();
        let mut nest = vec![node];
        while let Some(at) = nest.pop() {
            match (self.tree.nodes[at as usize].shape, saw) {
                (Shape::Beside(a, b), Saw::Crosscut) | (Shape::Above(a, b), Saw::Rip) => {
                    nest.extend([b, a]);
                }
                _ => members.push(at),
            }
        }
        // Equal sizes follow each other, so that the fence or the stop stays where it is.
        let size = |&n: &u32| match saw {
            Saw::Crosscut => self.tree.nodes[n as usize].len,
            Saw::Rip => self.tree.nodes[n as usize].wid,
        };
        num::sort_by(&mut members, |a, b| size(b).total_cmp(&size(a)));
        let mut rest = piece;
        let mut cut = Vec::new();
        for (i, &member) in members.iter().enumerate() {
            let Some(piece) = rest else { break };
            if i + 1 == members.len() {
                cut.push((member, piece));
                break;
            }
            let edge = self.span(piece, saw).0 + size(&member) - self.instance.kerf_of(saw);
            let (first, second) = self.split(Some(piece), saw, edge);
            if let Some(first) = first {
                cut.push((member, first));
            }
            rest = second;
        }
        open.extend(cut.into_iter().rev());
    }

    /// Where a piece begins on the board and how large it is, in the direction that a saw divides.
    fn span(&self, piece: usize, saw: Saw) -> (f64, f64) {
        let it = &self.out.pieces[piece];
        match saw {
            Saw::Crosscut => (it.x, it.length),
            Saw::Rip => (it.y, it.width),
        }
    }

    /// Takes a trim off the left end or the lower edge.
    fn trimmed(&mut self, piece: Option<usize>, saw: Saw, trim: f64) -> Option<usize> {
        if trim <= SAME {
            return piece;
        }
        self.split(piece, saw, trim - self.instance.kerf_of(saw)).1
    }

    /// Cuts a piece so that the kerf begins at `edge` on the board. A piece that ends there is not cut and
    /// is the first itself.
    fn split(
        &mut self,
        piece: Option<usize>,
        saw: Saw,
        edge: f64,
    ) -> (Option<usize>, Option<usize>) {
        let Some(index) = piece else {
            return (None, None);
        };
        let whole = self.out.pieces[index];
        let (start, size) = self.span(index, saw);
        let at = edge - start;
        if at >= size - SAME {
            return (piece, None);
        }
        let kerf = self.instance.kerf_of(saw);
        let mut part_of = |from: f64, to: f64| -> Option<usize> {
            if to - from <= SAME {
                return None;
            }
            let mut made = Piece { then: Then::Rest, ..whole };
            match saw {
                Saw::Crosscut => (made.x, made.length) = (start + from, to - from),
                Saw::Rip => (made.y, made.width) = (start + from, to - from),
            }
            self.out.pieces.push(made);
            Some(self.out.pieces.len() - 1)
        };
        let first = part_of(0.0, at);
        let second = part_of(at + kerf, size);
        self.out.pieces[index].then = Then::Cut { saw, at, first, second };
        (first, second)
    }

    /// The next part of a kind that has not been cut, and whether it lies turned.
    fn named(&mut self, kind: u32, lie: u32) -> (usize, bool) {
        let turned = self.model.kinds[kind as usize].lies[lie as usize].turned;
        let left = &mut self.parts_left[kind as usize];
        let Some(member) = left.iter_mut().find(|m| m.1 > 0) else {
            return (usize::MAX, turned);
        };
        member.1 -= 1;
        (member.0, turned != member.2)
    }
}
