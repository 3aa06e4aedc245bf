//! Tables read from a file beside the notebook: `table log from "readings.csv"`. The bytes of a
//! logger's or a stopwatch's file come in, a table as if it stood in the document comes out, or
//! what is wrong, by line and column. The file is only read; which bytes a path means is for
//! [`Files`](super::Files) to say.

use crate::number::Number;
use crate::source::{Code, Diagnostic, Span};
use crate::syntax::{
    self, Expr, ExprKind, Field, FieldKind, Literal, Name, Numeral, Row, StatementKind,
    TableColumn, UnitExpr, UnitTerm, UnitTermKind,
};

/// Rows of a table that are read from a file.
const MOST_ROWS: usize = 100_000;
/// Columns of one.
const MOST_COLUMNS: usize = 200;
/// Errors of one file that are told.
const MOST_ERRORS: usize = 5;

/// A table without its name.
#[derive(Debug)]
pub(super) struct FileTable {
    pub(super) head: Vec<TableColumn>,
    pub(super) rows: Vec<Row>,
}

/// Reads the bytes of a file. All places are `at`, where the statement names the file.
pub(super) fn read_table(bytes: &[u8], file: &str, at: Span) -> Result<FileTable, Vec<Diagnostic>> {
    let reading = Reading { file, at };
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mut records = csv::ReaderBuilder::new()
        .delimiter(delimiter(bytes))
        .has_headers(false)
        .flexible(true)
        .from_reader(bytes)
        .into_byte_records();
    let head = match records.next() {
        None => return Err(vec![reading.empty()]),
        Some(record) => reading.texts(record).map_err(|trouble| vec![*trouble])?,
    };
    let mut errors = Vec::new();
    let head = reading.head(&head, &mut errors);
    let mut rows = Vec::new();
    for record in records {
        if errors.len() >= MOST_ERRORS {
            break;
        }
        if rows.len() == MOST_ROWS {
            errors.push(reading.too_many());
            break;
        }
        let line = match &record {
            Ok(record) => record.position().map_or(0, csv::Position::line),
            Err(_) => 0,
        };
        match reading.texts(record) {
            Err(trouble) => errors.push(*trouble),
            Ok(fields) => rows.extend(reading.row(line, &fields, &head, &mut errors)),
        }
    }
    match errors.is_empty() {
        true => Ok(FileTable { head, rows }),
        false => Err(errors),
    }
}

/// What stands between fields: the sign that the head line has most of.
fn delimiter(bytes: &[u8]) -> u8 {
    let line = bytes
        .split(|byte| *byte == b'\n')
        .find(|line| !line.trim_ascii().is_empty())
        .unwrap_or_default();
    // A comma inside a bracket or quotes parts nothing.
    let mut depth = 0usize;
    let mut counts = [(b'\t', 0usize), (b';', 0), (b',', 0)];
    for byte in line {
        match byte {
            b'"' => depth = usize::from(depth == 0),
            b'[' | b'(' => depth += 1,
            b']' | b')' => depth = depth.saturating_sub(1),
            _ if depth == 0 => {
                if let Some((_, count)) = counts.iter_mut().find(|(sign, _)| sign == byte) {
                    *count += 1;
                }
            }
            _ => {}
        }
    }
    counts
        .into_iter()
        .rev()
        .max_by_key(|(_, count)| *count)
        .filter(|(_, count)| *count > 0)
        .map_or(b',', |(sign, _)| sign)
}

struct Reading<'f> {
    file: &'f str,
    at: Span,
}

