// Tests src/design/: fit-bounds.ts, movable.ts, scale.ts
// Factors of couplings and ratios of ideal transformers as unknowns of `identify` and variables of `fitValues`: against closed forms of coils in series (L1 + L2 ± 2M, any textbook of
// circuits), solutions of 50 digits, and differences of the residuals over arbitrary networks.
import {
  capacitor,
  coupling,
  frequencyResponse,
  inductor,
  logGrid,
  loudspeaker,
  network,
  resistor,
  transformer,
  type Entries,
  type FrequencyResponse,
} from "dividing-network";
import { fitValues, identify } from "dividing-network/design";
import { diagnose } from "dividing-network/network";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { deviationsOf } from "../../src/design/identify-deviations";
import { observations } from "../../src/design/identify-observations";
import { unknownsOf } from "../../src/design/identify-unknowns";
import { fitSweeps } from "../../src/design/fit-sweeps";
import { fitVariables } from "../../src/design/fit-variables";
import { scaleOf } from "../../src/design/scale";
import { arbitraryNetwork } from "../support/arbitrary-network";
import { cases } from "../support/cases";
import { solvePrecisely } from "../support/precise";
import { numbers } from "../support/two-way";
import { uniform } from "../support/uniform";
import { flatDriver } from "../support/flat-driver";

const grid = logGrid(60, 12_000, 14);

/** Enough for these small questions. */
const mostSolves = 1500;

/** What two coils in series show, by L1 + L2 ± 2M with M = k·√(L1·L2), and their resistances. */
const seriesOf = (k: number, turned: boolean): FrequencyResponse =>
  frequencyResponse(
    grid,
    grid.map(() => 0.5),
    grid.map((f) => 2 * Math.PI * f * (1e-3 + 0.4e-3 + (turned ? -2 : 2) * k * Math.sqrt(1e-3 * 0.4e-3))),
  );
const series = (k: number, turned: boolean) =>
  network({
    L1: [inductor(1e-3, { dcr: 0.3 }), "in", "m"],
    L2: [inductor(0.4e-3, { dcr: 0.2 }), ...(turned ? (["gnd", "m"] as const) : (["m", "gnd"] as const))],
    K1: [coupling(k), "L1", "L2"],
  });

/** A two-way's network whose coils see each other. */
const filter = (l1: number, l2: number, k: number) =>
  network({
    L1: [inductor(l1, { dcr: 0.3 }), "in", "w"],
    C1: [capacitor(12e-6, { esr: 0.05 }), "w", "gnd"],
    woofer: [resistor(5.6), "w", "gnd"],
    C2: [capacitor(6.8e-6, { esr: 0.02 }), "in", "a"],
    L2: [inductor(l2, { dcr: 0.2 }), "a", "gnd"],
    R1: [resistor(1.8), "a", "t"],
    tweeter: [resistor(6), "t", "gnd"],
    K1: [coupling(k), "L1", "L2"],
  });

/** Impedance at `in` and voltages, in 50 digits. */
function measured(entries: Entries, nodes: readonly string[], frequencies = grid) {
  const points = Array.from(frequencies, (f) => solvePrecisely(entries, f));
  const response = (pairs: readonly (readonly [number, number])[]) =>
    frequencyResponse(
      frequencies,
      pairs.map(([re]) => re),
      pairs.map(([, im]) => im),
    );
  const inverse = points.map(({ source: [re, im] }) => {
    const size = re.pow(2).plus(im.pow(2));
    return [re.div(size).toNumber(), im.neg().div(size).toNumber()] as const;
  });
  return {
    impedance: response(inverse),
    transfers: Object.fromEntries(
      nodes.map((node) => [
        node,
        response(
          points.map(({ voltage }) => {
            const [re, im] = voltage(node);
            return [re.toNumber(), im.toNumber()] as const;
          }),
        ),
      ]),
    ),
  };
}

const valuesOf = ({ values }: { readonly values: readonly { readonly value: number }[] }) => values.map(({ value }) => value);

