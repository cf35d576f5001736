//! The shop: what holds for every layout until changed.

use offsquare_cuts::facts;
use offsquare_cuts::saw::SawProfile;
use offsquare_units::{Fraction, Length, Style, Unit, kept};

/// Light, dark, or as the system has it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    #[default]
    System,
    Light,
    Dark,
}
kept!(Theme: System = "system", Light = "light", Dark = "dark");

/// Sheets that a home printer takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    #[default]
    Letter,
    A4,
}
kept!(Paper: Letter = "letter", A4 = "a4");

/// The maker's saw, units and paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Shop {
    pub saw: SawProfile,
    pub unit: Unit,
    pub fraction: Fraction,
    pub paper: Paper,
    /// What the 100 mm bar measured on the maker's printer, across and along, in millimeters.
    pub bar_mm: (f64, f64),
    pub theme: Theme,
    /// How large the screen shows, once a bank card was held to it.
    pub true_size: Option<TrueSize>,
}
kept!(Shop { saw, unit, fraction, paper, bar_mm, theme, true_size } or Shop::default());

/// What a bank card held to the screen has shown, and on which screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrueSize {
    pub px_per_mm: f64,
    /// Device pixels to a px; the browser's zoom changes it.
    pub ratio: f64,
    /// The screen's sides, px.
    pub short: f64,
    pub long: f64,
}
kept!(TrueSize { px_per_mm, ratio, short, long });

/// Long and short side of a bank card, mm: ISO/IEC 7810, ID-1.
pub const CARD_MM: (f64, f64) = (85.60, 53.98);
/// How near an eye lays a card's edge to a line, mm (our assumption).
const LAID: f64 = 0.25;

impl TrueSize {
    /// The card's long side measured so many px on the screen.
    pub fn of_card(long_px: f64, (ratio, short, long): (f64, f64, f64)) -> TrueSize {
        TrueSize { px_per_mm: long_px / CARD_MM.0, ratio, short, long }
    }

    /// Whether it still holds on this screen at this zoom.
    pub fn holds(&self, (ratio, short, long): (f64, f64, f64)) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-3 * a.max(b);
        near(self.ratio, ratio) && near(self.short, short) && near(self.long, long)
    }

    /// How far off a length may show: an edge laid at either end of the card, in its measure.
    ///
    /// Example: 100 mm by a card of 85.6 mm, laid to 0.25 mm: 0.29 mm.
    pub fn good_to(&self, length: Length) -> Length {
        Length(length.0 * LAID / CARD_MM.0)
    }

    pub fn px(&self, length: Length) -> f64 {
        length.as_mm() * self.px_per_mm
    }

    pub fn can_be(&self) -> bool {
        (0.5..=60.0).contains(&self.px_per_mm) && self.ratio > 0.0
    }
}

impl Default for Shop {
    fn default() -> Shop {
        Shop {
            saw: SawProfile::usual(),
            unit: Unit::Inch,
            fraction: Fraction::Sixteenth,
            paper: Paper::Letter,
            bar_mm: (100.0, 100.0),
            theme: Theme::System,
            true_size: None,
        }
    }
}

impl Shop {
    /// How quantities are shown in `unit`.
    pub fn style_in(&self, unit: Unit) -> Style {
        Style { unit, fraction: self.fraction.suited_to(unit), ..Style::default() }
    }
    /// The sheet to print on.
    pub fn sheet(&self) -> facts::Paper {
        match self.paper {
            Paper::Letter => facts::LETTER.value,
            Paper::A4 => facts::A4.value,
        }
    }
    pub fn style(&self) -> Style {
        self.style_in(self.unit)
    }
}
