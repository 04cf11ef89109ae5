// Tests src/radiation/: blend.ts, dipole-source.ts, integration-rule.ts, measured-field.ts, phasor-sum.ts, piston-source.ts
// Tests src/radiation/: point-source.ts, rectangle-rules.ts, round-rules.ts, source-field.ts, source.ts
// Places, polarity, delay, floor, air, drives, progress: the sum against what follows from e^(−jkr)/r by hand.
import { DividingNetworkError } from "dividing-network/errors";
import { airAbsorption, pointInDirection, speedOfSound, type Point } from "dividing-network/physics";
import {
  combineFields,
  dipoleSource,
  lineSource,
  measuredSource,
  panelSource,
  pistonSource,
  pointSource,
  pressureAt,
  responseAtPoint,
  ringSource,
  type Source,
  type SummationOptions,
} from "dividing-network/radiation";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const c = 340;
const frequencies = [0, 100, 1000, 10000];
const k = frequencies.map((f) => (2 * Math.PI * f) / c);
const at = (sources: readonly Source[], point: Point, options: SummationOptions = {}): { re: number[]; im: number[] } => {
  const { re, im } = pressureAt(sources, frequencies, { points: [point], air: { speedOfSound: c }, ...options });
  return { re: Array.from(re), im: Array.from(im) };
};
const close = (
  got: { re: ArrayLike<number>; im: ArrayLike<number> },
  re: (i: number) => number,
  im: (i: number) => number,
  tolerance = 1e-12,
): void => {
  frequencies.forEach((_, i) => {
    expect(Math.abs(got.re[i]! - re(i))).toBeLessThan(tolerance);
    expect(Math.abs(got.im[i]! - im(i))).toBeLessThan(tolerance);
  });
};

describe("the field of a point source", () => {
  it("is e^(−jkr)/r from its position", () => {
    close(
      at([pointSource({ position: [0.1, 0.2, -0.3] })], [2.1, 0.2, -0.3]),
      (i) => Math.cos(2 * k[i]!) / 2,
      (i) => -Math.sin(2 * k[i]!) / 2,
    );
  });

  it("is turned by polarity, gain and delay", () => {
    const source = pointSource({ polarity: "reversed", gainDb: 20 * Math.log10(2), delay: "1 ms" });
    const angle = (i: number): number => k[i]! + 2 * Math.PI * frequencies[i]! * 1e-3;
    close(
      at([source], [1, 0, 0]),
      (i) => -2 * Math.cos(angle(i)),
      (i) => 2 * Math.sin(angle(i)),
    );
  });

  it("is the same in every direction", () => {
    const points = [0, 50, 100, 180].map((azimuth) => pointInDirection({ azimuth, elevation: 20 }, 3));
    const { re } = pressureAt([pointSource()], [500], { points });
    for (const value of re) expect(value).toBeCloseTo(re[0]!, 12);
  });
});

describe("a direction", () => {
  it("is x towards the listener, y to the loudspeaker's left, z up, exactly in the planes", () => {
    expect(pointInDirection({}, 2)).toEqual([2, 0, 0]);
    expect(pointInDirection({ azimuth: 90 }, 2)).toEqual([0, 2, 0]);
    expect(pointInDirection({ elevation: 90 }, 2)).toEqual([0, 0, 2]);
    expect(pointInDirection({ azimuth: -90 }, 1, [1, 1, 1])).toEqual([1, 0, 1]);
    expect(pointInDirection({ azimuth: 180 }, 2)).toEqual([-2, 0, 0]);
    expect(pointInDirection({ elevation: 120 }, 2)[0]).toBeCloseTo(-1, 12);
  });
});

