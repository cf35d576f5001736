//! The document in the device's database: read at the start, kept from then on, followed from tab to tab
//! (`save::Tab` says how).
//!
//! Which of several tabs this one is, it knows by a lock of its own: so it has ids of its own, and the steps to undo of
//! the tab that had the lock before it.

use super::keeping::{JOURNAL, Keeper, News, Patches, Tell};
use super::shelf::{self, ASIDE, LOG, MARKS, RECORDS, STEPS, Trouble};
use super::storage::{self, BENCH, Device, KEPT, SMALL, Storage};
use super::{browser, camera, json, locks, visits};
use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use idb::{KeyRange, Query, Transaction, TransactionMode};
use offsquare_units::num::{Gather, sort_by};
use offsquare_work::piece::Ids;
use offsquare_work::save::{
    BEFORE, Bench, Found, History, Pending, Record, Settled, Tab, Unsettled, Way, apply, diff,
    journal, log_key, mend, read_journal,
};
use serde_json::{Value, json};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;

/// In ms: when what failed is tried again.
const AGAIN: u32 = 5_000;

const NEWER: &str = "A newer version of Offsquare keeps what is on this device. This tab has stopped saving: load the page again to go on.";
const LOST: &str = "The browser has lost what Offsquare kept on this device: pieces, parts and rack. The sizes typed last are here again; a saved file brings back the rest (Shop, Backup).";
const MET: &str =
    "Another tab changed the same thing: the later change stands. Undo takes back your own.";

struct Shelving {
    keeper: Keeper,
    tell: Tell,
    ids: Ids,
    /// The name under which undo steps are kept; none without locks.
    name: Option<String>,
    tab: RefCell<Option<Tab>>,
    /// Changes left by pages that are gone, and the texts they were read from.
    left: RefCell<Vec<Pending>>,
    sources: RefCell<Vec<(String, String)>>,
    /// Marks of pages that are long gone, and left nothing.
    stale: RefCell<Vec<Record>>,
    /// The browser has lost the database, and nothing is kept in the new one yet.
    is_lost: Cell<bool>,
    busy: Cell<bool>,
    again: Cell<bool>,
    in_trouble: Cell<bool>,
    /// Hears of other tabs while it is kept.
    heard: RefCell<Vec<Option<EventListener>>>,
}

static PATCHES: Patches = Patches { diff, journal };

/// Reads the database, and keeps what changes from then on.
pub fn start(keeper: Keeper, tell: Tell) {
    keeper.set_patches(&PATCHES);
    spawn_local(async move {
        let place = locks::take_place(Ids::TABS).await;
        let shelving = Rc::new(Shelving {
            keeper,
            tell,
            ids: Ids(place.number),
            name: place.is_held.then(|| format!("tab{}", place.number)),
            tab: RefCell::default(),
            left: RefCell::default(),
            sources: RefCell::default(),
            stale: RefCell::default(),
            is_lost: Cell::new(false),
            busy: Cell::new(true),
            again: Cell::new(false),
            in_trouble: Cell::new(false),
            heard: RefCell::default(),
        });
        shelving.begin().await;
    });
}

fn range(after: Option<&str>) -> Result<Option<Query>, Trouble> {
    let range = after.map(|key| KeyRange::lower_bound(&key.into(), Some(true)));
    Ok(range.transpose()?.map(Query::from))
}

/// All texts of a store, or those after a key.
async fn texts(
    all: &Transaction,
    name: &str,
    after: Option<&str>,
) -> Result<Vec<(String, String)>, Trouble> {
    let store = shelf::store(all, name)?;
    let keys = store.get_all_keys(range(after)?, None)?;
    let values = store.get_all(range(after)?, None)?;
    let (keys, values) = (keys.await?, values.await?);
    let pairs = keys.iter().zip(&values);
    Ok(pairs
        .filter_map(|(k, v)| Some((k.as_string()?, v.as_string().unwrap_or_default())))
        .collect())
}

fn values(texts: Vec<(String, String)>) -> BTreeMap<String, Value> {
    texts.into_iter().filter_map(|(k, text)| Some((k, json::parsed(&text)?))).collect()
}

