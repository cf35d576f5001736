//! Plywood as it really is.

use super::{Fact, Seen, Source};
use offsquare_units::Length;

/// One performance category of US plywood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plywood {
    /// As it is sold: "23/32".
    pub category: &'static str,
    pub least: Length,
    pub greatest: Length,
    /// Thickness on the label.
    pub label: Length,
}

const APA: Source = Source {
    title: "APA - The Engineered Wood Association, Performance Category and Thickness (quotes PS 1)",
    edition: "PS 1-19",
    place: "thickness table",
    seen: Seen::SecondHand,
};

const fn row(category: &'static str, least: f64, greatest: f64, label: f64) -> Fact<Plywood> {
    Fact {
        value: Plywood {
            category,
            least: Length::inches(least),
            greatest: Length::inches(greatest),
            label: Length::inches(label),
        },
        source: APA,
    }
}

/// Inches, measured at 9 % moisture content.
pub const PLYWOOD: [Fact<Plywood>; 10] = [
    row("1/4", 0.219, 0.281, 0.225),
    row("3/8", 0.344, 0.406, 0.354),
    row("15/32", 0.438, 0.500, 0.451),
    row("1/2", 0.469, 0.531, 0.483),
    row("19/32", 0.563, 0.625, 0.578),
    row("5/8", 0.594, 0.656, 0.609),
    row("23/32", 0.688, 0.750, 0.703),
    row("3/4", 0.719, 0.781, 0.734),
    row("1", 0.950, 1.050, 0.970),
    row("1-1/8", 1.069, 1.181, 1.091),
];
