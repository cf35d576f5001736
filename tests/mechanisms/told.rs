//! What the answer strip and the copied text tell of a cut: its own part's length, and no setting
//! that the saw cannot be set to.

use offsquare_cuts::backwards::Solved;
use offsquare_cuts::layouts;
use offsquare_cuts::parts::{Cut, Part};
use offsquare_paper::report;
use offsquare_units::{Quantity, Unit};
use offsquare_work::piece::{Answered, Draft, Shop, answer};

fn answered(layout: &str, form: &str) -> Answered {
    let layout = layouts::find(layout).expect("a layout");
    let form = layout.forms().iter().find(|f| f.id == form).expect("form");
    answer(&Draft::fresh(layout, form, Unit::Inch), &Shop::default())
}

/// The extents of a part's outline along its two edges, measured on the outline itself.
fn along(part: &Part, y: f64) -> f64 {
    let on: Vec<f64> = part
        .outline
        .0
        .iter()
        .filter(|p| (p.y - y).abs() < 1e-9 * part.seen.0)
        .map(|p| p.x)
        .collect();
    let most = on.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = on.iter().copied().fold(f64::INFINITY, f64::min);
    most - least
}

fn inches(q: Quantity) -> f64 {
    match q {
        Quantity::Length(l) => l.0,
        other => panic!("a length, not {other:?}"),
    }
}

fn each_cut(mut f: impl FnMut(&str, &Solved, &Part, &Cut)) {
    for layout in layouts::all().iter().filter(|l| l.has_screen()) {
        for form in layout.forms() {
            for solved in &answered(layout.id(), form.id).solved {
                for part in &solved.solution.parts {
                    for cut in &part.cuts {
                        let at = format!("{} {} {}: {}", layout.id(), form.id, part.name, cut.name);
                        f(&at, solved, part, cut);
                    }
                }
            }
        }
    }
}

#[test]
fn beside_a_cut_stands_its_own_parts_length() {
    let mut cuts = 0;
    each_cut(|at, solved, part, cut| {
        let (words, q) = report::beside(solved, part, cut);
        let told = inches(q);
        let near = |x: f64| (told - x).abs() < 1e-9 * part.length.0;
        let line = (cut.to.x - cut.from.x).hypot(cut.to.y - cut.from.y);
        let own = match words.as_str() {
            "this cut" => near(line),
            "ripped to" => near(part.seen.0),
            _ => near(along(part, 0.0)) || near(along(part, part.seen.0)),
        };
        assert!(own, "{at}: {words} {told}");
        cuts += 1;
    });
    assert!(cuts > 100, "{cuts}");
}

/// A frame that shows 16 by 20 of stock 2 in wide is 20 by 24 outside.
#[test]
fn a_rail_is_not_told_the_stiles_length() {
    let all = answered("mitred_frame", "rectangle");
    let told: Vec<(String, f64)> = all.solved[0]
        .solution
        .parts
        .iter()
        .flat_map(|p| p.cuts.iter().map(move |c| (p, c)))
        .map(|(p, c)| (p.name.to_string(), inches(report::beside(&all.solved[0], p, c).1)))
        .collect();
    let lengths: Vec<f64> = told.iter().map(|t| (t.1 * 1e9).round() / 1e9).collect();
    assert_eq!(lengths, [20.0, 20.0, 24.0, 24.0], "{told:?}");
}

#[test]
fn the_copied_text_sets_no_saw_past_its_limit() {
    let shop = Shop::default();
    let style = shop.style();
    let mut past = 0;
    each_cut(|at, solved, part, cut| {
        let a = shop.saw.advise(part, cut);
        let text =
            report::plain_text(&answered("bracket", "knee").given, solved, &shop.saw, &style);
        let start = format!("{}, {}: ", part.name, cut.name);
        let line = text.lines().find(|l| l.starts_with(&start)).expect(at);
        let sets = line.contains("Set the saw");
        assert_eq!(sets, a.lay().is_some(), "{at}: {line}");
        // The reading is told all the same.
        let reading = format!("past this saw: {:.1}", a.miter.0);
        assert_eq!(line.contains(&reading), !sets, "{at}: {line}");
        past += u32::from(!sets);
    });
    assert!(past > 10, "{past}");
}

