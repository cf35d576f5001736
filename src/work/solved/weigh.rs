//! What a piece weighs, where its middle of mass is, and how much face it has to be finished.

use super::part::PiecePart;
use offsquare_cuts::assembly::measures;
use offsquare_geometry::{Point3, Vector3};
use offsquare_units::MM_PER_INCH;

/// Of a whole piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// None where a part's species is not known.
    pub kg: Option<f64>,
    /// All faces of all parts, joints included.
    pub surface_m2: f64,
    /// Inches, in the piece's frame, over the parts that stand in it; where no species is known, as if all
    /// were of one. None where nothing stands, or where only some species are known.
    pub middle: Option<Point3>,
}

/// Weighs the parts; `density`: kg/m³ of a part's wood, where it is known.
pub fn weigh(parts: &[PiecePart], density: &dyn Fn(&PiecePart) -> Option<f64>) -> Weighed {
    let meter = 1000.0 / MM_PER_INCH;
    let none_known = parts.iter().all(|p| density(p).is_none());
    let (mut kg, mut surface) = (Some(0.0), 0.0);
    let (mut mass, mut moment) = (Some(0.0), Vector3::default());
    for part in parts {
        let known = density(part);
        // What has no place is weighed as it lies on the saw.
        let lying = part.lying();
        let more = f64::from(part.qty) - part.bodies.len() as f64;
        let standing = part.bodies.iter().map(|body| (body, 1.0, true));
        let others = Some((&lying, more, false)).filter(|_| more > 0.0);
        for (body, each, stands) in standing.chain(others) {
            let Some((volume, area, middle)) = measures(body, &body.solid()) else { continue };
            let cubic = volume / (meter * meter * meter);
            surface += each * area / (meter * meter);
            kg = kg.zip(known).map(|(sum, density)| sum + each * cubic * density);
            let own = if none_known { Some(1.0) } else { known }.map(|d| d * cubic);
            if stands {
                mass = mass.zip(own).map(|(sum, m)| sum + m);
                moment = moment + (middle - Point3::default()) * own.unwrap_or(0.0);
            }
        }
    }
    let middle = mass.filter(|m| *m > 0.0).map(|m| Point3::default() + moment * (1.0 / m));
    Weighed { kg: kg.filter(|_| !parts.is_empty()), surface_m2: surface, middle }
}
