// Numbers as text, as the program shows them: rounded half to even. A minus is U+2212, which reads
// back.

// Digits and the power of ten of the last one: twelve digits, which differences of doubles still
// vouch for, or all whole ones, as far as a double has them.
function partsOf(number) {
  const whole = Math.floor(Math.log10(Math.abs(number))) + 1;
  const kept = Math.min(Math.max(12, Number.isFinite(whole) ? whole : 0), 15);
  const [mantissa, exponent] = Math.abs(number).toExponential(kept - 1).split("e");
  const digits = mantissa.replace(".", "");
  return strip({ negative: number < 0, digits: BigInt(digits), power: Number(exponent) - kept + 1 });
}

function strip(parts) {
  let { digits, power } = parts;
  if (digits === 0n) return { ...parts, digits, power: 0 };
  while (digits % 10n === 0n) { digits /= 10n; power++; }
  return { ...parts, digits, power };
}

const leadingOf = parts => parts.digits.toString().length - 1 + parts.power;

function roundedAt(parts, place) {
  if (parts.power >= place) return parts;
  const unit = 10n ** BigInt(place - parts.power);
  const rest = parts.digits % unit, twice = rest * 2n;
  let digits = parts.digits / unit;
  if (twice > unit || (twice === unit && digits % 2n === 1n)) digits += 1n;
  return { ...parts, digits, power: place };
}

const readsPlainly = leading => leading >= -4 && leading < 16;

function plainText(parts, places) {
  let digits = parts.digits.toString();
  const below = Math.max(-parts.power, 0);
  if (parts.digits !== 0n && parts.power > 0) digits += "0".repeat(parts.power);
  if (below) {
    digits = digits.padStart(below + 1, "0");
    digits = digits.slice(0, -below) + "." + digits.slice(-below);
  } else if (places) digits += ".";
  digits += "0".repeat(Math.max(places - below, 0));
  return (parts.negative && parts.digits !== 0n ? "\u2212" : "") + digits;
}

function exponentText(parts, exponent, places) {
  return plainText({ ...parts, power: parts.power - exponent }, places) + "e" + String(exponent).replace("-", "\u2212");
}

// So many significant digits, never a whole digit cut; a zero at the end only where digits behind
// it were rounded away.
function shownDigits(number, digits) {
  if (number === 0) return "0";
  const parts = partsOf(number), place = leadingOf(parts) - digits + 1;
  const isSame = other => other.digits === parts.digits && other.power === parts.power;
  const rounded = strip(roundedAt(parts, Math.min(place, 0)));
  if (rounded.digits !== 0n && readsPlainly(leadingOf(rounded))) {
    return plainText(rounded, isSame(rounded) ? 0 : Math.max(digits - 1 - leadingOf(rounded), 0));
  }
  const short = strip(roundedAt(parts, place));
  return exponentText(short, leadingOf(short), isSame(short) ? 0 : digits - 1);
}

const shownFixed = (number, places) => plainText(roundedAt(partsOf(number), -places), places);

// A value and its expanded uncertainty: that to two significant digits, the value to the same place.
function roundPair(value, expanded) {
  if (expanded === 0) return [shownDigits(value, 4), "0"];
  let amount = partsOf(expanded);
  amount = roundedAt(amount, leadingOf(amount) - 1);
  const place = leadingOf(amount) - 1;
  amount = roundedAt(amount, place);
  const rounded = roundedAt(partsOf(value), place);
  const leading = rounded.digits === 0n ? leadingOf(amount) : Math.max(leadingOf(amount), leadingOf(rounded));
  const write = parts => readsPlainly(leading) ? plainText(parts, Math.max(-place, 0)) : exponentText(parts, leading, leading - place);
  return [write(rounded), write(amount)];
}

// A value in the unit it is shown in: `{ value, amount, tag }` as text.
function shownValue(value, factor, money) {
  if (value === null) return { value: "-" };
  if (isFailure(value)) return { value: value.why === "waits" ? "waits" : "failed", word: true };
  if (typeof value === "string") return { value, word: true };
  const holds = holdsOf(value);
  if (holds !== undefined) return { value: holds ? "true" : "false", word: true };
  const number = numberOf(value) * factor;
  if (!(value instanceof Uncertain)) return { value: money ? shownFixed(number, 2) : shownDigits(number, 4) };
  const { dof, coverage, expanded } = summary(value.d);
  const [text, amount] = roundPair(number, expanded * Math.abs(factor));
  const tag = coverage === undefined ? "limits" : dof < 100 ? "95 %, dof = " + dof.toFixed(1) : "95 %";
  return { value: text, amount, tag };
}

// A chance in whole percent from 1 to 99, else `> 99.9 %`, `< 0.1 %` or one decimal.
function chanceText(chance) {
  const percent = chance * 100;
  if (percent > 99.9) return "> 99.9 %";
  if (percent < .1) return "< 0.1 %";
  return (percent >= 1 && percent <= 99 ? Math.round(percent).toFixed(0) : percent.toFixed(1)) + " %";
}
