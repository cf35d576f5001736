//! The drawing that is the form: tap a size to type it, drag a handle, tap the rest to look.
//!
//! Beside the keypad the drawing has no handles, and under 200 px only the sizes that are typed.

use super::view::{SharedAnswer, chosen};
use crate::io::browser;
use crate::state::{Dispatch, Edit};
use crate::widgets::tags::list;
use offsquare_cuts::inputs::Value;
use offsquare_geometry::scene::{Item, Scene, Source};
use offsquare_geometry::{Point, Vector, dot};
use offsquare_paper::drawing::{self, Anchor, Mark, Rect, Run};
use offsquare_units::{Style, say};
use offsquare_work::piece::{Draft, Shop, handle_text};
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use yew::prelude::*;

/// A drawing less high than this has a keypad beside it, and than that little room, px.
const SMALL: f64 = 300.0;
const LEAST: f64 = 200.0;

#[derive(Properties, PartialEq)]
pub struct DrawingProps {
    pub answer: SharedAnswer,
    pub draft: Draft,
    pub dispatch: Dispatch,
    pub shop: Shop,
    pub editing: Option<&'static str>,
    /// The field that gives when worked backwards: its size is underlined with dots.
    pub give: Option<&'static str>,
    /// Opens a field.
    pub go: Callback<Option<&'static str>>,
    /// What is drawn in the place of the answer's own figure.
    #[prop_or_default]
    pub instead: Option<Rc<Scene>>,
}

#[component]
pub fn Drawing(props: &DrawingProps) -> Html {
    let frame = use_node_ref();
    let (width, height) = use_room(&frame);
    let drag = use_mut_ref(|| None);
    let Some(solved) = chosen(&props.answer, &props.draft) else {
        return html! {};
    };
    let style = props.shop.style();
    let own = &solved.solution.figure;
    let mut figure = props.instead.as_deref().unwrap_or(own).clone();
    // Beside a keypad there is no room to pull at it: without handles it is larger; with least room it
    // keeps to what is typed.
    if props.editing.is_some() && height < SMALL {
        figure.items.retain(|i| match i {
            Item::Handle { .. } => false,
            Item::Dimension { source, .. } | Item::AngleMark { source, .. } => {
                height > LEAST || matches!(source, Source::Given(_))
            }
            _ => true,
        });
    }
    let laid = drawing::lay_out(&figure, width, height, &style);
    let end = {
        let drag = drag.clone();
        Callback::from(move |e: PointerEvent| {
            drag.borrow_mut().take_if(|d: &mut Drag| d.finger == e.pointer_id());
        })
    };
    let moved = pulling(props, &drag);
    let form = props.draft.form();
    let gives = form.and_then(|f| f.fields.iter().find(|f| Some(f.key) == props.give));
    let paint = |marks: &[Mark]| match marks {
        [Mark::Hit { rect, field }] => hit(rect, field, props),
        [Mark::HandleMark { at, field, per_px }] => {
            let start = props.answer.given.inputs.get(field).and_then(Value::scalar);
            handle(*at, field, taking(&drag, field, start, *per_px))
        }
        [Mark::Text { rect, field, .. }] if field.is_some() && *field == props.give => {
            let y = rect.high.y + 1.0;
            let line = Mark::Line {
                from: Point::new(rect.low.x, y),
                to: Point::new(rect.high.x, y),
                class: "give",
            };
            list(vec![still(marks), still(&[line])])
        }
        others => still(others),
    };
    // What is tapped comes last.
    let taps = |m: &Mark| matches!(m, Mark::Hit { .. } | Mark::HandleMark { .. });
    let first = laid.marks.iter().position(taps).unwrap_or(laid.marks.len());
    let (seen, tapped) = laid.marks.split_at(first);
    let mut label = solved.solution.title.to_owned();
    if let Some(field) = gives {
        label = [&label, ". May give: ", field.label].concat();
    }
    html! {
        <div class="drawing" ref={frame} onpointermove={moved} onpointerup={end.clone()} onpointercancel={end}>
            <svg viewBox={format!("0 0 {width} {height}")} role="group" aria-label="Drawing with its sizes" data-test="drawing">
                <g role="img" aria-label={label}>{ painted(seen, paint) }</g>
                { painted(tapped, paint) }
            </svg>
        </div>
    }
}