fn write(all: &Transaction, name: &str, records: &[Record]) -> Result<(), Trouble> {
    if records.is_empty() {
        return Ok(());
    }
    let store = shelf::store(all, name)?;
    for (key, value) in records {
        let key = JsValue::from(key);
        match value {
            Some(value) => drop(store.put(&json::text(value).into(), Some(&key))?),
            None => drop(store.delete(key)?),
        }
    }
    Ok(())
}

/// Keeps texts that could not be read, as they were.
async fn set_aside(texts: &[(String, String)]) -> Result<(), Trouble> {
    let all = shelf::transaction(&[ASIDE], TransactionMode::ReadWrite).await?;
    let records: serde_json::Map<String, Value> =
        texts.iter().map(|(k, t)| (k.clone(), Value::String(t.clone()))).collect();
    let key = format!("{:015.0}", browser::now_ms());
    let file = json!({"offsquare": "set aside", "records": records});
    write(&all, ASIDE, &[(key, Some(file))])?;
    shelf::whole(all).await
}

/// The texts set aside in the database, as one file.
pub async fn aside() -> Option<String> {
    let all = shelf::transaction(&[ASIDE], TransactionMode::ReadOnly).await.ok()?;
    let kept = texts(&all, ASIDE, None).await.ok()?;
    let own = kept.into_iter().filter(|(key, _)| key != BEFORE).map(|(_, text)| text).gather();
    (!own.is_empty()).then(|| format!("[{}]", own.join(",\n")))
}

const SET_ASIDE: &str = "Not all that this device kept could be read. A copy of it is set aside: Shop, Backup hands it out.";

impl Shelving {
    async fn begin(self: Rc<Self>) {
        let mut said = Vec::new();
        match self.read(&mut said).await {
            Ok(history) => self.clone().go(history, &mut said),
            Err(trouble) => {
                *self.tab.borrow_mut() = None;
                self.trouble(&trouble);
                let mut bench = self.without_database();
                // What is made meanwhile must not be taken for what was made before.
                let ids = Ids(locks::by_chance(Ids::TABS).number);
                bench.work.set_ids(ids);
                self.keeper.set_bench(Rc::new(bench.clone()));
                let bench = Box::new(bench);
                (self.tell)(News::Read { bench, history: History::default(), ids });
                let (keeper, tell) = (self.keeper.clone(), self.tell.clone());
                Timeout::new(AGAIN, move || start(keeper, tell)).forget();
            }
        }
        if !said.is_empty() {
            (self.tell)(News::Said(said));
        }
    }

    /// What there is beside the database: the small text, and all journals.
    fn without_database(&self) -> Bench {
        self.keeper.take();
        let before = Device.read(BENCH).map(|text| json::open(&text).bench);
        let mut bench = before.unwrap_or_else(|| Bench::clone(&self.keeper.bench()));
        let mut names = storage::names(JOURNAL);
        sort_by(&mut names, Ord::cmp);
        let texts = names.iter().filter_map(|name| json::parsed(&Device.read(name)?));
        let left = texts.filter_map(|text| read_journal(&text)).flatten();
        for change in left.chain(self.keeper.pending()) {
            apply(&mut bench, &change.patch, Way::Later);
        }
        mend(&mut bench.work);
        bench
    }

