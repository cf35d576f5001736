//! Every sentence of the saw's advice, in one place.

use super::advice::{Advice, Lay, PartAdvice, Setting};
use super::capacity::Misfit;
use super::ends::{Between, Hand, ShortPiece};
use super::mark::MarkKind;
use super::on_edge::{OtherFace, Stand};
use super::position::{Edge, Position};
use super::remedy::{ChangedInput, Remedy};
use super::stop_block::{Plus, StopBlock};
use crate::parts::{End, Side};
use crate::say;
use crate::units::{Length, Said, Text};

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

fn setting_of(s: Setting) -> Text {
    let (miter, swing, miter_mark) = (s.set_miter, s.swing, s.miter_mark);
    let (bevel, lean, bevel_mark) = (s.set_bevel, s.lean, s.bevel_mark);
    let stop = |mark| match mark {
        MarkKind::Detent => ", a click stop",
        MarkKind::Scale => "",
    };
    let mut text = match swing {
        Side::Neither => say!["Set the saw square"],
        _ => say!["Set the saw to ", miter, format!(" {}{}", side(swing), stop(miter_mark))],
    };
    text.0.extend(
        match lean {
            Side::Neither => say!["; blade upright."],
            _ => say!["; tilt the blade ", bevel, format!(" {}{}.", side(lean), stop(bevel_mark))],
        }
        .0,
    );
    text
}

/// "The cut meets the edge at 58.4°."
pub fn meets_edge(a: &Advice) -> Text {
    say!["The cut meets the edge at ", a.meets_edge(), "."]
}

/// "With a tape: 1 9/16 along the far edge."
pub fn tape(a: &Advice) -> Text {
    if a.tape_mark.0 < 1e-6 {
        return match a.edge_tape_mark {
            Some(edge) => say![
                "With a square and a tape: straight across the face, ",
                edge,
                " along on the edge."
            ],
            None => say!["With a square: straight across."],
        };
    }
    match a.edge_tape_mark {
        Some(edge) => {
            say!["With a tape: ", a.tape_mark, " along on the face, ", edge, " along on the edge."]
        }
        None => say!["With a tape: ", a.tape_mark, " along the far edge."],
    }
}

/// What the mark leaves against the exact reading.
pub fn gap(a: &Advice) -> Text {
    let mut text = say!["The exact reading is ", a.miter];
    if a.bevel.0 > 0.0 {
        text.0.extend(say![" and the exact tilt ", a.bevel].0);
    }
    text.0.extend(say![": "].0);
    text.0.extend(gap_in_words(a.open()).0);
    text.0.extend(say![" at the open end."].0);
    text
}

/// A gap as an eye judges it: under 1/128 in nothing shows, under 1/32 in it is a hairline.
pub fn gap_in_words(gap: Length) -> Text {
    if gap.0 < 1.0 / 128.0 {
        say!["no gap that shows"]
    } else if gap.0 < 1.0 / 32.0 {
        say!["a hairline gap"]
    } else {
        say!["a gap of ", gap]
    }
}

/// How the piece lies.
pub fn position(p: Position) -> Text {
    match p {
        Position::AsDrawn => say!["Lay it as drawn: drawn face up, the upper edge at the fence."],
        Position::EndOverEnd => {
            say!["Flip it end over end: drawn face down, the same edge at the fence."]
        }
        Position::EndForEnd => {
            say!["Turn it end for end: drawn face up, the other edge at the fence."]
        }
        Position::RolledOver => {
            say!["Roll it over: drawn face down, the other edge at the fence."]
        }
    }
}

/// How it stands on its edge when the drawn face cannot lie on the table.
pub fn stand(s: Stand) -> Text {
    let face = if s.face_at_fence {
        "the drawn face against the fence"
    } else {
        "the drawn face toward you"
    };
    say![format!("Stand it on its {}, {face}.", edge(s.down))]
}

/// The same, as short as on a picture.
pub fn stands(s: Stand) -> Text {
    if s.face_at_fence { say!["on edge, face at fence"] } else { say!["on edge, face toward you"] }
}

/// Why the saw cannot, with its limit.
pub fn misfit(m: &Misfit) -> Text {
    match m {
        Misfit::MiterPastLimit { reading, limit } => {
            say!["The saw swings to ", *limit, " on that side; this cut is ", *reading, "."]
        }
        Misfit::BevelPastLimit { reading, limit } => {
            say!["The blade tilts to ", *limit, " on that side; this cut is ", *reading, "."]
        }
        Misfit::TooWide { needed, reach } => {
            say!["The board is ", *needed, " wide; at this reading the saw cuts ", *reach, "."]
        }
        Misfit::TooHigh { needed, reach } => {
            say!["The piece stands ", *needed, " high; at this tilt the saw cuts ", *reach, "."]
        }
        Misfit::Rip => say!["This is a rip, along the board: a miter saw only cuts across."],
        Misfit::NotBothReadings => {
            say!["This saw does not take a miter and a bevel at once."]
        }
    }
}

