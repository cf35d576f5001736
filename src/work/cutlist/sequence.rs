//! The order of cuts in a maker's words: when the saw is set, when the stop block, when the board is
//! flipped.

use super::on_blank::{self, on_boards};
use super::{BlankCut, Entry, Instance, Job, Lying, ShownPlan};
use offsquare_cuts::parts::{Cut, End, Part, Side};
use offsquare_cuts::saw::{SawProfile, wording};
use offsquare_planner::guillotine::{self, Falls, Saw};
use offsquare_planner::{
    ACCEPTED, BoardCut, CutBoard, SawCut, Sequence, finish, miters, sequence_on, squared,
};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, AngleStep, Length, Text, print_angle, say};

/// One line of the order of cuts.
#[derive(Clone, Debug, PartialEq)]
pub enum OrderLine {
    /// The saw is set.
    Saw(Text),
    /// The stop block is set.
    Stop(Text),
    /// A board is marked and cut.
    Cut(Text),
}

/// The cuts of a job's boards in order: first those of kept boards, then those of the plan, then those on
/// their blanks. `groups`: places of boards that are cut alike, kept ones first and each by itself; the cuts are those of
/// the first of each, what is counted goes over all. `plain`: blanks first, then their miters.
///
/// Rectangles are ripped board by board, and [`rip_lines`] lists their cuts: of them it says only how often
/// a fence, a stop and then the miter saw are set, boards that are alike once.
pub fn order(job: &Job, boards: &[CutBoard], groups: &[Vec<usize>], plain: bool) -> Sequence {
    let firsts: Vec<CutBoard> =
        groups.iter().filter_map(|g| boards.get(*g.first()?).cloned()).gather();
    let instance = match &job.instance {
        Instance::Sticks(instance) => instance,
        Instance::Rectangles(instance) => {
            let cuts = firsts.iter().flat_map(|b| guillotine::steps(instance, b)).gather();
            let placed = firsts.iter().flat_map(|b| &b.parts);
            let blanks = on_blank::settings(placed.flat_map(|p| &job.parts[p.part].on_blank));
            let saw_changes = guillotine::settings(&cuts) + blanks;
            return Sequence { saw_changes, ..Sequence::default() };
        }
    };
    let good = |kind: usize| job.good_ends(kind);
    let kept = job.kept.len().min(firsts.len());
    let (held, planned) = firsts.split_at(kept);
    let mut all = sequence_on(instance, held, &good);
    let mut more = on_boards(&job.parts, &firsts);
    let rest = if plain {
        let ends = miters(instance, planned);
        more.extend(ends.into_iter().map(|c| BoardCut { board: c.board + kept, ..c }));
        sequence_on(&squared(instance), planned, &good)
    } else {
        sequence_on(instance, planned, &good)
    };
    let before = all.groups.len();
    all.saw_changes += rest.saw_changes;
    if let (Some(last), Some(next)) = (all.cuts.last(), rest.cuts.first()) {
        all.saw_changes += usize::from((last.saw, last.bevel) != (next.saw, next.bevel));
    }
    all.groups.extend(rest.groups);
    all.cuts.extend(rest.cuts.into_iter().map(|c| SawCut {
        board: c.board + kept,
        group: c.group.map(|g| g + before),
        ..c
    }));
    finish(&mut all, more);
    over_all(all, groups)
}

/// The cuts of the first of each group, counted over all of it.
fn over_all(mut all: Sequence, groups: &[Vec<usize>]) -> Sequence {
    all.flips = 0;
    for group in &mut all.groups {
        group.count = 0;
    }
    for cut in &mut all.cuts {
        let group = &groups[cut.board];
        if let Some(stop) = cut.group.and_then(|g| all.groups.get_mut(g)) {
            stop.count += group.len();
        }
        all.flips += usize::from(cut.flip) * group.len();
        cut.board = group[0];
    }
    all
}

