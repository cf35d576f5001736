//! What a maker asks of a whole piece first: how large it is, and how many parts it has.

use offsquare_cuts::assembly::extent;
use offsquare_units::{Length, Style, say};
use offsquare_work::solved::PiecePart;

/// The box around a piece, and how many single parts it has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overall {
    /// From left to right, as it is seen from the front.
    pub width: Length,
    /// Away from you.
    pub depth: Length,
    pub height: Length,
    pub parts: u32,
}

impl Overall {
    /// Of the parts as they stand; none where nothing stands.
    ///
    /// ```
    /// use offsquare_cuts::layouts::{Detail, Layout};
    /// use offsquare_paper::report::Overall;
    /// use offsquare_units::Style;
    /// use offsquare_work::{patterns, piece::with_changes};
    /// let frame = patterns::find("braced_frame").unwrap();
    /// let inputs = frame.forms[0].start_inputs(false);
    /// let solution = frame.solve(&inputs, Detail::Full).solutions.remove(0);
    /// let all = Overall::of(&with_changes(&solution, &[]).0).unwrap();
    /// assert_eq!(all.face(&Style::default()), "36 × 45");
    /// assert_eq!(all.line(&Style::default()), "36 wide × 45 high × 1 1/2 deep, 5 parts");
    /// ```
    pub fn of(parts: &[PiecePart]) -> Option<Overall> {
        let (low, high) = extent(parts.iter().flat_map(|p| &p.bodies))?;
        let size = high - low;
        let [width, depth, height] = [size.x, size.y, size.z].map(Length);
        Some(Overall { width, depth, height, parts: parts.iter().map(|p| p.qty).sum() })
    }

    /// Width and height without a unit, as they stand on a drawing: "36 × 44 1/2".
    pub fn face(&self, style: &Style) -> String {
        format!("{} × {}", bare(self.width, style), bare(self.height, style))
    }

    /// "6 parts".
    pub fn count(&self) -> String {
        format!("{} {}", self.parts, if self.parts == 1 { "part" } else { "parts" })
    }

    /// In one line.
    pub fn line(&self, style: &Style) -> String {
        let [width, height, depth] = [self.width, self.height, self.depth].map(|l| bare(l, style));
        format!("{width} wide × {height} high × {depth} deep, {}", self.count())
    }
}

/// A length without the name of its unit; feet and inches keep their signs.
fn bare(length: Length, style: &Style) -> String {
    say!(length).render(style).replacen(" in", "", 1).replacen(" mm", "", 1)
}
