// Tests src/assessment/spread/: drawn-losses.ts, spread.ts, spread-ground.ts, spread-model.ts, variables.ts
// Whole answers of `spread` on dividers and single drivers: by closed forms, and by the library's own random numbers, drawn here once more.
import { describe, expect, it } from "vitest";
import { goal, lossOf, spread, type GoalOptions } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { drawnLosses } from "../../src/assessment/spread/drawn-losses";
import { deviations } from "../../src/network/internal";
import { seededRandom } from "../../src/numeric/internal";
import { flat, measure } from "../support/synthetic";

const list = (values: ArrayLike<number>) => Array.from(values);

describe("what is to be expected", () => {
  const box = loudspeaker({
    network: { R1: [resistor(2), "in", "a"], dome: [resistor(6), "a", "gnd"] },
    drivers: [{ name: "dome", role: "tweeter", pressures: flat }],
  }) as unknown as Loudspeaker;
  const level = 20 * Math.log10((2.83 * 0.1 * 6) / 8 / 20e-6);
  const held = { largestLossDb: 0.5, found: undefined, rated: undefined };
  const told = { tolerances: { R1: 0.1 }, drivers: { dome: { levelDb: 1 } }, unstated: "exact", distribution: "uniform", seed: 7 } as const;
  /** dB by which a loudspeaker with these deviations is off. */
  const off = (driver: number, part: number) => driver - 20 * Math.log10((8 + 0.2 * part) / 8);
  /** Deviations of the pairs, by the library's own numbers: drivers first, whatever the network holds. */
  const pairs = (count: number) =>
    Array.from({ length: count }, (_, pair) => {
      const draw = deviations(seededRandom(7 + Math.imul(pair, 0x27d4eb2f)), "uniform");
      return [draw(), draw()] as const;
    });

  it("is the root mean square of losses, every second loudspeaker the mirror image of the one before", () => {
    for (const samples of [2, 4, 5]) {
      const found = drawnLosses("x", box, goal({ frequencies: [500, 1000], levelDb: level, limits: "stated" }), { ...told, samples }, held);
      const each = pairs(3).flatMap(([driver, part]) => [off(driver, part), off(-driver, -part)]).slice(0, samples); // prettier-ignore
      expect(found.expectedLossDb).toBeCloseTo(Math.sqrt(each.reduce((sum, loss) => sum + loss * loss, 0) / samples), 9);
      expect(found.good).toBe(each.filter((loss) => Math.abs(loss) <= 0.5).length / samples);
    }
  });

  it("holds every limit: of the level, too", () => {
    const aim = goal({ frequencies: [500, 1000], levelDb: level, limits: "stated", leastLevelDb: level });
    const { good } = drawnLosses("x", box, aim, { ...told, samples: 6 }, { ...held, largestLossDb: 9 });
    // Of a loudspeaker and its mirror image one is louder than as drawn, but for what R1's curvature is worth.
    expect(good).toBe(pairs(3).flatMap(([driver, part]) => [off(driver, part), off(-driver, -part)]).filter((loss) => loss >= 0).length / 6); // prettier-ignore
  });
});

