//! From a scene to marks: fitted into a screen's frame, or in true size for paper.

use super::dimension::{Dressed, angle_mark, arrow_head, dimension};
use super::hatch::hatch;
use super::mark::{GRAIN, Mark, OFFCUT, Rect, class_of, outside};
use super::pen::Pen;
use super::place::{Ground, Ink, Placed, STRUCK, Wish};
use super::seams::cleared;
use super::{Drawing, runs};
use offsquare_geometry::scene::{Item, Role, Scene, counter_clockwise};
use offsquare_geometry::{Point, Vector};
use offsquare_units::MM_PER_INCH;
use offsquare_units::Style;
use offsquare_units::num::Gather;

/// Lays a scene out for a screen's frame, `width` by `height` px: as large as its sizes leave room,
/// in the middle. Labels keep clear of one another and inside the frame; what was given gets a tap
/// target of at least 48 px.
///
/// An empty scene, or one with numbers that are not finite, gives a drawing without marks.
///
/// ```
/// use offsquare_paper::drawing;
/// use offsquare_geometry::{Point, scene::{Role, Scene}};
/// use offsquare_units::Style;
/// let mut scene = Scene::new();
/// scene.line(Point::new(0.0, 0.0), Point::new(10.0, 0.0), Role::Cut);
/// let drawing = drawing::lay_out(&scene, 320.0, 240.0, &Style::default());
/// // 10 in across a frame with 6 px of border left and right: 308 px ÷ 10 in.
/// assert_eq!(drawing.per_inch, 30.8);
/// ```
pub fn lay_out(scene: &Scene, width: f64, height: f64, style: &Style) -> Drawing {
    lay_out_with(scene, width, height, style, &Pen::SCREEN)
}

/// As [`lay_out`], with other sizes of text and lines (a small picture of a piece, say).
pub fn lay_out_with(scene: &Scene, width: f64, height: f64, style: &Style, pen: &Pen) -> Drawing {
    let empty = Drawing { width, height, ..Drawing::default() };
    let Some((lo, hi)) = scene.bounds() else {
        return empty;
    };
    let extent = hi - lo;
    if !(extent.x.is_finite() && extent.y.is_finite()) || !(width > 0.0 && height > 0.0) {
        return empty;
    }
    let frame = Rect::new(Point::ORIGIN, Point::new(width, height));
    // Room for the sizes on each side: what they need is seen once they are drawn at a scale.
    let mut margin = [pen.border; 4];
    let mut sheet = Sheet::new(pen, style, 1.0, Point::ORIGIN);
    for _ in 0..6 {
        sheet = sheet.over(lo, hi, &frame, &margin);
        let Some(needed) = sheet.dress(scene).wanted(pen) else {
            break;
        };
        let inner = frame.grown(-pen.border);
        let short = [
            inner.low.x - needed.low.x,
            needed.high.x - inner.high.x,
            inner.low.y - needed.low.y,
            needed.high.y - inner.high.y,
        ];
        if short.iter().all(|s| *s <= 0.5) {
            break;
        }
        let mut grown = margin;
        for (m, s) in grown.iter_mut().zip(short) {
            *m += s.max(0.0);
        }
        // The figure keeps a third of the frame, whatever its sizes want.
        let limit = |a: f64, b: f64, whole: f64| (whole * 0.66 / (a + b)).min(1.0);
        let (kx, ky) = (limit(grown[0], grown[1], width), limit(grown[2], grown[3], height));
        margin = [grown[0] * kx, grown[1] * kx, grown[2] * ky, grown[3] * ky];
    }
    sheet = sheet.over(lo, hi, &frame, &margin);
    let (mut marks, left_out) =
        sheet.dress(scene).finish(&sheet, Some(frame.grown(-2.0)), Vec::new());
    marks.retain(is_finite);
    Drawing { marks, left_out, per_inch: sheet.scale, origin: sheet.origin, ..empty }
}

