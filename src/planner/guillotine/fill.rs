//! Gaps filled with what is left.

use super::super::budget::Work;
use super::corner::{self, Bin, Choose, Rule, Split};
use super::job::Job;
use offsquare_units::num::Gather;

/// A board whose free places are filled with parts that are left, those worth most first.
pub fn topped_up(job: &Job, bin: Bin, left: &[u32], value: &[f64], work: &mut Work) -> Bin {
    let mut kinds: Vec<u32> = (0..left.len() as u32).filter(|&k| left[k as usize] > 0).gather();
    offsquare_units::num::sort_by(&mut kinds, |&a, &b| {
        value[b as usize].total_cmp(&value[a as usize]).then(a.cmp(&b))
    });
    let mut order = Vec::new();
    for k in kinds {
        order.extend(core::iter::repeat_n(k, left[k as usize] as usize));
    }
    let rule = Rule { choose: Choose::Tight, split: Split::Large };
    filled_up(job, [bin], &order, rule, work)
}

fn filled_up(job: &Job, bin: [Bin; 1], order: &[u32], rule: Rule, work: &mut Work) -> Bin {
    let mut bins = bin;
    let mut failed = u32::MAX;
    for &kind in order {
        // Free places only shrink: a kind that found none finds none now.
        if kind != failed && corner::put(job, &mut bins, kind, rule, work).is_none() {
            failed = kind;
        }
    }
    let [bin] = bins;
    bin
}
