//! Tables of the trade against the published figures (REFERENCES.md 2.1, 2.5, 6.5, 7.2).

use offsquare_cuts::facts::{
    A4, Caution, DRESSED_THICKNESS, DRESSED_WIDTH, LETTER, PLYWOOD, caution, caution_source,
    dressed,
};
use offsquare_units::Length;

/// American Softwood Lumber Standard PS 20, Table 3 (second-hand), rows that every shop knows.
#[test]
fn nominal_sizes_are_what_the_standard_says() {
    for ((t, w), (thick, wide)) in [
        ((2.0, 4.0), (1.5, 3.5)),
        ((2.0, 2.0), (1.5, 1.5)),
        ((1.0, 8.0), (0.75, 7.25)),
        ((1.25, 6.0), (1.0, 5.5)),
        ((4.0, 4.0), (3.5, 3.5)),
        ((1.0, 12.0), (0.75, 11.25)),
    ] {
        assert_eq!(dressed(t, w), Some((Length(thick), Length(wide))));
    }
    assert_eq!(dressed(2.0, 4.5), None);
}

/// The rule stated with the table: dry width 1/2 in under nominal up to 7 in, 3/4 in under from 8 in.
#[test]
fn the_width_rule_holds_for_every_row() {
    for row in DRESSED_WIDTH {
        let under = if row.value.nominal <= 7.0 { 0.5 } else { 0.75 };
        assert_eq!(row.value.dry.0, row.value.nominal - under);
    }
    for row in DRESSED_WIDTH.iter().chain(&DRESSED_THICKNESS) {
        assert!(row.value.green.0 > row.value.dry.0);
        assert!(!row.source.title.is_empty());
    }
}

/// APA table quoting PS 1-19: the label lies inside its category's range.
#[test]
fn plywood_labels_lie_in_their_range() {
    assert_eq!(PLYWOOD.len(), 10);
    for p in PLYWOOD {
        assert!(p.value.least.0 < p.value.label.0 && p.value.label.0 < p.value.greatest.0);
    }
}

/// ISO 216 and 8 1/2 × 11 in.
#[test]
fn papers() {
    assert!((A4.value.width.as_mm() - 210.0).abs() < 1e-12);
    assert!((A4.value.height.as_mm() - 297.0).abs() < 1e-12);
    assert_eq!((LETTER.value.width.0, LETTER.value.height.0), (8.5, 11.0));
}

#[test]
fn every_caution_has_words_and_a_source() {
    for c in Caution::ALL {
        let text = caution(c).render(&Default::default());
        assert!(text.len() > 40 && text.ends_with('.'), "{text}");
        assert!(!caution_source(c).title.is_empty());
    }
    // 6 in from the blade path: operator's manual no. CM12SD, p. 29.
    let text = caution(Caution::ShortPiece).render(&Default::default());
    assert!(text.contains("6 in"), "{text}");
}
