// Roots: a scan for brackets, then Chandrupatla's method; and values as they would be with other
// cells.

const STEPS = 64;

// Where a function changes its sign on a grid, and whether it changes at all.
function scan(points, f) {
  const brackets = [];
  let course = "noValue", constant, last;
  for (const x of points) {
    const y = f(x);
    if (y !== y) continue;
    if (course === "noValue") [course, constant] = ["constant", y];
    else if (course === "constant" && y !== constant) course = "varies";
    if (y === 0 && last && last[1] === 0) brackets[brackets.length - 1][1] = x;
    else if (y === 0) brackets.push([x, x]);
    else if (last && last[1] !== 0 && last[1] > 0 !== y > 0) brackets.push([last[0], x]);
    last = [x, y];
  }
  return { brackets: course === "constant" && constant === 0 ? [] : brackets, course };
}

function pointsBetween(from, to) {
  return Array.from({ length: STEPS + 1 }, (_, i) => i === STEPS ? to : from + (to - from) * (i / STEPS));
}

function pointsAround(start) {
  return Array.from({ length: STEPS + 1 }, (_, i) => i === STEPS / 2 ? start : start * Math.pow(10, 3 * (i - STEPS / 2) / (STEPS / 2))).filter(x => x !== 0);
}

const nudge = [0, 1e-12, 1e-9, 1e-6, 1e-3];

// The root of a function in a bracket, or why there is none: `every`, `pole`, `jump`, `none`.
function findRoot(f, from, to) {
  const at = x => ({ x, y: f(x) });
  const low = Math.min(from, to), high = Math.max(from, to);
  const end = (a, b) => nudge.map(share => at(a + share * (b - a))).find(p => Number.isFinite(p.y));
  const middle = (a, b) => a + (b - a) / 2;
  let a = end(low, high), b = end(high, low);
  if (!a || !b) return { none: "none" };
  if (a.y === 0 && b.y === 0 && low < high && f(middle(low, high)) === 0) return { none: "every" };
  if (a.y === 0) return { at: a.x };
  if (b.y === 0) return { at: b.x };
  const same = (p, q) => p.y > 0 === q.y > 0;
  if (same(a, b)) return { none: "none" };
  const finest = Math.abs(b.x - a.x) * 1e-30;
  let share = .5;
  for (let i = 0; i < 400; i++) {
    const point = [share, .5, .4, .6, .2, .8, .05, .95].map(s => () => at(a.x + s * (b.x - a.x))).reduce((known, next) => known.y === known.y ? known : next(), { y: NaN });
    if (point.y !== point.y) return { none: "none" };
    let c;
    if (same(point, a)) c = a;
    else [c, b] = [b, a];
    a = point;
    const best = Math.abs(a.y) < Math.abs(b.y) ? a : b;
    const least = (2 * Number.EPSILON * Math.abs(best.x) + finest) / Math.abs(b.x - a.x);
    if (best.y === 0 || least > .5) break;
    share = Math.min(Math.max(nextShare(a, b, c), least), 1 - least);
  }
  const [best, other] = Math.abs(a.y) < Math.abs(b.y) ? [a, b] : [b, a];
  return best.y === 0 ? widened(f, best.x, low, high) : crossing(f, best, other, low, high);
}

function nextShare(a, b, c) {
  const x = (a.x - b.x) / (c.x - b.x), y = (a.y - b.y) / (c.y - b.y);
  if (!(y * y < x && (1 - y) * (1 - y) < 1 - x)) return .5;
  const share = a.y / (b.y - a.y) * c.y / (b.y - c.y) + (c.x - a.x) / (b.x - a.x) * a.y / (c.y - a.y) * b.y / (c.y - b.y);
  return Number.isFinite(share) ? share : .5;
}

// Around an exact zero, the middle of the stretch in which the function is zero.
function widened(f, zero, low, high) {
  const step = Math.max(Math.abs(zero) * 1e-6, (high - low) * 1e-9);
  const edge = end => {
    const near = end < zero ? zero - step : zero + step;
    if (Math.abs(near - zero) >= Math.abs(end - zero) || f(near) !== 0) return zero;
    let inside = near, outside = end;
    for (let i = 0; i < 60; i++) {
      const middle = inside + (outside - inside) / 2;
      if (f(middle) === 0) inside = middle; else outside = middle;
    }
    return inside;
  };
  const from = edge(low), to = edge(high);
  return { at: from === zero || to === zero ? zero : from + (to - from) / 2 };
}

// Towards a root the function gets smaller, towards a pole larger, beside a jump it stays.
function crossing(f, best, other, low, high) {
  const from = Math.min(best.x, other.x), to = Math.max(best.x, other.x);
  const step = Math.max(Math.abs(best.x) * 1e-6, (high - low) * 1e-12);
  const further = [Math.max(from - step, low), Math.min(to + step, high)].map(x => Math.abs(f(x))).filter(Number.isFinite).reduce((a, b) => Math.max(a, b), 0);
  if (Math.abs(best.y) < .25 * further) return { at: best.x };
  return { none: Math.abs(best.y) > 4 * further ? "pole" : "jump" };
}

