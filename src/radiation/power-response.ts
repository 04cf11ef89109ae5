import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import type { Air } from "../physics";
import { checkAir } from "../physics/internal";
import type { FrequencyResponse, Mark } from "../response";
import { checkFlag, checkPlaneMap, checkPower, checkSphereMap } from "./check-data";
import { curve, difference, levelsOfSquares, type LevelCurve } from "./level-curve";
import { meridians } from "./meridians";
import { responseAtAngle } from "./polar-map";
import type { PolarMap } from "./field-data";
import { addMarks, freezeField, sameFrequencies } from "./pressure-field";
import type { SphereMap } from "./field-data";
import { zonalWeights } from "./zonal-weights";
import type { PowerResponse } from "./field-data";

/** Options of `powerResponse` for polar maps. */
export interface PowerOptions {
  /** `"half"`: nothing is radiated beyond 90°, as before a baffle. Default `"full"`. */
  readonly space?: "full" | "half" | undefined;
  /** Whether the outermost angle stands for all beyond it when a map does not reach the end; default false, which refuses. */
  readonly extrapolate?: boolean | undefined;
}

/**
 * Power response: the mean square of the pressure over the whole sphere, in the square of the map's unit, and its level in dB. From a
 * sphere map by its own weights. From polar maps by exact zonal areas along each half plane through the axis, the halves averaged: one cut
 * or two do not determine a sphere, so each half stands for an equal share of each zone, a model that the marks name.
 *
 * @param data a sphere map, or polar maps with 0° as `{ horizontal, vertical }`, either or both, of one distance and the same frequencies
 * @param options for polar maps: `space`, and whether to `extrapolate`
 * @returns mean square and level over frequency, the axis, the quadrature
 * @throws DividingNetworkError when maps do not fit together, do not reach all around (`outside-measured-range`), or an option is unknown; `overflow`
 *   when no number can hold a mean square
 * @example
 * ```ts
 * import { pistonSource, powerResponse, sphereMap, directivityIndex } from "dividing-network/radiation";
 *
 * const sphere = sphereMap([pistonSource({ radius: 0.1 })], [1091.8], { quadrature: "gauss", stepDegrees: 3, distance: 1000, air:
 * { speedOfSound: 343 } }); directivityIndex(powerResponse(sphere)).levelDb; // [5.8795]
 * ```
 */
export function powerResponse(
  data: SphereMap | { readonly horizontal?: PolarMap | undefined; readonly vertical?: PolarMap | undefined },
  options: PowerOptions = {},
): PowerResponse {
  const { space = "full", extrapolate: held } = checkOptions("powerResponse", options, ["space", "extrapolate"]);
  const extrapolate = checkFlag("powerResponse", "extrapolate", held);
  if (typeof data === "object" && data !== null && "weights" in data) {
    const { frequencies, weights, re, im, axis, distance, quadrature, marks } = checkSphereMap("powerResponse", "data", data);
    const meanSquare = new Float64Array(frequencies.length);
    weights.forEach((weight, i) => {
      for (let f = 0, at = i * frequencies.length; f < frequencies.length; f++, at++)
        meanSquare[f]! += weight * (re[at]! ** 2 + im[at]! ** 2);
    });
    return finish(frequencies, meanSquare, axis, distance, quadrature, marks ?? []);
  }
  const limit = checkOneOf("powerResponse", "space", space, ["full", "half"]) === "half" ? 90 : 180;
  const { horizontal, vertical } = checkOptions("powerResponse", data, ["horizontal", "vertical"]);
  const maps = (
    [
      ["horizontal", horizontal],
      ["vertical", vertical],
    ] as const
  ).flatMap(([plane, map]) => (map === undefined ? [] : [checkPlaneMap("powerResponse", plane, map)]));
  const first = maps[0];
  if (first === undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      'powerResponse: "data" must be a sphere map, or hold a horizontal or a vertical polar map, got neither',
    );
  for (const map of maps) {
    if (!sameFrequencies(map.frequencies, first.frequencies) || map.distance !== first.distance) {
      throw new DividingNetworkError(
        "invalid-argument",
        'powerResponse: "horizontal" and "vertical" must have the same frequencies and distance, got others',
        "Bring both to one grid with polarMapFromResponses",
      );
    }
  }
  const halves = maps.flatMap((map) => meridians("powerResponse", map));
  if (halves.length === 0) throw new DividingNetworkError("missing-angle", 'powerResponse: "data" must hold angles off the axis, got none');
  const n = first.frequencies.length;
  const meanSquare = new Float64Array(n);
  const marks: Mark[] = [];
  for (const map of maps) addMarks(marks, map.marks);
  for (const { map, angles, rows } of halves) {
    const used = angles.filter((angle) => angle <= limit + 1e-9).map((angle) => Math.min(angle, limit));
    const largest = used[used.length - 1]!;
    const step = used.length > 1 ? largest - used[used.length - 2]! : 0;
    if (largest + step / 2 < limit - 1e-9) {
      if (!extrapolate) {
        throw new DividingNetworkError(
          "outside-measured-range",
          `powerResponse: the ${map.plane} map must reach ${limit}° off the axis, got ${largest}°`,
          'Measure all around, or say space: "half" or extrapolate: true',
        );
      }
      addMarks(marks, [{ kind: "model", note: "Power response: beyond the measured angles the outermost measurement is held" }]);
    }
    zonalWeights(used, { limit }).forEach((weight, i) => {
      const row = rows[i]! * n;
      for (let f = 0; f < n; f++) meanSquare[f]! += (weight / halves.length) * (map.re[row + f]! ** 2 + map.im[row + f]! ** 2);
    });
  }
  const count = `${halves.length} half plane${halves.length > 1 ? "s" : ""}`;
  addMarks(marks, [
    {
      kind: "model",
      note: `Power response from ${count}: each stands for an equal share of every zone around the axis, since cuts do not determine a sphere`,
    },
  ]);
  const quadrature = `exact zonal areas along ${count} through the axis, up to ${limit}°`;
  return finish(first.frequencies, meanSquare, responseAtAngle(first, 0), first.distance, quadrature, marks);
}

