// Tests src/design/: robust.ts, robust-lots.ts
// Tests src/assessment/spread/: spread-ground.ts
// Networks chosen by what tolerances do to them, held against an independent Monte Carlo with another generator, written here. No published source: drivers and drawers are invented.
import { describe, expect, it } from "vitest";
import { logGrid, type Entries, type Entry, type Loudspeaker } from "dividing-network";
import { goal, lossOf, spread } from "dividing-network/assessment";
import { chooseValues, redesign } from "dividing-network/design";
import { redesignText } from "dividing-network/report";
import { limitsOf } from "../../src/design/limits";
import { missesOf } from "../../src/design/misses";
import { robustOf } from "../../src/design/robust";
import { loudspeaker } from "dividing-network/loudspeaker";
import { capacitor, inductor, resistor, stock, type Part } from "dividing-network/parts";
import { flat } from "../support/synthetic";
import { drawn, monitor, numbers } from "../support/two-way";

const frequencies = logGrid(400, 12_000, 12);
const aim = goal({ frequencies, limits: "stated" });
/** ± dB of each driver's level; nothing else of a driver scatters here. */
const LEVEL_DB = 0.3;
const own = { levelDb: LEVEL_DB, resonance: 0, q: 0, delay: 0 };
const told = { woofer: own, tweeter: own };
const mainOf = { resistor: "resistance", inductor: "inductance", capacitor: "capacitance" } as const;

/** Losses in dB of loudspeakers drawn from a generator of this test's own: parts evenly within their tolerance (±5 % where they state none), drivers' levels within theirs. */
function losses(network: Entries, count: number, seed: number): readonly number[] {
  const next = numbers(seed);
  const box = monitor();
  return Array.from({ length: count }, () => {
    const parts = Object.fromEntries(
      Object.entries(network).map(([name, [part, ...nodes]]): [string, Entry] => {
        if (part.kind !== "resistor" && part.kind !== "inductor" && part.kind !== "capacitor") return [name, network[name]!];
        const key = mainOf[part.kind];
        const value = (part as unknown as Record<string, number>)[key]!;
        const changed = { ...part, [key]: value * (1 + (part.tolerance ?? 0.05) * (2 * next() - 1)) };
        return [name, [changed, ...nodes] as unknown as Entry];
      }),
    );
    const drivers = box.drivers.map((driver) => {
      const gain = 10 ** ((LEVEL_DB * (2 * next() - 1)) / 20);
      return {
        ...driver,
        pressures: driver.pressures.map((pressure) => ({
          ...pressure,
          response: { ...pressure.response, re: pressure.response.re.map((x) => x * gain), im: pressure.response.im.map((x) => x * gain) },
        })),
      };
    });
    return lossOf({ ...box, network: parts, drivers } as Loudspeaker, aim).lossDb;
  });
}
const rms = (of: readonly number[]) => Math.hypot(...of) / Math.sqrt(of.length);
const shareBelow = (of: readonly number[], limit: number) => of.filter((loss) => loss <= limit).length / of.length;
/** Within 3 %: three standard deviations of what a few thousand draws leave to chance. */
const near = (one: number, other: number) => expect(Math.abs(one / other - 1)).toBeLessThan(0.03);
/** So many percentiles, evenly: the mean of what a distribution's values come to, whatever is made of them. */
const evenly = (count: number) => Array.from({ length: count }, (_, i) => (100 * (i + 0.5)) / count);
const codeOf = async (call: () => Promise<unknown>): Promise<string> =>
  call().then(
    () => "none",
    (error: unknown) => (error as { code: string }).code,
  );

