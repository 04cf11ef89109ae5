// What a redesign hands over of each network: all that assess says of it, and what each of its parts does, both looked at again from outside. The drivers are invented.
import { logGrid, loudspeaker, network, resistor, type Entries, type Loudspeaker } from "dividing-network";
import { assess, compare, goal, lossOf } from "dividing-network/assessment";
import { chooseValues, redesign } from "dividing-network/design";
import { redesignText } from "dividing-network/report";
import { describe, expect, it } from "vitest";
import { cone, dome, drawn, monitor } from "../support/two-way";

const aim = goal({ frequencies: logGrid(500, 10_000, 9), largestHumpDb: 12, drivers: { tweeter: 6 } });

describe("a network of the front", () => {
  it("comes with its assessment, by the load that was kept, ready to be compared with the loudspeaker as found", async () => {
    const box = monitor();
    for (const ratedImpedance of [undefined, 6, "6 Ω"] as const) {
      const { front } = await redesign(box, { goal: aim, series: "E3", maxParts: 3, ratedImpedance });
      expect(front.length).toBeGreaterThan(0);
      for (const { network: own, assessment } of front) {
        const { goal: judged, ratedImpedance: rated } = assessment!;
        expect(assessment!.load.minimum).toBeGreaterThanOrEqual(0.8 * rated * (1 - 1e-6));
        const again = assess({ ...box, network: own } as Loudspeaker, { ratedImpedance: rated, goal: judged });
        expect(again.quality).toEqual(assessment!.quality);
        expect(again.load.minimum).toBe(assessment!.load.minimum);
        const { verdict } = compare(assess(box, { ratedImpedance: rated, goal: judged }), assessment!);
        expect(verdict).toEqual(compare(assess(box, { ratedImpedance: rated, goal: judged }), again).verdict);
        expect(verdict.overall).not.toBe("not fit to be connected");
      }
      if (ratedImpedance !== undefined) expect(front[0]!.assessment!.ratedImpedance).toBe(6);
    }
  });

  it("says so in words what each part does, as the loss without it", async () => {
    const box = monitor();
    const found = await redesign(box, { goal: aim, series: "E3", maxParts: 3 });
    const text = redesignText(found, { width: 400 });
    for (const { network: own, parts, lossDb, lossWithoutDb } of found.front) {
      const losses = Object.keys(lossWithoutDb).map((name) => {
        const [part, a, b] = own[name]!;
        const rest: Record<string, Entries[string]> = { ...own };
        delete rest[name];
        const without: Entries[] = [{ ...own, [name]: [resistor(0), a, b] } as unknown as Entries, rest as Entries];
        const each = without.map((entries) => {
          try {
            return lossOf({ ...box, network: network<Entries>(entries) } as Loudspeaker, aim).lossDb;
          } catch {
            return Infinity;
          }
        });
        expect(
          each.some((loss) => Math.abs(loss - lossWithoutDb[name]!) < 1e-9),
          `${name} ${part.kind}`,
        ).toBe(true);
        return `${name} ${lossWithoutDb[name]!.toFixed(2)} dB`;
      });
      expect(text).toContain(`${parts} parts, ${lossDb.toFixed(2)} dB; without one of them: ${losses.join(", ")}.`);
    }
  });

  it("has no assessment where nothing was measured on the axis", async () => {
    const off = loudspeaker({
      network: drawn,
      drivers: [
        { name: "woofer", role: "woofer", pressures: [cone[1]!] },
        { name: "tweeter", role: "tweeter", pressures: [dome[1]!] },
      ],
    }) as unknown as Loudspeaker;
    const { front } = await redesign(off, {
      goal: { frequencies: aim.frequencies, places: [{ azimuth: 20 }], limits: "stated" },
      series: "E3",
      maxParts: 2,
    });
    expect(front[0]!.lossDb).toBeGreaterThan(0);
    expect(front[0]).not.toHaveProperty("assessment");
  });

  it("is the same for a rated impedance with its unit, in chooseValues too", async () => {
    const ask = (ratedImpedance: number | string) =>
      chooseValues(monitor(drawn), { goal: aim, values: { L1: [0.5e-3, 0.7e-3] }, ratedImpedance } as never);
    expect(await ask("4 Ω")).toEqual(await ask(4));
    await expect(ask("4 mH")).rejects.toMatchObject({ code: "invalid-quantity" });
  });
});
