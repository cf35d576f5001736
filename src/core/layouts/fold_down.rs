//! A panel that folds down on a cord or chain (GEOMETRY 9).
//!
//! Side view: x forward, y up, the back board's front face at x = 0. Opening 0 is shut (upright), 90
//! level, 180 hanging.

use super::field::{angle, length};
use super::{Answer, Answers, Caution, Detail, Form, Layout, Off, Outcome, Solution, missing};
use crate::geometry::{Point, Vector, dot};
use crate::inputs::{Field, Inputs, Kind, Need, Range, Start};
use crate::num;
use crate::problem::Problem;
use crate::say;
use crate::scene::{Item, Role, Scene, Source};
use crate::units::{Angle, Length, Quantity};

/// The layout "fold_down".
pub struct FoldDown;

const HINGE_X: Field = length(
    "hinge_x",
    "Hinge, forward",
    "Pin in front of the back board's face.",
    0.75,
    19.0,
)
.ranged(Range::Any);
const HINGE_Y: Field =
    length("hinge_y", "Hinge, up", "Height of the pin.", 6.0, 150.0).ranged(Range::Any);
const INNER: Field = length(
    "inner_face_from_axis",
    "Inner face from the pin",
    "Forward, panel shut; negative if the pin is in front.",
    0.0,
    0.0,
)
.ranged(Range::Any);
const LOWER: Field = length(
    "lower_edge_from_axis",
    "Lower edge from the pin",
    "Up, panel shut.",
    0.0,
    0.0,
)
.ranged(Range::Any);
const PANEL_HEIGHT: Field = length("panel_height", "Panel height", "", 16.0, 400.0);
const PANEL: Field = length("panel_thickness", "Panel thickness", "", 0.75, 19.0);
const BACK: Field = length("back_thickness", "Back thickness", "", 0.75, 19.0);
const HOLE: Field = length(
    "panel_hole_up_panel",
    "Hole in the panel",
    "Up from the panel's lower edge.",
    13.0,
    330.0,
)
.ranged(Range::NotNegative);
const BACK_HOLE: Field = length(
    "back_hole_height",
    "Hole in the back",
    "Its height.",
    20.0,
    500.0,
)
.ranged(Range::Any);
const SIDEWAYS: Field = Field {
    key: "sideways",
    label: "Sideways",
    help: "How far the two holes are apart along the hinge.",
    kind: Kind::Length(Range::Any),
    need: Need::Length(0.0),
    start: Start::Empty,
};
const KNOTS: Field = Field {
    key: "knot_allowance",
    label: "For knots",
    help: "Cord for both knots together.",
    kind: Kind::Length(Range::NotNegative),
    need: Need::Optional,
    start: Start::Empty,
};
const LOAD: Field = Field {
    key: "load_kg",
    label: "Load, kilograms",
    help: "On the open panel, panel included.",
    kind: Kind::Number(0.0, 1e6),
    need: Need::Optional,
    start: Start::Empty,
};
const LOAD_AT: Field = Field {
    key: "load_up_panel",
    label: "Load stands",
    help: "Up the panel from its lower edge; the middle unless given.",
    kind: Kind::Length(Range::NotNegative),
    need: Need::Optional,
    start: Start::Empty,
};
const CORDS: Field = Field {
    key: "cords",
    label: "Cords",
    help: "That share the pull.",
    kind: Kind::Count(1, 20),
    need: Need::Number(2.0),
    start: Start::Empty,
};

const CORD: Form = Form {
    id: "cord",
    label: "Cord for an angle",
    fields: &[
        angle(
            "opening_deg",
            "Opens by",
            "0 is shut, 90 level, 180 hanging.",
            0.0,
            180.0,
            90.0,
        ),
        HINGE_X,
        HINGE_Y,
        INNER,
        LOWER,
        PANEL_HEIGHT,
        PANEL,
        BACK,
        HOLE,
        BACK_HOLE,
        SIDEWAYS,
        KNOTS,
        LOAD,
        LOAD_AT,
        CORDS,
    ],
    also: &[],
    gives: &["panel_hole_up_panel", "back_hole_height", "opening_deg"],
    off: &[Off {
        answer: "cord_between_faces",
        keep: &[],
        give: "opening_deg",
    }],
};

