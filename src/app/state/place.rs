//! Where the maker is among the pieces: which one is on screen, when a pattern becomes one, how a place is called.

use super::{Edit, Face, Route, Store};
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Source, WorkEdit, from_link};

impl Store {
    /// The address says another place, or brings a draft or a piece.
    pub(super) fn visited(&mut self, fragment: String) -> Edit {
        if let Some(draft) = from_link(&fragment, self.bench.shop.unit)
            && fragment.contains('?')
        {
            return Edit::Open(draft);
        }
        let route = self.settled(Route::of_fragment(&fragment));
        if route == Route::Open && fragment.contains('?') {
            return Edit::Bring(fragment.into());
        }
        self.visit = Some(fragment).filter(|_| route.is_to_come());
        Edit::Go(route)
    }

    /// The source that is a piece's pattern, where this pattern's screen feeds one.
    pub(super) fn kept(&self, pattern: &str) -> Option<&Source> {
        let source = self.bench.work.live(pattern)?;
        let of = self.bench.work.piece(source.piece)?;
        (of.pattern == Some(source.id)).then_some(source)
    }

    /// The draft was changed on its screen. A pattern that is changed is a piece of the maker's from then on.
    pub(super) fn put_changed(&mut self, draft: Draft) {
        let pattern = patterns::name(&draft.layout).filter(|id| patterns::IDS.contains(id));
        self.change(|bench| bench.put_followed(draft));
        if let Some(pattern) = pattern.filter(|id| self.route == Route::Layout(id)) {
            match self.has_desk() {
                true => self.keep(Some(pattern), Face::Piece),
                false => self.unkept = Some(pattern),
            }
        }
    }

    /// Makes a piece, of a pattern's draft if one is named.
    pub(super) fn keep(&mut self, pattern: Option<&'static str>, face: Face) {
        let pattern = pattern.and_then(|id| self.draft(id));
        self.add(WorkEdit::AddPiece { pattern }, face);
    }

    /// Looks at the piece that this adds.
    pub(super) fn add(&mut self, edit: WorkEdit, face: Face) {
        let id = self.bench.work.next_piece();
        self.work(edit);
        if self.bench.work.piece(id).is_some() {
            self.route = Route::Piece(id, face);
        }
    }

    pub(super) fn take_up(&mut self, source: u32) -> Option<Draft> {
        let mut taken = None;
        self.change(|bench| {
            taken = bench.work.take_up(source);
            if let Some(draft) = &taken {
                bench.put(draft.clone());
            }
        });
        taken
    }

    /// All parts that follow a layout follow it anew; those whose layout has not come, when it has.
    pub(super) fn follow_all(&mut self) {
        self.owed = !self.late.has_layouts();
        self.change(|bench| bench.work.follow_all(&bench.shop));
    }

    /// A place that there is: a piece that has gone is its pattern again, or the bench.
    pub(super) fn settled(&self, route: Route) -> Route {
        match (route, &self.shown) {
            (Route::Piece(id, _), _) if self.bench.work.piece(id).is_some() || !self.is_whole() => {
                route
            }
            (Route::Piece(..), Some((layout, _))) if self.route == route => Route::Layout(layout),
            (Route::Piece(..), _) => Route::Bench,
            // The step under the keypad with which a pattern became the piece on screen.
            (Route::Layout(id), Some((layout, _)))
                if id == *layout && matches!(self.route, Route::Piece(..)) =>
            {
                self.route
            }
            _ => route,
        }
    }

    /// The layout whose form is on screen. What is typed there is the piece's that is looked at.
    pub(super) fn on_screen(&mut self) -> Option<&'static str> {
        let id = match self.route {
            Route::Layout(id) => return Some(id),
            Route::Piece(id, Face::Piece) => id,
            _ => return None,
        };
        let source = self.bench.work.pattern(id)?;
        let (source, layout, live) =
            (source.id, patterns::name(&source.draft.layout)?, source.live);
        if !live || self.bench.draft(layout).is_none() {
            self.take_up(source);
        }
        Some(layout)
    }

    /// What the page is called: in tabs, bookmarks and the history.
    pub fn title(&self) -> String {
        let name = match self.route {
            Route::Bench => return "Offsquare".to_owned(),
            Route::Layout(id) => patterns::question(id).unwrap_or("Piece").to_owned(),
            Route::Piece(id, face) => {
                let piece = self.bench.work.piece(id).map(|p| p.called()).unwrap_or_default();
                match face {
                    Face::Piece => piece,
                    face => format!("{} \u{b7} {piece}", face.word()),
                }
            }
            Route::Shop => "Shop".to_owned(),
            Route::Rack => "Rack".to_owned(),
            Route::Open => "Open a link or file".to_owned(),
        };
        format!("{name} \u{b7} Offsquare")
    }
}
