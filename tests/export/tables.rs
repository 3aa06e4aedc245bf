//! Tables that go out as comma-separated values and come back from a file.

use gaugebook::export::csv;
use gaugebook::library::Library;
use gaugebook::notebook::{Files, NoFiles, Notebook};
use gaugebook::report::{Options, report};
use gaugebook::source::Document;
use std::rc::Rc;

/// One file beside the notebook.
struct OneFile(Vec<u8>);

impl Files for OneFile {
    fn read(&self, path: &str, _beside: &str) -> Result<(String, Vec<u8>), String> {
        match path {
            "readings.csv" => Ok((path.to_owned(), self.0.clone())),
            _ => Err("there is no such file".to_owned()),
        }
    }
}

fn with_file(file: &[u8], lines: &str) -> Notebook {
    let text = format!("```gaugebook\ntable log from \"readings.csv\"\n{lines}\n```\n");
    Notebook::open(
        "shop.md",
        Document::new(text),
        &OneFile(file.to_vec()),
        Rc::new(Library::new()),
    )
}

fn shown(notebook: &Notebook, name: &str) -> String {
    notebook
        .shown(notebook.find(name).expect(name), None)
        .line()
}

fn errors(notebook: &Notebook) -> Vec<String> {
    let messages = report(notebook, Options::default()).messages;
    let errors = messages.into_iter().filter(|message| message.is_error());
    errors
        .map(|message| {
            let said = message.diagnostic;
            let mut line = said.message;
            for part in [said.label, said.expected] {
                if !part.is_empty() {
                    line.push_str(&format!(" / {part}"));
                }
            }
            line
        })
        .collect()
}

#[test]
fn a_loggers_file_is_a_table() {
    let lines = "top = max(log.pressure)\nfall = max(log.pressure) - min(log.pressure)\ncount = count(log.time)\nspeed = fall / (max(log.time) - min(log.time)) [psi/min]";
    let files: [&[u8]; 6] = [
        b"time [s],pressure [psig]\n0,126\n30,118.5\n60,111.25\n",
        b"\xef\xbb\xbftime (s);pressure (psig)\r\n0;126\r\n30;118.5\r\n60;111.25\r\n",
        b"time [s]\tpressure [psig]\n0\t126.0\n30\t+118.5\n60\t1.1125e2",
        b"\"time [s]\", \"pressure [psig]\"\n\"0\", \"126\"\n 30 , 118.5 \n60,111.25\n\n",
        b"\ntime [s],pressure [psig]\n\n0,126\n\n30,118.5\n60,111.25\n,\n",
        "time [s],pressure [psig]\n0,126\n30,118.5\n60,111.25\n".as_bytes(),
    ];
    for file in files {
        let notebook = with_file(file, lines);
        assert_eq!(
            errors(&notebook),
            Vec::<String>::new(),
            "{}",
            String::from_utf8_lossy(file)
        );
        assert_eq!(shown(&notebook, "top"), "126 psig");
        assert_eq!(shown(&notebook, "fall"), "14.75 psi");
        assert_eq!(shown(&notebook, "count"), "3");
        assert_eq!(shown(&notebook, "speed"), "14.75 psi/min");
    }
    // Texts, gaps, names with blanks and signs below zero.
    let file =
        "Lap name,Air temp (°C),split [s]\nfirst,−3.5,12.5\n\"second, slow\",,14\n".as_bytes();
    let notebook = with_file(
        file,
        "slow = log[\"second, slow\"].split\ncold = min(log.Air_temp, skip_gaps: true)",
    );
    assert_eq!(errors(&notebook), Vec::<String>::new());
    assert_eq!(shown(&notebook, "slow"), "14 s");
    assert_eq!(shown(&notebook, "cold"), "-3.5 °C");
}

