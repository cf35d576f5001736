//! Sheets, words and the file itself.

use crate::jobs::{PAPERS, job, knee, planter_end};
use crate::reader::{load, pages};
use lopdf::Object;
use offsquare_cuts::parts::{CutName, Part};
use offsquare_geometry::Point;
use offsquare_paper::drawing::words_width;
use offsquare_paper::writers::pdf::{self, MOST_PAGES};
use offsquare_units::Length;

use std::process::Command;

/// Page sizes by ISO 216 and 8 1/2 × 11 in.
const SHEETS: [(f64, f64); 2] = [(210.0, 297.0), (215.9, 279.4)];
/// Printed on both papers with margins of 12.7 mm.
const SAFE: (f64, f64) = (184.0, 254.0);

#[test]
fn sheets_have_their_size_and_everything_stands_in_the_common_safe_area() {
    for (paper, sheet) in PAPERS.into_iter().zip(SHEETS) {
        for parts in [vec![knee()], vec![planter_end(1.0)], vec![knee(), planter_end(0.4)]] {
            for page in pages(&pdf::write(&job(&parts, paper))) {
                assert!((page.media.0 - sheet.0).abs() < 0.01);
                assert!((page.media.1 - sheet.1).abs() < 0.01);
                let (x, y) = ((sheet.0 - SAFE.0) / 2.0, (sheet.1 - SAFE.1) / 2.0);
                let safe = |p: (f64, f64)| {
                    p.0 >= x - 0.01
                        && p.0 <= sheet.0 - x + 0.01
                        && p.1 >= y - 0.01
                        && p.1 <= sheet.1 - y + 0.01
                };
                for s in &page.strokes {
                    match s.clip {
                        None => assert!(safe(s.from) && safe(s.to), "{s:?}"),
                        Some([x0, y0, x1, y1]) => assert!(safe((x0, y0)) && safe((x1, y1))),
                    }
                }
                for w in page.words.iter().filter(|w| w.clip.is_none()) {
                    // Digits of fractions are smaller than they are taken for here.
                    let long = 0.9 * words_width(&w.text, 1.0);
                    let end = (w.at.0 + w.along.0 * long, w.at.1 + w.along.1 * long);
                    assert!(safe(w.at) && safe(end), "{w:?}");
                }
            }
        }
    }
}

#[test]
fn the_print_dialog_starts_at_actual_size() {
    let doc = load(&pdf::write(&job(&[knee()], PAPERS[0])));
    let viewer = doc
        .catalog()
        .and_then(|c| c.get(b"ViewerPreferences"))
        .and_then(Object::as_dict)
        .expect("viewer preferences");
    assert_eq!(viewer.get(b"PrintScaling").and_then(Object::as_name).ok(), Some(&b"None"[..]));
}

#[test]
fn every_page_says_what_it_is() {
    for paper in PAPERS {
        let read = pages(&pdf::write(&job(&[planter_end(1.0)], paper)));
        for (i, page) in read.iter().enumerate() {
            assert!(page.says(&format!("page {} of {}", i + 1, read.len())));
            assert!(page.says("Planter end · 2 pieces"));
            assert!(page.says("Left slope: 36.9° off square"), "what to cut"); // asin(9/15)
            assert!(page.says("Herb planter"));
            // The map numbers all pages on each.
            for n in 1..=read.len() {
                let on_map = |w: &crate::reader::Words| w.text == n.to_string();
                assert!(page.words.iter().any(on_map), "page {n} on the map of {}", i + 1);
            }
        }
        assert!(read.iter().any(|p| p.says("grain")));
    }
}

