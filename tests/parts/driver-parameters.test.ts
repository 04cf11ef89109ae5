// Tests src/numeric/: neighbour-products.ts
// Tests src/parts/: choose-coil.ts, driver-deviations.ts, fit-driver.ts, three-point-rule.ts
import { logGrid } from "dividing-network/numeric";
import { driverImpedance, driverParameters, type CoilModel, type FittedParameters } from "dividing-network/parts";
import { frequencyResponse, type FrequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { impedanceOf, seeded, type Driver } from "./impedance-curve";

const grid = logGrid(10, 20000, 120);
const woofer = { re: 5.6, fs: 42, qms: 4.2, qes: 0.41 };
const lossy = { ...woofer, k: 0.03, n: 0.65 };

/** Everything that is stated, by name. */
const numbers = (fit: FittedParameters): Record<string, number> => ({
  ...(fit.model as unknown as Record<string, number>),
  qts: fit.qts,
  res: fit.res,
});

/** Every number that leaves is finite, and every name either has an error or is called undetermined. */
function expectHonest(fit: FittedParameters): void {
  for (const value of [...Object.values(numbers(fit)), ...Object.values(fit.relativeErrors), fit.misfit, fit.correlation])
    expect(Number.isFinite(value)).toBe(true);
  expect([...Object.keys(fit.relativeErrors), ...fit.undetermined].sort()).toEqual(Object.keys(numbers(fit)).sort());
  for (const error of Object.values(fit.relativeErrors)) expect(error).toBeLessThanOrEqual(1);
  expect(driverImpedance(fit.model)).toMatchObject({ kind: "driver" });
}

describe("driver parameters from an impedance curve", () => {
  it.each([
    ["power", lossy],
    ["power", { re: 4.9, fs: 830, qms: 1.9, qes: 1.3, k: 0.006, n: 0.6 }],
    ["inductance", { ...woofer, le: 0.4e-3 }],
    ["parallel", { ...woofer, le: 0.25e-3, re2: 6, le2: 0.7e-3 }],
    ["none", woofer],
  ] as const)("the fit with coil %s gives back what the curve was made of", (coil, driver) => {
    const { fit } = driverParameters(impedanceOf(driver, grid), { coil });
    expect([fit.converged, fit.coil, fit.coilProblem, fit.undetermined]).toEqual([true, coil, undefined, []]);
    expect(fit.misfit).toBeLessThan(1e-9);
    expect(Object.keys(fit.model).sort()).toEqual(Object.keys(driver).sort());
    for (const [name, value] of Object.entries(driver)) expect(Math.abs(numbers(fit)[name]! / value - 1), name).toBeLessThan(1e-8);
    expect(fit.qts).toBeCloseTo((driver.qms * driver.qes) / (driver.qms + driver.qes), 9);
    expect(fit.res / ((driver.re * driver.qms) / driver.qes)).toBeCloseTo(1, 8);
    // Without scatter an error is the fit's own accuracy, not 0.
    for (const error of Object.values(fit.relativeErrors)) expect(error).toBe(1e-9);
    expectHonest(fit);
  });

  it("an inductance is seen for what it is by the formula with an exponent: on ordinary data, with and without scatter", () => {
    const { even, normal } = seeded(3);
    const found = { inductance: 0, power: 0 };
    for (const scatter of [0, 1e-3]) {
      for (let i = 0; i < 40; i++) {
        const driver = {
          re: 4 + 4 * even(),
          fs: 30 + 100 * even(),
          qms: 2 + 4 * even(),
          qes: 0.3 + 0.6 * even(),
          le: (0.1 + even()) * 1e-3,
        };
        const { fit } = driverParameters(impedanceOf(driver, grid, scatter, normal));
        expectHonest(fit);
        expect([fit.converged, fit.undetermined]).toEqual([true, []]);
        if (scatter === 0) expect(fit.coil).toBe("inductance");
        found[fit.coil as "inductance" | "power"]++;
        if (fit.coil === "inductance") {
          expect(fit.coilProblem).toMatch(/exponent n comes to 1/);
          expect(Math.abs((fit.model.le as number) / driver.le - 1)).toBeLessThan(scatter === 0 ? 1e-8 : 5e-3);
        } else {
          // An exponent below 1 by its own error, no more.
          expect(fit.model.n!).toBeGreaterThan(0.99);
          expect((1 - fit.model.n!) / (fit.relativeErrors["n"]! * fit.model.n!)).toBeLessThan(4);
        }
      }
    }
    // Half of the scattered ones come to an exponent above 1.
    expect(found.inductance).toBeGreaterThan(40 + 8);
    expect(found.power).toBeGreaterThan(8);
  });

  it("a coil that the curve does not show is left out, and the reason is given", () => {
    const cases: readonly [Driver, Float64Array, number, CoilModel, CoilModel, RegExp][] = [
      [woofer, grid, 0.01, "power", "none", /without a coil/],
      [woofer, grid, 0.01, "inductance", "none", /without a coil/],
      [woofer, grid, 0.01, "parallel", "none", /without a coil/],
      [woofer, grid, 0, "parallel", "none", /without a coil/],
      // 4 µH are 0.8 % of Re at the band's end.
      [{ ...woofer, le: 4e-6 }, logGrid(10, 2000, 60), 0.01, "power", "none", /without a coil/],
      [{ ...woofer, le: 0.4e-3 }, grid, 0.01, "parallel", "inductance", /re2 and le2 do not show/],
      [{ ...woofer, le: 0.4e-3 }, grid, 0, "parallel", "inductance", /re2 and le2 do not show/],
      [{ ...woofer, re2: 6, le2: 0.7e-3 }, grid, 0, "parallel", "parallel", /le comes to 0 H/],
    ];
    for (const [driver, at, scatter, asked, coil, reason] of cases) {
      const { fit } = driverParameters(impedanceOf(driver, at, scatter), { coil: asked });
      expect([fit.coil, fit.converged], asked).toEqual([coil, true]);
      expect(fit.coilProblem).toMatch(reason);
      expectHonest(fit);
      expect(Math.abs(fit.model.fs / driver.fs - 1)).toBeLessThan(scatter === 0 ? 1e-8 : 0.01);
      expect(fit.model.le === undefined).toBe(coil === "none" || driver.le === undefined);
    }
  });

  it("a coil that the curve shows is kept, however small it is beside the rest", () => {
    // 1 % of Re at the band's end, seen through scatter of 0.1 %; and half an ohm of a lossy coil beside an inductance.
    const small = driverParameters(impedanceOf({ ...woofer, le: 4.5e-6 }, logGrid(10, 2000, 120), 1e-3), { coil: "inductance" }).fit;
    expect([small.coil, small.coilProblem]).toEqual(["inductance", undefined]);
    expect(Math.abs((small.model.le as number) / 4.5e-6 - 1) / small.relativeErrors["le"]!).toBeLessThan(3);
    const second = driverParameters(impedanceOf({ ...woofer, le: 0.4e-3, re2: 0.5, le2: 0.1e-3 }, grid, 1e-3), { coil: "parallel" }).fit;
    expect([second.coil, second.coilProblem]).toEqual(["parallel", undefined]);
    expect(Math.abs((second.model.re2 as number) / 0.5 - 1) / second.relativeErrors["re2"]!).toBeLessThan(3);
  });

  it("a number that the curve does not tell has no error, and is named", () => {
    // The coil shows only at the end of the band: that it is there is certain, K at 1 rad/s isn't.
    const { fit } = driverParameters(impedanceOf({ ...woofer, k: 0.0005, n: 0.7 }, logGrid(10, 400, 120), 0.01, seeded(1).normal));
    expect(fit.coil).toBe("power");
    expect(fit.undetermined).toEqual(["k"]);
    expect(fit.relativeErrors).not.toHaveProperty("k");
    expect(fit.relativeErrors["n"]).toBeGreaterThan(0.05);
    expectHonest(fit);
  });

  it("the rule and the fit stand side by side: they agree where the coil is weak, and differ where it is not", () => {
    const fine = logGrid(10, 20000, 500);
    const weak = driverParameters(impedanceOf({ ...woofer, k: 0.0005, n: 0.7 }, fine), { re: 5.6 });
    expect(weak.threePoint!.qms / weak.fit.model.qms).toBeCloseTo(1, 1);
    expect(weak.threePoint!.symmetry).toBeCloseTo(1, 2);
    expect(weak.threePointProblem).toBeUndefined();
    const strong = driverParameters(impedanceOf({ re: 5.6, fs: 60, qms: 3, qes: 0.6, k: 0.06, n: 0.7 }, fine), { re: 5.6 });
    expect(strong.fit.model.qms).toBeCloseTo(3, 8);
    expect(Math.abs(strong.threePoint!.qms - 3)).toBeGreaterThan(0.02);
  });

  it("where the rule does not apply the fit still does, and the reason is given", () => {
    const { fit, threePoint, threePointProblem } = driverParameters(
      impedanceOf({ re: 5.6, fs: 60, qms: 3, qes: 1.2, k: 0.12, n: 0.7 }, grid),
      { re: 5.6 },
    );
    expect(fit.model.qms).toBeCloseTo(3, 8);
    expect(threePoint).toBeUndefined();
    expect(threePointProblem).toMatch(/does not fall to .* above the peak/);
  });

  it("the misfit is that of the points, and their independence shows", () => {
    const scattered = driverParameters(impedanceOf(lossy, logGrid(10, 20000, 400), 0.02)).fit;
    // Of 800 deviations with 6 parameters taken out, √2 · 0.02 from point to point.
    expect(Math.abs(scattered.misfit / (0.02 * Math.SQRT2) - 1)).toBeLessThan(4 / Math.sqrt(2 * 800));
    expect(Math.abs(scattered.correlation)).toBeLessThan(4 / Math.sqrt(800));
    // An inductance alone cannot follow a lossy coil: what is left goes slowly from one side to the other, and the errors are too small.
    const wrong = driverParameters(impedanceOf(lossy, grid), { coil: "inductance" }).fit;
    expect(wrong.correlation).toBeGreaterThan(0.8);
    expect(wrong.misfit).toBeGreaterThan(0.02);
    expect(wrong.coilProblem).toBeUndefined();
    const model = { re: wrong.model.re, fs: wrong.model.fs, qms: wrong.model.qms, qes: wrong.model.qes, le: wrong.model.le as number };
    const [measured, fitted] = [impedanceOf(lossy, grid), impedanceOf(model, grid)];
    const squares = measured.re.map(
      (re, i) => ((fitted.re[i]! - re) ** 2 + (fitted.im[i]! - measured.im[i]!) ** 2) / (re ** 2 + measured.im[i]! ** 2),
    );
    expect(wrong.misfit).toBeCloseTo(Math.sqrt(squares.reduce((sum, value) => sum + value, 0) / 120), 9);
  });

  it("a stated Re is kept, has no error, and costs the others nothing", () => {
    const { fit, threePoint } = driverParameters(impedanceOf(lossy, grid, 1e-3), { re: "5.6 Ω" });
    expect([fit.model.re, threePoint!.re, fit.relativeErrors["re"]]).toEqual([5.6, 5.6, 0]);
    const free = driverParameters(impedanceOf(lossy, grid, 1e-3)).fit;
    for (const name of ["qms", "qes", "qts", "k", "n"]) expect(fit.relativeErrors[name], name).toBeLessThan(free.relativeErrors[name]!);
  });

  it("finds the resonance of a driver whose coil rises above the peak", () => {
    const { fit } = driverParameters(impedanceOf({ re: 6, fs: 60, qms: 2, qes: 1, k: 0.05, n: 0.75 }, grid));
    expect(fit.model.fs).toBeCloseTo(60, 6);
  });

  it("scales with the impedance and with frequency", () => {
    const one = driverParameters(impedanceOf(lossy, grid, 1e-3)).fit;
    const [z, f] = [impedanceOf(lossy, grid, 1e-3), grid.map((hz) => 1000 * hz)];
    const other = driverParameters(
      frequencyResponse(
        f,
        z.re.map((v) => 1e-3 * v),
        z.im.map((v) => 1e-3 * v),
      ),
    ).fit;
    expect([other.model.re / one.model.re, other.model.fs / one.model.fs, other.qts / one.qts, other.res / one.res]).toEqual(
      [1e-3, 1e3, 1, 1e-3].map((v) => expect.closeTo(v, 7)),
    );
    expect(other.model.k! / one.model.k!).toBeCloseTo(1e-3 * 1000 ** -one.model.n!, 9);
    expect(other.relativeErrors["qes"]! / one.relativeErrors["qes"]!).toBeCloseTo(1, 5);
  });

  describe("`from` and `to`", () => {
    // A hum below 25 Hz and a second resonance above 5 kHz that are no driver's.
    const clean = impedanceOf(lossy, grid);
    const spoilt: FrequencyResponse = frequencyResponse(
      grid,
      clean.re.map((re, i) => re + (grid[i]! < 25 ? 3 : grid[i]! > 5000 ? 40 : 0)),
      clean.im,
    );

    it("leave out what is wrong below and above", () => {
      const { fit } = driverParameters(spoilt, { from: "25 Hz", to: "5 kHz" });
      expect(fit.model).toEqual(Object.fromEntries(Object.entries(lossy).map(([name, value]) => [name, expect.closeTo(value, 7)])));
      for (const band of [{ from: 25 }, { to: 5000 }, {}]) {
        try {
          expect(Math.abs(driverParameters(spoilt, band).fit.model.qms / 4.2 - 1)).toBeGreaterThan(0.01);
        } catch (error) {
          expect((error as { code?: string }).code).toBe("undetermined");
        }
      }
    });

    it("bound the three-point rule as well", () => {
      // The whole curve has its highest peak outside.
      const two = frequencyResponse(
        grid,
        clean.re.map((re, i) => re + 1000 / (1 + (20 * Math.log(grid[i]! / 9000)) ** 2)),
        clean.im,
      );
      expect(driverParameters(two, { to: "2 kHz", re: 5.6 }).threePoint!.fs).toBeCloseTo(42, 0);
    });

    it("hold the points that lie on them", () => {
      const twelve = impedanceOf(
        woofer,
        Float64Array.from({ length: 14 }, (_, i) => 20 + 5 * i),
      );
      expect(driverParameters(twelve, { from: 25, to: 80, coil: "none" }).fit.model.fs).toBeCloseTo(42, 6);
      expect(() => driverParameters(twelve, { from: 25.001, to: 80, coil: "none" })).toThrow(
        /at least 12 points above 0 Hz in the band, got 11/,
      );
      expect(() => driverParameters(twelve, { from: 25, to: 79.999, coil: "none" })).toThrow(/got 11/);
      expect(() => driverParameters(twelve, { from: 80, to: 80 })).toThrow(/"to" must be a finite number above 80 Hz/);
      expect(() => driverParameters(twelve, { from: -1 })).toThrow(/"from"/);
    });

    it("are not needed for a point at 0 Hz, which is left out", () => {
      const whole = impedanceOf(woofer, grid);
      const withZero = frequencyResponse([0, ...grid], [3, ...whole.re], [0, ...whole.im]);
      expect(driverParameters(withZero, { coil: "none" }).fit.model.re).toBeCloseTo(5.6, 7);
    });
  });

  it("says what is missing", () => {
    const resistor = frequencyResponse(
      grid,
      grid.map(() => 6),
      grid.map(() => 0),
    );
    expect(() => driverParameters(resistor)).toThrow(/resonance peak, got none/);
    expect(() => driverParameters(impedanceOf(woofer, logGrid(100, 20000, 200)))).toThrow(/resonance peak, got none/);
    expect(driverParameters(impedanceOf(woofer, logGrid(38, 20000, 300)), { coil: "none" }).threePointProblem).toMatch(/below the peak/);
    expect(() => driverParameters(impedanceOf(woofer, grid), { coil: "lossy" } as never)).toThrow(/one of/);
    expect(() => driverParameters(impedanceOf(woofer, grid), { band: 3 } as never)).toThrow(/unknown option/);
    const negative = frequencyResponse(
      grid,
      grid.map(() => -1),
      grid.map((f) => 1 + 1 / (1 + (f / 50 - 50 / f) ** 2)),
    );
    expect(() => driverParameters(negative)).toThrow(/"re" must be given/);
    for (const size of [0, 1e-51, 1e51, 1e200]) {
      const z = impedanceOf(woofer, grid);
      expect(
        () =>
          driverParameters(
            frequencyResponse(
              grid,
              z.re.map((v, i) => (i === 60 ? size : v)),
              z.im.map((v, i) => (i === 60 ? 0 : v)),
            ),
          ),
        String(size),
      ).toThrow(/between 1e-50 and 1e50 Ω/);
    }
    expect(() => driverParameters(impedanceOf(woofer, grid), { re: 1e60 })).toThrow(/"re"/);
  });

  it("takes no scatter for a resonance, and no Re that leaves none", () => {
    for (let seed = 1; seed <= 5; seed++) {
      const { normal } = seeded(seed);
      const noisy = frequencyResponse(
        grid,
        grid.map(() => 6 + 0.06 * normal()),
        grid.map(() => 0.06 * normal()),
      );
      expect(() => driverParameters(noisy)).toThrow(/above what the fit leaves, got a misfit of 1\.\d %/);
    }
    // A peak of a tenth of Re is there all the same.
    const slight = driverParameters(impedanceOf({ re: 6, fs: 60, qms: 0.5, qes: 5 }, grid, 0.01, seeded(2).normal)).fit;
    expect(Math.abs(slight.model.fs / 60 - 1) / slight.relativeErrors["fs"]!).toBeLessThan(3);
    expect(() => driverParameters(impedanceOf(woofer, grid), { re: 100 })).toThrow(/check a stated re/);
  });
});
