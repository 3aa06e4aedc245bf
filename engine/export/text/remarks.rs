//! What stands below a table.

use super::sheet::Sheet;
use crate::report::{Remark, TakenDefault, TakenFlow};

pub(super) fn add(sheet: &mut Sheet, remarks: &[Remark]) {
    for remark in remarks {
        for text in texts(remark) {
            let text = sheet.show(&text);
            sheet.paragraph(&text, 2, 4);
        }
    }
}

fn texts(remark: &Remark) -> Vec<String> {
    match remark {
        Remark::TakenAs(defaults) => taken_as(defaults),
        Remark::TakenAsAir { noun, flows } => vec![format!("Taken as {noun}: {}.", listed(flows))],
        Remark::Caution { formulas, text } => {
            let text = text.as_deref().unwrap_or("as above");
            vec![format!(
                "Caution ({}): {}",
                formulas.join(", "),
                ended(text)
            )]
        }
        Remark::Note {
            about,
            message,
            found,
            repairs,
        } => vec![note(about, message, found, repairs)],
    }
}

fn taken_as(defaults: &[TakenDefault]) -> Vec<String> {
    let list = |of_the_shop: bool| {
        let some = defaults
            .iter()
            .filter(|default| default.of_the_shop == of_the_shop)
            .map(|default| format!("{} {}", default.name, default.value));
        some.collect::<Vec<String>>()
    };
    let (shop, states) = (list(true), list(false));
    let mut texts = Vec::new();
    match shop.len() {
        0 => {}
        1 => texts.push(format!(
            "Taken as: {} (handbook value: set it for your shop).",
            shop[0]
        )),
        _ => texts.push(format!(
            "Taken as: {} (handbook values: set them for your shop).",
            shop.join(", ")
        )),
    }
    if !states.is_empty() {
        texts.push(format!(
            "Taken as: {} (the states as the handbook has them).",
            states.join(", ")
        ));
    }
    texts
}

fn listed(flows: &[TakenFlow]) -> String {
    let one = |flow: &TakenFlow| match flow.cell.is_empty() {
        true => flow.text.clone(),
        false => format!("{} of {}", flow.text, flow.cell),
    };
    flows.iter().map(one).collect::<Vec<String>>().join(", ")
}

/// A note in a sentence. One that offers to look closer leaves the reasons to `why`.
fn note(about: &str, message: &str, found: &str, repairs: &[(String, String)]) -> String {
    let mut text = format!("Note ({about}): {message}");
    let closer = repairs.iter().find(|(_, gives)| !gives.is_empty());
    if let Some((line, gives)) = closer {
        let gives = gives.split(';').next().unwrap_or(gives);
        text.push_str(&format!("; `{line}` gives {gives}"));
        return ended(&text);
    }
    let typed: Vec<&str> = repairs.iter().map(|(line, _)| line.as_str()).collect();
    match (found.is_empty(), typed.is_empty()) {
        (true, true) => {}
        (false, true) => text.push_str(&format!("; {found}")),
        (true, false) => text.push_str(&format!("; otherwise type {}", typed.join(" or "))),
        (false, false) => {
            text.push_str(&format!(
                " ({found}); otherwise type {}",
                typed.join(" or ")
            ));
        }
    }
    ended(&text)
}

/// A sentence with its full stop.
fn ended(text: &str) -> String {
    match text.ends_with(['.', '!', '?', '…']) {
        true => text.to_owned(),
        false => format!("{text}."),
    }
}
