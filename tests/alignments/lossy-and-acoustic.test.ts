// Tests src/alignments/: acoustic-target.ts
// Tests src/alignments/ladders/: chain-transfer.ts, fit-electrical.ts, ladder-losses.ts, refit-ladder.ts
import fc from "fast-check";
import {
  acousticTarget,
  bessel,
  butterworth,
  crossover,
  highPass,
  ladder,
  legendrePapoulis,
  linkwitzRiley,
  refitLadder,
  type AcousticTargetOptions,
} from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { join, network, solve, type Entries } from "dividing-network/network";
import { closedBoxResponse, resistor } from "dividing-network/parts";
import { delayResponse, levelDb, responseOf, scaleResponse, valueAt } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";

const anyError = expect.objectContaining({ name: "DividingNetworkError" });

describe("refitLadder", () => {
  it("first order: a coil's resistance r takes L(1 + r/R) and costs R/(R + r)", () => {
    const lossy = refitLadder(ladder(butterworth(1), { pass: "low", frequency: 500, load: 8 }), { dcr: 0.7 });
    expect(lossy.parts["L1"]! / (8.7 / (2 * Math.PI * 500))).toBeCloseTo(1, 7);
    expect(lossy.levelLossDb).toBeCloseTo(20 * Math.log10(8.7 / 8), 7);
    expect(lossy.error.worstDb).toBeLessThan(1e-6);
  });

  it("makes up for the resistance of series coils exactly, but for the level, as the solver confirms", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(butterworth(2), butterworth(3), linkwitzRiley(4), bessel(4), legendrePapoulis(3)),
        fc.double({ min: 12, max: 200, noNaN: true }),
        fc.double({ min: 2, max: 16, noNaN: true }),
        (made, coilQ, load) => {
          const ideal = ladder(made, { pass: "low", frequency: 800, load });
          const lossy = refitLadder(ideal, { coilQ, at: 800 });
          const grid = logGrid(100, 6400, 61);
          const [solved, wanted] = [solve(lossy.network, grid).voltage("out"), responseOf(ideal.transfer, grid)];
          const c = 10 ** (-lossy.levelLossDb / 20);
          wanted.re.forEach((re, i) => expect(Math.hypot(solved.re[i]! / c - re, solved.im[i]! / c - wanted.im[i]!)).toBeLessThan(1e-5));
          expect(lossy.levelLossDb).toBeGreaterThan(0);
          expect(lossy.errorBefore.worstDb).toBeGreaterThan(lossy.error.worstDb);
          for (const { kind, value, loss } of lossy.elements)
            if (kind === "inductor") expect(loss / ((2 * Math.PI * 800 * value) / coilQ)).toBeCloseTo(1, 10);
        },
      ),
      { numRuns: cases(40) },
    );
  });

  it("comes nearer where exactness is out of reach: shunt coils, capacitors, sources with resistance", () => {
    for (const [options, losses] of [
      [
        { pass: "high", frequency: 2000, load: 6 },
        { coilQ: 15, at: 2000 },
      ],
      [
        { pass: "low", frequency: 300, load: 8 },
        { dcr: 0.4, esr: 0.2 },
      ],
      [
        { pass: "low", frequency: 300, load: 8 },
        { dcr: { L1: "0.3 Ω" }, dissipationFactor: 0.05 },
      ],
      [
        { pass: "band", from: 300, to: 3000, load: 8 },
        { coilQ: 30, at: 1000 },
      ],
      [{ pass: "low", frequency: 300, load: 8, sourceResistance: 1 }, { dcr: 0.5 }],
    ] as const) {
      const lossy = refitLadder(ladder(butterworth(3), options), losses);
      expect(lossy.error.worstDb).toBeLessThan(lossy.errorBefore.worstDb);
      expect(lossy.levelLossDb).toBeGreaterThan(0);
    }
  });

  it("is what it says of itself, solved with its losses", () => {
    const ideal = crossover({ family: "linkwitz-riley", order: 4, frequency: 2500, load: 8 }).highPass;
    const lossy = refitLadder(ideal, { coilQ: 25, at: 2500, dissipationFactor: 0.01 });
    const grid = logGrid(1500, 19e3, 201);
    const level = levelDb(solve(lossy.network, grid).voltage("out"));
    const wanted = levelDb(responseOf(ideal.transfer, grid));
    const off = level.map((value, i) => value - wanted[i]!).filter((_, i) => wanted[i]! > -20);
    expect((Math.max(...off) - Math.min(...off)) / 2).toBeLessThan(lossy.error.worstDb + 0.02);
  });

  it("refuses losses that are described twice, not at all, or of parts that aren't there", () => {
    const made = ladder(butterworth(2), { pass: "low", frequency: 500, load: 8 });
    for (const losses of [
      { dcr: 1, coilQ: 20, at: 500 },
      { coilQ: 20 },
      { at: 500 },
      { esr: 1, dissipationFactor: 0.1 },
      { dcr: -1 },
      { dcr: { C2: 1 } },
      { dcr: { L9: 1 } },
      { coilQ: 0, at: 500 },
      { q: 3 },
    ]) {
      expect(() => refitLadder(made, losses as never), JSON.stringify(losses)).toThrow(anyError);
    }
    expect(() => refitLadder({} as never, { dcr: 1 })).toThrow(/refitLadder: "ladder" must be a ladder/);
  });
});

