//! The core's own JSON against a general-purpose library's (serde_json): the same texts are taken and refused, the same
//! values come out, to the bit.

use offsquare_core::json;

#[test]
fn the_same_texts_are_taken_and_refused() {
    let deep = |n: usize| "[".repeat(n) + &"]".repeat(n);
    let texts = [
        "",
        " ",
        "null",
        "nul",
        "true",
        "false ",
        "tru",
        "0",
        "-0",
        "01",
        "-",
        "1.",
        ".5",
        "1e",
        "1e+",
        "1E5",
        "1e-5",
        "1e400",
        "-1e400",
        "1e-400",
        "123456789012345678901234567890",
        "9223372036854775807",
        "[]",
        "[,]",
        "[1,]",
        "[1 2]",
        "[1,2",
        "{}",
        "{\"a\":1}",
        "{\"a\":1,}",
        "{a:1}",
        "{\"a\" 1}",
        "{\"a\":1 \"b\":2}",
        "{\"a\":1}x",
        "\"\"",
        "\"",
        "\"\\",
        "\"\\x\"",
        "\"\\u00e9\"",
        "\"\\u12\"",
        "\"\\ud83d\\ude00\"",
        "\"\\ud83d\"",
        "\"\\ud83dx\"",
        "\"\\ud83d\\u0041\"",
        "\"\\udc00\"",
        "\"tab\there\"",
        "\"\\b\\f\\n\\r\\t\\/\\\\\\\"\"",
        "\"2\u{20} 1/2\u{2033}\"",
        "\u{feff}1",
        "{\"a\":{\"b\":[1,[2,{\"c\":null}]]}}",
        "NaN",
        "Infinity",
        "+1",
        "{\"b\":1,\"a\":2,\"b\":3}",
        "\u{0}",
        "[1\u{a0}]",
    ];
    let (deep_enough, too_deep) = (deep(100), deep(200));
    let mut taken = 0;
    for text in texts
        .into_iter()
        .chain([deep_enough.as_str(), too_deep.as_str()])
    {
        let other = serde_json::from_str::<serde_json::Value>(text);
        match (json::read(text), other) {
            (Ok(own), Ok(other)) => {
                taken += 1;
                let again: serde_json::Value =
                    serde_json::from_str(&own.to_string()).expect("own text");
                // Whole numbers past i64 become the nearest f64.
                let same =
                    again == other || (again.as_f64() == other.as_f64() && other.is_number());
                assert!(same, "{text:?}: {again} and {other}");
            }
            (Err(_), Err(_)) => {}
            (own, other) => panic!("{text:?}: {own:?} and {other:?}"),
        }
    }
    assert!((25..40).contains(&taken), "{taken}");
}

#[test]
fn numbers_come_back_to_the_bit() {
    let mut x = 0x9e37_79b9_7f4a_7c15_u64;
    for _ in 0..20_000 {
        x ^= x << 13;
        x ^= x >> 7;
        x ^= x << 17;
        for n in [
            f64::from_bits(x),
            (x >> 11) as f64 / 1e9,
            (x % 4096) as f64 / 64.0,
        ] {
            if !n.is_finite() {
                continue;
            }
            let text = json::Value::Number(n).to_string();
            let own = json::read(&text).expect("own text").as_f64();
            let other: f64 = serde_json::from_str(&text).expect("own text");
            assert_eq!(own.map(f64::to_bits), Some(n.to_bits()), "{text}");
            assert_eq!(other.to_bits(), n.to_bits(), "{text}");
        }
    }
}

#[test]
fn it_says_where_a_text_is_wrong() {
    let said = |text: &str| json::read(text).expect_err("not JSON").to_string();
    assert_eq!(said("[1,]"), "a value was expected at line 1 column 4");
    assert_eq!(
        said("{\n  \"a\" 1\n}"),
        "a colon was expected at line 2 column 7"
    );
}
