//! The saw card, the paper, the copied text and the door tell one cut alike, and what they tell is the cut: the
//! piece is laid as the words say, the blade set as they say, and both planes compared.

use crate::told::{Body, Plane, Told, V, blade, check, cross, dot, minus, read, times, unit};
use offsquare_cuts::inputs::{Inputs, Value as Input};
use offsquare_cuts::layouts::{self, Detail, Layout, Solution};
use offsquare_cuts::parts::{Cut, End, Part, Side, StockShape};
use offsquare_cuts::saw::{Advice, SawProfile, wording};
use offsquare_geometry::{Point3, Solid};
use offsquare_paper::drawing::{Template, templates};
use offsquare_paper::report;
use offsquare_units::{Angle, Length, Style, Unit};
use offsquare_work::piece::{Draft, Shop, answer};
use serde_json::{Value, json};

/// The usual saw; one whose blade leans to the right; one for small stock, with both tilts.
fn saws() -> [SawProfile; 3] {
    let usual = SawProfile::usual();
    let right = SawProfile { bevel_left: Angle(0.0), bevel_right: Angle(45.0), ..usual.clone() };
    let narrow = SawProfile {
        width_square: Length(3.0),
        width_at_45: Length(2.0),
        height_upright: Length(6.0),
        height_at_45_bevel: Length(4.0),
        bevel_right: Angle(45.0),
        miter_left: Angle(60.0),
        ..usual.clone()
    };
    [usual, right, narrow]
}

struct Dice(u64);

impl Dice {
    /// From 0 to 1 (a linear congruential generator, Knuth's constants).
    fn throw(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.throw()
    }
}

fn joined(said: &[offsquare_units::Text]) -> String {
    said.iter().map(|t| t.render(&Style::default())).collect::<Vec<_>>().join(" ")
}

/// What the saw card says of a cut.
fn card(a: &Advice) -> Option<Told> {
    read(&joined(&wording::cut(a)))
}

/// What stands beside a template of the part on the line after the cut's own.
fn paper<'a>(made: &'a [Template], part: &Part, cut: &Cut) -> Vec<&'a str> {
    let start = format!("{}: ", cut.name);
    made.iter()
        .filter(|t| t.name.starts_with(part.name.as_ref()))
        .filter_map(|t| {
            let at = t.notes.iter().position(|n| n.starts_with(&start))?;
            Some(t.notes[at + 1].as_str())
        })
        .collect()
}

fn normal(face: &[Point3]) -> V {
    let at = |i: usize| [face[i].x, face[i].y, face[i].z];
    unit(cross(minus(at(1), at(0)), minus(at(2), at(0))))
}

/// A part's cut as a plane in the part's frame: along, toward edge B, out of the drawn face.
fn plane(cut: &Cut) -> Plane {
    let side = |s: Side| Some(s).filter(|s| *s != Side::Neither);
    Plane {
        normal: blade(cut.miter.0, side(cut.swing), cut.bevel.0, side(cut.lean)),
        at: [cut.from.x, cut.from.y, 0.0],
    }
}

