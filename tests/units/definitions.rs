//! Dimensions and units that a notebook defines.

use gaugebook::number::Rational;
use gaugebook::units::{DefinitionError, Lookup, Reference, Registry, Unit};

use super::exact::decimal;
use super::reader::unit;

#[test]
fn a_dimension_of_ones_own_mixes_with_no_other() {
    let mut registry = Registry::new();
    let part = registry.define_dimension(&["part", "parts"]).unwrap();
    let bag = registry.define_dimension(&["bag"]).unwrap();
    assert_eq!(unit(&mut registry, "parts"), Unit::of(part));
    let [part, bag] = [part, bag].map(Unit::of);
    assert_eq!(registry.factor(&part, &bag), None);
    let rate = unit(&mut registry, "USD/part");
    assert_eq!(registry.show(&rate, None), "USD/part");
    assert_eq!(registry.spoken(&part), "parts");
    assert_eq!(registry.spoken(&bag), "bags");
}

#[test]
fn a_unit_of_ones_own_has_an_exact_size() {
    let mut registry = Registry::new();
    let pound = unit(&mut registry, "lb");
    let bag = registry.define_unit(&["bag", "bags"], &Rational::whole(50), &pound);
    let bag = Unit::of(bag.unwrap());
    let factor = registry.factor(&bag, &pound).unwrap();
    assert_eq!(factor.ratio, Rational::whole(50));
    let rate = unit(&mut registry, "bags/h");
    assert_eq!(registry.show(&rate, None), "bag/h");
    let area = unit(&mut registry, "bag2");
    assert_eq!(registry.show(&area, None), "bag²");
}

#[test]
fn a_refused_word_may_be_defined_and_a_known_one_may_not() {
    let mut registry = Registry::new();
    let hour = unit(&mut registry, "h");
    registry
        .define_unit(&["shift"], &Rational::whole(8), &hour)
        .unwrap();
    let shift = unit(&mut registry, "per shift");
    assert_eq!(registry.show(&shift, None), "per shift");
    for (name, what) in [
        ("psi", "pound per square inch"),
        ("ms", "millisecond"),
        ("in2", "square inch"),
        ("shift", "shift"),
        ("USD", "US dollar"),
        ("torque", "a word that stands behind a unit"),
        ("free", "a word that stands behind a unit"),
    ] {
        let taken = DefinitionError::Taken(name.to_string(), what.to_string());
        assert_eq!(registry.define_dimension(&[name]), Err(taken), "{name}");
    }
    assert_eq!(registry.define_dimension(&[]), Err(DefinitionError::NoName));
}

#[test]
fn sizes_without_sense_are_refused() {
    let mut registry = Registry::new();
    let pound = unit(&mut registry, "lb");
    let zero = registry.define_unit(&["bag"], &Rational::zero(), &pound);
    assert_eq!(zero, Err(DefinitionError::Zero));
    for word in ["°C", "psig", "dBA", "psig/min"] {
        let scale = unit(&mut registry, word);
        let point = registry.define_unit(&["bag"], &Rational::one(), &scale);
        assert_eq!(point, Err(DefinitionError::Point), "{word}");
    }
    let root = unit(&mut registry, "s K^(1/2)/m");
    let rooted = registry.define_unit(&["bag"], &Rational::one(), &root);
    assert_eq!(rooted, Err(DefinitionError::Root));
    assert!(matches!(registry.word("bag"), Lookup::Unknown { .. }));
}

#[test]
fn a_unit_of_many_dimensions_keeps_them_all() {
    let mut registry = Registry::new();
    let mut product = Unit::one();
    for number in 0..32 {
        let name = format!("thing{number}_");
        let thing = registry.define_dimension(&[&name]).unwrap();
        product = product.times(&Unit::of(thing)).unwrap();
    }
    assert_eq!(registry.dimension(&product).exponents().count(), 32);
}

#[test]
fn sizes_and_powers_cannot_grow_without_end() {
    let mut registry = Registry::new();
    let mut unit = unit(&mut registry, "m");
    let large = decimal("1e120");
    let mut refused = None;
    for step in 0..20 {
        let name = format!("chain{step}");
        match registry.define_unit(&[&name], &large, &unit) {
            Ok(atom) => unit = Unit::of(atom),
            Err(why) => {
                refused = Some(why);
                break;
            }
        }
    }
    assert_eq!(refused, Some(DefinitionError::TooLarge));
    let power = unit.power(100, 1).unwrap();
    assert_eq!(
        registry.define_unit(&["huge"], &large, &power),
        Err(DefinitionError::TooLarge)
    );
    assert_eq!(unit.power(101, 1), None);
    assert_eq!(registry.word_to_power("m", 101, 1), Lookup::TooLarge);
}

#[test]
fn a_definition_can_be_taken_back_and_made_again() {
    let mut registry = Registry::new();
    let pound = unit(&mut registry, "lb");
    let first = registry
        .define_unit(&["bag", "bags"], &Rational::whole(50), &pound)
        .unwrap();
    assert!(matches!(registry.word("bag2"), Lookup::Found(_)));
    assert!(registry.remove_definition("bags"));
    assert!(!registry.remove_definition("bag"));
    assert!(matches!(registry.word("bag"), Lookup::Unknown { .. }));
    assert!(matches!(registry.word("bag2"), Lookup::Unknown { .. }));
    let again = registry
        .define_unit(&["bag", "bags"], &Rational::whole(50), &pound)
        .unwrap();
    assert_eq!(first, again);
    registry.remove_definition("bag");
    let other = registry
        .define_unit(&["bag", "bags"], &Rational::whole(40), &pound)
        .unwrap();
    assert_ne!(first, other);
    registry.remove_definition("bag");
    let part = registry.define_dimension(&["part"]).unwrap();
    registry.remove_definition("part");
    assert_eq!(registry.define_dimension(&["part"]).unwrap(), part);
}

#[test]
fn a_unit_of_air_keeps_its_state() {
    let mut registry = Registry::new();
    let standard = unit(&mut registry, "scf");
    let bottle = registry
        .define_unit(&["bottle"], &Rational::whole(250), &standard)
        .unwrap();
    let bottle = Unit::of(bottle);
    assert_eq!(registry.states(&bottle), Some(Reference::Standard));
    assert_eq!(registry.show(&bottle, Some(Reference::Standard)), "bottle");
}

#[test]
fn a_notebook_may_define_many_dimensions_but_not_endlessly_many() {
    let mut registry = Registry::new();
    let refused = (0..70_000).find(|number| {
        let name = format!("thing_{number}");
        registry.define_dimension(&[&name]).is_err()
    });
    assert_eq!(refused, Some(65_536 - 1000));
}
