//! A pattern asks a layout: its sizes under the layout's keys, and what is wrong with them under the
//! pattern's own.

use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::{self, Detail, Layout, Refused, Solution};
use offsquare_cuts::problem::{Level, Problem};
use offsquare_units::{Angle, Length};

/// One question to a layout.
pub struct Ask {
    /// None where no layout has that name: then there is no answer.
    layout: Option<&'static dyn Layout>,
    inputs: Inputs,
    /// The layout's key, and the pattern's size that it comes from.
    from: Vec<(&'static str, &'static str)>,
}

impl Ask {
    /// Of a layout's form; its fields that stand unless changed are filled with what stands.
    pub fn of(layout: &'static str, form: &'static str) -> Ask {
        let layout = layouts::find(layout);
        let mut inputs = Inputs::of_form(form);
        let forms = layout.into_iter().flat_map(|l| l.forms());
        let fields = forms.filter(|f| f.id == form).flat_map(|f| f.fields);
        for field in fields {
            if let Some(stands) = offsquare_cuts::inputs::standing_value(field) {
                inputs.set(field.key, stands);
            }
        }
        Ask { layout, inputs, from: Vec::new() }
    }

    /// One input, and the pattern's size that is to blame where it is wrong.
    pub fn with(mut self, key: &'static str, value: Value, from: &'static str) -> Ask {
        self.inputs.set(key, value);
        self.from.push((key, from));
        self
    }
    /// A length in inches.
    pub fn length(self, key: &'static str, inches: f64, from: &'static str) -> Ask {
        self.with(key, Value::Length(Length(inches)), from)
    }
    /// An angle in degrees.
    pub fn angle(self, key: &'static str, degrees: f64, from: &'static str) -> Ask {
        self.with(key, Value::Angle(Angle(degrees)), from)
    }
    /// A choice.
    pub fn choice(self, key: &'static str, choice: &'static str, from: &'static str) -> Ask {
        self.with(key, Value::Choice(choice), from)
    }

    /// The layout's first solution, and what it warns of. Its own drawings are left out: a pattern shows the whole
    /// piece.
    pub fn one(self, detail: Detail) -> Result<(Solution, Vec<Problem>), Refused> {
        let outcome = self.layout.map(|l| l.solve(&self.inputs, detail)).unwrap_or_default();
        let problems = outcome.problems.into_iter().map(|p| self.in_pattern(p)).collect();
        let Some(first) = outcome.solutions.into_iter().next() else {
            return Err(Refused::For(problems));
        };
        let (figure, solids) = (Default::default(), Vec::new());
        Ok((Solution { figure, solids, opening: None, ..first }, problems))
    }

    /// The same problem at the pattern's own size; it no longer speaks of one of the layout's ways.
    fn in_pattern(&self, problem: Problem) -> Problem {
        let own = problem
            .field()
            .and_then(|key| self.from.iter().find(|(k, _)| *k == key))
            .map_or("", |(_, from)| from);
        let moved = match problem.level {
            Level::Stop => Problem::stop(own, problem.text),
            Level::Warn => Problem::warn(own, problem.text),
        };
        match problem.limit {
            Some(limit) => moved.with_limit(limit),
            None => moved,
        }
    }
}
