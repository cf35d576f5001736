//! Random requests over every form of every layout, from fixed seeds.

use offsquare_cuts::inputs::{Field, Inputs, Kind, Need, Start, Value as Typed};
use offsquare_cuts::layouts::{self, Form, Layout};
use offsquare_units::{Angle, Length};
use serde_json::{Map, Value, json};

/// A linear congruential generator (Knuth's MMIX constants): the same numbers everywhere.
pub struct Dice(pub u64);

impl Dice {
    /// From 0 up to 1.
    pub fn share(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
    pub fn below(&mut self, n: usize) -> usize {
        (self.share() * n as f64) as usize
    }
    pub fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }
    /// Puts a list in another order.
    pub fn shuffle<T>(&mut self, all: &mut [T]) {
        for i in (1..all.len()).rev() {
            all.swap(i, self.below(i + 1));
        }
    }

    /// A length of about `inches`, up to `spread` times more or less: as typed to 1/16 in, or any.
    fn about(&mut self, inches: f64, spread: f64) -> f64 {
        let x = inches * spread.powf(2.0 * self.share() - 1.0);
        if self.one_in(2) { (x * 16.0).round() / 16.0 } else { x }
    }

    /// A value for a field, about its start; none where it has no numbers to vary.
    pub fn value(&mut self, field: &Field, spread: f64) -> Option<Value> {
        Some(match (field.kind, field.start) {
            (Kind::Length(_), Start::Length(inches, _)) => {
                json!(self.about(inches, spread))
            }
            (Kind::Length(_), _) => json!(self.about(4.0, spread)),
            (Kind::Angle(from, to), start) => {
                let usual = match start {
                    Start::Number(n) => n,
                    _ => from + (to - from) * self.share(),
                };
                json!(self.about(usual, spread.min(2.0)).clamp(from, to))
            }
            (Kind::Count(from, to), _) => {
                let most = f64::from(to.min(from + 9) - from + 1);
                json!(f64::from(from) + (self.share() * most).floor())
            }
            (Kind::Number(from, to), Start::Number(n)) => {
                json!(self.about(n, spread).clamp(from, to))
            }
            (Kind::Choice(all), _) => json!(all[self.below(all.len())].key),
            (Kind::Choices(all), _) => {
                let picked: Vec<&str> =
                    all.iter().filter(|_| !self.one_in(3)).map(|c| c.key).collect();
                if picked.is_empty() { json!([all[0].key]) } else { json!(picked) }
            }
            (Kind::Flag, _) => json!(self.one_in(2)),
            (Kind::Lengths(_), Start::Lengths(inches, _)) => {
                inches.iter().map(|l| self.about(*l, 1.3)).collect()
            }
            (Kind::Points, Start::Points(inches, _)) => inches
                .iter()
                .map(|(x, y)| json!([self.about(*x, 1.1), self.about(*y, 1.1)]))
                .collect(),
            _ => return None,
        })
    }

    /// A form as it starts, its sizes, choices and counts about that where they may be so.
    pub fn inputs(&mut self, form: &Form, metric: bool, spread: f64) -> Inputs {
        let mut inputs = form.start_inputs(metric);
        for field in form.fields {
            let value = self.value(field, spread).and_then(|v| typed(field, &v));
            if let Some(value) = value.filter(|v| field.check(v).is_none()) {
                inputs.set(field.key, value);
            }
        }
        inputs
    }

    /// A form of a layout: all in turn, by `n`.
    pub fn form(n: usize) -> (&'static dyn Layout, &'static Form) {
        let all: Vec<(&'static dyn Layout, &'static Form)> =
            layouts::all().iter().flat_map(|l| l.forms().iter().map(move |f| (*l, f))).collect();
        all[n % all.len()]
    }

    /// Sizes about the form's start that may give a piece: every required one, some that stand
    /// unless changed, few that may be left open.
    pub fn sizes(&mut self, form: &Form) -> Map<String, Value> {
        let mut inputs = Map::new();
        for field in form.fields {
            let skipped = match (field.need, field.start) {
                (Need::Required, _) => false,
                (Need::Optional, Start::Empty) => !self.one_in(12),
                _ => self.one_in(3),
            };
            if !skipped && let Some(v) = self.value(field, 1.5) {
                inputs.insert(field.key.to_owned(), v);
            }
        }
        inputs
    }

    /// Anything that might be typed into the form: sizes missing, too many, far apart.
    pub fn anything(&mut self, form: &Form) -> Map<String, Value> {
        let spread = [1.2, 2.0, 5.0, 30.0][self.below(4)];
        let (missing, also) = ([40, 8, 3][self.below(3)], [40, 6, 2][self.below(3)]);
        let mut inputs = Map::new();
        for field in form.fields {
            let skipped = match (field.need, field.start) {
                (Need::Required, _) => self.one_in(missing),
                (Need::Optional, Start::Empty) => !self.one_in(also),
                _ => self.one_in(3),
            };
            if !skipped && let Some(v) = self.value(field, spread) {
                inputs.insert(field.key.to_owned(), v);
            }
        }
        for field in form.also {
            if self.one_in(also)
                && let Some(v) = self.value(field, spread)
            {
                inputs.insert(field.key.to_owned(), v);
            }
        }
        inputs
    }
}

fn typed(field: &Field, value: &Value) -> Option<Typed> {
    Some(match field.kind {
        Kind::Length(_) => Typed::Length(Length(value.as_f64()?)),
        Kind::Angle(..) => Typed::Angle(Angle(value.as_f64()?)),
        Kind::Count(..) | Kind::Number(..) => Typed::Number(value.as_f64()?),
        Kind::Choice(all) => Typed::Choice(all.iter().find(|c| *value == c.key)?.key),
        Kind::Flag => Typed::Flag(value.as_bool()?),
        _ => return None,
    })
}

/// A map with its keys in another order.
pub fn shuffled(inputs: &Map<String, Value>, dice: &mut Dice) -> Map<String, Value> {
    let mut all: Vec<(String, Value)> = inputs.clone().into_iter().collect();
    dice.shuffle(&mut all);
    all.into_iter().collect()
}

/// The address of a form filled in with these sizes.
pub fn link(layout: &str, form: &str, inputs: &Map<String, Value>) -> String {
    let mut link = format!("#/{layout}?form={form}");
    let text = |v: &Value| match v {
        Value::String(s) => s.clone(),
        Value::Array(all) if all.iter().all(Value::is_array) => {
            let corner = |v: &Value| v.as_array().map(|c| format!("{}, {}", c[0], c[1]));
            all.iter().filter_map(corner).collect::<Vec<_>>().join("; ")
        }
        Value::Array(all) => {
            let plain = |v: &Value| v.as_str().map_or(v.to_string(), str::to_owned);
            all.iter().map(plain).collect::<Vec<_>>().join(",")
        }
        other => other.to_string(),
    };
    for (key, v) in inputs {
        let text = text(v).replace(' ', "%20").replace(',', "%2C").replace(';', "%3B");
        link.push_str(&format!("&{key}={text}"));
    }
    link
}
