//! A panel on its cord as it is typed: what leads, what a first visit counts, and in which unit a load is read.

use offsquare_cuts::backwards::Solved;
use offsquare_layout_tests::asking::close;
use offsquare_units::Unit;
use offsquare_work::piece::{Draft, Shop, answer};

const LAYOUT: &str = "fold_down";

fn solved(text: &[(&str, &str)], unit: Unit) -> Solved {
    let layout = offsquare_cuts::layouts::find(LAYOUT).expect("the layout");
    let mut draft = Draft::fresh(layout, &layout.forms()[0], unit);
    for (key, text) in text {
        draft.set(key, text, unit);
    }
    let mut answered = answer(&draft, &Shop::default());
    assert_eq!(answered.problems, Vec::new(), "{text:?}");
    answered.solved.remove(0)
}

/// The strip leads with what the links give where it hangs on a chain, and with what was wished for else.
#[test]
fn with_a_chain_the_strip_tells_the_links_own_opening() {
    let told = |text: &[(&str, &str)]| solved(text, Unit::Inch).solution.headline;
    assert_eq!(told(&[])[..2], ["opening_deg", "cord_between_faces"]);
    let chained = told(&[("chain_link", "3/4")]);
    assert_eq!(chained[..2], ["opening_with_links_deg", "links_n"]);
    assert!(!chained.contains(&"opening_deg"), "{chained:?}");
}

/// A first visit counts cord for knots. A load is read in pounds beside inches, in kilograms beside millimeters, or in
/// what is named: 1 lb is 0.45359237 kg, so a pull comes out in the same proportion.
#[test]
fn cord_to_buy_has_knots_and_a_load_is_read_in_the_makers_own_unit() {
    let start = solved(&[], Unit::Inch).solution.answers;
    let length = |key: &str| start.quantity(key).expect(key).number();
    let boards = length("cord_with_both_thicknesses");
    close(length("cord_to_buy"), 2.0 * (boards + 6.0), 1e-9, "two cords, 6 in for knots each");
    let pull = |text: &str, unit: Unit| {
        let all = solved(&[("load_kg", text)], unit).solution.answers;
        all.quantity("pull_per_cord_N").expect("a pull").number()
    };
    let pounds = pull("10", Unit::Inch);
    close(pounds / pull("10 kg", Unit::Inch), 0.453_592_37, 1e-12, "pounds");
    close(pounds, pull("10 lb", Unit::Inch), 1e-12, "the same, named");
    let metric = pull("10", Unit::Millimeter);
    close(metric, pull("10 kg", Unit::Millimeter), 1e-12, "kilograms");
}
