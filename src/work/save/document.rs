//! Patches of the whole document: its long lists row by row, the rest as one small value.
//!
//! Rows that did not change are passed over, so that an edit costs what it touches. No member of a piece, a part or the
//! shop is named here.

use super::patch::{self, BothSides, Change, Clashes, Name, Patch, Rows, Way};
use super::{Bench, open, to_value};
use crate::cutlist::Entry;
use crate::piece::{Draft, Piece, Shared, Source, Work};
use crate::rack::{Rack, Stock};
use offsquare_units::kept::Kept as _;
use offsquare_units::num::Gather;
use offsquare_units::record::{self, Stored};
use serde_json::{Value, json};

/// A row of a long list.
trait Row: Clone + PartialEq {
    fn id(&self) -> String;
    fn is(&self, id: &str) -> bool;
    fn keep(&self) -> Value;
    fn back(value: &Value) -> Option<Self>;
}

macro_rules! numbered {
    ($($type:ty),*) => {
        $(impl Row for $type {
            fn id(&self) -> String {
                self.id.to_string()
            }
            fn is(&self, id: &str) -> bool {
                id.parse() == Ok(self.id)
            }
            fn keep(&self) -> Value {
                record::write(&mut self.clone())
            }
            fn back(value: &Value) -> Option<$type> {
                stored(value)
            }
        })*
    };
}
numbered!(Piece, Entry, Source, Stock);

fn stored<T: Stored>(value: &Value) -> Option<T> {
    let (row, wrong) = record::read(value);
    (wrong == 0).then_some(row)
}

impl Row for Draft {
    fn id(&self) -> String {
        self.layout.clone()
    }
    fn is(&self, id: &str) -> bool {
        self.layout == id
    }
    fn keep(&self) -> Value {
        offsquare_units::kept::Kept::keep(self)
    }
    fn back(value: &Value) -> Option<Draft> {
        Draft::restore(value)
    }
}

/// A list before and after.
struct Both<'a, T>([&'a [T]; 2]);

impl<T: Row> BothSides for Both<'_, T> {
    fn len(&self, side: usize) -> usize {
        self.0[side].len()
    }
    fn same(&self, old: usize, new: usize) -> bool {
        self.0[0][old] == self.0[1][new]
    }
    fn id(&self, side: usize, at: usize) -> Option<String> {
        Some(self.0[side][at].id())
    }
    fn value(&self, side: usize, at: usize) -> Value {
        self.0[side][at].keep()
    }
}

/// A list that changes.
struct Changing<'a, T>(&'a mut Vec<T>);

impl<T: Row> Rows for Changing<'_, T> {
    fn find(&self, path: &[Name], _: Option<&Value>) -> Option<usize> {
        let Some(Name::Id(id)) = path.first() else { return None };
        self.0.iter().position(|row| row.is(id))
    }
    fn len(&self) -> usize {
        self.0.len()
    }
    fn value(&self, at: usize) -> Value {
        self.0[at].keep()
    }
    fn set(&mut self, at: usize, value: &Value) -> bool {
        let row = T::back(value);
        row.map(|row| self.0[at] = row).is_some()
    }
    fn insert(&mut self, at: usize, value: &Value) -> bool {
        let row = T::back(value);
        row.map(|row| self.0.insert(at, row)).is_some()
    }
    fn remove(&mut self, at: usize) {
        self.0.remove(at);
    }
}

/// The ways to the long lists.
const DRAFTS: &[&str] = &["drafts"];
const PIECES: &[&str] = &["work", "pieces"];
const PARTS: &[&str] = &["work", "parts"];
const SOURCES: &[&str] = &["work", "sources"];
const STOCKS: &[&str] = &["work", "rack", "stocks"];

fn path(names: &[&str]) -> Vec<Name> {
    names.iter().map(|name| Name::Member((*name).to_owned())).gather()
}

fn leads_to(path: &[Name], names: &[&str]) -> bool {
    path.len() > names.len()
        && names.iter().zip(path).all(|(name, step)| matches!(step, Name::Member(n) if n == name))
}

