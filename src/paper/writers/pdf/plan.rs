//! Which figure goes on which page: several on one where they fit, one on several where it must.

use crate::drawing::{Drawing, Mark, Rect, Template, runs, true_size, width};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num;
use offsquare_units::num::Gather;

use super::ink::Setting;

/// By how much neighboring pages of one figure overlap, mm.
pub const OVERLAP: f64 = 10.0;
/// From a seam to the tips of its crosses.
pub const CROSS: f64 = 3.0;
/// Between two figures on one page.
const APART: f64 = 7.0;
/// More pages than this are not printed for one figure.
pub const MOST_PAGES: u32 = 60;

/// Type sizes and line heights of captions, mm.
pub const NAME: f64 = 4.4;
pub const NOTE: f64 = 3.2;
const NAME_LINE: f64 = 6.0;
pub const NOTE_LINE: f64 = 4.3;
const AFTER_CAPTION: f64 = 1.5;
/// A caption is at least so wide before its lines break.
const CAPTION_WIDTH: f64 = 82.0;

/// A template laid out in true size, with its words.
pub struct Figure {
    pub drawing: Drawing,
    pub name: String,
    pub notes: Vec<String>,
}

impl Figure {
    /// The template in true size, in millimeters, named with how many are cut from it: "Leg · 4 pieces".
    pub fn of(template: &Template) -> Figure {
        let pieces = match template.count {
            1 => "1 piece".to_owned(),
            n => format!("{n} pieces"),
        };
        Figure {
            drawing: true_size(&template.scene, &template.style),
            name: format!("{} · {pieces}", template.name),
            notes: template.notes.clone(),
        }
    }

    /// Width and height on paper.
    pub fn size(&self, turned: bool) -> (f64, f64) {
        let (w, h) = (self.drawing.width, self.drawing.height);
        if turned { (h, w) } else { (w, h) }
    }

    /// Its notes broken into lines no wider than that.
    pub fn lines(&self, most: f64) -> Vec<String> {
        self.notes.iter().flat_map(|n| broken_into_lines(n, most)).gather()
    }
}

/// How tall a caption of so many lines is.
pub fn caption_height(lines: usize) -> f64 {
    NAME_LINE + NOTE_LINE * lines as f64 + AFTER_CAPTION
}

/// Words in lines no wider than `most` mm; a single longer word stands alone.
fn broken_into_lines(words: &str, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ') {
        if let Some(last) = lines.last_mut() {
            let longer = format!("{last} {word}");
            if width(&runs(&longer), NOTE) <= most {
                *last = longer;
                continue;
            }
        }
        lines.push(word.to_owned());
    }
    lines
}

/// A whole figure on a page.
pub struct Whole {
    pub figure: usize,
    /// Upper left corner of its caption, in the window.
    pub caption: Point,
    pub lines: Vec<String>,
    pub setting: Setting,
}

/// One page's share of a larger figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tile {
    pub figure: usize,
    pub column: u32,
    pub row: u32,
    pub columns: u32,
    pub rows: u32,
    /// What is seen of it, in the window's coordinates.
    pub view: Rect,
    pub setting: Setting,
}

/// What stands in a page's window.
pub enum Page {
    Wholes(Vec<Whole>),
    Tile(Tile),
    /// A figure that would take too many pages: its number, and how many.
    TooLarge(usize, u32),
}

/// Shares figures out over pages with a window of that size (mm). Figures keep their order. What goes over
/// several pages gets its labels clear of the seams.
pub fn plan(figures: &mut [Figure], templates: &[Template], window: (f64, f64)) -> Vec<Page> {
    let mut pages = Vec::new();
    let mut shelf = Shelf::new(window);
    for (number, (figure, template)) in figures.iter_mut().zip(templates).enumerate() {
        let whole = [false, true]
            .into_iter()
            .find(|turned| Block::of(figure, *turned, window).fits(window));
        match whole {
            Some(turned) => shelf.put(&mut pages, number, Block::of(figure, turned, window)),
            None => {
                shelf.close(&mut pages);
                pages.extend(tiles(figure, template, number, window));
            }
        }
    }
    shelf.close(&mut pages);
    pages
}

/// A figure with its caption.
struct Block {
    turned: bool,
    lines: Vec<String>,
    width: f64,
    height: f64,
}

impl Block {
    fn of(figure: &Figure, turned: bool, window: (f64, f64)) -> Block {
        let (w, h) = figure.size(turned);
        let lines = figure.lines(w.max(CAPTION_WIDTH).min(window.0));
        let widest = lines
            .iter()
            .map(|l| width(&runs(l), NOTE))
            // Bold is wider than the plain face that it is measured in.
            .chain([width(&runs(&figure.name), NAME) * 1.08])
            .fold(w, f64::max);
        Block { turned, width: widest, height: caption_height(lines.len()) + h, lines }
    }
    fn fits(&self, window: (f64, f64)) -> bool {
        self.width <= window.0 && self.height <= window.1
    }
}

/// The page that is being filled, row by row.
struct Shelf {
    window: (f64, f64),
    wholes: Vec<Whole>,
    x: f64,
    y: f64,
    /// Tallest in this row.
    tallest: f64,
}

