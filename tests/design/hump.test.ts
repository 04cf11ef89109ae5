// The highest level outside the judged band as a limit. The drivers are invented; the references are computed here from the networks' own solutions.
import { describe, expect, it } from "vitest";
import {
  capacitor,
  driverImpedance,
  frequencyResponse,
  inductor,
  logGrid,
  loudspeaker,
  predict,
  pressurePerVolt,
  resistor,
  type Entries,
  type Loudspeaker,
} from "dividing-network";
import { assess, compare } from "dividing-network/assessment";
import { chooseValues, redesign } from "dividing-network/design";
import { numbers } from "../support/two-way";
import { flatDriver } from "../support/flat-driver";

const grid = logGrid(50, 16_000, 200);
const flat = flatDriver(grid);
/** A woofer of 8 Ω behind a capacitor, with a coil across: the two resonate at 150 Hz, by 6 dB, and leave the band from 300 Hz alone. */
const woofer = [resistor(8), "w", "gnd"] as const;
const entries = (c: number, l: number) => ({ C9: [capacitor(c), "in", "w"], L9: [inductor(l), "w", "gnd"], woofer }) as unknown as Entries;
const box = (network: Entries): Loudspeaker =>
  loudspeaker({ network, drivers: [{ name: "woofer", role: "woofer", pressures: [flat] }] }) as unknown as Loudspeaker;
/** dB: the highest level below 300 Hz against the mean above, on a grid of its own. */
const humpBy = (network: Entries): { readonly above: number; readonly at: number } => {
  const level = (from: number, to: number) => {
    const f = logGrid(from, to, 200);
    const { sum } = predict(box(network), { frequencies: f }).places[0]!;
    return [...f].map((frequency, i) => ({ frequency, db: 10 * Math.log10(sum.re[i]! ** 2 + sum.im[i]! ** 2) }));
  };
  const inside = level(300, 10_000);
  const mean = inside.reduce((sum, { db }) => sum + db, 0) / inside.length;
  const top = level(60, 280).reduce((a, b) => (b.db > a.db ? b : a));
  return { above: top.db - mean, at: top.frequency };
};
const [w, q] = [2 * Math.PI * 130, 1.85];
const humped = entries(q / (w * 8), 8 / (q * w));
const aim = {
  band: { from: 300, to: 10_000 },
  drivers: { woofer: "not spared" },
  largestLevelLossDb: 20,
  amplifier: { smallestImpedance: 1 },
} as const;

describe("a hump below the judged band", () => {
  it("is one of 5 to 7 dB near 150 Hz in this example, by plain levels", () => {
    const { above, at } = humpBy(humped);
    expect(above).toBeGreaterThan(5);
    expect(above).toBeLessThan(7);
    expect(at).toBeGreaterThan(120);
    expect(at).toBeLessThan(180);
  });

  it("is named by assess and by the verdict, with where it is and how high", () => {
    const plain = assess(box({ woofer: [woofer[0], "in", "gnd"] } as unknown as Entries), { ratedImpedance: 8, goal: aim });
    const after = assess(box(humped), { ratedImpedance: 8, goal: aim });
    const { above, at } = humpBy(humped);
    expect(after.quality.outsideBand).toMatchObject({ limitDb: 3, azimuth: 0, elevation: 0 });
    // A third of an octave, sampled in sixths, takes some of a peak away.
    expect(after.quality.outsideBand!.aboveDb).toBeLessThan(above + 0.1);
    expect(after.quality.outsideBand!.aboveDb).toBeGreaterThan(above - 1);
    expect(Math.abs(Math.log2(after.quality.outsideBand!.frequency / at))).toBeLessThan(1 / 6);
    expect(after.causes.find(({ topic }) => topic === "outside the judged band")?.sentence).toMatch(/14\d Hz|12\d Hz|15\d Hz/);
    const { verdict } = compare(plain, after);
    expect(verdict.overall).not.toBe("better");
    expect(verdict.topics.find(({ topic }) => topic === "outside the judged band")).toMatchObject({ change: "worse", kept: false });
    expect(verdict.sentence).toContain("outside the judged band");
    expect(compare(after, plain).verdict.topics.find(({ topic }) => topic === "outside the judged band")).toMatchObject({
      change: "better",
    });
  });

  it.each([undefined, { resistance: 0.3 }])(
    "rules a network out of a search in which it would have the least loss, source %j",
    async (sourceImpedance) => {
      const values = {
        C9: [humped["C9"]![0], capacitor(1e-3), "short"],
        L9: [humped["L9"]![0], inductor(20e-3), "open"],
      };
      const given = { ...box(humped), ...(sourceImpedance === undefined ? {} : { sourceImpedance }) };
      const goal = (more: object) => ({ ...aim, frequencies: logGrid(300, 10_000, 20), curve: bent(given), ...more });
      const free = await chooseValues(given, { goal: goal({ limits: "stated" }), values } as never);
      expect(free.network).toMatchObject({ C9: humped["C9"]!, L9: humped["L9"]! });
      const held = await chooseValues(given, { goal: goal({}), values } as never);
      expect(held.proven).toBe(true);
      const by = (own: Entries) => assess({ ...given, network: own }, { ratedImpedance: 8, goal: goal({}) }).quality.outsideBand!;
      expect(by(free.network as unknown as Entries).aboveDb).toBeGreaterThan(3);
      expect(by(held.network as unknown as Entries).aboveDb).toBeLessThanOrEqual(3);
      expect(held.lossDb).toBeGreaterThan(free.lossDb);
      const looser = await chooseValues(given, { goal: goal({ largestHumpDb: 7 }), values } as never);
      expect(looser.network).toEqual(free.network);
    },
  );

  it("is the number that assess gives: of random networks those are refused that lie beyond it", async () => {
    const next = numbers(5);
    for (let i = 0; i < 12; i++) {
      const own = entries(20e-6 * 30 ** next(), 1e-3 * 30 ** next());
      const sourceImpedance = i % 3 === 0 ? 0.4 : undefined;
      const given = { ...box(own), ...(sourceImpedance === undefined ? {} : { sourceImpedance }) } as Loudspeaker;
      const goal = {
        frequencies: logGrid(400, 9000, 15),
        limits: "stated",
        slopeDbPerOctave: i % 2 === 0 ? -1 : 0,
        ...(i % 4 === 0 ? { levelDb: 84 } : {}),
      } as const;
      const { aboveDb, insideDb } = assess(given, { ratedImpedance: 8, goal }).quality.outsideBand!;
      for (const [limit, kept] of [
        [aboveDb + 0.01, true],
        [aboveDb - 0.01, aboveDb <= insideDb],
      ] as const) {
        if (limit < 0) continue;
        const found = await chooseValues(given, {
          goal: { ...goal, largestHumpDb: limit },
          values: { C9: [own["C9"]![0], "open"] },
        } as never).then(
          ({ network }) => "C9" in network,
          (error: unknown) => (error as { code: string }).code,
        );
        expect(found).toBe(kept ? true : "no-feasible-network");
      }
    }
  });

  it("says how far the limit would have to give way where nothing else is left", async () => {
    const { above } = humpBy(humped);
    const error = await chooseValues(box(humped), {
      goal: { ...aim, frequencies: logGrid(300, 10_000, 20) },
      values: { C9: [humped["C9"]![0]] },
    } as never).then(
      () => undefined,
      (given: unknown) => given as { code: string; message: string; hint: string },
    );
    expect(error).toMatchObject({ code: "no-feasible-network" });
    const said = /largestHumpDb: outside the judged band the level lies ([\d.]+) dB above the target at (\d+) Hz/.exec(error!.message);
    expect(Number(said![1])).toBeGreaterThan(above - 1);
    expect(Number(said![1])).toBeLessThan(above + 0.1);
  });
});