describe("acousticTarget", () => {
  const base = {
    family: "linkwitz-riley",
    order: 4,
    pass: "high",
    frequency: 2000,
    load: 6,
  } as const satisfies Partial<AcousticTargetOptions>;

  it("finds the exact answer where there is one: a driver that is half of the function already", () => {
    const { best, candidates, electrical } = acousticTarget({ ...base, driver: { order: 2, frequency: 2000, q: Math.SQRT1_2 } });
    const half = ladder(butterworth(2), { pass: "high", frequency: 2000, load: 6 });
    expect(best.order).toBe(2);
    expect(best.cornerFrequency).toBeCloseTo(2000, 3);
    expect(best.error.worstDb).toBeLessThan(1e-6);
    Object.entries(half.parts).forEach(([name, value]) => expect(best.parts[name]! / value).toBeCloseTo(1, 6));
    // A third element would only run away: it is not offered.
    expect(candidates.map(({ order }) => order)).toEqual([2, 1]);
    const [exact, wanted] = [responseOf(electrical, [500, 2000, 8000]), responseOf(half.transfer, [500, 2000, 8000])];
    exact.re.forEach((re, i) => expect(Math.hypot(re - wanted.re[i]!, exact.im[i]! - wanted.im[i]!)).toBeLessThan(1e-9));
  });

  it("has an electrical function that with the driver is the acoustic one", () => {
    for (const pass of ["low", "high"] as const) {
      for (const driver of [
        { order: 1, frequency: 1500 },
        { order: 2, frequency: 900, q: 1.1 },
      ] as const) {
        const made = acousticTarget({ ...base, pass, driver });
        const grid = [200, 900, 2000, 7000];
        const [a, d, e] = [made.acoustic, made.driver, made.electrical].map((filter) => responseOf(filter, grid));
        grid.forEach((_, i) =>
          expect(
            Math.hypot(
              d!.re[i]! * e!.re[i]! - d!.im[i]! * e!.im[i]! - a!.re[i]!,
              d!.re[i]! * e!.im[i]! + d!.im[i]! * e!.re[i]! - a!.im[i]!,
            ),
          ).toBeLessThan(1e-12),
        );
      }
    }
  });

  it("makes matching slopes of a second-order network on one driver and a first-order one on the other", () => {
    // Both ways shall be Butterworth of order 3, (s + 1)(s² + s + 1): the one driver falls by itself with the second factor, the other with the first.
    const low = acousticTarget({
      family: "butterworth",
      order: 3,
      pass: "low",
      frequency: 2000,
      load: 8,
      driver: { order: 2, frequency: 2000, q: 1 },
    });
    const high = acousticTarget({
      family: "butterworth",
      order: 3,
      pass: "high",
      frequency: 2000,
      load: 8,
      driver: { order: 1, frequency: 2000 },
    });
    expect([low.best.order, high.best.order]).toEqual([1, 2]);
    for (const { best } of [low, high]) expect(best.error.worstDb).toBeLessThan(1e-6);
  });

  it("states the error that the solver finds", () => {
    const { best, driver, acoustic } = acousticTarget({ ...base, driver: { order: 2, frequency: 850, q: 1.3 } });
    const grid = logGrid(500, 30e3, 301);
    const solved = levelDb(
      solve(network(join(best.branch({ from: "in", to: "d" }), { D1: [resistor(6), "d", "gnd"] } as Entries)), grid).voltage("d"),
    );
    const [own, wanted] = [levelDb(responseOf(driver, grid)), levelDb(responseOf(acoustic, grid))];
    const off = solved.map((level, i) => Math.abs(level + own[i]! - wanted[i]!)).filter((_, i) => wanted[i]! > -24);
    expect(Math.abs(Math.max(...off) - best.error.worstDb)).toBeLessThan(0.1);
    expect(best.error.worstDb).toBeGreaterThan(0.05);
  });

  it("refuses a driver that falls as steeply by itself, and roll-offs that are none", () => {
    expect(() => acousticTarget({ ...base, family: "butterworth", order: 2, driver: { order: 2, frequency: 800, q: 1 } })).toThrow(
      /must be less steep than the function wanted, of order 2/,
    );
    for (const driver of [
      { order: 3, frequency: 800, q: 1 },
      { order: 2, frequency: 800 },
      { order: 1, frequency: 800, q: 1 },
      { order: 2, frequency: 0, q: 1 },
      { order: 2, frequency: 800, q: 0 },
      { order: 1, frequency: 800, slope: 6 },
    ]) {
      expect(() => acousticTarget({ ...base, driver } as AcousticTargetOptions), JSON.stringify(driver)).toThrow(anyError);
    }
  });
});

