//! The opening with its braces, seen from the front; the sizes stand where they are measured.

use super::apex::{Apex, place};
use super::given::{Given, Place, cut_names};
use super::half::Half;
use super::landing::{Landing, Opening, Strip};
use super::lap::Crossing;
use crate::inputs::Inputs;
use crate::parts::CutName;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity};

fn lay(scene: &mut Scene, strip: &Strip) {
    scene.shape(strip.outline(), Role::Stock);
    for (p, q) in strip.cuts() {
        scene.line(strip.place(p), strip.place(q), Role::Cut);
    }
}

/// One brace in a rectangle.
pub fn in_rectangle(w: f64, h: f64, strip: &Strip) -> Scene {
    let mut scene = Scene::new();
    scene.shape(Opening::rectangle(w, h).0.to_vec(), Role::Frame);
    lay(&mut scene, strip);
    sizes(&mut scene, w, h);
    width_of(&mut scene, &|p| strip.place(p), strip, "strip_width", 0.66);
    slope(&mut scene, strip);
    let c = strip.cuts();
    // A point's two cuts, or one cut at each end.
    match c.len() {
        4 => {
            reading(&mut scene, strip, c[2], "reading_stile_cut_deg");
            reading(&mut scene, strip, (c[3].1, c[3].0), "reading_rail_cut_deg");
            along(&mut scene, &|p| strip.place(p), strip, "edge_length");
        }
        _ => {
            let rail = c.iter().find(|(p, q)| is_level(strip, *p, *q));
            let stile = c.iter().find(|(p, q)| !is_level(strip, *p, *q));
            match (rail, stile) {
                (Some(rail), Some(stile)) => {
                    reading(&mut scene, strip, *rail, "reading_rail_cut_deg");
                    reading(&mut scene, strip, *stile, "reading_stile_cut_deg");
                    along(&mut scene, &|p| strip.place(p), strip, "long_edge_length");
                }
                _ => {
                    for cut in &c {
                        reading(&mut scene, strip, *cut, "reading_deg");
                    }
                    along(&mut scene, &|p| strip.place(p), strip, "edge_length");
                }
            }
        }
    }
    scene
}

/// Whether a cut lies along a rail of a rectangle.
fn is_level(strip: &Strip, p: Point, q: Point) -> bool {
    let run = strip.place(q) - strip.place(p);
    run.x.abs() > run.y.abs()
}

/// The angle between a cut and square across the strip, at the cut's first corner.
fn reading(scene: &mut Scene, strip: &Strip, cut: (Point, Point), key: &'static str) {
    reading_put(scene, &|p| strip.place(p), cut, key);
}

/// The same where `put` leads from the strip's frame into the figure.
fn reading_put(
    scene: &mut Scene,
    put: &dyn Fn(Point) -> Point,
    (p, q): (Point, Point),
    key: &'static str,
) {
    let from_p = |to: Point| (put(to) - put(p)).direction();
    scene.add(Item::AngleMark {
        at: put(p),
        from: from_p(Point::new(p.x, q.y)),
        to: from_p(q),
        value: Quantity::Angle(Angle(super::landing::reading(p, q))),
        source: Source::Computed(key),
    });
}

/// The readings at one end: from the shoulder on edge A, and where there are two cuts also from that on edge B.
fn readings_at(
    scene: &mut Scene,
    put: &dyn Fn(Point) -> Point,
    cuts: &[(Point, Point)],
    names: &[CutName],
) {
    if let (Some(cut), Some(key)) = (cuts.first(), names.first().and_then(|n| n.miter_key)) {
        reading_put(scene, put, *cut, key);
    }
    if let ([_, (p, q)], Some(key)) = (cuts, names.get(1).and_then(|n| n.miter_key)) {
        reading_put(scene, put, (*q, *p), key);
    }
}

/// The length of the longer edge, beside it; `put` leads from the strip's frame into the figure.
fn along(scene: &mut Scene, put: &dyn Fn(Point) -> Point, strip: &Strip, key: &'static str) {
    let (a, b) = strip.starts();
    let (start, y, long) = if strip.edge_b() > strip.edge_a() {
        (b, strip.width, strip.edge_b())
    } else {
        (a, 0.0, strip.edge_a())
    };
    let (from, to) = (put(Point::new(start, y)), put(Point::new(start + long, y)));
    // Outside of the strip: away from its other edge.
    let inner = put(Point::new(start, strip.width - y));
    let left = offsquare_geometry::cross(to - from, inner - from) > 0.0;
    scene.computed(from, to, if left { -1 } else { 1 }, Length(long), key);
}

/// The opening's two sizes, and a handle in the middle of its right and of its upper side.
fn sizes(scene: &mut Scene, w: f64, h: f64) {
    let (wide, high) = ("opening_width", "opening_height");
    let c = Opening::rectangle(w, h).0;
    scene
        .given(c[0], c[1], -1, Length(w), wide)
        .given(c[3], c[0], -1, Length(h), high)
        .handle(c[1].middle(c[2]), wide, Vector::new(1.0, 0.0))
        .handle(c[2].middle(c[3]), high, Vector::new(0.0, 1.0));
}

