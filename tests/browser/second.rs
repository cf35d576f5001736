//! What the other engine makes of the same screens: nothing past the side, and pictures to look at in `target/firefox/`.

use crate::driver::Browser;
use crate::site::Site;
use crate::{dist, root, visit};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;

/// A place, and what is there once it stands.
const PLACES: [(&str, &str, &str); 6] = [
    ("bench", "#/", ".pieces svg path"),
    ("brace", "#/brace", "[data-test=setting]"),
    ("splay", "#/two_way_splay", "[data-test=solid] svg path"),
    ("trug", "#/trug", ".whole [data-field]"),
    ("parts", "#/parts", "main"),
    ("shop", "#/shop", ".shop"),
];

/// How far what is drawn stands past the sides, px, and whether the drawing (where there is one) has an area.
const FITS: &str = "const d = document.querySelector('.drawing svg')?.getBoundingClientRect(); \
    return [document.documentElement.scrollWidth - innerWidth, d === undefined || d.width * d.height > 10000]";

#[test]
fn screens_fit_a_phone_in_firefox() {
    let browser = Browser::start_firefox();
    let site = Site::serve(dist(), "");
    let folder = root().join("target/firefox");
    std::fs::create_dir_all(&folder).expect("a folder for the pictures");
    for scheme in ["light", "dark"] {
        browser.light(scheme);
        visit(&browser, &site);
        for (name, place, there) in PLACES {
            browser.run(&format!("location.hash = {place:?};"));
            browser.until(&format!("return document.querySelector({there:?}) !== null"), name);
            for (width, height) in [(360, 740), (320, 640), (844, 390)] {
                browser.screen(width, height);
                browser.settle();
                let fits = browser.run(FITS);
                assert!(fits[0].as_f64() <= Some(0.0), "{name}, {width} by {height}: {fits}");
                assert_eq!(fits[1], true, "{name}, {width} by {height}");
                let picture = STANDARD.decode(browser.picture()).expect("a picture");
                let file = folder.join(format!("{name}-{width}-{scheme}.png"));
                std::fs::write(file, picture).expect("written");
            }
        }
    }
}
