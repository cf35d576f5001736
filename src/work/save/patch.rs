//! What an edit changed, place by place, so that it can be taken back, kept, and heard in another tab.
//!
//! A place is a path of names; rows of a list are named by their `id` or `key`, else by what they were. So a change finds
//! its row where others came or went meanwhile, and leaves alone what it did not touch.

use offsquare_units::kept::{Kept, Map};
use offsquare_units::num::Gather;
use serde_json::Value;
use std::collections::BTreeMap;

/// One name on the way to a place.
#[derive(Clone, Debug, PartialEq)]
pub enum Name {
    Member(String),
    /// The row of this id.
    Id(String),
    /// A row without one: its place in the list, and what it was.
    Row(usize, Value),
}

/// One place, before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    pub path: Vec<Name>,
    /// Of a row that comes in: the row before it, none where it is the first.
    pub after: Option<Name>,
    /// None: nothing was there, nothing is there.
    pub old: Option<Value>,
    pub new: Option<Value>,
}

impl Change {
    /// Whether the next change is of what this one made of a row that has no id.
    fn goes_on_in(&self, next: &Change) -> bool {
        match (self.path.split_last(), next.path.split_last(), &self.new) {
            (Some((Name::Row(at, _), path)), Some((Name::Row(then, was), beside)), Some(new)) => {
                let changed = self.old.is_some() && next.old.is_some() && next.new.is_some();
                changed && (at, path) == (then, beside) && same(new, was)
            }
            _ => false,
        }
    }
}

/// All that an edit changed, to be applied in this order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Patch(pub Vec<Change>);

impl Patch {
    /// Both, one after the other. A place that both change is changed once, and not at all where it is as it was.
    pub fn then(mut self, next: Patch) -> Patch {
        let leaf = |c: &Change| matches!(c.path.last(), Some(Name::Member(_)));
        for change in next.0 {
            if let Some(last) = self.0.last_mut().filter(|last| last.goes_on_in(&change)) {
                last.new = change.new;
                self.0.pop_if(|c| same_or_none(c.old.as_ref(), c.new.as_ref()));
                continue;
            }
            // Places and rows that come or go in between are not passed over.
            let since = self.0.iter().rposition(|c| !leaf(c)).map_or(0, |at| at + 1);
            let before =
                self.0[since..].iter().position(|c| leaf(&change) && c.path == change.path);
            match before.map(|at| at + since) {
                Some(at) => {
                    self.0[at].new = change.new;
                    if same_or_none(self.0[at].old.as_ref(), self.0[at].new.as_ref()) {
                        self.0.remove(at);
                    }
                }
                None => self.0.push(change),
            }
        }
        self
    }
}

/// What becomes of a place that no longer holds what the change found there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// The change stands: it is the later one.
    Later,
    /// The place stays as it is: the step that is taken back is another's by now.
    Own,
}

/// How a change met another one of the same place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Clashes {
    /// Places that were written over.
    pub over: usize,
    /// Changes without effect: the place stays, or is gone.
    pub left: usize,
}

impl Clashes {
    pub fn any(self) -> bool {
        self.over + self.left > 0
    }
    pub(super) fn add(&mut self, other: Clashes) {
        self.over += other.over;
        self.left += other.left;
    }
    pub(super) const DONE: Clashes = Clashes { over: 0, left: 0 };
    pub(super) const OVER: Clashes = Clashes { over: 1, left: 0 };
    pub(super) const LEFT: Clashes = Clashes { over: 0, left: 1 };
}

impl Kept for Name {
    fn keep(&self) -> Value {
        match self {
            Name::Member(name) => Value::String(name.clone()),
            Name::Id(id) => Value::Array(vec![Value::String(id.clone())]),
            Name::Row(at, was) => Value::Array(vec![at.keep(), was.clone()]),
        }
    }
    fn restore(value: &Value) -> Option<Name> {
        if let Value::String(name) = value {
            return Some(Name::Member(name.clone()));
        }
        match value.as_array()?.as_slice() {
            [id] => Some(Name::Id(String::restore(id)?)),
            [at, was] => Some(Name::Row(usize::restore(at)?, was.clone())),
            _ => None,
        }
    }
}

impl Kept for Change {
    fn keep(&self) -> Value {
        let mut map = Map::new();
        map.insert("at".into(), self.path.keep());
        if let Some(after) = &self.after {
            map.insert("after".into(), after.keep());
        }
        for (name, value) in [("old", &self.old), ("new", &self.new)] {
            if let Some(value) = value {
                map.insert(name.into(), value.clone());
            }
        }
        Value::Object(map)
    }
    fn restore(value: &Value) -> Option<Change> {
        let map = value.as_object()?;
        let after = map.get("after").map(|a| Name::restore(a).ok_or(()));
        Some(Change {
            path: Vec::restore(map.get("at")?)?,
            after: after.transpose().ok()?,
            old: map.get("old").cloned(),
            new: map.get("new").cloned(),
        })
    }
}

