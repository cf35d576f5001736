//! Legs that splay from a post (GEOMETRY 3): parallel legs from any one size besides post, footprint
//! and leg, and tapered legs.
//!
//! | page | what it holds |
//! |---|---|
//! | `fields`, `tapered_fields` | the fields and forms |
//! | `lean` | what a parallel leg measures at a given lean |
//! | `roots` | every lean that gives a wished size, and the limits |
//! | `post` | the post's section, its legs, how high it hangs |
//! | `parallel`, `limits`, `derivation` | legs of one depth: solutions, refusals, how they follow |
//! | `blank`, `tapered` | tapered legs: how one stands, what is told of it |
//! | `figure` | the side view |

mod blank;
mod derivation;
mod fields;
mod figure;
mod forms;
mod lean;
mod limits;
mod notes;
mod parallel;
mod post;
mod roots;
mod tapered;
mod tapered_fields;

use self::lean::Foot;
use self::post::{Hang, Post};
use self::roots::Basis;
use super::{Answers, Detail, Form, Layout, Outcome, Spelling};
use crate::inputs::Inputs;
use crate::problem::Problem;
use offsquare_units::num::Gather;
use offsquare_units::say;

/// The layout "post_legs".
pub struct PostLegs;

impl Layout for PostLegs {
    fn id(&self) -> &'static str {
        "post_legs"
    }
    fn question(&self) -> &'static str {
        "Legs that splay from a post"
    }
    fn search_words(&self) -> &'static str {
        "stand foot feet splay tripod pedestal post taper tapered cleat lean"
    }
    fn forms(&self) -> &'static [Form] {
        forms::FORMS
    }
    fn spelled(&self, request: &mut Spelling) {
        spell_given(request);
    }
    fn solve(&self, inputs: &Inputs, detail: Detail) -> Outcome {
        let form = forms::FORMS.iter().find(|f| f.id == inputs.form).unwrap_or(&forms::FORMS[0]);
        let foot = match inputs.choice("foot") {
            Some("square") => Foot::Square,
            _ => Foot::Floor,
        };
        let (Some(post), Some(footprint)) = (Post::read(inputs), inputs.length("footprint")) else {
            return super::missing(form, inputs);
        };
        if form.id == tapered_fields::TAPERED_ID {
            return match blank::Tapered::read(inputs, post, footprint.0, foot) {
                Some(legs) => tapered::solve(&legs, detail),
                None => super::missing(form, inputs),
            };
        }
        let value =
            |b: Basis| inputs.length(b.key()).map(|l| l.0).or(inputs.angle(b.key()).map(|a| a.0));
        let basis = Basis::ALL.into_iter().find_map(|b| value(b).map(|v| (b, v)));
        let (Some(depth), Some((basis, value))) = (inputs.length("leg_depth"), basis) else {
            return super::missing(form, inputs);
        };
        if basis == Basis::OverallHeight && post.length.is_none() {
            return super::missing(form, inputs);
        }
        parallel::solve(
            &parallel::Legs { post, footprint: footprint.0, depth: depth.0, foot, basis, value },
            detail,
        )
    }
}

/// `"given": "long_point", "value": 12` is `"long_point_length": 12`; the path stays the value's.
fn spell_given(request: &mut Spelling) {
    let basis =
        request.get("given").map(|g| Basis::ALL.into_iter().find(|b| g.word() == Some(b.given())));
    match (basis, request.get("value").is_some()) {
        (None, false) => {}
        (None, true) => {
            let names: Vec<&str> = Basis::ALL.iter().map(|b| b.given()).gather();
            request.take("value");
            request.lost += 1;
            request.problem(Problem::stop(
                "given",
                say!(format!(
                    "Say which size the value is; given is one of: {}.",
                    names.join(", ")
                )),
            ));
        }
        (Some(None), _) => {
            let names: Vec<&str> = Basis::ALL.iter().map(|b| b.given()).gather();
            request.take("given");
            request.take("value");
            request.lost += 1;
            request.problem(Problem::stop(
                "given",
                say!(format!("Given is one of: {}.", names.join(", "))),
            ));
        }
        (Some(Some(_)), false) => {
            request.take("given");
            request.lost += 1;
            request.problem(Problem::stop(
                "value",
                say!("The given size: its value is missing, type it in."),
            ));
        }
        (Some(Some(basis)), true) => {
            request.take("given");
            let Some((value, path)) = request.take("value") else {
                return;
            };
            request.put(basis.key(), value, path);
        }
    }
}

impl Post {
    /// The answers that parallel and tapered legs share.
    fn answers(&self, answers: &mut Answers, hang: &Hang, joint: f64, footprint: f64, span: f64) {
        answers
            .length("post_bottom_height", hang.bottom)
            .length("foot_out_from_post", (footprint - self.width()) / 2.0)
            .length("toe_to_toe", self.toe_to_toe(footprint))
            .length("joint_bottom_from_post_bottom", self.below_joint)
            .length("joint_top_from_post_bottom", self.below_joint + joint);
        // Of three legs none stands across from another: what they stand on is told by toe to toe.
        if self.legs != 3 {
            answers.length("floor_contact_span", span);
        }
        if let (Some(top), Some(length)) = (hang.top, self.length) {
            answers
                .length("overall_height", top)
                .length("joint_top_from_post_top", length - (self.below_joint + joint));
        }
        if self.cleat > 0.0 {
            answers.length("cleat_length_at_least", joint);
        }
    }
}
