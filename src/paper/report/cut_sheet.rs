//! The sheet that leaves the table for the saw: what to buy, each board with its cuts, the order of cuts as the run has
//! it, a box to tick before each. Boards that are cut alike stand once.

use crate::drawing::{BoardOfStrips, BoardOnSaw, Drawing, board_of_strips, board_on_saw};
use crate::writers::pdf::shown;
use offsquare_units::num::Gather;
use offsquare_units::{Currency, Style, lower_first, say};
use offsquare_work::cutlist::{Instance, Job, Origin, left_of, yard_length};
use offsquare_work::piece::Begun;
use offsquare_work::walk::{AtBench, AtSaw, Card, Stage, Walk, What};

/// px that a board is drawn wide; a px is [`PX`] mm on paper, so that its words are as large as the text.
const FRAME: f64 = 700.0;
pub const PX: f64 = 0.26;

/// One row of the sheet, from the top.
#[derive(Clone, Debug, PartialEq)]
pub enum Row {
    /// A section's title.
    Section(String),
    Line(String),
    /// A caution.
    Caution(String),
    /// Above its board, or above the cuts of one setting.
    Heading(String),
    Board(Drawing),
    /// A step, with its box.
    Step {
        done: bool,
        words: String,
    },
}

/// The whole sheet.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct CutSheet {
    pub title: String,
    pub rows: Vec<Row>,
}

/// Of a run, begun or about to begin, at the saw that it is cut on.
pub fn cut_sheet(title: &str, begun: &Begun, currency: &Currency, style: &Style) -> CutSheet {
    let walk = Walk::of(begun);
    let of = Sheet { groups: alike(&walk), walk: &walk, begun, currency, style };
    let mut rows = Vec::new();
    for (at, job) in walk.jobs.jobs.iter().enumerate() {
        if of.groups.iter().any(|g| of.job_of(g) == Some(at)) {
            rows.push(Row::Section(job.name.clone()));
            of.buy(at, job, &mut rows);
            of.boards(at, job, &mut rows);
        }
    }
    if !walk.stages.is_empty() {
        rows.push(Row::Section("Order of cuts".into()));
        rows.push(Row::Line(
            "Marks are measured from the left end of the board as it lay at the start; the kerf is on the blade\u{2019}s side. The pictures tell where each part ends.".into(),
        ));
    }
    let mut rest = &walk.stages[..];
    while let Some(first) = rest.first() {
        let more = rest.iter().skip(1).take_while(|s| goes_on(first, s)).count();
        let (block, after) = rest.split_at(more + 1);
        of.block(block, &mut rows);
        rest = after;
    }
    CutSheet { title: title.to_owned(), rows }
}

/// Numbers of the boards of a run that are cut alike.
type Group = Vec<u32>;

fn alike(walk: &Walk) -> Vec<Group> {
    let mut out: Vec<Group> = Vec::new();
    for number in 0..walk.boards.len() as u32 {
        let Some(board) = walk.board(number) else { continue };
        let same = |g: &&mut Group| {
            g.first().and_then(|first| walk.board(*first)).is_some_and(|other| {
                let cut = |b: &offsquare_work::walk::Board| (b.job, b.length, b.owned, b.left_of);
                cut(board) == cut(other) && board.cut == other.cut
            })
        };
        match out.iter_mut().find(same) {
            Some(group) => group.push(number),
            None => out.push(vec![number]),
        }
    }
    out
}

/// Whether a step belongs with those before it: no new setting, the same kind of work.
fn goes_on(first: &Stage, next: &Stage) -> bool {
    match (&first.what, &next.what) {
        (What::Cut(_), What::Cut(cut)) => !cut.anew,
        (What::Rip(_), What::Rip(_)) => true,
        (What::Bench(a), What::Bench(b)) => {
            core::mem::discriminant(a) == core::mem::discriminant(b)
        }
        _ => false,
    }
}

struct Sheet<'a> {
    walk: &'a Walk,
    begun: &'a Begun,
    groups: Vec<Group>,
    currency: &'a Currency,
    style: &'a Style,
}

