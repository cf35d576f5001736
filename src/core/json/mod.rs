//! JSON (RFC 8259): values, reader, writer, and what is kept in files.
//!
//! Small on purpose: a general-purpose library with its number tables and its code for every type is a tenth of
//! the app's first load.

mod decimal;
mod kept;
mod read;
mod write;

pub use kept::{Kept, member};
pub use read::{NotJson, read};

/// Any JSON value.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum Value {
    #[default]
    Null,
    Bool(bool),
    /// Written without a point or exponent: kept as it is, so that an id comes back as it went in.
    Whole(i64),
    Number(f64),
    String(String),
    Array(Vec<Value>),
    Object(Map),
}

/// The members of an object, in order; each name once.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Map(Vec<(String, Value)>);

impl Value {
    pub fn is_null(&self) -> bool {
        matches!(self, Value::Null)
    }
    pub fn is_object(&self) -> bool {
        matches!(self, Value::Object(_))
    }
    pub fn is_number(&self) -> bool {
        self.as_f64().is_some()
    }
    pub fn as_bool(&self) -> Option<bool> {
        match self {
            Value::Bool(b) => Some(*b),
            _ => None,
        }
    }
    pub fn as_f64(&self) -> Option<f64> {
        match self {
            Value::Number(n) => Some(*n),
            Value::Whole(n) => Some(*n as f64),
            _ => None,
        }
    }
    pub fn as_i64(&self) -> Option<i64> {
        match self {
            Value::Whole(n) => Some(*n),
            _ => None,
        }
    }
    pub fn as_u64(&self) -> Option<u64> {
        match self {
            Value::Whole(n) => u64::try_from(*n).ok(),
            _ => None,
        }
    }
    pub fn as_str(&self) -> Option<&str> {
        match self {
            Value::String(s) => Some(s),
            _ => None,
        }
    }
    pub fn as_array(&self) -> Option<&Vec<Value>> {
        match self {
            Value::Array(a) => Some(a),
            _ => None,
        }
    }
    pub fn as_object(&self) -> Option<&Map> {
        match self {
            Value::Object(o) => Some(o),
            _ => None,
        }
    }
    pub fn as_object_mut(&mut self) -> Option<&mut Map> {
        match self {
            Value::Object(o) => Some(o),
            _ => None,
        }
    }
    /// The member of that name, of an object that has one.
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.as_object()?.get(name)
    }
}

impl Map {
    pub fn new() -> Map {
        Map::default()
    }
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.0.iter().find(|(n, _)| n == name).map(|(_, v)| v)
    }
    /// Puts a member last, or in the place of the one of the same name.
    pub fn insert(&mut self, name: String, value: Value) {
        match self.0.iter_mut().find(|(n, _)| *n == name) {
            Some(member) => member.1 = value,
            None => self.0.push((name, value)),
        }
    }
    /// The same for what can become a value.
    pub fn put(&mut self, name: &str, value: impl Into<Value>) {
        self.insert(name.to_owned(), value.into());
    }
    /// Takes a member out; the others keep their order.
    pub fn remove(&mut self, name: &str) -> Option<Value> {
        let at = self.0.iter().position(|(n, _)| n == name)?;
        Some(self.0.remove(at).1)
    }
    pub fn keys(&self) -> impl Iterator<Item = &String> {
        self.0.iter().map(|(n, _)| n)
    }
    pub fn iter(&self) -> impl Iterator<Item = (&String, &Value)> {
        self.0.iter().map(|(n, v)| (n, v))
    }
    pub fn iter_mut(&mut self) -> impl Iterator<Item = (&String, &mut Value)> {
        self.0.iter_mut().map(|(n, v)| (&*n, v))
    }
}

impl std::ops::Index<&str> for Value {
    type Output = Value;
    /// The member of that name; null where there is none.
    fn index(&self, name: &str) -> &Value {
        self.get(name).unwrap_or(&Value::Null)
    }
}
impl FromIterator<(String, Value)> for Map {
    fn from_iter<I: IntoIterator<Item = (String, Value)>>(all: I) -> Map {
        let mut map = Map::new();
        for (name, value) in all {
            map.insert(name, value);
        }
        map
    }
}
impl FromIterator<Value> for Value {
    fn from_iter<I: IntoIterator<Item = Value>>(all: I) -> Value {
        Value::Array(all.into_iter().collect())
    }
}
impl From<bool> for Value {
    fn from(b: bool) -> Value {
        Value::Bool(b)
    }
}
impl From<f64> for Value {
    fn from(n: f64) -> Value {
        Value::Number(n)
    }
}
impl From<i64> for Value {
    fn from(n: i64) -> Value {
        Value::Whole(n)
    }
}
impl From<u32> for Value {
    fn from(n: u32) -> Value {
        Value::Whole(n.into())
    }
}
impl From<usize> for Value {
    fn from(n: usize) -> Value {
        i64::try_from(n).map_or(Value::Number(n as f64), Value::Whole)
    }
}
impl From<&str> for Value {
    fn from(s: &str) -> Value {
        Value::String(s.to_owned())
    }
}
impl From<&String> for Value {
    fn from(s: &String) -> Value {
        Value::String(s.clone())
    }
}
impl From<String> for Value {
    fn from(s: String) -> Value {
        Value::String(s)
    }
}
impl From<Vec<Value>> for Value {
    fn from(all: Vec<Value>) -> Value {
        Value::Array(all)
    }
}
impl From<Map> for Value {
    fn from(map: Map) -> Value {
        Value::Object(map)
    }
}
impl<T: Into<Value>> From<Option<T>> for Value {
    fn from(value: Option<T>) -> Value {
        value.map_or(Value::Null, Into::into)
    }
}

/// An object or a list from what can become values: `json!({"status": "ok", "boards": all})`.
#[macro_export]
macro_rules! json {
    ([$($value:expr),* $(,)?]) => {
        $crate::json::Value::Array(vec![$($crate::json::Value::from($value)),*])
    };
    ({$($name:literal: $value:expr),* $(,)?}) => {{
        let mut map = $crate::json::Map::new();
        $(map.put($name, $value);)*
        $crate::json::Value::Object(map)
    }};
}