const ANGLE: Form = Form {
    id: "angle",
    label: "Angle for a cord",
    fields: &[
        length(
            "cord_between_faces",
            "Cord",
            "Straight, from face to face.",
            17.0,
            430.0,
        ),
        HINGE_X,
        HINGE_Y,
        INNER,
        LOWER,
        PANEL_HEIGHT,
        PANEL,
        BACK,
        HOLE,
        BACK_HOLE,
        SIDEWAYS,
        KNOTS,
        LOAD,
        LOAD_AT,
        CORDS,
    ],
    also: &[],
    gives: &[
        "cord_between_faces",
        "panel_hole_up_panel",
        "back_hole_height",
    ],
    off: &[],
};

/// The hinge, the two holes and the boards, checked. Inches, in the frame above.
#[derive(Clone, Copy, Debug)]
struct Panel {
    hinge: Point,
    /// From the pin to the hole's mouth in the inner face, panel shut.
    hole: Vector,
    /// From the pin to the panel's lower inner edge, panel shut.
    foot: Vector,
    back_hole: Point,
    sideways: f64,
    height: f64,
    thickness: f64,
    back: f64,
}

fn read(inputs: &Inputs) -> Option<Panel> {
    let l = |key: &str| inputs.length(key).map(|l| l.0);
    let (inner, lower) = (l("inner_face_from_axis")?, l("lower_edge_from_axis")?);
    Some(Panel {
        hinge: Point::new(l("hinge_x")?, l("hinge_y")?),
        hole: Vector::new(inner, lower + l("panel_hole_up_panel")?),
        foot: Vector::new(inner, lower),
        back_hole: Point::new(0.0, l("back_hole_height")?),
        sideways: l("sideways").unwrap_or(0.0),
        height: l("panel_height")?,
        thickness: l("panel_thickness")?,
        back: l("back_thickness")?,
    })
}

impl Panel {
    /// Where a point of the shut panel goes: forward and down around the pin.
    fn turned(&self, v: Vector, opening: f64) -> Point {
        let (s, c) = (num::sin_deg(opening), num::cos_deg(opening));
        self.hinge
            .plus(Vector::new(v.x * c + v.y * s, v.y * c - v.x * s))
    }
    fn cord(&self, opening: f64) -> f64 {
        let d = self.back_hole.from(self.turned(self.hole, opening));
        num::hypot(d.length(), self.sideways)
    }
    /// All openings from 0 to 180 at which the straight cord is `length` long: the law of cosines
    /// around the pin, cos(opening − widest) known.
    fn openings(&self, length: f64) -> Vec<f64> {
        let c = self.back_hole.from(self.hinge);
        let r = self.hole;
        // c · R(opening) r = M cos(opening − at).
        let (even, odd) = (dot(c, r), c.x * r.y - c.y * r.x);
        let m = num::hypot(even, odd);
        let at = num::atan2_deg(odd, even);
        let q =
            (dot(c, c) + dot(r, r) + self.sideways * self.sideways - length * length) / (2.0 * m);
        if !q.is_finite() || q.abs() > 1.0 {
            return Vec::new();
        }
        let away = num::acos_deg(q);
        let mut all: Vec<f64> = [at - away, at + away]
            .into_iter()
            .flat_map(|a| [a - 360.0, a, a + 360.0])
            .filter(|a| (-1e-12..=180.0 + 1e-12).contains(a))
            .map(|a| a.clamp(0.0, 180.0))
            .collect();
        num::sort(&mut all);
        all.dedup();
        all
    }
    /// The shortest and longest cord between shut and hanging.
    fn reach(&self) -> (f64, f64) {
        let c = self.back_hole.from(self.hinge);
        let odd = c.x * self.hole.y - c.y * self.hole.x;
        let at = num::atan2_deg(odd, dot(c, self.hole));
        let ends = [self.cord(0.0), self.cord(180.0)];
        [at, at - 180.0, at + 180.0]
            .into_iter()
            .filter(|a| (0.0..=180.0).contains(a))
            .map(|a| self.cord(a))
            .fold(
                (ends[0].min(ends[1]), ends[0].max(ends[1])),
                |(lo, hi), l| (lo.min(l), hi.max(l)),
            )
    }
}

