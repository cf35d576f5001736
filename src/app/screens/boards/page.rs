//! The boards: money and proof, nested or plain, then stock by stock.

use super::batch::{batch, batch_costs};
use super::copy::CopyBoards;
use super::paper::PaperOfCuts;
use super::stock::{Look, stock};
use super::together::together;
use crate::io::planning::Trouble;
use crate::screens::faces::{faces, href};
use crate::screens::parts::{head, stocks, title};
use crate::screens::rack::trim_question;
use crate::screens::saw::run_line;
use crate::state::{Boards, Dispatch, Edit, Face, sender};
use crate::widgets::amount::set;
use crate::widgets::keys::key;
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_units::num::Gather;
use offsquare_units::{Currency, Style};
use offsquare_work::cutlist::{
    Cost, Entry, Job, Jobs, Planned, Summary, bound_sentence, compare, no_price_sentence,
    trim_sentence,
};
use offsquare_work::piece::{Begun, WorkEdit};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct BoardsProps {
    pub dispatch: Dispatch,
    pub piece: u32,
    pub bench: Rc<Bench>,
    pub boards: Boards,
    pub can_undo: bool,
    pub can_redo: bool,
}

/// What a drawing of the plan depends on.
struct Of {
    id: u32,
    changes: u32,
    bench: Rc<Bench>,
    old: bool,
    width: f64,
}

impl PartialEq for Of {
    fn eq(&self, other: &Of) -> bool {
        (self.id, self.changes, self.old) == (other.id, other.changes, other.old)
            && self.width == other.width
            && Rc::ptr_eq(&self.bench, &other.bench)
    }
}

/// What is worked out once a plan.
struct Drawn {
    summary: Rc<Summary>,
    tally: Option<Tally>,
    stocks: Html,
    last: Html,
}

/// Cost, changes of the saw and flips of all jobs together.
type Tally = (Cost, usize, usize);

#[component]
pub fn BoardsPage(props: &BoardsProps) -> Html {
    let send = sender(&props.dispatch);
    let frame = use_node_ref();
    let width = use_state_eq(|| 344.0_f64);
    {
        let (frame, width) = (frame.clone(), width.clone());
        use_effect(move || {
            if let Some(e) = frame.cast::<web_sys::Element>() {
                let w = f64::from(e.client_width());
                if w > 100.0 {
                    width.set(w);
                }
            }
        });
    }
    let (bench, work) = (&props.bench, &props.bench.work);
    let style = bench.shop.style();
    let (jobs, planned, old) = props.boards.shown();
    let now = &props.boards.planned;
    let of = |plain: bool| Of {
        id: planned.id,
        changes: planned.changes[usize::from(plain)],
        bench: bench.clone(),
        old,
        width: *width,
    };
    let sum = |plain| Summary::of(&jobs, &planned, plain, &work.rack, &work.parts);
    // A message that changes no plan has nothing worked out or drawn anew.
    let drawn = use_memo(of(work.plain), |_| {
        let summary = Rc::new(sum(work.plain));
        let look = Look {
            bench,
            jobs: &jobs,
            planned: &planned,
            summary: &summary,
            send: &send,
            width: *width,
            old,
        };
        Drawn {
            stocks: (0..summary.shown.len()).map(|at| stock(at, &look)).collect(),
            last: put_away(&summary, &jobs, bench, old, &send),
            tally: tally(&summary, &jobs),
            summary,
        }
    });
    let other = use_memo(of(!work.plain), |_| tally(&sum(!work.plain), &jobs));
    let both = match work.plain {
        true => [*other, drawn.tally],
        false => [drawn.tally, *other],
    };
    let summary = &drawn.summary;
    let troubles: Vec<Html> = props
        .boards
        .jobs
        .troubles
        .iter()
        .map(|t| {
            let let_go = t.kept.map(|i| {
                let send = send.clone();
                let tap = Callback::from(move |_: MouseEvent| {
                    send.emit(Edit::Work(WorkEdit::Release(i)))
                });
                key("key", None, "Let it go".into(), false, tap)
            });
            let class = if t.stops { "wrong" } else { "caution" };
            let text = set(&t.text.render(&style));
            tag("p", class, list(vec![text, let_go.unwrap_or_default()]))
        })
        .chain(summary.without.iter().map(|why| tag("p", "wrong", set(&why.render(&style)))))
        .gather();
    let open = work.parts.iter().any(|e| !e.done);
    html! {
        <div class="page boards">
            { head(title(work, props.piece), "#/", "Back to the bench", props.can_undo, props.can_redo, &send) }
            { faces(props.piece, Face::Boards) }
            <main ref={frame} class={classes!("list", old.then_some("old"))}>
                { run_line(bench, Some(props.piece)) }{ nothing(work.parts.is_empty(), open, props.piece) }
                { trouble(props.boards.trouble, &send) }
                <div role="status">{ troubles }</div>
                { together(bench, props.piece, summary, &send) }
                { stock_for_rest(bench, &send) }
                { each(jobs.jobs.iter().any(|j| !j.is_sheet()).then(|| trim_question(bench, &send))) }
                { batch(bench, &send) }
                if !summary.shown.is_empty() {
                    { total(summary, &jobs, (&planned, now), (&style, &work.currency()), &send) }
                    { each(trim_sentence(&jobs, &work.rack).map(|t| tag("p", "help", set(&t.render(&style))))) }
                    { pick(&jobs, both, bench, &send) }
                    { batch_costs(bench, now) }
                    { drawn.stocks.clone() }
                    <PaperOfCuts bench={bench.clone()} piece={props.piece} run={to_cut(bench, &jobs, summary)} off={old} />
                    <CopyBoards bench={bench.clone()} {jobs} summary={summary.clone()} {old} />
                    { drawn.last.clone() }
                } else if now.running {
                    { progress(now, &send) }
                }
            </main>
        </div>
    }
}

