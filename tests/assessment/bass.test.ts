// Tests src/assessment/: source-seen.ts
// Damping of a woofer by closed forms: behind a resistance R its electrical Q grows by (Re + R)/Re, whatever lies between; behind a reactance as well the conductance
// that damps it is ℜ{1/(Re + Zs)}.
import { describe, expect, it } from "vitest";
import { assess, compare, type Assessment } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { frequencyResponse, logGrid } from "dividing-network";
import { flat, measure, size, over, plus, type C } from "../support/synthetic";

const [re, fs, qms, qes] = [5.6, 48, 4.2, 0.42];
const woofer = driverImpedance({ re, fs, qms, qes, le: "0.1 mH" });
const tweeter = resistor(6);
const box = (network: Entries, sourceImpedance?: number): Loudspeaker =>
  loudspeaker({
    network,
    drivers: [
      { name: "woofer", role: "woofer", pressures: flat },
      ...("tweeter" in network ? [{ name: "tweeter", role: "tweeter" as const, pressures: flat }] : []),
    ],
    ...(sourceImpedance === undefined ? {} : { sourceImpedance }),
  } as never);
const judged = (network: Entries, sourceImpedance?: number, damping = {}): Assessment =>
  assess(box(network, sourceImpedance), { ratedImpedance: 4, goal: { damping } });
const qBehind = (resistance: number, reactance = 0): number => {
  const behind = qes / (re * ((re + resistance) / ((re + resistance) ** 2 + reactance ** 2)));
  return (qms * behind) / (qms + behind);
};
const motional = (f: number): C => over([(re * qms) / qes, 0], [1, qms * (f / fs - fs / f)]);
const impedance = (f: number): C => plus([re, 2 * Math.PI * f * 1e-4], motional(f));

