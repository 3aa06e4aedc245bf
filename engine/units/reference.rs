//! What a reading counts from: one table, one row a reference, for every dimension that has any.
//!
//! The classic mistake of the trade is to mix gauge with absolute pressure, or free air with the
//! air in a line. Each row says how a value with this reference may be used; no code beside this
//! table tells pressure from temperature.

/// What a value of some dimension counts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reference {
    /// A difference of two pressures.
    Difference,
    /// A pressure counted from the air outside.
    Gauge,
    /// A pressure counted from empty space.
    Absolute,
    /// A reading of a thermometer, °C or °F.
    Thermometer,
    /// A temperature counted from absolute zero.
    Thermodynamic,
    /// A difference of two temperatures.
    Interval,
    /// Room in a vessel.
    Room,
    /// Air at this shop's atmosphere and temperature.
    Free,
    /// Air at the pressure in the line.
    Actual,
    /// Air at the standard state.
    Standard,
    /// Air at the normal state.
    Normal,
    /// Air at the ANR state of ISO 8778.
    Anr,
    /// Sound pressure level without weighting.
    SoundPressure,
    /// A-weighted sound level.
    SoundA,
    /// C-weighted sound level.
    SoundC,
    /// Sound power level.
    SoundPower,
    /// A difference of two levels.
    Gain,
    /// Active power.
    Active,
    /// Apparent power.
    Apparent,
    /// Reactive power.
    Reactive,
    /// A share of something: `5 %`.
    Share,
    /// A difference of two shares: `5 pp`.
    Points,
}

/// A dimension that has references.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Family {
    /// Force per area.
    Pressure,
    /// Temperature.
    Temperature,
    /// Volume.
    Volume,
    /// Volume per time.
    Flow,
    /// Sound level.
    Sound,
    /// Power.
    Power,
    /// Plain numbers.
    Ratio,
}

/// How a value with a reference may be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Class {
    /// A place on a scale: differences are taken, nothing is scaled.
    Point,
    /// An amount counted from a true zero: it is scaled, and a difference may be added.
    Total,
    /// An amount: added and scaled.
    Linear,
    /// A logarithm of an amount: gains are added, nothing else.
    Level,
}

/// One reference, as the reader sees it.
#[derive(Debug)]
pub struct Row {
    /// Which.
    pub reference: Reference,
    /// How it may be used.
    pub class: Class,
    /// The word behind a unit that states it; empty where the unit itself does.
    pub word: &'static str,
    /// The thing, as in “a gauge reading”.
    pub noun: &'static str,
    /// What it counts from, as in “counted from the air outside”.
    pub counts: &'static str,
}

