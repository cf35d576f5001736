//! The usual cautions and their words: short, and deferring to the saw's manual, local codes and
//! licensed practice. All of them can be read here in one sitting.

use super::{Seen, Source};
use offsquare_units::{Length, Text, say};

/// The usual cautions.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Caution {
    /// A piece too short to hold with the hand.
    ShortPiece,
    /// A cut steeper than the saw is usually swung.
    SteepCut,
    /// An end that runs out to a long, thin point.
    SteepPoint,
    /// Tapered or leaning stock that does not lie still against the fence.
    TaperedStock,
    RoundStock,
    /// Standing pieces may tip.
    TallStand,
    /// Loads on a shelf, hook or flap.
    Load,
    /// Blade tilted and swung at once.
    CompoundCut,
    /// A bevel along the board: a saw with a manual of its own.
    RippedEdge,
    /// A wide, short board whose slopes leave points.
    EndBoard,
    /// Someone stands on splayed legs, or hangs a load from them.
    SplayedLegs,
    /// Fingers near the cut of a lap or notch.
    LapCut,
    /// Hanging panel: fingers, falling weight.
    FallingPanel,
    /// What old wood hides.
    OldWood,
}

impl Caution {
    pub const ALL: [Caution; 14] = [
        Caution::ShortPiece,
        Caution::SteepCut,
        Caution::SteepPoint,
        Caution::TaperedStock,
        Caution::RoundStock,
        Caution::TallStand,
        Caution::Load,
        Caution::CompoundCut,
        Caution::RippedEdge,
        Caution::EndBoard,
        Caution::SplayedLegs,
        Caution::LapCut,
        Caution::FallingPanel,
        Caution::OldWood,
    ];
}

/// Distance that hands keep from the blade's path.
const HANDS_OFF: Length = Length::inches(6.0);

/// What a caution says.
pub fn caution(c: Caution) -> Text {
    match c {
        Caution::ShortPiece => say!(
            "Short piece: keep hands {} from the blade. Cut it from a longer stick, or clamp it. \
             Your saw's manual has the last word.",
            HANDS_OFF
        ),
        Caution::SteepCut => say!(
            "Steep cut: clamp the work, never hold it by hand, and stop if your saw's manual does \
             not allow it. A hand saw does it too."
        ),
        Caution::SteepPoint => say!(
            "One end runs out to a long, thin point: it is sharp, splits easily, and can be caught \
             by the blade. Clamp it, make that cut slowly, and pre-drill before you nail near it."
        ),
        Caution::TaperedStock => say!(
            "Tapered stock rocks: shim or pack it so that it lies still, clamp it, and try the cut \
             on scrap."
        ),
        Caution::RoundStock => {
            say!("Round stock rolls: lay it in a V-cradle and clamp it, never hold it by hand.")
        }
        Caution::TallStand => say!(
            "Tall pieces tip: fix it to the wall or widen its feet, and try it loaded before \
             anyone relies on it. Local codes and a licensed builder have the last word."
        ),
        Caution::Load => say!(
            "What it carries is an estimate: load it slowly, and where people are under it ask a \
             licensed builder or engineer."
        ),
        Caution::CompoundCut => say!(
            "Blade swung and tilted: setting the second angle can move the first. Check both, keep \
             hands clear of the falling side, and cut scrap first."
        ),
        Caution::RippedEdge => say!(
            "Rips along the board are for a table saw: its own manual has the last word. Guard and \
             riving knife on, a push stick near the blade, and a tilted blade away from the fence."
        ),
        Caution::EndBoard => say!(
            "A wide, short board twists against the blade: clamp it, keep hands {} off, and let \
             the pointed offcut fall free. Your saw's manual has the last word.",
            HANDS_OFF
        ),
        Caution::SplayedLegs => say!(
            "Someone may stand on it or hang a load from it: splayed legs push apart, and end \
             grain holds nothing. Load it slowly before anyone relies on it. Local codes and a \
             licensed builder have the last word."
        ),
        Caution::LapCut => say!(
            "Cutting to a depth: set the stop as your saw's manual says, clamp the work, and keep \
             hands {} off. A saw without a depth stop is not for this.",
            HANDS_OFF
        ),
        Caution::FallingPanel => say!(
            "A panel that folds down falls: fit a stay or chain before the hinge bears, and keep \
             fingers out of the gap."
        ),
        Caution::OldWood => say!(
            "Old wood hides nails, old paint may hold lead, treated wood holds poison: look it \
             over, wear a dust mask, do not burn it. Local rules have the last word."
        ),
    }
}

/// Where a caution comes from.
pub fn caution_source(c: Caution) -> Source {
    let manual = |title, place| Source { title, edition: "", place, seen: Seen::Read };
    let practice =
        Source { title: "Common practice", edition: "", place: "", seen: Seen::Practice };
    match c {
        Caution::ShortPiece => manual(
            "Operator's manual no. CM12SD, compound miter saw",
            "p. 29 (hands 6 in from the blade path)",
        ),
        Caution::SteepCut => manual(
            "Operator's manual no. 315.21212, 10-in compound miter saw",
            "never freehand; do not cut pieces too small to clamp",
        ),
        Caution::CompoundCut => manual(
            "Operator's manual no. TSS121, compound miter saw",
            "p. 32 (recheck both angles; test cut in scrap)",
        ),
        Caution::OldWood => Source {
            title: "Reclaimed wood: lead paint before 1978, hidden nails, stamped pallets; treated wood: EPA consumer information sheet",
            edition: "",
            place: "",
            seen: Seen::Memory,
        },
        Caution::SteepPoint
        | Caution::TaperedStock
        | Caution::RoundStock
        | Caution::TallStand
        | Caution::Load
        | Caution::RippedEdge
        | Caution::EndBoard
        | Caution::SplayedLegs
        | Caution::LapCut
        | Caution::FallingPanel => practice,
    }
}

/// What is said once for all work at a miter saw.
pub const GENERAL: [&str; 5] = [
    "Your saw's own manual comes first.",
    "Guards on; eyes, ears and dust looked after.",
    "Work against fence and table, never freehand, never with crossed arms.",
    "Let the blade stop before you raise it: a cutoff resting on it can be thrown.",
    "Measure the stock you bought, and try each setting on scrap.",
];
