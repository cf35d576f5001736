//! The parts of the app that come after the first answer: what there is of them so far.
//!
//! The build splits the wasm at the functions that hand out a door (`wasm_split`); what is reached only through a door is
//! in a file of its own. *layouts* are those that are not asked first; *work* is parts, boards, rack and shop; *more* is
//! what stands over or below an answer (saw card, backwards, templates, the solid) and all patterns with their drawings.
//! Screens ask whether the door is there, and call through it at once.

use offsquare_cuts::layouts;

/// A part that comes later.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    Layouts,
    Work,
    More,
}

impl Part {
    pub const ALL: [Part; 3] = [Part::Layouts, Part::Work, Part::More];

    /// The part that a layout or pattern comes in, unless it is here at once.
    pub fn of(id: &str) -> Option<Part> {
        let at_once = layouts::first().iter().any(|l| l.id() == id);
        let part = if layouts::named(id).is_some() { Part::Layouts } else { Part::More };
        (!at_once).then_some(part)
    }
    /// As the build and `boot.js` call it.
    pub fn name(self) -> &'static str {
        match self {
            Part::Layouts => "layouts",
            Part::Work => "work",
            Part::More => "more",
        }
    }
}

/// How far it has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Coming {
    #[default]
    OnTheWay,
    Here,
    /// It could not be fetched; after a while it is asked for again.
    Missing,
}

/// How far each part has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Late {
    pub layouts: Coming,
    pub work: Coming,
    pub more: Coming,
}

impl Late {
    pub fn of(self, part: Part) -> Coming {
        match part {
            Part::Layouts => self.layouts,
            Part::Work => self.work,
            Part::More => self.more,
        }
    }
    pub fn set(&mut self, part: Part, coming: Coming) {
        match part {
            Part::Layouts => self.layouts = coming,
            Part::Work => self.work = coming,
            Part::More => self.more = coming,
        }
    }
    /// All layouts and patterns are here.
    pub fn has_layouts(self) -> bool {
        (self.layouts, self.more) == (Coming::Here, Coming::Here)
    }
    pub fn is_missing(self) -> bool {
        Part::ALL.map(|part| self.of(part)).contains(&Coming::Missing)
    }
}
