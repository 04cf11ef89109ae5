// Draws docs/plots/growth.svg from tests/bench/growth.json, which `npm run bench exact` measures: time and memory of an exact search against the states of its branches, both axes
// logarithmic. `npx tsx tests/bench/growth-plot.ts`.
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";

interface Point {
  readonly series: string;
  readonly states: number;
  readonly networks: number;
  readonly seconds: number;
  readonly mebibytes: number;
}
const points = JSON.parse(readFileSync(new URL("./growth.json", import.meta.url), "utf8")) as readonly Point[];
const [width, height, left, right, top, bottom] = [720, 420, 70, 70, 40, 60];
const decades = (values: readonly number[]): readonly [number, number] => [
  Math.floor(Math.log10(Math.min(...values))),
  Math.ceil(Math.log10(Math.max(...values))),
];
const scale =
  ([from, to]: readonly [number, number], low: number, high: number) =>
  (value: number) =>
    low + ((Math.log10(value) - from) / (to - from)) * (high - low);
const marks = ([from, to]: readonly [number, number]) => Array.from({ length: to - from + 1 }, (_, index) => from + index);
const says = (power: number) => (power >= -2 && power <= 4 ? String(Number(`1e${power}`)) : `10^${power}`);

const across = decades(points.map(({ states }) => states));
const time = decades(points.map(({ seconds }) => seconds));
const memory = decades(points.map(({ mebibytes }) => mebibytes));
const x = scale(across, left, width - right);
const [t, m] = [scale(time, height - bottom, top), scale(memory, height - bottom, top)];
const text = (at: number, y: number, words: string, more = "") => `<text x="${at.toFixed(1)}" y="${y.toFixed(1)}" ${more}>${words}</text>`;
const line = (x1: number, y1: number, x2: number, y2: number) =>
  `<line x1="${x1.toFixed(1)}" y1="${y1.toFixed(1)}" x2="${x2.toFixed(1)}" y2="${y2.toFixed(1)}" stroke="#ccc"/>`;
const curve = (y: (point: Point) => number, colour: string, dashes: string) =>
  [
    `<polyline fill="none" stroke="${colour}" stroke-width="2" ${dashes} points="${points.map((point) => `${x(point.states).toFixed(1)},${y(point).toFixed(1)}`).join(" ")}"/>`,
    ...points.map((point) => `<circle cx="${x(point.states).toFixed(1)}" cy="${y(point).toFixed(1)}" r="4" fill="${colour}"/>`),
  ].join("\n");

const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" font-family="sans-serif" font-size="13" role="img" aria-labelledby="title">
<title id="title">Processor time and memory of an exact search against the number of branch states</title>
<rect width="${width}" height="${height}" fill="#fff"/>
${marks(across)
  .map(
    (power) =>
      line(x(10 ** power), top, x(10 ** power), height - bottom)
      + text(x(10 ** power), height - bottom + 18, says(power), 'text-anchor="middle"'),
  )
  .join("\n")}
${marks(time)
  .map(
    (power) =>
      line(left, t(10 ** power), width - right, t(10 ** power))
      + text(left - 8, t(10 ** power) + 4, says(power), 'text-anchor="end" fill="#0b57a4"'),
  )
  .join("\n")}
${marks(memory)
  .map((power) => text(width - right + 8, m(10 ** power) + 4, says(power), 'fill="#a8480a"'))
  .join("\n")}
${text(left, 24, "Time, s (line)", 'fill="#0b57a4"')}
${text(width - right, 24, "Memory, MiB (dashes)", 'text-anchor="end" fill="#a8480a"')}
${text((left + width - right) / 2, height - 10, "States of both branches together", 'text-anchor="middle"')}
${curve(({ seconds }) => t(seconds), "#0b57a4", "")}
${curve(({ mebibytes }) => m(mebibytes), "#a8480a", 'stroke-dasharray="6 4"')}
${points.map(({ series, states, networks }) => text(x(states), height - bottom - 8, `${series}: ${networks.toExponential(1)} networks`, 'text-anchor="middle" font-size="11" fill="#444"')).join("\n")}
</svg>
`;
mkdirSync(new URL("../../docs/plots/", import.meta.url), { recursive: true });
writeFileSync(new URL("../../docs/plots/growth.svg", import.meta.url), svg);
