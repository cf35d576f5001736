//! Angle from three measures: copying what stands there with a tape alone, and how far the tape can
//! be trusted.
//!
//! Frame: the angle's corner is the origin, one side along +x.

use super::field::{choice, length, option, standing_length};
use super::{Answer, Answers, Declared, Detail, Form, Outcome, Refused, Solution};
use crate::inputs::{Field, Inputs};
use crate::problem::Problem;
use offsquare_geometry::scene::{Role, Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, MM_PER_INCH, Quantity, num, say};

const TAPE_CLASS: Field = choice("tape_class", "Tape class", "II").of(&[
    option("I", "Class I"),
    option("II", "Class II"),
    option("III", "Class III"),
]);
const STEP: Field = standing_length("reading_step", "Reading step", 0.0625, 1.0)
    .help("The finest mark that you read off the tape.");

const TRIANGLE: Form = Form {
    id: "triangle",
    label: "Three sides",
    fields: &[
        length("side_a", "First side", 24.0, 600.0).help("From the corner along one side."),
        length("side_b", "Second side", 24.0, 600.0).help("From the corner along the other."),
        length("side_c", "Across", 30.0, 750.0).help("Between the two marks, straight across."),
        TAPE_CLASS,
        STEP,
    ],
    also: &[],
    gives: &["side_c", "side_a", "side_b"],
    off: &[],
};
const RISE_RUN: Form = Form {
    id: "rise_run",
    label: "Rise and run",
    fields: &[
        length("rise", "Rise", 12.0, 300.0).help("Square to the run.").or_zero(),
        length("run", "Run", 20.0, 500.0).help("Along the edge."),
        TAPE_CLASS,
        STEP,
    ],
    also: &[],
    gives: &["rise", "run"],
    off: &[],
};
const ACROSS: Form = Form {
    id: "tape_mark",
    label: "Tape mark",
    fields: &[
        length("tape_mark", "Tape mark", 2.0, 50.0)
            .help("How far along the far edge the line comes out.")
            .or_zero(),
        length("width", "Board width", 3.5, 89.0).help("Square across the board."),
        TAPE_CLASS,
        STEP,
    ],
    also: &[],
    gives: &["tape_mark", "width"],
    off: &[],
};

/// What a tape may be off, inches: a + b per meter begun, millimeters (classes of 2014/32/EU annex
/// MI-008 and OIML R 35-1; coefficients from memory, confirmed by every printed value of the
/// reference sheet, section 7.1).
///
/// Example: class II at 5 m is 0.3 + 0.2 × 5 = 1.3 mm.
fn tape_limit(class: &str, length: f64) -> f64 {
    let (a, b) = match class {
        "I" => (0.1, 0.1),
        "III" => (0.6, 0.4),
        _ => (0.3, 0.2),
    };
    let meters = num::ceil(length.abs() * MM_PER_INCH / 1000.0 * (1.0 - 1e-12)).max(1.0);
    (a + b * meters) / MM_PER_INCH
}

/// The angle in degrees between the two sides for exact measures; none where no such triangle is.
fn angle_of(form: &str, m: &[f64]) -> Option<f64> {
    match (form, m) {
        ("triangle", [a, b, c]) => {
            // Half-angle form: keeps its figures in thin triangles.
            let (s, t) = ((c - (a - b).abs()) * (c + (a - b).abs()), (a + b - c) * (a + b + c));
            (s >= 0.0 && t >= 0.0).then(|| 2.0 * num::atan2_deg(num::sqrt(s), num::sqrt(t)))
        }
        (_, [rise, run]) => Some(num::atan2_deg(*rise, *run)),
        _ => None,
    }
}

/// Degrees of angle for each inch of each measure.
fn slopes(form: &str, m: &[f64], angle: f64) -> Vec<f64> {
    let degrees = 180.0 / core::f64::consts::PI;
    match (form, m) {
        ("triangle", [a, b, c]) => {
            let (sin, cos) = (num::sin_deg(angle), num::cos_deg(angle));
            let all = a * b * sin;
            vec![degrees * (b * cos - a) / all, degrees * (a * cos - b) / all, degrees * c / all]
        }
        (_, [rise, run]) => {
            let square = rise * rise + run * run;
            vec![degrees * run / square, -degrees * rise / square]
        }
        _ => Vec::new(),
    }
}

/// How far the angle can be trusted.
struct Doubt {
    /// First order: every measure at its limit, in the worst sense.
    worst: f64,
    /// First order: standard deviation, each error spread evenly between its limits.
    standard: f64,
    /// Solved again with every measure at its limits; none where such a triangle does not close.
    least: Option<f64>,
    greatest: Option<f64>,
}

