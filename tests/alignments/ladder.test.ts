// Tests src/alignments/compensation/: all-pass-options.ts, placed.ts
// Tests src/alignments/ladders/: chain-branch.ts, closed-form-ladder.ts, denormalise.ts, ladder-values.ts, make-ladder.ts
// Tests src/alignments/ladders/: maximal-flatness.ts, reflection.ts, synthesis.ts
// Tests src/alignments/prototypes/: legendre-papoulis.ts
import {
  allPole,
  bessel,
  butterworth,
  chebyshev,
  highPass,
  ladder,
  ladderImpedance,
  ladderValues,
  legendrePapoulis,
  linkwitzRiley,
} from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { join, network, solve, type Network } from "dividing-network/network";
import { resistor } from "dividing-network/parts";
import { workingText } from "dividing-network/quantity";
import { describe, expect, it } from "vitest";

describe("ladderValues", () => {
  it("refuses what cannot be realised, with the reason and the way out", () => {
    const code = expect.objectContaining({ code: "not-realizable" });
    expect(() => ladderValues(butterworth(3), { first: "shunt" })).toThrow(code);
    expect(() => ladderValues(butterworth(3), { first: "shunt" })).toThrow(/lies across an ideal source/);
    expect(() => ladderValues(butterworth(4), { sourceResistance: 2 })).toThrow(/would need a transformer\. Begin with the other kind/);
    expect(() => ladderValues(legendrePapoulis(4), { sourceResistance: 2 })).toThrow(code);
    expect(() => ladderValues(butterworth(4), { sourceResistance: 0.5, first: "shunt" })).toThrow(code);
    expect(() => ladderValues(chebyshev(2, { rippleDb: 0.1 }), { sourceResistance: 1 })).toThrow(
      /even-order Chebyshev ladder needs resistances whose ratio is at least 1\.355361 for this ripple.*got 1\./,
    );
    // A resonance above the level at zero frequency needs more power than equal resistances pass.
    expect(() => ladderValues(allPole({ denominator: [1, 0.5, 1] }), { sourceResistance: 1 })).toThrow(
      /more power than the source has, as this function asks near ω = 0\.9\d+ rad\/s/,
    );
  });

  it("refuses what is no low-pass function without zeros", () => {
    const { zeros, poles, gain } = highPass(butterworth(3), 1000);
    expect(() => ladderValues({ zeros, poles, gain })).toThrow(/must have no zeros/);
    for (const options of [{ sourceResistance: -1 }, { sourceResistance: NaN }, { sourceResistance: 1e-9 }, { first: "T" }, { rs: 1 }]) {
      expect(() => ladderValues(butterworth(3), options as object)).toThrow(expect.objectContaining({ name: "DividingNetworkError" }));
    }
    const alone = { zeros: [], poles: [{ re: -1, im: -1 }], gain: 1 };
    expect(() => ladderValues(alone)).toThrow(
      /"prototype\.poles" must come in conjugate pairs, got -1 − j1 rad\/s without its mirror image/,
    );
    expect(() => ladder(butterworth(3), { pass: "low", frequency: 1000, load: 8, first: null as never })).toThrow(
      /"first" must be one of "series", "shunt", got null/,
    );
  });

  it("is the same for both closed form and reflection, where both apply", () => {
    // With one pair of poles moved by 1e-11 it is no longer recognised as a Butterworth or Chebyshev function.
    for (const made of [butterworth(5), butterworth(6), chebyshev(5, { rippleDb: 0.3 }), chebyshev(6, { rippleDb: 0.3 })]) {
      const moved = allPole({ poles: made.poles.map(({ re, im }, k) => ({ re: re * (k < 2 ? 1 + 1e-11 : 1), im })) });
      const [closed, general] = [made, moved].map((each) => ladderValues(each, { sourceResistance: 0.4 }));
      closed!.forEach((value, k) => expect(general![k]! / value - 1).toBeCloseTo(0, 8));
    }
  });

  it("has T and π of one function between equal resistances as duals", () => {
    for (const made of [butterworth(3), bessel(5), legendrePapoulis(7)]) {
      expect(ladderValues(made, { sourceResistance: 1, first: "shunt" })).toEqual(ladderValues(made, { sourceResistance: 1 }));
    }
  });
});

