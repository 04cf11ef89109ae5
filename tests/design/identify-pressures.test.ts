// Tests src/design/: identify-pressures.ts, identify-data.ts
// Values from sound pressures of the whole: ground truth on an invented two-way, with and without noise drawn here. No published source.
import { describe, expect, it } from "vitest";
import {
  capacitor,
  frequencyResponse,
  inductor,
  logGrid,
  predict,
  resistor,
  solve,
  type Entries,
  type FrequencyResponse,
  type Loudspeaker,
} from "dividing-network";
import type { WholeMeasurement } from "dividing-network/assessment";
import { identify } from "dividing-network/design";
import { delayResponse } from "dividing-network/response";
import { drawn, monitor, numbers } from "../support/two-way";

const truth = { L1: 0.82e-3, R1: 6.8, C1: 15e-6, R2: 1.5, C2: 4.7e-6, L2: 0.39e-3, R3: 33 };
const drawnEntries = drawn as unknown as Entries;
const valued = (values: Readonly<Record<string, number>>): Entries =>
  Object.fromEntries(
    Object.entries(drawnEntries).map(([name, [part, ...nodes]]) => {
      const key = part.kind === "resistor" ? "resistance" : part.kind === "inductor" ? "inductance" : "capacitance";
      return [name, [name in values ? { ...part, [key]: values[name] } : part, ...nodes]];
    }),
  ) as unknown as Entries;
const grid = logGrid(300, 12_000, 50);

/** What a microphone hears of a whole loudspeaker at 2 V, at three places. */
const heard = (box: Loudspeaker): readonly WholeMeasurement[] =>
  predict(box, { frequencies: grid, voltage: 2 }).places.map(({ distance, azimuth, elevation, sum }) => ({
    distance,
    azimuth,
    elevation,
    response: sum,
    voltage: 2,
  }));
const normal = (next: () => number) => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
const noisy = ({ frequencies, re, im }: FrequencyResponse, sigma: number, next: () => number): FrequencyResponse => {
  const turned = Array.from(frequencies, (_, i) => {
    const [gain, turn] = [Math.exp(sigma * normal(next)), sigma * normal(next)];
    return [
      gain * (re[i]! * Math.cos(turn) - im[i]! * Math.sin(turn)),
      gain * (re[i]! * Math.sin(turn) + im[i]! * Math.cos(turn)),
    ] as const;
  });
  return frequencyResponse(
    frequencies,
    turned.map(([a]) => a),
    turned.map(([, b]) => b),
  );
};
const off = (value: number, part: string) => Math.abs(value / truth[part as keyof typeof truth] - 1);
const codeOf = (call: () => unknown): string => {
  try {
    call();
  } catch (error) {
    return (error as { code: string }).code;
  }
  return "none";
};

