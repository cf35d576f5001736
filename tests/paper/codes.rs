//! The small square code on paper: painted as the PDF says, it opens the piece again, and no line or word runs through it.

use crate::jobs::job;
use crate::reader::{MM, pages};
use lopdf::content::Content;
use lopdf::{Document, Object};
use offsquare_cuts::facts;
use offsquare_paper::square_code::{ON_PAPER, SquareCode};
use offsquare_paper::writers::pdf::{self, PrintJob};
use offsquare_tests::picture::{Picture, codes};
use offsquare_units::Unit;
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Shop, Work, WorkEdit};
use offsquare_work::save::share;

const SITE: &str = "https://makers.example/saw/";
/// Dots to a millimeter: some 300 to an inch, as printers set them.
const DOTS: f64 = 12.0;

/// The black boxes of a page, painted; the sheet's lower left corner is the origin of the file.
fn painted(file: &Document, page: lopdf::ObjectId, (wide, high): (f64, f64)) -> Picture {
    let mut picture = Picture::white((wide * DOTS) as usize, (high * DOTS) as usize);
    let content =
        Content::decode(&file.get_page_content(page).expect("a content")).expect("operations");
    let (mut gray, mut boxes) = (0.0, Vec::new());
    for operation in &content.operations {
        let n: Vec<f64> = operation
            .operands
            .iter()
            .filter_map(|o: &Object| o.as_float().ok())
            .map(f64::from)
            .collect();
        match operation.operator.as_str() {
            "g" => gray = n[0],
            "re" => boxes.push((n[0] * MM, n[1] * MM, n[2] * MM, n[3] * MM)),
            "f" => {
                for (x, y, w, h) in boxes.drain(..).filter(|_| gray == 0.0) {
                    let at = |mm: f64| (mm * DOTS).round() as usize;
                    picture.blacken(at(x), at(high - y - h), at(x + w), at(high - y));
                }
            }
            "S" | "W" => boxes.clear(),
            _ => {}
        }
    }
    picture
}

#[test]
fn the_code_on_paper_opens_the_piece_again() {
    let shop = Shop::default();
    let mut work = Work::default();
    let layout = patterns::asked("trug").expect("the trug");
    let draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    work.apply(WorkEdit::AddPiece { pattern: Some(draft) }, &shop);
    let (address, letters) = share::pack(&work, 1, &shop).expect("a piece").code();
    let code = SquareCode::of(&format!("{SITE}{address}"), &letters, ON_PAPER);
    for paper in [facts::LETTER.value, facts::A4.value] {
        for bars_mm in [(100.0, 100.0), (97.0, 103.0)] {
            let job = PrintJob { code: code.clone(), bars_mm, ..job(&[], paper) };
            let file = Document::load_mem(&pdf::write(&job)).expect("a PDF");
            let page = *file.get_pages().get(&1).expect("a page");
            let size = (paper.width.as_mm(), paper.height.as_mm());
            let seen = codes(&painted(&file, page, size));
            assert_eq!(seen, [format!("{SITE}{address}{letters}")]);
            let offer = share::read(&seen[0], &shop).expect("a piece");
            assert_eq!(offer.parts.len(), work.parts.len());
        }
    }
}

/// Its box with the white around it, in mm from the sheet's lower left corner, has no word in it and no line.
#[test]
fn nothing_runs_through_the_code() {
    let code = SquareCode::of(SITE, &"A".repeat(200), ON_PAPER);
    assert_eq!(code.as_ref().map(SquareCode::side), Some(57));
    for paper in [facts::LETTER.value, facts::A4.value] {
        let job = PrintJob { code: code.clone(), ..job(&[], paper) };
        let page = pages(&pdf::write(&job)).remove(0);
        // The ground is 184 by 254 mm in the middle of the sheet.
        let (right, low) = (paper.width.as_mm() / 2.0 + 92.0, paper.height.as_mm() / 2.0 - 127.0);
        let rect = [right - 22.8, low, right, low + 22.8];
        for stroke in &page.strokes {
            assert!(stroke.within(rect).is_none(), "{stroke:?}");
        }
        for words in &page.words {
            let [x0, y0, x1, y1] = words.rect();
            let apart = x1 <= rect[0] || x0 >= rect[2] || y1 <= rect[1] || y0 >= rect[3];
            assert!(apart, "{words:?}");
        }
    }
}
