// Tests src/parts/: moving-driver-law.ts
// A driver whose resonance and Q move is the driver that has the other resonance and Q: the same law with other values, and its slopes by the chain rule.
import { driverImpedance } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expandPart, movingDriverLaw } from "../../src/parts/internal";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";

const model = fc.record({
  re: uniform(3, 12),
  le: uniform(0, 1e-3),
  fs: uniform(20, 1500),
  qms: uniform(1, 10),
  qes: uniform(0.2, 3),
});
const grid = Float64Array.of(13, 20, 55, 160, 777, 2_400, 19_000);
type Law = ReturnType<typeof movingDriverLaw>;

function admittance(law: Law, values: readonly number[]): readonly (readonly [number, number])[] {
  const [re, im] = [new Float64Array(grid.length + 2), new Float64Array(grid.length + 2)];
  law.bind(grid).admittance([99, ...values], 1, 0, grid.length, re, im, 2);
  expect([re[0], re[1], im[0], im[1]]).toEqual([0, 0, 0, 0]);
  return Array.from(grid, (_, i) => [re[i + 2]!, im[i + 2]!] as const);
}
function slope(law: Law, values: readonly number[], index: number): readonly (readonly [number, number])[] {
  const [re, im] = [new Float64Array(grid.length), new Float64Array(grid.length)];
  // In two pieces, from the middle of the grid on and up to it.
  law.bind(grid).derivative([99, ...values], 1, index, 3, grid.length - 3, re, im, 3);
  law.bind(grid).derivative(values, 0, index, 0, 3, re, im, 0);
  return Array.from(grid, (_, i) => [re[i]!, im[i]!] as const);
}
function close(found: readonly (readonly [number, number])[], wanted: readonly (readonly [number, number])[], relative: number): void {
  const largest = Math.max(...wanted.map(([re, im]) => Math.hypot(re, im)));
  found.forEach(([re, im], i) => expect(Math.hypot(re - wanted[i]![0], im - wanted[i]![1])).toBeLessThan(relative * largest));
}

describe("a driver that moves", () => {
  it("is the driver with the other resonance and Q, and as it is where nothing moves", () => {
    fc.assert(
      fc.property(model, uniform(0.7, 1.4), uniform(0.7, 1.4), (options, a, b) => {
        const { law, values } = expandPart(driverImpedance(options)).branches[0]!;
        const moving = movingDriverLaw(law, values, options);
        const moved = expandPart(driverImpedance({ ...options, fs: options.fs * a, qms: options.qms * b, qes: options.qes * b }))
          .branches[0]!;
        close(admittance(moving, [a, b]), admittance(moved.law, moved.values), 1e-12);
        close(
          admittance(moving, [a, 1]),
          admittance(law, expandPart(driverImpedance({ ...options, fs: options.fs * a })).branches[0]!.values),
          1e-12,
        );
        expect(admittance(moving, [1, 1])).toEqual(admittance(law, values));
        // By the chain rule: both Q go with one factor.
        const by = (index: number) => slope(moved.law, moved.values, index);
        const [fs, qms, qes] = [by(6), by(7), by(8)];
        close(
          slope(moving, [a, b], 0),
          fs.map(([re, im]) => [options.fs * re, options.fs * im] as const),
          1e-10,
        );
        close(
          slope(moving, [a, b], 1),
          qms.map(([re, im], i) => [options.qms * re + options.qes * qes[i]![0], options.qms * im + options.qes * qes[i]![1]] as const),
          1e-10,
        );
        const [one, other] = [new Float64Array(4), new Float64Array(4)];
        for (const f of [0, ...grid]) {
          moving.ratio([99, a, b], 1, f, one);
          moved.law.ratio(moved.values, 0, f, other);
          one.forEach((each, k) => expect(Math.abs(each - other[k]!)).toBeLessThan(1e-11 * Math.hypot(other[2]!, other[3]!)));
        }
      }),
      { numRuns: cases(60) },
    );
  });

  it("is the measured driver with its own motional branch taken out and the moved one put in", () => {
    const options = { re: 5.6, le: 3e-4, fs: 48, qms: 4, qes: 0.5 };
    const { law, values } = expandPart(driverImpedance(options)).branches[0]!;
    const [re, im] = [new Float64Array(grid.length), new Float64Array(grid.length)];
    const y = admittance(law, values);
    y.forEach(([g, b], i) => {
      re[i] = g / (g * g + b * b);
      im[i] = -b / (g * g + b * b);
    });
    const measured = expandPart(driverImpedance(frequencyResponse(grid, re, im))).branches[0]!;
    const moving = movingDriverLaw(measured.law, measured.values, options);
    const moved = expandPart(driverImpedance({ ...options, fs: 53, qms: 3.2, qes: 0.4 })).branches[0]!;
    close(admittance(moving, [53 / 48, 0.8]), admittance(moved.law, moved.values), 1e-12);
    expect(moving.parameters).toEqual(["resonance", "q"]);
    expect(moving.limits).toEqual([{ range: { above: 0 } }, { range: { above: 0 } }]);
  });
});
