//! The doors' keys as a page (`KEYS.md`), made from the layouts' and patterns' own tables and answers.
//!
//! Inputs come from the field tables. Answers are those of each form's start values, and of the
//! same with one field changed at a time: every choice, every yes and no, every size that may be
//! left out, all of these sizes at once, and the choices mixed. `keys_notes.md` adds what no table tells.
//! A test holds the page to what this says and to all case tables.

use offsquare_cuts::inputs::{Field, Inputs, Kind, Need, Range, Value};
use offsquare_cuts::layouts::{self, Answer, Answers, Detail, Form, Layout};
use offsquare_units::{Angle, Length};
use std::fmt::Write;

/// Sizes tried for a length that may be left out, inches: some bring answers of their own.
const TRIED: [f64; 5] = [0.75, 2.0, 6.0, 12.0, 30.0];

/// Most mixtures of choices tried for one form.
const MIXED: usize = 200;

/// The whole page, Markdown. Example: it holds the line "- `top_width`: length, 0 or more; Top width."
pub fn page() -> String {
    let mut page = String::from(HEAD);
    for layout in layouts::all() {
        let _ = writeln!(page, "\n## {}\n\n{}. Forms:", layout.id(), layout.question());
        for form in layout.forms() {
            let _ = writeln!(page, "- `{}`: {}", form.id, form.label);
        }
        write_inputs(&mut page, layout.forms(), "input", &[]);
        let blocks =
            layout.forms().iter().map(|f| (format!("`{}`", f.id), answer_lines(*layout, f)));
        for (forms, lines) in merged(blocks) {
            let _ = writeln!(page, "\nAnswers of {}:", listed(&forms, layout.forms().len()));
            for line in lines {
                let _ = writeln!(page, "- {line}");
            }
        }
    }
    #[cfg(feature = "piece")]
    write_patterns(&mut page);
    page + NOTES
}

/// Every pattern of a whole piece: its sizes, its sticks, and what else stands in `sizes` of the answer.
#[cfg(feature = "piece")]
fn write_patterns(page: &mut String) {
    for pattern in offsquare_work::patterns::all() {
        let _ = writeln!(page, "\n## Pattern {}\n\n{}.", pattern.id, pattern.question);
        write_inputs(page, pattern.forms, "size", pattern.instead);
        let _ = writeln!(page, "\nSticks:");
        for stick in pattern.sticks {
            let size = |key: Option<&str>| match key {
                Some(key) => format!("`{key}`"),
                None => "follows from other sizes".to_owned(),
            };
            let (seen, away) = (size(stick.seen), size(stick.away));
            let _ = writeln!(page, "- `{}`: seen {seen}, away {away}", stick.name);
        }
        let _ = writeln!(page, "\nIn `sizes` of the answer besides:");
        for line in pattern.forms.iter().flat_map(|form| answer_lines(&pattern.layout, form)) {
            let _ = writeln!(page, "- {line}");
        }
    }
}

/// Dotted paths of all answers that the page knows for a layout or a pattern; `[]` stands for a list's members.
pub fn answers(layout: &dyn Layout) -> Vec<String> {
    let mut all = Vec::new();
    for form in layout.forms() {
        for key in ways(layout, form).into_iter().flat_map(|w| w.keys) {
            if !all.contains(&key) {
                all.push(key);
            }
        }
    }
    all
}

const HEAD: &str = "# Keys of the JSON door

Written by `cargo run -q -p offsquare-door --example keys` from the layouts' own tables; a test keeps it true.

A request is `{\"id\", \"layout\", \"form\", \"unit\": \"in\"|\"mm\", \"inputs\": {}}`; `form` may be left out where the
inputs tell it. Lengths are in the request's unit, angles in degrees. Answers given as inputs stand in for a missing size
or are checked against the rest. A dot is a nested object, `[]` a list. In brackets: the forms that take an input, where not all do.
";

/// What no table tells: examples, what some keys mean, the doors of a piece and of a plan.
const NOTES: &str = include_str!("keys_notes.md");

