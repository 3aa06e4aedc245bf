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
    /// As an expression of a script, of `x`.
    pub script: &'static str,
    /// The derivative as an expression of a script, of `x` and the value `y`.
    pub slope: &'static str,
    /// In decimals.
    pub exact: fn(Number) -> Result<Number, Trouble>,
    /// In doubles.
    pub double: fn(f64) -> f64,
    /// First, second and third derivative, from the argument and the value.
    pub derivatives: fn(f64, f64) -> [f64; 3],
}

/// A function of two numbers.
pub struct BinaryRow {
    /// Which.
    pub function: Binary,
    /// As an expression of a script, of `x` and `y`.
    pub script: &'static str,
    /// The partial derivatives as expressions of a script, of `x`, `y` and the value `z`.
    pub slopes: [&'static str; 2],
    /// In decimals.
    pub exact: fn(Number, Number) -> Result<Number, Trouble>,
    /// In doubles.
    pub double: fn(f64, f64) -> f64,
    /// First partial derivatives, from the arguments and the value.
    pub first: fn(f64, f64, f64) -> (f64, f64),
    /// Second and third partial derivatives, from the arguments and the value; nothing for a
    /// function that is straight wherever it has a slope.
    pub higher: Option<fn(f64, f64, f64) -> Bend>,
}

/// Second and third partial derivatives of a function of `x` and `y`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bend {
    /// Twice by `x`.
    pub xx: f64,
    /// By both.
    pub xy: f64,
    /// Twice by `y`.
    pub yy: f64,
    /// Three times by `x`.
    pub xxx: f64,
    /// Twice by `x`, once by `y`.
    pub xxy: f64,
    /// Once by `x`, twice by `y`.
    pub xyy: f64,
    /// Three times by `y`.
    pub yyy: f64,
}

const TURN: f64 = std::f64::consts::TAU;

