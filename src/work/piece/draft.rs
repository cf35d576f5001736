//! One layout as a person fills it in: texts kept as typed, read afresh at every change.

use crate::patterns;
use crate::piece::Shop;
use offsquare_cuts::backwards::{self, Solved, Steps};
use offsquare_cuts::inputs::{Also, Field, Given, Inputs, Kind, Need, Value, standing_value};
use offsquare_cuts::layouts::{Detail, Form, Layout};
use offsquare_cuts::parts::Part;
use offsquare_cuts::problem::{Level, Problem};
use offsquare_units::num::Gather;
use offsquare_units::{
    Angle, Length, ParseError, Quantity, Style, Ticks, Unit, kept, length_text, num, parse_angle,
    parse_length, parse_mass, parse_number, say,
};

/// A field's text, and the unit in which its plain numbers count.
#[derive(Clone, Debug, PartialEq)]
pub struct Typed {
    pub key: String,
    pub text: String,
    pub unit: Unit,
}
kept!(Typed { key, text, unit });

/// One layout, filled in.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    pub layout: String,
    pub form: String,
    pub typed: Vec<Typed>,
    /// The way that the maker looks at, if not the first.
    pub way: Option<usize>,
    /// The field that gives when worked backwards, if not the likeliest.
    pub give: Option<String>,
    /// What was typed in the layout's other forms, for the way back.
    pub others: Vec<OtherForm>,
    /// Something was typed since this form was entered.
    pub touched: bool,
}
kept!(Draft { layout, form, typed, way, give, others = Vec::new(), touched = false });

/// Another form of the same layout as it was left.
#[derive(Clone, Debug, PartialEq)]
pub struct OtherForm {
    pub form: String,
    pub typed: Vec<Typed>,
    /// Nothing was typed in another form since.
    pub holds: bool,
}
kept!(OtherForm { form, typed, holds });

/// One field of the form as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct FieldState {
    pub key: &'static str,
    /// One of the answers that may be typed as well.
    pub also: bool,
    pub text: String,
    pub unit: Unit,
    /// What the text says, if it says something.
    pub value: Option<Value>,
    /// The text is a sum, so its value is worth showing beside it.
    pub is_sum: bool,
}

/// Everything derived from a draft.
#[derive(Clone, Debug)]
pub struct Answered {
    pub entries: Vec<FieldState>,
    pub given: Given,
    pub solved: Vec<Solved>,
    pub problems: Vec<Problem>,
    /// What finding it cost (see [`Steps`]).
    pub steps: u32,
}

impl PartialEq for Answered {
    fn eq(&self, other: &Answered) -> bool {
        self.entries == other.entries && self.problems == other.problems
    }
}

impl Answered {
    /// Nothing stands in the way of an answer, and there is one.
    pub fn is_good(&self) -> bool {
        !self.solved.is_empty()
    }
    /// Why the answer of this way is not to be trusted: it is an old one and this is what stops a new one, or
    /// sizes that contradict each other.
    pub fn doubt(&self, way: &str) -> Option<&Problem> {
        let of_it = |p: &&Problem| p.way.as_deref().is_none_or(|w| w == way);
        let find =
            |wanted: fn(&Problem) -> bool| self.problems.iter().filter(of_it).find(|p| wanted(p));
        match self.is_good() {
            true => find(|p| p.by.is_some()),
            false => find(|p| p.level == Level::Stop),
        }
    }
    /// What is wrong beside a field.
    pub fn problems_of<'a>(&'a self, key: &'a str) -> impl Iterator<Item = &'a Problem> {
        self.problems.iter().filter(move |p| p.field() == Some(key))
    }
}

/// Fields of the size seen in the drawing, each with that of the size going away.
const SEEN_AND_AWAY: [(&str, &str); 8] = [
    ("strip_width", "thickness"),
    ("strip_width_1", "thickness_1"),
    ("strip_width_2", "thickness_2"),
    ("width_1", "thickness_1"),
    ("width_2", "thickness_2"),
    ("leg_depth", "leg_breadth"),
    ("brace_width", "thickness"),
    ("stretcher_width", "stretcher_thickness"),
];

impl Draft {
    /// The layout as the first visit shows it: sensible sizes, already solved.
    pub fn fresh(layout: &dyn Layout, form: &Form, unit: Unit) -> Draft {
        let typed = form
            .fields
            .iter()
            .filter_map(|f| {
                let text = start_text(f, unit)?;
                Some(Typed { key: f.key.to_owned(), text, unit })
            })
            .gather();
        Draft {
            layout: layout.id().to_owned(),
            form: form.id.to_owned(),
            typed,
            way: None,
            give: None,
            others: Vec::new(),
            touched: false,
        }
    }

