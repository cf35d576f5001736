//! Parts pasted from a spreadsheet: tabs, semicolons or commas between cells, a header row or none.
//! A line that is not understood whole is handed back with the reason; nothing is dropped.

use super::{Entry, no_room};
use crate::rack::{Rack, Written};
use offsquare_units::num::Gather;
use offsquare_units::{Unit, parse_count, parse_length, upper_first};

/// A line that made no part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Skipped {
    /// Counted from 1.
    pub line: usize,
    /// The line as it was pasted.
    pub text: String,
    pub why: String,
}

/// What a pasted text came to.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Pasted {
    pub entries: Vec<Entry>,
    pub skipped: Vec<Skipped>,
    /// What was made of the columns, in words: "name, quantity, length".
    pub columns: String,
    /// What the maker should know about columns that are not used.
    pub said: Vec<String>,
    /// The header row, if there is one.
    pub header: Option<String>,
}

impl Pasted {
    /// The lines that made no part, under their header, to be put right and read again.
    pub fn left_over(&self) -> String {
        if self.skipped.is_empty() {
            return String::new();
        }
        let header = self.header.as_deref();
        let lines = self.skipped.iter().map(|s| s.text.as_str());
        let all: Vec<&str> = header.into_iter().chain(lines).gather();
        all.join("\n")
    }
}

/// Header words of each column; the first is its name in reports.
const COLUMNS: &[(&str, &[&str])] = &[
    ("name", &["name", "part", "description", "part name", "item", "label"]),
    (
        "count",
        &["quantity", "qty", "count", "how many", "number", "no", "no.", "pcs", "pieces", "#"],
    ),
    ("stock", &["stock", "material", "lumber", "board", "wood", "stock type"]),
    ("length", &["length", "finished length", "long", "len", "l"]),
    ("seen", &["width", "size seen", "seen", "w", "wide"]),
    ("away", &["thickness", "size going away", "away", "t", "thick", "depth"]),
    ("left", &["left end", "left", "left miter", "end 1", "end a", "miter left"]),
    ("right", &["right end", "right", "right miter", "end 2", "end b", "miter right"]),
    ("left_bevel", &["left bevel", "bevel left"]),
    ("right_bevel", &["right bevel", "bevel right"]),
    ("grain", &["grain", "grain direction"]),
    ("good", &["good face", "good faces", "one good face", "face"]),
    ("hand", &["hand", "hands"]),
    ("give", &["give", "may give", "tolerance", "shorter by"]),
    ("note", &["note", "notes", "comment", "comments", "remark"]),
];

/// Most bytes of a pasted table: 2,000 long lines.
pub const MOST_PASTED: usize = 1_000_000;

/// Reads pasted lines into parts. Lengths in any spelling; plain numbers count in `unit`, or in the
/// unit that a header names: `length (mm)`.
///
/// ```
/// use offsquare_work::{cutlist::paste, rack::Rack};
/// use offsquare_units::{Length, Unit};
/// let read = paste("Part\tQty\tLength\nRail\t4\t14 5/8\nStile\t2\t33-\n", &Rack::default(), Unit::Inch);
/// assert_eq!((read.entries.len(), read.entries[0].length), (1, Length(14.625)));
/// assert_eq!((read.skipped[0].line, read.skipped[0].text.as_str()), (3, "Stile\t2\t33-"));
/// ```
pub fn paste(text: &str, rack: &Rack, unit: Unit) -> Pasted {
    paste_into(0, text, rack, unit)
}

