//! Why there is no leg of these sizes, in a maker's words.

use super::parallel::Legs;
use super::roots::{Basis, Refusal};
use crate::problem::Problem;
use offsquare_units::{Length, Text, say};

impl Legs {
    /// A level foot on a leg as deep as the run or deeper never leaves an inner edge.
    pub(super) fn too_deep(&self, run: f64) -> Problem {
        let least = self.post.width_with_cleats() + 2.0 * self.depth;
        Problem::stop(
            "leg_depth",
            say!(
                "With a level foot at this footprint the leg must be less than {} deep, or its \
                 inner edge vanishes; a leg this deep needs a footprint of more than {}.",
                Length(run),
                Length(least)
            ),
        )
        .with_limit(Length(run))
        .of_way(self.foot.key())
    }

    /// An overall height below the post's length puts its lower end under the floor.
    pub(super) fn check_overall(&self) -> Option<Problem> {
        let length = self.post.length?;
        (self.basis == Basis::OverallHeight && self.value < length).then(|| {
            Problem::at_limit(
                "overall_height",
                "The post would go through the floor: overall it stands at least as high as it \
                     is long, {}.",
                Length(length),
            )
        })
    }

    /// The limit that the given size passed; `shift` leads from the sought size to it.
    pub(super) fn refused(&self, refusal: Refusal, shift: f64) -> Problem {
        let limit = self.basis.quantity(refusal.limit + shift);
        let (most, why) = if refusal.above {
            (false, ".")
        } else {
            (true, ": past that its inner edge vanishes.")
        };
        let why = match (self.basis, refusal.above) {
            (Basis::Splay, _) if refusal.limit == 90.0 => "; it must stand up.",
            (Basis::RiseMiddle | Basis::RiseBottom | Basis::OverallHeight, false) => {
                ": no lean brings the joint higher."
            }
            (Basis::ShortPoint, false) => ": at that it lies down.",
            _ => why,
        };
        let words = match (self.basis, most) {
            (Basis::LongPoint, false) => {
                "At this footprint the leg needs at least {} along its outer edge{}"
            }
            (Basis::LongPoint, true) => {
                "At this footprint the leg may be at most {} along its outer edge{}"
            }
            (Basis::ShortPoint, false) => {
                "At this footprint the leg needs at least {} along its inner edge{}"
            }
            (Basis::ShortPoint, true) => {
                "At this footprint the leg must be less than {} along its inner edge{}"
            }
            (Basis::Splay, false) => {
                "At this footprint the leg must lean more than {} from upright{}"
            }
            (Basis::Splay, true) => {
                "At this footprint the leg must lean less than {} from upright{}"
            }
            (Basis::RiseTop, false) => {
                "At this footprint the joint's upper end must be more than {} above the floor{}"
            }
            (Basis::RiseTop, true) => {
                "At this footprint the joint's upper end must be less than {} above the floor{}"
            }
            (Basis::RiseMiddle, false) => {
                "At this footprint the joint's middle must be more than {} above the floor{}"
            }
            (Basis::RiseMiddle, true) => {
                "At this footprint the joint's middle may be at most {} above the floor{}"
            }
            (Basis::RiseBottom, false) => {
                "At this footprint the joint's lower end must be more than {} above the floor{}"
            }
            (Basis::RiseBottom, true) => {
                "At this footprint the joint's lower end may be at most {} above the floor{}"
            }
            (Basis::OverallHeight, false) => {
                "The overall height must be more than {} for the joint to be above the floor{}"
            }
            (Basis::OverallHeight, true) => {
                "At this footprint the overall height may be at most {}{}"
            }
        };
        let text = Text::said(words, &[(&limit).into(), (&why).into()]);
        Problem::stop(self.basis.key(), text).with_limit(limit).of_way(self.foot.key())
    }
}
