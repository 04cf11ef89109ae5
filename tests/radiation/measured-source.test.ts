// A measured source: exact where it was measured, close to the truth between, silent nowhere and refusing elsewhere. The truth is an analytic field.
import { DividingNetworkError } from "dividing-network/errors";
import { logGrid } from "dividing-network/numeric";
import { pointInDirection, speedOfSound } from "dividing-network/physics";
import {
  dipoleSource,
  lineSource,
  measuredSource,
  pistonSource,
  pointSource,
  pressureAt,
  responseAtPoint,
  type MeasuredAngle,
  type MeasuredOptions,
  type Source,
} from "dividing-network/radiation";
import { delayResponse, frequencyResponse, type FrequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const grid = logGrid(100, 5000, 120);
const distance = 1.5;
const code = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    return error instanceof DividingNetworkError ? error.code : String(error);
  }
  return "nothing thrown";
};

/** What a microphone on a circle around the origin records of sources. */
function cut(sources: readonly Source[], plane: "horizontal" | "vertical", angles: readonly number[]): MeasuredAngle[] {
  return angles.map((angle) => {
    const point = pointInDirection(plane === "horizontal" ? { azimuth: angle } : { elevation: angle }, distance);
    return { angle, response: responseAtPoint(pressureAt(sources, grid, { points: [point] })) };
  });
}

const steps = (from: number, to: number, by: number): number[] =>
  Array.from({ length: Math.round((to - from) / by) + 1 }, (_, i) => from + i * by);
const at = (source: Source, direction: { azimuth?: number; elevation?: number }, r = distance): FrequencyResponse =>
  responseAtPoint(pressureAt([source], grid, { points: [pointInDirection(direction, r)] }));
const largestError = (got: FrequencyResponse, wanted: FrequencyResponse): number =>
  got.re.reduce((worst, re, i) => Math.max(worst, Math.hypot(re - wanted.re[i]!, got.im[i]! - wanted.im[i]!)), 0);

describe("a measured source", () => {
  // A piston that sits 5 cm before the rotation centre: the delay differs from angle to angle.
  const truth = pistonSource({ radius: 0.06, mounting: "free-edge", position: [0.05, 0, 0] });
  const angles = steps(-90, 90, 15);
  const measured = measuredSource({ distance, horizontal: cut([truth], "horizontal", angles), vertical: cut([truth], "vertical", angles) });

  it("gives the measurement itself at each measured angle and distance", () => {
    for (const angle of angles) {
      expect(largestError(at(measured, { azimuth: angle }), at(truth, { azimuth: angle }))).toBeLessThan(1e-12);
      expect(largestError(at(measured, { elevation: angle }), at(truth, { elevation: angle }))).toBeLessThan(1e-12);
    }
  });

  it("comes within 2 % of the axis between them, thanks to the delay removed", () => {
    for (const angle of [-52, -7.5, 4, 22.5, 37]) {
      expect(largestError(at(measured, { azimuth: angle }), at(truth, { azimuth: angle })) * distance).toBeLessThan(0.02);
    }
  });

  it("blends the planes between them, and says that this is a model", () => {
    const direction = { azimuth: 20, elevation: 15 };
    const got = at(measured, direction);
    expect(largestError(got, at(truth, direction)) * distance).toBeLessThan(0.05);
    expect(got.marks?.map((mark) => mark.kind)).toEqual(["model"]);
    expect(at(measured, { azimuth: 20 }).marks).toBeUndefined();
  });

  it("adds only the difference of the path at another distance", () => {
    const near = at(measured, {});
    const far = at(measured, {}, 3);
    const delayed = delayResponse(near, (3 - distance) / 343.2);
    expect(largestError(far, { ...delayed, re: delayed.re.map((v) => v / 2), im: delayed.im.map((v) => v / 2) })).toBeLessThan(1e-10);
  });

  it("moves and turns with its placement", () => {
    const moved = measuredSource({
      distance,
      horizontal: cut([truth], "horizontal", angles),
      position: [0.2, -0.4, 1],
      rotation: { azimuth: 90 },
    });
    const field = pressureAt([moved], grid, { points: [[0.2, distance - 0.4, 1]] });
    expect(largestError(responseAtPoint(field), at(truth, {}))).toBeLessThan(1e-12);
  });

  it("rolled by 90° turns its left side up and its upper side to the right", () => {
    const level = (value: number): FrequencyResponse =>
      frequencyResponse(
        grid,
        grid.map(() => value),
        grid.map(() => 0),
      );
    const sides = (values: readonly [number, number]): MeasuredAngle[] => [
      { angle: -40, response: level(values[0]) },
      { angle: 0, response: level(1) },
      { angle: 40, response: level(values[1]) },
    ];
    const rolled = measuredSource({
      distance,
      flight: "removed",
      horizontal: sides([0.2, 0.4]),
      vertical: sides([0.6, 0.8]),
      rotation: { roll: 90 },
    });
    const size = (direction: { azimuth?: number; elevation?: number }): number => {
      const { re, im } = at(rolled, direction);
      return Math.hypot(re[0]!, im[0]!);
    };
    expect(size({ elevation: 40 })).toBeCloseTo(0.4, 12);
    expect(size({ azimuth: -40 })).toBeCloseTo(0.8, 12);
    expect(size({ elevation: -40 })).toBeCloseTo(0.2, 12);
    expect(size({ azimuth: 40 })).toBeCloseTo(0.6, 12);
  });

  it("takes phase without the flight to the microphone when told so", () => {
    const flat = frequencyResponse(
      grid,
      grid.map(() => 2),
      grid.map(() => 0),
    );
    const source = measuredSource({
      distance: 2,
      flight: "removed",
      horizontal: [{ angle: 0, response: flat }],
      symmetry: "axial",
      extrapolate: true,
    });
    const monopole = pointSource({ gainDb: 20 * Math.log10(4) });
    expect(largestError(at(source, { azimuth: 70 }, 1), at(monopole, { azimuth: 70 }, 1))).toBeLessThan(1e-12);
  });

  it("is brought to other frequencies by interpolation", () => {
    const other = [250, 1234.5, 4800];
    const points = [pointInDirection({ azimuth: 15 }, distance)];
    const got = pressureAt([measured], other, { points });
    const wanted = pressureAt([truth], other, { points });
    other.forEach((_, i) => expect(Math.hypot(got.re[i]! - wanted.re[i]!, got.im[i]! - wanted.im[i]!)).toBeLessThan(1e-3));
  });

  it("carries the marks of the measurements it used", () => {
    const marked = frequencyResponse(
      grid,
      grid.map(() => 1),
      grid.map(() => 0),
      [{ kind: "coarse", to: 300, note: "gate" }],
    );
    const source = measuredSource({
      distance,
      horizontal: [
        { angle: 0, response: marked },
        { angle: 30, response: frequencyResponse(grid, marked.re, marked.im) },
      ],
    });
    expect(at(source, {}).marks).toHaveLength(1);
    expect(at(source, { azimuth: 30 }).marks).toBeUndefined();
    expect(at(source, { azimuth: 10 }).marks).toHaveLength(1);
  });
});

