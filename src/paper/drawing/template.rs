//! Full-size templates: which a piece wants, and that of a cut end.

use offsquare_cuts::parts::{Cut, Part, Sides};
use offsquare_cuts::saw::{PartAdvice, wording};
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Length, MM_PER_INCH, Quantity, Style, Text, say};

/// A template to print in true size.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// "Brace · lower end, on the rail".
    pub name: String,
    /// How many pieces it is for.
    pub count: u32,
    /// What to cut, one line each.
    pub notes: Vec<String>,
    /// In the part's frame, inches.
    pub scene: Scene,
    /// How its sizes are shown.
    pub style: Style,
}

/// Stock shown past an end that is cut off, and from the cut inwards. Inches: 10 mm is enough for
/// the X, 65 mm for the name.
pub(super) const PAST: f64 = 10.0 / MM_PER_INCH;
pub(super) const BODY: f64 = 65.0 / MM_PER_INCH;
/// From an edge to the middle of its name.
const BESIDE: f64 = 3.5 / MM_PER_INCH;
/// From a line to cut on to the X beside it.
const TO_X: f64 = 6.0 / MM_PER_INCH;
/// Coordinates that differ by less are the same corner.
pub(super) const SAME: f64 = 1e-7;

pub(super) fn same_edge(cut: &Cut, a: Point, b: Point) -> bool {
    let same = |p: Point, q: Point| p.distance(q).0 < SAME;
    (same(cut.from, a) && same(cut.to, b)) || (same(cut.from, b) && same(cut.to, a))
}

/// An X beside the middle of a cut, on the side toward `out`.
pub(super) fn falls_off(scene: &mut Scene, from: Point, to: Point, out: Vector) {
    let Some(along) = (to - from).unit() else {
        return;
    };
    let side = along.left();
    let side = if offsquare_geometry::dot(side, out) < 0.0 { -side } else { side };
    scene.add(Item::FallsOff { at: from.middle(to) + side * TO_X });
}

/// The square line over the stock at a cut's foot, and the reading between it and the cut.
pub(super) fn read_from_square(
    scene: &mut Scene,
    cut: &Cut,
    foot: Point,
    square: Point,
    tip: Point,
) {
    scene.line(foot, square, Role::Center);
    scene.add(Item::AngleMark {
        at: foot,
        from: (square - foot).direction(),
        to: (tip - foot).direction(),
        value: Quantity::Angle(cut.miter),
        source: Source::Computed(cut.miter_key.unwrap_or("miter")),
    });
}

pub(super) fn dimension(
    scene: &mut Scene,
    (from, to): (Point, Point),
    row: i8,
    value: Length,
    key: &'static str,
) {
    scene.computed(from, to, row, Quantity::Length(value), key);
}

/// Both edges' names beside them, on the part that is kept, between two places along it. `folded`: the
/// upper one's own face is drawn above it.
pub(super) fn edges_named(scene: &mut Scene, part: &Part, (from, to): (f64, f64), folded: bool) {
    let middle = from.midpoint(to);
    let mut beside = |y: f64, name: &'static str| {
        scene.label(Point::new(middle, y), say!(name), Role::Stock);
    };
    beside(-BESIDE, part.sides.edge_a);
    if !folded {
        beside(part.seen.0 + BESIDE, part.sides.edge_b);
    }
}

/// Name, count, face and grain on the part that is kept, between two places along it.
pub(super) fn named(scene: &mut Scene, part: &Part, from: f64, to: f64, seen: f64) {
    let (low, high) = (from.min(to), from.max(to));
    let span = high - low;
    let middle = low + span / 2.0;
    let grain = Length::mm(24.0).0.min(span * 0.5) / 2.0;
    scene.add(Item::Grain {
        from: Point::new(middle - grain, seen * 0.32),
        to: Point::new(middle + grain, seen * 0.32),
    });
    let pieces =
        if part.count == 1 { "1 piece".to_owned() } else { format!("{} pieces", part.count) };
    let face = match part.sides.face {
        drawn if drawn == Sides::DRAWN.face => String::new(),
        face => format!(": {face}"),
    };
    scene.label(
        Point::new(middle, seen * 0.68),
        say!(format!("{}, {pieces}{face}", part.name)),
        Role::Stock,
    );
}

pub(super) fn finish(part: &Part, scene: Scene, style: &Style) -> Template {
    Template {
        name: part.name.to_string(),
        count: part.count,
        notes: Vec::new(),
        scene,
        style: *style,
    }
}

/// What is written beside a template: each of these cuts, then what else the paper must not be used without.
pub(super) fn notes(
    part: &Part,
    advice: &PartAdvice,
    which: &dyn Fn(&Cut) -> bool,
    style: &Style,
) -> Vec<String> {
    let mut all = Vec::new();
    for (cut, a) in part.cuts.iter().zip(&advice.cuts).filter(|(c, _)| which(c)) {
        all.push(line_to_cut(part, cut, style));
        let said = wording::at_the_saw(a);
        all.push(said.iter().map(|t| t.render(style)).gather().join(" "));
    }
    let hand = advice.handed.then(|| wording::hand(advice.hand));
    let ripped = advice.ripped.map(|r| wording::ripped(&r, &advice.sides));
    all.extend(hand.iter().chain(&ripped).map(|t| t.render(style)));
    all
}

/// The line itself: "Lower end, on the rail: 31.5° off square; the cut meets the edge at 58.5°." How the
/// saw is set for it, to which side, is the card's to say.
fn line_to_cut(part: &Part, cut: &Cut, style: &Style) -> String {
    let mut text = match cut.name.as_ref() {
        "" => Text::default(),
        name => say!(format!("{name}: ")),
    };
    text = if cut.miter.0 < 0.005 {
        text.and("square across")
    } else {
        text.and(cut.miter)
            .and(" off square; the cut meets the edge at ")
            .and(cut.miter.complement())
    };
    let run = Length((cut.to.x - cut.from.x).abs());
    if is_slanted(cut) && (cut.to.y - cut.from.y).abs() >= part.seen.0 - SAME {
        text = text.and("; tape mark ").and(run).and(" along the far edge");
    }
    if cut.bevel.0 >= 0.005 {
        text = text
            .and("; blade tilted ")
            .and(cut.bevel)
            .and(format!("; this is the line on the {}", part.sides.face));
    }
    text.and(".").render(style)
}

pub(super) fn is_slanted(cut: &Cut) -> bool {
    cut.miter.0 > 0.02
}
