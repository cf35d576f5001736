//! Every sentence of the saw's advice, in one place.

use super::SawProfile;
use super::advice::{Advice, Lay, PartAdvice, Setting};
use super::capacity::Misfit;
use super::correction::{Axis, corrected, off_zero};
use super::ends::{Between, Hand, Parted, ShortPiece};
use super::mark::MarkKind;
use super::on_edge::OtherFace;
use super::position::Position;
use super::remedy::{ChangedInput, MOST_TURNED, Remedy, Turned};
use crate::parts::{End, Side};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Said, Text, say};

pub use super::lay_words::{face_up, lies, ripped, stands, stop_block, stop_reaches};

pub use super::lap_words::{lap_falls_out, lap_in_words as lap, lap_title};

/// A side in one word.
pub fn side(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
        Side::Neither => "square",
    }
}

/// An end in one word.
pub fn end(end: End) -> &'static str {
    match end {
        End::Left => "left",
        End::Right => "right",
        End::Along => "along",
    }
}

/// "Set 45.0° right, a click stop; blade upright."
pub fn setting(a: &Advice) -> Text {
    setting_of(a.setting())
}

/// The same for the piece on its other face.
pub fn other_setting(o: &OtherFace) -> Text {
    setting_of(o.setting())
}

/// ", a click stop", where it is one.
pub fn click(mark: MarkKind) -> &'static str {
    match mark {
        MarkKind::Detent => ", a click stop",
        MarkKind::Scale => "",
    }
}

fn setting_of(s: Setting) -> Text {
    let (miter, swing, miter_mark) = (s.set_miter, s.swing, s.miter_mark);
    let (bevel, lean, bevel_mark) = (s.set_bevel, s.lean, s.bevel_mark);
    let mut text = match swing {
        Side::Neither => say!("Set the saw square"),
        _ => say!("Set the saw to {}{}", miter, format!(" {}{}", side(swing), click(miter_mark))),
    };
    text.extend(match lean {
        Side::Neither => say!("; blade upright."),
        _ => say!("; tilt the blade {}{}", bevel, format!(" {}{}.", side(lean), click(bevel_mark))),
    });
    text.extend(off_zeros([(s.miter, s.miter_by), (s.bevel, s.bevel_by)]));
    for (of, is, by) in [("miter", s.miter, s.miter_by), ("tilt", s.bevel, s.bevel_by)] {
        if is.0 != 0.0 && by.0 != 0.0 {
            text.push(format!(" By your test cut the {of} is set "));
            text.extend(corrected(by));
            text.push(".");
        }
    }
    text
}

/// Where square and upright are by test cuts: of swing and lean what is set, and this saw's correction.
fn off_zeros([swing, lean]: [(Angle, Angle); 2]) -> Text {
    let mut text = Text::default();
    for (what, (is, by)) in [("square", swing), ("upright", lean)] {
        if is.0 == 0.0 && by.0 != 0.0 {
            text.push(format!(" By your test cut {what} is "));
            text.extend(off_zero(by));
            text.push(".");
        }
    }
    text
}

/// The same for a setting by itself.
pub fn off_zeros_of(saw: &SawProfile, miter: Angle, bevel: Angle) -> Text {
    let by = |axis| saw.correction(axis, Side::Neither, Angle::ZERO);
    off_zeros([(miter, by(Axis::Miter)), (bevel, by(Axis::Bevel))])
}

/// "The cut meets the edge at 58.4°."
pub fn meets_edge(a: &Advice) -> Text {
    say!("The cut meets the edge at {}.", a.meets_edge())
}

/// "With a tape: 1 9/16 along the far edge."
pub fn tape(a: &Advice) -> Text {
    if a.tape_mark.0 < 1e-6 {
        return match a.edge_tape_mark {
            Some(edge) => say!(
                "With a square and a tape: straight across the face, {} along on the edge.",
                edge
            ),
            None => say!("With a square: straight across."),
        };
    }
    match a.edge_tape_mark {
        Some(edge) => {
            say!("With a tape: {} along on the face, {} along on the edge.", a.tape_mark, edge)
        }
        None => say!("With a tape: {} along the far edge.", a.tape_mark),
    }
}

/// What the mark leaves against the exact reading.
pub fn gap(a: &Advice) -> Text {
    let mut text = say!("The exact reading is {}", a.miter);
    if a.bevel.0 > 0.0 {
        text.extend(say!(" and the exact tilt {}", a.bevel));
    }
    text.extend(say!(": "));
    text.extend(gap_in_words(a.open()));
    text.extend(say!(" at the open end."));
    text
}

/// A gap as an eye judges it: under 1/128 in nothing shows, under 1/32 in it is a hairline.
pub fn gap_in_words(gap: Length) -> Text {
    if gap.0 < 1.0 / 128.0 {
        say!("no gap that shows")
    } else if gap.0 < 1.0 / 32.0 {
        say!("a hairline gap")
    } else {
        say!("a gap of {}", gap)
    }
}

