import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import type { FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";

/**
 * Equivalent peak dissipation resistance in ohms: the resistor whose peak dissipation in the output devices of a class-B amplifier at full
 * swing (sine wave up to its supply voltage) is that of the load.
 *
 * $$\text{EPDR} = \frac{|Z|}{8 \sin^3(30^\circ + |\varphi|/3)}$$
 *
 * The device's dissipation is $(1 - \sin\theta)\sin(\theta + |\varphi|)$ times V²/|Z|; its maximum is at θ = 30° − 2|φ|/3. The result is |Z|
 * for a resistance and 0.19 |Z| for a pure reactance.
 *
 * @param impedance a `FrequencyResponse` in Ω, or one value `{ re, im }` in Ω; passive: re ≥ 0
 * @returns Ω: a `Float64Array` with one value per frequency, or one number
 * @throws DividingNetworkError `invalid-response`, `not-passive` where the real part is negative
 * Source: after Benjamin (1994); formula recomputed.
 * @example
 * ```ts
 * import { equivalentPeakDissipationResistance } from "dividing-network/parts";
 *
 * equivalentPeakDissipationResistance({ re: 4, im: 4 }); // 2
 * ```
 */
export function equivalentPeakDissipationResistance(impedance: FrequencyResponse): Float64Array;
export function equivalentPeakDissipationResistance(impedance: { readonly re: number; readonly im: number }): number;
export function equivalentPeakDissipationResistance(
  impedance: FrequencyResponse | { readonly re: number; readonly im: number },
): Float64Array | number {
  const caller = "equivalentPeakDissipationResistance";
  if (typeof impedance === "object" && impedance !== null && typeof impedance.re === "number" && typeof impedance.im === "number") {
    const { re, im } = impedance;
    if (!(Number.isFinite(re) && Number.isFinite(im)))
      throw new DividingNetworkError("invalid-argument", `${caller}: "impedance" must be finite, in Ω, got ${show(re)} + j(${show(im)})`);
    return peakResistance(caller, re, im, "");
  }
  const { frequencies, re, im } = checkResponse(caller, "impedance", impedance);
  return re.map((value, k) => peakResistance(caller, value, im[k]!, ` at ${frequencies[k]!} Hz`));
}

function peakResistance(caller: string, re: number, im: number, where: string): number {
  const largest = Math.max(Math.abs(re), Math.abs(im));
  if (largest === 0) return 0;
  // |Z| re the larger part: the sum of squares may leave what a number can hold, and the result does not.
  const size = Math.hypot(re / largest, im / largest);
  if (re / largest < -1e-9 * size) {
    throw new DividingNetworkError(
      "not-passive",
      `${caller}: "impedance" must have a real part of at least 0 Ω, got ${re} Ω${where}`,
      "A loudspeaker cannot give back more than it took; check the measurement's time zero",
    );
  }
  const phase = Math.min(Math.PI / 2, Math.abs(Math.atan2(im, re)));
  // Never above the larger part, but for rounding.
  return Math.min(1, size / (8 * Math.sin(Math.PI / 6 + phase / 3) ** 3)) * largest;
}
