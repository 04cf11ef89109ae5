// Tests src/parts/: equivalent-peak-dissipation.ts
// Finite input of any size gives finite output or the library's own error: nothing that leaves is NaN or Infinity, whatever was multiplied on the way.
import { DividingNetworkError } from "dividing-network/errors";
import { logGrid } from "dividing-network/numeric";
import {
  closedBox,
  closedBoxResponse,
  driverParameters,
  equivalentPeakDissipationResistance,
  displacementLevelDb,
  lPad,
  parametersFromAddedMass,
  parametersFromKnownVolume,
  thieleSmall,
  volumeDisplacementFromLevel,
} from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { impedanceOf } from "./impedance-curve";

/** Any size that a number can have, the everyday more often than the rest, and two that differ by the last bit. */
const size = fc.oneof(uniform(-323, 308), uniform(-160, 160), uniform(-4, 4)).map((exponent) => Math.max(5e-324, 10 ** exponent));
const anything = fc.oneof(
  { weight: 8, arbitrary: size },
  {
    weight: 1,
    arbitrary: fc.constantFrom(5e-324, 2.2250738585072014e-308, 1, 1 + Number.EPSILON, 1 - Number.EPSILON / 2, Number.MAX_VALUE),
  },
);

/** Every number inside, however deep; strings and functions are left out. */
function numbersIn(value: unknown): number[] {
  if (typeof value === "number") return [value];
  if (ArrayBuffer.isView(value)) return [...(value as Float64Array)];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(numbersIn) : [];
}

function finiteOrRefused(work: () => unknown): void {
  let result: unknown;
  try {
    result = work();
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    expect(["overflow", "undetermined", "invalid-response", "invalid-argument", "not-passive"]).toContain(error.code);
    return;
  }
  expect(numbersIn(result).filter((value) => !Number.isFinite(value))).toEqual([]);
}

const record = <K extends string>(...names: readonly K[]) =>
  fc.record(Object.fromEntries(names.map((name) => [name, anything]))) as fc.Arbitrary<Record<K, number>>;

describe("finite input of any size", () => {
  const known = ["re", "fs", "qms", "qes", "sd"] as const;
  it.each([
    ["closedBox", record("fs", "qes", "qms", "vas", "volume").map((given) => () => closedBox(given))],
    [
      "thieleSmall",
      record("re", "bl", "mms", "cms", "rms", "sd", "ratedImpedance", "density", "speedOfSound").map(
        ({ density, speedOfSound, ...given }) =>
          () =>
            thieleSmall({ ...given, air: { density, speedOfSound } }),
      ),
    ],
    ["parametersFromAddedMass", record(...known, "addedMass", "fsWithMass").map((given) => () => parametersFromAddedMass(given))],
    [
      "parametersFromAddedMass, close together",
      record(...known, "addedMass").map(
        (given) => () => parametersFromAddedMass({ ...given, fsWithMass: given.fs * (1 - Number.EPSILON / 2) }),
      ),
    ],
    ["parametersFromKnownVolume", record(...known, "volume", "fc").map((given) => () => parametersFromKnownVolume(given))],
    ["parametersFromKnownVolume with Q", record(...known, "volume", "fc", "qec").map((given) => () => parametersFromKnownVolume(given))],
    [
      "displacementLevelDb",
      record("displacement", "sd", "frequency", "distance", "density").map(({ density, ...given }) => () => [
        displacementLevelDb(given),
        displacementLevelDb({ ...given, air: { density } }),
      ]),
    ],
    [
      "volumeDisplacementFromLevel",
      fc.tuple(record("frequency", "distance"), uniform(-200, 250)).map(
        ([given, levelDb]) =>
          () =>
            volumeDisplacementFromLevel({ ...given, levelDb }),
      ),
    ],
    [
      "equivalentPeakDissipationResistance",
      record("re", "im").map((z) => () => [
        equivalentPeakDissipationResistance(z),
        equivalentPeakDissipationResistance({ re: z.re, im: -z.im }),
      ]),
    ],
    ["lPad", record("attenuationDb", "load").map((given) => () => lPad(given))],
    [
      "closedBoxResponse",
      fc.tuple(record("fc", "qtc"), fc.uniqueArray(anything, { minLength: 1, maxLength: 5 })).map(
        ([given, f]) =>
          () =>
            closedBoxResponse(
              f.sort((a, b) => a - b),
              given,
            ),
      ),
    ],
  ])("gives finite output or a refusal from %s", (_name, work) => {
    fc.assert(fc.property(work, finiteOrRefused), { numRuns: cases(2000) });
  });

  it("gives finite output or a refusal from driverParameters", () => {
    const grid = logGrid(10, 20000, 40);
    const curve = impedanceOf({ re: 5, fs: 60, qms: 3, qes: 0.5, k: 0.01, n: 0.7 }, grid);
    const exponent = fc.oneof(uniform(-60, 60), uniform(-3, 3));
    fc.assert(
      fc.property(
        exponent,
        exponent,
        fc.option(size, { nil: undefined }),
        fc.constantFrom("none", "inductance", "power", "parallel"),
        (scale, stretch, re, coil) => {
          const z = frequencyResponse(
            grid.map((f) => f * 10 ** stretch),
            curve.re.map((v) => v * 10 ** scale),
            curve.im.map((v) => v * 10 ** scale),
          );
          finiteOrRefused(() => driverParameters(z, re === undefined ? { coil } : { coil, re }));
        },
      ),
      { numRuns: cases(40) },
    );
  });
});

