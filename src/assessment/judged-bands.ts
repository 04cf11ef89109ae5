import { DividingNetworkError } from "../errors";
import type { FrequencyResponse } from "../response";
import type { Band } from "./band";
import { hertz } from "../quantity/internal";
import type { Goal } from "./goal-types";

/** What is judged: as a whole, and at each place as far as it was measured there. */
export interface JudgedBands {
  /** Hz: of the axis where the goal names it, else of all places together. */
  readonly band: Band;
  /** Hz: the part of it that each place has. */
  readonly ofPlace: readonly Band[];
}

/** Less than this, in ln f, says nothing of a place: a third of an octave. */
const LEAST = Math.LN2 / 3;
/** A band that ends at a measured frequency as printed ends there. */
const PRINTED = 1e-3;

/** The judged bands of a goal, given what is heard at each of its places. What is narrow narrows its own place and no other. */
export function judgedBands(goal: Goal, sums: readonly FrequencyResponse[]): JudgedBands {
  const axes = sums.filter((_, index) => goal.places[index]!.azimuth === 0 && goal.places[index]!.elevation === 0);
  const band = bandOf(goal, axes.length > 0 ? axes : sums);
  if (goal.frequencies !== undefined) return { band, ofPlace: Object.freeze(sums.map(() => band)) };
  const least = Math.min(LEAST, Math.log(band.to / band.from)) - 2 * PRINTED;
  const ofPlace = sums.map((sum, index) => {
    const { low, high } = covers(sum);
    const own = Object.freeze({ from: Math.max(band.from, low), to: Math.min(band.to, high) });
    if (Math.log(own.to / own.from) >= least) return own;
    const { azimuth, elevation } = goal.places[index]!;
    throw new DividingNetworkError(
      "band-too-narrow",
      `goal: at azimuth ${azimuth}°, elevation ${elevation}° a third of an octave of ${hz(band.from)} to ${hz(band.to)} must be known at least, got ${hz(low)} to ${hz(high)}`,
      "Measure this place over a wider band, or leave it out of the goal",
    );
  });
  return { band, ofPlace: Object.freeze(ofPlace) };
}

/** The judged band: as stated, or the part of the default that some response covers. */
export function bandOf(goal: Goal, sums: readonly FrequencyResponse[]): Band {
  const { frequencies } = goal;
  if (frequencies !== undefined) return Object.freeze({ from: frequencies[0]!, to: frequencies[frequencies.length - 1]! });
  const spans = sums.map(covers);
  const lowest = Math.min(...spans.map(({ low }) => low));
  const highest = Math.max(...spans.map(({ high }) => high));
  if (goal.bandStated) {
    if (goal.band.from * (1 + PRINTED) < lowest || goal.band.to > highest * (1 + PRINTED)) {
      throw new DividingNetworkError(
        "outside-band",
        `goal: the band, ${hertz(goal.band.from)} to ${hertz(goal.band.to)}, must lie within what was measured, ${hertz(lowest)} to ${hertz(highest)}`,
        "Narrow the goal's band, or measure a wider one",
      );
    }
    return Object.freeze({ from: Math.max(goal.band.from, lowest), to: Math.min(goal.band.to, highest) });
  }
  const cut = { from: Math.max(goal.band.from, lowest), to: Math.min(goal.band.to, highest) };
  if (!(cut.to / cut.from >= 2 ** (1 / 3)))
    throw new DividingNetworkError(
      "band-too-narrow",
      `goal: the measurements cover too little of ${goal.band.from} Hz to ${goal.band.to} Hz`,
      "State the goal's band",
    );
  return Object.freeze(cut);
}

/** Hz: where a response begins, above 0 Hz, and where it ends. */
function covers({ frequencies }: FrequencyResponse): { readonly low: number; readonly high: number } {
  return { low: frequencies[0]! > 0 ? frequencies[0]! : (frequencies[1] ?? Infinity), high: frequencies[frequencies.length - 1]! };
}

const hz = (frequency: number): string => `${Number(frequency.toPrecision(4))} Hz`;