impl Kept for Patch {
    fn keep(&self) -> Value {
        self.0.keep()
    }
    fn restore(value: &Value) -> Option<Patch> {
        Vec::restore(value).map(Patch)
    }
}

/// Whether two values are the same to a reader: whole numbers and others are one kind, and null is nothing.
pub(super) fn same(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Number(a), Value::Number(b)) => a.as_f64() == b.as_f64(),
        (Value::Array(a), Value::Array(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
        }
        (Value::Object(a), Value::Object(b)) => {
            let all = |a: &Map<String, Value>, b: &Map<String, Value>| {
                a.iter().all(|(name, value)| same(value, b.get(name).unwrap_or(&Value::Null)))
            };
            all(a, b) && all(b, a)
        }
        _ => a == b,
    }
}

fn same_or_none(a: Option<&Value>, b: Option<&Value>) -> bool {
    same(a.unwrap_or(&Value::Null), b.unwrap_or(&Value::Null))
}

/// By what a row is told from others.
fn id_of(row: &Value) -> Option<String> {
    match row.get("id").or_else(|| row.get("key"))? {
        Value::String(id) => Some(id.clone()),
        Value::Number(id) => id.as_u64().map(|id| id.to_string()),
        _ => None,
    }
}

/// The rows of a list before (side 0) and after (side 1), whatever they are.
pub(super) trait BothSides {
    fn len(&self, side: usize) -> usize;
    fn same(&self, old: usize, new: usize) -> bool;
    fn id(&self, side: usize, at: usize) -> Option<String>;
    fn value(&self, side: usize, at: usize) -> Value;
}

impl BothSides for [&Vec<Value>; 2] {
    fn len(&self, side: usize) -> usize {
        self[side].len()
    }
    fn same(&self, old: usize, new: usize) -> bool {
        same(&self[0][old], &self[1][new])
    }
    fn id(&self, side: usize, at: usize) -> Option<String> {
        id_of(&self[side][at])
    }
    fn value(&self, side: usize, at: usize) -> Value {
        self[side][at].clone()
    }
}

fn with(path: &[Name], step: Name) -> Vec<Name> {
    path.iter().cloned().chain([step]).gather()
}

/// What leads from one value to another.
pub(super) fn diff(old: &Value, new: &Value, path: &[Name], out: &mut Vec<Change>) {
    match (old, new) {
        (Value::Object(a), Value::Object(b)) => {
            let come = b.keys().filter(|name| !a.contains_key(*name));
            for name in a.keys().chain(come) {
                let [a, b] = [a, b].map(|map| map.get(name).unwrap_or(&Value::Null));
                if !same(a, b) {
                    diff(a, b, &with(path, Name::Member(name.clone())), out);
                }
            }
        }
        (Value::Array(a), Value::Array(b)) => rows(&[a, b], path, out),
        _ if same(old, new) => {}
        _ => {
            let there = |value: &Value| Some(value.clone()).filter(|v| !v.is_null());
            let (old, new) = (there(old), there(new));
            out.push(Change { path: path.to_vec(), after: None, old, new });
        }
    }
}

/// The longest run of pairs whose first members grow, by their places; the second members do already.
fn growing(pairs: &[(usize, usize)]) -> Vec<usize> {
    // The last pair of the best run of each length so far, and the pair before each.
    let (mut best, mut before): (Vec<usize>, Vec<Option<usize>>) = (Vec::new(), Vec::new());
    for (at, pair) in pairs.iter().enumerate() {
        let length = best.partition_point(|&b| pairs[b].0 < pair.0);
        before.push(length.checked_sub(1).map(|l| best[l]));
        match best.get_mut(length) {
            Some(b) => *b = at,
            None => best.push(at),
        }
    }
    let mut run = Vec::new();
    let mut next = best.last().copied();
    while let Some(at) = next {
        run.push(at);
        next = before[at];
    }
    run.reverse();
    run
}

/// Which rows of the middle stay in their order, as pairs of places.
fn staying(list: &dyn BothSides, start: usize, ends: [usize; 2]) -> Vec<(usize, usize)> {
    let mut ids: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    let mut bare: Vec<usize> = Vec::new();
    for old in (start..ends[0]).rev() {
        match list.id(0, old) {
            Some(id) => ids.entry(id).or_default().push(old),
            None => bare.insert(0, old),
        }
    }
    let mut pairs = Vec::new();
    for new in start..ends[1] {
        let found = match list.id(1, new) {
            Some(id) => ids.get_mut(&id).and_then(Vec::pop),
            None => {
                let at = bare.iter().position(|&old| list.same(old, new));
                at.map(|at| bare.remove(at))
            }
        };
        pairs.extend(found.map(|old| (old, new)));
    }
    let stay = growing(&pairs);
    stay.into_iter().map(|at| pairs[at]).gather()
}

