//! A piece: what a maker thinks of as one thing, a gate, a stool, a stand.
//!
//! Parts and layouts say which piece they belong to; what belongs to none is *Loose parts*, a piece like any other.

use super::work::Ids;
use crate::cutlist::{Entry, PartEnd};
use crate::rack::{Blank, Written};
use offsquare_cuts::parts::End;
use offsquare_units::{Length, Unit, parse_count};

/// The id of *Loose parts*.
pub const LOOSE: u32 = 0;
/// Most pieces.
pub const MOST_PIECES: usize = 1_000;
/// Largest batch.
pub const MOST_BATCH: u32 = 500;

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
        }
    }
}

impl Piece {
    /// The form's fields.
    pub const FIELDS: &[Blank] = &[
        Blank::typed("name", "Name", ""),
        Blank::typed("batch", "How many are made", ""),
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

/// What the maker changed of one kind of part of the pattern. It holds while the pattern makes that part; what is
/// none stays as the pattern has it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Override {
    pub part: String,
    /// Which of the pattern's kinds of parts of that name, from 0.
    pub nth: usize,
    /// Id of the stock in the rack.
    pub stock: Option<u32>,
    pub length: Option<Length>,
    pub left: Option<PartEnd>,
    pub right: Option<PartEnd>,
    /// 0: left out.
    pub count: Option<u32>,
}

/// What can be overridden.
pub const OVERRIDES: [&str; 5] = ["stock", "length", "left", "right", "count"];

impl Override {
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
            "left" => self.left = from.map(|e| e.left),
            "right" => self.right = from.map(|e| e.right),
            "count" => self.count = from.map(|e| e.count),
            _ => {}
        }
    }

    /// Changes the pattern's part.
    pub(super) fn apply(&self, entry: &mut Entry) {
        entry.stock = self.stock.or(entry.stock);
        entry.count = self.count.unwrap_or(entry.count);
        if let Some(length) = self.length {
            entry.set_length(length);
        }
        for (end, cut) in [(End::Left, self.left), (End::Right, self.right)] {
            if let Some(cut) = cut {
                entry.set_end(end, cut);
            }
        }
    }
}
