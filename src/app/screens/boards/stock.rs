//! One stock: the buy list, each board on the saw, the order of cuts.

use crate::io::browser;
use crate::screens::layout::picture;
use crate::state::Edit;
use crate::widgets::amount::set;
use crate::widgets::keys::key;
use crate::widgets::tags::{each, list, row, tag, txt};
use offsquare_paper::drawing::{BoardOfStrips, BoardOnSaw, Drawing, board_of_strips, board_on_saw};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Text, say};
use offsquare_work::cutlist::{
    Buy, Close, JobPart, Jobs, KeptBoard, Lying, Origin, Planned, Ripped, ShownPlan, Step, Summary,
    blank_steps, nearly_sentence, rip_steps, steps, yard_length,
};
use offsquare_work::piece::WorkEdit;
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

/// What all of it is looked at with.
pub struct Look<'a> {
    pub bench: &'a Rc<Bench>,
    pub jobs: &'a Rc<Jobs>,
    pub planned: &'a Planned,
    pub summary: &'a Rc<Summary>,
    pub send: &'a Callback<Edit>,
    pub width: f64,
    pub old: bool,
}

impl Look<'_> {
    fn length(&self, l: Length) -> Html {
        set(&say!(l).render(&self.bench.shop.style()))
    }
    /// A board by its length, a sheet by its width too.
    fn board(&self, l: Length, sheet: Option<Length>) -> Html {
        match sheet {
            Some(width) => self.rectangle(width, l),
            None => set(&yard_length(l, &self.bench.shop.style())),
        }
    }
    fn rectangle(&self, width: Length, length: Length) -> Html {
        set(&say!("{} by {}", width, length).render(&self.bench.shop.style()))
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
        let all = vec![tag("b", "", txt(title)), txt(", "), self.board(length, sheet), txt(from)];
        tag("span", "", list(all))
    }
    fn names(&self, parts: &[JobPart]) -> Vec<String> {
        let called = |p: &JobPart| self.bench.work.part(p.entry).map(|e| e.called());
        parts.iter().map(|p| called(p).unwrap_or_default()).gather()
    }
    /// Holds a board as it is, or lets it go.
    fn keep(&self, kept: Option<usize>, to_keep: impl FnOnce() -> KeptBoard) -> Html {
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

/// A stock of sticks, by its place in the summary.
pub fn stock(at: usize, look: &Look) -> Html {
    let shown = &look.summary.shown[at];
    let Some(job) = look.jobs.jobs.get(shown.job) else {
        return html! {};
    };
    let names = look.names(&job.parts);
    let close = look.planned.results.get(shown.job);
    let close = close.and_then(|r| r.close.as_ref());
    let left = shown.lying.iter().filter(|l| l.left.keep);
    let left = left.map(|l| (l.members.len(), look.length(l.left.length))).gather();
    html! {
        <section class="stock" key={job.stock.to_string()}>
            { tag("h2", "section", txt(job.name.clone())) }
            { nearly(shown.job, &job.name, close, look) }
            { buy(&shown.buy, None, shown.owned, left, look) }
            { each(shown.lying.iter().map(|l| lying(l, shown, &names, look))) }
            { order(at, shown, look) }
        </section>
    }
}

/// Jobs are counted sticks first, then strips.
fn nearly(job: usize, name: &str, close: Option<&Close>, look: &Look) -> Html {
    let Some(close) = close else {
        return html! {};
    };
    let apply = look.on(WorkEdit::Close { job, close: Box::new(close.clone()) });
    html! {
        <div class="nearly" role="status" data-test="nearly">
            { tag("p", "", set(&nearly_sentence(name, close).render(&look.bench.shop.style()))) }
            { key("key", Some("apply-nearly"), "Do that".into(), look.old, apply) }
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
            let what = vec![
                tag("b", "count", txt(b.count.to_string())),
                txt(" \u{d7} "),
                look.board(b.length, sheet),
                tag("small", "", txt(b.each.map(|m| format!(" at {m}")).unwrap_or_default())),
            ];
            row(list(what), txt(b.sum.map_or("no price yet".to_owned(), |m| m.to_string())))
        })
        .gather();
    let owned = (owned > 0).then(|| row(txt(format!("{owned} from the rack")), txt("$0.00")));
    let kept: Vec<Html> = left
        .into_iter()
        .map(|(n, l)| tag("span", "", list(vec![txt(format!(" {n} \u{d7} ")), l])))
        .gather();
    let left = if kept.is_empty() { txt("nothing worth keeping") } else { list(kept) };
    html! {
        <dl class="rows" data-test="buy">
            { rows }
            { owned }
            { row(txt("Left over"), left) }
        </dl>
    }
}

