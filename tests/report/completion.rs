//! What is offered while a line is typed. The bar stands for the cursor.

use super::{GUN, open};
use gaugebook::assist::{self, CandidateKind};
use proptest::prelude::*;

/// The first candidates at the bar, and where the word begins that they replace.
fn offered(line: &str) -> (usize, Vec<String>) {
    let cursor = line.find('|').expect("a bar marks the cursor");
    let completion = assist::complete(&open(GUN), &line.replace('|', ""), cursor);
    let texts = completion.candidates.into_iter().map(|one| one.text);
    (completion.start, texts.take(4).collect())
}

fn hinted(line: &str) -> Option<String> {
    let cursor = line.find('|').expect("a bar marks the cursor");
    assist::hint(&open(GUN), &line.replace('|', ""), cursor)
}

#[test]
fn a_line_begins_with_a_verb_a_statement_or_a_cell() {
    assert_eq!(
        offered("sa|"),
        (
            0,
            vec![
                "save ".into(),
                "saturation_over_water(".into(),
                "saturation_over_ice(".into(),
                "saturation_pressure(".into()
            ]
        )
    );
    assert_eq!(offered("  che|").1[0], "check ");
    assert_eq!(offered("pump_o|"), (0, vec!["pump_output".into()]));
}

#[test]
fn verbs_are_followed_by_what_they_take() {
    assert_eq!(offered("why ref|"), (4, vec!["refill".into()]));
    assert!(
        offered("help bleed_d|")
            .1
            .contains(&"bleed_down".to_owned())
    );
    assert_eq!(
        offered("open gu|").1,
        Vec::<String>::new(),
        "files are for whoever can see them"
    );
}

#[test]
fn parameters_that_have_no_argument_yet_come_first() {
    assert_eq!(
        offered("x = bleed_down(|").1,
        ["tank: ", "start: ", "stop: ", "held: "]
    );
    assert_eq!(
        offered("x = bleed_down(tank, st|").1,
        [
            "start: ",
            "stop: ",
            "start_temperature: ",
            "stop_temperature: "
        ]
    );
    assert_eq!(
        offered("x = bleed_down(held: 3 s, ta|").1[..2],
        ["tank: ", "tank"]
    );
    assert_eq!(
        offered("x = bleed_down(tank, start, stop, held, st|").1[0],
        "start_temperature: "
    );
}

#[test]
fn units_stand_behind_numbers_and_in_brackets() {
    for line in [
        "x = 80 psi|",
        "x = 80psi|",
        "draw [psi|",
        "x = 80 ± 2 psi|",
        "f(a [psi|",
    ] {
        assert_eq!(offered(line).1[0], "psi", "{line}");
    }
    assert_eq!(offered("x = 60 gal/mi|").1[0], "mi");
    assert_eq!(offered("x = 19.7 cfm f|").1, ["free"]);
    assert_eq!(offered("x = 19.7 psi |").1, ["gauge", "abs"]);
}

#[test]
fn columns_stand_behind_the_dot() {
    let notebook =
        super::cells("table guns\n    gun | bore [mm]\n    a | 2\nguns.twice = guns.bore * 2");
    let names = |line: &str| {
        let completion = assist::complete(&notebook, line, line.len());
        completion
            .candidates
            .into_iter()
            .map(|one| one.text)
            .collect::<Vec<_>>()
    };
    assert_eq!(names("x = guns."), ["gun", "bore", "twice"]);
    assert_eq!(names("x = max(guns.bo"), ["bore"]);
}

#[test]
fn nothing_is_offered_in_texts_and_comments() {
    assert_eq!(offered("x = \"dra|").1, Vec::<String>::new());
    assert_eq!(offered("x = 3 mm  # dra|").1, Vec::<String>::new());
}

#[test]
fn hints_say_what_a_call_still_wants() {
    assert_eq!(
        hinted("x = bleed_down(|").as_deref(),
        Some("tank [gal], start [psig], stop [psig], held [s]; 2 more with a default")
    );
    assert_eq!(
        hinted("x = bleed_down(tank, 126 psig, |").as_deref(),
        Some("stop [psig], held [s]; 2 more with a default")
    );
    assert_eq!(
        hinted("x = bleed_down(tank, start, stop, held, |").as_deref(),
        Some("start_temperature [°F] = air_temperature")
    );
    assert_eq!(
        hinted("x = bleed_down(held: |").as_deref(),
        Some("held [s]; 2 more with a default")
    );
    assert_eq!(hinted("x = sqrt(|").as_deref(), Some("x"));
    assert_eq!(hinted("x = 3 * (|"), None);
    assert_eq!(
        hinted("draw|").as_deref(),
        Some("16.09 ± 0.45 cfm free (95 %)")
    );
}

#[test]
fn every_candidate_fits_what_is_typed() {
    let notebook = open(GUN);
    let completion = assist::complete(&notebook, "x = Ps", 6);
    assert!(
        completion
            .candidates
            .iter()
            .all(|one| one.text.to_lowercase().starts_with("ps"))
    );
    let kinds = |kind| completion.candidates.iter().any(|one| one.kind == kind);
    assert!(!kinds(CandidateKind::Verb));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Nothing that is typed makes completion or hints fail, wherever the cursor is.
    #[test]
    fn any_text_and_cursor_will_do(line in "[a-z0-9 _.,:(){}\\[\\]\"#±°µ½/*^|-]{0,40}", at in 0usize..60) {
        let notebook = super::cells("tank = 60 gal");
        let completion = assist::complete(&notebook, &line, at);
        prop_assert!(completion.start <= line.len());
        prop_assert!(line.is_char_boundary(completion.start));
        let _ = assist::hint(&notebook, &line, at);
        let _ = assist::signature(&notebook, &line, at);
    }
}
