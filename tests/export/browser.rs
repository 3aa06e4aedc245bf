//! The live page in a browser: fields are typed into, and what the page shows is held to what the
//! program gives for the same statements. Without a browser these tests say so and stop; `.ci/run`
//! installs one.

use super::devtools::Browser;
use super::script::open;
use gaugebook::export::page::page;
use gaugebook::notebook::{CellState, Notebook, Role};
use gaugebook::report::{Options, Outcome, report};
use serde_json::Value;

const SHOP: &str = include_str!("cabinet.md");

/// A browser, or a word on why there is none.
fn browser() -> Option<Browser> {
    let browser = Browser::start();
    if browser.is_none() {
        println!("skipped: no Chromium is installed (apt-get install chromium)");
    }
    browser
}

/// What the page shows of each worked-out cell: name, value, ±, unit.
fn shown_by_page(browser: &mut Browser) -> Vec<(String, String)> {
    let rows = browser.evaluate(
        "[...document.querySelectorAll('table.values tr')].map(row => {\
           const name = row.querySelector('th').firstChild.textContent;\
           const parts = [...row.querySelectorAll('td')].map(box => box.textContent);\
           return [name, parts.join(' ').replace(/\\s+/g, ' ').trim()]; })",
    );
    pairs(&rows)
}

fn pairs(rows: &Value) -> Vec<(String, String)> {
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let rows = rows.as_array().expect("rows").iter();
    rows.map(|row| (text(&row[0]), text(&row[1]))).collect()
}

/// The same as the program shows it.
fn shown_by_program(notebook: &Notebook) -> Vec<(String, String)> {
    let mut rows = Vec::new();
    for section in &report(notebook, Options::default()).sections {
        for row in section.rows(gaugebook::report::RowKind::WorkedOut) {
            let line = gaugebook::export::html::value_line(&row.shown);
            rows.push((row.name.replace('_', " "), line));
        }
    }
    rows
}

fn checks_by_page(browser: &mut Browser) -> Vec<(String, String)> {
    let rows = browser.evaluate(
        "[...document.querySelectorAll('table.checks tr')].map(row => \
           [row.querySelector('.word').textContent, row.querySelector('.chance').textContent])",
    );
    pairs(&rows)
}

fn checks_by_program(notebook: &Notebook) -> Vec<(String, String)> {
    let checks = report(notebook, Options::default()).checks;
    let checks = checks.iter().map(|check| {
        let word = match &check.outcome {
            Outcome::Holds => "holds",
            Outcome::Fails => "fails",
            Outcome::Open => "too close to call",
            Outcome::Unknown(_) => "waits",
        };
        let chance = check.chance.map(|chance| chance.to_string());
        (word.to_owned(), chance.unwrap_or_default())
    });
    checks.collect()
}

fn agree(browser: &mut Browser, notebook: &Notebook, about: &str) {
    assert_eq!(
        shown_by_page(browser),
        shown_by_program(notebook),
        "{about}"
    );
    assert_eq!(
        checks_by_page(browser),
        checks_by_program(notebook),
        "{about}"
    );
    assert!(browser.log.is_empty(), "{about}: {:?}", browser.log);
}

/// Types into the field of a cell, and leaves it.
fn fill(browser: &mut Browser, cell: &str, value: &str, amount: Option<&str>) {
    let script = format!(
        "(() => {{ const label = [...document.querySelectorAll('.field label')].find(label => label.querySelector('.name').textContent === {cell:?});\
           const id = label.htmlFor.slice(1);\
           const set = (box, text) => {{ box.focus(); box.value = text; \
             box.dispatchEvent(new Event('input', {{bubbles: true}})); box.dispatchEvent(new Event('change', {{bubbles: true}})); }};\
           {};\
           set(document.getElementById('f' + id), {value:?});\
           return id; }})()",
        match amount {
            Some(amount) => format!("set(document.getElementById('a' + id), {amount:?})"),
            None => "0".to_owned(),
        }
    );
    browser.evaluate(&script);
}

