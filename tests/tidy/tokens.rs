//! A program cut into words and signs, as far as the rules here need it.

/// Words and signs of a program, each with the line that it stands on; strings and comments are left out.
pub fn tokens(text: &str) -> Vec<(usize, String)> {
    let chars: Vec<char> = text.chars().collect();
    let mut line = 1;
    let is_word = |c: char| c.is_alphanumeric() || c == '_';
    let mut all = Vec::new();
    let mut at = 0;
    while at < chars.len() {
        let next = chars.get(at + 1).copied().unwrap_or(' ');
        let from = at;
        let mut found = |token: String| all.push((line, token));
        match chars[at] {
            '/' if next == '/' => at = end_of(&chars, at, |c| c == '\n'),
            // A raw string ends at the quote with as many signs behind it.
            'r' if next == '"'
                || next == '#' && chars.get(at + 2).is_some_and(|c| "#\"".contains(*c)) =>
            {
                let open = end_of(&chars, at, |c| c == '"');
                let close: Vec<char> =
                    ['"'].into_iter().chain(chars[at + 1..open].to_vec()).collect();
                at = open + 1;
                while at < chars.len() && !chars[at..].starts_with(&close) {
                    at += 1;
                }
                at += close.len();
            }
            '"' => {
                at += 1;
                while at < chars.len() && chars[at] != '"' {
                    at += if chars[at] == '\\' { 2 } else { 1 };
                }
                at += 1;
            }
            // A character, not a lifetime.
            '\'' if next == '\\' => at = end_of(&chars, at + 3, |c| c == '\'') + 1,
            '\'' if chars.get(at + 2) == Some(&'\'') => at += 3,
            ':' if next == ':' => {
                at += 2;
                found("::".to_owned());
            }
            c if is_word(c) => {
                at = end_of(&chars, at, |c| !is_word(c));
                found(chars[from..at].iter().collect());
            }
            c => {
                at += 1;
                if !c.is_whitespace() {
                    found(c.to_string());
                }
            }
        }
        line += chars[from..at.min(chars.len())].iter().filter(|c| **c == '\n').count();
    }
    all
}

fn end_of(chars: &[char], from: usize, ends: impl Fn(char) -> bool) -> usize {
    (from..chars.len()).find(|at| ends(chars[*at])).unwrap_or(chars.len())
}

pub fn is_name(token: &str) -> bool {
    token.starts_with(|c: char| c.is_alphabetic() || c == '_')
}
