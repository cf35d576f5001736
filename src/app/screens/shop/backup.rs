//! Everything in one file, and back from it.

use crate::io::files::{self, Parcel};
use crate::io::json;
use crate::io::pictures::{self, Picture};
use crate::io::shelving;
use crate::io::storage::{ASIDE, Device, Storage};
use crate::state::{Dispatch, Edit};
use crate::widgets::keys::key;
use crate::widgets::tags::{each, tag, txt};
use offsquare_work::save::{Bench, MOST_FILE, too_large};
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use yew::prelude::*;

/// Hands out all that there is as a file, pictures too; `told` hears how far it has come.
pub fn save(bench: &Bench) {
    gather(bench, Callback::noop());
}

fn gather(bench: &Bench, told: Callback<String>) {
    let bench = bench.clone();
    spawn_local(async move {
        let ids = pictures::Device.ids().await.unwrap_or_default();
        let mut all = Vec::new();
        for (n, id) in ids.iter().enumerate() {
            told.emit(format!("Gathering pictures: {} of {}", n + 1, ids.len()));
            if let Ok(Some(picture)) = pictures::Device.get(id).await {
                all.push((id.clone(), picture));
            }
        }
        let bytes = json::save_with(&bench, &all);
        files::hand_over(&Parcel {
            name: "offsquare.json".into(),
            mime: "application/json",
            bytes,
        });
        told.emit(String::new());
    });
}

#[derive(Properties, PartialEq)]
pub struct BackupProps {
    pub bench: Rc<Bench>,
    pub dispatch: Dispatch,
}

/// A file that was read, and waits for what is to be done with it.
#[derive(Clone, PartialEq)]
struct Asked {
    file: Rc<Bench>,
    pictures: Rc<Vec<(String, Picture)>>,
    words: Vec<String>,
}

/// Reads a picked file.
async fn read(file: web_sys::File) -> Result<Asked, String> {
    if file.size() > MOST_FILE as f64 {
        return Err(too_large(file.size(), MOST_FILE));
    }
    let text = JsFuture::from(file.unchecked_ref::<web_sys::Blob>().text()).await;
    let text = text.ok().and_then(|t| t.as_string()).unwrap_or_default();
    let (opened, pictures) = json::open_with(&text);
    if opened.bench == Bench::default() && pictures.is_empty() {
        let nothing = || vec!["This file holds nothing to open.".to_owned()];
        let words = Some(opened.repaired).filter(|w| !w.is_empty()).unwrap_or_else(nothing);
        return Err(words.join(" "));
    }
    Ok(Asked { file: Rc::new(opened.bench), pictures: Rc::new(pictures), words: opened.repaired })
}

/// What the file holds, and what each way to take it in would do.
fn asked_panel(
    asked: &Asked,
    bench: &Bench,
    take: &Callback<Edit>,
    leave: Callback<MouseEvent>,
) -> Html {
    let (merged, added) = bench.merged(&asked.file);
    let say = |edit: Bench| {
        let take = take.clone();
        Callback::from(move |_: MouseEvent| take.emit(Edit::Import(Box::new(edit.clone()))))
    };
    let count = asked.pictures.len();
    let with = if count > 0 { format!(", pictures: {count}") } else { String::new() };
    let adds = match added.words() {
        words if words.is_empty() => {
            "Adding it changes nothing: all of it is here already.".to_owned()
        }
        words => format!("Adding it puts in {words}; nothing that is here changes."),
    };
    let full = match added.left_out {
        0 => String::new(),
        n => format!(" There is no room for {n} of its pieces or parts."),
    };
    let replaced = format!(
        "Replacing puts it in the place of what is here: {}, shop and rack.",
        bench.holds()
    );
    html! {
        <div class="said" role="status" data-test="asked">
            { each(asked.words.iter().map(|w| tag("p", "", txt(w.as_str())))) }
            { tag("p", "", txt(format!("The file holds {}{with}.", asked.file.holds()))) }
            { tag("p", "", txt(adds + &full)) }
            { tag("p", "", txt(replaced)) }
            <div class="actions flush">
                { key("key", Some("file-add"), "Add to what is here".into(), false, say(merged)) }
                { key("key", Some("file-replace"), "Replace what is here".into(), false, say(Bench::clone(&asked.file))) }
                { key("key", Some("file-leave"), "Leave all as it is".into(), false, leave) }
            </div>
        </div>
    }
}

#[component]
pub fn Backup(props: &BackupProps) -> Html {
    let said = use_state(String::new);
    let asked = use_state(|| None::<Asked>);
    let save_all = {
        let (bench, said) = (props.bench.clone(), said.setter());
        Callback::from(move |_: MouseEvent| {
            let said = said.clone();
            gather(&bench, Callback::from(move |words| said.set(words)));
        })
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
        let (said, asked) = (said.setter(), asked.setter());
        Callback::from(move |e: Event| {
            let input: web_sys::HtmlInputElement = e.target_unchecked_into();
            let Some(file) = input.files().and_then(|f| f.get(0)) else {
                return;
            };
            // The same file can be picked again.
            input.set_value("");
            let (said, asked) = (said.clone(), asked.clone());
            spawn_local(async move {
                let (words, read) = match read(file).await {
                    Ok(read) => (String::new(), Some(read)),
                    Err(words) => (words, None),
                };
                said.set(words);
                asked.set(read);
            });
        })
    };
    let take = {
        let (said, asked, dispatch) = (said.setter(), asked.clone(), props.dispatch.clone());
        Callback::from(move |edit: Edit| {
            let pictures = asked.as_ref().map(|a| a.pictures.clone()).unwrap_or_default();
            asked.set(None);
            dispatch.dispatch(edit);
            let said = said.clone();
            spawn_local(async move {
                for (n, (id, picture)) in pictures.iter().enumerate() {
                    said.set(format!("Keeping pictures: {} of {}", n + 1, pictures.len()));
                    if let Err(trouble) = pictures::Device.put(id, picture).await {
                        return said.set(trouble.words().to_owned());
                    }
                }
                said.set("Done. Undo brings back what was here before.".into());
            });
        })
    };
    let leave = {
        let asked = asked.setter();
        Callback::from(move |_: MouseEvent| asked.set(None))
    };
    html! {
        <section>
            { tag("h2", "section", txt("Backup")) }
            { tag("p", "help", txt("Everything stays on this device. A file keeps it safe if the device is lost.")) }
            <div class="actions flush">
                { key("key", Some("save-all"), "Save everything to a file".into(), false, save_all) }
                <label class="key file">
                    { "Open a file" }
                    <input class="unseen" type="file" accept="application/json,.json" onchange={open} />
                </label>
            </div>
            { each(asked.as_ref().map(|a| asked_panel(a, &props.bench, &take, leave))) }
            if aside.is_some() {
                { tag("p", "help", txt("Something that was kept here could not be read in full. It is set aside as it was.")) }
                { tag("div", "actions flush", key("key", Some("save-aside"), "Save a copy".into(), false, save_aside)) }
            }
            if !said.is_empty() {
                <p class="said" role="status">{ (*said).clone() }</p>
            }
        </section>
    }
}
