//! Files as texts: what may be read, which version, and what a journal in it still has to add.

use super::document::apply;
use super::gate::fits;
use super::patch::Way;
use super::pieces::mend;
use super::tab::Pending;
use super::{Opened, VERSION, open, refused};
use offsquare_units::kept::Kept as _;
use serde_json::Value;

/// Reads a stored or imported text: part by part, so that one broken part does not take the rest along.
pub fn read(text: &str) -> Opened {
    read_by(text, |text| serde_json::from_str(text).ok())
}

/// The same with another reader of JSON (the browser's own); it gets only texts that pass [`fits`].
pub fn read_by(text: &str, reader: impl FnOnce(&str) -> Option<Value>) -> Opened {
    let whole = match fits(text) {
        Err(sentence) => return refused(sentence),
        Ok(()) => reader(text),
    };
    let Some(mut whole) = whole else {
        return refused("This file cannot be read: it is not one of Offsquare\u{2019}s.".into());
    };
    let version = whole.get("offsquare").and_then(Value::as_u64);
    let Some(version) = version else {
        return refused("This file is not one of Offsquare\u{2019}s.".into());
    };
    if whole.get("piece").is_some() && whole.get("bench").is_none() {
        return refused(
            "This file holds one piece. It is opened in Shop, under Open a link or file.".into(),
        );
    }
    // What was changed and not yet in the records when they were taken together.
    let journal = whole.as_object_mut().and_then(|w| w.remove("journal"));
    let mut opened = open(&whole);
    let changes = journal.as_ref().and_then(Vec::<Pending>::restore).unwrap_or_default();
    for change in &changes {
        apply(&mut opened.bench, &change.patch, Way::Later);
    }
    mend(&mut opened.bench.work);
    if version > u64::from(VERSION) {
        opened.repaired.insert(
            0,
            "This file comes from a newer Offsquare; what this one does not know was set aside."
                .into(),
        );
    }
    opened
}
