//! The operation table: each function of numbers once, for decimals, for doubles, as a
//! derivative, and as text of a script.

use crate::check::{Binary, Unary};
use crate::number::{Number, Trouble};

/// A row of [`UNARIES`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct UnaryId(u8);

/// A row of [`BINARIES`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct BinaryId(u8);

/// A function of one number.
pub struct UnaryRow {
    /// Which.
    pub function: Unary,
    /// In decimals.
    pub exact: fn(Number) -> Result<Number, Trouble>,
    /// In doubles.
    pub double: fn(f64) -> f64,
    /// First and second derivative, from the argument and the value.
    pub derivatives: fn(f64, f64) -> (f64, f64),
}

/// A function of two numbers.
pub struct BinaryRow {
    /// Which.
    pub function: Binary,
    /// In decimals.
    pub exact: fn(Number, Number) -> Result<Number, Trouble>,
    /// In doubles.
    pub double: fn(f64, f64) -> f64,
    /// First partial derivatives, from the arguments and the value.
    pub first: fn(f64, f64, f64) -> (f64, f64),
}

const TURN: f64 = std::f64::consts::TAU;

/// Every function of one number.
pub const UNARIES: &[UnaryRow] = &[
    UnaryRow {
        function: Unary::Negate,
        exact: |x| Ok(x.negated()),
        double: |x| -x,
        derivatives: |_, _| (-1.0, 0.0),
    },
    UnaryRow {
        function: Unary::Magnitude,
        exact: |x| Ok(x.magnitude()),
        double: f64::abs,
        derivatives: |x, _| (if x < 0.0 { -1.0 } else { 1.0 }, 0.0),
    },
    UnaryRow {
        function: Unary::SquareRoot,
        exact: Number::square_root,
        double: libm::sqrt,
        derivatives: |x, y| (0.5 / y, -0.25 / (x * y)),
    },
    UnaryRow {
        function: Unary::CubeRoot,
        exact: Number::cube_root,
        double: libm::cbrt,
        derivatives: |x, y| (y / (3.0 * x), -2.0 * y / (9.0 * x * x)),
    },
    UnaryRow {
        function: Unary::Exp,
        exact: Number::exp,
        double: libm::exp,
        derivatives: |_, y| (y, y),
    },
    UnaryRow {
        function: Unary::Ln,
        exact: Number::ln,
        double: libm::log,
        derivatives: |x, _| (1.0 / x, -1.0 / (x * x)),
    },
    UnaryRow {
        function: Unary::Log10,
        exact: Number::log10,
        double: libm::log10,
        derivatives: |x, _| {
            let slope = std::f64::consts::LOG10_E / x;
            (slope, -slope / x)
        },
    },
    UnaryRow {
        function: Unary::Sin,
        exact: Number::sin_turns,
        double: |x| libm::sin(x * TURN),
        derivatives: |x, y| (TURN * libm::cos(x * TURN), -TURN * TURN * y),
    },
    UnaryRow {
        function: Unary::Cos,
        exact: Number::cos_turns,
        double: |x| libm::cos(x * TURN),
        derivatives: |x, y| (-TURN * libm::sin(x * TURN), -TURN * TURN * y),
    },
    UnaryRow {
        function: Unary::Tan,
        exact: Number::tan_turns,
        double: |x| libm::tan(x * TURN),
        derivatives: |_, y| {
            let slope = TURN * (1.0 + y * y);
            (slope, 2.0 * TURN * y * slope)
        },
    },
    UnaryRow {
        function: Unary::Asin,
        exact: Number::asin,
        double: libm::asin,
        derivatives: |x, _| {
            let rest = 1.0 - x * x;
            (1.0 / libm::sqrt(rest), x / (rest * libm::sqrt(rest)))
        },
    },
    UnaryRow {
        function: Unary::Acos,
        exact: Number::acos,
        double: libm::acos,
        derivatives: |x, _| {
            let rest = 1.0 - x * x;
            (-1.0 / libm::sqrt(rest), -x / (rest * libm::sqrt(rest)))
        },
    },
    UnaryRow {
        function: Unary::Atan,
        exact: Number::atan,
        double: libm::atan,
        derivatives: |x, _| {
            let whole = 1.0 + x * x;
            (1.0 / whole, -2.0 * x / (whole * whole))
        },
    },
];

/// Every function of two numbers.
pub const BINARIES: &[BinaryRow] = &[
    BinaryRow {
        function: Binary::Add,
        exact: Number::plus,
        double: |x, y| x + y,
        first: |_, _, _| (1.0, 1.0),
    },
    BinaryRow {
        function: Binary::Subtract,
        exact: Number::minus,
        double: |x, y| x - y,
        first: |_, _, _| (1.0, -1.0),
    },
    BinaryRow {
        function: Binary::Multiply,
        exact: Number::times,
        double: |x, y| x * y,
        first: |x, y, _| (y, x),
    },
    BinaryRow {
        function: Binary::Divide,
        exact: Number::over,
        double: |x, y| x / y,
        first: |_, y, z| (1.0 / y, -z / y),
    },
    BinaryRow {
        function: Binary::Power,
        exact: Number::power,
        double: libm::pow,
        first: power_slopes,
    },
    BinaryRow {
        function: Binary::Minimum,
        exact: |x, y| Ok(if x.compare(y).is_le() { x } else { y }),
        double: |x, y| if x <= y { x } else { y },
        first: |x, y, _| if x <= y { (1.0, 0.0) } else { (0.0, 1.0) },
    },
    BinaryRow {
        function: Binary::Maximum,
        exact: |x, y| Ok(if x.compare(y).is_ge() { x } else { y }),
        double: |x, y| if x >= y { x } else { y },
        first: |x, y, _| if x >= y { (1.0, 0.0) } else { (0.0, 1.0) },
    },
    BinaryRow {
        function: Binary::Atan2,
        exact: Number::atan2,
        double: libm::atan2,
        first: |rise, run, _| {
            let square = rise * rise + run * run;
            (run / square, -rise / square)
        },
    },
    BinaryRow {
        function: Binary::Round,
        exact: Number::round_to,
        double: |x, step| libm::rint(x / step) * step,
        first: |_, _, _| (1.0, 0.0),
    },
    BinaryRow {
        function: Binary::Floor,
        exact: Number::floor_to,
        double: |x, step| libm::floor(x / step) * step,
        first: |_, _, _| (0.0, 0.0),
    },
    BinaryRow {
        function: Binary::Ceil,
        exact: Number::ceil_to,
        double: |x, step| libm::ceil(x / step) * step,
        first: |_, _, _| (0.0, 0.0),
    },
];

fn power_slopes(x: f64, y: f64, z: f64) -> (f64, f64) {
    let by_base = if y == 0.0 {
        0.0
    } else {
        y * libm::pow(x, y - 1.0)
    };
    let by_exponent = if z == 0.0 { 0.0 } else { z * libm::log(x) };
    (by_base, by_exponent)
}

impl From<Unary> for UnaryId {
    fn from(function: Unary) -> UnaryId {
        UnaryId(function as u8)
    }
}

impl From<Binary> for BinaryId {
    fn from(function: Binary) -> BinaryId {
        BinaryId(function as u8)
    }
}

impl UnaryId {
    /// Its row.
    pub fn row(self) -> &'static UnaryRow {
        &UNARIES[usize::from(self.0)]
    }
}

impl BinaryId {
    /// Its row.
    pub fn row(self) -> &'static BinaryRow {
        &BINARIES[usize::from(self.0)]
    }
}
