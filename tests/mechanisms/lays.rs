//! How a part lies for a cut: on an edge that bears, never on a point, and within the saw's reach of
//! where the cut runs. The judges here know outlines only: they measure edges and cut lines on them.

use offsquare_cuts::facts::Caution;
use offsquare_cuts::inputs::{Inputs, Value as Input};
use offsquare_cuts::layouts::{self, Detail};
use offsquare_cuts::parts::{Cut, CutName, End, Part, StockShape};
use offsquare_cuts::saw::{
    Advice, Edge, LEAST_EDGE, Lay, Misfit, Parted, Remedy, SawProfile, wording,
};
use offsquare_geometry::Point;
use offsquare_layout_tests::asking::{ask_for, close, n};
use offsquare_units::{Angle, Length};
use serde_json::{Value, json};

const TRIES: usize = 10_000;
/// Seeds of the random parts.
const SEEDS: [u64; 2] = [20_261_201, 9_006_001];

/// Numbers at random (xorshift64*).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let top = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11;
        low + (high - low) * top as f64 / (1u64 << 53) as f64
    }
    pub fn one_in(&mut self, n: f64) -> bool {
        self.between(0.0, n) < 1.0
    }
}

/// A saw with limits and reach at random, hold length too.
fn some_saw(dice: &mut Dice) -> SawProfile {
    let square = dice.between(3.0, 14.0);
    SawProfile {
        miter_left: Angle(dice.between(40.0, 60.0)),
        miter_right: Angle(dice.between(40.0, 60.0)),
        width_square: Length(square),
        width_at_45: Length(square * dice.between(0.5, 0.72)),
        hold_length: Length(dice.between(4.0, 12.0)),
        ..SawProfile::usual()
    }
}

/// A straight piece whose ends have one cut or two, whichever way they lean; a long edge may be nothing.
fn some_stick(dice: &mut Dice) -> Part {
    let seen = dice.between(0.75, 9.0);
    let long = dice.between(0.0, 14.0);
    let mut end = |right: bool| -> Vec<f64> {
        let lean = if dice.one_in(3.0) { 0.0 } else { dice.between(-1.2, 1.2) * seen };
        let out = if right { 1.0 } else { -1.0 };
        match dice.one_in(4.0) {
            // A point ahead of both corners.
            true => vec![0.0, out * dice.between(0.1, 1.0) * seen, 0.0],
            false => vec![0.0, lean],
        }
    };
    let (left, right) = (end(false), end(true));
    let line = |all: &[f64], at: f64| -> Vec<Point> {
        let step = seen / (all.len() - 1) as f64;
        all.iter().enumerate().map(|(i, x)| Point::new(at + x, step * i as f64)).collect()
    };
    // As far apart as keeps the ends from crossing: the far edge may then be a point.
    let gap = (left[left.len() - 1] - right[right.len() - 1]).max(0.0);
    let apart = if dice.one_in(5.0) { gap } else { gap + long };
    let away = (!dice.one_in(2.0)).then(|| Length(dice.between(0.5, 3.0)));
    Part::stick(
        "Piece",
        Length(seen),
        away,
        &line(&left, 0.0),
        &line(&right, apart),
        &[CutName::default(); 4],
    )
}

/// A shouldered end board with the grain level: base, top, height, shoulder, left inset.
fn shouldered(base: f64, top: f64, height: f64, shoulder: f64, left: f64) -> Part {
    let right = base - top - left;
    let mut part = Part::stick(
        "End board",
        Length(height),
        None,
        &[Point::new(0.0, 0.0), Point::new(0.0, shoulder), Point::new(left, height)],
        &[Point::new(base, 0.0), Point::new(base, shoulder), Point::new(base - right, height)],
        &[CutName::default(); 4],
    );
    part.stock = StockShape::Board;
    part
}

/// A board of the layout's own, its grain upright: the slopes are cuts along it, not at its ends.
fn upright(dice: &mut Dice) -> Option<Part> {
    let (base, height) = (dice.between(2.0, 12.0), dice.between(2.0, 12.0));
    let mut inputs = Inputs::of_form("single");
    for (key, value) in [
        ("base_width", base),
        ("top_width", base * dice.between(0.0, 1.1)),
        ("height", height),
        ("shoulder_height", if dice.one_in(6.0) { 0.0 } else { height * dice.between(0.1, 0.9) }),
    ] {
        inputs.set(key, Input::Length(Length(value)));
    }
    inputs.set("grain", Input::Choice("upright"));
    let layout = layouts::find("end_board").expect("a layout");
    layout.solve(&inputs, Detail::Full).solutions.pop()?.parts.pop()
}

