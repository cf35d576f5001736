//! The second tap of a hasty thumb.

use gloo::events::{EventListener, EventListenerOptions};
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, MouseEvent};

/// How long after a tap, in ms, and how near to it, in CSS px, another one is taken for its repetition.
const SOON: f64 = 300.0;
const NEAR: i32 = 16;

struct Tap {
    at: (i32, i32),
    when: f64,
    on: Element,
    /// How far the page was scrolled: after a scroll another place is meant.
    scrolled: f64,
}

/// From now on a tap that repeats another is not taken where what was tapped is gone: it would fall on what the first
/// has brought there. On the same key, or anywhere else, every tap is taken at once.
pub fn once_where_all_changed() {
    let Some(window) = web_sys::window() else {
        return;
    };
    let last = Rc::new(RefCell::new(None));
    for kind in ["pointerdown", "click"] {
        let last = last.clone();
        let options =
            EventListenerOptions { passive: false, ..EventListenerOptions::run_in_capture_phase() };
        let heard = EventListener::new_with_options(&window, kind, options, move |event| {
            if let Some(tap) = tap(event) {
                if last.borrow().as_ref().is_some_and(|l| repeats(&tap, l)) {
                    event.prevent_default();
                    event.stop_immediate_propagation();
                } else {
                    last.replace(Some(tap));
                }
            }
        });
        heard.forget();
    }
}

/// What is tapped; `None` for a key of the keyboard, which clicks, too.
fn tap(event: &Event) -> Option<Tap> {
    let tap = event.dyn_ref::<MouseEvent>()?;
    (tap.detail() > 0 || event.type_() == "pointerdown").then_some(())?;
    Some(Tap {
        at: (tap.client_x(), tap.client_y()),
        when: tap.time_stamp(),
        on: whole(event.target()?.dyn_into().ok()?),
        scrolled: web_sys::window()?.scroll_y().ok()?,
    })
}

/// The key that an element is a part of.
fn whole(element: Element) -> Element {
    let key = element.closest("a, button, [role], input, select, summary");
    key.ok().flatten().unwrap_or(element)
}

fn repeats(tap: &Tap, last: &Tap) -> bool {
    let near = |a: i32, b: i32| (a - b).abs() < NEAR;
    tap.when - last.when < SOON
        && near(tap.at.0, last.at.0)
        && near(tap.at.1, last.at.1)
        && tap.on != last.on
        && tap.scrolled == last.scrolled
        && !still_there(last)
}

fn still_there(tap: &Tap) -> bool {
    let document = web_sys::window().and_then(|w| w.document());
    let now = document.and_then(|d| d.element_from_point(tap.at.0 as f32, tap.at.1 as f32));
    now.is_some_and(|now| whole(now) == tap.on)
}