/// Every surface tells the cuts of a part in the same words; gives how many were told.
fn agree(part: &Part, saw: &SawProfile, what: &str) -> usize {
    let style = Style::default();
    let made = templates(std::slice::from_ref(part), saw, &style);
    let advice = saw.advise_part(part);
    let sides = &part.sides;
    let body = Body {
        face: (sides.face, [0.0, 0.0, 1.0]),
        edges: [(sides.edge_a, [0.0, -1.0, 0.0]), (sides.edge_b, [0.0, 1.0, 0.0])],
        ends: [(sides.left, [-1.0, 0.0, 0.0]), (sides.right, [1.0, 0.0, 0.0])],
    };
    let away = part.away.map_or(0.0, |a| a.0);
    let section = [[0.0, 0.0, 0.0], [0.0, part.seen.0, -away]];
    let mut told = 0;
    for (cut, a) in part.cuts.iter().zip(&advice.cuts) {
        let what = format!("{what} {} {}", part.name, cut.name);
        // Asked for alone the cut is told as with its part.
        assert_eq!(a, &saw.advise(part, cut), "{what}");
        let said = card(a);
        let notes = paper(&made, part, cut);
        let whole = part.stock == StockShape::Board && !made.is_empty();
        assert!(!whole || cut.name.is_empty() || !notes.is_empty(), "{what}");
        for note in notes {
            assert_eq!(read(note), said, "paper: {what}\n{note}");
            assert_eq!(note, joined(&wording::at_the_saw(a)), "{what}");
        }
        let Some(said) = said else {
            assert!(a.lay().is_none(), "{what}");
            continue;
        };
        let others: Vec<&Cut> =
            part.cuts.iter().filter(|c| c.end == cut.end.other() && c.end != cut.end).collect();
        if let ([other], 1) = (&others[..], part.cuts.iter().filter(|c| c.end == cut.end).count()) {
            check(&said, a, &body, [plane(cut), plane(other)], &section, &what);
        }
        told += 1;
    }
    told
}

/// A solution of a form with its start values, each length and angle changed by up to a fifth.
fn thrown(layout: &dyn Layout, start: &Inputs, dice: &mut Dice) -> Vec<Solution> {
    let mut inputs = start.clone();
    for (key, value) in start.iter() {
        let by = dice.between(0.8, 1.2);
        match value {
            Input::Length(l) => inputs.set(key, Input::Length(Length(l.0 * by))),
            Input::Angle(a) => inputs.set(key, Input::Angle(Angle(a.0 * by))),
            _ => {}
        }
    }
    layout.solve(&inputs, Detail::Full).solutions
}

#[test]
fn card_and_paper_never_disagree() {
    let mut dice = Dice(9);
    let (mut told, mut forms) = (0, 0);
    for layout in layouts::all() {
        for form in layout.forms() {
            let start = answer(&Draft::fresh(*layout, form, Unit::Inch), &Shop::default());
            let mut all: Vec<Solution> = start.solved.iter().map(|s| s.solution.clone()).collect();
            for _ in 0..40 {
                all.extend(thrown(*layout, &start.given.inputs, &mut dice));
            }
            forms += 1;
            for (n, solution) in all.iter().enumerate() {
                for (s, saw) in saws().iter().enumerate() {
                    let what = format!("{} {} {} {n} saw {s}", layout.id(), form.id, solution.way);
                    told += solution.parts.iter().map(|p| agree(p, saw, &what)).sum::<usize>();
                }
            }
        }
    }
    assert!(forms > 25 && told > 12000, "{forms} {told}");
}

/// What the JSON door says of the cuts of a request's solutions: "Leg, Foot: ", how the piece lies, and all that
/// is said.
fn door(layout: &str, form: &str, inputs: &Inputs, saw: &SawProfile) -> Vec<[String; 3]> {
    let mut sent = serde_json::Map::new();
    for (key, value) in inputs.iter() {
        let value = match value {
            Input::Length(l) => json!(l.0),
            Input::Angle(a) => json!(a.0),
            Input::Number(n) => json!(n),
            Input::Choice(c) => json!(c),
            Input::Choices(all) => json!(all),
            Input::Flag(yes) => json!(yes),
            Input::Lengths(all) => all.iter().map(|l| json!(l.0)).collect(),
            Input::Angles(all) => all.iter().map(|a| json!(a.0)).collect(),
            Input::Points(all) => all.iter().map(|(x, y)| json!([x.0, y.0])).collect(),
        };
        sent.insert(key.to_owned(), value);
    }
    let request = json!({"id": 1, "layout": layout, "form": form, "unit": "in", "inputs": sent, "saw": {
        "miter_left_deg": saw.miter_left.0,
        "bevel_left_deg": saw.bevel_left.0,
        "bevel_right_deg": saw.bevel_right.0,
        "width_square": saw.width_square.0,
        "width_at_45": saw.width_at_45.0,
        "height_upright": saw.height_upright.0,
        "height_at_45_bevel": saw.height_at_45_bevel.0,
    }});
    let reply = offsquare_layout_tests::asking::solve(&request);
    let all = |v: &Value| v.as_array().cloned().unwrap_or_default();
    let text = |v: &Value| v.as_str().expect("words").to_owned();
    let mut out = Vec::new();
    for part in all(&reply["solutions"]).iter().flat_map(|s| all(&s["saw"]["parts"])) {
        for cut in all(&part["cuts"]) {
            let start = format!("{}, {}: ", text(&part["part"]), text(&cut["cut"]));
            let said: Vec<String> = all(&cut["text"]).iter().map(text).collect();
            let lies = cut["lies"].as_str().unwrap_or_default().to_owned();
            out.push([start, lies, said.join(" ")]);
        }
    }
    assert!(reply["solutions"][0]["saw"].is_object(), "{request}\n{reply}");
    out
}