/// What would be cut, worked out when it is asked.
pub fn to_cut(bench: &Rc<Bench>, jobs: &Rc<Jobs>, summary: &Rc<Summary>) -> Rc<dyn Fn() -> Begun> {
    let (bench, jobs, summary) = (bench.clone(), jobs.clone(), summary.clone());
    Rc::new(move || bench.work.to_cut(&jobs, &summary, &bench.shop))
}

/// One stock for all parts that have none.
fn stock_for_rest(bench: &Bench, send: &Callback<Edit>) -> Html {
    let has_none = |e: &Entry| !e.done && bench.work.rack.stock_of(e.stock).is_none();
    if !bench.work.parts.iter().any(has_none) {
        return html! {};
    }
    stocks("Cut all parts without stock from", bench, None, None, send)
}

fn nothing(empty: bool, open: bool, piece: u32) -> Html {
    let words = match (empty, open) {
        (true, _) => "There are no parts yet. What to buy stands here once there are.",
        (false, false) => "Everything on the list is cut. Leftovers are in the rack.",
        _ => return html! {},
    };
    let parts = html! { <a class="primary" href={href(piece, Face::Parts)}>{ "Parts" }</a> };
    list(vec![tag("p", "said", txt(words)), tag("div", "actions", parts)])
}

/// Why nothing is planned, and the way out.
pub fn trouble(trouble: Option<Trouble>, send: &Callback<Edit>) -> Html {
    let words = match trouble {
        None => "",
        Some(Trouble::Late) => "The planner is still being loaded.",
        Some(Trouble::Missing) => {
            "The planner could not be loaded, so no boards are planned. The network may be away."
        }
        Some(Trouble::OtherVersion) => {
            "The planner that was loaded is of another version than this page, so no boards are planned. Reload the page if trying again does not help."
        }
        Some(Trouble::Died) => "The planner ended with an error of its own.",
    };
    let again = {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::TryPlanner))
    };
    html! {
        <div role="status">
            if trouble.is_some() {
                { tag("p", "caution", list(vec![txt(words), key("key", Some("try-planner"), "Try again".into(), false, again)])) }
            }
        </div>
    }
}

/// The search as it stands, and its end by hand.
fn progress(now: &Planned, send: &Callback<Edit>) -> Html {
    let stop = {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::StopPlanning))
    };
    html! {
        <div class="planning" data-test="planning">
            if now.running {
                <progress aria-label="Looking for a cheaper plan"></progress>
                { key("key", Some("stop"), "Stop".into(), false, stop) }
            }
        </div>
    }
}

