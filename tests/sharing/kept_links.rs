//! Links that were handed out open for good: however pieces are packed one day, these hold what they held.

use crate::read;
use offsquare_units::Length;
use offsquare_work::cutlist::Entry;

fn parts(text: &str) -> (String, Vec<(String, u32, Length)>) {
    let offer = read(text).expect("a piece");
    assert!(offer.said.is_empty(), "{:?}", offer.said);
    let of = |e: &Entry| (e.name.clone(), e.count, e.length);
    let name = offer.piece.called();
    (name, offer.parts.iter().map(of).collect())
}

/// A beam 30 1/8 long of which three are made, the brace of an opening (to 1/8 in), a part of 12 and one of 23 5/8; and an
/// example's parts in a square code.
#[test]
fn the_first_links_open() {
    let (name, all) = parts(LINK);
    assert_eq!(name, "<b>&amp;");
    let lengths: Vec<f64> = all.iter().map(|(.., l)| (l.0 * 8.0).round() / 8.0).collect();
    assert_eq!(lengths, [30.125, 43.75, 12.0, 23.625]);
    assert_eq!((all[0].0.as_str(), all[0].1), ("Beam", 3));
    let (name, all) = parts(CODE);
    assert_eq!((name.as_str(), all.len()), ("Loose parts", 3));
    assert_eq!(all[0], ("Trellis upright".to_owned(), 5, Length(66.0)));
}

const LINK: &str = "#/open?p=x_mcr92bOwrAIBBEr5IqTSCNpIpYeA8L7QUv4N1VVFD84KdQrLfYbt7sDtO_ETJ0Uy7-wuYCiLFNEJzugCEszmUR11P9TB-bSBDZyPfZBuW3d4My9h8ZQnobEQh4Ogw8Bnj1gVXB4mI92ZSORuYU";
const CODE: &str = "#/open?c=Z8RL6Y9EVIZD1V9553-BY-$NN66BD7WBBYCVZ.Q$KF7R5:WAI9TAHQ8EECUWZVS5GK4O7HX-4VWC.RS3HH4LGOA/YJDVPZUY07JTALWCSE5:6D9Q83E2U6U7E.VTH08VI6URQSPKX:2NSV/E8DJ.J7";
