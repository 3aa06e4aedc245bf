//! The frame of a file: head, policy, style and script around what it shows.

use super::{base64, sha256};
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// What a file is made of.
pub struct Frame<'f> {
    /// Its title, as plain text.
    pub title: &'f str,
    /// Its style sheet; ours, never a notebook's.
    pub style: &'f str,
    /// Its script; empty for a file without one.
    pub script: &'f str,
    /// What it shows.
    pub body: Markup,
}

/// A whole file. Its policy allows the one style sheet and the one script in it by their digests,
/// and nothing else: no network, no frames, no forms, no other script.
pub fn frame(frame: Frame<'_>) -> String {
    let policy = policy(frame.style, frame.script);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy);
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="referrer" content="no-referrer";
                meta name="generator" content="gaugebook";
                title { (frame.title) }
                style { (PreEscaped(frame.style)) }
            }
            body {
                (frame.body)
                @if !frame.script.is_empty() {
                    script { (PreEscaped(frame.script)) }
                }
            }
        }
    };
    page.into_string()
}

fn policy(style: &str, script: &str) -> String {
    let source = |text: &str| match text.is_empty() {
        true => "'none'".to_owned(),
        false => format!("'sha256-{}'", base64(&sha256(text.as_bytes()))),
    };
    format!(
        "default-src 'none'; style-src {}; script-src {}; base-uri 'none'; form-action 'none'",
        source(style),
        source(script)
    )
}