    /// Reads everything; gives what an earlier run can still undo.
    async fn read(&self, said: &mut Vec<String>) -> Result<(History, Found), Trouble> {
        let stores = [RECORDS, LOG, STEPS, MARKS, ASIDE];
        let all = shelf::transaction(&stores, TransactionMode::ReadOnly).await?;
        let kept = texts(&all, RECORDS, None).await?;
        let steps = values(texts(&all, STEPS, None).await?);
        let marks = values(texts(&all, MARKS, None).await?);
        let logged = shelf::store(&all, LOG)?.get_all_keys(None, None)?.await?;
        let last = logged.last().and_then(|key| key.as_string()?.parse().ok()).unwrap_or(0);
        let before = shelf::store(&all, ASIDE)?.get(JsValue::from(BEFORE))?.await?;
        let before = before.and_then(|text| text.as_string());
        let (mut good, mut bad) = (Vec::new(), Vec::new());
        for (key, text) in &kept {
            match json::parsed(text) {
                Some(value) => good.push((key.clone(), value)),
                None => bad.push((key.clone(), text.clone())),
            }
        }
        let (mut tab, repaired) = Tab::of(good.into_iter(), last);
        let found = Found { marks, log: Vec::new() };
        if !(repaired.is_empty() && bad.is_empty()) && !found.is_newer() {
            tab.mended = Some(kept.iter().map(|(key, _)| key.clone()).collect());
            set_aside(if repaired.is_empty() { &bad } else { &kept }).await?;
            said.push(SET_ASIDE.to_owned());
            said.extend(repaired);
        }
        let history = match &self.name {
            Some(name) => tab.read_steps(name, &steps),
            None => History::default(),
        };
        *self.tab.borrow_mut() = Some(tab);
        *self.stale.borrow_mut() = self.stale(&found);
        if kept.is_empty() && found.marks.is_empty() && Device.read(KEPT).is_some() {
            self.is_lost.set(true);
            said.push(LOST.to_owned());
            // The small text is kept by itself.
            let small = Device.read(SMALL).map(|text| json::beginning(&text)).unwrap_or_default();
            let patch = diff(&Bench::default(), &small);
            self.left.borrow_mut().push(Pending { page: SMALL.into(), number: 1, patch });
        }
        self.read_left(&found, before.as_deref(), said).await?;
        Ok((history, found))
    }

    /// What pages that are gone have left in their journals, and what was kept before there was a database.
    async fn read_left(
        &self,
        found: &Found,
        before: Option<&str>,
        said: &mut Vec<String>,
    ) -> Result<(), Trouble> {
        let kept = |page: &str| found.marks.get(page).and_then(Value::as_u64).unwrap_or(0);
        let own = self.keeper.journal();
        for name in storage::names(JOURNAL).into_iter().filter(|name| *name != own) {
            let Some(text) = Device.read(&name) else { continue };
            match json::parsed(&text).as_ref().and_then(read_journal) {
                Some(all) => {
                    let new = all.into_iter().filter(|p| p.number > kept(&p.page));
                    self.left.borrow_mut().extend(new);
                    self.sources.borrow_mut().push((name, text));
                }
                // A newer Offsquare reads it, if it wrote it.
                None if found.is_newer() => {}
                None => {
                    set_aside(&[(name.clone(), text)]).await?;
                    said.push(SET_ASIDE.to_owned());
                    Device.remove(&name);
                }
            }
        }
        if let Some(text) = Device.read(BENCH) {
            let opened = json::open(&text);
            if !opened.repaired.is_empty() {
                set_aside(&[(BENCH.to_owned(), text.clone())]).await?;
                said.push(SET_ASIDE.to_owned());
                said.extend(opened.repaired);
            }
            // A tab with an older Offsquare goes on from what it had.
            let old = before.map_or_else(Bench::default, |text| json::open(text).bench);
            let patch = diff(&old, &opened.bench);
            let number = kept(BEFORE) + 1;
            self.left.borrow_mut().insert(0, Pending { page: BEFORE.into(), number, patch });
            self.sources.borrow_mut().push((BENCH.to_owned(), text));
        }
        Ok(())
    }

    /// The marks that nobody will ask for again. The browser may bring back a journal that was put away a moment before it
    /// was killed, so they stay for two days.
    fn stale(&self, found: &Found) -> Vec<Record> {
        let journals = storage::names(JOURNAL);
        let is_old = |page: &&String| {
            let born = page.split('-').next().and_then(|ms| u64::from_str_radix(ms, 16).ok());
            let age = browser::now_ms() - born.unwrap_or(u64::MAX) as f64;
            page.contains('-') && age > 172_800_000.0
        };
        let left = |page: &&String| !journals.iter().any(|name| name.ends_with(*page));
        let pages = found.marks.keys().filter(is_old).filter(left);
        pages.map(|page| (page.clone(), None)).collect()
    }

