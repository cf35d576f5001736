//! What to buy and the order of cuts, copied as text.

use crate::io::files;
use crate::widgets::keys::key;
use offsquare_paper::report::boards_text;
use offsquare_work::cutlist::{Jobs, Summary};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties)]
pub struct CopyProps {
    pub bench: Rc<Bench>,
    pub jobs: Rc<Jobs>,
    pub summary: Rc<Summary>,
    pub old: bool,
}

impl PartialEq for CopyProps {
    fn eq(&self, other: &CopyProps) -> bool {
        Rc::ptr_eq(&self.summary, &other.summary) && self.old == other.old
    }
}

#[component]
pub fn CopyBoards(props: &CopyProps) -> Html {
    let said = use_state(|| "");
    let copy = {
        let (bench, jobs, summary) =
            (props.bench.clone(), props.jobs.clone(), props.summary.clone());
        let said = said.setter();
        Callback::from(move |_: MouseEvent| {
            let said = said.clone();
            let text = boards_text(&bench.work, &bench.shop, &jobs, &summary);
            files::copy(&text, move |ok| {
                said.set(match ok {
                    true => "Copied.",
                    false => "This browser does not let it be copied.",
                });
            });
        })
    };
    html! {
        <div class="actions">
            { key("key", Some("copy-boards"), "Copy as text: what to buy, how to cut".into(), props.old, copy) }
            <p class="help" role="status">{ *said }</p>
        </div>
    }
}