describe("what scatters", () => {
  const two = (more: object = {}, c = capacitor(10e-6)) =>
    loudspeaker({
      network: {
        L1: [inductor(0.5e-3, { dcr: 0.2 }), "in", "w"],
        C1: [c, "in", "t"],
        W1: [driverImpedance({ re: 6, fs: 50, qms: 3, qes: 0.5 }), "w", "gnd"],
        T1: [driverImpedance({ re: 5, fs: 900, qms: 2, qes: 1.2 }), "t", "gnd"],
      },
      drivers: [
        { name: "woofer", part: "W1", role: "woofer", pressures: flat },
        { name: "tweeter", part: "T1", role: "tweeter", pressures: flat },
        { name: "second", part: "T1", role: "tweeter", pressures: flat },
      ],
      ...more,
    });
  const aim = { frequencies: [500, 1000, 2000, 4000], limits: "stated" } as const;
  const found = (options: object, box = two()) =>
    spread(box, { goal: aim, samples: 2, ...options }).ranking.map(
      ({ of, quantity, tolerance, assumed }) => `${of.join("+")} ${quantity} ${tolerance}${assumed ? " assumed" : ""}`,
    );

  it("is every part by its kind and every driver by four quantities; drivers on one part resonate as one", () => {
    expect(found({}).sort()).toEqual([
      "C1 capacitance 0.05 assumed",
      "L1 inductance 0.05 assumed",
      "second delay 0.000005 assumed",
      "second levelDb 1 assumed",
      "tweeter delay 0.000005 assumed",
      "tweeter levelDb 1 assumed",
      "tweeter+second q 0.1 assumed",
      "tweeter+second resonance 0.1 assumed",
      "woofer delay 0.000005 assumed",
      "woofer levelDb 1 assumed",
      "woofer q 0.1 assumed",
      "woofer resonance 0.1 assumed",
    ]);
  });

  it("is exact where that is asked for, but for what is stated: here, or by the part itself", () => {
    const exact = { unstated: "exact" };
    expect(found(exact)).toEqual([]);
    expect(found({ ...exact, tolerances: { C1: 0.02 }, drivers: { woofer: { levelDb: 0.5 } } }).sort()).toEqual([
      "C1 capacitance 0.02",
      "woofer levelDb 0.5",
    ]);
    expect(found(exact, two({}, capacitor(10e-6, { tolerance: 0.01 })))).toEqual(["C1 capacitance 0.01"]);
    expect(found({ ...exact, tolerances: { C1: 0.03 } }, two({}, capacitor(10e-6, { tolerance: 0.01 })))).toEqual(["C1 capacitance 0.03"]);
    expect(found({ ...exact, byKind: { inductor: 0.03 } })).toEqual(["L1 inductance 0.03"]);
    expect(found({ drivers: { woofer: { levelDb: 0, resonance: 0, q: 0.2, delay: 0 } } }).filter((name) => name.startsWith("woofer"))).toEqual(["woofer q 0.2"]); // prettier-ignore
  });

  it("goes along together in a lot, by the larger of its tolerances", () => {
    const lots = [["woofer", "tweeter"]];
    const options = { unstated: "exact", lots, drivers: { woofer: { levelDb: 0.5 }, tweeter: { levelDb: 1.5, delay: 1e-6 } } };
    expect(found(options).sort()).toEqual(["tweeter delay 0.000001", "woofer+tweeter levelDb 1.5"]);
    const half = { ...options, unstated: "assumed", drivers: { woofer: { levelDb: 0.5 } } };
    expect(found(half)).toContain("woofer+tweeter levelDb 1");
    expect(found({ lots, unstated: "assumed" })).toContain("woofer+tweeter levelDb 1 assumed");
  });

  it("can't be more than a driver can bear", () => {
    const refused = (own: object, words: RegExp) => expect(() => found({ drivers: { woofer: own } })).toThrow(words);
    refused({ levelDb: 41 }, /drivers\.woofer\.levelDb.*40 dB/);
    refused({ resonance: 0.51 }, /drivers\.woofer\.resonance.*0\.5/);
    refused({ q: 0.81 }, /drivers\.woofer\.q.*0\.8/);
    refused({ delay: 2e-3 }, /drivers\.woofer\.delay/);
    refused({ level: 1 }, /level/);
    expect(() => found({ lots: [["W1", "C1"]] })).toThrow(/one kind/);
    expect(() => found({ lots: [["C1"], ["L1", "C1"]] })).toThrow(/in one lot at most, got it in lots\[0\] and lots\[1\]/);
    expect(() => found({ lots: [[7]] })).toThrow(/neither a part nor a driver/);
  });
});

