//! Writing a saw's advice. Its keys are listed in KEYS.md.

use super::write::{number, style, write_quantity};
use offsquare_cuts::facts::{Caution, caution};
use offsquare_cuts::layouts::Solution;
use offsquare_cuts::saw::{
    Advice, Between, Edge, Fit, Hand, LEAST_EDGE, LapAdvice, Lay, MOST_TURNED, MarkKind, Misfit,
    OtherFace, PartAdvice, Plus, Position, Remedy, SawProfile, StopBlock, wording,
};
use offsquare_units::{DoorUnit, Length, Quantity, Style, Text};
use serde_json::{Map, Value, json};

/// The advice for all parts of one solution, and what the layout itself warns of.
pub(super) fn write_saw(
    solution: &Solution,
    advice: &[PartAdvice],
    saw: &SawProfile,
    unit: DoorUnit,
) -> Value {
    let writer = Writer { unit, style: style(unit) };
    let rank = saw.rank(&solution.parts);
    json!({
        "can_cut": !rank.cannot,
        "different_readings": rank.readings,
        "largest_reading_deg": number(rank.largest.0),
        "kerf_assumed": saw.kerf_assumed,
        "cautions": writer.cautions(&solution.cautions),
        "parts": advice.iter().map(|p| writer.part(p)).collect::<Value>(),
    })
}

struct Writer {
    unit: DoorUnit,
    style: Style,
}

impl Writer {
    fn length(&self, l: Length) -> Value {
        number(self.unit.value(l))
    }
    fn maybe(&self, l: Option<Length>) -> Value {
        l.map_or(Value::Null, |l| self.length(l))
    }
    fn texts(&self, all: &[Text]) -> Value {
        all.iter().map(|t| Value::from(t.render(&self.style))).collect()
    }

    fn cautions(&self, all: &[Caution]) -> Value {
        all.iter().map(|c| Value::from(caution(*c).render(&self.style))).collect()
    }

    fn part(&self, p: &PartAdvice) -> Value {
        json!({
            "part": p.name,
            "count": p.count,
            "can_cut": p.possible(),
            "long_edge_length": self.length(p.long_edge),
            "short_edge_length": self.length(p.short_edge),
            "between_ends": between(p.between),
            "other_hand": match p.hand {
                Hand::SameTurnedOver => "same_turned_over",
                Hand::FaceDown => "face_down",
                Hand::LaidAnew => "laid_anew",
            },
            "short_piece": p.short_piece.map_or(Value::Null, |s| json!({
                "bears_length": self.length(s.bears),
                "hold_length": self.length(s.hold),
                "cut_from_length": self.length(s.stick),
            })),
            "cautions": self.cautions(&p.cautions),
            "cuts": p.cuts.iter().map(|c| self.cut(c)).collect::<Value>(),
            "laps": p.laps.iter().map(|l| self.lap(l)).collect::<Value>(),
            "text": self.texts(&wording::part(p)),
        })
    }

    fn lap(&self, l: &LapAdvice) -> Value {
        let both = |at: [Length; 2]| json!([self.length(at[0]), self.length(at[1])]);
        json!({
            "lap": l.lap.name,
            "in_back": l.lap.in_back,
            "depth": self.maybe(l.lap.depth),
            "shoulder_deg": number(l.reading.0),
            "swing": wording::side(l.swing),
            "set_miter_deg": l.set.map_or(Value::Null, |a| number(a.0)),
            "lower_edge": both(l.lower_edge),
            "upper_edge": both(l.upper_edge),
            "tape_mark": self.length(l.tape_mark),
            "text": self.texts(&wording::lap(l)),
        })
    }

    fn cut(&self, a: &Advice) -> Value {
        json!({
            "cut": a.name,
            "end": wording::end(a.end),
            "miter_deg": number(a.miter.0),
            "swing": wording::side(a.swing),
            "bevel_deg": number(a.bevel.0),
            "lean": wording::side(a.lean),
            "meets_edge_deg": number(a.meets_edge().0),
            "set_miter_deg": number(a.set_miter.0),
            "miter_mark": mark(a.miter_mark),
            "set_bevel_deg": number(a.set_bevel.0),
            "bevel_mark": mark(a.bevel_mark),
            "gap": self.length(a.gap),
            "bevel_gap": self.maybe(a.bevel_gap),
            "tape_mark": self.length(a.tape_mark),
            "edge_tape_mark": self.maybe(a.edge_tape_mark),
            "can_cut": a.lay().is_some(),
            "lay": match a.lay() {
                Some(Lay::Seen) => "seen_face",
                Some(Lay::Away) => "other_face",
                None => "none",
            },
            "lies": a.lay().map(|_| wording::lies(a).render(&self.style)),
            "position": position(a.position),
            "seen_face_up": a.position.seen_face_up(),
            "fence_edge": upper_or_lower(a.position.fence_edge()),
            "bears_length": self.length(a.rests().bears),
            "clamp": a.rests().clamp,
            "fit": self.fit(&a.fit),
            "other_face": a.other_face.as_ref().map_or(Value::Null, |o| self.other_face(o)),
            "stop_block": a.stop_block.as_ref().filter(|_| !a.by_mark).map_or(Value::Null, |s| self.stop_block(s)),
            "remedies": a.remedies.iter().map(|r| self.remedy(r)).collect::<Value>(),
            "text": self.texts(&wording::cut(a)),
        })
    }

