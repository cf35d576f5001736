//! Quantities as a maker reads them: fractions set as fractions, figures tabular.

use crate::widgets::tags::{tag, txt};
use offsquare_paper::drawing::{self, Run};
use offsquare_units::{Angle, Quantity, Style, Text, say};
use yew::prelude::*;

/// A printed text with its fractions set small, raised and lowered. Read aloud and copied, the
/// fraction keeps its space and its slash.
pub fn set(text: &str) -> Html {
    let mut out = Vec::new();
    // The whole number before a fraction: never on another line than it.
    let mut whole = String::new();
    let mut runs = drawing::runs(text).into_iter().peekable();
    while let Some(run) = runs.next() {
        match run {
            Run::Words(mut words) => {
                if let Some(Run::Fraction { .. }) = runs.peek() {
                    let digits = words.trim_end_matches(|c: char| c.is_ascii_digit());
                    whole = words.split_off(digits.len());
                }
                out.push(html! { { words } });
            }
            Run::Fraction { over, under } => {
                let before = std::mem::take(&mut whole);
                let space = if before.is_empty() { "" } else { "\u{2009}" };
                out.push(html! { <span class="mixed">{ before }<span class="frac"><sup>{ space }{ over }</sup>{ tag("i", "", txt("/")) }{ tag("sub", "", txt(under)) }</span></span> });
            }
        }
    }
    out.into_iter().collect()
}

/// One quantity.
#[inline(never)]
pub fn amount(quantity: Quantity, style: &Style) -> Html {
    let text = say!(quantity).render(style);
    tag("span", "amount", set(&text))
}

/// A sentence with its quantities.
#[inline(never)]
pub fn sentence(text: &Text, style: &Style) -> Html {
    tag("span", "", set(&text.render(style)))
}

/// An angle to a tenth of a degree.
#[inline(never)]
pub fn degrees(angle: Angle) -> Html {
    tag("span", "amount", txt(format!("{}\u{b0}", tenth(angle))))
}

/// To a tenth of a degree.
pub fn tenth(angle: Angle) -> String {
    format!("{:.1}", offsquare_units::num::round_half_up(angle.0 * 10.0) / 10.0)
}

/// What the saw is set to, in large figures: halves as a fraction, as the scale reads.
#[inline(never)]
pub fn setting(miter: Angle, bevel: Angle) -> Html {
    let one = |a: Angle| {
        let tenths = offsquare_units::num::round_half_up(a.0 * 10.0);
        let whole = offsquare_units::num::floor(tenths / 10.0);
        let left = tenths - whole * 10.0;
        let figure = if left == 0.0 {
            html! { { format!("{whole}") } }
        } else if left == 5.0 {
            html! { <>{ format!("{whole}") }{ set("1/2") }</> }
        } else {
            html! { { format!("{:.1}", tenths / 10.0) } }
        };
        html! { <span class="amount">{ figure }{ tag("span", "deg", txt("\u{b0}")) }</span> }
    };
    html! {
        <>
            { one(miter) }
            if bevel.0 > 0.0 { { tag("small", "and", txt(" + ")) }{ one(bevel) } }
        </>
    }
}
