//! The document as plainly as can be: a table of places and texts, each row of pieces and parts a place of its own.

use offsquare_work::save::Bench;
use std::collections::BTreeMap;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plain(pub BTreeMap<String, String>);

/// A change of one place or row.
#[derive(Clone, Debug, PartialEq)]
pub enum Op {
    Put(String, BTreeMap<String, String>),
    Take(String, BTreeMap<String, String>),
    Set { place: String, old: String, new: String },
}

fn row_of(place: &str) -> String {
    let mut names = place.split('/');
    format!("{}/{}", names.next().unwrap_or_default(), names.next().unwrap_or_default())
}

impl Plain {
    pub fn of(bench: &Bench) -> Plain {
        let mut all = BTreeMap::new();
        for p in &bench.work.pieces {
            for (name, text) in [
                ("name", p.name.clone()),
                ("batch", p.batch.to_string()),
                ("note", p.note.clone()),
                ("planned", p.planned.to_string()),
            ] {
                all.insert(format!("piece/{}/{name}", p.id), text);
            }
        }
        for e in &bench.work.parts {
            for (name, text) in [
                ("piece", e.piece.to_string()),
                ("name", e.name.clone()),
                ("count", e.count.to_string()),
                ("length", e.length.0.to_string()),
                ("note", e.note.clone()),
                ("done", e.done.to_string()),
            ] {
                all.insert(format!("part/{}/{name}", e.id), text);
            }
        }
        for s in &bench.work.rack.stocks {
            all.insert(format!("stock/{}/name", s.id), s.name.clone());
            all.insert(format!("stock/{}/width", s.id), s.width.0.to_string());
        }
        for d in &bench.drafts {
            for t in &d.typed {
                all.insert(format!("draft/{}/{}", d.layout, t.key), t.text.clone());
            }
        }
        all.insert("shop/shop/unit".into(), format!("{:?}", bench.shop.unit));
        all.insert("shop/shop/kerf".into(), bench.shop.saw.kerf.0.to_string());
        all.insert("shop/shop/plain".into(), bench.work.plain.to_string());
        Plain(all)
    }

    fn rows(&self) -> BTreeMap<String, BTreeMap<String, String>> {
        let mut rows: BTreeMap<String, BTreeMap<String, String>> = BTreeMap::new();
        for (place, text) in &self.0 {
            rows.entry(row_of(place)).or_default().insert(place.clone(), text.clone());
        }
        rows
    }

    fn has(&self, row: &str) -> bool {
        self.0.keys().any(|place| row_of(place) == row)
    }

    pub fn apply(&mut self, op: &Op) {
        match op {
            Op::Put(_, all) => self.0.extend(all.clone()),
            Op::Take(row, _) => self.0.retain(|place, _| row_of(place) != *row),
            Op::Set { place, new, .. } => {
                if self.has(&row_of(place)) {
                    self.0.insert(place.clone(), new.clone());
                }
            }
        }
    }

    /// A step back, or forth: only what is still as the step left it, or found it.
    pub fn step(&mut self, ops: &[Op], back: bool) {
        for op in ops {
            match (op, back) {
                (Op::Put(row, _), true) | (Op::Take(row, _), false) => {
                    self.apply(&Op::Take(row.clone(), BTreeMap::new()));
                }
                (Op::Put(row, all), false) | (Op::Take(row, all), true) => {
                    if !self.has(row) {
                        self.apply(&Op::Put(row.clone(), all.clone()));
                    }
                }
                (Op::Set { place, old, new }, _) => {
                    let (from, to) = if back { (new, old) } else { (old, new) };
                    if self.0.get(place) == Some(from) {
                        self.0.insert(place.clone(), to.clone());
                    }
                }
            }
        }
        self.mend();
    }

    /// Parts of a piece that is gone are loose parts.
    pub fn mend(&mut self) {
        let all = self.0.clone();
        for (place, piece) in &mut self.0 {
            let gone = !all.contains_key(&format!("piece/{piece}/name"));
            if place.starts_with("part/") && place.ends_with("/piece") && gone {
                *piece = "0".into();
            }
        }
    }
}

impl Op {
    pub fn between(before: &Bench, after: &Bench) -> Vec<Op> {
        let (before, after) = (Plain::of(before).rows(), Plain::of(after).rows());
        let mut ops = Vec::new();
        for (row, places) in &before {
            match after.get(row) {
                None => ops.push(Op::Take(row.clone(), places.clone())),
                Some(now) => {
                    for (place, new) in now {
                        let old = places.get(place).cloned().unwrap_or_default();
                        if old != *new {
                            ops.push(Op::Set { place: place.clone(), old, new: new.clone() });
                        }
                    }
                }
            }
        }
        let come = after.into_iter().filter(|(row, _)| !before.contains_key(row));
        ops.extend(come.map(|(row, places)| Op::Put(row, places)));
        ops
    }
}