/// Lays a scene out in true size: in mm, with the drawing's upper left corner at (0, 0).
///
/// ```
/// use offsquare_paper::drawing;
/// use offsquare_geometry::{Point, scene::{Role, Scene}};
/// use offsquare_units::Style;
/// let mut scene = Scene::new();
/// scene.line(Point::new(0.0, 0.0), Point::new(10.0, 0.0), Role::Cut);
/// let drawing = drawing::true_size(&scene, &Style::default());
/// assert_eq!((drawing.per_inch, drawing.width), (25.4, 254.0 + 2.0)); // a border of 1 mm
/// ```
pub fn true_size(scene: &Scene, style: &Style) -> Drawing {
    let pen = &Pen::PAPER;
    let first = marks_at(scene, style, Point::ORIGIN, None, Vec::new()).0;
    let bounds = first.iter().filter_map(Mark::bounds).reduce(|a, b| {
        Rect::new(
            Point::new(a.low.x.min(b.low.x), a.low.y.min(b.low.y)),
            Point::new(a.high.x.max(b.high.x), a.high.y.max(b.high.y)),
        )
    });
    let Some(bounds) = bounds else {
        return Drawing::default();
    };
    let bounds = bounds.grown(pen.border);
    let origin = Point::new(-bounds.low.x, -bounds.low.y);
    let (marks, left_out) = marks_at(scene, style, origin, None, Vec::new());
    Drawing {
        width: bounds.width(),
        height: bounds.height(),
        per_inch: MM_PER_INCH,
        origin,
        marks,
        left_out,
    }
}

impl Drawing {
    /// The same scene, laid out in true size as before, with every label, every X on what falls off and the
    /// arrow along the grain clear of some strips (where pages meet, say), in the drawing's mm.
    pub fn clear_of(&mut self, strips: Vec<Rect>, scene: &Scene, style: &Style) {
        let frame = Rect::new(Point::ORIGIN, Point::new(self.width, self.height));
        let scene = &cleared(scene, &strips, &frame, self.origin, Pen::PAPER.x);
        (self.marks, self.left_out) = marks_at(scene, style, self.origin, Some(frame), strips);
    }
}

#[inline(never)]
fn marks_at(
    scene: &Scene,
    style: &Style,
    origin: Point,
    frame: Option<Rect>,
    closed: Vec<Rect>,
) -> (Vec<Mark>, Vec<offsquare_geometry::scene::Source>) {
    let sheet = Sheet::new(&Pen::PAPER, style, MM_PER_INCH, origin);
    let mut made = sheet.dress(scene).finish(&sheet, frame, closed);
    made.0.retain(is_finite);
    made
}

fn is_finite(mark: &Mark) -> bool {
    mark.bounds()
        .is_none_or(|b| [b.low.x, b.low.y, b.high.x, b.high.y].iter().all(|v| v.is_finite()))
}

/// A way to put a scene on a surface.
struct Sheet<'a> {
    pen: &'a Pen,
    style: &'a Style,
    /// px (mm) per inch.
    scale: f64,
    /// Where the scene's origin comes to lie.
    origin: Point,
}

