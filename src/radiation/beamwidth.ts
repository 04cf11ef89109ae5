import { checkNumber, checkOptions } from "../errors/internal";
import type { Mark } from "../response";
import { checkPolarMap } from "./check-data";
import { bandIndices, type BandOptions } from "./frequency-band";
import { logMean } from "./level-curve";
import { axisIndex, polarLevels } from "./polar-map";
import type { PolarMap } from "./field-data";
import { freezeField } from "./pressure-field";

/** Angles over frequency, each side of the axis separately. */
export interface AngleCurve {
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  /** Degrees, 0 or more, towards positive angles. */
  readonly positive: Float64Array;
  /** Degrees, 0 or more, towards negative angles. */
  readonly negative: Float64Array;
  /** What must be known about parts of the band; absent when there is nothing. */
  readonly marks?: readonly Mark[];
}

/**
 * Beamwidth of a polar map over frequency, degrees each side of the axis: where the level first falls by the stated drop below the axis, by
 * linear interpolation of the level between angles. Where it never does, the outermost angle of that side is given.
 *
 * @param map angles × frequencies, with 0°
 * @param options `dropDb`, dB above 0; default 6
 * @returns degrees towards positive and negative angles; the full beamwidth is their sum
 * @throws DividingNetworkError when an option is unknown or out of range, or the map has no 0°;
 *   `silent-axis` when there is sound off the axis only
 * @example
 * ```ts
 * import { beamwidth, pistonSource, polarMap } from "dividing-network/radiation";
 *
 * const map = polarMap([pistonSource({ radius: 0.1 })], [2730], { angles: [-30, -27, -26, 0, 26, 27], distance: 1000, air: { speedOfSound: 343 } });
 * beamwidth(map, { dropDb: 6.0206 }).positive[0]; // 26.29
 * ```
 */
export function beamwidth(map: PolarMap, options: { readonly dropDb?: number | undefined } = {}): AngleCurve {
  const { dropDb = 6 } = checkOptions("beamwidth", options, ["dropDb"]);
  checkNumber("beamwidth", "dropDb", dropDb, { above: 0, unit: "dB" });
  return firstCrossing("beamwidth", checkPolarMap("beamwidth", "map", map), -dropDb, Infinity);
}

/** First angle each side of the axis where the level against the axis leaves [low, high] dB, over frequency. */
export function firstCrossing(caller: string, map: PolarMap, low: number, high: number): AngleCurve {
  const axis = axisIndex(caller, map);
  const levels = polarLevels(map, { normalize: "axis" });
  const n = map.frequencies.length;
  const side = (step: 1 | -1): Float64Array =>
    map.frequencies.map((_, f) => {
      for (let i = axis + step; i >= 0 && i < map.angles.length; i += step) {
        const level = levels[i * n + f]!;
        if (level >= low && level <= high) continue;
        const before = levels[(i - step) * n + f]!;
        const bound = level < low ? low : high;
        const share = Number.isFinite(level) ? (bound - before) / (level - before) : 1;
        return Math.abs(map.angles[i - step]! + share * (map.angles[i]! - map.angles[i - step]!));
      }
      return Math.abs(map.angles[step > 0 ? map.angles.length - 1 : 0]!);
    });
  return freezeField({ frequencies: map.frequencies, positive: side(1), negative: side(-1) }, map.marks ?? []);
}

/** How wide a map is over a band. */
export interface Coverage {
  /** Degrees, the mean of the full beamwidth over the logarithm of frequency. */
  readonly nominal: number;
  /** Where the full beamwidth is least. */
  readonly narrowest: {
    /** Degrees. */
    readonly angle: number;
    /** Hz. */
    readonly frequency: number;
  };
  /** Where it is largest. */
  readonly widest: {
    /** Degrees. */
    readonly angle: number;
    /** Hz. */
    readonly frequency: number;
  };
}

/**
 * Coverage of a polar map over a band, degrees: the full beamwidth, its mean over the logarithm of frequency, and its extremes.
 *
 * @param map angles × frequencies, with 0°
 * @param options `dropDb`, dB (default 6); `from` and `to`, Hz (default all)
 * @returns degrees, and Hz of the extremes
 * @throws DividingNetworkError when an option is unknown or out of range, the band is empty, or the map has no 0°;
 *   `silent-axis` when there is sound off the axis only
 * @example
 * ```ts
 * import { coverage, pointSource, polarMap } from "dividing-network/radiation";
 *
 * coverage(polarMap([pointSource()], [100, 1000])).nominal; // 360
 * ```
 */
export function coverage(map: PolarMap, options: BandOptions & { readonly dropDb?: number | undefined } = {}): Coverage {
  const { dropDb = 6, ...band } = checkOptions("coverage", options, ["dropDb", "from", "to"]);
  checkPolarMap("coverage", "map", map);
  const { positive, negative } = beamwidth(map, { dropDb });
  const { first, end } = bandIndices("coverage", map.frequencies, band);
  const full = positive.map((angle, f) => angle + negative[f]!);
  let [narrowest, widest] = [first, first];
  for (let f = first; f < end; f++) {
    if (full[f]! < full[narrowest]!) narrowest = f;
    if (full[f]! > full[widest]!) widest = f;
  }
  const at = (f: number) => Object.freeze({ angle: full[f]!, frequency: map.frequencies[f]! });
  return Object.freeze({ nominal: logMean(map.frequencies, full, first, end), narrowest: at(narrowest), widest: at(widest) });
}
