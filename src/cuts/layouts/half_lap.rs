//! Half lap and notch: two strips crossing at any angle.
//!
//! Frame of each strip: u along it from where the two middle lines cross, v to its left. Depths are
//! measured from the strips' own faces; strip 1 lies behind (its notch opens to the front), strip 2
//! in front.

use super::field::{angle, choice, length, maybe_length, option};
use super::{Answers, Declared, Detail, Form, Off, Outcome, Refused, Solution};
use crate::facts::Caution;
use crate::inputs::Inputs;
use crate::parts::{Lap, Part};
use crate::problem::Problem;
use offsquare_geometry::scene::{Role, Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, num, say};

const PAIR: Form = Form {
    id: "pair",
    label: "Two strips",
    fields: &[
        angle("crossing_deg", "Crossing angle", (5.0, 175.0), 60.0)
            .help("Between the two strips, either way round.")
            .standing(90.0)
            .free(),
        length("width_1", "Width, strip 1", 2.5, 64.0).help("The size seen."),
        length("width_2", "Width, strip 2", 1.5, 38.0).help("The size seen."),
        length("thickness_1", "Thickness, strip 1", 0.75, 19.0)
            .help("The size going away from you; strip 1 lies behind."),
        length("thickness_2", "Thickness, strip 2", 0.75, 19.0)
            .help("The size going away from you; strip 2 lies in front."),
        choice("joint", "Joint", "half_lap").of(&[
            option("half_lap", "Half lap: both are cut"),
            option("notch", "Notch: only strip 1 is cut"),
        ]),
        choice("flush_face", "Flush face", "front")
            .of(&[option("front", "Front"), option("back", "Back")]),
        maybe_length("depth_1", "Depth in strip 1").help("Half the thinner strip unless given."),
        maybe_length("length_1", "Length, strip 1")
            .help("For its part and marks.")
            .start(24.0, 600.0),
        maybe_length("length_2", "Length, strip 2")
            .help("For its part and marks.")
            .start(18.0, 450.0),
        maybe_length("at_1", "Crossing on strip 1")
            .help("From its left end to the crossing, on the middle line; its middle unless given.")
            .or_zero(),
        maybe_length("at_2", "Crossing on strip 2")
            .help("From its left end to the crossing, on the middle line; its middle unless given.")
            .or_zero(),
    ],
    also: &[],
    gives: &["crossing_deg", "width_2", "width_1"],
    off: &[Off { answer: "strip_1.shoulder_reading_deg", keep: &[], give: Some("crossing_deg") }],
};

/// One strip at the crossing.
struct Strip {
    own: f64,
    other: f64,
    thickness: f64,
    depth: f64,
    /// How the other strip crosses it, counter-clockwise looking along it.
    crossing: f64,
    /// Overall length and place of the crossing on it, where they were given.
    placed: Option<(f64, f64)>,
}

impl Strip {
    fn lap_length(&self) -> f64 {
        self.other / num::sin_deg(self.crossing)
    }
    /// How far a shoulder runs on along the strip while it crosses it.
    fn lean(&self) -> f64 {
        self.own * num::cos_deg(self.crossing) / num::sin_deg(self.crossing)
    }
    /// Where a shoulder (-1 or 1) meets the edge at v = `side` × half the width, from the crossing.
    fn shoulder(&self, which: f64, side: f64) -> f64 {
        side * self.lean() / 2.0 + which * self.lap_length() / 2.0
    }

    fn answers(&self) -> Answers {
        let mut a = Answers::new();
        a.angle("shoulder_reading_deg", (90.0 - self.crossing).abs())
            .length("shoulder_tape_mark", self.lean().abs())
            .length("shoulder_line_length", self.own / num::sin_deg(self.crossing))
            .length("housing_width", self.other)
            .length("lap_length", self.lap_length())
            .length("lap_extent", self.lap_length() + self.lean().abs())
            .length("depth", self.depth)
            .length("thickness_left", self.thickness - self.depth);
        if let Some((_, at)) = self.placed {
            a.length("left_edge_first_shoulder", at + self.shoulder(-1.0, 1.0))
                .length("left_edge_second_shoulder", at + self.shoulder(1.0, 1.0))
                .length("right_edge_first_shoulder", at + self.shoulder(-1.0, -1.0))
                .length("right_edge_second_shoulder", at + self.shoulder(1.0, -1.0));
        }
        a
    }

