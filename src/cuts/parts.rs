//! Parts: sticks and boards as they lie on the saw, with every cut that they need. Types only.
//!
//! A part lies with its length along x and the fence along its edge B. Edge A is at y = 0 (the
//! operator's), edge B at y = `seen` (at the fence); x grows to the right. These are the edges and
//! the signs of the cutting plan: an end angle is positive when edge A reaches further out.

use offsquare_geometry::{Point, Polygon};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, kept};
use std::borrow::Cow;

/// Which end of the part a cut makes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// At the least x.
    Left,
    /// At the greatest x.
    Right,
    /// Along the part (a rip or a lap), not at an end.
    Along,
}

/// To which side the saw is swung, or the blade leans.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Miter: the operator's end of the cut lies left of its fence end. Bevel: the top of the blade leans left.
    Left,
    Right,
    /// Square: neither.
    Neither,
}
kept!(Side: Left = "left", Right = "right", Neither = "square");

impl Side {
    /// The other side; neither stays neither.
    pub fn other(self) -> Side {
        match self {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
            Side::Neither => Side::Neither,
        }
    }
}

impl End {
    /// The other end.
    pub fn other(self) -> End {
        match self {
            End::Left => End::Right,
            End::Right => End::Left,
            End::Along => End::Along,
        }
    }
}

/// One cut, as the saw is set for it with the part lying as described on this page.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// What the cut makes: "Lower end, on the rail".
    pub name: Cow<'static, str>,
    pub end: End,
    /// Degrees off square on the seen face, never negative; true even past the saw's limit.
    pub miter: Angle,
    pub swing: Side,
    /// Tilt of the blade from vertical, never negative.
    pub bevel: Angle,
    pub lean: Side,
    /// Dotted path of the answer that is this cut's miter reading, if it is one ("reading_deg").
    pub miter_key: Option<&'static str>,
    /// The same of its bevel.
    pub bevel_key: Option<&'static str>,
    /// Width that the cut runs across (the seen size, or the facet's share of it).
    pub across: Length,
    /// Where the cut line starts (edge A side) and ends (edge B side) in the part's frame.
    pub from: Point,
    pub to: Point,
}

/// What a maker calls a part's faces, edges and ends, so that advice can name them.
///
/// Example: a box's board is drawn from outside, its top edge at the fence: face "outside", edge A
/// "bottom edge", edge B "top edge".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sides {
    /// The face that is drawn.
    pub face: &'static str,
    /// At y = 0, and at y = seen.
    pub edge_a: &'static str,
    pub edge_b: &'static str,
    /// At the least x, and at the greatest.
    pub left: &'static str,
    pub right: &'static str,
}

impl Sides {
    /// Where the layout knows no better: as the drawing shows them.
    pub const DRAWN: Sides = Sides {
        face: "drawn face",
        edge_a: "lower edge",
        edge_b: "upper edge",
        left: "left end",
        right: "right end",
    };

    /// A brace, seen from the front.
    pub const RISING: Sides = Sides::DRAWN.ends("lower end", "upper end");
    /// A leg with its outer edge at the fence.
    pub const LEG: Sides = Sides {
        edge_a: "inner edge",
        edge_b: "outer edge",
        left: "foot",
        right: "top",
        ..Sides::DRAWN
    };
    /// A member around a corner, its outer edge toward you.
    pub const OUTER_BELOW: Sides =
        Sides { edge_a: "outer edge", edge_b: "inner edge", ..Sides::DRAWN };

    /// The same with other names for its ends.
    pub const fn ends(self, left: &'static str, right: &'static str) -> Sides {
        Sides { left, right, ..self }
    }
    /// Its name for an end; a cut along the part is told from the left end.
    pub fn end(&self, end: End) -> &'static str {
        if end == End::Right { self.right } else { self.left }
    }
}

/// A board whose long edges are ripped at a tilt once its ends are cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ripped {
    pub tilt: Angle,
    /// What is then left of the seen size, measured over the drawn face.
    pub leaves: Length,
}

