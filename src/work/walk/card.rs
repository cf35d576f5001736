//! What stands on the card of a step: what is set, how the board lies, where it is marked, what to mind.

use super::kinds::{AtBench, Kind};
use super::stages::{AtSaw, Stage, Walk, What};
use crate::cutlist::RipStep;
use crate::piece::{Begun, Reason};
use crate::run::{Kind as CutKind, WayOut};
use offsquare_cuts::assembly::Hole;
use offsquare_cuts::facts::{Caution, caution};
use offsquare_cuts::parts::{Cut, End, Side};
use offsquare_cuts::saw::{Advice, Axis, MarkKind, SawProfile, Setting, wording};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Style, Text, lower_first, say};

/// One reading of the saw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    pub axis: Axis,
    pub side: Side,
    pub exact: Angle,
    /// The saw's own mark for it, with what test cuts have shown.
    pub set: Angle,
    pub mark: MarkKind,
    /// What the setting takes of this saw's correction.
    pub by: Angle,
}

impl Reading {
    /// "Swing left", "Blade leans right", "Square".
    pub fn words(&self) -> String {
        let square = match self.axis {
            Axis::Miter => "Square",
            Axis::Bevel => "Blade upright",
        };
        match (self.axis, self.side) {
            (_, Side::Neither) if self.is_off_zero() => {
                format!("{square}, {} of the 0", if self.by.0 > 0.0 { "left" } else { "right" })
            }
            (_, Side::Neither) => square.to_owned(),
            (Axis::Miter, side) => format!("Swing {}", wording::side(side)),
            (Axis::Bevel, side) => format!("Blade leans {}", wording::side(side)),
        }
    }

    /// Square or upright, which a test cut has found beside the 0 on the scale.
    pub fn is_off_zero(&self) -> bool {
        self.side == Side::Neither && self.by.0 != 0.0
    }
}

/// The card of one step, in the order in which it is read.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Card {
    pub title: String,
    /// None where nothing is set at the saw, or where this saw cannot.
    pub readings: Vec<Reading>,
    /// What a test cut can show: swing and lean, be they 0 or not.
    pub tests: Vec<Reading>,
    /// What is measured first of all: a rip's distance.
    pub measure: Option<Length>,
    /// Each with its name.
    pub rows: Vec<(&'static str, Text)>,
    pub cautions: Vec<Text>,
}

impl Card {
    fn row(&mut self, name: &'static str, text: Text) {
        self.rows.push((name, text));
    }

    /// What is set: the swing, and the lean where it is none of the usual upright.
    fn set(&mut self, s: &Setting) {
        let at_zero = |side: Side, by: Angle, set: Angle| match side {
            Side::Neither => by.abs(),
            _ => set,
        };
        let miter = Reading {
            axis: Axis::Miter,
            side: s.swing,
            exact: s.miter,
            set: at_zero(s.swing, s.miter_by, s.set_miter),
            mark: s.miter_mark,
            by: s.miter_by,
        };
        let bevel = Reading {
            axis: Axis::Bevel,
            side: s.lean,
            exact: s.bevel,
            set: at_zero(s.lean, s.bevel_by, s.set_bevel),
            mark: s.bevel_mark,
            by: s.bevel_by,
        };
        self.tests = vec![miter, bevel];
        self.readings = vec![miter];
        self.readings.extend(Some(bevel).filter(|b| b.side != Side::Neither || b.is_off_zero()));
    }

    /// The whole card as it is read aloud.
    pub fn aloud(&self, style: &Style) -> String {
        let mut out = vec![self.title.clone()];
        for r in &self.readings {
            let set = say!("{}", r.set).render(style);
            out.push(match r.side {
                Side::Neither if !r.is_off_zero() => r.words(),
                _ => format!("{}, {}", r.words(), set.replace('\u{b0}', " degrees")),
            });
        }
        out.extend(self.measure.map(|l| say!(l).render(style)));
        let rows = self.rows.iter().map(|(name, text)| format!("{name}: {}", text.render(style)));
        out.extend(rows);
        out.extend(self.cautions.iter().map(|t| t.render(style)));
        let ended = |s: &String| s.ends_with(['.', ':', '!']);
        out.iter().map(|s| if ended(s) { format!("{s} ") } else { format!("{s}. ") }).collect()
    }
}

/// "Rail 3 of 24".
fn called(kind: &Kind, number: u64) -> String {
    if kind.count > 1 {
        format!("{} {number} of {}", kind.name, kind.count)
    } else {
        kind.name.clone()
    }
}

