//! A part is spoiled, or a board no good: what is skipped, and why.

use super::at::At;
use crate::state::Edit;
use crate::widgets::keys::key;
use crate::widgets::sheet::Sheet;
use crate::widgets::tags::{each, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::piece::{Reason, WorkEdit};
use offsquare_work::walk::Stage;
use yew::prelude::*;

pub fn skip_sheet(at: &At, stage: Option<&Stage>, close: Callback<()>) -> Html {
    let Some(stage) = stage else { return html! {} };
    let touched = at.walk.touched(stage, at.begun);
    let rest = at.walk.rest(stage.tick.board, at.begun);
    let skip = |reason: Reason, places: Vec<(u32, u32)>| {
        let (send, close) = (at.send.clone(), close.clone());
        Callback::from(move |_: MouseEvent| {
            close.emit(());
            send.emit(Edit::Work(WorkEdit::Skip { reason, places: places.clone() }));
        })
    };
    let one = |reason: Reason, why: &str, test: &'static str| {
        let all = touched.iter().map(|place| {
            let words = format!("{why}: {}", at.walk.called(*place));
            key("key", Some(test), words.into(), false, skip(reason, vec![*place]))
        });
        let mut all: Vec<Html> = all.gather();
        if let [a, b] = touched[..] {
            let words = format!("{why}: {} and {}", at.walk.called(a), at.walk.called(b));
            all.push(key("key", None, words.into(), false, skip(reason, vec![a, b])));
        }
        all
    };
    let board = format!("Bad board: all {} parts that are still on it", rest.len());
    let none = rest.is_empty();
    html! {
        <Sheet key="skip" title="Skip" close={close.clone()}>
            { tag("p", "said", txt("What is skipped is planned anew with what is left on the rack, and comes later in the run.")) }
            <div class="tall-keys">
                { each(one(Reason::Knot, "Knot in", "skip-knot")) }
                { each(one(Reason::Miscut, "Miscut", "skip-miscut")) }
                { key("key", Some("skip-board"), board.into(), none, skip(Reason::Board, rest.clone())) }
            </div>
        </Sheet>
    }
}