/// The copied text and the JSON door, at start values: the same words once more.
#[test]
fn copied_text_and_door_say_what_the_card_says() {
    let mut told = 0;
    for layout in layouts::all().iter().filter(|l| l.has_screen()) {
        for form in layout.forms() {
            let all = answer(&Draft::fresh(*layout, form, Unit::Inch), &Shop::default());
            // One saw, with its blade to the right: at the door also what else could be changed is looked for, which
            // takes its time.
            for saw in &saws()[1..2] {
                let asked = door(layout.id(), form.id, &all.given.inputs, saw);
                for solved in &all.solved {
                    let text = report::plain_text(&all.given, solved, saw, &Style::default());
                    for part in &solved.solution.parts {
                        for a in saw.advise_part(part).cuts {
                            let start = format!("{}, {}: ", part.name, a.name);
                            let what = format!("{} {} {start}", layout.id(), form.id);
                            let line = text.lines().find(|l| l.starts_with(&start)).expect(&what);
                            assert_eq!(read(line), card(&a), "{what}\n{line}");
                            // Another way of landing may have a part and a cut of that name, too.
                            let said = |c: &&[String; 3]| {
                                c[0] == start && c[2].starts_with(&joined(&wording::at_the_saw(&a)))
                            };
                            let [_, lies, text] = asked.iter().find(said).expect(&what);
                            assert_eq!(read(text), card(&a), "{what}\n{text}");
                            assert_eq!(lies.is_empty(), a.lay().is_none(), "{what}");
                            assert!(text.contains(lies), "{lies}\n{text}");
                            told += 1;
                        }
                    }
                }
            }
        }
    }
    assert!(told > 100, "{told}");
}

/// Outward normals of a body's faces by the name of the direction that each looks in most.
fn facing(solid: &Solid, to: V) -> Plane {
    let faces = solid.faces.iter().map(|f| (normal(f), f[0]));
    let best = faces.max_by(|a, b| dot(a.0, to).total_cmp(&dot(b.0, to))).expect("a face");
    Plane { normal: best.0, at: [best.1.x, best.1.y, best.1.z] }
}

