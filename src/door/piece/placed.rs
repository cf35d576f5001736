//! Each single part where it stands.

use crate::write::number;
use offsquare_geometry::{Point3, Solid};
use offsquare_units::{DoorUnit, Length};
use offsquare_work::solved::PiecePart;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// A place in the piece's frame.
pub fn point(p: Point3, unit: DoorUnit) -> Value {
    json!([p.x, p.y, p.z].map(|n| number(unit.value(Length(n)))))
}

/// All bodies of all parts: `part` is the part's number.
pub fn write(parts: &[PiecePart], unit: DoorUnit) -> Value {
    let mut out = Vec::new();
    for (i, part) in parts.iter().enumerate() {
        for body in &part.bodies {
            let (corners, faces) = numbered(&body.solid());
            let vertices: Vec<Value> = corners.into_iter().map(|p| point(p, unit)).collect();
            let mut one = json!({"part": i, "vertices": vertices, "faces": faces});
            if let Some(diameters) = body.round {
                one["round"] = json!(diameters.map(|d| number(unit.value(Length(d)))));
            }
            out.push(one);
        }
    }
    out.into()
}

/// Corners once, and faces as their numbers.
fn numbered(solid: &Solid) -> (Vec<Point3>, Vec<Vec<usize>>) {
    let mut corners: Vec<Point3> = Vec::new();
    let mut known = BTreeMap::new();
    let mut number = |p: &Point3| {
        *known.entry([p.x, p.y, p.z].map(f64::to_bits)).or_insert_with(|| {
            corners.push(*p);
            corners.len() - 1
        })
    };
    let faces = solid.faces.iter().map(|f| f.iter().map(&mut number).collect()).collect();
    (corners, faces)
}