fn some_board(dice: &mut Dice) -> Part {
    let (base, height) = (dice.between(2.0, 14.0), dice.between(2.0, 14.0));
    let top = base * if dice.one_in(8.0) { 0.0 } else { dice.between(0.05, 1.0) };
    let left = (base - top) * dice.between(0.05, 0.95);
    shouldered(base, top, height, height * dice.between(0.1, 0.9), left)
}

/// How much of the outline lies on one of its long edges.
fn edge_of(part: &Part, edge: Edge) -> f64 {
    let y = if edge == Edge::A { 0.0 } else { part.seen.0 };
    let near = part.outline.0.iter().filter(|p| (p.y - y).abs() < 1e-9 * part.seen.0);
    let (low, high) =
        near.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.x), h.max(p.x)));
    (high - low).max(0.0)
}

/// A square cut at an end of a shaped board is made on its blank, which is as long as the part.
fn on_the_blank(part: &Part, cut: &Cut) -> bool {
    part.stock == StockShape::Board && cut.miter.0 == 0.0 && cut.end != End::Along
}

fn texts(all: &[offsquare_units::Text]) -> String {
    all.iter().map(|t| t.render(&Default::default())).collect::<Vec<_>>().join(" ")
}

fn lies_well(saw: &SawProfile, part: &Part, cut: &Cut, a: &Advice, cautions: &[Caution]) {
    let rest = a.rests();
    if a.lay().is_none() {
        let last = a.remedies.last();
        assert!(matches!(last, Some(Remedy::NotOnThisSaw | Remedy::TurnedWork(_))), "{a:?}");
        return;
    }
    let down = match (a.lay(), &a.other_face) {
        (Some(Lay::Away), Some(o)) => o.stand.down,
        _ => a.position.fence_edge(),
    };
    assert_eq!(rest.edge, down);
    let bears = match on_the_blank(part, cut) {
        true => part.length.0,
        false => edge_of(part, down),
    };
    assert!((rest.bears.0 - bears).abs() < 1e-9, "{} against {bears}", rest.bears.0);
    assert!(bears >= LEAST_EDGE.0 * (1.0 - 1e-9), "on a point: {bears}");
    if bears < saw.hold_length.0 * (1.0 - 1e-9) {
        assert!(rest.clamp && cautions.contains(&Caution::ShortPiece), "{bears}");
        assert!(texts(&wording::cut(a)).contains("Clamp it down"), "{bears}");
    }
    // Tapered stock has one edge; a blade that tilts one way only wants the other edge at one of two ends.
    let either = part.stock != StockShape::Tapered && cut.bevel.0 == 0.0;
    if !either || on_the_blank(part, cut) || a.lay() != Some(Lay::Seen) {
        return;
    }
    // No other edge that this saw could cut it on bears more, up to the hold length.
    let other = if down == Edge::A { Edge::B } else { Edge::A };
    if edge_of(part, other).min(saw.hold_length.0) > bears + 1e-6 {
        let (_, runs) = judged(part, cut, other);
        assert!(!can(saw, cut, runs), "{part:?} {cut:?}");
    }
}

#[test]
fn no_part_lies_on_a_point() {
    let mut refused = 0;
    for seed in SEEDS {
        let mut dice = Dice::new(seed);
        for _ in 0..TRIES / 2 {
            let saw = some_saw(&mut dice);
            let part = if dice.one_in(2.0) { some_stick(&mut dice) } else { some_board(&mut dice) };
            let advice = saw.advise_part(&part);
            for (cut, a) in part.cuts.iter().zip(&advice.cuts) {
                lies_well(&saw, &part, cut, a, &advice.cautions);
                let point = |f: &offsquare_cuts::saw::Misfit| matches!(f, Misfit::OnAPoint { .. });
                refused += usize::from(a.fit.misfits.iter().any(point));
            }
        }
    }
    assert!(refused > 50, "{refused}");
}

