//! Texts that come from outside: a chosen file, one that the system opened with the app, what another app shared with it.

use js_sys::{Array, Function, Object, Reflect};
use offsquare_work::save::share::MOST_FILE;
use std::rc::Rc;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{Blob, FileSystemFileHandle, Response};

/// Where the service worker keeps what another app has shared, until it is asked for once.
const SHARED: &str = "./brought";

/// The text of a file; one too large for a piece is not read, and its beginning says as much to who reads it.
pub async fn text_of(blob: &Blob) -> Option<Rc<str>> {
    let most = MOST_FILE as f64 + 1.0;
    let short = if blob.size() > most {
        blob.slice_with_f64_and_f64(0.0, most).ok()?
    } else {
        blob.clone()
    };
    let text = JsFuture::from(short.text()).await.ok()?;
    Some(text.as_string()?.into())
}

/// Hears of files that the system opens with the app, as long as it runs.
pub fn opened_files(heard: impl Fn(Rc<str>) + 'static) -> Option<()> {
    let window = web_sys::window()?;
    let queue = Reflect::get(&window, &"launchQueue".into()).ok()?.dyn_into::<Object>().ok()?;
    let consume: Function = Reflect::get(&queue, &"setConsumer".into()).ok()?.dyn_into().ok()?;
    let heard = Rc::new(heard);
    let consumer = Closure::<dyn FnMut(JsValue)>::new(move |launched: JsValue| {
        let files = Reflect::get(&launched, &"files".into()).unwrap_or_default();
        // One piece at a time.
        let file = Array::from(&files).get(0);
        let heard = heard.clone();
        spawn_local(async move {
            if let Some(text) = handed(file).await {
                heard(text);
            }
        });
    });
    // A browser that does not take it opens no files with the app.
    let _ = consume.call1(&queue, consumer.as_ref());
    consumer.forget();
    Some(())
}

async fn handed(file: JsValue) -> Option<Rc<str>> {
    let handle: FileSystemFileHandle = (!file.is_undefined()).then(|| file.unchecked_into())?;
    let file = JsFuture::from(handle.get_file()).await.ok()?;
    text_of(file.unchecked_ref()).await
}

/// What another app has shared with this one, if anything; it is handed out once. No server is asked: without the service
/// worker there is nothing.
pub async fn shared() -> Option<Rc<str>> {
    let window = web_sys::window()?;
    let workers = Reflect::get(&window.navigator(), &"serviceWorker".into()).ok()?;
    let worker = Reflect::get(&workers, &"controller".into()).ok()?;
    if !worker.is_object() {
        return None;
    }
    let got = JsFuture::from(window.fetch_with_str(SHARED)).await.ok()?;
    let got: Response = got.dyn_into().ok()?;
    if got.status() != 200 {
        return None;
    }
    let blob = JsFuture::from(got.blob().ok()?).await.ok()?;
    text_of(blob.unchecked_ref()).await
}
