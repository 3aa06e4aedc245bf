// Numbers as a reader types them, with units of their own. `words`, `prefixes`, `refused` and
// `dimensions` are written by the program; so is what each field needs.

const BLANKS = /[\s\u00a0\u00ad\u200b-\u200f\u2000-\u200a\u202f\u2060\ufeff]+/g;
const FOLDED = { "\u2212": "-", "\u2010": "-", "\u2011": "-", "\u00d7": "*", "\u00b7": "*", "\u22c5": "*", "\u00f7": "/", "\u2044": "/", "\u2033": "\"", "\u201c": "\"", "\u201d": "\"", "\u00b5": "\u03bc", "\u00ba": "\u00b0" };
const FRACTIONS = { "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };
const RAISED = { "⁰": "0", "¹": "1", "²": "2", "³": "3", "⁴": "4", "⁵": "5", "⁶": "6", "⁷": "7", "⁸": "8", "⁹": "9", "⁻": "-" };
const RAISE = { 2: "²", 3: "³", 4: "⁴" };
const WORKSHOP = new Set([2, 3, 4, 8, 16, 32, 64]);
const WHOLE = 12;

// What is wrong with a text, in words for the reader.
class Wrong extends Error {}

function folded(text) {
  let plain = "";
  for (const sign of text) plain += FRACTIONS[sign] ? " " + FRACTIONS[sign] : FOLDED[sign] ?? sign;
  return plain.replace(/\+\/-|\+-/g, "±").replace(BLANKS, " ").trim();
}

// A number at the beginning of a text, and what stands behind it.
function readNumber(text) {
  if (text === "") throw new Wrong("needs a number");
  const clock = text.match(/^-?(\d+):(\d+(?:\.\d*)?)/);
  if (clock) throw new Wrong(`a time is written in one unit: ${Number(clock[1]) * 60 + Number(clock[2])} s`);
  const comma = text.match(/^-?[\d_]*,(\d+)/);
  if (comma) {
    const grouped = comma[1].length === 3 && !comma[0].startsWith(",");
    throw new Wrong(grouped
      ? `no comma inside a number: write ${comma[0].replace(",", "")}, or ${comma[0].replace(",", ".")} if it marks the decimals`
      : `decimals stand behind a point: write ${comma[0].replace(",", ".")}`);
  }
  const mixed = text.match(/^(-?)\s?(?:(\d+) )?(\d+)\/(\d+)(?![\d.])/);
  if (mixed) {
    const [whole, sign, full = "0", up, down] = mixed;
    if (Number(up) >= Number(down) || !WORKSHOP.has(Number(down))) {
      throw new Wrong(`${up}/${down} is no workshop fraction: write it as a decimal, ${shownDigits(Number(up) / Number(down), 6)}`);
    }
    const size = Number(full) + Number(up) / Number(down);
    return { number: sign ? -size : size, rest: text.slice(whole.length).trim(), written: whole.trim() };
  }
  const plain = text.match(/^-?(?:\d[\d_]*\.?[\d_]*|\.\d[\d_]*)(?:[eE][+-]?\d+)?/);
  if (!plain) throw new Wrong("needs a number");
  const number = Number(plain[0].replace(/_/g, "").replace(/\.$/, ""));
  if (!Number.isFinite(number)) throw new Wrong("this number is too large");
  let rest = text.slice(plain[0].length);
  const range = rest.match(/^ ?[-\u2012-\u2015] ?\d/);
  if (range && /^-\d+\/\d+/.test(rest)) throw new Wrong(`a whole number and a fraction stand beside each other: write ${plain[0]} ${rest.slice(1)}`);
  if (range) throw new Wrong("one number, not a range: type the middle, and half of the range behind ±");
  if (/^["']/.test(rest)) throw new Wrong(`write ${plain[0]} ${rest[0] === "\"" ? "in" : "ft"}`);
  return { number, rest: rest.trim(), written: plain[0] };
}

// The words of a unit with their powers: above and below the line.
function unitTokens(text) {
  const tokens = [];
  const pattern = /\s*(?:(\()|(\))|(\*|\/)|\^(?:\((-?\d+)\/(\d+)\)|(-?\d+))|(\d+)(?=[ )])|([^\s()*/^⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+)|([⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+))/gy;
  let at = 0;
  for (const match of text.matchAll(pattern)) {
    at = match.index + match[0].length;
    const [, open, close, sign, up, down, power, count, word, raised] = match;
    if (open || close || sign) tokens.push({ sign: open ?? close ?? sign });
    else if (count) tokens.push({ count: Number(count) });
    else if (word) tokens.push({ word });
    else {
      const last = tokens[tokens.length - 1];
      if (!last?.word) throw new Wrong(`${text} is no unit`);
      last.power = raised ? [Number([...raised].map(sign => RAISED[sign]).join("")), 1] : up ? [Number(up), Number(down)] : [Number(power), 1];
    }
  }
  if (at < text.length) throw new Wrong(`${text} is no unit`);
  return tokens;
}

const oneUnit = () => ({ factor: 1, above: [], below: [], words: 0 });

// Adds a word, a power of one, or a unit in brackets to a unit.
function joinUnit(unit, part, over) {
  unit.factor *= over ? 1 / part.factor : part.factor;
  unit.words += part.words;
  (over ? unit.below : unit.above).push(...part.above);
  (over ? unit.above : unit.below).push(...part.below);
  return unit;
}

// What a word means: letter for letter, as a power (`in2`), with a prefix.
function findWord(word, power) {
  if (power && power[1] === 1 && words.has(word + power[0])) return { row: words.get(word + power[0]), power: [1, 1] };
  power ??= [1, 1];
  const row = words.get(word);
  if (row) return { row, power };
  const base = word.slice(0, -1), digit = Number(word.slice(-1));
  if (digit >= 2 && digit <= 4 && !/\d$/.test(base)) {
    const found = findWord(base);
    if (found && found.row.reference === undefined && found.row.scales) return { ...found, power: [digit * power[0], power[1]] };
  }
  for (const [sign, size] of prefixes) {
    const rest = word.startsWith(sign) ? words.get("+" + word.slice(sign.length)) : undefined;
    if (rest) return { row: { ...rest, factor: rest.factor * Number("1e" + size) }, power };
  }
}

function wordUnit({ word, power }) {
  const found = findWord(word, power);
  if (!found) {
    const known = refused.get(word);
    if (known) throw new Wrong(`${word} is ${known[0]}${known[1] ? `: write ${known[1]}` : ""}`);
    const near = nearestWord(word);
    throw new Wrong(`no unit is called ${word}${near ? `; nearest: ${near}` : ""}`);
  }
  const [up, down] = found.power, exponent = up / down;
  const { row } = found, size = Math.abs(exponent);
  const part = { row, dimension: dimensions[row.dimension].map(one => one * size), exponent };
  const unit = { factor: Math.pow(row.factor, exponent), above: [], below: [], words: 1 };
  (exponent < 0 ? unit.below : unit.above).push(part);
  return unit;
}

function readUnitTokens(tokens, until) {
  const unit = oneUnit();
  let over = false;
  while (tokens.length) {
    const token = tokens.shift();
    if (token.sign === ")" && until) return unit;
    if (token.sign === "/" || token.word === "per") { over = true; continue; }
    if (token.sign === "*") { over = false; continue; }
    if (token.sign === "(") {
      const count = tokens[0]?.count;
      if (count) tokens.shift();
      const inner = readUnitTokens(tokens, true);
      if (count) inner.factor *= count, inner.words++;
      joinUnit(unit, inner, over);
    } else if (token.word) joinUnit(unit, wordUnit(token), over);
    else throw new Wrong("this unit cannot be read");
    over = false;
  }
  if (until) throw new Wrong("a bracket of the unit is not closed");
  return unit;
}

const sumOf = (parts, sign) => {
  const sum = new Array(dimensions[0].length).fill(0);
  for (const part of parts) part.dimension.forEach((exponent, base) => sum[base] += sign * exponent);
  return sum;
};

const sameDimension = (a, b) => a.every((exponent, base) => Math.abs(exponent - b[base]) < 1e-9);
const isPlain = dimension => dimension.every(exponent => exponent === 0);

// A unit with what it counts from: `{ factor, dimension, offset, reference }`; `open` where it
// does not say.
function readUnit(text) {
  let behind;
  const match = text.match(/^(.*\S)\s+(gauge|abs|free|actual|standard|normal|anr|torque)$/);
  if (match) [, text, behind] = match;
  const unit = readUnitTokens(unitTokens(text), false);
  const dimension = sumOf(unit.above, 1).map((exponent, base) => exponent - sumOf(unit.below, 1)[base]);
  const single = unit.words === 1 && unit.above.length === 1 && unit.above[0].exponent === 1 ? unit.above[0].row : undefined;
  const airs = unit.above.map(part => part.row.reference).find(reference => AIR.includes(reference));
  let reference = single ? single.reference : airs;
  if (behind === "torque") dimension[ANGLE] -= WHOLE;
  else if (behind) {
    const stated = references.findIndex(row => row.word === behind);
    if (reference !== undefined && reference !== stated) throw new Wrong(`${text} ${behind} says two things at once`);
    reference = stated;
  }
  const offset = single?.offset ?? 0;
  if (!single && unit.words > 1 && unit.above.concat(unit.below).some(part => part.row.reference === GAUGE)) throw new Wrong("a gauge reading stands alone: in a compound unit a difference is meant, such as psi");
  return { factor: unit.factor, dimension, offset, reference: reference ?? bareReference(unit, dimension), isPercent: single?.isPercent };
}

// What a unit without a suffix counts from; nothing where its dimension has no references.
function bareReference(unit, dimension) {
  let family = families.find(one => sameDimension(dimensions[one.dimension], dimension));
  if (!family) {
    const above = sumOf(unit.above, 1), below = sumOf(unit.below, 1);
    const own = families.find(one => one.air && sameDimension(dimensions[one.dimension], above));
    const lengths = below.every((exponent, base) => exponent === 0 || base === 0);
    if (!own || isPlain(below) || lengths) return undefined;
    family = own.name === "volume" && below[TIME] > 0 ? families.find(one => one.name === "flow") : own;
  }
  if (family.name === "power" && unit.words > 1 && unit.above.concat(unit.below).some(part => part.dimension[CURRENT] !== 0)) return OPEN;
  return family.bare;
}

function nearestWord(word) {
  let best, least = Math.max(1, Math.floor(word.length / 3)) + 1;
  for (const known of words.keys()) {
    if (known[0] === "+" || Math.abs(known.length - word.length) >= least) continue;
    const far = distance(word, known);
    if (far < least) [best, least] = [known, far];
  }
  return best;
}

// Letters changed, left out, put in or swapped.
function distance(a, b) {
  const rows = [];
  for (let i = 0; i <= a.length; i++) {
    rows.push([i]);
    for (let j = 1; j <= b.length; j++) {
      rows[i][j] = i === 0 ? j : Math.min(rows[i - 1][j] + 1, rows[i][j - 1] + 1, rows[i - 1][j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) rows[i][j] = Math.min(rows[i][j], rows[i - 2][j - 2] + 1);
    }
  }
  return rows[a.length][b.length];
}

// The unit of a text for a field, held to what the field needs.
function unitFor(field, text) {
  const power = text.match(/^([^\s()*/^]+)\^(-?\d)/);
  if (power) throw new Wrong(`${text} has two readings behind a number: write ${power[1]}${RAISE[power[2]] ?? power[2]}`);
  const unit = readUnit(text);
  if (!sameDimension(unit.dimension, dimensions[field.dimension])) throw new Wrong(`${text} is ${nounOf(unit.dimension)}: needs ${needs(field)}`);
  if (field.accepts && !field.accepts.includes(unit.reference ?? OPEN)) {
    const row = references[unit.reference];
    throw new Wrong(`${text} is ${row ? row.noun : "not said to count from anything"}: needs ${needs(field)}`);
  }
  return unit;
}

function nounOf(dimension) {
  const known = nouns.find(([index]) => sameDimension(dimensions[index], dimension));
  return known ? known[1] : "another kind of quantity";
}

const needs = field => (field.unit || "a plain number") + (field.noun ? ": " + field.noun : "");

// A number in the unit the field holds; without a unit typed it has the one chosen, or the field's.
function convert(field, number, unit) {
  const from = unit ?? field.chosen ?? field;
  if (from === field || (from.factor === field.factor && from.offset === field.offset)) return number;
  const ratio = from.factor / field.factor;
  // Between scales the distance of their zeros is a short number: 32, not 32.00000000000006.
  const zero = from.offset === 0 && field.offset === 0 ? 0 : Number((from.offset * ratio - field.offset).toPrecision(13));
  return number * ratio + zero;
}

const TAGS = { step: "step", triangular: "triangular", u_shaped: "ushaped" };

// The bracket behind an amount: `(95 %)`, `(k = 2, dof = 9)`, `(step)`.
function readTag(text) {
  const meaning = { kind: "limit" };
  for (const part of text.split(",").map(part => part.trim()).filter(Boolean)) {
    const level = part.match(/^([\d.]+) ?%$/), coverage = part.match(/^k ?= ?([\d.]+)$/), dof = part.match(/^dof ?= ?([\d.]+)$/);
    if (level) Object.assign(meaning, { kind: "probability", level: Number(level[1]) / 100 });
    else if (coverage) Object.assign(meaning, { kind: "coverage", level: Number(coverage[1]) });
    else if (dof) meaning.dof = Number(dof[1]);
    else if (TAGS[part]) meaning.kind = TAGS[part];
    else if (part !== "limit") throw new Wrong(`(${text}) is not known here: 95 %, k = 2, step, triangular, u_shaped, dof = 9`);
  }
  if (meaning.level !== undefined && !(meaning.level > 0) || meaning.kind === "probability" && !(meaning.level < 1) || meaning.dof !== undefined && !(meaning.dof > 0)) throw new Wrong(`(${text}) is out of range`);
  return meaning;
}

// An amount behind ±, in steps of the unit the field holds: `0.6`, `2 %`, `2 % of 200 psi`.
function readAmount(field, text, unit) {
  let meaning;
  const tag = text.match(/^(.*?)\s*\(([^()]*)\)$/);
  if (tag && /[%=]|^ *(step|triangular|u_shaped|limit)\b/.test(tag[2])) {
    text = tag[1];
    meaning = readTag(tag[2]);
  }
  const { number, rest } = readNumber(text);
  if (number < 0) throw new Wrong("an amount behind ± goes both ways: needs one above zero");
  const of = rest.match(/^(%|percent|pct) of (.*)$/);
  if (of) {
    const whole = readNumber(of[2]);
    return { amount: number / 100 * stepOf(field, whole, unit), relative: false, meaning };
  }
  if (/^(%|percent|pct)$/.test(rest) && !field.isPercent) {
    if (field.isPoint) throw new Wrong(`${number} % of a reading depends on where its zero lies: write the amount, such as 1 ${field.step}, or ${number} % of a span`);
    return { amount: number / 100, relative: true, meaning };
  }
  return { amount: stepOf(field, { number, rest }, unit), relative: false, meaning };
}

// An amount as a difference in the field's unit: by factor, never by offset.
function stepOf(field, { number, rest }, unit) {
  const from = rest === "" ? unit ?? field.chosen ?? field : readUnit(rest);
  if (rest !== "" && !sameDimension(from.dimension, dimensions[field.dimension])) throw new Wrong(`${rest} is ${nounOf(from.dimension)}: needs ${field.step}`);
  return number * Math.abs(from.factor / field.factor);
}

// Everything a reader may type into the field of a number: `300 L`, `8 barg ± 2 %`, `1 1/2 in`.
function readEntry(field, valueText, amountText) {
  let value = folded(valueText), amount = folded(amountText ?? "");
  if (value === "") throw new Wrong("needs a number" + (field.unit ? " in " + field.unit : ""));
  const both = value.split("±");
  if (both.length > 2) throw new Wrong("one ± is enough");
  if (both.length === 2) [value, amount] = both.map(part => part.trim());
  let sign = "";
  const dollar = value.match(/^(-?)\$ ?(.*)$/);
  if (dollar) [, , value] = dollar, sign = dollar[1];
  const { number, rest, written } = readNumber(sign + value);
  const unitText = dollar ? "$" + (rest === "" || rest[0] === "/" ? "" : " ") + rest : rest;
  const unit = unitText === "" ? undefined : unitFor(field, unitText);
  const entry = { number: convert(field, number, unit), written, unitText, unit: unit ?? field.chosen };
  if (!Number.isFinite(entry.number)) throw new Wrong("this number is too large");
  if (amount !== "") Object.assign(entry, readAmount(field, amount, unit), { amountText: amount });
  return entry;
}

// Several numbers with one unit behind them: `54.6, 55.3, 55.1`.
function readList(field, text) {
  const plain = folded(text).replace(/^(?:readings\()?\{|\}\)?/g, "");
  const parts = plain.split(/[,;] |[;\n]|,(?!\d)/).map(part => part.trim()).filter(Boolean);
  if (!parts.length) throw new Wrong("needs numbers with a comma and a blank between them");
  const read = parts.map(part => readNumber(part));
  const unitText = read[read.length - 1].rest;
  if (read.slice(0, -1).some(one => one.rest !== "" && one.rest !== unitText)) throw new Wrong("one unit for all, behind the last number");
  const unit = unitText === "" ? undefined : unitFor(field, unitText);
  return { numbers: read.map(one => convert(field, one.number, unit)), written: read.map(one => one.written).join(", "), unitText, unit };
}

// The rows of the unit table by word; a word that takes prefixes stands there with a plus too.
function readWords(rows) {
  const table = new Map();
  for (const [names, factor, dimension, reference, offset, flags] of rows) {
    const row = { factor, dimension, offset, reference: reference ? reference - 1 : undefined, scales: (flags & 1) > 0, isPercent: (flags & 2) > 0 };
    for (const name of names.split(" ")) table.set(name, row);
  }
  return table;
}
