// Source: after Kinsler & Frey (1950) and Beranek: directivity, directivity index and radiation impedance of a piston in a baffle; the low-frequency end
// correction after Rayleigh.
// Provenance: recomputed (SciPy and mpmath); no printed table was seen.
// Tests src/radiation/: piston-radiation-impedance.ts
import {
  lineDirectivity,
  pistonDirectivity,
  pistonDirectivityIndex,
  pistonHalfAngle,
  pistonRadiationImpedance,
} from "dividing-network/radiation";
import { expect, it } from "vitest";
import { published } from "./standing";

/** Half a unit of the last printed digit. */
const half = (digits: string): number => 0.5 * 10 ** -(digits.split(".")[1] ?? "").length;
const near = (value: number, digits: string): void =>
  expect(Math.abs(value - Number(digits))).toBeLessThanOrEqual(half(digits) * (1 + 1e-9));

published("recomputed", "a piston in an infinite baffle", () => {
  it.each([
    [1, "0.99165 0.96907 0.93879 0.90913 0.88782 0.88010"],
    [3, "0.92651 0.74392 0.53362 0.36285 0.25966 0.22604"],
    [10, "0.36634 -0.13103 0.00469 0.06264 0.02611 0.00869"],
  ])("has the directivity 2J1(x)/x at ka = %d", (ka, digits) => {
    digits.split(" ").forEach((value, i) => near(pistonDirectivity({ ka, angle: 15 * (i + 1) }), value));
  });

  it.each([
    ["3", "47.592165"],
    ["3.8317", "35.316717"],
    ["5", "26.296592"],
    ["8", "16.074449"],
    ["10", "12.797676"],
  ])("falls to one half at the stated angle for ka = %s", (ka, angle) => {
    near(pistonHalfAngle({ ka: Number(ka) })!, angle);
  });

  it.each([
    ["5", "50.026459"],
    ["8", "28.617712"],
    ["10", "22.530216"],
  ])("has its first null at the stated angle for ka = %s", (ka, angle) => {
    near(pistonHalfAngle({ ka: Number(ka), ratio: 0 })!, angle);
  });

  it("has no null for ka = 3", () => {
    expect(pistonHalfAngle({ ka: 3, ratio: 0 })).toBeUndefined();
  });

  it.each([
    ["1.616339948", 10 ** (-3.010299956639812 / 20)],
    ["2.215089368", 0.5],
    ["2.211785445", 10 ** (-6 / 20)],
  ])("falls to a stated ratio at x = %s", (x, ratio) => {
    // With ka = 10, x = 10 sin θ.
    near(10 * Math.sin((pistonHalfAngle({ ka: 10, ratio })! * Math.PI) / 180), x);
  });

  it("has its first side lobe of −17.570150 dB at x = 5.13562", () => {
    near(20 * Math.log10(Math.abs(pistonDirectivity({ ka: 5.13562, angle: 90 }))), "-17.570150");
  });

  it.each([
    [1, "3.7338"],
    [2, "5.8795"],
    [3, "9.1593"],
    [5, "14.0173"],
    [8, "18.1112"],
    [10, "20.0291"],
  ])("has the directivity index at ka = %d", (ka, value) => {
    near(pistonDirectivityIndex({ ka }), value);
  });

  it("has the radiation impedance 1 − 2J1(x)/x + j 2H1(x)/x with x = 2ka", () => {
    const x = [0.1, 0.2, 0.5, 1, 2, 3, 4, 5, 6, 8, 10];
    const r = "0.001249 0.004992 0.030926 0.119899 0.423275 0.773961 1.033022 1.131032 1.092228 0.941341 0.991305".split(" ");
    const i = "0.042413 0.084657 0.208695 0.396915 0.646764 0.680073 0.534863 0.323125 0.159392 0.122029 0.178366".split(" ");
    x.forEach((value, at) => {
      const z = pistonRadiationImpedance({ ka: value / 2 });
      near(z.re, r[at]!);
      near(z.im, i[at]!);
    });
  });

  it("has a mass end correction of 0.848826363 radii at low frequency", () => {
    near(pistonRadiationImpedance({ ka: 1e-6 }).im / 1e-6, "0.848826363");
  });
});

published("recomputed", "a uniform line", () => {
  // x = (kl/2) sin θ; at 90° x is half of kl.
  it.each([
    ["1.895494267", 0.5],
    ["1.391557378", Math.SQRT1_2],
  ])("falls to a stated ratio at x = %s", (x, ratio) => {
    const at = (step: number): number => lineDirectivity({ kl: 2 * (Number(x) + step), angle: 90 });
    // The published digits round to the root: the ratio lies between the values half a unit to either side.
    expect(at(-half(x))).toBeGreaterThan(ratio);
    expect(at(half(x))).toBeLessThan(ratio);
  });

  it("has its first side lobe of −13.261459 dB", () => {
    let lowest = 0;
    for (let x = 4.4; x < 4.6; x += 1e-4) lowest = Math.min(lowest, lineDirectivity({ kl: 2 * x, angle: 90 }));
    near(20 * Math.log10(-lowest), "-13.261459");
  });
});
