//! What is told of the panel at one opening.

use super::panel::{BY_ANGLE, Panel};
use super::picture;
use crate::inputs::Inputs;
use crate::layouts::last_that::last_that;
use crate::layouts::{Answer, Answers, Caution, Detail, Outcome, Solution};
use crate::problem::Problem;
use offsquare_geometry::{Point, Vector, dot};
use offsquare_units::{Angle, Length, Quantity, Text, num, say};

/// Standard gravity, m/s².
const GRAVITY: f64 = 9.80665;

/// Everything at `opening`, in degrees from shut (0) over level (90) to hanging (180). `all`: every opening
/// at which a given cord is tight, where it is the cord that was given. Warnings go into `out`.
pub fn solution(
    p: &Panel,
    inputs: &Inputs,
    opening: f64,
    all: Option<&[f64]>,
    detail: Detail,
    out: &mut Outcome,
) -> Solution {
    let hole = p.turned(p.hole, opening);
    let to_back = p.back_hole - hole;
    let cord = num::hypot(to_back.length(), p.sideways);
    // The panel's outward direction: from its inner face to its outer one.
    let outward = Vector::new(num::cos_deg(opening), -num::sin_deg(opening));
    let off_panel = dot(to_back, outward);
    let up_panel = dot(to_back, Vector::new(-outward.y, outward.x));
    // From what stands off the face and what runs along it: exact near square, where a sine is not.
    let angle = |off: f64, along: f64| num::atan2_deg(off.abs(), num::hypot(along, p.sideways));
    let slack = 1e-9 * (p.height + p.hinge.x.abs());
    let clear = off_panel <= slack && hole.x >= -slack;
    let rim = p.turned(Vector::new(p.foot.x, p.foot.y + p.height), opening);
    let passes_level = opening > 90.0 + 1e-9;
    let mut answers = Answers::new();
    if let Some(all) = all {
        answers.angles("angles_deg", all.iter().copied());
    }
    answers
        .angle("opening_deg", opening)
        .length("cord_between_faces", cord)
        .length("cord_with_both_thicknesses", cord + p.thickness + p.back)
        .lengths("panel_hole_inner", [hole.x, hole.y])
        .length("drop_of_panel_hole_below_back_hole", to_back.y)
        .angle("cord_to_panel_deg", angle(off_panel, up_panel))
        .angle("cord_to_back_deg", angle(to_back.x, to_back.y))
        .put("clear", Answer::Flag(clear))
        .length("cord_between_faces_when_shut", p.cord(0.0))
        .length("mouth_width", rim.x)
        .put("passes_level", Answer::Flag(passes_level))
        .length("least_from_back", p.least_from_back(opening));
    let knots = inputs.inches("knot_allowance").unwrap_or(0.0);
    let each = cord + p.thickness + p.back + knots;
    let cords = inputs.number("cords").unwrap_or(2.0);
    answers.length("cord_each", each).length("cord_to_buy", cords * each);
    let headline = if chain(p, inputs, opening, cord, &mut answers) {
        vec!["opening_with_links_deg", "links_n", "chain_between_faces", "mouth_width_with_links"]
    } else {
        vec!["opening_deg", "cord_between_faces", "cord_to_buy", "mouth_width"]
    };
    let way = if all.is_some() { "angle" } else { "cord" };
    next(p, opening, way, &mut answers, out);
    let held = pull(p, inputs, opening, hole, &mut answers);
    out.problems.extend(runs_into_back(p, inputs, opening, slack).map(|p| p.of_way(way)));
    let mut s =
        Solution { way, title: "Panel on its cord", answers, headline, ..Solution::default() };
    if detail == Detail::Full {
        s.figure = picture::picture(p, opening, hole, inputs);
        s.derivation = derivation(p, opening, (hole, to_back, cord), (knots, cords));
        if let (Some(kg), Some(pull)) =
            (inputs.number("load_kg"), s.answers.quantity("pull_per_cord_N"))
        {
            s.derivation.push(say!(
                "Turned about the pin, a load of {} pulls each cord with {}.",
                Quantity::Mass(kg),
                pull
            ));
        }
        if !clear {
            s.notes.push(say!(
                "The straight cord would cut into a board here: it bends around the edge, so it \
                 must be longer."
            ));
        }
        if passes_level {
            s.notes.push(say!("The panel passes level: things slide off it."));
        }
        if held == Some(false) {
            s.notes.push(say!(
                "Here the cord does not hold this load: it runs through the pin's line or pulls \
                 the wrong way."
            ));
        }
        if all.is_some_and(|a| a.len() > 1) {
            s.notes.push(say!(
                "Two openings fit this cord; on opening, the cord stops the panel at the smaller \
                 one."
            ));
        }
        s.cautions = vec![Caution::FallingPanel, Caution::Load];
    }
    s
}

