//! A whole piece put together: its sizes are typed where they stand, a finger turns it, a tap on a part opens its cuts.

use super::drawing::Drawing;
use super::look::{Raised, Turn, Turns};
use super::solid::{PER_PX, turn_keys};
use super::view::{SharedAnswer, chosen, chosen_index};
use crate::state::Dispatch;
use crate::widgets::keys::choice;
use offsquare_geometry::Point;
use offsquare_geometry::scene::Scene;
use offsquare_paper::drawing::{Assembled, View, lay_out};
use offsquare_units::Style;
use offsquare_work::piece::{Draft, Override, Shop, with_changes};
use std::rc::Rc;
use wasm_bindgen::JsCast;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct Sight {
    pub answer: SharedAnswer,
    pub draft: Draft,
    pub dispatch: Dispatch,
    pub shop: Shop,
    pub editing: Option<&'static str>,
    pub give: Option<&'static str>,
    pub go: Callback<Option<&'static str>>,
    pub turns: Turns,
    /// What the maker changed of its parts.
    pub changes: Vec<Override>,
    pub ways: Html,
}

/// A finger that has moved less, px, has tapped.
const STILL: f64 = 8.0;

/// A finger on the drawing.
#[derive(Clone, Copy)]
struct Finger {
    from: (i32, i32),
    view: View,
    /// It has turned the piece: it is no tap.
    turns: bool,
}

/// What follows a finger: down, moved, up; and whether the last one has turned the piece.
struct Fingers {
    down: Callback<PointerEvent>,
    moved: Callback<PointerEvent>,
    has_turned: Rc<dyn Fn() -> bool>,
}

#[hook]
fn use_fingers(view: &UseStateHandle<View>) -> Fingers {
    let finger = use_mut_ref(|| None::<Finger>);
    let down = {
        let (finger, view) = (finger.clone(), **view);
        Callback::from(move |e: PointerEvent| {
            finger.replace(Some(Finger { from: (e.client_x(), e.client_y()), view, turns: false }));
        })
    };
    let moved = {
        let (finger, view) = (finger.clone(), view.clone());
        Callback::from(move |e: PointerEvent| {
            let mut now = finger.borrow_mut();
            let Some(now) = now.as_mut().filter(|_| e.buttons() != 0) else {
                return;
            };
            let by = |to: i32, from: i32| f64::from(to - from);
            let (x, y) = (by(e.client_x(), now.from.0), by(e.client_y(), now.from.1));
            if !now.turns && x.abs().max(y.abs()) > STILL {
                now.turns = true;
                let on = e.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
                // Without capture the drag still works while the pointer stays on the drawing.
                let _ = on.map(|on| on.set_pointer_capture(e.pointer_id()));
            }
            if now.turns {
                view.set(now.view.turned(-x * PER_PX, y * PER_PX));
            }
        })
    };
    let has_turned = Rc::new(move || finger.borrow().is_some_and(|f| f.turns));
    Fingers { down, moved, has_turned }
}

/// How far beside what it means a finger falls, px.
const REACH: f64 = 14.0;

/// Where a tap falls in the scene, and how far it reaches there, inches; none on a size, or beside the drawing.
fn place(tap: &MouseEvent, scene: Option<&Scene>, style: &Style) -> Option<(Point, f64)> {
    let on = tap.target()?.dyn_into::<web_sys::Element>().ok()?;
    let frame = on.closest(".drawing").ok()?.filter(|_| !on.has_attribute("data-field"))?;
    let frame = frame.get_bounding_client_rect();
    let laid = lay_out(scene?, frame.width().round(), frame.height().round(), style);
    let x = f64::from(tap.client_x()) - frame.left() - laid.origin.x;
    let y = f64::from(tap.client_y()) - frame.top() - laid.origin.y;
    let scale = 1.0 / laid.per_inch;
    Some((Point::new(x * scale, -y * scale), REACH * scale))
}

#[component]
pub fn PieceSight(props: &Sight) -> Html {
    let view = use_state_eq(|| View::CORNER);
    let apart = use_state_eq(|| false);
    let way = chosen_index(&props.answer, &props.draft);
    let of = (props.answer.clone(), way, props.changes.clone());
    let made = use_memo(of.clone(), |(answer, _, changes)| {
        let solution = &chosen(answer, &props.draft)?.solution;
        Some(Assembled::changed(solution, &with_changes(solution, changes).0))
    });
    let scene = use_memo((of, *view, *apart), |(_, view, apart)| {
        made.as_ref().as_ref().map(|m| Rc::new(m.seen(*view, *apart)))
    });
    let fingers = use_fingers(&view);
    let tapped = {
        let (made, scene, apart, turned) = (made, scene.clone(), *apart, fingers.has_turned);
        let (view, style, turns) = (*view, props.shop.style(), props.turns.clone());
        let (answer, draft) = (props.answer.clone(), props.draft.clone());
        Callback::from(move |e: MouseEvent| {
            let part = place(&e, (*scene).as_deref(), &style).filter(|_| !turned());
            let part = part.zip(made.as_ref().as_ref());
            let part = part.and_then(|((at, reach), m)| m.part_at(view, apart, at, reach));
            let parts = chosen(&answer, &draft).map(|s| &s.solution.parts);
            if let (Some(part), Some(parts)) = (part, parts) {
                // Its first cut, counted over all parts.
                let cut = parts.iter().take(part).map(|p| p.cuts.len()).sum();
                turns.dispatch(Turn::Cut(Some(cut)));
                turns.dispatch(Turn::Raise(Raised::Card));
            }
        })
    };
    let toggle = {
        let apart = apart.clone();
        Callback::from(move |_: MouseEvent| apart.set(!*apart))
    };
    let moved_apart = choice(*apart, Some("apart".to_owned()), "Apart".into(), toggle);
    html! {
        <div class="sight whole" onpointerdown={fingers.down} onpointermove={fingers.moved} onclick={tapped}>
            <Drawing answer={props.answer.clone()} draft={props.draft.clone()} dispatch={props.dispatch.clone()}
                shop={props.shop.clone()} editing={props.editing} give={props.give} go={props.go.clone()}
                instead={(*scene).clone()} />
            { turn_keys(&view, moved_apart) }
            <p class="unseen" role="status" data-test="solid-words">{ view.words() }</p>
            { props.ways.clone() }
        </div>
    }
}
