//! Finds every label a place: inside the frame, off the other labels, off the lines where it can be.

use super::pen::Pen;
use super::{Anchor, Mark, Rect, Run, width};
use offsquare_geometry::scene::Source;
use offsquare_geometry::{Point, Vector};
use offsquare_units::num;
use offsquare_units::num::Gather;

/// A label that looks for its place.
#[derive(Clone, Debug)]
pub(super) struct Wish {
    pub runs: Vec<Run>,
    pub size: f64,
    pub class: &'static str,
    pub field: Option<&'static str>,
    pub source: Option<Source>,
    /// Middles, likeliest first, and what each costs.
    pub places: Vec<(Point, f64)>,
    /// What it speaks of: a leader runs there from a place that is not one of `places`.
    pub speaks_of: Point,
    /// Number of the lines in `Ink` that are its own.
    pub own: usize,
}

/// How tall a line of text is, and where its baseline is below the top, as shares of its size.
const TALL: f64 = 1.12;
const BASELINE: f64 = 0.86;

impl Wish {
    /// Width and height of the text.
    pub fn extent(&self, pen: &Pen) -> (f64, f64) {
        (width(&self.runs, self.size) * pen.widen, self.size * TALL)
    }
    pub fn text_at(&self, middle: Point, pen: &Pen) -> Rect {
        let (w, h) = self.extent(pen);
        Rect::around(middle, w, h)
    }
    /// The tap target around its text, in the middle; the text itself where nothing is tapped.
    pub fn target_at(&self, middle: Point, pen: &Pen) -> Rect {
        let (w, h) = self.extent(pen);
        if self.field.is_some() {
            Rect::around(middle, (w + 2.0 * pen.clear).max(pen.target), h.max(pen.target))
        } else {
            Rect::around(middle, w, h)
        }
    }
    /// The targets that hold its text: around its middle, or pushed to one side as far as the text goes.
    fn targets_at(&self, middle: Point, pen: &Pen) -> [Rect; 9] {
        let center = self.target_at(middle, pen);
        let (w, h) = self.extent(pen);
        let (x, y) = ((center.width() - w) / 2.0, (center.height() - h) / 2.0);
        [(0.0, 0.0), (0.0, -y), (0.0, y), (-x, 0.0), (x, 0.0), (-x, -y), (x, -y), (-x, y), (x, y)]
            .map(|(x, y)| {
                let by = Vector::new(x, y);
                Rect::new(center.low + by, center.high + by)
            })
    }
}

/// A line that labels had better not cover: from, to, what covering it costs, whose it is (0: the figure's).
pub(super) type Ink = (Point, Point, f64, usize);

/// Where labels may be.
pub(super) struct Ground<'a> {
    pub pen: &'a Pen,
    /// None: as far out as they like.
    pub frame: Option<Rect>,
    /// Where none may be.
    pub closed: Vec<Rect>,
    pub ink: Vec<Ink>,
    pub handles: Vec<Point>,
}

/// What a place costs that needs a leader; a place of its own that covers fewer lines is better.
const LEADER: f64 = 17.0;
/// And what each px of the leader costs.
const PER_PX: f64 = 0.15;
/// What it costs to stand on a line that does not break for a label: more than a place further off.
pub(super) const STRUCK: f64 = 60.0;

#[derive(Clone, Copy)]
struct Taken {
    text: Rect,
    target: Option<Rect>,
}

#[derive(Clone, Copy, PartialEq)]
enum Strictness {
    /// Tap targets keep clear of one another and of handles.
    Targets,
    /// Only the texts do.
    Texts,
}

/// What became of the labels.
#[derive(Default)]
pub(super) struct Placed {
    pub texts: Vec<Mark>,
    pub leaders: Vec<Mark>,
    pub hits: Vec<Mark>,
    /// For every wish in order: the box of its text, if it found a place.
    pub boxes: Vec<Option<Rect>>,
    pub left_out: Vec<Source>,
}

