//! Wrap-around templates: rolled back onto the stock, every point of the line lies in the cut's plane.

use offsquare_cuts::parts::{CutName, Part, Side, StockShape};
use offsquare_cuts::saw::SawProfile;
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_paper::drawing::templates;
use offsquare_units::{Angle, Length, Style};
use std::f64::consts::PI;

/// The corners of the line to cut on, in order.
fn cut_line(scene: &Scene) -> Vec<Point> {
    let mut out = Vec::new();
    for item in &scene.items {
        if let Item::Line { from, to, role: Role::Cut } = item {
            if out.is_empty() {
                out.push(*from);
            }
            out.push(*to);
        }
    }
    out
}

fn round(corners: [(f64, f64); 4], seen: f64) -> Part {
    let p = |i: usize| Point::new(corners[i].0, corners[i].1);
    let name = CutName { name: "End", miter_key: None };
    let mut part = Part::stick(
        "Leg",
        Length(seen),
        Some(Length(seen)),
        &[p(0), p(1)],
        &[p(2), p(3)],
        &[name, name],
    );
    part.stock = StockShape::Round;
    part
}

/// Straight stock: the classic curve x = r·tan(m)·cos(φ), φ = y/r, about the middle of the cut.
#[test]
fn a_straight_stick_unrolls_to_a_cosine() {
    let (r, m) = (1.0_f64, 30.0_f64.to_radians());
    let run = 2.0 * r * m.tan();
    // Left end: its point toward you; right end square.
    let part = round([(0.0, 0.0), (run, 2.0 * r), (20.0, 0.0), (20.0, 2.0 * r)], 2.0 * r);
    let all = templates(&[part], &SawProfile::usual(), &Style::default());
    assert_eq!(all.len(), 1, "the square end needs none");
    let line = cut_line(&all[0].scene);
    assert!(line.len() > 90);
    let width = line[line.len() - 1].y - line[0].y;
    assert!((width - 2.0 * PI * r).abs() < 1e-12, "all the way around");
    for p in &line {
        // The seam lies toward you: y = 0 is the far side, where the cut reaches furthest in.
        let x = run / 2.0 + r * m.tan() * (p.y / r).cos();
        assert!((p.x - x).abs() < 1e-12, "{p:?}");
    }
}

/// Tapered stock: each point rolled back onto the cone by its distance from the apex and its share of
/// the ring lies on the plane through the cut's line, at right angles to the drawing.
#[test]
fn a_tapered_stick_rolls_back_onto_the_plane() {
    // 1 in across at x = 0, 2 in at x = 20; cut through (3, edge A) and (2, edge B).
    let (gain, middle) = (0.025_f64, 1.0_f64);
    let edge = |x: f64| 0.5 + gain * x;
    let part = round(
        [
            (3.0, middle - edge(3.0)),
            (2.0, middle + edge(2.0)),
            (20.0, middle - edge(20.0)),
            (20.0, middle + edge(20.0)),
        ],
        2.0,
    );
    // The part's frame starts at its least x.
    let shift = 2.0;
    let made = templates(&[part], &SawProfile::usual(), &Style::default());
    let line = cut_line(&made[0].scene);
    assert!(line.len() > 90);
    let half = gain.atan();
    let apex = -0.5 / gain - shift;
    // The sheet's own apex: on its middle line, as far from the far-side point as on the cone.
    let far = line[line.len() / 2];
    let on_cone = (2.0 - shift - apex) / half.cos();
    let center = Point::new(far.x - on_cone, 0.0);
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    for p in &line {
        let (dx, dy) = (p.x - center.x, p.y);
        let slant = dx.hypot(dy);
        let around = dy.atan2(dx) / half.sin();
        let x = apex + slant * half.cos() + shift;
        let u = edge(x) * around.cos(); // toward edge B on the far side
        let on_plane = 3.0 + (2.0 - 3.0) * (u + edge(3.0)) / (edge(2.0) + edge(3.0));
        assert!((x - on_plane).abs() < 1e-9, "{p:?}: {x} {on_plane}");
        (least, most) = (least.min(around), most.max(around));
    }
    assert!((most - least - 2.0 * PI).abs() < 1e-9);
}

/// A compound cut's template folds over the edge: folded, its line stays in the blade's plane.
///
/// The plane: swung left 20° the cut gains tan 20° along for every inch to the fence; leaning left 15°
/// it gains tan 15°/cos 20° for every inch down.
#[test]
fn a_compound_cut_folds_over_the_edge() {
    let (m, b) = (20.0_f64, 15.0_f64);
    let (across, down) = (m.to_radians().tan(), b.to_radians().tan() / m.to_radians().cos());
    let mut part = round([(0.0, 0.0), (3.0 * across, 3.0), (30.0, 0.0), (30.0, 3.0)], 3.0);
    part.stock = StockShape::Straight;
    part.away = Some(Length(1.5));
    part.cuts[0].bevel = Angle(b);
    part.cuts[0].lean = Side::Left;
    let all = templates(&[part], &SawProfile::usual(), &Style::default());
    assert_eq!(all.len(), 1);
    let cuts: Vec<(Point, Point)> = all[0]
        .scene
        .items
        .iter()
        .filter_map(|i| match i {
            Item::Line { from, to, role: Role::Cut } => Some((*from, *to)),
            _ => None,
        })
        .collect();
    assert_eq!(cuts.len(), 2, "on the face and down the edge");
    for p in cuts.iter().flat_map(|(a, b)| [a, b]) {
        let (y, depth) = (p.y.min(3.0), (p.y - 3.0).max(0.0));
        assert!((p.x - across * y - down * depth).abs() < 1e-12, "{p:?}");
    }
    assert!(cuts.iter().any(|(_, b)| (b.y - 4.5).abs() < 1e-12));
}
