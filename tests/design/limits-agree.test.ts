// Tests src/design/: misses.ts
// A limit means one thing: what the search holds networks to is what `assess` gives. Random networks, no published source.
import { describe, expect, it } from "vitest";
import { capacitor, inductor, logGrid, network, resistor, type Entries } from "dividing-network";
import { assess, goal } from "dividing-network/assessment";
import { chooseValues } from "dividing-network/design";
import { monitor, numbers, tweeter, woofer } from "./two-way";

const drawn = (c: number, l: number, r: number): Entries =>
  ({
    L1: [inductor(0.5e-3, { dcr: 0.2 }), "in", "w"],
    woofer: [woofer, "w", "gnd"],
    C1: [capacitor(c), "in", "a"],
    L2: [inductor(l, { dcr: 0.2 }), "a", "gnd"],
    R1: [resistor(r), "a", "t"],
    tweeter: [tweeter, "t", "gnd"],
  }) as unknown as Entries;

describe("the tweeter's limit", () => {
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
