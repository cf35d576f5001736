//! Whether given numbers of boards hold all parts, in units of work: first all sets of parts, where they are
//! known, then packing by trial.

use super::exact::{Known, Shared, Sharing};
use super::instance::Instance;
use super::pack::Packing;
use super::run::{Run, UNIT, listed};

/// Numbers of boards that are being judged.
pub(super) struct Judge {
    numbers: Vec<u32>,
    list: Vec<usize>,
    sharing: Option<Sharing>,
    packing: Option<Packing>,
    steps: i64,
    /// Packing goes on until so many steps are left; none before it begins.
    until: Option<i64>,
    seed: u64,
    /// Numbers that are not filled are not noted as open: the bound does not hang on them.
    aside: bool,
}

impl Run {
    /// What is known of all sets of parts.
    pub fn known(&self) -> Option<Known<'_>> {
        Some(Known {
            job: &self.job,
            sets: self.pricer.as_ref()?.sets.as_ref()?,
            measures: &self.measures,
        })
    }

    /// Whether these boards hold the parts: a plan is taken, a proof noted, or the numbers stay open.
    pub fn judge(&mut self, numbers: &[u32], steps: i64, aside: bool) {
        let list = listed(numbers);
        let mut work = self.work;
        let sharing = self.known().map(|known| {
            let parts = self.job.demand();
            Sharing::new(known, list.clone(), &parts, 4 * steps, &mut work)
        });
        self.work = work;
        self.judging = Some(Judge {
            numbers: numbers.to_vec(),
            list,
            sharing,
            packing: None,
            steps,
            until: None,
            seed: self.round as u64 * 2,
            aside,
        });
    }

    /// One unit of it.
    pub fn judge_on(&mut self, instance: &Instance, mut now: Judge) {
        let mut work = self.work;
        if let (Some(sharing), Some(known)) = (&mut now.sharing, self.known()) {
            let shared = sharing.step(known, UNIT, &mut work);
            self.work = work;
            match shared {
                Some(Shared::Yes(plan)) => {
                    if self.accept(instance, plan) {
                        return;
                    }
                    now.sharing = None;
                }
                Some(Shared::No) => return self.refuted.push(now.numbers),
                Some(Shared::Unknown) => now.sharing = None,
                None => {}
            }
            self.judging = Some(now);
            return;
        }
        let until = *(now.until).get_or_insert(work.left.saturating_sub(now.steps));
        let share = (now.steps / 2).max(1_000_000);
        let packing = (now.packing)
            .get_or_insert_with(|| Packing::new(&self.job, &now.list, share, now.seed, &work));
        let packed = packing.step(&self.job, UNIT, &mut work);
        self.work = work;
        if let Some(packed) = packed {
            if packed.is_some_and(|plan| self.accept(instance, plan)) {
                return;
            }
            now.packing = None;
            now.seed += 1;
            if self.work.left <= until || self.job.total > 2_000 {
                if !now.aside {
                    self.tried.push(now.numbers);
                }
                return;
            }
        }
        self.judging = Some(now);
    }
}
