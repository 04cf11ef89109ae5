import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import { checkResponse } from "./check-response";
import { writeQuotient } from "./complex-quotient";
import { finiteResponse } from "./finite-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import { mergeMarks } from "./merge-marks";
import { resample } from "./resample";

/**
 * A measurement corrected by the microphone's calibration, in the measurement's unit: divided by the microphone's own response, which is
 * resampled to its frequencies.
 *
 * A calibration of levels alone has phase 0 and corrects levels alone; `minimumPhase` of it gives a phase where the microphone is
 * minimum-phase.
 *
 * @param response what was measured, any unit
 * @param calibration the microphone's own response, dimensionless: above 1 where it reads too high
 * @param options `outside`: what to do where the calibration ends before the measurement: `"refuse"` (default), or `"hold"` its end value
 *   and mark the band as uncertain
 * @returns the corrected response in the measurement's unit
 * @throws DividingNetworkError `outside-band`, `invalid-response`, `invalid-argument`, `overflow`
 * @example
 * ```ts
 * import { applyCalibration, frequencyResponse } from "dividing-network/response";
 *
 * const measured = frequencyResponse([100, 1000], [1, 1], [0, 0]);
 * const microphone = frequencyResponse([50, 100, 1000, 20000], [0.5, 0.8, 1, 1.25], [0, 0, 0, 0]);
 * applyCalibration(measured, microphone).re; // [1.25, 1]
 * ```
 */
export function applyCalibration(
  response: FrequencyResponse,
  calibration: FrequencyResponse,
  options?: { readonly outside?: "refuse" | "hold" | undefined },
): FrequencyResponse {
  const caller = "applyCalibration";
  const { frequencies, re, im } = checkResponse(caller, "response", response);
  const known = checkResponse(caller, "calibration", calibration);
  const { outside = "refuse" } = checkOptions(caller, options, ["outside"]);
  checkOneOf(caller, "outside", outside, ["refuse", "hold"]);
  const lowest = known.frequencies[0]!;
  const highest = known.frequencies[known.frequencies.length - 1]!;
  const first = frequencies.findIndex((f) => f >= lowest);
  let last = frequencies.length - 1;
  while (last >= 0 && frequencies[last]! > highest) last--;
  if (first < 0 || last < first || (outside === "refuse" && (first > 0 || last < frequencies.length - 1))) {
    throw new DividingNetworkError(
      "outside-band",
      `${caller}: "calibration" must cover the measurement, ${frequencies[0]!} Hz to ${frequencies[frequencies.length - 1]!} Hz, got ${lowest} Hz to ${highest} Hz`,
      'Cut the measurement to that band, or use outside: "hold" to go on with the end values',
    );
  }
  const inside = resample(known, frequencies.subarray(first, last + 1));
  const outRe = new Float64Array(re.length);
  const outIm = new Float64Array(re.length);
  for (let k = 0; k < re.length; k++) {
    const i = Math.min(last, Math.max(first, k)) - first;
    const c = inside.re[i]!;
    const d = inside.im[i]!;
    if (c === 0 && d === 0)
      throw new DividingNetworkError(
        "invalid-response",
        `${caller}: "calibration" must be above zero, got 0 at ${inside.frequencies[i]!} Hz`,
      );
    writeQuotient(re[k]!, im[k]!, c, d, outRe, outIm, k);
  }
  const held: Mark[] = [];
  if (first > 0) held.push({ kind: "uncertain", to: lowest, note: `the calibration ends at ${lowest} Hz; its last value was held below` });
  if (last < re.length - 1)
    held.push({ kind: "uncertain", from: highest, note: `the calibration ends at ${highest} Hz; its last value was held above` });
  return finiteResponse(caller, frequencies, outRe, outIm, [
    ...mergeMarks([response, calibration]),
    ...held.map((mark) => Object.freeze(mark)),
  ]);
}
