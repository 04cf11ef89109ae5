// Tests src/design/: branch-pen.ts, combinations.ts, drawing-names.ts, drawing.ts, driver-groups.ts, series-connected.ts, usual-ways.ts
// Every drawing of a redesign is a network, with as many parts as it says, and what its words say of it can be heard. Impedances and limits of filters from circuit theory; no published source.
import { compile, loudspeaker, type Entries } from "dividing-network";
import { redesign } from "dividing-network/design";
import { describe, expect, it } from "vitest";
import { logGrid } from "dividing-network/numeric";
import { combinationsOf, variations } from "../../src/design/combinations";
import { drawingOf } from "../../src/design/drawing";
import { groupsOf } from "../../src/design/driver-groups";
import { partCount, type BranchTopology } from "../../src/design/topologies";
import { cone, dome, monitor, tweeter, woofer } from "../support/two-way";

const twins = () =>
  loudspeaker({
    network: { low: [woofer, "in", "gnd"], high: [woofer, "in", "gnd"], tweeter: [tweeter, "in", "gnd"] } as Entries,
    drivers: [
      { name: "low", role: "woofer", pressures: cone },
      { name: "high", role: "woofer", pressures: cone },
      { name: "tweeter", role: "tweeter", pressures: dome },
    ],
  });
const grid = logGrid(20, 40_000, 100);
const levels = (entries: Entries, part: string) => {
  const { re, im } = compile<Entries>(entries).sweep(grid).voltage(part);
  return re.map((value, i) => 20 * Math.log10(Math.hypot(value, im[i]!)));
};

describe("the drawings of a redesign", () => {
  it("are networks with the parts that they say, the usual ones and what is varied of each", () => {
    for (const box of [monitor(), twins()]) {
      const groups = groupsOf("test", box);
      const usual = combinationsOf(box, groups, 20);
      const varied = variations(
        box,
        groups,
        usual.map((each, i) => ({ ...each, lossDb: 1 / (1 + i) })),
        usual,
        20,
      );
      const again = variations(
        box,
        groups,
        varied.map((each, i) => ({ ...each, lossDb: 1 / (1 + i) })),
        [...usual, ...varied],
        20,
      );
      expect(varied.length).toBeGreaterThan(50);
      const words = new Set([...usual, ...varied, ...again].map(({ says }) => says));
      expect(words.size).toBe(usual.length + varied.length + again.length);
      for (const word of ["of 4", "trap across", "trap in series", "bridged by a capacitor", "before it", "connected in series"])
        expect(
          [...words].some((says) => says.includes(word)),
          word,
        ).toBe(true);
      expect([...words].some((says) => says.includes("drivers in series"))).toBe(box.drivers.length === 3);
      for (const { draw, parts, says } of [...usual, ...varied, ...again].filter((_, i) => i % 3 === 0)) {
        const { network, slots } = draw();
        expect(Object.keys(slots).length, says).toBe(parts);
        expect(Object.keys(network).length, says).toBe(parts + box.drivers.length);
        for (const { part } of box.drivers) expect(levels(network, part).every(Number.isFinite), says).toBe(true);
        for (const { from, to } of Object.values(slots)) expect(from).toBeLessThanOrEqual(to);
      }
    }
  });

  it("do what their words say", () => {
    const box = twins();
    const groups = groupsOf("test", box);
    const way = (more: Partial<BranchTopology>): BranchTopology => ({
      role: "woofer",
      highPass: 0,
      lowPass: 2,
      zobel: false,
      pad: "none",
      ...more,
    });
    const other: BranchTopology = { role: "tweeter", highPass: 2, lowPass: 0, zobel: false, pad: "none" };
    const draw = (more: Partial<BranchTopology>, upper: Partial<BranchTopology> = {}) =>
      drawingOf(box, groups, [way(more), { ...other, ...upper }]).network;
    expect(partCount(way({ bypass: true, trap: "across", pair: "rolled off" }))).toBe(7);
    const at = (values: Float64Array, frequency: number) => values[grid.findIndex((each) => each >= frequency)]!;
    // A fourth order falls by 24 dB an octave far above, a second by 12; behind a coil of its own the second driver has more.
    const steep = (entries: Entries, part = "low") => at(levels(entries, part), 20_000) - at(levels(entries, part), 39_000);
    expect(steep(draw({ lowPass: 4 })) - steep(draw({ lowPass: 2 }))).toBeGreaterThan(8);
    expect(at(levels(draw({ pair: "rolled off" }), "high"), 10_000)).toBeLessThan(
      at(levels(draw({ pair: "rolled off" }), "low"), 10_000) - 6,
    );
    expect(at(levels(draw({ pair: "rolled off" }), "high"), 20)).toBeCloseTo(at(levels(draw({ pair: "rolled off" }), "low"), 20), 0);
    // In series each of two alike has half of the voltage.
    expect(at(levels(draw({ pair: "in series" }), "low"), 20)).toBeCloseTo(-6.02, 1);
    // What bridges the coil makes a notch, and lets through what lies far above it.
    const [bridged, plain] = [true, false].map((bypass) => levels(draw({ lowPass: 2, bypass }), "low")) as [Float64Array, Float64Array];
    expect(bridged.reduce((most, level, i) => Math.max(most, plain[i]! - level), 0)).toBeGreaterThan(6);
    expect(bridged.reduce((most, level, i) => Math.max(most, level - plain[i]!), 0)).toBeGreaterThan(6);
    const dip = (trap: "across" | "series") =>
      levels(draw({}, { trap }), "tweeter").reduce((most, level, i) => Math.max(most, levels(draw({}), "tweeter")[i]! - level), 0);
    expect(dip("across")).toBeGreaterThan(2);
    expect(dip("series")).toBeGreaterThan(1);
  });

  it("are varied where that brings more, and two woofers find their way", { timeout: 60_000 }, async () => {
    const { front, complete } = await redesign(twins(), {
      goal: { frequencies: logGrid(400, 10_000, 14), limits: "stated" },
      series: "E3",
      maxParts: 4,
    });
    expect(complete).toBe(true);
    for (const { network, parts } of front) expect(Object.keys(network)).toHaveLength(parts + 3);
    front.forEach(({ lossDb }, i) => i > 0 && expect(lossDb).toBeLessThan(front[i - 1]!.lossDb));
  });
});
