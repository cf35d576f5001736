//! The board on the saw, seen from above and along the blade.

use offsquare_cuts::parts::{Cut, End, Part, Side};
use offsquare_cuts::saw::{
    Advice, Lay, Parted, Position, Remedy, ShortPiece, slopes, standing, wording,
};
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_geometry::{Line, Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, num, say};

/// One cut seen from above: the fence at the top, the operator below, the board against the fence as
/// the advice lays it, the blade's line right across, what falls off hatched with an X, which way the
/// saw swings, and the tape mark along the operator's edge. A tilted blade shows where it leaves the
/// board below (dashed). Of a long board only the end at the blade is shown.
///
/// The fence runs along y = the size across the table, x to the right as the operator sees it.
pub fn seen_from_above(part: &Part, cut: &Cut, advice: &Advice) -> Scene {
    match (advice.lay(), &advice.other_face) {
        (Some(Lay::Away), Some(other)) => match standing(part, cut, other) {
            Some((stands, cut)) => {
                let face = wording::stands(other.stand, &part.sides);
                plan(&stands, &cut, Position::AsDrawn, say!(face))
            }
            None => Scene::new(),
        },
        _ => {
            let up = wording::face_up(advice.position, &part.sides);
            plan(part, cut, advice.position, say!(up))
        }
    }
}

fn plan(part: &Part, cut: &Cut, position: Position, face: offsquare_units::Text) -> Scene {
    let seen = part.seen.0;
    let lean = position.lean(cut.lean);
    // Along the board, from the top of the blade's cut down to the table.
    let (_, down) = slopes(cut.miter, Side::Neither, cut.bevel, lean);
    let through = part.away.map_or(0.0, |a| a.0 * down);
    // The drawn line lies on top, or on the table where the drawn face is down.
    let lift = if position.seen_face_up() { 0.0 } else { -through };
    let place = |p: &Point| {
        let q = laid(part, position, *p);
        if *p == cut.from || *p == cut.to { Point::new(q.x + lift, q.y) } else { q }
    };
    let (from, to) = (place(&cut.from), place(&cut.to));
    let mut scene = Scene::new();
    let blade = Line::through(from, to);
    let across = |y: f64| blade.meets(&Line::through(Point::new(0.0, y), Point::new(1.0, y)));
    let (Some(near), Some(far)) = (across(0.0), across(seen)) else {
        // A rip: the blade runs along the board, which is shown whole.
        scene.shape(part.outline.0.iter().map(place).gather(), Role::Stock);
        scene.line(from, to, Role::Cut);
        return scene;
    };
    let falls_right = (cut.end == End::Left) == position.turned();
    let (low, high) = (near.x.min(far.x), near.x.max(far.x));
    let steep = high - low;
    // Enough of both sides to see how the board lies.
    let (keeps, drops) = (2.6 * seen + 0.5 * steep, 1.2 * seen + 0.3 * steep);
    let (rim, inner) =
        if falls_right { (high + drops, low - keeps) } else { (low - drops, high + keeps) };
    fence(&mut scene, rim.min(inner), rim.max(inner), seen);
    kept(&mut scene, part, &place, inner, falls_right);
    if cut.end != End::Along {
        let waste = vec![near, Point::new(rim, 0.0), Point::new(rim, seen), far];
        scene.shape(waste, Role::Waste);
        scene.add(Item::FallsOff { at: near.middle(far).middle(Point::new(rim, seen / 2.0)) });
        let words = say!("falls off");
        scene.label(Point::new((rim + near.x) / 2.0, -0.25 * seen), words, Role::Waste);
    }
    let body = Point::new((low + inner * 2.0 + high) / 4.0, seen * 0.62);
    scene.label(body, face, Role::Stock);
    if through != 0.0 {
        let below = Vector::new(through, 0.0);
        scene.line(near + below, far + below, Role::Hidden);
    }
    // The blade's line reaches past both edges, as its slot in the table does.
    scene.line(far.toward(near, -0.15), far.toward(near, 1.3), Role::Cut);
    if steep > 1e-6 * seen {
        // The saw swings about a point at the fence.
        let square = Point::new(far.x, 0.0);
        scene.line(far, square, Role::Center);
        scene.add(Item::AngleMark {
            at: far,
            from: Angle(-90.0),
            to: (near - far).direction(),
            value: Quantity::Angle(cut.miter),
            source: Source::Computed(cut.miter_key.unwrap_or("miter")),
        });
        // Along what is cut: of a slope above a shoulder that is not the whole width.
        let (left, right) = (from.x.min(to.x), from.x.max(to.x));
        scene.computed(
            Point::new(left, 0.0),
            Point::new(right, 0.0),
            -1,
            Quantity::Length(Length(right - left)),
            "tape_mark",
        );
    }
    // Below the tape mark, however narrow the board.
    let below = (0.5 * seen).max(0.19 * (rim - inner).abs());
    let you = Point::new((low + inner * 2.0 + high) / 4.0, -below);
    let words = match position.swing(cut.swing) {
        Side::Neither => say!("you stand here"),
        swing => say!(format!("you stand here, swing {}", wording::side(swing))),
    };
    scene.label(you, words, Role::Frame);
    scene
}

