// Tests src/assessment/: level-eaters.ts
// What takes level, by closed forms: a resistor R before a load Z leaves Z/(R + Z); a pad takes its own decibels; two equal pressures at an angle φ give 2cos(φ/2) where
// powers give √2, so that 120° cost 20 lg √2 = 3.01 dB; at 90° nothing.
import { assess, compare, goal } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, inductor, lPad, resistor } from "dividing-network/parts";
import { describe, expect, it } from "vitest";
import { branchesAt } from "../../src/assessment/branches";
import { levelEaters, type LevelEater } from "../../src/assessment/level-eaters";
import { dB, measure, turned, type C } from "../support/synthetic";

const aim = goal({ band: { from: 300, to: 10_000 }, largestLevelLossDb: 1 });
const flat = (degrees = 0) => [measure((): C => turned(0.1, degrees))];
const cone = (network: object, more: object = {}): Loudspeaker =>
  loudspeaker({
    network: { ...network, cone: [resistor(8), "x", "gnd"] } as unknown as Entries,
    drivers: [{ name: "cone", role: "woofer", pressures: flat() }],
    ...more,
  }) as unknown as Loudspeaker;
const judged = (box: Loudspeaker) => assess(box, { ratedImpedance: 8, goal: aim });
const eaters = (box: Loudspeaker): readonly LevelEater[] => {
  const { prediction, distance } = judged(box);
  const axis = prediction.places[0]!;
  return levelEaters(box, aim, distance, branchesAt(prediction, axis), axis.sum);
};
const wire = { W: [resistor(0), "in", "x"] };

describe("what takes level", () => {
  it("is a resistor in series, by Z/(R + Z)", () => {
    expect(eaters(cone({ R1: [resistor(4), "in", "x"] }))).toEqual([
      { parts: ["R1"], what: "resistance", takesDb: expect.closeTo(dB(12 / 8), 6) as number },
    ]);
  });

  it("is a pad, by its own decibels", () => {
    const [pad] = eaters(cone({ P1: [lPad({ attenuationDb: 6, load: 8 }), "in", "x", "gnd"] }));
    expect(pad).toEqual({ parts: ["P1"], what: "resistance", takesDb: expect.closeTo(6, 6) as number });
  });

  it("is a coil's direct-current resistance, but not its inductance", () => {
    // 1 µH is nothing here; 2 Ω before 8 Ω are 20 lg(10/8).
    expect(eaters(cone({ L1: [inductor(1e-6, { dcr: 2 }), "in", "x"] }))).toEqual([
      { parts: ["L1"], what: "losses", takesDb: expect.closeTo(dB(10 / 8), 3) as number },
    ]);
    expect(eaters(cone({ L1: [inductor(2e-3), "in", "x"] }))).toEqual([]);
  });

  it("is a capacitor's series resistance", () => {
    expect(eaters(cone({ C1: [capacitor(1, { esr: 1 }), "in", "x"] }))).toEqual([
      { parts: ["C1"], what: "losses", takesDb: expect.closeTo(dB(9 / 8), 3) as number },
    ]);
  });

  it("is what lies between amplifier and network", () => {
    expect(eaters(cone(wire, { sourceImpedance: 2 }))).toEqual([
      { parts: [], what: "source", takesDb: expect.closeTo(dB(10 / 8), 6) as number },
    ]);
  });

  it("is a resistor across the load behind another one, each by what would be without it", () => {
    // 4 Ω before 8 Ω ∥ 8 Ω = 4 Ω leaves a half; without R1 all, without R2 two thirds.
    const found = eaters(cone({ R1: [resistor(4), "in", "x"], R2: [resistor(8), "x", "gnd"] }));
    expect(found.map(({ parts, takesDb }) => [parts[0], takesDb])).toEqual([
      ["R1", expect.closeTo(dB(2), 6)],
      ["R2", expect.closeTo(dB(4 / 3), 6)],
    ]);
  });

  it("is no driver, and no resistor across the source or beside a wire", () => {
    expect(eaters(cone({ ...wire, R1: [resistor(3), "in", "gnd"], R2: [resistor(3), "in", "x"] }))).toEqual([]);
  });

  const two = (degrees: number, woofer: string, tweeter: string): Loudspeaker =>
    loudspeaker({
      network: { woofer: [resistor(8), "in", "gnd"], tweeter: [resistor(8), "in", "gnd"] },
      drivers: [
        { name: woofer, part: "woofer", role: "woofer", pressures: flat() },
        { name: tweeter, part: "tweeter", role: "tweeter", pressures: flat(degrees) },
      ],
    }) as unknown as Loudspeaker;

  it.each([
    [120, dB(Math.SQRT2)],
    [150, dB(Math.SQRT2 / (2 * Math.cos((75 * Math.PI) / 180)))],
  ])("is two branches %d° apart, against what their powers add up to", (degrees, takes) => {
    const [both, ...rest] = eaters(two(degrees, "a", "b"));
    expect(rest).toEqual([]);
    expect(both).toMatchObject({ what: "cancellation", takesDb: expect.closeTo(takes, 4) as number });
    expect([...both!.parts].sort()).toEqual(["tweeter", "woofer"]);
  });

  it.each([0, 60, 90])("isn't two branches %d° apart", (degrees) => {
    expect(eaters(two(degrees, "a", "b"))).toEqual([]);
  });
});

