import { solve } from "dividing-network/network";
import { driverImpedance, displacementLevelDb, thieleSmall } from "dividing-network/parts";
import { valueAt } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const constants = { re: 5.8, bl: 7, mms: 0.015, cms: 0.8e-3, rms: 1.2, sd: 0.0135 };

/** Velocity per volt of the cone, from the forces: Bl i = (Rms + jωMms + 1/(jωCms)) v, V = Re i + Bl v. */
function velocityPerVolt(f: number): {
  readonly re: number;
  readonly im: number;
  readonly impedance: { readonly re: number; readonly im: number };
} {
  const { re, bl, mms, cms, rms } = constants;
  const omega = 2 * Math.PI * f;
  const x = omega * mms - 1 / (omega * cms);
  const norm = rms ** 2 + x ** 2;
  const [zr, zi] = [re + (bl ** 2 * rms) / norm, (-(bl ** 2) * x) / norm];
  // v = i Bl / (Rms + jx), i = 1 V / Z.
  const [dr, di] = [zr * rms - zi * x, zr * x + zi * rms];
  return { re: (bl * dr) / (dr ** 2 + di ** 2), im: (-bl * di) / (dr ** 2 + di ** 2), impedance: { re: zr, im: zi } };
}

describe("Thiele/Small parameters", () => {
  it("describe the impedance that the forces on the cone make", () => {
    const driver = thieleSmall(constants);
    const { fs, qms, qes } = driver;
    const { impedance } = solve({ driver: [driverImpedance({ re: 5.8, fs, qms, qes }), "in", "gnd"] }, [20, fs, 70, 300]);
    for (const f of [20, fs, 70, 300]) {
      const { re, im } = velocityPerVolt(f).impedance;
      const z = valueAt(impedance, f);
      expect(Math.hypot(z.re - re, z.im - im) / Math.hypot(re, im)).toBeLessThan(1e-9);
    }
    expect(valueAt(impedance, fs).re).toBeCloseTo(driver.zmax, 9);
    expect(driver.zmax).toBeCloseTo(5.8 + driver.res, 12);
  });

  it("state the sensitivity that the cone's acceleration gives far above fs", () => {
    const driver = thieleSmall(constants);
    // At 5 kHz the mass alone is moved, and what it induces is nothing beside the source; a monopole in a baffle.
    const f = 5000;
    const omega = 2 * Math.PI * f;
    const displacement = (Math.SQRT2 * Math.sqrt(8) * Math.hypot(velocityPerVolt(f).re, velocityPerVolt(f).im)) / omega;
    expect(Math.abs(driver.sensitivity.for2V83Db - displacementLevelDb({ displacement, sd: 0.0135, frequency: f }))).toBeLessThan(2e-3);
    expect(thieleSmall({ ...constants, ratedImpedance: "8 Ω" }).sensitivity.for1WDb).toBeCloseTo(driver.sensitivity.for2V83Db, 9);
    expect(driver.sensitivity.for1WDb).toBeCloseTo(driver.sensitivity.for2V83Db - 10 * Math.log10(8 / 5.8), 9);
  });

  it("know the electrical twins of mass and compliance, and the deflection by direct voltage", () => {
    const driver = thieleSmall(constants);
    expect(1 / (2 * Math.PI * Math.sqrt(driver.lces * driver.cmes))).toBeCloseTo(driver.fs, 9);
    expect(driver.res * Math.sqrt(driver.cmes / driver.lces)).toBeCloseTo(driver.qms, 9);
    // 1 V drives 1/Re A, Bl/Re N, and Cms gives way.
    expect(driver.displacementPerVolt).toBeCloseTo((7 / 5.8) * 0.8e-3, 12);
    const slow = velocityPerVolt(0.01);
    expect(Math.hypot(slow.re, slow.im) / (2 * Math.PI * 0.01)).toBeCloseTo(driver.displacementPerVolt, 9);
  });

  it("follow the air that is stated", () => {
    const driver = thieleSmall(constants);
    const other = thieleSmall({ ...constants, air: { density: 1.1, speedOfSound: 350 } });
    expect(other.vas / (1.1 * 350 ** 2 * 0.0135 ** 2 * 0.8e-3)).toBeCloseTo(1, 12);
    // p = ρ Sd a / (2π r): 20 lg of the density alone, whatever the speed of sound.
    expect(other.sensitivity.for2V83Db - driver.sensitivity.for2V83Db).toBeCloseTo(
      20 * Math.log10(1.1 / (101_325 / (287.058 * 293.15))),
      9,
    );
  });

  it("record their steps, frozen", () => {
    const driver = thieleSmall(constants);
    expect(driver.working.map(({ symbol, unit }) => [symbol, unit])).toEqual([
      ["fs", "Hz"],
      ["Qes", ""],
      ["Qms", ""],
      ["Qts", ""],
      ["Vas", "m³"],
      ["η₀", ""],
      ["P", "W"],
      ["L(2.83 V)", "dB"],
      ["P", "W"],
      ["L(1 W)", "dB"],
    ]);
    for (const { formula, tex, source } of driver.working) {
      expect(formula).not.toBe("");
      expect(tex).toContain("=");
      expect(source).toMatch(/after Small \(1972\)|derived here/);
    }
    expect(driver.working.map(({ note }) => note).filter((note) => note !== undefined)).toEqual([
      expect.stringContaining("1 W in 8 Ω"),
      expect.stringContaining("1 W in the rated impedance"),
    ]);
    for (const frozen of [driver, driver.sensitivity, driver.working]) expect(Object.isFrozen(frozen)).toBe(true);
  });

  it("refuse by name what is no driver's", () => {
    const given = { ...constants, ratedImpedance: 8 };
    for (const name of Object.keys(given))
      for (const value of [0, -1, NaN])
        expect(() => thieleSmall({ ...given, [name]: value }), name).toThrow(new RegExp(`"${name}" must be a finite number above 0`));
    for (const name of ["density", "speedOfSound"])
      for (const value of [0, -1, NaN])
        expect(() => thieleSmall({ ...given, air: { [name]: value } }), name).toThrow(
          new RegExp(`^thieleSmall: "air.${name}" must be a finite number at least`),
        );
    expect(() => thieleSmall({ ...constants, bl: 0 })).toThrow(/above 0 T·m/);
    expect(() => thieleSmall({ ...constants, mmd: 3 } as never)).toThrow(/unknown option/);
  });
});
