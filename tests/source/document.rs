//! What a CommonMark document gives: title, headings, blocks, lines. The outcomes are those of the
//! CommonMark specification 0.31 (4.5 fenced code blocks, 5.1 block quotes, 5.2 list items).

use gaugebook::source::{
    Code, Document, MOST_BYTES, MOST_BYTES_OF_PROSE, MOST_CHARACTERS_IN_LINE, Piece, Severity,
    Style, render,
};

/// The content lines of every block.
fn lines(document: &Document) -> Vec<Vec<&str>> {
    let of_block = |lines: &[gaugebook::source::Span]| {
        lines.iter().map(|line| line.of(document.text())).collect()
    };
    document
        .blocks()
        .iter()
        .map(|block| of_block(&block.lines))
        .collect()
}

fn read(text: &str) -> Document {
    Document::new(text.to_owned())
}

/// All messages about a document, as they are printed.
fn messages(document: &Document) -> String {
    let drawn = document.diagnostics().iter().map(|diagnostic| {
        render(
            diagnostic,
            &document.source_text("shop.md"),
            Style::plain(80),
        )
    });
    drawn.collect()
}

#[test]
fn title_headings_and_blocks_of_a_plain_document() {
    let document = read(concat!(
        "Before.\n\n## Early\n\n# What *the* `gun` uses\n\n",
        "```gaugebook\ntank = 60 gal\n\n  # comment\n```\n\nProse.\n\n",
        "```python\nprint()\n```\n\n## The pump\n\n~~~ gaugebook cells\npump = 1\n~~~\n",
    ));
    assert_eq!(document.title(), Some("What the gun uses"));
    let headings = document.headings().iter();
    let headings: Vec<_> = headings.map(|h| (h.level, h.text.as_str())).collect();
    assert_eq!(
        headings,
        [(2, "Early"), (1, "What the gun uses"), (2, "The pump")]
    );
    assert_eq!(
        lines(&document),
        [vec!["tank = 60 gal", "", "  # comment"], vec!["pump = 1"]]
    );
    let info = document
        .blocks()
        .iter()
        .map(|block| block.info.of(document.text()));
    assert_eq!(info.collect::<Vec<_>>(), ["gaugebook", "gaugebook cells"]);
    let sections: Vec<_> = document
        .blocks()
        .iter()
        .map(|block| block.heading)
        .collect();
    assert_eq!(sections, [Some(1), Some(2)]);
    assert_eq!(messages(&document), "");
}

#[test]
fn containers_are_not_part_of_the_lines() {
    for (text, wanted) in [
        (
            "> ```gaugebook\n> a = 1\n>\n>   b\n> ```\n",
            vec!["a = 1", "", "  b"],
        ),
        (">```gaugebook\n>a = 1\n>```\n", vec!["a = 1"]),
        ("> > ```gaugebook\n> > a = 1\n> > ```\n", vec!["a = 1"]),
        (
            "1. First\n\n   ```gaugebook\n   a = 1\n\n   b = 2\n   ```\n",
            vec!["a = 1", "", "b = 2"],
        ),
        ("- ```gaugebook\n  a = 1\n  ```\n", vec!["a = 1"]),
        ("- > ```gaugebook\n  > a = 1\n  > ```\n", vec!["a = 1"]),
        (
            "  ```gaugebook\n    a = 1\n  b = 2\n c = 3\n  ```\n",
            vec!["  a = 1", "b = 2", "c = 3"],
        ),
        ("````gaugebook\n```\n````\n", vec!["```"]),
        ("```gaugebook\n```\n", vec![]),
    ] {
        let document = read(text);
        assert_eq!(lines(&document), [wanted], "{text:?}");
        assert_eq!(messages(&document), "", "{text:?}");
    }
}

#[test]
fn windows_line_ends_are_cut_off_and_used_for_new_lines() {
    let document = read("# T\r\n\r\n```gaugebook\r\na = 1\r\nb = 2\r\n\r\n\r\nc = 3\r\n```\r\n");
    assert_eq!(lines(&document), [vec!["a = 1", "b = 2", "", "", "c = 3"]]);
    assert_eq!(document.line_ending(), "\r\n");
    assert_eq!(document.title(), Some("T"));
    let (at, inserted) = document.insertion("d = 4");
    assert_eq!(inserted, "d = 4\r\n");
    assert!(document.text()[at..].starts_with("```\r\n"));
    let quoted = read("> ```gaugebook\r\n> a = 1\r\n>\r\n> b = 2\r\n> ```\r\n");
    assert_eq!(lines(&quoted), [vec!["a = 1", "", "b = 2"]]);
    assert_eq!(messages(&quoted), "");
}

