//! A piece handed on and taken in by touch: by a link in a fresh profile, by a square code off the screen, by a file, by
//! another app; nothing is added before a yes, and what is broken harms nothing.

use crate::device::{kept, until_kept};
use crate::{STARTED, dist, visit};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use offsquare_tests::driver::Browser;
use offsquare_tests::picture::{Picture, codes};
use offsquare_tests::site::Site;
use offsquare_work::piece::Shop;
use offsquare_work::save::share;
use serde_json::{Value, json};

fn has(browser: &Browser, selector: &str) {
    browser.until(&format!("return document.querySelector({selector:?}) !== null"), selector);
}

fn press(browser: &Browser, selector: &str) {
    // A tap where a link stood a moment ago would be taken for a second tap of the same.
    std::thread::sleep(std::time::Duration::from_millis(350));
    browser.tap(selector);
}

/// A phone with a trug of its own, on its sheet for sharing.
fn with_a_trug(site: &Site) -> Browser {
    let browser = Browser::start();
    visit(&browser, site);
    browser.go(&format!("{}#/trug", site.address));
    press(&browser, "[data-test=face-parts]");
    has(&browser, "[data-test=part]");
    press(&browser, "[data-test=face-piece]");
    share_sheet(&browser);
    browser
}

fn share_sheet(browser: &Browser) {
    press(browser, "[data-test=share]");
    has(browser, "[data-test=share-link]");
}

fn link_of(browser: &Browser) -> String {
    let link = browser.run("return document.querySelector('[data-test=share-link]').href");
    link.as_str().expect("a link").to_owned()
}

/// How many pieces are kept, *Loose parts* among them.
const PIECES: &str = "(file.bench.work.pieces ?? [0]).length";

/// A fresh profile at an address; the app may have been started there already.
fn fresh(address: &str) -> Browser {
    let browser = Browser::start();
    browser.go(address);
    browser.until(STARTED, "the app to start");
    browser
}

fn add_it(browser: &Browser, name: &str) {
    has(browser, "[data-test=open-add]");
    assert!(browser.text("[data-test=offer]").contains(name), "{}", browser.text("body"));
    let before = kept(browser, PIECES);
    assert_eq!(before, json!(1), "nothing is written before a yes");
    press(browser, "[data-test=open-add]");
    browser.until("return location.hash.startsWith('#/piece/')", "the piece");
    until_kept(browser, &format!("{PIECES} === 2"));
}