/// An angle as the saw is set to it: its nearest mark, and the exact one beside it where that reads otherwise.
fn at_mark(text: Text, set: Angle, exact: Angle, side: &str) -> Text {
    let tenths = |a: Angle| print_angle(a, AngleStep::Tenth);
    let text = text.and(set).and(side.to_owned());
    if tenths(set) == tenths(exact) { text } else { text.and(" (exactly ").and(exact).and(")") }
}

/// Square, or to so many degrees on that side.
fn swung(miter: Angle, side: Side, saw: &SawProfile) -> Text {
    if miter.0 == 0.0 {
        return say!("Set the saw square");
    }
    let words = match side {
        Side::Left => ", swung left",
        _ => ", swung right",
    };
    at_mark(say!("Set the saw to "), saw.miter_mark(miter, side).0, miter, words)
}

/// What the saw is set to for the cuts along a board so wide, or that this saw cannot.
fn setting(miter: Angle, side: Side, width: f64, saw: &SawProfile) -> Text {
    let reach = saw.width_at(miter);
    if miter.0 > saw.miter_most().0 + 1e-9 {
        return say!(
            "{} is past this saw: mark these cuts with a tape, and use a hand saw or a sled.",
            miter
        );
    }
    let mut text = swung(miter, side, saw).and(".");
    text.extend(wording::off_zeros_of(saw, miter, Angle::ZERO));
    if width > reach.0 * (1.0 + 1e-9) {
        return text
            .and(" The board is wider than it cuts there, ")
            .and(reach)
            .and(": use a hand saw or a sled.");
    }
    text
}

/// The same for a cut on a blank. How a part of a layout lies for it is its saw card's to say.
fn setting_on_blank(
    (miter, bevel): (f64, f64),
    (part, line): &(Part, Cut),
    on_card: bool,
    saw: &SawProfile,
) -> Text {
    let (miter, bevel) = (Angle(miter), Angle(bevel));
    if !saw.can_cut(part, line) {
        let mut text =
            if bevel.0 == 0.0 { say!(miter) } else { say!("{} with a tilt of {}", miter, bevel) };
        text.push(
            " is past this saw for these: mark them with a tape, and use a hand saw or a sled.",
        );
        return text;
    }
    let side = if miter.0 <= saw.miter_right.0 + 1e-9 { Side::Right } else { Side::Left };
    let mut text = match miter.0 > 0.0 {
        true => at_mark(say!("Set the saw to "), saw.miter_mark(miter, side).0, miter, ""),
        false => say!("Set the saw square"),
    };
    if bevel.0 > 0.0 {
        let tilt = saw.bevel_mark(bevel, Side::Left).0;
        text = at_mark(text.and(" and tilt the blade "), tilt, bevel, "");
    }
    let mut text = text.and(if on_card { ": each as its saw card lays it." } else { "." });
    text.extend(wording::off_zeros_of(saw, miter, bevel));
    text
}

/// To which side the saw is swung throughout: where the stop block is then what the saw cards of the parts say,
/// for as many parts as may be; right where that is the same, unless it is past the saw.
fn side(
    (job, width): (&Job, f64),
    boards: &[CutBoard],
    order: &Sequence,
    entries: &[Entry],
    saw: &SawProfile,
) -> Side {
    let most = order.cuts.iter().filter(|c| c.bevel == 0.0).fold(0.0, |m: f64, c| m.max(c.saw));
    let goes = |limit: Angle| most <= limit.0 + 1e-9;
    match (goes(saw.miter_left), goes(saw.miter_right)) {
        (true, false) => return Side::Left,
        (false, true) => return Side::Right,
        (false, false) if saw.miter_left > saw.miter_right => return Side::Left,
        (false, false) => return Side::Right,
        (true, true) => {}
    }
    let mut agree = [0usize; 2];
    for cut in &order.cuts {
        let place = cut.frees.and_then(|p| boards.get(cut.board)?.parts.get(p));
        let group = cut.group.and_then(|g| order.groups.get(g));
        let (Some(place), Some(group)) = (place, group) else {
            continue;
        };
        let id = job.parts.get(place.part).map(|p| p.entry);
        let Some(entry) = entries.iter().find(|e| Some(e.id) == id) else {
            continue;
        };
        let end = if place.turned { End::Left } else { End::Right };
        let Some(at) = entry.stop_on_card(end, Length(width), saw) else {
            continue;
        };
        agree[0] += usize::from((group.length - at.0).abs() < 1e-6);
        agree[1] += usize::from((group.length_swung_left - at.0).abs() < 1e-6);
    }
    if agree[1] > agree[0] { Side::Left } else { Side::Right }
}

