// What is asked of a choice of values beside the best loss: limits and their defaults, certificates on the way, honest answers without proof, refusals.
import {
  capacitor,
  coupling,
  equivalentPeakDissipationResistance,
  inductor,
  levelDb,
  logGrid,
  predict,
  resistor,
  solve,
  type Entries,
} from "dividing-network";
import { delayResponse, scaleResponse } from "dividing-network/response";
import { goal, lossOf } from "dividing-network/assessment";
import { chooseValues, type ChooseValuesOptions, type ChooseValuesProgress } from "dividing-network/design";
import { describe, expect, it } from "vitest";
import { dome, drawn, monitor, numbers } from "../support/two-way";

const frequencies = logGrid(500, 10_000, 12);
const stated = { frequencies, limits: "stated" as const };
const six = [0.5, 0.68, 0.82, 1.2, 1.5, 2.2];
const space = {
  L1: six.map((x) => 0.6e-3 * x),
  C1: six.map((x) => 10e-6 * x),
  C2: six.map((x) => 5e-6 * x),
  R2: six.map((x) => 2 * x),
  L2: six.map((x) => 0.3e-3 * x),
};

describe("ground truth", () => {
  for (let seed = 1; seed <= 5; seed++) {
    it(`is found again: a network's own response as the goal leads to that network in its own drawer (${seed})`, async () => {
      const next = numbers(seed);
      const pick = Object.entries(space).map(([name, values]) => [name, values[Math.floor(next() * 6)]!] as const);
      const network: Record<string, unknown> = { ...drawn };
      for (const [name, value] of pick) {
        const [part, ...nodes] = drawn[name as keyof typeof space];
        network[name] = [
          part.kind === "resistor"
            ? resistor(value)
            : part.kind === "inductor"
              ? inductor(value, { dcr: part.dcr })
              : capacitor(value, { esr: part.esr }),
          ...nodes,
        ];
      }
      const hidden = monitor(network as Entries);
      const curve = {
        frequencies,
        levelDb: levelDb(predict(hidden, { frequencies, places: [{ distance: 1, azimuth: 0, elevation: 0 }] }).places[0]!.sum, {
          reference: 20e-6,
        }),
      };
      const found = await chooseValues(monitor(drawn), {
        goal: { ...stated, curve, levelDb: 0 },
        values: space,
        polarity: { tweeter: "either", woofer: "either" },
      } as unknown as ChooseValuesOptions);
      expect(found.lossDb).toBeLessThan(1e-5);
      expect(found.proven).toBe(true);
      expect(found.networks).toBe(6 ** 5 * 4);
      for (const [name] of pick) expect(found.network[name]![0]).toEqual((network as Entries)[name]![0]);
      expect(found.polarity).toEqual({ tweeter: "same", woofer: "same" });
    });
  }
});