#[test]
fn a_link_opens_in_a_fresh_profile_after_a_yes() {
    let site = Site::serve(dist(), "some/folder/");
    let browser = with_a_trug(&site);
    let link = link_of(&browser);
    assert!(link.starts_with(&format!("{}#/open?p=", site.address)), "{link}");
    assert!(link.len() < site.address.len() + 200, "{link}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
    drop(browser);

    let other = fresh(&link);
    has(&other, "[data-test=for-the-app]");
    assert!(other.text("[data-test=offer]").contains("kinds"));
    add_it(&other, "Trug");
    has(&other, "[data-test=about]");
    press(&other, "[data-test=face-parts]");
    has(&other, "[data-test=part]");
    // The way back leads past what was looked at.
    other.run("history.back()");
    other.until("return location.hash === '#/piece/1'", "the piece again");
    press(&other, "[data-test=undo]");
    until_kept(&other, &format!("{PIECES} === 1"));
    assert_eq!(other.complaints(), Vec::<String>::new());
    // Not now: nothing is added.
    other.go("about:blank");
    other.go(&link);
    press(&other, "[data-test=open-leave]");
    other.until("return location.hash === '#/'", "the bench");
    assert_eq!(kept(&other, PIECES), json!(1));
}

/// The other engine: a link from a Chromium opens, is added after a yes, and a link made there opens here.
#[cfg(feature = "firefox")]
#[test]
fn a_link_goes_between_engines() {
    let site = Site::serve(dist(), "");
    let browser = with_a_trug(&site);
    let link = link_of(&browser);
    drop(browser);
    let firefox = Browser::start_firefox();
    firefox.go(&link);
    firefox.until(STARTED, "the app to start");
    add_it(&firefox, "Trug");
    has(&firefox, "[data-test=about]");
    share_sheet(&firefox);
    let back = link_of(&firefox);
    drop(firefox);
    assert_eq!(share::read(&back, &Shop::default()), share::read(&link, &Shop::default()));
}

/// What the screen shows, gray, as the browser itself reads the picture of it.
fn screen(browser: &Browser) -> Picture {
    let shot = browser.devtools("Page.captureScreenshot", json!({"format": "png"}));
    let seen = browser.wait_for(
        "const bytes = Uint8Array.from(atob(args[0]), c => c.charCodeAt(0)); \
         const map = await createImageBitmap(new Blob([bytes], {type: 'image/png'})); \
         const on = new OffscreenCanvas(map.width, map.height).getContext('2d'); on.drawImage(map, 0, 0); \
         const dots = on.getImageData(0, 0, map.width, map.height).data; let out = ''; \
         for (let i = 0; i < dots.length; i += 4) out += String.fromCharCode((dots[i] + dots[i + 1] + dots[i + 2]) / 3); \
         return [map.width, map.height, btoa(out)];",
        &[shot["data"].clone()],
    );
    let side = |v: &Value| v.as_u64().expect("a side") as usize;
    let dots = STANDARD.decode(seen[2].as_str().expect("dots")).expect("base64");
    Picture { wide: side(&seen[0]), high: side(&seen[1]), dots }
}

#[test]
fn the_square_code_is_read_off_the_screen() {
    let site = Site::serve(dist(), "");
    let browser = with_a_trug(&site);
    for scheme in ["light", "dark"] {
        browser.light(scheme);
        press(&browser, "[data-test=share-code]");
        has(&browser, "[data-test=code]");
        browser.settle();
        let seen = codes(&screen(&browser));
        assert_eq!(seen.len(), 1, "{scheme}");
        assert!(seen[0].starts_with(&format!("{}#/open?c=", site.address)), "{}", seen[0]);
        let offer = share::read(&seen[0], &Shop::default()).expect("a piece");
        assert_eq!(offer.parts.len(), 5, "{scheme}");
        press(&browser, "#sheet-close");
        has(&browser, "[data-test=share-link]");
    }
    // As a camera opens it.
    press(&browser, "[data-test=share-code]");
    has(&browser, "[data-test=code]");
    let seen = codes(&screen(&browser));
    assert_eq!(browser.complaints(), Vec::<String>::new());
    drop(browser);
    add_it(&fresh(&seen[0]), "Trug");
}

/// Chooses a file with this text, as a hand does.
fn choose(browser: &Browser, text: &str) {
    has(browser, "[data-test=bring-file]");
    browser.wait_for(
        "const e = document.querySelector('[data-test=bring-file]'); const all = new DataTransfer(); \
         all.items.add(new File([args[0]], 'piece.json', {type: 'application/json'})); e.files = all.files; \
         e.dispatchEvent(new Event('change', {bubbles: true})); return 0;",
        &[json!(text)],
    );
}

/// The text of the file that leaves.
fn file_of(browser: &Browser) -> String {
    browser.run(
        "window.taken = []; const make = URL.createObjectURL; \
         URL.createObjectURL = b => { window.taken.push(b); return make.call(URL, b); }; \
         Object.defineProperty(navigator, 'canShare', {value: undefined});",
    );
    press(browser, "[data-test=share-file]");
    browser.until("return window.taken.length === 1", "the file");
    let text = browser.wait_for("return window.taken[0].text()", &[]);
    text.as_str().expect("a text").to_owned()
}

#[test]
fn a_file_is_handed_on_and_opened_and_broken_ones_harm_nothing() {
    let site = Site::serve(dist(), "");
    let browser = with_a_trug(&site);
    let (text, link) = (file_of(&browser), link_of(&browser));
    assert!(share::read(&text, &Shop::default()).is_ok(), "{text}");
    drop(browser);

    let other = Browser::start();
    visit(&other, &site);
    // None of it asks a server.
    site.stop();
    other.run("location.hash = '#/shop'");
    press(&other, "[data-test=open]");
    for broken in [&text[..text.len() / 2], "{\"offsquare\":4,\"bench\":{}}", "[[[", ""] {
        choose(&other, broken);
        has(&other, "[data-test=open-wrong]");
        other.run("location.hash = '#/shop'");
        press(&other, "[data-test=open]");
        has(&other, "[data-test=bring]");
        assert_eq!(kept(&other, PIECES), json!(1));
    }
    choose(&other, &text);
    add_it(&other, "Trug");
    // Pasted whole, with words around it; cut short.
    for (pasted, there) in [
        (format!("Look: {link} (a trug)"), "[data-test=open-add]"),
        (link[..link.len() - 9].to_owned(), "[data-test=open-wrong]"),
    ] {
        other.run("location.hash = '#/shop'");
        press(&other, "[data-test=open]");
        has(&other, "[data-test=bring-link]");
        other.run(&format!(
            "const e = document.querySelector('[data-test=bring-link]'); e.value = {pasted:?}; \
             e.dispatchEvent(new InputEvent('input', {{bubbles: true}}));"
        ));
        press(&other, "[data-test=bring-look]");
        has(&other, there);
    }
    assert_eq!(other.complaints(), Vec::<String>::new());
}

/// What the system or another app hands to this one: through the service worker, and by the queue of launches.
#[test]
fn other_apps_hand_a_piece_over_without_a_server() {
    let site = Site::serve(dist(), "");
    let browser = with_a_trug(&site);
    let (text, link) = (file_of(&browser), link_of(&browser));
    drop(browser);
    let other = Browser::start();
    other.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": "Object.defineProperty(window, 'launchQueue', {value: {setConsumer(take) { window.launched = take; }}});"}),
    );
    visit(&other, &site);
    other.go(&site.address);
    other.until(STARTED, "the app under its service worker");
    site.stop();
    let post = "const all = new FormData(); \
        if (args[0]) all.append('file', new File([args[0]], 'piece.json', {type: 'application/json'})); \
        if (args[1]) all.append('text', args[1]); \
        const got = await fetch('./share', {method: 'POST', body: all, redirect: 'manual'}); return got.type;";
    for sent in [[json!(text), Value::Null], [Value::Null, json!(format!("Look at this: {link}"))]]
    {
        assert_eq!(other.wait_for(post, &sent), json!("opaqueredirect"));
        other.run("location.hash = '#/open?shared'");
        has(&other, "[data-test=open-add]");
        assert!(other.text("[data-test=offer]").contains("Trug"));
        press(&other, "[data-test=open-leave]");
        // It is handed out once.
        other.run("location.hash = '#/open?shared'");
        has(&other, "[data-test=bring]");
        std::thread::sleep(std::time::Duration::from_millis(300));
        assert_eq!(other.run("return document.querySelector('[data-test=offer]')"), Value::Null);
        other.run("location.hash = '#/'");
    }
    other.wait_for(
        "window.launched({files: [{getFile: async () => new File([args[0]], 'piece.json')}]}); return 0;",
        &[json!(text)],
    );
    add_it(&other, "Trug");
    assert_eq!(other.complaints(), Vec::<String>::new());
}

