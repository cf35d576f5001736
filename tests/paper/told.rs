//! What a sentence at the saw tells a maker, read back from its words, and the piece laid on the saw as it
//! tells: a body turned by the names of its faces, a blade swung and tilted by its words.

use offsquare_cuts::parts::Side;
use offsquare_cuts::saw::Advice;
use offsquare_units::{Length, Style, say};

pub type V = [f64; 3];

pub fn dot(a: V, b: V) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
pub fn cross(a: V, b: V) -> V {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}
pub fn times(a: V, k: f64) -> V {
    a.map(|x| x * k)
}
pub fn minus(a: V, b: V) -> V {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}
pub fn unit(a: V) -> V {
    times(a, 1.0 / dot(a, a).sqrt())
}

/// Setting, lay and stop block of one cut, as words.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// "10.0°" and to which side; none where the saw is square.
    pub swing: Option<(String, Side)>,
    pub tilt: Option<(String, Side)>,
    pub lay: Lay,
    /// "18 5/8 in", and "18 13/16 in" on the upper face.
    pub stop: Option<(String, Option<String>)>,
}

/// Which of the piece's names faces where.
#[derive(Clone, Debug, PartialEq)]
pub enum Lay {
    Flat { face: String, up: bool, at_fence: String, end: String, to_the_left: bool },
    OnEdge { down: String, face: String, at_fence: bool, end: String, to_the_left: bool },
}

fn side(word: &str) -> Side {
    match word {
        "left" => Side::Left,
        "right" => Side::Right,
        _ => panic!("a side, not {word}"),
    }
}

/// "10.0° right, a click stop" is 10.0° and right.
fn angle(words: &str) -> (String, Side) {
    let mut parts = words.split([' ', ',']);
    (parts.next().expect("an angle").to_owned(), side(parts.next().expect("a side")))
}

/// "the foot to the right"
fn end(words: &str) -> (String, bool) {
    let (end, to) = words.trim_start_matches("the ").split_once(" to the ").expect("an end");
    (end.to_owned(), side(to) == Side::Left)
}

fn lay(text: &str) -> Lay {
    let ways =
        ["Lay it as drawn: ", "Turn it end for end: ", "Flip it end over end: ", "Roll it over: "];
    if let Some(words) = ways.iter().find_map(|w| text.split(w).nth(1)) {
        let words: Vec<&str> = words.split('.').next().expect("a sentence").split(", ").collect();
        let (face, up) = words[0].rsplit_once(' ').expect("a face");
        assert!(up == "up" || up == "down", "{text}");
        let edge = words[1].strip_suffix(" at the fence").expect("an edge");
        let (end, to_the_left) = end(words[2]);
        return Lay::Flat {
            face: face.to_owned(),
            up: up == "up",
            at_fence: edge.trim_start_matches("the ").to_owned(),
            end,
            to_the_left,
        };
    }
    let words = text.split("Stand it on its ").nth(1).unwrap_or_else(|| panic!("no lay in {text}"));
    let words = words.split('.').next().expect("a sentence");
    let (down, rest) = words.split_once(": ").expect("an edge");
    let (face, points) = rest.split_once(", ").expect("a face");
    let face = face.trim_start_matches("the ");
    let against = face.strip_suffix(" against the fence");
    let (end, to_the_left) = end(points);
    Lay::OnEdge {
        down: down.to_owned(),
        face: against.or_else(|| face.strip_suffix(" toward you")).expect("a face").to_owned(),
        at_fence: against.is_some(),
        end,
        to_the_left,
    }
}

/// What a cut's sentences tell; none where they set no saw.
pub fn read(text: &str) -> Option<Told> {
    let set = text.split("Set the saw ").nth(1)?;
    let set = set.split_once(". ").map_or(set, |s| s.0);
    let (miter, bevel) = set.split_once("; ").expect("miter and blade");
    // Another way that is offered, "Or with its wide side on the table", is another cut.
    let text = text.split("Or with its").next().expect("the first way");
    Some(Told {
        swing: miter.strip_prefix("to ").map(angle),
        tilt: bevel.strip_prefix("tilt the blade ").map(angle),
        lay: lay(text),
        stop: text.split("Stop block: ").nth(1).map(|s| {
            let table = s.split(" from the stop").next().expect("a length").to_owned();
            let upper =
                s.split("on the table; ").nth(1).and_then(|s| s.split(" on the upper").next());
            (table, upper.map(str::to_owned))
        }),
    })
}

