//! Values beside messages: what stands is worked out, what does not says what it waits for.

use crate::support::{cells, check, evaluate};

#[test]
fn one_error_leaves_the_other_cells_alone() {
    let shop = cells("tank = 60 gal\nbad = tank + 3 psi\ngood = tank * 2\nlater = bad * 2");
    assert_eq!(shop.value("good"), "120 gal");
    assert_eq!(shop.value("bad"), "failed");
    assert_eq!(shop.value("later"), "waits for bad");
    assert_eq!(shop.codes(), ["dimension"]);
}

#[test]
fn a_cell_with_a_note_keeps_its_value() {
    assert_eq!(evaluate("squeeze = 120 psi / 90 psi"), "1.333");
    assert_eq!(
        cells("squeeze = 120 psi / 90 psi").codes(),
        ["bare-pressure"]
    );
}

#[test]
fn what_was_taken_is_told_at_the_place_where_it_was_typed() {
    let shop = cells("draw = 11 cfm\nhalf = draw / 2\nload = half / 15 scfm");
    let taken = shop.notebook.taken_as();
    let words: Vec<(&str, &str)> = taken
        .iter()
        .map(|(_, text, reference)| (text.as_str(), reference.row().noun))
        .collect();
    assert_eq!(words, [("11 cfm", "standard air")]);
}

#[test]
fn a_whole_message_is_held_to_its_text() {
    check(
        "tank = 80 gal\nrest = tank - 3 psi",
        "\
error: a volume minus a pressure (dimension)
  | rest = tank - 3 psi
  |        ^^^^^^^^^^^^ 80 gal and 3 psi
  expected  two values of one kind
",
    );
}

#[test]
fn defaults_are_there_without_being_named() {
    let shop = cells("top = 90 psig");
    assert_eq!(shop.value("atmosphere"), "14.696 psia");
    assert_eq!(shop.value("air_temperature"), "68 °F");
}

#[test]
fn full_values_have_all_their_digits() {
    let shop = cells("third = 1 in / 3");
    assert_eq!(shop.full("third"), "0.3333333333333333333333333333 in");
}
