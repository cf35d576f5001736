//! What a sheet says can be read: nothing runs through its words, the key tells every line, the map its pages.

use crate::jobs::{PAPERS, every_job, job, planter_end};
use crate::reader::{Page, Stroke, Words, pages};
use offsquare_paper::writers::pdf;
use std::sync::OnceLock;

/// Every job on both papers, printed and read back.
fn every_page() -> &'static [(String, Page)] {
    static READ: OnceLock<Vec<(String, Page)>> = OnceLock::new();
    READ.get_or_init(|| {
        let mut all = Vec::new();
        for paper in PAPERS {
            // A board of four sizes, too: from two pages to a dozen.
            let boards =
                [0.55, 0.7, 1.0, 1.3].map(|s| (format!("{s}"), job(&[planter_end(s)], paper)));
            for (name, job) in boards.into_iter().chain(every_job(paper)) {
                let name = format!("{name} on {}", paper.name);
                all.extend(pages(&pdf::write(&job)).into_iter().map(|p| (name.clone(), p)));
            }
        }
        all
    })
}

fn seams(page: &Page) -> Vec<&Stroke> {
    let is_seam = |s: &&Stroke| s.clip.is_none() && s.dashed && (s.gray - 0.5).abs() < 1e-4;
    page.strokes.iter().filter(is_seam).collect()
}

/// "page 3" beside a seam; the page's own number has "of" in it.
fn beside_seams(page: &Page) -> Vec<&Words> {
    let told = |w: &&Words| w.text.starts_with("page ") && !w.text.contains("of");
    page.words.iter().filter(told).collect()
}

#[test]
fn no_line_of_any_template_runs_through_words() {
    let (mut words, mut found) = (0, Vec::new());
    for (name, page) in every_page() {
        for w in &page.words {
            words += 1;
            let through = page.strokes.iter().filter(|s| s.within(w.rect()).is_some());
            found.extend(through.map(|s| format!("{name}: {:?} by {s:?}", w.text)));
        }
    }
    assert!(every_page().len() > 150 && words > 3000, "{words}");
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn the_number_of_the_next_page_stands_clear_of_the_seam_and_of_what_is_cut() {
    let mut seen = 0;
    for (name, page) in every_page() {
        let (seams, told) = (seams(page), beside_seams(page));
        assert_eq!(seams.len(), told.len(), "{name}: one number a seam");
        for w in told {
            let [x0, y0, x1, y1] = w.rect();
            // 0.5 mm around it, with what hangs below the line of type.
            let around = [x0 - 0.5, y0 - 0.5, x1 + 0.5, y1 + 0.5];
            let mut firm = page.strokes.iter().filter(|s| s.is_cut() || s.clip.is_none());
            let hit = firm.find(|s| s.within(around).is_some());
            assert!(hit.is_none(), "{name}: {w:?} beside {hit:?}");
            // In the overlap, which is 10 mm, so that the neighbor's paper covers it.
            let far = |s: &&Stroke| match s.from.1 == s.to.1 {
                true => (s.from.1 - (y0 + y1) / 2.0).abs(),
                false => (s.from.0 - (x0 + x1) / 2.0).abs(),
            };
            let nearest = seams.iter().map(far).fold(f64::INFINITY, f64::min);
            assert!(nearest > 1.0 && nearest < 4.0, "{name}: {nearest} mm off its seam");
            seen += 1;
        }
    }
    assert!(seen > 100, "{seen}");
}

/// What the key must say of a line that stands on the page: by its width, dashes and gray as ISO 128 tells lines
/// apart, told once more here.
fn told(s: &Stroke) -> Option<&'static str> {
    let close = |a: f64, b: f64| (a - b).abs() < 1e-3;
    match (s.dashed, s.gray, s.width) {
        (false, 0.0, w) if close(w, 0.2) => Some("cut on this line"),
        (false, 0.0, w) if close(w, 0.45) => Some("falls off"),
        (true, 0.0, w) if close(w, 0.2) => Some("mark only, do not cut"),
        (true, g, w) if close(w, 0.15) && close(g, 0.25) => Some("the stock's own edge"),
        (true, g, w) if close(w, 0.12) && close(g, 0.4) => Some("to measure and set by"),
        (true, g, w) if close(w, 0.15) && close(g, 0.45) => Some("the stock goes on"),
        _ => None,
    }
}

#[test]
fn the_key_tells_every_line_of_its_page_in_black_as_large_as_the_notes() {
    let mut lines = std::collections::BTreeMap::new();
    for (name, page) in every_page() {
        let (low, high) = page.key();
        let key: Vec<&Words> =
            page.words.iter().filter(|w| w.at.1 > low && w.at.1 < high).collect();
        for w in &key {
            // The notes are of 3.2 mm.
            assert!(w.size() >= 3.2 && w.gray == 0.0, "{name}: {w:?}");
        }
        for words in page.strokes.iter().filter_map(told) {
            assert!(key.iter().any(|w| w.text == words), "{name}: {words} is not in the key");
            *lines.entry(words).or_insert(0) += 1;
        }
    }
    assert_eq!(lines.len(), 6, "{lines:?}");
}

#[test]
fn the_map_of_a_long_scale_numbers_every_page_in_its_own_place() {
    let scale = every_job(PAPERS[1]).into_iter().find(|(name, _)| name.starts_with("marks "));
    let (_, scale) = scale.expect("a scale");
    let grid = job(&[planter_end(1.0)], PAPERS[1]);
    for (job, least) in [(scale, 7), (grid, 10)] {
        let read = pages(&pdf::write(&job));
        assert!(read.len() >= least, "{} pages", read.len());
        for page in &read {
            // The map is the only bold type of 2.8 mm; this page's cell is the box around its number.
            let numbers: Vec<&Words> =
                page.words.iter().filter(|w| (w.size() - 2.8).abs() < 1e-3).collect();
            let texts: Vec<String> = numbers.iter().map(|w| w.text.clone()).collect();
            assert_eq!(texts, (1..=read.len()).map(|n| n.to_string()).collect::<Vec<_>>());
            for (i, a) in numbers.iter().enumerate() {
                for b in &numbers[i + 1..] {
                    let (a, b) = (a.rect(), b.rect());
                    let apart = a[0] > b[2] + 0.3
                        || b[0] > a[2] + 0.3
                        || a[1] > b[3] + 0.3
                        || b[1] > a[3] + 0.3;
                    assert!(apart, "{a:?} {b:?}");
                }
            }
        }
        // It starts where a tape is hooked on.
        let zero = |p: &Page| p.words.iter().any(|w| w.clip.is_some() && w.text == "0");
        assert!(least != 7 || zero(&read[0]));
    }
}

#[test]
fn every_length_on_paper_has_its_unit() {
    let mut seen = 0;
    for (name, job) in every_job(PAPERS[0]) {
        for template in &job.templates {
            use offsquare_geometry::scene::Item;
            use offsquare_paper::drawing::{Mark, plain, true_size};
            use offsquare_units::Quantity;
            let lengths = template
                .scene
                .items
                .iter()
                .filter(|i| matches!(i, Item::Dimension { value: Quantity::Length(_), .. }));
            let drawing = true_size(&template.scene, &template.style);
            let with_unit = drawing.marks.iter().filter(|m| match m {
                Mark::Text { runs, .. } => plain(runs).contains(" in"),
                _ => false,
            });
            let (lengths, with_unit) = (lengths.count(), with_unit.count());
            assert_eq!(lengths, with_unit, "{name}: {}", template.name);
            seen += lengths;
        }
    }
    assert!(seen > 100, "{seen}");
}
