//! The saw's advice against LAYOUTS' own numbers and hand-worked trigonometry.

use offsquare_cuts::parts::{Cut, CutName, End, Part, Side, StockShape};
use offsquare_cuts::saw::{
    Between, Hand, Lay, MarkKind, Misfit, Plus, Position, Remedy, SawProfile, gap, wording,
};
use offsquare_geometry::Point;
use offsquare_units::{Angle, Length};

/// A stick with plain end cuts: the run of each end line from edge A to edge B, signed along x.
fn stick(seen: f64, away: Option<f64>, left: f64, right: f64, edge_b: f64) -> Part {
    Part::stick(
        "Stick",
        Length(seen),
        away.map(Length),
        &[Point::new(-left, 0.0), Point::new(0.0, seen)],
        &[Point::new(edge_b - right, 0.0), Point::new(edge_b, seen)],
        &[CutName::default(), CutName::default()],
    )
}

fn tan(degrees: f64) -> f64 {
    degrees.to_radians().tan()
}

/// A cut of a long 2 1/2 in stick that reads so much.
fn reading(miter: f64) -> (Part, Cut) {
    let part = stick(2.5, None, 0.0, -2.5 * tan(miter), 40.0);
    let mut cut = part.cuts[1].clone();
    cut.miter = Angle(miter);
    (part, cut)
}

/// LAYOUTS: a 6-in 45° knee from a 2×4 has a 3-in short edge with the 1 1/2 side in view and is
/// impossible with the 3 1/2 side. Both ways of cutting the first are within the usual saw.
#[test]
fn the_knee_from_a_2x4() {
    let saw = SawProfile::usual();
    let knee = stick(1.5, Some(3.5), 1.5, -1.5, 3.0);
    let advice = saw.advise_part(&knee);
    assert_eq!((advice.long_edge, advice.short_edge), (Length(6.0), Length(3.0)));
    let cut = &advice.cuts[0];
    assert_eq!((cut.set_miter, cut.miter_mark), (Angle(45.0), MarkKind::Detent));
    assert_eq!(cut.lay(), Some(Lay::Seen));
    let other = cut.other_face.as_ref().expect("the size going away is known");
    assert_eq!((other.miter, other.bevel), (Angle(0.0), Angle(45.0)));
    assert!(other.fit.possible());
    // A 2×6 stands too high on edge (5 1/2 over 3 1/2) and goes flat with the blade tilted.
    let wide = stick(1.5, Some(5.5), 1.5, -1.5, 3.0);
    let cut = &saw.advise_part(&wide).cuts[0];
    assert!(matches!(cut.fit.misfits[..], [Misfit::TooHigh { .. }]));
    assert_eq!(cut.lay(), Some(Lay::Away));
}

/// c·cos θ with c from 5.5 at 0° straight to 3.5·√2 = 4.949747 at 45°, constant beyond. At 28°:
/// c = 5.5 − 0.550253·28/45 = 5.157621, times cos 28° = 0.882948: 4.553909.
#[test]
fn widths_by_the_rule() {
    let saw = SawProfile::usual();
    let is = |miter: f64, width: f64, within: f64| {
        (saw.width_at(Angle(miter)).0 - width).abs() <= within
    };
    assert!(is(0.0, 5.5, 0.0) && is(45.0, 3.5, 1e-15));
    assert!(is(28.0, 4.553_909, 2e-6));
    assert!(is(60.0, 3.5 * 2.0_f64.sqrt() / 2.0, 1e-14));
    assert_eq!(saw.height_at(Angle(0.0)), Length(3.5));
    assert!((saw.height_at(Angle(45.0)).0 - 2.0).abs() < 1e-15);
}

