//! The window: its address, its clock, its pointer, its theme.

use gloo::events::EventListener;
use std::cell::RefCell;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{HtmlElement, HtmlInputElement};

fn window() -> Option<web_sys::Window> {
    web_sys::window()
}

/// The fragment of the address.
pub fn fragment() -> String {
    window().and_then(|w| w.location().hash().ok()).unwrap_or_default()
}

/// Sets the fragment, which makes a step in the history.
pub fn go(fragment: &str) {
    if let Some(w) = window() {
        // A refused navigation leaves the page where it is.
        let _ = w.location().set_hash(fragment);
    }
}

/// Has the history's newest step say another fragment; it stays what it is otherwise, and nobody hears of it.
pub fn readdress(fragment: &str) {
    if let Some(h) = history() {
        // A refused address stays the old one.
        let _ = h.replace_state_with_url(&state().into(), "", Some(fragment));
    }
}

/// Goes to a place by the history's own way back where that leads there, else in place of its newest step: either way
/// the history grows no longer.
pub fn go_back_to(fragment: &str) {
    let state = state();
    let (steps, place) = match state.strip_prefix(SHEET) {
        Some(under) => (2, under),
        None => (1, &state[..]),
    };
    if place.strip_prefix(FROM) != Some(fragment) {
        if let Some(w) = window() {
            // As in `go`.
            let _ = w.location().replace(fragment);
        }
    } else if let Some(h) = history() {
        // As in `go`.
        let _ = h.go_with_delta(-steps);
    }
}

/// Notes in the history from where a place was reached, once.
pub fn note_came_from(fragment: &str) {
    if state().is_empty()
        && let Some(h) = history()
    {
        // Without the note the arrow back replaces the step.
        let _ = h.replace_state_with_url(&format!("{FROM}{fragment}").into(), "", None);
    }
}

/// The whole address with another fragment, for sharing.
pub fn address(fragment: &str) -> String {
    let href = window().and_then(|w| w.location().href().ok()).unwrap_or_default();
    format!("{}{fragment}", href.split('#').next().unwrap_or_default())
}

/// Milliseconds since 1970.
pub fn now_ms() -> f64 {
    js_sys::Date::now()
}

/// A moment as the device writes it.
pub fn date(ms: f64) -> String {
    let date = js_sys::Date::new(&wasm_bindgen::JsValue::from_f64(ms));
    date.to_locale_date_string("en-US", &js_sys::Object::new()).into()
}

/// Whether the screen is touched rather than pointed at.
pub fn is_touch() -> bool {
    window()
        .and_then(|w| w.match_media("(pointer: coarse)").ok().flatten())
        .is_some_and(|m| m.matches())
}

/// Marks the whole page: `data-{name}` on the root element.
pub fn mark_root(name: &str, value: &str) {
    let root = document().and_then(|d| d.document_element());
    if let Some(root) = root {
        // An attribute name of ours is always valid.
        let _ = root.set_attribute(&format!("data-{name}"), value);
    }
}

/// Reads a mark of the whole page: `data-{name}` of the root element.
pub fn root_mark(name: &str) -> Option<String> {
    document()?.document_element()?.get_attribute(&format!("data-{name}"))
}

fn document() -> Option<web_sys::Document> {
    window()?.document()
}

/// Moves the focus to the element with that id; an input's text is selected.
pub fn focus(id: &str) {
    let Some(element) = document().and_then(|d| d.get_element_by_id(id)) else {
        return;
    };
    // The elements of a drawing take the focus in the same way.
    let _ = element.unchecked_ref::<HtmlElement>().focus();
    if let Some(input) = element.dyn_ref::<HtmlInputElement>() {
        input.select();
    }
}

/// The element that has the focus.
pub fn focused() -> Option<HtmlElement> {
    document()?.active_element()?.dyn_into().ok()
}

/// The text field that has the focus.
pub fn focused_input() -> Option<HtmlInputElement> {
    focused()?.dyn_into().ok()
}

