//! Places, as fragments of the address: static hosts need no rewrite rules.
//!
//! A sheet makes a step in the history, so that the phone's back button takes the sheet and not the screen; the keypad
//! makes one, too.

use offsquare_cuts::layouts;
use offsquare_work::patterns;

/// Where the maker is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Route {
    #[default]
    Bench,
    /// A layout or a pattern, by its id.
    Layout(&'static str),
    Shop,
    /// The parts list.
    Parts,
    /// What to buy and how each board is cut.
    Boards,
    /// Stock, lengths and prices, boards on hand.
    Rack,
}

impl Route {
    /// Reads a fragment: `#/brace?…`, `#/shop`; anything else is the bench.
    pub fn of_fragment(fragment: &str) -> Route {
        let path = fragment.trim_start_matches('#').trim_start_matches('/');
        let name = path.split('?').next().unwrap_or_default();
        match name {
            "shop" => Route::Shop,
            "parts" => Route::Parts,
            "boards" => Route::Boards,
            "rack" => Route::Rack,
            name => patterns::name(name)
                .filter(|id| layouts::named(id).is_none_or(|n| n.has_screen))
                .map_or(Route::Bench, Route::Layout),
        }
    }
    /// It leads to a layout or pattern that has not come yet.
    pub fn is_to_come(self) -> bool {
        matches!(self, Route::Layout(id) if patterns::asked(id).is_none())
    }
    /// The page's title: what tabs, bookmarks and the history show.
    pub fn title(self) -> String {
        let name = match self {
            Route::Bench => return "Offsquare".to_owned(),
            Route::Layout(id) => patterns::question(id).unwrap_or("Piece"),
            Route::Shop => "Shop",
            Route::Parts => "Parts",
            Route::Boards => "Boards",
            Route::Rack => "Rack",
        };
        format!("{name} \u{b7} Offsquare")
    }
    pub fn fragment(self) -> String {
        match self {
            Route::Bench => "#/".to_owned(),
            Route::Layout(id) => format!("#/{id}"),
            Route::Shop => "#/shop".to_owned(),
            Route::Parts => "#/parts".to_owned(),
            Route::Boards => "#/boards".to_owned(),
            Route::Rack => "#/rack".to_owned(),
        }
    }
}