function finish(
  frequencies: Float64Array,
  meanSquare: Float64Array,
  axis: FrequencyResponse,
  distance: number,
  quadrature: string,
  marks: readonly Mark[],
): PowerResponse {
  return freezeField(
    { frequencies, meanSquare, levelDb: levelsOfSquares("powerResponse", frequencies, meanSquare), axis, distance, quadrature },
    marks,
  );
}

/**
 * Directivity index, dB: the level on the axis against that of the mean over the sphere, $10\log_{10}(|p_0|^2/\overline{|p|^2})$.
 *
 * @param power what `powerResponse` gives
 * @returns dB over frequency
 * @throws DividingNetworkError `overflow` when no number can hold a square; `silent-average` when there is sound on the axis only
 * @example
 * ```ts
 * import { directivityIndex, pointSource, powerResponse, sphereMap } from "dividing-network/radiation";
 *
 * directivityIndex(powerResponse(sphereMap([pointSource()], [1000]))).levelDb; // [0]
 * ```
 */
export function directivityIndex(power: PowerResponse): LevelCurve {
  const own = checkPower("directivityIndex", "power", power);
  const { re, im } = own.axis;
  const axis = levelsOfSquares(
    "directivityIndex",
    own.frequencies,
    re.map((value, f) => value * value + im[f]! ** 2),
  );
  return curve(own.frequencies, difference("directivityIndex", own.frequencies, axis, own.levelDb), own.marks);
}

/**
 * Radiated acoustic power, W per frequency: $4\pi r^2\,\overline{|p|^2}/\rho c$ for pressures in Pa (root mean square).
 *
 * @param power what `powerResponse` gives for maps in Pa
 * @param options the `air` (°C, %, Pa; or m/s and kg/m³), default dry at 20 °C
 * @returns W, one per frequency
 * @throws DividingNetworkError when a condition of the air is unknown or out of range; `overflow` when no number can hold a power
 * @example
 * ```ts
 * import { pointSource, powerResponse, radiatedPower, sphereMap } from "dividing-network/radiation";
 *
 * // 1 Pa (94 dB) at 1 m all around.
 * radiatedPower(powerResponse(sphereMap([pointSource()], [1000])))[0]; // 0.030409
 * ```
 */
export function radiatedPower(power: PowerResponse, options: { readonly air?: Air | undefined } = {}): Float64Array {
  checkPower("radiatedPower", "power", power);
  const { density, speedOfSound } = checkAir("radiatedPower", checkOptions("radiatedPower", options, ["air"]).air);
  const scale = (4 * Math.PI * power.distance ** 2) / (density * speedOfSound);
  return power.meanSquare.map((square, f) => {
    const watts = scale * square;
    if (Number.isFinite(watts)) return watts;
    throw new DividingNetworkError(
      "overflow",
      `radiatedPower: the power at ${power.frequencies[f]} Hz must be a finite number, got ${watts} W`,
      "Check the unit of the maps: Pa",
    );
  });
}
