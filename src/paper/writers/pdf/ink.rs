//! One page's content: millimeters in, points out.

use crate::drawing::{CUT, FRACTION_SIZE, GRAIN, LOWERED, Mark, OFFCUT, RAISED, Rect, Run, width};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Currency, MM_PER_INCH, Money, num};
use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Name, Str};

const POINTS_PER_MM: f64 = 72.0 / MM_PER_INCH;

/// Weight of type.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    Plain,
    Bold,
}

impl Face {
    pub const ALL: [Face; 2] = [Face::Plain, Face::Bold];

    /// Its name among the page's resources, and as a standard font.
    pub const fn names(self) -> (Name<'static>, Name<'static>) {
        match self {
            Face::Plain => (Name(b"F1"), Name(b"Helvetica")),
            Face::Bold => (Name(b"F2"), Name(b"Helvetica-Bold")),
        }
    }
}

/// How a line is drawn: gray (0 black), width in mm, dashes in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    pub gray: f32,
    pub width: f64,
    pub dashes: &'static [f64],
}

impl Stroke {
    pub const fn solid(gray: f32, width: f64) -> Stroke {
        Stroke { gray, width, dashes: &[] }
    }
    /// Lines to cut on: the only solid black lines of their width.
    pub const CUT: Stroke = Stroke::solid(0.0, 0.2);

    /// By meaning, the same as on screens but in black and gray.
    fn of(class: &str) -> Stroke {
        match class {
            CUT => Stroke::CUT,
            "stock" | "frame" => Stroke { gray: 0.25, width: 0.15, dashes: &[6.0, 1.2] },
            "mark" => Stroke { gray: 0.0, width: 0.2, dashes: &[2.4, 1.0] },
            "hidden" => Stroke { gray: 0.45, width: 0.15, dashes: &[1.0, 1.0] },
            "center" => Stroke { gray: 0.4, width: 0.12, dashes: &[5.0, 0.9, 0.9, 0.9] },
            "waste" => Stroke::solid(0.6, 0.1),
            OFFCUT => Stroke::solid(0.0, 0.45),
            GRAIN => Stroke::solid(0.2, 0.25),
            _ => Stroke::solid(0.3, 0.12),
        }
    }
}

/// Where a page's millimeters come to lie on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Height of the sheet in mm.
    pub sheet_height: f64,
    pub sheet_width: f64,
    /// Size of the page's own ground (the safe area), which stands in the middle of the sheet.
    pub ground: (f64, f64),
    /// What everything is drawn larger by, across and along, so that it prints true.
    pub enlarge: (f64, f64),
}

impl Frame {
    /// A point of the ground (mm, from its upper left corner, y down) in PDF points, f64.
    fn points(&self, p: Point) -> (f64, f64) {
        let x = self.sheet_width / 2.0 + (p.x - self.ground.0 / 2.0) * self.enlarge.0;
        let y = self.sheet_height / 2.0 - (p.y - self.ground.1 / 2.0) * self.enlarge.1;
        (x * POINTS_PER_MM, y * POINTS_PER_MM)
    }
}

/// How a figure is set down on the ground: turned a quarter (counter-clockwise) or not, then moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    pub turned: bool,
    pub by: Vector,
}

impl Setting {
    pub const PLAIN: Setting = Setting { turned: false, by: Vector::new(0.0, 0.0) };

    /// Where a point of the figure comes to lie; a turned one has its upper right corner, at
    /// `figure_width`, moved to where the upper left one was.
    pub fn set(&self, p: Point, figure_width: f64) -> Point {
        let p = if self.turned { Point::new(p.y, figure_width - p.x) } else { p };
        p + self.by
    }

    /// The point of the figure that comes to lie there.
    pub fn unset(&self, p: Point, figure_width: f64) -> Point {
        let p = p + -self.by;
        if self.turned { Point::new(figure_width - p.y, p.x) } else { p }
    }
}

/// Writes one page.
pub struct Ink {
    content: Content,
    frame: Frame,
}

