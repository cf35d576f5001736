//! A board that stands at the slope it will have in the piece, its lower edge on the table and its upper
//! one against the fence: whether it goes through this saw so.

use super::SawProfile;
use super::capacity::Misfit;
use super::wording;
use crate::parts::Side;
use offsquare_units::{Angle, Length, Text, say};

/// A board at its slope against the fence.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// The part's name.
    pub name: &'static str,
    /// Degrees off square and off upright, never negative.
    pub miter: Angle,
    pub bevel: Angle,
    /// How high it stands and how deep on the table, square to the fence.
    pub height: Length,
    pub depth: Length,
}

impl SawProfile {
    /// The settings for a board that stands at its slope, or what keeps this saw from cutting it so.
    ///
    /// ```
    /// use offsquare_cuts::saw::{SawProfile, Standing};
    /// use offsquare_units::{Angle, Length, Style};
    /// let board = Standing {
    ///     name: "Sides", miter: Angle(45.0), bevel: Angle(0.0), height: Length(5.0), depth: Length(2.0),
    /// };
    /// let said = SawProfile::usual().standing(&board).render(&Style::default());
    /// assert!(said.contains("The piece stands 5 in high; at this tilt the saw cuts 3 1/2 in."));
    /// ```
    pub fn standing(&self, s: &Standing) -> Text {
        let fit =
            self.fit((s.miter, Side::Neither), (s.bevel, Side::Neither), s.depth, Some(s.height));
        if let Some(first) = fit.misfits.first() {
            let mut text =
                say!("{}, standing at the slope against the fence: not on this saw. ", s.name);
            let why = match first {
                Misfit::TooWide { needed, reach } => {
                    say!(
                        "The piece stands {} deep; at this reading the saw cuts {}.",
                        *needed,
                        *reach
                    )
                }
                other => wording::misfit(other),
            };
            text.extend(why);
            return text;
        }
        let mut text =
            say!("{}, standing at the slope against the fence: miter {}", s.name, s.miter);
        text.extend(if s.bevel.0 == 0.0 {
            say!(", no bevel.")
        } else {
            say!(", bevel {}.", s.bevel)
        });
        text
    }
}
