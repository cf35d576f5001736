//! A step of the history under a sheet, or under a keypad.

use crate::io::browser;
use yew::prelude::*;

/// What is raised over a screen makes a step in the history, so that the back button takes it and not the screen.
#[hook]
pub fn use_step_under(over: bool, lower: &Callback<()>) {
    let lower = lower.clone();
    use_effect_with(over, move |up| {
        let heard = if *up {
            browser::raise_step();
            browser::on_step_taken(move || lower.emit(()))
        } else {
            // The page may have been loaded anew under it, too.
            browser::lower_step();
            None
        };
        move || drop(heard)
    });
}
