// Tests src/radiation/: check-data.ts
// What one function gives and another takes may come back as a copy, from a worker say: the copy is as good, and one that is damaged is refused by the argument's name.
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "dividing-network/errors";
import {
  directivityIndex,
  pistonSource,
  polarLevels,
  polarMap,
  powerResponse,
  pressureAt,
  responseAtPoint,
  sphereMap,
} from "dividing-network/radiation";

type Loose = Record<string, unknown>;
const sources = [pistonSource({ radius: 0.06 })];
const frequencies = [500, 1000, 2000];
const map = polarMap(sources, frequencies, { angles: [-60, -30, 0, 30, 60] });
const field = pressureAt(sources, frequencies, {
  points: [
    [1, 0, 0],
    [1, 0.5, 0],
  ],
});
const sphere = sphereMap(sources, frequencies);
const power = powerResponse(sphere);

const changed = (values: Float64Array, index: number, value: number) =>
  Float64Array.from(values, (each, i) => (i === index ? value : each));
const common = (whole: { frequencies: Float64Array; re: Float64Array; im: Float64Array }): readonly [string, Loose][] => [
  ["frequencies as a list", { frequencies: [500, 1000, 2000] }],
  ["frequencies that fall", { frequencies: Float64Array.of(500, 2000, 1000) }],
  ["a frequency twice", { frequencies: Float64Array.of(500, 500, 1000) }],
  ["a frequency below 0", { frequencies: Float64Array.of(-1, 500, 1000) }],
  ["a frequency that is none", { frequencies: Float64Array.of(500, NaN, 1000) }],
  ["an endless frequency", { frequencies: Float64Array.of(500, 1000, Infinity) }],
  ["a frequency too few", { frequencies: Float64Array.of(500, 1000) }],
  ["no frequency", { frequencies: new Float64Array(0) }],
  ["no real parts", { re: undefined }],
  ["real parts too few", { re: whole.re.slice(1) }],
  ["imaginary parts too few", { im: whole.im.slice(1) }],
  ["a real part that is none", { re: changed(whole.re, 1, NaN) }],
  ["an endless imaginary part", { im: changed(whole.im, 1, Infinity) }],
];

describe.each<[string, string, Loose, (value: Loose) => unknown, readonly (readonly [string, Loose])[]]>([
  [
    "a polar map",
    "map",
    map as unknown as Loose,
    (value) => polarLevels(value as never),
    [
      ...common(map),
      ["no angles", { angles: new Float64Array(0) }],
      ["an angle that is none", { angles: changed(map.angles, 0, NaN) }],
      ["another plane", { plane: "diagonal" }],
      ["a distance of 0", { distance: 0 }],
      ["a distance in words", { distance: "1 m" }],
      ["an endless distance", { distance: Infinity }],
    ],
  ],
  [
    "a field",
    "field",
    field as unknown as Loose,
    (value) => responseAtPoint(value as never, 0),
    [
      ...common(field),
      ["no points", { points: undefined }],
      ["a point of two numbers", { points: [[1, 0], field.points[1]] }],
      ["a point in words", { points: [field.points[0], "right"] }],
      ["no estimate of its error", { errorEstimate: undefined }],
      ["an error that is none", { errorEstimate: NaN }],
    ],
  ],
  [
    "a sphere map",
    "data",
    sphere as unknown as Loose,
    (value) => powerResponse(value as never),
    [
      ...common(sphere),
      ["no weights", { weights: undefined }],
      ["weights too few", { weights: sphere.weights.slice(1) }],
      ["a weight that is none", { weights: changed(sphere.weights, 0, NaN) }],
      ["no axis", { axis: undefined }],
      ["a distance below 0", { distance: -1 }],
      ["no name of its sum", { quadrature: undefined }],
    ],
  ],
  [
    "a power response",
    "power",
    power as unknown as Loose,
    (value) => directivityIndex(value as never),
    [
      ["frequencies that fall", { frequencies: Float64Array.of(500, 2000, 1000) }],
      ["a frequency too few", { frequencies: Float64Array.of(500, 1000) }],
      ["mean squares too few", { meanSquare: power.meanSquare.slice(1) }],
      ["a mean square that is none", { meanSquare: changed(power.meanSquare, 2, NaN) }],
      ["no levels", { levelDb: undefined }],
      ["no axis", { axis: undefined }],
      ["no distance", { distance: undefined }],
    ],
  ],
])("%s", (_, argument, whole, take, damages) => {
  it("is taken as a copy, and gives the same", () => {
    expect(take({ ...whole })).toEqual(take(whole));
  });

  it.each(damages)("is refused with %s", (_name, damage) => {
    const run = () => take({ ...whole, ...damage });
    expect(run).toThrow(DividingNetworkError);
    expect(run).toThrow(`"${argument}`);
  });

  it("is refused where there is none", () => {
    for (const wrong of [undefined, null, 7, "map", []]) expect(() => take(wrong as never)).toThrow(DividingNetworkError);
  });
});
