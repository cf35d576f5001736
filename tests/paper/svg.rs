//! SVG files, read with a general XML reader.

use crate::jobs::{SLOPE_MM, knee, planter_end, templates_of};
use offsquare_paper::drawing::Template;
use offsquare_paper::writers::svg;
use roxmltree::{Document, Node};

fn group<'a>(doc: &'a Document, id: &str) -> Node<'a, 'a> {
    doc.descendants()
        .find(|n| n.tag_name().name() == "g" && n.attribute("id") == Some(id))
        .unwrap_or_else(|| panic!("no group {id}"))
}

/// The straight lines of a group's paths: `Mx yLx y…`; arcs only move on.
fn lines(group: Node) -> Vec<((f64, f64), (f64, f64))> {
    let mut out = Vec::new();
    for path in group.children().filter(|n| n.tag_name().name() == "path") {
        let mut rest = path.attribute("d").expect("a path has data");
        let mut last = None;
        while let Some(letter) = rest.chars().next() {
            let end = rest[1..].find(|c: char| c.is_ascii_alphabetic());
            let (step, more) = rest[1..].split_at(end.unwrap_or(rest.len() - 1));
            rest = more;
            let numbers: Vec<f64> =
                step.split_whitespace().map(|v| v.parse().expect("a number")).collect();
            if let [.., x, y] = numbers[..] {
                if let (Some(from), 'L') = (last, letter) {
                    out.push((from, (x, y)));
                }
                last = Some((x, y));
            }
        }
    }
    out
}

/// Lines of a group whose paths are single stretches (`M… L…`), as cut lines are.
fn stretches(group: Node) -> Vec<f64> {
    lines(group).iter().map(|(a, b)| (b.0 - a.0).hypot(b.1 - a.1)).collect()
}

fn planter() -> Template {
    templates_of(&[planter_end(1.0)]).remove(0)
}

#[test]
fn millimeters_and_view_box_agree() {
    for template in [planter(), templates_of(&[knee()]).remove(0)] {
        let text = svg::write(&template);
        let doc = Document::parse(&text).expect("XML");
        let root = doc.root_element();
        let size = |key: &str| -> f64 {
            let value = root.attribute(key).expect("a size");
            value.strip_suffix("mm").expect("in mm").parse().expect("a number")
        };
        let (w, h) = (size("width"), size("height"));
        let view: Vec<f64> = root
            .attribute("viewBox")
            .expect("a view box")
            .split(' ')
            .map(|v| v.parse().expect("a number"))
            .collect();
        assert_eq!(view, [0.0, 0.0, w, h]);
        // One unit is one mm, and every line lies inside.
        for id in ["outline", "mark", "cut"] {
            for (a, b) in lines(group(&doc, id)) {
                for p in [a, b] {
                    assert!(p.0 >= 0.0 && p.0 <= w && p.1 >= 0.0 && p.1 <= h, "{p:?}");
                }
            }
        }
    }
}

#[test]
fn the_group_to_cut_holds_the_cuts_and_nothing_else() {
    let text = svg::write(&planter());
    let doc = Document::parse(&text).expect("XML");
    let cuts = stretches(group(&doc, "cut"));
    assert_eq!(cuts.len(), 2, "two slopes");
    assert!(cuts.iter().all(|l| (l - SLOPE_MM).abs() < 0.01), "{cuts:?}");
    // Base and top are the board's own edges: 40 and 22 in.
    let mut outline = stretches(group(&doc, "outline"));
    outline.sort_by(f64::total_cmp);
    assert_eq!(outline.len(), 2);
    assert!((outline[0] - 22.0 * 25.4).abs() < 0.01 && (outline[1] - 40.0 * 25.4).abs() < 0.01);
    // Nothing is told by color alone: cut and mark are groups of their own.
    for id in ["mark", "text"] {
        assert!(stretches(group(&doc, id)).iter().all(|l| (l - SLOPE_MM).abs() > 0.01));
    }
}

#[test]
fn words_stand_in_the_group_text_only() {
    let text = svg::write(&planter());
    let doc = Document::parse(&text).expect("XML");
    let texts = |id| {
        group(&doc, id)
            .descendants()
            .filter(|n| n.tag_name().name() == "text")
            .map(|n| {
                n.descendants().filter_map(|t| t.text().filter(|_| t.is_text())).collect::<String>()
            })
            .collect::<Vec<_>>()
    };
    for id in ["outline", "mark", "cut"] {
        assert!(texts(id).is_empty());
    }
    let words = texts("text");
    assert!(words.iter().any(|w| w == "Planter end, 2 pieces"), "{words:?}");
    assert!(words.iter().any(|w| w == "grain"));
    assert!(words.iter().any(|w| w == "36.9°"), "asin(9/15)");
}

#[test]
fn names_are_escaped_and_bytes_repeat() {
    let mut template = planter();
    template.name = "<Legs & \"rails\"\u{7}>".to_owned();
    let text = svg::write(&template);
    let doc = Document::parse(&text).expect("XML all the same");
    let title = doc.descendants().find(|n| n.tag_name().name() == "title").and_then(|n| n.text());
    assert_eq!(title, Some("<Legs & \"rails\" >"));
    assert_eq!(text, svg::write(&template));
    assert!(!text.contains("style="), "inline styles are blocked where the app runs");
}
