//! A piece's price: its forms changed, and what is known of its boards and of its faces.

use super::edit::WorkEdit;
use super::follow::chosen;
use super::made::{Piece, with_changes};
use super::shop::Shop;
use super::work::Work;
use crate::cutlist::{Entry, Jobs, Planned, Summary, yard_length};
use crate::price::{
    AnyForm, Boards, Exact, Figures, Filled, Lines, List, Made, PriceRow, Wood, decimal, figure,
    figures, of_money, whole,
};
use crate::rack::Stock;
use crate::solved::{EndCut, PiecePart, weigh};
use offsquare_units::num::Gather;
use offsquare_units::{Currency, Style};

/// Largest divisor that stays a fraction where a rest is put on the shelf.
const PLAIN_DIVISOR: u64 = 64;

impl Work {
    /// The filled-in form that an edit is about.
    fn price_row(&self, piece: u32, row: PriceRow) -> Option<&dyn AnyForm> {
        match row {
            PriceRow::Rates => Some(&self.rates),
            PriceRow::Terms => Some(&self.piece(piece)?.priced.terms),
            PriceRow::Line(List::Shelf, at) => Lines::line(&self.shelf, at),
            PriceRow::Line(list, at) => self.piece(piece)?.priced.list(list)?.line(at),
        }
    }

    fn price_row_mut(&mut self, piece: u32, row: PriceRow) -> Option<&mut dyn AnyForm> {
        match row {
            PriceRow::Rates => Some(&mut self.rates),
            PriceRow::Terms => Some(&mut self.piece_mut(piece)?.priced.terms),
            PriceRow::Line(List::Shelf, at) => Lines::line_mut(&mut self.shelf, at),
            PriceRow::Line(list, at) => self.piece_mut(piece)?.priced.list_mut(list)?.line_mut(at),
        }
    }

    fn price_list_mut(&mut self, piece: u32, list: List) -> Option<&mut dyn Lines> {
        match list {
            List::Shelf => Some(&mut self.shelf),
            list => self.piece_mut(piece)?.priced.list_mut(list),
        }
    }

    /// A blank of a form of a piece's price, as text.
    pub fn price_text(&self, piece: u32, row: PriceRow, key: &str) -> &str {
        self.price_row(piece, row).map_or("", |form| form.text(key))
    }

    /// Whether a text would be taken, or what would be right.
    pub fn try_price(
        &self,
        piece: u32,
        row: PriceRow,
        key: &str,
        text: &str,
    ) -> Result<(), String> {
        let currency = self.currency();
        self.price_row(piece, row).map_or(Ok(()), |form| form.try_write(key, text, &currency))
    }

    /// The maker's own money.
    pub fn currency(&self) -> Currency {
        self.rates.currency()
    }

    /// The price's edits; gives back any other.
    pub(super) fn edit_price(&mut self, edit: WorkEdit) -> Option<WorkEdit> {
        match edit {
            WorkEdit::Price { piece, row, key, text } => {
                let currency = self.currency();
                if let Some(form) = self.price_row_mut(piece, row) {
                    // A text that says nothing yet stays in its field, with its sentence.
                    let _ = form.write(key, &text, &currency);
                }
                self.rack.in_money(&currency, &self.currency());
            }
            WorkEdit::AddLine { piece, list, key, text } => {
                if let Some(lines) = self.price_list_mut(piece, list) {
                    lines.add(key, &text);
                }
            }
            WorkEdit::RemoveLine { piece, list, at } => {
                if let Some(lines) = self.price_list_mut(piece, list) {
                    lines.remove(at);
                }
            }
            WorkEdit::AtTheSaw { piece, texts } => self.at_the_saw(piece, texts),
            WorkEdit::Clock { piece, at_ms, runs } => self.clock(piece, at_ms, runs),
            WorkEdit::Shelve(rest) => self.shelve(&rest),
            edit => return Some(edit),
        }
        None
    }

    fn at_the_saw(&mut self, piece: u32, texts: [String; 2]) {
        let Some(piece) = self.piece_mut(piece) else { return };
        let steps = &mut piece.priced.steps;
        let name = List::Steps.kinds()[0];
        let at = steps.iter().position(|s| s.text("name").trim() == name).unwrap_or(steps.len());
        if at == steps.len() {
            Lines::add(steps, "name", name);
        }
        if let Some(line) = steps.get_mut(at) {
            for (key, text) in ["set_up", "each"].into_iter().zip(texts) {
                // Made of numbers that were read.
                let _ = line.write(key, &text, &Currency::default());
            }
        }
    }

