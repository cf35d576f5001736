//! The board on the saw, against the saw itself: a blade's plane built from its swing and tilt, the
//! board turned as it is told to lie, marks folded back onto the wood.

use offsquare_cuts::parts::{Cut, End, Part, Side, Sides, StockShape};
use offsquare_cuts::saw::{Between, Edge, Lay, Position, SawProfile};
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_geometry::{Point, Polygon};
use offsquare_paper::at_saw::{seen_along_blade, seen_from_above, short_on_stick, two_tape_marks};
use offsquare_units::{Angle, Length};

type V = [f64; 3];

fn dot(a: V, b: V) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Normal of the blade's plane: swung by `m` about the upright (its operator's end to the left for
/// Left), then tilted by `b` about its own line (its top to the left for Left). x to the right, y to
/// the fence, z up.
fn blade(m: f64, swing: Side, b: f64, lean: Side) -> V {
    let sign = |s| match s {
        Side::Left => 1.0,
        Side::Right => -1.0,
        Side::Neither => 0.0,
    };
    let (m, b) = (m.to_radians() * sign(swing), b.to_radians() * sign(lean));
    let line = [m.sin(), m.cos(), 0.0];
    let to_the_right = [m.cos(), -m.sin(), 0.0];
    let up = [-b.sin() * to_the_right[0], -b.sin() * to_the_right[1], b.cos()];
    [
        line[1] * up[2] - line[2] * up[1],
        line[2] * up[0] - line[0] * up[2],
        line[0] * up[1] - line[1] * up[0],
    ]
}

fn same_plane(a: V, b: V) -> bool {
    (dot(a, b).abs() - 1.0).abs() < 1e-12
}

/// A leg 2 by 1 1/2 in, both ends cut alike: swung and leaning to the given sides.
fn leg(m: f64, swing: Side, b: f64, lean: Side) -> Part {
    let (t, long) = (2.0, 20.0);
    let run = t * m.to_radians().tan() * if swing == Side::Right { -1.0 } else { 1.0 };
    let x = (-run).max(0.0);
    let cut = |end, x: f64| Cut {
        name: "End".into(),
        end,
        miter: Angle(m),
        swing: if m > 0.0 { swing } else { Side::Neither },
        bevel: Angle(b),
        lean: if b > 0.0 { lean } else { Side::Neither },
        miter_key: None,
        bevel_key: None,
        across: Length(t),
        from: Point::new(x, 0.0),
        to: Point::new(x + run, t),
    };
    Part {
        name: "Leg".into(),
        count: 2,
        sides: Sides::DRAWN,
        seen: Length(t),
        away: Some(Length(1.5)),
        length: Length(long + run.abs()),
        outline: Polygon(vec![
            Point::new(x, 0.0),
            Point::new(x + long, 0.0),
            Point::new(x + long + run, t),
            Point::new(x + run, t),
        ]),
        edge_a: Length(long),
        edge_b: Length(long),
        cuts: vec![cut(End::Left, x), {
            let mut c = cut(End::Right, x + long);
            c.name = "Other end".into();
            c
        }],
        marks: Vec::new(),
        laps: Vec::new(),
        figures: Vec::new(),
        ripped: None,
        stock: StockShape::Straight,
    }
}

fn every_way() -> Vec<Part> {
    let sides = [Side::Left, Side::Right];
    let angles = [(10.0, 6.0), (0.0, 20.0), (35.0, 0.0), (40.0, 30.0), (5.0, 44.0)];
    sides
        .iter()
        .flat_map(|s| sides.iter().map(move |l| (*s, *l)))
        .flat_map(|(s, l)| angles.iter().map(move |(m, b)| leg(*m, s, *b, l)))
        .collect()
}

fn plane_of(cut: &Cut) -> V {
    blade(cut.miter.0, cut.swing, cut.bevel.0, cut.lean)
}

/// Turned as each position says, the piece's plane is the blade's.
fn turned(p: Position, [x, y, z]: V) -> V {
    match p {
        Position::AsDrawn => [x, y, z],
        Position::EndForEnd => [-x, -y, z],
        Position::EndOverEnd => [-x, y, -z],
        Position::RolledOver => [x, -y, -z],
    }
}

#[test]
fn lying_as_told_the_cut_is_the_blade_for_both_hands() {
    let saw = SawProfile::usual();
    let mut hands = 0;
    for part in every_way() {
        for (i, cut) in part.cuts.iter().enumerate() {
            let a = saw.advise(&part, cut);
            let set = blade(a.miter.0, a.swing, a.bevel.0, a.lean);
            assert!(same_plane(turned(a.position, plane_of(cut)), set));
            // The mirrored piece: x turned about in its own frame.
            let (other, b) = saw.advise_other_hand(&part, i, &a).expect("the same cut");
            let [x, y, z] = plane_of(cut);
            assert!(same_plane([-x, y, z], plane_of(&other.cuts[i])));
            assert_eq!(b.lay(), a.lay());
            if a.lay() == Some(Lay::Seen) {
                hands += 1;
                let kept = blade(b.miter.0, b.swing, b.bevel.0, b.lean);
                assert!(same_plane(set, kept), "the settings are kept");
                assert!(same_plane(turned(b.position, plane_of(&other.cuts[i])), kept));
                assert_ne!(a.position.seen_face_up(), b.position.seen_face_up());
            }
            assert!(!seen_from_above(&other, &other.cuts[i], &b).items.is_empty());
        }
        let compound = part.cuts[0].miter.0 > 0.0 && part.cuts[0].bevel.0 > 0.0;
        let handed = saw.advise_part(&part).handed;
        assert_eq!(handed, compound, "parallel ends: handed where compound");
    }
    assert!(hands > 20);
}

