//! A request before its values are typed: what was said, under which names, and where it stood.

use crate::problem::Problem;

/// A value as it was said, before a field says what it must be.
#[derive(Clone, Debug, PartialEq)]
pub enum Raw {
    Number(f64),
    Word(String),
    Flag(bool),
    List(Vec<Raw>),
    /// Nothing that a field takes.
    Other,
}

impl Raw {
    pub fn number(&self) -> Option<f64> {
        if let Raw::Number(n) = self { Some(*n) } else { None }
    }
    pub fn word(&self) -> Option<&str> {
        if let Raw::Word(word) = self { Some(word) } else { None }
    }
    pub fn list(&self) -> Option<&[Raw]> {
        if let Raw::List(all) = self { Some(all) } else { None }
    }
}

/// The inputs of a request before they are typed, and where each came from.
#[derive(Clone, Debug, Default)]
pub struct Spelling {
    /// (key, value, path of the value in the request).
    pub entries: Vec<(String, Raw, String)>,
    /// What is wrong with the spelling itself; it stops the request.
    pub problems: Vec<Problem>,
    /// Sizes that were meant but could not be read: none of the form's own is said to be missing for them.
    pub lost: usize,
}

impl Spelling {
    pub fn get(&self, key: &str) -> Option<&Raw> {
        self.entries.iter().find(|e| e.0 == key).map(|e| &e.1)
    }
    /// Takes an entry out.
    pub fn take(&mut self, key: &str) -> Option<(Raw, String)> {
        let at = self.entries.iter().position(|e| e.0 == key)?;
        let (_, value, path) = self.entries.remove(at);
        Some((value, path))
    }
    /// Puts an entry in under the form's own key, keeping the path that the maker knows.
    pub fn put(&mut self, key: &str, value: Raw, path: String) {
        self.entries.push((key.to_owned(), value, path));
    }
    /// Says what is wrong with the spelling itself.
    pub fn problem(&mut self, problem: Problem) {
        self.problems.push(problem);
    }
}
