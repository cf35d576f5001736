//! The app: one store, one screen at a time, and the few effects that reach outside.

use crate::io::keeping::{Keeper, News};
use crate::io::planning::{Background, Planning};
use crate::io::storage::{self, BENCH, Device, NOT_KEPT, SMALL, SOLVING, Storage};
use crate::io::{brought, browser, json, updates, visits};
use crate::screens::bench::bench_page;
use crate::screens::late::{late_page, use_late};
use crate::screens::layout::LayoutPage;
use crate::screens::work::{about_piece, code_on_paper, keypad, save_file, shelve, work_page};
use crate::state::{Boards, Coming, Dispatch, Edit, Face, Read, Route, ShownAnswer, Store, desk};
use crate::widgets::notice::notice;
use crate::widgets::tags::list;
use offsquare_work::piece::{Theme, from_link};
use offsquare_work::save::{Bench, Recent};
use std::rc::Rc;
use yew::prelude::*;

/// Reads what the device has for the first answer; the rest comes from its database.
fn opening() -> (Store, Vec<String>) {
    let mut said = Vec::new();
    let kept = Device.read(SMALL).or_else(|| Device.read(BENCH));
    let read = kept.map_or_else(Bench::default, |text| json::beginning(&text));
    let mut bench = read.clone();
    // The last run died while it solved this layout: keep its inputs among the recent ones, start fresh.
    if let Some(layout) = Device.read(SOLVING) {
        if let Some(at) = bench.drafts.iter().position(|d| d.layout == layout) {
            let draft = bench.drafts.remove(at);
            bench.remember(Recent {
                draft,
                at_ms: browser::now_ms(),
                line: "Set aside: the app stopped while solving it".into(),
                pinned: false,
            });
            said.push(
                "The app stopped while solving your last sizes. They are kept under Recent answers.".into(),
            );
        }
        Device.remove(SOLVING);
    }
    let fragment = browser::fragment();
    let route = Route::of_fragment(&fragment);
    if fragment.contains('?')
        && let Some(draft) = from_link(&fragment, bench.shop.unit)
    {
        // Another question than the one that parts of the list may follow.
        bench.work.part_ways(&draft.layout);
        bench.put(draft);
    }
    if let Route::Layout(id) = route
        && !route.is_to_come()
    {
        storage::solves(id);
    }
    let mut store = Store::beginning(&read, bench, route);
    if route.is_to_come() || route == Route::Open {
        store.apply(Edit::Visit(fragment));
    }
    (store, said)
}

/// What the app reaches outside of itself: the device's store and the planner beside the page.
struct Outside {
    keeper: Keeper,
    planner: Background,
}

/// The parts of the answer that has the most.
fn most_parts(shown: &ShownAnswer) -> usize {
    let all = shown.now.solved.iter().map(|s| s.solution.parts.len());
    all.max().unwrap_or(0)
}

/// What changes is kept; the database comes with the part that knows it.
#[hook]
fn use_keeper(
    outside: &Rc<Outside>,
    store: &UseReducerHandle<Store>,
    said: &UseStateHandle<Vec<String>>,
    trouble: &UseStateHandle<Option<&'static str>>,
) {
    {
        let (outside, store) = (outside.clone(), store.clone());
        use_effect(move || outside.keeper.keep(store.history()));
    }
    let (outside, dispatch) = (outside.clone(), store.dispatcher());
    let (said, trouble) = (said.setter(), trouble.setter());
    use_effect_with(store.late.work == Coming::Here, move |is_here| {
        if *is_here {
            let tell = move |news| match news {
                News::Read { bench, history, ids } => {
                    dispatch.dispatch(Edit::Read(Box::new(Read { bench: *bench, history, ids })));
                }
                News::Elsewhere(bench) => dispatch.dispatch(Edit::Elsewhere(bench)),
                News::Said(words) => said.set(words),
                News::Trouble(words) => trouble.set(words),
            };
            shelve(outside.keeper.clone(), Rc::new(tell));
        }
    });
}

/// Each new request goes to the planner, and its end by hand.
#[hook]
fn use_planner(outside: &Rc<Outside>, boards: &Boards) {
    let (outside, boards) = (outside.clone(), boards.clone());
    let (id, stopped) = (boards.planned.id, boards.planned.stopped);
    use_effect_with((id, stopped, boards.tries), move |_| {
        let planner = &outside.planner;
        let asked = desk().filter(|_| id > 0 && !stopped && boards.planned.running);
        if let Some(desk) = asked {
            planner.ask(&(desk.request)(&boards), boards.tries);
        } else if id > 0 {
            // Nothing is left to plan: whatever still runs is of no use.
            planner.stop();
        }
    });
}

