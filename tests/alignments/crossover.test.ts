// Tests src/alignments/crossovers/: all-pass-of-sum.ts, crossover-sum.ts, delay-derived.ts, derived-three-way.ts, multi-way.ts
// Tests src/alignments/crossovers/: polarity.ts, series-crossover.ts, subtractive.ts, sum-deviation.ts, sum-of.ts, three-way-equations.ts
// Tests src/alignments/crossovers/: three-way-solver.ts
// Tests src/alignments/filters/: high-pass.ts, low-pass.ts
// Tests src/alignments/ladders/: ladder-impedance.ts
// Tests src/alignments/prototypes/: bessel.ts, butterworth.ts
// Tests src/errors/: checks.ts, shown.ts
// Tests src/numeric/: solve-linear.ts
import {
  bessel,
  butterworth,
  crossover,
  crossoverSum,
  delayDerived,
  derivedThreeWay,
  highPass,
  ladderImpedance,
  linkwitzRiley,
  lowPass,
  multiWay,
  seriesCrossover,
  subtractive,
  sumOf,
  type CrossoverOptions,
} from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { join, network, solve, type Entries } from "dividing-network/network";
import { resistor } from "dividing-network/parts";
import { levelDb, phaseDegrees, responseOf, type TransferFunction } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const grid = logGrid(20, 20e3, 121);
const base = { frequency: 1000, load: 8 } as const;
const options: readonly CrossoverOptions[] = [
  ...[1, 2, 3, 4, 5, 6, 7, 8].map((order) => ({ family: "butterworth", order, ...base }) as const),
  ...[2, 4, 6, 8].map((order) => ({ family: "linkwitz-riley", order, ...base }) as const),
  ...[1, 2, 3, 4, 5, 6].flatMap((order) =>
    (["delay", "half-power", "asymptote"] as const).map((normalization) => ({ family: "bessel", order, normalization, ...base }) as const),
  ),
  ...[2, 3, 4].map((order) => ({ family: "chebyshev", order, rippleDb: 0.5, ...base }) as const),
  ...[3, 4, 5, 6].map((order) => ({ family: "legendre-papoulis", order, ...base }) as const),
  ...[2, 3, 4].map((order) => ({ family: "critically-damped", order, ...base }) as const),
];
const difference = (a: { re: Float64Array; im: Float64Array }, b: { re: Float64Array; im: Float64Array }): number =>
  a.re.reduce((worst, re, i) => Math.max(worst, Math.hypot(re - b.re[i]!, a.im[i]! - b.im[i]!)), 0);
const worst = (values: Float64Array): number => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

