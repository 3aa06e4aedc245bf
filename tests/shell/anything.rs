//! Whatever is typed, the shell answers with whole lines and goes on.

use gaugebook::library::Library;
use gaugebook::shell::Session;
use gaugebook::shell::screen::Screen;
use proptest::prelude::*;
use std::rc::Rc;

const PIECES: &[&str] = &[
    "tank",
    "draw",
    "held",
    "=",
    "+",
    "-",
    "*",
    "/",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    "60 gal",
    "126 psig",
    "94 psi",
    "55 s",
    "±",
    "(95 %)",
    "bleed_down(",
    "free_air(",
    "gal",
    "cfm free",
    "#",
    "# x",
    "\"a\"",
    "'",
    "|",
    "table t",
    "formula f(x)",
    "check ",
    "unit b",
    "use ",
    "example ",
    "gives",
    "with ",
    "solve ",
    "show ",
    "why ",
    "help ",
    "undo",
    "redo",
    "redo all",
    "remove ",
    "1e300",
    "99999999999999999999",
    "½",
    "1/8 in",
    "°C",
    "²",
    "^",
    "<=",
    "if ",
    "then ",
    "else ",
    "\n",
    "\n    ",
    "\t",
    "…",
    "漢字",
    "\u{202e}",
    "\u{301}",
    "```gaugebook\n",
    "> ",
    "[code]\n",
    ",",
    ":",
    "readings({",
    "budget ",
    "sweep ",
    "trace x over ",
    "atmosphere",
    "true",
    "$ 5",
    "per ",
    "round(",
    "interpolate(",
    "t.a",
    "t[1].b",
    "dBA",
    "Hz",
];

fn entry() -> impl Strategy<Value = String> {
    let pieces = prop::collection::vec(0..PIECES.len(), 1..8);
    (pieces, any::<bool>()).prop_map(|(pieces, blanks)| {
        let pieces: Vec<&str> = pieces.into_iter().map(|piece| PIECES[piece]).collect();
        pieces.join(if blanks { " " } else { "" })
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn answers_are_whole_lines_within_the_width(entries in prop::collection::vec(entry(), 1..8), width in 40..100_usize) {
        let screen = Screen { width, unicode: true, colour: false, colour_of_messages: false, plain: false };
        let mut session = Session::new(Rc::new(Library::new()), screen, None);
        session.enter("tank = 60 gal ± 1 gal");
        for entry in &entries {
            let outcome = session.enter(entry);
            for text in [&outcome.answer, &outcome.messages] {
                prop_assert!(text.is_empty() || text.ends_with('\n'), "{:?} to {:?}", text, entry);
                prop_assert!(!text.contains('\u{202e}') && !text.contains('\u{1b}'), "{:?} to {:?}", text, entry);
            }
            if outcome.is_wrong {
                prop_assert!(!outcome.messages.is_empty() || !outcome.answer.is_empty(), "nothing to {:?}", entry);
            }
        }
        prop_assert_eq!(session.enter("2 + 3").answer, "  5\n");
    }
}
