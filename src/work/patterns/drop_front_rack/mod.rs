//! A rack on a wall: a back, a frame on it, and panels between the frame's stiles that fold down on cords.
//!
//! The back is one board over the whole width and height. The frame lies on its front face: two stiles as
//! tall as the rack, two rails between them. The panels stand between the stiles, a small gap beside each, and
//! turn on pins or hinges set in the stiles; gaps between panels, and to the rails, are equal. The hinge's
//! axis is `hinge_x` in front of the back's front face. It hangs on a wall: its back at y = 0.

mod swing;

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, Stood, needed, told};
use super::sticks::{Aside, block, pair, span, square};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Inputs, Missing, Value};
use offsquare_cuts::layouts::field::{angle, count, length, standing_length};
use offsquare_cuts::layouts::{Declared, Detail, Form, Outcome, Refused, Solution};
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Point, Point3, Vector};
use offsquare_units::{Angle, Length, Quantity, say};
use swing::{Outline, first_meeting, open_together};

const FORM: Form = Form {
    fields: &[
        length("width", "Width", 24.0, 600.0).help("Over the stiles.").free(),
        length("height", "Height", 36.0, 900.0).help("Over the rails.").free(),
        length("frame_seen", "Frame width", 1.5, 38.0)
            .help("Stiles and rails, seen from the front."),
        length("frame_thickness", "Frame thickness", 1.5, 38.0)
            .help("How far it stands out from the back."),
        count("panels", "Panels", (1, 8), 4.0).help("One above the other.").standing(4.0),
        length("panel_height", "Panel height", 7.0, 175.0).help("Shut.").free(),
        length("panel_thickness", "Panel thickness", 0.5, 12.0),
        angle("opening_deg", "Opens by", (0.0, 180.0), 90.0)
            .help("0 is shut, 90 level, 180 hanging.")
            .free(),
        length("back_thickness", "Back thickness", 0.25, 6.0),
        length("hinge_x", "Hinge, forward", 1.25, 32.0)
            .help("Pin in front of the back's front face.")
            .either_side(),
        length("inner_face_from_axis", "Inner face from the pin", -0.25, -6.0)
            .help("Forward, panel shut; negative if the pin is in front.")
            .either_side(),
        length("lower_edge_from_axis", "Lower edge from the pin", -0.375, -10.0)
            .help("Up, panel shut; negative if the pin is higher.")
            .either_side(),
        length("panel_hole_up_panel", "Hole in the panel", 6.0, 150.0)
            .help("Up from the panel's lower edge.")
            .or_zero(),
        length("back_hole_height", "Hole in the back", 6.0, 150.0)
            .help("Up from the pin.")
            .either_side(),
        standing_length("side_gap", "Gap beside a panel", 0.125, 3.0)
            .help("On each side, to the stile."),
    ],
    also: &[
        length("gap_between", "Gap", 1.0, 25.0)
            .help("Between two panels, and to the rails.")
            .optional(),
        length("cord_between_faces", "Cord", 9.0, 230.0)
            .help("Straight, from face to face.")
            .optional(),
    ],
    gives: &["panel_height", "opening_deg", "height"],
    ..SIZES
};

/// The pattern "drop_front_rack".
pub static DROP_FRONT_RACK: Pattern = Pattern {
    layout: Declared {
        id: "drop_front_rack",
        question: "Wall rack with fold-down fronts",
        search_words: "magazine mail shelf flap panel hinge cord wall",
        forms: &[FORM],
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        Stick { name: "frame", seen: Some("frame_seen"), away: Some("frame_thickness") },
        Stick { name: "back", seen: None, away: Some("back_thickness") },
        Stick { name: "panel", seen: Some("panel_height"), away: Some("panel_thickness") },
    ],
    instead: &[("gap_between", "panel_height"), ("cord_between_faces", "opening_deg")],
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let rack = Rack::read(inputs)?;
    Refused::if_any(rack.misfits())?;
    told(rack.asked(detail)?, detail, |_| rack.whole())
}

/// A rack; inches.
struct Rack {
    width: f64,
    height: f64,
    frame: f64,
    frame_thick: f64,
    panels: u32,
    panel: f64,
    thick: f64,
    opening: f64,
    back: f64,
    hinge_x: f64,
    /// From the hinge's axis to the shut panel's lower inner edge: forward, and up.
    foot: Vector,
    panel_hole: f64,
    back_hole: f64,
    side_gap: f64,
}

