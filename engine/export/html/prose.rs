//! Prose of a notebook as HTML. CommonMark comes in; what comes out holds text, emphasis, lists,
//! quotes, code and plain links. HTML in the prose is shown as the text it is.

use maud::{Markup, PreEscaped, html};
use pulldown_cmark::{CowStr, Event, Options, Parser, Tag, TagEnd};

/// Links may go to these.
const SCHEMES: [&str; 3] = ["https://", "http://", "mailto:"];

/// A run of prose. Its headings are `lower` levels lower than written.
pub fn prose(text: &str, lower: u8) -> Markup {
    let mut writer = Writer {
        lower,
        ..Writer::default()
    };
    for event in Parser::new_ext(text, Options::empty()) {
        writer.event(event);
    }
    writer.close_all();
    PreEscaped(writer.out)
}

/// The words of a run of prose, without any markup.
pub fn inline_text(text: &str) -> String {
    let mut words = String::new();
    for event in Parser::new_ext(text, Options::empty()) {
        match event {
            Event::Text(part) | Event::Code(part) | Event::Html(part) | Event::InlineHtml(part) => {
                words.push_str(&part);
            }
            Event::SoftBreak | Event::HardBreak | Event::End(_) => words.push(' '),
            _ => {}
        }
    }
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[derive(Default)]
struct Writer {
    out: String,
    lower: u8,
    /// The tags that are open, innermost last.
    open: Vec<String>,
    /// Within an image nothing but its words is shown.
    images: usize,
}

impl Writer {
    fn event(&mut self, event: Event<'_>) {
        match event {
            Event::Start(tag) => self.start(tag),
            Event::End(end) => self.end(end),
            Event::Text(text) | Event::Html(text) | Event::InlineHtml(text) => self.text(&text),
            Event::Code(text) => self.push(html! { code { (&*text) } }),
            Event::SoftBreak => self.out.push('\n'),
            Event::HardBreak => self.push(html! { br; }),
            Event::Rule => self.push(html! { hr; }),
            _ => {}
        }
    }

    fn push(&mut self, markup: Markup) {
        self.out.push_str(&markup.0);
    }

    fn text(&mut self, text: &str) {
        self.push(html! { (text) });
    }

    fn begin(&mut self, name: &str) {
        self.out.push_str(&format!("<{name}>"));
        self.open.push(name.to_owned());
    }

    fn finish(&mut self) {
        if let Some(name) = self.open.pop().filter(|name| !name.is_empty()) {
            self.out.push_str(&format!("</{name}>"));
        }
    }

    fn close_all(&mut self) {
        while !self.open.is_empty() {
            self.finish();
        }
    }

    fn start(&mut self, tag: Tag<'_>) {
        match tag {
            Tag::Paragraph => self.begin("p"),
            Tag::Heading { level, .. } => {
                let level = (level as u8 + self.lower).min(6);
                self.begin(&format!("h{level}"));
            }
            Tag::BlockQuote(_) => self.begin("blockquote"),
            Tag::CodeBlock(_) => {
                self.begin("pre");
            }
            Tag::List(Some(first)) => {
                self.out.push_str(&format!("<ol start=\"{first}\">"));
                self.open.push("ol".to_owned());
            }
            Tag::List(None) => self.begin("ul"),
            Tag::Item => self.begin("li"),
            Tag::Emphasis => self.begin("em"),
            Tag::Strong => self.begin("strong"),
            Tag::Link { dest_url, .. } => self.link(&dest_url),
            Tag::Image { .. } => {
                self.images += 1;
                self.open.push(String::new());
            }
            // HTML blocks and what is not CommonMark: their text alone is shown.
            Tag::HtmlBlock => self.begin("p"),
            _ => self.open.push(String::new()),
        }
    }

    fn end(&mut self, end: TagEnd) {
        if matches!(end, TagEnd::Image) {
            self.images = self.images.saturating_sub(1);
        }
        self.finish();
    }

    /// A link to the web or to somebody; any other is its words alone.
    fn link(&mut self, target: &CowStr<'_>) {
        let lower = target.to_ascii_lowercase();
        let plain = SCHEMES.iter().any(|scheme| lower.starts_with(scheme))
            && !target
                .chars()
                .any(|sign| sign.is_control() || sign.is_whitespace());
        if plain {
            let opening = html! { a href=(&**target) rel="noopener noreferrer nofollow" {} };
            self.out.push_str(opening.0.trim_end_matches("</a>"));
            self.open.push("a".to_owned());
        } else {
            self.open.push(String::new());
        }
    }
}