describe("what is chosen by drawn loudspeakers", () => {
  const divider = (r1: number, tolerance: number) => resistor(r1, { tolerance });
  const box = loudspeaker({
    network: { R1: [divider(2, 0.05), "in", "a"], cone: [resistor(6), "a", "gnd"] },
    drivers: [{ name: "cone" as never, pressures: flat }],
  });
  const level = (r1: number): number => 20 * Math.log10((0.283 * 6) / (6 + r1) / 20e-6);
  const exact = { frequencies: [500, 1000, 2000], levelDb: level(2), limits: "stated" } as const;

  it("is the loss to be expected by the integral over a divider's tolerance", async () => {
    for (const [by, largest] of [
      ["loss", undefined],
      ["yield", 0.2],
    ] as const) {
      const found = await chooseValues(box, {
        goal: exact,
        values: { R1: [divider(2, 0.2), divider(2.02, 0.05)] },
        robust: { by, largestLossDb: largest, unstated: "exact", samples: 512 },
      });
      expect((found.network["R1"]![0] as { resistance: number }).resistance).toBe(2.02);
      expect(found.proven).toBe(true);
      // Midpoints of 20,000 steps of ±5 % around 2.02 Ω.
      const steps = Array.from({ length: 20_000 }, (_, i) => level(2.02 * (0.95 + (0.1 * (i + 0.5)) / 20_000)) - level(2));
      expect(found.robust!.expectedLossDb).toBeCloseTo(rms(steps), 2);
      expect(found.lossDb).toBeCloseTo(Math.abs(level(2.02) - level(2)), 9);
      expect(found.robust!.yield).toBe(largest === undefined ? undefined : 1);
    }
    const plain = await chooseValues(box, { goal: exact, values: { R1: [divider(2, 0.2), divider(2.02, 0.05)] } });
    expect((plain.network["R1"]![0] as { resistance: number }).resistance).toBe(2);
  });

  it("deviates alike in one lot: by integrals over one or two deviations, and as the samples of spread do", async () => {
    const loose = 0.2;
    const pair = loudspeaker({
      network: { R1: [divider(1, loose), "in", "m"], R2: [divider(1, loose), "m", "a"], cone: [resistor(6), "a", "gnd"] },
      drivers: [{ name: "cone" as never, pressures: flat }],
    });
    const both = { R1: [divider(1, loose)], R2: [divider(1, loose)] };
    const robust = { unstated: "exact", samples: 4096 } as const;
    const expected = async (lots?: readonly (readonly string[])[], values: object = both) =>
      (await chooseValues(pair, { goal: exact, values: values as never, robust: { ...robust, lots } })).robust!.expectedLossDb;
    const steps = Array.from({ length: 300 }, (_, i) => (2 * (i + 0.5)) / 300 - 1);
    const alike = rms(steps.map((x) => level(2 * (1 + loose * x)) - level(2)));
    const apart = rms(steps.flatMap((x) => steps.map((y) => level(2 + loose * (x + y)) - level(2))));
    expect(alike / apart).toBeCloseTo(Math.SQRT2, 1);
    near(await expected([["R1", "R2"]]), alike);
    near(await expected(), apart);
    expect(await expected([["R1"], ["R2"], []])).toBe(await expected());
    // Samples of spread are other draws of the same law.
    for (const lots of [[["R1", "R2"]], []]) {
      const { lossDb } = spread(pair, { goal: exact, unstated: "exact", lots, samples: 4000, percentiles: evenly(400) });
      near(await expected(lots), rms(lossDb.percentiles));
    }
    // A wire in the place of one leaves the other alone in its lot.
    const short = await expected([["R1", "R2"]], { R1: ["short"], R2: [divider(2, loose)] });
    near(short, rms(steps.map((x) => level(2 + 2 * loose * x) - level(2))));
  });

  it("deviates alike in one lot of a whole network, parts and drivers, as the samples of spread do", async () => {
    const values = { C1: [capacitor(4.7e-6, { tolerance: 0.2 })], C2: [capacitor(5.6e-6, { tolerance: 0.2 })] };
    const network = { ...monitor().network, C1: [values.C1[0]!, "z", "gnd"], C2: [values.C2[0]!, "a", "t"] } as Entries;
    const drivers = { woofer: { ...own, levelDb: 5 }, tweeter: { ...own, levelDb: 5 } };
    const found: number[] = [];
    for (const lots of [
      [
        ["C1", "C2"],
        ["woofer", "tweeter"],
      ],
      [],
    ]) {
      const { lossDb } = spread(monitor(network), { goal: aim, drivers, lots, samples: 2000, percentiles: evenly(200) });
      found.push((await chooseValues(monitor(), { goal: aim, values, robust: { drivers, samples: 4096, lots } })).robust!.expectedLossDb);
      near(found.at(-1)!, rms(lossDb.percentiles));
    }
    // Levels that go along are no deviation where the level is free.
    expect(found[0]!).toBeLessThan(0.9 * found[1]!);
  });

  it("is the best of all by an independent draw of many, and slightly worse as drawn", async () => {
    const [loose, close] = [0.2, 0.02];
    const capacitors = [capacitor(2.2e-6, { tolerance: loose }), capacitor(2.27e-6, { tolerance: close })];
    const values = { C1: capacitors, C2: capacitors, R1: [resistor(1), resistor(2.2), resistor(3.3)] };
    const box = monitor({
      L1: [inductor(0.34e-3, { dcr: 0.2, tolerance: close }), "in", "w"],
      C1: [capacitor(2.2e-6), "w", "gnd"],
      woofer: drawn.woofer,
      C2: [capacitor(2.2e-6), "in", "a"],
      R1: [resistor(2.2), "a", "t"],
      tweeter: [drawn.tweeter[0], "gnd", "t"],
    });
    const nominal = await chooseValues(box, { goal: aim, values });
    const chosen = await chooseValues(box, { goal: aim, values, robust: { drivers: told, samples: 128 } });
    const all = capacitors.flatMap((C1) =>
      capacitors.flatMap((C2) =>
        values.R1.map((R1): Entries => {
          const entry = (name: string, part: Part) => [part, ...box.network[name]!.slice(1)] as unknown as Entry;
          return { ...box.network, C1: entry("C1", C1), C2: entry("C2", C2), R1: entry("R1", R1) };
        }),
      ),
    );
    expect([all.length, chosen.networks]).toEqual([12, 12]);
    const expected = (network: Entries) => rms(losses(network, 60, 77));
    const ours = expected(chosen.network);
    expect(Math.min(...all.map(expected))).toBeGreaterThan(0.97 * ours);
    expect(expected(nominal.network)).toBeGreaterThan(1.3 * ours);
    expect(chosen.robust!.expectedLossDb / ours).toBeCloseTo(1, 1);
    expect(chosen.lossDb).toBeGreaterThan(nominal.lossDb);
    expect([chosen.proven, chosen.lowerBoundDb]).toEqual([true, 0]);
  });

  it("is the best of all where most are left off after a few draws, by loss and by yield, with limits", async () => {
    const steps = {
      L1: [0.56e-3, 0.68e-3, 1e-3],
      C1: [4.7e-6, 6.8e-6, 10e-6],
      C2: [3.9e-6, 5.6e-6],
      L2: [0.22e-3, 0.33e-3],
      R2: [1, 2.2, 4.7],
    };
    const goals = [aim, goal({ frequencies, places: [{}, { azimuth: 20 }], amplifier: { smallestImpedance: 4.2 }, largestLevelLossDb: 2 })];
    const thirds = goal({ band: { from: 500, to: 8000 }, limits: "stated" });
    for (const own of [...goals, thirds])
      for (const by of own === thirds ? (["yield"] as const) : (["loss", "yield"] as const)) {
        const asked = { by, largestLossDb: 1, samples: own === thirds ? 4 : 16 };
        const chosen = await chooseValues(monitor(), { goal: own, values: steps, robust: asked });
        expect([chosen.networks, chosen.evaluated, chosen.proven]).toEqual([108, 108, true]);
        const { of, rank, canBeBelow } = robustOf("test", monitor(), own, asked, undefined, "its parts")!;
        const rankOf = (network: Entries) => rank(of({ ...monitor(), network }, own));
        const limits = limitsOf("test", monitor(), own, undefined);
        let [least, left] = [Infinity, 0];
        for (let number = 0; number < 108; number++) {
          let rest = number;
          const network: Record<string, Entry> = { ...monitor().network };
          for (const [name, values] of Object.entries(steps)) {
            const [part, ...nodes] = network[name]!;
            const key = mainOf[part.kind as keyof typeof mainOf];
            network[name] = [{ ...part, [key]: values[rest % values.length] }, ...nodes] as unknown as Entry;
            rest = Math.floor(rest / values.length);
          }
          const box = { ...monitor(), network } as Loudspeaker;
          const its = rankOf(network);
          // It never says no of what is below, and mostly says so of what is far above.
          expect(canBeBelow(box, own, its * (1 + 1e-6), Infinity)).toBe(true);
          if (!canBeBelow(box, own, its / 2, Infinity)) left++;
          if (missesOf(box, own, limits, 1).length === 0) least = Math.min(least, its);
        }
        expect(canBeBelow({ ...monitor(), network: chosen.network }, own, 1e4, chosen.lossDb * 0.99)).toBe(false);
        expect(rankOf(chosen.network)).toBeCloseTo(least, 12);
        expect(left).toBe(108);
      }
  });

  it("may be less than the loss as drawn, which bounds nothing: the mean of a convex level lies above it", async () => {
    const far = (aboveDb: number) => ({ ...exact, levelDb: level(2) + aboveDb });
    const ask = { values: { R1: [divider(2, 0.5)] }, robust: { unstated: "exact", samples: 4096 } } as const;
    for (const [aboveDb, sign] of [
      [12, -1],
      [1, 1],
    ] as const) {
      const { lossDb, robust } = await chooseValues(box, { goal: far(aboveDb), ...ask });
      expect(Math.sign(robust!.expectedLossDb - lossDb)).toBe(sign);
      // Midpoints of 20,000 steps of ±50 % around 2 Ω.
      near(
        robust!.expectedLossDb,
        rms(Array.from({ length: 20_000 }, (_, i) => level(2 * (0.5 + (i + 0.5) / 20_000)) - level(2) - aboveDb)),
      );
    }
  });

  it("is found by single changes where not every network can be drawn from, and is no worse than the best as drawn", async () => {
    const of = <T>(steps: readonly number[], make: (step: number) => T) => steps.map(make);
    const values = {
      L1: of([0.47, 0.56, 0.68, 0.82, 1], (step) => inductor(step * 1e-3, { dcr: 0.25, tolerance: step === 0.68 ? 0.2 : 0.03 })),
      C1: of([4.7, 6.8, 10, 15], (step) => capacitor(step * 1e-6, { tolerance: 0.05 })),
      C2: of([3.9, 4.7, 5.6, 6.8, 8.2], (step) => capacitor(step * 1e-6, { tolerance: step === 5.6 ? 0.2 : 0.03 })),
      L2: of([0.22, 0.33, 0.47, 0.68], (step) => inductor(step * 1e-3, { dcr: 0.2 })),
      R2: of([1, 1.5, 2.2, 3.3, 4.7], (step) => resistor(step)),
      R1: of([3.9, 4.7, 5.6, 6.8], (step) => resistor(step)),
      R3: of([10, 22, 47], (step) => resistor(step)),
    };
    const nominal = await chooseValues(monitor(), { goal: aim, values });
    expect(nominal.networks).toBeGreaterThan(20_000);
    const robust = await chooseValues(monitor(), { goal: aim, values, robust: { drivers: told, samples: 32 } });
    expect(robust.proven).toBe(false);
    const held = await chooseValues(monitor(nominal.network), {
      goal: aim,
      values: Object.fromEntries(
        Object.entries(nominal.network)
          .filter(([name]) => name in values)
          .map(([name, [part]]) => [name, [part]]),
      ),
      robust: { drivers: told, samples: 32 },
    } as never);
    expect(held.lossDb).toBeCloseTo(nominal.lossDb, 9);
    expect(robust.robust!.expectedLossDb).toBeLessThanOrEqual(held.robust!.expectedLossDb);
  });

  it("refuses what can't be asked", async () => {
    const values = { R1: [1, 2] };
    const ask = (robust: unknown, more: object = {}) => codeOf(() => chooseValues(box, { goal: exact, values, robust, ...more } as never));
    expect(await ask({ by: "yield" })).toBe("invalid-argument");
    expect(await ask({ by: "luck" })).toBe("invalid-argument");
    expect(await ask({ samples: 1 })).toBe("invalid-argument");
    expect(await ask({ samples: 1e9 })).toBe("invalid-argument");
    expect(await ask({ sample: 4 })).toBe("unknown-option");
    expect(await ask({ drivers: { dome: { levelDb: 1 } } })).toBe("unknown-option");
    expect(await ask({ drivers: { cone: { levelDb: -1 } } })).toBe("invalid-argument");
    expect(await ask({ byKind: { resistor: 7 } })).toBe("invalid-argument");
    expect(await ask({ largestLossDb: NaN })).toBe("invalid-argument");
    expect(await ask({ lots: [["R1", "R9"]] })).toBe("unknown-part");
    expect(await ask({ lots: [["R1"], ["R1"]] })).toBe("invalid-argument");
    expect(await ask({ lots: [["R1", "cone"]] })).toBe("invalid-argument");
    expect(await ask({ lots: "R1" })).toBe("invalid-argument");
    expect(await ask(3)).toBe("invalid-argument");
    expect(await ask({}, { shard: { index: 0, of: 2 } })).toBe("invalid-argument");
    expect(await codeOf(() => redesign(monitor(), { goal: aim, maxParts: 2, robust: { drivers: { dome: {} } } }))).toBe("unknown-option");
    const lots = async (own: unknown) => codeOf(() => redesign(monitor(), { goal: aim, maxParts: 2, robust: { lots: own } } as never));
    expect(await lots([["C1", "C2"]])).toBe("invalid-argument");
    expect(await lots([["woofer", "tweeter", "woofer"]])).toBe("invalid-argument");
    expect(await lots(7)).toBe("invalid-argument");
  });
});