impl Walk {
    /// How a single part is called.
    pub fn called(&self, (board, place): (u32, u32)) -> String {
        self.single(board, place).map_or_else(String::new, |(kind, number)| called(kind, number))
    }

    /// What was skipped, why, and where it is cut now.
    pub fn skipped(&self, begun: &Begun, at: usize, style: &Style) -> String {
        let Some(skip) = begun.skips.get(at) else { return String::new() };
        let why = match skip.reason {
            Reason::Knot => "Knot",
            Reason::Miscut => "Miscut",
            Reason::Board => "No good board",
        };
        let names: Vec<String> = skip.places.iter().map(|at| self.short_name(*at)).gather();
        let names = names.join(", ");
        if skip.open {
            return format!("{why}: looking for a board for {names}.");
        }
        let before = begun.skips.iter().take(at).map(|s| s.boards.len()).sum::<usize>();
        let first = begun.of.boards.len() + before;
        let boards: Vec<String> = (first..first + skip.boards.len())
            .map(|n| lower_first(&self.board_called(n as u32, style)))
            .gather();
        match boards.is_empty() {
            true => {
                format!("{why}: no board is left for {names}. What is missing stays on the list.")
            }
            false => format!("{why}: {names} planned anew, cut from {}.", boards.join("; ")),
        }
    }

    /// The same, short enough to be written on a drawing: "Rail 3".
    pub fn short_name(&self, (board, place): (u32, u32)) -> String {
        let Some((kind, number)) = self.single(board, place) else { return String::new() };
        match kind.count {
            0 | 1 => kind.name.clone(),
            _ => format!("{} {number}", kind.name),
        }
    }

    /// "Board 4 of 1×2 pine, 8 ft, from the rack".
    pub fn board_called(&self, number: u32, style: &Style) -> String {
        let Some(board) = self.board(number) else { return String::new() };
        let job = &self.jobs.jobs[board.job];
        let what = if job.is_sheet() { "Sheet" } else { "Board" };
        let number = self.whole(number).into_iter().min().unwrap_or(number);
        let from = match (board.left_of, board.owned) {
            (Some(of), _) => {
                let of = self.whole(of).into_iter().min().unwrap_or(of);
                format!(", left of board {}", of + 1)
            }
            (None, true) => ", from the rack".to_owned(),
            (None, false) => String::new(),
        };
        let length = crate::cutlist::yard_length(board.length, style);
        format!("{what} {}, {}, {length}{from}", number + 1, job.name)
    }

    /// The card of a step, at this saw.
    pub fn card(&self, stage: &Stage, saw: &SawProfile, style: &Style) -> Card {
        let number = stage.tick.board;
        if self.board(number).is_none() {
            return Card::default();
        }
        let mut card = match &stage.what {
            What::Cut(cut) => self.at_saw(cut, number, saw),
            What::Rip(rip) => self.ripping(rip, number),
            What::Bench(work) => self.at_bench(*work, (number, stage.tick.at), saw),
        };
        card.row("Board", say!(self.board_called(number, style)));
        card
    }

