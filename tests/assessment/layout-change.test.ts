import { layoutChange, lossOf } from "dividing-network/assessment";
import { predict } from "dividing-network/loudspeaker";
import { coupling, couplingFromPlacement, inductor, capacitor, leastCoupling, resistor } from "dividing-network/parts";
import type { Entries } from "dividing-network/network";
import { levelDb } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { flat, measure, twoWayBox } from "../support/synthetic";

const network: Entries = {
  L1: [inductor(0.6e-3, { dcr: 0.2 }), "in", "w"],
  woofer: [resistor(8), "w", "gnd"],
  C1: [capacitor(5e-6), "in", "t"],
  L2: [inductor(0.4e-3, { dcr: 0.2 }), "t", "gnd"],
  tweeter: [resistor(8), "gnd", "t"],
};
const box = twoWayBox(network, flat, flat);
const winding = { turns: 150, meanRadius: 0.018, length: 0.018, depth: 0.012 };
type Axis = "x" | "y" | "z";
const at = (x: number, axis: Axis = "z", first: Axis = "z") => ({
  coils: { L1: { winding, place: { x: 0, y: 0, z: 0.02, axis: first } }, L2: { winding, place: { x, y: 0, z: 0.02, axis } } },
});
const frequencies = [500, 1000, 2000, 4000];

