//! Lengths, angles and money: every documented spelling, what is refused and in which words, the
//! tape's marks, and round trips. Expected numbers are worked by hand from 1 in = 25.4 mm (the
//! international agreement of 1959) and 1 in = 64/64 in, unless a test says otherwise.

mod counting;
mod hostile;
mod marks;
mod refusals;
mod round_trip;
mod spellings;
mod sums;