#[test]
fn standing_on_edge_as_told_the_cut_is_the_blade() {
    let mut saw = SawProfile::usual();
    let mut checked = 0;
    for right in [0.0, 45.0] {
        saw.bevel_right = Angle(right);
        for part in every_way() {
            for cut in &part.cuts {
                let a = saw.advise(&part, cut);
                let o = a.other_face.as_ref().expect("both sizes are known");
                let [x, y, z] = plane_of(cut);
                // z is the drawn face's outside, y the upper edge's.
                let stands = match (o.stand.face_at_fence, o.stand.down) {
                    (true, Edge::B) => [x, z, -y],
                    (true, Edge::A) => [-x, z, y],
                    (false, Edge::B) => [-x, -z, -y],
                    (false, Edge::A) => [x, -z, y],
                };
                let set = blade(o.miter.0, o.swing, o.bevel.0, o.lean);
                assert!(same_plane(stands, set), "{cut:?} {o:?}");
                if right == 0.0 && o.bevel.0 > 0.0 {
                    assert_eq!(o.lean, Side::Left, "this saw leans left only");
                }
                checked += 1;
            }
        }
    }
    assert!(checked > 50);
}

/// Both ends are cut alike in every one of them: one setting serves both, the piece slid along.
#[test]
fn like_ends_take_one_setting() {
    for part in every_way() {
        let between = SawProfile::usual().advise_part(&part).between;
        assert_eq!(between, Between::SameSetting(Position::AsDrawn), "{:?}", part.cuts);
    }
}

fn lines(scene: &Scene, role: Role) -> Vec<(Point, Point)> {
    scene
        .items
        .iter()
        .filter_map(|i| match i {
            Item::Line { from, to, role: r } if *r == role => Some((*from, *to)),
            _ => None,
        })
        .collect()
}

/// Folded back, all three corners of the two lines lie in the cut's plane.
#[test]
fn both_tape_marks_lie_in_the_cut() {
    for part in every_way() {
        for cut in &part.cuts {
            let scene = two_tape_marks(&part, cut).expect("an end cut");
            let cuts = lines(&scene, Role::Cut);
            assert_eq!(cuts.len(), 2, "face and edge");
            let fold = |p: Point| -> V {
                if p.y <= 2.0 { [p.x, p.y, 0.0] } else { [p.x, 2.0, -(p.y - 2.0)] }
            };
            let all: Vec<V> = cuts.iter().flat_map(|(a, b)| [fold(*a), fold(*b)]).collect();
            assert!((all[3][2] + 1.5).abs() < 1e-12, "down to the back");
            let n = plane_of(cut);
            for p in &all {
                assert!((dot(n, *p) - dot(n, all[0])).abs() < 1e-12, "{cut:?} {p:?}");
            }
            // The marks drawn are those that are told.
            let told = SawProfile::usual().advise(&part, cut);
            let drawn = |key: &str| {
                scene.items.iter().find_map(|i| match i {
                    Item::Dimension {
                        value: offsquare_units::Quantity::Length(l),
                        source: offsquare_geometry::scene::Source::Computed(k),
                        ..
                    } if *k == key => Some(l.0),
                    _ => None,
                })
            };
            if cut.miter.0 > 0.0 {
                assert!(
                    (drawn("tape_mark").expect("on the face") - told.tape_mark.0).abs() < 1e-12
                );
            }
            if let Some(edge) = told.edge_tape_mark {
                assert!((drawn("edge_tape_mark").expect("on the edge") - edge.0).abs() < 1e-12);
            }
        }
    }
}

/// The blade seen along its own line leans by its bevel, to its side; upright it is not drawn.
#[test]
fn the_leaning_blade_is_seen_at_its_bevel() {
    let saw = SawProfile::usual();
    for part in every_way() {
        let cut = &part.cuts[0];
        let a = saw.advise(&part, cut);
        let set = a.setting();
        let Some(scene) = seen_along_blade(&part, cut, &a) else {
            assert!(set.bevel.0 == 0.0);
            continue;
        };
        let blade = lines(&scene, Role::Cut)[0];
        let (run, rise) = (blade.1.x - blade.0.x, blade.1.y - blade.0.y);
        assert!((run.abs().atan2(rise).to_degrees() - set.bevel.0).abs() < 1e-9);
        assert_eq!(run < 0.0, set.lean == Side::Left);
    }
}

/// A 3 in piece with a 1/8 in kerf and 8 in to hold: a stick of 11 1/8, drawn so.
#[test]
fn a_short_piece_is_drawn_on_its_stick() {
    let saw = SawProfile::usual();
    let mut part = leg(0.0, Side::Left, 0.0, Side::Left);
    for p in part.outline.0.iter_mut().filter(|p| p.x > 0.0) {
        p.x = 3.0;
    }
    (part.cuts[1].from.x, part.cuts[1].to.x) = (3.0, 3.0);
    [part.length, part.edge_a, part.edge_b] = [Length(3.0); 3];
    let short = saw.advise_part(&part).short_piece.expect("too short to hold");
    let (lo, hi) = short_on_stick(&part, &short).bounds().expect("a picture");
    assert!((hi.x - lo.x - 11.125).abs() < 1e-12);
}
