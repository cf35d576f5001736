//! How one tab keeps the document on the device beside other tabs.
//!
//! The device holds the document in records and, in the order in which they were kept, the last changes (the log). A tab
//! keeps what it changed in one transaction: it takes in what others have logged since it last looked, puts its own
//! changes on top, writes the records that differ, logs what it did, and marks how far its changes are kept. So the
//! changes of all tabs stand in one row, and every tab that has read so far has the same document.
//!
//! Until that transaction is complete the changes stand in a journal beside the database; whoever starts next keeps
//! what a page that is gone left there. The marks see to it that nothing is kept twice.
//!
//! What the device kept before there was a database comes in as the journal of a page of its own.

use super::document::{apply, diff};
use super::history::{History, Step};
use super::patch::{Clashes, Name, Patch, Way};
use super::pieces::mend;
use super::records::{self, Record, joined};
use super::{Bench, Opened, VERSION, first_part, open};
use crate::piece::Ids;
use offsquare_units::num::Gather;
use offsquare_units::{kept, kept::Kept};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::rc::Rc;

/// A change that is to be kept: which page made it, and its number there, from 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Pending {
    pub page: String,
    pub number: u64,
    pub patch: Patch,
}

impl Kept for Pending {
    fn keep(&self) -> Value {
        json!({"page": self.page, "number": self.number, "patch": self.patch.keep()})
    }
    fn restore(value: &Value) -> Option<Pending> {
        let patch = match value.get("patch") {
            Some(patch) => Patch::restore(patch)?,
            // It was not told place by place (`journal_between`).
            None => {
                let mut said = Vec::new();
                let side = |name| value.get(name).filter(|side| side.is_object());
                let (before, after) = (side("before")?, side("after")?);
                let [before, after] = [before, after].map(|side| first_part(side, &mut said));
                diff(&before, &said.is_empty().then_some(after)?)
            }
        };
        let page = String::restore(value.get("page")?)?;
        Some(Pending { page, number: u64::restore(value.get("number")?)?, patch })
    }
}

/// The page under whose name that is kept which was there before the database.
pub const BEFORE: &str = "before";
/// How many changes the log holds.
pub const LOGGED: u64 = 300;
/// A change of more places than this is not logged: others read all anew.
const MOST_LOGGED: usize = 2_000;
/// The mark that says which version the records are.
const SHAPE: &str = "offsquare";

/// What is written together, or not at all.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Writes {
    pub records: Vec<Record>,
    pub log: Vec<Record>,
    pub steps: Vec<Record>,
    pub marks: Vec<Record>,
}

/// What a transaction has read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// By page; and the version.
    pub marks: BTreeMap<String, Value>,
    /// All that was logged after what the tab has seen, by number; none where it could not be read.
    pub log: Vec<(u64, Option<Value>)>,
}

impl Found {
    fn kept_of(&self, page: &str) -> u64 {
        self.marks.get(page).and_then(Value::as_u64).unwrap_or(0)
    }
    /// The version of what is stored; none where nothing is.
    fn version(&self) -> Option<u64> {
        self.marks.get(SHAPE).and_then(Value::as_u64)
    }
    /// It comes from a newer Offsquare: it may be read, and never written over.
    pub fn is_newer(&self) -> bool {
        self.version().is_some_and(|v| v > u64::from(VERSION))
    }
}

/// The key of a number of the log: as texts they are in the order of the numbers.
pub fn log_key(number: u64) -> String {
    format!("{number:012}")
}

/// A tab, as far as it has read what the device keeps.
#[derive(Clone, Debug)]
pub struct Tab {
    /// The document at `seen`.
    pub base: Bench,
    /// The last of the log that is in it.
    pub seen: u64,
    /// The records are not what the base is, but had to be mended: all are to be written. These keys were there.
    pub mended: Option<Vec<String>>,
    /// Which of the steps to undo are kept, and under which numbers.
    steps: Vec<(Rc<Step>, u64)>,
    at: usize,
}

/// What a transaction comes to.
#[derive(Clone, Debug)]
pub struct Settled {
    pub writes: Writes,
    /// The tab once it is complete.
    pub tab: Tab,
    /// Another tab has changed something, or something had to be put right: the document is not what it was here.
    pub differs: bool,
    /// Changes of two tabs met in one place: the later stands.
    pub met: bool,
}

/// Why nothing can be settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unsettled {
    /// A newer Offsquare keeps it now.
    Newer,
    /// The log does not lead here: all is to be read anew.
    Lost,
}

