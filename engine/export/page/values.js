// Values and what is done with them. A value is a number, an Uncertain, a switch, a Doubt, a text,
// a column (an array), an empty field (null), or a Failure. Exact numbers are plain numbers.

class Uncertain {
  constructor(value, slopes) {
    this.v = value;
    // Source of uncertainty to the change of the value per change of that source.
    this.d = slopes;
  }
}

// A condition decided on the value, with the range its probability lies in.
class Doubt {
  constructor(holds, low, high, near) {
    this.holds = holds;
    this.low = low;
    this.high = high;
    this.near = near;
  }
}

// No value: why, the place in words (a number in `places`), and what else there is to say.
class Failure {
  constructor(why, at, more) {
    this.why = why;
    this.at = at;
    this.more = more;
  }
}

const TURN = 2 * Math.PI;

// Every source met in this run, by its number.
const sources = new Map();

const numberOf = x => typeof x === "number" ? x : x instanceof Uncertain ? x.v : undefined;
const slopesOf = x => x instanceof Uncertain ? x.d : undefined;
const isFailure = x => x instanceof Failure;

const holdsOf = x => typeof x === "boolean" ? x : x instanceof Doubt ? x.holds : undefined;

function noNumber(x, at) {
  if (isFailure(x)) return x;
  return new Failure(x === null ? "gap" : "kind", at);
}

function withSlopes(value, slopes) {
  return slopes && slopes.size ? new Uncertain(value, slopes) : value;
}

// `a` times the first and `b` times the second.
function combined(first, a, second, b) {
  const slopes = new Map();
  if (first) for (const [source, slope] of first) slopes.set(source, a * slope);
  if (second) for (const [source, slope] of second) slopes.set(source, (slopes.get(source) ?? 0) + b * slope);
  return slopes;
}

function notFinite(z, at, belowZero) {
  if (belowZero) return new Failure("zero", at);
  return new Failure(z !== z ? "domain" : "range", at);
}

// The sine of an angle in turns; exact at quarter turns.
function sineOfTurns(x) {
  let rest = x - Math.round(x);
  if (rest > .25) rest = .5 - rest;
  if (rest < -.25) rest = -.5 - rest;
  return Math.abs(rest) <= .125 ? Math.sin(TURN * rest) : Math.sign(rest) * Math.cos(TURN * (.25 - Math.abs(rest)));
}

// A quotient that misses a whole number by rounding only.
function nearWhole(x) {
  const whole = Math.round(x);
  return Math.abs(x - whole) <= 1e-12 * Math.max(1, Math.abs(x)) ? whole : x;
}

function evenWhole(x) {
  const near = nearWhole(2 * x) / 2, whole = Math.floor(near);
  if (near - whole !== .5) return Math.round(near);
  return whole % 2 === 0 ? whole : whole + 1;
}

// Element by element.
function eachRow(column, at, work) {
  return column.map((item, row) => item === null ? new Failure("gap", at, row + 1) : work(item));
}

// The one length of the columns among these: nothing without columns, a Failure where they differ.
function rowsOf(values, at) {
  let rows;
  for (const value of values) {
    if (!Array.isArray(value)) continue;
    if (rows === undefined) rows = value.length;
    else if (rows !== value.length) return new Failure("lengths", at, [rows, value.length]);
  }
  return rows;
}

const rowAt = (value, row) => Array.isArray(value) ? value[row] ?? null : value;

// A function of values that works row by row where one of them is a column.
function byRows(values, at, work) {
  const rows = rowsOf(values, at);
  if (isFailure(rows)) return rows;
  if (rows === undefined) return work(values);
  return Array.from({ length: rows }, (_, row) => work(values.map(value => rowAt(value, row)), row));
}

// A row of the operation table: a function of one number with its slope.
function ofOne(value, slope) {
  return function one(x, at) {
    if (typeof x === "number") {
      const z = value(x);
      return Number.isFinite(z) ? z : notFinite(z, at);
    }
    if (Array.isArray(x)) return eachRow(x, at, item => one(item, at));
    if (!(x instanceof Uncertain)) return noNumber(x, at);
    const z = value(x.v);
    if (!Number.isFinite(z)) return notFinite(z, at);
    return new Uncertain(z, combined(x.d, slope(x.v, z)));
  };
}

// A function of two numbers with its slopes.
function ofTwo(value, slopes, divides) {
  return function two(x, y, at) {
    if (typeof x === "number" && typeof y === "number") {
      const z = value(x, y);
      return Number.isFinite(z) ? z : notFinite(z, at, divides && y === 0);
    }
    if (Array.isArray(x) || Array.isArray(y)) {
      return byRows([x, y], at, ([a, b], row) =>
        a === null || b === null ? new Failure("gap", at, row + 1) : two(a, b, at));
    }
    const a = numberOf(x), b = numberOf(y);
    if (a === undefined) return noNumber(x, at);
    if (b === undefined) return noNumber(y, at);
    const z = value(a, b);
    if (!Number.isFinite(z)) return notFinite(z, at, divides && b === 0);
    const [byFirst, bySecond] = slopes(a, b, z);
    return withSlopes(z, combined(slopesOf(x), byFirst, slopesOf(y), bySecond));
  };
}