/// The order of cuts of what is shown of a job of sticks as lines to follow, at this saw. Boards are called by
/// their numbers; marks are counted from the left end of the whole board, trims and bad stretches included.
pub fn order_lines(
    job: &Job,
    shown: &ShownPlan,
    entries: &[Entry],
    profile: &SawProfile,
) -> Vec<OrderLine> {
    let mut out = Vec::new();
    let Some(width) = job.instance.sticks().map(|i| i.width) else {
        return out;
    };
    let (boards, order) = (&shown.boards, &shown.order);
    let (mut saw, mut stop) = (None, None);
    let side = side((job, width), boards, order, entries, profile);
    let entry = |part: usize| {
        let id = job.parts.get(part).map(|p| p.entry);
        entries.iter().find(|e| Some(e.id) == id)
    };
    let called = |part: usize| entry(part).map_or_else(|| "Part".to_owned(), Entry::called);
    let mut cuts = order.cuts.iter().peekable();
    while let Some(cut) = cuts.next() {
        let Some(board) = boards.get(cut.board) else {
            continue;
        };
        let on_blank = cut.blank.and_then(|p| board.parts.get(p)).and_then(|p| {
            let line = job.parts.get(p.part)?.on_blank.get(cut.nth?)?;
            Some((entry(p.part)?, line))
        });
        if saw != Some((cut.saw, cut.bevel)) {
            saw = Some((cut.saw, cut.bevel));
            out.push(OrderLine::Saw(match on_blank {
                Some((entry, line)) => {
                    let blank = entry.blank(line, (Length(width), None));
                    let on_card = entry.from.is_some();
                    setting_on_blank((cut.saw, cut.bevel), &blank, on_card, profile)
                }
                None => setting(Angle(cut.saw), side, width, profile),
            }));
        }
        if cut.group != stop && cut.group.is_some() {
            stop = cut.group;
            let group = cut.group.and_then(|g| order.groups.get(g));
            if let Some(group) = group.filter(|g| g.count > 1) {
                let at = if side == Side::Left { group.length_swung_left } else { group.length };
                out.push(OrderLine::Stop(say!(
                    "Stop block at {}{}",
                    Length(at),
                    format!(": {}, {} pieces.", called(group.part), group.count)
                )));
            }
        }
        // What is done alike again and again is one line.
        let mut made = shown.times(cut);
        let mut turns = 1;
        while let Some(next) = cuts.next_if(|next| again(boards, cut, next)) {
            made += shown.times(next);
            turns += 1;
        }
        out.push(OrderLine::Cut(match (on_blank, cut.blank) {
            (Some((entry, line)), _) => on_blank::line(entry, line, made, Length(width)),
            (None, None) if made > 1 && cut.frees.is_some() => against(shown, cut, turns),
            _ => at_board(job, board, cut, (shown, made, side), &called),
        }));
    }
    out
}

const FLIP_EACH: &str = "flip each over, ";

