//! One small sort for everything that is not in a hurry. The standard library's is faster, but brings some 3 KB of code
//! for every type that it sorts.

use core::cmp::Ordering;

/// Sorts in place; equal members keep their order.
///
/// ```
/// let mut words = ["miter", "saw", "cut"];
/// offsquare_units::num::sort_by(&mut words, |a, b| a.len().cmp(&b.len()));
/// assert_eq!(words, ["saw", "cut", "miter"]);
/// ```
pub fn sort_by<T>(all: &mut [T], order: impl FnMut(&T, &T) -> Ordering) {
    sorted(all.len(), &mut (all, order));
}

/// Members that are compared and swapped by their places, whatever they are.
trait Row {
    fn order(&mut self, i: usize, j: usize) -> Ordering;
    fn swap(&mut self, i: usize, j: usize);
}

impl<T, F: FnMut(&T, &T) -> Ordering> Row for (&mut [T], F) {
    fn order(&mut self, i: usize, j: usize) -> Ordering {
        self.1(&self.0[i], &self.0[j])
    }
    fn swap(&mut self, i: usize, j: usize) {
        self.0.swap(i, j);
    }
}

fn sorted(count: usize, row: &mut dyn Row) {
    // The places in order: each is put behind all that come before it or are equal.
    let mut places = Vec::with_capacity(count);
    for i in 0..count {
        let at = places.partition_point(|&p| row.order(p, i) != Ordering::Greater);
        places.insert(at, i);
    }
    for i in 0..count {
        // Where the member that belongs here is now: those already placed were swapped on from where they stood.
        let mut from = places[i];
        while from < i {
            from = places[from];
        }
        row.swap(i, from);
    }
}

/// Sorts numbers, least first.
pub fn sort(all: &mut [f64]) {
    sort_by(all, f64::total_cmp);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sorts_like_the_standard_library() {
        let mut x = 1_u64;
        for count in 0..60 {
            let mut all: Vec<(u64, usize)> = (0..count)
                .map(|i| {
                    x = x.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
                    (x >> 60, i)
                })
                .collect();
            let mut expected = all.clone();
            expected.sort_by_key(|p| p.0);
            sort_by(&mut all, |a, b| a.0.cmp(&b.0));
            assert_eq!(all, expected);
        }
    }
}