/// Why the saw cannot, with its limit.
pub fn misfit(m: &Misfit) -> Text {
    match m {
        Misfit::MiterPastLimit { reading, limit } => {
            say!("The saw swings to {} on that side; this cut is {}.", *limit, *reading)
        }
        Misfit::BevelPastLimit { reading, limit } => {
            say!("The blade tilts to {} on that side; this cut is {}.", *limit, *reading)
        }
        Misfit::TooWide { needed, reach } => {
            say!(
                "The cut runs {} out from the fence; at this reading the saw reaches {}.",
                *needed,
                *reach
            )
        }
        Misfit::TooHigh { needed, reach } => {
            say!("The piece stands {} high; at this tilt the saw cuts {}.", *needed, *reach)
        }
        Misfit::OnAPoint { .. } => say!(
            "No edge of this piece that could lie on the fence bears: it would lie on its point, \
             and the blade can throw it."
        ),
        Misfit::InsideCorner => {
            say!("The cut ends at an inside corner: the blade would run on into the piece.")
        }
        Misfit::Rip => say!("This is a rip, along the board: a miter saw only cuts across."),
        Misfit::NotBothReadings => {
            say!("This saw does not take a miter and a bevel at once.")
        }
    }
}

/// In a word or two, why this saw cannot.
pub fn past(a: &Advice) -> &'static str {
    match a.fit.misfits[..] {
        [Misfit::Rip] => "a rip",
        [Misfit::TooWide { .. }] => "too wide",
        [Misfit::TooHigh { .. }] => "too high",
        [Misfit::OnAPoint { .. }] => "no edge to lie on",
        [Misfit::InsideCorner] => "an inside corner",
        _ => "past this saw",
    }
}

/// What to do between the two ends.
pub fn between(b: Between) -> Option<Text> {
    Some(match b {
        Between::SameSetting(Position::AsDrawn) => {
            say!("Both ends at one setting: slide it along, do not turn it.")
        }
        Between::SameSetting(Position::EndOverEnd) => say!(
            "Both ends at one setting: flip it end over end, the same edge at the fence; or keep \
             its face up and swing the saw to the other side."
        ),
        Between::SameSetting(Position::EndForEnd) => say!(
            "Both ends at one setting: turn it end for end, the same face up, the other edge at \
             the fence."
        ),
        Between::SameSetting(Position::RolledOver) => say!(
            "Both ends at one setting: roll it over, the other face up and the other edge at the \
             fence."
        ),
        Between::SameSettings => say!("The same settings serve both ends."),
        Between::SetAgain => say!("Set the saw anew for the second end."),
        Between::OneEnd => return None,
    })
}

/// How the other one of a pair is made.
pub fn hand(h: Hand) -> Text {
    match h {
        Hand::SameTurnedOver => {
            say!("A left and a right one are the same piece, one turned over.")
        }
        Hand::FaceDown => say!(
            "For the other hand keep the settings and roll the stock over: the other face up, the \
             other edge at the fence."
        ),
        Hand::LaidAnew => {
            say!("For the other hand each cut is set and laid anew: its other edge cannot bear.")
        }
    }
}

/// That an edge bears too little to hold the piece by hand; nothing where it is enough.
pub fn clamp(a: &Advice) -> Option<Text> {
    let r = a.rests();
    r.clamp.then(|| {
        let edge = r.edge.name(&a.sides);
        say!("Clamp it down, hands off: only {}{}", r.bears, format!(" of its {edge} bears."))
    })
}

/// How a piece too short to hold is cut.
pub fn short_piece(s: &ShortPiece) -> Text {
    let mut text = say!(
        "Too short to hold by hand, which wants {} of edge. Clamp it for every cut, or cut it from \
         a stick of at least {}: ",
        s.hold,
        s.stick
    );
    let last = match s.parted {
        Parted::LastCut { first, cuts: 2.. } => say!(format!(
            "both cuts of its {} end first, then, holding the long side, cut it off last.",
            end(first)
        )),
        Parted::LastCut { first, .. } => say!(format!(
            "its {} end first, then, holding the long side, cut it off last.",
            end(first)
        )),
        Parted::Clamped => say!(
            "all cuts that leave it on the stick first. Once it is off the stick, clamp it for \
             what is left."
        ),
    };
    text.extend(last);
    text
}

/// One way out, as an instruction.
pub fn remedy(r: &Remedy) -> Text {
    match r {
        Remedy::ChangeInput(c) => change(c),
        Remedy::TapeMark { mark, across, edge } => {
            let mut text = if mark.0 > 0.0 {
                say!("Mark it with a tape, {} along over {} across", *mark, *across)
            } else {
                say!("Square a line across it")
            };
            if let Some(edge) = edge {
                text.extend(say!(", then {} along down the edge", *edge));
            }
            text.extend(say!(", and cut it with a hand saw or on a sled."));
            text
        }
        Remedy::Rip { tilt, to } if tilt.0 > 0.0 => say!(
            "Rip it to {} on a table saw, the blade tilted {}, or plane the edge to that.",
            *to,
            *tilt
        ),
        Remedy::Rip { to, .. } => say!("Rip it to {} on a table saw, or plane the edge.", *to),
        Remedy::TurnedWork(t) => turned(t),
        Remedy::NotOnThisSaw => say!("Not on this saw."),
    }
}

