// Tests src/parts/: positive-results.ts
// Tests src/parts/winding/: approximations.ts, coaxial-mutual-inductance.ts, loop.ts, section-mean.ts, solenoid.ts, winding.ts
// Tests src/physics/: constants.ts
// Self-inductance of air-core windings: against the same integral taken in another order, limits, additivity, and the closed approximations within what they state.
import { DividingNetworkError } from "dividing-network/errors";
import {
  brooksCoilInductance,
  coaxialMutualInductance,
  couplingFromPlacement,
  lundinInductance,
  nagaokaCoefficient,
  solenoidInductance,
  wheelerSolenoidInductance,
  wheelerWindingInductance,
  windingInductance,
} from "dividing-network/parts";
import { VACUUM_PERMEABILITY } from "dividing-network/physics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../../support/cases";
import { uniform } from "../../support/uniform";
import { selfByAngle } from "./by-neumann";

const logUniform = (low: number, high: number) => uniform(Math.log(low), Math.log(high)).map(Math.exp);

describe("the inductance of a winding of rectangular section", () => {
  it.each([
    [2 / 3, 2 / 3],
    [1, 0.3],
    [0.1, 0.1],
    [3, 0.2],
    [0.05, 0.3],
    [20, 0.5],
    [0.3, 0.02],
    [1, 1.6],
  ])("of length %d and depth %d mean radii is that of the integral with the angle last, to 1e-9", (length, depth) => {
    const expected = VACUUM_PERMEABILITY * 144 * 0.02 * selfByAngle(length, depth);
    expect(
      Math.abs(windingInductance({ turns: 12, meanRadius: 0.02, length: 0.02 * length, depth: 0.02 * depth }) / expected - 1),
    ).toBeLessThan(1e-9);
  });

  it("of shapes at random is that of the integral with the angle last, to 1e-8", () => {
    fc.assert(
      fc.property(logUniform(0.05, 5), logUniform(0.05, 1.5), (length, depth) => {
        expect(
          Math.abs(windingInductance({ turns: 1, meanRadius: 1, length, depth }) / (VACUUM_PERMEABILITY * selfByAngle(length, depth)) - 1),
        ).toBeLessThan(1e-8);
      }),
      { numRuns: cases(15) },
    );
  });

  it("grows with the square of the turns and with size", () => {
    fc.assert(
      fc.property(logUniform(0.01, 100), logUniform(0.01, 1.9), logUniform(1, 1000), logUniform(1e-3, 10), (length, depth, turns, size) => {
        const one = windingInductance({ turns: 1, meanRadius: 1, length, depth });
        expect(
          windingInductance({ turns, meanRadius: size, length: length * size, depth: depth * size }) / (one * turns * turns * size),
        ).toBeCloseTo(1, 11);
      }),
      { numRuns: cases(60) },
    );
  });

  it("tends to the current sheet without depth, to the disc without length, and to Maxwell's ring for a small section", () => {
    for (const length of [0.05, 1, 30]) {
      const sheet = solenoidInductance({ turns: 7, radius: 0.03, length: 0.03 * length });
      expect(windingInductance({ turns: 7, meanRadius: 0.03, length: 0.03 * length, depth: 0 }) / sheet).toBeCloseTo(1, 14);
      expect(windingInductance({ turns: 7, meanRadius: 0.03, length: 0.03 * length, depth: 3e-10 }) / sheet).toBeCloseTo(1, 6);
    }
    for (const depth of [0.1, 1, 2]) {
      const disc = windingInductance({ turns: 1, meanRadius: 1, length: 0, depth });
      expect(windingInductance({ turns: 1, meanRadius: 1, length: 1e-9, depth }) / disc).toBeCloseTo(1, 7);
    }
    // A square of side s has the geometric mean distance 0.44705 s from itself: µ₀a(ln(8a/R) − 2).
    const side = 1e-4;
    expect(
      windingInductance({ turns: 1, meanRadius: 1, length: side, depth: side })
        / (VACUUM_PERMEABILITY * (Math.log(8 / (0.44705 * side)) - 2)),
    ).toBeCloseTo(1, 5);
  });

  it("of a disc is the double integral of Maxwell's formula over its radii", () => {
    // Rings of equal width, by the mutual inductance of their middles, with the mean of the logarithm over both widths in place of that of their distance.
    const rings = 200;
    const width = 1 / rings;
    const twice = (x: number): number => (x === 0 ? 0 : (x * x * (Math.log(x) - 1.5)) / 2);
    let sum = 0;
    for (let i = 0; i < rings; i++) {
      const a = 0.5 + (i + 0.5) * width;
      for (let k = 0; k < i; k++) {
        const b = 0.5 + (k + 0.5) * width;
        const n = i - k;
        const meanLog = twice(n + 1) - 2 * twice(n) + twice(n - 1);
        sum +=
          2
          * (coaxialMutualInductance({ radiusA: a, radiusB: b, distance: 0 })
            + VACUUM_PERMEABILITY * Math.sqrt(a * b) * (Math.log(n) - meanLog));
      }
      // A strip has the geometric mean distance e^(−3/2) times its width from itself.
      sum += VACUUM_PERMEABILITY * a * (Math.log((8 * a) / (width * Math.exp(-1.5))) - 2);
    }
    expect(windingInductance({ turns: 1, meanRadius: 1, length: 0, depth: 1 }) / (sum * width * width)).toBeCloseTo(1, 5);
  });

  it("is what its halves have, and twice what they share", () => {
    const whole = { turns: 200, meanRadius: 0.025, length: 0.03, depth: 0.012 };
    const half = { turns: 100, meanRadius: 0.025, length: 0.015, depth: 0.012 };
    const { mutualInductance, error } = couplingFromPlacement(half, half, { x: 0, y: 0, z: 0.015 });
    const [total, own] = [windingInductance(whole), windingInductance(half)];
    expect(Math.abs((2 * own + 2 * mutualInductance) / total - 1)).toBeLessThan(1e-6);
    expect(error).toBeLessThan(1e-5);
    const [inner, outer] = [
      { turns: 100, meanRadius: 0.022, length: 0.03, depth: 0.006 },
      { turns: 100, meanRadius: 0.028, length: 0.03, depth: 0.006 },
    ];
    const shared = couplingFromPlacement(inner, outer, { x: 0, y: 0, z: 0 }).mutualInductance;
    expect(Math.abs((windingInductance(inner) + windingInductance(outer) + 2 * shared) / total - 1)).toBeLessThan(1e-6);
  });

  it("of a Brooks coil is that of its shape", () => {
    expect(
      brooksCoilInductance({ turns: 150, meanRadius: 0.03 })
        / windingInductance({ turns: 150, meanRadius: 0.03, length: 0.02, depth: 0.02 }),
    ).toBeCloseTo(1, 13);
  });

  it("for a length of wire is next to the largest in Brooks's shape", () => {
    // Same wire length and pitch: N·a and the section per turn are kept, the shape varies.
    const inductance = (shape: number, bore: number): number => {
      // Section length = shape·depth, inner radius = bore·depth; N·2πa = wire, N·pitch² = section.
      const unit = Math.cbrt(1 / (shape * (bore + 0.5)));
      return windingInductance({ turns: shape * unit * unit, meanRadius: (bore + 0.5) * unit, length: shape * unit, depth: unit });
    };
    const brooks = inductance(1, 1);
    for (const shape of [0.5, 0.8, 1, 1.3, 2])
      for (const bore of [0.4, 0.8, 1, 1.2, 2]) expect(inductance(shape, bore)).toBeLessThan(brooks * 1.001);
    expect(inductance(2, 1)).toBeLessThan(brooks * 0.97);
  });
});

