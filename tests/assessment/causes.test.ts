// Tests src/assessment/: cause-at.ts, planes.ts
// What makes the largest deviation on the axis, by constructions in which it is known; slopes with their signs; pairs that aren't neighbours; names that aren't there.
import { describe, expect, it } from "vitest";
import { assess, compare, goal } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { flat, measure, twoWay, twoWayBox, type C } from "../support/synthetic";

const R = 8;
const aim = goal({ band: { from: 300, to: 10_000 }, limits: "stated" });
const judged = (box: Loudspeaker, at = aim) => assess(box, { ratedImpedance: R, goal: at });
const gain = (db: (f: number) => number) => [measure((f): C => [0.1 * 10 ** (db(f) / 20), 0])];
/** dB: a bump of a third of an octave or so. */
const bump = (height: number, at: number) => (f: number) => height * Math.exp(-((Math.log2(f / at) / 0.3) ** 2));
const good = twoWay("Linkwitz–Riley 4", R, 2000);

describe("the cause of the largest deviation on the axis", () => {
  it("isn't looked for where the corridor is kept", () => {
    expect(judged(twoWayBox(good, flat, flat)).causes).toEqual([]);
  });

  it("is two branches that stand against each other", () => {
    const turned = { ...good, tweeter: [good["tweeter"]![0], ...[...good["tweeter"]!].slice(1).reverse()] } as unknown as Entries;
    const [cause] = judged(twoWayBox(turned, flat, flat)).causes;
    expect(cause).toMatchObject({ kind: "two branches" });
    expect([...cause!.parts].sort()).toEqual(["tweeter", "woofer"]);
    expect(cause!.frequency).toBeCloseTo(2000, -2);
    expect(cause!.deviationDb).toBeLessThan(-10);
    // At its corner a fourth-order Linkwitz–Riley way has half of its 24 dB per octave.
    expect(cause!.sentence).toMatch(/180° apart there, .*woofer falling by 1[12]\.\d dB per octave/);
  });

  it("is a driver by itself", () => {
    const [cause] = judged(twoWayBox(good, gain(bump(-8, 700)), flat)).causes;
    expect(cause).toMatchObject({ kind: "one driver", parts: ["woofer"] });
    expect(Math.abs(Math.log2(cause!.frequency / 700))).toBeLessThan(0.15);
    expect(cause!.sentence).toMatch(/the driver by itself is −\d\.\d dB off, and its voltage/);
  });

  it("is the voltage that a resonance of the network gives", () => {
    const peaked = loudspeaker({
      network: { L1: [inductor("1 mH"), "in", "w"], C1: [capacitor("10 µF"), "w", "gnd"], cone: [resistor(40), "w", "gnd"] },
      drivers: [{ name: "cone", role: "woofer", pressures: gain((f) => 6 * Math.log2(f / 1000)) }],
    });
    const [cause] = judged(
      peaked as unknown as Loudspeaker,
      goal({ band: { from: 300, to: 4000 }, limits: "stated", corridorDb: 2 }),
    ).causes;
    expect(cause!.kind).toBe("voltage");
    // 1/(2π√(LC)).
    expect(Math.abs(Math.log2(cause!.frequency / 1592))).toBeLessThan(0.3);
  });

  it("is a whole branch that is too loud", () => {
    const [cause] = judged(
      twoWayBox(
        good,
        flat,
        gain(() => 9),
      ),
    ).causes;
    expect(cause!.kind).toBe("level");
    expect(cause!.sentence).toMatch(/the whole branch is too (quiet|loud) against the rest/);
  });
});

