//! PDF pages in true size.
//!
//! Everything is millimeters in f64 until it is written as points; a page's ground stands in the
//! middle of the sheet and fits A4 and US Letter alike. No date, no random id: the same job always
//! gives the same bytes.

mod flow;
mod furniture;
mod ink;
mod plan;

pub use flow::{Printed, write_cut_sheet};
pub use ink::shown;
pub use plan::{MOST_PAGES, OVERLAP};

use crate::drawing::{Mark, Rect, Template};
use crate::square_code::SquareCode;
use furniture::{Ground, Words};
use ink::{Face, Frame, Ink, Setting};
use offsquare_cuts::facts::{Paper, SAFE_ON_BOTH};
use offsquare_cuts::problem::Problem;
use offsquare_geometry::{Point, Vector};
use offsquare_units::num::Gather;
use offsquare_units::{Length, MM_PER_INCH, Quantity, say};
use pdf_writer::{Finish, Name, Pdf, Rect as Box4, Ref, TextStr};
use plan::{Figure, Page, caption_height};

/// Templates to print.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintJob {
    /// What it is for: "Brace across a frame".
    pub title: String,
    pub templates: Vec<Template>,
    pub paper: Paper,
    /// What the 100 mm bars measured in print, across and along, in mm; 100 and 100 where the
    /// printer is true or was not measured. Outside 80 to 125 a direction is not corrected.
    pub bars_mm: (f64, f64),
    /// What opens the piece again, on the first page that has room beside its bar.
    pub code: Option<SquareCode>,
}

/// Nearest the edge of the sheet that anything is printed, mm.
const EDGE: f64 = 3.0;
/// What a bar can measure and still be a bar that was printed at 100 %.
const MEASURED: std::ops::RangeInclusive<f64> = 80.0..=125.0;

/// What a bar that measured so many mm is enlarged by: 100/98 where it measured 98.
/// A measure outside 80 to 125 mm is a slip, said for the field `key`.
pub fn enlargement(measured_mm: f64, key: &str) -> Result<f64, Problem> {
    if MEASURED.contains(&measured_mm) {
        return Ok(100.0 / measured_mm);
    }
    let limit = Length::mm(if measured_mm > 100.0 { 125.0 } else { 80.0 });
    Err(Problem::stop(
        key,
        say!(
            "The bar should measure between 80 and 125 mm. Print at Actual size / 100 % and \
             measure it again."
        ),
    )
    .with_limit(Quantity::Length(limit)))
}

/// How many pages a job takes.
pub fn page_count(job: &PrintJob) -> usize {
    let ground = ground_of(job);
    plan_of(job, ground).1.len().max(1)
}

/// Everything that is wrong with a job: bars that cannot be, figures that take too many pages.
pub fn check(job: &PrintJob) -> Vec<Problem> {
    let bars = [("bar_across", job.bars_mm.0), ("bar_along", job.bars_mm.1)];
    let mut problems: Vec<Problem> =
        bars.into_iter().filter_map(|(key, mm)| enlargement(mm, key).err()).gather();
    for page in plan_of(job, ground_of(job)).1 {
        if let Page::TooLarge(figure, pages) = page {
            let name = &job.templates[figure].name;
            problems.push(
                Problem::stop("", say!(too_large(name, pages)))
                    .with_limit(Quantity::Count(f64::from(MOST_PAGES))),
            );
        }
    }
    problems
}

fn too_large(name: &str, pages: u32) -> String {
    format!(
        "{name} takes {pages} pages in full size; at most {MOST_PAGES} are printed. Mark it with a tape instead."
    )
}

fn enlargements(job: &PrintJob) -> (f64, f64) {
    let one = |mm: f64| enlargement(mm, "").unwrap_or(1.0);
    (one(job.bars_mm.0), one(job.bars_mm.1))
}

/// The safe area; smaller where the correction would push it over the sheet's edge.
fn ground_of(job: &PrintJob) -> Ground {
    let safe = SAFE_ON_BOTH.value;
    let (across, along) = enlargements(job);
    let most = |sheet: Length, enlarge: f64| (sheet.as_mm() - 2.0 * EDGE) / enlarge;
    Ground {
        width: safe.0.as_mm().min(most(job.paper.width, across)),
        height: safe.1.as_mm().min(most(job.paper.height, along)),
    }
}

fn plan_of(job: &PrintJob, ground: Ground) -> (Vec<Figure>, Vec<Page>) {
    let mut figures: Vec<Figure> = job.templates.iter().map(Figure::of).gather();
    let window = ground.window();
    let pages = plan::plan(&mut figures, &job.templates, (window.width(), window.height()));
    (figures, pages)
}

/// The job as the bytes of a PDF file. A job without templates gives one page with its title and bars.
pub fn write(job: &PrintJob) -> Vec<u8> {
    let ground = ground_of(job);
    let (figures, mut pages) = plan_of(job, ground);
    if pages.is_empty() {
        pages.push(Page::Wholes(Vec::new()));
    }
    let contents: Vec<Vec<u8>> =
        (0..pages.len()).map(|i| page_content(job, ground, &figures, &pages, i)).gather();
    assemble(&job.title, job.paper, &contents)
}

