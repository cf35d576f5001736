//! Whether parts that were changed still fit: they run into no other part, and reach all that they lay on.

use super::part::PiecePart;
use offsquare_cuts::assembly::bounds;
use offsquare_geometry::{Body, Plane, Point3};
use offsquare_units::num::Gather;
use offsquare_units::{Text, say};

/// What two parts may share or leave between them, as a share of the piece's size.
const HAIR: f64 = 1e-6;

/// Why a change no longer fits: its number, what of it is to blame ("length"), and a sentence.
#[derive(Clone, Debug, PartialEq)]
pub struct Misfit {
    pub change: usize,
    pub key: &'static str,
    pub text: Text,
}

/// A line of the list while it is changed.
pub struct Row {
    pub part: PiecePart,
    /// Where its pieces stood as the pattern has them.
    stood: Vec<Body>,
    /// The number of the change that cut it differently, and that change's key.
    pub recut: Option<(usize, &'static str)>,
    /// The number of the change that left some of it out.
    pub left_out: Option<usize>,
}

impl Row {
    pub fn of(part: PiecePart) -> Row {
        Row { stood: part.bodies.clone(), part, recut: None, left_out: None }
    }

    /// One of it taken out, with its place.
    pub fn single(&mut self, at: usize) -> Row {
        let taken = |all: &mut Vec<Body>| match at < all.len() {
            true => vec![all.remove(at)],
            false => Vec::new(),
        };
        let (bodies, stood) = (taken(&mut self.part.bodies), taken(&mut self.stood));
        self.part.qty -= 1;
        let part = PiecePart { qty: 1, bodies, ..self.part.clone() };
        Row { part, stood, ..*self }
    }

    fn name(&self) -> String {
        self.part.name.replace('_', " ")
    }
}

/// One body of a row, as it stands now (none: left out) and as it stood.
struct Stand<'a> {
    row: &'a Row,
    now: Option<Near<'a>>,
    before: Near<'a>,
}

/// A body and the box around it.
#[derive(Clone, Copy)]
struct Near<'a> {
    body: &'a Body,
    around: (Point3, Point3),
}

impl<'a> Near<'a> {
    fn of(body: &'a Body) -> Option<Near<'a>> {
        Some(Near { body, around: bounds(body, &body.solid())? })
    }

    fn is_near(&self, other: &Near, by: f64) -> bool {
        let ((a, b), (c, d)) = (self.around, other.around);
        let over = |al: f64, ah: f64, bl: f64, bh: f64| al <= bh + by && bl <= ah + by;
        over(a.x, b.x, c.x, d.x) && over(a.y, b.y, c.y, d.y) && over(a.z, b.z, c.z, d.z)
    }

    fn touches(&self, other: &Near, hair: f64) -> bool {
        self.is_near(other, 2.0 * hair)
            && shared(&grown(self.body, hair), &grown(other.body, hair)) > 0.0
    }

    fn runs_into(&self, other: &Near, size: f64) -> bool {
        self.is_near(other, 0.0) && shared(self.body, other.body) > HAIR * HAIR * size * size * size
    }
}

/// The volume that two bodies share, cubic inches: of the blocks, less what of it either one's bites take.
fn shared(a: &Body, b: &Body) -> f64 {
    let both = |more: &[&[Plane]]| {
        let own = [&a.planes[..], &b.planes].into_iter().chain(more.iter().copied());
        Body::of(own.flatten().copied().gather()).solid().volume()
    };
    let mut volume = both(&[]);
    if !(volume > 0.0) {
        return 0.0;
    }
    for bite in &a.removed {
        volume -= both(&[bite]);
        volume += b.removed.iter().map(|other| both(&[bite, other])).sum::<f64>();
    }
    volume - b.removed.iter().map(|bite| both(&[bite])).sum::<f64>()
}

/// A body a hair larger all around.
fn grown(body: &Body, by: f64) -> Body {
    let moved = |planes: &Vec<Plane>, by: f64| planes.iter().map(|p| p.moved(by)).gather();
    let removed = body.removed.iter().map(|bite| moved(bite, -by)).gather();
    Body { planes: moved(&body.planes, by), removed, round: body.round }
}

/// Of parts that were cut differently or left out, what no longer goes together.
pub fn misfits(rows: &[Row]) -> Vec<Misfit> {
    let mut told = Vec::new();
    if rows.iter().all(|r| r.recut.is_none() && r.left_out.is_none()) {
        return told;
    }
    let stands = rows.iter().flat_map(|row| {
        row.stood.iter().enumerate().filter_map(|(i, body)| {
            let now = row.part.bodies.get(i).and_then(Near::of);
            Some(Stand { row, now, before: Near::of(body)? })
        })
    });
    let stands: Vec<Stand> = stands.gather();
    let far = |s: &Stand| (s.before.around.1 - s.before.around.0).length();
    let size = stands.iter().map(far).fold(0.0, f64::max);
    let mut tell = |(change, key): (usize, &'static str), text: String| {
        told.push(Misfit { change, key, text: say!(text) });
    };
    for (k, stand) in stands.iter().enumerate() {
        let Some(now) = stand.now else { continue };
        let mut others = stands.iter().enumerate().filter(|(l, _)| *l != k).map(|(_, o)| o);
        if let Some(change) = stand.row.recut {
            for other in others {
                let Some(there) = other.now else { continue };
                let name = other.row.name();
                if now.runs_into(&there, size) {
                    let text =
                        format!("Cut so, it runs into the {name}: the change no longer fits.");
                    tell(change, text);
                } else if stand.before.touches(&other.before, HAIR * size)
                    && !now.touches(&there, HAIR * size)
                {
                    let text = format!(
                        "Cut so, it no longer reaches the {name}: the change no longer fits."
                    );
                    tell(change, text);
                }
            }
            continue;
        }
        let hangs = |o: &&Stand| {
            o.now.is_none() && o.row.left_out.is_some() && now.touches(&o.before, HAIR * size)
        };
        let lost = stands.iter().find(hangs).and_then(|o| o.row.left_out);
        let Some(change) = lost.filter(|_| stand.row.part.joined.is_empty()) else { continue };
        if !others.any(|o| o.now.is_some_and(|there| now.touches(&there, HAIR * size))) {
            let text = format!(
                "Without it the {} touches nothing: the change no longer fits.",
                stand.row.name()
            );
            tell((change, "qty"), text);
        }
    }
    told
}