impl Ground<'_> {
    /// Places all labels, what was given first. Deterministic: the first of the cheapest places wins.
    pub fn place(&self, wishes: &[Wish]) -> Placed {
        let mut order: Vec<usize> = (0..wishes.len()).gather();
        let rank = |i: usize| match wishes[i].source {
            Some(Source::Given(_)) => 0,
            Some(Source::Computed(_)) => 1,
            None => 2,
        };
        num::sort_by(&mut order, |&a, &b| rank(a).cmp(&rank(b)));
        let closed = |&text: &Rect| Taken { text, target: None };
        let mut taken: Vec<Taken> = self.closed.iter().map(closed).gather();
        let mut placed = Placed { boxes: vec![None; wishes.len()], ..Placed::default() };
        for i in order {
            let wish = &wishes[i];
            let Some((middle, led)) = self.find(wish, &taken) else {
                placed.left_out.extend(wish.source);
                continue;
            };
            let text = wish.text_at(middle, self.pen);
            let target = wish.field.map(|field| {
                let rect = self
                    .target(wish, middle, &taken)
                    .unwrap_or_else(|| self.held(wish.target_at(middle, self.pen)));
                placed.hits.push(Mark::Hit { rect, field });
                rect
            });
            taken.push(Taken { text, target });
            placed.boxes[i] = Some(text);
            if led {
                placed.leaders.push(self.leader(wish, &text));
            }
            placed.texts.push(Mark::Text {
                at: Point::new(middle.x, text.low.y + BASELINE * wish.size),
                anchor: Anchor::Middle,
                size: wish.size,
                runs: wish.runs.clone(),
                rect: text,
                field: wish.field,
                class: wish.class,
            });
        }
        placed
    }

    /// The target pushed inside the frame.
    fn held(&self, rect: Rect) -> Rect {
        self.frame.map_or(rect, |frame| rect.inside(&frame))
    }

    /// The cheapest free place, and whether a leader must show what it speaks of.
    fn find(&self, wish: &Wish, taken: &[Taken]) -> Option<(Point, bool)> {
        let near = self.pen.text * 6.0;
        let mut found: Option<(Point, f64, bool)> = None;
        for (strictness, reach) in [
            (Strictness::Targets, near),
            (Strictness::Texts, near),
            (Strictness::Targets, f64::INFINITY),
            (Strictness::Texts, f64::INFINITY),
        ] {
            if found.is_some() && strictness == Strictness::Texts {
                continue;
            }
            let own = wish.places.iter().map(|&(at, cost)| (at, cost, false));
            let best = self.cheapest(wish, taken, strictness, own, found);
            let short = best.map_or(reach, |b| reach.min((b.1 - LEADER) / PER_PX));
            let led = if short > 0.0 { self.rings(wish, short) } else { Vec::new() };
            let led = led.into_iter().map(|(at, far)| (at, LEADER + far * PER_PX, true));
            found = self.cheapest(wish, taken, strictness, led, best);
            // Further off only where no place is free, or every one lies on a line.
            if found.is_some_and(|f| f.1 < STRUCK) {
                break;
            }
        }
        found.map(|(middle, _, led)| (middle, led))
    }

    /// The cheapest free one of some places, unless `best` is cheaper. The places come in the order
    /// of what they cost before the lines that they cover are counted.
    fn cheapest(
        &self,
        wish: &Wish,
        taken: &[Taken],
        strictness: Strictness,
        places: impl Iterator<Item = (Point, f64, bool)>,
        mut best: Option<(Point, f64, bool)>,
    ) -> Option<(Point, f64, bool)> {
        for (middle, cost, led) in places {
            if best.is_some_and(|b| b.1 <= cost) || !self.free(wish, middle, taken, strictness) {
                continue;
            }
            let cost = cost + self.covers(wish, middle);
            if best.is_none_or(|b| cost < b.1) {
                best = Some((middle, cost, led));
            }
        }
        best
    }

    /// Whether the text may stand there. `Targets`: and a tap target for it, too.
    fn free(&self, wish: &Wish, middle: Point, taken: &[Taken], strictness: Strictness) -> bool {
        let text = wish.text_at(middle, self.pen);
        if self.frame.is_some_and(|frame| !frame.contains(&text)) {
            return false;
        }
        let mut clear = text.grown(self.pen.clear);
        if wish.source.is_some() {
            // Two figures side by side must not read as one.
            let by = Vector::new(wish.size / 2.0, 0.0);
            clear = Rect::new(clear.low + -by, clear.high + by);
        }
        if taken.iter().any(|t| t.text.overlaps(&clear)) {
            return false;
        }
        if strictness == Strictness::Texts {
            return true;
        }
        // The dot of a handle is painted, so no text may cover it; its target may touch a text.
        let side = self.pen.target / 2.0;
        let over_dot = |h: &Point| Rect::around(*h, side, side).overlaps(&text);
        !self.handles.iter().any(over_dot)
            && (wish.field.is_none() || self.target(wish, middle, taken).is_some())
    }

    /// A target for the text that keeps clear of all others, and of handles.
    fn target(&self, wish: &Wish, middle: Point, taken: &[Taken]) -> Option<Rect> {
        let side = self.pen.target;
        let is_free = |target: &Rect| {
            let on_other = |t: &Taken| t.target.is_some_and(|o| o.overlaps(target));
            let on_handle = |h: &Point| self.held(Rect::around(*h, side, side)).overlaps(target);
            !taken.iter().any(on_other) && !self.handles.iter().any(on_handle)
        };
        wish.targets_at(middle, self.pen).map(|t| self.held(t)).into_iter().find(is_free)
    }

    /// What it costs that the text covers lines.
    fn covers(&self, wish: &Wish, middle: Point) -> f64 {
        let text = wish.text_at(middle, self.pen).grown(1.0);
        self.ink
            .iter()
            .filter(|(_, _, _, whose)| *whose == 0 || *whose != wish.own)
            .filter(|(from, to, _, _)| text.clips(*from, *to).is_some())
            .map(|ink| ink.2)
            .sum()
    }

    /// Places in a fine lattice around what the label speaks of, nearest first, with their distance;
    /// no further than `reach`.
    fn rings(&self, wish: &Wish, reach: f64) -> Vec<(Point, f64)> {
        let Some(frame) = self.frame else {
            return Vec::new();
        };
        let (w, h) = wish.extent(self.pen);
        let step = self.pen.text * 0.5;
        let to = wish.speaks_of;
        // Where middles of texts may be.
        let low = frame.low + Vector::new(w / 2.0, h / 2.0);
        let high = frame.high + Vector::new(-w / 2.0, -h / 2.0);
        let steps = |low: f64, high: f64, at: f64| {
            let (low, high) = (low.max(at - reach), high.min(at + reach));
            let n = num::floor((high - low) / step).min(300.0);
            (low, if n >= 0.0 { n as u32 + 1 } else { 0 })
        };
        let (left, columns) = steps(low.x, high.x, to.x);
        let (top, rows) = steps(low.y, high.y, to.y);
        let mut all = Vec::new();
        for row in 0..rows {
            for column in 0..columns {
                let middle =
                    Point::new(left + f64::from(column) * step, top + f64::from(row) * step);
                let far = middle.distance(to).0;
                if far <= reach {
                    all.push((middle, far));
                }
            }
        }
        num::sort_by(&mut all, |a, b| a.1.total_cmp(&b.1));
        all
    }

    /// From the text's border to what it speaks of.
    fn leader(&self, wish: &Wish, text: &Rect) -> Mark {
        let to = wish.speaks_of;
        let near =
            Point::new(to.x.clamp(text.low.x, text.high.x), to.y.clamp(text.low.y, text.high.y));
        let off = (to - near).unit().unwrap_or_default();
        Mark::Line { from: near + off * self.pen.clear, to, class: wish.class }
    }
}
