// Curves as SVG, drawn as the program draws them: `chart` is `{ title, axis, axisUnit, unit,
// places, curves: [{ name, points: [[value, amount] or null] }] }`.

const SVG = "http://www.w3.org/2000/svg";
const FRAME = { left: 44, right: 318, top: 24, bottom: 220 };
const DASHES = ["", "8 4", "2 3", "12 4 2 4", "5 2", "1 5"];

function ticks(low, high, count, round) {
  if (low === high) {
    const by = low === 0 ? 1 : Math.abs(low) * .1;
    low -= by;
    high += by;
  }
  const rough = (high - low) / count, power = Math.pow(10, Math.floor(Math.log10(rough))), size = rough / power;
  const step = (size < 1.5 ? 1 : size < 3.5 ? 2 : size < 7.5 ? 5 : 10) * power, slack = step * 1e-9;
  const first = Math.floor((low - slack) / step), last = Math.ceil((high + slack) / step);
  const [from, to] = round ? [first * step, last * step] : [low, high];
  const places = [];
  for (let n = 0; n <= Math.min(last - first, 50); n++) {
    const place = (first + n) * step;
    if (place >= from - slack && place <= to + slack) places.push([place, shownDigits(Math.abs(place) < step * 1e-6 ? 0 : place, 6)]);
  }
  return { from, to, places };
}

function svgPart(parent, name, attributes, text) {
  const part = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) part.setAttribute(key, typeof value === "number" ? value.toFixed(1) : value);
  if (text !== undefined) part.textContent = text;
  parent.append(part);
  return part;
}

function runsOf(curve, places) {
  const runs = [[]];
  curve.points.forEach((point, i) => {
    if (point) runs[runs.length - 1].push([places[i], ...point]);
    else if (runs[runs.length - 1].length) runs.push([]);
  });
  return runs.filter(run => run.length);
}

const pathOf = points => points.map(([x, y], i) => (i ? "L" : "M") + x.toFixed(1) + " " + y.toFixed(1)).join("");

// Draws a chart into an `svg` element.
function drawChart(svg, chart) {
  const words = svg.querySelector("desc"), title = svg.querySelector("title");
  svg.replaceChildren(title, words);
  words.textContent = chartSentence(chart);
  const values = chart.curves.flatMap(curve => curve.points).filter(Boolean).flatMap(([v, u]) => [v - u, v + u]).filter(Number.isFinite);
  if (!values.length) return;
  const along = ticks(Math.min(...chart.places), Math.max(...chart.places), 5, false);
  const down = ticks(Math.min(...values), Math.max(...values), 5, true);
  const { left, right, top, bottom } = FRAME;
  const x = place => left + (place - along.from) / (along.to - along.from) * (right - left);
  const y = value => bottom - (value - down.from) / (down.to - down.from) * (bottom - top);
  const grid = svgPart(svg, "g", { "font-size": "12", fill: "currentColor" });
  for (const [place, text] of down.places) {
    svgPart(grid, "line", { x1: left, x2: right, y1: y(place), y2: y(place), stroke: "currentColor", "stroke-opacity": "0.18" });
    svgPart(grid, "text", { x: left - 8, y: y(place) + 4, "text-anchor": "end" }, text);
  }
  for (const [place, text] of along.places) {
    svgPart(grid, "line", { x1: x(place), x2: x(place), y1: bottom, y2: bottom + 5, stroke: "currentColor", "stroke-opacity": "0.5" });
    svgPart(grid, "text", { x: x(place), y: bottom + 20, "text-anchor": "middle" }, text);
  }
  svgPart(grid, "line", { x1: left, x2: right, y1: bottom, y2: bottom, stroke: "currentColor", "stroke-opacity": "0.5" });
  svgPart(grid, "text", { x: left - 8, y: 14, "text-anchor": "start" }, chart.unit);
  svgPart(grid, "text", { x: right, y: bottom + 38, "text-anchor": "end" }, (chart.axis + " " + chart.axisUnit).trim());
  chart.curves.forEach((curve, number) => {
    for (const run of runsOf(curve, chart.places)) {
      if (run.some(([, , u]) => u > 0)) {
        const above = run.map(([p, v, u]) => [x(p), y(v + u)]), below = run.map(([p, v, u]) => [x(p), y(v - u)]).reverse();
        svgPart(svg, "path", { d: pathOf(above.concat(below)) + "Z", class: "band", fill: "currentColor", "fill-opacity": "0.13" });
      }
      svgPart(svg, "path", { d: pathOf(run.map(([p, v]) => [x(p), y(v)])), fill: "none", stroke: "currentColor", "stroke-width": "2", "stroke-dasharray": DASHES[number % DASHES.length] });
    }
  });
  for (const [place, value] of crossings(chart)) svgPart(svg, "circle", { cx: x(place), cy: y(value), r: "4.5", fill: "none", stroke: "currentColor", "stroke-width": "1.5" });
  const labels = chart.curves.map(curve => [curve.points.filter(Boolean).pop(), curve.name]).filter(([point]) => point).map(([point, name]) => [y(point[0]), name.length > 16 ? name.slice(0, 15) + "…" : name]).sort((a, b) => a[0] - b[0]);
  for (let i = 1; i < labels.length; i++) labels[i][0] = Math.max(labels[i][0], labels[i - 1][0] + 14);
  const over = labels.length ? Math.max(labels[labels.length - 1][0] - bottom, 0) : 0;
  for (const [place, name] of labels) svgPart(svg, "text", { x: right + 8, y: place - over + 4, "font-size": "12", fill: "currentColor" }, name);
}

// Where curves cross: place, value, names of both.
function crossings({ places, curves }) {
  const found = [];
  curves.forEach((first, number) => curves.slice(number + 1).forEach(second => {
    for (let i = 1; i < places.length; i++) {
      const [a, b, c, d] = [first.points[i - 1], first.points[i], second.points[i - 1], second.points[i]];
      if (!a || !b || !c || !d) continue;
      const before = a[0] - c[0], here = b[0] - d[0];
      if (before === 0 || before > 0 === here > 0) continue;
      const part = before / (before - here);
      found.push([places[i - 1] + part * (places[i] - places[i - 1]), a[0] + part * (b[0] - a[0]), first.name, second.name]);
    }
  }));
  return found;
}

// What a chart shows, in one sentence.
function chartSentence(chart) {
  const withUnit = (value, amount, unit) => ((amount ? roundPair(value, amount).join(" ± ") : shownDigits(value, 4)) + " " + unit).trim();
  const parts = chart.curves.map(curve => {
    const run = runsOf(curve, chart.places).flat();
    if (!run.length) return undefined;
    const first = run[0], last = run[run.length - 1];
    const rises = run.every((point, i) => !i || point[1] >= run[i - 1][1]), falls = run.every((point, i) => !i || point[1] <= run[i - 1][1]);
    if (rises && falls) return `${curve.name} stays at ${withUnit(first[1], first[2], chart.unit)}`;
    const verb = rises ? "rises" : falls ? "falls" : "goes up and down";
    return `${curve.name} ${verb} from ${withUnit(first[1], first[2], chart.unit)} at ${withUnit(first[0], 0, chart.axisUnit)} to ${withUnit(last[1], last[2], chart.unit)} at ${withUnit(last[0], 0, chart.axisUnit)}`;
  }).filter(Boolean);
  for (const [place, , first, second] of crossings(chart).slice(0, 3)) parts.push(`${first} and ${second} cross at ${withUnit(place, 0, chart.axisUnit)}`);
  return parts.length ? parts.join("; ") + "." : "No value to show.";
}
