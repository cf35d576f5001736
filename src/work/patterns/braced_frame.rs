//! A frame with braces in its opening: one, a crossed pair, or a K; frame and braces of one thickness.
//!
//! The stiles run through, or the corners are mitered. A K has its apex in the middle of the left stile.

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, needed, told};
use super::sticks::{Aside, block, filled, pair, plane, span, square};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Inputs, Missing};
use offsquare_cuts::layouts::field::{choice, length, option};
use offsquare_cuts::layouts::{Answer, Declared, Detail, Form, Outcome, Refused, Solution};
use offsquare_cuts::parts::Part;
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Body, Plane, Point3, Vector3};
use offsquare_units::{Length, num};

const FORM: Form = Form {
    fields: &[
        length("outside_width", "Outside width", 36.0, 900.0).help("Over the stiles.").free(),
        length("outside_height", "Outside height", 45.0, 1140.0).help("Over the rails.").free(),
        length("rail_seen", "Rail width", 3.5, 89.0)
            .help("The level members, seen from the front."),
        length("stile_seen", "Stile width", 3.5, 89.0).help("The uprights, seen from the front."),
        length("thickness", "Thickness", 1.5, 38.0)
            .help("Of frame and braces, going away from you."),
        choice("braces", "Braces", "one").of(&[
            option("none", "None"),
            option("one", "One"),
            option("crossed", "Crossed pair"),
            option("k", "K"),
        ]),
        choice("ends", "How they land", "rails").of(&[
            option("corner", "Point in the corner"),
            option("rails", "Flat on the rails"),
            option("stiles", "Flat on the stiles"),
            option("edge", "Edge on the diagonal"),
        ]),
        choice("joint", "Where they cross", "half_lap").of(&[
            option("half_lap", "Half lap"),
            option("second_in_halves", "Second in two halves"),
        ]),
        length("strip_seen", "Brace width", 3.5, 89.0).help("Seen from the front."),
        choice("corner", "Frame corners", "butted")
            .of(&[option("butted", "Stiles through"), option("mitered", "Mitered")]),
    ],
    also: &[
        length("opening_width", "Opening width", 29.0, 722.0)
            .help("Between the stiles.")
            .optional(),
        length("opening_height", "Opening height", 38.0, 962.0)
            .help("Between the rails.")
            .optional(),
    ],
    gives: &["outside_height", "outside_width", "strip_seen"],
    ..SIZES
};

const RAIL: Stick = Stick { name: "rail", seen: Some("rail_seen"), away: Some("thickness") };

/// The pattern "braced_frame".
pub static BRACED_FRAME: Pattern = Pattern {
    layout: Declared {
        id: "braced_frame",
        question: "Frame with braces",
        search_words: "gate door shutter barn ledged diagonal cross k fence panel",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        RAIL,
        Stick { name: "stile", seen: Some("stile_seen"), ..RAIL },
        Stick { name: "brace", seen: Some("strip_seen"), ..RAIL },
    ],
    instead: &[("opening_width", "outside_width"), ("opening_height", "outside_height")],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let frame = Frame::read(inputs)?;
    let solved = frame.solution(detail)?;
    told(solved, detail, |solution| {
        let parts = solution.parts.iter().cloned();
        (parts.zip(frame.members()).collect(), frame.spans())
    })
}

/// A frame; inches. Its middle is at x = 0, its front at y = 0, its lower rail on z = 0.
struct Frame {
    width: f64,
    height: f64,
    rail: f64,
    stile: f64,
    thick: f64,
    strip: f64,
    braces: &'static str,
    ends: &'static str,
    halves: bool,
    mitered: bool,
}

type Asked = Result<(Solution, Vec<Problem>), Refused>;

impl Frame {
    fn read(inputs: &Inputs) -> Result<Frame, Missing> {
        let [width, height, rail, stile] =
            needed(inputs, ["outside_width", "outside_height", "rail_seen", "stile_seen"])?;
        let [thick, strip] = needed(inputs, ["thickness", "strip_seen"])?;
        Ok(Frame {
            width,
            height,
            rail,
            stile,
            thick,
            strip,
            braces: inputs.choice("braces").unwrap_or("one"),
            ends: inputs.choice("ends").unwrap_or("rails"),
            halves: inputs.choice("joint") == Some("second_in_halves"),
            mitered: inputs.choice("corner") == Some("mitered"),
        })
    }

    fn opening(&self) -> (f64, f64) {
        (self.width - 2.0 * self.stile, self.height - 2.0 * self.rail)
    }

