//! One reducer over the document. Everything shown is derived here, by the core, once an edit.

use super::early::{Early, are_alike};
use super::shown::{ShownAnswer, same_form};
use super::{Boards, Coming, Face, Late, Part, Route, desk};
use crate::io::keeping::Out;
use crate::io::planning::Said;
use offsquare_cuts::layouts::Answers;
use offsquare_units::Unit;
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Ids, Shop, WorkEdit, answer};
use offsquare_work::save::{Bench, History};
use std::rc::Rc;
use yew::Reducible;

/// What a screen can ask for, in the words of the form.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    Go(Route),
    /// The address says another place now, or brings a draft.
    Visit(String),
    Type {
        layout: &'static str,
        key: String,
        text: String,
        unit: Unit,
    },
    Form {
        layout: &'static str,
        form: &'static str,
    },
    Way {
        layout: &'static str,
        way: usize,
    },
    Give {
        layout: &'static str,
        key: String,
    },
    Fresh(&'static str),
    /// The stock on its other side.
    Turn(&'static str),
    /// A draft from a link or from the recent answers takes the place of the layout's own.
    Open(Draft),
    /// The text of a link or a file, which may hold a piece.
    Bring(Rc<str>),
    /// A layout's answer goes among the recent ones; where the screen is only `left`, if it was used.
    Remember {
        layout: &'static str,
        at_ms: f64,
        pinned: bool,
        left: bool,
    },
    /// All that the device keeps has been read.
    Read(Box<Read>),
    /// The document with what other tabs have kept.
    Elsewhere(Rc<Bench>),
    Pin(usize),
    Forget(usize),
    Line {
        index: usize,
        text: String,
    },
    Shop(Box<Shop>),
    Import(Box<Bench>),
    /// Parts, rack, boards.
    Work(WorkEdit),
    /// The layout of a source of the parts list, on its own screen.
    TakeUp(u32),
    /// A piece of the maker's, looked at from this side: of a pattern as it stands, or of parts only.
    Keep {
        pattern: Option<&'static str>,
        face: Face,
    },
    /// An example's copy becomes a piece of the maker's.
    Example(usize),
    /// Two pieces are set side by side, or no longer.
    Beside(Option<[u32; 2]>),
    /// The planner says something.
    Heard(Said),
    StopPlanning,
    /// The planner is started anew.
    TryPlanner,
    /// How far a part of the app has come.
    Late(Part, Coming),
    Undo,
    Redo,
    /// What was said has been read.
    Hush,
}

/// What was read from the device.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// With all that was changed here since the start.
    pub bench: Bench,
    /// What can be undone from earlier runs.
    pub history: History,
    pub ids: Ids,
}