/// The strip's width, measured across it a share of the way up.
fn width_of(
    scene: &mut Scene,
    put: &dyn Fn(Point) -> Point,
    strip: &Strip,
    key: &'static str,
    share: f64,
) {
    let (a, b) = strip.starts();
    let x = a.max(b) + share * strip.edge_a().min(strip.edge_b());
    let (on_a, on_b) = (put(Point::new(x, 0.0)), put(Point::new(x, strip.width)));
    scene.given(on_a, on_b, 0, Length(strip.width), key);
}

fn slope(scene: &mut Scene, strip: &Strip) {
    let lower = strip.lower.first().copied().unwrap_or_default();
    scene.angle(
        strip.place(lower),
        (0.0, strip.slope()),
        strip.slope(),
        Source::Computed("slope_to_rail_deg"),
    );
}

/// The frame's members around the opening, with their outside sizes.
pub fn around(scene: &mut Scene, g: Given, ow: Length, oh: Length) {
    let (x, y) = ((ow.0 - g.w) / 2.0, (oh.0 - g.h) / 2.0);
    let c = [
        Point::new(-x, -y),
        Point::new(g.w + x, -y),
        Point::new(g.w + x, g.h + y),
        Point::new(-x, g.h + y),
    ];
    scene
        .shape(c.to_vec(), Role::Frame)
        .given(c[0], c[1], -1, ow, "outside_width")
        .given(c[3], c[0], -1, oh, "outside_height")
        .given(
            Point::new(g.w, g.h / 3.0),
            Point::new(g.w + x, g.h / 3.0),
            0,
            Length(x),
            "stile_width",
        )
        .given(
            Point::new(g.w / 3.0, g.h),
            Point::new(g.w / 3.0, g.h + y),
            0,
            Length(y),
            "rail_width",
        );
    for (at, field, per_inch) in [
        (c[1].middle(c[2]), "outside_width", Vector::new(1.0, 0.0)),
        (c[2].middle(c[3]), "outside_height", Vector::new(0.0, 1.0)),
    ] {
        scene.handle(at, field, per_inch);
    }
}