/// The address follows the place, and the place the address (back button, links); title and focus go along. The bench is
/// found as far down as it was left.
#[hook]
fn use_place(route: Route, visits: u32, title: String, is_here: bool) {
    // The place that is painted, the one whose scroll is set, and how far down the bench is: one swaps before the other.
    let at = use_mut_ref(|| (route, None::<Route>, 0.0_f64));
    at.borrow_mut().0 = route;
    let left = at.clone();
    // Whether another place was there before: the first one takes no focus.
    let moved = use_mut_ref(|| false);
    let gone = moved.clone();
    let named = title.clone();
    use_effect_with((route, visits), move |&(route, _)| {
        let before = left.borrow_mut().1.replace(route);
        // A pattern that was changed is a piece now, on the same screen: the way back leads past it.
        let became = matches!(
            (before, route),
            (Some(Route::Layout(_)), Route::Piece(_, Face::Piece))
                | (Some(Route::Piece(_, Face::Piece)), Route::Layout(_))
        );
        // The way back does not lead to what was looked at and added, or not.
        let opened = before == Some(Route::Open);
        if Route::of_fragment(&browser::fragment()) != route {
            let go = if became || opened || before == Some(route) {
                browser::readdress
            } else {
                browser::go
            };
            go(&route.fragment());
        }
        if before == Some(route) {
            return;
        }
        // The page was loaded anew under a sheet, or come back to with the step that one has left.
        if !became {
            browser::lower_step(1);
        }
        *gone.borrow_mut() = before.is_some();
        browser::note_came_from(&before.map(Route::fragment).unwrap_or_default());
        browser::announce(&named, before.is_some() && !became);
        if before.is_some() {
            browser::scroll_to(if route == Route::Bench { left.borrow().2 } else { 0.0 });
        }
    });
    // A pattern's title is known when it has come; a screen that comes late takes the heading that was read with it.
    use_effect_with((title, is_here), move |(title, is_here)| {
        browser::announce(title, *is_here && *moved.borrow() && !browser::has_focus());
    });
    use_effect_with((), move |()| {
        let heard = browser::on_window("scroll", move || {
            let mut at = at.borrow_mut();
            if (at.0, at.1) == (Route::Bench, Some(Route::Bench)) {
                at.2 = browser::scrolled();
            }
        });
        move || drop(heard)
    });
}

/// Answers are counted; the page has its theme.
#[hook]
fn use_page(answered: bool, theme: Theme) {
    use_effect_with((answered, theme), |(answered, theme)| {
        if *answered {
            visits::count();
        }
        let theme = match theme {
            Theme::System => "system",
            Theme::Light => "light",
            Theme::Dark => "dark",
        };
        browser::mark_root("theme", theme);
        browser::color_bars(theme);
    });
}

/// Whether the screen of the place has come.
fn is_here(store: &Store) -> bool {
    match store.route {
        Route::Bench => true,
        Route::Layout(_) => store.shown.is_some(),
        Route::Piece(..) if store.shown.is_some() => true,
        Route::Open => {
            store.is_whole() && store.late.work == Coming::Here && store.late.has_layouts()
        }
        Route::Shop | Route::Rack | Route::Piece(..) => {
            store.late.work == Coming::Here && store.is_whole()
        }
    }
}

/// The screen of the place.
fn page(store: &UseReducerHandle<Store>, dispatch: &Dispatch) -> Html {
    let work = &store.bench.work;
    let piece = match store.route {
        Route::Bench => {
            let bench = bench_page(&store.bench, store.can_undo(), store.late, dispatch);
            return list(vec![bench, keypad(store).unwrap_or_default()]);
        }
        Route::Layout(_) => None,
        Route::Piece(id, Face::Piece) if work.pattern(id).is_some() => Some(id),
        Route::Shop | Route::Rack | Route::Open | Route::Piece(..) => {
            let page = is_here(store).then(|| work_page(store, dispatch)).flatten();
            let page = page.unwrap_or_else(|| late_page(store, dispatch));
            return list(vec![page, keypad(store).unwrap_or_default()]);
        }
    };
    let shown = store.shown.as_ref().and_then(|(id, shown)| Some((*id, shown, store.draft(id)?)));
    let Some((id, shown, draft)) = shown else {
        return late_page(store, dispatch);
    };
    html! {
        <LayoutPage key={id} dispatch={dispatch.clone()} layout={id} {draft} shown={shown.clone()} shop={store.bench.shop.clone()} can_undo={store.can_undo()} can_redo={store.can_redo()}
            piece={piece.and_then(|id| work.piece(id)).cloned()} about={piece.and_then(|id| about_piece(store, id, dispatch))}
            code={piece.map(|id| { let bench = store.bench.clone(); Callback::from(move |()| code_on_paper(&bench, id)) })}
            pieces={work.pieces.iter().map(|p| (p.id, p.called())).collect::<Vec<_>>()}
            in_parts={work.live(id).map(|s| s.piece)} no_room={work.no_room_to_follow(most_parts(shown))}
            late={store.late} waits={store.waits()} />
    }
}

