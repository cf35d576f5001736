//! A tapered blank, cut and stood between post and floor.
//!
//! The blank is `big` deep at the joint end, `small` at the foot end, `length` apart along its axis,
//! alike on both sides. The seat's cut and the foot's cut pass through the two ends of its outer
//! side; a foot left square is the blank's own end.

use super::lean::Foot;
use super::post::Post;
use crate::inputs::{Inputs, Missing};
use crate::layouts::last_that::last_that;
use crate::layouts::leg_shim::{self, Taper};
use crate::problem::Problem;
use offsquare_units::{Length, num, say};

/// Tapered legs on a post; lengths in inches.
#[derive(Clone, Copy, Debug)]
pub struct Tapered {
    pub post: Post,
    pub footprint: f64,
    pub foot: Foot,
    pub taper: Taper,
    pub round: bool,
    /// Breadths (going away from you) at the joint and foot ends, where all faces taper.
    pub breadths: Option<(f64, f64)>,
    pub shim_at: f64,
    pub first_contact: f64,
}

/// The leg as it stands.
#[derive(Clone, Copy, Debug)]
pub struct Standing {
    /// Slant length of the outer side.
    pub side: f64,
    /// Half the taper's full angle, degrees.
    pub half_taper: f64,
    /// Lean of the outer side, degrees; the axis leans half_taper more, the inner side twice that.
    pub outer: f64,
    pub joint: f64,
    pub foot_cut: f64,
    pub toe_height: f64,
    pub toe_to_heel: f64,
    pub inner_edge: f64,
    pub rise_top: f64,
    pub rise_bottom: f64,
}

impl Standing {
    pub fn axis(&self) -> f64 {
        self.outer + self.half_taper
    }
    pub fn inner(&self) -> f64 {
        self.outer + 2.0 * self.half_taper
    }
}

impl Tapered {
    pub fn read(
        inputs: &Inputs,
        post: Post,
        footprint: f64,
        foot: Foot,
    ) -> Result<Tapered, Missing> {
        let length = |key| inputs.inches(key);
        let taper = Taper {
            big: inputs.need("big_end_depth")?,
            small: inputs.need("small_end_depth")?,
            length: inputs.need("taper_length")?,
        };
        let round = inputs.choice("leg_section") == Some("round");
        let small_breadth = length("small_end_breadth");
        let breadths = if round {
            Some((taper.big, taper.small))
        } else if inputs.choice("tapered_faces") == Some("four") || small_breadth.is_some() {
            let at_joint = post.breadth.unwrap_or(taper.big);
            Some((at_joint, small_breadth.unwrap_or(at_joint * taper.small / taper.big)))
        } else {
            None
        };
        let post = if round { Post { breadth: Some(taper.big), ..post } } else { post };
        Ok(Tapered {
            post,
            footprint,
            foot,
            taper,
            round,
            breadths,
            shim_at: length("shim_at_from_big_end").unwrap_or(taper.length),
            first_contact: length("first_contact_from_big_end").unwrap_or(0.0),
        })
    }

    pub fn run(&self) -> f64 {
        (self.footprint - self.post.width_with_cleats()) / 2.0
    }

    /// The leg of a blank of this length; none where it is too short to reach, or where its inner
    /// edge vanishes or lies down.
    pub fn stand(&self, length: f64) -> Option<Standing> {
        let taper = Taper { length, ..self.taper };
        let (side, half_taper) = (taper.side(), taper.half_angle());
        let run = self.run();
        let up = num::sqrt((side - run) * (side + run));
        if side.is_nan() || side <= run || up <= 0.0 {
            return None;
        }
        let outer = num::atan2_deg(run, up);
        let (axis, inner) = (outer + half_taper, outer + 2.0 * half_taper);
        if inner >= 90.0 {
            return None;
        }
        let cos_half = num::cos_deg(half_taper);
        let joint = taper.big * cos_half / num::sin_deg(inner);
        let (foot_cut, toe_height, toe_to_heel) = match self.foot {
            Foot::Floor => {
                let cut = taper.small * cos_half / num::cos_deg(inner);
                (cut, 0.0, cut)
            }
            Foot::Square => {
                (taper.small, taper.small * num::sin_deg(axis), taper.small * num::cos_deg(axis))
            }
        };
        // The inner edge runs from the heel up to the face.
        let inner_edge = (run - toe_to_heel) / num::sin_deg(inner);
        (inner_edge > 0.0).then_some(Standing {
            side,
            half_taper,
            outer,
            joint,
            foot_cut,
            toe_height,
            toe_to_heel,
            inner_edge,
            rise_top: up + toe_height,
            rise_bottom: inner_edge * num::cos_deg(inner),
        })
    }

    /// The blank's length nearest to the given one of which a leg can be made.
    fn nearest_length(&self) -> Option<f64> {
        let given = self.taper.length;
        let works = |l: f64| self.stand(l).is_some();
        let mut ratio = 1.0;
        for _ in 0..600 {
            let before = ratio;
            ratio *= 1.02;
            for (far, near) in [(given * ratio, given * before), (given / ratio, given / before)] {
                if works(far) {
                    return Some(last_that(works, far, near));
                }
            }
        }
        None
    }

    pub fn refused(&self) -> Problem {
        let given = self.taper.length;
        let problem = match self.nearest_length() {
            Some(l) => {
                let words = if l > given {
                    "At this footprint the leg needs at least "
                } else {
                    "At this footprint the leg may be at most "
                };
                Problem::stop("taper_length", say!("{}{} along its axis.", words, Length(l)))
                    .with_limit(Length(l))
            }
            None => {
                let least = self.post.width_with_cleats() + 2.0 * self.taper.small;
                Problem::at_limit(
                    "footprint",
                    "At this footprint the leg's inner edge vanishes, whatever its length: the \
                         footprint must be more than {}.",
                    Length(least),
                )
            }
        };
        problem.of_way(self.foot.key())
    }

    pub fn problems(&self) -> Vec<Problem> {
        let mut all = self.post.problems();
        all.extend(self.post.check_footprint(self.footprint));
        let deeper = |field, big: f64, what: &'static str| {
            Problem::stop(field, say!("{}{}.", what, Length(big))).with_limit(Length(big))
        };
        if self.taper.small > self.taper.big {
            all.push(deeper(
                "small_end_depth",
                self.taper.big,
                "The foot end may be at most as deep as the joint end, ",
            ));
        }
        if let Some((big, small)) = self.breadths
            && !self.round
            && small > big
        {
            all.push(deeper(
                "small_end_breadth",
                big,
                "The foot end may be at most as broad as the joint end, ",
            ));
        }
        all.extend(leg_shim::check_place(self.taper.length, self.shim_at, self.first_contact));
        all
    }
}