    fn clock(&mut self, id: u32, at_ms: i64, runs: bool) {
        let Some(piece) = self.piece_mut(id) else { return };
        let since = core::mem::replace(&mut piece.clock, if runs { at_ms } else { 0 });
        if runs || since <= 0 {
            return;
        }
        // To a tenth of a minute.
        let tenths = (at_ms.saturating_sub(since).max(0) + 3_000) / 6_000;
        let (time, batch) = (format!("{}.{}", tenths / 10, tenths % 10), piece.batch);
        let name = List::Steps.kinds()[0];
        let step = piece.priced.steps.iter().find(|s| s.text("name").trim() == name);
        let set_up = step.map(|s| s.text("set_up").trim().to_owned()).unwrap_or_default();
        let known = step.and_then(|s| s.number("set_up", &Currency::default()));
        let fits = known.is_some_and(|n| n <= Exact::new(tenths.into(), 10.into()));
        let texts = match fits {
            true => [set_up.clone(), format!("({time} - ({set_up})) / {batch}")],
            false => [String::new(), format!("{time} / {batch}")],
        };
        self.at_the_saw(id, texts);
    }

    /// How many lines a list has.
    pub fn price_list_len(&self, piece: u32, list: List) -> usize {
        match list {
            List::Shelf => self.shelf.len(),
            list => self.piece(piece).and_then(|p| p.priced.list(list)).map_or(0, Lines::count),
        }
    }

    /// What is left of opened packs and cans takes the place of what was there of the same name.
    fn shelve(&mut self, rest: &[(String, Exact)]) {
        let currency = Currency::default();
        for (name, left) in rest {
            let same = |text: &str| text.trim().eq_ignore_ascii_case(name);
            self.shelf.retain(|line| !same(line.text("name")));
            let plain = *left.denom() <= PLAIN_DIVISOR.into();
            let text = if plain { left.to_string() } else { figure(left) };
            let mut line = Filled::with("name", name);
            if *left > whole(0) && line.write("left", &text, &currency).is_ok() {
                self.shelf.push(line);
            }
        }
    }

    /// What is known of a piece for its price. `found`: the jobs and plans of the buy in which it is, and how they are
    /// shown.
    pub fn made(
        &self,
        piece: &Piece,
        area: Option<Exact>,
        found: (&Jobs, &Planned, &Summary),
        style: &Style,
    ) -> Made {
        let boards = self.boards_of(piece, found, style);
        Made { pieces: u64::from(piece.batch), boards, area }
    }

