//! Laps and notches in words.

use super::lap::LapAdvice;
use super::wording::side as side_word;
use crate::parts::{Lap, Side};
use offsquare_units::{Length, Text, say};

/// "Half lap in the back, 3/8 in deep".
pub fn lap_title(lap: &Lap) -> Text {
    let face = if lap.in_back { "back" } else { "front" };
    let title = say!(format!("{} in the {face}, ", lap.name));
    match lap.depth {
        Some(depth) => title.and(depth).and(" deep"),
        None => title.and("half the thickness deep"),
    }
}

/// What becomes of the wood, and on which side of the lines.
pub fn lap_falls_out(lap: &Lap) -> Text {
    lap_title(lap).and(": between the two lines the wood falls out, outside them it stays.")
}

/// All that is said of a lap, in the order in which it is made.
pub fn lap_in_words(a: &LapAdvice) -> Vec<Text> {
    let along = |text: Text, which: &str, at: [Length; 2]| {
        text.and(at[0]).and(" and ").and(at[1]).and(format!(" along the {which} edge"))
    };
    let mut place = along(say!("Mark its shoulders at "), "lower", a.lower_edge);
    place.push(", and at ");
    place = along(place, "upper", a.upper_edge);
    place.push(", each measured from that edge\u{2019}s own left corner, and join them.");
    let mut out = vec![place];
    if a.lap.in_back {
        out.push(say!("Square the marks over both edges, and join them on the back."));
    }
    out.push(match (a.set, a.swing) {
        (Some(_), Side::Neither) => say!("Both shoulders are square: set the saw square."),
        (Some(set), side) => say!(
            "Both shoulders read {} off square: set the saw to {}{}",
            a.reading,
            set,
            format!(" {}, the face with the lap up.", side_word(side))
        ),
        (None, Side::Neither) => {
            say!("Both shoulders are square, on wood wider than this saw cuts: use a hand saw.")
        }
        (None, _) => say!(
            "Both shoulders read {} off square, past this saw: each runs {} along over {} across. \
             Use a hand saw.",
            a.reading,
            a.tape_mark,
            a.across
        ),
    });
    out.push(lap_falls_out(&a.lap));
    out.push(say!(if a.set.is_some() {
        "Saw just inside both lines to that depth, with the depth stop as your saw\u{2019}s manual says or with a hand saw; clear the rest with a chisel or a router."
    } else {
        "Saw just inside both lines to that depth, and clear the rest with a chisel or a router."
    }));
    out
}
