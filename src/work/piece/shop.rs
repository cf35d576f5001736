//! The shop: what holds for every layout until changed.

use offsquare_cuts::facts;
use offsquare_cuts::saw::SawProfile;
use offsquare_units::{Fraction, Style, Unit, kept};

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
}
kept!(Shop { saw, unit, fraction, paper, bar_mm, theme } or Shop::default());

impl Default for Shop {
    fn default() -> Shop {
        Shop {
            saw: SawProfile::usual(),
            unit: Unit::Inch,
            fraction: Fraction::Sixteenth,
            paper: Paper::Letter,
            bar_mm: (100.0, 100.0),
            theme: Theme::System,
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
