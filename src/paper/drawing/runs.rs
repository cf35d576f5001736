//! Text in runs, so that fractions can be set as fractions, and how wide it is.

/// A stretch of text set in one manner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Run {
    Words(String),
    /// Small raised figures, a slanted bar, small lowered figures.
    Fraction {
        over: String,
        under: String,
    },
}

/// Size of the figures of a fraction, as a share of the text's.
pub const FRACTION_SIZE: f64 = 0.64;
/// How far the numerator stands above the baseline, as a share of the text's size.
pub const RAISED: f64 = 0.34;
/// How far the denominator stands below the baseline.
pub const LOWERED: f64 = 0.08;

/// Splits a line of text at its fractions; the space between a whole number and its fraction goes,
/// because the raised figures part them.
///
/// ```
/// use offsquare_paper::drawing::{Run, runs};
/// assert_eq!(runs("3 3/16 in"), vec![
///     Run::Words("3".into()),
///     Run::Fraction { over: "3".into(), under: "16".into() },
///     Run::Words(" in".into()),
/// ]);
/// ```
pub fn runs(text: &str) -> Vec<Run> {
    let mut out = Vec::new();
    let mut words = String::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let starts = words.chars().last().is_none_or(|c| c.is_whitespace() || c == '-' || c == '(');
        if let (true, Some((over, under, len))) = (starts, fraction_at(rest)) {
            let mut before = words.chars().rev();
            if before.next() == Some(' ') && before.next().is_some_and(|c| c.is_ascii_digit()) {
                words.pop();
            }
            if !words.is_empty() {
                out.push(Run::Words(std::mem::take(&mut words)));
            }
            out.push(Run::Fraction { over, under });
            rest = &rest[len..];
        } else {
            words.push(first);
            rest = &rest[first.len_utf8()..];
        }
    }
    if !words.is_empty() {
        out.push(Run::Words(words));
    }
    out
}

/// `3/16` at the start: numerator, denominator, bytes used.
fn fraction_at(text: &str) -> Option<(String, String, usize)> {
    let digits = |s: &str| s.bytes().take_while(u8::is_ascii_digit).count();
    let over = digits(text);
    let bar = text.as_bytes().get(over)?;
    if over == 0 || over > 3 || *bar != b'/' {
        return None;
    }
    let under = digits(&text[over + 1..]);
    if under == 0 || under > 3 {
        return None;
    }
    let end = over + 1 + under;
    Some((text[..over].to_owned(), text[over + 1..end].to_owned(), end))
}

/// The runs in one line again, with the space before a fraction.
pub fn plain(runs: &[Run]) -> String {
    let mut out = String::new();
    for run in runs {
        match run {
            Run::Words(words) => out.push_str(words),
            Run::Fraction { over, under } => {
                if out.ends_with(|c: char| c.is_ascii_digit()) {
                    out.push(' ');
                }
                out.push_str(over);
                out.push('/');
                out.push_str(under);
            }
        }
    }
    out
}

/// How wide the runs are at that text size, in Helvetica (Adobe's font metrics for the standard
/// fonts, from memory).
pub fn width(runs: &[Run], size: f64) -> f64 {
    runs.iter()
        .map(|run| match run {
            Run::Words(words) => words_width(words, size),
            Run::Fraction { over, under } => {
                words_width(over, size * FRACTION_SIZE)
                    + words_width("/", size)
                    + words_width(under, size * FRACTION_SIZE)
            }
        })
        .sum()
}

/// How wide plain words are.
pub fn words_width(words: &str, size: f64) -> f64 {
    words.chars().map(|c| f64::from(em(c))).sum::<f64>() * size / 1000.0
}

/// Thousandths of the text's size from one character to the next, Helvetica.
fn em(c: char) -> u16 {
    const ASCII: [u16; 95] = [
        278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556,
        556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722,
        722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722,
        667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556,
        556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500,
        500, 334, 260, 334, 584,
    ];
    match c {
        ' '..='~' => ASCII[c as usize - 32],
        '°' => 400,
        '·' => 278,
        '×' | '±' | '÷' | '−' => 584,
        '—' => 1000,
        '\u{2018}' | '\u{2019}' => 222,
        _ => 556,
    }
}
