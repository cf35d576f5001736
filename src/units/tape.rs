//! A running tape of sums, as on an adding machine.

use super::error::ParseError;
use super::typed::{Parsed, goes_on, parse_length, parse_length_from};
use super::{Kind, Unit, Why};

/// One line of the tape: what was typed stays, and stands beside what it comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeLine {
    /// As typed.
    pub text: String,
    /// The unit that a number without one counts in on this line.
    pub unit: Unit,
    /// What it comes to, or why it comes to nothing.
    pub result: Result<Parsed, ParseError>,
    /// Whether it goes on from the line above.
    pub goes_on: bool,
}

/// Lines of sums, oldest first. A line that begins with + - × or ÷ goes on from the line above; when
/// that line is changed, what follows is worked out again, with exact values all the way.
///
/// ```
/// use offsquare_units::{Length, Tape, Unit};
/// let mut tape = Tape::default();
/// tape.push("33 - 2 * 2", Unit::Inch);
/// tape.push("/ 2", Unit::Inch);
/// assert_eq!(tape.lines()[1].result.clone().unwrap().length, Length::inches(14.5));
/// tape.set(0, "31");
/// assert_eq!(tape.lines()[1].result.clone().unwrap().length, Length::inches(15.5));
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tape {
    lines: Vec<TapeLine>,
}

impl Tape {
    /// The tape with these lines, as they were kept: text and unit.
    pub fn of<'a>(lines: impl IntoIterator<Item = (&'a str, Unit)>) -> Tape {
        let mut tape = Tape::default();
        for (text, unit) in lines {
            tape.push(text, unit);
        }
        tape
    }
    pub fn lines(&self) -> &[TapeLine] {
        &self.lines
    }
    /// Adds a line at the end.
    pub fn push(&mut self, text: impl Into<String>, unit: Unit) {
        let text = text.into();
        let (result, goes_on) = worked_out(self.lines.last(), &text, unit);
        self.lines.push(TapeLine { text, unit, result, goes_on });
    }
    /// Puts another text in a line; a line that is not there stays away.
    pub fn set(&mut self, line: usize, text: impl Into<String>) {
        if let Some(changed) = self.lines.get_mut(line) {
            changed.text = text.into();
            self.work_out_from(line);
        }
    }
    /// Takes a line out; what went on from it goes on from the line above it.
    pub fn remove(&mut self, line: usize) {
        if line < self.lines.len() {
            self.lines.remove(line);
            self.work_out_from(line);
        }
    }

    fn work_out_from(&mut self, line: usize) {
        for i in line..self.lines.len() {
            let (above, rest) = self.lines.split_at_mut(i);
            if let Some(this) = rest.first_mut() {
                (this.result, this.goes_on) = worked_out(above.last(), &this.text, this.unit);
            }
        }
    }
}

/// What a line comes to, and whether it goes on from the one above. With nothing above, or an error
/// there, a line that needs it says what is missing before its sign.
fn worked_out(
    above: Option<&TapeLine>,
    text: &str,
    unit: Unit,
) -> (Result<Parsed, ParseError>, bool) {
    if !goes_on(text) {
        return (parse_length(text, unit), false);
    }
    let result = match above.map(|line| &line.result) {
        Some(Ok(earlier)) => parse_length_from(earlier, text, unit),
        _ => Err(ParseError {
            kind: Kind::Length(unit),
            why: Why::MissingBefore(text.trim().chars().take(1).collect()),
        }),
    };
    (result, true)
}
