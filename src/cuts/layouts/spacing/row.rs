//! The row: what is spaced, and the gaps between.

/// A row that works.
pub struct Row {
    pub holes: u32,
    /// Middle of the first.
    pub first: f64,
    /// Middle to middle; none for a single hole between margins.
    pub distance: Option<f64>,
    pub gap: Option<f64>,
}

impl Row {
    pub fn centre(&self, i: u32) -> f64 {
        self.first + f64::from(i) * self.distance.unwrap_or(0.0)
    }
}
