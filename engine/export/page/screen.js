// The page itself: fields are read as they are typed, everything that follows is shown at once.

const byId = id => document.getElementById(id);
const OUTCOMES = { holds: ["holds", "○"], fails: ["fails", "■"], open: ["too close to call", "◆"] };

const fieldParts = number => ({ value: byId("f" + number), amount: byId("a" + number), unit: byId("u" + number), tag: byId("t" + number), note: byId("n" + number) });
const parts = fields.map((_, number) => fieldParts(number));

// The unit that a bare number in a field has: the author's, or the one chosen.
function chosenUnit(number) {
  const { unit } = parts[number];
  return unit && unit.tagName === "SELECT" && unit.selectedIndex > 0 ? unit.value : "";
}

// Reads one field; what is wrong stands under it.
function readScreen(number) {
  const field = fields[number], { value, amount, tag, note } = parts[number];
  let wrong = "", entry;
  try {
    const unit = chosenUnit(number);
    field.chosen = unit ? { ...unitFor(field, unit), text: unit } : undefined;
    entry = readField(field, value.value, amount ? amount.value : "");
  } catch (error) {
    if (!(error instanceof Wrong)) throw error;
    wrong = error.message;
  }
  field.entry = entry;
  field.wrong = wrong;
  value.setAttribute("aria-invalid", wrong ? "true" : "false");
  note.textContent = wrong || echoOf(field, entry);
  note.classList.toggle("wrong", wrong !== "");
  if (tag) tag.textContent = !entry || entry.amount === undefined ? "" : entry.meaning ? tagOf(entry) : field.tag ?? "limit";
}

const tagOf = entry => (entry.amountText.match(/\(([^()]*)\)$/) ?? ["", "limit"])[1];

// How a number with a unit of the reader's own was read.
function echoOf(field, entry) {
  if (!entry || field.kind === "switch" || field.kind === "text") return "";
  if (field.kind === "readings") {
    const value = valueOfField(field);
    return isFailure(value) ? failureText(value) : "mean " + inWords(shownValue(value, 1, false), field.unit);
  }
  if (field.kind !== "number" || !entry.unit || (entry.unit.factor === field.factor && entry.unit.offset === field.offset)) return "";
  return "is " + (shownDigits(entry.number, 5) + " " + field.unit).trim();
}

const inWords = (shown, unit) => (shown.value + (shown.amount ? " ± " + shown.amount : "") + " " + unit).trim() + (shown.tag && shown.tag !== "95 %" ? ` (${shown.tag})` : "");

// A unit typed behind a number moves to the unit beside it; what the author typed behind ± keeps
// its meaning.
function settle(number) {
  const field = fields[number], { value, amount, unit } = parts[number];
  if (field.kind !== "number" || !field.entry) return;
  const both = folded(value.value).split("±");
  if (both.length === 2 && amount) {
    amount.value = both[1].trim();
    value.value = both[0].trim();
  }
  const typed = field.entry.unitText;
  if (!typed || unit?.tagName !== "SELECT" || typed[0] === "$") return;
  if (![...unit.options].some(option => option.value === typed)) unit.add(new Option(typed, typed));
  keepAmount(number, typed);
  unit.value = typed;
  value.value = field.entry.written;
  readScreen(number);
}

// Before another unit is chosen: a bare amount that the author typed says its own.
function keepAmount(number, next) {
  const field = fields[number], { amount } = parts[number];
  const untouched = amount && field.amount !== undefined && amount.value === field.amount;
  if (untouched && next !== field.unit && /^[\d.\s/]+$/.test(amount.value)) amount.value += " " + field.step;
}

function showCell(row, cell, factor, money, unit) {
  const value = values[cell], { failure, broken, near } = said[cell];
  const [, amountBox, unitBox] = row.querySelectorAll("td"), [valueBox] = row.querySelectorAll("td");
  const shown = Array.isArray(value) ? { value: columnText(value, factor, money) } : shownValue(value, factor, money);
  valueBox.textContent = shown.value;
  amountBox.textContent = shown.amount ? "± " + shown.amount : "";
  unitBox.textContent = shown.word ? "" : (unit + (shown.tag && shown.tag !== "95 %" ? ` (${shown.tag})` : "")).trim();
  row.classList.toggle("without", isFailure(value));
  const limit = broken[0] ? `outside the range of ${texts[broken[0][1]]}: ${texts[broken[0][0]]}` : near[0] ? `close to the limit of ${texts[near[0][1]]}: ${texts[near[0][0]]}` : "";
  row.querySelector(".note").textContent = failure ? (broken[0] ? texts[broken[0][0]] : failureText(failure)) : limit;
}

