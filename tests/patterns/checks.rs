//! What is checked of any piece: its solids are closed, do not overlap, touch, and hold what their parts hold
//! as cut. The volume as cut is worked out from the answer's list of parts alone: section times the length
//! along its centroid (a prism cut by two planes), outline times thickness where there is an outline.

use offsquare_cuts::assembly;
use offsquare_geometry::{Body, Plane, Point3, Solid};
use offsquare_tests::dice::Dice;
use offsquare_work::patterns::Pattern;
use serde_json::{Map, Value, json};

/// A random request: sizes of the pattern about their start, choices and counts at random; `all`: none is
/// left out.
pub fn random_request(pattern: &Pattern, dice: &mut Dice, spread: f64, all: bool) -> Value {
    let mut sizes = Map::new();
    for field in pattern.forms[0].fields {
        // One in six is left out, to take its start.
        if (all || !dice.one_in(6))
            && let Some(value) = dice.value(field, spread)
        {
            sizes.insert(field.key.to_owned(), value);
        }
    }
    json!({"unit": "in", "pattern": pattern.id, "sizes": sizes})
}

fn f(v: &Value) -> f64 {
    v.as_f64().unwrap_or_else(|| panic!("a number: {v}"))
}

fn corner(v: &Value) -> Point3 {
    Point3::new(f(&v[0]), f(&v[1]), f(&v[2]))
}

/// A placed solid as the answer gives it.
pub fn solid_of(placed: &Value) -> Solid {
    let corners: Vec<Point3> =
        placed["vertices"].as_array().expect("vertices").iter().map(corner).collect();
    let faces = placed["faces"].as_array().expect("faces").iter();
    let face = |face: &Value| {
        face.as_array()
            .expect("a face")
            .iter()
            .map(|i| corners[i.as_u64().unwrap() as usize])
            .collect()
    };
    Solid { faces: faces.map(face).collect() }
}

/// Every edge is shared by two faces that run through it opposite ways, and every face is flat.
pub fn closed_and_flat(placed: &Value, size: f64) {
    let mut edges = std::collections::BTreeMap::new();
    for face in placed["faces"].as_array().expect("faces") {
        let face: Vec<u64> = face.as_array().unwrap().iter().map(|i| i.as_u64().unwrap()).collect();
        for (i, a) in face.iter().enumerate() {
            *edges.entry((*a, face[(i + 1) % face.len()])).or_insert(0) += 1;
        }
    }
    for ((a, b), n) in &edges {
        assert_eq!((*n, edges.get(&(*b, *a))), (1, Some(&1)), "edge {a} {b} of {placed}");
    }
    for face in solid_of(placed).faces {
        // The plane of its largest triangle at the first corner.
        let normal = face
            .windows(2)
            .map(|p| (p[0] - face[0]).cross(p[1] - face[0]))
            .max_by(|a, b| a.length().total_cmp(&b.length()))
            .and_then(|n| n.unit())
            .expect("a face has an area");
        for p in &face {
            assert!((*p - face[0]).dot(normal).abs() < 1e-9 * size, "a bent face of {placed}");
        }
    }
}

