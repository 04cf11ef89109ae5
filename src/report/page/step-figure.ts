import { hertz } from "../../quantity/internal";
import type { Markup } from "../markup";
import type { LineStyle } from "../palette";
import { impulseFromResponse, stepResponse, type FrequencyResponse } from "../../response";
import { timePlot } from "../time-plot";
import { pairFigure } from "./pair-figure";

interface Heard {
  readonly name: string;
  readonly style: LineStyle;
  readonly sum: FrequencyResponse;
  readonly distance: number;
}

const [RATE, LENGTH] = [96_000, 8192];
/** s before the sound arrives, and after. */
const [BEFORE, AFTER] = [0.0004, 0.0026];

/** What a step of the amplifier's voltage becomes on the axis: both networks over the same stretch of time. */
export function stepFigure(heard: readonly Heard[]): Markup {
  const steps = heard.map(({ name, style, sum }) => {
    const impulse = impulseFromResponse(sum, { sampleRate: RATE, length: LENGTH, taperOctaves: 0.5 });
    return { name, style, impulse, step: stepResponse(impulse) };
  });
  const first = steps[0]!.impulse.samples;
  const peak = first.reduce((best, value, index) => (Math.abs(value) > Math.abs(first[best]!) ? index : best), 0);
  const from = peak / RATE - BEFORE;
  // The sum of samples is no steady level where the data end above 0 Hz: counted from just before the sound arrives.
  const start = Math.max(0, Math.floor(from * RATE));
  const end = Math.min(LENGTH, Math.ceil((from + BEFORE + AFTER) * RATE) + 1);
  const lowest = Math.max(...heard.map(({ sum }) => sum.frequencies[0]!));
  return pairFigure(
    (width) =>
      timePlot({
        title: `Step response on the axis, ${heard[0]!.distance} m`,
        label: "Sound pressure for a step of 2.83 V, Pa",
        width,
        height: width < 500 ? 90 : 120,
        from: start / RATE,
        to: (end - 1) / RATE,
        series: steps.map(({ name, style, step }) => ({
          label: name,
          style,
          times: Array.from({ length: end - start }, (_, index) => (start + index) / RATE),
          values: step.samples.slice(start, end).map((value) => value - step.samples[start]!),
        })),
      }),
    `The data begin at ${hertz(lowest)}: what lies below is missing.`,
  );
}
