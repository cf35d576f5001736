//! How a parallel leg's answers follow from its sizes, step by step.

use super::lean::{Foot, Lean, Stance};
use super::parallel::Legs;
use super::roots::Basis;
use offsquare_units::{Angle, Length, Text, say};

impl Legs {
    /// The chain of numbers; lengths in inches.
    pub(super) fn derivation(
        &self,
        s: &Stance,
        lean: Lean,
        outer: f64,
        inner: f64,
        joint: f64,
    ) -> Vec<Text> {
        let a = Angle(lean.degrees);
        let run = Length(s.run);
        let mut steps = vec![say!(
            "Each foot lands {}{}",
            run,
            if self.post.cleat > 0.0 {
                " out from its cleat: (footprint − post − 2 cleats) ÷ 2."
            } else {
                " out from the post: (footprint − post) ÷ 2."
            }
        )];
        let d = Length(s.depth);
        steps.push(self.splay_step(s, a));
        steps.push(say!(
            "The joint is cut off square by 90° less the splay: {}{}",
            Angle(90.0 - a.0),
            match s.foot {
                Foot::Floor => "; the foot by the splay itself.",
                Foot::Square => "; the foot is left square.",
            }
        ));
        steps.push(say!("Outer edge: {} ÷ sin(splay) = {}.", run, Length(outer)));
        steps.push(match s.foot {
            Foot::Floor => say!(
                "Inner edge: shorter by {} × (tan(splay) + 1 ÷ tan(splay)): {}.",
                d,
                Length(inner)
            ),
            Foot::Square => {
                say!("Inner edge: shorter by {} ÷ tan(splay): {}.", d, Length(inner))
            }
        });
        steps.push(say!("Joint on the post: {} ÷ sin(splay) = {}.", d, Length(joint)));
        steps
    }

    /// How the splay follows from the size that gives it.
    fn splay_step(&self, s: &Stance, a: Angle) -> Text {
        let (run, d) = (Length(s.run), Length(s.depth));
        let value = self.basis.quantity(self.value);
        match (self.basis, s.foot) {
            (Basis::LongPoint, _) => say!("Splay: asin({} ÷ {}) = {}.", run, value, a),
            (Basis::Splay, _) => say!("The splay is given: {}.", a),
            (Basis::RiseTop, Foot::Floor) => {
                say!("Splay: atan({} ÷ {}) = {}.", run, value, a)
            }
            (Basis::RiseTop, Foot::Square) => say!(
                "The splay for which {} ÷ tan(splay) + {} × sin(splay) = {}: {}.",
                run,
                d,
                value,
                a
            ),
            (Basis::RiseMiddle, Foot::Floor) => say!(
                "The splay for which {} ÷ tan(splay) − {} ÷ 2 sin(splay) = {}: {}.",
                run,
                d,
                value,
                a
            ),
            (Basis::RiseMiddle, Foot::Square) => say!(
                "The splay for which {} ÷ tan(splay) + {} × sin(splay) − {} ÷ 2 sin(splay) = {}: \
                 {}.",
                run,
                d,
                d,
                value,
                a
            ),
            (Basis::ShortPoint, Foot::Floor) => say!(
                "The splay for which {} ÷ sin(splay) − {} × (tan(splay) + 1 ÷ tan(splay)) = {}: \
                 {}.",
                run,
                d,
                value,
                a
            ),
            (Basis::ShortPoint, Foot::Square) => say!(
                "The splay for which {} ÷ sin(splay) − {} ÷ tan(splay) = {}: {}.",
                run,
                d,
                value,
                a
            ),
            (Basis::RiseBottom | Basis::OverallHeight, foot) => {
                let (rise, _) = self.sought();
                let mut t = Text::default();
                if self.basis == Basis::OverallHeight {
                    t = say!(
                        "The joint's lower end stands {} up: overall height − post length + post \
                         below the joint. ",
                        Length(rise)
                    );
                }
                let rest = if foot == Foot::Floor {
                    say!(
                        "The splay for which {} ÷ tan(splay) − {} ÷ sin(splay) = {}: {}.",
                        run,
                        d,
                        Length(rise),
                        a
                    )
                } else {
                    say!(
                        "The splay for which {} ÷ tan(splay) + {} × sin(splay) − {} ÷ sin(splay) = \
                         {}: {}.",
                        run,
                        d,
                        d,
                        Length(rise),
                        a
                    )
                };
                t.extend(rest);
                t
            }
        }
    }
}
