//! Answers of `help` and the handbook's contents.

use super::layout::{Layout, Paint, TIE, width};
use super::listing::{add_chapter, add_hits, pairs, row, rows};
use super::sheet::Sheet;
use super::table;
use crate::assist::{Answer, CellHelp, FormulaHelp, GUIDE, Guide, Help, UnitHelp, VERBS};
use crate::source::wrap;

/// Rows of a table that a page shows.
const MOST_ROWS: usize = 40;

/// What is known about a word.
pub fn help(help: &Help, layout: Layout) -> String {
    let mut sheet = Sheet::new(layout);
    if help.answers.is_empty() {
        let text = format!("nothing is known about {}", help.word);
        let text = sheet.show(&text);
        sheet.paragraph(&text, 2, 4);
        sheet.paragraph("help alone lists what can be asked", 2, 4);
        return sheet.finish();
    }
    if let Some(near) = &help.near {
        let text = sheet.show(&format!("nothing is called {}; nearest: {near}", help.word));
        sheet.paragraph(&text, 2, 4);
    }
    for (number, answer) in help.answers.iter().enumerate() {
        if number > 0 {
            sheet.gap();
        }
        add(&mut sheet, answer);
    }
    sheet.finish()
}

fn add(sheet: &mut Sheet, answer: &Answer) {
    match answer {
        Answer::Overview => overview(sheet),
        Answer::Verb(verb) => {
            let call = format!("{} {}", verb.name, verb.takes);
            pairs(sheet, &[(call.trim().to_owned(), verb.about.to_owned())]);
        }
        Answer::Guide(guide) => add_guide(sheet, guide),
        Answer::Cell(cell) => add_cell(sheet, cell),
        Answer::Formula(formula) => add_formula(sheet, formula),
        Answer::Native(signature, about) => {
            pairs(sheet, &[((*signature).to_owned(), (*about).to_owned())]);
        }
        Answer::Unit(unit) => add_unit(sheet, unit),
        Answer::Refused {
            word,
            reads,
            offers,
        } => {
            let text = sheet.show(&format!("{word} is {reads}"));
            sheet.paragraph(&text, 2, 4);
            pairs(sheet, offers);
        }
        Answer::Default {
            line,
            remark,
            chapter,
        } => {
            let about = remark.as_deref().unwrap_or("a default of the handbook");
            pairs(sheet, &[(line.clone(), about.to_owned())]);
            let text =
                format!("a default of the handbook, “{chapter}”: a cell of this name replaces it");
            let text = sheet.show(&text);
            sheet.paragraph(&text, 2, 4);
        }
        Answer::Table {
            name,
            heads,
            rows,
            prose,
            chapter,
        } => {
            for paragraph in prose {
                let paragraph = sheet.show(paragraph);
                sheet.paragraph(&paragraph, 2, 2);
            }
            let title = sheet.show(&format!("Table {name}"));
            sheet.painted_paragraph(&title, 2, 4, Paint::Bold);
            table::add_written(sheet, heads, &rows[..rows.len().min(MOST_ROWS)]);
            if rows.len() > MOST_ROWS {
                let rest = format!("and {} rows more", rows.len() - MOST_ROWS);
                sheet.paragraph(&rest, 2, 4);
            }
            row(sheet, "chapter", chapter);
        }
        Answer::Chapter(chapter) => add_chapter(sheet, chapter),
        Answer::Code(name, meaning) => {
            let name = format!("message {name}");
            pairs(sheet, &[(name, (*meaning).to_owned())]);
        }
        Answer::Found(hits) => add_hits(sheet, hits),
    }
}

fn overview(sheet: &mut Sheet) {
    let verbs: Vec<(String, String)> = VERBS
        .iter()
        .map(|verb| {
            let call = format!("{} {}", verb.name, verb.takes);
            (call.trim().to_owned(), verb.about.to_owned())
        })
        .collect();
    pairs(sheet, &verbs);
    sheet.gap();
    let mut topics: Vec<(String, String)> = GUIDE
        .iter()
        .map(|guide| (format!("help {}", guide.words[0]), guide.title.to_owned()))
        .collect();
    topics.push((
        "help leak".to_owned(),
        "a word of the trade; likewise a formula, a unit, a chapter, a message".to_owned(),
    ));
    pairs(sheet, &topics);
}

fn add_guide(sheet: &mut Sheet, guide: &Guide) {
    let title = sheet.show(guide.title);
    sheet.painted_paragraph(&title, 2, 4, Paint::Bold);
    let lines: Vec<(String, String)> = guide
        .lines
        .iter()
        .map(|(line, about)| ((*line).to_owned(), (*about).to_owned()))
        .collect();
    pairs(sheet, &lines);
    for note in guide.notes {
        let note = sheet.show(note);
        sheet.paragraph(&note, 2, 2);
    }
}

