//! Deep links: a draft as the fragment of an address, `#/brace?form=single&opening_width=30`.
//!
//! Texts go as they were typed; one whose plain numbers do not count in inches is led by its unit:
//! `opening_width=mm:760`.

use super::Draft;
use super::draft::Typed;
use crate::patterns;
use offsquare_units::Unit;
use offsquare_units::num::Gather;
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, percent_decode_str, utf8_percent_encode};

const KEPT: &AsciiSet =
    &NON_ALPHANUMERIC.remove(b'-').remove(b'.').remove(b'_').remove(b'/').remove(b'*');

/// The longest fragment that is read; anything longer is not ours.
const LONGEST: usize = 8_000;

/// The fragment, with its `#`.
pub fn to_link(draft: &Draft) -> String {
    let mut link = format!("#/{}?form={}", draft.layout, draft.form);
    let form = draft.form();
    let known =
        |key: &str| form.is_some_and(|f| f.fields.iter().chain(f.also).any(|f| f.key == key));
    for t in draft.typed.iter().filter(|t| !t.text.is_empty() && known(&t.key)) {
        let unit = match t.unit {
            Unit::Inch => "",
            Unit::FeetInches => "ft:",
            Unit::Millimeter => "mm:",
        };
        link.push_str(&format!("&{}={unit}{}", t.key, utf8_percent_encode(&t.text, KEPT)));
    }
    link
}

/// Reads a fragment back: the layout's first form unless one is named, keys that the form does not
/// know left out. None where it does not name a layout.
pub fn from_link(fragment: &str, unit: Unit) -> Option<Draft> {
    let rest = fragment.trim_start_matches('#').trim_start_matches('/');
    if rest.len() > LONGEST {
        return None;
    }
    let (layout, query) = rest.split_once('?').unwrap_or((rest, ""));
    let layout = patterns::asked(layout)?;
    let pairs: Vec<(String, String)> = query
        .split('&')
        .filter_map(|pair| pair.split_once('='))
        .map(|(k, v)| (k.to_owned(), percent_decode_str(v).decode_utf8_lossy().into()))
        .gather();
    let named = pairs.iter().find(|(k, _)| k == "form");
    let form = named
        .and_then(|(_, id)| layout.forms().iter().find(|f| f.id == id))
        .or(layout.forms().first())?;
    let mut draft = Draft::fresh(layout, form, unit);
    let known = |key: &str| form.fields.iter().chain(form.also).any(|f| f.key == key);
    if pairs.iter().any(|(k, _)| known(k)) {
        draft.typed = pairs
            .into_iter()
            .filter(|(k, _)| known(k))
            .map(|(key, v)| {
                let (unit, text) = match v.split_once(':') {
                    Some(("mm", t)) => (Unit::Millimeter, t),
                    Some(("ft", t)) => (Unit::FeetInches, t),
                    _ => (Unit::Inch, v.as_str()),
                };
                Typed { key, text: text.to_owned(), unit }
            })
            .gather();
    }
    Some(draft)
}
