//! The plain plan: every part first a square blank of its whole extent, mitered afterwards.

use super::super::planner::Planner;
use super::super::sticks::PlanAnswer;
use super::instance::Instance;

/// The job with every end square: what is cut first when nothing is nested.
pub fn squared(instance: &Instance) -> Instance {
    let mut square = instance.clone();
    for part in &mut square.parts {
        part.left = 0.0;
        part.right = 0.0;
        part.one_good_face = false;
    }
    square
}

/// The best plan in which every part is first cut as a square blank of its whole extent. Same
/// objective, same units as the job; the places are those of the blanks (verify them against
/// [`squared`]). A job that cannot be right is answered as invalid, ends and all.
///
/// ```
/// use offsquare_planner::{PlanAnswer, BoardKind, Instance, PartKind, plain, plan};
/// // Nested, two braces with parallel 45° ends take 24 - 3.5 + 0.18 in; as blanks 24 1/8 in.
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("short", 21.0, 1.0), BoardKind::unlimited("long", 30.0, 1.5)],
///     parts: vec![PartKind::mitered("brace", 2, 12.0, 45.0, -45.0)],
/// };
/// let price = |answer| match answer { PlanAnswer::Plan(p) => p.price, other => panic!("{other:?}") };
/// assert_eq!((price(plan(&job)), price(plain(&job))), (1.0, 1.5));
/// ```
pub fn plain(instance: &Instance) -> PlanAnswer {
    Planner::plain(instance.clone()).all()
}
