import { fewDigits } from "../quantity/internal";
import { checkNumbers, checkNumber, listed, type Views } from "../errors/internal";
import { checkedMarks } from "./checked-marks";
import { formatQuantity } from "../quantity";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
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
  const [low, high] = [frequencies[0] ?? 0, frequencies.at(-1) ?? 0];
  return frequencies.length === 1 ? `1 point, ${hertz(low)}` : `${frequencies.length} points, ${hertz(low)} to ${hertz(high)}`;
}

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
      return `${kind}${band}: ${listed([note])}`;
    });
  return marks.length > most ? [...lines, `and ${marks.length - most} more marks`] : lines;
}

/** A response: its grid, how large it is, and its marks. */
export const responseViews: Views<FrequencyResponse> = {
  text: ({ frequencies, re, im, marks }) => {
    let [least, most] = [Infinity, 0];
    for (let i = 0; i < re.length; i++) {
      const size = Math.hypot(re[i]!, im[i]!);
      least = Math.min(least, size);
      most = Math.max(most, size);
    }
    const level = (size: number): string => (size === 0 ? "−∞" : few(20 * Math.log10(size)));
    return [
      `FrequencyResponse: ${gridText(frequencies)}`,
      `  magnitude ${few(least)} to ${few(most)} (${level(least)} dB to ${level(most)} dB re 1 of its unit)`,
      ...marksText(marks).map((line) => `  ${line}`),
    ].join("\n");
  },
};

/** An impulse response: its length, and where it is largest. */
export const impulseViews: Views<ImpulseResponse> = {
  text: ({ samples, sampleRate, startTime }) => {
    const peak = samples.reduce((best, value, n) => (Math.abs(value) > Math.abs(samples[best]!) ? n : best), 0);
    const time = (seconds: number): string => formatQuantity(seconds, "s", { digits: 4 });
    return [
      `ImpulseResponse: ${samples.length} ${samples.length === 1 ? "sample" : "samples"} at ${formatQuantity(sampleRate, "Hz", { digits: 6 })}, ${time(startTime)} to ${time(startTime + (samples.length - 1) / sampleRate)}`,
      `  largest ${few(samples[peak]!)} at ${time(startTime + peak / sampleRate)}`,
    ].join("\n");
  },
};
