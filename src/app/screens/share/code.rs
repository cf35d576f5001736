//! A piece's square code: over the whole screen, black on white in either theme, or small on paper.

use crate::io::{browser, json};
use crate::widgets::sheet::Sheet;
use offsquare_paper::square_code::{ON_PAPER, SquareCode};
use offsquare_work::save::Bench;
use offsquare_work::save::share::Packed;
use yew::prelude::*;

pub fn full_code(name: &str, code: &SquareCode, close: Callback<()>) -> Html {
    let side = code.side().to_string();
    html! {
        <Sheet title={format!("Square code: {name}")} class="bright" {close}>
            <svg class="code" data-test="code" role="img" aria-label="Square code for a camera" viewBox={format!("0 0 {side} {side}")} shape-rendering="crispEdges">
                <path class="code-ink" d={code.path()} />
            </svg>
            <p class="said">{ "Point another phone\u{2019}s camera at it. The piece is in the code itself: no network is needed to read it, only to load the page if that phone has none." }</p>
        </Sheet>
    }
}

/// The code of a packed piece, with this app's address in it.
pub fn code_of(packed: &Packed, most: u8) -> Option<SquareCode> {
    let (address, letters) = packed.code();
    SquareCode::of(&browser::address(&address), &letters, most)
}

/// That of a piece for paper; none where it would be too large there.
pub fn paper_code(bench: &Bench, piece: u32) -> Option<SquareCode> {
    json::packed(bench, piece).and_then(|packed| code_of(&packed, ON_PAPER))
}
