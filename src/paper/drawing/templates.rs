//! The templates of parts: which there are, and those of single ends.

use super::template::{
    BODY, PAST, SAME, Template, dimension, edges_named, falls_off, finish, is_slanted, named,
    notes, read_from_square, same_edge,
};
use super::whole::{of_marks, whole};
use offsquare_cuts::parts::{Cut, End, Part, StockShape};
use offsquare_cuts::saw::{PartAdvice, SawProfile};
use offsquare_geometry::scene::{Role, Scene};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Style, lower_first};

/// All templates that a piece's parts want: each slanted end of each stick, each stretch with marks,
/// each board whole. What is square all round needs none; parts alike in outline are not repeated.
/// What is written beside each is what this saw's card says.
pub fn templates(parts: &[Part], saw: &SawProfile, style: &Style) -> Vec<Template> {
    let mut all: Vec<Template> = Vec::new();
    for part in parts {
        let made = of_part(part, &saw.advise_part(part), style);
        for template in made {
            // The same figure for another part (the other brace of a pair): one sheet for both.
            match all.iter_mut().find(|t| t.scene == template.scene && t.name == template.name) {
                Some(same) => same.count += template.count,
                None => all.push(template),
            }
        }
    }
    all
}

fn of_part(part: &Part, advice: &PartAdvice, style: &Style) -> Vec<Template> {
    if part.marks.is_empty() && !part.cuts.iter().any(is_slanted) {
        return Vec::new();
    }
    if part.stock == StockShape::Round {
        return super::wrap::wraps(part, advice, style);
    }
    let ends = [End::Left, End::Right];
    let reach = ends.map(|end| end_reach(part, end));
    if part.stock == StockShape::Board || part.length.0 <= reach[0] + reach[1] + BODY {
        return vec![whole(part, advice, style)];
    }
    let mut made = Vec::new();
    let halves_alike = turned_alike(part);
    for end in ends {
        if !cuts_at(part, end).any(is_slanted) || (end == End::Right && halves_alike) {
            continue;
        }
        let mut template = of_end(part, end, advice, style);
        if halves_alike {
            template.name = format!("{} · both ends", part.name);
            template.notes = notes(part, advice, &|c| c.end != End::Along, style);
            let turn = "Turn this paper by half a turn for the other end.";
            template.notes.insert(0, turn.to_owned());
        }
        made.push(template);
    }
    made.extend(of_marks(part, style));
    made
}

fn cuts_at(part: &Part, end: End) -> impl Iterator<Item = &Cut> {
    part.cuts.iter().filter(move |c| c.end == end)
}

/// How far the cuts of an end reach along the part.
fn end_reach(part: &Part, end: End) -> f64 {
    let xs = || cuts_at(part, end).flat_map(|c| [c.from.x, c.to.x]);
    let low = xs().fold(f64::INFINITY, f64::min);
    let high = xs().fold(f64::NEG_INFINITY, f64::max);
    if low <= high { high - low } else { 0.0 }
}

/// Whether half a turn in the plane brings the part onto itself, names of the ends aside.
fn turned_alike(part: &Part) -> bool {
    let turned = |p: Point| Point::new(part.length.0 - p.x, part.seen.0 - p.y);
    let same = |a: Point, b: Point| a.distance(b).0 < SAME;
    let left: Vec<&Cut> = cuts_at(part, End::Left).gather();
    let right: Vec<&Cut> = cuts_at(part, End::Right).gather();
    !left.is_empty()
        && left.len() == right.len()
        && left.iter().all(|l| {
            l.bevel.0 == 0.0
                && right.iter().any(|r| same(turned(r.to), l.from) && same(turned(r.from), l.to))
        })
        && right.iter().all(|r| r.bevel.0 == 0.0)
}

