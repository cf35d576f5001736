//! Every question has a budget of steps: what is asked in earnest stays far below it, what cannot be
//! answered within it says so, and too few sizes are not hunted for.

use offsquare_cuts::backwards::{Marks, Solved, Steps, advise, if_off, marks_near, resolve};
use offsquare_cuts::inputs::Given;
use offsquare_cuts::layouts::{self, Detail};
use offsquare_cuts::saw::{LIMITS, SawProfile};
use offsquare_door::{solve_value, solve_within};
use offsquare_tests::dice::{Dice, link};
use offsquare_units::Unit;
use offsquare_work::piece::{Shop, answer, from_link};
use serde_json::{Value, json};

/// Nothing may spend more than the budget and one solve, the most that a solve counts for here.
const ONE_SOLVE: u32 = 2_000;
fn most() -> u32 {
    30_000 + ONE_SOLVE
}

const NOT_ALL: &str = "Not all ways were tried";

fn within(request: &Value) -> (Value, Steps) {
    let steps = Steps::default();
    let reply = solve_within(request, &steps);
    assert!(steps.spent() <= most(), "{} steps: {request}", steps.spent());
    assert_eq!(reply.to_string().contains(NOT_ALL), steps.ran_out(), "{request}");
    (reply, steps)
}

#[test]
fn no_start_value_reaches_the_budget() {
    for layout in layouts::all() {
        for form in layout.forms() {
            let inputs = form.start_inputs(false);
            let name = format!("{} {}", layout.id(), form.id);
            let given = Given { inputs: inputs.clone(), ..Given::default() };
            for solution in layout.solve(&inputs, Detail::Full).solutions {
                let solved = Solved { inputs: inputs.clone(), solution };
                // As the card asks, and the page of marks.
                let steps = Steps::default();
                advise(*layout, &solved, &SawProfile::usual(), &steps);
                if_off(*layout, &solved, false, &steps);
                assert!(!steps.ran_out(), "{name}: the card");
                let give =
                    form.gives.first().and_then(|k| form.fields.iter().find(|f| f.key == *k));
                let steps = Steps::default();
                for path in &solved.solution.headline {
                    if let Some(give) = give {
                        let saw = SawProfile::usual();
                        marks_near(*layout, &solved, path, give, Marks::Miter(&saw), &steps);
                    }
                }
                assert!(!steps.ran_out(), "{name}: marks");
            }
            let steps = Steps::default();
            resolve(*layout, &given, Detail::Full, &steps);
            assert!(!steps.ran_out(), "{name}");
        }
    }
}

#[test]
fn no_documented_example_and_no_case_reaches_the_budget() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut asked = 0;
    let mut all = |text: &str, more: Value| {
        let requests: Vec<Value> = serde_json::from_str(text).expect("requests");
        for mut request in requests {
            for (key, value) in more.as_object().into_iter().flatten() {
                request[key] = value.clone();
            }
            let (reply, steps) = within(&request);
            assert!(!steps.ran_out(), "{request}: {reply}");
            asked += 1;
        }
    };
    let page = std::fs::read_to_string(root.join("../src/door/keys_notes.md")).expect("the notes");
    let from = page.find("```json\n").expect("examples") + 8;
    let examples = &page[from..from + page[from..].find("```").expect("an end")];
    all(examples, json!({"saw": {}, "off": true}));
    for file in std::fs::read_dir(root.join("cases")).expect("cases") {
        let path = file.expect("a file").path();
        all(&std::fs::read_to_string(&path).expect("text"), json!({}));
    }
    assert!(asked > 900, "{asked}");
}

/// Links that froze the start for seconds.
#[test]
fn links_that_were_hunted_for_stay_within_the_budget() {
    let links = [
        "#/end_board?form=single&base_width=81.68097519452866&height=54.403&left_inset=77.31515625057905&left_reading_deg=48.805&right_reading_deg=26.041&right_slope_length=61%2017/43&bounding_width=31.194&left_edge_from_upright_reading_deg=88.61894353562204&right_edge_from_upright_reading_deg=50%203/45",
        "#/leg_shim?form=shim&big_diameter=44.51739148442393&small_diameter=13.594340257647525&shim_at_from_big_end=10.607&first_contact_from_big_end=3.302&shim_thickness=2.808869547821492&reading_error_without_shim_deg=89.68114609598527",
    ];
    for link in links {
        let draft = from_link(link, Unit::Inch).expect("a link");
        let answered = answer(&draft, &Shop::default());
        assert!(answered.steps <= most(), "{} steps: {link}", answered.steps);
        assert!(!answered.solved.is_empty() || !answered.problems.is_empty(), "{link}");
    }
}

#[test]
fn a_card_of_a_short_leg_stays_within_the_budget() {
    let link = "#/post_legs?form=rise_bottom&post_width=4&footprint=10.48&leg_depth=3&rise_to_joint_bottom=1.117&foot=square";
    let draft = from_link(link, Unit::Inch).expect("a link");
    let answered = answer(&draft, &Shop::default());
    let layout = draft.layout().expect("a layout");
    for solved in &answered.solved {
        let steps = Steps::default();
        advise(layout, solved, &SawProfile::usual(), &steps);
        let rows = if_off(layout, solved, false, &steps);
        assert!(steps.spent() <= most() && !rows.is_empty(), "{} steps", steps.spent());
    }
}

