// Tests src/design/: stock-pairs.ts, stock-supply.ts
// Two parts of a stock in the place of one: ground truth from a network that only pairs make, and enumeration written here. No published source: drivers and drawers are invented.
import { describe, expect, it } from "vitest";
import { levelDb, logGrid, predict, type Entries, type Entry, type Loudspeaker } from "dividing-network";
import { lossOf } from "dividing-network/assessment";
import { redesign } from "dividing-network/design";
import { loudspeaker } from "dividing-network/loudspeaker";
import { capacitor, inductor, resistor, stock, type BoughtPart, type StockLine } from "dividing-network/parts";
import { buildSheet, buildSheetText, redesignText } from "dividing-network/report";
import { flat } from "../support/synthetic";
import { drawn, monitor } from "../support/two-way";

const box = (network: Entries): Loudspeaker =>
  loudspeaker({
    network,
    drivers: [
      { name: "cone", role: "woofer", pressures: flat },
      { name: "dome", role: "tweeter", pressures: flat },
    ],
  } as never);
const network = (l: BoughtPart, c: BoughtPart): Entries => ({
  L1: [l, "in", "w"],
  cone: [resistor(6), "w", "gnd"],
  C1: [c, "in", "t"],
  dome: [resistor(8), "gnd", "t"],
});
const coil = (value: number, count: number, price: number): StockLine => ({ kind: "inductor", value, dcr: 400 * value, count, price });
const condenser = (value: number, count: number, price: number): StockLine => ({
  kind: "capacitor",
  value,
  dissipationFactor: 0.002,
  count,
  price,
});

