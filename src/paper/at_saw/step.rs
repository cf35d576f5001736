//! The picture that belongs to a step of a run.

use super::lap_view::lap_on_face;
use super::plan_view::seen_from_above;
use super::run_view::{board_at_blade, part_on_face};
use crate::drawing::{BoardOfStrips, Drawing, board_of_strips, lay_out};
use offsquare_cuts::saw::SawProfile;
use offsquare_geometry::scene::Scene;
use offsquare_units::Style;
use offsquare_units::num::Gather;
use offsquare_work::walk::{AtBench, Stage, Walk, What};

/// Laid out `width` px wide and at most `height` high. None where there is nothing to draw.
pub fn step_picture(
    walk: &Walk,
    stage: &Stage,
    saw: &SawProfile,
    (width, height): (f64, f64),
    style: &Style,
) -> Option<Drawing> {
    let scene = match &stage.what {
        What::Cut(cut) => board_at_blade(walk, stage, cut),
        What::Bench(work) => at_bench(*work, walk, stage, saw)?,
        What::Rip(_) => {
            let board = walk.board(stage.tick.board)?;
            let job = &walk.jobs.jobs[board.job];
            let names: Vec<String> = walk.kinds[board.job].iter().map(|k| k.name.clone()).gather();
            let strips = BoardOfStrips {
                job: job.instance.rectangles()?,
                cut: &board.cut,
                length: board.length.0,
                start: board.start,
                names: &names,
            };
            return Some(board_of_strips(&strips, width, style));
        }
    };
    let (low, high) = scene.bounds()?;
    let tall = 70.0 + (width - 40.0) * (high.y - low.y) / (high.x - low.x).max(1e-9);
    Some(lay_out(&scene, width, tall.clamp(90.0, height), style))
}

fn at_bench(work: AtBench, walk: &Walk, stage: &Stage, saw: &SawProfile) -> Option<Scene> {
    let (kind, _) = walk.single(stage.tick.board, stage.tick.at)?;
    let part = &kind.part;
    Some(match work {
        AtBench::Cut(i) => {
            let cut = part.cuts.get(i)?;
            seen_from_above(part, cut, &saw.advise(part, cut))
        }
        AtBench::Lap(i) => lap_on_face(part, part.laps.get(i)?),
        AtBench::Mark => part_on_face(part, &[]),
        AtBench::Drill => part_on_face(part, &kind.holes),
        AtBench::Finish(_) => part_on_face(part, &[]),
    })
}
