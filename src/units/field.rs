//! A length as the text of a field.

use super::{Fraction, Length, Style, Ticks, Unit, print_decimal, print_length};

/// A length as it stands in a field: on the mark where there is one, as a decimal elsewhere, so that
/// reading it back gives the same length.
///
/// Example: 2.5 in reads `2 1/2`; in millimeters `63.5`.
pub fn length_text(length: Length, unit: Unit) -> String {
    let style = Style {
        unit,
        fraction: Fraction::SixtyFourth.suited_to(unit),
        strong_shy: false,
        decimals: false,
    };
    let printed = print_length(length, &style);
    if printed.off != Ticks(0) {
        // The field's own unit button says the unit.
        let decimal = print_decimal(length, unit);
        decimal.trim_end_matches(|c: char| c.is_ascii_alphabetic() || c == ' ').to_owned()
    } else if unit == Unit::FeetInches {
        printed.to_string()
    } else if printed.negative {
        format!("-{}", printed.figures())
    } else {
        printed.figures()
    }
}