    pub fn layout(&self) -> Option<&'static dyn Layout> {
        patterns::asked(&self.layout)
    }
    pub fn form(&self) -> Option<&'static Form> {
        self.layout()?.forms().iter().find(|f| f.id == self.form)
    }
    pub fn text(&self, key: &str) -> Option<&Typed> {
        self.typed.iter().find(|t| t.key == key)
    }
    /// Puts a text in; an empty one takes the field out.
    pub fn set(&mut self, key: &str, text: &str, unit: Unit) {
        self.touched = true;
        match self.typed.iter_mut().find(|t| t.key == key) {
            Some(t) => {
                t.text = text.to_owned();
                t.unit = unit;
            }
            None => self.typed.push(Typed { key: key.to_owned(), text: text.to_owned(), unit }),
        }
    }
    /// The first sizes as they were typed: "Opening width 30, Opening height 44, Strip width 2 1/2". One that
    /// no tape or scale shows (16.7122) is printed in the maker's fraction.
    pub fn in_words(&self, style: &Style) -> String {
        let fields = self.form().map_or(&[][..], |f| f.fields);
        let of = |f: &'static Field| {
            let typed = self.text(f.key).filter(|t| !t.text.trim().is_empty())?;
            if f.need != Need::Required || matches!(f.kind, Kind::Choice(_)) {
                return None;
            }
            let off_the_mark =
                read(f, typed).ok().and_then(|(value, ..)| off_the_mark(&value, typed.unit));
            let mm = if typed.unit.is_metric() { " mm" } else { "" };
            Some(match off_the_mark {
                Some(q) => format!("{} {}", f.label, say!(q).render(style)),
                None => format!("{} {}{mm}", f.label, typed.text),
            })
        };
        let all: Vec<String> = fields.iter().filter_map(of).take(4).gather();
        all.join(", ")
    }
    /// The stock turned on its other side: the size seen and the size going away change places, where
    /// both are typed. None where there is nothing to change.
    pub fn turned(&self) -> Option<Draft> {
        let form = self.form()?;
        let mut draft = self.clone();
        let mut any = false;
        for (seen, away) in SEEN_AND_AWAY {
            let of = |key: &str| {
                let typed = self.text(key).filter(|t| !t.text.trim().is_empty());
                typed.filter(|_| form.fields.iter().any(|f| f.key == key))
            };
            if let (Some(s), Some(a)) = (of(seen), of(away)) {
                draft.set(seen, &a.text, a.unit);
                draft.set(away, &s.text, s.unit);
                // A bracket's legs of the knee's own stock are turned with it.
                if of("leg_width").is_some_and(|l| l.text == s.text) {
                    draft.set("leg_width", &a.text, a.unit);
                }
                any |= s.text != a.text;
            }
        }
        any.then_some(draft)
    }
}

/// A length that is no whole 64th (half a millimeter), an angle that is no whole hundredth of a degree.
fn off_the_mark(value: &Value, unit: Unit) -> Option<Quantity> {
    let (q, marks) = match value {
        Value::Length(l) if unit.is_metric() => (Quantity::Length(*l), l.0 * 50.8),
        Value::Length(l) => (Quantity::Length(*l), l.0 * 64.0),
        Value::Angle(a) => (Quantity::Angle(*a), a.0 * 100.0),
        _ => return None,
    };
    ((marks - num::round_half_up(marks)).abs() > 1e-6).then_some(q)
}

fn start_text(field: &Field, unit: Unit) -> Option<String> {
    let stands = || match field.need {
        Need::Choice(c) => Some(Value::Choice(c)),
        _ => None,
    };
    let value = field.start_value(unit.is_metric()).or_else(stands)?;
    field_text(&value, &Style::of(unit))
}

/// A value, the step that it was typed to, and whether the text is a sum.
type Reading = (Value, Option<Quantity>, bool);

