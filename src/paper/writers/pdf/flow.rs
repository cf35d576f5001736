//! A cut sheet on pages: rows one below the other, none parted but a board between its own rows.

use super::furniture::{self, Ground, HEAD};
use super::ink::{Face, Frame, Ink, Setting, Stroke};
use crate::drawing::{Drawing, Mark, Rect, rows, words_width};
use crate::report::{CutSheet, PX, Row};
use crate::square_code::{PAPER_MODULE, SquareCode};
use offsquare_cuts::facts::{Paper, SAFE_ON_BOTH};
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;

/// Type of text and of sections, and from one line of text to the next, mm.
const TEXT: f64 = 3.5;
const SECTION: f64 = 4.6;
const LINE: f64 = 4.9;
/// Side of a box to tick, and where the words of its step begin.
const BOX: f64 = 3.4;
const INDENT: f64 = 6.0;
/// Bold type is wider than the plain type that words are measured in.
const BOLD: f64 = 1.09;

/// Rows that stay together on one page.
struct Block {
    height: f64,
    /// Kept on the same page as the next one.
    leads: bool,
    what: What,
}

enum What {
    Words {
        lines: Vec<String>,
        face: Face,
        size: f64,
        indent: f64,
        tick: Option<bool>,
    },
    /// One row of a board's picture: the picture, from where, how wide, px.
    Picture(usize, f64, f64),
}

/// Words broken into lines no wider than `room` at that size; a number stays with its fraction and its unit.
fn broken(words: &str, size: f64, room: f64) -> Vec<String> {
    let stays = |word: &str| {
        let fraction = word.contains('/') && word.starts_with(|c: char| c.is_ascii_digit());
        fraction || ["in", "mm", "ft", "in,", "mm,", "in.", "mm."].contains(&word)
    };
    let mut tokens: Vec<String> = Vec::new();
    for word in words.split(' ') {
        match tokens.last_mut().filter(|_| stays(word)) {
            Some(last) => *last = format!("{last} {word}"),
            None => tokens.push(word.to_owned()),
        }
    }
    let mut out: Vec<String> = Vec::new();
    for token in tokens {
        match out.last_mut() {
            Some(line) if words_width(&format!("{line} {token}"), size) <= room => {
                *line = format!("{line} {token}");
            }
            _ => out.push(token),
        }
    }
    out
}

fn words(text: &str, (face, size): (Face, f64), tick: Option<bool>, wide: f64) -> What {
    let indent = if tick.is_some() { INDENT } else { 0.0 };
    let stretch = if face == Face::Bold { BOLD } else { 1.0 };
    let lines = broken(text, size, (wide - indent) / stretch);
    What::Words { lines, face, size, indent, tick }
}

fn blocks<'s>(
    sheet: &'s CutSheet,
    wide: f64,
    note: Option<&str>,
) -> (Vec<Block>, Vec<&'s Drawing>) {
    let (mut out, mut pictures) = (Vec::new(), Vec::new());
    let mut put = |what: What, above: f64, leads: bool| {
        let height = match &what {
            What::Words { lines, size, .. } => above + lines.len() as f64 * LINE.max(size * 1.3),
            What::Picture(..) => above,
        };
        out.push(Block { height, leads, what });
    };
    if let Some(text) = note {
        put(words(text, (Face::Plain, TEXT), None, wide), 0.0, false);
    }
    for row in &sheet.rows {
        match row {
            Row::Section(text) => put(words(text, (Face::Bold, SECTION), None, wide), 4.0, true),
            Row::Heading(text) => put(words(text, (Face::Bold, TEXT), None, wide), 2.0, true),
            Row::Line(text) => {
                put(words(text, (Face::Plain, TEXT), None, wide), 0.0, text.ends_with(':'));
            }
            Row::Caution(text) => {
                let text = format!("Mind: {text}");
                put(words(&text, (Face::Plain, TEXT), None, wide), 0.0, false);
            }
            Row::Step { done, words: text } => {
                put(words(text, (Face::Plain, TEXT), Some(*done), wide), 0.6, false);
            }
            Row::Board(drawing) => {
                for (from, long) in rows(drawing, wide / PX) {
                    put(
                        What::Picture(pictures.len(), from, long),
                        drawing.height * PX + 1.5,
                        false,
                    );
                }
                pictures.push(drawing);
            }
        }
    }
    (out, pictures)
}

