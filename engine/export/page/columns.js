// Columns: reductions, rows by key, straight lines between points, listed sizes.

function reduce(kind, column, skipGaps, at) {
  if (!Array.isArray(column)) return isFailure(column) ? column : new Failure("kind", at);
  const gap = column.indexOf(null);
  if (gap >= 0 && !skipGaps) return new Failure("gap", at, gap + 1);
  const rows = column.filter(item => item !== null);
  if (kind === "count") return rows.length;
  if (!rows.length) return new Failure("noRows", at);
  const failed = rows.find(item => numberOf(item) === undefined);
  if (failed !== undefined) return failed;
  if (kind === "minimum" || kind === "maximum") return extreme(kind, rows);
  const sum = total(rows, at);
  return kind === "mean" ? divide(sum, rows.length, at) : sum;
}

function extreme(kind, rows) {
  const better = kind === "minimum" ? (a, b) => a < b : (a, b) => a > b;
  return rows.reduce((best, item) => better(numberOf(item), numberOf(best)) ? item : best);
}

function total(rows, at) {
  let sum = 0;
  const slopes = new Map();
  for (const item of rows) {
    sum += numberOf(item);
    for (const [source, slope] of slopesOf(item) ?? []) slopes.set(source, (slopes.get(source) ?? 0) + slope);
  }
  return Number.isFinite(sum) ? withSlopes(sum, slopes) : notFinite(sum, at);
}

function sameKey(a, b) {
  if (typeof a === "string" || typeof b === "string") return a === b;
  const x = numberOf(a), y = numberOf(b);
  return x !== undefined && y !== undefined && isEqual(x, y);
}

const keyText = key => typeof key === "string" ? `"${key}"` : String(numberOf(key) ?? "");

// The value of a column in the row where each key column has its key.
function row(column, keys, at) {
  return byRows(keys.map(([, key]) => key), at, wanted => oneRow(column, keys.map(([head], i) => [head, wanted[i]]), at));
}

function oneRow(column, keys, at) {
  if (!Array.isArray(column)) return isFailure(column) ? column : new Failure("kind", at);
  const failed = keys.find(([, key]) => isFailure(key));
  if (failed) return failed[1];
  const fitting = column.map((_, i) => i).filter(i => keys.every(([head, key]) => sameKey(rowAt(head, i), key)));
  const name = keys.map(([, key]) => keyText(key)).join(", ");
  if (!fitting.length) return new Failure("noKey", at, name);
  if (fitting.length > 1) return new Failure("keyTwice", at, name);
  const item = column[fitting[0]];
  return item === null ? new Failure("gap", at, fitting[0] + 1) : item;
}

function interpolate(at, points, values, place) {
  if (Array.isArray(at)) return eachRow(at, place, item => interpolate(item, points, values, place));
  for (const column of [points, values]) {
    if (!Array.isArray(column)) return isFailure(column) ? column : new Failure("kind", place);
  }
  if (points.length !== values.length) return new Failure("lengths", place, [points.length, values.length]);
  const x = numberOf(at);
  if (x === undefined) return at;
  const places = points.map(numberOf);
  for (let i = 0; i < places.length; i++) {
    if (places[i] === undefined) return new Failure("gap", place, i + 1);
    if (i > 0 && places[i] <= places[i - 1]) return new Failure("notRising", place, i + 1);
  }
  const usable = i => values[i] === null ? new Failure("gap", place, i + 1) : values[i];
  let upper = places.findIndex(p => p >= x);
  if (upper < 0) return new Failure("outside", place);
  if (places[upper] === x && typeof at === "number") return usable(upper);
  if (upper === 0 && places[0] === x) upper = 1;
  if (upper === 0 || upper >= places.length) return new Failure("outside", place);
  const low = usable(upper - 1);
  const part = divide(subtract(at, points[upper - 1]), subtract(points[upper], points[upper - 1]), place);
  return add(low, multiply(subtract(usable(upper), low), part));
}

// The next listed size at or above, or at or below, what is wanted.
function listedSize(above, sizes, wanted, at) {
  if (Array.isArray(wanted)) return eachRow(wanted, at, item => listedSize(above, sizes, item, at));
  if (!Array.isArray(sizes)) return isFailure(sizes) ? sizes : new Failure("kind", at);
  const x = numberOf(wanted);
  if (x === undefined) return wanted;
  const serves = size => size !== undefined && (isEqual(size, x) || (above ? size > x : size < x));
  const found = sizes.filter(item => serves(numberOf(item)));
  return found.length ? extreme(above ? "minimum" : "maximum", found) : new Failure("noSize", at, above);
}