    fn solution(&self, detail: Detail) -> Asked {
        let (w, h) = self.opening();
        filled(&[
            ("outside_width", self.width, 2.0 * self.stile, "The stiles fill it"),
            ("outside_height", self.height, 2.0 * self.rail, "The rails fill it"),
        ])?;
        let (mut solution, problems) = self.ask_braces(detail)?;
        let frame = if self.mitered { Some(self.ask_corners(detail)?) } else { None };
        if self.braces == "none" {
            solution.answers.length("opening_width", w).length("opening_height", h);
            solution.headline = vec!["opening_width", "opening_height"];
        }
        let mut parts = vec![
            square("Rail", w, self.rail, self.thick),
            square("Stile", self.height, self.stile, self.thick),
        ];
        if let Some(frame) = frame {
            for key in ["rail", "stile"] {
                solution
                    .answers
                    .put(key, frame.answers.at(key).cloned().unwrap_or(Answer::Nothing));
            }
            let away = Some(Length(self.thick));
            parts = frame.parts.into_iter().map(|p| Part { away, ..p }).collect();
            solution.derivation.extend(frame.derivation);
            solution.notes.extend(frame.notes);
            let more = frame.cautions.into_iter();
            let new: Vec<_> = more.filter(|c| !solution.cautions.contains(c)).collect();
            solution.cautions.extend(new);
        }
        parts.append(&mut solution.parts);
        Ok((Solution { parts, title: "The frame", ..solution }, problems))
    }

    /// The braces in the opening that the frame leaves.
    fn ask_braces(&self, detail: Detail) -> Asked {
        let form = match self.braces {
            "none" => return Ok((Solution { way: "none", ..Solution::default() }, Vec::new())),
            "crossed" => "crossed_outside",
            "k" => "pair_outside",
            _ => "outside",
        };
        let ask = Ask::of("brace", form)
            .length("outside_width", self.width, "outside_width")
            .length("outside_height", self.height, "outside_height")
            .length("stile_width", self.stile, "stile_seen")
            .length("rail_width", self.rail, "rail_seen")
            .choice("ends", self.ends, "ends");
        let (strip, thick) = (self.strip, self.thick);
        if self.braces != "crossed" {
            let ask = ask.length("strip_width", strip, "strip_seen");
            let ask = ask.length("thickness", thick, "thickness");
            return ask.choice("apex", "left", "braces").one(detail);
        }
        let most = Length(self.widest_crossed());
        if strip >= most.0 {
            let words = "The crossing runs into the braces' ends: each must be narrower than {}.";
            return Err(Problem::at_limit("strip_seen", words, most).into());
        }
        let joint = if self.halves { "second_in_halves" } else { "half_lap" };
        ask.length("strip_width_1", strip, "strip_seen")
            .length("strip_width_2", strip, "strip_seen")
            .length("thickness_1", thick, "thickness")
            .length("thickness_2", thick, "thickness")
            .choice("joint", joint, "joint")
            .one(detail)
    }

    /// The width at which two like braces' crossing reaches their end cuts.
    ///
    /// The crossing is a rhombus s / cos f high and s / sin f wide, f their slope; it must stay off the
    /// members that the ends lie on. On the rails: s = H cos f, and W sin f = H cos f + s.
    fn widest_crossed(&self) -> f64 {
        let (w, h) = self.opening();
        match self.ends {
            "corner" => w * h / num::hypot(w, h),
            "rails" => w * h / num::hypot(w, 2.0 * h),
            "stiles" => w * h / num::hypot(2.0 * w, h),
            _ => w * h / num::hypot(w, h) / 2.0,
        }
    }

    fn ask_corners(&self, detail: Detail) -> Result<Solution, Refused> {
        let ask = Ask::of("mitred_frame", "rectangle")
            .choice("measured", "outside", "corner")
            .length("frame_width", self.width, "outside_width")
            .length("frame_height", self.height, "outside_height")
            .length("rail_width", self.rail, "rail_seen")
            .length("stile_width", self.stile, "stile_seen");
        Ok(ask.one(detail)?.0)
    }

    fn block(&self, x: f64, z: f64, width: f64, height: f64) -> Body {
        block([x, x + width], [0.0, self.thick], [z, z + height])
    }

    /// Where everything stands, in the order of the parts.
    fn members(&self) -> Vec<Member> {
        let (w, x) = (self.opening().0, self.width / 2.0);
        let rail = |z| {
            if !self.mitered {
                return self.block(-w / 2.0, z, w, self.rail);
            }
            let miters = [-1.0, 1.0].into_iter().filter_map(|side| self.miter(side, z > 0.0));
            self.block(-x, z, self.width, self.rail).cut(miters)
        };
        let mut stile = self.block(x - self.stile, 0.0, self.stile, self.height);
        if self.mitered {
            let miters = [false, true].into_iter().filter_map(|up| self.miter(1.0, up));
            stile = stile.cut(miters.map(Plane::flipped));
        }
        let mut members = vec![
            Member::of("rail", vec![rail(0.0), rail(self.height - self.rail)]),
            Member::of("stile", pair(stile)),
        ];
        let first = self.strip(1.0);
        let braces = match self.braces {
            "none" => Vec::new(),
            "one" => vec![vec![self.brace(&first)]],
            "k" => vec![vec![self.brace(&first), self.brace(&self.strip(-1.0))]],
            _ => self.crossed(&first),
        };
        members.extend(braces.into_iter().map(|bodies| Member::of("brace", bodies)));
        members
    }