fn doubt(form: &str, m: &[f64], angle: f64, class: &str, step: f64) -> Doubt {
    let limits: Vec<(f64, f64)> = m.iter().map(|l| (step / 2.0, tape_limit(class, *l))).gather();
    let slopes = slopes(form, m, angle);
    let worst = slopes.iter().zip(&limits).map(|(s, (read, tape))| s.abs() * (read + tape)).sum();
    let variance: f64 = slopes
        .iter()
        .zip(&limits)
        .map(|(s, (read, tape))| s * s * (read * read + tape * tape) / 3.0)
        .sum();
    let mut least = Some(angle);
    let mut greatest = Some(angle);
    for signs in 0..1u32 << m.len() {
        let moved: Vec<f64> = m
            .iter()
            .zip(&limits)
            .enumerate()
            .map(|(i, (l, (read, tape)))| {
                let by = read + tape;
                (l + if signs >> i & 1 == 1 { by } else { -by }).max(0.0)
            })
            .gather();
        let a = angle_of(form, &moved).filter(|_| moved.iter().any(|l| *l > 0.0));
        least = least.zip(a).map(|(x, y)| x.min(y));
        greatest = greatest.zip(a).map(|(x, y)| x.max(y));
    }
    Doubt { worst, standard: num::sqrt(variance), least, greatest }
}

/// Half-degree marks can be told apart when the angle is right to a quarter of a degree.
const HALF_OF_HALF: f64 = 0.25;

