import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkOptions, show } from "../errors/internal";
import { log10Modulus } from "../numeric/internal";
import { checkResponse } from "./check-response";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import { mergeMarks } from "./merge-marks";
import { checkSameGrid } from "./same-grid";

/** The mean of repeated measurements with their spread. */
export interface AveragedMeasurements {
  /** Complex mean; marked uncertain where one standard deviation of its level exceeds the threshold. */
  readonly response: FrequencyResponse;
  /** Number of measurements. */
  readonly count: number;
  /** dB, one per frequency: standard deviation of one measurement's level. */
  readonly levelDeviationDb: Float64Array;
  /** Degrees, one per frequency: standard deviation of one measurement's phase about the mean's. */
  readonly phaseDeviationDegrees: Float64Array;
  /** dB and degrees: standard uncertainty of the mean, the deviation divided by the root of the count. */
  readonly levelUncertaintyDb: Float64Array;
  /** Degrees, one per frequency: the same for the phase. */
  readonly phaseUncertaintyDegrees: Float64Array;
}

/**
 * Repeated measurements of one thing averaged as complex values, in their unit, with their spread as an uncertainty in dB and degrees.
 *
 * Where the mean's level is uncertain by more than `thresholdDb`, or the level of the complex mean lies more than that below the mean
 * level (the phases disagree), the result is marked uncertain, and later findings carry the mark.
 *
 * @param responses at least two, with the same frequencies and one time zero
 * @param options `thresholdDb` of the mark in dB, default 0.5
 * @returns the mean in the responses' unit and its uncertainties in dB and degrees
 * @throws DividingNetworkError `invalid-argument` for fewer than two, `grid-mismatch`; `invalid-response` where one is zero
 * @example
 * ```ts
 * import { averageMeasurements, frequencyResponse } from "dividing-network/response";
 *
 * const runs = [0.9, 1, 1.1].map((value) => frequencyResponse([1000], [value], [0]));
 * averageMeasurements(runs).levelDeviationDb; // [0.8719]
 * ```
 */
export function averageMeasurements(
  responses: readonly FrequencyResponse[],
  options?: { readonly thresholdDb?: number | undefined },
): AveragedMeasurements {
  const caller = "averageMeasurements";
  const { thresholdDb = 0.5 } = checkOptions(caller, options, ["thresholdDb"]);
  checkNumber(caller, "thresholdDb", thresholdDb, { above: 0, unit: "dB" });
  if (!Array.isArray(responses) || responses.length < 2) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "responses" must be an array of at least two responses, got ${show(responses)}`,
    );
  }
  const runs = checkList(caller, "responses", responses, "responses").map((response, i) =>
    checkResponse(caller, `responses[${i}]`, response),
  );
  const { frequencies } = runs[0]!;
  for (const run of runs) checkSameGrid(caller, runs[0]!, run);
  const count = runs.length;
  const n = frequencies.length;
  const re = new Float64Array(n);
  const im = new Float64Array(n);
  const levelDeviationDb = new Float64Array(n);
  const phaseDeviationDegrees = new Float64Array(n);
  const disagree = new Uint8Array(n);
  for (let k = 0; k < n; k++) {
    const levels = runs.map((run) => 20 * log10Modulus(run.re[k]!, run.im[k]!));
    if (levels.includes(-Infinity))
      throw new DividingNetworkError("invalid-response", `${caller}: every measurement must be above zero, got 0 at ${frequencies[k]!} Hz`);
    for (const run of runs) {
      re[k]! += run.re[k]! / count;
      im[k]! += run.im[k]! / count;
    }
    const meanLevel = levels.reduce((sum, level) => sum + level, 0) / count;
    const meanPhase = Math.atan2(im[k]!, re[k]!);
    const phases = runs.map((run) => {
      const apart = Math.atan2(run.im[k]!, run.re[k]!) - meanPhase;
      return apart - 2 * Math.PI * Math.round(apart / (2 * Math.PI));
    });
    levelDeviationDb[k] = Math.sqrt(levels.reduce((sum, level) => sum + (level - meanLevel) ** 2, 0) / (count - 1));
    phaseDeviationDegrees[k] = (180 / Math.PI) * Math.sqrt(phases.reduce((sum, phase) => sum + phase * phase, 0) / (count - 1));
    const lost = meanLevel - 20 * log10Modulus(re[k]!, im[k]!);
    disagree[k] = levelDeviationDb[k]! / Math.sqrt(count) > thresholdDb || lost > thresholdDb ? 1 : 0;
  }
  const root = Math.sqrt(count);
  const marks: Mark[] = [];
  for (let k = 0; k < n; k++) {
    if (disagree[k] === 0) continue;
    const from = frequencies[k]!;
    while (k + 1 < n && disagree[k + 1] === 1) k++;
    marks.push(
      Object.freeze({
        kind: "uncertain",
        from,
        to: frequencies[k]!,
        note: `${count} measurements differ: their mean is uncertain by more than ${thresholdDb} dB`,
      }),
    );
  }
  return Object.freeze({
    response: freezeResponse(frequencies, re, im, [...mergeMarks(runs), ...marks]),
    count,
    levelDeviationDb,
    phaseDeviationDegrees,
    levelUncertaintyDb: levelDeviationDb.map((value) => value / root),
    phaseUncertaintyDegrees: phaseDeviationDegrees.map((value) => value / root),
  });
}