#[component]
pub fn App() -> Html {
    let said = use_state(Vec::<String>::new);
    let store = {
        let said = said.clone();
        use_reducer(move || {
            let (store, words) = opening();
            if !words.is_empty() {
                said.set(words);
            }
            store
        })
    };
    let update = use_state(|| false);
    let dispatch = store.dispatcher();
    let trouble = use_state(|| None::<&'static str>);
    let outside = {
        let (trouble, dispatch) = (trouble.setter(), dispatch.clone());
        let (out, bench) = (store.out().clone(), store.bench.clone());
        use_memo((), move |()| Outside {
            keeper: Keeper::new(out, bench, Callback::from(move |words| trouble.set(Some(words)))),
            planner: Background::new(Rc::new(move |said| dispatch.dispatch(Edit::Heard(said)))),
        })
    };
    use_keeper(&outside, &store, &said, &trouble);
    use_planner(&outside, &store.boards);
    let answered = store.shown.as_ref().is_some_and(|(_, shown)| shown.now.is_good());
    let is_here = is_here(&store);
    // The render survived its solving.
    use_effect_with(is_here, |_| Device.remove(SOLVING));
    use_place(store.route, store.visits, store.title(), is_here);
    use_page(answered, store.bench.shop.theme);
    use_late(&store, &dispatch);
    {
        let (dispatch, update) = (dispatch.clone(), update.setter());
        let outside = outside.clone();
        use_effect_with((), move |()| {
            // What was mended at the start is kept at once.
            outside.keeper.now();
            let (visit, bring) = (dispatch.clone(), dispatch);
            brought::opened_files(move |text| bring.dispatch(Edit::Bring(text)));
            let heard = (
                outside.keeper.watch(),
                browser::on_window("hashchange", move || {
                    visit.dispatch(Edit::Visit(browser::fragment()))
                }),
                updates::listen(move || update.set(true)),
            );
            move || drop(heard)
        });
    }

    let page = page(&store, &dispatch);
    let mut words = (*said).clone();
    words.extend(store.said.map(str::to_owned));
    let quiet = {
        let (said, dispatch) = (said.clone(), dispatch.clone());
        Callback::from(move |_: MouseEvent| {
            said.set(Vec::new());
            dispatch.dispatch(Edit::Hush);
        })
    };
    let save = {
        let bench = store.bench.clone();
        Callback::from(move |_: MouseEvent| save_file(&bench))
    };
    let seen = Callback::from({
        let trouble = trouble.setter();
        move |_: MouseEvent| trouble.set(None)
    });
    // No prompt before the second answered visit, and none over a layout at work or at the saw.
    let at_work = matches!(store.route, Route::Layout(_) | Route::Piece(_, Face::Saw));
    let quiet_place = !at_work && visits::are_enough_to_ask();
    // What is missing may be gone for good: only the new version has it.
    let offer_update = *update && (quiet_place || store.late.is_missing());
    let use_update = {
        let trouble = trouble.setter();
        Callback::from(move |_: MouseEvent| match outside.keeper.now() {
            true => updates::apply(),
            // What is typed would be lost with this run.
            false => trouble.set(Some(NOT_KEPT)),
        })
    };
    let later = Callback::from(move |_: MouseEvent| update.set(false));
    html! {
        <>
            if let Some(words) = *trouble {
                { notice(words.to_owned(), Some(("Save a file", save)), seen) }
            }
            if !words.is_empty() {
                { notice(words.join(" "), None, quiet) }
            }
            if offer_update {
                { notice("New version ready.".to_owned(), Some(("Use it now", use_update)), later) }
            }
            { page }
        </>
    }
}
