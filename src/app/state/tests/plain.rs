//! Random edits of pieces and their undo, beside a model that is as plain as can be.

use super::super::{Edit, Route, Store};
use offsquare_units::Unit;
use offsquare_work::cutlist::Instance;
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Shop, Work, WorkEdit};
use offsquare_work::save::Bench;

/// The pieces and parts of a document, kept as plainly as can be.
#[derive(Clone, Debug, Default, PartialEq)]
struct Plain {
    pieces: Vec<PlainPiece>,
    parts: Vec<PlainPart>,
}

#[derive(Clone, Debug, Default, PartialEq)]
struct PlainPiece {
    id: u32,
    name: String,
    batch: u32,
    planned: bool,
    patterned: bool,
    /// Which kinds of the pattern's parts are overridden, in the order of the overrides.
    over: Vec<usize>,
}

#[derive(Clone, Debug, Default, PartialEq)]
struct PlainPart {
    id: u32,
    piece: u32,
    count: u32,
    /// Which of the pattern's kinds it is.
    kind: Option<usize>,
}

/// The trellis's parts and how many of each it starts with: two stiles, two rails, five slats.
const TRELLIS: [(&str, u32); 3] = [("Stile", 2), ("Rail", 2), ("Slat", 5)];

fn called(p: &PlainPiece) -> String {
    match (p.name.as_str(), p.id) {
        ("", 0) => "Loose parts".to_owned(),
        ("", id) => format!("Piece {id}"),
        (name, _) => name.to_owned(),
    }
}