describe("crossover", () => {
  it("is, solved as one network, what its transfer functions say", () => {
    for (const each of options) {
      const made = crossover({ ...each, load: { lowPass: 6, highPass: "4 Ω" } });
      const drivers = { W: [resistor(6), "w", "gnd"], T: [resistor(4), "t", "gnd"] } as const;
      const sweep = solve(
        network(join(join(made.lowPass.branch({ from: "in", to: "w" }), made.highPass.branch({ from: "in", to: "t" })), drivers)),
        grid,
      );
      expect(difference(sweep.voltage("W"), responseOf(made.lowPass.transfer, grid))).toBeLessThan(1e-9);
      expect(difference(sweep.voltage("T"), responseOf(made.highPass.transfer, grid))).toBeLessThan(1e-9);
      expect(difference(sweep.impedance, crossoverSum(made, grid).inputImpedance)).toBeLessThan(1e-7);
    }
  });

  it("has the polarity whose sum strays less, or delays less where both are flat", () => {
    for (const each of options) {
      const made = crossover(each);
      const other = made.polarity === "same" ? "reversed" : "same";
      const [own, against] = [crossoverSum(made, grid), crossoverSum(made, grid, other)];
      const name = `${each.family} ${each.order} ${each.normalization ?? ""}`;
      if (worst(against.levelDb) < 1e-9) expect(own.groupDelay[0]!, name).toBeLessThan(against.groupDelay[0]!);
      else expect(worst(own.levelDb), name).toBeLessThan(worst(against.levelDb) + 1e-9);
    }
  });

  it("tilts the lobe of odd orders towards the driver that lags", () => {
    // First order: the low-pass lags by 90°. Third order, reversed: so again; in the same polarity the high-pass lags.
    expect(crossover({ family: "butterworth", order: 1, ...base }).lobeTilt).toBe("towards the low-pass driver");
    expect(crossover({ family: "butterworth", order: 3, ...base })).toMatchObject({
      polarity: "reversed",
      eitherPolarity: true,
      lobeTilt: "towards the low-pass driver",
    });
    expect(crossover({ family: "linkwitz-riley", order: 2, ...base })).toMatchObject({
      polarity: "reversed",
      eitherPolarity: false,
      lobeTilt: "none",
    });
    expect(crossover({ family: "linkwitz-riley", order: 4, ...base })).toMatchObject({
      polarity: "same",
      eitherPolarity: false,
      lobeTilt: "none",
    });
  });

  it("shows how its parts came about, to the last of the high-pass, and then the phase that decides the polarity", () => {
    for (const each of options.slice(0, 8)) {
      const { working: whole, lowPass: low, highPass: high } = crossover(each);
      const working = whole.slice(0, -1);
      // Each zero at 0 turns the high-pass by 90°.
      expect(whole.at(-1)).toMatchObject({ symbol: "φ", value: expect.closeTo(90 * each.order, 9) as number, unit: "°" });
      const values = working.map(({ value }) => value);
      expect(values.at(-1)).toBe(high.values.at(-1));
      expect(values.slice(-2 * each.order)).toEqual([...low.values, ...high.values]);
      const names = (way: string, made: typeof low) => made.elements.map(({ designator }) => `${way} ${designator}`);
      expect(working.slice(-2 * each.order).map(({ symbol }) => symbol)).toEqual([...names("low-pass", low), ...names("high-pass", high)]);
    }
  });

  it("refuses what makes no crossover", () => {
    const refused: readonly object[] = [
      { family: "elliptic" },
      { family: "linkwitzRiley" },
      { family: "legendrePapoulis" },
      { family: "criticallyDamped" },
      { order: 0 },
      { order: 2.5 },
      { order: 99 },
      { order: "2" },
      { frequency: 0 },
      { frequency: -1 },
      { frequency: 2e6 },
      { load: 0 },
      { load: { lowPass: 8 } },
      { load: { lowPass: 8, highPass: 0 } },
      { rippleDb: 1 },
      { normalization: "delay" },
      { family: "chebyshev" },
      { family: "chebyshev", rippleDb: 0 },
      { family: "linkwitz-riley", order: 3 },
      { family: "critically-damped", normalization: "delay" },
      { slope: 12 },
    ];
    for (const change of refused)
      expect(() => crossover({ family: "butterworth", order: 2, ...base, ...change } as CrossoverOptions), JSON.stringify(change)).toThrow(
        expect.objectContaining({ name: "DividingNetworkError" }),
      );
  });
});

describe("crossoverSum", () => {
  it("refuses what is no crossover, and a polarity that is none", () => {
    for (const junk of [undefined, null, 3, {}, [], "crossover", { lowPass: {}, highPass: {} }]) {
      expect(() => crossoverSum(junk as never, [1000])).toThrow(/crossoverSum: "crossover\.lowPass" must be a ladder/);
      expect(() => ladderImpedance(junk as never, [1000])).toThrow(/ladderImpedance: "ladder" must be a ladder/);
    }
    const made = crossover({ family: "butterworth", order: 2, ...base });
    for (const polarity of [null, "against", 1])
      expect(() => crossoverSum(made, [1000], polarity as never)).toThrow(/"polarity" must be one of "same", "reversed"/);
  });
});