describe("what takes level, in detail", () => {
  it("is worth a word from 0.3 dB on", () => {
    // 20 lg((8 + R)/8): 0.29 dB and 0.31 dB.
    expect(eaters(cone({ R1: [resistor(0.27), "in", "x"] }))).toEqual([]);
    expect(eaters(cone({ R1: [resistor(0.29), "in", "x"] }))).toHaveLength(1);
  });

  it("is a capacitor's dissipation, and not beside a coil that has none", () => {
    // tan δ of 2 at every frequency is no part that anyone sells: a capacitor of 20 mF has 8 mΩ at 1 kHz. With an impedance as large as the load it takes level.
    const found = eaters(
      cone({
        C1: [capacitor(20e-6, { dissipationFactor: 1 }), "in", "x"],
        L1: [inductor(1e-6), "x", "y"],
        R1: [resistor(100), "y", "gnd"],
      }),
    );
    expect(found.map(({ parts, what }) => [what, ...parts])).toContainEqual(["losses", "C1"]);
    expect(found.map(({ parts }) => parts[0])).not.toContain("L1");
  });

  it("is the same whatever partner plays beside, and whatever level is asked for", () => {
    const box = cone({ R1: [resistor(4), "in", "x"] });
    const { prediction, distance } = judged(box);
    const axis = prediction.places[0]!;
    for (const more of [
      { levelDb: 60 },
      { places: [{ levelDb: 60 }] },
      { places: [{ azimuth: 20 }] },
      { partner: { pressures: [{ azimuth: 0, elevation: 0, response: axis.sum }] } },
    ]) {
      const found = levelEaters(box, goal({ band: aim.band, ...more }), distance, branchesAt(prediction, axis), axis.sum);
      expect(found).toEqual([{ parts: ["R1"], what: "resistance", takesDb: expect.closeTo(dB(12 / 8), 6) as number }]);
    }
  });

  it("is of three branches the two that stand against each other most", () => {
    const three = (angles: readonly number[]) =>
      loudspeaker({
        network: { a: [resistor(8), "in", "gnd"], b: [resistor(8), "in", "gnd"], c: [resistor(8), "in", "gnd"] },
        drivers: angles.map((degrees, i) => ({
          name: "abc"[i]!,
          role: (["woofer", "midrange", "tweeter"] as const)[i]!,
          pressures: flat(degrees),
        })) as never,
      }) as unknown as Loudspeaker;
    for (const [angles, pair] of [
      [
        [0, 170, 60],
        ["a", "b"],
      ],
      [
        [0, 60, 170],
        ["a", "c"],
      ],
      [
        [60, 0, 170],
        ["b", "c"],
      ],
    ] as const) {
      const [found] = eaters(three(angles));
      expect(found!.what).toBe("cancellation");
      expect([...found!.parts].sort()).toEqual(pair);
    }
  });

  it("is no driver's own resistance, and no part without which there is no network", () => {
    expect(eaters(cone({ ...wire }))).toEqual([]);
    // Of two resistors beside each other neither is bridged: the other one would be, too.
    expect(eaters(cone({ R1: [resistor(8), "in", "x"], R2: [resistor(8), "in", "x"] }))).toEqual([]);
  });
});

