// What standard errors say of a fit, by the normal distribution's shares: computed from seeded scatter on invented drivers.
import { logGrid } from "dividing-network/numeric";
import { driverParameters, type CoilModel, type FittedParameters } from "dividing-network/parts";
import { describe, expect, it } from "vitest";
import { impedanceOf, seeded, type Driver } from "./impedance-curve";

/** Everything that is stated, by name. */
const numbers = (fit: FittedParameters): Record<string, number> => ({
  ...(fit.model as unknown as Record<string, number>),
  qts: fit.qts,
  res: fit.res,
});

describe("the errors of driver parameters hold the truth as often as they say", () => {
  const points = logGrid(10, 20000, 60);
  const kinds: readonly [string, number, CoilModel, boolean, (even: () => number, re: number) => Partial<Driver>][] = [
    ["a lossy coil", 200, "power", false, (even, re) => ({ k: ((0.5 + 2 * even()) * re) / (4e4 * Math.PI) ** 0.7, n: 0.6 + 0.3 * even() })],
    ["an inductance, fitted with an exponent", 200, "power", false, (even, re) => ({ le: (0.01 + 0.02 * even()) * 1e-3 * re })],
    ["no coil, fitted with one", 120, "power", false, () => ({})],
    [
      "a lossy coil and a stated Re",
      120,
      "power",
      true,
      (even, re) => ({ k: ((0.5 + 2 * even()) * re) / (4e4 * Math.PI) ** 0.7, n: 0.6 + 0.3 * even() }),
    ],
    [
      "two inductances and a resistance",
      100,
      "parallel",
      false,
      (even, re) => ({ le: (0.03 + 0.05 * even()) * 1e-3 * re, re2: (0.6 + even()) * re, le2: (0.08 + 0.1 * even()) * 1e-3 * re }),
    ],
  ];

  it.each(kinds)("with %s", (_what, count, coil, stated, coilOf) => {
    const { even, normal } = seeded(20);
    const misses: Record<string, number[]> = {};
    for (let i = 0; i < count; i++) {
      const re = 3 + 5 * even();
      const driver = { re, fs: 25 * 20 ** even(), qms: 1.5 + 4 * even(), qes: 0.3 + even(), ...coilOf(even, re) };
      const truth: Record<string, number> = { ...driver, qts: 1 / (1 / driver.qms + 1 / driver.qes), res: (re * driver.qms) / driver.qes };
      const { fit } = driverParameters(impedanceOf(driver, points, 10 ** (-3 + 1.5 * even()), normal), { coil, ...(stated ? { re } : {}) });
      for (const [name, error] of Object.entries(fit.relativeErrors)) {
        if (truth[name] !== undefined && error > 0) (misses[name] ??= []).push(Math.abs(numbers(fit)[name]! / truth[name] - 1) / error);
      }
    }
    for (const name of ["fs", "qms", "qes", "qts", "res", ...(stated ? [] : ["re"])])
      expect(misses[name]!.length, name).toBeGreaterThan(0.97 * count);
    for (const [name, all] of Object.entries(misses)) {
      if (all.length < 90) continue;
      // Of normal deviates 68.27 % lie within one standard error and 95.45 % within two; four standard deviations of such a share are allowed.
      for (const [within, share] of [
        [1, 0.6827],
        [2, 0.9545],
      ] as const) {
        const held = all.filter((miss) => miss < within).length / all.length;
        expect(Math.abs(held - share) / Math.sqrt((share * (1 - share)) / all.length), `${name}: ${held} within ${within}`).toBeLessThan(4);
      }
      expect(Math.max(...all), name).toBeLessThan(6);
    }
  });
});