/// The same for a list that has so many kinds of parts already.
pub fn paste_into(kinds: usize, text: &str, rack: &Rack, unit: Unit) -> Pasted {
    let mut out = Pasted::default();
    if text.len() > MOST_PASTED {
        out.said.push(
            "This table is too long to read at once: paste it in pieces of at most 1 MB.".into(),
        );
        return out;
    }
    let lines: Vec<(usize, &str)> = text
        .lines()
        .enumerate()
        .map(|(i, l)| (i + 1, l.trim_end_matches('\r')))
        .filter(|(_, l)| !l.trim().is_empty())
        .gather();
    let cut = [
        ('\t', lines.iter().any(|l| l.1.contains('\t'))),
        (';', lines.iter().any(|l| l.1.contains(';'))),
    ];
    let separator = cut.iter().find(|c| c.1).map_or(',', |c| c.0);
    let rows: Vec<(usize, &str, Vec<String>)> =
        lines.into_iter().map(|(n, l)| (n, l, cells(l, separator))).gather();
    let Some((_, whole, first)) = rows.first() else {
        return out;
    };
    let (columns, unit_of, body) = match header(first, unit, &mut out.said) {
        Some((columns, units)) => {
            out.header = Some((*whole).to_owned());
            (columns, units, &rows[1..])
        }
        None => {
            let columns = guessed(&rows);
            let units = vec![unit; columns.len()];
            (columns, units, &rows[..])
        }
    };
    let named: Vec<&str> = columns.iter().map(|key| word_of(key.unwrap_or("not used"))).gather();
    out.columns = named.join(", ");
    for (number, line, row) in body {
        let mut skip = |why: String| {
            out.skipped.push(Skipped { line: *number, text: (*line).to_owned(), why });
        };
        if let Some(why) = no_room(kinds + out.entries.len(), 1) {
            skip(why);
            continue;
        }
        match entry(row, &columns, &unit_of, rack) {
            Ok(entry) => out.entries.push(entry),
            Err(why) => skip(why),
        }
    }
    out
}

fn word_of(key: &str) -> &str {
    COLUMNS.iter().find(|c| c.0 == key).map_or(key, |c| c.1[0])
}

