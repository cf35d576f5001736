//! A box with upright sides: front, back, sides, floor and lid of one thickness.
//!
//! The lid lies on the four boards; the floor lies between them, flush below. Without a back the sides and
//! the floor run to where it would end.

use super::pattern::{Pattern, Stick, yes};
use super::sticks::{Aside, filled, flag, span, square};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::Inputs;
use offsquare_cuts::layouts::field::{choice, length, option};
use offsquare_cuts::layouts::{Answers, Detail, Form, Layout, Outcome, Solution};
use offsquare_cuts::parts::{Cut, End, Part, Side, Sides};
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Body, Plane, Point3, Vector3};
use offsquare_units::{Angle, Length, say};

/// The pattern "plain_box".
pub struct PlainBox;

const FORM: Form = Form {
    id: "sizes",
    label: "By its sizes",
    fields: &[
        length("width", "Width", 14.0, 350.0).help("Over the sides.").free(),
        length("depth", "Depth", 9.0, 230.0).help("Over front and back.").free(),
        length("height", "Height", 8.0, 200.0)
            .help("From the floor to the top, lid and all.")
            .free(),
        length("thickness", "Thickness", 0.75, 19.0).help("Of every board."),
        flag("back", "Back", "Without one the box is open behind.", true),
        flag("floor", "Floor", "Between the boards, flush below.", true),
        flag("lid", "Lid", "It lies on the boards.", true),
        choice("joint", "Corners", "butted")
            .of(&[option("butted", "Butted"), option("mitered", "Mitered")]),
    ],
    also: &[
        length("inside_width", "Inside width", 12.5, 312.0).help("Between the sides.").optional(),
        length("inside_depth", "Inside depth", 7.5, 192.0)
            .help("Between front and back.")
            .optional(),
        length("inside_height", "Inside height", 6.5, 162.0).help("Floor to lid.").optional(),
    ],
    gives: &["width", "depth", "height"],
    off: &[],
};

impl Pattern for PlainBox {
    fn sticks(&self) -> &'static [Stick] {
        const BOARD: Stick = Stick { name: "", seen: None, away: Some("thickness") };
        &[
            Stick { name: "front", ..BOARD },
            Stick { name: "back", ..BOARD },
            Stick { name: "side", ..BOARD },
            Stick { name: "floor", ..BOARD },
            Stick { name: "lid", ..BOARD },
        ]
    }
    fn instead(&self) -> &'static [(&'static str, &'static str)] {
        &[("inside_width", "width"), ("inside_depth", "depth"), ("inside_height", "height")]
    }
}

impl Layout for PlainBox {
    fn id(&self) -> &'static str {
        "plain_box"
    }
    fn question(&self) -> &'static str {
        "Box with upright sides"
    }
    fn search_words(&self) -> &'static str {
        "crate chest drawer tray bin lid case"
    }
    fn forms(&self) -> &'static [Form] {
        const FORMS: &[Form] = &[FORM];
        FORMS
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let made = Sizes::read(inputs);
        let problems = made.problems();
        if !problems.is_empty() {
            return Outcome { solutions: Vec::new(), problems };
        }
        Outcome { solutions: vec![made.solution(detail)], problems }
    }
}

/// A box; inches.
struct Sizes {
    width: f64,
    depth: f64,
    height: f64,
    thickness: f64,
    back: bool,
    floor: bool,
    lid: bool,
    mitered: bool,
}

impl Sizes {
    fn read(inputs: &Inputs) -> Sizes {
        let size = |key| super::pattern::size(inputs, key);
        Sizes {
            width: size("width"),
            depth: size("depth"),
            height: size("height"),
            thickness: size("thickness"),
            back: yes(inputs, "back"),
            floor: yes(inputs, "floor"),
            lid: yes(inputs, "lid"),
            mitered: inputs.choice("joint") == Some("mitered"),
        }
    }

    /// Thickness of a board that may be missing.
    fn if_there(&self, there: bool) -> f64 {
        if there { self.thickness } else { 0.0 }
    }
    fn inside(&self) -> [f64; 3] {
        let t = self.thickness;
        [
            self.width - 2.0 * t,
            self.depth - t - self.if_there(self.back),
            self.height - self.if_there(self.floor) - self.if_there(self.lid),
        ]
    }

    fn problems(&self) -> Vec<Problem> {
        let [width, depth, height] = self.inside();
        let fills = "The boards fill it";
        filled(&[
            ("width", self.width, self.width - width, fills),
            ("depth", self.depth, self.depth - depth, fills),
            ("height", self.height, self.height - height, fills),
        ])
    }

