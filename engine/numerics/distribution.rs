//! The normal and Student's t distribution: shares and quantiles.
//!
//! Degrees of freedom are any number above zero, infinite ones make t normal. Quantiles of shares
//! that are none are NaN.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Degrees of freedom from which t is worked out from the normal distribution.
const MANY: f64 = 1000.0;

/// The share of a normal distribution below `z`.
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z * FRAC_1_SQRT_2)
}

/// The value below which the share `p` of a normal distribution lies.
pub fn normal_quantile(p: f64) -> f64 {
    // Above one half 1 − p is exact.
    if p > 0.5 {
        -lower_normal_quantile(1.0 - p)
    } else {
        lower_normal_quantile(p)
    }
}

/// The quantile for a share up to one half: a start from Abramowitz and Stegun 26.2.23, then
/// Halley's method.
fn lower_normal_quantile(p: f64) -> f64 {
    if p == 0.0 {
        return f64::NEG_INFINITY;
    }
    if p == 0.5 {
        return 0.0;
    }
    if !(p > 0.0 && p <= 0.5) {
        return f64::NAN;
    }
    let t = libm::sqrt(-2.0 * libm::log(p));
    let above = 2.515_517 + t * (0.802_853 + t * 0.010_328);
    let below = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    let mut z = above / below - t;
    for _ in 0..3 {
        let density = libm::exp(-0.5 * z * z) / libm::sqrt(2.0 * PI);
        let step = (normal_cdf(z) - p) / density;
        z -= step / (1.0 + 0.5 * z * step);
    }
    z
}

/// The share of Student's t distribution with `freedom` degrees of freedom below `t`.
pub fn student_cdf(t: f64, freedom: f64) -> f64 {
    let outside = 0.5 * student_outside(t.abs(), freedom);
    if t > 0.0 { 1.0 - outside } else { outside }
}

/// The value below which the share `p` of Student's t distribution lies.
pub fn student_quantile(p: f64, freedom: f64) -> f64 {
    if p > 0.5 {
        student_two_sided(2.0 * (1.0 - p), freedom)
    } else {
        -student_two_sided(2.0 * p, freedom)
    }
}

/// The factor k with which a standard uncertainty covers the share `level` of the values: the
/// two-sided quantile of t.
pub fn coverage_factor(level: f64, freedom: f64) -> f64 {
    student_two_sided(1.0 - level, freedom)
}

/// The share of t beyond ±`t`.
fn student_outside(t: f64, freedom: f64) -> f64 {
    if t.is_nan() || freedom.is_nan() || freedom <= 0.0 {
        return f64::NAN;
    }
    if freedom == f64::INFINITY {
        return 2.0 * normal_cdf(-t);
    }
    if freedom >= MANY {
        return 2.0 * normal_cdf(-normal_of_student(t, freedom));
    }
    let below = t * t / freedom;
    if below == f64::INFINITY {
        return 0.0;
    }
    let x = 1.0 / (1.0 + below);
    let rest = below / (1.0 + below);
    // x^(ν/2) and √(1−x), over the beta function.
    let front = libm::exp(gamma_ratio_logarithm(freedom) - 0.5 * freedom * libm::log1p(below))
        * libm::sqrt(rest / PI);
    let half = 0.5 * freedom;
    if x < (half + 1.0) / (half + 2.5) {
        front * beta_fraction(x, half, 0.5) / half
    } else {
        1.0 - front * beta_fraction(rest, 0.5, half) / 0.5
    }
}

/// The value beyond which, on both sides, the share `outside` of t lies.
fn student_two_sided(outside: f64, freedom: f64) -> f64 {
    if freedom.is_nan() || freedom <= 0.0 || !(0.0..=1.0).contains(&outside) {
        return f64::NAN;
    }
    if outside == 0.0 {
        return f64::INFINITY;
    }
    if outside == 1.0 {
        return 0.0;
    }
    let normal = -normal_quantile(0.5 * outside);
    if freedom == f64::INFINITY {
        normal
    } else if freedom >= MANY {
        student_of_normal(normal, freedom)
    } else {
        solve_outside(outside, freedom, normal)
    }
}