describe("limits", () => {
  it("include by default the loudness of the given loudspeaker less 3 dB, and 12 dB for a tweeter at its resonance", async () => {
    const quiet = { R2: [2, 4, 8, 16, 30], L1: [0.4e-3, 1.2e-3, 3e-3], C2: [2e-6, 4e-6, 8e-6, 16e-6, 40e-6] };
    const given = monitor();
    const free = await chooseValues(given, {
      goal: { ...stated, drivers: { tweeter: "not spared" }, slopeDbPerOctave: -3 },
      values: quiet,
    } as never);
    const kept = await chooseValues(given, { goal: { frequencies, slopeDbPerOctave: -3 }, values: quiet } as never);
    const level = (network: Entries) => lossOf({ ...given, network }, { ...stated, slopeDbPerOctave: -3 }).levelDb;
    expect(level(free.network)).toBeLessThan(level(given.network) - 3);
    expect(level(kept.network)).toBeGreaterThanOrEqual(level(given.network) - 3);
    expect(kept.lossDb).toBeGreaterThan(free.lossDb);
  });

  it("include by default 12 dB less for a tweeter at its resonance than in its passband", async () => {
    const values = { C2: [4e-6, 15e-6, 60e-6], L2: [0.2e-3, 1e-3, 5e-3], R1: [2, 30], C1: [20e-6, 100e-6], L1: [2e-3, 5e-3] };
    const given = monitor();
    const free = await chooseValues(given, {
      goal: { frequencies, largestLevelLossDb: 40, drivers: { tweeter: "not spared" } },
      values,
    } as never);
    const kept = await chooseValues(given, { goal: { frequencies, largestLevelLossDb: 40 }, values } as never);
    const spare = (network: Entries) => {
      const level = levelDb(
        solve(network as never, [...frequencies.filter((f) => f < 850), 850, ...frequencies.filter((f) => f > 850)]).voltage(
          "tweeter" as never,
        ),
      );
      return Math.max(...level) - level[frequencies.filter((f) => f < 850).length]!;
    };
    expect(spare(free.network)).toBeLessThan(12);
    expect(spare(kept.network)).toBeGreaterThanOrEqual(12);
    expect(kept.lossDb).toBeGreaterThan(free.lossDb);
  });

  it("hold |Z| to 80 % of the rated impedance where that is told, on the whole known band", async () => {
    const low = { R3: [3, 6, 12, 30], R2: [0.5, 1, 2, 4], C1: [5e-6, 20e-6, 60e-6] };
    const goalOnly = { frequencies, drivers: { tweeter: "not spared" as const } };
    const given = monitor();
    const least = (network: Entries) => {
      const z = solve(network as never, logGrid(20, 20_000, 2000)).impedance;
      return Math.min(...z.re.map((re, i) => Math.hypot(re, z.im[i]!)));
    };
    const free = await chooseValues(given, { goal: goalOnly, values: low } as never);
    const kept = await chooseValues(given, { goal: goalOnly, values: low, ratedImpedance: 6.6 } as never);
    expect(least(free.network)).toBeLessThan(5.28);
    expect(least(kept.network)).toBeGreaterThan(5.28 * 0.999);
  });

  it("hold the equivalent peak dissipation resistance", async () => {
    const low = { R3: [3, 6, 12, 30], R2: [0.5, 1, 2, 4], C1: [5e-6, 20e-6, 60e-6] };
    const given = monitor();
    const least = (network: Entries) =>
      Math.min(...equivalentPeakDissipationResistance(solve(network as never, logGrid(20, 20_000, 2000)).impedance));
    const free = await chooseValues(given, { goal: stated, values: low } as never);
    const limit = least(free.network) * 1.05;
    const kept = await chooseValues(given, {
      goal: { ...stated, amplifier: { smallestPeakDissipationResistance: limit } },
      values: low,
    } as never);
    expect(least(kept.network)).toBeGreaterThan(limit * 0.999);
    expect(kept.proven).toBe(true);
  });

  it("that nothing keeps are named, with by how much the nearest misses them", async () => {
    const wanted = { goal: { ...stated, amplifier: { smallestImpedance: 40 } }, values: { R2: [1, 2, 3] } };
    await expect(chooseValues(monitor(), wanted as never)).rejects.toMatchObject({
      code: "no-feasible-network",
      message: expect.stringMatching(/smallestImpedance: \|Z\| falls to [\d.]+ Ω, at least 40\.0 Ω/) as string,
    });
    const loud = { goal: { ...stated, leastLevelDb: 120 }, values: { R2: [1, 2, 3] } };
    await expect(chooseValues(monitor(), loud as never)).rejects.toMatchObject({
      code: "no-feasible-network",
      message: expect.stringMatching(/leastLevelDb: the mean level is [\d.]+ dB, at least 120\.00 dB/) as string,
    });
  });
});

describe("on the way", () => {
  it("the bound and the best close in on each other, and a stopped search says how far apart they are", async () => {
    const wide = Object.fromEntries(
      Object.entries(space).map(([name, values]) => [name, values.flatMap((value) => [value, value * 1.07, value * 1.15])]),
    );
    const seen: ChooseValuesProgress[] = [];
    const whole = await chooseValues(monitor(), {
      goal: stated,
      values: wide,
      polarity: { tweeter: "either" },
      onProgress: (progress: ChooseValuesProgress) => seen.push(progress),
    } as never);
    const last = seen[seen.length - 1]!;
    expect(whole.proven).toBe(true);
    expect(last.share).toBeCloseTo(1, 6);
    for (const { lossDb, lowerBoundDb } of seen) {
      expect(lowerBoundDb).toBeLessThanOrEqual(whole.lossDb + 1e-9);
      expect(lossDb).toBeGreaterThanOrEqual(whole.lossDb - 1e-9);
    }
    const signal = { aborted: false };
    const stopped = await chooseValues(monitor(), {
      goal: stated,
      values: wide,
      polarity: { tweeter: "either" },
      signal,
      onProgress: () => (signal.aborted = true),
    } as never);
    expect(stopped.lowerBoundDb).toBeLessThanOrEqual(whole.lossDb + 1e-9);
    expect(stopped.lossDb).toBeGreaterThanOrEqual(whole.lossDb - 1e-9);
    expect(stopped.lossDb).toBe(lossOf({ ...monitor(), network: stopped.network }, stated).lossDb);
  });
});

