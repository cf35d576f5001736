//! What the shop's paper and printer make of a template.

use crate::drawing::Template;
use crate::writers::pdf::PrintJob;
use offsquare_cuts::facts;
use offsquare_work::piece::{Paper, Shop};

/// The printing job for one template, on the shop's paper and corrected for its printer.
pub fn paper_job(title: &str, template: &Template, shop: &Shop) -> PrintJob {
    paper_job_of(title, vec![template.clone()], shop)
}

/// The same for several templates, which share pages where they fit.
pub fn paper_job_of(title: &str, templates: Vec<Template>, shop: &Shop) -> PrintJob {
    PrintJob {
        title: title.to_owned(),
        templates,
        paper: match shop.paper {
            Paper::Letter => facts::LETTER.value,
            Paper::A4 => facts::A4.value,
        },
        bars_mm: shop.bar_mm,
        code: None,
    }
}
