//! An answer that is kept among the recent ones.

use super::Store;
use offsquare_paper::report::line;
use offsquare_work::piece::answer;
use offsquare_work::save::Recent;

impl Store {
    pub(super) fn remember(&mut self, layout: &str, at_ms: f64, pinned: bool, left: bool) {
        // A piece is among the maker's own already.
        let untouched = left && (self.bench.draft(layout).is_none() || self.kept(layout).is_some());
        let Some(draft) = self.draft(layout).filter(|_| !untouched) else {
            return;
        };
        let all = answer(&draft, &self.bench.shop);
        let one = all.solved.get(draft.way.unwrap_or(0)).or(all.solved.first());
        if let Some(solved) = one.filter(|_| all.is_good()) {
            let line = line(solved, &self.bench.shop.style());
            self.change(|bench| {
                bench.remember(Recent { draft, at_ms, line, pinned });
            });
        }
    }
}
