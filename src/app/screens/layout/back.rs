//! Working backwards: which change of one size lands the cut on a mark of the saw.

use super::view::chosen;
use crate::state::{Dispatch, Edit, on};
use crate::widgets::amount::{sentence, set};
use crate::widgets::keys::choice;
use crate::widgets::sheet::Sheet;
use crate::widgets::tags::{each, tag, txt};
use offsquare_cuts::backwards::{Mark, Marks, Steps, marks_near};
use offsquare_cuts::inputs::Field;
use offsquare_cuts::layouts::answer_words;
use offsquare_units::num::Gather;
use offsquare_units::{Quantity, upper_first};
use offsquare_work::piece::{Answered, Draft, Shop, field_text};
use yew::prelude::*;

/// What is worked backwards, and where its taps go.
pub struct Back<'a> {
    pub dispatch: &'a Dispatch,
    pub answer: &'a Answered,
    pub draft: &'a Draft,
    pub shop: &'a Shop,
    /// The field that gives, and those that could.
    pub give: Option<&'static str>,
    pub gives: &'a [&'static str],
    pub close: Callback<()>,
}

pub fn back_sheet(props: &Back) -> Html {
    let (Some(solved), Some(layout), Some(form)) =
        (chosen(props.answer, props.draft), props.draft.layout(), props.draft.form())
    else {
        return html! {};
    };
    let style = props.shop.style();
    let id = layout.id();
    let field_of = |key: &str| -> Option<&'static Field> {
        form.fields.iter().chain(form.also).find(|f| f.key == key)
    };
    let give = props.give.and_then(field_of);
    let send = |edit: Edit| on(props.dispatch, edit);
    let steps = Steps::default();
    let groups: Vec<(String, Vec<Mark>)> = give
        .map(|give| {
            solved
                .solution
                .headline
                .iter()
                .filter_map(|path| {
                    let now = solved.solution.answers.quantity(path)?;
                    let marks = match now {
                        Quantity::Angle(_) if path.contains("bevel") => {
                            Marks::Bevel(&props.shop.saw)
                        }
                        Quantity::Angle(_) => Marks::Miter(&props.shop.saw),
                        Quantity::Length(_) => {
                            Marks::Step(style.shown_fraction().step().to_length())
                        }
                        _ => return None,
                    };
                    let found = marks_near(layout, solved, path, give, marks, &steps);
                    Some((answer_words(path), found))
                })
                .gather()
        })
        .unwrap_or_default();
    html! {
        <Sheet key="back" title="Make it land on a mark" close={props.close.clone()}>
            { tag("p", "said", txt("Which size may give?")) }
            <div class="choices said">
                { each(props.gives.iter().filter_map(|k| field_of(k)).map(|f| html! {
                    { choice(Some(f.key) == props.give, Some(format!("give-{}", f.key)), f.label.into(), send(Edit::Give { layout: id, key: f.key.to_owned() })) }
                })) }
            </div>
            { each(groups.into_iter().map(|(name, marks)| html! {
                <>
                    { tag("h3", "", txt(upper_first(&name))) }
                    if marks.is_empty() { { tag("p", "said", txt("No change of this size lands it on a mark.")) } }
                    <ul class="recent">
                        { each(marks.into_iter().map(|m| {
                            let text = m.solved.inputs.get(m.give).and_then(|v| field_text(v, &style));
                            let (dispatch, close, key) = (props.dispatch.clone(), props.close.clone(), m.give);
                            let unit = style.unit;
                            let take = Callback::from(move |_: MouseEvent| {
                                if let Some(text) = &text {
                                    dispatch.dispatch(Edit::Type { layout: id, key: key.to_owned(), text: text.clone(), unit });
                                    close.emit(());
                                }
                            });
                            html! {
                                <li><button data-test="take" onclick={take}>
                                    { sentence(&m.text, &style) }
                                    { tag("small", "", set(&m.change_in_words(&style))) }
                                </button></li>
                            }
                        })) }
                    </ul>
                </>
            })) }
            { each(steps.problem(true).map(|p| tag("p", "help", sentence(&p.text, &style)))) }
        </Sheet>
    }
}
