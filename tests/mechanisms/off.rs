//! *If it's off*: what is told against polygons built here from GEOMETRY's closed forms, cut wrong, turned and
//! measured by the `geo` crate.

use geo::{BoundingRect, Distance, Euclidean, Line, Point, Polygon, Rotate, polygon};
use offsquare_cuts::layouts;
use offsquare_door::solve_value;
use serde_json::{Value, json};

/// Numbers from 0 to 1, the same at every run (Knuth's MMIX constants).
struct Dice(u64);

impl Dice {
    fn next(&mut self, from: f64, to: f64) -> f64 {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        from + (to - from) * ((self.0 >> 11) as f64 / (1_u64 << 53) as f64)
    }
}

/// How much room an outline has to either side in a rectangle, turned by up to 1.5° where that helps; less than 0
/// where it does not go in. The rectangle's sides are level and upright, so the outline's upright box tells.
fn room(shape: &Polygon, slope: f64, w: f64, h: f64) -> f64 {
    let at = |turn: f64| {
        let b = shape.rotate_around_point(slope + turn, Point::new(0.0, 0.0)).bounding_rect();
        let b = b.expect("a box");
        (w - b.width()).min(h - b.height()) / 2.0
    };
    let tries = 300;
    let step = 1.5 / f64::from(tries);
    let (mut best, mut most) = (0.0, f64::NEG_INFINITY);
    for i in -tries..=tries {
        let turn = f64::from(i) * step;
        if at(turn) > most {
            (best, most) = (turn, at(turn));
        }
    }
    let mut reach = step;
    while reach > 1e-11 {
        let next = [best - reach, best + reach].into_iter().find(|x| at(*x) > most);
        match next {
            Some(x) => (best, most) = (x, at(x)),
            None => reach /= 2.0,
        }
    }
    most
}

/// A brace along +x in its own frame, edge A at y = 0: its lower end's corners from A to B, its upper end's the same.
struct Built {
    slope: f64,
    /// Distance along either edge or, for a point, from tip to tip.
    long: f64,
    lower: Vec<(f64, f64)>,
    upper: Vec<(f64, f64)>,
}

impl Built {
    /// The landings with one answer `by` degrees off, the length kept (GEOMETRY 2).
    fn new(w: f64, h: f64, s: f64, row: (&str, &str), by: f64) -> Built {
        let (t, d) = (h.atan2(w), w.hypot(h));
        let tan = |m: f64, off: bool| (m + if off { by.to_radians() } else { 0.0 }).tan();
        let right = std::f64::consts::FRAC_PI_2;
        let (f, long, lower, upper) = match row.0 {
            "rails" => {
                let f = t + (s / d).asin();
                let lean = s * tan(right - f, true);
                let long = h / f.sin();
                (f, long, vec![(lean, 0.0), (0.0, s)], vec![(lean + long, 0.0), (long, s)])
            }
            "stiles" => {
                let f = t - (s / d).asin();
                let lean = s * tan(f, true);
                let long = w / f.cos();
                (f, long, vec![(-lean, 0.0), (0.0, s)], vec![(long - lean, 0.0), (long, s)])
            }
            "corner" => {
                let on_rail = s / 2.0 * tan(right - t, row.1.contains("rail"));
                let on_stile = s / 2.0 * t.tan();
                (
                    t,
                    d,
                    vec![(on_rail, 0.0), (0.0, s / 2.0), (on_stile, s)],
                    vec![(d - on_stile, 0.0), (d, s / 2.0), (d - on_rail, s)],
                )
            }
            _ => {
                let on_rail = s * tan(right - t, row.1.contains("rail"));
                let on_stile = s * tan(t, row.1.contains("stile"));
                (t, d, vec![(on_rail, 0.0), (0.0, s)], vec![(d - on_stile, 0.0), (d, s)])
            }
        };
        Built { slope: f.to_degrees(), long, lower, upper }
    }
    /// So much longer, its cuts kept.
    fn outline(&self, longer: f64) -> Polygon {
        let upper = self.upper.iter().map(|(x, y)| (x + longer, *y));
        let all: Vec<(f64, f64)> = self.lower[..1]
            .iter()
            .copied()
            .chain(upper)
            .chain(self.lower[1..].iter().rev().copied())
            .collect();
        Polygon::new(all.into(), vec![])
    }
}

fn rows(w: f64, h: f64, s: f64) -> Vec<(String, Value)> {
    let reply = solve_value(&json!({"id": 1, "layout": "brace", "unit": "in", "off": true,
        "inputs": {"opening_width": w, "opening_height": h, "strip_width": s}}));
    let mut all = Vec::new();
    for s in reply["solutions"].as_array().expect("solutions") {
        for row in s["off"].as_array().expect("rows") {
            all.push((s["way"].as_str().expect("a way").to_owned(), row.clone()));
        }
    }
    all
}

