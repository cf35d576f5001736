//! Even spacing: holes, pegs, slats or boards of one width along a length (GEOMETRY 10).
//!
//! Frame: 0 is the left end of the length; all marks run from there, so no error adds up.

mod picture;
mod rounded;
mod row;

use super::field::{choice, count, length, maybe_length, option};
use super::{Answers, Declared, Detail, Form, Off, Outcome, Refused, Solution};
use crate::inputs::{Inputs, Value};
use crate::parts::Part;
use crate::problem::Problem;
use offsquare_geometry::Point;
use offsquare_units::num::Gather;
use offsquare_units::{Length, Quantity, num, say};
use rounded::rounded;
use row::Row;

/// What marks are rounded to: the key, and the step in inches.
const SCALES: [(&str, f64); 3] =
    [("1/16", 1.0 / 16.0), ("1/32", 1.0 / 32.0), ("0.5", 0.5 / offsquare_units::MM_PER_INCH)];

/// Most holes in a row.
const MOST: u32 = 2000;

const ROW: Form = Form {
    id: "row",
    label: "A row",
    fields: &[
        choice("rule", "Rule", "equal_gaps").of(&[
            option("equal_gaps", "Equal gaps"),
            option("half_gaps", "Half gaps at the ends"),
            option("equal_centres", "Equal centers, own margins"),
            option("closest_gap", "Closest to a gap"),
            option("widest_gap", "No gap wider than"),
        ]),
        count("holes", "How many", (1, MOST), 7.0)
            .help("Holes, pegs, slats or boards. Left open where a gap decides it.")
            .open(),
        length("diameter", "Width of each", 1.5, 38.0)
            .help("Diameter or width along the row; 0 for mere marks.")
            .or_zero(),
        length("length", "Length", 36.0, 900.0).help("The whole stretch, end to end."),
        maybe_length("margin_start", "Margin at the start")
            .help("To the first center with equal centers; otherwise a stretch kept free.")
            .or_zero(),
        maybe_length("margin_end", "Margin at the end")
            .help("The same at the other end; alike unless given.")
            .or_zero(),
        maybe_length("gap_wanted", "Gap wanted")
            .help("The gap to come closest to, or not to pass.")
            .or_zero(),
        choice("end_gaps", "Gaps at the ends", "full")
            .of(&[option("full", "Full"), option("half", "Half")]),
    ],
    also: &[
        maybe_length("gap_between", "Gap between").help("From edge to edge."),
        maybe_length("centre_distance", "Center to center").help("From one to the next."),
    ],
    gives: &["length", "diameter", "margin_start", "margin_end"],
    off: &[Off { answer: "centre_distance", keep: &[], give: Some("length") }],
};

