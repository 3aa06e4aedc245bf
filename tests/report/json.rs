//! The object for other programs, compared whole.

use super::{cells, open, read};
use gaugebook::export::json;

#[test]
fn every_kind_of_cell_check_and_message() {
    let notebook = open(
        "# Shop\n\nInvented.\n\n## Cells\n\n```gaugebook\ntank = 60 gal ± 1 gal\nmass = 12 kg ± 0.2 kg (k = 2)\n\
         held = readings({54.6, 55.3, 55.1} s)\nthird = tank / 3\nname = \"Ada\"\non_call = on\nshare [1] = 3 mm / 4 mm\n\
         bad = 1 mm + 1 s\nnext = bad * 2\ntable guns\n    gun | draw [cfm free]\n    small | 7.5\n    large | 16 ± 0.5\n    odd | -\n\
         check third >= 19 gal \"too small\"\ncheck guns.draw[0] > 1\ncheck {1, 3} mm < 2 mm\n```\n",
    );
    insta::assert_snapshot!(json::report(&read(&notebook)), @r#"
    {
      "title": "Shop",
      "cells": [
        {
          "name": "tank",
          "section": "Cells",
          "value": "60",
          "unit": "gal",
          "uncertainty": {
            "standard": "0.577350269189626",
            "expanded": "1",
            "coverage": null,
            "dof": null
          },
          "state": "ok"
        },
        {
          "name": "mass",
          "section": "Cells",
          "value": "12",
          "unit": "kg",
          "uncertainty": {
            "standard": "0.1",
            "expanded": "0.2",
            "coverage": "2",
            "dof": null
          },
          "state": "ok"
        },
        {
          "name": "held",
          "section": "Cells",
          "value": "55",
          "unit": "s",
          "uncertainty": {
            "standard": "0.208166599946613",
            "expanded": "0.89566858950296",
            "coverage": "4.30265272974946",
            "dof": "2"
          },
          "state": "ok"
        },
        {
          "name": "third",
          "section": "Cells",
          "value": "20",
          "unit": "gal",
          "uncertainty": {
            "standard": "0.192450089729875",
            "expanded": "0.333333333333333",
            "coverage": null,
            "dof": null
          },
          "state": "ok"
        },
        {
          "name": "name",
          "section": "Cells",
          "value": "Ada",
          "unit": null,
          "uncertainty": null,
          "state": "ok"
        },
        {
          "name": "on_call",
          "section": "Cells",
          "value": true,
          "unit": null,
          "uncertainty": null,
          "state": "ok"
        },
        {
          "name": "share",
          "section": "Cells",
          "value": "0.75",
          "unit": "1",
          "uncertainty": null,
          "state": "ok"
        },
        {
          "name": "bad",
          "section": "Cells",
          "value": null,
          "unit": null,
          "uncertainty": null,
          "state": "failed"
        },
        {
          "name": "next",
          "section": "Cells",
          "value": null,
          "unit": null,
          "uncertainty": null,
          "state": "waiting"
        },
        {
          "name": "guns.gun",
          "section": "Cells",
          "value": [
            "small",
            "large",
            "odd"
          ],
          "unit": null,
          "uncertainty": null,
          "state": "ok"
        },
        {
          "name": "guns.draw",
          "section": "Cells",
          "value": [
            "7.5",
            "16",
            null
          ],
          "unit": "cfm free",
          "uncertainty": [
            null,
            {
              "standard": "0.288675134594813",
              "expanded": "0.5",
              "coverage": null,
              "dof": null
            },
            null
          ],
          "state": "ok"
        }
      ],
      "checks": [
        {
          "text": "too small",
          "condition": "third >= 19 gal",
          "outcome": "holds",
          "probability": 0.9999998982722693
        },
        {
          "text": "{1, 3} mm < 2 mm",
          "condition": "{1, 3} mm < 2 mm",
          "outcome": "fails",
          "probability": 0.0,
          "rows": [
            {
              "outcome": "holds",
              "probability": 1.0
            },
            {
              "outcome": "fails",
              "probability": 0.0
            }
          ]
        }
      ],
      "messages": [
        {
          "code": "seems-precise",
          "severity": "note",
          "text": "12 kg has fewer digits than its ± implies",
          "line": 9,
          "column": 8,
          "cell": "mass"
        },
        {
          "code": "dimension",
          "severity": "error",
          "text": "a time added to a length",
          "line": 15,
          "column": 7,
          "cell": "bad"
        },
        {
          "code": "waits",
          "severity": "error",
          "text": "next waits for bad",
          "line": 16,
          "column": 8,
          "cell": "next"
        },
        {
          "code": "bracket",
          "severity": "error",
          "text": "a unit bracket where no expression ends",
          "line": 23,
          "column": 16,
          "cell": null
        }
      ],
      "studies": []
    }
    "#);
}

#[test]
fn decimals_keep_every_digit() {
    let notebook = cells(
        "x = 1 mm / 3\ny = 0.1 psi + 0.2 psi\nz = 1e-300 m\nv = 123456789012345678901234567.8 mm",
    );
    let text = json::report(&read(&notebook));
    for digits in [
        "\"0.3333333333333333333333333333\"",
        "\"0.3\"",
        "\"1e-300\"",
        "\"1.234567890123456789012345678e26\"",
    ] {
        assert!(text.contains(digits), "{digits} in {text}");
    }
}

#[test]
fn an_empty_notebook_is_an_object_too() {
    insta::assert_snapshot!(json::report(&read(&open(""))), @r#"
    {
      "title": null,
      "cells": [],
      "checks": [],
      "messages": [],
      "studies": []
    }
    "#);
}
