import { DividingNetworkError } from "../errors";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";

/** A band of frequencies; what is left out reaches to the end of the data. */
export interface BandOptions {
  /** Hz: lower end; default the lowest of the map. */
  readonly from?: Frequency | undefined;
  /** Hz: upper end; default the highest of the map. */
  readonly to?: Frequency | undefined;
}

/** The range of indices [first, end) of the frequencies within a band, at least one. */
export function bandIndices(caller: string, frequencies: Float64Array, { from, to }: BandOptions): { first: number; end: number } {
  const low = from === undefined ? -Infinity : inSi(caller, "from", from, "Hz", { min: 0 });
  const high = to === undefined ? Infinity : inSi(caller, "to", to, "Hz", { min: 0 });
  const first = frequencies.findIndex((f) => f >= low);
  let end = frequencies.length;
  while (end > 0 && frequencies[end - 1]! > high) end--;
  if (first < 0 || end <= first) {
    throw new DividingNetworkError(
      "empty-band",
      `${caller}: "from" and "to" must enclose a frequency of the data, which runs from ${frequencies[0]} to ${frequencies[frequencies.length - 1]} Hz, got ${from ?? "its start"} to ${to ?? "its end"}`,
    );
  }
  return { first, end };
}
