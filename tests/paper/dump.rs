//! tmp
use crate::jobs::PAPERS;
use offsquare_cuts::layouts;
use offsquare_paper::drawing::templates;
use offsquare_paper::writers::{pdf, svg};
use offsquare_units::Unit;
use offsquare_work::piece::{Draft, Shop, answer};
#[test]
fn dump() {
    let dir = std::env::var("DUMP").unwrap();
    for layout in layouts::all() {
        for form in layout.forms() {
            let shop = Shop::default();
            let a = answer(&Draft::fresh(*layout, form, Unit::Inch), &shop);
            for s in &a.solved {
                let made = templates(&s.solution.parts, &shop.saw, &shop.style());
                for (i, paper) in PAPERS.into_iter().enumerate() {
                    let job = pdf::PrintJob {
                        title: format!("{}: {}", layout.question(), s.solution.title),
                        templates: made.clone(),
                        paper,
                        bars_mm: (100.0, 100.0),
                    };
                    let name = format!(
                        "{dir}/{}-{}-{}-{}.pdf",
                        layout.id(),
                        form.id,
                        s.solution.way,
                        ["a4", "letter"][i]
                    );
                    std::fs::write(&name, pdf::write(&job)).unwrap();
                    println!("{name} {}", pdf::page_count(&job));
                }
                for (i, t) in made.iter().enumerate() {
                    std::fs::write(
                        format!("{dir}/{}-{}-{}-{i}.svg", layout.id(), form.id, s.solution.way),
                        svg::write(t),
                    )
                    .unwrap();
                }
            }
        }
    }
}
