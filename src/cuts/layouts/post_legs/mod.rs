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
use super::{Answers, Declared, Detail, Outcome, Refused, Spelling};
use crate::inputs::Inputs;
use crate::problem::Problem;
use offsquare_units::say;

/// The layout "post_legs".
pub static POST_LEGS: Declared = Declared {
    id: "post_legs",
    question: "Legs that splay from a post",
    search_words: "stand foot feet splay tripod pedestal post taper tapered cleat lean",
    forms: forms::FORMS,
    spelled: spell_given,
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let foot = match inputs.choice("foot") {
        Some("square") => Foot::Square,
        _ => Foot::Floor,
    };
    let (post, footprint) = (Post::read(inputs)?, inputs.need("footprint")?);
    if inputs.form == tapered_fields::TAPERED_ID {
        let legs = blank::Tapered::read(inputs, post, footprint, foot)?;
        return Ok(tapered::solve(&legs, detail));
    }
    let depth = inputs.need("leg_depth")?;
    let given = |b: Basis| Some((b, inputs.need(b.key()).ok()?));
    let (basis, value) = Basis::ALL.into_iter().find_map(given).ok_or(Refused::Missing)?;
    if basis == Basis::OverallHeight {
        inputs.need("post_length")?;
    }
    let legs = parallel::Legs { post, footprint, depth, foot, basis, value };
    Ok(parallel::solve(&legs, detail))
}

/// `"given": "long_point", "value": 12` is `"long_point_length": 12`; the path stays the value's.
fn spell_given(request: &mut Spelling) {
    let basis =
        request.get("given").map(|g| Basis::ALL.into_iter().find(|b| g.word() == Some(b.given())));
    if basis.is_none() && request.get("value").is_none() {
        return;
    }
    request.take("given");
    let value = request.take("value");
    let names = Basis::ALL.map(Basis::given).join(", ");
    let (field, text) = match (basis, value) {
        (Some(Some(basis)), Some((value, path))) => return request.put(basis.key(), value, path),
        (Some(Some(_)), None) => {
            ("value", say!("The given size: its value is missing, type it in."))
        }
        (Some(None), _) => ("given", say!(format!("Given is one of: {names}."))),
        (None, _) => {
            ("given", say!(format!("Say which size the value is; given is one of: {names}.")))
        }
    };
    request.lost += 1;
    request.problem(Problem::stop(field, text));
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
