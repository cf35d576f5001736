//! Before a run: what would be cut, and the key that begins it.

use super::at::SawProps;
use crate::screens::boards::{PaperOfCuts, to_cut};
use crate::screens::faces::href;
use crate::state::{Edit, Face};
use crate::widgets::amount::set;
use crate::widgets::keys::key;
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::cutlist::{KeptBoard, ShownPlan, Summary};
use offsquare_work::piece::WorkEdit;
use std::rc::Rc;
use yew::prelude::*;

pub fn start(props: &SawProps, send: &Callback<Edit>) -> Html {
    let work = &props.bench.work;
    let (jobs, planned, old) = props.boards.shown();
    let summary = Rc::new(Summary::of(&jobs, &planned, work.plain, &work.rack, &work.parts));
    let of = |s: &ShownPlan| {
        let job = &jobs.jobs[s.job];
        s.boards.iter().map(|b| job.to_keep(b)).collect::<Vec<_>>()
    };
    let boards: Vec<KeptBoard> = summary.shown.iter().flat_map(of).gather();
    let parts: usize = boards.iter().map(|b| b.parts.len()).sum();
    let style = props.bench.shop.style();
    let waits = old || (props.boards.planned.searches() && summary.shown.len() < jobs.jobs.len());
    let told = match (boards.is_empty(), props.boards.planned.running) {
        (true, true) => txt("One moment: the boards are being planned."),
        (true, false) => txt("There is nothing to cut yet. What is planned on Boards is cut here."),
        (false, _) => txt(format!(
            "{parts} parts from {} boards, as they lie on Boards, cut by cut: what is set, where it is marked, what comes off.",
            boards.len()
        )),
    };
    let begin = {
        let send = send.clone();
        let boards = boards.clone();
        Callback::from(move |_: MouseEvent| {
            send.emit(Edit::Work(WorkEdit::StartRun(boards.clone())));
        })
    };
    let without = summary.without.iter().map(|t| tag("p", "wrong", set(&t.render(&style))));
    let to_boards =
        html! { <a class="key link" href={href(props.piece, Face::Boards)}>{ "The boards" }</a> };
    let keys = match boards.is_empty() {
        true => to_boards,
        false => list(vec![
            key("primary", Some("start-run"), "Start cutting".into(), waits, begin),
            to_boards,
        ]),
    };
    let help = "What is changed of parts or rack while you cut does not change what you cut.";
    html! {
        <main class="list">
            <p class="said" role="status">{ told }</p>
            { each(without) }
            { tag("div", "actions", keys) }
            if !boards.is_empty() {
                { tag("p", "help", txt(help)) }
                <PaperOfCuts bench={props.bench.clone()} piece={props.piece} run={to_cut(&props.bench, &jobs, &summary)} off={waits} />
            }
        </main>
    }
}
