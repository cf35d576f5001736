//! What is not read first is drawn after the answer has been painted.

use gloo::timers::callback::Timeout;
use yew::prelude::*;

/// In ms: soon enough to be there when it is looked for.
pub const AFTER: u32 = 30;

/// False where a screen is first drawn, true a moment later. Where a screen is written into the page, it is drawn whole.
#[hook]
pub fn use_painted() -> bool {
    let painted = use_state(|| cfg!(feature = "ssr"));
    {
        let painted = painted.setter();
        use_effect_with((), move |()| {
            let timer = Timeout::new(AFTER, move || painted.set(true));
            move || drop(timer)
        });
    }
    *painted
}
