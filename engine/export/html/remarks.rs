//! What stands below a table: cautions, defaults that results rest on, notes.

use crate::export::text::remark_texts;
use crate::report::Remark;
use maud::{Markup, html};

/// Remarks in their order.
pub fn remarks_list(remarks: &[&Remark]) -> Markup {
    html! {
        @if !remarks.is_empty() {
            div class="remarks" {
                @for remark in remarks {
                    @for text in remark_texts(remark) {
                        p class=(class(remark)) { (with_bold_head(&text, remark)) }
                    }
                }
            }
        }
    }
}

fn class(remark: &Remark) -> &'static str {
    match remark {
        Remark::TakenAs(_) | Remark::TakenAsAir { .. } => "taken",
        Remark::Caution { .. } => "caution",
        Remark::Note { .. } => "note",
    }
}

/// A caution is found by its first word.
fn with_bold_head(text: &str, remark: &Remark) -> Markup {
    let rest = match remark {
        Remark::Caution { .. } => text.strip_prefix("Caution"),
        _ => None,
    };
    html! {
        @match rest {
            Some(rest) => { strong { "Caution" } (rest) }
            None => (text)
        }
    }
}

/// A sentence with its full stop.
pub fn ended(text: &str) -> String {
    match text.ends_with(['.', '!', '?', '…']) {
        true => text.to_owned(),
        false => format!("{text}."),
    }
}
