//! A board that swings forward and down about a pin, seen from the side: where it first meets something.

use offsquare_geometry::{Point, Vector};
use offsquare_units::num;

/// An upright rectangle seen from the side; x forward, y up, inches.
#[derive(Clone, Copy, Debug)]
pub struct Outline {
    pub low: Point,
    pub high: Point,
}

impl Outline {
    fn corners(&self) -> [Point; 4] {
        let (a, b) = (self.low, self.high);
        [a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)]
    }
    /// Whether a point lies inside by more than a hair.
    fn holds(&self, p: Point, hair: f64) -> bool {
        let between = |low: f64, x: f64, high: f64| low + hair < x && x < high - hair;
        between(self.low.x, p.x, self.high.x) && between(self.low.y, p.y, self.high.y)
    }
}

/// How far the board opens before it runs into another; none where it stays clear up to `opening` degrees.
/// Touching is not running into.
///
/// Two convex outlines that run into each other do so with a corner of one, so only corners are followed:
/// the board's around the pin, and the other's around it backward, as they are seen from the board.
///
/// Example: a board 1 thick that stands on its pin, its inner face above it, sinks 1 below the pin when it
/// is level: a board whose top is 1/2 below the pin stops it at 30°, where its outer lower corner is there.
pub fn first_meeting(pin: Point, board: &Outline, other: &Outline, opening: f64) -> Option<f64> {
    let reach = board.corners().map(|c| (c - pin).length()).into_iter().fold(0.0, f64::max);
    let (below, above) = (pin.y - reach, pin.y + reach);
    if other.high.y <= below || other.low.y >= above {
        return None;
    }
    let ours = board.corners().map(|c| enters(pin, c - pin, other, -1.0, opening));
    let theirs = other.corners().map(|c| enters(pin, c - pin, board, 1.0, opening));
    ours.into_iter().chain(theirs).flatten().reduce(f64::min)
}

/// The first turn, in degrees up to `most`, at which a point enters an outline; `arm` from the pin to the
/// point, `sense` 1 for counter-clockwise.
fn enters(pin: Point, arm: Vector, outline: &Outline, sense: f64, most: f64) -> Option<f64> {
    let (r, from) = (arm.length(), arm.direction().0);
    // Turns at which it passes the line of one of the sides.
    let mut turns = vec![0.0, most];
    let mut pass = |direction: f64| {
        let turn = (direction - from) * sense % 360.0;
        let turn = if turn < 0.0 { turn + 360.0 } else { turn };
        if turn < most {
            turns.push(turn);
        }
    };
    for corner in [outline.low, outline.high] {
        let (x, y) = ((corner.x - pin.x) / r, (corner.y - pin.y) / r);
        if x.abs() <= 1.0 {
            pass(num::acos_deg(x));
            pass(-num::acos_deg(x));
        }
        if y.abs() <= 1.0 {
            pass(num::asin_deg(y));
            pass(180.0 - num::asin_deg(y));
        }
    }
    num::sort(&mut turns);
    let hair = 1e-9 * (r + outline.low.distance(outline.high).0);
    let inside = |turn: f64| {
        let direction = from + sense * turn;
        let at = pin + Vector::new(num::cos_deg(direction), num::sin_deg(direction)) * r;
        outline.holds(at, hair)
    };
    turns.windows(2).find(|w| inside((w[0] + w[1]) / 2.0)).map(|w| w[0])
}

/// How far two boards one above the other, their lower edges `pitch` apart, open together before they run
/// into each other: how far at most where they do at `opening` degrees, none where they are clear.
pub fn open_together(pitch: f64, height: f64, thickness: f64, opening: f64) -> Option<f64> {
    let (across, along) = (pitch * num::sin_deg(opening), pitch * num::cos_deg(opening).abs());
    let hair = 1e-9 * pitch;
    let meet = across < thickness - hair && along < height - hair;
    let last = if opening <= 90.0 {
        num::acos_deg(height / pitch)
    } else {
        180.0 - num::asin_deg(thickness / pitch)
    };
    meet.then_some(last)
}