fn total(
    summary: &Summary,
    jobs: &Jobs,
    (planned, now): (&Planned, &Planned),
    (style, currency): (&Style, &Currency),
    send: &Callback<Edit>,
) -> Html {
    let all = summary.shown.len() == jobs.jobs.len();
    let bound = planned.bound(jobs).filter(|_| all);
    let open = !summary.no_price.is_empty();
    let proof = match open {
        true => Some(no_price_sentence(&summary.no_price, !summary.unknown, style)),
        false => bound.map(|b| bound_sentence(summary.money, b, currency)),
    };
    // Nothing is free because it has no price.
    let money = match (summary.unknown, open && summary.bought.0 <= 0.0) {
        (true, _) => "Price not known".to_owned(),
        (_, true) => "Nothing to buy".to_owned(),
        _ => currency.print(summary.money),
    };
    let proven = bound.is_some_and(|b| summary.money <= b);
    let (before, behind) = match (planned.searches(), planned.cut_short()) {
        _ if !all => ("Not all of it is planned.", ""),
        (true, _) if proven => ("", " Still looking for fewer boards and a larger leftover."),
        (true, _) => ("Best so far. ", ""),
        (_, true) => ("Stopped: the best that was found. ", ""),
        _ => ("", ""),
    };
    html! {
        <section class="total">
            <p class="money" data-test="money">{ money }</p>
            <p class="proof" data-test="proof" role="status">{ before }{ proof.unwrap_or_default() }{ behind }</p>
            { progress(now, send) }
        </section>
    }
}

/// None until every job has a plan.
fn tally(summary: &Summary, jobs: &Jobs) -> Option<Tally> {
    let whole = summary.shown.len() == jobs.jobs.len();
    whole.then(|| {
        summary.shown.iter().fold((summary.cost(), 0, 0), |sum, s| {
            (sum.0, sum.1 + s.order.saw_changes, sum.2 + s.order.flips)
        })
    })
}

/// The cheapest plan beside the plain one; what is picked is cut.
fn pick(jobs: &Jobs, both: [Option<Tally>; 2], bench: &Bench, send: &Callback<Edit>) -> Html {
    let mitered = jobs.jobs.iter().any(Job::is_mitered);
    let [Some(nested), Some(plain)] = both else {
        return html! {};
    };
    if nested == plain && !mitered {
        return html! {};
    }
    let (name, plainly) = match (mitered, nested.0) {
        (true, _) => ("Nested", "Plain blanks"),
        (false, Cost::Money(_)) => ("Cheapest", "Plain"),
        // Nothing is cheapest before everything has a price.
        (false, Cost::Wood(_)) => ("Least wood", "Plain"),
    };
    let flips = nested.2 + plain.2 > 0;
    let (style, currency) = (bench.shop.style(), bench.work.currency());
    let one = |label: &str, t: Tally, is_plain: bool| {
        let send = send.clone();
        let tap = Callback::from(move |_: MouseEvent| {
            send.emit(Edit::Work(WorkEdit::Plain(is_plain)));
        });
        let on = bench.work.plain == is_plain;
        let mut counts = format!("changes of the saw: {}", t.1);
        if flips {
            counts.push_str(&format!(" \u{b7} flips: {}", t.2));
        }
        html! {
            <button aria-pressed={on.to_string()} data-test={if is_plain { "plain" } else { "nested" }} onclick={tap}>
                { tag("b", "", txt(format!("{label} {}", t.0.words(&style, &currency)))) }
                { tag("small", "", txt(counts)) }
            </button>
        }
    };
    html! {
        <section>
            <div class="choices two" role="group" aria-label="Which plan is cut">
                { one(name, nested, false) }
                { one(plainly, plain, true) }
            </div>
            { tag("p", "help", txt(compare(name, nested, plain, &style, &currency))) }
            if jobs.jobs.iter().any(Job::is_ripped) {
                { tag("p", "help", txt("Plain: rip over the whole length, one width a strip, then crosscut.")) }
            }
        </section>
    }
}

fn put_away(
    summary: &Summary,
    jobs: &Jobs,
    bench: &Bench,
    old: bool,
    send: &Callback<Edit>,
) -> Html {
    let all = summary.put_away(jobs, &bench.work.rack);
    let kept: u32 = all.iter().flat_map(|p| &p.kept).map(|o| o.count).sum();
    let send = send.clone();
    let tap = Callback::from(move |_: MouseEvent| {
        send.emit(Edit::Work(WorkEdit::PutAway(all.clone())));
    });
    let words = match kept {
        0 => "All cut".to_owned(),
        1 => "All cut: 1 leftover to the rack".to_owned(),
        n => format!("All cut: {n} leftovers to the rack"),
    };
    let words = key("primary", Some("put-away"), words.into(), old, tap);
    let help = "Marks these parts as cut, takes the used boards off the rack, and keeps what is worth keeping.";
    let all = vec![
        tag("h2", "section", txt("After cutting")),
        tag("p", "help", txt(help)),
        tag("div", "actions", words),
    ];
    tag("section", "", list(all))
}