/// What is in one entry of the log.
struct Logged {
    patch: Patch,
    met: bool,
}
kept!(Logged { patch, met = false });

impl Tab {
    /// The document of a device from its records, and what had to be repaired, in words.
    pub fn of(records: impl Iterator<Item = (String, Value)>, seen: u64) -> (Tab, Vec<String>) {
        let mut none = true;
        let whole = joined(records.inspect(|_| none = false));
        let Opened { bench, repaired } = match none {
            true => Opened { bench: Bench::default(), repaired: Vec::new() },
            false => open(&whole),
        };
        (Tab { base: bench, seen, mended: None, steps: Vec::new(), at: 0 }, repaired)
    }

    /// The same document with the steps to undo that another reading of it knows.
    pub fn with_steps_of(self, old: &Tab) -> Tab {
        Tab { steps: old.steps.clone(), at: old.at, ..self }
    }

    /// What was logged since, onto the base. Whether changes met is told.
    fn hear(&mut self, found: &Found) -> Result<bool, Unsettled> {
        if found.is_newer() {
            return Err(Unsettled::Newer);
        }
        let mut met = false;
        for (number, entry) in &found.log {
            let logged = entry.as_ref().and_then(Logged::restore).ok_or(Unsettled::Lost)?;
            if *number != self.seen + 1 {
                return Err(Unsettled::Lost);
            }
            met |= logged.met;
            // It was made on this very document.
            if apply(&mut self.base, &logged.patch, Way::Later).any() {
                return Err(Unsettled::Lost);
            }
            self.seen = *number;
        }
        Ok(met)
    }

    /// What was logged since, and `pending` on top: what the tab shows.
    pub fn look(
        &self,
        found: &Found,
        pending: &[Pending],
        ids: Ids,
    ) -> Result<(Tab, Bench, bool), Unsettled> {
        let mut tab = self.clone();
        let met = tab.hear(found)?;
        let (shown, more) = tab.on_top(pending, &[], ids);
        Ok((tab, shown, met || more.any()))
    }

    /// The base with these changes, and what belongs together put right.
    fn on_top(&self, pending: &[Pending], heard: &[Patch], ids: Ids) -> (Bench, Clashes) {
        let mut bench = self.base.clone();
        bench.work.set_ids(ids);
        let mut clashes = Clashes::default();
        for one in pending {
            clashes.add(apply(&mut bench, &one.patch, Way::Later));
        }
        mend(&mut bench.work);
        // Sizes of one layout from two tabs make parts that neither has worked out.
        let touched = |of: &Patch| sources(of);
        let theirs: Vec<u32> = heard.iter().flat_map(touched).gather();
        let mine: Vec<u32> = pending.iter().flat_map(|p| sources(&p.patch)).gather();
        for id in mine.into_iter().filter(|id| theirs.contains(id)) {
            bench.work.follow(id, &bench.shop);
        }
        (bench, clashes)
    }

    /// What is to be written so that `pending` is kept. `now`: the document with all of it, as the tab shows it, where
    /// nothing of it comes from a page that is gone. `history`: what can be undone, and under whose name it is kept.
    pub fn settle(
        &self,
        found: &Found,
        pending: &[Pending],
        now: Option<&Bench>,
        history: Option<(&str, &History)>,
        ids: Ids,
    ) -> Result<Settled, Unsettled> {
        let mut tab = self.clone();
        let mut met = tab.hear(found)?;
        let new: Vec<Pending> =
            pending.iter().filter(|p| p.number > found.kept_of(&p.page)).cloned().gather();
        let alone = found.log.is_empty() && new.len() == pending.len();
        let (bench, differs) = match now.filter(|_| alone) {
            Some(now) => (now.clone(), false),
            None => {
                let heard: Vec<Patch> = found
                    .log
                    .iter()
                    .filter_map(|(_, e)| Some(Logged::restore(e.as_ref()?)?.patch))
                    .gather();
                let (bench, clashes) = tab.on_top(&new, &heard, ids);
                met |= clashes.any();
                (bench, true)
            }
        };
        let mut writes = Writes::default();
        let first = self.mended.is_some() || found.version() != Some(u64::from(VERSION));
        let patch = diff(&tab.base, &bench);
        if first || !patch.0.is_empty() {
            writes.records =
                if first { records::all(&bench) } else { records::changed(&tab.base, &bench) };
            let kept: Vec<String> = writes.records.iter().map(|r| r.0.clone()).gather();
            let gone = self.mended.iter().flatten().filter(|key| !kept.contains(key));
            writes.records.extend(gone.map(|key| (key.clone(), None)));
            tab.seen += 1;
            let entry = match patch.0.len() > MOST_LOGGED {
                true => Value::Null,
                false => Logged { patch, met }.keep(),
            };
            writes.log.push((log_key(tab.seen), Some(entry)));
            if let Some(old) = tab.seen.checked_sub(LOGGED) {
                writes.log.push((log_key(old), None));
            }
        }
        if first {
            writes.marks.push((SHAPE.into(), Some(json!(VERSION))));
        }
        let mut last: BTreeMap<&str, u64> = BTreeMap::new();
        for one in &new {
            last.insert(&one.page, one.number);
        }
        writes.marks.extend(last.into_iter().map(|(page, n)| (page.to_owned(), Some(json!(n)))));
        tab.base = bench;
        tab.mended = None;
        if let Some((name, history)) = history {
            writes.steps = tab.keep_steps(name, history);
        }
        Ok(Settled { writes, tab, differs, met })
    }