/// LAYOUTS: 3 1/2 in at 62° needs 6.6 in of reach. The usual saw has 4.55 at 28°: not on this saw.
#[test]
fn turned_work_only_within_reach() {
    let saw = SawProfile::usual();
    let wide = stick(3.5, Some(1.5), 0.0, -3.5 * tan(62.0), 40.0);
    assert!((3.5 * tan(62.0) - 6.58).abs() < 0.01);
    let cut = &saw.advise_part(&wide).cuts[1];
    assert_eq!(cut.remedies.last(), Some(&Remedy::NotOnThisSaw));
    assert!(
        matches!(cut.remedies[0], Remedy::TapeMark { mark, .. } if (mark.0 - 3.5 * tan(62.0)).abs() < 1e-12)
    );
    // Seen by its 1 1/2 side it needs 2.82 in and can be turned, clamped, at 28°.
    let narrow = stick(1.5, Some(3.5), 0.0, -1.5 * tan(62.0), 20.0);
    let cut = &saw.advise_part(&narrow).cuts[1];
    let turned = cut.remedies.last();
    assert!(
        matches!(turned, Some(Remedy::TurnedWork(t))
            if (t.set.0 - 28.0).abs() < 1e-12 && (t.needs.0 - 1.5 * tan(62.0)).abs() < 1e-12),
        "{turned:?}"
    );
    // Never long (it would stand out toward the operator), short, tapered or round stock.
    let long = stick(1.5, Some(3.5), 0.0, -1.5 * tan(62.0), 24.1);
    let short = stick(1.5, Some(3.5), 0.0, -1.5 * tan(62.0), 5.0);
    let mut tapered = narrow.clone();
    tapered.stock = StockShape::Tapered;
    let mut round = narrow.clone();
    round.stock = StockShape::Round;
    for part in [long, short, tapered, round] {
        let cut = &saw.advise_part(&part).cuts[1];
        assert_eq!(cut.remedies.last(), Some(&Remedy::NotOnThisSaw), "{:?}", part.stock);
    }
}

/// The nearest mark by hand: stops 0, 15, 22.5, 31.6, 45, marks each half degree, ties to the stop.
#[test]
fn the_nearest_mark() {
    let saw = SawProfile::usual();
    for (exact, set, kind) in [
        (31.52, 31.5, MarkKind::Scale),
        (31.55, 31.6, MarkKind::Detent),
        (31.6, 31.6, MarkKind::Detent),
        (31.8, 31.6, MarkKind::Detent),
        (31.84, 32.0, MarkKind::Scale),
        (22.6, 22.5, MarkKind::Detent),
        (14.74, 14.5, MarkKind::Scale),
        (14.75, 15.0, MarkKind::Detent),
        (38.3, 38.5, MarkKind::Scale),
        (49.9, 50.0, MarkKind::Scale),
    ] {
        let (part, cut) = reading(exact);
        let a = saw.advise(&part, &cut);
        assert_eq!((a.set_miter, a.miter_mark), (Angle(set), kind), "{exact}");
        // Gap = s·sin|m − m'| / cos m' (LAYOUTS).
        let by_hand = 2.5 * (exact - set).abs().to_radians().sin() / set.to_radians().cos();
        assert!((a.gap.0 - by_hand).abs() < 1e-12, "{exact}");
        assert!((a.meets_edge().0 - (90.0 - exact)).abs() < 1e-12);
    }
    // The bevel's stop stands right at its limit, 45°, and is a stop all the same.
    let (part, mut cut) = reading(0.0);
    (cut.bevel, cut.lean) = (Angle(44.9), Side::Left);
    let a = saw.advise(&part, &cut);
    assert_eq!((a.set_bevel, a.bevel_mark), (Angle(45.0), MarkKind::Detent));
    // A saw that stops at 49.8° is set inside its limit, not to the mark beyond.
    let stiff =
        SawProfile { miter_left: Angle(49.8), miter_right: Angle(49.8), ..SawProfile::usual() };
    let (part, cut) = reading(49.79);
    assert_eq!(stiff.advise(&part, &cut).set_miter, Angle(49.5));
    assert_eq!(gap(Length(2.0), Angle(30.0), Angle(90.0)), Length(2.0));
}