/// The same for rows without ids that are changed where they stand: as many before as after between two that stay.
fn changed_in_place(
    list: &dyn BothSides,
    pairs: &mut Vec<(usize, usize)>,
    start: usize,
    ends: [usize; 2],
) {
    let stay = core::mem::take(pairs);
    let mut from = [start; 2];
    for next in stay.into_iter().map(Some).chain([None]) {
        let to = next.map_or(ends, |(old, new)| [old, new]);
        let bare = (0..2).all(|side| (from[side]..to[side]).all(|at| list.id(side, at).is_none()));
        if bare && to[0] - from[0] == to[1] - from[1] {
            pairs.extend((from[0]..to[0]).zip(from[1]..to[1]));
        }
        pairs.extend(next);
        from = to.map(|at| at + 1);
    }
}

/// What leads from one list to another: rows that changed, then those that go from the last on, then those that come
/// from the first on.
pub(super) fn rows(list: &dyn BothSides, path: &[Name], out: &mut Vec<Change>) {
    let mut ends = [list.len(0), list.len(1)];
    let mut start = 0;
    while start < ends[0].min(ends[1]) && list.same(start, start) {
        start += 1;
    }
    while ends[0] > start && ends[1] > start && list.same(ends[0] - 1, ends[1] - 1) {
        ends = ends.map(|end| end - 1);
    }
    let step = |side: usize, at: usize| match list.id(side, at) {
        Some(id) => Name::Id(id),
        None => Name::Row(at, list.value(side, at)),
    };
    let mut pairs = staying(list, start, ends);
    changed_in_place(list, &mut pairs, start, ends);
    for &(old, new) in pairs.iter().filter(|(old, new)| !list.same(*old, *new)) {
        diff(&list.value(0, old), &list.value(1, new), &with(path, step(0, old)), out);
    }
    // Both places grow from pair to pair.
    let stays =
        |side: usize, at: usize| pairs.binary_search_by_key(&at, |p| [p.0, p.1][side]).is_ok();
    for old in (start..ends[0]).rev().filter(|&old| !stays(0, old)) {
        let (path, was) = (with(path, step(0, old)), list.value(0, old));
        out.push(Change { path, after: None, old: Some(was), new: None });
    }
    for new in (start..ends[1]).filter(|&new| !stays(1, new)) {
        let (path, is) = (with(path, step(1, new)), list.value(1, new));
        let after = new.checked_sub(1).map(|before| step(1, before));
        out.push(Change { path, after, old: None, new: Some(is) });
    }
}

/// The value at the end of a path.
fn at<'a>(value: &'a Value, path: &[Name]) -> Option<&'a Value> {
    let Some((step, rest)) = path.split_first() else { return Some(value) };
    let next = match step {
        Name::Member(name) => value.get(name)?,
        row => {
            let list = value.as_array()?;
            &list[find(list, row, &[], None)?]
        }
    };
    at(next, rest)
}

/// Where a row is. One without an id that is no longer as it was: where the rest of the path still leads to `old`.
fn find(list: &[Value], step: &Name, rest: &[Name], old: Option<&Value>) -> Option<usize> {
    let (place, was) = match step {
        Name::Member(_) => return None,
        Name::Id(id) => return list.iter().position(|row| id_of(row).as_ref() == Some(id)),
        Name::Row(place, was) => (*place, was),
    };
    let nearest = |is: &dyn Fn(&Value) -> bool| {
        let there = list.iter().enumerate().filter(|(_, row)| is(row)).map(|(i, _)| i);
        there.min_by_key(|i| i.abs_diff(place))
    };
    nearest(&|row| same(row, was)).or_else(|| {
        let leads = |row: &Value| row.is_object() && same_or_none(at(row, rest), old);
        let is_it = |row: &Value| is_still(row, was);
        if rest.is_empty() { nearest(&is_it) } else { nearest(&leads) }
    })
}

/// Whether the change takes out a thing of parts, as rows are taken out: what changed in it goes along.
fn takes_out(there: Option<&Value>, change: &Change) -> bool {
    let thing = |value: Option<&Value>| value.is_some_and(Value::is_object);
    thing(there) && thing(change.old.as_ref()) && change.new.is_none()
}

