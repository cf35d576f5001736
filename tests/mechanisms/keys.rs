//! The page of the door's keys says what the door answers.

use offsquare_cuts::layouts;
use offsquare_door::keys;
use serde_json::Value;
use std::collections::BTreeSet;

#[test]
fn the_page_in_the_repository_is_the_one_that_is_made() {
    let kept = include_str!("../../src/door/KEYS.md");
    let made = keys::page();
    let differs = kept.lines().zip(made.lines()).find(|(a, b)| a != b);
    assert!(
        kept == made,
        "KEYS.md is out of date at {differs:?}: write it again with the command in its second line"
    );
}

/// Paths of a reply's answers, `[]` for a list's members.
fn paths(under: &str, v: &Value, all: &mut BTreeSet<String>) {
    match v {
        Value::Object(group) => {
            let under = if under.is_empty() { String::new() } else { format!("{under}.") };
            for (key, v) in group {
                paths(&format!("{under}{key}"), v, all);
            }
        }
        Value::Array(members) => members.iter().for_each(|v| paths(&format!("{under}[]"), v, all)),
        Value::Null => {}
        _ => {
            all.insert(under.to_owned());
        }
    }
}

/// The case tables ask for sizes that the page's own search does not try.
#[test]
fn every_answer_of_the_case_tables_stands_on_the_page() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/cases");
    let mut tables = 0;
    for layout in layouts::all() {
        let text = std::fs::read_to_string(format!("{folder}/{}.json", layout.id()))
            .expect("a case table for each layout");
        let requests: Value = serde_json::from_str(&text).expect("JSON");
        let replies = offsquare_door::solve_value(&requests);
        let mut answered = BTreeSet::new();
        for reply in replies.as_array().expect("replies") {
            for solution in reply["solutions"].as_array().into_iter().flatten() {
                paths("", &solution["answers"], &mut answered);
            }
        }
        let known: BTreeSet<String> = keys::answers(*layout).into_iter().collect();
        let unknown: Vec<&String> = answered.difference(&known).collect();
        assert!(unknown.is_empty(), "{}: not on the page: {unknown:?}", layout.id());
        assert!(!answered.is_empty(), "{} answers nothing", layout.id());
        tables += 1;
    }
    assert_eq!(tables, layouts::all().len());
}
