//! Lengths on paper, to 0.01 mm.

use crate::jobs::{PAPERS, SLOPE_MM, job, knee, planter_end};
use crate::reader::{Page, Stroke, pages};
use offsquare_paper::writers::pdf::{self, OVERLAP};

/// 2.5 √2 in, the diagonal of a square of 2.5 in.
const KNEE_CUT_MM: f64 = 2.5 * std::f64::consts::SQRT_2 * 25.4;

#[test]
fn every_page_has_true_bars() {
    for paper in PAPERS {
        for parts in [vec![knee()], vec![planter_end(1.0)]] {
            let read = pages(&pdf::write(&job(&parts, paper)));
            assert!(!read.is_empty());
            for page in &read {
                assert_eq!(page.bars(100.0, 100.0), (1, 1), "one bar each way, and no other");
                // 4 in are 101.6 mm.
                assert_eq!(page.bars(101.6, 101.6).0, 1);
                assert!(page.says("If this bar is not 100 mm, choose Actual size / 100 %"));
                assert!(page.says("100 mm") && page.says("4 in"));
            }
        }
    }
}

#[test]
fn a_single_page_measures_right() {
    for paper in PAPERS {
        let read = pages(&pdf::write(&job(&[knee()], paper)));
        assert_eq!(read.len(), 1);
        let cuts = read[0].cuts();
        assert_eq!(cuts.len(), 1, "the square end needs no template");
        assert!((cuts[0].length() - KNEE_CUT_MM).abs() < 0.01);
        // It stands at 45° to the sheet.
        let (dx, dy) = (cuts[0].to.0 - cuts[0].from.0, cuts[0].to.1 - cuts[0].from.1);
        assert!((dx.abs() - 63.5).abs() < 0.01 && (dy.abs() - 63.5).abs() < 0.01);
    }
}

/// The piece of a stroke that is seen through its clip.
fn seen(s: &Stroke) -> Option<((f64, f64), (f64, f64))> {
    s.within(s.clip?)
}

/// Where the figure's own origin (the left slope's foot) lies on a page.
fn slope(page: &Page) -> &Stroke {
    let cuts = page.cuts();
    cuts.iter()
        .filter(|s| (s.length() - SLOPE_MM).abs() < 0.01)
        .min_by(|a, b| a.from.0.total_cmp(&b.from.0))
        .expect("the slope, on every page in full, seen through the page's window")
}

#[test]
fn tiles_measure_right_overlap_and_cover_the_whole_outline() {
    for paper in PAPERS {
        let read = pages(&pdf::write(&job(&[planter_end(1.0)], paper)));
        assert!(read.len() >= 4, "{}", read.len());
        // The figure's place on each page, from the slope's foot.
        let windows: Vec<[f64; 4]> = read
            .iter()
            .map(|page| {
                // The outline runs counter-clockwise, so the left slope ends at its foot.
                let foot = slope(page).to;
                let [x0, y0, x1, y1] = page.clip().expect("a window");
                [x0 - foot.0, y0 - foot.1, x1 - foot.0, y1 - foot.1]
            })
            .collect();
        // In the figure's coordinates the four corners, in mm.
        let first = slope(&read[0]);
        let turned = (first.to.0 - first.from.0).abs() > (first.to.1 - first.from.1).abs();
        let corners =
            [(0.0, 0.0), (40.0, 0.0), (31.0, 12.0), (9.0, 12.0)].map(|(x, y): (f64, f64)| {
                let (x, y) = (x * 25.4, y * 25.4);
                if turned { (-y, x) } else { (x, y) }
            });
        let mut uncovered = 0;
        for i in 0..4 {
            let (a, b) = (corners[i], corners[(i + 1) % 4]);
            for step in 0..=4000 {
                let t = f64::from(step) / 4000.0;
                let p = (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t);
                let inside =
                    |w: &&[f64; 4]| w[0] <= p.0 && p.0 <= w[2] && w[1] <= p.1 && p.1 <= w[3];
                uncovered += usize::from(windows.iter().filter(inside).count() == 0);
            }
        }
        assert_eq!(uncovered, 0, "of the outline");
        // Neighbors in a row or column share exactly the overlap.
        let mut neighbors = 0;
        for (i, a) in windows.iter().enumerate() {
            for b in &windows[i + 1..] {
                for k in [0, 1] {
                    let level = (a[1 - k] - b[1 - k]).abs() < 0.01;
                    let shared = a[k + 2].min(b[k + 2]) - a[k].max(b[k]);
                    if level && shared > 0.0 {
                        neighbors += 1;
                        assert!((shared - OVERLAP).abs() < 0.01, "{shared}");
                    }
                }
            }
        }
        assert!(neighbors >= read.len() - 1);
        // Laid together, the pieces of the slope make up the whole of it.
        let mut shares: Vec<(f64, f64)> = read
            .iter()
            .filter_map(|page| {
                let s = slope(page);
                let along = |p: (f64, f64)| (p.0 - s.from.0).hypot(p.1 - s.from.1);
                seen(s).map(|(a, b)| (along(a), along(b)))
            })
            .collect();
        shares.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert!(shares.len() >= 2, "the slope runs over a seam");
        let mut reached = 0.0;
        for (from, to) in shares {
            assert!(from <= reached + 1e-6, "a hole in the slope at {reached}");
            reached = f64::max(reached, to);
        }
        assert!((reached - SLOPE_MM).abs() < 0.01);
    }
}

