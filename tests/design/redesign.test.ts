// Tests src/design/: asked-combinations.ts, redesign-course.ts, redesign-grounds.ts, redesign-plan.ts, topology-look.ts
// The front of a redesign against enumeration and limits computed here. No published source: the drivers are invented.
import { describe, expect, it } from "vitest";
import { capacitor, inductor, logGrid, loudspeaker, network, resistor, solve, type Entries } from "dividing-network";
import { assess, goal, lossOf } from "dividing-network/assessment";
import { chooseValues, redesign } from "dividing-network/design";
import { preferredValues } from "dividing-network/quantity";
import { dome, drawn, monitor, numbers, tweeter, woofer } from "../support/two-way";
import { flatDriver } from "../support/flat-driver";

const aim = {
  frequencies: logGrid(400, 12_000, 16),
  limits: "stated",
  largestLevelLossDb: 2,
  amplifier: { smallestImpedance: 4 },
} as const;
const values = (from: number, to: number) =>
  [-6, -5, -4, -3, -2, -1, 0]
    .flatMap((decade) => preferredValues("E12").map((step) => Number(`${step}e${decade}`)))
    .filter((value) => value >= from && value <= to);
const coil = (l: number) => inductor(l, { dcr: 0.35 * (l / 1e-3) ** 0.6 });
const film = (c: number) => capacitor(c, { dissipationFactor: 0.002 });
const codeOf = async (call: () => Promise<unknown>): Promise<string> =>
  call().then(
    () => "none",
    (error: unknown) => (error as { code: string }).code,
  );

/** dB: mean level over the goal's places and frequencies, and the least |Z| from 20 Hz to 20 kHz. */
const free = goal({ frequencies: aim.frequencies, limits: "stated" });
const levelOf = (entries: Entries) => lossOf({ ...monitor(), network: network<Entries>(entries) }, free).levelDb;
const leastOf = (entries: Entries) => {
  const { re, im } = solve(network<Entries>(entries), logGrid(20, 20_000, 480)).impedance;
  return Math.min(...re.map((real, index) => Math.hypot(real, im[index]!)));
};

