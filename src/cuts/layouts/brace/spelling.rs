//! Other ways to say the same: an arrangement by name, one width for both strips, a frame's outside.

use crate::layouts::{Raw, Spelling};
use crate::problem::Problem;
use offsquare_units::say;

/// Puts a request into the keys that the forms know; what is already said in them is left alone.
pub fn rewrite(request: &mut Spelling) {
    arrangement(request);
    one_width_for_both(request);
    for (outside, member, opening) in [
        ("outside_width", "stile_width", "opening_width"),
        ("outside_height", "rail_width", "opening_height"),
    ] {
        from_outside(request, outside, member, opening);
    }
}

fn has(request: &Spelling, key: &str) -> bool {
    request.get(key).is_some()
}

/// The arrangement may be named besides; the keys already tell most of it.
fn arrangement(request: &mut Spelling) {
    let Some((value, path)) = request.take("arrangement") else {
        return;
    };
    let apex = request.get("apex").and_then(Raw::word).map(str::to_owned);
    let fits = |all: [&str; 2]| apex.as_deref().is_none_or(|a| all.contains(&a));
    let wrong = match value.word() {
        Some("k") if !fits(["left", "right"]) => {
            "The braces of a K meet at the left or the right stile."
        }
        Some("chevron") if !fits(["top", "bottom"]) => {
            "The braces of a chevron meet at the top or the bottom rail."
        }
        Some("single" | "crossed" | "as_built") if apex.is_some() => {
            "Only the braces of a K or a chevron meet at one member: leave the apex out."
        }
        Some("k") if apex.is_none() => return request.put("apex", Raw::Word("left".into()), path),
        Some("chevron") if apex.is_none() => {
            return request.put("apex", Raw::Word("top".into()), path);
        }
        Some("crossed") if !has(request, "joint") => {
            return request.put("joint", Raw::Word("half_lap".into()), path);
        }
        Some("k" | "chevron" | "single" | "crossed" | "as_built") => return,
        _ => "The arrangement is one of: single, crossed, k, chevron, as_built.",
    };
    request.problem(Problem::stop(&path, say!(wrong)));
}

/// In a crossed pair a strip's width or thickness given once holds for both.
fn one_width_for_both(request: &mut Spelling) {
    let crossed = ["joint", "strip_width_1", "strip_width_2"];
    if !crossed.iter().any(|key| has(request, key)) {
        return;
    }
    for (once, both) in [
        ("strip_width", ["strip_width_1", "strip_width_2"]),
        ("thickness", ["thickness_1", "thickness_2"]),
    ] {
        if both.iter().all(|key| has(request, key)) {
            continue;
        }
        if let Some((value, path)) = request.take(once) {
            for key in both {
                if !has(request, key) {
                    request.put(key, value.clone(), path.clone());
                }
            }
        }
    }
}

/// An opening's size from the outside less both members, where only one of the two is given so. (The
/// forms from outside take all four sizes as they are.)
fn from_outside(request: &mut Spelling, outside: &str, member: &str, opening: &str) {
    let whole_form = ["outside_width", "outside_height", "stile_width", "rail_width"]
        .iter()
        .all(|key| has(request, key));
    if whole_form || has(request, opening) {
        return;
    }
    let number = |key| request.get(key).and_then(Raw::number);
    let (Some(over_all), Some(width)) = (number(outside), number(member)) else {
        return;
    };
    if width <= 0.0 {
        return;
    }
    let left = over_all - 2.0 * width;
    request.take(member);
    if let Some((_, path)) = request.take(outside) {
        request.put(opening, Raw::Number(left), path);
    }
}
