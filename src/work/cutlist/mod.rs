//! The parts list: what has to be cut, from which stock, and how it becomes jobs for the planner.
//!
//! An [`Entry`] is one kind of part. Ends are in the cutting plan's signs: a miter is positive where
//! edge A (the one nearest you) reaches further out. [`Jobs`] turns entries and rack into one planner
//! job a stock; the planner works them off in steps and reports in messages, which [`Planned`] collects.

mod asked;
mod blank_cut;
mod fits;
mod form;
mod job;
mod jobs;
mod kept;
mod on_blank;
mod paste;
mod planned;
mod rectangles;
mod sentences;
mod sequence;
mod share;
mod shown;
mod sticks;
mod stored;
mod summary;
mod tape;

pub use blank_cut::BlankCut;
pub use fits::{Fit, fit};
pub use form::FIELDS;
pub use job::{Board, Instance, Job, JobPart, Jobs, Origin, Trouble};
pub use kept::{KeptBoard, KeptPart};
pub use offsquare_planner::guillotine::Then;
pub use offsquare_planner::message::{Ask, Message};
pub use offsquare_planner::{CURVE_MOST, CutBoard};
pub use paste::{MOST_PASTED, Pasted, Skipped, paste, paste_into};
pub use planned::{JobResult, NearlyFits, Plan, PlanState, Planned};
pub use sentences::{
    Cost, best_sizes, bound_sentence, compare, how_many, nearly_sentence, no_price_sentence,
    trim_sentence, yard_length,
};
pub use sequence::{OrderLine, RipStep, blank_lines, order, order_lines, rip_steps};
pub use share::Share;
pub use shown::{Buy, Leftover, Lying, PutAway, ShownPlan};
pub use summary::{Summary, left_of, left_piece, put_away};

use crate::solved::EndCut;
use offsquare_cuts::parts::{BlankEnd, Cut, End, Part, Side};
use offsquare_units as units;
use offsquare_units::num::Gather;
use offsquare_units::{Length, num};

/// Most kinds of parts on a list.
pub const MOST_PARTS: usize = 8_000;

/// Why a list of so many kinds takes `more` no longer, if it does not.
pub fn no_room(kinds: usize, more: usize) -> Option<String> {
    (kinds + more > MOST_PARTS).then(|| {
        format!(
            "The list is full: {} kinds of parts. Remove some first.",
            units::grouped(MOST_PARTS as u64)
        )
    })
}

/// One end of a part.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PartEnd {
    /// Degrees off square on the seen face, positive where edge A reaches further out.
    pub miter: f64,
    /// Tilt of the blade from upright, in degrees, never negative.
    pub bevel: f64,
    /// Finished on a square blank as long as the part: cut twice (a point, a slope over a shoulder), or in
    /// another way that is not one cut across the stick. `miter` is then its steepest cut, 0 where part of
    /// the end stays square.
    pub pointed: bool,
}

/// Which way the grain runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Grain {
    #[default]
    Along,
    Across,
    Either,
}

/// Whether mirror images are wanted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// All alike.
    #[default]
    Alike,
    Left,
    Right,
    /// Every other one is the mirror image.
    Pairs,
}

/// Where an entry comes from: a layout that the list keeps, and which of its parts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct From {
    /// Id of the source in the list.
    pub source: u32,
    pub part: String,
    /// Which of the layout's parts of that name.
    pub nth: usize,
    /// How many the layout made when the count was last taken from it.
    pub count: u32,
}

/// One kind of part to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    pub id: u32,
    /// The piece that it belongs to; 0: to none.
    pub piece: u32,
    pub name: String,
    pub count: u32,
    /// Id of the stock in the rack.
    pub stock: Option<u32>,
    /// Finished length: the whole extent along the board, long point to long point.
    pub length: Length,
    /// The size on the saw table, edge A to edge B; none: the stock's own.
    pub seen: Option<Length>,
    /// The size going away from you; none: the stock's own.
    pub away: Option<Length>,
    pub left: PartEnd,
    pub right: PartEnd,
    /// Cuts across it that are made on its blank, as its layout has them.
    pub on_blank: Vec<BlankCut>,
    pub grain: Grain,
    pub one_good_face: bool,
    pub hand: Hand,
    /// How much shorter it may come out, and where it is ripped, how much narrower.
    pub give: Length,
    /// How much shorter it is cut, so that a board is saved.
    pub shortened: Length,
    /// How much narrower it is ripped.
    pub narrowed: Length,
    pub note: String,
    /// Cut already: no longer planned.
    pub done: bool,
    /// How many are cut already, of all that are made of it: as it is, and as mirror images.
    pub made: u32,
    pub made_mirrored: u32,
    pub from: Option<From>,
    /// Its layout has no answer now: these are its last sizes.
    pub stale: bool,
}

impl Default for Entry {
    fn default() -> Entry {
        Entry {
            id: 0,
            piece: 0,
            name: String::new(),
            count: 1,
            stock: None,
            length: Length(12.0),
            seen: None,
            away: None,
            left: PartEnd::default(),
            right: PartEnd::default(),
            on_blank: Vec::new(),
            grain: Grain::Along,
            one_good_face: false,
            hand: Hand::Alike,
            give: Length(0.125),
            shortened: Length::ZERO,
            narrowed: Length::ZERO,
            note: String::new(),
            done: false,
            made: 0,
            made_mirrored: 0,
            from: None,
            stale: false,
        }
    }
}

/// The steepest miter that the planner nests, in degrees.
const STEEPEST: f64 = offsquare_planner::STEEPEST;

