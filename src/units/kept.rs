//! What is kept in files: every type says once which members it has.

// The macro names them through here.
pub use serde_json::{Map, Value};

/// Becomes a value in a file, and comes back from one.
pub trait Kept: Sized {
    fn keep(&self) -> Value;
    /// Nothing where the value is of another kind or a member is missing.
    fn restore(value: &Value) -> Option<Self>;
}

impl Kept for bool {
    fn keep(&self) -> Value {
        Value::Bool(*self)
    }
    fn restore(value: &Value) -> Option<bool> {
        value.as_bool()
    }
}

impl Kept for f64 {
    fn keep(&self) -> Value {
        Value::from(*self)
    }
    fn restore(value: &Value) -> Option<f64> {
        value.as_f64()
    }
}

macro_rules! whole {
    ($($type:ty: $read:ident),*) => {
        $(impl Kept for $type {
            fn keep(&self) -> Value {
                Value::from(*self)
            }
            fn restore(value: &Value) -> Option<$type> {
                value.$read()?.try_into().ok()
            }
        })*
    };
}
whole!(u32: as_u64, usize: as_u64, i64: as_i64);

impl Kept for () {
    fn keep(&self) -> Value {
        Value::Null
    }
    fn restore(value: &Value) -> Option<()> {
        value.as_null()
    }
}

/// Up to the largest that a browser's numbers hold exactly.
impl Kept for u64 {
    fn keep(&self) -> Value {
        Value::from((*self).min((1 << 53) - 1))
    }
    fn restore(value: &Value) -> Option<u64> {
        value.as_u64()
    }
}

impl Kept for String {
    fn keep(&self) -> Value {
        Value::String(self.clone())
    }
    fn restore(value: &Value) -> Option<String> {
        value.as_str().map(str::to_owned)
    }
}

impl<T: Kept> Kept for Option<T> {
    fn keep(&self) -> Value {
        self.as_ref().map_or(Value::Null, T::keep)
    }
    fn restore(value: &Value) -> Option<Option<T>> {
        match value {
            Value::Null => Some(None),
            some => T::restore(some).map(Some),
        }
    }
}

impl<T: Kept> Kept for Vec<T> {
    fn keep(&self) -> Value {
        self.iter().map(T::keep).collect()
    }
    fn restore(value: &Value) -> Option<Vec<T>> {
        value.as_array()?.iter().map(T::restore).collect()
    }
}

impl<A: Kept, B: Kept> Kept for (A, B) {
    fn keep(&self) -> Value {
        Value::Array(vec![self.0.keep(), self.1.keep()])
    }
    fn restore(value: &Value) -> Option<(A, B)> {
        match value.as_array()?.as_slice() {
            [a, b] => Some((A::restore(a)?, B::restore(b)?)),
            _ => None,
        }
    }
}

/// A member of an object; one that is missing counts as null.
pub fn member<T: Kept>(map: &Map<String, Value>, name: &str) -> Option<T> {
    T::restore(map.get(name).unwrap_or(&Value::Null))
}

/// How a type is kept.
///
/// - `kept!(Recent { draft, at_ms, pinned = false })`: an object with these members; one with `=` may be missing, and is
///   that then.
/// - `kept!(Shop { unit, paper } or Shop::default())`: an object whose missing members are as in that one.
/// - `kept!(Theme: System = "system", Light = "light")`: one of these words.
/// - `kept!(News by "news" { Plan { done, plan } = "plan", End {} = "end" })`: an object with the members of the case that
///   its member `news` names.
/// - `kept!(Length(f64))`: the number that is in it.
#[macro_export]
macro_rules! kept {
    ($type:ident $(<$($of:ident),+>)? { $($name:ident $(= $usual:expr)?),* $(,)? }) => {
        impl $(<$($of: $crate::kept::Kept),+>)? $crate::kept::Kept for $type $(<$($of),+>)? {
            fn keep(&self) -> $crate::kept::Value {
                let mut map = $crate::kept::Map::new();
                $(map.insert(stringify!($name).to_owned(), $crate::kept::Kept::keep(&self.$name));)*
                $crate::kept::Value::Object(map)
            }
            fn restore(value: &$crate::kept::Value) -> Option<Self> {
                let map = value.as_object()?;
                Some($type { $($name: $crate::kept!(@member map, $name $(, $usual)?)),* })
            }
        }
    };
    ($type:ident { $($name:ident),* $(,)? } or $usual:expr) => {
        impl $crate::kept::Kept for $type {
            fn keep(&self) -> $crate::kept::Value {
                let mut map = $crate::kept::Map::new();
                $(map.insert(stringify!($name).to_owned(), $crate::kept::Kept::keep(&self.$name));)*
                $crate::kept::Value::Object(map)
            }
            fn restore(value: &$crate::kept::Value) -> Option<$type> {
                let map = value.as_object()?;
                let mut out: $type = $usual;
                $(if let Some(value) = map.get(stringify!($name)) {
                    out.$name = $crate::kept::Kept::restore(value)?;
                })*
                Some(out)
            }
        }
    };
    ($type:ident $(<$($of:ident),+>)? by $tag:literal { $($case:ident { $($name:ident),* } = $word:literal),* $(,)? }) => {
        impl $(<$($of: $crate::kept::Kept),+>)? $crate::kept::Kept for $type $(<$($of),+>)? {
            fn keep(&self) -> $crate::kept::Value {
                let mut map = $crate::kept::Map::new();
                match self {
                    $($type::$case { $($name),* } => {
                        map.insert($tag.to_owned(), $word.into());
                        $(map.insert(stringify!($name).to_owned(), $crate::kept::Kept::keep($name));)*
                    })*
                }
                $crate::kept::Value::Object(map)
            }
            fn restore(value: &$crate::kept::Value) -> Option<Self> {
                let map = value.as_object()?;
                match map.get($tag)?.as_str()? {
                    $($word => Some($type::$case { $($name: $crate::kept::member(map, stringify!($name))?),* }),)*
                    _ => None,
                }
            }
        }
    };
    (@member $map:ident, $name:ident) => { $crate::kept::member($map, stringify!($name))? };
    (@member $map:ident, $name:ident, $usual:expr) => {
        match $map.get(stringify!($name)) {
            Some(value) => $crate::kept::Kept::restore(value)?,
            None => $usual,
        }
    };
    ($type:ident: $($case:ident = $word:literal),* $(,)?) => {
        impl $crate::kept::Kept for $type {
            fn keep(&self) -> $crate::kept::Value {
                match self { $($type::$case => $word),* }.into()
            }
            fn restore(value: &$crate::kept::Value) -> Option<$type> {
                match value.as_str()? {
                    $($word => Some($type::$case),)*
                    _ => None,
                }
            }
        }
    };
    ($type:ident($inner:ty)) => {
        impl $crate::kept::Kept for $type {
            fn keep(&self) -> $crate::kept::Value {
                $crate::kept::Kept::keep(&self.0)
            }
            fn restore(value: &$crate::kept::Value) -> Option<$type> {
                <$inner as $crate::kept::Kept>::restore(value).map($type)
            }
        }
    };
}