/// The pages of a sheet: which blocks each has. `first`: how much less room the first has.
fn paged(blocks: &[Block], room: f64, first: f64) -> Vec<core::ops::Range<usize>> {
    let mut pages = Vec::new();
    let (mut from, mut at) = (0, 0);
    while at < blocks.len() {
        // What leads goes with what follows.
        let to = (at..blocks.len()).find(|i| !blocks[*i].leads).unwrap_or(blocks.len() - 1) + 1;
        let most = if pages.is_empty() { room - first } else { room };
        let taken: f64 = blocks[from..to].iter().map(|b| b.height).sum();
        if taken > most && at > from {
            pages.push(from..at);
            from = at;
        } else {
            at = to;
        }
    }
    pages.push(from..blocks.len());
    pages
}

/// A file, and on how many pages it is printed.
pub struct Printed {
    pub bytes: Vec<u8>,
    pub pages: usize,
}

/// A PDF file. `code`: what opens the piece again; where there is none, `note` says why.
pub fn write_cut_sheet(
    sheet: &CutSheet,
    paper: Paper,
    code: Option<&SquareCode>,
    note: Option<&str>,
) -> Printed {
    let safe = SAFE_ON_BOTH.value;
    let ground = Ground { width: safe.0.as_mm(), height: safe.1.as_mm() };
    let (blocks, pictures) = blocks(sheet, ground.width, note);
    let under = code.map_or(0.0, |code| f64::from(code.side()) * PAPER_MODULE + 2.0);
    let pages = paged(&blocks, ground.height - HEAD, under);
    let count = pages.len();
    let page = |(i, range): (usize, core::ops::Range<usize>)| {
        let mut ink = Ink::new(Frame {
            sheet_width: paper.width.as_mm(),
            sheet_height: paper.height.as_mm(),
            ground: (ground.width, ground.height),
            enlarge: (1.0, 1.0),
        });
        furniture::head(&mut ink, ground, &sheet.title, (i + 1, count));
        if let Some(code) = code.filter(|_| i == 0) {
            furniture::code(&mut ink, ground, code);
        }
        let mut y = HEAD;
        for block in &blocks[range] {
            paint(&mut ink, block, y, &pictures);
            y += block.height;
        }
        ink.finish()
    };
    let contents: Vec<Vec<u8>> = pages.into_iter().enumerate().map(page).gather();
    Printed { bytes: super::assemble(&sheet.title, paper, &contents), pages: count }
}

fn paint(ink: &mut Ink, block: &Block, top: f64, pictures: &[&Drawing]) {
    match &block.what {
        What::Words { lines, face, size, indent, tick } => {
            let step = LINE.max(size * 1.3);
            let first = top + block.height - lines.len() as f64 * step + size;
            for (i, line) in lines.iter().enumerate() {
                let at = Point::new(*indent, first + step * i as f64);
                ink.words(at, line, *face, *size);
            }
            if let Some(done) = tick {
                let low = Point::new(0.6, first - 0.36 * size - BOX / 2.0);
                let rect = Rect::new(low, low + Vector::new(BOX, BOX));
                ink.stroke(Stroke::solid(0.0, 0.25)).rect(&rect, None);
                if *done {
                    let (a, b) = (rect.low, rect.high);
                    let other = (Point::new(a.x, b.y), Point::new(b.x, a.y));
                    ink.lines(&[(a, b), other]);
                }
            }
        }
        What::Picture(at, from, long) => {
            let (drawing, from, to) = (pictures[*at], *from, from + long);
            let seen = |m: &&Mark| m.bounds().is_some_and(|b| b.high.x >= from && b.low.x <= to);
            let moved = Vector::new(-from * PX, top);
            let marks: Vec<Mark> =
                drawing.marks.iter().filter(seen).map(|m| m.clone().scaled(PX)).gather();
            let low = Point::new(0.0, top);
            let clip = Rect::new(low, low + Vector::new(long * PX, drawing.height * PX));
            ink.clip(&clip).marks(&marks, 0.0, Setting { turned: false, by: moved }).unclip();
        }
    }
}
