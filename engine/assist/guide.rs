//! Short answers about the language itself, for whoever asks `help` for one of its words.

/// A topic of the language.
#[derive(Debug, PartialEq, Eq)]
pub struct Guide {
    /// The words it is found by, the first of them its name.
    pub words: &'static [&'static str],
    /// What it is about, in a few words.
    pub title: &'static str,
    /// Lines that can be typed, each with what it does.
    pub lines: &'static [(&'static str, &'static str)],
    /// What else is worth knowing.
    pub notes: &'static [&'static str],
}

/// Every topic, in the order of the help.
pub const GUIDE: &[Guide] = &[
    Guide {
        words: &["notebooks", "notebook", "cells", "cell"],
        title: "cells with names, in any order, in a document with prose",
        lines: &[
            (
                "tank = 60 gal ± 1 gal  # nameplate",
                "a value you give, its ±, and a remark",
            ),
            (
                "half = tank / 2",
                "worked out, and again whenever tank changes",
            ),
            (
                "draw [L/min free] = 12 cfm free",
                "shown in the unit in the bracket",
            ),
            (
                "check half >= 25 gal  \"too small\"",
                "what has to hold, and what is wrong if not",
            ),
        ],
        notes: &[
            "In a document the lines stand between ```gaugebook and ```; everything else is prose. Headings group the results.",
            "Order does not matter. Setting a cell again replaces it and shows everything that changes with it.",
        ],
    },
    Guide {
        words: &["uncertainty", "±", "+/-", "limit", "limits"],
        title: "what ± means behind a number",
        lines: &[
            (
                "held = 80.3 s ± 0.4 s",
                "a limit: it lies between, all values alike",
            ),
            (
                "pump = 19.7 cfm free ± 0.8 cfm (95 %)",
                "an interval of 95 %",
            ),
            (
                "mass = 12.4 kg ± 0.1 kg (k = 2)",
                "two standard uncertainties",
            ),
            ("volt = 231 V ± 1 V (step)", "the last digit of a display"),
            (
                "held = readings({80.1, 80.9, 80.4} s)",
                "the mean of readings and their scatter",
            ),
        ],
        notes: &[
            "Results show ± at 95 %. A cell used twice is one source, so x - x is 0 ± 0.",
            "An error that several readings share is a cell of its own: start = 126 psig + dial_error.",
        ],
    },
    Guide {
        words: &[
            "references",
            "reference",
            "gauge",
            "free",
            "actual",
            "standard",
            "normal",
        ],
        title: "what a reading counts from: gauge or absolute, free or standard air",
        lines: &[
            ("stop = 94 psig", "a gauge reading, from the air outside"),
            ("inlet = 14.7 psia", "absolute, from empty space"),
            ("drop = 3 psi", "a difference"),
            (
                "draw = 12 cfm free",
                "air of this shop; scfm standard, acfm in the line",
            ),
        ],
        notes: &[
            "Nothing converts silently: absolute(…), gauge(…), overpressure(…), free_air(…), standard_air(…) do.",
            "atmosphere = 12.2 psia sets this shop's air; altitude_pressure(5280 ft) works it out.",
        ],
    },
    Guide {
        words: &["units", "unit"],
        title: "numbers with units, and units of one's own",
        lines: &[
            ("hose = 1 1/2 in", "workshop fractions are numbers"),
            ("speed = 60 gal/min", "/ and * stand tight inside a unit"),
            (
                "price = $ 0.14/kWh",
                "money is a unit; currencies do not mix",
            ),
            ("unit bag, bags = 50 lb", "a unit of your own"),
            ("rate [bags/h] = 400 lb / (2 h)", "shown in it"),
        ],
        notes: &["`help psi`, `help cfm` tell of one unit."],
    },
    Guide {
        words: &["checks", "check"],
        title: "what has to hold",
        lines: &[
            (
                "check duty <= 75 %  \"the pump runs too long\"",
                "with the words for when it does not",
            ),
            ("check 40 psig <= p <= 90 psig", "between two values"),
            ("check guns.draw <= pump", "row by row, for a column"),
        ],
        notes: &[
            "With ± a check holds from 95 % probability on, fails up to 5 %, and is too close to call between.",
        ],
    },
    Guide {
        words: &["tables", "table", "columns", "column"],
        title: "rows of values",
        lines: &[
            ("table guns", "the rows follow, indented:"),
            (
                "    gun   | bore [mm] | draw [cfm free]",
                "the head: a key, then names with units",
            ),
            (
                "    small | 2.4       | 7.5 ± 0.3",
                "a row; - is an empty field",
            ),
            ("guns.duty [%] = guns.draw / pump", "a column worked out"),
            ("one = guns[\"small\"].draw", "one value, by its key"),
        ],
        notes: &[
            "min, max, sum, mean and count make one value of a column; {2, 3, 4} mm is a column too.",
        ],
    },
    Guide {
        words: &["formulas", "formula"],
        title: "formulas of the handbook, and of one's own",
        lines: &[
            (
                "draw = bleed_down(tank, 126 psig, 94 psig, 80 s)",
                "in the order of its help",
            ),
            (
                "draw = bleed_down(tank, stop: 94 psig, start: 126 psig, held: 80 s)",
                "or by name",
            ),
            (
                "formula ring(outer [in], inner [in]) [in2]",
                "one of your own; the body follows, indented:",
            ),
            (
                "    pi / 4 * (outer^2 - inner^2)",
                "the last line is the result",
            ),
        ],
        notes: &[
            "`help leak` finds formulas by a word of the trade; `why draw` shows the numbers put in.",
        ],
    },
    Guide {
        words: &[
            "studies", "sweep", "sweeps", "solve", "with", "plot", "trace",
        ],
        title: "other values tried",
        lines: &[
            ("duty with bore = 3.2 mm", "the value it would have"),
            ("solve tank for hold = 10 min", "the value that makes it so"),
            (
                "sweep bore from 2 mm to 4 mm by 0.4 mm show draw, duty",
                "a table over many",
            ),
        ],
        notes: &["The cells themselves stay as they are."],
    },
];

/// The topic that a word names.
pub(super) fn topic(word: &str) -> Option<&'static Guide> {
    GUIDE.iter().find(|guide| guide.words.contains(&word))
}
