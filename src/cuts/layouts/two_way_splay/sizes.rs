//! A leg's and a stretcher's sizes, as they are read.

use crate::inputs::{Inputs, Missing};
use crate::problem::Problem;
use offsquare_units::{Angle, Length, num};

/// A leg's leans and stock, checked.
#[derive(Clone, Copy, Debug)]
pub struct Leg {
    pub front: Angle,
    pub side: Angle,
    pub section: Length,
    pub height: Length,
    pub roll: &'static str,
}

/// Toe to toe on the floor and at the top.
#[derive(Clone, Copy, Debug)]
pub struct Sizes {
    pub footprint: (Length, Length),
    pub top: (Length, Length),
}

impl Sizes {
    pub fn narrowest_footprint(self) -> Length {
        self.footprint.0.min(self.footprint.1)
    }
    pub fn wide(self) -> Across {
        Across { foot: self.footprint.0, top: self.top.0, keys: ("footprint_width", "top_width") }
    }
    pub fn deep(self) -> Across {
        Across { foot: self.footprint.1, top: self.top.1, keys: ("footprint_depth", "top_depth") }
    }
    /// A lean is half of what the footprint is wider, over the height; inward legs are none of ours.
    pub fn lean(across: &Across, height: Length) -> Result<Angle, Problem> {
        let out = (across.foot.0 - across.top.0) / 2.0;
        if out < 0.0 {
            return Err(Problem::at_limit(
                across.keys.0,
                "The feet must stand at least as far apart as the top, {}.",
                across.top,
            ));
        }
        Ok(Angle(num::atan2_deg(out, height.0)))
    }
}

pub fn read_sizes(inputs: &Inputs) -> Result<Sizes, Missing> {
    let l = |key| inputs.need(key).map(Length);
    Ok(Sizes {
        footprint: (l("footprint_width")?, l("footprint_depth")?),
        top: (l("top_width")?, l("top_depth")?),
    })
}

/// Toe to toe on the floor and at the top, with their fields.
pub struct Across {
    pub foot: Length,
    pub top: Length,
    pub keys: (&'static str, &'static str),
}

/// A stretcher's place and section, checked.
#[derive(Clone, Copy, Debug)]
pub struct Stretcher {
    pub front: Length,
    pub side: Length,
    pub height: Length,
    pub width: Length,
    pub thickness: Length,
    pub which: &'static str,
}

pub fn read_stretcher(inputs: &Inputs) -> Result<Stretcher, Missing> {
    let l = |key| inputs.need(key).map(Length);
    Ok(Stretcher {
        front: l("axis_spacing_front_at_top")?,
        side: l("axis_spacing_side_at_top")?,
        height: l("stretcher_height")?,
        width: l("stretcher_width")?,
        thickness: l("stretcher_thickness")?,
        which: inputs.choice("which").unwrap_or("front"),
    })
}
