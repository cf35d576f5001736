//! Everything in one file, and back from it.

use crate::io::files::{self, Parcel};
use crate::io::json;
use crate::io::shelving;
use crate::io::storage::{ASIDE, Device, Storage};
use crate::state::{Dispatch, Edit};
use crate::widgets::keys::key;
use crate::widgets::tags::{tag, txt};
use offsquare_work::save::{Bench, MOST_TEXT, too_large};
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use yew::prelude::*;

/// Hands out all that there is as a file.
pub fn save(bench: &Bench) {
    files::hand_over(&Parcel {
        name: "offsquare.json".into(),
        mime: "application/json",
        bytes: json::save(bench).into_bytes(),
    });
}

#[derive(Properties, PartialEq)]
pub struct BackupProps {
    pub bench: Rc<Bench>,
    pub dispatch: Dispatch,
}

#[component]
pub fn Backup(props: &BackupProps) -> Html {
    let dispatch = props.dispatch.clone();
    let said = use_state(String::new);
    let save_all = {
        let bench = props.bench.clone();
        Callback::from(move |_: MouseEvent| save(&bench))
    };
    let aside = use_state(|| Device.read(ASIDE));
    {
        let aside = aside.setter();
        use_effect_with((), move |()| {
            spawn_local(async move {
                if let Some(text) = shelving::aside().await {
                    aside.set(Some(text));
                }
            });
        });
    }
    let save_aside = {
        let aside = aside.clone();
        Callback::from(move |_: MouseEvent| {
            files::hand_over(&Parcel {
                name: "offsquare-set-aside.json".into(),
                mime: "application/json",
                bytes: aside.as_deref().unwrap_or_default().into(),
            });
        })
    };
    let open = {
        let said = said.clone();
        Callback::from(move |e: Event| {
            let input: web_sys::HtmlInputElement = e.target_unchecked_into();
            let Some(file) = input.files().and_then(|f| f.get(0)) else {
                return;
            };
            if file.size() > MOST_TEXT as f64 {
                said.set(too_large(file.size()));
                return;
            }
            let (dispatch, said) = (dispatch.clone(), said.clone());
            spawn_local(async move {
                let text = JsFuture::from(file.unchecked_ref::<web_sys::Blob>().text())
                    .await
                    .ok()
                    .and_then(|t| t.as_string())
                    .unwrap_or_default();
                let opened = json::open(&text);
                let empty = opened.bench == Bench::default();
                if !empty {
                    dispatch.dispatch(Edit::Import(Box::new(opened.bench)));
                }
                let mut words = opened.repaired;
                if empty && words.is_empty() {
                    words.push("This file holds nothing to open.".into());
                } else if !empty {
                    words.push("Opened. Undo brings back what was here before.".into());
                }
                said.set(words.join(" "));
            });
        })
    };
    html! {
        <section>
            { tag("h2", "section", txt("Backup")) }
            { tag("p", "help", txt("Everything stays on this device. A file keeps it safe if the device is lost.")) }
            <div class="actions">
                { key("key", None, "Save everything to a file".into(), false, save_all) }
                <label class="key file">
                    { "Open a file" }
                    <input class="unseen" type="file" accept="application/json,.json" onchange={open} />
                </label>
            </div>
            if aside.is_some() {
                { tag("p", "help", txt("Something that was kept here could not be read in full. It is set aside as it was.")) }
                { tag("div", "actions", key("key", Some("save-aside"), "Save a copy".into(), false, save_aside)) }
            }
            if !said.is_empty() {
                <p class="said" role="status">{ (*said).clone() }</p>
            }
        </section>
    }
}