describe("a turned source", () => {
  it("takes its pattern along", () => {
    const straight = pistonSource({ radius: 0.1 });
    for (const rotation of [{ azimuth: 30 }, { elevation: 25 }, { azimuth: -70, elevation: 40, roll: 15 }]) {
      const turned = pistonSource({ radius: 0.1, rotation });
      const onAxis = pressureAt([turned], [5000], {
        points: [pointInDirection({ azimuth: rotation.azimuth ?? 0, elevation: rotation.elevation ?? 0 }, 2)],
      });
      const before = pressureAt([straight], [5000], { points: [[2, 0, 0]] });
      expect(onAxis.re[0]).toBeCloseTo(before.re[0]!, 9);
      expect(onAxis.im[0]).toBeCloseTo(before.im[0]!, 9);
    }
  });

  it("rolled by 90° lays a line down: its +z turns to −y, its +y to +z", () => {
    const lying = lineSource({ length: 1, rotation: { roll: 90 } });
    const standing = lineSource({ length: 1 });
    const a = pressureAt([lying], [3000], { points: [[1, 0.4, 0.1]] });
    const b = pressureAt([standing], [3000], { points: [[1, 0.1, -0.4]] });
    expect(a.re[0]).toBeCloseTo(b.re[0]!, 9);
    expect(a.im[0]).toBeCloseTo(b.im[0]!, 9);
  });
});

describe("a source in a baffle", () => {
  it("is silent behind its plane, and sounds on it", () => {
    const piston = pistonSource({ radius: 0.1 });
    expect(at([piston], [-1, 0, 0]).re).toEqual([0, 0, 0, 0]);
    expect(at([piston], [0, 1, 0]).re[0]).toBeGreaterThan(0.9);
    const turned = pistonSource({ radius: 0.1, rotation: { azimuth: 33 } });
    expect(at([turned], pointInDirection({ azimuth: 33 + 90 }, 1)).re[0]).toBeGreaterThan(0.9);
  });

  it("cannot be a dipole or bent", () => {
    expect(() => dipoleSource(pistonSource({ radius: 0.1 }), { path: 0.2 })).toThrow(/mounted "baffle"/);
    expect(() => panelSource({ width: 0.1, height: 1, bendRadius: 2, mounting: "baffle" })).toThrow(/baffle/);
  });
});

describe("a dipole", () => {
  it("of any source is its front less its rear", () => {
    for (const make of [
      (x: number) => lineSource({ length: 1, position: [x, 0, 0] }),
      (x: number) => ringSource({ radius: 0.2, position: [x, 0, 0] }),
      (x: number) => pistonSource({ radius: 0.1, mounting: "simple", position: [x, 0, 0] }),
    ]) {
      const got = at([dipoleSource(make(0), { path: 0.3 })], [1.5, 0.5, 0.3]);
      const front = at([make(0.15)], [1.5, 0.5, 0.3]);
      const rear = at([make(-0.15)], [1.5, 0.5, 0.3]);
      close(
        got,
        (i) => front.re[i]! - rear.re[i]!,
        (i) => front.im[i]! - rear.im[i]!,
        1e-9,
      );
    }
  });
});

describe("a rigid floor", () => {
  it("adds the mirror image of each source", () => {
    const source = lineSource({ length: 1, position: [0, 0, 0.8], rotation: { elevation: 10 } });
    const image = lineSource({ length: 1, position: [0, 0, -1.2], rotation: { elevation: -10 } });
    const got = at([source], [3, 0.5, 0.9], { floor: -0.2 });
    const [a, b] = [at([source], [3, 0.5, 0.9]), at([image], [3, 0.5, 0.9])];
    close(
      got,
      (i) => a.re[i]! + b.re[i]!,
      (i) => a.im[i]! + b.im[i]!,
      1e-9,
    );
  });

  it("doubles the pressure on it", () => {
    const source = pointSource({ position: [0, 0, 1] });
    const alone = at([source], [2, 0, 0]);
    close(
      at([source], [2, 0, 0], { floor: 0 }),
      (i) => 2 * alone.re[i]!,
      (i) => 2 * alone.im[i]!,
    );
  });

  it("must lie below sources and points", () => {
    expect(() => at([lineSource({ length: 2 })], [3, 0, 1], { floor: -0.9 })).toThrow(DividingNetworkError);
    expect(() => at([pointSource()], [3, 0, -1], { floor: -0.9 })).toThrow(/points\[0\].*above the floor/);
  });
});