    fn at_saw(&self, cut: &AtSaw, number: u32, saw: &SawProfile) -> Card {
        let mut card = Card::default();
        let c = &cut.cutting;
        let name = |place: u32, end: End| {
            let Some((kind, n)) = self.single(number, place) else { return String::new() };
            // A mirror image is drawn end for end, and lies with its edges changed over.
            let end = if kind.mirrored { end.other() } else { end };
            format!("{}, {}", called(kind, n), kind.part.sides.end(end))
        };
        let mut ends: Vec<String> =
            c.finishes.iter().map(|f| name(f.of.place as u32, f.end)).gather();
        // "Slat 5 of 72, right end; 6, left end".
        if let [a, b] = &c.finishes[..]
            && let Some((one, _)) = self.single(number, a.of.place as u32)
            && let Some((other, n)) = self.single(number, b.of.place as u32)
            && (one.entry, one.mirrored) == (other.entry, other.mirrored)
        {
            let whole = called(other, n);
            ends[1] = ends[1].replacen(&whole, &n.to_string(), 1);
        }
        card.title = match c.kind {
            CutKind::Trim => format!("Trim the board: {}", ends.join("; ")),
            CutKind::Crosscut => ends.join("; "),
        };
        let kind = c.finishes.first().and_then(|f| self.single(number, f.of.place as u32));
        let sizes = kind.map(|(k, _)| (k.on_board.length, k.on_board.seen, k.on_board.away));
        let set = cut.set_up.setting;
        match &cut.set_up.way_out {
            None => card.set(&of_setting(set, saw)),
            Some(WayOut::Remedy(remedy)) => {
                let mut text = say!("Past this saw. ");
                let advice = sizes.and_then(|s| set.advice(saw, s));
                for why in advice.iter().flat_map(|a| &a.fit.misfits) {
                    text.extend(wording::misfit(why));
                    text.push(" ");
                }
                text.extend(wording::remedy(remedy));
                card.cautions.push(text);
            }
            Some(WayOut::OtherFace | WayOut::Laid(_)) => {
                if let Some(a) = sizes.and_then(|s| set.advice(saw, s)) {
                    card.set(&a.setting());
                    card.row("On this saw", wording::lies(&a));
                }
            }
        }
        let lies = match c.flipped {
            false => "Face up",
            true => "Face down, rolled over: its near edge at the fence",
        };
        let lies = format!("{lies}; hold its {} side", wording::side(c.held_side));
        card.row("Lies", say!(lies));
        // Rolled over, the near edge lies at the fence.
        let (near, fence) = if c.flipped { (c.far, c.near) } else { (c.near, c.far) };
        let along = |(near, fence): (f64, f64)| match (near - fence).abs() <= 1e-9 {
            true => say!(Length(near)),
            false => say!("{} near you, {} at the fence", Length(near), Length(fence)),
        };
        let (from_near, from_fence) = match c.flipped {
            true => (c.wood[0].1, c.wood[0].0),
            false => c.wood[0],
        };
        let mut mark = along((near - from_near, fence - from_fence));
        mark.push(match (from_near == 0.0, c.waste) {
            (true, Side::Right) => " from its left end, blade right of it",
            (true, _) => " from its left end, blade left of it",
            (false, Side::Right) => " from the left end it has now, blade right of it",
            (false, _) => " from the left end it has now, blade left of it",
        });
        if from_near != 0.0 && cut.set_up.stop.is_none() {
            mark.push("; on the whole board ");
            mark.extend(along((near, fence)));
        }
        card.row("Mark", mark);
        if let Some(stop) = cut.set_up.stop {
            let side = format!(" {} of the blade", wording::side(stop.side));
            card.row("Stop", say!("{}{}", Length(stop.at), side));
        }
        let frees: Vec<String> =
            c.frees.iter().map(|s| self.called((number, s.place as u32))).gather();
        if !frees.is_empty() {
            card.row("Frees", say!(frees.join(", ")));
        }
        // What is not cut on this saw has no cautions of the saw's.
        if !matches!(cut.set_up.way_out, Some(WayOut::Remedy(_))) {
            card.cautions.extend(c.cautions.iter().cloned());
        }
        card
    }

    fn ripping(&self, rip: &RipStep, number: u32) -> Card {
        let frees: Vec<String> = rip.frees.iter().map(|p| self.called((number, *p))).gather();
        let mut card = Card {
            title: match (rip.is_rip, frees.is_empty()) {
                (true, true) => "Rip".to_owned(),
                (false, true) => "Crosscut".to_owned(),
                (true, _) => format!("Rip: {}", frees.join(", ")),
                (false, _) => format!("Crosscut: {}", frees.join(", ")),
            },
            measure: Some(rip.measure),
            ..Card::default()
        };
        card.row("Cut", rip.words.clone());
        if rip.is_rip {
            card.cautions.push(caution(Caution::RippedEdge));
        }
        card
    }

