//! A stool: a top on four legs that splay two ways, with stretchers between them.
//!
//! The legs' front and back faces hold the level line from left to right; stretchers stand where the
//! middles of the legs are at their height, and end on the legs' inner faces.

use super::ask::Ask;
use super::pattern::{Pattern, SIZES, Stick, needed, told};
use super::sticks::{Aside, block, filled, level, pair, past, plane, span, square};
use offsquare_cuts::assembly::{Member, Span};
use offsquare_cuts::inputs::{Inputs, Missing};
use offsquare_cuts::layouts::field::{choice, length, maybe_angle, option};
use offsquare_cuts::layouts::{Declared, Detail, Form, Outcome, Raw, Refused, Solution, Spelling};
use offsquare_cuts::parts::Part;
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Body, Plane, Point3, Vector3};
use offsquare_units::{Length, num, say};

const FORM: Form = Form {
    fields: &[
        length("overall_height", "Overall height", 18.0, 460.0)
            .help("Floor to the top's upper face.")
            .free(),
        length("top_width", "Top width", 15.0, 380.0).help("Seen from the front."),
        length("top_depth", "Top depth", 11.0, 280.0).help("Seen from the side."),
        length("top_thickness", "Top thickness", 1.0, 25.0).help("Of the board."),
        length("leg_section", "Leg stock", 1.5, 38.0).help("Square: one side of it."),
        length("footprint_width", "Footprint width", 18.0, 460.0)
            .help("Over the feet, outside.")
            .free(),
        length("footprint_depth", "Footprint depth", 14.0, 360.0)
            .help("Over the feet, outside.")
            .free(),
        length("leg_inset", "Leg inset", 1.0, 25.0)
            .help("Under the top, from its edges to the outside of the legs.")
            .or_zero(),
        length("stretcher_height", "Stretcher height", 6.0, 150.0)
            .help("Floor to their middle.")
            .free(),
        length("stretcher_seen", "Stretcher width", 1.5, 38.0).help("Their upright size."),
        length("stretcher_away", "Stretcher thickness", 0.75, 19.0).help("Their level size."),
        choice("stretchers", "Stretchers", "both").of(&[
            option("front_back", "Front and back"),
            option("sides", "Sides"),
            option("both", "All around"),
        ]),
    ],
    also: &[
        maybe_angle("splay_front_deg", "Splay from the front", (0.0, 89.0))
            .help("A leg's lean, seen so."),
        maybe_angle("splay_side_deg", "Splay from the side", (0.0, 89.0))
            .help("A leg's lean, seen so."),
    ],
    gives: &["footprint_width", "footprint_depth", "stretcher_height", "overall_height"],
    ..SIZES
};

const SECTION: Option<&str> = Some("leg_section");

/// The pattern "splayed_stool".
pub static SPLAYED_STOOL: Pattern = Pattern {
    layout: Declared {
        id: "splayed_stool",
        question: "Stool with splayed legs",
        search_words: "bench table seat step milking rake stretcher compound",
        forms: &[FORM],
        spelled,
        solve,
        ..Declared::PLAIN
    },
    sticks: &[
        Stick { name: "top", seen: Some("top_depth"), away: Some("top_thickness") },
        Stick { name: "leg", seen: SECTION, away: SECTION },
        Stick { name: "stretcher", seen: Some("stretcher_seen"), away: Some("stretcher_away") },
    ],
    instead: &[("splay_front_deg", "footprint_width"), ("splay_side_deg", "footprint_depth")],
};

fn spelled(request: &mut Spelling) {
    let key = "stretchers";
    if request.get(key).and_then(Raw::word) == Some("front and back")
        && let Some((_, path)) = request.take(key)
    {
        request.put(key, Raw::Word("front_back".to_owned()), path);
    }
}

fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let stool = Stool::read(inputs)?;
    let solution = stool.solution(detail)?;
    told((solution, Vec::new()), detail, |solution| {
        let [width, depth, thick] = stool.top;
        let top = square("Top", width, depth, thick);
        let parts = [top].into_iter().chain(solution.parts.iter().cloned());
        (parts.zip(stool.members()).collect(), stool.spans())
    })
}

/// A stool; inches. Its middle is the origin, its front toward -y.
#[derive(Clone, Copy)]
struct Stool {
    height: f64,
    top: [f64; 3],
    section: f64,
    /// Wide and deep.
    footprint: [f64; 2],
    inset: f64,
    at: f64,
    seen: f64,
    away: f64,
    front: bool,
    sides: bool,
}

/// Which stretchers, and what they are called where there are both kinds.
#[derive(Clone, Copy)]
struct Kind {
    which: &'static str,
    name: &'static str,
    group: &'static str,
    miter_key: &'static str,
    bevel_key: &'static str,
}

