//! A square code over the whole screen, black on white in either theme: what another phone's camera reads.

use crate::widgets::sheet::Sheet;
use offsquare_paper::square_code::SquareCode;
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