impl Reading<'_> {
    fn error(&self, message: String) -> Diagnostic {
        Diagnostic::error(Code::File, self.at, message)
    }

    fn empty(&self) -> Diagnostic {
        self.error(format!("{} is empty", self.file))
            .expected("a head line with names and units, such as `time [s], pressure [psig]`")
    }

    fn too_many(&self) -> Diagnostic {
        self.error(format!("{} has more than {MOST_ROWS} rows", self.file))
            .expected("a shorter record, or every tenth line of it")
    }

    /// The fields of a record as text.
    fn texts(
        &self,
        record: Result<csv::ByteRecord, csv::Error>,
    ) -> Result<Vec<String>, Box<Diagnostic>> {
        let record = record.map_err(|trouble| {
            let line = trouble.position().map_or(0, csv::Position::line);
            Box::new(
                self.error(format!("{}, line {line}, cannot be read", self.file))
                    .label("its quotes do not close")
                    .expected("fields between commas, semicolons or tabs"),
            )
        })?;
        let line = record.position().map_or(0, csv::Position::line);
        let texts = record.iter().enumerate().map(|(column, field)| {
            let text = std::str::from_utf8(field).map_err(|_| {
                let place = format!("{}, line {line}, column {}", self.file, column + 1);
                Box::new(
                    self.error(format!("{place}, is no UTF-8 text"))
                        .expected("a file saved as UTF-8"),
                )
            })?;
            Ok(unquoted(text.trim()).to_owned())
        });
        texts.collect()
    }

    fn head(&self, texts: &[String], errors: &mut Vec<Diagnostic>) -> Vec<TableColumn> {
        if texts.len() > MOST_COLUMNS {
            errors.push(self.error(format!("{} has {} columns", self.file, texts.len())));
            return Vec::new();
        }
        let mut head: Vec<TableColumn> = Vec::with_capacity(texts.len());
        for (number, text) in texts.iter().enumerate() {
            let place = || format!("{}, line 1, column {}", self.file, number + 1);
            let (name, unit) = name_and_unit(text);
            let twice = |column: &TableColumn| *column.name.text == *name;
            match self.column(&name, unit) {
                Some(column) if head.iter().any(twice) => errors.push(
                    self.error(format!("{}: `{name}` is there twice", place()))
                        .expected("each name once")
                        .label(format!("column {} too", column_number(&head, &column))),
                ),
                Some(column) => head.push(column),
                None => errors.push(
                    self.error(format!("{}: `{text}` is no name with a unit", place()))
                        .expected(
                            "letters, digits and `_`, and the unit in brackets: `pressure [psig]`",
                        ),
                ),
            }
        }
        head
    }

    /// A column, if its name is one and its unit can be read.
    fn column(&self, name: &str, unit: Option<&str>) -> Option<TableColumn> {
        let line = match unit {
            Some(unit) => format!("{name} [{unit}] = 1"),
            None => format!("{name} = 1"),
        };
        let statement = syntax::parse_entry(&line);
        let StatementKind::Cell(cell) = statement.kind else {
            return None;
        };
        if !statement.diagnostics.is_empty() || *cell.name.text != *name {
            return None;
        }
        Some(TableColumn {
            name: Name {
                text: cell.name.text,
                span: self.at,
            },
            unit: cell.unit.map(|unit| unit_at(unit, self.at)),
        })
    }

    fn row(
        &self,
        line: u64,
        texts: &[String],
        head: &[TableColumn],
        errors: &mut Vec<Diagnostic>,
    ) -> Option<Row> {
        if texts.iter().all(String::is_empty) {
            return None;
        }
        if texts.len() != head.len() {
            errors.push(
                self.error(format!(
                    "{}, line {line}: {} fields under {} heads",
                    self.file,
                    texts.len(),
                    head.len()
                ))
                .expected("as many fields as there are heads; an empty one has no value"),
            );
            return None;
        }
        let mut fields = Vec::with_capacity(texts.len());
        for (number, (text, column)) in texts.iter().zip(head).enumerate() {
            match self.field(text, column) {
                Ok(kind) => fields.push(Field {
                    span: self.at,
                    kind,
                }),
                Err(expected) => {
                    let name = &column.name.text;
                    let place = format!("line {line}, column {} ({name})", number + 1);
                    errors.push(
                        self.error(format!(
                            "{}, {place}: `{}` is no number",
                            self.file,
                            excerpt(text)
                        ))
                        .expected(expected),
                    );
                    return None;
                }
            }
        }
        Some(Row {
            span: self.at,
            fields,
        })
    }

    fn field(&self, text: &str, column: &TableColumn) -> Result<FieldKind, String> {
        if text.is_empty() || matches!(text, "-" | "–" | "—") {
            return Ok(FieldKind::Gap);
        }
        if column.unit.is_none() {
            return Ok(FieldKind::Text(text.into()));
        }
        let plain = text.replace('\u{2212}', "-");
        if Number::read(&plain).is_err() {
            return Err(
                match plain.contains(',') && Number::read(&plain.replace(',', ".")).is_ok() {
                    true => format!("decimals behind a point: {}", plain.replace(',', ".")),
                    false => {
                        "a number with a decimal point; nothing where there is none".to_owned()
                    }
                },
            );
        }
        let (negative, digits) = match plain.strip_prefix('-') {
            Some(digits) => (true, digits),
            None => (false, plain.strip_prefix('+').unwrap_or(&plain)),
        };
        let literal = Literal {
            negative,
            number: Numeral {
                digits: digits.into(),
                fraction: None,
                span: self.at,
            },
            unit: None,
            plus_minus: None,
        };
        Ok(FieldKind::Quantity(Expr {
            span: self.at,
            kind: ExprKind::Literal(Box::new(literal)),
        }))
    }
}

/// The beginning of a field, on one line.
fn excerpt(text: &str) -> String {
    let words = text.split_whitespace().collect::<Vec<&str>>().join(" ");
    match words.char_indices().nth(30) {
        Some((end, _)) => format!("{}…", words.get(..end).unwrap_or("")),
        None => words,
    }
}

/// Quotes that a blank before them kept in the field.
fn unquoted(field: &str) -> &str {
    let inner = field
        .strip_prefix('"')
        .and_then(|rest| rest.strip_suffix('"'));
    inner.unwrap_or(field).trim()
}

fn column_number(head: &[TableColumn], column: &TableColumn) -> usize {
    let known = head
        .iter()
        .position(|one| one.name.text == column.name.text);
    known.map_or(0, |number| number + 1)
}

/// `Tank pressure (psig)` as `Tank_pressure` and `psig`.
fn name_and_unit(text: &str) -> (String, Option<&str>) {
    let brackets = [('[', ']'), ('(', ')')];
    let cut = brackets.iter().find_map(|(open, close)| {
        let (name, rest) = text.split_once(*open)?;
        rest.strip_suffix(*close).map(|unit| (name, unit.trim()))
    });
    let (name, unit) = match cut {
        Some((name, unit)) if !unit.is_empty() => (name, Some(unit)),
        Some((name, _)) => (name, None),
        None => (text, None),
    };
    let words = name.split(|sign: char| sign.is_whitespace() || sign == '-');
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    (words.join("_"), unit)
}

/// A unit with all its places at one.
fn unit_at(unit: UnitExpr, at: Span) -> UnitExpr {
    let term = |term: UnitTerm| UnitTerm {
        span: at,
        kind: match term.kind {
            UnitTermKind::Group(count, inner) => UnitTermKind::Group(count, unit_at(inner, at)),
            other => other,
        },
        ..term
    };
    UnitExpr {
        span: at,
        terms: unit.terms.into_iter().map(term).collect(),
        reference: unit.reference.map(|name| Name { span: at, ..name }),
    }
}