/** A curve of which the humped network is the best in the band: its own levels. */
function bent(given: Loudspeaker): { readonly frequencies: Float64Array; readonly levelDb: Float64Array } {
  const frequencies = logGrid(300, 10_000, 60);
  const { sum } = predict({ ...given, network: humped }, { frequencies }).places[0]!;
  const levelDb = frequencies.map((_, i) => 10 * Math.log10(sum.re[i]! ** 2 + sum.im[i]! ** 2));
  return { frequencies, levelDb: levelDb.map((level) => level - levelDb[59]!) };
}

describe("a redesign", () => {
  it("doesn't win by a hump below its band", { timeout: 60_000 }, async () => {
    // A woofer whose impedance peaks at 150 Hz, and coils of thin wire: the larger the coil, the more is lost but at the peak.
    const shaped = (size: (f: number) => number) =>
      pressurePerVolt({
        response: frequencyResponse(
          grid,
          grid.map((f) => 0.1 * size(f)),
          grid.map(() => 0),
        ),
        drive: { voltage: 1, at: "terminals" },
        distance: 1,
        timeZero: "common",
      });
    const two = loudspeaker({
      network: {
        woofer: [driverImpedance({ re: 5, fs: 150, qms: 12, qes: 1.2 }), "in", "gnd"],
        tweeter: [resistor(5), "in", "gnd"],
      },
      drivers: [
        { name: "woofer", role: "woofer", pressures: [shaped((f) => 1 + 0.8 / (1 + (f / 600) ** -4))] },
        { name: "tweeter", role: "tweeter", pressures: [shaped((f) => 1 / (1 + (f / 700) ** -4))] },
      ],
    }) as unknown as Loudspeaker;
    const options = { series: "E6", maxParts: 3, coilResistance: (l: number) => 4000 * l } as const;
    const goal = { frequencies: logGrid(300, 10_000, 16), largestHumpDb: 2 } as const;
    const by = (network: Entries) => assess({ ...two, network }, { ratedImpedance: 4, goal }).quality.outsideBand!;
    const free = await redesign(two, { goal: { frequencies: goal.frequencies, limits: "stated" }, ...options });
    const held = await redesign(two, { goal: { ...goal, limits: "stated" }, ...options });
    const best = free.front[free.front.length - 1]!;
    expect(by(best.network).aboveDb).toBeGreaterThan(Math.max(2, by(best.network).insideDb) + 1);
    expect(by(best.network).frequency).toBeLessThan(200);
    for (const { network } of held.front) {
      expect(by(network).aboveDb).toBeLessThanOrEqual(Math.max(2, by(network).insideDb) + 1e-6);
      expect(network).not.toEqual(best.network);
    }
  });
});
