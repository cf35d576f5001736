//! The document goes to the device a moment after a change, so that the answer is painted first, and at
//! once when the page may go.

use super::browser;
use super::json;
use super::storage::{BENCH, Device, Storage};
use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use offsquare_work::save::Bench;
use std::cell::RefCell;
use std::rc::Rc;
use yew::Callback;

/// How long a change may wait, in ms.
const WAIT: u32 = 100;

/// The newest document, until it is kept.
#[derive(Clone)]
pub struct Keeper(Rc<Waiting>);

struct Waiting {
    bench: RefCell<Option<Rc<Bench>>>,
    timer: RefCell<Option<Timeout>>,
    /// Hears the sentence where it could not be kept.
    failed: Callback<String>,
}

impl Keeper {
    pub fn new(failed: Callback<String>) -> Keeper {
        Keeper(Rc::new(Waiting { bench: RefCell::new(None), timer: RefCell::new(None), failed }))
    }

    /// Keeps this soon; what waited before needs no keeping anymore.
    pub fn keep(&self, bench: &Rc<Bench>) {
        *self.0.bench.borrow_mut() = Some(bench.clone());
        let keeper = self.clone();
        let mut timer = self.0.timer.borrow_mut();
        timer.get_or_insert_with(|| Timeout::new(WAIT, move || keeper.now()));
    }

    /// Keeps what waits, if anything does.
    pub fn now(&self) {
        drop(self.0.timer.take());
        let waiting = self.0.bench.take();
        if let Some(bench) = waiting
            && let Err(sentence) = Device.write(BENCH, &json::save(&bench))
        {
            self.0.failed.emit(sentence);
        }
    }

    /// While the listeners are kept: what waits is kept before the page goes, or another one is turned to.
    pub fn watch(&self) -> [Option<EventListener>; 3] {
        ["pagehide", "visibilitychange", "blur"].map(|event| {
            let keeper = self.clone();
            browser::on_window(event, move || keeper.now())
        })
    }
}
