//! Where a trug's parts stand.

use super::super::sticks::{block, level, pair, plane};
use super::sizes::Made;
use offsquare_cuts::assembly::{Hole, Member, Rips};
use offsquare_cuts::layouts::Answers;
use offsquare_geometry::{Body, Plane, Point, Point3, Vector3};
use offsquare_units::{Angle, Length};

impl Made {
    /// The right side's inner faces: upright below the shoulder, and sloping above it.
    pub fn faces(&self) -> (Plane, Plane) {
        let (base, top) = (self.base / 2.0, self.top / 2.0);
        let outward = Vector3::new(self.height - self.shoulder, 0.0, base - top);
        let slope = Plane::through(Point3::new(base, 0.0, self.shoulder), outward);
        let upright = plane((1.0, 0.0, 0.0), base);
        (upright, slope.unwrap_or(upright))
    }

    /// What fills the ends' outline between two heights, from one y to the other.
    fn filling(&self, (low, high): (f64, f64), (from, to): (f64, f64)) -> Body {
        let (upright, slope) = self.faces();
        let bent = low < self.shoulder && self.shoulder < high;
        let mut planes = vec![
            plane((0.0, 0.0, -1.0), -low),
            plane((0.0, -1.0, 0.0), -from),
            plane((0.0, 1.0, 0.0), to),
        ];
        // A gable's slopes meet in a ridge.
        if self.half_at(high) > 0.0 {
            planes.push(plane((0.0, 0.0, 1.0), high));
        }
        let both = |p: Plane| [p, plane((-p.normal.x, 0.0, p.normal.z), p.at)];
        if !(bent && self.flares()) {
            planes.extend((low < self.shoulder).then(|| both(upright)).into_iter().flatten());
            planes.extend((self.shoulder < high).then(|| both(slope)).into_iter().flatten());
            return Body::of(planes);
        }
        // Inside corners: a block as wide as its top, less what lies outside of both faces.
        planes.extend(both(plane((1.0, 0.0, 0.0), self.half_at(high))));
        let outline = [
            (self.half_at(low), low),
            (self.half_at(high), low),
            (self.half_at(high), high),
            (self.half_at(low), self.shoulder),
        ];
        // Counter-clockwise seen from the front, and pushed toward it.
        let corners = outline.map(|(x, z)| Point3::new(x, to, z));
        let bite = Body::prism(&corners, Vector3::new(0.0, from - to, 0.0));
        Body::of(planes).less(bite.mirrored_x()).less(bite)
    }

    /// The parts where they stand, in the cut list's order: the layout's, then the handle.
    pub fn members(&self, answers: &Answers) -> Vec<Member> {
        let (y, z) = (self.length / 2.0, self.height);
        let inside = y - self.end;
        let point = Point3::new;
        let (upright, slope) = self.faces();
        let along = [plane((0.0, -1.0, 0.0), y), plane((0.0, 1.0, 0.0), y)];
        let board = |inner: Plane, low: f64, high: f64| {
            let faces = [inner.flipped(), inner.moved(self.side)];
            Body::of([faces, along, level(low, high)].concat())
        };

        let dowel = (self.handle == "dowel").then(|| self.dowel()).flatten();
        let end = |from: f64, to: f64| {
            let whole = self.filling((0.0, z), (from, to));
            match &dowel {
                Some(dowel) => whole.less(dowel.clone()),
                None => whole,
            }
        };
        // The layout tells how far a rip is tilted; here, to which side.
        let tilt = |key| {
            let tilt = answers.quantity(key).map_or(0.0, |q| q.number());
            Angle(if self.flares() { tilt } else { -tilt })
        };
        let rips = |near: Angle, far: Angle| (near.0 != 0.0).then_some(Rips { near, far });
        // Outside up, lower edge toward you: leaning in, the outer face reaches further at the lower edge.
        let out = tilt("left_side.rip_bevel_deg");
        let mut members = vec![Member {
            holes: dowel.iter().map(|_| self.hole()).collect(),
            ..Member::of("end", vec![end(-y, -inside), end(inside, y)])
        }];
        members.push(Member {
            rips: rips(-out, out),
            ..Member::of("side", pair(board(slope, self.shoulder, z)))
        });
        if self.shoulder > 0.0 {
            members.push(Member::of("side", pair(board(upright, 0.0, self.shoulder))));
        }

        let (low, high) = (self.half_at(0.0), self.half_at(self.floor));
        let edge = Plane::through(point(low, 0.0, 0.0), Vector3::new(self.floor, 0.0, low - high));
        let edges = edge.into_iter().flat_map(|e| [e, plane((-e.normal.x, 0.0, e.normal.z), e.at)]);
        let ends = [plane((0.0, -1.0, 0.0), inside), plane((0.0, 1.0, 0.0), inside)];
        let top = if high > 0.0 { 2 } else { 1 };
        let faces = level(0.0, self.floor).into_iter().take(top);
        let bevel = tilt("floor_left_bevel_deg");
        members.push(Member {
            rips: rips(bevel, bevel),
            ..Member::of("floor", vec![Body::of(edges.chain(ends).chain(faces).collect())])
        });
        if self.divider > 0.0 {
            let half = self.end / 2.0;
            let divider = self.filling((self.floor, self.divider), (-half, half));
            members.push(Member::of("divider", vec![divider]));
        }
        let handle = match self.handle {
            "dowel" => dowel,
            "strip" => {
                let x = self.strip / 2.0;
                Some(block([-x, x], [-inside, inside], [self.handle_bottom(), z]))
            }
            _ => None,
        };
        members.extend(handle.map(|body| Member::of("handle", vec![body])));
        members
    }

    /// Flush with both ends, a corner of its prism looking up.
    fn dowel(&self) -> Option<Body> {
        let at = |y| Point3::new(0.0, y, self.height - 1.5 * self.handle_size);
        let (y, d) = (self.length / 2.0, self.handle_size);
        Body::round(at(-y), at(y), [d, d], Vector3::new(0.0, 0.0, 1.0))
    }

    /// On an end's face, which begins where its outline does.
    fn hole(&self) -> Hole {
        let middle = self.base.max(self.top) / 2.0;
        Hole {
            at: Point::new(middle, self.height - 1.5 * self.handle_size),
            diameter: Length(self.handle_size),
            depth: None,
        }
    }
}
