// Tests src/assessment/: ratings.ts, relief-text.ts
// What parts and drivers have to stand, on resistors alone: at a full sine of 20 V a divider of 2 and 6 Ω carries 2.5 A.
import { describe, expect, it } from "vitest";
import { goal, type GoalOptions } from "dividing-network/assessment";
import { loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, inductor, resistor, transformer } from "dividing-network/parts";
import { partRatings, ratingsOf, type RatingCheck } from "../../src/assessment/ratings";
import { reliefText } from "../../src/assessment/relief-text";
import { flat } from "../support/synthetic";

const boxOf = (r1: object = {}, more: object = {}, driver: object = {}) =>
  loudspeaker<Entries>({
    network: { R1: [resistor(2, r1), "in", "a"], dome: [resistor(6), "a", "gnd"], ...more } as Entries,
    drivers: [{ name: "dome", role: "tweeter", pressures: flat, ...driver } as never],
  });
const sine = { voltage: 20, spectrum: "sine" } as const;
const of = (box = boxOf(), amplifier: object = sine, more: GoalOptions = {}) =>
  ratingsOf(box, goal({ limits: "stated", amplifier, ...more } as GoalOptions), 8);
const check = (checks: readonly RatingCheck[], name: string) => checks.find((each) => each.name === name)!;

describe("what a part has to stand", () => {
  it("is heat in watts, of which half a rating may be used", () => {
    const r1 = check(of().checks, "R1");
    expect(r1.value).toBeCloseTo(2.5 ** 2 * 2, 9);
    expect(r1.sine).toBeCloseTo(12.5, 9);
    expect(r1.required).toBeCloseTo(25, 9);
    expect(r1).toMatchObject({ code: "part-rating", quantity: "power", unit: "W", state: "not checked" });
    expect("rating" in r1).toBe(false);
    expect(r1.sentence).toMatch(/^R1 turns 12\.5 W into heat \(a full sine at .*: 12\.5 W\); no rating of it is stated$/);
  });

  it("keeps its rating on the limit itself, of the whole and of the share to use", () => {
    const { value, required } = check(of().checks, "R1");
    const at = (power: number) => check(of(boxOf({ power })).checks, "R1");
    expect([0.999 * value, value, 0.999 * required, required].map((power) => at(power).state)).toEqual([
      "beyond its rating",
      "beyond the share to use",
      "beyond the share to use",
      "kept",
    ]);
    expect(at(20).sentence).toMatch(/ and is rated for 20 W, of which 50 % may be used$/);
    expect(at(10).sentence).toMatch(/ and is rated for 10 W$/);
    expect(at(30).sentence).toMatch(/ and is rated for 30 W$/);
    expect(at(30).rating).toBe(30);
  });

  it("is the peak of volts across a capacitor and of amperes through a coil, of which 80 % may be used", () => {
    const parts = { C1: [capacitor(1e-6, { voltage: 30 }), "in", "gnd"], L1: [inductor(0.1, { current: 5 }), "a", "gnd"] };
    const { checks } = of(boxOf({}, parts));
    const [c1, l1] = [check(checks, "C1"), check(checks, "L1")];
    expect(c1.value).toBeCloseTo(20 * Math.SQRT2, 9);
    expect(c1.sine).toBe(c1.value);
    expect(c1.required).toBeCloseTo((20 * Math.SQRT2) / 0.8, 9);
    expect(c1).toMatchObject({ quantity: "voltage", unit: "V", state: "beyond the share to use" });
    expect(c1.sentence).toMatch(/^C1 gets up to 28\.3 V peak, from a sine at .* and is rated for 30 V, of which 80 % may be used$/);
    // At 20 Hz 0.1 H are 12.57 Ω, beside 6 Ω and behind 2 Ω: 20 V · 1.5/|1.5 + 12.57j| /2, times √2.
    expect(l1.value).toBeCloseTo((Math.SQRT2 * 20 * (6 / 8)) / Math.hypot(1.5, 2 * Math.PI * 20 * 0.1), 3);
    expect(l1).toMatchObject({ quantity: "current", unit: "A", state: "kept" });
    expect(l1.sentence).toMatch(/^L1 carries up to 1\.\d+ A peak/);
  });

  it("isn't there for what carries nothing, and a driver is no part", () => {
    const { checks } = of(boxOf({}, { R9: [resistor(5), "gnd", "x"], R8: [resistor(5), "x", "gnd"] }));
    expect(checks.filter(({ code }) => code === "part-rating").map(({ name }) => name)).toEqual(["R1"]);
  });

  it("follows a power into the rated impedance, and none is known without a level", () => {
    // 50 W into 8 Ω are 20 V.
    expect(check(of(boxOf(), { power: 50, spectrum: "sine" }).checks, "R1").value).toBeCloseTo(12.5, 9);
    const none = of(boxOf(), {});
    expect([none.checks, none.drivers, none.level]).toEqual([[], [], ""]);
    expect(none.notChecked).toHaveLength(1);
  });

  it("for searches is the same, of parts that have a rating", () => {
    const rated = boxOf({ power: 20 });
    const search = (box = rated, amplifier: object = sine) => partRatings(box, goal({ limits: "stated", amplifier } as GoalOptions), 8);
    expect(search()).toEqual([check(of(rated).checks, "R1")]);
    expect(search(rated, { power: 50, spectrum: "sine" })[0]!.value).toBeCloseTo(12.5, 9);
    expect(search(rated, {})).toEqual([]);
    expect(search(boxOf())).toEqual([]);
    expect(search(boxOf({ power: 20 }, { R2: [resistor(9), "a", "gnd"] })).map(({ name }) => name)).toEqual(["R1", "R2"]);
    const loop = { W1: [resistor(0), "a", "x"], W2: [resistor(0), "a", "x"], R9: [resistor(9), "x", "gnd"] };
    const looped = { ...rated, network: { ...rated.network, ...loop } } as unknown as typeof rated;
    expect(search(looped)).toEqual([]);
    const behind = loudspeaker<Entries>({
      network: rated.network,
      drivers: [{ name: "dome", pressures: flat } as never],
      sourceImpedance: 2,
    });
    expect(search(behind)[0]!.value).toBeCloseTo(2 ** 2 * 2, 9);
  });
});

