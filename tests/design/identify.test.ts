// Tests src/design/: alike-directions.ts, identify-deviations.ts, identify-observations.ts, identify-scatter.ts, identify-starts.ts
// Tests src/design/: identify-coarser.ts, identify-fits.ts, identify-request.ts, identify-unknowns.ts
import { describe, expect, it } from "vitest";
import {
  capacitor,
  inductor,
  logGrid,
  network,
  resistor,
  solve,
  frequencyResponse,
  type Entries,
  type FrequencyResponse,
} from "dividing-network";
import { identify } from "dividing-network/design";
import { drawn, monitor, numbers } from "../support/two-way";

const grid = logGrid(20, 20_000, 90);
const truth = { L1: 0.82e-3, R1: 6.8, C1: 15e-6, R2: 1.5, C2: 4.7e-6, L2: 0.39e-3, R3: 33 };
const drawnEntries = drawn as unknown as Entries;

function valued(values: Readonly<Record<string, number>>): Entries {
  const entries: Record<string, unknown> = { ...drawnEntries };
  for (const [name, value] of Object.entries(values)) {
    const [part, ...nodes] = drawnEntries[name]!;
    const key = part.kind === "resistor" ? "resistance" : part.kind === "inductor" ? "inductance" : "capacitance";
    entries[name] = [{ ...part, [key]: value }, ...nodes];
  }
  return entries as Entries;
}

/** A normally distributed number, from two uniform ones. */
const normal = (next: () => number) => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());

function noisy({ frequencies, re, im }: FrequencyResponse, sigma: number, next: () => number): FrequencyResponse {
  const [a, b] = [re.slice(), im.slice()];
  for (let i = 0; i < a.length; i++) {
    const [gain, turn] = [Math.exp(sigma * normal(next)), sigma * normal(next)];
    [a[i], b[i]] = [gain * (re[i]! * Math.cos(turn) - im[i]! * Math.sin(turn)), gain * (re[i]! * Math.sin(turn) + im[i]! * Math.cos(turn))];
  }
  return frequencyResponse(frequencies, a, b);
}

const codeOf = (call: () => unknown): string => {
  try {
    call();
  } catch (error) {
    return (error as { code: string }).code;
  }
  return "none";
};

