import { fitLeastSquares, logGrid } from "dividing-network/numeric";
import { closedBox, closedBoxResponse, driverParameters, parametersFromAddedMass, parametersFromKnownVolume, thieleSmall } from "dividing-network/parts";
import { frequencyResponse, levelDb, type FrequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

interface Driver { re: number; fs: number; qms: number; qes: number; k?: number; n?: number; le?: number; re2?: number; le2?: number }

/** Impedance by the textbook's formula, written out here. */
function impedanceOf({ re, fs, qms, qes, k = 0, n = 0, le = 0, re2 = 0, le2 = 0 }: Driver, grid: Float64Array, noise = 0): FrequencyResponse {
  let state = 7;
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 31 - 1;
  };
  const outRe: number[] = [];
  const outIm: number[] = [];
  for (const f of grid) {
    const omega = 2 * Math.PI * f;
    const x = qms * (f / fs - fs / f);
    const res = (re * qms) / qes;
    const power = k * omega ** n;
    const parallel = re2 > 0 ? (re2 * omega * le2) / (re2 ** 2 + (omega * le2) ** 2) : 0;
    const zRe = re + res / (1 + x * x) + power * Math.cos((n * Math.PI) / 2) + parallel * omega * le2;
    const zIm = (-res * x) / (1 + x * x) + power * Math.sin((n * Math.PI) / 2) + omega * le + parallel * re2;
    const size = Math.hypot(zRe, zIm);
    outRe.push(zRe + noise * next() * size);
    outIm.push(zIm + noise * next() * size);
  }
  return frequencyResponse(grid, outRe, outIm);
}

const grid = logGrid(10, 20000, 500);
const woofer = { re: 5.6, fs: 42, qms: 4.2, qes: 0.41 };