/// "2 to 5, 8": numbers of boards, from 1.
fn numbers(group: &[u32]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for n in group.iter().map(|n| n + 1) {
        match runs.last_mut().filter(|(_, to)| *to + 1 == n) {
            Some(last) => last.1 = n,
            None => runs.push((n, n)),
        }
    }
    let one = |(from, to): &(u32, u32)| match to - from {
        0 => from.to_string(),
        1 => format!("{from}, {to}"),
        _ => format!("{from} to {to}"),
    };
    runs.iter().map(one).gather().join(", ")
}

impl Sheet<'_> {
    fn job_of(&self, group: &[u32]) -> Option<usize> {
        Some(self.walk.board(*group.first()?)?.job)
    }

    /// A board's length, a sheet's both sides.
    fn measures(&self, job: &Job, at: usize) -> String {
        let board = job.boards[at];
        match job.is_sheet() {
            true => say!("{} by {}", board.width, board.length).render(self.style),
            false => yard_length(board.length, self.style),
        }
    }

    /// "Board 4, 8 ft", "30 boards alike, 2 to 31, 8 ft, from the rack".
    fn called(&self, group: &[u32]) -> String {
        let Some(board) = group.first().and_then(|n| self.walk.board(*n)) else {
            return String::new();
        };
        let job = &self.walk.jobs.jobs[board.job];
        let kind = if job.is_sheet() { "sheet" } else { "board" };
        let which = match group.len() {
            1 => format!("{} {}", offsquare_units::upper_first(kind), numbers(group)),
            n => format!("{n} {kind}s alike, {}", numbers(group)),
        };
        let from = match (board.left_of, board.owned) {
            (Some(of), _) => format!(", left of board {}", of + 1),
            (None, true) => ", from the rack".to_owned(),
            (None, false) => String::new(),
        };
        format!("{which}, {}{from}", self.measures(job, board.cut.board))
    }

    /// What to buy of one stock.
    fn buy(&self, at: usize, job: &Job, rows: &mut Vec<Row>) {
        let own = || self.groups.iter().filter(|g| self.job_of(g) == Some(at));
        let sold = |g: &&Group| {
            let board = self.walk.board(g[0]);
            board.is_some_and(|b| matches!(job.boards[b.cut.board].origin, Origin::Sold(_)))
        };
        let mut buy: Vec<(usize, i64)> = Vec::new();
        for group in own().filter(sold) {
            let kind = self.walk.board(group[0]).map_or(0, |b| b.cut.board);
            match buy.iter_mut().find(|(of, _)| *of == kind) {
                Some(one) => one.1 += group.len() as i64,
                None => buy.push((kind, group.len() as i64)),
            }
        }
        for (kind, count) in buy {
            let what = format!("Buy {count} \u{d7} {}", self.measures(job, kind));
            rows.push(Row::Line(match job.boards[kind].price {
                Some(each) => format!(
                    "{what} at {}: {}",
                    shown(self.currency, each),
                    shown(self.currency, each * count)
                ),
                None => format!("{what}, no price yet"),
            }));
        }
        let owned: usize = own().filter(|g| !sold(g)).map(Vec::len).sum();
        if owned > 0 {
            rows.push(Row::Line(format!("From the rack: {owned}")));
        }
    }

    fn boards(&self, at: usize, job: &Job, rows: &mut Vec<Row>) {
        let names: Vec<String> = self.walk.kinds[at].iter().map(|k| k.name.clone()).gather();
        for group in self.groups.iter().filter(|g| self.job_of(g) == Some(at)) {
            let Some(board) = self.walk.board(group[0]) else { continue };
            let (cut, length, start) = (&board.cut, board.length.0, board.start);
            let stock = self.begun.of.rack.stock(job.stock);
            let drawing = match &job.instance {
                Instance::Sticks(of) => {
                    let left = left_of(job, cut, stock, self.begun.of.rack.keep);
                    let owned = match job.boards[cut.board].origin {
                        Origin::Owned(i) => stock.and_then(|s| s.owned.get(i)),
                        Origin::Sold(_) => None,
                    };
                    let bad = owned.map_or(&[][..], |o| &o.bad);
                    let bad: Vec<(f64, f64)> = bad.iter().map(|b| (b.0.0, b.1.0)).gather();
                    let (left, keeps, bad, names) =
                        (left.length.0, left.keep, &bad[..], &names[..]);
                    let lain = BoardOnSaw { job: of, cut, length, start, left, keeps, bad, names };
                    board_on_saw(&lain, FRAME, self.style)
                }
                Instance::Rectangles(of) => {
                    let lain = BoardOfStrips { job: of, cut, length, start, names: &names };
                    board_of_strips(&lain, FRAME, self.style)
                }
            };
            rows.push(Row::Heading(self.called(group)));
            rows.push(Row::Board(drawing));
        }
    }

    fn card(&self, stage: &Stage) -> Card {
        self.walk.card(stage, &self.begun.of.shop.saw, self.style)
    }

    /// Steps that follow each other in one setting, those of boards cut alike once.
    fn block(&self, block: &[Stage], rows: &mut Vec<Row>) {
        let Some(first) = block.first() else { return };
        let mut heads = match &first.what {
            What::Cut(cut) => setting(&self.card(first), cut, self.style),
            What::Rip(_) => "At the table saw".to_owned(),
            What::Bench(work) => at_bench(*work).to_owned(),
        };
        let steps = match &first.what {
            What::Bench(_) => self.parts(block),
            _ => self.by_board(block),
        };
        let mut cautions: Vec<String> = Vec::new();
        for stage in block {
            let said = self.card(stage).cautions.into_iter().map(|t| t.render(self.style));
            for one in said.gather() {
                if !cautions.contains(&one) {
                    cautions.push(one);
                }
            }
        }
        rows.push(Row::Heading(core::mem::take(&mut heads)));
        rows.extend(cautions.into_iter().map(Row::Caution));
        rows.extend(steps);
    }

    /// The steps board by board, in the order in which the boards come up; boards with the same steps together.
    fn by_board(&self, block: &[Stage]) -> Vec<Row> {
        let mut order: Vec<(u32, Vec<&Stage>)> = Vec::new();
        for stage in block {
            match order.iter_mut().find(|o| o.0 == stage.tick.board) {
                Some(own) => own.1.push(stage),
                None => order.push((stage.tick.board, vec![stage])),
            }
        }
        let mut together: Vec<(Group, Vec<&Stage>, Vec<&Stage>)> = Vec::new();
        for (board, steps) in order {
            let like = |one: &&mut (Group, Vec<&Stage>, Vec<&Stage>)| {
                let same = self.groups.iter().any(|g| g.contains(&board) && g.contains(&one.0[0]));
                let cuts = |all: &[&Stage]| all.iter().map(|s| s.tick.at).gather();
                same && cuts(&one.1) == cuts(&steps)
            };
            match together.iter_mut().find(like) {
                Some(one) => {
                    one.0.push(board);
                    one.2.extend(steps);
                }
                None => together.push((vec![board], steps.clone(), steps)),
            }
        }
        let mut out = Vec::new();
        for (boards, steps, all) in together {
            let each = if boards.len() > 1 { ", on each:" } else { ":" };
            let job = self.job_of(&boards).and_then(|at| self.walk.jobs.jobs.get(at));
            let stock = job.map_or("", |j| &j.name);
            out.push(Row::Line(format!("{} of {stock}{each}", self.called(&boards))));
            for step in steps {
                let mut like = all.iter().filter(|s| s.tick.at == step.tick.at);
                let done = like.all(|s| self.begun.done.contains(&s.tick));
                out.push(Row::Step { done, words: self.step(step, boards.len() > 1) });
            }
        }
        out
    }

    /// What is done to parts at the bench, those of a kind together.
    fn parts(&self, block: &[Stage]) -> Vec<Row> {
        let mut kinds: Vec<(String, u32, bool)> = Vec::new();
        for stage in block {
            let words = self.step(stage, true);
            let done = self.begun.done.contains(&stage.tick);
            match kinds.iter_mut().find(|k| k.0 == words) {
                Some(one) => (one.1, one.2) = (one.1 + 1, one.2 && done),
                None => kinds.push((words, 1, done)),
            }
        }
        let row = |(words, count, done): (String, u32, bool)| match count {
            1 => Row::Step { done, words },
            n => Row::Step { done, words: format!("{n} \u{d7} {words}") },
        };
        kinds.into_iter().map(row).gather()
    }

    /// One step in words; `many`: of parts whose numbers are left out.
    fn step(&self, stage: &Stage, many: bool) -> String {
        if let What::Rip(rip) = &stage.what {
            return rip.words.render(self.style);
        }
        let card = self.card(stage);
        let at = (stage.tick.board, stage.tick.at);
        let title = match &stage.what {
            What::Cut(cut) if many => self.ends(cut, stage.tick.board),
            What::Bench(_) if many => {
                let rest = card.title.strip_prefix(&self.walk.called(at)).unwrap_or_default();
                let name = self.walk.single(at.0, at.1).map_or("", |(kind, _)| &kind.name);
                [name, rest].concat()
            }
            _ => card.title.clone(),
        };
        let mut out = vec![title];
        for (name, text) in &card.rows {
            let said = text.render(self.style);
            match *name {
                // Said above, or by the title.
                "Board" | "Stop" | "On this saw" if matches!(stage.what, What::Cut(_)) => {}
                "Board" => {}
                "Frees" if many => {}
                "Lies" if said.starts_with("Face up") => {}
                name => out.push(format!("{name}: {}", lower_first(&said))),
            }
        }
        out.join(". ") + "."
    }

    /// The ends that a cut makes, without the numbers of their parts.
    fn ends(&self, cut: &AtSaw, board: u32) -> String {
        let c = &cut.cutting;
        let ends = c.finishes.iter().filter_map(|f| {
            let (kind, _) = self.walk.single(board, f.of.place as u32)?;
            let end = if kind.mirrored { f.end.other() } else { f.end };
            Some(format!("{}, {}", kind.name, kind.part.sides.end(end)))
        });
        let ends = ends.gather().join("; ");
        match c.kind {
            offsquare_work::run::Kind::Trim => format!("Trim the board: {ends}"),
            offsquare_work::run::Kind::Crosscut => ends,
        }
    }
}

