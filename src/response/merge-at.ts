import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { log10Modulus } from "../numeric/internal";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import { resample } from "./resample";
import { unitTurn } from "./unit-turn";

/** How two responses are joined. */
export interface MergeOptions {
  /** Hz or text with its unit: where one takes over from the other. */
  readonly frequency: Frequency;
  /** Octaves, centred on `frequency`, over which one is faded into the other and in which both are compared; default 1/3. */
  readonly overlapOctaves?: number | undefined;
  /** Scale the low response to the high one's level in the overlap; default false. */
  readonly matchLevel?: boolean | undefined;
  /** Turn and delay the low response to the high one's phase in the overlap; default false. */
  readonly matchPhase?: boolean | undefined;
}

/** A joined response, and how well its two parts met before anything was matched. */
export interface Merged {
  /** The low response below, the high one above, faded over the overlap. */
  readonly response: FrequencyResponse;
  /** dB, low minus high: mean over the overlap. */
  readonly levelDifferenceDb: number;
  /** dB: standard deviation over the overlap. */
  readonly levelSpreadDb: number;
  /** Degrees, low minus high, at `frequency`. */
  readonly phaseDifferenceDegrees: number;
  /** s: how much later the low response is, from the slope of the phase difference over the overlap. */
  readonly delayDifference: number;
}

/**
 * One response from two: `low` below a stated frequency, `high` above it, faded over an overlap as complex values; with the match of
 * level (dB), phase (degrees) and delay (s) in the overlap reported.
 *
 * The fade's weights are a raised cosine over ln f and add to 1, so where both agree the result is theirs. Where they do not, a phase
 * difference makes a dip: 90° cost 3 dB in the middle. The result is marked as a splice over the overlap; each part's
 * marks are kept where it is used.
 *
 * @param low response for the lower band, any unit
 * @param high response for the upper band, in the same unit
 * @param options `frequency` in Hz, `overlapOctaves` in octaves
 * @returns the joined response in the inputs' unit, and the match before matching
 * @throws DividingNetworkError `outside-band` when the overlap is not inside both; `invalid-response`, `invalid-argument`
 * @example
 * ```ts
 * import { frequencyResponse, mergeAt } from "dividing-network/response";
 *
 * const low = frequencyResponse([50, 100, 200, 400], [2, 2, 2, 2], [0, 0, 0, 0]);
 * const high = frequencyResponse([100, 200, 400, 800], [1, 1, 1, 1], [0, 0, 0, 0]);
 * mergeAt(low, high, { frequency: 200, overlapOctaves: 1 }).levelDifferenceDb; // 6.0206
 * ```
 */
