//! A board as it lies on the saw to be cut: against the fence, a tape along its near edge.

use super::hatch::hatch;
use super::mark::{COMPUTED, CUT, Mark, OFFCUT, Rect};
use super::runs::{Run, runs, width};
use super::{Anchor, Drawing};
use offsquare_geometry::Point;
use offsquare_planner::{CutBoard, Instance, ends};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, AngleStep, Length, Printed, Style, print_angle, print_length};

/// What is drawn: a board of a plan, and what is known of it beyond the plan. Lengths in inches.
pub struct BoardOnSaw<'a> {
    pub job: &'a Instance,
    pub cut: &'a CutBoard,
    /// The whole board.
    pub length: f64,
    /// Place 0 of the plan, from the board's left end.
    pub start: f64,
    /// What is left right of the last cut, and whether it is kept.
    pub left: f64,
    pub keeps: bool,
    /// Stretches that cannot be used.
    pub bad: &'a [(f64, f64)],
    /// Names of the job's parts.
    pub names: &'a [String],
}

/// Heights in px.
pub(super) const FENCE: f64 = 9.0;
pub(super) const TAPE: f64 = 16.0;
pub(super) const FIGURES: f64 = 20.0;
pub(super) const BORDER: f64 = 8.0;
/// px per inch, of what is too wide to fill the screen with.
const MOST_SCALE: f64 = 7.0;
/// px per inch, of what is drawn in rows so that it can be read.
pub(super) const LEAST_SCALE: f64 = 6.0;
pub(super) const TEXT: f64 = 13.0;

pub(super) struct Sheet<'a> {
    pub style: &'a Style,
    /// px per inch.
    pub scale: f64,
    /// px of the near edge and of the fence.
    pub near: f64,
    pub far: f64,
    pub width: f64,
    pub marks: Vec<Mark>,
}

/// A part's corners: x at the near edge and at the fence, left end and right end, from the board's left end.
struct Lain {
    left: [f64; 2],
    right: [f64; 2],
    angles: [f64; 2],
}

/// The board to scale, at least as wide as `frame` px; wider where it could not be read so, to be told in
/// [`rows`](super::rows). Edge A is nearest you, edge B at the fence, as the saw reads it.
///
/// ```
/// use offsquare_planner::{BoardKind, CutBoard, Instance, PartKind, Placement};
/// use offsquare_paper::drawing::{BoardOnSaw, board_on_saw};
/// use offsquare_units::Style;
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("8ft", 96.0, 4.28)],
///     parts: vec![PartKind::mitered("brace", 1, 32.0, 0.0, 45.0)],
/// };
/// let cut = CutBoard { parts: vec![Placement::default()], ..CutBoard::default() };
/// let picture = board_on_saw(&BoardOnSaw {
///     job: &job, cut: &cut, length: 96.0, start: 0.0, left: 63.8, keeps: true, bad: &[], names: &["Brace".into()],
/// }, 976.0, &Style::default());
/// assert_eq!(picture.per_inch, 10.0); // 976 px less a border of 8 px on both sides, over 96 in
/// // The left end is the board's own: one line to cut on.
/// assert_eq!(picture.marks.iter().filter(|m| m.class() == Some("cut")).count(), 1);
/// ```
pub fn board_on_saw(board: &BoardOnSaw, frame: f64, style: &Style) -> Drawing {
    let w = board.job.width;
    if !(board.length > 0.0 && w > 0.0 && frame > 0.0) {
        return Drawing::default();
    }
    // Tall enough to read.
    let least = (20.0 / w).clamp(LEAST_SCALE, 10.0);
    let mut sheet = Sheet::of(board.length, w, (frame, least), style);
    let lain = lain(board);
    sheet.ground(board.length);
    sheet.waste(board, &lain);
    sheet.parts(board, &lain);
    sheet.cuts(board, &lain);
    let ends: Vec<f64> = lain.iter().flat_map(|l| [l.left[0], l.right[0]]).gather();
    sheet.tape(board.length, &ends);
    sheet.running(board.length, &ends);
    sheet.done()
}