const columnText = (items, factor, money) => "{" + items.map(item => inColumn(item, factor, money)).join(", ") + "}";

function inColumn(item, factor, money) {
  const shown = shownValue(item, factor, money);
  return shown.value + (shown.amount ? " ± " + shown.amount : "") + (shown.tag && shown.tag !== "95 %" ? ` (${shown.tag})` : "");
}

function showResults() {
  for (const [cell, factor, money, unit] of results) {
    const row = byId("c" + cell);
    if (row) showCell(row, cell, factor, money, unit);
    const value = values[cell];
    for (let i = 0, box; (box = byId(`c${cell}-${i}`)); i++) {
      box.textContent = Array.isArray(value) ? inColumn(value[i] ?? null, factor, money) : "waits";
    }
  }
}

// Numbers of one table stand on their decimal marker: what a number lacks is set behind it, hidden.
function alignResults() {
  for (const table of document.querySelectorAll("table.values")) {
    const boxes = [...table.querySelectorAll(".value")];
    const places = boxes.map(({ textContent: text }) => /^\u2212?\d+(\.\d+)?$/.test(text) ? (text.split(".")[1] ?? "").length : -1);
    const most = Math.max(0, ...places);
    boxes.forEach((box, i) => box.dataset.pad = places[i] < 0 ? "" : (places[i] === 0 && most > 0 ? "." : "") + "0".repeat(most - places[i]));
  }
}

function foundText({ operands, text }, outcome, row) {
  const world = cell => values[cell];
  const found = operands.map(([work, factor, money, unit]) => {
    const value = rowAt(work(world)[0], row);
    return numberOf(value) === undefined ? "" : inWords(shownValue(value, factor, money), unit);
  }).filter(Boolean);
  const numbers = found.length === 2 ? found.join(" against ") : found.join(", ");
  if (outcome === "fails") return [numbers, row === undefined ? text : ""].filter(Boolean).join(": ");
  if (outcome === "open") return [numbers, text && row === undefined ? "if it fails: " + text : ""].filter(Boolean).join("; ");
  return "";
}

function chanceOf({ low, high }) {
  if (low === undefined) return "";
  const [a, b] = [chanceText(low), chanceText(high)];
  return a === b ? a : a.replace(" %", "") + " to " + b;
}

function showChecks() {
  checks.forEach((check, number) => {
    const row = byId("k" + number), value = check.cell < 0 ? new Failure("kind") : values[check.cell];
    const judged = judge(value), { outcome, rows } = judged;
    const [word, shape] = OUTCOMES[outcome] ?? [isFailure(value) && value.why === "waits" ? "waits" : "failed", "–"];
    check.now = outcome ?? "unknown";
    row.className = check.now;
    const [shapeBox, wordBox] = row.querySelectorAll(".outcome span");
    shapeBox.textContent = shape;
    wordBox.textContent = word;
    row.querySelector(".chance").textContent = chanceOf(judged);
    const lines = (rows ?? []).map((one, i) => one.outcome === "holds" ? "" : `${check.keys[i] ?? "row " + (i + 1)}: ${foundText(check, one.outcome, i)} ${(OUTCOMES[one.outcome] ?? ["failed"])[0]}`).filter(Boolean);
    const said = rows ? [outcome === "holds" ? "" : check.text, ...lines.slice(0, 20)].filter(Boolean).join("; ") : outcome ? foundText(check, outcome) : isFailure(value) ? failureText(value) : "";
    row.querySelector(".found").textContent = said;
  });
}

