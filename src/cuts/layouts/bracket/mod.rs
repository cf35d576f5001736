//! Bracket: two members meeting in a corner, a knee between them (GEOMETRY 6).
//!
//! Frame: the inside corner is the origin, leg A's inside edge runs along +x, leg B's along the
//! corner angle counter-clockwise from it. Leg lengths are overall, along the outside.

mod knee;
mod member;
mod picture;

use super::field::{angle, choice, length, maybe_angle, maybe_length, option};
use super::{Answers, Declared, Detail, Form, Off, Outcome, Refused, Solution};
use crate::facts::Caution;
use crate::inputs::{Inputs, Value};
use crate::parts::{CutName, Part, Sides};
use crate::problem::Problem;
use knee::{Knee, between};
use member::Member;
use offsquare_geometry::Point;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, num, say};

/// Sine of the flattest angle at which a knee still meets a leg.
const FLATTEST: f64 = 1e-9;

const KNEE: Form = Form {
    id: "knee",
    label: "Legs and knee",
    fields: &[
        length("leg_a", "Leg A length", 12.0, 300.0).help("Overall, along the outside."),
        length("leg_b", "Leg B length", 10.0, 250.0).help("Overall, along the outside."),
        length("leg_width", "Leg width", 1.5, 38.0).help("Both legs' size seen."),
        length("brace_width", "Knee width", 1.5, 38.0).help("The knee's size seen."),
        length("seat_a", "Seat on leg A", 8.0, 200.0)
            .help("From the inside corner to where the knee's line meets leg A.")
            .free(),
        length("seat_b", "Seat on leg B", 6.5, 160.0)
            .help("From the inside corner to where the knee's line meets leg B.")
            .free(),
        choice("seat_to", "Seats measured to", "outer").of(&[
            option("outer", "Outer edge"),
            option("centre", "Middle"),
            option("inner", "Inner edge"),
        ]),
        angle("corner_angle_deg", "Corner angle", (15.0, 165.0), 90.0)
            .help("Between the two legs, inside.")
            .standing(90.0),
        choice("joint", "Corner joint", "mitre").of(&[
            option("mitre", "Mitered"),
            option("a_through", "Leg A runs through"),
            option("b_through", "Leg B runs through"),
        ]),
        choice("free_ends", "Free ends", "square")
            .of(&[option("square", "Square"), option("clipped", "Clipped at 45°")]),
        maybe_length("clip", "Clip").help(
            "How much of the outer corner comes off, each way; half the leg's width unless given.",
        ),
        maybe_length("thickness", "Thickness").help("The size going away from you."),
    ],
    also: &[
        maybe_length("long_point_length", "Knee, long point")
            .help("Tip to tip along the outer edge."),
        maybe_length("short_point_length", "Knee, short point").help("Along the inner edge."),
        maybe_angle("reading_on_leg_a_deg", "Reading on leg A", (0.0, 89.0))
            .help("The knee's cut off square."),
    ],
    gives: &["seat_a", "seat_b", "corner_angle_deg", "brace_width"],
    off: &[Off {
        answer: "reading_on_leg_a_deg",
        keep: &["long_point_length"],
        give: Some("seat_a"),
    }],
};