describe("a redesign by drawn loudspeakers", () => {
  // Loose lines whose values lie where the best as drawn has them, and close ones beside them.
  const line = (kind: "inductor" | "capacitor" | "resistor", value: number, tolerance: number) => ({ kind, value, tolerance }) as never;
  const drawer = stock([
    ...[0.22, 0.33, 0.47, 0.68, 1, 1.5, 2.2].flatMap((x) => [line("inductor", x * 1e-3, 0.2), line("inductor", x * 1.03e-3, 0.02)]),
    ...[2.2, 3.3, 4.7, 6.8, 10, 15].flatMap((x) => [line("capacitor", x * 1e-6, 0.2), line("capacitor", x * 1.03e-6, 0.02)]),
    ...[1, 2.2, 4.7, 10, 22].flatMap((x) => [line("resistor", x, 0.05)]),
  ]);
  const asked = { goal: aim, stock: drawer, maxParts: 4 } as const;

  it("takes closer parts although they are worse as drawn, and has the better yield by an independent draw", async () => {
    const nominal = (await redesign(monitor(), asked)).front.at(-1)!;
    const robust = (await redesign(monitor(), { ...asked, robust: { drivers: told } })).front.at(-1)!;
    expect(nominal).not.toHaveProperty("robust");
    expect(robust.lossDb).toBeGreaterThan(nominal.lossDb);
    expect(robust.robust!.samples).toBe(64);
    expect(robust.proof).toContain("chosen by the loss to be expected");
    expect(robust.robust!.says).toBe(
      `64 loudspeakers drawn within the tolerances lie ${robust.robust!.expectedLossDb.toFixed(2)} dB from the goal (root mean square)`,
    );
    const [before, after] = [losses(nominal.network, 200, 5), losses(robust.network, 200, 5)];
    expect(rms(after)).toBeLessThan(0.5 * rms(before));
    expect(robust.robust!.expectedLossDb / rms(after)).toBeCloseTo(1, 1);
    const limit = robust.lossDb + 0.25;
    const byYield = (await redesign(monitor(), { ...asked, robust: { by: "yield", largestLossDb: limit, drivers: told } })).front.at(-1)!;
    const third = losses(byYield.network, 200, 5);
    expect(shareBelow(third, limit)).toBeGreaterThan(shareBelow(before, limit) + 0.05);
    expect(shareBelow(third, limit)).toBeGreaterThan(shareBelow(after, limit) - 0.05);
    expect(byYield.robust!.yield! - shareBelow(third, limit)).toBeLessThan(0.15);
    expect(byYield.proof).toContain("share of good ones");
    // What is printed: a column each, and once what they hold; what is proven of several alike is said once.
    const printed = (...front: (typeof robust)[]) => redesignText({ front, topologies: 1, unfinished: 0, complete: true }, { width: 400 });
    const [plain, drawnText, both] = [printed(nominal), printed(robust, robust), printed(nominal, byYield)];
    expect(plain).not.toMatch(/Drawn|Good/);
    expect(drawnText).toContain(`  ${robust.lossDb.toFixed(2)}       ${robust.robust!.expectedLossDb.toFixed(2)}  `);
    expect(drawnText).not.toContain("Good");
    expect(drawnText.split('"Drawn" is the loss to be expected: root mean square over 64 loudspeakers')).toHaveLength(2);
    expect(drawnText.split(robust.proof)).toHaveLength(2);
    expect(both).toMatch(new RegExp(`–.*–[^]* ${Number((100 * byYield.robust!.yield!).toPrecision(2))} % `));
    expect(() => printed({ ...robust, robust: null as never })).toThrowError(/"found\.front\[0\]\.robust" must be what drawn/);
    expect(() => printed({ ...robust, robust: { ...robust.robust!, samples: NaN } })).toThrowError(/robust\.samples/);
  });

  it("works for a loss of third-octave powers, too, and gives the same again", async () => {
    const third = {
      goal: { band: { from: 500, to: 8000 }, limits: "stated" },
      stock: drawer,
      maxParts: 2,
      robust: { samples: 16 },
    } as const;
    const [once, again] = [await redesign(monitor(), third), await redesign(monitor(), third)];
    expect(JSON.stringify(once)).toBe(JSON.stringify(again));
    expect(once.front[0]!.robust!.expectedLossDb).toBeGreaterThan(once.front[0]!.lossDb);
  });
});