function statusText() {
  const count = outcome => checks.filter(check => check.now === outcome).length;
  const wrong = fields.filter(field => field.wrong).length;
  const [fails, open, unknown] = ["fails", "open", "unknown"].map(count);
  const some = [];
  if (wrong) some.push(wrong === 1 ? "1 number cannot be read" : `${wrong} numbers cannot be read`);
  if (fails) some.push(fails === 1 ? "1 fails" : `${fails} fail`);
  if (open) some.push(`${open} too close to call`);
  if (unknown) some.push(`${unknown} without an answer`);
  if (some.length) return some.join(", ");
  return checks.length === 0 ? "" : checks.length === 1 ? "the check holds" : `all ${checks.length} checks hold`;
}

function showStudies() {
  studies.forEach((study, number) => {
    const figure = byId("s" + number), columns = study.cell < 0 ? undefined : values[study.cell];
    const note = figure.querySelector(":scope > .note"), body = figure.querySelector("tbody");
    if (!Array.isArray(columns) || !columns.every(Array.isArray)) {
      note.textContent = isFailure(columns) ? failureText(columns) : "";
      body?.replaceChildren();
      return;
    }
    note.textContent = "";
    showPoints(body, study, columns);
    if (study.plot) showCharts(figure, study, columns);
  });
}

function showPoints(body, study, columns) {
  const rows = columns[0].length, step = study.plot ? Math.max(Math.ceil(rows / 12), 1) : 1;
  const lines = [];
  for (let i = 0; i < rows; i += step) {
    const line = document.createElement("tr");
    study.columns.forEach(([, factor, money], place) => {
      const box = document.createElement(place < study.axes ? "th" : "td");
      if (place < study.axes) box.scope = "row";
      box.className = "number";
      box.textContent = inColumn(columns[place][i], factor, money);
      line.append(box);
    });
    lines.push(line);
  }
  body.replaceChildren(...lines);
}

function showCharts(figure, study, columns) {
  const [axis, ...shows] = study.columns;
  const places = columns[0].map(value => (numberOf(value) ?? NaN) * axis[1]);
  const units = [...new Set(shows.map(([, , , unit]) => unit))];
  figure.querySelectorAll("svg").forEach((svg, i) => {
    const curves = shows.map(([name, factor, , unit], place) => ({ name, unit, points: columns[place + 1].map(value => {
      const number = numberOf(value);
      return number === undefined ? null : [number * factor, value instanceof Uncertain ? summary(value.d).expanded * Math.abs(factor) : 0];
    }) })).filter(curve => curve.unit === units[i]);
    drawChart(svg, { title: svg.querySelector("title").textContent, axis: axis[0], axisUnit: axis[3], unit: units[i], places, curves });
  });
}

function showCautions() {
  const all = new Set();
  for (const one of said) for (const [text] of one.cautions) all.add(texts[text]);
  const ended = text => /[.!?…]$/.test(text) ? text : text + ".";
  byId("cautions").replaceChildren(...[...all].map(text => {
    const line = document.createElement("p"), word = document.createElement("strong");
    line.className = "caution";
    word.textContent = "Caution: ";
    line.append(word, ended(text));
    return line;
  }));
}

function showTaken() {
  const box = byId("taken");
  if (!box) return;
  const own = fields.map((field, number) => field.isDefault ? `${field.name.replaceAll("_", " ")} ${field.wrong ? "?" : literalOf(number)}` : "").filter(Boolean);
  box.textContent = own.join(", ");
}

// What a listener hears after half a second of quiet: what flipped, else the first result.
let quiet, before;

function announce() {
  clearTimeout(quiet);
  quiet = setTimeout(() => {
    const now = checks.map(check => check.now);
    const flipped = checks.filter((check, i) => before && before[i] !== now[i]).map(check => `${check.condition}: ${(OUTCOMES[check.now] ?? ["no answer"])[0]}`);
    before = now;
    const wrong = fields.find(field => field.wrong);
    const first = results.find(([cell]) => byId("c" + cell) && !Array.isArray(values[cell]));
    const result = first ? `${first[4]} ${inWords(shownValue(values[first[0]], first[1], first[2]), first[5] || first[3])}` : "";
    byId("live").textContent = wrong ? `${wrong.name}: ${wrong.wrong}` : flipped.length ? flipped.join("; ") : result;
  }, 500);
}

function showAll() {
  workOut();
  showResults();
  alignResults();
  showChecks();
  showStudies();
  showCautions();
  showTaken();
  byId("status").textContent = statusText();
}