/// Whether a brace that was cut wrong drops in, and what it must be recut to, for every landing in 200 openings.
#[test]
fn what_drops_in_is_what_fits_when_it_is_built() {
    let mut dice = Dice(9);
    let (mut in_, mut out, mut cut) = (0, 0, 0);
    for _ in 0..200 {
        let (w, h) = (dice.next(12.0, 60.0), dice.next(12.0, 60.0));
        let s = dice.next(0.75, 0.2 * w.min(h));
        for (way, row) in rows(w, h, s) {
            let key = row["answer"].as_str().expect("an answer");
            let by = row["by"].as_f64().expect("by");
            let angle = key.ends_with("_deg");
            let built = Built::new(w, h, s, (&way, key), if angle { by } else { 0.0 });
            let longer = if angle { 0.0 } else { by };
            let at = format!("{w} x {h}, {s}, {way}: {row}");
            let free = room(&built.outline(longer), built.slope, w, h);
            let drops_in = row["drops_in"].as_bool().expect("an opening");
            if free.abs() > 1e-6 {
                assert_eq!(drops_in, free > 0.0, "{at}: {free}");
            }
            if drops_in {
                in_ += 1
            } else {
                out += 1
            }
            let Some(recut) = row["recut_to"].as_f64() else {
                assert!(drops_in, "{at}");
                continue;
            };
            // As long as can be: it goes in, and a little longer it does not.
            let shorter = recut - built.long;
            assert!(room(&built.outline(shorter), built.slope, w, h) > -1e-6, "{at}");
            assert!(room(&built.outline(shorter + 1e-3), built.slope, w, h) < 0.0, "{at}");
            cut += 1;
        }
    }
    assert!(in_ > 500 && out > 500 && cut > 500, "{in_} drop in, {out} do not, {cut} are recut");
}

/// 30 by 44, strip 2 1/2, flat on the rails, the reading half a degree high: the cut's far end stands off the rail by what
/// the `geo` crate measures between it and the rail's line.
#[test]
fn the_gap_is_how_far_the_open_end_stands_off() {
    for (w, h, s) in [(30.0, 44.0, 2.5), (44.0, 30.0, 3.5), (24.0, 36.0, 1.0)] {
        for (way, row) in
            rows(w, h, s).iter().filter(|(way, r)| way == "rails" && r["answer"] == "reading_deg")
        {
            let by = row["by"].as_f64().expect("by");
            let right = Built::new(w, h, s, (way, "reading_deg"), 0.0);
            let wrong = Built::new(w, h, s, (way, "reading_deg"), by);
            let (a, b) = (right.lower[0], right.lower[1]);
            // The rail's line, run on past the cut.
            let on = |k: f64| (b.0 + (a.0 - b.0) * k, b.1 + (a.1 - b.1) * k);
            let rail = Line::new(on(-1.0), on(2.0));
            let gap = Euclidean.distance(&Point::from(wrong.lower[0]), &rail);
            assert!((row["gap"].as_f64().expect("a gap") - gap).abs() < 1e-9, "{row}: {gap}");
            assert_eq!(
                row["opens"],
                if by > 0.0 { "at the short point" } else { "at the long point" }
            );
        }
    }
    // The check itself: a square's corner stands off its diagonal's end by nothing.
    let square = polygon![(x: 0.0, y: 0.0), (x: 1.0, y: 0.0), (x: 1.0, y: 1.0), (x: 0.0, y: 1.0)];
    assert!((room(&square, 0.0, 1.0, 1.0)).abs() < 1e-9);
}