describe("the damping of a woofer", () => {
  it.each([0, 0.3, 1.2, 4])("behind a resistor of %s Ω and an amplifier of 0.2 Ω: the resistance that it sees, and its Q", (ohms) => {
    const { bass } = judged({ R1: [resistor(ohms), "in", "w"], woofer: [woofer, "w", "gnd"] }, 0.2);
    expect(bass).toHaveLength(1);
    expect(bass[0]!.resonance).toBe(fs);
    expect(bass[0]!.sourceResistance).toBeCloseTo(ohms + 0.2, 9);
    expect(bass[0]!.sourceReactance).toBeCloseTo(0, 9);
    expect(bass[0]!.qAlone).toBeCloseTo((qms * qes) / (qms + qes), 12);
    expect(bass[0]!.q).toBeCloseTo(qBehind(ohms + 0.2), 9);
  });

  it("behind a coil and a capacitor across it: both parts of what it sees", () => {
    const { bass } = judged({
      L1: [inductor("3 mH", { dcr: 0.4 }), "in", "w"],
      C1: [capacitor("80 µF"), "w", "gnd"],
      woofer: [woofer, "w", "gnd"],
      C2: [capacitor("5 µF"), "in", "t"],
      tweeter: [tweeter, "t", "gnd"],
    });
    const w = 2 * Math.PI * fs;
    const [series, across]: [C, C] = [
      [0.4, w * 3e-3],
      [0, -1 / (w * 80e-6)],
    ];
    const seen = over([series[0] * across[0] - series[1] * across[1], series[0] * across[1] + series[1] * across[0]], plus(series, across));
    expect(bass.map(({ part }) => part)).toEqual(["woofer"]);
    expect(bass[0]!.sourceResistance).toBeCloseTo(seen[0], 9);
    expect(bass[0]!.sourceReactance).toBeCloseTo(seen[1], 9);
    expect(bass[0]!.q).toBeCloseTo(qBehind(seen[0], seen[1]), 9);
  });

  it("of two in parallel, and of two in series: each sees twice, and half of, what one would", () => {
    const two = (network: Entries) =>
      assess(
        loudspeaker({
          network,
          drivers: ["woofer", "woofer2"].map((name) => ({ name, role: "woofer" as const, pressures: flat })),
        } as never),
        { ratedImpedance: 4 },
      ).bass;
    const parallel = two({ R1: [resistor(0.5), "in", "w"], woofer: [woofer, "w", "gnd"], woofer2: [woofer, "w", "gnd"] });
    expect(parallel).toHaveLength(1);
    expect(parallel[0]!.sourceResistance).toBeCloseTo(1, 9);
    const series = two({ R1: [resistor(0.5), "in", "w"], woofer: [woofer, "w", "m"], woofer2: [woofer, "m", "gnd"] });
    expect(series).toHaveLength(1);
    expect(series[0]!.sourceResistance).toBeCloseTo(0.25, 9);
    expect(series[0]!.q).toBeCloseTo(qBehind(0.25), 9);
  });

  it("raises the level at the resonance against where the impedance is least", () => {
    const { bass } = judged({ R1: [resistor(1.5), "in", "w"], woofer: [woofer, "w", "gnd"] });
    const gain = (f: number) => size(over(impedance(f), plus(impedance(f), [1.5, 0])));
    const least = Array.from({ length: 73 }, (_, i) => fs * 2 ** (i / 24)).reduce((best, f) =>
      size(impedance(f)) < size(impedance(best)) ? f : best,
    );
    expect(bass[0]!.riseDb).toBeCloseTo(20 * Math.log10(gain(fs) / gain(least)), 9);
    expect(bass[0]!.riseDb).toBeGreaterThan(1.5);
  });

  it("is found of a measured impedance too, within 1 %; of one with two peaks no Q is told", () => {
    const grid = logGrid(15, 20_000, 500);
    const measured = (z: (f: number) => C) =>
      driverImpedance(
        frequencyResponse(
          grid,
          grid.map((f) => z(f)[0]),
          grid.map((f) => z(f)[1]),
        ),
      );
    const one = judged({ R1: [resistor(0.8), "in", "w"], woofer: [measured(impedance), "w", "gnd"] }).bass;
    expect(one[0]!.q! / qBehind(0.8)).toBeCloseTo(1, 2);
    const vented = judged({
      R1: [resistor(0.8), "in", "w"],
      woofer: [measured((f) => plus(impedance(f), over([30, 0], [1, 5 * (f / 110 - 110 / f)]))), "w", "gnd"],
    }).bass;
    expect(vented[0]!.q).toBeUndefined();
    expect(vented[0]!.sourceResistance).toBeCloseTo(0.8, 9);
  });

  it("says whether the sound pressure reaches down to the resonance", () => {
    // The synthetic grid begins at 62.5 Hz.
    expect(judged({ woofer: [woofer, "in", "gnd"] }).bass[0]!.heard).toBe(false);
    const high = driverImpedance({ re, fs: 90, qms, qes });
    expect(judged({ woofer: [high, "in", "gnd"] }).bass[0]!.heard).toBe(true);
  });

  it("isn't spoken of where there is no woofer, or no resonance", () => {
    expect(judged({ woofer: [resistor(8), "in", "gnd"] }).bass).toEqual([]);
    expect(
      assess(
        loudspeaker({
          network: { t: [woofer, "in", "gnd"] },
          drivers: [{ name: "t", role: "midrange", pressures: [measure(() => [0.1, 0])] }],
        }),
        { ratedImpedance: 4 },
      ).bass,
    ).toEqual([]);
  });
});