describe("what a layout of coils changes at the listener", () => {
  it("is nothing at right angles through the middle, whichever coil stands", () => {
    for (const layout of [at(0.06, "x"), at(0.06, "y"), at(0.06, "z", "y")]) {
      const { couplings, places, lossDb } = layoutChange(box, layout);
      expect(Math.abs(couplings[0]!.k)).toBeLessThan(1e-9);
      expect(Math.abs(places[0]!.largestDb)).toBeLessThan(1e-6);
      expect(lossDb.laidOut).toBeCloseTo(lossDb.uncoupled, 6);
    }
  });

  it("is what the network with that coupling gives, side by side and coaxial", () => {
    for (const [layout, place] of [
      [at(0.06), { x: 0.06, y: 0, z: 0 }],
      [at(0.06, "x", "x"), { x: 0, y: 0, z: 0.06 }],
    ] as const) {
      const { k } = couplingFromPlacement(winding, winding, place);
      const found = layoutChange(box, { ...layout, goal: { frequencies } });
      expect(found.couplings[0]!.k).toBeCloseTo(k, 9);
      const levels = (entries: Entries) =>
        levelDb(predict({ ...box, network: entries }, { frequencies, places: [{ distance: 1, azimuth: 0, elevation: 0 }] }).places[0]!.sum);
      const [with_, without] = [levels({ ...network, K: [coupling(k), "L1", "L2"] }), levels(network)];
      found.places[0]!.changeDb.forEach((change, i) => expect(change).toBeCloseTo(with_[i]! - without[i]!, 8));
      expect(Math.abs(found.places[0]!.largestDb)).toBeGreaterThan(0.01);
      expect(found.lossDb.laidOut).toBe(lossOf({ ...box, network: found.network }, { frequencies }).lossDb);
    }
  });

  it("falls with the third power of the distance", () => {
    const [near, far] = [0.2, 0.4].map((x) => Math.abs(layoutChange(box, { ...at(x), goal: { frequencies } }).places[0]!.largestDb));
    expect(near! / far!).toBeGreaterThan(7);
    expect(near! / far!).toBeLessThan(9.5);
  });

  it("is small for the places that leastCoupling finds, and says so in words", () => {
    const { places } = leastCoupling({ coils: [winding, winding], board: { width: 0.2, depth: 0.12 } });
    const {
      sentence,
      places: [axis],
    } = layoutChange(box, { coils: { L1: { winding, place: places[0]! }, L2: { winding, place: places[1]! } } });
    expect(Math.abs(axis!.largestDb)).toBeLessThan(0.01);
    expect(sentence).toContain("less than 0.01 dB");
    expect(layoutChange(box, at(0.06)).sentence).toMatch(/up to \d\.\d\d dB, at \d+ Hz/);
  });

  it("is looked at over the goal's band, each place by itself", () => {
    const side = measure(() => [0.05, 0.03], { azimuth: 20 });
    const wide = twoWayBox(network, [...flat, side], [...flat, side]);
    const found = layoutChange(wide, { ...at(0.06), goal: { band: { from: 500, to: 4000 }, places: [{}, { azimuth: 20 }] } });
    expect(found.frequencies[0]).toBeCloseTo(500, 9);
    expect(found.frequencies[found.frequencies.length - 1]).toBeCloseTo(4000, 9);
    expect(found.places.map(({ azimuth, elevation }) => [azimuth, elevation])).toEqual([[0, 0], [20, 0]]); // prettier-ignore
    for (const { changeDb, largestDb, frequency } of found.places) {
      expect(changeDb.length).toBe(found.frequencies.length);
      const sizes = Array.from(changeDb, Math.abs);
      expect(Math.abs(largestDb)).toBe(Math.max(...sizes));
      expect(frequency).toBe(found.frequencies[sizes.indexOf(Math.max(...sizes))]);
    }
    const largest = Math.max(...found.places.map(({ largestDb }) => Math.abs(largestDb)));
    expect(found.sentence).toContain(`up to ${largest.toFixed(2)} dB`);
  });

  it("names the pair that couples most, and holds each pair of three", () => {
    const three: Entries = { ...network, L3: [inductor(0.2e-3), "w", "gnd"] };
    const place = (x: number, y: number) => ({ winding, place: { x, y, z: 0.02, axis: "z" as const } });
    const {
      couplings,
      sentence,
      network: laidOut,
    } = layoutChange(twoWayBox(three, flat, flat), { coils: { L1: place(0, 0), L2: place(0.2, 0), L3: place(0.26, 0) } });
    expect(couplings.map(({ coils }) => coils.join())).toEqual(["L1,L2", "L1,L3", "L2,L3"]);
    const k = Math.abs(couplingFromPlacement(winding, winding, { x: 0.06, y: 0, z: 0 }).k);
    expect(sentence).toContain(`L2 and L3 couple most, by ${(100 * k).toFixed(2)} %`);
    expect(Object.keys(laidOut).slice(-3)).toEqual(["K L1 L2", "K L1 L3", "K L2 L3"]);
  });

  it("leaves out couplings of exactly nothing, and finds a free name for the others", () => {
    const taken: Entries = { ...network, "K L1 L2": [resistor(50), "w", "gnd"] };
    const coupledNames = (layout: ReturnType<typeof at>) =>
      Object.keys(layoutChange(twoWayBox(taken, flat, flat), layout).network).slice(6);
    expect(coupledNames(at(0.06))).toEqual(["K L1 L2'"]);
    const { couplings, network: laidOut } = layoutChange(box, at(0.06, "x"));
    expect("K L1 L2" in laidOut).toBe(couplings[0]!.k !== 0);
  });

  it("takes twenty coils at most, and places within 100 m", () => {
    const many = (count: number) => {
      const entries: Record<string, unknown> = { ...network };
      const coils: Record<string, object> = {};
      for (let i = 0; i < count; i++) {
        entries[`X${i}`] = [inductor(1e-3), "w", "gnd"];
        coils[`X${i}`] = { winding, place: { x: 0.2 * i, y: 0, z: 0, axis: "z" } };
      }
      return layoutChange(twoWayBox(entries as Entries, flat, flat), { coils: coils as never, goal: { frequencies: [1000, 2000] } });
    };
    expect(many(20).couplings).toHaveLength(190);
    expect(() => many(21)).toThrow(/must place two to twenty coils, got 21/);
    const far = (x: number) => () => layoutChange(box, at(x));
    expect(far(100)).not.toThrow();
    expect(far(101)).toThrow(/coils\.L2\.place\.x.*100 m/);
    expect(() => layoutChange(box, { coils: { ...at(1).coils, toString: at(2).coils.L1 } })).toThrow(
      expect.objectContaining({ code: "unknown-part" }) as Error,
    );
  });

  it("refuses coils that aren't there, that overlap, and one alone", () => {
    const refused = (options: object, code: string) =>
      expect(() => layoutChange(box, options as never)).toThrow(expect.objectContaining({ code }) as Error);
    refused({ coils: { L1: at(0.06).coils.L1, L9: at(0.06).coils.L2 } }, "unknown-part");
    refused({ coils: { L1: at(0.06).coils.L1 } }, "invalid-argument");
    refused(at(0.001), "coils-overlap");
    refused({ coils: { L1: at(0.06).coils.L1, C1: at(0.06).coils.L2 } }, "coupling-to-no-coil");
    refused({ coils: { L1: at(0.06).coils.L1, L2: { winding, place: { x: 0, y: 0, z: 0, axis: "w" } } } }, "invalid-argument");
    refused({ ...at(0.06), board: 1 }, "unknown-option");
  });
});
