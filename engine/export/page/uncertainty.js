// Sources of uncertainty, what sensitivities amount to, and Student's t distribution.

// Standard uncertainty over the amount typed, and half-width over it where the ends are hard.
const MEANINGS = {
  limit: [1 / Math.sqrt(3), 1],
  step: [1 / Math.sqrt(12), .5],
  triangular: [1 / Math.sqrt(6), 1],
  ushaped: [1 / Math.sqrt(2), 1],
};

// A source: standard uncertainty, degrees of freedom, half-width of hard ends, component.
function enterSource(id, standard, dof, half, group) {
  sources.set(id, { standard, dof, half, group });
  return id;
}

// What an amount behind ± means: `limit`, or a number of standard uncertainties, or a level.
function sourceOf(id, size, meaning) {
  const { kind, level, dof = Infinity } = meaning;
  if (kind === "coverage") return enterSource(id, size / level, dof, undefined, id);
  if (kind === "probability") return enterSource(id, size / coverageFactor(level, dof), dof, undefined, id);
  const [standard, half] = MEANINGS[kind];
  return enterSource(id, size * standard, dof, size * half, id);
}

// A value with the source typed behind it; the elements of a column are sources of their own.
function uncertain(value, amount, relative, meaning, place, at) {
  if (!Array.isArray(value)) return withSource(value, amount, relative, meaning, place, at);
  return value.map((item, i) =>
    item === null ? null : withSource(item, rowAt(amount, i), relative, meaning, place + i, at));
}

function withSource(value, amount, relative, meaning, id, at) {
  const number = numberOf(value);
  if (number === undefined) return noNumber(value, at);
  if (amount instanceof Uncertain) return new Failure("amountUncertain", at);
  if (typeof amount !== "number") return noNumber(amount, at);
  if (amount < 0) return new Failure("amountNegative", at);
  sourceOf(id, relative ? amount * Math.abs(number) : amount, meaning);
  return new Uncertain(number, combined(slopesOf(value), 1, new Map([[id, 1]]), 1));
}

// The mean of readings. Each row is a source of unit size, so that two columns read together keep
// their covariance (JCGM 100:2008 5.2.3).
function readings(column, place, rows, at) {
  if (!Array.isArray(column)) return noNumber(column, at);
  const count = column.length;
  if (count < 2) return new Failure("oneReading", at);
  const mean = reduce("mean", column, false, at), center = numberOf(mean);
  if (center === undefined) return mean;
  const by = 1 / Math.sqrt(count * (count - 1));
  const own = new Map();
  for (let i = 0; i < count; i++) {
    const number = numberOf(column[i]);
    if (number === undefined) return noNumber(column[i], at);
    own.set(enterSource(rows + i, 1, count - 1, undefined, rows), (number - center) * by);
  }
  return withSlopes(center, combined(slopesOf(mean), 1, own, 1));
}

// Combined standard uncertainty, effective degrees of freedom (Welch–Satterthwaite), and half the
// interval shown: at 95 %, or the sum of limits where that is smaller.
function summary(slopes) {
  const components = new Map();
  let limits = 0;
  for (const [id, slope] of slopes ?? []) {
    const source = sources.get(id);
    if (!source) continue;
    const part = slope * source.standard;
    const component = components.get(source.group) ?? { variance: 0, dof: source.dof };
    component.variance += part * part;
    components.set(source.group, component);
    limits = source.half === undefined ? NaN : limits + Math.abs(slope) * source.half;
  }
  let variance = 0, sum = 0;
  for (const component of components.values()) {
    variance += component.variance;
    sum += component.variance ** 2 / component.dof;
  }
  const standard = Math.sqrt(variance);
  const dof = standard === 0 || sum === 0 ? Infinity : variance ** 2 / sum;
  const coverage = coverageFactor(.95, dof), expanded = coverage * standard;
  return limits < expanded ? { standard, dof, coverage: undefined, expanded: limits } : { standard, dof, coverage, expanded };
}

const varianceOf = slopes => {
  let sum = 0;
  for (const [id, slope] of slopes ?? []) sum += (slope * (sources.get(id)?.standard ?? 0)) ** 2;
  return sum;
};

function describe(what, parts, at) {
  return byRows(parts, at, ([x, y]) => describeOne(what, x, y, at));
}

function describeOne(what, x, y, at) {
  if (what === "probability") {
    if (typeof x === "boolean") return x ? 1 : 0;
    return x instanceof Doubt ? x.low : noNumber(x, at);
  }
  const number = numberOf(x);
  if (number === undefined) return noNumber(x, at);
  const slopes = slopesOf(x);
  const checked = value => Number.isFinite(value) ? value : new Failure("range", at);
  switch (what) {
    case "value": return number;
    case "standard": return checked(summary(slopes).standard);
    case "expanded": return checked(summary(slopes).expanded);
    case "coverage": return checked(summary(slopes).coverage ?? NaN);
    case "degreesOfFreedom": return checked(summary(slopes).dof);
  }
  const other = numberOf(y);
  if (other === undefined) return noNumber(y, at);
  const others = slopesOf(y) ?? new Map();
  if (what === "compatible") return Math.abs(number - other) <= summary(combined(slopes, 1, others, -1)).expanded;
  const whole = varianceOf(slopes);
  if (what === "share") {
    const own = new Map([...slopes ?? []].filter(([id]) => others.has(id)));
    return whole === 0 ? 0 : varianceOf(own) / whole;
  }
  let together = 0;
  for (const [id, slope] of slopes ?? []) together += slope * (others.get(id) ?? 0) * (sources.get(id)?.standard ?? 0) ** 2;
  const size = Math.sqrt(whole * varianceOf(others));
  return size === 0 ? 0 : together / size;
}