describe("sumOf", () => {
  const allPassDelay = (order: number, polarity: "same" | "reversed") =>
    sumOf([{ transfer: lowPass(butterworth(order), 1000) }, { transfer: highPass(butterworth(order), 1000), polarity }], grid);

  it("has the group delay of the sum: none for first order, 2/ω₀ at low frequencies for third order reversed, as much again in the same polarity", () => {
    expect(worst(allPassDelay(1, "same").groupDelay)).toBeLessThan(1e-18);
    const low = sumOf(
      [{ transfer: lowPass(butterworth(3), 1000) }, { transfer: highPass(butterworth(3), 1000), polarity: "reversed" }],
      [0],
    );
    expect(low.groupDelay[0]! * 2 * Math.PI * 1000).toBeCloseTo(2, 12);
  });

  it("is the slope of the sum's phase", () => {
    const ways = [
      { transfer: lowPass(bessel(4), 900) },
      { transfer: highPass(bessel(3), 1100), polarity: "reversed", gainDb: -2 },
    ] as const;
    for (const frequency of [300, 950, 2500]) {
      const h = frequency * 1e-5;
      const { response } = sumOf(ways, [frequency - h, frequency + h]);
      const [a, b] = [0, 1].map((i) => ({ re: response.re[i]!, im: response.im[i]! })) as [
        { re: number; im: number },
        { re: number; im: number },
      ];
      const slope = Math.atan2(a.im * b.re - a.re * b.im, a.re * b.re + a.im * b.im) / (4 * Math.PI * h);
      expect(sumOf(ways, [frequency]).groupDelay[0]! / slope - 1).toBeCloseTo(0, 6);
    }
  });

  it("refuses no ways, unknown options and gains out of range", () => {
    for (const ways of [
      [],
      undefined,
      [{}],
      [{ transfer: lowPass(butterworth(1), 10), delay: 1 }],
      [{ transfer: lowPass(butterworth(1), 10), gainDb: NaN }],
      [{ transfer: lowPass(butterworth(1), 10), gainDb: null }],
      [{ transfer: { ...butterworth(1), gain: 1e300 } }],
    ]) {
      expect(() => sumOf(ways as never, [1])).toThrow(expect.objectContaining({ name: "DividingNetworkError" }));
    }
  });
});

describe("multiWay", () => {
  it("builds middle ways that are high-pass and low-pass in a row, louder by what is stated", () => {
    for (const [family, order] of [
      ["butterworth", 1],
      ["butterworth", 3],
      ["linkwitz-riley", 2],
      ["linkwitz-riley", 8],
      ["bessel", 4],
    ] as const) {
      const { ways } = multiWay({ family, order, frequencies: [120, 700, 4000], load: [4, 8, 8, 6] });
      expect(ways.map(({ ladder }) => ladder.load)).toEqual([4, 8, 8, 6]);
      for (const { ladder, transfer, surplusDb } of ways) {
        const wanted = responseOf({ ...transfer, gain: transfer.gain * 10 ** (surplusDb / 20) }, grid);
        expect(difference(solve(ladder.network, grid).voltage("out"), wanted)).toBeLessThan(1e-9);
        expect(surplusDb).toBeGreaterThanOrEqual(0);
      }
    }
  });

  it("corrects four ways exactly as it does three, where an all-pass correction exists", () => {
    for (const [family, order] of [
      ["linkwitz-riley", 2],
      ["linkwitz-riley", 4],
      ["linkwitz-riley", 6],
      ["butterworth", 1],
      ["butterworth", 3],
      ["butterworth", 5],
    ] as const) {
      const made = multiWay({ family, order, frequencies: [100, 600, 3000], load: 8 });
      expect(made.correctedSum, `${family} ${order}`).toBeDefined();
      expect(Math.max(-made.correctedSum!.lowestDb, made.correctedSum!.highestDb)).toBeLessThan(1e-11);
      expect(Math.max(-made.sum.lowestDb, made.sum.highestDb)).toBeGreaterThan(0.1);
      expect(made.ways.at(-1)!.correction!.zeros.length).toBe(2 * order);
    }
    for (const [family, order] of [
      ["butterworth", 2],
      ["bessel", 3],
    ] as const)
      expect(multiWay({ family, order, frequencies: [300, 3000], load: 8 }).correctedSum).toBeUndefined();
  });

  it("refuses corners that don't ascend, and loads that are not one for each way", () => {
    const good = { family: "butterworth", order: 2, frequencies: [300, 3000], load: 8 } as const;
    for (const change of [
      { frequencies: [300] },
      { frequencies: [3000, 300] },
      { frequencies: [300, 300] },
      { frequencies: 300 },
      { load: [8, 8] },
      { load: [8, 8, 0] },
    ]) {
      expect(() => multiWay({ ...good, ...change } as never), JSON.stringify(change)).toThrow(
        expect.objectContaining({ code: "invalid-argument" }),
      );
    }
  });
});

