//! Steps back and forth, and what is done once all that is kept has been read.

use super::early::{Early, lead};
use super::store::{Edit, Read, Store};
use super::{Face, Route, desk};
use offsquare_work::piece::Draft;
use offsquare_work::save::{Bench, Clashes};
use std::rc::Rc;

const OTHERS_STAY: &str =
    "Part of this step was changed again in another tab since; that part stays as it is.";

impl Store {
    /// A step to undo, unless nothing was changed.
    pub(super) fn note(&mut self, topic: Option<String>, before: Rc<Bench>) {
        let goes_on = topic.is_some() && topic == self.topic;
        let stands = match desk() {
            Some(desk) => (desk.note)(&mut self.history, &before, &self.bench, goes_on),
            None => self.early.note([before, self.bench.clone()], goes_on),
        };
        if let Some(stands) = stands {
            self.topic = topic.filter(|_| stands);
        }
    }

    /// Back over a step, or forth: what another tab changed of it stays.
    pub(super) fn take(&mut self, back: bool) {
        let mut clashes = Clashes::default();
        match desk() {
            Some(desk) => {
                let mut history = std::mem::take(&mut self.history);
                self.change(|bench| clashes = (desk.take)(&mut history, bench, back));
                self.history = history;
            }
            None => {
                if let Some(step) = self.early.take(back) {
                    self.change(|bench| lead(bench, &step));
                }
            }
        }
        self.said = (clashes.left > 0).then_some(OTHERS_STAY);
        self.topic = None;
    }

    /// Turns early steps into ordinary ones once patches can be made.
    pub(super) fn tell_early(&mut self) {
        if let Some(desk) = desk().filter(|_| !self.early.steps.is_empty()) {
            let Early { steps, at } = std::mem::take(&mut self.early);
            for [before, after] in &steps {
                (desk.note)(&mut self.history, before, after, false);
            }
            self.history.at = self.history.at.saturating_sub(steps.len() - at);
        }
    }

    pub(super) fn read(&mut self, read: Read) {
        self.whole = true;
        self.ids = read.ids;
        self.topic = None;
        self.history = std::mem::take(&mut self.history).after(read.history);
        self.bench = Rc::new(read.bench);
        // Parts follow what was typed before they came.
        let typed = |d: &&Draft| {
            let live = self.bench.work.live(&d.layout).map(|s| &s.draft);
            live.is_some_and(|l| (&l.form, &l.typed, l.way) != (&d.form, &d.typed, d.way))
        };
        let all: Vec<Draft> = self.bench.drafts.iter().filter(typed).cloned().collect();
        for draft in all {
            self.change(|bench| bench.put_followed(draft));
        }
        self.go_on();
    }

    /// Whether parts, rack and boards can be changed: their code has loaded and they have been read.
    pub(super) fn has_desk(&self) -> bool {
        self.whole && desk().is_some()
    }

    /// What waited is done.
    pub(super) fn go_on(&mut self) {
        if self.has_desk() {
            let pattern = self.unkept.take().filter(|id| self.route == Route::Layout(id));
            if let Some(id) = pattern.filter(|id| self.kept(id).is_none()) {
                self.apply(Edit::Keep { pattern: Some(id), face: Face::Piece });
            }
            for edit in std::mem::take(&mut self.waiting) {
                self.apply(edit);
            }
        }
    }
}
