//! What a laid-out drawing consists of: flat pieces that a screen or writer paints one by one.

use super::runs::Run;
use offsquare_geometry::scene::{Role, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num;
use offsquare_units::num::Gather;
use std::fmt::Write;

/// The class of a line to cut on; the other classes are the names of the roles in lower case, and
/// `given` and `computed` for sizes.
pub const CUT: &str = "cut";
/// The class of an X on the side that falls off.
pub const OFFCUT: &str = "offcut";
/// The class of the arrow along the grain.
pub const GRAIN: &str = "grain";
pub const GIVEN: &str = "given";
pub const COMPUTED: &str = "computed";

/// The class by which a style sheet knows the role.
pub const fn class_of(role: Role) -> &'static str {
    match role {
        Role::Stock => "stock",
        Role::Frame => "frame",
        Role::Cut => CUT,
        Role::Waste => "waste",
        Role::Mark => "mark",
        Role::Hidden => "hidden",
        Role::Center => "center",
        Role::Care => "care",
        Role::Face => "face",
    }
}

/// The class of a size: what the maker gave, or what was computed.
pub const fn class_of_source(source: Source) -> &'static str {
    match source {
        Source::Given(_) => GIVEN,
        Source::Computed(_) => COMPUTED,
    }
}

/// An upright box; `low` is its upper left corner, because y grows downwards in a laid-out drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    pub low: Point,
    pub high: Point,
}

impl Rect {
    pub const fn new(low: Point, high: Point) -> Rect {
        Rect { low, high }
    }
    /// The box of that size around a middle.
    pub fn around(middle: Point, width: f64, height: f64) -> Rect {
        Rect::new(
            Point::new(middle.x - width / 2.0, middle.y - height / 2.0),
            Point::new(middle.x + width / 2.0, middle.y + height / 2.0),
        )
    }
    pub fn width(&self) -> f64 {
        self.high.x - self.low.x
    }
    pub fn height(&self) -> f64 {
        self.high.y - self.low.y
    }
    pub fn middle(&self) -> Point {
        self.low.middle(self.high)
    }
    /// Larger by `by` on every side.
    pub fn grown(&self, by: f64) -> Rect {
        Rect::new(
            Point::new(self.low.x - by, self.low.y - by),
            Point::new(self.high.x + by, self.high.y + by),
        )
    }
    /// Whether the two share more than a border.
    pub fn overlaps(&self, other: &Rect) -> bool {
        self.low.x < other.high.x
            && other.low.x < self.high.x
            && self.low.y < other.high.y
            && other.low.y < self.high.y
    }
    pub fn contains(&self, inner: &Rect) -> bool {
        self.low.x <= inner.low.x
            && self.low.y <= inner.low.y
            && inner.high.x <= self.high.x
            && inner.high.y <= self.high.y
    }
    /// The same box pushed inside `frame` by the shortest way (its upper left corner wins where it
    /// is too large).
    pub fn inside(&self, frame: &Rect) -> Rect {
        let push = |low: f64, high: f64, least: f64, most: f64| {
            if high > most { (most - high).max(least - low) } else { (least - low).max(0.0) }
        };
        let by = Vector::new(
            push(self.low.x, self.high.x, frame.low.x, frame.high.x),
            push(self.low.y, self.high.y, frame.low.y, frame.high.y),
        );
        Rect::new(self.low + by, self.high + by)
    }
    /// The part of the stretch `from`–`to` inside the box, as shares of the way; none if it misses.
    pub fn clips(&self, from: Point, to: Point) -> Option<(f64, f64)> {
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        let d = to - from;
        for (start, step, least, most) in
            [(from.x, d.x, self.low.x, self.high.x), (from.y, d.y, self.low.y, self.high.y)]
        {
            if step == 0.0 {
                if start < least || start > most {
                    return None;
                }
                continue;
            }
            let (a, b) = ((least - start) / step, (most - start) / step);
            enter = enter.max(a.min(b));
            leave = leave.min(a.max(b));
        }
        (enter < leave).then_some((enter, leave))
    }
}