/// A stock from which parts are ripped, by its place in the summary.
pub fn ripped(at: usize, look: &Look) -> Html {
    let shown = &look.summary.ripped[at];
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
        .gather();
    let sheet = |width: Length| Some(width).filter(|_| job.is_sheet());
    // All sheets of a stock are sold at one width.
    let sold = look.bench.work.rack.stock(job.stock).map(|s| s.width);
    let help = if job.is_sheet() {
        "Rectangles, with square ends first. Each sheet lies with its length from left to right."
    } else {
        "Some parts are narrower than this stock: all of them are ripped and crosscut from it, with square ends first."
    };
    let one = |(place, b): (usize, &Ripped)| {
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
        let title = format!("Order of cuts: {}", b.cut.cuts());
        let (jobs, summary, bench) = (look.jobs.clone(), look.summary.clone(), look.bench.clone());
        let lines = move || {
            let shown = &summary.ripped[at];
            let steps =
                rip_steps(&jobs.rips[shown.job], &shown.boards[place].cut, &bench.work.parts);
            let line = |t: &Text| tag("li", "cut", set(&t.render(&bench.shop.style())));
            let cuts = tag("ol", "cuts", each(steps.iter().map(line)));
            list(vec![to_mind(&bench, &jobs.rips[shown.job].parts, true), cuts])
        };
        html! {
            <>
                { board(head, look.keep(b.kept, || job.to_keep(&b.cut)), &drawing) }
                <Cuts {title} lines={Rc::new(lines) as Lines} />
            </>
        }
    };
    let blanks = {
        let (jobs, summary, bench) = (look.jobs.clone(), look.summary.clone(), look.bench.clone());
        move || {
            let shown = &summary.ripped[at];
            let job = &jobs.rips[shown.job];
            lines(&blank_steps(job, &shown.boards, &bench.work.parts, &bench.shop.saw), &bench)
        }
    };
    html! {
        <section class="stock" key={format!("rip-{}", job.stock)}>
            { tag("h2", "section", txt(job.name.clone())) }
            { tag("p", "help", txt(help)) }
            { nearly(look.jobs.jobs.len() + shown.job, &job.name, close, look) }
            { buy(&shown.buy, sold.and_then(sheet), shown.owned, left, look) }
            { each(shown.boards.iter().enumerate().map(one)) }
            if job.on_blank.iter().any(|c| !c.is_empty()) {
                <Cuts title={"Then, on the blanks".to_owned()} lines={Rc::new(blanks) as Lines} />
            }
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

fn lying(l: &Lying, shown: &ShownPlan, names: &[String], look: &Look) -> Html {
    let Some(job) = look.jobs.jobs.get(shown.job) else {
        return html! {};
    };
    let owned = match l.origin {
        Origin::Owned(i) => look.bench.work.rack.stock(job.stock).and_then(|s| s.owned.get(i)),
        Origin::Sold(_) => None,
    };
    let bad: Vec<(f64, f64)> =
        owned.map(|o| o.bad.iter().map(|b| (b.0.0, b.1.0)).gather()).unwrap_or_default();
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

type Lines = Rc<dyn Fn() -> Html>;

#[derive(Properties)]
struct CutsProps {
    title: String,
    lines: Lines,
}

impl PartialEq for CutsProps {
    fn eq(&self, other: &CutsProps) -> bool {
        Rc::ptr_eq(&self.lines, &other.lines)
    }
}

/// An order of cuts under its title: nothing of it is worked out before it is opened or printed, and nothing else then.
#[component]
fn Cuts(props: &CutsProps) -> Html {
    let opened = use_state_eq(|| false);
    let open = {
        let opened = opened.setter();
        Callback::from(move |_: MouseEvent| opened.set(true))
    };
    {
        let opened = opened.setter();
        use_effect_with((), move |()| {
            let heard = browser::on_window("beforeprint", move || opened.set(true));
            move || drop(heard)
        });
    }
    let lines = opened.then(|| (props.lines)());
    html! {
        <details class="more">
            <summary data-test="order" onclick={open}>{ props.title.clone() }</summary>
            { lines.unwrap_or_default() }
        </details>
    }
}

/// What to mind, above an order of cuts.
fn to_mind(bench: &Bench, parts: &[JobPart], ripped: bool) -> Html {
    let style = bench.shop.style();
    let all = bench.work.to_mind(parts, ripped, &bench.shop);
    each(all.iter().map(|t| tag("p", "caution", set(&t.render(&style)))))
}

/// The order of cuts of a long plan is long: this much of it is shown at once.
const STEPS: usize = 400;

fn order(at: usize, shown: &ShownPlan, look: &Look) -> Html {
    let (cuts, changes) = (shown.order.cuts.len(), shown.order.saw_changes);
    let title = format!("Order of cuts: {cuts} \u{b7} changes of the saw: {changes}");
    let (jobs, summary, bench) = (look.jobs.clone(), look.summary.clone(), look.bench.clone());
    let told = move || {
        let shown = &summary.shown[at];
        let all = steps(
            &jobs.jobs[shown.job],
            &shown.boards,
            &shown.order,
            &shown.lying,
            &bench.work.parts,
            &bench.shop.saw,
        );
        let mind = to_mind(&bench, &jobs.jobs[shown.job].parts, false);
        list(vec![mind, lines(&all, &bench)])
    };
    html! { <Cuts {title} lines={Rc::new(told) as Lines} /> }
}

fn lines(all: &[Step], bench: &Bench) -> Html {
    let style = bench.shop.style();
    let more = all.len().saturating_sub(STEPS);
    let rows = all.iter().take(STEPS).map(|s| {
        let (class, text) = match s {
            Step::Saw(t) => ("saw", t),
            Step::Stop(t) => ("stop", t),
            Step::Cut(t) => ("cut", t),
        };
        tag("li", class, set(&text.render(&style)))
    });
    let mut both = vec![tag("ol", "cuts", each(rows))];
    if more > 0 {
        both.push(tag("p", "said", txt(format!("And {more} more lines."))));
    }
    list(both)
}
