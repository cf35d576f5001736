//! Reading a text.

use super::{Map, Value, decimal};
use std::fmt::{Display, Formatter};

/// Why a text is not JSON, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotJson {
    what: &'static str,
    line: usize,
    column: usize,
}

impl Display for NotJson {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "{} at line {} column {}",
            self.what, self.line, self.column
        )
    }
}

/// Objects and lists inside one another; more would not be a request of ours, and each takes room on the stack.
const DEEPEST: usize = 128;

/// Reads one value; nothing but white space may follow. Of members with the same name the last one counts.
///
/// Numbers are read to the nearest f64 (RFC 8259 leaves it open).
///
/// Example: `{"a": [1, 2.5, "x"]}`; `[1,]` is refused: "a value was expected at line 1 column 4".
pub fn read(text: &str) -> Result<Value, NotJson> {
    let mut reader = Reader {
        bytes: text.as_bytes(),
        at: 0,
    };
    let value = reader.value(0).and_then(|value| {
        reader.skip_space();
        match reader.peek() {
            None => Ok(value),
            Some(_) => Err("the end was expected"),
        }
    });
    value.map_err(|what| {
        let before = &reader.bytes[..reader.at.min(reader.bytes.len())];
        NotJson {
            what,
            line: 1 + before.iter().filter(|b| **b == b'\n').count(),
            column: 1 + before.iter().rev().take_while(|b| **b != b'\n').count(),
        }
    })
}

struct Reader<'a> {
    bytes: &'a [u8],
    at: usize,
}

type Read<T> = Result<T, &'static str>;

