// Tests src/assessment/: goal.ts, goal-amplifier.ts, goal-parts.ts, intention.ts, partner.ts
// What a goal holds where nothing is said, what it takes in which units, what it refuses by which name, and that a copy of it is the same goal.
import { describe, expect, it } from "vitest";
import { butterworth, highPass } from "dividing-network/alignments";
import { assess, goal, type GoalOptions } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import { resistor } from "dividing-network/parts";
import { frequencyResponse, valueAt, responseOf } from "dividing-network/response";
import { goalOf } from "../../src/assessment/goal";
import { flat } from "../support/synthetic";

const box = loudspeaker({
  network: { cone: [resistor(8), "in", "gnd"] },
  drivers: [{ name: "cone", pressures: flat }],
}) as unknown as Loudspeaker;

describe("a goal of which nothing is said", () => {
  it("holds the defaults that its page states", () => {
    expect(goal()).toEqual({
      band: { from: 300, to: 10_000 },
      bandStated: false,
      slopeDbPerOctave: 0,
      corridorDb: 3,
      places: [{ azimuth: 0, elevation: 0, weight: 1 }],
      largestLevelLossDb: 3,
      largestHumpDb: 3,
      amplifier: {},
      derating: { power: 0.5, voltage: 0.8, current: 0.8 },
      drivers: {},
      damping: {},
      intentions: [],
      limits: "default",
      stated: [],
    });
  });
});

