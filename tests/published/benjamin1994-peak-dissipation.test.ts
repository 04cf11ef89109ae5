// Source: after Benjamin (1994): peak dissipation of a class-B output stage with a reactive load.
// Provenance: recomputed (formula derived anew and confirmed by search; the paper's digits were not seen).
import { equivalentPeakDissipationResistance } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

const cases = [
  ["0", "1.000000000"],
  ["15", "0.662424076"],
  ["30", "0.470660252"],
  ["45", "0.353553391"],
  ["60", "0.278066143"],
  ["75", "0.227413611"],
  ["90", "0.192450090"],
] as const;
const z = (degrees: number) => ({ re: Math.max(0, 8 * Math.cos((degrees * Math.PI) / 180)), im: 8 * Math.sin((degrees * Math.PI) / 180) });

published("recomputed", "equivalent peak dissipation resistance", () => {
  it.each(cases)("at %s° it is %s of |Z|, for either sign of the phase", (degrees, ratio) => {
    for (const sign of [1, -1]) expectPrinted(equivalentPeakDissipationResistance(z(sign * Number(degrees))) / 8, ratio);
  });

  it("is what a search over the sine wave finds", () => {
    for (const degrees of [10, 37, 62, 88]) {
      const phi = (degrees * Math.PI) / 180;
      let peak = 0;
      for (let t = 0; t < 100000; t++) {
        const theta = (t / 100000) * Math.PI;
        // Voltage across the device times current through it, while it conducts; supply 1 V, |Z| = 1 Ω.
        const current = Math.sin(theta - phi);
        if (current > 0) peak = Math.max(peak, (1 - Math.sin(theta)) * current);
      }
      for (let t = 0; t < 100000; t++) {
        const theta = Math.PI + (t / 100000) * Math.PI;
        const current = Math.sin(theta - phi);
        if (current > 0) peak = Math.max(peak, (1 - Math.sin(theta)) * current);
      }
      // A resistor of 1 Ω dissipates at most ¼ W in the device.
      expect((equivalentPeakDissipationResistance(z(degrees)) / 8) * peak * 4).toBeCloseTo(1, 6);
    }
  });

  it("takes a whole response and refuses a source of power", () => {
    expect([...equivalentPeakDissipationResistance(frequencyResponse([10, 20], [8, 4], [0, 4]))].map((v) => Number(v.toFixed(9)))).toEqual([
      8, 2,
    ]);
    expect(() => equivalentPeakDissipationResistance({ re: -1, im: 2 })).toThrow(/at least 0 Ω/);
    expect(() => equivalentPeakDissipationResistance({ re: NaN, im: 2 })).toThrow(/finite/);
  });
});