describe("acousticTarget of a measured driver", () => {
  const base = { family: "linkwitz-riley", order: 4, pass: "high", frequency: 2000, load: 6 } as const;
  const frequencies = logGrid(200, 40e3, 369);
  // 0.02 Pa (60 dB), 3 ms of flight, reversed: none of them is the network's matter.
  const tweeter = (fc: number, qtc: number) => scaleResponse(delayResponse(closedBoxResponse(frequencies, { fc, qtc }), "3 ms"), -0.02);

  it("whose own roll-off is half of the function needs the other half, at its own level", () => {
    const { best, levelDb, electrical } = acousticTarget({ ...base, driver: tweeter(2000, Math.SQRT1_2) });
    expect(best.order).toBe(2);
    expect(best.cornerFrequency / 2000).toBeCloseTo(1, 3);
    expect(levelDb).toBeCloseTo(20 * Math.log10(0.02), 2);
    expect(best.error.worstDb).toBeLessThan(0.02);
    // LR4 over a Butterworth of order 2 is a Butterworth of order 2.
    expect(valueAt(electrical, 2000).abs()).toBeCloseTo(Math.SQRT1_2, 3);
  });

  it("says how far driver and ladder stray, as the nodal solver finds it", () => {
    const driver = tweeter(850, 1.3);
    const { best, levelDb: level } = acousticTarget({ ...base, driver });
    const grid = logGrid(200, 32e3, 1600);
    const ladderAlone = solve(
      network(join(best.branch({ from: "in", to: "t" }) as Entries, { D1: [resistor(6), "t", "gnd"] })),
      grid,
    ).voltage("t");
    const own = levelDb(closedBoxResponse(grid, { fc: 850, qtc: 1.3 }));
    const wanted = levelDb(responseOf(highPass(linkwitzRiley(4), 2000), grid));
    const strays = levelDb(ladderAlone).map((db, i) =>
      wanted[i]! > -24 ? Math.abs(db + own[i]! + 20 * Math.log10(0.02) - wanted[i]! - level) : 0,
    );
    expect(Math.max(...strays)).toBeCloseTo(best.error.worstDb, 1);
    // A free level leaves no more than the model with its level fixed.
    expect(best.error.worstDb).toBeLessThan(acousticTarget({ ...base, driver: { order: 2, frequency: 850, q: 1.3 } }).best.error.worstDb);
    expect(Math.abs(level - 20 * Math.log10(0.02))).toBeLessThan(1);
  });

  it("must reach an octave to both sides of the corner, and be a response", () => {
    expect(() => acousticTarget({ ...base, frequency: 300, driver: tweeter(800, 0.7) })).toThrow(
      expect.objectContaining({ code: "outside-band" }),
    );
    expect(() => acousticTarget({ ...base, driver: { frequencies: [1, 2] } as never })).toThrow(
      expect.objectContaining({ code: "invalid-response" }),
    );
  });
});
