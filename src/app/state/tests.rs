//! The reducer by itself: steps of undo, links, the last good answer.

mod places;

use super::{Edit, Route, Store};
use offsquare_units::Unit;
use offsquare_work::cutlist::{Instance, KeptBoard, KeptPart};
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Shop, Tick, Work, WorkEdit, from_link};
use offsquare_work::save::Bench;
use std::rc::Rc;

fn store() -> Store {
    Store::new(Bench::default(), Route::Layout("brace"))
}

fn type_in(store: &mut Store, key: &str, text: &str) {
    store.apply(Edit::Type {
        layout: "brace",
        key: key.to_owned(),
        text: text.to_owned(),
        unit: Unit::Inch,
    });
}

fn text(store: &Store, key: &str) -> String {
    let draft = store.draft("brace").expect("a draft");
    draft.text(key).map(|t| t.text.clone()).unwrap_or_default()
}

fn steps_back(store: &Store) -> usize {
    let mut store = store.clone();
    let mut steps = 0;
    while store.can_undo() {
        store.apply(Edit::Undo);
        steps += 1;
    }
    steps
}

#[test]
fn a_word_typed_in_one_field_is_one_step() {
    let mut s = store();
    let before = text(&s, "opening_width");
    for typed in ["4", "41", "41 1/2"] {
        type_in(&mut s, "opening_width", typed);
    }
    type_in(&mut s, "opening_height", "50");
    assert_eq!(steps_back(&s), 2);
    s.apply(Edit::Undo);
    assert_eq!(text(&s, "opening_width"), "41 1/2");
    s.apply(Edit::Undo);
    assert_eq!(text(&s, "opening_width"), before);
    assert!(!s.can_undo() && s.can_redo());
    s.apply(Edit::Redo);
    assert_eq!(text(&s, "opening_width"), "41 1/2");
    // After a step back, or another screen, the same field begins a new step.
    type_in(&mut s, "opening_width", "42");
    assert!(!s.can_redo());
    assert_eq!(steps_back(&s), 2);
    s.apply(Edit::Go(Route::Shop));
    s.apply(Edit::Go(Route::Layout("brace")));
    type_in(&mut s, "opening_width", "43");
    assert_eq!(steps_back(&s), 3);
}

#[test]
fn two_hundred_steps_are_kept() {
    let mut s = store();
    for i in 0..150 {
        type_in(&mut s, "opening_width", &format!("{}", 40 + i));
        type_in(&mut s, "opening_height", &format!("{}", 50 + i));
    }
    assert_eq!(steps_back(&s), 200);
    for _ in 0..200 {
        s.apply(Edit::Undo);
    }
    // 300 steps less 200: the last that stays is the 50th of each.
    assert_eq!((text(&s, "opening_width"), text(&s, "opening_height")), ("89".into(), "99".into()));
}

#[test]
fn what_is_only_looked_at_is_no_step() {
    let mut s = store();
    s.apply(Edit::Way { layout: "brace", way: 1 });
    s.apply(Edit::Remember { layout: "brace", at_ms: 1.0, pinned: false, left: false });
    assert!(!s.can_undo());
    assert_eq!((s.bench.recent.len(), s.draft("brace").and_then(|d| d.way)), (1, Some(1)));
    // A screen that was only left is remembered if something was done on it.
    let mut s = store();
    let left = || Edit::Remember { layout: "brace", at_ms: 1.0, pinned: false, left: true };
    s.apply(left());
    assert!(s.bench.recent.is_empty());
    type_in(&mut s, "opening_width", "41");
    s.apply(left());
    assert_eq!(s.bench.recent.len(), 1);
}

#[test]
fn an_address_leads_to_a_screen_or_brings_a_piece() {
    let mut s = Store::new(Bench::default(), Route::Bench);
    for (fragment, route) in [
        ("#/shop", Route::Shop),
        ("#/rack", Route::Rack),
        ("#/brace", Route::Layout("brace")),
        ("#/nowhere", Route::Bench),
        // The door alone has it.
        ("#/molding", Route::Bench),
    ] {
        s.apply(Edit::Visit(fragment.to_owned()));
        assert_eq!(s.route, route, "{fragment}");
    }
    assert!(!s.can_undo() && s.bench.drafts.is_empty());
    let link = "#/brace?form=single&opening_width=31&opening_height=45&strip_width=2";
    s.apply(Edit::Visit(link.to_owned()));
    assert_eq!(s.route, Route::Layout("brace"));
    assert_eq!(s.draft("brace"), from_link(link, Unit::Inch));
    s.apply(Edit::Undo);
    assert!(s.bench.drafts.is_empty());
}

