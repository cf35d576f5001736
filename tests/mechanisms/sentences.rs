//! Every sentence that layouts, the saw and the paper say of the starts and of the case tables: none of the kinds that a
//! maker stumbles over.

use offsquare_cuts::backwards::{Steps, advise, if_off};
use offsquare_cuts::inputs::Kind;
use offsquare_cuts::layouts;
use offsquare_cuts::saw::{SawProfile, wording};
use offsquare_layout_tests::asking::solve;
use offsquare_paper::report;
use offsquare_units::{Angle, Length, Style, Text, Unit};
use offsquare_work::piece::{Draft, Shop, answer};
use serde_json::{Value, json};

/// "0.0148 in"
fn is_small_decimal(said: &str) -> bool {
    said.match_indices("0.0").any(|(at, _)| {
        let rest = said[at..].trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
        rest.starts_with(" in") && !rest.starts_with(" ins")
    })
}

/// What is wrong with a sentence, if anything is.
fn stumbles(said: &str) -> Option<&'static str> {
    let instead = said.match_indices(" instead of ").any(|(at, word)| {
        let before = &said[..at];
        let after = &said[at + word.len()..];
        let size = |text: &str| -> String {
            text.chars().take_while(|c| c.is_ascii_digit() || " /.".contains(*c)).collect()
        };
        let new: String = before
            .chars()
            .rev()
            .skip_while(|c| !c.is_ascii_digit())
            .take_while(|c| c.is_ascii_digit() || " /.".contains(*c))
            .collect();
        let new: String = new.chars().rev().collect();
        !new.trim().is_empty() && size(after).trim() == new.trim()
    });
    let starts = |word: &str| said.split(['.', ':', ';', ',']).any(|s| s.trim().starts_with(word));
    [
        (instead, "two equal readings"),
        (said.contains("a hair less than") && said.contains(" shy"), "a hair of a shy"),
        (said.contains(" 0 in along") || said.contains(" 0 mm along"), "0 along an edge"),
        (said.contains("under ") && said.contains(" at least"), "under … at least"),
        (said.contains("square: square"), "square twice"),
        (starts("1 kinds") || starts("1 parts") || starts("1 marks"), "1 of many"),
        (is_small_decimal(said), "a decimal of an inch below a mark"),
        (said.contains("NaN") || said.contains("inf "), "no number"),
        (said.contains("  ") || said.contains(" ,") || said.contains(".."), "blanks or points"),
    ]
    .into_iter()
    .find_map(|(wrong, what)| wrong.then_some(what))
}

#[test]
fn the_check_finds_what_the_issue_found() {
    for said in [
        "Then long edge is 44 in strong instead of 44 in.",
        "Long edge is a hair less than 23 13/16 in shy.",
        "With a tape: 0 in along the far edge.",
        "It comes to under 0.0001 in at least and 3 in at most.",
        "Top, square: square across",
        "1 kinds, 1 parts",
        "The last joint is open by 0.4°, 0.0148 in over the cut",
    ] {
        assert!(stumbles(said).is_some(), "{said}");
    }
    for said in
        ["43 3/4 in instead of 44 in.", "4.0 in", "10 in along the far edge", "1 kind, 1 part"]
    {
        assert_eq!(stumbles(said), None, "{said}");
    }
}

struct Heard {
    style: Style,
    count: usize,
    wrong: Vec<String>,
}

impl Heard {
    fn hear(&mut self, at: &str, text: &Text) {
        self.say(at, &text.render(&self.style));
    }
    fn say(&mut self, at: &str, said: &str) {
        self.count += 1;
        if let Some(what) = stumbles(said) {
            self.wrong.push(format!("{what} ({at}): {said}"));
        }
    }
}

/// All that a draft's screens, card, copied text and paper say.
fn hear_draft(draft: &Draft, shop: &Shop, heard: &mut Heard) {
    let at = format!("{} {}", draft.layout, draft.form);
    let layout = draft.layout().expect("a layout");
    let answered = answer(draft, shop);
    for p in &answered.problems {
        heard.hear(&at, &p.text);
    }
    for solved in &answered.solved {
        let s = &solved.solution;
        for text in s.notes.iter().chain(&s.derivation) {
            heard.hear(&at, text);
        }
        for standing in &s.standing {
            heard.hear(&at, &shop.saw.standing(standing));
        }
        for part in advise(layout, solved, &shop.saw, &Steps::default()) {
            let cuts = part.cuts.iter().flat_map(wording::cut);
            for text in wording::part(&part).into_iter().chain(cuts) {
                heard.hear(&at, &text);
            }
        }
        for row in if_off(layout, solved, heard.style.unit.is_metric(), &Steps::default()) {
            heard.hear(&at, &row.text);
        }
        heard.say(&at, &report::line(solved, &heard.style));
    }
}