/// The state of the app.
#[derive(Clone, PartialEq)]
pub struct Store {
    pub bench: Rc<Bench>,
    pub route: Route,
    /// How often the address was followed: it may say another place than the one that it led to.
    pub visits: u32,
    pub shown: Option<(&'static str, Rc<ShownAnswer>)>,
    /// What the planner found for the parts list.
    pub boards: Boards,
    pub late: Late,
    /// What waits for the part that does it.
    pub(super) waiting: Vec<Edit>,
    /// A text that may hold a piece, while it is looked at.
    pub brought: Option<Rc<str>>,
    /// An address whose sizes wait for the layout or pattern that they are of.
    pub(super) visit: Option<String>,
    /// Another saw or file came before all layouts that parts follow: those parts are still to follow it.
    pub(super) owed: bool,
    pub(super) history: History,
    /// Steps made before patches can be.
    pub(super) early: Early,
    /// What the newest undo step is about, so that a word typed is one step.
    pub(super) topic: Option<String>,
    /// Everything the device keeps has been read; until then what needs it waits.
    pub(super) whole: bool,
    /// A pattern that was changed before it could become a piece.
    pub(super) unkept: Option<&'static str>,
    pub(super) ids: Ids,
    /// What happened that nobody asked for.
    pub said: Option<&'static str>,
    /// Changes not yet handed over to be kept.
    out: Out,
}

impl Store {
    /// With all that is kept.
    #[cfg(any(test, feature = "ssr"))]
    pub fn new(bench: Bench, route: Route) -> Store {
        Store::with(bench, route, true)
    }
    fn with(bench: Bench, route: Route, whole: bool) -> Store {
        let mut store = Store {
            bench: Rc::new(bench),
            route,
            visits: 0,
            shown: None,
            boards: Boards::default(),
            late: Late::default(),
            waiting: Vec::new(),
            brought: None,
            visit: None,
            owed: false,
            history: History::default(),
            early: Early::default(),
            topic: None,
            whole,
            unkept: None,
            ids: Ids::default(),
            said: None,
            out: Rc::default(),
        };
        store.derive();
        store
    }
    /// With what is read first: all but pieces, parts and rack. `bench` differs from `read` by what the start changed.
    pub fn beginning(read: &Bench, bench: Bench, route: Route) -> Store {
        let store = Store::with(bench, route, false);
        if !are_alike(read, &store.bench) {
            store.hand_out(Rc::new(read.clone()));
        }
        store
    }
    pub fn can_undo(&self) -> bool {
        self.history.can_undo() || self.early.can_undo()
    }
    pub fn can_redo(&self) -> bool {
        self.history.can_redo() || self.early.can_redo()
    }
    pub fn history(&self) -> &History {
        &self.history
    }
    /// Whether something waits for a part that has not come.
    pub fn waits(&self) -> bool {
        !self.waiting.is_empty()
    }
    /// Whether all that the device keeps has been read.
    pub fn is_whole(&self) -> bool {
        self.whole
    }
    /// Where what changes here waits to be kept.
    pub fn out(&self) -> &Out {
        &self.out
    }
    fn hand_out(&self, before: Rc<Bench>) {
        self.out.borrow_mut().push([before, self.bench.clone()]);
    }
    /// The draft of a layout: the kept one, or the first visit's.
    pub fn draft(&self, layout: &str) -> Option<Draft> {
        let layout = patterns::asked(layout)?;
        match self.bench.draft(layout.id()).filter(|d| d.form().is_some()) {
            Some(d) => Some(d.clone()),
            None => {
                let form = layout.forms().first()?;
                Some(Draft::fresh(layout, form, self.bench.shop.unit))
            }
        }
    }

    /// The answers that a draft's screen shows, if they are to what stands in its fields.
    fn answers(&self, draft: &Draft) -> Option<&Answers> {
        let (of, shown) = self.shown.as_ref()?;
        let all = &shown.now.solved;
        let one = all.get(draft.way.unwrap_or(0)).or(all.first())?;
        (*of == draft.layout).then_some(&one.solution.answers)
    }