impl Ink {
    pub fn new(frame: Frame) -> Ink {
        let mut content = Content::new();
        content.set_line_cap(LineCapStyle::ButtCap).set_line_join(LineJoinStyle::MiterJoin);
        Ink { content, frame }
    }

    pub fn finish(self) -> Vec<u8> {
        self.content.finish().to_vec()
    }

    fn at(&self, p: Point) -> (f32, f32) {
        let (x, y) = self.frame.points(p);
        (x as f32, y as f32)
    }

    pub fn stroke(&mut self, stroke: Stroke) -> &mut Ink {
        let pt = |mm: f64| (mm * POINTS_PER_MM) as f32;
        self.content
            .set_stroke_gray(stroke.gray)
            .set_line_width(pt(stroke.width))
            .set_dash_pattern(stroke.dashes.iter().map(|d| pt(*d)), 0.0);
        self
    }

    fn move_to(&mut self, p: Point) {
        let (x, y) = self.at(p);
        self.content.move_to(x, y);
    }
    fn line_to(&mut self, p: Point) {
        let (x, y) = self.at(p);
        self.content.line_to(x, y);
    }

    /// Lines in the stroke that is set.
    pub fn lines(&mut self, lines: &[(Point, Point)]) -> &mut Ink {
        for (from, to) in lines {
            self.move_to(*from);
            self.line_to(*to);
        }
        if !lines.is_empty() {
            self.content.stroke();
        }
        self
    }

    /// A box, filled in gray, or its outline in the stroke that is set.
    pub fn rect(&mut self, rect: &Rect, fill: Option<f32>) -> &mut Ink {
        let (x0, y0) = self.at(rect.low);
        let (x1, y1) = self.at(rect.high);
        if let Some(gray) = fill {
            self.content.set_fill_gray(gray);
        }
        self.content.rect(x0, y1, x1 - x0, y0 - y1);
        match fill {
            Some(_) => self.content.fill_nonzero(),
            None => self.content.stroke(),
        };
        self
    }

    /// Until [`Ink::unclip`], nothing is painted outside the box.
    pub fn clip(&mut self, rect: &Rect) -> &mut Ink {
        self.content.save_state();
        let (x0, y0) = self.at(rect.low);
        let (x1, y1) = self.at(rect.high);
        self.content.rect(x0, y1, x1 - x0, y0 - y1).clip_nonzero().end_path();
        self
    }
    pub fn unclip(&mut self) -> &mut Ink {
        self.content.restore_state();
        self
    }

    /// Marks of a figure `figure_width` wide, set down on the page.
    pub fn marks(&mut self, marks: &[Mark], figure_width: f64, setting: Setting) -> &mut Ink {
        let set = |p: Point| setting.set(p, figure_width);
        for mark in marks {
            if let (Some(class), false) = (mark.class(), matches!(mark, Mark::Text { .. })) {
                self.stroke(Stroke::of(class));
            }
            match mark {
                Mark::Line { .. } | Mark::Strokes { .. } => {
                    let lines: Vec<_> =
                        mark.chords().into_iter().map(|(a, b)| (set(a), set(b))).gather();
                    self.lines(&lines);
                }
                Mark::Path { points, closed, filled, .. } => {
                    for (i, p) in points.iter().enumerate() {
                        if i == 0 {
                            self.move_to(set(*p));
                        } else {
                            self.line_to(set(*p));
                        }
                    }
                    match (closed, filled) {
                        (_, true) => self.content.set_fill_gray(0.3).fill_nonzero(),
                        (true, false) => self.content.close_and_stroke(),
                        (false, false) => self.content.stroke(),
                    };
                }
                Mark::Arc { center, .. } => {
                    let chords = mark.chords();
                    if let Some(first) = chords.first() {
                        self.move_to(set(first.0));
                    }
                    for (from, to) in chords {
                        self.bend(set(*center), set(from), set(to));
                    }
                    self.content.stroke();
                }
                Mark::Text { at, size, runs, rect, .. } => {
                    let half = width(runs, *size) / 2.0;
                    let start = Point::new(rect.middle().x - half, at.y);
                    self.text(set(start), runs, (Face::Plain, *size), setting.turned, 0.0);
                }
                Mark::Hit { .. } | Mark::HandleMark { .. } => {}
            }
        }
        self
    }