/// Where the shoulders of a lap are marked along an edge, both from its lower end, which is at (`start`, `y`).
fn shoulders(
    scene: &mut Scene,
    strip: &Strip,
    (start, y): (f64, f64),
    at: [f64; 2],
    keys: [&'static str; 2],
) {
    let on = |x: f64| strip.place(Point::new(x, y));
    let out = if y > 0.0 { 1 } else { -1 };
    for (i, row) in [out, 2 * out].into_iter().enumerate() {
        scene.computed(on(start), on(at[i]), row, Length(at[i] - start), keys[i]);
    }
}

/// A crossed pair: the second brace hidden where it runs behind the first, or cut at it.
pub fn crossed(w: f64, h: f64, landing: Landing, c: &Crossing, halves: bool) -> Scene {
    let mut scene = Scene::new();
    scene.shape(Opening::rectangle(w, h).0.to_vec(), Role::Frame);
    let (first, second) = (&c.first, &c.second);
    if halves {
        for half in [Half::lower(c), Half::upper(c)] {
            let outline = half.outline().0.iter().map(|p| second.place(*p)).gather();
            scene.shape(outline, Role::Stock);
            for p in half.ends.iter().flat_map(|end| end.windows(2)) {
                scene.line(second.place(p[0]), second.place(p[1]), Role::Cut);
            }
        }
        lay(&mut scene, first);
    } else {
        lay(&mut scene, first);
        lay(&mut scene, second);
        for (own, lap) in [(first, &c.laps[0]), (second, &c.laps[1])] {
            for i in 0..2 {
                scene.line(
                    own.place(Point::new(lap.right[i], 0.0)),
                    own.place(Point::new(lap.left[i], own.width)),
                    Role::Mark,
                );
            }
        }
        let (start_a, start_b) = (first.starts().0, second.starts().1);
        let keys = ["brace_1.right_from_edge_end[0]", "brace_1.right_from_edge_end[1]"];
        shoulders(&mut scene, first, (start_a, 0.0), c.laps[0].right, keys);
        // The mirror image has the same marks.
        if second.width != first.width {
            let keys = ["brace_2.left_from_edge_end[0]", "brace_2.left_from_edge_end[1]"];
            let on_b = (start_b, second.width);
            shoulders(&mut scene, second, on_b, c.laps[1].left, keys);
        }
    }
    sizes(&mut scene, w, h);
    let names = cut_names(landing, Place::First);
    let cuts = first.cuts();
    let (lower, upper) = (cuts.len() / 2, names.len() / 2);
    let put = |p: Point| first.place(p);
    if landing.ends_differ() {
        readings_at(&mut scene, &put, &cuts[..lower], &names[..upper]);
    }
    readings_at(&mut scene, &put, &cuts[lower..], &names[upper..]);
    width_of(&mut scene, &|p| first.place(p), first, "strip_width_1", 0.78);
    width_of(&mut scene, &|p| second.place(p), second, "strip_width_2", 0.78);
    let middle = Point::new(w / 2.0, h / 2.0);
    let facing = Angle(180.0 - first.slope() - (180.0 - second.slope()));
    scene.angle(
        middle,
        (first.slope(), second.slope()),
        facing.0.abs(),
        Source::Computed("angle_facing_rails_deg"),
    );
    scene
}

/// Two like braces that meet at `apex`; `strip` lies in its half, the apex its lower left corner.
pub fn pair(w: f64, h: f64, apex: Apex, landing: Landing, strip: &Strip) -> Scene {
    let mut scene = Scene::new();
    scene.shape(Opening::rectangle(w, h).0.to_vec(), Role::Frame);
    let line = if apex.is_k() {
        [Point::new(0.0, h / 2.0), Point::new(w, h / 2.0)]
    } else {
        [Point::new(w / 2.0, 0.0), Point::new(w / 2.0, h)]
    };
    scene.line(line[0], line[1], Role::Center);
    for second in [false, true] {
        let put = |p: Point| place(w, h, apex, p, second);
        let outline = strip.outline().into_iter().map(put).gather();
        scene.shape(outline, Role::Stock);
        for (p, q) in strip.cuts() {
            scene.line(put(strip.place(p)), put(strip.place(q)), Role::Cut);
        }
    }
    sizes(&mut scene, w, h);
    let put = |p: Point| place(w, h, apex, strip.place(p), false);
    width_of(&mut scene, &put, strip, "strip_width", 0.55);
    let key = if landing.ends_differ() { "long_edge_length" } else { "edge_length" };
    along(&mut scene, &put, strip, key);
    let names = cut_names(landing, Place::Alone);
    let cuts = strip.cuts();
    let (lower, upper) = (cuts.len() / 2, names.len() / 2);
    if landing.ends_differ() {
        readings_at(&mut scene, &put, &cuts[..lower], &names[..upper]);
    }
    readings_at(&mut scene, &put, &cuts[lower..], &names[upper..]);
    scene
}

/// An opening out of square, each side with its own size.
pub fn as_built(opening: &Opening, strip: &Strip, inputs: &Inputs) -> Scene {
    let c = opening.0;
    let mut scene = Scene::new();
    scene.shape(c.to_vec(), Role::Frame);
    lay(&mut scene, strip);
    let size = |a: Point, b: Point, row, key| Item::Dimension {
        from: a,
        to: b,
        row,
        aside: Vector::default(),
        value: Quantity::Length(a.distance(b)),
        source: if inputs.get(key).is_some() { Source::Given(key) } else { Source::Computed(key) },
    };
    scene
        .line(c[1], c[3], Role::Center)
        .add(size(c[0], c[1], -1, "bottom"))
        .add(size(c[1], c[2], -1, "right"))
        .add(size(c[2], c[3], -1, "top"))
        .add(size(c[3], c[0], -1, "left"))
        .add(size(c[3], c[1], 0, "diagonal_down"));
    if inputs.get("diagonal_up").is_some() {
        scene.add(size(c[0], c[2], 0, "diagonal_up"));
    }
    // Each side is pulled along itself, by the corner that goes with it; the upper one, whose corner goes
    // with its neighbor too, short of that.
    let upper = match inputs.get("diagonal_up") {
        Some(_) => (c[2], c[3], 0.75, "top"),
        None => (c[3], c[2], 0.75, "top"),
    };
    for (from, to, share, field) in
        [(c[0], c[1], 1.0, "bottom"), (c[1], c[2], 1.0, "right"), upper, (c[0], c[3], 1.0, "left")]
    {
        if let Some(along) = (to - from).unit() {
            scene.handle(from.toward(to, share), field, along * (1.0 / share));
        }
    }
    width_of(&mut scene, &|p| strip.place(p), strip, "strip_width", 0.75);
    let cuts = strip.cuts();
    if let [lower, upper] = cuts[..] {
        let keys = match (on_rail(opening, strip, lower), on_rail(opening, strip, upper)) {
            (true, false) => ["reading_lower_rail_cut_deg", "reading_upper_stile_cut_deg"],
            (false, true) => ["reading_lower_stile_cut_deg", "reading_upper_rail_cut_deg"],
            _ => ["reading_lower_deg", "reading_upper_deg"],
        };
        reading(&mut scene, strip, lower, keys[0]);
        reading(&mut scene, strip, upper, keys[1]);
    } else if let [rail, _, stile, _] = cuts[..] {
        reading(&mut scene, strip, rail, "reading_lower_rail_cut_deg");
        reading(&mut scene, strip, stile, "reading_upper_stile_cut_deg");
    }
    scene
}

/// Whether a cut lies along the lower or the upper rail as built.
fn on_rail(opening: &Opening, strip: &Strip, (p, q): (Point, Point)) -> bool {
    let run = strip.place(q) - strip.place(p);
    let off = |a: Point, b: Point| {
        let side = b - a;
        (offsquare_geometry::cross(side, run) / side.length()).abs()
    };
    let c = opening.0;
    off(c[0], c[1]).min(off(c[3], c[2])) < off(c[0], c[3]).min(off(c[1], c[2]))
}
