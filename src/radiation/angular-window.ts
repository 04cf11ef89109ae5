import { checkNumber, checkOptions } from "../errors/internal";
import { checkPolarMap } from "./check-data";
import { firstCrossing, type AngleCurve } from "./beamwidth";
import { bandIndices, type BandOptions } from "./frequency-band";
import type { PolarMap } from "./field-data";

/** The window around the axis within which a loudspeaker stays close to its response on it. */
export interface AngularWindow {
  /** Degrees towards positive angles, over the whole band. */
  readonly positive: number;
  /** Degrees towards negative angles, over the whole band. */
  readonly negative: number;
  /** Hz, where each side is narrowest. */
  readonly positiveFrequency: number;
  /** Hz, where the side of negative angles is narrowest. */
  readonly negativeFrequency: number;
  /** The window over all frequencies of the map. */
  readonly curve: AngleCurve;
}

/**
 * The window around the axis, degrees each side, within which the level stays within ±x dB of the axis at every frequency of a band (the
 * crossover region, say); by linear interpolation of the level between angles.
 *
 * @param map angles × frequencies, with 0°
 * @param options `withinDb` x, dB above 0; `from` and `to`, Hz (default all)
 * @returns degrees each side over the band, where it is narrowest in Hz, and degrees over frequency
 * @throws DividingNetworkError when an option is missing, unknown or out of range, the band is empty, or the map has no 0°;
 *   `silent-axis` when there is sound off the axis only
 * @example
 * ```ts
 * import { angularWindow, pointSource, polarMap } from "dividing-network/radiation";
 *
 * const two = [pointSource({ position: [0, 0, 0.075] }), pointSource({ position: [0, 0, -0.075] })];
 * const angles = Array.from({ length: 361 }, (_, i) => (i - 180) / 10);
 * const map = polarMap(two, [3000], { plane: "vertical", angles, distance: 1000, air: { speedOfSound: 343 } });
 * angularWindow(map, { withinDb: 3 }).positive; // 10.968
 * ```
 */
export function angularWindow(map: PolarMap, options: BandOptions & { readonly withinDb: number }): AngularWindow {
  const { withinDb, ...band } = checkOptions("angularWindow", options, ["withinDb", "from", "to"]);
  checkNumber("angularWindow", "withinDb", withinDb, { above: 0, unit: "dB" });
  const own = checkPolarMap("angularWindow", "map", map);
  const { first, end } = bandIndices("angularWindow", own.frequencies, band);
  const curve = firstCrossing("angularWindow", own, -withinDb, withinDb);
  let [positive, negative] = [first, first];
  for (let f = first; f < end; f++) {
    if (curve.positive[f]! < curve.positive[positive]!) positive = f;
    if (curve.negative[f]! < curve.negative[negative]!) negative = f;
  }
  return Object.freeze({
    positive: curve.positive[positive]!,
    negative: curve.negative[negative]!,
    positiveFrequency: own.frequencies[positive]!,
    negativeFrequency: own.frequencies[negative]!,
    curve,
  });
}
