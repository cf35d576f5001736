//! How a piece lies for a cut, where the stop goes and what is ripped afterwards, in words: the same on the
//! card, on paper, in the copied text and at the door.

use super::advice::{Advice, Lay};
use super::on_edge::Stand;
use super::position::Position;
use super::stop_block::{Plus, StopBlock};
use crate::parts::{End, Ripped, Sides};
use offsquare_units::{Text, say};

/// How the piece lies or stands for a cut: which face is up, which edge at the fence, which way its end
/// points. Everywhere that a cut is told, it is told with these words.
pub fn lies(a: &Advice) -> Text {
    match (a.lay(), &a.other_face) {
        (Some(Lay::Away), Some(o)) => stand(o.stand, a),
        _ => position(a.position, a),
    }
}

/// Where the end at the blade points: "the foot to the left".
fn points(a: &Advice, turned: bool) -> String {
    let right = (a.end == End::Right) != turned;
    format!("the {} to the {}", a.sides.end(a.end), if right { "right" } else { "left" })
}

/// Lying on the table: "Turn it end for end: outside up, the bottom edge at the fence, the left end to the right."
fn position(p: Position, a: &Advice) -> Text {
    let first = match p {
        Position::AsDrawn => "Lay it as drawn",
        Position::EndOverEnd => "Flip it end over end",
        Position::EndForEnd => "Turn it end for end",
        Position::RolledOver => "Roll it over",
    };
    let edge = p.fence_edge().name(&a.sides);
    let up = face_up(p, &a.sides);
    say!(format!("{first}: {up}, the {edge} at the fence, {}.", points(a, p.turned())))
}

/// "outside up"
pub fn face_up(p: Position, sides: &Sides) -> String {
    format!("{} {}", sides.face, if p.seen_face_up() { "up" } else { "down" })
}

/// Standing on its edge, where the drawn face cannot lie on the table.
pub(super) fn stand(s: Stand, a: &Advice) -> Text {
    say!(format!(
        "Stand it on its {}: {}, {}.",
        s.down.name(&a.sides),
        face_stands(s, &a.sides),
        points(a, s.turned())
    ))
}

/// "the outside against the fence"
fn face_stands(s: Stand, sides: &Sides) -> String {
    format!(
        "the {} {}",
        sides.face,
        if s.face_at_fence { "against the fence" } else { "toward you" }
    )
}

/// Which side of it a picture from above shows.
pub fn stands(s: Stand, sides: &Sides) -> String {
    format!("on edge, {}", face_stands(s, sides))
}

/// What a later rip leaves of a board that is drawn as it is before, and what holds only until then.
pub fn ripped(r: &Ripped, sides: &Sides) -> Text {
    say!(
        "Cut the ends before ripping: the board is drawn at its rough width. Then rip both edges \
         at {}; that leaves {}{}",
        r.tilt,
        r.leaves,
        format!(
            " over the {}. Paper folded over an edge and marks on the edge hold only before that.",
            sides.face
        )
    )
}

/// Where the stop goes, and what that is made of.
pub fn stop_block(s: &StopBlock) -> Text {
    let mut text = say!("Stop block: {} ", s.setting);
    text.0.extend(stop_reaches(s).0);
    text
}

/// From where to where a stop's figure goes, and what it is made of: "from the stop to the kerf at the fence (edge 44
/// and the stopped end's tape mark 1 9/16)."
pub fn stop_reaches(s: &StopBlock) -> Text {
    let mut text = say!("from the stop to the kerf at the fence");
    if let Some(upper) = s.on_upper {
        text.extend(say!(", on the table; {} on the upper face", upper));
    }
    let plus = match s.plus_is {
        Plus::Nothing => return text.and("."),
        Plus::TapeMark => say!(" and the stopped end's tape mark {}).", s.plus),
        Plus::PointAhead => say!(" and {} that the stopped point stands ahead).", s.plus),
        Plus::Overhang => say!(" and {} that the stopped end reaches past it).", s.plus),
    };
    text.extend(say!(" (edge {}", s.fence_edge));
    text.extend(plus);
    text
}
