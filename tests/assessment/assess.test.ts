// What an assessment takes from where: distances, pairs of branches and what the goal says of them.
import { describe, expect, it } from "vitest";
import { assess, type GoalOptions } from "dividing-network/assessment";
import { loudspeaker } from "dividing-network/loudspeaker";
import { resistor } from "dividing-network/parts";
import { flat, measure } from "../support/synthetic";

const db = (level: number) => 0.1 * 10 ** (level / 20);
const cone = (pressures: readonly ReturnType<typeof measure>[]) =>
  loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", role: "woofer", pressures }] });
const judged = (box: ReturnType<typeof cone>, goal: GoalOptions = {}) => assess(box, { ratedImpedance: 8, goal });

describe("distances", () => {
  it("other than the judged one have a row each, on the axis; everything else is of the judged one", () => {
    const made = judged(
      cone([
        ...flat,
        measure(() => [0.05, 0], { azimuth: 20 }),
        measure(() => [0.06, 0], { azimuth: 20, distance: 2 }),
        measure((f) => [db(Math.log2(f / 1000)) / 2, 0], { distance: 2 }),
        measure(() => [0.03, 0], { elevation: 10, distance: 2 }),
        measure(() => [0.025, 0], { distance: 4 }),
        measure(() => [0.1, 0], { distance: 1.0005, azimuth: -20 }),
      ]),
      { distance: 1 },
    );
    expect(made.prediction.places.map(({ azimuth, elevation }) => [azimuth, elevation])).toEqual([[0, 0], [20, 0], [-20, 0]]); // prettier-ignore
    expect(made.distances.map(({ distance }) => distance)).toEqual([2, 4]);
    // A tilt of 1 dB an octave from 300 Hz to 10 kHz, 5.06 octaves: 5.06/√12; a level that is only lower is no other shape.
    expect(made.distances[0]!.spreadDb).toBeCloseTo(Math.log2(10_000 / 300) / Math.sqrt(12), 1);
    expect(made.distances[1]!.spreadDb).toBeCloseTo(0, 9);
  });

  it("where one covers less than a third of an octave of the band, nothing is told apart", () => {
    const short = measure(() => [0.1, 0], { distance: 2 }, [62.5, 100, 200, 310]);
    expect(judged(cone([...flat, short])).distances).toEqual([{ distance: 2, spreadDb: 0 }]);
  });

  it("a rated impedance is above 0 Ω", () => {
    expect(() => assess(cone(flat), { ratedImpedance: 0 })).toThrow(/ratedImpedance/);
  });
});

describe("pairs of branches", () => {
  /** Three ways by slopes of 40 dB an octave from 500 Hz and 3 kHz on; equal between woofer and tweeter at 1.22 kHz, 51 dB down. */
  const way = (from: number, to: number, level = 0) =>
    measure((f) => [db(level - 40 * Math.max(0, Math.log2(from / f)) - 40 * Math.max(0, Math.log2(f / to))), 0]);
  const three = (middle = 0, goal: GoalOptions = {}) =>
    assess(
      loudspeaker({
        network: { W1: [resistor(8), "in", "gnd"], M1: [resistor(8), "in", "gnd"], T1: [resistor(8), "in", "gnd"] },
        drivers: [
          { name: "woofer", part: "W1", role: "woofer", pressures: [way(20, 500)] },
          { name: "mid", part: "M1", role: "midrange", pressures: [way(500, 3000, middle)] },
          { name: "tweeter", part: "T1", role: "tweeter", pressures: [way(3000, 20_000)] },
        ],
      }),
      { ratedImpedance: 4, goal },
    ).handovers.map(({ lower, upper, meant }) => `${lower} ${upper}${meant === undefined ? "" : ` ${meant.order}`}`);

  it("are neighbours, and others only where these are heard together or meant", () => {
    expect(three()).toEqual(["W1 M1", "M1 T1"]);
    // A middle that is 55 dB quieter leaves the other two alone there.
    expect(three(-55)).toContain("W1 T1");
    // 43 dB: it still lies some 8 dB above either of them, 2 dB further below the sum than 10.
    expect(three(-35)).not.toContain("W1 T1");
    expect(three(0, { intentions: [{ lower: "W1", upper: "T1", order: 2 }] })).toEqual(["W1 M1", "W1 T1 2", "M1 T1"]);
  });

  it("have what the goal says of them, in whichever order it names their parts", () => {
    expect(three(0, { intentions: [{ lower: "W1", upper: "M1", order: 3 }] })).toEqual(["W1 M1 3", "M1 T1"]);
    expect(three(0, { intentions: [{ lower: "M1", upper: "W1", order: 3 }] })).toEqual(["W1 M1 3", "M1 T1"]);
    expect(three(0, { intentions: [{ lower: "M1", upper: "T1", order: 4 }] })).toEqual(["W1 M1", "M1 T1 4"]);
  });

  it("that are equally loud nowhere hand nothing over", () => {
    const two = (level: number) =>
      assess(
        loudspeaker({
          network: { W1: [resistor(8), "in", "gnd"], T1: [resistor(8), "in", "gnd"] },
          drivers: [
            { name: "woofer", part: "W1", role: "woofer", pressures: flat },
            { name: "tweeter", part: "T1", role: "tweeter", pressures: [measure((f) => [db(level + Math.log2(f / 1000)), 0])] },
          ],
        }),
        { ratedImpedance: 4 },
      ).handovers;
    expect(two(0)).toHaveLength(1);
    expect(two(-20)).toEqual([]);
  });
});
