//! Asking the same piece in other words: what was typed and what it came to go along.

use offsquare_cuts::inputs::{Kind, Need, Value};
use offsquare_cuts::layouts;
use offsquare_units::{Length, Quantity, Unit};
use offsquare_work::piece::{Draft, Shop, answer, in_next_unit, length_text};

fn fresh(layout: &str, form: &str) -> Draft {
    let layout = layouts::find(layout).expect("a layout");
    let form = layout.forms().iter().find(|f| f.id == form).expect("form");
    Draft::fresh(layout, form, Unit::Inch)
}

/// The draft as it stands after a tap on another form's button.
fn tapped(draft: &Draft, form: &str) -> Draft {
    let shop = Shop::default();
    let all = answer(draft, &shop);
    let layout = draft.layout().expect("a layout");
    let form = layout.forms().iter().find(|f| f.id == form).expect("form");
    let now = all.solved.first().map(|s| &s.solution.answers);
    draft.in_form(form, &shop, now).expect("a draft")
}

fn inches(draft: &Draft, path: &str) -> f64 {
    let all = answer(draft, &Shop::default());
    match all.solved[0].solution.answers.quantity(path) {
        Some(Quantity::Length(l)) => l.0,
        other => panic!("{path}: {other:?}"),
    }
}

/// A leg 16 in long lands 7 in out: the rise is √(16² − 7²) = 14.387 in, the lean asin(7/16) = 25.94°.
#[test]
fn another_form_shows_the_same_piece() {
    let mut draft = fresh("post_legs", "leg_length");
    draft.set("long_point_length", "16", Unit::Inch);
    let by_rise = tapped(&draft, "rise");
    assert_eq!(by_rise.text("rise_to_joint_top").expect("typed").text, "14 3/8");
    let by_angle = tapped(&draft, "splay");
    assert_eq!(by_angle.text("splay_deg").expect("typed").text, "25.9");
    for other in [by_rise, by_angle] {
        let length = inches(&other, "long_point_length");
        assert!((length - 16.0).abs() < 1.0 / 16.0, "{length}");
    }
}

/// From every form's start sizes to every other form of its layout: an answer, and nothing to say.
#[test]
fn no_form_is_entered_with_sizes_that_disagree() {
    let shop = Shop::default();
    let mut ways = 0;
    for layout in layouts::all().iter().filter(|l| l.has_screen()) {
        for from in layout.forms() {
            for to in layout.forms().iter().filter(|f| f.id != from.id) {
                let draft = tapped(&fresh(layout.id(), from.id), to.id);
                let all = answer(&draft, &shop);
                let at = format!("{}: {} to {}", layout.id(), from.id, to.id);
                assert!(all.is_good(), "{at}: {:?}", all.problems);
                let said: Vec<String> = all
                    .problems
                    .iter()
                    .filter(|p| p.way.is_none())
                    .map(|p| p.text.render(&shop.style()))
                    .collect();
                assert!(said.is_empty(), "{at}: {said:?}");
                ways += 1;
            }
        }
    }
    assert!(ways > 50, "{ways}");
}

#[test]
fn a_size_that_a_form_does_not_ask_for_is_there_again_on_the_way_back() {
    let mut draft = fresh("brace", "single");
    draft.set("strip_width", "3 1/4", Unit::Inch);
    let back = tapped(&tapped(&draft, "crossed"), "single");
    assert_eq!(back.text("strip_width").expect("typed").text, "3 1/4");
    // Nor does it go into a link that could not use it.
    let link = offsquare_work::piece::to_link(&tapped(&draft, "crossed"));
    assert!(!link.contains("strip_width="), "{link}");
}

#[test]
fn a_recent_answer_tells_its_sizes_as_typed() {
    let mut draft = fresh("brace", "single");
    draft.set("opening_width", "762", Unit::Millimeter);
    assert_eq!(
        draft.in_words(&Default::default()),
        "Opening width 762 mm, Opening height 36, Strip width 2"
    );
}

/// A knee from a 2×4, the 3 1/2 side in view, and turned: the 1 1/2 side in view.
#[test]
fn one_tap_turns_the_stock() {
    let mut draft = fresh("bracket", "knee");
    for key in ["leg_width", "brace_width"] {
        draft.set(key, "3 1/2", Unit::Inch);
    }
    assert_eq!(draft.turned(), None, "nothing to change places with");
    draft.set("thickness", "1 1/2", Unit::Inch);
    let turned = draft.turned().expect("turned");
    let text = |key: &str| turned.text(key).expect("typed").text.clone();
    assert_eq!(
        [text("brace_width"), text("leg_width"), text("thickness")],
        ["1 1/2", "1 1/2", "3 1/2"]
    );
    assert_eq!(turned.turned(), Some(draft), "and back");
}