/// A piece with less edge on the fence than the hold length is told so, and what is told can be done: the
/// end that parts it from its stick has one cut, or the last is said to be clamped.
#[test]
fn short_pieces_are_told_what_can_be_done() {
    let (mut short, mut two) = (0, 0);
    for seed in SEEDS {
        let mut dice = Dice::new(seed ^ 2);
        for _ in 0..TRIES / 2 {
            let saw = some_saw(&mut dice);
            let part = if dice.one_in(2.0) { some_stick(&mut dice) } else { some_board(&mut dice) };
            let advice = saw.advise_part(&part);
            let least = advice
                .cuts
                .iter()
                .filter(|a| a.lay().is_some())
                .map(|a| a.rests().bears.0)
                .fold(f64::INFINITY, f64::min);
            let least = match least.is_finite() {
                true => least,
                false => edge_of(&part, Edge::A).max(edge_of(&part, Edge::B)),
            };
            if (least - saw.hold_length.0).abs() < 1e-6 {
                continue;
            }
            let told = advice.short_piece;
            assert_eq!(told.is_some(), least < saw.hold_length.0, "{least} {part:?}");
            assert_eq!(told.is_some(), advice.cautions.contains(&Caution::ShortPiece));
            let Some(told) = told else {
                continue;
            };
            short += 1;
            let words = texts(&wording::part(&advice));
            assert!(words.contains("Clamp it for every cut"), "{words}");
            let cuts = |end: End| part.cuts.iter().filter(|c| c.end == end).count();
            match told.parted {
                Parted::LastCut { first, cuts: of_first } => {
                    assert_eq!(of_first, cuts(first));
                    assert!(cuts(first.other()) <= 1, "{part:?}");
                    assert!(words.contains("cut it off last"), "{words}");
                }
                Parted::Clamped => {
                    two += 1;
                    assert!(cuts(End::Left) > 1 && cuts(End::Right) > 1);
                    assert!(!words.contains("cut it off last"), "{words}");
                }
            }
            let stick = part.length.0 + saw.kerf.0 + saw.hold_length.0;
            assert!((told.stick.0 - stick).abs() < 1e-9);
        }
    }
    assert!(short > 1000 && two > 100, "{short} {two}");
}

/// Where the cut's line lies in the outline: whether wood lies on both sides of it, and how far the
/// furthest wood on it is from the fence, with that edge at the fence. The outline is turned so that the
/// fence is y = 0 and the wood lies at y > 0.
fn judged(part: &Part, cut: &Cut, edge: Edge) -> (bool, f64) {
    let seen = part.seen.0;
    let turn = |p: Point| match edge {
        Edge::A => (p.x, p.y),
        Edge::B => (-p.x, seen - p.y),
    };
    let (a, b) = (turn(cut.from), turn(cut.to));
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let long = dx.hypot(dy);
    let off = |p: (f64, f64)| (dx * (p.1 - a.1) - dy * (p.0 - a.0)) / long;
    let all: Vec<(f64, f64)> = part.outline.0.iter().map(|p| turn(*p)).collect();
    let (mut furthest, slack) = (0.0_f64, 1e-9 * (seen + part.length.0));
    for (i, p) in all.iter().enumerate() {
        let q = all[(i + 1) % all.len()];
        let (op, oq) = (off(*p), off(q));
        if op.abs() <= slack {
            furthest = furthest.max(p.1);
        } else if oq.abs() > slack && (op > 0.0) != (oq > 0.0) {
            furthest = furthest.max(p.1 + (q.1 - p.1) * op / (op - oq));
        }
    }
    let both = all.iter().any(|p| off(*p) > slack) && all.iter().any(|p| off(*p) < -slack);
    (both, furthest)
}

/// LAYOUTS' rule: c·cos θ, c straight from the square width to (the width at 45°)/cos 45°, constant
/// beyond; and the reading within the larger limit, as the board may be flipped.
fn can(saw: &SawProfile, cut: &Cut, runs: f64) -> bool {
    let m = cut.miter.0;
    let at_45 = saw.width_at_45.0 * 2.0_f64.sqrt();
    let c = saw.width_square.0 + (at_45 - saw.width_square.0) * (m / 45.0).min(1.0);
    m <= saw.miter_left.0.max(saw.miter_right.0) && runs <= c * m.to_radians().cos() + 1e-9
}

