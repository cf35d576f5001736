//! What is said when sizes contradict each other or a wish cannot be met.

use super::Solved;
use crate::inputs::Field;
use crate::layouts::answer_words;
use crate::problem::Problem;
use offsquare_units::{Angle, Area, Length, Quantity, Text, lower_first, say, upper_first};

/// The words for an answer, with a capital.
pub(super) fn spoken_first(path: &str) -> String {
    upper_first(&answer_words(path))
}

/// `like` with another number in it (inches, degrees, plain).
pub(super) fn quantity_like(like: Quantity, x: f64) -> Quantity {
    match like {
        Quantity::Length(_) => Quantity::Length(Length(x)),
        Quantity::Figure(_) => Quantity::Figure(Length(x)),
        Quantity::Area(_) => Quantity::Area(Area(x)),
        Quantity::Angle(_) => Quantity::Angle(Angle(x)),
        Quantity::Count(_) => Quantity::Count(x),
        Quantity::Ratio(_) => Quantity::Ratio(x),
        Quantity::Mass(_) => Quantity::Mass(x),
        Quantity::Force(_) => Quantity::Force(x),
    }
}

/// "These sizes cannot all be true: with the others as given, edge length comes out at 51 1/2, not 52 (off by 1/2). One of them must give."
pub(super) fn contradiction(label: &str, is: Quantity, was: Quantity, by: Quantity) -> Text {
    say!(
        "These sizes cannot all be true: from the others, {} comes out at {}, not {} (off by {}). \
         One of them must give.",
        lower_first(label),
        is,
        was,
        by
    )
}

/// "Edge length comes out at 50 3/4 this way, not at 51 1/2."
pub(super) fn differs(label: &str, is: Quantity, was: Quantity) -> Text {
    say!("{} comes out at {} this way, not at {}.", label, is, was)
}

/// Where one way has several solutions, each after the first says how it differs from it.
pub(super) fn note_roots(solved: &mut [Solved]) {
    for i in 1..solved.len() {
        let (before, rest) = solved.split_at_mut(i);
        let this = &mut rest[0];
        let Some(first) = before.iter().find(|s| s.solution.way == this.solution.way) else {
            continue;
        };
        let mut apart: Option<(String, Quantity, Quantity)> = None;
        this.solution.answers.each_quantity(&mut |path, is| {
            // A figure of its own, not one of a list.
            let was = first.solution.answers.quantity(path).filter(|_| !path.contains('.'));
            if let Some(was) = was.filter(|was| *was != is && apart.is_none()) {
                apart = Some((path.to_owned(), is, was));
            }
        });
        if let Some((path, is, was)) = apart {
            this.solution.notes.push(say!(
                "The same sizes fit another piece, too: {} is {} here, {} there.",
                answer_words(&path),
                is,
                was
            ));
        }
    }
}

/// "No opening height brings reading to 95.0°: it comes to 89.9° at most."
pub(super) fn out_of_reach(
    give: &Field,
    answer: &str,
    wish: Quantity,
    reach: Option<(Quantity, Quantity)>,
    beyond: Option<Text>,
) -> Text {
    let mut text = match reach {
        // Only the limit that the wish passes; both where it lies between them.
        Some((least, greatest)) => {
            let mut text = say!(
                "No {} brings {} to {}: ",
                lower_first(give.label),
                answer_words(answer),
                wish
            );
            let wish = wish.number();
            text.extend(if wish > greatest.number() {
                say!("it comes to {} at most.", greatest)
            } else if wish >= least.number() {
                say!("it goes from {} to {} and leaves this one out.", least, greatest)
            } else if least.number() < 1e-4 {
                say!("it only comes near that.")
            } else {
                say!("it comes to {} at least.", least)
            });
            text
        }
        None => say!("No {} brings {} to {}.", lower_first(give.label), answer_words(answer), wish),
    };
    if let Some(beyond) = beyond {
        text.extend(say!(" Past that: "));
        text.extend(beyond);
    }
    text
}

/// The answer does not hang on the input that may give.
pub(super) fn no_bearing(give: &Field, answer: &str) -> Text {
    say!(
        "{} does not change with {}: let another size give.",
        spoken_first(answer),
        lower_first(give.label)
    )
}

/// There is no such answer to wish for.
pub(super) fn no_such_answer(answer: &str, known: &[String]) -> Text {
    say!(format!(
        "\u{201c}{answer}\u{201d} is not an answer of this layout. It gives: {}.",
        known.join(", ")
    ))
}

/// "Several opening heights do it: 30, 44 1/4."
pub(super) fn several(give: &Field, values: &[Quantity]) -> Text {
    let mut text =
        say!("{}{} do it: ", format!("{} values of ", values.len()), lower_first(give.label));
    for (i, v) in values.iter().enumerate() {
        if i > 0 {
            text.extend(say!(", "));
        }
        text.extend(say!(*v));
    }
    text.extend(say!("."));
    text
}

/// The size that may give is not one that is free.
pub(super) fn cannot_give(give: &Field) -> Text {
    say!(
        "{} follows from the other sizes here, so it cannot give: let one of those give, or leave \
         one out.",
        give.label
    )
}

/// A problem that stops one way or, where there is one way only, everything.
pub(super) fn stopped(path: &str, way: Option<&'static str>, text: Text) -> Problem {
    let p = Problem::stop(path, text);
    match way {
        Some(way) => p.of_way(way),
        None => p,
    }
}