impl Layout for FoldDown {
    fn id(&self) -> &'static str {
        "fold_down"
    }
    fn question(&self) -> &'static str {
        "Panel that folds down on a cord"
    }
    fn search_words(&self) -> &'static str {
        "desk flap chain drop front shelf hinge rope stay"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[CORD, ANGLE];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let form = if inputs.form == ANGLE.id {
            &ANGLE
        } else {
            &CORD
        };
        let Some(panel) = read(inputs) else {
            return missing(form, inputs);
        };
        if panel.hole.y - panel.foot.y > panel.height {
            let limit = Length(panel.height);
            return Outcome::stop(
                Problem::stop(
                    "panel_hole_up_panel",
                    say!["The hole must be in the panel, at most ", limit, " up."],
                )
                .with_limit(Quantity::Length(limit)),
            );
        }
        if form.id == CORD.id {
            let Some(opening) = inputs.angle("opening_deg") else {
                return missing(form, inputs);
            };
            return Outcome {
                solutions: vec![solution(&panel, inputs, opening.0, None, detail)],
                problems: Vec::new(),
            };
        }
        let Some(cord) = inputs.length("cord_between_faces") else {
            return missing(form, inputs);
        };
        let all = panel.openings(cord.0);
        if all.is_empty() {
            let (lo, hi) = panel.reach();
            let limit = Length(if cord.0 > hi { hi } else { lo });
            return Outcome::stop(
                Problem::stop(
                    "cord_between_faces",
                    say![
                        "No opening gives this cord: between shut and hanging it is ",
                        Length(lo),
                        " to ",
                        Length(hi),
                        " long."
                    ],
                )
                .with_limit(Quantity::Length(limit)),
            );
        }
        Outcome {
            solutions: all
                .iter()
                .map(|a| solution(&panel, inputs, *a, Some(&all), detail))
                .collect(),
            problems: Vec::new(),
        }
    }
}

/// Standard gravity, m/s².
const GRAVITY: f64 = 9.80665;

