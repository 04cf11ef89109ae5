import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import { pointInDirection, type GivenPoint } from "../physics";
import { pointInSi } from "../physics/internal";
import { log10Modulus } from "../numeric/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { frequencyResponse, resample, type FrequencyResponse, type Mark } from "../response";
import { checkedGrid, checkResponse } from "../response/internal";
import { checkPolarMap } from "./check-data";
import { sumAt, summationKeys, type SummationOptions } from "./pressure-at";
import { addMarks, freezeField, sameFrequencies } from "./pressure-field";
import type { Source } from "./source";
import type { PolarMap } from "./field-data";

/** Options of `polarMap`. */
export interface PolarMapOptions extends SummationOptions {
  /** Default `"horizontal"`. */
  readonly plane?: "horizontal" | "vertical" | undefined;
  /** Degrees, ascending, −180 to 180; default every 5°. */
  readonly angles?: ArrayLike<number> | undefined;
  /** m; default 2. */
  readonly distance?: Length | undefined;
  /** The centre that angles and distance count from, m; default the origin of the coordinates. */
  readonly centre?: GivenPoint | undefined;
}

/**
 * A polar map: the field of sources on a circle, over angle and frequency; 1/m per unit drive, Pa when the drives are pressures at 1 m or
 * the sources measured.
 *
 * @param sources at least one
 * @param frequencies Hz, ascending
 * @param options plane, angles in degrees (azimuth positive towards +y, elevation positive up), distance in m, centre in m (x towards the
 *   listener, y to the loudspeaker's own left, z up), and how to sum
 * @returns the map, angles × frequencies
 * @throws DividingNetworkError as `pressureAt` does
 * @example
 * ```ts
 * import { pistonSource, polarLevels, polarMap } from "dividing-network/radiation";
 *
 * const map = polarMap([pistonSource({ radius: 0.1 })], [1638], { angles: [0, 30, 60], distance: 1000, air: { speedOfSound: 343 } });
 * polarLevels(map, { normalize: "axis" }); // [0, -2.5705, -8.8095]
 * ```
 */
export function polarMap(sources: readonly Source[], frequencies: ArrayLike<number>, options: PolarMapOptions = {}): PolarMap {
  const given = checkOptions("polarMap", options, ["plane", "angles", "distance", "centre", ...summationKeys]);
  const plane = checkOneOf("polarMap", "plane", given.plane ?? "horizontal", ["horizontal", "vertical"]);
  const angles = checkAngles("polarMap", given.angles ?? Array.from({ length: 73 }, (_, i) => 5 * i - 180));
  const distance = inSi("polarMap", "distance", given.distance ?? 2, "m", { above: 0 });
  const centre = pointInSi("polarMap", "centre", given.centre ?? [0, 0, 0]);
  const points = Array.from(angles, (angle) =>
    pointInDirection(plane === "horizontal" ? { azimuth: angle } : { elevation: angle }, distance, centre),
  );
  const field = sumAt("polarMap", sources, frequencies, points, given);
  return freezeField(
    { plane, angles, distance, frequencies: field.frequencies, re: field.re, im: field.im, errorEstimate: field.errorEstimate },
    field.marks ?? [],
  );
}

/**
 * A polar map from responses that exist already, measured or predicted one by one; in their unit.
 *
 * @param entries responses with their angles in degrees, in any order
 * @param options plane (default horizontal), distance in m (default 2), `frequencies` in Hz (default those of the first entry)
 * @returns the map, angles × frequencies
 * @throws DividingNetworkError when there is no entry, an angle is out of range or given twice, or an option is unknown
 * @example
 * ```ts
 * import { polarMapFromResponses } from "dividing-network/radiation";
 * import { frequencyResponse } from "dividing-network/response";
 *
 * const flat = frequencyResponse([100, 1000], [1, 1], [0, 0]);
 * polarMapFromResponses([{ angle: 30, response: flat }, { angle: 0, response: flat }]).angles; // [0, 30]
 * ```
 */