/// Reach is about where the cut runs: of random shouldered boards each slope is offered exactly where an
/// edge that bears has the whole of it within reach.
#[test]
fn slopes_within_reach_are_cut_and_others_are_not() {
    let (mut yes, mut no, mut wide, mut along) = (0, 0, 0, 0);
    for seed in SEEDS {
        let mut dice = Dice::new(seed ^ 6);
        for _ in 0..TRIES / 2 {
            let saw = some_saw(&mut dice);
            let part = match dice.one_in(4.0) {
                true => upright(&mut dice),
                false => Some(some_board(&mut dice)),
            };
            let part = part.expect("a board");
            along += part.cuts.iter().filter(|c| c.end == End::Along).count();
            for cut in part.cuts.iter().filter(|c| c.miter.0 > 0.0) {
                let lay = |edge: Edge| {
                    let (both, runs) = judged(&part, cut, edge);
                    !both && can(&saw, cut, runs) && edge_of(&part, edge) >= LEAST_EDGE.0
                };
                let should = lay(Edge::A) || lay(Edge::B);
                assert_eq!(saw.can_cut(&part, cut), should, "{part:?} {cut:?}");
                assert_eq!(saw.advise(&part, cut).lay().is_some(), should);
                yes += usize::from(should);
                no += usize::from(!should);
                wide += usize::from(should && !can(&saw, cut, part.seen.0));
            }
        }
    }
    assert!(yes > 1000 && no > 1000 && wide > 1000 && along > 1000, "{yes} {no} {wide} {along}");
}

/// Every start of every layout too: by the usual saw, and by one that reaches far.
#[test]
fn no_layout_lays_its_parts_on_a_point() {
    let far = SawProfile {
        width_square: Length(14.0),
        width_at_45: Length(10.0),
        height_upright: Length(6.0),
        ..SawProfile::usual()
    };
    let mut laid = 0;
    for layout in layouts::all().iter().filter(|l| l.has_screen()) {
        for form in layout.forms() {
            let outcome = layout.solve(&form.start_inputs(false), Detail::Full);
            for part in outcome.solutions.iter().flat_map(|s| &s.parts) {
                // Round stock lies in a cradle; its edges taper.
                if part.stock == StockShape::Round {
                    continue;
                }
                for saw in [&SawProfile::usual(), &far] {
                    let advice = saw.advise_part(part);
                    for (cut, a) in part.cuts.iter().zip(&advice.cuts) {
                        if !cut.is_rip() {
                            lies_well(saw, part, cut, a, &advice.cautions);
                            laid += usize::from(a.lay().is_some());
                        }
                    }
                }
            }
        }
    }
    assert!(laid > 100, "{laid}");
}

fn saw_of(inputs: &Value, saw: &Value) -> Value {
    let reply = ask_for("end_board", inputs, &json!({ "saw": saw }));
    reply["solutions"][0]["saw"].clone()
}

/// 5 wide, 5 1/4 high, top 2 3/4, shoulders 3 3/4: insets 1 1/8 over a rise of 1 1/2 read 36.9°, and
/// the slope lies in the 1 1/2 in beside the fence; the usual saw reaches 4.04 there.
#[test]
fn a_shouldered_slope_beside_the_fence_is_within_reach() {
    let inputs =
        json!({"base_width": 5, "top_width": 2.75, "height": 5.25, "shoulder_height": 3.75});
    let saw = saw_of(&inputs, &json!({}));
    assert_eq!(saw["can_cut"], true, "{saw}");
    let slope = &saw["parts"][0]["cuts"][1];
    close(n(slope, "miter_deg"), 36.869_897_645_844, 1e-9, "3-4-5");
    close(n(slope, "fit.width"), 1.5, 1e-12, "how far it runs out");
    assert_eq!((&slope["fence_edge"], &slope["clamp"]), (&json!("upper"), &json!(true)));
    close(n(slope, "bears_length"), 2.75, 1e-12, "the top bears");
    let part = &saw["parts"][0];
    assert!(part["cautions"].to_string().contains("Short piece"), "{part}");
}

