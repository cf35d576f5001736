//! What is asked for a price: the forms, their blanks, and the lists of a piece that they fill.

use super::filled::{Ask, Filled, Form, Reads};
use crate::rack::Blank;
use offsquare_units::Currency;
use offsquare_units::record::{Record, Stored};

/// Most lines of one list.
pub const MOST_LINES: usize = 200;

/// What a maker may have usual figures for, and other ones for a piece.
const SHARED: &[Ask] = &[
    Ask::one_of(
        "overhead_by",
        "Overhead is",
        &[("share", "A share of cost"), ("hour", "So much an hour")],
    ),
    Ask::typed("overhead", "Overhead", "empty: none", Reads::PercentOr("overhead_by", "hour")),
    Ask::typed(
        "fee_percent",
        "Fee of a sale, %",
        "of the selling place; empty: none",
        Reads::Below(100),
    ),
    Ask::typed("fee_fixed", "Fee of a sale, fixed", "", Reads::Price),
    Ask::typed("stall", "Cost of a selling day", "stall and road; empty: none", Reads::Price),
    Ask::typed("end_step", "Asked prices step by", "5 for 5, 10, 15", Reads::Price),
    Ask::typed("end_at", "and end at", "4.95 for 4.95, 9.95", Reads::Price),
    Ask::typed("retail", "Retail is wholesale times", "your factor", Reads::MoreThanNone),
    Ask::typed("deposit", "Deposit, %", "of the asked price", Reads::Below(101)),
];

const OF_RATES: &[Ask] = &[
    Ask::typed("rate", "An hour of my work", "in every piece", Reads::Price),
    Ask::typed("saw_change", "One change of the saw, min", "as you work", Reads::Number),
    Ask::typed("saw_cut", "One cut, min", "with marking and carrying", Reads::Number),
];

const OF_MONEY: &[Ask] = &[
    Ask::typed("sign", "Sign of my money", "empty: the dollar sign", Reads::Sign),
    Ask::one_of("place", "The sign stands", &[("before", "Before"), ("after", "Behind")]),
    Ask::one_of("decimals", "Decimals", &[("2", "2"), ("0", "None"), ("3", "3")]),
];

const OF_TERMS: &[Ask] = &[
    Ask::one_of(
        "want_by",
        "I want",
        &[("profit", "A profit"), ("margin", "A margin"), ("markup", "A markup")],
    ),
    Ask::typed("want", "How much of one sale", "", Reads::PercentOr("want_by", "profit")),
    Ask::one_of("sold_as", "Sold as", &[("each", "Each"), ("pair", "A pair"), ("set", "A set")]),
    Ask::typed("set_of", "Pieces in a set", "", Reads::Count(1, 1_000)),
    Ask::one_of("basis", "Materials count", &[("used", "As used"), ("bought", "As bought")]),
    Ask::typed(
        "wood_bought",
        "Boards, by hand",
        "of the whole batch; empty: from the plan",
        Reads::Price,
    ),
    Ask::typed("wood_kept", "of that, left over", "what the leftovers are worth", Reads::Price),
];

const OF_HARDWARE: &[Ask] = &[
    Ask::typed("name", "Name", "", Reads::Words(60)),
    Ask::typed("per_piece", "For one piece", "how many, or how long", Reads::Number),
    Ask::typed("pack", "In a pack", "as many, or as long", Reads::MoreThanNone),
    Ask::typed("pack_price", "A pack costs", "", Reads::Price),
];

const OF_FINISH: &[Ask] = &[
    Ask::typed("name", "Name", "", Reads::Words(60)),
    Ask::typed("coats", "Coats", "", Reads::Number),
    Ask::typed("covers", "A can covers", "once", Reads::MoreThanNone),
    Ask::one_of("covers_in", "in", &[("ft2", "Square feet"), ("m2", "Square meters")]),
    Ask::typed("can_price", "A can costs", "", Reads::Price),
    Ask::typed("area", "Area of a piece", "empty: all faces of its parts", Reads::Number),
];

const OF_STEP: &[Ask] = &[
    Ask::typed("name", "Name", "", Reads::Words(60)),
    Ask::typed("set_up", "Set-up, min", "once a batch", Reads::Number),
    Ask::typed("each", "A piece, min", "", Reads::Number),
];

