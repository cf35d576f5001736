//! The scale: its marks and the board that bears them.

use offsquare_geometry::Point;

/// One mark.
pub struct Mark {
    pub at: f64,
    pub long: bool,
    pub figure: Option<f64>,
    /// From 0.
    pub section: usize,
    pub in_section: f64,
}

/// What the scale is made of.
pub struct Scale {
    pub board: f64,
    pub width: f64,
    pub long: f64,
    pub short: f64,
    pub sections: usize,
    pub far: bool,
    pub count: f64,
    pub long_count: f64,
    pub first_at: f64,
    pub last_at: f64,
    /// All of them; left empty for the root finder.
    pub marks: Vec<Mark>,
}

impl Scale {
    pub fn section_length(&self) -> f64 {
        self.board / self.sections as f64
    }
    /// Where a mark's figure stands: past the end of its line.
    pub fn beyond(&self, mark: &Mark, x: f64) -> Point {
        let (from, to) = self.line(mark, x);
        let off = self.width * 0.15;
        match self.far {
            true => Point::new(x, from.y - off),
            false => Point::new(x, to.y + off),
        }
    }
    pub fn line(&self, mark: &Mark, x: f64) -> (Point, Point) {
        let reach = if mark.long { self.long } else { self.short };
        if self.far {
            (Point::new(x, self.width - reach), Point::new(x, self.width))
        } else {
            (Point::new(x, 0.0), Point::new(x, reach))
        }
    }
}
