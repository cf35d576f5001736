//! Glued-up panel: one wide panel from narrow boards, plain or with mitered end pieces.
//!
//! Frame: the panel's lower left corner is the origin, strips run along x.

mod panel;
mod picture;

use super::field::{choice, length, maybe_length, option, standing_length};
use super::{Answers, Declared, Detail, Form, Off, Outcome, Refused, Solution};
use crate::inputs::{Inputs, Value};
use crate::parts::{CutName, Part};
use crate::problem::Problem;
use offsquare_geometry::Point;
use offsquare_units::{Length, Quantity, num, say};
use panel::Panel;

/// Most strips in one panel.
const MOST: f64 = 500.0;

const PANEL: Form = Form {
    id: "panel",
    label: "A panel",
    fields: &[
        length("panel_width", "Panel width", 16.0, 400.0)
            .help("Finished, across the strips.")
            .free(),
        length("panel_length", "Panel length", 30.0, 760.0).help("Finished, along the strips."),
        length("board_width", "Board width", 5.5, 140.0).help("Actual width of the stock."),
        standing_length("joint_allowance", "Joint allowance", 0.03125, 1.0)
            .help("What planing or jointing takes off each edge."),
        standing_length("kerf", "Kerf", 0.125, 3.0).help("What one rip cut takes."),
        standing_length("trim_width", "Trim, width", 0.0, 0.0)
            .help("What comes off the panel's width when it is trimmed, in all."),
        standing_length("trim_length", "Trim, length", 0.0, 0.0)
            .help("What comes off the panel's length when it is trimmed, in all."),
        maybe_length("widest_strip", "Widest strip")
            .help("Finished strips no wider than this, so that the panel stays flat."),
        choice("ends", "Ends", "plain")
            .of(&[option("plain", "Plain"), option("mitred", "Pieced, mitered end sections")]),
        maybe_length("end_width", "End width").help("Finished width of an end piece."),
        maybe_length("thickness", "Thickness").help("The size going away from you."),
    ],
    also: &[maybe_length("rip_width", "Rip width").help("Of each strip off the saw.")],
    gives: &["panel_width", "board_width", "joint_allowance"],
    off: &[Off { answer: "rip_width", keep: &[], give: Some("panel_width") }],
};

/// The layout "glued_panel".
pub static GLUED_PANEL: Declared = Declared {
    id: "glued_panel",
    question: "Wide panel from narrow boards",
    search_words: "glue edge joint strips rip tabletop lid breadboard ends",
    forms: &[PANEL],
    solve,
    ..Declared::PLAIN
};

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (width, length) = (inputs.need("panel_width")?, inputs.need("panel_length")?);
    let panel = lay(inputs, width, length, inputs.need("board_width")?)?;
    let mut solution = Solution {
        way: if panel.end.is_some() { "mitred" } else { "plain" },
        title: if panel.end.is_some() { "With mitered end sections" } else { "Plain panel" },
        answers: answers(&panel),
        headline: match panel.end {
            Some(_) => vec![
                "strip_reading_deg",
                "end_reading_deg",
                "strips_n",
                "rip_width",
                "end_long_point_length",
            ],
            None => vec!["strips_n", "rip_width", "strip_length"],
        },
        ..Solution::default()
    };
    if detail == Detail::Full {
        tell(&panel, inputs, &mut solution);
    }
    Ok(solution.into())
}

/// The fewest equal strips that the boards are wide enough for.
///
/// Example: 16 in from boards 5 1/2 wide, 1/32 off each edge: 16 ÷ (5.5 − 1/16) = 2.94, so 3 strips
/// of 5.333 finished, ripped at 5.396.
fn lay(inputs: &Inputs, width: f64, length: f64, board: f64) -> Result<Panel, Problem> {
    let get = |key| inputs.inches(key);
    let size = |l: f64| Quantity::Length(Length(l));
    let joint = get("joint_allowance").unwrap_or(0.03125);
    let kerf = get("kerf").unwrap_or(0.125);
    let total = width + get("trim_width").unwrap_or(0.0);
    let widest = board - 2.0 * joint;
    if widest <= 0.0 {
        return Err(Problem::at_limit(
            "board_width",
            "Jointing takes the whole board: it must be wider than {}.",
            Length(2.0 * joint),
        ));
    }
    let widest = get("widest_strip").map_or(widest, |w| w.min(widest));
    // An exact fit counts in spite of binary fractions.
    let strips = num::ceil(total / widest * (1.0 - 1e-12)).max(1.0);
    if !strips.is_finite() || strips > MOST {
        let least = total / MOST;
        return Err(Problem::stop(
            if get("widest_strip").is_some() { "widest_strip" } else { "board_width" },
            say!(
                "{}{} wide.",
                format!("More than {MOST} strips: each must be at least "),
                Length(least)
            ),
        )
        .with_limit(size(least)));
    }
    let strip = total / strips;
    let rip = strip + 2.0 * joint;
    let per_board = num::floor((board + kerf) / (rip + kerf) * (1.0 + 1e-12)).max(1.0);
    let mut panel = Panel {
        width: total,
        length: length + get("trim_length").unwrap_or(0.0),
        trim_length: get("trim_length").unwrap_or(0.0),
        strips,
        strip,
        rip,
        per_board,
        joint,
        kerf,
        board,
        end: None,
    };
    if inputs.choice("ends") == Some("mitred") {
        panel.end = Some(mitred_ends(inputs, &panel)?);
    }
    Ok(panel)
}