/// What a part holds as it is cut, from the answer's words alone.
pub fn volume_as_cut(part: &Value) -> f64 {
    let (seen, away, length) = (f(&part["seen"]), f(&part["away"]), f(&part["length"]));
    let tan = |v: &Value| v.as_f64().unwrap_or(0.0).to_radians().tan();
    let cos = |v: &Value| v.as_f64().unwrap_or(0.0).to_radians().cos();
    let taken: f64 = part["laps"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|lap| {
            let p =
                |i: usize, k: usize| (f(&lap["shoulders"][i][k][0]), f(&lap["shoulders"][i][k][1]));
            f(&lap["depth"]) * area(&[p(0, 0), p(0, 1), p(1, 1), p(1, 0)])
        })
        .sum::<f64>()
        + part["holes"]
            .as_array()
            .into_iter()
            .flatten()
            .map(|hole| {
                let d = f(&hole["diameter"]);
                std::f64::consts::PI / 4.0 * d * d * hole["depth"].as_f64().unwrap_or(away)
            })
            .sum::<f64>();
    if let Some(section) = part["section"].as_array() {
        let corners: Vec<(f64, f64)> = section.iter().map(|p| (f(&p[0]), f(&p[1]))).collect();
        return area(&corners) * length - taken;
    }
    if let Some(outline) = part["outline"].as_array() {
        assert!(part["rips"].is_null(), "a shaped board has square edges: {part}");
        let corners: Vec<(f64, f64)> = outline.iter().map(|p| (f(&p[0]), f(&p[1]))).collect();
        return area(&corners) * away - taken;
    }
    // The section: a trapezoid between the two long sides, each out at its greatest on one face.
    let (near, far) = (tan(&part["rips"]["near_deg"]) * away, tan(&part["rips"]["far_deg"]) * away);
    // y of the long sides at the lower and at the upper face.
    let (low, high) =
        ([near.max(0.0), (-near).max(0.0)], [seen - far.max(0.0), seen - (-far).max(0.0)]);
    let section = [(low[0], 0.0), (high[0], 0.0), (high[1], away), (low[1], away)];
    let (y, z) = middle(&section);
    let lost = |end: &Value| {
        let (m, b) = (tan(&end["mitre_deg"]), tan(&end["bevel_deg"]));
        // How far the end stands back at a place of the section.
        let back = |y: f64, z: f64| y * m - z * b / cos(&end["mitre_deg"]);
        let corners = section.iter().map(|(y, z)| back(*y, *z));
        back(y, z) - corners.fold(f64::INFINITY, f64::min)
    };
    area(&section) * (length - lost(&part["left"]) - lost(&part["right"])) - taken
}

fn area(corners: &[(f64, f64)]) -> f64 {
    let n = corners.len();
    let twice: f64 = (0..n)
        .map(|i| {
            let ((x, y), (u, v)) = (corners[i], corners[(i + 1) % n]);
            x * v - u * y
        })
        .sum();
    twice.abs() / 2.0
}

/// Centroid of a quadrilateral, by its two triangles.
fn middle(c: &[(f64, f64); 4]) -> (f64, f64) {
    let mut sum = (0.0, 0.0, 0.0);
    for [a, b, d] in [[c[0], c[1], c[2]], [c[0], c[2], c[3]]] {
        let one = area(&[a, b, d]);
        sum.0 += one;
        sum.1 += one * (a.0 + b.0 + d.0) / 3.0;
        sum.2 += one * (a.1 + b.1 + d.1) / 3.0;
    }
    (sum.1 / sum.0, sum.2 / sum.0)
}

/// Volume that two bodies share: of the blocks, less what of it either one's bites take. Bites of one body
/// do not overlap, so that what they take adds up.
fn shared(a: &Body, b: &Body) -> f64 {
    let both = |more: &[&[Plane]]| {
        let mut planes = [a.planes.clone(), b.planes.clone()].concat();
        planes.extend(more.iter().flat_map(|m| m.iter().copied()));
        Body::of(planes).solid().volume()
    };
    let mut volume = both(&[]);
    if volume <= 0.0 {
        return 0.0;
    }
    for bite in &a.removed {
        volume -= both(&[bite]);
        for other in &b.removed {
            volume += both(&[bite, other]);
        }
    }
    volume - b.removed.iter().map(|bite| both(&[bite])).sum::<f64>()
}