/// A picture as a camera writes it: noise of 2400 × 1600, whose Exif (tag 0x0112 of CIPA DC-008) says that it stands
/// upright when it is turned by a quarter.
const TAKE: &str = "
    const on = new OffscreenCanvas(2400, 1600); const brush = on.getContext('2d');
    const dots = brush.createImageData(2400, 1600);
    for (let i = 0; i < dots.data.length; i++) dots.data[i] = i % 4 === 3 ? 255 : Math.random() * 255;
    brush.putImageData(dots, 0, 0);
    const plain = new Uint8Array(await (await on.convertToBlob({type: 'image/jpeg'})).arrayBuffer());
    const exif = [0xff, 0xe1, 0, 34, 69, 120, 105, 102, 0, 0, 77, 77, 0, 42, 0, 0, 0, 8,
        0, 1, 1, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0, 0, 0, 0, 0];
    const turned = new File([plain.slice(0, 2), new Uint8Array(exif), plain.slice(2)], 'gate.jpg', {type: 'image/jpeg'});
    const file = args[0] ? new File([args[0]], 'gate.jpg', {type: 'image/jpeg'}) : turned;
    const e = document.querySelector('[data-test=picture-choose]');
    const all = new DataTransfer(); all.items.add(file); e.files = all.files;
    e.dispatchEvent(new Event('change', {bubbles: true})); return file.size;";

