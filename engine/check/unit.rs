//! Units as written become units as meant.

use super::message;
use super::types::{Quantity, State, Type};
use super::{Checker, Outcome, Stop};
use crate::number::Rational;
use crate::source::{Code, Diagnostic, Span};
use crate::syntax::{Joint, UnitExpr, UnitTerm, UnitTermKind};
use crate::units::{Exponent, Family, Lookup, Reference, Unit};
use num_bigint::BigInt;

/// A unit with the reference it states.
#[derive(Clone, Debug, PartialEq)]
pub struct ResolvedUnit {
    /// The unit.
    pub unit: Unit,
    /// The reference it states by a suffix, a word behind it or by being what it is.
    pub stated: Option<Reference>,
}

impl Checker<'_> {
    /// A unit in square brackets.
    pub fn head(&mut self, unit: &UnitExpr) -> Outcome<ResolvedUnit> {
        self.unit_of(&unit.terms, unit)
    }

    /// The unit that `terms`, the first terms of `whole`, make; the reference word counts only
    /// when all terms are taken.
    pub(super) fn unit_of(&mut self, terms: &[UnitTerm], whole: &UnitExpr) -> Outcome<ResolvedUnit> {
        let mut unit = self.terms(terms)?;
        let word = whole.reference.as_ref().filter(|_| terms.len() == whole.terms.len());
        let Some(word) = word else {
            let stated = self.registry.states(&unit);
            self.refuse_reference_inside(&unit, whole)?;
            return Ok(ResolvedUnit { unit, stated });
        };
        if &*word.text == "torque" {
            unit = self.torque(unit, word.span)?;
            return Ok(ResolvedUnit { unit, stated: None });
        }
        let Some(reference) = Reference::from_word(&word.text) else {
            return Err(Stop::Failed);
        };
        self.stated_by_word(unit, reference, whole.span)
    }

    fn terms(&mut self, terms: &[UnitTerm]) -> Outcome<Unit> {
        let mut unit = Unit::one();
        let mut divided = false;
        for term in terms {
            let over = matches!(term.joint, Joint::Over | Joint::Per);
            if divided && term.joint != Joint::Times {
                self.warn_solidus(terms, term);
            }
            divided |= over;
            let one = self.term(term)?;
            unit = if over { unit.over(&one) } else { unit.times(&one) };
        }
        Ok(unit)
    }

    fn warn_solidus(&mut self, terms: &[UnitTerm], term: &UnitTerm) {
        let span = terms[0].span.to(term.span);
        let text = self.snippet(span);
        self.say(
            Diagnostic::warning(Code::Solidus, span, "a unit with more behind its division")
                .label(format!("`{text}` is read from left to right"))
                .expected("one division, with brackets around what is below the line")
                .repair("kJ/(kg K)"),
        );
    }

    fn term(&mut self, term: &UnitTerm) -> Outcome<Unit> {
        let base = match &term.kind {
            UnitTermKind::One => Unit::one(),
            UnitTermKind::Word(word) => self.word(word, term.span)?,
            UnitTermKind::Group(count, inner) => {
                let inner = self.terms(&inner.terms)?;
                self.registry.times_whole(*count, &inner)
            }
        };
        let (numerator, denominator) = term.exponent;
        match Exponent::new(numerator, denominator) {
            Some(exponent) => Ok(base.power(exponent)),
            None => self.fail(
                Diagnostic::error(Code::UnknownUnit, term.span, "a unit to a power that no quantity has")
                    .expected("a whole power or a half, a third or a quarter"),
            ),
        }
    }

    fn word(&mut self, word: &str, span: Span) -> Outcome<Unit> {
        match self.registry.word(word) {
            Lookup::Found(atom) => Ok(Unit::atom(atom)),
            Lookup::Refused { reads, offers } => {
                self.fail(message::ambiguous_unit(word, span, &reads, &offers))
            }
            Lookup::Unknown { nearest, case_variants } => {
                self.fail(message::unknown_unit(word, span, nearest, &case_variants))
            }
        }
    }

    /// Whether a word is a unit, without a message.
    pub(super) fn is_unit(&mut self, word: &str) -> bool {
        !matches!(self.registry.word(word), Lookup::Unknown { .. })
    }

    fn torque(&mut self, unit: Unit, span: Span) -> Outcome<Unit> {
        match self.registry.torque(&unit) {
            Some(torque) => Ok(torque),
            None => {
                let text = self.registry.show(&unit, None);
                self.fail(
                    Diagnostic::error(Code::Dimension, span, format!("`{text}` is no torque"))
                        .expected("a force times a length: `N m torque`, `lbf ft torque`"),
                )
            }
        }
    }

    fn stated_by_word(&mut self, unit: Unit, reference: Reference, span: Span) -> Outcome<ResolvedUnit> {
        let own = self.registry.states(&unit);
        let family = self.air_or_own_family(&unit);
        let fits = family.is_some_and(|family| family.open_may_be().contains(&reference))
            || (family == Some(Family::Pressure) && reference == Reference::Gauge);
        if own.is_some_and(|own| own != reference) || !fits {
            let text = self.snippet(span);
            return self.fail(
                Diagnostic::error(Code::Reference, span, format!("`{text}` says two things at once"))
                    .expected(
                        "`gauge` or `abs` behind a pressure; `free`, `actual`, `standard`, `normal` \
                         or `anr` behind a volume or flow",
                    ),
            );
        }
        let single = self.registry.single_atom(&unit);
        let named = single.and_then(|atom| self.registry.with_reference(atom, reference));
        Ok(ResolvedUnit { unit: named.map_or(unit, Unit::atom), stated: Some(reference) })
    }

    /// The family whose references a unit may carry: its own, or that of the flow it has per
    /// something.
    pub(super) fn air_or_own_family(&self, unit: &Unit) -> Option<Family> {
        let dimension = self.registry.dimension(unit);
        crate::units::family(&dimension).filter(|family| *family != Family::Ratio).or_else(|| self.registry.carries(unit))
    }

    /// `psig` inside a compound unit would count from the air outside per something.
    fn refuse_reference_inside(&mut self, unit: &Unit, whole: &UnitExpr) -> Outcome<()> {
        if self.registry.single_atom(unit).is_some() {
            return Ok(());
        }
        let Some((shown, bare)) = self.registry.point_inside(unit) else { return Ok(()) };
        let text = self.snippet(whole.span);
        self.fail(
            Diagnostic::error(Code::Point, whole.span, format!("`{shown}` inside a compound unit"))
                .label("per step of a scale: a difference is meant")
                .expected(format!("`{bare}`"))
                .repair(text.replace(&shown, &bare)),
        )
    }

    /// What a number with this unit, typed at `span`, counts from.
    pub(super) fn typed_state(&mut self, resolved: &ResolvedUnit, span: Span, zero: bool) -> State {
        if let Some(reference) = resolved.stated {
            return State::Is(reference);
        }
        match self.air_or_own_family(&resolved.unit) {
            None => State::Plain,
            Some(Family::Flow) if zero => State::Open(Default::default()),
            Some(Family::Flow) => {
                let place = self.place(span);
                self.found.open_literals.push((place, span));
                State::Open([place].into_iter().collect())
            }
            Some(Family::Power) if self.registry.has_current(&resolved.unit) => {
                State::Open(Default::default())
            }
            Some(family) => family.bare().map_or(State::Open(Default::default()), State::Is),
        }
    }

    /// The type of a number with this unit.
    pub(super) fn typed_quantity(&mut self, resolved: &ResolvedUnit, span: Span, zero: bool) -> Type {
        let state = self.typed_state(resolved, span, zero);
        let mut quantity = Quantity::new(resolved.unit.clone(), state);
        let one_word = self.registry.single_atom(&resolved.unit).is_some();
        quantity.marks.bare_pressure = one_word && quantity.state == State::Is(Reference::Difference);
        Type::quantity(quantity)
    }

    /// A unit as the reader sees it.
    pub(super) fn show_unit(&self, quantity: &Quantity) -> String {
        self.registry.show(&quantity.unit, quantity.reference())
    }
}

/// A whole number as an exact ratio.
pub(super) fn whole(n: u32) -> Rational {
    Rational::new(BigInt::from(n), BigInt::from(1)).unwrap_or_else(Rational::one)
}