describe("identify", () => {
  it("finds seven values from the impedance alone to a thousandth, from a drawing that is off by up to a factor of 1.8", () => {
    const { impedance } = solve(valued(truth), grid);
    const { values, misfit, alike, network: found } = identify(monitor(), { impedance });
    expect(values.map(({ part }) => part)).toEqual(Object.keys(truth));
    for (const { part, value } of values) expect(Math.abs(value / truth[part as keyof typeof truth] - 1), part).toBeLessThan(1e-3);
    expect(misfit).toBeLessThan(1e-6);
    expect(alike).toEqual([]);
    expect(Math.abs(solve<Entries>(found, [1000]).impedance.re[0]! / solve(valued(truth), [1000]).impedance.re[0]! - 1)).toBeLessThan(1e-6);
  });

  it("finds them from a start that is off by a factor of four in every value", () => {
    const next = numbers(5);
    const { impedance } = solve(valued(truth), grid);
    const far = Object.fromEntries(Object.entries(truth).map(([name, value]) => [name, value * 4 ** (2 * next() - 1)]));
    for (const { part, value } of identify(valued(far), { impedance }).values)
      expect(Math.abs(value / truth[part as keyof typeof truth] - 1), part).toBeLessThan(1e-3);
  });

  it("states standard errors that hold as often as they say, from the residuals and from a stated repeatability", () => {
    const next = numbers(77);
    const sweep = solve(valued(truth), logGrid(50, 15_000, 24));
    for (const repeatability of [undefined, { impedance: 0.01 }]) {
      let [within, beyondTwo, all] = [0, 0, 0];
      for (let round = 0; round < 20; round++) {
        const { values } = identify(valued(truth), {
          impedance: noisy(sweep.impedance, 0.01, next),
          vary: ["L1", "C1", "R2", "C2"],
          repeatability,
        });
        for (const { part, value, standardError } of values) {
          const off = Math.abs(value - truth[part as keyof typeof truth]) / standardError!;
          if (off < 1) within++;
          if (off > 2) beyondTwo++;
          all++;
        }
      }
      // 68.3 % and 4.6 % of 80, ± three standard deviations of a count and a little for the four values of a round hanging together.
      expect(within / all).toBeGreaterThan(0.53);
      expect(within / all).toBeLessThan(0.83);
      expect(beyondTwo / all).toBeLessThan(0.12);
    }
  });

  it("doubts what a wrong drawing gives, and widens its standard errors until they no longer belittle it", () => {
    const next = numbers(3);
    const [points, sigma] = [logGrid(50, 10_000, 60), 0.01];
    const lowPass = (l: number, c: number) =>
      network({ L1: [inductor(l, { dcr: 0.3 }), "in", "w"], C1: [capacitor(c), "w", "gnd"], woofer: [resistor(6), "w", "gnd"] });
    const withZobel = network({
      L1: [inductor(0.82e-3, { dcr: 0.3 }), "in", "w"],
      C1: [capacitor(12e-6), "w", "gnd"],
      Rz: [resistor(5), "w", "z"],
      Cz: [capacitor(22e-6), "z", "gnd"],
      woofer: [resistor(6), "w", "gnd"],
    });
    const right = noisy(solve(lowPass(0.82e-3, 12e-6), points).impedance, sigma, next);
    const wrong = noisy(solve(withZobel, points).impedance, sigma, next);
    for (const repeatability of [undefined, { impedance: sigma }]) {
      const [good, bad] = [right, wrong].map((impedance) =>
        identify(lowPass(1e-3, 10e-6), { impedance, vary: ["L1", "C1"], repeatability }),
      );
      expect(good!.doubts).toEqual([]);
      expect(Math.abs(good!.correlation)).toBeLessThan(0.27);
      expect(bad!.correlation).toBeGreaterThan(0.9);
      expect(bad!.doubts.join("; ")).toMatch(/neighbouring frequencies goes together, ρ = 0\.9/);
      const [, c] = bad!.values;
      // 12 µF is left as far away as the drawing is wrong: four of these errors, where the noise alone would say 160.
      expect(Math.abs(c!.value - 12e-6) / c!.standardError!).toBeLessThan(6);
    }
    const { doubts } = identify(lowPass(1e-3, 10e-6), { impedance: wrong, vary: ["L1", "C1"], repeatability: { impedance: sigma } });
    expect(doubts[0]).toMatch(/^what is left is 6\.\d times the stated repeatability/);
    expect(
      identify(lowPass(1e-3, 10e-6), { impedance: solve(lowPass(0.82e-3, 12e-6), points).impedance, vary: ["L1", "C1"] }).doubts,
    ).toEqual([]);
  });

  it("names two resistors in series as what the impedance can't tell apart, and a transfer tells them apart", () => {
    const pad = (a: number, b: number) =>
      network({
        R1: [resistor(a), "in", "m"],
        R2: [resistor(b), "m", "t"],
        tweeter: [resistor(6), "t", "gnd"],
        C1: [capacitor(4.7e-6), "t", "gnd"],
      });
    const sweep = solve(pad(2, 3), grid);
    const alone = identify(pad(1, 1), { impedance: sweep.impedance, vary: ["R1", "R2"] });
    expect(alone.alike).toHaveLength(1);
    expect(alone.alike[0]!.values).toEqual(["R1 resistance", "R2 resistance"]);
    expect(alone.values.map(({ standardError }) => standardError)).toEqual([undefined, undefined]);
    const both = identify(pad(1, 1), { impedance: sweep.impedance, transfers: { m: sweep.voltage("m") }, vary: ["R1", "R2"] });
    expect(both.alike).toEqual([]);
    expect(Math.abs(both.values[0]!.value / 2 - 1)).toBeLessThan(1e-6);
    expect(Math.abs(both.values[1]!.value / 3 - 1)).toBeLessThan(1e-6);
  });

  it("names a part of which nothing is seen", () => {
    const one = network({ R1: [resistor(8), "in", "gnd"], C1: [capacitor(1e-9), "in", "a"], R2: [resistor(1), "a", "gnd"] });
    const { impedance } = solve(one, logGrid(20, 100, 10));
    const { alike } = identify(one, { impedance, vary: ["R1", "R2"], repeatability: { impedance: 0.01 } });
    expect(alike.map(({ values }) => values)).toEqual([["R2 resistance"]]);
  });

  it("gives the other set of values where two like branches can be exchanged", () => {
    const two = (a: number, b: number) =>
      network({
        R1: [resistor(10), "in", "a"],
        C1: [capacitor(a), "a", "gnd"],
        R2: [resistor(30), "in", "b"],
        L1: [inductor(b), "b", "gnd"],
        R3: [resistor(10), "in", "c"],
        C2: [capacitor(a * 3), "c", "gnd"],
      });
    const { impedance } = solve(two(5e-6, 1e-3), grid);
    const { values, alternatives } = identify(two(4e-6, 1e-3), { impedance, vary: ["C1", "C2"] });
    const found = values.map(({ value }) => value).sort((a, b) => a - b);
    expect(Math.abs(found[0]! / 5e-6 - 1)).toBeLessThan(1e-6);
    expect(Math.abs(found[1]! / 15e-6 - 1)).toBeLessThan(1e-6);
    expect(alternatives).toHaveLength(1);
    expect(Math.abs(alternatives[0]![0]! / values[1]!.value - 1)).toBeLessThan(1e-6);
  });

  it("finds a coil's resistance beside its inductance", () => {
    const lowPass = (l: number, dcr: number) =>
      network({ L1: [inductor(l, { dcr }), "in", "w"], C1: [capacitor(10e-6), "w", "gnd"], woofer: [resistor(6), "w", "gnd"] });
    const { values } = identify(lowPass(1e-3, 0.5), {
      impedance: solve(lowPass(0.7e-3, 0.21), grid).impedance,
      vary: ["L1"],
      parasitics: true,
    });
    expect(values.map(({ parameter }) => parameter)).toEqual(["inductance", "dcr"]);
    expect(Math.abs(values[1]!.value / 0.21 - 1)).toBeLessThan(1e-6);
  });

  it("leaves what it is given untouched", () => {
    const { impedance } = solve(valued(truth), grid);
    const before = JSON.stringify([...impedance.re]);
    identify(drawnEntries, { impedance, vary: ["L1"] });
    expect(JSON.stringify([...impedance.re])).toBe(before);
  });

  it("refuses what it can't use, by a typed error", () => {
    const { impedance } = solve(valued(truth), grid);
    expect(codeOf(() => identify(drawnEntries, {}))).toBe("not-measured");
    expect(codeOf(() => identify(drawnEntries, { impedance, vary: ["R9"] }))).toBe("unknown-part");
    expect(codeOf(() => identify(drawnEntries, { impedance, vary: ["woofer"] }))).toBe("invalid-argument");
    expect(codeOf(() => identify(drawnEntries, { impedance, vary: [] }))).toBe("invalid-argument");
    expect(codeOf(() => identify(drawnEntries, { impedance, vary: ["R1", "R1"] }))).toBe("invalid-argument");
    expect(codeOf(() => identify(drawnEntries, { impedance, transfers: { nowhere: impedance } }))).toBe("unknown-name");
    expect(codeOf(() => identify(drawnEntries, { impedance, repeatability: { impedance: 0 } }))).toBe("invalid-argument");
    expect(codeOf(() => identify(drawnEntries, { impedance: solve(valued(truth), [1000, 2000, 3000]).impedance }))).toBe("undetermined");
    expect(codeOf(() => identify(drawnEntries, { impedance: frequencyResponse([100, 200], [0, 1], [0, 0]), vary: ["R1"] }))).toBe(
      "invalid-argument",
    );
    expect(codeOf(() => identify(7 as unknown as Entries, { impedance }))).toBe("invalid-argument");
  });
});
