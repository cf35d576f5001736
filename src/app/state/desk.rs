//! What changes parts, rack and boards. It comes with their screens.

use super::Boards;
use crate::io::planning::Said;
use offsquare_work::cutlist::Ask;
use offsquare_work::piece::{Shop, Work, WorkEdit};
use offsquare_work::save::{Bench, Clashes, History};
use std::cell::Cell;

/// The ways in.
pub struct Desk {
    pub apply: fn(&mut Work, WorkEdit, &Shop),
    pub follow: fn(&mut Boards, &Bench),
    pub hear: fn(&mut Boards, Said),
    /// What the planner is asked.
    pub request: fn(&Boards) -> Ask,
    /// How a run goes on with what was planned for it; none while nothing was.
    pub taking: fn(&Boards, &Bench) -> Option<WorkEdit>,
    /// An edit is a step to undo.
    pub note: fn(&mut History, &Bench, &Bench, bool) -> Option<bool>,
    pub take: fn(&mut History, &mut Bench, bool) -> Clashes,
}

pub static DESK: Desk = Desk {
    apply: Work::apply,
    follow: Boards::follow,
    hear: Boards::hear,
    request: |boards| boards.planned.request(&boards.jobs, boards.curve, &boards.one),
    taking: Boards::taking,
    note: History::note,
    take: History::take,
};

thread_local! {
    static HERE: Cell<Option<&'static Desk>> = const { Cell::new(None) };
}

/// It has come.
pub fn arrived(desk: &'static Desk) {
    HERE.set(Some(desk));
}

/// None until it has come; natively it is always there.
pub fn desk() -> Option<&'static Desk> {
    #[cfg(not(target_family = "wasm"))]
    arrived(&DESK);
    HERE.get()
}
