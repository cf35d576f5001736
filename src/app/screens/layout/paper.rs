//! Full-size templates: one PDF for the printer, or an SVG of each figure for a cutter.

use super::view::chosen;
use crate::io::files::{self, Parcel};
use crate::widgets::amount::sentence;
use crate::widgets::sheet::Sheet;
use crate::widgets::tags::{each, tag, txt};
use offsquare_paper::drawing::templates;
use offsquare_paper::square_code::SquareCode;
use offsquare_paper::writers::{pdf, svg};
use offsquare_work::piece::{Answered, Draft, Shop};
use std::rc::Rc;
use yew::prelude::*;

/// `code`: what opens the piece again, where the answer is a piece's.
pub fn paper_sheet(
    answer: &Answered,
    draft: &Draft,
    shop: &Shop,
    code: Option<SquareCode>,
    close: Callback<()>,
) -> Html {
    let Some(solved) = chosen(answer, draft) else {
        return html! {};
    };
    let style = shop.style();
    let made = templates(&solved.solution.parts, &shop.saw, &style);
    let title = draft.layout().map_or("", |l| l.question());
    let job = pdf::PrintJob {
        title: format!("{title}: {}", solved.solution.title),
        templates: made.clone(),
        paper: shop.sheet(),
        bars_mm: shop.bar_mm,
        code,
    };
    let problems = pdf::check(&job);
    let pages = pdf::page_count(&job);
    // The bytes are ready before the tap: a share sheet opens only at once.
    let mut rows: Vec<(String, Rc<Parcel>)> = Vec::new();
    if problems.is_empty() && !made.is_empty() {
        let sheets = if pages == 1 { "1 page".to_owned() } else { format!("{pages} pages") };
        rows.push((
            format!("All as PDF: {}, {sheets}", job.paper.name),
            Rc::new(Parcel {
                name: files::name_of(&[title], "pdf"),
                mime: "application/pdf",
                bytes: pdf::write(&job),
            }),
        ));
    }
    for t in &made {
        rows.push((
            format!("{}, SVG for a cutter", t.name),
            Rc::new(Parcel {
                name: files::name_of(&[&t.name], "svg"),
                mime: "image/svg+xml",
                bytes: svg::write(t).into_bytes(),
            }),
        ));
    }
    html! {
        <Sheet key="paper" title="Full-size template" {close}>
            { tag("p", "said", txt("Print at actual size, 100 %. Every page carries a 100 mm bar: measure it before you cut. Paper and correction are set in Shop.")) }
            { each(problems.into_iter().map(|p| tag("p", "wrong", sentence(&p.text, &style)))) }
            if rows.is_empty() {
                { tag("p", "said", txt("Nothing here needs a template.")) }
            }
            <div class="actions">
                { each(rows.into_iter().enumerate().map(|(i, (label, parcel))| html! {
                    <button class={if i == 0 { "primary" } else { "key" }} data-test={format!("file-{i}")} onclick={move |_| files::hand_over(&parcel)}>{ label }</button>
                })) }
            </div>
        </Sheet>
    }
}
