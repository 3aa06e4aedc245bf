//! What holds for every text and every span.

use gaugebook::source::{
    Code, Diagnostic, Document, Lines, Piece, Severity, SourceText, Span, Style, render,
};
use proptest::prelude::*;

/// Texts made of what documents are made of, and of what breaks them.
fn any_text() -> impl Strategy<Value = String> {
    let part = prop_oneof![
        Just("```gaugebook\n".to_owned()),
        Just("```\n".to_owned()),
        Just("~~~~ gaugebook".to_owned()),
        Just("> ".to_owned()),
        Just("- ".to_owned()),
        Just("1. ".to_owned()),
        Just("    ".to_owned()),
        Just("\t".to_owned()),
        Just("\n".to_owned()),
        Just("\r\n".to_owned()),
        Just("\r".to_owned()),
        Just("# Head *it*\n".to_owned()),
        Just("===\n".to_owned()),
        Just("[code]".to_owned()),
        Just("[/code]\n".to_owned()),
        Just("a = 1 gal\n".to_owned()),
        Just("<div>\n".to_owned()),
        Just("\u{feff}".to_owned()),
        Just("漢e\u{301}\u{200d}👩\u{202e}\u{1b}".to_owned()),
        "\\PC{0,6}",
        any::<String>(),
    ];
    prop::collection::vec(part, 0..24).prop_map(|parts| parts.concat())
}

fn any_severity() -> impl Strategy<Value = Severity> {
    prop_oneof![
        Just(Severity::Error),
        Just(Severity::Warning),
        Just(Severity::Note)
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(512) })]

    #[test]
    fn pieces_cover_the_text(text in any_text()) {
        let document = Document::new(text.clone());
        let mut covered = String::new();
        for piece in document.pieces() {
            match piece {
                Piece::Prose(span) => covered.push_str(&text[span.range()]),
                Piece::Block(index) => covered.push_str(&text[document.blocks()[index].span.range()]),
            }
        }
        prop_assert_eq!(covered, text);
    }

    #[test]
    fn lines_lie_in_their_block_and_on_one_line(text in any_text()) {
        let document = Document::new(text.clone());
        for block in document.blocks() {
            let mut end = block.span.start;
            for line in &block.lines {
                prop_assert!(end <= line.start && line.start <= line.end && line.end <= block.span.end);
                end = line.end;
                let content = text.get(line.range());
                prop_assert!(content.is_some_and(|content| !content.contains('\n')));
                let behind = &text[line.range().end..];
                prop_assert!(block.loose || line.is_empty() || behind.is_empty()
                    || behind.starts_with(['\n', '\r', '[']), "{:?}", behind);
            }
            prop_assert!(text.is_char_boundary(block.end_of_content as usize));
            prop_assert!((block.span.start..=block.span.end).contains(&block.end_of_content));
        }
    }

    #[test]
    fn a_new_statement_becomes_the_last_line_of_cells(text in any_text()) {
        let document = Document::new(text.clone());
        // Where line ends are in doubt, the document says so and promises nothing.
        if document.diagnostics().iter().any(|one| one.code == Code::Encoding) {
            return Ok(());
        }
        let (at, inserted) = document.insertion("new = 7");
        let longer = format!("{}{inserted}{}", &text[..at], &text[at..]);
        prop_assert_eq!(longer.len(), text.len() + inserted.len());
        prop_assert!(inserted.contains("new = 7"));
        if document.blocks().is_empty() || document.blocks().last().is_some_and(|b| b.loose) {
            return Ok(());
        }
        let reread = Document::new(longer.clone());
        let found = reread.blocks().iter().flat_map(|block| &block.lines);
        let found = found.filter(|line| line.of(&longer).trim() == "new = 7").count();
        prop_assert!(found >= 1, "{:?}", longer);
    }

    #[test]
    fn lines_and_columns_find_every_character(text in any_text()) {
        let lines = Lines::new(&text);
        for (offset, _) in text.char_indices() {
            let (line, column) = lines.line_column(&text, offset);
            let start = lines.start(&text, line - 1);
            prop_assert!(start <= offset);
            let before = text[start..offset].chars().count();
            let marked = usize::from(line == 1 && text.starts_with('\u{feff}') && offset > 0);
            prop_assert_eq!(before + 1 - marked, column);
            prop_assert!(!text[start..offset].contains('\n'));
        }
    }

    #[test]
    fn drawing_takes_any_span_and_says_the_message(
        text in any_text(),
        start in 0u32..200,
        end in prop_oneof![0u32..200, Just(u32::MAX)],
        severity in any_severity(),
        label in "\\PC{0,60}",
        width in 0usize..200,
        unicode in any::<bool>(),
        place in any::<bool>(),
        colour in any::<bool>(),
        first_line in prop_oneof![1usize..100_000, Just(usize::MAX)],
    ) {
        let message = "no cell is called pump_ouput";
        let diagnostic = Diagnostic::new(severity, Code::UnknownName, Span { start, end }, message)
            .label(label)
            .expected("a cell")
            .repair("pump_output");
        let source = SourceText { first_line, ..SourceText::new("shop.md", &text) };
        let drawn = render(&diagnostic, &source, Style { colour, unicode, width, place });
        let one_line = drawn.split_whitespace().collect::<Vec<_>>().join(" ");
        prop_assert!(one_line.contains(message), "{}", drawn);
        prop_assert!(one_line.contains("(unknown-name)"), "{}", drawn);
        prop_assert!(one_line.contains("repair pump_output"), "{}", drawn);
        prop_assert!(unicode || drawn.is_ascii(), "{}", drawn);
        prop_assert!(drawn.ends_with('\n'));
        let own = drawn.replace("\u{1b}[31m", "").replace("\u{1b}[33m", "").replace("\u{1b}[0m", "");
        prop_assert!(!own.chars().any(|c| c.is_control() && c != '\n'), "{:?}", own);
    }

    #[test]
    fn an_underlined_place_is_not_wider_than_the_screen(
        text in "[a-z0-9 =+]{1,400}",
        start in 0usize..400,
        length in 0usize..50,
        width in 40usize..120,
    ) {
        let message = Diagnostic::error(Code::Syntax, Span::new(start, start + length), "x");
        let drawn = render(&message, &SourceText::new("a.md", &text), Style::plain(width));
        for line in drawn.lines() {
            prop_assert!(line.chars().count() <= width, "{}", drawn);
        }
    }
}
