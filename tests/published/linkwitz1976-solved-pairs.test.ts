// Source: definitions for Butterworth; after Linkwitz (1976) and Lipshitz and Vanderkooy (1986) for the sums; textbook algebra
// for the series network and the three-way network of first order.
// Where: what the drivers of two-way networks receive, as the solver finds it from the parts, against transfer functions in
// closed form; coincident drivers, resistive loads.
// Provenance: recomputed, all of them.
import { network, solve } from "dividing-network/network";
import { capacitor, inductor, lPad, resistor } from "dividing-network/parts";
import { levelDb, phaseDegrees } from "dividing-network/response";
import fc from "fast-check";
import { expect, it } from "vitest";
import { uniform } from "../support/uniform";
import { expectPrinted } from "./printed";
import { published } from "./standing";
import { denominatorAt, names, orderOf, over, powerOf, twoWay, type C, type Name } from "./two-way";
import { cases } from "../support/cases";

const load = uniform(2, 32);
const corner = uniform(50, 10_000);
const ratio = uniform(-2, 2).map((decades) => 10 ** decades);

function drives(name: Name, f: number, r: number, frequency: number): { readonly low: C; readonly high: C } {
  const sweep = solve(twoWay(name, f, f, r), [frequency]);
  const at = (driver: string): C => [sweep.voltage(driver).re[0]!, sweep.voltage(driver).im[0]!];
  return { low: at("woofer"), high: at("tweeter") };
}

const levelOf = ([re, im]: C): number => 20 * Math.log10(Math.hypot(re, im));

