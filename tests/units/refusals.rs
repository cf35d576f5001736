//! What is refused, in the words that a person reads. The sentences are the specification here: they
//! are written down by hand.

use offsquare_units::{ParseError, Unit, parse_angle, parse_length};

#[track_caller]
fn says(text: &str, sentence: &str) {
    match parse_length(text, Unit::Inch) {
        Ok(typed) => panic!("{text} was read as {typed:?}"),
        Err(error) => assert_eq!(error.to_string(), sentence, "{text}"),
    }
}

#[test]
fn nothing_typed() {
    for text in ["", " ", "\t\n", "\u{200b}", "\u{a0}"] {
        says(text, "Type a length, such as 23 5/8 or 600 mm.");
    }
    let feet = parse_length("", Unit::FeetInches).unwrap_err();
    assert_eq!(feet.to_string(), "Type a length, such as 1' 11 5/8\" or 600 mm.");
    let metric = parse_length("", Unit::Millimeter).unwrap_err();
    assert_eq!(metric.to_string(), "Type a length, such as 600 or 23 5/8 in.");
}

/// What stands on either side of the gap is named, an “and” between them is not.
#[test]
fn two_sizes_without_a_sign() {
    says("12 mm and 3 ft", "Something is missing between “mm” and “3”. Put + - × or ÷ there.");
}

#[test]
fn fractions_that_are_none() {
    let zero = "A fraction cannot have 0 below the line. Write it as in 1/2.";
    for text in ["1/0", "23 1/0", "23-1/0", "0/0", "¹⁄₀", "5 + 1/0"] {
        says(text, zero);
    }
    says("3/", "A number is missing after “/”.");
    says("23 5/", "Something is missing between “23” and “5”. Put + - × or ÷ there.");
    says("/4", "A number is missing before “/”.");
    says("23 5 / 8", "A fraction has no spaces inside. Type 23 5/8.");
    says("23 5/ 8", "A fraction has no spaces inside. Type 23 5/8.");
    says("23 9/8", "9/8 is not less than 1, so it cannot follow 23. Check it, or type 23 + 9/8.");
    says("23 8/8", "8/8 is not less than 1, so it cannot follow 23. Check it, or type 23 + 8/8.");
    let twice = "Two slashes in a row can be read two ways. Put spaces around the one that divides, as in 3/4 / 2.";
    for text in ["1/2/3", "23 1/2/3", "(9)/3/2", "9'/3/2", "4.5/3/2", "½/2/3"] {
        says(text, twice);
    }
    says("²", "“²” does not belong in a length. Type it as 23 5/8 or 600 mm.");
    says("⁵⁄", "A number is missing after “/”.");
}

#[test]
fn signs_alone() {
    for sign in ["+", "-", "*", "/", "×", "÷"] {
        assert!(parse_length(sign, Unit::Inch).is_err());
    }
    says("+", "A number is missing after “+”.");
    says("-", "A number is missing after “-”.");
    says("*", "A number is missing before “*”.");
    says("33 -", "A number is missing after “-”.");
    says("33 - ", "A number is missing after “-”.");
    says("33 +", "A number is missing after “+”.");
    says("33 * * 2", "A number is missing after “*”.");
    says("33 + + 2", "A number is missing after “+”.");
    says("* 33", "A number is missing before “*”.");
    says("5 ÷", "A number is missing after “÷”.");
}

#[test]
fn a_minus_without_its_spaces() {
    let minus =
        "A minus needs a space on both sides, as in 33 - 2. Without them, 23-5/8 is 23 and 5/8.";
    for text in [
        "33-2",
        "33 -2",
        "33- 2",
        "33−2",
        "5-1/2-1/4",
        "5/8-1/2",
        "5 in-3 mm",
        "(5)-2",
        "5--2",
        "23.5-1/2",
    ] {
        says(text, minus);
    }
}

#[test]
fn words_and_signs_that_mean_nothing_here() {
    says("abc", "“abc” is not a unit of a length. Use in, ft, yd, mm, cm or m.");
    says("5 kg", "“kg” is not a unit of a length. Use in, ft, yd, mm, cm or m.");
    says("NaN", "“NaN” is not a unit of a length. Use in, ft, yd, mm, cm or m.");
    says("inf", "“inf” is not a unit of a length. Use in, ft, yd, mm, cm or m.");
    says("2 x 4", "One size here, not two. For times, use × or *, as in 2 * 3.");
    says("2x4", "One size here, not two. For times, use × or *, as in 2 * 3.");
    says(
        "23 5/8 in strong",
        "Strong and shy are not sizes. Type the fraction alone, or a finer one.",
    );
    says("5 @", "“@” does not belong in a length. Type it as 23 5/8 or 600 mm.");
    says("45°", "“°” does not belong in a length. Type it as 23 5/8 or 600 mm.");
    says("$5", "“$” does not belong in a length. Type it as 23 5/8 or 600 mm.");
    says(
        "5\u{7}",
        "There is a sign here that cannot be shown. Type a length, such as 23 5/8 or 600 mm.",
    );
    says("in", "A number is missing before “in”. Type it as 23 5/8 or 600 mm.");
    says("\"", "A number is missing before “\"”. Type it as 23 5/8 or 600 mm.");
    says(
        "supercalifragilistic",
        "“supercalifragili…” is not a unit of a length. Use in, ft, yd, mm, cm or m.",
    );
}

