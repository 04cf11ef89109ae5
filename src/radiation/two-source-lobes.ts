import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import type { Air } from "../physics";
import { checkAir, cosDegrees } from "../physics/internal";
import { startWorking, type Frequency, type Length, type Working } from "../quantity";
import { inSi } from "../quantity/internal";

/** Options of `twoSourceLobes`. */
export interface TwoSourceOptions {
  /** m, between the two sources, one above the other. */
  readonly spacing: Length;
  /** Hz, above 0. */
  readonly frequency: Frequency;
  /** Degrees by which the upper source leads the lower one, −36 000 to 36 000, whole turns counting for nothing; default 0. */
  readonly phaseDegrees?: number | undefined;
  /** dB by which the upper source is louder than the lower one; default 0. */
  readonly levelDifferenceDb?: number | undefined;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
}

/** The lobes of two point sources far away. */
export interface TwoSourceLobes {
  /** Degrees of elevation, positive up, ascending: where the two arrive in phase. */
  readonly peaks: readonly number[];
  /** Degrees of elevation, ascending: where they arrive in opposite phase. */
  readonly nulls: readonly number[];
  /** The peak nearest to the axis, degrees, the upper of two that are as near; `undefined` when there is none within ±90°. */
  readonly mainLobe: number | undefined;
  /** dB against the axis; Infinity when the axis is a perfect null. */
  readonly peakDb: number;
  /** dB against the axis; −Infinity for a perfect null, 0 when that is the axis itself. */
  readonly nullDb: number;
  /** dB of the axis against both in phase. */
  readonly axisDb: number;
  /** How each number came about. */
  readonly working: Working;
}

const source = "two point sources, far field; after Linkwitz (1976)";

/**
 * Directions of the peaks and nulls of two point sources one above the other, far away, degrees of elevation (positive up). With ψ the
 * angle by which the upper source leads, they are in phase where $kd\sin\theta + \psi = 2\pi n$ and cancel where it is $\pi(2n+1)$. A main
 * lobe tilts to the side of the source that lags.
 *
 * @param options spacing in m, frequency in Hz, lead of the upper source in degrees, its level difference in dB, and the `air`
 * @returns peaks and nulls in degrees, levels in dB against the axis, and the working of the main lobe and the nearest null
 * @throws DividingNetworkError when an option is missing, unknown or out of range; `too-many-lobes` when the spacing is over 2000 wavelengths
 * @example
 * ```ts
 * import { twoSourceLobes } from "dividing-network/radiation";
 *
 * const inPhase = twoSourceLobes({ spacing: "0.15 m", frequency: "3 kHz", air: { speedOfSound: 343 } });
 * inPhase.nulls; // [-22.402524, 22.402524]
 * const oddOrder = twoSourceLobes({ spacing: "0.15 m", frequency: "3 kHz", phaseDegrees: -90, air: { speedOfSound: 343 } });
 * oddOrder.mainLobe; // 10.985208
 * oddOrder.peakDb; // 3.0103
 * ```
 */