/// Said where the panel does not come to this opening without running into the back.
fn runs_into_back(p: &Panel, inputs: &Inputs, opening: f64, slack: f64) -> Option<Problem> {
    let into = -p.least_from_back(opening);
    (into > slack).then(|| {
        Problem::warn(
            if inputs.form == BY_ANGLE { "cord_between_faces" } else { "opening_deg" },
            say!(
                "On the way the panel runs {} into the back: set the pin further forward, or the \
                 lower edge nearer to it.",
                Length(into)
            ),
        )
    })
}

/// From the opening to the cord that is bought. `hole` and what it lies from the back's; the straight `cord`
/// between the faces; what the knots take of each of so many cords.
fn derivation(
    p: &Panel,
    opening: f64,
    (hole, to_back, cord): (Point, Vector, f64),
    (knots, cords): (f64, f64),
) -> Vec<Text> {
    let each = cord + p.thickness + p.back + knots;
    vec![
        say!(
            "Opened by {}, the panel's hole stands {} forward and {} below the hole in the back.",
            Angle(opening),
            Length(hole.x),
            Length(to_back.y)
        ),
        say!("Straight between the two, and {} sideways: {}.", Length(p.sideways), Length(cord)),
        say!(
            "Through both boards: {}; with {} for knots: {}. To buy, for {}{}{}.",
            Length(cord + p.thickness + p.back),
            Length(knots),
            Length(each),
            Quantity::Count(cords),
            if cords == 1.0 { " cord: " } else { " cords: " },
            Length(cords * each)
        ),
    ]
}

/// A chain comes in whole links: the nearest number, and where that stops the panel. Whether it stops it
/// anywhere.
fn chain(p: &Panel, inputs: &Inputs, opening: f64, cord: f64, answers: &mut Answers) -> bool {
    let Some(link) = inputs.length("chain_link") else {
        return false;
    };
    let n = num::round_half_up(cord / link.0);
    let stops = p
        .openings(n * link.0)
        .into_iter()
        .min_by(|a, b| (a - opening).abs().total_cmp(&(b - opening).abs()));
    answers.count("links_n", n).length("chain_between_faces", n * link.0);
    let Some(opening) = stops else {
        return false;
    };
    let rim = p.turned(Vector::new(p.foot.x, p.foot.y + p.height), opening);
    answers.angle("opening_with_links_deg", opening).length("mouth_width_with_links", rim.x);
    true
}

/// Room to the next like panel below, shut and open alike; a warning where they meet.
fn next(p: &Panel, opening: f64, way: &'static str, answers: &mut Answers, out: &mut Outcome) {
    let Some(down) = p.next else {
        return;
    };
    let shut = p.gap_to_next(opening, down, 0.0);
    answers
        .length("clearance_to_next_shut", shut)
        .length("clearance_to_next_open", p.gap_to_next(opening, down, opening));
    if shut > 0.0 {
        return;
    }
    // The widest opening up to this one from which it goes no further.
    let clear = |opening| p.gap_to_next(opening, down, 0.0) > 0.0;
    let free = if clear(0.0) { last_that(clear, 0.0, opening) } else { 0.0 };
    out.problems.push(
        Problem::warn(
            "next_hinge_down",
            say!(
                "The panel runs into the next one below when that is shut; it stays clear up to \
                 {}.",
                Angle(free)
            ),
        )
        .of_way(way)
        .with_limit(Quantity::Angle(Angle(free))),
    );
}

/// Pull on one cord: the load's turning moment about the pin over the cord's. Whether it holds the
/// load, if one is given.
fn pull(
    p: &Panel,
    inputs: &Inputs,
    opening: f64,
    hole: Point,
    answers: &mut Answers,
) -> Option<bool> {
    let kg = inputs.number("load_kg")?;
    let up = inputs.inches("load_up_panel").unwrap_or(p.height / 2.0);
    let load = p.turned(Vector::new(p.foot.x, p.foot.y + up), opening);
    let moment = kg * GRAVITY * (load.x - p.hinge.x);
    let arm = hole - p.hinge;
    let d = p.back_hole - hole;
    let cord = num::hypot(d.length(), p.sideways);
    // Turning moment of a unit pull along the cord, against the load's.
    let lever = (arm.x * d.y - arm.y * d.x) / cord;
    let cords = inputs.number("cords").unwrap_or(2.0);
    let pull = moment / lever / cords;
    let holds = lever > 0.0 && pull.is_finite() && pull >= 0.0;
    answers.put(
        "pull_per_cord_N",
        if holds { Answer::Quantity(Quantity::Force(pull)) } else { Answer::Nothing },
    );
    Some(holds)
}