export function polarMapFromResponses(
  entries: readonly { readonly angle: number; readonly response: FrequencyResponse }[],
  options: {
    readonly plane?: "horizontal" | "vertical" | undefined;
    readonly distance?: Length | undefined;
    readonly frequencies?: ArrayLike<number> | undefined;
  } = {},
): PolarMap {
  const caller = "polarMapFromResponses";
  const given = checkOptions(caller, options, ["plane", "distance", "frequencies"]);
  const list: unknown = entries;
  if (!Array.isArray(list) || list.length === 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "entries" must be an array of at least one { angle, response }, got ${show(entries)}`,
    );
  }
  const checked = checkList<unknown>(caller, "entries", entries, "{ angle, response }").map((entry, i) => {
    const { angle, response } = checkOptions(caller, (entry ?? null) as { angle?: number; response?: unknown }, ["angle", "response"]);
    return {
      angle: checkNumber(caller, `entries[${i}].angle`, angle, { min: -180, max: 180, unit: "degrees" }),
      response: checkResponse(caller, `entries[${i}].response`, response),
    };
  });
  const sorted = [...checked].sort((a, b) => a.angle - b.angle);
  const angles = checkAngles(
    caller,
    sorted.map(({ angle }) => angle),
  );
  const responses = sorted.map(({ response }) => response);
  const frequencies = given.frequencies === undefined ? checked[0]!.response.frequencies : checkedGrid(caller, given.frequencies);
  const n = frequencies.length;
  const re = new Float64Array(angles.length * n);
  const im = new Float64Array(angles.length * n);
  const marks: Mark[] = [];
  responses.forEach((response, i) => {
    const ready = sameFrequencies(response.frequencies, frequencies) ? response : resample(response, frequencies);
    re.set(ready.re, i * n);
    im.set(ready.im, i * n);
    addMarks(marks, ready.marks);
  });
  const plane = checkOneOf(caller, "plane", given.plane ?? "horizontal", ["horizontal", "vertical"]);
  return freezeField(
    { plane, angles, distance: inSi(caller, "distance", given.distance ?? 2, "m", { above: 0 }), frequencies, re, im, errorEstimate: 0 },
    marks,
  );
}

/**
 * The levels of a polar map, dB, in the order of its values; −Infinity where there is no sound, 0 where the angle that it is normalised by has
 * none either.
 *
 * @param map angles × frequencies
 * @param options `normalize`: `"none"` (default), `"axis"` (each frequency against its level at 0°), `"maximum"` (each against its largest);
 *   `reference` of `"none"` in the map's unit, default 1 (20e-6 for a pressure in Pa)
 * @returns dB, angles × frequencies
 * @throws DividingNetworkError when an option is unknown, or the map has no 0° to normalise by; `silent-axis` when there is sound off the axis
 *   only
 * @example
 * ```ts
 * import { pointSource, polarLevels, polarMap } from "dividing-network/radiation";
 *
 * polarLevels(polarMap([pointSource()], [1000], { angles: [0, 90], distance: 2 })); // [-6.0206, -6.0206]
 * ```
 */
export function polarLevels(
  map: PolarMap,
  options: { readonly normalize?: "none" | "axis" | "maximum" | undefined; readonly reference?: number | undefined } = {},
): Float64Array {
  const { normalize = "none", reference = 1 } = checkOptions("polarLevels", options, ["normalize", "reference"]);
  const zero = 20 * Math.log10(checkNumber("polarLevels", "reference", reference, { above: 0 }));
  checkPolarMap("polarLevels", "map", map);
  checkOneOf("polarLevels", "normalize", normalize, ["none", "axis", "maximum"]);
  const n = map.frequencies.length;
  const levels = map.re.map((value, i) => 20 * log10Modulus(value, map.im[i]!));
  if (normalize === "none") return levels.map((level) => level - zero);
  const axis = normalize === "axis" ? axisIndex("polarLevels", map) : -1;
  for (let f = 0; f < n; f++) {
    let against = -Infinity;
    if (axis >= 0) against = levels[axis * n + f]!;
    else for (let i = 0; i < map.angles.length; i++) against = Math.max(against, levels[i * n + f]!);
    const sounds = (level: number, i: number): boolean => i % n === f && level > -Infinity;
    if (against === -Infinity && levels.some(sounds)) {
      throw new DividingNetworkError(
        "silent-axis",
        `polarLevels: there must be sound on the axis of "map" to normalise by it, got none at ${map.frequencies[f]} Hz, where other angles have some`,
        'Say normalize: "maximum", or leave that frequency out',
      );
    }
    for (let i = 0; i < map.angles.length; i++) levels[i * n + f] = levels[i * n + f] === against ? 0 : levels[i * n + f]! - against;
  }
  return levels;
}

/**
 * The response at one angle of a polar map, in the map's unit.
 *
 * @param map angles × frequencies
 * @param angle degrees, one of the map's
 * @returns the response
 * @throws DividingNetworkError when the map has no such angle
 * @example
 * ```ts
 * import { pointSource, polarMap, responseAtAngle } from "dividing-network/radiation";
 *
 * const map = polarMap([pointSource()], [0, 1000], { angles: [0, 90], distance: 2 });
 * responseAtAngle(map, 90).re[0]; // 0.5
 * ```
 */
export function responseAtAngle(map: PolarMap, angle: number): FrequencyResponse {
  checkPolarMap("responseAtAngle", "map", map);
  checkNumber("responseAtAngle", "angle", angle, { min: -180, max: 180, unit: "degrees" });
  const i = indexOfAngle("responseAtAngle", map, angle);
  const n = map.frequencies.length;
  return frequencyResponse(map.frequencies, map.re.slice(i * n, i * n + n), map.im.slice(i * n, i * n + n), map.marks);
}

/** Index of the axis, which the map must hold. */
export function axisIndex(caller: string, map: PolarMap): number {
  return indexOfAngle(caller, map, 0);
}

function indexOfAngle(caller: string, { angles }: PolarMap, angle: number): number {
  const i = angles.findIndex((candidate) => Math.abs(candidate - angle) < 1e-9);
  if (i < 0)
    throw new DividingNetworkError(
      "missing-angle",
      `${caller}: the map must hold ${angle}°, got angles from ${angles[0]}° to ${angles[angles.length - 1]}° without it`,
      "Compute or measure the map at that angle too",
    );
  return i;
}

function checkAngles(caller: string, angles: ArrayLike<number>): Float64Array {
  const listed = (Array.isArray(angles) || ArrayBuffer.isView(angles)) && angles.length > 0;
  if (!listed)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "angles" must be an array of at least one angle in degrees, got ${show(angles)}`,
    );
  for (let i = 0; i < angles.length; i++) {
    checkNumber(caller, `angles[${i}]`, angles[i], { min: -180, max: 180, unit: "degrees" });
    if (i > 0 && angles[i]! <= angles[i - 1]!)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "angles" must be strictly ascending, got ${angles[i]}° after ${angles[i - 1]}°`,
      );
  }
  return Float64Array.from(angles);
}