fn mitred_ends(inputs: &Inputs, p: &Panel) -> Result<f64, Problem> {
    let end = inputs.inches("end_width").unwrap_or(p.strip);
    if p.strips < 2.0 {
        return Err(Problem::at_limit(
            "widest_strip",
            "Mitered ends need an outer strip on either side: strips at most {} wide.",
            Length(p.width / 2.0),
        )
        .mended_by("ends", [Value::Choice("plain")]));
    }
    let most = p.length / 2.0;
    if end >= most {
        return Err(Problem::at_limit(
            "end_width",
            "The two end pieces must leave room between them: each less than {} wide.",
            Length(most),
        ));
    }
    if end + 2.0 * p.joint > p.board {
        let limit = p.board - 2.0 * p.joint;
        return Err(Problem::at_limit(
            "end_width",
            "The boards are too narrow for this end piece: at most {}.",
            Length(limit),
        ));
    }
    Ok(end)
}

fn answers(p: &Panel) -> Answers {
    let mut a = Answers::new();
    let boards = num::ceil(p.strips / p.per_board);
    let left = p.board - p.per_board * p.rip - (p.per_board - 1.0) * p.kerf;
    a.count("strips_n", p.strips)
        .length("strip_width", p.strip)
        .length("rip_width", p.rip)
        .count("glue_joints_n", p.strips - 1.0)
        .count("strips_per_board_n", p.per_board)
        .count("boards_n", boards)
        .length("rip_offcut_width", (left - p.kerf).max(0.0))
        .length("glued_width", p.width)
        .length("strip_length", p.length);
    if let Some(e) = p.end {
        a.angle("strip_reading_deg", num::atan2_deg(e, p.strip))
            .angle("end_reading_deg", num::atan2_deg(p.strip, e))
            .length("strip_tape_mark", e)
            .length("end_tape_mark", p.strip)
            .length("outer_strip_long_point_length", p.length)
            .length("outer_strip_short_point_length", p.length - 2.0 * e)
            .length("inner_strip_length", p.length - 2.0 * e)
            .length("end_long_point_length", p.width)
            .length("end_short_point_length", p.width - 2.0 * p.strip)
            .length("end_rip_width", e + 2.0 * p.joint)
            .length("mitre_cut_length", num::hypot(e, p.strip));
    }
    a
}

fn stick(
    name: &'static str,
    count: f64,
    wide: f64,
    away: Option<Length>,
    long: f64,
    behind: f64,
    key: Option<&'static str>,
) -> Part {
    let cut = |name| CutName { name, miter_key: key };
    let mut part = Part::stick(
        name,
        Length(wide),
        away,
        &[Point::ORIGIN, Point::new(behind, wide)],
        &[Point::new(long, 0.0), Point::new(long - behind, wide)],
        &[cut("Left end"), cut("Right end")],
    );
    part.count = count as u32;
    part
}

fn tell(p: &Panel, inputs: &Inputs, solution: &mut Solution) {
    let away = inputs.length("thickness");
    match p.end {
        None => solution.parts.push(stick("Strip", p.strips, p.rip, away, p.length, 0.0, None)),
        Some(e) => {
            solution.parts.push(stick(
                "Outer strip",
                2.0,
                p.strip,
                away,
                p.length,
                e,
                Some("strip_reading_deg"),
            ));
            if p.strips > 2.0 {
                let inner = p.length - 2.0 * e;
                solution.parts.push(stick(
                    "Inner strip",
                    p.strips - 2.0,
                    p.rip,
                    away,
                    inner,
                    0.0,
                    None,
                ));
            }
            solution.parts.push(stick(
                "End piece",
                2.0,
                e,
                away,
                p.width,
                p.strip,
                Some("end_reading_deg"),
            ));
            solution.notes.push(say!(
                "Glued across the strips, end pieces hold the wood from moving: use dry stock, and \
                 expect a wide panel to crack or open at the miters with the seasons."
            ));
        }
    }
    solution.derivation = vec![
        say!(
            "A board gives at most {} once both edges are jointed; the panel, with its trim, needs \
             {}.",
            Length(p.board - 2.0 * p.joint),
            Length(p.width)
        ),
        say!(
            "So {} strips of {} finished, each ripped {} wider: {}.",
            Quantity::Count(p.strips),
            Length(p.strip),
            Length(p.joint * 2.0),
            Length(p.rip)
        ),
        say!(
            "One board's width gives {}, with a kerf of {} between.",
            Quantity::Count(p.per_board),
            Length(p.kerf)
        ),
    ];
    if p.trim_length > 0.0 {
        solution.derivation.push(say!(
            "Strips are cut {} over length and the panel trimmed after gluing.",
            Length(p.trim_length)
        ));
    }
    solution.notes.push(say!(
        "Turn every other strip so that the growth rings alternate, and joint each pair of edges \
         together."
    ));
    solution.figure = picture::picture(p, inputs);
}
