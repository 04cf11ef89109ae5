// A stated largest Q where no Q is told: it is said to be not checked, with why, and is neither kept nor broken. Impedances by formulas; which of them have a single peak below 300 Hz is known by construction.
import { inspect } from "node:util";
import { describe, expect, it } from "vitest";
import { assess, compare, type Assessment } from "dividing-network/assessment";
import { loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { driverImpedance, resistor } from "dividing-network/parts";
import { comparisonText } from "dividing-network/report";
import { frequencyResponse, logGrid } from "dividing-network";
import { flat, over, plus, type C } from "../support/synthetic";

const [re, qms, qes] = [5.6, 4.2, 0.42];
const cone = (fs: number) => driverImpedance({ re, fs, qms, qes, le: "0.1 mH" });
const peak = (f: number, fs: number): C => over([(re * qms) / qes, 0], [1, qms * (f / fs - fs / f)]);
const measured = (z: (f: number) => C, low = 15) => {
  const grid = logGrid(low, 20_000, 400);
  return driverImpedance(frequencyResponse(grid, grid.map((f) => z(f)[0]), grid.map((f) => z(f)[1]))); // prettier-ignore
};
const vented = measured((f) => plus([re, 2 * Math.PI * f * 1e-4], plus(peak(f, 30), peak(f, 80))));
const judged = (parts: Readonly<Record<string, Entries[string][0]>>, damping: object, role = "woofer", ohms = 0.5): Assessment => {
  const network = Object.fromEntries(
    Object.entries(parts).flatMap(([name, part]) => [
      [`R${name}`, [resistor(ohms), "in", `${name} +`]],
      [name, [part, `${name} +`, "gnd"]],
    ]),
  ) as unknown as Entries;
  const drivers = Object.keys(parts).map((name) => ({ name, role: name === "tweeter" ? "tweeter" : role, pressures: flat }));
  return assess(loudspeaker({ network, drivers } as never), { ratedImpedance: 4, goal: { damping } });
};
const limit = (q: number, why: string) => `the largest Q of ${q} that the goal states${why}`;
const LIMIT = { largestQ: 0.7 };

describe("a stated largest Q where none is told", () => {
  it.each([
    ["two peaks", { w: vented }, /, for w \(its impedance shows no single peak .* state largestSourceResistance instead\)$/],
    ["no peak", { w: measured(() => [6, 0]) }, /, for w \(its impedance shows no resonance: measure it from below its peak on/],
    ["no impedance", { w: resistor(6) }, /, for w \(its part is no driver's impedance\)$/],
    ["a resonance too high", { w: cone(420) }, /, for w \(it resonates at 420 Hz, above 300 Hz, where it is no bass\)$/],
    [
      "an impedance beside it that begins above",
      { w: cone(48), tweeter: measured(() => [12, 0], 200) },
      /, for w \(it resonates at 48 Hz, and all impedances are known from 200 Hz to 20 kHz alone\)$/,
    ],
  ] as const)("is said to be not checked, with why: %s", (_, parts, why) => {
    const made = judged(parts, LIMIT);
    expect(made.limitsNotChecked).toHaveLength(1);
    expect(made.limitsNotChecked[0]).toMatch(why);
    expect(made.limitsNotChecked[0]!.startsWith(limit(0.7, ""))).toBe(true);
    const found = compare(made, made);
    // Neither kept nor broken: no row has it.
    expect(found.findings.filter(({ code }) => code === "bass-q")).toEqual([]);
    expect(found.verdict.sentence).toContain(`Not checked: ${made.limitsNotChecked[0]}.`);
    expect(comparisonText(found, { width: 1000 })).toContain(`Not checked, so never passed: ${made.limitsNotChecked[0]}; `);
    expect(inspect(made)).toContain("  not checked: the largest Q of 0.7");
    // Where nothing is stated, nothing is left unchecked.
    expect(judged(parts, {}).limitsNotChecked).toEqual([]);
  });

  it("is said once where no driver is a woofer at all", () => {
    expect(judged({ w: cone(48) }, LIMIT, "midrange").limitsNotChecked).toEqual([
      limit(0.7, " (no driver is a woofer or a full-range driver)"),
    ]);
  });

  it("is held where a Q is told, and said of the branches alone where none is", () => {
    const one = judged({ w: cone(48) }, LIMIT);
    expect([one.limitsNotChecked, one.bass[0]!.q! < 0.7]).toEqual([[], true]);
    const both = judged({ told: cone(48), open: vented }, { largestQ: 0.2 });
    expect(both.limitsNotChecked.map((each) => /for (\w+)/.exec(each)![1])).toEqual(["open"]);
    expect(compare(both, both).findings.filter(({ code }) => code === "bass-q").map(({ kept }) => kept)).toEqual([false]); // prettier-ignore
  });

  it("is held as well where impedances end too low for the rise to be told", () => {
    const short = { w: cone(250), tweeter: driverImpedance(frequencyResponse(logGrid(20, 400, 60), new Float64Array(60).fill(6), new Float64Array(60))) }; // prettier-ignore
    const made = judged(short, { largestQ: 0.2 });
    expect(made.bass[0]).toMatchObject({ part: "w", resonance: 250 });
    expect([made.bass[0]!.riseDb, made.limitsNotChecked]).toEqual([undefined, []]);
    expect(compare(made, made).findings.find(({ code }) => code === "bass-q")).toMatchObject({ kept: false });
  });
});