fn lain(board: &BoardOnSaw) -> Vec<Lain> {
    let w = board.job.width;
    board
        .cut
        .parts
        .iter()
        .filter_map(|p| {
            let part = board.job.parts.get(p.part)?;
            let (l, r) = ends::lying(part.left, part.right, p.turned, p.flipped);
            let (ol, or) = (ends::reach(w, l), ends::reach(w, r));
            let (x, end) = (p.x + board.start, p.x + board.start + part.length);
            Some(Lain {
                left: [x + (-ol).max(0.0), x + ol.max(0.0)],
                right: [end - (-or).max(0.0), end - or.max(0.0)],
                angles: [l, r],
            })
        })
        .gather()
}

impl<'a> Sheet<'a> {
    /// A board of that length and width that fills the frame, but is no wall of wood; with at least so many px per inch.
    pub(super) fn of(
        length: f64,
        width: f64,
        (frame, least): (f64, f64),
        style: &'a Style,
    ) -> Sheet<'a> {
        let fits = (frame - 2.0 * BORDER) / length;
        let scale = fits.min((96.0 / width).max(fits.min(MOST_SCALE))).max(least);
        let far = FENCE + 1.0;
        Sheet {
            style,
            scale,
            near: far + width * scale,
            far,
            width: length * scale + 2.0 * BORDER,
            marks: Vec::new(),
        }
    }
    pub(super) fn done(self) -> Drawing {
        Drawing {
            width: self.width,
            height: self.near + TAPE + FIGURES,
            per_inch: self.scale,
            origin: Point::ORIGIN,
            marks: self.marks,
            left_out: Vec::new(),
        }
    }
}