describe("what was not finite", () => {
  it("an added mass that moves the resonance by its last digit gives a large moving mass, not an infinite one", () => {
    const fsWithMass = 50 * (1 - Number.EPSILON / 2);
    const { mms } = parametersFromAddedMass({ re: 6, fs: 50, qms: 4, qes: 0.5, sd: 0.0135, addedMass: 0.01, fsWithMass });
    expect(mms / ((0.01 * 50) / (2 * (50 - fsWithMass)))).toBeCloseTo(1, 12);
  });

  it.each([
    ["a box of nothing", () => closedBox({ fs: 40, qes: 0.4, qms: 4, vas: 0.05, volume: 1e-320 }), "alpha"],
    ["an endless Q", () => closedBox({ fs: 40, qes: 1e200, qms: 1e200, vas: 0.05, volume: 0.02 }), "qtc"],
    ["a Q of nothing", () => closedBox({ fs: 40, qes: 1e-200, qms: 1e-200, vas: 0.05, volume: 0.02 }), "qtc"],
    ["a cone without area", () => thieleSmall({ re: 6, bl: 7, mms: 0.015, cms: 8e-4, rms: 1, sd: 1e-170 }), "vas"],
    ["no compliance to speak of", () => thieleSmall({ re: 6, bl: 7, mms: 1e-200, cms: 1e-200, rms: 1, sd: 0.01 }), "fs"],
    [
      "a weight beyond numbers",
      () => parametersFromAddedMass({ re: 6, fs: 50, qms: 4, qes: 0.5, sd: 0.01, addedMass: 1e308, fsWithMass: 49.9 }),
      "mms",
    ],
    [
      "a volume beyond numbers",
      () => parametersFromKnownVolume({ re: 6, fs: 1e-200, qms: 4, qes: 0.5, sd: 0.01, volume: 0.01, fc: 1 }),
      "mms",
    ],
    ["a level at no frequency to speak of", () => volumeDisplacementFromLevel({ levelDb: 90, frequency: 1e-170 }), "volume"],
  ])("%s is refused by name", (_what, work, name) => {
    expect(work).toThrow(
      expect.objectContaining({ code: "overflow", message: expect.stringContaining(`"${name}" must be within what a number can hold`) }),
    );
  });

  it("a level is known where its pressure is beyond numbers, at both ends", () => {
    const level = (displacement: number, frequency: number) => displacementLevelDb({ displacement, sd: 1, frequency, air: { density: 1 } });
    expect(level(1e-300, 1e-10) - level(1e-3, 1)).toBeCloseTo(-20 * 297 - 40 * 10, 6);
    expect(level(1e300, 1e10) - level(1e-3, 1)).toBeCloseTo(20 * 303 + 40 * 10, 6);
    expect(level(0, 50)).toBe(-Infinity);
  });

  it("an impedance at the end of numbers has an equivalent resistance there", () => {
    for (const scale of [1e-320, 1e-160, 1e160, 1.7e308]) {
      expect(equivalentPeakDissipationResistance({ re: scale, im: -scale }) / scale).toBeCloseTo(0.5, 2);
      expect(equivalentPeakDissipationResistance({ re: scale, im: 0 }) / scale).toBeCloseTo(1, 12);
    }
    expect(equivalentPeakDissipationResistance({ re: 0, im: 0 })).toBe(0);
    expect([...equivalentPeakDissipationResistance(frequencyResponse([1, 2], [1e200, 0], [1e200, 0]))].map((v) => v / 1e200)).toEqual([
      expect.closeTo(0.5, 12),
      0,
    ]);
  });

  it("a box's response is finite at the ends of Q and frequency", () => {
    const at = (f: number, qtc: number) => {
      const { re, im } = closedBoxResponse([f], { fc: 1, qtc });
      return [re[0]!, im[0]!];
    };
    // At fc it is jQ, whatever Q; with hardly any Q it is x·Q·j on both sides as long as that is small.
    expect(at(1, 1e200)).toEqual([0, 1e200]);
    expect(at(0.5, 1e-310)[1]! / 1e-310).toBeCloseTo(0.5, 9);
    expect(at(2, 1e-310)[1]! / 1e-310).toBeCloseTo(2, 9);
    expect(at(1e300, 1e-5)[0]).toBeCloseTo(1, 12);
    expect(at(1e-300, 0.7)).toEqual([0, 0]);
  });
});
