//! A square code that a phone's camera reads (ISO/IEC 18004), as black modules on white.

use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};

/// The largest version for a screen: 117 modules a side, 125 with the quiet zone. The narrowest phones' screens are some
/// 64 mm wide, so a module is half a millimeter, which another phone's camera tells apart from a hand's width away.
pub const ON_SCREEN: u8 = 25;
/// The largest version for paper, and a module's side there in mm: with the quiet zone 57 modules, and 22.8 mm, which is
/// what a page has room for. Printed modules of less than 0.4 mm run together.
pub const ON_PAPER: u8 = 8;
pub const PAPER_MODULE: f64 = 0.4;

/// Modules of white on every side, as the standard asks.
const QUIET: i32 = 4;

/// A code, drawn in modules: x to the right, y down, the quiet zone included.
#[derive(Clone, Debug, PartialEq)]
pub struct SquareCode {
    side: i32,
    /// Runs of black in a row: from where, how many, in which row.
    runs: Vec<(i32, i32, i32)>,
}

impl SquareCode {
    /// The code of an address that ends in `letters`, which are all of the standard's alphanumeric ones; none where it is
    /// too large for a version up to `most`. The smallest version that takes it with the least error correction gets the
    /// most that it has room for.
    ///
    /// ```
    /// use offsquare_paper::square_code::{ON_SCREEN, SquareCode};
    /// let code = SquareCode::of("https://saw.example/#/open?c=", "ABC123", ON_SCREEN).unwrap();
    /// assert_eq!(code.side(), 37); // version 3: 29 modules, and 4 of white on every side
    /// ```
    pub fn of(address: &str, letters: &str, most: u8) -> Option<SquareCode> {
        if !QrSegment::is_alphanumeric(letters) {
            return None;
        }
        let segments =
            [QrSegment::make_bytes(address.as_bytes()), QrSegment::make_alphanumeric(letters)];
        let code = QrCode::encode_segments_advanced(
            &segments,
            QrCodeEcc::Low,
            Version::MIN,
            Version::new(most.clamp(1, 40)),
            None,
            true,
        );
        code.ok().map(|code| SquareCode::drawn(&code))
    }

    fn drawn(code: &QrCode) -> SquareCode {
        let mut runs: Vec<(i32, i32, i32)> = Vec::new();
        for y in 0..code.size() {
            for x in (0..code.size()).filter(|x| code.get_module(*x, y)) {
                let (x, y) = (x + QUIET, y + QUIET);
                match runs.last_mut() {
                    Some((from, n, row)) if *row == y && *from + *n == x => *n += 1,
                    _ => runs.push((x, 1, y)),
                }
            }
        }
        SquareCode { side: code.size() + 2 * QUIET, runs }
    }

    /// Modules on a side, with the white around.
    pub fn side(&self) -> i32 {
        self.side
    }

    /// All that is black, as the `d` of an SVG path.
    pub fn path(&self) -> String {
        let run = |&(x, n, y): &(i32, i32, i32)| format!("M{x} {y}h{n}v1h-{n}z");
        self.runs.iter().map(run).collect()
    }

    /// All that is black: left, top, width; each one module high.
    pub fn runs(&self) -> impl Iterator<Item = (f64, f64, f64)> {
        self.runs.iter().map(|&(x, n, y)| (f64::from(x), f64::from(y), f64::from(n)))
    }
}
