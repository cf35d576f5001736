//! How many visits had an answer: nothing is asked of a newcomer.

use super::storage::{Device, Storage};

const VISITS: &str = "offsquare.visits";
const ASKED: &str = "offsquare.asked";

fn so_far() -> u32 {
    let kept = Device.read(VISITS).and_then(|n| n.parse().ok());
    kept.unwrap_or(0)
}

/// This visit has an answer; loading the page again in the same tab is still the same visit.
pub fn count() {
    let Some(tab) = web_sys::window().and_then(|w| w.session_storage().ok().flatten()) else {
        return;
    };
    if tab.get_item(VISITS).ok().flatten().is_none() {
        // With no storage every visit stays a first one: nothing is ever asked.
        let _ = tab.set_item(VISITS, "counted");
        let now = so_far().saturating_add(1);
        let _ = Device.write(VISITS, &now.to_string());
    }
}

/// Asks the browser not to clear what is kept when the device runs short of room. Some ask the person: so after the first
/// piece that is kept, from the second answered visit on, once a visit and more and more rarely.
pub fn ask_to_last() {
    let Some(w) = web_sys::window() else { return };
    let tab = w.session_storage().ok().flatten();
    let asked = tab.as_ref().is_none_or(|t| t.get_item(ASKED).ok().flatten().is_some());
    if let (false, true, Some(tab)) =
        (asked, are_enough_to_ask() && so_far().is_power_of_two(), tab)
    {
        // As above.
        let _ = tab.set_item(ASKED, "yes");
        // Where nothing is promised, or no such thing is known, all is kept as before.
        let _ = w.navigator().storage().persist();
    }
}

/// Whether this is the second answered visit or a later one.
pub fn are_enough_to_ask() -> bool {
    so_far() >= 2
}
