//! The clock at the saw: what it says corrects the minutes that a piece's price counts with.

use super::keys::key;
use crate::io::browser;
use crate::state::Edit;
use offsquare_work::piece::{Piece, WorkEdit};
use yew::prelude::*;

/// The key that starts and stops it by hand.
pub fn clock(piece: &Piece, send: &Callback<Edit>) -> Html {
    let (id, since) = (piece.id, piece.clock);
    let runs = since > 0;
    let now = || browser::now_ms() as i64;
    let tap = {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| {
            send.emit(Edit::Work(WorkEdit::Clock { piece: id, at_ms: now(), runs: !runs }));
        })
    };
    let words = match runs {
        true => format!("Stop the clock: {} min so far", (now() - since).max(0) / 60_000),
        false => "Start the clock at the saw".to_owned(),
    };
    key("key", Some("clock"), words.into(), false, tap)
}
