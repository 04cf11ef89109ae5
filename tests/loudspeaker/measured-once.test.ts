// Two measurements of one driver at one place that differ: none of them may win without a word.
import { compare, assess, goal, lossOf } from "dividing-network/assessment";
import { loudspeaker, pressurePerVolt, predict, type Loudspeaker, type PressurePerVolt } from "dividing-network/loudspeaker";
import { logGrid } from "dividing-network/numeric";
import { resistor } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const grid = logGrid(100, 20_000, 100);
const at = (gain: number, azimuth = 0, elevation = 0, distance = 1): PressurePerVolt =>
  pressurePerVolt({
    response: frequencyResponse(grid, grid.map(() => gain), new Float64Array(grid.length)),
    drive: { voltage: 1, at: "terminals" },
    distance,
    azimuth,
    elevation,
    timeZero: "common",
  }); // prettier-ignore
const box = (pressures: readonly PressurePerVolt[]): Loudspeaker =>
  loudspeaker({
    network: { cone: [resistor(8), "in", "gnd"] },
    drivers: [{ name: "cone", role: "woofer", pressures }],
  }) as unknown as Loudspeaker;

describe("a driver measured twice at one place", () => {
  it.each<[string, PressurePerVolt, PressurePerVolt]>([
    ["the axis", at(0.1), at(0.05)],
    ["180° and −180°", at(0.1, 180), at(0.05, -180)],
    ["half a millimetre apart", at(0.1, 0, 0, 1), at(0.05, 0, 0, 1.0005)],
    ["200 µ° apart", at(0.1, 30), at(0.05, 30.0002)],
  ])("is refused by the place and the two numbers, where they differ: %s", (_, first, second) => {
    const given = [at(0.2, 77), first, second];
    const message =
      /driver "cone" must have one measured pressure at each place, got two that differ at 1(\.0005)? m, azimuth \S+°, elevation 0°: numbers 1 and 2 of its pressures/;
    expect(() => box(given)).toThrow(message);
    expect(() => box(given)).toThrow(
      expect.objectContaining({ code: "invalid-argument", hint: expect.stringMatching(/^Leave one of them out/) }),
    );
    const { drivers, ...rest } = box([at(0.1)]);
    const copy = { ...rest, drivers: drivers.map((driver) => ({ ...driver, pressures: given })) } as unknown as Loudspeaker;
    for (const take of [() => lossOf(copy, {}), () => predict(copy), () => assess(copy, { ratedImpedance: 8 })])
      expect(take).toThrow(message);
  });

  it("is taken where the two are the same measurement, and heard once", () => {
    const twice = box([at(0.1), at(0.1), at(0.05, 30)]);
    expect(predict(twice).places.map(({ azimuth }) => azimuth)).toEqual([0, 30]);
    expect(lossOf(twice, {})).toEqual(lossOf(box([at(0.1), at(0.05, 30)]), {}));
  });

  it("is no matter of places that differ by more", () => {
    expect(box([at(0.1), at(0.05, 0.02), at(0.05, 0, 0.02), at(0.05, 0, 0, 1.002)]).drivers[0]!.pressures).toHaveLength(4);
  });
});

describe("a goal that names −180° where 180° was measured", () => {
  it("judges that place by its own level, as it would by the other name", () => {
    const of = (azimuth: number) => {
      const aim = goal({ places: [{}, { azimuth, levelDb: 70 }] });
      const judged = assess(box([at(0.1), at(0.05, 180)]), { ratedImpedance: 8, goal: aim });
      return compare(judged, judged).verdict.topics.map(({ after, kept }) => ({ after, kept }));
    };
    expect(of(-180)).toEqual(of(180));
    expect(of(180).some(({ kept }) => kept === false)).toBe(true);
  });
});