/// The frame's size in px, whatever changes it: the phone is turned, a line more stands below.
#[hook]
fn use_room(frame: &NodeRef) -> (f64, f64) {
    let size = use_state_eq(|| (360.0_f64, 300.0_f64));
    let measure = {
        let (frame, size) = (frame.clone(), size.setter());
        move || {
            if let Some(e) = frame.cast::<web_sys::Element>() {
                let r = e.get_bounding_client_rect();
                if r.width() > 40.0 && r.height() > 40.0 {
                    size.set((r.width().round(), r.height().round()));
                }
            }
        }
    };
    let frame = frame.clone();
    use_effect_with((), move |()| {
        measure();
        let watched = frame.cast().map(|e| browser::on_resize(&e, measure));
        move || drop(watched)
    });
    *size
}

/// What is dragged.
#[derive(Clone, Copy)]
struct Drag {
    finger: i32,
    field: &'static str,
    /// Where the finger went down, and the value then.
    from: Point,
    start: f64,
    /// How the value changes with the finger.
    per_px: Vector,
}

type Dragging = Rc<RefCell<Option<Drag>>>;

fn place(e: &PointerEvent) -> Point {
    Point::new(f64::from(e.client_x()), f64::from(e.client_y()))
}

/// A finger that moves types the value to which it has pulled.
fn pulling(props: &DrawingProps, drag: &Dragging) -> Callback<PointerEvent> {
    let (drag, dispatch, inputs, shop) = (
        drag.clone(),
        props.dispatch.clone(),
        props.answer.given.inputs.clone(),
        props.shop.clone(),
    );
    let layout = props.draft.layout().map(|l| l.id());
    Callback::from(move |e: PointerEvent| {
        let (Some(d), Some(layout)) = (*drag.borrow(), layout) else {
            return;
        };
        if d.finger != e.pointer_id() {
            return;
        }
        let value = d.start + dot(place(&e) - d.from, d.per_px);
        if let Some(now) = inputs.get(d.field)
            && let Some((text, unit)) = handle_text(now, value, &shop)
        {
            dispatch.dispatch(Edit::Type { layout, key: d.field.to_owned(), text, unit });
        }
    })
}

/// A finger on a handle takes it, where its field has a value.
fn taking(
    drag: &Dragging,
    field: &'static str,
    start: Option<f64>,
    per_px: Vector,
) -> Callback<PointerEvent> {
    let drag = drag.clone();
    Callback::from(move |e: PointerEvent| {
        let Some(start) = start else {
            return;
        };
        let finger = e.pointer_id();
        *drag.borrow_mut() = Some(Drag { finger, field, from: place(&e), start, per_px });
        if let Some(target) = e.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok()) {
            // Without capture the drag still works while the pointer stays on the drawing.
            let _ = target.set_pointer_capture(finger);
        }
        e.prevent_default();
    })
}

fn handle(at: Point, field: &'static str, down: Callback<PointerEvent>) -> Html {
    // Its field has the focus in its place.
    html! {
        <g key={["handle-", field].concat()} class="fig-grip" aria-hidden="true" data-handle={field} onpointerdown={down}>
            <circle class="fig-hit" cx={drawing::figure(at.x)} cy={drawing::figure(at.y)} r="24" />
            <circle class="fig-handle" cx={drawing::figure(at.x)} cy={drawing::figure(at.y)} r="9" />
        </g>
    }
}

/// Where a tap or a key opens a field, read aloud as the field and its size.
fn hit(rect: &Rect, field: &'static str, props: &DrawingProps) -> Html {
    let open = {
        let go = props.go.clone();
        Callback::from(move |_: MouseEvent| go.emit(Some(field)))
    };
    let typed = {
        let go = props.go.clone();
        Callback::from(move |e: KeyboardEvent| {
            if matches!(e.key().as_str(), "Enter" | " ") {
                e.prevent_default();
                go.emit(Some(field));
            }
        })
    };
    let form = props.draft.form();
    let of = form.and_then(|f| f.fields.iter().chain(f.also).find(|f| f.key == field));
    let size = props.answer.given.inputs.get(field).and_then(Value::quantity);
    let size = size.map_or_else(String::new, |q| say!(": {}", q).render(&props.shop.style()));
    let said = of.map_or("", |f| f.label).to_owned() + &size;
    // The same element as long as there is this size: it keeps the focus, and a second tap is on the same.
    html! {
        <rect key={field} id={size_id(field)} class={classes!("fig-hit", (props.editing == Some(field)).then_some("on"))} data-field={field}
            role="button" tabindex="0" aria-label={said} onkeydown={typed} onclick={open}
            x={drawing::figure(rect.low.x)} y={drawing::figure(rect.low.y)}
            width={drawing::figure(rect.width())} height={drawing::figure(rect.height())} />
    }
}

