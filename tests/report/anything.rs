//! Nothing that stands in a document or is typed makes a screen fail, at any width.

use super::{cells, open, read};
use gaugebook::assist;
use gaugebook::export::{json, text, text::Layout};
use gaugebook::report;
use proptest::prelude::*;

const LINES: &[&str] = &[
    "a = 3 mm ± 0.1 mm",
    "b [in] = a * 2  # a remark",
    "c = b + d",
    "d = a - 1 s",
    "a = 4 mm",
    "f = {1, 2 ± 0.5, 3} psig",
    "g = bleed_down(80 gal, 125 psig, 95 psig, 75 s)",
    "h = g / plate",
    "plate = 18 scfm",
    "check a > 3 mm \"too small\"",
    "check f < 2 psig",
    "check nothing == 1",
    "table t\n    k | x [mm] | y\n    eins | 1 | text\n    zwei | - | #6\n    三 | 3 ± 1 | ±",
    "t.z = 1 mm / t.x",
    "t.w = t.z * t.nothing",
    "i = t[\"三\"].x",
    "j = t[\"four\"].x",
    "formula own(x [mm], y = 2) [mm2]\n    limit x > 1 mm \"small\"\n    u = x * y\n    u * x",
    "k = own(a, y: 3)",
    "l = own(own(a), 2)",
    "m = if a > 3 mm then b else f",
    "n = \"text with ± and 漢字\"",
    "o = a > 3 mm",
    "p = solve x [mm] for x * x = 9 mm2 from 1 mm to 5 mm",
    "q = readings({1, 2} s) ± 0.1 s",
    "r = 1e-300 m ± 1e-301 m",
    "漢字_名 = 12.5 gal",
    "u = x u",
    "v = 60 gal / a",
    "w = 1 / (a - a)",
    "sweep a from 1 mm to 3 mm by 1 mm show b, k",
    "unit bag = 50 lb",
    "y = 3 bags / (8 h)",
    "use \"other.md\" as other",
    "z = other.tank",
    "atmosphere = 12 psia",
    "aa = standard_air(g)",
    "ab = -2^2 + 3^0.5 * (1/2)",
    "ac = ((((1 mm)))) [1]",
];

fn line() -> impl Strategy<Value = String> {
    prop_oneof![
        6 => (0..LINES.len()).prop_map(|at| LINES[at].to_owned()),
        1 => "[a-z]{1,3} = [-a-z0-9 ±%/*()\\[\\]{},.]{1,12}",
        1 => "\\PC{0,20}",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn every_screen_of_any_notebook_can_be_drawn(
        lines in prop::collection::vec(line(), 0..14),
        entry in line(),
        word in "\\PC{0,10}",
        width in 0usize..130,
        unicode in any::<bool>(), colour in any::<bool>(), plain in any::<bool>(),
    ) {
        let layout = Layout { width, unicode, colour, plain };
        let document = format!("# T {word}\n\n## S\n\n```gaugebook\n{}\n```\n", lines.join("\n"));
        let mut notebook = open(&document);
        let report = read(&notebook);
        let shown = text::report(&report, layout) + &text::messages(&report, layout);
        prop_assert!(unicode || shown.is_ascii(), "{shown}");
        for check in &report.checks {
            let _ = text::check_line(&report.path, check, layout);
        }
        let object: serde_json::Value = serde_json::from_str(&json::report(&report)).expect("it is an object");
        prop_assert!(object.is_object());
        let all: Vec<_> = notebook.cells().map(|(id, _)| id).collect();
        for cell in all {
            let _ = text::why(&report::why(&notebook, cell), layout);
            let _ = text::page(&report::page(&notebook, cell), layout);
            let _ = text::sentence(&report::sentence(&notebook, cell), layout);
        }
        if let Ok(edit) = notebook.enter_statement(&entry) {
            let _ = text::ripple(&report::ripple(&notebook, &edit), layout);
        }
        let _ = text::help(&assist::help(&notebook, &word), layout);
        let _ = assist::complete(&notebook, &entry, entry.len() / 2);
    }
}

#[test]
fn wide_letters_keep_their_columns() {
    let notebook = cells("漢字_名 = 12.5 gal  # 説明\ntank = 3 gal  # plain");
    insta::assert_snapshot!(super::screen(&notebook, 80), @r"
    2 given

      given ─── value ─ unit ─ remark ──────────────────────────────────────────────
      漢字 名   12.5    gal    説明
      tank       3      gal    plain
    ");
}