describe("a goal", () => {
  const full = (): GoalOptions => ({
    band: { from: "250 Hz", to: "8 kHz" },
    frequencies: [500, 1000],
    distance: "2 m",
    levelDb: 86,
    slopeDbPerOctave: -1,
    curve: { frequencies: [100, 1000], levelDb: [2, 0] },
    corridorDb: 2,
    places: [{}, { azimuth: 30, elevation: -10, weight: 0.5, levelDb: 84, slopeDbPerOctave: -2 }],
    largestLevelLossDb: 2,
    leastLevelDb: 80,
    largestHumpDb: 4,
    amplifier: {
      smallestImpedance: "3.2 Ω",
      smallestPeakDissipationResistance: "2 Ω",
      power: "50 W",
      spectrum: "programme",
      crestFactor: 3,
    },
    derating: { power: 0.6 },
    drivers: { tweeter: 18, mid: "not spared" },
    damping: { largestQ: 1, largestSourceResistance: "1 Ω" },
    partner: { pressures: [{ azimuth: 0, elevation: 0, response: frequencyResponse([100, 200], [1, 1], [0, 0]) }] },
    intentions: [{ lower: "w", upper: "t", order: 4, family: "linkwitz-riley", frequency: "2.2 kHz" }],
    limits: "stated",
  });

  it("holds what is said in SI, and which limits were stated", () => {
    const made = goal(full());
    expect(made).toMatchObject({
      band: { from: 250, to: 8000 },
      bandStated: true,
      frequencies: Float64Array.of(500, 1000),
      distance: 2,
      levelDb: 86,
      slopeDbPerOctave: -1,
      curve: { frequencies: Float64Array.of(100, 1000), levelDb: Float64Array.of(2, 0) },
      corridorDb: 2,
      largestLevelLossDb: 2,
      leastLevelDb: 80,
      largestHumpDb: 4,
      amplifier: { smallestImpedance: 3.2, smallestPeakDissipationResistance: 2, power: 50, spectrum: "programme", crestFactor: 3 },
      derating: { power: 0.6, voltage: 0.8, current: 0.8 },
      drivers: { tweeter: 18, mid: "not spared" },
      damping: { largestQ: 1, largestSourceResistance: 1 },
      intentions: [{ lower: "w", upper: "t", order: 4, family: "linkwitz-riley", frequency: 2200 }],
      limits: "stated",
    });
    expect(made.places).toEqual([
      { azimuth: 0, elevation: 0, weight: 1 },
      { azimuth: 30, elevation: -10, weight: 0.5, levelDb: 84, slopeDbPerOctave: -2 },
    ]);
    expect([...made.stated].sort()).toEqual(
      [
        "largestLevelLossDb",
        "leastLevelDb",
        "largestHumpDb",
        "smallestImpedance",
        "smallestPeakDissipationResistance",
        "tweeter",
        "mid",
      ].sort(),
    );
  });

  it("keeps what it was given when that is changed afterwards, all the way down", () => {
    const given = full() as unknown as { curve: { levelDb: number[] }; places: { weight?: number }[]; drivers: Record<string, unknown> };
    const made = goal(given as unknown as GoalOptions);
    const before = JSON.stringify(made);
    given.curve.levelDb[0] = 40;
    given.places[1]!.weight = 9;
    given.drivers["tweeter"] = 1;
    expect(JSON.stringify(made)).toBe(before);
    const frozen = (value: unknown): boolean =>
      typeof value !== "object"
      || value === null
      || ArrayBuffer.isView(value)
      || (Object.isFrozen(value) && Object.values(value).every(frozen));
    expect(frozen(made)).toBe(true);
  });

  it("may have the high-pass of a second amplifier, made or named", () => {
    const made = highPass(butterworth(2), 80);
    for (const partner of [{ highPass: made }, { highPass: { family: "butterworth", order: 2, frequency: "80 Hz" } }] as const) {
      const held = goal({ partner }).partner!;
      // −3.01 dB at its corner.
      expect(
        "highPass" in held
          && Math.hypot(...(Object.values(valueAt(responseOf(held.highPass, [40, 80, 160]), 80)).slice(0, 2) as [number, number])),
      ).toBeCloseTo(Math.SQRT1_2, 9);
    }
  });

  it.each<[string, GoalOptions]>([
    ["band.to", { band: { from: 1000, to: 500 } }],
    ["frequencies", { frequencies: [1000, 500] }],
    ["distance", { distance: 0 }],
    ["distance", { distance: "2 kHz" as never }],
    ["levelDb", { levelDb: 301 }],
    ["levelDb", { levelDb: -201 }],
    ["leastLevelDb", { leastLevelDb: NaN }],
    ["slopeDbPerOctave", { slopeDbPerOctave: 25 }],
    ["slopeDbPerOctave", { slopeDbPerOctave: -25 }],
    ["corridorDb", { corridorDb: 0 }],
    ["corridorDb", { corridorDb: 61 }],
    ["largestLevelLossDb", { largestLevelLossDb: -1 }],
    ["largestLevelLossDb", { largestLevelLossDb: 101 }],
    ["largestHumpDb", { largestHumpDb: -1 }],
    ["largestHumpDb", { largestHumpDb: 101 }],
    ["places", { places: [] }],
    ["places[0]", { places: [7 as never] }],
    ["places[1].azimuth", { places: [{}, { azimuth: 181 }] }],
    ["places[0].azimuth", { places: [{ azimuth: -181 }] }],
    ["places[0].elevation", { places: [{ elevation: 91 }] }],
    ["places[0].elevation", { places: [{ elevation: -91 }] }],
    ["places[0].weight", { places: [{ weight: 0 }] }],
    ["places[0].weight", { places: [{ weight: 1e7 }] }],
    ["places[0].levelDb", { places: [{ levelDb: 301 }] }],
    ["places[0].levelDb", { places: [{ levelDb: -201 }] }],
    ["places[0].slopeDbPerOctave", { places: [{ slopeDbPerOctave: 25 }] }],
    ["places[0].slopeDbPerOctave", { places: [{ slopeDbPerOctave: -25 }] }],
    ["angle", { places: [{ angle: 30 } as never] }],
    ["amplifier.smallestImpedance", { amplifier: { smallestImpedance: -1 } }],
    ["amplifier.smallestPeakDissipationResistance", { amplifier: { smallestPeakDissipationResistance: -1 } }],
    ["amplifier.voltage", { amplifier: { voltage: 0 } }],
    ["amplifier.voltage", { amplifier: { voltage: 2e6 } }],
    ["amplifier.power", { amplifier: { power: 0 } }],
    ["amplifier.power", { amplifier: { power: 2e9 } }],
    ["amplifier.power", { amplifier: { power: 50, voltage: 20 } }],
    ["amplifier.crestFactor", { amplifier: { power: 50, crestFactor: 0.9 } }],
    ["amplifier.crestFactor", { amplifier: { power: 50, crestFactor: 1001 } }],
    ["amplifier", { amplifier: { crestFactor: 2 } }],
    ["amplifier", { amplifier: { spectrum: "programme" } }],
    ["derating.power", { derating: { power: 0 } }],
    ["derating.voltage", { derating: { voltage: 1.01 } }],
    ["derating.current", { derating: { current: -0.5 } }],
    ["drivers.tweeter", { drivers: { tweeter: -1 } }],
    ["drivers.tweeter", { drivers: { tweeter: 121 } }],
    ["drivers.tweeter", { drivers: { tweeter: "spared" as never } }],
    ["damping.largestQ", { damping: { largestQ: 0 } }],
    ["damping.largestQ", { damping: { largestQ: 101 } }],
    ["damping.largestSourceResistance", { damping: { largestSourceResistance: -1 } }],
    ["curve", { curve: { frequencies: [100, 1000], levelDb: [0] } }],
    ["curve", { curve: { frequencies: [100], levelDb: [0] } }],
    ["curve", { curve: { frequencies: [0, 100], levelDb: [0, 0] } }],
    ["curve", { curve: { frequencies: [100, 1000], levelDb: [0, 1001] } }],
    ["curve.levelDb", { curve: { frequencies: [100, 1000], levelDb: [0, NaN] } }],
    ["intentions[0]", { intentions: [{ lower: "w", upper: "w", order: 2 }] }],
    ["intentions[0]", { intentions: [{ lower: 1 as never, upper: "t", order: 2 }] }],
    ["intentions[0]", { intentions: [{ lower: "w", upper: 1 as never, order: 2 }] }],
    ["intentions[0].order", { intentions: [{ lower: "w", upper: "t", order: 0 }] }],
    ["intentions[0].order", { intentions: [{ lower: "w", upper: "t", order: 9 }] }],
    ["intentions[0].order", { intentions: [{ lower: "w", upper: "t", order: 2.5 }] }],
    ["intentions[0].frequency", { intentions: [{ lower: "w", upper: "t", order: 2, frequency: 0 }] }],
    ["intentions[0]", { intentions: [{ lower: "w", upper: "t", order: 2, rippleDb: 1 }] }],
    ["intentions[0]", { intentions: [{ lower: "w", upper: "t", order: 2, normalization: "delay" as never }] }],
    ["partner.highPass", { partner: { highPass: undefined as never } }],
    ["partner.highPass", { partner: { highPass: { zeros: [], poles: [], gain: "1" } as never } }],
    ["partner.highPass.frequency", { partner: { highPass: { family: "butterworth", order: 2, frequency: 0 } } }],
    ["partner.pressures", { partner: { pressures: 7 as never } }],
    [
      "partner.pressures[0].azimuth",
      { partner: { pressures: [{ azimuth: NaN, elevation: 0, response: frequencyResponse([1, 2], [1, 1], [0, 0]) }] } },
    ],
    ["partner.pressures[0].response", { partner: { pressures: [{ azimuth: 0, elevation: 0, response: 7 as never }] } }],
    ["limits", { limits: "none" as never }],
    ["corridor", { corridor: 3 } as never],
  ])("is refused by the name of what is wrong: %s", (name, options) => {
    expect(() => goal(options)).toThrow(expect.objectContaining({ message: expect.stringContaining(`"${name}"`) as unknown }));
  });

  it("keeps what an intention says of its family, and refuses one that there isn't", () => {
    const of = (more: object) => goal({ intentions: [{ lower: "w", upper: "t", order: 3, ...more }] }).intentions[0];
    expect(of({})).toEqual({ lower: "w", upper: "t", order: 3 });
    expect(of({ family: "chebyshev", rippleDb: 0.5 })).toEqual({ lower: "w", upper: "t", order: 3, family: "chebyshev", rippleDb: 0.5 });
    expect(of({ family: "bessel", normalization: "delay" })).toEqual({
      lower: "w",
      upper: "t",
      order: 3,
      family: "bessel",
      normalization: "delay",
    });
    for (const wrong of [
      { family: "gauss" },
      { family: "chebyshev" },
      { family: "butterworth", rippleDb: 1 },
      { family: "linkwitz-riley" },
    ])
      expect(() => of(wrong), JSON.stringify(wrong)).toThrow(/intentions\[0\]/);
  });

  it("refuses a partner and a programme that are none", () => {
    for (const partner of [
      null,
      7,
      "subwoofer",
      { highPass: null },
      { highPass: { zeros: 7, poles: [], gain: 1 } },
      { highPass: { zeros: [], poles: 7, gain: 1 } },
    ])
      expect(() => goal({ partner: partner as never }), JSON.stringify(partner)).toThrow(/partner/);
    expect(() => goal({ amplifier: { voltage: 20, spectrum: "noise" as never } })).toThrow(/amplifier/);
  });

  it("takes the very ends of what is allowed", () => {
    expect(
      goal({
        levelDb: 300,
        leastLevelDb: -200,
        slopeDbPerOctave: -24,
        corridorDb: 60,
        largestLevelLossDb: 0,
        largestHumpDb: 100,
        places: [{ azimuth: -180, elevation: 90, weight: 1e6, levelDb: -200, slopeDbPerOctave: 24 }],
        amplifier: { smallestImpedance: 0, smallestPeakDissipationResistance: 0, voltage: 1e6, crestFactor: 1 },
        derating: { power: 1, voltage: 1, current: 1 },
        drivers: { a: 0, b: 120 },
        damping: { largestQ: 100, largestSourceResistance: 0 },
        intentions: [{ lower: "w", upper: "t", order: 8 }],
      }).slopeDbPerOctave,
    ).toBe(-24);
  });
});

describe("a copy of a goal", () => {
  it("is the same goal, with the limits that were stated and no more", () => {
    for (const options of [
      {},
      { band: { from: 400, to: 5000 } },
      { largestHumpDb: 3, drivers: { cone: 0 } },
      { limits: "stated" },
    ] as const) {
      const made = goal(options);
      expect(goalOf(made)).toBe(made);
      const copy = goalOf(JSON.parse(JSON.stringify(made)) as typeof made);
      expect(copy).toEqual(made);
      expect(goalOf(copy)).toBe(copy);
    }
    expect(goalOf({ corridorDb: 2 })).toEqual(goal({ corridorDb: 2 }));
    expect(goalOf(undefined)).toEqual(goal());
  });

  it("may leave its band to what was measured, as the goal does", () => {
    const narrow = goal();
    const judged = (of: typeof narrow) => assess(box, { ratedImpedance: 8, goal: of }).quality.band;
    expect(judged({ ...narrow })).toEqual(judged(narrow));
    expect(() => goalOf({ ...narrow, corridorDb: -1 })).toThrow(/"corridorDb"/);
    expect(goalOf({ ...narrow, stated: ["largestHumpDb", "made up"] }).stated).toEqual(["largestHumpDb"]);
  });
});