fn page_content(
    job: &PrintJob,
    ground: Ground,
    figures: &[Figure],
    pages: &[Page],
    this: usize,
) -> Vec<u8> {
    let enlarge = enlargements(job);
    let mut ink = Ink::new(Frame {
        sheet_width: job.paper.width.as_mm(),
        sheet_height: job.paper.height.as_mm(),
        ground: (ground.width, ground.height),
        enlarge,
    });
    let on_page: Vec<&Figure> = match &pages[this] {
        Page::Wholes(wholes) => wholes.iter().map(|w| &figures[w.figure]).gather(),
        Page::Tile(tile) => vec![&figures[tile.figure]],
        Page::TooLarge(..) => Vec::new(),
    };
    let lines = on_page.iter().flat_map(|f| &f.drawing.marks);
    let kinds: Vec<&str> =
        lines.filter(|m| !matches!(m, Mark::Text { .. })).filter_map(Mark::class).gather();
    let words = Words {
        title: &job.title,
        page: this + 1,
        pages: pages.len(),
        kinds: &kinds,
        corrected: (enlarge != (1.0, 1.0)).then_some(job.bars_mm),
    };
    furniture::frame(&mut ink, ground, &words);
    let has_room = |page: &Page| !matches!(page, Page::Tile(t) if t.columns * t.rows > 1);
    if let Some(code) = job.code.as_ref().filter(|_| pages.iter().position(has_room) == Some(this))
    {
        furniture::code(&mut ink, ground, code);
    }
    let window = ground.window();
    let into = window.low - Point::ORIGIN;
    let moved = |s: Setting| Setting { by: s.by + into, ..s };
    match &pages[this] {
        Page::Wholes(wholes) => {
            for whole in wholes {
                let figure = &figures[whole.figure];
                caption(&mut ink, whole.caption + into, figure, &whole.lines);
                let (marks, wide) = (&figure.drawing.marks, figure.drawing.width);
                ink.marks(marks, wide, moved(whole.setting));
            }
        }
        Page::Tile(tile) => {
            let figure = &figures[tile.figure];
            caption(&mut ink, window.low, figure, &figure.lines(window.width()));
            let (view, wide) =
                (Rect::new(tile.view.low + into, tile.view.high + into), figure.drawing.width);
            let seams = furniture::seams(window.low, pages, tile, figure);
            let setting = moved(tile.setting);
            let gaps = seams.iter().map(|s| {
                let (a, b) = (setting.unset(s.rect.low, wide), setting.unset(s.rect.high, wide));
                Rect::new(
                    Point::new(a.x.min(b.x), a.y.min(b.y)),
                    Point::new(a.x.max(b.x), a.y.max(b.y)),
                )
            });
            let gaps: Vec<Rect> = gaps.gather();
            let marks = figure.drawing.marks.iter().filter(|m| tile.takes(m, figure));
            let marks: Vec<Mark> = marks.map(|m| m.clone().parted(&gaps)).gather();
            ink.clip(&view).marks(&marks, wide, setting).unclip();
            for seam in &seams {
                furniture::draw_seam(&mut ink, seam);
            }
            if tile.columns * tile.rows > 1 {
                furniture::map(&mut ink, ground, pages, tile, figure);
            }
        }
        Page::TooLarge(figure, count) => {
            let name = &job.templates[*figure].name;
            let at = window.low + Vector::new(0.0, plan::NAME);
            ink.words(at, &too_large(name, *count), Face::Plain, plan::NOTE);
        }
    }
    ink.finish()
}

fn caption(ink: &mut Ink, corner: Point, figure: &Figure, lines: &[String]) {
    let at = |y: f64| corner + Vector::new(0.0, y);
    ink.words(at(plan::NAME), &figure.name, Face::Bold, plan::NAME);
    for (i, line) in lines.iter().enumerate() {
        let y = caption_height(i) + plan::NOTE - 1.5;
        ink.words(at(y), line, Face::Plain, plan::NOTE);
    }
}

/// Catalog, pages, fonts.
fn assemble(title: &str, paper: Paper, contents: &[Vec<u8>]) -> Vec<u8> {
    let number = |n: usize| Ref::new(i32::try_from(n).unwrap_or(i32::MAX));
    let (catalog, tree, info) = (number(1), number(2), number(3));
    let font = |i: usize| number(4 + i);
    let page = |i: usize| number(10 + 2 * i);
    let content = |i: usize| number(11 + 2 * i);
    let points = |l: Length| (l.as_mm() * (72.0 / MM_PER_INCH)) as f32;
    let sheet = Box4::new(0.0, 0.0, points(paper.width), points(paper.height));
    let mut pdf = Pdf::new();
    {
        let mut root = pdf.catalog(catalog);
        root.pages(tree).lang(TextStr("en-US"));
        let mut viewer = root.viewer_preferences();
        viewer.display_doc_title(true);
        // A viewer then starts its print dialog at 100 % (ISO 32000-1, table 150).
        viewer.pair(Name(b"PrintScaling"), Name(b"None"));
        viewer.finish();
    }
    pdf.document_info(info).title(TextStr(title)).creator(TextStr("Offsquare"));
    pdf.pages(tree)
        .kids((0..contents.len()).map(page))
        .count(i32::try_from(contents.len()).unwrap_or(i32::MAX));
    for (i, bytes) in contents.iter().enumerate() {
        let mut one = pdf.page(page(i));
        one.media_box(sheet).parent(tree).contents(content(i));
        let mut resources = one.resources();
        let mut fonts = resources.fonts();
        for (f, face) in Face::ALL.iter().enumerate() {
            fonts.pair(face.names().0, font(f));
        }
        fonts.finish();
        resources.finish();
        one.finish();
        pdf.stream(content(i), bytes);
    }
    for (f, face) in Face::ALL.iter().enumerate() {
        pdf.type1_font(font(f))
            .base_font(face.names().1)
            .encoding_predefined(Name(b"WinAnsiEncoding"));
    }
    pdf.finish()
}