/// Every reference.
pub const ROWS: &[Row] = &[
    row(
        Reference::Difference,
        Class::Linear,
        "",
        "a difference between two pressures",
        "counted from each other",
    ),
    row(
        Reference::Gauge,
        Class::Point,
        "gauge",
        "a gauge reading",
        "counted from the air outside",
    ),
    row(
        Reference::Absolute,
        Class::Total,
        "abs",
        "an absolute pressure",
        "counted from empty space",
    ),
    row(
        Reference::Thermometer,
        Class::Point,
        "",
        "a thermometer reading",
        "counted from the zero of its scale",
    ),
    row(
        Reference::Thermodynamic,
        Class::Total,
        "",
        "a thermodynamic temperature",
        "counted from absolute zero",
    ),
    row(
        Reference::Interval,
        Class::Linear,
        "",
        "a difference between two temperatures",
        "counted from each other",
    ),
    row(
        Reference::Room,
        Class::Linear,
        "",
        "room in a vessel",
        "whatever air is in it",
    ),
    row(
        Reference::Free,
        Class::Linear,
        "free",
        "free air",
        "at this shop's atmosphere and temperature",
    ),
    row(
        Reference::Actual,
        Class::Linear,
        "actual",
        "line air",
        "at the pressure in the line",
    ),
    row(
        Reference::Standard,
        Class::Linear,
        "standard",
        "standard air",
        "at the standard state",
    ),
    row(
        Reference::Normal,
        Class::Linear,
        "normal",
        "normal air",
        "at the normal state",
    ),
    row(
        Reference::Anr,
        Class::Linear,
        "anr",
        "ANR air",
        "at the ANR state",
    ),
    row(
        Reference::SoundPressure,
        Class::Level,
        "",
        "a sound pressure level",
        "against 20 µPa, unweighted",
    ),
    row(
        Reference::SoundA,
        Class::Level,
        "",
        "an A-weighted level",
        "against 20 µPa, A-weighted",
    ),
    row(
        Reference::SoundC,
        Class::Level,
        "",
        "a C-weighted level",
        "against 20 µPa, C-weighted",
    ),
    row(
        Reference::SoundPower,
        Class::Level,
        "",
        "a sound power level",
        "against 1 pW",
    ),
    row(
        Reference::Gain,
        Class::Linear,
        "",
        "a difference between two levels",
        "in decibels",
    ),
    row(
        Reference::Active,
        Class::Linear,
        "",
        "active power",
        "what does work or heats",
    ),
    row(
        Reference::Apparent,
        Class::Linear,
        "",
        "apparent power",
        "volts times amperes",
    ),
    row(
        Reference::Reactive,
        Class::Linear,
        "",
        "reactive power",
        "what swings to and fro",
    ),
    row(
        Reference::Share,
        Class::Linear,
        "",
        "a ratio",
        "a part of a whole",
    ),
    row(
        Reference::Points,
        Class::Linear,
        "",
        "a difference between two ratios",
        "in percentage points",
    ),
];

const fn row(
    reference: Reference,
    class: Class,
    word: &'static str,
    noun: &'static str,
    counts: &'static str,
) -> Row {
    Row {
        reference,
        class,
        word,
        noun,
        counts,
    }
}

impl Reference {
    /// Its row.
    pub fn row(self) -> &'static Row {
        &ROWS[self as usize]
    }

    /// The difference that two values with this reference have; itself where they just add.
    pub fn step(self) -> Reference {
        match self {
            Reference::Gauge | Reference::Absolute => Reference::Difference,
            Reference::Thermometer | Reference::Thermodynamic => Reference::Interval,
            _ if self.row().class == Class::Level => Reference::Gain,
            other => other,
        }
    }

    /// The reference that the word behind a unit states (`torque` is no reference).
    pub fn from_word(word: &str) -> Option<Reference> {
        ROWS.iter()
            .find(|row| row.word == word && !word.is_empty())
            .map(|row| row.reference)
    }
}

impl Family {
    /// What a unit of this family without a suffix states: nothing, or a reference.
    pub fn bare(self) -> Option<Reference> {
        match self {
            Family::Pressure => Some(Reference::Difference),
            Family::Volume => Some(Reference::Room),
            Family::Power => Some(Reference::Active),
            Family::Ratio => Some(Reference::Share),
            Family::Temperature | Family::Flow | Family::Sound => None,
        }
    }

    /// What a value of this family that states nothing may turn out to be.
    pub fn open_may_be(self) -> &'static [Reference] {
        use Reference::*;
        match self {
            Family::Pressure => &[Difference, Absolute],
            Family::Temperature => &[Interval, Thermodynamic],
            Family::Volume => &[Room, Free, Actual, Standard, Normal, Anr],
            // Against the room of a vessel an open flow is how fast that room is filled.
            Family::Flow => &[Free, Actual, Standard, Normal, Anr, Room],
            Family::Sound => &[Gain],
            Family::Power => &[Active, Apparent, Reactive],
            Family::Ratio => &[Share, Points],
        }
    }

    /// Quotients of unlike references that mean something: humidity ratios, exact leak factors,
    /// relative temperature changes, power factors.
    pub fn quotients(self) -> &'static [(Reference, Reference)] {
        use Reference::*;
        match self {
            Family::Pressure => &[(Difference, Absolute), (Absolute, Difference)],
            Family::Temperature => &[(Interval, Thermodynamic), (Thermodynamic, Interval)],
            Family::Power => &[(Active, Apparent)],
            _ => &[],
        }
    }
}
