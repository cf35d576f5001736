//! What a search says.

/// Something found, a proof that there is none, or neither.
pub enum Verdict<T> {
    Found(T),
    Impossible,
    /// Not everything could be tried.
    Unknown,
}
