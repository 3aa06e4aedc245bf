//! Errors and warnings with their places, and cells that wait.

use super::{cells, errors, open};

#[test]
fn one_or_two_that_wait_say_so_themselves() {
    let notebook = cells("bad = 1 mm + 1 s\nnext = bad * 2\nlast = next * 2");
    insta::assert_snapshot!(errors(&notebook, 80), @r"
    shop.md:2:7: error: a time added to a length (dimension)
    2 | bad = 1 mm + 1 s
      |       ^^^^^^^^^^ 1 mm and 1 s
      expected  two values of one kind
    shop.md:3:8: error: next waits for bad (waits)
    3 | next = bad * 2
      |        ^^^ has no value: mend line 2; the rest is right
    shop.md:4:8: error: last waits for bad (waits)
    4 | last = next * 2
      |        ^^^^ waits for bad too: mend line 2; the rest is right
    ");
}

#[test]
fn more_than_two_are_named_where_the_mistake_is() {
    let notebook = cells("bad = 1 mm + 1 s\na = bad * 2\nb = a * 2\nc = b + bad\ncheck c > 1 mm");
    insta::assert_snapshot!(errors(&notebook, 80), @r"
    shop.md:2:7: error: a time added to a length (dimension)
    2 | bad = 1 mm + 1 s
      |       ^^^^^^^^^^ 1 mm and 1 s
      expected  two values of one kind
    shop.md:2:1: error: 4 wait for bad (waits)
    2 | bad = 1 mm + 1 s
      | ^^^ mend it first: a, b, c, 1 check
    ");
}

#[test]
fn places_are_those_of_the_document() {
    let text = "# Shop\r\n\r\n> quoted:\r\n>\r\n> ```gaugebook\r\n> tank = 60 gal\r\n> held = tnk / 2\r\n> ```\r\n";
    insta::assert_snapshot!(errors(&open(text), 80), @r"
    shop.md:7:10: error: no cell is called tnk (unknown-name)
    7 | > held = tnk / 2
      |          ^^^ neither here nor a default of the handbook
      repair    tank   (line 6)
    ");
}

#[test]
fn notes_are_not_among_the_errors() {
    let notebook = cells("held_air = 80 gal * 120 psi / (14.7 psi)");
    assert_eq!(errors(&notebook, 80), "");
    let report = super::read(&notebook);
    assert!(report.messages.iter().any(|message| message.is_note()));
    assert!(report.is_fine());
}

#[test]
fn cells_that_need_each_other_are_reported_once() {
    let notebook = cells("a = b + 1 mm\nb = c + 1 mm\nc = a + 1 mm");
    insta::assert_snapshot!(errors(&notebook, 80), @r"
    shop.md:2:1: error: cells that need each other (cycle)
    2 | a = b + 1 mm
      | ^ a needs b needs c needs a
      expected  a value from outside somewhere in the circle, or one that is sought:
                `solve p [psig] for regulator - drop(p) = p from 60 psig to 94 psig`
    shop.md:3:5: error: b waits for a (waits)
    3 | b = c + 1 mm
      |     ^ waits for a too: mend line 2; the rest is right
    shop.md:4:5: error: c waits for a (waits)
    4 | c = a + 1 mm
      |     ^ has no value: mend line 2; the rest is right
    ");
}

#[test]
fn a_name_defined_twice_is_reported_at_both_places() {
    let notebook = cells("a = 1 mm\na = 2 mm\nb = a * 2");
    insta::assert_snapshot!(errors(&notebook, 80), @r"
    shop.md:2:1: error: a is defined twice (duplicate)
    2 | a = 1 mm
      | ^ also defined in line 3
      expected  one definition of each name
      repair    a_2
    shop.md:3:1: error: a is defined twice (duplicate)
    3 | a = 2 mm
      | ^ also defined in line 2
      expected  one definition of each name
      repair    a_2
    shop.md:4:5: error: b waits for a (waits)
    4 | b = a * 2
      |     ^ has no value: mend line 2; the rest is right
    ");
}
