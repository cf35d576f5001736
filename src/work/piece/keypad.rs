//! The keypad's keys as changes of a text: a help over a normal text field, never instead of it.

/// One key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// A digit or a decimal point.
    Char(char),
    /// Adds 1/2, 1/4, 1/8 or 1/16 to the number before the caret.
    Add(u32),
    /// `+ - * /`, set with a space on both sides.
    Operator(char),
    Delete,
}

/// The text and the caret (in characters) after a key.
///
/// Example: `23`, then Add(2) and Add(8): `23 1/2`, then `23 5/8`.
pub fn press(text: &str, caret: usize, key: Key) -> (String, usize) {
    let before: String = text.chars().take(caret).collect();
    let after: String = text.chars().skip(caret).collect();
    let before = match key {
        Key::Char(c) => with_char(before, c),
        Key::Add(n) => with_fraction(&before, n),
        Key::Operator(c) => with_operator(before, c),
        Key::Delete => without_last(&before),
    };
    let caret = before.chars().count();
    (before + &after, caret)
}

fn with_char(mut before: String, c: char) -> String {
    // A digit behind a whole fraction starts a new number's worth of confusion: keep it apart.
    let fraction_done = tail(&before).2.is_some();
    if fraction_done && c.is_ascii_digit() {
        before.push(' ');
    }
    before.push(c);
    before
}

fn with_operator(before: String, c: char) -> String {
    let trimmed = before.trim_end();
    let bare = trimmed.trim_end_matches(['+', '*', '/', '\u{2212}', '-']);
    let bare = if trimmed.len() != bare.len() { bare.trim_end() } else { trimmed };
    if bare.is_empty() {
        return if c == '-' { "-".to_owned() } else { String::new() };
    }
    format!("{bare} {c} ")
}

/// Takes one step back: a spaced operator or a whole fraction goes at once.
fn without_last(before: &str) -> String {
    let trimmed = before.trim_end();
    if trimmed.len() < before.len() {
        let last = trimmed.chars().last();
        if last.is_some_and(|c| "+-*/\u{2212}".contains(c)) {
            return trimmed[..trimmed.len() - last.map_or(0, char::len_utf8)].trim_end().to_owned();
        }
        return trimmed.to_owned();
    }
    if let (rest, whole, Some(_)) = tail(before) {
        return format!("{rest}{}", whole.unwrap_or_default());
    }
    let mut out = before.to_owned();
    out.pop();
    out
}

/// Splits off the number at the end: what stands before it, its whole part, its fraction n/d.
fn tail(before: &str) -> (&str, Option<&str>, Option<(u64, u64)>) {
    let digits_from = |s: &str| s.len() - s.bytes().rev().take_while(u8::is_ascii_digit).count();
    let d_at = digits_from(before);
    if let Some(head) = before[..d_at].strip_suffix('/') {
        let n_at = digits_from(head);
        if let (Ok(n), Ok(d)) = (head[n_at..].parse(), before[d_at..].parse())
            && d > 0
        {
            let rest = &head[..n_at];
            let gap = rest.trim_end_matches([' ', '-']);
            let w_at = digits_from(gap);
            let spaced = rest.len() - gap.len();
            if spaced == 1 && w_at < gap.len() {
                return (&gap[..w_at], Some(&gap[w_at..]), Some((n, d)));
            }
            return (rest, None, Some((n, d)));
        }
    }
    let number_at = d_at;
    if number_at < before.len() {
        return (&before[..number_at], Some(&before[number_at..]), None);
    }
    (before, None, None)
}

fn with_fraction(before: &str, parts: u32) -> String {
    let (rest, whole, fraction) = tail(before);
    // Behind a decimal (`3.5`) or a unit (`3 ft`) the fraction is a number of its own.
    if fraction.is_none() && rest.ends_with('.') {
        return format!("{before} + 1/{parts}");
    }
    let (n, d) = fraction.unwrap_or((0, 1));
    let parts = u64::from(parts);
    let (n, d) = (n.saturating_mul(parts).saturating_add(d), d.saturating_mul(parts));
    let k = divisor(n, d);
    let (n, d) = (n / k, d / k);
    let whole_value = whole.map_or(Some(0), |w| w.parse::<u64>().ok());
    let Some(whole_value) = whole_value else {
        return before.to_owned();
    };
    let (carry, n) = (n / d, n % d);
    let total = whole_value.saturating_add(carry);
    let has_whole = whole.is_some() || carry > 0;
    match (has_whole, n) {
        (true, 0) => format!("{rest}{total}"),
        (true, n) => format!("{rest}{total} {n}/{d}"),
        (false, n) => format!("{rest}{n}/{d}"),
    }
}

fn divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a.max(1) } else { divisor(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn type_all(keys: &[Key]) -> String {
        keys.iter().fold((String::new(), 0), |(t, c), k| press(&t, c, *k)).0
    }

    #[test]
    fn adding_keys_add_up() {
        use Key::*;
        assert_eq!(type_all(&[Char('2'), Char('3'), Add(2), Add(8)]), "23 5/8");
        assert_eq!(type_all(&[Add(2), Add(8)]), "5/8");
        assert_eq!(type_all(&[Add(2), Add(2)]), "1");
        assert_eq!(type_all(&[Char('9'), Add(2), Add(4), Add(4)]), "10");
        assert_eq!(
            type_all(&[Char('3'), Char('3'), Operator('-'), Char('2'), Operator('*'), Char('2')]),
            "33 - 2 * 2"
        );
        assert_eq!(type_all(&[Char('5'), Operator('+'), Operator('-'), Add(4)]), "5 - 1/4");
    }

    #[test]
    fn feet_and_inches_can_be_tapped() {
        use Key::*;
        let unit = offsquare_units::Unit::FeetInches;
        let inches = |text: &str| offsquare_units::parse_length(text, unit).expect(text).length.0;
        let half = type_all(&[Char('2'), Char('\''), Char('6'), Add(2)]);
        assert_eq!((half.as_str(), inches(&half)), ("2'6 1/2", 30.5));
        let less = type_all(&[Char('2'), Char('\''), Add(2), Operator('-'), Char('3')]);
        assert_eq!((less.as_str(), inches(&less)), ("2'1/2 - 3", 21.5));
    }

    #[test]
    fn delete_takes_whole_steps() {
        assert_eq!(press("23 5/8", 6, Key::Delete).0, "23");
        assert_eq!(press("5/8", 3, Key::Delete).0, "");
        assert_eq!(press("33 - ", 5, Key::Delete).0, "33");
        assert_eq!(press("", 0, Key::Delete).0, "");
        assert_eq!(press("23", 2, Key::Delete), ("2".to_owned(), 1));
        assert_eq!(press("3.5 ft", 6, Key::Delete).0, "3.5 f");
    }

    #[test]
    fn a_fraction_of_another_number_is_added_to_it() {
        assert_eq!(press("3.5", 3, Key::Add(4)).0, "3.5 + 1/4");
        assert_eq!(press("12/16", 5, Key::Add(16)).0, "13/16");
        assert_eq!(press("5/8", 3, Key::Char('2')).0, "5/8 2");
    }

    #[test]
    fn the_caret_may_stand_within() {
        assert_eq!(press("3 + 4", 1, Key::Add(2)), ("3 1/2 + 4".to_owned(), 5));
    }
}
