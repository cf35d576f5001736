//! A piece: what a maker thinks of as one thing, a gate, a stool, a stand.
//!
//! Parts and layouts say which piece they belong to; what belongs to none is *Loose parts*, a piece like any other.

use crate::cutlist::{Entry, From, PartEnd};
use crate::price::Priced;
use crate::rack::{Blank, Ids, Written};
use crate::solved::{self, Changed, EndCut, Misfit, PiecePart, Which, overridden};
use offsquare_cuts::layouts::Solution;
use offsquare_cuts::parts::End;
use offsquare_units::num::Gather;
use offsquare_units::{Length, Unit, parse_count};

/// The id of *Loose parts*.
pub const LOOSE: u32 = 0;
/// Most pieces.
pub const MOST_PIECES: usize = 1_000;
/// Largest batch.
pub const MOST_BATCH: u32 = 500;
/// Most pictures of one piece.
pub const MOST_PICTURES: usize = 6;

/// One piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    pub id: u32,
    pub name: String,
    pub note: String,
    /// Id of the source that is its pattern.
    pub pattern: Option<u32>,
    /// How many are made.
    pub batch: u32,
    /// It takes part in the buy.
    pub planned: bool,
    /// What the maker changed of the pattern's parts.
    pub overrides: Vec<Override>,
    /// When the clock at the saw was started, in milliseconds since 1970; 0: it does not run.
    pub clock: i64,
    /// Its pictures by the ids under which the device keeps them; the first stands on its card.
    pub pictures: Vec<String>,
    /// What its price is made of.
    pub priced: Priced,
}

impl Default for Piece {
    /// *Loose parts*.
    fn default() -> Piece {
        Piece {
            id: LOOSE,
            name: String::new(),
            note: String::new(),
            pattern: None,
            batch: 1,
            planned: true,
            overrides: Vec::new(),
            clock: 0,
            pictures: Vec::new(),
            priced: Priced::default(),
        }
    }
}

impl Piece {
    /// The form's fields.
    pub const FIELDS: &[Blank] = &[
        Blank::typed("name", "Name", ""),
        Blank::count("batch", "How many are made", ""),
        Blank::typed("note", "Note", ""),
    ];

    /// How it is called where it has no name.
    pub fn called(&self) -> String {
        match (self.name.trim(), self.id) {
            ("", LOOSE) => "Loose parts".to_owned(),
            ("", id) => format!("Piece {}", id % Ids::EACH),
            (name, _) => name.to_owned(),
        }
    }

    /// How often its parts are planned.
    pub fn times(&self) -> u32 {
        if self.planned { self.batch } else { 0 }
    }
}

impl Written for Piece {
    fn text(&self, key: &str, _: Unit) -> String {
        match key {
            "name" => self.name.clone(),
            "batch" => self.batch.to_string(),
            "note" => self.note.clone(),
            _ => String::new(),
        }
    }

    fn write(&mut self, key: &str, text: &str, _: Unit) -> Result<(), String> {
        let words = |most: usize| match text.chars().count() > most {
            true => Err(format!("At most {most} letters.")),
            false => Ok(text.to_owned()),
        };
        match key {
            "name" => self.name = words(60)?,
            "note" => self.note = words(300)?,
            "batch" => {
                let n = parse_count(text).map_err(|e| e.to_string())?;
                if !(1..=MOST_BATCH).contains(&n) {
                    return Err(format!("From 1 to {MOST_BATCH}."));
                }
                self.batch = n;
            }
            _ => {}
        }
        Ok(())
    }
}

/// What the maker changed of one line of the pattern's parts; its stock by its id in the rack.
pub type Override = solved::Override<u32>;

/// What can be overridden.
const OVERRIDES: [&str; 5] = ["stock", "length", "left", "right", "count"];

impl Override {
    /// One of a layout's part, which changes nothing yet.
    pub(super) fn of(from: &From) -> Override {
        Override {
            part: from.part.clone(),
            which: Which::Line(from.nth as u32),
            ..Override::default()
        }
    }

    /// Whether it is about that part of its pattern.
    pub fn is_of(&self, from: &From) -> bool {
        (self.part.as_str(), self.which) == (&from.part, Which::Line(from.nth as u32))
    }

    /// Which of the pattern's lines of that name, from 0.
    pub fn line(&self) -> u32 {
        if let Which::Line(n) = self.which { n } else { 0 }
    }

    /// Which of them a field of a part's form is about.
    pub fn key_of(field: &str) -> Option<&'static str> {
        let name = field.split('_').next().unwrap_or_default();
        OVERRIDES.into_iter().find(|key| *key == name)
    }

    /// What it changes.
    pub fn keys(&self) -> Vec<&'static str> {
        let set = [
            self.stock.is_some(),
            self.length.is_some(),
            self.left.is_some(),
            self.right.is_some(),
            self.count.is_some(),
        ];
        OVERRIDES.into_iter().zip(set).filter(|(_, is)| *is).map(|(key, _)| key).collect()
    }

    /// Takes one of them from a part as it stands now, or (none) lets go of it.
    pub(super) fn set(&mut self, key: &str, from: Option<&Entry>) {
        match key {
            "stock" => self.stock = from.and_then(|e| e.stock),
            "length" => self.length = from.map(|e| e.length),
            "left" => self.left = from.map(|e| e.left.cut()),
            "right" => self.right = from.map(|e| e.right.cut()),
            "count" => self.count = from.map(|e| e.count),
            _ => {}
        }
    }
}

/// A pattern's parts as the maker changed them, each at its place among the answer's, and what no longer fits.
pub fn with_changes(solution: &Solution, changes: &[Override]) -> (Vec<PiecePart>, Vec<Misfit>) {
    let made = solution.parts.iter().zip(&solution.members);
    let parts: Vec<PiecePart> = made.map(|(part, member)| PiecePart::of(part, member)).gather();
    let change = |own: &Override| {
        let name = PiecePart::key(&own.part);
        let part = parts.iter().filter(|p| p.name == name).nth(own.line() as usize);
        // A tilt is typed without a side: it leans as the pattern's does.
        let leans = |cut: Option<EndCut>, was: Option<EndCut>| {
            let back = was.is_some_and(|was| was.bevel < 0.0);
            cut.map(|cut| EndCut { bevel: if back { -cut.bevel } else { cut.bevel }, ..cut })
        };
        solved::Override {
            part: name,
            which: own.which,
            // Which stock of the rack it is changes no place.
            stock: None,
            length: own.length,
            left: leans(own.left, part.map(|p| p.left)),
            right: leans(own.right, part.map(|p| p.right)),
            count: own.count,
        }
    };
    let changes: Vec<_> = changes.iter().map(change).gather();
    overridden(parts, &changes)
}

impl Changed for Entry {
    type Stock = u32;
    fn set_stock(&mut self, stock: u32) {
        self.stock = Some(stock);
    }
    fn set_length(&mut self, length: Length) {
        self.lengthen(length);
    }
    fn set_end(&mut self, end: End, cut: EndCut) {
        self.cut_end(end, PartEnd::from(cut));
    }
    fn set_count(&mut self, count: u32) {
        self.count = count;
    }
}