/// The part in the real piece: its face, its two edges and its two ends as they look in the world, and
/// the names that a maker has for them.
struct Real<'a> {
    solid: &'a Solid,
    face: (&'a str, V),
    edges: [(&'a str, V); 2],
    ends: [(&'a str, V); 2],
}

impl Real<'_> {
    /// Every cut of the part, at each saw, as the paper tells it.
    fn check(&self, part: &Part, what: &str) -> usize {
        let face = facing(self.solid, self.face.1).normal;
        let ends = self.ends.map(|e| facing(self.solid, e.1));
        let along = cross(face, facing(self.solid, self.edges[1].1).normal);
        // Edges lie along the stick, to either side of it over the face.
        let across = unit(cross(along, face));
        let toward = |v: V| times(across, dot(across, facing(self.solid, v).normal).signum());
        let body = Body {
            face: (self.face.0, face),
            edges: self.edges.map(|(name, v)| (name, toward(v))),
            ends: self.ends.map(|(name, v)| (name, v)),
        };
        let section: Vec<V> = self.solid.faces.iter().flatten().map(|p| [p.x, p.y, p.z]).collect();
        let mut told = 0;
        for saw in saws() {
            let made = templates(std::slice::from_ref(part), &saw, &Style::default());
            for cut in part.cuts.iter() {
                let which = usize::from(cut.end == End::Right);
                let a = saw.advise(part, cut);
                let what = format!("{what} {}", cut.name);
                for note in paper(&made, part, cut) {
                    let Some(said) = read(note) else { continue };
                    check(&said, &a, &body, [ends[which], ends[1 - which]], &section, &what);
                    told += 1;
                }
            }
        }
        told
    }
}

fn solve(layout: &str, form: &'static str, inputs: &[(&'static str, Input)]) -> Option<Solution> {
    let layout = layouts::find(layout).expect("a layout");
    let mut all = Inputs::of_form(form);
    for (key, value) in inputs {
        all.set(key, value.clone());
    }
    layout.solve(&all, Detail::Full).solutions.into_iter().next()
}

fn inch(x: f64) -> Input {
    Input::Length(Length(x))
}
fn deg(x: f64) -> Input {
    Input::Angle(Angle(x))
}

/// The right front leg between floor and top, standing as it will: its back face looks to the back, its outer
/// side to the right, its foot down. Cut from a stick by the words on the paper it is that leg.
#[test]
fn a_leg_laid_as_the_paper_says_is_cut_to_the_real_leg() {
    let mut dice = Dice(4);
    let mut told = 0;
    for roll in ["front", "side", "tilt", "lean"] {
        for n in 0..60 {
            let (a, b) = if n == 0 {
                (10.0, 6.0)
            } else {
                (dice.between(0.5, 20.0), dice.between(0.5, 20.0))
            };
            let height = if n == 0 { 18.0 } else { dice.between(10.0, 30.0) };
            let inputs = [
                ("splay_front_deg", deg(a)),
                ("splay_side_deg", deg(b)),
                ("section", inch(1.5)),
                ("height", inch(height)),
                ("roll", Input::Choice(roll)),
            ];
            let solution = solve("two_way_splay", "leg", &inputs).expect("a leg");
            // Turned along its lean its outer side looks where the foot goes, to the right and the front; its
            // upright faces look square to that.
            let [x, y] = [a, b].map(|d: f64| d.to_radians().tan());
            let outer = if roll == "lean" { unit([x, -y, 0.0]) } else { [1.0, 0.0, 0.0] };
            let (inward, back) = (unit([y, x, 0.0]), [0.0, 1.0, 0.0]);
            let real = Real {
                solid: &solution.solids[0],
                face: if roll == "lean" { ("upright face", inward) } else { ("back face", back) },
                edges: [("inner side", times(outer, -1.0)), ("outer side", outer)],
                ends: [("foot", [0.0, 0.0, -1.0]), ("top", [0.0, 0.0, 1.0])],
            };
            told += real.check(&solution.parts[0], &format!("{roll} {a} {b}"));
        }
    }
    assert!(told > 600, "{told}");
}

/// Issue 9, 8: a leg 10° / 6°, 1 1/2 in square, 18 in high. By hand: k = √(1 + tan² 10° + tan² 6°), its edges
/// 18 k = 18.3753 in; over the face the cut runs 1.5·tan 10°·cos 6° = 0.2630 in along, over the edge
/// 1.5·tan 6°·√(1 + tan² 10°·cos² 6°) = 0.1601 in: 18.638 in on the table, 18.798 in on the upper face.
#[test]
fn the_stop_of_a_tilted_cut_says_at_which_height() {
    let tan = |deg: f64| deg.to_radians().tan();
    let edge = 18.0 * (1.0 + tan(10.0).powi(2) + tan(6.0).powi(2)).sqrt();
    let face = tan(10.0) * 6.0_f64.to_radians().cos();
    let table = edge + 1.5 * face;
    let upper = table + 1.5 * tan(6.0) * (1.0 + face * face).sqrt();
    assert!((table - 18.638).abs() < 0.0005 && (upper - 18.798).abs() < 0.0005);
    let inputs = [
        ("splay_front_deg", deg(10.0)),
        ("splay_side_deg", deg(6.0)),
        ("section", inch(1.5)),
        ("height", inch(18.0)),
        ("roll", Input::Choice("front")),
    ];
    let solution = solve("two_way_splay", "leg", &inputs).expect("a leg");
    let part = &solution.parts[0];
    let a = SawProfile::usual().advise(part, &part.cuts[1]);
    let stop = a.stop_block.as_ref().expect("a stop");
    let above = stop.on_upper.expect("a tilted cut");
    assert!((stop.setting.0 - table).abs() < 1e-9 && (above.0 - upper).abs() < 1e-9, "{stop:?}");
    let said = joined(&wording::cut(&a));
    let wanted = "18 5/8 in from the stop to the kerf at the fence, on the table; 18 13/16 in on the upper face";
    assert!(said.contains(wanted), "{said}");
    // This saw's blade leans to the left only: the paper says so, too, and which side is at the fence.
    let made = templates(&solution.parts, &SawProfile::usual(), &Style::default());
    assert_eq!(made.len(), 2);
    for note in made.iter().flat_map(|t| &t.notes).filter(|n| n.contains("tilt the blade")) {
        assert!(note.contains("tilt the blade 6.0° left. Turn it end for end: back face up, the inner side at the fence"), "{note}");
    }
}

/// A box's boards stand around its axis: the outside looks away from it, the top edge up; seen from outside the
/// left end is to the left. A stick with square edges, cut and then ripped, is that board.
#[test]
fn a_box_board_laid_as_the_paper_says_is_cut_to_the_real_board() {
    let mut dice = Dice(8);
    let mut told = 0;
    for n in 0..150 {
        let sides = 3 + n % 6;
        let joint = if n % 4 == 1 { "butt" } else { "mitre" };
        let inputs = [
            ("sides", Input::Number(f64::from(sides))),
            ("outer_bottom_side", inch(dice.between(9.0, 20.0))),
            ("tilt_deg", deg(dice.between(-25.0, 35.0))),
            ("thickness", inch(dice.between(0.4, 0.8))),
            ("height", inch(dice.between(1.5, 4.0))),
            ("joint", Input::Choice(joint)),
        ];
        if let Some(solution) = solve("sloped_box", "regular", &inputs) {
            let real = board(&solution.solids[0], [0.0, -1.0, 0.0]);
            told += real.check(&solution.parts[0], &format!("{sides} {joint} {n}"));
            ripped(&solution.solids[0], [0.0, -1.0, 0.0], &solution.parts[0]);
        }
        let joint = ["mitre", "front_between", "sides_between"][n as usize % 3];
        let thick = dice.between(0.4, 0.8);
        let inputs = [
            ("outer_bottom_width", inch(dice.between(9.0, 20.0))),
            ("outer_bottom_depth", inch(dice.between(9.0, 20.0))),
            ("tilt_front_deg", deg(dice.between(-25.0, 35.0))),
            ("tilt_side_deg", deg(dice.between(-25.0, 35.0))),
            ("thickness_front", inch(thick)),
            ("thickness_side", inch(if n % 2 == 0 { thick } else { dice.between(0.4, 0.8) })),
            ("height", inch(dice.between(1.5, 4.0))),
            ("joint", Input::Choice(joint)),
        ];
        if let Some(solution) = solve("sloped_box", "two_slopes", &inputs) {
            for (i, out) in [[0.0, -1.0, 0.0], [1.0, 0.0, 0.0]].into_iter().enumerate() {
                let real = board(&solution.solids[i], out);
                told += real.check(&solution.parts[i], &format!("{joint} {i} {n}"));
                ripped(&solution.solids[i], out, &solution.parts[i]);
            }
        }
    }
    assert!(told > 400, "{told}");
}

fn board(solid: &Solid, out: V) -> Real<'_> {
    let up = [0.0, 0.0, 1.0];
    // Seen from outside, looking in.
    let right = cross(times(out, -1.0), up);
    Real {
        solid,
        face: ("outside", out),
        edges: [("bottom edge", times(up, -1.0)), ("top edge", up)],
        ends: [("left end", times(right, -1.0)), ("right end", right)],
    }
}