describe("a partner outside the network", () => {
  it("is heard with the loudspeaker, behind its source's impedance and in either polarity of all drivers", async () => {
    const low = dome.map(({ azimuth, elevation, response }) => ({
      azimuth,
      elevation,
      response: scaleResponse(delayResponse(response, 0.1e-3), 0.6),
    }));
    for (const sourceImpedance of [undefined, 0.8]) {
      const given = monitor(drawn, sourceImpedance);
      const aim = goal({ ...stated, places: [{}, { azimuth: 20 }], partner: { pressures: low } });
      const values = { L1: [0.4e-3, 1.5e-3], C2: [3e-6, 6e-6, 12e-6], R2: [1, 6] };
      const turned = ({ 0: part, 1: a, 2: b }: readonly [unknown, string, string], is: boolean) => (is ? [part, b, a] : [part, a, b]);
      const losses = values.L1.flatMap((l) =>
        values.C2.flatMap((c) =>
          values.R2.flatMap((r) =>
            [0, 1, 2, 3].map(
              (way) =>
                lossOf(
                  {
                    ...given,
                    network: {
                      ...drawn,
                      L1: [inductor(l, { dcr: 0.25 }), "in", "w"],
                      C2: [capacitor(c), "a", "t"],
                      R2: [resistor(r), "in", "a"],
                      woofer: turned(drawn.woofer, way > 1),
                      tweeter: turned(drawn.tweeter, way % 2 === 1),
                    } as never,
                  },
                  aim,
                ).lossDb,
            ),
          ),
        ),
      );
      const found = await chooseValues(given, { goal: aim, values, polarity: { woofer: "either", tweeter: "either" } } as never);
      expect(found).toMatchObject({ proven: true, networks: 48 });
      expect(found.lossDb).toBeCloseTo(Math.min(...losses), 9);
      // Without the partner another network is best, so that it did matter.
      const alone = await chooseValues(given, {
        goal: { ...stated, places: [{}, { azimuth: 20 }] },
        values,
        polarity: { woofer: "either", tweeter: "either" },
      } as never);
      expect(Math.abs(alone.lossDb - found.lossDb)).toBeGreaterThan(0.01);
    }
  });
});

describe("what is given", () => {
  it("may be written to while the search runs: the answer is that of what was asked", async () => {
    const asked = () => ({
      goal: { frequencies: [...frequencies], limits: "stated" as const, places: [{ azimuth: 0 }, { azimuth: 20 }] },
      values: { L1: [...space.L1], C2: [...space.C2], L2: [...space.L2] },
      polarity: { tweeter: "either" as const },
    });
    const mine = asked();
    const running = chooseValues(monitor(), mine as never);
    mine.goal.frequencies.fill(777);
    mine.goal.places.length = 0;
    for (const list of Object.values(mine.values)) list.fill(1e-9);
    mine.polarity = {} as never;
    expect(await running).toEqual(await chooseValues(monitor(), asked() as never));
  });
});

describe("a loss of third-octave powers", () => {
  const aim = goal({ band: { from: 400, to: 8000 }, limits: "stated" });

  it("is proven in a small space, where every network is judged", async () => {
    const small = { R2: [1, 3, 6], C2: [3e-6, 9e-6] };
    const found = await chooseValues(monitor(), { goal: aim, values: small, polarity: { tweeter: "either" } } as never);
    const losses = small.R2.flatMap((r) =>
      small.C2.flatMap((c) =>
        [false, true].map(
          (turned) =>
            lossOf(
              monitor({
                ...drawn,
                R2: [resistor(r), "in", "a"],
                C2: [capacitor(c), "a", "t"],
                tweeter: turned ? [drawn.tweeter[0], "gnd", "t"] : drawn.tweeter,
              }),
              aim,
            ).lossDb,
        ),
      ),
    );
    expect(found).toMatchObject({ proven: true, networks: 12, lowerBoundDb: found.lossDb });
    expect(found.lossDb).toBeCloseTo(Math.min(...losses), 9);
  });

  it("is proven in a large one, and no single change of a value lowers the loss found", async () => {
    const found = await chooseValues(monitor(), { goal: aim, values: space } as never);
    expect(found).toMatchObject({ proven: true, lowerBoundDb: found.lossDb, networks: 6 ** 5 });
    for (const value of space.C2)
      expect(lossOf({ ...monitor(), network: { ...found.network, C2: [capacitor(value), "a", "t"] } }, aim).lossDb).toBeGreaterThanOrEqual(
        found.lossDb - 1e-9,
      );
  });
});

