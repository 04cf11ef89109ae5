// Tests src/radiation/: pressure-field.ts
// Whatever comes in: the library's own error, or numbers; nothing is changed, and no work is without bound.
import { DividingNetworkError } from "dividing-network/errors";
import { airAbsorption } from "dividing-network/physics";
import {
  angularWindow,
  arrayDirectivity,
  arrayLobes,
  beamwidth,
  combineFields,
  coverage,
  directivityIndex,
  dipoleSource,
  listenerSensitivity,
  lobeTilt,
  measuredSource,
  offAxisStability,
  pistonSource,
  pointSource,
  polarLevels,
  polarMap,
  polarMapFromResponses,
  powerResponse,
  pressureAt,
  radiatedPower,
  responseAtAngle,
  responseAtPoint,
  spatialAverages,
  sphereMap,
  twoSourceLobes,
  twoSourceWindow,
  type Source,
} from "dividing-network/radiation";
import { zonalWeights } from "../../src/radiation/internal";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const source = pointSource({ position: [0, 0.1, 0] });
const map = polarMap([source], [500, 1000]);
const vertical = polarMap([source], [500, 1000], { plane: "vertical" });
const field = pressureAt([source], [500, 1000], { points: [[1, 0, 0]] });
const sphere = sphereMap([source], [1000], { stepDegrees: 30 });
const flat = frequencyResponse([500, 1000], [1, 1], [0, 0]);

/** Garbage of every type, and what remains of such data after a trip through JSON. */
const garbage: readonly unknown[] = [
  undefined,
  null,
  Number.NaN,
  Infinity,
  0,
  -1,
  1e308,
  "",
  "1 m",
  true,
  Symbol("x"),
  10n,
  () => 1,
  [],
  {},
  [null],
  [[]],
  [1e308],
  new Map(),
  Object.create(null),
  new Float64Array(0),
  new Float64Array(3),
];

const takers: readonly (readonly [name: string, call: (value: never) => unknown, good: unknown])[] = [
  ["angularWindow", (value) => angularWindow(value, { withinDb: 3 }), map],
  ["beamwidth", (value) => beamwidth(value), map],
  ["coverage", (value) => coverage(value), map],
  ["offAxisStability", (value) => offAxisStability(value, { window: 30 }), map],
  ["polarLevels", (value) => polarLevels(value, { normalize: "axis" }), map],
  ["responseAtAngle", (value) => responseAtAngle(value, 0), map],
  ["powerResponse of maps", (value) => powerResponse({ horizontal: value, vertical }), map],
  ["powerResponse of a sphere", (value) => powerResponse(value), sphere],
  ["spatialAverages", (value) => spatialAverages({ horizontal: value, vertical }), map],
  ["directivityIndex", (value) => directivityIndex(value), powerResponse(sphere)],
  ["radiatedPower", (value) => radiatedPower(value), powerResponse(sphere)],
  ["responseAtPoint", (value) => responseAtPoint(value), field],
  ["combineFields", (value) => combineFields([value], [1]), field],
  ["combineFields' drives", (value) => combineFields([field], [value]), flat],
  ["pressureAt", (value) => pressureAt([value], [500], { points: [[1, 0, 0]] }), source],
  ["pressureAt's drives", (value) => pressureAt([source], [500], { points: [[1, 0, 0]], drives: [value] }), flat],
  ["listenerSensitivity", (value) => listenerSensitivity([value], [500], { point: [1, 0, 0] }), source],
  ["dipoleSource", (value) => dipoleSource(value, { path: 0.1 }), source],
  ["polarMapFromResponses", (value) => polarMapFromResponses([value]), { angle: 0, response: flat }],
  ["measuredSource", (value) => measuredSource({ distance: 1, horizontal: [value] }), { angle: 0, response: flat }],
  ["zonalWeights", (value) => zonalWeights([0, value, 180]), 90],
  ["arrayLobes", (value) => arrayLobes(value), { count: 3, spacing: 0.1, frequency: 1000 }],
  ["lobeTilt", (value) => lobeTilt(value), { order: 3, spacing: 0.1, frequency: 1000 }],
  ["twoSourceLobes", (value) => twoSourceLobes(value), { spacing: 0.1, frequency: 1000 }],
  ["twoSourceWindow", (value) => twoSourceWindow(value), { spacing: 0.1, frequency: 1000, withinDb: 3 }],
  ["airAbsorption", (value) => airAbsorption(value), { frequency: 1000 }],
];