/// The template of one cut end: stock before and after the cut, the line to cut on with an X on the
/// side that falls off, the board's edges, the grain, the angle and the tape mark.
fn of_end(part: &Part, end: End, advice: &PartAdvice, style: &Style) -> Template {
    let cuts: Vec<&Cut> = cuts_at(part, end).gather();
    let xs = || cuts.iter().flat_map(|c| [c.from.x, c.to.x]);
    let low = xs().fold(f64::INFINITY, f64::min);
    let high = xs().fold(f64::NEG_INFINITY, f64::max);
    let (seen, inwards) = (part.seen.0, if end == End::Right { -1.0 } else { 1.0 });
    let body = BODY.max(seen.min(1.25 * BODY));
    let (inner, outer) =
        if inwards > 0.0 { (high + body, low - PAST) } else { (low - body, high + PAST) };
    let mut scene = Scene::new();
    // What falls off: from the stock's end over edge A, along the cuts, back over edge B.
    let mut chain: Vec<Point> = Vec::new();
    for cut in &cuts {
        for p in [cut.from, cut.to] {
            if chain.last().is_none_or(|l| l.distance(p).0 > SAME) {
                chain.push(p);
            }
        }
    }
    let mut waste = vec![Point::new(outer, 0.0)];
    waste.extend(&chain);
    waste.push(Point::new(outer, seen));
    scene.shape(waste, Role::Waste);
    kept_edges(&mut scene, part, &cuts, (end, inner));
    let folded = match cuts[..] {
        [cut] => super::fold::add_edge(&mut scene, part, cut, (inner, outer)),
        _ => false,
    };
    for cut in &cuts {
        scene.line(cut.from, cut.to, Role::Cut);
        falls_off(&mut scene, cut.from, cut.to, Vector::new(-inwards, 0.0));
        measures(&mut scene, cut, seen, folded);
    }
    dimension(
        &mut scene,
        (Point::new(inner, 0.0), Point::new(inner, seen)),
        if inwards > 0.0 { -1 } else { 1 },
        part.seen,
        "seen",
    );
    let from = if inwards > 0.0 { high } else { low };
    named(&mut scene, part, from, inner, seen);
    edges_named(&mut scene, part, (from, inner), folded);
    let mut template = finish(part, scene, style);
    if let Some(first) = cuts.first() {
        let name = first.name.split(" · ").next().unwrap_or_default();
        template.name = match name {
            "" => format!("{} · end", part.name),
            name => format!("{} · {}", part.name, lower_first(name)),
        };
    }
    template.notes = notes(part, advice, &|c| c.end == end, style);
    template
}

/// The outline's edges inside the window that are not cuts, and the line where the template breaks off.
fn kept_edges(scene: &mut Scene, part: &Part, cuts: &[&Cut], (end, inner): (End, f64)) {
    let keeps = |x: f64| {
        if end == End::Right { x >= inner } else { x <= inner }
    };
    let corners = &part.outline.0;
    for i in 0..corners.len() {
        let (a, b) = (corners[i], corners[(i + 1) % corners.len()]);
        if cuts.iter().any(|c| same_edge(c, a, b)) {
            continue;
        }
        let cross = |from: Point, to: Point| from.toward(to, (inner - from.x) / (to.x - from.x));
        match (keeps(a.x), keeps(b.x)) {
            (true, true) => scene.line(a, b, Role::Stock),
            (true, false) => scene.line(a, cross(a, b), Role::Stock),
            (false, true) => scene.line(cross(b, a), b, Role::Stock),
            (false, false) => scene,
        };
    }
    scene.line(Point::new(inner, 0.0), Point::new(inner, part.seen.0), Role::Hidden);
    for (a, b) in &part.marks {
        if keeps(a.x) && keeps(b.x) {
            scene.line(*a, *b, Role::Mark);
        }
    }
}

/// The square line, the reading and the tape mark of a cut that is not square.
fn measures(scene: &mut Scene, cut: &Cut, seen: f64, folded: bool) {
    let run = cut.to.x - cut.from.x;
    if run.abs() < 1e-3 {
        return;
    }
    // Measured along the edge that the cut ends on: edge B, or A for the near facet of a point.
    let on_b = (cut.to.y - seen).abs() < SAME;
    let (foot, tip) = if on_b { (cut.from, cut.to) } else { (cut.to, cut.from) };
    let square = Point::new(foot.x, tip.y);
    read_from_square(scene, cut, foot, square, tip);
    let (a, b) = if square.x < tip.x { (square, tip) } else { (tip, square) };
    dimension(
        scene,
        (a, b),
        // With the edge drawn above the face, its mark stands within.
        if on_b && !folded { 1 } else { -1 },
        Length(run.abs()),
        "tape_mark",
    );
}