fn note_of(browser: &mut Browser, cell: &str) -> String {
    let script = format!(
        "(() => {{ const label = [...document.querySelectorAll('.field label')].find(label => label.querySelector('.name').textContent === {cell:?});\
           return document.getElementById('n' + label.htmlFor.slice(1)).textContent; }})()"
    );
    browser
        .evaluate(&script)
        .as_str()
        .unwrap_or_default()
        .to_owned()
}

fn set(notebook: &mut Notebook, statement: &str) {
    if let Err(messages) = notebook.enter_statement(statement) {
        panic!("{statement}: {messages:?}");
    }
}

#[test]
fn a_page_follows_what_is_typed_as_the_program_does() {
    let Some(mut browser) = browser() else { return };
    let mut notebook = open(SHOP);
    for (id, cell) in notebook.cells() {
        let own = cell.role != Role::Handbook;
        assert!(
            !own || cell.state == CellState::Ok,
            "{} {:?}",
            cell.name,
            notebook.messages(id)
        );
    }
    let made = page(&notebook);
    assert!(made.left_out.is_empty(), "{:?}", made.left_out);
    browser.open(&made.html);
    agree(&mut browser, &notebook, "as written");
    // Each: cell, what is typed, what behind ±, and the statement that says the same. The head
    // keeps the unit in which the page shows what follows.
    let edits: &[(&str, &str, Option<&str>, &str)] = &[
        ("tank", "300 L", None, "tank [gal] = 300 L ± 0.6 gal"),
        ("tank", "300", Some("2 %"), "tank [gal] = 300 L ± 2 %"),
        (
            "pump",
            "17.25",
            Some("0.5"),
            "pump = 17.25 ± 0.5 cfm free (95 %)",
        ),
        (
            "pump",
            "480 L/min free",
            Some("4 %"),
            "pump [cfm free] = 480 L/min free ± 4 % (95 %)",
        ),
        (
            "start",
            "8.5 barg",
            Some("0.05"),
            "start [psig] = 8.5 barg ± 0.05 bar + needle",
        ),
        (
            "needle",
            "0",
            Some("3 % of 200 psi"),
            "needle = 0 psi ± 3 % of 200 psi",
        ),
        ("jet", "7/64", None, "jet = 7/64 in"),
        ("jet", "2 mm", Some("0.02"), "jet [in] = 2 mm ± 0.02 mm"),
        (
            "jet",
            "1 1/2 in ± 1/64 in",
            Some(""),
            "jet = 1 1/2 in ± 1/64 in",
        ),
        (
            "jet",
            "0.1",
            Some("0.001 (k = 2)"),
            "jet = 0.1 in ± 0.001 in (k = 2)",
        ),
        (
            "held",
            "92.1, 93.4, 92.8, 92.6, 93.0",
            None,
            "held = readings({92.1, 93.4, 92.8, 92.6, 93.0} s) ± 0.3 s",
        ),
        (
            "held",
            "1.5, 1.6, 1.55 min",
            Some("0.5"),
            "held [s] = readings({1.5, 1.6, 1.55} min) ± 0.5 min",
        ),
        ("room", "30 °C", None, "room [°F] = 30 °C"),
        ("price", "0.21", None, "price = $ 0.21/kWh"),
        ("wanted", "65", None, "wanted = 65 %"),
        ("atmosphere", "12.2", None, "atmosphere = 12.2 psia"),
        (
            "atmosphere",
            "0.85 bara",
            None,
            "atmosphere [psia] = 0.85 bara",
        ),
    ];
    for (cell, value, amount, statement) in edits {
        fill(&mut browser, cell, value, *amount);
        set(&mut notebook, statement);
        // Opened afresh, so that a replaced default reaches the formulas that rest on it.
        notebook = open(&notebook.text());
        agree(&mut browser, &notebook, statement);
    }
    browser.evaluate("document.getElementById('copy').click()");
    let post = browser.evaluate("document.getElementById('post').value");
    let post = post.as_str().expect("a post");
    let reopened = open(post);
    let plain = |rows: Vec<(String, String)>| rows;
    assert_eq!(
        in_base_units(&reopened),
        in_base_units(&notebook),
        "the post opens as the same notebook:\n{post}"
    );
    assert_eq!(
        checks_by_program(&reopened),
        plain(checks_by_program(&notebook))
    );
    browser.evaluate("document.getElementById('again').click()");
    agree(&mut browser, &open(SHOP), "started over");
}

