import type { Mark } from "./mark";
import type { FrequencyResponse } from "./sampled-function";

/** Where the data can be used: the band left when "no-data" marks are taken off its ends. */
export interface MarkedBand {
  /** Index of the first and last usable point. */
  readonly first: number;
  readonly last: number;
  readonly cutLow: boolean;
  readonly cutHigh: boolean;
}

/** The usable band of a response: without the ends marked "no-data". */
export function usableBand({ frequencies, marks = [] }: FrequencyResponse): MarkedBand {
  let first = 0;
  let last = frequencies.length - 1;
  for (const mark of marks) {
    if (mark.kind !== "no-data") continue;
    const from = mark.from ?? 0;
    const to = mark.to ?? Infinity;
    if (from <= frequencies[first]!) while (first <= last && frequencies[first]! < to) first++;
    if (to >= frequencies[Math.max(0, last)]!) while (last >= first && frequencies[last]! > from) last--;
  }
  return { first, last, cutLow: first > 0, cutHigh: last < frequencies.length - 1 };
}

/**
 * The band that is left, in Hz and above 0 Hz, when marks of some kinds are taken off the ends of the data: an end is marked by a mark that is open there, or states a frequency at or beyond it.
 * Nothing is left (`from` isn't below `to`) where a mark holds for all of the data.
 */
export function bandWithout(
  { frequencies, marks = [] }: FrequencyResponse,
  kinds: readonly Mark["kind"][],
): { readonly from: number; readonly to: number } {
  const [first, last] = [frequencies.find((frequency) => frequency > 0) ?? Infinity, frequencies.at(-1)!];
  const here = marks.filter(({ kind }) => kinds.includes(kind));
  return {
    from: here.reduce((most, { from = 0, to = Infinity }) => (from <= first ? Math.max(most, to) : most), first),
    to: here.reduce((least, { from = 0, to = Infinity }) => (to >= last ? Math.min(least, from) : least), last),
  };
}