// The normal distribution beyond z: a series near zero, a continued fraction further out.
function normalShareAbove(z) {
  if (z < 0) return 1 - normalShareAbove(-z);
  const density = Math.exp(-.5 * z * z) / Math.sqrt(TURN);
  if (z < 2.5) {
    let term = z, sum = z;
    for (let n = 3; Math.abs(term) > 1e-17 * sum && n < 400; n += 2) sum += term *= z * z / n;
    return .5 - density * sum;
  }
  if (z > 38) return 0;
  let fraction = 0;
  for (let n = 120; n > 0; n--) fraction = n / (z + fraction);
  return density / (z + fraction);
}

// Abramowitz and Stegun 26.2.23, then Halley's method.
function normalQuantileAbove(share) {
  if (share > .5) return -normalQuantileAbove(1 - share);
  if (share === .5) return 0;
  const t = Math.sqrt(-2 * Math.log(share));
  let z = t - (2.515517 + t * (.802853 + t * .010328)) / (1 + t * (1.432788 + t * (.189269 + t * .001308)));
  for (let i = 0; i < 3; i++) {
    const step = (normalShareAbove(z) - share) / (Math.exp(-.5 * z * z) / Math.sqrt(TURN));
    z += step / (1 - .5 * z * step);
  }
  return z;
}

const MANY = 1000;

// The share of t beyond ±t.
function studentOutside(t, dof) {
  if (dof === Infinity) return 2 * normalShareAbove(t);
  if (dof >= MANY) {
    // G. W. Hill, Algorithm 395.
    const a = dof - .5, b = 48 * a * a, y = a * Math.log1p(t / dof * t);
    const above = (((-.4 * y - 3.3) * y - 24) * y - 85.5) / (.8 * y * y + 100 + b) + y + 3;
    return 2 * normalShareAbove(Math.sqrt(y) * (1 + above / b));
  }
  const below = t * t / dof;
  if (below === Infinity) return 0;
  const x = 1 / (1 + below), rest = below / (1 + below), half = dof / 2;
  const front = Math.exp(gammaRatioLogarithm(dof) - half * Math.log1p(below)) * Math.sqrt(rest / Math.PI);
  return x < (half + 1) / (half + 2.5) ? front * betaFraction(x, half, .5) / half : 1 - front * betaFraction(rest, .5, half) / .5;
}

function studentShareBelow(t, dof) {
  const outside = .5 * studentOutside(Math.abs(t), dof);
  return t > 0 ? 1 - outside : outside;
}

// ln(Γ((ν+1)/2) / Γ(ν/2)): by its series from 30 degrees of freedom on, stepped up to there below.
function gammaRatioLogarithm(dof) {
  let shift = 0;
  while (dof < 30) {
    // The ratio at ν is that at ν + 2 times ν / (ν + 1).
    shift += Math.log(dof / (dof + 1));
    dof += 2;
  }
  const inverse = 1 / dof, square = inverse * inverse;
  const series = -.25 + square * (1 / 24 + square * (-.05 + square * (17 / 112 + square * (-31 / 36 + square * 691 / 88))));
  return shift + .5 * Math.log(.5 * dof) + inverse * series;
}

// Abramowitz and Stegun 26.5.8, evaluated by Lentz's method.
function betaFraction(x, a, b) {
  const guard = value => Math.abs(value) < 1e-300 ? 1e-300 : value;
  let c = 1, d = 1 / guard(1 - (a + b) * x / (a + 1)), fraction = d;
  for (let m = 1; m < 1000; m++) {
    const even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    const odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    let change = 1;
    for (const term of [even, odd]) {
      d = 1 / guard(1 + term * d);
      c = guard(1 + term / c);
      fraction *= change = d * c;
    }
    if (Math.abs(change - 1) < 1e-16) break;
  }
  return fraction;
}

const knownFactors = new Map();

// The factor with which a standard uncertainty covers this share of the values.
function coverageFactor(level, dof) {
  const name = level + " " + dof;
  let factor = knownFactors.get(name);
  if (factor === undefined) {
    if (knownFactors.size > 500) knownFactors.clear();
    knownFactors.set(name, factor = studentTwoSided(1 - level, dof));
  }
  return factor;
}

function studentTwoSided(outside, dof) {
  const z = normalQuantileAbove(outside / 2);
  if (dof === Infinity) return z;
  if (dof >= MANY) {
    // Abramowitz and Stegun 26.7.5.
    const s = z * z, inverse = 1 / dof;
    const first = z * (s + 1) / 4, second = z * ((5 * s + 16) * s + 3) / 96;
    const third = z * (((3 * s + 19) * s + 17) * s - 15) / 384;
    const fourth = z * ((((79 * s + 776) * s + 1482) * s - 1920) * s - 945) / 92160;
    return z + inverse * (first + inverse * (second + inverse * (third + inverse * fourth)));
  }
  // On logarithms, in which heavy tails are straight, by halving between safe ends.
  const target = Math.log(outside);
  let low = Math.log(Math.max(z, 1e-300)) - 1, high = low + 2;
  const excess = place => Math.log(studentOutside(Math.exp(place), dof)) - target;
  while (excess(high) > 0 && high < 700) high += high - low;
  const { at } = findRoot(excess, low, high);
  return Math.exp(at);
}
