//! Answers: named quantities in order, nested as the JSON door shows them.

use crate::problem::Problem;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Area, Length, Quantity, say};
use std::borrow::Cow;

/// One answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    Quantity(Quantity),
    Flag(bool),
    Word(&'static str),
    /// A nested object.
    Group(Answers),
    List(Vec<Answer>),
    /// No such figure here (JSON null).
    Nothing,
}

impl Answer {
    pub fn of(quantity: impl Into<Quantity>) -> Answer {
        Answer::Quantity(quantity.into())
    }
    pub fn list<Q: Into<Quantity>>(all: impl Iterator<Item = Q>) -> Answer {
        Answer::List(all.map(Answer::of).gather())
    }
}

/// Named answers, in the order in which they are read.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Answers(pub Vec<(Cow<'static, str>, Answer)>);

impl Answers {
    pub fn new() -> Answers {
        Answers::default()
    }
    pub fn put(&mut self, key: impl Into<Cow<'static, str>>, answer: Answer) -> &mut Answers {
        self.0.push((key.into(), answer));
        self
    }
    pub fn length(&mut self, key: &'static str, inches: f64) -> &mut Answers {
        self.put(key, Answer::Quantity(Quantity::Length(Length(inches))))
    }
    pub fn angle(&mut self, key: &'static str, degrees: f64) -> &mut Answers {
        self.put(key, Answer::Quantity(Quantity::Angle(Angle(degrees))))
    }
    pub fn area(&mut self, key: &'static str, square_inches: f64) -> &mut Answers {
        self.put(key, Answer::Quantity(Quantity::Area(Area(square_inches))))
    }
    pub fn count(&mut self, key: &'static str, n: f64) -> &mut Answers {
        self.put(key, Answer::Quantity(Quantity::Count(n)))
    }
    /// A length, or that there is none here.
    pub fn maybe_length(&mut self, key: &'static str, inches: Option<f64>) -> &mut Answers {
        self.put(key, inches.map_or(Answer::Nothing, |l| Answer::of(Length(l))))
    }
    pub fn lengths(
        &mut self,
        key: &'static str,
        all: impl IntoIterator<Item = f64>,
    ) -> &mut Answers {
        self.put(key, Answer::list(all.into_iter().map(Length)))
    }
    pub fn angles(
        &mut self,
        key: &'static str,
        all: impl IntoIterator<Item = f64>,
    ) -> &mut Answers {
        self.put(key, Answer::list(all.into_iter().map(Angle)))
    }
    pub fn group(&mut self, key: &'static str, answers: Answers) -> &mut Answers {
        self.put(key, Answer::Group(answers))
    }
    /// The answer at a dotted path; a list's members by number: `members.0.start_reading_deg`
    /// (`members[0].start_reading_deg` reads the same).
    pub fn at(&self, path: &str) -> Option<&Answer> {
        let mut steps = path.split(['.', '[', ']']).filter(|s| !s.is_empty());
        let first = steps.next()?;
        let mut here = self.0.iter().find(|(k, _)| k == first).map(|(_, a)| a)?;
        for step in steps {
            here = match here {
                Answer::Group(g) => g.0.iter().find(|(k, _)| k == step).map(|(_, a)| a)?,
                Answer::List(l) => l.get(step.parse::<usize>().ok()?)?,
                _ => return None,
            };
        }
        Some(here)
    }
    /// The quantity at a dotted path.
    pub fn quantity(&self, path: &str) -> Option<Quantity> {
        match self.at(path)? {
            Answer::Quantity(q) => Some(*q),
            _ => None,
        }
    }
    /// The numbers of a list, in its order; none where there is no such list.
    pub fn numbers(&self, path: &str) -> Vec<f64> {
        let Some(Answer::List(all)) = self.at(path) else { return Vec::new() };
        let number = |a: &Answer| match a {
            Answer::Quantity(q) => Some(q.number()),
            _ => None,
        };
        all.iter().filter_map(number).collect()
    }
    /// Sizes too far apart give numbers that cannot be said; then this is said instead, at `field`.
    pub fn check_finite(&self, field: &str) -> Result<(), Problem> {
        let mut finite = true;
        self.each_quantity(&mut |_, q| finite &= q.number().abs() < 1e300);
        if finite {
            return Ok(());
        }
        Err(Problem::stop(
            field,
            say!("These sizes lie too far apart: what comes out is past any number."),
        ))
    }
    /// How many answers there are, nested ones and those in lists too.
    pub fn how_many(&self) -> usize {
        fn of(a: &Answer) -> usize {
            match a {
                Answer::Group(g) => g.how_many(),
                Answer::List(l) => l.iter().map(of).sum(),
                _ => 1,
            }
        }
        self.0.iter().map(|(_, a)| of(a)).sum()
    }
    /// Calls `f` with the dotted path of every quantity.
    pub fn each_quantity(&self, f: &mut dyn FnMut(&str, Quantity)) {
        fn walk(path: &str, a: &Answer, f: &mut dyn FnMut(&str, Quantity)) {
            match a {
                Answer::Quantity(q) => f(path, *q),
                Answer::Group(g) => {
                    for (k, a) in &g.0 {
                        walk(&format!("{path}.{k}"), a, f);
                    }
                }
                Answer::List(l) => {
                    for (i, a) in l.iter().enumerate() {
                        walk(&format!("{path}.{i}"), a, f);
                    }
                }
                _ => {}
            }
        }
        for (k, a) in &self.0 {
            walk(k, a, f);
        }
    }
}