/// A size is told anew only where the form says that it is free to give, and only near what it was.
#[test]
fn only_what_is_free_gives_and_never_by_far() {
    let mut told = Vec::new();
    for layout in layouts::all() {
        for form in layout.forms() {
            let start = form.start_inputs(false);
            let inputs: serde_json::Map<String, Value> = start
                .iter()
                .filter_map(|(k, v)| Some((k.to_owned(), crate::all_layouts::json(v)?)))
                .collect();
            let reply =
                solve_value(&json!({"id": 1, "layout": layout.id(), "form": form.id, "unit": "in",
                "inputs": inputs, "off": true}));
            for row in reply["solutions"]
                .as_array()
                .into_iter()
                .flatten()
                .flat_map(|s| s["off"].as_array().into_iter().flatten())
            {
                let at = format!("{} {}: {row}", layout.id(), form.id);
                let text = row["text"].as_str().expect("a text");
                assert!(row["gap"].is_number() || row["give"].is_string(), "{at}");
                assert_eq!(
                    row["value"].is_number(),
                    text.contains(" comes out at ") || text.contains(" stays at "),
                    "{at}"
                );
                let Some(value) = row["value"].as_f64() else { continue };
                let field = form
                    .fields
                    .iter()
                    .find(|f| Some(f.key) == row["give"].as_str())
                    .expect("a field");
                assert!(field.free, "{at}");
                let was = start.get(field.key).and_then(|v| v.scalar()).expect("a size");
                let most = if field.key.ends_with("_deg") { 2.0 } else { 0.1 * was.abs() };
                assert!((value - was).abs() <= most, "{at}");
                told.push(layout.id());
            }
        }
    }
    told.dedup();
    for layout in ["post_legs", "end_board", "two_way_splay", "bracket", "half_lap"] {
        assert!(told.contains(&layout), "{layout}: {told:?}");
    }
    // Openings, boxes and frames stand there already.
    for layout in ["brace", "sloped_box", "mitred_frame", "molding", "spacing"] {
        assert!(!told.contains(&layout), "{layout}");
    }
}

fn texts(layout: &str, form: &str, inputs: Value) -> Vec<String> {
    let reply = solve_value(
        &json!({"id": 1, "layout": layout, "form": form, "unit": "in", "inputs": inputs, "off": true}),
    );
    let rows = reply["solutions"][0]["off"].as_array().expect("rows").clone();
    rows.iter().map(|r| r["text"].as_str().expect("a text").to_owned()).collect()
}

/// What the issue named: half a degree of bevel made a box's sides lean by 19° instead of 15°, an opening's height
/// and a strip's width were told anew.
#[test]
fn what_stands_there_is_not_moved() {
    let box_ = json!({"outer_bottom_width": 14, "outer_bottom_depth": 8, "tilt_front_deg": 15, "tilt_side_deg": 15,
        "thickness_front": 0.75, "thickness_side": 0.75, "height": 6});
    let built = json!({"bottom": 30, "right": 44.25, "top": 30.125, "left": 44, "diagonal_up": 53.5,
        "strip_width": 2.5, "ends": "rails"});
    let brace =
        json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "ends": "rails"});
    let said = [
        texts("sloped_box", "two_slopes", box_),
        texts("brace", "as_built", built),
        texts("brace", "single", brace.clone()),
    ];
    for text in said.iter().flatten() {
        assert!(
            !text.contains("comes out") && !text.contains("lean") && text.contains("gap"),
            "{text}"
        );
    }
    assert_eq!(
        texts("brace", "single", brace),
        [
            "Reading 0.5° high: a hairline gap at the short point; it does not drop in until edge is recut to 51 5/8 in.",
            "Edge 1/32 in short: a hairline gap at one end; it still drops in; only a cut at 51 11/16 in shy closes it; \
             as much too long, it does not drop in.",
        ]
    );
}

/// The left slope of 12 / 5 / 9 1/4 off, the right one as it was: the top loses on one side what the left inset gains,
/// 9.25 (tan(m + 0.5°) − tan m) with tan m = 3.5 / 9.25.
#[test]
fn an_end_boards_left_reading_moves_the_left_slope_alone() {
    let reply = solve_value(&json!({"id": 1, "layout": "end_board", "unit": "in", "off": true,
        "inputs": {"base_width": 12, "top_width": 5, "height": 9.25}}));
    let row = &reply["solutions"][0]["off"][0];
    let m = (3.5_f64 / 9.25).atan();
    let by = row["by"].as_f64().expect("by").to_radians();
    let top = 5.0 - 9.25 * ((m + by).tan() - m.tan());
    assert!((row["value"].as_f64().expect("a top width") - top).abs() < 1e-9, "{row}: {top}");
}

/// The knee's length is kept: with both seats free, the outer edge of 8 and 6.5 stays hypot(8, 6.5) = 10.3078 in, and
/// a reading of m on leg A seats it at 10.3078 sin m off the corner there.
#[test]
fn a_knees_reading_keeps_its_length() {
    let reply = solve_value(&json!({"id": 1, "layout": "bracket", "unit": "in", "off": true,
        "inputs": {"leg_a": 12, "leg_b": 10, "leg_width": 1.5, "brace_width": 1.5, "seat_a": 8, "seat_b": 6.5}}));
    let row = &reply["solutions"][0]["off"][0];
    let by = row["by"].as_f64().expect("by").to_radians();
    let reading = 8.0_f64.atan2(6.5) + by;
    let seat = 8.0_f64.hypot(6.5) * reading.sin();
    assert!((row["value"].as_f64().expect("a seat") - seat).abs() < 1e-9, "{row}: {seat}");
}