impl<'a> Sheet<'a> {
    fn new(pen: &'a Pen, style: &'a Style, scale: f64, origin: Point) -> Sheet<'a> {
        Sheet { pen, style, scale, origin }
    }

    /// The box `lo`–`hi` of the scene as large as it goes, in the middle of the frame less margins
    /// (left, right, above, below).
    fn over(&self, lo: Point, hi: Point, frame: &Rect, margin: &[f64; 4]) -> Sheet<'a> {
        let (wide, high) = (hi.x - lo.x, hi.y - lo.y);
        let room_x = frame.width() - margin[0] - margin[1];
        let room_y = frame.height() - margin[2] - margin[3];
        let scale = match (wide > 0.0, high > 0.0) {
            (true, true) => (room_x / wide).min(room_y / high),
            (true, false) => room_x / wide,
            (false, true) => room_y / high,
            (false, false) => self.pen.text,
        };
        Sheet {
            scale,
            origin: Point::new(
                frame.low.x + margin[0] + (room_x - wide * scale) / 2.0 - lo.x * scale,
                frame.low.y + margin[2] + (room_y + high * scale) / 2.0 + lo.y * scale,
            ),
            ..*self
        }
    }

    fn at(&self, p: Point) -> Point {
        Point::new(self.origin.x + p.x * self.scale, self.origin.y - p.y * self.scale)
    }

    /// The scene's lines as marks, and everything that still looks for a place.
    fn dress(&self, scene: &Scene) -> Outfit {
        let mut outfit = Outfit::default();
        for item in &scene.items {
            self.add(item, &mut outfit);
        }
        outfit
    }

    fn add(&self, item: &Item, outfit: &mut Outfit) {
        let (pen, style) = (self.pen, self.style);
        let own = outfit.dressed.len() + outfit.words.len() + 1;
        match item {
            Item::Shape { outline, role } => {
                let points: Vec<Point> = outline.iter().map(|p| self.at(*p)).gather();
                let class = class_of(*role);
                if *role == Role::Waste {
                    outfit.figure.push(Mark::Strokes { lines: hatch(&points, pen.hatch), class });
                }
                outfit.figure.push(Mark::Path { points, closed: true, filled: false, class });
            }
            Item::Line { from, to, role } => outfit.figure.push(Mark::Line {
                from: self.at(*from),
                to: self.at(*to),
                class: class_of(*role),
            }),
            Item::Arc { center, radius, from, to, role } => {
                let on = |a| self.at(*center + Vector::at(a) * *radius);
                let turn = counter_clockwise(*from, *to).0;
                outfit.figure.push(Mark::Arc {
                    center: self.at(*center),
                    radius: radius * self.scale,
                    from: on(*from),
                    to: on(*to),
                    large: turn > 180.0,
                    clockwise: false,
                    class: class_of(*role),
                });
            }
            Item::Dimension { from, to, row, aside, value, source } => {
                outfit.dressed.push(dimension(
                    (self.at(*from), self.at(*to)),
                    (*row, self.at(*from + *aside) - self.at(*from)),
                    (*value, *source),
                    style,
                    pen,
                    own,
                ))
            }
            Item::AngleMark { at, from, to, value, source } => outfit.dressed.push(angle_mark(
                self.at(*at),
                (*from, *to),
                (*value, *source),
                style,
                pen,
                own,
            )),
            Item::Label { at, text, role } => {
                let words = self.words(self.at(*at), &text.render(style), class_of(*role), own);
                outfit.words.push(words);
            }
            Item::FallsOff { at } => {
                let at = self.at(*at);
                let arm = Vector::new(pen.x, pen.x);
                let lines = [arm, Vector::new(pen.x, -pen.x)].map(|v| (at + -v, at + v)).to_vec();
                outfit.figure.push(Mark::Strokes { lines, class: OFFCUT });
            }
            Item::Grain { from, to } => {
                let (a, b) = (self.at(*from), self.at(*to));
                let along = (b - a).unit().unwrap_or(Vector::new(1.0, 0.0));
                let class = class_of(Role::Mark);
                outfit.figure.push(Mark::Line { from: a, to: b, class: GRAIN });
                for (tip, toward) in [(a, -along), (b, along)] {
                    outfit.figure.push(arrow_head(tip, toward, pen, GRAIN));
                }
                let words = self.words(a.middle(b), "grain", class, own);
                outfit.words.push(words);
            }
            Item::Handle { at, field, per_inch } => outfit.handles.push(Mark::HandleMark {
                at: self.at(*at),
                field,
                per_px: Vector::new(per_inch.x / self.scale, -per_inch.y / self.scale),
            }),
        }
    }

    /// Words at a place, or close around it.
    fn words(&self, at: Point, text: &str, class: &'static str, own: usize) -> Wish {
        let pen = self.pen;
        let mut wish = Wish {
            runs: runs(text),
            size: pen.words,
            class,
            field: None,
            source: None,
            places: vec![(at, 0.0)],
            speaks_of: at,
            own,
        };
        let (w, h) = wish.extent(pen);
        for (ring, cost) in [(1.0, 4.0), (2.0, 10.0)] {
            for (x, y, more) in [
                (0.0, -1.0, 0.0),
                (0.0, 1.0, 1.0),
                (0.5, 0.0, 2.0),
                (-0.5, 0.0, 2.0),
                (0.5, -1.0, 3.0),
                (-0.5, -1.0, 3.0),
                (0.5, 1.0, 3.0),
                (-0.5, 1.0, 3.0),
            ] {
                let by =
                    Vector::new(x * ring * (w + pen.clear), y * ring * (h / 2.0 + 2.0 * pen.clear));
                wish.places.push((at + by, cost + more));
            }
        }
        wish
    }
}

