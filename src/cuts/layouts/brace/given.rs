//! One strip in a rectangular opening: its answers, its cuts' names, how wide it may be.

use super::landing::Landing;
use crate::layouts::{Answers, Caution};
use crate::parts::{CutName, Part};
use crate::problem::Problem;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Text, num, say};

/// A rectangle and a strip, inches.
#[derive(Clone, Copy, Debug)]
pub struct Given {
    pub w: f64,
    pub h: f64,
    pub s: f64,
    pub thickness: Option<Length>,
}

/// Where a brace's answers stand in the reply: by themselves or in a group of a crossed pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    Alone,
    First,
    Second,
    /// The lower half of a second brace in halves, or either where they are alike.
    Half,
    UpperHalf,
}

/// Past this reading most saws stop (common practice: 45 to 52 on one side).
const STEEP: f64 = 50.0;

/// What to mind at braces that land so: steep cuts, and the point of one whose edge lies on the diagonal.
pub fn cautions(landing: Landing, parts: &[Part]) -> Vec<Caution> {
    let mut all = Vec::new();
    if parts.iter().flat_map(|p| &p.cuts).any(|c| c.miter.0 > STEEP) {
        all.push(Caution::SteepCut);
    }
    if landing.ends_differ() {
        all.push(Caution::SteepPoint);
    }
    all
}

/// The width at which a landing stops being possible (GEOMETRY 2).
pub fn widest(g: Given, landing: Landing) -> f64 {
    let d = num::hypot(g.w, g.h);
    match landing {
        Landing::Corner => 2.0 * ((g.w / d) * g.h),
        Landing::Rails => g.w,
        Landing::Stiles => g.h,
        Landing::Edge { .. } => (g.w / d) * g.h,
    }
}

pub fn too_wide(
    landing: Landing,
    of_what: &'static str,
    limit: Length,
    key: &'static str,
) -> Problem {
    let text = say!(
        "{}: the strip is too wide {}. It must be narrower than {}.",
        landing.title(),
        of_what,
        limit
    );
    Problem::stop(key, text).with_limit(limit).of_way(landing.key())
}

/// Which way the strip runs: the level and upright parts of one inch along it.
///
/// On the rails W sin f = H cos f + s, on the stiles H cos f = W sin f + s. The part that can
/// vanish is written without a difference of like numbers, so that a strip just under its limit is as exact as
/// any other.
pub fn run_and_rise(g: Given, landing: Landing) -> (f64, f64) {
    let Given { w, h, s, .. } = g;
    let d = num::hypot(w, h);
    let root = num::sqrt((d - s) * (d + s));
    // Shares of d, so that no square overflows.
    let (w, h, s, root) = (w / d, h / d, s / d, root / d);
    match landing {
        Landing::Corner | Landing::Edge { .. } => (w, h),
        Landing::Rails => ((w - s) * (w + s) / (w * root + h * s), h * root + w * s),
        Landing::Stiles => (w * root + h * s, (h - s) * (h + s) / (h * root + w * s)),
    }
}

/// The closed forms of GEOMETRY 2; the strip must be narrower than [`widest`].
pub fn answers(g: Given, landing: Landing) -> Answers {
    let Given { w, h, s, .. } = g;
    let d = num::hypot(w, h);
    let (run, rise) = run_and_rise(g, landing);
    let (slope, off_square) = (num::atan2_deg(rise, run), num::atan2_deg(run, rise));
    // s / tan t and s · tan t, in an order in which nothing overflows.
    let (s_cot, s_tan) = (s / h * w, s / w * h);
    let mut a = Answers::new();
    a.angle("slope_to_rail_deg", slope);
    match landing {
        Landing::Corner => {
            a.angle("reading_rail_cut_deg", off_square)
                .angle("reading_stile_cut_deg", slope)
                .length("facet_on_rail", s / h * d / 2.0)
                .length("facet_on_stile", s / w * d / 2.0)
                .length("point_to_point", d)
                .length("edge_length", d - (s_tan + s_cot) / 2.0)
                .length("point_ahead_of_rail_facet_end", s_cot / 2.0)
                .length("point_ahead_of_stile_facet_end", s_tan / 2.0);
        }
        Landing::Rails | Landing::Stiles => {
            let (reading, edge, lean, cut) = if landing == Landing::Rails {
                (off_square, h / rise, s * (run / rise), s / rise)
            } else {
                (slope, w / run, s * (rise / run), s / run)
            };
            a.angle("reading_deg", reading)
                .length("edge_length", edge)
                .length("long_point_length", num::sqrt((d - s) * (d + s)))
                .length("short_point_length", edge - lean)
                .length("tip_to_tip_straight", d)
                .length("end_cut_length", cut);
        }
        Landing::Edge { .. } => {
            let short = d - (s_tan + s_cot);
            a.angle("reading_rail_cut_deg", off_square)
                .angle("reading_stile_cut_deg", slope)
                .length("long_edge_length", d)
                .length("short_edge_length", short)
                .length("long_point_length", d)
                .length("short_point_length", short)
                .length("facet_on_rail", s / h * d)
                .length("facet_on_stile", s / w * d);
        }
    }
    a
}