describe("a loudspeaker whose impedances aren't known down to the woofer's resonance", () => {
  const measuredFrom = (z: (f: number) => C, low: number, high = 20_000) => {
    const grid = logGrid(low, high, 300);
    return driverImpedance(frequencyResponse(grid, grid.map((f) => z(f)[0]), grid.map((f) => z(f)[1]))); // prettier-ignore
  };
  const two = (low: number, own = woofer): Entries => ({
    R1: [resistor(0.7), "in", "w"],
    woofer: [own, "w", "gnd"],
    C1: [capacitor("5 µF"), "in", "t"],
    tweeter: [measuredFrom(() => [6, 0], low), "t", "gnd"],
  });

  it.each([40, 60, 200, 800])("is judged all the same, a tweeter's from %d Hz on: its row of the bass only where they are", (low) => {
    const made = judged(two(low));
    expect(made.bass.map(({ resonance }) => resonance)).toEqual(low <= fs ? [fs] : []);
    const { verdict, findings } = compare(made, made);
    expect(verdict.overall).toBe("unchanged");
    expect(findings.filter(({ topic }) => topic === "bass and damping")).toHaveLength(low <= fs ? 3 : 0);
  });

  it("is judged all the same where one ends below three octaves above the resonance", () => {
    const high = driverImpedance({ re, fs: 250, qms, qes });
    const ends = { ...two(20, high), tweeter: [measuredFrom(() => [6, 0], 20, 1500), "t", "gnd"] } as unknown as Entries;
    const { bass, band } = judged(ends);
    expect(bass.map(({ resonance, riseDb }) => [resonance, typeof riseDb])).toEqual([[250, "number"]]);
    expect(band.to).toBeGreaterThan(1480);
    expect(band.to).toBeLessThanOrEqual(1500);
  });

  it("is held to a stated source resistance at the lowest frequency that is known, and says so", () => {
    const made = judged(two(200), undefined, { largestSourceResistance: 0.5 });
    expect(made.bass).toMatchObject([{ part: "woofer", frequency: 200 }]);
    expect(made.bass[0]!.sourceResistance).toBeCloseTo(0.7, 9);
    expect([made.bass[0]!.resonance, made.bass[0]!.q, made.bass[0]!.riseDb]).toEqual([undefined, undefined, undefined]);
    const [row, ...more] = compare(made, made).findings.filter(({ topic }) => topic === "bass and damping");
    expect(more).toEqual([]);
    expect(row).toMatchObject({ code: "source-resistance", kept: false });
    expect(row!.sentence).toMatch(/woofer, at 200 Hz, the lowest frequency at which all impedances are known, sees 0\.70 \+ 0\.00j Ω/);
    const own = judged(two(30, measuredFrom(impedance, 100)), undefined, { largestSourceResistance: 0.8 });
    expect(own.bass[0]!.frequency).toBe(100);
    expect(compare(own, own).findings.find(({ code }) => code === "source-resistance")).toMatchObject({ kept: true });
    expect(judged({ woofer: [resistor(8), "in", "gnd"] }, undefined, { largestSourceResistance: 1 }).bass).toMatchObject([
      { frequency: 20 },
    ]);
  });

  it("refuses a stated limit that would be looked at nowhere", () => {
    for (const largestSourceResistance of [0.1, 10]) {
      const take = () => judged(two(400), undefined, { largestSourceResistance });
      expect(take).toThrow(
        /"goal\.damping\.largestSourceResistance" is stated, but there is no woofer or full-range driver that resonates below 300 Hz/,
      );
      expect(take).toThrow(expect.objectContaining({ code: "no-resonance", hint: expect.stringMatching(/^Give the woofer its role/) }));
    }
    const small = { ...two(20), woofer: [driverImpedance({ re, fs: 420, qms, qes }), "w", "gnd"] } as unknown as Entries;
    expect(() => judged(small, undefined, { largestSourceResistance: 1 })).toThrow(
      /no woofer or full-range driver that resonates below 300 Hz/,
    );
  });
});

describe("rows of bass and damping", () => {
  const stiff: Entries = { R1: [resistor(0.1), "in", "w"], woofer: [woofer, "w", "gnd"] };
  const soft: Entries = { R1: [resistor(2), "in", "w"], woofer: [woofer, "w", "gnd"] };

  it("stand before and after, have limits only where the goal states them, and don't vote", () => {
    const rows = compare(judged(stiff), judged(soft)).findings.filter(({ topic }) => topic === "bass and damping");
    expect(rows.map(({ code }) => code)).toEqual(["source-resistance", "bass-q", "bass-rise"]);
    for (const { threshold, kept, verdict } of rows) expect([threshold, kept, verdict]).toEqual([undefined, undefined, "for information"]);
    expect(rows[0]!.before).toBeCloseTo(0.1, 9);
    expect(rows[0]!.after).toBeCloseTo(2, 9);
    expect(rows[1]!.sentence).toMatch(
      /Q of woofer, whose resonance is at 48 Hz, is 0\.38 on an ideal source.* 0\.39 before and 0\.50 after/,
    );
    expect(rows[2]!.sentence).toMatch(/from impedances alone/);
  });

  it("say whether a stated limit is kept", () => {
    const damping = { largestQ: 0.45, largestSourceResistance: "0.5 Ω" };
    const kept = (network: Entries) =>
      compare(judged(stiff, undefined, damping), judged(network, undefined, damping)).findings.flatMap(({ code, kept: is }) =>
        code === "bass-q" || code === "source-resistance" ? [is] : [],
      );
    expect(kept(stiff)).toEqual([true, true]);
    expect(kept(soft)).toEqual([false, false]);
  });
});