    /// Looking from its front, left end first: v is up, so edge A (y = 0) is its right edge.
    fn part(&self, name: &'static str, joint: &'static str, in_back: bool) -> Option<Part> {
        let (length, at) = self.placed?;
        let mut part = Part::square(name, length, self.own, Some(Length(self.thickness)));
        part.marks = [-1.0, 1.0]
            .iter()
            .map(|which| {
                (
                    Point::new(at + self.shoulder(*which, -1.0), 0.0),
                    Point::new(at + self.shoulder(*which, 1.0), self.own),
                )
            })
            .gather();
        // Strip 1 lies behind: its housing opens to the front. A whole strip has none.
        if let (true, Ok(shoulders)) = (self.depth > 0.0, part.marks[..].try_into()) {
            let depth = Some(Length(self.depth));
            part.laps.push(Lap { name: joint, shoulders, depth, in_back });
        }
        Some(part)
    }
}

/// The layout "half_lap".
pub static HALF_LAP: Declared = Declared {
    id: "half_lap",
    question: "Half lap or notch at any angle",
    search_words: "cross lap housing dado trellis shoulder crossing notch",
    forms: &[PAIR],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (w1, w2) = (inputs.need("width_1")?, inputs.need("width_2")?);
    let (t1, t2) = (inputs.need("thickness_1")?, inputs.need("thickness_2")?);
    let crossing = inputs.degrees("crossing_deg").unwrap_or(90.0);
    let back = inputs.choice("flush_face") == Some("back");
    let (depth_1, depth_2) = depths(inputs, t1, t2, back)?;
    let mut problems = Vec::new();
    let mut strip = |own, other, thickness, depth, crossing, keys: (&'static str, &'static str)| {
        let mut s = Strip { own, other, thickness, depth, crossing, placed: None };
        if let Some(length) = inputs.inches(keys.0) {
            let at = inputs.inches(keys.1).unwrap_or(length / 2.0);
            let reach = (s.lap_length() + s.lean().abs()) / 2.0;
            let slip = 1e-12 * length;
            if at < reach - slip || at > length - reach + slip {
                problems.push(lap_off_end(keys, reach, length));
            } else {
                s.placed = Some((length, at));
            }
        } else if inputs.get(keys.1).is_some() {
            problems.push(Problem::stop(
                keys.0,
                say!("Give the strip's length too, to place the crossing on it."),
            ));
        }
        s
    };
    let one = strip(w1, w2, t1, depth_1, crossing, ("length_1", "at_1"));
    // Looking along strip 2, strip 1 crosses the other way round.
    let two = strip(w2, w1, t2, depth_2, 180.0 - crossing, ("length_2", "at_2"));
    Refused::if_any(problems)?;
    let mut answers = Answers::new();
    answers
        .group("strip_1", one.answers())
        .group("strip_2", two.answers())
        .length("flush_thickness", if back { t2 } else { t1 })
        .length("other_face_step", (t1 - t2).abs())
        .area("lap_area", w1 * w2 / num::sin_deg(crossing));
    let notch = inputs.choice("joint") == Some("notch");
    let mut solution = Solution {
        way: if notch { "notch" } else { "half_lap" },
        title: if notch { "Notch" } else { "Half lap" },
        answers,
        headline: vec![
            "strip_1.shoulder_reading_deg",
            "strip_1.lap_length",
            "strip_1.depth",
            "strip_2.lap_length",
            "strip_2.depth",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        tell(&one, &two, crossing, back, &mut solution);
    }
    Ok(solution.into())
}

/// How deep each strip is cut, so that what is left of both fills the flush thickness.
///
/// The strips share a plane at depth z behind the flush front: strip 2 keeps what lies before it,
/// strip 1 what lies behind it. Example: 1 1/2 behind 3/4, front flush: 3/8 deep in each; 1 1/8 and
/// 3/8 are left, 1 1/2 together.
fn depths(inputs: &Inputs, t1: f64, t2: f64, back: bool) -> Result<(f64, f64), Problem> {
    let length = |l: f64| Quantity::Length(Length(l));
    // Where the front faces lie behind the foremost one.
    let (front_1, front_2) = if back { (t1.max(t2) - t1, t1.max(t2) - t2) } else { (0.0, 0.0) };
    let depth_1 = if inputs.choice("joint") == Some("notch") {
        // Strip 2 stays whole: its back face is the plane.
        front_2 + t2 - front_1
    } else {
        match inputs.length("depth_1") {
            Some(d) => d.0,
            None if back => t1 - t1.min(t2) / 2.0,
            None => t1.min(t2) / 2.0,
        }
    };
    if depth_1 >= t1 {
        return Err(Problem::stop(
            if inputs.get("depth_1").is_some() { "depth_1" } else { "thickness_1" },
            say!(
                "Nothing of strip 1 is left: the cut, {}, must be less than its thickness, {}.",
                Length(depth_1),
                Length(t1)
            ),
        )
        .with_limit(length(if inputs.get("depth_1").is_some() { t1 } else { depth_1 })));
    }
    let plane = front_1 + depth_1;
    let left_2 = plane - front_2;
    if left_2 <= 0.0 || left_2 > t2 * (1.0 + 1e-12) {
        let limit = if left_2 <= 0.0 { front_2 - front_1 } else { front_2 + t2 - front_1 };
        return Err(Problem::stop(
            "depth_1",
            say!(
                "At this depth the faces cannot be flush: the cut in strip 1 must be between {} \
                 and {}.",
                Length((front_2 - front_1).max(0.0)),
                Length(front_2 + t2 - front_1)
            ),
        )
        .with_limit(length(limit)));
    }
    Ok((depth_1, (t2 - left_2).max(0.0)))
}

fn lap_off_end(keys: (&'static str, &'static str), reach: f64, length: f64) -> Problem {
    let (least, most) = (Length(reach), Length(length - reach));
    if most < least {
        let need = least * 2.0;
        return Problem::at_limit(
            keys.0,
            "The lap is longer than the strip: it needs at least {}.",
            need,
        );
    }
    Problem::stop(
        keys.1,
        say!(
            "The lap runs off the end: the crossing must lie between {} and {} along the strip.",
            least,
            most
        ),
    )
    .with_limit(least)
}

fn tell(one: &Strip, two: &Strip, crossing: f64, back: bool, solution: &mut Solution) {
    let joint = if solution.way == "notch" { "Notch" } else { "Half lap" };
    solution.parts.extend(one.part("Strip 1", joint, false));
    solution.parts.extend(two.part("Strip 2", joint, true));
    solution.derivation = vec![
        say!(
            "The shoulders run along the other strip's edges: they cross at {}, off square {}.",
            Angle(crossing),
            Angle((90.0 - crossing).abs())
        ),
        say!(
            "Along strip 1 the lap takes width ÷ sin(crossing) = {}, along strip 2 {}.",
            Length(one.lap_length()),
            Length(two.lap_length())
        ),
        say!(
            "Left of strip 1: {}; of strip 2: {}; together {}.",
            Length(one.thickness - one.depth),
            Length(two.thickness - two.depth),
            Length(one.thickness - one.depth + two.thickness - two.depth)
        ),
    ];
    if one.thickness != two.thickness {
        solution.notes.push(say!(
            "{} are flush; on the other side one stands {} proud.",
            if back { "The back faces" } else { "The front faces" },
            Length((one.thickness - two.thickness).abs())
        ));
    }
    solution.notes.push(say!(
        "Mark the shoulders from the other strip itself, laid in place; saw inside the lines."
    ));
    solution.cautions.push(Caution::LapCut);
    solution.figure = picture(one, two, crossing);
}

fn picture(one: &Strip, two: &Strip, crossing: f64) -> Scene {
    let mut scene = Scene::new();
    let along = [Vector::new(1.0, 0.0), Vector::at(Angle(crossing))];
    let reach =
        1.2 * (one.lap_length() + one.lean().abs()).max(two.lap_length() + two.lean().abs());
    for (strip, u) in [(one, along[0]), (two, along[1])] {
        let v = u.left() * (strip.own / 2.0);
        let at = |x: f64, side: f64| Point::ORIGIN + u * x + v * side;
        scene.shape(
            vec![at(-reach, -1.0), at(reach, -1.0), at(reach, 1.0), at(-reach, 1.0)],
            Role::Stock,
        );
        for which in [-1.0, 1.0] {
            scene.line(
                at(strip.shoulder(which, -1.0), -1.0),
                at(strip.shoulder(which, 1.0), 1.0),
                Role::Mark,
            );
        }
    }
    let end =
        |u: Vector, x: f64, w: f64, side: f64| Point::ORIGIN + u * x + u.left() * (w * side / 2.0);
    for (u, w, key) in [(along[0], one.own, "width_1"), (along[1], two.own, "width_2")] {
        scene.given(end(u, reach, w, -1.0), end(u, reach, w, 1.0), -1, Length(w), key);
    }
    scene.computed(
        end(along[0], one.shoulder(-1.0, -1.0), one.own, -1.0),
        end(along[0], one.shoulder(1.0, -1.0), one.own, -1.0),
        -1,
        Length(one.lap_length()),
        "strip_1.lap_length",
    );
    scene.angle(Point::ORIGIN, (0.0, crossing), crossing, Source::Given("crossing_deg"));
    scene
}
