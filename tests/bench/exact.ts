// How far exact searches reach: a seven-part two-way in E12 and E24, a three-way of nine parts, a free level, against looking at every pair of branch states with early stopping; and how time
// and memory grow, which `growth-plot.ts` draws.
import { writeFileSync } from "node:fs";
import { capacitor, inductor, logGrid, preferredValues, resistor, type Loudspeaker } from "dividing-network";
import { goal as goalOf, lossOf } from "dividing-network/assessment";
import { chooseValues, type ChosenValues } from "dividing-network/design";
import { limitsOf } from "../../src/design/limits";
import { searchProblem } from "../../src/design/search-problem";
import { choicesOf } from "../../src/design/choices";
import { monitor, numbers, tweeter, woofer } from "../support/two-way";
import { threeWay } from "./three-way-loudspeaker";

type Series = "E3" | "E6" | "E12" | "E24";

/** Values of a series between two, both included. */
function between(from: number, to: number, series: Series): number[] {
  const all = Array.from({ length: 12 }, (_, decade) => preferredValues(series).map((value) => value * 10 ** (decade - 7))).flat();
  return all.filter((value) => value >= from * 0.999 && value <= to * 1.001);
}

/** Seconds of processor time, and the most memory that arrays of numbers held beyond what they held before: a search's tables and trees. */
async function spent<T>(call: () => Promise<T>): Promise<{ readonly seconds: number; readonly mebibytes: number; readonly result: T }> {
  globalThis.gc?.();
  const before = process.memoryUsage().arrayBuffers;
  let most = 0;
  const look = () => {
    most = Math.max(most, process.memoryUsage().arrayBuffers - before);
  };
  const timer = setInterval(look, 5);
  const start = process.cpuUsage();
  const result = await call();
  const { user, system } = process.cpuUsage(start);
  look();
  clearInterval(timer);
  return { seconds: (user + system) / 1e6, mebibytes: most / 2 ** 20, result };
}

const frequencies = logGrid(300, 10_000, 32);
const places = [{}, { azimuth: 20 }, { azimuth: -20 }];
const two = {
  L1: [inductor(0.68e-3, { dcr: 0.25 }), "in", "w"],
  C3: [capacitor(1e-6), "in", "w"],
  C1: [capacitor(10e-6, { esr: 0.02 }), "w", "gnd"],
  woofer: [woofer, "w", "gnd"],
  R2: [resistor(2.2), "in", "a"],
  C2: [capacitor(5.6e-6), "a", "b"],
  L2: [inductor(0.33e-3, { dcr: 0.2 }), "b", "gnd"],
  C4: [capacitor(15e-6), "b", "t"],
  tweeter: [tweeter, "t", "gnd"],
} as const;
const valuesOf = (series: Series) => ({
  L1: between(0.1e-3, 2.2e-3, series),
  C3: [...between(0.15e-6, 10e-6, series === "E24" ? "E12" : series), "open" as const],
  C1: between(2.2e-6, 47e-6, series),
  R2: between(1, 10, series),
  C2: between(2.2e-6, 22e-6, series),
  L2: between(0.1e-3, 1e-3, series),
  C4: between(4.7e-6, 47e-6, series),
});

const threeWayValues = {
  L1: between(0.68e-3, 6.8e-3, "E12"),
  C1: between(15e-6, 150e-6, "E12"),
  C2: between(15e-6, 150e-6, "E12"),
  L2: between(0.1e-3, 1e-3, "E12"),
  C3: between(2.2e-6, 22e-6, "E12"),
  R1: between(0.47, 4.7, "E12"),
  R2: between(0.82, 10, "E12"),
  C4: between(1.5e-6, 18e-6, "E12"),
  L3: between(0.082e-3, 1e-3, "E12"),
};