/// Where a piece's names face, in any frame of its own.
pub struct Body<'a> {
    pub face: (&'a str, V),
    pub edges: [(&'a str, V); 2],
    pub ends: [(&'a str, V); 2],
}

impl Body<'_> {
    fn edge(&self, name: &str) -> V {
        self.edges.iter().find(|e| e.0 == name).unwrap_or_else(|| panic!("no {name}")).1
    }
    /// The saw's axes in the body's frame, when it lies as told: to the right, to the fence, up.
    pub fn laid(&self, lay: &Lay) -> [V; 3] {
        let sign = |yes: bool| if yes { 1.0 } else { -1.0 };
        let (fence, up, end, left) = match lay {
            Lay::Flat { face, up, at_fence, end, to_the_left } => {
                assert_eq!(face, self.face.0);
                (self.edge(at_fence), times(self.face.1, sign(*up)), end, to_the_left)
            }
            Lay::OnEdge { down, face, at_fence, end, to_the_left } => {
                assert_eq!(face, self.face.0);
                (
                    times(self.face.1, sign(*at_fence)),
                    times(self.edge(down), -1.0),
                    end,
                    to_the_left,
                )
            }
        };
        let right = cross(fence, up);
        let end = self.ends.iter().find(|e| e.0 == end).unwrap_or_else(|| panic!("no {end}")).1;
        assert_eq!(dot(end, right) < 0.0, *left, "where the end points");
        [right, fence, up]
    }
}

/// Normal of the blade's plane: x to the right, y to the fence, z up. Swung left, the operator's end of the cut lies
/// left of its fence end; leaning left, the top of the blade leans left (LAYOUTS, The saw).
pub fn blade(miter: f64, swing: Option<Side>, bevel: f64, lean: Option<Side>) -> V {
    let signed = |angle: f64, side: Option<Side>| match side {
        Some(Side::Right) => -angle.to_radians(),
        Some(Side::Left) => angle.to_radians(),
        _ => 0.0,
    };
    let (m, b) = (signed(miter, swing), signed(bevel, lean));
    let line = [m.sin(), m.cos(), 0.0];
    let right = [m.cos(), -m.sin(), 0.0];
    cross(line, [-b.sin() * right[0], -b.sin() * right[1], b.cos()])
}

/// A plane by its normal and a point, and a cut made along it.
#[derive(Clone, Copy)]
pub struct Plane {
    pub normal: V,
    pub at: V,
}

impl Plane {
    fn turned(&self, axes: &[V; 3]) -> Plane {
        let turn = |v: V| axes.map(|a| dot(a, v));
        Plane { normal: turn(self.normal), at: turn(self.at) }
    }
    /// How far to the right the plane is passed at a place of the section.
    fn right(&self, fence: f64, up: f64) -> f64 {
        let n = self.normal;
        self.at[0] - (n[1] * (fence - self.at[1]) + n[2] * (up - self.at[2])) / n[0]
    }
}

/// The blade as told is the cut's plane; the stop as told is where the other end's furthest corner comes to
/// stand, the stick square. `section`: corners of the stick before any rip, in the body's frame.
pub fn check(
    told: &Told,
    a: &Advice,
    body: &Body,
    [cut, other]: [Plane; 2],
    section: &[V],
    what: &str,
) {
    let axes = body.laid(&told.lay);
    let set = a.setting();
    let side = |t: &Option<(String, Side)>| t.as_ref().map(|t| t.1);
    let is = blade(set.miter.0, side(&told.swing), set.bevel.0, side(&told.tilt));
    let (cut, other) = (cut.turned(&axes), other.turned(&axes));
    assert!(dot(is, cut.normal).abs() > 1.0 - 1e-9, "{told:?} {is:?} {:?} {what}", cut.normal);
    let ranges = [axes[1], axes[2]].map(|axis| {
        let on = || section.iter().map(|p| dot(*p, axis));
        (on().fold(f64::INFINITY, f64::min), on().fold(f64::NEG_INFINITY, f64::max))
    });
    let [(far, fence), (table, top)] = ranges;
    let Some((at_table, on_upper)) = &told.stop else {
        return;
    };
    let toward = (cut.right(fence, table) - other.right(fence, table)).signum();
    let tip = [(far, table), (far, top), (fence, table), (fence, top)]
        .map(|(y, z)| other.right(y, z) * -toward)
        .into_iter()
        .fold(f64::NEG_INFINITY, f64::max)
        * -toward;
    let long = |up: f64| Length((cut.right(fence, up) - tip).abs());
    let words = |l: Length| say!(l).render(&Style::default());
    assert_eq!(at_table, &words(long(table)), "on the table {told:?} {what}");
    let stop = a.stop_block.as_ref().expect("a stop");
    assert!((stop.setting.0 - long(table).0).abs() < 1e-9, "{stop:?} {what}");
    match on_upper {
        Some(upper) => assert_eq!(upper, &words(long(top)), "on the upper face {what}"),
        None => assert!((long(top).0 - long(table).0).abs() < 1e-9, "{stop:?} {what}"),
    }
}