describe("redesign", () => {
  it("finds with two parts what an enumeration of all coils and capacitors finds", { timeout: 60_000 }, async () => {
    const { front } = await redesign(monitor(), { goal: aim, maxParts: 2 });
    let best = { loss: Infinity, l: 0, c: 0 };
    const floor = levelOf(drawn as unknown as Entries) - 2;
    for (const l of values(3e-5, 4e-3)) {
      for (const c of values(1e-6, 1e-4)) {
        for (const turned of [false, true]) {
          const parallel = {
            L1: [coil(l), "in", "w"],
            woofer: [woofer, "w", "gnd"],
            C1: [film(c), "in", "t"],
            tweeter: turned ? [tweeter, "gnd", "t"] : [tweeter, "t", "gnd"],
          };
          const series = {
            L1: [coil(l), "in", "m"],
            tweeter: turned ? [tweeter, "m", "in"] : [tweeter, "in", "m"],
            C1: [film(c), "m", "gnd"],
            woofer: [woofer, "m", "gnd"],
          };
          for (const entries of [parallel, series] as unknown as Entries[]) {
            const loss = lossOf({ ...monitor(), network: network<Entries>(entries) }, free).lossDb;
            if (loss < best.loss && levelOf(entries) >= floor && leastOf(entries) >= 4) best = { loss, l, c };
          }
        }
      }
    }
    expect(front).toHaveLength(1);
    expect(front[0]!.lossDb).toBeCloseTo(best.loss, 9);
    expect((front[0]!.network["L1"]![0] as { inductance: number }).inductance).toBe(best.l);
    expect((front[0]!.network["C1"]![0] as { capacitance: number }).capacitance).toBe(best.c);
  });

  it("gives a front on which more parts buy less loss and every limit holds", { timeout: 60_000 }, async () => {
    const box = monitor();
    const { front, complete, topologies } = await redesign(box, { goal: aim, series: "E6", maxParts: 4 });
    expect(complete).toBe(true);
    expect(topologies).toBeGreaterThan(5);
    expect(front.length).toBeGreaterThan(1);
    front.forEach(({ network: own, lossDb, parts, levelDb, lossWithoutDb }, index) => {
      expect(Object.keys(own)).toHaveLength(parts + 2);
      expect(parts).toBeLessThanOrEqual(4);
      if (index > 0) {
        expect(lossDb).toBeLessThan(front[index - 1]!.lossDb);
        expect(parts).toBeGreaterThan(front[index - 1]!.parts);
      }
      expect(lossOf({ ...box, network: own }, free).lossDb).toBeCloseTo(lossDb, 9);
      expect(levelDb).toBeCloseTo(levelOf(own), 9);
      expect(levelDb).toBeGreaterThanOrEqual(levelOf(drawn as unknown as Entries) - 2 - 1e-9);
      expect(leastOf(own)).toBeGreaterThan(4 * (1 - 1e-3));
      expect(Object.keys(lossWithoutDb)).toHaveLength(parts);
      // Coils and capacitors aren't ideal.
      for (const [part] of Object.values(own)) {
        if (part.kind === "inductor") expect(part.dcr).toBeGreaterThan(0);
        if (part.kind === "capacitor") expect(part.dissipationFactor).toBeGreaterThan(0);
      }
    });
  });

  it("isn't beaten by three hundred random networks of its own kind", { timeout: 60_000 }, async () => {
    const { front } = await redesign(monitor(), { goal: aim, series: "E6", maxParts: 4 });
    const last = front[front.length - 1]!;
    const next = numbers(7);
    const one = (from: number, to: number) => from * (to / from) ** next();
    const floor = levelOf(drawn as unknown as Entries) - 2;
    for (let i = 0; i < 300; i++) {
      const turned = next() < 0.5;
      const entries = {
        L1: [coil(one(5e-5, 2e-3)), "in", "w"],
        C1: [film(one(2e-6, 5e-5)), "w", "gnd"],
        woofer: [woofer, "w", "gnd"],
        C2: [film(one(2e-6, 5e-5)), "in", "t"],
        L2: [coil(one(5e-5, 2e-3)), "t", "gnd"],
        tweeter: turned ? [tweeter, "gnd", "t"] : [tweeter, "t", "gnd"],
      } as unknown as Entries;
      const loss = lossOf({ ...monitor(), network: network<Entries>(entries) }, free).lossDb;
      if (loss < last.lossDb && levelOf(entries) >= floor) expect(leastOf(entries)).toBeLessThan(4);
    }
  });

  it("feeds two woofers of one role in parallel, and three roles each by a branch of its own", { timeout: 60_000 }, async () => {
    const grid = logGrid(100, 12_000, 60);
    const flat = [flatDriver(grid)];
    const box = loudspeaker({
      network: {
        low: [resistor(16), "in", "gnd"],
        lower: [resistor(16), "in", "gnd"],
        mid: [resistor(8), "in", "gnd"],
        top: [resistor(8), "in", "gnd"],
      },
      drivers: [
        { name: "low", role: "woofer", pressures: flat },
        { name: "lower", role: "woofer", pressures: flat },
        { name: "mid", role: "midrange", pressures: flat },
        { name: "top", role: "tweeter", pressures: flat },
      ],
    });
    const { front } = await redesign(box, { goal: { frequencies: logGrid(120, 10_000, 12), limits: "stated" }, series: "E3", maxParts: 4 });
    const own = front[0]!.network;
    expect(own["low"]!.slice(1)).toEqual(own["lower"]!.slice(1));
    expect(front[0]!.topology).toContain("midrange: high-pass of 1, low-pass of 1");
  });

  it("finds what the full series holds where it thins a branch: as good as chooseValues over all of it", { timeout: 60_000 }, async () => {
    const { front } = await redesign(monitor(), { goal: aim, series: "E6", maxParts: 4 });
    const four = front.find(({ parts }) => parts === 4) ?? front[front.length - 1]!;
    const all = (make: (value: number) => unknown, from: number, to: number) =>
      [-6, -5, -4, -3]
        .flatMap((decade) => preferredValues("E6").map((step) => Number(`${step}e${decade}`)))
        .filter((value) => value >= from && value <= to)
        .map(make);
    const box = monitor(
      network<Entries>({
        L1: [coil(1e-3), "in", "w"],
        C1: [film(1e-5), "w", "gnd"],
        woofer: [woofer, "w", "gnd"],
        C2: [film(1e-5), "in", "t"],
        L2: [coil(1e-3), "t", "gnd"],
        tweeter: [tweeter, "t", "gnd"],
      } as unknown as Entries),
    );
    const floor = levelOf(drawn as unknown as Entries) - 2;
    const best = await chooseValues(box, {
      goal: { frequencies: aim.frequencies, limits: "stated", leastLevelDb: floor, amplifier: aim.amplifier },
      values: { L1: all(coil, 6e-5, 4e-3), C1: all(film, 1e-6, 1e-4), C2: all(film, 1e-6, 1e-4), L2: all(coil, 6e-5, 4e-3) } as never,
      polarity: { tweeter: "either" } as never,
    });
    expect(four.lossDb).toBeLessThanOrEqual(best.lossDb + 1e-9);
  });

  it(
    "keeps a load where nothing is said of it: 80 % of the least of its drivers, however near a short the network as given is",
    { timeout: 60_000 },
    async () => {
      const alone = Math.min(...[woofer, tweeter].map((part) => leastOf({ driver: [part, "in", "gnd"] } as unknown as Entries)));
      const { front } = await redesign(monitor({ ...drawn, R9: [resistor(0.001), "in", "gnd"] } as unknown as Entries), {
        goal: { frequencies: logGrid(400, 12_000, 12) },
        series: "E3",
        maxParts: 3,
      });
      for (const { network: own } of front) expect(leastOf(own)).toBeGreaterThan(0.8 * alone * (1 - 2e-3));
    },
  );

  it(
    "holds a tweeter to what assess says of it, and the loss to third octaves where the goal states no frequencies",
    { timeout: 60_000 },
    async () => {
      const box = monitor();
      const { front } = await redesign(box, { goal: { band: { from: 500, to: 10_000 } }, ratedImpedance: 4, series: "E3", maxParts: 3 });
      expect(front.length).toBeGreaterThan(0);
      for (const { network: own, lossDb } of front) {
        const { quality } = assess({ ...box, network: own }, { goal: { band: { from: 500, to: 10_000 } }, ratedImpedance: 4 });
        expect(quality.spared[0]!.belowDb).toBeGreaterThanOrEqual(12 - 1e-6);
        expect(quality.load.minimum).toBeGreaterThan(3.2 * (1 - 1e-6));
        expect(lossOf({ ...box, network: own }, { band: { from: 500, to: 10_000 } }).lossDb).toBeCloseTo(lossDb, 9);
      }
    },
  );

  it("gives the same front twice, and what it has when it is stopped", async () => {
    const all = await redesign(monitor(), { goal: aim, series: "E3", maxParts: 3 });
    // As data: what assessments say of themselves are functions, of each its own.
    expect(JSON.stringify(await redesign(monitor(), { goal: aim, series: "E3", maxParts: 3 }))).toBe(JSON.stringify(all));
    const signal = { aborted: false };
    const some = await redesign(monitor(), {
      goal: aim,
      series: "E3",
      maxParts: 3,
      signal,
      onProgress: ({ done, of }) => {
        signal.aborted = done >= 2;
        expect(done).toBeLessThanOrEqual(of);
      },
    });
    expect(some.complete).toBe(false);
    expect(some.topologies).toBe(2);
    expect(some.front.length).toBeGreaterThan(0);
    expect(await codeOf(() => redesign(monitor(), { goal: aim, signal: { aborted: true } }))).toBe("aborted");
  });

  it("says what can't be done", async () => {
    expect(await codeOf(() => redesign(monitor(), { goal: aim, maxParts: 1 }))).toBe("invalid-argument");
    expect(
      await codeOf(() => redesign(monitor(), { goal: { ...aim, amplifier: { smallestImpedance: 100 } }, series: "E3", maxParts: 2 })),
    ).toBe("no-feasible-network");
    const alone = loudspeaker({
      network: { tweeter: [tweeter, "in", "gnd"] },
      drivers: [{ name: "tweeter", role: "tweeter", pressures: dome }],
    });
    expect(await codeOf(() => redesign(alone, { goal: aim }))).toBe("invalid-argument");
    expect(await codeOf(() => redesign(monitor(), { coilResistance: 3 as never }))).toBe("invalid-argument");
    expect(await codeOf(() => redesign(monitor(), { goal: { band: { from: 30, to: 40 } } }))).not.toBe("none");
  });
});