/// The part is drawn as wide as the real board reaches up its slope, before it is ripped; what the rip leaves is
/// the width of the outside, and that folded paper no longer holds is said.
fn ripped(solid: &Solid, out: V, part: &Part) {
    let outside = facing(solid, out);
    let up = [0.0, 0.0, 1.0];
    let slope = unit(minus(up, times(outside.normal, dot(outside.normal, up))));
    let wide = |on_face: bool| {
        let corners = solid.faces.iter().flatten().map(|p| [p.x, p.y, p.z]);
        let along = corners
            .filter(|p| !on_face || dot(outside.normal, minus(*p, outside.at)).abs() < 1e-9)
            .map(|p| dot(slope, p));
        let (low, high) =
            along.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
        high - low
    };
    assert!((part.seen.0 - wide(false)).abs() < 1e-9, "{} {}", part.seen.0, wide(false));
    let r = part.ripped.expect("a slope");
    assert!((r.leaves.0 - wide(true)).abs() < 1e-9, "{r:?} {}", wide(true));
    let advice = SawProfile::usual().advise_part(part);
    let made = templates(std::slice::from_ref(part), &SawProfile::usual(), &Style::default());
    for said in made.iter().map(|t| t.notes.join(" ")).chain([joined(&wording::part(&advice))]) {
        assert!(said.contains("Cut the ends before ripping"), "{said}");
        assert!(said.contains("marks on the edge hold only before that"), "{said}");
    }
}