/// Newton's method on the logarithms of t and of its share, in which heavy tails are straight,
/// kept inside the bracket found so far.
fn solve_outside(outside: f64, freedom: f64, start: f64) -> f64 {
    let target = libm::log(outside);
    let scale = gamma_ratio_logarithm(freedom) - 0.5 * libm::log(freedom * PI);
    let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut place = libm::log(start.max(1e-300));
    for _ in 0..200 {
        let t = libm::exp(place);
        let share = student_outside(t, freedom);
        let excess = libm::log(share) - target;
        if excess > 0.0 {
            low = place;
        } else {
            high = place;
        }
        let density = libm::exp(scale - 0.5 * (freedom + 1.0) * libm::log1p(t * t / freedom));
        let slope = -2.0 * density * t / share;
        let mut next = place - excess / slope;
        if !(next > low && next < high) {
            next = match (low.is_finite(), high.is_finite()) {
                (true, true) => low.midpoint(high),
                (true, false) => place + 1.0,
                (false, _) => place - 1.0,
            };
        }
        let step = (next - place).abs();
        place = next;
        if step < 2e-16 * place.abs().max(1.0) {
            break;
        }
    }
    libm::exp(place)
}

/// ln(Γ((ν+1)/2) / Γ(ν/2)): by its series from 30 degrees of freedom on, where the difference of
/// two logarithms would lose digits.
fn gamma_ratio_logarithm(freedom: f64) -> f64 {
    if freedom < 30.0 {
        return libm::lgamma(0.5 * (freedom + 1.0)) - libm::lgamma(0.5 * freedom);
    }
    let inverse = 1.0 / freedom;
    let square = inverse * inverse;
    let series = -0.25
        + square
            * (1.0 / 24.0
                + square
                    * (-0.05
                        + square
                            * (17.0 / 112.0 + square * (-31.0 / 36.0 + square * 691.0 / 88.0))));
    0.5 * libm::log(0.5 * freedom) + inverse * series
}

/// The continued fraction of the incomplete beta function, without its front factor over `a`
/// (Abramowitz and Stegun 26.5.8, evaluated by Lentz's method).
fn beta_fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let guard = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / guard(1.0 - (a + b) * x / (a + 1.0));
    let mut fraction = d;
    for step in 1..1000 {
        let m = f64::from(step);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let mut change = 1.0;
        for term in [even, odd] {
            d = 1.0 / guard(1.0 + term * d);
            c = guard(1.0 + term / c);
            change = d * c;
            fraction *= change;
        }
        if (change - 1.0).abs() < 1e-16 {
            break;
        }
    }
    fraction
}

/// The quantile of t beside that of the normal distribution, for many degrees of freedom
/// (Abramowitz and Stegun 26.7.5): 4e-16 off at 1000 of them for the usual levels, more in far
/// tails.
fn student_of_normal(z: f64, freedom: f64) -> f64 {
    let s = z * z;
    let first = z * (s + 1.0) / 4.0;
    let second = z * ((5.0 * s + 16.0) * s + 3.0) / 96.0;
    let third = z * (((3.0 * s + 19.0) * s + 17.0) * s - 15.0) / 384.0;
    let fourth = z * ((((79.0 * s + 776.0) * s + 1482.0) * s - 1920.0) * s - 945.0) / 92160.0;
    let inverse = 1.0 / freedom;
    z + inverse * (first + inverse * (second + inverse * (third + inverse * fourth)))
}

/// The normal value beside `t`, for many degrees of freedom (G. W. Hill, Algorithm 395,
/// Communications of the ACM 13, 1970, 617).
fn normal_of_student(t: f64, freedom: f64) -> f64 {
    let a = freedom - 0.5;
    let b = 48.0 * a * a;
    let y = a * libm::log1p(t / freedom * t);
    let above = (((-0.4 * y - 3.3) * y - 24.0) * y - 85.5) / (0.8 * y * y + 100.0 + b) + y + 3.0;
    libm::sqrt(y) * (1.0 + above / b)
}
