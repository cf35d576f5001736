//! The one kind of error a person can meet: which field, whether it stops or warns, the fact with
//! its numbers, and the way out. A check returns *all* problems, not the first.

use crate::value::Value;
use offsquare_units::{Quantity, Said, Text};
use std::borrow::Cow;

/// Whether an answer can still be given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Level {
    /// No answer (for the named way, or for all where none is named).
    Stop,
    /// The answer stands; this is said beside it.
    Warn,
}

/// One thing that is wrong, in a plain sentence.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// A JSON pointer to the field: `/inputs/strip_width`, or `/inputs` for the whole.
    pub path: Cow<'static, str>,
    pub level: Level,
    /// The way (landing, roll, root) that it speaks of; none: all of them.
    pub way: Option<Cow<'static, str>>,
    /// The limit that was passed, in the dimension of the field.
    pub limit: Option<Quantity>,
    /// What is wrong, and what would be right.
    pub text: Text,
    /// Sizes that contradict each other: by how much.
    pub by: Option<Quantity>,
    /// Changes of one input each that mend it, likeliest first. Sizes that contradict each other: for each input,
    /// the value that would agree.
    pub mends: Vec<Mend>,
}

/// A change of one input that mends a problem.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// The input's key, and its new value.
    pub key: Cow<'static, str>,
    pub to: Value,
}

impl Problem {
    /// A problem that leaves no answer. `field` is an input's key, or "" for the inputs as a whole.
    pub fn stop(field: &str, text: impl Into<Text>) -> Problem {
        Problem::new(Level::Stop, field, text.into())
    }

    /// A problem beside which the answer stands.
    pub fn warn(field: &str, text: impl Into<Text>) -> Problem {
        Problem::new(Level::Warn, field, text.into())
    }

    /// A stop at a limit, which the sentence tells in its one hole: "The clip may be at most {}."
    ///
    /// Example: `at_limit("width", "It must be less than {}.", Length(2.0))` says "… less than 2 in." at the width.
    #[inline(never)]
    pub fn at_limit(field: &str, words: &'static str, limit: impl Into<Quantity>) -> Problem {
        let limit = limit.into();
        Problem::stop(field, Text::said(words, &[Said::Quantity(limit)])).with_limit(limit)
    }

    fn new(level: Level, field: &str, text: Text) -> Problem {
        let path = if field.is_empty() {
            Cow::Borrowed("/inputs")
        } else if field.starts_with('/') {
            Cow::Owned(field.to_owned())
        } else {
            Cow::Owned(format!("/inputs/{field}"))
        };
        Problem { path, level, way: None, limit: None, text, by: None, mends: Vec::new() }
    }

    /// The same, speaking of one way only.
    #[inline(never)]
    pub fn of_way(mut self, way: impl Into<Cow<'static, str>>) -> Problem {
        self.way = Some(way.into());
        self
    }

    /// The same, naming the limit that was passed. Never inlined: in place it moves a problem's every field by itself.
    #[inline(never)]
    pub fn with_limit(mut self, limit: impl Into<Quantity>) -> Problem {
        self.limit = Some(limit.into());
        self
    }

    /// The same, mended where the input `key` is any of these.
    pub fn mended_by(
        mut self,
        key: impl Into<Cow<'static, str>>,
        values: impl IntoIterator<Item = Value>,
    ) -> Problem {
        let key = key.into();
        self.mends.extend(values.into_iter().map(|to| Mend { key: key.clone(), to }));
        self
    }

    /// The same, but the answer stands beside it.
    pub fn as_warning(self) -> Problem {
        Problem { level: Level::Warn, ..self }
    }

    /// The key of the input that it stands beside, if it stands beside one.
    pub fn field(&self) -> Option<&str> {
        let rest = self.path.strip_prefix("/inputs/")?;
        Some(rest.split('/').next().unwrap_or(rest))
    }
}