impl PartEnd {
    pub const SQUARE: PartEnd = PartEnd { miter: 0.0, bevel: 0.0, pointed: false };
    pub const fn mitered(miter: f64) -> PartEnd {
        PartEnd { miter, bevel: 0.0, pointed: false }
    }
    /// Whether a saw makes it.
    pub fn can_be(&self) -> bool {
        self.miter.abs() <= 90.0 && (0.0..=90.0).contains(&self.bevel)
    }
    /// A plain miter (or square) that the planner can nest.
    pub fn is_plain(&self) -> bool {
        self.bevel == 0.0 && !self.pointed && self.miter.abs() <= STEEPEST
    }
    pub fn is_square(&self) -> bool {
        self.miter == 0.0 && self.bevel == 0.0 && !self.pointed
    }
    /// What an end that goes in as square takes along the board beyond its kerf: k(1/|N·e3| − 1),
    /// where the cut's unit normal N lies cos(miter)·cos(bevel) along the board.
    ///
    /// ```
    /// use offsquare_work::cutlist::PartEnd;
    /// let end = PartEnd { miter: 0.0, bevel: 60.0, pointed: false };
    /// assert!((end.as_square(0.125) - 0.125).abs() < 1e-12); // 1/cos 60° is 2
    /// ```
    ///
    /// An end that is finished on its blank takes nothing: there the stick is crosscut square, and the
    /// kerfs of the later cuts lie in what falls off the blank.
    pub fn as_square(&self, kerf: f64) -> f64 {
        if self.pointed || self.bevel == 0.0 && self.miter.abs() > STEEPEST {
            return 0.0;
        }
        let along = num::cos_deg(self.miter) * num::cos_deg(self.bevel);
        if along > 1e-6 { kerf * (1.0 / along - 1.0) } else { 0.0 }
    }
    /// As one cut, its tilt to the side on which the upper face reaches further out.
    pub fn cut(self) -> EndCut {
        EndCut { miter: self.miter, bevel: self.bevel, second: None }
    }
    /// The end of its mirror image (edges A and B changed).
    pub fn mirrored(self) -> PartEnd {
        PartEnd { miter: -self.miter + 0.0, ..self }
    }
    /// Its angle in words: "square", "45° miter", "30° bevel", "point".
    pub fn words(&self) -> String {
        if self.is_square() {
            return "square".into();
        }
        let degrees = |a: f64| {
            offsquare_units::print_angle(
                offsquare_units::Angle(a.abs()),
                offsquare_units::AngleStep::Tenth,
            )
        };
        let mut out = Vec::new();
        if self.miter != 0.0 {
            out.push(format!("{} miter", degrees(self.miter)));
        }
        if self.bevel != 0.0 {
            out.push(format!("{} bevel", degrees(self.bevel)));
        }
        if self.pointed {
            out.push(if self.miter == 0.0 { "square, then a slope" } else { "point" }.into());
        }
        out.join(" + ")
    }
}

/// One end of a layout's part.
fn end_of(part: &Part, end: End) -> PartEnd {
    let (cut, pointed) = match part.blank_end(end) {
        BlankEnd::Cut(cut) => (Some(cut), false),
        BlankEnd::Square { after, .. } if after.is_empty() => (None, false),
        BlankEnd::Square { made: true, .. } => (None, true),
        // The steepest cut says what the end looks like.
        BlankEnd::Square { after, .. } => {
            let along = |c: &Cut| num::cos_deg(c.miter.0) * num::cos_deg(c.bevel.0);
            (after.into_iter().min_by(|a, b| along(a).total_cmp(&along(b))), true)
        }
    };
    let Some(cut) = cut else {
        return PartEnd { pointed, ..PartEnd::SQUARE };
    };
    let a_out = match end {
        End::Left => cut.swing == Side::Left,
        _ => cut.swing == Side::Right,
    };
    let miter = if a_out { cut.miter.0 } else { -cut.miter.0 };
    PartEnd { miter: miter + 0.0, bevel: cut.bevel.0, pointed }
}

impl std::convert::From<EndCut> for PartEnd {
    fn from(cut: EndCut) -> PartEnd {
        let pointed = cut.second.is_some();
        PartEnd { miter: cut.miter, bevel: cut.bevel.abs(), pointed }
    }
}

impl Entry {
    /// Takes a layout's part in: sizes and ends; name, stock and wishes of the maker stay.
    pub fn take(&mut self, part: &Part) {
        self.length = part.length;
        self.seen = Some(part.seen);
        self.away = part.away;
        self.left = end_of(part, End::Left);
        self.right = end_of(part, End::Right);
        self.on_blank = part.cuts_on_blank().into_iter().map(BlankCut::of).gather();
        self.stale = false;
    }
    /// Another finished length; cuts on its blank keep their place from the nearer end.
    pub(crate) fn lengthen(&mut self, length: Length) {
        for cut in self.on_blank.iter_mut().filter(|c| c.end == End::Right) {
            cut.from.x += (length - self.length).0;
            cut.to.x += (length - self.length).0;
        }
        self.length = length;
    }
    /// Another cut at an end; one that is no longer pointed stands in place of a layout's several.
    pub(crate) fn cut_end(&mut self, end: End, cut: PartEnd) {
        let place = if end == End::Left { &mut self.left } else { &mut self.right };
        *place = cut;
        self.on_blank.retain(|c| c.end != end || cut.pointed);
    }
    /// The length that is cut: finished, less what it was allowed to give.
    pub fn cut_length(&self) -> Length {
        self.length - self.shortened
    }
    /// How the entry is called where it has no name.
    pub fn called(&self) -> String {
        let name = self.name.trim();
        if name.is_empty() { format!("Part {}", self.id) } else { name.to_owned() }
    }
}
