//! Tapered legs: the reading for each way of laying the leg at the saw, and what packs it level.

use super::blank::{Standing, Tapered};
use super::figure::{self, Outline};
use super::lean::Foot;
use super::notes::joint_notes;
use super::post::Hang;
use crate::layouts::{Answers, Caution, Detail, Outcome, Solution};
use crate::parts::{Cut, CutName, End, Part, Sides, StockShape};
use crate::problem::{Level, Problem};
use offsquare_geometry::scene::{Role, Source};
use offsquare_geometry::{Point, Polygon, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Text, num, say};

/// The one way that a tapered leg of these sizes stands.
///
/// Example: D 2.5, e 1.25, L 20, footprint 17.5, post 3.5: the outer side leans asin(7 / 20.0098) =
/// 20.476°, the axis 22.266°, the inner side 24.056°; half the taper is 1.790°.
pub fn solve(legs: &Tapered, detail: Detail) -> Outcome {
    let mut out = Outcome { solutions: Vec::new(), problems: legs.problems() };
    if out.problems.iter().any(|p| p.level == Level::Stop) {
        return out;
    }
    let Some(leg) = legs.stand(legs.taper.length) else {
        out.problems.push(legs.refused());
        return out;
    };
    let scale = legs.footprint.max(leg.side);
    match legs
        .post
        .hang(leg.rise_bottom, leg.joint, scale)
        .and_then(|hang| legs.solution(&leg, &hang, detail))
    {
        Ok(s) => out.solutions.push(s),
        Err(p) => out.problems.push(p.of_way(legs.foot.key())),
    }
    out
}

impl Tapered {
    fn solution(&self, leg: &Standing, hang: &Hang, detail: Detail) -> Result<Solution, Problem> {
        let answers = self.answers(leg, hang);
        answers.check_finite("taper_length")?;
        let mut headline = match (self.round, self.foot) {
            (false, Foot::Floor) => {
                vec!["outer_side_on_fence.top_reading_deg", "outer_side_on_fence.foot_reading_deg"]
            }
            (false, Foot::Square) => vec!["outer_side_on_fence.top_reading_deg"],
            (true, Foot::Floor) => {
                vec!["axis_along_fence.top_reading_deg", "axis_along_fence.foot_reading_deg"]
            }
            (true, Foot::Square) => vec!["axis_along_fence.top_reading_deg"],
        };
        headline.push("long_point_length");
        let mut solution = Solution {
            way: self.foot.key(),
            title: match self.foot {
                Foot::Floor => "Tapered, foot flat on the floor",
                Foot::Square => "Tapered, foot left square",
            },
            answers,
            headline,
            ..Solution::default()
        };
        if detail == Detail::Full {
            solution.parts.push(self.part(leg));
            self.draw(leg, hang, &mut solution);
            solution.derivation = self.derivation(leg);
            solution.notes = self.notes(leg);
            solution.cautions = self.cautions(leg);
            solution.cautions.extend(super::parallel::stands(self.footprint, &solution.answers));
        }
        Ok(solution)
    }

