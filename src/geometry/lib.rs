//! Points, lines, polygons and solids, all in inches, y up (and z up in space).

pub mod scene;

mod body;
mod plane;
mod space;

pub use body::{Body, Plane, ROUND_SIDES};
pub use plane::{Line, Point, Polygon, Vector, cross, dot};
pub use space::{Point3, Solid, Vector3};
