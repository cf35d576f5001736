//! The layouts: one geometric question each, all with the same contract.
//!
//! A layout is given checked [`Inputs`] of one of its [`Form`]s and returns every solution there is,
//! each with its answers, parts, drawing and how it was derived. Screens, the JSON door, working
//! backwards, contradictions and *if it's off* know only this contract.

mod all;
mod answers;
mod brace;
mod bracket;
mod compound;
mod elevation;
mod end_board;
pub mod field;
mod fold_down;
mod glued_panel;
mod half_lap;
mod last_that;
mod leg_shim;
mod marks;
mod mitred_frame;
mod molding;
mod post_legs;
mod sloped_box;
mod spacing;
mod spelling;
mod three_measures;
mod two_way_splay;
mod words;

pub use crate::facts::Caution;
pub use all::{Name, all, find, first, named, names};
pub use answers::{Answer, Answers};
pub use spelling::{Raw, Spelling};
pub use words::answer_words;

use crate::assembly::{Member, Span};
use crate::inputs::{Field, Inputs, Missing, Need};
use crate::parts::Part;
use crate::problem::Problem;
use crate::saw::Standing;
use offsquare_geometry::scene::Scene;
use offsquare_geometry::{Polygon, Solid};
use offsquare_units::num::Gather;
use offsquare_units::{Text, say};

/// One form of a layout: the same question asked of other sizes (a single brace, a crossed pair).
#[derive(Clone, Copy, Debug)]
pub struct Form {
    pub id: &'static str,
    /// One or two words on the form's button: "Crossed pair".
    pub label: &'static str,
    pub fields: &'static [Field],
    /// Answers that the maker may type as well: they stand in for a missing field, or are checked
    /// against the rest.
    pub also: &'static [Field],
    /// Which fields can give when a reading is made to land on a mark, likeliest first.
    pub gives: &'static [&'static str],
    /// What *if it's off* tries.
    pub off: &'static [Off],
}

impl Form {
    /// What the first visit shows: every field's start, in round inches or round millimeters; fields
    /// that stand unless changed are filled with what stands.
    pub fn start_inputs(&self, metric: bool) -> Inputs {
        let mut inputs = Inputs::of_form(self.id);
        for field in self.fields {
            if let Some(v) =
                field.start_value(metric).or_else(|| crate::inputs::standing_value(field))
            {
                inputs.set(field.key, v);
            }
        }
        inputs
    }
}

/// One thing that may be off at the saw, and what is told of it.
#[derive(Clone, Copy, Debug)]
pub struct Off {
    /// Dotted path of the answer that comes out wrong: a reading (tried ±0.5°) or a length (±1/32 in or 1 mm).
    pub answer: &'static str,
    /// Answers kept at what they were (they become inputs while it is solved again); the first length of a part
    /// among them is the one that may be cut again.
    pub keep: &'static [&'static str],
    /// The input whose new value is told: one that is free to give. None where all sizes stand there already.
    pub give: Option<&'static str>,
}

/// How much of a solution is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// Answers and problems only: what the root finder needs, many times over.
    Answers,
    /// Parts, drawings, derivation, notes and cautions too.
    Full,
}

/// One way to make it that works.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Solution {
    /// Which landing, roll or root: a key of GEOMETRY's (`rails`); the same key again for a second root.
    pub way: &'static str,
    /// In a maker's words: "Flat on the rails".
    pub title: &'static str,
    pub answers: Answers,
    /// Dotted paths of the answers to lead with: first the saw reading, then lengths.
    pub headline: Vec<&'static str>,
    pub parts: Vec<Part>,
    /// The piece as a whole, with its sizes on it.
    pub figure: Scene,
    /// The opening that the first part drops into, corners counter-clockwise in the part's frame; none where
    /// nothing stands around it.
    pub opening: Option<Polygon>,
    /// The real solid of a part with compound cuts, in the part's or the piece's frame.
    pub solids: Vec<Solid>,
    /// A short chain of numbers that a person can follow by hand.
    pub derivation: Vec<Text>,
    pub notes: Vec<Text>,
    /// Boards that may also be cut at the slope that they have in the piece; the saw says whether.
    pub standing: Vec<Standing>,
    pub cautions: Vec<Caution>,
    /// Where its parts stand in a whole piece, one for each of `parts`; none where a layout answers a cut alone.
    pub members: Vec<Member>,
    /// Sizes of the whole piece, shown where they stand in space.
    pub spans: Vec<Span>,
}

