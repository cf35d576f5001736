//! A line at the top of the screen: what happened, and what can be done about it.

use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct NoticeProps {
    pub text: AttrValue,
    #[prop_or_default]
    pub act: Option<(AttrValue, Callback<()>)>,
    pub dismiss: Callback<()>,
}

#[component]
pub fn Notice(props: &NoticeProps) -> Html {
    let dismiss = props.dismiss.reform(|_: MouseEvent| ());
    html! {
        <div class="notice" role="status">
            <p>{ props.text.clone() }</p>
            if let Some((label, act)) = &props.act {
                <button class="key" data-test="use-update" onclick={act.reform(|_: MouseEvent| ())}>{ label.clone() }</button>
            }
            <button class="key" onclick={dismiss}>{ "OK" }</button>
        </div>
    }
}