/// Every field once, with the forms that take it where not all do. `called`: "input", or "size" of a pattern;
/// `instead`: answers with the field in whose place each stands.
fn write_inputs(page: &mut String, forms: &[Form], called: &str, instead: &[(&str, &str)]) {
    let own = |f: &Form| f.fields.iter().map(field_line).collect::<Vec<_>>();
    let answer = |f: &Field| match instead.iter().find(|(answer, _)| *answer == f.key) {
        Some((answer, place)) => format!("`{answer}`, in place of `{place}`"),
        None => format!("`{}`", f.key),
    };
    let also = |f: &Form| f.also.iter().map(answer).collect::<Vec<_>>();
    let mut first = called.to_owned();
    first[..1].make_ascii_uppercase();
    for (heading, of_form) in [
        (format!("{first}s"), &own as &dyn Fn(&Form) -> Vec<String>),
        (format!("Answers that may be given as {called}s"), &also),
    ] {
        let mut takers: Vec<(String, Vec<String>)> = Vec::new();
        for form in forms {
            for line in of_form(form) {
                let form = format!("`{}`", form.id);
                match takers.iter_mut().find(|(known, _)| *known == line) {
                    Some((_, ids)) => ids.push(form),
                    None => takers.push((line, vec![form])),
                }
            }
        }
        if takers.is_empty() {
            continue;
        }
        let _ = writeln!(page, "\n{heading}:");
        for (line, ids) in takers {
            let of = match ids.len() == forms.len() {
                true => String::new(),
                false => format!(" ({})", ids.join(", ")),
            };
            let _ = writeln!(page, "- {line}{of}");
        }
    }
}

fn listed(forms: &[String], of: usize) -> String {
    match (forms.len(), of) {
        (1, 1) => "the form".to_owned(),
        (n, of) if n == of => "all forms".to_owned(),
        _ => forms.join(", "),
    }
}

/// A form's answers: those of all its ways, then those that some ways have of their own.
fn answer_lines(layout: &dyn Layout, form: &Form) -> Vec<String> {
    let ways = ways(layout, form);
    let in_all = |key: &String| ways.iter().all(|w| w.keys.contains(key));
    let of_all = ways.first().map_or(Vec::new(), |w| w.keys.clone());
    let mut lines = grouped(of_all.into_iter().filter(in_all));
    let own = ways.iter().map(|w| {
        let keys: Vec<String> = w.keys.iter().filter(|k| !in_all(k)).cloned().collect();
        (format!("`{}`", w.id), keys)
    });
    for (ways, keys) in merged(own) {
        let own = grouped(keys.into_iter());
        if !own.is_empty() {
            lines.push(format!("way {}: {}", ways.join(", "), own.join("; ")));
        }
    }
    lines
}

/// Plain keys, then each group of keys; groups that hold the same are one.
fn grouped(keys: impl Iterator<Item = String>) -> Vec<String> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for key in keys {
        let (group, leaf) = key.rsplit_once('.').map_or(("", key.as_str()), |(g, l)| (g, l));
        match groups.iter_mut().find(|(known, _)| known == group) {
            Some((_, leaves)) => leaves.push(leaf.to_owned()),
            None => groups.push((group.to_owned(), vec![leaf.to_owned()])),
        }
    }
    let line = |(groups, leaves): (Vec<String>, Vec<String>)| {
        let leaves = leaves.iter().map(|l| format!("`{l}`")).collect::<Vec<_>>().join(", ");
        match groups[0].as_str() {
            "" => leaves,
            _ => {
                let names: Vec<String> = groups.iter().map(|g| format!("`{g}.`")).collect();
                format!("{}: {leaves}", names.join(", "))
            }
        }
    };
    merged(groups.into_iter()).into_iter().map(line).collect()
}

/// Names that hold the same keys under one heading.
fn merged(all: impl Iterator<Item = (String, Vec<String>)>) -> Vec<(Vec<String>, Vec<String>)> {
    let mut out: Vec<(Vec<String>, Vec<String>)> = Vec::new();
    for (name, keys) in all {
        match out.iter_mut().find(|(_, known)| *known == keys) {
            Some((names, _)) => names.push(name),
            None => out.push((vec![name], keys)),
        }
    }
    out
}

fn field_line(field: &Field) -> String {
    let mut line = format!("`{}`: {}", field.key, kind_words(field.kind));
    match field.need {
        Need::Required => {}
        Need::Optional => line.push_str(", may be left out"),
        Need::Choice(key) => {
            let _ = write!(line, ", `{key}` unless given");
        }
        Need::Length(inches) => {
            let _ = write!(line, ", {inches} in unless given");
        }
        Need::Number(n) => {
            let _ = write!(line, ", {n} unless given");
        }
    }
    let _ = write!(line, "; {}.", field.label);
    if !field.help.is_empty() {
        let _ = write!(line, " {}", field.help);
    }
    line
}

