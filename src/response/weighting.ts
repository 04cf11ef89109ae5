import { checkOneOf } from "../errors/internal";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";

/**
 * Frequency weighting A or C in dB, 0 dB at 1 kHz; −∞ dB at 0 Hz.
 *
 * $$A(f) = 20 \lg \frac{f_4^2 f^4}{(f^2 + f_1^2) \sqrt{f^2 + f_2^2} \sqrt{f^2 + f_3^2} (f^2 + f_4^2)} - A_{1000}, \quad
 * C(f) = 20 \lg \frac{f_4^2 f^2}{(f^2 + f_1^2)(f^2 + f_4^2)} - C_{1000}$$
 *
 * with f₁ = 20.60, f₂ = 107.7, f₃ = 737.9 and f₄ = 12 194 Hz, and A₁₀₀₀, C₁₀₀₀ such that 1 kHz reads 0 dB.
 *
 * @param weighting `"A"` or `"C"`
 * @param frequency Hz, or text with its unit
 * @returns dB
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`
 * Source: after IEC 61672-1:2013, annex E; digits from a secondary text, recomputed.
 * @example
 * ```ts
 * import { weightingDb } from "dividing-network/response";
 *
 * weightingDb("A", 100); // -19.1
 * ```
 */
export function weightingDb(weighting: "A" | "C", frequency: Frequency): number {
  checkOneOf("weightingDb", "weighting", weighting, ["A", "C"]);
  const asked = inSi("weightingDb", "frequency", frequency, "Hz", { min: 0, max: 1e9 });
  const level = (f: number): number => {
    const s = f * f;
    const rest = (s + 20.6 ** 2) * (s + 12194 ** 2) * (weighting === "C" ? 1 : Math.sqrt((s + 107.7 ** 2) * (s + 737.9 ** 2)));
    // The power of f apart: a number can't hold it far below the audible.
    return (weighting === "C" ? 40 : 80) * Math.log10(f) - 20 * Math.log10(rest);
  };
  return level(asked) - level(1000);
}
