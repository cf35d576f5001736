//! A problem that a choice or a count mends carries it: what is offered is all that there is to choose, and each, taken as a
//! tap takes it, leaves an answer and that problem gone.

use offsquare_cuts::layouts;
use offsquare_cuts::problem::Problem;
use offsquare_units::Unit;
use offsquare_work::piece::{Draft, Shop, answer, field_text};

fn draft(layout: &str, form: &str, typed: &[(&str, &str)]) -> Draft {
    let layout = layouts::find(layout).expect("a layout");
    let form = layout.forms().iter().find(|f| f.id == form).expect("a form");
    let mut draft = Draft::fresh(layout, form, Unit::Inch);
    for (key, text) in typed {
        draft.set(key, text, Unit::Inch);
    }
    draft
}

/// The changes that the one problem with any offers; each is tried.
fn offered(draft: &Draft) -> Vec<String> {
    let shop = Shop::default();
    let answered = answer(draft, &shop);
    let all: Vec<&Problem> = answered.problems.iter().filter(|p| !p.mends.is_empty()).collect();
    let [problem] = all[..] else {
        panic!("{:?} {:?}: {:?}", draft.layout, draft.typed, answered.problems);
    };
    let taken = |m: &offsquare_cuts::problem::Mend| {
        let text = field_text(&m.to, &shop.style()).expect("a text");
        let mut draft = draft.clone();
        draft.set(&m.key, &text, shop.unit);
        let mended = answer(&draft, &shop);
        let what = format!("{} {} = {text}", draft.layout, m.key);
        assert!(mended.is_good(), "{what}: {:?}", mended.problems);
        assert!(mended.problems.iter().all(|p| p.text != problem.text), "{what}");
        format!("{} {text}", m.key)
    };
    problem.mends.iter().map(taken).collect()
}

/// Which sections take how many legs, each as far from the next: a square has four faces in two pairs, a hexagon three
/// pairs, a triangle three faces and no pair; a round post takes any.
#[test]
fn a_post_that_does_not_fit_its_legs_offers_the_other_ones() {
    let legs = |shape: &str, legs: &str| {
        let typed = [("post_shape", shape), ("legs", legs), ("leg_breadth", "1")];
        offered(&draft("post_legs", "leg_length", &typed))
    };
    assert_eq!(
        legs("hexagonal", "4"),
        ["post_shape square", "post_shape round", "legs 3", "legs 2"]
    );
    assert_eq!(legs("triangular", "4"), ["post_shape square", "post_shape round", "legs 3"]);
    assert_eq!(
        legs("square", "3"),
        ["post_shape round", "post_shape hexagonal", "post_shape triangular", "legs 4", "legs 2"]
    );
    assert_eq!(
        legs("triangular", "2"),
        ["post_shape square", "post_shape round", "post_shape hexagonal", "legs 3"]
    );
}

/// 36 in take 24 of 1 1/2 in side by side; between margins of 2 in, whose span of 32 in is 21 spaces of 1 1/2 and a rest, 22.
#[test]
fn too_many_in_a_row_offer_as_many_as_fit() {
    let row = |rule: &str, more: &[(&str, &str)]| {
        let mut typed = vec![("rule", rule), ("holes", "30")];
        typed.extend(more);
        offered(&draft("spacing", "row", &typed))
    };
    assert_eq!(row("equal_gaps", &[]), ["holes 24"]);
    assert_eq!(row("equal_centres", &[("margin_start", "2")]), ["holes 22"]);
}

/// Marks at 2, 3, … 47 on 48 in: a joint in the middle stands at 24, of three sections at 16 and 32; of five at 9.6, 19.2,
/// 28.8, 38.4, where no mark is.
#[test]
fn a_mark_on_a_joint_offers_other_sections() {
    let scale = |sections| offered(&draft("marks", "scale", &[("sections", sections)]));
    assert_eq!(scale("2"), ["sections 1", "sections 5"]);
    assert_eq!(scale("6"), ["sections 5", "sections 7"]);
}

#[test]
fn what_else_a_choice_mends() {
    // One pair upright along a lean that runs straight back shows the front stretcher no face.
    let stool =
        [("splay_front_deg", "0"), ("splay_side_deg", "5"), ("roll", "lean"), ("which", "front")];
    let rolls = offered(&draft("two_way_splay", "stretcher", &stool));
    assert_eq!(rolls, ["roll front", "roll side", "roll tilt"]);
    let clipped = [("free_ends", "clipped"), ("clip", "9")];
    assert_eq!(offered(&draft("bracket", "knee", &clipped)), ["free_ends square"]);
    let one_strip = [("panel_width", "5"), ("ends", "mitred")];
    assert_eq!(offered(&draft("glued_panel", "panel", &one_strip)), ["ends plain"]);
    let corners = "0, 0; 12, 0; 12, 9; 0, 9";
    let turned = "0, 9; 12, 9; 12, 0; 0, 0";
    let frame = |corners, widths| {
        offered(&draft(
            "mitred_frame",
            "polygon",
            &[("outer_corners", corners), ("widths", widths)],
        ))
    };
    assert_eq!(frame(turned, "2"), [format!("outer_corners {corners}")]);
    assert_eq!(frame(corners, "2, 2, 2"), ["widths 2"]);
}

/// At the door the same stands beside the problem, as an input takes it.
#[test]
fn the_door_tells_what_mends_a_problem() {
    let inputs = serde_json::json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "splay_deg": 45,
        "post_shape": "triangular", "legs": 4});
    let reply = offsquare_layout_tests::asking::ask("post_legs", &inputs);
    let mends = serde_json::json!([{"input": "post_shape", "value": "square"},
        {"input": "post_shape", "value": "round"}, {"input": "legs", "value": 3.0}]);
    assert_eq!(reply["problems"][0]["mends"], mends, "{reply}");
}