impl Plain {
    fn of(work: &Work) -> Plain {
        let kind = |name: &str| TRELLIS.iter().position(|(n, _)| *n == name);
        let pieces = work.pieces.iter().map(|p| PlainPiece {
            id: p.id,
            name: p.name.clone(),
            batch: p.batch,
            planned: p.planned,
            patterned: p.pattern.is_some(),
            over: p.overrides.iter().filter_map(|o| kind(&o.part)).collect(),
        });
        let parts = work.parts.iter().map(|e| PlainPart {
            id: e.id,
            piece: e.piece,
            count: e.count,
            kind: e.from.as_ref().and_then(|f| kind(&f.part)),
        });
        Plain { pieces: pieces.collect(), parts: parts.collect() }
    }
    fn next(&self) -> (u32, u32) {
        let piece = self.pieces.iter().map(|p| p.id).max().unwrap_or(0) + 1;
        (piece, self.parts.iter().map(|e| e.id).max().unwrap_or(0) + 1)
    }
    fn free(&self, name: &str) -> String {
        let taken: Vec<String> = self.pieces.iter().map(called).collect();
        let mut n = 1;
        let mut free = name.to_owned();
        // After "Gate 2" comes "Gate 3" where there is a gate.
        let words: Vec<&str> = name.split(' ').collect();
        let (last, stem) = (words[words.len() - 1], words[..words.len() - 1].join(" "));
        let counted = last.parse::<u32>().is_ok() && taken.contains(&stem);
        let name = if counted { stem.as_str() } else { name };
        while taken.contains(&free) {
            n += 1;
            free = format!("{name} {n}");
        }
        free
    }
    fn put(&mut self, piece: u32, count: u32, kind: Option<usize>) {
        let id = self.next().1;
        if self.pieces.iter().any(|p| p.id == piece) {
            self.parts.push(PlainPart { id, piece, count, kind });
        }
    }
    fn count(&mut self, id: u32, count: u32) {
        let Some(part) = self.parts.iter_mut().find(|e| e.id == id) else { return };
        part.count = count;
        let (piece, kind) = (part.piece, part.kind);
        if let Some(kind) = kind
            && let Some(piece) = self.pieces.iter_mut().find(|p| p.id == piece)
            && !piece.over.contains(&kind)
        {
            piece.over.push(kind);
        }
    }
    fn apply(&mut self, edit: &WorkEdit) {
        let (new, _) = self.next();
        match edit {
            WorkEdit::AddPiece { pattern } => {
                let name = pattern.as_ref().map(|_| self.free("Trellis of upright slats"));
                let patterned = pattern.is_some();
                self.pieces.push(PlainPiece {
                    id: new,
                    name: name.unwrap_or_default(),
                    batch: 1,
                    planned: true,
                    patterned,
                    over: Vec::new(),
                });
                for (kind, (_, count)) in TRELLIS.iter().enumerate().filter(|_| patterned) {
                    self.put(new, *count, Some(kind));
                }
            }
            WorkEdit::Piece { id, key, text } => {
                for p in self.pieces.iter_mut().filter(|p| p.id == *id) {
                    match (*key, text.parse()) {
                        ("name", _) => p.name = text.clone(),
                        (_, Ok(n)) if n >= 1 => p.batch = n,
                        _ => {}
                    }
                }
            }
            WorkEdit::PlanPiece { id, planned } => {
                self.pieces.iter_mut().filter(|p| p.id == *id).for_each(|p| p.planned = *planned);
            }
            WorkEdit::CopyPiece(id) => {
                let Some(piece) = self.pieces.iter().find(|p| p.id == *id).cloned() else { return };
                let name = self.free(&called(&piece));
                self.pieces.push(PlainPiece { id: new, name, planned: false, ..piece });
                for e in self.parts.clone().iter().filter(|e| e.piece == *id) {
                    self.put(new, e.count, e.kind);
                }
            }
            WorkEdit::RemovePiece(id) if *id != 0 => {
                self.pieces.retain(|p| p.id != *id);
                self.parts.retain(|e| e.piece != *id);
            }
            WorkEdit::AddPart(piece) => self.put(*piece, 1, None),
            WorkEdit::Example(piece, _) => {
                for count in [2, 3, 2, 6, 2] {
                    self.put(*piece, count, None);
                }
                let name = self.free("Garden gate");
                let bare = |p: &&mut PlainPiece| p.id == *piece && *piece != 0 && p.name.is_empty();
                self.pieces.iter_mut().filter(bare).for_each(|p| p.name.clone_from(&name));
            }
            WorkEdit::Part { id, text, .. } => self.count(*id, text.parse().unwrap_or(1)),
            WorkEdit::RemovePart(id) => {
                if self.parts.iter().any(|e| e.id == *id && e.kind.is_some()) {
                    self.count(*id, 0);
                }
                self.parts.retain(|e| e.id != *id || e.kind.is_some());
            }
            WorkEdit::ClearParts(piece) => {
                self.parts.retain(|e| e.piece != *piece || e.kind.is_some());
            }
            WorkEdit::AsMade { piece, at, .. } => {
                let Some(p) = self.pieces.iter_mut().find(|p| p.id == *piece) else { return };
                if *at < p.over.len() {
                    let kind = p.over.remove(*at);
                    let own = |e: &&mut PlainPart| e.piece == *piece && e.kind == Some(kind);
                    self.parts.iter_mut().filter(own).for_each(|e| e.count = TRELLIS[kind].1);
                }
            }
            _ => {}
        }
    }
    /// How many single parts are planned.
    fn planned(&self) -> u64 {
        let times = |e: &PlainPart| {
            let of = self.pieces.iter().find(|p| p.id == e.piece && p.planned);
            of.map_or(0, |p| u64::from(p.batch))
        };
        self.parts.iter().map(|e| u64::from(e.count) * times(e)).sum()
    }
}

fn planned(work: &Work) -> u64 {
    let jobs = work.jobs(&Shop::default());
    assert!(jobs.troubles.is_empty(), "{:?}", jobs.troubles);
    let of = |instance: &Instance| -> u64 {
        let sticks = instance.sticks().map(|s| s.parts.iter().map(|p| p.qty).sum());
        let other = instance.rectangles().map(|s| s.parts.iter().map(|p| p.qty).sum());
        sticks.or(other).unwrap_or(0)
    };
    jobs.jobs.iter().map(|j| of(&j.instance)).sum()
}