/// The blade seen along its cut from where you stand: the board's thickness on the table, the blade
/// leaning as set, what falls off hatched. None where the blade stands upright or the thickness is
/// not known.
pub fn seen_along_blade(part: &Part, cut: &Cut, advice: &Advice) -> Option<Scene> {
    let set = advice.setting();
    let away = advice.lay() == Some(Lay::Away);
    let thick = if away { part.seen.0 } else { part.away?.0 };
    if !(set.bevel.0 > 0.0) || cut.end == End::Along {
        return None;
    }
    let turned = match (&advice.other_face, away) {
        (Some(o), true) => o.stand.turned(),
        _ => advice.position.turned(),
    };
    let falls_right = (cut.end == End::Left) == turned;
    let toward = if set.lean == Side::Left { -1.0 } else { 1.0 };
    let run = toward * thick * num::tan_deg(set.bevel.0);
    let wide = 2.2 * thick + run.abs();
    let (foot, top) = (Point::ORIGIN, Point::new(run, thick));
    let side = |to: f64| vec![foot, Point::new(to, 0.0), Point::new(to, thick), top];
    let keep = if falls_right { -wide } else { wide };
    let mut scene = Scene::new();
    scene.shape(side(keep), Role::Stock);
    scene.shape(side(-keep), Role::Waste);
    scene.add(Item::FallsOff { at: Point::new(-keep * 0.6, thick / 2.0) });
    scene.line(Point::new(-1.2 * wide, 0.0), Point::new(1.2 * wide, 0.0), Role::Frame);
    scene.label(Point::new(keep, -0.25 * thick), say!("table"), Role::Frame);
    scene.line(foot, Point::new(0.0, thick * 1.5), Role::Center);
    scene.line(foot.toward(top, -0.1), foot.toward(top, 1.8), Role::Cut);
    scene.add(Item::AngleMark {
        at: foot,
        from: Angle(90.0),
        to: (top - foot).direction(),
        value: Quantity::Angle(set.bevel),
        source: Source::Computed(cut.bevel_key.unwrap_or("bevel")),
    });
    Some(scene)
}

/// The piece that is kept, up to where the picture breaks off.
fn kept(
    scene: &mut Scene,
    part: &Part,
    place: &dyn Fn(&Point) -> Point,
    inner: f64,
    falls_right: bool,
) {
    let corners: Vec<Point> = part.outline.0.iter().map(place).gather();
    let inside = |p: &Point| (p.x > inner) == falls_right || p.x == inner;
    let mut shown = Vec::new();
    let mut broken = Vec::new();
    for (i, a) in corners.iter().enumerate() {
        let b = &corners[(i + 1) % corners.len()];
        if inside(a) {
            shown.push(*a);
        }
        if inside(a) != inside(b) {
            let at = a.toward(*b, (inner - a.x) / (b.x - a.x));
            shown.push(at);
            broken.push(at);
        }
    }
    if let [a, b] = broken[..] {
        scene.shape(shown.clone(), Role::Face);
        // Open where the board goes on.
        for i in 0..shown.len() {
            let (from, to) = (shown[i], shown[(i + 1) % shown.len()]);
            let cut_off = (from == a && to == b) || (from == b && to == a);
            let role = if cut_off { Role::Hidden } else { Role::Stock };
            scene.line(from, to, role);
        }
    } else {
        scene.shape(shown, Role::Stock);
    }
}