const FRONT: Kind = Kind {
    which: "front",
    name: "Front stretcher",
    group: "front_stretcher",
    miter_key: "front_stretcher.on_wide_face.mitre_deg",
    bevel_key: "front_stretcher.on_wide_face.bevel_deg",
};
const SIDE: Kind = Kind {
    which: "side",
    name: "Side stretcher",
    group: "side_stretcher",
    miter_key: "side_stretcher.on_wide_face.mitre_deg",
    bevel_key: "side_stretcher.on_wide_face.bevel_deg",
};

impl Stool {
    fn read(inputs: &Inputs) -> Result<Stool, Missing> {
        let [height, section, inset, at] =
            needed(inputs, ["overall_height", "leg_section", "leg_inset", "stretcher_height"])?;
        let [seen, away] = needed(inputs, ["stretcher_seen", "stretcher_away"])?;
        let stretchers = inputs.choice("stretchers").unwrap_or("both");
        Ok(Stool {
            height,
            top: needed(inputs, ["top_width", "top_depth", "top_thickness"])?,
            section,
            footprint: needed(inputs, ["footprint_width", "footprint_depth"])?,
            inset,
            at,
            seen,
            away,
            front: stretchers != "sides",
            sides: stretchers != "front_back",
        })
    }

    /// The legs by themselves, floor to the top's underside.
    fn legs_high(&self) -> f64 {
        self.height - self.top[2]
    }
    /// Over the legs right under the top, outside, wide and deep.
    fn apart(&self) -> [f64; 2] {
        [self.top[0] - 2.0 * self.inset, self.top[1] - 2.0 * self.inset]
    }
    /// How far a leg leans out, wide and deep, for each inch up.
    fn leans(&self) -> [f64; 2] {
        let (apart, high) = (self.apart(), self.legs_high());
        [0, 1].map(|i| ((self.footprint[i] - apart[i]) / 2.0 / high).max(0.0))
    }
    /// From a leg's middle to its outermost point at one height, wide and deep.
    ///
    /// Cut level, a leg is bounded by two lines along x, and by two that run with its leaning side faces.
    fn reach(&self) -> [f64; 2] {
        let [ta, tb] = self.leans();
        let (half, slant) = (self.section / 2.0, num::hypot(1.0, tb));
        [half * (num::hypot(slant, ta) + ta * tb) / slant, half * slant]
    }
    /// Where the right front leg's middle stands at a height; y as a distance to the front.
    fn middle(&self, z: f64) -> [f64; 2] {
        let (apart, leans, reach) = (self.apart(), self.leans(), self.reach());
        [0, 1].map(|i| apart[i] / 2.0 - reach[i] + (self.legs_high() - z) * leans[i])
    }

    /// How thick legs may be before they meet under the top: four reaches fill it.
    fn widest_leg(&self) -> f64 {
        let (apart, reach) = (self.apart(), self.reach());
        self.section * (apart[0] / reach[0]).min(apart[1] / reach[1]) / 4.0
    }

    /// How far in the legs may stand before they meet; none where they do anyway.
    fn deepest_inset(&self, most: f64) -> Option<f64> {
        let (mut good, mut bad) = (0.0, most);
        for _ in 0..60 {
            let inset = (good + bad) / 2.0;
            let there = Stool { inset, ..*self };
            if there.section < there.widest_leg() { good = inset } else { bad = inset }
        }
        (good > 0.0).then_some(good)
    }

    /// All that is wrong with the sizes: the layouts are asked for what can be made.
    fn check(&self) -> Result<(), Refused> {
        let [width, depth, thick] = self.top;
        filled(&[("overall_height", self.height, thick, "The top fills it")])?;
        let most = width.min(depth) / 2.0;
        if self.inset >= most {
            let most = Length(self.deepest_inset(most).unwrap_or(most));
            let words = "No room is left for the legs: set them in less than {}.";
            return Err(Problem::at_limit("leg_inset", words, most).into());
        }
        let mut all = Vec::new();
        for (i, key) in ["footprint_width", "footprint_depth"].into_iter().enumerate() {
            let least = Length(self.apart()[i]);
            if self.footprint[i] < least.0 * (1.0 - 1e-12) {
                let text = say!(
                    "The feet must stand at least as far apart as the legs do under the top, {}.",
                    least
                );
                all.push(past(key, text, least));
            }
        }
        let most = Length(self.widest_leg());
        if self.section >= most.0 {
            let text = say!("The legs meet under the top: they must be thinner than {}.", most);
            all.push(past("leg_section", text, most));
        }
        all.extend(self.stretcher_problems());
        Refused::if_any(all)
    }

