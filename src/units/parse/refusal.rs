//! Why a text stops being readable where it does.

use super::Reader;
use crate::error::Why;
use crate::scan::Sign;

impl Reader<'_> {
    /// Why no value begins here.
    pub(super) fn no_value(&self) -> Why {
        let before = self.previous();
        match (self.token(0), before) {
            (_, Some(before)) if before.sign.is_operator() || before.sign == Sign::Dollar => {
                Why::MissingAfter(self.typed(before))
            }
            (Some(token), None) if token.sign.is_operator() => {
                Why::MissingBefore(self.typed(token))
            }
            (Some(token), _) => match token.sign {
                Sign::Unit(_) | Sign::And => Why::NoNumber(self.typed(token)),
                Sign::Close if before.is_some() => Why::NothingInside,
                Sign::Close => Why::NotOpened,
                _ => Why::MissingBefore(self.typed(token)),
            },
            (None, Some(before)) if before.sign == Sign::Open => Why::NotClosed,
            (None, _) => Why::Empty,
        }
    }

    pub(super) fn expect_end(&self) -> Result<(), Why> {
        match self.token(0) {
            None => Ok(()),
            Some(_) => Err(self.unexpected()),
        }
    }

    /// Why something stands here after a complete value.
    pub(super) fn unexpected(&self) -> Why {
        let (Some(token), Some(before)) = (self.token(0), self.previous()) else {
            return Why::Empty;
        };
        match token.sign {
            Sign::Close => Why::NotOpened,
            Sign::And if self.token(1).is_none() => Why::MissingAfter(self.typed(token)),
            Sign::Whole(_)
                if self.sign(1) == Some(Sign::Slash)
                    && matches!(self.sign(2), Some(Sign::Whole(_)))
                    && matches!(before.sign, Sign::Whole(_)) =>
            {
                Why::SpacedFraction {
                    whole: self.typed(before),
                    numerator: self.typed(token),
                    denominator: self.token(2).map(|t| self.typed(t)).unwrap_or_default(),
                }
            }
            _ => {
                let second = match (token.sign, self.token(1)) {
                    (Sign::And, Some(next)) => next,
                    _ => token,
                };
                Why::TwoValues { first: self.typed(before), second: self.typed(second) }
            }
        }
    }
}
