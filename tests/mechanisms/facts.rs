//! Tables of the trade against the published figures (REFERENCES.md 2.1, 2.5, 6.5, 7.2).

use offsquare_cuts::facts::{
    A4, Caution, DRESSED_THICKNESS, DRESSED_WIDTH, LETTER, PLYWOOD, YARD_FEET, YARD_METERS,
    YARD_MM, caution, caution_source, dressed, yard_lengths, yard_sections,
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

/// Every section that a yard is said to have is one of PS 20's rows; metric ones and lengths as they are listed, with their
/// source named.
#[test]
fn a_yards_usual_sections_are_in_the_standard() {
    let sections = yard_sections(false);
    assert_eq!(sections.len(), 18);
    for s in &sections {
        let (t, w) = s.nominal.expect("a nominal size");
        assert_eq!(dressed(t, w), Some((s.thickness, s.width)));
    }
    let in_mm = |l: Length| (l.as_mm() * 1e6).round() / 1e6;
    let sections: Vec<(f64, f64)> =
        yard_sections(true).iter().map(|s| (in_mm(s.thickness), in_mm(s.width))).collect();
    // Sizes that Nordic yards are known to plane to.
    for known in [(21.0, 95.0), (28.0, 95.0), (28.0, 120.0), (45.0, 95.0), (45.0, 145.0)] {
        assert!(sections.contains(&known), "{known:?}");
    }
    // Retail lengths of 6 to 16 ft; trade lengths in meters.
    assert_eq!(yard_lengths(false).iter().map(|l| l.0 / 12.0).collect::<Vec<_>>(), YARD_FEET.value);
    let meters: Vec<f64> = yard_lengths(true).iter().map(|l| in_mm(*l) / 1000.0).collect();
    assert_eq!(meters, YARD_METERS.value);
    for title in [YARD_FEET.source.title, YARD_METERS.source.title, YARD_MM.source.title] {
        assert!(!title.is_empty());
    }
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