/// Which point of a text `at` is, on its baseline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// One piece of a laid-out drawing. Coordinates in px (or mm on paper), x to the right, y **down**.
/// `class` says what it means: stock, frame, cut, waste, mark, hidden, center, care, face, given, computed,
/// offcut (the X on what falls off), grain.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    Line {
        from: Point,
        to: Point,
        class: &'static str,
    },
    /// Many short lines that belong together: a hatch, or a dimension line with its ticks.
    Strokes {
        lines: Vec<(Point, Point)>,
        class: &'static str,
    },
    Path {
        points: Vec<Point>,
        closed: bool,
        /// Painted full rather than as an outline: arrow heads.
        filled: bool,
        class: &'static str,
    },
    /// From one point on a circle to another, clockwise as seen on the screen if `clockwise`.
    Arc {
        center: Point,
        radius: f64,
        from: Point,
        to: Point,
        /// More than half round.
        large: bool,
        clockwise: bool,
        class: &'static str,
    },
    Text {
        at: Point,
        anchor: Anchor,
        size: f64,
        runs: Vec<Run>,
        /// The box that it stands in.
        rect: Rect,
        /// The field that it shows, if a tap on it opens one.
        field: Option<&'static str>,
        class: &'static str,
    },
    /// Where a tap opens a field.
    Hit {
        rect: Rect,
        field: &'static str,
    },
    /// A place that can be dragged: moving it by v (px, y down) adds v · `per_px` inches (degrees,
    /// pieces) to the field's value.
    HandleMark {
        at: Point,
        field: &'static str,
        per_px: Vector,
    },
}

impl Mark {
    /// The class; none for what is not painted by a class.
    pub fn class(&self) -> Option<&'static str> {
        match self {
            Mark::Line { class, .. }
            | Mark::Strokes { class, .. }
            | Mark::Path { class, .. }
            | Mark::Arc { class, .. }
            | Mark::Text { class, .. } => Some(class),
            Mark::Hit { .. } | Mark::HandleMark { .. } => None,
        }
    }

    /// The same, all of it so many times as large.
    pub fn scaled(mut self, by: f64) -> Mark {
        let set = |p: &mut Point| *p = Point::new(p.x * by, p.y * by);
        match &mut self {
            Mark::Line { from, to, .. } => [from, to].into_iter().for_each(set),
            Mark::Strokes { lines, .. } => {
                lines.iter_mut().flat_map(|l| [&mut l.0, &mut l.1]).for_each(set)
            }
            Mark::Path { points, .. } => points.iter_mut().for_each(set),
            Mark::Arc { center, radius, from, to, .. } => {
                *radius *= by;
                [center, from, to].into_iter().for_each(set);
            }
            Mark::Text { at, size, rect, .. } => {
                *size *= by;
                [at, &mut rect.low, &mut rect.high].into_iter().for_each(set);
            }
            Mark::Hit { rect, .. } => [&mut rect.low, &mut rect.high].into_iter().for_each(set),
            Mark::HandleMark { at, .. } => set(at),
        }
        self
    }

    /// The box around it; none for an empty one.
    pub fn bounds(&self) -> Option<Rect> {
        let mut points: Vec<Point> = Vec::new();
        match self {
            Mark::Line { from, to, .. } => points.extend([*from, *to]),
            Mark::Strokes { lines, .. } => points.extend(lines.iter().flat_map(|l| [l.0, l.1])),
            Mark::Path { points: p, .. } => points.extend(p),
            Mark::Arc { .. } => points.extend(self.chords().iter().flat_map(|l| [l.0, l.1])),
            Mark::Text { rect, .. } | Mark::Hit { rect, .. } => {
                points.extend([rect.low, rect.high])
            }
            Mark::HandleMark { at, .. } => points.push(*at),
        }
        let first = *points.first()?;
        Some(points.iter().fold(Rect::new(first, first), |r, p| {
            Rect::new(
                Point::new(r.low.x.min(p.x), r.low.y.min(p.y)),
                Point::new(r.high.x.max(p.x), r.high.y.max(p.y)),
            )
        }))
    }

    /// Its lines as straight pieces; an arc as chords of at most 6 degrees.
    pub fn chords(&self) -> Vec<(Point, Point)> {
        match self {
            Mark::Line { from, to, .. } => vec![(*from, *to)],
            Mark::Strokes { lines, .. } => lines.clone(),
            Mark::Path { points, closed, .. } => {
                let mut out: Vec<_> = points.windows(2).map(|w| (w[0], w[1])).gather();
                if let (true, Some(first), Some(last)) = (*closed, points.first(), points.last()) {
                    out.push((*last, *first));
                }
                out
            }
            Mark::Arc { center, radius, from, to, clockwise, .. } => {
                let start = (*from - *center).direction().0;
                let mut turn = (*to - *center).direction().0 - start;
                // y points down, so growing angles run clockwise on the screen.
                if *clockwise && turn < 0.0 {
                    turn += 360.0;
                } else if !*clockwise && turn > 0.0 {
                    turn -= 360.0;
                }
                // The same point twice is all the way round.
                if turn == 0.0 {
                    turn = if *clockwise { 360.0 } else { -360.0 };
                }
                let n = num::ceil(turn.abs() / 6.0).clamp(1.0, 60.0);
                let at = |i: f64| {
                    let way = offsquare_units::Angle(start + turn * i / n);
                    *center + Vector::at(way) * *radius
                };
                (0..n as u32).map(|i| (at(f64::from(i)), at(f64::from(i + 1)))).gather()
            }
            Mark::Text { .. } | Mark::Hit { .. } | Mark::HandleMark { .. } => Vec::new(),
        }
    }

    /// The `d` of an SVG path; empty for texts, hits and handles. Figures go to a thousandth.
    pub fn path_data(&self) -> String {
        let mut d = String::new();
        let mut put = |before: &str, p: &Point| {
            d.push_str(before);
            push_figure(&mut d, p.x);
            d.push(' ');
            push_figure(&mut d, p.y);
        };
        match self {
            Mark::Line { from, to, .. } => {
                put("M", from);
                put("L", to);
            }
            Mark::Strokes { lines, .. } => {
                for (from, to) in lines {
                    put("M", from);
                    put("L", to);
                }
            }
            Mark::Path { points, closed, .. } => {
                for (i, p) in points.iter().enumerate() {
                    put(if i == 0 { "M" } else { "L" }, p);
                }
                if *closed && !points.is_empty() {
                    d.push('Z');
                }
            }
            Mark::Arc { center, radius, from, to, large, clockwise, .. } => {
                put("M", from);
                let r = figure(*radius);
                let mut arc = |large: bool, to: &Point| {
                    let (large, sweep) = (u8::from(large), u8::from(*clockwise));
                    put(&format!("A{r} {r} 0 {large} {sweep} "), to);
                };
                if from == to {
                    // All the way round; one arc cannot say it.
                    arc(false, &(*center + (*center - *from)));
                    arc(false, to);
                } else {
                    arc(*large, to);
                }
            }
            Mark::Text { .. } | Mark::Hit { .. } | Mark::HandleMark { .. } => {}
        }
        d
    }

    /// Whether it breaks where a label stands. What is cut, marked or laid against runs through, and the label finds
    /// another place.
    pub fn gives_way(&self) -> bool {
        let soft = [Role::Waste, Role::Hidden, Role::Center];
        soft.iter().any(|r| self.class() == Some(class_of(*r)))
    }

    /// The same, broken at the gaps if it gives way.
    pub fn parted(self, gaps: &[Rect]) -> Mark {
        let chords = if self.gives_way() { self.chords() } else { Vec::new() };
        if !chords.iter().any(|(a, b)| gaps.iter().any(|g| g.clips(*a, *b).is_some())) {
            return self;
        }
        Mark::Strokes { lines: outside(chords, gaps), class: self.class().unwrap_or_default() }
    }

    /// Whether it is nothing but straight lines, so that those of one class can be painted in one stroke.
    pub fn is_lines(&self) -> bool {
        matches!(self, Mark::Line { .. } | Mark::Strokes { .. })
    }
}

