//! The one door for everything stored or imported: it reads every version, repairs, clamps, and never
//! drops anything silently.
//!
//! What was read is compared with the file once more (`lost`): whatever stands in the file and would not
//! be written back is told, whether or not anyone thought of that case.
//!
//! A saved file is JSON: `offsquare` its version, `bench` the document, `pictures` (put in and taken out by the app) a
//! list of `id`, `mime` and `base64`; a file made by a page that died has a `journal` of what was not yet in the rest.
//!
//! It is version 5: `bench.work` holds pieces, parts, rack and boards; version 1 opens with an empty list, and all of
//! version 2 are loose parts. Version 3 has pieces without price, pictures or run. Before version 5 the rack's prices were
//! hundredths in every money.
//!
//! On the device the document is kept in records, each such a file with a part of it (`records`), by tabs that hear of
//! each other (`tab`), in patches that are steps to undo as well (`patch`, `history`).

mod document;
mod file;
mod gate;
mod history;
mod lost;
mod merged;
mod patch;
mod pieces;
mod records;
pub mod share;
mod tab;
mod work;

pub use document::{apply, diff};
pub use file::{read, read_by};
pub use gate::{MOST_DEPTH, MOST_FILE, MOST_TEXT, MOST_VALUES, fits, too_large};
pub use history::{History, MOST_STEPS, Step};
pub use merged::Added;
pub use patch::{Change, Clashes, Name, Patch, Way};
pub use pieces::mend;
pub use records::{Record, all as records, changed, joined};
pub use tab::{
    BEFORE, Found, LOGGED, Pending, Settled, Tab, Unsettled, Writes, journal, log_key, read_journal,
};

use crate::patterns;
use crate::piece::{Draft, Shop, Work};
use offsquare_units::kept::Kept;
use offsquare_units::num::Gather;
use offsquare_units::{Currency, kept, record, upper_first};
use serde_json::{Value, json};

/// The shape that is written today.
///
/// 1: drafts, recent answers, sums, shop. 2: also parts list, rack and boards (`work`); a file of version 1
/// has none and gets an empty list and the usual rack. The first files of version 2 have the cuts of kept boards as texts of
/// words. 3: also pieces, in place of one batch for all; parts and layouts say theirs. 4: also what pieces hold besides their parts.
pub const VERSION: u32 = 5;

/// How many recent answers are kept.
pub const RECENT: usize = 20;

/// Most recent answers that are read, pinned ones included.
pub const MOST_RECENT: usize = 500;
/// Most lines of sums.
pub const MOST_LENGTHS: usize = 500;
/// Most drafts that are looked through for one a layout.
const MOST_DRAFTS: usize = 100;
/// Most typed fields of one draft.
const MOST_TYPED: usize = 200;

/// A past answer: its inputs, and when it was given.
#[derive(Clone, Debug, PartialEq)]
pub struct Recent {
    pub draft: Draft,
    /// Milliseconds since 1970, from the device.
    pub at_ms: f64,
    /// The answer in a line, as it read then.
    pub line: String,
    pub pinned: bool,
}
kept!(Recent { draft, at_ms, line, pinned = false });

impl Recent {
    /// The same question with the same sizes.
    pub fn is_like(&self, other: &Recent) -> bool {
        let (a, b) = (&self.draft, &other.draft);
        a.layout == b.layout && a.form == b.form && a.typed == b.typed
    }
}

/// All that a maker keeps.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Bench {
    pub drafts: Vec<Draft>,
    pub recent: Vec<Recent>,
    /// The running tape of sums, as typed.
    pub lengths: Vec<String>,
    pub shop: Shop,
    /// Parts list, rack, and what is chosen about boards.
    pub work: Work,
}

impl Bench {
    pub fn draft(&self, layout: &str) -> Option<&Draft> {
        self.drafts.iter().find(|d| d.layout == layout)
    }
    /// Puts a draft in the place of the same layout's.
    pub fn put(&mut self, draft: Draft) {
        match self.drafts.iter_mut().find(|d| d.layout == draft.layout) {
            Some(d) => *d = draft,
            None => self.drafts.push(draft),
        }
    }
    /// The same for a draft that was changed on its screen: parts of the list that come from it follow.
    pub fn put_followed(&mut self, draft: Draft) {
        self.work.changed(&draft, &self.shop);
        self.put(draft);
    }
    /// Adds an answer to the recent ones, newest first; the same inputs again replace the old row.
    pub fn remember(&mut self, recent: Recent) {
        let pinned = self.recent.iter().any(|r| r.pinned && r.is_like(&recent));
        self.recent.retain(|r| !r.is_like(&recent));
        self.recent.insert(0, Recent { pinned: pinned || recent.pinned, ..recent });
        let mut free = RECENT.saturating_sub(self.recent.iter().filter(|r| r.pinned).count());
        self.recent.retain(|r| {
            r.pinned || {
                let kept = free > 0;
                free = free.saturating_sub(1);
                kept
            }
        });
    }
}

/// What was read, and what could not be.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    pub bench: Bench,
    /// Plain sentences about what was repaired or set aside.
    pub repaired: Vec<String>,
}

/// The text to store.
pub fn write(bench: &Bench) -> String {
    to_value(bench).to_string()
}

/// What is stored, before it is written as text.
pub fn to_value(bench: &Bench) -> Value {
    let mut whole = beginning(bench);
    whole["bench"]["work"] = record::write(&mut bench.work.clone());
    whole
}

