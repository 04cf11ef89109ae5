import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { sinDegrees } from "../physics/internal";
import { startWorking, type Working } from "../quantity";
import { nearest, twoSources, type TwoSourceOptions } from "./two-source-lobes";

/** Options of `arrayLobes`. */
export interface ArrayOptions extends Omit<TwoSourceOptions, "levelDifferenceDb"> {
  /** Sources one above the other, 2 to 1000. */
  readonly count: number;
}

/** Peaks and nulls of a uniform row of sources far away. */
export interface ArrayLobes {
  /** Degrees of elevation, ascending: all sources in phase (main and grating lobes). */
  readonly peaks: readonly number[];
  /** Degrees of elevation, ascending. */
  readonly nulls: readonly number[];
  /** The peak nearest to the axis, degrees, the upper of two that are as near; `undefined` when there is none within ±90°. */
  readonly mainLobe: number | undefined;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * Far-field directivity of n equal point sources at equal spacing, amplitude ratio to all in phase with its sign, dimensionless:
 * $\frac{\sin(n u/2)}{n\sin(u/2)}$ with $u = kd\sin\theta + \psi$.
 *
 * @param options `count` n; `kd`, wavenumber times spacing, dimensionless; `angle` of elevation and `phaseDegrees`, lead of each source
 *   over the one below (default 0), degrees
 * @returns amplitude ratio, dimensionless, −1 to 1
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { arrayDirectivity } from "dividing-network/radiation";
 *
 * arrayDirectivity({ count: 2, kd: Math.PI, angle: 30 }); // 0.70710678
 * ```
 */
export function arrayDirectivity(options: {
  readonly count: number;
  readonly kd: number;
  readonly angle: number;
  readonly phaseDegrees?: number | undefined;
}): number {
  const { count, kd, angle, phaseDegrees = 0 } = checkOptions("arrayDirectivity", options, ["count", "kd", "angle", "phaseDegrees"]);
  const n = checkNumber("arrayDirectivity", "count", count, { integer: true, min: 1, max: 1e6 });
  checkNumber("arrayDirectivity", "kd", kd, { min: 0, max: 1e6 });
  const sine = sinDegrees(checkNumber("arrayDirectivity", "angle", angle, { unit: "degrees" }));
  const lead = checkNumber("arrayDirectivity", "phaseDegrees", phaseDegrees, { unit: "degrees", min: -36000, max: 36000 });
  const half = (kd * sine + (lead * Math.PI) / 180) / 2;
  // Counted from the nearest peak, where the quotient is 0/0.
  const turns = Math.round(half / Math.PI);
  const rest = half - turns * Math.PI;
  const sign = turns % 2 !== 0 && n % 2 === 0 ? -1 : 1;
  return Math.abs(n * rest) < 1e-8 ? sign : (sign * Math.sin(n * rest)) / (n * Math.sin(rest));
}

/**
 * Directions of the peaks and nulls of n equal point sources at equal spacing one above the other, far away, degrees of elevation (positive
 * up): peaks where $kd\sin\theta + \psi = 2\pi m$, nulls where it is $2\pi m/n$ with m no multiple of n. ψ is the lead of each source over
 * the one below.
 *
 * @param options count, spacing in m, frequency in Hz, lead in degrees, and the `air`
 * @returns peaks and nulls in degrees, and the working of the main lobe and of the null nearest to it
 * @throws DividingNetworkError when an option is missing, unknown or out of range; `too-many-lobes` when there would be more than 10 000
 * @example
 * ```ts
 * import { arrayLobes } from "dividing-network/radiation";
 *
 * arrayLobes({ count: 4, spacing: 0.1, frequency: 1715, air: { speedOfSound: 343 } }).nulls; // [-90, -30, 30, 90]
 * ```
 */
export function arrayLobes(options: ArrayOptions): ArrayLobes {
  const caller = "arrayLobes";
  const { count, ...place } = checkOptions(caller, options, ["count", "spacing", "frequency", "phaseDegrees", "air"]);
  const n = checkNumber(caller, "count", count, { integer: true, min: 2, max: 1000 });
  const { d, f, c, lead } = twoSources(caller, place, ["spacing", "frequency", "phaseDegrees", "air"]);
  const wavelengths = (d * f) / c;
  if (n * wavelengths > 5000)
    throw new DividingNetworkError(
      "too-many-lobes",
      `${caller}: "spacing" must be at most ${5000 / n} wavelengths for ${n} sources, got ${wavelengths}`,
      "Take a lower frequency",
    );
  const working = startWorking();
  const source = "derived here: uniform row of point sources, far field";
  const angle = (m: number): number | undefined => {
    const sine = (m / n - lead / 360) / wavelengths;
    // A lobe along the row is one even when rounding puts its sine a hair beyond 1.
    return Math.abs(sine) > 1 + 1e-12 ? undefined : (Math.asin(Math.max(-1, Math.min(1, sine))) * 180) / Math.PI;
  };
  const peaks: number[] = [];
  const nulls: number[] = [];
  const reach = Math.ceil(n * wavelengths) + n;
  for (let m = -reach; m <= reach; m++) {
    const found = angle(m);
    if (found !== undefined) (m % n === 0 ? peaks : nulls).push(found);
  }
  const mainLobe = nearest(peaks);
  const record = (symbol: string, found: number | undefined): void => {
    if (found === undefined) return;
    const m = Math.round(n * (wavelengths * sinDegrees(found) + lead / 360));
    working.step(
      symbol,
      "°",
      { formula: "asin((m / n − ψ/360°) c / (f d))", tex: "\\theta = \\arcsin\\frac{(m/n - \\psi/360^\\circ)c}{fd}", source },
      { m: [m, ""], n: [n, ""], ψ: [lead, "°"], c: [c, "m/s"], f: [f, "Hz"], d: [d, "m"] },
      ({ m, n, ψ, c, f, d }) => (Math.asin(Math.max(-1, Math.min(1, ((m / n - ψ / 360) * c) / (f * d)))) * 180) / Math.PI,
    );
  };
  record("θ null", nearest(nulls, mainLobe));
  record("θ lobe", mainLobe);
  return Object.freeze({ peaks: Object.freeze(peaks), nulls: Object.freeze(nulls), mainLobe, working: working.done() });
}