    fn answers(&self, leg: &Standing, hang: &Hang) -> Answers {
        let lay = |lean: f64, square_foot: f64| {
            let mut a = Answers::new();
            a.angle("top_reading_deg", 90.0 - lean);
            a.angle(
                "foot_reading_deg",
                match self.foot {
                    Foot::Floor => lean,
                    Foot::Square => square_foot,
                },
            );
            a
        };
        let mut axis = lay(leg.axis(), 0.0);
        axis.length("shim_at_from_big_end", self.shim_at)
            .length("shim_thickness", self.taper.shim(self.shim_at, self.first_contact))
            .angle("reading_error_without_shim_deg", leg.half_taper);
        let mut answers = Answers::new();
        answers
            .angle("outer_side_lean_deg", leg.outer)
            .angle("axis_lean_deg", leg.axis())
            .angle("inner_side_lean_deg", leg.inner())
            .angle("half_taper_deg", leg.half_taper)
            .group("outer_side_on_fence", lay(leg.outer, leg.half_taper))
            .group("axis_along_fence", axis)
            .group("inner_side_on_fence", lay(leg.inner(), leg.half_taper))
            .length("long_point_length", leg.side)
            .length("side_length", leg.side)
            .length("outer_edge_length", leg.side)
            .length("inner_edge_length", leg.inner_edge)
            .length("rise_to_joint_top", leg.rise_top)
            .length("rise_to_joint_middle", leg.rise_bottom + leg.joint / 2.0)
            .length("rise_to_joint_bottom", leg.rise_bottom)
            .length("joint_length_on_post", leg.joint)
            .length("foot_cut_length", leg.foot_cut);
        if let Some((big, small)) = self.breadths {
            let half = num::atan2_deg((big - small) / 2.0, self.taper.length);
            let sin = num::sin_deg(half);
            let mut unpacked = Answers::new();
            unpacked.angle("seat_bevel_deg", num::asin_deg(sin * num::sin_deg(leg.axis()))).angle(
                "foot_bevel_deg",
                match self.foot {
                    Foot::Floor => num::asin_deg(sin * num::cos_deg(leg.axis())),
                    Foot::Square => half,
                },
            );
            answers
                .angle("half_taper_thickness_deg", half)
                .length("thin_end_packing", (big - small) / 2.0)
                .group("unpacked", unpacked);
        }
        let span = match self.foot {
            Foot::Floor => self.footprint,
            Foot::Square => self.footprint - 2.0 * leg.toe_to_heel,
        };
        self.post.answers(&mut answers, hang, leg.joint, self.footprint, span);
        answers
    }