/// Each value to twelve digits in coherent units, whatever unit it is shown in.
fn in_base_units(notebook: &Notebook) -> Vec<(String, String)> {
    let mut values = Vec::new();
    for (id, cell) in notebook.cells() {
        let quantity = cell.ty.as_deref().and_then(|ty| ty.as_quantity());
        let (Some(quantity), Some(number)) = (quantity, notebook.value(id).number()) else {
            continue;
        };
        let registry = notebook.registry();
        let factor = registry.factor_to_base(&quantity.unit);
        let offset = registry.offset_of(&quantity.unit);
        let one = gaugebook::number::Rational::whole(1);
        let based = number
            .affine(&one, &offset)
            .and_then(|number| number.scaled(&factor));
        let based = based.expect("a number").significant(12);
        values.push((cell.name.to_string(), based));
    }
    values.sort();
    values
}

#[test]
fn wrong_input_is_told_under_its_field_and_what_rests_on_it_waits() {
    let Some(mut browser) = browser() else { return };
    let notebook = open(SHOP);
    browser.open(&page(&notebook).html);
    let told = [
        (
            "start",
            "126 psi",
            "126 psi",
            "a difference between two pressures",
        ),
        ("start", "140 psia", "psia", "an absolute pressure"),
        (
            "start",
            "72,4",
            "",
            "decimals stand behind a point: write 72.4",
        ),
        ("tank", "1,200", "", "no comma inside a number: write 1200"),
        ("tank", "3 kg", "kg is a mass", "needs gal"),
        ("tank", "", "", "needs a number in gal"),
        ("tank", "sixty", "", "needs a number"),
        ("tank", "40–60", "", "one number, not a range"),
        ("tank", "60 galon", "no unit is called galon", "gallon"),
        ("tank", "1 ton", "ton is one of several tons", ""),
        ("pump", "18 scfm", "scfm is standard air", "needs cfm free"),
        ("held", "93.1", "", "one reading has no scatter"),
        ("jet", "1-1/2 in", "", "write 1 1/2"),
        ("room", "300 K", "K is", "needs °F"),
        (
            "atmosphere",
            "29.92 inHg",
            "inHg is a difference between two pressures",
            "needs psia",
        ),
    ];
    for (cell, typed, first, second) in told {
        fill(&mut browser, cell, typed, None);
        let note = note_of(&mut browser, cell);
        assert!(
            note.contains(first) || first == typed,
            "{cell} {typed}: {note}"
        );
        assert!(note.contains(second), "{cell} {typed}: {note}");
        let waiting = browser.evaluate("document.querySelectorAll('tr.without').length");
        assert!(waiting.as_u64() > Some(0), "{cell} {typed}: nothing waits");
        let status = browser.evaluate("document.getElementById('status').textContent");
        assert!(
            status
                .as_str()
                .is_some_and(|text| text.starts_with("1 number cannot be read")),
            "{status}"
        );
        let kept = browser.evaluate("document.querySelectorAll('[aria-invalid=true]').length");
        assert_eq!(kept.as_u64(), Some(1), "{cell} {typed}");
        browser.evaluate("document.getElementById('again').click()");
    }
    agree(&mut browser, &notebook, "mended");
}

