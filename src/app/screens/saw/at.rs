//! What a run's screen is made of, for its parts.

use crate::io::awake::Awake;
use crate::state::{Boards, Coming, Dispatch, Edit};
use offsquare_work::piece::{Begun, WorkEdit};
use offsquare_work::save::Bench;
use offsquare_work::walk::Walk;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct SawProps {
    pub dispatch: Dispatch,
    pub piece: u32,
    pub bench: Rc<Bench>,
    pub boards: Boards,
    pub can_undo: bool,
    pub can_redo: bool,
    /// How far the patterns have come: a run needs those that its parts are of.
    pub patterns: Coming,
}

/// What rises over the card.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Raised {
    More,
    Skip,
    Test,
    Gauge,
    Paper,
}

/// What a run's screen is made of.
pub struct At<'a> {
    pub bench: &'a Rc<Bench>,
    pub begun: &'a Begun,
    pub walk: &'a Rc<Walk>,
    /// The step that comes next.
    pub next: Option<usize>,
    pub send: &'a Callback<Edit>,
    pub raise: &'a Callback<Option<Raised>>,
    pub awake: Awake,
    /// What was last said of reading aloud.
    pub voice: &'static str,
    pub say: &'a Callback<&'static str>,
}

impl At<'_> {
    pub fn work(&self, edit: WorkEdit) -> Callback<MouseEvent> {
        let send = self.send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::Work(edit.clone())))
    }
    pub fn raise(&self, to: Option<Raised>) -> Callback<MouseEvent> {
        let raise = self.raise.clone();
        Callback::from(move |_: MouseEvent| raise.emit(to))
    }
}
