//! A box with upright sides: front, back, sides, floor and lid of one thickness.
//!
//! The lid lies on the four boards; the floor lies between them, flush below. Without a back the sides and
//! the floor run to where it would end.

use super::pattern::{Pattern, SIZES, Stick, Stood, needed, told, yes};
use super::sticks::{block, filled, flag, overall, pair, square};
use offsquare_cuts::assembly::Member;
use offsquare_cuts::inputs::Inputs;
use offsquare_cuts::layouts::field::{choice, length, option};
use offsquare_cuts::layouts::{Answers, Declared, Detail, Form, Outcome, Refused, Solution};
use offsquare_cuts::parts::{End, Part, Side, Sides};
use offsquare_geometry::{Body, Plane, Point3, Vector3};
use offsquare_units::{Angle, Length, say};

const FORM: Form = Form {
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
    ..SIZES
};

const BOARD: Stick = Stick { name: "", seen: None, away: Some("thickness") };

/// The pattern "plain_box".
pub static PLAIN_BOX: Pattern = Pattern {
    layout: Declared {
        id: "plain_box",
        question: "Box with upright sides",
        search_words: "crate chest drawer tray bin lid case",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        Stick { name: "front", ..BOARD },
        Stick { name: "back", ..BOARD },
        Stick { name: "side", ..BOARD },
        Stick { name: "floor", ..BOARD },
        Stick { name: "lid", ..BOARD },
    ],
    instead: &[("inside_width", "width"), ("inside_depth", "depth"), ("inside_height", "height")],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let [width, depth, height, thickness] =
        needed(inputs, ["width", "depth", "height", "thickness"])?;
    let [back, floor, lid] = ["back", "floor", "lid"].map(|key| yes(inputs, key));
    let mitered = inputs.choice("joint") == Some("mitered");
    let made = Sizes { width, depth, height, thickness, back, floor, lid, mitered };
    let [inside_width, inside_depth, inside_height] = made.inside();
    let fills = "The boards fill it";
    filled(&[
        ("width", width, width - inside_width, fills),
        ("depth", depth, depth - inside_depth, fills),
        ("height", height, height - inside_height, fills),
    ])?;
    let mut answers = Answers::new();
    answers
        .length("inside_width", inside_width)
        .length("inside_depth", inside_depth)
        .length("inside_height", inside_height);
    let derivation = vec![
        say!("Inside width: {} less two boards.", Length(width)),
        say!("Inside height: {} less floor and lid, where there are any.", Length(height)),
    ];
    let solution = Solution {
        way: if mitered { "mitered" } else { "butted" },
        title: if mitered { "Mitered corners" } else { "Butted corners" },
        answers,
        headline: vec!["inside_width", "inside_depth", "inside_height"],
        derivation: if detail == Detail::Full { derivation } else { Vec::new() },
        ..Solution::default()
    };
    let whole = |_: &_| (made.boards(), overall(width, depth, height));
    told((solution, Vec::new()), detail, whole)
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

    /// The boards as they are cut, and where they stand: middle of width and depth at the origin.
    fn boards(&self) -> Vec<Stood> {
        let (w, d, t) = (self.width, self.depth, self.thickness);
        let (x, y) = (w / 2.0, d / 2.0);
        let high = self.height - self.if_there(self.lid);
        let behind = y - self.if_there(self.back);
        let mitered = [self.mitered; 2];
        // One board all over the front, or the back.
        let across = |y: [f64; 2], sy: f64| {
            let body = block([-x, x], y, [0.0, high]);
            self.mitered_at(body, &[(-1.0, sy), (1.0, sy)])
        };
        let front = vec![across([-y, -y + t], -1.0)];
        let back = self.back.then(|| across([y - t, y], 1.0)).into_iter().collect();
        let (from, to) = if self.mitered { (-y, y) } else { (-y + t, behind) };
        let right = block([x - t, x], [from, to], [0.0, high]);
        let corners: &[_] = if self.back { &[(1.0, -1.0), (1.0, 1.0)] } else { &[(1.0, -1.0)] };
        // Seen from outside the left side has its front at the right; both are the right one's like, turned.
        let sides = pair(self.mitered_at(right, corners));
        let floor = block([-x + t, x - t], [-y + t, behind], [0.0, t]);
        let lid = block([-x, x], [-y, y], [high, self.height]);
        let if_there = |there: bool, body| if there { vec![body] } else { Vec::new() };
        vec![
            (board("Front", w, high, t, mitered), Member::of("front", front)),
            (board("Back", w, high, t, mitered), Member::of("back", back)),
            (
                board("Side", to - from, high, t, [self.mitered, self.mitered && self.back]),
                Member::of("side", sides),
            ),
            (
                board("Floor", w - 2.0 * t, behind + y - t, t, [false; 2]),
                Member::of("floor", if_there(self.floor, floor)),
            ),
            (board("Lid", w, d, t, [false; 2]), Member::of("lid", if_there(self.lid, lid))),
        ]
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
}

/// A board seen from outside, square or with a bevel of 45° at an end, the outside reaching further.
fn board(name: &'static str, long: f64, wide: f64, thick: f64, bevel: [bool; 2]) -> Part {
    let mut part = square(name, long, wide, thick);
    for cut in &mut part.cuts {
        let (end, lean) = if cut.end == End::Left { (0, Side::Left) } else { (1, Side::Right) };
        if bevel[end] {
            (cut.bevel, cut.lean) = (Angle(45.0), lean);
        }
    }
    part.called(Sides { face: "outside", ..Sides::DRAWN })
}
