//! Which change of one input lands a reading on a mark of the saw, or a length on a whole fraction.

use super::steps::Steps;
use super::system::{System, whole};
use super::wish::{Wish, plain};
use super::work_back::give_number;
use super::{Solved, wording};
use crate::inputs::Field;
use crate::layouts::{Detail, Layout, answer_words};
use crate::saw::SawProfile;
use offsquare_units::{
    Angle, Fraction, Length, Quantity, Said, Style, Text, lower_first, num, print_quantity, say,
};

/// The marks to land on.
#[derive(Clone, Copy, Debug)]
pub enum Marks<'a> {
    /// A miter reading: the saw's detents, whole and half degrees, inside its limits.
    Miter(&'a SawProfile),
    /// A bevel reading: the saw's bevel stops, whole and half degrees, inside its limits.
    Bevel(&'a SawProfile),
    /// A length: whole steps of this size (1/16 in, 1 mm).
    Step(Length),
    /// This reading and no other.
    Just(Angle),
}

/// What kind of mark one is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MarkKind {
    /// A click stop of the saw.
    Detent,
    WholeDegree,
    HalfDegree,
    /// A whole step on the tape.
    Fraction,
}

/// A mark near the present answer, and the input that lands on it.
#[derive(Clone, Debug)]
pub struct Mark {
    pub kind: MarkKind,
    pub target: Quantity,
    /// The input that gives, what it was, what it becomes, and by how much that is more.
    pub give: &'static str,
    pub was: Quantity,
    pub value: Quantity,
    pub change: Quantity,
    /// The answers with it.
    pub solved: Solved,
    /// "Make footprint 17 1/16 instead of 17 1/2 and the cut drops into the 45° stop."
    pub text: Text,
}

impl Mark {
    /// By how much the input changes, "11/16 in less", never as 0: in 1/64 in or 0.5 mm where it is too little
    /// for the maker's fraction, "less than 1/64 in" where it is too little for those, too.
    pub fn change_in_words(&self, style: &Style) -> String {
        // "3/16 in shy more" could be either.
        let plainly = Style { strong_shy: false, ..*style };
        let fine = Style { fraction: Fraction::SixtyFourth, ..plainly };
        let change = plain(self.change, false);
        let size = wording::quantity_like(self.change, change.abs());
        for style in [&plainly, &fine] {
            let text = print_quantity(size, style);
            if !["0 ", "0\"", "0.0"].iter().any(|z| text.starts_with(z)) {
                let side = if change < 0.0 { " less" } else { " more" };
                return text + side;
            }
        }
        let least = match self.change {
            Quantity::Length(_) => fine.shown_fraction().label(),
            _ => "0.1\u{b0}",
        };
        ["less than ", least].concat()
    }
}

/// How far around the present reading whole and half degrees are offered.
const AROUND: f64 = 2.0;
/// A click stop that wants more of the size than this share changed is no longer worth its click (our choice).
const FAR: f64 = 0.5;
/// Most marks to offer.
const MOST: usize = 12;

/// Marks near what `solved` gives for the answer at `answer`, each with the value of `give` that
/// lands there, smallest change first, click stops that want no more than [`FAR`] of the size before all others. Marks that no value
/// near the present one reaches are left out. Nothing comes back where the answer or the input is none of this solution.
///
/// Example: a brace flat on the rails reading 31.5° lands on the 31.6° stop by a slightly smaller
/// height.
pub fn marks_near(
    layout: &'static dyn Layout,
    solved: &Solved,
    answer: &str,
    give: &'static Field,
    marks: Marks,
    steps: &Steps,
) -> Vec<Mark> {
    let (Some(now), Some(was)) = (
        solved.solution.answers.quantity(answer),
        solved.inputs.get(give.key).and_then(|v| v.quantity()),
    ) else {
        return Vec::new();
    };
    let wish = Wish::of(answer, now);
    let mut system = System::new(layout, &solved.inputs, vec![give], vec![wish], steps)
        .only_way(Some(solved.solution.way));
    let targets = candidates(plain(now, false), marks);
    if system.idle(solved) {
        return Vec::new();
    }
    let mut hits = Vec::new();
    for (kind, target) in targets {
        hits.extend(system.nearest_for(target).map(|hit| (kind, target, hit)));
    }
    let mut out = Vec::new();
    for (kind, target, hit) in &hits {
        let (kind, target) = (*kind, wording::quantity_like(now, *target));
        let Some((solution, _)) = whole(layout, hit, Detail::Answers, steps) else {
            continue;
        };
        let solved = Solved { inputs: (*hit.inputs).clone(), solution };
        let Some(x) = give_number(give, &solved) else {
            continue;
        };
        let value = wording::quantity_like(was, x);
        out.push(Mark {
            kind,
            target,
            give: give.key,
            was,
            value,
            change: wording::quantity_like(was, x - plain(was, false)),
            text: sentence(kind, give, answer, was, value, target),
            solved,
        });
    }
    num::sort_by(&mut out, |a, b| {
        let size = |m: &Mark| plain(m.change, false).abs();
        let near = |m: &Mark| size(m) <= FAR * plain(m.was, false).abs();
        let later = |m: &Mark| m.kind != MarkKind::Detent || !near(m);
        later(a).cmp(&later(b)).then(size(a).total_cmp(&size(b))).then(a.kind.cmp(&b.kind))
    });
    out.truncate(MOST);
    out
}

fn candidates(now: f64, marks: Marks) -> Vec<(MarkKind, f64)> {
    let mut out: Vec<(MarkKind, f64)> = Vec::new();
    let (stops, limit) = match marks {
        Marks::Miter(saw) => (&saw.detents, saw.miter_left.max(saw.miter_right)),
        Marks::Bevel(saw) => (&saw.bevel_stops, saw.bevel_left.max(saw.bevel_right)),
        Marks::Just(reading) => return vec![(MarkKind::HalfDegree, reading.0)],
        Marks::Step(step) => {
            if step.0 > 0.0 && step.0.is_finite() {
                let under = num::floor(now / step.0);
                for k in [-1.0, 0.0, 1.0, 2.0] {
                    let at = (under + k) * step.0;
                    if at > 0.0 && (at - now).abs() > 1e-12 * now.abs() {
                        out.push((MarkKind::Fraction, at));
                    }
                }
            }
            return out;
        }
    };
    let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
    for Angle(stop) in stops.iter().copied() {
        if stop <= limit.0 && !same(stop, now) {
            out.push((MarkKind::Detent, stop));
        }
    }
    // Past the limit the marks just inside it count as near.
    let around = now.min(limit.0);
    let from = num::ceil((around - AROUND) * 2.0).max(0.0);
    let mut halves = from;
    while halves <= (around + AROUND) * 2.0 {
        let at = halves / 2.0;
        let taken = out.iter().any(|(_, t)| same(*t, at));
        if at <= limit.0 && !taken && !same(at, now) {
            let whole = num::floor(at) == at;
            let kind = if whole { MarkKind::WholeDegree } else { MarkKind::HalfDegree };
            out.push((kind, at));
        }
        halves += 1.0;
    }
    out
}

fn sentence(
    kind: MarkKind,
    give: &Field,
    answer: &str,
    was: Quantity,
    value: Quantity,
    target: Quantity,
) -> Text {
    let mut text = say!("Make {} {} and ", lower_first(give.label), Said::Instead(value, was));
    text.extend(match kind {
        MarkKind::Detent => say!("the cut drops into the {} stop.", target),
        _ => say!("{} is exactly {}.", answer_words(answer), target),
    });
    text
}
