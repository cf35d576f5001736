//! A setting that is typed: it keeps its raw text while it is typed in, emits when it parses, and
//! tidies itself on leaving.

use crate::widgets::cell::{Cell, Check};
use offsquare_cuts::saw::LAST_STOP;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Style, Unit, num, parse_angle, parse_length, say};
use offsquare_work::piece::{Shop, length_text};
use offsquare_work::rack::Typed;
use std::rc::Rc;
use yew::prelude::*;

/// The least length of a saw: anything more than nothing.
pub const HAIR: Length = Length(0.001);

/// What is typed, and its unit where that is not the shop's.
type Typing = (Typed, Option<Unit>);

/// Reads a text: a sentence where it says nothing that can be used.
type Read<T> = Rc<dyn Fn(&str) -> Result<T, String>>;

/// A field that sends its value once its text says one.
pub fn field<T: 'static>(
    id: &'static str,
    (label, help): (&'static str, &'static str),
    (text, typed): (String, Typing),
    read: Read<T>,
    changed: Callback<T>,
) -> Html {
    let check: Check = {
        let read = read.clone();
        Rc::new(move |text| read(text).err())
    };
    let taken = Callback::from(move |text: String| {
        if let Ok(value) = read(&text) {
            changed.emit(value);
        }
    });
    let (typed, unit) = typed;
    html! { <Cell {id} {label} {help} {typed} {unit} {text} {check} changed={taken} /> }
}

/// Reads a length within limits.
pub fn length_reader(shop: &Shop, least: Length, most: Length) -> Read<Length> {
    let unit = shop.unit;
    Rc::new(move |text| {
        let p = parse_length(text, unit).map_err(|e| e.to_string())?;
        if p.length < least || p.length > most {
            let from = if least <= HAIR {
                say!("More than 0, at most ")
            } else {
                say!("From {} to ", least)
            };
            return Err(from.and(most).and(".").render(&Style::of(unit)));
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
    let one = angle_reader(0.0, LAST_STOP);
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
    let all: Vec<String> = marks.iter().map(|a| a.0.to_string()).gather();
    all.join(", ")
}