// The seed by which the slope of a function at its unknown is followed.
const SEED = -1;

// The number at which `f` gives zero, with ± by the implicit derivative.
function search(f, points, at, unit) {
  const double = x => numberOf(f(x)) ?? NaN;
  const { brackets, course } = scan(points, double);
  if (course === "noValue") {
    const first = f(points[0]);
    return isFailure(first) && first.why === "waits" ? first : new Failure("noRoot", at);
  }
  if (course === "constant") return new Failure("independent", at);
  const found = [];
  let jumps = false;
  for (const [low, high] of brackets) {
    const root = findRoot(double, low, high);
    if (root.at !== undefined) found.push(root.at);
    else if (root.none === "every") found.push(low + (high - low) / 2);
    else if (root.none !== "none") jumps = true;
  }
  if (!found.length) return new Failure(jumps ? "jump" : "noRoot", at);
  if (found.length > 1) return new Failure("several", at, found.map(x => (shownDigits(x, 4) + " " + unit).trim()));
  const [x] = found;
  const seeded = slopesOf(f(new Uncertain(x, new Map([[SEED, 1]]))));
  const slope = seeded?.get(SEED), slopes = new Map(seeded);
  slopes.delete(SEED);
  return slopes.size && slope ? withSlopes(x, combined(slopes, -1 / slope)) : x;
}

// The root of a sub-plan between two ends; row by row where columns go into it.
function root(from, to, f, at) {
  const first = f(rowAt(from, 0));
  const rows = rowsOf([from, to, first], at);
  if (isFailure(rows)) return rows;
  const one = (low, high, g) => {
    const a = numberOf(low), b = numberOf(high);
    if (a === undefined || b === undefined) return [low, high].find(isFailure) ?? new Failure("kind", at);
    return search(g, pointsBetween(a, b), at, "");
  };
  if (rows === undefined) return one(from, to, f);
  return Array.from({ length: rows }, (_, i) => one(rowAt(from, i), rowAt(to, i), x => rowAt(f(x), i)));
}

// The cells as they would be with these: `world` gives a cell's value, `cone` are the cells that
// follow, in the order of need.
function overlay(world, overrides, cone) {
  const own = new Map(overrides);
  const fixed = new Set([...world.fixed ?? [], ...own.keys()]);
  const other = cell => own.has(cell) ? own.get(cell) : world(cell);
  other.fixed = fixed;
  for (const cell of cone) if (!fixed.has(cell)) own.set(cell, cells[cell](other)[0]);
  return other;
}

// The value of a cell at which a difference is zero; its own sources stay.
function sought(world, cell, cone, f, range, unit, at) {
  const now = world(cell), number = numberOf(now);
  let points;
  if (range) {
    const [from, to] = range.map(numberOf);
    if (from === undefined || to === undefined) return range.find(isFailure) ?? new Failure("kind", at);
    points = pointsBetween(from, to);
  } else {
    if (number === undefined) return isFailure(now) ? now : new Failure("kind", at);
    if (number === 0) return new Failure("noRoot", at);
    points = pointsAround(number);
  }
  const evaluate = x => {
    const slopes = combined(slopesOf(now), 1, slopesOf(x), 1);
    return f(overlay(world, [[cell, withSlopes(numberOf(x), slopes)]], cone));
  };
  return search(evaluate, points, at, unit);
}

const MOST_POINTS = 10000;

// Values at every point of the axes, the last running fastest: the axes' columns first.
function sweep(world, axes, cone, shows, at) {
  const points = [];
  let count = 1;
  for (const [, axis] of axes) {
    const values = axis.length === 3 ? axisSteps(axis, at) : axisOver(axis[0], at);
    if (isFailure(values)) return values;
    points.push(values);
    count *= values.length;
  }
  if (count > MOST_POINTS) return new Failure("tooMany", at, count);
  const columns = Array.from({ length: axes.length + shows.length }, () => []);
  for (let point = 0; point < count; point++) {
    let rest = point;
    const overrides = [];
    for (let i = axes.length - 1; i >= 0; i--) {
      overrides.unshift([axes[i][0], points[i][rest % points[i].length]]);
      rest = Math.floor(rest / points[i].length);
    }
    const other = overlay(world, overrides, cone);
    overrides.forEach(([, value], i) => columns[i].push(value));
    shows.forEach((show, i) => columns[axes.length + i].push(show(other)));
  }
  return columns;
}

function axisOver(column, at) {
  if (!Array.isArray(column)) return isFailure(column) ? column : new Failure("kind", at);
  return column.length ? column : new Failure("noRows", at);
}

function axisSteps(parts, at) {
  const [from, to, by] = parts.map(numberOf);
  if ([from, to, by].includes(undefined)) return parts.find(isFailure) ?? new Failure("kind", at);
  if (by === 0 || (to !== from && to < from !== by < 0)) return new Failure("stepAway", at);
  const count = Math.floor(nearWhole((to - from) / by)) + 1;
  if (!(count <= MOST_POINTS)) return new Failure("tooMany", at, count);
  // Points as one would write them: 2.1, not 2.1000000000000001.
  return Array.from({ length: count }, (_, i) => Number((from + i * by).toPrecision(15)));
}
