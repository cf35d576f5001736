//! One stock: the buy list, each board on the saw, the order of cuts.

use crate::parts::amount::set;
use crate::screens::layout::picture;
use crate::state::Edit;
use offsquare_core::cutlist::{
    Buy, Close, JobPart, Jobs, Kept, Lying, Origin, Planned, RipShown, Ripped, Shown, Step,
    nearly_sentence, rip_steps, steps, yard_length,
};
use offsquare_core::drawing::{BoardOfStrips, BoardOnSaw, Drawing, board_of_strips, board_on_saw};
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
    /// A board by its length, a sheet by its width too.
    fn board(&self, l: Length, sheet: Option<Length>) -> Html {
        match sheet {
            Some(width) => self.rectangle(width, l),
            None => set(&yard_length(l, &self.bench.shop.style())),
        }
    }
    fn rectangle(&self, width: Length, length: Length) -> Html {
        set(&say![width, " by ", length].render(&self.bench.shop.style()))
    }
    /// "Boards 2 to 4, 8 ft, from the rack"
    fn title(
        &self,
        first: usize,
        count: usize,
        length: Length,
        sheet: Option<Length>,
        owned: bool,
    ) -> Html {
        let kind = if sheet.is_some() { "Sheet" } else { "Board" };
        let title = match count {
            1 => format!("{kind} {first}"),
            n => format!("{kind}s {first} to {}", first + n - 1),
        };
        let from = if owned { ", from the rack" } else { "" };
        html! { <span><b>{ title }</b>{ ", " }{ self.board(length, sheet) }{ from }</span> }
    }
    fn names(&self, parts: &[JobPart]) -> Vec<String> {
        let called = |p: &JobPart| self.bench.work.part(p.entry).map(|e| e.called());
        parts
            .iter()
            .map(|p| called(p).unwrap_or_default())
            .collect()
    }
    /// Holds a board as it is, or lets it go.
    fn keep(&self, kept: Option<usize>, to_keep: impl FnOnce() -> Kept) -> Html {
        let (word, edit) = match kept {
            Some(i) => ("Kept", WorkEdit::Release(i)),
            None => ("Keep", WorkEdit::Keep(Box::new(to_keep()))),
        };
        html! {
            <button class="key" data-test="keep" aria-pressed={kept.is_some().to_string()}
                aria-label="Keep this board as it is" disabled={self.old} onclick={self.on(edit)}>{ word }</button>
        }
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
    let names = look.names(&job.parts);
    let close = look.planned.results.get(shown.job);
    let close = close.and_then(|r| r.close.as_ref());
    let left = shown.lying.iter().filter(|l| l.left.keep);
    let left = left
        .map(|l| (l.members.len(), look.length(l.left.length)))
        .collect();
    html! {
        <section class="stock" key={job.stock.to_string()}>
            <h2 class="section">{ &job.name }</h2>
            { nearly(shown.job, &job.name, close, look) }
            { buy(&shown.buy, None, shown.owned, left, look) }
            { for shown.lying.iter().map(|l| lying(l, shown, &names, look)) }
            { order(shown, look) }
        </section>
    }
}

/// Jobs are counted sticks first, then strips.
fn nearly(job: usize, name: &str, close: Option<&Close>, look: &Look) -> Html {
    let Some(close) = close else {
        return html! {};
    };
    let apply = look.on(WorkEdit::Close {
        job,
        close: Box::new(close.clone()),
    });
    html! {
        <div class="nearly" role="status" data-test="nearly">
            <p>{ set(&nearly_sentence(name, close).render(&look.bench.shop.style())) }</p>
            <button class="key" data-test="apply-nearly" disabled={look.old} onclick={apply}>{ "Do that" }</button>
        </div>
    }
}

