//! A step of a run: the board as it lies at the blade, and what is marked on a part's face.

use super::plan_view::fence;
use offsquare_cuts::assembly::Hole;
use offsquare_cuts::parts::{Part, Side};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_units::num::Gather;
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

/// A stop block, and what of a board is drawn beside one that is far off, in widths of the board.
const STOP: f64 = 0.3;
const STUB: f64 = 0.5;
const BREAK: f64 = 0.25;

/// Where an end or a face crosses the near edge and the edge at the fence.
type Ends = (f64, f64);

/// How far the picture reaches on one side of the blade.
struct Rim {
    /// -1 on the left, 1 on the right of the blade.
    out: f64,
    /// Beyond it nothing of the board at the blade is shown.
    board: f64,
    /// The board's far end at a stop that is too far off to draw to scale: from where to where it is drawn.
    stub: Option<[f64; 2]>,
    /// The face of the stop.
    stop: Option<f64>,
    end: f64,
}

impl Rim {
    /// `wood`: where the board ends there.
    fn new(inner: f64, out: f64, stop: Option<f64>, wood: Ends, seen: f64) -> Rim {
        let Some(stop) = stop else {
            return Rim { out, board: inner, stub: None, stop: None, end: inner };
        };
        let beyond = |a: f64, b: f64| (a - b) * out > 0.0;
        let from = inner + out * BREAK * seen;
        let to = from + out * (STUB * seen + (wood.0 - wood.1).abs());
        // Near enough to be drawn without a break.
        let (board, face, stub) = match beyond(stop, to) {
            true => (inner, to, Some([from, to])),
            false if beyond(stop, inner) => (stop, stop, None),
            false => (inner, stop, None),
        };
        let end = face + out * STOP * seen;
        let end = if beyond(end, inner) { end } else { inner };
        Rim { out, board, stub, stop: Some(face), end }
    }
}

/// The board at the blade, seen from above as the operator stands: fence at the top, parts on both sides of the kerf by
/// name, what falls off hatched, where it is held, how far the saw swings, with the tape mark for it; the stop, and how far
/// it stands from the blade; a leaning blade dashed where it leaves the board below. Of a long board only what lies at the
/// blade and at the stop is shown.
///
/// The fence runs along y = the board's width, x as on the board.
pub fn board_at_blade(walk: &Walk, stage: &Stage, cut: &AtSaw) -> Scene {
    let mut scene = Scene::new();
    let Some(board) = walk.board(stage.tick.board) else { return scene };
    let Some(seen) = walk.jobs.jobs[board.job].instance.sticks().map(|i| i.width) else {
        return scene;
    };
    let c = &cut.cutting;
    // Rolled over, the near edge lies at the fence.
    let lies = |(near, far): Ends| if c.flipped { (far, near) } else { (near, far) };
    let faces = cut.cutting.faces().map(lies);
    let wood = cut.cutting.wood.map(lies);
    let steep = (faces[0].0 - faces[0].1).abs();
    let reach = 1.6 * seen + 0.6 * steep;
    let middle = (faces[0].0 + faces[1].1) / 2.0;
    let rims = [Side::Left, Side::Right].map(|side| {
        let (at, out) = if side == Side::Left { (0, -1.0) } else { (1, 1.0) };
        let stop = cut.set_up.stop.filter(|s| s.side == side);
        Rim::new(middle + out * reach, out, stop.map(|s| faces[at].1 + out * s.at), wood[at], seen)
    });
    fence(&mut scene, rims[0].end, rims[1].end, seen);
    for (at, rim) in rims.iter().enumerate() {
        let what = on_side(walk, stage, cut, at, (middle, wood[at], seen));
        chunk(&mut scene, what, (faces[at], wood[at]), rim.board, seen);
        if let (Some(face), Some(stop)) = (rim.stop, cut.set_up.stop) {
            against_stop(&mut scene, (rim, face), wood[at], seen);
            let row = if steep > 1e-6 * seen { -2 } else { -1 };
            let (from, to) = (Point::new(face, 0.0), Point::new(faces[at].1, 0.0));
            scene.computed(from, to, row, Quantity::Length(Length(stop.at)), "stop");
        }
    }
    blade(&mut scene, (walk, stage, cut), faces, seen);
    let held = usize::from(c.held_side != Side::Left);
    let at = Point::new((middle + rims[held].board) / 2.0, -0.3 * seen);
    scene.label(at, say!("hold here"), Role::Mark);
    scene
}

