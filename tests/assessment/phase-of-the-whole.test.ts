// Tests src/assessment/suspects/: kinds.ts, misfit.ts, misfit-of-drawing.ts, phaseless.ts, sign-and-delay.ts, other-time-zero.ts, trial.ts
// Tests src/assessment/: trust.ts
// The loudspeaker here is a first-order crossover of two flat drivers: its branches add up to 1, and with one driver reversed to (1 − jx)/(1 + jx), an
// all-pass (x = f/f₀; closed form): level and impedance are the same to the last digit, the phase isn't. The residuals are computed by a route of the test's own.
import { DividingNetworkError } from "dividing-network/errors";
import { assess, compare, suspects, suspectText } from "dividing-network/assessment";
import { loudspeaker, pressurePerVolt, type Loudspeaker, type PressurePerVolt } from "dividing-network/loudspeaker";
import { solve } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { frequencyResponse, type FrequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { trustOf } from "../../src/assessment/trust";
import { seeded } from "./faulty-networks";

const [OHMS, CORNER] = [8, 2000];
const [HENRY, FARAD] = [OHMS / (2 * Math.PI * CORNER), 1 / (2 * Math.PI * CORNER * OHMS)];
const grid = logGrid(100, 16_000, 352);
const [C, DB] = [343.2, 20 / Math.LN10];
type Z = readonly [re: number, im: number];
const times = ([a, b]: Z, [c, d]: Z): Z => [a * c - b * d, a * d + b * c];
const turned = (radians: number): Z => [Math.cos(radians), Math.sin(radians)];
const sampled = (at: (f: number) => Z, marks: FrequencyResponse["marks"] = []) =>
  frequencyResponse(grid, grid.map((f) => at(f)[0]), grid.map((f) => at(f)[1]), marks); // prettier-ignore
/** What the two branches give: 1/(1 + jx) and jx/(1 + jx), for a capacitance that is off by a factor, with signs and delays of their own. */
const FLIGHT = 1e-4;
const low = (f: number): Z => [1 / (1 + (f / CORNER) ** 2), -(f / CORNER) / (1 + (f / CORNER) ** 2)];
const high = (f: number, factor = 1): Z => {
  const x = (factor * f) / CORNER;
  return [x ** 2 / (1 + x ** 2), x / (1 + x ** 2)];
};
const flight = (f: number): Z => turned(-2 * Math.PI * f * FLIGHT);
interface Built {
  readonly woofer?: number;
  readonly tweeter?: number;
  /** s, of each. */
  readonly late?: readonly [number, number];
  readonly factor?: number;
}
const sum = (f: number, { woofer = 1, tweeter = 1, late = [0, 0], factor = 1 }: Built): Z => {
  const [a, b] = [times(low(f), turned(-2 * Math.PI * f * late[0])), times(high(f, factor), turned(-2 * Math.PI * f * late[1]))];
  return times([0.1 * (woofer * a[0] + tweeter * b[0]), 0.1 * (woofer * a[1] + tweeter * b[1])], flight(f));
};

const azimuths = [0, 10, -10, 20, -20];
const flat = (azimuth: number, options: Partial<Parameters<typeof pressurePerVolt>[0]> = {}): PressurePerVolt =>
  pressurePerVolt({ response: sampled((f) => times([0.1, 0], flight(f))), drive: { voltage: 1, at: "terminals" }, distance: 1, azimuth, timeZero: "common", ...options }); // prettier-ignore
const network = (farad = FARAD) => ({
  L1: [inductor(HENRY), "in", "w"],
  woofer: [resistor(OHMS), "w", "gnd"],
  C1: [capacitor(farad), "in", "t"],
  tweeter: [resistor(OHMS), "t", "gnd"],
});
const box = (pressures: (azimuth: number) => PressurePerVolt = flat): Loudspeaker =>
  loudspeaker({
    network: network(),
    drivers: (["woofer", "tweeter"] as const).map((name) => ({ name, role: name, pressures: azimuths.map(pressures) })),
  } as never) as unknown as Loudspeaker;
const drawn = box();
const whole = (built: Built | ((index: number) => Built), more: object = {}, marks: FrequencyResponse["marks"] = []) =>
  azimuths.map((azimuth, index) => ({
    distance: 1, azimuth, elevation: 0, voltage: 1, ...more,
    response: sampled((f) => sum(f, typeof built === "function" ? built(index) : built), marks),
  })); // prettier-ignore
const ohms = (farad?: number) => solve(network(farad) as never, grid).impedance;
const named = (list: ReturnType<typeof suspects>) =>
  [list[0]!, ...(list[0]!.alike ?? [])].map(({ parts, fault }) => `${parts.join()} ${fault}`);

/** What is left of the phase between two sums, in units of what 1 dB and 3 mm of path turn, after the best sign and delay: the test's own route. */
function left(drawnAs: Built, builtAs: Built, { path = 0.003, largest = 62.5e-6 } = {}): number {
  const at = Array.from({ length: 88 }, (_, k) => 1000 * 2 ** ((2 * k - 79) / 24)).filter((f) => f >= 100 && f <= 16_000);
  let least = Infinity;
  for (const sign of [0, Math.PI])
    for (let delay = -largest; delay <= largest; delay += largest / 200) {
      const squares = at.map((f) => {
        const [p, q] = [sum(f, drawnAs), sum(f, builtAs)];
        const angle = Math.atan2(p[1], p[0]) - Math.atan2(q[1], q[0]) + 2 * Math.PI * f * delay + sign;
        return (2 * Math.sin(angle / 2)) ** 2 / ((1 / DB) ** 2 + ((2 * Math.PI * f * path) / C) ** 2);
      });
      least = Math.min(least, Math.sqrt(squares.reduce((total, each) => total + each, 0) / squares.length));
    }
  return least;
}

describe("the phase of the whole, where level and impedance are those of the drawing", () => {
  it("refutes a drawing with one driver reversed, by as much as the closed form leaves", () => {
    const trust = trustOf(drawn, { pressures: whole({ tweeter: -1 }), impedance: ohms() });
    expect(trust.levelDb).toBeLessThan(1e-3);
    expect(trust.impedance).toBeLessThan(1e-6);
    expect(trust.state).toBe("refuted");
    const expected = left({}, { tweeter: -1 });
    expect(expected).toBeGreaterThan(2);
    expect(trust.phase! / expected).toBeCloseTo(1, 2);
    expect(trust.sentence).toContain(
      `phase by ${trust.phase!.toFixed(2)} times what a repeated measurement may turn it (3 mm of path, and that level)`,
    );
    expect(named(suspects(drawn, { pressures: whole({ tweeter: -1 }), impedance: ohms() })).sort()).toEqual([
      "tweeter reversed",
      "woofer reversed",
    ]);
    const judged = assess(drawn, { ratedImpedance: 8, goal: { band: { from: 200, to: 8000 }, limits: "stated" } });
    expect(compare(judged, judged, { measured: { pressures: whole({ tweeter: -1 }) } }).verdict.overall).toBe("no verdict");
  });

  it.each([0, 0.001, 0.01])("counts in units of a path of %f m and the level", (path) => {
    const { phase } = trustOf(drawn, { pressures: whole({ tweeter: -1 }, { timed: true }) }, { levelDb: 1, impedance: 0.03, path });
    expect(phase! / left({}, { tweeter: -1 }, { path })).toBeCloseTo(1, 2);
  });

  it("is left nothing by one delay a place, up to three samples at 48 kHz, and by one sign of all", () => {
    for (const delay of [-62.5e-6, -40e-6, 0, 12.5e-6, 62.5e-6])
      for (const sign of [1, -1]) {
        const trust = trustOf(drawn, {
          pressures: whole((index) => ({ woofer: sign, tweeter: sign, late: index === 1 ? [0, 0] : [delay, delay] })),
        });
        expect(trust).toMatchObject({ state: "explained" });
        expect(trust.phase).toBeLessThan(0.02);
        expect(trust.sentence.includes("opposite sign")).toBe(sign < 0);
        expect(suspects(drawn, { pressures: whole({ woofer: sign, tweeter: sign, late: [delay, delay] }) })).toEqual([]);
      }
    // A sign of one place alone is none of the amplifier's.
    expect(trustOf(drawn, { pressures: whole((index) => (index === 1 ? { woofer: -1, tweeter: -1 } : {})) }).state).toBe("refuted");
  });

  it("is looked at place by place: what averages hide at one place is named", () => {
    const pressures = whole((index) => (index === 3 ? { woofer: -1, tweeter: -1 } : {}));
    const repeatability = { levelDb: 6, impedance: 0.03, path: 0.003 };
    const { state, phase, sentence } = trustOf(drawn, { pressures }, repeatability);
    expect(state).toBe("refuted");
    expect(phase! * Math.sqrt(5)).toBeGreaterThan(2);
    expect(sentence).toMatch(
      /At azimuth 20°, elevation 0° alone, level is missed by 0\.0 dB and phase by \d+\.\d of it, more than chance may do at one place/,
    );
    const loud = whole((index) => (index === 2 ? { woofer: 1.5, tweeter: 1.5 } : {}));
    // 8.686 dB times 0.5/1.5 = 2.9 dB at one place of five, 1.29 dB all together: beyond twice what a repetition may differ by at that place.
    const by = (levelDb: number) => trustOf(drawn, { pressures: loud }, { levelDb, impedance: 0.03, path: 0 });
    expect([1.2, 1.4, 1.5].map((level) => by(level).state)).toEqual(["refuted", "refuted", "explained"]);
    expect(by(1.4).sentence).toContain("At azimuth -10°, elevation 0° alone, level is missed by 2.9 dB and phase by 0.0 of it");
    expect(by(1.4).levelDb).toBeCloseTo(((20 / Math.LN10) * 0.5) / 1.5 / Math.sqrt(5), 3);
  });

  it("lets a repeated measurement be off by 3 mm of path and 0.2 dB a driver", () => {
    const random = seeded(51_001);
    const gauss = () => Math.sqrt(-2 * Math.log(random() + 1e-12)) * Math.cos(2 * Math.PI * random());
    for (let round = 0; round < 40; round++) {
      const level = () => 10 ** ((0.2 * gauss()) / 20);
      const pressures = whole(() => ({ woofer: level(), tweeter: level(), late: [(0.003 * gauss()) / C, (0.003 * gauss()) / C] }));
      const { state, phase } = trustOf(drawn, { pressures, impedance: ohms() });
      expect(state).toBe("explained");
      expect(phase).toBeLessThan(0.8);
    }
  });
});

describe("two faults, of which the level shows one", () => {
  it("aren't explained by that one: a reversed tweeter beside a drifted capacitor", () => {
    const pressures = whole({ tweeter: -1, factor: 0.6 });
    const measured = { pressures, impedance: ohms(0.6 * FARAD) };
    const found = suspects(drawn, measured);
    expect(found.length).toBeGreaterThan(0);
    for (const suspect of found.filter(({ parts }) => parts.length < 2)) expect(suspect.explains, suspectText(suspect)).toBe(false);
    // Without its phase, levels have to do, and one of them is enough.
    const [first] = suspects(drawn, { ...measured, pressures: pressures.map((each) => ({ ...each, timed: false })) });
    expect(first).toMatchObject({ parts: ["C1"], fault: "value", explains: true });
    expect(first!.value! / (0.6 * FARAD)).toBeCloseTo(1, 1);
  });

  it("aren't explained by a fault that pressures or impedance alone contradict, however little the average is", () => {
    // Impedance off by 5 % everywhere, of no part: levels are perfect, and the mean of both is within.
    const impedance = sampled((f) => {
      const [re, im] = [ohms().re[grid.indexOf(f)]!, ohms().im[grid.indexOf(f)]!];
      return times([re, im], [1.05, 0]);
    });
    const measured = { pressures: whole({}), impedance };
    expect(trustOf(drawn, measured).state).toBe("refuted");
    for (const { explains } of suspects(drawn, measured)) expect(explains).toBe(false);
  });
});

describe("a phase that can't be compared", () => {
  const said = (pressures: ReturnType<typeof whole>, of = drawn) => trustOf(of, { pressures });
  const only = "Of its pressures only the level was compared, not the phase: ";
  it("leaves the levels, and that is said with the reason", () => {
    const quiet = (f: number): Z => [Math.hypot(...sum(f, { tweeter: -1 })), 0];
    const without = whole({}).map((each) => ({ ...each, response: sampled(quiet) }));
    const model = { kind: "model", note: "minimum phase" } as const;
    const cases: readonly (readonly [ReturnType<typeof said>, string])[] = [
      [said(whole({ tweeter: -1 }, { timed: false })), "the whole was measured on a time zero of its own"],
      [said(without), "the whole was measured without phase"],
      [said(whole({ tweeter: -1 }, {}, [model])), "the phase of the whole is a model"],
      [said(whole({ tweeter: -1 }, {}, [{ ...model, from: 1000, to: 2000 }])), "the phase of the whole is a model"],
      [
        said(
          whole({ tweeter: -1 }),
          box((azimuth) => flat(azimuth, { response: sampled((f) => times([0.1, 0], flight(f)), [model]) })),
        ),
        "the phase of woofer is a model",
      ],
    ];
    for (const [trust, why] of cases) {
      expect(trust).toMatchObject({ state: "explained" });
      expect(trust.sentence).toContain(only + why);
      expect("phase" in trust).toBe(false);
    }
    // A response that is said to be on the common time zero is taken at its word, and a mark beyond the band is none.
    expect(said(without.map((each) => ({ ...each, timed: true }))).phase).toBeGreaterThan(0);
    expect(said(whole({}, {}, [{ ...model, from: 17_000 }])).phase).toBeLessThan(0.01);
  });

  it("is told place by place", () => {
    const pressures = whole({}).map((each, index) => (index < 2 ? { ...each, timed: false } : each));
    expect(said(pressures).sentence).toContain(
      "At 2 of 5 places only the level was compared, not the phase: the whole was measured on a time zero of its own",
    );
    expect(said(pressures).phase).toBeLessThan(0.01);
  });

  it.each([1e-3, -0.4e-3, 2.915e-3, 8e-3])("counts from another instant where a delay of %f s explains it, and says which", (late) => {
    const trust = said(whole({ late: [late, late] }));
    expect(trust.state).toBe("explained");
    expect(trust.sentence).toMatch(
      new RegExp(`the whole arrives [0-9.]+ .?s ${late > 0 ? "later" : "earlier"} than the drivers alone: another time zero`),
    );
    // One that explains nothing doesn't excuse a fault.
    expect(said(whole({ late: [late, late], tweeter: -1 })).state).toBe("refuted");
    expect(suspects(drawn, { pressures: whole({ late: [late, late] }) })).toEqual([]);
    // Whoever states a common time zero is taken at that word.
    expect(said(whole({ late: [late, late] }, { timed: true })).state).toBe("refuted");
  });

  it("is refused where nobody says whether it counts", () => {
    expect(() => suspects(drawn, { pressures: whole({}, { timed: "yes" }) as never })).toThrow(DividingNetworkError);
    expect(() => suspects(drawn, { pressures: whole({}, { timed: "yes" }) as never })).toThrow(
      /pressures\[0\]\.timed" must be true or false/,
    );
  });
});
