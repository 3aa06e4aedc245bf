//! What runs of a statement are: numbers and units, which are written anew as a whole, and the
//! tags behind ±.

use crate::source::Span;
use crate::syntax::fold;
use crate::syntax::printer::{print_literal, print_unit};
use crate::syntax::tree::{Literal, PlusMinus, Statement, UnitExpr};
use crate::syntax::walk::{Walker, walk};

/// The runs of a statement, in the order of the text.
pub(super) struct Roles {
    /// Runs that are replaced, each with its new spelling.
    pub runs: Vec<(Span, String)>,
    /// Where tags begin.
    pub tags: Vec<u32>,
    /// Where a minus stands before a value.
    pub prefixes: Vec<u32>,
}

impl Roles {
    /// The runs of this statement.
    pub fn of(statement: &Statement, text: &str) -> Roles {
        let mut finder = Finder {
            text,
            roles: Roles {
                runs: Vec::new(),
                tags: Vec::new(),
                prefixes: Vec::new(),
            },
        };
        walk(statement, &mut finder);
        let mut roles = finder.roles;
        roles.runs.sort_by_key(|(span, _)| *span);
        roles.tags.sort_unstable();
        roles.prefixes.sort_unstable();
        roles
    }

    /// The run that begins here, unless it goes over a line border.
    pub fn run_at(&self, start: u32, text: &str) -> Option<&(Span, String)> {
        let at = self.runs.partition_point(|(span, _)| span.start < start);
        // A literal, which comes first, and its unit may begin at one place.
        let begins_here = self.runs.get(at..)?;
        begins_here
            .iter()
            .take_while(|(span, _)| span.start == start)
            .filter(|(span, _)| !span.of(text).contains('\n'))
            .reduce(|longest, run| {
                if run.0.end > longest.0.end {
                    run
                } else {
                    longest
                }
            })
    }

    /// Whether the minus that stands here belongs to what follows it.
    pub fn is_prefix(&self, start: u32) -> bool {
        self.prefixes.binary_search(&start).is_ok()
    }

    /// Whether the bracket that begins here is a tag.
    pub fn is_tag(&self, start: u32) -> bool {
        self.tags.binary_search(&start).is_ok()
    }
}

struct Finder<'t> {
    text: &'t str,
    roles: Roles,
}

/// The literal with its digits as they were grouped.
pub(super) fn as_grouped(literal: &Literal, text: &str) -> Literal {
    let mut own = literal.clone();
    let written = literal.number.span.of(text);
    let is_grouped =
        written.contains('_') && written.is_ascii() && literal.number.fraction.is_none();
    if is_grouped {
        let mut digits = written.to_ascii_lowercase().replace('+', "");
        if digits.starts_with('.') {
            digits.insert(0, '0');
        }
        own.number.digits = digits.trim_end_matches('.').into();
    }
    own.negative = false;
    own.plus_minus = None;
    own
}

impl<'t> Walker<'t> for Finder<'_> {
    fn literal(&mut self, literal: &'t Literal, is_item: bool) {
        let written = literal.number.span.of(self.text);
        if written.starts_with(|sign| fold::superscript(sign).is_some()) {
            return;
        }
        let mut span = literal.number.span;
        if let Some(unit) = &literal.unit {
            span = span.to(unit.span);
        }
        let is_told = literal.plus_minus.is_some() || literal.unit.is_some();
        let is_glyph = literal.number.fraction.is_some() && !written.contains('/');
        let own = as_grouped(literal, self.text);
        let spelling = print_literal(&own, is_item || is_told || !is_glyph);
        self.roles.runs.push((span, spelling));
    }

    fn negative(&mut self, start: u32) {
        self.roles.prefixes.push(start);
    }

    fn unit(&mut self, unit: &'t UnitExpr, _in_bracket: bool) {
        self.roles.runs.push((unit.span, print_unit(unit)));
    }

    fn plus_minus(&mut self, plus_minus: &'t PlusMinus) {
        if let Some(tag) = &plus_minus.tag {
            self.roles.tags.push(tag.span.start);
        }
    }

    fn code(&mut self, span: Span) {
        let text = span.of(self.text).to_string();
        self.roles.runs.push((span, text));
    }
}
