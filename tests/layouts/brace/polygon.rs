//! The brace as a polygon, constructed apart from the core: an endless band clipped by the opening.

pub type P = (f64, f64);
pub type Quad = [P; 4];

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Landing {
    Corner,
    Rails,
    Stiles,
    EdgeBelow,
    EdgeAbove,
}

pub const ALL: [Landing; 5] =
    [Landing::Corner, Landing::Rails, Landing::Stiles, Landing::EdgeBelow, Landing::EdgeAbove];

impl Landing {
    pub fn key(self) -> &'static str {
        match self {
            Landing::Corner => "corner",
            Landing::Rails => "rails",
            Landing::Stiles => "stiles",
            _ => "edge",
        }
    }
    pub fn side(self) -> &'static str {
        if self == Landing::EdgeAbove { "above" } else { "below" }
    }
}

pub fn minus(a: P, b: P) -> P {
    (a.0 - b.0, a.1 - b.1)
}
pub fn dot(a: P, b: P) -> f64 {
    a.0 * b.0 + a.1 * b.1
}
pub fn cross(a: P, b: P) -> f64 {
    a.0 * b.1 - a.1 * b.0
}
pub fn distance(a: P, b: P) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

pub fn rectangle(w: f64, h: f64) -> Quad {
    [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]
}

/// What of a convex polygon lies to the left of the line through `a` along `d` (Sutherland and Hodgman's clipping).
pub fn clip(polygon: &[P], a: P, d: P) -> Vec<P> {
    let side = |p: P| cross(d, minus(p, a));
    let mut out = Vec::new();
    for i in 0..polygon.len() {
        let (p, q) = (polygon[i], polygon[(i + 1) % polygon.len()]);
        let (sp, sq) = (side(p), side(q));
        if sp >= 0.0 {
            out.push(p);
        }
        if (sp > 0.0 && sq < 0.0) || (sp < 0.0 && sq > 0.0) {
            let t = sp / (sp - sq);
            out.push((p.0 + t * (q.0 - p.0), p.1 + t * (q.1 - p.1)));
        }
    }
    let close = |a: P, b: P| distance(a, b) < 1e-10 * (1.0 + a.0.abs() + a.1.abs());
    out.dedup_by(|a, b| close(*a, *b));
    while out.len() > 1 && close(out[0], out[out.len() - 1]) {
        out.pop();
    }
    out
}

/// What two convex polygons share.
pub fn shared(a: &[P], b: &[P]) -> Vec<P> {
    let mut out = a.to_vec();
    for i in 0..b.len() {
        let (p, q) = (b[i], b[(i + 1) % b.len()]);
        out = clip(&out, p, minus(q, p));
        if out.is_empty() {
            break;
        }
    }
    out
}

/// By the shoelace formula.
pub fn area(p: &[P]) -> f64 {
    (0..p.len()).map(|i| cross(p[i], p[(i + 1) % p.len()])).sum::<f64>() / 2.0
}

/// The direction at which c3 lies `off` to the left of the line through c1: bisected between the
/// diagonal and square to it.
fn direction(c1: P, c3: P, off: f64) -> P {
    let d = minus(c3, c1);
    let t = d.1.atan2(d.0);
    let left_of = |f: f64| cross((f.cos(), f.sin()), d);
    let (mut near, mut far) = (t, t - off.signum() * std::f64::consts::FRAC_PI_2);
    for _ in 0..200 {
        let m = (near + far) / 2.0;
        if left_of(m).abs() < off.abs() {
            near = m;
        } else {
            far = m;
        }
    }
    let f = (near + far) / 2.0;
    (f.cos(), f.sin())
}

/// A strip of width `s` as it lands: its direction and its outline, counter-clockwise.
pub struct Brace {
    pub along: P,
    pub width: f64,
    pub outline: Vec<P>,
    /// A point on its right edge, looking up along it.
    pub right: P,
}

pub fn brace(opening: &Quad, landing: Landing, s: f64) -> Brace {
    let (c1, c3) = (opening[0], opening[2]);
    let d = distance(c1, c3);
    let diagonal = ((c3.0 - c1.0) / d, (c3.1 - c1.1) / d);
    let left_of = |u: P, p: P, by: f64| (p.0 - u.1 * by, p.1 + u.0 * by);
    let (along, right, left) = match landing {
        Landing::Corner => {
            (diagonal, left_of(diagonal, c1, -s / 2.0), left_of(diagonal, c1, s / 2.0))
        }
        // Upright-leaning: the left edge through c1, the right one through c3.
        Landing::Rails => (direction(c1, c3, -s), c3, c1),
        Landing::Stiles => (direction(c1, c3, s), c1, c3),
        Landing::EdgeBelow => (diagonal, left_of(diagonal, c1, -s), c1),
        Landing::EdgeAbove => (diagonal, c1, left_of(diagonal, c1, s)),
    };
    let half = clip(opening, right, along);
    let outline = clip(&half, left, (-along.0, -along.1));
    Brace { along, width: s, outline, right }
}

