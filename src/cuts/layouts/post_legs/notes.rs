//! What is told of every leg.

use super::lean::Foot;
use super::post::Post;
use offsquare_units::{Length, Text, say};

/// What is told of every leg.
pub fn joint_notes(post: &Post, joint: f64, foot: Foot) -> Vec<Text> {
    let mut notes = Vec::new();
    if foot == Foot::Square {
        notes.push(say!(
            "The leg stands on the inner corner of its foot; the footprint is measured over the \
             outer corners, which are in the air."
        ));
    }
    if post.cleat > 0.0 {
        notes.push(say!(
            "Make each cleat at least {} long, the length of the joint.",
            Length(joint)
        ));
    }
    if post.legs == 3 {
        notes
            .push(say!("Three legs: the footprint is the circle through the middles of the toes."));
    }
    notes
}