describe("identify", () => {
  it("finds the factor of two coils in series, aiding and opposing, from L1 + L2 ± 2M", () => {
    for (const [k, turned] of [
      [-0.7, false],
      [0, false],
      [0.3, true],
      [0.97, false],
    ] as const) {
      const { values, misfit } = identify(series(0.1, turned), { impedance: seriesOf(k, turned), vary: ["K1"], mostSolves });
      expect(values[0]).toMatchObject({ part: "K1", parameter: "k" });
      expect(Math.abs(values[0]!.value - k)).toBeLessThan(1e-9);
      expect(misfit).toBeLessThan(1e-9);
    }
  });

  it("can't tell both inductances and the factor apart by coils in series, and says so", () => {
    const { alike, values } = identify(series(0.1, false), { impedance: seriesOf(0.3, false), vary: ["L1", "L2", "K1"], mostSolves });
    expect(alike.length).toBeGreaterThan(0);
    expect(alike.flatMap(({ values: names }) => names)).toContain("K1 k");
    expect(values.map(({ standardError }) => standardError)).toEqual([undefined, undefined, undefined]);
  });

  it("finds coupled coils with their factor in a two-way's network, from solutions of 50 digits", () => {
    const { impedance, transfers } = measured(filter(0.9e-3, 0.3e-3, -0.12), ["w", "t"]);
    const { values, network: found } = identify(filter(1.4e-3, 0.2e-3, 0.05), {
      impedance,
      transfers,
      vary: ["L1", "L2", "K1"],
      mostSolves,
    });
    const [l1, l2, k] = valuesOf({ values });
    expect(l1! / 0.9e-3).toBeCloseTo(1, 8);
    expect(l2! / 0.3e-3).toBeCloseTo(1, 8);
    expect(k).toBeCloseTo(-0.12, 8);
    expect((found["K1"]![0] as { k: number }).k).toBe(k);
  });

  const three = (a: number, b: number, c: number) =>
    network({
      L1: [inductor(1e-3, { dcr: 0.3 }), "in", "a"],
      L2: [inductor(0.8e-3, { dcr: 0.2 }), "b", "gnd"],
      L3: [inductor(0.5e-3, { dcr: 0.2 }), "c", "gnd"],
      R1: [resistor(4), "a", "gnd"],
      R2: [resistor(6), "b", "gnd"],
      R3: [resistor(7), "c", "gnd"],
      K1: [coupling(a), "L1", "L2"],
      K2: [coupling(b), "L1", "L3"],
      K3: [coupling(c), "L2", "L3"],
    });

  it("keeps the inductances of three coils positive definite wherever it looks, close to the bound too", () => {
    // 1 + 2abc − a² − b² − c² = 0.0348: not far from the 0 at which energy could be had for nothing.
    const truth = [0.7, 0.6, -0.12] as const;
    const { impedance, transfers } = measured(three(...truth), ["a", "b", "c"]);
    const found = identify(three(0.1, 0.1, 0.1), { impedance, transfers, vary: ["K1", "K2", "K3"], mostSolves });
    valuesOf(found).forEach((value, i) => expect(value).toBeCloseTo(truth[i]!, 7));
    expect(diagnose(found.network)).toEqual([]);
  });

  it("states standard errors that hold as often as they say", () => {
    const truth = [0.3, 0.2, -0.1] as const;
    const { impedance, transfers } = measured(three(...truth), ["a", "b", "c"], logGrid(100, 8_000, 8));
    const [sigma, next] = [0.02, numbers(11)];
    const normal = () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
    const noisy = ({ frequencies, re, im }: FrequencyResponse) => {
      const [a, b] = [re.slice(), im.slice()];
      for (let i = 0; i < a.length; i++) {
        const [gain, turn] = [Math.exp(sigma * normal()), sigma * normal()];
        a[i] = gain * (re[i]! * Math.cos(turn) - im[i]! * Math.sin(turn));
        b[i] = gain * (re[i]! * Math.sin(turn) + im[i]! * Math.cos(turn));
      }
      return frequencyResponse(frequencies, a, b);
    };
    const scores = Array.from({ length: 20 }, () => {
      const { values } = identify(three(0.25, 0.25, -0.05), {
        impedance: noisy(impedance),
        transfers: Object.fromEntries(Object.entries(transfers).map(([node, response]) => [node, noisy(response)])),
        vary: ["K1", "K2", "K3"],
        repeatability: { impedance: sigma },
        mostSolves: 1000,
      });
      return values.map(({ value, standardError }, i) => (value - truth[i]!) / standardError!);
    }).flat();
    // Of 60, 57 are expected within two-sided 95 %; the scatter of such scores is 1, known here to a tenth.
    expect(scores.filter((score) => Math.abs(score) < 1.959964).length).toBeGreaterThanOrEqual(53);
    const size = Math.sqrt(scores.reduce((sum, score) => sum + score * score, 0) / scores.length);
    expect(size).toBeGreaterThan(0.75);
    expect(size).toBeLessThan(1.25);
  });

  it("finds a transformer's ratio, which keeps its sign, from 2 + 8n² in closed form", () => {
    const loaded = (ratio: number) =>
      network({ R1: [resistor(2), "in", "p"], T1: [transformer({ ratio }), "p", "gnd", "s", "gnd"], load: [resistor(8), "s", "gnd"] });
    const impedance = frequencyResponse(
      grid,
      grid.map(() => 2 + 8 * 1.7 ** 2),
      grid.map(() => 0),
    );
    for (const drawn of [1, -0.6]) {
      const { values } = identify(loaded(drawn), { impedance, vary: ["T1"], mostSolves });
      expect(values[0]).toMatchObject({ part: "T1", parameter: "ratio" });
      expect(values[0]!.value).toBeCloseTo(Math.sign(drawn) * 1.7, 9);
    }
  });

  it("has slopes of its residuals by factors, ratios and coupled coils that are their differences, over arbitrary networks", () => {
    fc.assert(
      fc.property(
        arbitraryNetwork({ decades: 2, kinds: ["resistor", "lossy coil", "lossy capacitor"], coupled: true, nodes: 4 }),
        uniform(0.3, 3),
        (inner, ratio) => {
          const moved = Object.entries(inner).map(([name, [part, ...nodes]]) => [
            name,
            [part, ...nodes.map((node) => (node === "in" ? "s" : node))],
          ]);
          const entries = {
            Rs: [resistor(1.5), "in", "p"],
            T1: [transformer({ ratio }), "p", "gnd", "s", "gnd"],
            Rl: [resistor(20), "s", "gnd"],
            ...Object.fromEntries(moved),
          } as Entries;
          const vary = ["T1", ...Object.keys(entries).filter((name) => ["coupling", "inductor"].includes(entries[name]![0].kind))];
          const unknowns = unknownsOf("test", entries, vary, false);
          const here = frequencyResponse([90, 700, 3_000], [5, 6, 7], [1, 2, -1]);
          const seen = observations("test", entries, undefined, here, { Rl: here }, undefined, false);
          const deviations = deviationsOf(entries, unknowns, seen, { impedance: 1, transfer: 1, pressure: 1 }, undefined, {
            left: 1e9,
            used: 0,
          });
          const at = Float64Array.from(unknowns, ({ drawn, scale }) => scale.of(drawn));
          const slopes = unknowns.map(() => new Float64Array(deviations.count));
          deviations.slopes(at, slopes);
          unknowns.forEach((_, column) => {
            const central = (h: number) => {
              const [up, down] = [h, -h].map((by) => deviations.residualsAt(at.map((x, i) => (i === column ? x + by : x))));
              return up!.map((value, i) => (value - down![i]!) / (2 * h));
            };
            const [near, far] = [central(1e-4), central(2e-4)];
            slopes[column]!.forEach((slope, i) => expect(Math.abs(slope - (4 * near[i]! - far[i]!) / 3)).toBeLessThan(1e-7));
          });
        },
      ),
      { numRuns: cases(40) },
    );
  });
});

