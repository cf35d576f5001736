//! The order of cuts at a saw that cannot make all of them.

use crate::jobs::{KERF, worked};
use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::{self, Detail};
use offsquare_cuts::parts::{CutName, End, Part};
use offsquare_cuts::saw::{Advice, SawProfile};
use offsquare_geometry::Point;
use offsquare_planner::{CutBoard, Placement};
use offsquare_units::{Angle, Bit, Length, Money, Quantity, Style, say};
use offsquare_work::cutlist::{
    Entry, Jobs, OrderLine, PartEnd, ShownPlan, Summary, order, order_lines,
};
use offsquare_work::rack::{Rack, Sold, Stock};

/// What the saw is set to, line by line, for two parts of one stock so wide with ends at that angle.
fn settings(width: f64, angle: f64) -> Vec<String> {
    let rack = Rack {
        stocks: vec![Stock {
            id: 1,
            name: "pine".into(),
            thickness: Length(0.75),
            width: Length(width),
            sold: vec![Sold { length: Length(96.0), price: Money(428), ..Sold::default() }],
            ..Stock::default()
        }],
        ..Rack::default()
    };
    let entries = [Entry {
        id: 1,
        name: "Brace".into(),
        count: 2,
        stock: Some(1),
        length: Length(30.0),
        left: PartEnd::mitered(angle),
        right: PartEnd::mitered(angle),
        ..Entry::default()
    }];
    let jobs = Jobs::of(&entries, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let summary = Summary::of(&jobs, &planned, false, &rack, &entries);
    let shown = &summary.shown[0];
    order_lines(&jobs.jobs[shown.job], shown, &entries, &SawProfile::usual())
        .iter()
        .filter_map(|s| match s {
            OrderLine::Saw(t) => Some(t.render(&Style::default())),
            _ => None,
        })
        .collect()
}

/// The usual saw swings to 50°; at 45° it cuts 3 1/2 in wide.
#[test]
fn no_line_sets_the_saw_past_what_it_can() {
    assert_eq!(settings(3.5, 45.0), ["Set the saw to 45.0°, swung right."]);
    let past = settings(3.5, 54.5).join(" ");
    assert!(past.contains("54.5° is past this saw") && !past.contains("Set the saw to"), "{past}");
    let wide = settings(7.25, 45.0).join(" ");
    assert!(wide.contains("wider than it cuts there, 3 1/2 in"), "{wide}");
}

fn brace(height: f64, width: f64) -> Entry {
    let mut inputs = Inputs::of_form("single");
    for (key, inches) in
        [("opening_width", 28.0), ("opening_height", height), ("strip_width", width)]
    {
        inputs.set(key, Value::Length(Length(inches)));
    }
    inputs.set("ends", Value::Choices(vec!["rails"]));
    let outcome = layouts::find("brace").expect("brace").solve(&inputs, Detail::Full);
    let part = &outcome.solutions[0].parts[0];
    let mut entry =
        Entry { id: 1, name: "Brace".into(), count: 3, stock: Some(1), ..Entry::default() };
    entry.take(part);
    entry
}

fn lines(entry: &Entry, saw: &SawProfile) -> Vec<String> {
    let rack = Rack {
        stocks: vec![Stock {
            id: 1,
            name: "pine".into(),
            thickness: entry.away.unwrap_or(Length(0.75)),
            width: entry.seen.expect("a width"),
            sold: vec![Sold { length: Length(240.0), price: Money(428), ..Sold::default() }],
            ..Stock::default()
        }],
        ..Rack::default()
    };
    let list = std::slice::from_ref(entry);
    let jobs = Jobs::of(list, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let summary = Summary::of(&jobs, &planned, false, &rack, list);
    let shown = summary.shown.first().unwrap_or_else(|| panic!("no plan: {:?}", jobs.troubles));
    let all = order_lines(&jobs.jobs[0], shown, list, saw);
    let text = |s: &OrderLine| match s {
        OrderLine::Saw(t) | OrderLine::Stop(t) | OrderLine::Cut(t) => t.render(&Style::default()),
    };
    all.iter().map(text).collect()
}

/// Opening 28 × 44, strip 2, flat on the rails: t + asin(s/D) is the slope, 90° less it the reading,
/// 30.309°: a saw with half degrees is set to 30.5°, and the exact reading stands beside it.
#[test]
fn readings_are_those_of_this_saws_marks() {
    let d = 28f64.hypot(44.0);
    let reading = 90.0 - (44f64.atan2(28.0) + (2.0 / d).asin()).to_degrees();
    let all = lines(&brace(44.0, 2.0), &SawProfile::usual());
    let set = all.iter().find(|l| l.starts_with("Set the saw")).expect("a setting");
    assert!(
        set.starts_with(&format!("Set the saw to {:.1}°", (reading * 2.0).round() / 2.0)),
        "{set}"
    );
    assert!(set.contains(&format!("exactly {reading:.1}°")), "{set}");
    // 39.1° asks for 39.0°.
    let entry =
        Entry { left: PartEnd::mitered(39.1), right: PartEnd::mitered(-39.1), ..brace(44.0, 2.0) };
    let all = lines(&entry, &SawProfile::usual());
    assert!(
        all.iter().any(|l| l.starts_with("Set the saw to 39.0°") && l.contains("39.1°")),
        "{all:?}"
    );
}

/// One part has one stop figure: the order's is the saw card's, whose first cut, on a raw end, has none.
#[test]
fn the_stop_block_is_the_saw_cards() {
    for (height, width) in [(44.0, 2.0), (30.0, 1.5), (60.0, 3.0)] {
        for saw in [
            SawProfile::usual(),
            SawProfile { miter_left: Angle(47.0), miter_right: Angle(60.0), ..SawProfile::usual() },
            SawProfile { finest_mark: Angle(1.0), ..SawProfile::usual() },
        ] {
            let entry = brace(height, width);
            let mut inputs = Inputs::of_form("single");
            for (key, v) in
                [("opening_width", 28.0), ("opening_height", height), ("strip_width", width)]
            {
                inputs.set(key, Value::Length(Length(v)));
            }
            inputs.set("ends", Value::Choices(vec!["rails"]));
            let outcome = layouts::find("brace").expect("brace").solve(&inputs, Detail::Full);
            let part = &outcome.solutions[0].parts[0];
            let card = saw.advise_part(part);
            let told = |i: usize| -> Vec<String> {
                let all = offsquare_cuts::saw::wording::cut_in_short(&card.cuts[i]);
                all.iter().map(|t| t.render(&Style::default())).collect()
            };
            assert!(!told(0).iter().any(|l| l.contains("Stop block")), "{:?}", told(0));
            let at = card.cuts[1].stop_block.as_ref().expect("a stop").setting;
            let figure = say!(at).render(&Style::default());
            assert!(told(1).iter().any(|l| l.contains(&format!("Stop block: {figure}"))));
            let order = lines(&entry, &saw);
            let stops: Vec<&String> =
                order.iter().filter(|l| l.starts_with("Stop block")).collect();
            assert_eq!(stops.len(), 1, "{order:#?}");
            assert!(
                stops[0].starts_with(&format!("Stop block at {figure}:")),
                "{stops:?} {figure}"
            );
        }
    }
}

/// Flipped over its long axis, a board's far edge lies nearest you: what is marked there changes over. Frame sides
/// nest flipped, every other line leans the other way in the plan and the same way at the saw: the mark near you
/// always stands further right.
#[test]
fn marks_are_told_as_the_flipped_board_lies() {
    let entry = Entry {
        left: PartEnd::mitered(45.0),
        right: PartEnd::mitered(45.0),
        seen: Some(Length(2.0)),
        ..brace(44.0, 2.0)
    };
    let rack = Rack {
        stocks: vec![Stock {
            id: 1,
            width: Length(2.0),
            thickness: Length(0.75),
            sold: vec![Sold { length: Length(240.0), price: Money(428), ..Sold::default() }],
            ..Stock::default()
        }],
        ..Rack::default()
    };
    let list = std::slice::from_ref(&entry);
    let jobs = Jobs::of(list, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let shown = &Summary::of(&jobs, &planned, false, &rack, list).shown[0];
    let style = Style { decimals: true, ..Style::default() };
    let saw = SawProfile::usual();
    let all = order_lines(&jobs.jobs[0], shown, list, &saw);
    let mut told = 0;
    let mut right = true;
    for step in &all {
        match step {
            OrderLine::Saw(t) => right = t.render(&style).contains("swung right"),
            OrderLine::Cut(t) => {
                let values: Vec<f64> =
                    t.0.iter()
                        .filter_map(|b| match b {
                            Bit::Quantity(Quantity::Length(l)) => Some(l.0),
                            _ => None,
                        })
                        .collect();
                let [near, fence] = values[..] else { panic!("{t:?}") };
                assert_eq!(near > fence, right, "{t:?}");
                told += 1;
            }
            OrderLine::Stop(_) => {}
        }
    }
    assert!(shown.order.flips > 0 && told > 3);
}

/// Any part with two plain ends: where its right end is cut against the stop, the order says the saw card's figure.
#[test]
fn any_parts_stop_block_is_the_saw_cards() {
    let mut seed = 13_u64;
    let mut share = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 11) as f64 / (1_u64 << 53) as f64
    };
    let saw =
        SawProfile { width_square: Length(12.0), width_at_45: Length(8.0), ..SawProfile::usual() };
    let mut told = 0;
    for case in 0..10_000 {
        let w = 1.0 + 4.0 * share();
        let (left, right) = (90.0 * share() - 45.0, 90.0 * share() - 45.0);
        let long = 4.0 * w + 20.0 * share();
        let reach = |a: f64| w * a.to_radians().tan();
        let (l, r) = (reach(left), reach(right));
        let at = |x: f64, over: f64, out: f64| {
            [Point::new(x + out * (-over).max(0.0), 0.0), Point::new(x + out * over.max(0.0), w)]
        };
        let names = [CutName::default(); 2];
        let part =
            Part::stick("Part", Length(w), None, &at(0.0, l, 1.0), &at(long, r, -1.0), &names);
        let card = saw.advise(&part, &part.cuts[1]).stop_block.expect("a stop").setting;
        let mut entry = Entry { id: 1, count: 3, stock: Some(1), ..Entry::default() };
        entry.take(&part);
        let rack = Rack {
            stocks: vec![Stock {
                id: 1,
                width: Length(w),
                thickness: Length(0.75),
                sold: vec![Sold { length: Length(200.0), price: Money(428), ..Sold::default() }],
                ..Stock::default()
            }],
            ..Rack::default()
        };
        let list = std::slice::from_ref(&entry);
        let jobs = Jobs::of(list, &rack, KERF, 1, &[]);
        let job = &jobs.jobs[0];
        // One after another, now and then flipped over its long axis, as the planner may lay them.
        let parts: Vec<Placement> = (0..3)
            .map(|n| Placement {
                flipped: share() < 0.5,
                x: f64::from(n) * (long + 5.0),
                ..Placement::default()
            })
            .collect();
        let boards = vec![CutBoard { parts, ..CutBoard::default() }];
        let order = order(job, &boards, &[vec![0]], false);
        let shown = ShownPlan { boards, order, ..ShownPlan::default() };
        let figure = say!(card).render(&Style::default());
        for step in order_lines(job, &shown, list, &saw) {
            if let OrderLine::Stop(t) = step {
                let said = t.render(&Style::default());
                let wanted = format!("Stop block at {figure}: ");
                assert!(said.starts_with(&wanted), "case {case}: {left} {right}: {said}, {figure}");
                told += 1;
            }
        }
    }
    assert_eq!(told, 10_000);
}

/// Over every layout and form at its start: the order sets the saw to what the card of the part says, tilt
/// included, and each of its stops is one that the card gives.
#[test]
fn every_layouts_part_is_ordered_as_its_card_says() {
    let (mut parts, mut stops) = (0, 0);
    let saw =
        SawProfile { width_square: Length(12.0), width_at_45: Length(8.5), ..SawProfile::usual() };
    for layout in layouts::all() {
        for form in layout.forms() {
            let inputs = form.start_inputs(false);
            for part in layout
                .solve(&inputs, Detail::Full)
                .solutions
                .into_iter()
                .flat_map(|s| s.parts)
                .filter(|p| p.length.0 < 200.0 && !p.cuts.is_empty())
            {
                let card = saw.advise_part(&part);
                let mut entry = Entry { id: 1, count: 2, stock: Some(1), ..Entry::default() };
                entry.take(&part);
                entry.seen = Some(part.seen);
                let told = lines(&entry, &saw);
                let what = format!("{} {} {}", layout.id(), form.id, part.name);
                for cut in card.cuts.iter().filter(|c| c.lay().is_some()) {
                    let set = cut.setting();
                    for (reading, exact) in [(set.set_miter, set.miter), (set.set_bevel, set.bevel)]
                    {
                        let said = say!(reading).render(&Style::default());
                        let heard = told.iter().any(|t| t.contains(&said));
                        assert!(
                            exact.0 == 0.0 || heard,
                            "{what}: {said} of {} in {told:#?}",
                            cut.name
                        );
                    }
                }
                // Cuts that follow on the blank start from one squared to the whole length, a bevelled end
                // longer by k(1/|N.e3| - 1) (CUTPLAN, its opening), |N.e3| = cos miter · cos bevel.
                let ends = card.cuts.iter().filter(|c| c.bevel.0 > 0.0 && c.end != End::Along);
                let lean =
                    |c: &Advice| (c.miter.0.to_radians().cos()) * c.bevel.0.to_radians().cos();
                let longer: f64 = ends.map(|c| KERF.0 * (1.0 / lean(c) - 1.0)).sum();
                let follows = told.iter().any(|t| t.contains(" blanks: "));
                let blank = follows.then_some(Length(entry.length.0 + longer));
                let on_card = card.cuts.iter().filter_map(|c| Some(c.stop_block.as_ref()?.setting));
                let known: Vec<String> = on_card
                    .chain(blank)
                    .map(|s| format!("Stop block at {}: ", say!(s).render(&Style::default())))
                    .collect();
                for stop in told.iter().filter(|t| t.starts_with("Stop block at")) {
                    let heard = known.iter().any(|k| stop.starts_with(k));
                    assert!(heard, "{what}: {stop}, the card says {known:?} {told:#?}");
                    stops += 1;
                }
                parts += 1;
            }
        }
    }
    assert!(parts > 60 && stops > 20, "{parts} {stops}");
}