fn solution(
    p: &Panel,
    inputs: &Inputs,
    opening: f64,
    all: Option<&[f64]>,
    detail: Detail,
) -> Solution {
    let hole = p.turned(p.hole, opening);
    let to_back = p.back_hole.from(hole);
    let cord = num::hypot(to_back.length(), p.sideways);
    // The panel's outward direction: from its inner face to its outer one.
    let outward = Vector::new(num::cos_deg(opening), -num::sin_deg(opening));
    let off_panel = dot(to_back, outward);
    let angle = |part: f64| {
        if cord > 0.0 {
            num::asin_deg(part.abs() / cord)
        } else {
            0.0
        }
    };
    let slack = 1e-9 * (p.height + p.hinge.x.abs());
    let clear = off_panel <= slack && hole.x >= -slack;
    let rim = p.turned(Vector::new(p.foot.x, p.foot.y + p.height), opening);
    let mut answers = Answers::new();
    if let Some(all) = all {
        answers.put(
            "angles_deg",
            Answer::List(
                all.iter()
                    .map(|a| Answer::Quantity(Quantity::Angle(Angle(*a))))
                    .collect(),
            ),
        );
    }
    answers
        .angle("opening_deg", opening)
        .length("cord_between_faces", cord)
        .length("cord_with_both_thicknesses", cord + p.thickness + p.back)
        .put(
            "panel_hole_inner",
            Answer::List(
                [hole.x, hole.y]
                    .map(|v| Answer::Quantity(Quantity::Length(Length(v))))
                    .to_vec(),
            ),
        )
        .length("drop_of_panel_hole_below_back_hole", to_back.y)
        .angle("cord_to_panel_deg", angle(off_panel))
        .angle("cord_to_back_deg", angle(to_back.x))
        .put("clear", Answer::Flag(clear))
        .length("cord_between_faces_when_shut", p.cord(0.0))
        .length("mouth_width", rim.x)
        .put("passes_level", Answer::Flag(opening > 90.0));
    let knots = inputs.length("knot_allowance").map_or(0.0, |l| l.0);
    answers.length("cord_to_buy", cord + p.thickness + p.back + knots);
    pull(p, inputs, opening, hole, &mut answers);
    let mut s = Solution {
        way: if all.is_some() { "angle" } else { "cord" },
        title: "Panel on its cord",
        answers,
        headline: vec![
            "opening_deg",
            "cord_between_faces",
            "cord_to_buy",
            "mouth_width",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        s.figure = picture(p, opening, hole, inputs);
        s.derivation = vec![
            say![
                "Opened by ",
                Angle(opening),
                ", the panel's hole stands ",
                Length(hole.x),
                " forward and ",
                Length(to_back.y),
                " below the hole in the back."
            ],
            say![
                "Straight between the two, and ",
                Length(p.sideways),
                " sideways: ",
                Length(cord),
                "."
            ],
            say![
                "Through both boards: ",
                Length(cord + p.thickness + p.back),
                "."
            ],
        ];
        if !clear {
            s.notes.push(say!["The straight cord would cut into a board here: it bends around the edge, so it must be longer."]);
        }
        if opening > 90.0 {
            s.notes
                .push(say!["The panel passes level: things slide off it."]);
        }
        if all.is_some_and(|a| a.len() > 1) {
            s.notes.push(say!["Two openings fit this cord; on opening, the cord stops the panel at the smaller one."]);
        }
        s.cautions = vec![Caution::FallingPanel, Caution::Load];
    }
    s
}

/// Pull on one cord: the load's turning moment about the pin over the cord's.
fn pull(p: &Panel, inputs: &Inputs, opening: f64, hole: Point, answers: &mut Answers) {
    let Some(kg) = inputs.number("load_kg") else {
        return;
    };
    let up = inputs
        .length("load_up_panel")
        .map_or(p.height / 2.0, |l| l.0);
    let load = p.turned(Vector::new(p.foot.x, p.foot.y + up), opening);
    let moment = kg * GRAVITY * (load.x - p.hinge.x);
    let arm = hole.from(p.hinge);
    let d = p.back_hole.from(hole);
    let cord = num::hypot(d.length(), p.sideways);
    // Turning moment of a unit pull along the cord, against the load's.
    let lever = (arm.x * d.y - arm.y * d.x) / cord;
    let cords = inputs.number("cords").unwrap_or(2.0);
    let pull = moment / lever / cords;
    if lever > 0.0 && pull.is_finite() && pull >= 0.0 {
        answers.put("pull_per_cord_N", Answer::Quantity(Quantity::Force(pull)));
    } else {
        answers.put("pull_per_cord_N", Answer::Nothing);
    }
}

fn picture(p: &Panel, opening: f64, hole: Point, inputs: &Inputs) -> Scene {
    let mut scene = Scene::new();
    let top = p.back_hole.y.max(p.hinge.y + p.foot.y + p.height) + p.thickness;
    let low = p.hinge.y.min(0.0);
    scene.shape(
        vec![
            Point::new(-p.back, low),
            Point::new(0.0, low),
            Point::new(0.0, top),
            Point::new(-p.back, top),
        ],
        Role::Frame,
    );
    let corner = |out: f64, up: f64| p.turned(Vector::new(p.foot.x + out, p.foot.y + up), opening);
    scene.shape(
        vec![
            corner(0.0, 0.0),
            corner(p.thickness, 0.0),
            corner(p.thickness, p.height),
            corner(0.0, p.height),
        ],
        Role::Stock,
    );
    scene.line(hole, p.back_hole, Role::Mark);
    scene.given(
        Point::new(-p.back, p.back_hole.y),
        Point::new(-p.back, 0.0),
        -1,
        Quantity::Length(Length(p.back_hole.y)),
        "back_hole_height",
    );
    scene.given(
        corner(p.thickness, 0.0),
        corner(p.thickness, p.hole.y - p.foot.y),
        -1,
        Quantity::Length(Length(p.hole.y - p.foot.y)),
        "panel_hole_up_panel",
    );
    let source = if inputs.form == ANGLE.id {
        Source::Computed("opening_deg")
    } else {
        Source::Given("opening_deg")
    };
    scene.add(Item::AngleMark {
        at: p.hinge,
        from: Angle(90.0 - opening),
        to: Angle(90.0),
        value: Quantity::Angle(Angle(opening)),
        source,
    });
    scene.computed(
        hole,
        p.back_hole,
        1,
        Quantity::Length(Length(p.cord(opening))),
        "cord_between_faces",
    );
    scene
}
