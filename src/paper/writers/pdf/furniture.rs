//! What every page carries besides its figure: title, bars to measure, page map, seams and crosses.

use super::ink::{Face, Ink, Setting, Stroke};
use super::plan::{CROSS, Figure, OVERLAP, Page, Tile};
use crate::drawing::{CUT, Mark, OFFCUT, Rect, Run, hatch, outside, runs, width};
use crate::square_code::{PAPER_MODULE, SquareCode};
use offsquare_geometry::{Point, Vector};
use offsquare_units::MM_PER_INCH;
use offsquare_units::num;
use offsquare_units::num::Gather;

/// Rules and light figures.
const FINE: Stroke = Stroke::solid(0.35, 0.15);
const BAR: Stroke = Stroke::solid(0.0, 0.25);

/// Parts of the ground, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground {
    pub width: f64,
    pub height: f64,
}

impl Ground {
    /// Left of the window stands the upright bar, above it title and key, below it the level bar.
    const LEFT: f64 = 11.0;
    const ABOVE: f64 = 15.6;
    const BELOW: f64 = 26.2;

    /// Where figures stand.
    pub fn window(&self) -> Rect {
        Rect::new(
            Point::new(Ground::LEFT, Ground::ABOVE),
            Point::new(self.width, self.height - Ground::BELOW),
        )
    }
}

/// What the page's own words say.
pub struct Words<'a> {
    pub title: &'a str,
    pub page: usize,
    pub pages: usize,
    /// The classes of the lines that stand on the page.
    pub kinds: &'a [&'static str],
    /// What the bars measured, where that was corrected for.
    pub corrected: Option<(f64, f64)>,
}

/// Where a page without a key begins, mm.
pub const HEAD: f64 = 9.0;

/// Title and page number, with a rule under them.
pub fn head(ink: &mut Ink, ground: Ground, title: &str, (page, pages): (usize, usize)) {
    let right = ground.width;
    ink.words(Point::new(0.0, 4.2), title, Face::Bold, 4.4);
    let page = format!("page {page} of {pages}");
    let start = right - width(&runs(&page), 3.6);
    ink.words(Point::new(start, 4.2), &page, Face::Plain, 3.6);
    ink.stroke(FINE).lines(&[(Point::new(0.0, 6.6), Point::new(right, 6.6))]);
}

/// Title and page number above, bars below and at the left.
pub fn frame(ink: &mut Ink, ground: Ground, words: &Words) {
    let right = ground.width;
    head(ink, ground, words.title, (words.page, words.pages));
    key(ink, right, words.kinds);
    level_bar(ink, Point::new(Ground::LEFT, ground.height - 18.6));
    upright_bar(ink, Point::new(5.0, Ground::ABOVE + 2.0));
    let y = ground.height - 6.0;
    ink.words(
        Point::new(Ground::LEFT, y),
        "If this bar is not 100 mm, choose Actual size / 100 %",
        Face::Bold,
        3.5,
    );
    let more = match words.corrected {
        None => {
            "Still off? Tell Offsquare what both 100 mm bars measure, and print again.".to_owned()
        }
        Some((across, along)) => format!(
            "Corrected for bars that measured {} mm across and {} mm along.",
            crate::drawing::figure(across),
            crate::drawing::figure(along)
        ),
    };
    light(ink, Point::new(Ground::LEFT, y + 5.0), &more, 3.0);
}

/// What each line means, most important first.
const KEY: [(&str, &str); 6] = [
    (CUT, "cut on this line"),
    (OFFCUT, "falls off"),
    ("mark", "mark only, do not cut"),
    ("stock", "the stock's own edge"),
    ("center", "to measure and set by"),
    ("hidden", "the stock goes on"),
];
/// Type of the key, and how wide a sample is.
const KEY_TYPE: f64 = 3.3;
const SAMPLE: f64 = 12.0;

