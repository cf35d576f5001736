//! Laps and notches: their shoulders at the saw and on a tape, their depth, and what falls out.

use super::SawProfile;
use super::wording;
use crate::parts::{Lap, Part, Side};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, Text, say};

/// How one lap of a part is marked and cut, the part lying as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct LapAdvice {
    pub lap: Lap,
    /// Degrees off square of both shoulders, exactly, and the side to which the saw is swung for them with the
    /// face up that the lap is in.
    pub reading: Angle,
    pub swing: Side,
    /// The nearest mark of this saw; none where it swings no so far, or cuts no such width.
    pub set: Option<Angle>,
    /// Where the two shoulders meet an edge, from that edge's own left corner: what a tape along it says.
    pub lower_edge: [Length; 2],
    pub upper_edge: [Length; 2],
    /// How far a shoulder runs along the strip while it crosses it.
    pub tape_mark: Length,
    pub across: Length,
}

impl SawProfile {
    /// What to do for one lap.
    ///
    /// Example: braces across 30 by 44, both 2 1/2 wide, flat on the rails, cross at 63.192°: the shoulders read
    /// 26.808° off square, and the usual saw is set to 27°.
    pub fn advise_lap(&self, part: &Part, lap: &Lap) -> LapAdvice {
        let (reading, drawn) = lap.reading();
        // In the back, the part lies face down.
        let swing = if lap.in_back { drawn.other() } else { drawn };
        let goes = reading.0 <= self.miter_limit(swing).0 + 1e-9
            && part.seen.0 <= self.width_at(reading).0 * (1.0 + 1e-12);
        let [(a, b), (c, d)] = lap.shoulders;
        let from = |edge_b: bool, p: Point| Length(p.x - part.edge_start(edge_b));
        LapAdvice {
            lap: lap.clone(),
            reading,
            swing,
            set: goes.then(|| self.miter_mark(reading, swing).0),
            lower_edge: [from(false, a), from(false, c)],
            upper_edge: [from(true, b), from(true, d)],
            tape_mark: Length((b.x - a.x).abs()),
            across: part.seen,
        }
    }
}

/// "Half lap in the back, 3/8 in deep".
pub fn lap_title(lap: &Lap) -> Text {
    let face = if lap.in_back { "back" } else { "front" };
    let title = say![format!("{} in the {face}, ", lap.name)];
    match lap.depth {
        Some(depth) => title.and(depth).and(" deep"),
        None => title.and("half the thickness deep"),
    }
}

/// What becomes of the wood, and on which side of the lines.
pub fn lap_falls_out(lap: &Lap) -> Text {
    lap_title(lap).and(": between the two lines the wood falls out, outside them it stays.")
}

/// All that is said of a lap, in the order in which it is made.
pub fn lap_in_words(a: &LapAdvice) -> Vec<Text> {
    let along = |text: Text, which: &str, at: [Length; 2]| {
        text.and(at[0]).and(" and ").and(at[1]).and(format!(" along the {which} edge"))
    };
    let mut place = along(say!["Mark its shoulders at "], "lower", a.lower_edge);
    place.push(", and at ");
    place = along(place, "upper", a.upper_edge);
    place.push(", each measured from that edge\u{2019}s own left corner, and join them.");
    let mut out = vec![place];
    if a.lap.in_back {
        out.push(say!["Square the marks over both edges, and join them on the back."]);
    }
    out.push(match (a.set, a.swing) {
        (Some(_), Side::Neither) => say!["Both shoulders are square: set the saw square."],
        (Some(set), side) => say![
            "Both shoulders read ",
            a.reading,
            " off square: set the saw to ",
            set,
            format!(" {}, the face with the lap up.", wording::side(side))
        ],
        (None, Side::Neither) => {
            say!["Both shoulders are square, on wood wider than this saw cuts: use a hand saw."]
        }
        (None, _) => say![
            "Both shoulders read ",
            a.reading,
            " off square, past this saw: each runs ",
            a.tape_mark,
            " along over ",
            a.across,
            " across. Use a hand saw."
        ],
    });
    out.push(lap_falls_out(&a.lap));
    out.push(say![if a.set.is_some() {
        "Saw just inside both lines to that depth, with the depth stop as your saw\u{2019}s manual says or with a hand saw; clear the rest with a chisel or a router."
    } else {
        "Saw just inside both lines to that depth, and clear the rest with a chisel or a router."
    }]);
    out
}

/// The face that the lap is marked on, from the part's left end to past the lap: both shoulders, what falls out
/// between them hatched with an X, and where a tape along the lower edge finds them.
pub fn lap_on_face(part: &Part, lap: &Lap) -> Scene {
    let seen = part.seen.0;
    let [(a, b), (c, d)] = lap.shoulders;
    let end = (c.x.max(d.x) + seen).min(part.length.0);
    let mut scene = Scene::new();
    let whole = end >= part.length.0;
    if whole {
        scene.shape(part.outline.0.clone(), Role::Stock);
    } else {
        // Of a long part, what lies left of the break.
        let mut left: Vec<Point> =
            part.outline.0.iter().copied().filter(|p| p.x <= part.length.0 / 2.0).gather();
        offsquare_units::num::sort_by(&mut left, |p, q| p.y.total_cmp(&q.y));
        let mut outline = left;
        outline.push(Point::new(end, seen));
        outline.push(Point::new(end, 0.0));
        scene.shape(outline, Role::Stock);
    }
    scene.shape(vec![a, c, d, b], Role::Waste);
    scene.line(a, b, Role::Cut);
    scene.line(c, d, Role::Cut);
    scene.add(Item::FallsOff { at: a.middle(b).middle(c.middle(d)) });
    let start = Point::new(part.edge_start(false), 0.0);
    for (row, p) in [(-1, a), (-2, c)] {
        scene.computed(start, p, row, Quantity::Length(Length(p.x - start.x)), "lower_edge");
    }
    let (reading, _) = lap.reading();
    if reading.0 > 0.05 {
        let foot = Point::new(a.x, b.y);
        scene.line(a, foot, Role::Center);
        scene.add(Item::AngleMark {
            at: a,
            from: Angle(90.0),
            to: b.from(a).direction(),
            value: Quantity::Angle(reading),
            source: Source::Computed("shoulder"),
        });
    }
    let face = if lap.in_back { "lap in the back" } else { "lap in this face" };
    scene.label(Point::new((start.x + a.x.min(b.x)) / 2.0, seen / 2.0), say![face], Role::Stock);
    scene
}