/// Crosses: pairs of solid lines of 6 mm that cross in their middles; gives the middles.
fn crosses(page: &Page) -> Vec<(f64, f64)> {
    let middle = |s: &Stroke| ((s.from.0 + s.to.0) / 2.0, (s.from.1 + s.to.1) / 2.0);
    let arms: Vec<&Stroke> = page
        .strokes
        .iter()
        .filter(|s| (s.length() - 6.0).abs() < 0.01 && (s.width - 0.15).abs() < 1e-4)
        .collect();
    arms.iter()
        .filter(|s| (s.from.1 - s.to.1).abs() < 1e-4)
        .filter(|s| {
            arms.iter().any(|o| {
                (o.from.0 - o.to.0).abs() < 1e-4
                    && (middle(o).0 - middle(s).0).hypot(middle(o).1 - middle(s).1) < 1e-3
            })
        })
        .map(|s| middle(s))
        .collect()
}

#[test]
fn crosses_of_neighboring_pages_meet() {
    for paper in PAPERS {
        let read = pages(&pdf::write(&job(&[planter_end(1.0)], paper)));
        // In the figure's coordinates every cross is found on two pages or more.
        let all: Vec<(f64, f64)> = read
            .iter()
            .flat_map(|page| {
                let foot = slope(page).from;
                let on_page = crosses(page);
                assert!(on_page.len() >= 3, "three on each seam");
                on_page.into_iter().map(move |c| (c.0 - foot.0, c.1 - foot.1))
            })
            .collect();
        for c in &all {
            let same = |d: &&(f64, f64)| (d.0 - c.0).hypot(d.1 - c.1) < 0.01;
            assert!(all.iter().filter(same).count() >= 2, "{c:?}");
        }
    }
}

#[test]
fn the_measured_bars_correct_both_directions() {
    for paper in PAPERS {
        // A printer that gives 98 mm across and 102.5 mm along for 100 mm.
        let mut corrected = job(&[knee()], paper);
        corrected.bars_mm = (98.0, 102.5);
        let (across, along) = (100.0 / 98.0, 100.0 / 102.5);
        let read = pages(&pdf::write(&corrected));
        assert_eq!(read[0].bars(100.0 * across, 100.0 * along), (1, 1));
        assert!(read[0].says("98 mm across and 102.5 mm along"));
        let cut = read[0].cuts()[0];
        let (dx, dy) = ((cut.to.0 - cut.from.0).abs(), (cut.to.1 - cut.from.1).abs());
        assert!((dx - 63.5 * across).abs() < 0.01 && (dy - 63.5 * along).abs() < 0.01);
        // Printed by that printer it is true again.
        assert!((dx * 0.98 - 63.5).abs() < 0.01 && (dy * 1.025 - 63.5).abs() < 0.01);
    }
}

#[test]
fn a_bar_that_cannot_be_is_a_problem_and_corrects_nothing() {
    for (mm, limit) in [(10.0, 80.0), (79.9, 80.0), (125.1, 125.0), (1000.0, 125.0)] {
        let mut job = job(&[knee()], PAPERS[0]);
        job.bars_mm = (mm, 100.0);
        let problems = pdf::check(&job);
        assert_eq!(problems.len(), 1);
        assert_eq!(problems[0].field(), Some("bar_across"));
        let Some(offsquare_units::Quantity::Length(l)) = problems[0].limit else {
            panic!("no limit");
        };
        assert!((l.as_mm() - limit).abs() < 1e-9);
        assert_eq!(pages(&pdf::write(&job))[0].bars(100.0, 100.0), (1, 1));
    }
    for mm in [f64::NAN, f64::INFINITY, 0.0, -100.0] {
        assert!(pdf::enlargement(mm, "bar_along").is_err());
    }
}