function isClean(value: unknown, seen = new Set<unknown>()): boolean {
  if (typeof value === "number") return !Number.isNaN(value);
  if (typeof value !== "object" || value === null || seen.has(value)) return true;
  seen.add(value);
  return ArrayBuffer.isView(value)
    ? !(value as Float64Array).some((number) => Number.isNaN(number))
    : Object.values(value).every((each) => isClean(each, seen));
}

/** Runs it with a value: the library's error, or a result without NaN. */
function survives(call: (value: never) => unknown, value: unknown, what: string): void {
  try {
    expect(isClean(call(value as never)), `${what}: NaN`).toBe(true);
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw new Error(`${what}: ${String(error)}`, { cause: error });
  }
}

describe("what comes in", () => {
  it.each(takers)("%s refuses with the library's error when it is something else", (name, call, good) => {
    expect(isClean(call(good as never))).toBe(true);
    for (const value of garbage) survives(call, value, `${name}(${typeof value})`);
    survives(call, JSON.parse(JSON.stringify(good)), `${name}(from JSON)`);
  });

  it.each(takers.filter(([, , good]) => typeof good === "object"))(
    "%s refuses with the library's error when a member is something else",
    (name, call, good) => {
      for (const key of Object.keys(good as object)) {
        for (const value of garbage) survives(call, { ...(good as object), [key]: value }, `${name}, ${key}: ${typeof value}`);
      }
    },
  );

  it("is refused with the name of the argument and what would be right", () => {
    expect(() => beamwidth({ ...map, re: map.re.slice(1) })).toThrow(
      /beamwidth: "map" must be a polar map, as polarMap and polarMapFromResponses give it/,
    );
    expect(() => pressureAt([{ ...source, gainDb: Number.NaN }], [500], { points: [[1, 0, 0]] })).toThrow(
      /"sources\[0\]\.gainDb" must be a finite number .* dB/,
    );
    expect(() => pressureAt([{ ...source, shape: { kind: "cone" } } as unknown as Source], [500], { points: [[1, 0, 0]] })).toThrow(
      /"sources\[0\]\.shape\.kind" must be one of "point"/,
    );
    expect(() => measuredSource({ distance: 1, horizontal: [{ angle: 0, response: flat }], extrapolate: "yes" as never })).toThrow(
      /"extrapolate" must be true or false/,
    );
  });

  it("is refused where the result could not be a number", () => {
    const code = (run: () => unknown): string => {
      try {
        run();
      } catch (error) {
        return (error as DividingNetworkError).code;
      }
      return "nothing thrown";
    };
    expect(code(() => pressureAt([source], [1e308], { points: [[1, 0, 0]] }))).toBe("overflow");
    expect(code(() => pressureAt([source], [500], { points: [[1e308, -1e308, 0]] }))).toBe("overflow");
    expect(code(() => pressureAt([source], [500], { points: [[1e-3, 0.1, 0]], drives: [1e308] }))).toBe("overflow");
    expect(
      code(() =>
        pressureAt(
          [source],
          Array.from({ length: 1000 }, (_, i) => i),
          { points: Array.from({ length: 70_000 }, () => [1, 0, 0] as const) },
        ),
      ),
    ).toBe("too-large");
    expect(code(() => arrayDirectivity({ count: 2, kd: 1, angle: 0, phaseDegrees: 1e308 }))).toBe("invalid-argument");
  });

  it("is left as it was", () => {
    const arrays = [
      map.re,
      map.im,
      map.angles,
      map.frequencies,
      field.re,
      field.im,
      sphere.re,
      sphere.im,
      sphere.weights,
      flat.re,
      flat.im,
    ];
    const copies = arrays.map((values) => Float64Array.from(values));
    const entries = [
      { angle: 30, response: flat },
      { angle: 0, response: flat },
      { angle: -30, response: flat },
    ];
    const order = entries.map(({ angle }) => angle);
    polarMapFromResponses(entries);
    pressureAt([measuredSource({ distance: 1, horizontal: entries })], [600], { points: [[1, 0.1, 0]] });
    for (const [, call, good] of takers) call(good as never);
    expect(arrays).toEqual(copies);
    expect(entries.map(({ angle }) => angle)).toEqual(order);
  });
});