describe("an answer, by the library's own draws", () => {
  const chain = (names: readonly string[], place: object = {}) =>
    loudspeaker({
      network: {
        ...Object.fromEntries(
          names.map((name, i) => [
            name,
            [resistor(2 / names.length), i === 0 ? "in" : `n${i - 1}`, i === names.length - 1 ? "a" : `n${i}`],
          ]),
        ),
        dome: [resistor(6), "a", "gnd"],
      } as unknown as Entries,
      drivers: [{ name: "dome", role: "woofer", pressures: [...flat, measure(() => [0.2, 0], { azimuth: 20, ...place })] }] as never,
    });
  const level = 20 * Math.log10((2.83 * 0.1 * 6) / 8 / 20e-6);
  const aim = { frequencies: [500, 1000], levelDb: level, limits: "stated" } as const;
  const told = { unstated: "exact", tolerances: { R1: 0.1 }, drivers: { dome: { levelDb: 1 } }, seed: 5 } as const;
  const levels = (samples: number) => {
    const draw = deviations(seededRandom(5), "uniform");
    return Array.from({ length: samples }, () => {
      const [part, driver] = [draw(), draw()];
      return driver - 20 * Math.log10((8 + 0.2 * part) / 8);
    });
  };
  const near = (value: number) => expect.closeTo(value, 9) as number;

  it("counts losses, shares and the worst sample", () => {
    const found = spread(chain(["R1"]), { ...told, goal: aim, samples: 9, percentiles: [0, 25, 50, 100], largestLossDb: 0.5 });
    const losses = levels(9).map(Math.abs).sort((a, b) => a - b); // prettier-ignore
    expect(found.lossDb).toEqual({ nominal: near(0), percentiles: [losses[0]!, losses[2]!, losses[4]!, losses[8]!].map(near) });
    const good = losses.filter((loss) => loss <= 0.5).length / 9;
    expect(found.criteria[0]).toEqual({ name: "loss", unit: "dB", limit: 0.5, nominal: near(0), kept: true, share: good, worstSample: near(losses[8]!) }); // prettier-ignore
    expect([found.yield.share, found.samples, found.seed, found.percentiles]).toEqual([good, 9, 5, [0, 25, 50, 100]]);
    // The driver exact, R1 alone moves by at most 0.22 dB; R1 exact, the driver alone.
    const draw = deviations(seededRandom(5), "uniform");
    const driver = Array.from({ length: 9 }, () => [draw(), draw()][1]!);
    expect(found.ranking.map(({ of, yieldIfExact }) => [of[0], yieldIfExact])).toEqual([
      ["dome", 1],
      ["R1", near(driver.filter((x) => Math.abs(x) <= 0.5).length / 9)],
    ]);
  });

  it("ranks by effect, with shares of the variance, and what pairs would differ by if it were matched", () => {
    const { ranking, firstOrder: first } = spread(chain(["R1"]), { ...told, goal: aim, samples: 2 });
    const [dome, part] = [1 / Math.sqrt(3), (20 / Math.LN10) * (0.2 / 8) / Math.sqrt(3)]; // prettier-ignore
    const variance = dome ** 2 + part ** 2;
    const close = (value: number) => expect.closeTo(value, 6) as number;
    expect(ranking.map(({ of, effectDb, share, pairIfMatchedDb }) => [of[0], effectDb, share, pairIfMatchedDb])).toEqual([
      ["dome", close(dome), close(dome ** 2 / variance), close(Math.SQRT2 * part)],
      ["R1", close(part), close(part ** 2 / variance), close(Math.SQRT2 * dome)],
    ]);
    expect([first.effectDb, first.lossDb, first.pairDb]).toEqual(
      [Math.sqrt(variance), Math.sqrt(variance), Math.sqrt(2 * variance)].map(close),
    );
    const { firstOrder: off } = spread(chain(["R1"]), { ...told, goal: { ...aim, levelDb: level - 2 }, samples: 2 });
    expect(off.lossDb).toBeCloseTo(Math.hypot(2, Math.sqrt(variance)), 6);
  });

  it("with a free level ranks by what pairs differ by, and asks nothing more of what has no effect", () => {
    const { ranking, firstOrder: first } = spread(chain(["R1"]), {
      ...told,
      goal: { frequencies: [500, 1000], limits: "stated" },
      samples: 4,
    });
    expect(ranking.map(({ of }) => of[0])).toEqual(["dome", "R1"]);
    for (const { effectDb, share, lossSlopeDb } of ranking)
      expect([effectDb, share, lossSlopeDb].every((each) => Math.abs(each) < 1)).toBe(true);
    expect(first.effectDb).toBeLessThan(1e-6);
    expect(first.pairDb).toBeGreaterThan(0.8);
  });

  it("looks at what the yield becomes for five of seven, those with the most effect", () => {
    const names = ["A", "B", "C", "D", "E", "F", "G"];
    const tolerances = Object.fromEntries(names.map((name, i) => [name, 0.02 * (i + 1)]));
    const { ranking } = spread(chain(names), { unstated: "exact", tolerances, goal: aim, samples: 4 });
    expect(ranking.map(({ of }) => of[0])).toEqual([...names].reverse());
    expect(ranking.map((one) => "yieldIfExact" in one)).toEqual([true, true, true, true, true, false, false]);
  });

  it("compares pairs on the axis, wherever that stands among the places, else at the first", () => {
    const box = loudspeaker({
      network: { W1: [resistor(8), "in", "gnd"], T1: [resistor(8), "in", "gnd"] },
      drivers: [
        {
          name: "woofer",
          part: "W1",
          role: "woofer",
          pressures: [...flat, measure(() => [0.01, 0], { azimuth: 20 }), measure(() => [0.02, 0], { elevation: 20 })],
        },
        {
          name: "tweeter",
          part: "T1",
          role: "midrange",
          pressures: [...flat, measure(() => [0.1, 0], { azimuth: 20 }), measure(() => [0.1, 0], { elevation: 20 })],
        },
      ],
    });
    const pair = (places: readonly object[]) =>
      spread(box, { unstated: "exact", drivers: { woofer: { levelDb: 1 } }, samples: 40, goal: { ...aim, places } as never }).pair.balanceDb
        .median;
    const [axis, side, up] = [{}, { azimuth: 20 }, { elevation: 20 }].map((place) => pair([place]));
    expect(new Set([axis, side, up]).size).toBe(3);
    expect([pair([{ azimuth: 20 }, { elevation: 20 }, {}]), pair([{ azimuth: 20 }, { elevation: 20 }])]).toEqual(
      [axis, side].map((each) => near(each!)),
    );
    expect(pair([{ elevation: 20 }, { azimuth: 20 }])).toBeCloseTo(up!, 9);
  });

  it("shows bands of each place around its level as drawn", () => {
    const places = [{}, { azimuth: 20 }];
    const { bands, frequencies } = spread(chain(["R1"]), { ...told, goal: { ...aim, places }, samples: 50, percentiles: [50] });
    expect(bands.map(({ azimuth, elevation }) => [azimuth, elevation])).toEqual([[0, 0], [20, 0]]); // prettier-ignore
    expect(list(frequencies)).toEqual([500, 1000]);
    bands.forEach(({ nominal, percentiles, frequencies: own }, k) => {
      expect(list(own)).toEqual([500, 1000]);
      for (const db of nominal) expect(db).toBeCloseTo(level + k * 20 * Math.log10(2), 9);
      percentiles[0]!.forEach((db, i) => expect(Math.abs(db - nominal[i]!)).toBeLessThan(0.5));
    });
    // Third octaves, with a place that was measured over less.
    const less = chain(["R1"], {});
    const short = {
      ...less,
      drivers: less.drivers.map((driver) => ({
        ...driver,
        pressures: [driver.pressures[0]!, measure(() => [0.2, 0], { azimuth: 20 }, [400, 700, 1000, 2000, 4000, 8000])],
      })),
    };
    const made = spread(loudspeaker(short as never), { ...told, goal: { places, levelDb: level }, samples: 2 });
    const [first, last] = [made.bands[1]!.frequencies[0]!, made.bands[1]!.frequencies.at(-1)!];
    expect([first >= 400, first < 412, last]).toEqual([true, true, 8000]);
    expect(made.bands[0]!.frequencies[0]).toBeLessThan(300);
    for (const { nominal } of made.bands) expect(nominal.every(Number.isFinite)).toBe(true);
    expect(made.lossDb.nominal).toBe(lossOf(loudspeaker(short as never), { places, levelDb: level }).lossDb);
  });

  it("hears a partner beside it", () => {
    const box = chain(["R1"]);
    const partner = { pressures: [{ azimuth: 0, elevation: 0, response: measure(() => [0.3, 0]).response }] };
    const made = spread(box, { ...told, goal: { frequencies: [500, 1000], partner }, samples: 2 });
    for (const db of made.bands[0]!.nominal) expect(db).toBeCloseTo(20 * Math.log10((2.83 * 0.1 * 0.75 + 0.3) / 20e-6), 9);
  });

  it("says how far it is, and ends with all", () => {
    const calls: (readonly [number, number])[] = [];
    spread(chain(["R1"]), { ...told, goal: aim, samples: 130, onProgress: (done, total) => calls.push([done, total]) });
    // 130 samples and four corners.
    expect(calls).toEqual([[0, 134], [64, 134], [128, 134], [130, 134], [134, 134]]); // prettier-ignore
    const twelve = Array.from({ length: 12 }, (_, i) => `R${i}`);
    const far: number[] = [];
    spread(chain(twelve), {
      unstated: "exact",
      byKind: { resistor: 0.1 },
      goal: aim,
      samples: 64,
      onProgress: (done, total) => far.push(done, total),
    });
    expect([far[1], far[far.length - 2], far[far.length - 1]]).toEqual([64, 64, 64]);
    expect(far.every((each) => each <= 64)).toBe(true);
  });

  it("counts a limit that isn't kept as drawn where all are to be counted", () => {
    const low = { ...aim, levelDb: level - 5, leastLevelDb: level + 9 };
    const share = (count: "kept" | "all") =>
      spread(chain(["R1"]), { ...told, goal: low, samples: 10, largestLossDb: 9, count }).yield.share;
    expect([share("kept"), share("all")]).toEqual([1, 0]);
  });

  it("refuses numbers that can't be", () => {
    const refused = (options: object, words: RegExp) =>
      expect(() => spread(chain(["R1"]), { ...told, goal: aim, samples: 2, ...options })).toThrow(words);
    refused({ samples: 2.5 }, /samples/);
    refused({ samples: 1_000_001 }, /samples/);
    refused({ seed: 2 ** 32 }, /seed/);
    refused({ seed: 0.5 }, /seed/);
    refused({ seed: -1 }, /seed/);
    refused({ percentiles: [50, 101] }, /percentiles\[1\]/);
    refused({ percentiles: [-1] }, /percentiles\[0\]/);
    refused({ ratedImpedance: 0 }, /ratedImpedance/);
    refused({ distribution: "even" }, /distribution/);
    refused({ count: "some" }, /count/);
    refused({ unstated: "none" }, /unstated/);
    expect(spread(chain(["R1"]), { ...told, goal: aim, samples: 2 }).percentiles).toEqual([5, 50, 95]);
    expect(() => spread(chain(["R1"]), { ...told, goal: aim, samples: 2, seed: 2 ** 32 - 1 })).not.toThrow();
  });
});