export function twoSourceLobes(options: TwoSourceOptions): TwoSourceLobes {
  const caller = "twoSourceLobes";
  const { d, f, c, lead, ratio } = twoSources(caller, options, ["spacing", "frequency", "phaseDegrees", "levelDifferenceDb", "air"]);
  const working = startWorking();
  const wavelength = working.step(
    "λ",
    "m",
    { formula: "c / f", tex: "\\lambda = c/f", source: "definition of the wavelength" },
    { c: [c, "m/s"], f: [f, "Hz"] },
    ({ c, f }) => c / f,
  );
  if (d / wavelength > 2000)
    throw new DividingNetworkError(
      "too-many-lobes",
      `${caller}: "spacing" must be at most 2000 wavelengths, got ${d / wavelength}`,
      "Take a lower frequency",
    );
  const angles = (offset: number): number[] => {
    const found: number[] = [];
    const most = Math.ceil(d / wavelength) + 1;
    for (let n = -most; n <= most; n++) {
      const sine = ((n + offset - lead / 360) * wavelength) / d;
      // A lobe straight up or down is one even when rounding puts its sine a hair beyond 1.
      if (Math.abs(sine) <= 1 + 1e-12) found.push((Math.asin(Math.max(-1, Math.min(1, sine))) * 180) / Math.PI);
    }
    return found;
  };
  const peaks = angles(0);
  const nulls = angles(0.5);
  const mainLobe = nearest(peaks);
  const nearestNull = nearest(nulls);
  const step = (symbol: string, offset: number, angle: number | undefined): void => {
    if (angle === undefined) return;
    const order = Math.round((d / wavelength) * Math.sin((angle * Math.PI) / 180) + lead / 360 - offset);
    const tex = `\\theta = \\arcsin\\frac{(n + ${offset} - \\psi/360^\\circ)\\lambda}{d}`;
    working.step(
      symbol,
      "°",
      { formula: `asin((n + ${offset} − ψ/360°) λ / d)`, tex, source },
      { n: [order, ""], ψ: [lead, "°"], λ: [wavelength, "m"], d: [d, "m"] },
      ({ n, ψ, λ, d }) => (Math.asin(Math.max(-1, Math.min(1, ((n + offset - ψ / 360) * λ) / d))) * 180) / Math.PI,
    );
  };
  step("θ null", 0.5, nearestNull);
  step("θ lobe", 0, mainLobe);
  // |1 + r e^(jψ)|, without loss of digits near a null.
  const axis = Math.hypot(1 - ratio, 2 * Math.sqrt(ratio) * cosDegrees(lead / 2));
  const decibels = (value: number): number => 20 * Math.log10(value);
  return Object.freeze({
    peaks: Object.freeze(peaks),
    nulls: Object.freeze(nulls),
    mainLobe,
    peakDb: decibels((1 + ratio) / axis),
    nullDb: axis === 0 ? 0 : decibels(Math.abs(1 - ratio) / axis),
    axisDb: decibels(axis / (1 + ratio)),
    working: working.done(),
  });
}

/** The checked options of the functions for two sources: m, Hz, m/s, degrees within (−180, 180], amplitude ratio. */
export function twoSources(
  caller: string,
  options: TwoSourceOptions,
  keys: readonly string[],
): { d: number; f: number; c: number; lead: number; ratio: number } {
  const given = checkOptions(caller, options, keys);
  const d = inSi(caller, "spacing", given.spacing, "m", { above: 0 });
  const f = inSi(caller, "frequency", given.frequency, "Hz", { above: 0 });
  const phase = checkNumber(caller, "phaseDegrees", given.phaseDegrees ?? 0, { unit: "degrees", min: -36000, max: 36000 });
  const c = checkAir(caller, given.air).speedOfSound;
  // In wavelengths the sources must be apart, and each on its own must have a number.
  if (!(c / f < 1e300 && (d / c) * f > 1e-300)) {
    throw new DividingNetworkError(
      "overflow",
      `${caller}: "spacing" and "frequency" must make a share of a wavelength that a number can hold, got ${d} m at ${f} Hz`,
      "Give the spacing in m and the frequency in Hz",
    );
  }
  return {
    d,
    f,
    c,
    lead: phase - 360 * Math.ceil(phase / 360 - 0.5),
    ratio: 10 ** (checkNumber(caller, "levelDifferenceDb", given.levelDifferenceDb ?? 0, { unit: "dB", min: -200, max: 200 }) / 20),
  };
}

/** The angle nearest to another among ascending ones, the upper of two that are as near. */
export function nearest(angles: readonly number[], to = 0): number | undefined {
  let best: number | undefined;
  for (const angle of angles) if (best === undefined || Math.abs(angle - to) <= Math.abs(best - to)) best = angle;
  return best;
}
