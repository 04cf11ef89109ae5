import { assess, compare, dataSensitivity, type Assessment } from "dividing-network/assessment";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import type { Entries } from "dividing-network/network";
import { describe, expect, it } from "vitest";
import { flat, measure, twoWay, twoWayBox } from "../support/synthetic";

const firstOrder = (farads: number): Entries => ({
  L1: [inductor(0.4244e-3), "in", "w"],
  woofer: [resistor(8), "w", "gnd"],
  C1: [capacitor(farads), "in", "t"],
  tweeter: [resistor(8), "t", "gnd"],
});
const box = (farads: number, tweeter = flat) => twoWayBox(firstOrder(farads), flat, tweeter);

describe("what would change a verdict", () => {
  it("nothing, where the gain is large: each driver's level and phase, up and down, are tried", () => {
    const found = dataSensitivity(box(22e-6), box(6.631e-6), { ratedImpedance: 8 });
    expect(found.overall).toBe("better");
    expect(found.firm).toBe(true);
    expect(found.cases.map(({ driver, error, by }) => `${driver} ${error} ${by}`)).toEqual(
      ["woofer", "tweeter"].flatMap((name) => ["level 1", "level -1", "phase 5", "phase -5"].map((error) => `${name} ${error}`)),
    );
    expect(found.sentence).toContain("stays the same");
  });

  it("a level error, where two networks lie close: the case is the comparison of loudspeakers with that error", () => {
    const [before, after] = [box(6.631e-6), box(6.2e-6)];
    const options = { ratedImpedance: 8, levelDb: 3 };
    const found = dataSensitivity(before, after, options);
    const louder = [measure(() => [0.1 * 10 ** (3 / 20), 0])];
    const verdict = compare(
      assess(box(6.631e-6, louder), { ratedImpedance: 8 }),
      assess(box(6.2e-6, louder), { ratedImpedance: 8 }),
    ).verdict;
    const own = found.cases.find(({ driver, error, by }) => driver === "tweeter" && error === "level" && by === 3)!;
    expect(own.overall).toBe(verdict.overall);
    expect(found.firm).toBe(found.cases.every(({ overall }) => overall === found.overall));
    expect(found.firm).toBe(false);
    expect(found.sentence).toContain("would be otherwise if");
  });

  describe("each case is the comparison of loudspeakers with that error", () => {
    const turned = (level: number, degrees: number) => {
      const [size, angle] = [0.1 * 10 ** (level / 20), (degrees * Math.PI) / 180];
      return [measure(() => [size * Math.cos(angle), size * Math.sin(angle)])];
    };
    const pair = (corner: number, woofer = flat, tweeter = flat) =>
      twoWayBox(twoWay("Linkwitz–Riley 4", 8, corner, 2000 + (2000 - corner) / 3), woofer, tweeter);
    const judged = (corners: readonly [number, number], woofer = flat, tweeter = flat) =>
      compare(...(corners.map((corner) => assess(pair(corner, woofer, tweeter), { ratedImpedance: 8 })) as [Assessment, Assessment]))
        .verdict;
    const TWIST = 60;

    it.each<[corners: readonly [number, number]]>([[[1950, 2300]], [[2200, 1900]]])("from corners at %j", (corners) => {
      const tilted = turned(0, TWIST);
      const [before, after] = corners.map((corner) => pair(corner, flat, tilted));
      const found = dataSensitivity(before!, after!, { ratedImpedance: 8, levelDb: 3, phaseDegrees: 60 });
      const asMeasured = judged(corners, flat, tilted);
      expect(found.overall).toBe(asMeasured.overall);
      for (const { driver, error, by, overall, otherwise } of found.cases) {
        const [level, phase] = error === "level" ? [by, 0] : [0, by];
        const verdict =
          driver === "woofer" ? judged(corners, turned(level, phase), tilted) : judged(corners, flat, turned(level, TWIST + phase));
        const changed = verdict.topics.filter((topic, i) => topic.change !== asMeasured.topics[i]!.change).map(({ topic }) => topic);
        expect([overall, otherwise], `${driver} ${error} ${by}`).toEqual([verdict.overall, changed]);
      }
    });

    it("and the sentence says which would turn it, with size, sign and unit", () => {
      const box = (low: number, high: number, twist: number) => twoWayBox(twoWay("Linkwitz–Riley 4", 8, low, high), flat, turned(0, twist));
      const options = { ratedImpedance: 8, levelDb: 3, phaseDegrees: 60 };
      const level = dataSensitivity(box(2000, 1900, 40), box(2000, 2100, 40), options);
      expect(level.firm).toBe(false);
      expect(level.sentence).toBe(
        "The verdict, worse, would be otherwise if the level of the woofer were −3 dB off (unchanged), or if the level of the tweeter were +3 dB off (unchanged).",
      );
      expect(level.cases.filter(({ otherwise }) => otherwise.length > 0).map(({ otherwise }) => otherwise)).toEqual([["on the axis"], ["on the axis"]]); // prettier-ignore
      expect(dataSensitivity(box(2000, 1700, 80), box(2000, 2000, 80), options).sentence).toBe(
        "The verdict, worse, would be otherwise if the phase of the woofer were +60° off (better), or if the phase of the tweeter were −60° off (better).",
      );
      expect(dataSensitivity(box(2000, 1500, 60), box(2000, 2500, 60), options).sentence).toBe(
        "The verdict, worse, stays the same if any driver's measured level is wrong by 3 dB, or its phase by 60°.",
      );
    });
  });

  it("refuses errors that are none, and unknown options", () => {
    expect(() => dataSensitivity(box(1e-5), box(1e-5), { ratedImpedance: 8, levelDb: 0 })).toThrow(/levelDb/);
    expect(() => dataSensitivity(box(1e-5), box(1e-5), { ratedImpedance: 8, phaseDegrees: 181 })).toThrow(/phaseDegrees.*180 degrees/);
    expect(() => dataSensitivity(box(1e-5), box(1e-5), { ratedImpedance: 8, phase: 3 } as never)).toThrow(
      expect.objectContaining({ code: "unknown-option" }) as Error,
    );
  });
});