/// A point on one of the board's edges as it lies.
fn on_edge(x: f64, fence: bool, seen: f64) -> Point {
    Point::new(x, if fence { seen } else { 0.0 })
}

/// What lies left (0) or right (1) of the kerf.
fn on_side(
    walk: &Walk,
    stage: &Stage,
    cut: &AtSaw,
    side: usize,
    (middle, end, seen): (f64, Ends, f64),
) -> Chunk {
    if let Some(place) = cut.sides[side] {
        return Chunk::Part(walk.short_name((stage.tick.board, place)));
    }
    let end = if side == 0 { end.0.max(end.1) } else { end.0.min(end.1) };
    match (cut.goes_on[side], (end - middle).abs() > SHORT * seen) {
        (true, _) => Chunk::Board("the board goes on"),
        (false, true) => Chunk::Board("left over"),
        (false, false) => Chunk::Falls,
    }
}

/// One side of the kerf, from its face to the wood's end or to where the picture breaks off.
fn chunk(scene: &mut Scene, what: Chunk, (near, end): (Ends, Ends), rim: f64, seen: f64) {
    let ends = |x: f64| if near.0 < rim { x.min(rim) } else { x.max(rim) };
    let end = (ends(end.0), ends(end.1));
    let at = |x: f64, fence: bool| on_edge(x, fence, seen);
    let outline = vec![at(near.0, false), at(end.0, false), at(end.1, true), at(near.1, true)];
    let center = Point::new((near.0 + near.1 + end.0 + end.1) / 4.0, seen * 0.5);
    let role = if matches!(what, Chunk::Falls) { Role::Waste } else { Role::Stock };
    if role == Role::Stock && end == (rim, rim) {
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
}

/// The stop block, and the far end of the board where it touches that further off.
fn against_stop(scene: &mut Scene, (rim, face): (&Rim, f64), wood: Ends, seen: f64) {
    let at = |x: f64, fence: bool| on_edge(x, fence, seen);
    if let Some([from, to]) = rim.stub {
        let tip = if to < from { wood.0.min(wood.1) } else { wood.0.max(wood.1) };
        let corners = [
            at(from, false),
            at(to + wood.0 - tip, false),
            at(to + wood.1 - tip, true),
            at(from, true),
        ];
        scene.shape(corners.to_vec(), Role::Face);
        for i in 0..3 {
            scene.line(corners[i], corners[i + 1], Role::Stock);
        }
    }
    let back = face + rim.out * STOP * seen;
    let block = [at(face, false), at(back, false), at(back, true), at(face, true)];
    scene.shape(block.to_vec(), Role::Frame);
    scene.label(Point::new((face + back) / 2.0, -0.3 * seen), say!("stop"), Role::Frame);
}

/// The blade's line through the board, below it where it leans, and how far it swings.
fn blade(
    scene: &mut Scene,
    (walk, stage, cut): (&Walk, &Stage, &AtSaw),
    [left, right]: [Ends; 2],
    seen: f64,
) {
    let (c, set) = (&cut.cutting, cut.set_up.setting);
    let face = if c.waste == Side::Right { left } else { right };
    let at = |x: f64, fence: bool| on_edge(x, fence, seen);
    let (near, far) = (at(face.0, false), at(face.1, true));
    scene.line(far.toward(near, -0.15), far.toward(near, 1.3), Role::Cut);
    if set.bevel > 0.0 {
        // The blade's top leans; its lower edge lies the other way, and face down the line is on the table.
        let below = cut.back(thick(walk, stage));
        scene.line(at(face.0 + below, false), at(face.1 + below, true), Role::Hidden);
    }
    if (face.0 - face.1).abs() > 1e-6 * seen {
        scene.line(far, at(face.1, false), Role::Center);
        scene.add(Item::AngleMark {
            at: far,
            from: Angle(-90.0),
            to: (near - far).direction(),
            value: Quantity::Angle(Angle(set.miter)),
            source: Source::Computed("miter"),
        });
        let (from, to) = (at(face.0.min(face.1), false), at(face.0.max(face.1), false));
        let run = Quantity::Length(Length((face.0 - face.1).abs()));
        scene.computed(from, to, -1, run, "tape_mark");
    }
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