describe("the air", () => {
  it("sets the speed of sound by its temperature", () => {
    const r = 3;
    const { re } = pressureAt([pointSource()], [1000], { points: [[r, 0, 0]], air: { temperature: 30 } });
    expect(re[0]).toBeCloseTo(Math.cos((2 * Math.PI * 1000 * r) / speedOfSound({ temperature: 30 })) / r, 10);
  });

  it("absorbs over the distance when asked", () => {
    const level = (absorption: boolean): number => {
      const { re, im } = pressureAt([pointSource()], [10000], { points: [[20, 0, 0]], absorption, air: { temperature: 20, humidity: 40 } });
      return 20 * Math.log10(Math.hypot(re[0]!, im[0]!));
    };
    expect(level(false) - level(true)).toBeCloseTo(20 * airAbsorption({ frequency: 10000, temperature: 20, humidity: 40 }), 9);
  });
});

describe("air between a measured source and a point", () => {
  it("absorbs beyond the distance of the measurement, which holds its own", () => {
    const flat = frequencyResponse([5000, 20_000], [1, 1], [0, 0]);
    const source = measuredSource({ distance: 2, flight: "removed", horizontal: [{ angle: 0, response: flat }] });
    const level = (absorption: boolean): number => {
      const { re, im } = pressureAt([source], [10_000], { points: [[5, 0, 0]], absorption, air: { temperature: 20, humidity: 40 } });
      return 20 * Math.log10(Math.hypot(re[0]!, im[0]!));
    };
    expect(level(false)).toBeCloseTo(20 * Math.log10(2 / 5), 9);
    expect(level(false) - level(true)).toBeCloseTo(3 * airAbsorption({ frequency: 10_000, temperature: 20, humidity: 40 }), 9);
  });
});

describe("the estimate of the error", () => {
  const line = lineSource({ length: 1 });
  const estimate = (sources: readonly Source[]): number => pressureAt(sources, [2000], { points: [[0.5, 0, 0.2]] }).errorEstimate;

  it("of several sources is that of the worst of them, in any order", () => {
    expect(estimate([line])).toBeGreaterThan(0);
    expect(estimate([pointSource()])).toBe(0);
    expect(estimate([line, pointSource()])).toBe(estimate([line]));
    expect(estimate([pointSource(), line])).toBe(estimate([line]));
    expect(estimate([dipoleSource(line, { path: 0.1 })])).toBeGreaterThan(0);
    expect(estimate([dipoleSource(line, { path: 0.1 }), pointSource()])).toBe(estimate([dipoleSource(line, { path: 0.1 })]));
  });

  it("and a field beyond what a number can hold names the point and the frequency", () => {
    const points: readonly Point[] = [
      [1, 0, 0],
      [1e-9, 0, 0],
    ];
    expect(() => pressureAt([pointSource()], [100, 200], { points, drives: [1e305] })).toThrow(/at points\[1\] and 100 Hz/);
  });
});

describe("drives", () => {
  const sources = [pointSource({ position: [0, 0, 0.1] }), pointSource({ position: [0, 0, -0.1] })];
  const points: readonly Point[] = [
    [2, 0, 0],
    [2, 1, 1],
  ];

  it("weight each source: numbers, complex numbers and responses", () => {
    const response = frequencyResponse(frequencies, [1, 2, 3, 4], [0, 1, 0, -1]);
    const fields = sources.map((source) => pressureAt([source], frequencies, { points, air: { speedOfSound: c } }));
    const summed = pressureAt(sources, frequencies, { points, air: { speedOfSound: c }, drives: [response, { re: 0, im: 2 }] });
    const combined = combineFields(fields, [response, { re: 0, im: 2 }]);
    summed.re.forEach((value, i) => {
      const f = i % 4;
      expect(value).toBeCloseTo(fields[0]!.re[i]! * response.re[f]! - fields[0]!.im[i]! * response.im[f]! - 2 * fields[1]!.im[i]!, 12);
      expect(combined.re[i]).toBeCloseTo(value, 12);
      expect(combined.im[i]).toBeCloseTo(summed.im[i]!, 12);
    });
  });

  it("carry their marks into the response at a point", () => {
    const marked = frequencyResponse(frequencies, [1, 1, 1, 1], [0, 0, 0, 0], [{ kind: "no-data", to: 50, note: "below the gate" }]);
    const field = pressureAt(sources, frequencies, { points, drives: [marked, undefined] });
    expect(responseAtPoint(field, 1).marks).toEqual([{ kind: "no-data", to: 50, note: "below the gate" }]);
  });

  it("must be as many as the sources, and lie on their band", () => {
    expect(() => pressureAt(sources, frequencies, { points, drives: [1] })).toThrow(/drives/);
    expect(() => pressureAt(sources, frequencies, { points, drives: [1, "2" as unknown as number] })).toThrow(/drives/);
    expect(() => pressureAt(sources, [20000], { points, drives: [1, frequencyResponse([10, 20], [1, 1], [0, 0])] })).toThrow(
      DividingNetworkError,
    );
    expect(() => combineFields([], [])).toThrow(/combineFields/);
  });
});