/// Every picture in the device's store: its kind, its bytes, its sides.
const KEPT: &str = "
    const base = await new Promise((done, no) => { const r = indexedDB.open('offsquare'); r.onsuccess = () => done(r.result); r.onerror = no; });
    const all = await new Promise((done, no) => { const r = base.transaction('pictures').objectStore('pictures').getAll(); r.onsuccess = () => done(r.result); r.onerror = no; });
    base.close(); const out = [];
    for (const one of all) { const map = await createImageBitmap(new Blob([one.bytes], {type: one.mime})); out.push([one.mime, one.bytes.length, map.width, map.height]); }
    return out;";

#[test]
fn a_picture_is_made_small_turned_upright_shown_and_taken_back() {
    let site = Site::serve(dist(), "");
    let browser = with_a_trug(&site);
    press(&browser, "#sheet-close");
    has(&browser, "[data-test=picture-choose]");
    // What is no picture is said.
    browser.wait_for(TAKE, &[json!("not a picture")]);
    browser.until(
        "return document.querySelector('[data-test=picture-wrong]').textContent.includes('no picture')",
        "a sentence",
    );
    let taken = browser.wait_for(TAKE, &[Value::Null]);
    assert!(taken.as_u64().is_some_and(|n| n > 1_000_000), "{taken}");
    let painted = "return (document.querySelector('.pictures .picture')?.width ?? 0) > 0";
    browser.until(painted, "the picture");
    let kept = browser.wait_for(KEPT, &[]);
    let [mime, bytes, wide, high] = &kept[0].as_array().expect("a picture")[..] else {
        panic!("{kept}")
    };
    assert!([json!("image/webp"), json!("image/jpeg")].contains(mime), "{kept}");
    assert!(bytes.as_u64().is_some_and(|n| n <= 200_000), "{kept}");
    let [wide, high] = [wide, high].map(|side| side.as_u64().expect("a side"));
    assert!(high <= 1_200 && wide * 3 <= high * 2 + 3 && wide * 3 >= high * 2 - 3, "{kept}");
    // It stands on the piece's card, also after a fresh start.
    until_kept(&browser, &format!("{PIECES} === 2"));
    browser.go("about:blank");
    browser.go(&site.address);
    browser.until(STARTED, "the app to start");
    browser.until(
        "return (document.querySelector('[data-test=my-piece] .picture')?.width ?? 0) > 0",
        "the picture on its card",
    );
    press(&browser, "[data-test=my-piece]");
    has(&browser, "[data-test=picture-remove]");
    browser.until(painted, "the picture");
    press(&browser, "[data-test=picture-remove]");
    browser.until("return document.querySelector('.pictures .picture') === null", "it to be gone");
    press(&browser, "[data-test=undo]");
    browser.until(painted, "the picture again");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