#[test]
fn sizes_that_leave_two_open_are_not_hunted_for() {
    let (_, steps) = within(&json!({"layout": "post_legs", "unit": "in", "inputs":
        {"leg_depth": 1.5, "splay_deg": 45, "long_point_length": 10, "inner_edge_length": 7}}));
    assert!(steps.spent() < 2_000, "{} steps", steps.spent());
}

/// A budget of next to nothing: the answer stands where there is one, and it is said.
#[test]
fn past_the_budget_the_answer_so_far_stands() {
    let brace = json!({"layout": "brace", "unit": "in", "off": true, "inputs":
        {"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "ends": "rails"}});
    // Legs, whose footprint is worked out again where a reading is off; a brace's opening is not.
    let legs = json!({"layout": "post_legs", "unit": "in", "off": true, "inputs":
        {"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "rise_to_joint_top": 6.5}});
    let steps = Steps::at_most(10);
    let reply = solve_within(&legs, &steps);
    assert!(steps.ran_out());
    assert_eq!(reply["solutions"].as_array().map(Vec::len), Some(1), "{reply}");
    let said = |reply: &Value| {
        let problems = reply["problems"].as_array().cloned().unwrap_or_default();
        problems.into_iter().find(|p| p["text"].as_str().is_some_and(|t| t.starts_with(NOT_ALL)))
    };
    assert_eq!(said(&reply).expect("a sentence")["level"], "warn");
    // With a size missing there is none yet.
    let mut missing = brace.clone();
    missing["inputs"] =
        json!({"opening_width": 30, "strip_width": 2.5, "ends": "rails", "edge_length": 50});
    let reply = solve_within(&missing, &Steps::at_most(10));
    assert_eq!(reply["solutions"], json!([]));
    assert_eq!(said(&reply).expect("a sentence")["level"], "stop");
}

#[test]
fn random_requests_and_links_stay_within_the_budget() {
    let mut dice = Dice(171);
    for n in 0..1_000 {
        let (layout, form) = Dice::form(n);
        let inputs = dice.anything(form);
        if n % 2 == 0 {
            within(&json!({"layout": layout.id(), "form": form.id, "unit": "in", "inputs": inputs,
                "saw": {}, "off": true}));
        } else if let Some(draft) = from_link(&link(layout.id(), form.id, &inputs), Unit::Inch) {
            let steps = answer(&draft, &Shop::default()).steps;
            assert!(steps <= most(), "{steps} steps: {inputs:?}");
        }
    }
}

/// The door refuses what the shop's form refuses: one table.
#[test]
fn a_saw_that_cannot_be_is_refused_in_the_door() {
    let ask = |saw: Value| {
        solve_value(&json!({"layout": "brace", "unit": "in", "saw": saw,
            "inputs": {"opening_width": 30, "opening_height": 60, "strip_width": 6}}))
    };
    let stopped = |reply: &Value, key: &str| {
        let path = format!("/saw/{key}");
        let all = reply["problems"].as_array().into_iter().flatten();
        all.filter(|p| p["path"] == path.as_str() && p["level"] == "stop").count()
    };
    let fine = ask(json!({"finest_mark_deg": 1e-8}));
    assert_eq!((stopped(&fine, "finest_mark_deg"), &fine["solutions"]), (1, &json!([])), "{fine}");
    let text = fine["problems"][0]["text"].as_str().expect("words");
    assert_eq!(text, "This limit of a saw is a plain number, from 0.05 to 5 degrees.");
    for limit in LIMITS {
        for (value, problems) in
            [(limit.least, 0), (limit.most, 0), (limit.least - 1e-4, 1), (limit.most + 1e-4, 1)]
        {
            let reply = ask(json!({limit.key: value}));
            assert_eq!(stopped(&reply, limit.key), problems, "{} {value}", limit.key);
        }
    }
    for key in ["detents_deg", "bevel_stops_deg"] {
        assert_eq!(stopped(&ask(json!({key: [0, 75]})), key), 0);
        assert_eq!(stopped(&ask(json!({key: [0, 75.1]})), key), 1);
        assert_eq!(stopped(&ask(json!({key: vec![1; 100_000]})), key), 1);
    }
}

/// 20,000 keys that are none took 34 s: each looked through all others, and solved the layout anew.
#[test]
fn unknown_keys_are_told_in_one_go() {
    let mut inputs = json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5});
    for i in 0..20_000 {
        inputs[format!("unknown_{i}")] = json!(i);
    }
    let start = std::time::Instant::now();
    let reply = solve_value(&json!({"layout": "brace", "unit": "in", "inputs": inputs}));
    let took = start.elapsed().as_secs_f64();
    assert_eq!(reply["problems"].as_array().map(Vec::len), Some(20_000));
    assert!(took < 5.0, "{took} s");
}
