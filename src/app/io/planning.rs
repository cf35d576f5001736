//! The planner beside the page: in a worker from the same wasm, or, where a browser has none for us,
//! in small steps on the page itself.
//!
//! `worker_main` (same wasm) waits for requests in a worker; `state/boards.rs` gives each change of the jobs a new id, and
//! `Planned::hear` drops messages of other ids and those after *Stop*. A request is a line of words (`planner/words.rs`),
//! numbers printed exactly. The worker looks for messages between steps of some 20 ms (40 in the browser); a unit of the search that
//! takes longer is waited for. *What nearly fits* is asked in steps too (`sticks::Nearing`, `guillotine::Nearing`), of every job, late,
//! with a budget of its own.
//! Where no worker starts, the same `Request` goes on the page in small steps (`io/planning.rs`).

use gloo::timers::callback::Timeout;
use offsquare_work::cutlist::Request;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{MessageEvent, WorkerOptions, WorkerType};

/// Works requests off and answers in messages; a new request takes the place of the one before.
pub trait Planning {
    fn ask(&self, request: &str);
    fn stop(&self);
}

type Tell = Rc<dyn Fn(&str)>;

/// Planner steps between two looks at what has come in.
const IN_WORKER: i64 = 20_000_000;
const ON_PAGE: i64 = 3_000_000;
/// At most so often, in milliseconds, the page takes in what it has heard, all of it at once: each time the
/// screen is worked out anew.
const PACE: u32 = 30;
/// A message of our own that no plan sends.
const STOP: &str = "stop";
const READY: &str = "ready";

/// One request at a time, step by step, each in a task of its own.
struct Runner {
    request: RefCell<Option<Request>>,
    going: Cell<bool>,
    steps: i64,
    tell: Tell,
}

impl Runner {
    fn new(steps: i64, tell: Tell) -> Rc<Runner> {
        Rc::new(Runner { request: RefCell::new(None), going: Cell::new(false), steps, tell })
    }
    fn take(self: &Rc<Runner>, message: &str) {
        *self.request.borrow_mut() = Request::new(message);
        if !self.going.replace(true) {
            self.turn();
        }
    }
    fn turn(self: &Rc<Runner>) {
        let runner = Rc::clone(self);
        Timeout::new(0, move || {
            let said = match &mut *runner.request.borrow_mut() {
                Some(request) if !request.is_done() => request.step(runner.steps),
                _ => {
                    runner.going.set(false);
                    return;
                }
            };
            for message in said {
                (runner.tell)(&message);
            }
            runner.turn();
        })
        .forget();
    }
}

/// The worker's side: called by `worker.js`, which posts "ready" afterwards.
pub fn serve() {
    let scope: web_sys::DedicatedWorkerGlobalScope = js_sys::global().unchecked_into();
    let out = scope.clone();
    let runner = Runner::new(
        IN_WORKER,
        Rc::new(move |message| {
            // A page that is gone hears nothing.
            let _ = out.post_message(&JsValue::from_str(message));
        }),
    );
    let hear = Closure::<dyn Fn(MessageEvent)>::new(move |e: MessageEvent| {
        if let Some(message) = e.data().as_string() {
            runner.take(&message);
        }
    });
    scope.set_onmessage(Some(hear.as_ref().unchecked_ref()));
    hear.forget();
}

struct Running {
    worker: web_sys::Worker,
    _hear: Closure<dyn Fn(MessageEvent)>,
    _lost: Closure<dyn Fn(JsValue)>,
}

/// The browser's worker, started with the first request.
pub struct Background {
    tell: Tell,
    running: RefCell<Option<Running>>,
    /// None once the worker has said that it listens.
    waiting: Rc<RefCell<Option<String>>>,
    /// Takes over where no worker starts.
    page: Rc<Runner>,
    lost: Rc<Cell<bool>>,
    ready: Rc<Cell<bool>>,
}

impl Background {
    pub fn new(tell: Tell) -> Background {
        let held = Rc::new(RefCell::new(Vec::<String>::new()));
        let tell: Tell = Rc::new(move |message| {
            let mut waiting = held.borrow_mut();
            waiting.push(message.to_owned());
            if waiting.len() == 1 {
                let (held, tell) = (held.clone(), tell.clone());
                let all = move || held.take().iter().for_each(|m| tell(m));
                Timeout::new(PACE, all).forget();
            }
        });
        Background {
            page: Runner::new(ON_PAGE, tell.clone()),
            tell,
            running: RefCell::new(None),
            waiting: Rc::default(),
            lost: Rc::default(),
            ready: Rc::default(),
        }
    }

    fn start(&self) -> Option<Running> {
        let address = super::browser::root_mark("worker")?;
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let worker = web_sys::Worker::new_with_options(&address, &options).ok()?;
        let (tell, waiting, ready) = (self.tell.clone(), self.waiting.clone(), self.ready.clone());
        let speaker = worker.clone();
        let hear = Closure::<dyn Fn(MessageEvent)>::new(move |e: MessageEvent| {
            let Some(message) = e.data().as_string() else {
                return;
            };
            if message == READY {
                ready.set(true);
                if let Some(request) = waiting.borrow_mut().take() {
                    let _ = speaker.post_message(&JsValue::from_str(&request));
                }
            } else {
                tell(&message);
            }
        });
        let (page, waiting, gone) = (self.page.clone(), self.waiting.clone(), self.lost.clone());
        let lost = Closure::<dyn Fn(JsValue)>::new(move |_| {
            gone.set(true);
            if let Some(request) = waiting.borrow_mut().take() {
                page.take(&request);
            }
        });
        worker.set_onmessage(Some(hear.as_ref().unchecked_ref()));
        worker.set_onerror(Some(lost.as_ref().unchecked_ref()));
        Some(Running { worker, _hear: hear, _lost: lost })
    }
}

impl Planning for Background {
    fn ask(&self, request: &str) {
        if self.lost.get() {
            return self.page.take(request);
        }
        let mut running = self.running.borrow_mut();
        if running.is_none() {
            self.ready.set(false);
            *running = self.start();
        }
        match &*running {
            Some(r) if self.ready.get() => {
                // A worker that cannot be reached has said so by its error.
                let _ = r.worker.post_message(&JsValue::from_str(request));
            }
            Some(_) => *self.waiting.borrow_mut() = Some(request.to_owned()),
            None => self.page.take(request),
        }
    }

    fn stop(&self) {
        self.page.take(STOP);
        *self.waiting.borrow_mut() = None;
        if let Some(r) = &*self.running.borrow() {
            let _ = r.worker.post_message(&JsValue::from_str(STOP));
        }
    }
}
