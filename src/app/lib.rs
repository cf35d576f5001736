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
    yew::Renderer::<app::App>::new().render();
}