/// Every function of one number.
pub const UNARIES: &[UnaryRow] = &[
    UnaryRow {
        function: Unary::Negate,
        script: "-x",
        slope: "-1",
        exact: |x| Ok(x.negated()),
        double: |x| -x,
        derivatives: |_, _| [-1.0, 0.0, 0.0],
    },
    UnaryRow {
        function: Unary::Magnitude,
        script: "Math.abs(x)",
        slope: "x<0?-1:1",
        exact: |x| Ok(x.magnitude()),
        double: f64::abs,
        derivatives: |x, _| [if x < 0.0 { -1.0 } else { 1.0 }, 0.0, 0.0],
    },
    UnaryRow {
        function: Unary::SquareRoot,
        script: "Math.sqrt(x)",
        slope: ".5/y",
        exact: Number::square_root,
        double: libm::sqrt,
        derivatives: |x, y| [0.5 / y, -0.25 / (x * y), 0.375 / (x * x * y)],
    },
    UnaryRow {
        function: Unary::CubeRoot,
        script: "Math.cbrt(x)",
        slope: "y/(3*x)",
        exact: Number::cube_root,
        double: libm::cbrt,
        derivatives: |x, y| {
            let slope = y / (3.0 * x);
            let second = -2.0 * slope / (3.0 * x);
            [slope, second, -5.0 * second / (3.0 * x)]
        },
    },
    UnaryRow {
        function: Unary::Exp,
        script: "Math.exp(x)",
        slope: "y",
        exact: Number::exp,
        double: libm::exp,
        derivatives: |_, y| [y, y, y],
    },
    UnaryRow {
        function: Unary::Ln,
        script: "Math.log(x)",
        slope: "1/x",
        exact: Number::ln,
        double: libm::log,
        derivatives: |x, _| [1.0 / x, -1.0 / (x * x), 2.0 / (x * x * x)],
    },
    UnaryRow {
        function: Unary::Log10,
        script: "Math.log10(x)",
        slope: "Math.LOG10E/x",
        exact: Number::log10,
        double: libm::log10,
        derivatives: |x, _| {
            let slope = std::f64::consts::LOG10_E / x;
            [slope, -slope / x, 2.0 * slope / (x * x)]
        },
    },
    UnaryRow {
        function: Unary::Sin,
        script: "sineOfTurns(x)",
        slope: "TURN*sineOfTurns(x+.25)",
        exact: Number::sin_turns,
        double: |x| libm::sin(x * TURN),
        derivatives: |x, y| {
            let slope = TURN * libm::cos(x * TURN);
            [slope, -TURN * TURN * y, -TURN * TURN * slope]
        },
    },
    UnaryRow {
        function: Unary::Cos,
        script: "sineOfTurns(x+.25)",
        slope: "-TURN*sineOfTurns(x)",
        exact: Number::cos_turns,
        double: |x| libm::cos(x * TURN),
        derivatives: |x, y| {
            let slope = -TURN * libm::sin(x * TURN);
            [slope, -TURN * TURN * y, -TURN * TURN * slope]
        },
    },
    UnaryRow {
        function: Unary::Tan,
        script: "sineOfTurns(x)/sineOfTurns(x+.25)",
        slope: "TURN*(1+y*y)",
        exact: Number::tan_turns,
        double: |x| libm::tan(x * TURN),
        derivatives: |_, y| {
            let slope = TURN * (1.0 + y * y);
            let second = 2.0 * TURN * y * slope;
            [slope, second, 2.0 * TURN * (slope * slope + y * second)]
        },
    },
    UnaryRow {
        function: Unary::Asin,
        script: "Math.asin(x)",
        slope: "1/Math.sqrt(1-x*x)",
        exact: Number::asin,
        double: libm::asin,
        derivatives: |x, _| {
            let rest = 1.0 - x * x;
            let slope = 1.0 / libm::sqrt(rest);
            let second = x * slope / rest;
            [slope, second, (1.0 + 2.0 * x * x) * slope / (rest * rest)]
        },
    },
    UnaryRow {
        function: Unary::Acos,
        script: "Math.acos(x)",
        slope: "-1/Math.sqrt(1-x*x)",
        exact: Number::acos,
        double: libm::acos,
        derivatives: |x, _| {
            let rest = 1.0 - x * x;
            let slope = -1.0 / libm::sqrt(rest);
            let second = x * slope / rest;
            [slope, second, (1.0 + 2.0 * x * x) * slope / (rest * rest)]
        },
    },
    UnaryRow {
        function: Unary::Atan,
        script: "Math.atan(x)",
        slope: "1/(1+x*x)",
        exact: Number::atan,
        double: libm::atan,
        derivatives: |x, _| {
            let whole = 1.0 + x * x;
            let third = (6.0 * x * x - 2.0) / (whole * whole * whole);
            [1.0 / whole, -2.0 * x / (whole * whole), third]
        },
    },
];