describe("beyond the measured angles", () => {
  const flat = (value: number): FrequencyResponse =>
    frequencyResponse(
      grid,
      grid.map(() => value),
      grid.map(() => 0),
    );
  const base: MeasuredOptions = {
    distance: 1,
    flight: "removed",
    horizontal: [
      { angle: 0, response: flat(1) },
      { angle: 40, response: flat(0.5) },
    ],
  };

  it("a measured source refuses, with the code outside-measured-range", () => {
    const source = measuredSource(base);
    expect(code(() => at(source, { azimuth: 41 }))).toBe("outside-measured-range");
    expect(code(() => at(source, { azimuth: -10 }))).toBe("outside-measured-range");
    expect(code(() => at(source, { elevation: 10 }))).toBe("outside-measured-range");
    expect(code(() => at(source, { azimuth: 10, elevation: 1 }))).toBe("outside-measured-range");
    expect(code(() => at(source, { azimuth: 40 }))).toBe("nothing thrown");
  });

  it("holds the outermost measurement when told to extrapolate, and marks it", () => {
    const got = at(measuredSource({ ...base, extrapolate: true }), { azimuth: 90 }, 1);
    expect(Math.hypot(got.re[0]!, got.im[0]!)).toBeCloseTo(0.5, 12);
    expect(got.marks?.[0]?.kind).toBe("model");
    expect(code(() => at(measuredSource({ ...base, extrapolate: true }), { azimuth: -10 }))).toBe("outside-measured-range");
  });

  it("takes the other side by symmetry when told to, and marks it", () => {
    const mirrored = measuredSource({ ...base, symmetry: "mirror" });
    const got = at(mirrored, { azimuth: -40 }, 1);
    expect(Math.hypot(got.re[0]!, got.im[0]!)).toBeCloseTo(0.5, 12);
    expect(got.marks?.[0]?.kind).toBe("model");
    expect(code(() => at(mirrored, { elevation: 20 }))).toBe("outside-measured-range");
    const round = at(measuredSource({ ...base, symmetry: "axial" }), { elevation: -40 }, 1);
    expect(Math.hypot(round.re[0]!, round.im[0]!)).toBeCloseTo(0.5, 12);
  });
});