fn add_cell(sheet: &mut Sheet, cell: &CellHelp) {
    let mut text = match &cell.value {
        Some(value) => format!("{} is {value}", cell.name),
        None => format!("{} has no value", cell.name),
    };
    if let Some(kind) = &cell.kind {
        text.push_str(&format!(", {kind}"));
    }
    match cell.line {
        Some(line) => text.push_str(&format!("; line {line} of this notebook")),
        None => text.push_str("; typed here"),
    }
    let text = sheet.show(&text);
    sheet.paragraph(&text, 2, 4);
}

fn add_formula(sheet: &mut Sheet, formula: &FormulaHelp) {
    add_signature(sheet, formula);
    for paragraph in &formula.prose {
        let paragraph = sheet.show(paragraph);
        let hang = if paragraph.starts_with("- ") { 4 } else { 2 };
        sheet.paragraph(&paragraph, 2, hang);
    }
    rows(sheet, "formula", &formula.body);
    let limits: Vec<String> = formula
        .limits
        .iter()
        .map(|(condition, text)| format!("{condition}: {text}"))
        .collect();
    rows(sheet, "limit", &limits);
    rows(sheet, "source", &formula.sources);
    let cautions: Vec<String> = formula
        .cautions
        .iter()
        .map(|(when, text)| match when {
            Some(when) => format!("when {when}: {text}"),
            None => text.clone(),
        })
        .collect();
    rows(sheet, "caution", &cautions);
    let examples: Vec<String> = formula
        .examples
        .iter()
        .map(|(call, gives)| format!("{call} gives {gives}"))
        .collect();
    rows(sheet, "example", &examples);
    let (path, line) = &formula.place;
    let place = match formula.chapter.is_empty() {
        true => format!("{path}, line {line}"),
        false => format!(
            "{}, “{}” ({path}, line {line})",
            formula.chapter, formula.section
        ),
    };
    row(sheet, "chapter", &place);
}

/// The name and the parameters, broken between them.
fn add_signature(sheet: &mut Sheet, formula: &FormulaHelp) {
    // A parameter is not parted from its unit, and from its default only for want of room.
    let columns = sheet.layout.columns();
    let last = formula.parameters.len().saturating_sub(1);
    let parameters: Vec<String> = formula
        .parameters
        .iter()
        .enumerate()
        .map(|(number, parameter)| {
            let behind = if number == last { ")" } else { "," };
            let text = sheet.show(&parameter.text).replace(' ', TIE) + behind;
            let default = format!("{TIE}={TIE}");
            match width(&text) + 6 > columns {
                true => text.replacen(&default, &format!(" ={TIE}"), 1),
                false => text,
            }
        })
        .collect();
    let name = sheet.show(&formula.name);
    let begins = width(&name) + 3 + parameters.first().map_or(0, |first| width(first));
    let opens = if begins > columns { " " } else { "" };
    let mut text = match parameters.is_empty() {
        true => format!("{name}()"),
        false => format!("{name}({opens}{}", parameters.join(" ")),
    };
    if let Some(unit) = &formula.result {
        text.push(' ');
        text.push_str(&sheet.show(&format!("[{unit}]")).replace(' ', TIE));
    }
    for (number, line) in wrap(&text, columns - 2, columns - 6).iter().enumerate() {
        let line = sheet.paint(line, Paint::Bold);
        let indent = if number == 0 { "  " } else { "      " };
        sheet.line(&format!("{indent}{line}"));
    }
}

fn add_unit(sheet: &mut Sheet, unit: &UnitHelp) {
    let mut first = format!("{}, {}", unit.name, unit.kind);
    if let Some(size) = &unit.size {
        first.push_str(&format!("; {size}"));
    }
    let mut lines = Vec::new();
    match unit.lines.first() {
        Some(line) if line.symbol == unit.symbol => {
            lines.push((unit.symbol.clone(), first));
            let rest = unit
                .lines
                .iter()
                .map(|one| (one.symbol.clone(), one.meaning.clone()));
            let mut rest: Vec<(String, String)> = rest.collect();
            // The symbol stands once.
            rest[0].0.clear();
            lines.extend(rest);
        }
        _ => {
            lines.push((unit.symbol.clone(), first));
            lines.extend(
                unit.lines
                    .iter()
                    .map(|one| (one.symbol.clone(), one.meaning.clone())),
            );
        }
    }
    if !unit.cross_over.is_empty() {
        lines.push((
            String::new(),
            format!("cross over: {}", unit.cross_over.join(", ")),
        ));
    }
    if let Some(hint) = &unit.hint {
        lines.push((String::new(), hint.clone()));
    }
    pairs(sheet, &lines);
}
