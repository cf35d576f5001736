//! Reading a request for a piece: all that is wrong with it at once, each at its path.

use super::parts;
use super::price::{self, AskedPrice};
use crate::read::{pointer, strangers};
use crate::write::write_inputs;
use crate::{read_given, read_saw, read_unit};
use offsquare_cuts::facts::Species;
use offsquare_cuts::inputs::{Given, Inputs};
use offsquare_cuts::problem::Problem;
use offsquare_cuts::saw::SawProfile;
use offsquare_units::{DoorUnit, Length, say};
use offsquare_work::patterns::{self, Pattern};
use offsquare_work::solved::{Override, PiecePart};
use serde_json::{Map, Value};

pub const KEYS: [&str; 9] =
    ["unit", "pattern", "sizes", "stock", "overrides", "parts", "saw", "boards", "price"];

/// A request, read.
pub struct Asked<'v> {
    pub unit: DoorUnit,
    pub pattern: Option<AskedPattern<'v>>,
    pub stock: Vec<(String, Stock)>,
    pub overrides: Vec<Override<String>>,
    pub typed: Vec<PiecePart>,
    /// Boards by the name of their stick, as they were given.
    pub boards: Option<&'v Map<String, Value>>,
    pub price: Option<AskedPrice>,
    pub saw: SawProfile,
}

/// What is said of a stick's stock.
#[derive(Clone, Copy, Debug, Default)]
pub struct Stock {
    pub species: Option<Species>,
}

/// A pattern with its sizes.
pub struct AskedPattern<'v> {
    pub pattern: &'static Pattern,
    pub given: Given,
    /// Each size as it was given, by its key, and where.
    asked: Vec<(String, &'v Value, String)>,
}

impl AskedPattern<'_> {
    /// A problem of the pattern at the place in the request where its size was given.
    pub fn told(&self, problem: Problem) -> Problem {
        let path = match problem.path.strip_prefix("/inputs") {
            None => problem.path.to_string(),
            Some("") => "/sizes".to_owned(),
            Some(rest) => {
                let (key, inner) = rest[1..].split_once('/').unwrap_or((&rest[1..], ""));
                let own = self.asked.iter().find(|(k, _, _)| k == key);
                let at = own.map_or_else(|| format!("/sizes/{key}"), |(_, _, path)| path.clone());
                if inner.is_empty() { at } else { format!("{at}/{inner}") }
            }
        };
        Problem { path: path.into(), way: None, ..problem }
    }

    /// A size as it was given, to the last bit, where the solution kept it.
    pub fn as_given(&self, key: &str, found: &Inputs) -> Option<Value> {
        let (_, value, _) = self.asked.iter().find(|(k, _, _)| k == key)?;
        (found.get(key).is_some() && found.get(key) == self.given.inputs.get(key))
            .then(|| (*value).clone())
    }
}

impl<'v> Asked<'v> {
    /// None where it is no request at all.
    pub fn read(
        request: &'v Value,
        unit: &mut DoorUnit,
        problems: &mut Vec<Problem>,
    ) -> Option<Asked<'v>> {
        let Some(map) = request.as_object() else {
            problems
                .push(Problem::stop("/", say!("A request is an object with unit and pattern.")));
            return None;
        };
        problems.extend(strangers(map, &KEYS, "/"));
        *unit = read_unit(map, problems);
        let unit = *unit;
        let empty = ["pattern", "parts", "price"];
        if empty.iter().all(|k| map.get(*k).is_none_or(Value::is_null)) {
            let text = "A request asks for a pattern, for parts or for a price.";
            problems.push(Problem::stop("/", say!(text)));
        }
        let mut asked = Asked {
            unit,
            pattern: None,
            stock: Vec::new(),
            overrides: Vec::new(),
            typed: Vec::new(),
            boards: object(map, "boards", problems),
            price: map.get("price").filter(|v| !v.is_null()).and_then(|v| price::read(v, problems)),
            saw: read_own_saw(map.get("saw"), unit, problems),
        };
        let stock = object(map, "stock", problems);
        asked.pattern = read_pattern(map, stock, unit, problems);
        for (name, entry) in stock.into_iter().flatten() {
            asked.stock.push((name.clone(), read_stock(name, entry, problems)));
        }
        for (i, entry) in list(map, "parts", problems).iter().enumerate() {
            let path = format!("/parts/{i}");
            asked.typed.extend(parts::read(entry, &path, unit, problems));
        }
        for (i, entry) in list(map, "overrides", problems).iter().enumerate() {
            let path = format!("/overrides/{i}");
            asked.overrides.extend(parts::read_override(entry, &path, unit, problems));
        }
        Some(asked)
    }

    /// What is said of a stick's stock, if anything is.
    pub fn stock(&self, stick: &str) -> Option<Stock> {
        self.stock.iter().find(|(name, _)| name == stick).map(|(_, s)| *s)
    }
}

/// The saw of the request; the usual one where it was left out. Its hold length is 8 in or 200 mm unless given.
fn read_own_saw(value: Option<&Value>, unit: DoorUnit, problems: &mut Vec<Problem>) -> SawProfile {
    let given = value.filter(|v| !v.is_null());
    let read = given.and_then(|v| read_saw(v, unit, problems));
    let mut saw = read.unwrap_or_else(SawProfile::usual);
    if unit == DoorUnit::Mm && given.is_none_or(|v| v.get("hold_length").is_none()) {
        saw.hold_length = Length::mm(200.0);
    }
    saw
}