describe("two parts of a stock in the place of one", () => {
  it("gives back a network that only pairs make, at no loss, with what is taken and what it costs", async () => {
    const drawer = stock([
      coil(0.22e-3, 2, 3),
      coil(0.47e-3, 2, 4),
      coil(1.5e-3, 2, 9),
      condenser(2.2e-6, 2, 2),
      condenser(4.7e-6, 2, 3),
      condenser(22e-6, 2, 6),
    ]);
    const truth = box(network(inductor(0.69e-3, { dcr: 400 * 0.69e-3 }), capacitor(6.9e-6, { dissipationFactor: 0.002 })));
    const frequencies = logGrid(300, 10_000, 15);
    const [heard] = predict(truth, { places: [{ distance: 1 }], frequencies, voltage: 2.83 }).places;
    const goal = { frequencies, curve: { frequencies, levelDb: levelDb(heard!.sum) }, limits: "stated" } as const;
    const single = await redesign(truth, { goal, stock: drawer, maxParts: 2 });
    expect(single.front[0]!.lossDb).toBeGreaterThan(0.05);
    expect(single.front[0]).not.toHaveProperty("combined");
    const { front } = await redesign(truth, { goal, stock: drawer, maxParts: 2, mostPieces: 2, units: 2 });
    const best = front[0]!;
    expect(best.lossDb).toBeLessThan(1e-3);
    expect(best.taken).toEqual({});
    expect(best.price).toBe(3 + 4 + 2 + 3);
    const { L1, C1 } = best.combined!;
    expect([L1!.says, C1!.says]).toEqual(["0.22 mH and 0.47 mH in series", "2.2 µF and 4.7 µF in parallel"]);
    expect(L1!.parts.map(({ part }) => (part as { inductance: number }).inductance)).toEqual([0.22e-3, 0.47e-3]);
    expect(L1!.parts.every((line) => drawer.parts.includes(line))).toBe(true);
    const built = (name: string) => best.network[name]![0] as unknown as Record<string, number>;
    expect(built("L1")["inductance"]).toBeCloseTo(0.69e-3, 12);
    expect(built("L1")["dcr"]).toBeCloseTo(400 * 0.69e-3, 9);
    expect(built("C1")["capacitance"]).toBeCloseTo(6.9e-6, 15);
    expect(built("C1")["dissipationFactor"]).toBeCloseTo(0.002, 6);
    expect(redesignText({ front, topologies: 1, unfinished: 0, complete: true }, { width: 200 })).toContain(`(${C1!.says})`);
    // Who builds reads it from the sheet: the shopping list finds the same pieces in the stock.
    const sheet = buildSheetText(buildSheet({ ...truth, network: best.network }, { stock: drawer })).replace(/\s+/g, " ");
    expect(sheet).toContain("L1 is made of 0.22 mH and 0.47 mH in series");
    expect(sheet).toContain("C1 is made of 2.2 µF and 4.7 µF in parallel");
    // For three loudspeakers there is too little of every line.
    const three = { goal, stock: drawer, maxParts: 2, mostPieces: 2, units: 3 } as const;
    await expect(redesign(truth, three)).rejects.toMatchObject({ code: "not-in-stock" });
  });

  it("is the best of all that a small drawer makes, no line taken more often than it is there", async () => {
    const values = { l: [0.15e-3, 0.33e-3, 0.82e-3], c: [1.8e-6, 3.3e-6, 8.2e-6] };
    const drawer = stock([
      ...values.l.map((value, i) => coil(value, i === 0 ? 2 : 1, 2 + i)),
      ...values.c.map((value, i) => condenser(value, i === 1 ? 2 : 1, 1 + i)),
      { kind: "resistor", value: 3.3, price: 1, count: 1 },
      { kind: "resistor", value: 4.7, price: 1, count: 1 },
    ]);
    const aim = { frequencies: logGrid(500, 10_000, 12), limits: "stated" } as const;
    const { front } = await redesign(monitor(), { goal: aim, stock: drawer, maxParts: 3, mostPieces: 2 });
    const pairs = (own: readonly number[], twice: number) =>
      own.flatMap((a, i) => [
        { value: a, used: [i] },
        ...own.flatMap((b, j) => (j > i || (j === i && i === twice) ? [{ value: a + b, used: [i, j] }] : [])),
      ]);
    const member = front.find(({ topology }) => topology.startsWith("woofer: low-pass of 1; tweeter: high-pass of 1"))!;
    expect(member).toBeDefined();
    const turned = member.polarity["tweeter"] === "reversed";
    const padded = member.parts === 3;
    let [best, looked] = [Infinity, 0];
    for (const l of pairs(values.l, 0))
      for (const c of pairs(values.c, 1))
        for (const r of padded ? [3.3, 4.7, 8, (3.3 * 4.7) / 8] : [0]) {
          const entries = {
            L1: [inductor(l.value, { dcr: 400 * l.value }), "in", "w"],
            woofer: drawn.woofer,
            C1: [capacitor(c.value, { dissipationFactor: 0.002 }), "in", "a"],
            R1: [resistor(r), "a", "t"],
            tweeter: [drawn.tweeter[0], ...(turned ? ["gnd", "t"] : ["t", "gnd"])] as unknown as Entry,
          } as unknown as Entries;
          best = Math.min(best, lossOf({ ...monitor(), network: entries }, aim).lossDb);
          looked++;
        }
    expect(looked).toBeGreaterThan(40);
    expect(member.lossDb).toBeLessThanOrEqual(best + 1e-6);
    for (const one of front) {
      const taken = [...Object.values(one.taken), ...Object.values(one.combined ?? {}).flatMap(({ parts }) => parts)];
      expect(taken.length).toBeGreaterThanOrEqual(one.parts);
      for (const line of drawer.parts) expect(taken.filter((each) => each === line).length).toBeLessThanOrEqual(line.count!);
      expect(one.price).toBeCloseTo(
        taken.reduce((sum, { price }) => sum + price!, 0),
        9,
      );
    }
    expect(front.some(({ combined }) => combined !== undefined)).toBe(true);
    const single = await redesign(monitor(), { goal: aim, stock: drawer, maxParts: 3 });
    expect(front.at(-1)!.lossDb).toBeLessThanOrEqual(single.front.at(-1)!.lossDb);
  });

  it("goes with a stock alone, of at most two", async () => {
    const goal = { frequencies: logGrid(500, 10_000, 9), limits: "stated" } as const;
    await expect(redesign(monitor(), { goal, mostPieces: 2 })).rejects.toMatchObject({ code: "invalid-argument" });
    const drawer = stock([coil(0.47e-3, 2, 3), condenser(4.7e-6, 2, 3)]);
    for (const wrong of [0, 3, 1.5, "2"])
      await expect(redesign(monitor(), { goal, stock: drawer, mostPieces: wrong as never })).rejects.toMatchObject({
        code: "invalid-argument",
      });
  });
});
