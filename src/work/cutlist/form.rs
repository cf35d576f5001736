//! The form of one part: every field as text, read and written in one place.

use super::{Entry, Grain, Hand, PartEnd};
use crate::rack::{Blank, Written, read_length};
use offsquare_cuts::parts::End;
use offsquare_units::num::Gather;
use offsquare_units::{Length, Unit, length_text, parse_angle, parse_count};

const LONG: &[(&str, &str)] = &[("near", "Near edge"), ("far", "At the fence")];

pub const FIELDS: &[Blank] = &[
    Blank::typed("name", "Name", ""),
    Blank::count("count", "How many", ""),
    Blank::length("length", "Finished length", "long point to long point"),
    Blank::length("seen", "Size seen", "empty: the stock\u{2019}s width"),
    Blank::length("away", "Size going away", "empty: the stock\u{2019}s thickness"),
    Blank::typed("left", "Left end", "degrees off square"),
    Blank::one_of("left_long", "Left end is longer on", LONG),
    Blank::typed("left_bevel", "Left bevel", "blade tilt in degrees"),
    Blank::typed("right", "Right end", "degrees off square"),
    Blank::one_of("right_long", "Right end is longer on", LONG),
    Blank::typed("right_bevel", "Right bevel", "blade tilt in degrees"),
    Blank::length("give", "May come out shorter by", "ripped: narrower too; 0: not at all"),
    Blank::one_of(
        "hand",
        "Hands",
        &[("alike", "All alike"), ("left", "Left"), ("right", "Right"), ("pairs", "Pairs")],
    ),
    Blank::one_of("good", "Good faces", &[("no", "Both"), ("yes", "One")]),
    Blank::one_of(
        "grain",
        "Grain",
        &[("along", "Along"), ("across", "Across"), ("either", "Either")],
    ),
    Blank::typed("note", "Note", ""),
];

fn angle(text: &str, least: f64, most: f64) -> Result<f64, String> {
    let text = text.trim();
    if text.is_empty() || text.eq_ignore_ascii_case("square") {
        return Ok(0.0);
    }
    let a = parse_angle(text).map_err(|e| e.to_string())?.angle.0;
    if !(a >= least && a <= most) {
        return Err(format!("An angle from {least} to {most} degrees; 0 is square."));
    }
    Ok(a)
}

/// Reads an end's miter: `45`, `-45`, `45 far`, `square`. A sign or a word moves the long edge.
fn miter(text: &str, now: f64) -> Result<f64, String> {
    let lower = text.trim().to_ascii_lowercase();
    let (rest, side) = if let Some(rest) = lower.strip_suffix("far") {
        (rest, Some(-1.0))
    } else if let Some(rest) = lower.strip_suffix("near") {
        (rest, Some(1.0))
    } else {
        (lower.as_str(), None)
    };
    let a = angle(rest, -85.0, 85.0)?;
    let side = side.unwrap_or(if a < 0.0 || now >= 0.0 { 1.0 } else { -1.0 });
    Ok(a * side + 0.0)
}

/// What one of its fields makes of an end: one cut.
fn end_written(key: &str, end: PartEnd, text: &str) -> Result<PartEnd, String> {
    let cut = PartEnd { pointed: false, ..end };
    Ok(match key {
        "left_bevel" | "right_bevel" => PartEnd { bevel: angle(text, 0.0, 75.0)?, ..cut },
        "left_long" | "right_long" => {
            let far = choice(text, &[("near", false), ("far", true)])?;
            PartEnd { miter: if far { -end.miter.abs() } else { end.miter.abs() }, ..cut }
        }
        _ => PartEnd { miter: miter(text, end.miter)?, ..cut },
    })
}

fn end_text(end: &PartEnd) -> String {
    end.miter.abs().to_string()
}

fn long_text(end: &PartEnd) -> String {
    if end.miter < 0.0 { "far" } else { "near" }.to_owned()
}

fn optional(text: &str, unit: Unit) -> Result<Option<Length>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    read_length(text, unit, false).map(Some)
}

