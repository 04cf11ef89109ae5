// Tests src/assessment/: goal.ts, partner.ts
// Tests src/assessment/spread/: spread-model.ts, tolerances.ts, variables.ts
// Tests src/network/scatter/: varying-network.ts
// Tests src/numeric/: normal-cdf.ts, percentile.ts, random.ts
// Tests src/parts/: moving-driver-law.ts
import fc from "fast-check";
import { goal, lossOf, spread } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import { sensitivities, solve, type Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import type { FrequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { normalCdf } from "../../src/numeric/internal";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { flat, measure, over, times, twoWayBox, type C } from "../support/synthetic";

const DB = 20 / Math.LN10;
/** A resistive divider before one flat driver of 0.1 Pa/V. */
const divider = (r1 = 2, r2 = 6): Loudspeaker =>
  loudspeaker({
    network: { R1: [resistor(r1), "in", "a"], dome: [resistor(r2), "a", "gnd"] },
    drivers: [{ name: "dome", role: "tweeter", pressures: flat }],
  });
const dividerLevel = (r1: number, r2: number): number => 20 * Math.log10((2.83 * 0.1 * r2) / (r1 + r2) / 20e-6);
const frequencies = [500, 1000, 2000, 4000];
const exact = { unstated: "exact", samples: 2 } as const;

/** A two-way whose drivers differ in level, so that its loss isn't 0. */
function twoWay(c = 10e-6, tweeterLevel = 1.2): Loudspeaker {
  const network: Entries = {
    L1: [inductor(0.6e-3, { dcr: 0.2 }), "in", "w"],
    C1: [capacitor(8e-6), "w", "gnd"],
    woofer: [resistor(6), "w", "gnd"],
    C2: [capacitor(c), "in", "t"],
    L2: [inductor(0.4e-3, { dcr: 0.2 }), "t", "gnd"],
    tweeter: [resistor(6), "gnd", "t"],
  };
  return twoWayBox(
    network,
    [...flat, measure(() => [0.09, -0.01], { azimuth: 20 })],
    [measure(() => [0.1 * tweeterLevel, 0]), measure(() => [0.1, 0.02], { azimuth: 20 })],
  );
}
const places = [{}, { azimuth: 20 }];

describe("what tolerances do to the sound, against closed forms", () => {
  it("a divider's level scatters as its formula says, as a uniform, triangular and normal deviation do", () => {
    const levelDb = dividerLevel(2, 6);
    const slope = (DB * 2 * 0.1) / 8;
    for (const [distribution, deviation] of [
      ["uniform", 1 / Math.sqrt(3)],
      ["triangular", 1 / Math.sqrt(6)],
      ["normal", 1 / 3],
    ] as const) {
      const { ranking, firstOrder } = spread(divider(), {
        ...exact,
        goal: { frequencies, levelDb },
        tolerances: { R1: 0.1 },
        distribution,
      });
      expect(ranking).toHaveLength(1);
      // A bell cut off at three standard deviations is 1.3 % narrower.
      expect(ranking[0]!.effectDb / (slope * deviation)).toBeCloseTo(1, distribution === "normal" ? 1 : 6);
      expect(firstOrder.pairDb).toBeCloseTo(Math.SQRT2 * ranking[0]!.effectDb, 12);
    }
  });

  it("a bell cut off at its tolerance has the standard deviation that its integral gives", () => {
    let [sum, total] = [0, 0];
    for (let i = 0; i <= 60_000; i++) {
      const x = -1 + i / 30_000;
      const weight = Math.exp((-9 * x * x) / 2) * (i === 0 || i === 60_000 ? 0.5 : 1);
      sum += weight * x * x;
      total += weight;
    }
    const { ranking } = spread(divider(), {
      ...exact,
      goal: { frequencies, levelDb: 70 },
      drivers: { dome: { levelDb: 1 } },
      distribution: "normal",
    });
    expect(ranking[0]!.effectDb).toBeCloseTo(Math.sqrt(sum / total), 5);
  });

  it("a capacitor before a resistor scatters as 1/(1 + x²) says at each frequency", () => {
    const box = loudspeaker({
      network: { C1: [capacitor(10e-6), "in", "t"], tweeter: [resistor(8), "t", "gnd"] },
      drivers: [{ name: "tweeter", role: "tweeter", pressures: flat }],
    });
    const { ranking } = spread(box, { ...exact, goal: { frequencies, levelDb: 80 }, tolerances: { C1: 0.02 } });
    const slopes = frequencies.map((f) => (DB * 0.02) / (1 + (2 * Math.PI * f * 8 * 10e-6) ** 2));
    const rms = Math.sqrt(slopes.reduce((sum, slope) => sum + slope * slope, 0) / slopes.length);
    expect(ranking[0]!.effectDb).toBeCloseTo(rms / Math.sqrt(3), 7);
  });

  it("slopes of the loss follow from the exact sensitivities of the network", () => {
    const box = twoWay();
    const grid = [700, 1500, 2500, 5000];
    const { ranking } = spread(box, {
      ...exact,
      goal: { frequencies: grid, levelDb: 80 },
      tolerances: { L1: 0.05, C1: 0.05, C2: 0.05, L2: 0.05 },
    });
    const parts = {
      L1: ["inductance", 0.6e-3],
      C1: ["capacitance", 8e-6],
      C2: ["capacitance", 10e-6],
      L2: ["inductance", 0.4e-3],
    } as const;
    const slopes = sensitivities(box.network, grid, { outputs: ["woofer", "tweeter"] });
    const { voltage } = solve(box.network, grid);
    // The tweeter is 1.2 times as loud; loss² = mean d², so ∂loss = mean(d ∂d)/loss, with ∂d = 20/ln 10 · Re(∂p/p).
    const sum = (woofer: FrequencyResponse, tweeter: FrequencyResponse, i: number): C => [
      woofer.re[i]! + 1.2 * tweeter.re[i]!,
      woofer.im[i]! + 1.2 * tweeter.im[i]!,
    ];
    const p = grid.map((_, i) => sum(voltage("woofer"), voltage("tweeter"), i));
    const d = p.map(([re, im]) => 20 * Math.log10((0.283 * Math.hypot(re, im)) / 20e-6) - 80);
    const loss = Math.sqrt(d.reduce((total, one) => total + one * one, 0) / 4);
    expect(ranking).toHaveLength(4);
    for (const { of, lossSlopeDb } of ranking) {
      const part = of[0] as keyof typeof parts;
      const [name, value] = parts[part];
      const mean =
        d.reduce(
          (total, one, i) =>
            total + one * DB * over(sum(slopes.voltage("woofer", part, name), slopes.voltage("tweeter", part, name), i), p[i]!)[0],
          0,
        ) / 4;
      expect(lossSlopeDb).toBeCloseTo((0.05 * value * mean) / loss, 7);
    }
  });

  it("a lot deviates as one: equal parts in series add up, where independent ones add by squares", () => {
    const box = loudspeaker({
      network: { R1: [resistor(1), "in", "a"], R2: [resistor(1), "a", "b"], dome: [resistor(6), "b", "gnd"] },
      drivers: [{ name: "dome", pressures: flat }],
    });
    const options = { ...exact, goal: { frequencies, levelDb: 80 }, tolerances: { R1: 0.1, R2: 0.1 } };
    const [apart, together] = [spread(box, options), spread(box, { ...options, lots: [["R1", "R2"]] })];
    expect(together.ranking.map(({ of }) => of)).toEqual([["R1", "R2"]]);
    expect(together.firstOrder.effectDb / apart.firstOrder.effectDb).toBeCloseTo(Math.SQRT2, 6);
  });

  it("a driver's level scatters evenly between its ends, and the bands show it", () => {
    const { bands, lossDb } = spread(divider(), {
      unstated: "exact",
      samples: 20_000,
      goal: { frequencies, levelDb: dividerLevel(2, 6) },
      drivers: { dome: { levelDb: 1 } },
      percentiles: [5, 50, 95],
    });
    const [low, middle, high] = bands[0]!.percentiles;
    for (let i = 0; i < frequencies.length; i++) {
      expect(bands[0]!.nominal[i]).toBeCloseTo(dividerLevel(2, 6), 10);
      // Four standard errors of a percentile of 20,000.
      expect(Math.abs(low![i]! - (dividerLevel(2, 6) - 0.9))).toBeLessThan(0.03);
      expect(Math.abs(middle![i]! - dividerLevel(2, 6))).toBeLessThan(0.06);
      expect(Math.abs(high![i]! - (dividerLevel(2, 6) + 0.9))).toBeLessThan(0.03);
    }
    // The loss is |level|: even between 0 and 1.
    expect(Math.abs(lossDb.percentiles[1]! - 0.5)).toBeLessThan(0.03);
  });
});

describe("the yield", () => {
  // Φ at 1, 2 and 3, as printed in Abramowitz and Stegun's table 26.1 (recalled).
  const PHI = { 1: 0.8413447461, 2: 0.9772498681, 3: 0.998650102 } as const;

  it("the normal distribution function has the table's digits and its own symmetry", () => {
    for (const x of [1, 2, 3] as const) {
      expect(Math.abs(normalCdf(x) - PHI[x])).toBeLessThan(5.1e-11);
      expect(normalCdf(-x)).toBeCloseTo(1 - normalCdf(x), 15);
    }
    expect(normalCdf(0)).toBe(0.5);
    expect(normalCdf(-10) / 7.619853024160527e-24).toBeCloseTo(1, 9);
    expect([normalCdf(Infinity), normalCdf(-Infinity)]).toEqual([1, 0]);
  });

  it("is the normal distribution's where the level of one driver is normal, within its interval", () => {
    for (const sigmas of [1, 2] as const) {
      const { yield: good } = spread(divider(), {
        unstated: "exact",
        samples: 20_000,
        seed: 7,
        distribution: "normal",
        goal: { frequencies, levelDb: dividerLevel(2, 6), limits: "stated" },
        drivers: { dome: { levelDb: 3 } },
        largestLossDb: sigmas,
      });
      const expected = (2 * PHI[sigmas] - 1) / (2 * PHI[3] - 1);
      expect(Math.abs(good.share - expected)).toBeLessThan(4 * Math.sqrt((expected * (1 - expected)) / 20_000));
      expect(good.interval[0]).toBeLessThan(good.share);
      expect(good.interval[1]).toBeGreaterThan(good.share);
    }
  });

  it("is the same to first order and by drawing at small spread (property)", () => {
    fc.assert(
      fc.property(uniform(0.002, 0.01), uniform(0.1, 1.5), fc.integer({ min: 0, max: 1000 }), (tolerance, sigmas, seed) => {
        const box = twoWay();
        const aim = { frequencies: [700, 1000, 1500, 2500, 4000], levelDb: 80, places };
        const options = {
          unstated: "exact",
          samples: 2000,
          seed,
          goal: aim,
          byKind: { inductor: tolerance, capacitor: tolerance },
          distribution: "normal",
        } as const;
        const slopes = spread(box, { ...options, samples: 2 }).ranking.map(({ lossSlopeDb }) => lossSlopeDb);
        const room = (sigmas * Math.hypot(...slopes)) / 3;
        const found = spread(box, { ...options, largestLossDb: lossOf(box, aim).lossDb + room });
        const loss = found.criteria.find(({ name }) => name === "loss")!;
        // Four standard errors, and what the curvature of the loss and the cut bell are worth.
        expect(Math.abs(loss.share - found.firstOrder.yield)).toBeLessThan(4 * Math.sqrt(0.25 / 2000) + 0.02);
      }),
      { numRuns: cases(10) },
    );
  });

  it("with the part exact that alone scatters, everything is good", () => {
    const { ranking, yield: good } = spread(divider(), {
      unstated: "exact",
      samples: 1000,
      goal: { frequencies, levelDb: dividerLevel(2, 6), limits: "stated" },
      tolerances: { R1: 0.2 },
      largestLossDb: 0.2,
    });
    expect(good.share).toBeLessThan(0.6);
    expect(ranking[0]!.yieldIfExact).toBe(1);
    expect(ranking[0]!.share).toBe(1);
  });

  it("doesn't count what the loudspeaker as drawn doesn't keep, and says so", () => {
    const {
      criteria,
      yield: good,
      sentences,
    } = spread(divider(), {
      unstated: "exact",
      samples: 100,
      goal: { frequencies, amplifier: { smallestImpedance: 10 } },
      tolerances: { R1: 0.1 },
    });
    expect(criteria.find(({ name }) => name === "smallestImpedance")).toMatchObject({ kept: false, share: 0, nominal: 8 });
    expect(good.share).toBe(1);
    expect(sentences.join(" ")).toMatch(/ Of 100 loudspeakers drawn within these tolerances, 100 % .* keep: at most/);
    expect(sentences.join(" ")).toMatch(/^Not kept as drawn, and so not counted in what follows: \|Z\| at least 10\.00 Ω/);
  });

  it("holds |Z| where a part takes it below the limit", () => {
    // R1 even in 2 Ω ± 10 %: half of all lie above 2 Ω.
    const { criteria, yield: good } = spread(divider(), {
      unstated: "exact",
      samples: 4000,
      goal: { frequencies, amplifier: { smallestImpedance: 8 } },
      tolerances: { R1: 0.1 },
    });
    expect(criteria.find(({ name }) => name === "smallestImpedance")!.worstSample).toBeLessThan(7.81);
    expect(Math.abs(good.share - 0.5)).toBeLessThan(0.04);
  });
});

describe("worst corners", () => {
  it("hold the true end of a divider, and all corners were looked at", () => {
    const levelDb = dividerLevel(2, 6);
    const { worst } = spread(divider(), {
      ...exact,
      goal: { frequencies, levelDb, amplifier: { smallestImpedance: 6 } },
      tolerances: { R1: 0.1 },
      drivers: { dome: { levelDb: 0.5 } },
    });
    const loss = worst.find(({ name }) => name === "loss")!;
    expect(loss.value).toBeCloseTo(0.5 + dividerLevel(1.8, 6) - levelDb, 9);
    expect(loss.searched).toBe("all corners");
    expect(loss.ends).toContainEqual({ of: ["R1"], quantity: "resistance", end: -1 });
    expect(loss.ends).toContainEqual({ of: ["dome"], quantity: "levelDb", end: 1 });
    expect(worst.find(({ name }) => name === "smallestImpedance")!.value).toBeCloseTo(7.8, 9);
  });

  it("beyond eleven things that scatter, a search finds at least the worst sample and says that it is a search", () => {
    const entries: Record<string, unknown> = {};
    for (let i = 0; i < 12; i++) entries[`R${i}`] = [resistor(0.2), i === 0 ? "in" : `n${i - 1}`, `n${i}`];
    const box = loudspeaker({
      network: { ...entries, dome: [resistor(6), "n11", "gnd"] } as never,
      drivers: [{ name: "dome" as never, pressures: flat }],
    });
    const found = spread(box, {
      unstated: "exact",
      samples: 500,
      goal: { frequencies, levelDb: dividerLevel(2.4, 6) },
      byKind: { resistor: 0.1 },
    });
    expect(found.ranking).toHaveLength(12);
    const loss = found.worst[0]!;
    expect(loss.searched).toBe("best found");
    expect(loss.value).toBeGreaterThanOrEqual(found.criteria[0]!.worstSample);
    // All twelve down; the driver, a resistor here, is no part that is bought.
    expect(loss.value).toBeCloseTo(dividerLevel(2.16, 6) - dividerLevel(2.4, 6), 9);
  });
});

const changed = (network: Entries, part: string, value: number): Entries => {
  const [old, ...nodes] = network[part]!;
  return {
    ...network,
    [part]: [{ ...old, ...(old.kind === "inductor" ? { inductance: value } : { capacitance: value }) }, ...nodes],
  } as Entries;
};

describe("samples are heard as lossOf hears them", () => {
  it("the corner of one part is the loss of the network with that part, third-octave levels included", () => {
    const box = twoWay();
    for (const aim of [
      goal({ band: { from: 400, to: 8000 }, places }),
      goal({ frequencies: [700, 1500, 3000], places: [{ levelDb: 78 }, { azimuth: 20, weight: 2 }] }),
    ]) {
      const { worst, lossDb } = spread(box, { ...exact, goal: aim, tolerances: { C2: 0.2 } });
      const ends = [0.8, 1.2].map((factor) => lossOf({ ...box, network: changed(box.network, "C2", 10e-6 * factor) }, aim).lossDb);
      expect(lossDb.nominal).toBe(lossOf(box, aim).lossDb);
      // 24 points an octave and straight lines against monotone cubics: some thousandths of a decibel.
      expect(Math.abs(worst[0]!.value - Math.max(...ends))).toBeLessThan(aim.frequencies === undefined ? 0.005 : 1e-9);
    }
  });

  it("a driver that deviates in level, delay, resonance and Q is one with that impedance and those pressures", () => {
    const [fs, qms, qes] = [900, 2.5, 1.2];
    const part = (a: number, b: number) => driverImpedance({ re: 5, le: 40e-6, fs: fs * a, qms: qms * b, qes: qes * b });
    const high = (f: number, a: number, b: number): C => {
      const u = f / (fs * a);
      return over([-u * u, 0], [1 - u * u, u / ((b * qms * qes) / (qms + qes))]);
    };
    const box = (a: number, b: number, gainDb: number, delay: number): Loudspeaker =>
      loudspeaker({
        network: { woofer: [resistor(6), "in", "gnd"], C1: [capacitor(10e-6), "in", "t"], tweeter: [part(a, b), "t", "gnd"] },
        drivers: [
          { name: "woofer", role: "woofer", pressures: flat },
          {
            name: "tweeter",
            role: "tweeter",
            pressures: [
              measure((f) =>
                times(times([0.1 * 10 ** (gainDb / 20), 0], high(f, a, b)), [
                  Math.cos(2 * Math.PI * f * delay),
                  -Math.sin(2 * Math.PI * f * delay),
                ]),
              ),
            ],
          },
        ],
        sourceImpedance: 0.2,
      });
    const aim = goal({ frequencies: [300, 600, 900, 1200, 2000, 5000], levelDb: 83, limits: "stated" });
    const { worst } = spread(box(1, 1, 0, 0), {
      ...exact,
      goal: aim,
      drivers: { tweeter: { levelDb: 1, resonance: 0.15, q: 0.2, delay: 2e-5 } },
    });
    const end = (quantity: string): number => worst[0]!.ends.find((one) => one.quantity === quantity)!.end;
    const other = box(1 + 0.15 * end("resonance"), 1 + 0.2 * end("q"), end("levelDb"), 2e-5 * end("delay"));
    expect(worst[0]!.ends).toHaveLength(4);
    expect(worst[0]!.value).toBeCloseTo(lossOf(other, aim).lossDb, 7);
  });

  it("a measured driver's resonance moves by what a fit of its peak says", () => {
    const modelled = driverImpedance({ re: 5, fs: 900, qms: 2.5, qes: 1.2 });
    const measured = driverImpedance(
      measure((f) => {
        const u = 2.5 * (f / 900 - 900 / f);
        return [5 + (5 * 2.5) / 1.2 / (1 + u * u), (-u * 5 * 2.5) / 1.2 / (1 + u * u)];
      }).response,
    );
    const box = (part: ReturnType<typeof driverImpedance>): Loudspeaker =>
      loudspeaker({
        network: { C1: [capacitor(10e-6), "in", "t"], tweeter: [part, "t", "gnd"] },
        drivers: [{ name: "tweeter", role: "tweeter", pressures: flat }],
      });
    const options = {
      ...exact,
      goal: { frequencies: [300, 600, 900, 1200, 2000, 5000], limits: "stated" },
      drivers: { tweeter: { resonance: 0.1, q: 0.1 } },
    } as const;
    const [a, b] = [spread(box(modelled), options), spread(box(measured), options)];
    expect(b.ranking.map(({ quantity }) => quantity).sort()).toEqual(["q", "resonance"]);
    for (const { quantity, effectDb } of a.ranking)
      expect(b.ranking.find((one) => one.quantity === quantity)!.effectDb).toBeCloseTo(effectDb, 4);
  });
});

describe("left and right", () => {
  it("differ as two independent draws do, and not at all where everything is matched", () => {
    const levelDb = dividerLevel(2, 6);
    const found = spread(divider(), {
      unstated: "exact",
      samples: 20_000,
      goal: { frequencies, levelDb },
      drivers: { dome: { levelDb: 1 } },
      matched: ["dome"],
    });
    // The difference of two even deviations within ±1 has the density of a triangle: half of them are below 2 − √2, 95 % below 2 − √0.2.
    expect(Math.abs(found.pair.balanceDb.median - (2 - Math.SQRT2))).toBeLessThan(0.03);
    expect(Math.abs(found.pair.balanceDb.most - (2 - Math.sqrt(0.2)))).toBeLessThan(0.03);
    expect(Math.abs(found.pair.curveDb[0]! - Math.sqrt(2 / 3))).toBeLessThan(0.02);
    expect(found.matchedPair!.rmsDb).toEqual({ median: 0, most: 0 });
    expect(found.ranking[0]!.pairIfMatchedDb).toBe(0);
  });
});

describe("what is assumed and what is refused", () => {
  it("assumes tolerances and says which; with unstated: exact nothing scatters", () => {
    const found = spread(twoWay(), { goal: { places }, samples: 50 });
    expect(found.assumed.join("; ")).toContain("±5 % of");
    expect(found.assumed.join("; ")).toContain("±1 dB of the level of");
    expect(found.assumed.join("; ")).toContain("the resonance and Q of woofer stay");
    const none = spread(twoWay(), { goal: { places }, ...exact });
    expect(none.ranking).toEqual([]);
    expect(none.yield.share).toBe(1);
    expect(none.sentences[0]).toContain("Nothing scatters");
    expect(none.pair.rmsDb.most).toBe(0);
  });

  it("is the same for the same seed, holds no NaN, and changes nothing it was given", () => {
    const box = twoWay();
    const before = JSON.stringify(box);
    const [a, b, c] = [1, 1, 2].map((seed) => spread(box, { goal: { places }, samples: 64, seed }));
    expect(a).toEqual(b);
    expect(a!.lossDb.percentiles).not.toEqual(c!.lossDb.percentiles);
    expect(JSON.stringify(a)).not.toMatch(/null/);
    expect(JSON.stringify(box)).toBe(before);
  });

  it("refuses what can't be, with the way out", () => {
    const box = twoWay();
    const refused = (options: object, code: string, words: string) =>
      expect(() => spread(box, options)).toThrow(
        expect.objectContaining({ code, message: expect.stringContaining(words) as string }) as Error,
      );
    refused({ tolerances: { C9: 0.1 } }, "unknown-option", "C9");
    refused({ tolerances: { C1: 1 } }, "invalid-argument", "C1");
    refused({ drivers: { dome: {} } }, "unknown-option", "dome");
    refused({ drivers: { woofer: { levelDb: -1 } }, goal: {} }, "invalid-argument", "drivers.woofer.levelDb");
    refused({ lots: [["C1", "L1"]] }, "invalid-argument", "one kind");
    refused({ lots: [["C1"], ["C1"]] }, "invalid-argument", "one lot at most");
    refused({ lots: [["C7"]] }, "unknown-part", "C7");
    refused({ matched: ["C7"] }, "unknown-part", "C7");
    refused({ samples: 1 }, "invalid-argument", "samples");
    refused({ tolerance: {} }, "unknown-option", "tolerance");
    refused({ goal: { places: [{ azimuth: 45 }] } }, "not-measured", "45");
    const driven = { ...box, network: { ...box.network, tweeter: [driverImpedance({ re: 6 }), "t", "gnd"] } } as Loudspeaker;
    expect(() => spread(driven, { tolerances: { tweeter: { re: 0.1 } } })).toThrow(/got the driver "tweeter"/);
    expect(() => spread(box, { signal: { aborted: true }, samples: 10 })).toThrow(expect.objectContaining({ code: "aborted" }) as Error);
  });
});
