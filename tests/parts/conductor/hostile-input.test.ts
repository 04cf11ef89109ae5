// Tests src/parts/: capacitor-esr.ts
// Tests src/parts/winding/: smallest-coil.ts
// Finite input of any size to what coils and conductors are computed from gives finite output or the library's own refusal.
import { DividingNetworkError } from "dividing-network/errors";
import {
  bipolarElectrolytic,
  bypassedCapacitor,
  capacitor,
  capacitorEsr,
  couplingFromPlacement,
  fuseResistance,
  selfResonance,
  skinEffect,
  smallestCoil,
  turnsToTakeOff,
  windCoil,
  windingResistance,
  wireDiameter,
  wireGauge,
  wireResistance,
  wireRun,
} from "dividing-network/parts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../../support/cases";
import { uniform } from "../../support/uniform";

const size = fc.oneof(uniform(-323, 308), uniform(-20, 20), uniform(-5, 2)).map((exponent) => Math.max(5e-324, 10 ** exponent));
const record = <K extends string>(...names: readonly K[]) =>
  fc.record(Object.fromEntries(names.map((name) => [name, size]))) as fc.Arbitrary<Record<K, number>>;

function numbersIn(value: unknown): number[] {
  if (typeof value === "number") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(numbersIn) : [];
}

function finiteOrRefused(work: () => unknown): void {
  let result: unknown;
  try {
    result = work();
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    return;
  }
  expect(numbersIn(result).filter((value) => !Number.isFinite(value))).toEqual([]);
}

describe("finite input of any size", () => {
  it.each<[string, fc.Arbitrary<() => unknown>, number]>([
    ["wireResistance", record("diameter", "length", "temperature").map((given) => () => wireResistance(given)), 500],
    ["wireGauge", record("diameter").map((given) => () => [wireGauge(given), wireDiameter({ awg: given.diameter })]), 500],
    [
      "skinEffect",
      record("diameter", "frequency", "temperature").map((given) => () => {
        const { resistanceRatio, inductanceRatio } = skinEffect(given);
        return [resistanceRatio, inductanceRatio];
      }),
      500,
    ],
    ["wireRun", record("length", "diameter", "spacing", "frequency").map((given) => () => wireRun(given)), 500],
    [
      "wireRun of a material",
      record("length", "diameter", "resistivity", "relativePermeability").map(
        ({ resistivity, relativePermeability, ...given }) =>
          () =>
            wireRun({ ...given, spacing: 2 * given.diameter, material: { resistivity, relativePermeability } }),
      ),
      500,
    ],
    ["fuseResistance", record("rating", "current", "coldResistance", "hotRatio").map((given) => () => fuseResistance(given)), 500],
    ["capacitorEsr", record("capacitance", "dissipationFactor", "frequency").map((given) => () => capacitorEsr(given)), 500],
    [
      "bypassedCapacitor",
      record("a", "b", "c", "d", "frequency").map(
        ({ a, b, c, d, frequency }) =>
          () =>
            bypassedCapacitor(capacitor(a, { esr: b }), capacitor(c, { dissipationFactor: d }), frequency),
      ),
      500,
    ],
    ["bipolarElectrolytic", record("capacitance", "tolerance").map((given) => () => bipolarElectrolytic(given)), 500],
    ["smallestCoil", record("inductance", "dcr", "fill").map((given) => () => smallestCoil(given)), 200],
    [
      "windCoil and what follows",
      record("inductance", "diameter", "insulation", "innerRadius", "length").map(
        ({ inductance, diameter, insulation, innerRadius, length }) =>
          () => {
            const coil = windCoil({ inductance, wire: { diameter, insulation }, former: { innerRadius, length } });
            return [coil, turnsToTakeOff(coil, coil.inductance / 2), selfResonance(coil), windingResistance(coil, 1000)];
          },
      ),
      150,
    ],
    [
      "couplingFromPlacement",
      fc
        .tuple(
          record("turns", "meanRadius", "length", "depth"),
          record("turns", "meanRadius", "length", "depth"),
          record("x", "y", "z"),
          record("x", "y", "z"),
        )
        .map(
          ([a, b, place, axis]) =>
            () =>
              couplingFromPlacement(
                { ...a, depth: Math.min(a.depth, a.meanRadius) },
                { ...b, depth: Math.min(b.depth, b.meanRadius) },
                { ...place, axis },
              ),
        ),
      150,
    ],
  ])("gives finite output or a refusal from %s", (_name, work, runs) => {
    fc.assert(fc.property(work, finiteOrRefused), { numRuns: cases(runs) });
  });
});
