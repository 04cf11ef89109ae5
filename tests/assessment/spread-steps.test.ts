// Tests src/assessment/spread/: criteria.ts, draw-samples.ts, driver-motion.ts, first-order.ts, level-bands.ts, pair-spread.ts, spread-grid.ts
// Tests src/assessment/spread/: spread-words.ts, third-octave-sums.ts, worst-corners.ts
// The steps of `spread` one by one, on models so small that their answers are sums done by hand.
import { describe, expect, it } from "vitest";
import { goal } from "dividing-network/assessment";
import { loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { driverImpedance, equivalentPeakDissipationResistance, resistor } from "dividing-network/parts";
import { criteriaOf, freeLevel, lossIn, type Criterion } from "../../src/assessment/spread/criteria";
import { drawSamples } from "../../src/assessment/spread/draw-samples";
import { driverMotion } from "../../src/assessment/spread/driver-motion";
import { firstOrder, normalShare } from "../../src/assessment/spread/first-order";
import { levelBands } from "../../src/assessment/spread/level-bands";
import { pairCounter } from "../../src/assessment/spread/pair-spread";
import { spreadGrid } from "../../src/assessment/spread/spread-grid";
import type { SpreadModel } from "../../src/assessment/spread/spread-model";
import {
  assumedTexts,
  contributionName,
  criterionText,
  shareSentence,
  spreadSentences,
  toleranceText,
} from "../../src/assessment/spread/spread-words";
import { bandWeights, thirdOctaveSums } from "../../src/assessment/spread/third-octave-sums";
import { worstCorners } from "../../src/assessment/spread/worst-corners";
import type { Spread, SpreadContribution } from "dividing-network/assessment";
import { flat, measure, over, plus, type C } from "../support/synthetic";

const list = (values: ArrayLike<number>) => Array.from(values);

/** A loudspeaker whose levels are straight lines over what deviates. */
function straight(base: readonly number[], slopes: readonly (readonly number[])[], weights: readonly number[], n: number) {
  const levels = Float64Array.from(base);
  const powers = levels.map((level) => 10 ** (level / 10));
  const evaluated: number[][] = [];
  const model = {
    groups: slopes.map((_, g) => ({ of: [`P${g}`] })),
    grid: { heard: new Float64Array(n) },
    levels,
    powers,
    weights: Float64Array.from(weights),
    evaluate: (x: ArrayLike<number>) => {
      evaluated.push(Array.from(x));
      base.forEach((level, i) => (levels[i] = slopes.reduce((sum, own, g) => sum + own[i]! * x[g]!, level)));
      levels.forEach((level, i) => (powers[i] = 10 ** (level / 10)));
    },
  };
  return { model: model as unknown as SpreadModel, levels, evaluated };
}
const criterion = (value: () => number, limit: number, side: 1 | -1 = 1): Criterion => ({ name: "one", unit: "dB", limit, side, value });

describe("bands of levels", () => {
  it("hold the percentiles of what was counted, to a fiftieth of a decibel, around each nominal level by itself", () => {
    const bands = levelBands(Float64Array.of(1, 4));
    // −1, 0, 1 and 2 dB around either.
    for (const level of [1, -1, 2, 0]) bands.add(Float64Array.of(10 ** (level / 10), 4 * 10 ** (level / 10)));
    for (const [percent, level] of [
      [25, -1],
      [50, 0],
      [75, 1],
      [100, 2],
      [0, -1],
    ] as const)
      // prettier-ignore
      for (const found of bands.percentile(percent)) expect(Math.abs(found - level), `${percent} %`).toBeLessThanOrEqual(0.0201);
  });

  it("spread what falls into one bin evenly over it", () => {
    const bands = levelBands(Float64Array.of(1));
    for (let i = 0; i < 10; i++) bands.add(Float64Array.of(10 ** 0.001));
    // All of ten samples of 0.01 dB lie in the bin from 0 to 0.02 dB.
    expect([10, 50, 100].map((percent) => bands.percentile(percent)[0]!)).toEqual(
      [0.002, 0.01, 0.02].map((at) => expect.closeTo(at, 9) as number),
    );
  });

  it("end 30 dB below and 12 dB above, and silence lies at their lower end", () => {
    const bands = levelBands(Float64Array.of(1, 0));
    bands.add(Float64Array.of(0, 0));
    bands.add(Float64Array.of(1e9, 1));
    expect(bands.percentile(50)[0]).toBeCloseTo(-29.98, 9);
    expect(bands.percentile(100)[0]).toBeCloseTo(12, 9);
    expect(list(bands.percentile(100)).every(Number.isFinite)).toBe(true);
  });
});

describe("left against right", () => {
  it("differ by root mean square, mean and maximum over what counts, and by a curve over everything", () => {
    const counter = pairCounter(Float64Array.of(0.5, 0.5, 0), 3);
    counter.add(Float64Array.of(1, -2, 9), Float64Array.of(0, 0, 0));
    const one = counter.result();
    expect(one.pairs).toBe(1);
    expect(one.rmsDb.median).toBeCloseTo(Math.sqrt(2.5), 12);
    expect([one.balanceDb.median, one.largestDb.most]).toEqual([0.5, 2]);
    counter.add(Float64Array.of(4, 4, 0), Float64Array.of(0, 0, 12));
    const two = counter.result();
    expect([two.pairs, two.balanceDb.median, two.largestDb.median]).toEqual([2, 2.25, 3]);
    expect(two.largestDb.most).toBeCloseTo(2 + 0.95 * 2, 12);
    expect(list(two.curveDb)).toEqual(
      [(1 + 16) / 2, (4 + 16) / 2, (81 + 144) / 2].map((square) => expect.closeTo(Math.sqrt(square), 12) as number),
    );
  });
});

describe("third-octave means between points", () => {
  const half = Math.LN2 / 6;
  const grid = Float64Array.from({ length: 60 }, (_, i) => 500 * 2 ** ((i + 0.3 * Math.sin(i)) / 24));
  const x = grid.map(Math.log);
  const means = (powers: Float64Array): Float64Array => {
    const [found, shifted] = [new Float64Array(62), new Float64Array(62)];
    shifted.set(powers, 2);
    thirdOctaveSums(grid)(shifted, 2, found);
    return found.subarray(2);
  };

  it("of a constant are that constant, at the ends too", () => {
    for (const mean of means(new Float64Array(60).fill(3))) expect(mean).toBeCloseTo(3, 12);
  });

  it("of a straight line over ln f are its value in the middle of the window, which the data cut at their ends", () => {
    const [low, high] = [x[0]!, x[59]!];
    const found = means(x.map((at) => 2 + 5 * at));
    found.forEach((mean, i) => {
      const middle = (Math.max(low, x[i]! - half) + Math.min(high, x[i]! + half)) / 2;
      expect(mean).toBeCloseTo(2 + 5 * middle, 9);
    });
  });

  it("of lines from point to point are their exact integral", () => {
    const powers = grid.map((_, i) => 1 + Math.abs(Math.sin(3 * i)));
    const line = (at: number) => {
      const i = Math.max(
        1,
        x.findIndex((each) => each >= at),
      );
      return powers[i - 1]! + ((at - x[i - 1]!) / (x[i]! - x[i - 1]!)) * (powers[i]! - powers[i - 1]!);
    };
    means(powers).forEach((mean, i) => {
      const [from, to] = [Math.max(x[0]!, x[i]! - half), Math.min(x[59]!, x[i]! + half)];
      const ends = [from, ...x.filter((at) => at > from && at < to), to];
      const sum = ends.slice(1).reduce((total, at, k) => total + ((at - ends[k]!) * (line(at) + line(ends[k]!))) / 2, 0);
      expect(mean).toBeCloseTo(sum / (to - from), 9);
    });
  });

  it("weights for a mean over a band add up to 1, take a straight line to its middle, and are 0 outside", () => {
    const weights = bandWeights(grid, grid[10]!, grid[40]!);
    expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
    expect(weights.reduce((sum, weight, i) => sum + weight * x[i]!, 0)).toBeCloseTo((x[10]! + x[40]!) / 2, 12);
    expect([weights[9], weights[41]]).toEqual([0, 0]);
    expect(weights[10]).toBeCloseTo((x[11]! - x[10]!) / (2 * (x[40]! - x[10]!)), 12);
    expect(weights[40]).toBeCloseTo((x[40]! - x[39]!) / (2 * (x[40]! - x[10]!)), 12);
  });
});

describe("what a loudspeaker is held to", () => {
  const places = [{ weight: 1 }, { weight: 2 }, { weight: 1, levelDb: 89 }].map((each) => ({ azimuth: 0, elevation: 0, ...each }));
  const aim = (more: object = {}) => ({ ...goal({}), places, ...more });
  const heard = { means: Float64Array.of(80, 83, 90), variances: Float64Array.of(1, 4, 0) };

  it("a free level is the weighted mean of the places that have none of their own; a level of its own holds a place", () => {
    expect(freeLevel(heard.means, places)).toBe(82);
    expect(freeLevel(heard.means, [places[2]!])).toBe(89);
    // 1·(1 + 2²) + 2·(4 + 1²) + 1·(0 + 1²) over 4.
    expect(lossIn(heard, aim())).toBeCloseTo(Math.sqrt(16 / 4), 12);
    // To 80 dB: 1·1 + 2·(4 + 3²) + 1.
    expect(lossIn(heard, aim({ levelDb: 80 }))).toBeCloseTo(Math.sqrt(28 / 4), 12);
  });

  const none = { largestLossDb: 2, lossOffsetDb: 0.25, corridor: [] };
  const model = (more: object) =>
    ({
      ...heard,
      grid: { heard: new Float64Array(2), loadAt: Int32Array.of(0, 2), spares: [], passband: new Float64Array(0) },
      levels: Float64Array.of(81, 84, 83, 99, 88, 91),
      weights: Float64Array.of(0.5, 0.5, 1, 0, 0.5, 0.5),
      network: { admittance: { re: Float64Array.of(0.3, 9, 0), im: Float64Array.of(0.4, 9, -0.25) }, volts: [] },
      channel: new Map(),
      resonanceFactor: () => 1,
      ...more,
    }) as unknown as SpreadModel;
  const values = (made: readonly Criterion[]) => made.map(({ name, limit, side, value }) => [name, limit, side, value()]);

  it("is its loss, and nothing else that wasn't asked for", () => {
    expect(values(criteriaOf(model({}), aim(), none))).toEqual([["loss", 2, 1, 2.25]]);
  });

  it("the corridor is the largest deviation at the places that keep it, where they count", () => {
    const worst = (corridor: readonly number[], more = {}) =>
      criteriaOf(model({}), aim({ corridorDb: 2.5, ...more }), { ...none, corridor })[1]!;
    expect([worst([0]).name, worst([0]).limit, worst([0]).side]).toEqual(["corridor", 2.5, 1]);
    expect([[0], [1], [2], [1, 2], [0, 1]].map((corridor) => worst(corridor).value())).toEqual([2, 1, 2, 2, 2]);
    expect(worst([0], { levelDb: 80 }).value()).toBe(4);
  });

  it("|Z| is the least over the load's points, and nothing that draws no current is too low", () => {
    const least = (more: object) =>
      criteriaOf(model(more), aim(), { ...none, smallestImpedance: 3, smallestPeakDissipationResistance: 2 }).slice(1);
    // 1/|0.3 + 0.4j| = 2 Ω, at points that count; 1/0.25 = 4 Ω.
    expect(least({})[0]!.value()).toBe(2);
    expect([least({})[0]!.name, least({})[0]!.limit, least({})[0]!.side]).toEqual(["smallestImpedance", 3, -1]);
    const both = [
      { re: 0.3, im: 0.4 },
      { re: 0, im: -0.25 },
    ].map(({ re, im }) => {
      const size = re * re + im * im;
      return equivalentPeakDissipationResistance({ re: re / size, im: -im / size });
    });
    expect(least({})[1]!.value()).toBeCloseTo(Math.min(...both), 12);
    expect([least({})[1]!.name, least({})[1]!.limit, least({})[1]!.side]).toEqual(["smallestPeakDissipationResistance", 2, -1]);
    const open = { network: { admittance: { re: new Float64Array(3), im: new Float64Array(3) }, volts: [] } };
    expect(least(open).map(({ value }) => value())).toEqual([Number.MAX_VALUE, Number.MAX_VALUE]);
  });

  it("the level is the weighted mean of all places", () => {
    const [, level] = criteriaOf(model({}), aim(), { ...none, leastLevelDb: 83 });
    expect([level!.name, level!.limit, level!.side, level!.value()]).toEqual(["leastLevelDb", 83, -1, (80 + 166 + 90) / 4]);
  });

  it("what a driver is spared follows its resonance where that moves, along a line between the points around it", () => {
    // Its voltage rises with the square of frequency around 1 kHz and is 1 in the passband.
    const around = Float64Array.of(900, 1000, 1100);
    const spare = { driver: "dome", part: "T1", limitDb: 12, resonance: 1000, around, aroundAt: Int32Array.of(0, 1, 2) };
    const volts = { re: Float64Array.of(0.09 * 0.81, 0.09, 0.09 * 1.21, 1, 1, 1), im: new Float64Array(6) };
    const grid = {
      heard: new Float64Array(2),
      loadAt: new Int32Array(0),
      spares: [spare],
      passband: Float64Array.of(2000, 2828, 4000),
      passbandAt: Int32Array.of(3, 4, 5),
    };
    const belowDb = (factor: number, more: object = {}) =>
      criteriaOf(
        model({
          grid: { ...grid, ...more },
          network: { admittance: { re: volts.re, im: volts.im }, volts: [volts] },
          channel: new Map([["T1", 0]]),
          resonanceFactor: () => factor,
        }),
        aim(),
        none,
      )[1]!;
    expect([belowDb(1).name, belowDb(1).limit, belowDb(1).side]).toEqual(["drivers.dome", 12, -1]);
    for (const factor of [0.9, 0.95, 1, 1.05, 1.1]) expect(belowDb(factor).value()).toBeCloseTo(-20 * Math.log10(0.09 * factor ** 2), 4);
    // Beyond the points around it what was known last stands.
    expect(belowDb(1.2).value()).toBeCloseTo(belowDb(1.1).value(), 12);
    expect(belowDb(0.8).value()).toBeCloseTo(belowDb(0.9).value(), 12);
    const fixed = { spares: [{ ...spare, around: Float64Array.of(1000), aroundAt: Int32Array.of(1) }] };
    expect(belowDb(1, fixed).value()).toBeCloseTo(-20 * Math.log10(0.09), 12);
  });
});

describe("first order", () => {
  const [base, slopes, weights] = [[80, 81, 82, 83], [[1, 3, 2, 99], [0, 0, 0, 0]], [0.5, 0.5, 1, 0]]; // prettier-ignore
  const places = (own?: number, first?: number) => [
    { azimuth: 0, elevation: 0, weight: 1, ...(first === undefined ? {} : { levelDb: first }) },
    { azimuth: 20, elevation: 0, weight: 3, ...(own === undefined ? {} : { levelDb: own }) },
  ];
  const effects = (more: object) => {
    const { model, levels } = straight(base, slopes, weights, 2);
    const value = () => 3 * levels[0]! - levels[2]!;
    const found = firstOrder(model, { ...goal({}), ...more }, [criterion(value, 0)], "uniform");
    expect(list(levels), "as drawn in the end").toEqual(base);
    return found;
  };
  const sigma = 1 / Math.sqrt(3);

  it("takes out what a free level follows", () => {
    const { effects: own, wholeEffects, slopes: found } = effects({ places: places() });
    // Mean slope (1·2 + 3·2)/4 = 2 dB; what is left: ½·1 + ½·1 at the first place, nothing at the second, over 4.
    expect(own[0]).toBeCloseTo(sigma * Math.sqrt(1 / 4), 8);
    expect(wholeEffects[0]).toBeCloseTo(sigma * Math.sqrt((5 + 12) / 4), 8);
    expect([own[1], wholeEffects[1]]).toEqual([0, 0]);
    // 3 · 1 − 2.
    expect(found[0]![0]).toBeCloseTo(1, 7);
    expect(found[0]![1]).toBeCloseTo(0, 7);
  });

  it("and nothing where the level is stated, for all places or for one", () => {
    expect(effects({ places: places(), levelDb: 80 }).effects[0]).toBeCloseTo(sigma * Math.sqrt(17 / 4), 8);
    expect(effects({ places: places(85) }).effects[0]).toBeCloseTo(sigma * Math.sqrt((1 + 12) / 4), 8);
    expect(effects({ places: places(85, 80) }).effects[0]).toBeCloseTo(sigma * Math.sqrt(17 / 4), 8);
  });

  it("the share that keeps a limit is the normal distribution's of its room", () => {
    const share = (limit: number, side: 1 | -1, of: readonly number[] = [0.6, 0.8]) =>
      normalShare(
        criterion(() => 0, limit, side),
        1,
        Float64Array.from(of),
        "uniform",
      );
    // Slopes of 0.6 and 0.8 together are 1, a standard deviation of 1/√3: room of 1 is √3 of them, Φ = 0.9584.
    expect(share(2, 1)).toBeCloseTo(0.9584, 4);
    expect(share(0, -1)).toBeCloseTo(0.9584, 4);
    expect(share(0, 1)).toBeCloseTo(1 - 0.9584, 4);
    expect([share(2, 1, [0]), share(1, 1, [0]), share(0.9, 1, [0]), share(0.9, -1, [0])]).toEqual([1, 1, 0, 1]);
  });
});

describe("worst corners", () => {
  it("are looked for among all, for each limit by its side", () => {
    const { model, levels, evaluated } = straight([0], [[1], [-2]], [1], 1);
    let steps = 0;
    const value = () => levels[0]!;
    const found = worstCorners(model, [criterion(value, 0), criterion(value, 0, -1)], [], [], () => steps++);
    expect(found.map((each) => [each.value, list(each.corner)])).toEqual([[3, [1, -1]], [-3, [-1, 1]]]); // prettier-ignore
    expect(evaluated.length).toBe(4);
    expect(steps).toBe(1);
  });

  const twelve = (value: (x: readonly number[]) => number, side: 1 | -1, slopes = 0, samples = 0) => {
    const { model, evaluated } = straight(
      [0],
      Array.from({ length: 12 }, () => [0]),
      [1],
      1,
    );
    let steps = 0;
    const [found] = worstCorners(
      model,
      [criterion(() => value(evaluated[evaluated.length - 1]!), 0, side)],
      [new Float64Array(12).fill(slopes)],
      [new Float64Array(12).fill(samples)],
      () => steps++,
    );
    return { value: found!.value, corner: list(found!.corner), steps };
  };
  const sizes = Array.from({ length: 12 }, (_, i) => (i % 3 === 0 ? -1 : 1) * (i + 1));
  const sum = (x: readonly number[]) => x.reduce((total, each, i) => total + each * sizes[i]!, 0);

  it("beyond eleven are found by turning one after the other, wherever a search begins", () => {
    for (const side of [1, -1] as const)
      for (const [slope, sample] of [
        [0, 0],
        [1, -1],
        [-1, 1],
      ] as const)
        // prettier-ignore
        expect(twelve(sum, side, slope, sample)).toMatchObject({ value: side * 78, corner: sizes.map((size) => side * Math.sign(size)) });
    // From either start one round that turns, and one in which nothing is left to turn.
    expect(twelve(sum, 1).steps).toBe(4);
    const eleven = straight([0], sizes.slice(0, 11).map((size) => [size]), [1], 1); // prettier-ignore
    let steps = 0;
    const [all] = worstCorners(eleven.model, [criterion(() => eleven.levels[0]!, 0)], [], [], () => steps++);
    expect([all!.value, eleven.evaluated.length, steps]).toEqual([66, 2 ** 11, 2 ** 7]);
  });

  it("are the better of where the slopes point and where the worst sample lay", () => {
    // Two hills: all up gives 12, all down gives 100, and every single turn on the way leads down.
    const hills = (x: readonly number[]) => (x.every((each) => each < 0) ? 100 : x.reduce((total, each) => total + each, 0));
    expect(twelve(hills, 1, 1, 1).value).toBe(12);
    expect(twelve(hills, 1, 1, -1)).toMatchObject({ value: 100, corner: new Array<number>(12).fill(-1) });
    expect(twelve(hills, 1, -1, 1)).toMatchObject({ value: 100, corner: new Array<number>(12).fill(-1) });
    // For a lower limit slopes point the other way: down to what rises.
    const valleys = (x: readonly number[]) => -hills(x);
    expect(twelve(valleys, -1, 1, 1)).toMatchObject({ value: -100 });
  });
});

describe("drawing", () => {
  const draws = (values: readonly number[]) => {
    let at = 0;
    return () => values[at++ % values.length]!;
  };
  const drawn = (
    slopes: readonly (readonly number[])[],
    values: readonly number[],
    samples: number,
    { counted = [true, true], matched = [] as readonly string[], looked = [0] } = {},
  ) => {
    const { model, levels } = straight([80], slopes, [1], 1);
    const progress: number[] = [];
    const criteria = [criterion(() => Math.abs(levels[0]! - 80), 0.6), criterion(() => levels[0]!, 79.6, -1)];
    const found = drawSamples(
      model,
      criteria,
      { samples, draw: draws(values), counted, looked, matched: new Set(matched), axis: 0 },
      (sample) => progress.push(sample),
    );
    return { ...found, progress };
  };

  it("counts what keeps each limit and what keeps all, the losses, and the worst of each", () => {
    const found = drawn([[1]], [0.5, -0.5, 1, -1], 4);
    expect([found.passed, found.passes, list(found.losses)]).toEqual([1, [2, 2], [0.5, 0.5, 1, 1]]);
    expect(found.worst.map(({ value, at }) => [value, list(at)])).toEqual([[1, [1]], [79, [-1]]]); // prettier-ignore
    // A limit that doesn't count is counted for itself alone.
    const loose = drawn([[1]], [0.5, -0.5, 1, -1], 4, { counted: [true, false] });
    expect([loose.passed, loose.passes]).toEqual([2, [2, 2]]);
    expect(Math.abs(found.bands.percentile(100)[0]! - 1)).toBeLessThanOrEqual(0.0201);
    // On a limit itself it is kept.
    expect(drawn([[1]], [0.25, 0.25], 2).passed).toBe(2);
  });

  it("looks at the same samples again with one thing exact", () => {
    const found = drawn([[1], [0.1]], [1, 0.5], 4, { looked: [0, 1] });
    // 1.05 dB off; without the first 0.05, without the second 1.
    expect([found.passed, found.passedOfExact, found.exactPasses, found.exactSamples]).toEqual([0, 0, [4, 0], 4]);
    const loose = drawn([[1], [0.1]], [-1, -0.5], 2, { looked: [1], counted: [false, true] });
    expect(loose.exactPasses).toEqual([0]);
    expect(drawn([[1], [0.1]], [1, 0.5], 2, { looked: [1], counted: [false, true] }).exactPasses).toEqual([2]);
  });

  it("the first thousand samples at most", () => {
    const values = Array.from({ length: 1002 }, (_, i) => (i < 1000 ? 0.9 : 0));
    const found = drawn([[1]], values, 1002);
    expect([found.passed, found.passedOfExact, found.exactPasses, found.exactSamples]).toEqual([2, 0, [1000], 1000]);
    expect(found.progress).toEqual(Array.from({ length: 16 }, (_, i) => 64 * i));
  });

  it("two after the other are a pair, and what is matched is the left one's in both", () => {
    const values = [0.5, 0.1, -0.5, 0.3];
    const apart = drawn([[1], [1]], values, 2);
    expect("matchedPair" in apart).toBe(false);
    expect(apart.pair.balanceDb.median).toBeCloseTo(0.8, 12);
    const matched = drawn([[1], [1]], values, 2, { matched: ["P0"] });
    expect(matched.pair.balanceDb.median).toBeCloseTo(0.8, 12);
    // 0.6 against 0.5 + 0.3.
    expect(matched.matchedPair!.balanceDb.median).toBeCloseTo(0.2, 12);
    expect([drawn([[1]], [0.5], 3).pair.pairs, matched.matchedPair!.pairs]).toEqual([1, 1]);
  });
});

describe("a driver that moves", () => {
  const grid = Float64Array.from({ length: 100 }, (_, i) => 100 * 1.05 ** i);
  const largest = { resonance: 0.1, q: 0.1 };
  const motion = (part: Entries[string][0]) => driverMotion({ T1: [part, "in", "gnd"] } as unknown as Entries, "T1", grid, largest);
  const peak = (f: number, fs: number, res: number, q: number): C => over([res, 0], [1, q * (f / fs - fs / f)]);

  it("is one whose impedance tells its resonance and Q: Qts is both in parallel", () => {
    const found = motion(driverImpedance({ re: 5, fs: 900, qms: 3, qes: 1.5 }));
    expect(found).toMatchObject({ fs: 900, qts: 1, values: [1, 1] });
    const measured = motion(driverImpedance(measure((f) => plus([5, 0], peak(f, 900, 10, 3))).response));
    // At resonance 10 Ω above 5 Ω: Qms/Qes = 2, so that Qts = 3/3 = 1.
    expect(measured).toMatchObject({ fs: expect.closeTo(900, -1) as number, qts: expect.closeTo(1, 1.5) as number });
  });

  it("isn't one whose impedance doesn't, and says why", () => {
    expect(motion(resistor(8))).toBe("its impedance shows no resonance");
    expect(motion(driverImpedance({ re: 5 }))).toBe("its impedance shows no resonance");
    expect(motion(driverImpedance(measure((f) => [5, f / 1000]).response))).toBe("its impedance shows no resonance");
    // Beside the peak that is fitted lies another: with the first one moved by much, what remains isn't passive.
    const two = measure((f) => plus(plus([5, 0], peak(f, 800, 60, 8)), peak(f, 1000, 50, 8))).response;
    const moved = (resonance: number, q: number) =>
      driverMotion({ T1: [driverImpedance(two), "in", "gnd"] } as unknown as Entries, "T1", grid, { resonance, q });
    for (const [resonance, q] of [[0.3, 0.3], [0.2, 0], [0.15, 0.3]] as const) expect(moved(resonance, q)).toMatch(/isn't that of a single resonance/); // prettier-ignore
    for (const [resonance, q] of [[0.15, 0], [0, 0.8]] as const) expect(moved(resonance, q)).toMatchObject({ values: [1, 1] }); // prettier-ignore
    // Three points show a peak, and no Q.
    expect(motion(driverImpedance(measure((f) => plus([5, 0], peak(f, 800, 10, 3)), {}, [400, 800, 1600]).response))).toBe(
      "its impedance doesn't tell its Q",
    );
  });
});

describe("where samples are heard", () => {
  const box = loudspeaker({
    network: { T1: [driverImpedance({ re: 5, fs: 800, qms: 2, qes: 1 }), "in", "gnd"] },
    drivers: [{ name: "dome", part: "T1", role: "tweeter", pressures: flat } as never],
  });
  const band = { from: 300, to: 10_000 };
  const made = (aim: object = {}, { covered = { from: 62.5, to: 16_000 }, loaded = false, tolerance = 0.1 } = {}) =>
    spreadGrid(box, goal(aim), { band, places: [{ band }] } as never, [covered], loaded, () => tolerance);

  it("is 24 points an octave through 1 kHz over the band and half a third beyond, with the ends themselves", () => {
    const { heard, heardAt, all } = made();
    expect(heard[0]).toBeCloseTo(300 / 2 ** (1 / 6), 9);
    expect(heard[heard.length - 1]).toBeCloseTo(10_000 * 2 ** (1 / 6), 9);
    for (const at of [300, 1000, 1000 * 2 ** (1 / 24), 10_000]) expect(heard).toContain(at);
    expect(heard.every((at, i) => i === 0 || (at > heard[i - 1]! && at / heard[i - 1]! < 2 ** (1 / 24) + 1e-9))).toBe(true);
    expect(list(heardAt).map((at) => all[at])).toEqual(list(heard));
    const cut = made({}, { covered: { from: 290, to: 10_500 } }).heard;
    expect([cut[0], cut[cut.length - 1]]).toEqual([290, 10_500]);
    expect(list(made({ frequencies: [500, 1000, 2000] }).heard)).toEqual([500, 1000, 2000]);
  });

  it("the load is looked at where it has limits: 20 Hz to 20 kHz, as far as impedances are known", () => {
    expect(made().loadAt.length).toBe(0);
    const { loadAt, all } = made({}, { loaded: true });
    // 24 lg₂(20 Hz/1 kHz) = −135.5 and 24 lg₂ 20 = 103.7: from −135 to 103.
    expect(loadAt.length).toBe(239);
    expect(all[loadAt[0]!]!).toBeLessThan(21);
    expect(all[loadAt[238]!]!).toBeGreaterThan(19_000);
  });

  it("what is to be spared is looked at around its resonance, as far as that moves, and in the passband", () => {
    const { spares, passband, passbandAt, all } = made();
    expect(list(spares[0]!.around)).toEqual([720, 800, 880].map((at) => expect.closeTo(at, 9) as number));
    expect(list(spares[0]!.aroundAt).map((at) => all[at])).toEqual(list(spares[0]!.around));
    expect(list(passbandAt).map((at) => all[at])).toEqual(list(passband));
    expect(passband[0]).toBe(300);
    expect(list(made({}, { tolerance: 0 }).spares[0]!.around)).toEqual([800]);
    expect(made({ limits: "stated" })).toMatchObject({ spares: [], passband: new Float64Array(0) });
  });
});

describe("in words", () => {
  const one = (more: object): SpreadContribution =>
    ({
      of: ["C1"],
      quantity: "capacitance",
      tolerance: 0.05,
      unit: "",
      assumed: true,
      share: 0.5,
      ...more,
    }) as unknown as SpreadContribution;

  it("what scatters is called by its name, a quantity that isn't the part's own, and a lot", () => {
    expect(contributionName(one({}))).toBe("C1");
    expect(contributionName(one({ quantity: "esr" }))).toBe("the esr of C1");
    expect(contributionName(one({ of: ["C1", "C2"] }))).toBe("C1 and C2 (one lot)");
    expect(contributionName(one({ of: ["woofer"], quantity: "levelDb" }))).toBe("the level of the woofer");
    expect(contributionName(one({ of: ["left", "right"], quantity: "q" }))).toBe("the Q of the left and right (one lot)");
    expect([toleranceText(one({})), toleranceText({ tolerance: 1, unit: "dB" }), toleranceText({ tolerance: 5e-6, unit: "s" })]).toEqual(["±5 %", "±1 dB", "±5 µs"]); // prettier-ignore
  });

  it("a limit says what it asks for", () => {
    const said = (name: string, limit: number, unit: "dB" | "Ω" = "dB") => criterionText({ name, limit, unit });
    expect(said("loss", 1.234)).toBe("at most 1.23 dB from the goal");
    expect(said("corridor", 3)).toBe("within ±3.0 dB of the target");
    expect(said("smallestImpedance", 6.4, "Ω")).toBe("|Z| at least 6.40 Ω");
    expect(said("smallestPeakDissipationResistance", 3, "Ω")).toBe("peak dissipation as of 3.00 Ω at least");
    expect(said("leastLevelDb", 83)).toBe("a level of at least 83.0 dB");
    expect(said("drivers.dome", 12)).toBe("the dome 12.0 dB lower at its resonance than in its passband");
  });

  it("what makes most of the spread comes first, and what comes second where it is a hundredth at least", () => {
    const [first, second] = [one({ share: 0.9 }), one({ of: ["L1"], quantity: "inductance", share: 0.01 })];
    expect(shareSentence([])).toBe("");
    expect(shareSentence([first])).toBe("C1 (±5 %) makes 90 % of the spread.");
    expect(shareSentence([first, second])).toBe("C1 (±5 %) makes 90 % of the spread, L1 (±5 %) 1 %.");
    expect(shareSentence([first, { ...second, share: 0.0099 }])).toBe("C1 (±5 %) makes 90 % of the spread.");
    expect(shareSentence([one({ of: ["dome"], quantity: "delay", unit: "s", tolerance: 5e-6, share: 0.998 })])).toBe("The delay of the dome (±5 µs) makes 99.8 % of the spread."); // prettier-ignore
  });

  it("what is assumed is listed by size and kind, and then what stays", () => {
    const still = new Map([["woofer", "its impedance shows no resonance"]]);
    const [stated, level] = [one({ of: ["R1"], assumed: false }), one({ of: ["dome"], quantity: "levelDb", tolerance: 1, unit: "dB" })];
    expect(assumedTexts([one({}), stated, one({ of: ["L1", "L2"] }), level], still)).toEqual([
      "±5 % of C1, L1, L2",
      "±1 dB of the level of dome",
      "the resonance and Q of woofer stay, since its impedance shows no resonance",
    ]);
  });

  const criterionOf = (name: string, kept = true) => ({ name, unit: "dB", limit: 1, nominal: 0.5, kept, share: 0.5, worstSample: 2 });
  const answer = (more: object): Omit<Spread, "sentences"> =>
    ({
      samples: 200,
      yield: { share: 0.8, interval: [0.74, 0.85] },
      criteria: [criterionOf("loss")],
      ranking: [one({ share: 0.9, yieldIfExact: 0.95 })],
      pair: { rmsDb: { median: 0.2, most: 0.6 } },
      assumed: [],
      ...more,
    }) as unknown as Omit<Spread, "sentences">;

  it("the answer says the share of good ones, who makes the spread, what would raise it, and how two differ", () => {
    expect(spreadSentences(answer({}))).toEqual([
      "Of 200 loudspeakers drawn within these tolerances, 80 % (74 % to 85 % with 95 % confidence) keep: at most 1.00 dB from the goal.",
      "C1 (±5 %) makes 90 % of the spread.",
      "With C1 exact, 95 % would be good: measure several and pick it, or buy it closer.",
      "Left and right differ by 0.20 dB (root mean square over the band) in half of all pairs, and by 0.60 dB in one of twenty.",
    ]);
    expect(
      spreadSentences(answer({ assumed: ["±5 % of C1", "±1 dB"], matchedPair: { rmsDb: { median: 0.1, most: 0.3 } } })).slice(-2),
    ).toEqual([
      "Left and right differ by 0.20 dB (root mean square over the band) in half of all pairs, and by 0.60 dB in one of twenty; with what is matched, by 0.10 dB and 0.30 dB.",
      "Assumed, since nothing else is stated: ±5 % of C1; ±1 dB.",
    ]);
    const [share] = spreadSentences(answer({ yield: { share: 0.999, interval: [0.9951, 1] } }));
    expect(share).toContain("99.9 % (99.5 % to 100 % with");
    // 199 of 200 aren't all, and one of 1000 isn't none.
    const said = (share: number) => /tolerances, (.*?) \(/.exec(spreadSentences(answer({ yield: { share, interval: [0, 1] } }))[0]!)![1];
    expect([1, 0.9996, 0.9995, 0.995, 0.9949, 0.5].map(said)).toEqual(["100 %", "over 99.9 %", "100.0 %", "99.5 %", "99 %", "50 %"]);
    expect([0, 0.0004, 0.0005, 0.0049, 0.005, 0.02].map(said)).toEqual(["0 %", "under 0.1 %", "0.1 %", "0.5 %", "1 %", "2 %"]);
  });

  it("advice is for what would raise the share most, by more than a hundredth", () => {
    const advice = (...ranking: readonly object[]) => spreadSentences(answer({ ranking: ranking.map(one) }))[2];
    expect(advice({ yieldIfExact: 0.82 }, { of: ["L1"], quantity: "inductance", yieldIfExact: 0.9 })).toContain("With L1 exact, 90 %");
    expect(advice({ of: ["C1", "C2"], yieldIfExact: 0.9 })).toContain("pick them, or buy them closer");
    expect(advice({ of: ["dome"], quantity: "delay", yieldIfExact: 0.9 })).toContain("see that it is mounted where it was measured");
    expect(advice({ of: ["dome"], quantity: "levelDb", yieldIfExact: 0.9 })).toContain("measure several drivers and pick by their level");
    expect(advice({ yieldIfExact: 0.81 })).toBe("No single part or driver made exact would raise that by more than 1 %.");
    expect(advice({})).toBe("No single part or driver made exact would raise that by more than 1 %.");
    expect(spreadSentences(answer({ yield: { share: 0.995, interval: [0.99, 1] } }))[2]).toMatch(/^Left and right/);
    expect(spreadSentences(answer({ ranking: [one({ share: 0 })] }))).toHaveLength(1);
  });

  it("what isn't kept as drawn doesn't count, unless all of it does", () => {
    const criteria = [criterionOf("loss"), criterionOf("leastLevelDb", false)];
    const [lost, share] = spreadSentences(answer({ criteria }));
    expect(lost).toBe("Not kept as drawn, and so not counted in what follows: a level of at least 1.0 dB.");
    expect(share).toMatch(/keep: at most 1\.00 dB from the goal\.$/);
    expect(spreadSentences(answer({ criteria }), "all")[0]).toMatch(/keep: at most 1\.00 dB from the goal, a level of at least 1\.0 dB\.$/);
    const none = spreadSentences(answer({ criteria: [criterionOf("loss", false)] }));
    expect(none[0]).toBe("Nothing that is asked for is kept as drawn, so that no share of good loudspeakers can be given.");
    expect(none.join(" ")).not.toMatch(/exact|raise/);
    expect(spreadSentences(answer({ ranking: [] }))).toEqual([
      "Nothing scatters: every tolerance is 0.",
      "Of 200 loudspeakers drawn within these tolerances, 80 % (74 % to 85 % with 95 % confidence) keep: at most 1.00 dB from the goal.",
    ]);
  });
});
