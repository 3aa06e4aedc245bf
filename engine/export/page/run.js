// Works every cell out, in the order of need, from the fields as they are read.

// What each cell is worth.
const values = [];
// What is to be said of each cell: limits not kept or nearly so, cautions, why it has no value.
const said = [];

const picked = (whole, index) => Array.isArray(whole) ? whole[index] ?? null : whole;

// The value of a field as it stands: a Failure where it cannot be read.
function valueOfField(field, number) {
  const { entry } = field;
  if (!entry) return new Failure("waits", undefined, field.name);
  switch (field.kind) {
    case "switch": return entry.on;
    case "text": return entry.text;
    case "number": return withAmount(entry.number, field, entry, number);
    case "list": return withAmount(entry.numbers, field, entry, number);
    case "readings": {
      const mean = readings(entry.numbers, field.rows, field.rows, 0);
      return isFailure(mean) ? mean : withAmount(mean, field, entry, number);
    }
  }
}

function withAmount(value, field, entry) {
  if (entry.amount === undefined) return value;
  return uncertain(value, entry.amount, entry.relative, entry.meaning ?? field.meaning, field.source, 0);
}

const allHold = value => {
  if (Array.isArray(value)) {
    const parts = value.map(allHold).filter(Boolean);
    return [parts.every(([holds]) => holds), parts.some(([, near]) => near)];
  }
  if (typeof value === "boolean") return [value, false];
  if (value instanceof Doubt) return [value.holds, value.near];
};

const anyHolds = value => Array.isArray(value) ? value.some(anyHolds) : holdsOf(value) === true;

function workOut() {
  sources.clear();
  fields.forEach((field, number) => field.value = valueOfField(field, number));
  const world = cell => values[cell];
  cells.forEach((work, cell) => {
    const saying = said[cell] = { broken: [], near: [], cautions: [], failure: undefined };
    if (!work) {
      saying.failure = new Failure("atHome");
      values[cell] = new Failure("waits", undefined, names[cell]);
      return;
    }
    const [value, limits, cautions] = work(world);
    for (const [kept, text, formula] of limits) {
      const judged = allHold(kept);
      if (judged && !judged[0]) saying.broken.push([text, formula]);
      else if (judged && judged[1]) saying.near.push([text, formula]);
    }
    for (const [when, text, formula] of cautions) if (anyHolds(when)) saying.cautions.push([text, formula]);
    values[cell] = value;
    if (!isFailure(value)) return;
    saying.failure = value;
    values[cell] = value.why === "waits" ? value : new Failure("waits", undefined, names[cell]);
  });
}

// Why there is no value, in words.
function failureText(failure) {
  const place = texts[failure.at ?? 0], more = failure.more;
  const about = words => place ? `${words}: ${place}` : words;
  switch (failure.why) {
    case "waits": return `waits for ${more}`;
    case "atHome": return "has a mistake in the notebook itself";
    case "zero": return about("division by zero");
    case "domain": return place ? `${place} has no value` : "has no value";
    case "range": return about("a number too large to hold");
    case "gap": return about(more ? `row ${more} is an empty field` : "an empty field was used");
    case "lengths": return `two columns of different lengths: ${more[0]} and ${more[1]} rows`;
    case "noKey": return `no row has the key ${more}`;
    case "keyTwice": return `several rows have the key ${more}`;
    case "notRising": return about(`row ${more} is not above the row before it`);
    case "outside": return about("a value outside the table");
    case "noSize": return about("no listed size serves");
    case "noRoot": return about("no value in this range meets the target");
    case "several": return `several values meet the target: ${more.join(", ")}`;
    case "independent": return "the target does not depend on the value sought";
    case "jump": return "no value meets the target: the difference jumps over zero";
    case "amountUncertain": return "an uncertain amount behind ±";
    case "amountNegative": return "an amount below zero behind ±";
    case "oneReading": return "one reading has no scatter: needs two or more";
    case "noRows": return "a column without values";
    case "equality": return "equality between uncertain values";
    case "stepAway": return "a step that does not lead to the end";
    case "tooMany": return `${more} points are more than a page works out`;
    default: return "a value of another kind than was expected";
  }
}

// How a check went: `holds`, `fails`, `open`, or nothing where it has no value; and its chance.
function judge(value) {
  if (Array.isArray(value)) {
    const rank = { undefined: 0, fails: 2, open: 4, holds: 6 };
    const badness = ({ outcome, low }) => rank[outcome] + (low ?? (outcome === "holds" ? 1 : 0));
    const rows = value.map(judge);
    const worst = rows.reduce((a, b) => badness(b) < badness(a) ? b : a, { outcome: "holds" });
    return { ...worst, rows };
  }
  if (typeof value === "boolean") return { outcome: value ? "holds" : "fails" };
  if (!(value instanceof Doubt)) return { outcome: undefined };
  const outcome = value.low >= .95 ? "holds" : value.high <= .05 ? "fails" : "open";
  return { outcome, low: value.low, high: value.high };
}

// Reads what stands in a field; throws what is wrong with it.
function readField(field, text, amount) {
  if (field.kind === "switch") return { on: text === "on" };
  if (field.kind === "text") return { text };
  if (field.kind === "number") return readEntry(field, text, amount);
  const entry = readList(field, text);
  if (field.kind === "readings" && entry.numbers.length < 2) throw new Wrong("one reading has no scatter: needs two or more");
  const behind = folded(amount ?? "");
  if (behind !== "") Object.assign(entry, readAmount(field, behind, entry.unit), { amountText: behind });
  return entry;
}

function startOver() {
  for (const field of fields) {
    field.wrong = undefined;
    field.entry = readField(field, field.text, field.amount);
  }
}
