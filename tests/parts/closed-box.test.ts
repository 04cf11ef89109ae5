import { logGrid } from "dividing-network/numeric";
import { closedBox, closedBoxResponse } from "dividing-network/parts";
import { levelDb, phaseDegrees } from "dividing-network/response";
import { describe, expect, it } from "vitest";

describe("a closed box", () => {
  it.each([0.5, Math.SQRT1_2, 0.72, 1, 1.6])("with Qtc %d is 3 dB down at f3, peaks as stated, and reads Qtc at fc", (qtc) => {
    // A driver whose Q doubles and resonance doubles in a third of its Vas.
    const box = closedBox({ fs: 30, qes: qtc, qms: qtc, vas: 0.03, volume: 0.01 });
    expect([box.fc, box.qtc]).toEqual([expect.closeTo(60, 9), expect.closeTo(qtc, 9)]);
    const levels = levelDb(closedBoxResponse(logGrid(1, 10000, 4001), { fc: box.fc, qtc }));
    expect(levelDb(closedBoxResponse([box.f3], { fc: box.fc, qtc }))[0]).toBeCloseTo(-10 * Math.log10(2), 9);
    expect(levelDb(closedBoxResponse([box.fc], { fc: box.fc, qtc }))[0]).toBeCloseTo(20 * Math.log10(qtc), 9);
    expect(Math.max(0, ...levels)).toBeCloseTo(box.peakDb, 3);
  });

  it("raises fs and each Q by √(1 + Vas/Vb), and records how", () => {
    const box = closedBox({ fs: "30 Hz", qes: 0.4, qms: 3, vas: "50 L", volume: "20 L" });
    const raised = Math.sqrt(3.5);
    expect([box.alpha, box.fc, box.qec, box.qmc]).toEqual(
      [2.5, 30 * raised, 0.4 * raised, 3 * raised].map((value) => expect.closeTo(value, 12)),
    );
    expect(1 / box.qtc).toBeCloseTo(1 / (0.4 * raised) + 1 / (3 * raised), 12);
    expect(box.working.map(({ symbol, value, unit }) => [symbol, value, unit])).toEqual([
      ["α", box.alpha, ""],
      ["fc", box.fc, "Hz"],
      ["Qec", box.qec, ""],
      ["Qmc", box.qmc, ""],
      ["Qtc", box.qtc, ""],
      ["b", expect.closeTo(1 / (2 * box.qtc ** 2) - 1, 12), ""],
      ["f₃", box.f3, "Hz"],
    ]);
    for (const { formula, tex, source } of box.working)
      expect([formula !== "", tex.includes("="), source]).toEqual([true, true, expect.stringContaining("after Small (1972)")]);
    expect(Object.isFrozen(box)).toBe(true);
  });

  it("has no peak up to Qtc = 1/√2, and one above", () => {
    const peak = (qtc: number) => closedBox({ fs: 30, qes: qtc, qms: qtc, vas: 0.03, volume: 0.01 }).peakDb;
    expect([peak(0.3), peak(0.7)]).toEqual([0, 0]);
    expect(peak(0.71)).toBeGreaterThan(0);
  });

  it("is the second-order high-pass of its fc and Qtc, in level and phase", () => {
    const [fc, qtc] = [52, 0.9];
    const grid = logGrid(5, 500, 101);
    const response = closedBoxResponse(grid, { fc, qtc });
    const [level, phase] = [levelDb(response), phaseDegrees(response)];
    grid.forEach((f, i) => {
      // By polar coordinates: |H| = x²/√((1 − x²)² + (x/Q)²), its phase 180° − arg(1 − x² + jx/Q).
      const x = f / fc;
      expect(level[i]).toBeCloseTo(20 * Math.log10(x ** 2 / Math.hypot(1 - x ** 2, x / qtc)), 9);
      expect(phase[i]).toBeCloseTo(180 - (Math.atan2(x / qtc, 1 - x ** 2) * 180) / Math.PI, 9);
    });
    expect(response.frequencies).toEqual(grid);
  });

  it("falls 12 dB per octave, is 0 at 0 Hz and 1 far above", () => {
    const { re, im } = closedBoxResponse([0, 0.001, 0.002, 1e200], { fc: 50, qtc: 0.7 });
    expect([re[0], im[0]]).toEqual([0, 0]);
    expect(Math.hypot(re[2]!, im[2]!) / Math.hypot(re[1]!, im[1]!)).toBeCloseTo(4, 6);
    expect(re[3]).toBeCloseTo(1, 12);
  });

  it("refuses by name what is no box, and frequencies that do not ascend", () => {
    const given = { fs: 30, qes: 0.4, qms: 3, vas: 0.05, volume: 0.02 };
    for (const name of Object.keys(given))
      for (const value of [0, -1, NaN])
        expect(() => closedBox({ ...given, [name]: value }), name).toThrow(new RegExp(`"${name}" must be a finite number above 0`));
    expect(() => closedBox({ ...given, vb: 3 } as never)).toThrow(/unknown option/);
    for (const frequencies of [[20, 10], [20, 20], [-1, 10], [10, Infinity], [NaN]])
      expect(() => closedBoxResponse(frequencies, { fc: 50, qtc: 0.7 })).toThrow(/"frequencies" must be at least 0 Hz and ascending/);
    for (const name of ["fc", "qtc"])
      expect(() => closedBoxResponse([10], { fc: 50, qtc: 0.7, [name]: 0 })).toThrow(new RegExp(`"${name}"`));
    expect(() => closedBoxResponse([10], { fc: 50, qtc: 0.7, fs: 3 } as never)).toThrow(/unknown option/);
    for (const frequencies of ["20", 20, null, undefined, { length: 1, 0: 20 }])
      expect(() => closedBoxResponse(frequencies as never, { fc: 50, qtc: 0.7 })).toThrow(/"frequencies"/);
    expect(closedBoxResponse([], { fc: 50, qtc: 0.7 }).frequencies).toHaveLength(0);
  });
});