impl Rack {
    fn read(inputs: &Inputs) -> Result<Rack, Missing> {
        let [width, height, frame, frame_thick] =
            needed(inputs, ["width", "height", "frame_seen", "frame_thickness"])?;
        let [panels, panel, thick, opening, side_gap] = needed(
            inputs,
            ["panels", "panel_height", "panel_thickness", "opening_deg", "side_gap"],
        )?;
        let [back, hinge_x, inner, lower] = needed(
            inputs,
            ["back_thickness", "hinge_x", "inner_face_from_axis", "lower_edge_from_axis"],
        )?;
        let [panel_hole, back_hole] = needed(inputs, ["panel_hole_up_panel", "back_hole_height"])?;
        let (panels, foot) = (panels as u32, Vector::new(inner, lower));
        Ok(Rack {
            width,
            height,
            frame,
            frame_thick,
            panels,
            panel,
            thick,
            opening,
            back,
            hinge_x,
            foot,
            panel_hole,
            back_hole,
            side_gap,
        })
    }

    /// Between the rails.
    fn inside(&self) -> f64 {
        self.height - 2.0 * self.frame
    }
    /// From one panel's lower edge to the next one's: a panel and a gap.
    fn pitch(&self) -> f64 {
        let n = f64::from(self.panels);
        self.panel + (self.inside() - n * self.panel) / (n + 1.0)
    }
    /// The height of a panel's lower edge; panel 0 is the lowest.
    fn lower(&self, i: u32) -> f64 {
        self.frame + f64::from(i + 1) * self.pitch() - self.panel
    }
    /// A panel's pin, seen from the side: x forward from the back's front face, y up.
    fn pin(&self, i: u32) -> Point {
        Point::new(self.hinge_x, self.lower(i) - self.foot.y)
    }
    /// A shut panel from the side.
    fn shut(&self, i: u32) -> Outline {
        let low = self.pin(i) + self.foot;
        Outline { low, high: low + Vector::new(self.thick, self.panel) }
    }

