//! Boards that are alike, merged and sorted, so that the order of the input cannot matter.

use offsquare_units::num::{self, Gather};

/// Board kinds of one size and price, as the search sees them.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// For sticks, the whole length and 1; for rectangles, the padded usable length and width.
    pub len: f64,
    pub wid: f64,
    /// The room for parts: for sticks the usable length, for rectangles the padded usable area.
    pub room: f64,
    pub price: i128,
    pub limit: u32,
    /// Index into the job's board kinds, and how many of this one.
    pub members: Vec<(usize, u32)>,
}

impl Stock {
    pub fn size(&self) -> f64 {
        self.len * self.wid
    }
}

/// How many boards of a kind can be of use for `total` parts.
pub fn limited(limit: Option<u64>, total: u32) -> u32 {
    limit.map_or(total, |l| l.min(u64::from(total)) as u32)
}

/// Sorts the largest first, merges those of equal size and price, and drops those that are never needed.
pub fn merged(mut stock: Vec<Stock>, total: u32) -> Vec<Stock> {
    num::sort_by(&mut stock, |a, b| {
        let larger = b.size().total_cmp(&a.size()).then(b.len.total_cmp(&a.len));
        larger.then(a.price.cmp(&b.price))
    });
    stock.dedup_by(|s, last| {
        let same = (s.len, s.wid, s.price) == (last.len, last.wid, last.price);
        if same {
            last.limit = last.limit.saturating_add(s.limit).min(total);
            last.members.append(&mut s.members);
        }
        same
    });
    // A board no larger in either direction and no cheaper than one of which there are plenty is never needed.
    let plenty: Vec<(f64, f64, i128)> =
        stock.iter().filter(|s| s.limit == total).map(|s| (s.len, s.wid, s.price)).gather();
    stock.retain(|s| {
        !plenty.iter().any(|&(l, w, p)| {
            l >= s.len && w >= s.wid && p <= s.price && (l, w, p) != (s.len, s.wid, s.price)
        })
    });
    stock
}

/// Takes one of several that are alike; returns the index of the next member that is left.
pub fn take(members: &mut [(usize, u32)]) -> Option<usize> {
    let member = members.iter_mut().find(|m| m.1 > 0)?;
    member.1 -= 1;
    Some(member.0)
}