    fn pending(&self) -> Vec<Pending> {
        let mut all = self.left.borrow().clone();
        all.extend(self.keeper.pending());
        all
    }

    fn go(self: Rc<Self>, (history, found): (History, Found), said: &mut Vec<String>) {
        self.keeper.take();
        let tab = self.tab.take();
        let Some(tab) = tab else { return };
        let (tab, bench) = match tab.look(&found, &self.pending(), self.ids) {
            Ok((tab, bench, _)) => (tab, bench),
            Err(_) => {
                self.close(said);
                (tab.clone(), tab.base)
            }
        };
        let due = tab.mended.is_some() || !self.left.borrow().is_empty();
        // Which pictures no piece names is known only once all pieces are read.
        if !self.keeper.is_closed() {
            let named = bench.work.pieces.iter().flat_map(|p| p.pictures.iter().cloned()).gather();
            spawn_local(async move { camera::tidy(&named).await });
        }
        *self.tab.borrow_mut() = Some(tab);
        self.keeper.set_bench(Rc::new(bench.clone()));
        (self.tell)(News::Read { bench: Box::new(bench), history, ids: self.ids });
        self.busy.set(false);
        let (shelve, look) = (self.clone(), self.clone());
        self.keeper.set_shelf(Rc::new(move || shelve.turn()));
        let look = Rc::new(move || look.turn());
        *self.heard.borrow_mut() = vec![storage::listen(KEPT, {
            let look = look.clone();
            move || look()
        })];
        if due {
            self.keeper.set_due();
        }
        self.turn();
    }

    fn close(&self, said: &mut Vec<String>) {
        self.keeper.close();
        said.push(NEWER.to_owned());
    }

    fn trouble(&self, trouble: &Trouble) {
        if !self.in_trouble.replace(true) {
            (self.tell)(News::Trouble(Some(trouble.words())));
        }
    }

    /// Keeps what is due and takes in what others have kept, one transaction after the other.
    fn turn(self: &Rc<Self>) {
        self.again.set(true);
        if self.keeper.is_closed() || self.busy.replace(true) {
            return;
        }
        let this = self.clone();
        spawn_local(async move {
            while this.again.replace(false) && !this.keeper.is_closed() {
                let done = match this.keeper.take_due() {
                    true => this.settle().await,
                    false => this.look().await,
                };
                match done {
                    Ok(()) if this.in_trouble.replace(false) => (this.tell)(News::Trouble(None)),
                    Ok(()) => {}
                    Err(trouble) => {
                        this.keeper.set_due();
                        this.trouble(&trouble);
                        let later = this.clone();
                        Timeout::new(AGAIN, move || later.turn()).forget();
                        break;
                    }
                }
            }
            this.busy.set(false);
        });
    }

    async fn found(&self, all: &Transaction, seen: u64) -> Result<Found, Trouble> {
        let marks = values(texts(all, MARKS, None).await?);
        let log = texts(all, LOG, Some(&log_key(seen))).await?;
        let entry = |(key, text): (String, String)| {
            Some((key.parse().ok()?, json::parsed(&text).filter(|v| !v.is_null())))
        };
        Ok(Found { marks, log: log.into_iter().filter_map(entry).collect() })
    }

    fn seen(&self) -> u64 {
        self.tab.borrow().as_ref().map_or(0, |tab| tab.seen)
    }

