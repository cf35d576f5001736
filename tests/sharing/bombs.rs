//! Small texts that would become large: refused, or read, within a tenth of a second and 50 MB.

use crate::read;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use offsquare_tests::dice::Dice;
use offsquare_units::Unit;
use offsquare_units::kept::Kept as _;
use offsquare_work::piece::Draft;
use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;
use std::time::{Duration, Instant};

/// Counts what this thread holds, and the most that it held.
struct Counted;

thread_local! {
    static HELD: Cell<i64> = const { Cell::new(0) };
    static MOST: Cell<i64> = const { Cell::new(0) };
}

fn count(bytes: i64) {
    let now = HELD.try_with(|held| {
        held.set(held.get() + bytes);
        held.get()
    });
    // A thread that ends counts no more.
    let _ = MOST.try_with(|most| most.set(most.get().max(now.unwrap_or_default())));
}

// SAFETY: the system's allocator does all of it.
unsafe impl GlobalAlloc for Counted {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        count(layout.size() as i64);
        unsafe { System.alloc(layout) }
    }
    unsafe fn dealloc(&self, place: *mut u8, layout: Layout) {
        count(-(layout.size() as i64));
        unsafe { System.dealloc(place, layout) }
    }
}

#[global_allocator]
static ALLOCATOR: Counted = Counted;

/// The time that this thread has had a processor; where the system does not tell, the time of the clock.
fn worked(since: Instant) -> Duration {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let ns = told.and_then(|t| t.split(' ').next()?.parse().ok());
    ns.map_or_else(|| since.elapsed(), Duration::from_nanos)
}

/// Reads it; how long that takes, and how many bytes it holds at most.
fn measured(text: &str) -> (Result<usize, String>, Duration, i64) {
    let start = Instant::now();
    let before = worked(start);
    let held = HELD.get();
    MOST.set(held);
    let offer = read(text).map(|o| o.parts.len());
    (offer, worked(start).saturating_sub(before), MOST.get() - held)
}

/// A link to any text, as another program might make it: raw deflate, and a check sum by its definition.
fn link(text: &[u8]) -> String {
    let mut sum: u32 = 0x811c_9dc5;
    for byte in text {
        sum = (sum ^ u32::from(*byte)).wrapping_mul(0x0100_0193);
    }
    let mut bytes = sum.to_be_bytes().to_vec();
    bytes.extend(miniz_oxide::deflate::compress_to_vec(text, 9));
    format!("#/open?p={}", URL_SAFE_NO_PAD.encode(bytes))
}

fn piece(inner: &str) -> String {
    format!(r#"{{"offsquare":4,"piece":{{{inner}}}}}"#)
}

fn many(one: &str, times: usize) -> String {
    vec![one; times].join(",")
}

/// As many layouts as are read, all of them in turn, as each starts.
fn costly() -> String {
    let of = |n: usize| {
        let (layout, form) = Dice::form(n);
        let draft = Draft::fresh(layout, form, Unit::Inch);
        format!(r#"{{"id":{n},"piece":1,"draft":{}}}"#, draft.keep())
    };
    (0..200).map(of).collect::<Vec<_>>().join(",")
}

#[test]
fn another_hands_link_is_read() {
    let (offer, ..) =
        measured(&link(piece(r#""pieces":[{"id":1}],"parts":[{"id":1,"piece":1}]"#).as_bytes()));
    assert_eq!(offer, Ok(1));
}

#[test]
fn bombs_take_little_time_and_room() {
    let one = r#""pieces":[{"id":1}]"#;
    let source = |layout: &str, form: &str| {
        format!(
            r#"{{"id":1,"piece":1,"draft":{{"layout":"{layout}","form":"{form}","typed":[]}}}}"#
        )
    };
    let texts: Vec<(&str, Vec<u8>)> = vec![
        ("zeros", vec![0; 20_000_000]),
        ("blanks", format!("{{{}", " ".repeat(20_000_000)).into_bytes()),
        ("deep", format!("{{\"offsquare\":4,\"piece\":{}", "[".repeat(900_000)).into_bytes()),
        ("commas", format!("{{\"offsquare\":[{}]}}", many("0", 450_000)).into_bytes()),
        ("objects", piece(&format!("{one},\"parts\":[{}]", many("{}", 25_000))).into_bytes()),
        (
            "parts",
            piece(&format!("{one},\"parts\":[{}]", many(r#"{"piece":1}"#, 25_000))).into_bytes(),
        ),
        (
            "overrides",
            piece(&format!(
                r#""pieces":[{{"id":1,"overrides":[{}]}}]"#,
                many(r#"{"part":"x","count":1}"#, 19_000)
            ))
            .into_bytes(),
        ),
        (
            "names",
            piece(&format!(r#""pieces":[{{"id":1,"name":"{}"}}]"#, "\\u202e".repeat(150_000)))
                .into_bytes(),
        ),
        (
            "members",
            piece(&format!(
                "{one},{}",
                (0..50_000).map(|i| format!("\"k{i}\":0")).collect::<Vec<_>>().join(",")
            ))
            .into_bytes(),
        ),
        (
            "sources",
            piece(&format!("{one},\"sources\":[{}]", many(&source("brace", "single"), 10_000)))
                .into_bytes(),
        ),
        ("costly", piece(&format!("{one},\"sources\":[{}]", costly())).into_bytes()),
        (
            "pieces",
            piece(&format!(
                "\"pieces\":[{}]",
                (0..20_000).map(|i| format!("{{\"id\":{i}}}")).collect::<Vec<_>>().join(",")
            ))
            .into_bytes(),
        ),
        (
            "stock",
            piece(&format!(
                "{one},\"rack\":{{\"stocks\":[{}]}}",
                many(r#"{"id":1,"thickness":1,"width":1}"#, 12_000)
            ))
            .into_bytes(),
        ),
    ];
    for (name, text) in texts {
        for (how, text) in
            [("link", link(&text)), ("file", String::from_utf8_lossy(&text).into_owned())]
        {
            let (offer, time, room) = measured(&text);
            println!(
                "{name} {how}: {} letters, {time:?}, {:.1} MB: {:?}",
                text.len(),
                room as f64 / 1e6,
                offer.map_err(|e| e[..e.len().min(60)].to_owned())
            );
            assert!(room < 50_000_000, "{name} {how}: {room} bytes");
            assert!(time < Duration::from_millis(100), "{name} {how}: {time:?}");
        }
    }
}
