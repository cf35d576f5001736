//! Quantities as a maker reads them: fractions set as fractions, figures tabular.

use offsquare_core::say;
use offsquare_core::units::{Angle, Quantity, Style, Text};
use yew::prelude::*;

/// A printed text with its fractions set small, raised and lowered.
fn set(text: &str) -> Html {
    let mut out: Vec<Html> = Vec::new();
    let mut plain = String::new();
    for (i, word) in text.split(' ').enumerate() {
        let core = word.trim_end_matches(['.', ',', ';', ':', '"', ')']);
        let fraction = core.split_once('/').filter(|(n, d)| {
            let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
            digits(n.trim_start_matches(['(', '-'])) && digits(d)
        });
        match fraction {
            Some((n, d)) => {
                let after_number = plain.ends_with(|c: char| c.is_ascii_digit());
                if i > 0 && !after_number {
                    plain.push(' ');
                }
                if !plain.is_empty() {
                    out.push(html! { { std::mem::take(&mut plain) } });
                }
                // Read aloud and copied as plain text, the fraction keeps its space and its slash.
                let said = if after_number { format!(" {n}") } else { n.to_owned() };
                out.push(html! { <span class="frac"><sup>{ said }</sup><i>{ "/" }</i><sub>{ d.to_owned() }</sub></span> });
                plain.push_str(&word[core.len()..]);
            }
            None => {
                if i > 0 {
                    plain.push(' ');
                }
                plain.push_str(word);
            }
        }
    }
    if !plain.is_empty() {
        out.push(html! { { plain } });
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
    format!("{:.1}", offsquare_core::num::round_half_up(angle.0 * 10.0) / 10.0)
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
