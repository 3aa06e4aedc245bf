//! The components of an uncertainty: one for each place in the text where doubt came in, with the
//! part of the sensitivities that is its own.

use crate::check::Place;
use crate::exact::{Group, Repeats, Source, SourceId, Sources, Uncertain};
use crate::notebook::Notebook;

/// A component, before it is shown.
#[derive(Clone, Debug)]
pub(super) struct Component {
    /// The place it was typed at; several where readings cannot be told apart.
    pub places: Vec<Place>,
    /// The item of a column, from 0.
    pub element: u32,
    /// Its standard uncertainty, in the unit it was typed in; for one place only.
    pub standard: Option<f64>,
    /// Change of the result per change of it; for one place only.
    pub sensitivity: Option<f64>,
    /// Its part of the result's sensitivities.
    pub terms: Vec<(SourceId, f64)>,
}

/// The components of a number, in the order of the sources; `is_above` tells the places that it
/// rests on.
pub(super) fn components(
    notebook: &Notebook,
    number: &Uncertain,
    is_above: &dyn Fn(Place) -> bool,
) -> Vec<Component> {
    let sources = notebook.sources();
    let mut groups: Vec<(Group, Vec<(SourceId, f64)>)> = Vec::new();
    for (id, slope) in &number.terms {
        let Some(source) = sources.get(*id) else {
            continue;
        };
        match groups.iter_mut().find(|(group, _)| *group == source.group) {
            Some((_, terms)) => terms.push((*id, *slope)),
            None => groups.push((source.group, vec![(*id, *slope)])),
        }
    }
    groups
        .into_iter()
        .flat_map(|(group, terms)| {
            let mut readings: Vec<(Place, &Repeats)> = sources.repeats(group);
            readings.retain(|(place, _)| is_above(*place));
            // The same column averaged at two places is one set of readings.
            readings.dedup_by(|(_, one), (_, other)| one.deviations == other.deviations);
            match readings.is_empty() {
                true => vec![single(group, terms, sources)],
                false => repeated(group, &terms, &readings),
            }
        })
        .collect()
}

fn single(group: Group, terms: Vec<(SourceId, f64)>, sources: &Sources) -> Component {
    let (standard, sensitivity) = match terms[..] {
        [(id, slope)] => (
            sources.get(id).map(|source: &Source| source.standard),
            Some(slope),
        ),
        _ => (None, None),
    };
    Component {
        places: vec![group.place],
        element: group.element,
        standard,
        sensitivity,
        terms,
    }
}

/// Readings: their rows are sources of unit size, so what the result owes to each mean is found
/// from how the rows stand to it.
fn repeated(
    group: Group,
    terms: &[(SourceId, f64)],
    readings: &[(Place, &Repeats)],
) -> Vec<Component> {
    let fits = |repeats: &Repeats| repeats.deviations.len() == terms.len();
    let readings: Vec<&(Place, &Repeats)> = readings.iter().filter(|(_, one)| fits(one)).collect();
    // Rows are entered in order, so terms sorted by source are sorted by row.
    let columns: Vec<&[f64]> = readings.iter().map(|(_, one)| &*one.deviations).collect();
    let Some(slopes) = shares_of(&columns, terms) else {
        return vec![Component {
            places: readings.iter().map(|(place, _)| *place).collect(),
            element: group.element,
            standard: None,
            sensitivity: None,
            terms: terms.to_vec(),
        }];
    };
    readings
        .iter()
        .zip(slopes)
        .filter(|((_, repeats), slope)| *slope != 0.0 || readings.len() == 1 || is_flat(repeats))
        .map(|((place, repeats), slope)| Component {
            places: vec![*place],
            element: group.element,
            standard: Some(libm::sqrt(square(&repeats.deviations))),
            sensitivity: (!is_flat(repeats)).then_some(slope),
            terms: terms
                .iter()
                .zip(&*repeats.deviations)
                .map(|((id, _), deviation)| (*id, slope * deviation))
                .collect(),
        })
        .collect()
}

fn is_flat(repeats: &Repeats) -> bool {
    square(&repeats.deviations) == 0.0
}

fn square(values: &[f64]) -> f64 {
    values.iter().map(|value| value * value).sum()
}

fn product(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}

/// The factors by which the columns add up to the terms (least squares); nothing where columns
/// cannot be told apart.
fn shares_of(columns: &[&[f64]], terms: &[(SourceId, f64)]) -> Option<Vec<f64>> {
    let wanted: Vec<f64> = terms.iter().map(|(_, slope)| *slope).collect();
    if let [only] = columns {
        let size = square(only);
        return Some(vec![if size == 0.0 {
            0.0
        } else {
            product(only, &wanted) / size
        }]);
    }
    if columns.is_empty() {
        return None;
    }
    let mut rows: Vec<Vec<f64>> = columns
        .iter()
        .map(|one| {
            let mut row: Vec<f64> = columns.iter().map(|other| product(one, other)).collect();
            row.push(product(one, &wanted));
            row
        })
        .collect();
    solved(&mut rows)
}

/// Elimination with pivots; each row holds its right side last.
fn solved(rows: &mut [Vec<f64>]) -> Option<Vec<f64>> {
    let count = rows.len();
    let sizes: Vec<f64> = (0..count).map(|index| rows[index][index]).collect();
    for column in 0..count {
        let pivot = (column..count).max_by(|a, b| {
            let (a, b) = (rows[*a][column].abs(), rows[*b][column].abs());
            a.total_cmp(&b)
        })?;
        rows.swap(column, pivot);
        if rows[column][column].abs() <= 1e-9 * sizes[column].abs() {
            return None;
        }
        let top = rows[column].clone();
        for row in rows.iter_mut().skip(column + 1) {
            let by = row[column] / top[column];
            for (value, above) in row.iter_mut().zip(&top).skip(column) {
                *value -= by * above;
            }
        }
    }
    let mut found = vec![0.0; count];
    for index in (0..count).rev() {
        let known: f64 = (index + 1..count)
            .map(|other| rows[index][other] * found[other])
            .sum();
        found[index] = (rows[index][count] - known) / rows[index][index];
    }
    Some(found)
}