export function mergeAt(low: FrequencyResponse, high: FrequencyResponse, options: MergeOptions): Merged {
  const caller = "mergeAt";
  const [lowOwn, highOwn] = [checkResponse(caller, "low", low), checkResponse(caller, "high", high)];
  const {
    frequency,
    overlapOctaves = 1 / 3,
    matchLevel = false,
    matchPhase = false,
  } = checkOptions(caller, options, ["frequency", "overlapOctaves", "matchLevel", "matchPhase"]);
  const middle = inSi(caller, "frequency", frequency, "Hz", { above: 0 });
  checkNumber(caller, "overlapOctaves", overlapOctaves, { min: 0.02, max: 6, unit: "octaves" });
  const from = middle * 2 ** (-overlapOctaves / 2);
  const to = middle * 2 ** (overlapOctaves / 2);
  for (const [name, { frequencies }] of [
    ["low", lowOwn],
    ["high", highOwn],
  ] as const) {
    const [first, last] = [frequencies[0]!, frequencies[frequencies.length - 1]!];
    if (first > from || last < to) {
      throw new DividingNetworkError(
        "outside-band",
        `${caller}: "${name}" must cover the overlap, ${from.toPrecision(4)} Hz to ${to.toPrecision(4)} Hz, got ${first} Hz to ${last} Hz`,
        "Choose another frequency or a narrower overlap",
      );
    }
  }
  const match = compare(lowOwn, highOwn, from, to, middle);
  const gain = matchLevel ? 10 ** (-match.levelDifferenceDb / 20) : 1;
  const turnBy = (f: number): number => (matchPhase ? -match.phaseDifferenceDegrees / 360 + (f - middle) * match.delayDifference : 0);

  const below = lowOwn.frequencies.filter((f) => f < from);
  const above = highOwn.frequencies.filter((f) => f > to);
  const denser = [lowOwn, highOwn]
    .map(({ frequencies }) => frequencies.filter((f) => f >= from && f <= to))
    .sort((a, b) => b.length - a.length)[0]!;
  const grid = joined(below, denser, above);
  const re = new Float64Array(grid.length);
  const im = new Float64Array(grid.length);
  const mixed = denser.length;
  const lowAt = resample(lowOwn, joined(below, denser));
  const highAt = resample(highOwn, joined(denser, above));
  for (let k = 0; k < grid.length; k++) {
    const f = grid[k]!;
    const place = Math.log2(f / from) / overlapOctaves;
    const weight = k < below.length ? 1 : k >= below.length + mixed ? 0 : 0.5 * (1 + Math.cos(Math.PI * Math.min(1, Math.max(0, place))));
    if (weight > 0) {
      const [c, s] = unitTurn(turnBy(f));
      re[k]! += weight * gain * (lowAt.re[k]! * c - lowAt.im[k]! * s);
      im[k]! += weight * gain * (lowAt.re[k]! * s + lowAt.im[k]! * c);
    }
    if (weight < 1) {
      re[k]! += (1 - weight) * highAt.re[k - below.length]!;
      im[k]! += (1 - weight) * highAt.im[k - below.length]!;
    }
  }
  const round = (value: number, digits: number): string => String(Number(value.toFixed(digits)));
  const splice: Mark = Object.freeze({
    kind: "splice",
    from,
    to,
    note: `two responses joined at ${round(middle, 1)} Hz; before joining they differed by ${round(match.levelDifferenceDb, 2)} dB and ${round(match.phaseDifferenceDegrees, 1)}°`,
  });
  const marks = [...clip(lowOwn.marks, 0, to), ...clip(highOwn.marks, from, Infinity), splice];
  return Object.freeze({ response: freezeResponse(grid, re, im, marks), ...match });
}

/** One array of several; a spread would overflow the stack for long ones. */
function joined(...parts: readonly Float64Array[]): Float64Array {
  const out = new Float64Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}

function compare(low: FrequencyResponse, high: FrequencyResponse, from: number, to: number, middle: number) {
  const points = 33;
  const grid = Float64Array.from({ length: points }, (_, i) =>
    i === 0 ? from : i === points - 1 ? to : from * (to / from) ** (i / (points - 1)),
  );
  const a = resample(low, grid);
  const b = resample(high, grid);
  const levels: number[] = [];
  const phases: number[] = [];
  for (let k = 0; k < points; k++) {
    const level = 20 * (log10Modulus(a.re[k]!, a.im[k]!) - log10Modulus(b.re[k]!, b.im[k]!));
    if (!Number.isFinite(level))
      throw new DividingNetworkError(
        "invalid-response",
        `mergeAt: both responses must be above zero in the overlap, got 0 at ${grid[k]!} Hz`,
      );
    levels.push(level);
    let phase = (Math.atan2(a.im[k]!, a.re[k]!) - Math.atan2(b.im[k]!, b.re[k]!)) / (2 * Math.PI);
    phase -= Math.round(phase - (k > 0 ? phases[k - 1]! : 0));
    phases.push(phase);
  }
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const levelDifferenceDb = mean(levels);
  const meanF = mean([...grid]);
  const spread = grid.reduce((sum, f) => sum + (f - meanF) ** 2, 0);
  const slope = phases.reduce((sum, phase, k) => sum + phase * (grid[k]! - meanF), 0) / spread;
  const meanPhase = mean(phases);
  const atMiddle = meanPhase + slope * (middle - meanF);
  return {
    levelDifferenceDb,
    levelSpreadDb: Math.sqrt(mean(levels.map((level) => (level - levelDifferenceDb) ** 2))),
    phaseDifferenceDegrees: 360 * (atMiddle - Math.round(atMiddle)),
    delayDifference: -slope,
  };
}

function clip(marks: readonly Mark[] | undefined, from: number, to: number): Mark[] {
  return (marks ?? [])
    .filter((mark) => (mark.from ?? 0) < to && (mark.to ?? Infinity) > from)
    .map((mark) => {
      const low = Math.max(from, mark.from ?? 0);
      const high = Math.min(to, mark.to ?? Infinity);
      return Object.freeze({
        kind: mark.kind,
        note: mark.note,
        ...(low > 0 ? { from: low } : {}),
        ...(high < Infinity ? { to: high } : {}),
      });
    });
}
