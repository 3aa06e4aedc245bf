//! The unit in which a product is shown. In: the words of its operands, all joined; out: at most
//! three words, each dimension once, or coherent units.

use super::atom::{AtomKind, BASES};
use super::dimension::{Base, Dimension, WHOLE};
use super::intern::NAMED;
use super::registry::Registry;
use super::unit::{AtomId, Unit};

/// More words than this are shown in coherent units.
const MOST_WORDS: usize = 3;

/// Words of one direction: a length, an area and a volume are.
struct Group {
    direction: Option<Dimension>,
    /// Each with its exponent, and how many directions one of it is.
    words: Vec<(AtomId, i16, i16)>,
}

impl Registry {
    /// The unit of a product from the unit words of its operands: numbers and percentages are
    /// taken in, each dimension is merged into its first word, and a short word is spelled out
    /// (`cfm` is `ft3/min`) where a part of it merges with another. What would take more than
    /// three words is coherent. The factor to it is for the caller to ask.
    pub fn merged(&self, unit: &Unit) -> Unit {
        if unit.words().len() < 2 {
            return unit.clone();
        }
        let words = unit.words().iter().copied();
        let sizes = words.filter(|(atom, _)| {
            !self.is_kind(*atom, AtomKind::Number) && !self.is_kind(*atom, AtomKind::Ratio)
        });
        let unit = Unit::from_words(sizes).unwrap_or_else(|| unit.clone());
        if unit.words().len() < 2 {
            return unit;
        }
        let unit = self.without_scales(&unit);
        let unit = self.spelled_where_it_helps(&unit);
        let merged = self.merge_groups(&unit);
        match merged {
            Some(merged) if merged.words().len() <= MOST_WORDS => merged,
            _ => self.coherent(&self.dimension(&unit)),
        }
    }

    /// Readings and levels inside a product are differences; air keeps its state.
    fn without_scales(&self, unit: &Unit) -> Unit {
        self.replace_words(unit, |atom| {
            let air = self.states(&Unit::of(atom)).is_some()
                && matches!(
                    self.atom(atom).dimension.family(),
                    Some(super::Family::Flow | super::Family::Volume)
                );
            if air {
                None
            } else {
                self.atom(atom).bare.as_ref()
            }
        })
    }

    fn spelled_where_it_helps(&self, unit: &Unit) -> Unit {
        let directions = |atom: AtomId| -> Vec<Option<Dimension>> {
            let own = Unit::of(atom);
            let spelled = self.atom(atom).spelled.as_ref().unwrap_or(&own);
            let words = spelled.words().iter();
            words.map(|(part, _)| self.direction(*part)).collect()
        };
        let words: Vec<_> = unit
            .words()
            .iter()
            .map(|(atom, _)| (*atom, directions(*atom)))
            .collect();
        self.replace_words(unit, |atom| {
            let own = directions(atom);
            let meets = words
                .iter()
                .filter(|(other, _)| *other != atom)
                .any(|(_, others)| others.iter().any(|other| own.contains(other)));
            if meets {
                self.atom(atom).spelled.as_ref()
            } else {
                None
            }
        })
    }

    fn direction(&self, atom: AtomId) -> Option<Dimension> {
        self.atom(atom)
            .dimension
            .direction()
            .map(|(direction, _)| direction)
    }

    fn merge_groups(&self, unit: &Unit) -> Option<Unit> {
        let mut groups: Vec<Group> = Vec::new();
        for (atom, exponent) in unit.words() {
            let (direction, size) = match self.atom(*atom).dimension.direction() {
                Some((direction, size)) => (Some(direction), size),
                None => (None, 1),
            };
            let word = (*atom, *exponent, size);
            match groups.iter_mut().find(|group| group.direction == direction) {
                Some(group) => group.words.push(word),
                None => groups.push(Group {
                    direction,
                    words: vec![word],
                }),
            }
        }
        let mut words = Vec::new();
        for group in &groups {
            words.extend(group.merge()?);
        }
        Unit::from_words(words)
    }

