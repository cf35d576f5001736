//! Line icons, drawn here; each stands beside words or carries a label.

use yew::prelude::*;

/// What an icon shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Glyph {
    Back,
    Undo,
    Redo,
    Copy,
    Pin,
    Paper,
    Previous,
    Next,
    Up,
    Down,
    Close,
    Shop,
}

#[inline(never)]
pub fn icon(glyph: Glyph) -> Html {
    let d = match glyph {
        Glyph::Back => "M14 4 L6 12 L14 20 M6 12 H21",
        Glyph::Undo => "M8 5 L3 10 L8 15 M3 10 H14 A6 6 0 0 1 14 21 H9",
        Glyph::Redo => "M16 5 L21 10 L16 15 M21 10 H10 A6 6 0 0 0 10 21 H15",
        Glyph::Copy => "M4 16 V4 H15 M8 8 H20 V21 H8 Z",
        Glyph::Pin => "M12 21 V14 M6 14 H18 L15 10 V3 H9 V10 Z",
        Glyph::Paper => "M5 3 H15 L19 7 V21 H5 Z M5 14 L12 7",
        Glyph::Previous => "M15 4 L7 12 L15 20",
        Glyph::Next => "M9 4 L17 12 L9 20",
        Glyph::Up => "M4 15 L12 7 L20 15",
        Glyph::Down => "M4 9 L12 17 L20 9",
        Glyph::Close => "M5 5 L19 19 M19 5 L5 19",
        Glyph::Shop => "M3 20 H21 M5 20 V9 L12 4 L19 9 V20 M9 20 V13 H15 V20",
    };
    html! {
        <svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path d={d} /></svg>
    }
}
