//! A planter with sloping sides, a floor between them, and feet below its corners.
//!
//! The four boards stand on the feet; their level edges are ripped at the tilt. The floor lies flat
//! between the inner faces, its edges bevelled to them.

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, needed, told};
use super::sticks::{Aside, block, level, pair, plane, span, square};
use offsquare_cuts::assembly::{Member, Rips, Span};
use offsquare_cuts::inputs::{Field, Inputs, Missing, Need};
use offsquare_cuts::layouts::field::{angle, choice, length, option, standing_length};
use offsquare_cuts::layouts::{Declared, Detail, Form, Outcome, Refused, Solution};
use offsquare_cuts::parts::Part;
use offsquare_cuts::problem::{Level, Problem};
use offsquare_geometry::scene::Source;
use offsquare_geometry::{Body, Plane, Point3, Vector3};
use offsquare_units::{Angle, Length, num};

const FORM: Form = Form {
    fields: &[
        length("outside_bottom_width", "Bottom, wide", 18.0, 460.0)
            .help("Outside, seen from the front.")
            .free(),
        length("outside_bottom_depth", "Bottom, deep", 8.0, 200.0)
            .help("Outside, seen from the side.")
            .free(),
        length("height", "Height of the sides", 7.0, 180.0).help("Upright, without feet.").free(),
        angle("tilt_front_deg", "Front leans", (-89.0, 89.0), 12.0)
            .help("Front and back, outward from upright; negative leans inward.")
            .free(),
        angle("tilt_side_deg", "Sides lean", (-89.0, 89.0), 8.0)
            .help("Outward from upright.")
            .free(),
        length("thickness", "Board thickness", 0.75, 19.0).help("Of front, back and sides."),
        choice("joint", "Corners", "mitered").of(&[
            option("mitered", "Mitered"),
            option("butted", "Front and back between the sides"),
        ]),
        length("floor_height", "Floor at", 0.5, 12.0)
            .help("Its underside above the sides' lower edges.")
            .or_zero(),
        length("floor_thickness", "Floor thickness", 0.75, 19.0),
        standing_length("feet_height", "Feet", 0.0, 0.0)
            .start(1.0, 25.0)
            .help("How high they are; 0 without feet."),
        Field {
            need: Need::Length(1.5),
            ..length("foot_size", "Foot size", 1.5, 38.0).help("Of a foot, both ways.")
        },
    ],
    also: &[
        length("outside_top_width", "Rim, wide", 20.0, 510.0)
            .help("Outside, seen from the front.")
            .optional(),
        length("outside_top_depth", "Rim, deep", 11.0, 280.0)
            .help("Outside, seen from the side.")
            .optional(),
        length("overall_height", "Overall height", 8.0, 205.0)
            .help("From the ground to the rim.")
            .optional(),
    ],
    gives: &[
        "tilt_side_deg",
        "tilt_front_deg",
        "height",
        "outside_bottom_width",
        "outside_bottom_depth",
    ],
    ..SIZES
};

const BOARD: Stick = Stick { name: "front", seen: None, away: Some("thickness") };

/// The pattern "sloped_planter".
pub static SLOPED_PLANTER: Pattern = Pattern {
    layout: Declared {
        id: "sloped_planter",
        question: "Planter with sloping sides",
        search_words: "flower box pot trough tub garden tapered tray",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        BOARD,
        Stick { name: "side", ..BOARD },
        Stick { name: "floor", seen: None, away: Some("floor_thickness") },
        Stick { name: "foot", seen: Some("foot_size"), away: Some("foot_size") },
    ],
    instead: &[
        ("outside_top_width", "tilt_side_deg"),
        ("outside_top_depth", "tilt_front_deg"),
        ("overall_height", "height"),
    ],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let planter = Planter::read(inputs)?;
    planter.check()?;
    let mut answer = planter.ask(detail)?;
    let (top_width, top_depth) = planter.outside(planter.height);
    answer
        .answers
        .length("outside_top_width", top_width)
        .length("outside_top_depth", top_depth)
        .length("overall_height", planter.feet + planter.height);
    answer.title = "The planter";
    told((answer, Vec::new()), detail, |answer| {
        let boards = ["Front", "Side", "Floor"].into_iter().zip(answer.parts.iter().cloned());
        let boards = boards.map(|(name, part)| Part { name: name.into(), ..part });
        let foot = square("Foot", planter.feet, planter.foot, planter.foot);
        (boards.chain([foot]).zip(planter.members()).collect(), planter.spans())
    })
}