    fn fit(&self, f: &Fit) -> Value {
        json!({
            "possible": f.possible(),
            "width": self.length(f.width),
            "width_reach": self.length(f.width_reach),
            "height": self.maybe(f.height),
            "height_reach": self.length(f.height_reach),
            "misfits": f.misfits.iter().map(|m| self.misfit(m)).collect::<Value>(),
        })
    }

    fn misfit(&self, m: &Misfit) -> Value {
        let text = wording::misfit(m).render(&self.style);
        let (kind, is, limit) = match m {
            Misfit::MiterPastLimit { reading, limit } => {
                ("miter_past_limit", number(reading.0), number(limit.0))
            }
            Misfit::BevelPastLimit { reading, limit } => {
                ("bevel_past_limit", number(reading.0), number(limit.0))
            }
            Misfit::TooWide { needed, reach } => {
                ("too_wide", self.length(*needed), self.length(*reach))
            }
            Misfit::TooHigh { needed, reach } => {
                ("too_high", self.length(*needed), self.length(*reach))
            }
            Misfit::OnAPoint { edge } => {
                ("on_a_point", self.length(*edge), self.length(LEAST_EDGE))
            }
            Misfit::InsideCorner => ("inside_corner", Value::Null, Value::Null),
            Misfit::NotBothReadings => ("not_both_readings", Value::Null, Value::Null),
            Misfit::Rip => ("rip", Value::Null, Value::Null),
        };
        json!({"kind": kind, "is": is, "limit": limit, "text": text})
    }

    fn other_face(&self, o: &OtherFace) -> Value {
        json!({
            "miter_deg": number(o.miter.0),
            "swing": wording::side(o.swing),
            "bevel_deg": number(o.bevel.0),
            "lean": wording::side(o.lean),
            "set_miter_deg": number(o.set_miter.0),
            "miter_mark": mark(o.miter_mark),
            "set_bevel_deg": number(o.set_bevel.0),
            "bevel_mark": mark(o.bevel_mark),
            "fit": self.fit(&o.fit),
            "text": wording::other_setting(o).render(&self.style),
        })
    }

    fn stop_block(&self, s: &StopBlock) -> Value {
        json!({
            "stopped_end": wording::end(s.stopped),
            "setting": self.length(s.setting),
            "setting_on_upper_face": self.maybe(s.on_upper),
            "fence_edge_length": self.length(s.fence_edge),
            "plus": self.length(s.plus),
            "plus_is": match s.plus_is {
                Plus::Nothing => "nothing",
                Plus::TapeMark => "tape_mark",
                Plus::PointAhead => "point_ahead",
                Plus::Overhang => "overhang",
            },
        })
    }

    fn remedy(&self, r: &Remedy) -> Value {
        let mut out = Map::new();
        let mut put = |key: &str, value: Value| {
            out.insert(key.to_owned(), value);
        };
        put("kind", remedy_kind(r).into());
        match r {
            Remedy::ChangeInput(c) => {
                put("give", c.give.into());
                put("was", write_quantity(c.was, self.unit));
                put("value", write_quantity(c.value, self.unit));
                put("reading_deg", number(c.reading.0));
                if let Some(size) = c.through {
                    put("through", write_quantity(Quantity::Length(size), self.unit));
                }
                let effects: Map<String, Value> = c
                    .effects
                    .iter()
                    .map(|e| (e.path.to_owned(), write_quantity(e.is, self.unit)))
                    .collect();
                put("answers", Value::Object(effects));
            }
            Remedy::TapeMark { mark, across, edge } => {
                put("tape_mark", self.length(*mark));
                put("across", self.length(*across));
                put("edge_tape_mark", self.maybe(*edge));
            }
            Remedy::Rip { tilt, to } => {
                put("tilt_deg", number(tilt.0));
                put("to", self.length(*to));
            }
            Remedy::TurnedWork(t) => {
                put("set_deg", number(t.set.0));
                put("swing", wording::side(t.swing).into());
                put("auxiliary_fence", wording::side(t.swing.other()).into());
                put("seen_face_up", t.seen_face_up.into());
                put("edge_along_auxiliary_fence", upper_or_lower(t.along).into());
                put("needs", self.length(t.needs));
                put("reach", self.length(t.reach));
                put("longest", self.length(MOST_TURNED));
            }
            Remedy::NotOnThisSaw => {}
        }
        put("text", wording::remedy(r).render(&self.style).into());
        Value::Object(out)
    }
}

/// Its name.
pub(super) fn remedy_kind(r: &Remedy) -> &'static str {
    match r {
        Remedy::ChangeInput(_) => "change_input",
        Remedy::TapeMark { .. } => "tape_mark",
        Remedy::Rip { .. } => "rip",
        Remedy::TurnedWork(_) => "turned_work",
        Remedy::NotOnThisSaw => "not_on_this_saw",
    }
}

fn upper_or_lower(e: Edge) -> &'static str {
    match e {
        Edge::A => "lower",
        Edge::B => "upper",
    }
}

fn mark(m: MarkKind) -> &'static str {
    match m {
        MarkKind::Detent => "detent",
        MarkKind::Scale => "scale",
    }
}

pub(super) fn position(p: Position) -> &'static str {
    match p {
        Position::AsDrawn => "as_drawn",
        Position::EndForEnd => "end_for_end",
        Position::EndOverEnd => "end_over_end",
        Position::RolledOver => "rolled_over",
    }
}

fn between(b: Between) -> &'static str {
    match b {
        Between::SameSetting(Position::AsDrawn) => "slide_along",
        Between::SameSetting(p) => position(p),
        Between::SameSettings => "same_settings",
        Between::SetAgain => "set_again",
        Between::OneEnd => "one_end",
    }
}
