//! The register: every layout there is, and what is known of one before it is here.
//!
//! In the browser only those that are asked first come with the first answer. Of the others no more is named by what
//! has to be there at once than their [`Name`]: whoever asks [`all`] or [`find`] has all of them.

use super::{Declared, Layout};

/// What is known of a layout that has not come yet.
pub struct Name {
    pub id: &'static str,
    /// As the bench asks it.
    pub question: &'static str,
    /// Words by which a search finds it.
    pub search_words: &'static str,
    /// Whether the bench asks it.
    pub has_screen: bool,
    /// What its answers are called.
    pub words: &'static [(&'static str, &'static str)],
    labels: [&'static str; MOST_FORMS],
}

/// The most forms that a layout has.
const MOST_FORMS: usize = 8;

impl Name {
    const fn of(layout: &Declared) -> Name {
        let mut labels = [""; MOST_FORMS];
        let mut i = 0;
        while i < layout.forms.len() {
            labels[i] = layout.forms[i].label;
            i += 1;
        }
        Name {
            id: layout.id,
            question: layout.question,
            search_words: layout.search_words,
            has_screen: layout.has_screen,
            words: layout.words,
            labels,
        }
    }
    /// What stands on its forms' buttons.
    pub fn labels(&self) -> impl Iterator<Item = &'static str> {
        self.labels.into_iter().filter(|label| !label.is_empty())
    }
}

macro_rules! register {
    ([$($first:path),*], [$($later:path),*]) => {
        static FIRST: &[&dyn Layout] = &[$(&$first),*];
        static ALL: &[&dyn Layout] = &[$(&$first,)* $(&$later),*];
        static NAMES: &[Name] = &[$(Name::of(&$first),)* $(Name::of(&$later)),*];
    };
}

// In the order of the bench: those that are here at once, then the others.
register!(
    [super::brace::BRACE, super::post_legs::POST_LEGS, super::end_board::END_BOARD],
    [
        super::leg_shim::LEG_SHIM,
        super::two_way_splay::TWO_WAY_SPLAY,
        super::bracket::BRACKET,
        super::mitred_frame::MITRED_FRAME,
        super::sloped_box::SLOPED_BOX,
        super::fold_down::FOLD_DOWN,
        super::spacing::SPACING,
        super::marks::MARKS,
        super::three_measures::THREE_MEASURES,
        super::glued_panel::GLUED_PANEL,
        super::half_lap::HALF_LAP,
        super::molding::MOLDING
    ]
);

/// Those that are here at once.
pub fn first() -> &'static [&'static dyn Layout] {
    FIRST
}

#[inline(never)]
pub fn all() -> &'static [&'static dyn Layout] {
    ALL
}

/// The layout of that id.
pub fn find(id: &str) -> Option<&'static dyn Layout> {
    all().iter().copied().find(|l| l.id() == id)
}

/// What is known of all of them, in the order of the bench.
pub fn names() -> &'static [Name] {
    NAMES
}

/// What is known of the layout of that id.
pub fn named(id: &str) -> Option<&'static Name> {
    NAMES.iter().find(|n| n.id == id)
}