describe("a network that loses more level than the goal allows", () => {
  it("says which part takes it, and what it took before", () => {
    const { levelLoss, verdict } = compare(
      judged(cone({ R1: [resistor(0.5), "in", "x"] })),
      judged(cone({ R1: [resistor(8), "in", "x"] })),
    );
    expect(levelLoss).toMatchObject({ topic: "loudness", kind: "level", parts: ["R1", "cone"] });
    expect(levelLoss!.deviationDb).toBeCloseTo(dB(8.5 / 16), 6);
    expect(levelLoss!.sentence).toBe("R1 takes 6.0 dB (before: 0.5 dB); of its branches cone is 5.5 dB quieter over the judged band");
    const loudness = verdict.topics.find(({ topic }) => topic === "loudness")!;
    expect(loudness.kept).toBe(false);
    expect(loudness.sentence).toContain("R1 takes 6.0 dB");
  });

  it("says so where no resistance does: a coil whose impedance is in the way", () => {
    const { levelLoss } = compare(judged(cone(wire)), judged(cone({ L1: [inductor(3e-3), "in", "x"] })));
    expect(levelLoss!.sentence).toMatch(/^no resistance takes more than before; of its branches cone is \d\.\d dB quieter/);
    expect(levelLoss!.parts).toEqual(["cone"]);
  });

  it("names what takes 0.3 dB more than before, most first, and whose branch fell by as much", () => {
    const sides = (series: number, shunt: number, pad: number) =>
      loudspeaker({
        network: {
          R1: [resistor(series), "in", "w"],
          R2: [resistor(shunt), "w", "gnd"],
          low: [resistor(8), "w", "gnd"],
          R3: [resistor(pad), "in", "t"],
          high: [resistor(8), "t", "gnd"],
        },
        drivers: [
          { name: "low", role: "woofer", pressures: flat() },
          { name: "high", role: "tweeter", pressures: flat() },
        ],
      }) as unknown as Loudspeaker;
    const { levelLoss } = compare(judged(sides(1, 1000, 1)), judged(sides(8, 1000, 8.1)));
    // Both branches fall from 8/9 to a half or a little less; either one whole again would make 1 + 1/2 of twice a half: 3.5 dB, where 17/9 of 16/9 were 0.5 dB.
    expect(levelLoss!.sentence).toMatch(
      /^R3 takes 3\.6 dB \(before: 0\.5 dB\); R1 takes 3\.5 dB \(before: 0\.5 dB\); of its branches high is 5\.1 dB quieter over the judged band, low is 5\.0 dB quieter over the judged band$/,
    );
    expect(levelLoss!.parts).toEqual(["R3", "R1", "high", "low"]);
    expect(levelLoss!.frequency).toBeCloseTo(Math.sqrt(300 * 10_000), 6);
    // With 60 Ω before the tweeter the sum is 8/16 + 8/68 where it was 8/16 + 8/9. The woofer's own resistor is as it was, and weighs more.
    const one = compare(judged(sides(8, 1e6, 1)), judged(sides(8, 1e6, 60))).levelLoss!;
    const [was, now] = [1 / 2 + 8 / 9, 1 / 2 + 8 / 68];
    const takes = (name: string, whole: number, before: number) =>
      `${name} takes ${dB(whole / now).toFixed(1)} dB (before: ${dB(before / was).toFixed(1)} dB)`;
    expect(one.sentence).toBe(
      `${takes("R3", 3 / 2, 3 / 2)}; ${takes("R1", 1 + 8 / 68, 1 + 8 / 9)}; of its branches high is ${dB(68 / 9).toFixed(1)} dB quieter over the judged band`,
    );
    expect(one.parts).toEqual(["R3", "R1", "high"]);
  });

  it("names branches that no longer add up, with what they took before", () => {
    const two = (degrees: number) =>
      loudspeaker({
        network: { low: [resistor(8), "in", "gnd"], high: [resistor(8), "in", "gnd"] },
        drivers: [
          { name: "low", role: "woofer", pressures: flat() },
          { name: "high", role: "tweeter", pressures: flat(degrees) },
        ],
      }) as unknown as Loudspeaker;
    // 120° cost 3.0 dB, 150° 8.7 dB against their powers.
    const { levelLoss } = compare(judged(two(120)), judged(two(150)));
    expect(levelLoss!.sentence).toMatch(/^(low and high|high and low) against each other take 8\.7 dB \(before: 3\.0 dB\)$/);
    expect(compare(judged(two(0)), judged(two(150))).levelLoss!.sentence).toMatch(/against each other take 8\.7 dB$/);
  });

  it("says nothing where the level is kept", () => {
    expect(compare(judged(cone(wire)), judged(cone({ R1: [resistor(0.5), "in", "x"] }))).levelLoss).toBeUndefined();
  });

  it("names it as well where a least level is asked for", () => {
    const box = cone({ R1: [resistor(8), "in", "x"] });
    const [cause] = assess(box, { ratedImpedance: 8, goal: goal({ band: aim.band, limits: "stated", leastLevelDb: 100 }) }).causes;
    expect(cause).toMatchObject({ topic: "loudness", parts: ["R1", "cone"] });
    expect(cause!.sentence).toContain("R1 takes 6.0 dB");
  });
});