    /// The leg as it is cut: its outer side at the fence, or (round) its axis along it; foot at the left.
    fn part(&self, leg: &Standing) -> Part {
        let (big, small, side) = (self.taper.big, self.taper.small, leg.side);
        // Outer side along +x from the foot end; the square end looks down and, by half the taper, left.
        let square = Vector::at(Angle(-90.0 - leg.half_taper));
        let seat = Vector::at(Angle(-90.0 - (90.0 - leg.outer)));
        let foot = match self.foot {
            Foot::Floor => Vector::at(Angle(-90.0 + leg.outer)),
            Foot::Square => square,
        };
        let (toe, top) = (Point::ORIGIN, Point::new(side, 0.0));
        let corners = [toe + foot * leg.foot_cut, top + seat * leg.joint, top, toe];
        let (turn, keys) = if self.round {
            (
                leg.half_taper,
                ["axis_along_fence.foot_reading_deg", "axis_along_fence.top_reading_deg"],
            )
        } else {
            (0.0, ["outer_side_on_fence.foot_reading_deg", "outer_side_on_fence.top_reading_deg"])
        };
        let (sin, cos) = (num::sin_deg(turn), num::cos_deg(turn));
        let turned = corners.map(|p| Point::new(p.x * cos - p.y * sin, p.x * sin + p.y * cos));
        let least = turned.iter().fold(f64::INFINITY, |m, p| m.min(p.x));
        let highest = turned.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.y));
        let outline: Vec<Point> =
            turned.iter().map(|p| Point::new(p.x - least, p.y - highest + big)).gather();
        let (foot, joint) = (
            CutName::read(self.foot.cut_name(), keys[0]),
            CutName::read("Joint, on the post", keys[1]),
        );
        let cuts = vec![
            Cut::plain(foot, End::Left, outline[0], outline[3]),
            Cut::plain(joint, End::Right, outline[1], outline[2]),
        ];
        let length = outline.iter().fold(0.0_f64, |m, p| m.max(p.x));
        Part {
            name: "Leg".into(),
            count: self.post.legs,
            sides: Sides { edge_a: "inner side", edge_b: "outer side", ..Sides::LEG },
            seen: Length(big.max(small)),
            away: self.breadths.map(|b| Length(b.0)).or(self.post.breadth.map(Length)),
            length: Length(length),
            outline: Polygon(outline),
            edge_a: Length(leg.inner_edge),
            edge_b: Length(side),
            cuts,
            stock: if self.round { StockShape::Round } else { StockShape::Tapered },
            ..Part::PLAIN
        }
    }

    fn draw(&self, leg: &Standing, hang: &Hang, solution: &mut Solution) {
        let face = self.post.width_with_cleats() / 2.0;
        let half = self.footprint / 2.0;
        let outline = Outline {
            joint_top: Point::new(face, leg.rise_top),
            joint_bottom: Point::new(face, leg.rise_bottom),
            toe: Point::new(half, leg.toe_height),
            heel: Point::new(half - leg.toe_to_heel, 0.0),
        };
        let mut scene = figure::side_view(&self.post, hang, &outline, Length(self.footprint));
        // The blank: its four corners round the outer side, which the cuts keep whole.
        let up = Vector::at(Angle(90.0 + leg.outer));
        let across = Vector::at(Angle(180.0 + leg.axis()));
        let foot_end = outline.toe;
        let joint_end = foot_end + up * leg.side;
        let foot_inner = foot_end + across * self.taper.small;
        let joint_inner = joint_end + across * self.taper.big;
        scene.line(foot_end, foot_inner, Role::Hidden);
        scene.line(joint_end, joint_inner, Role::Hidden);
        let mut size = |from: Point, to: Point, row: i8, x: f64, field: &'static str| {
            let (from, row) = figure::aside(self.post.legs, from, row);
            let (to, _) = figure::aside(self.post.legs, to, row);
            scene.given(from, to, row, Length(x), field);
        };
        size(foot_end, foot_inner, -1, self.taper.small, "small_end_depth");
        size(joint_end, joint_inner, 1, self.taper.big, "big_end_depth");
        size(
            foot_end.middle(foot_inner),
            joint_end.middle(joint_inner),
            0,
            self.taper.length,
            "taper_length",
        );
        scene.computed(foot_end, joint_end, -1, Length(leg.side), "long_point_length").computed(
            Point::new(-half, leg.rise_top),
            Point::new(-half, 0.0),
            -1,
            Length(leg.rise_top),
            "rise_to_joint_top",
        );
        scene.angle(
            outline.toe,
            (90.0, 90.0 + leg.outer),
            leg.outer,
            Source::Computed("outer_side_lean_deg"),
        );
        solution.figure = scene;
    }

    fn derivation(&self, leg: &Standing) -> Vec<Text> {
        let run = Length(self.run());
        let mut steps = vec![
            say!("Each foot lands {} out: (footprint − post) ÷ 2.", run),
            say!(
                "Half the taper: atan((joint end − foot end) ÷ (2 × length)) = {}.",
                Angle(leg.half_taper)
            ),
            say!("Outer side: √(length² + ((joint end − foot end) ÷ 2)²) = {}.", Length(leg.side)),
            say!(
                "It leans asin({} ÷ {}) = {}; the axis half the taper more, {}; the inner side the \
                 same again, {}.",
                run,
                Length(leg.side),
                Angle(leg.outer),
                Angle(leg.axis()),
                Angle(leg.inner())
            ),
            say!(
                "The joint's reading is 90° less the lean of what lies along the fence: outer side \
                 {}, axis {}, inner side {}.",
                Angle(90.0 - leg.outer),
                Angle(90.0 - leg.axis()),
                Angle(90.0 - leg.inner())
            ),
        ];
        steps.push(match self.foot {
            Foot::Floor => say!("The foot's reading is that lean itself."),
            Foot::Square => say!(
                "The foot is left square to the axis: with a side on the fence that reads half the \
                 taper, {}.",
                Angle(leg.half_taper)
            ),
        });
        steps
    }

    fn notes(&self, leg: &Standing) -> Vec<Text> {
        let mut notes = joint_notes(&self.post, leg.joint, self.foot);
        let shim = self.taper.shim(self.shim_at, self.first_contact);
        if !self.round {
            notes.push(say!("With the outer side on the fence no shim is needed there."));
        }
        notes.push(say!(
            "Axis along the fence: a shim of {} between leg and fence, {} from the joint end; \
             without it the reading is out by {}.",
            Length(shim),
            Length(self.shim_at),
            Angle(leg.half_taper)
        ));
        match self.breadths {
            _ if self.round => notes.push(say!(
                "Round stock: cradle it in a V-block and clamp it; never hold it by hand."
            )),
            Some((big, small)) => notes.push(say!(
                "All four faces taper: pack the thin end up off the table by {}, or the seat and \
                 the foot come out bevelled.",
                Length((big - small) / 2.0)
            )),
            None => notes.push(say!("Tapered on two faces it lies flat on the table.")),
        }
        notes
    }

    fn cautions(&self, leg: &Standing) -> Vec<Caution> {
        let mut all = super::parallel::cautions(90.0 - leg.outer, leg.side);
        all.push(Caution::TaperedStock);
        if self.round {
            all.push(Caution::RoundStock);
        }
        all
    }
}