/// A size that may stay open, typed and taken out again, is not an empty field elsewhere.
#[test]
fn an_emptied_size_does_not_empty_another_form() {
    let mut draft = fresh("brace", "as_built");
    draft.set("diagonal_down", "", Unit::Inch);
    let other = answer(&tapped(&draft, "as_built_down"), &Shop::default());
    assert!(other.is_good(), "{:?}", other.problems);
}

/// The text of a field after its unit button, and what it then comes to in inches.
fn turned(draft: &mut Draft, key: &'static str) -> (String, Option<Value>) {
    let entry_of = |draft: &Draft| {
        let all = answer(draft, &Shop::default());
        let found = all.entries.into_iter().find(|e| e.key == key);
        found.expect("a field")
    };
    let (text, unit) = in_next_unit(&entry_of(draft));
    draft.set(key, &text, unit);
    (text, entry_of(draft).value)
}

#[test]
fn the_unit_button_keeps_the_sum_and_the_length() {
    use Unit::{FeetInches, Inch, Millimeter};
    let rows: [(&str, [(Unit, &str); 4]); 6] = [
        (
            "33 - 2 * 2 1/2",
            [
                (FeetInches, "33 - 2 * 2 1/2"),
                (Millimeter, "(33 - 2 * 2 1/2) in"),
                (Inch, "33 - 2 * 2 1/2"),
                (FeetInches, "33 - 2 * 2 1/2"),
            ],
        ),
        (
            "33 in - 5",
            [
                (FeetInches, "33 in - 5"),
                (Millimeter, "33 in - 5 in"),
                (Inch, "33 in - 5 in"),
                (FeetInches, "33 in - 5 in"),
            ],
        ),
        (
            "1 1/2 + 673.1 mm",
            [
                (FeetInches, "1 1/2 + 673.1 mm"),
                (Millimeter, "1 1/2 in + 673.1 mm"),
                (Inch, "1 1/2 in + 673.1 mm"),
                (FeetInches, "1 1/2 in + 673.1 mm"),
            ],
        ),
        (
            "38.1 mm + 29 1/2 - 3 - 0 mm",
            [
                (FeetInches, "38.1 mm + 29 1/2 - 3 - 0 mm"),
                (Millimeter, "38.1 mm + 29 1/2 in - 3 in - 0 mm"),
                (Inch, "38.1 mm + 29 1/2 in - 3 in - 0 mm"),
                (FeetInches, "38.1 mm + 29 1/2 in - 3 in - 0 mm"),
            ],
        ),
        (
            "700 mm + 11.2 mm",
            [
                (FeetInches, "700 mm + 11.2 mm"),
                (Millimeter, "700 mm + 11.2 mm"),
                (Inch, "700 mm + 11.2 mm"),
                (FeetInches, "700 mm + 11.2 mm"),
            ],
        ),
        // No sum: printed afresh, as ever.
        (
            "28",
            [(FeetInches, "2' 4\""), (Millimeter, "711.2"), (Inch, "28"), (FeetInches, "2' 4\"")],
        ),
    ];
    for (typed, steps) in rows {
        let mut draft = fresh("brace", "single");
        draft.set("opening_width", typed, Inch);
        for (unit, expected) in steps {
            let (text, value) = turned(&mut draft, "opening_width");
            let now = draft.text("opening_width").expect("typed").unit;
            assert_eq!(now, unit);
            // Every row is 28 in, 711.2 mm.
            assert_eq!(value, Some(Value::Length(Length(28.0))), "{typed}: {text}");
            assert_eq!(text, expected, "{typed}");
        }
    }
    // Several sizes in one field, each for itself.
    let mut draft = fresh("mitred_frame", "polygon");
    let key = "widths";
    draft.set(key, "1 1/2, 4 - 2", Inch);
    turned(&mut draft, key);
    let (text, value) = turned(&mut draft, key);
    assert_eq!(text, "38.1, (4 - 2) in");
    assert_eq!(value, Some(Value::Lengths(vec![Length(1.5), Length(2.0)])));
}

/// Half steps up and down from the start sizes, so that each text is the maker's own; the sizes must still make a
/// piece that nothing is said of.
fn retyped(layout: &str, form: &str, turn: u32) -> Draft {
    let mut draft = fresh(layout, form);
    let fields = draft.form().expect("a form").fields;
    for (i, field) in fields.iter().enumerate() {
        let size = field.start_value(false).filter(|_| field.need == Need::Required);
        let text = match size {
            Some(Value::Length(l)) => {
                let by = f64::from((i as u32 * 5 + turn) % 7) / 64.0;
                length_text(Length(l.0 + by), Unit::Inch)
            }
            Some(Value::Angle(a)) => (a.0 + f64::from(turn % 3) * 0.25).to_string(),
            _ => continue,
        };
        let was = draft.clone();
        draft.set(field.key, &text, Unit::Inch);
        let all = answer(&draft, &Shop::default());
        if !all.is_good() || all.problems.iter().any(|p| p.way.is_none()) {
            draft = was;
        }
    }
    draft
}

