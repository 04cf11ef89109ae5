// Fits against closed forms and against networks whose values are known. Textbook values: |H|² of Butterworth's filters into a resistance, by the products of their poles; no code of the library makes them.
import { capacitor, inductor, logGrid, loudspeaker, network, resistor, solve, type Entries } from "dividing-network";
import { goal, lossOf, type GoalOptions } from "dividing-network/assessment";
import { fitValues } from "dividing-network/design";
import { predict } from "dividing-network/loudspeaker";
import { levelDb } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { drawn, monitor, numbers } from "../support/two-way";
import { flatDriver } from "../support/flat-driver";

const grid = logGrid(100, 10_000, 41);
const flat = () => [flatDriver(grid)];
const one = (entries: Entries) =>
  loudspeaker({ network: { ...entries, cone: [resistor(8), "d", "gnd"] } as Entries, drivers: [{ name: "cone", pressures: flat() }] });
const curveOf = (level: (x: number) => number): GoalOptions => ({
  frequencies: grid,
  curve: { frequencies: grid, levelDb: grid.map((f) => level(f / 1000)) },
  limits: "stated",
});
const valueOf = ({ values }: { readonly values: readonly { readonly part: string; readonly value: number }[] }, part: string) =>
  values.find((each) => each.part === part)!.value;
const w = 2 * Math.PI * 1000;

