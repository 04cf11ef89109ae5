// Tests src/parts/: driver-motion.ts
// How far a cone moves: the deflection by direct voltage, the closed form at resonance and far above, and the level that a network makes of it.
import { closedBox, displacementLevelDb, displacementPerVolt, driverImpedance, thieleSmall } from "dividing-network/parts";
import { solve } from "dividing-network/network";
import { magnitude, valueAt } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";

const near = (found: number, wanted: number, relative: number) =>
  expect(Math.abs(found / wanted - 1), `${found} against ${wanted}`).toBeLessThan(relative);
/** Of ../shared values ts.closed, recomputed: deflection 0.96551724 mm/V, fs 45.944075 Hz. */
const woofer = { re: 5.8, bl: 7, mms: 0.015, cms: 0.8e-3, rms: 1.2 };

describe("displacementPerVolt", () => {
  it("is Bl·Cms/Re at 0 Hz", () => {
    expect((1000 * valueAt(displacementPerVolt([0], woofer), 0).re).toFixed(8)).toBe("0.96551724");
  });

  it("is the same by resonance, Q and mass, or force factor", () => {
    const { fs, qms, qes } = thieleSmall({ ...woofer, sd: 0.0135 });
    const grid = [0, 20, fs, 300, 5000];
    const [a, b, c] = [
      displacementPerVolt(grid, woofer),
      displacementPerVolt(grid, { re: 5.8, fs, qms, qes, mms: "15 g" }),
      displacementPerVolt(grid, { re: 5.8, fs, qms, qes, bl: 7 }),
    ];
    grid.forEach((_, i) =>
      [b, c].forEach((other) => {
        near(Math.hypot(other.re[i]!, other.im[i]!), Math.hypot(a.re[i]!, a.im[i]!), 1e-12);
      }),
    );
  });

  it("at the resonance is the speed that the back voltage leaves, U/(ωBl)·Qms/(Qms + Qes), a quarter of a period late", () => {
    const { fs, qms, qes } = thieleSmall({ ...woofer, sd: 0.0135 });
    const x = displacementPerVolt([fs], woofer);
    near(-x.im[0]!, (1 / (2 * Math.PI * fs * 7)) * (qms / (qms + qes)), 1e-12);
    expect(Math.abs(x.re[0]! / x.im[0]!)).toBeLessThan(1e-12);
  });

  it("is (U − I·Ze)/(jωBl), with the current of the impedance that the same numbers make", () => {
    fc.assert(
      fc.property(
        uniform(0.5, 15),
        uniform(0.2, 2),
        uniform(20, 2000),
        uniform(0.0002, 0.05),
        uniform(0, 1e-3),
        uniform(10, 20_000),
        (qms, qes, fs, mms, le, frequency) => {
          const z = solve({ d: [driverImpedance({ re: 6, le, fs, qms, qes }), "in", "gnd"] }, [frequency]).impedance;
          const omega = 2 * Math.PI * frequency;
          const bl = Math.sqrt((2 * Math.PI * fs * mms * 6) / qes);
          // U = 1: I = 1/Z, and what remains after Ze is the back voltage Bl·jωx.
          const size = z.re[0]! ** 2 + z.im[0]! ** 2;
          const [ir, ii] = [z.re[0]! / size, -z.im[0]! / size];
          const back = [1 - (ir * 6 - ii * omega * le), 0 - (ir * omega * le + ii * 6)] as const;
          const x = displacementPerVolt([frequency], { re: 6, le, fs, qms, qes, mms });
          // The difference loses digits where the back voltage is small.
          expect(Math.abs(x.re[0]! * omega * bl - back[1])).toBeLessThan(1e-9);
          expect(Math.abs(-x.im[0]! * omega * bl - back[0])).toBeLessThan(1e-9);
        },
      ),
      { numRuns: cases(200) },
    );
  });

  it("far above the resonance makes the level of the driver's sensitivity", () => {
    // Source: after Small (1972) and the monopole in a baffle, two ways to one number.
    const { sensitivity } = thieleSmall({ ...woofer, sd: 0.0135 });
    const x = magnitude(displacementPerVolt([3000], woofer))[0]!;
    expect(
      Math.abs(displacementLevelDb({ displacement: Math.SQRT2 * x * Math.sqrt(8), sd: 0.0135, frequency: 3000 }) - sensitivity.for2V83Db),
    ).toBeLessThan(0.02);
  });

  it("in a closed box is less below the box's resonance, by the stiffness of the air", () => {
    const { fs, qms, qes, vas } = thieleSmall({ ...woofer, sd: 0.0135 });
    const box = closedBox({ fs, qes, qms, vas, volume: "10 L" });
    const [free, boxed] = [
      displacementPerVolt([0], woofer),
      displacementPerVolt([0], { re: 5.8, fs: box.fc, qms: box.qmc, qes: box.qec, mms: 0.015 }),
    ];
    near(free.re[0]! / boxed.re[0]!, 1 + box.alpha, 1e-9);
  });

  it("refuses constants that say too little, too much, or nothing", () => {
    const refused = (driver: object) =>
      expect(() => displacementPerVolt([100], driver as never), JSON.stringify(driver)).toThrow(
        expect.objectContaining({ name: "DividingNetworkError" }),
      );
    const q = { re: 6, fs: 50, qms: 3, qes: 0.5 };
    for (const wrong of [
      q,
      { ...q, bl: 7, mms: 0.01 },
      { ...q, bl: 7, cms: 1e-3 },
      { ...woofer, cms: undefined },
      { ...woofer, qms: 3 },
      { ...woofer, re: 0 },
      { ...woofer, sd: 0.01 },
      { ...q, mms: "15 V" },
      {},
    ])
      refused(wrong);
    for (const far of [
      { ...woofer, le: 1e308 },
      { ...woofer, re: 1e300, mms: 1e300 },
    ])
      expect(() => displacementPerVolt([100], far)).toThrow(expect.objectContaining({ code: "overflow" }));
    expect(() => displacementPerVolt([-1], woofer)).toThrow(expect.objectContaining({ code: "invalid-argument" }));
  });
});