function changed(number) {
  readScreen(number);
  showAll();
  announce();
}

// A field as a literal of the language, as it stands now.
function literalOf(number) {
  const field = fields[number], { entry } = field, { value, amount } = parts[number];
  if (!isTouched(number)) return field.source0;
  if (field.kind === "switch") return value.value;
  if (field.kind === "text") return `"${value.value.replaceAll("\"", "'")}"`;
  if (!entry) return field.source0;
  const unit = entry.unitText || chosenUnit(number) || (field.inTable ? "" : field.unit);
  const behind = unit ? " " + unit : "";
  let text = entry.written;
  if (field.kind === "list" || field.kind === "readings") text = `{${text}}`;
  if (/^\$/.test(unit)) text = unit[1] === "/" || unit[1] === " " ? "$ " + text + unit.slice(1) : "$ " + text;
  else text += behind;
  if (field.kind === "readings") text = `readings(${text})`;
  if (amount && folded(amount.value) !== "" && entry.amount !== undefined) {
    const typed = folded(amount.value), bare = typed.match(/^[\d._/ ]+(?=$| *\()/);
    const plainShare = entry.relative && !field.unit;
    const size = plainShare ? shownDigits(Math.abs(entry.number) * entry.amount, 15) : bare && unit && field.kind !== "number" ? typed.replace(bare[0], bare[0].trim() + behind) : typed;
    const tag = !entry.meaning && field.tag ? ` (${field.tag})` : "";
    text += ` ± ${size}${tag}`;
  }
  return text;
}

function isTouched(number) {
  const field = fields[number], { value, amount } = parts[number];
  return value.value !== field.text || (amount ? amount.value !== (field.amount ?? "") : false) || chosenUnit(number) !== "";
}

// The notebook's cells with the numbers as they stand, as a post that opens in the program.
function post() {
  const lines = statements.map(pieces => pieces.map(piece => typeof piece === "number" ? literalOf(piece) : piece).join(""));
  fields.forEach((field, number) => {
    if (field.isDefault && isTouched(number)) lines.push(`${field.name} = ${literalOf(number)}`);
  });
  const safe = text => text.replaceAll("[/", "[ /").replace(/\[(?=code|b\]|i\])/gi, "[ ");
  const table = results.filter(([cell]) => byId("c" + cell) && !Array.isArray(values[cell])).map(([cell, factor, money, unit, name]) => `${name.padEnd(16)}  ${inWords(shownValue(values[cell], factor, money), unit)}`);
  return `[b]${safe(title)}[/b] [i]With numbers of my own. Save this post as text and open it in gaugebook.[/i]\n[code]\n${lines.map(safe).join("\n")}\n[/code]\n[b]Comes out[/b] (± at 95 %)\n[code]\n${table.map(safe).join("\n")}\n[/code]\n`;
}

function copyPost() {
  const box = byId("post"), note = byId("copied");
  box.value = post();
  const show = () => {
    box.hidden = false;
    box.focus();
    box.select();
    note.textContent = "Copy this text and paste it into your post.";
  };
  if (!navigator.clipboard) return show();
  navigator.clipboard.writeText(box.value).then(() => { note.textContent = "Copied: paste it into your post."; }, show);
}

function startScreen() {
  fields.forEach((field, number) => {
    const { value, amount, unit } = parts[number];
    for (const box of [value, amount]) {
      box?.addEventListener("input", () => changed(number));
      box?.addEventListener("change", () => { settle(number); changed(number); });
    }
    if (unit?.tagName === "SELECT") {
      unit.addEventListener("change", () => { keepAmount(number, unit.value); changed(number); });
    }
  });
  byId("copy").addEventListener("click", copyPost);
  byId("again").addEventListener("click", () => {
    fields.forEach((field, number) => {
      const { value, amount, unit } = parts[number];
      value.value = field.text;
      if (amount) amount.value = field.amount ?? "";
      if (unit?.tagName === "SELECT") unit.selectedIndex = 0;
      readScreen(number);
    });
    byId("post").hidden = true;
    byId("copied").textContent = "";
    showAll();
    announce();
  });
  // A browser may bring back what was typed before.
  fields.forEach((_, number) => readScreen(number));
  showAll();
  before = checks.map(check => check.now);
}

startScreen();