#[test]
fn labels_of_tiled_figures_stand_whole_on_one_side_of_every_seam() {
    let mut seen = 0;
    for paper in PAPERS {
        // From two pages to a dozen; upright and level.
        for scale in [0.55, 0.7, 0.85, 1.0, 1.15, 1.3, 1.6] {
            let job = job(&[planter_end(scale)], paper);
            let read = pages(&pdf::write(&job));
            let mut said: Vec<&str> = Vec::new();
            for page in &read {
                let seams: Vec<_> = page
                    .strokes
                    .iter()
                    .filter(|s| s.clip.is_none() && s.dashed && (s.gray - 0.5).abs() < 1e-4)
                    .collect();
                for w in &page.words {
                    let Some([x0, y0, x1, y1]) = w.clip else {
                        continue;
                    };
                    // Digits of fractions are smaller than they are taken for here.
                    let long = 0.9 * words_width(&w.text, 1.0);
                    let end = (w.at.0 + w.along.0 * long, w.at.1 + w.along.1 * long);
                    for p in [w.at, end] {
                        assert!(
                            p.0 >= x0 && p.0 <= x1 && p.1 >= y0 && p.1 <= y1,
                            "{scale}: {w:?} is cut"
                        );
                    }
                    for s in &seams {
                        let level = (s.from.1 - s.to.1).abs() < 1e-6;
                        let side = |p: (f64, f64)| {
                            if level { p.1 > s.from.1 } else { p.0 > s.from.0 }
                        };
                        assert_eq!(side(w.at), side(end), "{scale}: {w:?} over {s:?}");
                    }
                    said.push(&w.text);
                    seen += usize::from(!seams.is_empty());
                }
            }
            // None is lost for it.
            for label in ["Planter end, 2 pieces", "grain", "36.9°"] {
                assert!(said.contains(&label), "{scale}: no {label} in {said:?}");
            }
        }
    }
    assert!(seen > 60, "only {seen} labels on tiled pages");
}

#[test]
fn an_x_and_the_grain_of_tiled_figures_stand_on_one_side_of_every_seam() {
    let mut seen = 0;
    for paper in PAPERS {
        for scale in [0.55, 0.6, 0.7, 0.85, 1.0, 1.15, 1.3, 1.6] {
            let read = pages(&pdf::write(&job(&[planter_end(scale)], paper)));
            let mut whole = [0, 0];
            for page in &read {
                let seams = page.strokes.iter();
                let seams = seams.filter(|s| s.clip.is_none() && s.dashed);
                let seams: Vec<_> = seams.filter(|s| (s.gray - 0.5).abs() < 1e-4).collect();
                for s in &page.strokes {
                    // An X is 0.45 mm wide, the grain 0.25 mm in dark gray.
                    let is = |width: f64, gray: f64| {
                        !s.dashed && (s.width - width).abs() < 1e-4 && (s.gray - gray).abs() < 1e-4
                    };
                    let (Some([x0, y0, x1, y1]), [x, grain]) =
                        (s.clip, [is(0.45, 0.0), is(0.25, 0.2)])
                    else {
                        continue;
                    };
                    let on = |p: (f64, f64)| p.0 > x0 && p.0 < x1 && p.1 > y0 && p.1 < y1;
                    if !(x || grain) || !(on(s.from) || on(s.to)) {
                        continue;
                    }
                    for seam in &seams {
                        let side = |p: (f64, f64)| {
                            if (seam.from.1 - seam.to.1).abs() < 1e-6 {
                                p.1 - seam.from.1
                            } else {
                                p.0 - seam.from.0
                            }
                        };
                        let (a, b) = (side(s.from), side(s.to));
                        assert!(a * b > 0.0 && a.abs() > 2.5, "{scale}: {s:?} on {seam:?}");
                    }
                    seen += usize::from(!seams.is_empty());
                    if on(s.from) && on(s.to) {
                        whole[usize::from(grain)] += 1;
                    }
                }
            }
            // Two slopes with an X each, of two strokes; one line along the grain.
            assert!(whole[0] >= 4 && whole[1] >= 1, "{scale}: {whole:?}");
        }
    }
    assert!(seen > 60, "only {seen} strokes on tiled pages");
}

#[test]
fn fractions_read_as_fractions() {
    let read = pages(&pdf::write(&job(&[knee()], PAPERS[0])));
    // 2 1/2 in wide: a whole number, a raised 1, a bar, a lowered 2, its unit.
    assert!(read[0].words.iter().any(|w| w.text == "21/2 in"));
}