describe("the causes of everything else that fails", () => {
  const topics = (box: Loudspeaker, at = aim) => judged(box, at).causes.map(({ topic }) => topic);

  it("are one for each stretch outside the corridor, the largest first", () => {
    const { causes, quality } = judged(
      twoWayBox(
        good,
        gain((f) => bump(-8, 600)(f)),
        gain((f) => bump(12, 6000)(f)),
      ),
      goal({ band: { from: 300, to: 10_000 }, limits: "stated", levelDb: 83 }),
    );
    const onAxis = causes.filter(({ topic }) => topic === "on the axis");
    expect(quality.outside.map(({ worstDb }) => Math.sign(worstDb))).toEqual([-1, 1]);
    expect(onAxis.map(({ parts, kind }) => [kind, ...parts])).toEqual([
      ["one driver", "tweeter"],
      ["one driver", "woofer"],
    ]);
    expect(Math.abs(Math.log2(onAxis[1]!.frequency / 600))).toBeLessThan(0.15);
    const [low, high] = quality.outside;
    expect(low!.from).toBeLessThan(low!.worstFrequency);
    expect(low!.to).toBeLessThan(high!.from);
    // The widths of both together are what is said to be outside, to the points at which it is looked.
    expect(Math.log2(low!.to / low!.from) + Math.log2(high!.to / high!.from)).toBeCloseTo(quality.octavesOutside, 1);
  });

  it("name the place off the axis, plane by plane", () => {
    const hole = (angle: { azimuth?: number; elevation?: number }, at: number) =>
      measure((f): C => [0.1 * 10 ** (bump(-12, at)(f) / 20), 0], angle);
    const even = (angle: { azimuth?: number; elevation?: number }) => measure((): C => [0.1, 0], angle);
    const box = twoWayBox(
      good,
      [...flat, hole({ azimuth: 30 }, 700), even({ elevation: 20 })],
      [...flat, even({ azimuth: 30 }), hole({ elevation: 20 }, 5000)],
    );
    const found = judged(box).causes;
    expect(found.map(({ topic, azimuth, elevation, parts, kind }) => [topic, azimuth, elevation, kind, ...parts])).toEqual([
      ["off the axis, to the sides", 30, 0, "one driver", "woofer"],
      ["off the axis, up and down", 0, 20, "one driver", "tweeter"],
    ]);
    expect(found[0]!.sentence).toMatch(
      /^At azimuth \+30°, elevation 0°, \d+ Hz the response is −\d+\.\d dB from a steady change: woofer is the loudest there/,
    );
    const rows = compare(judged(box), judged(box)).findings.filter(({ code }) => code === "off-axis-cause");
    expect(rows.map(({ subject }) => subject)).toEqual([
      "largest deviation off the axis, to the sides, in third octaves",
      "largest deviation off the axis, up and down, in third octaves",
    ]);
  });

  it("say whose current makes a load that is too low", () => {
    const across = { ...good, R9: [resistor(0.6), "in", "gnd"] } as unknown as Entries;
    const [cause] = judged(twoWayBox(across, flat, flat), goal({ band: { from: 300, to: 10_000 } })).causes;
    expect(cause).toMatchObject({ topic: "load", kind: "current", parts: ["R9"] });
    expect(cause!.sentence).toMatch(
      /^At .* the load is 0\.5\d Ω where the amplifier bears 6\.40 Ω: .* through the branch of R9, which feeds no driver/,
    );
    expect(cause!.deviationDb).toBeLessThan(-20);
  });

  it("say how a driver's voltage goes at its resonance, and what resonates there", () => {
    const dome = driverImpedance({ re: 6, fs: 900, qms: 4, qes: 1.5 });
    const bare = {
      ...good,
      tweeter: [dome, "t1", "gnd"],
      Ct: [capacitor("22 µF"), "in", "t1"],
      Lt: [inductor("1.4 mH"), "t1", "gnd"],
    } as unknown as Entries;
    const peaked = loudspeaker({
      network: bare,
      drivers: [{ name: "tweeter", role: "tweeter", pressures: flat }],
    }) as unknown as Loudspeaker;
    const { causes } = judged(peaked, goal({ band: { from: 300, to: 10_000 } }));
    const cause = causes.find(({ topic }) => topic === "drivers")!;
    expect(cause).toMatchObject({ kind: "voltage", frequency: 900 });
    expect([...cause.parts].sort()).toEqual(["Ct", "Lt", "tweeter"]);
    expect(cause.sentence).toMatch(
      /^At its resonance, 900 Hz, the voltage of tweeter lies \d+\.\d dB (above|below) its passband's where 12 dB below it are asked for, and (falls|rises) by \d+\.\d dB over the octave above; at \d+ Hz its branch gives \d+\.\d dB more than the source, where Lt and Ct resonate$/,
    );
  });

  it("say by how much branches are turned down where a least level is asked for", () => {
    const { quality } = judged(twoWayBox(good, flat, flat));
    expect(
      topics(twoWayBox(good, flat, flat), goal({ band: { from: 300, to: 10_000 }, limits: "stated", leastLevelDb: quality.levelDb - 0.1 })),
    ).toEqual([]);
    const [cause] = judged(
      twoWayBox(good, flat, flat),
      goal({ band: { from: 300, to: 10_000 }, limits: "stated", leastLevelDb: 100 }),
    ).causes;
    expect(cause).toMatchObject({ topic: "loudness", parts: ["woofer", "tweeter"] });
    expect(cause!.deviationDb).toBeCloseTo(quality.levelDb - 100, 9);
    expect(cause!.sentence).toMatch(/woofer gets −?0\.\d dB of the source's voltage \(at .*\), tweeter gets −?\+?0\.\d dB/);
  });
});

describe("a branch that is silent", () => {
  /** A tweeter with both of its wires on the return. */
  const silent = { ...good, tweeter: [resistor(R), "t-away", "gnd"], Rt: [resistor(1), "t-away", "gnd"] } as unknown as Entries;
  it("has no part in causes, and leaves numbers", () => {
    const box = judged(twoWayBox(silent, flat, flat));
    expect(box.causes[0]!.parts).toEqual(["woofer"]);
    for (const text of [
      box.causes[0]!.sentence,
      ...compare(box, box).findings.map(({ sentence }) => sentence),
      ...compare(box, judged(twoWayBox(good, flat, flat))).verdict.topics.map(({ sentence }) => sentence),
    ])
      expect(text).not.toMatch(/NaN|Infinity/);
  });

  it("is spared of everything, in numbers", () => {
    const real = driverImpedance({ re: 6, fs: 900, qms: 2, qes: 1.2 });
    const away = { ...good, tweeter: [real, "t-away", "gnd"], Rt: [resistor(1), "t-away", "gnd"] } as unknown as Entries;
    const box = judged(twoWayBox(away, flat, flat), goal({ band: { from: 300, to: 10_000 } }));
    expect(box.quality.spared[0]!.belowDb).toBe(400);
    expect(box.dangers.map(({ code }) => code)).not.toContain("unprotected-driver");
  });

  it("may be all but one: there is a verdict all the same", () => {
    const mute = [measure((): C => [0, 0])];
    const box = judged(twoWayBox(good, flat, mute));
    const { verdict } = compare(judged(twoWayBox(good, flat, flat)), box);
    expect(verdict.overall).toBe("worse");
    expect(verdict.sentence).not.toMatch(/NaN|Infinity/);
    expect(() => judged(twoWayBox(good, mute, mute))).toThrow(expect.objectContaining({ code: "nothing-heard" }));
  });
});

describe("acoustic slopes", () => {
  it("have signs: a branch that rises beyond its crossover isn't said to fall", () => {
    // A woofer on the source itself whose response rises by 6.2 dB per octave, and a tweeter that falls by 18 below 2 kHz: equal at 1.6 kHz.
    const bare: Entries = { woofer: [resistor(R), "in", "gnd"], tweeter: [resistor(R), "in", "gnd"] };
    const box = judged(
      twoWayBox(
        bare,
        gain((f) => (f < 5000 ? 6.2 * Math.log2(f / 1000) : 14 - 50 * Math.log2(f / 5000))),
        gain((f) => 10 + (f < 2000 ? 18 : 12) * Math.log2(f / 2000)),
      ),
    );
    expect(box.handovers[0]!.lowerSlopeDbPerOctave).toBeCloseTo(6.2, 3);
    expect(box.handovers[0]!.upperSlopeDbPerOctave).toBeCloseTo(18, 3);
    const rows = compare(box, box).findings;
    const row = (code: string) => rows.find((each) => each.code === code)!;
    expect(row("slope-steepness").sentence).toMatch(/woofer rises by 6\.2 dB per octave and tweeter falls by 18\.0 dB per octave before;/);
    expect(row("slope-steepness").after).toBeCloseTo((18 - 6.2) / 2, 3);
    expect(row("slope-match").after).toBeCloseTo(18 + 6.2, 3);
  });
});

describe("pairs of branches", () => {
  const three = (middle: number): Loudspeaker =>
    loudspeaker({
      network: { low: [resistor(R), "in", "gnd"], mid: [resistor(R), "in", "gnd"], high: [resistor(R), "in", "gnd"] },
      drivers: [
        { name: "low", role: "woofer", pressures: gain((f) => -9 * Math.max(0, Math.log2(f / 900))) },
        { name: "mid", role: "midrange", pressures: gain(() => middle) },
        { name: "high", role: "tweeter", pressures: gain((f) => -9 * Math.max(0, Math.log2(1100 / f))) },
      ],
    }) as unknown as Loudspeaker;
  const pairs = (box: Loudspeaker, intentions: { lower: string; upper: string; order: number }[] = []) =>
    judged(box, goal({ band: { from: 300, to: 4000 }, limits: "stated", intentions })).handovers.map(
      ({ lower, upper }) => `${lower} ${upper}`,
    );

  it("that aren't neighbours are looked at where they are heard together", () => {
    expect(pairs(three(-25))).toContain("low high");
    expect(pairs(three(20))).not.toContain("low high");
  });

  it("or meant, in either order", () => {
    expect(pairs(three(20), [{ lower: "low", upper: "high", order: 2 }])).toContain("low high");
    expect(pairs(three(20), [{ lower: "high", upper: "low", order: 2 }])).toContain("low high");
  });
});

describe("a goal that names who isn't there", () => {
  it.each([{ drivers: { tweter: 6 } }, { intentions: [{ lower: "woofer", upper: "tweter", order: 2 }] }])(
    "is refused when two are compared: %o",
    (more) => {
      const one = judged(twoWayBox(good, flat, flat), goal({ ...more }));
      expect(() => compare(one, one)).toThrowError(
        expect.objectContaining({ code: "unknown-part", message: expect.stringContaining("tweter") as unknown }),
      );
    },
  );
});
