//! The opening with its braces, seen from the front; the sizes stand where they are measured.

use super::landing::{Opening, Strip};
use super::single::Given;
use crate::geometry::{Point, Vector};
use crate::scene::{Item, Role, Scene, Source};
use crate::units::{Angle, Length, Quantity};

fn lay(scene: &mut Scene, strip: &Strip) {
    scene.shape(strip.outline(), Role::Stock);
    for w in strip.lower.windows(2).chain(strip.upper.windows(2)) {
        scene.line(strip.place(w[0]), strip.place(w[1]), Role::Cut);
    }
}

/// Braces in a rectangle; empty keys leave the sizes of the opening out.
pub fn in_rectangle(
    w: f64,
    h: f64,
    keys: (&'static str, &'static str),
    strips: &[&Strip],
) -> Scene {
    let mut scene = Scene::new();
    let c = Opening::rectangle(w, h).0;
    scene.shape(c.to_vec(), Role::Frame);
    for strip in strips {
        lay(&mut scene, strip);
    }
    if !keys.0.is_empty() {
        sizes(&mut scene, w, h, keys);
    }
    let single = "strip_width";
    for (i, strip) in strips.iter().enumerate() {
        let key = match (strips.len(), i) {
            (1, _) => single,
            (_, 0) => "strip_width_1",
            _ => "strip_width_2",
        };
        width_of(&mut scene, strip, key, if i == 0 { 0.62 } else { 0.3 });
    }
    if let [strip] = strips {
        slope(&mut scene, strip);
    }
    scene
}

fn sizes(scene: &mut Scene, w: f64, h: f64, keys: (&'static str, &'static str)) {
    let c = Opening::rectangle(w, h).0;
    scene
        .given(c[0], c[1], -1, Quantity::Length(Length(w)), keys.0)
        .given(c[3], c[0], -1, Quantity::Length(Length(h)), keys.1)
        .add(Item::Handle {
            at: c[1].middle(c[2]),
            field: keys.0,
            per_inch: Vector::new(1.0, 0.0),
        })
        .add(Item::Handle {
            at: c[2].middle(c[3]),
            field: keys.1,
            per_inch: Vector::new(0.0, 1.0),
        });
}

/// The strip's width, measured across it a share of the way up.
fn width_of(scene: &mut Scene, strip: &Strip, key: &'static str, share: f64) {
    let x = strip.starts().0.max(strip.starts().1) + share * strip.edge_a().min(strip.edge_b());
    scene.given(
        strip.place(Point::new(x, 0.0)),
        strip.place(Point::new(x, strip.width)),
        0,
        Quantity::Length(Length(strip.width)),
        key,
    );
}

fn slope(scene: &mut Scene, strip: &Strip) {
    let at = strip.place(strip.lower[0]);
    scene.add(Item::AngleMark {
        at,
        from: Angle(0.0),
        to: Angle(strip.slope()),
        value: Quantity::Angle(Angle(strip.slope())),
        source: Source::Computed("slope_to_rail_deg"),
    });
}

/// The frame's members around the opening, with their outside sizes.
pub fn around(scene: &mut Scene, g: Given, ow: Length, oh: Length) {
    let (x, y) = ((ow.0 - g.w) / 2.0, (oh.0 - g.h) / 2.0);
    let c = [
        Point::new(-x, -y),
        Point::new(g.w + x, -y),
        Point::new(g.w + x, g.h + y),
        Point::new(-x, g.h + y),
    ];
    scene
        .shape(c.to_vec(), Role::Frame)
        .given(c[0], c[1], -1, Quantity::Length(ow), "outside_width")
        .given(c[3], c[0], -1, Quantity::Length(oh), "outside_height")
        .given(
            Point::new(g.w, g.h / 3.0),
            Point::new(g.w + x, g.h / 3.0),
            0,
            Quantity::Length(Length(x)),
            "stile_width",
        )
        .given(
            Point::new(g.w / 3.0, g.h),
            Point::new(g.w / 3.0, g.h + y),
            0,
            Quantity::Length(Length(y)),
            "rail_width",
        );
}

/// Two like braces meeting at `apex`; `strip` lies in the half to the upper right of it (K) or in the
/// right half (chevron), running away from the lower left corner of that half.
pub fn pair(w: f64, h: f64, apex: &str, strip: &Strip) -> Scene {
    let mut scene = Scene::new();
    scene.shape(Opening::rectangle(w, h).0.to_vec(), Role::Frame);
    let is_k = matches!(apex, "left" | "right");
    if is_k {
        scene.line(
            Point::new(0.0, h / 2.0),
            Point::new(w, h / 2.0),
            Role::Center,
        );
    } else {
        scene.line(
            Point::new(w / 2.0, 0.0),
            Point::new(w / 2.0, h),
            Role::Center,
        );
    }
    // From the half's own frame to the opening: shifted, then mirrored left-right or up-down.
    let place = |p: Point, second: bool| {
        let (mut x, mut y) = (p.x, p.y);
        if is_k {
            // The half opening is w by h/2; the apex is its lower left corner.
            if apex == "right" {
                x = w - x;
            }
            y += h / 2.0;
            if second {
                y = h - y;
            }
        } else {
            // The half opening is w/2 by h; the apex is its lower left corner.
            if apex == "top" {
                y = h - y;
            }
            x += w / 2.0;
            if second {
                x = w - x;
            }
        }
        Point::new(x, y)
    };
    for second in [false, true] {
        scene.shape(
            strip
                .outline()
                .into_iter()
                .map(|p| place(p, second))
                .collect(),
            Role::Stock,
        );
        for cut in strip.lower.windows(2).chain(strip.upper.windows(2)) {
            scene.line(
                place(strip.place(cut[0]), second),
                place(strip.place(cut[1]), second),
                Role::Cut,
            );
        }
    }
    sizes(&mut scene, w, h, ("opening_width", "opening_height"));
    let x = strip.starts().0.max(strip.starts().1) + 0.55 * strip.edge_a().min(strip.edge_b());
    scene.given(
        place(strip.place(Point::new(x, 0.0)), false),
        place(strip.place(Point::new(x, strip.width)), false),
        0,
        Quantity::Length(Length(strip.width)),
        "strip_width",
    );
    scene
}

/// An opening out of square, each side with its own size.
pub fn as_built(opening: &Opening, strip: &Strip) -> Scene {
    let c = opening.0;
    let mut scene = Scene::new();
    scene.shape(c.to_vec(), Role::Frame);
    lay(&mut scene, strip);
    scene.line(c[1], c[3], Role::Center);
    let side = |a: Point, b: Point| Quantity::Length(a.distance(b));
    scene
        .given(c[0], c[1], -1, side(c[0], c[1]), "bottom")
        .given(c[1], c[2], -1, side(c[1], c[2]), "right")
        .given(c[2], c[3], -1, side(c[2], c[3]), "top")
        .given(c[3], c[0], -1, side(c[3], c[0]), "left")
        .given(c[0], c[2], 0, side(c[0], c[2]), "diagonal_up");
    width_of(&mut scene, strip, "strip_width", 0.7);
    scene
}
