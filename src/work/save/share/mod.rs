//! One piece on its way: in a link, in a square code, in a file.
//!
//! All three hold the same record, `{"offsquare": 4, "piece": {…}}` with the lists of a saved file; it is read through the
//! same door, which migrates, repairs and says what is lost. A link has it packed in its fragment, so no server is ever
//! sent any of it: `#/open?p=…`, in a square code `#/open?c=…`, whose letters such a code packs closer.
//!
//! A link and a code hold no prices; a file does. Nothing tells what boards the shop has on hand.

mod packed;
mod record;

pub use packed::MOST_UNPACKED;

use super::gate::fits_in;
use super::work::sound;
use super::{VERSION, open};
use crate::piece::{LOOSE, Offer, Piece, Shop, Work};
use crate::rack::MOST_STOCKS;
use offsquare_units::grouped;
use offsquare_units::num::Gather;
use record::Into;
use serde_json::{Value, json};

/// Most letters of a link; what is longer goes as a file. Messages are often cut at some 60,000.
pub const MOST_LINK: usize = 30_000;
/// Most bytes of a file that holds a piece.
pub const MOST_FILE: usize = 4_000_000;
/// Most values of a piece: the fullest list of parts has two thirds of them.
const MOST_VALUES: usize = 50_000;
/// Most letters of a name, and of any other text.
const MOST_NAME: usize = 60;
const MOST_WORDS: usize = 300;

/// Where in an address a piece begins.
const OPEN: &str = "open?";

/// A piece as a link and a square code have it.
#[derive(Clone, Debug, PartialEq)]
pub struct Packed(Vec<u8>);

impl Packed {
    /// The fragment of a link; none where the piece is too large for one.
    pub fn link(&self) -> Option<String> {
        let link = format!("#/{OPEN}p={}", packed::to_letters(&self.0));
        Some(link).filter(|link| link.len() <= MOST_LINK)
    }
    /// The same for a square code: the fragment up to its letters, and they, which are all of such a code's closer ones.
    pub fn code(&self) -> (String, String) {
        (format!("#/{OPEN}c="), packed::to_capitals(&self.0))
    }
}

/// Packs a piece; none where there is no such piece. `writer` makes JSON text of a value.
pub fn pack_by(
    work: &Work,
    piece: u32,
    shop: &Shop,
    writer: impl FnOnce(&Value) -> String,
) -> Option<Packed> {
    let text = writer(&wrapped(work, piece, shop, Into::Link)?);
    Some(Packed(packed::pack(&text)))
}

/// The same with the library's own writer.
///
/// ```
/// use offsquare_work::piece::{Shop, Work, WorkEdit};
/// use offsquare_work::save::share;
/// let (mut work, shop) = (Work::default(), Shop::default());
/// work.apply(WorkEdit::AddPiece { pattern: None }, &shop);
/// work.apply(WorkEdit::Piece { id: 1, key: "name", text: "Gate".into() }, &shop);
/// let link = share::pack(&work, 1, &shop).unwrap().link().unwrap();
/// assert!(link.starts_with("#/open?p=") && link.len() < 60, "{link}");
/// let offer = share::read(&format!("https://saw.example/{link}"), &shop).unwrap();
/// assert_eq!(offer.piece.name, "Gate");
/// ```
pub fn pack(work: &Work, piece: u32, shop: &Shop) -> Option<Packed> {
    pack_by(work, piece, shop, Value::to_string)
}

/// The same as a file holds it.
pub fn to_file(work: &Work, piece: u32, shop: &Shop) -> Option<Value> {
    wrapped(work, piece, shop, Into::File)
}

fn wrapped(work: &Work, piece: u32, shop: &Shop, into: Into) -> Option<Value> {
    Some(json!({"offsquare": VERSION, "piece": record::of(work, piece, shop, into)?}))
}

/// The name of its file, without its ending: the piece's in plain letters.
///
/// ```
/// let piece = offsquare_work::piece::Piece { name: "Gate / 2\u{bd} ft".into(), ..Default::default() };
/// assert_eq!(offsquare_work::save::share::file_name(&piece), "gate-2-ft");
/// ```
pub fn file_name(piece: &Piece) -> String {
    let name = piece.called().to_lowercase();
    let words = name.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let name: String = words.take(6).gather().join("-");
    if name.is_empty() { "piece".to_owned() } else { name }
}

/// Reads a link, with or without the site's address and with words around it, or the text of a file.
/// Errors are plain sentences.
pub fn read(text: &str, shop: &Shop) -> Result<Offer, String> {
    read_by(text, shop, |text| serde_json::from_str(text).ok())
}

/// The same with another reader of JSON (the browser's own); it gets only texts whose size and depth were counted.
pub fn read_by(
    text: &str,
    shop: &Shop,
    reader: impl FnOnce(&str) -> Option<Value>,
) -> Result<Offer, String> {
    let text = text.trim();
    if text.is_empty() {
        return Err("There is nothing in it.".into());
    }
    if text.starts_with('{') {
        fits_in(text, MOST_FILE, MOST_VALUES)?;
        return offered(reader(text).ok_or(BROKEN_FILE)?, shop);
    }
    let text = unpacked(text)?;
    fits_in(&text, MOST_UNPACKED, MOST_VALUES)?;
    offered(reader(&text).ok_or(BROKEN_LINK)?, shop)
}

