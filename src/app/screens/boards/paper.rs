//! The cut sheet for the printer: of the boards as they are planned, or of a run that is begun.

use crate::io::files::{self, Parcel};
use crate::screens::share::paper_code;
use crate::widgets::keys::key;
use crate::widgets::sheet::Sheet;
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_paper::report::cut_sheet;
use offsquare_paper::square_code::SquareCode;
use offsquare_paper::writers::pdf;
use offsquare_work::piece::Begun;
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties)]
pub struct CutSheetProps {
    pub bench: Rc<Bench>,
    pub piece: u32,
    /// What is cut; none while it is not known.
    pub run: Rc<dyn Fn() -> Begun>,
    pub off: bool,
}

impl PartialEq for CutSheetProps {
    fn eq(&self, other: &CutSheetProps) -> bool {
        Rc::ptr_eq(&self.run, &other.run)
            && Rc::ptr_eq(&self.bench, &other.bench)
            && (self.piece, self.off) == (other.piece, other.off)
    }
}

/// The key that opens it; nothing of the sheet is worked out before.
#[component]
pub fn PaperOfCuts(props: &CutSheetProps) -> Html {
    let open = use_state_eq(|| false);
    let set = |to: bool| {
        let open = open.setter();
        Callback::from(move |_: MouseEvent| open.set(to))
    };
    let close = {
        let open = open.setter();
        Callback::from(move |()| open.set(false))
    };
    let sheet = (*open && !props.off)
        .then(|| cut_sheet_panel(&props.bench, props.piece, &(props.run)(), close));
    html! {
        <>
            { tag("div", "actions", key("key", Some("paper-cuts"), "Paper: cut sheet".into(), props.off, set(true))) }
            { each(sheet) }
        </>
    }
}

/// The piece's square code, or why there is none.
fn code(bench: &Rc<Bench>, piece: u32, begun: &Begun) -> Result<SquareCode, &'static str> {
    if begun.of.pieces.iter().any(|p| p.id != piece) {
        return Err("Several pieces are cut together, so no square code is on this sheet.");
    }
    paper_code(bench, piece).ok_or(
        "This piece is too large for a square code on paper. Share opens it elsewhere, as a file.",
    )
}

/// What the sheet holds, and the key that hands it over.
pub fn cut_sheet_panel(bench: &Rc<Bench>, piece: u32, begun: &Begun, close: Callback<()>) -> Html {
    let (work, shop) = (&bench.work, &bench.shop);
    // A pattern that has not come yet could not say how its parts are cut.
    if begun.of.sources.iter().any(|s| s.draft.layout().is_none()) {
        return html! {
            <Sheet key="paper-cuts" title="Cut sheet" {close}>
                { tag("p", "said", txt("The layouts of these parts are still being loaded.")) }
            </Sheet>
        };
    }
    let names = begun.of.pieces.iter().map(|p| match p.batch {
        1 => p.called(),
        n => format!("{n} \u{d7} {}", p.called()),
    });
    let title = names.collect::<Vec<_>>().join(", ");
    let code = code(bench, piece, begun);
    let told = cut_sheet(&title, begun, &work.currency(), &shop.style());
    let paper = shop.sheet();
    let note = code.as_ref().err().copied();
    let file = pdf::write_cut_sheet(&told, paper, code.as_ref().ok(), note);
    let sheets = match file.pages {
        1 => "1 page".to_owned(),
        n => format!("{n} pages"),
    };
    // The bytes are ready before the tap: a share sheet opens only at once.
    let parcel = Rc::new(Parcel {
        name: files::name_of(&[&title, "cut sheet"], "pdf"),
        mime: "application/pdf",
        bytes: file.bytes,
    });
    let hand_over = Callback::from(move |_: MouseEvent| files::hand_over(&parcel));
    let label = format!("Cut sheet as PDF: {}, {sheets}", paper.name);
    html! {
        <Sheet key="paper-cuts" title="Cut sheet" {close}>
            { list(vec![
                tag("p", "said", txt("What to buy, each board with its cuts, and the order of cuts with a box to tick.")),
                each(note.map(|why| tag("p", "help", txt(why)))),
                tag("div", "actions", key("primary", Some("cut-sheet"), label.into(), false, hand_over)),
                tag("p", "help", txt("Lengths are figures to set by: the pictures are not to scale. Paper is set in Shop.")),
            ]) }
        </Sheet>
    }
}
