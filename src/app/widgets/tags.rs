//! Plain elements: a call each, where `html!` writes out every field of a tag in place (*Size*).

use offsquare_units::num::Gather;
use yew::prelude::*;
use yew::virtual_dom::VList;

/// An element with a class (none: empty) and what it holds.
#[inline(never)]
pub fn tag(name: &'static str, class: &'static str, inner: Html) -> Html {
    let class = (!class.is_empty()).then_some(class);
    html! { <@{name} {class}>{ inner }</@> }
}

/// Words.
#[inline(never)]
pub fn txt(words: impl Into<AttrValue>) -> Html {
    Html::VText(yew::virtual_dom::VText::new(words))
}

/// One after another.
#[inline(never)]
pub fn list(all: Vec<Html>) -> Html {
    VList::with_children(all, None).into()
}

/// The same, of whatever gives them.
pub fn each(all: impl IntoIterator<Item = Html>) -> Html {
    list(all.into_iter().gather())
}

/// What is read only when it is wanted, under its name.
#[inline(never)]
pub fn fold(name: &'static str, inner: Html) -> Html {
    html! {
        <details class="more">
            <summary>{ name }</summary>
            { tag("div", "", inner) }
        </details>
    }
}

/// A row of a table of figures: its name and its value.
#[inline(never)]
pub fn row(name: Html, value: Html) -> Html {
    let both = list(vec![tag("dt", "", name), tag("dd", "", value)]);
    tag("div", "", both)
}