describe("closed approximations", () => {
  it("by Lundin keep within 3e-6 of the current sheet, for every length", () => {
    fc.assert(
      fc.property(logUniform(1e-3, 1e3), (length) => {
        const coil = { turns: 10, radius: 0.02, length: 0.02 * length };
        expect(Math.abs(lundinInductance(coil) / solenoidInductance(coil) - 1)).toBeLessThan(3.5e-6);
      }),
      { numRuns: cases(300) },
    );
  });

  it("by Wheeler keep within 1 % for a single layer longer than 0.8 of the radius, and not for one of 0.4", () => {
    fc.assert(
      fc.property(logUniform(0.8, 100), (length) => {
        const coil = { turns: 10, radius: 0.02, length: 0.02 * length };
        expect(Math.abs(wheelerSolenoidInductance(coil) / solenoidInductance(coil) - 1)).toBeLessThan(0.01);
      }),
      { numRuns: cases(300) },
    );
    const short = { turns: 10, radius: 0.02, length: 0.008 };
    expect(wheelerSolenoidInductance(short) / solenoidInductance(short)).toBeLessThan(0.97);
  });

  it("by Wheeler keep within 1 % for a winding with equal terms", () => {
    const coil = { turns: 100, meanRadius: 0.03, length: 0.02, depth: 0.018 };
    expect(Math.abs(wheelerWindingInductance(coil) / windingInductance(coil) - 1)).toBeLessThan(0.01);
  });
});

