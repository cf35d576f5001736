//! The price of a piece as a page.

use super::batches::batches;
use super::form::{Look, own_terms, rates, wanted};
use super::lines::{lines, missing, strip};
use super::market::{others, shelf, tried};
use crate::screens::boards::trouble;
use crate::screens::faces::{faces, href};
use crate::screens::parts::{head, title};
use crate::state::{Boards, Dispatch, Face, sender};
use crate::widgets::clock::clock;
use crate::widgets::keys::key;
use crate::widgets::tags::{each, fold, tag, txt};
use offsquare_work::cutlist::Summary;
use offsquare_work::piece::WorkEdit;
use offsquare_work::price::{Figures, List, PriceRow};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct PriceProps {
    pub dispatch: Dispatch,
    pub piece: u32,
    pub bench: Rc<Bench>,
    pub boards: Boards,
    /// The patterns are here, which tell what faces a piece has.
    pub patterns: bool,
    pub can_undo: bool,
    pub can_redo: bool,
}

/// What the faces of a piece depend on.
struct Faces {
    bench: Rc<Bench>,
    piece: u32,
    patterns: bool,
}

impl PartialEq for Faces {
    fn eq(&self, other: &Faces) -> bool {
        let (a, b) = (&self.bench, &other.bench);
        let same = || {
            a.work.parts == b.work.parts
                && a.work.sources == b.work.sources
                && a.work.rack == b.work.rack
                && a.shop == b.shop
                && a.work.piece(self.piece).map(|p| &p.overrides)
                    == b.work.piece(self.piece).map(|p| &p.overrides)
        };
        (self.piece, self.patterns) == (other.piece, other.patterns) && (Rc::ptr_eq(a, b) || same())
    }
}

#[component]
pub fn PricePage(props: &PriceProps) -> Html {
    let (bench, id) = (&props.bench, props.piece);
    let (work, shop) = (&bench.work, &bench.shop);
    let (jobs, planned, old) = props.boards.shown();
    // A price that is typed works no plan out anew.
    let plan = (planned.id, planned.changes, work.plain, work.rack.keep.0.to_bits(), old);
    let summary = {
        let (jobs, planned) = (jobs.clone(), planned.clone());
        use_memo(plan, move |_| Summary::of(&jobs, &planned, work.plain, &work.rack, &work.parts))
    };
    let by_batch = {
        let Boards { one, planned, .. } = &props.boards;
        let told = (planned.id, planned.curve.len(), work.rack.keep.0.to_bits());
        use_memo(told, move |_| work.planned_by_batch(one, planned))
    };
    let faced = Faces { bench: bench.clone(), piece: id, patterns: props.patterns };
    let area = use_memo(faced, |of| of.bench.work.surface(of.piece, &of.bench.shop));
    let send = sender(&props.dispatch);
    let Some(piece) = work.piece(id) else { return html! {} };
    let made = work.made(piece, (*area).clone(), (&jobs, &planned, &summary), &shop.style());
    let figures = work.priced(piece, &made);
    let wood = work.wood_by_batch(piece, &made, &by_batch);
    let market = figures.market();
    let look = Look { bench, piece, dispatch: &props.dispatch };
    html! {
        <div class="page price">
            { head(title(work, id), "#/", "Back to the bench", props.can_undo, props.can_redo, &send) }
            { faces(id, Face::Price) }
            <main class={classes!("list", "priced", old.then_some("old"))}>
                <div class="told-price">
                    { trouble(props.boards.trouble, &send) }
                    { missing(&figures) }
                    { lines(&figures) }
                    { batches(&look, &figures, &wood, props.boards.planned.running) }
                </div>
                <div class="asked-price">
                    { wanted(&look, figures.wrong.as_deref()) }
                    { tag("h2", "section", txt("The work")) }
                    { tag("div", "pair inset", look.cells(PriceRow::Rates, |key| key == "rate")) }
                    { look.kinds(List::Steps, "Another step") }
                    { tag("div", "actions", clock(piece, &send)) }
                    { from_cuts(&look, &summary) }
                    { tag("h2", "section", txt("Hardware, by the pack")) }
                    { look.kinds(List::Hardware, "Other hardware") }
                    { tag("h2", "section", txt("Finish, by the can")) }
                    { look.kinds(List::Finish, "Another finish") }
                    { boards_key(id, &figures) }
                    { rates(&look) }
                    { own_terms(&look) }
                    { others(&look, &figures, &market) }
                    { tried(&look, &figures, &market) }
                    { shelf(&look, &figures) }
                </div>
            </main>
            { strip(&figures) }
        </div>
    }
}

/// Where the wood's price comes from.
fn boards_key(piece: u32, figures: &Figures) -> Html {
    if figures.batch.wood.is_none() {
        return html! {};
    }
    html! {
        <div class="actions">
            <a class="key link" href={href(piece, Face::Boards)}>{ "Boards: the plan" }</a>
            <a class="key link" href="#/rack">{ "Rack: prices of boards" }</a>
        </div>
    }
}

/// Minutes at the saw from the cuts of the plan, where the maker has told how long one takes.
fn from_cuts(look: &Look, summary: &Summary) -> Html {
    let Some(cuts) = look.bench.work.cuts_of(look.piece, summary) else { return html! {} };
    let told = look.bench.work.told_of_cuts(cuts);
    let take =
        told.clone().map(|texts| look.on(WorkEdit::AtTheSaw { piece: look.piece.id, texts }));
    let cells = look.cells(PriceRow::Rates, |key| key.starts_with("saw_"));
    let inner = html! {
        <>
            { tag("p", "help", txt(cuts.words())) }
            { tag("div", "pair", cells) }
            { each(take.map(|take| key("key", Some("at-the-saw"), "Take these minutes".into(), false, take))) }
        </>
    };
    fold("Minutes from the cuts of the plan", inner)
}