/** Networks a second of an enumeration over tables of branch states: the search's own sum of one network, which stops as soon as it is beyond the best of all. No enumeration knows that from the beginning. */
async function enumerationRate(box: Loudspeaker, values: object, levelDb: number, bestDb: number): Promise<number> {
  const aim = goalOf({ frequencies, places, levelDb, limits: "stated" });
  const choices = choicesOf("bench", box, values);
  const limits = limitsOf("bench", box, aim, undefined);
  const { tables, boundFor } = await searchProblem("bench", box, aim, choices, limits, frequencies, 0, () => undefined);
  const bound = boundFor(new Set());
  const next = numbers(1);
  const enough = ((bestDb * Math.LN10) / 20) ** 2;
  const many = 2e6;
  const nodes = new Int32Array(tables.length);
  const start = process.cpuUsage();
  for (let i = 0; i < many; i++) {
    tables.forEach(({ states }, g) => (nodes[g] = -1 - Math.floor(next() * states)));
    bound.exact(nodes, 0, enough);
  }
  const { user, system } = process.cpuUsage(start);
  return many / ((user + system) / 1e6);
}

export async function bench(): Promise<{ name: string; lines: string[] }> {
  const box = monitor(two);
  // A level to keep: what the network as drawn has.
  const { levelDb } = lossOf(box, { frequencies, places, limits: "stated" });
  const stated = { frequencies, places, levelDb: Math.round(levelDb), limits: "stated" as const };
  const free = { frequencies, places, limits: "stated" as const };
  const search = (of: Loudspeaker, goal: object, values: object, polarity: object) =>
    spent(() => chooseValues(of, { goal, values, polarity } as never) as Promise<ChosenValues>);
  const either = { tweeter: "either" };
  const growth: object[] = [];
  const rows: string[] = [];
  const tell = (title: string, { seconds, mebibytes, result }: Awaited<ReturnType<typeof search>>, against: string) => {
    const { networks, evaluated, lossDb, proven } = result;
    rows.push(
      `| ${title} | ${networks.toExponential(2)} | ${seconds.toFixed(1)} s | ${mebibytes.toFixed(0)} MiB | ${evaluated} | ${lossDb.toFixed(3)} dB, ${proven ? "proven" : "not proven"} | ${against} |`,
    );
  };
  const statesOf = (values: ReturnType<typeof valuesOf>): number =>
    values.L1.length * values.C3.length * values.C1.length + values.R2.length * values.C2.length * values.L2.length * values.C4.length;
  let [rate, e24] = [0, 0];
  for (const series of ["E3", "E6", "E12", "E24"] as const) {
    const values = valuesOf(series);
    const one = await search(box, stated, values, either);
    growth.push({ series, states: statesOf(values), networks: one.result.networks, seconds: one.seconds, mebibytes: one.mebibytes });
    if (series === "E12") rate = await enumerationRate(box, values, stated.levelDb, one.result.lossDb);
    if (series === "E24") e24 = one.seconds;
    if (series === "E12" || series === "E24")
      tell(
        `two-way, seven parts, ${series}, level stated`,
        one,
        `${(one.result.networks / rate / one.seconds).toFixed(0)}× (bar: ≥ ${series === "E12" ? 50 : 500}×)`,
      );
  }
  const three = threeWay();
  const level = Math.round(lossOf(three, free).levelDb);
  const nine = await search(three, { ...stated, levelDb: level }, threeWayValues, { mid: "either", tweeter: "either" });
  tell("three-way, nine parts, E12, level stated", nine, `${(nine.seconds / e24).toFixed(2)} of the E24 two-way's time (bar: ≤ 3)`);
  tell("two-way, seven parts, E12, level free", await search(box, free, valuesOf("E12"), either), "");
  writeFileSync(new URL("./growth.json", import.meta.url), `${JSON.stringify(growth, undefined, 2)}\n`);
  return {
    name: "Exact searches, and how they grow",
    lines: [
      `\`chooseValues\`, 32 frequencies from 300 Hz to 10 kHz, the axis and ±20°, no limit but the level, which is ${stated.levelDb} dB in the two-way. Processor time and memory of one run, tables and trees included.`,
      "",
      "| what | networks | time | memory | pairs looked at | best | against enumeration |",
      "|---|---|---|---|---|---|---|",
      ...rows,
      "",
      `An enumeration over the same tables that stops early, told the best loss beforehand, looks at ${(rate / 1e6).toFixed(2)} million networks a second of processor time (2 million drawn by chance). A loop that does nothing but enumerate would be faster; a ratio r then falls to r × ${(rate / 2.7e6).toFixed(3)} for one of 2.7 million a second. Memory is that of arrays of numbers, sampled, so that a short peak may be missed.`,
      "",
      "![Time and memory against the number of branch states](plots/growth.svg)",
    ],
  };
}
