//! A link or a file is looked at: what it holds, and whether it is added. Nothing is written before a yes.

use crate::io::files::{self, Parcel};
use crate::io::{brought, browser, json};
use crate::state::{Dispatch, Edit, Face, Route};
use crate::widgets::keys::{back, key};
use crate::widgets::tags::{each, tag, txt};
use offsquare_work::piece::{Offer, Work, WorkEdit};
use offsquare_work::save::Bench;
use offsquare_work::save::share::file_name;
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct OpenProps {
    pub dispatch: Dispatch,
    pub bench: Rc<Bench>,
    pub brought: Option<Rc<str>>,
}

#[component]
pub fn OpenPage(props: &OpenProps) -> Html {
    let bench = &props.bench;
    {
        // Another app may have shared something with this one.
        let dispatch = props.dispatch.clone();
        let shared = props.brought.as_deref() == Some(SHARED);
        use_effect_with(shared, move |shared| {
            if *shared {
                spawn_local(async move {
                    if let Some(text) = brought::shared().await {
                        dispatch.dispatch(Edit::Bring(text));
                    }
                });
            }
        });
    }
    let read = use_memo((props.brought.clone(), bench.shop.clone()), |(brought, shop)| {
        let text = brought.as_deref().filter(|text| *text != SHARED)?;
        Some(json::offer(text, shop))
    });
    html! {
        <div class="page" key="open">
            <header class="top">
                { back("#/", "Back to the bench") }
                { tag("h1", "", txt("Open a link or file")) }
            </header>
            <main class="list">
                { match &*read {
                    Some(Ok(offer)) => offered(offer, props),
                    Some(Err(sentence)) => html! {
                        <>
                            <p class="wrong inset" role="alert" data-test="open-wrong">{ sentence }</p>
                            <Bring dispatch={props.dispatch.clone()} />
                        </>
                    },
                    None => html! { <Bring dispatch={props.dispatch.clone()} /> },
                } }
            </main>
        </div>
    }
}

/// The address to which the service worker leads what was shared with the app.
const SHARED: &str = "#/open?shared";

fn offered(offer: &Offer, props: &OpenProps) -> Html {
    let work = &props.bench.work;
    let name = offer.piece.called();
    let full = work.no_room_for_offer(offer);
    let add = {
        let (dispatch, offer, new) = (props.dispatch.clone(), offer.clone(), work.next_piece());
        Callback::from(move |_: MouseEvent| {
            dispatch.dispatch(Edit::Work(WorkEdit::AddOffer(Box::new(offer.clone()))));
            dispatch.dispatch(Edit::Go(Route::Piece(new, Face::Piece)));
        })
    };
    let leave = {
        let dispatch = props.dispatch.clone();
        Callback::from(move |_: MouseEvent| dispatch.dispatch(Edit::Go(Route::Bench)))
    };
    html! {
        <section data-test="offer">
            { tag("h2", "offered", txt(name)) }
            { each(work.told(offer).into_iter().map(|line| tag("p", "said", txt(line)))) }
            { each(offer.said.iter().map(|line| tag("p", "caution", txt(line.clone())))) }
            { each(full.iter().map(|why| tag("p", "wrong inset", txt(why.clone())))) }
            { tag("p", "said", txt("Nothing is added before you say so, and it can be undone.")) }
            <div class="actions">
                { key("primary", Some("open-add"), "Add it to my pieces".into(), full.is_some(), add) }
                { key("key", Some("open-leave"), "Not now".into(), false, leave) }
            </div>
            if !browser::is_app() {
                <ForTheApp bench={props.bench.clone()} offer={offer.clone()} brought={props.brought.clone()} />
            }
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct ForTheAppProps {
    bench: Rc<Bench>,
    offer: Offer,
    brought: Option<Rc<str>>,
}

/// In a tab of the browser: what is added here may not be what the installed app has.
#[component]
fn ForTheApp(props: &ForTheAppProps) -> Html {
    let said = use_state(String::new);
    let name = file_name(&props.offer.piece);
    // Ready before the tap: a share sheet waits for nothing.
    let parcel = use_memo(props.offer.clone(), |offer| {
        let bench = Bench { work: Work::holding(offer), ..Bench::default() };
        json::piece_file(&bench, offer.piece.id).map(|text| Parcel {
            name: format!("{}.json", name),
            mime: "application/json",
            bytes: text.into_bytes(),
        })
    });
    let save = Callback::from(move |_: MouseEvent| {
        parcel.iter().for_each(files::hand_over);
    });
    let copy = {
        let (said, text) = (said.clone(), props.brought.clone().unwrap_or_default());
        Callback::from(move |_: MouseEvent| {
            let said = said.setter();
            let link =
                if text.starts_with("#/") { browser::address(&text) } else { text.to_string() };
            files::copy(&link, move |done| {
                said.set(
                    if done { "Copied." } else { "This browser did not take it: save the file." }
                        .into(),
                );
            });
        })
    };
    let is_link = props.brought.as_deref().is_some_and(|text| !text.trim().starts_with('{'));
    html! {
        <section class="for-the-app" data-test="for-the-app">
            { tag("h3", "section", txt("Offsquare as an app?")) }
            { tag("p", "help", txt("This is a page of the browser. If you have put Offsquare among your apps, its pieces may be kept apart from this browser\u{2019}s. To open this piece there, take the link or the file with you; in the app: Shop, Open a link or file.")) }
            <div class="actions">
                if is_link {
                    { key("key", Some("open-copy"), "Copy the link".into(), false, copy) }
                }
                { key("key", Some("open-save"), "Save the file".into(), false, save) }
            </div>
            <p class="help" role="status">{ (*said).clone() }</p>
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct BringProps {
    dispatch: Dispatch,
}

/// A link is pasted, or a file chosen.
#[component]
fn Bring(props: &BringProps) -> Html {
    let typed = use_state(String::new);
    let bring = {
        let dispatch = props.dispatch.clone();
        Rc::new(move |text: Rc<str>| dispatch.dispatch(Edit::Bring(text)))
    };
    let on_input = {
        let typed = typed.clone();
        Callback::from(move |e: InputEvent| {
            typed.set(e.target_unchecked_into::<web_sys::HtmlTextAreaElement>().value());
        })
    };
    let look = {
        let (bring, typed) = (bring.clone(), typed.clone());
        Callback::from(move |_: MouseEvent| bring(typed.as_str().into()))
    };
    let chosen = Callback::from(move |e: Event| {
        let input: web_sys::HtmlInputElement = e.target_unchecked_into();
        let (Some(file), bring) = (input.files().and_then(|f| f.get(0)), bring.clone()) else {
            return;
        };
        spawn_local(async move {
            if let Some(text) = brought::text_of(&file).await {
                bring(text);
            }
        });
    });
    html! {
        <section class="bring" data-test="bring">
            <div class="field pasted">
                <label for="bring-link">{ "A link to a piece, pasted whole" }</label>
                <textarea id="bring-link" data-test="bring-link" rows="4" autocomplete="off" spellcheck="false" value={(*typed).clone()} oninput={on_input} />
            </div>
            <div class="actions">
                { key("primary", Some("bring-look"), "Look at it".into(), typed.trim().is_empty(), look) }
                <label class="key file">
                    { "Choose a file" }
                    <input class="unseen" type="file" data-test="bring-file" accept="application/json,text/plain,.json,.txt" onchange={chosen} />
                </label>
            </div>
            { tag("p", "help inset", txt("You see what it holds before anything is added. A file that holds everything is opened in Shop, under Backup.")) }
        </section>
    }
}