describe("ladder", () => {
  const made = ladder(butterworth(3), { pass: "low", frequency: "3 kHz", load: "8 Ω" });

  it("gives designators, values, fragment and network of one circuit", () => {
    expect(made.elements.map(({ designator, placement }) => `${designator} ${placement}`)).toEqual(["L1 series", "C2 shunt", "L3 series"]);
    expect(made.values).toEqual(Object.values(made.parts));
    expect(Object.keys(made.network)).toEqual(["L1", "C2", "L3", "load"]);
    const placed = made.branch({ from: "amp", to: "woofer", ground: "minus", prefix: "A" });
    expect(Object.entries(placed as Network).map(([name, [, ...nodes]]) => `${name} ${nodes.join(" ")}`)).toEqual([
      "AL1 amp AL1.2",
      "AC2 AL1.2 minus",
      "AL3 AL1.2 woofer",
    ]);
  });

  it("makes coils and capacitors change places for the high-pass", () => {
    const high = ladder(butterworth(3), { pass: "high", frequency: 3000, load: 8 });
    expect(Object.keys(high.parts)).toEqual(["C1", "L2", "C3"]);
    const w2 = (2 * Math.PI * 3000) ** 2;
    made.values.forEach((value, k) => expect(value * high.values[k]! * w2).toBeCloseTo(1, 12));
  });

  it("makes resonant circuits for the band-pass", () => {
    const band = ladder(bessel(3), { pass: "band", from: 300, to: 3000, load: 8 });
    expect(Object.keys(band.parts)).toEqual(["L1", "C1", "L2", "C2", "L3", "C3"]);
    for (const k of [1, 2, 3]) expect(band.parts[`L${k}`]! * band.parts[`C${k}`]! * (2 * Math.PI) ** 2 * 300 * 3000).toBeCloseTo(1, 12);
  });

  it("puts a wire where a lone part in shunt leaves no way from input to output", () => {
    const shunt = ladder(butterworth(1), { pass: "low", frequency: 1000, load: 8, sourceResistance: 8, first: "shunt" });
    expect(Object.keys(shunt.network)).toEqual(["W1", "C1", "load"]);
  });

  it("has the impedance that the solver finds", () => {
    const grid = logGrid(20, 20e3, 61);
    for (const each of [
      made,
      ladder(linkwitzRiley(8), { pass: "high", frequency: 500, load: 4 }),
      ladder(bessel(4), { pass: "band", from: 200, to: 2000, load: 6 }),
    ]) {
      const [own, solved] = [ladderImpedance(each, grid), solve(each.network, grid).impedance];
      own.re.forEach((re, i) =>
        expect(Math.hypot(re - solved.re[i]!, own.im[i]! - solved.im[i]!)).toBeLessThan(1e-9 * Math.hypot(re, own.im[i]!)),
      );
    }
  });

  it("shows its working, whose last step is the last value", () => {
    const { working } = made;
    expect(working.map(({ symbol }) => symbol)).toEqual(["g3", "g2", "g1", "L1", "C2", "L3"]);
    expect(working.slice(-3).map(({ value }) => value)).toEqual(made.values);
    expect(workingText(working)).toContain("L1 = g1 R / (2πf)\n   g1 = 1.5, R = ");
    const between = ladder(chebyshev(3, { rippleDb: 0.5 }), { pass: "low", frequency: 100, load: 8, sourceResistance: 4 });
    expect(between.working.map(({ symbol }) => symbol)).toEqual(["h1", "h2", "h3", "g1", "g2", "g3", "L1", "C2", "L3"]);
    expect(between.working.at(-1)!.value).toBe(between.values.at(-1));
    // Each number put in stands under the name that the formula gives it.
    for (const { formula, inputs } of [...working.slice(3), ...between.working])
      for (const { symbol } of inputs) expect(formula).toContain(symbol);
  });

  it("joins with others without touching them by accident", () => {
    const other = ladder(butterworth(3), { pass: "high", frequency: 3000, load: 8 });
    const both = network(
      join(join(made.branch({ from: "in", to: "w" }), other.branch({ from: "in", to: "t" })), {
        W: [resistor(8), "w", "gnd"],
        T: [resistor(8), "t", "gnd"],
      }),
    );
    const { re, im } = solve(both, [100, 3000, 9000]).impedance;
    re.forEach((value, i) => expect(Math.hypot(value - 8, im[i]!)).toBeLessThan(1e-11));
  });

  it("refuses options that make no ladder", () => {
    const good = { pass: "low", frequency: 1000, load: 8 };
    const refused = [
      { load: 0 },
      { load: -8 },
      { load: Infinity },
      { load: "8 H" },
      { frequency: 0 },
      { frequency: 2e6 },
      { pass: "notch" },
      { sourceResistance: -1 },
      { sourceResistance: 1e9 },
      { first: "both" },
      { from: 10 },
      { order: 3 },
    ];
    for (const change of refused)
      expect(() => ladder(butterworth(2), { ...good, ...change } as never), JSON.stringify(change)).toThrow(
        expect.objectContaining({ name: "DividingNetworkError" }),
      );
    expect(() => ladder(butterworth(2), { pass: "band", from: 2000, to: 1000, load: 8 })).toThrow(/"to" must be above "from"/);
    expect(() => made.branch({ from: "", to: "b" })).toThrow(/"from" must be the name of a node/);
    expect(() => made.branch({ from: "a", to: "b", ground: 4 as never })).toThrow(/"ground"/);
    expect(() => made.branch({ from: "a", to: "b", name: "x" } as never)).toThrow(expect.objectContaining({ code: "unknown-option" }));
  });
});
