//! Rows from a spreadsheet: understood whole, or handed back with the reason.

use offsquare_units::{Length, Unit};
use offsquare_work::cutlist::{Entry, paste};
use offsquare_work::rack::Rack;

fn read(text: &str) -> offsquare_work::cutlist::Pasted {
    paste(text, &Rack::default(), Unit::Inch)
}

fn sizes(entries: &[Entry]) -> Vec<(String, u32, f64)> {
    entries.iter().map(|e| (e.name.clone(), e.count, e.length.0)).collect()
}

/// Three separators, header or none, columns in any order: the same three parts.
#[test]
fn the_same_parts_from_every_shape_of_table() {
    let wanted = vec![
        ("Stile".to_owned(), 2, 44.0),
        ("Rail".to_owned(), 3, 27.5),
        ("Slat, long".to_owned(), 10, 33.0),
    ];
    for text in [
        "Stile\t2\t44\nRail\t3\t27 1/2\nSlat, long\t10\t2' 9\"",
        "Qty;Length;Part\n2;44;Stile\n3;27-1/2;Rail\n10;33;\"Slat, long\"",
        "name,quantity,length\nStile,2,44 in\nRail,3,27.5\n\"Slat, long\",10,\"33\"\"\"\n",
        "Length (mm)\tPart\tPcs\r\n1117.6\tStile\t2\r\n698.5\tRail\t3\r\n838.2\tSlat, long\t10\r\n",
        "2\tStile\t44\n\n3\tRail\t55 / 2\n10\tSlat, long\t30 + 3",
    ] {
        let out = read(text);
        assert_eq!(out.skipped, vec![], "{text}");
        let close = sizes(&out.entries);
        assert_eq!(close.len(), wanted.len(), "{text}");
        for (a, b) in close.iter().zip(&wanted) {
            assert_eq!((&a.0, a.1), (&b.0, b.1), "{text}");
            assert!((a.2 - b.2).abs() < 1e-9, "{text}: {} {}", a.2, b.2);
        }
    }
}

/// Sizes of a section pick its stock from the rack, where it has one: 2 1/2 by 3/4 in is the 1×3.
#[test]
fn a_row_with_a_section_finds_its_stock() {
    let out =
        read("part,qty,length,width,thickness\nslat,3,20,2 1/2,3/4\npost,1,30,11,5\nrail,2,25,,");
    assert_eq!(out.skipped, vec![]);
    let rack = Rack::default();
    let found: Vec<Option<&str>> =
        out.entries.iter().map(|e| rack.stock_of(e.stock).map(|s| s.name.as_str())).collect();
    assert_eq!(found, [Some("1×3 pine"), None, None]);
}

/// Every line that is not understood comes back as it was, with its number and a reason; the rest is read.
#[test]
fn nothing_is_dropped_silently() {
    let text = "Part\tQty\tLength\tStock\tLeft end\n\
        Good\t1\t12\t1x3 pine\t45\n\
        Letters\t1\tlong\t\t\n\
        No length\t1\t\t\t\n\
        Zero\t1\t0\t\t\n\
        Fraction\t1\t3/\t\t\n\
        Count\t1.5\t12\t\t\n\
        None\t0\t12\t\t\n\
        Steep\t1\t12\t\t89\n\
        Oak\t1\t12\toak board\t\n\
        More\t1\t12\t\t\t\tcells\n\
        Also good\t2\t7 1/4\t1×2 pine\t-22.5\n";
    let out = read(text);
    let names: Vec<&str> = out.entries.iter().map(|e| e.name.as_str()).collect();
    assert_eq!(names, ["Good", "Also good"]);
    assert_eq!(out.entries[0].left.miter, 45.0);
    assert_eq!(out.entries[1].left.miter, -22.5);
    assert_eq!(out.entries[0].stock, Some(2));
    let lines: Vec<usize> = out.skipped.iter().map(|s| s.line).collect();
    assert_eq!(lines, [3, 4, 5, 6, 7, 8, 9, 10, 11]);
    let kept: Vec<&str> = text.lines().take(1).chain(text.lines().skip(2).take(9)).collect();
    assert_eq!(out.left_over(), kept.join("\n"));
    for s in &out.skipped {
        assert!(s.why.ends_with('.') && s.why.len() > 15, "{s:?}");
    }
    // Put right under the same header, it is read.
    let mended = out.left_over().replace("\tlong\t", "\t9 1/2\t");
    assert_eq!(sizes(&read(&mended).entries), [("Letters".to_owned(), 1, 9.5)]);
}

/// Unknown columns are said; a header in other words is found.
#[test]
fn columns_that_are_not_known_are_named() {
    let out =
        read("Description,Supplier,No.,Finished length,Notes\nRail,yard,4,20,\"dry, straight\"\n");
    assert_eq!(sizes(&out.entries), [("Rail".to_owned(), 4, 20.0)]);
    assert_eq!(out.entries[0].note, "dry, straight");
    assert_eq!(out.said.len(), 1);
    assert!(out.said[0].contains("Supplier"), "{:?}", out.said);
}

/// Every text gives parts and skipped lines that add up, and no panic.
#[test]
fn hostile_text_is_read_line_by_line() {
    let mut seed = 7u64;
    let mut next = move || {
        seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (seed >> 33) as usize
    };
    let bits = [
        "12", "1/0", "\t", ";", ",", "\"", "\n", "Rail", "3 1/2", "-4", "length", "qty", "1e308",
        "é", "\u{2033}", "mm", "' ", "\"\"", "(", "x", "0",
    ];
    for _ in 0..3000 {
        let text: String = (0..next() % 40).map(|_| bits[next() % bits.len()]).collect();
        let out = read(&text);
        let lines = text.lines().filter(|l| !l.trim().is_empty()).count();
        let seen = out.entries.len() + out.skipped.len();
        assert!(seen == lines || seen + 1 == lines, "{text:?}: {out:?}");
        for e in &out.entries {
            assert!(e.length > Length::ZERO && e.length.is_finite() && e.count > 0, "{text:?}");
        }
    }
}