describe("fitValues", () => {
  it("gives Butterworth's values for flat resistive drivers, of two to four elements, from a guess two and five times off", async () => {
    // Load 8 Ω on an ideal source: g of the singly terminated ladder, 3.2.1 of any textbook: √2, 1/√2; 3/2, 4/3, 1/2; 1.530734, 1.577161, 1.082392, 0.382683.
    const ladders = [
      [Math.SQRT2, Math.SQRT1_2],
      [3 / 2, 4 / 3, 1 / 2],
      [1.53073373, 1.57716102, 1.0823922, 0.38268343],
    ];
    for (const g of ladders) {
      const n = g.length;
      const nodes = ["in", "p", "d"];
      const low = Object.fromEntries(
        g.map((value, i) => {
          const at = i < 2 && n > 2 ? "p" : "d";
          return i % 2 === 0
            ? [`L${i}`, [inductor((2 * value * 8) / w), n <= 2 || i === 0 ? "in" : nodes[1]!, i === 0 && n > 2 ? "p" : "d"]]
            : [`C${i}`, [capacitor(value / 8 / w / 5), at, "gnd"]];
        }),
      ) as unknown as Entries;
      const fitted = await fitValues(one(low), { goal: curveOf((x) => -10 * Math.log10(1 + x ** (2 * n))) });
      expect(fitted.lossDb).toBeLessThan(1e-7);
      g.forEach((value, i) =>
        expect(
          Math.abs(valueOf(fitted, `${i % 2 === 0 ? "L" : "C"}${i}`) / (i % 2 === 0 ? (value * 8) / w : value / 8 / w) - 1),
        ).toBeLessThan(1e-6),
      );
    }
    const high = await fitValues(one({ C1: [capacitor(5e-6), "in", "d"], L1: [inductor(9e-3), "d", "gnd"] } as unknown as Entries), {
      goal: curveOf((x) => -10 * Math.log10(1 + x ** -4)),
    });
    expect(valueOf(high, "C1") / (1 / (Math.SQRT2 * 8 * w)) - 1).toBeCloseTo(0, 6);
    expect(valueOf(high, "L1") / ((8 * Math.SQRT2) / w) - 1).toBeCloseTo(0, 6);
  });

  it("finds a network again from the response that it had on modelled drivers, at loss 0", { timeout: 60_000 }, async () => {
    const frequencies = logGrid(300, 12_000, 48);
    for (let seed = 1; seed <= 6; seed++) {
      const next = numbers(seed);
      const vary = (value: number) => value * 3 ** (2 * next() - 1);
      const true_ = {
        ...drawn,
        L1: [inductor(vary(0.68e-3), { dcr: 0.25 }), "in", "w"],
        C1: [capacitor(vary(10e-6), { esr: 0.02 }), "z", "gnd"],
        C2: [capacitor(vary(5.6e-6)), "a", "t"],
        L2: [inductor(vary(0.33e-3), { dcr: 0.2 }), "t", "gnd"],
        R2: [resistor(vary(2.2)), "in", "a"],
      } as unknown as Entries;
      const [place] = predict(monitor(true_), { frequencies, places: [{ distance: 1, azimuth: 0, elevation: 0 }] }).places;
      const level = levelDb(place!.sum, { reference: 20e-6 });
      const fitted = await fitValues(monitor(), {
        goal: { frequencies, levelDb: 0, curve: { frequencies, levelDb: level }, limits: "stated" },
        vary: ["L1", "C1", "C2", "L2", "R2"],
        seed,
      });
      expect(fitted.lossDb, `seed ${seed}`).toBeLessThan(1e-6);
      for (const { part, parameter, value } of fitted.values)
        expect(value / (true_[part]![0] as unknown as Record<string, number>)[parameter]! - 1, `seed ${seed} ${part}`).toBeCloseTo(0, 5);
    }
  });

  it("isn't bettered by any single change of its values, by third octaves and at three places", async () => {
    const aim = goal({ places: [{ weight: 2 }, { azimuth: 20 }, { azimuth: -20 }], limits: "stated" });
    const box = monitor();
    const fitted = await fitValues(box, { goal: aim, coilResistance: (l) => 350 * l, polarity: { tweeter: "either" }, starts: 8 });
    const again = lossOf({ ...box, network: fitted.network }, aim).lossDb;
    expect(fitted.lossDb).toBe(again);
    expect(fitted.lossDb).toBeLessThan(lossOf(box, aim).lossDb);
    for (const { part, parameter, value, bound } of fitted.values) {
      for (const by of [0.9, 0.97, 1.03, 1.1]) {
        if ((bound === "from" && by < 1) || (bound === "to" && by > 1)) continue;
        const [before, ...nodes] = fitted.network[part]!;
        const moved = { ...before, [parameter]: value * by, ...(parameter === "inductance" ? { dcr: 350 * value * by } : {}) };
        // The fit's own sum differs from the loss by some 1e-3 dB.
        expect(
          lossOf({ ...box, network: { ...fitted.network, [part]: [moved, ...nodes] } as unknown as Entries }, aim).lossDb,
          `${part} × ${by}`,
        ).toBeGreaterThan(fitted.lossDb - 1e-3);
      }
    }
    for (const [part] of Object.values(fitted.network))
      if (part.kind === "inductor") expect(part.dcr).toBeCloseTo(350 * part.inductance, 12);
  });

  it("keeps the limits of the goal, and stands on those that cost it something", async () => {
    const box = monitor();
    const frequencies = logGrid(400, 10_000, 20);
    const few = { vary: ["L1", "C1", "C2", "L2", "R2"], starts: 8 } as never as { readonly starts: number };
    const loose = await fitValues(box, { goal: { frequencies, limits: "stated" }, ...few });
    const least = (entries: Entries) => solve(network<Entries>(entries), logGrid(20, 20_000, 481)).impedance;
    const sizeOf = (entries: Entries) => {
      const { re, im } = least(entries);
      return Math.min(...re.map((value, i) => Math.hypot(value, im[i]!)));
    };
    const floor = sizeOf(loose.network) * 1.3;
    const tight = await fitValues(box, { goal: { frequencies, limits: "stated", amplifier: { smallestImpedance: floor } }, ...few });
    expect(tight.lossDb).toBeGreaterThan(loose.lossDb);
    expect(sizeOf(tight.network)).toBeGreaterThan(floor * (1 - 1e-3));
    expect(sizeOf(tight.network)).toBeLessThan(floor * 1.01);
    const level = (entries: Entries) => lossOf({ ...box, network: network<Entries>(entries) }, { frequencies, limits: "stated" }).levelDb;
    const loud = await fitValues(box, { goal: { frequencies, limits: "stated", leastLevelDb: level(loose.network) + 1.5 }, ...few });
    expect(level(loud.network)).toBeGreaterThanOrEqual(level(loose.network) + 1.5 - 1e-9);
    expect(level(loud.network)).toBeLessThan(level(loose.network) + 1.51);
    expect(loud.lossDb).toBeGreaterThan(loose.lossDb);
  });

  it("is the same at every call, ends on stated bounds, and says which", async () => {
    const box = monitor();
    const ask = {
      goal: { frequencies: logGrid(400, 10_000, 16), limits: "stated" as const },
      vary: { L1: { from: "0.9 mH", to: "1 mH" }, C2: { from: 1e-6, to: 2e-6 } },
      starts: 4,
    } as const;
    const [once, twice] = [await fitValues(box, ask as never), await fitValues(box, ask as never)];
    expect(once).toEqual(twice);
    for (const { value, bound, part } of once.values) {
      const [from, to] = part === "L1" ? [0.9e-3, 1e-3] : [1e-6, 2e-6];
      expect(value).toBeGreaterThanOrEqual(from * (1 - 1e-12));
      expect(value).toBeLessThanOrEqual(to * (1 + 1e-12));
      if (bound !== undefined) expect(value).toBeCloseTo(bound === "from" ? from : to, 12);
    }
    expect(once.values.some(({ bound }) => bound !== undefined)).toBe(true);
  });

  it("refuses what it can't fit, by name", async () => {
    const box = monitor();
    const aim = { frequencies: logGrid(400, 10_000, 12), limits: "stated" as const };
    const codeOf = async (options: object) =>
      fitValues(box, { goal: aim, starts: 2, ...options }).then(
        () => "none",
        (error: unknown) => (error as { code: string }).code,
      );
    expect(await codeOf({ vary: ["L9"] })).toBe("unknown-part");
    expect(await codeOf({ vary: ["woofer"] })).toBe("invalid-argument");
    expect(
      await fitValues(one({ R1: [resistor(1), "in", "d"] } as unknown as Entries), { goal: aim, vary: ["cone"] }).catch(
        (error: unknown) => (error as { code: string }).code,
      ),
    ).toBe("invalid-argument");
    expect(await codeOf({ vary: [] })).toBe("invalid-argument");
    expect(await codeOf({ vary: ["L1", "L1"] })).toBe("invalid-argument");
    expect(await codeOf({ vary: { L1: { from: "2 mH", to: "1 mH" } } })).toBe("invalid-argument");
    expect(await codeOf({ vary: { R1: { coilResistance: () => 1 } } })).toBe("invalid-argument");
    expect(await codeOf({ coilResistance: () => -1 })).toBe("invalid-argument");
    expect(await codeOf({ coilResistance: 3 })).toBe("invalid-argument");
    expect(await codeOf({ starts: 0 })).toBe("invalid-argument");
    expect(await codeOf({ goal: { ...aim, amplifier: { smallestImpedance: 200 } }, vary: ["C2"] })).toBe("no-feasible-network");
    expect(await codeOf({ goal: { ...aim, leastLevelDb: 150 }, vary: ["C2"] })).toBe("no-feasible-network");
  });
});