describe("Nagaoka's coefficient", () => {
  it("goes over from one form to the other without a step, and keeps its digits at both ends", () => {
    expect(nagaokaCoefficient(1 + 1e-12) / nagaokaCoefficient(1 - 1e-12)).toBeCloseTo(1, 11);
    // Long: 1 − 4x/(3π) + x²/8; short: (2/(πx))·(ln 4x − ½), x = diameter/length.
    expect(nagaokaCoefficient(1e-5)).toBeCloseTo(1 - 4e-5 / (3 * Math.PI) + 1e-10 / 8, 14);
    for (const x of [1e6, 1e20, 1e100]) expect(nagaokaCoefficient(x) / ((2 / (Math.PI * x)) * (Math.log(4 * x) - 0.5))).toBeCloseTo(1, 10);
    expect(nagaokaCoefficient(0)).toBe(1);
  });
});

describe("what no winding is", () => {
  it.each([
    ["a filament", () => windingInductance({ turns: 1, meanRadius: 1, length: 0, depth: 0 }), /"length" or "depth"/],
    ["turns beyond the axis", () => windingInductance({ turns: 1, meanRadius: 1, length: 1, depth: 2.1 }), /"depth" must be at most twice/],
    [
      "a winding of no radius",
      () => windingInductance({ turns: 1, meanRadius: 0, length: 1, depth: 0 }),
      /"meanRadius" must be a finite number above 0 m/,
    ],
    [
      "a length below 0",
      () => windingInductance({ turns: 1, meanRadius: 1, length: -0.5, depth: 1 }),
      /"length" must be a finite number at least 0 m/,
    ],
    [
      "a depth below 0",
      () => windingInductance({ turns: 1, meanRadius: 1, length: 1, depth: -0.5 }),
      /"depth" must be a finite number at least 0 m/,
    ],
    ["no turns", () => solenoidInductance({ turns: 0, radius: 1, length: 1 }), /"turns"/],
    ["an unknown key", () => brooksCoilInductance({ turns: 1, meanRadius: 1, radius: 2 } as never), /unknown option "radius"/],
    ["nothing", () => windingInductance(undefined as never), /"turns"/],
    ["one circle twice", () => coaxialMutualInductance({ radiusA: 1, radiusB: 1, distance: 0 }), /"distance" must not be 0/],
  ])("%s is refused", (_what, work, message) => {
    expect(work).toThrow(DividingNetworkError);
    expect(work).toThrow(message);
  });

  it("begins beyond a disc that is wound down to its axis", () => {
    const disc = windingInductance({ turns: 100, meanRadius: 0.02, length: 0, depth: 0.04 });
    expect(disc / windingInductance({ turns: 100, meanRadius: 0.02, length: 0, depth: 0.04 * (1 - 1e-9) })).toBeCloseTo(1, 6);
  });

  it("gives a refusal or a finite number for finite input of any size", () => {
    const size = uniform(-320, 308)
      .map((exponent) => 10 ** exponent)
      .filter((value) => value > 0);
    fc.assert(
      fc.property(fc.record({ turns: size, meanRadius: size, length: size, depth: size }), (given) => {
        for (const work of [
          () => windingInductance({ ...given, depth: Math.min(given.depth, given.meanRadius) }),
          () => wheelerWindingInductance({ ...given, depth: Math.min(given.depth, given.meanRadius) }),
          ...[solenoidInductance, lundinInductance, wheelerSolenoidInductance].map(
            (each) => () => each({ turns: given.turns, radius: given.meanRadius, length: given.length }),
          ),
          () => coaxialMutualInductance({ radiusA: given.meanRadius, radiusB: given.length, distance: given.depth }),
          () => brooksCoilInductance({ turns: given.turns, meanRadius: given.meanRadius }),
        ]) {
          try {
            const value = work();
            expect(value > 0 && value < Infinity, String(value)).toBe(true);
          } catch (error) {
            if (!(error instanceof DividingNetworkError)) throw error;
          }
        }
      }),
      { numRuns: cases(150) },
    );
  });
});