/// What to buy of one stock, and what is left of it that is worth keeping.
fn buy(
    rows: &[Buy],
    sheet: Option<Length>,
    owned: usize,
    left: Vec<(usize, Html)>,
    look: &Look,
) -> Html {
    let rows: Vec<Html> = rows
        .iter()
        .map(|b| {
            html! {
                <div>
                    <dt><b class="count">{ b.count }</b>{ " \u{d7} " }{ look.board(b.length, sheet) }<small>{ format!(" at {}", b.each) }</small></dt>
                    <dd>{ b.sum.to_string() }</dd>
                </div>
            }
        })
        .collect();
    let owned = (owned > 0).then(|| {
        html! { <div><dt>{ format!("{owned} from the rack") }</dt><dd>{ "$0.00" }</dd></div> }
    });
    let kept: Vec<Html> = left
        .into_iter()
        .map(|(n, l)| html! { <span>{ format!(" {n} \u{d7} ") }{ l }</span> })
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

/// A stock from which parts are ripped.
pub fn ripped(shown: &RipShown, look: &Look) -> Html {
    let Some(job) = look.jobs.rips.get(shown.job) else {
        return html! {};
    };
    let names = look.names(&job.parts);
    let close = look.planned.rips.get(shown.job);
    let close = close.and_then(|r| r.close.as_ref());
    let left = shown.boards.iter().filter(|b| b.left.keep);
    let left = left
        .map(|b| {
            let piece = match job.is_sheet() {
                true => look.rectangle(b.left_width, b.left.length),
                false => look.length(b.left.length),
            };
            (b.count, piece)
        })
        .collect();
    let sheet = |width: Length| Some(width).filter(|_| job.is_sheet());
    // All sheets of a stock are sold at one width.
    let sold = look.bench.work.rack.stock(job.stock).map(|s| s.width);
    let help = if job.is_sheet() {
        "Rectangles, with square ends: shape and miter the parts afterwards. Each sheet lies with its length from left to right."
    } else {
        "Some parts are narrower than this stock: all of them are ripped and crosscut from it, with square ends; miter them afterwards."
    };
    let one = |b: &Ripped| {
        let drawing = board_of_strips(
            &BoardOfStrips {
                job: &job.instance,
                cut: &b.cut,
                length: b.length.0,
                start: b.start,
                names: &names,
            },
            look.width - 32.0,
            &look.bench.shop.style(),
        );
        let head = look.title(
            b.number,
            b.count,
            b.length,
            sheet(b.width),
            matches!(b.origin, Origin::Owned(_)),
        );
        let cuts: Vec<Html> = rip_steps(job, &b.cut, &look.bench.work.parts)
            .iter()
            .map(|t| html! { <li class="cut">{ set(&t.render(&look.bench.shop.style())) }</li> })
            .collect();
        html! {
            <>
                { board(head, look.keep(b.kept, || job.to_keep(&b.cut)), &drawing) }
                <details class="more">
                    <summary data-test="order">{ format!("Order of cuts: {}", cuts.len()) }</summary>
                    <ol class="cuts">{ cuts }</ol>
                </details>
            </>
        }
    };
    html! {
        <section class="stock" key={format!("rip-{}", job.stock)}>
            <h2 class="section">{ &job.name }</h2>
            <p class="help">{ help }</p>
            { nearly(look.jobs.jobs.len() + shown.job, &job.name, close, look) }
            { buy(&shown.buy, sold.and_then(sheet), shown.owned, left, look) }
            { for shown.boards.iter().map(one) }
        </section>
    }
}

/// A board under its title.
fn board(head: Html, keys: Html, drawing: &Drawing) -> Html {
    let wide = drawing.width.to_string();
    html! {
        <figure class="board" data-test="board">
            <figcaption>{ head }{ keys }</figcaption>
            <div class="slide" tabindex="0" role="group" aria-label="The board, wider than the screen" ~style={format!("--wide: {wide}px")}>
                { picture(drawing, "The board against the fence with the parts on it") }
            </div>
        </figure>
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
    let head = look.title(l.number, l.members.len(), l.length, None, owned.is_some());
    let keys = look.keep(l.kept, || job.to_keep(&l.cut));
    board(head, keys, &drawing)
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
        &look.bench.shop.saw,
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
            <summary data-test="order">{ format!("Order of cuts: {} \u{b7} changes of the saw: {}", shown.order.cuts.len(), shown.order.saw_changes) }</summary>
            <ol class="cuts">{ rows }</ol>
            if more > 0 {
                <p class="said">{ format!("And {more} more lines.") }</p>
            }
        </details>
    }
}
