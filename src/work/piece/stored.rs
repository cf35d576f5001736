//! How parts, rack and boards are stored.

use super::work::{Source, Work};
use offsquare_units::kept::Kept as _;
use offsquare_units::num::Gather;
use offsquare_units::record::{Record, Stored};

/// A part that the maker took off the list.
#[derive(Default)]
struct Off {
    part: String,
    nth: u32,
}

impl Stored for Off {
    fn fields(&mut self, r: &mut Record) {
        r.text("part", &mut self.part);
        r.whole("nth", &mut self.nth);
    }
}

impl Stored for Source {
    fn fields(&mut self, r: &mut Record) {
        r.whole("id", &mut self.id);
        let own = r.writes().then(|| self.draft.keep());
        if let Some(stored) = r.value("draft", own) {
            match super::Draft::restore(&stored) {
                Some(draft) => self.draft = draft,
                None => r.wrong += 1,
            }
        }
        r.flag("live", &mut self.live);
        let mut off: Vec<Off> = self
            .off
            .iter()
            .map(|(part, nth)| Off { part: part.clone(), nth: *nth as u32 })
            .gather();
        r.rows("off", &mut off);
        self.off = off.into_iter().map(|o| (o.part, o.nth as usize)).gather();
    }
}

impl Stored for Work {
    fn fields(&mut self, r: &mut Record) {
        r.rows("parts", &mut self.parts);
        r.rows("sources", &mut self.sources);
        r.one("rack", &mut self.rack);
        r.whole("batch", &mut self.batch);
        r.flag("plain", &mut self.plain);
        r.rows("kept", &mut self.kept);
    }
}