impl Reader<'_> {
    fn peek(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    fn skip_space(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\n' | b'\r' | b'\t')) {
            self.at += 1;
        }
    }

    /// Whether the next sign is this one; it is taken then.
    fn takes(&mut self, sign: u8) -> bool {
        self.skip_space();
        let is = self.peek() == Some(sign);
        self.at += usize::from(is);
        is
    }

    fn value(&mut self, depth: usize) -> Read<Value> {
        self.skip_space();
        match self.peek() {
            Some(b'{' | b'[') if depth == DEEPEST => Err("nested too deeply"),
            Some(b'{') => self.object(depth),
            Some(b'[') => self.list(depth),
            Some(b'"') => Ok(Value::String(self.string()?)),
            Some(b'-' | b'0'..=b'9') => self.number(),
            Some(b't') => self.word("true", Value::Bool(true)),
            Some(b'f') => self.word("false", Value::Bool(false)),
            Some(b'n') => self.word("null", Value::Null),
            _ => Err("a value was expected"),
        }
    }

    fn word(&mut self, word: &str, value: Value) -> Read<Value> {
        if !self.bytes[self.at..].starts_with(word.as_bytes()) {
            return Err("a value was expected");
        }
        self.at += word.len();
        Ok(value)
    }

    fn list(&mut self, depth: usize) -> Read<Value> {
        let mut out = Vec::new();
        self.at += 1;
        if self.takes(b']') {
            return Ok(Value::Array(out));
        }
        loop {
            out.push(self.value(depth + 1)?);
            if self.takes(b']') {
                return Ok(Value::Array(out));
            }
            if !self.takes(b',') {
                return Err("a comma or ] was expected");
            }
        }
    }

    fn object(&mut self, depth: usize) -> Read<Value> {
        let mut out = Map::new();
        self.at += 1;
        if self.takes(b'}') {
            return Ok(Value::Object(out));
        }
        loop {
            self.skip_space();
            if self.peek() != Some(b'"') {
                return Err("a name in quotes was expected");
            }
            let name = self.string()?;
            if !self.takes(b':') {
                return Err("a colon was expected");
            }
            let value = self.value(depth + 1)?;
            out.insert(name, value);
            if self.takes(b'}') {
                return Ok(Value::Object(out));
            }
            if !self.takes(b',') {
                return Err("a comma or } was expected");
            }
        }
    }

    /// The digits from here on.
    fn digits(&mut self) -> Read<&[u8]> {
        let start = self.at;
        while matches!(self.peek(), Some(b'0'..=b'9')) {
            self.at += 1;
        }
        if start == self.at {
            return Err("a digit was expected");
        }
        Ok(&self.bytes[start..self.at])
    }

    fn number(&mut self) -> Read<Value> {
        let start = self.at;
        let negative = self.peek() == Some(b'-');
        self.at += usize::from(negative);
        let mut digits = self.digits()?.to_vec();
        if digits.len() > 1 && digits[0] == b'0' {
            return Err("a number without leading zeros was expected");
        }
        let mut exponent = 0_i64;
        let mut is_whole = true;
        if self.peek() == Some(b'.') {
            self.at += 1;
            is_whole = false;
            let more = self.digits()?;
            exponent -= more.len() as i64;
            digits.extend_from_slice(more);
        }
        if matches!(self.peek(), Some(b'e' | b'E')) {
            self.at += 1;
            is_whole = false;
            let down = self.peek() == Some(b'-');
            self.at += usize::from(down || self.peek() == Some(b'+'));
            // An exponent of more than six digits is past every number anyhow.
            let by = self
                .digits()?
                .iter()
                .fold(0_i64, |n, d| (n * 10 + i64::from(d - b'0')).min(1_000_000));
            exponent += if down { -by } else { by };
        }
        if is_whole
            && let Ok(text) = std::str::from_utf8(&self.bytes[start..self.at])
            && let Ok(n) = text.parse::<i64>()
            && !(n == 0 && negative)
        {
            return Ok(Value::Whole(n));
        }
        let n = decimal::nearest(&digits, exponent);
        if n.is_infinite() {
            return Err("a number past the largest one");
        }
        Ok(Value::Number(if negative { -n } else { n }))
    }

    fn string(&mut self) -> Read<String> {
        let mut out = Vec::new();
        self.at += 1;
        loop {
            let Some(b) = self.peek() else {
                return Err("a closing quote was expected");
            };
            self.at += 1;
            match b {
                b'"' => break,
                b'\\' => self.escaped(&mut out)?,
                0..0x20 => return Err("a control character in a text"),
                b => out.push(b),
            }
        }
        // The text came as UTF-8 and only whole characters were put in.
        String::from_utf8(out).map_err(|_| "a text that is not UTF-8")
    }

    fn escaped(&mut self, out: &mut Vec<u8>) -> Read<()> {
        let b = self.peek().ok_or("an escape was cut off")?;
        self.at += 1;
        let plain = match b {
            b'"' | b'\\' | b'/' => b,
            b'b' => 8,
            b'f' => 12,
            b'n' => b'\n',
            b'r' => b'\r',
            b't' => b'\t',
            b'u' => {
                let mut code = self.four()?;
                if (0xd800..0xdc00).contains(&code) {
                    // The second half of a pair must follow.
                    if !self.bytes[self.at..].starts_with(b"\\u") {
                        return Err("half of a surrogate pair");
                    }
                    self.at += 2;
                    let low = self.four()?;
                    if !(0xdc00..0xe000).contains(&low) {
                        return Err("half of a surrogate pair");
                    }
                    code = 0x10000 + ((code - 0xd800) << 10) + (low - 0xdc00);
                }
                let c = char::from_u32(code).ok_or("half of a surrogate pair")?;
                out.extend_from_slice(c.encode_utf8(&mut [0; 4]).as_bytes());
                return Ok(());
            }
            _ => return Err("no such escape"),
        };
        out.push(plain);
        Ok(())
    }

    fn four(&mut self) -> Read<u32> {
        let mut code = 0;
        for _ in 0..4 {
            let digit = self.peek().and_then(|b| char::from(b).to_digit(16));
            code = code * 16 + digit.ok_or("four hexadecimal digits were expected")?;
            self.at += 1;
        }
        Ok(code)
    }
}