describe("identify by sound pressures", () => {
  it("finds seven values to a thousandth from the whole at three places, from levels alone as well, behind a source's impedance", () => {
    const source = { resistance: 0.4, inductance: 5e-6 };
    const pressures = heard(monitor(valued(truth), source));
    const found = identify(monitor(drawn, source), { pressures });
    expect(found.values.map(({ part }) => part)).toEqual(Object.keys(truth));
    for (const { part, value } of found.values) expect(off(value, part), part).toBeLessThan(1e-3);
    expect(found.misfit).toBeLessThan(1e-6);
    // A microphone whose time zero nobody knows: a millisecond more says nothing about levels.
    const late = pressures.map((one) => ({ ...one, response: delayResponse(one.response, 1e-3) }));
    const levels = identify(monitor(drawn, source), { pressures: late, pressurePhase: "unknown" });
    for (const { part, value } of levels.values) expect(off(value, part), part).toBeLessThan(1e-3);
    expect(identify(monitor(drawn, source), { pressures: late, vary: ["L1", "C2"] }).misfit).toBeGreaterThan(0.1);
    // What the source drops is in the pressures: without it the values come out otherwise.
    expect(identify(monitor(), { pressures, vary: ["L1", "C2"] }).misfit).toBeGreaterThan(1e-3);
  });

  it("tells two like branches apart, which the impedance can't", () => {
    const both = (c2: number, l1: number): Entries => ({
      C1: [capacitor(c2), "in", "a"],
      L1: [inductor(0.5e-3), "a", "gnd"],
      woofer: [resistor(6), "a", "gnd"],
      C2: [capacitor(l1), "in", "b"],
      L2: [inductor(0.5e-3), "b", "gnd"],
      tweeter: [resistor(6), "b", "gnd"],
    });
    const right = monitor(both(4e-6, 9e-6));
    const start = monitor(both(8e-6, 5e-6));
    const { impedance } = solve(right.network, grid);
    const byImpedance = identify(start, { impedance, vary: ["C1", "C2"] });
    expect(byImpedance.alternatives.length).toBe(1);
    const byBoth = identify(start, { impedance, pressures: heard(right), vary: ["C1", "C2"] });
    expect(byBoth.alternatives).toEqual([]);
    expect(byBoth.values[0]!.value).toBeCloseTo(4e-6, 10);
    expect(byBoth.values[1]!.value).toBeCloseTo(9e-6, 10);
  });

  it("states standard errors that hold as often as they say, of impedance and pressures together", () => {
    const next = numbers(21);
    const whole = monitor(valued(truth));
    const [clean] = heard(whole);
    const { impedance } = solve(whole.network, logGrid(50, 15_000, 14));
    const coarse = Int32Array.from({ length: 12 }, (_, i) => Math.round((i * 49) / 11));
    const at = (array: Float64Array) => Float64Array.from(coarse, (index) => array[index]!);
    const { response } = clean!;
    const few = frequencyResponse(at(response.frequencies), at(response.re), at(response.im));
    let [within, beyondTwo, all] = [0, 0, 0];
    for (let round = 0; round < 24; round++) {
      const { values, doubts } = identify(monitor(valued(truth)), {
        impedance: noisy(impedance, 0.01, next),
        pressures: [{ ...clean!, response: noisy(few, 0.03, next) }],
        vary: ["L1", "R2", "C2"],
        repeatability: { impedance: 0.01, pressure: 0.03 },
      });
      if (doubts.length > 0) continue;
      for (const { part, value, standardError } of values) {
        const distance = Math.abs(value - truth[part as keyof typeof truth]) / standardError!;
        if (distance < 1) within++;
        if (distance > 2) beyondTwo++;
        all++;
      }
    }
    // 68.3 % and 4.6 % of 72, with room for three standard deviations of a count and for values of one round that hang together.
    expect(all).toBeGreaterThan(60);
    expect(within / all).toBeGreaterThan(0.5);
    expect(within / all).toBeLessThan(0.86);
    expect(beyondTwo / all).toBeLessThan(0.13);
  });

  it("solves no more often than it may, and says when that ended it", () => {
    const pressures = heard(monitor(valued(truth)));
    const start = monitor(valued({ ...truth, L1: 1.2e-3, C1: 9e-6, C2: 8e-6, L2: 0.2e-3 }));
    const free = identify(start, { pressures, vary: ["L1", "C1", "C2", "L2"] });
    expect(free.doubts).toEqual([]);
    expect(free.solves).toBeGreaterThan(500);
    expect(free.solves).toBeLessThan(2_000_000);
    const bounded = identify(start, { pressures, vary: ["L1", "C1", "C2", "L2"], mostSolves: Math.round(free.solves / 3) });
    expect(bounded.solves).toBeLessThan(free.solves);
    // Beyond the number lie at most the derivatives of the fit that it ends, and what is told of the answer.
    expect(bounded.solves).toBeLessThan(free.solves / 3 + 10 * 50);
    expect(bounded.doubts.join()).toContain("the search ended before its end");
  });

  it("refuses what it can't use, by a typed error", () => {
    const pressures = heard(monitor(valued(truth)));
    const [one] = pressures;
    expect(codeOf(() => identify(drawnEntries, { pressures }))).toBe("not-measured");
    expect(codeOf(() => identify(monitor(), { pressures: [] }))).toBe("not-measured");
    expect(codeOf(() => identify(monitor(), { pressures: [{ ...one!, azimuth: 45 }] }))).toBe("not-measured");
    expect(codeOf(() => identify(monitor(), { pressures: [{ ...one!, voltage: 0 }] }))).toBe("invalid-argument");
    expect(codeOf(() => identify(monitor(), { pressures: 3 as never }))).toBe("invalid-argument");
    expect(codeOf(() => identify(monitor(), { pressures: [null] as never }))).toBe("invalid-argument");
    const far = frequencyResponse([20_000, 21_000], [1, 1], [0, 0]);
    expect(codeOf(() => identify(monitor(), { pressures: [{ ...one!, response: far }] }))).toBe("band-too-narrow");
    const dead = frequencyResponse([1000, 2000], [0, 1], [0, 0]);
    expect(codeOf(() => identify(monitor(), { pressures: [{ ...one!, response: dead }] }))).toBe("invalid-argument");
    const measuredSource = frequencyResponse(logGrid(20, 20_000, 50), new Float64Array(50).fill(0.3), new Float64Array(50));
    expect(codeOf(() => identify(monitor(drawn, measuredSource), { pressures }))).toBe("unsupported");
    expect(codeOf(() => identify(monitor(), { pressures, pressurePhase: "maybe" as never }))).toBe("invalid-argument");
    expect(codeOf(() => identify(monitor(), { pressures, mostSolves: 10 }))).toBe("invalid-argument");
    expect(codeOf(() => identify(monitor(), { pressures, repeatability: { pressure: 0 } }))).toBe("invalid-argument");
  });
});