/// Whether a cut is made as the one before it: on a blank alike at the same marks, or with the same board against the same
/// stop.
fn again(boards: &[CutBoard], cut: &SawCut, next: &SawCut) -> bool {
    let part = |c: &SawCut| Some(boards.get(c.board)?.parts.get(c.blank?)?.part);
    let near = |a: f64, b: f64| (a - b).abs() <= ACCEPTED;
    if (cut.saw, cut.bevel) != (next.saw, next.bevel) {
        false
    } else if cut.blank.is_none() {
        let board = next.blank.is_none() && next.board == cut.board && !next.flip;
        board && cut.frees.is_some() && cut.group == next.group && next.group.is_some()
    } else {
        part(cut) == part(next)
            && cut.nth == next.nth
            && (cut.nth.is_some()
                || near(cut.mark_a, next.mark_a)
                    && near(cut.mark_b, next.mark_b)
                    && (cut.kerf_right, cut.flip, cut.flipped)
                        == (next.kerf_right, next.flip, next.flipped))
    }
}

/// "30 boards alike, 1 to 30: 4 each against the stop."
fn against(shown: &ShownPlan, cut: &SawCut, turns: usize) -> Text {
    let lying = shown.lying(cut.board);
    let who = lying.map_or_else(|| format!("Board {}", cut.board), |l| l.called("board"));
    let (each, flip) = match shown.times(cut) {
        1 => ("", "flip it over, "),
        _ => (" each", FLIP_EACH),
    };
    let flip = if cut.flip { flip } else { "" };
    say!(format!("{who}: {flip}{turns}{each} against the stop."))
}

/// Where a board, or a plain blank, is marked and cut; `made`: so many blanks alike.
fn at_board(
    job: &Job,
    board: &CutBoard,
    cut: &SawCut,
    (shown, made, side): (&ShownPlan, usize, Side),
    called: &dyn Fn(usize) -> String,
) -> Text {
    let start = if cut.blank.is_some() { 0.0 } else { job.boards[board.board].start };
    let part = cut.frees.or(cut.blank).and_then(|p| board.parts.get(p));
    let of = part.map_or_else(String::new, |p| called(p.part));
    let mut line = say!(match (cut.blank, made) {
        (Some(_), 1) => format!("Blank of {of}: "),
        (Some(_), n) => format!("{n} blanks of {of}: "),
        (None, _) => match shown.lying(cut.board) {
            Some(lying) => lying.called("board") + ": ",
            None => format!("Board {}: ", cut.board),
        },
    });
    if cut.flip {
        line = line.and(if shown.times(cut) > 1 { FLIP_EACH } else { "flip it over, " });
    }
    // Flipped over its long axis, the edge that the plan has nearest you lies at the fence.
    let (mut near, mut fence) = (cut.mark_a, cut.mark_b);
    if cut.flipped != (side == Side::Left) {
        (near, fence) = (fence, near);
    }
    line = line.and("mark ").and(Length(near + start));
    if cut.miter != 0.0 {
        line = line.and(" near you, ").and(Length(fence + start)).and(" at the fence");
    }
    line = line.and(if cut.kerf_right {
        "; blade right of the line"
    } else {
        "; blade left of the line"
    });
    match cut.frees {
        Some(_) => line.and(format!(". Frees {of}.")),
        None => line.and("."),
    }
}