#[test]
fn the_last_good_answer_stays_marked_as_old() {
    let mut s = store();
    let shown = |s: &Store| {
        let (_, shown) = s.shown.clone().expect("a layout");
        let (answer, old) = shown.answer().expect("an answer");
        (answer.solved.len(), old)
    };
    let (ways, old) = shown(&s);
    assert!(ways > 0 && !old);
    type_in(&mut s, "strip_width", "abc");
    assert_eq!(shown(&s), (ways, true));
    // Not that of another layout.
    s.apply(Edit::Go(Route::Layout("bracket")));
    assert!(!shown(&s).1);
    s.apply(Edit::Go(Route::Layout("brace")));
    assert!(s.shown.as_ref().is_some_and(|(_, shown)| shown.good.is_none()));
}

#[test]
fn lines_of_sums_are_as_long_as_the_last_that_says_something() {
    let mut s = Store::new(Bench::default(), Route::Bench);
    let line = |s: &mut Store, index, text: &str| s.apply(Edit::Line { index, text: text.into() });
    line(&mut s, 2, "3/4");
    assert_eq!(s.bench.lengths, ["", "", "3/4"]);
    line(&mut s, 0, "33");
    line(&mut s, 2, "");
    assert_eq!(s.bench.lengths, ["33"]);
}

#[test]
fn another_tab_is_followed_without_a_step() {
    let mut s = store();
    let other =
        Bench { shop: Shop { unit: Unit::Millimeter, ..Shop::default() }, ..Bench::default() };
    s.apply(Edit::Elsewhere(Rc::new(other.clone())));
    assert_eq!(*s.bench, other);
    assert!(!s.can_undo());
}

#[test]
fn undo_takes_sizes_and_never_what_was_remembered() {
    let remember = |at_ms, pinned| Edit::Remember { layout: "brace", at_ms, pinned, left: false };
    let told = |s: &Store| -> Vec<(f64, bool)> {
        s.bench.recent.iter().map(|r| (r.at_ms, r.pinned)).collect()
    };
    let mut s = store();
    type_in(&mut s, "opening_width", "41");
    s.apply(remember(1.0, false));
    type_in(&mut s, "opening_width", "42");
    s.apply(remember(2.0, true));
    assert_eq!(steps_back(&s), 1, "two words in one field");
    s.apply(Edit::Undo);
    assert_eq!(told(&s), [(2.0, true), (1.0, false)]);
    s.apply(Edit::Redo);
    assert_eq!(
        (text(&s, "opening_width"), told(&s)),
        ("42".into(), vec![(2.0, true), (1.0, false)])
    );
    // Being kept on top is no step, and stays; taking an answer out is one, and comes back where it was.
    s.apply(Edit::Pin(1));
    s.apply(Edit::Forget(0));
    s.apply(Edit::Pin(0));
    assert_eq!((steps_back(&s), told(&s)), (2, vec![(1.0, false)]));
    s.apply(Edit::Undo);
    assert_eq!(told(&s), [(2.0, true), (1.0, false)]);
    s.apply(Edit::Pin(1));
    s.apply(Edit::Redo);
    assert_eq!(told(&s), [(1.0, true)]);
    // A file that was opened brings its own, and takes them along when it is undone.
    s.apply(Edit::Import(Box::default()));
    assert_eq!(told(&s), []);
    s.apply(Edit::Undo);
    assert_eq!(told(&s), [(1.0, true)]);
}

/// A run takes its steps back by itself: undo and redo of anything else leave it where it is, and beginning it is one step.
#[test]
fn a_run_at_the_saw_keeps_its_place_over_undo() {
    let mut s = Store::new(Bench::default(), Route::Bench);
    s.apply(Edit::Work(WorkEdit::Example(0, 1)));
    let entry = s.bench.work.parts[0].id;
    let stock = s.bench.work.parts[0].stock.expect("a stock");
    let part = KeptPart { entry, length: 66.0, ..KeptPart::default() };
    let board = KeptBoard { stock, parts: vec![part], ..KeptBoard::default() };
    s.apply(Edit::Work(WorkEdit::StartRun(vec![board])));
    let begun = |s: &Store| s.bench.work.begun.as_ref().map(|r| r.done.len());
    assert_eq!(begun(&s), Some(0));
    s.apply(Edit::Line { index: 0, text: "33".into() });
    let steps = steps_back(&s);
    let tick = |at| Edit::Work(WorkEdit::Tick(Tick { board: 0, at, work: 0 }));
    s.apply(tick(0));
    s.apply(tick(1));
    assert_eq!((begun(&s), steps_back(&s)), (Some(2), steps));
    s.apply(Edit::Undo);
    assert_eq!((begun(&s), s.bench.lengths.len()), (Some(2), 0));
    s.apply(Edit::Work(WorkEdit::Untick));
    s.apply(Edit::Redo);
    assert_eq!((begun(&s), s.bench.lengths.len()), (Some(1), 1));
    s.apply(Edit::Undo);
    s.apply(Edit::Undo);
    assert_eq!(begun(&s), None);
    s.apply(Edit::Redo);
    assert_eq!(begun(&s), Some(1));
}

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
    /// Which kinds of the pattern's parts are overridden, in the order in which they were.
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
                    // What changes nothing is no step, and a word typed back to what it was is none any more.
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
