//! One brace in a rectangle.

use super::given::{Given, Place, answers, cautions, cut_names, derivation, too_wide, widest};
use super::landing::{Landing, Opening, Strip, asked};
use super::picture;
use crate::inputs::Inputs;
use crate::layouts::{Detail, Outcome, Refused, Solution};
use offsquare_units::Length;

/// Example: 30 by 44, strip 2 1/2, flat on the rails: 31.596153 at both ends, either edge 51.657616 long.
pub fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let g = Given {
        w: inputs.need("opening_width")?,
        h: inputs.need("opening_height")?,
        s: inputs.need("strip_width")?,
        thickness: inputs.length("thickness"),
    };
    let words = "for this opening";
    Ok(each_landing(g, inputs, detail, words, |strip, solution| {
        if let Some(strip) = strip {
            solution.figure = picture::in_rectangle(g.w, g.h, strip);
        }
    }))
}

/// Every landing asked for, each by itself; `finish` gets the strip where all is wanted.
pub fn each_landing(
    g: Given,
    inputs: &Inputs,
    detail: Detail,
    of_what: &'static str,
    mut finish: impl FnMut(Option<&Strip>, &mut Solution),
) -> Outcome {
    let mut out = Outcome::default();
    let opening = Opening::rectangle(g.w, g.h);
    for landing in asked(inputs) {
        let limit = widest(g, landing);
        let fits = g.s < limit;
        let strip =
            (fits && detail == Detail::Full).then(|| Strip::lay(&opening, landing, g.s)).flatten();
        if !fits || (detail == Detail::Full && strip.is_none()) {
            out.problems.push(too_wide(landing, of_what, Length(limit), "strip_width"));
            continue;
        }
        let mut solution = Solution {
            way: landing.key(),
            title: landing.title(),
            answers: answers(g, landing),
            headline: headline(landing),
            ..Solution::default()
        };
        if let Some(strip) = &strip {
            solution.derivation = derivation(g, landing);
            let part = strip.part("Brace", g.thickness, &cut_names(landing, Place::Alone));
            solution.parts.push(part);
            solution.cautions = cautions(landing, &solution.parts);
            solution.opening = Some(strip.around(&opening));
        }
        finish(strip.as_ref(), &mut solution);
        out.solutions.push(solution);
    }
    out
}

fn headline(landing: Landing) -> Vec<&'static str> {
    let (rail, stile) = ("reading_rail_cut_deg", "reading_stile_cut_deg");
    match landing {
        Landing::Corner => vec![rail, stile, "point_to_point", "edge_length"],
        Landing::Rails | Landing::Stiles => vec!["reading_deg", "edge_length"],
        Landing::Edge { .. } => vec![rail, stile, "long_edge_length", "short_edge_length"],
    }
}