#[test]
fn a_byte_order_mark_stays_in_the_text_and_out_of_the_lines() {
    let document = read("\u{feff}```gaugebook\na = 1\n```\n");
    assert_eq!(lines(&document), [vec!["a = 1"]]);
    assert_eq!(document.pieces(), [Piece::Block(0)]);
    assert_eq!(
        document.blocks()[0].span.of(document.text()),
        document.text()
    );
    let loose = read("\u{feff}a = 1\n");
    assert_eq!(lines(&loose), [vec!["a = 1"]]);
    assert_eq!(loose.line_column(3), (1, 1));
    assert_eq!(loose.line_column(4), (1, 2));
    let titled = read("\u{feff}# Shop\n");
    assert_eq!(titled.title(), Some("Shop"));
    assert_eq!(titled.headings()[0].span.of(titled.text()), "# Shop");
}

#[test]
fn tabs_stay_in_the_lines_also_where_a_list_takes_a_part_of_one() {
    let plain = read("```gaugebook\nformula f(x)\n\tx * 2\n```\n");
    assert_eq!(lines(&plain), [vec!["formula f(x)", "\tx * 2"]]);
    // The item takes two of the four columns; the formula's body must stay deeper than its head.
    let listed = read("- ```gaugebook\n  formula f(x)\n\tx * 2\n\t\tdeep\n  ```\n");
    assert_eq!(
        lines(&listed),
        [vec!["formula f(x)", "\tx * 2", "\t\tdeep"]]
    );
    assert_eq!(messages(&listed), "");
}

#[test]
fn fences_in_html_and_indented_code_are_no_fences() {
    let document = read("<div>\n```gaugebook\na = 1\n```\n</div>\n");
    assert!(document.blocks()[0].loose);
    assert!(read("text\n\n    ```gaugebook\n    a = 1\n").blocks()[0].loose);
}

#[test]
fn a_word_that_only_begins_like_gaugebook_makes_no_cells() {
    for (info, holds) in [
        ("gaugebook", true),
        (" gaugebook", true),
        ("gaugebook{.left}", true),
        ("gaugebook\tcells", true),
        ("gaugebooks-old", false),
        ("gaugebook_old", false),
        ("", false),
    ] {
        let document = read(&format!("```{info}\na = 1\n```\n"));
        assert_eq!(document.blocks().len(), usize::from(holds), "{info:?}");
    }
}

#[test]
fn an_unclosed_fence_is_told_and_still_read() {
    let document = read("# T\n\n```gaugebook\na = 1\n\nb = 2");
    assert_eq!(lines(&document), [vec!["a = 1", "", "b = 2"]]);
    insta::assert_snapshot!(messages(&document), @r"
    shop.md:3:1: error: this fence is not closed (fence)
    3 | ```gaugebook
      | ^^^^^^^^^^^^ all below it is read as cells
      expected  a line ``` behind the last cell
      repair    ```
    ");
    assert_eq!(
        document.insertion("c = 3"),
        (document.text().len(), "\nc = 3\n".to_owned())
    );
    for text in [
        "```gaugebook",
        "```gaugebook\n",
        "~~~~gaugebook\na = 1\n~~~\n",
        "> ```gaugebook\n> a = 1\n\nout\n",
    ] {
        let codes: Vec<_> = read(text).diagnostics().iter().map(|d| d.code).collect();
        assert_eq!(codes, [Code::Fence], "{text:?}");
    }
}