describe("derivedThreeWay", () => {
  it.each([1, 2, 3, 4])("solves order %d for an all-pass sum and for constant power", (order) => {
    for (const ratio of [3, 8, 20, 200]) {
      for (const target of ["all-pass", "constant-power"] as const) {
        const made = derivedThreeWay({ target, order, frequencies: [200, 200 * ratio], load: 8 });
        const { lowestDb, highestDb } = target === "all-pass" ? made.sum : made.power;
        expect(Math.max(-lowestDb, highestDb), `${target} ${ratio}`).toBeLessThan(1e-11);
        for (const { ladder, transfer, gainDb } of made.ways) {
          const wanted = responseOf({ ...transfer, gain: transfer.gain * 10 ** (-gainDb / 20) }, grid);
          expect(difference(solve(ladder.network, grid).voltage("out"), wanted)).toBeLessThan(1e-9);
        }
      }
    }
  });

  it("finds Butterworth ways with K² = ω₂²ⁿ − ω₁²ⁿ for constant power", () => {
    for (const order of [1, 2, 3, 4]) {
      const { denominator, ways } = derivedThreeWay({ target: "constant-power", order, frequencies: [100, 800], load: 8 });
      const wanted = [
        [1, 1],
        [1, Math.SQRT2, 1],
        [1, 2, 2, 1],
        [1, 2.613125929752753, 3.414213562373095, 2.613125929752753, 1],
      ][order - 1]!;
      wanted.forEach((value, k) => expect(denominator[k]).toBeCloseTo(value, 10));
      const k2 = ways[1].transfer.gain ** 2 / (2 * Math.PI * 100) ** (2 * order);
      expect(k2 / (8 ** (2 * order) - 1)).toBeCloseTo(1, 9);
    }
  });

  it("refuses orders above 4 and corners too near", () => {
    for (const change of [
      { order: 5 },
      { order: 0 },
      { frequencies: [200, 300] },
      { frequencies: [200] },
      { frequencies: 200 },
      { target: "flat" },
      { load: 0 },
    ]) {
      expect(() => derivedThreeWay({ target: "all-pass", order: 2, frequencies: [200, 2000], load: 8, ...change } as never)).toThrow(
        expect.objectContaining({ code: "invalid-argument" }),
      );
    }
  });
});

describe("seriesCrossover", () => {
  it.each([
    [1, undefined],
    [2, undefined],
    [2, 0.5],
    [2, 1.3],
  ] as const)("order %d, Q %s: the solver finds its transfer functions at the drivers", (order, q) => {
    const made = seriesCrossover({ order, ...base, ...(q === undefined ? {} : { q }) });
    const nodes = { from: "in", to: "gnd", prefix: "X" };
    const { lowPass: w, highPass: t } = made.terminals(nodes);
    const sweep = solve(network(join(made.branch(nodes), { W: [resistor(8), ...w], T: [resistor(8), ...t] } as Entries)), grid);
    expect(difference(sweep.voltage("W"), responseOf(made.lowPass, grid))).toBeLessThan(1e-12);
    expect(difference(sweep.voltage("T"), responseOf(made.highPass, grid))).toBeLessThan(1e-12);
    const strays = sweep.impedance.re.reduce((most, re, i) => Math.max(most, Math.hypot(re - 8, sweep.impedance.im[i]!)), 0);
    if (q === undefined) expect(strays).toBeLessThan(1e-11);
    else expect(strays).toBeGreaterThan(1);
    expect(made.working.at(-2)!.value).toBe(Object.values(made.parts).at(-1));
    // Last the polarity and its reason: the ways are an order's quarter turns apart.
    expect(made.working.at(-1)!.value).toBeCloseTo(made.polarity === "same" ? 90 : 180, 9);
    expect(made.working.at(-1)!.note).toMatch(
      made.polarity === "same" ? /^both drivers have the same polarity/ : /^the high-pass driver is reversed/,
    );
    for (const { formula, inputs } of made.working) for (const { symbol } of inputs) expect(formula).toContain(symbol);
  });

  it("refuses other orders, and a Q for the first", () => {
    for (const change of [{ order: 3 }, { order: 0 }, { order: 1, q: 0.5 }, { order: 2, q: 0 }, { q: null as never }, { load: 0 }])
      expect(() => seriesCrossover({ order: 2, ...base, ...change })).toThrow(expect.objectContaining({ code: "invalid-argument" }));
  });
});