/// Reads one text as the field's type.
pub(super) fn read(field: &'static Field, typed: &Typed) -> Result<Reading, Problem> {
    let text = typed.text.trim();
    let stop = |sentence: offsquare_units::Text| Problem::stop(field.key, sentence);
    let said = |e: ParseError| stop(e.into());
    let one = |s: &str| parse_length(s, typed.unit).map_err(said);
    Ok(match field.kind {
        Kind::Length(_) => {
            let p = one(text)?;
            let sum = p.is_sum;
            (Value::Length(p.length), Some(Quantity::Length(p.step.to_length())), sum)
        }
        Kind::Angle(..) => {
            let a = parse_angle(text).map_err(said)?;
            (Value::Angle(a.angle), Some(Quantity::Angle(a.step)), a.is_sum)
        }
        Kind::Count(..) | Kind::Number(..) => {
            let n = parse_number(text).map_err(said)?;
            (Value::Number(n), None, false)
        }
        Kind::Mass(_) => {
            let kg = parse_mass(text, typed.unit).map_err(said)?;
            (Value::Number(kg), None, false)
        }
        Kind::Choice(all) => {
            let c = all
                .iter()
                .find(|c| c.key == text)
                .ok_or_else(|| stop(say!(field.choices_sentence())))?;
            (Value::Choice(c.key), None, false)
        }
        Kind::Choices(all) => {
            let picked: Option<Vec<&'static str>> =
                pieces(text, ',').map(|s| all.iter().find(|c| c.key == s).map(|c| c.key)).collect();
            let picked = picked.ok_or_else(|| stop(say!(field.choices_sentence())))?;
            (Value::Choices(picked), None, false)
        }
        Kind::Flag => (Value::Flag(text == "yes"), None, false),
        Kind::Lengths(_) => {
            let all: Result<Vec<Length>, Problem> =
                pieces(text, ',').map(|s| one(s).map(|p| p.length)).collect();
            (Value::Lengths(all?), None, false)
        }
        Kind::Angles(..) => {
            let all: Result<Vec<Angle>, Problem> =
                pieces(text, ',').map(|s| parse_angle(s).map(|a| a.angle).map_err(said)).collect();
            (Value::Angles(all?), None, false)
        }
        Kind::Points => {
            let corner = |s: &str| match pieces(s, ',').gather()[..] {
                [x, y] => Ok((one(x)?.length, one(y)?.length)),
                _ => Err(stop(say!(
                    "Each corner is two sizes with a comma between; corners are parted by \
                     semicolons."
                ))),
            };
            let all: Result<Vec<_>, Problem> = pieces(text, ';').map(corner).collect();
            (Value::Points(all?), None, false)
        }
    })
}

fn pieces(text: &str, at: char) -> impl Iterator<Item = &str> {
    text.split(at).map(str::trim).filter(|s| !s.is_empty())
}

impl Answered {
    /// Reads one field: what stands there, or what is wrong with it.
    fn take(&mut self, field: &'static Field, also: bool, typed: Option<&Typed>, shop: &Shop) {
        let mut entry = FieldState {
            key: field.key,
            also,
            text: typed.map(|t| t.text.clone()).unwrap_or_default(),
            unit: typed.map_or(shop.unit, |t| t.unit),
            value: None,
            is_sum: false,
        };
        match typed.filter(|t| !t.text.trim().is_empty()).map(|t| checked(field, t)) {
            None => {
                if let Some(v) = standing_value(field) {
                    self.given.inputs.set(field.key, v);
                }
            }
            Some(Err(p)) => self.problems.push(p),
            Some(Ok((value, step, is_sum))) => {
                entry.value = Some(value.clone());
                entry.is_sum = is_sum;
                if also {
                    let path = format!("/inputs/{}", field.key);
                    self.given.also.push(Also::of(field, value, path, step));
                } else {
                    self.given.inputs.set(field.key, value);
                    self.given.steps.extend(step.map(|s| (field.key, s)));
                }
            }
        }
        self.entries.push(entry);
    }
}

/// What a text says, where the field takes that.
fn checked(field: &'static Field, typed: &Typed) -> Result<Reading, Problem> {
    let reading = read(field, typed)?;
    field.check(&reading.0).map_or(Ok(reading), Err)
}

/// Reads and solves a draft; every problem is reported, each beside its field.
pub fn answer(draft: &Draft, shop: &Shop) -> Answered {
    let mut out = Answered {
        entries: Vec::new(),
        given: Given::default(),
        solved: Vec::new(),
        problems: Vec::new(),
        steps: 0,
    };
    let (Some(layout), Some(form)) = (draft.layout(), draft.form()) else {
        return out;
    };
    out.given.inputs = Inputs::of_form(form.id);
    let own = form.fields.iter().map(|f| (f, false));
    for (field, also) in own.chain(form.also.iter().map(|f| (f, true))) {
        out.take(field, also, draft.text(field.key), shop);
    }
    if out.problems.iter().any(|p| p.level == Level::Stop) {
        return out;
    }
    let steps = Steps::default();
    let found = backwards::resolve(layout, &out.given, Detail::Full, &steps);
    out.steps = steps.spent();
    let mut ways: Vec<Option<Solved>> = found.solved.into_iter().map(Some).gather();
    let parts: Vec<&[Part]> = ways.iter().flatten().map(|s| s.solution.parts.as_slice()).gather();
    // Those that this saw can cut stand first.
    let order = shop.saw.order(&parts);
    out.solved = order.into_iter().filter_map(|i| ways.get_mut(i)?.take()).gather();
    out.problems = found.problems;
    out
}