    fn stretcher_problems(&self) -> Vec<Problem> {
        let mut all = Vec::new();
        let high = self.legs_high();
        let (least, most) = (Length(self.seen / 2.0), Length(high - self.seen / 2.0));
        let slack = 1e-12 * high;
        let ([clear, thin], face) = (self.clear(), self.face());
        let thick = self.away > face + slack;
        let clear = if thick { f64::NAN } else { clear };
        if self.seen > high {
            // At the height where they are, if that is under the top.
            let room = 2.0 * self.at.min(high - self.at);
            let most = Length(clear.min(if room > 0.0 { room } else { high }));
            let text = say!("Under this top the stretchers must be at most {} high.", most);
            all.push(past("stretcher_seen", text, most));
        } else if self.at < least.0 - slack || self.at > most.0 + slack {
            let text = say!(
                "Between the floor and the top the stretchers' middle stands from {} to {} up.",
                least,
                most
            );
            all.push(past("stretcher_height", text, if self.at < least.0 { least } else { most }));
        }
        if thick {
            // Where they are too high for any thickness they are told so next.
            let most = Length(if thin > 0.0 { face.min(thin) } else { face });
            let text =
                say!("Too thick for these legs' faces: they must be at most {} thick.", most);
            all.push(past("stretcher_away", text, most));
        } else if self.seen <= high && self.seen > clear {
            let most = Length(clear);
            let text = say!(
                "Front and side stretchers would run into each other: they must be at most {} high.",
                most
            );
            all.push(past("stretcher_seen", text, most));
        }
        all
    }

    /// The legs' answers, and the stretchers' in groups of their own.
    fn solution(&self, detail: Detail) -> Result<Solution, Refused> {
        self.check()?;
        let (high, apart) = (self.legs_high(), self.apart());
        let (mut solution, _) = Ask::of("two_way_splay", "sizes")
            .length("footprint_width", self.footprint[0].max(apart[0]), "footprint_width")
            .length("footprint_depth", self.footprint[1].max(apart[1]), "footprint_depth")
            .length("top_width", apart[0], "top_width")
            .length("top_depth", apart[1], "top_depth")
            .length("section", self.section, "leg_section")
            .length("height", high, "overall_height")
            .one(detail)?;
        (solution.way, solution.title) = ("stool", "The stool");
        for (_, kind) in [(self.front, FRONT), (self.sides, SIDE)].into_iter().filter(|k| k.0) {
            let stretcher = self.ask_stretcher(kind, &solution, detail)?;
            solution.answers.group(kind.group, stretcher.answers);
            solution.parts.extend(stretcher.parts.into_iter().map(|mut part| {
                for cut in &mut part.cuts {
                    (cut.miter_key, cut.bevel_key) = (Some(kind.miter_key), Some(kind.bevel_key));
                }
                let both = self.front && self.sides;
                Part { name: if both { kind.name.into() } else { part.name }, ..part }
            }));
            solution.derivation.extend(stretcher.derivation);
            for note in stretcher.notes {
                if !solution.notes.contains(&note) {
                    solution.notes.push(note);
                }
            }
        }
        Ok(solution)
    }

    fn ask_stretcher(
        &self,
        kind: Kind,
        legs: &Solution,
        detail: Detail,
    ) -> Result<Solution, Refused> {
        let splay = |key| legs.answers.quantity(key).map_or(0.0, |q| q.number());
        let top = self.middle(self.legs_high());
        let asked = Ask::of("two_way_splay", "stretcher")
            .angle("splay_front_deg", splay("splay_front_deg"), "footprint_width")
            .angle("splay_side_deg", splay("splay_side_deg"), "footprint_depth")
            .length("section", self.section, "leg_section")
            .length("height", self.legs_high(), "overall_height")
            .length("axis_spacing_front_at_top", 2.0 * top[0], "top_width")
            .length("axis_spacing_side_at_top", 2.0 * top[1], "top_depth")
            .length("stretcher_height", self.at, "stretcher_height")
            .length("stretcher_width", self.seen, "stretcher_seen")
            .length("stretcher_thickness", self.away, "stretcher_away")
            .choice("which", kind.which, "stretchers");
        Ok(asked.one(detail)?.0)
    }

    /// What a stretcher may be thick at most, to lie on its leg's face with its whole end.
    ///
    /// Level, a leg is section × slant deep from front to back, and section × k / slant wide along x.
    fn face(&self) -> f64 {
        let [ta, tb] = self.leans();
        let slant = num::hypot(1.0, tb);
        let front = if self.front { self.section * slant } else { f64::INFINITY };
        let side = if self.sides { self.section * num::hypot(slant, ta) / slant } else { front };
        front.min(side)
    }

