//! A step of the history under a sheet, or under a keypad.

use crate::io::browser;
use yew::prelude::*;

/// What is raised over a screen makes a step in the history, so that the back button takes it and not the screen.
#[hook]
pub fn use_step_under(over: bool, lower: &Callback<()>) {
    let lower = lower.clone();
    // Which one it is: the page may have been loaded anew under the first, too.
    let own = use_mut_ref(|| 1);
    use_effect_with(over, move |up| {
        let heard = if *up {
            *own.borrow_mut() = browser::raise_step();
            browser::on_step_taken(*own.borrow(), move || lower.emit(()))
        } else {
            browser::lower_step(*own.borrow());
            None
        };
        move || drop(heard)
    });
}
