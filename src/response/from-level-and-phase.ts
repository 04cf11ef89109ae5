import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import { frequencyResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";

/**
 * A response from its levels in dB and its phases in degrees, in the unit of the reference.
 *
 * $H = H_0\, 10^{L/20}\, e^{j\varphi}$
 *
 * @param frequencies Hz, at least 0, strictly ascending, length n
 * @param levelDb dB relative to the reference, length n; −∞ dB for zero
 * @param phaseDegrees degrees, wrapped or not, length n
 * @param options `reference` H₀ in the unit of the result, above 0, default 1; `marks` for the result
 * @returns the response, unit of the reference
 * @throws DividingNetworkError `invalid-response`, `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { fromLevelAndPhase, valueAt } from "dividing-network";
 *
 * const pressure = fromLevelAndPhase([1000], [94], [-90], { reference: 20e-6 });
 * valueAt(pressure, 1000).im; // -1.0024
 * ```
 */
export function fromLevelAndPhase(
  frequencies: ArrayLike<number>,
  levelDb: ArrayLike<number>,
  phaseDegrees: ArrayLike<number>,
  options?: { readonly reference?: number | undefined; readonly marks?: readonly Mark[] | undefined },
): FrequencyResponse {
  const caller = "fromLevelAndPhase";
  const { reference = 1, marks = [] } = checkOptions(caller, options, ["reference", "marks"]);
  checkNumber(caller, "reference", reference, { above: 0 });
  const lists = [
    ["frequencies", frequencies],
    ["levelDb", levelDb],
    ["phaseDegrees", phaseDegrees],
  ] as const;
  for (const [name, list] of lists) {
    if ((!Array.isArray(list) && !ArrayBuffer.isView(list)) || list.length !== frequencies.length) {
      throw new DividingNetworkError(
        "invalid-response",
        `${caller}: "${name}" must be an array of as many numbers as there are frequencies, got ${show(list)}`,
      );
    }
  }
  const n = frequencies.length;
  const [re, im] = [new Float64Array(n), new Float64Array(n)];
  for (let i = 0; i < n; i++) {
    const [level, phase]: readonly unknown[] = [levelDb[i], phaseDegrees[i]];
    const size = typeof level === "number" ? reference * 10 ** (level / 20) : NaN;
    if (!Number.isFinite(size)) {
      throw new DividingNetworkError(
        "invalid-response",
        `${caller}: "levelDb" must hold numbers in dB, −∞ for zero, got ${show(level)} at index ${i}`,
      );
    }
    if (typeof phase !== "number" || !Number.isFinite(phase)) {
      throw new DividingNetworkError(
        "invalid-response",
        `${caller}: "phaseDegrees" must hold finite numbers in degrees, got ${show(phase)} at index ${i}`,
      );
    }
    const [c, s] = unitPhasor(phase);
    re[i] = size * c;
    im[i] = size * s;
  }
  return frequencyResponse(frequencies, re, im, marks);
}

/** Cosine and sine of an angle in degrees; whole turns are taken off exactly, quarter turns are exact. */
export function unitPhasor(degrees: number): readonly [cosine: number, sine: number] {
  const rest = degrees % 360;
  if (rest % 90 === 0)
    return [
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
    ][(rest / 90 + 4) % 4] as [number, number];
  const angle = rest * (Math.PI / 180);
  return [Math.cos(angle), Math.sin(angle)];
}