/// The document without its long lists. All that is copied is small.
pub(super) fn without_rows(bench: &Bench) -> Bench {
    let (work, rack) = (&bench.work, &bench.work.rack);
    Bench {
        drafts: Vec::new(),
        work: Work {
            pieces: Shared::default(),
            parts: Shared::default(),
            sources: Shared::default(),
            rack: Rack { stocks: Vec::new(), ..rack.clone() },
            ..work.clone()
        },
        ..bench.clone()
    }
}

fn list<T: Row>(names: &[&str], old: &[T], new: &[T], out: &mut Vec<Change>) {
    if old != new {
        patch::rows(&Both([old, new]), &path(names), out);
    }
}

fn shared<T: Row>(names: &[&str], old: &Shared<T>, new: &Shared<T>, out: &mut Vec<Change>) {
    if !old.is_one_with(new) {
        list(names, old, new, out);
    }
}

/// What leads from one document to another.
pub fn diff(old: &Bench, new: &Bench) -> Patch {
    let mut out = Vec::new();
    let (a, b) = (without_rows(old), without_rows(new));
    if a != b {
        let [a, b] = [a, b].map(|bench| to_value(&bench)["bench"].take());
        patch::diff(&a, &b, &[], &mut out);
    }
    list(DRAFTS, &old.drafts, &new.drafts, &mut out);
    let (a, b) = (&old.work, &new.work);
    shared(PIECES, &a.pieces, &b.pieces, &mut out);
    shared(PARTS, &a.parts, &b.parts, &mut out);
    shared(SOURCES, &a.sources, &b.sources, &mut out);
    list(STOCKS, &a.rack.stocks, &b.rack.stocks, &mut out);
    Patch(out)
}

/// Applies a patch. Entries that do not fit the document are ignored.
pub fn apply(bench: &mut Bench, patch: &Patch, way: Way) -> Clashes {
    let mut clashes = Clashes::default();
    let mut rest = Vec::new();
    for change in &patch.0 {
        let place = &change.path;
        let work = &mut bench.work;
        let row = |list: &mut dyn Rows, names: &[&str]| {
            patch::apply_row(list, &place[names.len()..], change, way)
        };
        clashes.add(if leads_to(place, DRAFTS) {
            row(&mut Changing(&mut bench.drafts), DRAFTS)
        } else if leads_to(place, PIECES) {
            row(&mut Changing(&mut work.pieces), PIECES)
        } else if leads_to(place, PARTS) {
            row(&mut Changing(&mut work.parts), PARTS)
        } else if leads_to(place, SOURCES) {
            row(&mut Changing(&mut work.sources), SOURCES)
        } else if leads_to(place, STOCKS) {
            row(&mut Changing(&mut work.rack.stocks), STOCKS)
        } else {
            rest.push(change);
            continue;
        });
    }
    if !rest.is_empty() {
        clashes.add(apply_small(bench, &rest, way));
    }
    clashes
}

fn apply_small(bench: &mut Bench, changes: &[&Change], way: Way) -> Clashes {
    let mut clashes = Clashes::default();
    let mut value = to_value(&without_rows(bench))["bench"].take();
    for change in changes {
        clashes.add(patch::apply(&mut value, &change.path, change, way));
    }
    let opened = open(&json!({"offsquare": super::VERSION, "bench": value}));
    if !opened.repaired.is_empty() {
        return Clashes { over: 0, left: changes.len() };
    }
    let (old, new) = (&mut bench.work, opened.bench.work);
    let ids = old.ids;
    let rack = Rack { stocks: core::mem::take(&mut old.rack.stocks), ids, ..new.rack };
    let work = Work {
        pieces: old.pieces.clone(),
        parts: old.parts.clone(),
        sources: old.sources.clone(),
        rack,
        ids,
        ..new
    };
    *bench = Bench { drafts: core::mem::take(&mut bench.drafts), work, ..opened.bench };
    clashes
}
