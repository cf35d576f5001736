//! Sizes that were given under another name than the form's own (`"given": "splay", "value": 20` is
//! `splay_deg` 20): the reply speaks of them as the request did.

use super::read::spelled;
use offsquare_cuts::layouts::Layout;
use offsquare_cuts::problem::Problem;
use offsquare_units::num::{Gather, sort_by};
use serde_json::{Map, Value};
use std::borrow::Cow;

/// What was given under which name.
pub(super) struct Names {
    /// (the form's own key, the name as given).
    renamed: Vec<(String, String)>,
    /// Names that only said how to read another one (`given`).
    read_by: Vec<String>,
}

impl Names {
    /// Compares the names in a request with those that the layout reads.
    pub fn of(layout: &'static dyn Layout, asked: &Map<String, Value>) -> Names {
        let entries = spelled(layout, asked).entries;
        let name = |path: &str| {
            path.strip_prefix("/inputs/").unwrap_or(path).replace("~1", "/").replace("~0", "~")
        };
        let mut read: Vec<String> = entries.iter().map(|e| name(&e.2)).gather();
        sort_by(&mut read, |a, b| a.cmp(b));
        let unread = |k: &String| read.binary_search(k).is_err();
        let mut read_by: Vec<String> = asked
            .iter()
            .filter(|(k, v)| !v.is_null() && unread(k))
            .map(|(k, _)| k.clone())
            .gather();
        sort_by(&mut read_by, |a, b| a.cmp(b));
        let renamed = entries
            .into_iter()
            .map(|(own, _, path)| (own, name(&path)))
            .filter(|(own, given)| own != given)
            .gather();
        Names { renamed, read_by }
    }

    /// The form's own key for a name as given.
    pub fn own<'a>(&'a self, given: &'a str) -> &'a str {
        self.renamed.iter().find(|(_, g)| g == given).map_or(given, |(own, _)| own)
    }

    /// The name under which the form's own key was given.
    pub fn given<'a>(&'a self, own: &'a str) -> &'a str {
        self.renamed.iter().find(|(o, _)| o == own).map_or(own, |(_, given)| given)
    }

    /// Problems stand where the sizes were given, and name them so.
    pub fn in_problems(&self, problems: &mut [Problem]) {
        if self.renamed.is_empty() {
            return;
        }
        for problem in problems {
            if let Some(rest) = problem.path.strip_prefix("/inputs/") {
                let (key, tail) = rest.split_at(rest.find('/').unwrap_or(rest.len()));
                let given = self.given(key);
                if given != key {
                    problem.path = format!("/inputs/{}{tail}", super::read::pointer(given)).into();
                }
            }
            for mend in &mut problem.mends {
                let given = self.given(&mend.key);
                if given != mend.key.as_ref() {
                    mend.key = Cow::Owned(given.to_owned());
                }
            }
        }
    }

    /// Inputs found are written as they were given, so that they can be asked again.
    pub fn in_inputs(&self, found: &mut Map<String, Value>, asked: &Map<String, Value>) {
        for (own, given) in &self.renamed {
            if let Some(value) = found.shift_remove(own) {
                for key in &self.read_by {
                    if let Some(word) = asked.get(key) {
                        found.insert(key.clone(), word.clone());
                    }
                }
                found.insert(given.clone(), value);
            }
        }
    }
}