    /// The one place that changes state.
    pub fn apply(&mut self, edit: Edit) {
        self.visits += u32::from(matches!(edit, Edit::Visit(_)));
        let edit = match edit {
            Edit::Visit(fragment) => self.visited(fragment),
            edit => edit,
        };
        self.tell_early();
        let before = self.bench.clone();
        match edit {
            Edit::Bring(text) => {
                self.route = Route::Open;
                self.topic = None;
                self.brought = Some(text);
            }
            Edit::Go(route) => {
                self.route = route;
                // The address follows what was brought.
                self.brought.take_if(|_| route != Route::Open);
                self.topic = None;
                if let Route::Layout(id) = route
                    && self.kept(id).is_some()
                {
                    // A new piece is started, beside the one that was looked at last.
                    self.change(|bench| {
                        bench.work.part_ways(id);
                        bench.drafts.retain(|d| d.layout != id);
                    });
                }
            }
            Edit::Undo => self.take(true),
            Edit::Redo => self.take(false),
            Edit::Hush => {
                self.said = None;
                return;
            }
            Edit::Read(read) => self.read(*read),
            // Looking at another way, being remembered and being kept on top are not steps to undo.
            Edit::Way { layout, way } => {
                if let Some(mut draft) = self.draft(layout) {
                    draft.way = Some(way);
                    self.change(|bench| bench.put_followed(draft));
                }
            }
            Edit::Remember { layout, at_ms, pinned, left } => {
                self.remember(layout, at_ms, pinned, left)
            }
            Edit::Pin(i) => self.change(|bench| {
                if let Some(r) = bench.recent.get_mut(i) {
                    r.pinned = !r.pinned;
                }
            }),
            Edit::Elsewhere(bench) => {
                self.topic = None;
                self.bench = bench;
            }
            // Nothing else that is shown comes from these.
            Edit::Heard(said) => return self.hear(said),
            Edit::Beside(pieces) => self.boards.beside = pieces,
            Edit::TryPlanner => return self.boards.try_again(),
            Edit::StopPlanning => return self.boards.stop(),
            Edit::Late(part, coming) => {
                self.late.set(part, coming);
                if self.late.has_layouts() && std::mem::take(&mut self.owed) {
                    self.follow_all();
                }
                self.go_on();
                let visit = self.visit.take_if(|_| !self.route.is_to_come());
                if let Some(there) = visit.filter(|v| Route::of_fragment(v) == self.route) {
                    self.apply(Edit::Visit(there));
                }
            }
            edit @ (Edit::Work(_) | Edit::Keep { .. } | Edit::Example(_)) if !self.has_desk() => {
                self.waiting.push(edit);
            }
            // A run takes its steps back by itself, after a reload, too.
            Edit::Work(edit) if edit.is_of_run() => self.work(edit),
            edit => {
                let topic = topic(&edit);
                self.step(edit);
                self.note(topic, before);
            }
        }
        self.derive();
    }

    pub(super) fn work(&mut self, edit: WorkEdit) {
        if let Some(desk) = desk() {
            self.change(|bench| (desk.apply)(&mut bench.work, edit, &bench.shop));
        }
    }

    pub(super) fn change(&mut self, f: impl FnOnce(&mut Bench)) {
        let before = self.bench.clone();
        let bench = Rc::make_mut(&mut self.bench);
        f(bench);
        bench.work.set_ids(self.ids);
        self.hand_out(before);
    }

    fn step(&mut self, edit: Edit) {
        match edit {
            Edit::Keep { pattern, face } => self.keep(pattern, face),
            Edit::Example(i) => self.add(WorkEdit::OpenExample(i), Face::Piece),
            Edit::Type { layout, key, text, unit } => {
                if let Some(mut draft) = self.draft(layout) {
                    draft.set(&key, &text, unit);
                    self.put_changed(draft);
                }
            }
            Edit::Form { layout, form } => {
                let form =
                    patterns::asked(layout).and_then(|l| l.forms().iter().find(|f| f.id == form));
                let draft = self.draft(layout);
                if let (Some(form), Some(draft)) = (form, draft)
                    && let Some(draft) = draft.in_form(form, &self.bench.shop, self.answers(&draft))
                {
                    self.put_changed(draft);
                }
            }
            Edit::Give { layout, key } => {
                if let Some(mut draft) = self.draft(layout) {
                    draft.give = Some(key);
                    self.change(|bench| bench.put(draft));
                }
            }
            Edit::Turn(layout) => {
                if let Some(draft) = self.draft(layout).and_then(|d| d.turned()) {
                    self.put_changed(draft);
                }
            }
            Edit::Fresh(layout) => {
                let unit = self.bench.shop.unit;
                let form = self.draft(layout).and_then(|d| d.form());
                if let (Some(layout), Some(form)) = (patterns::asked(layout), form) {
                    let draft = Draft::fresh(layout, form, unit);
                    let own = self.kept(layout.id()).is_some();
                    self.change(|bench| match own {
                        true => bench.put_followed(draft),
                        false => {
                            bench.work.part_ways(&draft.layout);
                            bench.put(draft);
                        }
                    });
                }
            }
            Edit::Open(draft) => {
                self.route = Route::of_fragment(&draft.layout);
                self.change(|bench| {
                    bench.work.part_ways(&draft.layout);
                    bench.put(draft);
                });
            }
            Edit::Forget(i) => self.change(|bench| {
                if i < bench.recent.len() {
                    bench.recent.remove(i);
                }
            }),
            Edit::Line { index, text } => self.change(|bench| {
                while bench.lengths.len() <= index {
                    bench.lengths.push(String::new());
                }
                bench.lengths[index] = text;
                while bench.lengths.last().is_some_and(String::is_empty) {
                    bench.lengths.pop();
                }
            }),
            Edit::Shop(shop) => {
                self.change(|bench| bench.shop = *shop);
                self.follow_all();
            }
            Edit::Import(bench) => {
                self.change(|now| *now = *bench);
                self.follow_all();
            }
            Edit::Work(edit) => self.work(edit),
            Edit::TakeUp(source) => {
                if let Some(draft) = self.take_up(source) {
                    let own = self.kept(&draft.layout).map(|s| Route::Piece(s.piece, Face::Piece));
                    self.route = own.unwrap_or_else(|| Route::of_fragment(&draft.layout));
                }
            }
            Edit::Go(_)
            | Edit::Bring(_)
            | Edit::Visit(_)
            | Edit::Undo
            | Edit::Redo
            | Edit::Hush
            | Edit::Read(_)
            | Edit::Way { .. }
            | Edit::Remember { .. }
            | Edit::Pin(_)
            | Edit::Elsewhere(_)
            | Edit::Beside(_)
            | Edit::Heard(_)
            | Edit::StopPlanning
            | Edit::TryPlanner
            | Edit::Late(..) => {}
        }
    }

