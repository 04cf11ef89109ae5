// Tests src/design/: misses.ts, sparing-check.ts
// A limit means one thing: what the search holds networks to is what `assess` gives. Random networks, no published source.
import { describe, expect, it } from "vitest";
import { capacitor, driverImpedance, inductor, logGrid, network, resistor, solve, valueAt, type Entries } from "dividing-network";
import { assess, goal } from "dividing-network/assessment";
import { chooseValues } from "dividing-network/design";
import { monitor, numbers, tweeter, woofer } from "../support/two-way";

const drawn = (c: number, l: number, r: number): Entries =>
  ({
    L1: [inductor(0.5e-3, { dcr: 0.2 }), "in", "w"],
    woofer: [woofer, "w", "gnd"],
    C1: [capacitor(c), "in", "a"],
    L2: [inductor(l, { dcr: 0.2 }), "a", "gnd"],
    R1: [resistor(r), "a", "t"],
    tweeter: [tweeter, "t", "gnd"],
  }) as unknown as Entries;

/** Whether a search takes the network as drawn: it is the only one there is. */
const taken = (box: ReturnType<typeof monitor>, limits: object, name: string): Promise<true | string> =>
  chooseValues(box, {
    goal: { frequencies: logGrid(500, 12_000, 12), limits: "stated", ...limits },
    values: { [name]: [box.network[name as never]![0]] } as never,
  }).then(
    () => true as const,
    (error: unknown) => (error as { code: string }).code,
  );
/** A hundredth to either side of what assess gives. */
const either = async (box: ReturnType<typeof monitor>, name: string, value: number, limits: (limit: number) => object, least: boolean) => {
  for (const [factor, kept] of [
    [0.999, least],
    [1.001, !least],
  ] as const)
    expect(await taken(box, limits(value * factor), name), `limit ${value * factor}`).toBe(kept ? true : "no-feasible-network");
};
/** A series resonance at f with √(L/C) = X and some loss. */
const trap = (name: string, f: number, X: number, ohms: number, from: string): Entries =>
  ({
    [`L${name}`]: [inductor(X / (2 * Math.PI * f), { dcr: ohms }), from, `x${name}`],
    [`C${name}`]: [capacitor(1 / (2 * Math.PI * f * X)), `x${name}`, "gnd"],
  }) as unknown as Entries;

describe("the limits of the load", () => {
  it("rule out exactly what assess calls too low, also where a trap lies between two points of any grid", async () => {
    const next = numbers(5);
    for (let i = 0; i < 4; i++) {
      const own = { ...drawn(3e-6 * 5 ** next(), 0.3e-3, 2), ...trap("9", 100 * 50 ** next(), 200 * 100 ** next(), 0.2 + next(), "in") };
      const box = monitor(network<Entries>(own));
      const { load } = assess(box, {
        ratedImpedance: 4,
        goal: { amplifier: { smallestImpedance: 0.01, smallestPeakDissipationResistance: 0.01 } },
      }).quality;
      expect(load.minimum).toBeLessThan(2);
      await either(box, "C1", load.minimum, (limit) => ({ amplifier: { smallestImpedance: limit } }), true);
      await either(box, "C1", load.peakDissipation, (limit) => ({ amplifier: { smallestPeakDissipationResistance: limit } }), true);
    }
  });
});

describe("the limit of what the woofer sees", () => {
  it("rules out exactly what assess calls too much: at the resonance, and where some impedance isn't known there", async () => {
    const next = numbers(7);
    const grid = logGrid(200, 20_000, 200);
    const known = driverImpedance(solve({ t: [tweeter, "in", "gnd"] }, grid).impedance);
    for (const dome of [tweeter, known])
      for (const source of [undefined, 0.4]) {
        const own = {
          ...drawn(5e-6, 0.3e-3, 2),
          tweeter: [dome, "t", "gnd"],
          L1: [inductor(0.5e-3, { dcr: 0.2 + next() }), "in", "w"],
          C9: [capacitor(5e-6 + 40e-6 * next()), "w", "gnd"],
        } as unknown as Entries;
        const box = monitor(network<Entries>(own), source);
        const { sourceResistance, frequency } = assess(box, {
          ratedImpedance: 4,
          goal: { damping: { largestSourceResistance: 1 } },
        }).bass[0]!;
        expect(frequency).toBe(dome === tweeter ? 45 : 200);
        await either(box, "C1", sourceResistance, (limit) => ({ damping: { largestSourceResistance: limit } }), false);
      }
  });

  it("isn't left out without a word where nothing is known of the woofer", async () => {
    const grid = logGrid(400, 20_000, 200);
    const known = driverImpedance(solve({ t: [tweeter, "in", "gnd"] }, grid).impedance);
    const box = monitor(network<Entries>({ ...drawn(5e-6, 0.3e-3, 2), tweeter: [known, "t", "gnd"] } as unknown as Entries));
    expect(await taken(box, { damping: { largestSourceResistance: 9 } }, "C1")).toBe("no-resonance");
  });
});

describe("the tweeter's limit", () => {
  it("rules out exactly what assess calls unspared beside a narrow notch at the resonance, too", async () => {
    const next = numbers(3);
    for (let i = 0; i < 6; i++) {
      const own = {
        ...drawn(20e-6, 1e-3, 1),
        ...trap("9", 850 * (1 + 0.002 * (next() - 0.5)), 25 + 40 * next(), 0.2 + 0.3 * next(), "t"),
      };
      const box = monitor(network<Entries>(own));
      const { belowDb } = assess(box, { ratedImpedance: 4, goal: { frequencies: logGrid(500, 12_000, 12), drivers: { tweeter: 3 } } })
        .quality.spared[0]!;
      if (belowDb! > 0.1) await either(box, "C1", belowDb!, (limit) => ({ drivers: { tweeter: limit } }), true);
      // What the notch alone is worth is far more.
      const at = (f: number) =>
        20 * Math.log10(Math.hypot(...Object.values(valueAt(solve(own as never, [f]).voltage("tweeter" as never), f))));
      expect(at(3000) - at(850)).toBeGreaterThan(belowDb! + 3);
    }
  });

  it.each([undefined, { resistance: 0.5, inductance: 20e-6 }])(
    "rules out exactly what assess calls unspared, source %j",
    async (source) => {
      const next = numbers(11);
      for (let i = 0; i < 12; i++) {
        const own = drawn(2e-6 * 20 ** next(), 0.1e-3 * 20 ** next(), 0.5 * 10 ** next());
        const box = monitor(network<Entries>(own), source);
        const aim = goal({ frequencies: logGrid(500, 12_000, 12), limits: "stated" });
        const { quality } = assess(box, { goal: { ...aim, drivers: { tweeter: 3 } }, ratedImpedance: 4 });
        const { belowDb } = quality.spared[0]!;
        // A hundredth of a dB to either side of what assess gives, with this network as the only one there is.
        for (const [limit, kept] of [
          [belowDb! - 0.01, true],
          [belowDb! + 0.01, false],
        ] as const) {
          if (limit <= 0) continue;
          const found = await chooseValues(box, {
            goal: { frequencies: logGrid(500, 12_000, 12), limits: "stated", drivers: { tweeter: limit } },
            values: { R1: [own["R1"]![0] as ReturnType<typeof resistor>] } as never,
          }).then(
            () => true,
            (error: unknown) => (error as { code: string }).code,
          );
          expect(found).toBe(kept ? true : "no-feasible-network");
        }
      }
    },
  );
});