    /// Through the outer and the inner corner at the right (1) or the left (-1), above or below; its
    /// outside is the stile's.
    fn miter(&self, side: f64, above: bool) -> Option<Plane> {
        let (z, up) = if above { (self.height, 1.0) } else { (0.0, -1.0) };
        let corner = Point3::new(side * self.width / 2.0, 0.0, z);
        Plane::through(corner, Vector3::new(side * self.rail, 0.0, -up * self.stile))
    }

    /// Where the first brace lies; -1: a K's second one, which runs down from the apex.
    fn strip(&self, up: f64) -> Strip {
        let (w, h) = self.opening();
        let half = if self.braces == "k" { h / 2.0 } else { 0.0 };
        Strip::lay(w, h - half, self.strip, self.ends).moved(-w / 2.0, self.rail + half, up)
    }

    fn brace(&self, strip: &Strip) -> Body {
        Body::of([&strip.edges[..], &strip.ends].concat()).cut(deep(0.0, self.thick))
    }

    /// The first brace and its mirror image: lapped into one another, the first cut in its back; or the
    /// second in two halves, the lower one first.
    fn crossed(&self, strip: &Strip) -> Vec<Vec<Body>> {
        let first = self.brace(strip);
        let second = first.mirrored_x();
        if self.halves {
            let [lower, upper] = strip.edges.map(|edge| second.clone().cut([edge.flipped()]));
            // Where the ends differ the halves do.
            return match self.ends {
                "edge" => vec![vec![first], vec![lower], vec![upper]],
                _ => vec![vec![first], vec![lower, upper]],
            };
        }
        let edges = Body::of(strip.edges.to_vec());
        let crossing = edges.clone().cut(edges.mirrored_x().planes);
        let half = self.thick / 2.0;
        let (front, back) = (deep(0.0, half), deep(half, self.thick));
        vec![vec![first.less(crossing.clone().cut(back))], vec![second.less(crossing.cut(front))]]
    }

    fn spans(&self) -> Vec<Span> {
        let (x, high) = (self.width / 2.0, self.height);
        let at = |x, z| Point3::new(x, 0.0, z);
        let inside = high - self.rail;
        let mut all = vec![
            span("outside_width", self.width, at(-x, 0.0), at(x, 0.0), Aside::Below),
            span("outside_height", high, at(-x, 0.0), at(-x, high), Aside::Left),
            span("rail_seen", self.rail, at(x, inside), at(x, high), Aside::Right),
            span("stile_seen", self.stile, at(-x, high), at(-x + self.stile, high), Aside::Above),
        ];
        if self.braces != "none" {
            let share = if self.braces == "k" { 0.75 } else { 0.5 };
            let middle = at(0.0, self.rail + share * self.opening().1);
            let [a, b] = self.strip(1.0).edges.map(|e| middle + e.normal * -e.outside(middle));
            all.push(span("strip_seen", self.strip, a, b, Aside::Front));
        }
        all
    }
}

/// What lies so deep behind the frame's front.
fn deep(from: f64, to: f64) -> [Plane; 2] {
    [plane((0.0, -1.0, 0.0), -from), plane((0.0, 1.0, 0.0), to)]
}

/// A strip that runs up from the lower left corner of an opening to the upper right one: the planes of its
/// edges, the lower one first, and of the members that its ends lie on.
struct Strip {
    edges: [Plane; 2],
    ends: Vec<Plane>,
}

impl Strip {
    /// `s` wide, the opening `w` by `h` and its lower left corner the origin. On the rails and on the
    /// stiles the edges run through the two corners: turned from the diagonal by what s is wide over it.
    fn lay(w: f64, h: f64, s: f64, ends: &str) -> Strip {
        let d = num::hypot(w, h);
        let root = num::sqrt((d - s) * (d + s)) / d;
        // The turn to the left, and how far the upper edge lies left of the lower left corner.
        let (sin, cos, upper) = match ends {
            "corner" => (0.0, 1.0, s / 2.0),
            "rails" => (s / d, root, 0.0),
            "stiles" => (-s / d, root, s),
            _ => (0.0, 1.0, 0.0),
        };
        let (run, rise) = ((w * cos - h * sin) / d, (h * cos + w * sin) / d);
        let (left, right) = (plane((-1.0, 0.0, 0.0), 0.0), plane((1.0, 0.0, 0.0), w));
        let (bottom, top) = (plane((0.0, 0.0, -1.0), 0.0), plane((0.0, 0.0, 1.0), h));
        Strip {
            edges: [plane((rise, 0.0, -run), s - upper), plane((-rise, 0.0, run), upper)],
            ends: match ends {
                "corner" => vec![left, right, bottom, top],
                "rails" => vec![bottom, top],
                "stiles" => vec![left, right],
                _ => vec![bottom, right],
            },
        }
    }

    /// Its corner at x and z, upside down where `up` is -1.
    fn moved(self, x: f64, z: f64, up: f64) -> Strip {
        let there = |p: Plane| {
            let normal = Vector3 { z: up * p.normal.z, ..p.normal };
            Plane { normal, ..p }.moved(normal.x * x + normal.z * z)
        };
        Strip { edges: self.edges.map(there), ends: self.ends.into_iter().map(there).collect() }
    }
}
