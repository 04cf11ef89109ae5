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
