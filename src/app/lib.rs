//! Offsquare's screens: nothing here computes. The core answers; these show, and send edits back.

mod app;
mod io;
mod screens;
mod state;
mod widgets;

use wasm_bindgen::prelude::*;

/// Starts the app on the page. Called by `boot.js` once the module is ready.
#[wasm_bindgen]
pub fn app_main() {
    io::taps::once_where_all_changed();
    io::printing::unfolded();
    io::browser::keep_drawn();
    yew::Renderer::<app::App>::new().render();
}

/// The bench of a first visit as the page has it before the app comes: what takes a tap or a key is off until then.
#[cfg(feature = "ssr")]
pub fn first_bench() -> String {
    let made = std::pin::pin!(
        yew::LocalServerRenderer::<screens::bench::FirstBench>::new().hydratable(false).render()
    );
    let mut context = std::task::Context::from_waker(std::task::Waker::noop());
    let mut made = made;
    loop {
        // Nothing in it waits for anything outside.
        if let std::task::Poll::Ready(html) = made.as_mut().poll(&mut context) {
            return html
                .replace("<button ", "<button disabled ")
                .replace("<input ", "<input disabled ");
        }
    }
}
