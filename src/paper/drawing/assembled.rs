//! A whole piece in space: its parts as they stand with its sizes beside them, or moved apart with their
//! names.

use super::solid::{Picture, Wires, around};
use super::view::View;
use offsquare_cuts::assembly::Span;
use offsquare_cuts::layouts::Solution;
use offsquare_cuts::parts::Part;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_geometry::{Body, Plane, Point, Point3, ROUND_SIDES, Vector, Vector3, dot};
use offsquare_units::num;
use offsquare_units::num::Gather;
use offsquare_work::solved::PiecePart;

/// How far each part is moved from the piece's middle when they are shown apart, as a share of the way
/// between the two middles.
const APART: f64 = 0.6;
/// A size is shown unless it is foreshortened to less than this share of its length.
const SHORTEST: f64 = 0.1;

/// A piece put together, worked out once and drawn from many sides.
///
/// ```
/// use offsquare_cuts::layouts::{Detail, Layout};
/// use offsquare_paper::drawing::{Assembled, View};
/// use offsquare_work::patterns;
/// let stand = patterns::find("post_stand").unwrap();
/// let inputs = stand.forms[0].start_inputs(false);
/// let solution = stand.solve(&inputs, Detail::Full).solutions.remove(0);
/// let piece = Assembled::of(&solution);
/// // From straight above the post's middle hides all else: the first part.
/// let above = View::FRONT.turned(0.0, 90.0);
/// assert_eq!(piece.part_at(above, false, offsquare_geometry::Point::ORIGIN, 0.0), Some(0));
/// ```
pub struct Assembled {
    bodies: Vec<Placed>,
    spans: Vec<Span>,
    /// Of each part, with its count where there are more.
    names: Vec<String>,
    middle: Point3,
}

/// One body where it stands.
struct Placed {
    /// Which of the solution's parts.
    part: usize,
    wires: Wires,
    middle: Point3,
}

/// Round holes are drawn by their rims: cut out of the wood, dozens of them would take seconds.
fn wires(body: &Body) -> Wires {
    let is_round = |bite: &&Vec<Plane>| bite.len() > ROUND_SIDES;
    let flat = body.removed.iter().filter(|bite| !is_round(bite)).cloned().gather();
    let plain = Body { removed: flat, ..body.clone() };
    let mut wires = Wires::of(&plain.solid(), body.round.is_some());
    for hole in body.removed.iter().filter(is_round) {
        wires.bore(hole, &body.planes);
    }
    wires
}

fn middle((low, high): (Point3, Point3)) -> Point3 {
    low + (high - low) * 0.5
}

impl Assembled {
    /// Of a solution that says where its parts stand; of another one it is empty.
    pub fn of(solution: &Solution) -> Assembled {
        Assembled::changed(solution, &[])
    }

    /// The same with its parts as the maker changed them, one for each of the solution's.
    pub fn changed(solution: &Solution, changed: &[PiecePart]) -> Assembled {
        let mut bodies = Vec::new();
        let mut whole = None;
        for (part, member) in solution.members.iter().enumerate() {
            for body in changed.get(part).map_or(&member.bodies, |p| &p.bodies) {
                let wires = wires(body);
                if let Some(bounds) = wires.bounds() {
                    whole = Some(whole.map_or(bounds, |w| around(w, bounds)));
                    bodies.push(Placed { part, wires, middle: middle(bounds) });
                }
            }
        }
        let name = |(i, p): (usize, &Part)| match changed.get(i).map_or(p.count, |c| c.qty) {
            0 | 1 => p.name.to_string(),
            n => format!("{} × {n}", p.name),
        };
        Assembled {
            bodies,
            spans: solution.spans.clone(),
            names: solution.parts.iter().enumerate().map(name).gather(),
            middle: whole.map_or(Point3::default(), middle),
        }
    }

    /// How far a body is moved.
    fn moved(&self, body: &Placed, apart: bool) -> Vector3 {
        (body.middle - self.middle) * if apart { APART } else { 0.0 }
    }

