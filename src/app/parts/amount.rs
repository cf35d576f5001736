//! Quantities as a maker reads them: fractions set as fractions, figures tabular.

use offsquare_core::drawing::{self, Run};
use offsquare_core::say;
use offsquare_core::units::{Angle, Quantity, Style, Text};
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
                out.push(html! { <span class="mixed">{ before }<span class="frac"><sup>{ space }{ over }</sup><i>{ "/" }</i><sub>{ under }</sub></span></span> });
            }
        }
    }
    out.into_iter().collect()
}

#[derive(Properties, PartialEq)]
pub struct AmountProps {
    pub quantity: Quantity,
    pub style: Style,
}

/// One quantity.
#[component]
pub fn Amount(props: &AmountProps) -> Html {
    let text = say![props.quantity].render(&props.style);
    html! { <span class="amount">{ set(&text) }</span> }
}

#[derive(Properties, PartialEq)]
pub struct SayProps {
    pub text: Text,
    pub style: Style,
}

/// A sentence with its quantities.
#[component]
pub fn Say(props: &SayProps) -> Html {
    html! { <span>{ set(&props.text.render(&props.style)) }</span> }
}

#[derive(Properties, PartialEq)]
pub struct DegreesProps {
    pub angle: Angle,
}

/// An angle to a tenth of a degree.
#[component]
pub fn Degrees(props: &DegreesProps) -> Html {
    html! { <span class="amount">{ format!("{}\u{b0}", tenth(props.angle)) }</span> }
}

fn tenth(angle: Angle) -> String {
    format!(
        "{:.1}",
        offsquare_core::num::round_half_up(angle.0 * 10.0) / 10.0
    )
}

#[derive(Properties, PartialEq)]
pub struct SettingProps {
    pub miter: Angle,
    pub bevel: Angle,
}

/// What the saw is set to, in large figures: halves as a fraction, as the scale reads.
#[component]
pub fn Setting(props: &SettingProps) -> Html {
    let one = |a: Angle| {
        let tenths = offsquare_core::num::round_half_up(a.0 * 10.0);
        let whole = offsquare_core::num::floor(tenths / 10.0);
        let left = tenths - whole * 10.0;
        let figure = if left == 0.0 {
            html! { { format!("{whole}") } }
        } else if left == 5.0 {
            html! { <>{ format!("{whole}") }{ set("1/2") }</> }
        } else {
            html! { { format!("{:.1}", tenths / 10.0) } }
        };
        html! { <span class="amount">{ figure }<span class="deg">{ "\u{b0}" }</span></span> }
    };
    html! {
        <>
            { one(props.miter) }
            if props.bevel.0 > 0.0 { <small class="and">{ " + " }</small>{ one(props.bevel) } }
        </>
    }
}
