//! The last value that works, by halves.

/// Between a value that works and one that does not, where it works up to one place: the last that does, its
/// neighbor the first that does not.
///
/// Example: x² < 2 between 0 and 2 ends at 1.414….
pub fn last_that(works: impl Fn(f64) -> bool, mut good: f64, mut bad: f64) -> f64 {
    for _ in 0..200 {
        let middle = good + (bad - good) / 2.0;
        if middle == good || middle == bad {
            break;
        }
        *(if works(middle) { &mut good } else { &mut bad }) = middle;
    }
    good
}