/// All that a layout answers.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Outcome {
    pub solutions: Vec<Solution>,
    pub problems: Vec<Problem>,
}

impl From<Solution> for Outcome {
    fn from(solution: Solution) -> Outcome {
        Outcome { solutions: vec![solution], problems: Vec::new() }
    }
}

/// Why a layout answers nothing.
#[derive(Debug)]
pub enum Refused {
    /// A required size is not there; which ones, the form tells.
    Missing,
    For(Vec<Problem>),
}

impl Refused {
    /// Refused where there is any problem.
    pub fn if_any(problems: Vec<Problem>) -> Result<(), Refused> {
        if problems.is_empty() { Ok(()) } else { Err(Refused::For(problems)) }
    }
}

impl From<Missing> for Refused {
    fn from(_: Missing) -> Refused {
        Refused::Missing
    }
}
impl From<Problem> for Refused {
    fn from(problem: Problem) -> Refused {
        Refused::For(vec![problem])
    }
}

/// The contract.
pub trait Layout: Sync {
    /// The JSON door's name: "brace".
    fn id(&self) -> &'static str;
    /// As the bench asks it: "Brace across a frame".
    fn question(&self) -> &'static str;
    /// Words by which a search finds it.
    fn search_words(&self) -> &'static str;
    fn forms(&self) -> &'static [Form];
    /// Whether the bench asks it; a layout without a screen is for the JSON door only.
    fn has_screen(&self) -> bool {
        true
    }
    /// Rewrites other spellings of the same inputs into the form's own keys before they are read:
    /// (key as given, key to use). Example: `given` "splay" with `value` 20 is `splay_deg` 20.
    fn spelled(&self, _request: &mut Spelling) {}
    /// Every solution for checked inputs. Never panics; never returns a number that is not finite.
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome;
}

/// A layout as its folder declares it: a table, and the function that answers.
pub struct Declared {
    pub id: &'static str,
    pub question: &'static str,
    pub search_words: &'static str,
    pub forms: &'static [Form],
    /// Its answers' keys whose plain words say too little, or say it as a program does, with better ones. A key
    /// means the same in every layout.
    pub words: &'static [(&'static str, &'static str)],
    pub has_screen: bool,
    pub spelled: fn(&mut Spelling),
    /// `?` on [`Inputs::need`] is enough where a size is missing.
    pub solve: fn(&Inputs, Detail) -> Result<Outcome, Refused>,
}

impl Declared {
    /// What a layout is unless it says otherwise.
    pub const PLAIN: Declared = Declared {
        id: "",
        question: "",
        search_words: "",
        forms: &[],
        words: &[],
        has_screen: true,
        spelled: |_| {},
        solve: |_, _| Err(Refused::Missing),
    };

    /// What is said where nothing is answered.
    fn problems(&self, why: Refused, inputs: &Inputs) -> Vec<Problem> {
        match why {
            Refused::For(problems) => problems,
            Refused::Missing => {
                let asked = self.forms.iter().find(|f| f.id == inputs.form);
                missing(asked.unwrap_or(&self.forms[0]), inputs).problems
            }
        }
    }
}

impl Layout for Declared {
    fn id(&self) -> &'static str {
        self.id
    }
    fn question(&self) -> &'static str {
        self.question
    }
    fn search_words(&self) -> &'static str {
        self.search_words
    }
    fn forms(&self) -> &'static [Form] {
        self.forms
    }
    fn has_screen(&self) -> bool {
        self.has_screen
    }
    fn spelled(&self, request: &mut Spelling) {
        (self.spelled)(request);
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        (self.solve)(inputs, detail).unwrap_or_else(|why| Outcome {
            solutions: Vec::new(),
            problems: self.problems(why, inputs),
        })
    }
}

/// What to say where a required field of a form is empty: one problem a field.
pub fn missing(form: &Form, inputs: &Inputs) -> Outcome {
    let problems = form
        .fields
        .iter()
        .filter(|f| f.need == Need::Required && inputs.get(f.key).is_none())
        .map(|f| Problem::stop(f.key, say!(format!("{}: missing, type it in.", f.label))))
        .gather();
    Outcome { solutions: Vec::new(), problems }
}
