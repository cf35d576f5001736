//! Which of several tabs this one is: the first place that no living tab holds.

use js_sys::{Function, Object, Promise, Reflect};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// A tab's place.
pub struct Place {
    pub number: u32,
    /// No other tab can have it while this one is open.
    pub is_held: bool,
}

/// Tabs beyond this many take a place by chance.
const PLACES: u32 = 40;
/// This tab's place before it was loaded again; the page that held it may still be on its way out.
const PLACE: &str = "offsquare.place";

/// Takes the lock if it is free, and says whether it was.
async fn take(locks: &JsValue, request: &Function, number: u32) -> Option<bool> {
    let name = JsValue::from(format!("offsquare.tab.{number}"));
    let options = Object::new();
    Reflect::set(&options, &"ifAvailable".into(), &true.into()).ok()?;
    let mut asked = None;
    let answer = Promise::new(&mut |resolve, _| {
        let granted = Closure::once_into_js(move |lock: JsValue| -> JsValue {
            // Both are functions of the promise, which never fail.
            let _ = resolve.call1(&JsValue::NULL, &lock.is_truthy().into());
            match lock.is_truthy() {
                // It is held until this is done, which is never.
                true => Promise::new(&mut |_, _| {}).into(),
                false => JsValue::UNDEFINED,
            }
        });
        asked = request.call3(locks, &name, &options, &granted).ok();
    });
    asked?;
    JsFuture::from(answer).await.ok().map(|held| held.is_truthy())
}

async fn pause(ms: u32) {
    let waited = Promise::new(&mut |resolve, _| {
        gloo::timers::callback::Timeout::new(ms, move || {
            // As above.
            let _ = resolve.call0(&JsValue::NULL);
        })
        .forget();
    });
    let _ = JsFuture::from(waited).await;
}

/// A place that is unlikely to be another tab's, up to `most`.
pub fn by_chance(most: u32) -> Place {
    let chance = (js_sys::Math::random() * f64::from(most - PLACES)) as u32 + PLACES;
    Place { number: chance, is_held: false }
}

/// Takes a place; one by chance, up to `most`, where the browser has no locks (a plain http address).
pub async fn take_place(most: u32) -> Place {
    let by_chance = by_chance(most);
    let Some(window) = web_sys::window() else { return by_chance };
    let locks = Reflect::get(&window.navigator(), &"locks".into()).unwrap_or(JsValue::UNDEFINED);
    let request = Reflect::get(&locks, &"request".into()).ok();
    let Some(request) = request.and_then(|r| r.dyn_into::<Function>().ok()) else {
        return by_chance;
    };
    let tab = window.session_storage().ok().flatten();
    let before = tab.as_ref().and_then(|t| t.get_item(PLACE).ok().flatten()?.parse::<u32>().ok());
    let mut tried = before.map_or_else(Vec::new, |n| vec![n; 5]);
    let first = tried.len();
    tried.extend(0..PLACES);
    for (turn, number) in tried.into_iter().enumerate() {
        match take(&locks, &request, number).await {
            Some(true) => {
                if let Some(tab) = &tab {
                    // Without it the next load may find another place.
                    let _ = tab.set_item(PLACE, &number.to_string());
                }
                return Place { number, is_held: true };
            }
            Some(false) if turn < first => pause(30).await,
            Some(false) => {}
            None => return by_chance,
        }
    }
    by_chance
}
