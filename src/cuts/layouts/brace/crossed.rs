//! Two braces that cross: half lapped, or one through and the other in two halves.

use super::given::{
    Given, Place, answers, cautions, cut_names, derivation, run_and_rise, too_wide, widest,
};
use super::half::Half;
use super::landing::{Landing, Opening, Strip, asked};
use super::lap::{self, Crossing, Lap};
use super::picture;
use crate::inputs::Inputs;
use crate::layouts::last_that::last_that;
use crate::layouts::{Answer, Answers, Caution, Detail, Outcome, Refused, Solution};
use crate::parts::{self, Part};
use crate::problem::Problem;
use offsquare_geometry::Point;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, num, say};

/// A rectangle, both strips and what is made of them.
#[derive(Clone, Copy, Debug)]
struct Pair {
    first: Given,
    second: Given,
    halves: bool,
}

/// Example: 30 by 44, both strips 2 1/2, flat on the rails: the braces rise at 58.403847, so they open
/// 63.192306 to the rails, and either lap is 2 1/2 ÷ sin of that long.
pub fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (w, h) = (inputs.need("opening_width")?, inputs.need("opening_height")?);
    let thickness_1 = inputs.length("thickness_1");
    let first = Given { w, h, s: inputs.need("strip_width_1")?, thickness: thickness_1 };
    let pair = Pair {
        first,
        second: Given {
            s: inputs.need("strip_width_2")?,
            thickness: inputs.length("thickness_2").or(thickness_1),
            ..first
        },
        halves: inputs.choice("joint") == Some("second_in_halves"),
    };
    let mut out = Outcome::default();
    for landing in asked(inputs) {
        let limit = widest(first, landing);
        let mut fits = true;
        for (given, key) in [(pair.first, "strip_width_1"), (pair.second, "strip_width_2")] {
            if given.s >= limit {
                fits = false;
                let words = "for this opening";
                out.problems.push(too_wide(landing, words, Length(limit), key));
            }
        }
        if !fits {
            continue;
        }
        match crossing(&pair, landing) {
            Some(c) => {
                let mut solution = pair.answer(landing, &c);
                if detail == Detail::Full {
                    pair.fill(&mut solution, landing, &c);
                }
                out.solutions.push(solution);
            }
            None => out.problems.push(runs_out(&pair, landing, detail)),
        }
    }
    Ok(out)
}

fn crossing(pair: &Pair, landing: Landing) -> Option<Crossing> {
    let strips = lap::lay(pair.first, pair.second.s, landing)?;
    let runs = [run_and_rise(pair.first, landing), run_and_rise(pair.second, landing)];
    lap::cross(strips, runs)
}

/// The lap runs into an end cut. The limit is the first strip's, the second one kept; where no first
/// strip would do, the second's.
fn runs_out(pair: &Pair, landing: Landing, detail: Detail) -> Problem {
    let narrower = |second: bool, s: f64| {
        let mut pair = *pair;
        if second {
            pair.second.s = s;
        } else {
            pair.first.s = s;
        }
        pair
    };
    let limit = |second: bool, from: f64| {
        let works = |s| crossing(&narrower(second, s), landing).is_some();
        let good = last_that(works, 0.0, from);
        (good > 1e-9 * from).then_some(Length(good))
    };
    let found = if detail == Detail::Full {
        limit(false, pair.first.s)
            .map(|l| ("strip_width_1", "first", l))
            .or_else(|| limit(true, pair.second.s).map(|l| ("strip_width_2", "second", l)))
    } else {
        None
    };
    match found {
        Some((key, strip, limit)) => Problem::stop(
            key,
            say!(
                "{}: the lap runs into an end cut. With the other strip as it is, the {} strip \
                 must be narrower than {}.",
                landing.title(),
                strip,
                limit
            ),
        )
        .with_limit(limit),
        None => Problem::stop(
            "strip_width_1",
            say!(
                "{}: the lap runs into an end cut. Both strips must be narrower.",
                landing.title()
            ),
        ),
    }
    .of_way(landing.key())
}