/// A scene in lines, with labels that still look for a place.
#[derive(Default)]
struct Outfit {
    figure: Vec<Mark>,
    dressed: Vec<Dressed>,
    words: Vec<Wish>,
    handles: Vec<Mark>,
}

impl Outfit {
    /// The box that all would like to have: lines, and labels at their first places.
    fn wanted(&self, pen: &Pen) -> Option<Rect> {
        let mut boxes: Vec<Rect> = self.figure.iter().filter_map(Mark::bounds).gather();
        for d in &self.dressed {
            for (from, to) in d.strokes.iter().chain(&d.line) {
                boxes.push(Rect::new(
                    Point::new(from.x.min(to.x), from.y.min(to.y)),
                    Point::new(from.x.max(to.x), from.y.max(to.y)),
                ));
            }
            boxes.extend(d.marks.iter().filter_map(Mark::bounds));
        }
        let wishes = self.dressed.iter().map(|d| &d.wish).chain(&self.words);
        boxes.extend(wishes.filter_map(|w| w.places.first().map(|p| w.text_at(p.0, pen))));
        for handle in &self.handles {
            boxes.extend(handle.bounds().map(|b| b.grown(pen.target / 4.0)));
        }
        boxes.into_iter().reduce(|a, b| {
            Rect::new(
                Point::new(a.low.x.min(b.low.x), a.low.y.min(b.low.y)),
                Point::new(a.high.x.max(b.high.x), a.high.y.max(b.high.y)),
            )
        })
    }

    /// Gives every label its place and puts all in the order of painting.
    /// Nothing is put on what is `closed`.
    fn finish(
        self,
        sheet: &Sheet,
        frame: Option<Rect>,
        closed: Vec<Rect>,
    ) -> (Vec<Mark>, Vec<offsquare_geometry::scene::Source>) {
        let wishes: Vec<Wish> =
            self.dressed.iter().map(|d| d.wish.clone()).chain(self.words.iter().cloned()).gather();
        let handles = self.handles.iter().filter_map(|h| match h {
            Mark::HandleMark { at, .. } => Some(*at),
            _ => None,
        });
        let ground =
            Ground { pen: sheet.pen, frame, closed, ink: self.ink(), handles: handles.gather() };
        let Placed { texts, leaders, hits, boxes, left_out } = ground.place(&wishes);
        // Lines break where a figure stands, whosever it is.
        let gaps: Vec<Rect> = boxes.iter().flatten().map(|b| b.grown(sheet.pen.clear)).gather();
        let mut marks: Vec<Mark> = self.figure.into_iter().map(|m| m.parted(&gaps)).gather();
        for d in self.dressed {
            let mut lines = d.line;
            lines.extend(d.strokes);
            marks.push(Mark::Strokes { lines: outside(lines, &gaps), class: d.class });
            marks.extend(d.marks);
        }
        marks.extend(leaders.into_iter().map(|m| {
            let (lines, class) = (outside(m.chords(), &gaps), m.class().unwrap_or_default());
            Mark::Strokes { lines, class }
        }));
        marks.extend(texts);
        marks.extend(hits);
        marks.extend(self.handles);
        (marks, left_out)
    }

    /// All lines with what covering them costs: hatches hardly, lines to cut on most.
    fn ink(&self) -> Vec<Ink> {
        let mut ink = Vec::new();
        for mark in &self.figure {
            let cost = match mark {
                Mark::Strokes { class: "waste", .. } => continue,
                _ if mark.gives_way() => 4.0,
                _ => STRUCK,
            };
            ink.extend(mark.chords().into_iter().map(|(a, b)| (a, b, cost, 0)));
        }
        for d in &self.dressed {
            for (a, b) in d.line.iter().chain(&d.strokes) {
                ink.push((*a, *b, 7.0, d.wish.own));
            }
            for mark in &d.marks {
                // Arcs and arrow heads stay whole.
                ink.extend(mark.chords().into_iter().map(|(a, b)| (a, b, STRUCK, 0)));
            }
        }
        ink
    }
}