#[test]
fn what_is_wrong_with_a_file_is_told_by_line_and_column() {
    let told: [(&[u8], &str); 10] = [
        (
            b"",
            "readings.csv is empty / a head line with names and units, such as `time [s], pressure [psig]`",
        ),
        (
            b"time [s];pressure [psig]\n0;126\n30;118,5\n",
            "readings.csv, line 3, column 2 (pressure): `118,5` is no number / decimals behind a point: 118.5",
        ),
        (
            b"time [s],pressure [psig]\n0,126\n30,high\n",
            "readings.csv, line 3, column 2 (pressure): `high` is no number / a number with a decimal point; nothing where there is none",
        ),
        (
            b"time [s],pressure [psig]\n0,126\n30\n",
            "readings.csv, line 3: 1 fields under 2 heads / as many fields as there are heads; an empty one has no value",
        ),
        (
            b"time [s],time [s]\n0,126\n",
            "readings.csv, line 1, column 2: `time` is there twice / column 1 too / each name once",
        ),
        (
            b"1st [s],pressure [psig]\n0,126\n",
            "readings.csv, line 1, column 1: `1st [s]` is no name with a unit / letters, digits and `_`, and the unit in brackets: `pressure [psig]`",
        ),
        (
            b"time [s],pressure [psgi]\n0,126\n",
            "no unit is called psgi",
        ),
        (
            b"time [s],pressure [psig]\n0,\xff\n",
            "readings.csv, line 2, column 2, is no UTF-8 text / a file saved as UTF-8",
        ),
        (
            b"time [s],pressure [psig]\n0,\"126\n30,118\n",
            "readings.csv, line 2, column 2 (pressure): `126 30,118` is no number",
        ),
        (
            b"time [s],from [psig]\n0,126\n",
            "readings.csv, line 1, column 2: `from [psig]` is no name with a unit",
        ),
    ];
    for (file, message) in told {
        let notebook = with_file(file, "");
        let errors = errors(&notebook);
        let about = String::from_utf8_lossy(file);
        assert!(
            errors.iter().any(|error| error.starts_with(message)),
            "{about}: {errors:?}"
        );
    }
    let text = "```gaugebook\ntable log from \"elsewhere.csv\"\ntop = max(log.pressure)\n```\n";
    let notebook = Notebook::open(
        "shop.md",
        Document::new(text.to_owned()),
        &NoFiles,
        Rc::new(Library::new()),
    );
    assert_eq!(
        errors(&notebook)[0],
        "elsewhere.csv cannot be read / no files can be read here / a file with a head line of names and units, its path as seen from this notebook"
    );
}

#[test]
fn a_table_goes_out_and_comes_back() {
    let text = include_str!("cabinet.md");
    let notebook = super::script::open(text);
    let tables = csv::tables(&notebook);
    let names: Vec<&str> = tables.iter().map(|table| table.name.as_str()).collect();
    assert_eq!(names, ["cells", "guns", "study_1", "study_2"]);
    let guns = &tables[1].text;
    let back = with_file(guns.as_bytes(), "");
    assert_eq!(errors(&back), Vec::<String>::new(), "{guns}");
    for column in ["bore", "limit", "takes"] {
        let number = |notebook: &Notebook, name: String, row: usize| {
            let cell = notebook.find(&name).expect("there");
            notebook
                .value(cell)
                .row(row)
                .number()
                .expect("a number")
                .full()
        };
        for row in 0..2 {
            assert_eq!(
                number(&back, format!("log.{column}"), row),
                number(&notebook, format!("guns.{column}"), row)
            );
        }
    }
    for table in &tables[2..] {
        let back = with_file(table.text.as_bytes(), "");
        assert_eq!(errors(&back), Vec::<String>::new(), "{}", table.text);
    }
}

#[test]
fn a_text_is_no_formula_of_a_spreadsheet() {
    let text = "```gaugebook\ntable parts\n    part | size [mm]\n    =1+1 | 2\n    @sum | -3\n    -tag | 4\n```\n";
    let notebook = super::script::open(text);
    let parts = csv::tables(&notebook).remove(1).text;
    assert_eq!(parts, "part,size [mm]\n'=1+1,2\n'@sum,-3\n'-tag,4\n");
}
