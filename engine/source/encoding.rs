//! From the bytes of a file to text: UTF-8 of a bearable length, or one message that says what is
//! wrong with it. Reads no files, and guesses no other encodings.

use super::{Code, Diagnostic, MOST_BYTES, Span};

/// The text of a file's bytes.
#[allow(
    clippy::result_large_err,
    reason = "made once for a document, and shown at once"
)]
pub(super) fn decode(bytes: Vec<u8>) -> Result<String, Diagnostic> {
    if bytes.len() > MOST_BYTES {
        return Err(refuse_length(bytes.len(), Span::default()));
    }
    String::from_utf8(bytes).map_err(|error| {
        let valid = error.utf8_error().valid_up_to();
        refuse_encoding(error.as_bytes(), valid)
    })
}

/// The message for a document that is longer than the program reads.
pub(super) fn refuse_length(length: usize, place: Span) -> Diagnostic {
    let megabytes = |bytes: usize| bytes / 1_000_000;
    let message = format!("this document is {} MB long", megabytes(length));
    Diagnostic::error(Code::TooLong, place, message)
        .expected(format!("at most {} MB", megabytes(MOST_BYTES)))
        .repair_with(
            "use \"part.md\"",
            "split it into several notebooks; one can use the cells of another",
        )
}

/// The message for bytes that are no UTF-8 from `valid` on.
fn refuse_encoding(bytes: &[u8], valid: usize) -> Diagnostic {
    let place = Span::new(valid, valid + 1);
    let message = if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        "this file is not UTF-8 text: it was saved as UTF-16".to_owned()
    } else {
        let readable = String::from_utf8_lossy(bytes.get(..valid).unwrap_or_default());
        let (line, column) = end_of(&readable);
        format!("this file is not UTF-8 text: no character at line {line}, column {column}")
    };
    Diagnostic::error(Code::Encoding, place, message)
        .label("no character of UTF-8 text")
        .expected("a text file saved as UTF-8")
        .repair_with("save it as UTF-8", "in the editor it was written with")
}

/// Line and column behind the last character of a text, from 1.
fn end_of(text: &str) -> (usize, usize) {
    let line = text.matches('\n').count() + 1;
    let last = text.rsplit('\n').next().unwrap_or_default();
    let last = last
        .strip_prefix(super::lines::BYTE_ORDER_MARK)
        .unwrap_or(last);
    (line, last.chars().count() + 1)
}
