//! A layout that parts of the list come from.

use super::draft::Draft;
use super::made::LOOSE;

/// A layout that entries come from, with its inputs.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    pub id: u32,
    /// The piece that its parts belong to.
    pub piece: u32,
    pub draft: Draft,
    /// The layout's screen shows this draft now: what is typed there is followed here.
    pub live: bool,
    /// Parts (name, and which of that name) that the maker took off the list.
    pub off: Vec<(String, usize)>,
}

impl Default for Source {
    /// A source without a layout: what a broken row of a file becomes before it is set aside.
    fn default() -> Source {
        Source {
            id: 0,
            piece: LOOSE,
            draft: Draft {
                layout: String::new(),
                form: String::new(),
                typed: Vec::new(),
                way: None,
                give: None,
                others: Vec::new(),
                touched: false,
            },
            live: false,
            off: Vec::new(),
        }
    }
}
