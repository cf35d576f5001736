//! What to mind while a list is cut: the cautions at an order of cuts.

use super::draft::answer;
use super::shop::Shop;
use super::work::Work;
use crate::cutlist::{Entry, JobPart};
use offsquare_cuts::facts::{Caution, GENERAL, caution};
use offsquare_units::{Text, num, say};

impl Work {
    /// What is said above an order of cuts for these parts, at this saw: what holds for all work at it, and
    /// each caution once. `ripped`: the parts are ripped as well, on another saw.
    ///
    /// A part that follows a layout has that layout's cautions and its own; any other those that its length
    /// and its ends give.
    ///
    /// Example: a stick 12 in long, mitered 31.6° at both ends of a 2 1/2 in face: nothing but the general
    /// words; one 4 in long: a short piece as well.
    pub fn to_mind(&self, parts: &[JobPart], ripped: bool, shop: &Shop) -> Vec<Text> {
        let mut all = Vec::new();
        if ripped {
            all.push(Caution::RippedEdge);
        }
        let mut told = Vec::new();
        for e in parts.iter().filter_map(|p| self.part(p.entry)) {
            all.extend(of_ends(e, self.width_of(e), shop));
            let source = e.from.as_ref().map(|f| f.source).filter(|s| !told.contains(s));
            let draft = source.and_then(|id| self.sources.iter().find(|s| s.id == id));
            if let Some(source) = draft {
                told.push(source.id);
                all.extend(of_layout(&source.draft, shop));
            }
        }
        num::sort_by(&mut all, Ord::cmp);
        all.dedup();
        let general = GENERAL.iter().fold(String::new(), |all, one| match all.is_empty() {
            true => (*one).to_owned(),
            false => all + " " + one,
        });
        let mut out = vec![say!(general)];
        out.extend(all.into_iter().map(caution));
        out
    }

    fn width_of(&self, e: &Entry) -> f64 {
        let own = e.seen.or_else(|| self.rack.stock_of(e.stock).map(|s| s.width));
        own.map_or(0.0, |w| w.0)
    }
}

/// What a part's length and ends give by themselves: both of its edges may come to the fence.
fn of_ends(e: &Entry, width: f64, shop: &Shop) -> Vec<Caution> {
    let (saw, ends) = (&shop.saw, [e.left, e.right]);
    let runs = |far: bool| -> f64 {
        let run = |m: f64| width * num::tan_deg(m.abs().min(89.0));
        ends.iter().filter(|p| (p.miter > 0.0) == far).map(|p| run(p.miter)).sum()
    };
    let shorter = e.length.0 - runs(true).max(runs(false));
    let mut all = Vec::new();
    if shorter < saw.hold_length.0 * (1.0 - 1e-12) {
        all.push(Caution::ShortPiece);
    }
    if ends.iter().any(|p| p.miter.abs() > saw.miter_most().0 + 1e-9) {
        all.push(Caution::SteepCut);
    }
    if ends.iter().any(|p| p.miter != 0.0 && p.bevel != 0.0) {
        all.push(Caution::CompoundCut);
    }
    all
}

/// What the layout that a part comes from warns of, and this saw of its parts.
fn of_layout(draft: &super::Draft, shop: &Shop) -> Vec<Caution> {
    let answered = answer(draft, shop);
    let way = draft.way.filter(|w| *w < answered.solved.len()).unwrap_or(0);
    let Some(solved) = answered.solved.get(way) else {
        return Vec::new();
    };
    let mut all = solved.solution.cautions.clone();
    all.extend(solved.solution.parts.iter().flat_map(|p| shop.saw.advise_part(p).cautions));
    all
}