/// A size on the drawing, by its field.
pub fn size_id(field: &str) -> String {
    ["size-", field].concat()
}

/// The marks one after another; straight lines of one class that follow each other are one path.
pub fn painted(marks: &[Mark], mut paint: impl FnMut(&[Mark]) -> Html) -> Html {
    let alike = |a: &Mark, b: &Mark| a.is_lines() && b.is_lines() && a.class() == b.class();
    marks.chunk_by(alike).map(&mut paint).collect()
}

/// Marks of one class that are only looked at.
#[inline(never)]
pub fn still(marks: &[Mark]) -> Html {
    match marks {
        [Mark::Text { at, anchor, size, runs, class, .. }] => {
            text(*at, *anchor, *size, runs, class)
        }
        [first, ..] if first.class().is_some() => {
            let d: String = marks.iter().map(Mark::path_data).collect();
            html! { <path class={format!("fig-{}", first.class().unwrap_or_default())} {d} /> }
        }
        // Hits and handles.
        _ => html! {},
    }
}

/// Words with their fractions set small, raised and lowered.
#[inline(never)]
fn text(at: Point, anchor: Anchor, size: f64, runs: &[Run], class: &'static str) -> Html {
    let anchor = match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let small = AttrValue::from(drawing::figure(size * drawing::FRACTION_SIZE));
    let (up, down) = (size * drawing::RAISED, size * drawing::LOWERED);
    // A shift of one piece carries on to the next: each states what it differs from the one before.
    let mut level = 0.0;
    let mut piece = |words: &str, to: f64, small: Option<&AttrValue>| {
        let dy = drawing::figure(to - level);
        level = to;
        html! { <tspan {dy} font-size={small.cloned()}>{ words.to_owned() }</tspan> }
    };
    let mut out = Vec::new();
    for run in runs {
        match run {
            Run::Words(w) if runs.len() == 1 => out.push(html! { { w.clone() } }),
            Run::Words(w) => out.push(piece(w, 0.0, None)),
            Run::Fraction { over, under } => {
                out.push(piece(over, -up, Some(&small)));
                out.push(piece("/", 0.0, None));
                out.push(piece(under, down, Some(&small)));
            }
        }
    }
    html! {
        <text class={format!("fig-{class}")} x={drawing::figure(at.x)} y={drawing::figure(at.y)}
            font-size={drawing::figure(size)} text-anchor={anchor}>{ out }</text>
    }
}

/// A scene without sizes, as large as its frame: thumbnails.
pub fn plain(scene: &Scene) -> Html {
    let mut bare = scene.clone();
    bare.items.retain(|i| matches!(i, Item::Shape { .. } | Item::Line { .. } | Item::Arc { .. }));
    let style = Style::default();
    let laid = drawing::lay_out(&bare, 92.0, 68.0, &style);
    html! {
        <svg viewBox="0 0 92 68" aria-hidden="true">
            { painted(&laid.marks, still) }
        </svg>
    }
}

/// A scene with its sizes, to look at.
pub fn to_look_at(scene: &Scene, style: &Style, label: &'static str) -> Html {
    // As high as it needs to be for its width.
    let h = scene.bounds().map_or(230.0, |(lo, hi)| {
        (96.0 + 290.0 * (hi.y - lo.y) / (hi.x - lo.x).max(1e-9)).clamp(130.0, 300.0)
    });
    figure(scene, style, 344.0, h, label)
}

/// The same as a plain picture, `width` by `height`.
pub fn figure(scene: &Scene, style: &Style, width: f64, height: f64, label: &str) -> Html {
    picture(&drawing::lay_out(scene, width, height, style), label)
}

/// A laid-out drawing, to look at.
pub fn picture(laid: &drawing::Drawing, label: &str) -> Html {
    let (w, h) = (drawing::figure(laid.width), drawing::figure(laid.height));
    html! {
        <svg viewBox={format!("0 0 {w} {h}")} role="img" aria-label={label.to_owned()}>{ painted(&laid.marks, still) }</svg>
    }
}
