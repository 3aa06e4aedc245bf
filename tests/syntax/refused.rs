//! Lines that are refused, each with its whole messages. The expected texts were read by a person.

use insta::assert_snapshot;

use super::support::messages;

/// Numbers with commas, colons, dashes, blanks, two points.
#[test]
fn numbers() {
    assert_snapshot!(messages("x = 1,200 psi"), @r#"
    error comma ‹1,200›: a comma inside a number
      label     one number or two
      expected  a number without commas; a point stands before decimals
      repair    1200 psi for ‹1,200 psi› (one number)
      repair    1.200 for ‹1,200› (a decimal point)
      repair    1, 200 for ‹1,200› (numbers of their own)
    "#);
    assert_snapshot!(messages("x = $1,200.50"), @r#"
    error comma ‹1,200.50›: a comma inside a number
      label     one number or two
      expected  a number without commas; a point stands before decimals
      repair    $ 1200.50 for ‹$1,200.50› (one number)
      repair    1, 200.50 for ‹1,200.50› (numbers of their own)
    "#);
    assert_snapshot!(messages("x = {1,200, 3} psi"), @r#"
    error comma ‹1,200›: a comma inside a number
      label     one number or two
      expected  a number without commas; a point stands before decimals
      repair    1200 for ‹1,200› (one number)
      repair    1.200 for ‹1,200› (a decimal point)
      repair    1, 200 for ‹1,200› (numbers of their own)
    "#);
    assert_snapshot!(messages("x = f(0.1,200)"), @r#"
    error comma ‹0.1,200›: a comma inside a number
      label     one number or two
      expected  a number without commas; a point stands before decimals
      repair    0.1, 200 for ‹0.1,200› (numbers of their own)
    "#);
    assert_snapshot!(messages("x = 1,5 mm"), @r#"
    error comma ‹1,5›: a comma inside a number
      expected  a point before the decimals
      repair    1.5 for ‹1,5›
    "#);
    assert_snapshot!(messages("x = 5,125 in"), @r#"
    error comma ‹5,125›: a comma inside a number
      label     one number or two
      expected  a number without commas; a point stands before decimals
      repair    5125 in for ‹5,125 in› (one number)
      repair    5.125 for ‹5,125› (a decimal point)
      repair    5, 125 for ‹5,125› (numbers of their own)
    "#);
    assert_snapshot!(messages("x = 1:12.4"), @r#"
    error clock ‹1:12.4›: a time written with a colon
      label     minutes and seconds, or hours and minutes
      expected  a time in one unit
      repair    72.4 s for ‹1:12.4› (minutes and seconds)
    "#);
    assert_snapshot!(messages("x = 2:01:30"), @r#"
    error clock ‹2:01:30›: a time written with a colon
      label     minutes and seconds, or hours and minutes
      expected  a time in one unit
      repair    7290 s for ‹2:01:30› (hours, minutes and seconds)
    "#);
    assert_snapshot!(messages("x = 7:30 min"), @r#"
    error clock ‹7:30 min›: a time written with a colon
      label     minutes and seconds, or hours and minutes
      expected  a time in one unit
      repair    450 s for ‹7:30 min› (minutes and seconds)
      repair    450 min for ‹7:30 min› (hours and minutes)
    "#);
    assert_snapshot!(messages("p = 40–60 psi"), @r#"
    error dash ‹40–60 psi›: a dash between two values means a range
      label     from the one to the other
      expected  one value; a difference is written with `-`
      repair    50 ± 10 psi for ‹40–60 psi› (anything between the two)
      repair    40 psi - 60 psi for ‹40–60 psi› (a difference)
    "#);
    assert_snapshot!(messages("p = 40 psi – 60 psi"), @r#"
    error dash ‹40 psi – 60 psi›: a dash between two values means a range
      label     from the one to the other
      expected  one value; a difference is written with `-`
      repair    50 ± 10 psi for ‹40 psi – 60 psi› (anything between the two)
      repair    40 psi - 60 psi for ‹40 psi – 60 psi› (a difference)
    "#);
    assert_snapshot!(messages("p = start – stop"), @r#"
    error dash ‹start – stop›: a dash between two values means a range
      label     from the one to the other
      expected  one value; a difference is written with `-`
      repair    start - stop for ‹start – stop› (a difference)
    "#);
    assert_snapshot!(messages("t = –10 °C"), @r#"
    error dash ‹–›: a dash before a number
      label     longer than a minus
      expected  `-` before a number below zero
      repair    -10 for ‹–10›
    "#);
    assert_snapshot!(messages("x = 1 200 psi"), @r#"
    error juxtaposed ‹1 200›: a blank inside a number
      expected  one number, or an operator between two
      repair    1200 psi for ‹1 200 psi›
    "#);
    assert_snapshot!(messages("x = 1 200"), @r#"
    error juxtaposed ‹1 200›: a blank inside a number
      expected  one number, or an operator between two
      repair    1200 for ‹1 200›
    "#);
    assert_snapshot!(messages("x = 1.2.3"), @r#"
    error syntax ‹1.2.3›: `1.2.3` has two points
      expected  a number with one point at most
    "#);
    assert_snapshot!(messages("x = 5 ± 1 ± 2 psi"), @r#"
    error plus-minus ‹±›: a second ± behind one value
      expected  one ±; another error is a cell of its own that is added
    "#);
    assert_snapshot!(messages("x = € 350"), @r#"
    error syntax ‹€›: the sign `€` has no meaning here
      expected  the currency behind the amount, as in `350 EUR`
      repair    350 EUR for ‹€ 350›
    "#);
    assert_snapshot!(messages("x = 350 €"), @r#"
    error syntax ‹€›: the sign `€` has no meaning here
      expected  the currency behind the amount, as in `350 EUR`
      repair    350 EUR for ‹350 €›
    "#);
    assert_snapshot!(messages("x = ３ mm"), @r#"
    error syntax ‹３›: the digit `３` is not one of 0 to 9
      expected  letters, digits, operators and brackets
    "#);
}

/// Fractions with two readings, and inch marks.
#[test]
fn fractions() {
    assert_snapshot!(messages("x = 240/8 h"), @r#"
    error fraction ‹240/8 h›: a fraction that is no workshop fraction
      label     has two readings
      expected  a proper fraction in halves, thirds, quarters … 64ths, or a division
      repair    240 / (8 h) for ‹240/8 h› (a division by an amount)
      repair    30 h for ‹240/8 h› (one amount)
    "#);
    assert_snapshot!(messages("x = 9/8 in"), @r#"
    error fraction ‹9/8 in›: a fraction that is no workshop fraction
      label     has two readings
      expected  a proper fraction in halves, thirds, quarters … 64ths, or a division
      repair    9 / (8 in) for ‹9/8 in› (a division by an amount)
      repair    1 1/8 in for ‹9/8 in› (one amount)
    "#);
    assert_snapshot!(messages("x = -3/5 in"), @r#"
    error fraction ‹-3/5 in›: a fraction that is no workshop fraction
      label     has two readings
      expected  a proper fraction in halves, thirds, quarters … 64ths, or a division
      repair    -3 / (5 in) for ‹-3/5 in› (a division by an amount)
      repair    -3 in / 5 for ‹-3/5 in› (one amount)
    "#);
    assert_snapshot!(messages("x = 1 3/2 in"), @r#"
    error fraction ‹1 3/2 in›: a fraction that is no workshop fraction
      expected  a proper fraction in halves, thirds, quarters … 64ths, or a division
      repair    2 1/2 in for ‹1 3/2 in› (one amount)
    "#);
    assert_snapshot!(messages("x = 1 1/5 in"), @r#"
    error fraction ‹1 1/5 in›: a fraction that is no workshop fraction
      expected  a proper fraction in halves, thirds, quarters … 64ths, or a division
      repair    6 in / 5 for ‹1 1/5 in› (one amount)
    "#);
    assert_snapshot!(messages("x = 1 1/2"), @r#"
    error juxtaposed ‹1 1/2›: a blank inside a number
      expected  one number, or an operator between two
      repair    1.5 for ‹1 1/2›
    "#);
    assert_snapshot!(messages(r#"x = 1/8""#), @r#"
    error inch-mark ‹1/8"›: an inch mark behind a number
      expected  the unit as a word, `in` or `ft`
      repair    1/8 in for ‹1/8"›
    "#);
    assert_snapshot!(messages("x = 6”"), @r#"
    error inch-mark ‹6”›: an inch mark behind a number
      expected  the unit as a word, `in` or `ft`
      repair    6 in for ‹6”›
    "#);
    assert_snapshot!(messages("x = 5'"), @r#"
    error inch-mark ‹5'›: a foot mark behind a number
      expected  the unit as a word, `in` or `ft`
      repair    5 ft for ‹5'›
    "#);
    assert_snapshot!(messages(r#"x = 5' 3 1/2""#), @r#"
    error inch-mark ‹5' 3 1/2"›: a foot mark behind a number
      expected  the unit as a word, `in` or `ft`
      repair    5 ft + 3 1/2 in for ‹5' 3 1/2"›
    "#);
    assert_snapshot!(messages("x = 5 ft 3 in"), @r#"
    error juxtaposed ‹5 ft 3 in›: two amounts side by side
      label     no sign before `3`
      expected  an operator between them
      repair    5 ft + 3 in for ‹5 ft 3 in›
    "#);
    assert_snapshot!(messages("x = 60 psi 5"), @r#"
    error juxtaposed ‹60 psi 5›: two amounts side by side
      label     no sign before `5`
      expected  an operator between them
    "#);
}

/// Names with signs that do not belong, and reserved words.
#[test]
fn names() {
    assert_snapshot!(messages("p = p₁ + 3 m₂"), @r#"
    error subscript ‹p₁›: a subscript in a name
      label     letters and digits stand on the line
      expected  the same letters and digits, not lowered
      repair    p1 for ‹p₁›
    error subscript ‹m₂›: a subscript in a name
      label     letters and digits stand on the line
      expected  the same letters and digits, not lowered
      repair    m2 for ‹m₂›
    "#);
    assert_snapshot!(messages("on = 5 min"), @r#"
    error reserved ‹on›: `on` cannot be a name
      label     a word of the language
      expected  another name
      repair    on_1 for ‹on›
    "#);
    assert_snapshot!(messages("per = 5"), @r#"
    error reserved ‹per›: `per` cannot be a name
      label     a word of the language
      expected  another name
      repair    per_1 for ‹per›
    "#);
    assert_snapshot!(messages("table = 5 mm"), @r#"
    error reserved ‹table›: `table` cannot be a name
      label     a word that begins a statement
      expected  another name
      repair    table_1 for ‹table›
    "#);
    assert_snapshot!(messages("open [mm] = 5"), @r#"
    error reserved ‹open›: `open` cannot be a name
      label     an order to the shell
      expected  another name
      repair    open_1 for ‹open›
    "#);
    assert_snapshot!(messages("pump output = 60 cfm"), @r#"
    error syntax ‹pump output›: a blank inside a name
      expected  letters, digits and `_`
      repair    pump_output for ‹pump output›
    "#);
    assert_snapshot!(messages("pump-output = 60 cfm"), @r#"
    error syntax ‹pump-output›: a hyphen inside a name
      expected  letters, digits and `_`
      repair    pump_output for ‹pump-output›
    "#);
    assert_snapshot!(messages("2nd = 60 cfm"), @r#"
    error syntax ‹2nd›: a name that begins with a digit
      expected  a letter or `_` first
      repair    n2nd for ‹2nd›
    "#);
    assert_snapshot!(messages("tank: 60 gal"), @r#"
    error syntax ‹:›: `:` behind a name
      expected  `=` between a name and its value
      repair    tank = 60 gal for ‹tank: 60 gal›
    "#);
    assert_snapshot!(messages("tank := 60 gal"), @r#"
    error syntax ‹:=›: `:=` behind a name
      expected  `=` between a name and its value
      repair    tank = 60 gal for ‹tank := 60 gal›
    "#);
    assert_snapshot!(messages("tank 60 gal"), @r#"
    error syntax ‹tank 60›: a name and a number without a sign between
      expected  `=` between a name and its value
      repair    tank = 60 gal for ‹tank 60 gal›
    "#);
    assert_snapshot!(messages("60 gal = tank"), @r#"
    error syntax ‹60 gal = tank›: a value to the left of `=`
      expected  the name to the left
      repair    tank = 60 gal for ‹60 gal = tank›
    "#);
    assert_snapshot!(messages("f(x) = x * 2"), @r#"
    error syntax ‹f(x)›: a formula written like a cell
      label     a name with its parameters
      expected  `formula f(x)` on a line of its own, its body indented below
    "#);
    assert_snapshot!(messages("°C = 3"), @r#"
    error syntax ‹°C›: the unit `°C` has no number
      expected  a number before the unit
    "#);
    assert_snapshot!(messages("x = from + 3"), @r#"
    error reserved ‹from›: a value is missing before `from`
      label     a word of the language, never a name
      expected  a number, a name or a bracket
    "#);
    assert_snapshot!(messages("x = guns.on"), @r#"
    error reserved ‹on›: `on` cannot be a name
      label     a word of the language
      expected  another name
      repair    on_1 for ‹on›
    "#);
    assert_snapshot!(messages("formula f(x, to)
    x"), @r#"
    error reserved ‹to›: `to` cannot be a name
      label     a word of the language
      expected  another name
      repair    to_1 for ‹to›
    "#);
}

/// Signs of other notations, single equals signs, missing values.
#[test]
fn operators() {
    assert_snapshot!(messages("check a = b"), @r#"
    error equals ‹=›: a single `=` inside a condition
      label     gives a name its value
      expected  `==`, which compares
      repair    a == b for ‹a = b›
    "#);
    assert_snapshot!(messages("x = if a = b then 1 else 2"), @r#"
    error equals ‹=›: a single `=` inside a condition
      label     gives a name its value
      expected  `==`, which compares
      repair    a == b for ‹a = b›
    "#);
    assert_snapshot!(messages("x = 2**3"), @r#"
    error syntax ‹**›: `**` is no operator here
      label     to the power of
      expected  `^`
      repair    ^ for ‹**›
    "#);
    assert_snapshot!(messages("x = a && b || !c"), @r#"
    error syntax ‹&&›: `&&` is no operator here
      label     both
      expected  `and`
      repair    and for ‹&&›
    error syntax ‹||›: `||` is no operator here
      label     one or both
      expected  `or`
      repair    or for ‹||›
    error syntax ‹!›: `!` is no operator here
      label     the opposite
      expected  `not`
      repair    not for ‹!›
    "#);
    assert_snapshot!(messages("x = a <> b"), @r#"
    error syntax ‹<>›: `<>` is no operator here
      label     is not
      expected  `!=`
      repair    != for ‹<>›
    "#);
    assert_snapshot!(messages("x = a =< b"), @r#"
    error syntax ‹=<›: `=<` is no operator here
      label     at most
      expected  `<=`
      repair    <= for ‹=<›
    "#);
    assert_snapshot!(messages("x = f(held = 55 s)"), @r#"
    error equals ‹=›: an argument named with `=`
      label     gives a cell its value
      expected  `:` behind the name of an argument
      repair    held: 55 s for ‹held = 55 s›
    "#);
    assert_snapshot!(messages("x = 5 +"), @r#"
    error syntax ‹+›: a value is missing behind `+`
      expected  a number, a name or a bracket
    "#);
    assert_snapshot!(messages("x = * 5"), @r#"
    error syntax ‹*›: a value is missing before `*`
      expected  a number, a name or a bracket
    "#);
    assert_snapshot!(messages("x = 5 + * 3"), @r#"
    error syntax ‹*›: a value is missing before `*`
      expected  a number, a name or a bracket
    "#);
    assert_snapshot!(messages("x ="), @r#"
    error syntax ‹=›: a value is missing behind `=`
      expected  a number, a name or a bracket
    "#);
    assert_snapshot!(messages("x = ()"), @r#"
    error syntax ‹)›: a value is missing between `(` and `)`
      expected  a number, a name or a bracket
    "#);
    assert_snapshot!(messages("x = f(3,)"), @r#"
    error syntax ‹)›: a value is missing between `,` and `)`
      expected  a number, a name or a bracket
    "#);
    assert_snapshot!(messages("x = a =="), @r#"
    error syntax ‹==›: a value is missing behind `==`
      expected  a number, a name or a bracket
    "#);
    assert_snapshot!(messages("x = 2 * if a then b else c"), @r#"
    error syntax ‹if›: `if` in the middle of an expression
      expected  parentheses around it: `(if …)`
    "#);
    assert_snapshot!(messages("x = a == not b"), @r#"
    error syntax ‹not›: `not` in the middle of an expression
      expected  parentheses around it: `(not …)`
    "#);
    assert_snapshot!(messages("x = if a then b"), @r#"
    error syntax ‹b›: the line ends too early
      label     nothing behind it
      expected  `else` and the value if it does not hold
    "#);
    assert_snapshot!(messages("x = a ? b : c"), @r#"
    error syntax ‹?›: the sign `?` has no meaning here
      expected  an operator or the end of the line
    "#);
    assert_snapshot!(messages("x = 5; y = 3"), @r#"
    error syntax ‹;›: the sign `;` has no meaning here
      expected  one statement on each line
    "#);
    assert_snapshot!(messages("x = √2"), @r#"
    error syntax ‹√›: the sign `√` has no meaning here
      expected  the root as a call, as in `sqrt(2)`
      repair    sqrt(2) for ‹√2›
    "#);
    assert_snapshot!(messages("x = x²^3"), @r#"
    error syntax ‹^›: a power of a power
      expected  parentheses that say which is taken first
      repair    (x^2) for ‹x²›
    "#);
}

/// Units in places where they have two readings or none.
#[test]
fn units() {
    assert_snapshot!(messages("x = 0.25 in^2"), @r#"
    error power-of-literal ‹0.25 in^2›: a power behind a number with a unit
      label     has two readings
      expected  the power on the unit, or on number and unit together
      repair    0.25 in² for ‹0.25 in^2› (the unit alone)
      repair    (0.25 in)^2 for ‹0.25 in^2› (number and unit together)
    "#);
    assert_snapshot!(messages("x = 0.25 in^2/min"), @r#"
    error power-of-literal ‹0.25 in^2/min›: a power behind a number with a unit
      label     has two readings
      expected  the power on the unit, or on number and unit together
      repair    0.25 in²/min for ‹0.25 in^2/min› (the unit alone)
      repair    (0.25 in)^2/min for ‹0.25 in^2/min› (number and unit together)
    "#);
    assert_snapshot!(messages("x = 0.25 in^n"), @r#"
    error power-of-literal ‹0.25 in^n›: a power behind a number with a unit
      expected  the power on the unit, or on number and unit together
      repair    (0.25 in)^n for ‹0.25 in^n› (number and unit together)
    "#);
    assert_snapshot!(messages("x = 5 ± 1 in^2"), @r#"
    error power-of-literal ‹5 ± 1 in^2›: a power behind a number with a unit
      expected  the power on the unit, or on number and unit together
      repair    (5 ± 1 in)^2 for ‹5 ± 1 in^2› (number and unit together)
    "#);
    assert_snapshot!(messages("x = 140 [psig]"), @r#"
    error bracket-on-literal ‹140 [psig]›: a unit bracket behind a bare number
      label     a bracket shows a result in a unit, a number has its own
      expected  the unit behind the number
      repair    140 psig for ‹140 [psig]›
    "#);
    assert_snapshot!(messages("x = 140 ± 1 [psig]"), @r#"
    error bracket-on-literal ‹140 ± 1 [psig]›: a unit bracket behind a bare number
      label     a bracket shows a result in a unit, a number has its own
      expected  the unit behind the number
      repair    140 ± 1 psig for ‹140 ± 1 [psig]›
    "#);
    assert_snapshot!(messages("x = {1, 2} [1/ft]"), @r#"
    error bracket-on-literal ‹{1, 2} [1/ft]›: a unit bracket behind a bare number
      label     a bracket shows a result in a unit, a number has its own
      expected  the unit behind the number
      repair    {1, 2} per ft for ‹{1, 2} [1/ft]›
    "#);
    assert_snapshot!(messages("x = tank [gal] + 3"), @r#"
    error bracket ‹[gal]›: a unit bracket where no expression ends
      label     says in which unit a whole expression is shown
      expected  the bracket at the end, or parentheses around what it belongs to
      repair    (tank [gal]) for ‹tank [gal]›
    "#);
    assert_snapshot!(messages("x = f(a [psi] * 2)"), @r#"
    error bracket ‹[psi]›: a unit bracket where no expression ends
      label     says in which unit a whole expression is shown
      expected  the bracket at the end, or parentheses around what it belongs to
      repair    (a [psi]) for ‹a [psi]›
    "#);
    assert_snapshot!(messages("x = pi mm"), @r#"
    error unit-behind ‹mm›: `mm` behind something that is no number
      expected  an operator between two values, or a bracket around a unit
      repair    pi * 1 mm for ‹pi mm› (if mm is a unit)
      repair    pi [mm] for ‹pi mm› (to show it in mm)
      repair    pi_mm for ‹pi mm› (if it is one name)
    "#);
    assert_snapshot!(messages("x = (2 + 3) mm"), @r#"
    error unit-behind ‹mm›: `mm` behind something that is no number
      expected  an operator between two values, or a bracket around a unit
      repair    (2 + 3) * 1 mm for ‹(2 + 3) mm› (if mm is a unit)
      repair    (2 + 3) [mm] for ‹(2 + 3) mm› (to show it in mm)
    "#);
    assert_snapshot!(messages("x = pump output * 3"), @r#"
    error unit-behind ‹output›: `output` behind something that is no number
      expected  an operator between two values, or a bracket around a unit
      repair    pump * 1 output for ‹pump output› (if output is a unit)
      repair    pump_output for ‹pump output› (if it is one name)
    "#);
    assert_snapshot!(messages("x = 3 bags per 8 h"), @r#"
    error syntax ‹per 8 h›: a number behind `per`
      expected  a unit word behind `per`, or a division
      repair    3 bags / (8 h) for ‹3 bags per 8 h›
    "#);
    assert_snapshot!(messages("x = 12 per"), @r#"
    error syntax ‹per›: the line ends too early
      label     nothing behind it
      expected  a unit word behind `per`
    "#);
    assert_snapshot!(messages("x = 5 cfm free air"), @r#"
    error juxtaposed ‹air›: `air` behind a value that has ended
      expected  an operator or the end of the line
    "#);
    assert_snapshot!(messages("x = tank []"), @r#"
    error syntax ‹[]›: an empty bracket
      expected  a unit; `[1]` says that it is a plain number
      repair    [1] for ‹[]›
    "#);
    assert_snapshot!(messages("x = tank [5 gal]"), @r#"
    error syntax ‹5›: `5` is no part of a unit
      expected  unit words joined by blanks, `*`, `/` or `per`
    "#);
    assert_snapshot!(messages("x = tank [gal"), @r#"
    error syntax ‹[›: the bracket `[` is not closed
      label     opened here
      expected  a unit and `]`
    "#);
    assert_snapshot!(messages("x [s K^0.5/m] = 3"), @r#"
    error syntax ‹^0.5›: a power that cannot be read
      expected  a small whole number or a fraction in brackets, as in `s^2` or `K^(1/2)`
      repair    ^(1/2) for ‹^0.5›
    "#);
    assert_snapshot!(messages("x = 60 gal to L"), @r#"
    error syntax ‹to›: `to` cannot stand here
      expected  an operator or the end of the line
      repair    60 gal [L] for ‹60 gal to L›
    "#);
    assert_snapshot!(messages("x = 60 gal in L to"), @r#"
    error syntax ‹to›: `to` cannot stand here
      expected  an operator or the end of the line
    "#);
    assert_snapshot!(messages("x = % 5"), @r#"
    error syntax ‹%›: the unit `%` has no number
      expected  a number before the unit
    "#);
    assert_snapshot!(messages("x = 20° C + 5 deg F"), @r#"
    error syntax ‹° C›: a temperature scale in two words
      label     would be an angle times a charge or capacitance
      expected  one word
      repair    °C for ‹° C›
    error syntax ‹deg F›: a temperature scale in two words
      label     would be an angle times a charge or capacitance
      expected  one word
      repair    °F for ‹deg F›
    "#);
    assert_snapshot!(messages("x = 5 % of 200 psi"), @r#"
    error syntax ‹of›: `of` cannot stand here
      expected  an operator or the end of the line
      repair    * for ‹of›
    "#);
    assert_snapshot!(messages("x = 90 psi!"), @r#"
    error syntax ‹!›: `!` cannot stand here
      expected  an operator or the end of the line
    "#);
    assert_snapshot!(messages("x = 3 h 20 min"), @r#"
    error juxtaposed ‹3 h 20 min›: two amounts side by side
      label     no sign before `20`
      expected  an operator between them
      repair    3 h + 20 min for ‹3 h 20 min›
    "#);
    assert_snapshot!(messages(r#"x = guns["small"]"#), @r#"
    error syntax ‹["small"]›: a row without a column
      expected  a dot and a column behind the key, as in `guns["small"].bore`
    "#);
}

/// Values side by side, brackets, texts, ±.
#[test]
fn values() {
    assert_snapshot!(messages("x = (a) (b)"), @r#"
    error juxtaposed ‹(a) (b)›: two values side by side
      label     no sign before `(`
      expected  an operator between them
      repair    (a) * (b) for ‹(a) (b)› (a product)
    "#);
    assert_snapshot!(messages("x = f (3)"), @r#"
    error juxtaposed ‹f (3)›: two values side by side
      label     no sign before `(`
      expected  an operator between them
      repair    f( for ‹f (› (if it is a formula: without a blank)
      repair    f * (3) for ‹f (3)› (a product)
    "#);
    assert_snapshot!(messages("x = sqrt 2"), @r#"
    error juxtaposed ‹sqrt 2›: two values side by side
      label     no sign before `2`
      expected  an operator between them
      repair    sqrt(2) for ‹sqrt 2› (if it is a formula)
      repair    sqrt * 2 for ‹sqrt 2› (a product)
    "#);
    assert_snapshot!(messages("x = 2 (3 + 4)"), @r#"
    error juxtaposed ‹2 (3 + 4)›: two values side by side
      label     no sign before `(`
      expected  an operator between them
      repair    2 * (3 + 4) for ‹2 (3 + 4)› (a product)
    "#);
    assert_snapshot!(messages("x = a 5"), @r#"
    error juxtaposed ‹a 5›: two values side by side
      label     no sign before `5`
      expected  an operator between them
      repair    a(5) for ‹a 5› (if it is a formula)
      repair    a * 5 for ‹a 5› (a product)
    "#);
    assert_snapshot!(messages("x = ((3 + 4)"), @r#"
    error syntax ‹(›: the bracket `(` is not closed
      label     opened here
      expected  an operator or `)`
    "#);
    assert_snapshot!(messages("x = (3 + 4]"), @r#"
    error syntax ‹(›: the bracket `(` meets `]`
      label     opened here
      expected  an operator or `)`
    "#);
    assert_snapshot!(messages("x = 3 + 4)"), @r#"
    error syntax ‹)›: `)` closes no bracket
      expected  an operator or the end of the line
    "#);
    assert_snapshot!(messages("x = {1, 2"), @r#"
    error syntax ‹{›: the bracket `{` is not closed
      label     opened here
      expected  `,` and another item, or `}`
    "#);
    assert_snapshot!(messages(r#"x = "abc"#), @r#"
    error syntax ‹"›: a text that does not end
      label     opened here
      expected  a second `"` on the same line
    "#);
    assert_snapshot!(messages("x = 'abc'"), @r#"
    error syntax ‹'›: the sign `'` has no meaning here
      expected  double quotes around a text
    "#);
    assert_snapshot!(messages("g = guns[#6].bore"), @r##"
    error hash ‹#6›: `#6` is neither a text nor a comment
      expected  quotes around a text, or a blank behind the `#` of a comment
      repair    "#6" for ‹#6›
    "##);
    assert_snapshot!(messages("x = tank ± 1 gal"), @r#"
    error plus-minus ‹± 1 gal›: ± behind something that is no typed number
      expected  ± where the number is typed; an error that comes on top is added
      repair    tank + 0 gal ± 1 gal for ‹tank ± 1 gal› (an error added)
    "#);
    assert_snapshot!(messages("x = (a + b) ± 2 %"), @r#"
    error plus-minus ‹± 2 %›: ± behind something that is no typed number
      expected  ± where the number is typed; an error that comes on top is added
    "#);
    assert_snapshot!(messages("x = 5 psi ± -1 psi"), @r#"
    error plus-minus ‹-›: a sign behind ±
      expected  an amount without a sign: ± goes both ways
    "#);
    assert_snapshot!(messages("x = 5 psi ± f(3)"), @r#"
    error plus-minus ‹f›: a call behind ±
      expected  a number, a cell, or parentheses around the call
    "#);
    assert_snapshot!(messages("x = 5 psi ± 1 psi (max)"), @r#"
    error plus-minus ‹(max)›: a bracket behind ± that says nothing about it
      expected  `(k = 2)`, `(95 %)`, `(step)`, `(triangular)` or `(u_shaped)`
    "#);
    assert_snapshot!(messages("x = 5 psi ±"), @r#"
    error syntax ‹±›: the line ends too early
      label     nothing behind it
      expected  an amount, a cell or a bracket behind ±
    "#);
    assert_snapshot!(messages("x = mean(draw with bore = 3 mm, 5 cfm)"), @r#"
    error syntax ‹with›: `with` inside a list
      label     its commas would be those of the list
      expected  parentheses: `(draw with …)`
    "#);
}

/// Statement words without what they need.
#[test]
fn statements() {
    assert_snapshot!(messages("check the valve first"), @r#"
    error syntax ‹check›: `check` without a comparison
      expected  what must hold, as in `check draw <= 16 cfm`
    "#);
    assert_snapshot!(messages("check"), @r#"
    error syntax ‹check›: a value is missing behind `check`
      expected  a number, a name or a bracket
    "#);
    assert_snapshot!(messages("use my-shop.md"), @r#"
    error syntax ‹my›: `my` cannot stand here
      expected  the document in quotes, as in `use "my-shop.md"`
    "#);
    assert_snapshot!(messages(r#"use "a.md" as"#), @r#"
    error syntax ‹as›: the line ends too early
      label     nothing behind it
      expected  a name for its cells
    "#);
    assert_snapshot!(messages("unit"), @r#"
    error syntax ‹unit›: the line ends too early
      label     nothing behind it
      expected  a name for the unit
    "#);
    assert_snapshot!(messages("unit bag = tank"), @r#"
    error syntax ‹tank›: `tank` cannot stand here
      expected  an amount, as in `unit bag = 50 lb`
    "#);
    assert_snapshot!(messages("default 5"), @r#"
    error syntax ‹5›: `5` cannot stand here
      expected  a cell, as in `default currency = "CAD"`
    "#);
    assert_snapshot!(messages("example f(3)"), @r#"
    error syntax ‹)›: the line ends too early
      label     nothing behind it
      expected  `gives` and what comes out
    "#);
    assert_snapshot!(messages("example f(3) gives a + b"), @r#"
    error syntax ‹a›: `a` cannot stand here
      expected  a number, a text, `true`, `false`, `limit "…"` or `error` and a code
    "#);
    assert_snapshot!(messages("example f(3) gives error 5"), @r#"
    error syntax ‹5›: `5` cannot stand here
      expected  the code of an error, as in `error dimension`
    "#);
    assert_snapshot!(messages("sweep bore show draw"), @r#"
    error syntax ‹show›: `show` cannot stand here
      expected  `from … to … by …`, or `over` and a column
    "#);
    assert_snapshot!(messages("sweep bore from 2 mm to 6 mm show draw"), @r#"
    error syntax ‹show›: `show` cannot stand here
      expected  `by` and the distance of two values
    "#);
    assert_snapshot!(messages("sweep a over b, c over d, e over f show x"), @r#"
    error syntax ‹sweep a over b, c over d, e over f›: a sweep over 3 cells
      expected  one or two
    "#);
    assert_snapshot!(messages("plot draw"), @r#"
    error syntax ‹draw›: the line ends too early
      label     nothing behind it
      expected  `,` and another curve, or `against`
    "#);
    assert_snapshot!(messages("fit a log.p = 3"), @r#"
    error syntax ‹log›: `log` cannot stand here
      expected  `,` and another cell, or `to`
    "#);
    assert_snapshot!(messages("budget"), @r#"
    error syntax ‹budget›: the line ends too early
      label     nothing behind it
      expected  a cell
    "#);
    assert_snapshot!(messages("spread 3 mm"), @r#"
    error syntax ‹3›: `3` cannot stand here
      expected  a cell
    "#);
    assert_snapshot!(messages("show draw"), @r#"
    error syntax ‹show›: `show` is an order to the shell
      expected  a statement of the notebook
    "#);
    assert_snapshot!(messages("open measure.md"), @r#"
    error syntax ‹open›: `open` is an order to the shell
      expected  a statement of the notebook
    "#);
    assert_snapshot!(messages("table"), @r#"
    error syntax ‹table›: the line ends too early
      label     nothing behind it
      expected  a name for the table
    "#);
    assert_snapshot!(messages("trace morning 20 min
    stop when 3 < 4"), @r#"
    error syntax ‹20›: `20` cannot stand here
      expected  `over` and how long
    "#);
    assert_snapshot!(messages("formula f
    x"), @r#"
    error syntax ‹f›: the line ends too early
      label     nothing behind it
      expected  `(` and the parameters
    "#);
    assert_snapshot!(messages("formula f(x) [mm
    x"), @r#"
    error syntax ‹[›: the bracket `[` is not closed
      label     opened here
      expected  a unit and `]`
    "#);
}
