//! The screen as a gauge: a cut as a line against the phone's long edge, and marks in true size.
//!
//! The phone lies on the board with its left long edge along the board's edge at the fence, its top to the right. So x on the
//! screen runs from the fence toward you, and down the screen is to the left.

use offsquare_cuts::parts::Side;
use offsquare_geometry::Point;
use offsquare_units::{Angle, Length, MM_PER_INCH, num};

/// A reading to set a bevel gauge by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gauge {
    /// Degrees off square.
    pub reading: Angle,
    pub hand: Side,
    /// The line stands at the reading itself to the long edge, in place of at 90° less the reading.
    pub complement: bool,
}

impl Gauge {
    /// The angle between the line and the long edge.
    ///
    /// Example: 31.6° off square meets the edge at 58.4°; its complement at 31.6°.
    pub fn to_edge(&self) -> Angle {
        if self.complement { self.reading } else { self.reading.complement() }
    }

    /// How far the line runs down the screen for every px across it.
    fn slope(&self) -> f64 {
        let steep = num::tan_deg(90.0 - self.to_edge().0);
        if self.hand == Side::Right { -steep } else { steep }
    }

    /// The line over a whole screen, `width` by `height` px, y down: through the middle, from rim to rim.
    pub fn line(&self, width: f64, height: f64) -> (Point, Point) {
        let slope = self.slope();
        let (x, y) = (width / 2.0, height / 2.0);
        let run = if slope.abs() * x <= y { x } else { y / slope.abs() };
        (Point::new(x - run, y - slope * run), Point::new(x + run, y + slope * run))
    }

    /// The same as it lies on a board that is `across` px wide, its end at the fence `from` px down.
    pub fn across(&self, across: f64, from: f64) -> (Point, Point) {
        (Point::new(0.0, from), Point::new(across, from + self.slope() * across))
    }
}

/// One mark of a rule: how far down, how long, its figure.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleMark {
    pub y: f64,
    pub long: f64,
    pub figure: Option<u32>,
}

/// A rule in true size down the screen: every millimeter with centimeters figured, or every 1/16 in with inches figured.
pub fn rule(px_per_mm: f64, height: f64, metric: bool) -> Vec<RuleMark> {
    let step = if metric { px_per_mm } else { px_per_mm * MM_PER_INCH / 16.0 };
    if !(step > 0.5) {
        return Vec::new();
    }
    let count = num::floor(height / step).min(4000.0) as u32;
    let one = |n: u32| {
        let (whole, half) = if metric { (10, 5) } else { (16, 8) };
        let long = match n {
            n if n % whole == 0 => 22.0,
            n if n % half == 0 => 15.0,
            n if !metric && n % 4 == 0 => 11.0,
            _ => 7.0,
        };
        let figure = (n > 0 && n % whole == 0).then_some(n / whole);
        RuleMark { y: f64::from(n) * step, long, figure }
    };
    (0..=count).map(one).collect()
}

/// How much of a length a screen shows.
pub fn reaches(px: f64, px_per_mm: f64) -> Length {
    Length::mm(px / px_per_mm)
}
