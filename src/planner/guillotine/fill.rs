//! Fills free places with parts that are left.

use super::super::budget::Budget;
use super::corner::{self, Bin, Choose, Rule, Split};
use super::model::Model;
use offsquare_units::num::{self, Gather};

/// A board whose free places are filled with parts that are left, those worth most first.
pub fn topped_up(model: &Model, bin: Bin, left: &[u32], value: &[f64], budget: &mut Budget) -> Bin {
    let mut kinds: Vec<u32> = (0..left.len() as u32).filter(|&k| left[k as usize] > 0).gather();
    num::sort_by(&mut kinds, |&a, &b| {
        value[b as usize].total_cmp(&value[a as usize]).then(a.cmp(&b))
    });
    let mut order = Vec::new();
    for k in kinds {
        order.extend(core::iter::repeat_n(k, left[k as usize] as usize));
    }
    let rule = Rule { choose: Choose::Tight, split: Split::Large };
    filled_up(model, [bin], &order, rule, budget)
}

fn filled_up(model: &Model, bin: [Bin; 1], order: &[u32], rule: Rule, budget: &mut Budget) -> Bin {
    let mut bins = bin;
    let mut failed = u32::MAX;
    for &kind in order {
        // Free places only shrink: a kind that found none finds none now.
        if kind != failed && corner::put(model, &mut bins, kind, rule, budget).is_none() {
            failed = kind;
        }
    }
    let [bin] = bins;
    bin
}
