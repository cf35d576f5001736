//! Equal parts and equal boards are one kind, whatever the order of the input.

use super::ends;
use super::instance::{Instance, WORKING};
use super::job::{Bin, Kind, Stock};
use crate::num::Gather;

pub(super) fn flat(lies: &[(f64, f64)]) -> Vec<f64> {
    lies.iter().flat_map(|&(l, r)| [l, r]).gather()
}

pub(super) fn merged_kinds(instance: &Instance) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = instance
        .parts
        .iter()
        .enumerate()
        .filter(|(_, p)| p.qty > 0)
        .map(|(i, p)| {
            let mut lies: Vec<(f64, f64)> = ends::positions(p)
                .iter()
                .map(|&(t, f)| ends::lying(p.left, p.right, t, f))
                // -0.0 and 0.0 are one angle.
                .map(|(l, r)| (l + 0.0, r + 0.0))
                .gather();
            crate::num::sort_by(&mut lies, |a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
            lies.dedup();
            Kind {
                len: p.length,
                use_len: 0.0,
                qty: p.qty as u32,
                lies,
                members: vec![(i, p.qty as u32)],
            }
        })
        .gather();
    crate::num::sort_by(&mut kinds, |a, b| {
        a.len.total_cmp(&b.len).then_with(|| {
            flat(&a.lies).partial_cmp(&flat(&b.lies)).unwrap_or(core::cmp::Ordering::Equal)
        })
    });
    let mut merged: Vec<Kind> = Vec::new();
    for kind in kinds {
        match merged.last_mut() {
            Some(last) if last.len == kind.len && last.lies == kind.lies => {
                last.qty += kind.qty;
                last.members.extend(kind.members);
            }
            _ => merged.push(kind),
        }
    }
    merged
}

pub(super) fn merged_stock(
    instance: &Instance,
    prices: &[i128],
    total: u32,
    shortest: f64,
) -> Vec<Stock> {
    let mut stock: Vec<Stock> = instance
        .boards
        .iter()
        .enumerate()
        .map(|(i, b)| {
            let limit = b.limit.map_or(total, |l| l.min(u64::from(total)) as u32);
            Stock {
                bin: Bin { room: b.length - 2.0 * instance.trim, tail: false },
                length: b.length,
                price: prices[i],
                limit,
                members: vec![(i, limit)],
            }
        })
        .filter(|s| s.limit > 0 && s.bin.room + WORKING >= shortest)
        .gather();
    crate::num::sort_by(&mut stock, |a, b| {
        b.length.total_cmp(&a.length).then(a.price.cmp(&b.price))
    });
    let mut merged: Vec<Stock> = Vec::new();
    for s in stock {
        match merged.last_mut() {
            Some(last) if last.length == s.length && last.price == s.price => {
                last.limit = last.limit.saturating_add(s.limit).min(total);
                last.members.extend(s.members);
            }
            _ => merged.push(s),
        }
    }
    // A board that is no longer and no cheaper than one of which there are plenty is never needed.
    let plenty: Vec<(f64, i128)> =
        merged.iter().filter(|s| s.limit == total).map(|s| (s.length, s.price)).gather();
    merged.retain(|s| {
        !plenty.iter().any(|&(l, p)| l >= s.length && p <= s.price && (l, p) != (s.length, s.price))
    });
    merged
}
