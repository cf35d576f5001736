//! What one piece costs at each size of batch: the saw-tooth, between the dearest and the cheapest.

use crate::widgets::tags::list;
use offsquare_paper::drawing;
use yew::prelude::*;

const WIDE: f64 = 360.0;
const HIGH: f64 = 84.0;

/// A size of batch, what one costs there, and how that is printed.
pub type Dot = (u32, f64, String);

/// `now`: the size that is chosen; `best`: one that is marked; `most`: the largest. Empty where there is no line to draw.
pub fn plot(dots: &[Dot], now: u32, best: Option<u32>, most: u32) -> Html {
    let top = dots.iter().fold(0.0, |m: f64, d| m.max(d.1));
    let low = dots.iter().fold(top, |m: f64, d| m.min(d.1));
    if dots.len() < 2 || top - low < 1.0 {
        return html! {};
    }
    let x = |n: u32| 54.0 + f64::from(n - 1) * (WIDE - 66.0) / f64::from(most.max(2) - 1);
    let y = |v: f64| 10.0 + (top - v) / (top - low) * (HIGH - 30.0);
    let word = |at: f64, down: f64, text: String| {
        html! { <text class="fig-computed" x={drawing::figure(at)} y={drawing::figure(down)} font-size="12">{ text }</text> }
    };
    let mut line = String::new();
    let mut marks: Vec<Html> = Vec::new();
    let mut words: Vec<Html> = Vec::new();
    for (end, down) in [(top, 14.0), (low, HIGH - 16.0)] {
        let said = dots.iter().find(|d| d.1 == end);
        words.extend(said.map(|d| word(2.0, down, d.2.clone())));
    }
    for (n, each, _) in dots {
        let (cx, cy) = (drawing::figure(x(*n)), drawing::figure(y(*each)));
        line.push_str(if line.is_empty() { "M" } else { "L" });
        line.push_str(&format!("{cx} {cy}"));
        let (class, r) = match *n {
            n if n == now => ("dot on", "6"),
            n if Some(n) == best => ("dot best", "5"),
            _ => ("dot", "2.5"),
        };
        marks.push(html! { <circle {class} {cx} {cy} {r} data-pieces={n.to_string()} /> });
    }
    let ticks = [1, 6, 12, 18, 24].into_iter().filter(|n| *n <= most);
    words.extend(ticks.map(|n| word(x(n) - 6.0, HIGH - 2.0, n.to_string())));
    html! {
        <svg class="curve" viewBox={format!("0 0 {WIDE} {HIGH}")} role="img" aria-label="What one piece costs at each size of batch">
            <path class="fig-computed" d={line} />
            { list(marks) }
            { list(words) }
        </svg>
    }
}