impl Pair {
    fn answer(&self, landing: Landing, c: &Crossing) -> Solution {
        let (run_1, rise_1) = run_and_rise(self.first, landing);
        let (run_2, rise_2) = run_and_rise(self.second, landing);
        let sin = rise_1 * run_2 + run_1 * rise_2;
        let cos = rise_1 * rise_2 - run_1 * run_2;
        let facing_rails = num::atan2_deg(sin, cos);
        let facing_stiles = num::atan2_deg(sin, -cos);
        let joint = Joint {
            sin,
            // |cos X| / sin X: how far a shoulder leans over a strip's width.
            lean: cos.abs() / sin,
            reading: num::atan2_deg(cos.abs(), sin),
        };
        let mut a = Answers::new();
        a.angle("angle_facing_rails_deg", facing_rails)
            .angle("angle_facing_stiles_deg", facing_stiles)
            .angle("crossing_acute_deg", facing_rails.min(facing_stiles))
            .area("lap_area", self.first.s / sin * self.second.s);
        let mut brace_1 = answers(self.first, landing);
        let headline = if self.halves {
            a.group("brace_1", brace_1);
            for (key, half) in self.halves_of(landing, c) {
                let mut own = half.answers(joint.reading);
                // The outer end is cut like a whole second brace.
                let whole = answers(self.second, landing);
                for name in half.outer_names(landing) {
                    let reading = name.miter_key.and_then(|k| k.split('.').next_back());
                    if let Some((reading, answer)) =
                        reading.and_then(|k| Some((k, whole.at(k)?.clone())))
                        && own.at(reading).is_none()
                    {
                        own.put(reading, answer);
                    }
                }
                a.group(key, own);
            }
            vec![
                "half.joint_reading_deg",
                "half.long_point_length",
                "half.left_edge_length",
                "half.right_edge_length",
            ]
        } else {
            let mut brace_2 = answers(self.second, landing);
            joint.lap(&c.first, &c.second, &c.laps[0], &mut brace_1);
            joint.lap(&c.second, &c.first, &c.laps[1], &mut brace_2);
            if let Some([one, two]) = self.depths() {
                brace_1.length("lap_depth", one.depth).length("thickness_left_in_lap", one.left);
                brace_2.length("lap_depth", two.depth).length("thickness_left_in_lap", two.left);
            }
            a.group("brace_1", brace_1).group("brace_2", brace_2);
            vec!["brace_1.shoulder_reading_deg", "brace_1.lap_length", "brace_2.lap_length"]
        };
        Solution {
            way: landing.key(),
            title: landing.title(),
            answers: a,
            headline: self.led_by_ends(landing, headline),
            ..Solution::default()
        }
    }

    /// The halves that are unlike: one, of which two are made, or where the ends differ both.
    fn halves_of(&self, landing: Landing, c: &Crossing) -> Vec<(&'static str, Half)> {
        let mut out = vec![("half", Half::lower(c))];
        if landing.ends_differ() {
            out.push(("upper_half", Half::upper(c)));
        }
        out
    }