#[test]
fn a_fence_closed_only_by_the_next_one_is_told() {
    let document = read("```gaugebook\na = 1\n\nProse.\n\n```gaugebook\nb = 2\n```\n");
    assert_eq!(
        lines(&document),
        [vec!["a = 1", "", "Prose.", "", "", "b = 2"]]
    );
    insta::assert_snapshot!(messages(&document), @r"
    shop.md:1:1: error: this fence is not closed when the next one begins, in line 6 (fence)
    1 | ```gaugebook
      | ^^^^^^^^^^^^ all between them is read as cells
      expected  a line ``` behind the last cell
      repair    ```
    ");
}

#[test]
fn a_document_with_other_fences_only_has_no_cells() {
    let document = read("# T\n\n```\na = 1\n```\n");
    assert!(document.blocks().is_empty());
    insta::assert_snapshot!(messages(&document), @r"
    shop.md:3:1: note: no cells here: no fence of this document says gaugebook (fence)
      expected  a fence that begins with the word gaugebook
      repair    ```gaugebook
    ");
    let (at, inserted) = document.insertion("a = 1");
    assert_eq!(
        (at, inserted.as_str()),
        (19, "\n```gaugebook\na = 1\n```\n")
    );
}

#[test]
fn a_misspelt_word_is_told() {
    let document = read("```Gaugebook\na = 1\n```\n\n```gaugebook\nb = 2\n```\n");
    assert_eq!(lines(&document), [vec!["b = 2"]]);
    insta::assert_snapshot!(messages(&document), @r"
    shop.md:1:4: warning: the lines of this fence are no cells: it says Gaugebook (fence)
    1 | ```Gaugebook
      |    ^^^^^^^^^ not the word for cells
      expected  the word gaugebook, in small letters
      repair    gaugebook
    ");
}

#[test]
fn new_lines_stand_like_the_old_ones() {
    for (text, prefix) in [
        ("```gaugebook\na = 1\n```\n", ""),
        (
            "```gaugebook\n    # all\n  a = 1\n    more\n  b = 2\n```\n",
            "  ",
        ),
        ("```gaugebook\n# left\n  a = 1\n```\n", "  "),
        ("> ```gaugebook\n> a = 1\n>\n> ```\n", "> "),
        ("> ```gaugebook\n>  a = 1\n> ```\n", ">  "),
        ("- ```gaugebook\n  a = 1\n  ```\n", "  "),
        ("10. ```gaugebook\n    ```\n", "    "),
        ("> 1. ```gaugebook\n>    ```\n", ">    "),
        ("- ```gaugebook\n\ta = 1\n  ```\n", "\t"),
        ("```gaugebook\n[code]a = 1\n```\n", ""),
    ] {
        let document = read(text);
        assert_eq!(document.blocks()[0].prefix, prefix, "{text:?}");
        let (at, inserted) = document.insertion("new = 7 psi\n    + 1 psi");
        let longer = format!("{}{inserted}{}", &text[..at], &text[at..]);
        let reread = read(&longer);
        assert_eq!(reread.blocks().len(), 1, "{longer:?}");
        let found = lines(&reread).concat();
        let old = lines(&document).concat();
        assert_eq!(found[..old.len()], old[..], "{longer:?}");
        let unindented = found[old.len()].trim_start();
        assert_eq!(unindented, "new = 7 psi", "{longer:?}");
        assert_eq!(found.len(), old.len() + 2, "{longer:?}");
        assert_eq!(messages(&reread), "", "{longer:?}");
    }
}

#[test]
fn pieces_follow_the_text() {
    let text = "Intro\n> ```gaugebook\n> a = 1\n> ```\nMiddle\n```gaugebook\n```\n";
    let document = read(text);
    let pieces = document.pieces();
    let shown: Vec<_> = pieces
        .iter()
        .map(|piece| match *piece {
            Piece::Prose(span) => span.of(text),
            Piece::Block(index) => document.blocks()[index].span.of(text),
        })
        .collect();
    assert_eq!(
        shown,
        [
            "Intro\n",
            "> ```gaugebook\n> a = 1\n> ```\n",
            "Middle\n",
            "```gaugebook\n```\n"
        ]
    );
}

#[test]
fn columns_are_counted_in_characters() {
    let document = read("aé漢b\nx\r\n\n");
    let at = |offset| document.line_column(offset);
    assert_eq!(
        [at(0), at(1), at(2), at(3), at(6), at(7)],
        [(1, 1), (1, 2), (1, 2), (1, 3), (1, 4), (1, 5)]
    );
    assert_eq!(
        [at(8), at(11), at(12), at(9999)],
        [(2, 1), (3, 1), (4, 1), (4, 1)]
    );
}

#[test]
fn bytes_that_are_no_text_are_refused_with_their_place() {
    let refusal = Document::from_bytes(b"# T\nd\xc3\xbcse = \xe9\n".to_vec()).unwrap_err();
    assert_eq!(
        (refusal.code, refusal.severity),
        (Code::Encoding, Severity::Error)
    );
    assert_eq!(
        refusal.message,
        "this file is not UTF-8 text: no character at line 2, column 8"
    );
    assert_eq!(refusal.span.range(), 12..13);
    assert_eq!(refusal.repairs[0].text, "save it as UTF-8");
    let marked = Document::from_bytes(b"\xef\xbb\xbfa\xff".to_vec()).unwrap_err();
    assert!(marked.message.ends_with("line 1, column 2"));
    let wide = Document::from_bytes(b"\xff\xfea\0".to_vec()).unwrap_err();
    assert_eq!(
        wide.message,
        "this file is not UTF-8 text: it was saved as UTF-16"
    );
    assert_eq!(
        Document::from_bytes(b"a = 1".to_vec()).map(|d| d.text().to_owned()),
        Ok("a = 1".to_owned())
    );
}

#[test]
fn a_document_too_long_is_refused() {
    let refusal = Document::from_bytes(vec![b'x'; 100_000_000]).unwrap_err();
    assert_eq!(refusal.code, Code::TooLong);
    assert_eq!(refusal.message, "this document is 100 MB long");
    assert_eq!(refusal.expected, "at most 67 MB");
    let text = " ".repeat(MOST_BYTES + 1);
    let document = Document::new(text);
    assert_eq!(document.diagnostics()[0].code, Code::TooLong);
    assert_eq!(document.blocks(), []);
    assert!(messages(&document).contains("this document is 67 MB long"));
}