/// A field's text in the next unit, and that unit: the lengths themselves never change.
pub fn in_next_unit(entry: &FieldState) -> (String, Unit) {
    let unit = entry.unit.next();
    let one = |text: &str| size_in(text.trim(), entry.unit, unit).unwrap_or_default();
    let text = match entry.value {
        Some(Value::Length(_)) => one(&entry.text),
        Some(Value::Lengths(_) | Value::Points(_)) => {
            let mut out = String::new();
            for piece in entry.text.split_inclusive([',', ';']) {
                let size = piece.trim_end_matches([',', ';']);
                out += &one(size);
                out += &piece[size.len()..];
                out.push(' ');
            }
            out.pop();
            out
        }
        _ => entry.text.clone(),
    };
    (text, unit)
}

/// One size printed afresh. A sum stays as typed, where it has to with the unit that its numbers count
/// in; back in that unit it loses it.
#[inline(never)]
fn size_in(text: &str, from: Unit, to: Unit) -> Option<String> {
    let typed = parse_length(text, from).ok()?;
    if typed.is_sum {
        let name = |unit: Unit| if unit.is_metric() { " mm" } else { " in" };
        let inside = || {
            let size = text.strip_suffix(name(to))?;
            size.strip_prefix('(')?.strip_suffix(')')
        };
        let bare = inside().unwrap_or(text);
        // Where the sum names another unit, each bare number gets its own.
        let has_unit = |c: char| c.is_ascii_alphabetic() || c == '\'' || c == '"';
        let (mut each, mut is_bare) = (String::new(), true);
        for word in text.split(' ') {
            if word == "+" || word == "-" {
                each += if is_bare { name(from) } else { "" };
                is_bare = true;
            }
            is_bare &= !word.contains(has_unit);
            each += if each.is_empty() { "" } else { " " };
            each += word;
        }
        each += if is_bare { name(from) } else { "" };
        for words in [["", bare, ""], ["(", text, &[")", name(from)].concat()], ["", &each, ""]] {
            let text = words.concat();
            if parse_length(&text, to).is_ok_and(|p| p.length == typed.length) {
                return Some(text);
            }
        }
    }
    Some(length_text(typed.length, to))
}

/// What a computed quantity looks like when it is put into a field.
pub fn field_text(value: &Value, style: &Style) -> Option<String> {
    Some(match value {
        Value::Length(l) => length_text(*l, style.unit),
        Value::Angle(a) => a.0.to_string(),
        Value::Number(n) => n.to_string(),
        Value::Choice(c) => (*c).to_owned(),
        Value::Flag(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Value::Choices(all) => all.join(", "),
        Value::Lengths(all) => all.iter().map(|l| length_text(*l, style.unit)).gather().join(", "),
        Value::Points(all) => {
            let one = |(x, y): &(Length, Length)| {
                format!("{}, {}", length_text(*x, style.unit), length_text(*y, style.unit))
            };
            all.iter().map(one).gather().join("; ")
        }
        _ => return None,
    })
}

/// A dragged value as text: to the maker's fraction, to half a degree, to a whole count. Nothing
/// where it would leave lengths positive no more.
pub fn handle_text(now: &Value, value: f64, shop: &Shop) -> Option<(String, Unit)> {
    Some(match now {
        Value::Length(_) => {
            let style = Style { strong_shy: false, ..shop.style() };
            let step = style.shown_fraction().step();
            let ticks = Ticks::from_length(Length(value))?;
            let on_mark = ticks.0.checked_add(step.0 / 2)?.div_euclid(step.0) * step.0;
            (length_text(Ticks(on_mark).to_length(), shop.unit), shop.unit)
        }
        Value::Angle(_) => {
            ((offsquare_units::num::round_half_up(value * 2.0) / 2.0).to_string(), shop.unit)
        }
        Value::Number(_) => (offsquare_units::num::round_half_up(value).to_string(), shop.unit),
        _ => return None,
    })
}
