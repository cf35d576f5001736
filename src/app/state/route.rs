//! Places, as fragments of the address: static hosts need no rewrite rules.
//!
//! A sheet makes a step in the history, so that the phone's back button takes the sheet and not the screen; the keypad
//! makes one, too.

use offsquare_cuts::layouts;
use offsquare_work::patterns;
use offsquare_work::piece::LOOSE;

/// Where the maker is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Route {
    #[default]
    Bench,
    /// A layout, or a pattern that is no piece yet, by its id.
    Layout(&'static str),
    /// A piece, by its id: one place with several faces.
    Piece(u32, Face),
    Shop,
    /// Stock, lengths and prices, boards on hand.
    Rack,
}

/// What is looked at of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Face {
    /// Its drawing with its sizes.
    #[default]
    Piece,
    Parts,
    /// What to buy and how each board is cut.
    Boards,
    /// Cut by cut, at the saw.
    Saw,
}

impl Face {
    /// In the order of the bar.
    pub const ALL: [Face; 4] = [Face::Piece, Face::Parts, Face::Boards, Face::Saw];

    pub fn word(self) -> &'static str {
        match self {
            Face::Piece => "Piece",
            Face::Parts => "Parts",
            Face::Boards => "Boards",
            Face::Saw => "Saw",
        }
    }
    /// For the tests of the page.
    pub fn test(self) -> &'static str {
        match self {
            Face::Piece => "face-piece",
            Face::Parts => "face-parts",
            Face::Boards => "face-boards",
            Face::Saw => "face-saw",
        }
    }
    /// In the address.
    pub fn key(self) -> &'static str {
        match self {
            Face::Piece => "",
            Face::Parts => "parts",
            Face::Boards => "boards",
            Face::Saw => "saw",
        }
    }
}

impl Route {
    /// Reads a fragment: `#/brace?…`, `#/piece/3/parts`, `#/shop`; `#/parts` and `#/boards` are those of *Loose parts*;
    /// anything else is the bench.
    pub fn of_fragment(fragment: &str) -> Route {
        let path = fragment.trim_start_matches('#').trim_start_matches('/');
        let mut steps = path.split('?').next().unwrap_or_default().split('/');
        let face = |key: &str| Face::ALL.into_iter().find(|f| f.key() == key);
        match steps.next().unwrap_or_default() {
            "shop" => Route::Shop,
            "rack" => Route::Rack,
            "piece" => {
                let id = steps.next().and_then(|id| id.parse().ok());
                let face = face(steps.next().unwrap_or_default());
                id.zip(face).map_or(Route::Bench, |(id, face)| Route::Piece(id, face))
            }
            name => match face(name) {
                Some(face) if face != Face::Piece => Route::Piece(LOOSE, face),
                _ => patterns::name(name)
                    .filter(|id| layouts::named(id).is_none_or(|n| n.has_screen))
                    .map_or(Route::Bench, Route::Layout),
            },
        }
    }
    /// It leads to a layout or pattern that has not come yet.
    pub fn is_to_come(self) -> bool {
        matches!(self, Route::Layout(id) if patterns::asked(id).is_none())
    }
    pub fn fragment(self) -> String {
        match self {
            Route::Bench => "#/".to_owned(),
            Route::Layout(id) => format!("#/{id}"),
            Route::Piece(id, Face::Piece) => format!("#/piece/{id}"),
            Route::Piece(id, face) => format!("#/piece/{id}/{}", face.key()),
            Route::Shop => "#/shop".to_owned(),
            Route::Rack => "#/rack".to_owned(),
        }
    }
}