describe("subtractive and delay-derived ways", () => {
  const one = (a: TransferFunction, b: TransferFunction): number => {
    const { re, im } = sumOf([{ transfer: a }, { transfer: b }], grid).response;
    return re.reduce((most, value, i) => Math.max(most, Math.hypot(value - 1, im[i]!)), 0);
  };

  it("sum to exactly 1 with the way they are derived from", () => {
    for (const made of [butterworth(1), butterworth(4), linkwitzRiley(4), bessel(6), linkwitzRiley(8)]) {
      for (const given of [lowPass(made, 800), highPass(made, 800)]) expect(one(given, subtractive(given))).toBeLessThan(1e-12);
    }
  });

  it("vanish where the given way is 1: a high-pass derived from a low-pass has a zero at zero frequency", () => {
    const derived = subtractive(lowPass(bessel(4), 800));
    expect(derived.zeros.filter(({ re, im }) => re === 0 && im === 0)).toHaveLength(1);
    expect(derived.gain).toBe(1);
    expect(() => subtractive({ zeros: [], poles: [], gain: 1 })).toThrow(/must differ from 1/);
  });

  it("delay-derived: low-pass and high-pass sum to a pure delay, and the high-pass falls more steeply than the subtractive one", () => {
    const made = delayDerived(bessel(4), { frequency: 1000 });
    const [low, high] = [responseOf(made.lowPass, grid), made.highPass(grid)];
    grid.forEach((frequency, i) => {
      const angle = -2 * Math.PI * frequency * made.delay;
      expect(Math.hypot(low.re[i]! + high.re[i]! - Math.cos(angle), low.im[i]! + high.im[i]! - Math.sin(angle))).toBeLessThan(1e-13);
    });
    const [derived, plain] = [levelDb(made.highPass([100]))[0]!, levelDb(responseOf(subtractive(made.lowPass), [100]))[0]!];
    expect(derived).toBeLessThan(plain - 20);
    expect(() => delayDerived(bessel(4), { frequency: 1000, delay: -1 })).toThrow(expect.objectContaining({ code: "invalid-argument" }));
  });
});

describe("the working of three ways", () => {
  it("ends with each pair of neighbours, how far apart in phase they are at their corner, and the reason of their polarity", () => {
    for (const order of [2, 3, 4]) {
      const { working, ways } = multiWay({
        family: order === 3 ? "butterworth" : "linkwitz-riley",
        order,
        frequencies: [300, 3000],
        load: 8,
      });
      const last = working.slice(-2);
      expect(last.map(({ symbol }) => symbol)).toEqual(["ways 1 and 2: φ", "ways 2 and 3: φ"]);
      // By another route: the angle between the responses themselves.
      last.forEach(({ value }, k) => {
        const [lower, upper] = [ways[k]!, ways[k + 1]!].map(({ transfer }) => phaseDegrees(responseOf(transfer, [[300, 3000][k]!]))[0]!);
        expect(Math.cos(((value - (upper! - lower!)) * Math.PI) / 180)).toBeCloseTo(1, 9);
      });
      const reversed = ways[1]!.polarity !== ways[0]!.polarity;
      for (const { note } of last)
        expect(note).toMatch(reversed ? /^neighbours are reversed against each other/ : /^all ways have the same polarity/);
    }
    const derived = derivedThreeWay({ target: "all-pass", order: 2, frequencies: [400, 3200], load: 8 });
    expect(derived.working.at(-1)!.note).toMatch(/^the middle way is reversed: the functions were solved for/);
    expect(derivedThreeWay({ target: "constant-power", order: 2, frequencies: [400, 3200], load: 8 }).working.at(-1)!.note).toMatch(
      /power has none/,
    );
  });
});