fn words(text: &str, most: usize) -> Result<String, String> {
    if text.chars().count() > most {
        return Err(format!("At most {most} letters."));
    }
    Ok(text.to_owned())
}

fn choice<T>(text: &str, all: &[(&str, T)]) -> Result<T, String>
where
    T: Copy,
{
    let wanted = text.trim().to_ascii_lowercase();
    let names: Vec<&str> = all.iter().map(|c| c.0).gather();
    all.iter()
        .find(|c| c.0 == wanted)
        .map(|c| c.1)
        .ok_or_else(|| format!("One of: {}.", names.join(", ")))
}

impl Entry {
    /// The length is enough for its ends: sound as far as the entry alone can tell.
    pub fn wrong(&self) -> Option<String> {
        if self.cut_length().0 <= 0.0 {
            return Some("It is shortened to nothing.".into());
        }
        None
    }
}

impl Written for Entry {
    fn text(&self, key: &str, unit: Unit) -> String {
        let size = |l: Option<Length>| l.map(|l| length_text(l, unit)).unwrap_or_default();
        match key {
            "name" => self.name.clone(),
            "count" => self.count.to_string(),
            "length" => length_text(self.length, unit),
            "seen" => size(self.seen),
            "away" => size(self.away),
            "left" => end_text(&self.left),
            "left_long" => long_text(&self.left),
            "left_bevel" => self.left.bevel.to_string(),
            "right" => end_text(&self.right),
            "right_long" => long_text(&self.right),
            "right_bevel" => self.right.bevel.to_string(),
            "give" => length_text(self.give, unit),
            "hand" => match self.hand {
                Hand::Alike => "alike",
                Hand::Left => "left",
                Hand::Right => "right",
                Hand::Pairs => "pairs",
            }
            .to_owned(),
            "good" => if self.one_good_face { "yes" } else { "no" }.to_owned(),
            "grain" => match self.grain {
                Grain::Along => "along",
                Grain::Across => "across",
                Grain::Either => "either",
            }
            .to_owned(),
            "note" => self.note.clone(),
            _ => String::new(),
        }
    }

    fn write(&mut self, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        match key {
            "name" => self.name = words(text, 60)?,
            "count" => {
                let n = parse_count(text).map_err(|e| e.to_string())?;
                if n > 10_000 {
                    return Err("At most 10,000.".into());
                }
                self.count = n;
            }
            "length" => {
                let length = read_length(text, unit, false)?;
                self.lengthen(length);
                self.shortened = Length::ZERO;
            }
            "seen" => {
                self.seen = optional(text, unit)?;
                self.narrowed = Length::ZERO;
            }
            "away" => {
                self.away = optional(text, unit)?;
                self.narrowed = Length::ZERO;
            }
            "left" | "left_long" | "left_bevel" => {
                let cut = end_written(key, self.left, text)?;
                self.cut_end(End::Left, cut);
            }
            "right" | "right_long" | "right_bevel" => {
                let cut = end_written(key, self.right, text)?;
                self.cut_end(End::Right, cut);
            }
            "give" if text.trim().is_empty() => self.give = Length::ZERO,
            "give" => self.give = read_length(text, unit, true)?,
            "hand" => {
                self.hand = choice(
                    text,
                    &[
                        ("alike", Hand::Alike),
                        ("left", Hand::Left),
                        ("right", Hand::Right),
                        ("pairs", Hand::Pairs),
                    ],
                )?;
            }
            "good" => {
                self.one_good_face = choice(
                    text,
                    &[
                        ("no", false),
                        ("yes", true),
                        ("both", false),
                        ("one", true),
                        ("1", true),
                        ("2", false),
                        ("", false),
                    ],
                )?;
            }
            "grain" => {
                self.grain = choice(
                    text,
                    &[
                        ("along", Grain::Along),
                        ("across", Grain::Across),
                        ("either", Grain::Either),
                    ],
                )?;
            }
            "note" => self.note = words(text, 300)?,
            _ => {}
        }
        Ok(())
    }
}
