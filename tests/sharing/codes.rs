//! Square codes read back by a reader that shares no code with what draws them.

use crate::{code, drawn_piece, read};
use offsquare_paper::square_code::{ON_PAPER, ON_SCREEN, SquareCode};
use offsquare_tests::dice::Dice;
use offsquare_tests::picture::{Picture, codes};
use offsquare_work::save::share;

const SITE: &str = "https://makers.example/saw/";

/// The path of an SVG with `M x y h n v1 h-n z` only, four dots to a module.
fn painted(code: &SquareCode) -> Picture {
    const DOTS: usize = 4;
    let side = usize::try_from(code.side()).expect("a side") * DOTS;
    let mut picture = Picture::white(side, side);
    for run in code.path().split('M').filter(|run| !run.is_empty()) {
        let (corner, rest) = run.split_once('h').expect("a run");
        let (x, y) = corner.split_once(' ').expect("a corner");
        let n = rest.split('v').next().expect("a length");
        let [x, y, n] = [x, y, n].map(|t| t.parse::<usize>().expect("a number") * DOTS);
        picture.blacken(x, y, x + n, y + DOTS);
    }
    picture
}

#[test]
fn codes_are_read_back_by_another_reader() {
    let mut dice = Dice(31);
    let mut on_paper = 0;
    for _ in 0..30 {
        let (work, id, shop) = drawn_piece(&mut dice);
        let (address, letters) = share::pack(&work, id, &shop).expect("a piece").code();
        let drawn = SquareCode::of(&format!("{SITE}{address}"), &letters, ON_SCREEN);
        let drawn = drawn.expect("a code");
        let seen = codes(&painted(&drawn));
        assert_eq!(seen, [format!("{SITE}{}", code(&work, id, &shop))]);
        let offer = read(&seen[0]).expect("a piece");
        assert_eq!(Some(offer.piece.called()), work.piece(id).map(|p| p.called()));
        on_paper += usize::from(SquareCode::of(SITE, &letters, ON_PAPER).is_some());
    }
    // Most pieces that follow a pattern are small enough for paper.
    assert!(on_paper > 10, "{on_paper}");
}

/// ISO/IEC 18004, table 7: version 25 at level L takes 1,853 alphanumeric letters: 2 of a segment's own header for an empty
/// one of bytes, whose 20 bits are less than two pairs.
#[test]
fn a_code_that_no_phone_reads_is_not_drawn() {
    let fits = |n: usize| SquareCode::of("", &"A".repeat(n), ON_SCREEN);
    assert_eq!(fits(1_845).map(|c| c.side()), Some(125));
    assert_eq!(fits(1_854), None);
    assert_eq!(SquareCode::of(SITE, "small letters", ON_SCREEN), None);
}