describe("driver parameters from an impedance curve", () => {
  it.each([
    ["power", { ...woofer, k: 0.03, n: 0.65 }],
    ["power", { re: 4.9, fs: 830, qms: 1.9, qes: 1.3, k: 0.006, n: 0.6 }],
    ["inductance", { ...woofer, le: 0.4e-3 }],
    ["parallel", { ...woofer, le: 0.25e-3, re2: 6, le2: 0.7e-3 }],
    ["none", woofer],
  ] as const)("the fit with coil %s gives back what the curve was made of", (coil, driver) => {
    const { fit } = driverParameters(impedanceOf(driver, grid), { coil });
    expect(fit.converged).toBe(true);
    expect(fit.misfit).toBeLessThan(1e-5);
    for (const [name, value] of Object.entries(driver)) expect((fit.model as unknown as Record<string, number>)[name]! / value, name).toBeCloseTo(1, 4);
    expect(fit.qts).toBeCloseTo((driver.qms * driver.qes) / (driver.qms + driver.qes), 4);
  });

  it("the rule and the fit stand side by side: they agree where the coil is weak, and differ where it is not", () => {
    const weak = driverParameters(impedanceOf({ ...woofer, k: 0.0005, n: 0.7 }, grid), { re: 5.6 });
    expect(weak.threePoint!.qms / weak.fit.model.qms).toBeCloseTo(1, 1);
    expect(weak.threePoint!.symmetry).toBeCloseTo(1, 2);
    const strong = driverParameters(impedanceOf({ re: 5.6, fs: 60, qms: 3, qes: 0.6, k: 0.06, n: 0.7 }, grid), { re: 5.6 });
    expect(strong.fit.model.qms).toBeCloseTo(3, 3);
    expect(Math.abs(strong.threePoint!.qms - 3)).toBeGreaterThan(0.02);
  });

  it("where the rule does not apply the fit still does, and the reason is given", () => {
    const { fit, threePoint, threePointProblem } = driverParameters(impedanceOf({ re: 5.6, fs: 60, qms: 3, qes: 1.2, k: 0.12, n: 0.7 }, grid), { re: 5.6 });
    expect(fit.model.qms).toBeCloseTo(3, 3);
    expect(threePoint).toBeUndefined();
    expect(threePointProblem).toMatch(/does not fall to .* above the peak/);
  });

  it("the errors it states cover the scatter of a measurement", () => {
    const { fit } = driverParameters(impedanceOf({ ...woofer, k: 0.03, n: 0.65 }, grid, 0.02));
    for (const name of ["re", "fs", "qms", "qes", "k", "n"]) {
      const truth = ({ ...woofer, k: 0.03, n: 0.65 } as Record<string, number>)[name]!;
      const error = fit.relativeErrors[name]!;
      expect(error).toBeGreaterThan(1e-5);
      expect(error).toBeLessThan(0.2);
      expect(Math.abs((fit.model as unknown as Record<string, number>)[name]! / truth - 1) / error, name).toBeLessThan(4);
    }
    // Evenly spread ±2 % in each part: 0.02 · √(2/3).
    expect(fit.misfit).toBeCloseTo(0.02 * Math.sqrt(2 / 3), 2);
  });

  it("a stated Re is kept, and has no error", () => {
    const { fit, threePoint } = driverParameters(impedanceOf({ ...woofer, k: 0.03, n: 0.65 }, grid), { re: "5.5 Ω" });
    expect([fit.model.re, threePoint!.re, fit.relativeErrors["re"]]).toEqual([5.5, 5.5, 0]);
  });

  it("finds the resonance of a driver whose coil rises above the peak", () => {
    const { fit } = driverParameters(impedanceOf({ re: 6, fs: 60, qms: 2, qes: 1, k: 0.05, n: 0.75 }, grid));
    expect(fit.model.fs).toBeCloseTo(60, 3);
  });

  it("says what is missing", () => {
    const resistor = frequencyResponse(grid, grid.map(() => 6), grid.map(() => 0));
    expect(() => driverParameters(resistor)).toThrow(/resonance peak/);
    expect(() => driverParameters(impedanceOf(woofer, logGrid(100, 20000, 200)))).toThrow(/resonance peak/);
    expect(driverParameters(impedanceOf(woofer, logGrid(38, 20000, 300)), { coil: "none" }).threePointProblem).toMatch(/below the peak/);
    expect(() => driverParameters(impedanceOf(woofer, logGrid(10, 1000, 8)))).toThrow(/at least 12/);
    expect(driverParameters(impedanceOf(woofer, grid), { re: 100 }).threePointProblem).toMatch(/not above Re/);
    expect(() => driverParameters(impedanceOf(woofer, grid), { coil: "lossy" } as never)).toThrow(/one of/);
  });
});

describe("mechanical parameters", () => {
  const truth = { re: 5.8, bl: 7, mms: 0.015, cms: 0.8e-3, rms: 1.2, sd: 0.0135 };
  const { fs, qms, qes, vas } = thieleSmall(truth);
  const known = { re: truth.re, fs, qms, qes, sd: truth.sd };

  it.each([
    ["an added mass", () => parametersFromAddedMass({ ...known, addedMass: "10 g", fsWithMass: 1 / (2 * Math.PI * Math.sqrt(0.025 * 0.8e-3)) })],
    ["a known volume", () => parametersFromKnownVolume({ ...known, volume: "8 L", fc: fs * Math.sqrt(1 + vas / 0.008) })],
    ["a known volume with Q", () => parametersFromKnownVolume({ ...known, volume: "8 L", fc: fs * Math.sqrt(1 + vas / 0.008), qec: qes * Math.sqrt(1 + vas / 0.008) })],
  ])("from %s undo thieleSmall", (_name, find) => {
    const found = find();
    for (const name of ["mms", "cms", "rms", "bl"] as const) expect(found[name] / truth[name], name).toBeCloseTo(1, 9);
    expect(found.vas / vas).toBeCloseTo(1, 9);
  });

  it("refuse a mass that raises, and a box that lowers, the resonance", () => {
    expect(() => parametersFromAddedMass({ ...known, addedMass: "10 g", fsWithMass: 50 })).toThrow(/A mass lowers/);
    expect(() => parametersFromKnownVolume({ ...known, volume: "8 L", fc: 40 })).toThrow(/must stiffen/);
    expect(() => thieleSmall({ ...truth, bl: 0 })).toThrow(/above 0 T·m/);
    expect(() => thieleSmall({ ...truth, mmd: 3 } as never)).toThrow(/unknown option/);
  });
});