describe("levels of pressures", () => {
  it("are re 20 µPa when the reference says so", () => {
    const one = polarMapFromResponses([{ angle: 0, response: flat }]);
    expect(polarLevels(one, { reference: 20e-6 })[0]).toBeCloseTo(93.9794, 4);
    expect(polarLevels(one, { reference: 20e-6, normalize: "axis" })[0]).toBe(0);
    const maps = { horizontal: map, vertical };
    const [plain, sound] = [spatialAverages(maps), spatialAverages(maps, { reference: 20e-6 })];
    expect(sound.predictedInRoom.levelDb[0]! - plain.predictedInRoom.levelDb[0]!).toBeCloseTo(93.9794, 4);
    expect(sound.soundPowerDirectivityIndex.levelDb[0]).toBeCloseTo(plain.soundPowerDirectivityIndex.levelDb[0]!, 12);
    expect(() => polarLevels(one, { reference: 0 })).toThrow(/reference/);
  });
});

describe("sides", () => {
  // A piston turned to its own left (+y) and up.
  const turned = [pistonSource({ radius: 0.15, rotation: { azimuth: 30, elevation: 20 }, mounting: "simple" })];
  const at = (plane: "horizontal" | "vertical", angle: number): number =>
    polarLevels(polarMap(turned, [2000], { plane, angles: [-20, 0, 20], distance: 5 }))[(angle + 20) / 20]!;

  it("are positive to the loudspeaker's own left and up", () => {
    expect(at("horizontal", 20)).toBeGreaterThan(at("horizontal", -20) + 3);
    expect(at("vertical", 20)).toBeGreaterThan(at("vertical", -20) + 3);
    const { directions, re, im } = sphereMap(turned, [2000], { distance: 5 });
    const level = (azimuth: number, elevation: number): number => {
      const i = directions.findIndex(
        (direction) => Math.abs(direction.azimuth - azimuth) < 1e-6 && Math.abs(direction.elevation - elevation) < 1e-6,
      );
      return 20 * Math.log10(Math.hypot(re[i]!, im[i]!));
    };
    expect(level(30, 0)).toBeGreaterThan(level(-30, 0) + 3);
    expect(level(0, 20)).toBeGreaterThan(level(0, -20) + 3);
  });

  it("of a room: the ceiling is up, the floor is down, for averages", () => {
    const up = [pistonSource({ radius: 0.15, rotation: { elevation: 50 }, mounting: "simple" })];
    const { ceilingBounce, floorBounce } = spatialAverages({
      horizontal: polarMap(up, [2000]),
      vertical: polarMap(up, [2000], { plane: "vertical" }),
    });
    expect(ceilingBounce.levelDb[0]).toBeGreaterThan(floorBounce.levelDb[0]! + 6);
  });

  it("of a pair: maps of the wrong plane or of two distances are refused", () => {
    expect(() => spatialAverages({ horizontal: vertical, vertical: map })).toThrow(
      /"horizontal" must be a map of the horizontal plane, got one of the vertical plane/,
    );
    expect(() => powerResponse({ vertical: map })).toThrow(/"vertical" must be a map of the vertical plane/);
    expect(() =>
      spatialAverages({ horizontal: map, vertical: polarMap([source], [500, 1000], { plane: "vertical", distance: 3 }) }),
    ).toThrow(/same frequencies and distance/);
  });

  it("of marks: the slopes at a listener carry those of their sources", () => {
    const marked = frequencyResponse([500, 1000], [1, 1], [0, 0], [{ kind: "coarse", to: 700, note: "gate" }]);
    const measured = measuredSource({ distance: 1, horizontal: [{ angle: 0, response: marked }], symmetry: "axial", extrapolate: true });
    expect(listenerSensitivity([measured], [600], { point: [2, 0, 0] }).marks?.map(({ kind }) => kind)).toContain("coarse");
  });
});