/// "Swing left 34 1/2°, blade upright. Stop 12 in left of the blade", as this saw shows it.
fn setting(card: &Card, cut: &AtSaw, style: &Style) -> String {
    let reading = |r: &offsquare_work::walk::Reading| match r.side {
        offsquare_cuts::parts::Side::Neither => r.words(),
        _ => format!("{} {}", r.words(), say!("{}", r.set).render(style)),
    };
    let mut out = card.readings.iter().map(reading).gather().join(", ");
    let rows = card.rows.iter().filter(|(name, _)| matches!(*name, "Stop" | "On this saw"));
    for (name, text) in rows {
        let said = text.render(style);
        out = match (out.is_empty(), *name) {
            (true, _) => said,
            (_, "Stop") => format!("{out}. Stop {said}"),
            _ => format!("{out}. {said}"),
        };
    }
    match (out.is_empty(), cut.set_up.way_out.is_some()) {
        (true, true) => "Past this saw".to_owned(),
        (true, _) => "Square".to_owned(),
        _ => out,
    }
}

fn at_bench(work: AtBench) -> &'static str {
    match work {
        AtBench::Cut(_) => "Then the parts' own cuts",
        AtBench::Finish(_) => "Then the ends that are finished by hand",
        AtBench::Mark => "Then the marks on the parts",
        AtBench::Lap(_) => "Then laps and housings",
        AtBench::Drill => "Then the holes",
    }
}
