// Source: after Small (1972), direct-radiator and closed-box analysis; after Thiele (1971) for the three-point rule; sensitivity after IEC 60268-5.
// Provenance: recomputed (ts.closed, ts.peak, ts.283, box.closed); recalled-then-recomputed (ts.K).
import { logGrid } from "dividing-network/numeric";
import { closedBox, driverParameters, displacementLevelDb, thieleSmall, volumeDisplacementFromLevel } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { expect, it } from "vitest";
import { published } from "./standing";

const half = (digits: string): number =>
  0.5 * 10 ** -(digits.split("e")[0]!.split(".")[1] ?? "").length * 10 ** Number(digits.split("e")[1] ?? 0);
const agrees = (value: number, digits: string): void =>
  expect(Math.abs(value - Number(digits)), digits).toBeLessThanOrEqual(half(digits) * 1.0001);
const constants = { re: 5.8, bl: 7, mms: 0.015, cms: 0.8e-3, rms: 1.2, sd: 0.0135, air: { density: 1.204, speedOfSound: 343.2 } };

published("recomputed", "a driver's parameters from its constants (Small 1972)", () => {
  const driver = thieleSmall(constants);

  it.each([
    ["fs", "45.944075"],
    ["qes", "0.512546"],
    ["qms", "3.608439"],
    ["qts", "0.448798"],
    ["vas", "0.02067657"],
    ["efficiency", "0.0038207836"],
    ["zmax", "46.633333"],
    ["res", "40.833333"],
  ] as const)("%s is %s", (name, digits) => agrees(driver[name], digits));

  it("the motional branch and the deflection", () => {
    agrees(driver.cmes * 1e6, "306.122449");
    agrees(driver.lces * 1e3, "39.2");
    agrees(driver.displacementPerVolt * 1e3, "0.96551724");
  });

  it.each([
    ["3.2", "3.9794"],
    ["4", "3.0103"],
    ["5.6", "1.54902"],
    ["5.8", "1.39662"],
    ["6", "1.249387"],
    ["6.4", "0.9691"],
    ["7.2", "0.457575"],
  ])("2.83 V into Re = %s Ω is %s dB above 1 W", (re, digits) => {
    const { sensitivity } = thieleSmall({ ...constants, re: Number(re) });
    agrees(sensitivity.for2V83Db - sensitivity.for1WDb, digits);
  });

  it("the efficiency is also ρ (Bl)² Sd² / (2π c Re Mms²)", () => {
    const other = (1.204 * 7 ** 2 * 0.0135 ** 2) / (2 * Math.PI * 343.2 * 5.8 * 0.015 ** 2);
    expect(driver.efficiency / other).toBeCloseTo(1, 10);
  });
});

published("recalled-then-recomputed", "the constant of the efficiency (Small 1972)", () => {
  it.each([
    ["343", "9.783119909e-7"],
    ["344.8", "9.630702453e-7"],
    ["345", "9.613963113e-7"],
  ])("at c = %s m/s the constant 4π²/c³ is %s", (c, digits) => {
    const { efficiency, fs, vas, qes } = thieleSmall({ ...constants, air: { ...constants.air, speedOfSound: Number(c) } });
    agrees((efficiency * qes) / (fs ** 3 * vas), digits);
  });
});

published("recomputed", "the three-point rule (Thiele 1971, Small 1972)", () => {
  const f = logGrid(5, 500, 4001);
  const x = f.map((hz) => 4 * (hz / 50 - 50 / hz));
  const impedance = frequencyResponse(
    f,
    x.map((v) => 6 + 48 / (1 + v * v)),
    x.map((v) => (-48 * v) / (1 + v * v)),
  );
  const threePoint = driverParameters(impedance, { re: 6, coil: "none" }).threePoint!;

  it("reads the peak, the two points beside it and both Q", () => {
    for (const [value, expected] of [
      [threePoint.zmax, 54],
      [threePoint.f1, 34.6500234],
      [threePoint.f2, 72.1500234],
      [threePoint.qms, 4],
      [threePoint.qes, 0.5],
      [threePoint.symmetry, 1],
    ] as const) {
      // What the samples allow: straight lines between points 0.12 % apart.
      expect(Math.abs(value / expected - 1)).toBeLessThan(2e-6);
    }
  });
});

published("recomputed", "a driver in a closed box (Small 1972)", () => {
  const driver = thieleSmall(constants);
  const box = closedBox({ fs: driver.fs, qes: driver.qes, qms: driver.qms, vas: driver.vas, volume: "10 L" });
  it.each([
    ["alpha", "2.06765735"],
    ["fc", "80.469802"],
    ["qec", "0.89770982"],
    ["qtc", "0.78605756"],
  ] as const)("%s is %s", (name, digits) => agrees(box[name], digits));
});

published("recomputed", "displacement and level (monopole in a baffle, ρ = 1.2)", () => {
  it("1 mm peak of 132 cm² at 50 Hz and 1 m", () =>
    agrees(displacementLevelDb({ displacement: 0.001, sd: 0.0132, frequency: 50, air: { density: 1.2 } }), "78.886601"));
  it("90 dB at 40 Hz and 1 m", () =>
    agrees(volumeDisplacementFromLevel({ levelDb: 90, frequency: 40, air: { density: 1.2 } }), "7.414193e-5"));
});