/// Lengths of every brace of a crossed pair, and every mark of a row, are in the copied text.
#[test]
fn the_copied_text_has_the_lengths_of_every_part() {
    let shop = Shop::default();
    for (layout, form, wanted) in [
        ("brace", "crossed", "Second brace: longer edge 42 in strong"),
        ("spacing", "row", "center 7: 32 1/16 in"),
        ("half_lap", "pair", "strip 2, depth: 3/8 in"),
    ] {
        let all = answered(layout, form);
        let text = report::plain_text(&all.given, &all.solved[0], &shop.saw, &shop.style());
        assert!(text.contains(wanted), "{wanted}\n{text}");
    }
}

#[test]
fn a_rip_is_no_cut_for_a_miter_saw() {
    let shop = Shop::default();
    let mut rips = 0;
    each_cut(|at, _, part, cut| {
        if cut.from.y == cut.to.y {
            let a = shop.saw.advise(part, cut);
            assert!(a.lay().is_none() && !shop.saw.can_cut(part, cut), "{at}");
            let text = offsquare_cuts::saw::wording::cut(&a)
                .iter()
                .map(|t| t.render(&shop.style()))
                .collect::<Vec<_>>()
                .join(" ");
            assert!(text.contains("Rip it to") && !text.contains("tape"), "{text}");
            rips += 1;
        }
    });
    assert!(rips > 0);
}

/// A knee of 2×4 stock with the 1 1/2 side in view, both seats alike: 45° standing on its edge as a miter,
/// or lying flat as a bevel of 45°.
#[test]
fn with_the_thickness_in_view_the_cut_is_told_both_ways() {
    let layout = layouts::find("bracket").expect("bracket");
    let mut draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    for (key, text) in
        [("brace_width", "1 1/2"), ("thickness", "3 1/2"), ("seat_a", "6"), ("seat_b", "6")]
    {
        draft.set(key, text, Unit::Inch);
    }
    let shop = Shop::default();
    let all = answer(&draft, &shop);
    let part = &all.solved[0].solution.parts[0];
    let said: Vec<String> =
        offsquare_cuts::saw::wording::cut(&shop.saw.advise(part, &part.cuts[0]))
            .iter()
            .map(|t| t.render(&shop.style()))
            .collect();
    let said = said.join(" ");
    for wanted in [
        "Set the saw to 45.0°",
        "Or with its wide side on the table: Set the saw square; tilt the blade 45.0°",
    ] {
        assert!(said.contains(wanted), "{wanted}\n{said}");
    }
}

/// A square cut across a board that is too wide has no tape mark: nothing runs along.
#[test]
fn a_square_cut_too_wide_is_squared_across() {
    let shop = Shop::default();
    let all = answered("end_board", "single");
    let part = &all.solved[0].solution.parts[0];
    let square = part.cuts.iter().find(|c| c.miter.0 == 0.0).expect("square");
    let a = shop.saw.advise(part, square);
    let text: Vec<String> = a
        .remedies
        .iter()
        .map(|r| offsquare_cuts::saw::wording::remedy(r).render(&shop.style()))
        .collect();
    assert_eq!(
        text,
        ["Square a line across it, and cut it with a hand saw or on a sled.", "Not on this saw."]
    );
}

