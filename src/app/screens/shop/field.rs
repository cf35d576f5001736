//! A setting that is typed: it keeps its raw text while it is typed in, emits when it parses, and
//! tidies itself on leaving.

use offsquare_core::num;
use offsquare_core::piece::{Shop, length_text};
use offsquare_core::units::{Angle, Length, parse_angle, parse_length};
use std::rc::Rc;
use yew::prelude::*;

/// Reads a text: a sentence where it says nothing that can be used.
type Read<T> = Rc<dyn Fn(&str) -> Result<T, String>>;

#[derive(Properties)]
pub struct SettingProps<T: PartialEq + Clone + 'static> {
    pub id: AttrValue,
    pub label: AttrValue,
    #[prop_or_default]
    pub help: AttrValue,
    /// The value as text, tidy.
    pub text: String,
    pub read: Read<T>,
    pub changed: Callback<T>,
}

impl<T: PartialEq + Clone + 'static> PartialEq for SettingProps<T> {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id && self.text == other.text
    }
}

#[component]
pub fn Setting<T: PartialEq + Clone + 'static>(props: &SettingProps<T>) -> Html {
    // Some: being typed in.
    let raw = use_state(|| None::<String>);
    let wrong = raw.as_ref().and_then(|t| (props.read)(t).err());
    let on_input = {
        let (raw, read, changed) = (raw.clone(), props.read.clone(), props.changed.clone());
        Callback::from(move |e: InputEvent| {
            let input: web_sys::HtmlInputElement = e.target_unchecked_into();
            let text = input.value();
            if let Ok(value) = read(&text) {
                changed.emit(value);
            }
            raw.set(Some(text));
        })
    };
    let on_blur = {
        let (raw, read) = (raw.clone(), props.read.clone());
        Callback::from(move |_: FocusEvent| {
            // A text that cannot be used stays, with its sentence; the last good value is in force.
            if raw.as_ref().is_none_or(|t| read(t).is_ok()) {
                raw.set(None);
            }
        })
    };
    let said = format!("{}-wrong", props.id);
    html! {
        <div class="field">
            <label for={props.id.clone()}>{ props.label.clone() }{ " " }<span class="help">{ props.help.clone() }</span></label>
            <input id={props.id.clone()} type="text" autocomplete="off" oninput={on_input} onblur={on_blur}
                aria-invalid={wrong.is_some().to_string()} aria-describedby={said.clone()}
                value={(*raw).clone().unwrap_or_else(|| props.text.clone())} />
            if let Some(sentence) = wrong {
                <p class="wrong" id={said}>{ sentence }</p>
            }
        </div>
    }
}

/// Reads a length that is more than nothing (or nothing too).
pub fn length_reader(shop: &Shop, least: Length) -> Read<Length> {
    let unit = shop.unit;
    Rc::new(move |text| {
        let p = parse_length(text, unit).map_err(|e| e.to_string())?;
        if p.length < least || p.length > Length(1000.0) {
            return Err("A length of a saw: more than nothing, less than 1000 inches.".into());
        }
        Ok(p.length)
    })
}

/// Reads an angle from 0 to `most` degrees.
pub fn angle_reader(least: f64, most: f64) -> Read<Angle> {
    Rc::new(move |text| {
        let a = parse_angle(text).map_err(|e| e.to_string())?.angle;
        if a.0 < least || a.0 > most {
            return Err(format!("An angle from {least} to {most} degrees."));
        }
        Ok(a)
    })
}

/// Reads marks: angles with commas between.
pub fn marks_reader() -> Read<Vec<Angle>> {
    let one = angle_reader(0.0, 75.0);
    Rc::new(move |text| {
        let mut marks = text
            .split(',')
            .filter(|s| !s.trim().is_empty())
            .map(|s| one(s))
            .collect::<Result<Vec<_>, _>>()?;
        num::sort_by(&mut marks, |a, b| a.0.total_cmp(&b.0));
        marks.dedup();
        Ok(marks)
    })
}

/// A length as it stands in a field.
pub fn length_said(shop: &Shop, l: Length) -> String {
    length_text(l, shop.unit)
}

/// Marks as they stand in a field.
pub fn marks_text(marks: &[Angle]) -> String {
    let all: Vec<String> = marks.iter().map(|a| a.0.to_string()).collect();
    all.join(", ")
}