    /// The through brace's own settings first, then the joint's.
    fn led_by_ends(&self, landing: Landing, joint: Vec<&'static str>) -> Vec<&'static str> {
        let mut out: Vec<&'static str> = Vec::new();
        for name in cut_names(landing, Place::First) {
            if let Some(key) = name.miter_key.filter(|k| !out.contains(k)) {
                out.push(key);
            }
        }
        out.extend(joint);
        out
    }

    /// How deep each lap is cut, the front faces flush: the thinner strip gives half its thickness, and what is left of
    /// both adds up to the second strip's thickness. The first strip's lap is in its back.
    fn depths(&self) -> Option<[Depth; 2]> {
        let (one, two) = (self.first.thickness?.0, self.second.thickness?.0);
        let front = one.min(two) / 2.0;
        Some([Depth { depth: one - front, left: front }, Depth { depth: front, left: two - front }])
    }

    fn fill(&self, solution: &mut Solution, landing: Landing, c: &Crossing) {
        let mut first =
            c.first.part("First brace", self.first.thickness, &cut_names(landing, Place::First));
        let mut others = if self.halves {
            let like = !landing.ends_differ();
            let halves = self.halves_of(landing, c);
            let part = |(_, half): &(_, Half)| half.part(c, self.second.thickness, landing, like);
            halves.iter().map(part).gather()
        } else {
            let mut second = c.second.part(
                "Second brace",
                self.second.thickness,
                &cut_names(landing, Place::Second),
            );
            second.marks = marks(&c.second, &c.laps[1]);
            second.laps.extend(self.lap_in(&second, 1));
            vec![second]
        };
        first.marks = marks(&c.first, &c.laps[0]);
        if !self.halves {
            first.laps.extend(self.lap_in(&first, 0));
        }
        others.insert(0, first);
        solution.parts = others;
        solution.cautions = cautions(landing, &solution.parts);
        solution.opening = Some(c.first.around(&Opening::rectangle(self.first.w, self.first.h)));
        if !self.halves {
            solution.cautions.push(Caution::LapCut);
        }
        solution.figure = picture::crossed(self.first.w, self.first.h, landing, c, self.halves);
        self.explain(solution, landing);
    }

    /// The lap between a strip's two shoulder lines: the first strip's in its back, the second's in its front.
    fn lap_in(&self, part: &Part, strip: usize) -> Option<parts::Lap> {
        Some(parts::Lap {
            name: "Half lap",
            shoulders: part.marks[..].try_into().ok()?,
            depth: self.depths().map(|d| Length(d[strip].depth)),
            in_back: strip == 0,
        })
    }

    fn explain(&self, solution: &mut Solution, landing: Landing) {
        let angle = |key: &str| match solution.answers.quantity(key) {
            Some(Quantity::Angle(a)) => a,
            _ => Angle(0.0),
        };
        let (slope_1, crossing) = (angle("brace_1.slope_to_rail_deg"), angle("crossing_acute_deg"));
        let facing = angle("angle_facing_rails_deg");
        let slope_2 = Angle(180.0 - facing.0 - slope_1.0);
        let sin = num::sin_deg(facing.0);
        let mut out = derivation(self.first, landing);
        out.push(say!(
            "The braces rise at {} and {}; 180° less both is the angle that opens to the rails, \
             {}. They cross at {}.",
            slope_1,
            slope_2,
            facing,
            crossing
        ));
        out.push(say!(
            "Square to an edge would be 90°: the shoulder lines read {} off square.",
            Angle(90.0 - crossing.0)
        ));
        if self.halves {
            out.push(say!(
                "Each half ends at the first brace's edge; the joint is the second strip's width ÷ \
                 sin of the crossing = {} long.",
                Length(self.second.s / sin)
            ));
            solution.notes.push(if landing.ends_differ() {
                say!("The two halves differ: mark which is the upper one.")
            } else {
                say!("Make two halves alike: the upper one is the lower one turned half round.")
            });
        } else {
            out.push(say!(
                "Along an edge a lap is the other strip's width ÷ sin of the crossing: {} in the \
                 first brace, {} in the second.",
                Length(self.second.s / sin),
                Length(self.first.s / sin)
            ));
            match self.depths() {
                Some([one, two]) => solution.notes.push(say!(
                    "Front faces flush: cut the first brace's lap {} deep in its back, the \
                     second's {} deep in its front.",
                    Length(one.depth),
                    Length(two.depth)
                )),
                None => solution
                    .notes
                    .push(say!("Strips of one thickness: cut each lap half the thickness deep.")),
            }
        }
        solution.derivation = out;
    }
}

/// One strip's lap: how deep it is cut, and what stays.
#[derive(Clone, Copy, Debug)]
struct Depth {
    depth: f64,
    left: f64,
}

/// What both laps share.
struct Joint {
    sin: f64,
    lean: f64,
    reading: f64,
}

fn pair(at: [f64; 2], less: f64) -> Answer {
    Answer::list(at.into_iter().map(|x| Length(x - less)))
}

impl Joint {
    fn lap(&self, own: &Strip, other: &Strip, lap: &Lap, a: &mut Answers) {
        let (start_a, start_b) = own.starts();
        let least = own.least();
        let length = other.width / self.sin;
        a.put("left_from_point", pair(lap.left, least))
            .put("left_from_edge_end", pair(lap.left, start_b))
            .put("right_from_point", pair(lap.right, least))
            .put("right_from_edge_end", pair(lap.right, start_a))
            .length("lap_length", length)
            .length("lap_extent", length + own.width * self.lean)
            .angle("shoulder_reading_deg", self.reading)
            .length("shoulder_line_length", own.width / self.sin);
    }
}

/// The shoulder lines on the part's face, in the part's frame.
fn marks(own: &Strip, lap: &Lap) -> Vec<(Point, Point)> {
    let least = own.least();
    (0..2)
        .map(|i| {
            (Point::new(lap.right[i] - least, 0.0), Point::new(lap.left[i] - least, own.width))
        })
        .gather()
}
