//! A piece beside another one: sizes, parts, boards and cost, what differs marked.

use crate::state::{Boards, Dispatch, Edit};
use crate::widgets::tags::{each, tag, txt};
use offsquare_work::piece::{About, Beside, LOOSE};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct VariantsProps {
    pub piece: u32,
    pub bench: Rc<Bench>,
    pub boards: Boards,
    pub dispatch: Dispatch,
}

#[component]
pub fn Variants(props: &VariantsProps) -> Html {
    let work = &props.bench.work;
    let others = || work.pieces.iter().filter(|p| p.id != props.piece && p.id != LOOSE);
    let pick = {
        let (dispatch, piece) = (props.dispatch.clone(), props.piece);
        Callback::from(move |e: Event| {
            let picked = e.target_unchecked_into::<web_sys::HtmlSelectElement>().value();
            dispatch.dispatch(Edit::Beside(picked.parse().ok().map(|other| [piece, other])));
        })
    };
    let both = props.boards.beside.filter(|both| work.piece(both[1]).is_some());
    let with = both.map(|both| both[1]);
    let lines = both
        .map(|both| work.compare(both, both.map(|id| props.boards.found(id)), &props.bench.shop))
        .unwrap_or_default();
    let name = |id: u32| work.piece(id).map(|p| p.called()).unwrap_or_default();
    html! {
        <>
            { tag("h2", "section", txt("Beside another piece")) }
            <div class="field">
                <label for="beside">{ "Compare with" }</label>
                <select id="beside" data-test="beside" onchange={pick}>
                    <option value="" selected={with.is_none()}>{ "\u{2013}" }</option>
                    { each(others().map(|p| html! {
                        <option value={p.id.to_string()} selected={with == Some(p.id)}>{ p.called() }</option>
                    })) }
                </select>
            </div>
            if let Some(id) = with {
                <table class="beside" data-test="beside-table">
                    <thead><tr><td></td><th scope="col">{ name(props.piece) }</th><th scope="col">{ name(id) }</th></tr></thead>
                    { each([About::Sizes, About::Parts, About::Boards, About::Cost].map(|about| group(about, &lines))) }
                </table>
            }
        </>
    }
}

fn group(about: About, lines: &[Beside]) -> Html {
    let mine = || lines.iter().filter(move |l| l.about == about);
    if mine().next().is_none() {
        return html! {};
    }
    let line = |l: &Beside| {
        html! {
            <tr class={l.differs.then_some("differs")}>
                <th scope="row">{ l.name.clone() }
                    if l.differs { <span class="unseen">{ " (differs)" }</span> }
                </th>
                <td>{ l.words[0].clone() }</td><td>{ l.words[1].clone() }</td>
            </tr>
        }
    };
    html! { <tbody>{ each(mine().map(line)) }</tbody> }
}
