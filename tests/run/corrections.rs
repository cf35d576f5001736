//! Test cuts in scrap: a saw that is off by a known angle is told to cut true.

use offsquare_cuts::parts::{End, Part, Side};
use offsquare_cuts::saw::{Axis, SawProfile, TestCut, wording};
use offsquare_geometry::Point;
use offsquare_units::{Angle, Length, Style};
use offsquare_work::piece::Shop;
use offsquare_work::save::{self, Bench};

/// A saw with a fine scale, without click stops.
fn fine() -> SawProfile {
    SawProfile { detents: Vec::new(), finest_mark: Angle(0.1), ..SawProfile::usual() }
}

/// A saw whose scale reads `off` too little or too much: what it cuts when it is set so.
fn cuts(set: Angle, off: f64) -> Angle {
    Angle(set.0 + off)
}

#[test]
fn a_saw_that_is_off_cuts_true_after_one_test_cut() {
    for off in [-1.3, -0.3, 0.2, 0.7, 2.0] {
        for reading in [8.0, 22.5, 31.6, 45.0] {
            for side in [Side::Left, Side::Right] {
                let mut saw = fine();
                let exact = Angle(reading);
                let (set, _) = saw.miter_mark(exact, side);
                saw.learn(Axis::Miter, side, exact, set, cuts(set, off)).expect("a correction");
                let (again, _) = saw.miter_mark(exact, side);
                let cut = cuts(again, off);
                assert!((cut.0 - reading).abs() <= 0.05 + 1e-9, "{reading} {off}: {cut:?}");
                // Neither the other side, nor another reading, nor the other scale.
                assert_eq!(saw.correction(Axis::Miter, side.other(), exact), Angle(0.0));
                assert_eq!(saw.correction(Axis::Miter, side, Angle(reading + 0.2)), Angle(0.0));
                assert_eq!(saw.correction(Axis::Bevel, side, exact), Angle(0.0));
                // A second test cut at the corrected setting finds nothing more.
                saw.learn(Axis::Miter, side, exact, again, cuts(again, off)).expect("a correction");
                assert_eq!(saw.miter_mark(exact, side).0, again);
                assert_eq!(saw.corrections.len(), 1);
                saw.forget(Axis::Miter, side, exact);
                assert_eq!(saw, fine());
            }
        }
    }
}

/// The gap of a cut that is off by a known angle, by the tangent of that angle, gives the angle back.
#[test]
fn a_gap_tells_the_angle() {
    for off in [-2.0_f64, -0.4, 0.3, 1.7] {
        for along in [1.5, 3.5, 5.0] {
            let gap = Length(along * off.abs().to_radians().tan());
            let test = TestCut::Gap { gap, along: Length(along), at_long_point: off < 0.0 };
            let cut = test.cut(Angle(31.6));
            assert!((cut.0 - (31.6 + off)).abs() < 1e-9, "{off} {along}: {cut:?}");
        }
    }
}

/// Halves of a board that was cut off square, laid as their corners come to lie: the right one rolled over its length, both
/// against a straight edge on the far side. Where they are open, how far, gives the angle and its side.
#[test]
fn halves_of_a_square_cut_tell_twice_the_error() {
    for off in [-1.1_f64, -0.3, 0.2, 0.9] {
        for wide in [1.5, 3.5, 5.5] {
            // Swung left the far end of the cut lies further right: at the near edge 0, at the far one so much.
            let run = wide * off.to_radians().tan();
            let left_half = |y: f64| run * y / wide;
            let right_half = |y: f64| run * (wide - y) / wide;
            let apart = |y: f64| right_half(y) - left_half(y);
            let touching = apart(0.0).min(apart(wide));
            let (near, far) = (apart(0.0) - touching, apart(wide) - touching);
            let test = TestCut::Halves {
                gap: Length(near.max(far)),
                along: Length(wide),
                off_left: near > far,
            };
            let cut = test.cut(Angle(0.0));
            assert!((cut.0 - off).abs() < 1e-9, "{off} {wide}: {cut:?}");
        }
    }
}

#[test]
fn a_square_setting_is_corrected_and_says_so() {
    let left = [Point::new(0.0, 0.0), Point::new(0.0, 2.5)];
    let right = [Point::new(30.0, 0.0), Point::new(30.0, 2.5)];
    let part = Part::stick("Rail", Length(2.5), Some(Length(0.75)), &left, &right, &[]);
    let cut = part.cuts.iter().find(|c| c.end == End::Right).expect("a cut").clone();
    for (axis, what) in [(Axis::Miter, "square"), (Axis::Bevel, "upright")] {
        for off in [-0.4, 0.3] {
            let mut saw = fine();
            let zero = Angle(0.0);
            let plain = saw.advise(&part, &cut);
            saw.learn(axis, Side::Neither, zero, zero, Angle(off)).expect("a correction");
            let told = saw.advise(&part, &cut);
            let words = wording::setting(&told).render(&Style::default());
            let side = if off > 0.0 { "right" } else { "left" };
            let said = format!("{what} is {:.1}\u{b0} {side} of the 0 on its scale", off.abs());
            assert!(words.contains(&said), "{words}");
            // What is drawn and measured of it stays.
            assert_eq!((told.gap, told.bevel_gap), (plain.gap, plain.bevel_gap));
            // Set so it cuts true: a second test cut finds nothing more.
            let by = saw.correction(axis, Side::Neither, zero);
            saw.learn(axis, Side::Neither, zero, by, by + Angle(off)).expect("a correction");
            assert_eq!(saw.correction(axis, Side::Neither, zero), by);
            let shop = Shop { saw: saw.clone(), ..Shop::default() };
            let opened = save::read(&save::write(&Bench { shop, ..Bench::default() }));
            assert_eq!((opened.bench.shop.saw, opened.repaired), (saw.clone(), Vec::new()));
            saw.forget(axis, Side::Neither, zero);
            assert_eq!(saw, fine());
        }
    }
}

#[test]
fn what_is_far_off_is_refused_with_a_sentence() {
    let mut saw = fine();
    for cut in [38.0, 52.1, f64::NAN] {
        let said = saw.learn(Axis::Miter, Side::Left, Angle(45.0), Angle(45.0), Angle(cut));
        assert!(said.is_err_and(|s| s.contains("5\u{b0}")), "{cut}");
    }
    assert!(saw.corrections.is_empty());
}

/// Every setting that is told names the correction it holds, and the gap that it leaves is that of the true angle.
#[test]
fn a_correction_is_told_where_it_is_applied() {
    let mut saw = fine();
    let left = [Point::new(0.0, 0.0), Point::new(0.0, 2.5)];
    let run = 2.5 * 31.6_f64.to_radians().tan();
    let right = [Point::new(30.0, 0.0), Point::new(30.0 - run, 2.5)];
    let part = Part::stick("Brace", Length(2.5), Some(Length(0.75)), &left, &right, &[]);
    let cut = part.cuts.iter().find(|c| c.end == End::Right).expect("a cut").clone();
    let plain = saw.advise(&part, &cut);
    assert!(!wording::setting(&plain).render(&Style::default()).contains("test cut"));
    saw.learn(Axis::Miter, plain.swing, plain.miter, Angle(31.6), Angle(32.0))
        .expect("a correction");
    let told = saw.advise(&part, &cut);
    assert!((told.set_miter.0 - 31.2).abs() < 1e-9, "{:?}", told.set_miter);
    assert!((told.gap - plain.gap).abs().0 < 1e-9);
    let words = wording::setting(&told).render(&Style::default());
    assert!(words.contains("test cut") && words.contains("0.4\u{b0} less"), "{words}");
}