/// A stick or board to make.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    pub name: Cow<'static, str>,
    pub count: u32,
    pub sides: Sides,
    /// Size seen in the drawing: the width on the saw table, edge A to edge B, before any rip.
    pub seen: Length,
    /// Size going away from you: the height on the saw table; none where the maker was not asked.
    pub away: Option<Length>,
    /// Whole extent along the board, as the cutting plan defines it.
    pub length: Length,
    /// Outline on the seen face, in the part's frame, counter-clockwise from edge A's left corner.
    pub outline: Polygon,
    pub edge_a: Length,
    pub edge_b: Length,
    pub cuts: Vec<Cut>,
    /// Lines to mark on the face (shoulders, seats), in the part's frame.
    pub marks: Vec<(Point, Point)>,
    /// What is taken out of its faces between two of those lines.
    pub laps: Vec<Lap>,
    /// Figures to write beside marks, each with the middle of where it stands.
    pub figures: Vec<(Point, Length)>,
    /// What is ripped off its long edges after the cuts; none where they stay square.
    pub ripped: Option<Ripped>,
    /// Tapered, round or otherwise unfit to be turned or held without help.
    pub stock: StockShape,
}

/// Wood that is taken out of a face between two shoulders, not through: a lap, a notch.
#[derive(Clone, Debug, PartialEq)]
pub struct Lap {
    pub name: &'static str,
    /// The two lines on the drawn face, the left one first, each from edge A to edge B.
    pub shoulders: [(Point, Point); 2],
    /// None: half the part's thickness, which was not given.
    pub depth: Option<Length>,
    /// It opens to the back; the drawn face stays whole.
    pub in_back: bool,
}

impl Lap {
    /// Degrees off square of its shoulders, which are parallel, and to which side they are swung.
    pub fn reading(&self) -> (Angle, Side) {
        let (a, b) = self.shoulders[0];
        let cut = Cut::plain(CutName::default(), End::Along, a, b);
        (cut.miter, cut.swing)
    }
}

/// What kind of stick it is; it limits how it may be held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StockShape {
    Straight,
    Tapered,
    Round,
    /// A wide board whose outline is cut with more than end cuts.
    Board,
}

/// How an end of a part's blank, the piece as it leaves the stick, is cut.
#[derive(Clone, Debug, PartialEq)]
pub enum BlankEnd<'a> {
    /// By this one cut, over the whole width.
    Cut(&'a Cut),
    /// Square, where the outline reaches furthest.
    Square {
        /// That cut is one of the part's own: what it leaves of the end is finished.
        made: bool,
        /// The end's other cuts, made on the blank.
        after: Vec<&'a Cut>,
    },
}

impl Part {
    /// Its mirror image, left end for right: the other hand of a pair, cuts in the same order.
    pub fn mirrored(&self) -> Part {
        let at = |p: &Point| Point::new(self.length.0 - p.x, p.y);
        let cut = |c: &Cut| Cut {
            end: c.end.other(),
            swing: c.swing.other(),
            lean: c.lean.other(),
            from: at(&c.from),
            to: at(&c.to),
            ..c.clone()
        };
        let sides = Sides { left: self.sides.right, right: self.sides.left, ..self.sides };
        Part {
            sides,
            outline: Polygon(self.outline.0.iter().rev().map(at).gather()),
            cuts: self.cuts.iter().map(cut).gather(),
            marks: self.marks.iter().map(|(a, b)| (at(a), at(b))).gather(),
            laps: self
                .laps
                .iter()
                .map(|l| {
                    let [(a, b), (c, d)] = &l.shoulders;
                    Lap { shoulders: [(at(c), at(d)), (at(a), at(b))], ..l.clone() }
                })
                .gather(),
            figures: self.figures.iter().map(|(p, n)| (at(p), *n)).gather(),
            ..self.clone()
        }
    }

