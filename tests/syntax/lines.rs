//! Statements of several lines: what goes on, what ends, and what one broken line leaves whole.

use insta::assert_snapshot;

use super::support::told;

/// One broken statement never hides the next.
#[test]
fn broken_lines_leave_the_next() {
    assert_snapshot!(told("a = (3 *
b = 4
c = f(b
d [mm] = 5 mm
check d > 3 mm"), @r#"
    a = (3 *
    error syntax ‹*›: a value is missing behind `*`
      expected  a number, a name or a bracket
    b = 4
    c = f(b
    error syntax ‹(›: the bracket `(` is not closed
      label     opened here
      expected  `,` and another argument, or `)`
    d [mm] = 5 mm
    check d > 3 mm
    "#);
    assert_snapshot!(told(r#"a = "no end
b = 4"#), @r#"
    a = "no end
    error syntax ‹"›: a text that does not end
      label     opened here
      expected  a second `"` on the same line
    b = 4
    "#);
    assert_snapshot!(told("a = {1, 2
  3, 4
b = 4"), @r#"
    a = {1, 2
      3, 4
    error juxtaposed ‹2
      3›: two values side by side
      label     no sign before `3`
      expected  an operator between them
      repair    2, 3 for ‹2
      3› (two items of a list)
      repair    2 * 3 for ‹2
      3› (a product)
    error syntax ‹{›: the bracket `{` is not closed
      label     opened here
      expected  `,` and another item, or `}`
    b = 4
    "#);
}

/// A deeper line or an open bracket goes on; blank lines end nothing.
#[test]
fn continued_lines() {
    assert_snapshot!(told("x = a +
    b

    + c  # the rest
y = 3"), @r#"
    x = a + b + c  # the rest
    y = 3
    "#);
    assert_snapshot!(told("x = f(a,
b: 3 mm,
# in between
c: 4
)
y = 3"), @r#"
    x = f(a, b: 3 mm, c: 4)
    y = 3
    "#);
    assert_snapshot!(told("tank = 60 gal
  start = 140 psig"), @r#"
    tank = 60 gal
    start = 140 psig
    error indentation ‹start›: `start` begins a statement inside the one above
      label     indented deeper than the line it would go on with
      expected  the same indentation as the line above
    "#);
    assert_snapshot!(told("tank = 60 gal
  guns.duty [%] = 140"), @r#"
    tank = 60 gal
    guns.duty [%] = 140
    error indentation ‹guns›: `guns` begins a statement inside the one above
      label     indented deeper than the line it would go on with
      expected  the same indentation as the line above
    "#);
    assert_snapshot!(told(r#"caution = "first
    second""#), @r#"caution = "first second""#);
    assert_snapshot!(told("tank = 60 gal
  check draw < 3"), @r#"
    tank = 60 gal
    check draw < 3
    error indentation ‹check›: `check` begins a statement inside the one above
      label     indented deeper than the line it would go on with
      expected  the same indentation as the line above
    "#);
    assert_snapshot!(told("tank = 60 gal
  per min"), @"tank = 60 gal per min");
}

/// Formulas and traces own the lines below them.
#[test]
fn bodies() {
    assert_snapshot!(told(r#"formula f(a [mm] = 3 mm, b) [mm]
    source "one,
      two"
    limit a > 1 mm and b == 2 "too small"
    caution when a > 5 mm "mind"
    caution "always"
    c = a +
      b
    c * limit
x = 3"#), @r#"
    formula f(a [mm] = 3 mm, b) [mm]
        source "one, two"
        limit a > 1 mm and b == 2 "too small"
        caution when a > 5 mm "mind"
        caution "always"
        c = a + b
        c * limit
    x = 3
    "#);
    assert_snapshot!(told("formula f(
a, b
)
    a"), @r#"
    formula f(a, b)
        a
    "#);
    assert_snapshot!(told("formula f(x)
    y = x +
    z = (3
    source 5
    1 mm 2
x = 3"), @r#"
    formula f(x)
        y = ?
        z = ?
        ?
    error syntax ‹+›: a value is missing behind `+`
      expected  a number, a name or a bracket
    error juxtaposed ‹3
        source 5›: two amounts side by side
      label     no sign before `5`
      expected  an operator between them
    error syntax ‹(›: the bracket `(` is not closed
      label     opened here
      expected  an operator or `)`
    error syntax ‹formula f(x)›: the formula f gives no result
      expected  an expression without a name as its last line
    x = 3
    "#);
    assert_snapshot!(told("formula f(x)
    x
    x + 1"), @r#"
    formula f(x)
        x + 1
    error syntax ‹x›: a result that is not the last line
      expected  `name =` before it; only the last line has no name
    "#);
    assert_snapshot!(told("formula f(x)
    y = x"), @r#"
    formula f(x)
        y = x
        ?
    error syntax ‹formula f(x)›: the formula f gives no result
      expected  an expression without a name as its last line
    "#);
    assert_snapshot!(told(r#"formula f(x)
source "a"
y = 2 * x
y + x
z = 3"#), @r#"
    formula f(x)
        source "a"
        y = 2 * x
        y + x
    error indentation ‹formula f(x)›: the lines of this formula have lost their indentation
      label     nothing below it stands deeper
      expected  its lines below, indented by four blanks, the result last
    z = 3
    "#);
    assert_snapshot!(told("formula f(x)

z = 3"), @r#"
    formula f(x)
        ?
    error syntax ‹formula f(x)›: a formula without a body
      expected  its lines below, indented by four blanks, the result last
    z = 3
    "#);
    assert_snapshot!(told("trace m over 5 min
    p [psig] starts 90 psig
    pump starts on
    pump turns off when p > 100 psig
    p changes at 3 psi/min
    mark low when p < 5 psig
    stop when p < 1 psig
    show p, shop.q every 30 s
    p turns up when 4
    p [psig] changes at 3
x = 3"), @r#"
    trace m over 5 min
        p [psig] starts 90 psig
        pump starts on
        pump turns off when p > 100 psig
        p changes at 3 psi/min
        mark low when p < 5 psig
        stop when p < 1 psig
        show p, shop.q every 30 s
    error syntax ‹up›: `up` cannot stand here
      expected  `on` or `off`
    error syntax ‹changes›: `changes` cannot stand here
      expected  `starts` and the first value
    x = 3
    "#);
    assert_snapshot!(told("trace m over 5 min
p starts 3 psig
stop when p < 3 psig
x = 3"), @r#"
    trace m over 5 min
        p starts 3 psig
        stop when p < 3 psig
    error indentation ‹trace m over 5 min›: the lines of this trace have lost their indentation
      label     nothing below it stands deeper
      expected  its lines below, indented by four blanks
    x = 3
    "#);
}

/// Tables with all that people paste into them.
#[test]
fn tables() {
    assert_snapshot!(told(r#"table guns
    gun    | bore [mm] | draw [cfm free] | note
    small  | 2.4       | 7.5 ± 0.5  | "as is" 3/8"  # measured
    #6     | 3/8       | 1 1/2      | № 6 – “x”
    # a comment
    big    | -1.5 in   |            | -"#), @r#"
    table guns
        gun   | bore [mm] | draw [cfm free] | note
        small | 2.4       | 7.5 ± 0.5       | "as is" 3/8"
        #6    | 3/8       | 1 1/2           | № 6 – “x”
        big   | -1.5 in   | -               | -
    "#);
    assert_snapshot!(told("table guns
| gun | bore [mm] |
|-----|:---------:|
| a   | 3.2 |
| b   |     |
x = 3"), @r#"
    table guns
        gun | bore [mm]
        a   | 3.2
        b   | -
    x = 3
    "#);
    assert_snapshot!(told("table guns
    gun | bore [mm]
    a | 3 | 4
    b
    c | 1,200
    d | about 3
    e | 3 mm 4"), @r#"
    table guns
        gun | bore [mm]
        c   | 1200
        d   | ?
        e   | ?
    error syntax ‹a | 3 | 4›: the row `a` of guns has 3 fields
      expected  2, one for each head: gun, bore; `-` where there is no value
    error syntax ‹b›: the row `b` of guns has 1 field
      expected  2, one for each head: gun, bore; `-` where there is no value
    error comma ‹1,200›: a comma inside a number
      label     one number or two
      expected  a number without commas; a point stands before decimals
      repair    1200 for ‹1,200› (one number)
      repair    1.200 for ‹1,200› (a decimal point)
      repair    1, 200 for ‹1,200› (numbers of their own)
    error syntax ‹about›: `about` under a head with a unit
      expected  a number; `-` where there is none
    error syntax ‹4›: `4` cannot stand here
      expected  `|` or the end of the row
    "#);
    assert_snapshot!(told("table guns
    gun | pump output [cfm] | to
    a | 3 | 4"), @r#"
    table guns
        gun | pump_output [cfm] | to
        a   | 3                 | 4
    error syntax ‹pump output›: a blank inside a name
      expected  letters, digits and `_`
      repair    pump_output for ‹pump output›
    error reserved ‹to›: `to` cannot be a name
      label     a word of the language
      expected  another name
      repair    to_1 for ‹to›
    "#);
    assert_snapshot!(told(r#"table log from "readings.csv""#), @r#"table log from "readings.csv""#);
    assert_snapshot!(told("table log from readings"), @r#"
    table log from readings
    error syntax ‹readings›: `readings` cannot stand here
      expected  the file in quotes, as in `from "readings.csv"`
    "#);
    assert_snapshot!(told("table guns
x = 3"), @r#"
    table guns
    error syntax ‹table guns›: a table without a body
      expected  its rows below, indented by four blanks, the heads first
    x = 3
    "#);
}