describe("an acoustic centre beside the rotation centre", () => {
  const centre = [0.03, 0.2, -0.1] as const;
  const truth = pointSource({ position: centre });
  const angles = steps(-60, 60, 20);
  const cuts = { horizontal: cut([truth], "horizontal", angles), vertical: cut([truth], "vertical", angles) };
  const source = measuredSource({ distance, ...cuts, acousticCentre: centre });

  it("is where the sound spreads from: of a point source there everything is exact, near and far, between angles and planes", () => {
    for (const [azimuth, elevation, r] of [
      [0, 0, 1.5],
      [20, 0, 1.5],
      [0, -40, 1.5],
      [0, 0, 3],
      [13, 0, 0.8],
      [0, -7, 5],
      [25, 20, 2],
      [-31, -9, 1.1],
    ] as const) {
      expect(largestError(at(source, { azimuth, elevation }, r), at(truth, { azimuth, elevation }, r))).toBeLessThan(1e-10);
    }
  });

  it("turns and moves with the source, and leaves out the flight when the phase does", () => {
    const flown = (entries: readonly MeasuredAngle[]): MeasuredAngle[] =>
      entries.map(({ angle, response }) => ({ angle, response: delayResponse(response, -distance / 343.2) }));
    const removed = measuredSource({
      distance,
      flight: "removed",
      acousticCentre: centre,
      horizontal: flown(cuts.horizontal),
      vertical: flown(cuts.vertical),
    });
    expect(largestError(at(removed, { azimuth: 13 }, 3), at(truth, { azimuth: 13 }, 3))).toBeLessThan(1e-10);
    const moved = measuredSource({ distance, ...cuts, acousticCentre: centre, position: [1, 2, 3], rotation: { azimuth: 90 } });
    const field = pressureAt([moved], grid, { points: [[1, 4, 3]] });
    expect(largestError(responseAtPoint(field), at(truth, {}, 2))).toBeLessThan(1e-10);
  });

  it("lies nearer than the microphone, and is a point", () => {
    expect(() => measuredSource({ distance, ...cuts, acousticCentre: [0, 1.5, 0] })).toThrow(/acousticCentre.*below 1.5 m/);
    expect(() => measuredSource({ distance, ...cuts, acousticCentre: [0, Number.NaN, 0] })).toThrow(/acousticCentre/);
    expect(code(() => pressureAt([source], grid, { points: [centre] }))).toBe("point-on-source");
  });

  it("needs only a little of the other plane near a measured one, when told so", () => {
    const across = { distance, horizontal: cuts.horizontal, acousticCentre: centre };
    expect(code(() => at(measuredSource(across), { azimuth: 30 }, 3))).toBe("outside-measured-range");
    const near = measuredSource({ ...across, planeToleranceDegrees: 10 });
    const got = at(near, { azimuth: 30 }, 3);
    expect(largestError(got, at(truth, { azimuth: 30 }, 3))).toBeLessThan(1e-10);
    expect(got.marks?.map(({ kind }) => kind)).toEqual(["model", "model"]);
    expect(code(() => at(near, { azimuth: 30, elevation: 20 }, 3))).toBe("outside-measured-range");
    // Of a plane that was measured less far the outermost is held.
    const less = measuredSource({ ...across, vertical: cut([truth], "vertical", [-10, 10]), planeToleranceDegrees: 10 });
    expect(largestError(at(less, { azimuth: 30 }, 3), at(truth, { azimuth: 30 }, 3))).toBeLessThan(1e-10);
    expect(() => measuredSource({ ...across, planeToleranceDegrees: 31 })).toThrow(/planeToleranceDegrees.*degrees/);
  });
});