/// Samples of the lines that stand on the page with their words, in at most two rows below the title.
fn key(ink: &mut Ink, right: f64, kinds: &[&'static str]) {
    let mut at = Point::new(0.0, 10.4);
    for (class, words) in KEY.into_iter().filter(|k| kinds.contains(&k.0)) {
        let face = if class == CUT { Face::Bold } else { Face::Plain };
        // Bold is wider than the plain face that it is measured in.
        let long = SAMPLE + 1.5 + width(&runs(words), KEY_TYPE) * 1.08;
        if at.x + long > right {
            at = Point::new(0.0, at.y + 4.3);
        }
        let (from, to) = (at + Vector::new(0.0, -1.2), at + Vector::new(SAMPLE, -1.2));
        let mut sample = vec![Mark::Line { from, to, class }];
        if class == OFFCUT {
            let field = Rect::new(from + Vector::new(0.0, -1.8), to + Vector::new(0.0, 1.8));
            let Rect { low, high } = field;
            let corners = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
            let (x, middle) = (Vector::new(1.5, 1.5), field.middle());
            let arms = [x, Vector::new(x.x, -x.y)].map(|v| (middle + -v, middle + v)).to_vec();
            sample = vec![Mark::Strokes { lines: arms, class }];
            if kinds.contains(&"waste") {
                sample.push(Mark::Strokes { lines: hatch(&corners, 2.0), class: "waste" });
            }
        }
        ink.marks(&sample, 0.0, Setting::PLAIN);
        ink.words(at + Vector::new(SAMPLE + 1.5, 0.0), words, face, KEY_TYPE);
        at.x += long + 5.0;
    }
}

fn light(ink: &mut Ink, start: Point, words: &str, size: f64) {
    ink.text(start, &runs(words), (Face::Plain, size), false, 0.3);
}

/// A square code at the lower right, and what it does.
pub fn code(ink: &mut Ink, ground: Ground, code: &SquareCode) {
    let side = f64::from(code.side()) * PAPER_MODULE;
    let low = Point::new(ground.width - side, ground.height - side);
    for (x, y, n) in code.runs() {
        let from = low + Vector::new(x, y) * PAPER_MODULE;
        let run = Rect::new(from, from + Vector::new(n, 1.0) * PAPER_MODULE);
        ink.rect(&run, Some(0.0));
    }
    for (i, words) in ["A phone\u{2019}s camera", "opens the piece."].into_iter().enumerate() {
        let start = low.x - 1.0 - width(&runs(words), 3.0) * 1.1;
        light(ink, Point::new(start, ground.height - 14.0 + 4.0 * i as f64), words, 3.0);
    }
}

/// 100 mm above, 4 in below, from the same left end.
fn level_bar(ink: &mut Ink, start: Point) {
    let at = |x: f64, y: f64| Point::new(start.x + x, start.y + y);
    ink.stroke(BAR).lines(&[(at(0.0, 0.0), at(100.0, 0.0))]);
    let mut ticks = Vec::new();
    for half in 0..=20 {
        let tall = match half {
            0 | 20 => 4.0,
            n if n % 2 == 0 => 2.6,
            _ => 1.5,
        };
        let x = f64::from(half) * 5.0;
        ticks.push((at(x, 0.0), at(x, -tall)));
    }
    ink.lines(&ticks);
    for (x, label) in [(0.0, "0"), (50.0, "50"), (100.0, "100 mm")] {
        middled(ink, at(x, -4.8), label, x > 99.0);
    }
    ink.lines(&[(at(0.0, 1.4), at(101.6, 1.4))]);
    let mut ticks = Vec::new();
    for quarter in 0..=16 {
        let tall = match quarter {
            0 | 16 => 4.0,
            n if n % 4 == 0 => 3.2,
            n if n % 2 == 0 => 2.2,
            _ => 1.3,
        };
        let x = f64::from(quarter) * 6.35;
        ticks.push((at(x, 1.4), at(x, 1.4 + tall)));
    }
    ink.lines(&ticks);
    for (inches, label) in [(1.0, "1"), (2.0, "2"), (3.0, "3"), (4.0, "4 in")] {
        middled(ink, at(inches * MM_PER_INCH, 8.3), label, inches > 3.5);
    }
}

/// A label around its tick; the last one, with the unit, starts just left of it.
fn middled(ink: &mut Ink, at: Point, label: &str, last: bool) {
    let text = [Run::Words(label.to_owned())];
    let by = if last { 0.8 } else { width(&text, 2.7) / 2.0 };
    ink.words(Point::new(at.x - by, at.y), label, Face::Plain, 2.7);
}

/// 100 mm the other way, reading upwards.
fn upright_bar(ink: &mut Ink, top: Point) {
    let at = |x: f64, y: f64| Point::new(top.x + x, top.y + y);
    ink.stroke(BAR).lines(&[(at(0.0, 0.0), at(0.0, 100.0))]);
    let mut ticks = Vec::new();
    for half in 0..=20 {
        let long = match half {
            0 | 20 => 4.0,
            n if n % 2 == 0 => 2.6,
            _ => 1.5,
        };
        let y = f64::from(half) * 5.0;
        ticks.push((at(0.0, y), at(-long, y)));
    }
    ink.lines(&ticks);
    let text = runs("100 mm");
    let start = at(3.2, 50.0 + width(&text, 2.7) / 2.0);
    ink.text(start, &text, (Face::Plain, 2.7), true, 0.0);
}

/// Type of the numbers on the map.
const MAP_TYPE: f64 = 2.8;

/// A small picture of how the pages of a figure lie, this one shaded and all numbered: at the lower right, or in
/// the margin under the upright bar where they stand in a column. Of more pages than can be read there, those
/// around this one.
pub fn map(ink: &mut Ink, ground: Ground, pages: &[Page], tile: &Tile, figure: &Figure) {
    let (right, below) = (ground.width, ground.height - 1.0);
    let rooms = [
        Rect::new(Point::new(right - 62.0, below - 24.6), Point::new(right, below)),
        Rect::new(Point::new(0.0, Ground::ABOVE + 106.0), Point::new(Ground::LEFT - 1.0, below)),
    ];
    let step = (tile.view.width() - OVERLAP, tile.view.height() - OVERLAP);
    // The longest number stands within its page.
    let number = |page: usize| runs(&page.to_string());
    let wide = |words: &[Run]| width(words, MAP_TYPE) * 1.08;
    let most = (wide(&number(pages.len().max(10))) + 0.9) / tile.view.width();
    let fits = |room: &Rect| {
        let count = |all: u32, long: f64, step: f64| {
            all.min(num::floor((long / most - OVERLAP) / step) as u32).max(1)
        };
        let columns = count(tile.columns, room.width(), step.0);
        let rows = count(tile.rows, room.height(), step.1);
        let whole = (step.0 * f64::from(columns) + OVERLAP, step.1 * f64::from(rows) + OVERLAP);
        (columns, rows, (room.width() / whole.0).min(room.height() / whole.1))
    };
    let [a, b] = rooms.each_ref().map(fits);
    // More pages first, then larger ones.
    let margin = (b.0 * b.1, b.2) > (a.0 * a.1, a.2);
    let ((columns, rows, scale), room) = if margin { (b, rooms[1]) } else { (a, rooms[0]) };
    let first = |at: u32, shown: u32, all: u32| at.saturating_sub(shown / 2).min(all - shown);
    let (left, top) = (first(tile.column, columns, tile.columns), first(tile.row, rows, tile.rows));
    let size = Vector::new(
        (step.0 * f64::from(columns) + OVERLAP) * scale,
        (step.1 * f64::from(rows) + OVERLAP) * scale,
    );
    let low = if margin { room.low } else { Point::new(room.high.x - size.x, room.low.y) };
    let cell = |t: &Tile| {
        let across = (f64::from(t.column) - f64::from(left)) * step.0 * scale;
        let along = (f64::from(t.row) - f64::from(top)) * step.1 * scale;
        let corner = low + Vector::new(across, along);
        let size = Vector::new(tile.view.width() * scale, tile.view.height() * scale);
        Rect::new(corner, corner + size)
    };
    let shown = |t: &Tile| {
        t.figure == tile.figure
            && (left..left + columns).contains(&t.column)
            && (top..top + rows).contains(&t.row)
    };
    let cells = pages.iter().enumerate().filter_map(|(i, page)| match page {
        Page::Tile(t) if shown(t) => Some((number(i + 1), cell(t))),
        _ => None,
    });
    let cells: Vec<(Vec<Run>, Rect)> = cells.gather();
    ink.rect(&cell(tile), Some(0.85));
    let box_of =
        |(words, cell): &(Vec<Run>, Rect)| Rect::around(cell.middle(), wide(words), MAP_TYPE);
    let boxes: Vec<Rect> = cells.iter().map(|c| box_of(c).grown(0.3)).gather();
    // The figure as this page's tile sets it.
    let this = cell(tile).low;
    let set = |p: Point| {
        let p = tile.setting.set(p, figure.drawing.width);
        this + (p - tile.view.low) * scale
    };
    ink.clip(&Rect::new(low, low + size));
    small_outline(ink, figure, &set, &boxes);
    ink.unclip();
    for ((words, cell), number) in cells.iter().zip(&boxes) {
        ink.stroke(FINE).rect(cell, None);
        let start = Point::new(number.low.x + 0.3, number.middle().y + 0.36 * MAP_TYPE);
        ink.text(start, words, (Face::Bold, MAP_TYPE), false, 0.0);
    }
}

/// Outlines, lines to cut on and marks of a figure, much smaller, and clear of some boxes.
fn small_outline(ink: &mut Ink, figure: &Figure, set: &dyn Fn(Point) -> Point, clear: &[Rect]) {
    for (class, stroke) in [
        ("stock", Stroke::solid(0.4, 0.1)),
        ("mark", Stroke::solid(0.2, 0.1)),
        (CUT, Stroke::solid(0.0, 0.25)),
    ] {
        let of_class = figure.drawing.marks.iter().filter(|m| m.class() == Some(class));
        let lines = of_class.flat_map(Mark::chords).map(|(a, b)| (set(a), set(b)));
        ink.stroke(stroke).lines(&outside(lines.gather(), clear));
    }
}

/// The line in the middle of an overlap, which both pages carry, and the words that say which page lies there.
pub struct Seam {
    from: Point,
    to: Point,
    words: Vec<Run>,
    /// What the words take on the ground.
    pub rect: Rect,
    turned: bool,
}

const SEAM_TYPE: f64 = 2.7;

/// The seams of a tile to its neighboring pages. The words stand on the far side, where the neighbor's paper will
/// lie, off the seam, its crosses and every line of the figure that does not break for them.
pub fn seams(window: Point, pages: &[Page], tile: &Tile, figure: &Figure) -> Vec<Seam> {
    let into = window - Point::ORIGIN;
    let view = Rect::new(tile.view.low + into, tile.view.high + into);
    let set = |p: Point| tile.setting.set(p, figure.drawing.width) + into;
    let firm = figure.drawing.marks.iter().filter(|m| !m.gives_way()).flat_map(Mark::chords);
    let firm: Vec<(Point, Point)> = firm.map(|(a, b)| (set(a), set(b))).gather();
    let half = OVERLAP / 2.0;
    let number = |columns: i64, rows: i64| {
        pages.iter().position(|page| {
            matches!(page, Page::Tile(t) if t.figure == tile.figure
                && i64::from(t.column) == i64::from(tile.column) + columns
                && i64::from(t.row) == i64::from(tile.row) + rows)
        })
    };
    let seam = |(columns, rows): (i64, i64)| {
        let words = runs(&format!("page {}", number(columns, rows)? + 1));
        let out = Vector::new(columns as f64, rows as f64);
        // From the middle of the view to the middle of the seam.
        let reach =
            Vector::new(out.x * (view.width() / 2.0 - half), out.y * (view.height() / 2.0 - half));
        let along = Vector::new(out.y.abs() * view.width(), out.x.abs() * view.height()) * 0.5;
        let middle = view.middle() + reach;
        let (from, to) = (middle + -along, middle + along);
        let turned = columns != 0;
        let (long, tall) = (width(&words, SEAM_TYPE), SEAM_TYPE * 1.1);
        let (wide, high) = if turned { (tall, long) } else { (long, tall) };
        let at = |share: u32| {
            let on = from.toward(to, f64::from(share) / 100.0);
            Rect::around(on + out * (half / 2.0), wide, high)
        };
        let struck =
            |r: &Rect| firm.iter().filter(|(a, b)| r.grown(0.5).clips(*a, *b).is_some()).count();
        // Between two crosses, which stand at 10, 50 and 90.
        let places = (18..=42).chain(58..=82).map(at);
        let rect = places.min_by_key(struck)?;
        Some(Seam { from, to, words, rect, turned })
    };
    [(-1, 0), (1, 0), (0, -1), (0, 1)].into_iter().filter_map(seam).gather()
}

/// Draws a seam: its line, three crosses on it, and its words.
pub fn draw_seam(ink: &mut Ink, seam: &Seam) {
    let (a, b) = (seam.from, seam.to);
    ink.stroke(Stroke { gray: 0.5, width: 0.1, dashes: &[0.8, 1.6] }).lines(&[(a, b)]);
    for share in [0.1, 0.5, 0.9] {
        cross(ink, a.toward(b, share));
    }
    let (low, high) = (seam.rect.low, seam.rect.high);
    let base = 0.25 * SEAM_TYPE;
    let start = match seam.turned {
        true => Point::new(high.x - base, high.y),
        false => Point::new(low.x, high.y - base),
    };
    ink.text(start, &seam.words, (Face::Plain, SEAM_TYPE), seam.turned, 0.0);
}

/// A registration cross: arms of 3 mm in a ring that is open on the arms.
fn cross(ink: &mut Ink, at: Point) {
    let arm = |x: f64, y: f64| (at + Vector::new(-x, -y), at + Vector::new(x, y));
    ink.stroke(Stroke::solid(0.0, 0.15)).lines(&[arm(CROSS, 0.0), arm(0.0, CROSS)]);
    let ring = Mark::Arc {
        center: at,
        radius: 1.4,
        from: at + Vector::new(1.4, 0.0),
        to: at + Vector::new(1.4, 0.0),
        large: true,
        clockwise: true,
        class: "seam",
    };
    ink.marks(&[ring], 0.0, Setting::PLAIN);
}