impl Shelf {
    fn new(window: (f64, f64)) -> Shelf {
        Shelf { window, wholes: Vec::new(), x: 0.0, y: 0.0, tallest: 0.0 }
    }

    fn put(&mut self, pages: &mut Vec<Page>, figure: usize, block: Block) {
        if self.x + block.width > self.window.0 {
            self.y += self.tallest + APART;
            (self.x, self.tallest) = (0.0, 0.0);
        }
        if self.y + block.height > self.window.1 {
            self.close(pages);
        }
        let caption = Point::new(self.x, self.y);
        let below = caption_height(block.lines.len());
        self.wholes.push(Whole {
            figure,
            caption,
            setting: Setting { turned: block.turned, by: Vector::new(self.x, self.y + below) },
            lines: block.lines,
        });
        self.x += block.width + APART;
        self.tallest = self.tallest.max(block.height);
    }

    fn close(&mut self, pages: &mut Vec<Page>) {
        if !self.wholes.is_empty() {
            pages.push(Page::Wholes(std::mem::take(&mut self.wholes)));
        }
        (self.x, self.y, self.tallest) = (0.0, 0.0, 0.0);
    }
}

/// Where the tiles of a figure start in the window: below its caption.
pub fn tile_view(figure: &Figure, window: (f64, f64)) -> Rect {
    let above = caption_height(figure.lines(window.0).len());
    Rect::new(Point::new(0.0, above), Point::new(window.0, window.1))
}

/// A figure over several pages, turned so that it takes the fewest; pages on which nothing of it
/// would stand are left out. The tiles are shared out evenly around its middle.
fn tiles(figure: &mut Figure, template: &Template, number: usize, window: (f64, f64)) -> Vec<Page> {
    let view = tile_view(figure, window);
    let (wide, high) = (view.width(), view.height());
    let count = |size: f64, one: f64| num::ceil((size - OVERLAP) / (one - OVERLAP)).max(1.0);
    let grid = |turned| {
        let (w, h) = figure.size(turned);
        (count(w, wide), count(h, high))
    };
    let pages_of = |(columns, rows): (f64, f64)| columns * rows;
    let turned = pages_of(grid(true)) < pages_of(grid(false));
    let (columns, rows) = grid(turned);
    if pages_of((columns, rows)) > f64::from(MOST_PAGES) {
        let pages = pages_of((columns, rows)).min(f64::from(u32::MAX));
        return vec![Page::TooLarge(number, pages as u32)];
    }
    let (w, h) = figure.size(turned);
    // What the pages hold beyond the figure, shared between both sides.
    let spare = |n: f64, one: f64, size: f64| (n * (one - OVERLAP) + OVERLAP - size) / 2.0;
    let (left, above) = (spare(columns, wide, w), spare(rows, high, h));
    // The lines on which pages meet, each as wide as its crosses.
    let far = w.max(h);
    let mut strips = Vec::new();
    for (count, one, spare, level) in [(columns, wide, left, turned), (rows, high, above, !turned)]
    {
        for n in 1..count as u32 {
            let seam = f64::from(n) * (one - OVERLAP) + OVERLAP / 2.0 - spare;
            let at = if turned && !level { h - seam } else { seam };
            let (low, high) = (at - CROSS, at + CROSS);
            strips.push(if level {
                Rect::new(Point::new(0.0, low), Point::new(far, high))
            } else {
                Rect::new(Point::new(low, 0.0), Point::new(high, far))
            });
        }
    }
    figure.drawing.clear_of(strips, &template.scene, &template.style);
    let (columns, rows) = (columns as u32, rows as u32);
    // In reading order of the figure, whose left end lies below on a turned page.
    let place = |n: u32| match turned {
        true => (n / rows, rows - 1 - n % rows),
        false => (n % columns, n / columns),
    };
    let tile = |n: u32| {
        let (column, row) = place(n);
        let by = Vector::new(
            view.low.x + left - f64::from(column) * (wide - OVERLAP),
            view.low.y + above - f64::from(row) * (high - OVERLAP),
        );
        let setting = Setting { turned, by };
        Tile { figure: number, column, row, columns, rows, view, setting }
    };
    let all = (0..columns * rows).map(tile);
    all.filter(|t| shows(figure, t)).map(Page::Tile).gather()
}

/// Whether anything of the figure stands on the tile.
fn shows(figure: &Figure, tile: &Tile) -> bool {
    let set = |p: Point| tile.setting.set(p, figure.drawing.width);
    figure.drawing.marks.iter().any(|mark| match mark {
        Mark::Text { .. } => tile.takes(mark, figure),
        other => other.chords().iter().any(|(a, b)| tile.view.clips(set(*a), set(*b)).is_some()),
    })
}

impl Tile {
    /// Whether a mark is for this page: words are where they stand whole, lines wherever they run.
    pub fn takes(&self, mark: &Mark, figure: &Figure) -> bool {
        let Mark::Text { rect, .. } = mark else {
            return true;
        };
        let set = |p: Point| self.setting.set(p, figure.drawing.width);
        let (a, b) = (set(rect.low), set(rect.high));
        let text = Rect::new(
            Point::new(a.x.min(b.x), a.y.min(b.y)),
            Point::new(a.x.max(b.x), a.y.max(b.y)),
        );
        self.view.contains(&text)
    }
}