    /// Where its edge A (or B) begins, at the left, in its frame: where a tape is hooked on.
    pub fn edge_start(&self, edge_b: bool) -> f64 {
        let y = if edge_b { self.seen.0 } else { 0.0 };
        let slip = 1e-9 * self.seen.0.abs().max(self.length.0.abs());
        let on = self.outline.0.iter().filter(|p| (p.y - y).abs() <= slip);
        let first = on.fold(f64::INFINITY, |m, p| m.min(p.x));
        if first.is_finite() { first } else { 0.0 }
    }

    /// How this end of the part's blank is cut. What does not follow from it is cut on the blank.
    ///
    /// Example: an end with a square shoulder and a slope above it leaves the stick square; the slope is
    /// a cut on the blank. A brace's end with a point is square at the tip, and both of its cuts follow.
    pub fn blank_end(&self, end: End) -> BlankEnd<'_> {
        let slip = 1e-9 * self.length.0.abs().max(self.seen.0.abs()).max(1.0);
        let furthest = |c: &Cut| match end {
            End::Left => c.from.x.min(c.to.x) <= slip,
            _ => c.from.x.max(c.to.x) >= self.length.0 - slip,
        };
        let cuts: Vec<&Cut> = self.cuts.iter().filter(|c| c.end == end).gather();
        match cuts[..] {
            [cut]
                if (cut.to.y - cut.from.y).abs() >= self.seen.0 - slip
                    && furthest(cut)
                    && (self.stock == StockShape::Straight || cut.is_square()) =>
            {
                BlankEnd::Cut(cut)
            }
            _ => {
                let square = |c: &&Cut| c.is_square() && furthest(c);
                let made = cuts.iter().any(square);
                BlankEnd::Square { made, after: cuts.into_iter().filter(|c| !square(c)).gather() }
            }
        }
    }

    /// The cuts across the part that are made on its blank: second cuts of an end, and slopes that are no
    /// end of it. Rips are none of them: they are made before, on another saw.
    pub fn cuts_on_blank(&self) -> Vec<&Cut> {
        let mut out = Vec::new();
        for end in [End::Left, End::Right] {
            if let BlankEnd::Square { after, .. } = self.blank_end(end) {
                out.extend(after);
            }
        }
        out.extend(self.cuts.iter().filter(|c| c.end == End::Along && !c.is_rip()));
        out
    }

    /// End angles in the cutting plan's signs, for ends that are one plain miter; `None` for an end
    /// with two cuts, a bevel or none that the plan can nest (it then counts as square).
    pub fn plan_angle(&self, end: End) -> Option<Angle> {
        let mut cuts = self.cuts.iter().filter(|c| c.end == end);
        let Some(cut) = cuts.next() else {
            return Some(Angle(0.0));
        };
        if cuts.next().is_some() || cut.bevel.0 != 0.0 {
            return None;
        }
        let a_reaches_out = match end {
            End::Left => cut.swing == Side::Left,
            End::Right => cut.swing == Side::Right,
            End::Along => return None,
        };
        Some(if a_reaches_out { cut.miter } else { -cut.miter })
    }
}

/// What a part's cuts are called, and which answers they are.
#[derive(Clone, Copy, Debug, Default)]
pub struct CutName {
    pub name: &'static str,
    /// Dotted path of the answer that is this cut's miter reading.
    pub miter_key: Option<&'static str>,
}

impl CutName {
    /// Of a cut whose miter reading is no answer: a square one.
    pub const fn plain(name: &'static str) -> CutName {
        CutName { name, miter_key: None }
    }
    pub const fn read(name: &'static str, miter_key: &'static str) -> CutName {
        CutName { name, miter_key: Some(miter_key) }
    }
}

impl Part {
    /// What a part is unless it says otherwise.
    pub const PLAIN: Part = Part {
        name: Cow::Borrowed(""),
        count: 1,
        sides: Sides::DRAWN,
        seen: Length(0.0),
        away: None,
        length: Length(0.0),
        outline: Polygon(Vec::new()),
        edge_a: Length(0.0),
        edge_b: Length(0.0),
        cuts: Vec::new(),
        marks: Vec::new(),
        laps: Vec::new(),
        figures: Vec::new(),
        ripped: None,
        stock: StockShape::Straight,
    };

