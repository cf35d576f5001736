//! *If it's off*: what half a degree or a thirty-second does, solved again.

use super::drop_in::{self, Fault};
use super::steps::Steps;
use super::system::System;
use super::wish::{Wish, is_scalar, plain, typed};
use super::{Solved, wording};
use crate::inputs::{Field, Given, Kind, Need};
use crate::layouts::{Detail, Form, Layout, Off, answer_words};
use crate::parts::{Cut, End, Part};
use offsquare_units::num::Gather;
use offsquare_units::{Length, MM_PER_INCH, Quantity, Said, Text, lower_first, num, say};

/// One row of *if it's off*.
#[derive(Clone, Debug)]
pub struct OffAnswer {
    /// The answer that comes out wrong, and by how much (the worse sign).
    pub answer: &'static str,
    pub by: Quantity,
    /// The gap that opens, and where: "at the short point".
    pub gap: Option<Length>,
    pub opens: Option<&'static str>,
    /// Whether the part still drops into its opening, where it has one.
    pub drops_in: Option<bool>,
    /// The length that must be cut again, and to what.
    pub recut: Option<(&'static str, Length)>,
    /// The input that gives, its new value, and by how much that is more than before; none where no size is free to
    /// give, or none near enough makes up for it. A size that stands there already has no new value: `change` is
    /// by how much it is missed.
    pub give: Option<&'static str>,
    pub value: Option<Quantity>,
    pub change: Option<Quantity>,
    /// "Edge 1/32 in short: a hairline gap at one end; it still drops in."
    pub text: Text,
}

/// A reading is tried half a degree off, a length 1/32 in (1 mm in metric).
const DEGREES: f64 = 0.5;
const INCHES: f64 = 1.0 / 32.0;
const MM: f64 = 1.0 / MM_PER_INCH;

/// A size is told anew only while it is near what it was: an angle within so many degrees, a length within this
/// share of itself. Further off nobody would build it that way.
const NEAR_ANGLE: f64 = 4.0 * DEGREES;
const NEAR_LENGTH: f64 = 0.1;

/// Less than any tape or scale shows, inches or degrees.
const UNSEEN: f64 = 1.0 / 64.0;

/// What each of the form's [`Off`] rows comes to.
///
/// First what a maker sees: the gap, as if the piece went where it should (s·sin of the angle's error over the
/// cosine of what was set for a reading; the error along the piece times the cosine of the reading for a length),
/// whether the part still drops into its opening, and which length to cut again. Then, where a size is
/// free to give: the answer is moved to either side, what the row keeps is kept, and the layout is solved again
/// for that size; where answers are kept, so many more free inputs must give, the next of the form's `gives`.
/// The worse sign is told.
pub fn if_off(
    layout: &'static dyn Layout,
    solved: &Solved,
    metric: bool,
    steps: &Steps,
) -> Vec<OffAnswer> {
    let given = Given { inputs: solved.inputs.clone(), ..Given::default() };
    let Some(form) = super::form_of(layout, &given) else {
        return Vec::new();
    };
    let whole = whole(layout, solved);
    form.off.iter().filter_map(|off| row(layout, form, &whole, off, metric, steps)).gather()
}

/// The solution with its parts; solved again in full where only answers were asked for.
fn whole(layout: &'static dyn Layout, solved: &Solved) -> Solved {
    let mut whole = solved.clone();
    if whole.solution.parts.is_empty() {
        let all = layout.solve(&solved.inputs, Detail::Full).solutions;
        let same = all.into_iter().find(|s| s.answers == solved.solution.answers);
        whole.solution = same.unwrap_or(whole.solution);
    }
    whole
}

/// One sign of the error.
struct Side {
    by: Quantity,
    gap: Option<Length>,
    opens: Option<&'static str>,
    /// What must come off before it drops in.
    take_off: Option<Length>,
    value: Option<f64>,
    /// How far the input that gives has moved.
    moved: f64,
}

impl Side {
    /// Rounding does not decide between two signs that are alike.
    fn is_worse_than(&self, other: &Side) -> bool {
        let pair = |of: fn(&Side) -> Option<Length>| {
            let length = |side| of(side).map_or(0.0, |l| l.0);
            (length(self), length(other))
        };
        let (gaps, off) = (pair(|s| s.gap), pair(|s| s.take_off));
        // A length that is too long is mended by the next cut, one that is too short is not. Of a reading the gap
        // stays either way.
        let pairs = match self.by {
            Quantity::Length(_) => [(self.moved, other.moved), gaps, off],
            _ => [(self.moved, other.moved), off, gaps],
        };
        let differing = pairs.iter().find(|(a, b)| (a - b).abs() > 1e-9 * a.abs().max(b.abs()));
        differing.is_some_and(|(a, b)| a > b)
    }
}

fn row(
    layout: &'static dyn Layout,
    form: &'static Form,
    solved: &Solved,
    off: &'static Off,
    metric: bool,
    steps: &Steps,
) -> Option<OffAnswer> {
    let answers = &solved.solution.answers;
    let now = answers.quantity(off.answer)?;
    let by = match now {
        Quantity::Length(_) if metric => MM,
        Quantity::Length(_) => INCHES,
        Quantity::Angle(_) => DEGREES,
        _ => return None,
    };
    let kept: Vec<Quantity> =
        off.keep.iter().map(|k| answers.quantity(k)).collect::<Option<_>>()?;
    // What is too short cannot be mended, so it stands where both signs are alike.
    let signs = if matches!(now, Quantity::Length(_)) { [-1.0, 1.0] } else { [1.0, -1.0] };
    let mut worst: Option<Side> = None;
    for sign in signs {
        let error = wording::quantity_like(now, sign * by);
        // No saw is set to less than square.
        if matches!(now, Quantity::Angle(a) if a.0 >= 0.0 && a.0 + sign * by < 0.0) {
            continue;
        }
        let side = side(layout, form, solved, off, (now, error, &kept), steps);
        if worst.as_ref().is_none_or(|w| side.is_worse_than(w)) {
            worst = Some(side);
        }
    }
    let side = worst?;
    let give = off.give.filter(|_| side.value.is_some());
    let was = give.and_then(|give| solved.inputs.get(give)?.quantity());
    let field = form.fields.iter().find(|f| Some(f.key) == give);
    let free = side.value.filter(|_| field.is_some_and(|f| f.free));
    let value = free.zip(was).map(|(x, was)| wording::quantity_like(was, x));
    let change = side.value.zip(was).map(|(x, w)| wording::quantity_like(w, x - plain(w, false)));
    let recut = recut(off, now, &kept, &side);
    if side.gap.is_none() && side.value.is_none() {
        return None;
    }
    let mut out = OffAnswer {
        answer: off.answer,
        by: side.by,
        gap: side.gap,
        opens: side.opens,
        drops_in: side.take_off.map(|t| t.0 <= 0.0),
        recut,
        give,
        value,
        change,
        text: Text::default(),
    };
    out.text = sentence(&out, field.zip(was), side.take_off, now);
    if off.give.is_some() && give.is_none() && steps.ran_out() {
        out.text.extend(say!(" Not all ways were tried."));
    }
    Some(out)
}

/// What one sign of the error comes to.
fn side(
    layout: &'static dyn Layout,
    form: &'static Form,
    solved: &Solved,
    off: &Off,
    (now, error, kept): (Quantity, Quantity, &[Quantity]),
    steps: &Steps,
) -> Side {
    let parts = &solved.solution.parts;
    let length = |q: &Quantity| if let Quantity::Length(l) = q { Some(*l) } else { None };
    let fault = match error {
        Quantity::Angle(by) => {
            Fault::Reading { answer: off.answer, by, kept: kept.iter().find_map(length) }
        }
        _ => Fault::Length(Length(plain(error, false))),
    };
    let take_off = parts
        .first()
        .zip(solved.solution.opening.as_ref())
        .and_then(|(part, opening)| drop_in::to_take_off(part, opening, fault));
    let (mut gap, opens) = match gap(parts, off.answer, now, error) {
        Some((gap, opens)) => (Some(gap), Some(opens)),
        None => (None, None),
    };
    // What is too long for its opening closes once it is cut again.
    if take_off.is_some_and(|t| t.0 > 0.0) && matches!(fault, Fault::Length(_)) {
        gap = Some(Length(0.0));
    }
    let value =
        off.give.and_then(|give| comes_out(layout, form, solved, off, give, (now, error), steps));
    let was = off.give.and_then(|give| solved.inputs.get(give)?.scalar());
    let moved = value.zip(was).map_or(0.0, |(x, was)| (x - was).abs());
    Side { by: error, gap, opens, take_off, value, moved }
}

/// The length to cut again, and to what: the kept one less what must come off, or the wrong one.
fn recut(
    off: &Off,
    now: Quantity,
    kept: &[Quantity],
    side: &Side,
) -> Option<(&'static str, Length)> {
    if let Quantity::Length(l) = now {
        return (side.value.is_none() && side.gap.is_some()).then_some((off.answer, l));
    }
    let off_it = side.take_off.filter(|t| t.0 > 0.0)?;
    off.keep.iter().zip(kept).find_map(|(key, kept)| match kept {
        Quantity::Length(l) => Some((*key, *l - off_it)),
        _ => None,
    })
}

/// The new value of the input that gives; none where nothing near what it was makes up for the error.
fn comes_out(
    layout: &'static dyn Layout,
    form: &'static Form,
    solved: &Solved,
    off: &Off,
    give: &'static str,
    (now, error): (Quantity, Quantity),
    steps: &Steps,
) -> Option<f64> {
    let (unknown, known, kept) = unknowns(form, solved, off, give)?;
    let wrong = wording::quantity_like(now, plain(now, false) + plain(error, false));
    let mut wishes = vec![Wish::of(off.answer, wrong)];
    wishes.extend(kept);
    let field = unknown[0];
    let was = known.inputs.get(give)?.scalar()?;
    let system = System::new(layout, &known.inputs, unknown, wishes, steps)
        .only_way(Some(solved.solution.way));
    let value = system.nearest(&known)?.inputs.get(give)?.scalar()?;
    let moved = (value - was).abs();
    let near = match field.kind {
        Kind::Angle(..) => moved <= NEAR_ANGLE,
        _ => moved <= NEAR_LENGTH * was.abs(),
    };
    near.then_some(value)
}

/// The input that gives and one more free one for each answer that is kept; the inputs, in which a kept answer
/// that the form may be told stands as told; and the wishes for the other kept answers.
fn unknowns(
    form: &'static Form,
    solved: &Solved,
    off: &Off,
    give: &str,
) -> Option<(Vec<&'static Field>, Solved, Vec<Wish>)> {
    let field = |key: &str| form.fields.iter().find(|f| f.key == key);
    let mut known = solved.clone();
    let mut wishes = Vec::new();
    for path in off.keep {
        let kept = solved.solution.answers.quantity(path)?;
        match field(path).filter(|f| f.need == Need::Optional) {
            Some(f) => known.inputs.set(f.key, typed(f, plain(kept, false))),
            None => wishes.push(Wish::of(path, kept)),
        }
    }
    let free = |key: &str| {
        let known = known.inputs.get(key).and_then(|v| v.scalar()).is_some();
        field(key).filter(|f| known && f.free && is_scalar(f))
    };
    // What stands there already may be asked by how much it is missed, but nothing else of its kind gives too.
    let mut out = vec![field(give).filter(|f| is_scalar(f))?];
    for key in form.gives {
        if out.len() > wishes.len() {
            break;
        }
        if let Some(f) = free(key).filter(|f| out.iter().all(|o| o.key != f.key)) {
            out.push(f);
        }
    }
    (out.len() == wishes.len() + 1).then_some((out, known, wishes))
}

/// How far the joint stands open where the piece goes where it should, and where.
fn gap(
    parts: &[Part],
    answer: &str,
    now: Quantity,
    by: Quantity,
) -> Option<(Length, &'static str)> {
    let cuts = || parts.iter().flat_map(|p| p.cuts.iter().map(move |c| (p, c)));
    match (now, by) {
        (Quantity::Angle(now), Quantity::Angle(by)) => {
            let high = by.0 > 0.0;
            // Cut too steep, the longer side touches first.
            let cut = cuts().find_map(|(part, c)| {
                if c.miter_key == Some(answer) {
                    Some((c.across, if high { "at the short point" } else { "at the long point" }))
                } else if c.bevel_key == Some(answer) {
                    let opens = if high { "on the shorter face" } else { "on the longer face" };
                    Some((part.away?, opens))
                } else {
                    None
                }
            });
            // A shoulder is a line across its strip, no end cut.
            let shoulder =
                || parts.iter().find(|p| !p.marks.is_empty() && p.cuts.iter().all(is_square));
            let (across, opens) =
                cut.or_else(|| Some((shoulder()?.seen, "at one end of the shoulder")))?;
            let open = across.0 * num::sin_deg(by.0) / num::cos_deg(now.0 + by.0);
            Some((Length(open.abs()), opens)).filter(|(l, _)| l.is_finite())
        }
        (_, Quantity::Length(by)) => {
            // The end that closes first is pushed home; at the other the cut that opens most is seen.
            let at = |end: End| {
                let all = parts.first()?.cuts.iter().filter(|c| c.end == end);
                all.map(|c| num::cos_deg(c.miter.0)).reduce(f64::max)
            };
            let least = [End::Left, End::Right].into_iter().filter_map(at).reduce(f64::min)?;
            // Square ends meet nothing that would show a gap: boards of a panel, a scale.
            (least < 1.0).then_some((Length((by.0 * least).abs()), "at one end"))
        }
        _ => None,
    }
}

fn is_square(cut: &Cut) -> bool {
    cut.miter.0 == 0.0 && cut.bevel.0 == 0.0
}

/// What the row comes to in words; `give` is the field that gives with what it was.
fn sentence(
    row: &OffAnswer,
    give: Option<(&Field, Quantity)>,
    take_off: Option<Length>,
    now: Quantity,
) -> Text {
    let (size, side) = match row.by {
        Quantity::Length(l) if l.0 < 0.0 => (Quantity::Length(l.abs()), " short: "),
        Quantity::Angle(a) if a.0 < 0.0 => (Quantity::Angle(a.abs()), " low: "),
        Quantity::Length(_) => (row.by, " long: "),
        by => (by, " high: "),
    };
    let mut text = say!("{} ", wording::spoken_first(row.answer));
    text.extend(off_size(size));
    text.extend(say!(side));
    let mut said = false;
    let mut put = |all: Text| {
        text.extend(say!(if said { "; " } else { "" }));
        text.extend(all);
        said = true;
    };
    if let Some((gap, opens)) = row.gap.zip(row.opens) {
        let mut all = crate::saw::wording::gap_in_words(gap);
        all.extend(say!(" {}", opens));
        put(all);
    }
    match (take_off, row.recut) {
        (Some(off), _) if off.0 <= 0.0 => put(say!("it still drops in")),
        (Some(off), _) if off.0 < UNSEEN => put(say!("it drops in snugly")),
        (Some(_), Some((key, to))) => {
            put(say!("it does not drop in until {} is recut to {}", answer_words(key), to))
        }
        (Some(_), None) => put(say!("it does not drop in")),
        (None, _) => {}
    }
    match (row.value, give) {
        (Some(value), Some((field, was))) => {
            let moved = (plain(value, false) - plain(was, false)).abs();
            if moved < UNSEEN {
                put(say!(
                    "{} stays at {} as near as it can be read",
                    lower_first(field.label),
                    was
                ));
            } else {
                let label = lower_first(field.label);
                put(say!("as cut, {} comes out at {}", label, Said::Instead(value, was)));
            }
        }
        (None, Some((field, _))) => {
            let by = row.change.map_or(0.0, |c| plain(c, false).abs());
            put(say!("{} is missed by {}", lower_first(field.label), Length(by)));
        }
        _ => {
            if let (Quantity::Length(_), Some((_, to))) = (now, row.recut) {
                put(say!("only a cut at {} closes it", to));
                if take_off.is_some() {
                    put(say!("as much too long, it does not drop in"));
                }
            }
        }
    }
    text.extend(say!("."));
    text
}

/// A thirty-second is finer than many makers' marks, so it is said in words.
fn off_size(size: Quantity) -> Text {
    match size {
        Quantity::Length(l) if l.0 == INCHES => say!("1/32 in"),
        other => say!(other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A second opinion on the quick steps, for every row of every layout in which two inputs give: the
    /// safeguarded search for the one within the safeguarded search for the other.
    #[test]
    fn what_is_followed_is_what_a_search_finds() {
        let mut rows = 0;
        for layout in crate::layouts::all() {
            for form in layout.forms() {
                let inputs = form.start_inputs(false);
                for solution in layout.solve(&inputs, Detail::Full).solutions {
                    let solved = Solved { inputs: inputs.clone(), solution };
                    for off in form.off {
                        rows += usize::from(is_found_twice(*layout, form, &solved, off));
                    }
                }
            }
        }
        // Legs by length, by angle and five more ways, and a knee; the brace's openings give no more.
        assert!(rows > 10, "only {rows} rows");
    }

    fn is_found_twice(
        layout: &'static dyn Layout,
        form: &'static Form,
        solved: &Solved,
        off: &Off,
    ) -> bool {
        let found = off.give.and_then(|give| unknowns(form, solved, off, give));
        let Some((unknown, known, kept)) = found.filter(|f| f.2.len() == 1) else {
            return false;
        };
        let now = solved.solution.answers.quantity(off.answer).expect("an answer");
        let (mut moved, give) = (Wish::of(off.answer, now), unknown[0].key);
        moved.value += INCHES;
        let way = Some(solved.solution.way);
        let at = format!("{} {} {way:?} {}", layout.id(), form.id, off.answer);
        let steps = Steps::at_most(u32::MAX);
        let both = vec![moved.clone(), kept[0].clone()];
        let system = System::new(layout, &known.inputs, unknown.clone(), both, &steps);
        let hit = system.only_way(way).followed(&known).expect(&at);
        let followed = hit.inputs.get(give).and_then(|v| v.scalar()).expect(&at);
        // The kept answer is held by the second input; what the moved one then misses.
        let mut missed = |x: f64| {
            let inputs = hit.inputs.with(give, typed(unknown[0], x));
            let mut inner =
                System::new(layout, &inputs, vec![unknown[1]], kept.clone(), &steps).only_way(way);
            inner.near = true;
            let found = inner.search().hits.into_iter().next()?;
            Some(moved.read(&found.answers)? - moved.value)
        };
        let around = 1e-4 * followed.abs().max(1.0);
        let found = num::root_between(&mut missed, followed - around, followed + around);
        let far = (found.expect(&at) - followed).abs() / followed.abs().max(1.0);
        assert!(far < 1e-9, "{at}: {far}");
        true
    }
}
