import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import type { GivenPoint, Point } from "../physics";
import { pointInSi } from "../physics/internal";
import { log10Modulus } from "../numeric/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import type { Mark } from "../response";
import { sumAt, summationKeys, type SummationOptions } from "./pressure-at";
import { freezeField } from "./pressure-field";
import type { Source } from "./source";

/** How fast the level changes when the listener moves. */
export interface ListenerSensitivity {
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  /** dB re 1 of the drive's unit per metre, at the listener. */
  readonly levelDb: Float64Array;
  /** dB per metre of height (+z). */
  readonly heightDbPerMetre: Float64Array;
  /** dB per doubling of the distance from the centre: −6 far from all sources, about −3 before a tall line. */
  readonly distanceDbPerDoubling: Float64Array;
  /** What must be known about parts of the band; absent when there is nothing. */
  readonly marks?: readonly Mark[];
}

/** Options of `listenerSensitivity`. */
export interface ListenerOptions extends SummationOptions {
  /** Where the listener is, m. */
  readonly point: GivenPoint;
  /** m, what the distance is counted from; default the origin of the coordinates. */
  readonly centre?: GivenPoint | undefined;
  /** m, by which the listener is moved up and down; default 0.01. */
  readonly step?: Length | undefined;
}

/**
 * Sensitivity of the level to the listener's height, dB per metre, and to the distance, dB per doubling; by central differences over ± a
 * step of height, and over ±0.7 % of distance.
 *
 * @param sources at least one
 * @param frequencies Hz, ascending
 * @param options `point` in m (required; x towards the listener, y to the loudspeaker's own left, z up), `centre` and `step` in m, and how
 *   to sum
 * @returns levels in dB and their slopes over frequency
 * @throws DividingNetworkError as `pressureAt` does; `silent-point` when there is no sound at one of the places
 * @example
 * ```ts
 * import { lineSource, listenerSensitivity } from "dividing-network/radiation";
 *
 * const tall = listenerSensitivity([lineSource({ length: 20 })], [1000], { point: [1, 0, 0] });
 * tall.distanceDbPerDoubling; // [-3.02]
 * ```
 */
export function listenerSensitivity(
  sources: readonly Source[],
  frequencies: ArrayLike<number>,
  options: ListenerOptions,
): ListenerSensitivity {
  const caller = "listenerSensitivity";
  const given = checkOptions(caller, options, ["point", "centre", "step", ...summationKeys]);
  const [x, y, z] = pointInSi(caller, "point", given.point);
  const [cx, cy, cz] = pointInSi(caller, "centre", given.centre ?? [0, 0, 0]);
  checkNumber(caller, "distance of point and centre", Math.hypot(x - cx, y - cy, z - cz), { above: 0, unit: "m" });
  const step = inSi(caller, "step", given.step ?? 0.01, "m", { above: 0 });
  const octaves = 0.01;
  const scaled = (factor: number): Point => [cx + factor * (x - cx), cy + factor * (y - cy), cz + factor * (z - cz)];
  const points: Point[] = [[x, y, z], [x, y, z + step], [x, y, z - step], scaled(2 ** octaves), scaled(2 ** -octaves)];
  const field = sumAt(caller, sources, frequencies, points, { tolerance: 1e-8, ...given });
  const n = field.frequencies.length;
  const level = (p: number): Float64Array =>
    field.frequencies.map((frequency, f) => {
      const size = log10Modulus(field.re[p * n + f]!, field.im[p * n + f]!);
      if (size === -Infinity)
        throw new DividingNetworkError(
          "silent-point",
          `${caller}: there must be sound at the listener and beside, got none at ${frequency} Hz`,
          "Move the listener off the null",
        );
      return 20 * size;
    });
  const slope = (up: Float64Array, down: Float64Array, by: number): Float64Array => up.map((value, f) => (value - down[f]!) / (2 * by));
  return freezeField(
    {
      frequencies: field.frequencies,
      levelDb: level(0),
      heightDbPerMetre: slope(level(1), level(2), step),
      distanceDbPerDoubling: slope(level(3), level(4), octaves),
    },
    field.marks ?? [],
  );
}
