//! Messages as they are printed, compared whole. The figures are those of the project's sketches
//! of its screens; nothing here is worked out.

use gaugebook::source::{Code, Diagnostic, Inside, SourceText, Span, Style, render};

const SHOP: &str = "\
# A shop, invented

squeeze = start / stop
duty [%] = duty(draw, pump_ouput)
hose = bleed_down(tank,
    start, stop,

    held)
";

/// A message at the first place where `place` stands in the text.
fn at(text: &str, place: &str, code: Code, message: &str) -> Diagnostic {
    let start = text.find(place).unwrap();
    Diagnostic::error(code, Span::new(start, start + place.len()), message)
}

fn ratio() -> Diagnostic {
    at(
        SHOP,
        "start / stop",
        Code::Point,
        "one gauge reading divided by another",
    )
    .label("126.0 psig / 94.0 psig, counted from air outside")
    .expected("two absolute pressures, or two differences")
    .repair_with("absolute(start) / absolute(stop)", "would be 1.294")
    .repair_with("overpressure(start) / overpressure(stop)", "would be 1.340")
}

fn plain(message: &Diagnostic, text: &str) -> String {
    render(
        message,
        &SourceText::new("first-try.md", text),
        Style::plain(80),
    )
}

#[test]
fn an_error_says_what_was_found_what_was_expected_and_what_mends_it() {
    insta::assert_snapshot!(plain(&ratio(), SHOP), @r"
    first-try.md:3:11: error: one gauge reading divided by another (point)
    3 | squeeze = start / stop
      |           ^^^^^^^^^^^^ 126.0 psig / 94.0 psig, counted from air outside
      expected  two absolute pressures, or two differences
      repair    absolute(start) / absolute(stop)          would be 1.294
                overpressure(start) / overpressure(stop)  would be 1.340
    ");
}

#[test]
fn a_single_repair_has_its_remark_behind_it() {
    let message = at(
        SHOP,
        "pump_ouput",
        Code::UnknownName,
        "no cell is called pump_ouput",
    )
    .label("neither here nor a default of the handbook")
    .repair_with("pump_output", "(line 20)");
    insta::assert_snapshot!(plain(&message, SHOP), @r"
    first-try.md:4:23: error: no cell is called pump_ouput (unknown-name)
    4 | duty [%] = duty(draw, pump_ouput)
      |                       ^^^^^^^^^^ neither here nor a default of the handbook
      repair    pump_output   (line 20)
    ");
}

#[test]
fn lines_are_counted_from_the_first_line_of_the_file() {
    let text = "squeeze = start / stop\n";
    let source = SourceText {
        first_line: 9999,
        ..SourceText::new("first-try.md", text)
    };
    let message = at(text, "squeeze", Code::Duplicate, "squeeze is defined twice");
    insta::assert_snapshot!(render(&message, &source, Style::plain(80)), @r"
    first-try.md:9999:1: error: squeeze is defined twice (duplicate)
    9999 | squeeze = start / stop
         | ^^^^^^^
    ");
}

#[test]
fn a_place_of_several_lines_is_underlined_on_each() {
    let message = at(
        SHOP,
        "bleed_down(tank,\n    start, stop,\n\n    held)",
        Code::Argument,
        "too few",
    )
    .label("four arguments");
    insta::assert_snapshot!(plain(&message, SHOP), @r"
    first-try.md:5:8: error: too few (argument)
    5 | hose = bleed_down(tank,
      |        ^^^^^^^^^^^^^^^^
    6 |     start, stop,
      |     ^^^^^^^^^^^^ four arguments
    ");
}

#[test]
fn a_note_says_what_was_found_in_a_row() {
    let start = SHOP.find("hose").unwrap();
    let message = Diagnostic::note(Code::SecondOrder, Span::new(start, start + 4), "this ± of hose is rough")
        .label("it divides by a small difference; the second order moves u by 6 %, which is more than the 5 % allowed")
        .repair_with("spread hose", "(an interval by trials; until then 6.5 ± 1.7 min)");
    insta::assert_snapshot!(plain(&message, SHOP), @r"
    first-try.md:5:1: note: this ± of hose is rough (second-order)
      found     it divides by a small difference; the second order moves u by 6 %,
                which is more than the 5 % allowed
      repair    spread hose   (an interval by trials; until then 6.5 ± 1.7 min)
    ");
}

#[test]
fn the_body_of_a_formula_is_named_below_the_call() {
    let mut message = ratio();
    message.inside = vec![Inside {
        formula: "bleed_down".into(),
        path: "tank-tests.md".into(),
        line: 41,
        text: "tank * (start - stop) / (atmosphere * held) + something_that_does_not_fit".into(),
    }];
    message.repairs.truncate(1);
    insta::assert_snapshot!(plain(&message, SHOP), @r"
    first-try.md:3:11: error: one gauge reading divided by another (point)
    3 | squeeze = start / stop
      |           ^^^^^^^^^^^^ 126.0 psig / 94.0 psig, counted from air outside
      in bleed_down, tank-tests.md line 41: tank * (start - stop) / (atmosphere * h…
      expected  two absolute pressures, or two differences
      repair    absolute(start) / absolute(stop)   would be 1.294
    ");
}

#[test]
fn in_the_shell_the_line_typed_is_the_place() {
    let text = "draw = bleed_down(tank, 126 psi, 94 psig, 80.3 s)";
    let message = at(
        text,
        "126 psi",
        Code::Reference,
        "`start` of bleed_down needs a gauge reading",
    )
    .label("a difference between two pressures")
    .expected("psig: what the dial shows, counted from the air outside")
    .repair_with("126 psig", "(press Up: the mended line is there)");
    let style = Style {
        place: false,
        ..Style::plain(80)
    };
    insta::assert_snapshot!(render(&message, &SourceText::new("", text), style), @r"
    error: `start` of bleed_down needs a gauge reading (reference)
      | draw = bleed_down(tank, 126 psi, 94 psig, 80.3 s)
      |                         ^^^^^^^ a difference between two pressures
      expected  psig: what the dial shows, counted from the air outside
      repair    126 psig   (press Up: the mended line is there)
    ");
    let narrow = Style { width: 44, ..style };
    insta::assert_snapshot!(render(&message, &SourceText::new("", text), narrow), @r"
    error: `start` of bleed_down needs a gauge
      reading (reference)
      | draw = bleed_down(tank, 126 psi, 94 ps…
      |                         ^^^^^^^
      |       a difference between two pressures
      expected  psig: what the dial shows,
                counted from the air outside
      repair    126 psig
                  (press Up: the mended line is
                  there)
    ");
}

#[test]
fn without_unicode_the_signs_are_written_plainly() {
    let text = "wärme = 81 °F ± 2 % of 漢 × y²";
    let message = at(text, "y²", Code::Relative, "“y²” isn’t ≥ 0")
        .label("½ … −1")
        .repair("± 1 °F");
    let style = Style {
        unicode: false,
        ..Style::plain(80)
    };
    let drawn = render(&message, &SourceText::new("shop.md", text), style);
    assert!(drawn.is_ascii(), "{drawn}");
    insta::assert_snapshot!(drawn, @r#"
    shop.md:1:28: error: "y2" isn't >= 0 (relative)
    1 | warme = 81 degF +/- 2 % of <U+6F22> * y2
      |                                       ^^ 1/2 ... -1
      repair    +/- 1 degF
    "#);
}

#[test]
fn colour_marks_severity_and_carets_and_nothing_else() {
    let style = Style {
        colour: true,
        ..Style::plain(80)
    };
    let source = SourceText::new("first-try.md", SHOP);
    for place in [true, false] {
        let style = Style { place, ..style };
        let mut message = ratio();
        let drawn = render(&message, &source, style);
        assert_eq!(drawn.matches("\u{1b}[31m").count(), 2);
        assert!(drawn.contains("\u{1b}[31merror\u{1b}[0m: one"));
        assert!(drawn.contains("\u{1b}[31m^^^^^^^^^^^^\u{1b}[0m 126.0 psig"));
        let uncoloured = drawn.replace("\u{1b}[31m", "").replace("\u{1b}[0m", "");
        assert_eq!(
            uncoloured,
            render(
                &message,
                &source,
                Style {
                    colour: false,
                    ..style
                }
            )
        );
        message.severity = gaugebook::source::Severity::Warning;
        assert!(render(&message, &source, style).contains("\u{1b}[33mwarning\u{1b}[0m: one"));
    }
}

#[test]
fn wide_characters_and_tabs_keep_the_carets_in_place() {
    let text = "\t漢字 = é\t+ nope";
    let message = at(text, "nope", Code::UnknownName, "no cell is called nope");
    insta::assert_snapshot!(plain(&message, text), @r"
    first-try.md:1:11: error: no cell is called nope (unknown-name)
    1 |     漢字 = é    + nope
      |                   ^^^^
    ");
}

#[test]
fn what_cannot_be_seen_is_shown_and_cannot_command_the_terminal() {
    let text = "a = \u{1b}[31m\u{202e}b\u{200b}c\u{7f}";
    let message = at(
        text,
        "b\u{200b}c",
        Code::Syntax,
        "found \u{1b}[2J and \u{202e}",
    )
    .repair("\u{7}ring\nthe bell");
    insta::assert_snapshot!(plain(&message, text), @r"
    first-try.md:1:11: error: found ␛[2J and <U+202E> (syntax)
    1 | a = ␛[31m<U+202E>b<U+200B>c␡
      |                  ^^^^^^^^^^
      repair    ␇ring the bell
    ");
}

#[test]
fn a_long_line_is_cut_around_the_place() {
    let text = format!("x = {}wrong{}", "a + ".repeat(5000), " + b".repeat(5000));
    let message = at(&text, "wrong", Code::UnknownName, "no cell is called wrong").label("here");
    insta::assert_snapshot!(plain(&message, &text), @r"
    first-try.md:1:20005: error: no cell is called wrong (unknown-name)
    1 | …+ a + a + a + a + a + a + a + a + wrong + b + b + b + b + b + b + b + b + …
      |                                    ^^^^^ here
    ");
    let start = at(&text, "x", Code::UnknownName, "at the start");
    insta::assert_snapshot!(plain(&start, &text), @r"
    first-try.md:1:1: error: at the start (unknown-name)
    1 | x = a + a + a + a + a + a + a + a + a + a + a + a + a + a + a + a + a + a …
      | ^
    ");
    let whole = Diagnostic::error(Code::TooLong, Span::new(0, text.len()), "all of it");
    insta::assert_snapshot!(plain(&whole, &text), @r"
    first-try.md:1:1: error: all of it (too-long)
    1 | x = a + a + a + a + a + a + a + a + a + a + a + a + a + a + a + a + a + a …
      | ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    ");
    let end = Diagnostic::error(
        Code::Syntax,
        Span::new(text.len(), text.len()),
        "at the end",
    );
    insta::assert_snapshot!(plain(&end, &text), @r"
    first-try.md:1:40010: error: at the end (syntax)
    1 | …b + b + b + b + b + b + b + b + b + b + b + b + b + b + b + b + b + b + b
      |                                                                           ^
    ");
}

#[test]
fn a_label_without_room_stands_below() {
    let text = "result = first_of_all + second_one + third_of_them + the_fourth_name + the_last";
    let message = at(
        text,
        "the_last",
        Code::UnknownName,
        "no cell is called the_last",
    )
    .label("neither here nor a default of the handbook");
    insta::assert_snapshot!(plain(&message, text), @r"
    first-try.md:1:72: error: no cell is called the_last (unknown-name)
    1 | …t = first_of_all + second_one + third_of_them + the_fourth_name + the_last
      |                                                                    ^^^^^^^^
      |                                   neither here nor a default of the handbook
    ");
    let middle = at(
        text,
        "third_of_them",
        Code::UnknownName,
        "no cell is called third_of_them",
    )
    .label("neither here nor a default of the handbook");
    insta::assert_snapshot!(plain(&middle, text), @r"
    first-try.md:1:38: error: no cell is called third_of_them (unknown-name)
    1 | result = first_of_all + second_one + third_of_them + the_fourth_name + the…
      |                                      ^^^^^^^^^^^^^ neither here nor a
      |                                                    default of the handbook
    ");
}

#[test]
fn without_a_text_only_the_words_are_shown() {
    let message = Diagnostic::error(Code::File, Span::default(), "there is no file shop.md")
        .label("looked for beside the notebook");
    insta::assert_snapshot!(plain(&message, ""), @r"
    first-try.md:1:1: error: there is no file shop.md (file)
      found     looked for beside the notebook
    ");
}