describe("what goes in", () => {
  it("is refused when it makes no sense, with the argument's name", () => {
    const points: readonly Point[] = [[1, 0, 0]];
    expect(() => pressureAt([], frequencies, { points })).toThrow(/pressureAt: "sources"/);
    expect(() => pressureAt([{} as Source], frequencies, { points })).toThrow(/sources\[0\]/);
    expect(() => pressureAt([pointSource()], [], { points })).toThrow(/frequencies/);
    expect(() => pressureAt([pointSource()], [100, 50], { points })).toThrow(/ascending/);
    expect(() => pressureAt([pointSource()], [100], { points: [] })).toThrow(/points/);
    expect(() => pressureAt([pointSource()], [100], { points: [[0, NaN, 0]] })).toThrow(/points\[0\]/);
    expect(() => pressureAt([pointSource()], [100], { points: [[0, 0, 0]] })).toThrow(/must not lie on a source/);
    expect(() => pressureAt([pointSource()], [100], { points, tolerance: 1e-12 })).toThrow(/tolerance/);
    expect(() => pressureAt([pointSource()], [100], { points, flor: 0 } as never)).toThrow(/unknown option "flor"/);
    expect(() => pistonSource({ radius: 0 })).toThrow(/radius/);
    expect(() => pistonSource({ radius: 0.1, innerRadius: 0.1 })).toThrow(/innerRadius/);
    expect(() => lineSource({ length: "2 s" as never })).toThrow(/length/);
    expect(() => lineSource({ length: 2, bendRadius: 0.1 })).toThrow(/bendRadius/);
    expect(() => pointSource({ rotation: { tilt: 3 } as never })).toThrow(/tilt/);
    expect(() => pointSource({ polarity: "inverted" as never })).toThrow(/polarity/);
  });

  it("is not changed", () => {
    const grid = Float64Array.from(frequencies);
    const points: Point[] = [[1, 0, 0]];
    const drive = frequencyResponse([0, 20000], [1, 1], [0, 0]);
    const source = Object.freeze(lineSource({ length: 1 }));
    const copies = JSON.stringify([Array.from(grid), points, source, Array.from(drive.re)]);
    pressureAt([source], grid, { points, drives: [drive], floor: -2 });
    expect(JSON.stringify([Array.from(grid), points, source, Array.from(drive.re)])).toBe(copies);
  });

  it("may be plain data that went through JSON", () => {
    const source = JSON.parse(JSON.stringify(panelSource({ width: 0.1, height: 1, bendRadius: 3, position: [0, 1, 0] }))) as Source;
    expect(at([source], [2, 0, 0])).toEqual(at([panelSource({ width: 0.1, height: 1, bendRadius: 3, position: [0, 1, 0] })], [2, 0, 0]));
  });
});

describe("long work", () => {
  const points = Array.from({ length: 5 }, (_, i): Point => [1 + i, 0, 0]);

  it("reports its progress up to the end", () => {
    const seen: number[][] = [];
    pressureAt([pointSource(), pointSource()], [100], { points, onProgress: (done, total) => seen.push([done, total]) });
    expect(seen[0]).toEqual([0, 10]);
    expect(seen.at(-1)).toEqual([10, 10]);
  });

  it("stops at its signal with the code aborted", () => {
    const controller = new AbortController();
    let calls = 0;
    const run = (): unknown =>
      pressureAt([pointSource()], [100], {
        points,
        signal: controller.signal,
        onProgress: () => {
          if (++calls === 2) controller.abort();
        },
      });
    expect(run).toThrow(DividingNetworkError);
    expect(calls).toBe(2);
    try {
      run();
    } catch (error) {
      expect((error as DividingNetworkError).code).toBe("aborted");
    }
  });
});