    fn picture(&self, view: View, apart: bool) -> Picture<'_> {
        Picture::of(self.bodies.iter().map(|b| (&b.wires, self.moved(b, apart))), view)
    }

    /// Faces in sight filled, edges behind wood told apart. Together with its sizes; `apart`: with the names
    /// of its parts, for sizes are not true then.
    pub fn seen(&self, view: View, apart: bool) -> Scene {
        let mut scene = Scene::new();
        let picture = self.picture(view, apart);
        picture.fill(&mut scene);
        picture.draw(&mut scene);
        if apart {
            scene.items.retain(|i| !matches!(i, Item::Line { role: Role::Hidden, .. }));
            self.name(view, &mut scene);
        } else {
            self.measure(view, &mut scene);
        }
        scene
    }

    /// Which of the solution's parts lies nearest to the eye under a point of that scene, or no further from
    /// it than `reach` inches.
    pub fn part_at(&self, view: View, apart: bool, at: Point, reach: f64) -> Option<usize> {
        const ROUND: [(f64, f64); 8] = [
            (1.0, 0.0),
            (0.0, 1.0),
            (-1.0, 0.0),
            (0.0, -1.0),
            (0.7, 0.7),
            (-0.7, 0.7),
            (-0.7, -0.7),
            (0.7, -0.7),
        ];
        let picture = self.picture(view, apart);
        let rings = [0.5, 1.0].into_iter().flat_map(|share| {
            ROUND.map(|(x, y)| at + Vector::new(x * share * reach, y * share * reach))
        });
        let body =
            picture.nearest(at).or_else(|| rings.into_iter().find_map(|p| picture.nearest(p)));
        body.map(|b| self.bodies[b].part)
    }

    /// One name a part, on its body that is nearest to the eye.
    fn name(&self, view: View, scene: &mut Scene) {
        let toward = view.axes()[2];
        for (part, name) in self.names.iter().enumerate() {
            let places = self.bodies.iter().filter(|b| b.part == part);
            let place = places
                .map(|b| b.middle + self.moved(b, true))
                .reduce(|a, b| if (b - a).dot(toward) > 0.0 { b } else { a });
            if let Some(place) = place {
                scene.label(view.seen(place), name.clone(), Role::Mark);
            }
        }
    }

    /// Dimension lines beside the whole piece, each in its direction in space; those that would lie in one
    /// another stand in rows, short ones nearer.
    fn measure(&self, view: View, scene: &mut Scene) {
        let Some((low, high)) = scene.bounds() else { return };
        let hair = (high - low).length() * 1e-6;
        let outline: Vec<Point> =
            scene.items.iter().filter_map(Item::outline).flatten().copied().gather();
        let mut sizes: Vec<Size> = Vec::new();
        let spans = self.spans.iter().filter_map(|s| Size::of(s, view).map(|size| (size, s)));
        let mut spans: Vec<(Size, &Span)> = spans.gather();
        num::sort_by(&mut spans, |a, b| a.0.long().total_cmp(&b.0.long()));
        for (mut size, span) in spans {
            size.leave(&outline, hair);
            while sizes.iter().any(|s| s.lies_in(&size)) {
                size.row += 1;
            }
            let row = if size.is_left { size.row } else { -size.row };
            let Size { from, to, aside, .. } = size;
            let (value, source) = (span.value, span.source);
            scene.add(Item::Dimension { from, to, row, aside, value, source });
            sizes.push(size);
        }
    }
}

/// A size in the picture.
struct Size {
    from: Point,
    to: Point,
    /// Square to the stretch, to the side on which its line is drawn; one inch long.
    square: Vector,
    is_left: bool,
    /// Where its extension lines lead; one inch long until it has left the outline.
    aside: Vector,
    row: i8,
}

impl Size {
    /// None where it is seen end on.
    fn of(span: &Span, view: View) -> Option<Size> {
        let (from, to) = (view.seen(span.from), view.seen(span.to));
        let along = (to - from).unit()?;
        if (to - from).length() < SHORTEST * (span.to - span.from).length() {
            return None;
        }
        let leads = view.seen(Point3::default() + span.aside) - Point::ORIGIN;
        let left = along.left();
        let is_left = dot(leads, left) >= 0.0;
        let square = if is_left { left } else { -left };
        // Seen end on it leads nowhere: then square to the stretch.
        let aside = if leads.length() < SHORTEST { square } else { leads.unit()? };
        Some(Size { from, to, square, is_left, aside, row: 1 })
    }

    fn long(&self) -> f64 {
        (self.to - self.from).length()
    }

    /// Moves its line aside until it lies outside of all that is drawn; to the other side where the way out
    /// is far shorter there.
    fn leave(&mut self, outline: &[Point], hair: f64) {
        let out =
            |way: Vector| outline.iter().map(|p| dot(*p - self.from, way)).fold(0.0, f64::max);
        let lean = dot(self.aside, self.square);
        let (way, lean) = if lean < 0.4 { (self.square, 1.0) } else { (self.aside, lean) };
        let (far, other) = (out(self.square) / lean, out(-self.square));
        if far > 2.0 * other + hair {
            (self.square, self.is_left) = (-self.square, !self.is_left);
            self.aside = self.square * other.max(hair);
        } else {
            self.aside = way * far.max(hair);
        }
    }

    /// Whether the two lines share a stretch.
    fn lies_in(&self, other: &Size) -> bool {
        let along = self.square.left();
        let shares = |s: &Size| {
            let [a, b] = [s.from, s.to].map(|p| dot(p + s.aside - Point::ORIGIN, along));
            (a.min(b), a.max(b))
        };
        let ((a, b), (c, d)) = (shares(self), shares(other));
        self.row == other.row && dot(self.square, other.square) > 0.99 && a < d && c < b
    }
}
