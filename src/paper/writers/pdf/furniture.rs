//! What every page carries besides its figure: title, bars to measure, page map, seams and crosses.

use super::ink::{Face, Ink, Setting, Stroke};
use super::plan::{Figure, OVERLAP, Page, Tile};
use crate::drawing::{Mark, Rect, Run, runs, width};
use offsquare_geometry::{Point, Vector};
use offsquare_units::MM_PER_INCH;
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
    /// Left of the window stands the upright bar, above it the title, below it the level bar.
    const LEFT: f64 = 11.0;
    const ABOVE: f64 = 12.0;
    const BELOW: f64 = 29.0;

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
    /// What the bars measured, where that was corrected for.
    pub corrected: Option<(f64, f64)>,
}

/// Title and page number above, bars below and at the left.
pub fn frame(ink: &mut Ink, ground: Ground, words: &Words) {
    let right = ground.width;
    ink.words(Point::new(0.0, 4.2), words.title, Face::Bold, 4.4);
    let page = format!("page {} of {}", words.page, words.pages);
    let start = right - width(&runs(&page), 3.6);
    ink.words(Point::new(start, 4.2), &page, Face::Plain, 3.6);
    ink.stroke(FINE).lines(&[(Point::new(0.0, 6.6), Point::new(right, 6.6))]);
    let key =
        "Thin solid line: cut on it. X: this side falls off. Long dashes: the board's own edge.";
    light(ink, Point::new(Ground::LEFT, 10.0), key, 2.7);
    level_bar(ink, Point::new(Ground::LEFT, ground.height - 20.0));
    upright_bar(ink, Point::new(5.0, Ground::ABOVE + 2.0));
    let y = ground.height - 6.2;
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

fn light(ink: &mut Ink, start: Point, words: &str, size: f64) {
    ink.text(start, &runs(words), (Face::Plain, size), false, 0.3);
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

/// A small picture of how the pages lie, at the lower right: this page shaded, all numbered.
pub fn map(ink: &mut Ink, ground: Ground, pages: &[Page], this: usize, figures: &[Figure]) {
    let room = Rect::new(
        Point::new(ground.width - 42.0, ground.height - 27.0),
        Point::new(ground.width, ground.height - 1.0),
    );
    match &pages[this] {
        Page::Tile(tile) => tile_map(ink, &room, pages, tile, figures),
        Page::Wholes(wholes) => {
            let window = ground.window();
            let scale = (room.width() / window.width()).min(room.height() / window.height());
            let sheet = Rect::new(
                Point::new(room.high.x - window.width() * scale, room.low.y),
                Point::new(room.high.x, room.low.y + window.height() * scale),
            );
            ink.rect(&sheet, Some(0.93));
            for whole in wholes {
                let figure = &figures[whole.figure];
                small_outline(ink, figure, whole.setting, sheet.low, scale);
            }
            ink.stroke(FINE).rect(&sheet, None);
            number(ink, &sheet, this + 1);
        }
        Page::TooLarge(..) => {}
    }
}

fn tile_map(ink: &mut Ink, room: &Rect, pages: &[Page], tile: &Tile, figures: &[Figure]) {
    let step = (tile.view.width() - OVERLAP, tile.view.height() - OVERLAP);
    let whole =
        (step.0 * f64::from(tile.columns) + OVERLAP, step.1 * f64::from(tile.rows) + OVERLAP);
    let scale = (room.width() / whole.0).min(room.height() / whole.1);
    let low = Point::new(room.high.x - whole.0 * scale, room.low.y);
    let cell = |t: &Tile| {
        let corner = low
            + Vector::new(f64::from(t.column) * step.0 * scale, f64::from(t.row) * step.1 * scale);
        Rect::new(
            corner,
            corner + Vector::new(tile.view.width() * scale, tile.view.height() * scale),
        )
    };
    ink.rect(&cell(tile), Some(0.88));
    // The figure as the first column's and first row's tile sets it.
    let by = tile.setting.by
        + Vector::new(
            f64::from(tile.column) * step.0 - tile.view.low.x,
            f64::from(tile.row) * step.1 - tile.view.low.y,
        );
    let setting = Setting { by, ..tile.setting };
    small_outline(ink, &figures[tile.figure], setting, low, scale);
    for (i, page) in pages.iter().enumerate() {
        if let Page::Tile(other) = page
            && other.figure == tile.figure
        {
            ink.stroke(FINE).rect(&cell(other), None);
            number(ink, &cell(other), i + 1);
        }
    }
}

fn number(ink: &mut Ink, cell: &Rect, page: usize) {
    let at = Point::new(cell.low.x + 0.7, cell.high.y - 0.8);
    ink.words(at, &page.to_string(), Face::Bold, 2.7);
}

/// Outlines, lines to cut on and marks of a figure, much smaller.
fn small_outline(ink: &mut Ink, figure: &Figure, setting: Setting, low: Point, scale: f64) {
    let set = |p: Point| {
        let p = setting.set(p, figure.drawing.width);
        Point::new(low.x + p.x * scale, low.y + p.y * scale)
    };
    for (class, stroke) in [
        ("stock", Stroke::solid(0.4, 0.1)),
        ("mark", Stroke::solid(0.2, 0.1)),
        ("cut", Stroke::solid(0.0, 0.25)),
    ] {
        let lines: Vec<_> = figure
            .drawing
            .marks
            .iter()
            .filter(|m| m.class() == Some(class))
            .flat_map(Mark::chords)
            .map(|(a, b)| (set(a), set(b)))
            .gather();
        ink.stroke(stroke).lines(&lines);
    }
}

/// Seams to the neighboring pages: a line in the middle of the overlap, which both pages carry,
/// three crosses on it, and the neighbor's number.
pub fn seams(ink: &mut Ink, origin: Point, pages: &[Page], tile: &Tile) {
    let view = Rect::new(
        tile.view.low + (origin - Point::ORIGIN),
        tile.view.high + (origin - Point::ORIGIN),
    );
    let half = OVERLAP / 2.0;
    let neighbor = |columns: i64, rows: i64| {
        pages.iter().position(|page| {
            matches!(page, Page::Tile(t) if t.figure == tile.figure
                && i64::from(t.column) == i64::from(tile.column) + columns
                && i64::from(t.row) == i64::from(tile.row) + rows)
        })
    };
    for (columns, rows) in [(-1, 0), (1, 0), (0, -1), (0, 1)] {
        let Some(page) = neighbor(columns, rows) else {
            continue;
        };
        let (from, to) = match (columns, rows) {
            (-1, _) => (view.low.x + half, view.low.x + half),
            (1, _) => (view.high.x - half, view.high.x - half),
            _ => (view.low.x, view.high.x),
        };
        let (above, below) = match rows {
            -1 => (view.low.y + half, view.low.y + half),
            1 => (view.high.y - half, view.high.y - half),
            _ => (view.low.y, view.high.y),
        };
        let (a, b) = (Point::new(from, above), Point::new(to, below));
        ink.stroke(Stroke { gray: 0.5, width: 0.1, dashes: &[0.8, 1.6] }).lines(&[(a, b)]);
        for share in [0.1, 0.5, 0.9] {
            cross(ink, a.toward(b, share));
        }
        let words = runs(&format!("page {}", page + 1));
        let long = width(&words, 2.7);
        let beside = a.toward(b, 0.3);
        // On the far side of the seam, where the neighbor's paper will lie.
        let start = match (columns, rows) {
            (-1, _) => beside + Vector::new(-1.0, long / 2.0),
            (1, _) => beside + Vector::new(3.0, long / 2.0),
            (_, -1) => beside + Vector::new(-long / 2.0, -1.0),
            _ => beside + Vector::new(-long / 2.0, 3.0),
        };
        ink.text(start, &words, (Face::Plain, 2.7), columns != 0, 0.3);
    }
}

/// A registration cross: arms of 3 mm in a ring that is open on the arms.
fn cross(ink: &mut Ink, at: Point) {
    let arm = |x: f64, y: f64| (at + Vector::new(-x, -y), at + Vector::new(x, y));
    ink.stroke(Stroke::solid(0.0, 0.15)).lines(&[arm(3.0, 0.0), arm(0.0, 3.0)]);
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