    async fn settle(&self) -> Result<(), Trouble> {
        let stores = [RECORDS, LOG, STEPS, MARKS, ASIDE];
        let all = shelf::transaction(&stores, TransactionMode::ReadWrite).await?;
        let found = self.found(&all, self.seen()).await?;
        // No await from here to the last write: the transaction would end.
        self.keeper.take();
        let pending = self.pending();
        let (history, bench) = (self.keeper.history(), self.keeper.bench());
        let settled = {
            let tab = self.tab.borrow();
            let Some(tab) = tab.as_ref() else { return Ok(()) };
            let alone = self.left.borrow().is_empty().then_some(&*bench);
            let history = self.name.as_deref().map(|name| (name, &history));
            tab.settle(&found, &pending, alone, history, self.ids)
        };
        let settled = match settled {
            Ok(settled) => settled,
            Err(unsettled) => return self.unsettled(unsettled).await,
        };
        let writes = &settled.writes;
        for (name, records) in [
            (RECORDS, &writes.records),
            (LOG, &writes.log),
            (STEPS, &writes.steps),
            (MARKS, &writes.marks),
        ] {
            write(&all, name, records)?;
        }
        write(&all, MARKS, &self.stale.take())?;
        let sources = self.sources.borrow().clone();
        if let Some((_, text)) = sources.iter().find(|(name, _)| name == BENCH) {
            shelf::store(&all, ASIDE)?.put(&text.into(), Some(&BEFORE.into()))?;
        }
        shelf::whole(all).await?;
        self.settled(settled, &pending, &sources);
        Ok(())
    }

    /// It is kept.
    fn settled(&self, settled: Settled, pending: &[Pending], sources: &[(String, String)]) {
        self.left.borrow_mut().clear();
        self.sources.borrow_mut().clear();
        for (name, text) in sources {
            // An older tab may have written once more.
            if Device.read(name).as_ref() == Some(text) {
                Device.remove(name);
            }
        }
        let Settled { tab, differs, met, writes } = settled;
        // What is only in journals now met no other tab.
        let met = met && !self.is_lost.take();
        let own = self.keeper.journal();
        let last = pending.iter().filter(|p| own.ends_with(&p.page)).map(|p| p.number).max();
        self.keeper.kept(last.unwrap_or(0));
        if tab.base.work.pieces.len() > 1 {
            visits::ask_to_last();
        }
        if !writes.log.is_empty() {
            // Other tabs hear of it.
            let _ = Device.write(KEPT, &tab.seen.to_string());
        }
        self.now_at(tab, differs, met);
    }

    /// The tab has read so far.
    fn now_at(&self, tab: Tab, differs: bool, met: bool) {
        if differs {
            self.keeper.take();
            let shown = tab.look(&Found::default(), &self.pending(), self.ids);
            if let Ok((_, shown, _)) = shown {
                let shown = Rc::new(shown);
                self.keeper.set_bench(shown.clone());
                (self.tell)(News::Elsewhere(shown));
            }
        }
        *self.tab.borrow_mut() = Some(tab);
        if met {
            (self.tell)(News::Said(vec![MET.to_owned()]));
        }
    }

    async fn look(&self) -> Result<(), Trouble> {
        let seen = self.seen();
        let all = shelf::transaction(&[LOG, MARKS], TransactionMode::ReadOnly).await?;
        let found = self.found(&all, seen).await?;
        let looked = self.tab.borrow().as_ref().map(|tab| tab.look(&found, &[], self.ids));
        match looked {
            Some(Ok((tab, _, met))) => {
                let differs = tab.seen != seen;
                self.now_at(tab, differs, met);
            }
            Some(Err(unsettled)) => return self.unsettled(unsettled).await,
            None => {}
        }
        Ok(())
    }

    async fn unsettled(&self, why: Unsettled) -> Result<(), Trouble> {
        if why == Unsettled::Newer {
            let mut said = Vec::new();
            self.close(&mut said);
            (self.tell)(News::Said(said));
            return Ok(());
        }
        let all = shelf::transaction(&[RECORDS, LOG], TransactionMode::ReadOnly).await?;
        let kept = values(texts(&all, RECORDS, None).await?);
        let logged = shelf::store(&all, LOG)?.get_all_keys(None, None)?.await?;
        let last = logged.last().and_then(|key| key.as_string()?.parse().ok()).unwrap_or(0);
        let (tab, _) = Tab::of(kept.into_iter(), last);
        let tab = match self.tab.borrow().as_ref() {
            Some(old) => tab.with_steps_of(old),
            None => tab,
        };
        self.keeper.set_due();
        self.again.set(true);
        self.now_at(tab, true, false);
        Ok(())
    }
}
