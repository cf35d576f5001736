//! Full-size templates: which cut end, on which paper; as a PDF or an SVG for a cutter.

use super::view::{SharedAnswer, chosen};
use crate::io::files::{self, Parcel};
use crate::parts::sheet::Sheet;
use offsquare_core::piece::{self, Draft, Shop};
use offsquare_core::writers::{pdf, svg};
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct PaperProps {
    pub answer: SharedAnswer,
    pub draft: Draft,
    pub shop: Shop,
    pub link: String,
    pub close: Callback<()>,
}

#[component]
pub fn PaperSheet(props: &PaperProps) -> Html {
    let Some(solved) = chosen(&props.answer, &props.draft) else {
        return html! {};
    };
    let templates = offsquare_core::drawing::templates(&solved.solution.parts, &props.shop.style());
    // The bytes are ready before the tap: a share sheet opens only at once.
    let name = format!("offsquare-{}", props.draft.layout);
    let title = props
        .draft
        .layout()
        .map_or_else(String::new, |l| l.question().to_owned());
    let files: Vec<(String, Parcel)> = templates
        .iter()
        .enumerate()
        .flat_map(|(i, t)| {
            let bytes = pdf::write(&piece::paper_job(&title, t, &props.shop));
            [
                (
                    format!("{}, PDF", t.name),
                    Parcel {
                        name: format!("{name}-{}.pdf", i + 1),
                        mime: "application/pdf",
                        bytes,
                    },
                ),
                (
                    format!("{}, SVG", t.name),
                    Parcel {
                        name: format!("{name}-{}.svg", i + 1),
                        mime: "image/svg+xml",
                        bytes: svg::write(&t.scene).into_bytes(),
                    },
                ),
            ]
        })
        .collect();
    html! {
        <Sheet title="Full-size template" close={props.close.clone()}>
            <p class="said">{ "Print at actual size, 100 %. Every page carries a 100 mm bar: measure it before you cut." }</p>
            <ul class="recent">
                { for files.into_iter().enumerate().map(|(i, (label, parcel))| {
                    let parcel = std::rc::Rc::new(parcel);
                    html! {
                        <li><button data-test={format!("file-{i}")} onclick={move |_| files::hand_over(&parcel)}>{ label }</button></li>
                    }
                }) }
            </ul>
        </Sheet>
    }
}