/// Turned work seen from above, as [`Turned`] lays it: the board's end on the saw's fence, its edge along
/// an auxiliary fence that stands square to it, the board running toward the operator, the blade at the
/// complement. None where the advice does not offer it.
pub fn turned_from_above(part: &Part, cut: &Cut, advice: &Advice) -> Option<Scene> {
    let turned = advice.remedies.iter().find_map(|r| match r {
        Remedy::TurnedWork(t) => Some(*t),
        _ => None,
    })?;
    let (seen, needs) = (part.seen.0, turned.needs.0);
    let long = part.length.0.min(2.0 * needs.max(seen));
    let mut scene = Scene::new();
    fence(&mut scene, -3.0 * seen, 3.0 * seen, 0.0);
    // The board hangs down from the fence, its squared end at y = 0. The auxiliary fence is on the left
    // where the saw swings right, and on the right where it swings left: across is away from it.
    let across = if turned.swing == Side::Right { 1.0 } else { -1.0 };
    let aux = 0.3 * seen;
    let at = |x: f64, y: f64| Point::new(across * x, y);
    let block =
        |x: f64, to: f64, y: f64, end: f64| vec![at(x, y), at(to, y), at(to, end), at(x, end)];
    scene.shape(block(-aux, 0.0, -long, 0.0), Role::Frame);
    scene.shape(block(0.0, seen, -long, 0.0), Role::Stock);
    let end = at(seen, -needs);
    scene.shape(vec![Point::ORIGIN, end, at(seen, 0.0)], Role::Waste);
    scene.add(Item::FallsOff { at: at(seen * 0.72, -needs * 0.3) });
    scene.line(Point::ORIGIN.toward(end, -0.15), Point::ORIGIN.toward(end, 1.15), Role::Cut);
    // The clamp, across board and auxiliary fence, on the kept side.
    let grip = -(needs + long) / 2.0;
    let jaw = 0.12 * seen;
    scene.shape(block(-1.4 * aux, seen + 0.4 * aux, grip - jaw, grip + jaw), Role::Mark);
    scene.label(at(seen + 1.2 * aux, grip), say!("clamp"), Role::Mark);
    scene.label(at(-3.0 * aux, -long * 0.4), say!("auxiliary fence"), Role::Frame);
    let face = if turned.seen_face_up { "drawn face up" } else { "drawn face down" };
    scene.label(at(seen / 2.0, -long * 0.85), say!(face), Role::Stock);
    let you = say!(format!("you stand here, swing {}", wording::side(turned.swing)));
    scene.label(at(seen / 2.0, -long - 0.5 * seen), you, Role::Frame);
    let row = if across > 0.0 { -1 } else { 1 };
    scene.computed(end, at(seen, 0.0), row, Quantity::Length(turned.needs), "needs");
    scene.add(Item::AngleMark {
        at: Point::ORIGIN,
        from: Angle(-90.0),
        to: (end - Point::ORIGIN).direction(),
        value: Quantity::Angle(turned.set),
        source: Source::Computed(cut.miter_key.unwrap_or("miter")),
    });
    Some(scene)
}

/// A piece too short to hold, as it is cut: at the end of a longer stick, the cut that parts it off last,
/// the hand on the long side. The piece is drawn as it is made; the end that is cut first lies on the left.
pub fn short_on_stick(part: &Part, short: &ShortPiece) -> Scene {
    let (seen, long) = (part.seen.0, short.stick.0);
    let turned = matches!(short.parted, Parted::LastCut { first: End::Right, .. });
    let piece = if turned { part.mirrored() } else { part.clone() };
    let last = short.length.0;
    let held = long - short.hold.0;
    let at = |x: f64, y: f64| Point::new(x, y);
    let mut scene = Scene::new();
    scene.shape(vec![at(held, 0.0), at(long, 0.0), at(long, seen), at(held, seen)], Role::Frame);
    // Between the piece and what is held lies what its last cuts take.
    let mut waste = vec![at(held, 0.0), at(held, seen)];
    let mut end: Vec<Point> =
        piece.cuts.iter().filter(|c| c.end == End::Right).flat_map(|c| [c.to, c.from]).gather();
    num::sort_by(&mut end, |a, b| b.y.total_cmp(&a.y));
    waste.extend(end);
    scene.shape(waste, Role::Waste);
    scene.shape(piece.outline.0.clone(), Role::Stock);
    let parting = piece.cuts.iter().find(|c| c.end == End::Right);
    if let Some(c) = parting {
        scene.line(c.from.toward(c.to, -0.3), c.from.toward(c.to, 1.3), Role::Cut);
    }
    scene.label(at((held + long) / 2.0, seen / 2.0), say!("hold here"), Role::Frame);
    let words = match short.parted {
        Parted::LastCut { .. } => say!("cut last"),
        Parted::Clamped => say!("once it is off: clamp it"),
    };
    scene.label(at(last, 1.7 * seen), words, Role::Mark);
    scene.computed(at(0.0, 0.0), at(last, 0.0), -1, Quantity::Length(short.length), "length");
    scene.computed(at(0.0, 0.0), at(long, 0.0), -2, Quantity::Length(short.stick), "stick");
    scene
}

pub(super) fn fence(scene: &mut Scene, from: f64, to: f64, at: f64) {
    let thick = (to - from) * 0.035;
    scene.shape(
        vec![
            Point::new(from, at),
            Point::new(to, at),
            Point::new(to, at + thick),
            Point::new(from, at + thick),
        ],
        Role::Frame,
    );
    scene.label(
        Point::new(from.max(to) - 0.12 * (to - from), at + 1.9 * thick),
        say!("fence"),
        Role::Frame,
    );
}

/// Where a point of the part's frame lies on the table.
fn laid(part: &Part, position: Position, p: Point) -> Point {
    let (x, y) = (part.length.0 - p.x, part.seen.0 - p.y);
    match position {
        Position::AsDrawn => p,
        Position::EndOverEnd => Point::new(x, p.y),
        Position::EndForEnd => Point::new(x, y),
        Position::RolledOver => Point::new(p.x, y),
    }
}