describe("what is held as drawn", () => {
  const box = (ohms = 2) =>
    loudspeaker({
      network: { R1: [resistor(ohms), "in", "a"], dome: [resistor(6), "a", "gnd"] },
      drivers: [{ name: "dome", role: "woofer", pressures: flat }],
    }) as unknown as Loudspeaker;
  const level = (ohms: number) => 20 * Math.log10((2.83 * 0.1 * 6) / (6 + ohms) / 20e-6);
  const limits = (aim: GoalOptions, more: object = {}) =>
    Object.fromEntries(
      spread(box(), { goal: { frequencies: [500, 1000], ...aim }, unstated: "exact", samples: 2, ...more }).criteria.map(
        ({ name, limit, nominal }) => [name, [limit, nominal]],
      ),
    );
  const near = (value: number) => expect.closeTo(value, 6) as number;

  it("is half a decibel more loss than as drawn, or what is asked for", () => {
    expect(limits({ levelDb: level(2) - 1 })["loss"]).toEqual([near(1.5), near(1)]);
    expect(limits({ levelDb: level(2) - 1 }, { largestLossDb: 3 })["loss"]).toEqual([near(3), near(1)]);
    expect(() => limits({}, { largestLossDb: -1 })).toThrow(/largestLossDb/);
  });

  it("is |Z| by the goal, or by the rated impedance unless only stated limits hold", () => {
    const stated = { amplifier: { smallestImpedance: 5, smallestPeakDissipationResistance: 2 } };
    expect(limits(stated)).toMatchObject({ smallestImpedance: [5, near(8)], smallestPeakDissipationResistance: [2, expect.anything()] });
    expect(limits({}, { ratedImpedance: 8 })["smallestImpedance"]).toEqual([near(6.4), near(8)]);
    expect("smallestImpedance" in limits({})).toBe(false);
    expect("smallestImpedance" in limits({ limits: "stated" }, { ratedImpedance: 8 })).toBe(false);
    expect(limits({ limits: "stated", ...stated }, { ratedImpedance: 8 })["smallestImpedance"]![0]).toBe(5);
  });

  it("is the level that the goal states, or the found loudspeaker's less what may be lost, whichever is higher", () => {
    const found = box(0.5);
    expect("leastLevelDb" in limits({})).toBe(false);
    expect(limits({ leastLevelDb: 70 })["leastLevelDb"]).toEqual([70, near(level(2))]);
    expect(limits({}, { found })["leastLevelDb"]![0]).toBeCloseTo(level(0.5) - 3, 6);
    expect(limits({ largestLevelLossDb: 1 }, { found })["leastLevelDb"]![0]).toBeCloseTo(level(0.5) - 1, 6);
    expect(limits({ leastLevelDb: 90 }, { found })["leastLevelDb"]![0]).toBe(90);
    expect("leastLevelDb" in limits({ limits: "stated" }, { found })).toBe(false);
    expect(limits({ limits: "stated", leastLevelDb: 70 }, { found })["leastLevelDb"]![0]).toBe(70);
    expect(limits({ limits: "stated", largestLevelLossDb: 2 }, { found })["leastLevelDb"]![0]).toBeCloseTo(level(0.5) - 2, 6);
    // A level that is asked for, of all or of a place, isn't the found loudspeaker's.
    expect(limits({ levelDb: 60, places: [{ levelDb: 65 }] }, { found })["leastLevelDb"]![0]).toBeCloseTo(level(0.5) - 3, 6);
    for (const wrong of [3, null]) expect(() => limits({}, { found: wrong })).toThrow(/"found" must be a loudspeaker/);
  });

  it("is the corridor, of places that keep it as drawn", () => {
    const aim = { levelDb: level(2) - 1, corridorDb: 1.001, amplifier: {} };
    expect(limits(aim)["corridor"]).toEqual([1.001, near(1)]);
    expect("corridor" in limits({ ...aim, corridorDb: 0.999 })).toBe(false);
    expect("corridor" in limits({ ...aim, places: [{ levelDb: level(2) }], corridorDb: 0.5 })).toBe(true);
  });
});