    /// A straight stick with plain (unbevelled) end cuts.
    ///
    /// `left` and `right` are the end lines from edge A (y = 0) to edge B (y = seen), in any frame
    /// whose x runs along the stick: two corners for one cut, three for a point. The part's frame is
    /// moved so that its least x is 0. Names are given in the same order, left end first; a square
    /// end needs its name too.
    ///
    /// Example: seen 2.5, left (0,0)–(0,2.5), right (10,0)–(7.5,2.5): a square left end, a 45° right
    /// end swung right, edge A 10 long, edge B 7.5.
    pub fn stick(
        name: impl Into<Cow<'static, str>>,
        seen: Length,
        away: Option<Length>,
        left: &[Point],
        right: &[Point],
        names: &[CutName],
    ) -> Part {
        let least = left.iter().chain(right).fold(f64::INFINITY, |m, p| m.min(p.x));
        let shifted = |p: &Point| Point::new(p.x - least, p.y);
        let left: Vec<Point> = left.iter().map(shifted).gather();
        let right: Vec<Point> = right.iter().map(shifted).gather();
        let mut cuts = Vec::new();
        let mut names = names.iter();
        for (end, line) in [(End::Left, &left), (End::Right, &right)] {
            for pair in line.windows(2) {
                let named = names.next().copied().unwrap_or_default();
                cuts.push(Cut::plain(named, end, pair[0], pair[1]));
            }
        }
        let at = |line: &[Point], last: bool| {
            let p = if last { line.last() } else { line.first() };
            p.map_or(0.0, |p| p.x)
        };
        let edge_a = Length(at(&right, false) - at(&left, false));
        let edge_b = Length(at(&right, true) - at(&left, true));
        let mut outline: Vec<Point> = left.first().copied().into_iter().gather();
        outline.extend(right.iter().copied());
        outline.extend(left.iter().skip(1).rev().copied());
        let length = outline.iter().fold(0.0_f64, |m, p| m.max(p.x));
        Part {
            name: name.into(),
            seen,
            away,
            length: Length(length),
            outline: Polygon(outline),
            edge_a,
            edge_b,
            cuts,
            ..Part::PLAIN
        }
    }

    /// A straight stick with both ends square.
    pub fn square(
        name: impl Into<Cow<'static, str>>,
        length: f64,
        seen: f64,
        away: Option<Length>,
    ) -> Part {
        let end = |x: f64| [Point::new(x, 0.0), Point::new(x, seen)];
        let names = [CutName::plain("Left end"), CutName::plain("Right end")];
        Part::stick(name, Length(seen), away, &end(0.0), &end(length), &names)
    }

    /// The same with names for its faces, edges and ends.
    pub fn called(self, sides: Sides) -> Part {
        Part { sides, ..self }
    }
}

impl Cut {
    /// Square across, the blade upright.
    pub fn is_square(&self) -> bool {
        self.miter.0 == 0.0 && self.bevel.0 == 0.0
    }
    /// It runs with the edge, as a rip does.
    pub fn is_rip(&self) -> bool {
        self.end == End::Along && self.from.y == self.to.y
    }
    /// A cut with the blade upright along the line `from` (edge A side) – `to` (edge B side).
    pub fn plain(named: CutName, end: End, from: Point, to: Point) -> Cut {
        let run = to.x - from.x;
        let across = to.y - from.y;
        let swing = if run > 0.0 {
            Side::Left
        } else if run < 0.0 {
            Side::Right
        } else {
            Side::Neither
        };
        Cut {
            name: named.name.into(),
            end,
            miter: Angle(offsquare_units::num::atan2_deg(run.abs(), across.abs())),
            swing,
            bevel: Angle(0.0),
            lean: Side::Neither,
            miter_key: named.miter_key,
            bevel_key: None,
            across: Length(across.abs()),
            from,
            to,
        }
    }
}
