//! Products of two whole numbers of 128 bits, and their quotients, without an allocation.
//!
//! In: unsigned whole numbers. Out: whole quotients and whether something was left over. Signs,
//! powers of ten and rounding are the caller's.

/// `10^0` to `10^38`, all the powers of ten that fit.
pub(super) const POWERS_OF_TEN: [u128; 39] = powers_of_ten();

const fn powers_of_ten() -> [u128; 39] {
    let mut powers = [1; 39];
    let mut index = 1;
    while index < powers.len() {
        powers[index] = powers[index - 1] * 10;
        index += 1;
    }
    powers
}

/// `10^exponent`; nothing where it doesn't fit.
pub(super) fn power_of_ten(exponent: i64) -> Option<u128> {
    let index = usize::try_from(exponent).ok()?;
    POWERS_OF_TEN.get(index).copied()
}

/// How many decimal digits `value` has; none for zero.
pub(super) fn count_digits(value: u128) -> u32 {
    let bits = u128::BITS - value.leading_zeros();
    // 1233/4096 is log10(2) from below, near enough for 128 bits.
    let fewest = (bits * 1233) >> 12;
    let reached = POWERS_OF_TEN
        .get(fewest as usize)
        .is_some_and(|&power| value >= power);
    fewest + u32::from(reached)
}

/// `a · b` as its upper and lower 128 bits.
pub(super) fn product(a: u128, b: u128) -> (u128, u128) {
    let (low, high) = a.carrying_mul(b, 0);
    (high, low)
}

/// The whole part of `(high·2^128 + low) / divisor` and the remainder. Nothing where the quotient
/// has more than 128 bits or the divisor is zero.
pub(super) fn divide((high, low): (u128, u128), divisor: u128) -> Option<(u128, u128)> {
    if high == 0 {
        let quotient = low.checked_div(divisor)?;
        return Some((quotient, low - quotient * divisor));
    }
    (high < divisor).then(|| divide_long(high, low, divisor))
}

/// Long division in base 2^64 (Knuth, The Art of Computer Programming, 4.3.1 D). Needs
/// `high < divisor`.
fn divide_long(high: u128, low: u128, divisor: u128) -> (u128, u128) {
    let shift = divisor.leading_zeros();
    let divisor = divisor << shift;
    let high = match shift {
        0 => high,
        _ => high << shift | low >> (128 - shift),
    };
    let low = low << shift;
    let (upper, rest) = divide_step(high, low >> 64, divisor);
    let (lower, rest) = divide_step(rest, low & HALF, divisor);
    (upper << 64 | lower, rest >> shift)
}

const HALF: u128 = u64::MAX as u128;

/// One digit of the quotient: `(high·2^64 + next) / divisor`, with the divisor's top bit set.
fn divide_step(high: u128, next: u128, divisor: u128) -> (u128, u128) {
    let (upper, lower) = (divisor >> 64, divisor & HALF);
    let mut digit = high / upper;
    let mut rest = high - digit * upper;
    while digit > HALF || digit * lower > (rest << 64 | next) {
        digit -= 1;
        rest += upper;
        if rest > HALF {
            break;
        }
    }
    let remainder = (high << 64 | next).wrapping_sub(digit.wrapping_mul(divisor));
    (digit, remainder)
}