    fn hear(&mut self, said: Said) {
        if let Some(desk) = desk() {
            (desk.hear)(&mut self.boards, said);
            if self.boards.beside.is_some() {
                (desk.follow)(&mut self.boards, &self.bench);
            }
        }
        self.take_plan();
    }

    /// Has the boards planned where they are looked at, and what a run has skipped wherever the maker is.
    fn follow(&mut self) {
        let run = self.bench.work.begun.as_ref();
        let looks = self.boards.at(self.route, run.is_some());
        if (self.whole && looks || run.is_some_and(|r| r.open().is_some()))
            && let Some(desk) = desk()
        {
            (desk.follow)(&mut self.boards, &self.bench);
        }
    }

    /// The run takes in where that is cut now.
    fn take_plan(&mut self) {
        let taken = desk().and_then(|desk| (desk.taking)(&self.boards, &self.bench));
        if let Some(edit) = taken {
            self.work(edit);
            self.follow();
        }
    }

    /// Solves the layout on screen; the last good answer is kept beside a failed one.
    fn derive(&mut self) {
        self.route = self.settled(self.route);
        self.follow();
        self.take_plan();
        let Some(id) = self.on_screen() else {
            self.shown = None;
            return;
        };
        let Some(draft) = self.draft(id) else {
            self.shown = None;
            return;
        };
        let now = Rc::new(answer(&draft, &self.bench.shop));
        let good = if now.is_good() {
            Some(now.clone())
        } else {
            self.shown
                .as_ref()
                .filter(|(of, s)| *of == id && same_form(s, &draft))
                .and_then(|(_, s)| s.good.clone())
        };
        self.shown = Some((id, Rc::new(ShownAnswer { now, good })));
    }
}

/// Edits of one topic in a row are one step of undo.
fn topic(edit: &Edit) -> Option<String> {
    match edit {
        Edit::Type { layout, key, .. } => Some(format!("{layout}.{key}")),
        Edit::Line { index, .. } => Some(format!("line.{index}")),
        Edit::Shop(_) => Some("shop".to_owned()),
        Edit::Work(edit) => edit.topic(),
        _ => None,
    }
}

impl Reducible for Store {
    type Action = Edit;

    fn reduce(self: Rc<Self>, edit: Edit) -> Rc<Self> {
        let mut next = (*self).clone();
        next.apply(edit);
        Rc::new(next)
    }
}