#[test]
fn a_page_is_used_by_keyboard_alone_and_fits_a_phone() {
    let Some(mut browser) = browser() else { return };
    let notebook = open(SHOP);
    let html = page(&notebook).html;
    assert!(html.len() < 200_000, "{} bytes", html.len());
    browser.view(360, 740, false);
    browser.open(&html);
    let width = browser.evaluate("document.documentElement.scrollWidth");
    assert!(width.as_u64() <= Some(360), "{width} wide");
    let low = browser.evaluate(
        "[...document.querySelectorAll('input, select, button, summary')].filter(box => \
           box.offsetParent && box.getBoundingClientRect().height < 43.5).map(box => box.id || box.textContent)",
    );
    assert_eq!(low, serde_json::json!([]), "lower than 44 px");
    let unlabelled = browser.evaluate(
        "[...document.querySelectorAll('input, select, textarea')].filter(box => !box.getAttribute('aria-label')).length",
    );
    assert_eq!(unlabelled.as_u64(), Some(0));
    let label = browser.evaluate("document.getElementById('f0').getAttribute('aria-label')");
    assert_eq!(label.as_str(), Some("tank, US gallons"));
    let label = browser.evaluate("document.getElementById('a0').getAttribute('aria-label')");
    assert_eq!(
        label.as_str(),
        Some("tank, plus or minus, limit, US gallons")
    );
    // Number, then ±, then its unit, field by field; never a result.
    let mut order = Vec::new();
    for _ in 0..6 {
        browser.press("Tab", 9);
        let id = browser.evaluate("document.activeElement.id");
        order.push(id.as_str().unwrap_or_default().to_owned());
    }
    assert_eq!(order, ["f0", "a0", "u0", "f1", "a1", "u1"]);
    // The first number is written over, as one would with the keys.
    browser.evaluate("document.getElementById('f0').focus()");
    browser.evaluate("document.getElementById('f0').select()");
    browser.insert("90");
    let now = shown_by_page(&mut browser);
    let mut other = open(SHOP);
    set(&mut other, "tank = 90 gal ± 0.6 gal");
    assert_eq!(now, shown_by_program(&other));
    for (name, wide, dark) in [
        ("phone", 360, false),
        ("phone-dark", 360, true),
        ("bench", 1200, false),
        ("bench-dark", 1200, true),
    ] {
        browser.view(wide, 800, dark);
        browser.open(&html);
        let overflow = browser.evaluate("document.documentElement.scrollWidth");
        assert!(
            overflow.as_u64() <= Some(u64::from(wide)),
            "{name}: {overflow}"
        );
        browser.picture(name, true);
    }
    browser.view(360, 740, false);
    browser.open(&html);
    browser.picture("phone-first", false);
}

#[test]
fn a_page_may_not_reach_the_network_nor_run_what_is_not_its_own() {
    let Some(mut browser) = browser() else { return };
    browser.open(&page(&open(SHOP)).html);
    let refused = browser.evaluate(
        "new Promise(done => { const seen = []; \
           document.addEventListener('securitypolicyviolation', event => seen.push(event.effectiveDirective)); \
           fetch('https://example.org/').catch(() => 0); \
           new Image().src = 'https://example.org/a.png'; \
           const script = document.createElement('script'); script.textContent = 'window.ran = 1'; document.body.append(script); \
           const style = document.createElement('style'); style.textContent = 'body{display:none}'; document.body.append(style); \
           setTimeout(() => done([...new Set(seen)].sort().join(' ') + ' ' + window.ran), 300); })",
    );
    assert_eq!(
        refused.as_str(),
        Some("connect-src img-src script-src-elem style-src-elem undefined")
    );
}

/// The demo notebooks as they come out of the program: nothing moves when the script takes over.
#[test]
fn the_demo_notebooks_are_the_same_on_a_page() {
    let mut browser = browser();
    for file in super::demo_notebooks() {
        let text = std::fs::read_to_string(&file).expect("the notebook is there");
        let notebook = open(&text);
        let html = page(&notebook).html;
        let name = file.display();
        assert!(html.len() < 200_000, "{name}: {} bytes", html.len());
        if let Some(browser) = &mut browser {
            browser.open(&html);
            let (page, program) = (shown_by_page(browser), shown_by_program(&notebook));
            assert_eq!(page.len(), program.len(), "{name}");
            for (page, program) in page.iter().zip(&program) {
                // A cell with a mistake says so in words of its own.
                let without = program.1.starts_with("failed") || program.1.starts_with("waits");
                assert!(
                    page == program || without,
                    "{name}: page {page:?}, program {program:?}"
                );
            }
            assert!(browser.log.is_empty(), "{name}: {:?}", browser.log);
        }
    }
}
