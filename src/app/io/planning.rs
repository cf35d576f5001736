//! The planner beside the page: in a worker or, where no worker starts, in small steps on the page itself. Both run
//! `worker.js`, with the wasm of `offsquare-worker`, which is fetched with the first request and no sooner.
//!
//! `state/boards.rs` gives each change of the jobs a new id, and `Planned::hear` drops messages of other ids and those
//! after *Stop*. Requests and messages are plain objects. The worker looks for messages between turns of some 20 ms; a
//! unit of the search that takes longer is waited for. *What nearly fits* is asked in steps too (`sticks::Nearing`,
//! `guillotine::Nearing`), of every job, late, with a budget of its own.
//!
//! What can go wrong is told as a [`Trouble`] and can be tried again; all else of the app goes on.

use super::{browser, json};
use gloo::timers::callback::Timeout;
use offsquare_units::kept::{Kept, Value};
use offsquare_work::cutlist::{Ask, Message};
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use wasm_bindgen::prelude::{Closure, wasm_bindgen};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{MessageEvent, WorkerOptions, WorkerType};

/// Works requests off and answers in messages; a new request takes the place of the one before.
pub trait Planning {
    /// Where `tries` has grown since the last request, whatever came before is given up and started anew.
    fn ask(&self, request: &Ask, tries: u32);
    fn stop(&self);
}

/// Why nothing is planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// It is still on its way.
    Late,
    Missing,
    /// It does not read what the page sends, or the page does not read what it says.
    OtherVersion,
    Died,
}

/// What the planner's side says.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    Message(Message),
    /// None: it runs.
    Trouble(Option<Trouble>),
}

type Tell = Rc<dyn Fn(Said)>;

/// Planner steps between two looks at what has come in, on the page; in a worker `worker.js` has its own.
const ON_PAGE: f64 = 3_000_000.0;
/// At most so often, in milliseconds, the page takes in what it has heard, all of it at once: each time the
/// screen is worked out anew.
const PACE: u32 = 30;
/// From here on the planner is late, in milliseconds.
const LATE: u32 = 8_000;

#[wasm_bindgen]
extern "C" {
    /// The browser's own `import()`.
    #[wasm_bindgen(catch, js_name = import)]
    async fn import(address: &str) -> Result<JsValue, JsValue>;

    /// `worker.js` as a module of the page.
    type Module;
    #[wasm_bindgen(method, catch)]
    async fn open(this: &Module, tell: &JsValue, steps: f64) -> Result<JsValue, JsValue>;
}

/// Where the planner runs.
enum Place {
    Nowhere,
    /// Until its first word, or until it is loaded on the page.
    Starting,
    Worker,
    Page(js_sys::Function),
}

/// A worker with what listens to it; ended with it.
struct Running {
    worker: web_sys::Worker,
    _hear: Closure<dyn Fn(MessageEvent)>,
    _lost: Closure<dyn Fn(JsValue)>,
}

impl Drop for Running {
    fn drop(&mut self) {
        self.worker.terminate();
    }
}

/// The browser's planner, started with the first request.
pub struct Background(Rc<Inner>);

struct Inner {
    tell: Tell,
    place: RefCell<Place>,
    worker: RefCell<Option<Running>>,
    /// Sent once it listens.
    waiting: RefCell<Option<JsValue>>,
    tries: Cell<u32>,
    /// Counts starts: what an earlier one says later is not heard.
    start: Cell<u32>,
}

impl Background {
    pub fn new(tell: Tell) -> Background {
        let held = Rc::new(RefCell::new(Vec::<Said>::new()));
        let tell: Tell = Rc::new(move |said| {
            let mut waiting = held.borrow_mut();
            waiting.push(said);
            if waiting.len() == 1 {
                let (held, tell) = (held.clone(), tell.clone());
                let all = move || held.take().into_iter().for_each(|s| tell(s));
                Timeout::new(PACE, all).forget();
            }
        });
        Background(Rc::new(Inner {
            tell,
            place: RefCell::new(Place::Nowhere),
            worker: RefCell::default(),
            waiting: RefCell::default(),
            tries: Cell::default(),
            start: Cell::default(),
        }))
    }
}

impl Planning for Background {
    fn ask(&self, request: &Ask, tries: u32) {
        let inner = &self.0;
        if inner.tries.replace(tries) != tries {
            inner.end();
        }
        // Plain numbers, texts and lists can always be written.
        inner.waiting.replace(json::to_js(&request.keep()).ok());
        inner.send();
        if matches!(*inner.place.borrow(), Place::Nowhere) {
            // After the page has been painted.
            let inner = inner.clone();
            Timeout::new(0, move || inner.start()).forget();
        }
    }

