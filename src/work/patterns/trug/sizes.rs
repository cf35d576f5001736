//! A trug's sizes, and what cannot be of them besides what the layout says.

use super::super::pattern::needed;
use super::super::sticks::past;
use offsquare_cuts::inputs::{Inputs, Missing};
use offsquare_cuts::layouts::Refused;
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Point, dot};
use offsquare_units::{Length, say};

/// A trug; inches. An end's middle stands on x = 0.
pub struct Made {
    pub base: f64,
    pub top: f64,
    pub height: f64,
    pub shoulder: f64,
    pub end: f64,
    pub length: f64,
    pub side: f64,
    pub floor: f64,
    pub handle: &'static str,
    pub handle_size: f64,
    /// Thickness of a handle that is a strip.
    pub strip: f64,
    pub divider: f64,
}

impl Made {
    pub fn read(inputs: &Inputs) -> Result<Made, Missing> {
        let [base, top, height, shoulder, length] =
            needed(inputs, ["base_width", "top_width", "height", "shoulder_height", "length"])?;
        let [end, side, floor, divider] = needed(
            inputs,
            ["end_thickness", "side_thickness", "floor_thickness", "divider_height"],
        )?;
        let [handle_size, strip] = needed(inputs, ["handle_size", "handle_thickness"])?;
        let handle = inputs.choice("handle").unwrap_or("none");
        Ok(Made {
            base,
            top,
            height,
            shoulder,
            end,
            length,
            side,
            floor,
            handle,
            handle_size,
            strip,
            divider,
        })
    }

    pub fn flares(&self) -> bool {
        self.top > self.base
    }
    /// Half an end's width at a height above its base.
    pub fn half_at(&self, z: f64) -> f64 {
        let share = ((z - self.shoulder) / (self.height - self.shoulder)).clamp(0.0, 1.0);
        (self.base + (self.top - self.base) * share) / 2.0
    }
    /// Where the handle begins, seen from below.
    pub fn handle_bottom(&self) -> f64 {
        match self.handle {
            "dowel" => self.height - 2.0 * self.handle_size,
            "strip" => self.height - self.handle_size,
            _ => self.height,
        }
    }

    /// What the layout does not know of: the handle, and a floor across an inside corner.
    pub fn check(&self) -> Result<(), Refused> {
        let refused = |key: &'static str, words: &'static str, limit: f64| {
            Err(Problem::at_limit(key, words, Length(limit)).into())
        };
        if self.flares() && self.shoulder > 0.0 && self.floor > self.shoulder {
            let words = "Where the sides flare out the floor must end at the shoulder: at most {}.";
            return refused("floor_thickness", words, self.shoulder);
        }
        if self.handle_bottom() < self.floor {
            let free = self.height - self.floor;
            let most = if self.handle == "dowel" { free / 2.0 } else { free };
            return refused(
                "handle_size",
                "The handle would reach into the floor: at most {}.",
                most,
            );
        }
        if self.divider > self.handle_bottom() {
            let words = "The divider must end below the handle: at most {}.";
            return refused("divider_height", words, self.handle_bottom());
        }
        match self.handle {
            "dowel" if self.beside(self.handle_size) <= 0.0 => {
                let most = self.thickest_dowel();
                if most < 1e-9 * self.height {
                    let text = say!("These ends have no room for a dowel below their top.");
                    return Err(Problem::stop("handle", text).into());
                }
                refused("handle_size", "The ends need wood beside the dowel: less than {}.", most)
            }
            "strip" => {
                // It is tightest at its top, or where the sides flare out at its lower edge.
                let at = if self.flares() { self.handle_bottom() } else { self.height };
                if 2.0 * self.half_at(at) >= self.strip * (1.0 - 1e-12) {
                    return Ok(());
                }
                let share = ((at - self.shoulder) / (self.height - self.shoulder)).max(0.0);
                let (key, least) = match self.flares() {
                    true => ("base_width", (self.strip - self.top * share) / (1.0 - share)),
                    false => ("top_width", self.strip),
                };
                let (strip, least) = (Length(self.strip), Length(least));
                let text = say!(
                    "The sides leave no room for a strip {} thick: at least {}.",
                    strip,
                    least
                );
                Err(past(key, text, least).into())
            }
            _ => Ok(()),
        }
    }

    /// Wood between a dowel of that diameter and the nearest place of an end's sloping or upright edge.
    fn beside(&self, diameter: f64) -> f64 {
        let middle = Point::new(0.0, self.height - 1.5 * diameter);
        let right = |z| Point::new(self.half_at(z), z);
        let edges =
            [(right(0.0), right(self.shoulder)), (right(self.shoulder), right(self.height))];
        let away = edges.map(|(a, b)| {
            let (along, to) = (b - a, middle - a);
            let long = dot(along, along);
            let share = if long > 0.0 { dot(to, along) / long } else { 0.0 };
            (a + along * share.clamp(0.0, 1.0) - middle).length()
        });
        away[0].min(away[1]) - diameter / 2.0
    }

    /// The diameter at which no wood is left beside the dowel, by halving: a thicker one lies lower, too.
    fn thickest_dowel(&self) -> f64 {
        let (mut fits, mut not) = (0.0, self.handle_size);
        for _ in 0..100 {
            let middle = (fits + not) / 2.0;
            if self.beside(middle) > 0.0 {
                fits = middle;
            } else {
                not = middle;
            }
        }
        fits
    }
}
