//! Units as written become units as meant.

use super::message;
use super::types::{Quantity, State, Type};
use super::{Checker, Outcome, Stop};
use crate::number::Rational;
use crate::source::Span;
use crate::syntax::{Joint, Literal, UnitExpr, UnitTerm, UnitTermKind};
use crate::units::{Dimension, Family, Lookup, Reference, Unit};

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
    pub(super) fn unit_of(
        &mut self,
        terms: &[UnitTerm],
        whole: &UnitExpr,
    ) -> Outcome<ResolvedUnit> {
        let mut unit = self.terms(terms)?;
        let word = whole
            .reference
            .as_ref()
            .filter(|_| terms.len() == whole.terms.len());
        let Some(word) = word else {
            let stated = self.registry.states(&unit);
            self.refuse_reference_inside(&unit, whole)?;
            return Ok(ResolvedUnit { unit, stated });
        };
        if &*word.text == "torque" {
            unit = self.torque(unit, whole.span)?;
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
            let joined = if over {
                unit.over(&one)
            } else {
                unit.times(&one)
            };
            unit = match joined {
                Some(unit) => unit,
                None => return self.fail(message::unit_too_large(term.span)),
            };
        }
        Ok(unit)
    }

    /// `kJ/kg/K`: what it is read as, and with all that follows the division below the line.
    fn warn_solidus(&mut self, terms: &[UnitTerm], term: &UnitTerm) {
        let (Some(first), Some(last)) = (terms.first(), terms.last()) else {
            return;
        };
        let span = first.span.to(last.span);
        let _ = term;
        let below = |one: &&UnitTerm| matches!(one.joint, Joint::Over | Joint::Per);
        let division = terms.iter().position(|one| below(&one)).unwrap_or(0);
        let as_read = self.line_of(terms, |_, one| below(&one));
        let all_below = self.line_of(terms, |index, _| index >= division);
        let text = self.snippet(span);
        self.say(message::solidus_in_unit(span, &text, &as_read, &all_below));
    }

    /// Terms written with one division: those below the line in brackets, if there are several.
    fn line_of(&self, terms: &[UnitTerm], below: impl Fn(usize, &UnitTerm) -> bool) -> String {
        let side = |wanted: bool| -> Vec<String> {
            let of_side = terms
                .iter()
                .enumerate()
                .filter(|(index, term)| below(*index, term) == wanted);
            of_side.map(|(_, term)| self.snippet(term.span)).collect()
        };
        let (above, below) = (side(false).join(" "), side(true));
        let below = match below.len() {
            1 => below.join(" "),
            _ => format!("({})", below.join(" ")),
        };
        match above.is_empty() {
            true => format!("per {below}"),
            false => format!("{above}/{below}"),
        }
    }

    fn term(&mut self, term: &UnitTerm) -> Outcome<Unit> {
        let (numerator, denominator) = term.exponent;
        match &term.kind {
            UnitTermKind::One => Ok(Unit::one()),
            UnitTermKind::Word(word) => self.word(word, term.exponent, term.span),
            UnitTermKind::Group(count, inner) => {
                let inner = self.terms(&inner.terms)?;
                let counted = self.registry.whole_number(*count).map(Unit::of);
                let whole = match (count, counted) {
                    (1, _) => Some(inner),
                    (_, Some(counted)) => counted.times(&inner),
                    (_, None) => None,
                };
                match whole.and_then(|whole| whole.power(numerator, denominator)) {
                    Some(unit) => Ok(unit),
                    None => self.fail(message::unit_too_large(term.span)),
                }
            }
        }
    }

    fn word(
        &mut self,
        word: &str,
        (numerator, denominator): (i32, i32),
        span: Span,
    ) -> Outcome<Unit> {
        let looked_up = match (numerator, denominator) {
            (1, 1) => self.registry.word(word),
            _ => self.registry.word_to_power(word, numerator, denominator),
        };
        match looked_up {
            Lookup::Found(unit) => Ok(unit),
            Lookup::TooLarge => self.fail(message::unit_too_large(span)),
            Lookup::Refused { reads, offers } => {
                self.fail(message::ambiguous_unit(word, span, &reads, &offers))
            }
            Lookup::Unknown {
                nearest,
                case_variants,
            } => self.fail(message::unknown_unit(word, span, nearest, &case_variants)),
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
                let force = self.registry.force_instead(&unit);
                let force = force.map(|force| self.registry.show(&force, None));
                self.fail(message::no_torque(span, &text, force))
            }
        }
    }

    fn stated_by_word(
        &mut self,
        unit: Unit,
        reference: Reference,
        span: Span,
    ) -> Outcome<ResolvedUnit> {
        let own = self.registry.states(&unit);
        let family = self.carried_family(&unit);
        let fits = family.is_some_and(|family| family.open_may_be().contains(&reference))
            || (family == Some(Family::Pressure) && reference == Reference::Gauge);
        if own.is_some_and(|own| own != reference) || !fits {
            let text = self.snippet(span);
            return self.fail(message::two_references(span, &text, own.is_some()));
        }
        let unit = self.registry.named(&unit, reference);
        Ok(ResolvedUnit {
            unit,
            stated: Some(reference),
        })
    }

    /// The family whose references a unit may carry: its own, or that of the flow it has per
    /// something.
    pub(super) fn carried_family(&self, unit: &Unit) -> Option<Family> {
        self.registry.carried_family(unit)
    }

    /// `psig` inside a compound unit would count from the air outside per something.
    fn refuse_reference_inside(&mut self, unit: &Unit, whole: &UnitExpr) -> Outcome<()> {
        let Some(atom) = self.registry.misplaced(unit) else {
            return Ok(());
        };
        let word = Unit::of(atom);
        let shown = self.registry.show(&word, None);
        let bare = self.registry.show(&self.registry.bare(&word), None);
        let text = self.snippet(whole.span);
        let mended = text.contains(&shown).then(|| text.replace(&shown, &bare));
        self.fail(message::reference_inside(whole.span, &shown, &bare, mended))
    }

    /// What a number with this unit, typed at `span`, counts from.
    pub(super) fn typed_state(&mut self, resolved: &ResolvedUnit, span: Span, zero: bool) -> State {
        if let Some(reference) = resolved.stated {
            return State::Is(reference);
        }
        match self.carried_family(&resolved.unit) {
            None => State::Plain,
            Some(Family::Flow) if zero => State::Open(Default::default()),
            Some(Family::Flow) => {
                let place = self.place(span);
                let unit = resolved.unit.clone();
                let literal = super::OpenLiteral { span, unit };
                self.found.open_literals.push((place, literal));
                State::Open([place].into_iter().collect())
            }
            Some(Family::Power) if self.registry.has_current(&resolved.unit) => {
                State::Open(Default::default())
            }
            Some(family) => family
                .bare()
                .map_or(State::Open(Default::default()), State::Is),
        }
    }

    /// The type of a number with this unit.
    pub(super) fn typed_quantity(
        &mut self,
        resolved: &ResolvedUnit,
        span: Span,
        zero: bool,
    ) -> Type {
        let state = self.typed_state(resolved, span, zero);
        let mut quantity = Quantity::new(resolved.unit.clone(), state);
        quantity.as_written = true;
        let one_word = self.registry.single_atom(&resolved.unit).is_some();
        quantity.marks.bare_pressure =
            one_word && quantity.state == State::Is(Reference::Difference);
        quantity.marks.power_factor = self.is_power_factor(&resolved.unit);
        Type::quantity(quantity)
    }

    /// `W/VA`, `kW/kVA`
    pub(super) fn is_power_factor(&self, unit: &Unit) -> bool {
        let [(above, up), (below, down)] = unit.words() else {
            return false;
        };
        let [above, below] = [above, below].map(|atom| self.registry.atom(*atom));
        above.dimension == Dimension::POWER
            && above.reference.is_none()
            && below.reference == Some(Reference::Apparent)
            && *up > 0
            && *down < 0
    }

    /// A unit as the reader sees it.
    pub(super) fn show_unit(&self, quantity: &Quantity) -> String {
        self.registry.show(&quantity.unit, quantity.reference())
    }
}

impl Checker<'_> {
    /// The exact size of a unit of one's own: `50 lb` in `unit bag = 50 lb`.
    pub fn unit_size(&mut self, literal: &Literal) -> Outcome<(Rational, Unit)> {
        let number = self.numeral(&literal.number, literal.negative)?;
        let unit = match &literal.unit {
            Some(unit) => self.head(unit)?.unit,
            None => Unit::one(),
        };
        Ok((number.rational(), unit))
    }
}
