//! SVG in true size, for cutters and drawing programs.
//!
//! What is cut, marked, drawn around and written stands in groups of those names, because a cutter
//! is told what to do by group (color means nothing here).

use crate::drawing::{
    Anchor, CUT, Drawing, FRACTION_SIZE, LOWERED, Mark, RAISED, Run, Template, figure, true_size,
};
use offsquare_geometry::scene::Scene;
use offsquare_units::Style;
use std::fmt::Write;

/// The groups, in the order of painting.
const GROUPS: [&str; 4] = ["outline", "mark", "cut", "text"];

/// A template as an SVG file: millimeters, groups `outline`, `mark`, `cut` and `text`, figures to a
/// thousandth. The same template always gives the same bytes.
pub fn write(template: &Template) -> String {
    write_scene(&template.scene, &template.style, &template.name)
}

/// Any scene as an SVG file in true size.
///
/// ```
/// use offsquare_geometry::{Point, scene::{Role, Scene}};
/// use offsquare_units::Style;
/// use offsquare_paper::writers::svg;
/// let mut scene = Scene::new();
/// scene.line(Point::new(0.0, 0.0), Point::new(10.0, 0.0), Role::Cut);
/// let file = svg::write_scene(&scene, &Style::default(), "A line");
/// // 254 mm and a border of 1 mm on both sides.
/// assert!(file.contains(r#"width="256mm" height="2mm" viewBox="0 0 256 2""#));
/// assert!(file.contains(r#"<path d="M1 1L255 1"/>"#));
/// ```
pub fn write_scene(scene: &Scene, style: &Style, title: &str) -> String {
    let drawing = true_size(scene, style);
    let (w, h) = (figure(drawing.width), figure(drawing.height));
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let _ = writeln!(
        out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}">"#
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(title));
    for group in GROUPS {
        write_group(&mut out, group, &drawing);
    }
    out.push_str("</svg>\n");
    out
}

fn write_group(out: &mut String, group: &str, drawing: &Drawing) {
    let paint = match group {
        "cut" => r##"fill="none" stroke="#000" stroke-width="0.2""##,
        "mark" => r##"fill="none" stroke="#000" stroke-width="0.15" stroke-dasharray="3 1""##,
        "outline" => r##"fill="none" stroke="#555" stroke-width="0.15""##,
        _ => {
            r##"fill="none" stroke="#777" stroke-width="0.1" font-family="Helvetica, Arial, sans-serif""##
        }
    };
    let _ = writeln!(out, r#"<g id="{group}" {paint}>"#);
    for mark in &drawing.marks {
        if group_of(mark) != Some(group) {
            continue;
        }
        match mark {
            Mark::Text { at, anchor, size, runs, .. } => {
                let anchor = match anchor {
                    Anchor::Start => "start",
                    Anchor::Middle => "middle",
                    Anchor::End => "end",
                };
                let _ = writeln!(
                    out,
                    r##"<text x="{}" y="{}" font-size="{}" text-anchor="{anchor}" fill="#000" stroke="none" xml:space="preserve">{}</text>"##,
                    figure(at.x),
                    figure(at.y),
                    figure(*size),
                    spans(runs, *size)
                );
            }
            Mark::Path { filled: true, .. } => {
                let _ = writeln!(
                    out,
                    r##"<path fill="#777" stroke="none" d="{}"/>"##,
                    mark.path_data()
                );
            }
            other => {
                let _ = writeln!(out, r#"<path d="{}"/>"#, other.path_data());
            }
        }
    }
    out.push_str("</g>\n");
}

/// Which group a mark belongs to; none for what is only tapped.
fn group_of(mark: &Mark) -> Option<&'static str> {
    if matches!(mark, Mark::Text { .. }) {
        return Some("text");
    }
    Some(match mark.class()? {
        CUT => "cut",
        "mark" => "mark",
        "stock" | "frame" | "hidden" | "care" => "outline",
        _ => "text",
    })
}

/// Runs of a text as spans; a shift carries on, so each states what it differs from the one before.
fn spans(runs: &[Run], size: f64) -> String {
    let mut out = String::new();
    let mut level = 0.0;
    let mut put = |words: &str, to: f64, scale: f64| {
        let _ = write!(
            out,
            r#"<tspan dy="{}" font-size="{}">{}</tspan>"#,
            figure(to - level),
            figure(size * scale),
            escaped(words)
        );
        level = to;
    };
    for run in runs {
        match run {
            Run::Words(words) => put(words, 0.0, 1.0),
            Run::Fraction { over, under } => {
                put(over, -size * RAISED, FRACTION_SIZE);
                put("/", 0.0, 1.0);
                put(under, size * LOWERED, FRACTION_SIZE);
            }
        }
    }
    out
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            // Not allowed in XML, whatever a name holds.
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