/// In a word or two, why this saw cannot.
pub fn past(a: &Advice) -> &'static str {
    match a.fit.misfits[..] {
        [Misfit::Rip] => "a rip",
        [Misfit::TooWide { .. }] => "too wide",
        [Misfit::TooHigh { .. }] => "too high",
        _ => "past this saw",
    }
}

/// Where the stop goes, and what that is made of.
pub fn stop_block(s: &StopBlock) -> Text {
    match s.plus_is {
        Plus::Nothing => {
            say!["Stop block: ", s.setting, " from the stop to the kerf at the fence."]
        }
        Plus::TapeMark => say![
            "Stop block: ",
            s.setting,
            " from the stop to the kerf at the fence (edge ",
            s.fence_edge,
            " and the stopped end's tape mark ",
            s.plus,
            ")."
        ],
        Plus::PointAhead => say![
            "Stop block: ",
            s.setting,
            " from the stop to the kerf at the fence (edge ",
            s.fence_edge,
            " and ",
            s.plus,
            " that the stopped point stands ahead)."
        ],
    }
}

/// What to do between the two ends.
pub fn between(b: Between) -> Option<Text> {
    Some(match b {
        Between::SameSetting(Position::AsDrawn) => {
            say!["Both ends at one setting: slide it along, do not turn it."]
        }
        Between::SameSetting(Position::EndOverEnd) => say![
            "Both ends at one setting: flip it end over end, the same edge at the fence; or keep its face up and swing the saw to the other side."
        ],
        Between::SameSetting(Position::EndForEnd) => say![
            "Both ends at one setting: turn it end for end, the same face up, the other edge at the fence."
        ],
        Between::SameSetting(Position::RolledOver) => say![
            "Both ends at one setting: roll it over, the other face up and the other edge at the fence."
        ],
        Between::SameSettings => say!["The same settings serve both ends."],
        Between::SetAgain => say!["Set the saw anew for the second end."],
        Between::OneEnd => return None,
    })
}

/// How the other one of a pair is made.
pub fn hand(h: Hand) -> Text {
    match h {
        Hand::SameTurnedOver => {
            say!["A left and a right one are the same piece, one turned over."]
        }
        Hand::FaceDown => say![
            "For the other hand keep the settings and lay the stock with the drawn face down and the other edge at the fence."
        ],
    }
}

/// How a piece too short to hold is cut.
pub fn short_piece(s: &ShortPiece) -> Text {
    say![
        "Only ",
        s.length,
        " long: too short to hold. Cut it from a stick of at least ",
        s.stick,
        ": its first end first, then, holding the long side, cut it off last."
    ]
}

/// One way out, as an instruction.
pub fn remedy(r: &Remedy) -> Text {
    match r {
        Remedy::ChangeInput(c) => change(c),
        Remedy::TapeMark { mark, across, edge } => {
            let mut text = if mark.0 > 0.0 {
                say!["Mark it with a tape, ", *mark, " along over ", *across, " across"]
            } else {
                say!["Square a line across it"]
            };
            if let Some(edge) = edge {
                text.0.extend(say![", then ", *edge, " along down the edge"].0);
            }
            text.0.extend(say![", and cut it with a hand saw or on a sled."].0);
            text
        }
        Remedy::Rip { tilt, to } if tilt.0 > 0.0 => say![
            "Rip it to ",
            *to,
            " on a table saw, the blade tilted ",
            *tilt,
            ", or plane the edge to that."
        ],
        Remedy::Rip { to, .. } => say!["Rip it to ", *to, " on a table saw, or plane the edge."],
        Remedy::TurnedWork { set, needs, reach } => say![
            "Turn the work: its end against an auxiliary fence, clamped, never held by hand, the saw at ",
            *set,
            ". The cut needs ",
            *needs,
            " of reach; the saw has ",
            *reach,
            " there."
        ],
        Remedy::NotOnThisSaw => say!["Not on this saw."],
    }
}

fn change(c: &ChangedInput) -> Text {
    let mut text = say![c.label, " ", Said::Instead(c.value, c.was)];
    text.0.extend(match c.through {
        Some(size) => say![" lets it through this saw: ", size, " wide."].0,
        None => say![" brings the cut to ", c.reading, "."].0,
    });
    for (path, was, is) in &c.effects {
        let name = answer_words(path);
        text.0.extend(say![format!(" Then {name} is "), Said::Instead(*is, *was), "."].0);
    }
    text
}

