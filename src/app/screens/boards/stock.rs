//! One stock: the buy list, each board on the saw, the order of cuts.

use crate::io::browser;
use crate::screens::layout::{painted, still};
use crate::state::Edit;
use crate::widgets::amount::set;
use crate::widgets::keys::key;
use crate::widgets::tags::{each, list, row, tag, txt};
use offsquare_paper::drawing::{
    BoardOfStrips, BoardOnSaw, Drawing, Mark, board_of_strips, board_on_saw, figure, rows,
};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Money, say};
use offsquare_work::cutlist::{
    Instance, Job, Jobs, Lying, NearlyFits, OrderLine, Origin, Planned, RipStep, ShownPlan,
    Summary, blank_lines, nearly_sentence, order_lines, rip_steps, yard_length,
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
    /// "3 boards alike, 2 to 4, 8 ft, from the rack"
    fn title(&self, lying: &Lying, job: &Job) -> Html {
        let kind = if job.is_sheet() { "sheet" } else { "board" };
        let title = lying.called(kind);
        let width = Some(lying.board.width).filter(|_| job.is_sheet());
        let size = self.board(lying.board.length, width);
        let from = if lying.board.is_owned() { ", from the rack" } else { "" };
        tag("span", "", list(vec![tag("b", "", txt(title)), txt(", "), size, txt(from)]))
    }
    fn names(&self, job: &Job) -> Vec<String> {
        let called = |entry| self.bench.work.part(entry).map(|e| e.called());
        job.parts.iter().map(|p| called(p.entry).unwrap_or_default()).gather()
    }
    /// Holds a board as it is, or lets it go.
    fn keep(&self, lying: &Lying, job: &Job) -> Html {
        let (word, edit) = match lying.kept {
            Some(i) => ("Kept", WorkEdit::Release(i)),
            None => ("Keep", WorkEdit::Keep(Box::new(job.to_keep(&lying.cut)))),
        };
        html! {
            <button class="key" data-test="keep" aria-pressed={lying.kept.is_some().to_string()}
                aria-label={[word, " this board as it is"].concat()} disabled={self.old} onclick={self.on(edit)}>{ word }</button>
        }
    }
    fn on(&self, edit: WorkEdit) -> Callback<MouseEvent> {
        let send = self.send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::Work(edit.clone())))
    }
}

/// A stock, by its place in the summary.
pub fn stock(at: usize, look: &Look) -> Html {
    let shown = &look.summary.shown[at];
    let Some(job) = look.jobs.jobs.get(shown.job) else {
        return html! {};
    };
    let names = look.names(job);
    let nearly = look.planned.results.get(shown.job);
    let nearly = nearly.and_then(|r| r.nearly.as_ref());
    let one = |(place, lying): (usize, &Lying)| {
        let cuts = job.is_ripped().then(|| board_order(at, place, lying, look));
        list(vec![board(lying, job, &names, look), cuts.unwrap_or_default()])
    };
    html! {
        <section class="stock" key={job.stock.to_string()}>
            { tag("h2", "section", txt(job.name.clone())) }
            { help(job) }
            { nearly_fits(shown.job, &job.name, nearly, look) }
            { buy(shown, job, look) }
            { each(shown.lying.iter().enumerate().map(one)) }
            { order(at, shown, job, look) }
        </section>
    }
}

fn help(job: &Job) -> Html {
    let help = match (job.is_ripped(), job.is_sheet()) {
        (false, _) => return html! {},
        (_, true) => {
            "Rectangles, with square ends first. Each sheet lies with its length from left to right."
        }
        (_, false) => {
            "Some parts are narrower than this stock: all of them are ripped and crosscut from it, with square ends first."
        }
    };
    tag("p", "help", txt(help))
}

fn nearly_fits(job: usize, name: &str, nearly: Option<&NearlyFits>, look: &Look) -> Html {
    let Some(nearly) = nearly else {
        return html! {};
    };
    let apply = look.on(WorkEdit::NearlyFits { job, nearly: Box::new(nearly.clone()) });
    html! {
        <div class="nearly" role="status" data-test="nearly">
            { tag("p", "", set(&nearly_sentence(name, nearly, &look.bench.work.currency()).render(&look.bench.shop.style()))) }
            { key("key", Some("apply-nearly"), "Do that".into(), look.old, apply) }
        </div>
    }
}

