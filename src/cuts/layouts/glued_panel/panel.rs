//! The panel and the strips that it is glued from.

/// A panel that works; lengths in inches.
pub struct Panel {
    pub width: f64,
    pub length: f64,
    pub trim_length: f64,
    pub strips: f64,
    /// Finished width of one strip.
    pub strip: f64,
    pub rip: f64,
    pub per_board: f64,
    pub joint: f64,
    pub kerf: f64,
    pub board: f64,
    /// Finished width of the mitered end pieces, where there are any.
    pub end: Option<f64>,
}