#[test]
fn a_line_too_long_is_refused_and_the_rest_is_kept() {
    let long = format!("b = {}", "1".repeat(MOST_CHARACTERS_IN_LINE));
    for text in [
        format!("```gaugebook\na = 1\n{long}\nc = 3\n```\n"),
        format!("a = 1\n{long}\nc = 3\n"),
    ] {
        let document = read(&text);
        assert_eq!(lines(&document), [vec!["a = 1", "", "c = 3"]]);
        let [refusal] = document.diagnostics() else {
            panic!("one message was expected");
        };
        assert_eq!(refusal.code, Code::TooLong);
        assert_eq!(refusal.message, "this line is 100004 characters long");
        assert_eq!(refusal.span.of(&text), long);
    }
    // As many characters as allowed, though more bytes.
    let just = "é".repeat(MOST_CHARACTERS_IN_LINE);
    assert_eq!(messages(&read(&just)), "");
}

#[test]
fn what_would_take_too_long_or_too_much_memory_is_refused() {
    let markers = "1. ".repeat(2_000);
    let nested = (0..2_000).map(|depth| format!("{}- a\n", "  ".repeat(depth)));
    let nested: String = nested.collect();
    for (text, code) in [
        (format!("{markers}```gaugebook\na = 1\n"), Code::TooDeep),
        (
            format!("{nested}```\n{}", "\n".repeat(200_000)),
            Code::TooDeep,
        ),
        (
            format!("{}\n```\n", "[".repeat(MOST_BYTES_OF_PROSE)),
            Code::TooLong,
        ),
        ("``` ".repeat(MOST_BYTES_OF_PROSE / 4), Code::TooLong),
    ] {
        let document = read(&text);
        let codes: Vec<_> = document.diagnostics().iter().map(|d| d.code).collect();
        assert_eq!(codes, [code]);
        assert_eq!(document.blocks(), []);
        assert_eq!(covered(&document), text.len());
    }
    // Much text without fences, a rule of dashes and a deeply indented line are nothing special.
    assert_eq!(
        messages(&read(&"> [a]\n".repeat(MOST_BYTES_OF_PROSE / 5))),
        ""
    );
    let rule = format!(
        "{}\n\n{}x\n\n```gaugebook\na = 1\n```\n",
        "-".repeat(5000),
        " ".repeat(300)
    );
    assert_eq!(lines(&read(&rule.repeat(20))).len(), 20);
}

#[test]
fn repeated_signs_are_read_at_once() {
    let started = std::time::Instant::now();
    for unit in [
        "> ",
        "[",
        "- ",
        "1. ",
        "`",
        "<",
        "![",
        "*a_",
        "](",
        "``` ",
        "\n> ",
        "~~~gaugebook\n",
        "[code]",
        "\r",
        "#",
        "> ```gaugebook\n",
        "- ```gaugebook\n",
        "# a\n",
    ] {
        for end in ["", "\n\n```gaugebook\n"] {
            let text = unit.repeat(200_000 / unit.len()) + end;
            assert_eq!(covered(&read(&text)), text.len(), "{unit:?}");
        }
    }
    // A quadratic step would take minutes in this build; on an idle machine it takes a second.
    assert!(started.elapsed().as_secs() < 60, "{:?}", started.elapsed());
}

fn covered(document: &Document) -> usize {
    let length = |piece: &Piece| match *piece {
        Piece::Prose(span) => span.range().len(),
        Piece::Block(index) => document.blocks()[index].span.range().len(),
    };
    document.pieces().iter().map(length).sum()
}

#[test]
fn a_hundred_thousand_lines_are_all_there() {
    let mut text = String::from("```gaugebook\n");
    for index in 0..100_000 {
        text.push_str(&format!("c{index} = {index} psi\n"));
    }
    text.push_str("```\n");
    for text in [
        text.clone(),
        text.replace('\n', "\r\n"),
        text.replace('\n', "\n> "),
    ] {
        let document = read(&text);
        let block = &document.blocks()[0];
        assert!(block.lines.len() >= 100_000);
        assert_eq!(block.lines[99_999].of(&text), "c99999 = 99999 psi");
        let line = document.line_column(block.lines[99_999].start as usize).0;
        assert_eq!(line, 100_001);
    }
}

#[test]
fn forum_tags_and_quotes_pasted_into_a_fence_are_left_out() {
    let document = read(
        "```gaugebook\n[code]\n> a = 1\n>> b = 2\ncheck a\n    > b\nc [s] = 3 s [s]\n[/code]\n```\n",
    );
    assert_eq!(
        lines(&document),
        [vec![
            "",
            "a = 1",
            "b = 2",
            "check a",
            "    > b",
            "c [s] = 3 s [s]",
            ""
        ]]
    );
}