    /// Everything that follows from a piece's forms.
    pub fn priced<'w>(&'w self, piece: &'w Piece, made: &'w Made) -> Figures<'w> {
        figures(&piece.priced, &self.rates, &self.shelf, made)
    }

    fn boards_of(
        &self,
        piece: &Piece,
        (jobs, planned, summary): (&Jobs, &Planned, &Summary),
        style: &Style,
    ) -> Boards {
        let wanted = |e: &&Entry| e.count > 0;
        if !self.parts_of(piece.id).any(|e| wanted(&e)) {
            return Boards::None;
        }
        let own =
            |id: Option<u32>| id.and_then(|id| self.part(id)).is_some_and(|e| e.piece == piece.id);
        let mut why: Vec<String> = jobs
            .troubles
            .iter()
            .filter(|t| t.stops && own(t.entry))
            .map(|t| t.text.render(style))
            .gather();
        for job in jobs.jobs.iter().filter(|j| j.parts.iter().any(|p| p.piece == piece.id)) {
            let lengths: Vec<String> = job.no_price.iter().map(|l| yard_length(*l, style)).gather();
            if !lengths.is_empty() {
                why.push(format!("{}: no price in the rack for {}", job.name, lengths.join(", ")));
            }
        }
        let share = summary.share(piece.id);
        if why.is_empty() && share.is_none_or(|s| s.open) {
            why.extend(summary.without.iter().map(|t| t.render(style)));
            if why.is_empty() {
                let word = if planned.running {
                    "Boards: the plan is on its way"
                } else {
                    "Boards: there is no plan"
                };
                why.push(word.into());
            }
        }
        let Some(share) = share.filter(|_| why.is_empty()) else {
            return Boards::Open(why);
        };
        let wood = Wood { bought: of_money(share.money), kept: share.kept.clone() };
        let others = summary.shares.iter().filter(|s| s.parts > 0).count();
        let mut words = Vec::new();
        if self.parts_of(piece.id).any(|e| e.done) {
            words.push(
                "Parts of it are cut already: this is what it takes to make it again.".into(),
            );
        }
        if others > 1 {
            words.push(format!(
                "Its share, by the wood in its parts, of one buy for {others} pieces."
            ));
        }
        if summary.shown.iter().any(|s| s.owned > 0) {
            words.push("Boards from the rack count nothing.".into());
        }
        Boards::Known { wood, words }
    }

    /// Whether a piece's boards are planned by themselves, and all of them anew.
    fn is_by_itself(&self, piece: &Piece) -> bool {
        let alone = self.alone().is_some_and(|p| p.id == piece.id) && self.kept.is_empty();
        alone || !self.is_bought(piece)
    }

    /// The boards of a piece by itself for each size of its batch, as far as the planner has told. `one`: the jobs for one
    /// of it.
    pub fn planned_by_batch(&self, one: &Jobs, planned: &Planned) -> Vec<(u64, Wood)> {
        let all = planned.curve.iter().zip(&planned.ends);
        all.map(|((n, cost), ends)| {
            let kept = one.worth_kept(ends, &self.rack);
            (u64::from(*n), Wood { bought: of_money(*cost), kept })
        })
        .gather()
    }

    /// The same with the boards of its own plan at the size that is made, where it has one.
    pub fn wood_by_batch(
        &self,
        piece: &Piece,
        made: &Made,
        planned: &[(u64, Wood)],
    ) -> Vec<(u64, Wood)> {
        let mut all = planned.to_vec();
        if let (Boards::Known { wood, .. }, true) = (&made.boards, self.is_by_itself(piece)) {
            for own in all.iter_mut().filter(|w| w.0 == made.pieces) {
                own.1 = wood.clone();
            }
        }
        all
    }

    /// The piece that the run at the saw is for, where it is for one only.
    pub fn cut_alone(&self) -> Option<&Piece> {
        let begun = self.begun.as_ref()?;
        let parts = begun.boards().flat_map(|b| &b.parts);
        let piece = |entry: u32| begun.of.parts.iter().find(|e| e.id == entry).map(|e| e.piece);
        let mut all = parts.filter_map(|p| piece(p.entry)).gather();
        all.dedup();
        let [only] = all[..] else { return None };
        self.piece(only)
    }

    /// What a piece's boards take at the saw, where they are planned by themselves.
    pub fn cuts_of(&self, piece: &Piece, summary: &Summary) -> Option<Cuts> {
        let mut out = Cuts { pieces: piece.batch, changes: 0, cuts: 0 };
        for shown in summary.shown.iter().filter(|_| self.is_by_itself(piece)) {
            out.changes += shown.order.saw_changes;
            out.cuts += shown.cuts();
            out.cuts += shown.boards.iter().map(offsquare_planner::CutBoard::cuts).sum::<usize>();
        }
        (out.cuts > 0).then_some(out)
    }

    /// Minutes at the saw as sums of the maker's own: set up for all, and of one piece.
    pub fn told_of_cuts(&self, cuts: Cuts) -> Option<[String; 2]> {
        let told = |key: &str| {
            let text = self.rates.text(key).trim();
            (!text.is_empty()).then(|| format!("({text})"))
        };
        let (change, cut) = (told("saw_change")?, told("saw_cut")?);
        let set_up = format!("{} * {change}", cuts.changes);
        Some([set_up, format!("{} * {cut} / {}", cuts.cuts, cuts.pieces)])
    }

    /// All faces of all parts of one piece, joints included, in square meters: of a pattern's parts as they stand, of
    /// others as they lie on the saw. None where there are no parts, or the size of one is not known.
    pub fn surface(&self, piece: u32, shop: &Shop) -> Option<Exact> {
        let solved = self.pattern(piece).and_then(|source| chosen(&source.draft, shop));
        let solution = solved.map(|s| s.solution);
        let overrides = self.piece(piece).map_or(&[][..], |p| &p.overrides);
        let made = solution.as_ref().map(|s| with_changes(s, overrides).0).unwrap_or_default();
        // The pattern's part that an entry is.
        let of_pattern = |entry: &Entry| {
            let from = entry.from.as_ref().filter(|_| self.pattern_of(entry).is_some())?;
            let parts = solution.as_ref()?.parts.iter().enumerate();
            let (at, _) = parts.filter(|(_, p)| p.name == from.part).nth(from.nth)?;
            made.get(at).filter(|p| p.qty > 0).cloned()
        };
        let mut sum = whole(0);
        let mut any = false;
        for entry in self.parts_of(piece).filter(|e| e.count > 0) {
            let part = of_pattern(entry);
            let part = part.or_else(|| lying(entry, self.rack.stock_of(entry.stock)))?;
            let (parts, qty) = ([part], u64::from(entry.count));
            let each = decimal(weigh(&parts, &|_| None).surface_m2)?;
            sum += each * whole(qty) / whole(u64::from(parts[0].qty.max(1)));
            any = true;
        }
        any.then_some(sum)
    }
}

/// What a batch takes at the saw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cuts {
    pub pieces: u32,
    pub changes: usize,
    pub cuts: usize,
}

impl Cuts {
    /// "The plan takes 32 cuts and 4 changes of the saw."
    pub fn words(&self) -> String {
        let many = |n: usize, what: &str| format!("{n} {what}{}", if n == 1 { "" } else { "s" });
        let changes = match self.changes {
            1 => "1 change".to_owned(),
            n => format!("{n} changes"),
        };
        format!("The plan takes {} and {changes} of the saw.", many(self.cuts, "cut"))
    }
}

/// A part as it lies on the saw; none where its section is not known.
fn lying(entry: &Entry, stock: Option<&Stock>) -> Option<PiecePart> {
    let end = |e: crate::cutlist::PartEnd| EndCut { miter: e.miter, bevel: e.bevel, second: None };
    Some(PiecePart {
        qty: 1,
        seen: entry.seen.or(stock.map(|s| s.width))?,
        away: entry.away.or(stock.map(|s| s.thickness))?,
        length: entry.cut_length(),
        left: end(entry.left),
        right: end(entry.right),
        ..PiecePart::default()
    })
}