/// Issue 9, 8: four sides leaning 30°, 3/4 in thick. On the square edge the cut runs 0.75·tan b/cos m along, with
/// tan m = sin 30° and sin b = cos 30°·sin 45°; on the level edge, 0.75/cos 30° wide and ripped before, the corner's
/// plan is 45°: it runs as far along as the edge is wide. Paper folded over that edge is 0.116 in off.
#[test]
fn folded_paper_does_not_fit_a_ripped_edge() {
    let (m, b) = (0.5_f64.atan(), (0.75_f64.sqrt() * 0.5_f64.sqrt()).asin());
    let square = 0.75 * b.tan() / m.cos();
    let level = 0.75 / 0.75_f64.sqrt();
    let folded = square * level / 0.75;
    assert!((level - folded - 0.116).abs() < 0.0005, "{level} {folded}");
    let inputs = [
        ("sides", Input::Number(4.0)),
        ("outer_bottom_side", inch(14.0)),
        ("tilt_deg", deg(30.0)),
        ("thickness", inch(0.75)),
        ("height", inch(4.0)),
        ("joint", Input::Choice("mitre")),
    ];
    let solution = solve("sloped_box", "regular", &inputs).expect("a box");
    let part = &solution.parts[0];
    let a = SawProfile::usual().advise(part, &part.cuts[0]);
    assert!(a.edge_tape_mark.is_some_and(|l| (l.0 - square).abs() < 1e-9));
    assert!(
        joined(&wording::marking(&a))
            .ends_with("These lines hold only before the edges are ripped.")
    );
    // 4/cos 30° over the outside, 0.75·tan 30° more before the rip.
    assert!((part.seen.0 - (4.0 / 0.75_f64.sqrt() + 0.75 / 3.0_f64.sqrt())).abs() < 1e-9);
    ripped(&solution.solids[0], [0.0, -1.0, 0.0], part);
}
