// Tests src/assessment/: causes.ts, intention.ts, partner.ts
// What a cause says of a load, a driver and a level, on numbers made up here; and what an intention and a partner may be.
import { describe, expect, it } from "vitest";
import { causesOf, type CausesFrom } from "../../src/assessment/causes";
import { checkIntention, type IntentionOptions } from "../../src/assessment/intention";
import { checkPartner, type PartnerOptions } from "../../src/assessment/partner";
import { sampled } from "../support/synthetic";

/** The voltage at a driver's part: 0.1 at 800 Hz, four times that an octave above. */
const volts = sampled((f) => [0.1 * (f / 800) ** 2, 0], [400, 800, 1600, 3200]);
const from = (more: { readonly quality?: object; readonly [key: string]: unknown }): CausesFrom =>
  ({
    goal: {},
    branches: [],
    rising: [],
    axis: { distance: 1 },
    load: { minimumFrequency: 120, shares: [] },
    prediction: { places: [], sweep: { impedance: volts, voltage: () => volts } },
    ...more,
    quality: { outside: [], places: [], load: { minimum: 8 }, spared: [], levelDb: 90, band: { from: 400, to: 1600 }, ...more.quality },
  }) as unknown as CausesFrom;
const causes = (more: Parameters<typeof from>[0]) => causesOf({} as never, from(more));

describe("the cause of a load that is too low", () => {
  const share = (part: string, of: number) => ({ parts: [part], drivers: [part.toLowerCase()], share: of });
  const load = { minimumFrequency: 120, shares: [share("A", 0.15), share("B", 0.149), share("C", 0.701)] };

  it("is whose current makes it, from 15 % on", () => {
    const [cause, ...rest] = causes({ load, quality: { load: { minimum: 2, limit: 4 } } });
    expect(rest).toEqual([]);
    expect(cause).toMatchObject({ topic: "load", kind: "current", frequency: 120, parts: ["A", "C"] });
    expect(cause!.deviationDb).toBeCloseTo(-20 * Math.log10(2), 12);
    expect(cause!.sentence).toBe(
      "At 120 Hz the load is 2.00 Ω where the amplifier bears 4.00 Ω: of the current there, 15 % through a, 70 % through c",
    );
  });

  it("isn't there on the limit itself, nor without one; a short has a number", () => {
    expect(causes({ load, quality: { load: { minimum: 4, limit: 4 } } })).toEqual([]);
    expect(causes({ load, quality: { load: { minimum: 2 } } })).toEqual([]);
    expect(causes({ load, quality: { load: { minimum: 0, limit: 4 } } })[0]!.deviationDb).toBeCloseTo(-400 - 20 * Math.log10(4), 9);
  });
});

describe("the cause of a driver that isn't spared", () => {
  const spared = (more: object = {}) => ({ quality: { spared: [{ driver: "dome", part: "T1", resonance: 800, belowDb: 6, limitDb: 12, ...more }] } }); // prettier-ignore

  it("is how its voltage goes over the octave above", () => {
    const [cause] = causes(spared());
    expect(cause).toMatchObject({ topic: "drivers", kind: "voltage", frequency: 800, deviationDb: -6, parts: ["T1"] });
    expect(cause!.sentence).toBe(
      "At its resonance, 800 Hz, the voltage of dome lies 6.0 dB below its passband's where 12 dB below it are asked for, and rises by 12.0 dB over the octave above",
    );
    const falling = sampled((f) => [800 / f, 0], [400, 800, 1600, 3200]);
    const sweep = { impedance: volts, voltage: () => falling };
    expect(causes({ ...spared({ belowDb: -3 }), prediction: { places: [], sweep } })[0]!.sentence).toBe(
      "At its resonance, 800 Hz, the voltage of dome lies 3.0 dB above its passband's where 12 dB below it are asked for, and falls by 6.0 dB over the octave above",
    );
  });

  it("says nothing of an octave that isn't known, or in which nothing is heard", () => {
    expect(causes(spared({ resonance: 1601 }))[0]!.sentence).toMatch(/are asked for$/);
    expect(causes(spared({ resonance: 1600 }))[0]!.sentence).toMatch(/and rises by 12\.0 dB/);
    expect(causes(spared({ resonance: 399 }))[0]!.sentence).toMatch(/are asked for$/);
    expect(causes(spared({ resonance: 400 }))[0]!.sentence).toMatch(/and rises by 12\.0 dB/);
    const silent = { impedance: volts, voltage: () => sampled(() => [0, 0], [400, 800, 1600, 3200]) };
    expect(causes({ ...spared(), prediction: { places: [], sweep: silent } })[0]!.sentence).toMatch(/are asked for$/);
  });

  it("and a branch of its own that rises within an octave of it, with what resonates there", () => {
    const peak = (frequency: number, part = "T1", resonating: readonly string[] = ["L1", "C1"]) => ({ rising: [{ part, frequency, gainDb: 3.04, resonating }] }); // prettier-ignore
    const [cause] = causes({ ...spared(), ...peak(900) });
    expect(cause!.sentence).toMatch(/; at 900 Hz its branch gives 3\.0 dB more than the source, where L1 and C1 resonate$/);
    expect(cause!.parts).toEqual(["T1", "L1", "C1"]);
    expect(causes({ ...spared(), ...peak(900, "T1", []) })[0]!.sentence).toMatch(/more than the source$/);
    for (const at of [400, 1600]) expect(causes({ ...spared(), ...peak(at) })[0]!.parts).toHaveLength(3);
    for (const at of [390, 1640]) expect(causes({ ...spared(), ...peak(at) })[0]!.parts).toEqual(["T1"]);
    expect(causes({ ...spared(), ...peak(900, "W1") })[0]!.parts).toEqual(["T1"]);
  });

  it("isn't there for one that is spared, or of which nothing is known", () => {
    for (const more of [{ belowDb: 12 }, { belowDb: undefined }, { resonance: undefined }]) expect(causes(spared(more))).toEqual([]);
  });
});