/// An object of the request; nothing where it was left out.
fn object<'v>(
    map: &'v Map<String, Value>,
    key: &str,
    problems: &mut Vec<Problem>,
) -> Option<&'v Map<String, Value>> {
    match map.get(key) {
        None | Some(Value::Null) => None,
        Some(Value::Object(object)) => Some(object),
        Some(_) => {
            let text = format!("\u{201c}{key}\u{201d} is an object.");
            problems.push(Problem::stop(&format!("/{key}"), say!(text)));
            None
        }
    }
}

/// A list of the request; empty where it was left out.
fn list<'v>(map: &'v Map<String, Value>, key: &str, problems: &mut Vec<Problem>) -> &'v [Value] {
    match map.get(key) {
        None | Some(Value::Null) => &[],
        Some(Value::Array(all)) => all,
        Some(_) => {
            let text = format!("\u{201c}{key}\u{201d} is a list.");
            problems.push(Problem::stop(&format!("/{key}"), say!(text)));
            &[]
        }
    }
}

fn read_pattern<'v>(
    map: &'v Map<String, Value>,
    stock: Option<&'v Map<String, Value>>,
    unit: DoorUnit,
    problems: &mut Vec<Problem>,
) -> Option<AskedPattern<'v>> {
    let name = map.get("pattern").filter(|v| !v.is_null())?;
    let Some(pattern) = name.as_str().and_then(patterns::find) else {
        let names: Vec<&str> = patterns::all().iter().map(|p| p.id).collect();
        let text = format!("The pattern is one of: {}.", names.join(", "));
        problems.push(Problem::stop("/pattern", say!(text)));
        return None;
    };
    let mut asked: Vec<(String, &Value, String)> = Vec::new();
    for (key, value) in object(map, "sizes", problems).into_iter().flatten() {
        asked.push((key.clone(), value, format!("/sizes/{}", pointer(key))));
    }
    for (name, entry) in stock.into_iter().flatten() {
        sections(pattern, name, entry, &mut asked, problems);
    }
    let mut inputs: Map<String, Value> =
        asked.iter().map(|(k, v, _)| (k.clone(), (*v).clone())).collect();
    start(pattern, unit, &mut inputs);
    let form = pattern.forms.first().map(|f| f.id);
    let mut asked = AskedPattern { pattern, given: Given::default(), asked };
    let mut found = Vec::new();
    let given = read_given(&pattern.layout, form, &inputs, unit, &mut found);
    problems.extend(found.into_iter().map(|p| asked.told(p)));
    asked.given = given?;
    Some(asked)
}

/// The sections of a stick's stock, as sizes of the pattern.
fn sections<'v>(
    pattern: &Pattern,
    name: &str,
    entry: &'v Value,
    asked: &mut Vec<(String, &'v Value, String)>,
    problems: &mut Vec<Problem>,
) {
    let at = format!("/stock/{}", pointer(name));
    let Some(stick) = pattern.sticks.iter().find(|s| s.name == name) else {
        let names: Vec<&str> = pattern.sticks.iter().map(|s| s.name).collect();
        let text = format!("This pattern's sticks are: {}.", names.join(", "));
        problems.push(Problem::warn(&at, say!(text)));
        return;
    };
    for (key, size) in [("seen", stick.seen), ("away", stick.away)] {
        let Some(value) = entry.get(key).filter(|v| !v.is_null()) else { continue };
        let path = format!("{at}/{key}");
        let Some(size) = size else {
            let text = "This size follows from the pattern's others; it was left aside.";
            problems.push(Problem::warn(&path, say!(text)));
            continue;
        };
        match asked.iter().find(|(k, _, _)| k == size) {
            Some((_, before, _)) if *before != value => {
                let text = format!("{size} is given twice, with different values.");
                problems.push(Problem::stop(&path, say!(text)));
            }
            Some(_) => {}
            None => asked.push((size.to_owned(), value, path)),
        }
    }
}

/// Sizes that were left out take the pattern's start value, but for those in whose place another was given.
fn start(pattern: &'static Pattern, unit: DoorUnit, inputs: &mut Map<String, Value>) {
    let Some(form) = pattern.forms.first() else { return };
    let left_out = |key: &str| inputs.get(key).is_none_or(Value::is_null);
    let mut open: Vec<&str> = Vec::new();
    for also in form.also.iter().filter(|f| !left_out(f.key)) {
        let own = pattern.instead.iter().find(|(size, _)| *size == also.key);
        let place = match own {
            Some((_, place)) => Some(*place).filter(|key| left_out(key)),
            None => form.gives.iter().copied().find(|key| left_out(key) && !open.contains(key)),
        };
        open.extend(place);
    }
    let Value::Object(starts) = write_inputs(&form.start_inputs(unit == DoorUnit::Mm), unit) else {
        return;
    };
    let filled =
        starts.into_iter().filter(|(key, _)| left_out(key) && !open.contains(&key.as_str()));
    let filled: Vec<(String, Value)> = filled.collect();
    inputs.extend(filled);
}

fn read_stock(name: &str, entry: &Value, problems: &mut Vec<Problem>) -> Stock {
    let at = format!("/stock/{}", pointer(name));
    let Some(map) = entry.as_object() else {
        let text = "A stock is an object with seen, away and species.";
        problems.push(Problem::stop(&at, say!(text)));
        return Stock::default();
    };
    problems.extend(strangers(map, &["seen", "away", "species"], &format!("{at}/")));
    let species = map.get("species").filter(|v| !v.is_null());
    let found = species.and_then(Value::as_str).and_then(Species::find);
    if species.is_some() && found.is_none() {
        let text = "This species is not in the table: its weight is not known.";
        problems.push(Problem::warn(&format!("{at}/species"), say!(text)));
    }
    Stock { species: found }
}
