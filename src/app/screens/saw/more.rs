//! What is opened over the card: everything that is not needed for every cut.

use super::at::{At, Raised};
use super::gauge::GaugeSheet;
use super::skip::skip_sheet;
use super::test_cut::TestCutSheet;
use crate::io::awake::Awake;
use crate::io::speech;
use crate::screens::boards::cut_sheet_panel;
use crate::state::Edit;
use crate::widgets::clock::clock;
use crate::widgets::keys::key;
use crate::widgets::sheet::Sheet;
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_paper::gauge::Gauge;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length};
use offsquare_work::piece::{LOOSE, Shop, WorkEdit};
use offsquare_work::walk::{Card, Stage, What};
use yew::prelude::*;

pub fn more_sheet(at: &At, sheet: Raised) -> Html {
    let close = {
        let raise = at.raise.clone();
        Callback::from(move |()| raise.emit(None))
    };
    let stage = at.next.and_then(|n| at.walk.stages.get(n));
    let shop = &at.bench.shop;
    let changed = {
        let send = at.send.clone();
        Callback::from(move |shop: Shop| send.emit(Edit::Shop(Box::new(shop))))
    };
    let card = stage.map(|s| at.walk.card(s, &shop.saw, &shop.style())).unwrap_or_default();
    match sheet {
        Raised::More => more(at, stage, &card, close),
        Raised::Skip => skip_sheet(at, stage, close),
        Raised::Test => html! {
            <TestCutSheet shop={shop.clone()} readings={card.tests.clone()} {changed} {close} />
        },
        Raised::Gauge => html! {
            <GaugeSheet shop={shop.clone()} lines={lines(at, stage, &card)} {changed} {close} />
        },
        Raised::Paper => {
            let piece = at.begun.of.pieces.first().map_or(LOOSE, |p| p.id);
            cut_sheet_panel(at.bench, piece, at.begun, close)
        }
    }
}

/// The readings of a step as a gauge is set by them.
fn lines(at: &At, stage: Option<&Stage>, card: &Card) -> Vec<(String, Gauge, Option<Length>)> {
    let part = stage.and_then(|s| match &s.what {
        What::Cut(cut) => cut.sides.into_iter().flatten().next().map(|p| (s.tick.board, p)),
        _ => Some((s.tick.board, s.tick.at)),
    });
    let kind = part.and_then(|(b, p)| at.walk.single(b, p)).map(|(k, _)| k);
    let across = |bevel: bool| kind.map(|k| if bevel { k.on_board.away } else { k.on_board.seen });
    let one = |r: &offsquare_work::walk::Reading| {
        let bevel = r.axis == offsquare_cuts::saw::Axis::Bevel;
        let gauge = Gauge { reading: r.exact, hand: r.side, complement: false };
        (r.words(), gauge, across(bevel))
    };
    let out: Vec<_> = card.readings.iter().map(one).gather();
    if out.is_empty() {
        let square = Gauge {
            reading: Angle(0.0),
            hand: offsquare_cuts::parts::Side::Neither,
            complement: false,
        };
        return vec![("Square".to_owned(), square, across(false))];
    }
    out
}

fn more(at: &At, stage: Option<&Stage>, card: &Card, close: Callback<()>) -> Html {
    let style = at.bench.shop.style();
    let read = {
        let (text, say) = (card.aloud(&style), at.say.clone());
        Callback::from(move |_: MouseEvent| {
            let failed = say.clone();
            let no = "This browser does not read aloud.";
            match speech::speak(&text, move || failed.emit(no)) {
                true => say.emit("Reading."),
                false => say.emit(no),
            }
        })
    };
    let awake = match at.awake {
        Awake::Asking => "",
        Awake::Held => "The screen stays on while this page is in sight.",
        Awake::Refused => {
            "The browser does not keep the screen on now, with a low battery, say. Your place is kept all the same."
        }
        Awake::Missing => {
            "This browser cannot keep the screen on. Set it to stay on longer; your place is kept all the same."
        }
    };
    let none = stage.is_none();
    let outcome = at.walk.outcome(at.begun);
    let made: u32 = outcome.made.values().sum();
    let end = {
        let (send, raise) = (at.send.clone(), at.raise.clone());
        Callback::from(move |_: MouseEvent| {
            raise.emit(None);
            send.emit(Edit::Work(WorkEdit::EndRun(Box::new(outcome.clone()))));
        })
    };
    let skips = (0..at.begun.skips.len())
        .map(|n| tag("p", "said", txt(at.walk.skipped(at.begun, n, &style))));
    let no_test = none || card.tests.is_empty();
    let ends = match made {
        0 => "Stop here: nothing is cut yet".to_owned(),
        1 => "Stop here: 1 part counts as cut".to_owned(),
        n => format!("Stop here: {n} parts count as cut"),
    };
    let clocked = at.bench.work.cut_alone().map(|piece| clock(piece, at.send));
    html! {
        <Sheet key="more" title="More" {close}>
            { tag("div", "tall-keys", list(vec![
                key("key", Some("skip"), "Skip: knot, miscut, bad board".into(), none, at.raise(Some(Raised::Skip))),
                key("key", Some("read"), "Read it aloud".into(), none, read),
                key("key", Some("gauge"), "The screen as a gauge".into(), none, at.raise(Some(Raised::Gauge))),
                key("key", Some("test"), "Test cut in scrap".into(), no_test, at.raise(Some(Raised::Test))),
                key("key", Some("paper"), "Paper: cut sheet".into(), false, at.raise(Some(Raised::Paper))),
                each(clocked),
            ])) }
            <p class="said" role="status" data-test="voice">{ at.voice }</p>
            if !awake.is_empty() { { tag("p", "help", txt(awake)) } }
            { each(skips) }
            { tag("div", "actions", key("key", Some("stop-run"), ends.into(), false, end)) }
            { tag("p", "help", txt("What is not cut stays on the list. Undo on the next page brings the run back.")) }
        </Sheet>
    }
}