/// The cuts that remain once all blanks of a job are ripped and crosscut, setting by setting.
pub fn blank_lines(
    job: &Job,
    boards: &[Lying],
    entries: &[Entry],
    saw: &SawProfile,
) -> Vec<OrderLine> {
    let mut counts = vec![0usize; job.parts.len()];
    for b in boards {
        for p in &b.cut.parts {
            counts[p.part] += b.members.len();
        }
    }
    let mut all: Vec<(&Entry, &BlankCut, usize)> = Vec::new();
    for (part, count) in job.parts.iter().zip(counts) {
        if let Some(entry) = entries.iter().find(|e| e.id == part.entry).filter(|_| count > 0) {
            all.extend(part.on_blank.iter().map(|c| (entry, c, count)));
        }
    }
    let setting = |c: &BlankCut| (c.miter.abs(), c.bevel);
    offsquare_units::num::sort_by(&mut all, |a, b| {
        let (a, b) = (setting(a.1), setting(b.1));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    let mut out = Vec::new();
    let mut set = None;
    for (entry, cut, count) in all {
        let width = entry.seen.unwrap_or_default();
        if set != Some(setting(cut)) {
            set = Some(setting(cut));
            let (blank, on_card) = (entry.blank(cut, (width, None)), entry.from.is_some());
            out.push(OrderLine::Saw(setting_on_blank(setting(cut), &blank, on_card, saw)));
        }
        out.push(OrderLine::Cut(on_blank::line(entry, cut, count, width)));
    }
    out
}

/// One cut of a ripped board or a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct RipStep {
    /// Which piece of the board's tree is cut; none: the board's own end.
    pub piece: Option<usize>,
    pub is_rip: bool,
    pub measure: Length,
    pub words: Text,
    /// Places of the parts that it frees.
    pub frees: Vec<u32>,
}

/// The cuts of a ripped board or a sheet in order: what its ends give up and its bad stretches first, then its tree.
pub fn rip_steps(job: &Job, cut: &CutBoard, entries: &[Entry]) -> Vec<RipStep> {
    let Some(instance) = job.instance.rectangles() else { return Vec::new() };
    let called = |placement: usize| {
        let part = cut.parts.get(placement).and_then(|p| job.parts.get(p.part));
        let entry = entries.iter().find(|e| Some(e.id) == part.map(|p| p.entry));
        entry.map_or_else(|| "Part".to_owned(), Entry::called)
    };
    let falls = |f: Option<Falls>| match f {
        Some(Falls::Part { placement, .. }) => Some(called(placement)),
        Some(Falls::Piece(_)) => Some("a piece to cut again".to_owned()),
        Some(Falls::Rest(_)) => Some("the rest".to_owned()),
        None => None,
    };
    let whole = format!("The whole {}: ", job.board());
    let [from, to] = job.usable(cut.board);
    let [left, right] = job.good_ends(cut.board);
    let mut out: Vec<RipStep> = Vec::new();
    let mut trim = |on: Text, at: f64, falls: &'static str| {
        let words = on.and("crosscut at ").and(Length(at)).and(falls);
        out.push(RipStep {
            piece: None,
            is_rip: false,
            measure: Length(at),
            words,
            frees: Vec::new(),
        });
    };
    if !left {
        let on = say!(whole.clone());
        trim(on, from, " from its left end, blade left of the line: what is left of it falls off.");
    }
    if !right {
        let on = if left { say!(whole.clone()) } else { say!("What is left of it: ") };
        trim(
            on,
            to - if left { 0.0 } else { from },
            " from its left end: the rest is cut no more.",
        );
    }
    let line = |s: guillotine::Step| {
        let piece = cut.pieces.get(s.piece);
        let size = piece.map_or((0.0, 0.0), |p| (p.length, p.width));
        let on = if s.piece == 0 && left && right {
            say!(whole.clone())
        } else {
            say!("The piece of {} by {}: ", Length(size.0), Length(size.1))
        };
        let line = match s.saw {
            Saw::Rip => on.and("rip at ").and(Length(s.measure)).and(" from its lower edge"),
            Saw::Crosscut => {
                on.and("crosscut at ").and(Length(s.measure)).and(" from its left end")
            }
        };
        let gives: Vec<String> = [falls(s.first), falls(s.second)].into_iter().flatten().gather();
        let frees = [s.first, s.second].into_iter().flatten().filter_map(|f| match f {
            Falls::Part { placement, .. } => Some(placement as u32),
            _ => None,
        });
        RipStep {
            piece: Some(s.piece),
            is_rip: s.saw == Saw::Rip,
            measure: Length(s.measure),
            words: line.and(format!(": {}.", gives.join(" and "))),
            frees: frees.gather(),
        }
    };
    out.extend(guillotine::steps(instance, cut).into_iter().map(line));
    out
}