    /// An arc of a few degrees as a cubic curve: control points at 4/3 · tan(turn/4) of the radius.
    fn bend(&mut self, center: Point, from: Point, to: Point) {
        let (a, b) = (from - center, to - center);
        let turn = b.direction().0 - a.direction().0;
        let turn = turn - num::round_half_up(turn / 360.0) * 360.0;
        let k = 4.0 / 3.0 * Angle(turn / 4.0).tan();
        let c1 = self.at(from + a.left() * k);
        let c2 = self.at(to + (b.left() * -k));
        let end = self.at(to);
        self.content.cubic_to(c1.0, c1.1, c2.0, c2.1, end.0, end.1);
    }

    /// Text from its start on the baseline; `turned` reads upwards. Gray 0 is black.
    pub fn text(
        &mut self,
        start: Point,
        runs: &[Run],
        (face, size): (Face, f64),
        turned: bool,
        gray: f32,
    ) -> &mut Ink {
        let (x, y) = self.at(start);
        let (across, along) = (
            self.frame.enlarge.0 * POINTS_PER_MM * size,
            self.frame.enlarge.1 * POINTS_PER_MM * size,
        );
        let name = face.names().0;
        self.content.set_fill_gray(gray).begin_text();
        // Type of size 1, so that the matrix alone says how large it is in both directions.
        let matrix = if turned {
            [0.0, along as f32, -(across as f32), 0.0, x, y]
        } else {
            [across as f32, 0.0, 0.0, along as f32, x, y]
        };
        self.content.set_text_matrix(matrix);
        for run in runs {
            match run {
                Run::Words(words) => self.show(name, words, 1.0, 0.0),
                Run::Fraction { over, under } => {
                    self.show(name, over, FRACTION_SIZE, RAISED);
                    self.show(name, "/", 1.0, 0.0);
                    self.show(name, under, FRACTION_SIZE, -LOWERED);
                }
            }
        }
        self.content.end_text();
        self
    }

    fn show(&mut self, face: Name, words: &str, size: f64, rise: f64) {
        self.content.set_font(face, size as f32).set_rise(rise as f32).show(Str(&win_ansi(words)));
    }

    /// One line of plain words; fractions among them are set as fractions.
    pub fn words(&mut self, start: Point, words: &str, face: Face, size: f64) -> &mut Ink {
        self.text(start, &crate::drawing::runs(words), (face, size), false, 0.0)
    }
}

/// An amount of money on paper: without its sign where this type has none for it.
pub fn shown(currency: &Currency, money: Money) -> String {
    let lacks = currency.sign.chars().any(|c| c != '?' && win_ansi(&c.to_string()) == b"?");
    match lacks {
        true => Currency { sign: String::new(), ..currency.clone() }.print(money),
        false => currency.print(money),
    }
}

/// The bytes of a text in WinAnsi (Windows 1252); a question mark for what it lacks.
pub fn win_ansi(text: &str) -> Vec<u8> {
    text.chars()
        .map(|c| match c {
            ' '..='~' | '\u{a0}'..='\u{ff}' => c as u8,
            '\u{20ac}' => 0x80,
            '\u{2026}' => 0x85,
            '\u{2018}' => 0x91,
            '\u{2019}' | '\u{2032}' => 0x92,
            '\u{201c}' => 0x93,
            '\u{201d}' | '\u{2033}' => 0x94,
            '\u{2022}' => 0x95,
            '\u{2013}' | '\u{2212}' => 0x96,
            '\u{2014}' => 0x97,
            '\u{2009}' | '\u{202f}' => b' ',
            c if c.is_control() => b' ',
            _ => b'?',
        })
        .gather()
}