/// Every form's start, and each once with every length a little off the mark.
fn hear_starts(shop: &Shop) {
    let mut heard = Heard { style: shop.style(), count: 0, wrong: Vec::new() };
    for layout in layouts::all().iter().filter(|l| l.has_screen()) {
        for form in layout.forms() {
            let mut draft = Draft::fresh(*layout, form, shop.unit);
            hear_draft(&draft, shop, &mut heard);
            for field in form.fields {
                let typed = draft.typed.iter_mut().find(|t| t.key == field.key);
                if let (Kind::Length(_), Some(typed)) = (field.kind, typed)
                    && !typed.text.is_empty()
                    && typed.text != "0"
                {
                    typed.text += if shop.unit.is_metric() { " + 0.4" } else { " + 0.013" };
                }
            }
            hear_draft(&draft, shop, &mut heard);
        }
    }
    assert!(heard.count > 1_000, "{}", heard.count);
    assert!(heard.wrong.is_empty(), "{}\n{}", heard.wrong.len(), heard.wrong.join("\n"));
}

#[test]
fn no_start_says_what_makes_a_maker_stumble() {
    hear_starts(&Shop::default());
}

#[test]
fn no_start_in_millimeters_does() {
    hear_starts(&Shop { unit: Unit::Millimeter, ..Shop::default() });
}

/// A saw that many cuts are past has ways out to tell.
#[test]
fn no_start_on_a_small_saw_does() {
    let mut small = Shop::default();
    small.saw = SawProfile {
        miter_left: Angle(45.0),
        miter_right: Angle(40.0),
        width_square: Length(4.0),
        width_at_45: Length(2.75),
        ..small.saw
    };
    hear_starts(&small);
}

/// A gable has no top that could be square; beside "square across" a name needs no "square".
#[test]
fn no_cut_is_named_square() {
    let gable = answer(
        &{
            let layout = layouts::find("end_board").expect("end board");
            let mut draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
            draft.set("top_width", "0", Unit::Inch);
            draft.set("grain", "upright", Unit::Inch);
            draft
        },
        &Shop::default(),
    );
    let named: Vec<_> =
        gable.solved[0].solution.parts[0].cuts.iter().map(|c| c.name.clone()).collect();
    assert!(named.iter().any(|n| n.contains("peak")), "{named:?}");
    assert!(!named.iter().any(|n| n.starts_with("Top")), "{named:?}");
    for layout in layouts::all().iter().filter(|l| l.has_screen()) {
        for form in layout.forms() {
            let start = answer(&Draft::fresh(*layout, form, Unit::Inch), &Shop::default());
            for part in start.solved.iter().flat_map(|s| &s.solution.parts) {
                for cut in &part.cuts {
                    assert!(!cut.name.ends_with("square"), "{}: {}", layout.id(), cut.name);
                }
            }
        }
    }
}

/// The case tables, through the door: problems, what the saw says, what if it's off.
fn hear_cases(half: usize) {
    fn texts(value: &Value, heard: &mut Heard, at: &str) {
        match value {
            Value::String(said) if said.contains(' ') => heard.say(at, said),
            Value::Array(all) => all.iter().for_each(|v| texts(v, heard, at)),
            Value::Object(all) => all.values().for_each(|v| texts(v, heard, at)),
            _ => {}
        }
    }
    let mut heard = Heard { style: Style::default(), count: 0, wrong: Vec::new() };
    // Sizes of no piece at all (1e-300 in) are there for their bits, not for their words.
    let is_none = |v: &Value| v.as_f64().is_some_and(|n| n != 0.0 && n.abs() < 1e-6);
    let real = |case: &Value| !case["inputs"].as_object().is_some_and(|i| i.values().any(is_none));
    for mut case in cases().into_iter().filter(real).skip(half).step_by(2) {
        case["saw"] = json!({});
        let at = case["id"].to_string();
        texts(&solve(&case), &mut heard, &at);
    }
    assert!(heard.count > 1_500, "{}", heard.count);
    assert!(heard.wrong.is_empty(), "{}\n{}", heard.wrong.len(), heard.wrong.join("\n"));
}

#[test]
fn no_case_says_what_makes_a_maker_stumble() {
    hear_cases(0);
}

#[test]
fn nor_does_any_of_the_other_cases() {
    hear_cases(1);
}

fn cases() -> Vec<Value> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/cases");
    let mut all = Vec::new();
    for entry in std::fs::read_dir(folder).expect("the tables") {
        let text = std::fs::read_to_string(entry.expect("a file").path()).expect("text");
        let table: Vec<Value> = serde_json::from_str(&text).expect("JSON");
        all.extend(table);
    }
    all
}
