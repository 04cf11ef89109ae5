// Tests src/assessment/: rising-branches.ts
// A coil L before a capacitor C across R passes 1/(1 − x + j√x/Q), x = (f/f₀)², f₀ = 1/(2π√(LC)), Q = R√(C/L). It is highest at x = 1 − 1/(2Q²), by
// Q/√(1 − 1/(4Q²)), and half of that power at 1 − 1/(2Q²) ± √(1 − 1/(4Q²))/Q.
import { describe, expect, it } from "vitest";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { risingBranches } from "../../src/assessment/rising-branches";
import { dB, flat } from "../support/synthetic";

const R = 8;
const f0 = 1000;
const w0 = 2 * Math.PI * f0;
const low = (q: number, at = w0) => ({
  L1: [inductor(R / (q * at)), "in", "w"],
  C1: [capacitor(q / (R * at)), "w", "gnd"],
  woofer: [resistor(R), "w", "gnd"],
});
const box = (network: object, more: object = {}, names: readonly string[] = ["woofer"]): Loudspeaker =>
  loudspeaker({
    network: network as never,
    drivers: names.map((name) => ({ name, role: "woofer", pressures: flat })) as never,
    ...more,
  }) as unknown as Loudspeaker;
const peak = (q: number) => dB(q / Math.sqrt(1 - 1 / (4 * q * q)));
const peakAt = (q: number) => Math.sqrt(1 - 1 / (2 * q * q));
/** The quality that the half-power points show. */
const shownQ = (q: number) => {
  const [x, half] = [1 - 1 / (2 * q * q), Math.sqrt(1 - 1 / (4 * q * q)) / q];
  return Math.sqrt(x) / (Math.sqrt(x + half) - Math.sqrt(x - half));
};

describe("a branch that rises above the source", () => {
  it.each([2, 3, 5])("of Q %d is named with its peak, its parts and its width", (q) => {
    const [found, ...rest] = risingBranches(box(low(q)));
    expect(rest).toEqual([]);
    expect(found).toMatchObject({ part: "woofer", resonating: ["L1", "C1"] });
    // 48 points an octave: the peak is at most half a step off, and lower by a few hundredths.
    expect(Math.abs(Math.log2(found!.frequency / (f0 * peakAt(q))))).toBeLessThan(1 / 90);
    expect(found!.gainDb).toBeGreaterThan(peak(q) - 0.1);
    expect(found!.gainDb).toBeLessThanOrEqual(peak(q));
    // Either end of the width is found within a step, 1.5 %.
    expect(found!.q! / shownQ(q)).toBeLessThan(1.001);
    expect(found!.q! / shownQ(q)).toBeGreaterThan(1 - 0.03 * shownQ(q));
  });

  it("is none below 1 dB, and has no width that can be seen below 3 dB: it never falls by that much towards low frequencies", () => {
    // 0.21 dB and 1.25 dB.
    expect(risingBranches(box(low(0.8)))).toEqual([]);
    const [found] = risingBranches(box(low(1)));
    expect(found!.gainDb).toBeCloseTo(peak(1), 1);
    expect(found).not.toHaveProperty("q");
  });

  it("is damped by what lies between amplifier and network", () => {
    // At f₀ the series circuit and R in parallel: with R₀ before it, |H| = Q/(1 + R₀·Q²/R): 1 for R₀ = 3 Ω and Q = 2.
    expect(risingBranches(box(low(2)))).toHaveLength(1);
    expect(risingBranches(box(low(2), { sourceImpedance: 3 }))).toEqual([]);
  });

  it("is named by the coil and the capacitor that have the most voltage there, and not by others that have next to none", () => {
    const more = {
      ...low(3),
      // At 1 kHz: 6.3 mΩ of inductance before R, and 1 nF across it.
      L0: [inductor(1e-6), "w", "x"],
      woofer: [resistor(R), "x", "gnd"],
      C0: [capacitor(1e-9), "in", "y"],
      R0: [resistor(1), "y", "gnd"],
    };
    expect(risingBranches(box(more))[0]!.resonating).toEqual(["L1", "C1"]);
    // A second, quieter resonance is another branch's, and counts for that.
    const two = {
      ...low(3),
      L2: [inductor(R / (2 * 4 * w0)), "in", "v"],
      C2: [capacitor(2 / (R * 4 * w0)), "v", "gnd"],
      second: [resistor(R), "v", "gnd"],
    };
    expect(
      risingBranches(box(two, {}, ["woofer", "second"])).map(({ part, resonating, frequency }) => [
        part,
        ...resonating,
        Math.round(frequency / 1000),
      ]),
    ).toEqual([
      ["woofer", "L1", "C1", 1],
      ["second", "L2", "C2", 4],
    ]);
  });

  it("is looked for once for a part that two drivers share", () => {
    const shared = loudspeaker({
      network: low(3) as never,
      drivers: [
        { name: "a", part: "woofer", role: "woofer", pressures: flat },
        { name: "b", part: "woofer", role: "woofer", pressures: flat },
      ] as never,
    }) as unknown as Loudspeaker;
    expect(risingBranches(shared)).toHaveLength(1);
  });

  it("is seen as far as the impedances are known, from 20 Hz on", () => {
    const measured = (from: number, to: number) =>
      driverImpedance(frequencyResponse([from, Math.sqrt(from * to), to], [R, R, R], [0, 0, 0]));
    const known = (from: number, to: number) => risingBranches(box({ ...low(3), woofer: [measured(from, to), "w", "gnd"] }));
    expect(known(500, 5000)).toHaveLength(1);
    expect(known(2000, 20_000)).toEqual([]);
    expect(known(20, 300)).toEqual([]);
    // Fewer than three frequencies are known: nothing can be said.
    expect(known(1000, 1010)).toEqual([]);
    expect(risingBranches(box(low(3, 2 * Math.PI * 25)))).toHaveLength(1);
    expect(risingBranches(box(low(3, 2 * Math.PI * 8)))[0]?.frequency ?? 20).toBeCloseTo(20, 0);
  });
});