/// A planter; inches and degrees.
struct Planter {
    width: f64,
    depth: f64,
    height: f64,
    tilt_front: f64,
    tilt_side: f64,
    thick: f64,
    mitered: bool,
    floor: f64,
    floor_thick: f64,
    feet: f64,
    /// A foot's size, both ways.
    foot: f64,
}

impl Planter {
    fn read(inputs: &Inputs) -> Result<Planter, Missing> {
        let [width, depth, height, thick] = needed(
            inputs,
            ["outside_bottom_width", "outside_bottom_depth", "height", "thickness"],
        )?;
        let [tilt_front, tilt_side] = needed(inputs, ["tilt_front_deg", "tilt_side_deg"])?;
        let [floor, floor_thick, feet, foot] =
            needed(inputs, ["floor_height", "floor_thickness", "feet_height", "foot_size"])?;
        let mitered = inputs.choice("joint") != Some("butted");
        Ok(Planter {
            width,
            depth,
            height,
            tilt_front,
            tilt_side,
            thick,
            mitered,
            floor,
            floor_thick,
            feet,
            foot,
        })
    }

    /// The feet must not run into each other.
    fn check(&self) -> Result<(), Refused> {
        let sizes = [("outside_bottom_width", self.width), ("outside_bottom_depth", self.depth)];
        let least = 2.0 * self.foot;
        let narrow = sizes.into_iter().filter(|(_, is)| self.feet > 0.0 && *is < least);
        let words = "The feet need {} here, or leave them out.";
        let problem = |(key, _)| Problem::at_limit(key, words, Length(least));
        Refused::if_any(narrow.map(problem).collect())
    }

    /// The layout's box. It only warns of a floor that does not lie in it; here the floor is a part.
    fn ask(&self, detail: Detail) -> Result<Solution, Refused> {
        let (answer, problems) = Ask::of("sloped_box", "two_slopes")
            .length("outer_bottom_width", self.width, "outside_bottom_width")
            .length("outer_bottom_depth", self.depth, "outside_bottom_depth")
            .angle("tilt_front_deg", self.tilt_front, "tilt_front_deg")
            .angle("tilt_side_deg", self.tilt_side, "tilt_side_deg")
            .length("thickness_front", self.thick, "thickness")
            .length("thickness_side", self.thick, "thickness")
            .length("height", self.height, "height")
            .choice("joint", if self.mitered { "mitre" } else { "front_between" }, "joint")
            .length("floor_height", self.floor, "floor_height")
            .length("floor_thickness", self.floor_thick, "floor_thickness")
            .one(detail)?;
        let stops = problems.into_iter().map(|p| Problem { level: Level::Stop, ..p });
        Refused::if_any(stops.collect())?;
        Ok(answer)
    }

    /// Outside width and depth at so much above the sides' lower edges.
    fn outside(&self, up: f64) -> (f64, f64) {
        let grown = |tilt: f64| 2.0 * up * num::tan_deg(tilt);
        (self.width + grown(self.tilt_side), self.depth + grown(self.tilt_front))
    }

