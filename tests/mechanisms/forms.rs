//! Asking the same piece in other words: what was typed and what it came to go along.

use offsquare_core::inputs::Value;
use offsquare_core::layouts;
use offsquare_core::piece::{Draft, Shop, answer, in_next_unit};
use offsquare_core::units::{Length, Quantity, Unit};

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
    let link = offsquare_core::piece::to_link(&tapped(&draft, "crossed"));
    assert!(!link.contains("strip_width="), "{link}");
}

#[test]
fn a_recent_answer_tells_its_sizes_as_typed() {
    let mut draft = fresh("brace", "single");
    draft.set("opening_width", "762", Unit::Millimeter);
    assert_eq!(draft.in_words(), "Opening width 762 mm, Opening height 36, Strip width 2");
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
