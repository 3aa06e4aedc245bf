//! Where the formulas used come from, for whoever asks.

use super::reading::Reading;
use crate::check::FormulaDefinition;
use crate::exact::Value;
use crate::syntax::Clause;

/// Formulas with one source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceLine {
    /// The formulas, or `±`.
    pub formulas: Vec<String>,
    /// The source.
    pub text: String,
}

/// The sources of the formulas that the notebook's cells call, in the order of first use; formulas
/// of one source stand together.
pub(super) fn sources(reading: &Reading<'_>) -> Vec<SourceLine> {
    let notebook = reading.notebook;
    let mut lines: Vec<SourceLine> = Vec::new();
    let mut uncertain = false;
    for statement in reading.own_statements() {
        for cell in reading.cells_of(statement) {
            uncertain |= has_uncertainty(notebook.value(*cell));
            for formula in &notebook.cell(*cell).formulas {
                let name = formula.definition.name();
                if lines
                    .iter()
                    .any(|line| line.formulas.iter().any(|one| one == name))
                {
                    continue;
                }
                let text = source_of(&formula.definition);
                match lines.iter_mut().find(|line| line.text == text) {
                    Some(line) => line.formulas.push(name.to_owned()),
                    None => lines.push(SourceLine {
                        formulas: vec![name.to_owned()],
                        text,
                    }),
                }
            }
        }
    }
    if uncertain {
        lines.push(SourceLine {
            formulas: vec!["±".to_owned()],
            text: "JCGM 100:2008".to_owned(),
        });
    }
    lines
}

fn has_uncertainty(value: &Value) -> bool {
    match value {
        Value::Uncertain(_) | Value::Doubtful(_) => true,
        Value::Column(rows) => rows.iter().any(has_uncertainty),
        _ => false,
    }
}

/// What a formula says of its source, or else the document it stands in.
pub(super) fn source_of(formula: &FormulaDefinition) -> String {
    let said: Vec<&str> = formula
        .tree
        .clauses
        .iter()
        .filter_map(|clause| match clause {
            Clause::Source(text) => Some(&*text.value),
            _ => None,
        })
        .collect();
    match (said.is_empty(), formula.document) {
        (false, _) => said.join("; "),
        (true, None) => format!("chapter “{}”", formula.chapter),
        (true, Some(_)) => "this notebook".to_owned(),
    }
}
