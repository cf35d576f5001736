//! What the page's Content-Security-Policy would block, told before a browser does.

use crate::texts;

#[test]
fn pages_hold_no_inline_script_or_style() {
    let mut pages = 0;
    for (path, text) in texts("www") {
        if !path.ends_with(".html") && !path.ends_with(".svg") {
            continue;
        }
        pages += 1;
        assert!(!text.contains(" style="), "{path}: a style attribute");
        assert!(!text.contains("<style"), "{path}: an inline style sheet");
        for handler in ["onclick=", "onload=", "onerror=", "javascript:"] {
            assert!(!text.contains(handler), "{path}: {handler}");
        }
        for script in text.split("<script").skip(1) {
            let (tag, body) = script.split_once('>').expect("a closed tag");
            assert!(tag.contains(" src="), "{path}: a script without src");
            assert!(body.starts_with("</script>"), "{path}: an inline script");
        }
    }
    assert!(pages > 0);
}

#[test]
fn the_page_states_the_policy_and_only_relative_addresses() {
    for (path, text) in texts("www") {
        if path.ends_with("index.html") {
            assert!(text.contains(
                "http-equiv=\"Content-Security-Policy\" content=\"default-src 'self'; script-src 'self' 'wasm-unsafe-eval'"
            ));
        }
        // The namespace of SVG is a name, not an address.
        let text = text.replace("\"http://www.w3.org/2000/svg\"", "");
        for away in ["src=\"/", "href=\"/", "\"http:", "\"https:", "url(http", "url(/"] {
            assert!(!text.contains(away), "{path}: {away}");
        }
    }
}

/// Yew writes `style="…"` as an attribute, which the policy blocks; `~style=` sets the property.
#[test]
fn screens_set_no_style_attribute() {
    for (path, text) in texts("src/app") {
        let mut before = ' ';
        for (at, _) in text.match_indices("style=") {
            before = text[..at].chars().next_back().unwrap_or(before);
            let longer = before == '~' || before == '_' || before.is_alphanumeric();
            assert!(longer, "{path}: {}", text[at..].lines().next().unwrap_or_default());
        }
    }
}