/// Every function of two numbers.
pub const BINARIES: &[BinaryRow] = &[
    BinaryRow {
        function: Binary::Add,
        script: "x+y",
        slopes: ["1", "1"],
        exact: Number::plus,
        double: |x, y| x + y,
        first: |_, _, _| (1.0, 1.0),
        higher: None,
    },
    BinaryRow {
        function: Binary::Subtract,
        script: "x-y",
        slopes: ["1", "-1"],
        exact: Number::minus,
        double: |x, y| x - y,
        first: |_, _, _| (1.0, -1.0),
        higher: None,
    },
    BinaryRow {
        function: Binary::Multiply,
        script: "x*y",
        slopes: ["y", "x"],
        exact: Number::times,
        double: |x, y| x * y,
        first: |x, y, _| (y, x),
        higher: Some(|_, _, _| Bend {
            xy: 1.0,
            ..Bend::default()
        }),
    },
    BinaryRow {
        function: Binary::Divide,
        script: "x/y",
        slopes: ["1/y", "-z/y"],
        exact: Number::over,
        double: |x, y| x / y,
        first: |_, y, z| (1.0 / y, -z / y),
        higher: Some(|_, y, z| Bend {
            xy: -1.0 / (y * y),
            yy: 2.0 * z / (y * y),
            xyy: 2.0 / (y * y * y),
            yyy: -6.0 * z / (y * y * y),
            ..Bend::default()
        }),
    },
    BinaryRow {
        function: Binary::Power,
        script: "Math.pow(x,y)",
        slopes: ["y===0?0:y*Math.pow(x,y-1)", "z===0?0:z*Math.log(x)"],
        exact: Number::power,
        double: libm::pow,
        first: power_slopes,
        higher: Some(power_bend),
    },
    BinaryRow {
        function: Binary::Minimum,
        script: "x<=y?x:y",
        slopes: ["x<=y?1:0", "x<=y?0:1"],
        exact: |x, y| Ok(if x.compare(y).is_le() { x } else { y }),
        double: |x, y| if x <= y { x } else { y },
        first: |x, y, _| if x <= y { (1.0, 0.0) } else { (0.0, 1.0) },
        higher: None,
    },
    BinaryRow {
        function: Binary::Maximum,
        script: "x>=y?x:y",
        slopes: ["x>=y?1:0", "x>=y?0:1"],
        exact: |x, y| Ok(if x.compare(y).is_ge() { x } else { y }),
        double: |x, y| if x >= y { x } else { y },
        first: |x, y, _| if x >= y { (1.0, 0.0) } else { (0.0, 1.0) },
        higher: None,
    },
    BinaryRow {
        function: Binary::Atan2,
        script: "Math.atan2(x,y)",
        slopes: ["y/(x*x+y*y)", "-x/(x*x+y*y)"],
        exact: Number::atan2,
        double: libm::atan2,
        first: |rise, run, _| {
            let square = rise * rise + run * run;
            (run / square, -rise / square)
        },
        higher: Some(angle_bend),
    },
    BinaryRow {
        function: Binary::Round,
        script: "evenWhole(x/y)*y",
        slopes: ["1", "0"],
        exact: Number::round_to,
        double: |x, step| libm::rint(x / step) * step,
        first: |_, _, _| (1.0, 0.0),
        higher: None,
    },
    BinaryRow {
        function: Binary::Floor,
        script: "Math.floor(nearWhole(x/y))*y",
        slopes: ["0", "0"],
        exact: Number::floor_to,
        double: |x, step| libm::floor(x / step) * step,
        first: |_, _, _| (0.0, 0.0),
        higher: None,
    },
    BinaryRow {
        function: Binary::Ceil,
        script: "Math.ceil(nearWhole(x/y))*y",
        slopes: ["0", "0"],
        exact: Number::ceil_to,
        double: |x, step| libm::ceil(x / step) * step,
        first: |_, _, _| (0.0, 0.0),
        higher: None,
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

/// A power; its derivatives by the exponent only where the base is above zero.
fn power_bend(x: f64, y: f64, z: f64) -> Bend {
    let falling = |times: i32| {
        let factor: f64 = (0..times).map(|n| y - f64::from(n)).product();
        match factor {
            0.0 => 0.0,
            factor => factor * libm::pow(x, y - f64::from(times)),
        }
    };
    let mut bend = Bend {
        xx: falling(2),
        xxx: falling(3),
        ..Bend::default()
    };
    if x > 0.0 {
        let log = libm::log(x);
        bend.xy = z / x * (1.0 + y * log);
        bend.yy = z * log * log;
        bend.xxy = z / (x * x) * (2.0 * y - 1.0 + y * (y - 1.0) * log);
        bend.xyy = z / x * log * (2.0 + y * log);
        bend.yyy = z * log * log * log;
    }
    bend
}

/// An angle is harmonic in rise and run, so half of its derivatives are the others' negatives.
fn angle_bend(rise: f64, run: f64, _: f64) -> Bend {
    let square = rise * rise + run * run;
    let (fourth, sixth) = (square * square, square * square * square);
    let xx = -2.0 * rise * run / fourth;
    let xxx = 2.0 * run * (3.0 * rise * rise - run * run) / sixth;
    let xxy = 2.0 * rise * (3.0 * run * run - rise * rise) / sixth;
    Bend {
        xx,
        xy: (rise * rise - run * run) / fourth,
        yy: -xx,
        xxx,
        xxy,
        xyy: -xxx,
        yyy: -xxy,
    }
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