const OF_SEEN: &[Ask] = &[
    Ask::typed("low", "From", "", Reads::Price),
    Ask::typed("high", "to", "empty: one price", Reads::Price),
    Ask::typed("place", "Where", "", Reads::Words(60)),
    Ask::typed("date", "Day", "year-month-day", Reads::Date),
];

const OF_TRIED: &[Ask] = &[
    Ask::typed("date", "Day", "year-month-day", Reads::Date),
    Ask::typed("place", "Where", "", Reads::Words(60)),
    Ask::typed("asked", "Asked", "for one sale", Reads::Price),
    Ask::typed("taken", "Taken along", "sales", Reads::Count(0, 100_000)),
    Ask::typed("sold", "Sold", "sales", Reads::Count(0, 100_000)),
    Ask::typed("hours", "Hours of the day", "road and stall too", Reads::Number),
];

const OF_OPENED: &[Ask] = &[
    Ask::typed("name", "Name", "as in the piece\u{2019}s list", Reads::Words(60)),
    Ask::typed("left", "Left", "how many, or how long; of a can 1/2, 1/4", Reads::Number),
];

macro_rules! forms {
    ($($marker:ident $name:ident = $asks:expr, $doc:literal;)*) => {
        $(
            #[derive(Clone, Debug, PartialEq)]
            pub struct $marker;
            impl Form for $marker {
                const ASKS: &'static [&'static [Ask]] = &$asks;
            }
            #[doc = $doc]
            pub type $name = Filled<$marker>;
        )*
    };
}
forms! {
    OfRates Rates = [OF_RATES, SHARED, OF_MONEY], "The maker\u{2019}s usual figures, for all pieces.";
    OfTerms Terms = [OF_TERMS, SHARED], "How one piece is counted and sold.";
    OfHardware HardwareLine = [OF_HARDWARE], "A kind of hardware that comes by the pack.";
    OfFinish FinishLine = [OF_FINISH], "A finish that comes by the can.";
    OfStep StepLine = [OF_STEP], "A step of the work.";
    OfSeen SeenLine = [OF_SEEN], "What someone else asks for the like.";
    OfTried TriedLine = [OF_TRIED], "A day on which it was offered.";
    OfOpened Opened = [OF_OPENED], "A pack or a can on the shelf that is opened and not used up.";
}

impl Rates {
    pub fn currency(&self) -> Currency {
        let usual = Currency::default();
        let sign = self.text("sign").trim();
        Currency {
            sign: if sign.is_empty() { usual.sign } else { sign.to_owned() },
            after: self.text("place") == "after",
            places: self.text("decimals").parse().unwrap_or(usual.places),
        }
    }
}

/// What a piece holds for its price.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Priced {
    pub terms: Terms,
    pub hardware: Vec<HardwareLine>,
    pub finish: Vec<FinishLine>,
    pub steps: Vec<StepLine>,
    pub seen: Vec<SeenLine>,
    pub tried: Vec<TriedLine>,
}

impl Stored for Priced {
    fn fields(&mut self, r: &mut Record) {
        r.one("terms", &mut self.terms);
        r.rows("hardware", &mut self.hardware);
        r.rows("finish", &mut self.finish);
        r.rows("steps", &mut self.steps);
        r.rows("seen", &mut self.seen);
        r.rows("tried", &mut self.tried);
    }
}

/// A list of a piece, or the maker's shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum List {
    Hardware,
    Finish,
    Steps,
    Seen,
    Tried,
    /// The maker's: packs and cans that are opened.
    Shelf,
}

impl List {
    /// For names of fields.
    pub fn word(self) -> &'static str {
        match self {
            List::Hardware => "hardware",
            List::Finish => "finish",
            List::Steps => "steps",
            List::Seen => "seen",
            List::Tried => "tried",
            List::Shelf => "shelf",
        }
    }

    /// Kinds to fill in, by their usual names; one without a name is any other.
    pub fn kinds(self) -> &'static [&'static str] {
        match self {
            List::Hardware => &["Screws", "Hinges", "Hooks", "Chain", "Rope"],
            List::Finish => &["Paint", "Oil"],
            List::Steps => &["At the saw", "Putting together", "Sanding", "Finishing", "Packing"],
            List::Seen | List::Tried | List::Shelf => &[],
        }
    }

    /// The blanks of one of its lines.
    pub fn asks(self) -> &'static [&'static [Ask]] {
        match self {
            List::Hardware => OfHardware::ASKS,
            List::Finish => OfFinish::ASKS,
            List::Steps => OfStep::ASKS,
            List::Seen => OfSeen::ASKS,
            List::Tried => OfTried::ASKS,
            List::Shelf => OfOpened::ASKS,
        }
    }
}

