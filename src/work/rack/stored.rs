//! How the rack is stored.

use super::{By, Owned, Rack, Sold, Stock};
use offsquare_units::Length;
use offsquare_units::num::Gather;
use offsquare_units::record::{Record, Stored};

const BY: [&str; 4] = ["piece", "foot", "meter", "board_foot"];
const ALL_BY: [By; 4] = [By::Piece, By::Foot, By::Meter, By::BoardFoot];

/// A stretch of a board.
#[derive(Default)]
struct Stretch {
    from: f64,
    to: f64,
}

impl Stored for Stretch {
    fn fields(&mut self, r: &mut Record) {
        r.number("from", &mut self.from);
        r.number("to", &mut self.to);
    }
}

impl Stored for Sold {
    fn fields(&mut self, r: &mut Record) {
        r.number("length", &mut self.length.0);
        r.integer("price", &mut self.price.0);
        let mut left = self.left.map(f64::from);
        r.maybe("left", &mut left);
        self.left = left.map(|n| n.clamp(0.0, 10_000.0) as u32);
        r.number("over", &mut self.over.0);
    }
}

impl Stored for Owned {
    fn fields(&mut self, r: &mut Record) {
        r.number("length", &mut self.length.0);
        let mut width = self.width.map(|w| w.0);
        r.maybe("width", &mut width);
        self.width = width.map(Length);
        r.whole("count", &mut self.count);
        let mut bad: Vec<Stretch> =
            self.bad.iter().map(|(from, to)| Stretch { from: from.0, to: to.0 }).gather();
        r.rows("bad", &mut bad);
        self.bad = bad.iter().map(|s| (Length(s.from), Length(s.to))).gather();
        r.number("trim_left", &mut self.trim_left.0);
        r.number("trim_right", &mut self.trim_right.0);
        r.text("note", &mut self.note);
    }
}

impl Stored for Stock {
    fn fields(&mut self, r: &mut Record) {
        r.whole("id", &mut self.id);
        r.text("name", &mut self.name);
        let (mut t, mut w) = (self.nominal.map(|n| n.0), self.nominal.map(|n| n.1));
        r.maybe("nominal_thickness", &mut t);
        r.maybe("nominal_width", &mut w);
        self.nominal = t.zip(w);
        r.number("thickness", &mut self.thickness.0);
        r.number("width", &mut self.width.0);
        r.flag("sheet", &mut self.sheet);
        r.number("trim_left", &mut self.trim_left.0);
        r.number("trim_right", &mut self.trim_right.0);
        let mut by = ALL_BY.iter().position(|b| *b == self.by).unwrap_or(0);
        r.pick("by", &mut by, &BY);
        self.by = ALL_BY[by];
        r.integer("rate", &mut self.rate.0);
        r.flag("taxed", &mut self.taxed);
        r.rows("sold", &mut self.sold);
        r.rows("owned", &mut self.owned);
        r.flag("sample", &mut self.sample);
    }
}

impl Stored for Rack {
    fn fields(&mut self, r: &mut Record) {
        r.rows("stocks", &mut self.stocks);
        r.whole("tax", &mut self.tax);
        r.number("keep", &mut self.keep.0);
        let mut trim = self.trim.map(|l| l.0);
        r.maybe("trim", &mut trim);
        self.trim = trim.map(Length);
    }
}
