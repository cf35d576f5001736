//! The screen in the hand: how its pixels stand to the browser's.

/// What true size depends on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Display {
    /// Device pixels to a CSS pixel; the browser's zoom is in it.
    pub ratio: f64,
    /// The whole screen, in CSS px, the shorter side first.
    pub short: f64,
    pub long: f64,
}

pub fn display() -> Display {
    let Some(window) = web_sys::window() else { return Display::default() };
    let (w, h) = window.screen().map_or((0.0, 0.0), |s| {
        (f64::from(s.width().unwrap_or(0)), f64::from(s.height().unwrap_or(0)))
    });
    Display { ratio: window.device_pixel_ratio(), short: w.min(h), long: w.max(h) }
}

/// The window's size, CSS px.
pub fn window_size() -> (f64, f64) {
    let Some(window) = web_sys::window() else { return (360.0, 640.0) };
    let size = |v: Result<wasm_bindgen::JsValue, _>| v.ok().and_then(|v| v.as_f64());
    (size(window.inner_width()).unwrap_or(360.0), size(window.inner_height()).unwrap_or(640.0))
}