/// The field with the focus gives it up.
pub fn leave_field() {
    if let Some(input) = focused_input() {
        // An element that is gone has none.
        let _ = input.blur();
    }
}

/// The focus goes to the text field that follows in reading order, all of its text selected; after the last one to none.
pub fn focus_next(input: &HtmlInputElement) {
    let all = document().and_then(|d| d.query_selector_all("main input[type=text]").ok());
    let Some(all) = all else { return };
    let fields = (0..all.length()).filter_map(|i| all.item(i)?.dyn_into::<HtmlInputElement>().ok());
    // What is folded away is nowhere on the page.
    let mut seen = fields.filter(|f| f == input || f.offset_parent().is_some());
    let next = seen.find(|f| f == input).and_then(|_| seen.next());
    match next {
        Some(next) => {
            let _ = next.focus();
            next.select();
        }
        None => leave_field(),
    }
}

/// No keyboard of the phone comes up for the fields that have our own keypad.
pub fn hold_keyboard() {
    let all = document().and_then(|d| d.query_selector_all("[data-pad]:not([inputmode])").ok());
    let Some(all) = all else { return };
    for input in (0..all.length()).filter_map(|i| all.item(i)?.dyn_into::<HtmlInputElement>().ok())
    {
        // An attribute name of ours is always valid.
        let _ = input.set_attribute("inputmode", "none");
    }
}

/// The text of a field was changed for the one who types: told as typing is.
pub fn tell_typed(input: &HtmlInputElement) {
    let how = web_sys::InputEventInit::new();
    how.set_bubbles(true);
    if let Ok(event) = web_sys::InputEvent::new_with_event_init_dict("input", &how) {
        // Nobody holds back what has been typed.
        let _ = input.dispatch_event(&event);
    }
}

/// Scrolls a field into the upper half of the window, where it is not there.
pub fn lift(input: &HtmlInputElement) {
    let Some(w) = window() else { return };
    let height = w.inner_height().ok().and_then(|h| h.as_f64()).unwrap_or_default();
    let low = input.get_bounding_client_rect().bottom() - 0.45 * height;
    if low > 0.0 {
        w.scroll_by_with_x_and_y(0.0, low);
    }
}

/// Whether anything on the page has the focus.
pub fn has_focus() -> bool {
    focused().is_some_and(|element| element.tag_name() != "BODY")
}

/// A new place: its title, and its heading read aloud.
pub fn announce(title: &str, read: bool) {
    let Some(d) = document() else {
        return;
    };
    d.set_title(title);
    if let (true, Ok(Some(heading))) = (read, d.query_selector("h1")) {
        // An attribute name of ours is always valid; the focus only fails on an element that is gone.
        let _ = heading.set_attribute("tabindex", "-1");
        let _ = heading.unchecked_ref::<HtmlElement>().focus();
    }
}

/// How far down the page is scrolled, px.
pub fn scrolled() -> f64 {
    window().and_then(|w| w.scroll_y().ok()).unwrap_or_default()
}

pub fn scroll_to(y: f64) {
    if let Some(w) = window() {
        w.scroll_to_with_x_and_y(0.0, y);
    }
}

/// The colors that the browser's own bars take: of `light`, `dark`, or as the system prefers.
pub fn color_bars(theme: &str) {
    let Some(d) = document() else {
        return;
    };
    for scheme in ["light", "dark"] {
        let media = match theme {
            "system" => &format!("(prefers-color-scheme: {scheme})"),
            of if of == scheme => "all",
            _ => "not all",
        };
        // An attribute name of ours is always valid.
        if let Ok(Some(bar)) = d.query_selector(&format!("meta[data-scheme={scheme}]")) {
            let _ = bar.set_attribute("media", media);
        }
    }
}

/// Whether there is room for the form beside the drawing.
pub fn is_wide() -> bool {
    window()
        .and_then(|w| w.match_media("(min-width: 900px)").ok().flatten())
        .is_some_and(|m| m.matches())
}