/// Turned work: how the piece lies, what is set, what it needs.
fn turned(t: &Turned) -> Text {
    let face = if t.seen_face_up { "up" } else { "down" };
    say!(
        "{}{}{}{} out from the fence; the saw reaches {} there. Hold up what reaches past the \
         table, level with it. For pieces up to {} long only: a longer one stands where you do.",
        format!(
            "Turn the work, clamped, never held by hand. Fix an auxiliary fence to the table, square to the saw\u{2019}s fence, {} of the cut. Lay the piece {} {face}, its squared end on the saw\u{2019}s fence and its {} along the auxiliary one, so that it points toward you, and clamp it there. Swing the saw ",
            side(t.swing.other()),
            t.sides.face,
            t.along.name(&t.sides)
        ),
        t.set,
        format!(" {}. The cut runs ", side(t.swing)),
        t.needs,
        t.reach,
        MOST_TURNED
    )
}

fn change(c: &ChangedInput) -> Text {
    let mut text = say!("{} {}", c.label, Said::Instead(c.value, c.was));
    text.extend(match c.through {
        Some(size) => say!(" lets it through this saw: {} wide.", size),
        None => say!(" brings the cut to {}.", c.reading),
    });
    for e in &c.effects {
        text.extend(say!(" Then {} is {}.", e.name, Said::Instead(e.is, e.was)));
    }
    text
}

/// How a compound cut is marked with a tape and a square alone.
pub fn marking(a: &Advice) -> Vec<Text> {
    let Some(edge) = a.edge_tape_mark else {
        return Vec::new();
    };
    let face = if a.tape_mark.0 > 0.0 {
        say!(
            "Square a line across the face from where the cut starts. On the far edge measure {} \
             from it, and join the start to that mark.",
            a.tape_mark
        )
    } else {
        say!("Square the line across the face.")
    };
    vec![
        face,
        say!(
            "Square a line down the edge from there. On its lower corner measure {} from it, and \
             join.",
            edge
        ),
        say!(
            "The back and the other edge take the same lines, parallel. Saw on the waste side of \
             all four."
        ),
    ]
    .into_iter()
    .chain(a.ripped.map(|_| say!("These lines hold only before the edges are ripped.")))
    .gather()
}

/// All that is said of one cut, in the order in which it is read at the saw.
pub fn cut(a: &Advice) -> Vec<Text> {
    let mut out = cut_in_short(a);
    if a.fit.misfits[..] != [Misfit::Rip] {
        out.extend([meets_edge(a), tape(a)]);
    }
    out.extend(a.remedies.iter().map(remedy));
    out
}

/// The same for a screen on which settings, tape marks and ways out are told beside it.
pub fn cut_in_short(a: &Advice) -> Vec<Text> {
    let mut out = at_the_saw(a);
    if a.lay() == Some(Lay::Seen) {
        let off = |exact: Angle, set: Angle| (exact.0 - set.0).abs() > 1e-9;
        if off(a.miter, a.set_miter) || off(a.bevel, a.set_bevel) {
            out.push(gap(a));
        }
        out.extend(flat(a));
    }
    out
}

/// What is set, how the piece lies and where the stop goes, or why this saw cannot: on the card, on paper
/// and in the copied text.
pub fn at_the_saw(a: &Advice) -> Vec<Text> {
    if a.lay().is_none() {
        return a.fit.misfits.iter().map(misfit).gather();
    }
    let mut out = vec![setting(a), lies(a)];
    out.extend(clamp(a));
    out.extend(a.stop_block.as_ref().filter(|_| !a.by_mark).map(stop_block));
    out
}

/// The same cut with the wide side on the table, where it is the thickness that is drawn.
pub fn flat(a: &Advice) -> Option<Text> {
    let o = a.other_face.as_ref().filter(|o| o.fit.possible())?;
    let thin = a.fit.height.is_some_and(|h| h > a.fit.width);
    let slanted = a.miter.0 > 0.0 || a.bevel.0 > 0.0;
    let mut text = say!("Or with its wide side on the table: ");
    text.extend(other_setting(o));
    text.extend(say!(" "));
    text.extend(super::lay_words::stand(o.stand, a));
    (thin && slanted).then_some(text)
}

/// All that is said of the part as a whole.
pub fn part(p: &PartAdvice) -> Vec<Text> {
    let mut out = Vec::new();
    out.extend(between(p.between));
    // Where nothing is bevelled a left one is a right one turned over.
    if p.handed || (p.count > 1 && p.hand == Hand::SameTurnedOver) {
        out.push(hand(p.hand));
    }
    out.extend(p.ripped.as_ref().map(|r| ripped(r, &p.sides)));
    out.extend(p.short_piece.as_ref().map(short_piece));
    out
}