/// A rise of 12 on a run of 20: atan(12 ÷ 20) = 30.96° to the edge, 59.04° off square, past the usual saw's 50°. The other way
/// about it is 30.96° off square, and the nearest half degree is 31°. Strip and card take both from here, and
/// the drawing has both angles.
#[test]
fn an_angle_from_a_tape_is_told_as_a_setting() {
    use offsquare_geometry::scene::{Item, Source};
    use offsquare_paper::report::{bare_in_words, bare_reading};
    let saw = Shop::default().saw;
    for (form, sizes, exact, meets, set) in [
        ("rise_run", [("rise", "12"), ("run", "20")], 59.036, 30.964, None),
        ("rise_run", [("rise", "20"), ("run", "12")], 30.964, 59.036, Some(31.0)),
        ("tape_mark", [("tape_mark", "2"), ("width", "3 1/2")], 29.745, 60.255, Some(29.5)),
        // A side of 24, one of 24 and 24 across: 60° between them, 30° off square.
        ("triangle", [("side_a", "24"), ("side_c", "24")], 30.0, 60.0, Some(30.0)),
    ] {
        let layout = layouts::find("three_measures").expect("a layout");
        let asked = layout.forms().iter().find(|f| f.id == form).expect("a form");
        let mut draft = Draft::fresh(layout, asked, Unit::Inch);
        for (key, text) in sizes {
            draft.set(key, text, Unit::Inch);
        }
        let all = answer(&draft, &Shop::default());
        let solved = &all.solved[0];
        let (reading, edge) = bare_reading(solved, &saw).expect("a reading");
        assert!((reading.exact.0 - exact).abs() < 1e-3 && (edge.0 - meets).abs() < 1e-3, "{form}");
        assert_eq!(reading.within, set.is_some(), "{form}");
        assert_eq!(reading.set.0, set.unwrap_or(reading.exact.0), "{form}");
        let words = bare_in_words(&reading, edge, &saw).render(&Shop::default().style());
        assert!(words.contains(&format!("The cut meets the edge at {meets:.1}°.")), "{words}");
        let past = format!("Past this saw: {exact:.1}° off square, and it swings 50.0°.");
        assert_eq!(words.contains(&past), set.is_none(), "{words}");
        let drawn = |wanted: &str| {
            solved.solution.figure.items.iter().any(|i| {
                matches!(i,
                Item::AngleMark { source: Source::Computed(key), .. } if *key == wanted)
            })
        };
        assert!(drawn("reading_deg"), "{form}");
        assert!(form == "tape_mark" || drawn("angle_deg"), "{form}");
    }
}

/// Legs by default, footprint 20, rise 7: leg length, footprint and rise cannot all be true, and the answer says so.
#[test]
fn an_answer_of_sizes_that_disagree_is_in_doubt() {
    let layout = layouts::find("post_legs").expect("a layout");
    let mut draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    let doubt = |draft: &Draft| {
        let all = answer(draft, &Shop::default());
        let way = all.solved.first().map_or("", |s| s.solution.way);
        all.doubt(way).map(|p| p.text.render(&Shop::default().style()))
    };
    assert_eq!(doubt(&draft), None);
    draft.set("footprint", "20", Unit::Inch);
    assert_eq!(doubt(&draft), None);
    draft.set("rise_to_joint_top", "7", Unit::Inch);
    let said = doubt(&draft).expect("a doubt");
    assert!(said.contains("cannot all be true"), "{said}");
}

/// Where nothing is cut but square ends, the marks lead, each from the part's left end. 7 holes 1 1/2 in wide leave 25 1/2 of
/// 36 in for 8 gaps of 3 3/16: centers at 3 15/16 and every 4 11/16 on. A scale of 48 in hinged in two, marks every inch from
/// 2 to 47: 22 marks before the joint at 24, the next 0 in, every fourth long and figured.
#[test]
fn running_marks_lead_where_nothing_is_cut_aslant() {
    let mut led = Vec::new();
    for layout in layouts::all().iter().filter(|l| l.has_screen()) {
        for form in layout.forms() {
            let all = answered(layout.id(), form.id);
            if !report::running_marks(&all.solved[0]).is_empty() {
                led.push(layout.id());
            }
        }
    }
    assert_eq!(led, ["spacing", "marks"]);
    let row = answered("spacing", "row");
    let all = report::running_marks(&row.solved[0]);
    let at: Vec<f64> = all[0].1.iter().map(|m| m.at.0).collect();
    assert_eq!(at.len(), 7);
    for (i, at) in at.iter().enumerate() {
        assert!((at - (3.9375 + 4.6875 * i as f64)).abs() < 1e-9, "{at}");
    }
    let layout = layouts::find("marks").expect("a layout");
    let mut draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    draft.set("sections", "2", Unit::Inch);
    let scale = answer(&draft, &Shop::default());
    let all = report::running_marks(&scale.solved[0]);
    let told: Vec<_> = all
        .iter()
        .map(|(part, marks)| {
            let long = marks.iter().filter(|m| m.long).count();
            let first = marks[0];
            (part.name.to_string(), marks.len(), long, first.at.0, first.figure.map(|f| f.0))
        })
        .collect();
    assert_eq!(
        told,
        [("Section 1".into(), 22, 6, 2.0, Some(0.0)), ("Section 2".into(), 24, 6, 0.0, None)]
    );
}
