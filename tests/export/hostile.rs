//! Text of a notebook never runs: it is put into titles, prose, links, headings, remarks, keys,
//! texts and messages, and every export is looked through for what it became.

use super::devtools::Browser;
use super::script::open;
use gaugebook::export::{csv, page::page, paste, report::report_page};
use gaugebook::notebook::Notebook;
use gaugebook::report::{self, Options};
use pulldown_cmark::{Event, Parser, Tag};

const HOSTILE: &str = include_str!("hostile.md");

fn hostile() -> Notebook {
    let notebook = open(HOSTILE);
    let messages = report::report(&notebook, Options::default()).messages;
    let errors: Vec<_> = messages
        .iter()
        .filter(|message| message.is_error())
        .collect();
    assert!(errors.is_empty(), "{errors:?}");
    notebook
}

/// The opening tags of an HTML file, outside its style and script.
fn tags(html: &str) -> Vec<String> {
    let mut tags = Vec::new();
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        rest = &rest[at + 1..];
        let end = end_of_tag(rest);
        let tag = rest[..end].to_owned();
        rest = &rest[end..];
        for raw in ["style", "script"] {
            if tag == raw {
                let close = format!("</{raw}>");
                rest = &rest[rest.find(&close).expect("it is closed")..];
            }
        }
        if !tag.starts_with('/') {
            tags.push(tag);
        }
    }
    tags
}

/// Where a tag ends: a `>` inside quotes does not end it.
fn end_of_tag(rest: &str) -> usize {
    let mut quoted = false;
    for (at, sign) in rest.char_indices() {
        match sign {
            '"' => quoted = !quoted,
            '>' if !quoted => return at,
            _ => {}
        }
    }
    rest.len()
}

fn look_through(html: &str, scripts: usize) {
    let tags = tags(html);
    let count = |name: &str| {
        let named = |tag: &&String| tag.split([' ', '/']).next() == Some(name);
        tags.iter().filter(named).count()
    };
    assert_eq!(count("script"), scripts);
    assert_eq!(count("style"), 1);
    for name in [
        "img", "iframe", "object", "embed", "form", "link", "base", "video", "audio", "template",
        "a href",
    ] {
        assert_eq!(count(name), 0, "{name}");
    }
    for tag in &tags {
        // Attributes are ours: none is a handler, and no quote was broken out of.
        let unquoted: String = tag.split('"').step_by(2).collect();
        assert!(!unquoted.contains(" on"), "{tag}");
        assert!(
            !tag.to_ascii_lowercase().contains("=\"javascript:"),
            "{tag}"
        );
        if let Some((_, target)) = tag.split_once("href=\"") {
            let good = ["https://", "http://", "mailto:"]
                .iter()
                .any(|scheme| target.starts_with(scheme));
            assert!(good, "{tag}");
        }
    }
    assert!(html.contains(
        "http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-"
    ));
    assert!(!html.contains("unsafe-inline") && !html.contains("unsafe-eval"));
}

#[test]
fn nothing_of_a_notebook_becomes_markup() {
    let notebook = hostile();
    let report = report_page(&notebook);
    look_through(&report, 0);
    assert!(report.contains("script-src 'none'"));
    assert!(
        report.contains("&lt;script&gt;window.ran = 2&lt;/script&gt;"),
        "HTML in prose is shown as text"
    );
    assert!(report.contains("href=\"https://example.org/a?b=1&amp;c=&quot;2&quot;\""));
    let page = page(&notebook).html;
    look_through(&page, 1);
    let script = &page[page.find("<script>").expect("a script") + 8..];
    let script = &script[..script.find("</script>").expect("its end")];
    assert!(
        !script.contains("<!--") && !script.to_ascii_lowercase().contains("</"),
        "no end of a script in its texts"
    );
    assert_eq!(
        page.matches("<script").count(),
        1,
        "one script, and no text that looks like one"
    );
}

#[test]
fn nothing_of_a_notebook_ends_the_code_of_a_post() {
    let notebook = hostile();
    let post = paste::post(&notebook);
    let lower = post.to_ascii_lowercase();
    assert_eq!(lower.matches("[code]").count(), 2, "{post}");
    assert_eq!(lower.matches("[/code]").count(), 2, "{post}");
    // Outside of code there are no tags but ours.
    let mut outside = String::new();
    for (number, part) in post.split("[code]").enumerate() {
        let part = match number {
            0 => part,
            _ => part.split_once("[/code]").expect("closed").1,
        };
        outside.push_str(part);
    }
    let plain = ["[b]", "[/b]", "[i]", "[/i]"]
        .iter()
        .fold(outside, |text, tag| text.replace(tag, ""));
    assert!(!plain.contains('['), "{plain}");
}

#[test]
fn nothing_of_a_notebook_is_html_or_a_foreign_link_in_markdown() {
    let markdown = paste::markdown(&hostile());
    for event in Parser::new(&markdown) {
        match event {
            Event::Html(html) | Event::InlineHtml(html) => panic!("HTML: {html}\n{markdown}"),
            Event::Start(Tag::Image { dest_url, .. }) => panic!("a picture: {dest_url}"),
            Event::Start(Tag::Link { dest_url, .. }) => {
                let good = dest_url.starts_with("https://") || dest_url.starts_with("mailto:");
                assert!(good, "a link to {dest_url}");
            }
            _ => {}
        }
    }
}

#[test]
fn nothing_of_a_notebook_is_a_formula_in_a_table() {
    for table in csv::tables(&hostile()) {
        for line in table.text.lines() {
            assert!(
                !line.starts_with('=') && !line.contains(",=") && !line.contains(",\"="),
                "{line}"
            );
        }
    }
}

#[test]
fn nothing_of_a_notebook_runs_in_a_browser() {
    let Some(mut browser) = Browser::start() else {
        println!("skipped: no Chromium is installed (apt-get install chromium)");
        return;
    };
    let notebook = hostile();
    for (name, html) in [
        ("report", report_page(&notebook)),
        ("page", page(&notebook).html),
    ] {
        browser.open(&html);
        let ran = browser
            .evaluate("new Promise(done => setTimeout(() => done(String(window.ran)), 200))");
        assert_eq!(ran.as_str(), Some("undefined"), "{name}");
        let foreign = browser.evaluate(
            "[...document.querySelectorAll('*')].filter(one => [...one.attributes].some(a => /^on/i.test(a.name)) || \
               /^(IMG|IFRAME|OBJECT|EMBED|FORM|LINK|BASE)$/.test(one.tagName)).map(one => one.outerHTML.slice(0, 80))",
        );
        assert_eq!(foreign, serde_json::json!([]), "{name}");
        assert!(browser.log.is_empty(), "{name}: {:?}", browser.log);
        let kept = browser.evaluate("document.title");
        assert!(
            kept.as_str()
                .is_some_and(|title| title.starts_with("window.ran=1 & [b]title[/b]")),
            "{kept}"
        );
    }
    browser.evaluate("document.getElementById('copy').click()");
    let post = browser.evaluate("document.getElementById('post').value");
    let post = post.as_str().expect("a post").to_ascii_lowercase();
    assert_eq!(post.matches("[/code]").count(), 2, "{post}");
}
