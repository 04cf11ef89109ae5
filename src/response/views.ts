import { fewDigits } from "../quantity/internal";
import { checkNumbers, checkNumber, type Views } from "../errors/internal";
import { checkedMarks } from "./checked-marks";
import { formatQuantity } from "../quantity";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import type { MinimumPhaseResult } from "./minimum-phase-data";
import type { ImpulseResponse } from "./sampled-impulse";

const few = (value: number): string => fewDigits(value, 4);

const hertz = (frequency: number): string => formatQuantity(frequency, "Hz", { digits: 4 });

/**
 * A grid of frequencies in words.
 *
 * @param frequencies Hz, ascending, at least one
 * @returns text such as "480 points, 20 Hz to 20 kHz"
 */
export function gridText(frequencies: Float64Array): string {
  checkNumbers("gridText", "frequencies", frequencies);
  const [low, high] = [frequencies[0]!, frequencies.at(-1)!];
  return frequencies.length === 1 ? `1 point, ${hertz(low)}` : `${frequencies.length} points, ${hertz(low)} to ${hertz(high)}`;
}

/** A note on one line; what doesn't fit there is in the mark itself. */
const noteText = (note: string): string => (note.length > 130 ? `${note.slice(0, 129)}…` : note).replace(/[\r\n\u2028\u2029]+/g, " ");

/**
 * The marks of a response in lines: what must be known about parts of the band.
 *
 * @param marks of a response
 * @param most how many are printed, dimensionless; 6 when absent
 * @returns a line for each, and one that counts the rest
 */
export function marksText(marks: readonly Mark[] = [], most = 6): string[] {
  const lines = checkedMarks("marksText", marks)
    .slice(0, checkNumber("marksText", "most", most, { min: 0, integer: true }))
    .map(({ kind, from, to, note }) => {
      const band =
        from === undefined
          ? to === undefined
            ? ""
            : ` up to ${hertz(to)}`
          : to === undefined
            ? ` from ${hertz(from)}`
            : ` from ${hertz(from)} to ${hertz(to)}`;
      return `${kind}${band}: ${noteText(note)}`;
    });
  return marks.length > most ? [...lines, `and ${marks.length - most} more marks`] : lines;
}

/** A level as a person reads it: a thousandth of a decibel at most, so that the rounding of a sum isn't shown. */
const levelText = (size: number): string => (size === 0 ? "−∞ dB" : `${few(Math.round(20 * Math.log10(size) * 1000) / 1000 + 0)} dB`);

/** A minimum-phase response: what it is, how far it can be wrong, and where. */
export const minimumPhaseViews: Views<MinimumPhaseResult> = {
  text: ({ response, errorDegrees, lowSlope, highSlope, points }) => {
    const least = errorDegrees.reduce((best, error, at) => (error < errorDegrees[best]! ? at : best), 0);
    const most = errorDegrees.reduce((best, error, at) => (error > errorDegrees[best]! ? at : best), 0);
    const at = (index: number): string => `${few(Number(errorDegrees[index]!.toFixed(6)))}° at ${hertz(response.frequencies[index]!)}`;
    return [
      `MinimumPhaseResult: ${gridText(response.frequencies)}`,
      `  phase uncertain by ${at(least)} to ${at(most)}`,
      `  falls by ${few(lowSlope)} dB per octave below the data, ${few(highSlope)} above; transform of ${points} points`,
      "  ask: .response, .errorDegrees",
    ].join("\n");
  },
};

/** A response: its grid, how large it is, and its marks. */
export const responseViews: Views<FrequencyResponse> = {
  text: ({ frequencies, re, im, marks }) => {
    let [least, most] = [Infinity, 0];
    for (let i = 0; i < re.length; i++) {
      const size = Math.hypot(re[i]!, im[i]!);
      least = Math.min(least, size);
      most = Math.max(most, size);
    }
    const range =
      frequencies.length === 1
        ? `${few(most)} (${levelText(most)}`
        : `${few(least)} to ${few(most)} (${levelText(least)} to ${levelText(most)}`;
    return [
      `FrequencyResponse: ${gridText(frequencies)}`,
      `  magnitude ${range} re 1 of its unit)`,
      ...marksText(marks).map((line) => `  ${line}`),
    ].join("\n");
  },
};

/** An impulse response: its length, and where it is largest. */
export const impulseViews: Views<ImpulseResponse> = {
  text: ({ samples, sampleRate, startTime }) => {
    const peak = samples.reduce((best, value, n) => (Math.abs(value) > Math.abs(samples[best]!) ? n : best), 0);
    const time = (seconds: number): string => formatQuantity(seconds, "s", { digits: 4 }).replace(/^-/, "−");
    return [
      `ImpulseResponse: ${samples.length} ${samples.length === 1 ? "sample" : "samples"} at ${formatQuantity(sampleRate, "Hz", { digits: 6 })}, ${time(startTime)} to ${time(startTime + (samples.length - 1) / sampleRate)}`,
      `  largest ${few(samples[peak]!)} at ${time(startTime + peak / sampleRate)}`,
    ].join("\n");
  },
};
