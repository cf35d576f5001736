//! A piece's pictures: taken or chosen, seen, removed.

use crate::io::camera;
use crate::state::{Dispatch, Edit};
use crate::widgets::icon::Glyph;
use crate::widgets::keys::icon_key;
use crate::widgets::tags::{each, tag, txt};
use offsquare_work::piece::{MOST_PICTURES, WorkEdit};
use wasm_bindgen_futures::spawn_local;
use web_sys::HtmlCanvasElement;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct SeenProps {
    pub id: String,
    pub label: AttrValue,
}

/// One picture, painted when it has come from the device's store.
#[component]
pub fn Seen(props: &SeenProps) -> Html {
    let place = use_node_ref();
    let missing = use_state(|| false);
    {
        let (place, missing) = (place.clone(), missing.setter());
        use_effect_with(props.id.clone(), move |id| {
            let id = id.clone();
            spawn_local(async move {
                if let Some(canvas) = place.cast::<HtmlCanvasElement>() {
                    missing.set(!camera::show(&id, &canvas).await);
                }
            });
        });
    }
    html! {
        <>
            <canvas ref={place} class="picture" role="img" aria-label={props.label.clone()} width="0" height="0" />
            if *missing {
                <span class="help">{ "This picture is not on this device." }</span>
            }
        </>
    }
}

#[derive(Properties, PartialEq)]
pub struct PicturesProps {
    pub piece: u32,
    pub name: String,
    pub pictures: Vec<String>,
    pub dispatch: Dispatch,
}

#[component]
pub fn PiecePictures(props: &PicturesProps) -> Html {
    let said = use_state(String::new);
    let taken = {
        let (piece, dispatch, said) = (props.piece, props.dispatch.clone(), said.setter());
        Callback::from(move |e: Event| {
            let input: web_sys::HtmlInputElement = e.target_unchecked_into();
            let Some(file) = input.files().and_then(|f| f.get(0)) else { return };
            // The same file can be chosen again.
            input.set_value("");
            let (dispatch, said) = (dispatch.clone(), said.clone());
            spawn_local(async move {
                match camera::keep(&file).await {
                    Ok(id) => {
                        said.set(String::new());
                        dispatch.dispatch(Edit::Work(WorkEdit::AddPicture { piece, id }));
                    }
                    Err(sentence) => said.set(sentence),
                }
            });
        })
    };
    let one = |(n, id): (usize, &String)| {
        let remove = {
            let (piece, id, dispatch) = (props.piece, id.clone(), props.dispatch.clone());
            Callback::from(move |_: MouseEvent| {
                dispatch.dispatch(Edit::Work(WorkEdit::RemovePicture { piece, id: id.clone() }));
            })
        };
        html! {
            <li key={id.clone()}>
                <Seen id={id.clone()} label={format!("Picture {} of {}", n + 1, props.name)} />
                { icon_key(Glyph::Close, "Remove this picture", Some("picture-remove"), false, remove) }
            </li>
        }
    };
    let choose = |label: &'static str, test: &'static str, camera: Option<&'static str>| {
        html! {
            <label class="key file">
                { label }
                <input class="unseen" type="file" accept="image/*" capture={camera} data-test={test} onchange={taken.clone()} />
            </label>
        }
    };
    html! {
        <section class="pictures" data-test="pictures">
            { tag("h3", "section", txt("Pictures")) }
            if !props.pictures.is_empty() {
                <ul>{ each(props.pictures.iter().enumerate().map(one)) }</ul>
            }
            if props.pictures.len() < MOST_PICTURES {
                <div class="actions">
                    { choose("Take a picture", "picture-take", Some("environment")) }
                    { choose("Choose one", "picture-choose", None) }
                </div>
            } else {
                { tag("p", "help", txt(format!("{MOST_PICTURES} pictures are the most of one piece."))) }
            }
            <p class="wrong" role="status" data-test="picture-wrong">{ (*said).clone() }</p>
        </section>
    }
}