/// The layout "three_measures".
pub static THREE_MEASURES: Declared = Declared {
    id: "three_measures",
    question: "Angle from a tape alone",
    search_words: "copy corner measure bevel gauge triangle rise run uncertainty",
    forms: &[TRIANGLE, RISE_RUN, ACROSS],
    words: &[("larger_by_ratio", "times as long to read half a degree")],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (form, keys): (&Form, &[&'static str]) = match inputs.form {
        "rise_run" => (&RISE_RUN, &["rise", "run"]),
        "tape_mark" => (&ACROSS, &["tape_mark", "width"]),
        _ => (&TRIANGLE, &["side_a", "side_b", "side_c"]),
    };
    let m = keys.iter().map(|k| inputs.need(k)).collect::<Result<Vec<f64>, _>>()?;
    Refused::if_any(flat(&m).into_iter().gather())?;
    let angle = angle_of(form.id, &m).filter(|a| a.is_finite()).ok_or(Refused::Missing)?;
    let class = inputs.choice("tape_class").unwrap_or("II");
    let step = inputs.inches("reading_step").unwrap_or(0.0625);
    let d = doubt(form.id, &m, angle, class, step);
    if !d.worst.is_finite() || !d.standard.is_finite() {
        let text = say!("These measures are too short for any angle to be read from them.");
        return Err(Problem::stop(keys[0], text).into());
    }
    let mut solution = Solution {
        way: form.id,
        title: form.label,
        answers: answers(form.id, angle, &d),
        headline: vec!["reading_deg", "uncertainty_deg", "angle_deg"],
        ..Solution::default()
    };
    if detail == Detail::Full {
        tell(form.id, angle, &d, &m, keys, step, class, &mut solution);
    }
    Ok(solution.into())
}

/// Three sides that close no triangle, or only a flat one.
fn flat(m: &[f64]) -> Option<Problem> {
    let [a, b, c] = m else { return None };
    let (least, most) = ((a - b).abs(), a + b);
    if *c >= most {
        return Some(Problem::at_limit(
            "side_c",
            "The third side cannot reach so far: it must be less than the other two \
                     together, {}.",
            Length(most),
        ));
    }
    (*c <= least).then(|| {
        Problem::at_limit(
            "side_c",
            "The third side is too short: it must be more than the difference of the other \
                 two, {}.",
            Length(least),
        )
    })
}

fn answers(form: &str, angle: f64, d: &Doubt) -> Answers {
    let mut a = Answers::new();
    // The angle that the line makes with the board's edge, and its reading off square.
    let meets = if form == "tape_mark" { 90.0 - angle } else { angle };
    a.angle("angle_deg", meets).angle("reading_deg", (90.0 - meets).abs());
    if form == "triangle" {
        a.angle("corner_miter_deg", 90.0 - meets / 2.0);
    }
    let turned = |v: Option<f64>| {
        v.map_or(Answer::Nothing, |v| {
            let v = if form == "tape_mark" { 90.0 - v } else { v };
            Answer::Quantity(Quantity::Angle(Angle(v)))
        })
    };
    let (low, high) =
        if form == "tape_mark" { (d.greatest, d.least) } else { (d.least, d.greatest) };
    a.angle("uncertainty_deg", d.worst)
        .angle("standard_uncertainty_deg", d.standard)
        .put("angle_least_deg", turned(low))
        .put("angle_greatest_deg", turned(high))
        .put("half_degree_readable", Answer::Flag(d.worst <= HALF_OF_HALF))
        .put(
            "larger_by_ratio",
            Answer::Quantity(Quantity::Ratio((d.worst / HALF_OF_HALF).max(1.0))),
        );
    a
}

#[allow(clippy::too_many_arguments)]
fn tell(
    form: &str,
    angle: f64,
    d: &Doubt,
    m: &[f64],
    keys: &[&'static str],
    step: f64,
    class: &str,
    solution: &mut Solution,
) {
    solution.derivation.push(match form {
        "triangle" => {
            say!("Cosine rule: (a² + b² − c²) ÷ 2ab gives {} between the two sides.", Angle(angle))
        }
        "rise_run" => say!(
            "tan(angle) = rise ÷ run gives {} to the run, {} off square.",
            Angle(angle),
            Angle(90.0 - angle)
        ),
        _ => say!("tan(reading) = tape mark ÷ width gives {} off square.", Angle(angle)),
    });
    for (l, slope) in m.iter().zip(slopes(form, m, angle)) {
        solution.derivation.push(say!(
            "A measure of {} may be off by {} (half a reading step and the tape's class): {}.",
            Length(*l),
            Length(step / 2.0 + tape_limit(class, *l)),
            Angle(slope.abs() * (step / 2.0 + tape_limit(class, *l)))
        ));
    }
    solution.derivation.push(say!(
        "All at once and the worst way: {}. As a rule it is about {}.",
        Angle(d.worst),
        Angle(d.standard)
    ));
    solution.notes.push(if d.worst <= HALF_OF_HALF {
        say!("Half a degree can be read from these measures.")
    } else {
        say!(
            "Half a degree cannot be read from these measures: the angle may be off by {}. Measure \
             about {} times as long.",
            Angle(d.worst),
            Quantity::Ratio(num::ceil(d.worst / HALF_OF_HALF * 10.0) / 10.0)
        )
    });
    if d.least.is_none() || d.greatest.is_none() {
        solution.notes.push(say!(
            "The triangle is so flat that the tape's error could close it: take other points."
        ));
    }
    solution
        .notes
        .push(say!("Use one tape for all the measures, and read them all from the same mark."));
    solution.figure = picture(form, angle, m, keys);
}

fn picture(form: &str, angle: f64, m: &[f64], keys: &[&'static str]) -> Scene {
    let mut scene = Scene::new();
    if form == "triangle" {
        let a = Point::new(m[0], 0.0);
        let b = Point::ORIGIN + Vector::at(Angle(angle)) * m[1];
        scene
            .line(Point::ORIGIN, a, Role::Frame)
            .line(Point::ORIGIN, b, Role::Frame)
            .line(a, b, Role::Mark)
            .given(Point::ORIGIN, a, -1, Length(m[0]), keys[0])
            .given(Point::ORIGIN, b, 1, Length(m[1]), keys[1])
            .given(a, b, -1, Length(m[2]), keys[2])
            .angle(Point::ORIGIN, (0.0, angle), angle, Source::Computed("angle_deg"));
        // The reading is what the second side leans off square to the first.
        let square = Point::new(0.0, m[1] * 0.8);
        scene.line(Point::ORIGIN, square, Role::Center).angle(
            Point::ORIGIN,
            (angle.min(90.0), angle.max(90.0)),
            (90.0 - angle).abs(),
            Source::Computed("reading_deg"),
        );
        return scene;
    }
    if form == "rise_run" {
        let (top, foot) = (Point::new(m[1], m[0]), Point::new(m[1], 0.0));
        scene
            .line(Point::ORIGIN, foot, Role::Frame)
            .line(foot, top, Role::Mark)
            .line(Point::ORIGIN, top, Role::Cut)
            .given(foot, top, -1, Length(m[0]), keys[0])
            .given(Point::ORIGIN, foot, -1, Length(m[1]), keys[1])
            .angle(Point::ORIGIN, (0.0, angle), angle, Source::Computed("angle_deg"))
            // The reading is off the rise, which stands square to the edge.
            .angle(top, (180.0 + angle, 270.0), 90.0 - angle, Source::Computed("reading_deg"));
        return scene;
    }
    let (mark, width) = (m[0], m[1]);
    let end = mark + 2.0 * width;
    scene
        .shape(
            vec![
                Point::ORIGIN,
                Point::new(end, 0.0),
                Point::new(end, width),
                Point::new(mark, width),
            ],
            Role::Stock,
        )
        .line(Point::ORIGIN, Point::new(mark, width), Role::Cut)
        .given(Point::new(0.0, width), Point::new(mark, width), 1, Length(mark), keys[0])
        .given(Point::new(end, 0.0), Point::new(end, width), -1, Length(width), keys[1])
        .angle(Point::ORIGIN, (90.0 - angle, 90.0), angle, Source::Computed("reading_deg"));
    scene
}