    /// The coherent unit of a dimension, in named units where that takes fewer words: `Pa s`,
    /// `J/(kg K)`; angles in rad, levels in dB, torque as `N m torque`.
    pub fn coherent(&self, dimension: &Dimension) -> Unit {
        if *dimension == Dimension::TORQUE {
            return self.newton_metre_torque();
        }
        let plain = self.in_base_units(dimension);
        if plain.words().len() < 2 {
            return plain;
        }
        let mut best = plain;
        for symbol in NAMED {
            let named = self.made_atom(symbol);
            for sign in [1, -1] {
                let candidate = named.and_then(|named| self.with_named(dimension, named, sign));
                if let Some(candidate) = candidate
                    && is_shorter(&candidate, &best)
                {
                    best = candidate;
                }
            }
        }
        best
    }

    /// The dimension in base units, money and a notebook's own first.
    fn in_base_units(&self, dimension: &Dimension) -> Unit {
        let mut exponents: Vec<(Base, i16)> = dimension.exponents().collect();
        exponents.sort_by_key(|(base, _)| {
            let order = [Base::MASS, Base::LENGTH];
            let place = order.iter().position(|first| first == base);
            (
                !base.is_currency(),
                !base.is_defined(),
                place.unwrap_or(order.len()),
            )
        });
        let words = exponents.into_iter().filter_map(|(base, exponent)| {
            let atom = self.counted_in(base)?.single()?;
            Some((atom, exponent))
        });
        Unit::from_words(words).unwrap_or_default()
    }

    fn with_named(&self, dimension: &Dimension, named: AtomId, sign: i32) -> Option<Unit> {
        let part = self.atom(named).dimension.power(sign, 1)?;
        let rest = self.in_base_units(&dimension.over(&part)?);
        let named = Unit::of(named);
        if sign > 0 {
            named.times(&rest)
        } else {
            rest.over(&named)
        }
    }

    fn newton_metre_torque(&self) -> Unit {
        let words = ["N", "m"]
            .into_iter()
            .filter_map(|symbol| self.made_atom(symbol));
        let words = words.chain([AtomId::TORQUE]).map(|atom| (atom, WHOLE));
        Unit::from_words(words).unwrap_or_default()
    }

    /// One of the atoms that every registry has.
    fn made_atom(&self, symbol: &str) -> Option<AtomId> {
        let first = self.atoms.iter().take(NAMED.len() + BASES.len() + 1);
        let place = first.into_iter().position(|atom| *atom.symbol == *symbol)?;
        Some(AtomId(place as u32))
    }
}

impl Group {
    /// The group in its first word that takes it with a whole exponent, else with any.
    fn merge(&self) -> Option<Option<(AtomId, i16)>> {
        let total: i32 = self
            .words
            .iter()
            .map(|(_, exponent, size)| i32::from(*exponent) * i32::from(*size))
            .sum();
        if total == 0 {
            return Some(None);
        }
        let in_word = |size: i16| -> Option<i16> {
            let size = i32::from(size);
            (total % size == 0)
                .then(|| i16::try_from(total / size).ok())
                .flatten()
        };
        let fits = |whole: bool| {
            self.words.iter().find_map(|(atom, _, size)| {
                let exponent = in_word(*size)?;
                (!whole || exponent % WHOLE == 0).then_some((*atom, exponent))
            })
        };
        fits(true).or_else(|| fits(false)).map(Some)
    }
}

/// A named unit is worth it when it saves words, or from three words on, powers.
fn is_shorter(candidate: &Unit, best: &Unit) -> bool {
    let powers = |unit: &Unit| -> i32 {
        let words = unit.words().iter();
        words.map(|(_, exponent)| i32::from(*exponent).abs()).sum()
    };
    let (words, own) = (candidate.words().len(), best.words().len());
    words < own || (words == own && words > 2 && powers(candidate) < powers(best))
}