/// Left and right limits apart: a cut past the left limit is flipped end over end and swung right;
/// a lean to the side that the blade does not tilt to is turned end for end.
#[test]
fn the_piece_is_laid_so_that_the_saw_can() {
    let saw =
        SawProfile { miter_left: Angle(40.0), miter_right: Angle(60.0), ..SawProfile::usual() };
    let part = stick(2.0, None, 0.0, 2.0 * tan(48.0), 40.0);
    let cut = &part.cuts[1];
    assert_eq!(cut.swing, Side::Left);
    let a = saw.advise(&part, cut);
    assert_eq!((a.position, a.swing), (Position::EndOverEnd, Side::Right));
    assert!(a.fit.possible());
    let mut tilted = cut.clone();
    (tilted.miter, tilted.swing) = (Angle(30.0), Side::Right);
    (tilted.bevel, tilted.lean) = (Angle(20.0), Side::Right);
    let a = saw.advise(&part, &tilted);
    assert_eq!((a.position, a.swing, a.lean), (Position::EndForEnd, Side::Right, Side::Left));
    // Both at once are refused by a saw that takes one reading only.
    let plain = SawProfile { both_readings: false, ..saw };
    assert!(plain.advise(&part, &tilted).fit.misfits.contains(&Misfit::NotBothReadings));
}

/// A cube's corner: its three faces are alike, so miter 35.264° and bevel 30° read the same on the
/// neighbouring face (tan m = 1/√2, sin b = 1/2).
#[test]
fn the_same_plane_on_the_other_face() {
    let saw = SawProfile::usual();
    let part = stick(2.0, Some(2.0), 0.0, -2.0 * tan(35.264_389_682_754_654), 40.0);
    let mut cut = part.cuts[1].clone();
    (cut.bevel, cut.lean) = (Angle(30.0), Side::Left);
    let a = saw.advise(&part, &cut);
    let o = a.other_face.as_ref().expect("both sizes are known");
    assert!((o.miter.0 - 35.264_389_682_754_654).abs() < 1e-12);
    assert!((o.bevel.0 - 30.0).abs() < 1e-12);
    // Over the 2 in going away the cut runs along by 2·tan b/cos m = 2·0.57735/0.81650 = 1.41421.
    assert!(a.edge_tape_mark.is_some_and(|l| (l.0 - 2.0_f64.sqrt()).abs() < 1e-12));
    assert_eq!(saw.advise_part(&part).hand, Hand::SameTurnedOver);
}

/// The fence edge plus the stopped end's tape mark when its point is at the far edge; the fence edge
/// alone when its point is at the fence; `point_ahead` when the point is in the middle (LAYOUTS).
#[test]
fn stop_block_settings() {
    let saw = SawProfile::usual();
    // A parallelogram, 45° over 2 in: edges 30, both ends run −2 from A to B.
    let part = stick(2.0, None, -2.0, -2.0, 30.0);
    let a = saw.advise_part(&part);
    let stop = |i: usize| a.cuts[i].stop_block.clone().expect("a setting");
    // The left end's point is at edge B (the fence): cutting the right end, nothing is added.
    assert_eq!((stop(1).setting, stop(1).plus_is), (Length(30.0), Plus::Nothing));
    // The right end's point is at edge A: cutting the left end, its tape mark is added.
    assert_eq!((stop(0).setting, stop(0).plus_is), (Length(32.0), Plus::TapeMark));
    assert_eq!(a.between, Between::SameSetting(Position::AsDrawn));
    // A point in the middle of a 2 in strip, 1 in ahead of both shoulders, against the stop.
    let pointed = Part::stick(
        "Pointed",
        Length(2.0),
        None,
        &[Point::new(0.0, 0.0), Point::new(-1.0, 1.0), Point::new(0.0, 2.0)],
        &[Point::new(20.0, 0.0), Point::new(20.0, 2.0)],
        &[CutName::default(); 3],
    );
    let square = saw.advise(&pointed, &pointed.cuts[2]);
    let s = square.stop_block.expect("a setting");
    assert_eq!((s.setting, s.plus, s.plus_is), (Length(21.0), Length(1.0), Plus::PointAhead));
    // The point's upper cut meets the fence edge: 19 to the square end, where the lower one is produced to 21.
    let mut roof = pointed.clone();
    roof.cuts[0].end = End::Right;
    roof.cuts[1].end = End::Right;
    roof.cuts[2].end = End::Left;
    for (cut, from, to) in
        [(0, (20.0, 0.0), (20.5, 1.0)), (1, (20.5, 1.0), (19.0, 2.0)), (2, (0.0, 0.0), (0.0, 2.0))]
    {
        roof.cuts[cut].from = Point::new(from.0, from.1);
        roof.cuts[cut].to = Point::new(to.0, to.1);
    }
    let edge = |i: usize| saw.advise(&roof, &roof.cuts[i]).stop_block.expect("a setting");
    assert_eq!((edge(1).setting, edge(1).plus_is), (Length(19.0), Plus::Nothing));
    assert_eq!(edge(0).setting, Length(21.0));
    // A trapezoid: the same reading to the other side, so it is flipped end over end.
    let trapezoid = stick(2.0, None, 2.0, -2.0, 10.0);
    assert_eq!(saw.advise_part(&trapezoid).between, Between::SameSetting(Position::EndOverEnd));
}

