//! The root finder against functions whose zeros are known in closed form.

use offsquare_units::num::{edge_between, least_between, root_between, roots};

fn grid(from: f64, to: f64, n: u32) -> Vec<f64> {
    (0..=n).map(|i| from + (to - from) * f64::from(i) / f64::from(n)).collect()
}

/// Within one unit in the last place.
fn beside(found: f64, exact: f64) -> bool {
    (found - exact).abs() <= f64::EPSILON * exact.abs()
}

#[test]
fn simple_zeros_are_right_to_the_last_bit() {
    // x² = 2, cos x = 0, eˣ = 10: the exact values are the standard library's constants.
    let two = root_between(&mut |x| Some(x * x - 2.0), 0.0, 2.0);
    assert!(two.is_some_and(|x| beside(x, std::f64::consts::SQRT_2)));
    let half_turn = root_between(&mut |x: f64| Some(x.cos()), 1.0, 2.0);
    assert!(half_turn.is_some_and(|x| beside(x, std::f64::consts::FRAC_PI_2)));
    let ten = root_between(&mut |x: f64| Some(x.exp() - 10.0), 0.0, 5.0);
    assert!(ten.is_some_and(|x| beside(x, std::f64::consts::LN_10)));
}

#[test]
fn a_high_power_and_a_cube_root_do_not_stall_it() {
    // Both are hard for plain secant steps: a zero of the ninth order, and one with an upright tangent.
    let flat = root_between(&mut |x: f64| Some((x - 0.3).powi(9)), -1.0, 1.0);
    // The ninth power of anything nearer than 1e-36 is 0 in binary numbers; so near is right.
    assert!(flat.is_some_and(|x| (x - 0.3).abs() < 1e-30));
    let steep = root_between(&mut |x: f64| Some((x - 0.3).cbrt()), -1.0, 1.0);
    assert!(steep.is_some_and(|x| beside(x, 0.3)));
}

#[test]
fn all_zeros_are_found_and_no_others() {
    // sin x from -10 to 10: 0, ±π, ±2π, ±3π.
    let found = roots(&mut |x: f64| Some(x.sin()), &grid(-10.0, 10.1, 37), 1e-9);
    let expected: Vec<f64> = (-3..=3).map(|k| f64::from(k) * std::f64::consts::PI).collect();
    assert_eq!(found.at.len(), expected.len(), "{found:?}");
    for (f, e) in found.at.iter().zip(&expected) {
        assert!((f - e).abs() <= 4.0 * f64::EPSILON * e.abs().max(1.0));
    }
}

#[test]
fn a_touching_zero_and_a_near_double_one_are_caught() {
    let touch = roots(&mut |x: f64| Some((x - 1.234).powi(2)), &grid(0.0, 3.0, 11), 1e-9);
    assert_eq!(touch.at.len(), 1, "{touch:?}");
    // A parabola tells its lowest place to half the digits only.
    assert!((touch.at[0] - 1.234).abs() < 1e-6);
    // (x − 1)² = 1e-10: two zeros, 1 ∓ 1e-5, inside one step of the grid.
    let pair = roots(&mut |x: f64| Some((x - 1.0).powi(2) - 1e-10), &grid(0.0, 3.0, 11), 1e-9);
    assert_eq!(pair.at.len(), 2, "{pair:?}");
    assert!((pair.at[0] - (1.0 - 1e-5)).abs() < 1e-10);
    assert!((pair.at[1] - (1.0 + 1e-5)).abs() < 1e-10);
    // A valley that ends a little above zero is no zero, but its lowest place is told.
    let over = roots(&mut |x: f64| Some((x - 1.0).powi(2) + 1e-6), &grid(0.0, 3.0, 11), 1e-9);
    assert!(over.at.is_empty());
    assert!(over.least.is_some_and(|(x, y)| (x - 1.0).abs() < 1e-3 && (y - 1e-6).abs() < 1e-9));
}

#[test]
fn stretches_without_a_value_and_their_edges_are_borne() {
    // √(x − 1) − 2 has its zero at 5 and none below 1; an upright tangent stands at the edge.
    let mut f = |x: f64| (x >= 1.0).then(|| (x - 1.0).sqrt() - 2.0);
    assert_eq!(roots(&mut f, &grid(-10.0, 10.0, 9), 1e-9).at, vec![5.0]);
    // A zero close by the edge, between it and the first grid point inside: √(x−1) = 1e-3.
    let mut g = |x: f64| (x >= 1.0).then(|| (x - 1.0).sqrt() - 1e-3);
    let near = roots(&mut g, &grid(-10.0, 10.0, 9), 1e-9).at;
    assert_eq!(near.len(), 1);
    assert!((near[0] - (1.0 + 1e-6)).abs() < 1e-15);
    // The edge itself, to the last bit; and a hole between two answered stretches.
    assert_eq!(edge_between(&mut g, 3.0, -3.0), 1.0);
    let mut hole = |x: f64| (!(0.4..=0.6).contains(&x)).then_some(x - 0.7);
    assert_eq!(roots(&mut hole, &[0.0, 0.35, 1.0], 1e-9).at, vec![0.7]);
}

#[test]
fn a_jump_or_a_pole_across_zero_is_no_zero() {
    let jump =
        roots(&mut |x: f64| Some(if x < 0.3 { -1.0 } else { 1.0 }), &grid(0.0, 1.0, 7), 1e-9);
    assert!(jump.at.is_empty(), "{jump:?}");
    let pole = roots(&mut |x: f64| Some(1.0 / (x - 0.3)), &grid(0.0, 1.0, 7), 1e-9);
    assert!(pole.at.is_empty(), "{pole:?}");
    let tangent = roots(&mut |x: f64| Some(x.tan()), &grid(-4.0, 4.1, 31), 1e-9);
    assert_eq!(tangent.at.len(), 3, "0 and ±π, not the poles at ±π/2: {tangent:?}");
}

#[test]
fn a_level_stretch_is_told_as_level() {
    let level = roots(&mut |_| Some(0.0), &grid(0.0, 1.0, 20), 1e-9);
    assert!(level.level && level.at.is_empty());
}

#[test]
fn the_lowest_place_of_a_parabola() {
    let low = least_between(&mut |x: f64| Some((x - 1.0).powi(2) + 3.0), 0.0, 0.5, 3.0);
    assert!(low.is_some_and(|(x, y)| (x - 1.0).abs() < 1e-7 && (y - 3.0).abs() < 1e-14));
}