/// One row as an entry, or the first cell that cannot be read.
fn entry(
    row: &[String],
    columns: &[Option<&'static str>],
    units: &[Unit],
    rack: &Rack,
) -> Result<Entry, String> {
    let mut entry = Entry::default();
    let mut has_length = false;
    for (i, cell) in row.iter().enumerate() {
        let cell = cell.trim();
        if cell.is_empty() {
            continue;
        }
        let key = columns.get(i).copied().flatten();
        let Some(key) = key else {
            if columns.get(i).is_none() {
                return Err(format!("There is no column for \u{201c}{cell}\u{201d}."));
            }
            continue;
        };
        if key == "stock" {
            match rack.named(cell) {
                Some(stock) => entry.stock = Some(stock.id),
                None => {
                    return Err(format!(
                        "\u{201c}{cell}\u{201d} is not in the rack. Add it in Shop, or leave the cell empty."
                    ));
                }
            }
            continue;
        }
        has_length |= key == "length";
        entry.write(key, cell, units[i]).map_err(|why| {
            format!("{}, \u{201c}{cell}\u{201d}: {why}", upper_first(word_of(key)))
        })?;
    }
    if !has_length {
        return Err("It has no length.".into());
    }
    if entry.count == 0 {
        return Err("Its quantity is 0.".into());
    }
    if entry.stock.is_none() {
        entry.stock = match (entry.seen, entry.away) {
            (None, None) => None,
            (seen, away) => rack.suiting(seen, away).map(|s| s.id),
        };
    }
    Ok(entry)
}

/// The columns of a header row; none where the row is no header.
fn header(
    row: &[String],
    unit: Unit,
    said: &mut Vec<String>,
) -> Option<(Vec<Option<&'static str>>, Vec<Unit>)> {
    let mut keys: Vec<Option<&'static str>> = Vec::new();
    let mut units = Vec::new();
    let mut unknown = Vec::new();
    for cell in row {
        let lower = cell.trim().to_ascii_lowercase();
        let (word, bracket) = match lower.split_once(['(', '[']) {
            Some((word, rest)) => {
                (word.trim().to_owned(), rest.trim_end_matches([')', ']']).trim().to_owned())
            }
            None => (lower.clone(), String::new()),
        };
        units.push(match bracket.as_str() {
            "mm" => Unit::Millimeter,
            "in" | "inch" | "inches" | "\"" => Unit::Inch,
            _ => unit,
        });
        let key = COLUMNS
            .iter()
            .find(|c| c.1.contains(&word.as_str()))
            .map(|c| c.0)
            .filter(|key| !keys.contains(&Some(*key)));
        if key.is_none() && !word.is_empty() {
            unknown.push(cell.trim().to_owned());
        }
        keys.push(key);
    }
    let known = keys.iter().flatten().count();
    // A row of data does not say "length" or "qty" anywhere.
    let is_header = keys.contains(&Some("length")) || known >= 2;
    if !is_header {
        return None;
    }
    for name in unknown {
        said.push(format!("The column \u{201c}{name}\u{201d} is not known and was left out."));
    }
    Some((keys, units))
}

/// Columns of rows without a header, by what stands in them.
fn guessed(rows: &[(usize, &str, Vec<String>)]) -> Vec<Option<&'static str>> {
    let width = rows.iter().map(|r| r.2.len()).max().unwrap_or(0);
    // Most rows decide, so that one bad cell does not turn a column round.
    let share = |i: usize, test: &dyn Fn(&str) -> bool| {
        let cells: Vec<&str> = rows
            .iter()
            .filter_map(|r| r.2.get(i))
            .map(|c| c.trim())
            .filter(|c| !c.is_empty())
            .gather();
        let good = cells.iter().filter(|c| test(c)).count();
        !cells.is_empty() && good * 2 > cells.len()
    };
    let is_count = |c: &str| parse_count(c).is_ok();
    let is_length = |c: &str| parse_length(c, Unit::Inch).is_ok();
    let mut keys: Vec<Option<&'static str>> = vec![None; width];
    let numbers: Vec<usize> = (0..width).filter(|&i| share(i, &is_length)).gather();
    // The first column of whole numbers is the quantity, if another is left for the length.
    let counts = numbers.iter().copied().find(|&i| share(i, &is_count));
    let mut lengths = numbers.clone();
    if numbers.len() >= 2
        && let Some(at) = counts
    {
        keys[at] = Some("count");
        lengths.retain(|&i| i != at);
    }
    for (i, key) in lengths.into_iter().zip(["length", "seen", "away", "left", "right"]) {
        keys[i] = Some(key);
    }
    let mut words = ["name", "note"].into_iter();
    for key in keys.iter_mut().filter(|k| k.is_none()) {
        *key = words.next();
    }
    keys
}

/// One line in cells; a cell in quotes may hold the separator, and "" for a quote.
fn cells(line: &str, separator: char) -> Vec<String> {
    let mut out = Vec::new();
    let mut rest = line;
    loop {
        let start = rest.trim_start_matches(' ');
        if let Some((cell, after)) = quoted(start, separator) {
            out.push(cell);
            match after.strip_prefix(separator) {
                Some(next) => rest = next,
                None => return out,
            }
        } else if let Some((cell, next)) = rest.split_once(separator) {
            out.push(cell.to_owned());
            rest = next;
        } else {
            out.push(rest.to_owned());
            return out;
        }
    }
}

/// A cell in quotes at the start, and what follows it; none where it is not closed before a separator.
fn quoted(text: &str, separator: char) -> Option<(String, &str)> {
    let mut out = String::new();
    let mut rest = text.strip_prefix('"')?;
    loop {
        let (part, after) = rest.split_once('"')?;
        out.push_str(part);
        if let Some(more) = after.strip_prefix('"') {
            out.push('"');
            rest = more;
            continue;
        }
        let after = after.trim_start_matches(' ');
        return (after.is_empty() || after.starts_with(separator)).then_some((out, after));
    }
}
