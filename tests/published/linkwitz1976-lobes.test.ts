// Source: after Linkwitz (1976) and Vanderkooy & Lipshitz (1986): nulls and tilted lobes of two drivers; after Linkwitz (1998): the dipole.
// Provenance: recomputed. Speed of sound 343 m/s.
import { dipoleSource, lobeTilt, pointSource, pressureAt, twoSourceLobes } from "dividing-network/radiation";
import { expect, it } from "vitest";
import { published } from "./standing";

const half = (digits: string): number => 0.5 * 10 ** -(digits.split(".")[1] ?? "").length;
const near = (value: number, digits: string): void =>
  expect(Math.abs(value - Number(digits))).toBeLessThanOrEqual(half(digits) * (1 + 1e-9));
const speedOfSound = 343;
const pairs = [
  [0.15, 3000, "22.402524", "10.985208"],
  [0.2, 2000, "25.388258", "12.378863"],
  [0.25, 1372, "30.000000", "14.477512"],
] as const;

published("recomputed", "two drivers far away", () => {
  it.each(pairs)("%d m apart at %d Hz have their first null at ±%s° when in phase", (spacing, frequency, angle) => {
    const { nulls, mainLobe, peakDb, nullDb } = twoSourceLobes({ spacing, frequency, air: { speedOfSound } });
    near(Math.min(...nulls.filter((found) => found > 0)), angle);
    near(Math.max(...nulls.filter((found) => found < 0)), `-${angle}`);
    expect([mainLobe, peakDb, nullDb]).toEqual([0, 0, -Infinity]);
  });

  it.each(pairs)(
    "%d m apart at %d Hz in quadrature peak by 3.0103 dB on the side of the lagging driver and cancel on the other",
    (spacing, frequency, _, angle) => {
      const lobes = twoSourceLobes({ spacing, frequency, phaseDegrees: -90, air: { speedOfSound } });
      near(lobes.mainLobe!, angle);
      near(lobes.peakDb, "3.0103");
      near(Math.max(...lobes.nulls.filter((found) => found < 0)), `-${angle}`);
      // An odd order leaves that phase: third order, the tweeter above lags by 90°; first order leads by 90°.
      near(lobeTilt({ order: 3, spacing, frequency, air: { speedOfSound } }).tilt!, angle);
      near(lobeTilt({ order: 1, spacing, frequency, air: { speedOfSound } }).tilt!, `-${angle}`);
      near(lobeTilt({ order: 3, spacing, frequency, air: { speedOfSound }, polarity: "reversed" }).tilt!, `-${angle}`);
      near(lobeTilt({ order: 3, spacing, frequency, air: { speedOfSound }, above: "low-pass" }).tilt!, `-${angle}`);
    },
  );

  it("do not tilt when even orders are connected in the right polarity", () => {
    const place = { spacing: 0.15, frequency: 3000, air: { speedOfSound } };
    expect(lobeTilt({ order: 4, ...place }).tilt).toBe(0);
    expect(lobeTilt({ order: 2, polarity: "reversed", ...place }).tilt).toBe(0);
    expect(lobeTilt({ order: 2, ...place }).phaseDegrees).toBe(180);
  });
});

published("recomputed", "a dipole of 0.3 m", () => {
  const dipole = dipoleSource(pointSource(), { path: 0.3 });
  const r = 1e5;
  const level = (frequency: number, angle = 0): number => {
    const { re, im } = pressureAt([dipole], [frequency], {
      points: [[r * Math.cos(angle), r * Math.sin(angle), 0]],
      air: { speedOfSound },
    });
    return r * Math.hypot(re[0]!, im[0]!);
  };

  it("follows 2 sin(kD/2) on its axis", () => {
    near(level(100), "0.542661");
    near(level(190.5556), "1.0000");
    near(20 * Math.log10(level(571.6667)), "6.02");
    expect(level(1143.3333)).toBeLessThan(1e-5);
  });

  it("is a figure of eight at low frequency", () => {
    for (const degrees of [30, 60, 80]) {
      const angle = (degrees * Math.PI) / 180;
      expect(Math.abs(level(2, angle) / level(2) / Math.cos(angle) - 1)).toBeLessThan(2e-5);
    }
    expect(level(2, Math.PI / 2)).toBeLessThan(1e-9);
  });
});
