//! Two pieces side by side: sizes, parts, boards, cost, and where they differ.

use super::draft::Draft;
use super::made::Piece;
use super::shop::Shop;
use super::work::Work;
use crate::cutlist::{Entry, Jobs, PartEnd, Planned, ShownPlan, Summary, yard_length};
use offsquare_cuts::inputs::{Field, Kind};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Style, say};

/// What a line is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    Sizes,
    Parts,
    Boards,
    Cost,
    Price,
}

/// One line: the same thing of both, in words; empty where one has none of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Beside {
    pub about: About,
    pub name: String,
    pub words: [String; 2],
    pub differs: bool,
}

impl Beside {
    fn of(about: About, name: &str, words: [String; 2]) -> Beside {
        let differs = words[0] != words[1];
        Beside { about, name: name.to_owned(), words, differs }
    }
}

/// One member of each list under every name that either has, in the order in which they first come.
fn paired<'a, T, K: PartialEq>(
    all: [&'a [T]; 2],
    key: impl Fn(&'a [T], usize) -> K,
) -> Vec<(K, [Option<&'a T>; 2])> {
    let mut out: Vec<(K, [Option<&T>; 2])> = Vec::new();
    for (side, list) in all.into_iter().enumerate() {
        for (i, one) in list.iter().enumerate() {
            let name = key(list, i);
            match out.iter_mut().find(|o| o.0 == name) {
                Some(both) => both.1[side] = Some(one),
                None => {
                    let mut both = [None, None];
                    both[side] = Some(one);
                    out.push((name, both));
                }
            }
        }
    }
    out
}

/// What a part is called by its layout, else by the maker.
fn called(entry: &Entry) -> String {
    entry.from.as_ref().map_or_else(|| entry.called(), |f| f.part.clone())
}

/// A field as it was typed.
fn size_words(draft: &Draft, field: &Field) -> String {
    let Some(typed) = draft.text(field.key).filter(|t| !t.text.trim().is_empty()) else {
        return String::new();
    };
    let metric = matches!(field.kind, Kind::Length(_)) && typed.unit.is_metric();
    match field.kind {
        Kind::Choice(all) => {
            let one = all.iter().find(|c| c.key == typed.text);
            one.map_or_else(|| typed.text.clone(), |c| c.label.to_owned())
        }
        _ => format!("{}{}", typed.text.trim(), if metric { " mm" } else { "" }),
    }
}

impl Work {
    /// Two pieces, line by line. `found`: what the planner found for each by itself ([`Work::jobs_of`]); boards and cost
    /// are told once both are known.
    pub fn compare(
        &self,
        pieces: [u32; 2],
        found: [Option<(&Jobs, &Planned)>; 2],
        shop: &Shop,
    ) -> Vec<Beside> {
        let mut out = self.sizes_beside(pieces);
        self.parts_beside(pieces, &shop.style(), &mut out);
        if let ([Some(a), Some(b)], [Some(first), Some(second)]) =
            (found, pieces.map(|id| self.piece(id)))
        {
            let sides = [(first, a), (second, b)];
            let sums = sides.map(|(_, (jobs, planned))| {
                Summary::of(jobs, planned, self.plain, &self.rack, &self.parts)
            });
            self.boards_beside(sides, &sums, &shop.style(), &mut out);
            self.price_beside(sides, &sums, shop, &mut out);
        }
        out
    }

    fn sizes_beside(&self, pieces: [u32; 2]) -> Vec<Beside> {
        let drafts = pieces.map(|id| self.pattern(id).map(|s| &s.draft));
        let fields = drafts.map(|d| d.and_then(|d| d.form()).map_or(&[][..], |form| form.fields));
        let line = |(_, both): (_, [Option<&Field>; 2])| {
            let field = both[0].or(both[1])?;
            let words = [0, 1].map(|side| {
                let draft = drafts[side].filter(|_| both[side].is_some());
                draft.map(|d| size_words(d, field)).unwrap_or_default()
            });
            Some(Beside::of(About::Sizes, field.label, words))
        };
        let lines = paired(fields, |all, i| all[i].key).into_iter().filter_map(line);
        lines.filter(|l| l.words != [String::new(), String::new()]).gather()
    }

    fn parts_beside(&self, pieces: [u32; 2], style: &Style, out: &mut Vec<Beside>) {
        let lists = pieces.map(|id| self.parts_of(id).gather());
        let [a, b] = &lists;
        let key = |all: &[&Entry], i: usize| {
            let name = called(all[i]);
            let before = all[..i].iter().filter(|e| called(e) == name).count();
            (name, before)
        };
        for ((name, _), both) in paired([a.as_slice(), b.as_slice()], key) {
            let words = both.map(|e| e.map(|e| self.part_words(e, style)).unwrap_or_default());
            let differs = match both {
                [Some(a), Some(b)] => !alike(a, b),
                _ => true,
            };
            out.push(Beside { about: About::Parts, name, words, differs });
        }
    }

    fn part_words(&self, e: &Entry, style: &Style) -> String {
        if e.count == 0 {
            return "left out".to_owned();
        }
        let stock = self.rack.stock_of(e.stock);
        let count = format!("{} \u{d7} ", e.count);
        let mut said = vec![say!("{}{}", count, e.cut_length()).render(style)];
        let seen = e.seen.or(stock.map(|s| s.width));
        let away = e.away.or(stock.map(|s| s.thickness));
        if let (Some(seen), Some(away)) = (seen, away) {
            said.push(say!("{} by {}", seen, away).render(style));
        }
        if !(e.left.is_square() && e.right.is_square()) {
            said.push(format!("{} / {}", e.left.words(), e.right.words()));
        }
        said.extend(stock.map(|s| s.name.clone()));
        said.join(", ")
    }

    fn boards_beside(
        &self,
        sides: [(&Piece, (&Jobs, &Planned)); 2],
        sums: &[Summary; 2],
        style: &Style,
        out: &mut Vec<Beside>,
    ) {
        let lists = [0, 1].map(|side| {
            let jobs = sides[side].1.0;
            let row = |s: &ShownPlan| {
                let bought = s
                    .buy
                    .iter()
                    .map(|b| format!("{} at {}", b.count, yard_length(b.length, style)));
                let owned = (s.owned > 0).then(|| format!("{} from the rack", s.owned));
                let words = bought.chain(owned).gather().join(", ");
                Some((jobs.jobs.get(s.job)?.name.clone(), words))
            };
            sums[side].shown.iter().filter_map(row).gather()
        });
        let [a, b] = &lists;
        for (name, both) in paired([a.as_slice(), b.as_slice()], |all, i| all[i].0.clone()) {
            let words = both.map(|row| row.map(|r| r.1.clone()).unwrap_or_default());
            out.push(Beside::of(About::Boards, &name, words));
        }
        let currency = self.currency();
        let cost = [0, 1].map(|side| {
            let whole = sums[side].shown.len() == sides[side].1.0.jobs.len();
            if whole { sums[side].cost().words(style, &currency) } else { String::new() }
        });
        let one = [0, 1].map(|side| {
            let share = sums[side].share(sides[side].0.id).filter(|s| !s.open);
            share.map(|s| currency.print(s.each())).unwrap_or_default()
        });
        let batch = sides.map(|(p, _)| p.batch.to_string());
        for (name, words) in [("How many", batch), ("All boards", cost), ("Each", one)] {
            out.push(Beside::of(About::Cost, name, words));
        }
    }
}

/// Figures of the price that are set side by side.
const PRICED: [(&str, &str); 6] = [
    ("minutes", "Time"),
    ("cost_each", "Cost of one"),
    ("floor", "Floor"),
    ("asked", "Asked"),
    ("profit", "Profit of a sale"),
    ("earned_per_hour", "An hour earns"),
];

impl Work {
    fn price_beside(
        &self,
        sides: [(&Piece, (&Jobs, &Planned)); 2],
        sums: &[Summary; 2],
        shop: &Shop,
        out: &mut Vec<Beside>,
    ) {
        let told = [0, 1].map(|side| {
            let (piece, (jobs, planned)) = sides[side];
            let found = (jobs, planned, &sums[side]);
            let made = self.made(piece, self.surface(piece.id, shop), found, &shop.style());
            self.priced(piece, &made).lines()
        });
        for (key, name) in PRICED {
            let words = told.each_ref().map(|lines| {
                let line = lines.iter().find(|l| l.key == key);
                line.map(|l| l.value.clone()).unwrap_or_default()
            });
            if words.iter().any(|w| !w.is_empty()) {
                out.push(Beside::of(About::Price, name, words));
            }
        }
    }
}

/// Whether two parts are cut alike.
fn alike(a: &Entry, b: &Entry) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-9;
    let size = |a: Option<Length>, b: Option<Length>| match (a, b) {
        (Some(a), Some(b)) => near(a.0, b.0),
        (a, b) => a == b,
    };
    let ends = |e: &Entry| [e.left, e.right];
    let same_end = |(a, b): (PartEnd, PartEnd)| {
        near(a.miter, b.miter) && near(a.bevel, b.bevel) && a.pointed == b.pointed
    };
    a.count == b.count
        && a.stock == b.stock
        && near(a.cut_length().0, b.cut_length().0)
        && size(a.seen, b.seen)
        && size(a.away, b.away)
        && ends(a).into_iter().zip(ends(b)).all(same_end)
}