    fn at_bench(&self, work: AtBench, at: (u32, u32), saw: &SawProfile) -> Card {
        let Some((kind, number)) = self.single(at.0, at.1) else { return Card::default() };
        let name = called(kind, number);
        let part = &kind.part;
        let mut card = Card::default();
        match work {
            AtBench::Cut(i) => {
                let Some(cut) = part.cuts.get(i) else { return card };
                let cut_name = if cut.name.is_empty() { "its cut" } else { &cut.name };
                card.title = format!("{name}: {cut_name}");
                second_cut(&mut card, &saw.advise(part, cut), cut);
            }
            AtBench::Finish(right) => {
                let end = if right { End::Right } else { End::Left };
                card.title = format!("{name}: finish its {}", part.sides.end(end));
                card.row("Do", say!("It left the stick square: shape it as you have drawn it."));
            }
            AtBench::Mark => {
                card.title = format!("{name}: marks");
                card.row("Mark", marks(kind));
            }
            AtBench::Lap(i) => {
                let Some(lap) = part.laps.get(i) else { return card };
                let a = saw.advise_lap(part, lap);
                card.title = format!("{name}: {}", lap.name);
                if let Some(set) = a.set {
                    card.readings.push(Reading {
                        axis: Axis::Miter,
                        side: a.swing,
                        exact: a.reading,
                        set,
                        mark: saw.miter_mark(a.reading, a.swing).1,
                        by: saw.correction(Axis::Miter, a.swing, a.reading),
                    });
                }
                card.row("First", say!("Set the depth on scrap of the same thickness."));
                for text in wording::lap(&a) {
                    card.row("Then", text);
                }
                card.cautions.push(caution(Caution::LapCut));
            }
            AtBench::Drill => {
                card.title = format!("{name}: holes");
                holes(&mut card, &kind.holes);
            }
        }
        card
    }
}

/// A part's own cut made at the bench, or back at the saw.
fn second_cut(card: &mut Card, a: &Advice, cut: &Cut) {
    if a.lay().is_some() {
        card.set(&a.setting());
        card.row("Lies", wording::lies(a));
        if let Some(stop) = a.stop_block.as_ref().filter(|_| !a.by_mark) {
            card.row("Stop", wording::stop_block(stop));
        }
    } else {
        let why = a.fit.misfits.iter().map(wording::misfit);
        card.cautions.extend(why);
        for remedy in &a.remedies {
            card.row("Do", wording::remedy(remedy));
        }
    }
    if !cut.is_rip() {
        card.row("Mark", wording::tape(a));
    }
    card.cautions.extend(wording::clamp(a));
    if cut.miter.0 > 0.0 && cut.bevel.0 > 0.0 {
        card.cautions.push(caution(Caution::CompoundCut));
    }
}

/// Holes that are alike and lie in one row are told together.
fn holes(card: &mut Card, all: &[Hole]) {
    let alike = |a: &&Hole, b: &Hole| {
        (a.diameter, a.depth) == (b.diameter, b.depth) && (a.at.y - b.at.y).abs() <= 1e-9
    };
    let mut left: Vec<&Hole> = all.iter().gather();
    while let Some(first) = left.first().copied() {
        let (row, rest): (Vec<&Hole>, Vec<&Hole>) = left.into_iter().partition(|h| alike(h, first));
        left = rest;
        let mut size = say!("{} across", first.diameter);
        match first.depth {
            Some(depth) => size.extend(say!(", {} deep", depth)),
            None => size.push(", through"),
        }
        card.row("Drill", size);
        card.row("Up", say!("{} from its lower edge", Length(first.at.y)));
        let mut along = Text::default();
        for (i, hole) in row.iter().enumerate() {
            along.push(if i > 0 { ", " } else { "" });
            along.extend(say!(Length(hole.at.x)));
        }
        card.row("Along", along.and(" from its left end"));
    }
}

/// Where the lines on a part's face run.
fn marks(kind: &Kind) -> Text {
    let part = &kind.part;
    let bare = part.marks.iter().filter(|m| part.laps.iter().all(|l| !l.shoulders.contains(m)));
    let mut text = say!("From its left end ");
    for (i, (a, b)) in bare.enumerate() {
        if i > 0 {
            text.push(", ");
        }
        text.extend(say!(Length(a.x)));
        if (a.x - b.x).abs() > 1e-9 {
            text.extend(say!(" to {}", Length(b.x)));
        }
    }
    text
}

/// A setting of the run, as this saw can have it.
fn of_setting(s: crate::run::Setting, saw: &SawProfile) -> Setting {
    let (miter, bevel) = (Angle(s.miter), Angle(s.bevel));
    let ((set_miter, miter_mark), (set_bevel, bevel_mark)) =
        (saw.miter_mark(miter, s.swing), saw.bevel_mark(bevel, s.lean));
    Setting {
        miter,
        bevel,
        set_miter,
        set_bevel,
        swing: s.swing,
        lean: s.lean,
        miter_mark,
        bevel_mark,
        miter_by: saw.correction(Axis::Miter, s.swing, miter),
        bevel_by: saw.correction(Axis::Bevel, s.lean, bevel),
    }
}
