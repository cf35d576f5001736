//! A part's laps on the saw card: where a tape finds the shoulders, how they are cut, what falls out.

use super::drawing::to_look_at;
use crate::widgets::amount::sentence;
use crate::widgets::tags::{each, list, tag};
use offsquare_cuts::parts::Part;
use offsquare_cuts::saw::{LapAdvice, PartAdvice, wording};
use offsquare_paper::at_saw::lap_on_face;
use offsquare_units::Style;
use yew::prelude::*;

/// All laps of a part; nothing where it has none.
pub fn laps(part: &Part, whole: &PartAdvice, style: Style) -> Html {
    let one = |a: &LapAdvice| {
        let picture =
            to_look_at(&lap_on_face(part, &a.lap), &style, "The lap between its shoulders");
        let said = wording::lap(a);
        list(vec![
            tag("h3", "", sentence(&wording::lap_title(&a.lap), &style)),
            tag("div", "on-saw", picture),
            each(said.iter().map(|text| tag("p", "said", sentence(text, &style)))),
        ])
    };
    each(whole.laps.iter().map(one))
}
