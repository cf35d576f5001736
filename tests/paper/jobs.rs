//! Parts and printing jobs with sizes that can be checked by hand.

use offsquare_cuts::facts::{A4, LETTER, Paper};
use offsquare_cuts::layouts;
use offsquare_cuts::parts::{Cut, CutName, End, Part, Sides, StockShape};
use offsquare_cuts::saw::SawProfile;
use offsquare_geometry::{Point, Polygon};
use offsquare_paper::drawing::{Template, templates};
use offsquare_paper::writers::pdf::PrintJob;
use offsquare_units::{Length, Style, Unit};
use offsquare_work::piece::{Draft, Shop, answer};

pub const PAPERS: [Paper; 2] = [A4.value, LETTER.value];

/// A stick 2.5 in wide with a square left end and a 45° right end: its cut is 2.5 √2 in long.
pub fn knee() -> Part {
    let at = Point::new;
    Part::stick(
        "Knee",
        Length(2.5),
        None,
        &[at(0.0, 0.0), at(0.0, 2.5)],
        &[at(30.0, 0.0), at(27.5, 2.5)],
        &[
            CutName { name: "Upper end", miter_key: None },
            CutName { name: "Lower end", miter_key: None },
        ],
    )
}

/// The slope of the planter's end, by the 3-4-5 triangle: 9 in over 12 in is 15 in long.
pub const SLOPE_MM: f64 = 15.0 * 25.4;

/// A board 40 in at the base, 22 in at the top, 12 in high: several pages.
pub fn planter_end(scale: f64) -> Part {
    let at = |x: f64, y: f64| Point::new(x * scale, y * scale);
    let outline = vec![at(0.0, 0.0), at(40.0, 0.0), at(31.0, 12.0), at(9.0, 12.0)];
    let name = |name| CutName { name, miter_key: None };
    let cuts = vec![
        Cut::plain(name("Left slope"), End::Left, outline[0], outline[3]),
        Cut::plain(name("Right slope"), End::Right, outline[1], outline[2]),
    ];
    Part {
        name: "Planter end".into(),
        count: 2,
        sides: Sides::DRAWN,
        seen: Length(12.0 * scale),
        away: None,
        length: Length(40.0 * scale),
        outline: Polygon(outline),
        edge_a: Length(40.0 * scale),
        edge_b: Length(22.0 * scale),
        cuts,
        marks: Vec::new(),
        laps: Vec::new(),
        figures: Vec::new(),
        ripped: None,
        stock: StockShape::Board,
    }
}

pub fn templates_of(parts: &[Part]) -> Vec<Template> {
    templates(parts, &SawProfile::usual(), &Style::default())
}

pub fn job(parts: &[Part], paper: Paper) -> PrintJob {
    PrintJob {
        title: "Herb planter".to_owned(),
        templates: templates_of(parts),
        paper,
        bars_mm: (100.0, 100.0),
        code: None,
    }
}

/// What every way of every form prints with its start values in inches, each job named.
pub fn every_job(paper: Paper) -> Vec<(String, PrintJob)> {
    let shop = Shop::default();
    let mut all = Vec::new();
    for layout in layouts::all() {
        for form in layout.forms() {
            for solved in &answer(&Draft::fresh(*layout, form, Unit::Inch), &shop).solved {
                let s = &solved.solution;
                let job = PrintJob {
                    title: format!("{}: {}", layout.question(), s.title),
                    templates: templates(&s.parts, &shop.saw, &shop.style()),
                    paper,
                    bars_mm: (100.0, 100.0),
                    code: None,
                };
                all.push((format!("{} {} {}", layout.id(), form.id, s.way), job));
            }
        }
    }
    all
}
