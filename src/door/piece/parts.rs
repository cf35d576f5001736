//! Parts and overrides, read and written; lengths in the request's unit.

use crate::read::strangers;
use crate::write::number;
use offsquare_cuts::problem::Problem;
use offsquare_geometry::Point;
use offsquare_units::{DoorUnit, Length, say};
use offsquare_work::solved::{EndCut, Override, PiecePart, Which};
use serde_json::{Map, Value, json};

/// Keys of a typed part.
pub const KEYS: [&str; 14] = [
    "name", "qty", "stock", "seen", "away", "length", "left", "right", "pointed", "rips",
    "outline", "laps", "holes", "joined",
];
pub const OVERRIDE_KEYS: [&str; 7] = ["part", "nth", "stock", "length", "left", "right", "qty"];

/// A part with what is cut on it.
pub fn write(part: &PiecePart, unit: DoorUnit) -> Value {
    let length = |l: Length| number(unit.value(l));
    let point = |p: &Point| json!([length(Length(p.x)), length(Length(p.y))]);
    let end = |e: &EndCut| json!({"mitre_deg": number(e.miter), "bevel_deg": number(e.bevel)});
    let mut out = Map::new();
    let mut put = |key: &str, value: Value| out.insert(key.to_owned(), value);
    put("name", part.name.as_str().into());
    put("qty", part.qty.into());
    put("stock", part.stick.as_str().into());
    put("seen", length(part.seen));
    put("away", length(part.away));
    put("length", length(part.length));
    put("left", end(&part.left));
    put("right", end(&part.right));
    let second = [("left", part.left.second), ("right", part.right.second)];
    if second.iter().any(|(_, s)| s.is_some()) {
        let told = second.iter().filter_map(|(k, s)| Some(((*k).to_owned(), number((*s)?))));
        put("pointed", Value::Object(told.collect()));
    }
    if let Some(rips) = part.rips {
        put("rips", json!({"near_deg": number(rips.near.0), "far_deg": number(rips.far.0)}));
    }
    if let Some(outline) = &part.outline {
        put("outline", outline.0.iter().map(point).collect());
    }
    if !part.laps.is_empty() {
        let lap = |l: &offsquare_cuts::parts::Lap| {
            let shoulders: Vec<Value> =
                l.shoulders.iter().map(|(a, b)| json!([point(a), point(b)])).collect();
            let depth = l.depth.unwrap_or(part.away / 2.0);
            json!({"shoulders": shoulders, "depth": length(depth), "in_back": l.in_back})
        };
        put("laps", part.laps.iter().map(lap).collect());
    }
    if !part.holes.is_empty() {
        let hole = |h: &offsquare_cuts::assembly::Hole| {
            json!({
                "x": length(Length(h.at.x)),
                "y": length(Length(h.at.y)),
                "diameter": length(h.diameter),
                "depth": h.depth.map_or(Value::Null, length),
            })
        };
        put("holes", part.holes.iter().map(hole).collect());
    }
    if !part.section.is_empty() {
        put("section", part.section.iter().map(point).collect());
    }
    if !part.joined.is_empty() {
        put("joined", part.joined.as_str().into());
    }
    Value::Object(out)
}

/// Reads members of one object; each that is wrong is told at its path.
struct Reader<'r, 'v> {
    map: &'v Map<String, Value>,
    path: &'r str,
    unit: DoorUnit,
    problems: &'r mut Vec<Problem>,
}

impl<'v> Reader<'_, 'v> {
    fn get(&self, key: &str) -> Option<&'v Value> {
        self.map.get(key).filter(|v| !v.is_null())
    }
    fn wrong(&mut self, key: &str, text: &str) {
        self.problems.push(Problem::stop(&format!("{}/{key}", self.path), say!(text.to_owned())));
    }
    fn length(&mut self, key: &str) -> Option<Length> {
        let value = self.get(key)?;
        let length = value.as_f64().filter(|n| *n > 0.0 && *n <= 1e9);
        if length.is_none() {
            self.wrong(key, "A length is a plain number, more than 0.");
        }
        length.map(|n| self.unit.length(n))
    }
    fn whole(&mut self, key: &str, least: u64) -> Option<u32> {
        let value = self.get(key)?;
        let n =
            value.as_u64().or_else(|| value.as_f64().filter(|n| *n % 1.0 == 0.0).map(|n| n as u64));
        let n = n.filter(|n| (least..=100_000).contains(n));
        if n.is_none() {
            self.wrong(key, &format!("A whole number, {least} or more."));
        }
        n.map(|n| n as u32)
    }
    fn word(&mut self, key: &str) -> Option<String> {
        let value = self.get(key)?;
        let word = value.as_str().map(str::to_owned);
        if word.is_none() {
            self.wrong(key, "A name is text.");
        }
        word
    }
    fn end(&mut self, key: &str) -> Option<EndCut> {
        let value = self.get(key)?;
        let angle = |name: &str| match value.get(name) {
            None | Some(Value::Null) => Some(0.0),
            Some(v) => v.as_f64().filter(|n| n.abs() < 90.0),
        };
        match (value.is_object(), angle("mitre_deg"), angle("bevel_deg")) {
            (true, Some(miter), Some(bevel)) => Some(EndCut { miter, bevel, second: None }),
            _ => {
                self.wrong(
                    key,
                    "An end has mitre_deg and bevel_deg, each less than 90 either way.",
                );
                None
            }
        }
    }
}

fn reader<'r, 'v>(
    entry: &'v Value,
    path: &'r str,
    unit: DoorUnit,
    known: &[&str],
    problems: &'r mut Vec<Problem>,
) -> Option<Reader<'r, 'v>> {
    let Some(map) = entry.as_object() else {
        problems.push(Problem::stop(path, say!("This is an object.")));
        return None;
    };
    problems.extend(strangers(map, known, &format!("{path}/")));
    Some(Reader { map, path, unit, problems })
}

/// A typed part, as [`write`] gives one.
pub fn read(
    entry: &Value,
    path: &str,
    unit: DoorUnit,
    problems: &mut Vec<Problem>,
) -> Option<PiecePart> {
    let mut r = reader(entry, path, unit, &KEYS, problems)?;
    let length = r.length("length");
    if r.get("length").is_none() {
        r.wrong("length", "Length: missing, type it in.");
    }
    let mut part = PiecePart {
        name: r.word("name").unwrap_or_default(),
        qty: r.whole("qty", 0).unwrap_or(1),
        stick: r.word("stock").unwrap_or_default(),
        seen: r.length("seen").unwrap_or_default(),
        away: r.length("away").unwrap_or_default(),
        length: length?,
        left: r.end("left").unwrap_or_default(),
        right: r.end("right").unwrap_or_default(),
        ..PiecePart::default()
    };
    let second = |side: &str| r.get("pointed")?.get(side)?.as_f64();
    part.left.second = second("left");
    part.right.second = second("right");
    Some(part)
}

/// An override.
pub fn read_override(
    entry: &Value,
    path: &str,
    unit: DoorUnit,
    problems: &mut Vec<Problem>,
) -> Option<Override<String>> {
    let mut r = reader(entry, path, unit, &OVERRIDE_KEYS, problems)?;
    if r.get("part").is_none() {
        r.wrong("part", "The name of a part, as the answer gives it.");
    }
    Some(Override {
        part: r.word("part")?,
        which: r.whole("nth", 0).map_or(Which::All, Which::One),
        stock: r.word("stock"),
        length: r.length("length"),
        left: r.end("left"),
        right: r.end("right"),
        count: r.whole("qty", 0),
    })
}
