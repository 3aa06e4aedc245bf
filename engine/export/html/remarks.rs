//! What stands below a table: cautions, defaults that results rest on, notes.

use super::values::shown_name;
use crate::report::{Remark, TakenDefault, TakenFlow};
use maud::{Markup, html};

/// Remarks in their order.
pub fn remarks_list(remarks: &[Remark]) -> Markup {
    html! {
        @if !remarks.is_empty() {
            div class="remarks" {
                @for remark in remarks { (one(remark)) }
            }
        }
    }
}

fn one(remark: &Remark) -> Markup {
    match remark {
        Remark::TakenAs(defaults) => html! {
            @for (shop, hint) in [(true, "set for your shop"), (false, "")] {
                @let some = listed_defaults(defaults, shop);
                @if !some.is_empty() {
                    p class="taken" {
                        "Taken as: " (some)
                        @if shop { " (handbook values: to be " (hint) ")" } "."
                    }
                }
            }
        },
        Remark::TakenAsAir { noun, flows } => html! {
            p class="taken" { "Taken as " (noun) ": " (listed_flows(flows)) "." }
        },
        Remark::Caution { formulas, text } => html! {
            @let names = formulas.join(", ");
            p class="caution" {
                strong { "Caution" } " (" (shown_name(&names)) "): "
                (ended(text.as_deref().unwrap_or("as above")))
            }
        },
        Remark::Note {
            about,
            message,
            found,
            repairs,
        } => html! {
            p class="note" {
                "Note (" (shown_name(about)) "): " (message)
                @if !found.is_empty() { "; " (found) }
                @if !repairs.is_empty() { "; or " (repairs.join(" or ")) }
                "."
            }
        },
    }
}

fn listed_defaults(defaults: &[TakenDefault], of_the_shop: bool) -> String {
    let some = defaults
        .iter()
        .filter(|default| default.of_the_shop == of_the_shop)
        .map(|default| format!("{} {}", shown_name(&default.name), default.value));
    some.collect::<Vec<String>>().join(", ")
}

fn listed_flows(flows: &[TakenFlow]) -> String {
    let one = |flow: &TakenFlow| match flow.cell.is_empty() {
        true => flow.text.clone(),
        false => format!("{} of {}", flow.text, shown_name(&flow.cell)),
    };
    flows.iter().map(one).collect::<Vec<String>>().join(", ")
}

/// A sentence with its full stop.
pub fn ended(text: &str) -> String {
    match text.ends_with(['.', '!', '?', '…']) {
        true => text.to_owned(),
        false => format!("{text}."),
    }
}
