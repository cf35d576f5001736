//! The screen kept awake, where the browser can: asked for when a run is on screen, and again whenever the page is seen
//! anew, because the browser lets go of it by itself.

use super::browser;
use gloo::events::EventListener;
use js_sys::{Function, Promise, Reflect};
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::EventTarget;

/// Whether the screen stays awake.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Awake {
    /// The browser is being asked.
    Asking,
    Held,
    /// The browser refuses it, or took it back: a low battery, say.
    Refused,
    /// This browser knows no such thing.
    Missing,
}

/// Keeps the screen awake while it is kept.
pub struct Keeping {
    inner: Rc<Inner>,
    _seen: Option<EventListener>,
}

struct Inner {
    tell: Box<dyn Fn(Awake)>,
    /// What the browser gave, with what hears that it took it back.
    held: RefCell<Option<(JsValue, EventListener)>>,
    over: RefCell<bool>,
}

/// Asks for it; `tell` hears how it stands each time that changes.
pub fn keep_awake(tell: impl Fn(Awake) + 'static) -> Keeping {
    let inner =
        Rc::new(Inner { tell: Box::new(tell), held: RefCell::default(), over: RefCell::default() });
    Inner::ask(&inner);
    let again = inner.clone();
    let seen = browser::on_page("visibilitychange", move || {
        if browser::is_seen() && again.held.borrow().is_none() {
            Inner::ask(&again);
        }
    });
    Keeping { inner, _seen: seen }
}

/// The browser's promise; none where there is no such thing.
fn request() -> Option<Promise> {
    let navigator = web_sys::window()?.navigator();
    let lock = Reflect::get(&navigator, &"wakeLock".into()).ok().filter(JsValue::is_object)?;
    let request: Function = Reflect::get(&lock, &"request".into()).ok()?.dyn_into().ok()?;
    request.call1(&lock, &"screen".into()).ok()?.dyn_into().ok()
}

impl Inner {
    fn ask(inner: &Rc<Inner>) {
        let Some(promise) = request() else {
            return (inner.tell)(Awake::Missing);
        };
        (inner.tell)(Awake::Asking);
        let inner = inner.clone();
        wasm_bindgen_futures::spawn_local(async move {
            let Ok(lock) = JsFuture::from(promise).await else {
                return (inner.tell)(Awake::Refused);
            };
            if *inner.over.borrow() {
                return release(&lock);
            }
            let gone = inner.clone();
            let target: EventTarget = lock.clone().unchecked_into();
            let heard = EventListener::new(&target, "release", move |_| {
                if !*gone.over.borrow() {
                    gone.held.take();
                    (gone.tell)(Awake::Refused);
                }
            });
            inner.held.replace(Some((lock, heard)));
            (inner.tell)(Awake::Held);
        });
    }
}

fn release(lock: &JsValue) {
    let release = Reflect::get(lock, &"release".into()).ok();
    if let Some(release) = release.and_then(|f| f.dyn_into::<Function>().ok()) {
        // What cannot be let go of ends with the page.
        let _ = release.call0(lock);
    }
}

impl Drop for Keeping {
    fn drop(&mut self) {
        self.inner.over.replace(true);
        if let Some((lock, heard)) = self.inner.held.take() {
            drop(heard);
            release(&lock);
        }
    }
}