/// What to buy of one stock, and what is left of it that is worth keeping.
fn buy(shown: &ShownPlan, job: &Job, look: &Look) -> Html {
    // All sheets of a stock are sold at one width.
    let stock = look.bench.work.rack.stock(job.stock).filter(|_| job.is_sheet());
    let sheet = stock.map(|s| s.width);
    let owned = shown.owned;
    let currency = look.bench.work.currency();
    let money = |m| currency.print(m);
    let rows: Vec<Html> = shown
        .buy
        .iter()
        .map(|b| {
            let what = vec![
                tag("b", "count", txt(b.count.to_string())),
                txt(" \u{d7} "),
                look.board(b.length, sheet),
                tag(
                    "small",
                    "",
                    txt(b.each.map(|m| format!(" at {}", money(m))).unwrap_or_default()),
                ),
            ];
            row(list(what), txt(b.sum.map_or("no price yet".to_owned(), money)))
        })
        .gather();
    let owned =
        (owned > 0).then(|| row(txt(format!("{owned} from the rack")), txt(money(Money::ZERO))));
    let kept: Vec<Html> = shown
        .lying
        .iter()
        .filter(|l| l.left.keep)
        .map(|l| {
            let size = match job.is_sheet() {
                true => look.rectangle(l.left.width, l.left.length),
                false => look.length(l.left.length),
            };
            tag("span", "", list(vec![txt(format!(" {} \u{d7} ", l.members.len())), size]))
        })
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

/// A board as it lies, under its title.
fn board(lying: &Lying, job: &Job, names: &[String], look: &Look) -> Html {
    let (cut, left) = (&lying.cut, &lying.left);
    let (length, start) = (lying.board.length.0, lying.board.start);
    let (frame, style) = (look.width - 32.0, look.bench.shop.style());
    let drawing = match &job.instance {
        Instance::Sticks(of) => {
            let stock = look.bench.work.rack.stock(job.stock);
            let owned = match lying.board.origin {
                Origin::Owned(i) => stock.and_then(|s| s.owned.get(i)),
                Origin::Sold(_) => None,
            };
            let bad: Vec<(f64, f64)> =
                owned.map(|o| o.bad.iter().map(|b| (b.0.0, b.1.0)).gather()).unwrap_or_default();
            let (left, keeps, bad) = (left.length.0, left.keep, bad.as_slice());
            let board = BoardOnSaw { job: of, cut, length, start, left, keeps, bad, names };
            board_on_saw(&board, frame, &style)
        }
        Instance::Rectangles(of) => {
            board_of_strips(&BoardOfStrips { job: of, cut, length, start, names }, frame, &style)
        }
    };
    let all = rows(&drawing, frame);
    let high = drawing.height * all.len() as f64;
    html! {
        <figure class="board" data-test="board">
            <figcaption>{ look.title(lying, job) }{ look.keep(lying, job) }</figcaption>
            <div class="board-rows" role="img" aria-label="The board against the fence with the parts on it" ~style={format!("--high: {high}px")}>
                { each(all.into_iter().map(|row| part_of(&drawing, row))) }
            </div>
        </figure>
    }
}

/// A row of a drawing that is longer than the screen is wide.
fn part_of(drawing: &Drawing, (from, wide): (f64, f64)) -> Html {
    let inside = |m: &&Mark| {
        m.bounds().is_some_and(|b| b.high.x >= from - 2.0 && b.low.x <= from + wide + 2.0)
    };
    let marks: Vec<Mark> = drawing.marks.iter().filter(inside).cloned().gather();
    let [x, w, h] = [from, wide, drawing.height].map(figure);
    html! {
        <svg viewBox={[&x, " 0 ", &w, " ", &h].concat()} width={w} height={h} aria-hidden="true">{ painted(&marks, still) }</svg>
    }
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
fn to_mind(bench: &Bench, job: &Job) -> Html {
    let style = bench.shop.style();
    let all = bench.work.to_mind(&job.parts, job.is_ripped(), &bench.shop);
    each(all.iter().map(|t| tag("p", "caution", set(&t.render(&style)))))
}

/// How one board of rectangles is cut.
fn board_order(at: usize, place: usize, lying: &Lying, look: &Look) -> Html {
    let ends = look.jobs.jobs[look.summary.shown[at].job].good_ends(lying.cut.board);
    let cuts = lying.cut.cuts() + ends.iter().filter(|good| !**good).count();
    let title = format!("Order of cuts: {cuts}");
    let (jobs, summary, bench) = (look.jobs.clone(), look.summary.clone(), look.bench.clone());
    let told = move || {
        let shown = &summary.shown[at];
        let job = &jobs.jobs[shown.job];
        let steps = rip_steps(job, &shown.lying[place].cut, &bench.work.parts);
        let line = |s: &RipStep| tag("li", "cut", set(&s.words.render(&bench.shop.style())));
        let cuts = tag("ol", "cuts", each(steps.iter().map(line)));
        list(vec![to_mind(&bench, job), cuts])
    };
    html! { <Cuts {title} lines={Rc::new(told) as Lines} /> }
}

/// The order of cuts of a long plan is long: this much of it is shown at once.
const STEPS: usize = 400;

/// The order of cuts of a stock; of a ripped one, what remains on the blanks.
fn order(at: usize, shown: &ShownPlan, job: &Job, look: &Look) -> Html {
    let ripped = job.is_ripped();
    let title = match ripped {
        true if job.parts.iter().all(|p| p.on_blank.is_empty()) => return html! {},
        true => "Then, on the blanks".to_owned(),
        false => {
            let (cuts, changes) = (shown.cuts(), shown.order.saw_changes);
            format!("Order of cuts: {cuts} \u{b7} changes of the saw: {changes}")
        }
    };
    let (jobs, summary, bench) = (look.jobs.clone(), look.summary.clone(), look.bench.clone());
    let told = move || {
        let shown = &summary.shown[at];
        let (job, parts, saw) = (&jobs.jobs[shown.job], &bench.work.parts, &bench.shop.saw);
        match ripped {
            true => lines(&blank_lines(job, &shown.lying, parts, saw), &bench),
            false => {
                let all = order_lines(job, shown, parts, saw);
                list(vec![to_mind(&bench, job), lines(&all, &bench)])
            }
        }
    };
    html! { <Cuts {title} lines={Rc::new(told) as Lines} /> }
}

fn lines(all: &[OrderLine], bench: &Bench) -> Html {
    let style = bench.shop.style();
    let more = all.len().saturating_sub(STEPS);
    let rows = all.iter().take(STEPS).map(|s| {
        let (class, text) = match s {
            OrderLine::Saw(t) => ("saw", t),
            OrderLine::Stop(t) => ("stop", t),
            OrderLine::Cut(t) => ("cut", t),
        };
        tag("li", class, set(&text.render(&style)))
    });
    let mut both = vec![tag("ol", "cuts", each(rows))];
    if more > 0 {
        both.push(tag("p", "said", txt(format!("And {more} more lines."))));
    }
    list(both)
}
