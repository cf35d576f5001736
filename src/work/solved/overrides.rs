//! What the maker changed of a pattern's parts; it holds while the part is there.

use super::part::{EndCut, PiecePart};
use offsquare_cuts::problem::Problem;
use offsquare_units::{Length, say};

/// One change. What is none stays as the pattern has it.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Override {
    /// The part's name.
    pub part: String,
    /// Which single one of that name, from 0; none: all of them.
    pub nth: Option<u32>,
    pub stick: Option<String>,
    pub length: Option<Length>,
    pub left: Option<EndCut>,
    pub right: Option<EndCut>,
    /// 0: left out.
    pub qty: Option<u32>,
}

/// The parts with the overrides done to them, and what no longer fits; problems stand at
/// `/overrides/` and the override's number.
///
/// A part with another length or other ends has no place in the piece any more, and none is shown.
pub fn overridden(parts: Vec<PiecePart>, changes: &[Override]) -> (Vec<PiecePart>, Vec<Problem>) {
    let mut problems = Vec::new();
    let mut parts = parts;
    for (i, change) in changes.iter().enumerate() {
        let mut stray = |key: &str, text: String| {
            problems.push(Problem::warn(&format!("/overrides/{i}/{key}"), say!(text)));
        };
        let all: u32 = parts.iter().filter(|p| p.name == change.part).map(|p| p.qty).sum();
        if parts.iter().all(|p| p.name != change.part) {
            let text = "No part has this name any more: the change is kept and does nothing.";
            stray("part", text.to_owned());
            continue;
        }
        match change.nth {
            None => {
                for part in parts.iter_mut().filter(|p| p.name == change.part) {
                    change.apply(part);
                }
            }
            Some(nth) if nth >= all => {
                let text =
                    format!("There are only {all} of it: the change is kept and does nothing.");
                stray("nth", text);
            }
            Some(nth) => parts = single(parts, change, nth),
        }
    }
    parts.retain(|p| p.qty > 0);
    (parts, problems)
}

/// One piece of a name taken out of its row, and changed.
fn single(parts: Vec<PiecePart>, change: &Override, nth: u32) -> Vec<PiecePart> {
    let mut before = 0;
    let mut out = Vec::new();
    for mut part in parts {
        let own = part.name == change.part && (before..before + part.qty).contains(&nth);
        if part.name == change.part {
            before += part.qty;
        }
        if !own {
            out.push(part);
            continue;
        }
        let at = (nth + part.qty - before) as usize;
        let mut one = PiecePart { qty: 1, bodies: Vec::new(), ..part.clone() };
        if at < part.bodies.len() {
            one.bodies.push(part.bodies.remove(at));
        }
        part.qty -= 1;
        change.apply(&mut one);
        if part.qty > 0 {
            out.push(part);
        }
        out.push(one);
    }
    out
}

impl Override {
    fn apply(&self, part: &mut PiecePart) {
        if let Some(stick) = &self.stick {
            part.stick.clone_from(stick);
        }
        if let Some(qty) = self.qty {
            part.qty = qty;
            part.bodies.truncate(qty as usize);
        }
        let before = (part.length, part.left, part.right);
        part.length = self.length.unwrap_or(part.length);
        part.left = self.left.unwrap_or(part.left);
        part.right = self.right.unwrap_or(part.right);
        if before != (part.length, part.left, part.right) {
            part.bodies.clear();
            part.outline = None;
        }
    }
}
