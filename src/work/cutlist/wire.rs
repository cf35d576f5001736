//! All jobs as a request to the planner, in words (`boards::Request` reads them).

use super::Jobs;
use offsquare_planner::guillotine::Grain;
use offsquare_planner::{Bits, Maybe};
use std::fmt::Write;

/// All jobs as a request.
pub(super) fn write_jobs(id: u32, jobs: &Jobs, curve: u32) -> String {
    let mut out = format!("plan {id} {curve} {}", jobs.jobs.len());
    for job in &jobs.jobs {
        let i = &job.rest;
        let _ = write!(
            out,
            " {} {} {} {} {}",
            Bits(i.width),
            Bits(i.kerf),
            Bits(i.trim),
            i.boards.len(),
            i.parts.len()
        );
        for (b, full) in i.boards.iter().zip(&job.instance.boards) {
            let _ = write!(
                out,
                " {} {} {} {}",
                Bits(b.length),
                Bits(b.price),
                Maybe(b.limit),
                Maybe(full.limit)
            );
        }
        for (n, p) in i.parts.iter().enumerate() {
            let _ = write!(
                out,
                " {} {} {} {} {} {} {}",
                p.qty,
                job.each[n],
                Bits(p.length),
                Bits(p.left),
                Bits(p.right),
                u8::from(p.one_good_face),
                Bits(job.gives[n].max(0.0))
            );
        }
    }
    let _ = write!(out, " {}", jobs.rips.len());
    for job in &jobs.rips {
        let i = &job.rest;
        let _ = write!(
            out,
            " {} {} {} {} {}",
            u8::from(job.is_sheet()),
            Bits(i.kerf),
            Bits(i.trim),
            i.boards.len(),
            i.parts.len()
        );
        for (b, full) in i.boards.iter().zip(&job.instance.boards) {
            let _ = write!(
                out,
                " {} {} {} {} {}",
                Bits(b.length),
                Bits(b.width),
                Bits(b.price),
                Maybe(b.limit),
                Maybe(full.limit)
            );
        }
        for (n, p) in i.parts.iter().enumerate() {
            let grain = u8::from(p.grain == Grain::Free) + 2 * u8::from(job.across[n]);
            let (each, give) = (job.each[n], job.gives[n]);
            let _ = write!(
                out,
                " {} {each} {} {} {grain} {} {}",
                p.qty,
                Bits(p.length),
                Bits(p.width),
                Bits(give.0),
                Bits(give.1)
            );
        }
    }
    out
}