/// The layout "bracket".
pub static BRACKET: Declared = Declared {
    id: "bracket",
    question: "Bracket with a knee",
    search_words: "shelf corner knee support hanging basket gallows brace",
    forms: &[KNEE],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (leg_a, leg_b) = (inputs.need("leg_a")?, inputs.need("leg_b")?);
    let (leg_width, width) = (inputs.need("leg_width")?, inputs.need("brace_width")?);
    let (u, v) = (inputs.need("seat_a")?, inputs.need("seat_b")?);
    let corner = inputs.degrees("corner_angle_deg").unwrap_or(90.0);
    let (sin, cos) = (num::sin_deg(corner), num::cos_deg(corner));
    let at_a = num::atan2_deg(v * sin, u - v * cos);
    let at_b = num::atan2_deg(u * sin, v - u * cos);
    for (angle, key, longer) in [(at_a, "seat_b", u), (at_b, "seat_a", v)] {
        if num::sin_deg(angle) < FLATTEST {
            let least = Length(longer * FLATTEST / sin);
            let words = "The knee lies along a leg: this seat must be more than {}.";
            return Err(Problem::at_limit(key, words, least).into());
        }
    }
    // The seats of one line and of its parallels are in proportion.
    let out = match inputs.choice("seat_to") {
        Some("inner") => width,
        Some("centre") => width / 2.0,
        _ => 0.0,
    };
    let half = corner / 2.0;
    let from_outside = leg_width * num::cos_deg(half) / num::sin_deg(half);
    let knee = Knee {
        corner,
        leg_a,
        leg_b,
        leg_width,
        width,
        at_a,
        at_b,
        outer_a: u + out / num::sin_deg(at_a),
        outer_b: v + out / num::sin_deg(at_b),
        inside_a: leg_a - from_outside,
        inside_b: leg_b - from_outside,
    };
    Refused::if_any(check(&knee, inputs, from_outside, out))?;
    let mut solution = Solution {
        way: "knee",
        title: "Knee between two legs",
        answers: answers(&knee, inputs),
        headline: vec![
            "reading_on_leg_a_deg",
            "reading_on_leg_b_deg",
            "long_point_length",
            "short_point_length",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        tell(&knee, inputs, &mut solution);
    }
    Ok(solution.into())
}

/// The seat of a line from which the outer edge, `out` beyond it, meets this leg just at its end, `inside`
/// from the corner, the line's seat on the other leg being `other`: the lesser root s of
/// (inside - s) other sin C = out |the line between the seats|.
fn most_seat(corner: f64, out: f64, inside: f64, other: f64) -> f64 {
    let (q, i, k) = (other * num::sin_deg(corner), inside, out);
    let b = i * q * q - k * k * other * num::cos_deg(corner);
    let c = (i * q - k * other) * (i * q + k * other);
    let far = between(i, other, corner);
    let root = k * q * num::sqrt(((far - k) * (far + k)).max(0.0));
    (c / (b + root)).max(0.0)
}

fn check(k: &Knee, inputs: &Inputs, from_outside: f64, out_of_line: f64) -> Vec<Problem> {
    let mut out = Vec::new();
    let mut stop = |key, words, limit| out.push(Problem::at_limit(key, words, Length(limit)));
    for (inside, key) in [(k.inside_a, "leg_a"), (k.inside_b, "leg_b")] {
        if inside <= 0.0 {
            stop(key, "The leg must reach past the corner: more than {}.", from_outside);
        }
    }
    let room = k.outer_a * k.sin().0;
    if k.width >= room * (1.0 - 1e-14) {
        // The outer edge moves with the width where the seats are measured to the middle.
        let room = match inputs.choice("seat_to") {
            Some("centre") => 2.0 * room - k.width,
            _ => room,
        };
        stop("brace_width", "The knee fills the corner: it must be narrower than {}.", room);
    }
    let legs =
        [(k.outer_a, k.inside_a, "seat_a", "seat_b"), (k.outer_b, k.inside_b, "seat_b", "seat_a")];
    for (outer, inside, key, other) in legs {
        if inside > 0.0 && outer > inside * (1.0 + 1e-14) {
            let other = inputs.inches(other).unwrap_or(0.0);
            let most = most_seat(k.corner, out_of_line, inside, other);
            stop(key, "The knee runs past the end of the leg: this seat is at most {}.", most);
        }
    }
    let clipped = inputs.choice("free_ends") == Some("clipped");
    if clipped && inputs.inches("clip").is_some_and(|clip| clip > k.leg_width) {
        let words = "The clip cannot be more than the leg is wide, {}.";
        let problem = Problem::at_limit("clip", words, Length(k.leg_width));
        out.push(problem.mended_by("free_ends", [Value::Choice("square")]));
    }
    if !out.is_empty() {
        return out;
    }
    let cuts_meet = |(is_a, key, outer)| {
        let m = Member::of(k, inputs, is_a);
        let least = m.outer_edge.min(m.inner_edge) - m.clip(k, inputs);
        let words = "The leg's cuts run into each other: it must be longer than {}.";
        (least <= 0.0).then(|| Problem::at_limit(key, words, Length(outer - least)))
    };
    let legs = [(true, "leg_a", k.leg_a), (false, "leg_b", k.leg_b)];
    legs.into_iter().find_map(cuts_meet).into_iter().gather()
}

fn answers(k: &Knee, inputs: &Inputs) -> Answers {
    let (sin_a, sin_b) = k.sin();
    let (lean_a, lean_b) = k.lean();
    let (outer, inner) = (k.outer(), k.inner());
    let (seat_a, seat_b) = (k.width / sin_a, k.width / sin_b);
    let first = (0.0_f64.min(lean_a), 0.0_f64.max(lean_a));
    let last = (outer.max(outer - lean_b), outer.min(outer - lean_b));
    let mut a = Answers::new();
    a.angle("reading_on_leg_a_deg", (90.0 - k.at_a).abs())
        .angle("reading_on_leg_b_deg", (90.0 - k.at_b).abs())
        .length("long_point_length", last.0 - first.0)
        .length("short_point_length", last.1 - first.1)
        .length("outer_edge_length", outer)
        .length("inner_edge_length", inner)
        .length("seat_on_leg_a", seat_a)
        .length("seat_on_leg_b", seat_b)
        .length("seat_a_from_corner", k.outer_a - seat_a)
        .length("seat_b_from_corner", k.outer_b - seat_b)
        .length("corner_to_brace_inner_edge", k.outer_a * sin_a - k.width)
        .length("leg_a_inside_length", k.inside_a)
        .length("leg_b_inside_length", k.inside_b)
        .length("leg_a_beyond_seat", k.inside_a - k.outer_a)
        .length("leg_b_beyond_seat", k.inside_b - k.outer_b)
        .area("face_area", (outer + inner) / 2.0 * k.width)
        .length("tape_mark_on_leg_a", lean_a.abs())
        .length("tape_mark_on_leg_b", lean_b.abs());
    for (key, is_a) in [("leg_a_member", true), ("leg_b_member", false)] {
        let m = Member::of(k, inputs, is_a);
        let mut g = Answers::new();
        g.angle("corner_reading_deg", m.reading)
            .length("outer_edge_length", m.outer_edge)
            .length("inner_edge_length", m.inner_edge);
        a.group(key, g);
    }
    a
}

fn tell(k: &Knee, inputs: &Inputs, solution: &mut Solution) {
    let (lean_a, lean_b) = k.lean();
    let outer = k.outer();
    solution.parts = vec![
        Part::stick(
            "Knee",
            Length(k.width),
            inputs.length("thickness"),
            &[Point::ORIGIN, Point::new(lean_a, k.width)],
            &[Point::new(outer, 0.0), Point::new(outer - lean_b, k.width)],
            &[
                CutName::read("End on leg A", "reading_on_leg_a_deg"),
                CutName::read("End on leg B", "reading_on_leg_b_deg"),
            ],
        )
        .called(Sides::OUTER_BELOW.ends("end on leg A", "end on leg B")),
        Member::of(k, inputs, true).part(k, inputs, "Leg A", "leg_a_member.corner_reading_deg"),
        Member::of(k, inputs, false).part(k, inputs, "Leg B", "leg_b_member.corner_reading_deg"),
    ];
    let off_square = |angle: f64| Angle((90.0 - angle).abs());
    let (a, b, inner) = (Length(lean_a), Length(lean_b), Length(k.inner()));
    solution.derivation = vec![
        say!(
            "The knee's outer edge meets leg A {} and leg B {} from the inside corner.",
            Length(k.outer_a),
            Length(k.outer_b)
        ),
        say!(
            "With the corner of {} that makes its length {}; it meets leg A at {} and leg B at {}.",
            Angle(k.corner),
            Length(outer),
            Angle(k.at_a),
            Angle(k.at_b)
        ),
        say!("Off square: 90° less each, {} and {}.", off_square(k.at_a), off_square(k.at_b)),
        say!("The inner edge is shorter by both tape marks, {} and {}: {}.", a, b, inner),
    ];
    solution.cautions.push(Caution::Load);
    solution.figure = picture::picture(k, inputs);
}
