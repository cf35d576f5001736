//! What changes goes to the device, in three places, each at its own pace:
//!
//! - at once, and before anything else happens, into the page's journal (`offsquare.journal.…`): a page that is killed
//!   loses nothing but the key being pressed. Until the code that makes patches has loaded, the journal holds the document
//!   before and after instead;
//! - then into the database, which `shelving` does once it has come; what is there no longer stands in the journal;
//! - a moment later what the first answer needs (drafts, recent answers, sums, shop) into one small text that is read
//!   at the next start before the database is (`offsquare.small`).

use super::storage::{Device, SMALL, Storage};
use super::{browser, json};
use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use offsquare_work::piece::Ids;
use offsquare_work::save::{Bench, History, Patch, Pending, beginning, journal_between};
use serde_json::Value;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use yew::Callback;

/// How long the small text may wait, in ms.
const WAIT: u32 = 100;

/// The document before and after something was changed.
pub type Change = [Rc<Bench>; 2];

/// Changes in their order.
pub type Out = Rc<RefCell<Vec<Change>>>;

/// The code that makes patches; it loads with the database.
pub struct Patches {
    pub diff: fn(&Bench, &Bench) -> Patch,
    /// The journal of what is pending.
    pub journal: fn(&[Pending]) -> Value,
}

/// What the app hears of the database.
pub enum News {
    Read {
        bench: Box<Bench>,
        history: History,
        ids: Ids,
    },
    Elsewhere(Rc<Bench>),
    Said(Vec<String>),
    /// Why nothing can be kept; none: all is kept again.
    Trouble(Option<&'static str>),
}

pub type Tell = Rc<dyn Fn(News)>;

/// The page's changes, until they are kept.
#[derive(Clone)]
pub struct Keeper(Rc<Waiting>);

struct Waiting {
    /// This page's name, unique among all pages that ever stored something.
    page: String,
    out: Out,
    patches: Cell<Option<&'static Patches>>,
    /// Everything changed before they loaded.
    early: RefCell<Option<Change>>,
    pending: RefCell<Vec<Pending>>,
    number: Cell<u64>,
    /// The document with all that is pending.
    bench: RefCell<Rc<Bench>>,
    history: RefCell<History>,
    /// Something is not in the database.
    is_due: Cell<bool>,
    /// The journal holds all that is not in the database.
    is_noted: Cell<bool>,
    /// A newer Offsquare keeps the device: nothing is written any more.
    is_closed: Cell<bool>,
    timer: RefCell<Option<Timeout>>,
    /// Puts it into the database.
    shelve: RefCell<Option<Rc<dyn Fn()>>>,
    /// Hears the sentence where nothing could be kept.
    failed: Callback<&'static str>,
}

/// What the name of every journal begins with.
pub const JOURNAL: &str = "offsquare.journal.";

impl Keeper {
    pub fn new(out: Out, bench: Rc<Bench>, failed: Callback<&'static str>) -> Keeper {
        let chance = js_sys::Math::random() * f64::from(u32::MAX);
        Keeper(Rc::new(Waiting {
            page: format!("{:x}-{:x}", browser::now_ms() as u64, chance as u32),
            out,
            patches: Cell::new(None),
            early: RefCell::default(),
            pending: RefCell::default(),
            number: Cell::new(0),
            bench: RefCell::new(bench),
            history: RefCell::default(),
            is_due: Cell::new(false),
            is_noted: Cell::new(true),
            is_closed: Cell::new(false),
            timer: RefCell::default(),
            shelve: RefCell::default(),
            failed,
        }))
    }

    /// Keeps what was changed, and what can be undone now.
    pub fn keep(&self, history: &History) {
        let this = &self.0;
        let stepped = *this.history.borrow() != *history;
        *this.history.borrow_mut() = history.clone();
        let changed = self.take();
        if this.is_closed.get() || !(changed || stepped) {
            return;
        }
        this.is_due.set(true);
        let keeper = self.clone();
        let mut timer = this.timer.borrow_mut();
        timer.get_or_insert_with(|| Timeout::new(WAIT, move || keeper.small()));
        drop(timer);
        self.shelve();
    }

