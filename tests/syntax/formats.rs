//! Blocks before and after formatting: blanks, signs and columns change, lines stay.

use gaugebook::syntax::format;

use super::support::lines;

fn formatted(text: &str, loose: bool) -> String {
    format(text, &lines(text), loose).join("\n")
}

#[test]
fn a_block_gets_one_spelling_and_keeps_its_lines() {
    let before = "  \
  # measured in March
    tank   =80gal+/-1gal      # nameplate
    start=140 psig+gauge_error

    draw[cfm free]=bleed_down( tank,start ,
            stop: 105 psig ,   # read twice
       # the clock
            held:1_200 s )
    x = {1/8 , ½,2 } in
    y = 60 gal/min*t - -3 · bore² [ L / min ]
    z = \"one  two\" == “six”
";
    let after = "\
# measured in March
tank = 80 gal ± 1 gal  # nameplate
start = 140 psig + gauge_error

draw [cfm free] = bleed_down(tank, start,
        stop: 105 psig,  # read twice
   # the clock
        held: 1_200 s)
x = {1/8, 1/2, 2} in
y = 60 gal/min*t - -3 * bore^2 [L/min]
z = \"one  two\" == \"six\"
";
    assert_eq!(formatted(before, false), after);
    assert_eq!(formatted(after, false), after);
}

#[test]
fn bodies_stand_four_blanks_deep() {
    let before = "\
formula f(a[mm]=3mm,
  b)   [mm]   # half
  source   \"somewhere\"
  # why

  limit a>b  \"too small\"
  c=a+
      b
  c/2

trace m over 20min
   p[psig] starts 140psig
   pump starts off
   pump turns on when p<=cut_in
   p changes at -(3 psi/min)
   show p,pump every 30s
";
    let after = "\
formula f(a [mm] = 3 mm,
  b) [mm]  # half
    source \"somewhere\"
    # why

    limit a > b \"too small\"
    c = a +
        b
    c / 2

trace m over 20 min
    p [psig] starts 140 psig
    pump starts off
    pump turns on when p <= cut_in
    p changes at -(3 psi/min)
    show p, pump every 30 s
";
    assert_eq!(formatted(before, false), after);
    assert_eq!(formatted(after, false), after);
}

#[test]
fn tables_stand_in_columns() {
    let before = "\
table guns   # ours
  |gun|bore[mm]|draw [cfm free]|
  |---|:--:|-----|
  | small|2.4|7.5±0.5|  # measured

  # and
  |#6 big “x”|½ in|
  | 鉄 | 1_200 | - |
";
    let after = "\
table guns  # ours
    gun        | bore [mm] | draw [cfm free]
    ---------- | --------- | ---------------
    small      | 2.4       | 7.5 ± 0.5  # measured

    # and
    #6 big “x” | 1/2 in    | -
    鉄         | 1_200     | -
";
    assert_eq!(formatted(before, false), after);
    assert_eq!(formatted(after, false), after);
}

#[test]
fn what_is_wrong_is_moved_and_not_rewritten() {
    let before = "  a=3\n  b  =  (4  +\n     c\n  d=5\n    e  = 6\n";
    let after = "a = 3\nb  =  (4  +\n   c\nd = 5\n  e  = 6\n";
    assert_eq!(formatted(before, false), after);
    assert_eq!(formatted(after, false), after);
}

#[test]
fn prose_between_statements_stays_as_it_is() {
    let before = "My  tank:\n   tank=60gal\n\nNot   =  this.\nformula f(x)\n  x*2\n";
    let after = "My  tank:\n   tank = 60 gal\n\nNot   =  this.\nformula f(x)\n    x * 2\n";
    assert_eq!(formatted(before, true), after);
    assert_eq!(formatted(after, true), after);
}
