//! Any arrangement with the opening's size from the frame's outside less its members.

use super::given::Given;
use super::picture;
use crate::inputs::{Inputs, Value};
use crate::layouts::{Detail, Outcome, Refused};
use crate::problem::Problem;
use offsquare_geometry::scene::{Item, Source};
use offsquare_units::num::Gather;
use offsquare_units::{Length, say};

/// Solves `inner` in the opening that the members leave; its size is answered too, and the figure
/// shows the members with the sizes that were given.
///
/// Example: outside 35 by 49 in, stiles and rails 2 1/2: the opening is 30 by 44.
pub fn solve(
    inputs: &Inputs,
    detail: Detail,
    inner: fn(&Inputs, Detail) -> Result<Outcome, Refused>,
) -> Result<Outcome, Refused> {
    let size = |key| inputs.need(key).map(Length);
    let (ow, oh) = (size("outside_width")?, size("outside_height")?);
    let (stile, rail) = (size("stile_width")?, size("rail_width")?);
    let (w, h) = (ow - stile * 2.0, oh - rail * 2.0);
    let problems: Vec<Problem> =
        [("outside_width", "stiles", w, stile), ("outside_height", "rails", h, rail)]
            .into_iter()
            .filter(|(_, _, left, _)| left.0 <= 0.0)
            .map(|(key, members, _, width)| {
                let limit = width * 2.0;
                let text = say!(
                    "The {} leave no opening: outside it must be more than {}.",
                    members,
                    limit
                );
                Problem::stop(key, text).with_limit(limit)
            })
            .gather();
    Refused::if_any(problems)?;
    let laid =
        inputs.with("opening_width", Value::Length(w)).with("opening_height", Value::Length(h));
    let mut out = inner(&laid, detail)?;
    for solution in &mut out.solutions {
        solution.answers.length("opening_width", w.0).length("opening_height", h.0);
        if detail == Detail::Full {
            solution.figure.items.retain(|i| !is_of_opening(i));
            let g = Given { w: w.0, h: h.0, s: 0.0, thickness: None };
            picture::around(&mut solution.figure, g, ow, oh);
        }
    }
    Ok(out)
}

/// A size or a handle of the opening, which was not given.
fn is_of_opening(item: &Item) -> bool {
    let key = match item {
        Item::Dimension { source: Source::Given(key), .. } => key,
        Item::Handle { field, .. } => field,
        _ => return false,
    };
    key.starts_with("opening_")
}