impl Sheet<'_> {
    pub(super) fn x(&self, inches: f64) -> f64 {
        BORDER + inches * self.scale
    }
    fn at(&self, inches: f64, far: bool) -> Point {
        Point::new(self.x(inches), if far { self.far } else { self.near })
    }
    fn quad(&self, left: [f64; 2], right: [f64; 2]) -> Vec<Point> {
        vec![
            self.at(left[0], false),
            self.at(right[0], false),
            self.at(right[1], true),
            self.at(left[1], true),
        ]
    }
    pub(super) fn line(&mut self, from: Point, to: Point, class: &'static str) {
        self.marks.push(Mark::Line { from, to, class });
    }
    pub(super) fn shape(&mut self, points: Vec<Point>, class: &'static str) {
        self.marks.push(Mark::Path { points, closed: true, filled: false, class });
    }
    pub(super) fn hatched(&mut self, outline: &[Point]) {
        let lines = hatch(outline, 6.0);
        if !lines.is_empty() {
            self.marks.push(Mark::Strokes { lines, class: "waste" });
        }
    }
    /// Words with their middle at a place; none where they are wider than the room.
    pub(super) fn words(
        &mut self,
        text: &str,
        middle: Point,
        size: f64,
        room: f64,
        class: &'static str,
    ) -> bool {
        let all: Vec<Run> = runs(text);
        let wide = width(&all, size) * 1.15;
        if wide > room {
            return false;
        }
        self.marks.push(Mark::Text {
            at: Point::new(middle.x, middle.y + size * 0.36),
            anchor: Anchor::Middle,
            size,
            runs: all,
            rect: Rect::around(middle, wide, size),
            field: None,
            class,
        });
        true
    }
    fn printed(&self, inches: f64) -> Printed {
        print_length(Length(inches), &Style { strong_shy: false, ..*self.style })
    }
    pub(super) fn length(&self, inches: f64) -> String {
        let printed = self.printed(inches);
        if printed.feet.is_some() { printed.to_string() } else { printed.figures() }
    }

    /// The fence, and the whole board before anything is cut.
    pub(super) fn ground(&mut self, length: f64) {
        let (left, right) = (self.x(0.0) - BORDER + 1.0, self.x(length) + BORDER - 1.0);
        let fence = [
            Point::new(left, 1.0),
            Point::new(right, 1.0),
            Point::new(right, FENCE),
            Point::new(left, FENCE),
        ];
        self.shape(fence.to_vec(), "fence");
        let whole = self.quad([0.0; 2], [length; 2]);
        self.shape(whole, "frame");
    }

    /// What falls off, hatched, with an X where there is room; what is kept, with its length.
    fn waste(&mut self, board: &BoardOnSaw, lain: &[Lain]) {
        let middle = (self.near + self.far) / 2.0;
        let mut edge = [0.0; 2];
        for l in lain {
            self.falls_off(edge, l.left, middle);
            edge = l.right;
        }
        let kept = (board.length - board.left).max(0.0);
        if board.keeps && board.left > 0.0 {
            self.falls_off(edge, [kept; 2], middle);
            let room = board.left * self.scale - 6.0;
            let at = Point::new(self.x(board.length - board.left / 2.0), middle);
            let text = format!("keep {}", self.length(board.left));
            self.words(&text, at, TEXT, room, COMPUTED);
        } else {
            self.falls_off(edge, [board.length; 2], middle);
        }
        for (from, to) in board.bad {
            let outline = self.quad([*from; 2], [to.min(board.length); 2]);
            self.hatched(&outline);
            self.shape(outline, "care");
        }
    }

    fn falls_off(&mut self, from: [f64; 2], to: [f64; 2], middle: f64) {
        let gap = [to[0] - from[0], to[1] - from[1]];
        if gap[0].max(gap[1]) <= 1e-6 {
            return;
        }
        let outline = self.quad(from, to);
        self.hatched(&outline);
        let wide = (gap[0] + gap[1]) / 2.0 * self.scale;
        if wide > 22.0 {
            let x = self.x((from[0] + from[1] + to[0] + to[1]) / 4.0);
            let r = 6.0;
            let corner = |dx: f64, dy: f64| Point::new(x + dx * r, middle + dy * r);
            self.marks.push(Mark::Strokes {
                lines: vec![
                    (corner(-1.0, -1.0), corner(1.0, 1.0)),
                    (corner(-1.0, 1.0), corner(1.0, -1.0)),
                ],
                class: OFFCUT,
            });
        }
    }

    fn parts(&mut self, board: &BoardOnSaw, lain: &[Lain]) {
        let middle = (self.near + self.far) / 2.0;
        for (l, p) in lain.iter().zip(&board.cut.parts) {
            let outline = self.quad(l.left, l.right);
            self.shape(outline, "stock");
            let left = (l.left[0] + l.left[1]) / 2.0;
            let right = (l.right[0] + l.right[1]) / 2.0;
            let room = (right - left) * self.scale - 8.0;
            // What the wider of both angles takes on either side of the name.
            let mut taken: f64 = 0.0;
            // Angles stand at their ends, where the name leaves room.
            for (i, angle) in l.angles.iter().enumerate().filter(|a| *a.1 != 0.0) {
                let text = degrees(*angle);
                let wide = width(&runs(&text), 11.0) * 1.15 + 8.0;
                let name = board.names.get(p.part).map_or("", String::as_str);
                if room - 2.0 * wide.max(taken) < width(&runs(name), TEXT).min(40.0) {
                    continue;
                }
                let x = if i == 0 { self.x(left) + wide / 2.0 } else { self.x(right) - wide / 2.0 };
                if self.words(&text, Point::new(x, middle), 11.0, wide, COMPUTED) {
                    taken = taken.max(wide);
                }
            }
            let Some(name) = board.names.get(p.part) else {
                continue;
            };
            let room = room - 2.0 * taken;
            let at = Point::new((self.x(left) + self.x(right)) / 2.0, middle);
            let size = board.job.parts.get(p.part).map_or(0.0, |k| k.length);
            let full = format!("{name} {}", self.length(size));
            if !self.words(&full, at, TEXT, room, "stock") {
                self.words(name, at, TEXT, room, "stock");
            }
        }
    }

    /// The lines to cut on, on the side that falls off; an end shared by two parts is one line.
    fn cuts(&mut self, board: &BoardOnSaw, lain: &[Lain]) {
        let half = |angle: f64| ends::kerf_along(board.job.kerf, angle) / 2.0;
        let mut last: Option<[f64; 2]> = None;
        for l in lain {
            for (ends_at, angle, out) in [(l.left, l.angles[0], -1.0), (l.right, l.angles[1], 1.0)]
            {
                let by = out * half(angle);
                let at = [ends_at[0] + by, ends_at[1] + by];
                let own = angle == 0.0
                    && (ends_at[0].abs() < 1e-6 || (ends_at[0] - board.length).abs() < 1e-6);
                let again = last.is_some_and(|b: [f64; 2]| {
                    (b[0] - at[0]).abs() < 1e-6 && (b[1] - at[1]).abs() < 1e-6
                });
                if own || again {
                    continue;
                }
                let (from, to) = (self.at(at[0], false), self.at(at[1], true));
                self.line(from, to, CUT);
                last = Some(at);
            }
        }
    }

    /// The tape along the near edge: inches with feet figured, or centimeters with decimeters; a
    /// figure that a mark would run through is left out.
    pub(super) fn tape(&mut self, length: f64, marks: &[f64]) {
        let y = self.near + 3.0;
        let (from, to) = (Point::new(self.x(0.0), y), Point::new(self.x(length), y));
        self.line(from, to, "tape");
        let metric = self.style.unit.is_metric();
        let (step, major) = if metric { (1.0 / 2.54, 10) } else { (1.0, 12) };
        let fine = self.scale * step >= 3.0;
        let mut ticks = Vec::new();
        let count = offsquare_units::num::floor(length / step + 1e-9).min(5000.0) as u32;
        for n in 0..=count {
            let whole = n % major == 0;
            if !whole && !fine {
                continue;
            }
            let x = self.x(f64::from(n) * step);
            let tall = if whole { 12.0 } else { 5.0 };
            ticks.push((Point::new(x, y), Point::new(x, y + tall)));
            let struck = |m: &f64| (x - 20.0..x).contains(&self.x(*m));
            if whole && n > 0 && !marks.iter().any(struck) {
                let text = if metric { format!("{} cm", n) } else { format!("{}\u{2032}", n / 12) };
                self.marks.push(Mark::Text {
                    // Clear of the small ticks.
                    at: Point::new(x - 3.0, y + 12.6),
                    anchor: Anchor::End,
                    size: 10.0,
                    runs: runs(&text),
                    rect: Rect::around(Point::new(x - 10.0, y + 8.6), 16.0, 10.0),
                    field: None,
                    class: "tape",
                });
            }
        }
        self.marks.push(Mark::Strokes { lines: ticks, class: "tape" });
    }

    /// Where each part ends along the near edge, from the left end; those without room are in the list. The first
    /// says in which unit.
    pub(super) fn running(&mut self, length: f64, ends: &[f64]) {
        let y = self.near + TAPE + FIGURES / 2.0;
        let mut free = 0.0;
        for &x in ends {
            if x < 1e-6 || x > length - 1e-6 {
                continue;
            }
            let text = match free {
                0.0 => self.printed(x).to_string(),
                _ => self.length(x),
            };
            let wide = width(&runs(&text), TEXT) * 1.15;
            let middle = self.x(x).clamp(wide / 2.0, self.width - wide / 2.0);
            if middle - wide / 2.0 < free {
                continue;
            }
            let (from, to) =
                (Point::new(self.x(x), self.near), Point::new(self.x(x), self.near + TAPE));
            self.line(from, to, "mark");
            if self.words(&text, Point::new(middle, y), TEXT, f64::INFINITY, "mark") {
                free = middle + wide / 2.0 + 6.0;
            }
        }
    }
}

/// An angle as it is written on a part: 45°, 22.5°.
fn degrees(angle: f64) -> String {
    print_angle(Angle(angle.abs()), AngleStep::Tenth).replace(".0\u{b0}", "\u{b0}")
}
