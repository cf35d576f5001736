//! The page of the door's keys says what the door answers.

use offsquare_cuts::layouts;
use offsquare_door::{keys, piece};
use offsquare_tests::dice::Dice;
use offsquare_work::patterns;
use serde_json::{Map, Value, json};
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

/// A pattern's random sizes, and the rest of a request that brings every answer.
fn piece_request(pattern: &patterns::Pattern, dice: &mut Dice) -> Value {
    let mut sizes = Map::new();
    for field in pattern.forms[0].fields {
        if let Some(value) = dice.value(field, 1.25) {
            sizes.insert(field.key.to_owned(), value);
        }
    }
    let wood: Map<String, Value> = pattern
        .sticks
        .iter()
        .map(|s| (s.name.to_owned(), json!({"species": "white_oak"})))
        .collect();
    json!({
        "unit": "in", "pattern": pattern.id, "sizes": sizes, "stock": wood,
        "price": {
            "batch": 3, "wood": {"bought": 4000, "kept": 300}, "rate": 2500, "stall": 3000,
            "hardware": [{"name": "screws", "per_piece": 8, "pack": 50, "pack_price": 400}],
            "finish": [{"name": "oil", "coats": 2, "covers_m2": 8, "can_price": 1900}],
            "steps": [{"name": "cut", "set_up_min": 10, "each_min": 5}],
            "overhead": {"percent": 10}, "fees": {"percent": 6, "fixed": 30},
            "want": {"margin_percent": 30}, "end": {"step": 100, "at": 99},
        },
    })
}

/// All keys of objects within.
fn keys_within(v: &Value, all: &mut BTreeSet<String>) {
    match v {
        Value::Object(group) => {
            for (key, v) in group {
                all.insert(key.clone());
                keys_within(v, all);
            }
        }
        Value::Array(members) => members.iter().for_each(|v| keys_within(v, all)),
        _ => {}
    }
}

#[test]
fn every_key_of_a_piece_stands_on_the_page() {
    let page = keys::page();
    let door = page.split("## The piece's door").nth(1).expect("a section");
    let door = door.split("\n## ").next().expect("its end");
    let mut told: BTreeSet<String> = piece::request_keys().map(str::to_owned).collect();
    for (n, pattern) in patterns::all().iter().enumerate() {
        let form = &pattern.forms[0];
        let mut known: BTreeSet<String> = keys::answers(&pattern.layout).into_iter().collect();
        known.extend(form.fields.iter().map(|f| f.key.to_owned()));
        let mut dice = Dice(500 + n as u64);
        let mut made = 0;
        for _ in 0..40 {
            let answer = piece::piece_value(&piece_request(*pattern, &mut dice));
            made += usize::from(answer["parts"].is_array());
            let mut sizes = BTreeSet::new();
            paths("", &answer["sizes"], &mut sizes);
            let unknown: Vec<&String> = sizes.difference(&known).collect();
            assert!(unknown.is_empty(), "{}: not on the page: {unknown:?}", pattern.id);
            for (key, v) in answer.as_object().expect("an answer") {
                told.insert(key.clone());
                // Sizes are the pattern's own; problems are the solve door's.
                if key != "sizes" && key != "problems" {
                    keys_within(v, &mut told);
                }
            }
        }
        assert!(made > 0, "{}", pattern.id);
    }
    let missing: Vec<&String> = told.iter().filter(|k| !named(door, k)).collect();
    assert!(missing.is_empty(), "not told of the piece's door: {missing:?}");
    for key in ["section", "holes", "round", "joined", "rips", "cans", "weight_kg", "asked"] {
        assert!(told.contains(key), "no piece here has {key}");
    }
}

/// Whether a text names a key: as code, a list's with its brackets.
fn named(text: &str, key: &str) -> bool {
    text.contains(&format!("`{key}`")) || text.contains(&format!("`{key}[]`"))
}
