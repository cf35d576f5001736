//! Measured marks: a scale with long and short marks and figures, in one piece or hinged in sections.
//!
//! Frame: 0 is the left end of the board; every mark is measured from there (and from the start of
//! its own section), so no error adds up.

mod picture;
mod scale;

use super::field::{choice, count, length, maybe_length, option, standing_length};
use super::{Answer, Answers, Declared, Detail, Form, Off, Outcome, Refused, Solution};
use crate::inputs::{Field, Inputs, Value};
use crate::parts::Part;
use crate::problem::Problem;
use offsquare_units::num::Gather;
use offsquare_units::{Length, Quantity, num, say};
use scale::{Mark, Scale};

/// Most marks on one scale.
const MOST: f64 = 2000.0;

/// Figures are lengths, so that they are what a tape shows in the maker's own unit.
const FIGURE_STEP: Field = maybe_length("figure_step", "Figures rise by")
    .help("From one figure to the next; what a tape shows between them unless given.")
    .either_side();

const SCALE: Form = Form {
    id: "scale",
    label: "A scale",
    fields: &[
        length("board_length", "Board length", 48.0, 1200.0).help("All sections together."),
        standing_length("offset", "First mark at", 0.0, 0.0)
            .help("From the left end to the first mark.")
            .start(2.0, 50.0),
        length("spacing", "Mark to mark", 1.0, 25.0).help("From one mark to the next.").free(),
        standing_length("end_clear", "Free at the end", 0.0, 0.0)
            .help("No mark closer than this to the right end.")
            .start(1.0, 25.0),
        count("long_every", "Long mark every", (1, 1000), 4.0)
            .help("Counted in marks.")
            .standing(4.0),
        count("figure_every", "Figure every", (1, 1000), 1.0)
            .help("Counted in long marks.")
            .standing(1.0),
        standing_length("first_figure", "First figure", 0.0, 0.0)
            .help("Written at the first mark.")
            .either_side(),
        FIGURE_STEP,
        count("sections", "Sections", (1, 1000), 1.0)
            .help("1 for one piece; 2 for hinged in two.")
            .standing(1.0),
        maybe_length("board_width", "Board width").help("The size seen."),
        maybe_length("long_mark_length", "Long mark")
            .help("From the edge; half the board's width unless given."),
        maybe_length("short_mark_length", "Short mark")
            .help("From the edge; a quarter of the board's width unless given."),
        choice("marked_edge", "Marks stand on", "near")
            .of(&[option("near", "Near edge"), option("far", "Far edge")]),
    ],
    also: &[maybe_length("last_mark", "Last mark").help("From the left end.")],
    gives: &["offset", "spacing", "board_length"],
    off: &[Off { answer: "last_mark", keep: &[], give: Some("spacing") }],
};

/// The layout "marks".
pub static MARKS: Declared = Declared {
    id: "marks",
    question: "Measured marks on a board",
    search_words: "scale ruler planting board growth chart hinge figures ticks",
    forms: &[SCALE],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let board = Length(inputs.need("board_length")?);
    let spacing = Length(inputs.need("spacing")?);
    let scale = lay(inputs, board, spacing, detail)?;
    let problems = warnings(&scale);
    let mut solution = Solution {
        way: "scale",
        title: "Measured marks",
        answers: answers(&scale, detail),
        headline: vec!["marks_n", "first_mark"],
        ..Solution::default()
    };
    if scale.sections > 1 {
        solution.headline.push("section_length");
    }
    if detail == Detail::Full {
        tell(&scale, spacing, &mut solution);
    }
    Ok(Outcome { solutions: vec![solution], problems })
}

fn lay(inputs: &Inputs, board: Length, spacing: Length, detail: Detail) -> Result<Scale, Problem> {
    let get = |key| inputs.inches(key);
    let offset = get("offset").unwrap_or(0.0);
    let clear = get("end_clear").unwrap_or(0.0);
    let whole = |key, standing: f64| inputs.number(key).unwrap_or(standing);
    let room = board.0 - clear - offset;
    // A mark that stands exactly at the limit counts in spite of binary fractions.
    let slip = 1e-12 * board.0;
    if room < -slip {
        let most = Length(board.0 - clear);
        if most.0 < 0.0 {
            let text = say!(
                "No mark fits: the board must be longer than what is free at its end, {}.",
                Length(clear)
            );
            return Err(Problem::stop("board_length", text).with_limit(Length(clear)));
        }
        return Err(Problem::at_limit(
            "offset",
            "No mark fits: the first must stand at most {} from the left end.",
            most,
        ));
    }
    let last = num::floor((room + slip) / spacing.0);
    if !last.is_finite() || last >= MOST {
        let least = Length(room / (MOST - 1.0));
        return Err(Problem::stop(
            "spacing",
            say!("{}{}.", format!("More than {MOST} marks: the spacing must be at least "), least),
        )
        .with_limit(least));
    }
    let (long_every, figure_every) = (whole("long_every", 4.0), whole("figure_every", 1.0));
    let first_figure = get("first_figure").unwrap_or(0.0);
    let figure_step = get("figure_step").unwrap_or(spacing.0 * long_every * figure_every);
    let sections = whole("sections", 1.0).max(1.0);
    let section = board.0 / sections;
    let width = get("board_width").unwrap_or(board.0 / 12.0);
    let (long, short) = (
        get("long_mark_length").unwrap_or(width / 2.0),
        get("short_mark_length").unwrap_or(width / 4.0),
    );
    for (reach, key) in [(long, "long_mark_length"), (short, "short_mark_length")] {
        if reach > width {
            return Err(Problem::at_limit(
                key,
                "A mark cannot be longer than the board is wide, {}.",
                Length(width),
            ));
        }
    }
    let laid = match detail {
        Detail::Full => last as u32 + 1,
        Detail::Answers => 0,
    };
    let marks = (0..laid)
        .map(|i| {
            let i = f64::from(i);
            let at = offset + i * spacing.0;
            let on = num::floor((at + slip) / section).min(sections - 1.0);
            let group = i / long_every;
            let is_long = group == num::floor(group);
            let figured = group / figure_every;
            let figure = (is_long && figured == num::floor(figured))
                .then_some(first_figure + figured * figure_step);
            Mark {
                at,
                long: is_long,
                figure,
                section: on as usize,
                in_section: (at - on * section).max(0.0),
            }
        })
        .gather();
    Ok(Scale {
        board: board.0,
        width,
        long,
        short,
        sections: sections as usize,
        far: inputs.choice("marked_edge") == Some("far"),
        count: last + 1.0,
        long_count: num::floor(last / long_every) + 1.0,
        first_at: offset,
        last_at: offset + last * spacing.0,
        marks,
    })
}