/// An edit of the pieces that there are, now and then of one that there is not.
fn any_edit(plain: &Plain, mut below: impl FnMut(usize) -> usize) -> WorkEdit {
    let piece = match below(12) {
        0 => 9_999,
        _ => plain.pieces[below(plain.pieces.len())].id,
    };
    let part = plain.parts.get(below(plain.parts.len().max(1))).map_or(9_999, |e| e.id);
    match below(14) {
        0 => WorkEdit::AddPiece { pattern: None },
        1 => {
            let layout = patterns::find("slatted_trellis").expect("the trellis");
            let mut draft = Draft::fresh(&layout.layout, &layout.forms[0], Unit::Inch);
            draft.set("thickness", "3/4", Unit::Inch);
            draft.set("slat_thickness", "3/4", Unit::Inch);
            WorkEdit::AddPiece { pattern: Some(draft) }
        }
        2 => WorkEdit::Piece { id: piece, key: "name", text: format!("Gate {}", below(3)) },
        3 | 4 => WorkEdit::Piece { id: piece, key: "batch", text: below(9).to_string() },
        5 => WorkEdit::PlanPiece { id: piece, planned: below(2) == 0 },
        6 => WorkEdit::CopyPiece(piece),
        7 => WorkEdit::RemovePiece(piece),
        8 => WorkEdit::AddPart(piece),
        9 => WorkEdit::Example(piece, 0),
        10 | 11 => WorkEdit::Part { id: part, key: "count", text: below(5).to_string() },
        12 if below(4) == 0 => WorkEdit::ClearParts(piece),
        12 => WorkEdit::RemovePart(part),
        _ => WorkEdit::AsMade { piece, at: below(2), key: None },
    }
}

/// 3,000 random edits, undone and done again at random, beside a plain model with a plain history.
#[test]
fn random_edits_of_pieces_and_their_undo_are_those_of_a_plain_model() {
    for seed in 1..=3_u64 {
        let mut state = seed;
        let mut below = move |n: usize| {
            // Knuth's MMIX constants.
            let next = state.wrapping_mul(6_364_136_223_846_793_005);
            state = next.wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as usize % n.max(1)
        };
        let mut s = Store::new(Bench::default(), Route::Bench);
        let mut plain = Plain::of(&Work::default());
        let (mut past, mut future, mut topic) = (Vec::new(), Vec::new(), None);
        for _ in 0..1_000 {
            match below(6) {
                0 => {
                    s.apply(Edit::Undo);
                    if let Some(before) = past.pop() {
                        future.push(std::mem::replace(&mut plain, before));
                        topic = None;
                    }
                }
                1 => {
                    s.apply(Edit::Redo);
                    if let Some(after) = future.pop() {
                        past.push(std::mem::replace(&mut plain, after));
                        topic = None;
                    }
                }
                _ => {
                    let edit = any_edit(&plain, &mut below);
                    let about = match &edit {
                        WorkEdit::Piece { id, key, .. } => Some((0, *id, *key)),
                        WorkEdit::Part { id, key, .. } => Some((1, *id, *key)),
                        _ => None,
                    };
                    let before = plain.clone();
                    plain.apply(&edit);
                    s.apply(Edit::Work(edit));
                    // A change of nothing is no step; a word typed back to what it was stops being one.
                    let goes_on = about.is_some() && about == topic;
                    if goes_on || plain != before {
                        past.extend((!goes_on).then_some(before));
                        past.drain(..past.len().saturating_sub(200));
                        topic = about;
                        future.clear();
                    }
                    if goes_on && past.last() == Some(&plain) {
                        past.pop();
                        topic = None;
                    }
                }
            }
            assert_eq!(Plain::of(&s.bench.work), plain);
            assert_eq!(planned(&s.bench.work), plain.planned());
        }
        assert_eq!(
            offsquare_work::save::read(&offsquare_work::save::write(&s.bench)).bench,
            *s.bench
        );
    }
}