describe("what a driver has to stand", () => {
  it("is at most all that it takes, where its coil's resistance isn't stated", () => {
    const [heat] = of().checks.filter(({ code }) => code === "driver-rating");
    expect(heat!.value).toBeCloseTo(2.5 ** 2 * 6, 9);
    expect(heat!.required).toBe(heat!.value);
    expect(heat!.sentence).toBe(
      "The dome gets 37.5 W of heat at most, since its coil's resistance isn't stated; no rating of it is stated",
    );
    const motion = { re: 5, fs: 800, qms: 2, qes: 1, mms: 0.3e-3 };
    const known = of(boxOf({}, {}, { motion, ratings: { power: 20 } })).checks.filter(({ code }) => code === "driver-rating");
    // 2.5 A in 5 Ω.
    expect(known[0]!.value).toBeCloseTo(31.25, 9);
    expect(known[0]!.sentence).toContain("gets 31.3 W of heat in its voice coil and is rated for 20 W; reached at 16 V. What relieves it:");
    expect(known[1]).toMatchObject({ quantity: "excursion", unit: "m", state: "not checked" });
    expect(known[1]!.sentence).toMatch(/^The dome moves by up to \d+(\.\d+)? mm to one side/);
    expect(known[1]!.sentence).toContain(`${Number((1000 * known[1]!.value).toPrecision(3))} mm`);
  });

  it("relief stands at the limit that comes first, once it is passed", () => {
    const motion = { re: 5, fs: 800, qms: 2, qes: 1, mms: 0.3e-3 };
    const sentences = (ratings: object) =>
      of(boxOf({}, {}, { motion, ratings }))
        .checks.filter(({ code }) => code === "driver-rating")
        .map(({ sentence }) => sentence.includes("What relieves it"));
    expect(sentences({ power: 20, excursion: 1 })).toEqual([true, false]);
    expect(sentences({ power: 20, excursion: 1e-6 })).toEqual([false, true]);
    expect(sentences({ power: 50, excursion: 1 })).toEqual([false, false]);
  });

  it("is relieved by less level, and where that is known by a higher corner or another order", () => {
    const less = { attenuationDb: 2.04 };
    expect(reliefText(less as never)).toBe("What relieves it: 2.0 dB less level, by a pad or a smaller amplifier");
    expect(reliefText({ ...less, cornerOctaves: 0.254, steeperDb: 6.01 } as never)).toBe(
      "What relieves it: 2.0 dB less level, by a pad or a smaller amplifier; or a corner higher by 0.25 octaves; or one more order with the same corner, which takes 6.0 dB off",
    );
    expect(reliefText({ ...less, steeperDb: 6 } as never)).not.toContain("corner higher");
    expect(reliefText({ ...less, cornerOctaves: 1 } as never)).not.toContain("one more order");
  });
});

describe("what isn't checked", () => {
  const parts = { T9: [transformer({ ratio: 2 } as never), "in", "gnd", "y", "gnd"], R9: [resistor(50), "y", "gnd"] };

  it("is listed by kind, with what a rating should be of", () => {
    expect(of().notChecked).toEqual([
      "watts, no rating stated: R1 12.5 W",
      "heat of drivers, no rating stated: dome 37.5 W",
      "excursion, since what moves the cone isn't stated: dome",
    ]);
    const coil = of(boxOf({ power: 50 }, { L1: [inductor(1, { current: 9 }), "in", "gnd"] })).notChecked;
    expect(coil[0]).toBe("heat of coils: L1");
    const motion = { re: 5, fs: 800, qms: 2, qes: 1, mms: 0.3e-3 };
    const moved = of(boxOf({ power: 50 }, {}, { motion, ratings: { power: 90 } })).notChecked;
    expect(moved).toHaveLength(1);
    expect(moved[0]).toMatch(/^excursion, no limit stated: dome \d/);
    expect(of(boxOf({ power: 50 }, {}, { motion, ratings: { power: 90, excursion: 1 } })).notChecked).toEqual([]);
  });

  it("what has no rating here is named", () => {
    expect(of(boxOf({ power: 50 }, parts)).notChecked.at(-1)).toBe("what has no rating here: T9");
  });
});

describe("the level", () => {
  const said = (amplifier: object) => of(boxOf(), { voltage: 20, ...amplifier }).level;

  it("says what the parts are judged at", () => {
    expect(said({ spectrum: "sine" })).toBe("20 V rms of the largest sine, at whatever frequency is worst");
    expect(said({ spectrum: "pink" })).toMatch(/heat and excursion under pink noise of .* rms, crest factor \d/);
    expect(said({ spectrum: { frequencies: [100, 1000], levelDb: [0, -3] } })).toContain("under the goal's own spectrum of");
    for (const spectrum of [{}, { spectrum: "programme" }]) expect(said(spectrum)).toContain("under simulated programme (IEC 60268-1");
  });
});
