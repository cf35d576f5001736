//! A list that costs nothing to copy until one of the copies is changed.

use std::ops::{Deref, DerefMut};
use std::rc::Rc;

/// Rows shared by all copies of a document. It is used as the `Vec` in it.
#[derive(Clone, Debug)]
pub struct Shared<T>(Rc<Vec<T>>);

impl<T> Shared<T> {
    /// Whether both are one list, so that their rows need not be compared.
    pub fn is_one_with(&self, other: &Shared<T>) -> bool {
        Rc::ptr_eq(&self.0, &other.0)
    }
}

impl<T: PartialEq> PartialEq for Shared<T> {
    fn eq(&self, other: &Shared<T>) -> bool {
        self.is_one_with(other) || self.0 == other.0
    }
}

impl<T> Default for Shared<T> {
    fn default() -> Shared<T> {
        Shared(Rc::default())
    }
}

impl<T> From<Vec<T>> for Shared<T> {
    fn from(rows: Vec<T>) -> Shared<T> {
        Shared(Rc::new(rows))
    }
}

impl<T> Deref for Shared<T> {
    type Target = Vec<T>;

    fn deref(&self) -> &Vec<T> {
        &self.0
    }
}

impl<T: Clone> DerefMut for Shared<T> {
    fn deref_mut(&mut self) -> &mut Vec<T> {
        Rc::make_mut(&mut self.0)
    }
}

impl<'a, T> IntoIterator for &'a Shared<T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

impl<'a, T: Clone> IntoIterator for &'a mut Shared<T> {
    type Item = &'a mut T;
    type IntoIter = std::slice::IterMut<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter_mut()
    }
}
