import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { checkPolarMap } from "./check-data";
import { bandIndices, type BandOptions } from "./frequency-band";
import { curve, logMean, type LevelCurve } from "./level-curve";
import { axisIndex, polarLevels } from "./polar-map";
import type { PolarMap } from "./field-data";

/** How one side of the axis differs from it. */
export interface SideStability {
  /**
   * dB, root mean square of the deviation over the angle, from the axis to the end of the window, and over the logarithm of frequency; Infinity when
   * there is no sound at all at one of the angles.
   */
  readonly rmsDb: number;
  /** The largest deviation in size at the map's angles within window and band; dB with its sign. */
  readonly worst: {
    /** dB with its sign. */
    readonly deviationDb: number;
    /** Degrees. */
    readonly angle: number;
    /** Hz. */
    readonly frequency: number;
  };
  /** dB with its sign, over all frequencies of the map: the deviation of largest size at the map's angles within the window. */
  readonly deviation: LevelCurve;
}

/** How stable a response is off the axis. */
export interface OffAxisStability {
  /** dB, the larger of the two sides' root mean squares: one figure, 0 is perfect. */
  readonly figureDb: number;
  /** Towards positive angles. */
  readonly positive: SideStability;
  /** Towards negative angles. */
  readonly negative: SideStability;
}

/**
 * How far the response off the axis strays from the one on it within a stated angle, dB: one figure, and each side of the axis separately
 * with its curve. The figures are integrals over angle and the logarithm of frequency, whatever the places of the map: between angles the
 * level runs straight, between frequencies its mean square does. A map that ends within the window counts as far as it reaches.
 *
 * @param map angles × frequencies, with 0° and at least one angle within the window on each side
 * @param options `window`, degrees each side; `from` and `to`, Hz (default all): the crossover region, say
 * @returns figures in dB, degrees and Hz of the worst places, deviation over frequency in dB
 * @throws DividingNetworkError when an option is missing, unknown or out of range, the band is empty, or the map lacks angles;
 *   `silent-axis` when there is sound off the axis only
 * @example
 * ```ts
 * import { offAxisStability, pointSource, polarMap } from "dividing-network/radiation";
 *
 * offAxisStability(polarMap([pointSource()], [500, 1000, 2000]), { window: 30 }).figureDb; // 0
 * ```
 */
export function offAxisStability(map: PolarMap, options: BandOptions & { readonly window: number }): OffAxisStability {
  const { window, ...band } = checkOptions("offAxisStability", options, ["window", "from", "to"]);
  checkNumber("offAxisStability", "window", window, { above: 0, max: 180, unit: "degrees" });
  map = checkPolarMap("offAxisStability", "map", map);
  const { first, end } = bandIndices("offAxisStability", map.frequencies, band);
  const axis = axisIndex("offAxisStability", map);
  const levels = polarLevels(map, { normalize: "axis" });
  const n = map.frequencies.length;
  const side = (sign: 1 | -1): SideStability => {
    const rows = [...map.angles.keys()].filter((i) => map.angles[i]! * sign > 0 && map.angles[i]! * sign <= window + 1e-9);
    if (rows.length === 0) {
      throw new DividingNetworkError(
        "missing-angle",
        `offAxisStability: the map must hold an angle within ${window}° on both sides of the axis, got none on the ${sign > 0 ? "positive" : "negative"} side`,
        "Compute or measure the map at more angles, or widen the window",
      );
    }
    const strongest = map.frequencies.map((_, f) =>
      rows.reduce((best, i) => (Math.abs(levels[i * n + f]!) > Math.abs(best) ? levels[i * n + f]! : best), 0),
    );
    let worst = { deviationDb: 0, angle: map.angles[rows[0]!]!, frequency: map.frequencies[first]! };
    const squares = new Float64Array(n);
    for (let f = first; f < end; f++) {
      squares[f] = meanSquare(map.angles, (i) => levels[i * n + f]!, axis, sign, window);
      for (const i of rows) {
        const deviationDb = levels[i * n + f]!;
        if (Math.abs(deviationDb) > Math.abs(worst.deviationDb))
          worst = { deviationDb, angle: map.angles[i]!, frequency: map.frequencies[f]! };
      }
    }
    return Object.freeze({
      rmsDb: Math.sqrt(logMean(map.frequencies, squares, first, end)),
      worst: Object.freeze(worst),
      deviation: curve(map.frequencies, strongest, map.marks),
    });
  };
  const [positive, negative] = [side(1), side(-1)];
  return Object.freeze({ figureDb: Math.max(positive.rmsDb, negative.rmsDb), positive, negative });
}

/**
 * Mean square of a level over the angle from the axis to the window's end, or to the last angle before it when the map ends or is silent at the next;
 * Infinity where there is silence within the window.
 */
function meanSquare(angles: Float64Array, level: (i: number) => number, axis: number, sign: 1 | -1, window: number): number {
  let [sum, reached] = [0, 0];
  for (let i = axis + sign; angles[i] !== undefined && reached < window - 1e-9; i += sign) {
    const width = Math.abs(angles[i]!) - reached;
    const share = Math.min(1, (window - reached) / width);
    const [a, end] = [level(i - sign), level(i)];
    if (!Number.isFinite(a + end)) return share < 1 && Number.isFinite(a) ? sum / reached : Infinity;
    const b = a + share * (end - a);
    // The mean square of a straight run from a to b.
    sum += (share * width * (a * a + a * b + b * b)) / 3;
    reached += share * width;
  }
  return sum / reached;
}