/// A 3 in piece, a 1/8 in kerf and 8 in to hold: from a stick of 11 1/8 in at least.
#[test]
fn short_pieces_are_cut_from_a_longer_stick() {
    let saw = SawProfile::usual();
    let short = saw.advise_part(&stick(1.5, Some(3.5), 0.0, 0.0, 3.0));
    assert_eq!(short.short_piece.map(|s| s.stick), Some(Length(11.125)));
    assert_eq!(saw.advise_part(&stick(1.5, None, 0.0, 0.0, 8.0)).short_piece, None);
    let all = wording::part(&short);
    assert!(all.iter().any(|t| t.render(&Default::default()).contains("11 1/8 in")));
}

/// Those that this saw can cut first, then fewest different readings, then the smaller largest one.
#[test]
fn ways_in_the_order_of_the_saw() {
    let saw = SawProfile::usual();
    let one =
        |left: f64, right: f64| vec![stick(2.0, None, -2.0 * tan(left), -2.0 * tan(right), 40.0)];
    let (past, two, high, low) =
        (one(55.0, 55.0), one(20.0, 25.0), one(40.0, 40.0), one(30.0, 30.0));
    let order = saw.order(&[&past, &two, &high, &low]);
    assert_eq!(order, vec![3, 2, 1, 0]);
}

#[test]
fn plan_views_show_the_waste_on_the_side_of_the_end() {
    use offsquare_geometry::scene::{Item, Role};
    use offsquare_paper::at_saw::{seen_from_above, turned_from_above};
    let saw = SawProfile::usual();
    let part = stick(2.0, None, -2.0, -2.0, 30.0);
    for (i, cut) in part.cuts.iter().enumerate() {
        let scene = seen_from_above(&part, cut, &saw.advise(&part, cut));
        let waste = scene.items.iter().find_map(|item| match item {
            Item::Shape { outline, role: Role::Waste } => {
                Some(outline.iter().map(|p| p.x).sum::<f64>() / 4.0)
            }
            _ => None,
        });
        let blade = (cut.from.x + cut.to.x) / 2.0;
        let right = cut.end == End::Right;
        assert!(waste.is_some_and(|x| (x > blade) == right), "cut {i}");
    }
    let steep = stick(1.5, Some(3.5), 0.0, -1.5 * tan(62.0), 20.0);
    let advice = saw.advise(&steep, &steep.cuts[1]);
    assert!(turned_from_above(&steep, &steep.cuts[1], &advice).is_some());
    let easy = saw.advise(&steep, &steep.cuts[0]);
    assert!(turned_from_above(&steep, &steep.cuts[0], &easy).is_none());
}