describe("coupled coils", () => {
  it("tie their branches together, and the choice is still proven", async () => {
    const tied = { ...drawn, K1: [coupling(0.05), "L1", "L2"] } as unknown as Entries;
    const values = { L1: [0.5e-3, 0.7e-3, 1e-3], C2: [4e-6, 6e-6, 9e-6], R2: [1, 2, 4] };
    const found = await chooseValues(monitor(tied), { goal: stated, values } as never);
    const losses = values.L1.flatMap((l) =>
      values.C2.flatMap((c) =>
        values.R2.map(
          (r) =>
            lossOf(
              monitor({ ...tied, L1: [inductor(l, { dcr: 0.25 }), "in", "w"], C2: [capacitor(c), "a", "t"], R2: [resistor(r), "in", "a"] }),
              stated,
            ).lossDb,
        ),
      ),
    );
    expect(found).toMatchObject({ proven: true, networks: 27 });
    expect(found.lossDb).toBeCloseTo(Math.min(...losses), 9);
    await expect(chooseValues(monitor(tied), { goal: stated, values: { L1: ["open"] } } as never)).rejects.toMatchObject({
      code: "invalid-argument",
    });
  });
});

describe("refusals", () => {
  const refuses = (options: object, code: string, message: RegExp) => async () => {
    await expect(chooseValues(monitor(), options as never)).rejects.toMatchObject({
      code,
      message: expect.stringMatching(message) as string,
    });
  };
  it("name an unknown designator", refuses({ goal: stated, values: { R9: [1] } }, "unknown-part", /R9/));
  it(
    "name a place without candidates",
    refuses({ goal: stated, values: { R2: [] } }, "invalid-argument", /values\.R2.*at least one candidate/),
  );
  it(
    "name a part of the wrong kind",
    refuses({ goal: stated, values: { R2: [capacitor(1e-6)] } }, "wrong-part", /values\.R2\[0\].*resistor, got "capacitor"/),
  );
  it("name a value in the wrong unit", refuses({ goal: stated, values: { R2: ["1 mH"] } }, "invalid-quantity", /mH/));
  it("do not exchange drivers", refuses({ goal: stated, values: { tweeter: [resistor(8)] } }, "invalid-argument", /driver/));
  it(
    "name a polarity where no driver hangs",
    refuses({ goal: stated, values: { R2: [1] }, polarity: { R2: "either" } }, "unknown-part", /no driver hangs/),
  );
  it(
    "name an unknown word for a polarity",
    refuses({ goal: stated, values: { R2: [1] }, polarity: { tweeter: "both" } }, "invalid-argument", /either/),
  );
  it(
    "name a branch with too many states",
    refuses(
      {
        goal: stated,
        values: Object.fromEntries(
          ["R2", "C2", "L2", "R3"].map((name) => [
            name,
            Array.from({ length: 60 }, (_, i) => (name === "C2" ? 1e-6 : name === "L2" ? 1e-4 : 1) * (1 + i)),
          ]),
        ),
      },
      "too-many-states",
      /at most 4000000 states.*12960000/,
    ),
  );
  it(
    "name limits that contradict the target",
    refuses({ goal: { ...stated, levelDb: 80, leastLevelDb: 90 }, values: { R2: [1] } }, "invalid-argument", /leastLevelDb/),
  );
  it("name a spared driver that isn't there, and one without a known resonance", async () => {
    await refuses({ goal: { ...stated, drivers: { horn: 10 } }, values: { R2: [1] } }, "unknown-part", /horn/)();
    const plain = monitor({ ...drawn, tweeter: [resistor(6), "t", "gnd"] });
    await expect(
      chooseValues(plain, { goal: { ...stated, drivers: { tweeter: 10 } }, values: { R2: [1] } } as never),
    ).rejects.toMatchObject({ code: "no-resonance" });
  });
  it("know no other options", refuses({ goal: stated, values: { R2: [1] }, series: "E12" }, "unknown-option", /series/));
  it(
    "tell when every combination makes no network",
    refuses(
      { goal: stated, values: { R1: ["short"], C1: ["short"], L1: ["short"], R2: [1] } },
      "no-feasible-network",
      /no combination of candidates makes a network/,
    ),
  );
});