    /// What cannot be; each at its own size with what would just do.
    fn misfits(&self) -> Vec<Problem> {
        let mut found = Vec::new();
        let mut refuse = |wrong: bool, key: &str, words: &'static str, limit: f64| {
            if wrong {
                found.push(Problem::at_limit(key, words, Length(limit)));
            }
        };
        let beside = 2.0 * (self.frame + self.side_gap);
        let words = "The stiles and gaps fill it: it must be more than {}.";
        refuse(self.width <= beside, "width", words, beside);
        let rails = 2.0 * self.frame;
        let words = "The rails fill it: it must be more than {}.";
        refuse(self.height <= rails, "height", words, rails);
        let most = self.inside() / f64::from(self.panels);
        let words = "The panels fill the frame: each must be less than {}.";
        refuse(most > 0.0 && self.panel >= most, "panel_height", words, most);
        let behind = -self.foot.x;
        let words = "Shut, the panel would stand in the back: it must be at least {}.";
        refuse(self.hinge_x < behind - 1e-9 * self.thick, "hinge_x", words, behind);
        if !found.is_empty() {
            return found;
        }
        let (least, most) =
            (self.frame - self.pin(0).y, self.height - self.frame - self.pin(self.panels - 1).y);
        let words =
            "The hole for the highest panel lies behind the upper rail: it must be at most {}.";
        let hair = 1e-9 * self.height;
        let mut refuse = |wrong: bool, words: &'static str, limit: f64| {
            if wrong {
                found.push(Problem::at_limit("back_hole_height", words, Length(limit)));
            }
        };
        refuse(self.back_hole > most + hair, words, most);
        let words =
            "The hole for the lowest panel lies behind the lower rail: it must be at least {}.";
        refuse(self.back_hole < least - hair, words, least);
        found.extend(self.meets());
        found
    }

    /// The first thing that a panel runs into while it opens, all others being shut; or the next panel, both
    /// open.
    fn meets(&self) -> Option<Problem> {
        let far = self.frame_thick;
        let block = |x0: f64, x1: f64, y0: f64, y1: f64| Outline {
            low: Point::new(x0, y0),
            high: Point::new(x1, y1),
        };
        let frame = [
            ("the back", block(-self.back, 0.0, 0.0, self.height)),
            ("the lower rail", block(0.0, far, 0.0, self.frame)),
            ("the upper rail", block(0.0, far, self.height - self.frame, self.height)),
        ];
        let mut met: Vec<(f64, &str)> = Vec::new();
        for i in 0..self.panels {
            let others =
                (0..self.panels).filter(|j| *j != i).map(|j| ("another panel", self.shut(j)));
            met.extend(frame.iter().copied().chain(others).filter_map(|(what, other)| {
                Some((first_meeting(self.pin(i), &self.shut(i), &other, self.opening)?, what))
            }));
        }
        if self.panels > 1 {
            let last = open_together(self.pitch(), self.panel, self.thick, self.opening);
            met.extend(last.map(|last| (last, "the next panel, open too")));
        }
        let (last, what) = met.into_iter().reduce(|a, b| if b.0 < a.0 { b } else { a })?;
        let limit = Angle(last);
        let text = say!("The panel would run into {}: it opens by at most {}.", what, limit);
        Some(Problem::stop("opening_deg", text).with_limit(Quantity::Angle(limit)))
    }

    /// The lowest panel on its cord, and what the sizes are warned of. (No cord runs into the panel above: its
    /// hole lies lower than that panel, as the highest panel's lies lower than the rail.)
    fn asked(&self, detail: Detail) -> Result<(Solution, Vec<Problem>), Refused> {
        let pin = self.pin(0);
        let mut ask = Ask::of("fold_down", "cord")
            .angle("opening_deg", self.opening, "opening_deg")
            .length("hinge_x", pin.x, "hinge_x")
            .length("hinge_y", pin.y, "height")
            .length("inner_face_from_axis", self.foot.x, "inner_face_from_axis")
            .length("lower_edge_from_axis", self.foot.y, "lower_edge_from_axis")
            .length("panel_height", self.panel, "panel_height")
            .length("panel_thickness", self.thick, "panel_thickness")
            .length("back_thickness", self.back, "back_thickness")
            .length("panel_hole_up_panel", self.panel_hole, "panel_hole_up_panel")
            .length("back_hole_height", pin.y + self.back_hole, "back_hole_height")
            // Two for each panel.
            .with("cords", Value::Number(f64::from(2 * self.panels)), "panels");
        if self.panels > 1 {
            ask = ask.length("next_hinge_down", self.pitch(), "panel_height");
        }
        let (mut answer, problems) = ask.one(detail)?;
        answer.title = "The rack";
        let spaced = Ask::of("spacing", "row")
            .choice("rule", "equal_gaps", "panels")
            .with("holes", Value::Number(f64::from(self.panels)), "panels")
            .length("diameter", self.panel, "panel_height")
            .length("length", self.inside(), "height")
            .one(Detail::Answers)?
            .0;
        // As the layout spaces them: a panel's middle, up from the lower rail.
        let up = self.frame - self.panel / 2.0 - self.foot.y;
        let centers = spaced.answers.numbers("centres").into_iter();
        let hinges: Vec<f64> = centers.map(|c| c + up).collect();
        let holes = hinges.iter().map(|h| h + self.back_hole);
        let gap = spaced.answers.quantity("first_edge").map_or(0.0, |q| q.number());
        answer
            .answers
            .length("gap_between", gap)
            .length("panel_width", self.panel_width())
            .lengths("back_hole_heights", holes)
            .lengths("hinge_heights", hinges);
        Ok((answer, problems))
    }

    fn panel_width(&self) -> f64 {
        self.width - 2.0 * (self.frame + self.side_gap)
    }

    /// Parts where they stand, and the sizes.
    fn whole(&self) -> (Vec<Stood>, Vec<Span>) {
        let (x, front) = (self.width / 2.0, -self.back);
        let (inside, out) = (x - self.frame, front - self.frame_thick);
        let stile = block([inside, x], [out, front], [0.0, self.height]);
        let rail = |z| block([-inside, inside], [out, front], [z, z + self.frame]);
        let rails = vec![rail(0.0), rail(self.height - self.frame)];
        let back = block([-x, x], [front, 0.0], [0.0, self.height]);
        let side = inside - self.side_gap;
        let panel = |i| {
            let Outline { low, high } = self.shut(i);
            block([-side, side], [front - high.x, front - low.x], [low.y, high.y])
        };
        let panels = Member::of("panel", (0..self.panels).map(panel).collect());
        let (seen, away) = (self.frame, self.frame_thick);
        let parts = vec![
            (square("Frame stile", self.height, seen, away), Member::of("frame", pair(stile))),
            (square("Frame rail", 2.0 * inside, seen, away), Member::of("frame", rails)),
            (square("Back", self.height, self.width, self.back), Member::of("back", vec![back])),
            (
                square("Panel", self.panel_width(), self.panel, self.thick),
                Member { joined: "hinge and cord", ..panels },
            ),
        ];
        (parts, self.spans(side))
    }

    fn spans(&self, side: f64) -> Vec<Span> {
        let (x, y) = (self.width / 2.0, -self.back - self.frame_thick);
        let at = |x, z| Point3::new(x, y, z);
        let (low, high) = (self.lower(0), self.lower(0) + self.panel);
        vec![
            span("width", self.width, at(-x, 0.0), at(x, 0.0), Aside::Below),
            span("height", self.height, at(-x, 0.0), at(-x, self.height), Aside::Left),
            span("panel_height", self.panel, at(side, low), at(side, high), Aside::Right),
        ]
    }
}
