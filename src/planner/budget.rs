//! How much a search may still spend, and its pseudorandom numbers.

/// Steps for a whole search; each takes about a nanosecond on a desktop computer.
pub const BUDGET: i64 = 1_500_000_000;

/// Steps that may still be taken. Counting steps instead of time makes every search repeatable.
#[derive(Clone, Copy, Debug)]
pub struct Budget {
    pub left: i64,
}

impl Budget {
    pub fn new(steps: i64) -> Budget {
        Budget { left: steps }
    }
    pub fn spend(&mut self, steps: usize) {
        self.left = self.left.saturating_sub(i64::try_from(steps).unwrap_or(i64::MAX));
    }
    pub fn over(&self) -> bool {
        self.left <= 0
    }
    /// Runs `some` with at most `steps` steps. The flag is true if it used up its share while this budget
    /// still has steps left.
    pub fn lend<T>(&mut self, steps: i64, some: impl FnOnce(&mut Budget) -> T) -> (T, bool) {
        let mut lent = Budget { left: self.left.min(steps) };
        let kept = self.left - lent.left;
        let done = some(&mut lent);
        self.left = kept + lent.left;
        (done, kept > 0 && lent.over())
    }
}

/// A number that looks random (the last step of SplitMix64).
pub fn mixed(n: u64) -> u64 {
    let mut z = n.wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}
