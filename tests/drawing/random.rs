//! Random scenes that repeat: a seeded generator, no clock.

use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::{Angle, Length, Quantity};

/// Knuth's linear congruential generator (MMIX), upper bits used.
pub struct Dice(pub u64);

impl Dice {
    pub fn share(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
    pub fn below(&mut self, n: usize) -> usize {
        (self.share() * n as f64) as usize
    }
    pub fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * self.share()
    }
}

const FIELDS: [&str; 9] = ["a", "b", "c", "d", "e", "f", "g", "h", "i"];

/// A piece with up to 5 given sizes, 4 computed ones, an angle or two, a label and a handle, of any
/// proportion from a stick to a square.
pub fn scene(dice: &mut Dice) -> Scene {
    let wide = dice.between(1.0, 60.0);
    let high = wide * dice.between(0.03, 2.0);
    let at = |dice: &mut Dice| Point::new(dice.share() * wide, dice.share() * high);
    let mut scene = Scene::new();
    let box_of = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)];
    let corners = box_of.map(|(x, y)| Point::new(x, y));
    scene.shape(corners.to_vec(), Role::Frame);
    let stick: Vec<Point> = (0..4).map(|_| at(dice)).collect();
    scene.shape(stick, Role::Stock);
    scene.shape((0..3).map(|_| at(dice)).collect(), Role::Waste);
    scene.line(at(dice), at(dice), Role::Cut);
    let given = 1 + dice.below(5);
    let computed = dice.below(5);
    for i in 0..given + computed {
        let (from, to) = if dice.share() < 0.6 {
            let side = dice.below(4);
            (corners[side], corners[(side + 1) % 4])
        } else {
            (at(dice), at(dice))
        };
        let row = [-2, -1, -1, -1, 1, 1, 2, 0][dice.below(8)];
        let value = Quantity::Length(Length(from.distance(to).0));
        let source =
            if i < given { Source::Given(FIELDS[i]) } else { Source::Computed("computed") };
        scene.add(Item::Dimension { from, to, row, aside: Vector::default(), value, source });
    }
    for _ in 0..dice.below(3) {
        let turn = dice.between(2.0, 170.0);
        let from = Angle(dice.between(-180.0, 180.0));
        scene.add(Item::AngleMark {
            at: at(dice),
            from,
            to: Angle(from.0 + turn),
            value: Quantity::Angle(Angle(turn)),
            source: Source::Computed("angle_deg"),
        });
    }
    if dice.share() < 0.5 {
        scene.label(at(dice), "top rail", Role::Frame);
    }
    if dice.share() < 0.5 {
        scene.add(Item::Handle { at: at(dice), field: FIELDS[0], per_inch: Vector::new(1.0, 0.0) });
    }
    scene
}
