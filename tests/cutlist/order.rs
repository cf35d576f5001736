//! The order of cuts at a saw that cannot make all of them.

use crate::jobs::{KERF, worked};
use offsquare_core::cutlist::{Entry, Jobs, PartEnd, Step, Summary, steps};
use offsquare_core::rack::{Rack, Sold, Stock};
use offsquare_core::saw::SawProfile;
use offsquare_core::units::{Length, Money, Style};

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
    steps(
        &jobs.jobs[shown.job],
        &shown.boards,
        &shown.order,
        &shown.lying,
        &entries,
        &SawProfile::usual(),
    )
    .iter()
    .filter_map(|s| match s {
        Step::Saw(t) => Some(t.render(&Style::default())),
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
