//! What of a layout is looked at, beside its sizes: none of it is kept.

use std::rc::Rc;
use yew::prelude::*;

/// Sheets that rise over the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Raised {
    Card,
    Back,
    Paper,
    Gauge,
}

impl Raised {
    /// What the sheet is called, before it has come.
    pub fn title(self) -> &'static str {
        match self {
            Raised::Card => "Saw card",
            Raised::Back => "Make it land on a mark",
            Raised::Paper => "Full-size template",
            Raised::Gauge => "The screen as a gauge",
        }
    }
}

#[derive(Default)]
pub struct Look {
    /// The field that is typed in.
    pub editing: Option<&'static str>,
    pub raised: Option<Raised>,
    pub cut: Option<usize>,
    /// What a tap on the strip has done, and which time it is said.
    pub said: (u32, &'static str),
    /// The card shows the other hand of a pair.
    pub other_hand: bool,
}

/// What is looked at next.
#[derive(Clone, Copy)]
pub enum Turn {
    Edit(Option<&'static str>),
    Raise(Raised),
    Lower,
    Cut(Option<usize>),
    Said(&'static str),
    OtherHand(bool),
}

impl Look {
    /// A sheet or the size that is typed stands over the screen: the back button takes it, and not the screen.
    pub fn over(&self) -> bool {
        self.raised.is_some() || self.editing.is_some()
    }
}

pub type Turns = UseReducerDispatcher<Look>;

impl Reducible for Look {
    type Action = Turn;

    fn reduce(self: Rc<Self>, turn: Turn) -> Rc<Self> {
        let mut next = Look { ..*self };
        match turn {
            Turn::Edit(field) => next.editing = field,
            // A card opens as drawn; a sheet takes the keypad's place.
            Turn::Raise(sheet) => {
                next = Look { raised: Some(sheet), editing: None, other_hand: false, ..next }
            }
            Turn::Lower => (next.raised, next.editing) = (None, None),
            Turn::Cut(at) => next.cut = at,
            Turn::Said(words) => next.said = (next.said.0 + 1, words),
            Turn::OtherHand(other) => next.other_hand = other,
        }
        Rc::new(next)
    }
}

/// A tap that turns to something else.
#[inline(never)]
pub fn turn(turns: &Turns, to: Turn) -> Callback<MouseEvent> {
    let turns = turns.clone();
    Callback::from(move |_| turns.dispatch(to))
}