    fn solution(&self, detail: Detail) -> Solution {
        let mut answers = Answers::new();
        let [width, depth, height] = self.inside();
        answers
            .length("inside_width", width)
            .length("inside_depth", depth)
            .length("inside_height", height);
        let mut solution = Solution {
            way: if self.mitered { "mitered" } else { "butted" },
            title: if self.mitered { "Mitered corners" } else { "Butted corners" },
            answers,
            headline: vec!["inside_width", "inside_depth", "inside_height"],
            ..Solution::default()
        };
        if detail == Detail::Full {
            for (part, member) in self.boards() {
                solution.parts.push(part);
                solution.members.push(member);
            }
            solution.spans = self.spans();
            solution.derivation = vec![
                say!("Inside width: {} less two boards.", Length(self.width)),
                say!(
                    "Inside height: {} less floor and lid, where there are any.",
                    Length(self.height)
                ),
            ];
        }
        solution
    }

    /// The boards as they are cut, and where they stand: middle of width and depth at the origin.
    fn boards(&self) -> Vec<(Part, Member)> {
        let (w, d, t) = (self.width, self.depth, self.thickness);
        let (x, y) = (w / 2.0, d / 2.0);
        let high = self.height - self.if_there(self.lid);
        let behind = y - self.if_there(self.back);
        let point = Point3::new;
        let mut out = Vec::new();
        let ends = |left, right| [left && self.mitered, right && self.mitered];

        let front = Body::block(point(-x, -y, 0.0), point(x, -y + t, high));
        let front = self.mitered_at(front, &[(-1.0, -1.0), (1.0, -1.0)]);
        out.push((
            board("Front", 1, w, high, t, ends(true, true)),
            Member::of("front", vec![front]),
        ));
        if self.back {
            let back = Body::block(point(-x, y - t, 0.0), point(x, y, high));
            let back = self.mitered_at(back, &[(-1.0, 1.0), (1.0, 1.0)]);
            out.push((
                board("Back", 1, w, high, t, ends(true, true)),
                Member::of("back", vec![back]),
            ));
        }
        let (from, to) = if self.mitered { (-y, y) } else { (-y + t, behind) };
        let right = Body::block(point(x - t, from, 0.0), point(x, to, high));
        let corners: &[_] = if self.back { &[(1.0, -1.0), (1.0, 1.0)] } else { &[(1.0, -1.0)] };
        let right = self.mitered_at(right, corners);
        // Seen from outside the left side has its front at the right; both are the right one's like, turned.
        let side = board("Side", 2, to - from, high, t, ends(true, self.back));
        out.push((side, Member::of("side", vec![right.mirrored_x(), right])));
        let between = |z: f64| Body::block(point(-x + t, -y + t, z), point(x - t, behind, z + t));
        if self.floor {
            let part = board("Floor", 1, w - 2.0 * t, behind + y - t, t, [false, false]);
            out.push((part, Member::of("floor", vec![between(0.0)])));
        }
        if self.lid {
            let lid = Body::block(point(-x, -y, high), point(x, y, self.height));
            out.push((board("Lid", 1, w, d, t, [false, false]), Member::of("lid", vec![lid])));
        }
        out
    }

    /// A board's body cut along the corners' bisecting planes; a corner is told by its signs in x and y.
    fn mitered_at(&self, body: Body, corners: &[(f64, f64)]) -> Body {
        if !self.mitered {
            return body;
        }
        let middle = body.solid().centroid().unwrap_or_default();
        body.cut(corners.iter().filter_map(|(sx, sy)| {
            let corner = Point3::new(sx * self.width / 2.0, sy * self.depth / 2.0, 0.0);
            let plane = Plane::through(corner, Vector3::new(*sx, -sy, 0.0))?;
            Some(if plane.outside(middle) > 0.0 { plane.flipped() } else { plane })
        }))
    }

    fn spans(&self) -> Vec<Span> {
        let (x, y) = (self.width / 2.0, self.depth / 2.0);
        let at = Point3::new;
        vec![
            span("width", self.width, at(-x, -y, 0.0), at(x, -y, 0.0), Aside::Front),
            span("depth", self.depth, at(x, -y, 0.0), at(x, y, 0.0), Aside::Right),
            span("height", self.height, at(-x, -y, 0.0), at(-x, -y, self.height), Aside::Left),
        ]
    }
}

/// A board seen from outside, square or with a bevel of 45° at an end, the outside reaching further.
fn board(
    name: &'static str,
    count: u32,
    long: f64,
    wide: f64,
    thick: f64,
    bevel: [bool; 2],
) -> Part {
    let mut part = square(name, count, long, wide, thick);
    part.cuts = part
        .cuts
        .into_iter()
        .map(|cut| {
            let (end, lean) = match cut.end {
                End::Left => (0, Side::Left),
                _ => (1, Side::Right),
            };
            if bevel[end] { Cut { bevel: Angle(45.0), lean, ..cut } } else { cut }
        })
        .collect();
    part.called(Sides { face: "outside", ..Sides::DRAWN })
}
