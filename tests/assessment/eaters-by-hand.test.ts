// Tests src/assessment/: level-eaters.ts
// What takes level, on resistors: each amount is a divider's.
import { describe, expect, it } from "vitest";
import { goal } from "dividing-network/assessment";
import { loudspeaker, predict, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, coupling, inductor, lPad, resistor, transformer } from "dividing-network/parts";
import { branchesAt } from "../../src/assessment/branches";
import { eaterText, levelEaters } from "../../src/assessment/level-eaters";
import { dB, measure } from "../support/synthetic";

const grid = [250, 500, 1000, 2000, 4000];
const flat = [measure(() => [0.1, 0], {}, grid)];
const aim = goal({ frequencies: [500, 1000, 2000] });
const cone = (network: object, more: object = {}) =>
  loudspeaker({ network: { ...network, cone: [resistor(8), "x", "gnd"] } as unknown as Entries, drivers: [{ name: "cone", pressures: flat }], ...more } as never) as unknown as Loudspeaker; // prettier-ignore
const eaters = (box: Loudspeaker) => {
  const prediction = predict(box);
  const axis = prediction.places[0]!;
  return levelEaters(box, aim, 1, branchesAt(prediction, axis), axis.sum);
};
const said = (box: Loudspeaker) => eaters(box).map(({ what, parts, takesDb }) => `${what} ${parts.join("+")} ${takesDb.toFixed(2)}`);

describe("what takes level", () => {
  it("is a resistor between, most first", () => {
    const two = { R1: [resistor(1), "in", "m"], R2: [resistor(3), "m", "x"] };
    expect(said(cone(two))).toEqual([`resistance R2 ${dB(12 / 9).toFixed(2)}`, `resistance R1 ${dB(12 / 11).toFixed(2)}`]);
  });

  it("is a resistor across, either way round, where something lies before it", () => {
    for (const ends of [
      ["x", "gnd"],
      ["gnd", "x"],
    ])
      // prettier-ignore
      // 4 Ω before 8 ∥ 8 = 4 Ω: a half; without R1 all, without R2 two thirds.
      expect(said(cone({ R1: [resistor(4), "in", "x"], R2: [resistor(8), ...ends] }))).toEqual([
        `resistance R1 ${dB(2).toFixed(2)}`,
        `resistance R2 ${dB(4 / 3).toFixed(2)}`,
      ]);
  });

  it("is a pad as a whole", () => {
    expect(said(cone({ P1: [lPad({ attenuationDb: 6, load: 8 }), "in", "x", "gnd"] }))).toEqual(["resistance P1 6.00"]);
  });

  it("isn't a resistor beside another part: a wire there would bridge that, too", () => {
    // 8 Ω beside 16 Ω before 8 Ω.
    const beside = cone({ R1: [resistor(8), "in", "x"], R2: [resistor(16), "x", "in"] });
    expect(said(beside)).toEqual([`resistance R1 ${dB(1).toFixed(2)}`].slice(1));
  });

  it("isn't what is more than resistance, nor a driver, nor a coupling", () => {
    const coils = { L1: [inductor(1e-9), "in", "m"], L2: [inductor(1e-9), "m", "x"], K1: [coupling(0.5), "L1", "L2"] };
    expect(said(cone(coils))).toEqual([]);
    expect(said(cone({ T1: [transformer({ ratio: 2 } as never), "in", "gnd", "x", "gnd"] }))).toEqual([]);
    expect(said(cone({ C1: [capacitor(1), "in", "x"] }))).toEqual([]);
  });

  it("is the loss of a coil or a capacitor that has one", () => {
    expect(said(cone({ L1: [inductor(1e-9, { dcr: 2 }), "in", "x"] }))).toEqual([`losses L1 ${dB(10 / 8).toFixed(2)}`]);
    expect(said(cone({ C1: [capacitor(1, { esr: 1 }), "in", "x"] }))).toEqual([`losses C1 ${dB(9 / 8).toFixed(2)}`]);
    expect(said(cone({ L1: [inductor(1e-9, { dcr: 0 }), "in", "x"] }))).toEqual([]);
  });

  it("is what lies before the network", () => {
    expect(said(cone({ R1: [resistor(0.1), "in", "x"] }, { sourceImpedance: 4 }))).toEqual([`source  ${dB(12.1 / 8.1).toFixed(2)}`]);
  });

  it("is two branches against each other, and of three the two that take most", () => {
    const ways = (...angles: readonly number[]) => {
      const names = ["A", "B", "C"].slice(0, angles.length);
      return loudspeaker({
        network: Object.fromEntries(names.map((name) => [name, [resistor(8), "in", "gnd"]])) as never,
        drivers: names.map((name, i) => ({
          name,
          role: (["woofer", "midrange", "tweeter"] as const)[i],
          pressures: [
            measure(() => [0.1 * Math.cos((angles[i]! * Math.PI) / 180), 0.1 * Math.sin((angles[i]! * Math.PI) / 180)], {}, grid),
          ],
        })) as never,
      }) as unknown as Loudspeaker;
    };
    const [two] = eaters(ways(0, 120));
    // Powers add up to 2, the sum at 120° is 1.
    expect([two!.what, [...two!.parts].sort(), two!.takesDb]).toEqual(["cancellation", ["A", "B"], expect.closeTo(dB(Math.SQRT2), 9)]);
    expect(eaters(ways(0, 90))).toEqual([]);
    const pair = (...angles: readonly number[]) => [...eaters(ways(...angles))[0]!.parts].sort().join("");
    expect([pair(0, 175, 80), pair(0, 80, 175), pair(80, 0, 175)]).toEqual(["AB", "AC", "BC"]);
    expect(eaters(ways(0))).toEqual([]);
  });

  it("is said with what it took before", () => {
    const one = { parts: ["L1"], what: "losses", takesDb: 1.23 } as const;
    expect(eaterText(one)).toBe("the resistance within L1 takes 1.2 dB");
    expect(eaterText({ ...one, what: "resistance" }, { ...one, takesDb: 0.5 })).toBe("L1 takes 1.2 dB (before: 0.5 dB)");
    expect(eaterText({ ...one, what: "source", parts: [] })).toBe("what lies between amplifier and network takes 1.2 dB");
    expect(eaterText({ ...one, what: "cancellation", parts: ["A", "B"] })).toBe("A and B against each other take 1.2 dB");
  });
});