    /// The steps to undo that are not kept yet, those that are no more, and where the tab stands among them.
    fn keep_steps(&mut self, name: &str, history: &History) -> Vec<Record> {
        let key = |number: u64| format!("{name}.{number}");
        let mut next = self.steps.iter().map(|s| s.1).max().unwrap_or(0);
        let mut out = Vec::new();
        let before = core::mem::take(&mut self.steps);
        for step in &history.steps {
            let kept = before.iter().find(|(s, _)| Rc::ptr_eq(s, step));
            let number = kept.map_or_else(
                || {
                    next += 1;
                    out.push((key(next), Some(step.keep())));
                    next
                },
                |(_, number)| *number,
            );
            self.steps.push((step.clone(), number));
        }
        let gone = before.iter().filter(|(_, n)| !self.steps.iter().any(|s| s.1 == *n));
        out.extend(gone.map(|(_, n)| (key(*n), None)));
        if !out.is_empty() || self.at != history.at {
            let all = self.steps.iter().map(|s| s.1).gather();
            out.push((name.to_owned(), Some(json!({"steps": all, "at": history.at}))));
        }
        self.at = history.at;
        out
    }

    /// The steps to undo that are kept under a name.
    pub fn read_steps(&mut self, name: &str, kept: &BTreeMap<String, Value>) -> History {
        let head = kept.get(name).unwrap_or(&Value::Null);
        let numbers = head.get("steps").and_then(Vec::<u64>::restore).unwrap_or_default();
        let read = |n: &u64| {
            let step = Step::restore(kept.get(&format!("{name}.{n}"))?)?;
            Some((Rc::new(step), *n))
        };
        // Steps before one that cannot be read would lead elsewhere.
        let all: Vec<Option<(Rc<Step>, u64)>> = numbers.iter().map(read).gather();
        let from = all.iter().rposition(Option::is_none).map_or(0, |at| at + 1);
        self.steps = all.into_iter().skip(from).flatten().gather();
        let at = head.get("at").and_then(Value::as_u64).unwrap_or(0) as usize;
        self.at = at.saturating_sub(from).min(self.steps.len());
        History { steps: self.steps.iter().map(|s| s.0.clone()).gather(), at: self.at }
    }
}

/// The layouts whose sizes a patch changes.
fn sources(patch: &Patch) -> Vec<u32> {
    let source = |path: &[Name]| match path {
        [Name::Member(a), Name::Member(b), Name::Id(id), Name::Member(what), ..]
            if a == "work" && b == "sources" && what == "draft" =>
        {
            id.parse().ok()
        }
        _ => None,
    };
    patch.0.iter().filter_map(|c| source(&c.path)).gather()
}

/// The journal's text as a value, of the changes of one page that are not kept.
pub fn journal(pending: &[Pending]) -> Value {
    json!({"offsquare": VERSION, "journal": pending.iter().map(Pending::keep).gather()})
}

/// Changes from a journal; what cannot be read, and what a newer Offsquare wrote, stays where it is.
pub fn read_journal(value: &Value) -> Option<Vec<Pending>> {
    let version = value.get("offsquare")?.as_u64()?;
    let all = value.get("journal").filter(|_| version <= u64::from(VERSION))?;
    Vec::restore(all)
}
