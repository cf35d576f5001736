//! A piece handed on: as a link, as a square code, as a file.

use super::code::{code_of, full_code};
use crate::io::files::{self, Parcel};
use crate::io::{browser, json};
use crate::widgets::keys::key;
use crate::widgets::sheet::Sheet;
use crate::widgets::tags::{list, tag, txt};
use offsquare_paper::square_code::{ON_SCREEN, SquareCode};
use offsquare_work::save::Bench;
use offsquare_work::save::share::{Packed, file_name};
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct ShareProps {
    pub piece: u32,
    pub bench: Rc<Bench>,
}

/// The key, and what it opens.
#[component]
pub fn Share(props: &ShareProps) -> Html {
    let up = use_state(|| false);
    let raise = {
        let up = up.clone();
        Callback::from(move |_: MouseEvent| up.set(true))
    };
    let close = {
        let up = up.clone();
        Callback::from(move |()| up.set(false))
    };
    html! {
        <>
            { key("key", Some("share"), "Share".into(), false, raise) }
            if *up {
                <ShareSheet piece={props.piece} bench={props.bench.clone()} {close} />
            }
        </>
    }
}

#[derive(Properties, PartialEq)]
struct SheetProps {
    piece: u32,
    bench: Rc<Bench>,
    close: Callback<()>,
}

/// The three ways, ready before a tap asks for one.
#[derive(PartialEq)]
struct Ready {
    name: String,
    link: Option<String>,
    code: Option<SquareCode>,
    file: Option<Parcel>,
}

impl Ready {
    fn of(bench: &Bench, id: u32) -> Ready {
        let packed = json::packed(bench, id);
        let piece = bench.work.piece(id);
        let file = json::piece_file(bench, id).map(|text| Parcel {
            name: format!("{}.json", piece.map(file_name).unwrap_or_default()),
            mime: "application/json",
            bytes: text.into_bytes(),
        });
        Ready {
            name: piece.map(|p| p.called()).unwrap_or_default(),
            link: packed.as_ref().and_then(Packed::link).map(|l| browser::address(&l)),
            code: packed.as_ref().and_then(|packed| code_of(packed, ON_SCREEN)),
            file,
        }
    }
}

#[component]
fn ShareSheet(props: &SheetProps) -> Html {
    let ready = use_memo((props.bench.clone(), props.piece), |(bench, id)| Ready::of(bench, *id));
    let said = use_state(String::new);
    let bright = use_state(|| false);
    if let (true, Some(code)) = (*bright, &ready.code) {
        let close = {
            let bright = bright.clone();
            Callback::from(move |()| bright.set(false))
        };
        return full_code(&ready.name, code, close);
    }
    let copy = {
        let (ready, said) = (ready.clone(), said.clone());
        Callback::from(move |_: MouseEvent| {
            let said = said.setter();
            files::copy(ready.link.as_deref().unwrap_or_default(), move |done| {
                said.set(
                    if done {
                        "Copied."
                    } else {
                        "This browser did not take it: save the file instead."
                    }
                    .into(),
                );
            });
        })
    };
    let send = {
        let (ready, said) = (ready.clone(), said.clone());
        Callback::from(move |_: MouseEvent| {
            if !files::send_link(&ready.name, ready.link.as_deref().unwrap_or_default()) {
                said.set("This device has no share sheet for links: copy it.".into());
            }
        })
    };
    let show = Callback::from(move |_: MouseEvent| bright.set(true));
    let save = {
        let ready = ready.clone();
        Callback::from(move |_: MouseEvent| ready.file.iter().for_each(files::hand_over))
    };
    html! {
        <Sheet title={format!("Share {}", ready.name)} close={props.close.clone()}>
            { tag("h3", "", txt("A link")) }
            if let Some(link) = &ready.link {
                <p class="said link-said"><a data-test="share-link" href={link.clone()}>{ link.clone() }</a></p>
                { tag("div", "actions", list(vec![
                    key("primary", Some("share-copy"), "Copy the link".into(), false, copy),
                    if browser::is_touch() { key("key", Some("share-send"), "Send the link".into(), false, send) } else { html! {} },
                ])) }
                { tag("p", "help inset", txt("The piece is in the link itself; no server gets to see it. Prices and pictures stay here.")) }
            } else {
                { tag("p", "caution", txt("This piece is too large for a link: take the file.")) }
            }
            { tag("h3", "", txt("A square code")) }
            if ready.code.is_some() {
                { tag("div", "actions", key("key", Some("share-code"), "Show the square code".into(), false, show)) }
                { tag("p", "help inset", txt("Another phone\u{2019}s camera reads it off this screen.")) }
            } else {
                { tag("p", "caution", txt("This piece is too large for a code that a phone can read: take the file.")) }
            }
            { tag("h3", "", txt("A file")) }
            { tag("div", "actions", key("key", Some("share-file"), "Save or send a file".into(), false, save)) }
            { tag("p", "help inset", txt("All of it, with the prices of its stock. It is opened in Shop: Open a link or file.")) }
            <p class="said" role="status" data-test="share-said">{ (*said).clone() }</p>
        </Sheet>
    }
}