/// Which answer a cut's reading is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum On {
    Rail,
    Stile,
    /// Both ends alike.
    Both,
}

fn path(place: Place, on: On) -> &'static str {
    match (place, on) {
        (Place::Alone, On::Rail) => "reading_rail_cut_deg",
        (Place::Alone, On::Stile) => "reading_stile_cut_deg",
        (Place::Alone, On::Both) => "reading_deg",
        (Place::First, On::Rail) => "brace_1.reading_rail_cut_deg",
        (Place::First, On::Stile) => "brace_1.reading_stile_cut_deg",
        (Place::First, On::Both) => "brace_1.reading_deg",
        (Place::Second, On::Rail) => "brace_2.reading_rail_cut_deg",
        (Place::Second, On::Stile) => "brace_2.reading_stile_cut_deg",
        (Place::Second, On::Both) => "brace_2.reading_deg",
        (Place::Half, On::Rail) => "half.reading_rail_cut_deg",
        (Place::Half, On::Stile) => "half.reading_stile_cut_deg",
        (Place::Half, On::Both) => "half.reading_deg",
        (Place::UpperHalf, On::Rail) => "upper_half.reading_rail_cut_deg",
        (Place::UpperHalf, On::Stile) => "upper_half.reading_stile_cut_deg",
        (Place::UpperHalf, On::Both) => "upper_half.reading_deg",
    }
}

/// What the end cuts are called, lower end first, each end from edge A to edge B, of a strip that runs
/// from lower left to upper right; for the second of a crossed pair from lower right to upper left.
pub fn cut_names(landing: Landing, place: Place) -> Vec<CutName> {
    const LOWER_RAIL: &str = "Lower end, on the rail";
    const LOWER_STILE: &str = "Lower end, on the stile";
    const UPPER_RAIL: &str = "Upper end, on the rail";
    const UPPER_STILE: &str = "Upper end, on the stile";
    let mut list = match landing {
        Landing::Corner => vec![
            (LOWER_RAIL, On::Rail),
            (LOWER_STILE, On::Stile),
            (UPPER_STILE, On::Stile),
            (UPPER_RAIL, On::Rail),
        ],
        Landing::Rails => vec![(LOWER_RAIL, On::Both), (UPPER_RAIL, On::Both)],
        Landing::Stiles => vec![(LOWER_STILE, On::Both), (UPPER_STILE, On::Both)],
        Landing::Edge { above: false } => vec![(LOWER_RAIL, On::Rail), (UPPER_STILE, On::Stile)],
        Landing::Edge { above: true } => vec![(LOWER_STILE, On::Stile), (UPPER_RAIL, On::Rail)],
    };
    if landing == Landing::Corner && !matches!(place, Place::Alone | Place::First) {
        // The mirror image meets the stile with its edge A.
        list.swap(0, 1);
        list.swap(2, 3);
    }
    list.into_iter().map(|(name, on)| CutName { name, miter_key: Some(path(place, on)) }).gather()
}

/// How the numbers come about, each step by hand.
pub fn derivation(g: Given, landing: Landing) -> Vec<Text> {
    let d = num::hypot(g.w, g.h);
    let t = num::atan2_deg(g.h, g.w);
    let (run, rise) = run_and_rise(g, landing);
    let (slope, off_square) = (num::atan2_deg(rise, run), num::atan2_deg(run, rise));
    let mut out = vec![say!(
        "The diagonal is √(width² + height²) = {} long and rises at {}.",
        Length(d),
        Angle(t)
    )];
    match landing {
        Landing::Corner => {
            out.push(say!(
                "The strip lies centered on it. Off square, the cut on the rail reads 90° less \
                 that, {}; the cut on the stile {}.",
                Angle(off_square),
                Angle(slope)
            ));
            out.push(say!(
                "Each edge is shorter than the diagonal by half the width × (tan + 1/tan of the \
                 slope): {}.",
                Length((g.s / g.w * g.h + g.s / g.h * g.w) / 2.0)
            ));
        }
        Landing::Rails | Landing::Stiles => {
            let (steeper, reading, over) = if landing == Landing::Rails {
                (" steeper", off_square, "height ÷ sin of the slope")
            } else {
                (" flatter", slope, "width ÷ cos of the slope")
            };
            let edge = if landing == Landing::Rails { g.h / rise } else { g.w / run };
            out.push(say!(
                "Between two corners the strip runs asin(strip ÷ diagonal) = {}{}: it rises at {}.",
                Angle((slope - t).abs()),
                steeper,
                Angle(slope)
            ));
            out.push(say!("Off square both ends read {}.", Angle(reading)));
            out.push(say!("Either edge is {} = {} long.", over, Length(edge)));
        }
        Landing::Edge { .. } => {
            out.push(say!(
                "One edge lies on it. Off square, the cut on the rail reads 90° less that slope, \
                 {}; the cut on the stile {}.",
                Angle(off_square),
                Angle(slope)
            ));
            out.push(say!(
                "The other edge is shorter by the width × (tan + 1/tan of the slope): {}.",
                Length(g.s / g.w * g.h + g.s / g.h * g.w)
            ));
        }
    }
    out
}
