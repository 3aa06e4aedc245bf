//! What is known of a value before any number moves: its kind, the unit its number is held in,
//! and what it counts from.

use crate::units::{Reference, Unit};
use smallvec::SmallVec;

/// The type of a value.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Type {
    /// Number with unit, switch or text.
    pub kind: Kind,
    /// Whether it is a column of such values.
    pub column: bool,
}

/// What a value is.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A number with a unit.
    Quantity(Quantity),
    /// True or false.
    Switch,
    /// Text.
    Text,
}

/// A number's unit, reference and history.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Quantity {
    /// The unit the number is held in. It changes only by one exact factor at a time.
    pub unit: Unit,
    /// What it counts from.
    pub state: State,
    /// What went into it.
    pub marks: Marks,
    /// Whether a reader wrote this unit, at a literal or in a bracket: then it is shown as it is.
    pub as_written: bool,
}

/// What a quantity counts from, as far as is known.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum State {
    /// Its dimension has no references.
    Plain,
    /// Stated.
    Is(Reference),
    /// Not stated: it takes the one it meets. The places where it was typed; none for a zero and
    /// for what came out of a product.
    Open(Origins),
    /// A flow or volume from a product with states in it: a head has to say which it is.
    ToTell {
        /// It is the room of a vessel per time.
        room_rate: bool,
    },
}

/// Where open values were typed.
pub type Origins = SmallVec<[Place; 1]>;

/// The place of a literal: the statement it stands in and its number there, which do not change
/// when other lines do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The statement.
    pub statement: u32,
    /// Which literal of that statement, counted by its offset from the statement's beginning.
    pub offset: u32,
}

/// What went into a value, as far as later rules ask for it. A value that is told forgets it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Marks {
    /// A plain number made from pressures, temperatures or densities.
    pub from_states: bool,
    /// The shop's `atmosphere` is in it.
    pub atmosphere: bool,
    /// The pressure of the standard, normal or ANR state is in it.
    pub standard: Option<Reference>,
    /// A pressure that a person typed without saying gauge or absolute.
    pub bare_pressure: bool,
    /// Active by apparent power.
    pub power_factor: bool,
    /// The difference of two ratios, which may be shown in percentage points.
    pub ratio_difference: bool,
}

impl Marks {
    /// What both leave in a product or a sum.
    #[must_use]
    pub fn with(self, other: Marks) -> Marks {
        Marks {
            from_states: self.from_states || other.from_states,
            atmosphere: self.atmosphere || other.atmosphere,
            standard: self.standard.or(other.standard),
            bare_pressure: false,
            power_factor: false,
            ratio_difference: false,
        }
    }
}

impl Type {
    /// One quantity.
    pub fn quantity(quantity: Quantity) -> Type {
        Type {
            kind: Kind::Quantity(quantity),
            column: false,
        }
    }

    /// A plain number.
    pub fn plain() -> Type {
        Type::quantity(Quantity::new(Unit::one(), State::Plain))
    }

    /// One switch.
    pub fn switch() -> Type {
        Type {
            kind: Kind::Switch,
            column: false,
        }
    }

    /// One text.
    pub fn text() -> Type {
        Type {
            kind: Kind::Text,
            column: false,
        }
    }

    /// The same, as a column or not.
    #[must_use]
    pub fn columned(mut self, column: bool) -> Type {
        self.column = column;
        self
    }

    /// Its quantity, if it is one.
    pub fn as_quantity(&self) -> Option<&Quantity> {
        match &self.kind {
            Kind::Quantity(quantity) => Some(quantity),
            Kind::Switch | Kind::Text => None,
        }
    }
}

impl Quantity {
    /// A quantity without a history.
    pub fn new(unit: Unit, state: State) -> Quantity {
        Quantity {
            unit,
            state,
            marks: Marks::default(),
            as_written: false,
        }
    }

    /// The reference it states.
    pub fn reference(&self) -> Option<Reference> {
        match self.state {
            State::Is(reference) => Some(reference),
            State::Plain | State::Open(_) | State::ToTell { .. } => None,
        }
    }

    /// Whether nothing has said yet what it counts from.
    pub fn is_open(&self) -> bool {
        matches!(self.state, State::Open(_))
    }
}