#[test]
fn small_templates_share_a_page_and_every_figure_is_there() {
    let at = Point::new;
    // A trapezoid: its two ends are mirror images, so each has its own template. They share
    // a page: beside each stands how the piece is laid and where the stop goes, so that a third has no room.
    let trapezoid = Part::stick(
        "Rail",
        Length(1.5),
        None,
        &[at(0.0, 0.0), at(1.0, 1.5)],
        &[at(30.0, 0.0), at(29.0, 1.5)],
        &[CutName::default(), CutName::default()],
    );
    // A parallelogram: half a turn brings one end onto the other.
    let parallelogram = Part::stick(
        "Slat",
        Length(1.5),
        None,
        &[at(0.0, 0.0), at(1.0, 1.5)],
        &[at(29.0, 0.0), at(30.0, 1.5)],
        &[CutName::default(), CutName::default()],
    );
    let read = pages(&pdf::write(&job(&[trapezoid, parallelogram], PAPERS[1])));
    assert_eq!(read.len(), 2);
    // √(1² + 1.5²) in each.
    let length = 3.25_f64.sqrt() * 25.4;
    for (page, count) in read.iter().zip([2, 1]) {
        assert_eq!(page.cuts().len(), count);
        assert!(page.cuts().iter().all(|c| (c.length() - length).abs() < 0.01));
    }
    assert!(read[1].says("Slat · both ends"));
}

#[test]
fn what_is_square_all_round_needs_no_template() {
    let at = Point::new;
    let square = Part::stick(
        "Rung",
        Length(1.5),
        None,
        &[at(0.0, 0.0), at(0.0, 1.5)],
        &[at(9.0, 0.0), at(9.0, 1.5)],
        &[CutName::default(), CutName::default()],
    );
    assert!(job(std::slice::from_ref(&square), PAPERS[0]).templates.is_empty());
    // An empty job still gives a page with bars: it is how a printer is measured.
    let read = pages(&pdf::write(&job(&[square], PAPERS[0])));
    assert_eq!((read.len(), read[0].bars(100.0, 100.0)), (1, (1, 1)));
}

#[test]
fn a_figure_of_too_many_pages_says_so_instead() {
    let large = job(&[planter_end(30.0)], PAPERS[0]);
    let read = pages(&pdf::write(&large));
    assert_eq!(read.len(), 1);
    assert!(read[0].says("Mark it with a tape instead."));
    let problems = pdf::check(&large);
    assert_eq!(problems.len(), 1);
    let limit = offsquare_units::Quantity::Count(f64::from(MOST_PAGES));
    assert_eq!(problems[0].limit, Some(limit));
}

#[test]
fn sizes_that_are_no_numbers_print_a_page_all_the_same() {
    for bad in [f64::NAN, f64::INFINITY, 1e300, 0.0] {
        let at = Point::new;
        let part = Part::stick(
            "Odd \u{1}(name)\\ €",
            Length(bad),
            None,
            &[at(0.0, 0.0), at(bad, bad)],
            &[at(9.0, 0.0), at(8.0, bad)],
            &[CutName::default(), CutName::default()],
        );
        let bytes = pdf::write(&job(&[part], PAPERS[0]));
        let text = String::from_utf8_lossy(&bytes);
        assert!(!text.contains("NaN") && !text.contains("inf"));
        assert!(!pages(&bytes).is_empty());
    }
}

#[test]
fn the_same_job_gives_the_same_bytes_without_a_date() {
    let make = || pdf::write(&job(&[knee(), planter_end(1.0)], PAPERS[1]));
    let bytes = make();
    assert_eq!(bytes, make());
    let text = String::from_utf8_lossy(&bytes);
    assert!(!text.contains("Date") && !text.contains("/ID"));
}

#[test]
fn qpdf_finds_nothing_wrong() {
    for (name, parts) in [("single", vec![knee()]), ("tiled", vec![planter_end(1.0)])] {
        let bytes = pdf::write(&job(&parts, PAPERS[0]));
        let file =
            std::env::temp_dir().join(format!("offsquare-{}-{name}.pdf", std::process::id()));
        std::fs::write(&file, &bytes).expect("written");
        let said = Command::new("qpdf")
            .arg("--check")
            .arg(&file)
            .output()
            .expect("qpdf is missing; `cargo xtask test` installs it");
        std::fs::remove_file(&file).expect("removed");
        assert!(said.status.success(), "{name}: {}", String::from_utf8_lossy(&said.stderr));
        assert!(!String::from_utf8_lossy(&said.stderr).contains("WARNING"));
    }
}
