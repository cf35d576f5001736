//! Deep links: what stands in an address is the form filled in.

use offsquare_cuts::layouts;
use offsquare_units::Unit;
use offsquare_work::piece::{Draft, from_link, to_link};

fn typed(draft: &Draft, key: &str) -> Option<(String, Unit)> {
    draft.text(key).map(|t| (t.text.clone(), t.unit))
}

#[test]
fn every_form_comes_back_from_its_link() {
    let mut links = 0;
    for layout in layouts::all() {
        for form in layout.forms() {
            for unit in Unit::ALL {
                let mut draft = Draft::fresh(*layout, form, unit);
                // Empty fields are not sent.
                draft.typed.retain(|t| !t.text.is_empty());
                let link = to_link(&draft);
                assert!(link.starts_with(&format!("#/{}?form={}", layout.id(), form.id)));
                assert!(link.chars().all(|c| c.is_ascii_graphic()), "an address as it is: {link}");
                // In another shop's units it is still the same piece.
                for shop in Unit::ALL {
                    assert_eq!(from_link(&link, shop).as_ref(), Some(&draft), "{link}");
                }
                links += 1;
            }
        }
    }
    assert!(links > 60, "{links}");
}

/// Written by hand, as the module describes it.
#[test]
fn links_written_by_hand() {
    let link =
        "#/brace?form=single&opening_width=30&opening_height=mm:760&strip_width=ft:2%201/2%22";
    let draft = from_link(link, Unit::Inch).expect("a brace");
    assert_eq!((draft.layout.as_str(), draft.form.as_str()), ("brace", "single"));
    assert_eq!(typed(&draft, "opening_width"), Some(("30".into(), Unit::Inch)));
    let metric = Some(("760".into(), Unit::Millimeter));
    assert_eq!(typed(&draft, "opening_height"), metric);
    let feet = Some(("2 1/2\"".into(), Unit::FeetInches));
    assert_eq!(typed(&draft, "strip_width"), feet);
    assert_eq!(draft.typed.len(), 3);
    // A form that is not known is the first; keys that are not known are left out; with none the
    // layout is as on the first visit.
    let odd = from_link("#/brace?form=nothing&colour=red", Unit::Inch).expect("a brace");
    let brace = layouts::find("brace").expect("brace");
    assert_eq!(odd, Draft::fresh(brace, &brace.forms()[0], Unit::Inch));
    assert_eq!(from_link("/brace", Unit::Inch), Some(odd));
    for none in ["", "#", "#/", "#/shop", "#/nowhere?opening_width=30"] {
        assert_eq!(from_link(none, Unit::Inch), None, "{none}");
    }
    // Nothing that long was ever ours.
    let long = |n: usize| format!("brace?opening_width={}", "1".repeat(n - 20));
    assert!(from_link(&long(8_000), Unit::Inch).is_some());
    assert!(from_link(&long(8_001), Unit::Inch).is_none());
}
