//! The patterns found so far.

use super::model::Pattern;
use std::collections::BTreeMap;

/// Patterns found so far, each once.
#[derive(Default)]
pub struct Pool {
    pub patterns: Vec<Pattern>,
    known: BTreeMap<Vec<(u32, u32)>, usize>,
}

impl Pool {
    /// Adds a pattern unless one with the same parts is there and no longer; gives its index.
    pub fn add(&mut self, pattern: Pattern) -> Option<usize> {
        if pattern.counts.is_empty() {
            return None;
        }
        if let Some(&at) = self.known.get(&pattern.counts) {
            let old = &mut self.patterns[at];
            if pattern.extent < old.extent - 1e-12 || pattern.tailed < old.tailed - 1e-12 {
                *old = pattern;
                return Some(at);
            }
            return None;
        }
        self.known.insert(pattern.counts.clone(), self.patterns.len());
        self.patterns.push(pattern);
        Some(self.patterns.len() - 1)
    }
}