fn kind_words(kind: Kind) -> String {
    let length = |range| match range {
        Range::Positive => "",
        Range::NotNegative => ", 0 or more",
        Range::Any => ", either sign",
    };
    let choices = |all: &[offsquare_cuts::inputs::Choice]| {
        all.iter().map(|c| format!("`{}`", c.key)).collect::<Vec<_>>().join(", ")
    };
    match kind {
        Kind::Length(range) => format!("length{}", length(range)),
        Kind::Lengths(range) => format!("list of lengths{}", length(range)),
        Kind::Angle(least, most) => format!("angle from {least} to {most}"),
        Kind::Angles(least, most) => format!("list of angles from {least} to {most}"),
        Kind::Count(least, most) => format!("whole number from {least} to {most}"),
        Kind::Mass(most) => format!("kilograms, up to {most}"),
        Kind::Number(least, most) => format!("number from {least} to {most}"),
        Kind::Choice(all) => format!("one of {}", choices(all)),
        Kind::Choices(all) => format!("any of {}", choices(all)),
        Kind::Points => "list of corners [x, y]".to_owned(),
        Kind::Flag => "true or false".to_owned(),
    }
}

/// One way of a form with the paths of its answers.
struct Way {
    id: &'static str,
    keys: Vec<String>,
}

fn ways(layout: &dyn Layout, form: &Form) -> Vec<Way> {
    let mut ways: Vec<Way> = Vec::new();
    for inputs in tried(form) {
        for solution in layout.solve(&inputs, Detail::Full).solutions {
            let at = ways.iter().position(|w| w.id == solution.way).unwrap_or_else(|| {
                ways.push(Way { id: solution.way, keys: Vec::new() });
                ways.len() - 1
            });
            paths(&mut ways[at].keys, "", &solution.answers);
        }
    }
    ways
}

/// The start values, the same with all open lengths given, with one field changed, and with choices mixed.
fn tried(form: &Form) -> Vec<Inputs> {
    let start = form.start_inputs(false);
    let mut all = vec![start.clone()];
    // Some answers need two of the sizes that may be left out.
    let open = |f: &&Field| f.need == Need::Optional && matches!(f.kind, Kind::Length(_));
    all.extend(TRIED.iter().map(|l| {
        let with = |i: Inputs, f: &Field| i.with(f.key, Value::Length(Length(*l)));
        form.fields.iter().filter(open).fold(start.clone(), with)
    }));
    for field in form.fields {
        let values: Vec<Value> = match field.kind {
            Kind::Choice(choices) => choices.iter().map(|c| Value::Choice(c.key)).collect(),
            Kind::Choices(choices) => vec![Value::Choices(choices.iter().map(|c| c.key).collect())],
            Kind::Flag => vec![Value::Flag(true), Value::Flag(false)],
            _ if field.need == Need::Required => continue,
            Kind::Length(_) => TRIED.iter().map(|l| Value::Length(Length(*l))).collect(),
            Kind::Angle(least, most) => vec![Value::Angle(Angle((least + most) / 2.0))],
            Kind::Count(least, most) => {
                (least..=most.min(least + 4)).map(|n| Value::Number(f64::from(n))).collect()
            }
            Kind::Mass(_) => vec![Value::Number(1.0)],
            Kind::Number(least, most) => vec![Value::Number((least + most.min(100.0)) / 2.0)],
            Kind::Lengths(_) | Kind::Points | Kind::Angles(..) => continue,
        };
        all.extend(values.into_iter().map(|v| start.with(field.key, v)));
    }
    // Choices with each other, as many as stay within reason.
    let mut mixed = vec![start];
    for field in form.fields {
        let Kind::Choice(choices) = field.kind else { continue };
        if mixed.len() * choices.len() <= MIXED {
            let each = |i: &Inputs| {
                choices.iter().map(|c| i.with(field.key, Value::Choice(c.key))).collect()
            };
            mixed = mixed.iter().flat_map(|i| -> Vec<Inputs> { each(i) }).collect();
        }
    }
    all.extend(mixed);
    all
}

/// Adds the dotted paths of all answers that `keys` lacks; `[]` stands for a list's members.
fn paths(keys: &mut Vec<String>, under: &str, answers: &Answers) {
    for (key, answer) in &answers.0 {
        path(keys, format!("{under}{key}"), answer);
    }
}

fn path(keys: &mut Vec<String>, here: String, answer: &Answer) {
    match answer {
        Answer::Group(group) => paths(keys, &format!("{here}."), group),
        Answer::List(all) => {
            for member in all {
                match member {
                    Answer::Group(group) => paths(keys, &format!("{here}[]."), group),
                    other => path(keys, format!("{here}[]"), other),
                }
            }
        }
        _ if keys.contains(&here) => {}
        _ => keys.push(here),
    }
}
