//! All jobs as a request to the planner, in words (`boards::Request` reads them).

use super::{Instance, Jobs};
use offsquare_planner::guillotine::Grain;
use offsquare_planner::{Bits, Maybe};
use std::fmt::Write;

/// All jobs as a request.
pub(super) fn write_jobs(id: u32, jobs: &Jobs, curve: u32) -> String {
    let (mut sticks, mut ripped) = (Vec::new(), Vec::new());
    for job in &jobs.jobs {
        match (&job.rest, &job.instance) {
            (Instance::Sticks(rest), Instance::Sticks(all)) => sticks.push((job, rest, all)),
            (Instance::Rectangles(rest), Instance::Rectangles(all)) => {
                ripped.push((job, rest, all))
            }
            _ => {}
        }
    }
    let mut out = format!("plan {id} {curve} {}", sticks.len());
    for (job, i, all) in sticks {
        let _ = write!(
            out,
            " {} {} {} {} {}",
            Bits(i.width),
            Bits(i.kerf),
            Bits(i.trim),
            i.boards.len(),
            i.parts.len()
        );
        for (b, full) in i.boards.iter().zip(&all.boards) {
            let _ = write!(
                out,
                " {} {} {} {}",
                Bits(b.length),
                Bits(b.price),
                Maybe(b.limit),
                Maybe(full.limit)
            );
        }
        for (part, p) in job.parts.iter().zip(&i.parts) {
            let _ = write!(
                out,
                " {} {} {} {} {} {} {}",
                p.qty,
                part.each,
                Bits(p.length),
                Bits(p.left),
                Bits(p.right),
                u8::from(p.one_good_face),
                Bits(part.give.0)
            );
        }
    }
    let _ = write!(out, " {}", ripped.len());
    for (job, i, all) in ripped {
        let _ = write!(
            out,
            " {} {} {} {} {}",
            u8::from(job.is_sheet()),
            Bits(i.kerf),
            Bits(i.trim),
            i.boards.len(),
            i.parts.len()
        );
        for (b, full) in i.boards.iter().zip(&all.boards) {
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
        for (part, p) in job.parts.iter().zip(&i.parts) {
            let grain = u8::from(p.grain == Grain::Free) + 2 * u8::from(part.across);
            let (each, give) = (part.each, part.give);
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