/// How a compound cut is marked with a tape and a square alone.
pub fn marking(a: &Advice) -> Vec<Text> {
    let Some(edge) = a.edge_tape_mark else {
        return Vec::new();
    };
    let face = if a.tape_mark.0 > 0.0 {
        say![
            "Square a line across the face from where the cut starts. On the far edge measure ",
            a.tape_mark,
            " from it, and join the start to that mark."
        ]
    } else {
        say!["Square the line across the face."]
    };
    vec![
        face,
        say![
            "Square a line down the edge from there. On its lower corner measure ",
            edge,
            " from it, and join."
        ],
        say![
            "The back and the other edge take the same lines, parallel. Saw on the waste side of all four."
        ],
    ]
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
    let mut out = Vec::new();
    match (a.lay(), &a.other_face) {
        (Some(Lay::Away), Some(o)) => out.extend([setting(a), stand(o.stand)]),
        (Some(_), _) => {
            out.extend([setting(a), position(a.position)]);
            if (a.miter.0 - a.set_miter.0).abs() > 1e-9 || (a.bevel.0 - a.set_bevel.0).abs() > 1e-9
            {
                out.push(gap(a));
            }
            out.extend(a.stop_block.as_ref().map(stop_block));
            out.extend(flat(a));
        }
        (None, _) => out.extend(a.fit.misfits.iter().map(misfit)),
    }
    out
}

/// The same cut with the wide side on the table, where it is the thickness that is drawn.
fn flat(a: &Advice) -> Option<Text> {
    let o = a.other_face.as_ref().filter(|o| o.fit.possible())?;
    let thin = a.fit.height.is_some_and(|h| h > a.fit.width);
    let slanted = a.miter.0 > 0.0 || a.bevel.0 > 0.0;
    let mut text = say!["Or with its wide side on the table: "];
    text.0.extend(other_setting(o).0);
    text.0.extend(say![" "].0);
    text.0.extend(stand(o.stand).0);
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
    out.extend(p.short_piece.as_ref().map(short_piece));
    out
}

/// Edge of the drawing in one word.
pub fn edge(e: Edge) -> &'static str {
    match e {
        Edge::A => "lower edge",
        Edge::B => "upper edge",
    }
}

/// Keys whose plain words say too little, or say it as a program does.
const WORDS: [(&str, &str); 13] = [
    ("left_from_point", "left edge, from the point to shoulder"),
    ("left_from_edge_end", "left edge, from its end to shoulder"),
    ("right_from_point", "right edge, from the point to shoulder"),
    ("right_from_edge_end", "right edge, from its end to shoulder"),
    ("on_face_F", "on the front face"),
    ("on_face_S", "on the side face"),
    ("toe_out_x", "toe out, seen from the front"),
    ("toe_out_y", "toe out, seen from the side"),
    ("crossing_acute_deg", "crossing angle"),
    ("resultant_deg", "resultant splay"),
    ("dihedral_deg", "angle between the boards"),
    ("bounding_width", "greatest width"),
    ("larger_by_ratio", "times as long to read half a degree"),
];

/// The words for an answer's key: `long_point_length` reads "long point", `brace_1.lap_length`
/// reads "brace 1, lap", `centres.0` reads "center 1", the corner `corners.1.0` "corner 2, across".
pub fn answer_words(path: &str) -> String {
    let mut all = String::new();
    let mut counted = false;
    for key in path.split(['.', '[', ']']).filter(|k| !k.is_empty()) {
        // Lists count from one; a list in a list is a point.
        if let Ok(place) = key.parse::<u32>() {
            match (counted, place) {
                (true, 0) => all.push_str(", across"),
                (true, _) => all.push_str(", up"),
                _ => {
                    if all.ends_with('s') {
                        all.pop();
                    }
                    all.push_str(&format!(" {}", place.saturating_add(1)));
                }
            }
            counted = true;
            continue;
        }
        counted = false;
        if !all.is_empty() {
            all.push_str(", ");
        }
        if let Some((_, words)) = WORDS.iter().find(|(k, _)| *k == key) {
            all.push_str(words);
            continue;
        }
        let short = ["_deg", "_length", "_kg", "_N", "_n"]
            .iter()
            .fold(key, |k, end| k.strip_suffix(end).unwrap_or(k));
        for (i, word) in short.split('_').enumerate() {
            if i > 0 {
                all.push(' ');
            }
            match word {
                "a" => all.push('A'),
                "b" => all.push('B'),
                w => all.push_str(&w.replace("mitre", "miter").replace("centre", "center")),
            }
        }
    }
    all
}