/// One cut of a brace.
#[derive(Clone, Copy, Debug)]
pub struct Cut {
    pub lower: bool,
    /// On a rail (else on a stile): whichever of the opening's sides it lies on.
    pub on_rail: bool,
    pub reading: f64,
    pub length: f64,
    /// How far its shoulder lies behind its other end, along the strip, towards the brace's middle.
    pub ahead: f64,
}

/// A brace measured on its polygon.
#[derive(Debug)]
pub struct Measured {
    pub slope: f64,
    pub left: f64,
    pub right: f64,
    pub long: f64,
    pub short: f64,
    pub tips: f64,
    pub cuts: Vec<Cut>,
}

impl Measured {
    #[track_caller]
    pub fn cut(&self, lower: bool, on_rail: bool) -> Cut {
        let found = self.cuts.iter().find(|c| c.lower == lower && c.on_rail == on_rail);
        *found.unwrap_or_else(|| panic!("no such cut: {lower} {on_rail} {self:?}"))
    }
}

pub fn measure(b: &Brace, opening: &Quad) -> Measured {
    let u = b.along;
    let n = (-u.1, u.0);
    let x = |p: P| dot(p, u);
    let across = |p: P| dot(minus(p, b.right), n);
    let p = &b.outline;
    let size = distance(opening[0], opening[2]);
    let on = |y: f64, want: f64| (y - want).abs() < 1e-9 * size;
    let mut m = Measured {
        slope: u.1.atan2(u.0).to_degrees(),
        left: 0.0,
        right: 0.0,
        long: 0.0,
        short: 0.0,
        tips: 0.0,
        cuts: Vec::new(),
    };
    let middle = p.iter().map(|p| x(*p)).sum::<f64>() / p.len() as f64;
    let (mut low, mut high): (Vec<P>, Vec<P>) = (Vec::new(), Vec::new());
    for i in 0..p.len() {
        let (a, z) = (p[i], p[(i + 1) % p.len()]);
        let (ya, yz) = (across(a), across(z));
        if on(ya, 0.0) && on(yz, 0.0) {
            m.right = distance(a, z);
        } else if on(ya, b.width) && on(yz, b.width) {
            m.left = distance(a, z);
        } else {
            let lower = (x(a) + x(z)) / 2.0 < middle;
            if lower {
                low.extend([a, z]);
            } else {
                high.extend([a, z]);
            }
            // Which side it lies on: the one from which both its ends are least off.
            let off = |i: usize| {
                let (c, e) = (opening[i], opening[(i + 1) % 4]);
                let l = distance(c, e);
                let far = |q: P| (cross(minus(e, c), minus(q, c)) / l).abs();
                far(a).max(far(z))
            };
            let side = (0..4).min_by(|i, j| off(*i).total_cmp(&off(*j))).expect("four sides");
            assert!(off(side) < 1e-9 * size, "a cut lies on a side");
            let toward = if lower { 1.0 } else { -1.0 };
            // The shoulder is the end on an edge of the strip.
            let shoulder_first = on(ya, 0.0) || on(ya, b.width);
            let ahead = if shoulder_first { x(a) - x(z) } else { x(z) - x(a) };
            m.cuts.push(Cut {
                lower,
                on_rail: side % 2 == 0,
                reading: (x(z) - x(a)).abs().atan2((yz - ya).abs()).to_degrees(),
                length: distance(a, z),
                ahead: ahead * toward,
            });
        }
    }
    let least = |v: &[P]| v.iter().map(|p| x(*p)).fold(f64::INFINITY, f64::min);
    let most = |v: &[P]| v.iter().map(|p| x(*p)).fold(f64::NEG_INFINITY, f64::max);
    m.long = most(&high) - least(&low);
    m.short = least(&high) - most(&low);
    let tip = |v: &[P], sign: f64| {
        *v.iter().max_by(|a, b| (sign * x(**a)).total_cmp(&(sign * x(**b)))).expect("an end")
    };
    m.tips = distance(tip(&low, -1.0), tip(&high, 1.0));
    m
}

/// The same outline for crate `geo`.
pub fn geo(p: &[P]) -> geo::Polygon {
    geo::Polygon::new(geo::LineString::from(p.to_vec()), vec![])
}