describe("between angles whose phase differs much", () => {
  it("a measured source refuses a coarse set, and accepts the delays when stated", () => {
    // Two sources half a metre apart: the sum's phase jumps between 0° and 40° while both are loud.
    const pair = [pointSource({ position: [0, 0.5, 0] })];
    const source = measuredSource({
      distance,
      horizontal: [
        { angle: 0, response: shifted(0) },
        { angle: 40, response: shifted(120) },
      ],
    });
    expect(code(() => at(source, { azimuth: 20 }))).toBe("angle-step");
    // A pure delay is found and removed.
    const eccentric = measuredSource({ distance, horizontal: cut(pair, "horizontal", [0, 15, 30]) });
    expect(largestError(at(eccentric, { azimuth: 7.5 }), at(pair[0]!, { azimuth: 7.5 })) * distance).toBeLessThan(0.05);
    const stated = cut(pair, "horizontal", [0, 15, 30]).map((entry) => {
      const path = Math.hypot(distance * Math.cos((entry.angle * Math.PI) / 180), distance * Math.sin((entry.angle * Math.PI) / 180) - 0.5);
      return { ...entry, delay: (path - Math.hypot(distance, 0.5)) / 343.2 };
    });
    expect(
      largestError(at(measuredSource({ distance, horizontal: stated }), { azimuth: 7.5 }), at(pair[0]!, { azimuth: 7.5 })) * distance,
    ).toBeLessThan(0.3);
  });

  function shifted(degrees: number): FrequencyResponse {
    // Half a turn in the middle of the band is no delay.
    const phase = grid.map((f) => ((degrees * Math.PI) / 180) * (f > 900 && f < 1100 ? 1 : 0));
    return frequencyResponse(grid, phase.map(Math.cos), phase.map(Math.sin));
  }

  it("interpolates the complex parts across a null, where the sign turns", () => {
    const dipole = dipoleSource(pointSource(), { path: 0.02 });
    const angles = steps(0, 180, 10).filter((angle) => angle !== 90);
    const source = measuredSource({ distance, horizontal: cut([dipole], "horizontal", angles) });
    const got = at(source, { azimuth: 90 });
    const axis = at(dipole, {});
    got.re.forEach((re, i) => expect(Math.hypot(re, got.im[i]!)).toBeLessThan(0.02 * Math.hypot(axis.re[i]!, axis.im[i]!)));
  });

  it("follows the side lobes of a line to 2 % of its axis", () => {
    const line = lineSource({ length: 0.2 });
    const source = measuredSource({
      distance,
      vertical: cut([line], "vertical", steps(-90, 90, 2.5)),
      horizontal: cut([line], "horizontal", [-90, 0, 90]),
    });
    for (const elevation of [8.75, 21.25, 51.25])
      expect(largestError(at(source, { elevation }), at(line, { elevation })) * distance).toBeLessThan(0.05);
  });
});

describe("the acoustic centre of a measured source", () => {
  const far = [0, 20, -35];
  it.each<[axis: string, centre: readonly [number, number, number], plane: "azimuth" | "elevation"]>([
    ["in front", [0.2, 0, 0], "azimuth"],
    ["to the side", [0, 0.2, 0], "azimuth"],
    ["above", [0, 0, 0.2], "elevation"],
  ])(
    "that lies %s of the rotation centre makes a point source there exact, 1/r·e^(−jkr), wherever it is asked for",
    (_axis, centre, plane) => {
      const c = 340;
      const horizontal = cut([pointSource({ position: centre })], "horizontal", steps(-90, 90, 15));
      const vertical = cut([pointSource({ position: centre })], "vertical", steps(-90, 90, 15));
      const source = measuredSource({ distance, horizontal, vertical, acousticCentre: centre });
      for (const angle of far) {
        const point = pointInDirection({ [plane]: angle }, 4);
        const r = Math.hypot(point[0] - centre[0], point[1] - centre[1], point[2] - centre[2]);
        const { re, im } = pressureAt([source], [100, 400], { points: [point], air: { speedOfSound: c } });
        for (const [i, frequency] of [100, 400].entries()) {
          // The cuts are computed in air of 343 m/s: of the flight to 4 m only what lies beyond the measured path turns at 340 m/s.
          const measuredPath = Math.hypot(...pointInDirection({ [plane]: angle }, distance).map((value, axis) => value - centre[axis]!));
          const turn = 2 * Math.PI * frequency * (measuredPath / speedOfSound() + (r - measuredPath) / c);
          expect(Math.hypot(re[i]! - Math.cos(turn) / r, im[i]! + Math.sin(turn) / r) * r).toBeLessThan(0.01);
        }
      }
    },
  );
});

describe("what a measured source is made of", () => {
  const flat = frequencyResponse([100, 1000], [1, 1], [0, 0]);

  it("must hold the axis, each angle once, and angles of a circle", () => {
    expect(() => measuredSource({ distance: 1, horizontal: [{ angle: 10, response: flat }] })).toThrow(/0°/);
    expect(() =>
      measuredSource({
        distance: 1,
        horizontal: [
          { angle: 0, response: flat },
          { angle: 0, response: flat },
        ],
      }),
    ).toThrow(/twice/);
    expect(() => measuredSource({ distance: 1, horizontal: [{ angle: 200, response: flat }] })).toThrow(/angle/);
    expect(() => measuredSource({ distance: 1, horizontal: [] })).toThrow(/horizontal/);
    expect(() => measuredSource({ distance: 1, horizontal: [{ angle: 0, response: [1, 2] as never }] })).toThrow(/FrequencyResponse/);
    expect(() => measuredSource({ distance: 0, horizontal: [{ angle: 0, response: flat }] })).toThrow(/distance/);
  });

  it("refuses frequencies beyond its measurements", () => {
    const source = measuredSource({ distance: 1, horizontal: [{ angle: 0, response: flat }] });
    expect(code(() => pressureAt([source], [5000], { points: [[1, 0, 0]] }))).toBe("outside-band");
  });
});
