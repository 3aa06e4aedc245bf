//! Help pages.

use gaugebook::assist::{self, Answer, VERBS};
use gaugebook::export::text::{self, Layout};
use gaugebook::library::{CHAPTERS, EntryKind, Library};
use gaugebook::notebook::Notebook;
use gaugebook::source::Code;
use gaugebook::units::catalogue;
use std::rc::Rc;

fn empty() -> Notebook {
    Notebook::empty(Rc::new(Library::new()))
}

fn help(word: &str, width: usize) -> String {
    let help = assist::help(&empty(), word);
    format!("help {word}\n{}", text::help(&help, Layout::plain(width)))
}

#[test]
fn units_say_what_they_are_and_what_they_count_from() {
    let all: Vec<String> = [
        "psi", "psig", "cfm", "°F", "K", "kW", "gal", "min", "dBA", "in",
    ]
    .iter()
    .map(|word| help(word, 80))
    .collect();
    insta::assert_snapshot!(all.concat(), @r"
    help psi
      psi   pound per square inch, a pressure; 1 psi is 6.895 kPa
            a difference between two pressures, counted from each other
      psig  a gauge reading, counted from the air outside; 0 psig is 14.696 psia
      psia  an absolute pressure, counted from empty space
            cross over: absolute, gauge, overpressure
    help psig
      psig  pound per square inch gauge, a pressure; 1 psi is 6.895 kPa
      psi   a difference between two pressures, counted from each other
      psig  a gauge reading, counted from the air outside; 0 psig is 14.696 psia
      psia  an absolute pressure, counted from empty space
            cross over: absolute, gauge, overpressure
    help cfm
      cfm         cubic foot per minute, a volume per time; 1 cfm is 28.32 L/min
                  a flow that does not say of which air: it takes the one it meets
      cfm free    free air, at this shop's atmosphere and temperature
      acfm        line air, at the pressure in the line
      scfm        standard air, at the standard state
      cfm normal  normal air, at the normal state
      cfm anr     ANR air, at the ANR state
                  cross over: free_air, standard_air, normal_air, anr_air,
                  actual_air
    help °F
      °F  degree Fahrenheit, a temperature; 1 °R is 0.5556 K
          a thermometer reading, counted from the zero of its scale
      °R  the difference of two such readings
          cross over: absolute, thermometer
          °F is a reading, a difference is typed in °R
    help K
      K  kelvin, a temperature; 1 K is 1.8 °R
         a temperature counted from absolute zero, or a difference of two
         cross over: absolute, thermometer
    help kW
      kW  kilowatt, a power; 1 kW is 1.341 hp
          active power, what does work or heats
    help gal
      gal           US gallon, a volume; 1 gal is 3.785 L
                    room in a vessel, whatever air is in it
      gal free      free air, at this shop's atmosphere and temperature
      gal actual    line air, at the pressure in the line
      gal standard  standard air, at the standard state
      gal normal    normal air, at the normal state
      gal anr       ANR air, at the ANR state
                    cross over: free_air, standard_air, normal_air, anr_air,
                    actual_air
                    US gallon, the imperial gallon is gal_imp
    help min
      min(a, b, …) or min(column)  the smallest

      min  minute, a time; 1 min is 60 s
    help dBA
      dBA  A-weighted decibel, a level in decibels
           an A-weighted level, against 20 µPa, A-weighted
           cross over: combined_level, mean_level
    help in
      in  inch, a length; 1 in is 25.4 mm
    ");
}

#[test]
fn a_unit_with_several_readings_lists_them() {
    insta::assert_snapshot!(help("ton", 80), @r"
    help ton
      ton is one of several tons: short, long, metric, of refrigeration or of force
      ton_short  the short ton of 2000 lb
      ton_long   the long ton of 2240 lb
      t          the tonne of 1000 kg
      TR         the ton of refrigeration
      tonf       the short ton of force
    ");
}

#[test]
fn a_formula_has_a_page() {
    insta::assert_snapshot!(help("bleed_down", 80), @r"
    help bleed_down
      bleed_down(tank [gal], start [psig], stop [psig], held [s],
          start_temperature [°F] = air_temperature,
          stop_temperature [°F] = air_temperature) [cfm free]
      Shut the pump off, fill the tank, blow the gun for a minute, read the needle
      before and after. What left the tank went through the gun.
      Three things make it wrong. A leak elsewhere counts as gun: test it with the
      gun hung up, and subtract. A regulator that drifts changes the gun while you
      time it: stop well above its setting. And air that expands in the tank turns
      cold, so after a fast fall the needle comes up again by itself. Either wait
      for it to settle before you read stop, or measure the air in the tank and give
      both temperatures; a fall from 130 to 90 psig in ten seconds, read at once,
      shows a sixth to a third more than the gun took.
      formula   at_start = absolute(start) / absolute(start_temperature)
                at_stop = absolute(stop) / absolute(stop_temperature)
                tank * (at_start - at_stop) * absolute(air_temperature) /
                (atmosphere * held)
      limit     stop < start: the tank must lose pressure: start is the higher
                reading
                held > 0 s: the test must take some time
      source    ideal gas law for a closed tank; molar form in 40 CFR 1065.644
      caution   a receiver is a pressure vessel: stay under its plate pressure,
                never block the relief valve, have it inspected as local law asks
      example   bleed_down(80 gal, 125 psig, 95 psig, 75 s) gives 17.47 cfm free
                bleed_down(80 gal, 125 psig, 95 psig, 75 s, stop_temperature: 50 °F)
                gives 15.21 cfm free
      chapter   Tank tests, “What a gun uses” (stdlib/tank-tests.md, line 20)
    ");
    insta::assert_snapshot!(help("rest time", 60), @r"
    help rest time
      rest_time(tank [gal], draw [cfm free], cut_in [psig],
          cut_out [psig]) [s]
      It rests from cut-out to cut-in while the gun blows on.
      formula   tank * (cut_out - cut_in) / (atmosphere * draw)
      limit     cut_in < cut_out: the pump cuts in at the lower
                pressure
                draw > 0 cfm: nothing is drawn: the pump never
                starts again
      source    ideal gas law at constant temperature
      example   rest_time(60 gal, 5 cfm free, 95 psig, 125 psig)
                gives 196.5 s
      chapter   Receivers, “The pressure switch”
                (stdlib/receivers.md, line 83)
    ");
}

#[test]
fn verbs_topics_defaults_functions_and_messages_are_explained() {
    let all: Vec<String> = [
        "save",
        "checks",
        "atmosphere",
        "interpolate",
        "unknown_name",
        "taken-twice",
    ]
    .iter()
    .map(|word| help(word, 80))
    .collect();
    insta::assert_snapshot!(all.concat(), @r#"
    help save
      save [FILE]  put the lines that differ into its file, or into a new one
    help checks
      what has to hold
      check duty <= 75 %  "the pump runs too long"  with the words for when it does
                                                    not
      check 40 psig <= p <= 90 psig                 between two values
      check guns.draw <= pump                       row by row, for a column
      With ± a check holds from 95 % probability on, fails up to 5 %, and is too
      close to call between.
    help atmosphere
      atmosphere = 14.696 psia  the air outside; gauge readings count from here
      a default of the handbook, “Shop air”: a cell of this name replaces it
    help interpolate
      interpolate(x, xs, ys)  the value between the points of two columns, in
                              straight lines
    help unknown_name
      message unknown-name  No cell or formula has this name.
    help taken-twice
      message taken-twice  A flow without a state, taken as two different ones.
    "#);
}

#[test]
fn help_alone_lists_what_can_be_asked() {
    insta::assert_snapshot!(help("", 80), @r"
    help 
      open FILE    work in a notebook
      save [FILE]  put the lines that differ into its file, or into a new one
      undo         take the last change back
      redo [all]   do again what was taken back, or bring back what was not saved
                   last time
      remove NAME  take a cell, table, formula or check out
      show [NAME]  the whole notebook, or all digits of one cell and what it rests
                   on
      why NAME     how a cell is worked out: its line with the numbers put in
      budget NAME  which inputs make the ± of a cell
      spread NAME  the ± of a cell by trials
      help [WORD]  look up a unit, a formula, a word of the trade, a message or a
                   verb
      quit         leave; it tells first what is not saved

      help notebooks    cells with names, in any order, in a document with prose
      help uncertainty  what ± means behind a number
      help references   what a reading counts from: gauge or absolute, free or
                        standard air
      help units        numbers with units, and units of one's own
      help checks       what has to hold
      help tables       rows of values
      help formulas     formulas of the handbook, and of one's own
      help studies      other values tried
      help leak         a word of the trade; likewise a formula, a unit, a chapter,
                        a message
    ");
}

#[test]
fn a_misspelt_word_finds_its_neighbour() {
    let found = |word: &str| assist::help(&empty(), word).near;
    assert_eq!(found("bleed_dwon").as_deref(), Some("bleed_down"));
    assert_eq!(found("leek").as_deref(), Some("leak"));
    assert_eq!(found("unknown-nam").as_deref(), Some("unknown-name"));
    assert_eq!(found("psi"), None, "a word that is known needs none");
    let nothing = assist::help(&empty(), "qqqqqqqq");
    assert!(nothing.answers.is_empty() && nothing.near.is_none());
}

#[test]
fn a_word_of_the_trade_finds_formulas() {
    let Some(Answer::Found(hits)) = assist::help(&empty(), "leaks").answers.into_iter().next()
    else {
        panic!("leaks are found");
    };
    let names: Vec<&str> = hits.iter().map(|hit| hit.name.as_str()).collect();
    assert!(
        names.contains(&"leak_rate") && names.contains(&"load_unload_leak"),
        "{names:?}"
    );
}

#[test]
fn a_cell_of_the_notebook_is_told_too() {
    let notebook = super::cells("duty = 40 %");
    let help = assist::help(&notebook, "duty");
    assert!(matches!(help.answers[0], Answer::Cell(_)));
    assert!(matches!(help.answers[1], Answer::Formula(_)));
    let text = text::help(&help, Layout::plain(80));
    assert!(
        text.starts_with("  duty is 40 %, a plain number; line 2 of this notebook\n"),
        "{text}"
    );
}

#[test]
fn everything_that_has_a_name_has_a_page() {
    let notebook = empty();
    let library = notebook.library().clone();
    let mut asked: Vec<String> = library
        .entries()
        .iter()
        .map(|entry| entry.name.to_owned())
        .collect();
    asked.extend(VERBS.iter().map(|verb| verb.name.to_owned()));
    asked.extend(CHAPTERS.iter().map(|chapter| chapter.topic().to_owned()));
    asked.extend(Code::ALL.iter().map(|code| code.name().to_owned()));
    asked.extend(catalogue().map(|unit| unit.symbol.to_owned()));
    for word in asked {
        let help = assist::help(&notebook, &word);
        assert!(
            !help.answers.is_empty() && help.near.is_none(),
            "help {word}"
        );
        for width in [40, 80] {
            let text = text::help(&help, Layout::plain(width));
            // A word alone is not cut.
            let wide = text.lines().find(|line| {
                let columns = unicode_width::UnicodeWidthStr::width(*line);
                columns > width && line.split_whitespace().count() > 1
            });
            assert_eq!(wide, None, "help {word}");
        }
    }
}

#[test]
fn every_formula_of_the_handbook_shows_an_example() {
    let notebook = empty();
    for entry in notebook.library().entries() {
        if entry.kind != EntryKind::Formula {
            continue;
        }
        let help = assist::help(&notebook, entry.name);
        let page = help.answers.iter().find_map(|answer| match answer {
            Answer::Formula(page) => Some(page),
            _ => None,
        });
        let page = page.unwrap_or_else(|| panic!("{} has no page", entry.name));
        assert!(
            !page.examples.is_empty(),
            "{} has no example with a value",
            entry.name
        );
        assert!(!page.prose.is_empty(), "{} has no prose", entry.name);
        assert!(!page.sources.is_empty(), "{} has no source", entry.name);
    }
}

#[test]
fn the_contents_name_every_entry() {
    let library = Library::new();
    let contents = assist::contents(&library);
    let text = text::contents(&contents, Layout::plain(80));
    for entry in library.entries() {
        assert!(
            text.contains(entry.name),
            "{} is not in the contents",
            entry.name
        );
    }
    assert_eq!(contents.chapters.len(), CHAPTERS.len());
}

#[test]
fn lines_of_the_guide_can_be_typed() {
    for guide in assist::GUIDE {
        let mut text = String::new();
        for (line, _) in guide.lines {
            if !line.starts_with(' ') && !text.is_empty() {
                assert_reads(guide.title, &text);
                text.clear();
            }
            text.push_str(line);
            text.push('\n');
        }
        assert_reads(guide.title, &text);
    }
}

fn assert_reads(title: &str, text: &str) {
    let statement = gaugebook::syntax::parse_entry(text);
    let errors: Vec<&str> = statement
        .diagnostics
        .iter()
        .filter(|one| one.severity == gaugebook::source::Severity::Error)
        .map(|one| one.message.as_str())
        .collect();
    assert!(errors.is_empty(), "{title}: {text}: {errors:?}");
}