function wholePower(x, exponent, at) {
  if (Array.isArray(x)) return eachRow(x, at, item => wholePower(item, exponent, at));
  const number = numberOf(x);
  if (number === undefined) return noNumber(x, at);
  let power = 1, square = number;
  for (let left = Math.abs(exponent); left > 0; left = Math.floor(left / 2)) {
    if (left % 2) power *= square;
    square *= square;
  }
  const z = exponent < 0 ? 1 / power : power;
  if (!Number.isFinite(z)) return notFinite(z, at, number === 0);
  if (typeof x === "number") return z;
  return new Uncertain(z, combined(x.d, exponent === 0 ? 0 : exponent * Math.pow(number, exponent - 1)));
}

// Times a factor, plus an offset: between units and scales.
function line(x, factor, offset = 0) {
  if (typeof x === "number") {
    const z = x * factor + offset;
    return Number.isFinite(z) ? z : notFinite(z);
  }
  if (Array.isArray(x)) return eachRow(x, undefined, item => line(item, factor, offset));
  if (!(x instanceof Uncertain)) return noNumber(x);
  return new Uncertain(x.v * factor + offset, combined(x.d, factor));
}

const isEqual = (a, b) => a === b || Math.abs(a - b) <= 1e-14 * Math.max(Math.abs(a), Math.abs(b));

const SIGNS = {
  lt: (below, equal) => below,
  le: (below, equal) => below || equal,
  gt: (below, equal) => !below && !equal,
  ge: (below, equal) => !below,
  eq: (below, equal) => equal,
  ne: (below, equal) => !equal,
};

function compare(sign, x, y, at) {
  return byRows([x, y], at, ([a, b], row) =>
    row !== undefined && (a === null || b === null) ? new Failure("gap", at, row + 1) : compared(sign, a, b, at));
}

function compared(sign, x, y, at) {
  if (typeof x === "string" && typeof y === "string") return (sign === "eq") === (x === y);
  if (holdsOf(x) !== undefined && holdsOf(y) !== undefined) return (sign === "eq") === (holdsOf(x) === holdsOf(y));
  const a = numberOf(x), b = numberOf(y);
  if (a === undefined) return noNumber(x, at);
  if (b === undefined) return noNumber(y, at);
  const equal = isEqual(a, b);
  const holds = SIGNS[sign](!equal && a < b, equal);
  if (typeof x === "number" && typeof y === "number") return holds;
  if (sign === "eq" || sign === "ne") return new Failure("equality", at);
  const { standard, dof } = summary(combined(slopesOf(x), 1, slopesOf(y), -1));
  if (standard === 0) return holds;
  const score = (sign[0] === "g" ? a - b : b - a) / standard;
  const chance = studentShareBelow(score, dof);
  return new Doubt(holds, chance, chance, Math.abs(score) <= 3);
}

function not(x, at) {
  if (Array.isArray(x)) return eachRow(x, at, item => not(item, at));
  if (typeof x === "boolean") return !x;
  if (x instanceof Doubt) return new Doubt(!x.holds, 1 - x.high, 1 - x.low, x.near);
  return noNumber(x, at);
}

const certain = holds => new Doubt(holds, holds ? 1 : 0, holds ? 1 : 0, false);

const both = (a, b) => new Doubt(a.holds && b.holds, Math.max(a.low + b.low - 1, 0), Math.min(a.high, b.high), a.near || b.near);
const either = (a, b) => new Doubt(a.holds || b.holds, Math.max(a.low, b.low), Math.min(a.high + b.high, 1), a.near || b.near);

function combineConditions(parts, all, at) {
  let made = certain(all), doubtful = false;
  for (const part of parts) {
    const doubt = typeof part === "boolean" ? certain(part) : part;
    if (!(doubt instanceof Doubt)) return noNumber(part, at);
    doubtful ||= part instanceof Doubt;
    made = all ? both(made, doubt) : either(made, doubt);
  }
  return doubtful ? made : made.holds;
}

const every = (parts, at) => byRows(parts, at, row => combineConditions(row, true, at));
const any = (parts, at) => byRows(parts, at, row => combineConditions(row, false, at));

function select(when, then, otherwise, at) {
  if (Array.isArray(when)) return byRows([when, then, otherwise], at, ([a, b, c]) => select(a, b, c, at));
  if (isFailure(when)) return when;
  if (when === null) return new Failure("gap", at);
  const holds = holdsOf(when);
  if (holds === undefined) return new Failure("kind", at);
  return holds ? then : otherwise;
}