/// Calls back on every event of that name on the window, while the listener is kept.
pub fn on_window(event: &'static str, heard: impl Fn() + 'static) -> Option<EventListener> {
    Some(EventListener::new(&window()?.into(), event, move |_| heard()))
}

/// The same of the page.
pub fn on_page(event: &'static str, heard: impl Fn() + 'static) -> Option<EventListener> {
    Some(EventListener::new(&document()?.into(), event, move |_| heard()))
}

/// Whether the page is in sight.
pub fn is_seen() -> bool {
    document().is_some_and(|d| d.visibility_state() == web_sys::VisibilityState::Visible)
}

/// Hears of an element's sizes while it is kept.
pub struct Resized {
    observer: Option<web_sys::ResizeObserver>,
    _heard: Closure<dyn FnMut()>,
}

impl Drop for Resized {
    fn drop(&mut self) {
        if let Some(o) = &self.observer {
            o.disconnect();
        }
    }
}

/// Calls back when an element has another size, while what is returned is kept.
pub fn on_resize(element: &web_sys::Element, heard: impl FnMut() + 'static) -> Resized {
    let heard = Closure::<dyn FnMut()>::new(heard);
    // Without it the size stays as it was first measured.
    let observer = web_sys::ResizeObserver::new(heard.as_ref().unchecked_ref()).ok();
    if let Some(o) = &observer {
        o.observe(element);
    }
    Resized { observer, _heard: heard }
}

/// What a step of the history remembers: from where its place was reached, and before that whether a sheet or the keypad
/// stands over it.
const SHEET: &str = "sheet ";
const FROM: &str = "from ";

fn history() -> Option<web_sys::History> {
    window()?.history().ok()
}

fn state() -> String {
    history().and_then(|h| h.state().ok()?.as_string()).unwrap_or_default()
}

/// A step in the history for a sheet or keypad, so that the back button takes it and not the screen.
pub fn raise_step() {
    if let Some(h) = history() {
        // Without the step the back button leaves the screen: nothing typed is lost by it.
        let _ = h.push_state_with_url(&format!("{SHEET}{}", state()).into(), "", None);
    }
}

/// Whether the history stands at the step of a sheet or keypad.
fn at_a_step() -> bool {
    state().starts_with(SHEET)
}

/// Calls back when the back button has taken that step. The browser takes one back in its own time: when the next sheet
/// stands by then, it is that one's step where the history now is.
pub fn on_step_taken(heard: impl Fn() + 'static) -> Option<EventListener> {
    on_window("popstate", move || {
        if !at_a_step() {
            heard();
        }
    })
}

/// Takes the sheet's step back, unless the back button has.
pub fn lower_step() {
    if at_a_step()
        && let Some(h) = history()
    {
        let _ = h.back();
    }
}

thread_local! {
    /// The small drawings of the bench that the page came with, by their layouts.
    static DRAWN: RefCell<Vec<(String, String)>> = RefCell::default();
}

/// Keeps the drawings that the build wrote into the page, before the app takes its place.
pub fn keep_drawn() {
    let page = window().and_then(|w| w.document());
    let Some(all) = page.and_then(|d| d.query_selector_all("[data-test] > .thumb").ok()) else {
        return;
    };
    for i in 0..all.length() {
        let drawn = all.item(i).and_then(|n| n.dyn_into::<web_sys::Element>().ok());
        let of = drawn.as_ref().and_then(|e| e.parent_element()?.get_attribute("href"));
        if let (Some(drawn), Some(of)) = (drawn, of) {
            let layout = of.trim_start_matches("#/").to_owned();
            DRAWN.with_borrow_mut(|kept| kept.push((layout, drawn.inner_html())));
        }
    }
}

/// A layout's small drawing as the page came with it.
pub fn drawn_before(layout: &str) -> Option<String> {
    DRAWN.with_borrow(|kept| {
        kept.iter().find(|(of, _)| of == layout).map(|(_, drawn)| drawn.clone())
    })
}