/// Whether a row is the same thing, though something in it has changed: a whole thing in it is as it was.
fn is_still(row: &Value, was: &Value) -> bool {
    let things = was.as_object().into_iter().flatten().filter(|(_, thing)| thing.is_object());
    let mut kept = things.filter(|(name, thing)| row.get(name).is_some_and(|r| same(r, thing)));
    kept.next().is_some()
}

/// What is to be done about a place that holds `there`.
pub(super) fn meets(there: Option<&Value>, change: &Change, way: Way) -> Clashes {
    if same_or_none(there, change.new.as_ref()) || same_or_none(there, change.old.as_ref()) {
        Clashes::DONE
    } else if way == Way::Own && !takes_out(there, change) {
        Clashes::LEFT
    } else {
        Clashes::OVER
    }
}

/// Applies a change to a value, from `path` on, the rest of the change's own.
pub(super) fn apply(value: &mut Value, path: &[Name], change: &Change, way: Way) -> Clashes {
    let Some((step, rest)) = path.split_first() else {
        let clash = meets(Some(value), change, way);
        if clash.left == 0 {
            *value = change.new.clone().unwrap_or_default();
        }
        return clash;
    };
    match (step, value) {
        (Name::Member(name), Value::Object(map)) => match map.get_mut(name) {
            Some(member) => apply(member, rest, change, way),
            // What is missing is null.
            None if rest.is_empty() => {
                let mut member = Value::Null;
                let clash = apply(&mut member, rest, change, way);
                map.insert(name.clone(), member);
                clash
            }
            None => Clashes::LEFT,
        },
        (Name::Member(_), _) => Clashes::LEFT,
        (_, Value::Array(list)) => apply_row(list, path, change, way),
        _ => Clashes::LEFT,
    }
}

/// Rows of any kind, as a change sees them.
pub(super) trait Rows {
    fn find(&self, path: &[Name], old: Option<&Value>) -> Option<usize>;
    fn len(&self) -> usize;
    fn value(&self, at: usize) -> Value;
    /// Whether the value is a row of this kind.
    fn set(&mut self, at: usize, value: &Value) -> bool;
    fn insert(&mut self, at: usize, value: &Value) -> bool;
    fn remove(&mut self, at: usize);
}

impl Rows for Vec<Value> {
    fn find(&self, path: &[Name], old: Option<&Value>) -> Option<usize> {
        let (step, rest) = path.split_first()?;
        find(self, step, rest, old)
    }
    fn len(&self) -> usize {
        self.len()
    }
    fn value(&self, at: usize) -> Value {
        self[at].clone()
    }
    fn set(&mut self, at: usize, value: &Value) -> bool {
        self[at] = value.clone();
        true
    }
    fn insert(&mut self, at: usize, value: &Value) -> bool {
        self.insert(at, value.clone());
        true
    }
    fn remove(&mut self, at: usize) {
        self.remove(at);
    }
}

/// Applies a change to one row of a list, or to the list.
pub(super) fn apply_row(list: &mut dyn Rows, path: &[Name], change: &Change, way: Way) -> Clashes {
    let there = list.find(path, change.old.as_ref());
    let rest = path.get(1..).unwrap_or_default();
    match (there, &change.old, &change.new) {
        // A row goes; one that is gone is taken out already. What another changed of it goes along.
        (None, Some(_), None) if rest.is_empty() => Clashes::DONE,
        (Some(at), Some(old), None) if rest.is_empty() => {
            let as_it_was = same(&list.value(at), old);
            list.remove(at);
            if as_it_was { Clashes::DONE } else { Clashes::OVER }
        }
        // A row comes. Rows without ids may be there twice.
        (there, None, Some(new)) if rest.is_empty() => {
            if let (Some(at), Some(Name::Id(_))) = (there, path.first()) {
                let clash = meets(Some(&list.value(at)), change, way);
                let done = clash.left > 0 || list.set(at, new);
                return if done { clash } else { Clashes::LEFT };
            }
            let before = change.after.clone().map(|step| list.find(&[step], None));
            let at = match (before, path.first()) {
                (None, _) => 0,
                (Some(Some(before)), _) => before + 1,
                (Some(None), Some(Name::Row(at, _))) => *at,
                (Some(None), _) => list.len(),
            };
            let at = at.min(list.len());
            if list.insert(at, new) { Clashes::DONE } else { Clashes::LEFT }
        }
        (Some(at), ..) => {
            let mut row = list.value(at);
            let clash = apply(&mut row, rest, change, way);
            let done = clash.left > 0 || list.set(at, &row);
            if done { clash } else { Clashes::LEFT }
        }
        (None, ..) => Clashes::LEFT,
    }
}