/// The layout "spacing".
pub static SPACING: Declared = Declared {
    id: "spacing",
    question: "Even spacing in a row",
    search_words: "holes pegs slats balusters trellis gap center story stick divide",
    forms: &[ROW],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (diameter, whole) = (Length(inputs.need("diameter")?), Length(inputs.need("length")?));
    let row = lay(inputs, diameter, whole)?;
    let (d, l) = (diameter.0, whole.0);
    let n = row.holes;
    let centres: Vec<f64> = (0..n).map(|i| row.centre(i)).gather();
    let last = centres.last().copied().unwrap_or(row.first);
    let mut marks = Answers::new();
    // Not for the root finder, which asks thousands of times.
    let scales: &[(&'static str, f64)] = match detail {
        Detail::Full => &SCALES,
        Detail::Answers => &[],
    };
    for (key, step) in scales {
        marks.group(key, rounded(&centres, row.distance, *step));
    }
    let mut answers = Answers::new();
    answers
        .count("holes", f64::from(n))
        .lengths("centres", centres.iter().copied())
        .length("first_edge", row.first - d / 2.0)
        .length("last_gap", l - last - d / 2.0)
        .maybe_length("centre_distance", row.distance)
        .maybe_length("gap_between", row.gap)
        .group("marks", marks);
    let mut solution = Solution {
        way: "row",
        title: "Even spacing",
        answers,
        headline: vec!["centres.0", "centre_distance", "gap_between", "first_edge"],
        ..Solution::default()
    };
    if row.distance.is_none() {
        solution.headline = vec!["centres.0", "first_edge"];
    }
    if detail == Detail::Full {
        tell(inputs, &row, diameter, whole, &mut solution);
    }
    Ok(solution.into())
}

/// Where the row lies, or why it does not fit.
fn lay(inputs: &Inputs, diameter: Length, whole: Length) -> Result<Row, Problem> {
    let (d, l) = (diameter.0, whole.0);
    let rule = inputs.choice("rule").unwrap_or("equal_gaps");
    let start = inputs.inches("margin_start");
    let end = inputs.inches("margin_end");
    if rule == "equal_centres" {
        let start = start.or(end).unwrap_or(d / 2.0);
        return centred(how_many(inputs)?, d, l, start, end.unwrap_or(start));
    }
    let (start, end) = (start.unwrap_or(0.0), end.unwrap_or(0.0));
    let room = l - start - end;
    if room < d || room <= 0.0 {
        return Err(Problem::stop(
            "length",
            say!(
                "Between the margins there must be room for one, {}: at least {} in all.",
                diameter,
                Length(start + end + d)
            ),
        )
        .with_limit(Length(start + end + d)));
    }
    let half = rule == "half_gaps"
        || (matches!(rule, "closest_gap" | "widest_gap")
            && inputs.choice("end_gaps") == Some("half"));
    let gap_of = |n: f64| {
        if half { (room - n * d) / n } else { (room - n * d) / (n + 1.0) }
    };
    let n = match rule {
        "closest_gap" => closest(inputs, d, room, half, &gap_of)?,
        "widest_gap" => widest(inputs, d, room, half, &gap_of)?,
        _ => how_many(inputs)?,
    };
    let g = gap_of(f64::from(n));
    // Holes that fill the length exactly do so in spite of binary fractions.
    if g < -1e-12 * l {
        let most = num::floor(room / d * (1.0 + 1e-12));
        let text = say!(
            "They are wider than the length has room for, {}: at most {} fit.",
            Length(room),
            Quantity::Count(most)
        );
        return Err(too_full(text, most));
    }
    let g = g.max(0.0);
    let first = start + d / 2.0 + if half { g / 2.0 } else { g };
    Ok(Row { holes: n, first, distance: Some(g + d), gap: Some(g) })
}

/// There are more of them than fit.
fn too_full(text: offsquare_units::Text, most: f64) -> Problem {
    Problem::stop("holes", text)
        .with_limit(Quantity::Count(most))
        .mended_by("holes", (most >= 1.0).then_some(Value::Number(most)))
}

fn how_many(inputs: &Inputs) -> Result<u32, Problem> {
    inputs
        .number("holes")
        .map(|n| n as u32)
        .ok_or_else(|| Problem::stop("holes", say!("How many: missing, type it in.")))
}

/// First and last center at the margins, the rest evenly between; one alone stands midway.
fn centred(n: u32, d: f64, l: f64, start: f64, end: f64) -> Result<Row, Problem> {
    let least = Length(d / 2.0);
    let slip = 1e-12 * l;
    let span = l - start - end;
    if n == 1 {
        let centre = (start + l - end) / 2.0;
        let early = centre < least.0 - slip;
        if early || centre > l - least.0 + slip {
            return Err(Problem::stop(
                "margin_start",
                say!("Midway between these margins it runs off the end."),
            )
            .with_limit(Length(end + if early { d - l } else { l - d })));
        }
        return Ok(Row { holes: 1, first: centre, distance: None, gap: None });
    }
    for (margin, key) in [(start, "margin_start"), (end, "margin_end")] {
        if margin < least.0 - slip {
            return Err(Problem::at_limit(
                key,
                "The first and last run off the end: this margin, to the center, must be at \
                     least half the width, {}.",
                least,
            ));
        }
    }
    let distance = span / f64::from(n - 1);
    if distance < d - slip || span <= 0.0 {
        let most = if d > 0.0 { 1.0 + num::floor((span / d).max(0.0)) } else { 1.0 };
        let text = say!(
            "They overlap: their centers would be {} apart and each is {} wide. At most {} fit.",
            Length(distance.max(0.0)),
            Length(d),
            Quantity::Count(most)
        );
        return Err(too_full(text, most));
    }
    Ok(Row { holes: n, first: start, distance: Some(distance), gap: Some((distance - d).max(0.0)) })
}

fn wanted(inputs: &Inputs) -> Result<f64, Problem> {
    inputs
        .length("gap_wanted")
        .map(|g| g.0)
        .ok_or_else(|| Problem::stop("gap_wanted", say!("Gap wanted: missing, type it in.")))
}

/// How many would make the gap just so, as a number that need not be whole.
fn even(gap: f64, d: f64, room: f64, half: bool) -> f64 {
    if half { room / (gap + d) } else { (room - gap) / (gap + d) }
}

fn too_many() -> Problem {
    Problem::stop(
        "gap_wanted",
        say!(format!("This gap needs more than {MOST}: that many are not laid out.")),
    )
    .with_limit(Quantity::Count(f64::from(MOST)))
}

/// The gap wanted, and the number of them, not yet whole, that would leave just it.
fn wanted_number(inputs: &Inputs, d: f64, room: f64, half: bool) -> Result<(f64, f64), Problem> {
    let gap = wanted(inputs)?;
    let n = even(gap, d, room, half);
    if !n.is_finite() || n > f64::from(MOST) {
        return Err(too_many());
    }
    Ok((gap, n))
}

fn closest(
    inputs: &Inputs,
    d: f64,
    room: f64,
    half: bool,
    gap_of: &dyn Fn(f64) -> f64,
) -> Result<u32, Problem> {
    let (gap, n) = wanted_number(inputs, d, room, half)?;
    let low = num::floor(n).max(1.0);
    let high = low + 1.0;
    // Where both are as close the fewer are made.
    let take_high = gap_of(high) >= 0.0 && (gap_of(high) - gap).abs() < (gap_of(low) - gap).abs();
    Ok(if take_high { high } else { low } as u32)
}

fn widest(
    inputs: &Inputs,
    d: f64,
    room: f64,
    half: bool,
    gap_of: &dyn Fn(f64) -> f64,
) -> Result<u32, Problem> {
    let (_, n) = wanted_number(inputs, d, room, half)?;
    // The fewest whose gap is not wider; a whole number hit in spite of binary fractions counts.
    let n = num::ceil(n * (1.0 - 1e-12)).max(1.0);
    if gap_of(n) < -1e-12 * room {
        let least = Length(gap_of((n - 1.0).max(1.0)).max(0.0));
        return Err(Problem::at_limit(
            "gap_wanted",
            "No number of them leaves so small a gap: the smallest is {}.",
            least,
        ));
    }
    Ok(n as u32)
}

fn tell(inputs: &Inputs, row: &Row, diameter: Length, whole: Length, solution: &mut Solution) {
    let n = f64::from(row.holes);
    let d = &mut solution.derivation;
    if let (Some(distance), Some(gap)) = (row.distance, row.gap) {
        d.push(say!("{} of {} take {} of {}.", Quantity::Count(n), diameter, diameter * n, whole));
        d.push(say!(
            "The gap between two is {}, so centers stand {} apart.",
            Length(gap),
            Length(distance)
        ));
    }
    d.push(say!(
        "The first center stands {} from the left end. Mark every center from that end, each \
         rounded by itself.",
        Length(row.first)
    ));
    solution.notes.push(say!(
        "Do not step off one rounded distance: its error adds up. Mark a story stick once and \
         carry it over."
    ));
    let tall = diameter.0.max(whole.0 / 16.0).min(1.5);
    let mut stick = Part::square("Story stick", whole.0, tall, None);
    stick.marks = (0..row.holes)
        .map(|i| {
            let x = row.centre(i);
            (Point::new(x, 0.0), Point::new(x, tall))
        })
        .gather();
    solution.parts.push(stick);
    solution.figure = picture::picture(inputs, row, diameter.0, whole.0);
}