const flat = flatDriver(grid);
const boxOf = (entries: Entries) =>
  loudspeaker({ network: { ...entries, cone: [resistor(8), "d", "gnd"] } as Entries, drivers: [{ name: "cone", pressures: [flat] }] });
/** dB of 0.1 Pa per volt at 2.83 V, times a gain. */
const levelAt = (gain: number) => 20 * Math.log10((0.1 * 2.83 * gain) / 20e-6);

describe("fitValues", () => {
  const coils = (k: number, turned = false) =>
    boxOf({
      L1: [inductor(1e-3), "in", "m"],
      L2: [inductor(0.4e-3), ...(turned ? (["d", "m"] as const) : (["m", "d"] as const))],
      K1: [coupling(k), "L1", "L2"],
    } as Entries);
  /** A first-order fall at a corner in Hz into 8 Ω. */
  const falling = (corner: number) => ({
    frequencies: grid,
    curve: { frequencies: grid, levelDb: grid.map((f) => -10 * Math.log10(1 + (f / corner) ** 2)) },
    levelDb: levelAt(1),
    limits: "stated" as const,
  });
  /** k of L1 + L2 ± 2k·√(L1·L2) = 8/ω. */
  const factorFor = (corner: number, sign: number) => (sign * (8 / (2 * Math.PI * corner) - 1.4e-3)) / (2 * Math.sqrt(1e-3 * 0.4e-3));

  it("gives the factor that two coils in series need for a corner, aiding and opposing", async () => {
    for (const [corner, turned] of [
      [800, false],
      [1200, false],
      [800, true],
    ] as const) {
      const { values, lossDb } = await fitValues(coils(0.05, turned), { goal: falling(corner), vary: ["K1"], starts: 4 });
      expect(values[0]).toMatchObject({ part: "K1", parameter: "k" });
      expect(values[0]!.value).toBeCloseTo(factorFor(corner, turned ? -1 : 1), 7);
      expect(lossDb).toBeLessThan(1e-6);
    }
  });

  it("ends on the bound of a factor that would have to be larger, and says so", async () => {
    const stated = await fitValues(coils(0.05), { goal: falling(700), vary: { K1: { from: -0.2, to: 0.15 } }, starts: 3 });
    expect(stated.values[0]).toEqual({ part: "K1", parameter: "k", value: expect.closeTo(0.15, 9) as number, bound: "to" });
    const unstated = await fitValues(coils(0.05), { goal: falling(400), vary: ["K1"], starts: 3 });
    expect(unstated.values[0]).toEqual({ part: "K1", parameter: "k", value: expect.closeTo(0.95, 9) as number, bound: "to" });
  });

  it("fits coupled coils themselves where they are named", async () => {
    const { values } = await fitValues(coils(0.2), { goal: falling(900), vary: ["L1"], starts: 4 });
    // L1 + L2 + 2k·√(L1·L2) = 8/ω is a quadratic in √L1.
    const [b, c] = [2 * 0.2 * Math.sqrt(0.4e-3), 0.4e-3 - 8 / (2 * Math.PI * 900)];
    const root = (-b + Math.sqrt(b * b - 4 * c)) / 2;
    expect(values[0]!.value / root ** 2).toBeCloseTo(1, 7);
  });

  it("gives the ratio that a level asks for, and keeps its sign", async () => {
    // V(s)/V(in) = 8n/(2 + 8n²) is 0.4 at two ratios, of which the bounds leave one.
    const behind = (ratio: number) =>
      boxOf({ R1: [resistor(2), "in", "p"], T1: [transformer({ ratio }), "p", "gnd", "d", "gnd"] } as Entries);
    const goal = { frequencies: grid, levelDb: levelAt(0.4), limits: "stated" as const };
    const ratio = (8 + Math.sqrt(64 - 4 * 3.2 * 0.8)) / (2 * 3.2);
    for (const sign of [1, -1]) {
      const { values } = await fitValues(behind(sign), { goal, vary: { T1: { from: 0.9, to: 9 } }, starts: 3 });
      expect(values[0]).toMatchObject({ part: "T1", parameter: "ratio" });
      expect(values[0]!.value).toBeCloseTo(sign * ratio, 7);
    }
    const ended = await fitValues(behind(-1), { goal, vary: { T1: { from: 3, to: 5 } }, starts: 3 });
    expect(ended.values[0]).toEqual({ part: "T1", parameter: "ratio", value: expect.closeTo(-3, 9) as number, bound: "from" });
  });

  it("has slopes of voltages and impedance by factors, ratios and coupled coils that are their differences, over arbitrary networks", () => {
    fc.assert(
      fc.property(
        arbitraryNetwork({ decades: 2, kinds: ["resistor", "lossy coil", "lossy capacitor"], coupled: true, nodes: 4 }),
        uniform(0.3, 3),
        (inner, ratio) => {
          const entries = {
            ...inner,
            T1: [transformer({ ratio }), "in", "gnd", "d", "gnd"],
            Rs: [resistor(2), "in", "gnd"],
            cone: [resistor(8), "d", "gnd"],
          } as Entries;
          const names = Object.keys(entries).filter((name) => ["coupling", "inductor", "transformer"].includes(entries[name]![0].kind));
          const box = { ...boxOf({ R0: [resistor(1), "in", "d"] } as Entries), network: entries };
          const variables = fitVariables("test", box, names, undefined);
          const solver = fitSweeps("test", entries, variables, ["cone", "Rs"], Float64Array.of(90, 700, 3000), {
            resistance: 0.4,
            inductance: 1e-5,
          });
          const x = Float64Array.from(variables, ({ drawn, scale }) => scale.of(drawn));
          expect(solver.differentiate(x)).toBe(true);
          const flatOf = ({ voltages, impedance }: typeof solver.solved) =>
            [...voltages, impedance].flatMap(({ re, im }) => [...re, ...im]);
          const slopes = solver.moved.map(flatOf);
          const scale = flatOf(solver.solved).map(Math.abs);
          variables.forEach((_, v) => {
            const at = (by: number) => (solver.solve(x.map((value, i) => (i === v ? value + by : value))), flatOf(solver.solved));
            const central = (h: number) => {
              const [up, down] = [at(h), at(-h)];
              return up.map((value, i) => (value - down[i]!) / (2 * h));
            };
            const [near, far] = [central(1e-4), central(2e-4)];
            slopes[v]!.forEach((slope, i) => expect(Math.abs(slope - (4 * near[i]! - far[i]!) / 3)).toBeLessThan(1e-7 * (1 + scale[i]!)));
          });
        },
      ),
      { numRuns: cases(40) },
    );
  });
});

