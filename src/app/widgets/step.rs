//! A step of the history under a sheet, or under a keypad.

use crate::io::browser;
use yew::prelude::*;

/// What is raised over a screen makes a step in the history, so that the back button takes it and not the screen.
#[hook]
pub fn use_step_under(over: bool, lower: &Callback<()>) {
    let lower = lower.clone();
    // Which one it is, while it stands. What comes on a screen in the meantime has none, and takes none.
    let own = use_mut_ref(|| None::<usize>);
    use_effect_with(over, move |up| {
        let heard = if *up {
            let step = *own.borrow_mut().insert(browser::raise_step());
            browser::on_step_taken(step, move || lower.emit(()))
        } else {
            if let Some(step) = own.take() {
                browser::lower_step(step);
            }
            None
        };
        move || drop(heard)
    });
}
