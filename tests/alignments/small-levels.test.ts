// Tests src/alignments/compensation/: attenuator.ts, parallel-trap.ts
// Closed forms next to 0 dB, where k − 1 is small against k, and next to the Q at which a difference vanishes: held to 50 digits.
import type { Decimal } from "decimal.js";
import {
  allPassFilter,
  attenuator,
  baffleStep,
  breakupTrap,
  bridgedTee,
  parallelTrap,
  seriesAttenuator,
  shuntAttenuator,
  shuntNotch,
} from "dividing-network/alignments";
import { lPad } from "dividing-network/parts";
import { amplitudeExcess } from "../../src/quantity/internal";
import { describe, expect, it } from "vitest";
import { exactly, Precise } from "../support/exact-decimal";

const ratio = (db: number): Decimal => new Precise(10).pow(exactly(db).div(20));
const pi = Precise.acos(-1);

/** To a few units of the last place. */
function expectAll(value: number | undefined, wanted: Decimal, what: string): void {
  expect(exactly(value!).div(wanted).sub(1).abs().toNumber(), what).toBeLessThan(2e-15);
}

const levels = [1e-15, 1e-12, 3.7e-9, 1e-6, 1e-3, 0.1, 1, 6, 19.9];

describe("what is made of k − 1 has all its digits at any level", () => {
  it.each(levels)("at %d dB", (db) => {
    const k = ratio(db);
    const load = 5.6;
    const sourceResistance = 1.7;
    const [frequency, bandwidth] = [1234.5, 321];
    const excess = k.sub(1);
    const shunted = exactly(load)
      .mul(exactly(sourceResistance))
      .div(exactly(load).add(exactly(sourceResistance)));

    expectAll(amplitudeExcess(db), excess, "amplitudeExcess");
    expectAll(amplitudeExcess(-db), k.pow(-1).sub(1), "amplitudeExcess of a negative level");
    const pad = attenuator({ attenuationDb: db, load });
    expectAll(pad.rs, excess.div(k).mul(exactly(load)), "attenuator.rs");
    expectAll(pad.rp, excess.pow(-1).mul(exactly(load)), "attenuator.rp");
    expectAll(seriesAttenuator({ attenuationDb: db, load }).rs, excess.mul(exactly(load)), "seriesAttenuator");
    expectAll(shuntAttenuator({ attenuationDb: db, load, sourceResistance }).rp, shunted.div(excess), "shuntAttenuator");
    const shelf = baffleStep({ stepDb: db, frequency, load });
    expectAll(shelf.r, excess.mul(exactly(load)), "baffleStep.r");
    expectAll(
      shelf.l,
      excess
        .mul(exactly(load))
        .div(k.sqrt())
        .div(pi.mul(2).mul(exactly(frequency))),
      "baffleStep.l",
    );
    const trap = parallelTrap({ depthDb: db, frequency, bandwidth, load });
    expectAll(trap.r, excess.mul(exactly(load)), "parallelTrap.r");
    expectAll(trap.c, excess.mul(exactly(load)).mul(pi).mul(2).mul(bandwidth).pow(-1), "parallelTrap.c");
    expectAll(breakupTrap({ peakDb: db, frequency, q: 4, load }).r, excess.mul(exactly(load)), "breakupTrap.r");
    expectAll(shuntNotch({ depthDb: db, frequency, bandwidth, load, sourceResistance }).r, shunted.div(excess), "shuntNotch.r");
  });
});

describe("attenuator and lPad", () => {
  it("give the same resistors to the last bit, and none across the load at 0 dB and next to it", () => {
    for (const attenuationDb of [...levels, 0, 5e-324, 1e-310, 40, 200]) {
      for (const load of [0.7, 4, 8.3, 600]) {
        const { rs, rp } = attenuator({ attenuationDb, load });
        const { series, shunt } = lPad({ attenuationDb, load });
        expect([rs, rp]).toEqual([series, shunt]);
        if (attenuationDb < 1e-300) expect(rp).toBeUndefined();
        else expect(Number.isFinite(rp)).toBe(true);
      }
    }
  });
});

describe("differences that vanish", () => {
  it("a bridged tee next to Q = 1 keeps the digits of its coupling and of its third coil", () => {
    for (const off of [1e-3, 1e-9, 2 ** -50]) {
      const [below, above] = [1 - off, 1 + off];
      const { K1 } = bridgedTee({ frequency: 1000, q: below, load: 8 }).parts;
      const square = (q: number): Decimal => exactly(q).pow(2);
      expectAll(K1, new Precise(1).sub(square(below)).div(square(below).add(1)), `K1 at 1 − ${off}`);
      const { L3 } = bridgedTee({ frequency: 1000, q: above, load: 8 }).parts;
      // (Lb − La)/2 with La = R/(Qω), Lb = QR/ω
      expectAll(L3, square(above).sub(1).div(exactly(above)).mul(8).div(pi.mul(4000)), `L3 at 1 + ${off}`);
    }
  });

  it("two poles next to Q = 1/2 lie as far apart as they should", () => {
    for (const off of [1e-3, 1e-9, 2 ** -51]) {
      const [q, w] = [0.5 + off, new Precise(2000).mul(pi)];
      const { im } = allPassFilter({ frequency: 1000, q }).poles[0]!;
      expectAll(Math.abs(im), w.mul(new Precise(1).sub(exactly(2 * q).pow(-2)).sqrt()), `Q = 1/2 + ${off}`);
    }
  });
});
