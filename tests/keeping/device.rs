//! A device in memory: its database, its journals, and pages that come and go over it.

use crate::plain::{Op, Plain};
use offsquare_work::piece::Ids;
use offsquare_work::save::{
    Bench, Found, History, MOST_STEPS, Pending, Record, Settled, Step, Tab, Unsettled, Way, Writes,
    apply, diff, journal, mend, read_journal,
};
use serde_json::Value;
use std::collections::BTreeMap;

type Store = BTreeMap<String, String>;

fn write(store: &mut Store, all: &[Record]) {
    for (key, value) in all {
        match value {
            Some(value) => drop(store.insert(key.clone(), value.to_string())),
            None => drop(store.remove(key)),
        }
    }
}

fn read(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

/// What is kept, all as texts.
#[derive(Clone, Default)]
pub struct Device {
    pub records: Store,
    pub log: Store,
    pub steps: Store,
    pub marks: Store,
    /// Of each page, beside the database.
    pub journals: Store,
}

impl Device {
    pub fn found(&self, seen: u64) -> Found {
        let log = self.log.iter().filter_map(|(key, text)| {
            let number: u64 = key.parse().expect("a number");
            (number > seen).then(|| (number, Some(read(text)).filter(|v| !v.is_null())))
        });
        let marks = self.marks.iter().map(|(page, n)| (page.clone(), read(n)));
        Found { marks: marks.collect(), log: log.collect() }
    }
    pub fn write(&mut self, writes: &Writes) {
        write(&mut self.records, &writes.records);
        write(&mut self.log, &writes.log);
        write(&mut self.steps, &writes.steps);
        write(&mut self.marks, &writes.marks);
    }
    fn seen(&self) -> u64 {
        self.log.keys().last().map_or(0, |key| key.parse().expect("a number"))
    }
    pub fn tab(&self) -> Tab {
        let records = self.records.iter().map(|(key, text)| (key.clone(), read(text)));
        let (tab, said) = Tab::of(records, self.seen());
        assert_eq!(said, Vec::<String>::new());
        tab
    }
    /// All that was left to be kept, whoever left it.
    fn left(&self) -> Vec<Pending> {
        let all = self.journals.values().filter_map(|text| read_journal(&read(text)));
        all.flatten().collect()
    }
}

/// A page of the app.
pub struct Page {
    pub name: String,
    pub ids: Ids,
    tab: Tab,
    pub shown: Bench,
    pending: Vec<Pending>,
    number: u64,
    pub history: History,
    /// What each step did, plainly.
    pub plain: Vec<Vec<Op>>,
}

/// The changes of all pages by page and number, told plainly.
pub type Told = BTreeMap<(String, u64), Vec<Op>>;

impl Page {
    /// A page that starts: it reads all, with what others have left.
    pub fn start(device: &Device, name: &str, ids: Ids, steps_of: Option<&str>) -> Page {
        let mut tab = device.tab();
        let mut found = device.found(tab.seen);
        let marks = std::mem::take(&mut found.marks);
        let kept = |p: &Pending| marks.get(&p.page).and_then(Value::as_u64).unwrap_or(0);
        let pending: Vec<Pending> =
            device.left().into_iter().filter(|p| p.number > kept(p)).collect();
        let steps = device.steps.iter().map(|(key, text)| (key.clone(), read(text))).collect();
        let history = steps_of.map(|of| tab.read_steps(of, &steps)).unwrap_or_default();
        let (tab, shown, _) = tab.look(&found, &pending, ids).expect("a log that leads here");
        let name = name.to_owned();
        Page { name, ids, tab, shown, pending, number: 0, history, plain: Vec::new() }
    }

    fn changed(&mut self, before: &Bench, told: &mut Told) {
        let patch = diff(before, &self.shown);
        if !patch.0.is_empty() {
            self.number += 1;
            self.pending.push(Pending { page: self.name.clone(), number: self.number, patch });
            let ops = Op::between(before, &self.shown);
            told.insert((self.name.clone(), self.number), ops);
        }
    }

    pub fn edit(&mut self, told: &mut Told, edit: impl FnOnce(&mut Bench)) {
        let before = self.shown.clone();
        self.shown.work.ids = self.ids;
        edit(&mut self.shown);
        let (back, forth) = (diff(&self.shown, &before), diff(&before, &self.shown));
        if !forth.0.is_empty() {
            self.plain.truncate(self.history.at);
            self.plain.push(Op::between(&before, &self.shown));
            self.plain.drain(..self.plain.len().saturating_sub(MOST_STEPS));
            self.history.push(Step { back, forth });
        }
        self.changed(&before, told);
    }

    /// Undo or redo, beside the same done plainly.
    pub fn step(&mut self, back: bool, told: &mut Told) {
        let Some(patch) = self.history.next(back).cloned() else { return };
        let before = self.shown.clone();
        let at = if back { self.history.at - 1 } else { self.history.at };
        let mut plain = Plain::of(&before);
        plain.step(&self.plain[at], back);
        apply(&mut self.shown, &patch, Way::Own);
        mend(&mut self.shown.work);
        assert_eq!(Plain::of(&self.shown), plain);
        let (there, here) = (diff(&before, &self.shown), diff(&self.shown, &before));
        self.history.took(back, there, here);
        let (from, to) = if back { (&self.shown, &before) } else { (&before, &self.shown) };
        self.plain[at] = Op::between(from, to);
        self.changed(&before, told);
    }

    pub fn write_journal(&self, device: &mut Device) {
        let own: Vec<Pending> =
            self.pending.iter().filter(|p| p.page == self.name).cloned().collect();
        match own.is_empty() {
            true => drop(device.journals.remove(&self.name)),
            false => drop(device.journals.insert(self.name.clone(), journal(&own).to_string())),
        }
    }

    pub fn try_settle(&self, found: &Found) -> Result<Settled, Unsettled> {
        let own = self.pending.iter().all(|p| p.page == self.name);
        let now = own.then_some(&self.shown);
        let history = Some((self.name.as_str(), &self.history));
        self.tab.settle(found, &self.pending, now, history, self.ids)
    }

    pub fn try_look(&self, found: &Found) -> Result<(Tab, Bench, bool), Unsettled> {
        self.tab.look(found, &self.pending, self.ids)
    }

    /// One transaction. What becomes kept by it is told in `model`.
    pub fn settle(&mut self, device: &mut Device, told: &Told, model: &mut Plain) {
        let found = device.found(self.tab.seen);
        let settled = match self.try_settle(&found) {
            Ok(settled) => settled,
            Err(Unsettled::Lost) => return self.anew(device),
            Err(Unsettled::Newer) => panic!("the same version"),
        };
        device.write(&settled.writes);
        for p in &self.pending {
            let kept = found.marks.get(&p.page).and_then(Value::as_u64).unwrap_or(0);
            if p.number > kept {
                told[&(p.page.clone(), p.number)].iter().for_each(|op| model.apply(op));
                model.mend();
            }
        }
        self.tab = settled.tab;
        self.pending.clear();
        if settled.differs {
            self.shown = self.tab.base.clone();
        }
        assert_eq!(self.shown, self.tab.base);
    }

    pub fn look(&mut self, device: &Device) {
        let found = device.found(self.tab.seen);
        match self.try_look(&found) {
            Ok((tab, shown, _)) => (self.tab, self.shown) = (tab, shown),
            Err(Unsettled::Lost) => self.anew(device),
            Err(Unsettled::Newer) => panic!("the same version"),
        }
    }

    /// All is read once more.
    fn anew(&mut self, device: &Device) {
        let tab = device.tab();
        let found = Found::default();
        (self.tab, self.shown, _) = tab.look(&found, &self.pending, self.ids).expect("no log");
    }
}
