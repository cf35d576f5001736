//! The same piece asked for by other sizes.
//!
//! Another form of a layout takes the sizes that it requires from the answer on screen, to the maker's fraction, and
//! keeps typed sizes that it does not know for the way back; it never fills a size that may stay open unless the form
//! left has one that means the same (`Field::means`); a form that was left is remembered as typed.

use super::Shop;
use super::draft::{Draft, OtherForm, Typed, read};
use offsquare_cuts::inputs::{Field, Kind, Need};
use offsquare_cuts::layouts::{Answers, Form};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Quantity, length_text, num};

impl Draft {
    /// Another form of the same layout, with every size that both have.
    ///
    /// A field takes, the first that there is of: the same field's text; the text of the field that means
    /// the same size ([`Field::means`]); what it was when that form was left; what it is in the piece
    /// `now` shown, to the maker's fraction, where the form requires it; its start. A form that was left, and
    /// nothing typed since, is as it was. What was typed elsewhere since moves what it moves: a text from before
    /// that the piece shown disagrees with is not taken.
    ///
    /// Example: one brace with a strip of 2 1/2, then the crossed pair: both of its strips are 2 1/2.
    pub fn in_form(
        &self,
        form: &'static Form,
        shop: &Shop,
        now: Option<&Answers>,
    ) -> Option<Draft> {
        let from = self.form()?;
        let mut draft = Draft::fresh(self.layout()?, form, shop.unit);
        draft.others = self.others.iter().filter(|o| o.form != form.id).cloned().gather();
        for other in &mut draft.others {
            other.holds &= !self.touched;
        }
        draft.others.retain(|o| o.form != from.id);
        let typed = self.typed.clone();
        draft.others.push(OtherForm { form: self.form.clone(), typed, holds: true });
        let before = self.others.iter().find(|o| o.form == form.id);
        if let Some(before) = before.filter(|o| o.holds && !self.touched) {
            draft.typed = before.typed.clone();
            return Some(draft);
        }
        for field in form.fields {
            let kept = before.and_then(|b| b.typed.iter().find(|t| t.key == field.key));
            let kept = kept.filter(|t| agrees(field, t, shop, now));
            let typed = self
                .own(from, field)
                .or_else(|| self.same_size(from, form, field, before))
                .or_else(|| kept.cloned())
                .or_else(|| shown(field, shop, now));
            if let Some(t) = typed {
                draft.set(field.key, &t.text, t.unit);
            }
        }
        draft.touched = false;
        Some(draft)
    }

    /// The same field's text, where it can be read there too. An emptied size is none.
    fn own(&self, from: &Form, field: &'static Field) -> Option<Typed> {
        from.fields.iter().chain(from.also).find(|f| f.key == field.key)?;
        let typed = self.text(field.key)?;
        let choice = matches!(field.kind, Kind::Choices(_));
        (choice || fits(field, typed)).then(|| typed.clone())
    }

    /// The text of the field that means the same size. Of several the first stands for them all, unless they
    /// differed before and the first is still what it was then.
    fn same_size(
        &self,
        from: &'static Form,
        form: &'static Form,
        field: &'static Field,
        before: Option<&OtherForm>,
    ) -> Option<Typed> {
        let first_of =
            |form: &'static Form| form.fields.iter().find(|f| f.means() == field.means());
        let source = first_of(from)?;
        let typed = Typed {
            text: first_piece(&self.text(source.key)?.text).to_owned(),
            ..self.text(source.key)?.clone()
        };
        let then = |key: &str| before?.typed.iter().find(|t| t.key == key);
        if let (Some(first), Some(own)) =
            (first_of(form).and_then(|f| then(f.key)), then(field.key))
            && first_piece(&first.text) == typed.text
            && first.unit == typed.unit
        {
            return Some(own.clone());
        }
        fits(field, &typed).then_some(typed)
    }
}

/// One size of a field that takes several.
fn first_piece(text: &str) -> &str {
    text.split(',').next().unwrap_or_default().trim()
}

/// Whether the field can be told this text.
fn fits(field: &'static Field, typed: &Typed) -> bool {
    !typed.text.trim().is_empty()
        && read(field, typed).is_ok_and(|(value, ..)| field.check(&value).is_none())
}

/// The size in the piece shown.
fn shown(field: &Field, shop: &Shop, now: Option<&Answers>) -> Option<Typed> {
    let text = match now?.quantity(field.key).filter(|_| field.need == Need::Required)? {
        Quantity::Length(l) => {
            let step = step(shop);
            length_text(step * num::round_half_up(l.0 / step.0), shop.unit)
        }
        Quantity::Angle(a) => (num::round_half_up(a.0 * 10.0) / 10.0).to_string(),
        _ => return None,
    };
    Some(Typed { key: field.key.to_owned(), text, unit: shop.unit })
}

/// The maker's fraction.
fn step(shop: &Shop) -> Length {
    shop.style().shown_fraction().step().to_length()
}

/// Whether a text from before is still the size in the piece shown, as near as it would be printed.
fn agrees(field: &'static Field, typed: &Typed, shop: &Shop, now: Option<&Answers>) -> bool {
    let Some(q) = now.and_then(|a| a.quantity(field.key)) else { return true };
    let Ok((value, ..)) = read(field, typed) else { return true };
    match (q, value.quantity()) {
        (Quantity::Length(is), Some(Quantity::Length(was))) => (is - was).abs() <= step(shop),
        (Quantity::Angle(is), Some(Quantity::Angle(was))) => (is.0 - was.0).abs() <= 0.1,
        _ => true,
    }
}