/// The stretches of lines outside of all gaps.
pub fn outside(lines: Vec<(Point, Point)>, gaps: &[Rect]) -> Vec<(Point, Point)> {
    gaps.iter().fold(lines, |lines, gap| broken(&lines, gap))
}

/// The stretches of a line outside a box.
fn broken(lines: &[(Point, Point)], gap: &Rect) -> Vec<(Point, Point)> {
    let mut out = Vec::new();
    for &(from, to) in lines {
        match gap.clips(from, to) {
            None => out.push((from, to)),
            Some((enter, leave)) => {
                if enter > 0.0 {
                    out.push((from, from.toward(to, enter)));
                }
                if leave < 1.0 {
                    out.push((from.toward(to, leave), to));
                }
            }
        }
    }
    out
}

/// A number to a thousandth, without zeros at the end: what SVG attributes are written with.
///
/// ```
/// use offsquare_paper::drawing::figure;
/// assert_eq!((figure(2.5), figure(-0.0001), figure(1.0 / 3.0)), ("2.5".into(), "0".into(), "0.333".into()));
/// ```
pub fn figure(value: f64) -> String {
    let mut out = String::new();
    push_figure(&mut out, value);
    out
}

/// [`figure`] at the end of a text. Whole thousandths are written, which is many times faster than
/// printing the fraction; a drawing has hundreds of them.
fn push_figure(out: &mut String, value: f64) {
    let thousandths = num::round_half_up(value * 1000.0);
    if !(thousandths.abs() < 1e15) {
        let _ = write!(out, "{value}");
        return;
    }
    let mut left = thousandths.abs() as u64;
    if thousandths < 0.0 {
        out.push('-');
    }
    let _ = write!(out, "{}", left / 1000);
    left %= 1000;
    if left > 0 {
        out.push('.');
    }
    let mut place = 100;
    while left > 0 {
        out.push(char::from(b'0' + (left / place) as u8));
        left %= place;
        place /= 10;
    }
}
