//! One drawing, in true size: what screen, paper, PDF and SVG all show. Types only.
//!
//! Coordinates are inches in the figure's own frame, x to the right, y up.

use crate::{Point, Vector};
use offsquare_units::{Angle, Quantity, Text};

/// What a line or shape means; writers choose how it looks (see the table of meanings in the style sheet).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// A piece being made: its outline.
    Stock,
    /// What stands there already: a frame, a post, the floor.
    Frame,
    /// A line to cut on.
    Cut,
    /// What falls off.
    Waste,
    /// A line to mark, not to cut: a shoulder, a seat, a running mark.
    Mark,
    /// An edge that is hidden behind wood.
    Hidden,
    /// An axis or a sight line.
    Center,
    /// A measured thing that needs care.
    Care,
    /// A face of a solid that is in sight: filled, without a line of its own.
    Face,
}

/// Where a shown size comes from: what the maker gave (tappable), or what was computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// Key of the input field.
    Given(&'static str),
    /// Dotted path of the answer.
    Computed(&'static str),
}

/// One thing in a drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    Shape {
        outline: Vec<Point>,
        role: Role,
    },
    Line {
        from: Point,
        to: Point,
        role: Role,
    },
    /// Counter-clockwise from one direction to the other; all round where they are the same.
    Arc {
        center: Point,
        radius: f64,
        from: Angle,
        to: Angle,
        role: Role,
    },
    /// A dimension line beside the stretch `from`–`to`. `row` 1, 2, … stands to the left of the
    /// direction `from` → `to`, -1, -2, … to the right, 0 on the stretch itself.
    Dimension {
        from: Point,
        to: Point,
        row: i8,
        /// How far the stretch is moved before its rows are counted, its extension lines along with it;
        /// of no length: they run square to it.
        aside: Vector,
        value: Quantity,
        source: Source,
    },
    /// The angle at `at` between two directions (each counter-clockwise from +x), on whichever side
    /// it is less than 180°.
    AngleMark {
        at: Point,
        from: Angle,
        to: Angle,
        value: Quantity,
        source: Source,
    },
    Label {
        at: Point,
        text: Text,
        role: Role,
    },
    /// An X on the side that falls off, as it is marked on wood.
    FallsOff {
        at: Point,
    },
    /// Which way the grain runs: an arrow with two heads.
    Grain {
        from: Point,
        to: Point,
    },
    /// A place that can be dragged: moving it by v adds (v · per_inch) to the field's value.
    Handle {
        at: Point,
        field: &'static str,
        per_inch: Vector,
    },
}

impl Item {
    /// The corners of a shape.
    pub fn outline(&self) -> Option<&[Point]> {
        match self {
            Item::Shape { outline, .. } => Some(outline),
            _ => None,
        }
    }
}

/// A drawing: items are painted in order.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Scene {
    pub items: Vec<Item>,
}

impl Scene {
    pub fn new() -> Scene {
        Scene::default()
    }
    pub fn add(&mut self, item: Item) -> &mut Scene {
        self.items.push(item);
        self
    }
    pub fn shape(&mut self, outline: Vec<Point>, role: Role) -> &mut Scene {
        self.add(Item::Shape { outline, role })
    }
    pub fn line(&mut self, from: Point, to: Point, role: Role) -> &mut Scene {
        self.add(Item::Line { from, to, role })
    }
    /// An upright box between two opposite corners.
    pub fn rectangle(&mut self, low: Point, high: Point, role: Role) -> &mut Scene {
        let corners = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
        self.shape(corners.to_vec(), role)
    }
    /// A size that the maker gave.
    pub fn given(
        &mut self,
        from: Point,
        to: Point,
        row: i8,
        value: impl Into<Quantity>,
        field: &'static str,
    ) -> &mut Scene {
        self.size(from, to, row, value, Source::Given(field))
    }
    /// A size that was computed.
    pub fn computed(
        &mut self,
        from: Point,
        to: Point,
        row: i8,
        value: impl Into<Quantity>,
        answer: &'static str,
    ) -> &mut Scene {
        self.size(from, to, row, value, Source::Computed(answer))
    }
    /// A size, wherever it comes from.
    pub fn size(
        &mut self,
        from: Point,
        to: Point,
        row: i8,
        value: impl Into<Quantity>,
        source: Source,
    ) -> &mut Scene {
        let aside = Vector::default();
        self.add(Item::Dimension { from, to, row, aside, value: value.into(), source })
    }
    /// An angle at a point between two directions, all in degrees.
    pub fn angle(
        &mut self,
        at: Point,
        (from, to): (f64, f64),
        value: f64,
        source: Source,
    ) -> &mut Scene {
        let value = Quantity::Angle(Angle(value));
        self.add(Item::AngleMark { at, from: Angle(from), to: Angle(to), value, source })
    }
    /// A place that can be dragged; see [`Item::Handle`].
    pub fn handle(&mut self, at: Point, field: &'static str, per_inch: Vector) -> &mut Scene {
        self.add(Item::Handle { at, field, per_inch })
    }
    /// Words at a place.
    pub fn label(&mut self, at: Point, text: impl Into<Text>, role: Role) -> &mut Scene {
        self.add(Item::Label { at, text: text.into(), role })
    }
    /// Corners of the upright box around everything placed (labels and handles by their point, arcs
    /// by what of the circle they pass).
    pub fn bounds(&self) -> Option<(Point, Point)> {
        let mut lo = Point::new(f64::INFINITY, f64::INFINITY);
        let mut hi = Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
        let mut grow = |p: Point| {
            lo = Point::new(lo.x.min(p.x), lo.y.min(p.y));
            hi = Point::new(hi.x.max(p.x), hi.y.max(p.y));
        };
        for item in &self.items {
            match item {
                Item::Shape { outline, .. } => outline.iter().copied().for_each(&mut grow),
                Item::Dimension { from, to, aside, .. } => {
                    [*from, *to, *from + *aside, *to + *aside].into_iter().for_each(&mut grow);
                }
                Item::Line { from, to, .. } | Item::Grain { from, to } => {
                    grow(*from);
                    grow(*to);
                }
                Item::Arc { center, radius, from, to, .. } => {
                    let at = |a: Angle| *center + Vector::at(a) * *radius;
                    grow(at(*from));
                    grow(at(*to));
                    // The circle's four outermost points, where the arc passes them.
                    let end = from.0 + counter_clockwise(*from, *to).0;
                    let first = offsquare_units::num::ceil(from.0 / 90.0);
                    for quarter in 0..4 {
                        let a = (first + f64::from(quarter)) * 90.0;
                        if a < end {
                            grow(at(Angle(a)));
                        }
                    }
                }
                Item::AngleMark { at, .. }
                | Item::Label { at, .. }
                | Item::FallsOff { at }
                | Item::Handle { at, .. } => grow(*at),
            }
        }
        (lo.x <= hi.x).then_some((lo, hi))
    }
}

/// How far it is from one direction counter-clockwise to another, in (0, 360].
/// Example: from 350° to 10° it is 20°.
pub fn counter_clockwise(from: Angle, to: Angle) -> Angle {
    let turn = to.0 - from.0;
    let turn = turn - offsquare_units::num::floor(turn / 360.0) * 360.0;
    Angle(if turn > 0.0 { turn } else { 360.0 })
}
