//! One stock: the buy list, each board on the saw, the order of cuts.

use crate::parts::amount::set;
use crate::screens::layout::picture;
use crate::state::Edit;
use offsquare_core::cutlist::{
    Jobs, Lying, Origin, Planned, Shown, Step, nearly_sentence, steps, times, yard_length,
};
use offsquare_core::drawing::{BoardOnSaw, board_on_saw};
use offsquare_core::piece::WorkEdit;
use offsquare_core::save::Bench;
use offsquare_core::say;
use offsquare_core::units::Length;
use yew::prelude::*;

/// What all of it is looked at with.
pub struct Look<'a> {
    pub bench: &'a Bench,
    pub jobs: &'a Jobs,
    pub planned: &'a Planned,
    pub send: &'a Callback<Edit>,
    pub width: f64,
    pub old: bool,
}

impl Look<'_> {
    fn length(&self, l: Length) -> Html {
        set(&say![l].render(&self.bench.shop.style()))
    }
    fn board(&self, l: Length) -> Html {
        set(&yard_length(l, &self.bench.shop.style()))
    }
    fn on(&self, edit: WorkEdit) -> Callback<MouseEvent> {
        let send = self.send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::Work(edit.clone())))
    }
}

pub fn stock(shown: &Shown, look: &Look) -> Html {
    let Some(job) = look.jobs.jobs.get(shown.job) else {
        return html! {};
    };
    let names: Vec<String> = job
        .parts
        .iter()
        .map(|p| {
            look.bench
                .work
                .part(p.entry)
                .map_or_else(String::new, |e| e.called())
        })
        .collect();
    html! {
        <section class="stock" key={job.stock.to_string()}>
            <h2 class="section">{ &job.name }</h2>
            { nearly(shown, look) }
            { buy(shown, look) }
            { for shown.lying.iter().map(|l| lying(l, shown, &names, look)) }
            { order(shown, look) }
        </section>
    }
}

fn nearly(shown: &Shown, look: &Look) -> Html {
    let (Some(job), Some(result)) = (
        look.jobs.jobs.get(shown.job),
        look.planned.results.get(shown.job),
    ) else {
        return html! {};
    };
    let Some(close) = &result.close else {
        return html! {};
    };
    let apply = look.on(WorkEdit::Close {
        job: shown.job,
        result: Box::new(result.clone()),
    });
    html! {
        <div class="nearly" role="status" data-test="nearly">
            <p>{ set(&nearly_sentence(job, close).render(&look.bench.shop.style())) }</p>
            <button class="key" data-test="apply-nearly" disabled={look.old} onclick={apply}>{ "Do that" }</button>
        </div>
    }
}

fn buy(shown: &Shown, look: &Look) -> Html {
    let rows: Vec<Html> = shown
        .buy
        .iter()
        .map(|b| {
            html! {
                <div>
                    <dt><b class="count">{ b.count }</b>{ " \u{d7} " }{ look.board(b.length) }<small>{ format!(" at {}", b.each) }</small></dt>
                    <dd>{ b.sum.to_string() }</dd>
                </div>
            }
        })
        .collect();
    let owned = (shown.owned > 0).then(|| {
        html! { <div><dt>{ format!("{} from the rack", shown.owned) }</dt><dd>{ "$0.00" }</dd></div> }
    });
    let kept: Vec<Html> = shown
        .lying
        .iter()
        .filter(|l| l.left.keep)
        .map(|l| html! { <span>{ format!(" {} \u{d7} ", l.members.len()) }{ look.length(l.left.length) }</span> })
        .collect();
    let left = if kept.is_empty() {
        html! { { "nothing worth keeping" } }
    } else {
        html! { { for kept } }
    };
    html! {
        <dl class="rows" data-test="buy">
            { rows }
            { owned }
            <div><dt>{ "Left over" }</dt><dd>{ left }</dd></div>
        </dl>
    }
}

fn lying(l: &Lying, shown: &Shown, names: &[String], look: &Look) -> Html {
    let Some(job) = look.jobs.jobs.get(shown.job) else {
        return html! {};
    };
    let owned = match l.origin {
        Origin::Owned(i) => look
            .bench
            .work
            .rack
            .stock(job.stock)
            .and_then(|s| s.owned.get(i)),
        Origin::Sold(_) => None,
    };
    let bad: Vec<(f64, f64)> = owned
        .map(|o| o.bad.iter().map(|b| (b.0.0, b.1.0)).collect())
        .unwrap_or_default();
    let drawing = board_on_saw(
        &BoardOnSaw {
            job: &job.instance,
            cut: &l.cut,
            length: l.length.0,
            start: l.start,
            left: l.left.length.0,
            keeps: l.left.keep,
            bad: &bad,
            names,
        },
        look.width - 32.0,
        &look.bench.shop.style(),
    );
    let many = l.members.len();
    let title = match many {
        1 => format!("Board {}", l.number),
        _ => format!("Boards {} to {}", l.number, l.number + many - 1),
    };
    let keep = match l.kept {
        Some(i) => ("Kept", Some(WorkEdit::Release(i))),
        None => (
            "Keep",
            look.bench
                .work
                .to_keep(look.jobs, shown.job, &l.cut)
                .map(|k| WorkEdit::Keep(Box::new(k))),
        ),
    };
    let wide = drawing.width.to_string();
    let from = if owned.is_some() {
        ", from the rack"
    } else {
        ""
    };
    html! {
        <figure class="board" data-test="board">
            <figcaption>
                <span><b>{ title }</b>{ ", " }{ look.board(l.length) }{ from }</span>
                if let (_, Some(edit)) = &keep {
                    <button class="key" data-test="keep" aria-pressed={l.kept.is_some().to_string()}
                        aria-label="Keep this board as it is" disabled={look.old}
                        onclick={look.on(edit.clone())}>{ keep.0 }</button>
                }
            </figcaption>
            <div class="slide" tabindex="0" ~style={format!("--wide: {wide}px")}>{ picture(&drawing, "The board against the fence with the parts on it") }</div>
        </figure>
    }
}

/// The order of cuts of a long plan is long: this much of it is shown at once.
const STEPS: usize = 400;

fn order(shown: &Shown, look: &Look) -> Html {
    let Some(job) = look.jobs.jobs.get(shown.job) else {
        return html! {};
    };
    let style = look.bench.shop.style();
    let all = steps(
        job,
        &shown.boards,
        &shown.order,
        &shown.lying,
        &look.bench.work.parts,
    );
    let more = all.len().saturating_sub(STEPS);
    let rows: Vec<Html> = all
        .iter()
        .take(STEPS)
        .map(|s| {
            let (class, text) = match s {
                Step::Saw(t) => ("saw", t),
                Step::Stop(t) => ("stop", t),
                Step::Cut(t) => ("cut", t),
            };
            html! { <li {class}>{ set(&text.render(&style)) }</li> }
        })
        .collect();
    html! {
        <details class="more">
            <summary data-test="order">{ format!("Order of cuts: {}, saw changed {}", shown.order.cuts.len(), times(shown.order.saw_changes)) }</summary>
            <ol class="cuts">{ rows }</ol>
            if more > 0 {
                <p class="said">{ format!("And {more} more lines.") }</p>
            }
        </details>
    }
}