/// A gable 12 wide and 9 high lies on its base, 12 in of it, not on its apex; one with 1/2 in of top on
/// its 6 in base, clamped.
#[test]
fn a_gable_lies_on_its_base() {
    let big = json!({"width_square": 12, "width_at_45": 8.5});
    for (inputs, bears, clamp) in [
        (json!({"base_width": 12, "top_width": 0, "height": 9, "shoulder_height": 0}), 12.0, false),
        (
            json!({"base_width": 6, "top_width": 0.5, "height": 8.5, "shoulder_height": 0}),
            6.0,
            true,
        ),
    ] {
        let saw = saw_of(&inputs, &big);
        assert_eq!(saw["can_cut"], true, "{saw}");
        for cut in saw["parts"][0]["cuts"].as_array().expect("cuts") {
            assert_eq!(cut["fence_edge"], "lower", "{cut}");
            close(n(cut, "bears_length"), bears, 1e-12, "the base");
            assert_eq!(cut["clamp"], clamp);
            assert_eq!(cut["text"].to_string().contains("Clamp it down"), clamp, "{cut}");
        }
    }
}

/// A gable over shoulders, 3 wide and 5 1/4 high, inset 1 1/2 over a rise of 2 1/4: 33.7°, where the usual
/// saw reaches 4.25 in. On its base the slope runs 5 1/4 in out, and its apex is a point: refused.
#[test]
fn what_can_lie_on_no_edge_is_refused() {
    let inputs = json!({"base_width": 3, "top_width": 0, "height": 5.25, "shoulder_height": 3});
    let saw = saw_of(&inputs, &json!({}));
    let slope = &saw["parts"][0]["cuts"][1];
    close(n(slope, "miter_deg"), (1.5f64 / 2.25).atan().to_degrees(), 1e-9, "slope");
    assert_eq!(slope["can_cut"], false, "{slope}");
    assert_eq!(slope["remedies"][1]["kind"], "not_on_this_saw", "{slope}");
    // Flaring out above the shoulder, the blade would run on into the board: a jigsaw's corner.
    let inputs = json!({"base_width": 4, "top_width": 5, "height": 5, "shoulder_height": 2});
    let saw = saw_of(&inputs, &json!({}));
    for cut in saw["parts"][0]["cuts"].as_array().expect("cuts") {
        assert_eq!(cut["can_cut"], false, "{cut}");
        let why = cut["fit"]["misfits"].to_string();
        assert!(why.contains("inside_corner"), "{cut}");
    }
}

/// However wide the board, its edge counts: 4 in of base against 8 in of hold, ends with two cuts each.
/// And of a leg the edge, not the long points: 7.89 in against 8.
#[test]
fn the_edge_that_bears_counts() {
    let inputs = json!({"base_width": 4, "top_width": 2, "height": 9, "shoulder_height": 3});
    let saw = saw_of(&inputs, &json!({"width_square": 12, "hold_length": 8}));
    let part = &saw["parts"][0];
    close(n(&part["short_piece"], "bears_length"), 4.0, 1e-12, "the base");
    assert!(part["cautions"].to_string().contains("Short piece"), "{part}");
    let words = part["text"].to_string();
    assert!(words.contains("clamp it for what is left"), "{words}");
    assert!(!words.contains("cut it off last"), "{words}");
    let leg = |edge: f64| {
        let run = 1.5 * 30f64.to_radians().tan();
        Part::stick(
            "Leg",
            Length(1.5),
            Some(Length(1.5)),
            &[Point::new(0.0, 0.0), Point::new(run, 1.5)],
            &[Point::new(edge, 0.0), Point::new(edge + run, 1.5)],
            &[CutName::default(); 2],
        )
    };
    let saw = SawProfile::usual();
    let (short, long) = (saw.advise_part(&leg(7.89)), saw.advise_part(&leg(8.0)));
    assert!(leg(7.89).length.0 > 8.0, "from point to point it is long enough");
    assert_eq!(short.short_piece.map(|s| s.bears), Some(Length(7.89)));
    assert!(short.cuts.iter().all(|c| c.rest.clamp));
    assert!(texts(&wording::part(&short)).contains("cut it off last"));
    assert_eq!(long.short_piece, None);
}
