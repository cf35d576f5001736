//! The parts of the app that come after the first answer: what there is of them so far.
//!
//! The build splits the wasm at the functions that hand out a door (`wasm_split`); what is reached only through a door is
//! in a file of its own. *work* is parts, boards, rack and shop; *more* is what stands over or below an answer (saw
//! card, backwards, templates, the solid) and all patterns with their drawings. Screens ask whether the door is there, and call through it at once.

/// A part that comes later.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    Work,
    More,
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
    pub work: Coming,
    pub more: Coming,
}

impl Late {
    pub fn of(self, part: Part) -> Coming {
        match part {
            Part::Work => self.work,
            Part::More => self.more,
        }
    }
    pub fn set(&mut self, part: Part, coming: Coming) {
        match part {
            Part::Work => self.work = coming,
            Part::More => self.more = coming,
        }
    }
    pub fn is_missing(self) -> bool {
        [self.work, self.more].contains(&Coming::Missing)
    }
}
