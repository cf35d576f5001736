//! Two like braces, mirror images, that meet at the middle of a stile (K) or of a rail (chevron): each
//! is a single brace in its half of the opening.

use super::apex::Apex;
use super::given::{Given, run_and_rise};
use super::landing::Landing;
use super::picture;
use super::single::each_landing;
use crate::inputs::{Inputs, Value};
use crate::layouts::{Answers, Detail, Outcome, Refused, Solution};
use offsquare_units::{Length, Quantity, num, say};

/// Example: 48 by 30, strip 2 1/2, apex left: two openings 48 by 15; with the point in the corner
/// each brace is √(48² + 15²) long, and the two meet along a facet on the line at mid-height.
pub fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (w, h) = (inputs.need("opening_width")?, inputs.need("opening_height")?);
    let apex = inputs.choice("apex").and_then(Apex::of).ok_or(Refused::Missing)?;
    let g = Given {
        w: if apex.is_k() { w } else { w / 2.0 },
        h: if apex.is_k() { h / 2.0 } else { h },
        s: inputs.need("strip_width")?,
        thickness: inputs.length("thickness"),
    };
    // A brace is laid in a half opening whose lower left corner is the apex, then turned to its place:
    // under a top rail below and above change places.
    let above = inputs.choice("side") == Some("above");
    let laid = if apex == Apex::Top {
        inputs.with("side", Value::Choice(if above { "below" } else { "above" }))
    } else {
        inputs.clone()
    };
    let words = "for its half of the opening";
    Ok(each_landing(g, &laid, detail, words, |strip, solution| {
        let landing = Landing::of(solution.way, laid.choice("side") == Some("above"));
        let joint = Joint::of(&solution.answers, landing, apex);
        let (run, rise) = run_and_rise(g, landing);
        // Half the opening between the braces, from the line that parts it.
        let half = if apex.is_k() { num::atan2_deg(rise, run) } else { num::atan2_deg(run, rise) };
        solution
            .answers
            .length("half_opening_width", g.w)
            .length("half_opening_height", g.h)
            .length("meeting_length", joint.meeting)
            .length("apex_seat_length", joint.seat)
            .angle("angle_between_braces_deg", 2.0 * half);
        if let Some(strip) = strip {
            name_ends(solution, landing, apex);
            say_of_both(solution, &joint, g, apex);
            solution.figure = picture::pair(w, h, apex, landing, strip);
        }
    }))
}

/// Where the two braces touch: each other along the line that parts the opening, from the apex on;
/// and the apex' member, both together, half to either side of its middle.
struct Joint {
    meeting: f64,
    seat: f64,
}

impl Joint {
    fn of(answers: &Answers, landing: Landing, apex: Apex) -> Joint {
        let length = |key| match answers.quantity(key) {
            Some(Quantity::Length(l)) => l.0,
            _ => 0.0,
        };
        // What the apex' end has on the rail and on the stile of its half.
        let (rail, stile) = match landing {
            Landing::Corner => (length("facet_on_rail"), length("facet_on_stile")),
            Landing::Rails => (length("end_cut_length"), 0.0),
            Landing::Stiles => (0.0, length("end_cut_length")),
            Landing::Edge { above: false } => (length("facet_on_rail"), 0.0),
            Landing::Edge { above: true } => (0.0, length("facet_on_stile")),
        };
        // The line counts as a rail of a K's half, as a stile of a chevron's.
        let (meeting, seat) = if apex.is_k() { (rail, stile) } else { (stile, rail) };
        Joint { meeting, seat: 2.0 * seat }
    }
}

/// The ends by what they meet: the other brace, the apex' member, the far members.
fn name_ends(solution: &mut Solution, landing: Landing, apex: Apex) {
    let k = apex.is_k();
    let apex_rail = if k { "Inner end, on the other brace" } else { "Inner end, on the rail" };
    let apex_stile = if k { "Inner end, on the stile" } else { "Inner end, on the other brace" };
    let (far_rail, far_stile) = ("Outer end, on the rail", "Outer end, on the stile");
    let names: &[&'static str] = match landing {
        Landing::Corner => &[apex_rail, apex_stile, far_stile, far_rail],
        Landing::Rails => &[apex_rail, far_rail],
        Landing::Stiles => &[apex_stile, far_stile],
        Landing::Edge { above: false } => &[apex_rail, far_stile],
        Landing::Edge { above: true } => &[apex_stile, far_rail],
    };
    for part in &mut solution.parts {
        part.count = 2;
        for (cut, name) in part.cuts.iter_mut().zip(names) {
            cut.name = (*name).into();
        }
    }
}

fn say_of_both(solution: &mut Solution, joint: &Joint, g: Given, apex: Apex) {
    let line = if apex.is_k() { "mid-height" } else { "mid-width" };
    solution.derivation.insert(
        0,
        say!(
            "The line at {} makes two openings {} wide and {} high; each brace has its own.",
            line,
            Length(g.w),
            Length(g.h)
        ),
    );
    solution.notes.push(say!(
        "Make two alike. One goes in face up, the other face down: they are mirror images."
    ));
    solution.notes.push(if joint.meeting > 0.0 {
        say!("The two meet along {} on the line at {}.", Length(joint.meeting), line)
    } else {
        say!("The two touch in one point only, at {}; each is fixed to the frame.", line)
    });
}