describe("what can't be", () => {
  const codeAndHint = (call: () => unknown) => {
    try {
      call();
    } catch (error) {
      return error as { readonly code: string; readonly message: string; readonly hint?: string };
    }
    return undefined;
  };
  const variables = (vary: unknown, entries: Entries) => fitVariables("test", boxOf(entries), vary, undefined);
  const entries = {
    L1: [inductor(1e-3), "in", "m"],
    L2: [inductor(0.4e-3), "m", "d"],
    K1: [coupling(0.1), "L1", "L2"],
    T1: [transformer({ ratio: -2 }), "in", "gnd", "x", "gnd"],
    T2: [transformer({ primaryInductance: 1e-3, secondaryInductance: 1e-3, k: 0.9 }), "x", "gnd", "y", "gnd"],
    R1: [resistor(4), "y", "gnd"],
  } as unknown as Entries;

  it("is refused where it is stated: bounds that no factor and no ratio can have", () => {
    for (const bounds of [{ from: -1 }, { to: 1 }, { from: 0.5, to: 0.2 }, { to: "0.3" }, { coilResistance: () => 1 }])
      expect(codeAndHint(() => variables({ K1: bounds }, entries))?.code, JSON.stringify(bounds)).toBe("invalid-argument");
    for (const bounds of [{ from: 0 }, { from: -3 }, { from: 2, to: 1 }])
      expect(codeAndHint(() => variables({ T1: bounds }, entries))?.code, JSON.stringify(bounds)).toBe("invalid-argument");
  });

  it("is drawn otherwise: a transformer's windings as two coils with a coupling", () => {
    for (const call of [() => variables(["T2"], entries), () => unknownsOf("test", entries, ["T2"], false)]) {
      const refused = codeAndHint(call)!;
      expect(refused.code).toBe("invalid-argument");
      expect(refused.hint).toBe("Draw its windings as two coils and a coupling between them");
    }
  });

  it("never moves unnamed", () => {
    expect(variables(undefined, entries).map(({ part }) => part)).toEqual(["R1"]);
    expect(unknownsOf("test", entries, undefined, false).map(({ part }) => part)).toEqual(["R1"]);
  });
});

describe("the scale of a value", () => {
  it("goes there and back, with the slope of its differences, and never leaves what the value may be", () => {
    fc.assert(
      fc.property(fc.constantFrom("k", "ratio", "inductance"), uniform(-0.99, 0.99), (parameter, drawn) => {
        fc.pre(drawn !== 0);
        const value = parameter === "inductance" ? Math.abs(drawn) : drawn;
        const scale = scaleOf(parameter, value);
        const x = scale.of(value);
        expect(scale.value(x) / value).toBeCloseTo(1, 12);
        expect((scale.value(x + 1e-5) - scale.value(x - 1e-5)) / 2e-5 / scale.slope(x)).toBeCloseTo(1, 8);
        for (const far of [-15, 15]) {
          const end = scale.value(far);
          expect(parameter === "k" ? Math.abs(end) < 1 : Math.sign(end) === Math.sign(value)).toBe(true);
        }
      }),
      { numRuns: cases(200) },
    );
  });
});
