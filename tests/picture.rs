//! A gray picture, and the square codes that an independent reader finds in it.

/// Dots in rows, 0 black to 255 white.
pub struct Picture {
    pub wide: usize,
    pub high: usize,
    pub dots: Vec<u8>,
}

impl Picture {
    pub fn white(wide: usize, high: usize) -> Picture {
        Picture { wide, high, dots: vec![255; wide * high] }
    }

    /// A box from (x0, y0) up to (x1, y1).
    pub fn blacken(&mut self, x0: usize, y0: usize, x1: usize, y1: usize) {
        for y in y0..y1.min(self.high) {
            self.dots[y * self.wide + x0..y * self.wide + x1.min(self.wide)].fill(0);
        }
    }
}

/// What every code in it says.
pub fn codes(picture: &Picture) -> Vec<String> {
    let dot = |x: usize, y: usize| picture.dots[y * picture.wide + x];
    let mut seen = rqrr::PreparedImage::prepare_from_greyscale(picture.wide, picture.high, dot);
    let all = seen.detect_grids();
    all.iter().map(|grid| grid.decode().expect("a code that can be read").1).collect()
}