published("recomputed", "what the drivers of a two-way network receive (Linkwitz 1976)", () => {
  it("is 1/B(s) and sⁿ/B(s), for orders 1 to 4, at every load and frequency", () => {
    fc.assert(
      fc.property(fc.constantFrom(...names), load, corner, ratio, (name, r, f, x) => {
        const b = denominatorAt(name, x);
        const { low, high } = drives(name, f, r, f * x);
        const [expectedLow, expectedHigh] = [over([1, 0], b), over(powerOf(x, orderOf(name)), b)];
        expect(Math.hypot(low[0] - expectedLow[0], low[1] - expectedLow[1])).toBeLessThan(1e-9);
        expect(Math.hypot(high[0] - expectedHigh[0], high[1] - expectedHigh[1])).toBeLessThan(1e-9);
        // Far into the stop band too, relative to what is left there.
        expect(Math.hypot(low[0] - expectedLow[0], low[1] - expectedLow[1])).toBeLessThan(1e-9 * Math.hypot(...expectedLow));
        expect(Math.hypot(high[0] - expectedHigh[0], high[1] - expectedHigh[1])).toBeLessThan(1e-9 * Math.hypot(...expectedHigh));
      }),
      { numRuns: cases(400) },
    );
  });

  it.each([
    ["BW1", "-3.0103"],
    ["BW2", "-3.0103"],
    ["BW3", "-3.0103"],
    ["BW4", "-3.0103"],
    ["LR2", "-6.0206"],
    ["LR4", "-6.0206"],
  ] as const)("%s: %s dB at the corner", (name, printed) => {
    const sweep = solve(twoWay(name, 3000, 3000, 8), [3000]);
    expectPrinted(levelDb(sweep.voltage("woofer"))[0], printed);
    expectPrinted(levelDb(sweep.voltage("tweeter"))[0], printed);
  });

  it.each([
    ["BW2", "-12.304489", "-136.68614"],
    ["BW3", "-18.129134", "-209.74488"],
    ["BW4", "-24.099331", "-282.03679"],
  ] as const)("%s: the low-pass an octave above its corner is at %s dB and %s°", (name, db, degrees) => {
    const woofer = solve(twoWay(name, 1000, 1000, 8), [2000]).voltage("woofer");
    expectPrinted(levelDb(woofer)[0], db);
    const wrapped = phaseDegrees(woofer)[0]!;
    expectPrinted(wrapped > 0 ? wrapped - 360 : wrapped, degrees);
  });

  it.each([
    ["BW1", -90],
    ["BW2", -180],
    ["BW3", 90],
    ["BW4", 0],
    ["LR2", -180],
    ["LR4", 0],
  ] as const)("%s: the branches differ by %d° at every frequency", (name, degrees) => {
    fc.assert(
      fc.property(load, corner, ratio, (r, f, x) => {
        const { low, high } = drives(name, f, r, f * x);
        const [re, im] = over(low, high);
        const turned = over([re, im], [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)]);
        expect(Math.abs(Math.atan2(turned[1], turned[0])) * (180 / Math.PI)).toBeLessThan(1e-9);
      }),
      { numRuns: cases(50) },
    );
  });

  it.each([
    ["BW1", 1],
    ["BW3", 1],
    ["BW3", -1],
    ["LR2", -1],
    ["LR4", 1],
  ] as const)("%s, tweeter by %d: the sum is flat", (name, polarity) => {
    fc.assert(
      fc.property(load, corner, ratio, (r, f, x) => {
        const { low, high } = drives(name, f, r, f * x);
        expect(Math.abs(levelOf([low[0] + polarity * high[0], low[1] + polarity * high[1]]))).toBeLessThan(1e-9);
      }),
      { numRuns: cases(50) },
    );
  });

  it("of even Butterworth order sums 3.0103 dB high at the corner, and the second order in equal polarity to nothing", () => {
    for (const [name, polarity] of [
      ["BW2", -1],
      ["BW4", 1],
    ] as const) {
      const { low, high } = drives(name, 3000, 8, 3000);
      expectPrinted(levelOf([low[0] + polarity * high[0], low[1] + polarity * high[1]]), "3.0103");
    }
    const { low, high } = drives("BW2", 3000, 8, 3000);
    expect(Math.hypot(low[0] + high[0], low[1] + high[1])).toBeLessThan(1e-12);
  });

  it("carries the power of one driver for Butterworth, and half of it at the corner for Linkwitz–Riley", () => {
    fc.assert(
      fc.property(fc.constantFrom<Name>("BW1", "BW2", "BW3", "BW4"), load, corner, ratio, (name, r, f, x) => {
        const { low, high } = drives(name, f, r, f * x);
        expect(Math.abs(Math.hypot(...low, ...high) ** 2 - 1)).toBeLessThan(1e-9);
      }),
      { numRuns: cases(50) },
    );
    for (const name of ["LR2", "LR4"] as const) {
      const { low, high } = drives(name, 3000, 8, 3000);
      expectPrinted(20 * Math.log10(Math.hypot(...low, ...high)), "-3.0103");
    }
  });

  it("of a series-connected network of first order is that of the parallel one, and it presents R", () => {
    fc.assert(
      fc.property(load, corner, ratio, (r, f, x) => {
        const w = 2 * Math.PI * f;
        const series = network({
          woofer: [resistor(r), "in", "m"],
          C1: [capacitor(1 / (w * r)), "in", "m"],
          tweeter: [resistor(r), "m", "gnd"],
          L1: [inductor(r / w), "m", "gnd"],
        });
        const sweep = solve(series, [f * x]);
        const [low, high] = [over([1, 0], [1, x]), over([0, x], [1, x])];
        expect(Math.hypot(sweep.voltage("woofer").re[0]! - low[0], sweep.voltage("woofer").im[0]! - low[1])).toBeLessThan(1e-12);
        expect(Math.hypot(sweep.voltage("tweeter").re[0]! - high[0], sweep.voltage("tweeter").im[0]! - high[1])).toBeLessThan(1e-12);
        expect(Math.hypot(sweep.impedance.re[0]! - r, sweep.impedance.im[0]!)).toBeLessThan(1e-12 * r);
      }),
    );
  });

  // H_low + g·H_mid + H_high = 1 with H_mid = s(ω_L + ω_H)/((s + ω_L)(s + ω_H)) and g = (ω_H − ω_L)/(ω_H + ω_L): an L-pad, which
  // leaves the mid-range branch its load, makes the three branches' sum exact.
  it.each([
    [8, "-2.182889"],
    [10, "-1.743004"],
  ] as const)("of a three-way network of first order with corners %d:1 sums to 1 when the mid-range is at %s dB", (spread, printed) => {
    const [r, low] = [8, 400];
    const [wl, wh] = [2 * Math.PI * low, 2 * Math.PI * low * spread];
    const attenuationDb = -20 * Math.log10((wh - wl) / (wh + wl));
    expectPrinted(-attenuationDb, printed);
    const threeWay = network({
      L1: [inductor(r / wl), "in", "w"],
      woofer: [resistor(r), "w", "gnd"],
      C2: [capacitor((wl + wh) / (wl * wh * r)), "in", "x"],
      L2: [inductor(r / (wl + wh)), "x", "y"],
      pad: [lPad({ attenuationDb, load: r }), "y", "m", "gnd"],
      midrange: [resistor(r), "m", "gnd"],
      C3: [capacitor(1 / (wh * r)), "in", "t"],
      tweeter: [resistor(r), "t", "gnd"],
    });
    const sweep = solve(threeWay, [20, 200, 400, 1000, low * spread, 20_000]);
    const [w, m, t] = [sweep.voltage("woofer"), sweep.voltage("midrange"), sweep.voltage("tweeter")];
    w.re.forEach((re, i) => expect(Math.hypot(re + m.re[i]! + t.re[i]! - 1, w.im[i]! + m.im[i]! + t.im[i]!)).toBeLessThan(1e-12));
  });
});