const BROKEN_FILE: &str =
    "This file cannot be read: it is cut short, or not one of Offsquare\u{2019}s.";
const BROKEN_LINK: &str = "This link is not whole: part of it was cut off or changed on its way. Ask for it again, or for the file.";

/// The text in a link.
fn unpacked(text: &str) -> Result<String, String> {
    let no_link = "This is no link to a piece: one has \u{201c}#/open?\u{201d} in it.";
    let (_, rest) = text.split_once(OPEN).ok_or(no_link)?;
    let (kind, rest) = rest.split_once('=').ok_or(BROKEN_LINK)?;
    // Words that follow it in a message are none of its letters.
    let letters = rest.split(|c: char| c.is_whitespace() || "<>\"'&#)]".contains(c)).next();
    let letters = letters.filter(|l| l.len() <= 2 * MOST_LINK).ok_or(BROKEN_LINK)?;
    let bytes = match kind {
        "p" => packed::of_letters(letters.trim_end_matches(['.', ',', ';', ':', '!', '?'])),
        "c" => packed::of_capitals(letters),
        _ => return Err(NEWER.into()),
    };
    let text = bytes.and_then(|bytes| packed::unpack(&bytes));
    text.ok_or_else(|| BROKEN_LINK.into())
}

const NEWER: &str = "This link comes from a newer Offsquare, which packs pieces in another way. Update this one, or ask for the file.";

/// A shared file has one piece. Up to this many are looked at, so that a file full of them costs no time.
const MOST_LOOKED_AT: usize = 20;

fn offered(mut whole: Value, shop: &Shop) -> Result<Offer, String> {
    let Some(version) = whole.get("offsquare").and_then(Value::as_u64) else {
        return Err("This is not one of Offsquare\u{2019}s files.".into());
    };
    if whole.get("bench").is_some() {
        return Err("This file holds everything of an Offsquare, not one piece. It is opened in Shop, under Backup.".into());
    }
    let mut work = whole.get_mut("piece").map(Value::take).unwrap_or_default();
    if !work.is_object() {
        return Err("There is no piece in it.".into());
    }
    let cut = bound(&mut work, MOST_WORDS);
    let mut count = 0;
    if let Some(pieces) = work.get_mut("pieces").and_then(Value::as_array_mut) {
        count = pieces.len();
        pieces.truncate(MOST_LOOKED_AT);
        // *Loose parts* stand first in every list.
        pieces.insert(0, json!({"id": LOOSE}));
    }
    // A missing rack would be the usual one, with stock that this piece never named.
    let stocks = match work["rack"].get_mut("stocks").map(Value::take) {
        Some(Value::Array(mut stocks)) => {
            // One more than fit, so that it is said.
            stocks.truncate(MOST_STOCKS + 1);
            stocks
        }
        _ => Vec::new(),
    };
    work["rack"] = json!({"stocks": stocks});
    let opened = open(&json!({"offsquare": version, "bench": {"work": work}}));
    let mut said = opened.repaired;
    if version > u64::from(VERSION) {
        said.insert(
            0,
            "It comes from a newer Offsquare; what this one does not know was set aside.".into(),
        );
    }
    if cut {
        said.push("Words in it that were too long were cut.".into());
    }
    let mut work = opened.bench.work;
    let pieces = if count > MOST_LOOKED_AT { count } else { work.pieces.len() - 1 };
    if pieces > 1 {
        said.push(format!("Only the first of its {} pieces was read.", grouped(pieces as u64)));
    }
    work.follow_all(shop);
    // What its layouts made of it is looked at like what stood in it.
    sound(&mut work, &mut said);
    work.offered(said).ok_or_else(|| "There is no piece in it.".into())
}

/// Cuts every text to so many letters and takes out of it what is no letter: signs that end a line, turn the direction
/// of reading or cannot be seen. Says whether any was too long.
fn bound(value: &mut Value, most: usize) -> bool {
    match value {
        Value::String(text) => {
            let hidden = |c: char| {
                c.is_control()
                    || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
            };
            if text.contains(hidden) {
                *text = text.replace(hidden, " ");
            }
            let end = text.char_indices().nth(most).map(|(at, _)| at);
            end.is_some_and(|at| {
                text.truncate(at);
                true
            })
        }
        Value::Array(all) => all.iter_mut().fold(false, |cut, value| bound(value, most) | cut),
        Value::Object(all) => {
            // No member of ours has such a name.
            let before = all.len();
            all.retain(|key, _| key.len() <= 40 && key.bytes().all(|b| b.is_ascii_graphic()));
            let strange = before > all.len();
            all.iter_mut().fold(strange, |cut, (key, value)| {
                let name = matches!(key.as_str(), "name" | "part");
                bound(value, if name { MOST_NAME } else { most }) | cut
            })
        }
        _ => false,
    }
}
