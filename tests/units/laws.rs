//! Laws that hold for any units: of products and powers, of factors, of text read back.

use gaugebook::units::{Registry, Unit};
use proptest::prelude::*;

use super::exact::{decimal, ratio};
use super::reader::{read, unit};

/// Words of many kinds.
const WORDS: [&str; 24] = [
    "m", "in", "gal", "L", "lb", "kg", "min", "h", "psi", "kPa", "cfm", "rpm", "hp", "kWh", "K",
    "°F", "rev", "USD", "part", "each", "Nm3", "scfm", "VA", "N",
];

fn registry() -> Registry {
    let mut registry = Registry::new();
    registry.define_dimension(&["part", "parts"]).unwrap();
    registry
}

fn built(registry: &mut Registry, parts: &[(usize, i32, i32)]) -> Unit {
    parts
        .iter()
        .fold(Unit::one(), |product, (word, numerator, denominator)| {
            let word = unit(registry, WORDS[*word]);
            let power = word.power(*numerator, *denominator).unwrap();
            product.times(&power).unwrap()
        })
}

fn whole_powers() -> impl Strategy<Value = Vec<(usize, i32, i32)>> {
    let power = prop_oneof![(-3..=-1i32), (1..=3i32)];
    prop::collection::vec((0..WORDS.len(), power, Just(1)), 0..5)
}

/// Powers of which the twelfth is mostly in range.
fn small_powers() -> impl Strategy<Value = Vec<(usize, i32, i32)>> {
    let power = prop_oneof![Just(-1), Just(1), Just(2)];
    prop::collection::vec((0..WORDS.len(), power, 1..=4i32), 0..4)
}

fn powers() -> impl Strategy<Value = Vec<(usize, i32, i32)>> {
    let power = prop_oneof![(-3..=-1i32), (1..=3i32)];
    prop::collection::vec((0..WORDS.len(), power, 1..=4i32), 0..5)
}

proptest! {
    #[test]
    fn a_product_has_the_product_of_dimensions_and_factors(a in whole_powers(), b in whole_powers()) {
        let mut registry = registry();
        let (a, b) = (built(&mut registry, &a), built(&mut registry, &b));
        let product = a.times(&b).unwrap();
        let dimension = registry.dimension(&a).times(&registry.dimension(&b)).unwrap();
        prop_assert_eq!(registry.dimension(&product), dimension);
        let factor = registry.factor_to_base(&a).times(&registry.factor_to_base(&b));
        prop_assert_eq!(registry.factor_to_base(&product), factor);
        let other = registry.dimension(&b.times(&a).unwrap());
        prop_assert_eq!(registry.dimension(&product), other);
    }

    #[test]
    fn a_quotient_undoes_a_product(a in powers(), b in powers()) {
        let mut registry = registry();
        let (a, b) = (built(&mut registry, &a), built(&mut registry, &b));
        let back = a.times(&b).unwrap().over(&b).unwrap();
        prop_assert_eq!(registry.dimension(&back), registry.dimension(&a));
        prop_assert!(a.over(&a).unwrap().is_one());
    }

    #[test]
    fn a_power_is_a_product_and_a_root_undoes_it(a in whole_powers()) {
        let mut registry = registry();
        let a = built(&mut registry, &a);
        let cube = a.power(3, 1).unwrap();
        prop_assert_eq!(&cube, &a.times(&a).unwrap().times(&a).unwrap());
        prop_assert_eq!(cube.power(1, 3).unwrap(), a);
    }

    #[test]
    fn factors_there_and_back_are_one(a in whole_powers()) {
        let mut registry = registry();
        let a = built(&mut registry, &a);
        let base = registry.coherent(&registry.dimension(&a));
        let there = registry.factor(&a, &base).unwrap();
        let back = registry.factor(&base, &a).unwrap();
        prop_assert!(there.times(&back).is_one());
        prop_assert_eq!(there, registry.factor_to_base(&a));
    }

    #[test]
    fn roots_agree_with_their_powers(a in small_powers()) {
        let mut registry = registry();
        let a = built(&mut registry, &a);
        let root = ratio(&registry.factor_to_base(&a));
        // Larger than a unit may be: nothing to compare.
        let Some(power) = a.power(12, 1) else {
            return Ok(());
        };
        let power = ratio(&registry.factor_to_base(&power));
        let error = root.power(12).unwrap().over(&power).unwrap().minus(&decimal("1"));
        let limit = decimal("1e-45");
        prop_assert!(error < limit && decimal("-1e-45") < error);
    }

    #[test]
    fn a_shown_unit_reads_as_itself(a in powers(), number in 0..3usize) {
        let mut registry = registry();
        let mut a = built(&mut registry, &a);
        if number > 0 {
            let number = registry.whole_number(100).map(Unit::of).unwrap();
            let below = registry.whole_number(24).map(Unit::of).unwrap();
            a = number.times(&a).unwrap();
            let metre = unit(&mut registry, "m");
            a = a.over(&below.times(&metre).unwrap()).unwrap();
        }
        let shown = registry.show(&a, None);
        let back = read(&mut registry, &shown);
        prop_assert!(back.is_ok(), "{shown}: {back:?}");
        let (back, reference) = back.unwrap();
        prop_assert_eq!(reference, None);
        prop_assert_eq!(registry.show(&back, None), shown);
        prop_assert!(registry.factor(&a, &back).unwrap().is_one());
        if number == 0 {
            prop_assert_eq!(back, a);
        }
    }

    #[test]
    fn merging_keeps_the_dimension_and_is_done_once(a in powers()) {
        let mut registry = registry();
        let a = built(&mut registry, &a);
        let merged = registry.merged(&a);
        prop_assert_eq!(registry.dimension(&merged), registry.dimension(&a));
        prop_assert!(registry.factor(&a, &merged).is_some());
        prop_assert_eq!(registry.merged(&merged), merged.clone());
    }

    #[test]
    fn words_above_the_line_come_first(a in powers()) {
        let mut registry = registry();
        let a = built(&mut registry, &a);
        let signs: Vec<bool> = a.words().iter().map(|(_, exponent)| *exponent < 0).collect();
        prop_assert!(signs.is_sorted());
        prop_assert!(a.words().iter().all(|(_, exponent)| *exponent != 0));
    }

    #[test]
    fn no_word_breaks_the_registry(word in "\\PC{0,12}") {
        let mut registry = registry();
        let _ = registry.word(&word);
        let _ = registry.word_to_power(&word, 3, 1);
        let _ = registry.compose(&word);
    }
}
