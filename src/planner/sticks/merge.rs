//! Equal parts are one kind, whatever the order of the input.

use super::ends;
use super::instance::Instance;
use offsquare_units::num::{self, Gather};

/// Parts that are alike in length and in all ways of lying.
#[derive(Clone, Debug)]
pub struct Kind {
    pub len: f64,
    /// Length and the additive part of both joints.
    pub use_len: f64,
    pub qty: u32,
    /// Pairs of end angles, left and right, as it may lie.
    pub lies: Vec<(f64, f64)>,
    /// Index into the job's parts, and how many of this one.
    pub members: Vec<(usize, u32)>,
}

pub fn merged_kinds(instance: &Instance) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = instance
        .parts
        .iter()
        .enumerate()
        .filter(|(_, p)| p.qty > 0)
        .map(|(i, p)| {
            let mut lies: Vec<(f64, f64)> = ends::positions(p.one_good_face)
                .iter()
                .map(|&(t, f)| ends::lying(p.left, p.right, t, f))
                // -0.0 and 0.0 are one angle.
                .map(|(l, r)| (l + 0.0, r + 0.0))
                .gather();
            num::sort_by(&mut lies, |a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
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
    num::sort_by(&mut kinds, |a, b| {
        a.len
            .total_cmp(&b.len)
            .then_with(|| a.lies.partial_cmp(&b.lies).unwrap_or(core::cmp::Ordering::Equal))
    });
    kinds.dedup_by(|kind, last| {
        let same = kind.len == last.len && kind.lies == last.lies;
        if same {
            last.qty += kind.qty;
            last.members.append(&mut kind.members);
        }
        same
    });
    kinds
}