    /// Takes over what waits to be kept and writes it to the journal; says whether there was anything.
    pub fn take(&self) -> bool {
        let this = &self.0;
        let all = this.out.take();
        let any = !all.is_empty();
        for [before, after] in all {
            *this.bench.borrow_mut() = after.clone();
            match this.patches.get() {
                Some(patches) => self.put(patches, &before, &after),
                None => {
                    let mut early = this.early.borrow_mut();
                    let first = early.take().map_or(before, |[first, _]| first);
                    *early = Some([first, after]);
                }
            }
        }
        if any {
            self.note();
        }
        any
    }

    fn put(&self, patches: &Patches, before: &Bench, after: &Bench) {
        let this = &self.0;
        let patch = (patches.diff)(before, after);
        if !patch.0.is_empty() {
            this.number.set(this.number.get() + 1);
            let (page, number) = (this.page.clone(), this.number.get());
            this.pending.borrow_mut().push(Pending { page, number, patch });
        }
    }

    /// The journal, with what is not in the database.
    fn note(&self) {
        let this = &self.0;
        let (name, pending) = (self.journal(), this.pending.borrow());
        let journal = match (&*this.early.borrow(), this.patches.get()) {
            (Some([before, after]), _) => Some(journal_between(&this.page, before, after)),
            (None, Some(patches)) if !pending.is_empty() => Some((patches.journal)(&pending)),
            _ => None,
        };
        this.is_noted.set(match journal {
            Some(value) => this.is_closed.get() || Device.write(&name, &json::text(&value)).is_ok(),
            None => {
                Device.remove(&name);
                true
            }
        });
    }

    /// The name of this page's journal.
    pub fn journal(&self) -> String {
        format!("{JOURNAL}{}", self.0.page)
    }

    fn shelve(&self) {
        let shelve = self.0.shelve.borrow().clone();
        if let Some(shelve) = shelve {
            shelve();
        }
    }

    /// What the next start shows first.
    fn small(&self) {
        let this = &self.0;
        drop(this.timer.take());
        if this.is_closed.get() {
            return;
        }
        let text = json::text(&beginning(&this.bench.borrow()));
        // The database has it all: without the small text the next start only shows an older answer for a moment.
        if let Err(sentence) = Device.write(SMALL, &text)
            && this.shelve.borrow().is_none()
        {
            this.failed.emit(sentence);
        }
    }

    /// The page may close now: writes what waits, and says whether everything is safe.
    pub fn now(&self) -> bool {
        self.take();
        if self.0.timer.borrow().is_some() {
            self.small();
        }
        self.shelve();
        self.0.is_noted.get()
    }

    /// While the listeners are kept: what waits is kept before the page goes, or another one is turned to.
    pub fn watch(&self) -> [Option<EventListener>; 3] {
        ["pagehide", "visibilitychange", "blur"].map(|event| {
            let keeper = self.clone();
            browser::on_window(event, move || {
                keeper.now();
            })
        })
    }
}

/// The side of the database.
impl Keeper {
    /// From now on changes become patches, earlier ones too.
    pub fn set_patches(&self, patches: &'static Patches) {
        self.0.patches.set(Some(patches));
        if let Some([before, after]) = self.0.early.take() {
            self.put(patches, &before, &after);
        }
    }
    pub fn set_shelf(&self, shelve: Rc<dyn Fn()>) {
        *self.0.shelve.borrow_mut() = Some(shelve);
    }
    /// Whether something is not in the database yet; asking resets it.
    pub fn take_due(&self) -> bool {
        self.0.is_due.take() || !self.0.pending.borrow().is_empty()
    }
    pub fn set_due(&self) {
        self.0.is_due.set(true);
    }
    pub fn pending(&self) -> Vec<Pending> {
        self.0.pending.borrow().clone()
    }
    /// The document with all that is pending.
    pub fn bench(&self) -> Rc<Bench> {
        self.0.bench.borrow().clone()
    }
    pub fn set_bench(&self, bench: Rc<Bench>) {
        *self.0.bench.borrow_mut() = bench;
    }
    pub fn history(&self) -> History {
        self.0.history.borrow().clone()
    }
    /// All up to this number is in the database.
    pub fn kept(&self, number: u64) {
        self.0.pending.borrow_mut().retain(|p| p.number > number);
        self.note();
    }
    /// Nothing is written any more.
    pub fn close(&self) {
        self.0.is_closed.set(true);
    }
    pub fn is_closed(&self) -> bool {
        self.0.is_closed.get()
    }
}
