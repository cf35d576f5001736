//! Where saws click.

use super::{Fact, Seen, Source};
use offsquare_units::Angle;

/// Click stops of the miter scale, each both ways.
pub const MITER_STOPS: Fact<&[Angle]> = Fact {
    value: &[Angle(0.0), Angle(15.0), Angle(22.5), Angle(31.6), Angle(45.0)],
    source: Source {
        title: "Operator's manual no. CM12SD, compound miter saw",
        edition: "",
        place: "miter detents",
        seen: Seen::Read,
    },
};

/// Stops of the bevel scale. 33.9° is the bevel of 38° crown molding lying flat.
pub const BEVEL_STOPS: Fact<&[Angle]> = Fact {
    value: &[Angle(0.0), Angle(33.9), Angle(45.0)],
    source: Source { title: "Common practice", edition: "", place: "", seen: Seen::Practice },
};