describe("a closed box", () => {
  it.each([0.5, Math.SQRT1_2, 1, 1.6])("with Qtc %d is 3 dB down at f3, peaks as stated, and reads Qtc at fc", (qtc) => {
    // A driver whose Q doubles and resonance doubles in a third of its Vas.
    const box = closedBox({ fs: 30, qes: qtc, qms: qtc, vas: 0.03, volume: 0.01 });
    expect([box.fc, box.qtc]).toEqual([expect.closeTo(60, 9), expect.closeTo(qtc, 9)]);
    const levels = levelDb(closedBoxResponse(logGrid(1, 10000, 4001), { fc: box.fc, qtc }));
    expect(levelDb(closedBoxResponse([box.f3], { fc: box.fc, qtc }))[0]).toBeCloseTo(-10 * Math.log10(2), 9);
    expect(levelDb(closedBoxResponse([box.fc], { fc: box.fc, qtc }))[0]).toBeCloseTo(20 * Math.log10(qtc), 9);
    expect(Math.max(0, ...levels)).toBeCloseTo(box.peakDb, 3);
  });

  it("falls 12 dB per octave, is 0 at 0 Hz and 1 far above", () => {
    const { re, im } = closedBoxResponse([0, 0.001, 0.002, 1e200], { fc: 50, qtc: 0.7 });
    expect([re[0], im[0]]).toEqual([0, 0].map((v) => expect.closeTo(v, 300)));
    expect(Math.hypot(re[2]!, im[2]!) / Math.hypot(re[1]!, im[1]!)).toBeCloseTo(4, 6);
    expect(re[3]).toBeCloseTo(1, 12);
    expect(() => closedBoxResponse([20, 10], { fc: 50, qtc: 0.7 })).toThrow(/ascending/);
  });
});

describe("fitting by least squares", () => {
  it("solves a linear problem exactly, with the textbook's standard errors", () => {
    const x = [0, 1, 2, 3, 4];
    const y = [1.1, 2.9, 5.2, 7.1, 8.7];
    const fit = fitLeastSquares(([a, b], out) => x.forEach((v, i) => (out[i] = a! + b! * v - y[i]!)), [0, 0], { count: 5 });
    const slope = x.reduce((sum, v, i) => sum + (v - 2) * y[i]!, 0) / 10;
    const offset = 5 - 2 * slope;
    expect([...fit.parameters]).toEqual([expect.closeTo(offset, 8), expect.closeTo(slope, 8)]);
    const variance = x.reduce((sum, v, i) => sum + (offset + slope * v - y[i]!) ** 2, 0) / 3;
    expect(fit.standardErrors[1]).toBeCloseTo(Math.sqrt(variance / 10), 8);
    expect(fit.standardErrors[0]).toBeCloseTo(Math.sqrt(variance * (1 / 5 + 4 / 10)), 8);
  });

  it("walks down a curved valley, and does not know a parameter that changes nothing", () => {
    const valley = fitLeastSquares(([a, b], out) => { out[0] = 10 * (b! - a! * a!); out[1] = 1 - a!; }, [-1.2, 1], { count: 2, maxIterations: 500 });
    expect([...valley.parameters]).toEqual([expect.closeTo(1, 6), expect.closeTo(1, 6)]);
    const idle = fitLeastSquares(([a], out) => { out[0] = a! - 3; out[1] = 0; }, [0, 5], { count: 2 });
    expect(idle.parameters[0]).toBeCloseTo(3, 9);
    expect(idle.standardErrors[1]).toBe(Infinity);
    expect(() => fitLeastSquares((_, out) => { out[0] = NaN; }, [1], { count: 1 })).toThrow(/finite/);
  });
});