/// The part of it that a start needs first: all but parts, pieces and rack.
pub fn beginning(bench: &Bench) -> Value {
    let body = json!({
        "drafts": bench.drafts.keep(),
        "recent": bench.recent.keep(),
        "lengths": bench.lengths.keep(),
        "shop": bench.shop.keep(),
    });
    json!({"offsquare": VERSION, "bench": body})
}

/// The journal of a page while its changes cannot be told place by place yet, for all of them: the part that a start needs
/// first, as it was and as it is.
pub fn journal_between(page: &str, before: &Bench, after: &Bench) -> Value {
    let [before, after] = [before, after].map(|bench| beginning(bench)["bench"].take());
    let all = json!({"page": page, "number": 1, "before": before, "after": after});
    json!({"offsquare": VERSION, "journal": [all]})
}

/// Reads that part alone. What could not be read of it is told with the whole.
pub fn read_beginning(text: &str, reader: impl FnOnce(&str) -> Option<Value>) -> Bench {
    let whole = gate::fits(text).ok().and_then(|()| reader(text));
    whole.map_or_else(Bench::default, |whole| first_part(&whole["bench"], &mut Vec::new()))
}

fn refused(sentence: String) -> Opened {
    Opened { bench: Bench::default(), repaired: vec![sentence] }
}

fn open(whole: &Value) -> Opened {
    let migrated = work::migrated(whole);
    let whole = migrated.as_ref().unwrap_or(whole);
    let body = whole.get("bench").unwrap_or(&Value::Null);
    let mut repaired = Vec::new();
    let mut bench = first_part(body, &mut repaired);
    bench.work = work::read(body, &mut repaired);
    let mut opened = Opened { bench, repaired };
    let repaired = &mut opened.repaired;
    // An older file is the same with its version told anew.
    let mut written = to_value(&opened.bench);
    written["offsquare"] = whole["offsquare"].clone();
    if repaired.is_empty()
        && let Some(place) = lost::first(whole, &written)
    {
        repaired.push(format!(
            "Not all of this file could be read; the rest was set aside. The first such place: {place}."
        ));
    }
    if whole["offsquare"].as_u64().is_some_and(|version| version < 5) {
        let work = &mut opened.bench.work;
        work.rack.in_money(&Currency::default(), &work.currency());
    }
    opened
}

/// The part that a start needs first.
fn first_part(body: &Value, repaired: &mut Vec<String>) -> Bench {
    let mut bench = Bench {
        drafts: rows(body, "drafts", ("a layout", "the layouts"), MOST_DRAFTS, repaired),
        recent: rows(
            body,
            "recent",
            ("a recent answer", "the recent answers"),
            MOST_RECENT,
            repaired,
        ),
        lengths: rows(body, "lengths", ("a line of sums", "the sums"), MOST_LENGTHS, repaired),
        ..Bench::default()
    };
    match body.get("shop").map(Shop::restore) {
        Some(Some(shop)) => bench.shop = sound(shop, repaired),
        Some(None) => repaired
            .push("The shop\u{2019}s settings could not be read; the usual ones stand.".into()),
        None => {}
    }
    let known = |d: &Draft| {
        let whole =
            patterns::name(&d.layout).is_some() && (d.layout().is_none() || d.form().is_some());
        whole && d.typed.len() <= MOST_TYPED
    };
    let before = bench.drafts.len() + bench.recent.len();
    bench.drafts.retain(known);
    bench.recent.retain(|r| known(&r.draft));
    let lost = before - bench.drafts.len() - bench.recent.len();
    if lost > 0 {
        repaired.push(format!(
            "Saved answers of layouts that this version does not know were set aside: {lost}."
        ));
    }
    bench
}

/// The rows of a list; `what` is one of them, and all of them, in words.
fn rows<T: Kept>(
    body: &Value,
    key: &str,
    what: (&str, &str),
    most: usize,
    repaired: &mut Vec<String>,
) -> Vec<T> {
    let all = match body.get(key) {
        Some(Value::Array(all)) => all.as_slice(),
        None | Some(Value::Null) => &[],
        Some(_) => {
            repaired.push(format!("{} could not be read and were set aside.", upper_first(what.1)));
            &[]
        }
    };
    let read = all.iter().take(most).map(T::restore).gather();
    let wrong = read.iter().filter(|row| row.is_none()).count();
    match wrong {
        0 => {}
        1 => repaired.push(format!("{} could not be read and was set aside.", upper_first(what.0))),
        n => repaired.push(format!("{n} of {} could not be read and were set aside.", what.1)),
    }
    if all.len() > most {
        repaired.push(lost::too_many(what.1, most, all.len() - most));
    }
    read.into_iter().flatten().gather()
}

/// A shop whose numbers are all in their ranges.
fn sound(mut shop: Shop, repaired: &mut Vec<String>) -> Shop {
    let usual = Shop::default();
    let bar_sound = |mm: f64| (80.0..=125.0).contains(&mm);
    if !bar_sound(shop.bar_mm.0) || !bar_sound(shop.bar_mm.1) {
        shop.bar_mm = usual.bar_mm;
        repaired.push("The measured bar was out of range; 100 mm stands again.".into());
    }
    if shop.true_size.is_some_and(|t| !t.can_be()) {
        shop.true_size = None;
        repaired.push(
            "The screen\u{2019}s true size was out of range: hold a card to it again.".into(),
        );
    }
    if !shop.saw.can_be() {
        shop.saw = usual.saw;
        repaired
            .push("The saw\u{2019}s limits could not be true; the usual saw stands again.".into());
    }
    shop
}
