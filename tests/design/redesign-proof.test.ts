// Tests src/report/: redesign-text.ts
// What a redesign says of its own networks, against counts and losses of networks drawn here. No published source: the drivers are invented.
import { inspect } from "node:util";
import { describe, expect, it } from "vitest";
import { capacitor, inductor, logGrid, network, type Entries } from "dividing-network";
import { lossOf, type GoalOptions } from "dividing-network/assessment";
import { redesign } from "dividing-network/design";
import { stock } from "dividing-network/parts";
import { preferredValues } from "dividing-network/quantity";
import { redesignText } from "dividing-network/report";
import { monitor, tweeter, woofer } from "../support/two-way";

const aim = { frequencies: logGrid(400, 12_000, 14), limits: "stated" } as const;
const steps = (series: "E3" | "E6", from: number, to: number) =>
  [-7, -6, -5, -4, -3, -2]
    .flatMap((decade) => preferredValues(series).map((step) => Number(`${step}e${decade}`)))
    .filter((value) => value >= from && value <= to);

/** How many networks there are of a coil and a capacitor, side by side, in either polarity, and how many of them are better than a loss. */
function ofAllTwoParts(goal: GoalOptions, lossDb: number): { readonly looked: number; readonly better: number } {
  let [looked, better] = [0, 0];
  for (const l of steps("E3", 6e-5, 3e-3))
    for (const c of steps("E3", 1.5e-6, 9e-5))
      for (const turned of [false, true]) {
        const parts = {
          L1: [inductor(l, { dcr: 0.35 * (l / 1e-3) ** 0.6 }), "in", "w"],
          C1: [capacitor(c, { dissipationFactor: 0.002 }), "in", "t"],
        };
        const drivers = { woofer: [woofer, "w", "gnd"], tweeter: turned ? [tweeter, "gnd", "t"] : [tweeter, "t", "gnd"] };
        looked++;
        if (lossOf(monitor(network<Entries>({ ...parts, ...drivers } as unknown as Entries)), goal).lossDb < lossDb - 1e-9) better++;
      }
  return { looked, better };
}

describe("what a redesign proves", () => {
  it("is the best of every network of two parts, which are counted", { timeout: 60_000 }, async () => {
    const { front } = await redesign(monitor(), { goal: aim, series: "E3", maxParts: 2 });
    const [one] = front;
    expect(front).toHaveLength(1);
    expect(one).toMatchObject({ proven: true, lowerBoundDb: one!.lossDb });
    // Side by side or one after the other, a coil and a capacitor each, and two polarities: the ranges are those of docs/design.md for drivers of these impedances.
    expect(one!.networks % 2).toBe(0);
    expect(one!.proof).toBe(`none of ${one!.networks} networks of up to 2 parts (2 topologies) is better`);
    const { looked, better } = ofAllTwoParts(aim, one!.lossDb);
    expect(looked).toBe(50);
    expect(better).toBe(0);
  });

  it("never lies above the loss, nor falls where more is looked through, and is 0 of third octaves", { timeout: 60_000 }, async () => {
    const { front } = await redesign(monitor(), { goal: aim, series: "E3", maxParts: 4 });
    expect(front.length).toBeGreaterThan(1);
    front.forEach(({ lossDb, lowerBoundDb, proven, networks }, index) => {
      expect(lowerBoundDb).toBeLessThanOrEqual(lossDb);
      expect(proven).toBe(lowerBoundDb >= lossDb - 1e-8);
      expect(lowerBoundDb).toBeGreaterThan(0);
      if (index > 0) expect(networks).toBeGreaterThan(front[index - 1]!.networks);
    });
    const thirds = await redesign(monitor(), { goal: { band: { from: 500, to: 9000 }, limits: "stated" }, series: "E3", maxParts: 2 });
    expect(thirds.front[0]).toMatchObject({ proven: false, lowerBoundDb: 0 });
    expect(thirds.front[0]!.proof).toContain("no proof");
  });

  it("is the best of every network of two parts by third octaves, too, where that is asked for", { timeout: 60_000 }, async () => {
    const thirds = { band: { from: 500, to: 9000 }, limits: "stated" } as const;
    const [{ front }, plain] = [
      await redesign(monitor(), { goal: thirds, series: "E3", maxParts: 3, prove: true }),
      await redesign(monitor(), { goal: thirds, series: "E3", maxParts: 3 }),
    ];
    const [one, two] = front;
    expect(one).toMatchObject({ proven: true, lowerBoundDb: one!.lossDb, parts: 2 });
    expect(two).toMatchObject({ proven: true, parts: 3 });
    expect(one!.proof).toBe(`none of ${one!.networks} networks of up to 2 parts (2 topologies) is better`);
    // By plain levels first it finds no better ones.
    plain.front.forEach(({ lossDb, parts }) => expect(lossDb).toBeGreaterThan(front.find((own) => own.parts === parts)!.lossDb - 1e-9));
    const { looked, better } = ofAllTwoParts(thirds, one!.lossDb);
    expect(looked).toBe(50);
    expect(better).toBe(0);
  });

  it("is refused of what is chosen by drawn loudspeakers", async () => {
    await expect(
      redesign(monitor(), { goal: { band: { from: 500, to: 9000 } }, maxParts: 2, prove: true, robust: {} }),
    ).rejects.toMatchObject({
      code: "invalid-argument",
      message: expect.stringMatching(/"prove" and "robust"/) as string,
    });
    await expect(redesign(monitor(), { goal: aim, maxParts: 2, prove: 1 as never })).rejects.toMatchObject({ code: "invalid-argument" });
  });

  it("says that values were thinned, and counts what a drawer makes", { timeout: 60_000 }, async () => {
    const fine = await redesign(monitor(), { goal: aim, series: "E24", maxParts: 3 });
    expect(fine.front[fine.front.length - 1]!.proof).toMatch(/values between those looked through/);
    const drawer = stock([
      { name: "a", part: inductor(0.33e-3, { dcr: 0.2 }), lossKnown: true, price: 9 },
      { name: "b", part: inductor(0.47e-3, { dcr: 0.9 }), lossKnown: true, price: 1 },
      { name: "c", part: capacitor(6.8e-6), lossKnown: true, price: 4 },
      { name: "d", part: capacitor(3.3e-6), lossKnown: true, price: 1 },
    ]);
    const { front } = await redesign(monitor(), { goal: aim, stock: drawer, maxParts: 2 });
    const least = Math.min(...front.map(({ lossDb }) => lossDb));
    for (const { lossDb, lowerBoundDb, proven, price, networks } of front) {
      expect(proven).toBe(lossDb === least);
      expect(lowerBoundDb).toBeCloseTo(least, 9);
      expect(price).toBeLessThanOrEqual(13);
      // Two coils, two capacitors, two polarities, side by side and in series.
      expect(networks).toBe(16);
    }
  });

  it("stands in the text of the command and in what the value shows of itself", async () => {
    const found = await redesign(monitor(), { goal: aim, series: "E3", maxParts: 2 });
    const text = redesignText(found, { width: 200 });
    expect(text).toContain(`2 parts: ${found.front[0]!.proof}.`);
    expect(inspect(found)).toContain(found.front[0]!.proof);
  });
});
