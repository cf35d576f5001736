//! Records as they are stored: one list of fields a type, used to write it and to read it back.
//!
//! Reading is lenient: a field that is missing keeps what stands; one of another type does too, and is
//! counted, so that it can be said. Written without generic code, because every type of the shop would
//! otherwise bring its own reader and writer along.

use crate::num::Gather;
use serde_json::{Map, Value};

/// A record being read or written.
pub struct Record {
    map: Map<String, Value>,
    writes: bool,
    /// Fields and rows that could not be read.
    pub wrong: u32,
}

/// Something that is stored.
pub trait Stored: Default {
    /// Names every field once, in the order of the file.
    fn fields(&mut self, r: &mut Record);
}

/// A value as it is stored.
///
/// ```
/// use offsquare_units::record::{Record, Stored, read, write};
/// #[derive(Default, PartialEq, Debug)]
/// struct Peg { length: f64, count: u32 }
/// impl Stored for Peg {
///     fn fields(&mut self, r: &mut Record) {
///         r.number("length", &mut self.length);
///         r.whole("count", &mut self.count);
///     }
/// }
/// let stored = write(&mut Peg { length: 2.5, count: 3 });
/// assert_eq!(stored.to_string(), r#"{"length":2.5,"count":3}"#);
/// let (peg, wrong) = read::<Peg>(&serde_json::json!({"length": 2.5, "count": "three"}));
/// assert_eq!((peg, wrong), (Peg { length: 2.5, count: 0 }, 1));
/// ```
pub fn write<T: Stored>(value: &mut T) -> Value {
    let mut r = Record { map: Map::new(), writes: true, wrong: 0 };
    value.fields(&mut r);
    Value::Object(r.map)
}

/// Reads a stored value: what could be read, and how many fields or rows could not.
pub fn read<T: Stored>(stored: &Value) -> (T, u32) {
    let mut value = T::default();
    let Value::Object(map) = stored else {
        return (value, 1);
    };
    let mut r = Record { map: map.clone(), writes: false, wrong: 0 };
    value.fields(&mut r);
    (value, r.wrong)
}

impl Record {
    /// Whether it is written, not read.
    pub fn writes(&self) -> bool {
        self.writes
    }

    fn put(&mut self, key: &str, value: Value) {
        self.map.insert(key.to_owned(), value);
    }

    /// The stored value of a field; a missing or empty one is not wrong.
    fn take(&mut self, key: &str) -> Option<Value> {
        self.map.remove(key).filter(|v| !v.is_null())
    }

    fn noted<T>(&mut self, value: Option<T>) -> Option<T> {
        self.wrong += u32::from(value.is_none());
        value
    }

    pub fn number(&mut self, key: &str, v: &mut f64) {
        if self.writes {
            return self.put(key, Value::from(*v));
        }
        if let Some(stored) = self.take(key)
            && let Some(n) = self.noted(stored.as_f64())
        {
            *v = n;
        }
    }

    /// A number that may be missing.
    pub fn maybe(&mut self, key: &str, v: &mut Option<f64>) {
        if self.writes {
            return self.put(key, v.map_or(Value::Null, Value::from));
        }
        *v = self.take(key).and_then(|stored| {
            let n = stored.as_f64();
            self.noted(n)
        });
    }

    pub fn whole(&mut self, key: &str, v: &mut u32) {
        if self.writes {
            return self.put(key, Value::from(*v));
        }
        if let Some(stored) = self.take(key) {
            let n = stored.as_u64().map(|n| n.min(u64::from(u32::MAX)) as u32);
            if let Some(n) = self.noted(n) {
                *v = n;
            }
        }
    }

    /// Minor units of money, and other whole numbers that may be below 0.
    pub fn integer(&mut self, key: &str, v: &mut i64) {
        if self.writes {
            return self.put(key, Value::from(*v));
        }
        if let Some(stored) = self.take(key)
            && let Some(n) = self.noted(stored.as_i64())
        {
            *v = n;
        }
    }

    pub fn flag(&mut self, key: &str, v: &mut bool) {
        if self.writes {
            return self.put(key, Value::Bool(*v));
        }
        if let Some(stored) = self.take(key)
            && let Some(b) = self.noted(stored.as_bool())
        {
            *v = b;
        }
    }

    pub fn text(&mut self, key: &str, v: &mut String) {
        if self.writes {
            return self.put(key, Value::String(v.clone()));
        }
        if let Some(stored) = self.take(key)
            && let Some(text) = self.noted(stored.as_str().map(str::to_owned))
        {
            *v = text;
        }
    }

    /// One of several names, as its index.
    pub fn pick(&mut self, key: &str, v: &mut usize, names: &[&str]) {
        if self.writes {
            return self.put(key, Value::from(names.get(*v).copied().unwrap_or_default()));
        }
        if let Some(stored) = self.take(key) {
            let at = names.iter().position(|n| stored.as_str() == Some(n));
            if let Some(at) = self.noted(at) {
                *v = at;
            }
        }
    }

    /// A value in a form of its own; none while nothing is stored.
    pub fn value(&mut self, key: &str, v: Option<Value>) -> Option<Value> {
        if let (true, Some(v)) = (self.writes, v) {
            self.put(key, v);
            return None;
        }
        self.take(key)
    }

    pub fn one<T: Stored>(&mut self, key: &str, v: &mut T) {
        if self.writes {
            let stored = write(v);
            return self.put(key, stored);
        }
        if let Some(stored) = self.take(key) {
            let (read, wrong) = read(&stored);
            *v = read;
            self.wrong += wrong;
        }
    }

    /// A list; a row that is no record is left out and counted.
    pub fn rows<T: Stored>(&mut self, key: &str, v: &mut Vec<T>) {
        if self.writes {
            let stored = v.iter_mut().map(write).gather();
            return self.put(key, Value::Array(stored));
        }
        let Some(stored) = self.take(key) else { return };
        let Value::Array(all) = stored else {
            self.wrong += 1;
            return;
        };
        v.clear();
        for row in &all {
            let (read, wrong) = read(row);
            self.wrong += wrong;
            if row.is_object() {
                v.push(read);
            }
        }
    }
}
