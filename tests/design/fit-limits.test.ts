// Tests src/design/: fit-damping.ts, fit-hump.ts, fit-sums.ts, tightened-limits.ts
// Fits that stand on a limit, each judged by assess, and held against the exact search over values of the same drawing: where that finds a network, a fit finds one that is no worse. The drivers are invented.
import { inductor, logGrid, loudspeaker, resistor, capacitor, type Entries, type Loudspeaker } from "dividing-network";
import { assess, goal, type GoalOptions } from "dividing-network/assessment";
import { chooseValues, fitValues } from "dividing-network/design";
import { describe, expect, it } from "vitest";
import { flatDriver } from "../support/flat-driver";
import { monitor } from "../support/two-way";

const frequencies = logGrid(400, 10_000, 12);
const steps = (value: number) => [0.25, 0.5, 1, 2, 4].map((by) => by * value);

/** A woofer of 8 Ω behind a capacitor with a coil across, which peak below the band. */
const peaking = loudspeaker({
  network: { C9: [capacitor(90e-6), "in", "w"], L9: [inductor(8e-3), "w", "gnd"], woofer: [resistor(8), "w", "gnd"] } as unknown as Entries,
  drivers: [{ name: "woofer", role: "woofer", pressures: [flatDriver(logGrid(50, 16_000, 200))] }],
}) as unknown as Loudspeaker;

const two = monitor();
const seen = (own: Entries, aim: GoalOptions) =>
  assess({ ...two, network: own } as unknown as Loudspeaker, { ratedImpedance: 6, goal: aim });

describe("a fit under a limit", () => {
  it("of what lies outside the judged band stands on it, for stated frequencies and third octaves", { timeout: 120_000 }, async () => {
    // A target that rises towards the band's lower end is met best by a peak below it.
    const curve = { frequencies: [300, 600, 10_000], levelDb: [6, 0, 0] };
    for (const more of [{ frequencies: logGrid(300, 9000, 20) }, {}]) {
      const aim = (largestHumpDb: number): GoalOptions => ({ ...more, curve, limits: "stated", largestHumpDb });
      const above = (own: Entries, limit: number) =>
        assess({ ...peaking, network: own } as unknown as Loudspeaker, { ratedImpedance: 8, goal: aim(limit) }).quality.outsideBand!;
      const free = await fitValues(peaking, { goal: { ...aim(40), limits: "stated" }, starts: 6 });
      const { aboveDb, insideDb } = above(free.network, 40);
      const limit = Math.max(insideDb, 0) + 0.3 * (aboveDb - Math.max(insideDb, 0));
      expect(aboveDb).toBeGreaterThan(limit + 0.2);
      const held = await fitValues(peaking, { goal: aim(limit), starts: 6 });
      const kept = above(held.network, limit);
      expect(kept.aboveDb).toBeLessThanOrEqual(Math.max(limit, kept.insideDb) + 1e-6);
      expect(kept.aboveDb).toBeGreaterThan(limit - 0.1);
      expect(held.lossDb).toBeGreaterThan(free.lossDb);
    }
  });

  it("of what the woofer sees stands on it", async () => {
    const few = {
      vary: { L1: { from: 1e-5, to: 3e-3 }, C1: {}, C2: {}, L2: {}, R2: {} },
      coilResistance: (l: number) => 800 * l,
      starts: 6,
    } as const;
    const aim = (more: GoalOptions): GoalOptions => ({ frequencies, limits: "stated", ...more });
    const free = await fitValues(two, { goal: aim({}), ...few } as never);
    const { sourceResistance } = seen(free.network, aim({})).bass[0]!;
    const largest = 0.6 * sourceResistance;
    const tight = aim({ damping: { largestSourceResistance: largest } });
    const held = await fitValues(two, { goal: tight, ...few } as never);
    const kept = seen(held.network, tight).bass[0]!.sourceResistance;
    expect(kept).toBeLessThanOrEqual(largest * (1 + 1e-6));
    expect(kept).toBeGreaterThan(0.98 * largest);
    expect(held.lossDb).toBeGreaterThan(free.lossDb);
  });

  it.each<[string, GoalOptions]>([
    ["|Z|, which dips between the points", { amplifier: { smallestImpedance: 4.9 }, limits: "stated" }],
    ["every default", { amplifier: { smallestImpedance: 4.4 } }],
  ])("of %s is found where the exact search finds one", { timeout: 180_000 }, async (_, more) => {
    const aim = goal({ frequencies, ...more });
    const values = { L1: steps(0.68e-3), C2: steps(5.6e-6), L2: steps(0.33e-3), R2: [1, 2.2, 4.7], C1: [5e-6, 10e-6, 20e-6] };
    const chosen = await chooseValues(two, { goal: aim, values, polarity: { tweeter: "either" } } as never);
    const vary = Object.fromEntries(Object.entries(values).map(([name, own]) => [name, { from: own[0]!, to: own[own.length - 1]! }]));
    const fitted = await fitValues(two, { goal: aim, vary, polarity: { tweeter: "either" }, starts: 4 } as never);
    expect(fitted.lossDb).toBeLessThanOrEqual(chosen.lossDb + 1e-9);
    // By assess, whose default of |Z| is the rated impedance's: here that of the goal.
    const { load, quality } = seen(fitted.network, aim);
    expect(load.minimum).toBeGreaterThanOrEqual(aim.amplifier.smallestImpedance! * (1 - 1e-9));
    if (aim.limits === "default")
      expect(quality.outsideBand!.aboveDb).toBeLessThanOrEqual(Math.max(3, quality.outsideBand!.insideDb) + 1e-6);
  });
});