describe("the cause of a hump", () => {
  it("isn't there where none is beyond its limit, or none has one", () => {
    const hump = { aboveDb: 3, insideDb: 0, frequency: 12_000, azimuth: 0, elevation: 0 };
    for (const outsideBand of [hump, { ...hump, limitDb: 3 }, { ...hump, limitDb: 2, azimuth: 20 }]) expect(causes({ quality: { outsideBand } })).toEqual([]); // prettier-ignore
  });
});

describe("an intention", () => {
  const given = (more: object = {}) =>
    checkIntention("x", "intentions[0]", { lower: "W1", upper: "T1", order: 4, ...more } as IntentionOptions);

  it("comes back with what was said, and nothing else", () => {
    expect(given()).toEqual({ lower: "W1", upper: "T1", order: 4 });
    expect(Object.keys(given())).toEqual(["lower", "upper", "order"]);
    expect(given({ family: "chebyshev", rippleDb: 1, frequency: "2 kHz" })).toEqual({ lower: "W1", upper: "T1", order: 4, family: "chebyshev", rippleDb: 1, frequency: 2000 }); // prettier-ignore
    expect(given({ family: "bessel", normalization: "half-power" })).toMatchObject({ family: "bessel", normalization: "half-power" });
    expect(Object.isFrozen(given())).toBe(true);
  });

  it("names two parts, an order from 1 to 8, and a family for what only that has", () => {
    for (const more of [{ lower: 1 }, { upper: undefined }, { upper: "W1" }]) expect(() => given(more)).toThrow(/"intentions\[0\]" must name two parts/); // prettier-ignore
    for (const order of [0, 9, 2.5, "4"]) expect(() => given({ order })).toThrow(/intentions\[0\]\.order/);
    expect([given({ order: 1 }).order, given({ order: 8 }).order]).toEqual([1, 8]);
    for (const more of [{ rippleDb: 1 }, { normalization: "delay" }]) expect(() => given(more)).toThrow(/must name a family/);
    expect(() => given({ family: "chebyshev" })).toThrow(/intentions\[0\]/);
    expect(() => given({ family: "loud" })).toThrow(/intentions\[0\]/);
    expect(() => given({ family: "linkwitz-riley", order: 3 })).toThrow(/intentions\[0\]/);
    expect(() => given({ frequency: 0 })).toThrow(/intentions\[0\]\.frequency/);
    expect(() => given({ corner: 1 })).toThrow(/corner/);
  });
});

describe("a partner", () => {
  const given = (value: unknown) => checkPartner("x", value as PartnerOptions);
  const response = sampled(() => [0.1, 0]);

  it("is pressures at angles, each looked at", () => {
    const pressure = { azimuth: 20, elevation: 0, response };
    expect(given({ pressures: [pressure] })).toEqual({ pressures: [pressure] });
    for (const [key, value] of [
      ["azimuth", "20"],
      ["elevation", NaN],
      ["response", {}],
    ] as const)
      // prettier-ignore
      expect(() => given({ pressures: [{ ...pressure, [key]: value }] })).toThrow(`partner.pressures[0].${key}`);
    expect(() => given({ pressures: [null] })).toThrow(/partner\.pressures\[0\]/);
    expect(() => given({ pressures: 3 })).toThrow(/partner\.pressures/);
    for (const wrong of [null, 3, "sub"]) expect(() => given(wrong)).toThrow(/partner/);
    expect(() => given({ pressure: [] })).toThrow(/pressure/);
  });

  it("or a high-pass, by its zeros and poles or by its name", () => {
    const made = given({ highPass: { family: "butterworth", order: 2, frequency: "80 Hz" } }) as { readonly highPass: { readonly poles: readonly { readonly re: number; readonly im: number }[]; readonly zeros: readonly unknown[] } }; // prettier-ignore
    expect(made.highPass.zeros).toHaveLength(2);
    for (const pole of made.highPass.poles) expect(Math.hypot(pole.re, pole.im) / (2 * Math.PI * 80)).toBeCloseTo(1, 9);
    expect(given({ highPass: made.highPass })).toEqual(made);
    for (const wrong of [
      null,
      3,
      {},
      { ...made.highPass, zeros: 1 },
      { ...made.highPass, poles: undefined },
      { ...made.highPass, gain: "1" },
    ])
      expect(() => given({ highPass: wrong })).toThrow(/"partner\.highPass" must be a filter/);
    expect(() => given({ highPass: { family: "butterworth", order: 2, frequency: 1e-4 } })).toThrow(/partner\.highPass\.frequency/);
    expect(() => given({ highPass: { family: "butterworth", order: 2, frequency: 2e9 } })).toThrow(/partner\.highPass\.frequency/);
    expect(() => given({ highPass: { family: "butterworth", order: 0, frequency: 80 } })).toThrow(/partner\.highPass/);
    expect(() => given({ highPass: { family: "butterworth", order: 2, corner: 80 } })).toThrow(/corner/);
  });
});