/// Which filled-in form an edit is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PriceRow {
    /// The maker's usual figures.
    Rates,
    /// How the piece is counted and sold.
    Terms,
    Line(List, usize),
}

impl PriceRow {
    /// A blank as it is called now: what it means may hang on a pick, whose text `of` gives by its key.
    pub fn blank(ask: &Ask, of: impl Fn(&str) -> String) -> Blank {
        let Reads::PercentOr(pick, _) = ask.reads else { return ask.blank };
        let (label, help) = match &of(pick)[..] {
            "profit" => ("Profit of one sale", ""),
            "margin" => ("Margin, %", "of the asked price"),
            "markup" => ("Markup, %", "of what a sale costs"),
            "hour" => ("Overhead of an hour", "empty: none"),
            _ => ("Overhead, %", "of materials and labor; empty: none"),
        };
        Blank::number(ask.blank.key, label, help)
    }
    pub fn asks(self) -> &'static [&'static [Ask]] {
        match self {
            PriceRow::Rates => OfRates::ASKS,
            PriceRow::Terms => OfTerms::ASKS,
            PriceRow::Line(list, _) => list.asks(),
        }
    }
}

/// Any filled-in form.
pub trait AnyForm {
    fn text(&self, key: &str) -> &str;
    fn write(&mut self, key: &str, text: &str, currency: &Currency) -> Result<(), String>;
    /// Whether a text would be taken.
    fn try_write(&self, key: &str, text: &str, currency: &Currency) -> Result<(), String>;
}

impl<F: Form> AnyForm for Filled<F> {
    fn text(&self, key: &str) -> &str {
        Filled::text(self, key)
    }
    fn write(&mut self, key: &str, text: &str, currency: &Currency) -> Result<(), String> {
        Filled::write(self, key, text, currency)
    }
    fn try_write(&self, key: &str, text: &str, currency: &Currency) -> Result<(), String> {
        self.clone().write(key, text, currency)
    }
}

/// A list whose lines are filled-in forms.
pub trait Lines {
    fn line(&self, at: usize) -> Option<&dyn AnyForm>;
    fn line_mut(&mut self, at: usize) -> Option<&mut dyn AnyForm>;
    fn count(&self) -> usize;
    /// Adds a line, with one text put in.
    fn add(&mut self, key: &str, text: &str);
    fn remove(&mut self, at: usize);
}

impl<F: Form> Lines for Vec<Filled<F>> {
    fn line(&self, at: usize) -> Option<&dyn AnyForm> {
        self.get(at).map(|line| line as &dyn AnyForm)
    }
    fn line_mut(&mut self, at: usize) -> Option<&mut dyn AnyForm> {
        self.get_mut(at).map(|line| line as &mut dyn AnyForm)
    }
    fn count(&self) -> usize {
        Vec::len(self)
    }
    fn add(&mut self, key: &str, text: &str) {
        if Vec::len(self) < MOST_LINES {
            self.push(Filled::with(key, text));
        }
    }
    fn remove(&mut self, at: usize) {
        if at < Vec::len(self) {
            Vec::remove(self, at);
        }
    }
}

impl Priced {
    /// None for the maker's own.
    pub fn list(&self, list: List) -> Option<&dyn Lines> {
        Some(match list {
            List::Hardware => &self.hardware,
            List::Finish => &self.finish,
            List::Steps => &self.steps,
            List::Seen => &self.seen,
            List::Tried => &self.tried,
            List::Shelf => return None,
        })
    }
    pub fn list_mut(&mut self, list: List) -> Option<&mut dyn Lines> {
        Some(match list {
            List::Hardware => &mut self.hardware,
            List::Finish => &mut self.finish,
            List::Steps => &mut self.steps,
            List::Seen => &mut self.seen,
            List::Tried => &mut self.tried,
            List::Shelf => return None,
        })
    }
}