    /// How high, and how thick, stretchers may be before front and side ones meet, off the legs' inner
    /// corners; the other size kept.
    ///
    /// They come nearest at their lower edges, where the legs' faces have leaned away most. From a leg's
    /// middle at their height, x outward, y inward, w down (half their height): a side stretcher begins at
    /// y = t slant - tb w, a front one ends at slant² x = ta w - ta tb y - t slant k; they meet where
    /// y < q and x > -q. No thicker than its leg's face there is always a height that does.
    fn clear(&self) -> [f64; 2] {
        if !(self.front && self.sides) {
            return [f64::INFINITY; 2];
        }
        let [ta, tb] = self.leans();
        let (slant, k) = (num::hypot(1.0, tb), num::hypot(num::hypot(1.0, tb), ta));
        let [t, q, w] = [self.section, self.away, self.seen].map(|full| full / 2.0);
        let square = slant * slant;
        let (beside, before) = ((t * slant - q).max(0.0), (slant * t * k - square * q).max(0.0));
        let high = [beside / tb, (before / ta + tb * slant * t) / square, before / ta - tb * q];
        let thick = [
            t * slant - tb * w,
            (t * k + ta * tb * t) / slant - ta * w,
            (slant * t * k - ta * w) / (square + ta * tb),
        ];
        // Upright legs leave a height without a limit, or, as thick as the stretchers, without a number.
        [high, thick].map(|ways| 2.0 * ways.into_iter().fold(f64::NAN, f64::max))
    }

    /// Where everything stands, in the order of the parts.
    fn members(&self) -> Vec<Member> {
        let high = self.legs_high();
        let ([width, depth, _], [ta, tb]) = (self.top, self.leans());
        let [x, y] = self.middle(0.0);
        let (foot, half) = (Point3::new(x, -y, 0.0), self.section / 2.0);
        // The right front leg's faces, to the front and to the right.
        let faces = [Vector3::new(0.0, -1.0, tb), Vector3::new(1.0 + tb * tb, ta * tb, ta)];
        let faces = faces.map(|out| Plane::through(foot, out));
        let both = |face: &Option<Plane>| face.map(|p| [p.moved(half), p.flipped().moved(half)]);
        let leg = Body::of(faces.iter().filter_map(both).flatten().collect()).cut(level(0.0, high));
        let four = vec![leg.mirrored_x(), leg.mirrored_x().mirrored_y(), leg.mirrored_y(), leg];
        let (half_width, half_depth) = (width / 2.0, depth / 2.0);
        let top = block([-half_width, half_width], [-half_depth, half_depth], [high, self.height]);
        let mut all = vec![Member::of("top", vec![top]), Member::of("leg", four)];
        // Stretchers run to the faces that look inward, and to their mirror images.
        let [front, side] =
            faces.map(|face| Body::of(face.map(|p| p.moved(-half)).into_iter().collect()));
        let [x, y] = self.middle(self.at);
        let (q, low) = (self.away / 2.0, self.at - self.seen / 2.0);
        let flat = level(low, low + self.seen);
        if self.front {
            let thick = [plane((0.0, 1.0, 0.0), q - y), plane((0.0, -1.0, 0.0), q + y)];
            let bar = side.mirrored_x().cut(side.planes).cut(thick).cut(flat);
            all.push(Member::of("stretcher", vec![bar.mirrored_y(), bar]));
        }
        if self.sides {
            let thick = [plane((1.0, 0.0, 0.0), q + x), plane((-1.0, 0.0, 0.0), q - x)];
            let bar = front.mirrored_y().cut(front.planes).cut(thick).cut(flat);
            all.push(Member::of("stretcher", pair(bar)));
        }
        all
    }

    fn spans(&self) -> Vec<Span> {
        let [x, y] = [self.top[0] / 2.0, self.top[1] / 2.0];
        let [wide, deep] = [self.footprint[0] / 2.0, self.footprint[1] / 2.0];
        let (high, legs) = (self.height, self.legs_high());
        let out = x.max(wide);
        let at = Point3::new;
        let mut all = vec![
            span("overall_height", high, at(-out, -y, 0.0), at(-out, -y, high), Aside::Left),
            span("top_width", self.top[0], at(-x, -y, high), at(x, -y, high), Aside::Above),
            span("top_depth", self.top[1], at(x, -y, high), at(x, y, high), Aside::Right),
            span("top_thickness", self.top[2], at(x, y, legs), at(x, y, high), Aside::Right),
        ];
        let feet = [(-wide, -deep), (wide, -deep), (wide, deep)].map(|(x, y)| at(x, y, 0.0));
        all.push(span("footprint_width", 2.0 * wide, feet[0], feet[1], Aside::Front));
        all.push(span("footprint_depth", 2.0 * deep, feet[1], feet[2], Aside::Right));
        let [_, front] = self.middle(self.at);
        let height = |z| at(0.0, if self.front { -front } else { 0.0 }, z);
        all.push(span("stretcher_height", self.at, height(0.0), height(self.at), Aside::Front));
        all
    }
}
