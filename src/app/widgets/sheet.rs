//! A sheet that rises over the screen; Escape, the backdrop and its button close it.

use super::icon::{Glyph, icon};
use crate::io::browser;
use crate::widgets::tags::{tag, txt};
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct SheetProps {
    pub title: AttrValue,
    pub close: Callback<()>,
    /// Besides its own.
    #[prop_or_default]
    pub class: Classes,
    pub children: Children,
}

#[component]
pub fn Sheet(props: &SheetProps) -> Html {
    let close = {
        let close = props.close.clone();
        Callback::from(move |_: MouseEvent| close.emit(()))
    };
    let on_key = {
        let close = props.close.clone();
        Callback::from(move |e: KeyboardEvent| {
            if e.key() == "Escape" {
                e.stop_propagation();
                close.emit(());
            }
        })
    };
    // The close button takes the focus so that Escape and a screen reader find the sheet; it goes back
    // to where it was.
    use_effect_with((), |()| {
        let before = browser::focused();
        browser::focus("sheet-close");
        move || {
            if let Some(e) = before {
                // An element that is gone takes no focus.
                let _ = e.focus();
            }
        }
    });
    // The Tab key goes round within the sheet.
    let stop = || html! { <span tabindex="0" onfocus={|_: FocusEvent| browser::focus("sheet-close")}></span> };
    html! {
        <div class="sheet-ground" onkeydown={on_key}>
            <button class="sheet-behind" tabindex="-1" aria-hidden="true" onclick={close.clone()}></button>
            { stop() }
            // With a place for the focus, so that Escape is heard after a tap on its text.
            <section class={classes!("sheet", props.class.clone())} role="dialog" tabindex="-1" aria-modal="true" aria-label={props.title.clone()}>
                <div class="sheet-head">
                    { tag("h2", "", txt(props.title.clone())) }
                    <button id="sheet-close" class="bare" aria-label="Close" onclick={close}>
                        { icon(Glyph::Close) }
                    </button>
                </div>
                <div class="sheet-body">{ props.children.clone() }</div>
            </section>
            { stop() }
        </div>
    }
}
