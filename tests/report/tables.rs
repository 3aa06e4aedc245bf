//! Tables of a notebook with their computed columns.

use super::{cells, open, screen};

const GUNS: &str = "\
# Guns

Invented.

```gaugebook
table guns
    gun    | bore [mm] | draw [cfm free]
    small  | 2.4       | 7.5
    middle | 3.2       | 13.8 ± 0.5
    large  | 4.0       | -
pump = 15 cfm free
guns.duty [%] = guns.draw / pump
guns.spare [cfm free] = pump - guns.draw
```
";

#[test]
fn heads_name_units_and_how_a_plus_minus_is_meant() {
    insta::assert_snapshot!(screen(&open(GUNS), 80), @r"
    Guns
    1 given, 1 table

      given ─ value ─ unit ─────────────────────────────────────────────────────────
      pump    15      cfm free
      Table guns
      gun ── bore mm draw cfm free ± limit duty % ± limits spare cfm free ± limits ─
      small  2.4      7.5                  50              7.5
      middle 3.2     13.8 ± 0.5            92.0 ± 3.3      1.20 ± 0.50
      large  4.0     -                     failed          failed
    ");
}

#[test]
fn a_table_wider_than_the_page_goes_on_below_with_its_key() {
    insta::assert_snapshot!(screen(&open(GUNS), 48), @r"
    Guns
    1 given, 1 table

      given ─ value ─ unit ─────────────────────────
      pump    15      cfm free
      Table guns
      gun ─── bore mm  draw cfm free ± limit ───────
      small   2.4       7.5
      middle  3.2      13.8 ± 0.5
      large   4.0      -
      gun ─── duty % ± limits ──────────────────────
      small   50
      middle  92.0 ± 3.3
      large   failed
      gun ─── spare cfm free ± limits ──────────────
      small   7.5
      middle  1.20 ± 0.50
      large   failed
    ");
}

#[test]
fn a_row_without_a_value_leaves_the_others_alone() {
    let notebook =
        cells("table t\n    k | y [mm]\n    a | 1\n    b | 0\nt.z = 6 mm / t.y\nlast = t[\"b\"].z");
    insta::assert_snapshot!(screen(&notebook, 60), @r"
    1 table, 1 waiting

      worked out ─ value ───────────────────────────────────────
      last         waits for t.z
      Table t
      k ─ y mm ─ z ─────────────────────────────────────────────
      a   1      6
      b   0      failed
    ");
}

#[test]
fn a_long_table_is_read_once_a_column() {
    let mut lines = "table long\n    n | x [mm] | y [mm]\n".to_owned();
    for row in 0..3000 {
        lines.push_str(&format!("    r{row} | {row} | {row}.5\n"));
    }
    let notebook = cells(&lines);
    let begun = std::time::Instant::now();
    let text = screen(&notebook, 80);
    // One reading of the statement a row would take minutes.
    assert!(begun.elapsed().as_secs() < 20, "{:?}", begun.elapsed());
    assert_eq!(
        text.lines().filter(|line| line.starts_with("  r")).count(),
        3000
    );
}