/// No two bodies share more than a hair, and each touches another but where it hangs by something.
pub fn apart_and_touching(members: &[assembly::Member], size: f64) {
    let mut all: Vec<(usize, &Body, (Point3, Point3))> = Vec::new();
    for (i, member) in members.iter().enumerate() {
        for body in &member.bodies {
            all.push((i, body, assembly::bounds(body, &body.solid()).expect("a body has faces")));
        }
    }
    let near = |a: &(Point3, Point3), b: &(Point3, Point3), by: f64| {
        let over = |al: f64, ah: f64, bl: f64, bh: f64| al <= bh + by && bl <= ah + by;
        over(a.0.x, a.1.x, b.0.x, b.1.x)
            && over(a.0.y, a.1.y, b.0.y, b.1.y)
            && over(a.0.z, a.1.z, b.0.z, b.1.z)
    };
    let hair = 1e-6 * size;
    let grown = |b: &Body| Body {
        planes: b.planes.iter().map(|p| p.moved(hair)).collect(),
        removed: b
            .removed
            .iter()
            .map(|bite| bite.iter().map(|p| p.moved(-hair)).collect())
            .collect(),
        round: b.round,
    };
    for (k, (i, body, around)) in all.iter().enumerate() {
        let mut touches = all.len() == 1;
        for (l, (j, other, there)) in all.iter().enumerate() {
            if k == l || !near(around, there, 2.0 * hair) {
                continue;
            }
            if k < l {
                let common = shared(body, other);
                assert!(
                    common < 1e-9 * size * size * size,
                    "{} and {} run into each other: {common}",
                    members[*i].stick,
                    members[*j].stick
                );
            }
            touches |= shared(&grown(body), &grown(other)) > 0.0;
        }
        assert!(
            touches || !members[*i].joined.is_empty(),
            "{} touches nothing and hangs by nothing",
            members[*i].stick
        );
    }
}

/// All that holds of any answer for a piece; tells whether there was one.
pub fn check(request: &Value) -> bool {
    let answer = offsquare_door::piece::piece_value(request);
    let problems = answer["problems"].as_array().expect("problems");
    let Some(parts) = answer["parts"].as_array() else {
        let stop = problems.iter().find(|p| p["level"] == "stop");
        assert!(stop.is_some_and(|p| !p["text"].as_str().unwrap_or("").is_empty()), "{request}");
        return false;
    };
    let extent = &answer["extent"];
    let size = ["width", "depth", "height"].map(|k| f(&extent[k])).into_iter().fold(0.0, f64::max);
    let mut placed_of = vec![0; parts.len()];
    for placed in answer["placed"].as_array().expect("placed") {
        let at = placed["part"].as_u64().unwrap() as usize;
        placed_of[at] += 1;
        closed_and_flat(placed, size);
        let (is, cut) = (solid_of(placed).volume(), volume_as_cut(&parts[at]));
        // Round stock and holes stand as prisms.
        let rounds = placed["round"].is_array() || !parts[at]["holes"].is_null();
        let loose = if rounds { 1e-2 * cut } else { 1e-9 * size * size * size };
        if placed["round"].is_array() {
            // As cut a round is listed by its diameter.
            let round = std::f64::consts::PI / 4.0 * cut;
            assert!((is - round).abs() <= 1e-2 * round, "{is} {round} {}", parts[at]);
        } else {
            assert!((is - cut).abs() <= loose, "{is} {cut} {} {request}", parts[at]);
        }
    }
    let stray =
        problems.iter().any(|p| p["path"].as_str().unwrap_or("").starts_with("/overrides/"));
    for (part, placed) in parts.iter().zip(&placed_of) {
        // What a change leaves without a place is told.
        let all = part["qty"].as_u64() == Some(*placed);
        assert!(all || stray && *placed == 0, "{part} {request}");
    }
    true
}

/// The pattern's start sizes with these changed are refused at one of them, with that limit in inches.
pub fn refusal(pattern: &str, sizes: &Value, key: &str, limit: Option<f64>) {
    let request = json!({"unit": "in", "pattern": pattern, "sizes": sizes});
    let answer = offsquare_door::piece::piece_value(&request);
    assert!(answer["parts"].is_null(), "{request} is made");
    let problems = answer["problems"].as_array().expect("problems");
    let path = format!("/sizes/{key}");
    let told = problems.iter().find(|p| p["path"] == *path && p["level"] == "stop");
    let told = told.unwrap_or_else(|| panic!("nothing at {path}: {}", answer["problems"]));
    assert!(!told["text"].as_str().unwrap_or("").is_empty(), "{told}");
    match limit {
        Some(limit) => assert!((f(&told["limit"]) - limit).abs() < 1e-9 * limit.max(1.0), "{told}"),
        None => assert!(told["limit"].is_null(), "{told}"),
    }
}
