//! The layouts that are not asked first: they come after the first answer, unless it is one of theirs.

use offsquare_cuts::layouts::{self, Layout};
use offsquare_work::patterns;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

#[wasm_split(layouts, fallible)]
fn layouts_door() -> Result<&'static [&'static dyn Layout], SplitLoaderError> {
    Ok(layouts::all())
}

/// Fetches them; whether they have come.
pub async fn fetch() -> bool {
    let all = layouts_door().await;
    if let Ok(all) = all {
        patterns::arrived(all.iter().copied());
    }
    all.is_ok()
}