/// From every form to every other and back, over a third one too: every text that was typed is there again, letter
/// for letter, and what means the same size is carried over.
#[test]
fn there_and_back_no_typed_size_is_lost() {
    let (mut ways, mut carried) = (0, 0);
    for layout in layouts::all().iter().filter(|l| l.has_screen()) {
        let forms = layout.forms();
        for (i, from) in forms.iter().enumerate() {
            let typed = retyped(layout.id(), from.id, i as u32);
            for (k, to) in forms.iter().enumerate().filter(|(_, f)| f.id != from.id) {
                let at = format!("{}: {} to {}", layout.id(), from.id, to.id);
                let there = tapped(&typed, to.id);
                let over = tapped(&there, forms[(k + 1) % forms.len()].id);
                for back in [tapped(&there, from.id), tapped(&over, from.id)] {
                    assert_eq!(back.typed, typed.typed, "{at} and back");
                }
                for field in to.fields {
                    let own = from.fields.iter().find(|f| f.key == field.key);
                    let first = own.or(from.fields.iter().find(|f| f.means() == field.means()));
                    let Some(was) = first.and_then(|f| typed.text(f.key)) else { continue };
                    // Another form may not know the choice.
                    if matches!(field.kind, Kind::Choice(all) if all.iter().all(|c| c.key != was.text))
                    {
                        continue;
                    }
                    let is = &there.text(field.key).expect("typed").text;
                    assert_eq!(is, &was.text, "{at}: {}", field.key);
                    carried += usize::from(field.key != first.map_or("", |f| f.key));
                }
                ways += 1;
            }
        }
    }
    assert!(ways > 50 && carried > 30, "{ways} ways, {carried} sizes under another key");
}

/// 30 by 44, strip 2 1/2: the crossed pair has strips of 2 1/2 and not of 2; typed anew there, the one brace has it.
#[test]
fn a_strip_is_as_wide_in_a_pair() {
    let mut draft = fresh("brace", "single");
    for (key, text) in [("opening_width", "30"), ("opening_height", "44"), ("strip_width", "2 1/2")]
    {
        draft.set(key, text, Unit::Inch);
    }
    let mut pair = tapped(&draft, "crossed");
    let text = |draft: &Draft, key: &str| draft.text(key).expect("typed").text.clone();
    assert_eq!([text(&pair, "strip_width_1"), text(&pair, "strip_width_2")], ["2 1/2", "2 1/2"]);
    pair.set("strip_width_1", "3", Unit::Inch);
    pair.set("strip_width_2", "1 1/2", Unit::Inch);
    let single = tapped(&pair, "single");
    assert_eq!(text(&single, "strip_width"), "3");
    assert_eq!(text(&tapped(&single, "crossed"), "strip_width_2"), "1 1/2");
    // The opening as built is that rectangle, its diagonal √(30² + 44²) = 53.254.
    let built = tapped(&draft, "as_built");
    let sides = ["bottom", "right", "top", "left", "diagonal_up"].map(|key| text(&built, key));
    assert_eq!(sides, ["30", "44", "30", "44", "53 1/4"]);
}

/// Legs 16 in long, then by rise; the rise typed anew moves the leg: √(14² + 7²) = 15.652 in, to the maker's 1/16.
#[test]
fn what_was_typed_elsewhere_since_is_not_undone() {
    let mut draft = fresh("post_legs", "leg_length");
    draft.set("long_point_length", "16", Unit::Inch);
    let mut by_rise = tapped(&draft, "rise");
    by_rise.set("rise_to_joint_top", "14", Unit::Inch);
    let back = tapped(&by_rise, "leg_length");
    assert_eq!(back.text("long_point_length").expect("typed").text, "15 5/8");
}

/// Among the recent answers a size that no tape shows is told in the maker's fraction: 16.7122 is 16 11/16 and a
/// quarter of a sixteenth or more.
#[test]
fn a_recent_answer_tells_what_a_tape_shows() {
    let mut draft = fresh("post_legs", "rise");
    draft.set("footprint", "16.7122", Unit::Inch);
    let words = draft.in_words(&Shop::default().style());
    assert!(
        words.contains("Footprint 16 11/16 in strong, ") && !words.contains(".7122"),
        "{words}"
    );
    draft.set("footprint", "16 3/64", Unit::Inch);
    assert!(draft.in_words(&Shop::default().style()).contains("Footprint 16 3/64, "));
}