    fn stop(&self) {
        self.0.waiting.take();
        self.0.post(&JsValue::NULL);
    }
}

impl Inner {
    /// Sends what waits, where somebody listens.
    fn send(&self) {
        if !matches!(*self.place.borrow(), Place::Nowhere | Place::Starting)
            && let Some(request) = self.waiting.take()
        {
            self.post(&request);
        }
    }

    fn post(&self, request: &JsValue) {
        // One that cannot be reached has said so by its error.
        if let Some(running) = &*self.worker.borrow() {
            let _ = running.worker.post_message(request);
        }
        let page = match &*self.place.borrow() {
            Place::Page(hear) => Some(hear.clone()),
            _ => None,
        };
        // It may answer at once, so nothing is borrowed.
        if let Some(hear) = page {
            let _ = hear.call1(&JsValue::NULL, request);
        }
    }

    fn end(&self) {
        self.start.set(self.start.get() + 1);
        self.worker.take();
        self.place.replace(Place::Nowhere);
    }

    fn fail(&self, trouble: Trouble) {
        self.end();
        (self.tell)(Said::Trouble(Some(trouble)));
    }

    fn listens(&self, place: Place) {
        self.place.replace(place);
        (self.tell)(Said::Trouble(None));
        self.send();
    }

    /// The address of `worker.js`; a later try asks for it anew.
    fn address(&self) -> Option<String> {
        let address = browser::root_mark("worker")?;
        Some(match self.tries.get() {
            0 => address,
            n => format!("{address}?{n}"),
        })
    }

    /// Takes in what is said, if it is said by the start of that number.
    fn hear(&self, start: u32, said: &JsValue) {
        if start != self.start.get() {
            return;
        }
        match said.as_string().as_deref() {
            Some("ready") => self.listens(Place::Worker),
            Some("missing") => self.fail(Trouble::Missing),
            Some("died") => self.fail(Trouble::Died),
            Some(_) => self.fail(Trouble::OtherVersion),
            None => {
                let value = serde_wasm_bindgen::from_value::<Value>(said.clone()).ok();
                match value.and_then(|v| Message::restore(&v)) {
                    Some(message) => (self.tell)(Said::Message(message)),
                    None => self.fail(Trouble::OtherVersion),
                }
            }
        }
    }

    fn start(self: &Rc<Inner>) {
        if !matches!(*self.place.borrow(), Place::Nowhere) {
            return;
        }
        self.end();
        self.place.replace(Place::Starting);
        let start = self.start.get();
        let inner = self.clone();
        let late = move || {
            if start == inner.start.get() && matches!(*inner.place.borrow(), Place::Starting) {
                (inner.tell)(Said::Trouble(Some(Trouble::Late)));
            }
        };
        Timeout::new(LATE, late).forget();
        match self.address().and_then(|address| self.in_worker(start, &address)) {
            Some(running) => drop(self.worker.replace(Some(running))),
            None => self.on_page(start),
        }
    }

    fn in_worker(self: &Rc<Inner>, start: u32, address: &str) -> Option<Running> {
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let worker = web_sys::Worker::new_with_options(address, &options).ok()?;
        let inner = self.clone();
        let hear = Closure::<dyn Fn(MessageEvent)>::new(move |e: MessageEvent| {
            inner.hear(start, &e.data());
        });
        let inner = self.clone();
        let lost = Closure::<dyn Fn(JsValue)>::new(move |_| {
            if start != inner.start.get() {
            } else if matches!(*inner.place.borrow(), Place::Starting) {
                inner.on_page(start);
            } else {
                inner.fail(Trouble::Died);
            }
        });
        worker.set_onmessage(Some(hear.as_ref().unchecked_ref()));
        worker.set_onerror(Some(lost.as_ref().unchecked_ref()));
        Some(Running { worker, _hear: hear, _lost: lost })
    }

    fn on_page(self: &Rc<Inner>, start: u32) {
        let Some(address) = self.address() else {
            return self.fail(Trouble::Missing);
        };
        let inner = self.clone();
        wasm_bindgen_futures::spawn_local(async move {
            let said = inner.clone();
            let tell = Closure::<dyn Fn(JsValue)>::new(move |s| said.hear(start, &s));
            let opened = match import(&address).await {
                Ok(module) => {
                    let module = module.unchecked_into::<Module>();
                    module.open(&tell.into_js_value(), ON_PAGE).await
                }
                Err(error) => Err(error),
            };
            if start != inner.start.get() {
                return;
            }
            match opened.ok().and_then(|hear| hear.dyn_into().ok()) {
                Some(hear) => inner.listens(Place::Page(hear)),
                None => inner.fail(Trouble::Missing),
            }
        });
    }
}
