// Tests src/radiation/: pressure-at.ts, source.ts
// How high a source must stand so that none of it lies below the floor, by its outline: half a height, a radius, half a path, each by the sine of its tilt.
import { DividingNetworkError } from "dividing-network/errors";
import {
  dipoleSource,
  lineSource,
  panelSource,
  pistonSource,
  pointSource,
  pressureAt,
  ringSource,
  type Source,
} from "dividing-network/radiation";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const field = (source: Source) => pressureAt([source], [100], { points: [[3, 0, 2]], floor: 0, air: { speedOfSound: 340 } });
const half = Math.SQRT1_2;

describe("a source above a floor", () => {
  type Where = { readonly position: readonly [number, number, number]; readonly rotation?: object };
  it.each<[string, number, object, (where: Where) => Source]>([
    ["a point", 0, {}, (where) => pointSource(where)],
    ["an upright piston", 0.1, {}, (where) => pistonSource({ radius: 0.1, ...where })],
    ["a piston that looks up by 45°", 0.1 * half, { elevation: 45 }, (where) => pistonSource({ radius: 0.1, ...where })],
    ["a piston that looks up", 0, { elevation: 90 }, (where) => pistonSource({ radius: 0.1, ...where })],
    ["a piston that is turned and rolled", 0.1, { azimuth: 40, roll: 70 }, (where) => pistonSource({ radius: 0.1, ...where })],
    ["an upright ring", 0.2, {}, (where) => ringSource({ radius: 0.2, ...where })],
    ["an upright panel", 0.5, {}, (where) => panelSource({ width: 0.2, height: 1, ...where })],
    ["a panel on its side", 0.1, { roll: 90 }, (where) => panelSource({ width: 0.2, height: 1, ...where })],
    ["a panel on its corner", (1.2 / 2) * half, { roll: 45 }, (where) => panelSource({ width: 0.2, height: 1, ...where })],
    ["a panel that lies", 0, { elevation: 90 }, (where) => panelSource({ width: 0.2, height: 1, ...where })],
    ["a line that leans by 60°", 0.5, { elevation: 60 }, (where) => lineSource({ length: 2, ...where })],
    ["a dipole that looks forward", 0, {}, (where) => dipoleSource(pointSource(where), { path: 0.3 })],
    ["a dipole that looks up", 0.15, { elevation: 90 }, (where) => dipoleSource(pointSource(where), { path: 0.3 })],
    ["a dipole that looks down by 30°", 0.075, { elevation: -30 }, (where) => dipoleSource(pointSource(where), { path: 0.3 })],
  ])("%s may stand at %d m and not a millimetre lower", (_, height, rotation, made) => {
    expect(() => field(made({ position: [0, 0, height], rotation }))).not.toThrow();
    expect(() => field(made({ position: [0, 0, height - 1e-3], rotation }))).toThrow(expect.objectContaining({ code: "below-floor" }));
  });
});

describe("a drive with a phase, late", () => {
  it("is turned by the delay as well as by the path: a quarter of a period from j is 1", () => {
    // At 100 Hz a delay of 2.5 ms turns by −90°; at a wavelength's distance the path turns by a whole turn.
    const drive = frequencyResponse([100], [3], [4]);
    const { re, im } = pressureAt([pointSource({ delay: 2.5e-3 })], [100], {
      points: [[3.4, 0, 0]],
      drives: [drive],
      air: { speedOfSound: 340 },
    });
    expect([re[0]! * 3.4, im[0]! * 3.4]).toEqual([expect.closeTo(4, 9), expect.closeTo(-3, 9)]);
  });
});

describe("progress", () => {
  it("counts points of all sources, each number once, and rises", () => {
    const seen: number[] = [];
    pressureAt([pointSource(), pointSource(), pointSource()], [100], {
      points: [
        [1, 0, 0],
        [2, 0, 0],
      ],
      onProgress: (done, total) => {
        expect(total).toBe(6);
        seen.push(done);
      },
    });
    expect(seen).toEqual([...new Set(seen)].sort((a, b) => a - b));
    expect(seen.at(-1)).toBe(6);
  });
});

describe("what is no source", () => {
  const point = pointSource();
  it.each<[string, unknown]>([
    ["nothing", undefined],
    ["a shape in words", { ...point, shape: "point" }],
    ["no shape", { ...point, shape: null }],
    ["an unknown shape", { ...point, shape: { kind: "cube" } }],
    ["two axes", { ...point, axes: point.axes.slice(1) }],
    ["an axis of words", { ...point, axes: [point.axes[0], point.axes[1], "up"] }],
    ["an axis of two numbers", { ...point, axes: [point.axes[0], point.axes[1], [0, 1]] }],
    ["a delay that is none", { ...point, delay: NaN }],
    ["a path below 0", { ...point, dipolePath: -0.1 }],
    ["an endless path", { ...point, dipolePath: Infinity }],
    ["a radius in words", { ...pistonSource({ radius: 0.1 }), shape: { kind: "disc", radius: "wide", innerRadius: 0 } }],
  ])("is refused by name: %s", (_, wrong) => {
    expect(() => field(wrong as Source)).toThrow(DividingNetworkError);
    expect(() => field(wrong as Source)).toThrow(/"sources\[0\]/);
  });

  it("is turned by no angle that is none", () => {
    for (const rotation of [{ azimuth: NaN }, { elevation: Infinity }, { roll: "30" }])
      expect(() => pointSource({ rotation: rotation as never })).toThrow(/"rotation\./);
  });
});
