//! A step of a run: the board as it lies at the blade, and what is marked on a part's face.

use super::plan_view::fence;
use offsquare_cuts::assembly::Hole;
use offsquare_cuts::parts::{Part, Side};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_units::num::{self, Gather};
use offsquare_units::{Angle, Length, Quantity, say};
use offsquare_work::walk::{AtSaw, Stage, Walk};

/// What one side of the kerf is.
enum Chunk {
    /// A part, by its name.
    Part(String),
    /// More of the board, or what is left of it.
    Board(&'static str),
    Falls,
}

/// Shorter than so many widths, what no part needs falls off.
const SHORT: f64 = 6.0;

/// The board at the blade, seen from above as the operator stands: fence at the top, parts on both sides of the kerf by
/// name, what falls off hatched, where it is held, how far the saw swings; a leaning blade dashed where it leaves the
/// board below. Of a long board only what lies at the blade is shown.
///
/// The fence runs along y = the board's width, x as on the board.
pub fn board_at_blade(walk: &Walk, stage: &Stage, cut: &AtSaw) -> Scene {
    let mut scene = Scene::new();
    let Some(board) = walk.board(stage.tick.board) else { return scene };
    let Some(seen) = walk.jobs.jobs[board.job].instance.sticks().map(|i| i.width) else {
        return scene;
    };
    let c = &cut.cutting;
    let set = cut.set_up.setting;
    // Rolled over, the near edge lies at the fence.
    let lies = |(near, far): (f64, f64)| if c.flipped { (far, near) } else { (near, far) };
    let by = if c.waste == Side::Right { cut.along } else { -cut.along };
    let face = lies((c.near, c.far));
    let other = (face.0 + by, face.1 + by);
    let (left, right) = if by > 0.0 { (face, other) } else { (other, face) };
    let steep = (face.0 - face.1).abs();
    let reach = 1.6 * seen + 0.6 * steep;
    let middle = (face.0 + face.1) / 2.0;
    let (from, to) = (lies(cut.wood[0]), lies(cut.wood[1]));
    let shown = (middle - reach, middle + reach);
    fence(&mut scene, shown.0, shown.1, seen);
    let at = |x: f64, fence: bool| Point::new(x, if fence { seen } else { 0.0 });
    let mut chunk = |what: Chunk, near: (f64, f64), end: (f64, f64), rim: f64| {
        let ends = |x: f64| if near.0 < rim { x.min(rim) } else { x.max(rim) };
        let end = (ends(end.0), ends(end.1));
        let goes_on = end == (rim, rim);
        let outline = vec![at(near.0, false), at(end.0, false), at(end.1, true), at(near.1, true)];
        let center = Point::new((near.0 + near.1 + end.0 + end.1) / 4.0, seen * 0.5);
        let role = if matches!(what, Chunk::Falls) { Role::Waste } else { Role::Stock };
        if role == Role::Stock && goes_on {
            // Open where the board goes on.
            scene.shape(outline.clone(), Role::Face);
            scene.line(outline[0], outline[1], Role::Stock);
            scene.line(outline[2], outline[3], Role::Stock);
            scene.line(outline[3], outline[0], Role::Stock);
        } else {
            scene.shape(outline, role);
        }
        match what {
            Chunk::Part(name) => drop(scene.label(center, say!(name), Role::Stock)),
            Chunk::Board(words) => drop(scene.label(center, say!(words), Role::Stock)),
            Chunk::Falls => drop(scene.add(Item::FallsOff { at: center })),
        }
    };
    let on_side = |place: Option<u32>, right: bool| match place {
        Some(place) => Chunk::Part(walk.short_name((stage.tick.board, place))),
        None => {
            // Beyond the part on the other side there may be others.
            let more = match (right, cut.sides) {
                (true, [Some(place), _]) => place as usize + 1 < board.cut.parts.len(),
                (false, [_, Some(place)]) => place > 0,
                _ => false,
            };
            let room = if right { to.0 - middle } else { middle - from.0 };
            match (more, room > SHORT * seen) {
                (true, _) => Chunk::Board("the board goes on"),
                (false, true) => Chunk::Board("left over"),
                (false, false) => Chunk::Falls,
            }
        }
    };
    chunk(on_side(cut.sides[0], false), left, from, shown.0);
    chunk(on_side(cut.sides[1], true), right, to, shown.1);
    let (near, far) = (at(face.0, false), at(face.1, true));
    scene.line(far.toward(near, -0.15), far.toward(near, 1.3), Role::Cut);
    if set.bevel > 0.0 {
        let run = num::tan_deg(set.bevel) / num::cos_deg(set.miter) * thick(walk, stage);
        // The blade's top leans; its lower edge lies the other way, and face down the line is on the table.
        let right = (set.lean == Side::Right) == c.flipped;
        let below = if right { run } else { -run };
        scene.line(at(face.0 + below, false), at(face.1 + below, true), Role::Hidden);
    }
    if steep > 1e-6 * seen {
        scene.line(far, at(face.1, false), Role::Center);
        scene.add(Item::AngleMark {
            at: far,
            from: Angle(-90.0),
            to: (near - far).direction(),
            value: Quantity::Angle(Angle(set.miter)),
            source: Source::Computed("miter"),
        });
    }
    let side = if c.held_side == Side::Left { -1.0 } else { 1.0 };
    scene.label(
        Point::new(middle + side * reach * 0.6, -0.3 * seen),
        say!("hold here"),
        Role::Mark,
    );
    scene
}

fn thick(walk: &Walk, stage: &Stage) -> f64 {
    let part = walk.single(stage.tick.board, 0);
    part.map_or(0.0, |(kind, _)| kind.on_board.away.0)
}

/// A part's face with the lines that are marked on it and the holes that are drilled, each where a tape finds it.
pub fn part_on_face(part: &Part, holes: &[Hole]) -> Scene {
    let mut scene = Scene::new();
    scene.shape(part.outline.0.clone(), Role::Stock);
    let bare = part.marks.iter().filter(|m| part.laps.iter().all(|l| !l.shoulders.contains(m)));
    let bare: Vec<_> = bare.gather();
    for (a, b) in &bare {
        scene.line(*a, *b, Role::Mark);
    }
    // Of many marks the list tells where they are.
    for (row, (a, _)) in (1..).zip(bare.iter().take(3)) {
        let to = Point::new(a.x, 0.0);
        scene.computed(Point::ORIGIN, to, -row, Quantity::Length(Length(a.x)), "mark");
    }
    for hole in holes {
        scene.add(Item::Arc {
            center: hole.at,
            radius: hole.diameter.0 / 2.0,
            from: Angle(0.0),
            to: Angle(0.0),
            role: Role::Cut,
        });
    }
    for (row, hole) in (1..).zip(holes.iter().take(3)) {
        let to = Point::new(hole.at.x, 0.0);
        scene.computed(Point::ORIGIN, to, -row, Quantity::Length(Length(hole.at.x)), "hole");
    }
    scene
}
