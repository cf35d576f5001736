//! Whether a part can be cut from a stock, and what has to be done for it.

use super::{Entry, rectangles};
use crate::rack::Stock;
use offsquare_units::{Length, Text, say};

/// How a part comes out of a stock; the least work first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fit {
    /// It is the stock's own section: cut to length.
    Whole,
    /// A rectangle of a sheet.
    Sheet,
    /// Ripped from a wider board.
    Ripped,
    /// Of a thicker one: planed down.
    Planed,
}

impl Fit {
    /// The stock's name with what has to be done.
    pub fn words(self, name: &str) -> String {
        match self {
            Fit::Whole | Fit::Sheet => name.to_owned(),
            Fit::Ripped => format!("{name}, ripped"),
            Fit::Planed => format!("{name}, planed down"),
        }
    }
}

/// How far a size may be over the board's by what boards differ, in inches.
const SLACK: f64 = 1.0 / 32.0;

/// How a part comes out of a stock, or why it does not, in a few words.
///
/// ```
/// use offsquare_work::cutlist::{Entry, Fit, fit};
/// use offsquare_work::rack::Rack;
/// use offsquare_units::{Length, Style};
/// let part = Entry { seen: Some(Length(2.5)), away: Some(Length(0.75)), ..Entry::default() };
/// let rack = Rack::default();
/// let of = |name: &str| fit(rack.named(name).expect("there"), &part);
/// assert_eq!((of("1x3"), of("1x4")), (Ok(Fit::Whole), Ok(Fit::Ripped)));
/// let why = of("1x2").expect_err("1 1/2 in");
/// assert_eq!(why.render(&Style::default()), "too narrow: 1 1/2 in");
/// ```
pub fn fit(stock: &Stock, entry: &Entry) -> Result<Fit, Text> {
    if !stock.sheet && stock.lies(entry.seen, entry.away).is_some() {
        return Ok(Fit::Whole);
    }
    let sizes = (entry.seen.unwrap_or(stock.width), entry.away.unwrap_or(stock.thickness));
    let (wide, thin) = (sizes.0.max(sizes.1), sizes.0.min(sizes.1));
    let (width, thickness) = (stock.width.max(stock.thickness), stock.width.min(stock.thickness));
    match rectangles::width(stock, entry) {
        Some(_) if stock.sheet => Ok(Fit::Sheet),
        Some(_) if thin < thickness - Length(SLACK) => Ok(Fit::Planed),
        Some(_) => Ok(Fit::Ripped),
        None if stock.sheet && entry.seen.is_none() => {
            Err(say!("a sheet: give the part its size seen"))
        }
        None if stock.sheet => Err(say!("another thickness: {}", stock.thickness)),
        None if thin > thickness + Length(SLACK) && wide <= width + Length(SLACK) => {
            Err(say!("too thin: {}", stock.thickness))
        }
        None if thin > thickness + Length(SLACK) => {
            Err(say!("too small: {} by {}", stock.width, stock.thickness))
        }
        None => Err(say!("too narrow: {}", stock.width)),
    }
}