#[test]
fn two_values_and_nothing_between() {
    says("23 5", "Something is missing between “23” and “5”. Put + - × or ÷ there.");
    says("5 mm 3", "Something is missing between “mm” and “3”. Put + - × or ÷ there.");
    says("5' 3'", "Something is missing between “'” and “3”. Put + - × or ÷ there.");
    says("2 (3)", "Something is missing between “2” and “(”. Put + - × or ÷ there.");
    says("23.5 5/8", "Something is missing between “23.5” and “5”. Put + - × or ÷ there.");
    says("5 in in", "Something is missing between “in” and “in”. Put + - × or ÷ there.");
}

#[test]
fn numbers_that_are_none() {
    says("1.2.3", "“1.2.3” is not a number. Type it as 23 5/8 or 600 mm.");
    says("5,", "“5,” is not a number. Type it as 23 5/8 or 600 mm.");
    says("1,2,3", "“1,2,3” is not a number. Type it as 23 5/8 or 600 mm.");
    says("1.234,5", "“1.234,5” is not a number. Type it as 23 5/8 or 600 mm.");
    says("23,625", "“23,625” can mean 23.625 or 23625. Type it without the comma.");
    says(".", "“.” does not belong in a length. Type it as 23 5/8 or 600 mm.");
}

#[test]
fn parentheses() {
    says("(5", "A closing “)” is missing.");
    says("(", "A closing “)” is missing.");
    says("((5) + 2", "A closing “)” is missing.");
    says("5)", "This “)” has no “(” before it.");
    says(")", "This “)” has no “(” before it.");
    says("()", "There is nothing between “(” and “)”.");
    says("5 + ()", "There is nothing between “(” and “)”.");
    says(
        "(5 in) mm",
        "What stands between “(” and “)” has a unit already. Leave out the one after it.",
    );
    let deep = format!("{}5{}", "(".repeat(17), ")".repeat(17));
    says(&deep, "There are too many “(” inside one another.");
    let allowed = format!("{}5{}", "(".repeat(16), ")".repeat(16));
    assert!(parse_length(&allowed, Unit::Inch).is_ok());
}

#[test]
fn results_that_are_no_length() {
    says("5 in * 3 in", "A length times a length is an area. Use a number without a unit.");
    says(
        "6 ft / 2 ft",
        "That comes to a plain number, not to a length. Divide by a number without a unit.",
    );
    says("6 / 2 ft", "A number cannot be divided by a length. Divide by a number without a unit.");
    says("5 / 0", "Nothing can be divided by 0. Use another number.");
    says("5 / (3 - 3)", "Nothing can be divided by 0. Use another number.");
    says("5 ft ÷ 0", "Nothing can be divided by 0. Use another number.");
}

#[test]
fn sizes_without_measure() {
    let large = "That is more than 10,000 ft (3,048 m). Check the number.";
    for text in [
        "1e308",
        "1e19",
        "9e999999999",
        "120000.001",
        "10001 ft",
        "3048.1 m",
        "-1e308",
        "99999999999999999999999999",
        "100000 * 100000",
        "999999999999999999 ft",
    ] {
        says(text, large);
    }
    let metric = parse_length("1e308", Unit::Millimeter).unwrap_err();
    assert_eq!(metric.to_string(), "That is more than 3,048 m (10,000 ft). Check the number.");
    for text in ["10000 ft", "3048 m", "-120000", "0e999"] {
        assert!(parse_length(text, Unit::Inch).is_ok(), "{text}");
    }
    says("1e-300", "That has more digits than can be worked with. Shorten the long numbers.");
    says(
        "0.123456789123456789 * 0.123456789123456789 * 0.123456789123456789",
        "That has more digits than can be worked with. Shorten the long numbers.",
    );
    says(&"1".repeat(201), "That is too much text for a length. Use at most 200 characters.");
}

#[test]
fn angles() {
    let says = |text: &str| -> String {
        parse_angle(text).map_err(|e: ParseError| e.to_string()).unwrap_err()
    };
    assert_eq!(says(""), "Type an angle, such as 34.5 or 34 1/2.");
    assert_eq!(says("34 in"), "“in” is not a unit of an angle. Use ° or deg.");
    assert_eq!(says("400"), "That is more than 360°. Check the number.");
    assert_eq!(says("1e308"), "That is more than 360°. Check the number.");
    assert_eq!(says("34 1/0"), "A fraction cannot have 0 below the line. Write it as in 1/2.");
    assert_eq!(
        says("5° * 5°"),
        "An angle cannot be multiplied by an angle. Use a number without a unit."
    );
    assert_eq!(
        says("90-34"),
        "A minus needs a space on both sides, as in 33 - 2. Without them, 23-5/8 is 23 and 5/8."
    );
}