    /// Front and back, sides, floor, feet: middle of width and depth at the origin.
    fn members(&self) -> [Member; 4] {
        let (low, high) = (self.feet, self.feet + self.height);
        // Outer faces; those across from them are their mirror images.
        let face = |n: (f64, f64), half: f64, tilt: f64| {
            let (sin, cos) = (num::sin_deg(tilt), num::cos_deg(tilt));
            plane((n.0 * cos, n.1 * cos, -sin), half * cos - low * sin)
        };
        let (x, y) = (self.width / 2.0, self.depth / 2.0);
        let (front, back) =
            (face((0.0, -1.0), y, self.tilt_front), face((0.0, 1.0), y, self.tilt_front));
        let (left, right) =
            (face((-1.0, 0.0), x, self.tilt_side), face((1.0, 0.0), x, self.tilt_side));
        let inner = |outer: Plane| outer.moved(-self.thick);
        let board = |outer: Plane, ends: [Plane; 2]| {
            let faces = [outer, inner(outer).flipped()];
            Body::of([faces, ends, level(low, high)].concat())
        };
        let (front_board, right_board) = if self.mitered {
            let corner = self.miter(front, right);
            let mirrored = |sx: f64, sy: f64, p: Plane| {
                plane((sx * p.normal.x, sy * p.normal.y, p.normal.z), p.at)
            };
            let at_right = corner.flipped();
            (
                board(front, [corner, mirrored(-1.0, 1.0, corner)]),
                board(right, [at_right, mirrored(1.0, -1.0, at_right)]),
            )
        } else {
            (board(front, [inner(left), inner(right)]), board(right, [front, back]))
        };
        let floor = [front, back, left, right].map(inner).into_iter();
        let floor_level = level(low + self.floor, low + self.floor + self.floor_thick);
        let foot = block([x - self.foot, x], [-y, -y + self.foot], [0.0, low]);
        let round = |b: &Body| {
            let behind = b.mirrored_y();
            vec![b.mirrored_x(), b.clone(), behind.mirrored_x(), behind]
        };
        let rips = |near: f64, far: f64| {
            (near != 0.0).then_some(Rips { near: Angle(near), far: Angle(far) })
        };
        [
            Member {
                // Leaning outward, the outer face reaches less far at the bottom and further at the rim.
                rips: rips(-self.tilt_front, self.tilt_front),
                ..Member::of("front", vec![front_board.mirrored_y(), front_board])
            },
            Member {
                rips: rips(-self.tilt_side, self.tilt_side),
                ..Member::of("side", pair(right_board))
            },
            Member {
                rips: rips(self.tilt_front, self.tilt_front),
                ..Member::of("floor", vec![Body::of(floor.chain(floor_level).collect())])
            },
            Member::of("foot", if self.feet > 0.0 { round(&foot) } else { Vec::new() }),
        ]
    }

    /// Through a corner's outer edge and its inner one, the second face's board on its outside.
    fn miter(&self, first: Plane, second: Plane) -> Plane {
        let edge = first.normal.cross(second.normal);
        let at = |f: Plane, s: Plane| f.meet(&s, &plane((0.0, 0.0, 1.0), self.feet));
        let outer = at(first, second).unwrap_or_default();
        let inner = at(first.moved(-self.thick), second.moved(-self.thick)).unwrap_or_default();
        let through = Plane::through(outer, edge.cross(inner - outer)).unwrap_or(second);
        // On the level away from the first face lies the second one's board.
        let beside = outer + -Vector3 { z: 0.0, ..first.normal };
        if through.outside(beside) < 0.0 { through.flipped() } else { through }
    }

    fn spans(&self) -> Vec<Span> {
        let (x, y) = (self.width / 2.0, self.depth / 2.0);
        let (low, high) = (self.feet, self.feet + self.height);
        let (top_x, top_y) = (self.outside(self.height).0 / 2.0, self.outside(self.height).1 / 2.0);
        let at = Point3::new;
        let mut spans = vec![
            span("outside_bottom_width", self.width, at(-x, -y, low), at(x, -y, low), Aside::Front),
            span("outside_bottom_depth", self.depth, at(x, -y, low), at(x, y, low), Aside::Right),
            span("height", self.height, at(-x, -y, low), at(-x, -y, high), Aside::Left),
        ];
        let rim = [
            ("outside_top_width", 2.0 * top_x, at(-top_x, top_y, high)),
            ("outside_top_depth", 2.0 * top_y, at(top_x, -top_y, high)),
        ];
        let corner = at(top_x, top_y, high);
        for (key, value, from) in rim {
            spans.push(Span {
                source: Source::Computed(key),
                ..span(key, value, from, corner, Aside::Above)
            });
        }
        if self.feet > 0.0 {
            spans.push(span("feet_height", self.feet, at(x, y, 0.0), at(x, y, low), Aside::Right));
        }
        spans
    }
}