/// A mark on the line between two sections cannot be cut or read: that, and the nearest numbers of sections without one.
fn warnings(scale: &Scale) -> Vec<Problem> {
    let near = 1e-9 * scale.board;
    let on_a_joint = |sections: u32| {
        let section = scale.board / f64::from(sections);
        scale.marks.iter().any(|m| {
            let joint = num::floor(m.at / section + 0.5);
            joint >= 1.0
                && joint < f64::from(sections)
                && (m.at - joint * section).abs() <= 2.0 * near
        })
    };
    let is = scale.sections as u32;
    let fewer = (1..is).rev().find(|n| !on_a_joint(*n));
    let more = (is + 1..is + 10).find(|n| !on_a_joint(*n));
    let others = || fewer.into_iter().chain(more).map(|n| Value::Number(f64::from(n)));
    scale
        .marks
        .iter()
        .find(|m| m.section > 0 && m.in_section <= near)
        .map(|m| {
            Problem::at_limit(
                "sections",
                "A mark stands on a joint, {} from the left end: move the first mark, or take \
                     other sections.",
                Length(m.at),
            )
            .as_warning()
            .mended_by("sections", others())
        })
        .into_iter()
        .gather()
}

/// The list of all marks only in full: a root finder asks for the rest thousands of times.
fn answers(scale: &Scale, detail: Detail) -> Answers {
    let of = |m: &Mark| {
        let mut a = Answers::new();
        a.length("at", m.at)
            .put("kind", Answer::Word(if m.long { "long" } else { "short" }))
            .put(
                "figure",
                m.figure.map_or(Answer::Nothing, |f| Answer::of(Quantity::Figure(Length(f)))),
            )
            .count("section", m.section as f64 + 1.0)
            .length("from_section_start", m.in_section);
        Answer::Group(a)
    };
    let last = scale.last_at;
    let mut a = Answers::new();
    a.count("marks_n", scale.count)
        .count("long_marks_n", scale.long_count)
        .length("first_mark", scale.first_at)
        .length("last_mark", last)
        .length("beyond_last_mark", scale.board - last)
        .length("section_length", scale.section_length());
    if detail == Detail::Full {
        let joints = (1..scale.sections).map(|i| scale.section_length() * i as f64);
        a.lengths("joints", joints).put("marks", Answer::List(scale.marks.iter().map(of).gather()));
    }
    a
}

fn tell(scale: &Scale, spacing: Length, solution: &mut Solution) {
    let (last, n) = (scale.last_at, scale.count);
    solution.derivation = vec![
        say!(
            "Mark number k stands at the first mark plus k times {}, all measured from the left \
             end.",
            spacing
        ),
        say!("{} marks fit; the last stands at {}.", Quantity::Count(n), Length(last)),
    ];
    if scale.sections > 1 {
        solution.derivation.push(say!(
            "{} sections of {}; within a section measure from its own left end.",
            Quantity::Count(scale.sections as f64),
            Length(scale.section_length())
        ));
        solution
            .notes
            .push(say!("Mark the sections before hinging, lying end to end with no gap."));
    }
    let long = scale.section_length();
    for s in 0..scale.sections.min(50) {
        let name =
            if scale.sections == 1 { "Scale".to_owned() } else { format!("Section {}", s + 1) };
        let mut part = Part::square(name, long, scale.width, None);
        part.marks = scale
            .marks
            .iter()
            .filter(|m| m.section == s)
            .map(|m| scale.line(m, m.in_section))
            .gather();
        part.figures = scale
            .marks
            .iter()
            .filter(|m| m.section == s)
            .filter_map(|m| Some((scale.beyond(m, m.in_section), Length(m.figure?))))
            .gather();
        solution.parts.push(part);
    }
    solution.figure = picture::picture(scale, spacing);
}
