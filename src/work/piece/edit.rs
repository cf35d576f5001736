//! What a screen can ask of the work.

use super::begun::{Outcome, Reason, Replanned, Tick};
use super::draft::Draft;
use crate::cutlist::{KeptBoard, NearlyFits, PutAway};
use offsquare_cuts::facts::Section;

/// Which row of the rack an edit is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row {
    Settings,
    Stock(u32),
    Sold(u32, usize),
    Owned(u32, usize),
}

/// What a screen can ask for, in the words of the forms.
#[derive(Clone, Debug, PartialEq)]
pub enum WorkEdit {
    /// A new part of this piece.
    AddPart(u32),
    /// Of a part that follows its piece's pattern, a length, an end or a count is an override.
    Part {
        id: u32,
        key: &'static str,
        text: String,
    },
    /// The stock that a part is cut from, or (no id) all parts that have none.
    CutFrom {
        id: Option<u32>,
        stock: Option<u32>,
    },
    CopyPart(u32),
    /// Off the list; a pattern's is left out, and stays to be taken in again.
    RemovePart(u32),
    /// All of a piece's parts but its pattern's.
    ClearParts(u32),
    /// Cut, or to be cut again.
    Done {
        id: u32,
        done: bool,
    },
    /// The part no longer follows its layout.
    LetGo(u32),
    /// Into this piece, as are the next two.
    Paste(u32, String),
    /// All parts of a layout's answer, followed from now on.
    Follow(u32, Draft),
    Example(u32, usize),
    /// A piece of its own that is a copy of this example.
    OpenExample(usize),
    /// A piece, made after a pattern or empty.
    AddPiece {
        pattern: Option<Draft>,
    },
    /// Its name, its note, how many are made.
    Piece {
        id: u32,
        key: &'static str,
        text: String,
    },
    /// Whether it takes part in the buy.
    PlanPiece {
        id: u32,
        planned: bool,
    },
    /// No other piece does.
    PlanOnly(u32),
    /// A variant of its own, not planned yet.
    CopyPiece(u32),
    /// With its parts; *Loose parts* stay.
    RemovePiece(u32),
    /// An override taken back, or that of one key; `at`: its place among the piece's.
    AsMade {
        piece: u32,
        at: usize,
        key: Option<&'static str>,
    },
    Rack {
        row: Row,
        key: &'static str,
        text: String,
    },
    /// Of this section, called by it with these words of the maker's behind; none: one to be filled in.
    AddStock {
        of: Option<Section>,
        wood: String,
    },
    /// Of a part's own section; the part is cut from it.
    AddStockFor(u32),
    AddSold(u32),
    AddOwned(u32),
    RemoveRow(Row),
    Plain(bool),
    Keep(Box<KeptBoard>),
    Release(usize),
    /// A hair less on parts, or more on boards, as the planner found.
    NearlyFits {
        job: usize,
        nearly: Box<NearlyFits>,
    },
    PutAway(Vec<PutAway>),
    /// These boards are cut, step by step, as all stands now.
    StartRun(Vec<KeptBoard>),
    /// A step of the run is done.
    Tick(Tick),
    /// The newest tick or skip of the run is taken back.
    Untick,
    /// Places on boards (board, place) are no good: their parts are planned anew.
    Skip {
        reason: Reason,
        places: Vec<(u32, u32)>,
    },
    /// Where what was skipped is cut now.
    Replanned(Box<Replanned>),
    /// The run is over: what was cut counts as cut.
    EndRun(Box<Outcome>),
}

impl WorkEdit {
    /// It goes on with a run that is begun: the run takes it back by itself.
    pub fn is_of_run(&self) -> bool {
        matches!(
            self,
            WorkEdit::Tick(_) | WorkEdit::Untick | WorkEdit::Skip { .. } | WorkEdit::Replanned(_)
        )
    }
    /// It begins or ends a run.
    pub fn turns_run(&self) -> bool {
        matches!(self, WorkEdit::StartRun(_) | WorkEdit::EndRun(_))
    }

    /// Edits of one topic in a row are one step of undo.
    pub fn topic(&self) -> Option<String> {
        match self {
            WorkEdit::Part { id, key, .. } => Some(format!("part.{id}.{key}")),
            WorkEdit::Rack { row, key, .. } => Some(format!("rack.{row:?}.{key}")),
            WorkEdit::Piece { id, key, .. } => Some(format!("piece.{id}.{key}")),
            _ => None,
        }
    }
}
